/* Small changes that make a warning go: which values of which knobs are tried, and the list of what was found. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "maths/band.h"
#include "maths/knobs.h"
#include "maths/moves.h"

#define OVERLAP_GRID 0.01 /* shares are set by hundredths */
#define GAP_NOTED 0.1     /* mm of closure gap below which nothing is offered to close it */
#define GAP_BETTER 0.5    /* a closing move leaves less than this share of the gap */
#define TOOL_TROUBLE 5.0  /* another tool is as much trouble as moving a line by this many mm */
#define COUNT_TROUBLE 0.1 /* likewise, mm */
#define LOSE_TROUBLE 0.25 /* likewise, mm */
enum {
    GRID_STEPS = 400,  /* how far a length is tried, each way */
    NEAR_STEPS = 32,   /* so far one by one, then in strides of a share of the way */
    STRIDE = 10,       /* which is one in so many */
    MANY_PIECES = 256, /* an edge of more takes its time to plan: fewer values, longer strides */
    NEAR_STEPS_MANY = 8,
    STRIDE_MANY = 3,
    CLOSE_STEPS = 14, /* how far to close a gap: more would change the count instead */
    COUNT_STEPS = 6,
    TOOLS_TRIED = 40,
    TOOLS_OFFERED = 2
};

/* Trials take as long as the edge has pieces: for each knob so many that nobody waits. */
static size_t trials_of(const bw_plan *plan) {
    enum { PIECES_PLANNED = 90000, TRIALS_LEAST = 12 };
    size_t trials = PIECES_PLANNED / (bw_curve_pieces(plan->edge) + 1);
    return trials > TRIALS_LEAST ? trials : TRIALS_LEAST;
}

/* One way along the grid: every value near by, farther out in growing strides. What a stride has stepped over is looked
 * at value by value once something is found, so that the smallest change counts. */
static void try_way(maths_search *s, bw_knob knob, double now, double grid, double trouble, int way, maths_hopes h) {
    bool many = bw_curve_pieces(s->plan->edge) > MANY_PIECES;
    int near = many ? NEAR_STEPS_MANY : NEAR_STEPS, stride = many ? STRIDE_MANY : STRIDE;
    int behind = 0; /* tried, nothing found between it and the last finding */
    for (int k = 1; k <= GRID_STEPS && h.left > 0 && s->status == BW_OK;) {
        bw_change change = {.knob = knob, .band = s->band, .value = maths_grid_value(now, grid, way, k)};
        double size = fabs(change.value - now) * trouble;
        maths_hopes found = h;
        if (change.value < 0)
            return;
        if (k - behind > 1) { /* a stride: only look, and take the first value that does as much */
            if (!maths_try_change(s, &change, size, &found, false))
                return;
            for (int i = behind + 1; i <= k && found.left < h.left && s->status == BW_OK; i++) {
                change.value = maths_grid_value(now, grid, way, i);
                maths_try_change(s, &change, fabs(change.value - now) * trouble, &h, true);
            }
        } else if (!maths_try_change(s, &change, size, &h, true))
            return;
        behind = k;
        k += k < near ? 1 : k / stride;
    }
}

/* Corners of which only the least rounded change can only be rounded more. */
static int last_way(const maths_search *s, bw_knob knob) {
    return knob == BW_KNOB_CORNER && maths_corners_only_grow(&s->layout->outline) ? 1 : -1;
}

static void try_lengths(maths_search *s, bw_knob knob, double now, double grid, double trouble) {
    const bw_band_plan *band = &s->plan->bands[s->band];
    bool leans = band->fill == BW_FILL_BASKET && band->fit.verdict >= BW_TIGHT && !maths_all_whole(band);
    for (int way = 1; way >= last_way(s, knob); way -= 2)
        try_way(s, knob, now, grid, trouble, way, maths_hopes_of(s, knob == BW_KNOB_BAND_WIDTH && leans));
}

/* The grid value, not far off, that leaves the least closure gap. */
static void try_closing(maths_search *s, bw_knob knob, double now, double grid) {
    double gap = maths_gap_of(&s->plan->bands[s->band]), least = gap * GAP_BETTER;
    bw_change best = {.knob = BW_KNOB_COUNT_OF_KNOBS};
    if (gap <= GAP_NOTED || s->plan->bands[s->band].fit.verdict < BW_TIGHT) /* first it must work at all */
        return;
    for (int k = 1; k <= CLOSE_STEPS && s->status == BW_OK; k++)
        for (int way = 1; way >= last_way(s, knob); way -= 2) {
            bw_change change = {.knob = knob, .band = s->band, .value = maths_grid_value(now, grid, way, k)};
            maths_trial t;
            if (change.value < 0 || !maths_plan_alone(s, &change, &t))
                continue;
            double left = maths_gap_of(&t.plan->bands[t.band]);
            if (left < least - BW_EPS && maths_keeps_working(s, &t)) {
                least = left;
                best = change;
            }
            bw_plan_destroy(t.plan);
        }
    maths_trial t;
    if (best.knob != knob || !maths_plan_alone(s, &best, &t))
        return;
    if (maths_harmless(s, &best, &t))
        maths_take_in(s, (bw_move){.closes = true, .change = best, .size = fabs(best.value - now)}, &t);
    bw_plan_destroy(t.plan);
}

static void try_counts(maths_search *s, int now) {
    const bw_band_plan *band = &s->plan->bands[s->band];
    if (band->run_count != 1 || band->runs[0].count == 0) /* one number would hold for every run */
        return;
    maths_hopes h = maths_hopes_of(s, false);
    h.left -= h.kinds[BW_WARN_WANTED_COUNT]; /* which is never told of a count that is given: nothing would be better */
    h.kinds[BW_WARN_WANTED_COUNT] = false;
    int multiple = maths_multiple(&s->layout->bands[s->band], band->runs[0].closed), count = band->runs[0].count;
    bw_change change = {.knob = BW_KNOB_COUNT, .band = s->band};
    if (now != 0)
        maths_try_change(s, &change, COUNT_TROUBLE, &h, true);
    for (int k = 1; k <= COUNT_STEPS; k++)
        for (int way = 1; way >= -1; way -= 2) {
            change.number = (count / multiple + way * k) * multiple;
            if (change.number > 0 && h.left > 0)
                maths_try_change(s, &change, COUNT_TROUBLE * (k + 1), &h, true);
        }
}

static void try_tools(maths_search *s) {
    bw_rank *ranks;
    size_t count;
    bw_status status = bw_rank_tools(s->layout, s->band, &s->allocator, &ranks, &count);
    if (status != BW_OK) {
        s->status = status;
        return;
    }
    for (int kind = 0; kind < BW_WARN_TOOL_DIFFERS; kind++) {
        int offered = 0;
        for (size_t i = 0; i < count && i < TOOLS_TRIED && offered < TOOLS_OFFERED && s->wanted[kind]; i++) {
            maths_hopes h = {.left = 1};
            h.kinds[kind] = true;
            bw_change change = {.knob = BW_KNOB_TOOL, .band = s->band, .number = ranks[i].tool};
            if (ranks[i].tool != s->layout->bands[s->band].tool)
                maths_try_change(s, &change, TOOL_TROUBLE + (double)i, &h, true);
            offered += h.left == 0;
        }
    }
    bw_ranks_release(ranks, &s->allocator);
}

static void try_losing_evenly(maths_search *s) {
    maths_hopes h = maths_hopes_of(s, false);
    bw_change change = {.knob = BW_KNOB_LOSE, .band = s->band, .number = BW_LOSE_EVEN};
    if (s->layout->bands[s->band].lose != BW_LOSE_EVEN)
        maths_try_change(s, &change, LOSE_TROUBLE, &h, true);
}

static void try_overlaps(maths_search *s, double leg, double usual) {
    double now = s->layout->bands[s->band].overlap;
    try_lengths(s, BW_KNOB_OVERLAP, isnan(now) ? usual : now, OVERLAP_GRID, leg);
}

/* Something a move could make go: estimates and contradictory measurements only the maker can mend. */
bool bw_warning_curable(bw_warning_kind kind) {
    return kind < BW_WARN_STEPS_FACE;
}

static void try_knob(maths_search *s, bw_knob knob) {
    const bw_band_plan *band = &s->plan->bands[s->band];
    double now = bw_knob_value(s->layout, knob, s->band);
    if (maths_knob_fixed(s->layout, knob, s->band))
        return;
    switch (knob) {
    case BW_KNOB_SWEEP:
    case BW_KNOB_COUNT_OF_KNOBS:
        return;
    case BW_KNOB_OVERLAP:
        if (band->fill == BW_FILL_BASKET)
            try_overlaps(s, band->face.leg, band->overlap);
        return;
    case BW_KNOB_COUNT:
        try_counts(s, (int)now);
        return;
    case BW_KNOB_LOSE:
        try_losing_evenly(s);
        return;
    case BW_KNOB_TOOL:
        try_tools(s);
        return;
    default:
        if (isnan(now))
            return;
        try_lengths(s, knob, now, s->layout->grid, 1);
        try_closing(s, knob, now, s->layout->grid);
    }
}

/* ---- the list ---- */

static int purpose(const bw_move *m) {
    return m->cures_warning ? (int)m->cures : m->closes ? BW_WARN_TOOL_DIFFERS : BW_WARN_TOOL_DIFFERS + 1;
}

#define SHOWS (1u << BW_WARN_STRETCH | 1u << BW_WARN_JUMP) /* steps that show: what leaves them mends little */

int bw_move_compare(const bw_move *a, const bw_move *b) {
    bool works[2] = {a->verdict >= BW_TIGHT, b->verdict >= BW_TIGHT};
    if (a->band != b->band)
        return a->band < b->band ? -1 : 1;
    if (works[0] != works[1])
        return works[0] ? -1 : 1;
    bool mends[2] = {(a->gone & SHOWS) != 0, (b->gone & SHOWS) != 0};
    if (mends[0] != mends[1])
        return mends[0] ? -1 : 1;
    if (a->size != b->size)
        return a->size < b->size ? -1 : 1;
    if (a->change.knob != b->change.knob)
        return (int)a->change.knob - (int)b->change.knob;
    if (a->change.value != b->change.value)
        return a->change.value < b->change.value ? -1 : 1;
    if (a->change.number != b->change.number)
        return a->change.number < b->change.number ? -1 : 1;
    return purpose(a) - purpose(b);
}

static int compare(const void *left, const void *right) {
    return bw_move_compare(left, right);
}

static bool same_change(const bw_change *a, const bw_change *b) {
    return a->knob == b->knob && a->band == b->band && a->value == b->value && a->number == b->number;
}

/* A change that cures several warnings stands once, under the first of them. */
static void drop_repeats(maths_search *s) {
    size_t kept = 0;
    for (size_t i = 0; i < s->count; i++) {
        bool again = false;
        for (size_t k = 0; k < kept && !again; k++)
            again = same_change(&s->moves[k].change, &s->moves[i].change);
        if (!again)
            s->moves[kept++] = s->moves[i];
    }
    s->count = kept;
}

static bool concerns(const bw_plan *plan, size_t band, bw_knob knob) {
    const bw_band_plan *b = &plan->bands[band];
    if (b->fill == BW_FILL_PLAIN)
        return b->fit.verdict != BW_GOOD && knob <= BW_KNOB_BAND_WIDTH;
    return true;
}

static bw_status search_knob(maths_search *s, bw_knob knob) {
    s->bands = maths_alloc(&s->allocator, s->layout->band_count, sizeof *s->bands);
    s->corners = maths_alloc(&s->allocator, s->layout->outline.corner_count, sizeof *s->corners);
    if (s->bands == NULL || s->corners == NULL)
        s->status = BW_NO_MEMORY;
    else
        try_knob(s, knob);
    maths_release(&s->allocator, s->bands);
    maths_release(&s->allocator, s->corners);
    return s->status;
}

bw_status bw_moves_of_knob(const bw_layout *layout, const bw_plan *plan, size_t band, bw_knob knob,
                           const bw_allocator *allocator, bw_move **moves, size_t *count) {
    maths_search s = {.layout = layout,
                      .plan = plan,
                      .band = band,
                      .allocator = maths_allocator(allocator),
                      .plans_left = trials_of(plan)};
    *moves = NULL;
    *count = 0;
    if (!concerns(plan, band, knob))
        return BW_OK;
    for (int kind = 0; kind < BW_WARN_TOOL_DIFFERS; kind++)
        s.wanted[kind] = bw_warning_curable((bw_warning_kind)kind) && maths_warned(plan, band, (bw_warning_kind)kind);
    if (search_knob(&s, knob) != BW_OK) {
        maths_release(&s.allocator, s.moves);
        return s.status;
    }
    if (s.count > 0)
        qsort(s.moves, s.count, sizeof *s.moves, compare);
    drop_repeats(&s);
    *moves = s.moves;
    *count = s.count;
    return BW_OK;
}

/* Adds a list, which is released, to another. */
static bw_status join(bw_move **all, size_t *count, bw_move *more, size_t more_count, const bw_allocator *a) {
    if (more_count == 0)
        return BW_OK;
    bw_move *grown = a->resize(a->context, *all, (*count + more_count) * sizeof *grown);
    if (grown != NULL) {
        memcpy(grown + *count, more, more_count * sizeof *more);
        *all = grown;
        *count += more_count;
    }
    maths_release(a, more);
    return grown != NULL ? BW_OK : BW_NO_MEMORY;
}

bw_status bw_moves_create(const bw_layout *layout, const bw_plan *plan, size_t band, const bw_allocator *allocator,
                          bw_move **moves, size_t *count) {
    bw_allocator a = maths_allocator(allocator);
    bw_status status = BW_OK;
    *moves = NULL;
    *count = 0;
    for (size_t i = 0; i < layout->band_count && status == BW_OK; i++)
        for (int knob = 0; knob < BW_KNOB_COUNT_OF_KNOBS && status == BW_OK && (band == SIZE_MAX || band == i);
             knob++) {
            bw_move *found;
            size_t found_count;
            status = bw_moves_of_knob(layout, plan, i, (bw_knob)knob, &a, &found, &found_count);
            if (status == BW_OK)
                status = join(moves, count, found, found_count, &a);
        }
    if (status != BW_OK) {
        maths_release(&a, *moves);
        *moves = NULL;
        *count = 0;
    } else if (*count > 0)
        qsort(*moves, *count, sizeof **moves, compare);
    return status;
}

void bw_moves_release(bw_move *moves, const bw_allocator *allocator) {
    bw_allocator a = maths_allocator(allocator);
    maths_release(&a, moves);
}
