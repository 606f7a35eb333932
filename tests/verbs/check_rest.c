/* check_rest.c - the verb that closes a round struck in part: what it says fits its exit status, the round in hand of
 * the file stands for what is not given, and what makes no sense is told with what is allowed. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "verbs/spawn.h"

Suite *verbs_rest_suite(void);

static void begin(void) {
    spawn_begin();
    spawn_copy("projects/cedar-lid.yaml", "lid.yaml");
    spawn_copy("projects/hornbeam-belt.yaml", "belt.yaml");
}

/* Every count that is told as working closes what is left to the last tenth that is shown of its step. */
START_TEST(steps_told_make_up_what_is_left) {
    static const double lefts[] = {200, 138, 61.5, 33.3};
    int struck = 41 - (int)lround(lefts[_i] / 7.93), told = 0;
    const spawned *run = spawn("$BW rest lid.yaml weave --struck %d --left %g", struck, lefts[_i]);
    ck_assert_msg(run->status == 0, "%s%s", run->out, run->err);
    for (const char *at = run->out; (at = strchr(at, '\n')) != NULL; at++) {
        int count, steps;
        double step;
        if (sscanf(at + 1, "%d: %d steps of %lf mm", &count, &steps, &step) == 3) {
            ck_assert_int_eq(steps, count - struck + 1);
            ck_assert_double_eq_tol(steps * step, lefts[_i], steps * 0.005 + 1e-9);
            told++;
        }
    }
    ck_assert_int_gt(told, 0);
}
END_TEST

START_TEST(where_nothing_fits_it_says_what_to_do) {
    const spawned *run = spawn("$BW rest lid.yaml weave --struck 39 --left 20.9");
    ck_assert_int_eq(run->status, 1);
    ck_assert_ptr_nonnull(strstr(run->out, "Nothing fits what is left"));
    ck_assert_ptr_nonnull(strstr(run->out, "leaned impression"));
}
END_TEST

/* Two steps since the measure that do not hold are told as those, and not with the mean of all. */
START_TEST(steps_that_do_not_hold_are_told_as_those) {
    spawn("$BW set lid.yaml 'bands.weave.struck=[{run: 1, impressions: 22, of: 40, planned: 40, from: 20, left: 151, "
          "done: no}]'");
    const spawned *run = spawn("$BW rest lid.yaml weave --left 132");
    ck_assert_msg(run->status == 1 && strstr(run->out, "no, from 20 to 22, at 9.5 mm on the mean") != NULL, "%s",
                  run->out);
}
END_TEST

/* An open run has no seam at which anything could hide. */
START_TEST(only_a_closed_run_has_a_seam) {
    const spawned *run = spawn("$BW rest belt.yaml weave --run 1 --struck 3 --left 3");
    ck_assert_msg(run->status == 1 && strstr(run->out, "lean the last") != NULL && strstr(run->out, "seam") == NULL,
                  "%s", run->out);
    run = spawn("$BW rest lid.yaml weave --struck 39 --left 10");
    ck_assert_msg(run->status == 1 && strstr(run->out, "where the seam hides") != NULL, "%s", run->out);
}
END_TEST

START_TEST(the_round_in_hand_is_known) {
    spawn("$BW set lid.yaml 'bands.weave.struck=[{run: 1, impressions: 24, of: 40, done: no}]'");
    char asked[4000];
    snprintf(asked, sizeof asked, "%s", spawn("$BW rest lid.yaml weave --left 138")->out);
    ck_assert_str_eq(asked, spawn("$BW rest lid.yaml weave --struck 24 --left '13.8 cm' --run 1")->out);
    ck_assert_ptr_nonnull(strstr(asked, "138 mm left after 24"));
}
END_TEST

/* The rest would do, but what is struck does not, or can hardly be: the status says so, as of a plan that does not fit.
 */
START_TEST(the_part_struck_counts) {
    const spawned *run = spawn("$BW rest lid.yaml weave --struck 20 --left 190");
    ck_assert_int_eq(run->status, 1);
    ck_assert_msg(strstr(run->out, "For the part struck: no, at 6.7 mm on the mean legs ride on the bars") != NULL,
                  "%s", run->out);
    ck_assert_ptr_nonnull(strstr(run->out, "On what is left outer"));
    run = spawn("$BW rest lid.yaml weave --struck 24 --left 60");
    ck_assert_int_eq(run->status, 1);
    ck_assert_msg(strncmp(run->out, "Count again and measure again: 24 struck and 60 mm left", 55) == 0, "%s",
                  run->out);
    ck_assert_ptr_nonnull(strstr(run->out, "The plan\nhas as much left after"));
    run = spawn("$BW rest lid.yaml weave --struck 100000 --left 300");
    ck_assert_msg(run->status == 1 && strncmp(run->out, "Count again", 11) == 0, "%s", run->out);
    run = spawn("$BW rest lid.yaml weave --struck 1 --left 200");
    ck_assert_msg(run->status == 1 && strncmp(run->out, "Measure again: after the first", 30) == 0 &&
                      strstr(run->out, "steps struck") == NULL,
                  "%s", run->out);
}
END_TEST

/* Of several runs the one whose steps are too short is named. */
START_TEST(the_part_struck_names_its_run) {
    spawn_copy("projects/walnut-cover.yaml", "cover.yaml");
    for (int i = 1; i <= 3; i += 2) { /* the two that are as long */
        char said[80];
        const spawned *run = spawn("$BW rest cover.yaml weave --run %d --struck 12 --left 44", i);
        snprintf(said, sizeof said, "For the part struck of run %d: no, at 6.05 mm on the mean", i);
        ck_assert_msg(run->status == 1 && strstr(run->out, said) != NULL, "%s", run->out);
    }
}
END_TEST

/* Half of what a rule is read to is no drift of the hand. */
START_TEST(what_a_rule_cannot_tell_is_no_drift) {
    const spawned *run = spawn("$BW rest lid.yaml weave --struck 24 --left 135");
    ck_assert_msg(strstr(run->out, "0.15 mm more than planned, and less than a rule\ntells.") != NULL, "%s", run->out);
    run = spawn("$BW rest lid.yaml weave --struck 24 --left 135.2");
    ck_assert_msg(strstr(run->out, "0.35 mm more than planned: the steps struck were\nshort, 7.92 mm") != NULL, "%s",
                  run->out);
}
END_TEST

/* Begun at 40 of 7.93 mm and 20 struck: 38 of 8.35 mm now, yet 166.58 mm are left by the steps that were told. */
START_TEST(a_layout_that_changed_is_known) {
    spawn("$BW set lid.yaml 'bands.weave.struck=[{run: 1, impressions: 20, of: 40, planned: 40, guide: "
          "317.3008580125691, aimed: 7.932521450314228, done: no}]' bands.weave.count=38");
    const spawned *run = spawn("$BW rest lid.yaml weave --left 165.58");
    ck_assert_msg(strstr(run->out, "1 mm less than planned: the steps struck were\nlong, 7.99 mm") != NULL, "%s",
                  run->out);
    spawn("$BW set lid.yaml bands.weave.count=40");
    run = spawn("$BW rest lid.yaml weave --left 165.58");
    ck_assert_msg(strstr(run->out, "1 mm less than planned") != NULL, "%s", run->out);
}
END_TEST

/* Holes are not leaned, and steps that differ by less than the dividers' grid are told apart. */
START_TEST(words_fit_what_is_struck) {
    spawn_copy("projects/walnut-cover.yaml", "cover.yaml");
    spawn_copy("projects/maple-lid.yaml", "rope.yaml");
    const spawned *run = spawn("$BW rest cover.yaml stitching --struck 16 --left 5");
    ck_assert_int_eq(run->status, 1);
    ck_assert_msg(strstr(run->out, "Nothing fits") != NULL && strstr(run->out, "lean") == NULL &&
                      strstr(run->out, "impression") == NULL,
                  "%s", run->out);
    run = spawn("$BW rest rope.yaml rope --struck 28 --left 7.8");
    ck_assert_msg(strstr(run->out, "long, 0.282 in on the mean") != NULL && strstr(run->out, " 0 in ") == NULL, "%s",
                  run->out);
}
END_TEST

/* A step that changes little beside the plan, and much beside the hand's: one sentence, not two that contradict. */
START_TEST(a_jump_is_told_once) {
    const spawned *run = spawn("$BW rest lid.yaml weave --struck 12 --left 234");
    ck_assert_msg(strstr(run->out, "where they") != NULL, "%s", run->out);
    for (const char *at = run->out; (at = strstr(at, "not seen if spread")) != NULL; at++) {
        const char *end = strstr(at, "\n\n"), *jump = strstr(at, "the jump shows");
        ck_assert(jump == NULL || (end != NULL && jump > end));
    }
}
END_TEST

START_TEST(runs_are_told_apart) {
    const spawned *run = spawn("$BW rest belt.yaml weave --struck 2 --left 8.2 --run 1");
    ck_assert_msg(run->status <= 1 && strstr(run->out, "run 1, from the") != NULL, "%s%s", run->out, run->err);
    run = spawn("$BW rest belt.yaml weave --struck 2 --left 900 --run 3");
    ck_assert_msg(run->status <= 1 && strstr(run->out, "run 3, from the") != NULL, "%s%s", run->out, run->err);
}
END_TEST

static const struct {
    const char *line, *says;
} bad[] = {
    {"rest lid.yaml", "too little is given"},
    {"rest lid.yaml nothing --struck 3 --left 9", "has no band nothing"},
    {"rest lid.yaml weave --left 9", "--struck is missing"},
    {"rest lid.yaml weave --struck 3", "--left is missing"},
    {"rest lid.yaml weave --struck 0 --left 9", "--struck: found '0'; allowed: a whole number from 1"},
    {"rest lid.yaml weave --struck 3x --left 9", "--struck: found '3x'"},
    {"rest lid.yaml weave --struck -3 --left 9", "--struck: found '-3'"},
    {"rest lid.yaml weave --struck 3 --left 9,5", "--left: found '9,5'"},
    {"rest lid.yaml weave --struck 3 --left 0", "--left: found '0'; allowed: over 0 to 317.3 mm"},
    {"rest lid.yaml weave --struck 3 --left 400", "--left: found '400'; allowed: over 0 to 317.3 mm"},
    {"rest lid.yaml weave --struck 3 --left 9 --run 2", "--run: found '2'; allowed: a whole number from 1 to 1"},
};

START_TEST(senseless_is_told) {
    const spawned *run = spawn("$BW %s", bad[_i].line);
    ck_assert_msg(run->status == 2 && strstr(run->err, bad[_i].says) != NULL, "%d: %s", run->status, run->err);
    ck_assert_str_eq(run->out, "");
}
END_TEST

Suite *verbs_rest_suite(void) {
    Suite *suite = suite_create("verbs/rest");
    TCase *tests = tcase_create("rest");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, begin, spawn_end);
    tcase_add_loop_test(tests, steps_told_make_up_what_is_left, 0, 4);
    tcase_add_test(tests, where_nothing_fits_it_says_what_to_do);
    tcase_add_test(tests, steps_that_do_not_hold_are_told_as_those);
    tcase_add_test(tests, only_a_closed_run_has_a_seam);
    tcase_add_test(tests, the_round_in_hand_is_known);
    tcase_add_test(tests, the_part_struck_counts);
    tcase_add_test(tests, the_part_struck_names_its_run);
    tcase_add_test(tests, what_a_rule_cannot_tell_is_no_drift);
    tcase_add_test(tests, a_layout_that_changed_is_known);
    tcase_add_test(tests, words_fit_what_is_struck);
    tcase_add_test(tests, a_jump_is_told_once);
    tcase_add_test(tests, runs_are_told_apart);
    tcase_add_loop_test(tests, senseless_is_told, 0, (int)(sizeof bad / sizeof bad[0]));
    suite_add_tcase(suite, tests);
    return suite;
}
