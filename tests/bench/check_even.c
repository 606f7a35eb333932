/* check_even.c - sizes that close on screen: looked for in parts, every answer shown as it is chosen, taken as one
 * step, gone with one undo; what is wished can be changed. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_even_suite(void);

static bench *b;

static void open_file(const char *file) {
    b = hands_open(file);
}

static void end(void) {
    bench_destroy(b);
    b = NULL;
    hands_end();
}

static void find_all(void) {
    while (bench_busy(b)) {
        ck_assert_uint_eq(bench_idle(b), BENCH_REDRAW);
    }
}

START_TEST(tried_taken_and_undone) {
    open_file("linden-flap.yaml");
    char *before = hands_bytes(b);
    (void)bench_key(b, 'C');
    ck_assert_int_eq(b->screen, BENCH_EVEN);
    find_all();
    hands_see(b, "sizes that close, least first");
    hands_see(b, "> weave width 13 mm -> 11 mm");
    ck_assert_uint_ge(b->list.count, 3);
    for (size_t i = 0; i < b->list.count; i++) { /* the piece is drawn as it would be then */
        ck_assert_uint_eq(b->list.at, i);
        ck_assert(desk_trying(b->desk));
        for (size_t band = 0; band < desk_plan(b->desk)->band_count; band++) {
            ck_assert_int_eq(desk_plan(b->desk)->bands[band].fit.verdict, BW_GOOD);
        }
        (void)bench_key(b, BENCH_KEY_DOWN);
    }
    (void)bench_key(b, BENCH_KEY_HOME);
    ck_assert_str_eq(even_row(b, 0) + strlen("weave width 13 mm -> 11 mm"), ": 2 mm in all, then steps within 0.9 %");
    (void)bench_key(b, BENCH_KEY_ENTER);
    ck_assert_int_eq(b->screen, BENCH_WORK);
    ck_assert(!desk_trying(b->desk) && desk_project(b->desk)->bands[1].width == 11);
    (void)bench_key(b, 'u');
    char *after = hands_bytes(b);
    ck_assert_str_eq(before, after);
    free(before);
    free(after);
}
END_TEST

/* Keys work while it looks; what was chosen stays chosen when better ones come; left and entered again it goes on. */
START_TEST(found_in_parts) {
    size_t parts = 0;
    open_file("beech-tray.yaml");
    (void)bench_key(b, 'C');
    while (bench_busy(b) && b->list.count < 2) {
        ck_assert_uint_eq(bench_idle(b), BENCH_REDRAW);
    }
    ck_assert(bench_busy(b));
    hands_see(b, "looking: ");
    (void)bench_key(b, BENCH_KEY_DOWN);
    char *chosen = strdup(even_row(b, b->list.at));
    for (; bench_busy(b) && parts < 3; parts++) {
        (void)bench_idle(b);
        ck_assert_str_eq(even_row(b, b->list.at), chosen);
    }
    size_t trials = desk_even_found(b->desk).trials;
    (void)bench_key(b, BENCH_KEY_ESC);
    ck_assert(!bench_busy(b) && !desk_trying(b->desk) && !desk_unsaved(b->desk));
    hands_see(b, "left: everything is as it was");
    (void)bench_key(b, 'C');
    ck_assert_uint_ge(desk_even_found(b->desk).trials, trials);
    ck_assert(desk_trying(b->desk));
    find_all();
    ck_assert_uint_eq(b->list.count, desk_even_found(b->desk).count);
    hands_see(b, "sizes that close");
    ck_assert_uint_eq(bench_idle(b), BENCH_NOTHING);
    free(chosen);
}
END_TEST

/* A piece that is well is said to be; nearer steps are asked for, and tight fits allowed. */
START_TEST(what_is_wished) {
    open_file("cedar-lid.yaml");
    (void)bench_key(b, 'C');
    find_all();
    hands_see(b, "well as it is");
    ck_assert(!desk_trying(b->desk));
    (void)bench_key(b, BENCH_KEY_ENTER);
    hands_see(b, "Nothing need be changed.");
    for (int i = 0; i < 5; i++) {
        (void)bench_key(b, BENCH_KEY_RIGHT);
    }
    find_all();
    hands_see(b, "steps within 0.1 %, fit good");
    ck_assert(desk_even_found(b->desk).best);
    (void)bench_key(b, BENCH_KEY_RIGHT);
    hands_see(b, "A hand cannot keep less");
    (void)bench_key(b, 'N');
    hands_see(b, "fit tight");
    for (int i = 0; i < 7; i++) {
        (void)bench_key(b, BENCH_KEY_LEFT);
    }
    find_all();
    hands_see(b, "steps within 10 %");
    (void)bench_key(b, BENCH_KEY_LEFT);
    hands_see(b, "would be seen by anybody");
}
END_TEST

/* Where there is none it says so, and Enter why there is nothing to take. */
START_TEST(none) {
    open_file("blackthorn-rosette.yaml");
    (void)bench_key(b, 'C');
    find_all();
    hands_see(b, "no sizes that close");
    (void)bench_key(b, BENCH_KEY_ENTER);
    ck_assert_int_eq(b->screen, BENCH_EVEN);
    hands_see(b, "There is nothing to take");
}
END_TEST

Suite *bench_even_suite(void) {
    Suite *suite = suite_create("bench/even");
    TCase *tests = tcase_create("even");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, hands_begin, end);
    tcase_add_test(tests, tried_taken_and_undone);
    tcase_add_test(tests, found_in_parts);
    tcase_add_test(tests, what_is_wished);
    tcase_add_test(tests, none);
    suite_add_tcase(suite, tests);
    return suite;
}
