/* bandwright/marks.h - dividing a round: chords, check marks, and where its seam hides. */
#ifndef BANDWRIGHT_MARKS_H
#define BANDWRIGHT_MARKS_H

#include "plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Straight divider setting that spans `steps` of `count` equal steps on a circle: 2 R sin(pi steps / count). Table of
 * chords, Machinery's Handbook. */
double bw_chord(double diameter, int steps, int count);

/* Check mark i (0 .. marks - 1) of a closed round: after how many impressions it falls, round(i count / marks). */
int bw_mark_at(int count, int marks, int i);

/* A place on the guide to be marked before striking, where the middle of an impression must lie: as the first one's
 * lies on the start mark, and that of one on an anchor. */
typedef struct bw_check_mark {
    int after;       /* impressions of the guide's round before it; as many steps lie between it and the first */
    double along;    /* mm along the guide from the middle of the first one: a length of the curve, no setting */
    double across;   /* mm straight from the mark before it, the first from the first impression: a divider setting */
    double on_guide; /* mm along the guide from its start */
    bw_point at;
} bw_check_mark;

/* The steps of a run: as many as impressions on a closed one, else one fewer; 0 where nothing is struck. */
int bw_run_steps(const bw_run_plan *run);

/* Parts a run by `marks` check marks (0 or more) as evenly as whole steps do, by bw_mark_at of its steps. The last
 * entry of the list, which holds marks + 1, is where the run ends: the first impression again, or the last one of an
 * open run. Places are where the plan has its impressions, on any line and however the difference is lost; `across` is
 * measured between them. BW_BAD_VALUE if the band or run is not there or has no step for every part. */
bw_status bw_check_marks(const bw_plan *plan, size_t band, size_t run, int marks, const bw_allocator *allocator,
                         bw_check_mark *list);

/* Where a seam is seen least; common practice. */
typedef enum bw_hiding {
    BW_HIDE_NONE,   /* an open edge has no seam */
    BW_HIDE_BUCKLE, /* the square end of a strap, under the buckle */
    BW_HIDE_CORNER, /* a corner of the edge, where the pattern breaks anyhow */
    BW_HIDE_BOTTOM, /* nowhere does the edge turn less than at the bottom */
    BW_HIDE_CALM    /* where the edge turns least */
} bw_hiding;

typedef struct bw_seam {
    bw_hiding how;
    bw_place place; /* the start mark that puts the seam there, in the terms of the file (sizes as `sizes` says) */
    double along;   /* mm along the plan's edge */
    bool there;     /* the start mark is at such a place already */
} bw_seam;

/* Looked for in the order of bw_hiding; of several places as good the lowest, of those the first along the edge. */
bw_seam bw_seam_best(const bw_layout *layout, const bw_plan *plan);

#ifdef __cplusplus
}
#endif
#endif
