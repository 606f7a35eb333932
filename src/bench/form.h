/* bench/form.h - the form of a new piece: its rows, and what its files share. */
#ifndef BENCH_FORM_H
#define BENCH_FORM_H

#include "bandwright/limits.h"
#include "bench/bench.h"
#include "bench/entry.h"
#include "desk/desk.h"

typedef enum form_row {
    FORM_PIECE,
    FORM_UNITS,
    FORM_SHAPE,
    FORM_GIVEN, /* from here to FORM_OUTLINE_LAST: what the shape has */
    FORM_SIZE,
    FORM_DEPTH,
    FORM_LONG,
    FORM_WIDE,
    FORM_CORNER,
    FORM_START,
    FORM_END,
    FORM_CORNERS,
    FORM_SVG,
    FORM_SCALE,
    FORM_RADIUS,
    FORM_SWEEP,
    FORM_OUTLINE_LAST = FORM_SWEEP,
    FORM_WEIGHT,
    FORM_FILL,
    FORM_SPACE,
    FORM_WIDTH,
    FORM_STAMP,
    FORM_LENGTH,
    FORM_ACROSS,
    FORM_MAKE,
    FORM_ROWS
} form_row;

typedef struct bench_form {
    char *file;                   /* what it will be saved as, NULL: not known yet */
    desk *desk;                   /* a fresh layout on which the values are tried */
    char *text[FORM_ROWS];        /* malloc'ed, set by form_set; a drawn path is a long one */
    int unit, shape, given, fill; /* indices of their words */
    int stamp;                    /* 0 = by its length, else 1 + index into the tools that fit */
    form_row at;
    bool lacking;  /* something is not given yet */
    char why[400]; /* there is no answer yet */
    bool changed;  /* what is typed is not kept yet */
    bool kept;     /* a file in the state folder holds it, as it is or was */
} bench_form;

enum { FORM_GIVEN_WAYS = 3, FORM_FILLS = 4 };

/* form.c */
void form_start(bench *b, const char *file);
void form_free(bench_form *form);
bool form_set(bench_form *form, form_row row, const char *text); /* false without memory: it stays as it was */
void form_take(bench *b);                                        /* the typed line into its row */
void form_row_words(const bench_form *form, form_row row, char label[40], char value[ROW_TEXT]);
const char *form_row_help(const bench_form *form, form_row row);
void form_try(bench_form *form); /* so that the answer shows */
bool form_has(const bench_form *form, form_row row);

bool form_renew(bench *b); /* another unit or name: the piece begins anew with it */

/* form_kept.c: what was typed, over the end of the program */
bool form_keep(bench *b);         /* false if it can be kept nowhere */
const char *form_leave(bench *b); /* as bench_leave */
bool form_take_kept(bench *b);    /* into the fresh form; false if there is nothing */
void form_forget(bench *b);       /* the form is left, or its piece made */
/* form_outline.c: the rows of the shape */
bool form_outline_has(const bench_form *form, form_row row);
const char *form_outline_label(const bench_form *form, form_row row);
const shop_field *form_outline_field(const bench_form *form, form_row row); /* NULL of FORM_GIVEN */
const char *const *form_shape_words(void);
const char *form_given_words(const bench_form *form);
/* The other way of an end, or another thing that a ruler gives. False if the row has no choices. */
bool form_outline_other(bench_form *form, form_row row, int by);
form_row form_first_size(const bench_form *form);
/* What Enter puts into the line; in `out` where it is not the row's own text. */
const char *form_typed_text(const bench_form *form, form_row row, char out[ROW_TEXT]);
bool form_end_fits(const bench_form *form, form_row row, const char *typed, char why[200]);

#define TOOL_ID_ROOM (BW_NAME_MOST * 8 + 3)
/* A tool's id as it may stand in a mapping in flow style; false without memory. */
bool tool_id_written(const char *id, char out[TOOL_ID_ROOM]);

/* Room for the texts of all edits of the form. */
typedef struct form_edits {
    shop_edit list[FORM_ROWS + 4];
    size_t count;
    char band[ROW_TEXT * 4], tool[ROW_TEXT], id[TOOL_ID_ROOM];
    char why[200];
    form_row wrong;
} form_edits;

extern const char *const form_fill_words[];
/* The n-th tool (from 1) that fits the band; NULL if there are fewer. */
const bw_tool *form_tool(const bench_form *form, int n, int *index);
/* Is it a piece yet? Then its plan can be looked at. */
bool form_try_with(bench_form *form, form_edits *edits, shop_problems *problems);
/* The outline alone can be wrong before the rest is known. */
bool form_outline_holds(bench_form *form, shop_problems *problems);
/* "Allowed: 5 mm to 300 mm." for a row that is a length; "" for others. */
void form_range_words(const bench_form *form, form_row row, char out[ROW_TEXT]);
/* Whether a character begins to type the row in hand instead of being a key. */
bool form_takes_letter(const bench *b, int key);
void form_edit_add(form_edits *edits, const char *path, const char *text);
bool form_outline_edits(const bench_form *form, form_edits *edits); /* false with why and wrong */

#endif
