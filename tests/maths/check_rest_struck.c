/* check_rest_struck.c - of a round that is struck in part: the part struck is judged as well, a second measure goes by
 * what was told at the first, what can hardly be is doubted, and check marks are made anew. By hand, on a circle. */
#include <check.h>
#include <math.h>

#include "maths/demo.h"
#include "maths/purse.h"

Suite *maths_rest_struck_suite(void);

static const double drifts[] = {0, 0.1, -0.1, 1.3, -1.3};
enum { DRIFTS = sizeof drifts / sizeof drifts[0] };

/* The same circle, radius 48 on the guide: what 22 steps taken in one do to the innermost and outermost line. */
START_TEST(the_part_struck_is_judged_by_hand) {
    demo d;
    int rides = 0, gapes = 0, works = 0;
    demo_lid(&d);
    demo_make(&d);
    const bw_band_plan *band = &d.plan->bands[0];
    for (int tenths = 0; tenths < 700; tenths++) {
        bw_rest *rest;
        double left = 2 * BW_PI * 48 - 22 * 6.0 - tenths / 10.0, step = (2 * BW_PI * 48 - left) / 22;
        ck_assert_int_eq(demo_measure(&d, 0, 23, left, &rest), BW_OK);
        double out = step * (60 - band->lines[0].from_edge) / 48;
        double in = step * (60 - band->lines[band->line_count - 1].from_edge) / 48;
        ck_assert_double_eq_tol(rest->part.step, step, 1e-9);
        ck_assert_double_eq_tol(rest->part.reach_mm, band->most - out, 1e-9);
        ck_assert_double_eq_tol(rest->part.crowd_mm, in - band->least, 1e-9);
        ck_assert_int_eq(rest->part.works, out <= band->most + 1e-9 && in >= band->least - 1e-9);
        rides += in < band->least;
        gapes += out > band->most;
        works += rest->part.works;
        bw_rest_destroy(rest);
    }
    ck_assert(rides > 10 && gapes > 10 && works > 10);
    demo_end(&d);
}
END_TEST

/* 12 struck with 220 mm left, 40 taken: 29 steps of 7.586 mm. 10 steps later the hand is compared with those. */
START_TEST(a_second_measure_goes_by_what_was_told) {
    demo d;
    bw_rest *rest;
    demo_lid(&d);
    demo_make(&d);
    double told = 220 - 10 * 220.0 / 29;
    for (int k = 0; k < DRIFTS; k++) {
        bw_measure m = {.struck = 22, .left = told + drifts[k], .told_at = 12, .told_left = 220, .told_count = 40};
        ck_assert_int_eq(bw_rest_create(d.plan, &m, NULL, &rest), BW_OK);
        ck_assert_double_eq_tol(rest->told, told, 1e-9);
        ck_assert_double_eq_tol(rest->told_step, 220.0 / 29, 1e-9);
        ck_assert_double_eq_tol(rest->since_step, (220 - m.left) / 10, 1e-9);
        for (size_t i = 0; i < rest->count; i++) {
            const bw_rest_count *one = &rest->counts[i];
            ck_assert_double_eq_tol(one->change, one->step - 220.0 / 29, 1e-9);
            ck_assert_double_eq_tol(one->jump, one->step - (220 - m.left) / 10, 1e-9);
            ck_assert_int_eq(one->as_planned, one->count == 40 && drifts[k] == 0);
        }
        /* Each part of what is struck by itself: 11 steps of 7.418 mm, then those since. */
        double first = (2 * BW_PI * 48 - 220) / 11, since = (220 - m.left) / 10;
        double in = (60 - d.plan->bands[0].lines[d.plan->bands[0].line_count - 1].from_edge) / 48;
        ck_assert_double_eq_tol(rest->part.crowd_mm, fmin(first, since) * in - d.plan->bands[0].least, 1e-9);
        bw_rest_destroy(rest);
    }
    demo_end(&d);
}
END_TEST

/* 12 struck with 220 mm left, then 10 more: what does not hold is told of those steps that do not, by themselves. */
START_TEST(the_worse_stretch_is_told_by_itself) {
    demo d;
    int earlier = 0, later = 0;
    demo_lid(&d);
    demo_make(&d);
    const bw_band_plan *band = &d.plan->bands[0];
    double out_by = (60 - band->lines[0].from_edge) / 48;
    double in_by = (60 - band->lines[band->line_count - 1].from_edge) / 48;
    for (int hundredths = 560; hundredths < 960; hundredths += 5)
        for (int side = 0; side < 2; side++) {
            bw_rest *rest;
            double one = hundredths / 100.0, good = 7.6, first = side ? good : one, since = side ? one : good;
            bw_measure m = {.struck = 22, .told_at = 12, .told_left = 2 * BW_PI * 48 - 11 * first, .told_count = 40};
            m.left = m.told_left - 10 * since;
            ck_assert_int_eq(bw_rest_create(d.plan, &m, NULL, &rest), BW_OK);
            bool works = one * out_by <= band->most + 1e-9 && one * in_by >= band->least - 1e-9;
            ck_assert_int_eq(rest->part.works, works);
            ck_assert_int_eq(rest->worst.steps, works ? 0 : side ? 10 : 11);
            if (!works) {
                ck_assert_double_eq_tol(rest->worst.step, one, 1e-9);
                ck_assert_double_eq_tol(rest->worst.reach_mm, band->most - one * out_by, 1e-9);
                ck_assert_double_eq_tol(rest->worst.crowd_mm, one * in_by - band->least, 1e-9);
                ck_assert_int_eq(rest->worst_from, side ? 12 : 1);
                ck_assert_int_eq(rest->worst_to, side ? 22 : 12);
                earlier += !side;
                later += side;
            }
            bw_rest_destroy(rest);
        }
    ck_assert(earlier > 5 && later > 5);
    demo_end(&d);
}
END_TEST

/* Under another layout the hand stands where its own steps put it. */
START_TEST(steps_of_another_layout_are_gone_by) {
    demo d;
    bw_rest *rest;
    demo_lid(&d);
    demo_make(&d);
    bw_measure m = {.struck = 21, .left = 150, .aimed = 7.5};
    ck_assert_int_eq(bw_rest_create(d.plan, &m, NULL, &rest), BW_OK);
    ck_assert_double_eq_tol(rest->told, 2 * BW_PI * 48 - 20 * 7.5, 1e-9);
    ck_assert_double_eq_tol(rest->since_step, (2 * BW_PI * 48 - 150) / 20, 1e-9);
    ck_assert_double_eq_tol(rest->told_step, 7.5, 1e-9);
    bw_rest_destroy(rest);
    demo_end(&d);
}
END_TEST

/* A count that is wrong by a third, a measure of another place: said. What a hand does: not. */
START_TEST(what_can_hardly_be_is_doubted) {
    demo d;
    bw_rest *rest;
    demo_lid(&d);
    demo_make(&d);
    const bw_band_plan *band = &d.plan->bands[0];
    double longest = 2 * BW_PI * 48, slack = 0.03 * band->usual; /* 3 %, and two readings of a rule to 0.5 mm */
    for (int n = 2; n < 40; n++)
        for (int side = -1; side <= 1; side += 2)
            for (int beyond = -1; beyond <= 1; beyond += 2) {
                double limit = side < 0 ? band->least - slack : band->most + slack;
                double gone = limit * (n - 1) + side * (1 + beyond * 0.01);
                if (gone < 0 || gone >= longest)
                    continue;
                ck_assert_int_eq(demo_measure(&d, 0, n, longest - gone, &rest), BW_OK);
                ck_assert_msg(rest->doubtful == (beyond > 0), "%d: %g", n, gone);
                bw_rest_destroy(rest);
            }
    for (int n = 2; n <= 38; n++) { /* 4 % a step */
        double step = d.plan->bands[0].runs[0].step;
        ck_assert_int_eq(demo_measure(&d, 0, n, longest - 1.04 * step * (n - 1), &rest), BW_OK);
        ck_assert(!rest->doubtful);
        ck_assert_int_eq(rest->by_plan, 1 + (int)lround(1.04 * (n - 1)));
        bw_rest_destroy(rest);
    }
    bw_measure m = {.struck = 22, .left = 216, .told_at = 12, .told_left = 220, .told_count = 40};
    ck_assert_int_eq(bw_rest_create(d.plan, &m, NULL, &rest), BW_OK); /* 10 struck in 4 mm */
    ck_assert(rest->doubtful);
    bw_rest_destroy(rest);
    ck_assert_int_eq(demo_measure(&d, 0, 1, longest - 5, &rest), BW_OK);
    ck_assert(rest->doubtful);
    bw_rest_destroy(rest);
    demo_end(&d);
}
END_TEST

/* New marks lie on the steps that are told; straight across a circle it is its chord, 2 R sin(along / 2 R). */
START_TEST(new_check_marks_lie_on_the_new_steps) {
    demo d;
    bw_rest *rest;
    bw_check_mark list[4];
    demo_lid(&d);
    demo_make(&d);
    ck_assert_int_eq(demo_measure(&d, 0, 12, 220, &rest), BW_OK);
    for (size_t i = 0; i < rest->count; i++) {
        const bw_rest_count *one = &rest->counts[i];
        ck_assert_int_eq(bw_rest_marks(d.plan, rest, i, 3, NULL, list), BW_OK);
        double before = 0;
        for (int k = 0; k < 4; k++) {
            int steps = (int)floor((k + 1) * one->steps / 4.0 + 0.5);
            ck_assert_int_eq(list[k].after, 12 + steps - 1);
            ck_assert_double_eq_tol(list[k].along, steps * 220.0 / one->steps, 1e-9);
            ck_assert_double_eq_tol(list[k].across, 96 * sin((list[k].along - before) / 96), 1e-6);
            before = list[k].along;
        }
        ck_assert_double_eq_tol(list[3].along, 220, 1e-9);
        ck_assert_double_eq_tol(fmod(list[3].on_guide, 2 * BW_PI * 48), d.plan->bands[0].runs[0].from, 1e-6);
        ck_assert_int_eq(bw_rest_marks(d.plan, rest, i, one->steps, NULL, list), BW_BAD_VALUE);
    }
    bw_rest_destroy(rest);
    demo_end(&d);
}
END_TEST

static bw_status rest_once(const void *about, const bw_allocator *allocator) {
    const demo *d = about;
    bw_rest *rest = NULL;
    bw_check_mark list[4];
    bw_measure m = {.struck = 22, .left = 150, .told_at = 12, .told_left = 220, .told_count = 40};
    bw_status status = bw_rest_create(d->plan, &m, allocator, &rest);
    ck_assert_int_eq(status == BW_OK, rest != NULL);
    if (status == BW_OK) {
        ck_assert(!isnan(rest->planned) && !isnan(rest->told) && rest->works > 0);
        status = bw_rest_marks(d->plan, rest, 0, 3, allocator, list);
    }
    bw_rest_destroy(rest);
    return status;
}

START_TEST(memory_runs_out) {
    demo d;
    demo_lid(&d);
    demo_make(&d);
    purse_run_out(&d, rest_once, 1, "a round struck in part");
    demo_end(&d);
}
END_TEST

Suite *maths_rest_struck_suite(void) {
    Suite *suite = suite_create("maths/rest_struck");
    TCase *tests = tcase_create("rest_struck");
    tcase_add_test(tests, the_part_struck_is_judged_by_hand);
    tcase_add_test(tests, a_second_measure_goes_by_what_was_told);
    tcase_add_test(tests, the_worse_stretch_is_told_by_itself);
    tcase_add_test(tests, steps_of_another_layout_are_gone_by);
    tcase_add_test(tests, what_can_hardly_be_is_doubted);
    tcase_add_test(tests, new_check_marks_lie_on_the_new_steps);
    tcase_add_test(tests, memory_runs_out);
    suite_add_tcase(suite, tests);
    return suite;
}
