/* bandwright/moves.h - small changes that make a warning go, smallest first (maths of the suggestions). */
#ifndef BANDWRIGHT_MOVES_H
#define BANDWRIGHT_MOVES_H

#include "plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A new value for one knob of the layout or of one band. */
typedef struct bw_change {
    bw_knob knob;
    size_t band;   /* for knobs of a band */
    double value;  /* mm, radians or share; for guide always mm from the outer line; corner: all four */
    int number;    /* count (0 auto), lose (a bw_lose), tool (index) */
    int lose_last; /* K with BW_LOSE_LAST */
} bw_change;

#define BW_MOVE_CHANGES 2

typedef struct bw_move {
    size_t band;           /* the band whose warning goes */
    bool closes;           /* no warning: it brings the closure gap nearer to nothing */
    bool whole_rows;       /* no warning: after it every row of the band is whole, none is leaned */
    bw_warning_kind cures; /* else this warning is gone after it */
    bw_change changes[BW_MOVE_CHANGES];
    int change_count;
    double size;          /* how large the change is, relative to the old value: the order of the list */
    double remaining_gap; /* mm, sum of |closure gap| over the band's runs, in the plan with the changes made */
    bw_verdict verdict;   /* the band's, then */
} bw_move;

/* All moves for a band (or for every band with band = SIZE_MAX), smallest first. Values lie on the dividers' grid;
 * knobs marked fixed never appear; no move makes any band's verdict worse. */
bw_status bw_moves_create(const bw_layout *layout, const bw_plan *plan, size_t band, const bw_allocator *allocator,
                          bw_move **moves, size_t *count);
void bw_moves_release(bw_move *moves, const bw_allocator *allocator);

/* Makes a move in plain values: bands points to the caller's writable copy of the layout's bands. */
void bw_move_apply(const bw_move *move, bw_layout *layout, bw_band *bands);

#ifdef __cplusplus
}
#endif
#endif
