/* demo.c - pieces whose rounds are struck in part. */
#include "maths/demo.h"

#include <check.h>

static void stamp(demo *d, bw_fill fill, double space, double width) {
    bw_kind kind;
    bw_layout_init(&d->layout);
    bw_band_init(&d->band);
    ck_assert(bw_fill_kind(fill, &kind));
    bw_tool_init(&d->tool, kind);
    d->band.fill = fill;
    d->band.tool = 0;
    d->band.space = space;
    d->band.width = width;
    if (kind == BW_BASKET) {
        d->tool.length = 9;
        d->tool.width = 4.6;
        d->tool.bar = 3;
        d->tool.rail = 1.3;
    } else if (kind == BW_BORDER) {
        d->tool.length = 5.2;
        d->tool.width = 5;
    } else {
        d->tool.pitch = 4;
    }
}

static void circle(demo *d, double diameter) {
    d->layout.outline.shape = BW_CIRCLE;
    d->layout.outline.diameter = diameter;
}

static void oblong(demo *d, bw_shape shape, double length, double width, double corner) {
    d->layout.outline.shape = shape;
    d->layout.outline.length = length;
    d->layout.outline.width = width;
    for (int i = 0; i < 4; i++)
        d->layout.outline.corner[i] = corner;
}

void demo_make(demo *d) {
    d->layout.bands = &d->band;
    d->layout.band_count = 1;
    d->layout.tools = &d->tool;
    d->layout.tool_count = 1;
    ck_assert_int_eq(bw_plan_create(&d->layout, NULL, &d->plan), BW_OK);
    ck_assert_int_eq(bw_guide_create(d->plan, 0, NULL, &d->guide), BW_OK);
}

void demo_end(demo *d) {
    bw_curve_destroy(d->guide);
    bw_plan_destroy(d->plan);
}

bw_status demo_measure(const demo *d, size_t run, int struck, double left, bw_rest **rest) {
    bw_measure one = {.run = run, .struck = struck, .left = left};
    return bw_rest_create(d->plan, &one, NULL, rest);
}

void demo_lid(demo *d) {
    stamp(d, BW_FILL_BASKET, 5, 14);
    circle(d, 120);
}

static void slanted_lid(demo *d) {
    demo_lid(d);
    d->band.lay = BW_LAY_ANGLED;
}

static void rim(demo *d) {
    stamp(d, BW_FILL_BORDER, 4, 5);
    circle(d, 110);
    d->band.group = 2;
}

static void holes(demo *d) {
    stamp(d, BW_FILL_STITCH, 3, 0);
    circle(d, 97);
}

/* Runs that are cut at the corners, holes shared by neighbours. */
static void holes_round_a_cover(demo *d) {
    stamp(d, BW_FILL_STITCH, 3, 0);
    oblong(d, BW_RECTANGLE, 150, 90, 0);
}

static void last_of_a_belt(demo *d) {
    stamp(d, BW_FILL_BASKET, 4, 14);
    oblong(d, BW_STRAP, 400, 38, 0);
    d->band.lose = BW_LOSE_LAST;
    d->band.lose_last = 9;
}

static void tray(demo *d) {
    stamp(d, BW_FILL_BASKET, 5, 9);
    oblong(d, BW_RECTANGLE, 240, 180, 50);
    d->band.lose = BW_LOSE_STRAIGHTS;
}

static void oval(demo *d) {
    stamp(d, BW_FILL_BASKET, 5, 9);
    oblong(d, BW_ELLIPSE, 220, 180, 0);
    d->band.lose = BW_LOSE_ANCHORED;
}

static void last_of_a_lid(demo *d) {
    demo_lid(d);
    d->band.lose = BW_LOSE_LAST;
    d->band.lose_last = 8;
}

static void straight_piece(demo *d) {
    stamp(d, BW_FILL_BASKET, 4, 14);
    oblong(d, BW_LINE, 260, 0, 0);
}

void (*const demo_makers[DEMOS])(demo *d) = {demo_lid,       slanted_lid, rim,  holes,         holes_round_a_cover,
                                             last_of_a_belt, tray,        oval, last_of_a_lid, straight_piece};
