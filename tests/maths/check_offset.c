/* check_offset.c - parallels where much falls together: coincident and tangent pieces, tiny segments, repeated points,
 * distances at which something splits or vanishes just there; open edges; memory that runs out. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "maths/lines.h"
#include "maths/outlines.h"
#include "maths/plumb.h"
#include "maths/purse.h"

Suite *maths_offset_suite(void);

static bw_curve *edge_of(const char *svg) {
    bw_layout layout;
    bw_outline_fault fault;
    bw_curve *edge = NULL;
    bw_layout_init(&layout);
    layout.outline.shape = BW_PATH;
    layout.outline.svg = svg;
    layout.outline.scale = 1;
    bw_status status = bw_outline_check(&layout.outline, NULL, &fault);
    ck_assert_msg(status == BW_OK, "%s: trouble %d at %g %g", svg, (int)fault.what, fault.at.x, fault.at.y);
    ck_assert_int_eq(bw_curve_create(&layout.outline, NULL, &edge), BW_OK);
    return edge;
}

static void check_fault(const char *name, double d, lines_fault fault) {
    ck_assert_msg(fault.what == NULL, "%s at %.17g: %s by %g at %.9g %.9g", name, d, fault.what, fault.by, fault.at.x,
                  fault.at.y);
}

/* What holds for every parallel. The caller destroys it. */
static bw_curve *sound(const char *name, const bw_curve *edge, double d) {
    bw_curve *line = NULL;
    int looked = 0;
    ck_assert_int_eq(bw_curve_offset(edge, d, NULL, &line), BW_OK);
    ck_assert_msg(isfinite(bw_curve_length(line)), "%s at %.17g", name, d);
    check_fault(name, d, lines_loose(line));
    check_fault(name, d, lines_astray(edge, line, d, 8));
    check_fault(name, d, lines_missing(edge, line, d, 8, &looked));
    return line;
}

/* Drawn with y down. Lengths by plane geometry, NAN where there is none to be had so easily. */
#define BELL "M0 0H40V25H80V0H120V60H80V35H40V60H0Z"
#define PLUS "M10 10V50H-10V10H-50V-10H-10V-50H10V-10H50V10Z"
#define COMB "M0 0H100V40H80V10H60V40H40V10H20V40H0Z"
#define GEAR "M-8 0A4 4 0 0 1 0 0A4 4 0 0 0 8 0A4 4 0 0 1 16 0A4 4 0 0 0 24 0H30V60H-14V0Z"
#define LENS "M-30 0A50 50 0 0 1 30 0A50 50 0 0 1 -30 0Z"
#define SLIT "M0 0H100V100H50.0005V40H49.9995V100H0Z"

static const struct {
    const char *name, *svg;
    double d;
    int loops;
    double length; /* mm */
} table[] = {
    {"circle of two arcs", "M-50 0A50 50 0 0 1 50 0A50 50 0 0 1 -50 0Z", 49, 1, 2 * BW_PI},
    {"circle, its radius", "M-50 0A50 50 0 0 1 50 0A50 50 0 0 1 -50 0Z", 50, 0, 0},
    {"circle, a hair less", "M-50 0A50 50 0 0 1 50 0A50 50 0 0 1 -50 0Z", 49.999, 1, 0.002 * BW_PI},
    {"square, half", "M0 0H60V60H0Z", 30, 0, 0},
    {"square, a hair less", "M0 0H60V60H0Z", 29.9999, 1, 0.0008},
    {"rectangle, half", "M0 0H60V40H0Z", 20, 0, 0},
    {"corners of radius d", "M10 0H90A10 10 0 0 1 100 10V50A10 10 0 0 1 90 60H10A10 10 0 0 1 0 50V10A10 10 0 0 1 10 0Z",
     10, 1, 240},
    {"corners of nearly d", "M10 0H90A10 10 0 0 1 100 10V50A10 10 0 0 1 90 60H10A10 10 0 0 1 0 50V10A10 10 0 0 1 10 0Z",
     9.9999999, 1, 240},
    {"repeated points", "M0 0H60H60V40V40L60 40H0V0V0Z", 10, 1, 120},
    {"points on a straight", "M0 0H10H20H20.000000001H30H60V40H40H0V20Z", 10, 1, 120},
    {"jitter on a straight", "M0 0L20 1e-9L40 -1e-9L60 0V40L30 40.000000001L0 40Z", 10, 1, 120},
    {"tiny sides at a corner", "M0 0H60L60.0000001 0.0000001V0.0000003L60 0.0000004V40H0Z", 10, 1, 120},
    {"needle", "M0 0H200V0.2Z", 0.05, 1, NAN}, /* triangle: P (1 - d/r), checked below */
    {"bar of twice d", BELL, 5, 2, 2 * (160 - 10 + 5 * BW_PI)},
    {"bar of a hair more", BELL, 4.99999999, 1, NAN},
    {"bar of a hair less", BELL, 5.00000001, 2, NAN},
    {"blocks of twice d", BELL, 20, 2, NAN}, /* by the bar there is room still */
    {"blocks used up", BELL, 21, 0, 0},
    {"plus, arms of twice d", PLUS, 10, 1, 20 * BW_PI}, /* four quarters that touch */
    {"plus, inside only", PLUS, 12, 1, NAN},
    {"plus, hardly anything", PLUS, 14.142, 1, NAN},
    {"plus, its middle", PLUS, 14.1421356237309515, 0, 0},
    {"comb, back of twice d", COMB, 5, 3, NAN},
    {"comb, teeth of twice d", COMB, 10, 0, 0},
    {"comb, teeth of a hair more", COMB, 9.999, 3, NAN},
    {"bends of radius d", GEAR, 4, 1, NAN},
    {"bends of nearly d", GEAR, 4.0000000001, 1, NAN},
    {"bends of a hair more", GEAR, 3.9999999, 1, NAN},
    {"bends used up", GEAR, 6, 1, NAN},
    {"slit", SLIT, 10, 1, NAN},
    {"slit, narrow on both sides", SLIT, 24.9999, 2, NAN},
    {"slit, its sides", SLIT, 24.99975, 2, NAN}, /* below the slit there is room still */
    {"a hair of a bend meets a great one",
     "M9 83l83 4.5A106.99999995500001 106.99999995500001 0 1 1 83 89"
     "s-1.28e-7-1.28e-7 4-1.28e-7Z",
     11.742732890821697, 1, NAN},
    {"tab of twice d", "M0 0H60V20H90V40H60V60H0Z", 10, 1, 140 + 10 * BW_PI}, /* there and back along its middle */
    {"nothing in", BELL, 0, 1, 120 * 2 + 60 * 2 + 2 * 2 * 25},
};

START_TEST(where_much_falls_together) {
    bw_curve *edge = edge_of(table[_i].svg), *line = sound(table[_i].name, edge, table[_i].d);
    ck_assert_msg(bw_curve_loops(line) == table[_i].loops, "%s at %.17g: %d loops, not %d", table[_i].name, table[_i].d,
                  bw_curve_loops(line), table[_i].loops);
    if (!isnan(table[_i].length))
        ck_assert_msg(fabs(bw_curve_length(line) - table[_i].length) <= 2e-6, "%s at %.17g: length %.12g, not %.12g",
                      table[_i].name, table[_i].d, bw_curve_length(line), table[_i].length);
    bw_curve_destroy(line);
    bw_curve_destroy(edge);
}
END_TEST

/* At every distance, also at those at which something splits, vanishes or touches, and a hair to either side: the
 * parallel is sound, and its length falls from one to the next by no more than corners and splits can take. */
START_TEST(all_the_way_in) {
    static const double hairs[] = {-1e-6, -1e-9, -1e-12, 0, 1e-12, 1e-9, 1e-6};
    static const char *const outlines[] = {BELL, PLUS, COMB, GEAR, LENS, SLIT};
    bw_curve *edge = edge_of(outlines[_i]);
    double before = INFINITY;
    for (int step = 1; step <= 124; step++) {
        for (size_t k = 0; k < sizeof hairs / sizeof hairs[0]; k++) {
            bw_curve *line = sound(outlines[_i], edge, step / 4.0 + hairs[k]);
            double area = bw_curve_loops(line) > 0 ? bw_curve_area(line) : 0;
            ck_assert_msg(area <= before + 1e-6, "%s at %g%+g: area %.12g after %.12g", outlines[_i], step / 4.0,
                          hairs[k], area, before);
            before = area;
            bw_curve_destroy(line);
        }
    }
    ck_assert_double_eq(before, 0);
    bw_curve_destroy(edge);
}
END_TEST

/* Any triangle: what is left is similar to the whole, P (1 - d/r) with r = 2 A / P of the circle within. */
START_TEST(triangles_down_to_needles) {
    random_source r = {.state = 5};
    for (int round = 0; round < 2000; round++) {
        double x = random_between(&r, -300, 300), power = random_between(&r, -5, 2.5), y = pow(10, power);
        char svg[200];
        snprintf(svg, sizeof svg, "M0 0H200L%.17g %.17gZ", x, y);
        bw_curve *edge = edge_of(svg);
        double whole = bw_curve_length(edge), in = 2 * bw_curve_area(edge) / whole, share = random_between(&r, 0, 1);
        bw_curve *line = sound(svg, edge, share * in);
        ck_assert_msg(fabs(bw_curve_length(line) - whole * (1 - share)) <= 1e-6 * whole, "%s at %.17g: %.12g of %.12g",
                      svg, share * in, bw_curve_length(line), whole * (1 - share));
        bw_curve_destroy(line);
        line = sound(svg, edge, 1.001 * in);
        ck_assert_int_eq(bw_curve_loops(line), 0);
        bw_curve_destroy(line);
        bw_curve_destroy(edge);
    }
}
END_TEST

/* Two arcs that meet in corners: 4 (R - d) acos(c/(R - d)), c from the middle to the centres. */
START_TEST(lenses) {
    bw_curve *edge = edge_of(LENS);
    for (int k = 0; k < 100; k++) {
        double d = k / 10.0;
        bw_curve *line = sound("lens", edge, d);
        ck_assert_double_eq_tol(bw_curve_length(line), 4 * (50 - d) * acos(40 / (50 - d)), 1e-8);
        bw_curve_destroy(line);
    }
    bw_curve *line = sound("lens", edge, 10);
    ck_assert_int_eq(bw_curve_loops(line), 0);
    bw_curve_destroy(line);
    bw_curve_destroy(edge);
}
END_TEST

/* ---- open edges ---- */

static const struct {
    const char *name, *svg;
    double d;
    int loops, closed; /* closed: how many of them */
    double length;
} open_table[] = {
    {"line", "M0 0H100", 10, 1, 0, 100},
    {"bent to the leather", "M0 0H100V-60", 10, 1, 0, 140},
    {"bent from the leather", "M0 0H100V60", 10, 1, 0, 160 + 5 * BW_PI},
    {"channel of twice d", "M0 0H100V-20H0", 10, 0, 0, 0},
    {"channel", "M0 0H100V-20H0", 9, 1, 0, 91 + 2 + 91},
    {"half a circle to the leather", "M50 0A50 50 0 0 0 -50 0", 10, 1, 0, 40 * BW_PI},
    {"half a circle from the leather", "M50 0A50 50 0 0 1 -50 0", 10, 1, 0, 60 * BW_PI},
    {"half a circle used up", "M50 0A50 50 0 0 0 -50 0", 50, 0, 0, 0},
    /* 100 x 100, the way in 4 mm wide */
    {"room with a door", "M-40 -48H0V0H100V-100H0V-52H-40", 10, 1, 1, NAN},
};

START_TEST(open_edges) {
    bw_curve *edge = edge_of(open_table[_i].svg), *line = sound(open_table[_i].name, edge, open_table[_i].d);
    int closed = 0;
    ck_assert(!bw_curve_closed(edge));
    for (int loop = 0; loop < bw_curve_loops(line); loop++)
        closed += bw_curve_loop_closed(line, loop);
    ck_assert_msg(bw_curve_loops(line) == open_table[_i].loops && closed == open_table[_i].closed,
                  "%s at %g: %d loops, %d of them closed", open_table[_i].name, open_table[_i].d, bw_curve_loops(line),
                  closed);
    if (!isnan(open_table[_i].length))
        ck_assert_double_eq_tol(bw_curve_length(line), open_table[_i].length, 1e-6);
    bw_curve_destroy(line);
    bw_curve_destroy(edge);
}
END_TEST

/* Along a channel and back, its sides now near and now far. */
static void write_channel(char *svg, size_t room, random_source *r) {
    int used = snprintf(svg, room, "M0 0"), count = random_number(r, 3, 9);
    for (int i = 1; i <= 2 * count + 1; i++) {
        double aside = random_between(r, 0, 18);
        int x = i <= count ? 30 * i : 30 * (2 * count + 1 - i);
        used += snprintf(svg + used, room - (size_t)used, "L%d %.17g", x, i <= count ? aside : -20 - aside);
    }
}

/* Zigzags, spirals and rows of arcs, open, on either side. */
static void write_open(char *svg, size_t room, random_source *r, int kind) {
    int count = random_number(r, 2, 14), way = random_chance(r, 0.5) ? 1 : -1;
    int used = snprintf(svg, room, "M%d 0", kind == 1 ? 20 * way : 0);
    for (int i = 1; i <= count; i++) {
        double size = random_between(r, 5, 60), radius = size * random_between(r, 0.55, 3);
        if (kind == 0) /* to the right, up and down */
            used +=
                snprintf(svg + used, room - (size_t)used, "L%.17g %.17g", i * 25.0, size * (i % 2 == 0 ? 1 : -1) - 20);
        else if (kind == 1) /* outward in corners of 60 degrees */
            used += snprintf(svg + used, room - (size_t)used, "L%.17g %.17g", way * (20 + 6 * i) * cos(i * BW_PI / 3),
                             (20 + 6 * i) * sin(i * BW_PI / 3));
        else
            used += snprintf(svg + used, room - (size_t)used, "a%.17g %.17g 0 0 %d %.17g 0", radius, radius,
                             random_chance(r, 0.5), size);
    }
}

START_TEST(random_open_edges) {
    random_source r = {.state = 6};
    int split = 0, gone = 0;
    for (int round = 0; round < 3000; round++) {
        char svg[2000];
        int kind = round % 4;
        if (kind == 3)
            write_channel(svg, sizeof svg, &r);
        else
            write_open(svg, sizeof svg, &r, kind);
        double d = random_between(&r, kind == 3 ? 8 : 0.2, kind == 1 ? 8 : kind == 3 ? 24 : 40);
        bw_curve *edge = edge_of(svg), *line = sound(svg, edge, d);
        split += bw_curve_loops(line) > 1;
        gone += bw_curve_loops(line) == 0;
        bw_curve_destroy(line);
        bw_curve_destroy(edge);
    }
    ck_assert_int_gt(split, 120);
    ck_assert_int_lt(gone, 1000);
}
END_TEST

/* ---- memory that runs out ---- */

typedef struct order {
    const bw_curve *edge;
    double d;
} order;

static bw_status offset_once(const void *about, const bw_allocator *allocator) {
    const order *o = about;
    bw_curve *line = NULL;
    bw_status status = bw_curve_offset(o->edge, o->d, allocator, &line);
    ck_assert((status == BW_OK) == (line != NULL));
    bw_curve_destroy(line);
    return status;
}

static bw_status create_once(const void *about, const bw_allocator *allocator) {
    bw_curve *edge = NULL;
    bw_status status = bw_curve_create(about, allocator, &edge);
    ck_assert((status == BW_OK) == (edge != NULL));
    bw_curve_destroy(edge);
    return status;
}

static bw_status check_once(const void *about, const bw_allocator *allocator) {
    bw_outline_fault fault;
    return bw_outline_check(about, allocator, &fault);
}

START_TEST(memory_runs_out_on_parallels) {
    static outlines_piece piece;
    for (unsigned seed = 0; seed < 60; seed++) {
        bw_curve *edge;
        outlines_make(&piece, seed);
        ck_assert_int_eq(bw_curve_create(&piece.outline, NULL, &edge), BW_OK);
        order o = {edge, piece.distance};
        purse_run_out(&o, offset_once, 1, "offset");
        purse_run_out(&piece.outline, create_once, 1, piece.kind);
        if (piece.outline.shape == BW_POLYGON || piece.outline.shape == BW_PATH)
            purse_run_out(&piece.outline, check_once, 1, piece.kind);
        bw_curve_destroy(edge);
    }
}
END_TEST

Suite *maths_offset_suite(void) {
    Suite *suite = suite_create("maths/offset");
    TCase *tests = tcase_create("offset");
    tcase_set_timeout(tests, 60);
    tcase_add_loop_test(tests, where_much_falls_together, 0, (int)(sizeof table / sizeof table[0]));
    tcase_add_loop_test(tests, all_the_way_in, 0, 6);
    tcase_add_test(tests, triangles_down_to_needles);
    tcase_add_test(tests, lenses);
    tcase_add_loop_test(tests, open_edges, 0, (int)(sizeof open_table / sizeof open_table[0]));
    tcase_add_test(tests, random_open_edges);
    tcase_add_test(tests, memory_runs_out_on_parallels);
    suite_add_tcase(suite, tests);
    return suite;
}
