/* get.c - `get FILE [PATH...]`: values as PATH=VALUE, as they stand in the file or their defaults. */
#include <stdlib.h>
#include <string.h>

#include "verbs/verbs.h"

/* False without memory. What comes from the file is cleaned: it may hold anything. */
static bool write_value(const char *path, const char *value) {
    size_t room = 1 + shop_clean(value, strlen(value), NULL, 0);
    char *clean = malloc(room);
    if (clean == NULL) {
        return false;
    }
    shop_clean(value, strlen(value), clean, room);
    printf("%s=%s\n", path, clean);
    free(clean);
    return true;
}

/* One path that was asked for: a value without a default shows as nothing behind the sign. */
static int get_one(const shop_project *project, const char *file, const char *path) {
    if (shop_field_for(project, path) == NULL) {
        return verb_complain("%s has no value at %s; paths look like outline.diameter or bands.weave.width", file,
                             path);
    }
    char *value = shop_project_get(project, path);
    bool written = write_value(path, value != NULL ? value : "");
    free(value);
    return written ? 0 : verb_complain("out of memory");
}

/* The field's path with the band or tool named in place of the brackets, if this project has such a value. */
static bool get_field(const shop_project *project, const shop_field *field, const char *item) {
    char path[200];
    const char *brackets = strstr(field->path, "[]");
    if (brackets == NULL) {
        snprintf(path, sizeof path, "%s", field->path);
    } else {
        snprintf(path, sizeof path, "%.*s.%s%s", (int)(brackets - field->path), field->path, item, brackets + 2);
    }
    if (shop_field_for(project, path) != field) {
        return true; /* another shape, fill or kind has it */
    }
    char *value = shop_project_get(project, path);
    bool fine = value == NULL || write_value(path, value);
    free(value);
    return fine;
}

static bool get_owned(const shop_project *project, shop_owner owner, const char *item) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    for (size_t i = 0; i < count; i++) {
        if (fields[i].owner == owner && !get_field(project, &fields[i], item)) {
            return false;
        }
    }
    return true;
}

static int get_all(const shop_project *project) {
    bool fine = get_owned(project, SHOP_OF_PROJECT, "");
    for (size_t i = 0; fine && i < project->layout.band_count; i++) {
        fine = get_owned(project, SHOP_OF_BAND, project->bands[i].name);
    }
    for (size_t i = 0; fine && i < project->own_tools; i++) {
        fine = get_owned(project, SHOP_OF_TOOL, project->tools[i].id);
    }
    fine = fine && get_owned(project, SHOP_OF_RATES, "");
    return fine ? 0 : verb_complain("out of memory");
}

int verb_get(const verb_args *args) {
    int status;
    desk *d = verb_open(args->operands[0], args, &status);
    if (d == NULL) {
        return status;
    }
    if (args->operand_count == 1) {
        status = get_all(desk_project(d));
    }
    for (int i = 1; i < args->operand_count && status == 0; i++) {
        status = get_one(desk_project(d), args->operands[0], args->operands[i]);
    }
    desk_close(d);
    return status;
}
