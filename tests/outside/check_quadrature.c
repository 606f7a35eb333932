/* check_quadrature.c - what the plan solves in closed form, against the GNU Scientific Library's quadrature and root
 * finding. */
#include <check.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdlib.h>

#include "maths/sample.h"

Suite *outside_quadrature_suite(void);

static sample piece;

static double roll(double least, double most) {
    return least + (most - least) * (rand() / (double)RAND_MAX);
}

/* ---- area: Green's theorem along the curve ---- */

static double area_element(double along, void *context) {
    bw_spot spot = bw_curve_at(context, along);
    return (spot.at.x * sin(spot.heading) - spot.at.y * cos(spot.heading)) / 2;
}

START_TEST(areas_agree_with_green_by_quadrature) {
    gsl_integration_workspace *room = gsl_integration_workspace_alloc(1000);
    for (int round = 0; round < 40; round++) {
        double sum = 0, part, error;
        bw_curve *edge;
        sample_rectangle(&piece, roll(60, 300), roll(60, 300), roll(0, 30));
        ck_assert_int_eq(bw_curve_create(&piece.layout.outline, NULL, &edge), BW_OK);
        for (size_t i = 0; i < bw_curve_pieces(edge); i++) {
            bw_piece p = bw_curve_piece(edge, i);
            gsl_function f = {area_element, edge};
            gsl_integration_qag(&f, p.start + 1e-9, p.start + p.length - 1e-9, 1e-9, 1e-10, 1000, GSL_INTEG_GAUSS31,
                                room, &part, &error);
            sum += part;
        }
        ck_assert_double_eq_tol(bw_curve_area(edge), sum, 1e-5);
        bw_curve_destroy(edge);
    }
    gsl_integration_workspace_free(room);
}
END_TEST

/* ---- straights: the integral of dx / step(x) over the guide is the count ---- */

typedef struct pacing {
    const bw_curve *guide;
    double bends, straights;
} pacing;

static double impressions_element(double along, void *context) {
    const pacing *p = context;
    /* whether the guide turns here, measured and not asked for */
    double turn = bw_curve_at(p->guide, along + 1e-6).heading - bw_curve_at(p->guide, along - 1e-6).heading;
    return 1 / (fabs(remainder(turn, 2 * BW_PI)) > 1e-10 ? p->bends : p->straights);
}

START_TEST(straights_hold_the_count_by_quadrature) {
    gsl_integration_workspace *room = gsl_integration_workspace_alloc(1000);
    int spread = 0;
    srand(7);
    for (int round = 0; round < 60; round++) {
        sample_rectangle(&piece, roll(90, 250), roll(90, 250), roll(25, 40));
        bw_band *band = sample_border(&piece, roll(2, 6), 8, roll(4, 7), 5);
        band->lose = BW_LOSE_STRAIGHTS;
        bw_plan *plan = sample_plan(&piece);
        const bw_run_plan *run = &plan->bands[0].runs[0];
        bw_curve *guide;
        ck_assert_int_eq(bw_guide_create(plan, 0, NULL, &guide), BW_OK);
        if (run->setting_count == 2) {
            pacing p = {guide, run->settings[0].step, run->settings[1].step};
            double sum = 0, part, error;
            for (size_t i = 0; i < bw_curve_pieces(guide); i++) {
                bw_piece q = bw_curve_piece(guide, i);
                gsl_function f = {impressions_element, &p};
                gsl_integration_qag(&f, q.start + 2e-6, q.start + q.length - 2e-6, 1e-10, 1e-10, 1000,
                                    GSL_INTEG_GAUSS15, room, &part, &error);
                sum += part;
            }
            ck_assert_double_eq_tol(sum, run->count, 1e-4); /* the ends left out: 4e-6 mm a piece */
            spread++;
        }
        bw_curve_destroy(guide);
        bw_plan_destroy(plan);
    }
    gsl_integration_workspace_free(room);
    ck_assert_int_gt(spread, 30);
}
END_TEST

/* ---- even-at: where the guide's length is a whole number of usual steps ---- */

typedef struct wish {
    const bw_curve *edge;
    double from_edge, length;
} wish;

static double too_long(double shift, void *context) {
    const wish *w = context;
    bw_curve *line;
    ck_assert_int_eq(bw_curve_offset(w->edge, w->from_edge + shift, NULL, &line), BW_OK);
    double left = bw_curve_length(line) - w->length;
    bw_curve_destroy(line);
    return left;
}

START_TEST(even_at_is_the_root) {
    int found = 0;
    srand(8);
    for (int round = 0; round < 80; round++) {
        if (round % 2 == 0)
            sample_circle(&piece, roll(80, 200));
        else
            sample_rectangle(&piece, roll(120, 250), roll(120, 250), roll(30, 45));
        sample_basket(&piece, roll(3, 6), roll(12, 18), roll(6, 9), 4, 2.2, 1.1);
        bw_plan *plan = sample_plan(&piece);
        const bw_run_plan *run = &plan->bands[0].runs[0];
        if (run->has_even_at) {
            wish w = {plan->edge, plan->bands[0].guide_from_edge, run->count * run->usual_step};
            gsl_function f = {too_long, &w};
            gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
            gsl_root_fsolver_set(solver, &f, -3, 6);
            for (int i = 0;
                 i < 100 && gsl_root_test_interval(gsl_root_fsolver_x_lower(solver), gsl_root_fsolver_x_upper(solver),
                                                   1e-12, 0) == GSL_CONTINUE;
                 i++)
                gsl_root_fsolver_iterate(solver);
            ck_assert_double_eq_tol(run->guide_shift, gsl_root_fsolver_root(solver), 1e-9);
            gsl_root_fsolver_free(solver);
            found++;
        }
        bw_plan_destroy(plan);
    }
    ck_assert_int_gt(found, 40);
}
END_TEST

Suite *outside_quadrature_suite(void) {
    Suite *suite = suite_create("outside: quadrature and roots");
    TCase *tc = tcase_create("GSL");
    tcase_add_test(tc, areas_agree_with_green_by_quadrature);
    tcase_add_test(tc, straights_hold_the_count_by_quadrature);
    tcase_add_test(tc, even_at_is_the_root);
    suite_add_tcase(suite, tc);
    return suite;
}
