/* maths/svg_number.h - numbers, flags and what stands between them in SVG path data. */
#ifndef MATHS_SVG_NUMBER_H
#define MATHS_SVG_NUMBER_H

#include "maths/svg.h"

void maths_svg_spaces(maths_svg *svg);
/* Does a number begin here? */
bool maths_svg_at_number(const maths_svg *svg);
/* Each reads one argument of a command; `later`: a comma may stand before it. False with svg->why set. */
bool maths_svg_number(maths_svg *svg, bool later, double *number);
bool maths_svg_flag(maths_svg *svg, bool *flag);
bool maths_svg_wrong(maths_svg *svg, size_t at, const char *why); /* false */

#endif
