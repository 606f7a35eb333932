/* check_marks_oval.c - divider settings between check marks on ovals and arcs, against places found with the GNU
 * Scientific Library: the length of an oval's parallel by quadrature, the place of a mark by root finding. */
#include <check.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_roots.h>
#include <math.h>

#include "maths/sample.h"

Suite *outside_marks_oval_suite(void);

#define FITTED 2e-3 /* mm: an oval is arcs that lie within 0.001 mm of it, at both ends of a setting */

enum { MARKS_MOST = 15 };

typedef struct oval {
    double a, b, in; /* mm: semi-axes, and how far in the parallel lies */
    double along;    /* mm wanted, from the bottom */
    gsl_integration_workspace *room;
} oval;

/* Speed of the parallel of (a cos t, b sin t): that of the oval less `in` times its rate of turning. */
static double speed(double t, void *context) {
    const oval *o = context;
    double v = hypot(o->a * sin(t), o->b * cos(t));
    return v - o->in * o->a * o->b / (v * v);
}

static double too_far(double t, void *context) {
    oval *o = context;
    gsl_function f = {speed, o};
    double sum, error;
    gsl_integration_qag(&f, -BW_PI / 2, t, 1e-10, 1e-11, 1000, GSL_INTEG_GAUSS31, o->room, &sum, &error);
    return sum - o->along;
}

static bw_point place(oval *o, double along) {
    gsl_function f = {too_far, o};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    double t = -BW_PI / 2;
    o->along = along;
    if (along > 0) {
        gsl_root_fsolver_set(solver, &f, -BW_PI / 2, 1.5001 * BW_PI);
        do
            gsl_root_fsolver_iterate(solver);
        while (gsl_root_test_interval(gsl_root_fsolver_x_lower(solver), gsl_root_fsolver_x_upper(solver), 1e-12, 0) ==
               GSL_CONTINUE);
        t = gsl_root_fsolver_root(solver);
    }
    gsl_root_fsolver_free(solver);
    double v = hypot(o->a * sin(t), o->b * cos(t));
    return (bw_point){o->a * cos(t) - o->in * o->b * cos(t) / v, o->b * sin(t) - o->in * o->a * sin(t) / v};
}

START_TEST(settings_on_ovals) {
    static const double sizes[][3] = {{240, 172, 9}, {100, 60, 7}, {170, 90, 4}, {120, 119, 12}};
    static sample piece;
    oval o = {sizes[_i][0] / 2, sizes[_i][1] / 2, sizes[_i][2], 0, gsl_integration_workspace_alloc(1000)};
    sample_circle(&piece, 1);
    piece.layout.outline.shape = BW_ELLIPSE;
    piece.layout.outline.length = sizes[_i][0];
    piece.layout.outline.width = sizes[_i][1];
    sample_border(&piece, sizes[_i][2] - 2, 4, 5.3, 4);
    bw_plan *plan = sample_plan(&piece);
    double around = plan->bands[0].guide_length;
    for (int marks = 1; marks <= MARKS_MOST; marks++) {
        bw_check_mark list[MARKS_MOST + 1];
        ck_assert_int_eq(bw_check_marks(plan, 0, 0, marks, NULL, list), BW_OK);
        bw_point before = place(&o, 0);
        for (int i = 0; i <= marks; i++) {
            /* even steps: a mark lies at its share of the round */
            double share = (double)list[i].after / plan->bands[0].runs[0].count;
            bw_point here = i < marks ? place(&o, share * around) : place(&o, 0);
            ck_assert_double_eq_tol(list[i].along, share * around, 1e-9);
            ck_assert_double_eq_tol(list[i].across, hypot(here.x - before.x, here.y - before.y), FITTED);
            before = here;
        }
    }
    bw_plan_destroy(plan);
    gsl_integration_workspace_free(o.room);
}
END_TEST

Suite *outside_marks_oval_suite(void) {
    Suite *suite = suite_create("outside/marks on ovals");
    TCase *tests = tcase_create("ovals");
    tcase_set_timeout(tests, 0);
    tcase_add_loop_test(tests, settings_on_ovals, 0, 4);
    suite_add_tcase(suite, tests);
    return suite;
}
