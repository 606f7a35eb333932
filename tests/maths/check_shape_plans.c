/* check_shape_plans.c - what plans make of every shape: anchors, finished sizes, start marks, knobs. */
#include <check.h>
#include <math.h>

#include "maths/sample.h"
#include "maths/shapes.h"

Suite *maths_shape_plans_suite(void);

static sample piece;

/* Is an impression of the plan's only band centred there? */
static bool struck_at(const bw_placing *placings, size_t count, double x, double y) {
    for (size_t i = 0; i < count; i++) {
        if (hypot(placings[i].at.x - x, placings[i].at.y - y) < 1e-5) {
            return true;
        }
    }
    return false;
}

static void expect_anchors(const bw_outline *o, double from_edge, const bw_point *places, size_t count) {
    bw_placing *placings;
    size_t n;
    sample_circle(&piece, 100);
    bw_band *band = sample_border(&piece, 0, 2 * from_edge, 3, 2);
    piece.layout.outline = *o;
    band->lose = BW_LOSE_ANCHORED;
    bw_plan *plan = sample_plan(&piece);
    ck_assert_uint_eq(plan->bands[0].runs[0].setting_count, count); /* a stretch from every anchor */
    ck_assert_int_eq(bw_placings_create(plan, 0, NULL, &placings, &n), BW_OK);
    for (size_t i = 0; i < count; i++) {
        ck_assert_msg(struck_at(placings, n, places[i].x, places[i].y), "nothing at %g %g", places[i].x, places[i].y);
    }
    bw_placings_release(placings, NULL);
    bw_plan_destroy(plan);
}

START_TEST(shapes_have_their_own_anchors) {
    bw_outline oval = shape_of(BW_ELLIPSE);
    oval.length = 120;
    oval.width = 80;
    const bw_point axes[] = {{0, -36}, {56, 0}, {0, 36}, {-56, 0}};
    expect_anchors(&oval, 4, axes, 4);
    bw_outline strap = shape_strap(200, 40, (bw_end){BW_END_ROUND, 0}, (bw_end){BW_END_ROUND, 0});
    const bw_point ends[] = {{4, 20}, {196, 20}};
    expect_anchors(&strap, 4, ends, 2);
    const bw_corner corners[] = {{0, 0, 20}, {90, 0, 20}, {90, 70, 20}, {0, 70, 20}};
    bw_outline polygon = shape_of(BW_POLYGON);
    polygon.corners = corners;
    polygon.corner_count = 4;
    double in = 20 - 16 * sqrt(0.5);
    const bw_point bends[] = {{in, in}, {90 - in, in}, {90 - in, 70 - in}, {in, 70 - in}};
    expect_anchors(&polygon, 4, bends, 4);
    bw_outline rectangle = shape_of(BW_RECTANGLE); /* corners that meet around one centre are two */
    rectangle.length = 60;
    rectangle.width = 130;
    for (int i = 0; i < 4; i++) {
        rectangle.corner[i] = 30;
    }
    in = 30 - 26 * sqrt(0.5);
    const bw_point turns[] = {{in, in}, {60 - in, in}, {60 - in, 130 - in}, {in, 130 - in}};
    expect_anchors(&rectangle, 4, turns, 4);
    bw_outline path = shape_of(BW_PATH); /* a stadium; its start mark is its first point */
    path.svg = "M30 0a30 30 0 0 0 0 60h80a30 30 0 0 0 0-60z";
    path.scale = 1;
    const bw_point first[] = {{30, -4}};
    expect_anchors(&path, 4, first, 1);
}
END_TEST

/* Sizes of a finished piece shrink by its growth: every length in proportion, whatever the shape. */
START_TEST(finished_sizes_shrink_in_every_shape) {
    const bw_corner corners[] = {{0, 0, 20}, {90, 0, 0}, {90, 70, 15}, {30, 40, 8}};
    bw_outline shapes[4] = {shape_of(BW_ELLIPSE),
                            shape_strap(300, 60, (bw_end){BW_END_POINT, 35}, (bw_end){BW_END_ROUND, 0}),
                            shape_of(BW_POLYGON), shape_of(BW_PATH)};
    shapes[0].length = 130;
    shapes[0].width = 90;
    shapes[2].corners = corners;
    shapes[2].corner_count = 4;
    shapes[3].svg = "M0 0C40-30 80 30 120 0S150 120 60 90-20 40 0 0Z";
    shapes[3].scale = 1.5;
    for (int i = 0; i < 4; i++) {
        bw_curve *curve = shape_curve(&shapes[i]);
        sample_circle(&piece, 100);
        sample_stitch(&piece, 3, 3);
        piece.layout.outline = shapes[i];
        piece.layout.finished = true;
        piece.layout.growth = 0.04;
        bw_plan *plan = sample_plan(&piece);
        ck_assert_double_eq_tol(plan->length, bw_curve_length(curve) / 1.04, 1e-7 * plan->length);
        bw_box box = bw_curve_box(plan->edge), whole = bw_curve_box(curve);
        ck_assert_double_eq_tol(box.right, whole.right / 1.04, 1e-5);
        ck_assert_double_eq_tol(box.bottom, whole.bottom / 1.04, 1e-5);
        bw_plan_destroy(plan);
        bw_curve_destroy(curve);
    }
}
END_TEST

static void at_place(const bw_curve *curve, bw_place_kind kind, double x, double y) {
    bw_spot spot = bw_curve_at(curve, bw_curve_place(curve, (bw_place){kind, 0}));
    ck_assert_msg(hypot(spot.at.x - x, spot.at.y - y) < 1e-6, "place %d: %g %g, not %g %g", (int)kind, spot.at.x,
                  spot.at.y, x, y);
}

START_TEST(start_marks_are_found_on_every_shape) {
    bw_curve *oval = shape_ellipse(120, 80);
    at_place(oval, BW_PLACE_OWN, 0, -40);
    at_place(oval, BW_PLACE_BOTTOM, 0, -40);
    at_place(oval, BW_PLACE_RIGHT, 60, 0);
    at_place(oval, BW_PLACE_TOP, 0, 40);
    at_place(oval, BW_PLACE_LEFT, -60, 0);
    bw_curve_destroy(oval);
    bw_outline o = shape_strap(200, 40, (bw_end){BW_END_SQUARE, 0}, (bw_end){BW_END_POINT, 50});
    bw_curve *strap = shape_curve(&o);
    at_place(strap, BW_PLACE_BOTTOM, 75, 0);
    at_place(strap, BW_PLACE_RIGHT, 200, 20);
    at_place(strap, BW_PLACE_TOP, 75, 40);
    at_place(strap, BW_PLACE_LEFT, 0, 20);
    bw_curve_destroy(strap);
    const bw_corner corners[] = {{50, 30, 0}, {0, 30, 0},  {0, 0, 0},  {20, 0, 0},
                                 {20, 10, 0}, {30, 10, 0}, {30, 0, 0}, {50, 0, 0}};
    bw_curve *polygon = shape_polygon(corners, 8);
    at_place(polygon, BW_PLACE_OWN, 50, 30);
    at_place(polygon, BW_PLACE_BOTTOM, 10, 0); /* of two straights the first along */
    at_place(polygon, BW_PLACE_RIGHT, 50, 15);
    at_place(polygon, BW_PLACE_TOP, 25, 30);
    bw_curve_destroy(polygon);
    bw_curve *path = shape_path("M0 0Q30-60 60 0Q30 20 0 0Z", 1);
    at_place(path, BW_PLACE_TOP, 30, 30);
    at_place(path, BW_PLACE_BOTTOM, 30, -10);
    at_place(path, BW_PLACE_LEFT, 0, 0);
    bw_curve_destroy(path);
    bw_curve *begun_at_its_end = shape_path("M10 0H50A10 10 0 0 1 60 10V60H0V10A10 10 0 0 1 10 0Z", 1);
    at_place(begun_at_its_end, BW_PLACE_TOP, 30, 0); /* walked with the leather on the left, this straight comes last */
    bw_curve_destroy(begun_at_its_end);
}
END_TEST

START_TEST(length_and_width_of_ovals_and_straps_are_knobs) {
    bw_layout layout;
    for (int i = 0; i < 2; i++) {
        bw_layout_init(&layout);
        layout.outline.shape = i == 0 ? BW_ELLIPSE : BW_STRAP;
        layout.outline.length = 120;
        layout.outline.width = 80;
        ck_assert_double_eq(bw_knob_value(&layout, BW_KNOB_LENGTH, 0), 120);
        ck_assert_double_eq(bw_knob_value(&layout, BW_KNOB_WIDTH, 0), 80);
        ck_assert(isnan(bw_knob_value(&layout, BW_KNOB_DIAMETER, 0)));
        ck_assert(isnan(bw_knob_value(&layout, BW_KNOB_CORNER, 0)));
    }
    layout.outline.shape = BW_POLYGON;
    ck_assert(isnan(bw_knob_value(&layout, BW_KNOB_LENGTH, 0)));
}
END_TEST

/* An open edge through a waist: its guide falls apart, and the last hole of a part is not the first of the next. */
START_TEST(parts_of_an_open_guide_end_where_they_end) {
    const double from_edge = 17.1;
    bw_placing *placings;
    size_t n;
    sample_circle(&piece, 100);
    sample_stitch(&piece, from_edge, 3.3);
    piece.layout.outline = shape_of(BW_PATH);
    piece.layout.outline.scale = 1;
    piece.layout.outline.svg = "M0 0H80V-50H140V3L240 0V-120H140V-72H80V-120L0 -118";
    bw_plan *plan = sample_plan(&piece);
    ck_assert_int_ge(plan->bands[0].guide_loops, 2);
    ck_assert_int_eq(bw_placings_create(plan, 0, NULL, &placings, &n), BW_OK);
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < i; k++)
            ck_assert_msg(hypot(placings[i].at.x - placings[k].at.x, placings[i].at.y - placings[k].at.y) > 1,
                          "holes %zu and %zu are one", k, i);
        bw_spot foot = bw_curve_at(plan->edge, bw_curve_nearest(plan->edge, placings[i].at));
        ck_assert_double_eq_tol(hypot(foot.at.x - placings[i].at.x, foot.at.y - placings[i].at.y), from_edge, 1e-9);
    }
    bw_placings_release(placings, NULL);
    bw_plan_destroy(plan);
}
END_TEST

Suite *maths_shape_plans_suite(void) {
    Suite *suite = suite_create("maths: plans of every shape");
    TCase *tc = tcase_create("plans");
    tcase_add_test(tc, shapes_have_their_own_anchors);
    tcase_add_test(tc, finished_sizes_shrink_in_every_shape);
    tcase_add_test(tc, start_marks_are_found_on_every_shape);
    tcase_add_test(tc, parts_of_an_open_guide_end_where_they_end);
    tcase_add_test(tc, length_and_width_of_ovals_and_straps_are_knobs);
    suite_add_tcase(suite, tc);
    return suite;
}
