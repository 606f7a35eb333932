/* maths/svg.h - reads SVG path data (SVG 1.1, 8.3; numbers and spaces also as in SVG 2) piece by piece. */
#ifndef MATHS_SVG_H
#define MATHS_SVG_H

#include "bandwright/values.h"

typedef enum maths_svg_kind { MATHS_SVG_LINE, MATHS_SVG_CUBIC, MATHS_SVG_ARC, MATHS_SVG_CLOSE } maths_svg_kind;

/* All coordinates absolute, y downwards, in SVG units. A quadratic Bezier comes as the cubic that it is. */
typedef struct maths_svg_piece {
    maths_svg_kind kind;
    bw_point from, to;
    bw_point control[2];    /* cubic */
    double rx, ry, turn;    /* arc: radii as written, direction of the first in degrees */
    bool large, increasing; /* arc: both flags */
} maths_svg_piece;

typedef struct maths_svg {
    const char *text;
    size_t at;       /* byte to be read next; of what is wrong, once why is set */
    const char *why; /* what is wrong: a sentence without a full stop */
    double most;     /* greatest coordinate, either sign */
    char command;    /* that goes on if a number follows; 0 before the first */
    bool closed;
    bw_point first, now, control; /* control: of the Bezier before, for S and T */
    char before;                  /* command of the piece before, in capitals */
} maths_svg;

void maths_svg_open(maths_svg *svg, const char *text, double most);
/* False at the end, or with svg->why set. */
bool maths_svg_next(maths_svg *svg, maths_svg_piece *piece);

#endif
