/* Where what has drifted is lost: in the way of the band as long as that does not change more than the plan, else
 * evenly over all that is left. */
#include <math.h>

#include "maths/rest.h"

double maths_rest_end(const maths_worked_run *run, const double *places) {
    const maths_run *guide = run->task.run;
    return guide->closed ? places[0] + guide->length : guide->length - run->task.lay->along / 2;
}

int maths_rest_steps(const maths_rest *rest, int count) {
    return count - rest->struck + (rest->run->task.run->closed ? 1 : 0);
}

static bool in_range(const maths_rest *rest, double step) {
    const maths_lay *lay = rest->run->task.lay;
    return step >= lay->least - BW_EPS && step <= lay->most + BW_EPS;
}

/* Unseen, or no more than the plan itself changes. */
static bool bears(const maths_rest *rest, double step, double planned) {
    double most = fmax(BW_VISIBLE_CHANGE * rest->usual, fabs(planned - rest->usual));
    return in_range(rest, step) && fabs(step - rest->usual) <= most + BW_EPS;
}

static void add(bw_rest_count *out, maths_way *way, double from, int steps, double step) {
    way->stretches[way->stretch_count++] = (maths_stretch){from, steps, step};
    out->settings[out->setting_count++] = (bw_setting){BW_WHERE_STEPS, steps, step};
}

static void even(const maths_rest *rest, bw_rest_count *out, maths_way *way) {
    out->lose = BW_LOSE_EVEN;
    way->stretch_count = out->setting_count = 0;
    if (out->steps > 0)
        add(out, way, rest->from, out->steps, out->step);
}

/* The usual step, and the last K changed; within those it is the same changed step for all that is left. */
static bool last(const maths_rest *rest, bw_rest_count *out, maths_way *way) {
    int k = rest->run->task.lose_last, first = out->steps - k;
    if (first <= 0) {
        even(rest, out, way);
        out->lose = BW_LOSE_LAST;
        return in_range(rest, out->step);
    }
    double changed = (rest->left - first * rest->usual) / k;
    const maths_spread *spread = &rest->run->spread;
    if (!bears(rest, changed, spread->settings[spread->setting_count - 1].step))
        return false;
    add(out, way, rest->from, first, rest->usual);
    add(out, way, rest->from + first * rest->usual, k, changed);
    return true;
}

/* Lengths of bends and straights from the last impression on. */
static void bends_and_straights(const maths_rest *rest, double *bends, double *straights) {
    const maths_run *run = rest->run->task.run;
    *bends = *straights = 0;
    for (int trip = 0; trip < (run->closed ? 2 : 1); trip++)
        for (size_t i = 0; i < run->count; i++) {
            double before = trip * run->length;
            double part = fmin(before + run->at[i + 1], rest->until) - fmax(before + run->at[i], rest->from);
            *(run->curvature[i] == 0 ? straights : bends) += fmax(part, 0);
        }
}

static bool straights(const maths_rest *rest, bw_rest_count *out, maths_way *way) {
    const maths_spread *spread = &rest->run->spread;
    double bends, flat;
    if (spread->setting_count < 2) { /* no bends: one even setting is what this mode means here */
        even(rest, out, way);
        out->lose = BW_LOSE_STRAIGHTS;
        return in_range(rest, out->step);
    }
    bends_and_straights(rest, &bends, &flat);
    double count = out->steps - bends / rest->usual, changed = flat / count;
    if (flat <= BW_EPS || count <= 0 || !bears(rest, changed, spread->settings[1].step))
        return false;
    way->pace = (maths_pace){.step = rest->usual, .straight = changed};
    out->settings[out->setting_count++] = (bw_setting){BW_WHERE_BENDS, 0, rest->usual};
    out->settings[out->setting_count++] = (bw_setting){BW_WHERE_STRAIGHTS, 0, changed};
    return true;
}

/* What has drifted is lost before the next anchor, behind which all is as planned. */
static bool anchored(const maths_rest *rest, bw_rest_count *out, maths_way *way) {
    const maths_spread *spread = &rest->run->spread;
    int before = 0;
    for (size_t i = 0; i < spread->stretch_count; i++) {
        const maths_stretch *s = &spread->stretches[i];
        int steps = before + s->steps - (rest->struck - 1);
        before += s->steps;
        if (steps <= 0)
            continue;
        if (way->stretch_count > 0) {
            add(out, way, s->from, s->steps, s->step);
            continue;
        }
        double step = (s->from + s->steps * s->step - rest->from) / steps;
        if (step <= 0 || !bears(rest, step, s->step))
            return false;
        add(out, way, rest->from, steps, step);
    }
    return true;
}

static bool as_asked(const maths_rest *rest, bw_rest_count *out, maths_way *way) {
    switch (out->lose) {
    case BW_LOSE_LAST:
        return last(rest, out, way);
    case BW_LOSE_STRAIGHTS:
        return straights(rest, out, way);
    case BW_LOSE_ANCHORED:
        return anchored(rest, out, way);
    case BW_LOSE_EVEN:
        break;
    }
    even(rest, out, way);
    return true;
}

bool maths_rest_way(const maths_rest *rest, bw_rest_count *out, maths_way *way, maths_arena *arena) {
    const maths_spread *spread = &rest->run->spread;
    size_t room = spread->stretch_count + 2;
    *way = (maths_way){.stretches = maths_take(arena, room, sizeof *way->stretches)};
    out->settings = maths_take(arena, room, sizeof *out->settings);
    if (arena->failed)
        return false;
    out->lose = out->count == spread->count ? spread->lose : BW_LOSE_EVEN; /* another count is no longer that way's */
    if (as_asked(rest, out, way))
        return true;
    out->fell_back = true;
    way->pace = (maths_pace){0};
    even(rest, out, way);
    return true;
}

void maths_rest_places(const maths_run *run, const bw_rest_count *one, double x, double *places) {
    int n = 1;
    places[0] = x;
    for (size_t i = 0; i < one->setting_count; i++) {
        const bw_setting *s = &one->settings[i];
        if (s->where == BW_WHERE_BENDS) {
            maths_pace pace = {.step = s->step, .straight = one->settings[i + 1].step};
            for (; n <= one->steps; n++)
                places[n] = x = maths_step_end(run, &pace, x);
            return;
        }
        for (int k = 1; k <= s->steps && n <= one->steps; k++)
            places[n++] = x + k * s->step;
        x = places[n - 1];
    }
}
