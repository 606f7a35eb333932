/* check_aspect.c - how high the cells of the window are: from the option, else from the environment; nonsense is told.
 */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "verbs/spawn.h"

Suite *verbs_aspect_suite(void);

static void begin(void) {
    spawn_begin();
    spawn_copy("projects/cedar-lid.yaml", "lid.yaml");
    spawn_write("v.keys", "v\n", 2);
}

/* The screen with what stands before and behind the program's name; malloc'ed. */
static char *screen(const char *environment, const char *options) {
    const spawned *run = spawn("%s $BW --keys v.keys --screen - --size 120x40 %s lid.yaml", environment, options);
    ck_assert_msg(run->status == 0, "%s", run->err);
    return strdup(run->out);
}

START_TEST(option_before_environment_before_two) {
    char *usual = screen("", ""), *two = screen("", "--aspect 2"), *high = screen("", "--aspect=2.6");
    char *kept = screen("BANDWRIGHT_ASPECT=2.6", ""), *empty = screen("BANDWRIGHT_ASPECT=", "");
    char *both = screen("BANDWRIGHT_ASPECT=2.6", "--aspect 2");
    ck_assert_str_eq(usual, two);
    ck_assert_str_eq(usual, empty);
    ck_assert_str_eq(usual, both);
    ck_assert_str_ne(usual, high);
    ck_assert_str_eq(high, kept);
    free(usual);
    free(two);
    free(high);
    free(kept);
    free(empty);
    free(both);
}
END_TEST

static const char *const nonsense[] = {"0.9", "3.1", "2,1", "two", "-2", "nan", "1e0", "2 mm", "0x2", "2:1", "1/2"};

START_TEST(nonsense_is_told) {
    const spawned *run = spawn("$BW --keys v.keys --screen - --aspect '%s' lid.yaml", nonsense[_i]);
    ck_assert_int_eq(run->status, 2);
    ck_assert_ptr_nonnull(strstr(run->err, "--aspect: the height of a cell by its width is a number from 1 to 3"));
    ck_assert_ptr_nonnull(strstr(run->err, nonsense[_i]));
    ck_assert_str_eq(run->out, "");
    run = spawn("BANDWRIGHT_ASPECT='%s' $BW --keys v.keys --screen - lid.yaml", nonsense[_i]);
    ck_assert_int_eq(run->status, 2);
    ck_assert_ptr_nonnull(strstr(run->err, "BANDWRIGHT_ASPECT: the height"));
}
END_TEST

START_TEST(other_verbs_have_none) {
    ck_assert_int_eq(spawn("$BW plan --aspect 2 lid.yaml")->status, 2);
    ck_assert_int_eq(spawn("BANDWRIGHT_ASPECT=nonsense $BW plan lid.yaml")->status, 0);
}
END_TEST

Suite *verbs_aspect_suite(void) {
    Suite *suite = suite_create("verbs/aspect");
    TCase *tests = tcase_create("aspect");
    tcase_add_checked_fixture(tests, begin, spawn_end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, option_before_environment_before_two);
    tcase_add_loop_test(tests, nonsense_is_told, 0, (int)(sizeof nonsense / sizeof nonsense[0]));
    tcase_add_test(tests, other_verbs_have_none);
    suite_add_tcase(suite, tests);
    return suite;
}
