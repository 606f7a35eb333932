/* lines.h - a parallel held against its edge, point by point: nothing on it that should not be there, nothing missing.
 */
#ifndef TESTS_MATHS_LINES_H
#define TESTS_MATHS_LINES_H

#include "bandwright/bandwright.h"

typedef struct lines_fault {
    const char *what; /* NULL: none */
    bw_point at;
    double by; /* mm */
} lines_fault;

/* Is every sampled point of the parallel at distance d from the edge, on the leather's side, within 1e-6 mm; square to
 * an open edge's ends? `per_piece` samples of every piece. */
lines_fault lines_astray(const bw_curve *edge, const bw_curve *parallel, double d, int per_piece);
/* Feet all along the edge, moved inward by d: what then lies at distance d from all of the edge must be on the
 * parallel. `looked`: how many such points there were. */
lines_fault lines_missing(const bw_curve *edge, const bw_curve *parallel, double d, int per_piece, int *looked);
/* Do the pieces of each loop meet, within 1e-6 mm, do closed loops close, and do lengths add up? */
lines_fault lines_loose(const bw_curve *parallel);

#endif
