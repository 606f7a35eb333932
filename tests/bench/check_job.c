/* check_job.c - a real job by keys alone: an oval tray from nothing to a saved file whose plan works, and is the one
 * that the command line makes of the file. */
#include <check.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_job_suite(void);

/* The form with the piece and its weave; a row of stitches outside it; the stamp as it was measured; a line scribed;
 * the note; the name under which it is saved. */
static const char *const job[] = {
    "n Enter \"Oval tray\" Enter Down Right Down \"240\" Enter \"172\" Enter \"8 oz\" Enter",
    "Down*3 \"6\" Enter \"3.2\" Enter Enter",
    "a End Enter [ \"4\" Enter",
    "Tab*2 Home Down*8 \"2.1\" Enter Down \"0.9\" Enter",
    "Shift-Tab Home Down*10 Enter",
    "End Enter \"For the hall table\" Enter",
    "s Enter",
};

static char program[PATH_MAX]; /* found before the folder changes */

/* What the command line writes of a file is, byte for byte, what stood on the workbench when it was saved. */
static void is_the_plan_of(const char *file, const char *format, char *wanted) {
    char line[PATH_MAX + 200], *got = NULL;
    size_t length = 0;
    snprintf(line, sizeof line, "'%s' plan -i '%s' --format %s '%s'", program, HANDS_INVENTORY, format, file);
    FILE *from = popen(line, "r");
    ck_assert_ptr_nonnull(from);
    ck_assert_int_gt(getdelim(&got, &length, '\0', from), 100);
    ck_assert_int_eq(pclose(from), 0);
    ck_assert_msg(strcmp(got, wanted) == 0, "%s:\n%s\nin place of:\n%s", line, got, wanted);
    free(got);
    free(wanted);
}

typedef bool (*writer)(FILE *to, const shop_project *project, const bw_plan *plan);

static char *plan_of(const bench *b, writer write) {
    char *text = NULL;
    size_t length;
    FILE *to = open_memstream(&text, &length);
    ck_assert_ptr_nonnull(to);
    ck_assert(write(to, desk_project(bench_desk(b)), desk_plan(bench_desk(b))));
    ck_assert_int_eq(fclose(to), 0);
    return text;
}

START_TEST(an_oval_tray_from_nothing) {
    bench *b = hands_open(NULL);
    for (size_t i = 0; i < sizeof job / sizeof job[0]; i++) {
        hands_press(b, job[i]);
        ck_assert_msg(!b->bad, "%s: %s", job[i], b->message);
    }
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    ck_assert(!desk_unsaved(bench_desk(b)));
    char *kept = hands_bytes(b);
    char *page = plan_of(b, show_plan_text), *figures = plan_of(b, show_plan_yaml), *list = plan_of(b, show_plan_csv);
    bench_destroy(b);
    is_the_plan_of("oval-tray.yaml", "text", page);
    is_the_plan_of("oval-tray.yaml", "yaml", figures);
    is_the_plan_of("oval-tray.yaml", "csv", list);
    b = hands_open("oval-tray.yaml");
    char *bytes = hands_bytes(b);
    ck_assert_str_eq(bytes, kept);
    const shop_project *project = desk_project(bench_desk(b));
    const bw_plan *plan = desk_plan(bench_desk(b));
    ck_assert_uint_eq(project->layout.band_count, 2);
    ck_assert_str_eq(project->bands[0].name, "stitching");
    ck_assert_double_eq_tol(project->bands[0].space, 4, 1e-12);
    ck_assert_double_eq_tol(project->tools[project->bands[1].tool].bar, 2.1, 1e-12);
    ck_assert_double_eq_tol(project->tools[project->bands[1].tool].rail, 0.9, 1e-12);
    ck_assert_uint_eq(project->band_about[1].note.length, strlen("For the hall table"));
    ck_assert(bw_plan_works(plan));
    ck_assert_int_gt(show_impressions(plan, 0), 150);
    ck_assert_int_gt(show_impressions(plan, 1), 90);
    free(bytes);
    free(kept);
    bench_destroy(b);
}
END_TEST

/* What a shape has in common with the one before carries over, spelled as it was; the edge itself as path data. */
START_TEST(another_shape_keeps_what_carries_over) {
    bench *b = hands_open(NULL);
    hands_press(b, "n Enter \"Cover\" Enter Down Right*2 Down \"210 mm\" Enter \"148\" Enter \"12\" Enter Down*3");
    hands_press(b, "Down \"6\" Enter Down Enter");
    double length = desk_plan(bench_desk(b))->length;
    bench_change(b, "outline.corner", "[12, 8, 8, 12]");
    length = desk_plan(bench_desk(b))->length;
    static const struct {
        const char *shape, *stands;
        bool same; /* the edge is as long as before */
    } ways[] = {
        {"path", "svg: M ", true},      {"polygon", "[210, 0, 8]", true},      {"ellipse", "length: 210 mm", false},
        {"strap", "width: 148", false}, {"circle", "diameter: 210 mm", false}, {"line", "length: 210 mm", false}};
    bench_card card;
    b->card = 0;
    bench_take_field(b, "outline.shape");
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        card_read(b, &card);
        const bench_row *row = &card.rows[b->field];
        ck_assert_str_eq(row->path, "outline.shape");
        ck_assert_msg(bench_set_value(b, row, ways[i].shape), "%s: %s", ways[i].shape, b->message);
        char *bytes = hands_bytes(b);
        ck_assert_msg(strstr(bytes, ways[i].stands) != NULL, "%s: no '%s' in\n%s", ways[i].shape, ways[i].stands,
                      bytes);
        free(bytes);
        if (ways[i].same) {
            ck_assert_double_eq_tol(desk_plan(bench_desk(b))->length, length, 1e-4);
        }
        hands_press(b, "u");
    }
    bench_destroy(b);
}
END_TEST

/* Every length means what it meant; only its spelling has a unit now. */
START_TEST(other_units_change_no_length) {
    static const char *const files[] = {"cedar-lid.yaml", "walnut-cover.yaml", "hornbeam-belt.yaml", "beech-tray.yaml"};
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
        bench *b = hands_open(files[i]);
        const bw_plan *plan = desk_plan(bench_desk(b));
        double length = plan->length, width = desk_project(bench_desk(b))->bands[0].width,
               step = plan->bands[0].runs[0].step;
        shop_unit unit = desk_project(bench_desk(b))->units;
        b->card = 0;
        bench_take_field(b, "units");
        hands_press(b, "Right");
        ck_assert_msg(!b->bad, "%s: %s", files[i], b->message);
        plan = desk_plan(bench_desk(b));
        ck_assert_int_ne(desk_project(bench_desk(b))->units, unit);
        ck_assert_double_eq_tol(plan->length, length, 1e-9);
        ck_assert_double_eq_tol(plan->bands[0].runs[0].step, step, 1e-9);
        ck_assert_double_eq_tol(desk_project(bench_desk(b))->bands[0].width, width, 1e-12);
        hands_press(b, "u");
        ck_assert(!desk_unsaved(bench_desk(b)));
        bench_destroy(b);
    }
}
END_TEST

/* A point is typed as it is said, in the form and on the workbench; what is no end is refused and stays. */
START_TEST(ends_as_they_are_said) {
    bench *b = hands_open(NULL);
    hands_press(b, "n Enter \"Belt end\" Enter Down Right*3 Down \"420\" Enter \"44\" Enter Enter \"blunt\" Enter");
    ck_assert(b->bad);
    ck_assert_int_eq(bench_where(b), BENCH_TYPING);
    ck_assert_str_eq(b->entry.text, "blunt");
    hands_press(b, "Esc Enter \"round\" Enter \"point 25\" Enter");
    hands_see(b, "point 25 mm");
    hands_press(b, "Down*2 \"3\" Enter \"9\" Enter \"5\" Enter Down Enter");
    ck_assert_msg(bench_where(b) == BENCH_WORK, "%s", b->message);
    ck_assert_double_eq(desk_project(bench_desk(b))->layout.outline.end.point, 25);
    ck_assert_int_eq(desk_project(bench_desk(b))->layout.outline.start.kind, BW_END_ROUND);
    b->card = 0;
    bench_take_field(b, "outline.end");
    hands_press(b, "\"30\" Enter");
    ck_assert_double_eq(desk_project(bench_desk(b))->layout.outline.end.point, 30);
    hands_press(b, "Enter \"square\" Enter");
    ck_assert_int_eq(desk_project(bench_desk(b))->layout.outline.end.kind, BW_END_SQUARE);
    bench_destroy(b);
}
END_TEST

/* l goes through all four ways. */
START_TEST(where_the_gap_goes) {
    bench *b = hands_open("cedar-lid.yaml");
    static const bw_lose ways[] = {BW_LOSE_LAST, BW_LOSE_STRAIGHTS, BW_LOSE_ANCHORED, BW_LOSE_EVEN};
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        hands_press(b, "l");
        ck_assert_int_eq(desk_project(bench_desk(b))->bands[b->band].lose, ways[i]);
    }
    bench_destroy(b);
}
END_TEST

Suite *bench_job_suite(void) {
    Suite *suite = suite_create("a job by keys");
    TCase *tests = tcase_create("job");
    if (getenv("BW_PROGRAM") == NULL || realpath(getenv("BW_PROGRAM"), program) == NULL) {
        program[0] = '\0';
    }
    tcase_set_timeout(tests, 120);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, an_oval_tray_from_nothing);
    tcase_add_test(tests, another_shape_keeps_what_carries_over);
    tcase_add_test(tests, other_units_change_no_length);
    tcase_add_test(tests, ends_as_they_are_said);
    tcase_add_test(tests, where_the_gap_goes);
    suite_add_tcase(suite, tests);
    return suite;
}
