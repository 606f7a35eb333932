/* What the rows feel, place by place: the same judgement as the plan's, of one step at a time. */
#include "bandwright/profile.h"

#include <math.h>
#include <string.h>

#include "maths/boxes.h"
#include "maths/kept.h"

#define SAMPLE 0.25 /* mm along the guide between places that are judged */
enum { SAMPLES_LEAST = 64, SAMPLES_MOST = 40000, MARGINS = BW_MARGIN_BEND + 1, LINES_AT_ONCE = 32 };

typedef struct failing {
    bw_stretch *list;
    size_t count, room;
} failing;

struct bw_profile {
    maths_arena arena;
    const maths_worked *work; /* the plan's */
    maths_boxes boxes;        /* of the edge */
    failing failing[MARGINS];
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

double bw_profile_length(const bw_profile *profile) {
    return profile->work->guide.curve == NULL ? 0 : bw_curve_length(profile->work->guide.curve);
}

double bw_profile_edge(const bw_profile *profile, double along) {
    const bw_curve *edge = profile->work->edge->curve;
    bw_spot spot = bw_curve_at(profile->work->guide.curve, along);
    bw_point beside = maths_ahead(spot.at, spot.heading - BW_PI / 2, profile->work->strip.guide);
    double length = bw_curve_length(edge), at = maths_boxes_nearest(&profile->boxes, edge, beside);
    if (!bw_curve_closed(edge))
        return at;
    double from = fmod(at - profile->work->edge->start, length);
    if (from < 0)
        from += length;
    return length - from <= BW_EPS ? 0 : from;
}

/* ---- one place ---- */

/* The steps of one pace: the span in which the last of them began. */
typedef struct stride {
    size_t pace;
    bool any;
    double last; /* mm along the run: the last step that has room begins there */
    maths_span span;
} stride;

/* A look along a run, place after place: what was found at a place is used for the next ones as long as it holds. */
typedef struct sweep {
    const bw_profile *profile;
    const maths_worked_run *worked;
    double x;           /* mm along the run */
    stride bend, steps; /* of one face length; of the pace that is struck here */
    stride others;      /* of one that is judged here, too */
    double same_until;  /* mm along the run: up to here all is as at x */
    bool only_step;     /* margins do not matter */
} sweep;

/* A step that begins at x, as a span of that place alone. */
static maths_span step_at(stride *s, const maths_run *run, const maths_pace *pace, double x) {
    if (!s->any || x < s->span.from || x >= s->span.until - BW_EPS)
        s->span = maths_span_from(run, pace, x);
    s->any = true;
    const maths_span *whole = &s->span;
    double way = whole->until - whole->from, share = way > 0 ? (x - whole->from) / way : 0;
    double step = whole->step[0] + share * (whole->step[1] - whole->step[0]);
    double turn = whole->turn[0] + share * (whole->turn[1] - whole->turn[0]);
    return (maths_span){x, x, {step, step}, {turn, turn}};
}

/* Up to which place the steps of a stride stay as they are; x if they change. */
static double same_until(const stride *s, double x) {
    const double rounding = 1e-13; /* mm, radians */
    const maths_span *span = &s->span;
    bool same =
        s->any && fabs(span->turn[1] - span->turn[0]) <= rounding && fabs(span->step[1] - span->step[0]) <= rounding;
    return same ? span->until : x;
}

static double bend_at(sweep *s, double length) {
    const maths_run *run = s->worked->task.run;
    double from = s->x - length / 2;
    if (!run->closed)
        from = fmax(fmin(from, run->length - length), 0);
    else if (from < 0)
        from += run->length;
    if (!run->closed && from + length > run->length + BW_EPS)
        return 0;
    maths_pace pace = {.step = length};
    double turn = step_at(&s->bend, run, &pace, from).turn[0];
    double held = s->bend.span.until - from;
    s->same_until = run->closed && same_until(&s->bend, from) > from ? s->x + held : s->x;
    return fabs(turn) <= BW_EPS ? 0 : turn / length;
}

/* Where the last step of a pace that has room begins. */
static double last_step(const maths_run *run, const maths_pace *pace) {
    double last = pace->until - fmax(pace->step, pace->straight);
    if (pace->straight > 0) /* its last step is as long as what it lies on */
        for (int i = 0; i < 2 && maths_step_end(run, pace, last) < pace->until - BW_EPS; i++)
            last += pace->until - maths_step_end(run, pace, last);
    return last;
}

/* Where a step of the pace begins at x or, if that has no room, as near as it can; false if there is none. */
static bool begin_near(const maths_run *run, const maths_pace *pace, const stride *s, double x, double *begin) {
    *begin = x;
    if (pace->round)
        return true;
    if (run->closed && x < pace->from - BW_EPS && x + run->length <= pace->until + BW_EPS)
        *begin = x += run->length;
    if (s->last < pace->from - BW_EPS)
        return false;
    *begin = fmax(fmin(x, s->last), pace->from);
    return true;
}

/* Adds what a step does at some of the lines. */
static void feel_lines(const sweep *s, const maths_span *step, size_t first, bw_felt *felt) {
    const maths_worked *work = s->profile->work;
    const maths_run *run = s->worked->task.run;
    size_t count = work->line_count - first < LINES_AT_ONCE ? work->line_count - first : LINES_AT_ONCE;
    maths_felt lines[LINES_AT_ONCE];
    double feet = -INFINITY, heads = -INFINITY;
    memset(lines, 0, count * sizeof *lines);
    maths_feel_span(step, &work->lay, work->lines + first, count, lines, &feet, &heads);
    maths_margins m = maths_judge(run, &work->lay, work->lines + first, count, lines, feet, heads, s->worked->task.flat,
                                  fmax(felt->bend, 0), fmin(felt->bend, 0));
    felt->reach = fmin(felt->reach, m.reach);
    felt->crowd = fmin(felt->crowd, m.crowd);
    felt->fit = fmin(felt->fit, m.sharp ? -INFINITY : m.bend);
}

/* Adds what the step of one pace does at the place. */
static void feel_pace(sweep *s, size_t index, stride *steps, bw_felt *felt) {
    const maths_worked *work = s->profile->work;
    const maths_run *run = s->worked->task.run;
    const maths_pace *pace = &s->worked->spread.paces[index];
    if (pace->step <= 0)
        return;
    if (!steps->any || steps->pace != index) {
        steps->any = false;
        steps->pace = index;
        steps->last = pace->round ? 0 : last_step(run, pace);
    }
    double begin;
    if (!begin_near(run, pace, steps, s->x, &begin))
        return;
    maths_span step = {.step = {pace->step, pace->step}};
    if (!s->only_step || pace->straight > 0)
        step = step_at(steps, run, pace, begin);
    if (felt->step == 0 || fabs(begin - s->x) <= BW_EPS) {
        felt->step = step.step[0];
        felt->turning = step.turn[0];
    }
    for (size_t i = 0; i < work->line_count && !s->only_step; i += LINES_AT_ONCE)
        feel_lines(s, &step, i, felt);
}

/* The steps that are struck at x: which of the stretches, and so which of the paces. */
static size_t struck_at(const maths_worked_run *worked, double x) {
    const maths_spread *spread = &worked->spread;
    size_t low = 0, high = spread->stretch_count;
    if (high > 0 && worked->task.run->closed && x < spread->stretches[0].from - BW_EPS)
        x += worked->task.run->length;
    while (high - low > 1 && high > 0) {
        size_t middle = low + (high - low) / 2;
        *(spread->stretches[middle].from <= x + BW_EPS ? &low : &high) = middle;
    }
    return low;
}

/* Several paces may be judged at a place, but one is struck: it is felt first, the step told is its. */
static bw_felt feel_place(sweep *s) {
    const maths_worked *work = s->profile->work;
    const maths_spread *spread = &s->worked->spread;
    bw_felt felt = {.run = (int)(s->worked - work->runs), .reach = INFINITY, .crowd = INFINITY, .fit = INFINITY};
    if (!s->only_step)
        felt.bend = bend_at(s, work->lay.face.length);
    size_t struck = struck_at(s->worked, s->x);
    if (struck < spread->pace_count)
        feel_pace(s, struck, &s->steps, &felt);
    for (size_t i = 0; i < spread->pace_count && spread->lose == BW_LOSE_LAST; i++)
        if (i != struck)
            feel_pace(s, i, &s->others, &felt);
    bool round = spread->pace_count == 1 && spread->paces[0].round;
    s->same_until = round ? fmin(s->same_until, same_until(&s->steps, s->x)) - BW_EPS : s->x;
    return felt;
}

/* The run that holds a place of the guide; -1 before its beginning or without a guide. */
static int run_at(const maths_guide *guide, double along) {
    size_t low = 0, high = guide->run_count;
    if (high == 0 || along < guide->runs[0].from - BW_EPS)
        return -1;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        *(guide->runs[middle].from <= along + BW_EPS ? &low : &high) = middle;
    }
    return (int)low;
}

static bw_felt feel(const bw_profile *profile, double along, bool only_step) {
    int run = run_at(&profile->work->guide, along);
    if (run < 0)
        return (bw_felt){.run = -1, .reach = INFINITY, .crowd = INFINITY, .fit = INFINITY};
    sweep s = {.profile = profile, .worked = &profile->work->runs[run], .only_step = only_step};
    const maths_run *whole = s.worked->task.run;
    s.x = fmin(fmax(along - whole->from, 0), whole->length);
    return feel_place(&s);
}

bw_felt bw_profile_at(const bw_profile *profile, double along) {
    return feel(profile, along, false);
}

bw_felt bw_profile_step(const bw_profile *profile, double along) {
    bw_felt felt = feel(profile, along, true);
    return (bw_felt){.run = felt.run, .step = felt.step};
}

/* ---- stretches ---- */

static double margin_of(const bw_felt *felt, bw_margin margin) {
    return felt->step <= 0             ? INFINITY
           : margin == BW_MARGIN_REACH ? felt->reach
           : margin == BW_MARGIN_CROWD ? felt->crowd
                                       : felt->fit;
}

/* Gathers where one margin fails. */
typedef struct gathering {
    failing *into;
    bw_margin margin;
    bw_stretch now;
    bool open; /* `now` is being gathered */
} gathering;

static void end_stretch(gathering *g, maths_arena *arena) {
    failing *f = g->into;
    if (!g->open)
        return;
    g->open = false;
    if (f->count == f->room) {
        size_t room = f->room * 2 + 4;
        bw_stretch *list = maths_take(arena, room, sizeof *list);
        if (list == NULL)
            return;
        if (f->count > 0)
            memcpy(list, f->list, f->count * sizeof *list);
        f->list = list;
        f->room = room;
    }
    f->list[f->count++] = g->now;
}

static void look_at(gathering *g, const bw_felt *felt, double along, double until, maths_arena *arena) {
    double value = margin_of(felt, g->margin);
    if (!(value < -BW_EPS)) {
        end_stretch(g, arena);
        return;
    }
    if (!g->open)
        g->now = (bw_stretch){.run = felt->run, .from = along, .worst = along, .margin = value};
    g->open = true;
    g->now.to = fmin(along + felt->step, until);
    if (value < g->now.margin - BW_EPS) { /* the first of places as bad */
        g->now.margin = value;
        g->now.worst = along;
    }
}

/* On a closed run a stretch that reaches over its end and one that begins at its beginning are one. */
static void join_round(failing *f, size_t first, const maths_run *run, double sample) {
    if (!run->closed || f->count < first + 2)
        return;
    bw_stretch *begin = &f->list[first], *end = &f->list[f->count - 1];
    if (begin->from > run->from + sample || end->to < run->from + run->length - sample)
        return;
    if (end->margin < begin->margin - BW_EPS) {
        begin->margin = end->margin;
        begin->worst = end->worst;
    }
    begin->from = end->from;
    f->count--;
}

static void look_along(bw_profile *profile, const maths_worked_run *worked) {
    const maths_run *run = worked->task.run;
    gathering all[MARGINS];
    size_t firsts[MARGINS];
    double samples = fmin(fmax(ceil(run->length / SAMPLE), SAMPLES_LEAST), SAMPLES_MOST);
    sweep s = {.profile = profile, .worked = worked, .same_until = -1};
    bw_felt felt = {0};
    for (int m = 0; m < MARGINS; m++) {
        all[m] = (gathering){.into = &profile->failing[m], .margin = (bw_margin)m};
        firsts[m] = profile->failing[m].count;
    }
    for (int i = 0; i < (int)samples; i++) {
        s.x = run->length * i / samples;
        if (s.x >= s.same_until)
            felt = feel_place(&s);
        for (int m = 0; m < MARGINS; m++)
            look_at(&all[m], &felt, run->from + s.x, run->from + run->length, &profile->arena);
    }
    for (int m = 0; m < MARGINS; m++) {
        end_stretch(&all[m], &profile->arena);
        join_round(&profile->failing[m], firsts[m], run, run->length / samples);
    }
}

static bool fails(const maths_margins *m) {
    return m->sharp || m->reach < -BW_EPS || m->crowd < -BW_EPS || m->bend < -BW_EPS;
}

/* Each run that fails is looked along once, for all margins; only what fails is then found on the edge. */
static void find_failing(bw_profile *profile) {
    const double length = bw_profile_length(profile);
    for (size_t r = 0; r < profile->work->guide.run_count; r++)
        if (fails(&profile->work->runs[r].margins))
            look_along(profile, &profile->work->runs[r]);
    for (int m = 0; m < MARGINS; m++)
        for (size_t i = 0; i < profile->failing[m].count; i++) {
            bw_stretch *stretch = &profile->failing[m].list[i];
            stretch->edge_from = bw_profile_edge(profile, stretch->from);
            stretch->edge_to = bw_profile_edge(profile, fmin(stretch->to, length));
            stretch->edge_worst = bw_profile_edge(profile, stretch->worst);
        }
}

size_t bw_profile_stretches(const bw_profile *profile, bw_margin margin, bw_stretch *list, size_t room) {
    const failing *f = &profile->failing[margin];
    if (f->count > 0 && room > 0)
        memcpy(list, f->list, (f->count < room ? f->count : room) * sizeof *list);
    return f->count;
}

/* ---- making one ---- */

static bw_profile *make(const bw_plan *plan, const maths_worked *work) {
    const bw_allocator *a = maths_plan_allocator(plan);
    bw_profile *made = maths_alloc(a, 1, sizeof *made);
    if (made == NULL)
        return NULL;
    maths_arena_init(&made->arena, a);
    made->work = work;
    if (maths_boxes_make(&made->boxes, plan->edge->pieces, plan->edge->count, &made->arena))
        find_failing(made);
    if (!made->arena.failed)
        return made;
    maths_profile_destroy(made);
    return NULL;
}

const bw_profile *bw_plan_profile(const bw_plan *plan, size_t band) {
    if (band >= plan->band_count || plan->bands[band].fill == BW_FILL_PLAIN)
        return NULL;
    maths_kept *kept = maths_plan_kept(plan, band);
    bw_profile *there = atomic_load(&kept->profile);
    if (there != NULL)
        return there;
    bw_profile *made = make(plan, &kept->work);
    if (made == NULL || atomic_compare_exchange_strong(&kept->profile, &there, made))
        return made;
    maths_profile_destroy(made); /* another thread was first */
    return there;
}

void maths_profile_destroy(bw_profile *profile) {
    if (profile == NULL)
        return;
    bw_allocator a = profile->arena.allocator;
    maths_arena_free(&profile->arena);
    maths_release(&a, profile);
}
