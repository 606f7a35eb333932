/* maths/knobs.h - for moves.c and even*.c. */
#ifndef MATHS_KNOBS_H
#define MATHS_KNOBS_H

#include "bandwright/moves.h"

/* A polygon's corners, and those of a rectangle that differ: only those that are rounded less than the value change. */
bool maths_corners_only_grow(const bw_outline *outline);
/* Grid values next to one another on a side of the value now: way 1 or -1, k from 1. A grid that is one part in so many
 * is divided by, so that 95 hundredths are exactly what a file's 95 % is. */
double maths_grid_value(double now, double grid, int way, int k);
bool maths_knob_fixed(const bw_layout *layout, bw_knob knob, size_t band);

#endif
