/* card_marks.h - the check marks on a text card against those that the plan's impressions ask for. */
#ifndef TESTS_SHOW_CARD_MARKS_H
#define TESTS_SHOW_CARD_MARKS_H

#include "show/card_reader.h"

/* A plan with its card. */
typedef struct carded {
    const char *name;
    shop_project *project;
    bw_plan *plan;
    char *text;
    shop_unit unit;
} carded;

#define HOLDS(claim, ...) ck_assert_msg(claim, __VA_ARGS__)

bool card_is_run(const card_row *row);  /* "40 impressions", "12 holes" */
bool card_is_mark(const card_row *row); /* of a table of check marks */
/* Every run's marks stand on the card, and no others. Returns how many tables there are. */
int card_compare_marks(const carded *c, const card_part *part, size_t band);

#endif
