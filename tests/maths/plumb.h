/* plumb.h - how far a point lies from an edge, piece by piece and with nothing of the library but the pieces' own
 * points: no tree, no order, no tolerance. For tests and fuzzers. */
#ifndef TESTS_MATHS_PLUMB_H
#define TESTS_MATHS_PLUMB_H

#include <math.h>

#include "bandwright/bandwright.h"

/* Does the direction from the centre to `at` fall within the arc? Exact where the ends lie, to rounding. */
static inline bool plumb_within(const bw_piece *p, bw_point at) {
    double way = p->curvature > 0 ? 1 : -1;
    double fx = p->from.x - p->centre.x, fy = p->from.y - p->centre.y, ux = at.x - p->centre.x, uy = at.y - p->centre.y;
    double turn = way * atan2(fx * uy - fy * ux, fx * ux + fy * uy);
    return (turn < 0 ? turn + 2 * BW_PI : turn) <= fabs(p->sweep);
}

/* The point of a piece that is nearest. */
static inline bw_point plumb_foot(const bw_piece *p, bw_point at) {
    double from = hypot(at.x - p->from.x, at.y - p->from.y), to = hypot(at.x - p->to.x, at.y - p->to.y);
    bw_point end = from <= to ? p->from : p->to;
    if (p->curvature == 0) {
        double dx = p->to.x - p->from.x, dy = p->to.y - p->from.y, square = dx * dx + dy * dy;
        double share = ((at.x - p->from.x) * dx + (at.y - p->from.y) * dy) / square;
        if (square > 0 && share > 0 && share < 1)
            return (bw_point){p->from.x + share * dx, p->from.y + share * dy};
        return end;
    }
    double away = hypot(at.x - p->centre.x, at.y - p->centre.y), radius = fabs(1 / p->curvature);
    if (away > 0 && plumb_within(p, at))
        return (bw_point){p->centre.x + (at.x - p->centre.x) * radius / away,
                          p->centre.y + (at.y - p->centre.y) * radius / away};
    return end;
}

static inline double plumb_piece(const bw_piece *p, bw_point at) {
    bw_point foot = plumb_foot(p, at);
    return hypot(at.x - foot.x, at.y - foot.y);
}

/* No piece can be nearer than this: cheaper than plumb_piece. */
static inline double plumb_bound(const bw_piece *p, bw_point at) {
    if (p->curvature == 0) {
        double mx = (p->from.x + p->to.x) / 2, my = (p->from.y + p->to.y) / 2;
        return hypot(at.x - mx, at.y - my) - p->length / 2 - 1e-9;
    }
    return fabs(hypot(at.x - p->centre.x, at.y - p->centre.y) - fabs(1 / p->curvature)) - 1e-9;
}

/* Distance of a point from a curve, and which piece is nearest. INFINITY from a curve without pieces. */
static inline double plumb_curve(const bw_curve *curve, bw_point at, size_t *nearest) {
    double least = INFINITY;
    size_t count = bw_curve_pieces(curve);
    for (size_t i = 0; i < count; i++) {
        bw_piece p = bw_curve_piece(curve, i);
        double distance;
        if (plumb_bound(&p, at) < least && (distance = plumb_piece(&p, at)) < least) {
            least = distance;
            if (nearest != NULL)
                *nearest = i;
        }
    }
    return least;
}

/* The point so far along a piece, from its ends and its centre. */
static inline bw_point plumb_at(const bw_piece *p, double share) {
    if (p->curvature == 0)
        return (bw_point){p->from.x + share * (p->to.x - p->from.x), p->from.y + share * (p->to.y - p->from.y)};
    double fx = p->from.x - p->centre.x, fy = p->from.y - p->centre.y, turn = share * p->sweep;
    return (bw_point){p->centre.x + fx * cos(turn) - fy * sin(turn), p->centre.y + fx * sin(turn) + fy * cos(turn)};
}

#endif
