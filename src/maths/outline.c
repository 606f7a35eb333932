/* Outlines: from the sizes a maker measures to a curve that starts at the shape's own start. */
#include <math.h>

#include "maths/fit.h"

static void circle(bw_curve *curve, double diameter) {
    maths_curve_add_arc(curve, (bw_point){0, 0}, diameter / 2, 0, 2 * BW_PI); /* from its lowest point */
}

/* Corner i counter-clockwise from bottom left; sharp ones leave nothing but the joint. */
static void rectangle(bw_curve *curve, const bw_outline *o) {
    const double l = o->length, w = o->width, *r = o->corner;
    double left = r[0], right = l - r[1], middle = (left + right) / 2;
    maths_curve_add_line(curve, (bw_point){middle, 0}, 0, right - middle);
    if (r[1] > BW_EPS)
        maths_curve_add_arc(curve, (bw_point){l - r[1], r[1]}, r[1], 0, BW_PI / 2);
    maths_curve_add_line(curve, (bw_point){l, r[1]}, BW_PI / 2, w - r[1] - r[2]);
    if (r[2] > BW_EPS)
        maths_curve_add_arc(curve, (bw_point){l - r[2], w - r[2]}, r[2], BW_PI / 2, BW_PI / 2);
    maths_curve_add_line(curve, (bw_point){l - r[2], w}, BW_PI, l - r[2] - r[3]);
    if (r[3] > BW_EPS)
        maths_curve_add_arc(curve, (bw_point){r[3], w - r[3]}, r[3], BW_PI, BW_PI / 2);
    maths_curve_add_line(curve, (bw_point){0, w - r[3]}, -BW_PI / 2, w - r[3] - r[0]);
    if (r[0] > BW_EPS)
        maths_curve_add_arc(curve, (bw_point){r[0], r[0]}, r[0], -BW_PI / 2, BW_PI / 2);
    maths_curve_add_line(curve, (bw_point){left, 0}, 0, middle - left);
}

/* Shapes whose pieces are known beforehand. */
static bw_curve *simple(const bw_outline *outline, const bw_allocator *allocator) {
    enum { PIECES_MOST = 9 };
    bool closed = outline->shape == BW_CIRCLE || outline->shape == BW_RECTANGLE;
    bw_curve *made = maths_curve_new(allocator, PIECES_MOST, closed);
    if (made == NULL)
        return NULL;
    if (outline->shape == BW_CIRCLE)
        circle(made, bw_outline_diameter(outline));
    else if (outline->shape == BW_RECTANGLE)
        rectangle(made, outline);
    else if (outline->shape == BW_LINE)
        maths_curve_add_line(made, (bw_point){0, 0}, 0, outline->length);
    else
        maths_curve_add_arc(made, (bw_point){0, 0}, outline->radius, outline->sweep > 0 ? BW_PI / 2 : -BW_PI / 2,
                            outline->sweep);
    return made;
}

static bw_status fill(maths_chain *chain, const bw_outline *outline, bw_outline_fault *fault) {
    switch (outline->shape) {
    case BW_ELLIPSE:
        maths_fit_ellipse(chain, outline->length, outline->width);
        return BW_OK;
    case BW_STRAP:
        return maths_strap(chain, outline, fault);
    case BW_POLYGON:
        return maths_polygon(chain, outline, fault);
    default:
        return maths_path(chain, outline, fault);
    }
}

/* Only what is drawn freely can cross itself. */
static bw_status look_for_crossing(const bw_curve *curve, bw_outline_fault *fault) {
    bool crosses = false;
    bw_outline_fault found = {.what = BW_TROUBLE_CROSSING};
    bw_status status = maths_curve_crossing(curve, &crosses, &found.at, found.along);
    if (status != BW_OK || !crosses)
        return status;
    *fault = found;
    return BW_BAD_VALUE;
}

/* Shapes that grow piece by piece. */
static bw_status grown(const bw_outline *outline, const bw_allocator *allocator, bw_curve **curve,
                       bw_outline_fault *fault) {
    maths_chain chain;
    maths_chain_init(&chain, allocator, (bw_point){0, 0});
    bw_status status = fill(&chain, outline, fault);
    if (status == BW_OK) {
        *curve = maths_chain_curve(&chain);
        status = *curve == NULL ? BW_NO_MEMORY : BW_OK;
    }
    maths_chain_free(&chain);
    if (status == BW_OK && (outline->shape == BW_POLYGON || outline->shape == BW_PATH))
        status = look_for_crossing(*curve, fault);
    if (status != BW_OK) {
        bw_curve_destroy(*curve);
        *curve = NULL;
    }
    return status;
}

bw_status maths_outline_make(const bw_outline *outline, const bw_allocator *allocator, bw_curve **curve,
                             bw_outline_fault *fault) {
    bw_shape shape = outline->shape;
    *curve = NULL;
    *fault = (bw_outline_fault){.what = BW_TROUBLE_SIZE};
    if (!maths_outline_finite(outline))
        return BW_BAD_VALUE;
    bw_status status = BW_OK;
    if (shape == BW_ELLIPSE || shape == BW_STRAP || shape == BW_POLYGON || shape == BW_PATH)
        status = grown(outline, allocator, curve, fault);
    else
        *curve = simple(outline, allocator);
    if (status != BW_OK)
        return status;
    if (*curve == NULL)
        return BW_NO_MEMORY;
    if ((*curve)->count > 0 && isfinite((*curve)->length)) {
        fault->what = BW_TROUBLE_NONE;
        return BW_OK;
    }
    bw_curve_destroy(*curve);
    *curve = NULL;
    return BW_BAD_VALUE;
}

bw_status bw_curve_create(const bw_outline *outline, const bw_allocator *allocator, bw_curve **curve) {
    bw_outline_fault fault;
    bw_status status = maths_outline_make(outline, allocator, curve, &fault);
    if (status == BW_OK) { /* an edge is asked for its box again and again */
        (*curve)->box = bw_curve_box(*curve);
        (*curve)->boxed = true;
    }
    return status;
}
