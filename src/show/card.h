/* show/card.h - the card that lies beside the work: few words, tables, a box to tick for everything that is done.
 *
 * It is made as lines of cells, so that every writer sets the same words.
 */
#ifndef SHOW_CARD_H
#define SHOW_CARD_H

#include "show/show.h"

typedef enum show_card_kind {
    SHOW_CARD_TITLE,   /* one cell */
    SHOW_CARD_SAY,     /* a sentence */
    SHOW_CARD_LOUD,    /* a sentence that must not be overlooked */
    SHOW_CARD_HEAD,    /* a section: its name; what goes with all of it */
    SHOW_CARD_BAND,    /* a band: its name; tool, lay and fit */
    SHOW_CARD_COLUMNS, /* the heads of a table's columns, one for every cell of its rows */
    SHOW_CARD_RUN,     /* one run of a band: count, step, gap; begins a table of its own */
    SHOW_CARD_ROW,     /* of the table begun by the last columns */
    SHOW_CARD_NOTE,    /* a sentence that belongs to the row above */
    SHOW_CARD_STEP     /* of the order of work: number; words */
} show_card_kind;

#define SHOW_CARD_CELLS 5

typedef struct show_card_line {
    show_card_kind kind;
    bool box; /* to be ticked */
    size_t cells;
    char *cell[SHOW_CARD_CELLS]; /* clean text */
} show_card_line;

typedef struct show_card {
    show_card_line *lines;
    size_t count, room;
    bool failed; /* memory lacked */
} show_card;

/* NULL without memory. */
show_card *show_card_create(const shop_project *project, const bw_plan *plan);
void show_card_free(show_card *card); /* NULL is fine */
/* The first line behind the table that begins at `from`, which is a COLUMNS or a RUN; notes among its rows belong to
 * it.
 */
size_t show_card_table_end(const show_card *card, size_t from);

#endif
