/* check_even.c - `even`: exit status, what its options refuse, the command it tells, yaml for other programs, and an
 * interruption. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "maths/tree.h"
#include "verbs/spawn.h"

Suite *verbs_even_suite(void);

static const char lid[] = "bandwright-project: 1\n"
                          "outline: {shape: circle, diameter: 120}\n"
                          "bands:\n"
                          "  - {name: my rim, space: 4, width: 6, fill: border, tool: s}\n"
                          "  - {name: weave, space: 2, width: 16, fill: basket, tool: b}\n"
                          "tools:\n"
                          "  - {id: s, kind: border, length: 5, width: 5}\n"
                          "  - {id: b, kind: basket, length: 7, width: 4, bar: 2, rail: 1}\n";

static void begin(void) {
    spawn_begin();
    spawn_write("lid.yaml", lid, strlen(lid));
}

static const struct {
    const char *line;
    int status;
    const char *said; /* somewhere in what it writes */
} lines[] = {
    {"$BW even lid.yaml --fits tight", 0, "well as it is"},
    {"$BW even lid.yaml --fits tight --limit 0.2%", 0, "The first is the best there is"},
    {"$BW even lid.yaml --fits tight --limit 0.002 --answers 2", 0, "\n2. "},
    {"$BW even lid.yaml --fits tight --limit 0.2% --only outline --within 0.25", 1,
     "There is no way within these bounds"},
    {"$BW even lid.yaml --limit 0.01% --changes 1 --within 0.25", 1, "everything with up to 1 change was"},
    {"$BW even lid.yaml --limit 0.01% --trials 50", 1, "Stopped at the bound on trials"},
    {"$BW even lid.yaml --limit 0.2% --only bands.weave.overlap", 2, "nothing there can be moved"},
    {"$BW even lid.yaml --only nonsense", 2, "--only nonsense"},
    {"$BW even lid.yaml --within 0", 2, "--within"},
    {"$BW even lid.yaml --within 101", 2, "at most 100 mm"},
    {"$BW even lid.yaml --within wide", 2, "--within"},
    {"$BW even lid.yaml --limit 60%", 2, "--limit"},
    {"$BW even lid.yaml --answers 0", 2, "from 1 to 20"},
    {"$BW even lid.yaml --answers 2x", 2, "from 1 to 20"},
    {"$BW even lid.yaml --fits well", 2, "good or tight"},
    {"$BW even lid.yaml --format csv", 2, "text or yaml"},
    {"$BW even none.yaml", 66, "none.yaml"},
    {"$BW even", 2, "usage"},
};

START_TEST(argument_line) {
    const spawned *run = spawn("%s", lines[_i].line);
    ck_assert_msg(run->status == lines[_i].status, "%s: status %d\n%s%s", lines[_i].line, run->status, run->out,
                  run->err);
    ck_assert_msg(strstr(run->status <= 1 ? run->out : run->err, lines[_i].said) != NULL, "%s:\n%s%s", lines[_i].line,
                  run->out, run->err);
}
END_TEST

/* The command under the first answer does it: then nothing need be changed. */
START_TEST(the_command_does_it) {
    const spawned *run = spawn("$BW even lid.yaml --fits tight --limit 0.2%%");
    const char *told = strstr(run->out, "bandwright set ");
    ck_assert_ptr_nonnull(told);
    char *command = strndup(told, strcspn(told, "\n"));
    ck_assert(strncmp(command, "bandwright set lid.yaml ", 24) == 0);
    ck_assert_int_eq(spawn("$BW%s", command + strlen("bandwright"))->status, 0);
    run = spawn("$BW even lid.yaml --fits tight --limit 0.2%%");
    ck_assert_msg(strstr(run->out, "well as it is") != NULL, "%s\n%s", command, run->out);
    free(command);
    spawn_write("-lid.yaml", lid, strlen(lid));
    run = spawn("$BW even --fits tight --limit 0.2%% -- -lid.yaml");
    ck_assert_ptr_nonnull(strstr(run->out, "bandwright set ./-lid.yaml "));
}
END_TEST

START_TEST(yaml_is_read_back) {
    const spawned *run = spawn("$BW even lid.yaml --fits tight --limit 0.2%% -f yaml");
    tree made;
    ck_assert_int_eq(run->status, 0);
    tree_read(&made, run->out, run->out_length);
    ck_assert(tree_number(&made, "bandwright-even") == 1);
    ck_assert_double_eq_tol(tree_number(&made, "limit"), 0.002, 1e-12);
    ck_assert_str_eq(tree_word(&made, "best"), "true");
    for (size_t i = 0; i < tree_count(&made, "answers"); i++) { /* what is told as values and what as text are one */
        double total = 0;
        for (size_t c = 0; c < tree_count(&made, "answers[%zu].changes", i); c++) {
            double from = tree_number(&made, "answers[%zu].changes[%zu].from", i, c);
            double to = tree_number(&made, "answers[%zu].changes[%zu].to", i, c);
            const char *set = strchr(tree_word(&made, "answers[%zu].set[%zu]", i, c), '=');
            ck_assert_double_eq_tol(strtod(set + 1, NULL), to, 1e-9);
            total += fabs(to - from);
        }
        ck_assert_double_eq_tol(total, tree_number(&made, "answers[%zu].total", i), 1e-9);
        ck_assert_uint_eq(tree_count(&made, "answers[%zu].bands", i), 2);
    }
    ck_assert_uint_eq(tree_count(&made, "answers"), 5);
    tree_free(&made);
}
END_TEST

/* Interrupted, it shows what it has and says how far it came. */
START_TEST(interrupted) {
    const spawned *run = spawn("timeout -s INT 1 $BW even lid.yaml --within 100 --limit 0.0001%% --trials 1000000000");
    ck_assert_msg(strstr(run->out, "Stopped by hand.") != NULL, "%s%s", run->out, run->err);
    ck_assert_msg(strstr(run->out, "nothing") != NULL, "%s", run->out);
}
END_TEST

Suite *verbs_even_suite(void) {
    Suite *suite = suite_create("verbs/even");
    TCase *tests = tcase_create("even");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, begin, spawn_end);
    tcase_add_loop_test(tests, argument_line, 0, (int)(sizeof lines / sizeof lines[0]));
    tcase_add_test(tests, the_command_does_it);
    tcase_add_test(tests, yaml_is_read_back);
    tcase_add_test(tests, interrupted);
    suite_add_tcase(suite, tests);
    return suite;
}
