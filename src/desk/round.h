/* desk/round.h - a round that is struck on a band, kept in the project as bands[].struck, so that journal, undo and
 * save keep it, too.
 *
 * First comes the guide's round, run by run, then row by row what is keyed to it: whole rows from the guide outward,
 * then the leaned ones. Each of these parts is an item of the list while it is struck and after. The round in hand
 * begins with the last item of the guide's first run.
 */
#ifndef DESK_ROUND_H
#define DESK_ROUND_H

#include "bandwright/rest.h"
#include "desk/desk.h"

/* One run of the guide, or one of the rows with all its runs. */
typedef struct desk_part {
    int row;      /* 0: the guide's */
    size_t index; /* the run's, or the row's among bw_band_plan.rows */
    int count;    /* impressions of the run, as now wanted; rows: strikes */
    int of;       /* strikes it takes */
    int struck;
    bool begun;
    int from;     /* runs: impressions struck when what was left was measured last; 0: never */
    double left;  /* mm, then */
    int measured; /* `from` as it is written, also where the layout has changed since and it counts no more */
    int before;   /* likewise at the measure before that one; 0: there was none */
    double left_before;
    double aimed; /* mm, the step aimed at until then, on the mean; NAN: not written */
    int planned;  /* what the layout said when that was written, 0 and NAN: not written */
    double guide; /* mm, the run's length then */
    bool changed; /* it says something else now */
    double went;  /* mm a step, where the hand then stands by what it was told, on the mean; else NAN */
    bool logged;  /* what it took is among the rounds of the tool */
    double took;  /* mm, what was logged of it last, which a longer log replaces; NAN: nothing */
    size_t item;  /* its place in the list, from 0, if it is begun */
} desk_part;

typedef struct desk_round {
    size_t band;
    desk_part *parts;
    size_t count, runs;       /* the first so many parts are runs of the guide */
    size_t at;                /* the part in hand: the one begun last, or the first */
    bool begun;               /* something is struck */
    bool full;                /* nothing is left to strike */
    long struck, of;          /* strikes of all parts */
    size_t first_item, items; /* where it stands in the list, from 0, and how many there are in all */
} desk_round;

/* NULL without memory, or where the band is not struck. */
desk_round *desk_round_read(const desk *d, size_t band);
void desk_round_free(desk_round *round); /* NULL is fine */

/* One strike more: the next part is begun when the one in hand is full. False with a problem when all is struck. */
bool desk_round_strike(desk *d, size_t band, shop_problems *problems);
/* One less, as a change of its own. False with a problem when nothing is struck. */
bool desk_round_unstrike(desk *d, size_t band, shop_problems *problems);
/* The round in hand out of the list; one that is full stays, and a new one begins. */
bool desk_round_anew(desk *d, size_t band, shop_problems *problems);
/* What measured runs of the round in hand took, into the rounds of the band's tool; each once, a later log in place of
 * a shorter one. False with a problem if nothing was measured that is not logged yet. */
bool desk_round_log(desk *d, size_t band, shop_problems *problems);
bool desk_round_can_log(const desk_round *round);
/* From now on the run in hand goes on as rest->counts[index] says. */
bool desk_round_advise(desk *d, size_t band, const bw_rest *rest, size_t index, shop_problems *problems);

/* What was measured of a run, with what the hand was told before by the round in hand (NULL: by the plan). */
bw_measure desk_round_measure(const desk_round *round, size_t band, size_t run, int struck, double left);

/* What is left of the part in hand by the steps aimed at so far, mm; NAN of a row. */
double desk_round_left(const desk_round *round, const bw_plan *plan);
/* How the part in hand is struck from where it was measured last, or from its beginning: a bw_rest of one count; NULL
 * of a row, where the layout has changed, or without memory. Released with bw_rest_destroy. */
bw_rest *desk_round_way(const desk_round *round, const bw_plan *plan);

#endif
