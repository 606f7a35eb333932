/* check_outlines.c - what must hold for whole plans whatever the outline: how it lies, which way it was drawn and how
 * finely its edge is chained changes nothing; mirrored pieces are struck mirrored. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "maths/alike.h"
#include "maths/outlines.h"
#include "maths/sample.h"

Suite *maths_outlines_suite(void);

enum { SEEDS = 160 };

static const alike_within exact = {1e-7, 1e-7, true, 0};  /* lines and arcs */
static const alike_within fitted = {1e-4, 2e-4, true, 0}; /* of curves that arcs stand for, at most 0.001 mm off */

static outlines_piece piece, other_piece;
static sample one_sample, other_sample;

/* A stamped border, a weave, and stitches; from `mode` how the difference is lost. */
static void lay_out(sample *s, const bw_outline *outline, unsigned mode) {
    static const bw_lose modes[] = {BW_LOSE_EVEN, BW_LOSE_STRAIGHTS, BW_LOSE_ANCHORED};
    sample_circle(s, 100);
    s->layout.outline = *outline;
    bw_band *border = sample_border(s, 1.5, 2.6, 3.1, 2.4);
    border->lose = modes[mode % 3];
    bw_band *weave = sample_basket(s, 0.5, 5, 3.7, 1.8, 1.2, 0.5);
    weave->lay = mode % 2 == 0 ? BW_LAY_STRAIGHT : BW_LAY_ANGLED;
    sample_stitch(s, 0.7, 2.3);
}

static bw_plan *plan_of(sample *s, const bw_outline *outline, unsigned mode) {
    lay_out(s, outline, mode);
    return sample_plan(s);
}

static bool drawn(const bw_outline *outline) {
    return outline->shape == BW_POLYGON || outline->shape == BW_PATH;
}

/* Beziers become arcs; what is written with lines and arcs is kept. */
static alike_within within(const bw_outline *outline) {
    return outline->shape == BW_PATH && strchr(outline->svg, 'C') != NULL ? fitted : exact;
}

START_TEST(lying_elsewhere_changes_nothing) {
    int compared = 0;
    for (unsigned seed = 0; seed < SEEDS; seed++) {
        outlines_lie flat = {0, {0, 0}, false}, aside = {0.3 + seed, {70.0 * (seed % 5), -30.0 * (seed % 7)}, false};
        outlines_make_lying(&piece, seed, &flat);
        outlines_make_lying(&other_piece, seed, &aside);
        if (!drawn(&piece.outline))
            continue;
        bw_plan *one = plan_of(&one_sample, &piece.outline, seed);
        bw_plan *other = plan_of(&other_sample, &other_piece.outline, seed);
        char what[80];
        snprintf(what, sizeof what, "%s %u turned and moved", piece.kind, seed);
        alike_plans(what, one, other, within(&piece.outline));
        bw_plan_destroy(one);
        bw_plan_destroy(other);
        compared++;
    }
    ck_assert_int_gt(compared, SEEDS / 2);
}
END_TEST

/* The edge as path data: as it is or the other way round, every piece whole or in two. */
static char *write_edge(const bw_curve *edge, bool backward, bool split) {
    char *svg = NULL;
    size_t size = 0, count = bw_curve_pieces(edge);
    FILE *to = open_memstream(&svg, &size);
    bw_point begin = bw_curve_piece(edge, 0).from;
    fprintf(to, "M%.17g %.17g", begin.x, -begin.y);
    for (size_t i = 0; i < count; i++) {
        bw_piece p = bw_curve_piece(edge, backward ? count - 1 - i : i);
        for (int k = split ? 1 : 2; k <= 2; k++) {
            double along = p.start + p.length * (backward ? 2 - k : k) / 2;
            bw_point end = k == 1 ? bw_curve_at(edge, along).at : backward ? p.from : p.to;
            if (p.curvature == 0)
                fprintf(to, "L%.17g %.17g", end.x, -end.y);
            else
                fprintf(to, "A%.17g %.17g 0 %d %d %.17g %.17g", fabs(1 / p.curvature), fabs(1 / p.curvature),
                        !split && fabs(p.sweep) > BW_PI, (p.curvature < 0) != backward, end.x, -end.y);
        }
    }
    fputs("Z", to);
    fclose(to);
    return svg;
}

static bw_outline path_of(const char *svg) {
    bw_layout layout;
    bw_layout_init(&layout);
    layout.outline.shape = BW_PATH;
    layout.outline.svg = svg;
    layout.outline.scale = 1;
    return layout.outline;
}

START_TEST(drawn_backward_or_in_more_pieces_changes_nothing) {
    int compared = 0;
    for (unsigned seed = 0; seed < SEEDS; seed++) {
        bw_curve *edge;
        outlines_make(&piece, seed);
        ck_assert_int_eq(bw_curve_create(&piece.outline, NULL, &edge), BW_OK);
        /* a rectangle's and a fitted curve's arcs do not all come back from numbers with 17 digits */
        for (int way = 1; way < 4 && drawn(&piece.outline) && bw_curve_pieces(edge) < 400; way++) {
            char *svg = write_edge(edge, false, false), *again = write_edge(edge, way & 1, way & 2), what[80];
            bw_outline first = path_of(svg), second = path_of(again);
            bw_plan *one = plan_of(&one_sample, &first, seed), *other = plan_of(&other_sample, &second, seed);
            snprintf(what, sizeof what, "%s %u%s%s", piece.kind, seed, way & 1 ? " backward" : "",
                     way & 2 ? " in pieces" : "");
            alike_plans(what, one, other, exact);
            bw_plan_destroy(one);
            bw_plan_destroy(other);
            free(svg);
            free(again);
            compared++;
        }
        bw_curve_destroy(edge);
    }
    ck_assert_int_gt(compared, SEEDS);
}
END_TEST

/* Corners from the last to the first, the start kept; and points on straights that are no corners. */
START_TEST(polygons_named_otherwise) {
    static bw_corner corners[3 * OUTLINES_CORNERS];
    int compared = 0;
    for (unsigned seed = 0; seed < SEEDS; seed++) {
        outlines_make(&piece, seed);
        size_t count = piece.outline.corner_count;
        if (piece.outline.shape != BW_POLYGON)
            continue;
        bw_plan *one = plan_of(&one_sample, &piece.outline, seed);
        for (int way = 0; way < 2; way++) {
            bw_outline second = piece.outline;
            second.corners = corners;
            second.corner_count = 0;
            for (size_t i = 0; i < count; i++) {
                bw_corner a = piece.corners[way == 0 ? (count - i) % count : i], b = piece.corners[(i + 1) % count];
                corners[second.corner_count++] = a;
                if (way == 1)
                    corners[second.corner_count++] = (bw_corner){(a.x + b.x) / 2, (a.y + b.y) / 2, 0};
            }
            bw_plan *other = plan_of(&other_sample, &second, seed);
            char what[80];
            snprintf(what, sizeof what, "%s %u %s", piece.kind, seed, way == 0 ? "backward" : "with more points");
            alike_plans(what, one, other, exact);
            bw_plan_destroy(other);
            compared++;
        }
        bw_plan_destroy(one);
    }
    ck_assert_int_gt(compared, SEEDS / 2);
}
END_TEST

/* Border stamps and stitches whatever the run; a weave only where it goes round, as on a run with ends an even number
 * of impressions has its other row first from the other end. */
static bool can_mirror(const bw_plan *plan, size_t band) {
    bool round = true;
    for (size_t i = 0; i < plan->bands[band].run_count; i++)
        round = round && plan->bands[band].runs[i].closed;
    return plan->bands[band].fill != BW_FILL_BASKET || round;
}

/* Returns the impressions compared. */
static size_t compare_mirrored(const char *what, const bw_plan *one, const bw_plan *other, bw_point at, double heading,
                               double off) {
    size_t compared = 0;
    for (size_t band = 0; band < one->band_count; band++) {
        bw_placing *placings, *images;
        size_t count, image_count;
        if (!can_mirror(one, band))
            continue;
        ck_assert_int_eq(bw_placings_create(one, band, NULL, &placings, &count), BW_OK);
        ck_assert_int_eq(bw_placings_create(other, band, NULL, &images, &image_count), BW_OK);
        ck_assert_msg(count == image_count, "%s, band %zu: %zu and %zu impressions", what, band, count, image_count);
        /* a hole in a corner is turned with what follows */
        bool turned = one->bands[band].fill != BW_FILL_STITCH;
        alike_mirrored(what, placings, images, count, at, heading, off, turned);
        bw_placings_release(placings, NULL);
        bw_placings_release(images, NULL);
        compared += count;
    }
    return compared;
}

START_TEST(mirrored_pieces_are_struck_mirrored) {
    size_t compared = 0;
    for (unsigned seed = 0; seed < SEEDS; seed++) {
        outlines_lie lie = {0, {0, 0}, false}, image = {0, {0, 0}, true};
        outlines_make_lying(&piece, seed, &lie);
        outlines_make_lying(&other_piece, seed, &image);
        if (!drawn(&piece.outline))
            continue;
        unsigned mode = seed * 2; /* a weave that is straight */
        bw_plan *one = plan_of(&one_sample, &piece.outline, mode);
        bw_plan *other = plan_of(&other_sample, &other_piece.outline, mode);
        char what[80];
        snprintf(what, sizeof what, "%s %u mirrored", piece.kind, seed);
        double off = within(&piece.outline).length == exact.length ? 1e-6 : 2e-3;
        compared += compare_mirrored(what, one, other, (bw_point){0, 0}, 0, off);
        bw_plan_destroy(one);
        bw_plan_destroy(other);
    }
    ck_assert_uint_gt(compared, 100 * SEEDS);
}
END_TEST

/* Shapes that are their own image in the line through their start, upright. */
START_TEST(symmetric_pieces_are_struck_symmetrically) {
    for (unsigned mode = 0; mode < 6; mode++) {
        bw_layout layout;
        bw_layout_init(&layout);
        bw_outline *o = &layout.outline;
        static const bw_shape shapes[] = {BW_ELLIPSE, BW_RECTANGLE, BW_RECTANGLE, BW_STRAP, BW_STRAP, BW_CIRCLE};
        o->shape = shapes[_i];
        o->diameter = 91.3;
        o->length = 163.7;
        o->width = 88.9;
        for (int i = 0; i < 4; i++)
            o->corner[i] = _i == 1 ? 14 : 0;
        o->start.kind = o->end.kind = _i == 3 ? BW_END_ROUND : BW_END_POINT;
        o->start.point = o->end.point = 41;
        bw_plan *one = plan_of(&one_sample, o, 2 * mode), *other = plan_of(&other_sample, o, 2 * mode);
        bw_point start = bw_curve_at(one->edge, 0).at;
        char what[80];
        snprintf(what, sizeof what, "symmetric shape %d, mode %u", _i, mode);
        ck_assert_uint_gt(compare_mirrored(what, one, other, start, BW_PI / 2, 1e-5), 200);
        bw_plan_destroy(one);
        bw_plan_destroy(other);
    }
}
END_TEST

/* A polygon of 10,000 sides has the circle's plan, all but the least radius. `lose` asks what is a straight or where
 * the anchors are, which is not the same: only `even` and `last`. A window holds one corner more or less, 6.3e-4
 * radians. */
static bw_plan *plan_round(sample *s, const bw_outline *outline, int mode) {
    sample_circle(s, 100);
    s->layout.outline = *outline;
    sample_border(s, 2, 3, 5.2, 2.6);
    sample_basket(s, 0.5, 13, 9.5, 6.4, 4.1, 1.75)->lay = mode % 2 == 0 ? BW_LAY_STRAIGHT : BW_LAY_ANGLED;
    sample_stitch(s, 1, 3);
    for (size_t i = 0; i < s->layout.band_count; i++) {
        s->bands[i].lose = mode < 2 ? BW_LOSE_EVEN : BW_LOSE_LAST;
        s->bands[i].lose_last = 9;
    }
    return sample_plan(s);
}

START_TEST(ten_thousand_sides_are_a_circle) {
    enum { SIDES = 10000 };
    static bw_corner corners[SIDES];
    static const double diameters[] = {66, 91.3, 140, 203.7, 333};
    for (int mode = 0; mode < 4; mode++) {
        double diameter = diameters[_i];
        bw_layout layout;
        bw_layout_init(&layout);
        layout.outline.diameter = diameter;
        bw_outline polygon = layout.outline;
        polygon.shape = BW_POLYGON;
        polygon.corners = corners;
        polygon.corner_count = SIDES;
        for (int i = 0; i < SIDES; i++) {
            double turn = 2 * BW_PI * i / SIDES - BW_PI / 2;
            corners[i] = (bw_corner){diameter / 2 * cos(turn), diameter / 2 * sin(turn), 0};
        }
        bw_plan *one = plan_round(&one_sample, &layout.outline, mode),
                *other = plan_round(&other_sample, &polygon, mode);
        char what[80];
        snprintf(what, sizeof what, "circle of %g, mode %u", diameter, mode);
        alike_plans(what, one, other, (alike_within){1e-3, 2e-3, false, 2 * BW_PI / SIDES});
        bw_plan_destroy(one);
        bw_plan_destroy(other);
    }
}
END_TEST

Suite *maths_outlines_suite(void) {
    Suite *suite = suite_create("maths/outlines");
    TCase *tests = tcase_create("outlines");
    tcase_set_timeout(tests, 120);
    tcase_add_test(tests, lying_elsewhere_changes_nothing);
    tcase_add_test(tests, drawn_backward_or_in_more_pieces_changes_nothing);
    tcase_add_test(tests, polygons_named_otherwise);
    tcase_add_test(tests, mirrored_pieces_are_struck_mirrored);
    tcase_add_loop_test(tests, symmetric_pieces_are_struck_symmetrically, 0, 6);
    tcase_add_loop_test(tests, ten_thousand_sides_are_a_circle, 0, 5);
    suite_add_tcase(suite, tests);
    return suite;
}
