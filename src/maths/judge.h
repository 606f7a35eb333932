/* maths/judge.h - margins of a run at the steps used. */
#ifndef MATHS_JUDGE_H
#define MATHS_JUDGE_H

#include "maths/lay.h"

/* What one weave line feels over some steps. */
typedef struct maths_felt {
    double step_least, step_most;
    double least_at,
        most_at; /* mm along the run, where those steps begin: the first of places that are as good as equal */
    double least_there, most_there; /* mm, the steps at those places */
    double crossing;                /* mm, greatest overlap x |turning| / 2 */
    double miss;                    /* mm, angled */
    double turn_most;               /* radians, greatest |turning| */
    bool any;
} maths_felt;

/* Adds what the steps of a pace do at each of the lines to felt[]. */
void maths_feel(const maths_run *run, const maths_pace *pace, const maths_lay *lay, const maths_line *lines,
                size_t count, maths_felt *felt, double *feet, double *heads);

/* The same of one span. */
void maths_feel_span(const maths_span *span, const maths_lay *lay, const maths_line *lines, size_t count,
                     maths_felt *felt, double *feet, double *heads);

typedef struct maths_margins {
    double reach, crowd, bend;
    int reach_line, crowd_line, bend_line; /* indices into lines */
    bool sharp;                            /* the edge is too sharp at some line */
} maths_margins;

/* feet, heads: greatest over the steps that turn, -INFINITY if none does (border). flat: the guide nowhere turns. */
maths_margins maths_judge(const maths_run *run, const maths_lay *lay, const maths_line *lines, size_t count,
                          const maths_felt *felt, double feet, double heads, bool flat, double convex, double concave);

/* reach and crowd of one even step, at once over all lines. */
typedef struct maths_even {
    double reach, crowd;
    double longest, shortest;        /* mm, over lines and places */
    int longest_line, shortest_line; /* indices */
} maths_even;

maths_even maths_judge_even(const maths_run *run, double step, const maths_lay *lay, const maths_line *lines,
                            size_t count, bool flat);

/* Between which places steps lie on a run. */
void maths_pace_ends(maths_pace *pace, const maths_run *run, const maths_lay *lay);

#endif
