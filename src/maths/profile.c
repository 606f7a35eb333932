/* What the rows feel, place by place: the same judgement as the plan's, of one step at a time. */
#include "bandwright/profile.h"

#include <math.h>

#include "maths/band.h"

#define SAMPLE 0.25 /* mm along the guide between places that are judged */
enum { SAMPLES_LEAST = 64, SAMPLES_MOST = 40000 };

struct bw_profile {
    maths_arena arena;
    maths_edge edge;
    maths_worked work;
    maths_felt *felt; /* scratch, one a line */
};

double bw_edge_from_start(const bw_plan *plan, double along) {
    double length = bw_curve_length(plan->edge);
    if (!bw_curve_closed(plan->edge) || length <= 0)
        return along;
    double from = fmod(along - plan->start_along, length);
    if (from < 0)
        from += length;
    return length - from <= BW_EPS ? 0 : from;
}

bw_status bw_profile_create(const bw_layout *layout, const bw_plan *plan, size_t band, const bw_allocator *allocator,
                            bw_profile **profile) {
    bw_allocator a = maths_allocator(allocator);
    *profile = NULL;
    if (band >= plan->band_count || plan->bands[band].fill == BW_FILL_PLAIN)
        return BW_BAD_VALUE;
    bw_profile *made = maths_alloc(&a, 1, sizeof *made);
    if (made == NULL)
        return BW_NO_MEMORY;
    maths_arena_init(&made->arena, &a);
    bw_status status = maths_edge_make(&made->edge, layout, &made->arena);
    if (status == BW_OK && !maths_band_make(&made->work, layout, &made->edge, band, &made->arena))
        status = BW_NO_MEMORY;
    if (status == BW_OK) {
        made->felt = maths_take(&made->arena, made->work.line_count, sizeof *made->felt);
        status = made->felt == NULL ? BW_NO_MEMORY : BW_OK;
    }
    if (status != BW_OK) {
        bw_profile_destroy(made);
        return status;
    }
    *profile = made;
    return BW_OK;
}

void bw_profile_destroy(bw_profile *profile) {
    if (profile == NULL)
        return;
    bw_allocator a = profile->arena.allocator;
    maths_band_free(&profile->work);
    bw_curve_destroy(profile->edge.curve);
    maths_arena_free(&profile->arena);
    maths_release(&a, profile);
}

double bw_profile_length(const bw_profile *profile) {
    return profile->work.guide.curve == NULL ? 0 : bw_curve_length(profile->work.guide.curve);
}

double bw_profile_edge(const bw_profile *profile, double along) {
    const bw_curve *edge = profile->edge.curve;
    bw_spot spot = bw_curve_at(profile->work.guide.curve, along);
    bw_point beside = maths_ahead(spot.at, spot.heading - BW_PI / 2, profile->work.strip.guide);
    double length = bw_curve_length(edge), at = bw_curve_nearest(edge, beside);
    if (!bw_curve_closed(edge))
        return at;
    double from = fmod(at - profile->edge.start, length);
    if (from < 0)
        from += length;
    return length - from <= BW_EPS ? 0 : from;
}

/* ---- one place ---- */

static void take_turn(void *context, const maths_span *span) {
    double *turn = context;
    for (int side = 0; side < 2; side++)
        *turn = fabs(span->turn[side]) > fabs(*turn) ? span->turn[side] : *turn;
}

/* Change of direction over a length u from x on; 0 where it has no room. */
static double turn_over(const maths_run *run, double x, double u) {
    double turn = 0;
    maths_pace pace = {.step = u, .from = x, .until = x + u};
    if (u > 0 && (run->closed || x + u <= run->length + BW_EPS))
        maths_walk(run, &pace, take_turn, &turn);
    return turn;
}

static double bend_at(const maths_run *run, double x, double length) {
    double from = x - length / 2;
    if (!run->closed)
        from = fmax(fmin(from, run->length - length), 0);
    else if (from < 0)
        from += run->length;
    double turn = turn_over(run, from, length);
    return fabs(turn) <= BW_EPS ? 0 : turn / length;
}

/* Where a step of the pace begins at x or, if that has no room, as near as it can; false if there is none. */
static bool begin_near(const maths_run *run, const maths_pace *pace, double x, double *begin) {
    *begin = x;
    if (pace->round)
        return true;
    if (run->closed && x < pace->from - BW_EPS && x + run->length <= pace->until + BW_EPS)
        *begin = x += run->length;
    double last = pace->until - fmax(pace->step, pace->straight);
    if (pace->straight > 0) /* its last step is as long as what it lies on */
        for (int i = 0; i < 2 && maths_step_end(run, pace, last) < pace->until - BW_EPS; i++)
            last += pace->until - maths_step_end(run, pace, last);
    if (last < pace->from - BW_EPS)
        return false;
    *begin = fmax(fmin(x, last), pace->from);
    return true;
}

/* Adds what the step of one pace does at x. */
static void feel_pace(const bw_profile *profile, const maths_worked_run *worked, const maths_pace *pace, double x,
                      bw_felt *felt) {
    const maths_worked *work = &profile->work;
    const maths_run *run = worked->task.run;
    double begin, feet = -INFINITY, heads = -INFINITY;
    if (pace->step <= 0 || !begin_near(run, pace, x, &begin))
        return;
    double step = maths_step_end(run, pace, begin) - begin;
    maths_pace one = {.step = pace->step, .straight = pace->straight, .from = begin, .until = begin + step};
    for (size_t i = 0; i < work->line_count; i++)
        profile->felt[i] = (maths_felt){0};
    maths_feel(run, &one, &work->lay, work->lines, work->line_count, profile->felt, &feet, &heads);
    maths_margins m = maths_judge(run, &work->lay, work->lines, work->line_count, profile->felt, feet, heads,
                                  worked->task.flat, fmax(felt->bend, 0), fmin(felt->bend, 0));
    double nearest = fabs(begin - x);
    bool here = felt->step == 0 || nearest <= BW_EPS;
    if (here) {
        felt->step = step;
        felt->turning = turn_over(run, begin, step);
    }
    felt->reach = fmin(felt->reach, m.reach);
    felt->crowd = fmin(felt->crowd, m.crowd);
    felt->fit = fmin(felt->fit, m.sharp ? -INFINITY : m.bend);
}

/* Is x among the steps that are struck with this pace? Several paces may be judged at a place, but one is struck. */
static bool struck_with(const maths_worked_run *run, const maths_pace *pace, double x) {
    const maths_spread *spread = &run->spread;
    const maths_run *whole = run->task.run;
    for (size_t i = 0; i < spread->stretch_count; i++) {
        const maths_stretch *s = &spread->stretches[i];
        bool first = i == 0 && !whole->closed, last = i + 1 == spread->stretch_count && !whole->closed;
        double from = x < s->from - BW_EPS && whole->closed ? x + whole->length : x;
        if ((first || from >= s->from - BW_EPS) && (last || from < s->from + s->steps * s->step - BW_EPS))
            return fabs(s->step - pace->step) <= BW_EPS;
    }
    return spread->stretch_count == 0;
}

bw_felt bw_profile_at(const bw_profile *profile, double along) {
    const maths_worked *work = &profile->work;
    bw_felt felt = {.run = -1, .reach = INFINITY, .crowd = INFINITY, .fit = INFINITY};
    for (size_t r = 0; r < work->guide.run_count && felt.run < 0; r++) {
        const maths_run *run = &work->guide.runs[r];
        bool last = r + 1 == work->guide.run_count;
        if (along >= run->from - BW_EPS && (along < run->from + run->length - BW_EPS || last))
            felt.run = (int)r;
    }
    if (felt.run < 0)
        return felt;
    const maths_worked_run *worked = &work->runs[felt.run];
    double x = fmin(fmax(along - worked->task.run->from, 0), worked->task.run->length);
    felt.bend = bend_at(worked->task.run, x, work->lay.face.length);
    for (int pass = 0; pass < 2; pass++) /* first the one that is struck there: the step told is its */
        for (size_t i = 0; i < worked->spread.pace_count; i++) {
            const maths_pace *pace = &worked->spread.paces[i];
            bool struck = struck_with(worked, pace, x);
            if (pass == 0 ? struck : !struck && worked->spread.lose == BW_LOSE_LAST)
                feel_pace(profile, worked, pace, x, &felt);
        }
    return felt;
}

/* ---- stretches ---- */

static double margin_of(const bw_felt *felt, bw_margin margin) {
    return felt->step <= 0             ? INFINITY
           : margin == BW_MARGIN_REACH ? felt->reach
           : margin == BW_MARGIN_CROWD ? felt->crowd
                                       : felt->fit;
}

typedef struct gathering {
    const bw_profile *profile;
    bw_stretch *list;
    size_t room, count;
    bw_stretch now;
    bool open; /* `now` is being gathered */
} gathering;

static void end_stretch(gathering *g) {
    if (!g->open)
        return;
    g->open = false;
    g->now.edge_from = bw_profile_edge(g->profile, g->now.from);
    g->now.edge_to = bw_profile_edge(g->profile, fmin(g->now.to, bw_profile_length(g->profile)));
    g->now.edge_worst = bw_profile_edge(g->profile, g->now.worst);
    if (g->count < g->room)
        g->list[g->count] = g->now;
    g->count++;
}

static void look_at(gathering *g, double along, double until, bw_margin margin) {
    bw_felt felt = bw_profile_at(g->profile, along);
    double value = margin_of(&felt, margin);
    if (!(value < -BW_EPS)) {
        end_stretch(g);
        return;
    }
    if (!g->open)
        g->now = (bw_stretch){.run = felt.run, .from = along, .worst = along, .margin = value};
    g->open = true;
    g->now.to = fmin(along + felt.step, until);
    if (value < g->now.margin) {
        g->now.margin = value;
        g->now.worst = along;
    }
}

/* On a closed run a stretch that reaches over its end and one that begins at its beginning are one. */
static void join_round(gathering *g, size_t first, const maths_run *run) {
    if (!run->closed || g->count < first + 2 || g->count > g->room)
        return;
    bw_stretch *begin = &g->list[first], *end = &g->list[g->count - 1];
    if (begin->from > run->from + SAMPLE || end->to < run->from + run->length - SAMPLE)
        return;
    if (end->margin < begin->margin) {
        begin->margin = end->margin;
        begin->worst = end->worst;
        begin->edge_worst = end->edge_worst;
    }
    begin->from = end->from;
    begin->edge_from = end->edge_from;
    g->count--;
}

size_t bw_profile_stretches(const bw_profile *profile, bw_margin margin, bw_stretch *list, size_t room) {
    const maths_guide *guide = &profile->work.guide;
    gathering g = {.profile = profile, .list = list, .room = room};
    for (size_t r = 0; r < guide->run_count; r++) {
        const maths_run *run = &guide->runs[r];
        size_t first = g.count;
        double samples = fmin(fmax(ceil(run->length / SAMPLE), SAMPLES_LEAST), SAMPLES_MOST);
        double until = run->from + run->length;
        for (int i = 0; i < (int)samples; i++)
            look_at(&g, run->from + run->length * i / samples, until, margin);
        end_stretch(&g);
        join_round(&g, first, run);
    }
    return g.count;
}
