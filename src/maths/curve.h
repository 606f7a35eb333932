/* maths/curve.h - inside a bw_curve, for those who build them. */
#ifndef MATHS_CURVE_H
#define MATHS_CURVE_H

#include "bandwright/curve.h"
#include "maths/arena.h"

struct bw_curve {
    bw_allocator allocator;
    bw_piece *pieces;
    size_t count, room;
    size_t *firsts; /* first piece of every loop; firsts[loops] = count */
    int loops;
    bool closed;
    double length;
};

/* An empty curve with room for pieces of one loop. NULL without memory. */
bw_curve *maths_curve_new(const bw_allocator *allocator, size_t room, bool closed);
/* Appends a piece to the single loop; `start` is set. Pieces no longer than BW_EPS are left out. */
void maths_curve_add_line(bw_curve *curve, bw_point from, double heading, double length);
void maths_curve_add_arc(bw_curve *curve, bw_point centre, double radius, double heading, double sweep);

double maths_angle(double radians); /* the same direction in (-pi, pi] */
bw_point maths_ahead(bw_point from, double heading, double distance);
/* Along piece i of a curve, distance u from its beginning. */
bw_spot maths_piece_at(const bw_piece *piece, double u);
/* How far along a piece the point nearest to p lies, and its distance. */
double maths_piece_nearest(const bw_piece *piece, bw_point p, double *distance);
/* Change of direction at the joint before piece i within its loop; 0 at an open end. */
double maths_joint(const bw_curve *curve, int loop, size_t i);
/* Does the edge cross or touch itself? Then *at is where and along[] both places, the lesser first. */
bw_status maths_curve_crossing(const bw_curve *curve, bool *crosses, bw_point *at, double along[2]);
/* The same curve, of a single closed loop, starting at `along`. NULL without memory. */
bw_curve *maths_curve_from(const bw_curve *curve, double along, const bw_allocator *allocator);

#endif
