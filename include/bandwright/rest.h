/* bandwright/rest.h - in mid-round: how a run that is struck in part is closed with what is left to go.
 *
 * Lengths are mm along the guide. On a closed run what is left goes from a point of the last impression on to the same
 * point of the first, and the step from the last impression to the first counts: of N impressions, n struck leave
 * N - n + 1 steps. On an open run it goes from the leading tip of the last impression to the run's end, where the last
 * face ends flush: N - n steps. A hole that two stitch runs share counts in both.
 */
#ifndef BANDWRIGHT_REST_H
#define BANDWRIGHT_REST_H

#include "marks.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BW_REST_MOST 64 /* counts told of at most: those nearest to the steps of the plan */

/* One count that the run could be closed with. Margins are those of the steps that are left, at every weave line, by
 * the same judgement as the plan's; 0 = at the limit. */
typedef struct bw_rest_count {
    int count;            /* impressions of the run then */
    int steps;            /* to be placed after the last impression */
    double step;          /* mm, even over all of them */
    double change;        /* mm, + longer: against the mean of the steps that were told for what is left */
    double share;         /* the same, as a share of those */
    double jump;          /* mm, + longer: the next step against the mean of those struck last; 0 with one struck */
    double overlap;       /* share, of `step` on the guide; NAN unless basket */
    bool as_planned;      /* nothing has drifted: it is what was told, from here on */
    bool fell_back;       /* the band's way of losing the difference would change more, or cannot be done: even now */
    bw_lose lose;         /* the way that is used */
    bw_setting *settings; /* in order, as in bw_run_plan */
    size_t setting_count;
    int spread; /* the fewest steps over which `change` is not seen (BW_VISIBLE_CHANGE each); 0: not even over all */
    bool works; /* legs reach outside and do not ride on bars inside, wherever it is struck */
    double reach, crowd, bend;
    int reach_line, crowd_line;   /* weave lines where they are least */
    double reach_mm, crowd_mm;    /* as in bw_fit */
    int leave_outer, leave_inner; /* where it does not work: rows to be left out on each side for it to work; -1: not
                                   * even the guide's own does */
} bw_rest_count;

/* What was struck of a run, and what is left of it as it was measured. What was told before is what the strikes since
 * then are compared with; all 0: the plan, from the first impression on. */
typedef struct bw_measure {
    size_t band, run;
    int struck;  /* 1 .. BW_COUNT_MOST */
    double left; /* mm, over 0 (an open run: 0 or over) up to bw_rest_longest */
    int count; /* this one alone, struck .. BW_COUNT_MOST; 0: all that are worth a thought, the plan's among them if it
                  still can be */
    int told_at;      /* impressions struck when it was measured before, up to `struck`; 0: never */
    double told_left; /* mm, left then */
    int told_count;   /* and the count that was taken */
    double aimed;     /* mm a step on the mean, where the layout was another one when they were struck; else 0 */
} bw_measure;

typedef struct bw_rest {
    size_t band, run;
    int struck;
    double left;
    double planned;     /* mm that the plan has left after so many; NAN: it has fewer impressions */
    double told;        /* mm that what was told last has left after so many; NAN likewise */
    int told_at;        /* as given; 0: it is the plan, or what was aimed at */
    double struck_step; /* mm, mean of the steps struck; NAN with one */
    double since_step;  /* mm, mean of those struck since what was told last; NAN without any */
    double told_step;   /* mm, what they were told to be on the mean; NAN likewise */
    /* The part struck, in the same terms: steps, their mean, and whether rows keyed to them work. Its places are those
     * of the plan and of what was told, stretched or squeezed to what was measured. */
    bw_rest_count part;
    /* Where that does not work: which of what was struck until it was told last and what was struck since does so
     * least, by itself, from impression worst_from on to worst_to; else all 0. */
    bw_rest_count worst;
    int worst_from, worst_to;
    /* Steps so short or long that a wrong count or measure is likelier than a hand that drifts: outside mean_least ..
     * mean_most mm, the tool's range and the plan's own step, wider by BW_VISIBLE_CHANGE and two readings of a rule of
     * BW_RULE_MM at each end. */
    bool doubtful;
    double mean_least, mean_most;
    double mean_found;     /* mm, the mean that is outside; with one struck the length that should be left. 0: none */
    int by_plan;           /* impressions after which the plan has about as much left */
    double open;           /* mm that stay open at the end at the widest step of the nearest count; 0: it reaches */
    bw_rest_count *counts; /* what works first, then by how little steps change */
    size_t count, works;   /* how many, and how many of them work */
    void *memory;          /* the library's own */
} bw_rest;

/* What is left by the plan after `struck` impressions (1 .. count) of a run; NAN for others. */
double bw_rest_planned(const bw_plan *plan, size_t band, size_t run, int struck);
/* The most that can be left of a run: its length, without a face on an open one. 0: there is no such run, or it is too
 * short. */
double bw_rest_longest(const bw_plan *plan, size_t band, size_t run);

/* BW_BAD_VALUE outside the ranges of bw_measure, and of a count below what is struck. The counts must be multiples as
 * in the plan, unless asked for. Released with bw_rest_destroy. */
bw_status bw_rest_create(const bw_plan *plan, const bw_measure *measure, const bw_allocator *allocator, bw_rest **rest);
void bw_rest_destroy(bw_rest *rest); /* NULL is fine */

/* Where the impressions stand if counts[index] is followed: places[0] is the last one struck, places[steps] where the
 * round closes, mm along the run; on a closed run they may pass its length. Room for steps + 1. */
void bw_rest_places(const bw_plan *plan, const bw_rest *rest, size_t index, double *places);

/* Check marks for what is left if counts[index] is followed, which parts its steps by `marks` (fewer than them) as
 * bw_check_marks does a run. `along` is from the last impression struck on, `across` straight from the mark before, the
 * first from that impression; the last entry of the list, which holds marks + 1, is where the run ends. */
bw_status bw_rest_marks(const bw_plan *plan, const bw_rest *rest, size_t index, int marks,
                        const bw_allocator *allocator, bw_check_mark *list);

/* How many strikes a run takes on the guide if it has `count` impressions: a hole that the next run strikes is not one.
 */
int bw_run_strikes(const bw_plan *plan, size_t band, size_t run, int count);
/* The same in rows[row] of the band. */
int bw_row_strikes(const bw_plan *plan, size_t band, size_t row, size_t run, int count);

#ifdef __cplusplus
}
#endif
#endif
