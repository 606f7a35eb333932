/* show/sheet.h - a part of the plane drawn into cells: points in mm become characters, or finer dots of them. */
#ifndef SHOW_SHEET_H
#define SHOW_SHEET_H

#include "show/inner.h"

typedef struct sheet {
    show_grid *grid;
    show_rect where; /* the drawing, without the words under it */
    const show_view *view;
    bw_box box;                  /* of the piece */
    double per_column, per_line; /* mm of one cell */
    double left, top;            /* mm at the drawing's upper left */
    bool part;                   /* not the whole piece is seen */
    bw_point middle;             /* towards which everything is drawn a trifle */
    show_fine fine;
    uint8_t *dots;   /* finer drawing: bits of a cell, column by column of them; NULL: characters */
    uint16_t *looks; /* beside them */
} sheet;

/* How something is drawn: by its character, or where dots are drawn by every such dot of a line. */
typedef struct sheet_pen {
    char mark;
    unsigned look;
    int every;
    int last_x, last_y, count; /* of the dots drawn with it */
} sheet_pen;

/* The scale of the whole piece, or that of the view's sight, with the dots if the view asks for them and the grid has
 * Unicode. False if nothing can be drawn. */
bool sheet_open(sheet *s, double aspect);
void sheet_close(sheet *s); /* puts the dots into cells */

bool sheet_cell(const sheet *s, bw_point p, int *x, int *y);
/* A character at a place, over whatever is there; false if that is not in the drawing. */
bool sheet_mark(const sheet *s, bw_point p, char mark, unsigned look);
void sheet_point(const sheet *s, sheet_pen *pen, bw_point p);
void sheet_stroke(const sheet *s, sheet_pen *pen, bw_point from, bw_point to);
void sheet_curve(const sheet *s, sheet_pen *pen, const bw_curve *curve);
/* Does something that reaches so far around a point meet the drawing? */
bool sheet_meets(const sheet *s, bw_point p, double reach);
/* The spots of the view's band, and the impression in hand. */
void show_spots_draw(const sheet *s, const show_spot *spots, size_t count);
/* mm between two neighbouring marks of a drawing: of cells, or of their dots. */
double sheet_grain(const sheet *s);
/* mm of the coarser of a mark's two sides: what is smaller cannot be told apart. */
double sheet_coarse(const sheet *s);

#endif
