/* maths/curve.h - inside a bw_curve, for those who build them. */
#ifndef MATHS_CURVE_H
#define MATHS_CURVE_H

#include "bandwright/curve.h"
#include "maths/arena.h"

struct bw_curve {
    bw_allocator allocator;
    bw_piece *pieces;
    size_t count, room;
    size_t *firsts;    /* first piece of every loop; firsts[loops] = count */
    bool *loop_closed; /* one a loop */
    int loops;
    bool begun;  /* a loop that has no piece yet */
    bool closed; /* the edge that it is or is parallel to */
    double length;
    bool boxed; /* the box is that of all of it */
    bw_box box;
};

/* An empty curve with room for pieces of one loop, or of several. NULL without memory. */
bw_curve *maths_curve_new(const bw_allocator *allocator, size_t room, bool closed);
bw_curve *maths_curve_new_loops(const bw_allocator *allocator, size_t room, size_t loops, bool closed);
bw_curve *maths_curve_copy(const bw_curve *curve, const bw_allocator *allocator); /* NULL without memory */
/* Pieces added from here on are of another loop. A loop that gets none is not counted. */
void maths_curve_begin(bw_curve *curve, bool closed);
/* Appends a piece to the last loop, which is begun if there is none; `start` is set. Pieces no longer than BW_EPS are
 * left out. */
void maths_curve_add(bw_curve *curve, bw_piece piece);
/* Takes in, as its only loop, the first `count` pieces of its room, which the caller has written. */
void maths_curve_adopt(bw_curve *curve, size_t count);
void maths_curve_add_line(bw_curve *curve, bw_point from, double heading, double length);
void maths_curve_add_arc(bw_curve *curve, bw_point centre, double radius, double heading, double sweep);

double maths_angle(double radians); /* the same direction in (-pi, pi] */
bw_point maths_ahead(bw_point from, double heading, double distance);
/* Along a piece, distance u from its beginning. */
bw_spot maths_piece_at(const bw_piece *piece, double u);
/* A piece from place u to place v of it. */
bw_piece maths_piece_part(const bw_piece *piece, double u, double v);
/* How far along a piece the point nearest to p lies, and its distance. */
double maths_piece_nearest(const bw_piece *piece, bw_point p, double *distance);
/* Takes the last loop back if it has no breadth: then it holds no leather. */
void maths_curve_drop_thin(bw_curve *curve);
/* Change of direction at the joint before piece i within its loop; 0 at an open end. */
double maths_joint(const bw_curve *curve, int loop, size_t i);
/* Does the edge cross or touch itself? Then *at is where and along[] both places, the lesser first. */
bw_status maths_curve_crossing(const bw_curve *curve, bool *crosses, bw_point *at, double along[2]);
/* Appends a closed loop of a curve as another loop, begun at `along` (of the curve). Room for one piece more than the
 * loop has must be there. */
void maths_curve_add_from(bw_curve *to, const bw_curve *curve, int loop, double along);
/* The spot at `along` of the whole curve, which lies on this loop: its end is not the beginning of the next. */
bw_spot maths_loop_at(const bw_curve *curve, int loop, double along);
/* Place along the curve of a place on one of its pieces; the end of a closed loop is its beginning. */
double maths_curve_place_on(const bw_curve *curve, size_t piece, double u);
/* Place of the point of some loops nearest to p; of several as near, the first. */
double maths_loops_nearest(const bw_curve *curve, int first, int last, bw_point p);

#endif
