/* moves_try.c: a change is planned anew, its band alone, which is cheap; what passes there with all bands. */
#include <math.h>
#include <string.h>

#include "bandwright/limits.h"
#include "maths/band.h"
#include "maths/knobs.h"
#include "maths/moves.h"

enum { REFUSALS = 8 }; /* so many harmful values and a way is given up */

/* ---- planning a candidate ---- */

static bw_layout changed(maths_search *s, const bw_change *change) {
    bw_layout layout = *s->layout;
    memcpy(s->bands, s->layout->bands, layout.band_count * sizeof *s->bands);
    layout.bands = s->bands;
    bw_change_apply(change, &layout, s->bands, s->corners);
    return layout;
}

/* The band alone, everything outside it as plain space. */
bool maths_plan_alone(maths_search *s, const bw_change *change, maths_trial *t) {
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
    bw_status status = bw_plan_again(&layout, s->plan, &s->allocator, &t->plan);
    if (status == BW_NO_MEMORY)
        s->status = status;
    return status == BW_OK;
}

static bool plan_whole(maths_search *s, const bw_change *change, maths_trial *t) {
    bw_layout layout = changed(s, change);
    t->band = s->band;
    bw_status status = bw_plan_again(&layout, s->plan, &s->allocator, &t->plan);
    if (status == BW_NO_MEMORY)
        s->status = status;
    return status == BW_OK;
}

/* ---- judging it ---- */

bool maths_warned(const bw_plan *plan, size_t band, bw_warning_kind kind) {
    for (size_t i = 0; i < plan->warning_count; i++)
        if (plan->warnings[i].band == band && plan->warnings[i].kind == kind)
            return true;
    return false;
}

double maths_gap_of(const bw_band_plan *band) {
    double gap = 0;
    for (size_t r = 0; r < band->run_count; r++)
        gap += fabs(band->runs[r].closure_gap);
    return gap;
}

bool maths_all_whole(const bw_band_plan *band) {
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

bool maths_keeps_working(const maths_search *s, const maths_trial *t) {
    const bw_band_plan *band = &t->plan->bands[t->band];
    if (band->fit.verdict == BW_NO_ROOM) /* a band that is gone has fewer warnings, too */
        return false;
    return no_worse(band->fit.verdict, s->plan->bands[s->band].fit.verdict);
}

/* Every run is struck as before: another overlap may only have moved what counts as usual, which mends no step. */
static bool struck_alike(const bw_band_plan *a, const bw_band_plan *b) {
    for (size_t r = 0; r < a->run_count && a->run_count == b->run_count; r++) {
        const bw_run_plan *one = &a->runs[r], *other = &b->runs[r];
        if (one->setting_count != other->setting_count)
            return false;
        for (size_t i = 0; i < one->setting_count; i++)
            if (one->settings[i].steps != other->settings[i].steps ||
                fabs(one->settings[i].step - other->settings[i].step) > BW_EPS)
                return false;
    }
    return a->run_count == b->run_count;
}

/* Is the band's warning gone, and not by name only? */
static bool is_gone(const maths_search *s, const maths_trial *t, bw_warning_kind kind) {
    bool by_name = kind == BW_WARN_STRETCH && struck_alike(&t->plan->bands[t->band], &s->plan->bands[s->band]);
    return !by_name && !maths_warned(t->plan, t->band, kind);
}

static void add_move(maths_search *s, bw_move move) {
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

/* Only a band that comes to work may be warned of in its place of something else. */
static bool brings_trouble(const maths_search *s, const maths_trial *t) {
    bool comes_to_work = s->wanted[BW_WARN_VERDICT] && !maths_warned(t->plan, t->band, BW_WARN_VERDICT);
    for (int kind = 0; kind < BW_WARN_TOOL_DIFFERS && !comes_to_work; kind++)
        if (maths_warned(t->plan, t->band, (bw_warning_kind)kind) &&
            !maths_warned(s->plan, s->band, (bw_warning_kind)kind))
            return true;
    return false;
}

/* No band stops working or fails worse, and there are no more warnings than before. */
bool maths_harmless(maths_search *s, const bw_change *change, const maths_trial *alone) {
    if (brings_trouble(s, alone))
        return false;
    if (concerns_one_band(change->knob))
        return warnings_of(alone->plan, alone->band) <= warnings_of(s->plan, s->band);
    maths_trial whole;
    if (!plan_whole(s, change, &whole))
        return false;
    bool good = whole.plan->warning_count <= s->plan->warning_count;
    for (size_t i = 0; i < whole.plan->band_count && good; i++)
        good = no_worse(whole.plan->bands[i].fit.verdict, s->plan->bands[i].fit.verdict);
    bw_plan_destroy(whole.plan);
    return good;
}

/* The move with what remains once it is made. */
void maths_take_in(maths_search *s, bw_move move, const maths_trial *t) {
    const bw_band_plan *band = &t->plan->bands[t->band];
    move.band = s->band;
    move.remaining_gap = maths_gap_of(band);
    move.worst_gap = band->run_count > 0 ? band->runs[bw_worst_run(band)].closure_gap : 0;
    move.run_count = band->run_count;
    for (int kind = 0; kind < BW_WARN_TOOL_DIFFERS; kind++)
        if (maths_warned(s->plan, s->band, (bw_warning_kind)kind) &&
            !maths_warned(t->plan, t->band, (bw_warning_kind)kind))
            move.gone |= 1u << kind;
    if (move.change.knob == BW_KNOB_COUNT) /* a count that is given is never told of so */
        move.gone &= ~(1u << BW_WARN_WANTED_COUNT);
    move.verdict = band->fit.verdict;
    move.count = band->run_count > 0 ? band->runs[0].count : 0;
    add_move(s, move);
}

/* ---- trying values ---- */

maths_hopes maths_hopes_of(const maths_search *s, bool whole_rows) {
    maths_hopes h = {.whole_rows = whole_rows, .left = whole_rows};
    for (int kind = 0; kind < BW_WARN_TOOL_DIFFERS; kind++) {
        h.kinds[kind] = s->wanted[kind];
        h.left += s->wanted[kind];
    }
    return h;
}

/* The first hope that a trial fulfils, as a move; counts how many it does. */
static int fulfilled(const maths_search *s, const maths_trial *t, const maths_hopes *h, maths_hopes *left,
                     bw_move *move) {
    int count = 0;
    *left = *h;
    if (!maths_keeps_working(s, t))
        return 0;
    for (int kind = 0; kind < BW_WARN_TOOL_DIFFERS; kind++) {
        if (!h->kinds[kind] || !is_gone(s, t, (bw_warning_kind)kind))
            continue;
        left->kinds[kind] = false;
        if (count++ == 0) {
            move->cures_warning = true;
            move->cures = (bw_warning_kind)kind;
        }
    }
    if (h->whole_rows && maths_all_whole(&t->plan->bands[t->band])) {
        left->whole_rows = false;
        move->whole_rows = count++ == 0;
    }
    left->left -= count;
    return count;
}

/* Tries one value; what it fulfils of the hopes becomes a move (if taken) and is done with. False if the value is no
 * layout. */
bool maths_try_change(maths_search *s, const bw_change *change, double size, maths_hopes *h, bool take) {
    maths_trial t;
    maths_hopes left;
    if (!maths_plan_alone(s, change, &t))
        return false;
    bw_move move = {.change = *change, .size = size};
    if (fulfilled(s, &t, h, &left, &move) > 0) {
        bool good = !take || maths_harmless(s, change, &t);
        if (good && take)
            maths_take_in(s, move, &t);
        if (good)
            *h = left;
        else if (++h->refused == REFUSALS)
            h->left = 0;
    }
    bw_plan_destroy(t.plan);
    return true;
}
