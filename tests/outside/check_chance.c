/* check_chance.c - chances and quantiles against the GNU Scientific Library's. */
#include <check.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <math.h>

#include "bandwright/base.h"
#include "bandwright/chance.h"

Suite *outside_chance_suite(void);

#define SAME 1e-9 /* relative */

static const double chances[] = {1e-6, 0.001, 0.01, 0.025, 0.1, 0.3, 0.499, 0.5, 0.6, 0.9, 0.95, 0.975, 0.999};
static const double freedoms[] = {0.5, 1, 1.7, 2, 3, 4.5, 10, 19, 38.6, 100, 999, 10000, 100000};

enum { CHANCES = sizeof chances / sizeof chances[0], FREEDOMS = sizeof freedoms / sizeof freedoms[0] };

static void same(const char *what, double at, double freedom, double ours, double theirs) {
    ck_assert_msg(fabs(ours - theirs) <= SAME * fmax(fabs(theirs), 1e-3), "%s at %g, freedom %g: %.15g, GSL has %.15g",
                  what, at, freedom, ours, theirs);
}

START_TEST(quantiles_agree) {
    gsl_set_error_handler_off();
    for (int i = 0; i < CHANCES; i++) {
        double p = chances[i];
        same("normal", p, 0, bw_normal_quantile(p), gsl_cdf_ugaussian_Pinv(p));
        for (int j = 0; j < FREEDOMS; j++) {
            same("Student's t", p, freedoms[j], bw_student_quantile(p, freedoms[j]),
                 gsl_cdf_tdist_Pinv(p, freedoms[j]));
            double ours = bw_chi_square_quantile(p, freedoms[j]), theirs = gsl_cdf_chisq_Pinv(p, freedoms[j]);
            if (isnan(theirs)) /* it gives up far out; its chances hold there */
                same("chance of the chi-square", ours, freedoms[j], p, gsl_cdf_chisq_P(ours, freedoms[j]));
            else
                same("chi-square", p, freedoms[j], ours, theirs);
        }
    }
}
END_TEST

/* One degree of freedom has a closed form, which GSL misses far out: tan((p - 1/2) pi). */
START_TEST(far_tails_of_one_degree) {
    for (double p = 1e-12; p < 0.1; p *= 10)
        same("t", p, 1, bw_student_quantile(p, 1), -1 / tan(p * BW_PI));
}
END_TEST

START_TEST(chances_agree) {
    static const double far[] = {-40, -6, -1.3, -0.01, 0, 0.2, 1, 1.96, 5, 12.7, 100};
    for (size_t i = 0; i < sizeof far / sizeof far[0]; i++) {
        same("normal below", far[i], 0, bw_normal_below(far[i]), gsl_cdf_ugaussian_P(far[i]));
        for (int j = 0; j < FREEDOMS; j++) {
            same("t below", far[i], freedoms[j], bw_student_below(far[i], freedoms[j]),
                 gsl_cdf_tdist_P(far[i], freedoms[j]));
            double x = fabs(far[i]) * freedoms[j] / 5;
            same("chi-square below", x, freedoms[j], bw_chi_square_below(x, freedoms[j]),
                 gsl_cdf_chisq_P(x, freedoms[j]));
        }
    }
}
END_TEST

START_TEST(ends_and_nonsense) {
    ck_assert(bw_normal_quantile(0) == -INFINITY && bw_normal_quantile(1) == INFINITY);
    ck_assert(bw_chi_square_below(INFINITY, 3) == 1 && isnan(bw_chi_square_below(3, INFINITY)));
    ck_assert(isnan(bw_chi_square_quantile(0.5, INFINITY)));
    ck_assert(bw_student_quantile(0.975, 1e-3) == INFINITY && bw_student_quantile(0.025, 1e-3) == -INFINITY);
    ck_assert(bw_chi_square_quantile(0, 3) == 0 && bw_chi_square_quantile(1, 3) == INFINITY);
    ck_assert(isnan(bw_normal_quantile(-0.1)) && isnan(bw_student_quantile(0.5, 0)) && isnan(bw_student_below(1, -1)) &&
              isnan(bw_chi_square_quantile(NAN, 3)) && isnan(bw_chi_square_below(NAN, 3)));
}
END_TEST

Suite *outside_chance_suite(void) {
    Suite *suite = suite_create("outside/chance");
    TCase *tests = tcase_create("chance");
    tcase_set_timeout(tests, 0);
    tcase_add_test(tests, quantiles_agree);
    tcase_add_test(tests, far_tails_of_one_degree);
    tcase_add_test(tests, chances_agree);
    tcase_add_test(tests, ends_and_nonsense);
    suite_add_tcase(suite, tests);
    return suite;
}
