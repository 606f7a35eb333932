/* bandwright/curve.h - chains of lines and circular arcs: the edge of a piece and its parallels.
 *
 * A curve is walked with the leather on its left: a closed one counter-clockwise. It may have several loops (parallels
 * can split) or none (a parallel that is used up). `along` runs from the curve's start, loop after loop. A parallel of
 * an open edge may have closed loops beside open ones (bw_curve_loop_closed).
 */
#ifndef BANDWRIGHT_CURVE_H
#define BANDWRIGHT_CURVE_H

#include "values.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bw_curve bw_curve;

/* One line or arc. curvature 0: a line; > 0: turns left (convex edge, centre on the leather's side); < 0: right. */
typedef struct bw_piece {
    bw_point from, to;
    bw_point centre;  /* arcs only */
    double curvature; /* 1/mm */
    double heading;   /* radians, direction at `from` */
    double length;    /* mm */
    double sweep;     /* radians, signed change of direction over the piece */
    double start;     /* mm, place of `from` along the curve */
    double bend[2];   /* 1/mm, at both ends: curvature of the curve that a fitted arc stands for; else `curvature` */
} bw_piece;

typedef struct bw_spot {
    bw_point at;
    double heading; /* radians, of the tangent */
} bw_spot;

typedef struct bw_box {
    double left, bottom, right, top;
} bw_box;

/* The outline as a curve that starts at the shape's own start. BW_BAD_VALUE if its sizes make no shape. */
bw_status bw_curve_create(const bw_outline *outline, const bw_allocator *allocator, bw_curve **curve);
void bw_curve_destroy(bw_curve *curve); /* NULL is fine */

/* The parallel at distance d (mm, >= 0) on the leather's side, exact on lines and arcs: convex corners are mitred,
 * concave ones open into arcs of radius d, and what lies nearer to any other part of the edge is trimmed away. Loops
 * follow by their first point along the edge and begin there. A parallel that has vanished is a curve with no loops,
 * and BW_OK. Where so much falls together that its parts cannot be told apart, it is that at a distance up to 3e-8 mm
 * off. */
bw_status bw_curve_offset(const bw_curve *curve, double d, const bw_allocator *allocator, bw_curve **parallel);

bool bw_curve_closed(const bw_curve *curve);
int bw_curve_loops(const bw_curve *curve);
bool bw_curve_loop_closed(const bw_curve *curve, int loop);
double bw_curve_length(const bw_curve *curve);       /* mm, of all loops */
double bw_curve_turning(const bw_curve *curve);      /* radians, corners included */
double bw_curve_least_radius(const bw_curve *curve); /* mm, INFINITY where nothing curves; corners do not count */
double bw_curve_area(const bw_curve *curve);         /* mm^2, of a closed curve */
bw_box bw_curve_box(const bw_curve *curve);

size_t bw_curve_pieces(const bw_curve *curve);
bw_piece bw_curve_piece(const bw_curve *curve, size_t index);
/* Pieces of loop i: first .. first + count - 1. */
void bw_curve_loop(const bw_curve *curve, int loop, size_t *first, size_t *count);

/* The spot at `along`, which wraps within a closed single loop and is clamped otherwise. At a corner: after it. */
bw_spot bw_curve_at(const bw_curve *curve, double along);
/* The place of the point nearest to p; of several as near, the first. */
double bw_curve_nearest(const bw_curve *curve, bw_point p);
/* Where a place lies along an outline's curve. */
double bw_curve_place(const bw_curve *curve, bw_place place);

#ifdef __cplusplus
}
#endif
#endif
