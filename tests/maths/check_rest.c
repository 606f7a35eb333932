/* check_rest.c - a round that is struck in part closes if the advice is followed step by step, and what is said of the
 * rows holds where the steps then lie: measured on the guide itself, not by the judgement that is tested. */
#include <check.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "maths/demo.h"

Suite *maths_rest_suite(void);

#define CLOSES 0.01 /* mm */

static const double drifts[] = {0, 0.1, -0.1, 0.5, -0.5, 1.3, -1.3, 3.7, -3.7};
enum { DRIFTS = sizeof drifts / sizeof drifts[0] };

/* ---- an own measure of what the rows feel ---- */

static double turned(const demo *d, const bw_run_plan *run, double from, double to) {
    double length = run->to - run->from;
    double a = run->from + fmod(from, length), b = run->from + (run->closed ? fmod(to, length) : to);
    double turn = bw_curve_at(d->guide, b - 1e-7).heading - bw_curve_at(d->guide, a + 1e-7).heading;
    return remainder(turn, 2 * BW_PI);
}

/* The least and the greatest share of overlap, or of the give, over every step and line. */
static void felt(const demo *d, const bw_run_plan *run, const double *places, int steps, double share[2]) {
    const bw_band_plan *band = &d->plan->bands[0];
    share[0] = INFINITY;
    share[1] = -INFINITY;
    for (int i = 0; i < steps; i++) {
        double turn = turned(d, run, places[i], places[i + 1]);
        for (size_t k = 0; k < band->line_count; k++) {
            double step = places[i + 1] - places[i] - (band->lines[k].from_edge - band->guide_from_edge) * turn;
            double one = (band->most - step) / (band->most - band->least);
            share[0] = fmin(share[0], one);
            share[1] = fmax(share[1], one);
        }
    }
}

static void follow(const demo *d, const bw_rest *rest, size_t index, bool round_guide) {
    const bw_run_plan *run = &d->plan->bands[0].runs[rest->run];
    const bw_rest_count *one = &rest->counts[index];
    double *places = calloc((size_t)one->steps + 1, sizeof *places), share[2];
    ck_assert_ptr_nonnull(places);
    bw_rest_places(d->plan, rest, index, places);
    ck_assert_double_le(fabs(places[one->steps] - places[0] - rest->left), CLOSES);
    double first = bw_rest_planned(d->plan, 0, rest->run, 1), longest = bw_rest_longest(d->plan, 0, rest->run);
    ck_assert_double_eq_tol(first, longest, 1e-9); /* where it closes is where the plan does */
    double sum = 0;
    int steps = 0;
    for (int i = 0; i < one->steps; i++) {
        ck_assert_double_gt(places[i + 1], places[i]);
        sum += places[i + 1] - places[i];
        steps++;
    }
    ck_assert_int_eq(steps, one->count - rest->struck + (run->closed ? 1 : 0));
    ck_assert_double_le(fabs(sum - rest->left), CLOSES);
    felt(d, run, places, one->steps, share);
    if (one->works) {
        ck_assert_double_ge(share[0], -1e-6);
        ck_assert_double_le(share[1], 1 + 1e-6);
    } else if (round_guide && one->steps > 0) /* it bends everywhere alike: what fails, fails at every step */
        ck_assert(share[0] < 1e-6 || share[1] > 1 - 1e-6);
    free(places);
}

static int by_place(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y;
}

/* Where the guide's impressions of a run stand by the plan's own list, in order, mm along the guide. */
static int placed(const demo *d, size_t run, double *along) {
    bw_placing *list;
    size_t count;
    int found = 0;
    bool two = d->band.fill == BW_FILL_BASKET && d->band.lay == BW_LAY_STRAIGHT;
    ck_assert_int_eq(bw_placings_create(d->plan, 0, NULL, &list, &count), BW_OK);
    for (size_t i = 0; i < count; i++)
        if (list[i].run == (int)run + 1 && (two ? abs(list[i].row) == 1 : list[i].row == 0))
            along[found++] = list[i].along;
    bw_placings_release(list, NULL);
    qsort(along, (size_t)found, sizeof *along, by_place);
    return found;
}

/* The part struck: the plan's impressions, by its own list of them, drawn out to what was measured. */
static void check_struck(const demo *d, const bw_rest *rest, const double *along) {
    const bw_run_plan *run = &d->plan->bands[0].runs[rest->run];
    double *places = calloc((size_t)rest->struck, sizeof *places), share[2];
    double gone = bw_rest_longest(d->plan, 0, rest->run) - rest->left, planned = along[rest->struck - 1] - along[0];
    double begin =
        run->closed ? along[0] - run->from : (run->to - run->from - bw_rest_longest(d->plan, 0, rest->run)) / 2;
    ck_assert_int_eq(rest->part.steps, rest->struck - 1);
    for (int i = 0; i < rest->struck && planned > 0; i++)
        places[i] = begin + (along[i] - along[0]) * gone / planned;
    felt(d, run, places, rest->struck - 1, share);
    bool works = rest->struck == 1 || (share[0] >= 0 && share[1] <= 1);
    bool near = fmin(fabs(share[0]), fabs(share[1] - 1)) < 1e-6;
    ck_assert_msg(rest->part.works == works || near, "%d struck, %g left: %g .. %g", rest->struck, rest->left, share[0],
                  share[1]);
    free(places);
}

START_TEST(the_advice_closes_the_round) {
    demo d;
    int followed = 0, refused = 0, struck[2] = {0, 0};
    static double along[2000];
    demo_makers[_i](&d);
    demo_make(&d);
    for (size_t run = 0; run < d.plan->bands[0].run_count; run++) {
        double longest = bw_rest_longest(d.plan, 0, run);
        bool closed = d.plan->bands[0].runs[run].closed;
        int found = placed(&d, run, along);
        for (int n = 1; n <= d.plan->bands[0].runs[run].count; n++)
            for (int k = 0; k < DRIFTS; k++) {
                bw_rest *rest;
                double left = bw_rest_planned(d.plan, 0, run, n) + drifts[k];
                if (left > longest + 1e-6 || left < 0 || (closed && left < 1e-6))
                    continue;
                ck_assert_int_eq(demo_measure(&d, run, n, left, &rest), BW_OK);
                for (size_t i = 0; i < rest->count; i++) {
                    follow(&d, rest, i, d.layout.outline.shape == BW_CIRCLE);
                    ck_assert(i == 0 || rest->counts[i - 1].works >= rest->counts[i].works);
                    followed += rest->counts[i].works;
                    refused += !rest->counts[i].works;
                }
                if (n <= found)
                    check_struck(&d, rest, along);
                struck[rest->part.works]++;
                bw_rest_destroy(rest);
            }
    }
    ck_assert_int_gt(followed, 100);
    ck_assert_int_gt(refused, 10);
    ck_assert_int_gt(struck[true], 100);
    ck_assert_int_gt(struck[false], 3);
    demo_end(&d);
}
END_TEST

/* The best count followed for a while, with a drift of its own, and then measured again: what was told is where the
 * advice had the hand by then, and what is told now closes the round, too. */
START_TEST(a_second_advice_closes_the_round) {
    demo d;
    int again = 0;
    static double places[2000];
    demo_makers[_i](&d);
    demo_make(&d);
    for (size_t run = 0; run < d.plan->bands[0].run_count; run++)
        for (int n = 2; n < d.plan->bands[0].runs[run].count - 3; n += 5)
            for (int k = 0; k < DRIFTS; k++) {
                bw_rest *rest, *second;
                double left = bw_rest_planned(d.plan, 0, run, n) + drifts[k];
                ck_assert_int_eq(demo_measure(&d, run, n, left, &rest), BW_OK);
                const bw_rest_count *one = &rest->counts[0];
                int since = 1 + one->steps / 3;
                bw_rest_places(d.plan, rest, 0, places);
                double told = places[one->steps] - places[since];
                bw_measure m = {.run = run, .struck = n + since, .left = told + drifts[DRIFTS - 1 - k] / 2};
                m.told_at = n;
                m.told_left = left;
                m.told_count = one->count;
                if (m.left > 1 && since < one->steps) {
                    ck_assert_int_eq(bw_rest_create(d.plan, &m, NULL, &second), BW_OK);
                    ck_assert_double_eq_tol(second->told, told, 1e-9);
                    for (size_t i = 0; i < second->count; i++)
                        follow(&d, second, i, d.layout.outline.shape == BW_CIRCLE);
                    again++;
                    bw_rest_destroy(second);
                }
                bw_rest_destroy(rest);
            }
    ck_assert_int_gt(again, 20);
    demo_end(&d);
}
END_TEST

START_TEST(without_drift_it_is_the_plan) {
    demo d;
    static double along[2000], places[2000];
    demo_makers[_i](&d);
    demo_make(&d);
    ck_assert_int_ge(d.plan->bands[0].fit.verdict, BW_TIGHT);
    for (size_t run = 0; run < d.plan->bands[0].run_count; run++) {
        const bw_run_plan *plan = &d.plan->bands[0].runs[run];
        int found = placed(&d, run, along);
        for (int n = 1; n < plan->count; n++) {
            bw_rest *rest;
            double left = bw_rest_planned(d.plan, 0, run, n);
            ck_assert_int_eq(demo_measure(&d, run, n, left, &rest), BW_OK);
            const bw_rest_count *best = &rest->counts[0];
            ck_assert_int_eq(best->count, plan->count);
            ck_assert(best->as_planned && best->works && !best->fell_back);
            ck_assert_double_le(fabs(best->change), 1e-9);
            bw_rest_places(d.plan, rest, 0, places);
            for (int i = 0; n - 1 + i < found; i++)
                ck_assert_double_eq_tol(fmod(places[i], plan->to - plan->from + 1e-7), along[n - 1 + i] - plan->from,
                                        1e-6);
            bw_rest_destroy(rest);
        }
    }
    demo_end(&d);
}
END_TEST

START_TEST(a_round_by_hand) {
    demo d;
    bw_rest *rest;
    demo_lid(&d);
    demo_make(&d);
    /* The guide lies 12 mm in: a circle of radius 48, 2 pi 48 = 301.593 mm long (maths by hand). */
    const bw_run_plan *run = &d.plan->bands[0].runs[0];
    ck_assert_double_eq_tol(bw_rest_longest(d.plan, 0, 0), 2 * BW_PI * 48, 1e-9);
    ck_assert_int_eq(demo_measure(&d, 0, 12, 220, &rest), BW_OK);
    ck_assert_double_eq_tol(rest->struck_step, (2 * BW_PI * 48 - 220) / 11, 1e-9);
    for (size_t i = 0; i < rest->count; i++) {
        const bw_rest_count *one = &rest->counts[i];
        ck_assert_int_eq(one->steps, one->count - 11); /* the one that meets the first counts */
        ck_assert_double_eq_tol(one->step, 220.0 / (one->count - 11), 1e-9);
        ck_assert_int_eq(one->count % 2, 0);
        /* Rails 3.3 mm apart: the outermost and innermost line by the radius they lie on, common practice of the lay.
         */
        const bw_band_plan *band = &d.plan->bands[0];
        double out = 0, in = INFINITY;
        for (size_t k = 0; k < band->line_count; k++) {
            out = fmax(out, one->step * (60 - band->lines[k].from_edge) / 48);
            in = fmin(in, one->step * (60 - band->lines[k].from_edge) / 48);
        }
        ck_assert_double_eq_tol(one->reach_mm, band->most - out, 1e-9);
        ck_assert_double_eq_tol(one->crowd_mm, in - band->least, 1e-9);
        ck_assert_int_eq(one->works, out <= band->most && in >= band->least);
    }
    ck_assert_int_gt(run->count, 12);
    bw_rest_destroy(rest);
    demo_end(&d);
}
END_TEST

START_TEST(rows_that_are_left_out_make_it_work) {
    demo d;
    int seen = 0, several = 0;
    demo_lid(&d);
    d.band.width = 20; /* rows of which more than one fails on a side */
    demo_make(&d);
    const bw_band_plan *band = &d.plan->bands[0];
    double radius = 60 - band->guide_from_edge;
    for (int tenths = 1; tenths < 400; tenths++) {
        bw_rest *rest;
        ck_assert_int_eq(demo_measure(&d, 0, 39, tenths / 10.0, &rest), BW_OK);
        for (size_t i = 0; i < rest->count; i++) {
            const bw_rest_count *one = &rest->counts[i];
            if (one->works || one->leave_outer < 0)
                continue;
            ck_assert_int_gt(one->leave_outer + one->leave_inner, 0);
            for (size_t k = (size_t)one->leave_outer; k < band->line_count - (size_t)one->leave_inner; k++) {
                double step = one->step * (60 - band->lines[k].from_edge) / radius;
                ck_assert(step <= band->most + 1e-9 && step >= band->least - 1e-9);
            }
            several += one->leave_outer + one->leave_inner > 1;
            seen++;
        }
        bw_rest_destroy(rest);
    }
    ck_assert(seen > 5 && several > 5);
    demo_end(&d);
}
END_TEST

/* Where nothing works, what the nearest count leaves open when each of its steps is as wide as the tool's widest; and
 * how much longer the next step is than those struck on the mean. */
START_TEST(what_stays_open_and_the_jump_by_hand) {
    demo d;
    int open = 0, shut = 0, longer = 0, shorter = 0;
    demo_lid(&d);
    demo_make(&d);
    double longest = 2 * BW_PI * 48, widest = d.plan->bands[0].most;
    ck_assert_double_gt(widest, d.plan->bands[0].usual + 0.1);
    for (int tenths = 1; tenths < 400; tenths++) {
        bw_rest *rest;
        double left = tenths / 10.0, mean = (longest - left) / 38;
        ck_assert_int_eq(demo_measure(&d, 0, 39, left, &rest), BW_OK);
        double over = rest->works > 0 ? 0 : fmax(left - rest->counts[0].steps * widest, 0);
        ck_assert_double_eq_tol(rest->open, over, 1e-9);
        open += rest->open > 0.1;
        shut += rest->works == 0 && rest->open == 0;
        for (size_t i = 0; i < rest->count; i++) {
            /* the fewest over which 3 % of the usual step each make up for all of it: common practice */
            double gap = fabs(left - rest->counts[i].steps * (longest / 40)), each = 0.03 * d.plan->bands[0].usual;
            int fewest = gap > each ? (int)ceil(gap / each - 1e-9) : 1;
            ck_assert_int_eq(rest->counts[i].spread, fewest <= rest->counts[i].steps ? fewest : 0);
            ck_assert_double_eq_tol(rest->counts[i].jump, left / rest->counts[i].steps - mean, 1e-9);
            longer += rest->counts[i].jump > 0.1;
            shorter += rest->counts[i].jump < -0.1;
        }
        bw_rest_destroy(rest);
    }
    ck_assert(open > 5 && shut > 5 && longer > 5 && shorter > 5);
    demo_end(&d);
}
END_TEST

START_TEST(senseless_is_refused) {
    demo d;
    bw_rest *rest;
    demo_lid(&d);
    demo_make(&d);
    double longest = bw_rest_longest(d.plan, 0, 0);
    static const bw_measure bad[] = {{1, 0, 5, 100, 0, 0, 0, 0, 0},
                                     {0, 1, 5, 100, 0, 0, 0, 0, 0},
                                     {0, 0, 0, 100, 0, 0, 0, 0, 0},
                                     {0, 0, -3, 100, 0, 0, 0, 0, 0},
                                     {0, 0, 5, 0, 0, 0, 0, 0, 0},
                                     {0, 0, 5, -1, 0, 0, 0, 0, 0},
                                     {0, 0, 5, NAN, 0, 0, 0, 0, 0},
                                     {0, 0, 5, INFINITY, 0, 0, 0, 0, 0},
                                     {0, 0, 5, 1e6, 0, 0, 0, 0, 0},
                                     {0, 0, 20, 100, 18, 0, 0, 0, 0},
                                     {0, 0, 20, 100, 0, 21, 90, 40, 0},
                                     {0, 0, 20, 100, 0, 9, NAN, 40, 0},
                                     {0, 0, 20, 100, 0, 9, 1e6, 40, 0},
                                     {0, 0, 20, 100, 0, 9, 200, 8, 0},
                                     {0, 0, 20, 100, 0, -2, 200, 40, 0},
                                     {0, 0, 20, 100, 0, 0, 0, 0, NAN},
                                     {0, 0, 20, 100, 0, 0, 0, 0, -1},
                                     {0, 0, 20, 100, 0, 9, 200, 1 << 30, 0},
                                     {0, 0, BW_COUNT_MOST + 1, 100, 0, 0, 0, 0, 0},
                                     {0, 0, INT_MAX, 100, 0, 0, 0, 0, 0},
                                     {0, 0, 20, 100, BW_COUNT_MOST + 1, 0, 0, 0, 0}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        ck_assert_int_eq(bw_rest_create(d.plan, &bad[i], NULL, &rest), BW_BAD_VALUE);
        ck_assert_ptr_null(rest);
    }
    ck_assert(isnan(bw_rest_planned(d.plan, 0, 0, 0)) && isnan(bw_rest_planned(d.plan, 3, 0, 1)));
    ck_assert_int_eq(demo_measure(&d, 0, 1, longest, &rest), BW_OK);
    bw_rest_destroy(rest);
    demo_end(&d);
}
END_TEST

Suite *maths_rest_suite(void) {
    Suite *suite = suite_create("maths/rest");
    TCase *tests = tcase_create("rest");
    tcase_set_timeout(tests, 60);
    tcase_add_loop_test(tests, the_advice_closes_the_round, 0, DEMOS);
    tcase_add_loop_test(tests, a_second_advice_closes_the_round, 0, DEMOS);
    tcase_add_loop_test(tests, without_drift_it_is_the_plan, 0, DEMOS);
    tcase_add_test(tests, a_round_by_hand);
    tcase_add_test(tests, rows_that_are_left_out_make_it_work);
    tcase_add_test(tests, what_stays_open_and_the_jump_by_hand);
    tcase_add_test(tests, senseless_is_refused);
    suite_add_tcase(suite, tests);
    return suite;
}
