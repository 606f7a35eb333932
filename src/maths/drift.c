/* How far the hand strays, by formula; the model stands in bandwright/drift.h. */
#include "bandwright/drift.h"

#include <math.h>

#include "bandwright/chance.h"
#include "bandwright/marks.h"

#define SPREAD_MOST 8.5   /* deviations: further out lies nothing that counts */
#define INTEGRAL_EPS 1e-8 /* of a chance */
#define INTEGRAL_DEEP 28  /* halvings: what is left is narrower than a number can tell */
#define PARTS 8           /* that the search for steep places begins with, between two of them */

static double square(double x) {
    return x * x;
}

/* Chance that a normal error lies within the tolerance. */
static double within(double mean, double variance, double tolerance) {
    double deviation = sqrt(variance);
    if (deviation <= BW_EPS * BW_EPS)
        return fabs(mean) <= tolerance + BW_EPS ? 1 : 0;
    double low = (-tolerance - mean) / deviation, high = (tolerance - mean) / deviation;
    return low > 0 ? bw_normal_below(-low) - bw_normal_below(-high) : bw_normal_below(high) - bw_normal_below(low);
}

/* Steps behind the last mark. */
static int last_part(int steps, int marks) {
    return steps - bw_mark_at(steps, marks + 1, marks);
}

static double closes(const bw_drift *d, int marks) {
    double n = last_part(d->steps, marks);
    double variance = n * square(d->sigma) + square(n * d->between) + (marks > 0 ? square(d->reading) : 0);
    return within(n * d->bias, variance, d->tolerance);
}

/* ---- at no mark off by more ---- */

/* The parts of a run: the first begins without a mark; of the others some are a step longer. */
typedef struct parts {
    const bw_drift *drift;
    int first, shorter, short_count, long_count;
} parts;

static parts parts_of(const bw_drift *d, int marks) {
    parts p = {.drift = d, .first = bw_mark_at(d->steps, marks + 1, 1), .shorter = d->steps / (marks + 1)};
    for (int i = 1; i <= marks; i++)
        if (bw_mark_at(d->steps, marks + 1, i + 1) - bw_mark_at(d->steps, marks + 1, i) > p.shorter)
            p.long_count++;
        else
            p.short_count++;
    return p;
}

static double part_within(const bw_drift *d, double n, double bias, double reading) {
    return within(n * bias, n * square(d->sigma) + square(reading), d->tolerance);
}

/* Every part ends within the tolerance, in a run that as a whole differs by `more` a step. */
static double all_within(const parts *p, double more) {
    const bw_drift *d = p->drift;
    double bias = d->bias + more, chance = part_within(d, p->first, bias, 0);
    if (p->short_count > 0)
        chance *= pow(part_within(d, p->shorter, bias, d->reading), p->short_count);
    if (p->long_count > 0)
        chance *= pow(part_within(d, p->shorter + 1, bias, d->reading), p->long_count);
    return chance;
}

/* At z deviations of `between`, with the density of the normal distribution there. */
static double weighed(const parts *p, double z) {
    return all_within(p, z * p->drift->between) * exp(-z * z / 2) / sqrt(2 * BW_PI);
}

/* A stretch of the integral by Simpson's rule, halved until it agrees with its halves. */
static double simpson(const parts *p, double from, double to, const double f[3], double whole, double eps, int deep) {
    double middle = (from + to) / 2, sixth = (to - from) / 12;
    double quarter = weighed(p, (from + middle) / 2), later = weighed(p, (middle + to) / 2);
    const double left[3] = {f[0], quarter, f[1]}, right[3] = {f[1], later, f[2]};
    double first = sixth * (f[0] + 4 * quarter + f[1]), second = sixth * (f[1] + 4 * later + f[2]);
    double off = first + second - whole;
    if (deep == 0 || fabs(off) <= 15 * eps)
        return first + second + off / 15;
    return simpson(p, from, middle, left, first, eps / 2, deep - 1) +
           simpson(p, middle, to, right, second, eps / 2, deep - 1);
}

static double stretch(const parts *p, double from, double to) {
    double sum = 0, width = (to - from) / PARTS;
    for (int i = 0; i < PARTS && to > from; i++) {
        double a = from + i * width, b = i + 1 < PARTS ? a + width : to;
        /* ends a hair inside: without sigma the chance drops from 1 to 0 just there */
        double hair = (b - a) * 1e-12;
        const double f[3] = {weighed(p, a + hair), weighed(p, (a + b) / 2), weighed(p, b - hair)};
        sum += simpson(p, a, b, f, (b - a) / 6 * (f[0] + 4 * f[1] + f[2]), INTEGRAL_EPS / PARTS, INTEGRAL_DEEP);
    }
    return sum;
}

/* The integral over `between`, parted where a part of the run just reaches the tolerance: there it is steep. */
static double unseen(const bw_drift *d, int marks) {
    parts p = parts_of(d, marks);
    if (d->between <= 0)
        return all_within(&p, 0);
    double cuts[7] = {-SPREAD_MOST}, lengths[3] = {p.first, p.shorter, p.shorter + 1};
    int count = 1;
    for (int i = 0; i < 6; i++) {
        double at = ((i % 2 ? d->tolerance : -d->tolerance) / lengths[i / 2] - d->bias) / d->between;
        int k = count++;
        for (; k > 1 && cuts[k - 1] > at; k--)
            cuts[k] = cuts[k - 1];
        cuts[k] = fmin(fmax(at, -SPREAD_MOST), SPREAD_MOST);
    }
    double sum = stretch(&p, cuts[count - 1], SPREAD_MOST);
    for (int i = 1; i < count; i++)
        sum += stretch(&p, cuts[i - 1], cuts[i]);
    return fmin(sum, 1);
}

/* ---- what is asked ---- */

bw_closing bw_closing_chance(const bw_drift *d, bw_way way, int marks) {
    bw_closing c = {.closes = closes(d, way == BW_WAY_THROUGH ? 0 : marks)};
    c.unseen = way == BW_WAY_ANEW && marks > 0 ? fmin(unseen(d, marks), c.closes) : c.closes;
    return c;
}

int bw_marks_needed(const bw_drift *d, double chance, bool no_jump) {
    for (int marks = 0; marks <= BW_MARKS_MOST && marks < d->steps; marks++)
        if (closes(d, marks) >= chance && (!no_jump || bw_closing_chance(d, BW_WAY_ANEW, marks).unseen >= chance))
            return marks;
    return -1;
}

static double told(double x) {
    return isnan(x) ? 0 : x;
}

bool bw_drift_of(const bw_hand *hand, int steps, double step, double tolerance, bw_drift *drift) {
    *drift = (bw_drift){.steps = steps, .step = step, .tolerance = tolerance};
    drift->sigma = hand->sigma.value;
    drift->between = told(hand->between.value);
    drift->bias = told(hand->bias.value);
    drift->reading = hand->rule / sqrt(12);
    return !isnan(drift->sigma);
}

/* Without an aim the hand was to find its own step: by how much that may lie elsewhere. */
static bw_estimate bias_or_unsure(const bw_hand *hand) {
    bw_estimate e = hand->bias;
    if (isnan(e.value)) {
        e.least = hand->usual.least - hand->usual.value;
        e.most = hand->usual.most - hand->usual.value;
    }
    return e;
}

bool bw_drift_limit(const bw_hand *hand, bool worse, bw_drift *drift) {
    bw_estimate bias = bias_or_unsure(hand);
    drift->sigma = worse ? hand->sigma.most : hand->sigma.least;
    drift->between = told(worse ? hand->between.most : hand->between.least);
    if (!isnan(bias.least)) {
        double further = fabs(bias.least) > fabs(bias.most) ? bias.least : bias.most;
        double nearer = further == bias.least ? bias.most : bias.least;
        drift->bias = worse ? further : bias.least <= 0 && bias.most >= 0 ? 0 : nearer;
    }
    return !isnan(drift->sigma);
}
