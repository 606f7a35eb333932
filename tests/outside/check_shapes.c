/* check_shapes.c - lengths of fitted curves, against the GNU Scientific Library: elliptic integrals and quadrature. */
#include <check.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_sf_ellint.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "maths/shapes.h"

Suite *outside_shapes_suite(void);

/* Within 1e-6 of a millimetre and of itself: what an outline promises. */
static void same_length(double length, double wanted, const char *what) {
    ck_assert_msg(fabs(length - wanted) <= 1e-6 * fmin(1, wanted), "%s: %.12g instead of %.12g", what, length, wanted);
}

/* GSL takes the modulus k, not m = k^2. */
START_TEST(perimeters_of_random_ovals) {
    srand(31);
    for (int round = 0; round < 300; round++) {
        char what[80];
        double length = pow(10, shape_roll(0.1, 3.6)), width = fmin(fmax(length * shape_roll(0.05, 4), 1), 5000);
        double a = fmax(length, width) / 2, b = fmin(length, width) / 2;
        double wanted = 4 * a * gsl_sf_ellint_Ecomp(sqrt(1 - b * b / (a * a)), GSL_PREC_DOUBLE);
        bw_curve *curve = shape_ellipse(length, width);
        snprintf(what, sizeof what, "oval %g by %g", length, width);
        same_length(bw_curve_length(curve), wanted, what);
        if (2 * b > 0.02 * a) { /* Steiner: what a parallel loses while it is smooth */
            bw_curve *line;
            double d = 0.9 * b * b / a;
            ck_assert_int_eq(bw_curve_offset(curve, d, NULL, &line), BW_OK);
            same_length(bw_curve_length(line), wanted - 2 * BW_PI * d, what);
            bw_curve_destroy(line);
        }
        bw_curve_destroy(curve);
    }
}
END_TEST

typedef struct points {
    double x[4], y[4];
} points;

static double bezier_speed(double t, void *context) {
    const points *p = context;
    const double d[4] = {-3 * (1 - t) * (1 - t), 3 * (1 - t) * (1 - 3 * t), 3 * t * (2 - 3 * t), 3 * t * t};
    double x = 0, y = 0;
    for (int i = 0; i < 4; i++) {
        x += d[i] * p->x[i];
        y += d[i] * p->y[i];
    }
    return hypot(x, y);
}

static double integral(double (*f)(double, void *), void *context, double from, double to) {
    gsl_integration_workspace *room = gsl_integration_workspace_alloc(2000);
    gsl_function function = {f, context};
    double sum, error;
    gsl_error_handler_t *before = gsl_set_error_handler_off(); /* beside a cusp the last digits do not settle */
    gsl_integration_qag(&function, from, to, 1e-9, 1e-11, 2000, GSL_INTEG_GAUSS61, room, &sum, &error);
    gsl_set_error_handler(before);
    gsl_integration_workspace_free(room);
    ck_assert_double_le(error, 1e-7);
    return sum;
}

START_TEST(lengths_of_random_beziers) {
    int made = 0;
    srand(32);
    for (int round = 0; round < 400; round++) {
        char text[400];
        points p;
        double size = pow(10, shape_roll(0.5, 2.7));
        for (int i = 0; i < 4; i++) {
            p.x[i] = shape_roll(-size, size);
            p.y[i] = shape_roll(-size, size);
        }
        bw_outline o = shape_of(BW_PATH);
        snprintf(text, sizeof text, "M%.17g %.17gC%.17g %.17g %.17g %.17g %.17g %.17g", p.x[0], p.y[0], p.x[1], p.y[1],
                 p.x[2], p.y[2], p.x[3], p.y[3]);
        o.svg = text;
        o.scale = 1;
        if (bw_outline_check(&o, NULL, NULL) != BW_OK) {
            continue; /* a loop */
        }
        bw_curve *curve = shape_curve(&o);
        same_length(bw_curve_length(curve), integral(bezier_speed, &p, 0, 1), text);
        bw_curve_destroy(curve);
        made++;
    }
    ck_assert_int_gt(made, 300);
}
END_TEST

typedef struct axes {
    double rx, ry;
} axes;

static double elliptic_speed(double t, void *context) {
    const axes *a = context;
    return hypot(a->rx * sin(t), a->ry * cos(t));
}

/* End points and flags by the formulas of SVG 1.1, appendix F.6.4. */
START_TEST(lengths_of_random_elliptical_arcs) {
    srand(33);
    for (int round = 0; round < 300; round++) {
        char text[400];
        axes a = {pow(10, shape_roll(0.5, 2.7)), 0};
        a.ry = a.rx * pow(10, shape_roll(-0.7, 0.7));
        double turn = shape_roll(-3, 3), from = shape_roll(-3, 3), to = from + shape_roll(-6.2, 6.2), x[2], y[2];
        for (int i = 0; i < 2; i++) {
            double t = i == 0 ? from : to;
            x[i] = a.rx * cos(t) * cos(turn) - a.ry * sin(t) * sin(turn);
            y[i] = a.rx * cos(t) * sin(turn) + a.ry * sin(t) * cos(turn);
        }
        snprintf(text, sizeof text, "M%.17g %.17gA%.17g %.17g %.17g %d %d %.17g %.17g", x[0], y[0], a.rx, a.ry,
                 turn * 180 / BW_PI, fabs(to - from) > BW_PI, to > from, x[1], y[1]);
        bw_curve *curve = shape_path(text, 1);
        same_length(bw_curve_length(curve), fabs(integral(elliptic_speed, &a, from, to)), text);
        bw_curve_destroy(curve);
    }
}
END_TEST

Suite *outside_shapes_suite(void) {
    Suite *suite = suite_create("outside/shapes");
    TCase *tc = tcase_create("shapes");
    tcase_set_timeout(tc, 120);
    tcase_add_test(tc, perimeters_of_random_ovals);
    tcase_add_test(tc, lengths_of_random_beziers);
    tcase_add_test(tc, lengths_of_random_elliptical_arcs);
    suite_add_tcase(suite, tc);
    return suite;
}
