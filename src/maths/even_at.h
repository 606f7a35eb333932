/* maths/even_at.h - the least move of a guide for which its round closes at the usual step. */
#ifndef MATHS_EVEN_AT_H
#define MATHS_EVEN_AT_H

#include "maths/band.h"

/* gap: of the closed run, + left over. False if no move within the band closes it while it stays one closed run, or
 * without memory (then *no_memory). *shift: mm, inward +. */
bool maths_even_at(const maths_worked *work, const maths_run *run, double gap, double *shift, bool *no_memory);

#endif
