/* bench/entry.h - a line that is being typed, and a box of several. inner.h includes it; no other room does. */
#ifndef BENCH_ENTRY_H
#define BENCH_ENTRY_H

#include "show/grid.h"

#define ENTRY_MOST 65535 /* bytes: a drawn path is a long text */
#define ROW_TEXT 256     /* bytes of a value, a label or a path in a row */

typedef struct bench_entry {
    char text[ENTRY_MOST + 1];
    size_t length, at; /* bytes */
    int across;        /* cells of a line if it is typed in a box of several lines, else 0 */
    bool whole;        /* nothing was changed yet: a character typed now takes the place of all of it */
} bench_entry;

/* The next character of UTF-8 text; BENCH_KEY_NONE if there is none or it is broken. */
int entry_character(const char *text, size_t length, size_t *at);
void entry_start(bench_entry *entry, const char *text);
/* Characters, Backspace, Delete, arrows, Home, End. False if the key means nothing here. */
bool entry_key(bench_entry *entry, int key);
/* Draws the part around the cursor and puts the grid's cursor there. */
void entry_draw(const bench_entry *entry, show_grid *grid, int x, int y, int width);
/* entry_box.c: the same in several lines. Up and Down go from line to line. */
bool entry_box_key(bench_entry *entry, int key);
int entry_box_lines(bench_entry *entry, int across);
void entry_box_draw(bench_entry *entry, show_grid *grid, show_rect where);

#endif
