/* check_even_steps.c - the whole-piece search goes on in small steps: whoever draws or listens for a key in between
 * waits for a few trials and no more. */
#include <check.h>
#include <math.h>

#include "maths/sample.h"

Suite *maths_even_steps_suite(void);

enum { VALUES = 40 }; /* that each of space, width and guide may take besides its own */

/* Nothing closes within this limit, so every combination of the three values is gone through. */
START_TEST(a_step_is_a_few_trials) {
    const bw_even_knob knobs[] = {
        {BW_KNOB_SPACE, 0, NAN, NAN}, {BW_KNOB_BAND_WIDTH, 0, NAN, NAN}, {BW_KNOB_GUIDE, 0, NAN, NAN}};
    sample s;
    bw_even_wish wish;
    bw_even *search;
    size_t before = 0, steps = 0;
    sample_circle(&s, 300);
    sample_border(&s, 20, 20, 6.1, 5);
    bw_even_wish_init(&wish);
    wish.within = VALUES / 2 * s.layout.grid;
    wish.limit = 1e-9;
    wish.knobs = knobs;
    wish.knob_count = 3;
    ck_assert_int_eq(bw_even_create(&s.layout, &wish, NULL, &search), BW_OK);
    for (; !bw_even_result(search).done; steps++) {
        ck_assert_int_eq(bw_even_step(search, 1), BW_OK);
        size_t now = bw_even_result(search).trials;
        ck_assert_uint_le(now - before, VALUES + 2);
        before = now;
    }
    bw_even_found found = bw_even_result(search);
    ck_assert_uint_eq(found.looked, 4); /* with up to three changes */
    ck_assert_uint_eq(found.count, 0);
    ck_assert_uint_gt(steps, 100);
    bw_even_destroy(search);
}
END_TEST

/* A range that leaves out what the value is now is kept on either side. */
START_TEST(ranges_beside_the_value_are_kept) {
    const double ranges[][2] = {{1, 2}, {-2, -1}, {0.6, 0.9}, {-0.9, -0.6}};
    for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++) {
        sample s;
        sample_circle(&s, 100);
        double now = s.layout.outline.diameter;
        const bw_even_knob knob = {BW_KNOB_DIAMETER, 0, now + ranges[i][0], now + ranges[i][1]};
        sample_border(&s, 4, 6, BW_PI * 86 / 51.5, 5)->guide = 0.5; /* half a stamp over: either way closes it */
        bw_even_wish wish;
        bw_even *search;
        bw_even_wish_init(&wish);
        wish.limit = 0.0095;
        wish.fit = BW_TIGHT;
        wish.knobs = &knob;
        wish.knob_count = 1;
        ck_assert_int_eq(bw_even_create(&s.layout, &wish, NULL, &search), BW_OK);
        ck_assert_int_eq(bw_even_run(search, NULL, NULL), BW_OK);
        bw_even_found found = bw_even_result(search);
        ck_assert_uint_ge(found.count, 1);
        for (size_t k = 0; k < found.count; k++) {
            double to = found.answers[k].changes[0].value;
            ck_assert_uint_eq(found.answers[k].change_count, 1);
            ck_assert_msg(to >= knob.least - BW_EPS && to <= knob.most + BW_EPS, "%g is not in %g to %g", to,
                          knob.least, knob.most);
        }
        bw_even_destroy(search);
    }
}
END_TEST

/* Ranges that lie farther off than a search may go, or upside down. */
START_TEST(ranges_out_of_reach_are_refused) {
    const double ranges[][2] = {{INFINITY, NAN}, {1e9, NAN}, {NAN, -INFINITY}, {NAN, -1e9},
                                {-1e9, NAN},     {NAN, 1e9}, {2, 1},           {NAN, INFINITY}};
    sample s;
    sample_circle(&s, 300);
    sample_border(&s, 20, 20, 6.1, 5);
    for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++) {
        const bw_even_knob knob = {BW_KNOB_SPACE, 0, 20 + ranges[i][0], 20 + ranges[i][1]};
        bw_even_wish wish;
        bw_even *search = NULL;
        bw_even_wish_init(&wish);
        wish.knobs = &knob;
        wish.knob_count = 1;
        ck_assert_msg(bw_even_create(&s.layout, &wish, NULL, &search) == BW_BAD_VALUE && search == NULL, "range %zu",
                      i);
    }
}
END_TEST

Suite *maths_even_steps_suite(void) {
    Suite *suite = suite_create("maths/even steps");
    TCase *tests = tcase_create("even steps");
    tcase_add_test(tests, a_step_is_a_few_trials);
    tcase_add_test(tests, ranges_beside_the_value_are_kept);
    tcase_add_test(tests, ranges_out_of_reach_are_refused);
    suite_add_tcase(suite, tests);
    return suite;
}
