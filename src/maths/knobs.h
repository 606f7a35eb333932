/* maths/knobs.h - for moves.c. */
#ifndef MATHS_KNOBS_H
#define MATHS_KNOBS_H

#include "bandwright/moves.h"

bool maths_knob_fixed(const bw_layout *layout, bw_knob knob, size_t band);

#endif
