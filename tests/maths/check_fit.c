/* check_fit.c - ellipses, Beziers and elliptical arcs against their own formulas, point by point. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "maths/shapes.h"

Suite *maths_fit_suite(void);

/* A smooth curve by its formula: the point and both derivatives. */
typedef struct formula {
    bool elliptic;
    double x[4], y[4];           /* Bezier */
    double cx, cy, rx, ry, turn; /* ellipse */
    double from, to;             /* of t */
} formula;

typedef struct local {
    double x, y, dx, dy, ddx, ddy;
} local;

static local formula_at(const formula *f, double t) {
    local l = {0};
    if (f->elliptic) {
        double c = cos(f->turn), s = sin(f->turn), u = f->rx * cos(t), v = f->ry * sin(t);
        double du = -f->rx * sin(t), dv = f->ry * cos(t);
        return (local){f->cx + c * u - s * v, f->cy + s * u + c * v, c * du - s * dv,
                       s * du + c * dv,       -c * u + s * v,        -s * u - c * v};
    }
    const double b[4] = {(1 - t) * (1 - t) * (1 - t), 3 * t * (1 - t) * (1 - t), 3 * t * t * (1 - t), t * t * t};
    const double d[4] = {-3 * (1 - t) * (1 - t), 3 * (1 - t) * (1 - 3 * t), 3 * t * (2 - 3 * t), 3 * t * t};
    const double e[4] = {6 * (1 - t), 6 * (3 * t - 2), 6 * (1 - 3 * t), 6 * t};
    for (int i = 0; i < 4; i++) {
        l.x += b[i] * f->x[i];
        l.y += b[i] * f->y[i];
        l.dx += d[i] * f->x[i];
        l.dy += d[i] * f->y[i];
        l.ddx += e[i] * f->x[i];
        l.ddy += e[i] * f->y[i];
    }
    return l;
}

/* The place on the formula nearest to p, from a guess that is near. */
static double nearest(const formula *f, bw_point p, double t) {
    for (int i = 0; i < 30; i++) {
        local l = formula_at(f, t);
        double x = l.x - p.x, y = l.y - p.y, slope = l.dx * l.dx + l.dy * l.dy + x * l.ddx + y * l.ddy;
        double step = slope > 0 ? (x * l.dx + y * l.dy) / slope : 0;
        t = fmin(fmax(t - step, fmin(f->from, f->to)), fmax(f->from, f->to));
        if (fabs(step) < 1e-15) {
            break;
        }
    }
    return t;
}

typedef struct worst {
    double place, turn; /* mm, radians */
} worst;

/* The same without a guess: beside a cusp a step of Newton's method may go astray. */
static double nearest_of_all(const formula *f, bw_point p) {
    enum { SCAN = 5000 };
    double best = INFINITY, guess = f->from;
    for (int k = 0; k <= SCAN; k++) {
        double t = f->from + (f->to - f->from) * k / SCAN;
        local l = formula_at(f, t);
        if (hypot(l.x - p.x, l.y - p.y) < best) {
            best = hypot(l.x - p.x, l.y - p.y);
            guess = t;
        }
    }
    return nearest(f, p, guess);
}

/* Walks the curve and the formula together. Directions are compared where no bend is tighter than `least_radius`. */
static worst compare(const bw_curve *curve, const formula *f, double least_radius) {
    enum { SAMPLES = 6000 };
    worst w = {0, 0};
    double t = f->from, length = bw_curve_length(curve);
    for (int i = 0; i <= SAMPLES; i++) {
        bw_spot spot = bw_curve_at(curve, length * (i - 0.5) / SAMPLES);
        if (i == 0) {
            continue;
        }
        double best = INFINITY, guess = t;
        for (int k = 0; k <= 8; k++) { /* onward from the last place, so that loops are not cut short */
            double ahead = t + (f->to - f->from) * k * 0.25e-3;
            local l = formula_at(f, ahead);
            double apart = hypot(l.x - spot.at.x, l.y - spot.at.y);
            if (apart < best) {
                best = apart;
                guess = ahead;
            }
        }
        t = nearest(f, spot.at, guess);
        local l = formula_at(f, t);
        if (hypot(l.x - spot.at.x, l.y - spot.at.y) > 1e-4) {
            t = nearest_of_all(f, spot.at);
            l = formula_at(f, t);
        }
        double speed = hypot(l.dx, l.dy), bend = fabs(l.dx * l.ddy - l.dy * l.ddx);
        w.place = fmax(w.place, hypot(l.x - spot.at.x, l.y - spot.at.y));
        if (speed * speed * speed > least_radius * bend) {
            double way = f->to > f->from ? 0 : BW_PI;
            w.turn = fmax(w.turn, fabs(remainder(atan2(l.dy, l.dx) + way - spot.heading, 2 * BW_PI)));
        }
    }
    return w;
}

/* ---- ellipses ---- */

static const double ovals[][2] = {{240, 172}, {172, 240}, {100, 60}, {600, 420},  {6, 4},   {300, 20}, {20, 300},
                                  {90, 90},   {1, 1},     {90, 89},  {5000, 400}, {4, 3.9}, {1, 1.5},  {5000, 4999}};
enum { OVALS = sizeof ovals / sizeof *ovals };

START_TEST(ellipses_lie_on_their_formula) {
    double a = ovals[_i][0] / 2, b = ovals[_i][1] / 2;
    bw_curve *curve = shape_ellipse(2 * a, 2 * b);
    formula f = {.elliptic = true, .rx = a, .ry = b, .from = -BW_PI / 2, .to = 1.5 * BW_PI};
    worst w = compare(curve, &f, 0);
    ck_assert_msg(w.place <= 0.001, "%g mm beside", w.place);
    ck_assert_msg(w.turn <= 5e-6, "%g radians off", w.turn);
    ck_assert_msg(shape_gap(curve) <= 1e-9 && shape_joint(curve, 4) <= 1e-12, "gap %g, joint %g", shape_gap(curve),
                  shape_joint(curve, 4));
    ck_assert_double_eq_tol(bw_curve_turning(curve), 2 * BW_PI, 1e-11);
    ck_assert_double_eq_tol(bw_curve_area(curve), BW_PI * a * b, 1e-7 * a * b);
    ck_assert_uint_le(bw_curve_pieces(curve), 4000);
    bw_curve_destroy(curve);
}
END_TEST

/* Radius of curvature b^2/a at the ends of the axis a: do Carmo, Differential Geometry of Curves and Surfaces, 1-5. */
START_TEST(ellipses_have_the_true_curvature_at_their_axes) {
    double a = ovals[_i][0] / 2, b = ovals[_i][1] / 2;
    bw_curve *curve = shape_ellipse(2 * a, 2 * b);
    const double radius[4] = {a * a / b, b * b / a, a * a / b, b * b / a};
    const bw_point axis[4] = {{0, -b}, {a, 0}, {0, b}, {-a, 0}};
    size_t n = bw_curve_pieces(curve);
    for (size_t i = 0, quarter = 0; i < n; i++) {
        bw_piece p = bw_curve_piece(curve, i), before = bw_curve_piece(curve, (i + n - 1) % n);
        if (fabs(p.start - bw_curve_length(curve) * (double)quarter / 4) > 1e-9 || quarter == 4) {
            continue;
        }
        ck_assert_double_eq_tol(p.from.x, axis[quarter].x, 1e-9);
        ck_assert_double_eq_tol(p.from.y, axis[quarter].y, 1e-9);
        ck_assert_double_eq_tol(1 / p.curvature, radius[quarter], 1e-9 * radius[quarter]);
        ck_assert_double_eq_tol(1 / before.curvature, radius[quarter], 1e-9 * radius[quarter]);
        ck_assert_double_eq_tol(p.length, before.length, 1e-12);
        quarter++;
        ck_assert_msg(quarter < 4 || i >= n / 2, "axis points crowd");
        if (quarter == 4) {
            double least = fmin(a * a / b, b * b / a);
            ck_assert_double_eq_tol(bw_curve_least_radius(curve), least, 1e-9 * least);
            bw_curve_destroy(curve);
            return;
        }
    }
    ck_abort_msg("not all four axis points are joints");
}
END_TEST

START_TEST(ellipses_are_the_same_in_all_quarters) {
    bw_curve *curve = shape_ellipse(ovals[_i][0], ovals[_i][1]);
    size_t n = bw_curve_pieces(curve);
    ck_assert_uint_eq(n % 4, 0);
    for (size_t i = 0; i < n / 4; i++) {
        bw_piece p = bw_curve_piece(curve, i), q = bw_curve_piece(curve, n / 2 - 1 - i);
        bw_piece r = bw_curve_piece(curve, n - 1 - i), s = bw_curve_piece(curve, n / 2 + i);
        ck_assert(p.length == q.length && q.length == r.length && r.length == s.length);
        ck_assert(p.curvature == q.curvature && q.curvature == r.curvature && r.curvature == s.curvature);
        ck_assert_double_eq(p.from.x, q.to.x);
        ck_assert_double_eq(p.from.y, -q.to.y);
        ck_assert_double_eq(p.from.x, -r.to.x);
        ck_assert_double_eq(p.from.y, r.to.y);
        ck_assert_double_eq(p.from.x, -s.from.x);
        ck_assert_double_eq(p.from.y, -s.from.y);
    }
    bw_curve_destroy(curve);
}
END_TEST

/* Every arc carries the curvature of the curve that it stands for at both ends: a b / (a^2 sin^2 t + b^2 cos^2 t)^1.5,
 * walked backward the same with the other sign. */
START_TEST(arcs_know_the_curvature_of_their_curve) {
    double a = ovals[_i][0] / 2, b = ovals[_i][1] / 2;
    char text[300];
    snprintf(text, sizeof text, "M0 0A%.17g %.17g 0 0 1 %.17g %.17g", a, b, a,
             b); /* clockwise on paper: a concave edge */
    bw_curve *whole = shape_ellipse(2 * a, 2 * b), *quarter = shape_path(text, 1);
    for (int i = 0; i < 2; i++) {
        const bw_curve *curve = i == 0 ? whole : quarter;
        for (size_t k = 0; k < bw_curve_pieces(curve); k++) {
            bw_piece p = bw_curve_piece(curve, k);
            for (int end = 0; end < 2; end++) {
                bw_point at = end == 0 ? p.from : p.to;
                double x = at.x / a, y = (i == 0 ? at.y : at.y + b) / b;
                double square = a * a * y * y + b * b * x * x, wanted = a * b / (square * sqrt(square));
                double flat = fmin(a / (b * b), b / (a * a)), tight = fmax(a / (b * b), b / (a * a));
                wanted *= i == 0 ? 1 : -1;
                ck_assert_msg(fabs(p.bend[end] - wanted) <= 1e-5 * fabs(wanted) + 1e-6 * (tight - flat),
                              "piece %zu: %.12g instead of %.12g", k, p.bend[end], wanted);
            }
        }
    }
    bw_curve_destroy(whole);
    bw_curve_destroy(quarter);
}
END_TEST

/* ---- Beziers ---- */

static bw_outline bezier(char *text, size_t room, const formula *f) {
    bw_outline o = shape_of(BW_PATH);
    snprintf(text, room, "M%.17g %.17gC%.17g %.17g %.17g %.17g %.17g %.17g", f->x[0], -f->y[0], f->x[1], -f->y[1],
             f->x[2], -f->y[2], f->x[3], -f->y[3]);
    o.svg = text;
    o.scale = 1;
    return o;
}

START_TEST(beziers_lie_on_their_formula) {
    int made = 0, tight = 0;
    srand(3);
    for (int round = 0; round < 300; round++) {
        char text[400];
        bw_curve *curve;
        formula f = {.to = 1};
        double size = pow(10, shape_roll(0.3, 3));
        for (int i = 0; i < 4; i++) {
            f.x[i] = shape_roll(-size, size);
            f.y[i] = shape_roll(-size, size);
        }
        bw_outline o = bezier(text, sizeof text, &f);
        bw_outline_fault fault;
        if (bw_outline_check(&o, NULL, &fault) != BW_OK) {
            ck_assert_int_eq(fault.what, BW_TROUBLE_CROSSING); /* a loop: no edge */
            continue;
        }
        curve = shape_curve(&o);
        worst w = compare(curve, &f, size / 8);
        ck_assert_msg(w.place <= 0.001, "%s: %g mm beside", text, w.place);
        /* what is bent within tenths of a millimetre need not be as true in direction */
        ck_assert_msg(w.turn <= (size > 100 ? 5e-6 : 1e-3), "%s: %g radians off", text, w.turn);
        ck_assert_msg(shape_gap(curve) <= 1e-9 && shape_joint(curve, 4) <= 1e-12, "%s: gap %g, joint %g", text,
                      shape_gap(curve), shape_joint(curve, 4));
        bw_spot begin = bw_curve_at(curve, 0), end = bw_curve_at(curve, 1e9);
        ck_assert(!bw_curve_closed(curve));
        ck_assert_double_eq_tol(hypot(begin.at.x - f.x[0], begin.at.y - f.y[0]), 0, 1e-9);
        ck_assert_double_eq_tol(hypot(end.at.x - f.x[3], end.at.y - f.y[3]), 0, 1e-9);
        ck_assert_uint_le(bw_curve_pieces(curve), 4000);
        tight += bw_curve_least_radius(curve) < 5;
        made++;
        bw_curve_destroy(curve);
    }
    ck_assert_int_gt(made, 200);
    ck_assert_int_gt(tight, 40);
}
END_TEST

/* The tightest bend is the curve's own, by its formula: |x' y'' - y' x''| / (x'^2 + y'^2)^1.5. */
static double tightest(const formula *f) {
    enum { SCAN = 200000 };
    double most = 0;
    for (int i = 0; i <= SCAN; i++) {
        local l = formula_at(f, f->from + (f->to - f->from) * i / SCAN);
        most = fmax(most, fabs(l.dx * l.ddy - l.dy * l.ddx) / pow(l.dx * l.dx + l.dy * l.dy, 1.5));
    }
    return 1 / most;
}

START_TEST(the_tightest_bend_is_as_tight_as_the_curve) {
    int made = 0;
    srand(6);
    for (int round = 0; round < 60; round++) {
        char text[400];
        formula f = {.to = 1};
        for (int i = 0; i < 4; i++) {
            f.x[i] = 40 * i + shape_roll(-30, 30);
            f.y[i] = shape_roll(-60, 60);
        }
        bw_outline o = bezier(text, sizeof text, &f);
        bw_curve *curve = shape_curve(&o);
        double radius = tightest(&f);
        if (radius > 0.5) {
            ck_assert_msg(fabs(bw_curve_least_radius(curve) / radius - 1) <= 1e-6, "%s: %.12g instead of %.12g", text,
                          bw_curve_least_radius(curve), radius);
            made++;
        }
        bw_curve_destroy(curve);
    }
    ck_assert_int_gt(made, 40);
}
END_TEST

/* Walked the other way the same points come back. */
START_TEST(beziers_are_the_same_both_ways) {
    srand(4);
    for (int round = 0; round < 60; round++) {
        char there[400], back[400];
        formula f = {.to = 1}, r = {.to = 1};
        for (int i = 0; i < 4; i++) {
            f.x[i] = r.x[3 - i] = 40 * i + shape_roll(-15, 15);
            f.y[i] = r.y[3 - i] = shape_roll(-60, 60);
        }
        bw_outline o = bezier(there, sizeof there, &f), p = bezier(back, sizeof back, &r);
        bw_curve *curve = shape_curve(&o), *turned = shape_curve(&p);
        double length = bw_curve_length(curve);
        ck_assert_double_eq_tol(bw_curve_length(turned), length, 1e-9 * length);
        ck_assert_double_eq_tol(bw_curve_turning(turned), -bw_curve_turning(curve), 1e-9);
        for (int i = 0; i <= 50; i++) {
            bw_spot a = bw_curve_at(curve, length * i / 50), b = bw_curve_at(turned, length * (50 - i) / 50);
            ck_assert_double_eq_tol(hypot(a.at.x - b.at.x, a.at.y - b.at.y), 0, 1e-5);
        }
        bw_curve_destroy(curve);
        bw_curve_destroy(turned);
    }
}
END_TEST

/* Lengths that follow from plane geometry; NAN: no edge, it lies on itself. */
static const struct {
    const char *svg;
    double length;
    size_t pieces; /* 0: any number */
} degenerate[] = {
    {"M0 0C10 0 20 0 30 0", 30, 1},
    {"M0 0C0 0 30 40 30 40", 50, 1},
    {"M0 0C30 40 0 0 30 40", 50, 1},   /* all on one line, and slow in the middle */
    {"M5 5C5 5 5 5 35 45", 50, 1},     /* three points on one spot */
    {"M0 0Q3 4 30 40", 50, 1},         /* much faster at one end */
    {"M0 0C0 0 0 0 0 0L30 40", 50, 1}, /* nothing, then a line */
    {"M0 0l0 0 30 40", 50, 1},
    {"M0 0A0 20 0 0 1 30 40", 50, 1},                       /* SVG 1.1, F.6.2: no radius, a line */
    {"M0 0A5 5 0 0 1 0 0L30 40", 50, 1},                    /* and no arc between points that are the same */
    {"M0 0C40 0-10 0 30 0", NAN, 0},                        /* there, back and there again */
    {"M0 0C60 80 60 80 0 0", NAN, 0},                       /* there and back */
    {"M0 0C150 100-50 100 100 0", NAN, 0},                  /* a loop */
    {"M0 0C100 100 0 100 100 0", 182.84271247461900976, 0}, /* a cusp: 100 (2 sqrt 2 - 1), the integral of its speed */
    {"M0 0C0 0 10 10 20 0", -1, 0},                         /* a control point on its end */
    {"M0 0C10 10 20 0 20 0", -1, 0},
    {"M0 0A500000 500000 0 0 1 30 40", 50, 0}, /* as good as straight */
};

START_TEST(degenerate_curves_are_what_they_look_like) {
    bw_outline o = shape_of(BW_PATH);
    bw_outline_fault fault;
    bw_curve *curve;
    o.svg = degenerate[_i].svg;
    o.scale = 1;
    if (isnan(degenerate[_i].length)) {
        ck_assert_int_eq(bw_outline_check(&o, NULL, &fault), BW_BAD_VALUE);
        ck_assert_int_eq(fault.what, BW_TROUBLE_CROSSING);
        ck_assert_int_eq(bw_curve_create(&o, NULL, &curve), BW_BAD_VALUE);
        return;
    }
    curve = shape_curve(&o);
    ck_assert_double_le(shape_gap(curve), 2e-9);
    if (degenerate[_i].length > 0) {
        ck_assert_double_eq_tol(bw_curve_length(curve), degenerate[_i].length, 1e-6);
    }
    if (degenerate[_i].pieces > 0) {
        ck_assert_uint_eq(bw_curve_pieces(curve), degenerate[_i].pieces);
    }
    bw_curve_destroy(curve);
}
END_TEST

/* ---- elliptical arcs ---- */

/* From centre and angles to end points and flags: SVG 1.1, appendix F.6.4. y is turned over in the text. */
START_TEST(elliptical_arcs_lie_on_their_formula) {
    srand(5);
    for (int round = 0; round < 200; round++) {
        char text[400];
        formula f = {.elliptic = true, .cx = shape_roll(-90, 90), .cy = shape_roll(-90, 90)};
        f.rx = pow(10, shape_roll(0.7, 2.5));
        f.ry = round % 5 == 0 ? f.rx : f.rx * shape_roll(0.2, 3);
        f.turn = shape_roll(-4, 4);
        f.from = shape_roll(-BW_PI, BW_PI);
        double sweep = shape_roll(0.02, 2 * BW_PI - 0.02) * (round % 2 == 0 ? 1 : -1);
        f.to = f.from + sweep;
        local begin = formula_at(&f, f.from), end = formula_at(&f, f.to);
        snprintf(text, sizeof text, "M%.17g,%.17gA%.17g,%.17g,%.17g,%d%d%.17g,%.17g", begin.x, -begin.y, f.rx, f.ry,
                 -f.turn * 180 / BW_PI, fabs(sweep) > BW_PI, sweep < 0, end.x, -end.y);
        bw_curve *curve = shape_path(text, 1);
        worst w = compare(curve, &f, 5);
        ck_assert_msg(w.place <= 0.001, "%s: %g mm beside", text, w.place);
        ck_assert_msg(w.turn <= (fmin(f.rx, f.ry) > 40 ? 5e-6 : 2e-4), "%s: %g radians off", text, w.turn);
        ck_assert_msg(shape_gap(curve) <= 1e-9 && shape_joint(curve, 4) <= 1e-12, "%s", text);
        if (round % 5 == 0) {
            ck_assert_uint_eq(bw_curve_pieces(curve), 1);
            ck_assert_double_eq_tol(bw_curve_turning(curve), sweep, 1e-9);
            ck_assert_double_eq_tol(bw_curve_least_radius(curve), f.rx, 1e-9 * f.rx);
        }
        bw_curve_destroy(curve);
    }
}
END_TEST

/* Radii that do not reach grow together until they just do: SVG 1.1, appendix F.6.6. */
START_TEST(radii_too_small_grow) {
    bw_curve *round = shape_path("M0 0A1 1 0 0 1 60 0", 1), *oval = shape_path("M0 0A2-1 0 0 0 80 0", 1);
    bw_box box = bw_curve_box(oval);
    ck_assert_double_eq_tol(bw_curve_length(round), 30 * BW_PI, 1e-9);
    ck_assert_double_eq_tol(bw_curve_box(round).top, 30, 1e-9); /* increasing angle, y downwards: over the top */
    ck_assert_double_eq_tol(box.bottom, -20, 1e-6);
    ck_assert_double_eq_tol(box.left, 0, 1e-6);
    ck_assert_double_eq_tol(box.right, 80, 1e-6);
    ck_assert_double_eq_tol(bw_curve_least_radius(oval), 10, 1e-3);
    bw_curve_destroy(round);
    bw_curve_destroy(oval);
}
END_TEST

Suite *maths_fit_suite(void) {
    Suite *suite = suite_create("maths: fitting");
    TCase *tc = tcase_create("fitting");
    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, ellipses_lie_on_their_formula, 0, OVALS);
    tcase_add_loop_test(tc, ellipses_have_the_true_curvature_at_their_axes, 0, OVALS);
    tcase_add_loop_test(tc, ellipses_are_the_same_in_all_quarters, 0, OVALS);
    tcase_add_loop_test(tc, arcs_know_the_curvature_of_their_curve, 0, OVALS);
    tcase_add_test(tc, beziers_lie_on_their_formula);
    tcase_add_test(tc, the_tightest_bend_is_as_tight_as_the_curve);
    tcase_add_test(tc, beziers_are_the_same_both_ways);
    tcase_add_loop_test(tc, degenerate_curves_are_what_they_look_like, 0, sizeof degenerate / sizeof *degenerate);
    tcase_add_test(tc, elliptical_arcs_lie_on_their_formula);
    tcase_add_test(tc, radii_too_small_grow);
    suite_add_tcase(suite, tc);
    return suite;
}
