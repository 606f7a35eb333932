/* check_round.c - a round at the bench: run by run and row by row, kept in the file whatever ends the program, mended
 * with what is left and told when the layout changes under it. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "bench/hands.h"
#include "bench/inner.h"
#include "desk/round.h"

Suite *bench_round_suite(void);

#define LID "cedar-lid.yaml"

static desk_round *round_of(const bench *b) {
    desk_round *round = desk_round_read(b->desk, b->band);
    ck_assert_ptr_nonnull(round);
    return round;
}

static void stands(const bench *b, size_t at, int struck) {
    desk_round *round = round_of(b);
    ck_assert_uint_eq(round->at, at);
    ck_assert_int_eq(round->parts[at].struck, struck);
    desk_round_free(round);
}

static void press_times(bench *b, const char *key, int times) {
    for (int i = 0; i < times; i++) {
        hands_press(b, key);
    }
}

/* Counted through to the end: each part takes what the plan's own list of impressions holds. */
START_TEST(every_impression_is_counted) {
    static const char *const pieces[] = {LID, "hornbeam-belt.yaml", "walnut-cover.yaml", "maple-lid.yaml"};
    hands_fresh(pieces[_i]);
    bench *b = hands_open(pieces[_i]);
    hands_press(b, "b");
    desk_round *round = round_of(b);
    ck_assert_int_eq(round->of, desk_plan(b->desk)->bands[b->band].strikes);
    size_t parts = round->count;
    long of = round->of;
    for (size_t i = 0; i < parts; i++) {
        press_times(b, "Space", round->parts[i].of);
        stands(b, i, round->parts[i].of);
        char *screen = hands_screen(b, 100, 30);
        ck_assert_msg(strstr(screen, i + 1 == parts ? "the round is full" : "full: stop here") != NULL, "%s", screen);
        free(screen);
    }
    desk_round_free(round);
    char *before = hands_bytes(b);
    hands_press(b, "Space*3");
    char *after = hands_bytes(b);
    ck_assert_str_eq(before, after);
    free(before);
    free(after);
    round = round_of(b);
    ck_assert(round->full && round->struck == of);
    desk_round_free(round);
    bench_destroy(b);
}
END_TEST

/* The belt's sides and ends have steps of their own: the first slope of the point takes three, then the long side. */
START_TEST(each_run_has_its_own_step) {
    bench *b = hands_open("hornbeam-belt.yaml");
    int first = bench_band_plan(b)->runs[0].count;
    hands_press(b, "b");
    ck_assert_uint_gt(bench_band_plan(b)->run_count, 1);
    hands_see(b, "run 1 of 5");
    press_times(b, "Space", first);
    ck_assert_ptr_nonnull(strstr(b->message, "stop, and go on behind the corner"));
    hands_press(b, "Space");
    hands_see(b, "run 2 of 5");
    stands(b, 1, 1);
    hands_press(b, "Backspace*2");
    stands(b, 0, first - 1);
    bench_destroy(b);
}
END_TEST

/* Where the last steps take all of the difference, the screen says so before and when they come. */
START_TEST(the_last_steps_are_told_in_time) {
    bench *b = hands_open(LID);
    desk_edit(b->desk, "bands.weave.lose", "last 9", NULL);
    hands_press(b, "b Space*30");
    hands_see(b, "then the last 9: ");
    hands_press(b, "Space*2");
    hands_see(b, "the last 9 more");
    bench_destroy(b);
}
END_TEST

START_TEST(one_key_takes_a_strike_back) {
    bench *b = hands_open(LID);
    char *before = hands_bytes(b);
    hands_press(b, "b Space*5 u");
    stands(b, 0, 4);
    hands_press(b, "U");
    stands(b, 0, 5);
    hands_press(b, "x");
    hands_see(b, "0 struck of 40");
    hands_press(b, "u");
    stands(b, 0, 5);
    hands_press(b, "u*5");
    char *after = hands_bytes(b);
    ck_assert_str_eq(before, after);
    ck_assert(!desk_unsaved(b->desk));
    free(before);
    free(after);
    bench_destroy(b);
}
END_TEST

/* What is left by the plan, less what the hand drifted; the advice taken; counted on to the end. */
START_TEST(the_advice_is_counted_to_its_end) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space*24 \"138\" Enter");
    ck_assert_int_eq(bench_where(b), BENCH_REST);
    ck_assert(b->rest->counts[0].works);
    int count = b->rest->counts[_i].count;
    double step = b->rest->counts[_i].step;
    press_times(b, "Down", _i);
    hands_press(b, "Enter");
    ck_assert_int_eq(bench_where(b), BENCH_STRIKES);
    desk_round *round = round_of(b);
    bw_rest *way = desk_round_way(round, desk_plan(b->desk));
    ck_assert_int_eq(round->parts[0].of, count);
    ck_assert_double_eq_tol(way->counts[0].step, step, 1e-12);
    ck_assert_double_eq_tol(way->counts[0].step * way->counts[0].steps, 138, 0.01);
    /* From here on by the places: what is still to go, strike by strike. */
    for (int struck = 24; struck < count; struck++) {
        desk_round *now = round_of(b);
        ck_assert_double_eq_tol(desk_round_left(now, desk_plan(b->desk)), 138 - (struck - 24) * step, 0.01);
        desk_round_free(now);
        hands_press(b, "Space");
    }
    hands_see(b, "full: stop here");
    bw_rest_destroy(way);
    desk_round_free(round);
    bench_destroy(b);
}
END_TEST

START_TEST(what_is_left_must_be_a_length_of_the_run) {
    bench *b = hands_open(LID);
    hands_press(b, "b Enter");
    ck_assert(b->bad && b->typing == TYPING_NOTHING);
    hands_press(b, "Space*3 \"5000\" Enter");
    ck_assert(b->bad && b->typing == TYPING_LEFT);
    ck_assert_ptr_nonnull(strstr(b->message, "317.3 mm"));
    hands_press(b, "Esc \"abc\" Enter Esc");
    ck_assert_int_eq(bench_where(b), BENCH_STRIKES);
    stands(b, 0, 3);
    bench_destroy(b);
}
END_TEST

/* The hand has struck as told, and that was measured: the figure is typed, and what comes of it taken. */
static void type_the_offer(bench *b) {
    char keys[96];
    hands_press(b, "Enter");
    snprintf(keys, sizeof keys, "Esc \"%.60s\" Enter Enter", b->entry.text);
    hands_press(b, keys);
}

START_TEST(a_layout_that_changes_is_told) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space*33 Esc Right*8 b");
    hands_see(b, "The layout has changed since these 33 were struck at 7.93 mm");
    hands_see(b, "are left");
    desk_round *round = round_of(b);
    ck_assert(round->parts[0].changed);
    double left = desk_round_left(round, desk_plan(b->desk)), longest = bw_rest_longest(desk_plan(b->desk), b->band, 0);
    ck_assert_double_eq_tol(left, longest - 32 * round->parts[0].aimed, 1e-9);
    desk_round_free(round);
    hands_press(b, "Enter Enter Enter"); /* the screen asks for a measure, and an offer is none */
    hands_see(b, "nothing was measured yet");
    hands_press(b, "Esc");
    type_the_offer(b);
    ck_assert_int_eq(bench_where(b), BENCH_STRIKES);
    round = round_of(b);
    ck_assert(!round->parts[0].changed && round->parts[0].struck == 33);
    desk_round_free(round);
    bench_destroy(b);
}
END_TEST

/* ---- what is told with a measure ---- */

/* 20 struck in 135 mm ride on the inner row's bars, whatever is left. */
START_TEST(the_part_struck_is_judged_too) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space*20 \"190\" Enter");
    ck_assert(!b->rest->part.works && !b->rest->doubtful);
    hands_see(b, "For the part struck: no");
    hands_press(b, "Enter");
    ck_assert_ptr_nonnull(strstr(b->message, "rows do not fit the part struck"));
    hands_press(b, "Space*20 Esc s");
    bench_destroy(b);
    b = hands_open(LID); /* in another row, another day */
    hands_press(b, "b Space*3");
    hands_see(b, "For the part struck: no");
    bench_destroy(b);
}
END_TEST

/* 20 that ride, then 12 that make up for it on the mean: what rides rides still. */
START_TEST(a_second_measure_forgives_nothing) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space*20 \"186\" Enter Enter Space*12 \"80\" Enter");
    double mean = b->rest->struck_step * 0.9;
    ck_assert_double_gt(mean, bench_band_plan(b)->least); /* the inner row is 33 by 37 mm of the guide's radius */
    hands_see(b, "For the part struck: no");
    hands_press(b, "Enter Space");
    hands_see(b, "For the part struck: no");
    hands_press(b, "Esc s");
    bench_destroy(b);
    b = hands_open(LID);
    hands_press(b, "b");
    hands_see(b, "For the part struck: no");
    bench_destroy(b);
}
END_TEST

/* Two runs of one round are logged as one change. */
START_TEST(runs_are_logged_together) {
    bench *b = hands_open("walnut-cover.yaml");
    desk_round *round = NULL;
    hands_press(b, "b");
    for (int run = 0; run < 2; run++) {
        desk_round_free(round);
        round = round_of(b);
        press_times(b, "Space", round->parts[run].of - 3);
        type_the_offer(b);
        ck_assert_msg(!b->bad, "%s", b->message);
        press_times(b, "Space", run == 0 ? 3 : 0);
    }
    desk_round_free(round);
    hands_press(b, "y");
    ck_assert_msg(!b->bad, "%s", b->message);
    char path[80], *rounds;
    snprintf(path, sizeof path, "tools.%s.rounds[2].impressions",
             desk_project(b->desk)->tools[desk_project(b->desk)->bands[b->band].tool].id);
    rounds = shop_project_get(desk_project(b->desk), path);
    ck_assert_ptr_nonnull(rounds);
    free(rounds);
    hands_press(b, "u");
    *strrchr(path, '[') = '\0';
    rounds = shop_project_get(desk_project(b->desk), path);
    ck_assert_msg(rounds == NULL || strcmp(rounds, "[]") == 0, "%s", rounds);
    free(rounds);
    bench_destroy(b);
}
END_TEST

START_TEST(what_can_hardly_be_is_asked_again) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space*24 \"60\" Enter");
    hands_see(b, "Count again and measure again: 24 struck and 60 mm left");
    char *before = hands_bytes(b);
    hands_press(b, "Enter");
    ck_assert(b->bad);
    char *after = hands_bytes(b);
    ck_assert_str_eq(before, after);
    free(after);
    hands_press(b, "Esc \"60\" Enter Enter"); /* each measure is asked of */
    after = hands_bytes(b);
    ck_assert_str_eq(before, after);
    free(after);
    hands_press(b, "Enter");
    after = hands_bytes(b);
    ck_assert_str_ne(before, after);
    ck_assert_int_eq(bench_where(b), BENCH_STRIKES);
    free(before);
    free(after);
    bench_destroy(b);
}
END_TEST

/* A hand that does as it was told is told so, though it once had drifted from the plan. */
START_TEST(a_second_measure_goes_by_the_first) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space*24 \"138\" Enter Enter Space*7");
    desk_round *round = round_of(b);
    double told = 138 - 7 * 138.0 / 17;
    ck_assert_double_eq_tol(desk_round_left(round, desk_plan(b->desk)), told, 1e-9);
    desk_round_free(round);
    char key[64];
    snprintf(key, sizeof key, "\"%.1f\" Enter", told + 0.5);
    hands_press(b, key);
    hands_see(b, "0.52 mm more than told after 24");
    ck_assert_double_eq_tol(b->rest->told, told, 1e-9);
    bench_destroy(b);
}
END_TEST

/* 17 steps of 138 mm: marks after round(17/4), round(34/4), round(51/4) of them, each a strike less. */
START_TEST(check_marks_are_made_anew) {
    bench *b = hands_open(LID);
    hands_press(b, "b Space*24");
    hands_see(b, "check mark after 30: 6 more");
    hands_press(b, "\"138\" Enter");
    hands_see(b, "Check marks made before hold no more");
    hands_press(b, "Enter");
    static const int steps[] = {4, 9, 13};
    for (int i = 0; i < 3; i++) {
        char text[64], along[40];
        shop_show_length(steps[i] * 138.0 / 17, SHOP_MM, along, sizeof along);
        snprintf(text, sizeof text, "new check mark after %d: ", 24 + steps[i] - 1);
        hands_see(b, text);
        snprintf(text, sizeof text, "%s along from 24", along);
        hands_see(b, text);
        press_times(b, "Space", steps[i] - (i > 0 ? steps[i - 1] : 1));
        ck_assert_ptr_nonnull(strstr(b->message, "A check mark"));
        hands_press(b, "Esc s");
        bench_destroy(b);
        b = hands_open(LID);
        hands_press(b, "b");
    }
    bench_destroy(b);
}
END_TEST

/* Killed without a word after any number of strikes: the journal brings the count back. */
START_TEST(a_kill_loses_no_strike) {
    int strikes = 1 + 7 * _i, status;
    pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) {
        bench *b = hands_open(LID);
        hands_press(b, "b");
        press_times(b, "Space", strikes);
        kill(getpid(), SIGKILL);
    }
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL);
    bench *b = hands_open(LID);
    ck_assert_int_eq(bench_where(b), BENCH_LEFT);
    hands_press(b, "y b");
    stands(b, 0, strikes);
    char text[64];
    snprintf(text, sizeof text, "%d struck of 40, %d to go", strikes, 40 - strikes);
    hands_see(b, text);
    bench_destroy(b);
}
END_TEST

/* Whatever stands in `struck` is read without harm, and what belongs to others stays. */
START_TEST(strange_lists_do_no_harm) {
    static const char *const lists[] = {"[]",
                                        "[12, done]",
                                        "[{run: 9, impressions: 3}]",
                                        "[{run: 1, impressions: -4}]",
                                        "[{impressions: 99999}]",
                                        "[{run: 1, impressions: 5, of: 2, from: 9, left: 1, planned: 40, guide: 3}]",
                                        "[{row: 77, impressions: 5}, {run: 1, row: 2, impressions: 500}]",
                                        "[{run: x, impressions: y, left: z}]"};
    hands_fresh(LID);
    bench *b = hands_open(LID);
    shop_problems problems;
    shop_problems_init(&problems, "");
    if (!desk_edit(b->desk, "bands.weave.struck", lists[_i], &problems)) { /* refused when read: said, not crashed */
        ck_assert_uint_gt(problems.errors, 0);
    }
    shop_problems_free(&problems);
    hands_press(b, "b Space*3 \"100\" Enter Enter Backspace x u");
    desk_round_free(round_of(b));
    free(hands_screen(b, 80, 24));
    bench_destroy(b);
}
END_TEST

/* What a run or row that the layout has no more says, stays; and a record that does not say what was planned goes on.
 */
START_TEST(records_of_others_stay) {
    static const char *const lists[] = {
        "[{run: 1, impressions: 30, of: 40, planned: 40, done: no}, {run: 2, impressions: 3, of: 20, done: no}]",
        "[{run: 1, impressions: 30, of: 40, done: no}, {row: 9, impressions: 7, of: 20, done: no}]",
        "[{run: 1, impressions: 30, of: 40, done: no}]"};
    static const char *const other[] = {"run: 2, impressions: 3", "row: 9, impressions: 7", "run: 1"};
    hands_fresh(LID);
    bench *b = hands_open(LID);
    ck_assert(desk_edit(b->desk, "bands.weave.struck", lists[_i], NULL));
    hands_press(b, "b Space*3");
    stands(b, 0, 33);
    hands_press(b, "\"70\" Enter Enter Backspace*32");
    ck_assert_msg(!b->bad, "%s", b->message);
    stands(b, 0, 1);
    for (int more = 0; more < 2; more++) {
        char *list = shop_project_get(desk_project(b->desk), "bands.weave.struck");
        ck_assert_msg(strstr(list, other[_i]) != NULL, "%s", list);
        ck_assert_msg(_i == 2 || (strchr(list, '{') != strrchr(list, '{')) == (more == 0), "%s", list);
        free(list);
        if (_i < 2) {
            hands_press(b, "Backspace");
        }
    }
    bench_destroy(b);
}
END_TEST

/* With all struck only the step from the last to the first is left: nobody is told to strike. */
START_TEST(the_closing_step_is_no_strike) {
    bench *b = hands_open(LID);
    hands_press(b, _i == 0 ? "b Space*40 \"8\" Enter" : "b Space*40 \"2\" Enter");
    ck_assert_int_eq(bench_where(b), BENCH_REST);
    ck_assert_int_eq(b->rest->counts[0].count, 40);
    ck_assert_int_eq(b->rest->counts[0].works, _i == 0);
    hands_see(b, "all struck: the closing step");
    char *screen = hands_screen(b, 80, 24);
    ck_assert_msg(strstr(screen, "strike 1") == NULL && strstr(screen, "strike on") == NULL &&
                      strstr(screen, "0 more") == NULL,
                  "%s", screen);
    ck_assert_msg((strstr(screen, "nothing is left to strike") != NULL) == (_i != 0), "%s", screen);
    free(screen);
    bench_destroy(b);
}
END_TEST

Suite *bench_round_suite(void) {
    Suite *suite = suite_create("a round at the bench");
    TCase *tests = tcase_create("round");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_loop_test(tests, every_impression_is_counted, 0, 4);
    tcase_add_test(tests, each_run_has_its_own_step);
    tcase_add_test(tests, the_last_steps_are_told_in_time);
    tcase_add_test(tests, one_key_takes_a_strike_back);
    tcase_add_loop_test(tests, the_advice_is_counted_to_its_end, 0, 2);
    tcase_add_test(tests, what_is_left_must_be_a_length_of_the_run);
    tcase_add_test(tests, a_layout_that_changes_is_told);
    tcase_add_test(tests, the_part_struck_is_judged_too);
    tcase_add_test(tests, a_second_measure_forgives_nothing);
    tcase_add_test(tests, runs_are_logged_together);
    tcase_add_test(tests, what_can_hardly_be_is_asked_again);
    tcase_add_test(tests, a_second_measure_goes_by_the_first);
    tcase_add_test(tests, check_marks_are_made_anew);
    tcase_add_loop_test(tests, the_closing_step_is_no_strike, 0, 2);
    tcase_add_loop_test(tests, a_kill_loses_no_strike, 0, 5);
    tcase_add_loop_test(tests, records_of_others_stay, 0, 3);
    tcase_add_loop_test(tests, strange_lists_do_no_harm, 0, 8);
    suite_add_tcase(suite, tests);
    return suite;
}
