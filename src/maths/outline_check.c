/* What an outline must hold so that it can be planned. */
#include <math.h>

#include "bandwright/limits.h"
#include "maths/outline.h"

bool maths_within(double value, double least, double most) {
    return value >= least - BW_EPS && value <= most + BW_EPS; /* false for NAN */
}

static bool both_sides_ok(const bw_outline *o) {
    return maths_within(o->length, BW_OUTLINE_LEAST, BW_OUTLINE_MOST) &&
           maths_within(o->width, BW_OUTLINE_LEAST, BW_OUTLINE_MOST);
}

static bool rectangle_ok(const bw_outline *o) {
    double half = fmin(o->length, o->width) / 2;
    for (int i = 0; i < 4; i++)
        if (!maths_within(o->corner[i], BW_CORNER_LEAST, half))
            return false;
    return both_sides_ok(o);
}

static bool end_ok(const bw_end *end) {
    return end->kind != BW_END_POINT || maths_within(end->point, BW_OUTLINE_LEAST, BW_OUTLINE_MOST);
}

static bool strap_ok(const bw_outline *o) {
    return both_sides_ok(o) && end_ok(&o->start) && end_ok(&o->end) &&
           bw_end_takes(&o->start, o->width) + bw_end_takes(&o->end, o->width) <= o->length + BW_EPS;
}

static bool polygon_ok(const bw_outline *o) {
    if (o->corners == NULL || o->corner_count < BW_CORNERS_LEAST || o->corner_count > BW_CORNERS_MOST)
        return false;
    for (size_t i = 0; i < o->corner_count; i++) {
        const bw_corner *c = &o->corners[i];
        if (!maths_within(fabs(c->x), 0, BW_PLACE_MOST) || !maths_within(fabs(c->y), 0, BW_PLACE_MOST) ||
            !maths_within(c->radius, BW_CORNER_LEAST, BW_OUTLINE_MOST))
            return false;
    }
    return true;
}

bool maths_outline_sizes(const bw_outline *o) {
    double diameter;
    switch (o->shape) {
    case BW_CIRCLE:
        diameter = bw_outline_diameter(o);
        return isfinite(diameter) && diameter > BW_EPS;
    case BW_ELLIPSE:
        return both_sides_ok(o);
    case BW_RECTANGLE:
        return rectangle_ok(o);
    case BW_STRAP:
        return strap_ok(o);
    case BW_POLYGON:
        return polygon_ok(o);
    case BW_PATH:
        return o->svg != NULL && o->scale > BW_SCALE_LEAST && isfinite(o->scale);
    case BW_LINE:
        return maths_within(o->length, BW_OUTLINE_LEAST, BW_LINE_MOST);
    case BW_ARC:
        return maths_within(o->radius, BW_OUTLINE_LEAST, BW_OUTLINE_MOST) &&
               maths_within(fabs(o->sweep), BW_EPS, BW_SWEEP_MOST);
    }
    return false;
}

static bool some(double value) {
    return value > BW_EPS && isfinite(value);
}

bool maths_outline_finite(const bw_outline *o) {
    bool finite = true;
    switch (o->shape) {
    case BW_ELLIPSE:
        return some(o->length) && some(o->width);
    case BW_STRAP:
        return some(o->length) && some(o->width) && isfinite(bw_end_takes(&o->start, o->width)) &&
               isfinite(bw_end_takes(&o->end, o->width));
    case BW_POLYGON:
        for (size_t i = 0; o->corners != NULL && i < o->corner_count; i++)
            finite = finite && isfinite(o->corners[i].x) && isfinite(o->corners[i].y) &&
                     isfinite(o->corners[i].radius) && o->corners[i].radius >= 0;
        return finite && o->corners != NULL;
    case BW_PATH:
        return o->svg != NULL && o->scale > 0 && isfinite(o->scale);
    default: /* seen in the length of what they make */
        return true;
    }
}

bw_status bw_outline_check(const bw_outline *outline, const bw_allocator *allocator, bw_outline_fault *fault) {
    bw_curve *curve = NULL;
    bw_outline_fault found = {.what = BW_TROUBLE_SIZE};
    bw_status status = BW_BAD_VALUE;
    if (maths_outline_sizes(outline))
        status = maths_outline_make(outline, allocator, &curve, &found);
    bw_curve_destroy(curve);
    if (fault != NULL)
        *fault = found;
    return status;
}
