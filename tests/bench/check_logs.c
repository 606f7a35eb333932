/* check_logs.c - rounds logged with their tool: once each, and a later log in place of the one before. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_logs_suite(void);

#define LID "cedar-lid.yaml"

START_TEST(a_measured_round_is_logged_once) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space*24 y");
    ck_assert(b->bad);
    hands_press(b, "\"138\" Enter Enter y");
    ck_assert(!b->bad);
    char *rounds = shop_project_get(desk_project(b->desk), "tools.basket-m.rounds");
    ck_assert_ptr_nonnull(rounds);
    ck_assert_ptr_nonnull(strstr(rounds, "impressions: 24"));
    double took = 0;
    ck_assert_int_eq(sscanf(strstr(rounds, "length: "), "length: %lf", &took), 1);
    ck_assert_double_eq_tol(took, bench_band_plan(b)->runs[0].to - 138, 1e-3); /* 23 steps of the hand */
    free(rounds);
    hands_press(b, "y");
    ck_assert(b->bad);
    bench_destroy(b);
}
END_TEST

/* The same round logged again after more strikes is one round still; undo brings the shorter one back. */
START_TEST(a_longer_log_takes_the_place_of_the_shorter) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space*20 \"168\" Enter Enter y Space*8 \"105\" Enter Enter y");
    ck_assert_msg(!b->bad, "%s", b->message);
    for (int undone = 0; undone < 2; undone++) {
        char *rounds = shop_project_get(desk_project(b->desk), "tools.basket-m.rounds"), first[32], second[32];
        snprintf(first, sizeof first, "impressions: %d", undone ? 20 : 28);
        snprintf(second, sizeof second, "impressions: %d", undone ? 28 : 20);
        ck_assert_msg(strstr(rounds, first) != NULL && strstr(rounds, second) == NULL, "%s", rounds);
        free(rounds);
        hands_press(b, "u");
    }
    hands_press(b, "U U y");
    ck_assert(b->bad);
    bench_destroy(b);
}
END_TEST

static char *rounds_of(const bench *b) {
    char *rounds = shop_project_get(desk_project(b->desk), "tools.rim.rounds");
    ck_assert_ptr_nonnull(rounds);
    return rounds;
}

static int times_in(const char *text, const char *word) {
    int times = 0;
    for (; (text = strstr(text, word)) != NULL; text++) {
        times++;
    }
    return times;
}

/* Four sides of a square that read alike were logged, and a round of another piece that reads like them: measured and
 * logged again, each side takes its own round's place, and the other piece's stays. */
START_TEST(equal_runs_logged_again_keep_their_rounds) {
#define SIDE(n)                                                                                                        \
    "{run: " #n                                                                                                        \
    ", impressions: 12, of: 14, planned: 14, from: 12, left: 22.4, before: 10, left-before: 40, done: no, took: 56.7}"
#define ROUND "{impressions: 10, length: 56.7, piece: Square}"
    hands_write("square.yaml",
                "bandwright-project: 1\npiece: Square\noutline: {shape: rectangle, length: 120, width: 120}\n"
                "bands: [{name: edge, space: 4, width: 8, fill: border, tool: rim, struck: [" SIDE(1) ", " SIDE(
                    2) ", " SIDE(3) ", " SIDE(4) "]}]\n"
                                                 "tools: [{id: rim, kind: border, length: 7.3, width: 5, rounds: ["
                                                 "{impressions: 11, length: 56.7, piece: Square}, " ROUND ", " ROUND
                                                 ", " ROUND ", " ROUND
                                                 ", {impressions: 10, length: 56.7, piece: Lid}]}]\n");
    bench *b = hands_open("square.yaml");
    char *rounds = rounds_of(b);
    ck_assert_int_eq(times_in(rounds, "impressions"), 6);
    free(rounds);
    hands_press(b, "b y");
    ck_assert_msg(!b->bad, "%s", b->message);
    rounds = rounds_of(b);
    ck_assert_msg(times_in(rounds, "impressions: 12, length: 74.3") == 4 && times_in(rounds, "impressions") == 6, "%s",
                  rounds);
    ck_assert_msg(strstr(rounds, "impressions: 11, length: 56.7, piece: Square") != NULL &&
                      strstr(rounds, "impressions: 10, length: 56.7, piece: Lid") != NULL,
                  "%s", rounds);
    free(rounds);
    bench_destroy(b);
}
END_TEST

/* What was measured is logged, too, when the layout has changed since: by the guide it was measured on. */
START_TEST(a_measure_is_logged_though_the_layout_changed) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space*24 \"138\" Enter Enter");
    double guide = bench_band_plan(b)->runs[0].to, took = 0;
    hands_press(b, "Esc");
    shop_problems problems;
    shop_problems_init(&problems, "");
    const shop_edit wider = {.path = (char *)"outline.diameter", .new_text = (char *)"126"};
    ck_assert(desk_edit_many(b->desk, &wider, 1, "wider", &problems));
    shop_problems_free(&problems);
    ck_assert_double_gt(fabs(bench_band_plan(b)->runs[0].to - guide), 1);
    hands_press(b, "b");
    char mean[80]; /* not the step that was told, but the one that was struck */
    shop_show_length((guide - 138) / 23, SHOP_MM, mean, sizeof mean);
    hands_see(b, "these 24 were struck at");
    hands_see(b, mean);
    hands_press(b, "y");
    ck_assert_msg(!b->bad, "%s", b->message);
    char *rounds = shop_project_get(desk_project(b->desk), "tools.basket-m.rounds");
    ck_assert_int_eq(sscanf(strstr(rounds, "length: "), "length: %lf", &took), 1);
    ck_assert_double_eq_tol(took, guide - 138, 1e-3);
    ck_assert_ptr_nonnull(strstr(rounds, "impressions: 24"));
    free(rounds);
    hands_press(b, "y");
    ck_assert(b->bad);
    bench_destroy(b);
}
END_TEST

/* The strike after which it was measured is taken back: the measure goes with it, and that is said. */
START_TEST(a_measure_that_goes_is_told) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space*20 \"168\" Enter Enter Space Backspace");
    ck_assert_ptr_null(strstr(b->message, "counts no more"));
    hands_press(b, "Backspace");
    ck_assert_msg(strstr(b->message, "What was measured after 20 counts no more") != NULL, "%s", b->message);
    hands_press(b, "u y");
    ck_assert_msg(!b->bad, "%s", b->message);
    bench_destroy(b);
}
END_TEST

/* What is offered as left has a tenth of a millimetre, whatever the sum of the steps is. */
START_TEST(what_is_offered_as_left_has_one_digit) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space");
    for (int struck = 1; struck < 38; struck++) {
        hands_press(b, "Enter");
        const char *point = strchr(b->entry.text, '.');
        ck_assert_msg(b->entry.text[0] != '\0' && (point == NULL || strlen(point) == 2), "%s", b->entry.text);
        hands_press(b, "Esc Space");
    }
    bench_destroy(b);
}
END_TEST

Suite *bench_logs_suite(void) {
    Suite *suite = suite_create("rounds logged at the bench");
    TCase *tests = tcase_create("logs");
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, a_measured_round_is_logged_once);
    tcase_add_test(tests, a_longer_log_takes_the_place_of_the_shorter);
    tcase_add_test(tests, equal_runs_logged_again_keep_their_rounds);
    tcase_add_test(tests, a_measure_is_logged_though_the_layout_changed);
    tcase_add_test(tests, a_measure_that_goes_is_told);
    tcase_add_test(tests, what_is_offered_as_left_has_one_digit);
    suite_add_tcase(suite, tests);
    return suite;
}
