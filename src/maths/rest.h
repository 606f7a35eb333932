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
    double planned_mean; /* mm, of the steps that were told for what is left */
    double usual;
    int told_count; /* the plan's, or the one taken when it was measured before */
} maths_rest;

/* How the rest is struck with one count. */
typedef struct maths_way {
    maths_stretch *stretches; /* from the last impression to where it closes; with a pace: none */
    size_t stretch_count;
    maths_pace pace; /* `straights`: step is not 0 */
} maths_way;

/* What the lines of a run feel: line_count entries of felt, and what a border stamp feels besides. */
typedef struct maths_feelings {
    maths_felt *felt;
    double feet, heads;
} maths_feelings;

/* Where the plan closes, mm along the run. */
double maths_rest_end(const maths_worked_run *run, const double *places);
int maths_rest_steps(const maths_rest *rest, int count); /* that a count leaves */
/* The way of `out->count`, and of what it is told: lose, fell_back, settings. False without memory. */
bool maths_rest_way(const maths_rest *rest, bw_rest_count *out, maths_way *way, maths_arena *arena);
/* steps + 1 places along the run, from x on, by the settings of a count. */
void maths_rest_places(const maths_run *run, const bw_rest_count *one, double x, double *places);

/* False without memory. */
bool maths_feelings_init(maths_feelings *feelings, const maths_task *task, maths_arena *arena);
/* Whether rows that feel this work, and which would have to be left out; into out. */
void maths_rest_judge(const maths_worked_run *run, const maths_feelings *feelings, bw_rest_count *out);

/* Of the part struck all that bw_rest has, and the mean of the steps told for what is left. False without memory. */
bool maths_rest_struck(maths_rest *rest, const bw_measure *measure, bw_rest *out, maths_arena *arena);

/* marks.c: the place x of a run, counted from its beginning; past the length of a closed one it goes round again. */
bw_check_mark maths_mark_at(const maths_worked *work, const maths_run *run, double x);

#endif
