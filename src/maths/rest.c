/* In mid-round: the counts with which a run that is struck in part still closes. */
#include <math.h>

#include "bandwright/limits.h"
#include "maths/rest.h"

typedef struct whole {
    bw_rest rest;
    maths_arena arena;
} whole;

/* ---- the run ---- */

static const maths_worked_run *run_of(const bw_plan *plan, size_t band, size_t run, const maths_worked **work) {
    if (band >= plan->band_count || plan->bands[band].fill == BW_FILL_PLAIN || run >= plan->bands[band].run_count)
        return NULL;
    *work = &maths_plan_kept(plan, band)->work;
    const maths_worked_run *found = &(*work)->runs[run];
    return found->spread.count > 0 ? found : NULL;
}

static double *places_of(const maths_worked_run *run, maths_arena *arena) {
    double *places = maths_take(arena, (size_t)run->spread.count, sizeof *places);
    if (places != NULL)
        maths_places(&run->spread, &run->task, places);
    return places;
}

double bw_rest_longest(const bw_plan *plan, size_t band, size_t run) {
    const maths_worked *work;
    const maths_worked_run *found = run_of(plan, band, run, &work);
    return found != NULL ? maths_steps_length(&found->task) : 0;
}

double bw_rest_planned(const bw_plan *plan, size_t band, size_t run, int struck) {
    const maths_worked *work;
    const maths_worked_run *found = run_of(plan, band, run, &work);
    if (found == NULL || struck < 1 || struck > found->spread.count)
        return NAN;
    maths_arena arena;
    maths_arena_init(&arena, maths_plan_allocator(plan));
    double *places = places_of(found, &arena);
    double left = places != NULL ? maths_rest_end(found, places) - places[struck - 1] : NAN;
    maths_arena_free(&arena);
    return left;
}

static int run_strikes(const maths_worked *work, size_t run, int count) {
    return count - (maths_shares_end(work, run) && count > 1 ? 1 : 0);
}

int bw_run_strikes(const bw_plan *plan, size_t band, size_t run, int count) {
    return run_strikes(&maths_plan_kept(plan, band)->work, run, count);
}

int bw_row_strikes(const bw_plan *plan, size_t band, size_t row, size_t run, int count) {
    const maths_worked *work = &maths_plan_kept(plan, band)->work;
    return maths_impressions(&work->lay, &work->rows.rows[row], count, work->guide.runs[run].closed,
                             maths_shares_end(work, run));
}

/* ---- judging ---- */

static void feel(const maths_rest *rest, const maths_way *way, maths_feelings *f) {
    const maths_task *task = &rest->run->task;
    if (way->stretch_count == 0 && way->pace.step > 0) {
        maths_pace pace = way->pace;
        pace.from = rest->from;
        pace.until = rest->until;
        maths_feel(task->run, &pace, task->lay, task->lines, task->line_count, f->felt, &f->feet, &f->heads);
    }
    for (size_t i = 0; i < way->stretch_count; i++) {
        const maths_stretch *s = &way->stretches[i];
        maths_pace pace = {.step = s->step, .from = s->from, .until = s->from + s->steps * s->step};
        maths_feel(task->run, &pace, task->lay, task->lines, task->line_count, f->felt, &f->feet, &f->heads);
    }
}

static bool judge(const maths_rest *rest, const maths_way *way, bw_rest_count *out, maths_arena *arena) {
    maths_feelings f;
    if (!maths_feelings_init(&f, &rest->run->task, arena))
        return false;
    feel(rest, way, &f);
    maths_rest_judge(rest->run, &f, out);
    return true;
}

/* ---- one count ---- */

static double first_step(const maths_rest *rest, const maths_way *way) {
    if (way->stretch_count > 0)
        return way->stretches[0].step;
    return way->pace.step > 0 ? maths_step_end(rest->run->task.run, &way->pace, rest->from) - rest->from : 0;
}

static bool work_count(const maths_rest *rest, int count, const bw_rest *made, bw_rest_count *out, maths_arena *arena) {
    const maths_lay *lay = rest->run->task.lay;
    maths_way way;
    *out = (bw_rest_count){.count = count, .steps = maths_rest_steps(rest, count), .overlap = NAN};
    out->step = out->steps > 0 ? rest->left / out->steps : 0;
    if (!maths_rest_way(rest, out, &way, arena) || !judge(rest, &way, out, arena))
        return false;
    if (out->steps == 0)
        return true;
    double gap = rest->left - out->steps * rest->planned_mean;
    out->change = gap / out->steps;
    out->share = out->change / rest->planned_mean;
    double mean = isnan(made->since_step) ? made->struck_step : made->since_step;
    out->jump = isnan(mean) ? 0 : first_step(rest, &way) - mean;
    out->overlap = lay->fill == BW_FILL_BASKET ? maths_share(lay, out->step) : NAN;
    out->as_planned = count == rest->told_count && fabs(rest->left - made->told) <= BW_EPS_FIT && !out->fell_back;
    double fewest = fmax(ceil(fabs(gap) / (BW_VISIBLE_CHANGE * rest->usual) - BW_EPS), 1);
    out->spread = fewest <= out->steps ? (int)fewest : 0;
    return true;
}

/* ---- all of them ---- */

static double off(const maths_rest *rest, const bw_rest_count *one) {
    return one->steps > 0 ? maths_off_usual(one->step, rest->planned_mean) : 0;
}

static bool before(const maths_rest *rest, const bw_rest_count *a, const bw_rest_count *b) {
    if (a->works != b->works)
        return a->works;
    double off_a = off(rest, a), off_b = off(rest, b);
    return off_a < off_b - BW_EPS || (off_a <= off_b + BW_EPS && a->count < b->count);
}

static void insert(const maths_rest *rest, bw_rest *out, bw_rest_count one) {
    size_t i = out->count++;
    for (; i > 0 && before(rest, &one, &out->counts[i - 1]); i--)
        out->counts[i] = out->counts[i - 1];
    out->counts[i] = one;
    out->works += one.works;
}

/* The counts whose even step can be the tool's, and the next on each side. */
static void range(const maths_rest *rest, int *low, int *high) {
    const maths_lay *lay = rest->run->task.lay;
    int m = rest->run->task.multiple, base = rest->struck - (rest->run->task.run->closed ? 1 : 0);
    double ideal = base + rest->left / rest->planned_mean, around = m * (BW_REST_MOST / 2 - 2);
    double from = fmax(floor(base + rest->left / lay->most), ideal - around);
    double to = fmin(ceil(base + rest->left / lay->least), ideal + around);
    *low = (int)floor(from / m) * m;
    *high = (int)ceil(to / m) * m;
}

static bool all_counts(const maths_rest *rest, bw_rest *out, maths_arena *arena) {
    int low, high, m = rest->run->task.multiple, own = rest->run->spread.count;
    range(rest, &low, &high);
    for (int count = low; count <= high && out->count + 1 < BW_REST_MOST; count += m) {
        bw_rest_count one;
        bool gone = rest->left <= BW_EPS_FIT; /* the last face lies at the end: nothing is to be placed */
        if (count < 1 || maths_rest_steps(rest, count) < (gone ? 0 : 1) || count == own)
            continue;
        if (!work_count(rest, count, out, &one, arena))
            return false;
        insert(rest, out, one);
    }
    bw_rest_count one;
    if (maths_rest_steps(rest, own) >= (rest->left <= BW_EPS_FIT ? 0 : 1)) {
        if (!work_count(rest, own, out, &one, arena))
            return false;
        insert(rest, out, one);
    }
    return true;
}

static bw_status fill(whole *made, const bw_measure *measure, maths_rest *rest) {
    bw_rest *out = &made->rest;
    maths_arena *arena = &made->arena;
    const maths_worked_run *run = rest->run;
    double *places = places_of(run, arena);
    out->counts = maths_take(arena, BW_REST_MOST, sizeof *out->counts);
    if (arena->failed)
        return BW_NO_MEMORY;
    rest->places = places;
    rest->until = maths_rest_end(run, places);
    rest->from = rest->until - rest->left;
    rest->usual = run->task.lay->usual;
    out->planned = rest->struck <= run->spread.count ? rest->until - places[rest->struck - 1] : NAN;
    if (!maths_rest_struck(rest, measure, out, arena))
        return BW_NO_MEMORY;
    if (measure->count > 0) {
        bool fine = work_count(rest, measure->count, out, &out->counts[0], arena);
        out->count = 1;
        out->works = fine && out->counts[0].works;
        return fine ? BW_OK : BW_NO_MEMORY;
    }
    if (!all_counts(rest, out, arena))
        return BW_NO_MEMORY;
    if (out->count > 0 && out->works == 0)
        out->open = fmax(rest->left - out->counts[0].steps * run->task.lay->most, 0);
    return BW_OK;
}

/* What is asked for lies within its ranges, and of what was told before, too. */
static bool asked_well(const bw_measure *m, const maths_rest *part, double longest) {
    bool closed = part->run->task.run->closed, told = m->told_at != 0;
    if (m->struck < 1 || m->struck > BW_COUNT_MOST || !(m->left >= 0) || m->left > longest + BW_EPS_FIT ||
        (closed && m->left <= BW_EPS) || !(m->aimed >= 0) || isinf(m->aimed))
        return false;
    if (m->count != 0 && (m->count < m->struck || m->count > BW_COUNT_MOST ||
                          maths_rest_steps(part, m->count) < (m->left > BW_EPS_FIT ? 1 : 0)))
        return false;
    return !told || (m->told_at >= 1 && m->told_at <= m->struck && m->told_count >= m->told_at && m->told_left > 0 &&
                     m->told_left <= longest + BW_EPS_FIT && m->told_count <= BW_COUNT_MOST);
}

bw_status bw_rest_create(const bw_plan *plan, const bw_measure *measure, const bw_allocator *allocator,
                         bw_rest **rest) {
    const maths_worked *work = NULL;
    const maths_worked_run *found = run_of(plan, measure->band, measure->run, &work);
    *rest = NULL;
    if (found == NULL)
        return BW_BAD_VALUE;
    double longest = maths_steps_length(&found->task);
    maths_rest part = {.work = work, .run = found, .struck = measure->struck, .left = fmin(measure->left, longest)};
    if (!asked_well(measure, &part, longest))
        return BW_BAD_VALUE;
    bw_allocator a = maths_allocator(allocator);
    whole *made = maths_alloc(&a, 1, sizeof *made);
    if (made == NULL)
        return BW_NO_MEMORY;
    maths_arena_init(&made->arena, &a);
    made->rest =
        (bw_rest){.band = measure->band, .run = measure->run, .struck = part.struck, .left = part.left, .memory = made};
    bw_status status = fill(made, measure, &part);
    if (status != BW_OK) {
        bw_rest_destroy(&made->rest);
        return status;
    }
    *rest = &made->rest;
    return BW_OK;
}

void bw_rest_destroy(bw_rest *rest) {
    if (rest == NULL)
        return;
    whole *made = rest->memory;
    bw_allocator a = made->arena.allocator;
    maths_arena_free(&made->arena);
    maths_release(&a, made);
}

void bw_rest_places(const bw_plan *plan, const bw_rest *rest, size_t index, double *places) {
    const maths_worked *work = NULL;
    const maths_worked_run *run = run_of(plan, rest->band, rest->run, &work);
    double first = 0;
    if (run == NULL)
        return;
    if (run->spread.lose == BW_LOSE_ANCHORED && run->spread.stretch_count > 0)
        first = run->spread.stretches[0].from;
    double end =
        run->task.run->closed ? first + run->task.run->length : run->task.run->length - run->task.lay->along / 2;
    maths_rest_places(run->task.run, &rest->counts[index], end - rest->left, places);
}

bw_status bw_rest_marks(const bw_plan *plan, const bw_rest *rest, size_t index, int marks,
                        const bw_allocator *allocator, bw_check_mark *list) {
    const maths_worked *work = NULL;
    const maths_worked_run *run = run_of(plan, rest->band, rest->run, &work);
    int steps = index < rest->count ? rest->counts[index].steps : 0;
    if (run == NULL || marks < 0 || steps <= marks)
        return BW_BAD_VALUE;
    bw_allocator a = maths_allocator(allocator);
    double *places = maths_alloc(&a, (size_t)steps + 1, sizeof *places);
    if (places == NULL)
        return BW_NO_MEMORY;
    bw_rest_places(plan, rest, index, places);
    bw_check_mark before = maths_mark_at(work, run->task.run, places[0]);
    for (int i = 1; i <= marks + 1; i++) {
        int at = bw_mark_at(steps, marks + 1, i);
        bw_check_mark mark = maths_mark_at(work, run->task.run, places[at]);
        mark.after = rest->struck + at - 1;
        mark.along = places[at] - places[0];
        mark.across = hypot(mark.at.x - before.at.x, mark.at.y - before.at.y);
        list[i - 1] = before = mark;
    }
    maths_release(&a, places);
    return BW_OK;
}
