/* check_seam.c - where a seam hides best, and the leather a piece takes. The rule is common practice: at the buckle, in
 * a corner, at the bottom, else where the edge turns least. */
#include <check.h>
#include <math.h>

#include "bandwright/bandwright.h"

Suite *maths_seam_suite(void);

static bw_plan *planned(bw_layout *layout) {
    bw_plan *plan;
    ck_assert_int_eq(bw_plan_create(layout, NULL, &plan), BW_OK);
    return plan;
}

static bw_layout rectangle(double corner) {
    bw_layout layout;
    bw_layout_init(&layout);
    layout.outline.shape = BW_RECTANGLE;
    layout.outline.length = 200;
    layout.outline.width = 120;
    for (int i = 0; i < 4; i++)
        layout.outline.corner[i] = corner;
    return layout;
}

START_TEST(a_round_piece_hides_it_at_the_bottom) {
    bw_layout layout;
    bw_layout_init(&layout);
    layout.outline.diameter = 90;
    for (int kind = BW_PLACE_OWN; kind <= BW_PLACE_LEFT; kind++) {
        layout.start.kind = (bw_place_kind)kind;
        bw_plan *plan = planned(&layout);
        bw_seam seam = bw_seam_best(&layout, plan);
        ck_assert_int_eq(seam.how, BW_HIDE_BOTTOM);
        ck_assert_int_eq(seam.place.kind, BW_PLACE_BOTTOM);
        ck_assert_int_eq(seam.there, kind == BW_PLACE_OWN || kind == BW_PLACE_BOTTOM);
        bw_plan_destroy(plan);
    }
}
END_TEST

START_TEST(sharp_corners_hide_it) {
    bw_layout layout = rectangle(0);
    bw_plan *plan = planned(&layout);
    bw_seam seam = bw_seam_best(&layout, plan);
    ck_assert_int_eq(seam.how, BW_HIDE_CORNER);
    ck_assert(!seam.there);
    bw_point at = bw_curve_at(plan->edge, seam.along).at; /* bottom right comes first from the middle of the bottom */
    ck_assert_double_eq_tol(at.x, 200, 1e-9);
    ck_assert_double_eq_tol(at.y, 0, 1e-9);
    bw_plan_destroy(plan);
    /* Moved there, or to any other corner, it is hidden. */
    const double corners[] = {seam.place.along, 220, 420, 540};
    for (int i = 0; i < 4; i++) {
        layout.start = (bw_place){BW_PLACE_ALONG, corners[i]};
        plan = planned(&layout);
        ck_assert(bw_seam_best(&layout, plan).there);
        bw_plan_destroy(plan);
    }
}
END_TEST

/* One sharp corner among rounded ones. */
START_TEST(the_one_sharp_corner_is_found) {
    bw_layout layout = rectangle(15);
    layout.outline.corner[2] = 0; /* top right */
    bw_plan *plan = planned(&layout);
    bw_seam seam = bw_seam_best(&layout, plan);
    ck_assert_int_eq(seam.how, BW_HIDE_CORNER);
    bw_point at = bw_curve_at(plan->edge, seam.along).at;
    ck_assert_double_eq_tol(hypot(at.x - 200, at.y - 120), 0, 1e-9);
    bw_plan_destroy(plan);
}
END_TEST

START_TEST(rounded_corners_do_not) {
    bw_layout layout = rectangle(12);
    bw_plan *plan = planned(&layout);
    bw_seam seam = bw_seam_best(&layout, plan);
    ck_assert_int_eq(seam.how, BW_HIDE_BOTTOM);
    ck_assert(seam.there);
    bw_plan_destroy(plan);
    layout.start.kind = BW_PLACE_LEFT; /* as straight as the bottom, but in sight */
    plan = planned(&layout);
    seam = bw_seam_best(&layout, plan);
    ck_assert(!seam.there);
    ck_assert_int_eq(seam.place.kind, BW_PLACE_BOTTOM);
    bw_plan_destroy(plan);
    layout.start = (bw_place){BW_PLACE_ALONG, 40}; /* elsewhere on the bottom side */
    plan = planned(&layout);
    ck_assert(bw_seam_best(&layout, plan).there);
    bw_plan_destroy(plan);
    layout.start = (bw_place){BW_PLACE_ALONG, 88 + 6 * BW_PI / 2}; /* amid the first bend */
    plan = planned(&layout);
    ck_assert(!bw_seam_best(&layout, plan).there);
    bw_plan_destroy(plan);
}
END_TEST

/* A lying oval is calm at its top and at its bottom: only the bottom is out of sight. */
START_TEST(an_oval_hides_it_at_the_bottom) {
    bw_layout layout;
    bw_layout_init(&layout);
    layout.outline.shape = BW_ELLIPSE;
    layout.outline.length = 240;
    layout.outline.width = 160;
    for (int kind = BW_PLACE_OWN; kind <= BW_PLACE_LEFT; kind++) {
        layout.start.kind = (bw_place_kind)kind;
        bw_plan *plan = planned(&layout);
        bw_seam seam = bw_seam_best(&layout, plan);
        ck_assert_int_eq(seam.how, BW_HIDE_BOTTOM);
        ck_assert_int_eq(seam.there, kind == BW_PLACE_OWN || kind == BW_PLACE_BOTTOM);
        bw_plan_destroy(plan);
    }
}
END_TEST

/* The start mark that is told puts the seam there also where the file has finished sizes. */
START_TEST(finished_sizes) {
    bw_layout layout = rectangle(0);
    layout.growth = 0.05;
    layout.finished = true;
    bw_plan *plan = planned(&layout);
    bw_seam seam = bw_seam_best(&layout, plan);
    ck_assert_double_eq_tol(seam.place.along, 100, 1e-9);
    ck_assert_double_eq_tol(seam.along, 100 / 1.05, 1e-9);
    bw_blank blank = bw_blank_of(&layout, plan);
    ck_assert_double_eq_tol(blank.length, 200 / 1.05, 1e-9);
    ck_assert_double_eq_tol(blank.grown_length, 200, 1e-9);
    bw_plan_destroy(plan);
    layout.start = seam.place;
    plan = planned(&layout);
    ck_assert(bw_seam_best(&layout, plan).there);
    bw_plan_destroy(plan);
}
END_TEST

START_TEST(an_open_edge_has_none) {
    bw_layout layout;
    bw_layout_init(&layout);
    layout.outline.shape = BW_ARC;
    layout.outline.radius = 80;
    layout.outline.sweep = 2;
    bw_plan *plan = planned(&layout);
    ck_assert_int_eq(bw_seam_best(&layout, plan).how, BW_HIDE_NONE);
    ck_assert_double_eq(bw_blank_of(&layout, plan).area, 0);
    bw_plan_destroy(plan);
}
END_TEST

/* 200 by 120 with corners of 30: 200 x 120 less (4 - pi) 30^2, laid out; 4 mm trimmed all round; 5 % growth. */
START_TEST(the_blank) {
    bw_layout layout = rectangle(30);
    layout.trim = 4;
    layout.growth = 0.05;
    bw_plan *plan = planned(&layout);
    bw_blank blank = bw_blank_of(&layout, plan);
    ck_assert_double_eq_tol(blank.length, 208, 1e-9);
    ck_assert_double_eq_tol(blank.width, 128, 1e-9);
    ck_assert_double_eq_tol(blank.area, 200 * 120 - (4 - BW_PI) * 900, 1e-6);
    ck_assert_double_eq_tol(blank.grown_length, 210, 1e-9);
    ck_assert_double_eq_tol(blank.grown_width, 126, 1e-9);
    bw_plan_destroy(plan);
}
END_TEST

Suite *maths_seam_suite(void) {
    Suite *suite = suite_create("seam and blank");
    TCase *tests = tcase_create("seam");
    tcase_add_test(tests, a_round_piece_hides_it_at_the_bottom);
    tcase_add_test(tests, sharp_corners_hide_it);
    tcase_add_test(tests, the_one_sharp_corner_is_found);
    tcase_add_test(tests, rounded_corners_do_not);
    tcase_add_test(tests, an_oval_hides_it_at_the_bottom);
    tcase_add_test(tests, finished_sizes);
    tcase_add_test(tests, an_open_edge_has_none);
    tcase_add_test(tests, the_blank);
    suite_add_tcase(suite, tests);
    return suite;
}
