/* Which tool on the shelf fits a band best. */
#include <math.h>
#include <stdlib.h>

#include "maths/band.h"

typedef struct rank_work {
    const bw_layout *layout;
    const maths_edge *edge;
    size_t band;
} rank_work;

/* The band alone, struck with another tool. */
static bool judge_tool(bw_rank *rank, const rank_work *w, int tool, const bw_allocator *allocator) {
    maths_arena arena;
    maths_worked work;
    bw_band band = w->layout->bands[w->band];
    double before = w->band > 0 ? maths_strip_of(w->layout, w->band - 1, w->edge->scale).inner / w->edge->scale : 0;
    bw_layout alone = *w->layout;
    band.tool = tool;
    band.space += before;
    alone.bands = &band;
    alone.band_count = 1;
    maths_arena_init(&arena, allocator);
    bool made = maths_band_make(&work, &alone, w->edge, 0, &arena);
    if (made) {
        bw_fit fit;
        double change = 0;
        maths_band_fit(&fit, &work);
        for (size_t r = 0; r < work.guide.run_count; r++)
            change = fmax(change, fabs(work.runs[r].spread.change) / work.lay.usual);
        *rank = (bw_rank){.tool = tool,
                          .verdict = fit.verdict,
                          .least_margin = fmin(fmin(fit.reach, fit.crowd), fit.bend),
                          .change = change,
                          .bare = work.rows.bare_outer + work.rows.bare_inner,
                          .fit = fit};
    }
    maths_band_free(&work);
    maths_arena_free(&arena);
    return made;
}

/* Legs long and feet collide are one place in the order. */
static int order_of(bw_verdict verdict) {
    return verdict == BW_FEET_COLLIDE ? BW_LEGS_LONG : (int)verdict;
}

/* What differs by rounding only is alike: a stamp half as large in everything has the same margins. */
static int by_number(double a, double b) {
    a = round(a / BW_EPS);
    b = round(b / BW_EPS);
    return (a > b) - (a < b);
}

/* Best first; what is alike in everything keeps the order of the tools. */
static int compare(const void *left, const void *right) {
    const bw_rank *a = left, *b = right;
    if (order_of(a->verdict) != order_of(b->verdict))
        return order_of(b->verdict) - order_of(a->verdict);
    int order = by_number(b->least_margin, a->least_margin);
    if (order == 0)
        order = by_number(a->change, b->change);
    if (order == 0)
        order = by_number(a->bare, b->bare);
    return order != 0 ? order : a->tool - b->tool;
}

static bw_status rank_all(const rank_work *w, bw_rank *ranks, size_t *count, const bw_allocator *allocator) {
    const bw_layout *layout = w->layout;
    bw_kind kind;
    if (!bw_fill_kind(layout->bands[w->band].fill, &kind))
        return BW_OK;
    for (size_t i = 0; i < layout->tool_count; i++) {
        if (layout->tools[i].kind != kind || layout->tools[i].retired)
            continue;
        if (!judge_tool(&ranks[*count], w, (int)i, allocator))
            return BW_NO_MEMORY;
        (*count)++;
    }
    qsort(ranks, *count, sizeof *ranks, compare);
    return BW_OK;
}

bw_status bw_rank_tools(const bw_layout *layout, size_t band, const bw_allocator *allocator, bw_rank **ranks,
                        size_t *count) {
    maths_arena arena;
    maths_edge edge = {0};
    *ranks = NULL;
    *count = 0;
    if (band >= layout->band_count || bw_layout_check(layout) != BW_OK)
        return BW_BAD_VALUE;
    maths_arena_init(&arena, allocator);
    bw_status status = maths_edge_make(&edge, layout, NULL, &arena);
    if (status == BW_OK) {
        *ranks = maths_alloc(&arena.allocator, layout->tool_count, sizeof **ranks);
        rank_work work = {layout, &edge, band};
        status = *ranks == NULL ? BW_NO_MEMORY : rank_all(&work, *ranks, count, allocator);
    }
    bw_curve_destroy(edge.curve);
    if (status != BW_OK) {
        maths_release(&arena.allocator, *ranks);
        *ranks = NULL;
        *count = 0;
    }
    maths_arena_free(&arena);
    return status;
}

void bw_ranks_release(bw_rank *ranks, const bw_allocator *allocator) {
    bw_allocator a = maths_allocator(allocator);
    maths_release(&a, ranks);
}
