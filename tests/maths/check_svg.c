/* check_svg.c - SVG path data: every command, every way of writing a number, and every error at its byte.
 *
 * What a text means is the grammar of SVG 1.1, 8.3.9, and of SVG 2, 9.3.9 (both from memory). Every text is held
 * against another one that says the same at length.
 */
#include <check.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "maths/shapes.h"

Suite *maths_svg_suite(void);

static const struct {
    const char *text, *same;
} alike[] = {
    /* numbers */
    {"M10-5.5.5.5L-5 1e1", "M 10 -5.5 L 0.5 0.5 L -5 10"},
    {"M1e2 1E+1L+.5-.5 1.e1 2.", "M100 10L.5 -.5L10 2"},
    {"M0 0L12345678901234567890e-18 0.000000000000000000000001e25", "M0 0L12.34567890123456789 10"},
    {"M0 0L100000e-3 .0001e4", "M0 0L100 1"},
    {"M00 -0L010 007", "M0 0L10 7"},
    {"M0 0L0e999999999999 1e-999999999 5 5", "M0 0L0 0L5 5"},
    {"M 0.1 0.2 L 0.3 0.7", "M 1e-1 2e-1 L 3e-1 7e-1"},
    /* what stands between */
    {" \t\r\n\fM\n0 , 0\tL\r10 ,5 \n", "M0 0L10 5"},
    {"M0 0 10 0 10 10 5 20", "M0 0L10 0L10 10L5 20"},
    {"m5 5 10 0 0 10z", "M5 5L15 5L15 15Z"},
    {"M0 0h10v10h-10z", "M0 0H10V10H0Z"},
    {"M0 0h10 5.3.2v4 4", "M0 0L10 0L15.3 0L15.5 0L15.5 4L15.5 8"},
    {"M3 4l10 0 0 10L40 50l-5-5", "M3 4L13 4L13 14L40 50L35 45"},
    /* curves */
    {"M0 0c10-20 30-20 40 0s20 30 50 10", "M0 0C10-20 30-20 40 0C50 20 60 30 90 10"},
    {"M0 0C10-20 30-20 40 0S60 30 90 10 120-30 150 0", "M0 0C10-20 30-20 40 0C50 20 60 30 90 10C120-10 120-30 150 0"},
    {"M0 0S20 30 50 10", "M0 0C0 0 20 30 50 10"},
    {"M0 0Q10-20 0 5S20 30 50 10", "M0 0Q10-20 0 5C0 5 20 30 50 10"}, /* no cubic before: no reflection */
    {"M0 0Q30 60 90 0", "M0 0C20 40 50 40 90 0"},
    {"M0 0q30 60 90 0t60 10", "M0 0Q30 60 90 0Q150-60 150 10"},
    {"M0 0Q30 60 90 0T150 10 210-5", "M0 0Q30 60 90 0Q150-60 150 10Q150 80 210-5"},
    {"M0 0T30 60", "M0 0L30 60"},
    {"M0 0C10-20 30-20 40 0T80 20", "M0 0C10-20 30-20 40 0L80 20"},
    {"M0 0q30 60 90 0l5 5t10 0", "M0 0Q30 60 90 0L95 5L105 5"},
    /* arcs */
    {"M0 0a20 10 30 0 1 25 5", "M0 0A20 10 30 0 1 25 5"},
    {"M5 5a20 10 30 0125 5", "M5 5A20,10,30,0,1,30,10"},
    {"M0 0a20 10 30 01.5.5", "M0 0A20 10 30 0 1 .5 .5"},
    {"M0 0a20 10 30 11-5-5", "M0 0A20 10 30 1 1 -5 -5"},
    {"M0 0A20-10 30 0 1 25 5", "M0 0A20 10 30 0 1 25 5"},
    {"M0 0A20 10 390 0 1 25 5", "M0 0A20 10 30 0 1 25 5"},
    {"M0 0A20 10 30 0 1 25 5 40 40 0 00 50 5", "M0 0A20 10 30 0 1 25 5A40 40 0 0 0 50 5"},
    /* ends that meet */
    {"M0 0L50 0 50 40 0.006 0.005", "M0 0L50 0L50 40Z"},
    {"M0 0L50 0 50 40 0.006 0.005Z", "M0 0L50 0L50 40Z"},
    {"M0 0L50 0C80 0 50 40 0 0.009", "M0 0L50 0C80 0 50 40 0 0Z"},
    {"M0 0L50 0 50 40 0 0 0 0", "M0 0L50 0L50 40Z"},
};

START_TEST(texts_that_say_the_same_make_the_same) {
    bw_curve *a = shape_path(alike[_i].text, 1), *b = shape_path(alike[_i].same, 1);
    double length = bw_curve_length(b);
    ck_assert_int_eq(bw_curve_closed(a), bw_curve_closed(b));
    ck_assert_double_eq_tol(bw_curve_length(a), length, 1e-9);
    for (int i = 0; i <= 40; i++) {
        bw_spot p = bw_curve_at(a, length * (i + 0.3) / 41), q = bw_curve_at(b, length * (i + 0.3) / 41);
        ck_assert_msg(hypot(p.at.x - q.at.x, p.at.y - q.at.y) < 1e-8, "%s at %d", alike[_i].text, i);
    }
    bw_curve_destroy(a);
    bw_curve_destroy(b);
}
END_TEST

static const struct {
    const char *text;
    size_t byte;
    const char *says; /* part of the sentence */
} wrong[] = {
    {"", 0, "no path data"},
    {"  \n", 3, "no path data"},
    {"L0 0", 0, "begins with M"},
    {"  10 10", 2, "begins with M"},
    {"M", 1, "number"},
    {"M10", 3, "number"},
    {"M,10 10", 1, "number"},
    {"M10,,10", 4, "number"},
    {"M10 10,", 7, "number"},
    {"M10 10L", 7, "number"},
    {"M10 10L5", 8, "number"},
    {"M10 10 5", 8, "number"},
    {"M10 10L,5 5", 7, "number"},
    {"M1.5.5.25L1 1", 9, "number"},
    {"M0 0L5 .", 8, "number"},
    {"M0 0L5 -L1", 8, "number"},
    {"M0 0L5 --1", 8, "number"},
    {"M0 0L5 e5", 7, "number"},
    {"M0 0L5 5e", 8, "command"},
    {"M0 0L5 5e+", 8, "command"},
    {"M0 0L0x10 5", 6, "number"},
    {"M0 0Lnan 5", 5, "number"},
    {"M0 0Linf 5", 5, "number"},
    {"M0 0L1e999 5", 5, "too large"},
    {"M0,0L1e400e-400", 5, "too large"},
    {"M0 0X5 5", 4, "command"},
    {"M0 0L5 5\xc3\xa9", 8, "command"},
    {"M0 0R5 5", 4, "command"},
    {"M0 0L5 5#", 8, "command"},
    {"M0 0C1 1 2 2 3", 14, "number"},
    {"M0 0A5 5 0 2 1 9 9", 11, "flag"},
    {"M0 0A5 5 0 0 -1 9 9", 13, "flag"},
    {"M0 0A5 5 0 0", 12, "flag"},
    {"M0 0A5 5 0 01", 13, "number"},
    {"M0 0A1e99 5 0 01 5 5", 8, "too large"},
    {"M0 0L5 5M9 9", 8, "second M"},
    {"M0 0M9 9", 4, "second M"},
    {"M0 0L5 5 5 0z m 9 9", 14, "follow Z"},
    {"M0 0L10 0 10 10zZ", 16, "follow Z"},
    {"M0 0L5 5 5 0zL9 9", 13, "follow Z"},
    {"M0 0L5 5 5 0z5", 13, "follow Z"},
    {"M0 0L5 100001", 12, "too far"},
    {"M0 0l99999 0 2 0", 13, "too far"},
    {"M0 0L1,5 2,5,", 13, "number"},
    {"M122 3A1.28e-07 12.75 0 0 0 -0.88 2.9999998749999999 Z", 52, "too far off"}, /* radii grow to reach: F.6.6 */
    {"M0 0Q90000 0 0 9T90000 0T0 0", 25, "too far away"},
    {"M0 0A1e5 9e4 0 1 1 9 9", 22, "too far off"},
};

START_TEST(errors_are_told_at_their_byte) {
    bw_outline o = shape_of(BW_PATH);
    bw_outline_fault fault;
    o.svg = wrong[_i].text;
    o.scale = 1;
    ck_assert_int_eq(bw_outline_check(&o, NULL, &fault), BW_BAD_VALUE);
    ck_assert_int_eq(fault.what, BW_TROUBLE_SVG);
    ck_assert_msg(fault.item == wrong[_i].byte, "'%s': byte %zu, not %zu", wrong[_i].text, fault.item, wrong[_i].byte);
    ck_assert_msg(strstr(fault.why, wrong[_i].says) != NULL, "'%s': %s", wrong[_i].text, fault.why);
}
END_TEST

/* Not only at its end: a text that stops anywhere makes a path or an error, never a crash. */
START_TEST(cut_texts_are_errors_or_paths) {
    const char *text = "M0 0h10.5v-.5e1c1 2 3 4 5.5 6s1 2 3 4q1 2 3 4t5 6a20 10 30 01.5.5L1e2-3Z";
    char cut[100];
    int errors = 0, paths = 0;
    for (size_t n = 0; n <= strlen(text); n++) {
        bw_outline o = shape_of(BW_PATH);
        bw_outline_fault fault;
        memcpy(cut, text, n);
        cut[n] = '\0';
        o.svg = cut;
        o.scale = 1;
        if (bw_outline_check(&o, NULL, &fault) == BW_OK) {
            paths++;
        } else if (fault.what == BW_TROUBLE_SVG) {
            ck_assert(fault.item == n || cut[fault.item] == 'e');
            errors++;
        }
    }
    ck_assert_int_gt(errors, 25);
    ck_assert_int_gt(paths, 10);
}
END_TEST

START_TEST(nothing_to_walk_along) {
    const char *const texts[] = {"M5 5", "M5 5Z", "M5 5L5 5Z", "M5 5l0 0 0 0c0 0 0 0 0 0", "M0 0L0.004 0.004"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        bw_outline o = shape_of(BW_PATH);
        bw_outline_fault fault;
        o.svg = texts[i];
        o.scale = 1;
        ck_assert_int_eq(bw_outline_check(&o, NULL, &fault), BW_BAD_VALUE);
        ck_assert_msg(fault.what == BW_TROUBLE_FEW, "%s: %d", texts[i], (int)fault.what);
    }
}
END_TEST

/* Bends without end are refused before they take all memory, at the bend that is too much. */
START_TEST(more_arcs_than_may_be) {
    enum { BENDS = 20000 };
    static const char bend[] = "c25 45 25-45 50 0c-25 45-25-45-50 0";
    char *text = malloc(8 + BENDS * sizeof bend);
    ck_assert_ptr_nonnull(text);
    size_t length = (size_t)sprintf(text, "M0 0");
    for (int i = 0; i < BENDS; i++) {
        memcpy(text + length, bend, sizeof bend);
        length += sizeof bend - 1;
    }
    bw_outline o = shape_of(BW_PATH);
    bw_outline_fault fault;
    o.svg = text;
    o.scale = 1;
    ck_assert_int_eq(bw_outline_check(&o, NULL, &fault), BW_BAD_VALUE);
    ck_assert_int_eq(fault.what, BW_TROUBLE_SVG);
    ck_assert_msg(strstr(fault.why, "too detailed") != NULL && strstr(fault.why, "500000") != NULL, "%s", fault.why);
    ck_assert_uint_gt(fault.item, 100 * sizeof bend); /* two hundred bends are no more than a drawing may have */
    ck_assert_uint_lt(fault.item, length);
    free(text);
}
END_TEST

START_TEST(paths_are_turned_over_scaled_and_open_unless_closed) {
    bw_curve *open = shape_path("M10 20L40 20 40 60", 2), *near = shape_path("M0 0H50V40L0 0.011", 1);
    bw_spot begin = bw_curve_at(open, 0), end = bw_curve_at(open, 1e9);
    ck_assert(!bw_curve_closed(open));
    ck_assert_double_eq_tol(begin.at.x, 20, 1e-12);
    ck_assert_double_eq_tol(begin.at.y, -40, 1e-12);
    ck_assert_double_eq_tol(end.at.x, 80, 1e-12);
    ck_assert_double_eq_tol(end.at.y, -120, 1e-12);
    ck_assert_double_eq_tol(bw_curve_turning(open), -BW_PI / 2, 1e-12);
    ck_assert(!bw_curve_closed(near)); /* 0.01 mm is near enough, 0.011 is not */
    bw_curve_destroy(open);
    bw_curve_destroy(near);
}
END_TEST

START_TEST(clockwise_paths_are_walked_the_other_way) {
    const char *const both[][2] = {
        {"M10 0H60V40H10Z", "M10 0V40H60V0Z"},
        {"M0 0C40-30 80 30 120 0S150 120 60 90-20 40 0 0Z", "M0 0C-20 40-30 60 60 90S160-30 120 0 40-30 0 0Z"},
        {"M0 0A40 30 10 1 1 20 50Z", "M0 0L20 50A40 30 10 1 0 0 0Z"},
    };
    for (int i = 0; i < 3; i++) {
        bw_curve *a = shape_path(both[i][0], 1), *b = shape_path(both[i][1], 1);
        bw_spot p = bw_curve_at(a, 0), q = bw_curve_at(b, 0);
        ck_assert_double_gt(bw_curve_area(a), 0);
        ck_assert_double_gt(bw_curve_area(b), 0);
        ck_assert_double_eq_tol(hypot(p.at.x - q.at.x, p.at.y - q.at.y), 0, 1e-9);
        ck_assert_double_eq_tol(bw_curve_area(a), bw_curve_area(b), 1e-4);
        ck_assert_double_eq_tol(bw_curve_length(a), bw_curve_length(b), 1e-6);
        ck_assert_double_eq_tol(bw_curve_turning(a), 2 * BW_PI, 1e-9);
        bw_curve_destroy(a);
        bw_curve_destroy(b);
    }
}
END_TEST

START_TEST(numbers_know_no_locale) {
    ck_assert_ptr_nonnull(setlocale(LC_ALL, "de_DE.UTF-8"));
    bw_curve *curve = shape_path("M0 0H10.5", 1);
    setlocale(LC_ALL, "C");
    ck_assert_double_eq_tol(bw_curve_length(curve), 10.5, 1e-12);
    bw_curve_destroy(curve);
}
END_TEST

Suite *maths_svg_suite(void) {
    Suite *suite = suite_create("maths: path data");
    TCase *tc = tcase_create("path data");
    tcase_add_loop_test(tc, texts_that_say_the_same_make_the_same, 0, sizeof alike / sizeof *alike);
    tcase_add_loop_test(tc, errors_are_told_at_their_byte, 0, sizeof wrong / sizeof *wrong);
    tcase_add_test(tc, cut_texts_are_errors_or_paths);
    tcase_add_test(tc, nothing_to_walk_along);
    tcase_add_test(tc, more_arcs_than_may_be);
    tcase_add_test(tc, paths_are_turned_over_scaled_and_open_unless_closed);
    tcase_add_test(tc, clockwise_paths_are_walked_the_other_way);
    tcase_add_test(tc, numbers_know_no_locale);
    suite_add_tcase(suite, tc);
    return suite;
}
