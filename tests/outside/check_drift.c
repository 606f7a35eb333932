/* check_drift.c - the chance that no jump shows is an integral over how a run as a whole differs: against the GNU
 * Scientific Library's quadrature and distribution. */
#include <check.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdlib.h>

#include "bandwright/bandwright.h"

Suite *outside_drift_suite(void);

enum { CELLS = 4000 };

typedef struct asked {
    bw_drift drift;
    int marks;
} asked;

static double roll(double least, double most) {
    return least + (most - least) * (rand() / (double)RAND_MAX);
}

static double product(double more, void *context) {
    const asked *a = context;
    const bw_drift *d = &a->drift;
    double chance = gsl_ran_gaussian_pdf(more, d->between);
    for (int i = 0; i <= a->marks; i++) {
        int n = bw_mark_at(d->steps, a->marks + 1, i + 1) - bw_mark_at(d->steps, a->marks + 1, i);
        double mean = n * (d->bias + more), deviation = hypot(sqrt(n) * d->sigma, i > 0 ? d->reading : 0);
        chance *=
            gsl_cdf_gaussian_P(d->tolerance - mean, deviation) - gsl_cdf_gaussian_P(-d->tolerance - mean, deviation);
    }
    return chance;
}

START_TEST(the_integral_agrees) {
    gsl_integration_workspace *room = gsl_integration_workspace_alloc(CELLS);
    srand(20260302);
    for (int i = 0; i < 300; i++) {
        asked a = {{20 + rand() % 120, 7.5, roll(0.005, 0.15), roll(0.001, 0.08), roll(-0.02, 0.02), roll(0, 0.15),
                    roll(0.1, 0.8)},
                   1 + rand() % 9};
        gsl_function f = {product, &a};
        double sum, error, far = 9 * a.drift.between, whole = 0;
        for (int k = -30; k < 30; k++) { /* in small parts: the integrand is steep */
            gsl_integration_qag(&f, k * far / 30, (k + 1) * far / 30, 1e-11, 1e-9, CELLS, GSL_INTEG_GAUSS31, room, &sum,
                                &error);
            whole += sum;
        }
        bw_closing c = bw_closing_chance(&a.drift, BW_WAY_ANEW, a.marks);
        ck_assert_double_eq_tol(c.unseen, fmin(whole, c.closes), 1e-7);
    }
    gsl_integration_workspace_free(room);
}
END_TEST

Suite *outside_drift_suite(void) {
    Suite *suite = suite_create("outside/drift");
    TCase *tests = tcase_create("drift");
    tcase_set_timeout(tests, 0);
    tcase_add_test(tests, the_integral_agrees);
    suite_add_tcase(suite, tests);
    return suite;
}
