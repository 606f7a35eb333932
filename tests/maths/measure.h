/* measure.h - measures a plan as a maker would measure the finished leather: from where the impressions lie.
 *
 * A ruler knows the edge by its sizes alone and shares no code with the library: it tells how far a point lies from the
 * edge and at which place along a parallel. What it measures is held against the figures that the plan states.
 */
#ifndef TESTS_MATHS_MEASURE_H
#define TESTS_MATHS_MEASURE_H

#include "maths/tree.h"
#include "shop/shop.h"

typedef struct ruler {
    bw_shape shape;
    double radius, sweep; /* circle, arc */
    double length, width; /* line, rectangle */
    double corner[4];
} ruler;

/* A project with its outputs, as the program writes them. */
typedef struct measured {
    shop_project *project;
    bw_plan *plan;
    ruler edge;
    double shrink; /* 1 / (1 + growth) where sizes are those of the finished piece */
    tree yaml;
    tree_placing *placings;
    size_t placing_count;
} measured;

/* One point against the edge, with the direction that the line has there. */
typedef struct ruler_reading {
    double offset; /* mm from the edge, inward */
    double aside;  /* mm beside the normal; 0 if the heading is true */
    double place;  /* mm along the parallel at `guide`, from a start of the ruler's own */
    bool bend;     /* on an arc of that parallel */
} ruler_reading;

ruler_reading ruler_read(const ruler *edge, double guide, double x, double y, double heading);
double ruler_length(const ruler *edge, double offset); /* of the parallel */
int ruler_cuts(const ruler *edge, double offset);      /* corners that cut it */
bool ruler_open(const ruler *edge);

/* False if the text is no project. */
bool measured_open(measured *m, const char *yaml_text, const char *name);
void measured_close(measured *m);
/* Measures every band; a difference fails the test, naming `what`. Returns the impressions measured. */
size_t measured_check(measured *m, const char *what);

#endif
