/* check_picture.c - the picture of a finished piece: what is pressed where, and the file. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "desk/desk.h"
#include "paper/picture.h"
#include "shop/alloc.h"
#include "verbs/spawn.h"

Suite *paper_picture_suite(void);

/* ---- a piece pressed ---- */

static desk *d;
static const bw_plan *plan;
static picture p;

static void press_width(const char *file, int width) {
    shop_problems problems;
    shop_status status;
    shop_problems_init(&problems, file);
    d = desk_open(file, "share/inventory.yaml", &problems, &status);
    ck_assert_msg(d != NULL, "%s", file);
    plan = desk_plan(d);
    const bw_layout *layout = &desk_project(d)->layout;
    ck_assert_int_eq(picture_create(plan, layout, width, &p, &problems), SHOP_OK);
    ck_assert(picture_press(&p, layout, plan));
    shop_problems_free(&problems);
}

static void press(const char *file) {
    press_width(file, 1000);
}

/* A file of the test's own folder. */
static void press_made(const char *name) {
    char file[300];
    const char *folder = spawn("pwd")->out;
    snprintf(file, sizeof file, "%.*s/%s", (int)strcspn(folder, "\n"), folder, name);
    press(file);
}

static void leave(void) {
    picture_free(&p);
    desk_close(d);
}

/* The pixel at a place of the piece. */
static size_t pixel_at(double x, double y) {
    int column = (int)floor((x - p.left) * p.per_mm), row = (int)floor((p.top - y) * p.per_mm);
    ck_assert(column >= 0 && column < p.width && row >= 0 && row < p.height);
    return (size_t)row * (size_t)p.width + (size_t)column;
}

static double depth_at(double x, double y) {
    return p.pressed[pixel_at(x, y)] / p.depth;
}

static bw_placing *placings(size_t band, size_t *count) {
    bw_placing *list;
    ck_assert_int_eq(bw_placings_create(plan, band, NULL, &list, count), BW_OK);
    return list;
}

static const char *const pieces[] = {"cedar-lid", "beech-tray", "walnut-cover", "elm-yoke", "hazel-coaster"};

static void press_piece(int i) {
    char file[80];
    snprintf(file, sizeof file, "projects/%s.yaml", pieces[i]);
    press(file);
}

/* The bar lies in the middle of a face. */
START_TEST(impressions_are_pressed_where_they_are_placed) {
    press_piece(_i);
    size_t whole = 0;
    for (size_t band = 0; band < plan->band_count; band++) {
        size_t count;
        if (plan->bands[band].fill != BW_FILL_BASKET)
            continue;
        bw_placing *list = placings(band, &count);
        for (size_t i = 0; i < count; i++) {
            const bw_placing *one = &list[i];
            if (one->cover >= 1 - BW_EPS) {
                ck_assert_msg(depth_at(one->at.x, one->at.y) >= 0.95, "%s: %f of the depth", pieces[_i],
                              depth_at(one->at.x, one->at.y));
                whole++;
            }
        }
        bw_placings_release(list, NULL);
    }
    ck_assert_uint_gt(whole, 20);
    leave();
}
END_TEST

/* Along the guide a straight lay's legs lie on each other half way between two impressions, and sink deeper there. */
START_TEST(legs_lie_on_each_other) {
    press("projects/cedar-lid.yaml");
    const bw_band_plan *weave = &plan->bands[1];
    const bw_run_plan *run = &weave->runs[0];
    bw_curve *guide;
    ck_assert_int_eq(bw_guide_create(plan, 1, NULL, &guide), BW_OK);
    double overlap = weave->face.length - run->step;
    ck_assert_double_gt(overlap, 1);
    for (int i = 0; i < run->count; i++) {
        bw_point between = bw_curve_at(guide, (i + 0.5) * run->step).at;
        ck_assert_double_ge(depth_at(between.x, between.y), 1.1);
        bw_point single = bw_curve_at(guide, i * run->step).at; /* under one bar and rail alone */
        ck_assert_double_le(depth_at(single.x, single.y), 1.01);
        ck_assert_double_ge(depth_at(single.x, single.y), 0.95);
    }
    bw_curve_destroy(guide);
    leave();
}
END_TEST

/* A row whose cover is small leaves the border's side of its face unpressed, and is deep on the guide's side. */
START_TEST(leaned_rows_fade_towards_the_border) {
    press("projects/cedar-lid.yaml");
    size_t count, leaned = 0;
    bw_placing *list = placings(1, &count);
    double width = plan->bands[1].face.width, rail = plan->bands[1].face.rail;
    for (size_t i = 0; i < count; i++) {
        const bw_placing *one = &list[i];
        double out = hypot(one->at.x, one->at.y); /* the piece is a circle around 0, 0 */
        double border = (one->row < 0 ? 1 : -1) * (width / 2 + 0.6) / out, guide = border * -(width - rail) / width;
        ck_assert_double_ge(depth_at(one->at.x * (1 + guide), one->at.y * (1 + guide)), 0.9);
        leaned += one->cover < 1;
    }
    bw_placings_release(list, NULL);
    leave();
    spawn("sed 's/width: 21/width: 17.4/' $TREE/projects/cedar-lid.yaml > narrow.yaml");
    press_made("narrow.yaml");
    list = placings(1, &count);
    for (size_t i = 0; i < count; i++) {
        const bw_placing *one = &list[i];
        double out = hypot(one->at.x, one->at.y), side = (one->row < 0 ? 1 : -1) / out;
        if (one->cover < 0.7) { /* its farther rail does not print; its middle does if more than half is covered */
            double rail_at = 1 + side * (width - rail) / 2;
            ck_assert_double_le(depth_at(one->at.x * rail_at, one->at.y * rail_at), 0.9);
            leaned++;
        }
    }
    ck_assert_uint_gt(leaned, 0);
    bw_placings_release(list, NULL);
    leave();
}
END_TEST

/* Border stamps and what they leave bare; nothing is pressed in the middle of the piece. */
START_TEST(border_stamps_and_bare_leather) {
    press("projects/maple-lid.yaml");
    size_t count;
    bw_placing *list = placings(0, &count);
    for (size_t i = 0; i < count; i++)
        ck_assert_double_ge(depth_at(list[i].at.x, list[i].at.y), 0.1);
    bw_placings_release(list, NULL);
    for (int i = 0; i < 100; i++)
        ck_assert(p.pressed[pixel_at(10 * cos(i), 10 * sin(i))] == 0 && p.thread[pixel_at(10 * cos(i), 0)] == 0);
    leave();
}
END_TEST

/* From hole to hole lies thread, above the leather; the holes go down. */
START_TEST(stitches) {
    press("projects/cedar-lid.yaml");
    size_t count;
    bw_placing *list = placings(2, &count);
    for (size_t i = 0; i < count; i++) {
        const bw_placing *next = &list[(i + 1) % count]; /* the round is closed */
        double x = (list[i].at.x + next->at.x) / 2, y = (list[i].at.y + next->at.y) / 2;
        ck_assert_int_eq(p.thread[pixel_at(x, y)], 255);
        ck_assert_double_lt(depth_at(x, y), 0);
        ck_assert_double_gt(depth_at(list[i].at.x, list[i].at.y), 0);
    }
    bw_placings_release(list, NULL);
    leave();
}
END_TEST

/* Cut lines lie deeper than what is beside them; the leather is pressed down on the bevel's side of a cut alone. */
START_TEST(cuts_and_bevels) {
    const spawned *run = spawn("$BW new lines.yaml outline.shape=rectangle outline.length=120 outline.width=80 "
                               "outline.corner=30 bands.a.space=8 bands.a.width=14 bands.a.outer.line=cut "
                               "bands.a.outer.bevel=inside bands.a.inner.line=cut bands.a.inner.bevel=outside");
    ck_assert_msg(run->status == 0, "%s", run->err);
    press_made("lines.yaml");
    int cuts = 0;
    for (size_t i = 0; i < plan->line_count; i++) {
        const bw_line_plan *line = &plan->lines[i];
        if (line->what != BW_DO_CUT || line->which == BW_GUIDE)
            continue;
        const bw_curve *curve = bw_plan_line(plan, line->band, line->which);
        for (double along = 3; along < line->length; along += 3.7) {
            bw_spot spot = bw_curve_at(curve, along);
            double x = -sin(spot.heading), y = cos(spot.heading);
            ck_assert_double_ge(depth_at(spot.at.x, spot.at.y), 0.6);
            double in = depth_at(spot.at.x + 0.7 * x, spot.at.y + 0.7 * y);
            double out = depth_at(spot.at.x - 0.7 * x, spot.at.y - 0.7 * y);
            bool inside = line->bevel == BW_BEVEL_INSIDE;
            ck_assert_double_ge(inside ? in : out, 0.3);
            ck_assert(inside ? out == 0 : in == 0);
            cuts++;
        }
    }
    ck_assert_int_gt(cuts, 30);
    leave();
}
END_TEST

/* At the sharp tip of a belt, too, nothing is pressed beyond a line that is beveled inside. */
START_TEST(a_bevel_keeps_to_its_side_at_corners) {
    press_width("projects/hornbeam-belt.yaml", 5000);
    const bw_line_plan *line = &plan->lines[0];
    while (line->what != BW_DO_CUT || line->which != BW_OUTER)
        line++;
    int seen = 0;
    for (double x = 1040; x < 1080; x += 0.2)
        for (double y = 0; y < 38; y += 0.2) {
            bw_point near = bw_curve_at(plan->edge, bw_curve_nearest(plan->edge, (bw_point){x, y})).at;
            double deep = hypot(near.x - x, near.y - y);
            if (p.inside[pixel_at(x, y)] <= 0 || deep < line->from_edge - 1.3 || deep > line->from_edge - 0.55)
                continue; /* further out are stitches */
            ck_assert_msg(p.pressed[pixel_at(x, y)] <= 0, "pressed at %.1f, %.1f", x, y);
            seen++;
        }
    ck_assert_int_gt(seen, 500);
    leave();
}
END_TEST

/* The pixels that are leather have the area of the outline, which the maths find from lines and arcs. */
START_TEST(leather_is_where_the_piece_is) {
    static const char *const closed[] = {"cedar-lid", "beech-tray", "chestnut-rest", "hornbeam-belt",
                                         "hawthorn-sheath"};
    char file[80];
    snprintf(file, sizeof file, "projects/%s.yaml", closed[_i]);
    press_width(file, 900);
    double pixels = 0;
    for (size_t i = 0; i < (size_t)p.width * (size_t)p.height; i++)
        pixels += p.inside[i] > 0;
    double area = bw_curve_area(plan->edge), edge = plan->length;
    /* middles of pixels may miss by a share of those that the edge passes through */
    ck_assert_double_le(fabs(pixels / (p.per_mm * p.per_mm) - area), 0.5 * edge / p.per_mm);
    for (double along = 0.5; along < edge; along += edge / 97) {
        bw_spot spot = bw_curve_at(plan->edge, along);
        double x = -sin(spot.heading), y = cos(spot.heading), away = 2 / p.per_mm;
        ck_assert(p.inside[pixel_at(spot.at.x + away * x, spot.at.y + away * y)] > 0);
        ck_assert(p.inside[pixel_at(spot.at.x - away * x, spot.at.y - away * y)] < 0);
    }
    leave();
}
END_TEST

/* Light comes from the upper left: the edge is brighter there than at the lower right; outside all is plain. */
START_TEST(light_and_ground) {
    press_width("projects/hazel-coaster.yaml", 400);
    unsigned *colours = malloc((size_t)p.width * (size_t)p.height * sizeof *colours);
    ck_assert(colours != NULL && picture_light(&p, colours, (size_t)p.width));
    ck_assert_uint_eq(colours[0], PICTURE_PLAIN);
    ck_assert_uint_eq(colours[p.width - 1], PICTURE_PLAIN);
    double r = plan->length / (2 * BW_PI) - 0.5, c = r * sqrt(0.5);
    unsigned lit = colours[pixel_at(-c, c)] >> 8 & 255u, dark = colours[pixel_at(c, -c)] >> 8 & 255u;
    ck_assert_uint_gt(lit, dark + 20);
    free(colours);
    leave();
}
END_TEST

/* Few pixels for a large piece: all of it is there, with as much ground on the left as on the right. */
START_TEST(a_small_picture_shows_all_of_it) {
    static const char yaml[] =
        "bandwright-project: 1\npiece: P\noutline: {shape: rectangle, length: 5000, width: 1000}\n"
        "bands: []\n";
    static const int widths[] = {24, 30};
    char file[300];
    const char *folder = (spawn_write("large.yaml", yaml, sizeof yaml - 1), spawn("pwd")->out);
    snprintf(file, sizeof file, "%.*s/large.yaml", (int)strcspn(folder, "\n"), folder);
    press_width(file, widths[_i]);
    bw_box box = bw_curve_box(plan->edge);
    double left = box.left - p.left, right = p.left + p.width / p.per_mm - box.right;
    ck_assert_double_gt(right, 0);
    ck_assert_double_le(fabs(left - right), 2 / p.per_mm); /* two pixels */
    leave();
}
END_TEST

/* Whatever runs out, nothing is written and nothing leaks. */
START_TEST(memory_that_runs_out) {
    shop_problems problems;
    shop_status status;
    shop_problems_init(&problems, "out");
    d = desk_open("projects/cedar-lid.yaml", "", &problems, &status);
    ck_assert_ptr_nonnull(d);
    int refused = 0;
    for (status = SHOP_NO_MEMORY; status != SHOP_OK; refused++) {
        ck_assert_int_lt(refused, 500);
        shop_alloc_fail_at(refused);
        status = paper_picture(desk_project(d), desk_plan(d), 40, "/tmp/bw-picture-memory.png", NULL, &problems);
        shop_alloc_fail_at(-1);
        ck_assert_int_eq(remove("/tmp/bw-picture-memory.png") == 0, status == SHOP_OK);
    }
    ck_assert_int_gt(refused, 8);
    ck_assert_uint_ge(problems.errors, (size_t)refused - 1);
    shop_problems_free(&problems);
    desk_close(d);
}
END_TEST

/* ---- the verb ---- */

static unsigned number_at(const char *bytes, size_t at) {
    const unsigned char *b = (const unsigned char *)bytes + at;
    return (unsigned)b[0] << 24 | (unsigned)b[1] << 16 | (unsigned)b[2] << 8 | b[3];
}

/* PNG specification, 2nd edition, 11.2.2 IHDR and 11.3.5.3 pHYs. */
START_TEST(a_picture_says_how_large_the_piece_is) {
    const spawned *run = spawn("$BW picture $TREE/projects/cedar-lid.yaml -o lid.png --width 640");
    ck_assert_msg(run->status == 0, "%d %s", run->status, run->err);
    ck_assert_str_eq(run->out, "written: lid.png, 640 by 640 pixels\n");
    size_t length;
    char *png = spawn_read("lid.png", &length);
    ck_assert(length > 1000 && memcmp(png, "\x89PNG\r\n\x1a\n", 8) == 0);
    ck_assert_uint_eq(number_at(png, 16), 640);
    ck_assert_uint_eq(number_at(png, 20), 640);
    ck_assert_mem_eq(png + 37, "pHYs", 4);
    ck_assert_double_eq_tol(640 / (number_at(png, 41) / 1000.0), 140 * 1.08, 0.1); /* 4 % beside it on each side */
    free(png);
    run = spawn(
        "cp lid.png before.png; $BW picture $TREE/projects/cedar-lid.yaml -w640 -o lid.png; cmp lid.png before.png");
    ck_assert_int_eq(run->status, 0);
    ck_assert_str_eq(spawn("ls")->out, "before.png\nlid.png\n");
}
END_TEST

START_TEST(very_long_and_very_small_pieces) {
    const spawned *run = spawn("$BW new long.yaml outline.shape=strap outline.length=5000 outline.width=20 && "
                               "$BW picture long.yaml -o long.png -w 2000");
    ck_assert_msg(run->status == 0, "%s", run->err);
    run = spawn("$BW new small.yaml outline.diameter=5 && $BW picture small.yaml -o small.png -w 100");
    ck_assert_msg(run->status == 0, "%s", run->err);
    run = spawn("$BW new open.yaml outline.shape=line outline.length=5 && $BW picture open.yaml -o open.png -w 16");
    ck_assert_msg(run->status == 0, "%s", run->err);
}
END_TEST

static const struct {
    const char *words;
    int status;
    const char *said;
} refused[] = {
    {"", 2, "-o OUT.png"},
    {"-o out.pdf", 2, "-o OUT.png"},
    {"-o out", 2, "-o OUT.png"},
    {"-o out.png --width 15", 2, "16 to 20000"},
    {"-o out.png --width 20001", 2, "16 to 20000"},
    {"-o out.png --width 3in", 2, "16 to 20000"},
    {"-o out.png --width 19000", 73, "smaller --width"},
    {"-w 60 -o missing/out.png", 73, "missing/out.png"},
};

START_TEST(what_cannot_be_written) {
    const spawned *run = spawn("$BW picture $TREE/projects/cedar-lid.yaml %s", refused[_i].words);
    ck_assert_msg(run->status == refused[_i].status, "%s: %d %s", refused[_i].words, run->status, run->err);
    ck_assert_msg(strstr(run->err, refused[_i].said) != NULL, "%s: %s", refused[_i].words, run->err);
    ck_assert_str_eq(spawn("ls")->out, "");
}
END_TEST

Suite *paper_picture_suite(void) {
    Suite *suite = suite_create("paper/picture");
    TCase *pressed = tcase_create("pressed"), *file = tcase_create("file");
    tcase_add_loop_test(pressed, impressions_are_pressed_where_they_are_placed, 0, sizeof pieces / sizeof pieces[0]);
    tcase_add_test(pressed, legs_lie_on_each_other);
    tcase_add_test(pressed, border_stamps_and_bare_leather);
    tcase_add_test(pressed, stitches);
    tcase_add_test(pressed, a_bevel_keeps_to_its_side_at_corners);
    tcase_add_loop_test(pressed, leather_is_where_the_piece_is, 0, 5);
    tcase_add_test(pressed, light_and_ground);
    tcase_add_test(pressed, memory_that_runs_out);
    suite_add_tcase(suite, pressed);
    tcase_add_checked_fixture(file, spawn_begin, spawn_end);
    tcase_add_test(file, cuts_and_bevels);
    tcase_add_test(file, leaned_rows_fade_towards_the_border);
    tcase_add_test(file, a_picture_says_how_large_the_piece_is);
    tcase_add_test(file, very_long_and_very_small_pieces);
    tcase_add_loop_test(file, what_cannot_be_written, 0, sizeof refused / sizeof refused[0]);
    tcase_add_loop_test(file, a_small_picture_shows_all_of_it, 0, 2);
    suite_add_tcase(suite, file);
    return suite;
}
