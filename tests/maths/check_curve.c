/* check_curve.c - outlines, places on them and their parallels, measured point by point. */
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "bandwright/bandwright.h"

Suite *maths_curve_suite(void);

static double roll(double least, double most) {
    return least + (most - least) * (rand() / (double)RAND_MAX);
}

static bw_curve *make(const bw_outline *outline) {
    bw_curve *curve = NULL;
    ck_assert_int_eq(bw_curve_create(outline, NULL, &curve), BW_OK);
    return curve;
}

static bw_curve *parallel_of(const bw_curve *curve, double d) {
    bw_curve *parallel = NULL;
    ck_assert_int_eq(bw_curve_offset(curve, d, NULL, &parallel), BW_OK);
    return parallel;
}

static bw_outline rectangle(double length, double width, const double corner[4]) {
    bw_layout layout;
    bw_layout_init(&layout);
    layout.outline.shape = BW_RECTANGLE;
    layout.outline.length = length;
    layout.outline.width = width;
    for (int i = 0; i < 4; i++)
        layout.outline.corner[i] = corner[i];
    return layout.outline;
}

/* How deep a point lies inside a rounded rectangle, from its definition alone. */
static double depth_in(const bw_outline *o, double x, double y) {
    const double cx[4] = {o->corner[0], o->length - o->corner[1], o->length - o->corner[2], o->corner[3]};
    const double cy[4] = {o->corner[0], o->corner[1], o->width - o->corner[2], o->width - o->corner[3]};
    for (int i = 0; i < 4; i++) {
        bool right = i == 1 || i == 2, top = i >= 2;
        if ((right ? x > cx[i] : x < cx[i]) && (top ? y > cy[i] : y < cy[i]))
            return o->corner[i] - hypot(x - cx[i], y - cy[i]);
    }
    return fmin(fmin(x, o->length - x), fmin(y, o->width - y));
}

START_TEST(parallels_of_rectangles_keep_their_distance) {
    enum { ROUNDS = 400, SAMPLES = 97 };
    int gone = 0, mitred = 0;
    srand(1);
    for (int round = 0; round < ROUNDS; round++) {
        double length = roll(20, 300), width = roll(20, 300), half = fmin(length, width) / 2, corner[4];
        for (int i = 0; i < 4; i++)
            corner[i] = rand() % 4 == 0 ? 0 : rand() % 5 == 0 ? half : roll(0, half);
        bw_outline outline = rectangle(length, width, corner);
        bw_curve *edge = make(&outline);
        double d = roll(0, half * 1.2);
        bw_curve *line = parallel_of(edge, d);
        ck_assert_int_eq(bw_curve_loops(line), d < half ? 1 : 0);
        gone += d >= half;
        double expected = 2 * (length + width) - 8 * d;
        for (int i = 0; i < 4; i++) {
            double r = fmax(corner[i] - d, 0);
            expected -= (2 - BW_PI / 2) * r;
            mitred += d < half && corner[i] < d;
        }
        if (d < half)
            ck_assert_double_eq_tol(bw_curve_length(line), expected, 1e-9 * expected);
        for (int k = 0; k < SAMPLES && d < half; k++) {
            bw_spot spot = bw_curve_at(line, bw_curve_length(line) * k / SAMPLES);
            ck_assert_double_eq_tol(depth_in(&outline, spot.at.x, spot.at.y), d, 1e-9);
        }
        bw_curve_destroy(line);
        bw_curve_destroy(edge);
    }
    ck_assert_int_gt(gone, ROUNDS / 20); /* the mix holds what it should */
    ck_assert_int_gt(mitred, ROUNDS);
}
END_TEST

START_TEST(parallels_vanish_at_the_middle) {
    const double round[4] = {20, 20, 20, 20}, stadium[4] = {15, 15, 15, 15}, mixed[4] = {20, 0, 10, 20};
    const bw_outline shapes[] = {rectangle(40, 40, round), rectangle(90, 30, stadium), rectangle(30, 90, stadium),
                                 rectangle(90, 40, mixed), rectangle(40, 90, mixed)};
    for (size_t i = 0; i < sizeof shapes / sizeof *shapes; i++) {
        double half = fmin(shapes[i].length, shapes[i].width) / 2;
        for (int k = 0; k < 4; k++) {
            bw_curve *edge = make(&shapes[i]), *line = parallel_of(edge, half + k * 7 * (k - 1));
            ck_assert_msg(bw_curve_loops(line) == 0 && bw_curve_length(line) == 0, "shape %zu, %d", i, k);
            bw_curve_destroy(line);
            line = parallel_of(edge, half - 0.001);
            ck_assert_int_eq(bw_curve_loops(line), 1);
            bw_curve_destroy(line);
            bw_curve_destroy(edge);
        }
    }
}
END_TEST

START_TEST(arcs_open_and_close) {
    bw_layout layout;
    bw_layout_init(&layout);
    layout.outline.shape = BW_ARC;
    layout.outline.radius = 80;
    for (int way = 1; way >= -1; way -= 2) {
        layout.outline.sweep = way * 2.5;
        bw_curve *edge = make(&layout.outline), *line = parallel_of(edge, 10);
        bw_spot begin = bw_curve_at(edge, 0);
        ck_assert_double_eq_tol(begin.at.x, 80, 1e-12);
        ck_assert_double_eq_tol(begin.at.y, 0, 1e-12);
        ck_assert_double_eq_tol(bw_curve_length(line), (80 - way * 10) * 2.5, 1e-9);
        ck_assert_double_eq_tol(bw_curve_turning(line), way * 2.5, 1e-12);
        bw_spot end = bw_curve_at(line, 1e9); /* open: stays at its end */
        ck_assert_double_eq_tol(end.at.x, (80 - way * 10) * cos(2.5), 1e-9);
        ck_assert_double_eq_tol(end.at.y, (80 - way * 10) * sin(way * 2.5), 1e-9);
        bw_curve_destroy(line);
        line = parallel_of(edge, 80);
        ck_assert_int_eq(bw_curve_loops(line), way > 0 ? 0 : 1);
        bw_curve_destroy(line);
        bw_curve_destroy(edge);
    }
}
END_TEST

static void at_place(const bw_outline *outline, bw_place_kind kind, double along, double x, double y) {
    bw_curve *edge = make(outline);
    bw_spot spot = bw_curve_at(edge, bw_curve_place(edge, (bw_place){kind, along}));
    ck_assert_msg(fabs(spot.at.x - x) < 1e-9 && fabs(spot.at.y - y) < 1e-9, "place %d: %g %g, not %g %g", (int)kind,
                  spot.at.x, spot.at.y, x, y);
    bw_curve_destroy(edge);
}

START_TEST(places_name_the_middle_of_a_straight_or_the_extreme_of_a_bend) {
    const double none[4] = {0}, one_side[4] = {10, 30, 0, 0}, round[4] = {25, 25, 25, 25};
    bw_outline sharp = rectangle(120, 80, none), skew = rectangle(120, 80, one_side), lid = rectangle(50, 50, round);
    at_place(&sharp, BW_PLACE_OWN, 0, 60, 0);
    at_place(&sharp, BW_PLACE_BOTTOM, 0, 60, 0);
    at_place(&sharp, BW_PLACE_RIGHT, 0, 120, 40);
    at_place(&sharp, BW_PLACE_TOP, 0, 60, 80);
    at_place(&sharp, BW_PLACE_LEFT, 0, 0, 40);
    at_place(&sharp, BW_PLACE_ALONG, 60 + 80 + 5, 115, 80);
    at_place(&skew, BW_PLACE_OWN, 0, 50, 0);
    at_place(&skew, BW_PLACE_BOTTOM, 0, 50, 0);
    at_place(&skew, BW_PLACE_RIGHT, 0, 120, 55);
    at_place(&lid, BW_PLACE_RIGHT, 0, 50, 25);
    at_place(&lid, BW_PLACE_OWN, 0, 25, 0);
    at_place(&lid, BW_PLACE_TOP, 0, 25, 50);
}
END_TEST

START_TEST(circle_sizes_agree) {
    bw_layout layout;
    bw_layout_init(&layout);
    bw_outline *o = &layout.outline;
    o->diameter = 140;
    ck_assert_double_eq(bw_outline_diameter(o), 140);
    o->diameter = NAN;
    o->around = 140 * BW_PI;
    ck_assert_double_eq_tol(bw_outline_diameter(o), 140, 1e-12);
    o->around = NAN;
    o->chord = 100; /* depth of a 100 mm chord in a circle of 140: 70 - sqrt(70^2 - 50^2) */
    o->depth = 70 - sqrt(4900 - 2500);
    ck_assert_double_eq_tol(bw_outline_diameter(o), 140, 1e-9);
}
END_TEST

START_TEST(area_box_and_nearest) {
    const double corner[4] = {10, 20, 0, 5};
    bw_outline o = rectangle(100, 60, corner);
    bw_curve *edge = make(&o);
    bw_box box = bw_curve_box(edge);
    ck_assert_double_eq_tol(bw_curve_area(edge), 6000 - (1 - BW_PI / 4) * (100 + 400 + 25), 1e-9);
    ck_assert_double_eq_tol(box.left + box.bottom, 0, 1e-9);
    ck_assert_double_eq_tol(box.right, 100, 1e-9);
    ck_assert_double_eq_tol(box.top, 60, 1e-9);
    srand(2);
    for (int i = 0; i < 300; i++) {
        bw_point p = {roll(-50, 150), roll(-50, 110)};
        double best = INFINITY, along = bw_curve_nearest(edge, p);
        for (int k = 0; k < 3000; k++) {
            bw_point q = bw_curve_at(edge, bw_curve_length(edge) * k / 3000).at;
            best = fmin(best, hypot(p.x - q.x, p.y - q.y));
        }
        bw_point q = bw_curve_at(edge, along).at;
        ck_assert_double_le(hypot(p.x - q.x, p.y - q.y), best + 1e-9);
    }
    bw_curve_destroy(edge);
}
END_TEST

Suite *maths_curve_suite(void) {
    Suite *suite = suite_create("maths: curves");
    TCase *tc = tcase_create("curves");
    tcase_add_test(tc, parallels_of_rectangles_keep_their_distance);
    tcase_add_test(tc, parallels_vanish_at_the_middle);
    tcase_add_test(tc, arcs_open_and_close);
    tcase_add_test(tc, places_name_the_middle_of_a_straight_or_the_extreme_of_a_bend);
    tcase_add_test(tc, circle_sizes_agree);
    tcase_add_test(tc, area_box_and_nearest);
    suite_add_tcase(suite, tc);
    return suite;
}
