/* How many impressions: the usual step, the multiples that rows allow, and the range in which legs reach and do not
 * crowd. */
#include <math.h>

#include "maths/count.h"

/* Legs of a third of the length: the trade's proportion, most / 1.5 in place of least. */
#define FULL_LEGS 1.5

int maths_multiple(const bw_band *band, bool closed) {
    switch (band->fill) {
    case BW_FILL_BASKET:
        return band->lay == BW_LAY_STRAIGHT && closed ? 2 : 1;
    case BW_FILL_BORDER:
        return band->group;
    case BW_FILL_STITCH:
    case BW_FILL_PLAIN:
        break;
    }
    return 1;
}

bool maths_too_short(const maths_run *run, const maths_lay *lay) {
    return run->length < lay->along - BW_EPS;
}

double maths_steps_length(const maths_task *task) {
    return task->run->length - (task->run->closed ? 0 : task->lay->along);
}

int maths_steps_of(const maths_task *task, int count) {
    return task->run->closed ? count : count - 1;
}

double maths_step_of(const maths_task *task, int count) {
    int steps = maths_steps_of(task, count);
    return steps > 0 ? maths_steps_length(task) / steps : 0;
}

double maths_off_usual(double step, double usual) {
    return step > 0 ? fabs(log(step / usual)) : INFINITY;
}

/* The least count that makes sense. */
static int least_count(const maths_task *task) {
    int m = task->multiple;
    return task->run->closed ? m : (2 + m - 1) / m * m;
}

static int below(double ideal, int multiple, int least) {
    double n = fmin(floor(ideal / multiple) * multiple, 1e9);
    return n < least ? least : (int)n;
}

int maths_nearest_count(const maths_task *task) {
    double ideal = maths_steps_length(task) / task->lay->usual + (task->run->closed ? 0 : 1);
    int low = below(ideal, task->multiple, least_count(task)), high = low + task->multiple;
    double off_low = maths_off_usual(maths_step_of(task, low), task->lay->usual);
    double off_high = maths_off_usual(maths_step_of(task, high), task->lay->usual);
    return off_high < off_low - BW_EPS ? high : low;
}

static bool count_holds(const maths_task *task, int count) {
    maths_even even =
        maths_judge_even(task->run, maths_step_of(task, count), task->lay, task->lines, task->line_count, task->flat);
    return even.reach >= -BW_EPS && even.crowd >= -BW_EPS;
}

void maths_feasible(const maths_task *task, int *least, int *most) {
    const int m = task->multiple;
    double length = maths_steps_length(task), add = task->run->closed ? 0 : 1;
    *least = *most = 0;
    /* On the guide itself a step lies between least and most, so no count outside these can do. */
    double first = ceil((length / task->lay->most + add) / m - BW_EPS_FIT) * m;
    double last = floor((length / task->lay->least + add) / m + BW_EPS_FIT) * m;
    int low = (int)fmax(first, least_count(task)), high = (int)fmin(last, 1e9);
    while (low <= high && !count_holds(task, low))
        low += m;
    while (high >= low && !count_holds(task, high))
        high -= m;
    if (low <= high) {
        *least = low;
        *most = high;
    }
}

static maths_even judge(const maths_task *task, double step) {
    return maths_judge_even(task->run, step, task->lay, task->lines, task->line_count, task->flat);
}

/* The longest step whose legs reach everywhere: where the longest step at any line is `most`. That grows with the step,
 * in straight pieces, so false position with a halved end (Illinois) is there in a few trials. */
static double longest_reaching(const maths_task *task) {
    enum { TRIALS = 100 };
    const double most = task->lay->most, exact = 1e-13 * most; /* mm: as near as doubles tell steps apart */
    double low = 0, below = -most, high = most, above = judge(task, high).longest - most;
    if (judge(task, high).reach >= -BW_EPS)
        return high;
    for (int i = 0; i < TRIALS && high - low > exact; i++) {
        double step = low - below * (high - low) / (above - below);
        if (!(step > low && step < high))
            step = (low + high) / 2;
        double over = judge(task, step).longest - most;
        if (over > 0) {
            high = step;
            above = over;
            below /= 2;
        } else {
            low = step;
            below = over;
            above /= 2;
            if (over >= -exact)
                break;
        }
    }
    return low;
}

maths_some_step maths_any_step(const maths_task *task) {
    const maths_lay *lay = task->lay;
    maths_even even = judge(task, longest_reaching(task));
    double least = lay->most / FULL_LEGS;
    double crowd = 1 - (lay->most - even.shortest) / (lay->most - least);
    return (maths_some_step){.works = even.crowd >= -BW_EPS, .longer_legs_do = crowd >= -BW_EPS};
}
