/* check_keys.c - keys that a file changes: what they then do, where they are told, and every fault by line and column.
 */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_keys_suite(void);

static bool change(bench *b, const char *text, shop_problems *problems) {
    shop_problems_init(problems, "keys");
    return bench_keys_change(b, text, strlen(text), problems);
}

static bench *opened(const char *text) {
    shop_problems problems;
    bench *b = hands_open("cedar-lid.yaml");
    bool fine = change(b, text, &problems);
    shop_problems_print(&problems, stderr);
    ck_assert_msg(fine, "%s", text);
    shop_problems_free(&problems);
    return b;
}

static char *shipped(size_t *length) {
    char *text = NULL;
    FILE *to = open_memstream(&text, length);
    ck_assert_ptr_nonnull(to);
    bench_keys_shipped(to);
    ck_assert_int_eq(fclose(to), 0);
    return text;
}

/* The shipped file changes nothing, names every command once, and holds every key. */
START_TEST(what_is_shipped_is_as_it_is) {
    size_t length, count;
    char *text = shipped(&length);
    bench *b = opened(text);
    (void)bench_commands(&count);
    size_t lines = 0;
    for (const char *at = text; (at = strstr(at, " = ")) != NULL; at++) {
        lines++;
    }
    ck_assert_uint_eq(lines, count);
    for (size_t i = 0; i < count; i++) {
        bench_keys now = command_keys(b, i), before = command_keys(NULL, i);
        ck_assert_int_eq(now.count, before.count);
        for (int k = 0; k < now.count; k++) {
            ck_assert_int_eq(now.pressed[k], before.pressed[k]);
            ck_assert_int_eq(now.meant[k], before.meant[k]);
        }
    }
    free(text);
    bench_destroy(b);
}
END_TEST

START_TEST(changed_keys_work_and_are_told) {
    bench *b = opened("# mine\n\nworkbench.step = # Right - + F5\r\nworkbench.undo = ~ F2\nworkbench.save = none\n"
                      "workbench.hold-flip = ž\n");
    hands_see(b, "#/Right step");
    hands_see(b, "~ undo");
    char *before = hands_bytes(b);
    hands_press(b, "\"#\""); /* it is the first place: a step less */
    ck_assert_double_eq_tol(desk_project(bench_desk(b))->bands[b->band].width, 20.75, 1e-9);
    hands_press(b, "F5"); /* and the fifth: more */
    ck_assert_double_eq_tol(desk_project(bench_desk(b))->bands[b->band].width, 21, 1e-9);
    hands_press(b, "F2 ~");
    char *after = hands_bytes(b);
    ck_assert_str_eq(before, after);
    hands_press(b, "u");
    hands_see(b, "u does nothing here");
    hands_press(b, "s");
    hands_see(b, "s does nothing here");
    hands_press(b, "h");
    ck_assert_ptr_nonnull(strstr(b->text, "~ F2 "));
    ck_assert_ptr_nonnull(strstr(b->text, "# Right - + F5"));
    ck_assert_ptr_nonnull(strstr(b->text, "none "));
    hands_press(b, "Esc / \"takes back the last change\"");
    hands_see(b, "~ F2");
    free(after);
    free(before);
    bench_destroy(b);
}
END_TEST

/* Letters stay letters where text is typed. */
START_TEST(typing_stays_typing) {
    bench *b = opened("workbench.type = y\nlists.choose = k j\n");
    hands_press(b, "y \"yjk\"");
    ck_assert_int_eq(bench_where(b), BENCH_TYPING);
    ck_assert_str_eq(b->entry.text, "yjk");
    hands_press(b, "Esc t j");
    ck_assert_int_eq(bench_where(b), BENCH_TOOLS);
    hands_press(b, "Esc / \"jk\"");
    ck_assert_str_eq(b->entry.text, "jk");
    bench_destroy(b);
}
END_TEST

static const struct {
    const char *text;
    size_t line, column;
    const char *says;
} faults[] = {
    {"workbench.undoo = z\n", 1, 1, "no command is called workbench.undoo"},
    {"\nundo = z\n", 2, 1, "no command is called undo"},
    {"workbench.undo z\n", 1, 16, "= is missing"},
    {"workbench.undo\n", 1, 15, "= is missing"},
    {"workbench.undo =\n", 1, 17, "the keys are missing"},
    {"workbench.undo = Ctrl-Q\n", 1, 18, "Ctrl-Q is no key"},
    {"workbench.undo = uu\n", 1, 18, "uu is no key"},
    {"workbench.undo = \xFF\n", 1, 18, "is no key"},
    {"workbench.undo = \x01\n", 1, 18, "is no key"},
    {"workbench.undo = Paste\n", 1, 18, "is no key"},
    {"workbench.undo = z\nworkbench.undo = !\n", 2, 1, "given twice; first in line 1"},
    {"workbench.undo = 1 2 3 4 5 6\n", 1, 18, "digits stay"},
    {"workbench.undo = z Z ! ; \" %\n", 1, 28, "5 keys at most"},
    {"workbench.undo = Esc\n", 1, 18, "Esc and the digits stay"},
    {"round.back = q\n", 1, 14, "Esc and the digits stay"},
    {"round.back = none q\n", 1, 14, "Esc and the digits stay"},
    {"workbench.type-a-number = 7\n", 1, 27, "Esc and the digits stay"},
    {"workbench.undo = s\n", 1, 18, "s is the key of workbench.save already (workbench), as it is shipped"},
    {"workbench.undo = !\nworkbench.save = !\n", 2, 18,
     "! is the key of workbench.undo already (workbench), by line 1"},
    {"workbench.save = !\nworkbench.undo = !\n", 2, 18,
     "! is the key of workbench.save already (workbench), by line 1"},
    {"workbench.undo = ~ ~\n", 1, 20, "~ is the key of workbench.undo already"},
};

START_TEST(every_fault_has_its_place) {
    bench *b = hands_open("cedar-lid.yaml");
    shop_problems problems;
    ck_assert(!change(b, faults[_i].text, &problems));
    ck_assert_uint_ge(problems.count, 1);
    const shop_problem *one = &problems.list[0];
    ck_assert_msg(strstr(one->text, faults[_i].says) != NULL, "%s", one->text);
    ck_assert_msg(one->line == faults[_i].line && one->column == faults[_i].column, "%zu:%zu: %s", one->line,
                  one->column, one->text);
    shop_problems_free(&problems);
    hands_press(b, "Right u"); /* the keys are as they were */
    ck_assert(!desk_unsaved(bench_desk(b)));
    bench_destroy(b);
}
END_TEST

START_TEST(all_faults_come_in_one_go) {
    bench *b = hands_open("cedar-lid.yaml");
    shop_problems problems;
    ck_assert(!change(b, "a = b\nworkbench.undo = uu\nworkbench.save s\n", &problems));
    ck_assert_uint_eq(problems.errors, 3);
    shop_problems_free(&problems);
    bench_destroy(b);
}
END_TEST

/* A key may mean different things where no screen has both. */
START_TEST(a_key_is_free_elsewhere) {
    bench *b = opened("round.tightest = t\nround.seam = T\n");
    hands_press(b, "r Right*5 T");
    ck_assert_int_eq(b->impression, 1);
    bench_destroy(b);
}
END_TEST

/* The maker's own file: a line at fault counts as it is shipped, the others hold, and the first message tells it. */
START_TEST(faults_of_the_own_file_keep_nobody_away) {
    const char *text = "workbench.undo = ~\nnonsense\nworkbench.save = uu\n";
    bench *b = hands_open("cedar-lid.yaml");
    shop_problems problems;
    shop_problems_init(&problems, "/home/me/keys");
    bench_keys_own(b, text, strlen(text), &problems);
    ck_assert_uint_eq(problems.errors, 2);
    shop_problems_free(&problems);
    hands_see(b, "keys:2:1: no command is called nonsense");
    hands_see(b, "(and 1 more); what is wrong counts as it is shipped");
    hands_press(b, "Right");
    ck_assert(desk_unsaved(bench_desk(b)));
    hands_press(b, "~");
    ck_assert(!desk_unsaved(bench_desk(b)));
    hands_press(b, "Right s");
    ck_assert(!desk_unsaved(bench_desk(b)));
    bench_destroy(b);
}
END_TEST

/* s for undo, so save had to go elsewhere; where that fails, undo cannot have s either. */
START_TEST(a_fault_takes_what_rests_on_it_along) {
    const char *text = "workbench.undo = s\nworkbench.save = uu\n";
    bench *b = hands_open("cedar-lid.yaml");
    shop_problems problems;
    shop_problems_init(&problems, "keys");
    bench_keys_own(b, text, strlen(text), &problems);
    ck_assert_uint_eq(problems.errors, 2);
    shop_problems_free(&problems);
    hands_press(b, "Right u");
    ck_assert(!desk_unsaved(bench_desk(b)));
    hands_press(b, "Right s");
    ck_assert(!desk_unsaved(bench_desk(b)));
    bench_destroy(b);
}
END_TEST

START_TEST(an_own_file_that_cannot_be_read_is_told) {
    bench *b = hands_open("cedar-lid.yaml");
    shop_problems problems;
    shop_problems_init(&problems, "/home/me/keys");
    shop_problem_add(&problems, false, 0, 0, "it cannot be read: Permission denied");
    bench_keys_own(b, NULL, 0, &problems);
    shop_problems_free(&problems);
    hands_see(b, "keys: it cannot be read: Permission denied; the keys are as they are shipped");
    bench_destroy(b);
}
END_TEST

Suite *bench_keys_suite(void) {
    Suite *suite = suite_create("keys from a file");
    TCase *tests = tcase_create("keys");
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, what_is_shipped_is_as_it_is);
    tcase_add_test(tests, changed_keys_work_and_are_told);
    tcase_add_test(tests, typing_stays_typing);
    tcase_add_loop_test(tests, every_fault_has_its_place, 0, (int)(sizeof faults / sizeof faults[0]));
    tcase_add_test(tests, all_faults_come_in_one_go);
    tcase_add_test(tests, a_key_is_free_elsewhere);
    tcase_add_test(tests, faults_of_the_own_file_keep_nobody_away);
    tcase_add_test(tests, a_fault_takes_what_rests_on_it_along);
    tcase_add_test(tests, an_own_file_that_cannot_be_read_is_told);
    suite_add_tcase(suite, tests);
    return suite;
}
