/* Outlines: from the sizes a maker measures to a curve that starts at the shape's own start, and places on it. */
#include <math.h>

#include "bandwright/limits.h"
#include "maths/curve.h"

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

bw_status bw_curve_create(const bw_outline *outline, const bw_allocator *allocator, bw_curve **curve) {
    enum { PIECES_MOST = 9 };
    bool closed = outline->shape == BW_CIRCLE || outline->shape == BW_RECTANGLE;
    bw_curve *made = maths_curve_new(allocator, PIECES_MOST, closed);
    *curve = NULL;
    if (made == NULL)
        return BW_NO_MEMORY;
    switch (outline->shape) {
    case BW_CIRCLE:
        circle(made, bw_outline_diameter(outline));
        break;
    case BW_RECTANGLE:
        rectangle(made, outline);
        break;
    case BW_ELLIPSE:
    case BW_STRAP:
    case BW_POLYGON:
    case BW_PATH:
        break;
    case BW_LINE:
        maths_curve_add_line(made, (bw_point){0, 0}, 0, outline->length);
        break;
    case BW_ARC:
        maths_curve_add_arc(made, (bw_point){0, 0}, outline->radius, outline->sweep > 0 ? BW_PI / 2 : -BW_PI / 2,
                            outline->sweep);
        break;
    }
    if (made->count == 0 || !isfinite(made->length)) {
        bw_curve_destroy(made);
        return BW_BAD_VALUE;
    }
    *curve = made;
    return BW_OK;
}

static double along_direction(bw_point p, bw_point way) {
    return p.x * way.x + p.y * way.y;
}

/* Does the whole piece lie on the curve's extreme in this direction? */
static bool lies_on(const bw_piece *piece, bw_point way, double extreme) {
    return piece->curvature == 0 && along_direction(piece->from, way) >= extreme - BW_EPS &&
           along_direction(piece->to, way) >= extreme - BW_EPS;
}

static double extreme_of(const bw_curve *curve, bw_point way) {
    bw_box box = bw_curve_box(curve);
    if (way.x != 0)
        return way.x > 0 ? box.right : -box.left;
    return way.y > 0 ? box.top : -box.bottom;
}

/* The middle of the straight on the extreme that holds piece i, on a closed curve also across its start. */
static double middle_of_straight(const bw_curve *curve, size_t i, bw_point way, double extreme) {
    size_t n = curve->count;
    double begin = curve->pieces[i].start, end = begin + curve->pieces[i].length;
    for (size_t k = i + 1; k < n && lies_on(&curve->pieces[k], way, extreme); k++)
        end += curve->pieces[k].length;
    if (i == 0 && curve->closed)
        for (size_t k = n; k-- > 1 && lies_on(&curve->pieces[k], way, extreme);)
            begin -= curve->pieces[k].length;
    double middle = (begin + end) / 2;
    if (middle < -BW_EPS)
        middle += curve->length;
    return fmax(middle, 0);
}

static double extreme_place(const bw_curve *curve, bw_point way) {
    double extreme = extreme_of(curve, way);
    for (size_t i = 0; i < curve->count; i++) {
        const bw_piece *piece = &curve->pieces[i];
        double distance;
        if (lies_on(piece, way, extreme))
            return middle_of_straight(curve, i, way, extreme);
        if (piece->curvature != 0) {
            double away = atan2(way.y, way.x);
            bw_point out = maths_ahead(piece->centre, away, 1 / fabs(piece->curvature));
            double u = maths_piece_nearest(piece, out, &distance);
            bool at_end = piece->length - u <= BW_EPS; /* then the next piece has it */
            if (distance <= BW_EPS && !at_end && along_direction(out, way) >= extreme - BW_EPS)
                return piece->start + u;
        }
        bool straight_before = i == 0 && curve->closed && lies_on(&curve->pieces[curve->count - 1], way, extreme);
        if (along_direction(piece->from, way) >= extreme - BW_EPS && !straight_before)
            return piece->start;
    }
    return curve->length; /* the last point of an open curve */
}

double bw_curve_place(const bw_curve *curve, bw_place place) {
    double along;
    switch (place.kind) {
    case BW_PLACE_BOTTOM:
        return extreme_place(curve, (bw_point){0, -1});
    case BW_PLACE_RIGHT:
        return extreme_place(curve, (bw_point){1, 0});
    case BW_PLACE_TOP:
        return extreme_place(curve, (bw_point){0, 1});
    case BW_PLACE_LEFT:
        return extreme_place(curve, (bw_point){-1, 0});
    case BW_PLACE_ALONG:
        if (!curve->closed)
            return fmin(fmax(place.along, 0), curve->length);
        along = fmod(place.along, curve->length);
        return along < 0 ? along + curve->length : along;
    case BW_PLACE_OWN:
        break;
    }
    return 0;
}
