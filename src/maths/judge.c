#include "maths/judge.h"

#include <math.h>

#define AS_GOOD_AS_EQUAL 1e-4 /* mm: steps of symmetric places differ by less, through rounding and fitted arcs */

void maths_pace_ends(maths_pace *pace, const maths_run *run, const maths_lay *lay) {
    pace->round = run->closed;
    pace->from = run->closed ? 0 : lay->along / 2;
    pace->until = run->length - (run->closed ? 0 : lay->along / 2);
}

/* ---- what lines feel ---- */

typedef struct feeling {
    const maths_lay *lay;
    const maths_line *lines;
    size_t count;
    maths_felt *felt;
    double *feet, *heads;
} feeling;

/* A step on its way from one end of a span to the other, u from 0 to 1. */
static double between(const double ends[2], double u) {
    return ends[0] + u * (ends[1] - ends[0]);
}

typedef struct moment {
    double crossing, sideways; /* mm */
} moment;

/* How far legs lie on each other at a line, from 0 to e, mm. */
static double overlap_mm(const maths_lay *lay, double step) {
    double e = lay->face.leg;
    return fmin(fmax(maths_share(lay, step) * e, 0), e);
}

static moment moment_at(const maths_lay *lay, const maths_span *span, double delta, double u) {
    double turn = between(span->turn, u), step = between(span->step, u) - delta * turn;
    moment m = {.crossing = overlap_mm(lay, step) * fabs(turn) / 2};
    if (lay->angled)
        m.sideways = fabs(step * sin(lay->turn) - (lay->face.width - lay->face.rail)) + m.crossing;
    return m;
}

/* Where a linear figure passes a level inside the span. */
static void add_cut(double *cuts, int *count, double begin, double end, double level) {
    double u = (level - begin) / (end - begin);
    if (u > 0 && u < 1) /* false for NAN */
        cuts[(*count)++] = u;
}

static void sort_cuts(double *cuts, int count) {
    for (int i = 1; i < count; i++)
        for (int k = i; k > 0 && cuts[k] < cuts[k - 1]; k--) {
            double swap = cuts[k];
            cuts[k] = cuts[k - 1];
            cuts[k - 1] = swap;
        }
}

/* Top of the parabola through three values at both ends and the middle, if it lies inside; else the greatest of them.
 */
static double parabola_top(double begin, double middle, double end) {
    double a = 2 * (begin + end - 2 * middle), b = 4 * middle - 3 * begin - end;
    double top = fmax(fmax(begin, end), middle);
    double u = a < 0 ? -b / (2 * a) : -1;
    return u > 0 && u < 1 ? fmax(top, begin + u * (b + u * a)) : top;
}

static double greater(double a, double b) {
    return a > b ? a : b;
}

/* Nothing within the span can pass what was felt before: overlap, turning and the sideways way are greatest at its
 * ends. */
static bool no_news(const maths_lay *lay, const maths_span *span, const double steps[2], const maths_felt *felt) {
    double turn = greater(fabs(span->turn[0]), fabs(span->turn[1]));
    double crossing = greater(overlap_mm(lay, steps[0]), overlap_mm(lay, steps[1])) * turn / 2;
    if (crossing > felt->crossing || !lay->angled)
        return crossing <= felt->crossing;
    double along = sin(lay->turn), apart = lay->face.width - lay->face.rail;
    return greater(fabs(steps[0] * along - apart), fabs(steps[1] * along - apart)) + crossing <= felt->miss;
}

/* Crossing and miss are pieces of parabolas between the places where turning, overlap or the sideways way change sign
 * or stop. */
static void feel_crossing(const feeling *f, const maths_span *span, double delta, maths_felt *felt) {
    const maths_lay *lay = f->lay;
    double steps[2] = {span->step[0] - delta * span->turn[0], span->step[1] - delta * span->turn[1]};
    double cuts[6] = {0, 1};
    int count = 2;
    if (no_news(lay, span, steps, felt))
        return;
    if (span->turn[0] == span->turn[1] && steps[0] == steps[1]) {
        moment all = moment_at(lay, span, delta, 0);
        felt->crossing = fmax(felt->crossing, all.crossing);
        felt->miss = fmax(felt->miss, all.sideways);
        return;
    }
    add_cut(cuts, &count, span->turn[0], span->turn[1], 0);
    add_cut(cuts, &count, steps[0], steps[1], lay->most);
    add_cut(cuts, &count, steps[0], steps[1], lay->least);
    if (lay->angled)
        add_cut(cuts, &count, steps[0], steps[1], (lay->face.width - lay->face.rail) / sin(lay->turn));
    sort_cuts(cuts, count);
    for (int i = 0; i + 1 < count; i++) {
        moment begin = moment_at(lay, span, delta, cuts[i]);
        moment middle = moment_at(lay, span, delta, (cuts[i] + cuts[i + 1]) / 2);
        moment end = moment_at(lay, span, delta, cuts[i + 1]);
        felt->crossing = fmax(felt->crossing, parabola_top(begin.crossing, middle.crossing, end.crossing));
        felt->miss = fmax(felt->miss, parabola_top(begin.sideways, middle.sideways, end.sideways));
    }
}

static void feel_step(const maths_span *span, double delta, int side, maths_felt *felt) {
    double step = span->step[side] - delta * span->turn[side];
    double at = side == 0 ? span->from : span->until;
    if (!felt->any || step < felt->step_least)
        felt->step_least = step;
    if (!felt->any || step > felt->step_most)
        felt->step_most = step;
    if (!felt->any || step < felt->least_there - AS_GOOD_AS_EQUAL) {
        felt->least_there = step;
        felt->least_at = at;
    }
    if (!felt->any || step > felt->most_there + AS_GOOD_AS_EQUAL) {
        felt->most_there = step;
        felt->most_at = at;
    }
    felt->turn_most = fmax(felt->turn_most, fabs(span->turn[side]));
    felt->any = true;
}

static void feel_border(const feeling *f, const maths_span *span) {
    if (fabs(span->turn[0]) <= BW_EPS && fabs(span->turn[1]) <= BW_EPS)
        return;
    for (int side = 0; side < 2; side++) {
        double tilt = fabs(span->turn[side]) * f->lay->face.width / 2, step = span->step[side];
        *f->feet = fmax(*f->feet, f->lay->face.length - step + tilt);
        *f->heads = fmax(*f->heads, step + tilt - f->lay->face.length);
    }
}

static void feel_span(void *context, const maths_span *span) {
    const feeling *f = context;
    for (size_t i = 0; i < f->count; i++) {
        feel_step(span, f->lines[i].delta, 0, &f->felt[i]);
        feel_step(span, f->lines[i].delta, 1, &f->felt[i]);
        if (f->lay->fill == BW_FILL_BASKET)
            feel_crossing(f, span, f->lines[i].delta, &f->felt[i]);
    }
    if (f->lay->fill == BW_FILL_BORDER)
        feel_border(f, span);
}

void maths_feel(const maths_run *run, const maths_pace *pace, const maths_lay *lay, const maths_line *lines,
                size_t count, maths_felt *felt, double *feet, double *heads) {
    feeling f = {lay, lines, count, felt, feet, heads};
    maths_walk(run, pace, feel_span, &f);
}

void maths_feel_span(const maths_span *span, const maths_lay *lay, const maths_line *lines, size_t count,
                     maths_felt *felt, double *feet, double *heads) {
    feeling f = {lay, lines, count, felt, feet, heads};
    feel_span(&f, span);
}

/* ---- margins ---- */

/* reach and crowd of a border stamp or an iron, whose one line is the guide. */
static double single_reach(const maths_lay *lay, double step) {
    return fmin((lay->most - step) / (lay->most - lay->usual), 1);
}

static double single_crowd(const maths_lay *lay, double step) {
    return fmin((step - lay->least) / (lay->usual - lay->least), 1);
}

static double basket_crowd(const maths_lay *lay, double step, bool flat) {
    double share = maths_share(lay, step);
    return flat && share <= 1 + BW_EPS ? 1 : 1 - share; /* flat work is struck up to the bar */
}

static double reach_of(const maths_lay *lay, double longest) {
    return lay->fill == BW_FILL_BASKET ? maths_share(lay, longest) : single_reach(lay, longest);
}

static double crowd_of(const maths_lay *lay, double shortest, bool flat) {
    return lay->fill == BW_FILL_BASKET ? basket_crowd(lay, shortest, flat) : single_crowd(lay, shortest);
}

static double rise_at(double kappa, double delta, double length) {
    if (kappa == 0)
        return 0;
    double radius = fabs(1 / kappa - delta);
    return hypot(radius, length / 2) - radius;
}

static double basket_bend(const maths_lay *lay, double delta, double crossing, double convex, double concave) {
    double t = lay->face.rail, l = lay->face.length;
    double rise = fmax(rise_at(convex, delta, l), rise_at(concave, delta, l));
    return 1 - fmax(rise / (t / 2), crossing / (t / 4));
}

static double border_bend(const maths_lay *lay, double feet, double heads) {
    double l = lay->face.length;
    return isinf(feet) ? 1 : fmin(1 - fmax(feet / (BW_FEET_MOST * l), heads / (BW_HEADS_MOST * l)), 1);
}

maths_margins maths_judge(const maths_run *run, const maths_lay *lay, const maths_line *lines, size_t count,
                          const maths_felt *felt, double feet, double heads, bool flat, double convex, double concave) {
    maths_margins m = {.reach = INFINITY, .crowd = INFINITY, .bend = 1};
    for (size_t i = 0; i < count; i++) {
        double delta = lines[i].delta;
        m.sharp = m.sharp || 1 - convex * delta <= BW_EPS || 1 - concave * delta <= BW_EPS;
        double bend =
            lay->fill != BW_FILL_BASKET || !run->turns ? 1 : basket_bend(lay, delta, felt[i].crossing, convex, concave);
        if (bend < m.bend) {
            m.bend = bend;
            m.bend_line = (int)i;
        }
        if (!felt[i].any)
            continue;
        double reach = reach_of(lay, felt[i].step_most), crowd = crowd_of(lay, felt[i].step_least, flat);
        if (reach < m.reach) {
            m.reach = reach;
            m.reach_line = (int)i;
        }
        if (crowd < m.crowd) {
            m.crowd = crowd;
            m.crowd_line = (int)i;
        }
    }
    if (isinf(m.reach)) /* no step at all: nothing can open or crowd */
        m.reach = m.crowd = 1;
    if (lay->fill == BW_FILL_BORDER)
        m.bend = border_bend(lay, feet, heads);
    return m;
}

maths_even maths_judge_even(const maths_run *run, double step, const maths_lay *lay, const maths_line *lines,
                            size_t count, bool flat) {
    maths_pace pace = {.step = step};
    maths_pace_ends(&pace, run, lay);
    maths_range turn = maths_turn_range(run, step, pace.from, pace.until);
    maths_even even = {.longest = -INFINITY, .shortest = INFINITY};
    if (!turn.any)
        return (maths_even){.reach = 1, .crowd = 1, .longest = step, .shortest = step};
    for (size_t i = 0; i < count; i++) {
        double a = step - lines[i].delta * turn.least, b = step - lines[i].delta * turn.most;
        if (fmax(a, b) > even.longest) {
            even.longest = fmax(a, b);
            even.longest_line = (int)i;
        }
        if (fmin(a, b) < even.shortest) {
            even.shortest = fmin(a, b);
            even.shortest_line = (int)i;
        }
    }
    even.reach = reach_of(lay, even.longest);
    even.crowd = crowd_of(lay, even.shortest, flat);
    return even;
}
