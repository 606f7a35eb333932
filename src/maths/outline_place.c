/* Places on an outline, by the name that a maker gives them. */
#include <math.h>

#include "maths/curve.h"

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
        if (i == 0 && curve->closed && lies_on(&curve->pieces[curve->count - 1], way, extreme) &&
            !lies_on(piece, way, extreme))
            continue; /* the end of the last straight, whose middle is meant */
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
        if (along_direction(piece->from, way) >= extreme - BW_EPS)
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
