/* sample.c - small layouts in plain values for tests. */
#include "maths/sample.h"

#include <check.h>

static void start(sample *s, bw_shape shape) {
    bw_layout_init(&s->layout);
    s->layout.outline.shape = shape;
    s->layout.bands = s->bands;
    s->layout.tools = s->tools;
    s->layout.band_count = 0;
    s->layout.tool_count = 0;
}

void sample_circle(sample *s, double diameter) {
    start(s, BW_CIRCLE);
    s->layout.outline.diameter = diameter;
}

void sample_rectangle(sample *s, double length, double width, double corner) {
    start(s, BW_RECTANGLE);
    s->layout.outline.length = length;
    s->layout.outline.width = width;
    for (int i = 0; i < 4; i++) {
        s->layout.outline.corner[i] = corner;
    }
}

void sample_line(sample *s, double length) {
    start(s, BW_LINE);
    s->layout.outline.length = length;
}

static bw_band *add(sample *s, double space, double width, bw_fill fill, bw_kind kind) {
    static const char *const names[SAMPLE_BANDS] = {"one", "two", "three", "four", "five", "six"};
    size_t i = s->layout.band_count;
    ck_assert_uint_lt(i, SAMPLE_BANDS);
    bw_band_init(&s->bands[i]);
    bw_tool_init(&s->tools[i], kind);
    s->bands[i].name = names[i];
    s->tools[i].id = names[i];
    s->bands[i].space = space;
    s->bands[i].width = width;
    s->bands[i].fill = fill;
    s->bands[i].tool = (int)i;
    s->layout.band_count = s->layout.tool_count = i + 1;
    return &s->bands[i];
}

bw_band *sample_basket(sample *s, double space, double width, double length, double face_width, double bar,
                       double rail) {
    bw_band *band = add(s, space, width, BW_FILL_BASKET, BW_BASKET);
    bw_tool *tool = &s->tools[band->tool];
    tool->length = length;
    tool->width = face_width;
    tool->bar = bar;
    tool->rail = rail;
    return band;
}

bw_band *sample_border(sample *s, double space, double width, double length, double face_width) {
    bw_band *band = add(s, space, width, BW_FILL_BORDER, BW_BORDER);
    s->tools[band->tool].length = length;
    s->tools[band->tool].width = face_width;
    return band;
}

bw_band *sample_stitch(sample *s, double space, double pitch) {
    bw_band *band = add(s, space, 0, BW_FILL_STITCH, BW_IRON);
    s->tools[band->tool].pitch = pitch;
    return band;
}

bw_plan *sample_plan(const sample *s) {
    bw_plan *plan = NULL;
    ck_assert_int_eq(bw_plan_create(&s->layout, NULL, &plan), BW_OK);
    return plan;
}

void sample_scale(sample *s, double factor) {
    double *outline[] = {&s->layout.outline.diameter,  &s->layout.outline.around,    &s->layout.outline.chord,
                         &s->layout.outline.depth,     &s->layout.outline.length,    &s->layout.outline.width,
                         &s->layout.outline.corner[0], &s->layout.outline.corner[1], &s->layout.outline.corner[2],
                         &s->layout.outline.corner[3], &s->layout.outline.radius,    &s->layout.start.along};
    for (size_t i = 0; i < sizeof outline / sizeof outline[0]; i++) {
        *outline[i] *= factor;
    }
    for (size_t i = 0; i < s->layout.band_count; i++) {
        s->bands[i].space *= factor;
        s->bands[i].width *= factor;
        if (s->bands[i].guide_is_length) {
            s->bands[i].guide *= factor;
        }
    }
    for (size_t i = 0; i < s->layout.tool_count; i++) {
        bw_tool *tool = &s->tools[i];
        double *lengths[] = {&tool->length, &tool->width,   &tool->bar,   &tool->rail,
                             &tool->pitch,  &tool->closest, &tool->usual, &tool->widest};
        for (size_t k = 0; k < sizeof lengths / sizeof lengths[0]; k++) {
            *lengths[k] *= factor;
        }
    }
}
