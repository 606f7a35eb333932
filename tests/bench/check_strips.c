/* check_strips.c - strips on the screen: their form, where steps come from, copies that have other ones. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_strips_suite(void);

#define TOOL "kind: basket, length: 9.5, width: 6.4, bar: 3.1, rail: 1.6"

/* A lid with its own copy of a stamp, and the shop's inventory with the same; each with these further keys. */
static bench *lid_with(const char *own, const char *shop) {
    char text[800];
    snprintf(text, sizeof text, "bandwright-inventory: 1\nunits: mm\ntools:\n  - {id: m, " TOOL "%s}\n", shop);
    hands_write(HANDS_INVENTORY, text);
    snprintf(text, sizeof text,
             "bandwright-project: 1\noutline: {shape: circle, diameter: 140}\n"
             "bands:\n  - {name: weave, width: 21, fill: basket, tool: m}\ntools:\n  - {id: m, " TOOL "%s}\n",
             own);
    hands_write("lid.yaml", text);
    return hands_open("lid.yaml");
}

/* 67.6/9 = 7.5111; 9.5 less half a leg of 3.2 is 7.9. */
START_TEST(where_steps_come_from) {
    bench *b = lid_with(", steps: {widest: 8.4}, strips: [{impressions: 10, length: 67.6}]", "");
    hands_press(b, "i Enter");
    hands_see(b, "(6.3 mm, from the face)");
    hands_see(b, "(7.51 mm, from strips)");
    hands_see(b, "(7.9 mm, by overlap)");
    hands_see(b, " 8.4 mm ");
    hands_see(b, "1 strip ");
    bench_destroy(b);
}
END_TEST

/* Copies that have nothing but other strips: it is said so, with the keys that settle it, and they do. */
START_TEST(other_strips_in_the_inventory) {
    static const char one[] = ", strips: [{impressions: 10, length: 67.6}]";
    static const char two[] = ", strips: [{impressions: 10, length: 67.6}, {impressions: 10, length: 67.6}]";
    bench *b = lid_with(one, two);
    hands_see(b, "m has other strips or rounds in the inventory than in this piece");
    hands_see(b, "i, then P takes the inventory's, I gives it");
    hands_press(b, "w");
    hands_see(b, "i, then P takes the inventory's, I gives it");
    hands_press(b, "Esc i");
    hands_see(b, "the piece has other strips: P takes the inventory's, I gives the piece's");
    hands_press(b, "P");
    ck_assert_uint_eq(desk_project(b->desk)->tools[0].strip_count, 2);
    hands_press(b, "Esc");
    hands_see(b, "no warnings");
    bench_destroy(b);
    b = lid_with("", ", steps: {usual: 7.6}");
    hands_see(b, "m has other sizes in the inventory than in this piece");
    bench_destroy(b);
}
END_TEST

static const bw_tool *own(const bench *b) {
    return &desk_project(b->desk)->tools[0];
}

/* What no face can do stays as typed, to be put right, and nothing is added. */
START_TEST(a_slip_is_put_right) {
    bench *b = lid_with(", strips: [{impressions: 10, length: 67.9}]", "");
    hands_press(b, "Y \"676\" Enter");
    ck_assert(b->bad && b->typing == TYPING_STRIP);
    hands_see(b, "75.11 mm a step; allowed with this face: 3.15 mm to 19 mm");
    hands_see(b, "> length          676");
    hands_press(b, "Backspace \".6\" Enter Enter");
    ck_assert_uint_eq(own(b)->strip_count, 2);
    ck_assert_double_eq_tol(own(b)->strips[1].length, 67.6, 1e-12);
    bench_destroy(b);
}
END_TEST

/* Places are a way of measuring; impressions then count for nothing. */
START_TEST(every_place) {
    bench *b = lid_with("", "");
    hands_press(b, "Y Up Right Right Down \"7.4, 15.1, 22.5\" Enter Enter");
    ck_assert_msg(!b->bad, "%s", b->message);
    ck_assert_uint_eq(own(b)->strip_count, 1);
    ck_assert_uint_eq(own(b)->strips[0].place_count, 3);
    ck_assert_double_eq_tol(own(b)->strips[0].places[1], 15.1, 1e-12);
    hands_press(b, "\"7.4, 7.3\" Enter");
    ck_assert(b->bad && b->typing == TYPING_STRIP);
    hands_see(b, "each is measured from the first impression");
    bench_destroy(b);
}
END_TEST

/* The last row takes one out, of the strips and then of the rounds; undo works in the form, wherever it was opened. */
START_TEST(taken_out_and_back) {
    static const char three[] = ", strips: [{impressions: 10, length: 67.6}, {impressions: 10, length: 67.9}], "
                                "rounds: [{impressions: 40, length: 300}]";
    for (int shelf = 0; shelf < 2; shelf++) {
        bench *b = lid_with(shelf ? "" : three, shelf ? three : "");
        hands_press(b, shelf ? "i Y" : "Y");
        const desk *d = shelf ? b->stock : b->desk;
        char *before = shelf ? hands_stock_bytes(b) : hands_bytes(b);
        hands_press(b, "End Right Enter");
        ck_assert_uint_eq(desk_project(d)->tools[0].strip_count, 2);
        ck_assert_double_eq_tol(desk_project(d)->tools[0].strips[0].length, 67.6, 1e-12);
        hands_see(b, "2 of 2: a round: 40 impressions");
        hands_press(b, "Delete");
        hands_see(b, "1 of 1: 10 impressions, 67.6 mm");
        hands_press(b, "Enter");
        ck_assert_uint_eq(desk_project(d)->tools[0].strip_count, 0);
        hands_press(b, "Enter");
        hands_see(b, "There is no strip to take out.");
        hands_press(b, "u*3");
        ck_assert_int_eq(b->screen, BENCH_STRIP);
        char *after = shelf ? hands_stock_bytes(b) : hands_bytes(b);
        ck_assert_str_eq(before, after);
        hands_press(b, "U");
        ck_assert_uint_eq(desk_project(d)->tools[0].strip_count, 2);
        free(before);
        free(after);
        bench_destroy(b);
    }
}
END_TEST

/* All that the strips tell can be read in a small window, and where it goes on is said. */
START_TEST(it_reads_on) {
    bench *b = lid_with(", strips: [{impressions: 10, length: 67.6}, {places: [7.4, 15.1, 22.5]}]", "");
    hands_press(b, "Y");
    static const int sizes[][2] = {{80, 24}, {60, 18}, {40, 12}};
    for (int i = 0; i < 3; i++) {
        bool last = false;
        for (int page = 0; page < 30 && !last; page++) {
            char *screen = hands_screen(b, sizes[i][0], sizes[i][1]);
            last = strstr(screen, "are taken to be read to") != NULL || strstr(screen, "read to 0.5 mm.") != NULL;
            ck_assert_msg(last || strstr(screen, "PageDown") != NULL, "%s", screen);
            free(screen);
            bench_key(b, BENCH_KEY_PAGE_DOWN);
        }
        ck_assert(last);
        b->strip.first = 0;
    }
    bench_destroy(b);
}
END_TEST

/* Undo in the form may take its tool away: then it is left, also where no piece is open. */
START_TEST(its_tool_is_taken_back) {
    bench *b = hands_open(NULL);
    hands_press(b, "i a Enter \"9.5\" Enter Esc Y");
    hands_see(b, "a test strip of basket-9-5, in the inventory");
    for (int i = 0; i < 4 && b->screen == BENCH_STRIP; i++) {
        hands_press(b, "u");
        free(hands_screen(b, 80, 24));
    }
    hands_see(b, "taken back in the inventory: a new basket stamp: basket-9-5");
    ck_assert_int_eq(b->screen, BENCH_INVENTORY);
    bench_destroy(b);
}
END_TEST

Suite *bench_strips_suite(void) {
    Suite *suite = suite_create("strips on the screen");
    TCase *tests = tcase_create("strips");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, where_steps_come_from);
    tcase_add_test(tests, other_strips_in_the_inventory);
    tcase_add_test(tests, a_slip_is_put_right);
    tcase_add_test(tests, every_place);
    tcase_add_test(tests, taken_out_and_back);
    tcase_add_test(tests, it_reads_on);
    tcase_add_test(tests, its_tool_is_taken_back);
    suite_add_tcase(suite, tests);
    return suite;
}
