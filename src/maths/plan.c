/* The whole plan: edge, bands, lines in the order in which dividers are set, warnings. */
#include <math.h>

#include "maths/kept.h"
#include "maths/warn.h"

/* What a user of the plan wants kept with it. */
typedef struct keepsake {
    void *made;
    void (*release)(void *made);
} keepsake;

/* A plan, the arena that holds all of it, and what it was made of. */
typedef struct whole {
    bw_plan plan;
    maths_arena arena;
    maths_edge edge;
    maths_kept *bands;
    _Atomic(keepsake *) keepsake;
} whole;

double bw_on_grid(double length, double grid) {
    return floor(length / grid + 0.5 + BW_EPS) * grid;
}

static void add_line(bw_plan *plan, bw_line_plan line) {
    size_t i = plan->line_count++;
    for (; i > 0 && plan->lines[i - 1].from_edge > line.from_edge + BW_EPS; i--) /* equal ones keep their order */
        plan->lines[i] = plan->lines[i - 1];
    plan->lines[i] = line;
}

static void add_border_line(bw_plan *plan, bw_line_plan line, const bw_border_line *how, double grid) {
    if (how->line == BW_MARK_NONE)
        return;
    line.what = how->line == BW_MARK_CUT ? BW_DO_CUT : BW_DO_SCRIBE;
    line.bevel = how->bevel;
    line.set_to = bw_on_grid(line.from_edge, grid);
    add_line(plan, line);
}

static void add_lines(bw_plan *plan, const maths_worked *work, size_t band, double grid) {
    const bw_band *b = work->band;
    const maths_strip *strip = &work->strip;
    add_border_line(plan,
                    (bw_line_plan){.band = band,
                                   .which = BW_OUTER,
                                   .from_edge = strip->outer,
                                   .length = bw_curve_length(work->outer),
                                   .loops = bw_curve_loops(work->outer)},
                    &b->outer, grid);
    if (b->fill != BW_FILL_PLAIN)
        add_line(plan, (bw_line_plan){.band = band,
                                      .which = BW_GUIDE,
                                      .from_edge = strip->guide,
                                      .length = bw_curve_length(work->guide.curve),
                                      .loops = bw_curve_loops(work->guide.curve),
                                      .what = b->fill == BW_FILL_STITCH ? BW_DO_STITCH : BW_DO_SCRIBE,
                                      .set_to = bw_on_grid(strip->guide, grid)});
    add_border_line(plan,
                    (bw_line_plan){.band = band,
                                   .which = BW_INNER,
                                   .from_edge = strip->inner,
                                   .length = bw_curve_length(work->inner),
                                   .loops = bw_curve_loops(work->inner)},
                    &b->inner, grid);
}

static bool plan_band(whole *made, const bw_layout *layout, size_t band) {
    bw_plan *plan = &made->plan;
    maths_kept *kept = &made->bands[band];
    if (!maths_band_make(&kept->work, layout, &made->edge, band, &made->arena) ||
        !maths_band_report(&plan->bands[band], &kept->work, &made->arena))
        return false;
    add_lines(plan, &kept->work, band, layout->grid);
    maths_warn(plan, layout, &kept->work, band);
    kept->work.band = NULL; /* the layout may go before the plan */
    return true;
}

static bw_status fill(whole *made, const bw_layout *layout, const whole *before) {
    enum { LINES_A_BAND = 3 };
    bw_plan *plan = &made->plan;
    maths_arena *arena = &made->arena;
    const maths_edge *edge = &made->edge;
    bw_status status = maths_edge_make(&made->edge, layout, before != NULL ? &before->edge : NULL, arena);
    plan->edge = edge->curve;
    if (status != BW_OK)
        return status;
    plan->start_along = edge->start;
    plan->length = bw_curve_length(edge->curve);
    plan->turning = bw_curve_turning(edge->curve);
    plan->least_radius = bw_curve_least_radius(edge->curve);
    made->bands = maths_take(arena, layout->band_count, sizeof *made->bands);
    plan->band_count = layout->band_count;
    plan->bands = maths_take(arena, layout->band_count, sizeof *plan->bands);
    plan->lines = maths_take(arena, layout->band_count * LINES_A_BAND, sizeof *plan->lines);
    plan->warnings = maths_take(arena, layout->band_count * MATHS_WARNINGS_A_BAND, sizeof *plan->warnings);
    for (size_t i = 0; i < layout->band_count && !arena->failed; i++)
        if (!plan_band(made, layout, i))
            return BW_NO_MEMORY;
    return arena->failed ? BW_NO_MEMORY : BW_OK;
}

bw_status bw_plan_create(const bw_layout *layout, const bw_allocator *allocator, bw_plan **plan) {
    return bw_plan_again(layout, NULL, allocator, plan);
}

bw_status bw_plan_again(const bw_layout *layout, const bw_plan *before, const bw_allocator *allocator, bw_plan **plan) {
    *plan = NULL;
    bw_status status = bw_layout_check(layout);
    if (status != BW_OK)
        return status;
    bw_allocator a = maths_allocator(allocator);
    whole *made = maths_alloc(&a, 1, sizeof *made);
    if (made == NULL)
        return BW_NO_MEMORY;
    maths_arena_init(&made->arena, &a);
    made->plan.memory = made;
    status = fill(made, layout, before != NULL ? before->memory : NULL);
    if (status != BW_OK) {
        bw_plan_destroy(&made->plan);
        return status;
    }
    *plan = &made->plan;
    return BW_OK;
}

void bw_plan_destroy(bw_plan *plan) {
    if (plan == NULL)
        return;
    whole *made = plan->memory;
    bw_allocator a = made->arena.allocator;
    for (size_t i = 0; i < plan->band_count && made->bands != NULL; i++) {
        maths_profile_destroy(atomic_load(&made->bands[i].profile));
        maths_release(&a, atomic_load(&made->bands[i].would));
        maths_release(&a, atomic_load(&made->bands[i].stamp));
        maths_band_free(&made->bands[i].work);
    }
    keepsake *sake = atomic_load(&made->keepsake);
    if (sake != NULL)
        sake->release(sake->made);
    maths_release(&a, sake);
    bw_curve_destroy(plan->edge);
    maths_arena_free(&made->arena);
    maths_release(&a, made);
}

void *bw_plan_keep(const bw_plan *plan, void *made, void (*release)(void *made)) {
    whole *all = plan->memory;
    keepsake *there = NULL, *sake = maths_alloc(&all->arena.allocator, 1, sizeof *sake);
    if (sake == NULL)
        return NULL;
    *sake = (keepsake){made, release};
    if (atomic_compare_exchange_strong(&all->keepsake, &there, sake))
        return made;
    maths_release(&all->arena.allocator, sake);
    return there->made;
}

void *bw_plan_keepsake(const bw_plan *plan) {
    whole *all = plan->memory;
    keepsake *sake = atomic_load(&all->keepsake);
    return sake != NULL ? sake->made : NULL;
}

maths_kept *maths_plan_kept(const bw_plan *plan, size_t band) {
    whole *made = plan->memory;
    return &made->bands[band];
}

const bw_allocator *maths_plan_allocator(const bw_plan *plan) {
    whole *made = plan->memory;
    return &made->arena.allocator;
}

bool bw_plan_works(const bw_plan *plan) {
    for (size_t i = 0; i < plan->band_count; i++)
        if (plan->bands[i].fit.verdict < BW_TIGHT)
            return false;
    return true;
}

const bw_curve *bw_plan_line(const bw_plan *plan, size_t band, bw_which which) {
    const maths_worked *work = &maths_plan_kept(plan, band)->work;
    return which == BW_OUTER ? work->outer : which == BW_INNER ? work->inner : work->guide.curve;
}

bw_status bw_guide_create(const bw_plan *plan, size_t band, const bw_allocator *allocator, bw_curve **guide) {
    const bw_curve *kept = maths_plan_kept(plan, band)->work.guide.curve;
    *guide = kept != NULL
                 ? maths_curve_copy(kept, allocator)
                 : maths_guide_curve(plan->edge, plan->start_along, plan->bands[band].guide_from_edge, allocator);
    return *guide == NULL ? BW_NO_MEMORY : BW_OK;
}

/* By how much the step that changes most does: where the gap is lost in a few, those. */
static double most_change(const bw_run_plan *run) {
    double most = fabs(run->step_change);
    for (size_t i = 0; i < run->setting_count; i++)
        most = fmax(most, fabs(run->settings[i].step - run->usual_step));
    return most;
}

size_t bw_worst_run(const bw_band_plan *band) {
    size_t worst = 0;
    if (band->fit.verdict == BW_NO_WHOLE_COUNT && band->run_count > 0)
        return (size_t)band->fit.run;
    for (size_t i = 1; i < band->run_count; i++)
        if (most_change(&band->runs[i]) > most_change(&band->runs[worst]) + BW_EPS)
            worst = i;
    return worst;
}
