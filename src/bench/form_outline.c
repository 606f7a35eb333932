/* form_outline.c - the rows of the form that belong to the shape: what of it a ruler gives. */
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"

enum { GIVEN_DIAMETER, GIVEN_AROUND, GIVEN_CHORD, GIVEN_WAYS };

#define BIT(shape) (1u << (shape))
#define SIDED (BIT(BW_ELLIPSE) | BIT(BW_RECTANGLE) | BIT(BW_STRAP))

static const struct {
    const char *label, *path;
    unsigned shapes;
    bool needed;
} rows[FORM_ROWS] = {
    [FORM_GIVEN] = {"measured", NULL, BIT(BW_CIRCLE), false},
    [FORM_SIZE] = {"diameter", "outline.diameter", BIT(BW_CIRCLE), true},
    [FORM_DEPTH] = {"depth of chord", "outline.depth", BIT(BW_CIRCLE), true},
    [FORM_LONG] = {"length", "outline.length", SIDED | BIT(BW_LINE), true},
    [FORM_WIDE] = {"width", "outline.width", SIDED, true},
    [FORM_CORNER] = {"corners", "outline.corner", BIT(BW_RECTANGLE), false},
    [FORM_START] = {"left end", "outline.start", BIT(BW_STRAP), false},
    [FORM_END] = {"right end", "outline.end", BIT(BW_STRAP), false},
    [FORM_CORNERS] = {"corners", "outline.corners", BIT(BW_POLYGON), true},
    [FORM_SVG] = {"drawn path", "outline.svg", BIT(BW_PATH), true},
    [FORM_SCALE] = {"mm of a unit", "outline.scale", BIT(BW_PATH), false},
    [FORM_RADIUS] = {"radius", "outline.radius", BIT(BW_ARC), true},
    [FORM_SWEEP] = {"sweep, degrees", "outline.sweep", BIT(BW_ARC), true},
};

static const struct {
    const char *words, *label, *path;
} given[GIVEN_WAYS] = {
    {"diameter", "diameter", "outline.diameter"},
    {"circumference", "circumference", "outline.around"},
    {"chord and its depth", "chord", "outline.chord"},
};
_Static_assert((int)GIVEN_WAYS == (int)FORM_GIVEN_WAYS, "each way has its words");

const char *const *form_shape_words(void) {
    return shop_field_find("outline.shape")->words;
}

bool form_outline_has(const bench_form *form, form_row row) {
    return (rows[row].shapes & BIT(form->shape)) != 0 && (row != FORM_DEPTH || form->given == GIVEN_CHORD);
}

const char *form_outline_label(const bench_form *form, form_row row) {
    return row == FORM_SIZE ? given[form->given].label : rows[row].label;
}

const char *form_given_words(const bench_form *form) {
    return given[form->given].words;
}

static const char *path_of(const bench_form *form, form_row row) {
    return row == FORM_SIZE ? given[form->given].path : rows[row].path;
}

/* A path has a row in the table for every shape that reads it in its own way. */
const shop_field *form_outline_field(const bench_form *form, form_row row) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    const char *path = path_of(form, row);
    for (size_t i = 0; path != NULL && i < count; i++) {
        if (strcmp(fields[i].path, path) == 0 && (fields[i].kinds & BIT(form->shape)) != 0) {
            return &fields[i];
        }
    }
    return NULL;
}

form_row form_first_size(const bench_form *form) {
    form_row row = FORM_SIZE;
    while (row < FORM_OUTLINE_LAST && !form_outline_has(form, row)) {
        row++;
    }
    return row;
}

/* ---- choices ---- */

static void other_end(bench_form *form, form_row row, int by) {
    static const char *const mm[] = {"square", "round", "{point: 30}"}, *const inch[] = {"square", "round",
                                                                                         "{point: 1 1/4}"};
    const char *const *ends = form->unit == 0 ? mm : inch;
    int at = form->text[row][0] == '{' ? 2 : strcmp(form->text[row], "round") == 0 ? 1 : 0;
    (void)form_set(form, row, ends[(at + by + 3) % 3]);
}

bool form_outline_other(bench_form *form, form_row row, int by) {
    if (row == FORM_GIVEN) {
        form->given = (form->given + by + GIVEN_WAYS) % GIVEN_WAYS;
        return true;
    }
    if (row == FORM_START || row == FORM_END) {
        other_end(form, row, by);
        return true;
    }
    return false;
}

/* A point is typed by its length, or as it is said. */
const char *form_typed_text(const bench_form *form, form_row row, char out[ROW_TEXT]) {
    const char *text = form->text[row];
    size_t length = strlen(text);
    bool point = (row == FORM_START || row == FORM_END) && text[0] == '{' && length > 2;
    if (point) {
        snprintf(out, ROW_TEXT, "%.*s", (int)(length - 2), text + 1);
    }
    return point ? out : text;
}

bool form_end_fits(const bench_form *form, form_row row, const char *typed, char why[200]) {
    char end[ROW_TEXT], point[ROW_TEXT];
    end_text(typed, end);
    const char *colon = strchr(end, ':');
    if (colon == NULL) {
        snprintf(why, 200, "%.60s is no end: square, round, or the length of a point, such as %s.", typed,
                 form->unit == 0 ? "40" : "1 1/2");
        return strcmp(end, "square") == 0 || strcmp(end, "round") == 0;
    }
    snprintf(point, sizeof point, "%.*s", (int)strcspn(colon + 1, "}"), colon + 1);
    return field_fits(form_outline_field(form, row), form->unit == 0 ? SHOP_MM : SHOP_INCH, point, why);
}

/* ---- edits ---- */

/* A fresh piece is a circle that has its diameter. */
bool form_outline_edits(const bench_form *form, form_edits *edits) {
    if (form->shape != BW_CIRCLE) {
        form_edit_add(edits, "outline.shape", form_shape_words()[form->shape]);
    }
    if (form->shape != BW_CIRCLE || form->given != GIVEN_DIAMETER) {
        form_edit_add(edits, "outline.diameter", NULL);
    }
    for (form_row row = FORM_SIZE; row <= FORM_OUTLINE_LAST; row++) {
        if (!form_outline_has(form, row)) {
            continue;
        }
        const char *text = form->text[row];
        if (text[0] == '\0' && rows[row].needed) {
            edits->wrong = row;
            snprintf(edits->why, sizeof edits->why, "%s is needed.", form_outline_label(form, row));
            return false;
        }
        bool usual = (row == FORM_START || row == FORM_END) && strcmp(text, "square") == 0;
        if (text[0] != '\0' && !usual) {
            form_edit_add(edits, path_of(form, row), text);
        }
    }
    return true;
}
