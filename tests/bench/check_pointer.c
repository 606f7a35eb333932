/* check_pointer.c - the mouse: on every screen whatever is listed can be clicked, a first click takes it in hand, a
 * second one does as Enter does, the wheel goes as the arrows do, and the words of the bottom line are keys. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/ways.h"

Suite *bench_pointer_suite(void);

static const bench_size window = {100, 30};

static const way *way_of(int number) {
    size_t count;
    return &ways_all(&count)[number];
}

static bench *come(int number) {
    (void)remove("cedar-lid.yaml.theirs"); /* of a hand before */
    bench *b = ways_come(way_of(number), NULL);
    free(hands_screen(b, window.width, window.height));
    return b;
}

static void same_screens(bench *one, bench *other, const char *what, size_t which) {
    char *a = hands_screen(one, window.width, window.height), *b = hands_screen(other, window.width, window.height);
    ck_assert_msg(strcmp(a, b) == 0, "%s %zu:\n%.900s\nis not\n%.900s", what, which, a, b);
    free(a);
    free(b);
}

static bool is_in_hand(const bench *b, const bench_spot *spot) {
    switch (spot->kind) {
    case SPOT_ROW:
        return b->list.at == spot->which;
    case SPOT_VALUE:
        return (b->screen == BENCH_FORM    ? (size_t)b->form.at
                : b->screen == BENCH_STRIP ? (size_t)b->strip.at
                : b->screen == BENCH_TOOL  ? b->shelf.field
                                           : b->field) == spot->which;
    case SPOT_CARD:
        return b->card == spot->which;
    case SPOT_SIDE:
        return (b->screen == BENCH_TOOL ? (int)b->shelf.piece : b->second_chosen) == (int)spot->which;
    case SPOT_CELL:
        return b->spacing.row * 64 + b->spacing.column == spot->which;
    default:
        return true;
    }
}

static bool selects(const bench_spot *spot) {
    return spot->kind != SPOT_KEY && spot->kind != SPOT_MEANT;
}

/* Lists, values and tables have a place to click for what is in hand, and for all that is seen of them. */
START_TEST(what_is_listed_can_be_clicked) {
    static const bench_screen without[] = {BENCH_ROUND, BENCH_STRIKES, BENCH_LOOK, BENCH_READ, BENCH_ASK, BENCH_TYPING};
    bench *b = come(_i);
    size_t rows = 0, hand = 0;
    bool lists = true;
    for (size_t i = 0; i < sizeof without / sizeof without[0]; i++) {
        lists = lists && way_of(_i)->screen != without[i];
    }
    for (size_t i = 0; i < b->spot_count; i++) {
        rows += b->spots[i].kind != SPOT_KEY;
        hand += selects(&b->spots[i]) && b->spots[i].kind != SPOT_CARD && is_in_hand(b, &b->spots[i]);
    }
    ck_assert_msg(!lists || rows > 0, "only %zu places to click on screen %d", rows, way_of(_i)->screen);
    if (lists && b->screen != BENCH_LEFT && b->screen != BENCH_THEIRS) {
        ck_assert_msg(hand > 0, "what is in hand cannot be clicked on screen %d", way_of(_i)->screen);
    }
    if (b->screen == BENCH_ITEMS || b->screen == BENCH_KINDS || b->screen == BENCH_TOOLS || b->screen == BENCH_FILLS ||
        b->screen == BENCH_START) {
        ck_assert_msg(hand > 0 && rows >= b->list.count, "%zu of %zu rows", rows, b->list.count);
    }
    bench_destroy(b);
}
END_TEST

/* One hand clicks all of them in turn. */
static void click_all(int number) {
    bench *b = come(number);
    for (size_t i = 0; i < b->spot_count; i++) {
        bench_spot spot = b->spots[i];
        if (bench_where(b) == BENCH_TYPING || !selects(&spot) || (spot.kind == SPOT_CARD && b->screen != BENCH_WORK)) {
            continue;
        }
        bool was = is_in_hand(b, &spot), side = spot.kind == SPOT_SIDE || spot.kind == SPOT_CARD;
        if (was && (!side || b->screen == BENCH_SECOND)) {
            continue;
        }
        bench_pointer(b, BENCH_CLICK, spot.x + spot.width - 1, spot.y);
        ck_assert_msg(is_in_hand(b, &spot), "screen %d: a click at %d,%d does not take %zu in hand", b->screen,
                      spot.x + 1, spot.y + 1, spot.which);
        ck_assert_int_eq(bench_where(b), way_of(number)->screen);
        free(hands_screen(b, window.width, window.height));
    }
    bench_destroy(b);
}

START_TEST(a_click_takes_in_hand) {
    click_all(_i);
}
END_TEST

/* A row that was drawn, and that a key has taken away before the next drawing, is nothing to point at. */
START_TEST(a_row_that_is_gone_is_not_taken) {
    bench *b = hands_open("new.yaml");
    hands_press(b, "Home Down Down");
    for (int i = 0; i < 20 && !form_has(&b->form, FORM_WIDE); i++) {
        bench_key(b, BENCH_KEY_RIGHT);
    }
    free(hands_screen(b, 80, 40));
    while (form_has(&b->form, FORM_WIDE)) {
        bench_key(b, BENCH_KEY_LEFT);
    }
    bool found = false;
    for (size_t i = 0; i < b->spot_count; i++) {
        bench_spot spot = b->spots[i];
        if (spot.kind == SPOT_VALUE && spot.which == FORM_WIDE) {
            bench_pointer(b, BENCH_CLICK, spot.x, spot.y);
            found = true;
        }
    }
    ck_assert(found);
    ck_assert_int_eq(b->form.at, FORM_SHAPE);
    bench_destroy(b);
}
END_TEST

/* Bands and stamps are changed on the workbench: elsewhere a click on one says so and changes nothing. */
START_TEST(a_click_on_another_band_says_why_not) {
    bench *b = come(_i);
    size_t told = 0, card = b->card;
    for (size_t i = 0; i < b->spot_count && b->screen != BENCH_WORK; i++) {
        if (b->spots[i].kind == SPOT_CARD && bench_where(b) != BENCH_TYPING) {
            bench_pointer(b, BENCH_CLICK, b->spots[i].x, b->spots[i].y);
            ck_assert_msg(b->bad && strstr(b->message, "on the workbench: ") != NULL, "%s", b->message);
            told++;
        }
    }
    ck_assert_uint_eq(b->card, card);
    ck_assert(told > 0 || b->screen != BENCH_ITEMS);
    bench_destroy(b);
}
END_TEST

static void click_twice(int number, size_t place) {
    bench *clicked = come(number), *pressed;
    bench_spot spot = clicked->spots[place];
    bool was = is_in_hand(clicked, &spot);
    bench_pointer(clicked, BENCH_CLICK, spot.x, spot.y);
    free(hands_screen(clicked, window.width, window.height));
    if (!was) {
        bench_pointer(clicked, BENCH_CLICK, spot.x, spot.y);
    }
    pressed = come(number);
    if (!was) {
        bench_pointer(pressed, BENCH_CLICK, spot.x, spot.y);
        free(hands_screen(pressed, window.width, window.height));
    }
    bench_key(pressed, BENCH_KEY_ENTER);
    same_screens(clicked, pressed, "a second click on", spot.which);
    bench_destroy(clicked);
    bench_destroy(pressed);
}

START_TEST(a_second_click_is_enter) {
    bench *b = come(_i);
    size_t count = b->spot_count;
    bench_spot *spots = malloc(count * sizeof *spots);
    ck_assert_ptr_nonnull(spots);
    memcpy(spots, b->spots, count * sizeof *spots);
    bench_screen screen = bench_where(b);
    bench_destroy(b);
    for (size_t i = 0; i < count; i++) {
        bool one_of_many = spots[i].kind == SPOT_CELL && i % 9 != 0; /* all alike */
        bool second_line = i > 1 && spots[i].kind == SPOT_SIDE && spots[i - 2].kind == SPOT_SIDE;
        bool tool_side = spots[i].kind == SPOT_SIDE && screen == BENCH_TOOL; /* nothing beside the choice itself */
        if (screen != BENCH_TYPING && selects(&spots[i]) && spots[i].kind != SPOT_CARD && !one_of_many &&
            !second_line && !tool_side) {
            click_twice(_i, i);
        }
    }
    free(spots);
}
END_TEST

START_TEST(the_bottom_line_is_keys) {
    bench *b = come(_i);
    size_t keys = 0;
    for (size_t i = 0; i < b->spot_count; i++) {
        bench_spot spot = b->spots[i];
        bool again = i > 0 && b->spots[i - 1].which == spot.which; /* the key, then its word */
        if ((spot.kind == SPOT_KEY || spot.kind == SPOT_MEANT) && !again) {
            bench *clicked = come(_i);
            bench_pointer(clicked, BENCH_CLICK, spot.x, spot.y);
            bench *pressed = come(_i);
            bench_key(pressed, (int)spot.which);
            same_screens(clicked, pressed, "a click on the key", spot.which);
            bench_destroy(pressed);
            bench_destroy(clicked);
            keys++;
        }
    }
    bench_destroy(b);
    ck_assert_uint_gt(keys, 1);
}
END_TEST

START_TEST(the_wheel_goes_as_arrows_do) {
    bench_screen screen = way_of(_i)->screen;
    bool none = screen == BENCH_TYPING || screen == BENCH_ASK || screen == BENCH_STRIKES || screen == BENCH_LEFT ||
                screen == BENCH_THEIRS;
    bench *wheeled = come(_i), *pressed = come(_i);
    for (int i = 0; i < 4; i++) {
        bool up = i == 3;
        bench_pointer(wheeled, up ? BENCH_WHEEL_UP : BENCH_WHEEL_DOWN, 5, 5);
        for (int k = 0; k < (screen == BENCH_READ ? 3 : 1) && !none; k++) {
            bench_key(pressed, screen == BENCH_ROUND ? (up ? BENCH_KEY_LEFT : BENCH_KEY_RIGHT)
                               : up                  ? BENCH_KEY_UP
                                                     : BENCH_KEY_DOWN);
        }
        same_screens(wheeled, pressed, "the wheel, turn", (size_t)i);
    }
    bench_destroy(wheeled);
    bench_destroy(pressed);
}
END_TEST

/* What a file of keys has made of Enter and Tab changes nothing for the mouse. */
START_TEST(other_keys_leave_it_as_it_is) {
    hands_other_keys();
    click_all(_i);
}
END_TEST

Suite *bench_pointer_suite(void) {
    Suite *suite = suite_create("the mouse");
    size_t ways;
    (void)ways_all(&ways);
    TCase *tests = tcase_create("mouse");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_loop_test(tests, what_is_listed_can_be_clicked, 0, (int)ways);
    tcase_add_loop_test(tests, a_click_takes_in_hand, 0, (int)ways);
    tcase_add_loop_test(tests, other_keys_leave_it_as_it_is, 0, (int)ways);
    tcase_add_loop_test(tests, a_click_on_another_band_says_why_not, 0, (int)ways);
    tcase_add_loop_test(tests, a_second_click_is_enter, 0, (int)ways);
    tcase_add_loop_test(tests, the_bottom_line_is_keys, 0, (int)ways);
    tcase_add_loop_test(tests, the_wheel_goes_as_arrows_do, 0, (int)ways);
    tcase_add_test(tests, a_row_that_is_gone_is_not_taken);
    suite_add_tcase(suite, tests);
    return suite;
}
