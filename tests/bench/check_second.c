/* check_second.c - the second layout by keys: what is shown, asked and kept. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_second_suite(void);

static bench *b;

static void begin(void) {
    hands_begin();
    b = hands_open("cedar-lid.yaml");
}

static void end(void) {
    bench_destroy(b);
    hands_end();
}

static bool saw(const char *words) {
    char *screen = hands_screen(b, 80, 24);
    bool there = strstr(screen, words) != NULL;
    free(screen);
    return there;
}

START_TEST(told_on_the_screen) {
    hands_press(b, "G");
    hands_see(b, "No other layout is held");
    hands_press(b, "g");
    hands_see(b, "held: the same as in hand");
    hands_press(b, "g");
    hands_see(b, "the same as yet");
    hands_press(b, "Right Right");
    hands_see(b, "held: weave width 21 mm");
    hands_press(b, "g");
    hands_see(b, "held: weave width 21.5 mm");
    hands_press(b, "g G");
    hands_see(b, "[in hand]");
    hands_see(b, "21.5 mm");
    hands_press(b, "Right");
    hands_see(b, "[held]");
    hands_press(b, "Enter");
    ck_assert(!saw("held:"));
    hands_press(b, "u");
    hands_see(b, "held: weave width 21 mm");
    hands_press(b, "G x");
    ck_assert(!saw("held:"));
    hands_see(b, "21.5 mm");
}
END_TEST

/* Undo and redo on the screen of both may lead to where none is held: then there is nothing to show. */
START_TEST(none_left_to_show) {
    hands_press(b, "g Right G Enter u G");
    ck_assert_int_eq(b->screen, BENCH_SECOND);
    hands_press(b, "U");
    ck_assert_int_eq(b->screen, BENCH_WORK);
}
END_TEST

/* A layout that stands in no file is not lost without a word. */
START_TEST(leaving_with_one_held) {
    hands_press(b, "g Right s q");
    hands_see(b, "The other layout is saved nowhere (held: weave width 21 mm)");
    hands_press(b, "n");
    ck_assert_int_eq(b->screen, BENCH_WORK);
    hands_press(b, "q Esc");
    ck_assert_int_eq(b->screen, BENCH_WORK);
    ck_assert(desk_holding(b->desk));
    hands_press(b, "Right q");
    hands_see(b, "The held layout is saved nowhere");
    hands_press(b, "Esc u q y");
    ck_assert((b->effects & BENCH_QUIT) != 0);
}
END_TEST

/* Every size shows which of the two is chosen. */
START_TEST(at_every_size) {
    static const bench_size sizes[] = {{80, 24}, {56, 20}, {55, 20}, {40, 12}, {20, 5}, {500, 200}};
    hands_press(b, "g Right l G");
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        hands_press(b, "Home");
        char *screen = hands_screen(b, sizes[i].width, sizes[i].height);
        ck_assert_ptr_nonnull(strstr(screen, "[in hand]"));
        ck_assert_msg(sizes[i].height < 10 || strstr(screen, "weave width") != NULL, "%s", screen);
        free(screen);
        hands_press(b, "End");
        free(hands_screen(b, sizes[i].width, sizes[i].height));
        ck_assert_uint_le(b->list.first, b->list.count);
    }
}
END_TEST

Suite *bench_second_suite(void) {
    Suite *suite = suite_create("bench: a second layout");
    TCase *tests = tcase_create("second");
    tcase_add_checked_fixture(tests, begin, end);
    tcase_add_test(tests, told_on_the_screen);
    tcase_add_test(tests, none_left_to_show);
    tcase_add_test(tests, leaving_with_one_held);
    tcase_add_test(tests, at_every_size);
    suite_add_tcase(suite, tests);
    return suite;
}
