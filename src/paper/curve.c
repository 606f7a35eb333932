/* curve.c - curves as paths: many small arcs that go on into each other are drawn as one curve. */
#include <math.h>

#include "paper/draw.h"

#define OFF 0.005       /* mm by which what is drawn may miss the curve */
#define TURNED 1e-3     /* radians: a turn of so much between pieces is a corner */
#define SWEEP_MOST 1.2  /* radians that one drawn curve may turn */
#define LOOKED_AT 4     /* places of each piece */
#define PIECES_MOST 512 /* that one drawn curve may stand for */

/* A cubic of Bezier's. */
typedef struct cubic {
    bw_point at[4];
} cubic;

static double heading_after(const bw_piece *piece) {
    return piece->heading + piece->sweep;
}

static bw_point on_piece(const bw_piece *piece, double u) {
    double h = piece->heading;
    if (piece->curvature == 0 || fabs(piece->sweep) < 1e-12)
        return (bw_point){piece->from.x + u * cos(h), piece->from.y + u * sin(h)};
    double r = 1 / piece->curvature, to = h + u * piece->curvature;
    return (bw_point){piece->from.x + r * (sin(to) - sin(h)), piece->from.y - r * (cos(to) - cos(h))};
}

static bw_point on_cubic(const cubic *c, double t) {
    double s = 1 - t, a = s * s * s, b = 3 * s * s * t, d = 3 * s * t * t, e = t * t * t;
    return (bw_point){a * c->at[0].x + b * c->at[1].x + d * c->at[2].x + e * c->at[3].x,
                      a * c->at[0].y + b * c->at[1].y + d * c->at[2].y + e * c->at[3].y};
}

/* Which has the directions of both ends, and handles as an arc of the same sweep and chord has them. */
static cubic through(const bw_piece *first, const bw_piece *last, double sweep) {
    double chord = hypot(last->to.x - first->from.x, last->to.y - first->from.y);
    double handle = chord / (3 * pow(cos(sweep / 4), 2));
    double in = first->heading, out = heading_after(last);
    return (cubic){{first->from,
                    {first->from.x + handle * cos(in), first->from.y + handle * sin(in)},
                    {last->to.x - handle * cos(out), last->to.y - handle * sin(out)},
                    last->to}};
}

/* mm from a place to the cubic, near t: its foot there is found by a few steps along it. */
static double miss(const cubic *c, bw_point p, double t) {
    for (int i = 0; i < 3; i++) {
        bw_point at = on_cubic(c, t), next = on_cubic(c, t + 1e-4);
        double dx = (next.x - at.x) * 1e4, dy = (next.y - at.y) * 1e4, square = dx * dx + dy * dy;
        if (!(square > 0))
            break;
        t = fmin(fmax(t + ((p.x - at.x) * dx + (p.y - at.y) * dy) / square, 0), 1);
    }
    bw_point at = on_cubic(c, t);
    return hypot(at.x - p.x, at.y - p.y);
}

/* Does one cubic stand for pieces first .. last? */
static bool stands_for(const bw_curve *curve, size_t first, size_t last, cubic *c) {
    bw_piece begin = bw_curve_piece(curve, first), end = bw_curve_piece(curve, last);
    double sweep = 0, length = 0, before = 0;
    for (size_t i = first; i <= last; i++) {
        bw_piece piece = bw_curve_piece(curve, i);
        sweep += piece.sweep;
        length += piece.length;
    }
    if (!(length > 0) || fabs(sweep) > SWEEP_MOST)
        return false;
    *c = through(&begin, &end, sweep);
    for (size_t i = first; i <= last; i++) {
        bw_piece piece = bw_curve_piece(curve, i);
        for (int k = 1; k <= LOOKED_AT; k++) {
            double u = piece.length * k / LOOKED_AT;
            if (!(miss(c, on_piece(&piece, u), (before + u) / length) < OFF))
                return false;
        }
        before += piece.length;
    }
    return true;
}

static bool goes_on(const bw_curve *curve, size_t i) {
    bw_piece piece = bw_curve_piece(curve, i), next = bw_curve_piece(curve, i + 1);
    return fabs(remainder(next.heading - heading_after(&piece), 2 * BW_PI)) < TURNED;
}

static void add_piece(cairo_t *cr, const bw_piece *piece) {
    if (piece->curvature == 0 || fabs(piece->sweep) < 1e-12) {
        cairo_line_to(cr, piece->to.x, piece->to.y);
        return;
    }
    double from = atan2(piece->from.y - piece->centre.y, piece->from.x - piece->centre.x);
    double radius = 1.0 / fabs(piece->curvature);
    if (piece->sweep > 0)
        cairo_arc(cr, piece->centre.x, piece->centre.y, radius, from, from + piece->sweep);
    else
        cairo_arc_negative(cr, piece->centre.x, piece->centre.y, radius, from, from + piece->sweep);
}

/* Adds a piece, or one cubic for it and as many as go with it, of those before `end`; returns the piece after. Twice as
 * many are tried each time, then the most of them is halved down to. */
static size_t add_some(cairo_t *cr, const bw_curve *curve, size_t first, size_t end) {
    cubic c, best;
    size_t smooth = first + 1, fits = 0, fails;
    while (smooth < end && smooth - first < PIECES_MOST && goes_on(curve, smooth - 1))
        smooth++;
    fails = smooth - first + 1;
    for (size_t count = 2; count < fails; count = count * 2 < fails ? count * 2 : fits + (fails - fits) / 2) {
        if (stands_for(curve, first, first + count - 1, &c)) {
            fits = count;
            best = c;
        } else {
            fails = count;
        }
        if (fails - fits < 2)
            break;
    }
    if (fits < 2) {
        bw_piece piece = bw_curve_piece(curve, first);
        add_piece(cr, &piece);
        return first + 1;
    }
    cairo_curve_to(cr, best.at[1].x, best.at[1].y, best.at[2].x, best.at[2].y, best.at[3].x, best.at[3].y);
    return first + fits;
}

void paper_curve(cairo_t *cr, const bw_curve *curve) {
    for (int loop = 0; loop < bw_curve_loops(curve); loop++) {
        size_t first, count;
        bw_curve_loop(curve, loop, &first, &count);
        for (size_t i = first; i < first + count;) {
            if (i == first) {
                bw_piece piece = bw_curve_piece(curve, i);
                cairo_move_to(cr, piece.from.x, piece.from.y);
            }
            i = add_some(cr, curve, i, first + count);
        }
        if (bw_curve_loop_closed(curve, loop))
            cairo_close_path(cr);
    }
}
