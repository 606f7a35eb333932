/* bandwright/would.h - what else would do where a band does not work: found by trying.
 */
#ifndef BANDWRIGHT_WOULD_H
#define BANDWRIGHT_WOULD_H

#include "plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Each but the count is looked for with one verdict only; those trials leave the count free. All else is kept. */
typedef struct bw_would {
    double depth;      /* BW_NO_ROOM. mm from the edge at which the piece closes up; INFINITY: it does nowhere */
    double length;     /* BW_LEGS_LONG. mm: a stamp of the same proportions of this length works; 0: none was found */
    double takes_bend; /* BW_LEGS_LONG. mm: with this length it takes the bend, if nothing else; 0: none was found */
    double width;      /* BW_FEET_COLLIDE. mm: a stamp of this width works; 0: none was found */
    int count; /* any verdict, a band of one run whose count may move: so many impressions work; 0: none found */
    int rows;  /* BW_BAND_TOO_WIDE. So many rows each side of the guide work; 0: none was found */
} bw_would;

/* What would do instead of a band that does not work. layout: the one that the plan was made of. Found when it is first
 * asked for and then kept: it lives until bw_plan_destroy. NULL where the band is not there or without memory. Several
 * threads may ask at once if the allocator that the plan was made with may be called by several. */
const bw_would *bw_plan_would(const bw_layout *layout, const bw_plan *plan, size_t band);

#ifdef __cplusplus
}
#endif
#endif
