/* new.c - `new FILE [PATH=VALUE...]`: a fresh layout with these values, in a file that was not there. */
#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>

#include "verbs/verbs.h"

/* Edits to the fresh text: those asked for, and before them what they rest on. */
typedef struct edit_list {
    shop_edit *edits;
    size_t count, room;
    size_t bands, tools; /* made so far */
    bool diameter_out;   /* the fresh circle's diameter was taken out */
} edit_list;

/* Takes over path and new_text; false without memory. */
static bool push(edit_list *list, char *path, char *new_text, bool taken_out) {
    if (path == NULL || (new_text == NULL && !taken_out)) {
        free(path);
        free(new_text);
        return false;
    }
    if (list->count == list->room) {
        size_t room = list->room * 2 + 16;
        shop_edit *edits = realloc(list->edits, room * sizeof *edits);
        if (edits == NULL) {
            free(path);
            free(new_text);
            return false;
        }
        list->edits = edits;
        list->room = room;
    }
    list->edits[list->count++] = (shop_edit){.path = path, .new_text = new_text};
    return true;
}

static void free_list(edit_list *list) {
    for (size_t i = 0; i < list->count; i++) {
        shop_edit_free(&list->edits[i]);
    }
    free(list->edits);
}

__attribute__((format(printf, 1, 2))) static char *text_of(const char *format, ...) {
    va_list values;
    char *text = NULL;
    va_start(values, format);
    int length = vasprintf(&text, format, values);
    va_end(values);
    return length < 0 ? NULL : text;
}

/* Is `list.NAME` among the paths before this one? Only then was the item made already. */
static bool seen_before(char **operands, int at, const char *prefix, size_t length) {
    for (int i = 1; i < at; i++) {
        if (strncmp(operands[i], prefix, length) == 0 && operands[i][length] == '.') {
            return true;
        }
    }
    return false;
}

/* A name as a YAML scalar in flow style: plain where it cannot be taken for anything else. A double quote never stands
 * in a name; a backslash can. */
static bool plain(const char *name, size_t length) {
    static const char fine[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ-_0123456789";
    static const char *const words[] = {"y", "n", "yes", "no", "on", "off", "true", "false", "null"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strlen(words[i]) == length && strncasecmp(words[i], name, length) == 0) {
            return false;
        }
    }
    return isalpha((unsigned char)name[0]) && strspn(name, fine) >= length;
}

static char *quoted(const char *name, size_t length) {
    if (plain(name, length)) {
        return strndup(name, length);
    }
    char *text = malloc(2 * length + 3), *to = text;
    if (text != NULL) {
        *to++ = '"';
        for (size_t i = 0; i < length; i++) {
            if (name[i] == '\\' || name[i] == '"') {
                *to++ = '\\';
            }
            *to++ = name[i];
        }
        *to++ = '"';
        *to = '\0';
    }
    return text;
}

/* The band or tool that a path such as bands.weave.width needs, made if this is the first word of it. */
static bool make_item(edit_list *list, char **operands, int at) {
    const char *path = operands[at];
    bool band = strncmp(path, "bands.", 6) == 0;
    if (!band && strncmp(path, "tools.", 6) != 0) {
        return true;
    }
    size_t length = 6 + strcspn(path + 6, ".");
    if (path[length] != '.' || seen_before(operands, at, path, length)) {
        return true;
    }
    char *name = quoted(path + 6, length - 6);
    size_t number = band ? ++list->bands : ++list->tools;
    bool made = name != NULL && push(list, text_of("%s[%zu]", band ? "bands" : "tools", number),
                                     text_of("{%s: %s}", band ? "name" : "id", name), false);
    free(name);
    return made;
}

/* Another shape, or a round measured in another way, has no use for the fresh circle's diameter. */
static bool needs_no_diameter(const shop_edit *edit) {
    return (strcmp(edit->path, "outline.shape") == 0 && edit->new_text != NULL &&
            strcmp(edit->new_text, "circle") != 0) ||
           strcmp(edit->path, "outline.around") == 0 || strcmp(edit->path, "outline.chord") == 0;
}

/* Is this value among those asked for? */
static bool is_given(const verb_args *args, const char *path) {
    size_t length = strlen(path);
    for (int at = 1; at < args->operand_count; at++) {
        if (strncmp(args->operands[at], path, length) == 0 && args->operands[at][length] == '=') {
            return true;
        }
    }
    return false;
}

/* `outline.svg=@DRAWING`: the path in a drawing, with the scale that goes with it. Takes over the edit's
 * texts. 0, or the exit status after messages. */
static int take_drawing(edit_list *list, const verb_args *args, shop_edit *edit) {
    shop_drawing drawing = {.svg = NULL};
    char number[64];
    int status = verb_drawing(edit->new_text + 1, is_given(args, "outline.scale"), &drawing);
    bool fine = true;
    free(edit->new_text);
    edit->new_text = NULL;
    if (status == 0 && !is_given(args, "outline.scale") && !isnan(drawing.scale)) {
        shop_write_length(drawing.scale, SHOP_MM, number, sizeof number);
        fine = fine && push(list, text_of("outline.scale"), text_of("%s", number), false);
    }
    fine = status == 0 && push(list, edit->path, drawing.svg, false) && fine;
    if (status != 0) {
        free(edit->path);
    } else if (!fine) {
        verb_complain("out of memory");
        status = SHOP_NO_MEMORY;
    }
    return status;
}

/* The shape that the sizes tell of, before they come. 0, or the exit status after a message. */
static int choose_shape(edit_list *list, const verb_args *args) {
    const char *shape;
    int status = verb_new_shape(args, &shape);
    if (status == 0 && shape != NULL && strcmp(shape, "circle") != 0) {
        list->diameter_out = true;
        if (!push(list, text_of("outline.diameter"), NULL, true) ||
            !push(list, text_of("outline.shape"), text_of("%s", shape), false)) {
            verb_complain("out of memory");
            status = SHOP_NO_MEMORY;
        }
    }
    return status;
}

/* The edits for all operands; 0, or the exit status after a message. */
static int gather(edit_list *list, const verb_args *args, shop_unit *unit) {
    int chosen = choose_shape(list, args);
    for (int at = 1; at < args->operand_count && chosen == 0; at++) {
        shop_edit edit;
        if (!verb_assignment(args->operands[at], &edit)) {
            return VERB_USAGE;
        }
        if (strcmp(edit.path, "outline.svg") == 0 && edit.new_text != NULL && edit.new_text[0] == '@') {
            int status = take_drawing(list, args, &edit);
            if (status != 0) {
                return status;
            }
            continue;
        }
        if (strcmp(edit.path, "units") == 0 && edit.new_text != NULL && strcmp(edit.new_text, "in") == 0) {
            *unit = SHOP_INCH;
        }
        bool fine = true;
        if (!list->diameter_out && needs_no_diameter(&edit)) {
            list->diameter_out = true;
            fine = push(list, text_of("outline.diameter"), NULL, true);
        }
        fine = fine && make_item(list, args->operands, at);
        if (!push(list, edit.path, edit.new_text, edit.new_text == NULL) || !fine) {
            verb_complain("out of memory");
            return SHOP_NO_MEMORY;
        }
    }
    return chosen;
}

static int make(const char *file, const verb_args *args, const edit_list *list, shop_unit unit) {
    shop_problems problems;
    shop_problems_init(&problems, file);
    size_t length;
    shop_status status = SHOP_NO_MEMORY;
    char *fresh = shop_new_text(NULL, unit, &length);
    desk *d = fresh == NULL ? NULL : desk_new(file, fresh, length, args->given[VERB_INVENTORY], &problems, &status);
    if (d != NULL && list->count > 0 && !desk_edit_carrying(d, list->edits, list->count, "new", &problems)) {
        status = SHOP_BAD_FILE;
    } else if (d != NULL) {
        status = desk_save_as(d, file, false, &problems);
    }
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    desk_close(d);
    free(fresh);
    return (int)status;
}

int verb_new(const verb_args *args) {
    struct stat there;
    if (lstat(args->operands[0], &there) == 0) {
        verb_complain("%s is there already and is left alone", args->operands[0]);
        return SHOP_CANNOT_MAKE;
    }
    edit_list list = {.edits = NULL};
    shop_unit unit = SHOP_MM;
    int status = gather(&list, args, &unit);
    if (status == 0) {
        status = make(args->operands[0], args, &list, unit);
    }
    free_list(&list);
    return status;
}
