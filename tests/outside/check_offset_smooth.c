/* check_offset_smooth.c - parallels of smooth convex outlines, against quadrature and root finding of the GNU Scientific
 * Library and against Steiner's formula: length L - 2 pi d, area A - L d + pi d^2 up to the least radius (do Carmo,
 * Differential Geometry of Curves and Surfaces, 1-7 exercise 6; Gruber, Convex and Discrete Geometry). */
#include <check.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_roots.h>
#include <gsl/gsl_sf_ellint.h>
#include <math.h>

#include "maths/outlines.h"

Suite *outside_offset_smooth_suite(void);

static outlines_piece piece;
static random_source source;

static bw_curve *edge_of_piece(void) {
    bw_curve *edge = NULL;
    ck_assert_int_eq(bw_curve_create(&piece.outline, NULL, &edge), BW_OK);
    return edge;
}

/* Length within `length` and area within `area`, as shares, at distances up to the least radius. */
static void check_steiner(const bw_curve *edge, double length, double area) {
    double whole = bw_curve_length(edge), inside = bw_curve_area(edge), least = bw_curve_least_radius(edge);
    for (int k = 0; k <= 8; k++) {
        double d = least * (k == 8 ? 0.9999 : k / 8.0), left = whole - 2 * BW_PI * d;
        bw_curve *line;
        ck_assert_int_eq(bw_curve_offset(edge, d, NULL, &line), BW_OK);
        ck_assert_msg(bw_curve_loops(line) == 1, "%s at %g: %d loops", piece.kind, d, bw_curve_loops(line));
        ck_assert_double_eq_tol(bw_curve_length(line), left, length * whole);
        ck_assert_double_eq_tol(bw_curve_area(line), inside - whole * d + BW_PI * d * d, area * inside);
        ck_assert_double_eq_tol(bw_curve_turning(line), 2 * BW_PI, 1e-9);
        bw_curve_destroy(line);
    }
}

/* ---- ellipses ---- */

typedef struct ellipse {
    double a, b;
    double d; /* mm inward */
} ellipse;

static double speed(const ellipse *e, double t) {
    return hypot(e->a * sin(t), e->b * cos(t));
}

/* Of the parallel: every step of the edge shrinks by d times its curvature a b / speed^3. */
static double parallel_element(double t, void *context) {
    const ellipse *e = context;
    double v = speed(e, t);
    return v - e->d * e->a * e->b / (v * v);
}

/* Height over the long axis of the place d inward of the point at t; 0 where both sides meet. */
static double over_axis(double t, void *context) {
    const ellipse *e = context;
    return e->b - e->d * e->a / speed(e, t);
}

/* Length of the trimmed parallel. Past b^2/a the ends are cut off where both sides meet on the long axis. */
static double ellipse_parallel(ellipse e) {
    double from = 0, part, error;
    if (e.d > e.b * e.b / e.a) {
        gsl_function f = {over_axis, &e};
        gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
        gsl_root_fsolver_set(solver, &f, 0, BW_PI / 2);
        for (int i = 0; i < 200 && gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                                          gsl_root_fsolver_x_upper(solver), 1e-14, 0) == GSL_CONTINUE;
             i++)
            gsl_root_fsolver_iterate(solver);
        from = gsl_root_fsolver_root(solver);
        gsl_root_fsolver_free(solver);
    }
    gsl_integration_workspace *room = gsl_integration_workspace_alloc(1000);
    gsl_function f = {parallel_element, &e};
    gsl_integration_qag(&f, from, BW_PI / 2, 1e-12, 1e-12, 1000, GSL_INTEG_GAUSS61, room, &part, &error);
    gsl_integration_workspace_free(room);
    return 4 * part;
}

static void draw_ellipse(double a, double b) {
    outlines_begin(&piece, BW_ELLIPSE, "ellipse");
    piece.outline.length = 2 * a;
    piece.outline.width = 2 * b;
}

static double length_at(const bw_curve *edge, double d) {
    bw_curve *line;
    ck_assert_int_eq(bw_curve_offset(edge, d, NULL, &line), BW_OK);
    double length = bw_curve_length(line);
    bw_curve_destroy(line);
    return length;
}

/* L, at 10 inward, the cusp limit, and 20 inward, past the cusp: quadrature, recomputed with general libraries. The last
 * was also read off a buffer of a finely sampled ellipse, 129.374; quadrature of the trimmed parallel gives 129.37639. */
START_TEST(ellipse_of_50_and_30) {
    draw_ellipse(50, 30);
    bw_curve *edge = edge_of_piece();
    ck_assert_double_eq_tol(bw_curve_length(edge), 255.269988634, 1e-6);
    ck_assert_double_eq_tol(length_at(edge, 10), 192.438135562, 1e-6);
    ck_assert_double_eq_tol(bw_curve_least_radius(edge), 18, 1e-4 * 18);
    ck_assert_double_eq_tol(ellipse_parallel((ellipse){50, 30, 0}), 255.269988634, 1e-9);
    ck_assert_double_eq_tol(ellipse_parallel((ellipse){50, 30, 10}), 192.438135562, 1e-9);
    ck_assert_double_eq_tol(length_at(edge, 20), ellipse_parallel((ellipse){50, 30, 20}), 1e-5);
    ck_assert_double_eq_tol(length_at(edge, 20), 129.374, 0.003);
    bw_curve_destroy(edge);
}
END_TEST

START_TEST(ellipses_by_quadrature) {
    int past = 0;
    source.state = 11;
    for (int round = 0; round < 60; round++) {
        double a = random_between(&source, 15, 120), b = a * random_between(&source, 0.25, 1);
        double d = b * random_between(&source, 0, 0.97);
        draw_ellipse(a, b);
        bw_curve *edge = edge_of_piece();
        double whole = 4 * a * gsl_sf_ellint_Ecomp(sqrt(1 - b * b / (a * a)), GSL_PREC_DOUBLE);
        ck_assert_double_eq_tol(bw_curve_length(edge), whole, 1e-6 * whole);
        ck_assert_double_eq_tol(bw_curve_area(edge), BW_PI * a * b, 1e-6 * a * b);
        ck_assert_double_eq_tol(bw_curve_least_radius(edge), b * b / a, 1e-4 * b * b / a);
        /* a cut at the long axis moves with the fit: 0.001 mm at most, and less where it is steep */
        bool cut = d > b * b / a;
        double left = ellipse_parallel((ellipse){a, b, d});
        ck_assert_double_eq_tol(length_at(edge, d), left, cut ? 1e-5 * whole : 1e-6 * whole);
        check_steiner(edge, 1e-6, 1e-6);
        past += cut;
        bw_curve_destroy(edge);
    }
    ck_assert_int_gt(past, 15);
    ck_assert_int_lt(past, 45);
}
END_TEST

/* ---- other smooth convex outlines ---- */

/* A support function h = h0 + h2 cos 2t + h3 cos(3t + p): the point at normal t is h n + h' n', its radius h + h''. */
static void draw_oval(double h0, double h2, double h3, double p) {
    enum { POINTS = 24 };
    double x[3 * POINTS], y[3 * POINTS], span = 2 * BW_PI / POINTS;
    char *to = piece.svg;
    outlines_begin(&piece, BW_PATH, "oval of Beziers");
    for (int i = 0; i < POINTS; i++) {
        double t = i * span, h = h0 + h2 * cos(2 * t) + h3 * cos(3 * t + p);
        double slope = -2 * h2 * sin(2 * t) - 3 * h3 * sin(3 * t + p);
        double radius = h0 - 3 * h2 * cos(2 * t) - 8 * h3 * cos(3 * t + p);
        x[3 * i] = h * cos(t) - slope * sin(t);
        y[3 * i] = h * sin(t) + slope * cos(t);
        for (int k = 1; k <= 2; k++) { /* towards the next point, and from it back to the one before */
            int at = k == 1 ? 3 * i + 1 : (3 * i + 3 * POINTS - 1) % (3 * POINTS);
            double arm = (k == 1 ? 1 : -1) * radius * span / 3;
            x[at] = x[3 * i] - arm * sin(t);
            y[at] = y[3 * i] + arm * cos(t);
        }
    }
    to += sprintf(to, "M%.17g %.17g C", x[0], -y[0]);
    for (int i = 1; i <= 3 * POINTS; i++)
        to += sprintf(to, " %.17g %.17g", x[i % (3 * POINTS)], -y[i % (3 * POINTS)]);
    sprintf(to, "Z");
}

START_TEST(steiner_for_smooth_convex_outlines) {
    source.state = 12;
    for (int round = 0; round < 40; round++) {
        double size = random_between(&source, 20, 100), swing = random_between(&source, 0, 0.2);
        double other = random_between(&source, 0, 0.04), turn = random_between(&source, 0, BW_PI);
        draw_oval(size, swing * size, other * size, turn);
        bw_curve *edge = edge_of_piece();
        ck_assert_msg(!outlines_concave(edge), "oval %d", round);
        check_steiner(edge, 1e-6, 1e-6);
        /* Cauchy: the length is the integral of the support function */
        ck_assert_double_eq_tol(bw_curve_length(edge), 2 * BW_PI * size, 1e-4 * size);
        bw_curve_destroy(edge);

        double length = random_between(&source, 40, 200), width = random_between(&source, 40, 200);
        outlines_begin(&piece, BW_RECTANGLE, "rounded rectangle");
        piece.outline.length = length;
        piece.outline.width = width;
        for (int i = 0; i < 4; i++)
            piece.outline.corner[i] = random_between(&source, 3, fmin(length, width) / 2);
        edge = edge_of_piece();
        check_steiner(edge, 1e-12, 1e-12);
        bw_curve_destroy(edge);

        outlines_begin(&piece, BW_STRAP, "strap with round ends");
        piece.outline.length = length + width;
        piece.outline.width = width;
        piece.outline.start.kind = piece.outline.end.kind = BW_END_ROUND;
        edge = edge_of_piece();
        check_steiner(edge, 1e-12, 1e-12);
        bw_curve_destroy(edge);
    }
}
END_TEST

/* A sharp convex corner that turns by t loses 2 tan(t/2) d in place of t d: regular polygons down to their middle. */
START_TEST(mitres_of_regular_polygons) {
    for (int sides = 3; sides <= 40; sides++) {
        double radius = 50, inner = radius * cos(BW_PI / sides);
        outlines_begin(&piece, BW_POLYGON, "regular polygon");
        for (int i = 0; i < sides; i++)
            outlines_corner(&piece, radius * cos(2 * BW_PI * i / sides), radius * sin(2 * BW_PI * i / sides), 0);
        bw_curve *edge = edge_of_piece();
        double whole = bw_curve_length(edge);
        for (int k = 0; k <= 10; k++) {
            double d = k * inner / 11;
            ck_assert_double_eq_tol(length_at(edge, d), whole - 2 * tan(BW_PI / sides) * sides * d, 1e-9 * whole);
        }
        ck_assert_double_lt(length_at(edge, inner), 1e-6);
        ck_assert(length_at(edge, inner + 1e-6) == 0);
        bw_curve_destroy(edge);
    }
}
END_TEST

static void begin(void) {
    gsl_set_error_handler_off();
}

Suite *outside_offset_smooth_suite(void) {
    Suite *suite = suite_create("outside/offset_smooth");
    TCase *tests = tcase_create("smooth");
    tcase_add_checked_fixture(tests, begin, NULL);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, ellipse_of_50_and_30);
    tcase_add_test(tests, ellipses_by_quadrature);
    tcase_add_test(tests, steiner_for_smooth_convex_outlines);
    tcase_add_test(tests, mitres_of_regular_polygons);
    suite_add_tcase(suite, tests);
    return suite;
}
