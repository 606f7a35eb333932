/* maths/kept.h - what a plan keeps of each band besides its figures, so that nothing is worked out twice. */
#ifndef MATHS_KEPT_H
#define MATHS_KEPT_H

#include <stdatomic.h>

#include "bandwright/profile.h"
#include "bandwright/stamp.h"
#include "bandwright/would.h"
#include "maths/band.h"

typedef struct maths_kept {
    maths_worked work;             /* without its band */
    _Atomic(bw_profile *) profile; /* NULL until asked for; so that threads may ask at once, the first one made stays */
    _Atomic(bw_would *) would;     /* likewise */
    _Atomic(bw_stamp *) stamp;     /* likewise */
} maths_kept;

maths_kept *maths_plan_kept(const bw_plan *plan, size_t band);
const bw_allocator *maths_plan_allocator(const bw_plan *plan);

/* The verdict on a band of the plan if it were asked for like this, on the plan's edge; tool NULL: its own. BW_NO_ROOM
 * of what is no layout. False without memory. */
bool maths_verdict_alone(const bw_layout *layout, const bw_plan *plan, size_t band, const bw_band *asked,
                         const bw_tool *tool, bw_verdict *verdict);

void maths_profile_destroy(bw_profile *profile); /* NULL is fine */

#endif
