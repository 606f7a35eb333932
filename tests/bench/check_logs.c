/* check_logs.c - rounds logged with their tool: once each, and a later log in place of the one before. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"
#include "desk/round.h"

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

/* What is offered and taken as it stands was never measured: the file says nothing of it, and nothing can be logged.
 * The same figure typed is a measure. */
START_TEST(an_offer_is_no_measure) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space*24");
    char *before = hands_bytes(b), offered[80];
    hands_press(b, "Enter");
    snprintf(offered, sizeof offered, "\"%.60s\" Enter Enter", b->entry.text);
    hands_press(b, "Enter");
    ck_assert_int_eq(bench_where(b), BENCH_REST);
    hands_see(b, "as planned");
    hands_press(b, "Down Enter"); /* another count: not without a measure */
    ck_assert(b->bad);
    hands_see(b, "nothing was measured yet");
    hands_press(b, "Up Enter");
    ck_assert_msg(!b->bad && bench_where(b) == BENCH_STRIKES, "%s", b->message);
    hands_see(b, "As told: strike on");
    char *after = hands_bytes(b);
    ck_assert_str_eq(before, after);
    hands_press(b, "y");
    ck_assert(b->bad);
    hands_press(b, offered);
    hands_press(b, "y");
    ck_assert_msg(!b->bad, "%s", b->message);
    free(before);
    free(after);
    bench_destroy(b);
}
END_TEST

static int digits_behind(const char *list, const char *key) {
    const char *at = strstr(list, key);
    ck_assert_msg(at != NULL, "%s: %s", key, list);
    at += strlen(key);
    size_t whole = strspn(at, "0123456789");
    return at[whole] == '.' ? (int)strspn(at + whole + 1, "0123456789") : 0;
}

/* The workbench writes no digits that nobody measured; what was typed stays what it is. */
START_TEST(lengths_of_a_round_are_written_short) {
    static const char *const files[] = {LID, "maple-lid.yaml"}, *const left[] = {"138", "4 39/64"};
    static const double mm[] = {138, (4 + 39.0 / 64) * 25.4};
    bench *b = hands_open(files[_i]);
    char keys[80];
    b->band = 1;
    snprintf(keys, sizeof keys, "b Space*24 \"%s\" Enter Enter y", left[_i]);
    hands_press(b, keys);
    ck_assert_msg(!b->bad, "%s", b->message);
    char path[80];
    snprintf(path, sizeof path, "bands[%zu].struck", b->band + 1);
    char *list = shop_project_get(desk_project(b->desk), path);
    ck_assert_ptr_nonnull(list);
    static const char *const keys_of[] = {"guide: ", "aimed: ", "left: ", "took: "};
    for (size_t k = 0; k < sizeof keys_of / sizeof keys_of[0]; k++) {
        ck_assert_msg(digits_behind(list, keys_of[k]) <= (_i == 0 ? 4 : 6), "%s", list);
    }
    desk_round *round = desk_round_read(b->desk, b->band);
    const bw_run_plan *run = &bench_band_plan(b)->runs[0];
    ck_assert_double_eq_tol(round->parts[0].left, mm[_i], 1e-9);
    ck_assert_double_eq_tol(round->parts[0].guide, run->to - run->from, 1e-4);
    ck_assert_double_eq_tol(round->parts[0].aimed, run->step, 1e-4);
    ck_assert(!round->parts[0].changed);
    desk_round_free(round);
    free(list);
    bench_destroy(b);
}
END_TEST

/* In a piece in inches the offer is what an inch rule reads: whole inches and a fraction to a 64th, no decimals. */
START_TEST(what_is_offered_in_inches_is_a_fraction) {
    bench *b = hands_open("maple-lid.yaml");
    b->band = 1;
    hands_press(b, "b Space");
    for (int struck = 1; struck < 20; struck++) {
        desk_round *round = desk_round_read(b->desk, b->band);
        double left = desk_round_left(round, desk_plan(b->desk)), offered;
        desk_round_free(round);
        char why[160];
        hands_press(b, "Enter");
        const char *text = b->entry.text;
        ck_assert_msg(strchr(text, '.') == NULL, "%s", text);
        ck_assert(shop_parse_length(text, strlen(text), SHOP_INCH, false, &offered, why));
        ck_assert_double_eq_tol(offered, left, 25.4 / 128 + 1e-9);
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
    tcase_add_test(tests, an_offer_is_no_measure);
    tcase_add_loop_test(tests, lengths_of_a_round_are_written_short, 0, 2);
    tcase_add_test(tests, what_is_offered_in_inches_is_a_fraction);
    suite_add_tcase(suite, tests);
    return suite;
}
