#include "maths/meet.h"

#include <math.h>

#include "maths/vectors.h"

#define PARALLEL 1e-12 /* radians: directions that differ by less do not cross */

static bw_point way(double heading) {
    return (bw_point){cos(heading), sin(heading)};
}

static bw_point along_line(const bw_piece *line) {
    return (bw_point){(line->to.x - line->from.x) / line->length, (line->to.y - line->from.y) / line->length};
}

/* Within the piece or MATHS_MEET_EPS beyond its ends: *u is then clamped. */
static bool holds(const bw_piece *piece, double *u) {
    if (!(*u >= -MATHS_MEET_EPS && *u <= piece->length + MATHS_MEET_EPS))
        return false;
    *u = fmin(fmax(*u, 0), piece->length);
    return true;
}

/* How far along an arc the direction from its centre to p lies. */
static double along_arc(const bw_piece *arc, bw_point p) {
    bw_point out = maths_minus(p, arc->centre);
    double side = arc->curvature > 0 ? 1 : -1;
    double turn = maths_angle(atan2(out.y, out.x) - (arc->heading - side * BW_PI / 2)) * side;
    double u = turn / fabs(arc->curvature);
    return u < -MATHS_MEET_EPS ? u + 2 * BW_PI / fabs(arc->curvature) : u;
}

/* ---- where the carriers cross: lines and full circles ---- */

static int cross_lines(const bw_piece *a, const bw_piece *b, maths_meeting at[2]) {
    bw_point along_a = along_line(a), along_b = along_line(b), apart = maths_minus(b->from, a->from);
    double angle = maths_cross(along_a, along_b);
    if (fabs(angle) <= PARALLEL)
        return 0;
    at[0] = (maths_meeting){maths_cross(apart, along_b) / angle, maths_cross(apart, along_a) / angle};
    return 1;
}

static int cross_line_arc(const bw_piece *line, const bw_piece *arc, maths_meeting at[2]) {
    bw_point along = along_line(line), to_centre = maths_minus(arc->centre, line->from);
    double foot = maths_dot(to_centre, along), off = maths_cross(along, to_centre), radius = 1 / fabs(arc->curvature);
    double square = (radius - off) * (radius + off);
    if (square < 0)
        return 0;
    for (int i = 0; i < 2; i++) {
        double u = foot + (i == 0 ? -1 : 1) * sqrt(square);
        bw_point p = {line->from.x + u * along.x, line->from.y + u * along.y};
        at[i] = (maths_meeting){u, along_arc(arc, p)};
    }
    return square > 0 ? 2 : 1;
}

static int cross_arcs(const bw_piece *a, const bw_piece *b, maths_meeting at[2]) {
    double ra = 1 / fabs(a->curvature), rb = 1 / fabs(b->curvature);
    bw_point apart = maths_minus(b->centre, a->centre);
    double distance = hypot(apart.x, apart.y);
    if (distance <= PARALLEL * (ra + rb))
        return 0;
    double foot = (distance + (ra - rb) * (ra + rb) / distance) / 2, square = (ra - foot) * (ra + foot);
    if (square < 0)
        return 0;
    bw_point along = {apart.x / distance, apart.y / distance};
    for (int i = 0; i < 2; i++) {
        double up = (i == 0 ? -1 : 1) * sqrt(square);
        bw_point p = {a->centre.x + foot * along.x - up * along.y, a->centre.y + foot * along.y + up * along.x};
        at[i] = (maths_meeting){along_arc(a, p), along_arc(b, p)};
    }
    return square > 0 ? 2 : 1;
}

static int cross_swapped(int (*cross)(const bw_piece *, const bw_piece *, maths_meeting[2]), const bw_piece *a,
                         const bw_piece *b, maths_meeting at[2]) {
    int count = cross(b, a, at);
    for (int i = 0; i < count; i++)
        at[i] = (maths_meeting){at[i].b, at[i].a};
    return count;
}

/* Arcs from the smaller circle, where fewer digits are lost. */
static int cross_carriers(const bw_piece *a, const bw_piece *b, maths_meeting at[2]) {
    if (a->curvature != 0 && b->curvature != 0)
        return fabs(a->curvature) >= fabs(b->curvature) ? cross_arcs(a, b, at) : cross_swapped(cross_arcs, a, b, at);
    if (a->curvature == 0 && b->curvature == 0)
        return cross_lines(a, b, at);
    return a->curvature == 0 ? cross_line_arc(a, b, at) : cross_swapped(cross_line_arc, a, b, at);
}

/* ---- made exact ---- */

static double gap_between(const bw_piece *a, const bw_piece *b, const maths_meeting *m) {
    bw_point apart = maths_minus(maths_piece_at(b, m->b).at, maths_piece_at(a, m->a).at);
    return hypot(apart.x, apart.y);
}

/* Newton: both places move until the points fall together. At a shallow angle rounding moves the places by much and the
 * points by little: then it is enough that they come no nearer. */
static bool close_in(const bw_piece *a, const bw_piece *b, maths_meeting *guess) {
    enum { STEPS = 12 };
    double gap = INFINITY;
    for (int i = 0; i < STEPS; i++) {
        bw_spot at_a = maths_piece_at(a, guess->a), at_b = maths_piece_at(b, guess->b);
        bw_point apart = maths_minus(at_b.at, at_a.at), along_a = way(at_a.heading), along_b = way(at_b.heading);
        double angle = maths_cross(along_a, along_b), before = gap;
        gap = hypot(apart.x, apart.y);
        if (gap <= BW_EPS / 10 && gap >= before / 2)
            return true;
        if (fabs(angle) <= PARALLEL)
            return false;
        double da = maths_cross(apart, along_b) / angle, db = maths_cross(apart, along_a) / angle;
        guess->a += da;
        guess->b += db;
        if (fabs(da) + fabs(db) <= BW_EPS / 10)
            return true;
        if (!(fabs(da) <= a->length + b->length && fabs(db) <= a->length + b->length))
            return false;
    }
    return false;
}

bool maths_meet_near(const bw_piece *a, const bw_piece *b, maths_meeting *guess) {
    return close_in(a, b, guess) && holds(a, &guess->a) && holds(b, &guess->b);
}

/* An arc that rises by next to nothing is crossed as its chord: its centre is too far off to reckon with. */
static bw_piece to_cross(const bw_piece *piece) {
    const double hardly = 1e-5; /* radians */
    bw_piece chord = *piece;
    if (fabs(piece->sweep) > hardly)
        return chord;
    chord.curvature = chord.sweep = 0;
    chord.length = hypot(piece->to.x - piece->from.x, piece->to.y - piece->from.y);
    return chord;
}

/* How far off a crossing may be: by the rise of a chord, or by what is lost on the way to the centre, where places come
 * from the root of a difference. */
static double slack(const bw_piece *piece) {
    const double lost = 1e-10; /* of the radius */
    double rise = fabs(piece->sweep) * piece->length;
    return BW_EPS_FIT + (piece->curvature != 0 ? fmin(rise, lost / fabs(piece->curvature)) : 0);
}

static bool roughly(const bw_piece *piece, double u, double off) {
    return u >= -off && u <= piece->length + off;
}

/* Moves a crossing of the carriers to where the pieces themselves meet. False if they do not. */
static bool settle(const bw_piece *a, const bw_piece *b, maths_meeting *m) {
    const double shallow = 1000; /* at a shallow angle a place is off by so much more than a point */
    double off = (slack(a) + slack(b)) * shallow;
    maths_meeting better = *m;
    if (!roughly(a, m->a, off) || !roughly(b, m->b, off))
        return false;
    if (a->curvature != 0 || b->curvature != 0) {
        if (close_in(a, b, &better))
            *m = better;
        else if (gap_between(a, b, m) > MATHS_MEET_EPS) /* they pass each other */
            return false;
    }
    return holds(a, &m->a) && holds(b, &m->b);
}

int maths_meet(const bw_piece *a, const bw_piece *b, maths_meeting met[2]) {
    bw_piece one = to_cross(a), other = to_cross(b);
    maths_meeting at[2];
    int crossings = cross_carriers(&one, &other, at), count = 0;
    for (int i = 0; i < crossings; i++)
        if (settle(a, b, &at[i]))
            met[count++] = at[i];
    return count;
}

/* ---- one on the other ---- */

static bool same_carrier(const bw_piece *a, const bw_piece *b) {
    if (a->curvature == 0 && b->curvature == 0) {
        bw_point along = along_line(a);
        return fabs(maths_cross(along, maths_minus(b->from, a->from))) <= MATHS_MEET_EPS &&
               fabs(maths_cross(along, maths_minus(b->to, a->from))) <= MATHS_MEET_EPS;
    }
    return a->curvature != 0 && b->curvature != 0 &&
           hypot(a->centre.x - b->centre.x, a->centre.y - b->centre.y) <= MATHS_MEET_EPS &&
           fabs(1 / fabs(a->curvature) - 1 / fabs(b->curvature)) <= MATHS_MEET_EPS;
}

/* p on the piece? */
static bool on(const bw_piece *piece, bw_point p, double *u) {
    double distance;
    *u = maths_piece_nearest(piece, p, &distance);
    return distance <= MATHS_MEET_EPS;
}

int maths_meet_along(const bw_piece *a, const bw_piece *b, maths_meeting met[2]) {
    maths_meeting ends[4];
    int count = 0, first = 0, last = 0;
    if (!same_carrier(a, b))
        return 0;
    for (int i = 0; i < 2; i++) {
        if (on(a, i == 0 ? b->from : b->to, &ends[count].a))
            ends[count++].b = i == 0 ? 0 : b->length;
        if (on(b, i == 0 ? a->from : a->to, &ends[count].b))
            ends[count++].a = i == 0 ? 0 : a->length;
    }
    for (int i = 1; i < count; i++) {
        first = ends[i].a < ends[first].a ? i : first;
        last = ends[i].a > ends[last].a ? i : last;
    }
    if (count == 0 || ends[last].a - ends[first].a <= BW_EPS_FIT) /* only their ends touch */
        return 0;
    met[0] = ends[first];
    met[1] = ends[last];
    return 2;
}
