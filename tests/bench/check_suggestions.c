/* check_suggestions.c - suggestions by keys: told as the screen will show them, looked for while no key waits. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_suggestions_suite(void);

static bench *b;

static void open_file(const char *name, const char *text) {
    if (text != NULL) {
        hands_write(name, text);
    }
    b = hands_open(name);
}

static void end(void) {
    bench_destroy(b);
    b = NULL;
    hands_end();
}

/* The figure behind `before` in a text; fails the test if there is none. */
static double figure(const char *text, const char *before) {
    const char *at = strstr(text, before);
    double value = 0;
    ck_assert_msg(at != NULL && sscanf(at + strlen(before), "%lf", &value) == 1, "no '%s' in %s", before, text);
    return value;
}

/* List, panel and message tell the gap of the same run: of a rectangle's four, the worst. */
START_TEST(one_gap_everywhere) {
    open_file("box.yaml", "bandwright-project: 1\noutline: {shape: rectangle, length: 150, width: 103}\n"
                          "tools:\n  - {id: iron, kind: iron, pitch: 3.3}\n"
                          "bands:\n  - {name: seam, space: 3, fill: stitch, tool: iron}\n");
    hands_press(b, "c");
    ck_assert_int_eq(b->screen, BENCH_MOVES);
    size_t count;
    const desk_suggestion *list = desk_suggested(b->desk, b->band, &count);
    ck_assert_uint_gt(count, 0);
    ck_assert_uint_eq(bench_band_plan(b)->run_count, 4);
    double told = strstr(list[0].words, "no gap then") != NULL ? 0 : figure(list[0].words, "worst gap then ");
    double gap = bench_band_plan(b)->runs[bw_worst_run(bench_band_plan(b))].closure_gap; /* tried: as it will be */
    ck_assert_double_eq_tol(told, gap, 0.0101);
    hands_press(b, "Enter");
    ck_assert_double_eq_tol(figure(b->message, "mm, is "), gap, 0.0051);
    hands_see(b, "worst gap");
}
END_TEST

/* A share is written as makers write it. */
START_TEST(shares_without_noise) {
    open_file("cedar-lid.yaml", NULL);
    shop_problems problems;
    shop_problems_init(&problems, "");
    bool seen = false;
    for (int share = 40; share <= 100; share++) {
        char text[16];
        snprintf(text, sizeof text, "%d %%", share);
        ck_assert(desk_edit(b->desk, "bands.weave.overlap", text, &problems));
        size_t count;
        const desk_suggestion *list = desk_suggestions(b->desk, 1, &count);
        for (size_t i = 0; i < count; i++) {
            if (list[i].move.change.knob != BW_KNOB_OVERLAP) {
                continue;
            }
            const char *made = list[i].edits[0].new_text;
            seen = true;
            ck_assert_msg(strlen(made) <= 5 && strstr(made, " %") != NULL, "an overlap of '%s'", made);
        }
    }
    ck_assert(seen);
    shop_problems_free(&problems);
}
END_TEST

/* On an edge of a thousand arcs the list fills while no key waits, and keys work meanwhile. */
START_TEST(found_in_parts) {
    open_file("beech-tray.yaml", NULL);
    (void)bench_key(b, 'c');
    ck_assert_int_eq(b->screen, BENCH_MOVES);
    ck_assert(bench_busy(b));
    hands_see(b, "looking for changes");
    (void)bench_key(b, BENCH_KEY_ENTER);
    hands_see(b, "Nothing is found yet");
    size_t count = 0;
    while (count < 2) { /* until there is something to choose from */
        ck_assert(bench_busy(b));
        ck_assert_uint_eq(bench_idle(b), BENCH_REDRAW);
        (void)desk_suggested(b->desk, b->band, &count);
    }
    hands_see(b, "still looking");
    (void)bench_key(b, BENCH_KEY_DOWN);
    bw_move chosen = desk_suggested(b->desk, b->band, &count)[b->list.at].move;
    int parts = 0;
    while (bench_busy(b)) {
        (void)bench_idle(b);
        parts++;
    }
    ck_assert_int_gt(parts, 0);
    ck_assert_int_eq(bw_move_compare(&chosen, &desk_suggested(b->desk, b->band, &count)[b->list.at].move), 0);
    ck_assert_uint_eq(b->list.count, count);
    ck_assert_uint_eq(bench_idle(b), BENCH_NOTHING);
    hands_see(b, "changes, smallest first");
    /* All at once gives the same list. */
    bw_move *moves;
    size_t all;
    (void)bench_key(b, BENCH_KEY_ESC);
    ck_assert_int_eq(bw_moves_create(&desk_project(b->desk)->layout, desk_plan(b->desk), b->band, NULL, &moves, &all),
                     BW_OK);
    ck_assert_uint_eq(all, count);
    for (size_t i = 0; i < all; i++) {
        ck_assert_int_eq(bw_move_compare(&moves[i], &desk_suggested(b->desk, b->band, &count)[i].move), 0);
    }
    bw_moves_release(moves, NULL);
}
END_TEST

/* Left in the middle and entered again: what was found is still there. */
START_TEST(left_in_the_middle) {
    open_file("beech-tray.yaml", NULL);
    (void)bench_key(b, 'c');
    size_t count = 0, again;
    while (count == 0) {
        (void)bench_idle(b);
        (void)desk_suggested(b->desk, b->band, &count);
    }
    (void)bench_key(b, BENCH_KEY_ESC);
    ck_assert(!bench_busy(b) && !desk_trying(b->desk));
    (void)bench_key(b, 'c');
    (void)desk_suggested(b->desk, b->band, &again);
    ck_assert_uint_eq(again, count);
    ck_assert(desk_trying(b->desk));
}
END_TEST

/* Where no change helps, that is said, and what does. */
START_TEST(says_that_there_is_none) {
    open_file("plain.yaml", "bandwright-project: 1\noutline: {shape: circle, diameter: 20}\nfixed: [outline, bands]\n"
                            "tools:\n  - {id: star, kind: basket, length: 9}\n"
                            "bands:\n  - {name: weave, width: 12, fill: basket, tool: star}\n");
    hands_press(b, "c");
    ck_assert_int_eq(b->screen, BENCH_WORK);
    ck_assert_ptr_nonnull(strstr(b->message, "No single small change makes it work"));
    ck_assert_ptr_nonnull(strstr(b->message, "measure the stamp"));
}
END_TEST

/* A plain band without room is told, too, what would make room. */
START_TEST(plain_bands_without_room) {
    open_file("rim.yaml", "bandwright-project: 1\noutline: {shape: circle, diameter: 40}\n"
                          "bands:\n  - {name: rim, space: 15, width: 10}\n");
    hands_press(b, "c");
    ck_assert_int_eq(b->screen, BENCH_MOVES);
    hands_press(b, "Enter");
    ck_assert_int_eq(bench_band_plan(b)->fit.verdict, BW_GOOD);
    hands_press(b, "c");
    ck_assert_int_eq(b->screen, BENCH_WORK);
}
END_TEST

/* Every kind of warning has its words when nothing single makes it go. */
START_TEST(words_for_every_warning) {
    show_words words;
    ck_assert_str_eq(show_left_sentence(&words, 0), "");
    for (int kind = 0; kind <= BW_WARN_TOOL_DIFFERS; kind++) {
        ck_assert_msg(strlen(show_left_sentence(&words, 1u << kind)) > 20, "warning %d: '%s'", kind, words.text);
    }
}
END_TEST

Suite *bench_suggestions_suite(void) {
    Suite *suite = suite_create("bench: suggestions");
    TCase *tests = tcase_create("suggestions");
    tcase_set_timeout(tests, 120);
    tcase_add_checked_fixture(tests, hands_begin, end);
    tcase_add_test(tests, one_gap_everywhere);
    tcase_add_test(tests, shares_without_noise);
    tcase_add_test(tests, found_in_parts);
    tcase_add_test(tests, left_in_the_middle);
    tcase_add_test(tests, says_that_there_is_none);
    tcase_add_test(tests, plain_bands_without_room);
    tcase_add_test(tests, words_for_every_warning);
    suite_add_tcase(suite, tests);
    return suite;
}
