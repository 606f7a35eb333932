/* check_template.c - the template as other programs print it: sizes of pages, scales, radii, joined tiles, fonts.
 *
 * Sources: A4 is 210 x 297 mm (ISO 216); Letter is 8.5 x 11 in (ANSI/ASME Y14.1, size A); a point of PDF is 1/72 in
 * (ISO 32000-1, 8.3.2.3); PNG tells dots a metre in its chunk pHYs (PNG specification, 2nd edition, 11.3.5.3); an inch
 * is 25.4 mm (international yard, 1959). Pages are measured as poppler and librsvg print them. 0.1 mm is what a ruler
 * tells.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/base.h"
#include "paper/raster.h"
#include "verbs/spawn.h"

Suite *paper_template_suite(void);

#define NEAR 0.1 /* mm */

typedef struct sheet {
    const char *paper;
    double width, height; /* mm */
} sheet;

static const sheet sheets[] = {{"a4", 210, 297}, {"letter", 8.5 * 25.4, 11 * 25.4}};
enum { SHEETS = sizeof sheets / sizeof *sheets };

static const char round_lid[] = "bandwright-project: 1\npiece: Lid\noutline: {shape: circle, diameter: 140}\n"
                                "bands:\n"
                                "  - {name: rim, space: 4, width: 5, fill: border, tool: s, outer: {line: cut}, inner: "
                                "{line: scribe}}\n"
                                "  - {name: weave, space: 3, width: 21, fill: basket, tool: b, outer: {line: cut}}\n"
                                "tools:\n"
                                "  - {id: b, kind: basket, length: 9.5, width: 6.4, bar: 3.1, rail: 1.6}\n"
                                "  - {id: s, kind: border, length: 5.2, width: 5.0}\n";

static int line_radii(double radii[5]) {
    /* from the edge inward, by adding up spaces and widths above */
    const double from_edge[] = {4, 6.5, 9, 12, 22.5};
    for (int i = 0; i < 5; i++)
        radii[i] = 70 - from_edge[i];
    return 5;
}

static void make(const char *yaml, const char *options) {
    spawn_write("lid.yaml", yaml, strlen(yaml));
    const spawned *run = spawn("$BW template lid.yaml %s", options);
    ck_assert_msg(run->status == 0, "%s: %d %s", options, run->status, run->err);
}

/* The absolute name of a file of the test's folder. */
static const char *place_of(const char *name) {
    static char path[700];
    const spawned *run = spawn("printf %%s \"$PWD\"/%s", name);
    snprintf(path, sizeof path, "%s", run->out);
    return path;
}

static int pages_of(const char *pdf) {
    return atoi(spawn("pdfinfo '%s' | sed -n 's/^Pages: *//p'", pdf)->out);
}

START_TEST(pages_are_sheets_of_the_standards) {
    char options[80];
    double wide = 0, high = 0;
    snprintf(options, sizeof options, "-o out.pdf --paper %s", sheets[_i].paper);
    make(round_lid, options);
    const spawned *box = spawn("pdfinfo -box -f 1 -l 99 out.pdf | grep MediaBox");
    int pages = 0;
    for (const char *at = strstr(box->out, "MediaBox:"); at; at = strstr(at + 1, "MediaBox:"), pages++) {
        ck_assert_int_eq(sscanf(at, "MediaBox: %*f %*f %lf %lf", &wide, &high), 2);
        double short_side = fmin(wide, high), long_side = fmax(wide, high);
        ck_assert_double_eq_tol(short_side, sheets[_i].width / 25.4 * 72, 0.01);
        ck_assert_double_eq_tol(long_side, sheets[_i].height / 25.4 * 72, 0.01);
    }
    ck_assert_int_ge(pages, 2);
}
END_TEST

START_TEST(fonts_are_in_the_file) {
    make(round_lid, "-o out.pdf");
    const spawned *fonts = spawn("pdffonts out.pdf | tail -n +3 | awk '{print $(NF-4)}'"); /* the column emb */
    ck_assert_str_ne(fonts->out, "");
    for (const char *line = fonts->out; *line; line = strchr(line, '\n') + 1)
        ck_assert_msg(strncmp(line, "yes\n", 4) == 0, "%s", fonts->out);
}
END_TEST

/* The base line of a scale: the longest dark run of a row (or, turned, of a column). */
static double dot(const raster *r, bool upright, double along, double across) {
    return raster_dark(r, upright ? across : along, upright ? along : across) ? 1 : 0;
}

static double base_line(const raster *r, bool upright, double *from, double *to) {
    double step = 1 / r->per_mm, best = 0, at = 0;
    double wide = r->width * step, high = r->height * step, left = upright ? r->top : r->left,
           top = upright ? r->left : r->top;
    for (double across = top + step / 2; across < top + (upright ? wide : high); across += step) {
        double begun = -1;
        for (double along = left + step / 2; along < left + (upright ? high : wide); along += step) {
            bool dark = dot(r, upright, along, across) > 0;
            begun = dark && begun < 0 ? along : dark ? begun : -1;
            if (dark && along - begun > best) {
                best = along - begun;
                at = across;
                *from = begun;
                *to = along;
            }
        }
    }
    return at;
}

/* Middles of the ticks that cross a line beside the base line. */
static int ticks_at(const raster *r, bool upright, double across, double from, double to, double *list, int room) {
    double step = 1 / r->per_mm, begun = -1;
    int count = 0;
    for (double along = from - 0.5; along < to + 0.5; along += step) {
        bool dark = dot(r, upright, along, across) > 0;
        if (dark && begun < 0)
            begun = along;
        if (!dark && begun >= 0) {
            ck_assert_int_lt(count, room);
            list[count++] = (begun + along - step) / 2;
            begun = -1;
        }
    }
    return count;
}

static void check_scale(const raster *r, bool upright) {
    double from = 0, to = 0, ticks[60], base = base_line(r, upright, &from, &to);
    ck_assert_msg(fabs(to - from - 4 * 25.4) < 0.3, "no scale: %.2f mm", to - from);
    for (int side = 0; side < 2; side++) {
        double across = base + (side == 0 ? -2.2 : 2.2);
        int count = ticks_at(r, upright, across, from, to, ticks, 60);
        ck_assert_int_eq(count, side == 0 ? 11 : 5); /* a long tick each 10 mm, each inch */
        double apart = side == 0 ? 10 : 25.4;
        double first = upright ? ticks[count - 1] : ticks[0]; /* the upright one counts from below */
        for (int i = 0; i < count; i++) {
            double at = upright ? first - ticks[count - 1 - i] : ticks[i] - first;
            ck_assert_msg(fabs(at - i * apart) < NEAR, "tick %d at %.3f mm", i, at);
        }
    }
}

START_TEST(scales_are_right_both_ways_on_every_page) {
    char options[80];
    const sheet *s = &sheets[_i];
    snprintf(options, sizeof options, "-o out.pdf --paper %s", s->paper);
    make(round_lid, options);
    int pages = pages_of("out.pdf");
    ck_assert_int_ge(pages, 2);
    for (int page = 1; page <= pages; page++) {
        raster lying = raster_page(place_of("out.pdf"), page, 600, 5, s->height - 25, s->width / 2 + 15, 12);
        check_scale(&lying, false);
        raster_free(&lying);
        raster upright = raster_page(place_of("out.pdf"), page, 600, s->width - 20, 20, 12, s->height - 50);
        check_scale(&upright, true);
        raster_free(&upright);
    }
}
END_TEST

enum { RAYS = 720 };

/* The edge is the one whole line that is thicker than 0.35 mm; rays from about the middle find it. */
static fitted edge_circle(const raster *r, double x, double y, double radius) {
    static double points[2 * RAYS];
    int count = 0;
    for (int i = 0; i < RAYS; i++) {
        double turn = 2 * BW_PI * i / RAYS, at = radius - 5, middle, wide;
        while (raster_run(r, x, y, turn, at, radius + 5, &middle, &wide)) {
            at = middle + wide / 2 + 0.05;
            if (wide < 0.36 || wide > 0.62)
                continue;
            points[2 * count] = x + middle * cos(turn);
            points[2 * count++ + 1] = y + middle * sin(turn);
            break;
        }
    }
    fitted edge = raster_circle(points, count); /* with what the rays met of letters and marks */
    count = raster_near(points, count, &edge, 0.5);
    return raster_circle(points, count);
}

/* How many rays meet a line within 0.1 mm of a radius; `off`: thin lines met within 0.5 mm, but not so near. */
static int rays_at(const raster *r, const fitted *edge, double radius, int *off) {
    int good = 0;
    *off = 0;
    for (int i = 0; i < RAYS; i++) {
        double middle, wide;
        if (!raster_run(r, edge->x, edge->y, 2 * BW_PI * (i + 0.5) / RAYS, radius - 0.5, radius + 0.5, &middle,
                        &wide) ||
            wide > 0.5)
            continue;
        good += fabs(middle - radius) < NEAR ? 1 : 0;
        *off += fabs(middle - radius) < NEAR ? 0 : 1;
    }
    return good;
}

static void check_lines(const raster *r, double middle_x, double middle_y) {
    double radii[5];
    fitted edge = edge_circle(r, middle_x, middle_y, 70);
    ck_assert_int_ge(edge.points, RAYS * 9 / 10);
    ck_assert_double_eq_tol(edge.radius, 70, NEAR);
    ck_assert_double_lt(edge.worst, NEAR);
    for (int i = 0; i < line_radii(radii); i++) {
        int off, good = rays_at(r, &edge, radii[i], &off);
        ck_assert_msg(good >= RAYS / 3 && off <= RAYS / 20, "radius %.2f: %d rays meet it, %d beside", radii[i], good,
                      off);
        int elsewhere = rays_at(r, &edge, radii[i] - 1.2, &off); /* not whatever is asked for */
        ck_assert_int_lt(elsewhere, RAYS / 3);
    }
}

START_TEST(lines_have_their_radii) {
    char options[80];
    const sheet *s = &sheets[_i];
    snprintf(options, sizeof options, "-o out.pdf --paper %s", s->paper);
    make(round_lid, options);
    int page = pages_of("out.pdf");
    raster r = raster_page(place_of("out.pdf"), page, 600, 10, 17, s->width - 30, s->height - 42);
    check_lines(&r, 10 + (s->width - 30) / 2, 17 + (s->height - 42) / 2);
    raster_free(&r);
}
END_TEST

START_TEST(svg_agrees_with_another_renderer) {
    make(round_lid, "-o out.svg");
    int files = atoi(spawn("ls out-*.svg | wc -l")->out);
    ck_assert_int_ge(files, 2);
    ck_assert_int_eq(spawn("rsvg-convert -f pdf out-%d.svg -o again.pdf", files)->status, 0);
    raster r = raster_page(place_of("again.pdf"), 1, 600, 10, 17, 180, 255);
    check_lines(&r, 100, 17 + 255 / 2.0);
    raster_free(&r);
}
END_TEST

static unsigned number_at(const char *bytes) {
    const unsigned char *b = (const unsigned char *)bytes;
    return (unsigned)b[0] << 24 | (unsigned)b[1] << 16 | (unsigned)b[2] << 8 | (unsigned)b[3];
}

START_TEST(a_png_knows_its_size) {
    make(round_lid, "-o out.png --paper letter");
    size_t length;
    char *png = spawn_read("out-1.png", &length);
    ck_assert_ptr_nonnull(png);
    ck_assert_uint_gt(length, 60);
    ck_assert_int_eq(memcmp(png + 12, "IHDR", 4), 0);
    ck_assert_int_eq(memcmp(png + 37, "pHYs", 4), 0);
    ck_assert_int_eq(png[49], 1); /* dots a metre */
    double wide = number_at(png + 16) * 1000.0 / number_at(png + 41);
    double high = number_at(png + 20) * 1000.0 / number_at(png + 45);
    ck_assert_double_eq_tol(wide, 8.5 * 25.4, NEAR);
    ck_assert_double_eq_tol(high, 11 * 25.4, NEAR);
    ck_assert_int_ge((int)(number_at(png + 41) * 0.0254 + 0.5), 300);
    free(png);
}
END_TEST

static void leftmost_first(double marks[][2], int count) {
    for (int i = 0; i < count; i++)
        for (int k = i + 1; k < count; k++)
            if (marks[k][0] < marks[i][0]) {
                double x = marks[i][0], y = marks[i][1];
                memcpy(marks[i], marks[k], sizeof marks[i]);
                marks[k][0] = x, marks[k][1] = y;
            }
}

/* Points of the edge, the only line thicker than 0.35 mm, met by level lines; moved by dx, dy. */
static int edge_points(const raster *r, double right, double dx, double dy, double *points, int room) {
    int count = 0;
    for (double y = 30; y < 260; y += 1.5) {
        double at = 11, middle, wide;
        while (raster_run(r, 0, y, 0, at, right, &middle, &wide)) {
            double above, below, thick;
            at = middle + wide / 2 + 0.05;
            bool slanted = raster_run(r, middle, y - 3, BW_PI / 2, 0, 6, &above, &thick) && thick > 0.36 && thick < 3;
            (void)below;
            if (wide < 0.4 || wide > 0.75 || !slanted || count >= room)
                continue;
            points[2 * count] = middle + dx;
            points[2 * count++ + 1] = y + dy;
        }
    }
    return count;
}

/* A disc of 330 mm takes several sheets: two neighbours laid on each other by their marks show one circle. */
START_TEST(tiles_join_on_their_marks) {
    static double points[2000];
    double left[40][2], right[40][2];
    make("bandwright-project: 1\npiece: Disc\noutline: {shape: circle, diameter: 330}\nbands: []\n", "-o out.pdf");
    int pages = pages_of("out.pdf");
    ck_assert_int_ge(pages, 5); /* words and four tiles */
    raster a = raster_page(place_of("out.pdf"), pages - 3, 300, 0, 0, 0, 0);
    raster b = raster_page(place_of("out.pdf"), pages - 2, 300, 0, 0, 0, 0);
    int in_a = raster_marks(&a, left, 40), in_b = raster_marks(&b, right, 40);
    ck_assert_int_eq(in_a, 4); /* two to the right, two below */
    ck_assert_int_eq(in_b, 4);
    leftmost_first(left, in_a);
    leftmost_first(right, in_b);
    double *one = left[2], *two = left[3], *also_one = right[0], *also_two = right[1];
    if ((one[1] < two[1]) != (also_one[1] < also_two[1])) {
        also_one = right[1];
        also_two = right[0];
    }
    double dx = one[0] - also_one[0], dy = one[1] - also_one[1];
    ck_assert_double_eq_tol(two[0] - also_two[0], dx, NEAR);
    ck_assert_double_eq_tol(two[1] - also_two[1], dy, NEAR);
    int count = edge_points(&a, 188, 0, 0, points, 400);
    ck_assert_int_ge(count, 40);
    count += edge_points(&b, 188, dx, dy, points + 2 * count, 400);
    ck_assert_int_ge(count, 100);
    fitted edge = raster_circle(points, count);
    int kept = raster_near(points, count, &edge, 1); /* letters */
    ck_assert_int_ge(kept, count * 9 / 10);
    edge = raster_circle(points, kept);
    ck_assert_double_eq_tol(edge.radius, 165, NEAR);
    ck_assert_msg(edge.worst < NEAR, "a point misses by %.3f mm", edge.worst);
    raster_free(&a);
    raster_free(&b);
}
END_TEST

Suite *paper_template_suite(void) {
    Suite *suite = suite_create("paper/template");
    TCase *tc = tcase_create("printed");
    tcase_set_timeout(tc, 120);
    tcase_add_checked_fixture(tc, spawn_begin, spawn_end);
    tcase_add_loop_test(tc, pages_are_sheets_of_the_standards, 0, SHEETS);
    tcase_add_test(tc, fonts_are_in_the_file);
    tcase_add_loop_test(tc, scales_are_right_both_ways_on_every_page, 0, SHEETS);
    tcase_add_loop_test(tc, lines_have_their_radii, 0, SHEETS);
    tcase_add_test(tc, svg_agrees_with_another_renderer);
    tcase_add_test(tc, a_png_knows_its_size);
    tcase_add_test(tc, tiles_join_on_their_marks);
    suite_add_tcase(suite, tc);
    return suite;
}
