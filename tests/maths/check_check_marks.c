/* check_check_marks.c - check marks lie where the impressions do, on every kind of run, and their settings are what a
 * divider spans between them. */
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "maths/sample.h"
#include "maths/shapes.h"

Suite *maths_check_marks_suite(void);

enum { MARKS_MOST = 40 };

static sample piece;

/* Of a border band: its only row is the guide's round, so that its placings are what the marks must fall on. */
static const bw_placing *placing_after(const bw_placing *list, size_t count, size_t run, int after) {
    for (size_t i = 0; i < count; i++) {
        if (list[i].run == (int)run + 1 && list[i].number == after + 1) {
            return &list[i];
        }
    }
    return NULL;
}

static void marks_of_run(const bw_plan *plan, size_t r, int marks) {
    const bw_run_plan *run = &plan->bands[0].runs[r];
    int steps = bw_run_steps(run);
    bw_check_mark list[MARKS_MOST + 1];
    bw_placing *all;
    size_t count;
    ck_assert_int_eq(bw_placings_create(plan, 0, NULL, &all, &count), BW_OK);
    ck_assert_int_eq(bw_check_marks(plan, 0, r, marks, NULL, list), BW_OK);
    const bw_placing *before = placing_after(all, count, r, 0);
    for (int i = 0; i <= marks; i++) {
        const bw_placing *here = placing_after(all, count, r, list[i].after % run->count);
        ck_assert_int_eq(list[i].after, (int)floor((i + 1.0) * steps / (marks + 1) + 0.5));
        ck_assert_ptr_nonnull(here);
        ck_assert_double_eq_tol(hypot(list[i].at.x - here->at.x, list[i].at.y - here->at.y), 0, 1e-9);
        ck_assert_double_eq_tol(list[i].across, hypot(here->at.x - before->at.x, here->at.y - before->at.y), 1e-9);
        double on =
            i < marks || !run->closed ? here->along - placing_after(all, count, r, 0)->along : run->to - run->from;
        ck_assert_double_eq_tol(list[i].along, on < -1e-9 ? on + (run->to - run->from) : on, 1e-9);
        ck_assert_double_le(list[i].across, list[i].along - (i > 0 ? list[i - 1].along : 0) + 1e-9);
        before = here;
    }
    bw_placings_release(all, NULL);
}

static void marks_of_plan(void) {
    bw_plan *plan = sample_plan(&piece);
    int looked = 0;
    for (size_t r = 0; r < plan->bands[0].run_count; r++) {
        int steps = bw_run_steps(&plan->bands[0].runs[r]);
        for (int marks = 0; marks <= MARKS_MOST && marks < steps; marks++, looked++) {
            marks_of_run(plan, r, marks);
        }
    }
    ck_assert_int_gt(looked, 0);
    bw_plan_destroy(plan);
}

static const bw_lose modes[] = {BW_LOSE_EVEN, BW_LOSE_LAST, BW_LOSE_STRAIGHTS, BW_LOSE_ANCHORED};

static void border(int mode) {
    bw_band *band = sample_border(&piece, 4, 6, 5.3, 4);
    band->lose = modes[mode];
    band->lose_last = 7;
}

START_TEST(marks_lie_on_impressions) {
    sample_circle(&piece, 130);
    border(_i);
    marks_of_plan();
    sample_rectangle(&piece, 150, 90, 20); /* one run */
    border(_i);
    marks_of_plan();
    sample_rectangle(&piece, 150, 90, 0); /* a run a side */
    border(_i);
    marks_of_plan();
    sample_line(&piece, 140);
    border(_i);
    marks_of_plan();
    sample_circle(&piece, 1);
    piece.layout.outline.shape = BW_ELLIPSE;
    piece.layout.outline.length = 170;
    piece.layout.outline.width = 90;
    border(_i);
    marks_of_plan();
}
END_TEST

/* A neck between two fields: so far in, the guide has fallen into two loops. */
START_TEST(each_loop_has_its_own) {
    static const bw_corner corners[] = {{0, 0, 10},   {60, 0, 10},  {70, 23, 0},   {90, 23, 0},
                                        {100, 0, 10}, {160, 0, 10}, {160, 60, 10}, {100, 60, 10},
                                        {90, 37, 0},  {70, 37, 0},  {60, 60, 10},  {0, 60, 10}};
    sample_circle(&piece, 1);
    piece.layout.outline.shape = BW_POLYGON;
    piece.layout.outline.corners = corners;
    piece.layout.outline.corner_count = sizeof corners / sizeof corners[0];
    sample_border(&piece, 8, 4, 5.3, 4);
    bw_plan *plan = sample_plan(&piece);
    ck_assert_int_eq(plan->bands[0].guide_loops, 2);
    bw_plan_destroy(plan);
    marks_of_plan();
}
END_TEST

START_TEST(what_cannot_be_marked_is_said) {
    bw_check_mark list[MARKS_MOST];
    sample_circle(&piece, 130);
    sample_border(&piece, 4, 6, 30, 4);
    bw_plan *plan = sample_plan(&piece);
    int count = plan->bands[0].runs[0].count;
    ck_assert_int_eq(bw_check_marks(plan, 0, 0, count - 1, NULL, list), BW_OK);
    ck_assert_int_eq(bw_check_marks(plan, 0, 0, count, NULL, list), BW_BAD_VALUE);
    ck_assert_int_eq(bw_check_marks(plan, 0, 0, -1, NULL, list), BW_BAD_VALUE);
    ck_assert_int_eq(bw_check_marks(plan, 0, 1, 0, NULL, list), BW_BAD_VALUE);
    ck_assert_int_eq(bw_check_marks(plan, 1, 0, 0, NULL, list), BW_BAD_VALUE);
    bw_plan_destroy(plan);
}
END_TEST

Suite *maths_check_marks_suite(void) {
    Suite *suite = suite_create("maths/check_marks");
    TCase *tests = tcase_create("marks");
    tcase_set_timeout(tests, 0);
    tcase_add_loop_test(tests, marks_lie_on_impressions, 0, 4);
    tcase_add_test(tests, each_loop_has_its_own);
    tcase_add_test(tests, what_cannot_be_marked_is_said);
    suite_add_tcase(suite, tests);
    return suite;
}
