/* check_outline.c - straps and polygons: sizes, starts, corners, troubles; and memory that runs out. */
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "bandwright/limits.h"
#include "maths/purse.h"
#include "maths/shapes.h"

Suite *maths_outline_suite(void);

#define NEAR(value, wanted, tolerance) ck_assert_double_eq_tol(value, wanted, tolerance)

static bw_trouble trouble_of(const bw_outline *o, bw_outline_fault *fault) {
    bw_curve *curve = NULL;
    bw_status status = bw_outline_check(o, NULL, fault);
    ck_assert_int_eq(bw_outline_check(o, NULL, NULL), status); /* nobody has to ask why */
    if (status == BW_OK) {
        ck_assert_int_eq(fault->what, BW_TROUBLE_NONE);
    } else if (fault->what != BW_TROUBLE_SIZE) {
        ck_assert_int_eq(bw_curve_create(o, NULL, &curve), BW_BAD_VALUE);
        ck_assert_ptr_null(curve);
    }
    return fault->what;
}

/* ---- straps ---- */

static double end_takes(bw_end end, double width) {
    return end.kind == BW_END_ROUND ? width / 2 : end.kind == BW_END_POINT ? end.point : 0;
}

static double end_length(bw_end end, double width) {
    if (end.kind == BW_END_ROUND) {
        return BW_PI * width / 2;
    }
    return end.kind == BW_END_POINT ? 2 * hypot(end.point, width / 2) : width;
}

static double end_area(bw_end end, double width) { /* cut off the rectangle */
    if (end.kind == BW_END_ROUND) {
        return (1 - BW_PI / 4) * width * width / 2;
    }
    return end.kind == BW_END_POINT ? end.point * width / 2 : 0;
}

START_TEST(straps_measure_as_their_parts) {
    srand(11);
    for (int round = 0; round < 300; round++) {
        double w = shape_roll(5, 90), l = shape_roll(200, 1500);
        bw_end start = {(bw_end_kind)(round % 3), shape_roll(1, 90)};
        bw_end end = {(bw_end_kind)(round / 3 % 3), shape_roll(1, 90)};
        double left = end_takes(start, w), right = end_takes(end, w);
        bw_outline o = shape_strap(l, w, start, end);
        bw_curve *curve = shape_curve(&o);
        bw_spot spot = bw_curve_at(curve, 0);
        bw_box box = bw_curve_box(curve);
        NEAR(bw_curve_length(curve), 2 * (l - left - right) + end_length(start, w) + end_length(end, w), 1e-9);
        NEAR(bw_curve_area(curve), l * w - end_area(start, w) - end_area(end, w), 1e-8);
        NEAR(bw_curve_turning(curve), 2 * BW_PI, 1e-9);
        NEAR(spot.at.x, (left + l - right) / 2, 1e-9);
        NEAR(spot.at.y, 0, 1e-12);
        NEAR(spot.heading, 0, 1e-12);
        NEAR(fabs(box.left) + fabs(box.bottom), 0, 1e-9);
        NEAR(box.right, l, 1e-9);
        NEAR(box.top, w, 1e-9);
        ck_assert(bw_curve_closed(curve));
        bool rounded = start.kind == BW_END_ROUND || end.kind == BW_END_ROUND;
        ck_assert(rounded ? fabs(bw_curve_least_radius(curve) - w / 2) < 1e-9 : isinf(bw_curve_least_radius(curve)));
        ck_assert_double_le(shape_gap(curve), 1e-12);
        ck_assert_double_le(shape_joint(curve, 1e-3), 1e-12); /* round ends go on smoothly from the straights */
        bw_curve_destroy(curve);
    }
}
END_TEST

START_TEST(straps_without_a_straight_start_at_the_lowest_point) {
    const bw_end round = {BW_END_ROUND, 0}, point = {BW_END_POINT, 30};
    const struct {
        bw_end start, end;
        double length, x;
    } rows[] = {{round, round, 40, 20}, {point, point, 60, 30}, {point, round, 50, 30}, {round, point, 50, 20}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bw_outline o = shape_strap(rows[i].length, 40, rows[i].start, rows[i].end);
        bw_curve *curve = shape_curve(&o);
        bw_spot spot = bw_curve_at(curve, 0);
        NEAR(spot.at.x, rows[i].x, 1e-9);
        NEAR(spot.at.y, 0, 1e-9);
        NEAR(bw_curve_place(curve, (bw_place){BW_PLACE_BOTTOM, 0}), 0, 1e-9);
        NEAR(bw_curve_turning(curve), 2 * BW_PI, 1e-9);
        bw_curve_destroy(curve);
        bw_outline_fault fault;
        o.length -= 1e-6;
        ck_assert_int_eq(trouble_of(&o, &fault), BW_TROUBLE_SIZE);
    }
}
END_TEST

/* ---- polygons ---- */

enum { CORNERS = 9 };

/* A star around the origin, counter-clockwise, its corners rounded by what fits or sharp. */
static void star(bw_corner *c, double rounded) {
    for (int i = 0; i < CORNERS; i++) {
        double away = 2 * BW_PI * (i + shape_roll(-0.3, 0.3)) / CORNERS, r = shape_roll(60, 140);
        c[i] = (bw_corner){r * cos(away), r * sin(away), 0};
    }
    for (int i = 0; i < CORNERS; i++) {
        const bw_corner *a = &c[(i + CORNERS - 1) % CORNERS], *b = &c[i], *d = &c[(i + 1) % CORNERS];
        double in = atan2(b->y - a->y, b->x - a->x), out = atan2(d->y - b->y, d->x - b->x);
        double side = fmin(hypot(b->x - a->x, b->y - a->y), hypot(d->x - b->x, d->y - b->y));
        double most = 0.45 * side / tan(fabs(remainder(out - in, 2 * BW_PI)) / 2);
        c[i].radius = shape_roll(0, 1) < rounded ? fmin(shape_roll(0.1, 1) * most, 1000) : 0;
    }
}

/* What rounding changes: 2 r tan(t/2) of the sides become an arc r t, plane geometry. */
static void expect_star(const bw_corner *c, double *length, double *area) {
    *length = *area = 0;
    for (int i = 0; i < CORNERS; i++) {
        const bw_corner *a = &c[(i + CORNERS - 1) % CORNERS], *b = &c[i], *d = &c[(i + 1) % CORNERS];
        double in = atan2(b->y - a->y, b->x - a->x), out = atan2(d->y - b->y, d->x - b->x);
        double t = remainder(out - in, 2 * BW_PI), r = b->radius;
        *length += hypot(d->x - b->x, d->y - b->y) - r * (2 * tan(fabs(t) / 2) - fabs(t));
        *area += (b->x * d->y - d->x * b->y) / 2 - r * r * (tan(t / 2) - t / 2);
    }
}

START_TEST(polygons_measure_as_their_parts) {
    int arcs = 0, concave = 0;
    srand(12);
    for (int round = 0; round < 300; round++) {
        bw_corner c[CORNERS], back[CORNERS];
        double length, area;
        star(c, round % 3 == 0 ? 0 : 0.7);
        expect_star(c, &length, &area);
        bw_curve *curve = shape_polygon(c, CORNERS);
        NEAR(bw_curve_length(curve), length, 1e-9 * length);
        NEAR(bw_curve_area(curve), area, 1e-9 * area);
        NEAR(bw_curve_turning(curve), 2 * BW_PI, 1e-9);
        ck_assert_double_le(shape_gap(curve), 1e-9);
        ck_assert_double_le(shape_joint(curve, 1e-5), 1e-12);
        bw_spot spot = bw_curve_at(curve, 0);
        if (c[0].radius == 0) {
            NEAR(hypot(spot.at.x - c[0].x, spot.at.y - c[0].y), 0, 1e-9);
        } else { /* the middle of its arc: as far from the corner as the bisector tells, the tangent square to it */
            double away = atan2(c[0].y - spot.at.y, c[0].x - spot.at.x);
            NEAR(fabs(cos(away - spot.heading)), 0, 1e-6);
        }
        for (size_t i = 0; i < bw_curve_pieces(curve); i++) {
            arcs += bw_curve_piece(curve, i).curvature != 0;
            concave += bw_curve_piece(curve, i).curvature < 0;
        }
        back[0] = c[0]; /* drawn clockwise it is the same edge */
        for (int i = 1; i < CORNERS; i++) {
            back[i] = c[CORNERS - i];
        }
        bw_curve *turned = shape_polygon(back, CORNERS);
        ck_assert_uint_eq(bw_curve_pieces(turned), bw_curve_pieces(curve));
        for (size_t i = 0; i < bw_curve_pieces(curve); i++) {
            bw_piece p = bw_curve_piece(curve, i), q = bw_curve_piece(turned, i);
            ck_assert(p.length == q.length && p.curvature == q.curvature && p.from.x == q.from.x);
        }
        bw_curve_destroy(turned);
        bw_curve_destroy(curve);
    }
    ck_assert_int_gt(arcs, 500);
    ck_assert_int_gt(concave, 100);
}
END_TEST

START_TEST(moving_and_turning_a_polygon_moves_and_turns_its_curve) {
    srand(13);
    for (int round = 0; round < 50; round++) {
        bw_corner c[CORNERS], moved[CORNERS];
        double turn = shape_roll(-3, 3), cs = cos(turn), sn = sin(turn), x = shape_roll(-900, 900);
        star(c, 0.7);
        for (int i = 0; i < CORNERS; i++) {
            moved[i] = (bw_corner){x + cs * c[i].x - sn * c[i].y, sn * c[i].x + cs * c[i].y, c[i].radius};
        }
        bw_curve *a = shape_polygon(c, CORNERS), *b = shape_polygon(moved, CORNERS);
        for (int i = 0; i < 60; i++) {
            bw_spot p = bw_curve_at(a, bw_curve_length(a) * i / 60), q = bw_curve_at(b, bw_curve_length(a) * i / 60);
            NEAR(q.at.x, x + cs * p.at.x - sn * p.at.y, 1e-8);
            NEAR(q.at.y, sn * p.at.x + cs * p.at.y, 1e-8);
        }
        bw_curve_destroy(a);
        bw_curve_destroy(b);
    }
}
END_TEST

START_TEST(the_middle_of_a_rounded_first_corner_is_the_start) {
    const bw_corner square[] = {{0, 0, 10}, {50, 0, 0}, {50, 50, 0}, {0, 50, 0}};
    bw_curve *curve = shape_polygon(square, 4);
    bw_spot spot = bw_curve_at(curve, 0);
    double in = 10 - 10 * sqrt(0.5);
    NEAR(spot.at.x, in, 1e-12);
    NEAR(spot.at.y, in, 1e-12);
    NEAR(spot.heading, -BW_PI / 4, 1e-12);
    bw_curve_destroy(curve);
}
END_TEST

START_TEST(needless_corners_change_nothing) {
    const bw_corner plain[] = {{0, 0, 5}, {80, 0, 0}, {80, 50, 12}, {0, 50, 0}};
    const bw_corner fussy[] = {{0, 0, 5},   {40, 0, 3},   {80, 0, 0},   {80, 0, 0},         {80, 1e-10, 0},
                               {80, 50, 0}, {80, 50, 12}, {30, 50, 0},  {30 - 1e-7, 50, 0}, {0, 50, 0},
                               {0, 50, 0},  {0, 0, 2},    {1e-10, 0, 0}};
    bw_curve *a = shape_polygon(plain, 4), *b = shape_polygon(fussy, sizeof fussy / sizeof *fussy);
    NEAR(bw_curve_length(a), bw_curve_length(b), 1e-9);
    for (int i = 0; i < 100; i++) {
        bw_spot p = bw_curve_at(a, bw_curve_length(a) * i / 100), q = bw_curve_at(b, bw_curve_length(a) * i / 100);
        NEAR(hypot(p.at.x - q.at.x, p.at.y - q.at.y), 0, 1e-8);
    }
    bw_curve_destroy(a);
    bw_curve_destroy(b);
}
END_TEST

START_TEST(roundings_fill_a_side_but_no_more) {
    /* the same edge both ways round: corner 1 counter-clockwise, corner 3 clockwise */
    bw_corner c[] = {{0, 0, 20}, {60, 0, 40}, {60, 90, 0}, {0, 90, 0}};
    bw_corner back[] = {{0, 0, 20}, {0, 90, 0}, {60, 90, 0}, {60, 0, 40}};
    for (int way = 0; way < 2; way++) {
        bw_outline o = shape_of(BW_POLYGON);
        bw_outline_fault fault;
        bw_corner *large = way == 0 ? &c[1] : &back[3];
        o.corners = way == 0 ? c : back;
        o.corner_count = 4;
        bw_curve_destroy(shape_curve(&o)); /* 20 + 40 fill the side of 60 */
        large->radius = 41;
        ck_assert_int_eq(trouble_of(&o, &fault), BW_TROUBLE_CORNER);
        ck_assert_ptr_eq(&o.corners[fault.item], large);
        ck_assert(fault.at.x == 60 && fault.at.y == 0);
        NEAR(fault.along[0], 61, 1e-9);
        NEAR(fault.along[1], 60, 1e-9);
        NEAR(fault.most, 40, 1e-9);
        large->radius = fault.most;
        ck_assert_int_eq(trouble_of(&o, &fault), BW_TROUBLE_NONE);
    }
}
END_TEST

static const struct {
    size_t count;
    bw_corner corners[6];
    bw_trouble what;
    double x, y;
} bad_polygons[] = {
    {2, {{0, 0, 0}, {9, 0, 0}}, BW_TROUBLE_SIZE, 0, 0},
    {3, {{7, 7, 0}, {7, 7, 0}, {7, 7, 0}}, BW_TROUBLE_FEW, 0, 0},
    {3, {{0, 0, 0}, {9, 0, NAN}, {9, 9, 0}}, BW_TROUBLE_SIZE, 0, 0},
    {3, {{0, 0, 0}, {INFINITY, 0, 0}, {9, 9, 0}}, BW_TROUBLE_SIZE, 0, 0},
    {3, {{0, 0, 0}, {9, 0, -1}, {9, 9, 0}}, BW_TROUBLE_SIZE, 0, 0},
    {3, {{0, 0, 0}, {2e5, 0, 0}, {9, 9, 0}}, BW_TROUBLE_SIZE, 0, 0},
    {4, {{0, 0, 0}, {40, 30, 0}, {40, 0, 0}, {0, 30, 0}}, BW_TROUBLE_CROSSING, 20, 15},
    {5, {{0, 0, 0}, {40, 0, 0}, {40, 40, 0}, {20, 0, 0}, {0, 40, 0}}, BW_TROUBLE_CROSSING, 20, 0}, /* touches a side */
    {3, {{0, 0, 0}, {40, 0, 0}, {20, 0, 0}}, BW_TROUBLE_CROSSING, NAN, 0},                         /* lies on itself */
    {5, {{0, 0, 0}, {40, 0, 0}, {40, 30, 0}, {40, 10, 0}, {0, 10, 0}}, BW_TROUBLE_CROSSING, 40, NAN},
};

START_TEST(polygons_that_are_no_edge_say_why) {
    bw_outline o = shape_of(BW_POLYGON);
    bw_outline_fault fault;
    o.corners = bad_polygons[_i].corners;
    o.corner_count = bad_polygons[_i].count;
    ck_assert_int_eq(trouble_of(&o, &fault), bad_polygons[_i].what);
    if (fault.what == BW_TROUBLE_CROSSING) {
        ck_assert(isnan(bad_polygons[_i].x) || fabs(fault.at.x - bad_polygons[_i].x) < 1e-6);
        ck_assert(isnan(bad_polygons[_i].y) || fabs(fault.at.y - bad_polygons[_i].y) < 1e-6);
        ck_assert_double_le(fault.along[0], fault.along[1]);
    }
}
END_TEST

START_TEST(ten_thousand_corners_are_many_enough) {
    bw_corner *c = calloc(BW_CORNERS_MOST + 1, sizeof *c);
    bw_outline o = shape_of(BW_POLYGON);
    bw_outline_fault fault;
    for (int i = 0; i <= BW_CORNERS_MOST; i++) {
        double away = 2 * BW_PI * i / (BW_CORNERS_MOST + 1);
        c[i] = (bw_corner){400 * cos(away), 400 * sin(away), 0};
    }
    o.corners = c;
    o.corner_count = BW_CORNERS_MOST;
    ck_assert_int_eq(trouble_of(&o, &fault), BW_TROUBLE_NONE);
    o.corner_count++;
    ck_assert_int_eq(trouble_of(&o, &fault), BW_TROUBLE_SIZE);
    free(c);
}
END_TEST

/* ---- memory ---- */

static bw_status curve_once(const void *about, const bw_allocator *allocator) {
    bw_curve *curve = NULL;
    bw_status status = bw_curve_create(about, allocator, &curve);
    ck_assert((status == BW_OK) == (curve != NULL));
    bw_curve_destroy(curve);
    return status;
}

static bw_status check_once(const void *about, const bw_allocator *allocator) {
    bw_outline_fault fault;
    return bw_outline_check(about, allocator, &fault);
}

START_TEST(memory_runs_out_in_every_shape) {
    bw_corner corners[CORNERS];
    srand(14);
    star(corners, 0.5);
    bw_outline shapes[4] = {shape_of(BW_ELLIPSE),
                            shape_strap(300, 60, (bw_end){BW_END_POINT, 35}, (bw_end){BW_END_ROUND, 0}),
                            shape_of(BW_POLYGON), shape_of(BW_PATH)};
    shapes[0].length = 130;
    shapes[0].width = 90;
    shapes[2].corners = corners;
    shapes[2].corner_count = CORNERS;
    shapes[3].svg = "M0 0C40-30 80 30 120 0S150 120 60 90-20 40 0 0Z";
    shapes[3].scale = 1;
    for (int i = 0; i < 4; i++) {
        ck_assert_int_gt(purse_run_out(&shapes[i], curve_once, 1, "a curve"), 2);
        ck_assert_int_gt(purse_run_out(&shapes[i], check_once, 1, "a check"), 2);
    }
}
END_TEST

Suite *maths_outline_suite(void) {
    Suite *suite = suite_create("maths: outlines");
    TCase *tc = tcase_create("outlines");
    tcase_set_timeout(tc, 60);
    tcase_add_test(tc, straps_measure_as_their_parts);
    tcase_add_test(tc, straps_without_a_straight_start_at_the_lowest_point);
    tcase_add_test(tc, polygons_measure_as_their_parts);
    tcase_add_test(tc, moving_and_turning_a_polygon_moves_and_turns_its_curve);
    tcase_add_test(tc, the_middle_of_a_rounded_first_corner_is_the_start);
    tcase_add_test(tc, needless_corners_change_nothing);
    tcase_add_test(tc, roundings_fill_a_side_but_no_more);
    tcase_add_loop_test(tc, polygons_that_are_no_edge_say_why, 0, sizeof bad_polygons / sizeof *bad_polygons);
    tcase_add_test(tc, ten_thousand_corners_are_many_enough);
    tcase_add_test(tc, memory_runs_out_in_every_shape);
    suite_add_tcase(suite, tc);
    return suite;
}
