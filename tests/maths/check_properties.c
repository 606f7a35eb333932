/* check_properties.c - what must hold for any layout, tried on random ones. */
#include <check.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "maths/measure.h"
#include "maths/random.h"
#include "maths/sample.h"

Suite *maths_properties_suite(void);

enum { LAYOUTS = 200 };

/* A random project and a copy of its values that may be changed. */
typedef struct trial {
    measured m;
    sample s;
    char name[40];
} trial;

static void open_trial(trial *t, unsigned seed) {
    char *text = random_project(seed);
    snprintf(t->name, sizeof t->name, "random layout %u", seed);
    ck_assert_msg(measured_open(&t->m, text, t->name), "%s:\n%s", t->name, text);
    free(text);
    const bw_layout *layout = &t->m.project->layout;
    ck_assert_uint_le(layout->band_count, SAMPLE_BANDS);
    ck_assert_uint_le(layout->tool_count, SAMPLE_BANDS);
    t->s.layout = *layout;
    memcpy(t->s.bands, layout->bands, layout->band_count * sizeof *layout->bands);
    memcpy(t->s.tools, layout->tools, layout->tool_count * sizeof *layout->tools);
    t->s.layout.bands = t->s.bands;
    t->s.layout.tools = t->s.tools;
}

static void close_trial(trial *t) {
    measured_close(&t->m);
}

static void same_run(const trial *t, const bw_run_plan *one, const bw_run_plan *other, double factor) {
    ck_assert_msg(one->count == other->count, "%s: %d impressions, then %d", t->name, one->count, other->count);
    ck_assert_msg(fabs(one->step * factor - other->step) <= 1e-9 * other->step, "%s: step", t->name);
    ck_assert_msg(one->feasible_least == other->feasible_least && one->feasible_most == other->feasible_most,
                  "%s: feasible", t->name);
    ck_assert_msg(fabs(one->closure_gap * factor - other->closure_gap) <= 1e-8 * factor, "%s: gap", t->name);
}

/* Scaling tool and piece together changes no verdict. */
START_TEST(scaling) {
    int compared = 0;
    for (unsigned seed = 0; seed < LAYOUTS; seed++) {
        trial t;
        open_trial(&t, seed);
        double factor = seed % 2 == 0 ? 2 : 0.75;
        sample_scale(&t.s, factor);
        t.s.layout.grid *= factor;
        if (bw_layout_check(&t.s.layout) == BW_OK) {
            bw_plan *scaled = sample_plan(&t.s);
            for (size_t i = 0; i < scaled->band_count; i++) {
                const bw_band_plan *before = &t.m.plan->bands[i], *after = &scaled->bands[i];
                ck_assert_msg(before->fit.verdict == after->fit.verdict, "%s band %zu: %s, then %s", t.name, i,
                              bw_verdict_word(before->fit.verdict), bw_verdict_word(after->fit.verdict));
                ck_assert_uint_eq(before->run_count, after->run_count);
                for (size_t k = 0; k < before->run_count; k++) {
                    same_run(&t, &before->runs[k], &after->runs[k], factor);
                }
                ck_assert_double_eq_tol(before->fit.reach, after->fit.reach, 1e-9 * (1 + fabs(after->fit.reach)));
                ck_assert_double_eq_tol(before->fit.crowd, after->fit.crowd, 1e-9 * (1 + fabs(after->fit.crowd)));
                ck_assert_double_eq_tol(before->fit.bend, after->fit.bend, 1e-9 * (1 + fabs(after->fit.bend)));
                compared++;
            }
            bw_plan_destroy(scaled);
        }
        close_trial(&t);
    }
    ck_assert_int_gt(compared, LAYOUTS);
}
END_TEST

/* The settings that a hand would use add up to the length of the run. */
START_TEST(settings_add_up) {
    int compared = 0;
    for (unsigned seed = 0; seed < LAYOUTS; seed++) {
        trial t;
        open_trial(&t, seed);
        for (size_t i = 0; i < t.m.plan->band_count; i++) {
            const bw_band_plan *band = &t.m.plan->bands[i];
            for (size_t k = 0; k < band->run_count; k++) {
                const bw_run_plan *run = &band->runs[k];
                double sum = 0;
                int steps = 0;
                for (size_t j = 0; j < run->setting_count && run->settings[j].where == BW_WHERE_STEPS; j++) {
                    sum += run->settings[j].steps * run->settings[j].step;
                    steps += run->settings[j].steps;
                }
                if (steps > 0) {
                    double length = run->to - run->from - (run->closed ? 0 : band->along_line);
                    ck_assert_msg(fabs(sum - length) <= 1e-9 * length, "%s: %.12g of %.12g", t.name, sum, length);
                    ck_assert_int_eq(steps, run->closed ? run->count : run->count - 1);
                    compared++;
                }
            }
        }
        close_trial(&t);
    }
    ck_assert_int_gt(compared, LAYOUTS);
}
END_TEST

/* A guide that is moved by what the plan says closes at the usual step. */
START_TEST(even_at_closes) {
    int compared = 0;
    for (unsigned seed = 0; seed < 2 * LAYOUTS; seed++) {
        trial t;
        open_trial(&t, seed);
        for (size_t i = 0; i < t.m.plan->band_count; i++) {
            const bw_band_plan *band = &t.m.plan->bands[i];
            if (band->run_count != 1 || !band->runs[0].has_even_at) {
                continue;
            }
            double guide = band->guide_from_edge + band->runs[0].guide_shift;
            ck_assert_double_ge(guide, band->outer - 1e-9);
            ck_assert_double_le(guide, band->inner + 1e-9);
            bw_band kept = t.s.bands[i];
            t.s.bands[i].guide_is_length = true;
            t.s.bands[i].guide = fmin(fmax((guide - band->outer) / t.m.shrink, 0), kept.width);
            t.s.bands[i].count = band->runs[0].count;
            t.s.bands[i].counts = NULL;
            bw_plan *moved = sample_plan(&t.s);
            const bw_run_plan *run = &moved->bands[i].runs[0];
            ck_assert_uint_eq(moved->bands[i].run_count, 1);
            ck_assert_msg(fabs(run->closure_gap) < 1e-9, "%s band %zu: %g left", t.name, i, run->closure_gap);
            bw_plan_destroy(moved);
            t.s.bands[i] = kept;
            compared++;
        }
        close_trial(&t);
    }
    ck_assert_int_gt(compared, LAYOUTS / 8);
}
END_TEST

/* A plan does not depend on what was planned before it. */
START_TEST(planning_twice_is_the_same) {
    for (unsigned seed = 0; seed < 40; seed++) {
        trial t;
        open_trial(&t, seed);
        bw_plan *again = sample_plan(&t.s);
        for (size_t i = 0; i < again->band_count; i++) {
            ck_assert_mem_eq(&again->bands[i].fit, &t.m.plan->bands[i].fit, sizeof again->bands[i].fit);
        }
        bw_plan_destroy(again);
        close_trial(&t);
    }
}
END_TEST

/* The finest stamp that a file may hold, all over the widest band along the longest line: more strikes than an int
 * holds. */
START_TEST(strikes_of_the_finest_stamp) {
    sample s;
    sample_line(&s, BW_LINE_MOST);
    sample_basket(&s, 0, BW_BAND_MOST, BW_BASKET_LEAST, 0.01, 0.6, 0.003);
    bw_plan *plan = sample_plan(&s);
    const bw_band_plan *band = &plan->bands[0];
    long long sum = 0;
    for (size_t i = 0; i < band->row_count; i++) {
        sum += band->rows[i].impressions;
    }
    ck_assert_int_gt(sum, INT_MAX);
    ck_assert_int_eq(band->strikes, sum);
    bw_plan_destroy(plan);
}
END_TEST

/* Steps that do not rise, filled in or measured, would divide by nothing: they are refused. */
START_TEST(steps_rise) {
    sample s;
    sample_circle(&s, 100);
    sample_border(&s, 0, 10, 5, 5);
    ck_assert_int_eq(bw_layout_check(&s.layout), BW_OK);
    s.tools[0].closest = 5; /* the usual step is the face */
    ck_assert_int_eq(bw_layout_check(&s.layout), BW_BAD_VALUE);
    s.tools[0].usual = 5.1;
    ck_assert_int_eq(bw_layout_check(&s.layout), BW_OK);
    s.tools[0].widest = 5.1;
    ck_assert_int_eq(bw_layout_check(&s.layout), BW_BAD_VALUE);
}
END_TEST

Suite *maths_properties_suite(void) {
    Suite *suite = suite_create("maths/properties");
    TCase *tests = tcase_create("properties");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, scaling);
    tcase_add_test(tests, settings_add_up);
    tcase_add_test(tests, even_at_closes);
    tcase_add_test(tests, planning_twice_is_the_same);
    tcase_add_test(tests, strikes_of_the_finest_stamp);
    tcase_add_test(tests, steps_rise);
    suite_add_tcase(suite, tests);
    return suite;
}
