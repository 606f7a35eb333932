/* form_kept.c - what was typed into the form of a new piece, kept in the state folder until the piece is made or the
 * form is left: a line a value, `outline.diameter 120`. The end of the program takes none of it along.
 */
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bench/inner.h"
#include "shop/alloc.h"

#define FILE_NAME "/new-piece.form"

/* Choices are kept by their number in the form. */
static const char *const names[FORM_ROWS] = {
    [FORM_PIECE] = "piece",   [FORM_UNITS] = "units",   [FORM_SHAPE] = "shape",   [FORM_GIVEN] = "measured",
    [FORM_SIZE] = "size",     [FORM_DEPTH] = "depth",   [FORM_LONG] = "long",     [FORM_WIDE] = "wide",
    [FORM_CORNER] = "corner", [FORM_START] = "start",   [FORM_END] = "end",       [FORM_CORNERS] = "corners",
    [FORM_SVG] = "svg",       [FORM_SCALE] = "scale",   [FORM_RADIUS] = "radius", [FORM_SWEEP] = "sweep",
    [FORM_WEIGHT] = "weight", [FORM_FILL] = "fill",     [FORM_SPACE] = "space",   [FORM_WIDTH] = "width",
    [FORM_STAMP] = "stamp",   [FORM_LENGTH] = "length", [FORM_ACROSS] = "across", [FORM_MAKE] = "row",
};

static char *place(const bench *b) {
    size_t room = b->state == NULL ? 0 : strlen(b->state) + sizeof FILE_NAME;
    char *file = room == 0 ? NULL : shop_alloc(room);
    if (file != NULL) {
        snprintf(file, room, "%s%s", b->state, FILE_NAME);
    }
    return file;
}

void form_forget(bench *b) {
    char *file = place(b);
    if (file != NULL && b->form.kept) {
        unlink(file);
    }
    free(file);
    form_free(&b->form);
}

/* ---- writing ---- */

/* What is being typed counts, too, and is put right later; a tool by its id, since the list of those that fit can
 * change. */
static const char *row_text(const bench *b, form_row row, char number[16]) {
    const bench_form *form = &b->form;
    int index;
    const bw_tool *tool = row == FORM_STAMP && form->stamp > 0 ? form_tool(form, form->stamp, &index) : NULL;
    int value = row == FORM_UNITS   ? form->unit
                : row == FORM_SHAPE ? form->shape
                : row == FORM_GIVEN ? form->given
                : row == FORM_FILL  ? form->fill
                : row == FORM_MAKE  ? (int)form->at
                                    : -1;
    snprintf(number, 16, "%d", value);
    return value >= 0                                    ? number
           : tool != NULL                                ? tool->id
           : b->typing == TYPING_FORM && row == form->at ? b->entry.text
                                                         : form->text[row];
}

/* A path in lines is the same on one. */
static void add_text(shop_buffer *to, const char *text) {
    for (const char *line; *text != '\0'; text = line + (*line == '\n')) {
        line = text + strcspn(text, "\n");
        shop_buffer_add(to, text, (size_t)(line - text));
        shop_buffer_text(to, *line == '\n' ? " " : "");
    }
}

bool form_keep(bench *b) {
    shop_buffer lines = {0};
    char number[16];
    size_t used = 0;
    for (int row = 0; row < FORM_ROWS; row++) {
        shop_buffer_text(&lines, names[row]);
        shop_buffer_text(&lines, " ");
        add_text(&lines, row_text(b, (form_row)row, number));
        shop_buffer_text(&lines, "\n");
    }
    char *bytes = shop_buffer_take(&lines, &used);
    char *file = place(b);
    shop_problems problems;
    shop_problems_init(&problems, "");
    bool kept = bytes != NULL && file != NULL && shop_folder_make(b->state) &&
                shop_save(file, bytes, used, false, &problems) == SHOP_OK;
    shop_problems_free(&problems);
    free(bytes);
    free(file);
    b->form.changed = b->form.changed && !kept;
    b->form.kept = b->form.kept || kept;
    return kept;
}

const char *form_leave(bench *b) {
    bench_form *form = &b->form;
    bool typing = b->typing == TYPING_FORM && b->entry.length > 0;
    if (form->desk == NULL || (!form->changed && !form->kept && !typing)) {
        return NULL;
    }
    free(b->file);
    b->file = form_keep(b) ? place(b) : NULL;
    form->changed = b->file == NULL;
    return b->file;
}

/* ---- reading ---- */

static int number_below(const char *text, int count, int instead) {
    char *end;
    long number = strtol(text, &end, 10);
    return end == text || *end != '\0' || number < 0 || number >= count ? instead : (int)number;
}

static void take_line(bench_form *form, const char *name, const char *text) {
    int shapes = 0, index;
    while (form_shape_words()[shapes] != NULL) {
        shapes++;
    }
    form_row row = FORM_PIECE;
    while (row < FORM_ROWS && strcmp(names[row], name) != 0) {
        row++;
    }
    switch (row) {
    case FORM_ROWS:
        return;
    case FORM_UNITS:
        form->unit = number_below(text, 2, form->unit);
        return;
    case FORM_SHAPE:
        form->shape = number_below(text, shapes, form->shape);
        return;
    case FORM_GIVEN:
        form->given = number_below(text, FORM_GIVEN_WAYS, form->given);
        return;
    case FORM_FILL:
        form->fill = number_below(text, FORM_FILLS, form->fill);
        return;
    case FORM_MAKE:
        form->at = (form_row)number_below(text, FORM_ROWS, (int)form->at);
        form->at = form_has(form, form->at) ? form->at : FORM_SHAPE;
        return;
    case FORM_STAMP:
        form->stamp = 0;
        for (int n = 1; form->desk != NULL && form_tool(form, n, &index) != NULL; n++) {
            form->stamp = strcmp(form_tool(form, n, &index)->id, text) == 0 ? n : form->stamp;
        }
        return;
    default:
        (void)form_set(form, row, text);
    }
}

/* The values of all lines; `stamps`: those that rest on the tools, else the others. */
static void take_lines(bench_form *form, const char *bytes, size_t length, bool stamps) {
    for (size_t at = 0; at < length;) {
        const char *end = memchr(bytes + at, '\n', length - at);
        size_t line = end != NULL ? (size_t)(end - (bytes + at)) : length - at;
        char *text = end == NULL ? NULL : shop_copy(bytes + at, line); /* a line without its end was cut off */
        char *blank = text == NULL ? NULL : strchr(text, ' ');
        if (blank != NULL) {
            *blank = '\0';
            if ((strcmp(text, names[FORM_STAMP]) == 0) == stamps) {
                take_line(form, text, blank + 1);
            }
        }
        free(text);
        at += line + 1;
    }
}

bool form_take_kept(bench *b) {
    char *file = place(b), *bytes = NULL;
    size_t length;
    shop_problems problems;
    shop_problems_init(&problems, "");
    bool fine = file != NULL && access(file, F_OK) == 0 && shop_read(file, &bytes, &length, &problems) == SHOP_OK;
    shop_problems_free(&problems);
    free(file);
    if (fine) {
        take_lines(&b->form, bytes, length, false);
        fine = form_renew(b); /* the unit and the name are the fresh piece's */
        if (fine) {
            take_lines(&b->form, bytes, length, true);
            b->form.kept = true;
            form_try(&b->form);
            b->form.changed = false;
        }
    }
    free(bytes);
    return fine;
}
