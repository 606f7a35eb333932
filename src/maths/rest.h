/* maths/rest.h - what is left of a run, for rest*.c. */
#ifndef MATHS_REST_H
#define MATHS_REST_H

#include "bandwright/rest.h"
#include "maths/count.h"
#include "maths/kept.h"

/* A run that is struck in part. */
typedef struct maths_rest {
    const maths_worked *work;
    const maths_worked_run *run;
    const double *places; /* of the plan, spread.count of them */
    int struck;
    double left;
    double from, until;  /* mm along the run: the last impression, and where the round closes */
    double planned_mean; /* mm, of the plan's steps for what is left */
    double usual;
} maths_rest;

/* How the rest is struck with one count. */
typedef struct maths_way {
    maths_stretch *stretches; /* from the last impression to where it closes; with a pace: none */
    size_t stretch_count;
    maths_pace pace; /* `straights`: step is not 0 */
} maths_way;

/* Where the plan closes, mm along the run. */
double maths_rest_end(const maths_worked_run *run, const double *places);
int maths_rest_steps(const maths_rest *rest, int count); /* that a count leaves */
/* The way of `out->count`, and of what it is told: lose, fell_back, settings. False without memory. */
bool maths_rest_way(const maths_rest *rest, bw_rest_count *out, maths_way *way, maths_arena *arena);

#endif
