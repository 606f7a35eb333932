/* maths/lay.h - what a tool in its lay makes of a band: step range, face along the line, rows. */
#ifndef MATHS_LAY_H
#define MATHS_LAY_H

#include "bandwright/plan.h"
#include "maths/run.h"

typedef struct maths_lay {
    bw_fill fill;
    bool angled;
    bw_face face;
    double turn;               /* radians, a */
    double least, usual, most; /* mm */
    double overlap;            /* f, basket */
    bool measured;
    double apart;       /* q */
    double along;       /* F */
    double half_height; /* h, angled */
    double slant;       /* +1 inward, -1 outward */
} maths_lay;

/* turns: the guide turns somewhere. */
maths_lay maths_lay_make(const bw_band *band, const bw_tool *tool, bool turns);

/* Overlap share of a step at a weave line; what basket margins are made of. */
double maths_share(const maths_lay *lay, double step);

/* Where a band lies and where its guide. */
typedef struct maths_strip {
    double outer, guide, inner; /* mm from the edge */
} maths_strip;

typedef struct maths_rows {
    bw_row_plan *rows;
    size_t count;
    double bare_outer, bare_inner;
    int outer_rows, inner_rows; /* struck on each side of a straight guide */
    bool guide_row_missing;     /* the band is too narrow */
    bool guide_row_leaned;
    bool face_out; /* border: the face sticks out */
} maths_rows;

/* kappa: greatest convex (>= 0) and concave (<= 0) mean curvature of the guide. */
bool maths_rows_make(maths_rows *rows, const maths_lay *lay, const maths_strip *strip, double kappa_convex,
                     double kappa_concave, maths_arena *arena);

/* The weave lines that count, outermost first, as offsets from the guide. */
typedef struct maths_line {
    int number;
    double delta; /* mm from the guide, inward + */
} maths_line;

maths_line *maths_lines_make(const maths_rows *rows, const maths_lay *lay, const maths_strip *strip, size_t *count,
                             maths_arena *arena);

#endif
