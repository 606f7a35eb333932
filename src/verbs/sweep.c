/* sweep.c - `plan --sweep`: what becomes of each value, a line a band, nothing kept and nothing written but the table.
 *
 * A combination of values is a list of edits that is tried on the open layout, as a trial in the workbench is.
 */
#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "show/show.h"
#include "verbs/axis.h"
#include "verbs/verbs.h"

typedef struct sweep {
    const verb_args *args;
    const char *file;
    desk *d;
    verb_axis *axes;
    size_t count;
    size_t *at;       /* the value in hand of each axis */
    shop_edit *edits; /* the same as edits */
    const char **texts;
    bool works; /* some combination does */
} sweep;

static int no_memory(void) {
    verb_complain("out of memory");
    return SHOP_NO_MEMORY;
}

/* All that is wrong, on one line. */
static char *reasons(const shop_problems *problems) {
    size_t length = 0, room = 1;
    for (size_t i = 0; i < problems->count; i++) {
        room += strlen(problems->list[i].text) * 10 + 2; /* an escape of a byte is shorter */
    }
    char *text = malloc(room);
    for (size_t i = 0; text != NULL && i < problems->count; i++) {
        const shop_problem *one = &problems->list[i];
        if (!one->note) {
            length += length > 0 ? (size_t)snprintf(text + length, room - length, "; ") : 0;
            length += shop_clean(one->text, strlen(one->text), text + length, room - length);
        }
    }
    if (text != NULL && length == 0) {
        text[0] = '\0';
    }
    return text;
}

/* Sets axis i to a value; false without memory. */
static bool set_axis(sweep *s, size_t i, size_t value) {
    s->at[i] = value;
    free(s->edits[i].new_text);
    s->edits[i].new_text = verb_axis_value(&s->axes[i], value);
    s->texts[i] = s->edits[i].new_text;
    return s->texts[i] != NULL;
}

/* The next combination, the last axis fastest. False if there is none; *fine false without memory. */
static bool next(sweep *s, bool *fine) {
    for (size_t i = s->count; i-- > 0;) {
        bool over = s->at[i] + 1 == s->axes[i].count;
        *fine = set_axis(s, i, over ? 0 : s->at[i] + 1);
        if (!over || !*fine) {
            return *fine;
        }
    }
    return false;
}

static bool put_line(sweep *s) {
    const show_sweep_line line = {s->file, s->texts, s->count};
    shop_problems problems;
    shop_problems_init(&problems, s->file);
    bool fine;
    errno = 0;
    if (desk_try(s->d, s->edits, s->count, "sweep", &problems)) {
        fine = show_sweep_plan(stdout, &line, desk_project(s->d), desk_plan(s->d));
        s->works = s->works || bw_plan_works(desk_plan(s->d));
    } else {
        char *why = reasons(&problems);
        errno = why == NULL ? ENOMEM : errno;
        fine = why != NULL && show_sweep_refused(stdout, &line, why);
        free(why);
    }
    shop_problems_free(&problems);
    return fine;
}

static int all_lines(sweep *s) {
    bool fine = true;
    for (size_t i = 0; fine && i < s->count; i++) {
        fine = set_axis(s, i, 0);
    }
    while (fine) {
        if (!put_line(s)) {
            verb_complain_of_output(errno, "the table");
            return SHOP_CANNOT_WRITE;
        }
        if (!next(s, &fine)) {
            break;
        }
    }
    return !fine ? no_memory() : s->works ? VERB_FITS : VERB_DOES_NOT_FIT;
}

/* The axes of this file, in s->axes. */
static bool read_axes(sweep *s) {
    for (; s->count < (size_t)s->args->sweep_count; s->count++) {
        verb_axis *axis = &s->axes[s->count];
        bool fine = verb_axis_read(s->args->sweeps[s->count], desk_project(s->d), s->file, axis);
        for (size_t i = 0; fine && i < s->count; i++) {
            if (strcmp(s->axes[i].path, axis->path) == 0) {
                verb_complain("--sweep names %s twice", axis->path);
                fine = false;
            }
        }
        if (!fine) {
            verb_axis_free(axis);
            return false;
        }
        s->edits[s->count].path = axis->path;
    }
    return true;
}

static int sweep_file(const verb_args *args, const char *file, bool *head) {
    size_t room = (size_t)args->sweep_count;
    sweep s = {.args = args, .file = file};
    int status;
    s.d = verb_open(file, args, &status);
    if (s.d == NULL) {
        return status;
    }
    s.axes = calloc(room, sizeof *s.axes);
    s.at = calloc(room, sizeof *s.at);
    s.edits = calloc(room, sizeof *s.edits);
    s.texts = calloc(room, sizeof *s.texts);
    if (s.axes == NULL || s.at == NULL || s.edits == NULL || s.texts == NULL) {
        status = no_memory();
    } else if (!read_axes(&s)) {
        status = VERB_USAGE;
    } else {
        for (size_t i = 0; i < s.count; i++) {
            s.texts[i] = s.axes[i].path;
        }
        *head = *head || show_sweep_head(stdout, s.texts, s.count);
        status = all_lines(&s);
    }
    for (size_t i = 0; i < s.count; i++) {
        free(s.edits[i].old_text);
        free(s.edits[i].new_text);
        verb_axis_free(&s.axes[i]); /* its path is the edit's, too */
    }
    free(s.texts);
    free(s.edits);
    free(s.at);
    free(s.axes);
    desk_close(s.d);
    return status;
}

int verb_sweep(const verb_args *args) {
    const char *format = args->given[VERB_FORMAT];
    if (format != NULL && strcmp(format, "csv") != 0) {
        return verb_complain("--sweep writes a table: its format is csv");
    }
    /* A line at a time, so that several at once may write to one file and none of their lines is torn. */
    setvbuf(stdout, NULL, _IOLBF, 0);
    int worst = VERB_FITS;
    bool head = false;
    for (int i = 0; i < args->operand_count && worst != SHOP_CANNOT_WRITE; i++) {
        int status = sweep_file(args, args->operands[i], &head);
        worst = status > worst ? status : worst;
    }
    return worst;
}
