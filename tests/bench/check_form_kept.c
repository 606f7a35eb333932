/* check_form_kept.c - the form of a new piece over the end of the program. */
#include <check.h>
#include <stdlib.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_form_kept_suite(void);

/* A program that pressed these keys and was ended. */
static void ended(const char *file, const char *keys) {
    bench *b = hands_open(file);
    hands_press(b, keys);
    ck_assert_ptr_nonnull(bench_leave(b));
    bench_destroy(b);
}

/* What was typed stands there again: values that make no piece yet and the line being typed, too. */
START_TEST(the_form_comes_back) {
    ended("new.yaml", "Down 1 5 0 Enter Home \"Tray\" Enter End Up Up \"7\" Enter");
    bench *b = hands_open("new.yaml");
    ck_assert_int_eq(bench_where(b), BENCH_FORM);
    hands_see(b, "What was typed here when the program ended stands here again");
    ck_assert_str_eq(b->form.text[FORM_PIECE], "Tray");
    ck_assert_str_eq(b->form.text[FORM_SIZE], "150");
    hands_press(b, "End Enter");
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    bench_destroy(b);
    b = hands_open("other.yaml"); /* made: forgotten */
    ck_assert_str_eq(b->form.text[FORM_SIZE], "");
    ck_assert_ptr_null(bench_leave(b)); /* nothing was typed: nothing is kept */
    bench_destroy(b);
}
END_TEST

START_TEST(a_line_being_typed_in_the_form_comes_back) {
    ended("new.yaml", "+ 2 0 0 Enter 9 5");
    bench *b = hands_open("new.yaml");
    hands_see(b, "200");
    hands_see(b, "95");
    ck_assert(!bench_unsaved(b));
    hands_press(b, "Esc");
    bench_destroy(b);
    b = hands_open("new.yaml");
    ck_assert_str_eq(b->form.text[FORM_LONG], "");
    bench_destroy(b);
}
END_TEST

/* Killed without a word: what was taken into a row is kept. A file that was cut off or scribbled on does no harm. */
START_TEST(the_form_is_kept_while_it_is_filled_in) {
    bench *b = hands_open("new.yaml");
    hands_press(b, "1 5 0 Enter");
    bench_sync(b);
    bench_destroy(b);
    b = hands_open("new.yaml");
    ck_assert_str_eq(b->form.text[FORM_SIZE], "150");
    bench_destroy(b);
    hands_write("state/new-piece.form",
                "shape 99\nunits -1\nfill x\nrow 12345\nnonsense\n\nsize 12\nstamp none\nwidth 4");
    b = hands_open("new.yaml");
    ck_assert_str_eq(b->form.text[FORM_SIZE], "12");
    ck_assert_str_eq(b->form.text[FORM_WIDTH], "16");
    ck_assert_int_eq(b->form.shape, 0);
    hands_press(b, "End Enter Esc");
    bench_destroy(b);
}
END_TEST

Suite *bench_form_kept_suite(void) {
    Suite *suite = suite_create("the form of a new piece, kept");
    TCase *tests = tcase_create("kept");
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, the_form_comes_back);
    tcase_add_test(tests, a_line_being_typed_in_the_form_comes_back);
    tcase_add_test(tests, the_form_is_kept_while_it_is_filled_in);
    suite_add_tcase(suite, tests);
    return suite;
}
