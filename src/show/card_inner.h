/* show/card_inner.h - what the files that make the card share. */
#ifndef SHOW_CARD_INNER_H
#define SHOW_CARD_INNER_H

#include "show/band_words.h"
#include "show/card.h"

typedef struct card_maker {
    show_card *card;
    const shop_project *project;
    const bw_plan *plan;
    bool marks; /* check marks were given */
} card_maker;

/* A line with its cells, cleaned; NULL behind the last. box: true or false (int, for the list behind it). */
void card_add(card_maker *m, show_card_kind kind, int box, ...) __attribute__((sentinel));
/* A sentence; nothing where it is empty. */
void card_say(card_maker *m, show_card_kind kind, const char *text);

/* What the hand sets or lays off for a length, on this grid, and behind it in brackets by how much that is over (+) or
 * under (-) what the plan asks: "7.9 mm (-0.03)"; nothing behind it where that does not show. */
show_figure_text card_set(const shop_project *project, double mm, double grid);

void card_bands(card_maker *m);  /* what each band needs */
void card_totals(card_maker *m); /* strikes, lines, time, cost */

#endif
