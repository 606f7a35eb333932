/* maths/meet.h - where two lines or arcs meet. */
#ifndef MATHS_MEET_H
#define MATHS_MEET_H

#include "maths/curve.h"

#define MATHS_MEET_EPS 1e-8 /* mm: so far beyond its ends a piece is still met; chains cross in their joints too */

typedef struct maths_meeting {
    double a, b; /* mm along each piece, within it */
} maths_meeting;

/* Fills up to two meetings and returns how many. Pieces that lie on each other (parallel lines, arcs of one circle)
 * meet nowhere. */
int maths_meet(const bw_piece *a, const bw_piece *b, maths_meeting met[2]);

/* Starting from a guess of both places, improves them where the pieces are at an angle. False if it leads nowhere. */
bool maths_meet_near(const bw_piece *a, const bw_piece *b, maths_meeting *guess);

/* Do two pieces lie on each other over some length? Then both ends of that, along a, and 2; else 0. */
int maths_meet_along(const bw_piece *a, const bw_piece *b, maths_meeting met[2]);

#endif
