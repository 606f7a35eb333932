/* check_shapes.c - ellipses, Beziers and drawn curves against published values.
 *
 * Every row names its source; none is computed by the code that it checks.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "maths/shapes.h"

Suite *published_shapes_suite(void);

#define NEAR(value, wanted, tolerance, source)                                                                         \
    ck_assert_msg(fabs((value) - (wanted)) <= (tolerance), "%.12g instead of %.12g: %s", (double)(value),              \
                  (double)(wanted), source)

static double around(double length, double width) {
    bw_curve *curve = shape_ellipse(length, width);
    double round = bw_curve_length(curve);
    bw_curve_destroy(curve);
    return round;
}

static double path_length(const char *svg) {
    bw_curve *curve = shape_path(svg, 1);
    double length = bw_curve_length(curve);
    bw_curve_destroy(curve);
    return length;
}

/* ---- ellipses ---- */

/* The perimeter of an ellipse with the semi-axes a and b is 4 a E, k^2 = 1 - b^2/a^2. E is found from an oval of 400
 * mm: b = a cos(angle) where k = sin(angle). */
static const struct {
    double k, e;
    const char *source;
} complete[] = {
#define TABLE "complete elliptic integral E: Abramowitz and Stegun, Table 17.2 (digits recomputed, table not read)"
#define SUITE "complete elliptic integral E: test suite of the GNU Scientific Library"
    {0.17364817766693035, 1.558887197, TABLE}, /* sin 10 degrees, and so on */
    {0.5, 1.467462209, TABLE},
    {0.70710678118654752, 1.350643881, TABLE},
    {0.86602540378443865, 1.211056028, TABLE},
    {0.96592582628906829, 1.076405113, TABLE},
    {0.98480775301220806, 1.040114396, TABLE},
    {0.01, 1.5707570561503852873, SUITE},
    {0.5, 1.4674622093394271555, SUITE},
    {0.99, 1.0284758090288040010, SUITE},
};

START_TEST(perimeters_follow_from_the_complete_elliptic_integral) {
    double k = complete[_i].k, e = around(400, 400 * sqrt(1 - k * k)) / 800;
    NEAR(e, complete[_i].e, 6e-10, complete[_i].source); /* half a unit of a digit, and the fit */
}
END_TEST

START_TEST(perimeter_of_semi_axes_3_and_2) {
    const char *source = "OEIS A334849";
    NEAR(around(6, 4), 15.8654395892905897913, 1e-8, source);
    NEAR(around(4, 6), 15.8654395892905897913, 1e-8, source);
    NEAR(around(600, 400), 1586.54395892905897913, 1e-6, source);
}
END_TEST

static double parallel_length(const bw_curve *edge, double d) {
    bw_curve *line;
    ck_assert_int_eq(bw_curve_offset(edge, d, NULL, &line), BW_OK);
    double length = bw_curve_length(line);
    bw_curve_destroy(line);
    return length;
}

START_TEST(an_oval_of_100_by_60) {
    const char *source = "quadrature, recomputed with two general libraries";
    bw_curve *edge = shape_ellipse(100, 60), *wide = shape_ellipse(172, 240);
    NEAR(bw_curve_length(edge), 255.269988634, 1e-7, source);
    NEAR(parallel_length(edge, 10), 192.438135562, 1e-7, source);
    NEAR(bw_curve_least_radius(edge), 18, 1e-9, "b^2/a: the evolute's cusps, do Carmo, Differential Geometry, 1-5");
    NEAR(1 / bw_curve_piece(edge, 0).curvature, 50.0 * 50 / 30, 1e-7, "a^2/b at the short ends, the same");
    NEAR(bw_curve_least_radius(wide), 86.0 * 86 / 120, 1e-8, "b^2/a, the same");
    bw_curve_destroy(edge);
    bw_curve_destroy(wide);
}
END_TEST

/* ---- Beziers ---- */

START_TEST(lengths_of_beziers) {
    const char *cubic = "M120 160C35 200 220 260 220 40", *quadratic = "M150 40Q80 30 105 150";
    NEAR(path_length(cubic), 272.8700297821, 1e-7, "quadrature; a published library test says 272.870");
    NEAR(path_length(quadratic), 144.79561403359523, 1e-7, "published general library test, recomputed");
}
END_TEST

/* ---- curves drawn point by point ---- */

enum { POINTS = 20000, ROOM = POINTS * 60 };

typedef bw_point drawn(double t);

static double drawn_length(drawn *at, double from, double to) {
    char *text = malloc(ROOM);
    int used = 0;
    for (int i = 0; i <= POINTS; i++) {
        bw_point p = at(from + (to - from) * i / POINTS);
        used += snprintf(text + used, (size_t)(ROOM - used), "%c%.12f,%.12f", i == 0 ? 'M' : 'L', p.x, p.y);
    }
    double length = path_length(text);
    free(text);
    return length;
}

/* Of a circle of 60 mm that rolls. */
static bw_point cycloid(double t) {
    return (bw_point){30 * (t - sin(t)), 30 * (1 - cos(t))};
}

static bw_point catenary(double x) {
    return (bw_point){100 * x, 100 * cosh(x)};
}

START_TEST(lengths_of_cycloid_and_catenary) {
    NEAR(drawn_length(cycloid, 0, 2 * BW_PI), 4 * 60, 1e-5, "cycloid 4 d: Machinery's Handbook, 31st ed., p. 79");
    NEAR(drawn_length(catenary, 0, 1), 117.52011936, 1e-5, "y = cosh x on 0..1: sinh 1, closed form");
}
END_TEST

/* ---- roundings ---- */

/* A regular polygon whose roundings meet in the middle of its sides is its inscribed circle. */
START_TEST(a_polygon_rounded_all_over_is_a_circle) {
    for (int n = 3; n <= 12; n++) {
        bw_corner corners[12];
        bw_outline o = shape_of(BW_POLYGON);
        double radius = 70 * cos(BW_PI / n);
        for (int i = 0; i < n; i++) {
            corners[i] = (bw_corner){70 * cos(2 * BW_PI * i / n), 70 * sin(2 * BW_PI * i / n), radius};
        }
        o.corners = corners;
        o.corner_count = (size_t)n;
        bw_curve *curve = shape_curve(&o);
        NEAR(bw_curve_length(curve), 2 * BW_PI * radius, 1e-8, "inscribed circle: plane geometry");
        NEAR(bw_curve_least_radius(curve), radius, 1e-9, "the same");
        bw_curve_destroy(curve);
    }
}
END_TEST

Suite *published_shapes_suite(void) {
    Suite *suite = suite_create("published/shapes");
    TCase *tc = tcase_create("shapes");
    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, perimeters_follow_from_the_complete_elliptic_integral, 0,
                        sizeof complete / sizeof *complete);
    tcase_add_test(tc, perimeter_of_semi_axes_3_and_2);
    tcase_add_test(tc, an_oval_of_100_by_60);
    tcase_add_test(tc, lengths_of_beziers);
    tcase_add_test(tc, lengths_of_cycloid_and_catenary);
    tcase_add_test(tc, a_polygon_rounded_all_over_is_a_circle);
    suite_add_tcase(suite, tc);
    return suite;
}
