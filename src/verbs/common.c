/* common.c - what several verbs do: open a layout with all its messages, find a band, split PATH=VALUE. */
#include <errno.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "shop/values.h"
#include "verbs/verbs.h"

void verb_complain_of_output(int error, const char *what) {
    if (error != EPIPE)
        verb_complain("%s cannot be written: %s", what, error != 0 ? strerror(error) : "an earlier write failed");
}

/* --tolerance, a bare number in the unit of the file; as usual where it is not given. */
static bool set_tolerance(desk *d, const verb_args *args) {
    const char *text = args->given[VERB_TOLERANCE];
    double mm;
    char reason[SHOP_REASON];
    if (text == NULL) {
        return true;
    }
    if (!shop_parse_tolerance(text, desk_project(d)->units, &mm, reason)) {
        verb_complain("--tolerance %s: %s", text, reason);
        return false;
    }
    desk_set_tolerance(d, mm);
    return true;
}

desk *verb_open(const char *file, const verb_args *args, int *status) {
    shop_problems problems;
    shop_problems_init(&problems, file);
    shop_status opened = SHOP_OK;
    desk *d = desk_open(file, args->given[VERB_INVENTORY], &problems, &opened);
    shop_problems_print(&problems, stderr);
    if (d == NULL && problems.errors == 0) {
        verb_complain("out of memory");
    }
    shop_problems_free(&problems);
    *status = d != NULL ? 0 : (int)opened;
    if (d != NULL && !set_tolerance(d, args)) {
        desk_close(d);
        *status = VERB_USAGE;
        return NULL;
    }
    return d;
}

size_t verb_band(const shop_project *project, const char *file, const char *name) {
    for (size_t i = 0; i < project->layout.band_count; i++) {
        if (strcmp(project->layout.bands[i].name, name) == 0) {
            return i;
        }
    }
    verb_complain("%s has no band %s", file, name);
    return SIZE_MAX;
}

static char *copy_of(const char *text, size_t length) {
    char *copy = malloc(length + 1);
    if (copy != NULL) {
        memcpy(copy, text, length);
        copy[length] = '\0';
    }
    return copy;
}

bool verb_assignment(const char *operand, shop_edit *edit) {
    *edit = (shop_edit){NULL, NULL, NULL};
    /* A band's name may hold an equals sign: the first one behind a path of the file format counts. */
    for (const char *equals = strchr(operand, '='); equals != NULL; equals = strchr(equals + 1, '=')) {
        edit->path = copy_of(operand, (size_t)(equals - operand));
        if (edit->path != NULL && shop_field_holding(edit->path) != NULL) {
            edit->new_text = equals[1] != '\0' ? copy_of(equals + 1, strlen(equals + 1)) : NULL;
            return true;
        }
        free(edit->path);
        edit->path = NULL;
    }
    if (strchr(operand, '=') == NULL) {
        verb_complain("%s is not PATH=VALUE", operand);
    } else {
        verb_complain("%.*s is no path of a value; paths look like outline.diameter or bands.weave.width",
                      (int)strcspn(operand, "="), operand);
    }
    return false;
}

int verb_drawing(const char *file, bool scale_given, shop_drawing *drawing) {
    shop_problems problems;
    char *bytes;
    size_t length;
    if (*file == '\0') {
        return verb_complain("a drawing is named behind the @, such as outline.svg=@drawing.svg");
    }
    shop_problems_init(&problems, file);
    shop_status status = shop_read(file, &bytes, &length, &problems);
    if (status == SHOP_OK) {
        status = shop_drawing_read(bytes, length, scale_given, &problems, drawing);
    }
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    free(bytes);
    return (int)status;
}
