/* maths/outline.h - how an outline becomes a curve: a growing chain of lines and arcs, and the shapes that fill it. */
#ifndef MATHS_OUTLINE_H
#define MATHS_OUTLINE_H

#include "maths/curve.h"

/* A line (sweep 0) or an arc. */
typedef struct maths_bend {
    bw_point from;
    double heading, length, sweep; /* sweep signed, counter-clockwise + */
    double bend[2];                /* 1/mm, as in bw_piece */
} maths_bend;

typedef struct maths_chain {
    bw_allocator allocator;
    maths_bend *bends;
    size_t count, room;
    bool failed; /* memory ran out; it stays set, so that one look at the end is enough */
    bool closed;
    bw_point at; /* where it has come to */
} maths_chain;

void maths_chain_init(maths_chain *chain, const bw_allocator *allocator, bw_point start);
void maths_chain_free(maths_chain *chain);
/* What is no longer than BW_EPS is left out. */
void maths_chain_line(maths_chain *chain, bw_point to);
void maths_chain_bend(maths_chain *chain, maths_bend bend); /* its `bend` follows from it */
/* An arc in place of a curve whose curvature at both ends is given; what is not finite follows from the arc. */
void maths_chain_fitted(maths_chain *chain, maths_bend bend, double begin, double end);
maths_bend maths_bend_of(bw_point from, double heading, double length, double sweep);
bw_point maths_bend_end(const maths_bend *bend);
/* Twice the area within, counter-clockwise +. */
double maths_chain_area(const maths_chain *chain);
/* The same points walked the other way; a closed chain still starts where it did. */
void maths_chain_reverse(maths_chain *chain);
/* NULL without memory. */
bw_curve *maths_chain_curve(const maths_chain *chain);

/* Shapes that take more than a few calls. On BW_BAD_VALUE *fault says why. */
bw_status maths_strap(maths_chain *chain, const bw_outline *outline, bw_outline_fault *fault);
bw_status maths_polygon(maths_chain *chain, const bw_outline *outline, bw_outline_fault *fault);
bw_status maths_path(maths_chain *chain, const bw_outline *outline, bw_outline_fault *fault);

/* least .. most, both included to BW_EPS; false for NAN. */
bool maths_within(double value, double least, double most);

/* Are the sizes within limits.h? Asks for no memory and looks at no path data. */
bool maths_outline_sizes(const bw_outline *outline);
/* Are they numbers that a shape can be made of, whatever the limits? */
bool maths_outline_finite(const bw_outline *outline);
/* The curve, or what is wrong. */
bw_status maths_outline_make(const bw_outline *outline, const bw_allocator *allocator, bw_curve **curve,
                             bw_outline_fault *fault);

#endif
