/* maths/parallel.h - the steps from an edge to its trimmed parallel.
 *
 * 1. Every piece is moved (maths_moved_make): convex corners are mitred, concave ones filled with an arc, pieces that
 *    turn inside out are left out; where the chain does not hold together it has a break.
 * 2. The chain is cut where it crosses itself. Between two cuts all of it lies at distance d from the edge, or none of
 *    it does; what goes over a break does not, for it has turned inside out there (maths_trim).
 * 3. What lies at distance d is linked into loops, cut by cut (maths_link).
 *
 * After Choi and Park, "A pair-wise offset algorithm for 2D point-sequence curve", Computer-Aided Design 31 (1999), and
 * Held, "On the Computational Geometry of Pocket Machining", LNCS 500 (1991): both from memory.
 */
#ifndef MATHS_PARALLEL_H
#define MATHS_PARALLEL_H

#include "maths/boxes.h"

#define MATHS_SAME_SPOT 1e-7 /* mm: cuts nearer to each other along the chain are one, ends so near are joined */

/* An edge moved inward by d, piece by piece. */
typedef struct maths_moved {
    bw_curve *own; /* holds the pieces; whoever asked for them destroys it */
    bw_piece *pieces;
    bool *breaks; /* behind piece i the chain is broken */
    size_t count;
    bool closed;
    bool clean; /* a closed convex chain without breaks: nothing is left to trim */
} maths_moved;

/* False without memory; moved->own must be destroyed either way. */
bool maths_moved_make(maths_moved *moved, const bw_curve *edge, double d, maths_arena *arena);

/* A stretch of the moved chain between two cuts that lies at distance d. */
typedef struct maths_slice {
    size_t first, last; /* pieces */
    double from, until; /* along the first and the last of them */
    size_t begin, end;  /* the cuts where it begins and ends: equal numbers are one spot */
} maths_slice;

typedef struct maths_slices {
    maths_slice *list; /* along the chain */
    size_t count, cuts;
    bool *loose; /* one a cut: an open edge's end, or cut by its other side: nothing need go on there */
} maths_slices;

bool maths_trim(maths_slices *slices, const maths_moved *moved, const bw_curve *edge, double d, maths_arena *arena);

/* The slices as a curve with its loops. *sound: every slice found where to go on. NULL without memory. */
bw_curve *maths_link(const maths_slices *slices, const maths_moved *moved, const bw_curve *edge, maths_arena *arena,
                     bool *sound);

#endif
