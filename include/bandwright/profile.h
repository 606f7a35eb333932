/* bandwright/profile.h - what the rows of a band feel, place by place along its guide.
 *
 * A plan tells the worst of a band; this tells where. A profile is made of the same parts as the plan and agrees with
 * it. It belongs to the plan.
 */
#ifndef BANDWRIGHT_PROFILE_H
#define BANDWRIGHT_PROFILE_H

#include "plan.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bw_profile bw_profile;

/* Of one step that begins at a place of the guide (on an open run: of the step nearest to it that has room). */
typedef struct bw_felt {
    int run;                  /* index; -1: the guide has none there */
    double step;              /* mm on the guide; 0: no step has room */
    double turning;           /* radians, change of direction over the step, + towards the leather */
    double bend;              /* 1/mm, mean curvature of the guide over one face length around the place */
    double reach, crowd, fit; /* margins here, as those of bw_fit; `fit` is the one for the bend, -INFINITY where the
                                 edge is too sharp for a weave line */
} bw_felt;

typedef enum bw_margin { BW_MARGIN_REACH, BW_MARGIN_CROWD, BW_MARGIN_BEND } bw_margin;

/* A stretch of the guide over which a margin is under 0. */
typedef struct bw_stretch {
    int run;
    double from, to; /* mm along the guide: from where the first such step begins to where the last one ends */
    double edge_from, edge_to; /* mm along the edge from the start mark; edge_to < edge_from where it passes that */
    double worst;              /* mm along the guide: the least margin */
    double edge_worst;         /* mm along the edge from the start mark */
    double margin;             /* there */
} bw_stretch;

/* The profile of a band, made when it is first asked for and then kept: it lives until bw_plan_destroy. NULL of a plain
 * band, of one that is not there, or without memory. Several threads may ask at once if the allocator that the plan was
 * made with may be called by several. */
const bw_profile *bw_plan_profile(const bw_plan *plan, size_t band);

double bw_profile_length(const bw_profile *profile); /* mm, of the guide */
bw_felt bw_profile_at(const bw_profile *profile, double along);
/* Of the same only the run and the step, which takes far less time; the rest is 0. */
bw_felt bw_profile_step(const bw_profile *profile, double along);
/* Where the place of the edge beside a place of the guide lies: mm along the edge from the start mark. */
double bw_profile_edge(const bw_profile *profile, double along);
/* The stretches over which a margin fails, in order; at most `room` of them. Returns how many there are. Each run is
 * looked at in places a like way apart, a quarter of a millimetre at most, but no fewer than 64 and no more than 40,000
 * of them: a stretch begins at the first such place that fails. `worst` is the first of places as bad. */
size_t bw_profile_stretches(const bw_profile *profile, bw_margin margin, bw_stretch *list, size_t room);

/* A place of the edge in mm along it from the start mark; on an open edge from its start. */
double bw_edge_from_start(const bw_plan *plan, double along);

#ifdef __cplusplus
}
#endif
#endif
