/* show/grid.h - a grid of character cells in memory: all views draw into it, the terminal only copies it out. */
#ifndef SHOW_GRID_H
#define SHOW_GRID_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* How a cell looks. Meaning never rests on it alone. */
typedef enum show_look {
    SHOW_PLAIN = 0,
    SHOW_BOLD = 1,
    SHOW_REVERSE = 2, /* the selected item */
    SHOW_DIM = 4,
    SHOW_UNDERLINE = 8,
    SHOW_GOOD = 16, /* colours where there are any */
    SHOW_WARN = 32,
    SHOW_BAD = 64
} show_look;

typedef struct show_cell {
    uint32_t code; /* Unicode; 0 = the right half of a wide character */
    uint32_t mark; /* one combining character, or 0 */
    uint16_t look; /* show_look bits */
} show_cell;

typedef struct show_grid {
    int width, height;
    int cursor_x, cursor_y; /* the hardware cursor: on the selected item; -1 = hidden */
    bool unicode;           /* the locale shows UTF-8: else '?' stands for what is not ASCII */
    show_cell *cells;       /* width * height, row by row */
} show_grid;

typedef struct show_rect {
    int x, y, width, height;
} show_rect;

/* Sizes from 1x1 to 1000x1000; others are clamped. False without memory. */
bool show_grid_init(show_grid *grid, int width, int height, bool unicode);
void show_grid_free(show_grid *grid);
void show_clear(show_grid *grid);
/* Text that is cut at `width` cells (< 0: at the grid's edge). Anything unsafe in it shows as an escape. Returns the
 * cells used. Outside the grid nothing is drawn. */
int show_put(show_grid *grid, int x, int y, int width, unsigned look, const char *text);
__attribute__((format(printf, 6, 7))) int show_putf(show_grid *grid, int x, int y, int width, unsigned look,
                                                    const char *format, ...);
void show_cell_put(show_grid *grid, int x, int y, uint32_t code, unsigned look);
int show_code_width(uint32_t code); /* cells that a character takes: 0, 1 or 2 */
/* Text broken at words into a rectangle; returns the lines used (also those that did not fit). */
int show_wrap(show_grid *grid, show_rect where, unsigned look, const char *text);
/* The grid as lines of text (trailing blanks cut), malloc'ed: what --screen writes. */
char *show_grid_text(const show_grid *grid);

#endif
