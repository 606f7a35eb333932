/* demo.h - pieces whose rounds are struck in part, each with one band: closed and cut guides, every fill, every way of
 * losing the difference. */
#ifndef DEMO_H
#define DEMO_H

#include "bandwright/bandwright.h"

typedef struct demo {
    bw_layout layout;
    bw_band band;
    bw_tool tool;
    bw_plan *plan;
    bw_curve *guide;
} demo;

enum { DEMOS = 10 };
extern void (*const demo_makers[DEMOS])(demo *d); /* then demo_make */

/* A lid of 120 mm with a weave whose guide is a circle of radius 48. */
void demo_lid(demo *d);
void demo_make(demo *d); /* plan and guide; released with demo_end */
void demo_end(demo *d);
bw_status demo_measure(const demo *d, size_t run, int struck, double left, bw_rest **rest);

#endif
