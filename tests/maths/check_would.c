/* check_would.c - what is said to do instead does, planned by itself; and a plan keeps what it was asked for. */
#include <check.h>
#include <math.h>

#include "bandwright/bandwright.h"

Suite *maths_would_suite(void);

typedef struct piece {
    bw_layout layout;
    bw_band band;
    bw_tool tool;
    bw_plan *plan;
} piece;

static void plan(piece *p) {
    p->layout.bands = &p->band;
    p->layout.band_count = 1;
    p->layout.tools = &p->tool;
    p->layout.tool_count = 1;
    ck_assert_int_eq(bw_plan_create(&p->layout, NULL, &p->plan), BW_OK);
}

static bw_verdict verdict(const piece *p) {
    return p->plan->bands[0].fit.verdict;
}

static void begin(piece *p, bw_fill fill, double space, double width) {
    bw_kind kind;
    bw_layout_init(&p->layout);
    bw_band_init(&p->band);
    ck_assert(bw_fill_kind(fill, &kind));
    bw_tool_init(&p->tool, kind);
    p->band.fill = fill;
    p->band.tool = 0;
    p->band.space = space;
    p->band.width = width;
}

/* A weave of a stamp of 9 by 4.5 mm around corners of 14 mm. */
static void long_legs(piece *p) {
    begin(p, BW_FILL_BASKET, 4, 8);
    p->tool.length = 9;
    p->tool.width = 4.5;
    p->tool.bar = 3;
    p->tool.rail = 1.2;
    p->layout.outline.shape = BW_RECTANGLE;
    p->layout.outline.length = 200;
    p->layout.outline.width = 120;
    for (int i = 0; i < 4; i++)
        p->layout.outline.corner[i] = 14;
}

START_TEST(a_shorter_stamp_does) {
    piece p;
    int found = 0;
    long_legs(&p);
    for (int corner = 14; corner < 40; corner += 4) {
        for (int i = 0; i < 4; i++)
            p.layout.outline.corner[i] = corner;
        plan(&p);
        const bw_would *would = bw_plan_would(&p.layout, p.plan, 0);
        double length = would->length > 0 ? would->length : would->takes_bend;
        if (verdict(&p) == BW_LEGS_LONG && length > 0) {
            piece q = p;
            double scale = length / p.tool.length;
            ck_assert_double_lt(scale, 1);
            q.tool.length *= scale;
            q.tool.width *= scale;
            q.tool.bar *= scale;
            q.tool.rail *= scale;
            plan(&q);
            ck_assert_int_gt(verdict(&q), would->length > 0 ? BW_CROWDS_INSIDE : BW_FEET_COLLIDE);
            bw_plan_destroy(q.plan);
        }
        found += length > 0;
        bw_plan_destroy(p.plan);
    }
    ck_assert_int_gt(found, 0);
}
END_TEST

START_TEST(a_narrower_stamp_does) {
    int found = 0;
    for (int width = 4; width < 14; width++) {
        piece p;
        begin(&p, BW_FILL_BORDER, 4, 16);
        p.tool.length = 5;
        p.tool.width = width;
        p.layout.outline.shape = BW_CIRCLE;
        p.layout.outline.diameter = 80;
        plan(&p);
        double narrow = bw_plan_would(&p.layout, p.plan, 0)->width;
        ck_assert(verdict(&p) == BW_FEET_COLLIDE || narrow == 0);
        bw_plan_destroy(p.plan);
        if (narrow == 0)
            continue;
        found++;
        ck_assert_double_lt(narrow, width);
        p.tool.width = narrow;
        plan(&p);
        ck_assert_int_ge(verdict(&p), BW_TIGHT);
        bw_plan_destroy(p.plan);
    }
    ck_assert_int_gt(found, 0);
}
END_TEST

/* The piece closes up where its parallel is gone: a rectangle at half its width. */
START_TEST(the_depth_is_where_it_closes_up) {
    piece p;
    long_legs(&p);
    p.band.space = 50;
    p.band.width = 20;
    plan(&p);
    ck_assert_int_eq(verdict(&p), BW_NO_ROOM);
    ck_assert_double_eq_tol(bw_plan_would(&p.layout, p.plan, 0)->depth, 60, 1e-6);
    bw_plan_destroy(p.plan);
}
END_TEST

START_TEST(what_was_asked_for_is_kept) {
    piece p;
    long_legs(&p);
    plan(&p);
    const bw_would *would = bw_plan_would(&p.layout, p.plan, 0);
    const bw_profile *profile = bw_plan_profile(p.plan, 0);
    ck_assert_ptr_nonnull(profile);
    p.layout.band_count = 0; /* neither needs the layout any longer */
    p.layout.bands = NULL;
    p.band = (bw_band){0};
    ck_assert_ptr_eq(bw_plan_profile(p.plan, 0), profile);
    ck_assert_uint_eq(bw_profile_stretches(profile, BW_MARGIN_BEND, NULL, 0), 4);
    p.layout.band_count = 1;
    ck_assert_ptr_eq(bw_plan_would(&p.layout, p.plan, 0), would);
    ck_assert_ptr_null(bw_plan_would(&p.layout, p.plan, 1)); /* there is none */
    bw_plan_destroy(p.plan);
}
END_TEST

/* Irons whose pitches go into 200 mm all stretch by half a per cent on 201 mm: nothing but rounding tells them apart,
 * and they keep their order. */
START_TEST(what_fits_alike_keeps_its_order) {
    const double pitches[] = {5, 2.5, 20, 4, 12.5, 10, 25, 8};
    enum { IRONS = sizeof pitches / sizeof *pitches };
    bw_tool tools[IRONS];
    bw_rank *ranks;
    size_t count;
    piece p;
    begin(&p, BW_FILL_STITCH, 3, 0);
    p.layout.bands = &p.band;
    p.layout.band_count = 1;
    p.layout.outline.shape = BW_LINE;
    p.layout.outline.length = 201;
    for (size_t i = 0; i < IRONS; i++) {
        bw_tool_init(&tools[i], BW_IRON);
        tools[i].pitch = pitches[i];
    }
    p.layout.tools = tools;
    p.layout.tool_count = IRONS;
    ck_assert_int_eq(bw_rank_tools(&p.layout, 0, NULL, &ranks, &count), BW_OK);
    ck_assert_uint_eq(count, IRONS);
    for (size_t i = 0; i < count; i++) {
        ck_assert_double_eq_tol(ranks[i].change, 0.005, 1e-12);
        ck_assert_int_eq(ranks[i].tool, (int)i);
    }
    bw_ranks_release(ranks, NULL);
}
END_TEST

Suite *maths_would_suite(void) {
    Suite *suite = suite_create("maths: what would do");
    TCase *tests = tcase_create("would");
    tcase_add_test(tests, a_shorter_stamp_does);
    tcase_add_test(tests, a_narrower_stamp_does);
    tcase_add_test(tests, the_depth_is_where_it_closes_up);
    tcase_add_test(tests, what_was_asked_for_is_kept);
    tcase_add_test(tests, what_fits_alike_keeps_its_order);
    suite_add_tcase(suite, tests);
    return suite;
}
