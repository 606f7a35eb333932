/* bandwright/hand.h - what test strips and finished rounds tell of the hand: its steps, its spread and its bias.
 *
 * A strip is a row of impressions on scrap, struck without looking at a scale. Its length runs from one point of the
 * first impression to the same point of the last, so m = impressions - 1 steps lie in it and its step is y = length/m.
 * All lengths are mm, a step is one in a straight lay.
 *
 * The model. y = s + t + (e_1 + ... + e_m)/m + (u + v)/m: s the hand's own step; t how this strip as a whole differs
 * from others (day, leather, grip), deviation `between`; e the error of one step, deviation `sigma`, one independent of
 * the other; u and v the two readings of the rule, each anywhere within half its resolution r (rectangular, JCGM
 * 100:2008, 4.3.7), variance r^2/12 each. So y has the variance between^2 + sigma^2/m + r^2/(6 m^2) (5.1.2).
 *
 * - closest, usual, widest: the plain mean of y over the strips struck so, each strip once however long (4.2.1). Limits
 *   by Student's t with k - 1 degrees of freedom (4.2.3, G.3.2). Strips that all read alike differ by less than the
 *   rule tells: their scatter is then taken to be that of the reading alone.
 * - sigma with `places`: steps around the mean step of their strip, pooled over all strips with places; the reading of
 *   each place (r^2/12, shared by the two steps beside it) is taken off. Limits by chi-square, degrees of freedom by
 *   Welch and Satterthwaite (G.4.1), because what the reading adds is not independent from step to step.
 *   Without places: from the scatter of the strips around the mean of their sort, all of which is laid to the steps
 *   (`from_places` is false): each squared difference weighs m, the reading is taken off, limits by chi-square with one
 *   degree a strip less one a sort. Where nothing is left the least is 0.
 * - between: only with places, from what the strips scatter more than their steps and the reading explain; its limits
 *   take sigma as known.
 * - bias: the mean of y - aimed over usual strips and rounds that have an aim, limits by Student's t. The others tell
 *   nothing of it: what they might have been aimed at is a guess.
 *
 * A finished round is a strip of many steps. One with an aim was set by its piece, not by the hand: it counts for bias
 * and scatter (around its aim), but not for the usual step.
 *
 * Where sigma or between are hidden by what explains the scatter (the reading, and for between the steps), their upper
 * limit is no less than that.
 *
 * All limits hold with 95 %; where a single strip tells nothing of them least and most are NAN, and where there is no
 * strip value is NAN, too.
 */
#ifndef BANDWRIGHT_HAND_H
#define BANDWRIGHT_HAND_H

#include "values.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BW_RULE_MM 0.5 /* what a steel rule is read to if nothing is said, mm; common practice */

typedef enum bw_how { BW_STRUCK_USUAL, BW_STRUCK_CLOSEST, BW_STRUCK_WIDEST, BW_STRUCK_COUNT } bw_how;

/* A strip or, with `round`, a finished round. With places (place_count of them, one for each impression but the first,
 * mm from the first, each above the one before) they say impressions and length, whatever stands there. */
typedef struct bw_strip {
    int impressions; /* 2 or more; steps = impressions - 1 */
    double length;   /* mm, above 0 */
    bw_how struck;
    double aimed; /* mm a step; NAN = nothing was aimed at but the usual */
    const double *places;
    size_t place_count;
    bool round;
} bw_strip;

typedef struct bw_estimate {
    double value, least, most; /* mm a step */
    double freedom;            /* degrees of freedom; NAN where there are no limits */
    int strips;                /* that went into it */
} bw_estimate;

typedef struct bw_hand {
    bw_estimate closest, usual, widest;
    bw_estimate sigma, between, bias;
    bool from_places; /* sigma was measured within strips, apart from what lies between them */
    double rule;      /* as it was given */
} bw_hand;

/* rule: what lengths are read to, mm, 0 or more. Strips that are outside their ranges are left out. strips may be NULL
 * with count 0. */
bw_hand bw_hand_of(const bw_strip *strips, size_t count, double rule);

/* Steps in a strip and its step in mm; 0 and NAN for one outside its ranges. */
int bw_strip_steps(const bw_strip *strip);
double bw_strip_step(const bw_strip *strip);

/* The same of a tool's strips and rounds. */
bw_hand bw_tool_hand(const bw_tool *tool, double rule);

/* The usual step by the face alone, mm: a basket stamp's by its usual overlap (its own, else half a leg), a border
 * stamp's length, an iron's pitch. NAN for a tool that has no steps. */
double bw_face_step(const bw_tool *tool);

/* The step that a plan takes, mm: as given, from strips, or by the face alone. NAN for a tool that has no steps. */
double bw_step_in_use(const bw_tool *tool, bw_how how);

/* Is this a step (mm) that the tool can have been struck with at all? *least and *most: from the closest step by the
 * face alone over BW_STEP_SLIP to the widest times that. What lies beyond comes of a slip in counting, measuring or
 * typing. */
bool bw_step_can_be(const bw_tool *tool, double step, double *least, double *most);

/* How many strips more would bring the limits of a mean step or bias to half of what they are, if they scatter as they
 * did: the least n of strips in all with t(n - 1)/sqrt(n) at most half of now. 1 where there are no limits yet, 0 where
 * there is no width. */
int bw_strips_to_halve(const bw_estimate *estimate);

#ifdef __cplusplus
}
#endif
#endif
