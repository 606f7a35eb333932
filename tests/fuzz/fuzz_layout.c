/* fuzz_layout.c - any values within limits.h: the plan's figures are numbers, and the steps add up to the run. */
#include <math.h>
#include <string.h>

#include "bandwright/bandwright.h"
#include "fuzz/memory.h"
#include "fuzz/source.h"

static void fill_tool(source *s, bw_tool *tool, bw_kind kind) {
    bw_tool_init(tool, kind);
    tool->id = "tool";
    tool->length = kind == BW_BASKET ? number(s, BW_BASKET_LEAST, BW_BASKET_MOST) : number(s, 0.5, 60);
    if (kind == BW_BORDER || chance(s, 128))
        tool->width = number(s, 0.5, kind == BW_BORDER ? 60 : 40);
    if (chance(s, 128))
        tool->bar = number(s, 0.1, tool->length * 0.99);
    if (chance(s, 128))
        tool->rail = number(s, 0.05, 0.49 * (isnan(tool->width) ? tool->length / 2 : tool->width));
    tool->pitch = number(s, BW_PITCH_LEAST, BW_PITCH_MOST);
    tool->give = number(s, BW_GIVE_LEAST, BW_GIVE_MOST);
}

static void fill_band(source *s, bw_band *band, int tool) {
    bw_band_init(band);
    band->name = "band";
    band->space = number(s, 0, 40);
    band->width = number(s, 0, 80);
    band->fill = (bw_fill)(byte(s) % 4);
    band->tool = tool;
    band->lay = (bw_lay)(byte(s) % 2);
    band->slant = (bw_slant)(byte(s) % 2);
    band->guide = number(s, 0, 1);
    band->overlap = chance(s, 64) ? number(s, 0, 1) : NAN;
    band->count = chance(s, 64) ? (int)number(s, 1, 3000) : 0;
    band->group = 1 + (int)byte(s) % 5;
    band->lose = (bw_lose)(byte(s) % 4);
    band->lose_last = 1 + (int)byte(s) % 40;
}

static void fill_outline(source *s, bw_layout *layout) {
    bw_outline *o = &layout->outline;
    static const bw_shape shapes[] = {BW_CIRCLE, BW_ELLIPSE, BW_RECTANGLE, BW_STRAP, BW_LINE, BW_ARC};
    o->shape = shapes[byte(s) % 6];
    for (bw_end *end = &o->start; end != NULL; end = end == &o->start ? &o->end : NULL) {
        end->kind = (bw_end_kind)(byte(s) % 3);
        end->point = number(s, 1, 200);
    }
    o->diameter = number(s, 5, 1000);
    o->length = number(s, BW_OUTLINE_LEAST, 1000);
    o->width = number(s, BW_OUTLINE_LEAST, 1000);
    o->radius = number(s, BW_OUTLINE_LEAST, 1000);
    o->sweep = number(s, -BW_SWEEP_MOST, BW_SWEEP_MOST);
    for (int i = 0; i < 4; i++)
        o->corner[i] = chance(s, 128) ? 0 : number(s, 0, fmin(o->length, o->width) / 2);
    layout->start = (bw_place){(bw_place_kind)(byte(s) % 6), number(s, 0, 3000)};
    layout->finished = chance(s, 64);
    layout->growth = number(s, 0, BW_GROWTH_MOST);
}

static void check_run(const bw_band_plan *band, const bw_run_plan *run) {
    double covered = 0, length = run->to - run->from;
    int steps = 0;
    need(isfinite(run->step) && isfinite(run->closure_gap) && isfinite(run->step_change) && run->count >= 0);
    for (size_t i = 0; i < run->setting_count; i++) {
        need(isfinite(run->settings[i].step));
        covered += run->settings[i].steps * run->settings[i].step;
        steps += run->settings[i].steps;
    }
    if (run->setting_count == 0 || run->settings[0].where != BW_WHERE_STEPS)
        return;
    need(steps == run->count - (run->closed ? 0 : 1));
    need(fabs(covered - (length - (run->closed ? 0 : band->along_line))) <= 1e-9 * (1 + length));
}

static void check_band(const bw_plan *plan, size_t i) {
    const bw_band_plan *band = &plan->bands[i];
    bw_placing *placings;
    size_t count;
    if (band->fill == BW_FILL_PLAIN)
        return;
    need(isfinite(band->fit.reach) && isfinite(band->fit.crowd) && isfinite(band->fit.bend));
    for (size_t r = 0; r < band->run_count; r++)
        check_run(band, &band->runs[r]);
    for (size_t k = 0; k < band->line_count; k++)
        need(isfinite(band->lines[k].step_least) && band->lines[k].step_least <= band->lines[k].step_most);
    if (band->strikes > 100000 || bw_placings_create(plan, i, NULL, &placings, &count) != BW_OK)
        return;
    need((long long)count == band->strikes);
    for (size_t k = 0; k < count; k++)
        need(isfinite(placings[k].at.x) && isfinite(placings[k].at.y) && placings[k].along >= 0);
    bw_placings_release(placings, NULL);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    enum { BANDS = 3 };
    source s = {data, size};
    bw_layout layout;
    bw_band bands[BANDS];
    bw_tool tools[BANDS];
    bw_plan *plan;
    bw_layout_init(&layout);
    fill_outline(&s, &layout);
    for (int i = 0; i < BANDS; i++) {
        bw_kind kind = BW_BASKET;
        fill_band(&s, &bands[i], i);
        bw_fill_kind(bands[i].fill, &kind);
        fill_tool(&s, &tools[i], kind);
    }
    layout.bands = bands;
    layout.tools = tools;
    layout.tool_count = BANDS;
    layout.band_count = 1 + byte(&s) % BANDS;
    if (bw_plan_create(&layout, NULL, &plan) != BW_OK)
        return 0;
    for (size_t i = 0; i < plan->band_count; i++)
        check_band(plan, i);
    bw_plan_destroy(plan);
    return 0;
}
