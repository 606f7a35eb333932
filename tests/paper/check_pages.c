/* check_pages.c - pages that are whole or not written at all, small though the edge has thousands of pieces.
 *
 * An oval is an ellipse, x = a cos t, y = b sin t (any geometry). 0.1 mm is what a ruler tells.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "bandwright/base.h"
#include "desk/desk.h"
#include "paper/raster.h"
#include "paper/template.h"
#include "shop/alloc.h"
#include "verbs/spawn.h"

Suite *paper_pages_suite(void);

#define BANDS                                                                                                          \
    "bands:\n"                                                                                                         \
    "  - {name: rim, space: 4, width: 5, fill: border, tool: s}\n"                                                     \
    "  - {name: weave, space: 3, width: 21, fill: basket, tool: b, outer: {line: cut}}\n"                              \
    "tools:\n"                                                                                                         \
    "  - {id: b, kind: basket, length: 9.5, width: 6.4, bar: 3.1, rail: 1.6}\n"                                        \
    "  - {id: s, kind: border, length: 5.2, width: 5.0}\n"

static void write_piece(const char *outline, const char *rest) {
    char yaml[1200];
    snprintf(yaml, sizeof yaml, "bandwright-project: 1\npiece: P\noutline: %s\n%s", outline, rest);
    spawn_write("p.yaml", yaml, strlen(yaml));
}

static void place_of(const char *name, char path[700]) {
    snprintf(path, 700, "%s", spawn("printf %%s \"$PWD\"/%s", name)->out);
}

static desk *open_piece(void) {
    char path[700];
    shop_problems problems;
    shop_status status;
    place_of("p.yaml", path);
    shop_problems_init(&problems, path);
    desk *d = desk_open(path, "", &problems, &status);
    ck_assert_ptr_nonnull(d);
    shop_problems_free(&problems);
    return d;
}

/* Whatever runs out, nothing is written, it is said, and nothing leaks. */
static void check_memory(const char *name, int least) {
    char path[700], reason[160];
    shop_problems problems;
    struct stat there;
    place_of(name, path);
    desk *d = open_piece();
    paper_asked asked = {.impressions = true};
    ck_assert(paper_size_of("a4", SHOP_MM, &asked.paper, reason));
    int refused = 0;
    for (bool whole = false; !whole; refused++) {
        ck_assert_int_lt(refused, 500);
        shop_problems_init(&problems, path);
        shop_alloc_fail_at(refused);
        shop_status status = paper_template(desk_project(d), desk_plan(d), &asked, path, NULL, &problems);
        shop_alloc_fail_at(-1);
        whole = status == SHOP_OK;
        ck_assert_int_eq(stat(path, &there) == 0, whole);
        ck_assert(whole || status == SHOP_NO_MEMORY || status == SHOP_CANNOT_WRITE);
        shop_problems_free(&problems);
    }
    ck_assert_int_gt(refused, least);
    desk_close(d);
}

START_TEST(memory_that_runs_out) {
    write_piece("{shape: circle, diameter: 60}", BANDS);
    check_memory("out.pdf", 30);
}
END_TEST

static long size_of(const char *name) {
    return atol(spawn("wc -c < %s", name)->out);
}

/* An oval's parallels are thousands of small arcs; a page draws as many curves as the eye needs. */
START_TEST(an_oval_takes_little_room) {
    write_piece("{shape: ellipse, length: 210, width: 150}", BANDS);
    ck_assert_int_eq(spawn("$BW template p.yaml -o p.pdf --impressions")->status, 0);
    ck_assert_int_lt(size_of("p.pdf"), 200000);
}
END_TEST

/* The edge, the only line, met by rays from the middle of the page's own ellipse. */
START_TEST(an_oval_is_drawn_where_it_lies) {
    enum { RAYS = 240 };
    char path[700];
    double a = 80, b = 50, left = INFINITY, right = 0, top = INFINITY;
    write_piece("{shape: ellipse, length: 160, width: 100}", "bands: []\n");
    ck_assert_int_eq(spawn("$BW template p.yaml -o p.pdf")->status, 0);
    place_of("p.pdf", path);
    raster r = raster_page(path, atoi(spawn("pdfinfo p.pdf | sed -n 's/^Pages: *//p'")->out), 300, 10, 18, 180, 250);
    double step = 1 / r.per_mm;
    for (double y = r.top; y < r.top + r.height * step; y += step)
        for (double x = r.left; x < r.left + r.width * step; x += step)
            if (raster_dark(&r, x, y)) {
                left = fmin(left, x);
                right = fmax(right, x);
                top = fmin(top, y);
            }
    int good = 0;
    for (int i = 0; i < RAYS; i++) { /* START stands below; the line is 0.45 mm thick */
        double turn = 2 * BW_PI * (i + 0.5) / RAYS, middle, wide;
        double radius = a * b / hypot(b * cos(turn), a * sin(turn));
        good += raster_run(&r, (left + right) / 2, top + 0.225 + b, turn, radius - 1, radius + 1, &middle, &wide) &&
                wide < 0.7 && fabs(middle - radius) < 0.1;
    }
    ck_assert_msg(good >= RAYS * 95 / 100, "%d of %d rays meet the edge", good, RAYS);
    raster_free(&r);
}
END_TEST

START_TEST(sheets_of_an_earlier_template_are_named) {
    write_piece("{shape: circle, diameter: 330}", "bands: []\n");
    ck_assert_ptr_null(strstr(spawn("$BW template p.yaml -o p.svg")->out, "earlier"));
    const spawned *run = spawn("$BW template p.yaml -o p.svg --paper 500x500");
    ck_assert_str_eq(run->out, "written: p-1.svg to p-2.svg, one file a page; p-3.svg to p-5.svg are of an earlier "
                               "drawing: do not use them\n");
}
END_TEST

/* A folder in a sheet's place cannot be written over. */
START_TEST(a_sheet_that_cannot_be_written_is_named) {
    write_piece("{shape: circle, diameter: 60}", "bands: []\n");
    const spawned *run = spawn("mkdir p-2.svg; $BW template p.yaml -o p.svg; rc=$?; ls p-1.svg; exit $rc");
    ck_assert_int_eq(run->status, SHOP_CANNOT_MAKE);
    ck_assert_ptr_nonnull(strstr(run->err, "p-2.svg: error:"));
    ck_assert_ptr_nonnull(strstr(run->err, "p-1.svg is written, the other pages are not"));
    ck_assert_ptr_nonnull(strstr(run->out, "p-1.svg"));
}
END_TEST

/* On a disc of 70 mm radius in the middle of the page, lines from the edge inward at 4, 6.5, 9, 12, 22.5 and 33 mm. */
START_TEST(what_a_label_covers_is_counted) {
    write_piece("{shape: circle, diameter: 140}", BANDS);
    desk *d = open_piece();
    paper_frame frame = {.project = desk_project(d), .plan = desk_plan(d)};
    cairo_matrix_t m;
    cairo_matrix_init(&m, 1, 0, 0, -1, 100, 100); /* the disc's middle lies at its origin */
    bw_box box = bw_curve_box(desk_plan(d)->edge);
    m.x0 -= (box.left + box.right) / 2;
    m.y0 += (box.top + box.bottom) / 2;
    paper_depths *depths = paper_depths_create(&frame, &m, (paper_rect){0, 0, 200, 200});
    ck_assert_ptr_nonnull(depths);
    for (int turn = 0; turn < 4; turn++) {
        double x = turn % 2 == 0 ? (turn == 0 ? 1 : -1) : 0, y = turn % 2 == 1 ? (turn == 1 ? 1 : -1) : 0;
        double in = 70 - 2, on = 70, deep = 70 - 9;
        paper_rect at_in = {100 + x * in - 0.5, 100 + y * in - 0.5, 1, 1};
        paper_rect at_on = {100 + x * on - 0.5, 100 + y * on - 0.5, 1, 1};
        paper_rect at_line = {100 + x * deep - 0.5, 100 + y * deep - 0.5, 1, 1};
        ck_assert_int_eq(paper_crossed(depths, at_in), 0);
        ck_assert_int_eq(paper_crossed(depths, at_on), 6);
        ck_assert_int_eq(paper_crossed(depths, at_line), 2);
    }
    paper_depths_free(depths);
    desk_close(d);
}
END_TEST

/* A5 is 148 x 210 mm (ISO 216); a sheet of a book's size needs its legend whole, too. */
START_TEST(small_sheets_say_all_of_the_legend) {
    write_piece("{shape: circle, diameter: 140}", BANDS);
    ck_assert_int_eq(spawn("$BW template p.yaml -o p.pdf --paper %s --impressions", _i ? "150x210" : "a5")->status, 0);
    ck_assert_ptr_null(strstr(spawn("pdftotext -layout p.pdf -")->out, "..."));
    ck_assert_ptr_nonnull(strstr(spawn("pdftotext -l 1 p.pdf -")->out, "border, no line"));
    if (_i == 0) {
        double wide, high;
        ck_assert_int_eq(sscanf(spawn("pdfinfo p.pdf | grep 'Page size'")->out, "Page size: %lf x %lf", &wide, &high),
                         2);
        ck_assert_double_eq_tol(fmin(wide, high), 148 / 25.4 * 72, 0.01);
        ck_assert_double_eq_tol(fmax(wide, high), 210 / 25.4 * 72, 0.01);
    }
}
END_TEST

START_TEST(endings_of_names) {
    ck_assert(paper_ends_in("a.b/c.TXT", ".txt"));
    ck_assert(!paper_ends_in("dir.txt/name", ".txt"));
    ck_assert(!paper_ends_in(".txt", ".txt"));
    ck_assert(!paper_ends_in("x.txt/.txt", ".txt"));
    write_piece("{shape: circle, diameter: 140}", BANDS);
    ck_assert_int_eq(spawn("$BW card p.yaml -o card.TXT")->status, 0);
}
END_TEST

Suite *paper_pages_suite(void) {
    Suite *suite = suite_create("paper/pages");
    TCase *tc = tcase_create("whole");
    tcase_set_timeout(tc, 120);
    tcase_add_checked_fixture(tc, spawn_begin, spawn_end);
    tcase_add_test(tc, memory_that_runs_out);
    tcase_add_test(tc, an_oval_takes_little_room);
    tcase_add_test(tc, an_oval_is_drawn_where_it_lies);
    tcase_add_test(tc, sheets_of_an_earlier_template_are_named);
    tcase_add_test(tc, a_sheet_that_cannot_be_written_is_named);
    tcase_add_test(tc, what_a_label_covers_is_counted);
    tcase_add_loop_test(tc, small_sheets_say_all_of_the_legend, 0, 2);
    tcase_add_test(tc, endings_of_names);
    suite_add_tcase(suite, tc);
    return suite;
}
