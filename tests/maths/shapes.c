#include "maths/shapes.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>

bw_outline shape_of(bw_shape shape) {
    bw_layout layout;
    bw_layout_init(&layout);
    layout.outline.shape = shape;
    return layout.outline;
}

bw_curve *shape_curve(const bw_outline *outline) {
    bw_curve *curve = NULL;
    bw_outline_fault fault = {.why = NULL};
    bw_status status = bw_outline_check(outline, NULL, &fault);
    ck_assert_msg(status == BW_OK, "status %d, trouble %d, item %zu, %s at %g %g", (int)status, (int)fault.what,
                  fault.item, fault.why != NULL ? fault.why : "", fault.at.x, fault.at.y);
    ck_assert_int_eq(bw_curve_create(outline, NULL, &curve), BW_OK);
    return curve;
}

bw_curve *shape_ellipse(double length, double width) {
    bw_outline o = shape_of(BW_ELLIPSE);
    o.length = length;
    o.width = width;
    return shape_curve(&o);
}

bw_outline shape_strap(double length, double width, bw_end start, bw_end end) {
    bw_outline o = shape_of(BW_STRAP);
    o.length = length;
    o.width = width;
    o.start = start;
    o.end = end;
    return o;
}

bw_curve *shape_polygon(const bw_corner *corners, size_t count) {
    bw_outline o = shape_of(BW_POLYGON);
    o.corners = corners;
    o.corner_count = count;
    return shape_curve(&o);
}

bw_curve *shape_path(const char *svg, double scale) {
    bw_outline o = shape_of(BW_PATH);
    o.svg = svg;
    o.scale = scale;
    return shape_curve(&o);
}

double shape_gap(const bw_curve *curve) {
    double gap = 0;
    size_t n = bw_curve_pieces(curve);
    for (size_t i = 0; i < n; i++) {
        bw_piece a = bw_curve_piece(curve, i), b = bw_curve_piece(curve, (i + 1) % n);
        if (i + 1 < n || bw_curve_closed(curve)) {
            gap = fmax(gap, hypot(b.from.x - a.to.x, b.from.y - a.to.y));
        }
    }
    return gap;
}

double shape_joint(const bw_curve *curve, double sharp) {
    double joint = 0;
    size_t n = bw_curve_pieces(curve);
    for (size_t i = 0; i < n; i++) {
        bw_piece a = bw_curve_piece(curve, i), b = bw_curve_piece(curve, (i + 1) % n);
        double turn = fabs(remainder(b.heading - a.heading - a.sweep, 2 * BW_PI));
        if ((i + 1 < n || bw_curve_closed(curve)) && turn < sharp) {
            joint = fmax(joint, turn);
        }
    }
    return joint;
}

double shape_roll(double least, double most) {
    return least + (most - least) * (rand() / (double)RAND_MAX);
}
