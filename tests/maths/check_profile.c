/* check_profile.c - place by place: the worst of all places is the worst that the plan tells, and stretches that fail
 * begin and end where geometry says. */
#include <check.h>
#include <glob.h>
#include <math.h>
#include <stdlib.h>

#include "bandwright/bandwright.h"
#include "shop/shop.h"

Suite *maths_profile_suite(void);

#define FINE 0.05 /* mm between places looked at */

static shop_project *load(const char *file) {
    shop_problems problems;
    shop_problems_init(&problems, file);
    char *bytes = NULL;
    size_t length = 0;
    ck_assert_int_eq(shop_read(file, &bytes, &length, &problems), SHOP_OK);
    shop_project *project = shop_project_read(bytes, length, file, NULL, &problems);
    ck_assert_ptr_nonnull(project);
    shop_problems_free(&problems);
    free(bytes);
    return project;
}

static void agrees(const bw_plan *plan, size_t band, const char *file) {
    const bw_band_plan *made = &plan->bands[band];
    const bw_profile *profile = bw_plan_profile(plan, band);
    ck_assert_ptr_nonnull(profile);
    for (size_t r = 0; r < made->run_count; r++) {
        const bw_run_plan *run = &made->runs[r];
        if (run->count < 2)
            continue;
        double reach = INFINITY, crowd = INFINITY, fit = INFINITY;
        int samples = (int)ceil((run->to - run->from) / FINE);
        for (int i = 0; i < samples; i++) {
            bw_felt felt = bw_profile_at(profile, run->from + (run->to - run->from) * i / samples);
            ck_assert_int_eq(felt.run, (int)r);
            reach = fmin(reach, felt.reach);
            crowd = fmin(crowd, felt.crowd);
            fit = fmin(fit, felt.fit);
        }
        /* Between two places a margin moves by what the step's length and turning do over 0.05 mm. */
        ck_assert_msg(reach >= run->reach - 1e-9 && reach <= run->reach + 0.03, "%s, band %zu, run %zu: reach %g, %g",
                      file, band, r, reach, run->reach);
        ck_assert_msg(crowd >= run->crowd - 1e-9 && crowd <= run->crowd + 0.03, "%s, band %zu, run %zu: crowd %g, %g",
                      file, band, r, crowd, run->crowd);
        bool sharp = run->verdict == BW_EDGE_TOO_SHARP;
        ck_assert_msg(sharp || (fit >= run->bend - 1e-9 && fit <= run->bend + 0.05), "%s, band %zu, run %zu: %g, %g",
                      file, band, r, fit, run->bend);
        ck_assert_msg(!sharp || isinf(fit), "%s, band %zu, run %zu: too sharp, but nowhere", file, band, r);
    }
}

START_TEST(the_worst_place_is_the_plans_worst) {
    glob_t files;
    ck_assert_int_eq(glob("projects/*.yaml", 0, NULL, &files), 0);
    for (size_t i = 0; i < files.gl_pathc; i++) {
        shop_project *project = load(files.gl_pathv[i]);
        bw_plan *plan;
        ck_assert_int_eq(bw_plan_create(&project->layout, NULL, &plan), BW_OK);
        for (size_t b = 0; b < plan->band_count; b++)
            if (plan->bands[b].fill != BW_FILL_PLAIN && !plan->bands[b].guide_gone)
                agrees(plan, b, files.gl_pathv[i]);
        bw_plan_destroy(plan);
        shop_project_free(project);
    }
    globfree(&files);
}
END_TEST

/* A rectangle of 200 by 120 with corners of 14 mm and a stamp much too long for them, the guide 8 mm in: its bends have
 * radius 6 and length 3 pi, and only a face that lies on a bend can be wrong. */
static const bw_band weave_at_8 = {.name = "weave", .space = 4, .width = 8, .fill = BW_FILL_BASKET};

static bw_plan *corners_plan(bw_layout *layout, bw_band *band, bw_tool *tool) {
    bw_layout_init(layout);
    bw_band_init(band);
    bw_tool_init(tool, BW_BASKET);
    tool->length = 9;
    tool->width = 4.5;
    tool->bar = 3;
    tool->rail = 1.2;
    band->space = weave_at_8.space;
    band->width = weave_at_8.width;
    band->fill = weave_at_8.fill;
    band->tool = 0;
    layout->outline.shape = BW_RECTANGLE;
    layout->outline.length = 200;
    layout->outline.width = 120;
    for (int i = 0; i < 4; i++)
        layout->outline.corner[i] = 14;
    layout->bands = band;
    layout->band_count = 1;
    layout->tools = tool;
    layout->tool_count = 1;
    bw_plan *plan;
    ck_assert_int_eq(bw_plan_create(layout, NULL, &plan), BW_OK);
    return plan;
}

START_TEST(what_fails_lies_at_the_corners) {
    bw_layout layout;
    bw_band band;
    bw_tool tool;
    bw_plan *plan = corners_plan(&layout, &band, &tool);
    ck_assert_int_eq(plan->bands[0].fit.verdict, BW_LEGS_LONG);
    const bw_profile *profile = bw_plan_profile(plan, 0);
    ck_assert_ptr_nonnull(profile);
    bw_stretch list[8];
    ck_assert_uint_eq(bw_profile_stretches(profile, BW_MARGIN_BEND, list, 8), 4);
    /* Along the edge: half a bottom straight of 172 mm, then corners of 7 pi mm between straights of 92 and 172 mm. */
    const double corner = 7 * BW_PI,
                 first[] = {86, 86 + corner + 92, 86 + 2 * corner + 92 + 172, 86 + 3 * corner + 2 * 92 + 172};
    for (int i = 0; i < 4; i++) {
        double reach = tool.length + list[i].to - list[i].from; /* a bend is felt a face before and behind it */
        ck_assert_double_ge(list[i].edge_worst, first[i] - tool.length);
        ck_assert_double_le(list[i].edge_worst, first[i] + corner + tool.length);
        ck_assert_double_le(list[i].edge_from, list[i].edge_worst);
        ck_assert_double_ge(list[i].edge_to, list[i].edge_worst);
        ck_assert_double_le(reach, 3 * BW_PI + 4 * tool.length);
        ck_assert_double_lt(list[i].margin, 0);
        bw_felt felt = bw_profile_at(profile, list[i].worst);
        ck_assert_double_eq_tol(felt.fit, list[i].margin, 1e-12);
    }
    /* Mirrored corners fail alike. */
    ck_assert_double_eq_tol(list[0].to - list[0].from, list[2].to - list[2].from, 0.6);
    bw_plan_destroy(plan);
}
END_TEST

/* ---- the sweep along a run against looks at single places ---- */

static double margin_at(const bw_felt *felt, bw_margin margin) {
    const double margins[] = {felt->reach, felt->crowd, felt->fit};
    return felt->step > 0 ? margins[margin] : INFINITY;
}

/* Is a place within one of the stretches, as they begin? */
static const bw_stretch *stretch_over(const bw_stretch *list, size_t count, int run, double along) {
    for (size_t i = 0; i < count; i++) {
        bool over = list[i].to < list[i].from || (list[i].from > along && list[i].to > along); /* over the start */
        if (list[i].run == run && (over || list[i].from <= along + BW_EPS) && (over || along < list[i].to))
            return &list[i];
    }
    return NULL;
}

/* Every place looked at by itself: where it fails lies a stretch, no worse place than its worst, and the worst is one;
 * where it does not fail, no stretch begins and none has its worst. */
static size_t sweep_agrees(const bw_profile *profile, const bw_run_plan *run, int index, bw_margin margin) {
    enum { MOST = 500 };
    const double quarter = 0.25;
    bw_stretch list[MOST];
    size_t count = bw_profile_stretches(profile, margin, list, MOST), failing = 0;
    double length = run->to - run->from;
    int samples = (int)fmax(ceil(length / quarter), 64);
    ck_assert_uint_lt(count, MOST);
    for (int i = 0; i < samples; i++) {
        double along = run->from + length * i / samples;
        bw_felt felt = bw_profile_at(profile, along);
        double value = margin_at(&felt, margin);
        if (value >= -BW_EPS) {
            for (size_t k = 0; k < count; k++)
                ck_assert(fabs(list[k].from - along) > BW_EPS && fabs(list[k].worst - along) > BW_EPS);
            continue;
        }
        failing++;
        const bw_stretch *over = stretch_over(list, count, index, along);
        ck_assert_msg(over != NULL, "run %d fails at %g, but no stretch is there", index, along);
        ck_assert_double_ge(value, over->margin - 2 * BW_EPS);
    }
    for (size_t k = 0; k < count; k++) {
        if (list[k].run != index)
            continue;
        bw_felt worst = bw_profile_at(profile, list[k].worst), first = bw_profile_at(profile, list[k].from);
        double least = margin_at(&worst, margin);
        ck_assert(least == list[k].margin || fabs(least - list[k].margin) <= BW_EPS); /* it may be infinite */
        ck_assert_double_lt(margin_at(&first, margin), 0);
        ck_assert_double_eq_tol(bw_profile_edge(profile, list[k].worst), list[k].edge_worst, BW_EPS);
    }
    return failing;
}

/* A piece of one of the shapes with a band that is too much for its bends, and its impressions spread in one of the
 * ways: all that changes how steps lie along a run. */
static void hard_piece(bw_layout *layout, bw_band *band, bw_tool *tool, int which) {
    static const bw_shape shapes[] = {BW_RECTANGLE, BW_ELLIPSE, BW_CIRCLE, BW_ARC, BW_LINE, BW_STRAP};
    static const bw_lose ways[] = {BW_LOSE_EVEN, BW_LOSE_LAST, BW_LOSE_STRAIGHTS, BW_LOSE_ANCHORED};
    bw_plan_destroy(corners_plan(layout, band, tool));
    layout->outline.shape = shapes[which % 6];
    layout->outline.diameter = 90;
    layout->outline.radius = 70;
    layout->outline.sweep = which % 2 == 0 ? 2 : -2;
    layout->outline.corner[2] = 0;
    band->lose = ways[which / 6 % 4];
    band->lose_last = 3;
    band->lay = which / 24 % 2 == 0 ? BW_LAY_STRAIGHT : BW_LAY_ANGLED;
    band->width = 8 + which / 48 * 8;
}

START_TEST(the_sweep_finds_what_single_looks_find) {
    size_t failing = 0;
    for (int which = 0; which < 96; which++) {
        bw_layout layout;
        bw_band band;
        bw_tool tool;
        bw_plan *plan;
        hard_piece(&layout, &band, &tool, which);
        ck_assert_int_eq(bw_plan_create(&layout, NULL, &plan), BW_OK);
        const bw_profile *profile = bw_plan_profile(plan, 0);
        ck_assert_ptr_nonnull(profile);
        for (size_t r = 0; r < plan->bands[0].run_count; r++)
            for (int margin = BW_MARGIN_REACH; margin <= BW_MARGIN_BEND; margin++)
                failing += sweep_agrees(profile, &plan->bands[0].runs[r], (int)r, (bw_margin)margin);
        bw_plan_destroy(plan);
    }
    ck_assert_uint_gt(failing, 1000);
}
END_TEST

/* The edge beside a place of the guide lies as far away as the guide from the edge. */
START_TEST(beside_the_guide_lies_the_edge) {
    bw_layout layout;
    bw_band band;
    bw_tool tool;
    bw_plan *plan = corners_plan(&layout, &band, &tool);
    bw_curve *guide;
    const bw_profile *profile = bw_plan_profile(plan, 0);
    ck_assert_ptr_nonnull(profile);
    ck_assert_int_eq(bw_guide_create(plan, 0, NULL, &guide), BW_OK);
    double length = bw_profile_length(profile);
    ck_assert_double_eq_tol(length, bw_curve_length(guide), 1e-9);
    ck_assert_double_eq_tol(bw_profile_edge(profile, 0), 0, 1e-9);
    for (int i = 0; i < 100; i++) {
        double from_start = bw_profile_edge(profile, length * i / 100);
        bw_point p = bw_curve_at(plan->edge, plan->start_along + from_start).at;
        bw_point q = bw_curve_at(guide, length * i / 100).at;
        ck_assert_double_eq_tol(hypot(p.x - q.x, p.y - q.y), 8, 1e-9);
    }
    bw_curve_destroy(guide);
    bw_plan_destroy(plan);
}
END_TEST

START_TEST(plain_leather_has_no_profile) {
    bw_layout layout;
    bw_band band;
    bw_tool tool;
    bw_plan_destroy(corners_plan(&layout, &band, &tool));
    band.fill = BW_FILL_PLAIN;
    bw_plan *plan;
    ck_assert_int_eq(bw_plan_create(&layout, NULL, &plan), BW_OK);
    ck_assert_ptr_null(bw_plan_profile(plan, 0));
    ck_assert_ptr_null(bw_plan_profile(plan, 1)); /* there is none */
    bw_plan_destroy(plan);
}
END_TEST

Suite *maths_profile_suite(void) {
    Suite *suite = suite_create("what rows feel, place by place");
    TCase *tests = tcase_create("profile");
    tcase_set_timeout(tests, 120);
    tcase_add_test(tests, the_worst_place_is_the_plans_worst);
    tcase_add_test(tests, what_fails_lies_at_the_corners);
    tcase_add_test(tests, the_sweep_finds_what_single_looks_find);
    tcase_add_test(tests, beside_the_guide_lies_the_edge);
    tcase_add_test(tests, plain_leather_has_no_profile);
    suite_add_tcase(suite, tests);
    return suite;
}
