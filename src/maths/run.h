/* maths/run.h - the runs of a guide, and walking along one step by step. */
#ifndef MATHS_RUN_H
#define MATHS_RUN_H

#include "maths/arena.h"
#include "maths/curve.h"

/* One run: a stretch of guide that is struck as one. Pieces of constant curvature, one after the other. */
typedef struct maths_run {
    double from;   /* mm, its beginning along the guide */
    double length; /* mm, G */
    bool closed;
    int loop;
    size_t count;     /* pieces */
    const double *at; /* count + 1: where each piece begins, from the run's beginning; at[count] = length */
    const double *curvature;
    const double *turn; /* direction at each piece's beginning less that at the run's: small corners included */
    double total;       /* change of direction after one trip; on a closed run with the corner at its seam */
    bool turns;
} maths_run;

typedef struct maths_guide {
    bw_curve *curve; /* starts at the guide's start */
    maths_run *runs;
    size_t run_count;
    bool cut;   /* at a corner */
    bool turns; /* some run does */
} maths_guide;

/* The guide `from_edge` inward of the edge. false without memory. */
bool maths_guide_make(maths_guide *guide, const bw_curve *edge, double start_along, double from_edge,
                      maths_arena *arena);
void maths_guide_free(maths_guide *guide);
/* Is a guide cut before piece i of a loop? */
bool maths_cut_before(const bw_curve *curve, int loop, size_t i);
/* The curve alone: rotated to its start. NULL without memory. */
bw_curve *maths_guide_curve(const bw_curve *edge, double start_along, double from_edge, const bw_allocator *allocator);

/* How long steps are, and where they may lie. */
typedef struct maths_pace {
    double step;        /* mm, everywhere; or where the run turns, if straight is not 0 */
    double straight;    /* mm, on straights; 0 = the same everywhere */
    bool round;         /* steps from every place of a closed run */
    double from, until; /* else: steps that lie between these places (past the length: round again) */
} maths_pace;

/* Places x between which the same two pieces hold both ends of the step: everything is linear in between. */
typedef struct maths_span {
    double from, until; /* places of the step's beginning */
    double step[2];     /* mm, at both places */
    double turn[2];     /* radians: change of direction over the step */
} maths_span;

typedef void maths_visit(void *context, const maths_span *span);

/* Visits every place where a step of this pace can lie, in order; none if no step has room. A small corner counts when
 * it lies inside a step, not at its ends; limits on both sides of every corner are visited. */
void maths_walk(const maths_run *run, const maths_pace *pace, maths_visit *visit, void *context);

/* What such a walk visits first if it begins at x: up to span.until everything is linear. The step must have room. */
maths_span maths_span_from(const maths_run *run, const maths_pace *pace, double x);

/* Where a step that begins at x ends. */
double maths_step_end(const maths_run *run, const maths_pace *pace, double x);

typedef struct maths_range {
    double least, most;
    bool any;
} maths_range;

/* Change of direction over every window of length u: on the whole run. */
maths_range maths_turn_range(const maths_run *run, double u, double from, double until);

#endif
