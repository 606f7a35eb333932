/* check_left.c - what is asked after a program that did not end as it should, and about a file that somebody else
 * changed: every answer, and that nothing is lost by any of them. */
#include <check.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_left_suite(void);

#define LID "cedar-lid.yaml"

/* A program that pressed these keys and was ended. */
static void ended(const char *file, const char *keys) {
    bench *b = hands_open(file);
    hands_press(b, keys);
    ck_assert_ptr_nonnull(bench_leave(b));
    bench_destroy(b);
}

static void holds(const bench *b, const char *text) {
    char *bytes = hands_bytes(b);
    ck_assert_msg(strstr(bytes, text) != NULL, "no '%s' in\n%s", text, bytes);
    free(bytes);
}

static int journals(void) {
    size_t count;
    char **names = desk_left_names("state", LID, &count);
    for (size_t i = 0; i < count; i++) {
        free(names[i]);
    }
    free(names);
    return (int)count;
}

static void change_file(const char *command) {
    ck_assert_int_eq(system(command), 0);
}

START_TEST(taken) {
    ended(LID, "Right Right");
    bench *b = hands_open(LID);
    ck_assert_int_eq(bench_where(b), BENCH_LEFT);
    hands_see(b, "weave width 21.25 mm -> 21.5 mm");
    holds(b, "width: 21,"); /* nothing is taken unasked */
    hands_press(b, "Enter");
    holds(b, "width: 21.5,");
    hands_press(b, "u u");
    ck_assert(!desk_unsaved(bench_desk(b)));
    hands_press(b, "U s");
    ck_assert_int_eq(journals(), 0);
    bench_destroy(b);
    b = hands_open(LID);
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    holds(b, "width: 21.25,");
    bench_destroy(b);
}
END_TEST

START_TEST(dropped_only_when_said_twice) {
    static const char *const changes_of_mind[] = {"x v Esc x Esc", "x Esc"};
    ended(LID, "Right");
    for (size_t i = 0; i < 2; i++) {
        bench *b = hands_open(LID);
        hands_press(b, changes_of_mind[i]);
        ck_assert_int_eq(bench_where(b), BENCH_WORK);
        ck_assert_int_eq(journals(), 1);
        bench_destroy(b);
    }
    bench *b = hands_open(LID);
    hands_press(b, "x x");
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    ck_assert(!desk_unsaved(bench_desk(b)));
    ck_assert_int_eq(journals(), 0);
    bench_destroy(b);
}
END_TEST

/* Put off, and worked on all the same: both are there next time. */
START_TEST(later) {
    ended(LID, "Right");
    ended(LID, "Esc Right Right Right");
    ck_assert_int_eq(journals(), 2);
    bench *b = hands_open(LID);
    hands_press(b, "y");
    ck_assert_int_eq(bench_where(b), BENCH_LEFT); /* the other one */
    hands_press(b, "x x");
    ck_assert(desk_unsaved(bench_desk(b)));
    hands_press(b, "s");
    ck_assert_int_eq(journals(), 0);
    bench_destroy(b);
}
END_TEST

START_TEST(what_does_not_fit_is_listed) {
    ended(LID, "Right Tab Right");
    change_file("sed -i 's/width: 21,/width: 30,/' " LID);
    bench *b = hands_open(LID);
    hands_see(b, "The file was changed since");
    hands_press(b, "y");
    ck_assert_int_eq(bench_where(b), BENCH_READ);
    hands_see(b, "weave width 21 mm -> 21.25 mm");
    hands_see(b, "bands.weave.width is 30 now");
    hands_see(b, ".kept1");
    hands_press(b, "Esc");
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    holds(b, "width: 30,");
    bench_destroy(b);
    ck_assert_int_eq(journals(), 0);
    ck_assert_int_eq(system("grep -q '^edit \"weave width 21 mm' state/*.kept1"), 0);
}
END_TEST

START_TEST(a_piece_without_a_file_waits_on_the_start_screen) {
    static const char make[] = "n Enter \"Coaster\" Enter Down*2 \"100\" Enter Down*5 \"9\" Enter Down Enter Right";
    ended(NULL, make);
    bench *b = hands_open(NULL);
    hands_see(b, "Coaster: never saved, 1 change");
    hands_press(b, "Down Enter Esc"); /* later */
    ck_assert_ptr_null(bench_desk(b));
    hands_see(b, "Coaster: never saved, 1 change");
    hands_press(b, "Down Enter y");
    holds(b, "piece: Coaster");
    hands_press(b, "s");
    ck_assert_int_eq(b->typing, TYPING_SAVE_AS);
    hands_press(b, "Enter");
    ck_assert_int_eq(access("coaster.yaml", F_OK), 0);
    bench_destroy(b);
    ended(NULL, make);
    b = hands_open(NULL);
    hands_press(b, "Down Enter x x");
    ck_assert_ptr_null(bench_desk(b));
    ck_assert_int_eq(b->screen, BENCH_START);
    ck_assert_int_eq(journals(), 0);
    bench_destroy(b);
}
END_TEST

/* A new piece that had a name, but no file yet; and a file that was taken away. */
START_TEST(a_file_that_is_not_there) {
    ended("fresh.yaml", "Down*2 \"100\" Enter Down*5 \"9\" Enter Down Enter Right");
    ck_assert_int_ne(access("fresh.yaml", F_OK), 0);
    bench *b = hands_open("fresh.yaml");
    ck_assert_int_eq(bench_where(b), BENCH_LEFT);
    hands_press(b, "y s");
    ck_assert_int_eq(access("fresh.yaml", F_OK), 0);
    bench_destroy(b);
    ended(LID, "Right");
    change_file("rm " LID);
    b = hands_open(LID);
    hands_press(b, "y s");
    bench_destroy(b);
    b = hands_open(LID);
    holds(b, "width: 21.25,");
    bench_destroy(b);
}
END_TEST

/* Two instances of one file: the second is not offered what the first is at; and saving asks. */
START_TEST(two_at_a_time) {
    bench *one = hands_open(LID), *other;
    hands_press(one, "Right");
    other = hands_open(LID);
    ck_assert_int_eq(bench_where(other), BENCH_WORK);
    hands_press(other, "Right*3");
    hands_press(one, "s");
    hands_press(other, "s");
    ck_assert_int_eq(bench_where(other), BENCH_THEIRS);
    hands_see(other, "yours 21.75 mm, theirs 21.25 mm");
    hands_press(other, "Esc");
    ck_assert(desk_unsaved(bench_desk(other)));
    hands_press(other, "s L");
    holds(other, "width: 21.25,");
    ck_assert(!desk_unsaved(bench_desk(other)));
    hands_press(other, "u");
    holds(other, "width: 21.75,");
    bench_destroy(other);
    bench_destroy(one);
}
END_TEST

START_TEST(mine_is_kept_when_leaving) {
    bench *b = hands_open(LID);
    hands_press(b, "Right");
    change_file("sed -i 's/diameter: 140/diameter: 150/' " LID);
    hands_press(b, "q y");
    ck_assert_int_eq(bench_where(b), BENCH_THEIRS);
    ck_assert_int_ne(bench_key(b, 'k') & BENCH_QUIT, 0);
    bench_destroy(b);
    ck_assert_int_eq(system("grep -q 'diameter: 150' " LID ".theirs && grep -q 'width: 21.25' " LID), 0);
}
END_TEST

/* Where no journal can be, it is said, and not at every key. */
START_TEST(trouble_is_told_once) {
    change_file("touch state && mkdir -p shop && cp " LID " shop/lid.yaml");
    bench *b = hands_open("shop/lid.yaml");
    change_file("rm -r shop");
    hands_press(b, "Right");
    hands_see(b, "not kept on the disk");
    hands_press(b, "Right");
    ck_assert_ptr_null(strstr(b->message, "not kept"));
    ck_assert_ptr_null(bench_leave(b));
    bench_destroy(b);
}
END_TEST

Suite *bench_left_suite(void) {
    Suite *suite = suite_create("what was left, and what others changed");
    TCase *tests = tcase_create("left");
    tcase_set_timeout(tests, 30);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, taken);
    tcase_add_test(tests, dropped_only_when_said_twice);
    tcase_add_test(tests, later);
    tcase_add_test(tests, what_does_not_fit_is_listed);
    tcase_add_test(tests, a_piece_without_a_file_waits_on_the_start_screen);
    tcase_add_test(tests, a_file_that_is_not_there);
    tcase_add_test(tests, two_at_a_time);
    tcase_add_test(tests, mine_is_kept_when_leaving);
    tcase_add_test(tests, trouble_is_told_once);
    suite_add_tcase(suite, tests);
    return suite;
}
