/* bandwright/drift.h - how far the hand strays over a run, and what check marks do about it.
 *
 * The model. Every step has an error of its own, normal with deviation sigma and independent of the others, and the
 * bias, which is the same in all; a whole run differs by `between` a step, normal and the same in all its steps. After
 * n steps the place is off by n bias on the average, with variance n sigma^2 + n^2 between^2: independent errors add by
 * their squares (JCGM 100:2008, 5.1.2), common ones plainly (5.2). A run of n steps closes when the place at its end is
 * off by no more than the tolerance, one way or the other.
 *
 * Check marks part the run as bw_check_marks does. They are taken to be right; the hand meets a mark, or reads how far
 * it is off one, with an error of its own, normal with deviation `reading`.
 *
 * All lengths are mm. Where marks are made, only the steps behind the last one tell whether the run closes: pure sigma
 * closes with 95 % if those are no more than (tolerance/(z sigma))^2, z = 1.959964.
 */
#ifndef BANDWRIGHT_DRIFT_H
#define BANDWRIGHT_DRIFT_H

#include "hand.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BW_MARKS_MOST 100       /* check marks on a run: more nobody makes; common practice */
#define BW_TRIALS_STEPS 4000000 /* steps struck in trials, so that they take no longer than a key may */
#define BW_LAST_ALONE 3         /* steps before the end that are not corrected, where it shows most; common practice */

/* What the hand does with its marks. */
typedef enum bw_way {
    BW_WAY_THROUGH, /* nothing: struck through without a look */
    BW_WAY_ANEW,    /* sets the next impression on the mark, whatever jump that leaves */
    BW_WAY_GRADUAL  /* shares what it is off at a mark among the steps to the next one, at most BW_VISIBLE_CHANGE of a
                       step each, and never among the last BW_LAST_ALONE of the run */
} bw_way;

typedef struct bw_drift {
    int steps;                   /* of the run, 1 or more */
    double step;                 /* mm, above 0: of this, a correction is at most BW_VISIBLE_CHANGE */
    double sigma, between, bias; /* mm a step; the first two 0 or more */
    double reading, tolerance;   /* mm, 0 or more */
} bw_drift;

typedef struct bw_closing {
    double closes; /* chance that the run closes */
    double unseen; /* that besides at no mark was the hand off by more: no jump shows. A way that leaves no jumps: as
                      `closes` */
    double error;  /* standard error of either; 0 = by formula */
    int trials;
} bw_closing;

/* The chances by formula; `marks` is 0 or more and under `steps`. With between, `unseen` of BW_WAY_ANEW is an integral
 * over it, right to 1e-7. Of BW_WAY_GRADUAL as if no correction were limited and none fell away. */
bw_closing bw_closing_chance(const bw_drift *drift, bw_way way, int marks);

/* The same by trials, step after step, with everything that the ways say. The errors are drawn by the generator of
 * G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number generators, OOPSLA 2014 (SplitMix), and made
 * normal by G. E. P. Box, M. E. Muller, Annals of Mathematical Statistics 29 (1958), 610-611: the same seed, the same
 * trials. trials is 1 or more. The error is sqrt(p (1 - p)/n) with p = (hits + 1)/(n + 2), so that it is never 0. */
bw_closing bw_closing_trials(const bw_drift *drift, bw_way way, int marks, int trials, unsigned long long seed);
/* As many trials as strike BW_TRIALS_STEPS steps, but at least 400 and no more than 20,000. */
int bw_trials_for(int steps);

/* The fewest marks, at most BW_MARKS_MOST, with which the run closes with this chance if it is set anew at each;
 * unseen: and no jump shows. -1: none of these do. */
int bw_marks_needed(const bw_drift *drift, double chance, bool unseen);

/* The drift of a hand over a run; false where its strips do not tell sigma. A bias or `between` that they do not tell
 * is taken to be 0; the reading is that of its rule, rule/sqrt(12) (JCGM 100:2008, 4.3.7). */
bool bw_drift_of(const bw_hand *hand, int steps, double step, double tolerance, bw_drift *drift);
/* The same at the better or the worse ends of the hand's limits; false where there are none. A bias that the strips do
 * not tell may be as much as their usual step is unsure. */
bool bw_drift_limit(const bw_hand *hand, bool worse, bw_drift *drift);

#ifdef __cplusplus
}
#endif
#endif
