/* check_same_marks.c - one number of check marks and one tolerance: marks, page, card, template and workbench tell of
 * the same places, and all of them say that the middle of an impression lies there. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/bandwright.h"
#include "verbs/spawn.h"

Suite *verbs_same_marks_suite(void);

/* 40 impressions of a hand that five strips tell of. */
static const char lid[] = "bandwright-project: 1\n"
                          "outline: {shape: circle, diameter: 140}\n"
                          "bands:\n"
                          "  - {name: weave, space: 9, width: 21, fill: basket, tool: basket-m, count: 40}\n"
                          "tools:\n"
                          "  - id: basket-m\n"
                          "    kind: basket\n"
                          "    length: 9.5\n"
                          "    width: 6.4\n"
                          "    bar: 3.1\n"
                          "    rail: 1.6\n"
                          "    strips:\n";

static const double lengths[] = {71.0, 71.6, 71.2, 71.8, 71.4};

enum { MOST = 100 };

static void begin(void) {
    char text[2000];
    size_t at = (size_t)snprintf(text, sizeof text, "%s", lid);
    for (int i = 0; i < 5; i++)
        at += (size_t)snprintf(text + at, sizeof text - at, "      - {impressions: 10, length: %g}\n", lengths[i]);
    spawn_begin();
    spawn_write("lid.yaml", text, at);
}

/* By the library: as many as 95 % take, no fewer than the quarters. */
static int marks_due(double tolerance) {
    bw_strip list[5];
    bw_drift drift;
    for (int i = 0; i < 5; i++)
        list[i] = (bw_strip){.impressions = 10, .length = lengths[i], .aimed = NAN};
    bw_hand hand = bw_hand_of(list, 5, BW_RULE_MM);
    ck_assert(bw_drift_of(&hand, 40, 101 * BW_PI / 40, tolerance, &drift));
    int needed = bw_marks_needed(&drift, 0.95, false);
    return needed < 3 ? 3 : needed;
}

/* Numbers behind `word`, one after the other, as far as they go on. */
static int numbers(const char *at, const char *word, int list[MOST]) {
    int count = 0;
    while ((at = strstr(at, word)) != NULL && count < MOST)
        list[count++] = atoi(at += strlen(word));
    return count;
}

static void must_be(const char *what, const int *list, int count, int marks) {
    ck_assert_msg(count == marks, "%s: %d in place of %d", what, count, marks);
    for (int i = 0; i < marks; i++)
        ck_assert_msg(list[i] == (int)floor(40.0 * (i + 1) / (marks + 1) + 0.5), "%s: after %d", what, list[i]);
}

/* Strikes up to each mark, with the screen before each. */
static void look_at_bench(const char *option, int marks) {
    char script[1000] = "b screen";
    int list[MOST], before = 0;
    size_t used = strlen(script);
    for (int i = 1; i < marks; i++) {
        int after = (int)floor(40.0 * i / (marks + 1) + 0.5);
        used += (size_t)snprintf(script + used, sizeof script - used, " Space*%d screen", after - before);
        before = after;
    }
    spawn_write("keys", script, used);
    const spawned *run =
        spawn("$BW --keys keys --screen - %s lid.yaml | grep -o 'check mark after [0-9]*' | uniq", option);
    must_be("at the bench", list, numbers(run->out, "check mark after ", list), marks);
}

/* A tolerance, and the option that says it. */
static const struct {
    double mm;
    const char *option;
} tolerances[] = {{0.4, ""}, {0.9, "--tolerance 0.9"}, {25.4 / 16, "--tolerance 1/16in"}};

START_TEST(everywhere_the_same_places) {
    const char *option = tolerances[_i].option;
    int list[MOST], marks = marks_due(tolerances[_i].mm), count = 0;
    ck_assert_msg(_i == 2 ? marks == 3 : _i > 0 || marks > 3, "%d marks", marks); /* both rules are looked at */
    begin();
    const spawned *run = spawn("$BW marks lid.yaml %s | sed -n '/mark   after/,$p' | sed '1d;/^  end/d'", option);
    for (const char *line = run->out; *line; line = strchr(line, '\n') + 1)
        ck_assert_int_eq(sscanf(line, " %*d %d", &list[count++]), 1);
    must_be("marks", list, count, marks);
    run = spawn("$BW card %s lid.yaml | grep '^\\[ \\] [0-9][0-9]*  ' | sed 's/^/=/'", option);
    must_be("card", list, numbers(run->out, "=[ ] ", list), marks);
    run = spawn("$BW plan %s lid.yaml | tr '\\n' ' ' | sed 's/.*lies) after/,/;s/impressions:.*//'", option);
    must_be("page", list, numbers(run->out, ",", list), marks);
    ck_assert_int_eq(spawn("$BW template %s lid.yaml -o lid.pdf", option)->status, 0);
    run = spawn("pdftotext -f 2 lid.pdf - | grep -o 'weave [0-9][0-9]*$' | sort -u -k 2 -n");
    ck_assert_msg(strncmp(run->out, "weave 0\n", 8) == 0, "%s", run->out);
    must_be("template", list, numbers(run->out + 8, "weave ", list), marks);
    look_at_bench(option, marks);
    spawn_end();
}
END_TEST

START_TEST(typed_on_the_workbench) {
    int list[MOST], marks = marks_due(0.9);
    char keys[] = "% \"0.9\" Enter screen b screen";
    begin();
    spawn_write("keys", keys, strlen(keys));
    const spawned *run = spawn("$BW --keys keys --screen - lid.yaml");
    ck_assert_ptr_nonnull(strstr(run->out, "if it ends within 0.9 mm"));
    ck_assert_int_ge(numbers(run->out, "check mark after ", list), 1);
    ck_assert_int_eq(list[0], (int)floor(40.0 / (marks + 1) + 0.5));
    spawn_write("keys", "% \"none\" Enter", 14);
    ck_assert_ptr_nonnull(strstr(spawn("$BW --keys keys --screen - lid.yaml")->out, "This cannot be: "));
    spawn_write("keys", "% \"50\" Enter", 12);
    ck_assert_ptr_nonnull(strstr(spawn("$BW --keys keys --screen - lid.yaml")->out, "from 0.01 to 20 mm"));
    run = spawn("$BW --tolerance 0 --keys keys lid.yaml");
    ck_assert_msg(run->status == 2 && strstr(run->err, "--tolerance 0: it can be from 0.01"), "%s", run->err);
    spawn_end();
}
END_TEST

/* A mark is where the middle of an impression lies: the first one's lies on the start mark, at the bottom, as the
 * plan's own impressions say. */
START_TEST(the_middle_everywhere) {
    static const char *const pages[] = {"$BW plan lid.yaml", "$BW card lid.yaml", "$BW marks lid.yaml",
                                        "$BW template lid.yaml -o lid.pdf && pdftotext lid.pdf -",
                                        "$BW --keys keys --screen - lid.yaml"};
    char keys[100];
    double x, y;
    begin();
    int after = (int)floor(40.0 / (marks_due(0.4) + 1) + 0.5);
    spawn_write("keys", keys, (size_t)snprintf(keys, sizeof keys, "b Space*%d", after));
    for (size_t i = 0; i < sizeof pages / sizeof pages[0]; i++) {
        const spawned *run = spawn("(%s) | tr '\\n' ' ' | tr -s ' '", pages[i]);
        ck_assert_msg(strstr(run->out, "the middle of the next ") != NULL && strstr(run->out, "must begin") == NULL,
                      "%s: %s", pages[i], run->out);
    }
    const spawned *run = spawn("$BW plan -f csv lid.yaml | grep '^weave,-1,1,1,' | cut -d, -f5,6 | tr , ' '");
    ck_assert_int_eq(sscanf(run->out, "%lf %lf", &x, &y), 2);
    ck_assert_double_eq_tol(x, 0, 1e-9);
    ck_assert_double_lt(y, -40);
    spawn_end();
}
END_TEST

/* Of every example, whatever the edge; the table's head and rows, too. */
START_TEST(no_line_of_marks_is_wider_than_the_page) {
    begin();
    const spawned *run = spawn("for f in $TREE/projects/*.yaml lid.yaml; do $BW marks $f || exit; done | tee all | "
                               "awk 'length > 80'");
    ck_assert_str_eq(run->out, "");
    ck_assert_int_gt(atoi(spawn("wc -l < all")->out), 200);
    spawn_end();
}
END_TEST

Suite *verbs_same_marks_suite(void) {
    Suite *suite = suite_create("verbs/same marks");
    TCase *tests = tcase_create("marks");
    tcase_set_timeout(tests, 0);
    tcase_add_loop_test(tests, everywhere_the_same_places, 0, 3);
    tcase_add_test(tests, typed_on_the_workbench);
    tcase_add_test(tests, the_middle_everywhere);
    tcase_add_test(tests, no_line_of_marks_is_wider_than_the_page);
    suite_add_tcase(suite, tests);
    return suite;
}
