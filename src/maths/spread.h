/* maths/spread.h - how many impressions, and where the difference is lost. */
#ifndef MATHS_SPREAD_H
#define MATHS_SPREAD_H

#include "maths/judge.h"

/* What a run is counted for. */
typedef struct maths_task {
    const maths_run *run;
    const maths_lay *lay;
    const maths_line *lines;
    size_t line_count;
    bool flat;    /* the guide nowhere turns */
    int multiple; /* m */
    int given;    /* count given, 0 = auto */
    bw_lose lose;
    int lose_last;
    const double *anchors; /* places along the run, ascending, within it, no two the same */
    size_t anchor_count;
} maths_task;

/* Steps of one length, one after the other. */
typedef struct maths_stretch {
    double from; /* mm along the run; on a closed run it may pass its length */
    int steps;
    double step;
} maths_stretch;

typedef struct maths_spread {
    int count;
    double even;        /* mm, the even step */
    double gap, change; /* closure gap; per step */
    int feasible_least, feasible_most;
    int nearest;  /* count whose step is nearest to the usual, whatever the rows say */
    bool refused; /* the count given is no multiple, or too small */
    bw_lose lose; /* mode used */
    bool fell_back;
    bw_setting *settings;
    size_t setting_count;
    maths_stretch *stretches; /* where impressions stand; with `straights`: none, the pace tells */
    size_t stretch_count;
    maths_pace *paces; /* what is judged */
    size_t pace_count;
} maths_spread;

/* The multiple that counts must be of: 2 where two rows close together. */
int maths_multiple(const bw_band *band, bool closed);

/* Too short for the face: G < F. */
bool maths_too_short(const maths_run *run, const maths_lay *lay);

/* False without memory. A run too short gets count 0 and nothing else. */
bool maths_spread_make(maths_spread *spread, const maths_task *task, maths_arena *arena);

/* Where the impressions stand along the run: count places, the first at x_0. */
void maths_places(const maths_spread *spread, const maths_task *task, double *places);

/* The longest step whose legs reach everywhere, and what the shortest step at any line then is: can any step do? */
typedef struct maths_some_step {
    bool works;          /* reach and crowd both hold for it */
    bool longer_legs_do; /* they would with legs of a third of the length */
} maths_some_step;

maths_some_step maths_any_step(const maths_task *task);

#endif
