/* paper/picture.h - the finished piece as a field of depths, and how light falls on it.
 *
 * The leather lies flat at 0; what is pressed lies deeper, thread lies above. Pixels run from the upper left corner;
 * places on the piece are in mm, y upwards.
 */
#ifndef PAPER_PICTURE_H
#define PAPER_PICTURE_H

#include "paper/paper.h"

typedef struct picture {
    int width, height; /* pixels */
    double per_mm;     /* pixels of a mm */
    double left, top;  /* mm, the upper left corner on the piece */
    float *pressed;    /* mm deep; below 0: above the leather */
    float *inside;     /* mm from the edge; below 0: outside of the piece. Beyond PICTURE_EDGE only the sign counts */
    unsigned char *thread; /* 0 leather, 255 thread */
    double depth;          /* mm to which a stamp is struck */
    double ends;           /* mm from an open edge where the drawing of the leather ends; 0: the edge is closed */
} picture;

#define PICTURE_EDGE 2.0 /* mm from the edge within which `inside` is a distance */
#define PICTURE_FAR 1e6f /* `inside` beyond that */
#define PICTURE_FADE 5.0 /* mm over which the leather of an open edge ends, as there is more of it */

/* The corners of a pixel's middle on the piece. */
static inline double picture_x(const picture *p, int column) {
    return p->left + (column + 0.5) / p->per_mm;
}
static inline double picture_y(const picture *p, int row) {
    return p->top - (row + 0.5) / p->per_mm;
}

/* Pixels from..to whose middles lie within a box of the piece (mm); false if there are none. */
typedef struct picture_box {
    int left, right, top, bottom; /* the last ones belong to it */
} picture_box;
bool picture_pixels(const picture *p, bw_box box, picture_box *pixels);

/* Size and memory for a piece, everything flat. width: pixels, 0 = as suits the piece. SHOP_OK, SHOP_NO_MEMORY, or
 * SHOP_CANNOT_MAKE if it would be beyond what a picture may be, with a problem. */
shop_status picture_create(const bw_plan *plan, const bw_layout *layout, int width, picture *p,
                           shop_problems *problems);
void picture_free(picture *p);

/* Everything that is done to the piece, in the order of the work. False without memory. */
bool picture_press(picture *p, const bw_layout *layout, const bw_plan *plan);

/* ---- the parts of it ---- */

/* Which pixels are leather. */
bool picture_edge(picture *p, const bw_plan *plan);
/* Border lines: cut to a V, or scribed; and bevels, which come after the weave. */
bool picture_lines(picture *p, const bw_layout *layout, const bw_plan *plan);
bool picture_bevels(picture *p, const bw_layout *layout, const bw_plan *plan);
/* Every impression of a band, in the order in which they are struck. */
bool picture_band(picture *p, const bw_layout *layout, const bw_plan *plan, size_t band);
bool picture_stitches(picture *p, const bw_plan *plan, size_t band);

/* A print beside and over what is there: the deeper one counts, and what is struck twice sinks a little more. */
static inline void picture_print(picture *p, size_t pixel, double deep) {
    double there = p->pressed[pixel], less = there < deep ? there : deep;
    if (deep > 0)
        p->pressed[pixel] = (float)((there > deep ? there : deep) + (less > 0 ? 0.2 * less : 0));
}

/* 0 before `from`, 1 after `to`, smooth between. */
static inline double picture_smooth(double from, double to, double x) {
    double t = (x - from) / (to - from);
    t = t < 0 ? 0 : t > 1 ? 1 : t;
    return t * t * (3 - 2 * t);
}

/* Light and colour: 0x00RRGGBB for every pixel, `stride` of them a line. False without memory. */
bool picture_light(const picture *p, unsigned *colours, size_t stride);
#define PICTURE_PLAIN 0x00FAF8F4u /* the ground around the piece */

/* ---- along a curve ---- */

/* A pixel within the radius of a curve: mm from it, and on its left (> 0, the leather's side of an edge) or right.
 * beyond: past the end of an open curve. A pixel may come several times; the least distance is the true one. */
typedef void picture_near(picture *p, size_t pixel, double distance, double side, bool beyond, const void *with);
void picture_along(picture *p, const bw_curve *curve, double radius, picture_near *near, const void *with);
/* Calls with every short straight from..to that a curve is made of at this scale. */
typedef void picture_straight(void *to, bw_point a, bw_point b, bool first, bool last);
void picture_straights(const picture *p, const bw_curve *curve, double longest, picture_straight *each, void *to);

#endif
