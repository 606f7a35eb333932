/* Biarcs: two arcs that touch each other and, at their ends, a curve.
 *
 * The joint lies where both arcs have tangents of one length (K. M. Bolton, Biarc curves, Computer-Aided Design 7(2),
 * 1975, from memory). Over a stretch of length 2h of a curve whose curvature changes by k' a mm such a biarc is right
 * in direction within k' h^2 / 6, worst at the joint, and in place within about k' h^3 / 80: both follow from
 * integrating the curvature. Direction therefore decides how many are needed, and n times as many are n^2 times as
 * true.
 */
#include "maths/fit.h"

#include <math.h>

#define PLACE_MOST 2e-4   /* mm beside the true curve, with room under the 0.001 mm that are promised */
#define HEADING_MOST 4e-6 /* radians at a joint, half of it once ends share it: margins are then right within 1e-4 */
#define HEADING_BRIEF 1e-3
#define BEND_MOST 1.0    /* radians between chord and tangent; a longer stretch is halved unseen */
#define CHORD_LEAST 1e-6 /* mm: shorter stretches, at the tip of a cusp, are not divided further */
#define ARC_OFF 3e-7     /* radians by which an arc of the curve's own curvature may be off at its far end */
#define ARC_TURN 0.05    /* radians, its longest */
#define ENOUGH 1.25      /* a division planned for 1 is accepted up to this */

typedef struct biarc {
    bw_point joint;
    double length[2], sweep[2];
} biarc;

void maths_bow_at(const maths_bow *bow, double t, bw_point *at, bw_point *first, bw_point *second) {
    if (bow->elliptic) {
        double c = cos(t), s = sin(t), ax = bow->rx * bow->cos, ay = bow->rx * bow->sin;
        double bx = -bow->ry * bow->sin, by = bow->ry * bow->cos;
        bw_point out = {ax * c + bx * s, ay * c + by * s};
        *at = (bw_point){bow->centre.x + out.x, bow->centre.y + out.y};
        *first = (bw_point){bx * c - ax * s, by * c - ay * s};
        *second = (bw_point){-out.x, -out.y};
        return;
    }
    const bw_point *p = bow->p;
    double u = 1 - t, a = u * u, b = 2 * u * t, c = t * t;
    bw_point d0 = {p[1].x - p[0].x, p[1].y - p[0].y}, d1 = {p[2].x - p[1].x, p[2].y - p[1].y};
    bw_point d2 = {p[3].x - p[2].x, p[3].y - p[2].y};
    *first = (bw_point){3 * (a * d0.x + b * d1.x + c * d2.x), 3 * (a * d0.y + b * d1.y + c * d2.y)};
    *second = (bw_point){6 * (u * (d1.x - d0.x) + t * (d2.x - d1.x)), 6 * (u * (d1.y - d0.y) + t * (d2.y - d1.y))};
    *at = (bw_point){u * a * p[0].x + 3 * a * t * p[1].x + 3 * u * c * p[2].x + t * c * p[3].x,
                     u * a * p[0].y + 3 * a * t * p[1].y + 3 * u * c * p[2].y + t * c * p[3].y};
}

/* Not finite where there is none. */
static double curvature_at(const maths_bow *bow, double t) {
    bw_point at, first, second;
    maths_bow_at(bow, t, &at, &first, &second);
    double speed = hypot(first.x, first.y);
    return (first.x * second.y - first.y * second.x) / (speed * speed * speed);
}

static double arc_on(double chord, double sweep) {
    double half = sweep / 2;
    return half == 0 ? chord : chord * half / sin(half);
}

/* The angle from the chord to the curve's direction at a; the chord's own direction. */
static double bend_at(const maths_mark *a, const maths_mark *b, double *way) {
    *way = atan2(b->at.y - a->at.y, b->at.x - a->at.x);
    return maths_angle(a->heading - *way);
}

static bool bends_little(const maths_mark *a, const maths_mark *b) {
    double way, begin = bend_at(a, b, &way), end = begin + maths_angle(b->heading - a->heading);
    return fabs(begin) <= BEND_MOST && fabs(end) <= BEND_MOST;
}

/* In the frame of the chord from a to b. */
static biarc biarc_of(const maths_mark *a, const maths_mark *b) {
    biarc two;
    double way, begin = bend_at(a, b, &way), turn = maths_angle(b->heading - a->heading), end = begin + turn;
    double chord = hypot(b->at.x - a->at.x, b->at.y - a->at.y), c = cos(begin) + cos(end), apart = 2 * sin(turn / 2);
    double tangent = chord / (c + sqrt(c * c + apart * apart));
    double x = (chord + tangent * (cos(begin) - cos(end))) / 2, y = tangent * (sin(begin) - sin(end)) / 2;
    two.sweep[0] = 2 * (atan2(y, x) - begin);
    two.sweep[1] = turn - two.sweep[0];
    two.length[0] = arc_on(hypot(x, y), two.sweep[0]);
    two.length[1] = arc_on(hypot(chord - x, y), two.sweep[1]);
    two.joint = (bw_point){a->at.x + x * cos(way) - y * sin(way), a->at.y + x * sin(way) + y * cos(way)};
    return two;
}

/* How far a spot lies beside the bow between two places of it (mm), and how far it is turned against it (radians). */
typedef struct fault {
    double place, turn;
    double t; /* of the place nearest to it */
} fault;

static fault fault_at(const maths_bow *bow, bw_spot spot, double t, double least, double most) {
    enum { STEPS = 3 }; /* of Newton's method, from a good guess */
    bw_point at, first, second;
    for (int i = 0; i < STEPS; i++) {
        maths_bow_at(bow, t, &at, &first, &second);
        double x = at.x - spot.at.x, y = at.y - spot.at.y;
        double slope = first.x * first.x + first.y * first.y + x * second.x + y * second.y;
        if (slope > 0)
            t = fmin(fmax(t - (x * first.x + y * first.y) / slope, least), most);
    }
    maths_bow_at(bow, t, &at, &first, &second);
    double c = cos(spot.heading), s = sin(spot.heading);
    return (fault){hypot(at.x - spot.at.x, at.y - spot.at.y),
                   atan2(first.x * s - first.y * c, first.x * c + first.y * s), t};
}

static bw_spot middle_of(bw_point from, double heading, double length, double sweep) {
    maths_bend half = maths_bend_of(from, heading, length / 2, sweep / 2);
    return (bw_spot){maths_bend_end(&half), heading + half.sweep};
}

/* In shares of what is allowed; *at_joint: what is wrong there. */
static double how_wrong(const maths_bow *bow, const biarc *two, const maths_mark *a, const maths_mark *b, double brief,
                        fault *at_joint) {
    double all = two->length[0] + two->length[1], share = two->length[0] / all, span = b->t - a->t;
    double joint = a->heading + two->sweep[0];
    const double shares[3] = {share, share / 2, (1 + share) / 2};
    const bw_spot spots[3] = {{two->joint, joint},
                              middle_of(a->at, a->heading, two->length[0], two->sweep[0]),
                              middle_of(two->joint, joint, two->length[1], two->sweep[1])};
    double heading_most = all < 2 * brief ? HEADING_BRIEF : HEADING_MOST, wrong = 0;
    for (int i = 0; i < 3 && wrong <= ENOUGH; i++) {
        fault f = fault_at(bow, spots[i], a->t + span * shares[i], a->t, b->t);
        if (i == 0)
            *at_joint = f;
        wrong = fmax(wrong, fmax(f.place / PLACE_MOST, fabs(f.turn) / heading_most));
    }
    return wrong;
}

/* Into how many parts, so that each is good: far off, the estimate is not to be trusted. */
static int parts_for(double wrong, double length, double brief) {
    const double trusted = 64, spare = 1.02;
    if (!(wrong < trusted))
        return 2;
    double parts = ceil(sqrt(wrong) * spare);
    if (brief > 0)
        parts = fmin(parts, ceil(length / brief));
    return parts < 2 ? 2 : (int)parts;
}

/* ---- stretches, one after the other ---- */

typedef struct fitter {
    maths_chain *chain;
    const maths_bow *bow;
    double brief;
    bool waits; /* a stretch whose end is not settled yet */
    maths_mark a, b;
    fault joint;
    double shift; /* of its heading at a */
} fitter;

/* A biarc is true in direction at its ends and errs at its joint, all to one side. Half of that error given to the ends
 * leaves half of it everywhere. */
static void settle(fitter *f, double shift) {
    if (!f->waits)
        return;
    maths_mark a = f->a, b = f->b;
    a.heading += f->shift;
    b.heading += shift;
    biarc two = biarc_of(&a, &b);
    double bends = curvature_at(f->bow, f->joint.t);
    maths_chain_fitted(f->chain, maths_bend_of(a.at, a.heading, two.length[0], two.sweep[0]), curvature_at(f->bow, a.t),
                       bends);
    maths_chain_fitted(f->chain, maths_bend_of(two.joint, a.heading + two.sweep[0], two.length[1], two.sweep[1]), bends,
                       curvature_at(f->bow, b.t));
    f->shift = shift;
    f->waits = false;
}

static void accept(fitter *f, const maths_mark *a, const maths_mark *b, fault joint) {
    settle(f, (f->joint.turn + joint.turn) / 4);
    f->waits = true;
    f->a = *a;
    f->b = *b;
    f->joint = joint;
}

static maths_mark mark_on(const maths_bow *bow, double t, double otherwise) {
    maths_mark mark = {.t = t};
    bw_point first, second;
    maths_bow_at(bow, t, &mark.at, &first, &second);
    mark.heading = first.x == 0 && first.y == 0 ? otherwise : atan2(first.y, first.x);
    return mark;
}

static void fit(fitter *f, maths_mark a, maths_mark b, int depth) {
    enum { DEPTH_MOST = 48 };
    biarc two = biarc_of(&a, &b);
    double chord = hypot(b.at.x - a.at.x, b.at.y - a.at.y), wrong = INFINITY;
    fault joint = {.t = (a.t + b.t) / 2};
    bool smallest = depth == DEPTH_MOST || (chord <= CHORD_LEAST && depth > 1), little = bends_little(&a, &b);
    if (smallest && !little) { /* the tip of a cusp */
        settle(f, 0);
        f->shift = 0;
        maths_chain_line(f->chain, b.at);
        return;
    }
    if (little)
        wrong = smallest ? 0 : how_wrong(f->bow, &two, &a, &b, f->brief, &joint);
    if (wrong <= ENOUGH) {
        accept(f, &a, &b, joint);
        return;
    }
    int parts = parts_for(wrong, two.length[0] + two.length[1], f->brief);
    maths_mark from = a;
    for (int i = 1; i <= parts && !f->chain->failed; i++) {
        maths_mark to = i == parts ? b : mark_on(f->bow, a.t + (b.t - a.t) * i / parts, from.heading);
        fit(f, from, to, depth + 1);
        from = to;
    }
}

/* Lets the arc that has the curve's own curvature at a mark stand in for the curve, as far as it is true (on to `to`),
 * and moves the mark to its far end. So a bend is as tight as the curve at its ends, which lie where the curvature is
 * least or greatest. Returns the length, 0 where there is no such arc. way: +1 onward, -1 backward. */
static double take_arc(const maths_bow *bow, maths_mark *mark, double to, double room, double way, double *sweep) {
    enum { TRIES = 24 };
    bw_point at, first, second;
    maths_bow_at(bow, mark->t, &at, &first, &second);
    double curvature = curvature_at(bow, mark->t), speed = hypot(first.x, first.y);
    if (!isfinite(curvature) || fabs(curvature) * room < BW_EPS) /* a cusp, or as good as straight */
        return 0;
    double length = fmin(room, ARC_TURN / fabs(curvature));
    for (int i = 0; i < TRIES && length > 10 * BW_EPS; i++) {
        maths_bend arc = maths_bend_of(mark->at, mark->heading, way * length, way * length * curvature);
        bw_spot spot = {maths_bend_end(&arc), mark->heading + arc.sweep};
        fault f = fault_at(bow, spot, mark->t + way * length / speed, fmin(mark->t, to), fmax(mark->t, to));
        if (fabs(f.turn) <= ARC_OFF && f.place <= PLACE_MOST) {
            *mark = (maths_mark){f.t, spot.at, spot.heading};
            *sweep = length * curvature;
            return length;
        }
        length *= fmax(0.1, 0.95 * cbrt(ARC_OFF / fmax(fabs(f.turn), ARC_OFF)));
    }
    return 0;
}

void maths_fit(maths_chain *chain, const maths_bow *bow, maths_mark a, maths_mark b, double brief) {
    fitter f = {.chain = chain, .bow = bow, .brief = brief};
    double room = hypot(b.at.x - a.at.x, b.at.y - a.at.y) / 4, sweep[2] = {0, 0}, middle = (a.t + b.t) / 2;
    maths_mark from = a, to = b;
    double before = take_arc(bow, &from, middle, room, 1, &sweep[0]);
    double after = take_arc(bow, &to, middle, room, -1, &sweep[1]);
    maths_chain_fitted(chain, maths_bend_of(a.at, a.heading, before, sweep[0]), curvature_at(bow, a.t),
                       curvature_at(bow, from.t));
    fit(&f, from, to, 0);
    settle(&f, 0);
    maths_chain_fitted(chain, maths_bend_of(to.at, to.heading, after, sweep[1]), curvature_at(bow, to.t),
                       curvature_at(bow, b.t));
}
