/* What is fitted: Beziers, parts of ellipses and whole ones, each divided first where its own nature asks for it. */
#include <math.h>

#include "maths/fit.h"
#include "maths/vectors.h"

#define BRIEF 0.02     /* mm: in a bend of a path as short as this no step feels the direction */
#define EPS_SPEED 1e-9 /* share of a Bezier's size: slower than this its first derivative tells no direction */

/* ---- Beziers ---- */

static double size_of(const bw_point p[4]) {
    double size = 0;
    for (int i = 1; i < 4; i++)
        size = fmax(size, hypot(p[i].x - p[0].x, p[i].y - p[0].y));
    return size;
}

/* Where one comes (way -1) or goes (way +1) at t, also where the curve stands still for a moment. */
static maths_mark bezier_mark(const maths_bow *bow, double t, double way, double size) {
    maths_mark mark = {.t = t};
    bw_point first, second;
    maths_bow_at(bow, t, &mark.at, &first, &second);
    if (hypot(first.x, first.y) <= EPS_SPEED * size) {
        first = (bw_point){way * second.x, way * second.y};
        if (hypot(first.x, first.y) <= EPS_SPEED * size)
            first = maths_minus(bow->p[3], bow->p[0]); /* three points on one spot: a straight */
    }
    mark.heading = atan2(first.y, first.x);
    return mark;
}

/* Zero at inflections, and where the speed is least or greatest (at a cusp it is zero, beside one the bend is tight).
 */
static double inflection(const maths_bow *bow, double t) {
    bw_point at, first, second;
    maths_bow_at(bow, t, &at, &first, &second);
    return maths_cross(first, second);
}

static double quickening(const maths_bow *bow, double t) {
    bw_point at, first, second;
    maths_bow_at(bow, t, &at, &first, &second);
    return maths_dot(first, second);
}

/* Zero where the curvature is least or greatest: the numerator of its derivative. */
static double bending(const maths_bow *bow, double t) {
    const bw_point *p = bow->p;
    bw_point at, first, second;
    bw_point third = {6 * (p[3].x - 3 * p[2].x + 3 * p[1].x - p[0].x), 6 * (p[3].y - 3 * p[2].y + 3 * p[1].y - p[0].y)};
    maths_bow_at(bow, t, &at, &first, &second);
    return maths_cross(first, third) * maths_dot(first, first) -
           3 * maths_cross(first, second) * maths_dot(first, second);
}

typedef double bow_value(const maths_bow *bow, double t);

enum { SCAN = 24, CUTS_MOST = 3 * SCAN };

static double root_between(const maths_bow *bow, bow_value *value, double low, double high) {
    enum { HALVINGS = 60 };
    bool rising = value(bow, low) < 0;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = (low + high) / 2;
        if ((value(bow, middle) < 0) == rising)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2;
}

static size_t add_roots(const maths_bow *bow, bow_value *value, double *cuts, size_t count) {
    const double apart = 1e-6; /* of t: two cuts at one place are one */
    double before = value(bow, 0);
    for (int i = 1; i <= SCAN; i++) {
        double here = value(bow, (double)i / SCAN);
        bool crossed = (before < 0 && here >= 0) || (before > 0 && here <= 0);
        before = here;
        if (!crossed)
            continue;
        double t = root_between(bow, value, (i - 1.0) / SCAN, (double)i / SCAN);
        size_t k = count;
        for (; k > 0 && cuts[k - 1] > t; k--)
            ;
        bool new =
            t > apart &&t < 1 - apart && (k == 0 || t - cuts[k - 1] > apart) && (k == count || cuts[k] - t > apart);
        if (!new)
            continue;
        for (size_t m = count++; m > k; m--)
            cuts[m] = cuts[m - 1];
        cuts[k] = t;
    }
    return count;
}

/* All four points on one line? */
static bool straight(const bw_point p[4], double size) {
    bw_point far = p[3];
    for (int i = 2; i >= 1; i--)
        if (hypot(p[i].x - p[0].x, p[i].y - p[0].y) > hypot(far.x - p[0].x, far.y - p[0].y) + BW_EPS)
            far = p[i];
    for (int i = 1; i < 4; i++)
        if (fabs(maths_cross(maths_minus(far, p[0]), maths_minus(p[i], p[0]))) > BW_EPS * size)
            return false;
    return true;
}

/* Straight there, or there and back. */
static void add_straight(maths_chain *chain, const maths_bow *bow) {
    const double aside = 1e-3; /* of t */
    double cuts[CUTS_MOST];
    size_t count = add_roots(bow, quickening, cuts, 0);
    for (size_t i = 0; i < count; i++) {
        bw_point at, before, after, second;
        maths_bow_at(bow, cuts[i] - aside, &at, &before, &second);
        maths_bow_at(bow, cuts[i] + aside, &at, &after, &second);
        maths_bow_at(bow, cuts[i], &at, &second, &second);
        if (maths_dot(before, after) < 0) /* turns back there */
            maths_chain_line(chain, at);
    }
    maths_chain_line(chain, bow->p[3]);
}

void maths_fit_cubic(maths_chain *chain, const bw_point p[4]) {
    maths_bow bow = {.p = {p[0], p[1], p[2], p[3]}};
    double size = size_of(p), cuts[CUTS_MOST + 1];
    if (size <= BW_EPS)
        return;
    if (straight(p, size)) {
        add_straight(chain, &bow);
        return;
    }
    size_t count = add_roots(&bow, inflection, cuts, 0);
    count = add_roots(&bow, quickening, cuts, count);
    count = add_roots(&bow, bending, cuts, count);
    cuts[count++] = 1;
    double from = 0;
    for (size_t i = 0; i < count; i++) {
        maths_fit(chain, &bow, bezier_mark(&bow, from, 1, size), bezier_mark(&bow, cuts[i], -1, size), BRIEF);
        from = cuts[i];
    }
    chain->at = p[3];
}

/* ---- ellipses ---- */

static maths_mark elliptic_mark(const maths_bow *bow, double t) {
    maths_mark mark = {.t = t};
    bw_point first, second;
    maths_bow_at(bow, t, &mark.at, &first, &second);
    mark.heading = atan2(first.y, first.x);
    return mark;
}

/* Divided at the axes, where the curvature is least or greatest. */
void maths_fit_elliptic(maths_chain *chain, const maths_bow *ellipse, bw_point from, bw_point to, double begin,
                        double sweep) {
    const double apart = 1e-6, quarter = BW_PI / 2;
    maths_bow bow = *ellipse;
    if (sweep < 0) { /* seen in a mirror it turns the other way */
        bow.ry = -bow.ry;
        begin = -begin;
        sweep = -sweep;
    }
    double until = begin + sweep;
    maths_mark a = elliptic_mark(&bow, begin);
    a.at = from;
    while (until > a.t && !chain->failed) {
        double next = quarter * (floor(a.t / quarter + apart) + 1);
        bool last = until - next < apart;
        maths_mark b = elliptic_mark(&bow, last ? until : next);
        if (last)
            b.at = to;
        maths_fit(chain, &bow, a, b, BRIEF);
        a = b;
    }
}

/* From the lowest point to the right end. */
static void quarter(maths_chain *chain, double a, double b) {
    maths_bow bow = {.elliptic = true, .rx = a, .ry = b, .cos = 1};
    chain->at = (bw_point){0, -b};
    maths_fit(chain, &bow, (maths_mark){-BW_PI / 2, {0, -b}, 0}, (maths_mark){0, {a, 0}, BW_PI / 2}, 0);
    chain->at = (bw_point){a, 0};
}

/* Appends the mirror image of all there is, walked on from its end: in the x-axis (then y is turned over) or in the
 * y-axis. */
static void mirror(maths_chain *chain, bool in_x_axis) {
    bw_point end = chain->at;
    for (size_t i = chain->count; i-- > 0 && !chain->failed;) {
        maths_bend b = chain->bends[i];
        double heading = -(b.heading + b.sweep) + (in_x_axis ? BW_PI : 0);
        maths_bend image = maths_bend_of(in_x_axis ? (bw_point){end.x, -end.y} : (bw_point){-end.x, end.y}, heading,
                                         b.length, b.sweep);
        maths_chain_fitted(chain, image, b.bend[1], b.bend[0]);
        end = b.from;
    }
    chain->at = in_x_axis ? (bw_point){end.x, -end.y} : (bw_point){-end.x, end.y};
}

void maths_fit_ellipse(maths_chain *chain, double length, double width) {
    quarter(chain, length / 2, width / 2);
    mirror(chain, true);
    mirror(chain, false);
}
