/* check_trade.c - facts of the hand-tooling trade as properties of the plan.
 *
 * Source of each where none is named: common practice. Lids measure 60 to 150 mm, a medium basket stamp 8 to 10 mm by 4
 * to 6 mm with bar and legs of about a third of its length (common practice).
 */
#include <check.h>
#include <math.h>

#include "maths/sample.h"

Suite *published_trade_suite(void);

static sample lid;

/* A lid with one basket band of three to four rows, and its plan. */
static bw_plan *lid_plan(double diameter, double width, double length, double leg_share, double overlap) {
    sample_circle(&lid, diameter);
    double bar = length * (1 - 2 * leg_share);
    bw_band *band = sample_basket(&lid, 5, width, length, length / 2, bar, 0.28 * length / 2);
    band->overlap = overlap;
    return sample_plan(&lid);
}

START_TEST(half_overlap_leaves_both_sides_workable) {
    for (double diameter = 60; diameter <= 150; diameter += 5) {
        double length = diameter < 100 ? 5.5 : 9; /* a small stamp on a small lid */
        bw_plan *plan = lid_plan(diameter, 15 * length / 9, length, 1.0 / 3, 0.5);
        const bw_fit *fit = &plan->bands[0].fit;
        ck_assert_msg(fit->verdict >= BW_TIGHT && fit->reach > 0 && fit->crowd > 0, "%g mm: %s, reach %g, crowd %g",
                      diameter, bw_verdict_word(fit->verdict), fit->reach, fit->crowd);
        ck_assert_int_lt(plan->bands[0].lines[0].line, 0);
        ck_assert_int_gt(plan->bands[0].lines[plan->bands[0].line_count - 1].line, 0);
        bw_plan_destroy(plan);
    }
}
END_TEST

START_TEST(full_overlap_crowds_the_inner_rows) {
    for (double diameter = 100; diameter <= 150; diameter += 5) {
        bw_plan *plan = lid_plan(diameter, 15, 9, 1.0 / 3, 0.5);
        /* struck up to the bar: steps of a length less a leg, 6 mm */
        lid.bands[0].count = 2 * (int)floor(plan->bands[0].guide_length / 6 / 2);
        bw_plan_destroy(plan);
        plan = sample_plan(&lid);
        const bw_fit *fit = &plan->bands[0].fit;
        ck_assert_double_ge(plan->bands[0].runs[0].step, 6);
        ck_assert_double_lt(fit->crowd, 0);
        ck_assert_int_gt(fit->crowd_line, 0);
        ck_assert_double_gt(fit->reach, 0.5); /* outside there is legs' length to spare */
        ck_assert_msg(fit->verdict == BW_CROWDS_INSIDE || fit->bend < 0, "%g mm: %s", diameter,
                      bw_verdict_word(fit->verdict));
        bw_plan_destroy(plan);
    }
}
END_TEST

START_TEST(short_legs_fail_outside) {
    bw_plan *plan = lid_plan(100, 15, 9, 0.1, NAN);
    const bw_fit *fit = &plan->bands[0].fit;
    ck_assert_msg(fit->verdict == BW_LEGS_SHORT || fit->verdict == BW_OPENS_OUTSIDE, "%s",
                  bw_verdict_word(fit->verdict));
    ck_assert_double_lt(fit->reach, 0);
    ck_assert_int_eq(fit->reach_line, plan->bands[0].lines[0].line);
    ck_assert_int_lt(fit->reach_line, 0);
    ck_assert_double_gt(fit->needed_leg, plan->bands[0].face.leg);
    double needed = fit->needed_leg / 9;
    bw_plan_destroy(plan);

    /* ... and with the leg that would do they reach, at the step in the middle of what is then left */
    plan = lid_plan(100, 15, 9, needed + 0.02, NAN);
    ck_assert_msg(plan->bands[0].fit.verdict != BW_LEGS_SHORT, "%s", bw_verdict_word(plan->bands[0].fit.verdict));
    bw_plan_destroy(plan);
}
END_TEST

START_TEST(long_legs_fail_on_the_bend) {
    bw_plan *plan = lid_plan(70, 14, 18, 0.4, NAN);
    ck_assert_int_eq(plan->bands[0].fit.verdict, BW_LEGS_LONG);
    ck_assert_double_lt(plan->bands[0].fit.bend, 0);
    bw_plan_destroy(plan);
    plan = lid_plan(70, 14, 5, 0.4, NAN); /* a shorter stamp lies along the same bend */
    ck_assert_double_gt(plan->bands[0].fit.bend, 0);
    bw_plan_destroy(plan);
}
END_TEST

/* "Radius at least four face lengths for a full-overlap lay": common practice. */
START_TEST(full_overlap_bends_from_four_face_lengths_on) {
    for (double length = 5; length <= 15; length += 2.5) {
        sample_circle(&lid, 2 * (5 * length));
        bw_band *band = sample_basket(&lid, 0, 2 * length, length, length / 2, length / 3, 0.28 * length / 2);
        band->overlap = 1;
        bw_plan *plan = sample_plan(&lid); /* the guide has a radius of four lengths */
        ck_assert_double_eq_tol(plan->bands[0].guide_least_radius, 4 * length, 1e-9);
        bw_plan_destroy(plan);
        band->width = length; /* two whole rows along the guide */
        band->space = length / 2;
        plan = sample_plan(&lid);
        ck_assert_msg(plan->bands[0].fit.bend > 0, "%g: bend %g", length, plan->bands[0].fit.bend);
        bw_plan_destroy(plan);
    }
}
END_TEST

START_TEST(small_stamp_works_in_proportion) {
    for (double factor = 0.4; factor <= 1.6; factor += 0.2) {
        bw_plan *large = lid_plan(120, 15, 9, 1.0 / 3, NAN);
        double reach = large->bands[0].fit.reach, bend = large->bands[0].fit.bend;
        bw_verdict verdict = large->bands[0].fit.verdict;
        bw_plan_destroy(large);
        sample_scale(&lid, factor);
        bw_plan *small = sample_plan(&lid);
        ck_assert_int_eq(small->bands[0].fit.verdict, verdict);
        ck_assert_double_eq_tol(small->bands[0].fit.reach, reach, 1e-9);
        ck_assert_double_eq_tol(small->bands[0].fit.bend, bend, 1e-9);
        bw_plan_destroy(small);
    }
}
END_TEST

START_TEST(rows_of_a_closed_round_close_too) {
    for (double diameter = 80; diameter <= 150; diameter += 3.7) {
        bw_plan *plan = lid_plan(diameter, 18, 9, 1.0 / 3, NAN);
        ck_assert_int_eq(plan->bands[0].runs[0].count % 2, 0);
        for (size_t i = 0; i < plan->bands[0].row_count; i++) {
            ck_assert_int_eq(plan->bands[0].rows[i].impressions, plan->bands[0].runs[0].count / 2);
        }
        bw_plan_destroy(plan);
    }
}
END_TEST

static bool warns(const bw_plan *plan, bw_warning_kind kind) {
    for (size_t i = 0; i < plan->warning_count; i++) {
        if (plan->warnings[i].kind == kind) {
            return true;
        }
    }
    return false;
}

/* "Spreading 2-3 % a step is not seen": one impression of 80 fewer is 1.3 %, four fewer over 5 %. */
START_TEST(large_correction_shows) {
    sample_circle(&lid, 5 * 80 / BW_PI);
    bw_band *band = sample_border(&lid, 0, 5, 5, 5);
    band->guide = 0;
    const struct {
        int count;
        bool seen;
    } cases[] = {{80, false}, {79, false}, {78, false}, {77, true}, {76, true}, {83, true}, {82, false}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        band->count = cases[i].count;
        bw_plan *plan = sample_plan(&lid);
        ck_assert_msg(warns(plan, BW_WARN_STRETCH) == cases[i].seen, "%d impressions", cases[i].count);
        bw_plan_destroy(plan);
    }
}
END_TEST

/* Alternating stamps need an even count. */
START_TEST(alternating_stamps_come_out_even) {
    for (double diameter = 60; diameter <= 150; diameter += 3.1) {
        sample_circle(&lid, diameter);
        sample_border(&lid, 3, 5, 5, 5)->group = 2;
        bw_plan *plan = sample_plan(&lid);
        ck_assert_int_eq(plan->bands[0].runs[0].count % 2, 0);
        bw_plan_destroy(plan);
    }
}
END_TEST

/* Flat work struck up to the bar tiles: in a row the next face stands a length and a bar away, its tip against the bar
 * of the row beside it. Plane geometry. */
START_TEST(flat_full_overlap_tiles) {
    sample_line(&lid, 300);
    sample_basket(&lid, 5, 20, 9, 4.6, 3, 1.3);
    bw_plan *plan = sample_plan(&lid);
    ck_assert_double_eq_tol(2 * plan->bands[0].usual, 9 + 3, 1e-12);
    ck_assert_double_eq_tol(plan->bands[0].fit.bend, 1, 1e-12);
    bw_plan_destroy(plan);
}
END_TEST

/* Our own polygon measurement of the same face: turn 23.7495 degrees, step 8.1939, rows apart 6.0411, the next row
 * moved by 0.6756 of a step, no miss of the rails. tests/outside repeats it with polygons. */
START_TEST(flat_angled_half_overlap) {
    sample_line(&lid, 300);
    bw_band *band = sample_basket(&lid, 5, 30, 9, 4.6, 3, 1.3);
    band->lay = BW_LAY_ANGLED;
    band->overlap = 0.5;
    bw_plan *plan = sample_plan(&lid);
    const bw_band_plan *planned = &plan->bands[0];
    ck_assert_double_eq_tol(planned->turn * 180 / BW_PI, 23.7495, 5e-5);
    ck_assert_double_eq_tol(planned->usual, 8.1939, 5e-5);
    ck_assert_double_eq_tol(planned->rows_apart, 6.0411, 5e-5);
    double apart[2] = {NAN, NAN};
    for (size_t i = 0; i < planned->row_count; i++) {
        if (planned->rows[i].row == 0 || planned->rows[i].row == 1) {
            apart[planned->rows[i].row] = planned->rows[i].shift;
        }
    }
    ck_assert_double_eq_tol(apart[1] - apart[0], 0.6756, 5e-5);
    bw_plan_destroy(plan);
}
END_TEST

Suite *published_trade_suite(void) {
    Suite *suite = suite_create("published/trade");
    TCase *tests = tcase_create("trade");
    tcase_add_test(tests, half_overlap_leaves_both_sides_workable);
    tcase_add_test(tests, full_overlap_crowds_the_inner_rows);
    tcase_add_test(tests, short_legs_fail_outside);
    tcase_add_test(tests, long_legs_fail_on_the_bend);
    tcase_add_test(tests, full_overlap_bends_from_four_face_lengths_on);
    tcase_add_test(tests, small_stamp_works_in_proportion);
    tcase_add_test(tests, rows_of_a_closed_round_close_too);
    tcase_add_test(tests, large_correction_shows);
    tcase_add_test(tests, alternating_stamps_come_out_even);
    tcase_add_test(tests, flat_full_overlap_tiles);
    tcase_add_test(tests, flat_angled_half_overlap);
    suite_add_tcase(suite, tests);
    return suite;
}
