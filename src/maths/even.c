/* The whole-piece search: number of changes by number of changes, for each the outline's sizes by how far they move,
 * for each of those the ways through the bands. */
#include "bandwright/even.h"

#include <math.h>
#include <string.h>

#include "maths/even.h"

enum {
    LEVELS_BEYOND = 1, /* answers with so many more changes than the best has are looked for, too */
    RUN_TRIALS = 200   /* between two questions whether to go on */
};

void bw_even_wish_init(bw_even_wish *wish) {
    *wish = (bw_even_wish){.within = BW_EVEN_WITHIN,
                           .limit = BW_VISIBLE_CHANGE,
                           .fit = BW_GOOD,
                           .answers = BW_EVEN_ANSWERS,
                           .trials = BW_EVEN_TRIALS};
}

static bool wish_ok(const bw_layout *layout, const bw_even_wish *w) {
    double most = BW_EVEN_STEPS_MOST * layout->grid * (1 + BW_EPS);
    bool fine = w->within > 0 && w->within <= most && w->limit > 0 && isfinite(w->limit) &&
                (w->fit == BW_GOOD || w->fit == BW_TIGHT) && w->answers >= 1 && w->answers <= BW_EVEN_ANSWERS_MOST;
    for (size_t i = 0; fine && w->knobs != NULL && i < w->knob_count; i++) {
        const bw_even_knob *k = &w->knobs[i];
        double now = bw_knob_value(layout, k->knob, k->band), low = now - most, high = now + most;
        fine = k->knob <= BW_KNOB_GUIDE && k->knob != BW_KNOB_SWEEP && !(k->least < low) && !(k->least > high) &&
               !(k->most < low) && !(k->most > high) && !(k->least > k->most);
    }
    return fine;
}

static bool note_warnings(bw_even *s) {
    bw_plan *plan;
    s->status = bw_plan_create(&s->layout, &s->allocator, &plan);
    for (size_t i = 0; s->status == BW_OK && i < s->layout.band_count; i++)
        s->warned[i] = even_warnings(plan, i);
    bw_plan_destroy(plan);
    return s->status == BW_OK;
}

/* Copies of all that is changed, and the values that may move. */
static bool fill(bw_even *s) {
    size_t bands = s->layout.band_count, corners = s->layout.outline.corner_count;
    s->bands = maths_take(&s->arena, bands, sizeof *s->bands);
    s->warned = maths_take(&s->arena, bands, sizeof *s->warned);
    s->scratch = maths_take(&s->arena, bands, sizeof *s->scratch);
    s->corners = maths_take(&s->arena, corners, sizeof *s->corners);
    s->list = maths_take(&s->arena, BW_EVEN_ANSWERS_MOST, sizeof *s->list);
    if (s->arena.failed)
        return false;
    if (bands > 0) /* else there need be no list to copy from */
        memcpy(s->bands, s->layout.bands, bands * sizeof *s->bands);
    s->layout.bands = s->bands;
    bool fine = note_warnings(s) && even_knobs_make(s) && even_edges_make(s);
    s->wish.knobs = NULL; /* the caller's */
    s->most = s->wish.changes > 0 && s->wish.changes < s->knob_count ? s->wish.changes : s->knob_count;
    return fine;
}

bw_status bw_even_create(const bw_layout *layout, const bw_even_wish *wish, const bw_allocator *allocator,
                         bw_even **search) {
    *search = NULL;
    bw_status status = bw_layout_check(layout);
    if (status == BW_OK && !wish_ok(layout, wish))
        status = BW_BAD_VALUE;
    if (status != BW_OK)
        return status;
    bw_allocator a = maths_allocator(allocator);
    bw_even *s = maths_alloc(&a, 1, sizeof *s);
    if (s == NULL)
        return BW_NO_MEMORY;
    s->allocator = a;
    s->layout = *layout;
    s->wish = *wish;
    maths_arena_init(&s->arena, &a);
    if (!fill(s)) {
        status = s->status != BW_OK ? s->status : BW_NO_MEMORY;
        bw_even_destroy(s);
        return status;
    }
    *search = s;
    return BW_OK;
}

void bw_even_destroy(bw_even *s) {
    if (s == NULL)
        return;
    if (s->edge_open)
        even_trial_close(s);
    even_told_free(s);
    even_ways_free(s);
    even_facts_free(s, &s->home);
    even_facts_free(s, &s->away);
    maths_arena_free(&s->arena);
    bw_allocator a = s->allocator;
    maths_release(&a, s);
}

/* ---- going on ---- */

/* Can the sizes be part of an answer with so many changes, and of one that is still wanted? */
static bool worth_it(const bw_even *s, const even_edge *edge) {
    return edge->changes <= s->level && s->level - edge->changes <= s->knobs_from[0] && !even_told_full(s, edge->total);
}

/* All that a level holds was looked at. */
static void end_level(bw_even *s) {
    bool all_sizes = s->level <= s->edge_changes || s->edge_changes == s->edge_knobs;
    if (s->looked == s->level && all_sizes)
        s->looked++;
    even_told_settle(s);
    size_t first = s->count > 0 ? s->told[0].answer.change_count : s->level;
    s->done = s->count == s->wish.answers || s->level == s->most ||
              (s->count > 0 && (first == 0 || s->level >= first + LEVELS_BEYOND));
    s->level++;
    s->edge_at = 0;
}

/* The next thing to do. */
static void go_on(bw_even *s) {
    const even_edge *edge = &s->edges[s->edge_at];
    if (s->edge_at == s->edge_count) {
        end_level(s);
    } else if (!s->edge_open) {
        if (worth_it(s, edge) && even_trial_open(s, edge)) {
            s->edge_open = true;
            even_ways_begin(s, edge);
        } else
            s->edge_at++;
    } else if (!even_ways_step(s, edge)) {
        even_trial_close(s);
        s->edge_open = false;
        s->edge_at++;
    }
}

bw_status bw_even_step(bw_even *s, size_t trials) {
    size_t until = s->trials + trials;
    do {
        if (!s->done)
            go_on(s);
        if (s->status != BW_OK || (s->wish.trials > 0 && s->trials >= s->wish.trials))
            s->done = true;
    } while (!s->done && s->trials < until);
    return s->status;
}

bw_status bw_even_run(bw_even *s, bool (*go)(void *context, const bw_even_found *so_far), void *context) {
    while (!s->done) {
        bw_status status = bw_even_step(s, RUN_TRIALS);
        bw_even_found found = bw_even_result(s);
        if (status != BW_OK)
            return status;
        if (go != NULL && !go(context, &found))
            break;
    }
    return s->status;
}

bw_even_found bw_even_result(const bw_even *s) {
    for (size_t i = 0; i < s->count; i++)
        s->list[i] = s->told[i].answer;
    size_t needs = s->count > 0 ? s->told[0].answer.change_count : s->most;
    return (bw_even_found){.answers = s->list,
                           .count = s->count,
                           .done = s->done,
                           .best = s->looked > needs,
                           .looked = s->looked,
                           .looking = s->level,
                           .share = s->edge_count > 0 ? (double)s->edge_at / (double)s->edge_count : 1,
                           .knobs = s->knob_count,
                           .trials = s->trials};
}
