/* bench/draw.h - what is drawn, and what can be clicked there. inner.h includes it; no other room does. */
#ifndef BENCH_DRAW_H
#define BENCH_DRAW_H

#include "bench/bench.h"
#include "shop/shop.h"
#include "show/show.h"

/* ---- what can be clicked ---- */

#define SPOTS_MOST 4000 /* figures of a spacing table in a large window */

typedef enum spot_kind {
    SPOT_ROW,   /* row `which` of b->list */
    SPOT_VALUE, /* row `which` of the card or of the form */
    SPOT_CARD,
    SPOT_SIDE, /* of two layouts, or of the two copies of a tool, `which` */
    SPOT_CELL, /* of the spacing table */
    SPOT_KEY,  /* the key `which`, as pressed */
    SPOT_MEANT /* what the key `which` of the table of commands does here */
} spot_kind;

typedef struct bench_spot {
    int x, y, width;
    spot_kind kind;
    size_t which;
} bench_spot;

void spot_add(bench *b, int x, int y, int width, spot_kind kind, size_t which);

/* ---- draw_*.c ---- */

void draw_start(bench *b, show_grid *grid);
void draw_form(bench *b, show_grid *grid);
void draw_strip(bench *b, show_grid *grid);
void draw_work(bench *b, show_grid *grid);
show_rect rect_below(show_rect where, int lines); /* what is left under so many lines */
/* What may stand in a value, in the last lines of a rectangle; returns how many it takes. */
int draw_range(const bench *b, show_grid *grid, show_rect where, const shop_field *field);
void draw_values(bench *b, show_grid *grid, show_rect where);
/* Rows of b->list that may take several lines each; returns how many lines they took. */
typedef const char *draw_row_words(const bench *b, size_t row);
int draw_worded(bench *b, show_grid *grid, show_rect where, size_t count, draw_row_words *words);
void draw_even(bench *b, show_grid *grid, show_rect where);
void draw_prompt(bench *b, show_grid *grid); /* what is typed elsewhere than in a value's own place */
void draw_read(bench *b, show_grid *grid);
void draw_inventory(bench *b, show_grid *grid);
void draw_tool(bench *b, show_grid *grid);
void draw_tool_items(bench *b, show_grid *grid);
void draw_ask(bench *b, show_grid *grid);
void draw_strikes(bench *b, show_grid *grid);
void draw_rest(bench *b, show_grid *grid);
void draw_second(bench *b, show_grid *grid);
void draw_commands(bench *b, show_grid *grid);
void draw_look(bench *b, show_grid *grid);
void draw_left(bench *b, show_grid *grid);
void draw_theirs(bench *b, show_grid *grid);
void draw_table(bench *b, show_grid *grid);
void draw_foot(bench *b, show_grid *grid); /* message and bottom line */
const char *saved_word(const desk *d);     /* "not saved" */
void lines_clear(show_grid *grid, int y, int lines);
int foot_lines(const show_grid *grid);

#endif
