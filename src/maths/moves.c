/* Small changes that make a warning go. Every candidate is planned anew: first its band alone, which is cheap, and what
 * passes there with all bands. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/limits.h"
#include "maths/band.h"
#include "maths/knobs.h"

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
    REFUSALS = 8,     /* so many harmful values and a way is given up */
    COUNT_STEPS = 6,
    TOOLS_TRIED = 40,
    TOOLS_OFFERED = 2
};

typedef struct search {
    const bw_layout *layout;
    const bw_plan *plan;
    size_t band;
    bw_allocator allocator;
    bw_band *bands; /* scratch copies of the layout's */
    bw_corner *corners;
    bool wanted[BW_WARN_TOOL_DIFFERS]; /* warnings of the band that a move could cure */
    bw_move *moves;
    size_t count, room;
    size_t plans_left; /* trials that may still be made */
    bw_status status;
} search;

/* A plan with the change made. */
typedef struct trial {
    bw_plan *plan;
    size_t band; /* where the search's band is in it */
} trial;

/* ---- planning a candidate ---- */

static bw_layout changed(search *s, const bw_change *change) {
    bw_layout layout = *s->layout;
    memcpy(s->bands, s->layout->bands, layout.band_count * sizeof *s->bands);
    layout.bands = s->bands;
    bw_change_apply(change, &layout, s->bands, s->corners);
    return layout;
}

/* Trials take as long as the edge has pieces: so many that nobody waits. */
static size_t trials_of(const bw_plan *plan) {
    enum { PIECES_PLANNED = 300000, TRIALS_LEAST = 12 };
    size_t trials = PIECES_PLANNED / (bw_curve_pieces(plan->edge) + 1);
    return trials > TRIALS_LEAST ? trials : TRIALS_LEAST;
}

/* The band alone, everything outside it as plain space. */
static bool plan_alone(search *s, const bw_change *change, trial *t) {
    if (s->plans_left == 0)
        return false;
    s->plans_left--;
    bw_layout layout = changed(s, change);
    if (bw_layout_check(&layout) != BW_OK)
        return false;
    bw_band alone = s->bands[s->band];
    if (s->band > 0)
        alone.space += maths_strip_of(&layout, s->band - 1, 1).inner;
    if (alone.space > BW_BAND_MOST)
        return false;
    layout.bands = &alone;
    layout.band_count = 1;
    t->band = 0;
    bw_status status = bw_plan_create(&layout, &s->allocator, &t->plan);
    if (status == BW_NO_MEMORY)
        s->status = status;
    return status == BW_OK;
}

static bool plan_whole(search *s, const bw_change *change, trial *t) {
    bw_layout layout = changed(s, change);
    t->band = s->band;
    bw_status status = bw_plan_create(&layout, &s->allocator, &t->plan);
    if (status == BW_NO_MEMORY)
        s->status = status;
    return status == BW_OK;
}

/* ---- judging it ---- */

static bool warned(const bw_plan *plan, size_t band, bw_warning_kind kind) {
    for (size_t i = 0; i < plan->warning_count; i++)
        if (plan->warnings[i].band == band && plan->warnings[i].kind == kind)
            return true;
    return false;
}

static double gap_of(const bw_band_plan *band) {
    double gap = 0;
    for (size_t r = 0; r < band->run_count; r++)
        gap += fabs(band->runs[r].closure_gap);
    return gap;
}

static bool all_whole(const bw_band_plan *band) {
    for (size_t i = 0; i < band->row_count; i++)
        if (band->rows[i].leaned)
            return false;
    return band->row_count > 0 && fmax(band->bare_outer, band->bare_inner) <= BW_BARE_NOTED + BW_EPS;
}

static bool no_worse(bw_verdict now, bw_verdict before) {
    return now >= (before < BW_TIGHT ? before : BW_TIGHT);
}

static size_t warnings_of(const bw_plan *plan, size_t band) {
    size_t count = 0;
    for (size_t i = 0; i < plan->warning_count; i++)
        count += plan->warnings[i].band == band;
    return count;
}

/* From here on a knob moves nothing outside its own band. */
static bool concerns_one_band(bw_knob knob) {
    return knob >= BW_KNOB_GUIDE;
}

static bool keeps_working(const search *s, const trial *t) {
    return no_worse(t->plan->bands[t->band].fit.verdict, s->plan->bands[s->band].fit.verdict);
}

static void add_move(search *s, bw_move move) {
    enum { ROOM = 16 };
    if (s->count == s->room) {
        size_t room = s->room + ROOM;
        bw_move *grown = s->allocator.resize(s->allocator.context, s->moves, room * sizeof *grown);
        if (grown == NULL) {
            s->status = BW_NO_MEMORY;
            return;
        }
        s->moves = grown;
        s->room = room;
    }
    s->moves[s->count++] = move;
}

static bool same_change(const bw_change *a, const bw_change *b) {
    return a->knob == b->knob && a->band == b->band && a->value == b->value && a->number == b->number;
}

/* No band stops working or fails worse, and there are no more warnings than before. */
static bool harmless(search *s, const bw_change *change, const trial *alone) {
    if (concerns_one_band(change->knob))
        return warnings_of(alone->plan, alone->band) <= warnings_of(s->plan, s->band);
    trial whole;
    if (!plan_whole(s, change, &whole))
        return false;
    bool good = whole.plan->warning_count <= s->plan->warning_count;
    for (size_t i = 0; i < whole.plan->band_count && good; i++)
        good = no_worse(whole.plan->bands[i].fit.verdict, s->plan->bands[i].fit.verdict);
    bw_plan_destroy(whole.plan);
    return good;
}

/* The move with what remains once it is made. */
static void take_in(search *s, bw_move move, const trial *t) {
    const bw_band_plan *band = &t->plan->bands[t->band];
    move.band = s->band;
    move.remaining_gap = gap_of(band);
    move.verdict = band->fit.verdict;
    move.count = band->run_count > 0 ? band->runs[0].count : 0;
    add_move(s, move);
}

/* ---- trying values ---- */

/* What a knob may still cure, one way. */
typedef struct hopes {
    bool kinds[BW_WARN_TOOL_DIFFERS];
    bool whole_rows;
    int left;
    int refused; /* values that would have cured something here and done harm elsewhere */
} hopes;

static hopes hopes_of(const search *s, bool whole_rows) {
    hopes h = {.whole_rows = whole_rows, .left = whole_rows};
    for (int kind = 0; kind < BW_WARN_TOOL_DIFFERS; kind++) {
        h.kinds[kind] = s->wanted[kind];
        h.left += s->wanted[kind];
    }
    return h;
}

/* The first hope that a trial fulfils, as a move; counts how many it does. */
static int fulfilled(const search *s, const trial *t, const hopes *h, hopes *left, bw_move *move) {
    int count = 0;
    *left = *h;
    if (!keeps_working(s, t))
        return 0;
    for (int kind = 0; kind < BW_WARN_TOOL_DIFFERS; kind++) {
        if (!h->kinds[kind] || warned(t->plan, t->band, (bw_warning_kind)kind))
            continue;
        left->kinds[kind] = false;
        if (count++ == 0) {
            move->cures_warning = true;
            move->cures = (bw_warning_kind)kind;
        }
    }
    if (h->whole_rows && all_whole(&t->plan->bands[t->band])) {
        left->whole_rows = false;
        move->whole_rows = count++ == 0;
    }
    left->left -= count;
    return count;
}

/* Tries one value; what it fulfils of the hopes becomes a move (if taken) and is done with. False if the value is no
 * layout. */
static bool try_change(search *s, const bw_change *change, double size, hopes *h, bool take) {
    trial t;
    hopes left;
    if (!plan_alone(s, change, &t))
        return false;
    bw_move move = {.change = *change, .size = size};
    if (fulfilled(s, &t, h, &left, &move) > 0) {
        bool good = !take || harmless(s, change, &t);
        if (good && take)
            take_in(s, move, &t);
        if (good)
            *h = left;
        else if (++h->refused == REFUSALS)
            h->left = 0;
    }
    bw_plan_destroy(t.plan);
    return true;
}

/* Grid values next to one another on a side of the value now: way 1 or -1, k from 1. */
static double grid_value(double now, double grid, int way, int k) {
    return way > 0 ? (floor(now / grid + BW_EPS) + k) * grid : (ceil(now / grid - BW_EPS) - k) * grid;
}

/* One way along the grid: every value near by, farther out in growing strides. What a stride has stepped over is looked
 * at value by value once something is found, so that the smallest change counts. */
static void try_way(search *s, bw_knob knob, double now, double grid, double trouble, int way, hopes h) {
    bool many = bw_curve_pieces(s->plan->edge) > MANY_PIECES;
    int near = many ? NEAR_STEPS_MANY : NEAR_STEPS, stride = many ? STRIDE_MANY : STRIDE;
    int behind = 0; /* tried, nothing found between it and the last finding */
    for (int k = 1; k <= GRID_STEPS && h.left > 0 && s->status == BW_OK;) {
        bw_change change = {.knob = knob, .band = s->band, .value = grid_value(now, grid, way, k)};
        double size = fabs(change.value - now) * trouble;
        hopes found = h;
        if (change.value < 0)
            return;
        if (k - behind > 1) { /* a stride: only look, and take the first value that does as much */
            if (!try_change(s, &change, size, &found, false))
                return;
            for (int i = behind + 1; i <= k && found.left < h.left && s->status == BW_OK; i++) {
                change.value = grid_value(now, grid, way, i);
                try_change(s, &change, fabs(change.value - now) * trouble, &h, true);
            }
        } else if (!try_change(s, &change, size, &h, true))
            return;
        behind = k;
        k += k < near ? 1 : k / stride;
    }
}

/* Corners of which only the least rounded change can only be rounded more. */
static int last_way(const search *s, bw_knob knob) {
    return knob == BW_KNOB_CORNER && maths_corners_only_grow(&s->layout->outline) ? 1 : -1;
}

static void try_lengths(search *s, bw_knob knob, double now, double grid, double trouble) {
    const bw_band_plan *band = &s->plan->bands[s->band];
    bool leans = band->fill == BW_FILL_BASKET && band->fit.verdict >= BW_TIGHT && !all_whole(band);
    for (int way = 1; way >= last_way(s, knob); way -= 2)
        try_way(s, knob, now, grid, trouble, way, hopes_of(s, knob == BW_KNOB_BAND_WIDTH && leans));
}

/* The grid value, not far off, that leaves the least closure gap. */
static void try_closing(search *s, bw_knob knob, double now, double grid) {
    double gap = gap_of(&s->plan->bands[s->band]), least = gap * GAP_BETTER;
    bw_change best = {.knob = BW_KNOB_COUNT_OF_KNOBS};
    if (gap <= GAP_NOTED || s->plan->bands[s->band].fit.verdict < BW_TIGHT) /* first it must work at all */
        return;
    for (int k = 1; k <= CLOSE_STEPS && s->status == BW_OK; k++)
        for (int way = 1; way >= last_way(s, knob); way -= 2) {
            bw_change change = {.knob = knob, .band = s->band, .value = grid_value(now, grid, way, k)};
            trial t;
            if (change.value < 0 || !plan_alone(s, &change, &t))
                continue;
            double left = gap_of(&t.plan->bands[t.band]);
            if (left < least - BW_EPS && keeps_working(s, &t)) {
                least = left;
                best = change;
            }
            bw_plan_destroy(t.plan);
        }
    trial t;
    if (best.knob != knob || !plan_alone(s, &best, &t))
        return;
    if (harmless(s, &best, &t))
        take_in(s, (bw_move){.closes = true, .change = best, .size = fabs(best.value - now)}, &t);
    bw_plan_destroy(t.plan);
}

static void try_counts(search *s, int now) {
    const bw_band_plan *band = &s->plan->bands[s->band];
    if (band->run_count != 1 || band->runs[0].count == 0) /* one number would hold for every run */
        return;
    hopes h = hopes_of(s, false);
    int multiple = maths_multiple(&s->layout->bands[s->band], band->runs[0].closed), count = band->runs[0].count;
    bw_change change = {.knob = BW_KNOB_COUNT, .band = s->band};
    if (now != 0)
        try_change(s, &change, COUNT_TROUBLE, &h, true);
    for (int k = 1; k <= COUNT_STEPS; k++)
        for (int way = 1; way >= -1; way -= 2) {
            change.number = (count / multiple + way * k) * multiple;
            if (change.number > 0 && h.left > 0)
                try_change(s, &change, COUNT_TROUBLE * (k + 1), &h, true);
        }
}

static void try_tools(search *s) {
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
            hopes h = {.left = 1};
            h.kinds[kind] = true;
            bw_change change = {.knob = BW_KNOB_TOOL, .band = s->band, .number = ranks[i].tool};
            if (ranks[i].tool != s->layout->bands[s->band].tool)
                try_change(s, &change, TOOL_TROUBLE + (double)i, &h, true);
            offered += h.left == 0;
        }
    }
    bw_ranks_release(ranks, &s->allocator);
}

static void try_losing_evenly(search *s) {
    hopes h = hopes_of(s, false);
    bw_change change = {.knob = BW_KNOB_LOSE, .band = s->band, .number = BW_LOSE_EVEN};
    if (s->layout->bands[s->band].lose != BW_LOSE_EVEN)
        try_change(s, &change, LOSE_TROUBLE, &h, true);
}

static void try_overlaps(search *s, double leg, double usual) {
    double now = s->layout->bands[s->band].overlap;
    try_lengths(s, BW_KNOB_OVERLAP, isnan(now) ? usual : now, OVERLAP_GRID, leg);
}

/* Something a move could make go: estimates and contradictory measurements only the maker can mend. */
static bool curable(bw_warning_kind kind) {
    return kind != BW_WARN_ESTIMATED && kind != BW_WARN_STEPS_FACE;
}

static void try_knob(search *s, bw_knob knob) {
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

static int compare(const void *left, const void *right) {
    const bw_move *a = left, *b = right;
    if (a->band != b->band)
        return a->band < b->band ? -1 : 1;
    if (a->size != b->size)
        return a->size < b->size ? -1 : 1;
    if (a->change.knob != b->change.knob)
        return (int)a->change.knob - (int)b->change.knob;
    return purpose(a) - purpose(b);
}

/* A change that cures several warnings stands once, under the first of them. */
static void drop_repeats(search *s) {
    size_t kept = 0;
    for (size_t i = 0; i < s->count; i++) {
        bool again = false;
        for (size_t k = 0; k < kept && !again; k++)
            again = s->moves[k].band == s->moves[i].band && same_change(&s->moves[k].change, &s->moves[i].change);
        if (!again)
            s->moves[kept++] = s->moves[i];
    }
    s->count = kept;
}

static void search_band(search *s, size_t band) {
    s->band = band;
    if (s->plan->bands[band].fill == BW_FILL_PLAIN && s->plan->bands[band].fit.verdict == BW_GOOD)
        return;
    for (int kind = 0; kind < BW_WARN_TOOL_DIFFERS; kind++)
        s->wanted[kind] = curable((bw_warning_kind)kind) && warned(s->plan, band, (bw_warning_kind)kind);
    for (int knob = 0; knob < BW_KNOB_COUNT_OF_KNOBS && s->status == BW_OK; knob++)
        if (knob < BW_KNOB_SPACE || s->plan->bands[band].fill != BW_FILL_PLAIN || knob <= BW_KNOB_BAND_WIDTH)
            try_knob(s, (bw_knob)knob);
}

bw_status bw_moves_create(const bw_layout *layout, const bw_plan *plan, size_t band, const bw_allocator *allocator,
                          bw_move **moves, size_t *count) {
    search s = {.layout = layout, .plan = plan, .allocator = maths_allocator(allocator)};
    *moves = NULL;
    *count = 0;
    s.bands = maths_alloc(&s.allocator, layout->band_count, sizeof *s.bands);
    s.corners = maths_alloc(&s.allocator, layout->outline.corner_count, sizeof *s.corners);
    if (s.bands == NULL || s.corners == NULL) {
        maths_release(&s.allocator, s.bands);
        maths_release(&s.allocator, s.corners);
        return BW_NO_MEMORY;
    }
    for (size_t i = 0; i < layout->band_count && s.status == BW_OK; i++) {
        s.plans_left = trials_of(plan);
        if (band == SIZE_MAX || band == i)
            search_band(&s, i);
    }
    maths_release(&s.allocator, s.bands);
    maths_release(&s.allocator, s.corners);
    if (s.status != BW_OK) {
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

void bw_moves_release(bw_move *moves, const bw_allocator *allocator) {
    bw_allocator a = maths_allocator(allocator);
    maths_release(&a, moves);
}
