/* bandwright/moves.h - small changes that make a warning go, smallest first (maths of the suggestions). */
#ifndef BANDWRIGHT_MOVES_H
#define BANDWRIGHT_MOVES_H

#include "plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A new value for one knob of the layout or of one band, in the terms of the file (sizes as `sizes` says). */
typedef struct bw_change {
    bw_knob knob;
    size_t band; /* for knobs of a band */
    double
        value;  /* mm or share. diameter: the circumference if the outline gives that; guide: always mm from the outer
                   line; corner: the radius of all four if they are alike, else of polygons and rectangles the least
                   that a rounded corner then has: those rounded less get it; sharp and hollow ones stay as they are */
    int number; /* count (0 auto), lose (a bw_lose), tool (index) */
} bw_change;

typedef struct bw_move {
    size_t band;        /* the band it is for */
    bool cures_warning; /* the warning `cures` is gone after it; else it closes or makes whole rows */
    bw_warning_kind cures;
    unsigned gone;   /* all of the band's warnings that are gone after it: bits 1u << bw_warning_kind */
    bool closes;     /* it brings the closure gap nearer to nothing */
    bool whole_rows; /* every row is whole after it, none leaned */
    bw_change change;
    double size;          /* mm that something moves, or as much trouble as that: the order of the list */
    double remaining_gap; /* mm, sum of |closure gap| over the band's runs, in the plan with the change made */
    double worst_gap;     /* mm, + left over, - lacking: of the run that bw_worst_run names, then; 0 without runs */
    size_t run_count;     /* then */
    bw_verdict verdict;   /* the band's, then */
    int count;            /* impressions of its first run, then; 0 if there is none */
} bw_move;

/* The value a knob has now; NAN if the layout has none such (a circle's corner, a plain band's overlap). */
double bw_knob_value(const bw_layout *layout, bw_knob knob, size_t band);

/* All moves for a band (every band with band = SIZE_MAX) in the order of bw_move_compare: by band, those after which it
 * works before others, those after which no step shows before those that leave them, smallest first. Lengths
 * lie on the dividers' grid; knobs marked fixed never move. After a move the band's warning is gone, no band that works
 * has stopped working, none fails worse or is pushed out of existence, and there are no more warnings than before. */
bw_status bw_moves_create(const bw_layout *layout, const bw_plan *plan, size_t band, const bw_allocator *allocator,
                          bw_move **moves, size_t *count);
/* The same of one knob: the search in parts, for a hand that does not wait. */
bw_status bw_moves_of_knob(const bw_layout *layout, const bw_plan *plan, size_t band, bw_knob knob,
                           const bw_allocator *allocator, bw_move **moves, size_t *count);
int bw_move_compare(const bw_move *a, const bw_move *b);
/* Can a move make it go? Estimates and contradictory measurements only the maker can mend. */
bool bw_warning_curable(bw_warning_kind kind);
void bw_moves_release(bw_move *moves, const bw_allocator *allocator);

/* Makes a change in plain values: bands is the caller's writable copy of the layout's bands, and layout->bands points
 * to it. corners: room for the outline's corners, to which layout->outline.corners points if the change moves them;
 * NULL if it has none. */
void bw_change_apply(const bw_change *change, bw_layout *layout, bw_band *bands, bw_corner *corners);

#ifdef __cplusplus
}
#endif
#endif
