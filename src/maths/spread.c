/* Where the difference is lost: all round, in the last steps, on the straights, or between anchors. */
#include <math.h>

#include "maths/count.h"

static bool in_range(const maths_lay *lay, double step) {
    return step >= lay->least - BW_EPS && step <= lay->most + BW_EPS;
}

static double first_place(const maths_task *task) {
    return task->run->closed ? 0 : task->lay->along / 2;
}

static void add_setting(maths_spread *spread, bw_where where, int steps, double step) {
    spread->settings[spread->setting_count++] = (bw_setting){where, steps, step};
}

static void add_stretch(maths_spread *spread, double from, int steps, double step) {
    spread->stretches[spread->stretch_count++] = (maths_stretch){from, steps, step};
}

static void add_pace(maths_spread *spread, const maths_task *task, double step, double straight) {
    maths_pace *pace = &spread->paces[spread->pace_count++];
    *pace = (maths_pace){.step = step, .straight = straight};
    maths_pace_ends(pace, task->run, task->lay);
}

static void count_evenly(maths_spread *spread, const maths_task *task) {
    spread->count = task->given > 0 ? task->given : spread->nearest;
    if (task->given == 0 && spread->feasible_least > 0) {
        if (spread->count < spread->feasible_least)
            spread->count = spread->feasible_least;
        if (spread->count > spread->feasible_most)
            spread->count = spread->feasible_most;
    }
}

/* Gap and even step of the count. */
static void close_up(maths_spread *spread, const maths_task *task) {
    int steps = maths_steps_of(task, spread->count);
    spread->even = maths_step_of(task, spread->count);
    spread->gap = maths_steps_length(task) - steps * task->lay->usual;
    spread->change = steps > 0 ? spread->gap / steps : 0;
}

static void spread_even(maths_spread *spread, const maths_task *task) {
    int steps = maths_steps_of(task, spread->count);
    spread->lose = BW_LOSE_EVEN;
    if (steps > 0) {
        add_setting(spread, BW_WHERE_STEPS, steps, spread->even);
        add_pace(spread, task, spread->even, 0);
    }
    add_stretch(spread, first_place(task), steps, spread->even);
}

static bool spread_last(maths_spread *spread, const maths_task *task) {
    int steps = maths_steps_of(task, spread->count), k = task->lose_last;
    double usual = task->lay->usual, changed = usual + spread->gap / k;
    if (k < 1 || k > steps || !in_range(task->lay, changed))
        return false;
    if (k < steps) {
        add_setting(spread, BW_WHERE_STEPS, steps - k, usual);
        add_pace(spread, task, usual, 0);
        add_stretch(spread, first_place(task), steps - k, usual);
    }
    add_setting(spread, BW_WHERE_STEPS, k, changed);
    add_pace(spread, task, changed, 0);
    add_stretch(spread, first_place(task) + (steps - k) * usual, k, changed);
    return true;
}

/* Lengths of bends and straights where steps lie. */
static void bends_and_straights(const maths_task *task, double *bends, double *straights) {
    const maths_run *run = task->run;
    double from = first_place(task), until = from + maths_steps_length(task);
    *bends = *straights = 0;
    for (size_t i = 0; i < run->count; i++) {
        double part = fmin(run->at[i + 1], until) - fmax(run->at[i], from);
        *(run->curvature[i] == 0 ? straights : bends) += fmax(part, 0);
    }
}

static bool spread_straights(maths_spread *spread, const maths_task *task) {
    double bends, straights, usual = task->lay->usual;
    int steps = maths_steps_of(task, spread->count);
    bends_and_straights(task, &bends, &straights);
    if (straights <= BW_EPS && steps > 0)
        return false;
    if (bends <= BW_EPS ||
        steps < 1) { /* nothing turns, or nothing to lose: one even setting is what this mode means here */
        if (steps > 0 && !in_range(task->lay, spread->even))
            return false;
        spread_even(spread, task);
        spread->lose = BW_LOSE_STRAIGHTS;
        return true;
    }
    double left = steps - bends / usual, changed = straights / left;
    if (left <= 0 || !in_range(task->lay, changed))
        return false;
    add_setting(spread, BW_WHERE_BENDS, 0, usual);
    add_setting(spread, BW_WHERE_STRAIGHTS, 0, changed);
    add_pace(spread, task, usual, changed);
    return true;
}

/* ---- anchored ---- */

static int sum_of(const maths_stretch *stretches, size_t count) {
    int sum = 0;
    for (size_t i = 0; i < count; i++)
        sum += stretches[i].steps;
    return sum;
}

/* A stretch of its own: at least one step, nearest to the usual by ratio. */
static int nearest_steps(double length, double usual) {
    int low = (int)fmin(fmax(floor(length / usual), 1), 1e9);
    double off_low = maths_off_usual(length / low, usual), off_high = maths_off_usual(length / (low + 1), usual);
    return off_high < off_low - BW_EPS ? low + 1 : low;
}

/* One step more (way 1) or fewer (way -1) in the stretch that minds it least; false if none can. cost grows by what it
 * minds. */
static bool change_one(maths_stretch *stretches, const double *lengths, size_t count, double usual, int way,
                       double *cost) {
    size_t best = count;
    double least = INFINITY;
    for (size_t i = 0; i < count; i++) {
        int n = stretches[i].steps;
        if (n + way < 1)
            continue;
        double grows = maths_off_usual(lengths[i] / (n + way), usual) - maths_off_usual(lengths[i] / n, usual);
        if (grows < least - BW_EPS) {
            least = grows;
            best = i;
        }
    }
    if (best == count)
        return false;
    stretches[best].steps += way;
    *cost += least;
    return true;
}

static bool change_to(maths_stretch *stretches, const double *lengths, size_t count, double usual, int target,
                      double *cost) {
    int sum = sum_of(stretches, count);
    *cost = 0;
    for (; sum != target; sum += sum < target ? 1 : -1)
        if (!change_one(stretches, lengths, count, usual, sum < target ? 1 : -1, cost))
            return false;
    return true;
}

/* Brings the sum of steps to the count given, or to the cheaper of the multiples next to it. */
static bool settle(maths_stretch *stretches, const double *lengths, size_t count, const maths_task *task,
                   maths_arena *arena) {
    const int m = task->multiple, end = task->run->closed ? 0 : 1;
    double usual = task->lay->usual, cost, cost_up;
    int found = sum_of(stretches, count) + end;
    if (task->given > 0)
        return change_to(stretches, lengths, count, usual, task->given - end, &cost);
    if (found % m == 0)
        return true;
    maths_stretch *up = maths_take(arena, count, sizeof *up);
    if (up == NULL)
        return false;
    for (size_t i = 0; i < count; i++)
        up[i] = stretches[i];
    int lower = found / m * m;
    bool can_up = change_to(up, lengths, count, usual, lower + m - end, &cost_up);
    bool can_down = lower - end >= (int)count && change_to(stretches, lengths, count, usual, lower - end, &cost);
    if (can_up && (!can_down || cost_up < cost - BW_EPS))
        for (size_t i = 0; i < count; i++)
            stretches[i] = up[i];
    return can_up || can_down;
}

/* Ends of the stretches: anchors, and on an open run the flush first and last impressions. */
static size_t cut_at_anchors(const maths_task *task, maths_stretch *stretches, double *lengths) {
    const maths_run *run = task->run;
    size_t n = 0, anchors = task->anchor_count;
    if (run->closed) {
        for (size_t i = 0; i < anchors; i++) {
            double next = i + 1 < anchors ? task->anchors[i + 1] : task->anchors[0] + run->length;
            stretches[n].from = task->anchors[i];
            lengths[n++] = next - task->anchors[i];
        }
        return n;
    }
    double end = first_place(task), last = end + maths_steps_length(task);
    for (size_t i = 0; i <= anchors; i++) {
        double next = i < anchors ? task->anchors[i] : last;
        if (i < anchors && (next <= first_place(task) + BW_EPS || next >= last - BW_EPS))
            continue; /* within half a face of an end */
        stretches[n].from = end;
        lengths[n++] = next - end;
        end = next;
    }
    return n;
}

static bool spread_anchored(maths_spread *spread, const maths_task *task, maths_arena *arena) {
    size_t room = task->anchor_count + 1;
    double *lengths = maths_take(arena, room, sizeof *lengths);
    if (lengths == NULL)
        return false;
    if ((task->run->closed && task->anchor_count == 0) || maths_steps_length(task) <= BW_EPS)
        return false;
    size_t n = cut_at_anchors(task, spread->stretches, lengths);
    for (size_t i = 0; i < n; i++)
        spread->stretches[i].steps = nearest_steps(lengths[i], task->lay->usual);
    if (!settle(spread->stretches, lengths, n, task, arena))
        return false;
    for (size_t i = 0; i < n; i++) {
        spread->stretches[i].step = lengths[i] / spread->stretches[i].steps;
        if (!in_range(task->lay, spread->stretches[i].step))
            return false;
    }
    for (size_t i = 0; i < n; i++) {
        const maths_stretch *s = &spread->stretches[i];
        add_setting(spread, BW_WHERE_STEPS, s->steps, s->step);
        spread->paces[spread->pace_count++] =
            (maths_pace){.step = s->step, .from = s->from, .until = s->from + lengths[i]};
    }
    spread->stretch_count = n;
    spread->count = sum_of(spread->stretches, n) + (task->run->closed ? 0 : 1);
    close_up(spread, task);
    return true;
}

static bool spread_as_asked(maths_spread *spread, const maths_task *task, maths_arena *arena) {
    switch (task->lose) {
    case BW_LOSE_EVEN:
        spread_even(spread, task);
        return true;
    case BW_LOSE_LAST:
        return spread_last(spread, task);
    case BW_LOSE_STRAIGHTS:
        return spread_straights(spread, task);
    case BW_LOSE_ANCHORED:
        return spread_anchored(spread, task, arena);
    }
    return false;
}

bool maths_spread_make(maths_spread *spread, const maths_task *task, maths_arena *arena) {
    *spread = (maths_spread){.lose = task->lose};
    if (maths_too_short(task->run, task->lay))
        return true;
    size_t room = task->anchor_count + 2;
    spread->settings = maths_take(arena, room, sizeof *spread->settings);
    spread->stretches = maths_take(arena, room, sizeof *spread->stretches);
    spread->paces = maths_take(arena, room, sizeof *spread->paces);
    if (arena->failed)
        return false;
    maths_feasible(task, &spread->feasible_least, &spread->feasible_most);
    spread->nearest = maths_nearest_count(task);
    spread->refused = task->given > 0 && (task->given % task->multiple != 0 || (!task->run->closed && task->given < 2));
    count_evenly(spread, task);
    close_up(spread, task);
    if (spread_as_asked(spread, task, arena))
        return !arena->failed;
    spread->fell_back = true;
    spread->setting_count = spread->stretch_count = spread->pace_count = 0;
    spread_even(spread, task);
    return !arena->failed;
}

void maths_places(const maths_spread *spread, const maths_task *task, double *places) {
    int n = 0;
    if (spread->stretch_count == 0 && spread->count > 0) {
        double x = first_place(task);
        for (; n < spread->count; n++) {
            places[n] = x;
            x = maths_step_end(task->run, &spread->paces[0], x);
        }
        return;
    }
    for (size_t i = 0; i < spread->stretch_count; i++) {
        const maths_stretch *s = &spread->stretches[i];
        bool last = i + 1 == spread->stretch_count && !task->run->closed;
        for (int k = 0; k < s->steps + last && n < spread->count; k++)
            places[n++] = s->from + k * s->step;
    }
}
