/* maths/warn.h - the warnings of a band. */
#ifndef MATHS_WARN_H
#define MATHS_WARN_H

#include "maths/band.h"

enum { MATHS_WARNINGS_A_BAND = BW_WARN_TOOL_DIFFERS };

/* Adds those of plan->bands[band], in the order of bw_warning_kind. */
void maths_warn(bw_plan *plan, const bw_layout *layout, const maths_worked *work, size_t band);

#endif
