/* maths/boxes.h - boxes around pieces of a chain, halves within halves: neighbours along a chain lie near each other,
 * so its order serves as it is. */
#ifndef MATHS_BOXES_H
#define MATHS_BOXES_H

#include "maths/arena.h"
#include "maths/curve.h"

typedef struct maths_boxes {
    const bw_piece *pieces;
    size_t count;
    bw_box *around; /* one a piece */
    bw_box *nodes;  /* node 1 is the root, 2 k and 2 k + 1 are the halves of k, the last `leaves` hold pieces */
    size_t leaves;  /* a power of two */
} maths_boxes;

/* pieces must outlive them. False without memory. */
bool maths_boxes_make(maths_boxes *boxes, const bw_piece *pieces, size_t count, maths_arena *arena);

/* Called for two pieces whose boxes touch; false stops the search. */
typedef bool maths_pair(void *context, size_t i, size_t k);

/* Pairs i < k of one set; with before not NULL only those of i < *before, which the callback may lower. False if
 * stopped. */
bool maths_boxes_pairs(const maths_boxes *boxes, const size_t *before, maths_pair *pair, void *context);
/* Pairs of i in one set and k in the other. */
bool maths_boxes_between(const maths_boxes *one, const maths_boxes *other, maths_pair *pair, void *context);
/* Place along the curve, whose pieces these are, of the point nearest to p; of several as near, the first. */
double maths_boxes_nearest(const maths_boxes *boxes, const bw_curve *curve, bw_point p);
/* Is any piece nearer to p than this? */
bool maths_boxes_nearer(const maths_boxes *boxes, bw_point p, double limit);

#endif
