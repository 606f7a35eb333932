/* maths/fit.h - smooth curves as chains of arcs that touch: Beziers and ellipses. */
#ifndef MATHS_FIT_H
#define MATHS_FIT_H

#include "maths/outline.h"

/* A cubic Bezier, t from 0 to 1, or part of an ellipse, t its eccentric angle (ry < 0: it turns right). */
typedef struct maths_bow {
    bool elliptic;
    bw_point p[4];           /* Bezier */
    bw_point centre;         /* ellipse */
    double rx, ry, cos, sin; /* semi-axes, and the direction of the first of them */
} maths_bow;

/* A point of a curve with its direction there. */
typedef struct maths_mark {
    double t;
    bw_point at;
    double heading;
} maths_mark;

/* The bow and its first two derivatives. */
void maths_bow_at(const maths_bow *bow, double t, bw_point *at, bw_point *first, bw_point *second);

/* Appends arcs from mark a to mark b, a.t < b.t; both may lie a hair beside the bow. Pieces shorter than `brief` (mm)
 * need to be true in place but not in direction. */
void maths_fit(maths_chain *chain, const maths_bow *bow, maths_mark a, maths_mark b, double brief);

/* From chain->at = p[0]. */
void maths_fit_cubic(maths_chain *chain, const bw_point p[4]);
/* Part of an ellipse, from point `from` at eccentric angle `begin` over `sweep` to point `to`. */
void maths_fit_elliptic(maths_chain *chain, const maths_bow *ellipse, bw_point from, bw_point to, double begin,
                        double sweep);
/* A whole ellipse around the origin, from its lowest point. */
void maths_fit_ellipse(maths_chain *chain, double length, double width);

#endif
