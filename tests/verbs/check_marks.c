/* check_marks.c - what `marks` tells: chances that are those of the library for the strips in the file, places on the
 * circle of which the chord is known, and what is refused. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/bandwright.h"
#include "verbs/spawn.h"

Suite *verbs_marks_suite(void);

/* 40 impressions on a guide of 101 mm across: (140 - 2 (4 + 5 + 10.5)). */
static const char lid[] = "bandwright-project: 1\n"
                          "outline: {shape: circle, diameter: 140}\n"
                          "bands:\n"
                          "  - {name: rim, space: 4, width: 5, fill: plain}\n"
                          "  - {name: weave, width: 21, fill: basket, tool: basket-m, count: 40}\n"
                          "  - {name: line, space: 3, fill: stitch, tool: iron}\n"
                          "tools:\n"
                          "  - {id: iron, kind: iron, pitch: 4, teeth: 6}\n"
                          "  - id: basket-m\n"
                          "    kind: basket\n"
                          "    length: 9.5\n"
                          "    width: 6.4\n"
                          "    bar: 3.1\n"
                          "    rail: 1.6\n";

static const double lengths[] = {70.9, 71.9, 71.2, 72.1, 71.4};

#define GUIDE 101.0

/* The lid with so many of these strips. */
static void begin_with(int strips) {
    char text[2000];
    size_t at = (size_t)snprintf(text, sizeof text, "%s%s", lid, strips > 0 ? "    strips:\n" : "");
    for (int i = 0; i < strips; i++) {
        at += (size_t)snprintf(text + at, sizeof text - at, "      - {impressions: 10, length: %g}\n", lengths[i]);
    }
    spawn_begin();
    spawn_write("lid.yaml", text, at);
}

static bool holds(const char *text, const char *part) {
    return strstr(text, part) != NULL;
}

/* The drift that these strips tell, once more from the beginning. */
static bw_drift drift_of(int strips, double tolerance) {
    bw_strip list[5];
    for (int i = 0; i < strips; i++) {
        list[i] = (bw_strip){.impressions = 10, .length = lengths[i], .aimed = NAN};
    }
    bw_hand hand = bw_hand_of(list, (size_t)strips, 0.5);
    bw_drift drift;
    ck_assert(bw_drift_of(&hand, 40, GUIDE * BW_PI / 40, tolerance, &drift));
    ck_assert_double_eq_tol(drift.bias, 0, 1e-9);
    return drift;
}

static const char *line_of(const char *out, const char *table, int marks) {
    const char *line = strstr(out, table);
    ck_assert_ptr_nonnull(line);
    while ((line = strchr(line, '\n')) != NULL && atoi(++line) != marks) {
        ck_assert(*line == ' ');
    }
    ck_assert_ptr_nonnull(line);
    return line;
}

/* A share as the table writes it, held against what it should be. */
static const char *share(const char *at, double wanted) {
    at += strspn(at, " ");
    if (strncmp(at, "over 99 %", 9) == 0) {
        ck_assert_double_gt(wanted, 0.995);
        return at + 9;
    }
    char *end;
    double told = strtod(at, &end);
    ck_assert_msg(fabs(told - wanted * 100) <= 0.5001 && strncmp(end, " %", 2) == 0, "%.30s, not %g", at, wanted);
    return end + 2;
}

START_TEST(chances_are_those_of_the_strips) {
    static const double tolerances[] = {0.4, 0.6, 0.8};
    double tolerance = tolerances[_i];
    begin_with(5);
    const spawned *run = spawn("$BW marks lid.yaml weave --tolerance %g", tolerance);
    ck_assert_int_eq(run->status, 0);
    ck_assert_str_eq(run->err, "");
    bw_drift drift = drift_of(5, tolerance);
    for (int marks = 0; marks <= 7; marks = 2 * marks + 1) {
        bw_closing wanted = bw_closing_chance(&drift, BW_WAY_ANEW, marks);
        const char *at = share(line_of(run->out, "marks  set anew", marks) + 7, wanted.closes);
        if (marks > 0) {
            at = strstr(at, " to ") + 4; /* what it may be */
            at = share(strchr(at, '%') + 1, wanted.unseen);
            bw_closing tried = bw_closing_trials(&drift, BW_WAY_GRADUAL, marks, 20000, 1);
            share(at, tried.closes);
        }
    }
    char fewest[40];
    int needed = bw_marks_needed(&drift, 0.95, false);
    if (needed < 0) {
        snprintf(fewest, sizeof fewest, "fewest for 95 %%: none do");
    } else {
        snprintf(fewest, sizeof fewest, "fewest for 95 %%: %d", needed);
    }
    ck_assert_msg(holds(run->out, fewest), "%s: %s", fewest, run->out);
    spawn_end();
}
END_TEST

START_TEST(the_page_says_the_same) {
    begin_with(5);
    char part[80], *flat;
    bw_drift drift = drift_of(5, 0.4);
    const spawned *run = spawn("$BW plan lid.yaml | tr '\\n' ' ' | tr -s ' '");
    flat = strdup(run->out);
    snprintf(part, sizeof part, "chance to close within 0.4 mm: %.0f %% struck through, set anew at 1 mark %.0f %%",
             bw_closing_chance(&drift, BW_WAY_THROUGH, 0).closes * 100,
             bw_closing_chance(&drift, BW_WAY_ANEW, 1).closes * 100);
    ck_assert_msg(holds(flat, part), "%s: %s", part, flat);
    free(flat);
    run = spawn("$BW card lid.yaml | tr '\\n' ' ' | tr -s ' '");
    ck_assert_msg(holds(run->out, part), "%s: %s", part, run->out);
    drift.tolerance = 25.4 / 32;
    run = spawn("$BW plan --tolerance 1/32in lid.yaml | tr '\\n' ' ' | tr -s ' '");
    snprintf(part, sizeof part, "chance to close within 0.79 mm: %.0f %% struck through",
             bw_closing_chance(&drift, BW_WAY_THROUGH, 0).closes * 100);
    ck_assert_msg(holds(run->out, part), "%s: %s", part, run->out);
    spawn_end();
}
END_TEST

START_TEST(without_strips_no_chance_is_told) {
    static const char *const words[] = {"two test strips of basket-m, ten impressions each, would tell",
                                        "one more test strip of basket-m would tell"};
    for (int strips = 0; strips < 2; strips++) {
        begin_with(strips);
        const spawned *run = spawn("$BW marks lid.yaml");
        ck_assert_int_eq(run->status, 0);
        ck_assert_msg(holds(run->out, words[strips]), "%s", run->out);
        ck_assert(!holds(run->out, "%"));
        run = spawn("$BW plan lid.yaml | tr '\\n' ' ' | tr -s ' '");
        ck_assert_msg(holds(run->out, "two test strips of a stamp would tell how surely"), "%s", run->out);
        ck_assert(!holds(run->out, "chance"));
        spawn_end();
    }
}
END_TEST

/* 2 R sin(pi n/N), and arcs; to a tenth, as a divider is set. */
START_TEST(places_on_the_circle) {
    begin_with(0);
    const spawned *run = spawn("$BW marks lid.yaml weave --marks %d", _i);
    for (int i = 1; i <= _i; i++) {
        int after = (int)floor(40.0 * i / (_i + 1) + 0.5), before = (int)floor(40.0 * (i - 1) / (_i + 1) + 0.5), told;
        double along, across;
        const char *line = line_of(run->out, "mark   after", i);
        ck_assert_int_eq(sscanf(line, " %*d %d %lf mm %lf mm", &told, &along, &across), 3);
        ck_assert_int_eq(told, after);
        ck_assert_double_eq_tol(along, GUIDE * BW_PI * after / 40, 0.0501);
        ck_assert_double_eq_tol(across, GUIDE * sin(BW_PI * (after - before) / 40), 0.0501);
    }
    ck_assert(holds(run->out, "(the start again)"));
    spawn_end();
}
END_TEST

START_TEST(bands_that_are_struck) {
    begin_with(0);
    const spawned *run = spawn("$BW marks lid.yaml");
    ck_assert(holds(run->out, "weave: 40 impressions") && holds(run->out, "line: ") && !holds(run->out, "rim"));
    spawn_end();
}
END_TEST

START_TEST(what_is_refused) {
    static const struct {
        const char *line, *said;
        int status;
    } all[] = {{"marks lid.yaml rim", "band rim is plain: nothing is struck in it", 2},
               {"marks lid.yaml brim", "has no band brim", 2},
               {"marks lid.yaml --marks 2.5", "a whole number from 0 to 100", 2},
               {"marks lid.yaml --marks 101", "a whole number from 0 to 100", 2},
               {"marks lid.yaml --marks -1", "a whole number from 0 to 100", 2},
               {"marks lid.yaml --tolerance 0", "from 0.01 to 20 mm", 2},
               {"marks lid.yaml --tolerance 1in", "from 0.01 to 20 mm", 2},
               {"marks lid.yaml --tolerance much", "a length is written like", 2},
               {"plan --tolerance 0.5 -f yaml lid.yaml", "on the page alone", 2},
               {"plan --tolerance 0.5 --sweep bands.weave.width=20,21 lid.yaml", "tells of no --tolerance", 2},
               {"marks none.yaml", "none.yaml", 66}};
    begin_with(5);
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        const spawned *run = spawn("$BW %s", all[i].line);
        ck_assert_msg(run->status == all[i].status && holds(run->err, all[i].said), "%s: %d, %s", all[i].line,
                      run->status, run->err);
        ck_assert_str_eq(run->out, "");
    }
    spawn_end();
}
END_TEST

/* Strips that read alike hide how the hand strays: no chance is made of that, and no number of marks. */
START_TEST(alike_strips_tell_no_chance) {
    static const char *const verbs[] = {"marks", "plan", "card"};
    char text[2000];
    size_t at = (size_t)snprintf(
        text, sizeof text, "%s    strips: [{impressions: 10, length: 71.1}, {impressions: 10, length: 71.1}]\n", lid);
    spawn_begin();
    spawn_write("lid.yaml", text, at);
    for (size_t i = 0; i < sizeof verbs / sizeof verbs[0]; i++) {
        const spawned *run = spawn("$BW %s lid.yaml | tr -s '\n ' ' '", verbs[i]);
        ck_assert_msg(holds(run->out, "the strips of basket-m read alike"), "%s: %s", verbs[i], run->out);
        ck_assert_msg(!holds(run->out, "over 99 %") && !holds(run->out, "takes none") && !holds(run->out, "fewest"),
                      "%s: %s", verbs[i], run->out);
    }
    spawn_end();
}
END_TEST

/* A hand that is off its aim closes the better the more it strays: the range still begins with the lesser end. */
START_TEST(ranges_begin_with_the_lesser) {
    char text[2000];
    int least, most, lines = 0;
    size_t at =
        (size_t)snprintf(text, sizeof text,
                         "%s    strips: [{impressions: 10, length: 71.1, aimed: 6.5}, {impressions: 10, length: "
                         "71.6, aimed: 6.5}]\n",
                         lid);
    spawn_begin();
    spawn_write("lid.yaml", text, at);
    const spawned *run = spawn("$BW marks --tolerance 20 lid.yaml weave | grep -o '[0-9]* to [0-9]* %%'");
    for (const char *line = run->out; *line; line = strchr(line, '\n') + 1, lines++) {
        ck_assert_int_eq(sscanf(line, "%d to %d", &least, &most), 2);
        ck_assert_msg(least <= most, "%s", run->out);
    }
    ck_assert_int_ge(lines, 2);
    spawn_end();
}
END_TEST

START_TEST(more_marks_than_steps_are_said) {
    begin_with(0);
    const spawned *run = spawn("$BW marks --marks 45 lid.yaml weave");
    ck_assert_msg(holds(run->out, "no room for 45 marks: there are 40 steps, and so 39 at most"), "%s", run->out);
    spawn_end();
}
END_TEST

/* Marks of a round that goes on after a measure are others: whoever takes a page in the middle of it is told. */
START_TEST(a_round_that_is_begun) {
    static const char *const verbs[] = {"marks", "plan", "card"};
    begin_with(0);
    spawn_write("keys", "b Space*12 \"228\" Enter Enter Esc s", 34);
    for (int begun = 0; begun < 2; begun++) {
        for (size_t i = 0; i < sizeof verbs / sizeof verbs[0]; i++) {
            const spawned *run = spawn("$BW %s lid.yaml | tr -s '\n ' ' '", verbs[i]);
            ck_assert_msg(holds(run->out, "A round is begun, 12 struck") == (begun == 1), "%s: %s", verbs[i], run->out);
        }
        ck_assert_int_eq(spawn("$BW --keys keys --screen seen lid.yaml")->status, 0);
    }
    spawn_end();
}
END_TEST

Suite *verbs_marks_suite(void) {
    Suite *suite = suite_create("verbs/marks");
    TCase *tests = tcase_create("marks");
    tcase_set_timeout(tests, 0);
    tcase_add_loop_test(tests, chances_are_those_of_the_strips, 0, 3);
    tcase_add_test(tests, the_page_says_the_same);
    tcase_add_test(tests, without_strips_no_chance_is_told);
    tcase_add_loop_test(tests, places_on_the_circle, 0, 8);
    tcase_add_test(tests, bands_that_are_struck);
    tcase_add_test(tests, what_is_refused);
    tcase_add_test(tests, alike_strips_tell_no_chance);
    tcase_add_test(tests, ranges_begin_with_the_lesser);
    tcase_add_test(tests, more_marks_than_steps_are_said);
    tcase_add_test(tests, a_round_that_is_begun);
    suite_add_tcase(suite, tests);
    return suite;
}
