/* bandwright/stamp.h - what stamp would do for a band, with all else as it is: found by trying on the plan's edge.
 */
#ifndef BANDWRIGHT_STAMP_H
#define BANDWRIGHT_STAMP_H

#include "plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Values from least to most work (to a thousandth of them), every one that was tried between; those just outside do
 * not, unless that end is where the trials ended. */
typedef struct bw_span {
    bool any; /* some value works */
    double least, most;
    bool below, above; /* it would go on working below least, above most: a tool cannot be so, or it was not tried */
} bw_span;

/* Each with the other sizes of the stamp in use kept: a fit that is good or tight, with the band's
 * count if it has one, else the one that then is found. Around the stamp's
 * own value if that works, else the nearest range that does. Measured steps are those of the stamp in use and would not
 * be another's: they are left out where the length or the legs differ. */
typedef struct bw_stamp {
    bool works;     /* as it is */
    bw_span length; /* mm, the face (legs in proportion, width and rail kept); an iron's pitch */
    bw_span leg;    /* basket: one leg as a share of the length */
    bw_span rail;   /* basket: mm */
} bw_stamp;

/* layout: the one that the plan was made of. Found when it is first asked for and then kept: it lives until
 * bw_plan_destroy. NULL of a plain band, of one that is not there, or without memory. Several threads may ask at once
 * if the allocator that the plan was made with may be called by several. */
const bw_stamp *bw_plan_stamp(const bw_layout *layout, const bw_plan *plan, size_t band);

#ifdef __cplusplus
}
#endif
#endif
