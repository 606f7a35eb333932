/* check_circles.c - dividing a circle, segments of one, and lengths of parallels, against published values.
 *
 * Every row names its source; none is computed by the code that it checks. A published figure is right to half a unit
 * of its last digit, and that is the tolerance.
 */
#include <check.h>
#include <math.h>
#include <string.h>

#include "bandwright/bandwright.h"
#include "maths/sample.h"

Suite *published_circles_suite(void);

#define NEAR(value, wanted, tolerance, source)                                                                         \
    ck_assert_msg(fabs((value) - (wanted)) <= (tolerance), "%.9g instead of %.9g: %s", (double)(value),                \
                  (double)(wanted), source)

/* ---- chords ---- */

static const struct {
    double diameter;
    int count;
    double chord, tolerance;
    const char *source;
} chords[] = {
#define TABLE "table of chords for spacing off the circumference, diameter 1, as in Machinery's Handbook"
    {1, 3, 0.86603, 5e-6, TABLE},
    {1, 5, 0.58779, 5e-6, TABLE},
    {1, 7, 0.43388, 5e-6, TABLE},
    {1, 8, 0.38268, 5e-6, TABLE},
    {1, 9, 0.34202, 5e-6, TABLE},
    {1, 11, 0.28173, 5e-6, TABLE},
    {1, 13, 0.23932, 5e-6, TABLE},
    {1, 15, 0.20791, 5e-6, TABLE},
    {1, 20, 0.15643, 5e-6, TABLE},
    {1, 30, 0.10453, 5e-6, TABLE},
    {6, 8, 2.296, 5e-4, "8 holes on a 6 in circle: Machinery's Handbook Guide, section 2, example 2"},
    {38.452, 56, 2.156, 5e-4, "56 divisions: Machinery's Handbook Guide, section 2, example 1"},
};

/* The same rows as check marks: a hole in each part of the line, and a mark for each hole. */
START_TEST(check_marks_of_equal_parts) {
    static sample piece;
    double diameter = chords[_i].diameter * BW_MM_PER_INCH * 10, from_edge = 5, most = 0;
    bw_check_mark marks[60];
    int count = chords[_i].count;
    sample_circle(&piece, diameter + 2 * from_edge);
    sample_stitch(&piece, from_edge, BW_PITCH_MOST)->count = count;
    bw_plan *plan = sample_plan(&piece);
    ck_assert_int_eq(plan->bands[0].runs[0].count, count);
    ck_assert_int_eq(bw_check_marks(plan, 0, 0, count - 1, NULL, marks), BW_OK);
    for (int i = 0; i < count; i++) {
        NEAR(marks[i].across / BW_MM_PER_INCH / 10, chords[_i].chord, chords[_i].tolerance, chords[_i].source);
        NEAR(marks[i].across, bw_chord(diameter, 1, count), 1e-9, "2 R sin(pi / n)");
        most = fmax(most, fabs(marks[i].along - diameter * BW_PI * (i + 1) / count));
    }
    NEAR(most, 0, 1e-9, "an arc is its share of the circumference");
    bw_plan_destroy(plan);
}
END_TEST

START_TEST(chord_of_equal_parts) {
    NEAR(bw_chord(chords[_i].diameter, 1, chords[_i].count), chords[_i].chord, chords[_i].tolerance, chords[_i].source);
}
END_TEST

/* The example asks for the diameter. A chord is in proportion to it. */
START_TEST(diameter_of_56_divisions) {
    NEAR(2.156 / bw_chord(1, 1, 56), 38.452, 6e-4, "Machinery's Handbook Guide, section 2, example 1");
}
END_TEST

START_TEST(chord_over_several_steps) {
    NEAR(bw_chord(1, 4, 20), 0.58779, 5e-6, TABLE); /* four of twenty parts are one of five */
    NEAR(bw_chord(1, 10, 20), 1.0, 1e-12, "half a round is the diameter: plane geometry");
}
END_TEST

/* ---- segments ---- */

START_TEST(radius_from_chord_and_depth) {
    NEAR(bw_diameter_chord(16, 6) / 2, 25.0 / 3, 1e-12, "c = 16, h = 6: Machinery's Handbook, 31st ed., p. 79");
    NEAR(bw_diameter_chord(13.27, 2) / 2, 12, 0.01, "R = 12, depth 2: Machinery's Handbook, 31st ed., p. 50");
}
END_TEST

static bw_curve *edge_of(const bw_outline *outline) {
    bw_curve *edge = NULL;
    ck_assert_int_eq(bw_curve_create(outline, NULL, &edge), BW_OK);
    return edge;
}

/* The same segment as an edge: from one end of the chord to the other. */
START_TEST(chord_and_arc_of_a_segment) {
    bw_layout layout;
    bw_layout_init(&layout);
    layout.outline.shape = BW_ARC;
    layout.outline.radius = 12;
    layout.outline.sweep = 2 * acos(10.0 / 12);
    bw_curve *arc = edge_of(&layout.outline);
    bw_point from = bw_curve_at(arc, 0).at, to = bw_curve_at(arc, bw_curve_length(arc)).at;
    NEAR(hypot(to.x - from.x, to.y - from.y), 13.27, 0.005, "Machinery's Handbook, 31st ed., p. 50");
    NEAR(bw_curve_length(arc), 14.06, 0.005, "Machinery's Handbook, 31st ed., p. 50");
    bw_curve_destroy(arc);
}
END_TEST

START_TEST(diameter_from_circumference) {
    NEAR(bw_diameter_around(22), 7.0028, 5e-4,
         "pi lies between 223/71 and 22/7 (from memory): a round of 22 is a little over 7");
    ck_assert(bw_diameter_around(22) > 7 && bw_diameter_around(223) < 71);
}
END_TEST

/* ---- parallels: Steiner's formula ---- */

static const char steiner[] = "parallel of a convex closed curve: do Carmo, Differential Geometry of Curves and "
                              "Surfaces, 1-7 exercise 6; Gruber, Convex and Discrete Geometry (Steiner's formula)";

static bw_outline convex(int which) {
    bw_layout layout;
    bw_layout_init(&layout);
    bw_outline outline = layout.outline;
    outline.shape = which == 0 ? BW_CIRCLE : BW_RECTANGLE;
    if (which == 0) {
        outline.diameter = 140;
    } else {
        outline.length = 200;
        outline.width = 120;
        for (int i = 0; i < 4; i++) {
            outline.corner[i] = which == 1 ? 30 : 25 + 5 * i;
        }
    }
    return outline;
}

START_TEST(parallel_of_a_convex_edge) {
    bw_outline outline = convex(_i);
    bw_curve *edge = edge_of(&outline);
    double length = bw_curve_length(edge), area = bw_curve_area(edge);
    for (double d = 0.25; d < 24; d += 3.75) {
        bw_curve *parallel = NULL;
        ck_assert_int_eq(bw_curve_offset(edge, d, NULL, &parallel), BW_OK);
        NEAR(bw_curve_length(parallel), length - 2 * BW_PI * d, 1e-9 * length, steiner);
        NEAR(bw_curve_area(parallel), area - length * d + BW_PI * d * d, 1e-9 * area, steiner);
        bw_curve_destroy(parallel);
    }
    bw_curve_destroy(edge);
}
END_TEST

/* A mitred corner that turns by t loses 2 tan(t/2) d: four right angles lose 8 d. Plane geometry. */
START_TEST(parallel_of_a_square_corner) {
    bw_outline outline = convex(1);
    memset(outline.corner, 0, sizeof outline.corner);
    bw_curve *edge = edge_of(&outline), *parallel = NULL;
    ck_assert_int_eq(bw_curve_offset(edge, 12.5, NULL, &parallel), BW_OK);
    NEAR(bw_curve_length(parallel), 2 * (175 + 95), 1e-9, "a rectangle within a rectangle: plane geometry");
    NEAR(bw_curve_area(parallel), 175 * 95, 1e-6, "a rectangle within a rectangle: plane geometry");
    bw_curve_destroy(parallel);
    bw_curve_destroy(edge);
}
END_TEST

/* Check marks: parts of a round differ by at most one. Floor rule of even spreading. */
START_TEST(check_marks_spread_evenly) {
    for (int count = 1; count <= 60; count++) {
        for (int marks = 1; marks <= 8 && marks <= count; marks++) {
            for (int i = 0; i < marks; i++) {
                int next = i + 1 < marks ? bw_mark_at(count, marks, i + 1) : count;
                int part = next - bw_mark_at(count, marks, i);
                ck_assert_msg(part >= count / marks && part <= (count + marks - 1) / marks, "%d over %d, part %d: %d",
                              count, marks, i, part);
            }
        }
    }
    ck_assert_int_eq(bw_mark_at(42, 4, 0), 0);
}
END_TEST

Suite *published_circles_suite(void) {
    Suite *suite = suite_create("published/circles");
    TCase *tests = tcase_create("circles");
    tcase_add_loop_test(tests, chord_of_equal_parts, 0, (int)(sizeof chords / sizeof chords[0]));
    tcase_add_loop_test(tests, check_marks_of_equal_parts, 0, (int)(sizeof chords / sizeof chords[0]));
    tcase_add_test(tests, diameter_of_56_divisions);
    tcase_add_test(tests, chord_over_several_steps);
    tcase_add_test(tests, radius_from_chord_and_depth);
    tcase_add_test(tests, chord_and_arc_of_a_segment);
    tcase_add_test(tests, diameter_from_circumference);
    tcase_add_loop_test(tests, parallel_of_a_convex_edge, 0, 3);
    tcase_add_test(tests, parallel_of_a_square_corner);
    tcase_add_test(tests, check_marks_spread_evenly);
    suite_add_tcase(suite, tests);
    return suite;
}
