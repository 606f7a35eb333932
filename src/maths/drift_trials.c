/* How far the hand strays, by trials: every step is struck, every mark is met. */
#include <math.h>

#include "bandwright/drift.h"
#include "bandwright/marks.h"
#include "maths/dice.h"

enum { TRIALS_LEAST = 400, TRIALS_MOST = 20000 };

int bw_trials_for(int steps) {
    int trials = BW_TRIALS_STEPS / (steps > 0 ? steps : 1);
    return trials < TRIALS_LEAST ? TRIALS_LEAST : trials > TRIALS_MOST ? TRIALS_MOST : trials;
}

/* By how much each of the steps before the next mark is made longer, where the hand sees itself so far off. */
static double correction(const bw_drift *d, double seen, int steps) {
    double most = BW_VISIBLE_CHANGE * d->step;
    return steps > 0 ? fmin(fmax(-seen / steps, -most), most) : 0;
}

/* One run. Returns how far off it ends; *unseen: at no mark was the hand off by more than the tolerance. */
static double strike(const bw_drift *d, bw_way way, int marks, maths_dice *dice, bool *unseen) {
    double off = 0, each = 0, common = d->bias;
    int struck = 0;
    *unseen = true;
    if (d->between > 0)
        common += d->between * maths_dice_normal(dice);
    for (int part = 1; part <= marks + 1; part++) {
        int until = bw_mark_at(d->steps, marks + 1, part);
        int corrected = until < d->steps - BW_LAST_ALONE ? until : d->steps - BW_LAST_ALONE;
        if (part > 1) {
            double seen = d->reading * maths_dice_normal(dice);
            *unseen = *unseen && fabs(off) <= d->tolerance;
            if (way == BW_WAY_ANEW)
                off = seen;
            else
                each = correction(d, off + seen, corrected - struck);
        }
        for (; struck < until; struck++)
            off += common + d->sigma * maths_dice_normal(dice) + (struck < corrected ? each : 0);
    }
    return off;
}

static double standard_error(int hits, int trials) {
    double p = (hits + 1.0) / (trials + 2.0);
    return sqrt(p * (1 - p) / trials);
}

bw_closing bw_closing_trials(const bw_drift *d, bw_way way, int marks, int trials, unsigned long long seed) {
    maths_dice dice = maths_dice_from(seed);
    int closed = 0, none_seen = 0;
    if (way == BW_WAY_THROUGH)
        marks = 0;
    for (int i = 0; i < trials; i++) {
        bool unseen, closes = fabs(strike(d, way, marks, &dice, &unseen)) <= d->tolerance;
        closed += closes;
        none_seen += closes && (unseen || way != BW_WAY_ANEW);
    }
    double error = fmax(standard_error(closed, trials), standard_error(none_seen, trials));
    return (bw_closing){
        .closes = (double)closed / trials, .unseen = (double)none_seen / trials, .error = error, .trials = trials};
}
