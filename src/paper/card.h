/* paper/card.h - what the files that set the card on paper share. */
#ifndef PAPER_CARD_H
#define PAPER_CARD_H

#include <cairo/cairo.h>

#include "paper/paper.h"
#include "show/card.h"

/* The columns of a table, measured once for each size of letters: mm that they take unbroken, and that their longest
 * words take. */
typedef struct card_columns {
    const show_card_line *table;
    double size;
    double natural[SHOW_CARD_CELLS], least[SHOW_CARD_CELLS], width[SHOW_CARD_CELLS];
    int count;
} card_columns;

/* Where a line of the card goes: mm, y its upper border. */
typedef struct card_place {
    cairo_t *cr;
    double x, y, width, size;
    card_columns *columns; /* of the table set last */
    bool draw;             /* false: only measured */
    bool squeezed;         /* written: cells of a table break into lines */
} card_place;

/* Both return the height. table: all lines of the table that the row belongs to, for the width of its columns. */
double card_put_line(const card_place *place, const show_card_line *line);
double card_put_row(card_place *place, const show_card_line *line, const show_card_line *table, size_t count);

/* Behind the name of a section that goes on in another column. */
#define CARD_GOES_ON " (goes on)"

bool card_draw(paper_book *book, const show_card *card, const paper_size *sheet);

#endif
