/* What would do instead: other stamps and fewer rows are tried on the plan's own edge, one band at a time. */
#include <math.h>

#include "bandwright/limits.h"
#include "maths/kept.h"
#include "maths/knobs.h"

#define TRY_STEP 0.1 /* mm */
/* Along an edge of many fitted arcs every trial takes longer, and the answer is wanted at every key: up to FEW_PIECES
 * all trials are made, beyond in proportion fewer. */
enum {
    FEW_PIECES = 64,
    TRIES = 24,
    LEAST_TRIES = 6,
    HALVINGS = 30,
    LEAST_HALVINGS = 15,
    ROWS_TRIED = 1000,
    COUNTS_TRIED = 6
};

typedef struct trying {
    const bw_layout *layout;
    const bw_plan *plan;
    size_t index;
    const bw_band_plan *made;
    bool no_memory;
} trying;

static int trials(const trying *t, int usual, int least) {
    size_t pieces = bw_curve_pieces(t->plan->edge);
    int few = pieces > FEW_PIECES ? (int)((size_t)usual * FEW_PIECES / pieces) : usual;
    return few > least ? few : least;
}

bool maths_verdict_alone(const bw_layout *layout, const bw_plan *plan, size_t index, const bw_band *asked,
                         const bw_tool *tool, bw_verdict *verdict) {
    bw_layout alone = *layout;
    bw_band band = *asked;
    maths_arena arena;
    maths_worked work;
    bw_fit fit = {.verdict = BW_NO_ROOM};
    for (size_t i = 0; i < index; i++)
        band.space += layout->bands[i].space + layout->bands[i].width;
    alone.bands = &band;
    alone.band_count = 1;
    if (tool != NULL) {
        band.tool = 0;
        alone.tools = tool;
        alone.tool_count = 1;
    }
    *verdict = BW_NO_ROOM;
    if (bw_layout_check(&alone) != BW_OK)
        return true;
    maths_arena_init(&arena, maths_plan_allocator(plan));
    bool fine = maths_band_make(&work, &alone, maths_plan_kept(plan, index)->work.edge, 0, &arena);
    if (fine)
        maths_band_fit(&fit, &work);
    maths_band_free(&work);
    maths_arena_free(&arena);
    *verdict = fit.verdict;
    return fine;
}

static bw_verdict verdict_of(trying *t, const bw_band *asked, const bw_tool *tool) {
    bw_verdict verdict;
    if (!maths_verdict_alone(t->layout, t->plan, t->index, asked, tool, &verdict))
        t->no_memory = true;
    return verdict;
}

/* The same with any count. */
static bw_verdict verdict_if(trying *t, const bw_band *asked, const bw_tool *tool) {
    bw_band band = *asked;
    band.count = 0;
    band.counts = NULL;
    band.count_runs = 0;
    return verdict_of(t, &band, tool);
}

/* The count nearest to the one there is, of two as near the smaller. Where evenly spread steps would have to be in a
 * range, only those. */
static void other_count(trying *t, bw_would *would) {
    bw_band band = t->layout->bands[t->index];
    if (t->made->run_count != 1 || t->made->runs[0].count == 0 || maths_knob_fixed(t->layout, BW_KNOB_COUNT, t->index))
        return;
    const bw_run_plan *run = &t->made->runs[0];
    int multiple = maths_multiple(&band, run->closed), below = run->count / multiple * multiple;
    bool odd = below != run->count;
    band.counts = NULL;
    band.count_runs = 0;
    for (int k = odd ? 0 : 1; k <= trials(t, COUNTS_TRIED, 1); k++)
        for (int way = -1; way <= 1; way += 2) {
            band.count = below + way * k * multiple + (odd && way > 0 ? multiple : 0);
            bool within =
                run->feasible_most > 0 && band.count >= run->feasible_least && band.count <= run->feasible_most;
            if (!within || verdict_of(t, &band, NULL) < BW_TIGHT)
                continue;
            would->count = band.count;
            return;
        }
}

static const bw_tool *own_tool(const trying *t) {
    int tool = t->layout->bands[t->index].tool;
    return tool >= 0 && (size_t)tool < t->layout->tool_count ? &t->layout->tools[tool] : NULL;
}

static double depth_of(trying *t) {
    const bw_outline *outline = &t->layout->outline;
    if (outline->shape == BW_LINE)
        return INFINITY;
    if (outline->shape == BW_ARC)
        return outline->sweep > 0 ? t->plan->least_radius : INFINITY;
    if (outline->shape == BW_CIRCLE)
        return t->plan->least_radius;
    bw_box box = bw_curve_box(t->plan->edge);
    double low = 0, high = fmin(box.right - box.left, box.top - box.bottom) / 2;
    for (int i = 0; i < trials(t, HALVINGS, LEAST_HALVINGS); i++) {
        bw_curve *line;
        double middle = (low + high) / 2;
        if (bw_curve_offset(t->plan->edge, middle, maths_plan_allocator(t->plan), &line) != BW_OK) {
            t->no_memory = true;
            return high;
        }
        bool there = bw_curve_loops(line) > 0;
        bw_curve_destroy(line);
        *(there ? &low : &high) = middle;
    }
    return (low + high) / 2;
}

/* What happens on the bend grows with the square of the face's length and shrinks with its rail: in proportion, about
 * with the length. But a smaller stamp strikes other rows, so it is tried. */
static void shorter_stamp(trying *t, bw_would *would) {
    const bw_tool *own = own_tool(t);
    const bw_face *face = &t->made->face;
    double guess = face->length / (1 - t->made->fit.bend);
    int tries = trials(t, TRIES, LEAST_TRIES);
    double step = TRY_STEP * TRIES / tries;
    for (int i = 0; own != NULL && i < tries; i++) {
        double length = floor(guess / TRY_STEP) * TRY_STEP - i * step, scale = length / face->length;
        bw_tool tool = *own;
        tool.length = length;
        tool.width = face->width * scale;
        tool.bar = face->bar * scale;
        tool.rail = face->rail * scale;
        tool.closest = tool.usual = tool.widest = (double)NAN;
        if (length < BW_BASKET_LEAST)
            return;
        bw_verdict verdict = verdict_if(t, &t->layout->bands[t->index], &tool);
        if (verdict >= BW_TIGHT) {
            would->length = length;
            return;
        }
        if (would->takes_bend == 0 && verdict > BW_FEET_COLLIDE)
            would->takes_bend = length;
    }
}

static void narrower_stamp(trying *t, bw_would *would) {
    const bw_tool *own = own_tool(t);
    const bw_band_plan *b = t->made;
    double over = 1 - b->fit.bend, turn = b->line_count > 0 ? b->lines[0].turn_most : 0;
    double step = b->line_count > 0 ? b->lines[0].step_least : b->usual;
    double feet = b->face.length - step + turn * b->face.width / 2;
    bool are_feet = feet >= over * BW_FEET_MOST * b->face.length * 0.999; /* they are what the margin is of */
    double allowed = (are_feet ? BW_FEET_MOST : BW_HEADS_MOST) * b->face.length;
    double narrow = b->face.width - 2 * (over - 1) * allowed / (turn > 0 ? turn : 1);
    if (own == NULL || turn <= 0 || narrow < BW_BORDER_LEAST)
        return;
    bw_tool tool = *own;
    tool.width = floor(narrow / TRY_STEP) * TRY_STEP;
    if (verdict_if(t, &t->layout->bands[t->index], &tool) >= BW_TIGHT)
        would->width = tool.width;
}

static void fewer_rows(trying *t, bw_would *would) {
    const bw_band_plan *b = t->made;
    const bw_band *band = &t->layout->bands[t->index];
    bool angled = band->lay == BW_LAY_ANGLED;
    int rows = 0;
    for (size_t i = 0; i < b->row_count; i++)
        if (b->rows[i].row > rows)
            rows = b->rows[i].row;
    /* Lines up to this far from the guide keep within most/least where the guide has its least radius. */
    double ratio = b->most / b->least, span = b->guide_least_radius * (ratio - 1) / (ratio + 1);
    int fit = (int)fmin(ROWS_TRIED, floor(span / b->rows_apart)) + (angled ? 0 : 1), tries = 0;
    for (fit = fit < rows ? fit : rows - 1; fit > 0 && tries < trials(t, ROWS_TRIED, LEAST_TRIES); fit--) {
        bw_band fewer = *band;
        double rail = angled ? 0 : b->face.rail / 2;
        fewer.width = 2 * (fit * b->rows_apart + rail) + b->rows_apart / 5; /* not even a leaned one more */
        fewer.space += b->guide_from_edge - b->outer - fewer.width / 2;
        fewer.guide_is_length = false;
        fewer.guide = 0.5;
        if (fewer.space < 0)
            continue;
        tries++;
        if (verdict_if(t, &fewer, NULL) < BW_TIGHT)
            continue;
        would->rows = fit;
        return;
    }
}

static bool look_for(const bw_layout *layout, const bw_plan *plan, size_t band, bw_would *would) {
    trying t = {.layout = layout, .plan = plan, .index = band, .made = &plan->bands[band]};
    if (t.made->fit.verdict < BW_TIGHT && t.made->fit.verdict != BW_NO_ROOM)
        other_count(&t, would);
    switch (t.made->fit.verdict) {
    case BW_NO_ROOM:
        would->depth = depth_of(&t);
        break;
    case BW_LEGS_LONG:
        shorter_stamp(&t, would);
        break;
    case BW_FEET_COLLIDE:
        narrower_stamp(&t, would);
        break;
    case BW_BAND_TOO_WIDE:
        fewer_rows(&t, would);
        break;
    default:
        break;
    }
    return !t.no_memory;
}

const bw_would *bw_plan_would(const bw_layout *layout, const bw_plan *plan, size_t band) {
    if (band >= plan->band_count || band >= layout->band_count)
        return NULL;
    const bw_allocator *a = maths_plan_allocator(plan);
    maths_kept *kept = maths_plan_kept(plan, band);
    bw_would *there = atomic_load(&kept->would);
    if (there != NULL)
        return there;
    bw_would *made = maths_alloc(a, 1, sizeof *made);
    if (made == NULL ||
        (look_for(layout, plan, band, made) && atomic_compare_exchange_strong(&kept->would, &there, made)))
        return made;
    maths_release(a, made); /* no memory, or another thread was first */
    return there;
}
