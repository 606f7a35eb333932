/* check_offset.c - parallels of thousands of random outlines, held against GEOS and against the edge itself.
 *
 * BW_OUTLINES=N tries N of them. */
#include <check.h>
#include <geos_c.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "maths/lines.h"
#include "maths/outlines.h"
#include "outside/erode.h"

Suite *outside_offset_suite(void);

#define NEAR_SPLIT 0.01 /* mm: so near to a split GEOS may count other loops */
#define ROUGH 0.01      /* radians of a bend to a chord */
#define FINE 0.002      /* to see how many loops there are; twice finer and more where a doubt is left */

static GEOSContextHandle_t geos;

static int outlines_to_try(void) {
    const char *given = getenv("BW_OUTLINES");
    return given != NULL && atoi(given) > 0 ? atoi(given) : 2000;
}

/* One outline on trial. */
typedef struct trial {
    unsigned long long seed;
    outlines_piece piece;
    bw_curve *edge, *line;
    bool split, vanished;
} trial;

static trial now;

static void begin_trial(unsigned long long seed) {
    bw_outline_fault fault;
    now.seed = seed;
    outlines_make(&now.piece, seed);
    bw_status status = bw_outline_check(&now.piece.outline, NULL, &fault);
    ck_assert_msg(status == BW_OK, "%s %llu is refused: trouble %d, item %zu, at %g %g, along %g and %g",
                  now.piece.kind, seed, (int)fault.what, fault.item, fault.at.x, fault.at.y, fault.along[0],
                  fault.along[1]);
    ck_assert_int_eq(bw_curve_create(&now.piece.outline, NULL, &now.edge), BW_OK);
    ck_assert_int_eq(bw_curve_offset(now.edge, now.piece.distance, NULL, &now.line), BW_OK);
}

static void end_trial(void) {
    bw_curve_destroy(now.edge);
    bw_curve_destroy(now.line);
}

static bool close_enough(const eroded *e) {
    double length = bw_curve_length(now.line), area = e->loops > 0 ? bw_curve_area(now.line) : 0;
    return bw_curve_loops(now.line) == e->loops && fabs(length - e->length) <= 1e-4 * e->length &&
           fabs(area - e->area) <= 1e-4 * e->area;
}

/* Loops a little farther out and in: other numbers than here mean that it splits or vanishes just here. */
static bool near_split(void) {
    eroded out = erode_by_sectors(geos, now.edge, now.piece.distance - NEAR_SPLIT, FINE);
    eroded in = erode_by_sectors(geos, now.edge, now.piece.distance + NEAR_SPLIT, FINE);
    return out.loops != in.loops;
}

static void against_sectors(int *doubtful) {
    eroded e = erode_by_sectors(geos, now.edge, now.piece.distance, ROUGH);
    *doubtful += !close_enough(&e);
    for (double fine = ROUGH / 5; !close_enough(&e) && fine > ROUGH / 200; fine /= 5)
        e = erode_by_sectors(geos, now.edge, now.piece.distance, fine);
    now.split = e.loops > 1;
    now.vanished = e.loops == 0;
    ck_assert_msg(close_enough(&e) || near_split(),
                  "%s %llu at %.17g: %d loops, length %.9g, area %.9g; GEOS %d, %.9g, %.9g", now.piece.kind, now.seed,
                  now.piece.distance, bw_curve_loops(now.line), bw_curve_length(now.line), bw_curve_area(now.line),
                  e.loops, e.length, e.area);
}

static void check_fault(lines_fault fault) {
    ck_assert_msg(fault.what == NULL, "%s %llu at %.17g: %s by %g at %.9g %.9g", now.piece.kind, now.seed,
                  now.piece.distance, fault.what, fault.by, fault.at.x, fault.at.y);
}

typedef struct mix {
    int tried, concave, split, near, vanished, looked, doubtful;
} mix;

static void report(const mix *m) {
    printf("%d outlines: %.1f %% concave, %.1f %% splitting, %.1f %% within 1 %% of a cusp or a tangency, %.1f %% "
           "vanished; %d of the sampled feet lie on a parallel; %d needed finer chords\n",
           m->tried, 100.0 * m->concave / m->tried, 100.0 * m->split / m->tried, 100.0 * m->near / m->tried,
           100.0 * m->vanished / m->tried, m->looked, m->doubtful);
    ck_assert_int_ge(10 * m->concave, 3 * m->tried);
    ck_assert_int_ge(10 * m->split, 3 * m->tried);
    ck_assert_int_ge(10 * m->near, 2 * m->tried);
    ck_assert_int_le(10 * m->vanished, 2 * m->tried);
    ck_assert_int_gt(m->looked, 10 * m->tried);
}

START_TEST(random_outlines) {
    mix m = {0};
    for (m.tried = 0; m.tried < outlines_to_try(); m.tried++) {
        begin_trial((unsigned)m.tried);
        check_fault(lines_loose(now.line));
        check_fault(lines_astray(now.edge, now.line, now.piece.distance, 3));
        check_fault(lines_missing(now.edge, now.line, now.piece.distance, 3, &m.looked));
        against_sectors(&m.doubtful);
        m.concave += outlines_concave(now.edge);
        m.split += now.split;
        m.near += now.piece.near_event;
        m.vanished += now.vanished;
        end_trial();
    }
    report(&m);
}
END_TEST

/* Polygons with sharp corners need no chords but round their hollow corners: GEOS buffers them as they are. */
START_TEST(sharp_polygons_by_buffer) {
    int compared = 0;
    for (unsigned seed = 0; (int)seed < outlines_to_try(); seed++) {
        bw_point corners[OUTLINES_CORNERS];
        begin_trial(seed);
        double d = now.piece.distance;
        size_t count = bw_curve_pieces(now.edge);
        bool sharp = now.piece.outline.shape == BW_POLYGON && count < OUTLINES_CORNERS;
        for (size_t i = 0; i < count && sharp; i++) {
            corners[i] = bw_curve_piece(now.edge, i).from;
            sharp = bw_curve_piece(now.edge, i).curvature == 0;
        }
        if (sharp && !erode_drops(corners, count, d)) {
            eroded e = erode_by_buffer(geos, corners, count, d, 200);
            if (!close_enough(&e))
                e = erode_by_buffer(geos, corners, count, d, 4000);
            ck_assert_msg(close_enough(&e) || near_split(),
                          "%s %u at %.17g: %d loops, length %.9g; buffer %d loops, length %.9g", now.piece.kind, seed,
                          d, bw_curve_loops(now.line), bw_curve_length(now.line), e.loops, e.length);
            compared++;
        }
        end_trial();
    }
    ck_assert_int_gt(compared, outlines_to_try() / 10);
}
END_TEST

static void begin(void) {
    geos = GEOS_init_r();
}

static void end(void) {
    GEOS_finish_r(geos);
}

Suite *outside_offset_suite(void) {
    Suite *suite = suite_create("outside/offset");
    TCase *tests = tcase_create("offset");
    tcase_add_checked_fixture(tests, begin, end);
    tcase_set_timeout(tests, 0); /* BW_OUTLINES may be any number */
    tcase_add_test(tests, random_outlines);
    tcase_add_test(tests, sharp_polygons_by_buffer);
    suite_add_tcase(suite, tests);
    return suite;
}
