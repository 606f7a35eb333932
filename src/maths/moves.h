/* maths/moves.h - the search for small changes: what it knows, and the trial of one change. */
#ifndef MATHS_MOVES_H
#define MATHS_MOVES_H

#include "bandwright/moves.h"

/* The search along one knob for one band. */
typedef struct maths_search {
    const bw_layout *layout;
    const bw_plan *plan;
    size_t band;
    bw_allocator allocator;
    bw_band *bands; /* scratch copies of the layout's */
    bw_corner *corners;
    bool wanted[BW_WARN_TOOL_DIFFERS]; /* warnings of the band that a move could cure */
    bw_move *moves;
    size_t count, room;
    size_t plans_left; /* trials that may still be made */
    bw_status status;
} maths_search;

/* A plan with a change made. */
typedef struct maths_trial {
    bw_plan *plan;
    size_t band; /* where the search's band is in it */
} maths_trial;

/* What a knob may still cure, one way. */
typedef struct maths_hopes {
    bool kinds[BW_WARN_TOOL_DIFFERS];
    bool whole_rows;
    int left;
    int refused; /* values that would have cured something here and done harm elsewhere */
} maths_hopes;

/* The band alone, everything outside it as plain space. False if the value is no layout, or enough were tried. */
bool maths_plan_alone(maths_search *s, const bw_change *change, maths_trial *t);
bool maths_warned(const bw_plan *plan, size_t band, bw_warning_kind kind);
double maths_gap_of(const bw_band_plan *band); /* mm, sum of |closure gap| */
bool maths_all_whole(const bw_band_plan *band);
/* The band is there and works as well as before, or fails no worse. */
bool maths_keeps_working(const maths_search *s, const maths_trial *t);
/* No band stops working or fails worse, and there are no more warnings than before. */
bool maths_harmless(maths_search *s, const bw_change *change, const maths_trial *alone);
/* Adds the move with what remains once it is made. */
void maths_take_in(maths_search *s, bw_move move, const maths_trial *t);
maths_hopes maths_hopes_of(const maths_search *s, bool whole_rows);
/* Tries one value; what it fulfils of the hopes becomes a move (if taken) and is done with. False if the value is no
 * layout. */
bool maths_try_change(maths_search *s, const bw_change *change, double size, maths_hopes *h, bool take);

#endif
