/* outlines.h - random but repeatable outlines, simple ones that do not cross themselves, with a distance for their
 * parallel: stars, combs, dumbbells, hourglasses, peanuts, wavy blobs, spirals, bands, crescents, ovals, straps. */
#ifndef TESTS_MATHS_OUTLINES_H
#define TESTS_MATHS_OUTLINES_H

#include "bandwright/bandwright.h"
#include "maths/random.h"

enum { OUTLINES_CORNERS = 400, OUTLINES_EVENTS = 40 };

typedef struct outlines_piece {
    bw_outline outline; /* points into this struct, which must not be moved */
    const char *kind;
    bw_corner corners[OUTLINES_CORNERS];
    char svg[30000];
    size_t svg_length;
    double turn; /* how the whole lies: radians, mm */
    bw_point move;
    bool mirrored;
    double events[OUTLINES_EVENTS]; /* mm: radii of curvature of convex bends and half widths of waists */
    int event_count;
    double splits[2]; /* mm: between these distances the parallel has several loops; 0, 0 if it never has */
    double most;      /* mm: there is hardly anything left farther in */
    double distance;  /* mm: the distance to try */
    bool near_event;  /* it lies within 1 % of an event */
} outlines_piece;

/* Outline number `seed`. The same on every machine. */
void outlines_make(outlines_piece *piece, unsigned long long seed);

/* How polygons and paths lie; mirrored first (y to -y), then turned, then moved. */
typedef struct outlines_lie {
    double turn;
    bw_point move;
    bool mirrored;
} outlines_lie;
void outlines_make_lying(outlines_piece *piece, unsigned long long seed, const outlines_lie *lie);

/* Does the edge turn away from the leather somewhere? Asks the pieces. */
bool outlines_concave(const bw_curve *edge);
/* Corners in other places, for tests that draw an outline themselves. */
void outlines_corner(outlines_piece *piece, double x, double y, double radius);
void outlines_begin(outlines_piece *piece, bw_shape shape, const char *kind);

#endif
