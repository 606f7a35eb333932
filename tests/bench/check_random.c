/* check_random.c - keys at random, of a fixed seed: nothing falls, what is shown is always the plan of the text, and
 * undo leads back to the first byte. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_random_suite(void);

enum { KEYS = 450 };

static unsigned next_random(unsigned *state) {
    *state = *state * 1664525u + 1013904223u; /* any constants of a full period would do */
    return *state >> 8;
}

static int random_key(unsigned *state, const char *letters) {
    static const int named[] = {BENCH_KEY_ENTER, BENCH_KEY_ESC,  BENCH_KEY_TAB,       BENCH_KEY_BACKTAB,
                                BENCH_KEY_UP,    BENCH_KEY_DOWN, BENCH_KEY_LEFT,      BENCH_KEY_RIGHT,
                                BENCH_KEY_HOME,  BENCH_KEY_END,  BENCH_KEY_PAGE_UP,   BENCH_KEY_PAGE_DOWN,
                                BENCH_KEY_DOWN,  BENCH_KEY_UP,   BENCH_KEY_BACKSPACE, BENCH_KEY_DELETE,
                                BENCH_KEY_RIGHT, BENCH_KEY_ESC,  BENCH_KEY_UNKNOWN,   BENCH_KEY_REPAINT};
    unsigned which = next_random(state) % 100;
    return which < 50 ? named[next_random(state) % (sizeof named / sizeof named[0])]
                      : (unsigned char)letters[next_random(state) % strlen(letters)];
}

static void same_runs(const bw_band_plan *shown, const bw_band_plan *afresh) {
    ck_assert_int_eq(shown->fit.verdict, afresh->fit.verdict);
    ck_assert_int_eq(shown->strikes, afresh->strikes);
    ck_assert_uint_eq(shown->run_count, afresh->run_count);
    for (size_t i = 0; i < shown->run_count; i++) {
        ck_assert_int_eq(shown->runs[i].count, afresh->runs[i].count);
        ck_assert(shown->runs[i].step == afresh->runs[i].step || isnan(afresh->runs[i].step));
        ck_assert(shown->runs[i].closure_gap == afresh->runs[i].closure_gap || isnan(afresh->runs[i].closure_gap));
    }
}

/* The plan shown is the plan of the text shown, reckoned anew from its bytes. */
static void shows_the_truth(const bench *b, int number) {
    const desk *d = bench_desk(b);
    if (d == NULL) {
        return;
    }
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    shop_problems problems;
    shop_problems_init(&problems, "afresh");
    shop_project *project = shop_project_read(bytes, length, desk_file(d), desk_inventory(d), &problems);
    if (problems.errors > 0) {
        shop_problems_print(&problems, stderr);
    }
    ck_assert_msg(project != NULL, "after key %d the text cannot be read", number);
    bw_plan *plan = NULL;
    ck_assert_int_eq(bw_plan_create(&project->layout, NULL, &plan), BW_OK);
    const bw_plan *shown = desk_plan(d);
    ck_assert_uint_eq(shown->band_count, plan->band_count);
    ck_assert_uint_eq(shown->warning_count, plan->warning_count);
    for (size_t i = 0; i < plan->band_count; i++) {
        same_runs(&shown->bands[i], &plan->bands[i]);
    }
    bw_plan_destroy(plan);
    shop_project_free(project);
    shop_problems_free(&problems);
}

static void draw(bench *b, bench_size size) {
    char *screen = hands_screen(b, size.width, size.height);
    free(screen);
}

static void press_at_random(bench *b, unsigned seed, bench_size size, const char *letters) {
    unsigned state = seed;
    for (int i = 0; i < KEYS; i++) {
        bench_key(b, random_key(&state, letters));
        if (size.width < 200 || i % 10 == 0) {
            draw(b, size);
        }
        shows_the_truth(b, i);
    }
}

static const bench_size sizes[] = {{80, 24}, {1, 1}, {20, 5}, {500, 200}, {60, 18}, {120, 40}, {33, 9}};
static const char *const files[] = {"cedar-lid.yaml",  "larch-panel.yaml", "blackthorn-rosette.yaml", "maple-lid.yaml",
                                    "alder-tray.yaml", "elm-yoke.yaml",    "willow-strap.yaml"};
enum { ROUNDS = sizeof sizes / sizeof sizes[0] };

/* Without o and q, so that one layout stays open. */
START_TEST(the_way_back) {
    bench *b = hands_open(files[_i]);
    char *before = hands_bytes(b);
    press_at_random(b, 7u + (unsigned)_i, sizes[_i], "acdflmtuUvwrbpxk[]?h1234567890. /sSL-+<>\"inIPR'#:{}\x01");
    const char *title;
    desk *d = (desk *)(uintptr_t)bench_desk(b);
    int undone = 0;
    while (desk_undo(d, &title)) {
        undone++;
    }
    ck_assert_int_gt(undone, 3);
    char *after = hands_bytes(b);
    ck_assert_str_eq(before, after);
    shows_the_truth(b, -1);
    free(after);
    free(before);
    bench_destroy(b);
}
END_TEST

/* With everything: files opened, new pieces, questions. */
START_TEST(nothing_falls) {
    bench *b = hands_open(_i % 2 == 0 ? NULL : files[_i]);
    press_at_random(b, 77u + (unsigned)_i, sizes[_i], "oqnyacdflmtuUvwrbpxk?h1234567890. /sSL-+<>in~|\x7f");
    bench_destroy(b);
}
END_TEST

Suite *bench_random_suite(void) {
    Suite *suite = suite_create("keys at random");
    TCase *tests = tcase_create("random");
    tcase_set_timeout(tests, 120);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_loop_test(tests, the_way_back, 0, ROUNDS);
    tcase_add_loop_test(tests, nothing_falls, 0, ROUNDS);
    suite_add_tcase(suite, tests);
    return suite;
}
