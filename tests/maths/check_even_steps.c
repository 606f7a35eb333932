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

Suite *maths_even_steps_suite(void) {
    Suite *suite = suite_create("maths/even steps");
    TCase *tests = tcase_create("even steps");
    tcase_add_test(tests, a_step_is_a_few_trials);
    suite_add_tcase(suite, tests);
    return suite;
}
