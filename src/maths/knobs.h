/* maths/knobs.h - for moves.c. */
#ifndef MATHS_KNOBS_H
#define MATHS_KNOBS_H

#include "bandwright/moves.h"

/* A polygon's corners, and those of a rectangle that differ: only those that are rounded less than the value change. */
bool maths_corners_only_grow(const bw_outline *outline);
bool maths_knob_fixed(const bw_layout *layout, bw_knob knob, size_t band);

#endif
