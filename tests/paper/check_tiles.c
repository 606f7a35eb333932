/* check_tiles.c - on how few sheets a piece goes, and what is drawn mirrored. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "paper/raster.h"
#include "paper/template.h"
#include "shop/paper.h"

Suite *paper_tiles_suite(void);

static shop_project *project;
static bw_plan *plan;

static paper_frame framed(const char *outline, const char *paper) {
    char yaml[400], reason[160];
    snprintf(yaml, sizeof yaml, "bandwright-project: 1\npiece: P\noutline: %s\nbands: []\n", outline);
    project = paper_project(yaml);
    ck_assert_int_eq(bw_plan_create(&project->layout, NULL, &plan), BW_OK);
    paper_frame frame = {.project = project, .plan = plan};
    ck_assert(paper_size_of(paper, SHOP_MM, &frame.asked.paper, reason));
    return frame;
}

static void leave(paper_tiling *tiling) {
    paper_tiling_free(tiling);
    bw_plan_destroy(plan);
    shop_project_free(project);
}

/* One way of laying sheets, counted anew: every window of the grid that a point of a close walk along the edge falls
 * into. The grid is that of the tiling's own numbers of rows and columns where it is the same way. */
static int least_without_gaps(double length, double width, const paper_size *paper) {
    int least = 1000000;
    for (int lying = 0; lying < 2; lying++) {
        paper_rect w = paper_frame_window(paper, lying == 1);
        for (int turned = 0; turned < 2; turned++) {
            double x = (turned ? width : length) + 4, y = (turned ? length : width) + 4; /* 2 mm left free all round */
            int columns = 1, rows = 1;
            while (columns * w.width - (columns - 1) * PAPER_OVERLAP < x - 1e-9)
                columns++;
            while (rows * w.height - (rows - 1) * PAPER_OVERLAP < y - 1e-9)
                rows++;
            least = rows * columns < least ? rows * columns : least;
        }
    }
    return least;
}

START_TEST(no_more_sheets_than_any_way_of_laying_them) {
    static const double sizes[][2] = {{100, 60},  {176, 250}, {250, 176}, {178, 256}, {254, 160}, {300, 100},
                                      {420, 160}, {160, 420}, {340, 250}, {500, 350}, {700, 120}, {900, 640}};
    paper_tiling tiling;
    char outline[120], reason[160];
    const double *size = sizes[_i];
    snprintf(outline, sizeof outline, "{shape: rectangle, length: %g, width: %g}", size[0], size[1]);
    for (int letter = 0; letter < 2; letter++) {
        paper_frame frame = framed(outline, letter ? "letter" : "a4");
        ck_assert_msg(paper_tiling_find(&frame, &tiling, reason), "%s", reason);
        int without_gaps = least_without_gaps(size[0], size[1], &frame.asked.paper);
        ck_assert_msg(tiling.count <= without_gaps, "%g x %g: %d, %d would do", size[0], size[1], tiling.count,
                      without_gaps);
        if (without_gaps < 9) /* no sheet lies inside without a line on it */
            ck_assert_int_eq(tiling.count, without_gaps);
        leave(&tiling);
    }
}
END_TEST

/* Inside a wide ring nothing is drawn: those sheets are left out, and no point of the edge is on a sheet left out. */
START_TEST(empty_sheets_are_left_out_and_no_other) {
    paper_frame frame = framed("{shape: circle, diameter: 900}", "a4");
    paper_tiling t;
    char reason[160];
    ck_assert_msg(paper_tiling_find(&frame, &t, reason), "%s", reason);
    ck_assert_int_lt(t.count, t.rows * t.columns);
    for (int i = 0; i < 4000; i++) {
        bw_point at = bw_curve_at(plan->edge, bw_curve_length(plan->edge) * i / 4000).at;
        bool seen = false;
        for (int k = 0; k < t.rows * t.columns; k++) {
            const paper_tile *tile = paper_tiling_tile(&t, k / t.columns, k % t.columns);
            if (tile == NULL)
                continue;
            paper_rect window = {0, 0, t.width, t.height};
            cairo_matrix_t m = paper_tiling_matrix(&t, tile, window);
            double x = at.x, y = at.y;
            cairo_matrix_transform_point(&m, &x, &y);
            seen = seen || (x >= 0 && y >= 0 && x <= t.width && y <= t.height);
        }
        ck_assert_msg(seen, "the edge at %g, %g is on no sheet", at.x, at.y);
    }
    leave(&t);
}
END_TEST

START_TEST(too_many_sheets_are_refused) {
    paper_frame frame = framed("{shape: line, length: 99000}", "a4");
    paper_tiling tiling;
    char reason[160] = "";
    ck_assert(!paper_tiling_find(&frame, &tiling, reason));
    ck_assert_ptr_nonnull(strstr(reason, "larger paper"));
    leave(&tiling);
}
END_TEST

START_TEST(sheets_by_name_and_size) {
    static const struct {
        const char *text;
        shop_unit bare;
        double width, height; /* mm; 0: refused */
    } cases[] = {{"a4", SHOP_MM, 210, 297},
                 {"A4", SHOP_INCH, 210, 297},
                 {"Letter", SHOP_MM, 215.9, 279.4},
                 {NULL, SHOP_MM, 210, 297},
                 {"", SHOP_INCH, 215.9, 279.4},
                 {"450x300", SHOP_MM, 300, 450},
                 {"12x18in", SHOP_MM, 304.8, 457.2},
                 {"12 in x 18 in", SHOP_MM, 304.8, 457.2},
                 {"12x18", SHOP_INCH, 304.8, 457.2},
                 {"300 mm x 18 in", SHOP_MM, 300, 457.2},
                 {"a6", SHOP_MM, 0, 0},
                 {"100x300", SHOP_MM, 0, 0},
                 {"300x1501", SHOP_MM, 0, 0},
                 {"300x", SHOP_MM, 0, 0},
                 {"x", SHOP_MM, 0, 0},
                 {"nanx300", SHOP_MM, 0, 0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        paper_size size;
        char reason[160] = "";
        bool good = paper_size_of(cases[i].text, cases[i].bare, &size, reason);
        ck_assert_msg(good == (cases[i].width > 0), "%s: %s", cases[i].text, reason);
        if (good) {
            ck_assert_double_eq_tol(size.width, cases[i].width, 1e-9);
            ck_assert_double_eq_tol(size.height, cases[i].height, 1e-9);
        } else
            ck_assert_str_ne(reason, "");
    }
}
END_TEST

/* What the whole edge leaves on the paper: for points of a piece that is not its own mirror image, is there ink where
 * the picture, or its mirror image about the middle of the window, has them? */
static double ink(bool mirrored, bool looked_for_mirrored) {
    paper_frame frame = framed("{shape: polygon, corners: [[0, 0], [160, 0], [40, 90]]}", "a4");
    char name[] = "/tmp/bandwright-tiles-XXXXXX", file[80], reason[160];
    paper_tiling t;
    shop_problems problems;
    ck_assert_int_ge(mkstemp(name), 0);
    snprintf(file, sizeof file, "%s.pdf", name);
    frame.asked.mirror = mirrored;
    shop_problems_init(&problems, file);
    ck_assert_int_eq(paper_template(project, plan, &frame.asked, file, NULL, &problems), SHOP_OK);
    ck_assert(paper_tiling_find(&frame, &t, reason));
    paper_rect w = paper_frame_window(&frame.asked.paper, t.landscape);
    raster page = raster_page(file, 2, 200, 0, 0, 0, 0);
    int found = 0, count = 400;
    for (int i = 0; i < count; i++) {
        bw_point at = bw_curve_at(plan->edge, bw_curve_length(plan->edge) * i / count).at;
        double x = (looked_for_mirrored ? 80 - at.x : at.x - 80) + w.x + w.width / 2,
               y = w.y + w.height / 2 + 45 - at.y;
        found += raster_dark(&page, x, y) ? 1 : 0;
    }
    raster_free(&page);
    shop_problems_free(&problems);
    remove(file);
    remove(name);
    leave(&t);
    return (double)found / count;
}

START_TEST(a_mirrored_piece_is_its_mirror_image) {
    ck_assert_double_gt(ink(false, false), 0.95);
    ck_assert_double_lt(ink(false, true), 0.6);
    ck_assert_double_gt(ink(true, true), 0.95);
    ck_assert_double_lt(ink(true, false), 0.6);
}
END_TEST

Suite *paper_tiles_suite(void) {
    Suite *suite = suite_create("paper/tiles");
    TCase *tc = tcase_create("tiles");
    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, no_more_sheets_than_any_way_of_laying_them, 0, 12);
    tcase_add_test(tc, empty_sheets_are_left_out_and_no_other);
    tcase_add_test(tc, too_many_sheets_are_refused);
    tcase_add_test(tc, sheets_by_name_and_size);
    tcase_add_test(tc, a_mirrored_piece_is_its_mirror_image);
    suite_add_tcase(suite, tc);
    return suite;
}
