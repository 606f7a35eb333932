/* lines.c - a parallel held against its edge, point by point. */
#include "maths/lines.h"

#include <math.h>
#include <stdint.h>

#include "maths/plumb.h"

#define NEAR 1e-6   /* mm: what a point may be off */
#define CLEAR 1e-7  /* mm: by how much all else must be farther away for a point to be certain */
#define BESIDE 0.01 /* mm along the edge: nearer than this a foot is taken for the same place */

enum { MANY = 50 };

static const lines_fault none = {NULL, {0, 0}, 0};

static double apart(bw_point a, bw_point b) {
    return hypot(a.x - b.x, a.y - b.y);
}

/* Direction of a piece at a share of its length. */
static double heading_at(const bw_piece *p, double share) {
    return p->heading + share * p->sweep;
}

/* How far on the left of a piece's tangent at its nearest point. */
static double left_of(const bw_piece *p, bw_point at) {
    bw_point foot = plumb_foot(p, at);
    double heading = p->heading;
    if (p->curvature != 0)
        heading = atan2(foot.y - p->centre.y, foot.x - p->centre.x) + (p->curvature > 0 ? 1 : -1) * BW_PI / 2;
    return cos(heading) * (at.y - foot.y) - sin(heading) * (at.x - foot.x);
}

/* Round a hollow corner every place is on the left of one of its sides. */
static bool inward(const bw_curve *edge, size_t nearest, bw_point at) {
    size_t count = bw_curve_pieces(edge);
    bw_piece p = bw_curve_piece(edge, nearest), before = bw_curve_piece(edge, (nearest + count - 1) % count),
             after = bw_curve_piece(edge, (nearest + 1) % count);
    bw_point foot = plumb_foot(&p, at);
    return left_of(&p, at) >= -NEAR || (apart(foot, p.to) < 1e-9 && left_of(&after, at) >= -NEAR) ||
           (apart(foot, p.from) < 1e-9 && left_of(&before, at) >= -NEAR);
}

/* How far a point lies before the beginning or behind the end of an open edge whose end is what is nearest; 0 else. */
static double beyond(const bw_curve *edge, size_t nearest, bw_point at) {
    bw_piece p = bw_curve_piece(edge, nearest);
    bw_point foot = plumb_foot(&p, at);
    if (nearest == 0 && apart(foot, p.from) < 1e-9)
        return fmax(0, -(cos(p.heading) * (at.x - foot.x) + sin(p.heading) * (at.y - foot.y)));
    double heading = heading_at(&p, 1);
    if (nearest + 1 == bw_curve_pieces(edge) && apart(foot, p.to) < 1e-9)
        return fmax(0, cos(heading) * (at.x - foot.x) + sin(heading) * (at.y - foot.y));
    return 0;
}

/* A fitted curve has thousands of pieces, and every sample is held against all of them: some are passed over. */
static size_t stride(size_t count) {
    return 1 + count / MANY;
}

lines_fault lines_astray(const bw_curve *edge, const bw_curve *parallel, double d, int per_piece) {
    size_t count = bw_curve_pieces(parallel);
    for (size_t i = 0; i < count; i += stride(count)) {
        bw_piece p = bw_curve_piece(parallel, i);
        for (int k = 0; k <= per_piece; k++) {
            bw_point at = plumb_at(&p, (double)k / per_piece);
            size_t nearest = 0;
            double off = plumb_curve(edge, at, &nearest) - d;
            if (!(fabs(off) <= NEAR))
                return (lines_fault){off < 0 ? "too near the edge" : "too far from the edge", at, off};
            if (!inward(edge, nearest, at))
                return (lines_fault){"on the wrong side", at, 0};
            /* where a parallel is cut off, an end of the edge may be as near as what it is the parallel of */
            bool within = k > 0 && k < per_piece;
            if (within && !bw_curve_closed(edge) && beyond(edge, nearest, at) > NEAR)
                return (lines_fault){"beyond the edge's end", at, beyond(edge, nearest, at)};
        }
    }
    return none;
}

/* Is `at`, d away from its foot on piece `own` (or on a corner), certainly no nearer to any other part of the edge? */
static bool clear(const bw_curve *edge, size_t own, bw_point foot, bw_point at, double d) {
    size_t count = bw_curve_pieces(edge);
    for (size_t i = 0; i < count; i++) {
        bw_piece p = bw_curve_piece(edge, i);
        if (i == own || plumb_bound(&p, at) > d + CLEAR)
            continue;
        bw_point other = plumb_foot(&p, at);
        if (apart(other, at) < (apart(other, foot) < BESIDE ? d - 1e-12 : d + CLEAR))
            return false;
    }
    return true;
}

static lines_fault missing(const bw_curve *edge, const bw_curve *parallel, size_t own, bw_point foot, double heading,
                           double d, int *looked) {
    bw_point at = {foot.x - d * sin(heading), foot.y + d * cos(heading)};
    if (!clear(edge, own, foot, at, d))
        return none;
    (*looked)++;
    double off = plumb_curve(parallel, at, NULL);
    return off <= NEAR ? none : (lines_fault){"missing", at, off};
}

/* Round a hollow corner after piece i. */
static lines_fault missing_round(const bw_curve *edge, const bw_curve *parallel, size_t i, double d, int *looked) {
    size_t count = bw_curve_pieces(edge);
    bw_piece p = bw_curve_piece(edge, i), next = bw_curve_piece(edge, (i + 1) % count);
    double turn = remainder(next.heading - heading_at(&p, 1), 2 * BW_PI);
    lines_fault fault = none;
    bool corner = bw_curve_closed(edge) || i + 1 < count;
    for (int k = 1; corner && turn < -1e-3 && k < 4 && fault.what == NULL; k++)
        fault = missing(edge, parallel, SIZE_MAX, p.to, heading_at(&p, 1) + turn * k / 4, d, looked);
    return fault;
}

lines_fault lines_missing(const bw_curve *edge, const bw_curve *parallel, double d, int per_piece, int *looked) {
    size_t count = bw_curve_pieces(edge);
    lines_fault fault = none;
    for (size_t i = 0; i < count && fault.what == NULL; i += stride(count)) {
        bw_piece p = bw_curve_piece(edge, i);
        /* an arc is used up at its own radius */
        bool used_up = p.curvature > 0 && 1 / p.curvature < d + CLEAR;
        for (int k = 0; !used_up && p.length > 1e-3 && k < per_piece && fault.what == NULL; k++) {
            double share = (k + 0.5) / per_piece;
            fault = missing(edge, parallel, i, plumb_at(&p, share), heading_at(&p, share), d, looked);
        }
        if (fault.what == NULL)
            fault = missing_round(edge, parallel, i, d, looked);
    }
    return fault;
}

lines_fault lines_loose(const bw_curve *parallel) {
    double sum = 0;
    for (int loop = 0; loop < bw_curve_loops(parallel); loop++) {
        size_t first, count;
        bw_curve_loop(parallel, loop, &first, &count);
        if (count == 0)
            return (lines_fault){"a loop without pieces", {0, 0}, 0};
        bool closed = bw_curve_loop_closed(parallel, loop);
        for (size_t i = 0; i < count; i++) {
            bw_piece p = bw_curve_piece(parallel, first + i), next = bw_curve_piece(parallel, first + (i + 1) % count);
            if (!(fabs(p.start - sum) <= 1e-9 * (1 + sum)))
                return (lines_fault){"starts elsewhere than the pieces before it end", p.from, p.start - sum};
            sum += p.length;
            if (!(p.length > 0) || !(apart(plumb_at(&p, 1), p.to) <= NEAR))
                return (lines_fault){"a piece that does not end at its end", p.from, apart(plumb_at(&p, 1), p.to)};
            if ((closed || i + 1 < count) && !(apart(p.to, next.from) <= NEAR))
                return (lines_fault){"pieces do not meet", p.to, apart(p.to, next.from)};
        }
    }
    if (!(fabs(sum - bw_curve_length(parallel)) <= 1e-9 * (1 + sum)))
        return (lines_fault){"lengths do not add up", {0, 0}, sum - bw_curve_length(parallel)};
    return none;
}
