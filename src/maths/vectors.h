/* maths/vectors.h - points taken as vectors. */
#ifndef MATHS_VECTORS_H
#define MATHS_VECTORS_H

#include "bandwright/curve.h"

static inline bw_point maths_minus(bw_point a, bw_point b) {
    return (bw_point){a.x - b.x, a.y - b.y};
}

/* > 0 where b lies to the left of a. */
static inline double maths_cross(bw_point a, bw_point b) {
    return a.x * b.y - a.y * b.x;
}

static inline double maths_dot(bw_point a, bw_point b) {
    return a.x * b.x + a.y * b.y;
}

#endif
