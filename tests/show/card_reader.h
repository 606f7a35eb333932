/* card_reader.h - reads a text card back: only from its text, as a maker would. */
#ifndef TESTS_SHOW_CARD_READER_H
#define TESTS_SHOW_CARD_READER_H

#include "shop/shop.h"

enum { CARD_LINES = 600, CARD_CELLS = 8, CARD_ROWS = 80 };

typedef struct card_row {
    bool box;
    int cells;
    char cell[CARD_CELLS][200];
    char note[1000]; /* what stands below it, indented, run together */
} card_row;

/* A part of the card: from a heading to the next blank line. */
typedef struct card_part {
    char head[300];
    card_row rows[CARD_ROWS]; /* lines that begin with a box or with blanks as wide, other lines between them apart */
    int count;
    char flat[6000]; /* all of it, run together */
} card_part;

/* The part whose heading begins like this, behind a blank line; false if there is none. */
bool card_part_of(const char *text, const char *head, card_part *part);

/* "7.9 mm (-0.03)": what the plan asks, mm: the length less what it is over. NAN if it is none. */
double card_length(const char *cell, shop_unit unit);
/* The first length at or behind *at, which then is behind it; NAN at the end. */
double card_next_length(const char **at, shop_unit unit);
/* mm within which a length with its rest in brackets, and one on the grid of fractions, tell a figure. */
double card_fine(shop_unit unit);
double card_coarse(shop_unit unit);

#endif
