/* The part of a run that is struck: where its impressions lie by what was measured, whether rows keyed to them work,
 * and whether steps can have been like that at all. */
#include <math.h>

#include "bandwright/hand.h"
#include "maths/rest.h"

/* `steps` steps from x on in the ratios of the places `as`, `length` in all; as NULL: all alike. */
static void lay_out(double *places, const double *as, int steps, double x, double length) {
    double whole = as != NULL ? as[steps] - as[0] : steps;
    for (int i = 0; i <= steps; i++)
        places[i] = x + (as != NULL ? as[i] - as[0] : i) * length / whole;
}

/* Whether the part before the measure that was made before is apart from what was struck since. */
static bool told_before(const bw_measure *m) {
    return m->told_at > 0 && !(m->aimed > 0);
}

/* The places that were told when it was measured before: *steps of them and one. NULL without memory. */
static double *told_places(const maths_rest *rest, const bw_measure *m, int *steps, maths_arena *arena) {
    maths_rest then = *rest;
    maths_way way;
    then.struck = m->told_at;
    then.left = m->told_left;
    then.from = rest->until - m->told_left;
    bw_rest_count told = {.count = m->told_count, .steps = maths_rest_steps(&then, m->told_count)};
    *steps = told.steps;
    told.step = told.steps > 0 ? then.left / told.steps : 0;
    double *places = maths_take(arena, (size_t)told.steps + 1, sizeof *places);
    if (places == NULL || !maths_rest_way(&then, &told, &way, arena))
        return NULL;
    maths_rest_places(rest->run->task.run, &told, then.from, places);
    return places;
}

/* What each step struck makes the lines feel. */
static bool judge_struck(const maths_rest *rest, const double *places, bw_rest_count *part, maths_arena *arena) {
    const maths_task *task = &rest->run->task;
    maths_feelings f;
    if (!maths_feelings_init(&f, task, arena))
        return false;
    for (int i = 0; i < part->steps; i++) {
        maths_pace pace = {.step = places[i + 1] - places[i], .from = places[i], .until = places[i + 1]};
        if (pace.step > BW_EPS)
            maths_feel(task->run, &pace, task->lay, task->lines, task->line_count, f.felt, &f.feet, &f.heads);
    }
    maths_rest_judge(rest->run, &f, part);
    return true;
}

/* Which of the two stretches that were told apart is worse by itself: of steps that are not, nothing is to be said. */
static bool find_worst(const maths_rest *rest, const double *places, int first, bw_rest *out, maths_arena *arena) {
    int from[3] = {1, first, out->struck};
    double least = INFINITY;
    for (int i = 0; i < 2; i++) {
        const double *at = &places[from[i] - 1];
        int steps = from[i + 1] - from[i];
        if (steps < 1)
            continue;
        bw_rest_count one = {.count = steps + 1, .steps = steps, .overlap = NAN, .step = (at[steps] - at[0]) / steps};
        if (!judge_struck(rest, at, &one, arena))
            return false;
        double margin = fmin(one.reach, one.crowd);
        if (margin >= least)
            continue;
        least = margin;
        out->worst = one;
        out->worst_from = from[i];
        out->worst_to = from[i + 1];
    }
    return true;
}

/* ---- can it be? ---- */

static void find_doubt(bw_rest *out, int steps, double length) {
    double reading = steps > 0 ? 2 * BW_RULE_MM / steps : 0;
    if (steps < 1 || out->doubtful)
        return;
    double mean = length / steps;
    if (mean >= out->mean_least - reading && mean <= out->mean_most + reading)
        return;
    out->doubtful = true;
    out->mean_found = mean;
    out->mean_least = fmax(out->mean_least - reading, 0);
    out->mean_most += reading;
}

/* The impression whose place is nearest to where so much is left. */
static int by_plan(const maths_rest *rest) {
    int best = 0;
    for (int i = 1; i < rest->run->spread.count; i++)
        if (fabs(rest->places[i] - rest->from) < fabs(rest->places[best] - rest->from))
            best = i;
    return best + 1;
}

static void doubt(const maths_rest *rest, const bw_measure *m, bw_rest *out) {
    const maths_lay *lay = rest->run->task.lay;
    double longest = maths_steps_length(&rest->run->task), even = rest->run->spread.even;
    double slack = BW_VISIBLE_CHANGE * lay->usual;
    even = even > 0 ? even : lay->usual;
    out->mean_least = fmin(fmin(lay->least, even), out->told_step > 0 ? out->told_step : even) - slack;
    out->mean_most = fmax(fmax(lay->most, even), out->told_step > 0 ? out->told_step : even) + slack;
    out->by_plan = by_plan(rest);
    if (m->struck == 1) {
        out->doubtful = fabs(longest - m->left) > 2 * BW_RULE_MM;
        out->mean_found = out->doubtful ? longest : 0;
    }
    if (told_before(m))
        find_doubt(out, m->struck - m->told_at, m->told_left - m->left);
    find_doubt(out, m->struck - 1, longest - m->left);
}

/* ---- all of it ---- */

static void expect(maths_rest *rest, const bw_measure *m, const double *told, int steps, bw_rest *out) {
    double longest = maths_steps_length(&rest->run->task);
    int since = m->struck - 1;
    rest->told_count = rest->run->spread.count;
    out->told = out->planned;
    if (m->aimed > 0)
        out->told = longest - since * m->aimed;
    double before = longest;
    if (told != NULL) {
        since = m->struck - m->told_at;
        before = m->told_left;
        rest->told_count = m->told_count;
        out->told_at = m->told_at;
        out->told = since <= steps ? told[steps] - told[since] : NAN;
    }
    out->since_step = since > 0 ? (before - m->left) / since : NAN;
    out->told_step = since > 0 ? (before - out->told) / since : NAN;
    int left = maths_rest_steps(rest, rest->told_count);
    double whole = m->aimed > 0 ? out->planned : out->told; /* of another layout's steps none are left */
    rest->planned_mean = left > 0 && whole > 0 ? whole / left : rest->run->spread.even;
    if (!(rest->planned_mean > 0))
        rest->planned_mean = rest->usual;
}

bool maths_rest_struck(maths_rest *rest, const bw_measure *m, bw_rest *out, maths_arena *arena) {
    double longest = maths_steps_length(&rest->run->task), begin = rest->until - longest;
    bool before = told_before(m);
    int steps = 0, first = before ? m->told_at : m->struck;
    double first_left = before ? m->told_left : m->left;
    double *told = before ? told_places(rest, m, &steps, arena) : NULL;
    double *places = maths_take(arena, (size_t)m->struck + 1, sizeof *places);
    if (places == NULL || (before && told == NULL))
        return false;
    bool planned = !(m->aimed > 0) && first <= rest->run->spread.count;
    if (first > 1)
        lay_out(places, planned ? rest->places : NULL, first - 1, begin, longest - first_left);
    int since = m->struck - first;
    if (since > 0)
        lay_out(&places[first - 1], since <= steps ? told : NULL, since, rest->until - first_left,
                first_left - m->left);
    expect(rest, m, told, steps, out);
    out->struck_step = m->struck > 1 ? (longest - m->left) / (m->struck - 1) : NAN;
    out->part = (bw_rest_count){.count = m->struck, .steps = m->struck - 1, .overlap = NAN, .works = true};
    out->part.step = m->struck > 1 ? out->struck_step : 0;
    doubt(rest, m, out);
    return out->part.steps == 0 || (judge_struck(rest, places, &out->part, arena) &&
                                    (out->part.works || find_worst(rest, places, first, out, arena)));
}
