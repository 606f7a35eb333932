/* maths/kept.h - what a plan keeps of each band besides its figures, so that nothing is worked out twice. */
#ifndef MATHS_KEPT_H
#define MATHS_KEPT_H

#include <stdatomic.h>

#include "bandwright/profile.h"
#include "bandwright/would.h"
#include "maths/band.h"

typedef struct maths_kept {
    maths_worked work;             /* without its band */
    _Atomic(bw_profile *) profile; /* NULL until asked for; so that threads may ask at once, the first one made stays */
    _Atomic(bw_would *) would;     /* likewise */
} maths_kept;

maths_kept *maths_plan_kept(const bw_plan *plan, size_t band);
const bw_allocator *maths_plan_allocator(const bw_plan *plan);

void maths_profile_destroy(bw_profile *profile); /* NULL is fine */

#endif
