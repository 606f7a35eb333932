/* check_leaving.c - quitting that was broken off at a question: what comes next must not end the program. */
#include <check.h>
#include <stdlib.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_leaving_suite(void);

#define LID "cedar-lid.yaml"

/* The keys lead to a question and back; then a save, and whatever it asks, must leave the workbench there. */
static const struct {
    const char *file, *keys;
    bool theirs; /* the file is another one by then */
    const char *save;
} ways[] = {
    {LID, "Right q Esc", false, "s"},
    {LID, "Right q Esc", true, "s k"},
    {LID, "Right q y Esc", true, "s k"},
    {LID, "Right q y Esc", true, "s L Right s"},
    {NULL, "Home Enter Down Down Down 1 5 0 Enter End Up Up 7 Enter End Enter q y Esc", false, "S \"made.yaml\" Enter"},
    {LID, "g Right s q Esc", false, "Right s"},
};

START_TEST(breaking_off_forgets_to_quit) {
    bench *b = hands_open(ways[_i].file);
    if (ways[_i].theirs) {
        ck_assert_int_eq(system("echo '# theirs' >> " LID), 0);
    }
    hands_press(b, ways[_i].keys);
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    hands_press(b, ways[_i].save);
    ck_assert(!desk_unsaved(bench_desk(b)));
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    ck_assert_uint_eq(b->effects & BENCH_QUIT, 0);
    ck_assert_int_eq(b->after, AFTER_NOTHING);
    bench_destroy(b);
}
END_TEST

Suite *bench_leaving_suite(void) {
    Suite *suite = suite_create("quitting that is broken off");
    TCase *tests = tcase_create("leaving");
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_loop_test(tests, breaking_off_forgets_to_quit, 0, (int)(sizeof ways / sizeof ways[0]));
    suite_add_tcase(suite, tests);
    return suite;
}
