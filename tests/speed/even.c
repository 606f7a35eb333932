/* even.c - sizes that close: a rosette of six bands with twelve movable values, searched to the end, against planning
 * every combination of their values (so many plans times the time of one). Prints seconds and ratios; decides nothing.
 */
#include <math.h>
#include <stdio.h>
#include <time.h>

#include "bandwright/bandwright.h"

enum { BANDS = 6, KNOBS = 2 * BANDS, PLANS = 200 };

typedef struct piece {
    bw_layout layout;
    bw_band bands[BANDS];
    bw_tool tools[BANDS];
} piece;

static double seconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static void begin(piece *p, bw_shape shape) {
    bw_layout_init(&p->layout);
    p->layout.outline.shape = shape;
    p->layout.outline.diameter = 241.3;
    p->layout.outline.length = 261.3;
    p->layout.outline.width = 240.8;
    for (int i = 0; i < 4; i++)
        p->layout.outline.corner[i] = 90;
    for (int i = 0; i < BANDS; i++) {
        bool weave = i % 2 == 1;
        bw_band *band = &p->bands[i];
        bw_tool *tool = &p->tools[i];
        bw_band_init(band);
        bw_tool_init(tool, weave ? BW_BASKET : BW_BORDER);
        band->name = tool->id = "band";
        band->fill = weave ? BW_FILL_BASKET : BW_FILL_BORDER;
        band->space = 2;
        band->width = weave ? 10 + i : 6 + 0.5 * i;
        band->tool = i;
        tool->length = weave ? 6 + 0.5 * i : 5 + 0.3 * i;
        tool->width = weave ? 3.5 : 4;
        tool->bar = 2;
        tool->rail = 1;
    }
    p->layout.bands = p->bands;
    p->layout.tools = p->tools;
    p->layout.band_count = p->layout.tool_count = BANDS;
}

static double plan_time(const piece *p) {
    double from = seconds();
    for (int i = 0; i < PLANS; i++) {
        bw_plan *plan;
        if (bw_plan_create(&p->layout, NULL, &plan) == BW_OK)
            bw_plan_destroy(plan);
    }
    return (seconds() - from) / PLANS;
}

static void measure(const char *name, bw_shape shape, double limit) {
    piece p;
    bw_even_wish wish;
    bw_even *search;
    bw_even_knob knobs[KNOBS];
    begin(&p, shape);
    bw_even_wish_init(&wish);
    wish.limit = limit;
    wish.fit = BW_TIGHT;
    wish.trials = 0;
    for (size_t i = 0; i < KNOBS; i++)
        knobs[i] = (bw_even_knob){i % 2 == 0 ? BW_KNOB_SPACE : BW_KNOB_BAND_WIDTH, i / 2, NAN, NAN};
    wish.knobs = knobs;
    wish.knob_count = KNOBS;
    double values = 1, one = plan_time(&p), from = seconds();
    for (size_t i = 0; i < KNOBS; i++) { /* 3 mm each way on the grid, but nothing below 0 */
        double now = bw_knob_value(&p.layout, knobs[i].knob, knobs[i].band);
        values *= 1 + floor(wish.within / p.layout.grid) + floor(fmin(now, wish.within) / p.layout.grid);
    }
    if (bw_even_create(&p.layout, &wish, NULL, &search) != BW_OK)
        return;
    (void)bw_even_run(search, NULL, NULL);
    double spent = seconds() - from;
    bw_even_found found = bw_even_result(search);
    printf("  %-10s %5.2f %%: %.3f s, %zu answers, the first of %zu changes, %s; all of %.1e combinations would take "
           "%.1e s: %.1e times\n",
           name, 100 * limit, spent, found.count, found.count > 0 ? found.answers[0].change_count : 0,
           found.best ? "proven" : "not proven", values, values * one, values * one / spent);
    bw_even_destroy(search);
}

int main(void) {
    static const double limits[] = {0.005, 0.002, 0.0005, 0.0001};
    puts("Sizes that close, six bands and twelve values, to the end, against planning every combination:");
    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
        measure("circle", BW_CIRCLE, limits[i]);
        measure("rectangle", BW_RECTANGLE, limits[i]);
        measure("oval", BW_ELLIPSE, limits[i]);
    }
    return 0;
}
