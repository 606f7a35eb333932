/* show/legs.h - how far legs lie on each other, and the limits of a stamp's steps: those that its face sets are told in
 * legs, those that were measured in steps. */
#ifndef SHOW_LEGS_H
#define SHOW_LEGS_H

#include "show/inner.h"

/* Whether the widest (or closest) step of a basket band was measured: not where tips touch (legs lie up to the bar). */
bool show_limit_measured(const bw_band_plan *band, bool widest);
/* "measured", "by the face" */
const char *show_limit_source(const bw_band_plan *band, bool widest);
/* mm along the face by which legs overlap (+) or miss (-) where the step is `step`. */
double show_legs(const bw_band_plan *band, double step);
/* The same as a share of the leg. */
double show_legs_share(const bw_band_plan *band, double step);
/* "legs miss each other", "legs ride on the bars", "steps are longer than the widest measured". */
const char *show_passed(const bw_band_plan *band, bool widest);
/* "legs miss each other by 0.2 mm on the outer row", "steps of up to 8.54 mm on the outer row are 0.21 mm over the
 * widest measured for this stamp (8.33 mm)". by: mm, the sign does not count. */
void show_say_passed(show_words *out, const shop_project *project, const bw_band_plan *band, bool widest, double by,
                     int line);

/* How far a band keeps from both limits, mm, and on which lines. */
typedef struct show_kept {
    double reach, crowd;
    int reach_line, crowd_line;
    bool few_reach, few_crowd; /* "only" */
    bool no_place, no_crowd;   /* the line where legs reach, the bars: not told */
} show_kept;
/* "legs overlap by 0.8 mm on the outer row, and keep 0.9 mm off the bars on the inner row", "steps of up to 8.2 mm on
 * the outer row keep 0.11 mm inside the widest measured for this stamp (8.33 mm), and ..." */
void show_say_kept(show_words *out, const shop_project *project, const bw_band_plan *band, const show_kept *kept);
/* What the margin reach (widest) or crowd of a basket band is. */
const char *show_margin_words(show_words *out, const shop_project *project, const bw_band_plan *band, bool widest);

#endif
