/* shapes.h - outlines in one line each, as curves, for tests. */
#ifndef TESTS_MATHS_SHAPES_H
#define TESTS_MATHS_SHAPES_H

#include "bandwright/bandwright.h"

/* Each fails the test if there is no such outline. */
bw_curve *shape_ellipse(double length, double width);
bw_curve *shape_polygon(const bw_corner *corners, size_t count);
bw_curve *shape_path(const char *svg, double scale);
bw_curve *shape_curve(const bw_outline *outline);

/* Values without a curve, to be changed further. */
bw_outline shape_of(bw_shape shape);
bw_outline shape_strap(double length, double width, bw_end start, bw_end end);

/* The greatest gap between pieces (mm), and the greatest change of direction at a joint that turns by less than `sharp`
 * (radians). */
double shape_gap(const bw_curve *curve);
double shape_joint(const bw_curve *curve, double sharp);

/* A random number, from rand(). */
double shape_roll(double least, double most);

#endif
