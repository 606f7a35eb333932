/* Where a seam hides best: at the buckle, in a corner, at the bottom, or where the edge turns least. */
#include <math.h>

#include "bandwright/marks.h"
#include "maths/curve.h"

#define SAMPLES 720       /* places of the edge that are compared */
#define WINDOW (1.0 / 24) /* share of the edge over which its turning is compared: about a hand's breadth on a tray */
#define AS_CALM 1e-6      /* radians: windows that differ by less turn alike */
#define AS_LOW 1e-6       /* mm: likewise for heights */
#define THERE 0.5         /* mm along the edge: a start mark this near is at the place */

/* How far apart two places of a closed edge lie along it. */
static double apart(const bw_curve *edge, double a, double b) {
    double way = fmod(fabs(a - b), bw_curve_length(edge));
    return fmin(way, bw_curve_length(edge) - way);
}

static double height(const bw_curve *edge, double along) {
    return bw_curve_at(edge, along).at.y;
}

/* ---- the buckle ---- */

/* The middle of a strap's square end; the left one if both are square. */
static bool buckle(const bw_outline *outline, const bw_curve *edge, bw_seam *seam, double start) {
    if (outline->shape != BW_STRAP || (outline->start.kind != BW_END_SQUARE && outline->end.kind != BW_END_SQUARE))
        return false;
    bool left = outline->start.kind == BW_END_SQUARE;
    seam->along = bw_curve_place(edge, (bw_place){left ? BW_PLACE_LEFT : BW_PLACE_RIGHT, 0});
    bw_box box = bw_curve_box(edge);
    double end = left ? box.left : box.right;
    seam->there = fabs(bw_curve_at(edge, start).at.x - end) <= THERE;
    seam->how = BW_HIDE_BUCKLE;
    return true;
}

/* ---- corners ---- */

static bool corner(const bw_curve *edge, bw_seam *seam, double start) {
    bool any = false;
    double lowest = INFINITY;
    for (size_t i = 0; i < bw_curve_pieces(edge); i++) {
        double along = bw_curve_piece(edge, i).start, y = bw_curve_piece(edge, i).from.y;
        if (fabs(maths_joint(edge, 0, i)) <= BW_CORNER_CUT + BW_EPS)
            continue;
        seam->there = seam->there || apart(edge, along, start) <= THERE;
        if (any && y >= lowest - AS_LOW)
            continue;
        any = true;
        lowest = y;
        seam->along = along;
    }
    seam->how = BW_HIDE_CORNER;
    return any;
}

/* ---- the stretch that turns least ---- */

/* The piece that holds a place of the first trip. */
static size_t piece_holding(const bw_curve *edge, double along) {
    size_t low = 0, high = edge->count;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        if (edge->pieces[middle].start <= along)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* Turning without its sign between two places, from >= 0 in the first trip, `to` at most a trip further on. */
static double turning_between(const bw_curve *edge, double from, double to) {
    double sum = 0, begin = 0;
    for (size_t i = piece_holding(edge, from);; i++) {
        const bw_piece *piece = &edge->pieces[i % edge->count];
        begin = piece->start + edge->length * (double)(i / edge->count);
        if (begin > to)
            return sum;
        if (begin >= from)
            sum += fabs(maths_joint(edge, 0, i % edge->count));
        sum += fabs(piece->curvature) * fmax(fmin(begin + piece->length, to) - fmax(begin, from), 0);
    }
}

static double turning_around(const bw_curve *edge, double along) {
    double half = bw_curve_length(edge) * WINDOW / 2;
    double from = along - half;
    if (from < 0)
        from += bw_curve_length(edge);
    return turning_between(edge, from, from + 2 * half);
}

static void calm(const bw_curve *edge, bw_seam *seam, double start) {
    double bottom = bw_curve_place(edge, (bw_place){BW_PLACE_BOTTOM, 0});
    double least = turning_around(edge, bottom), lowest = height(edge, bottom);
    double at_bottom = least, most = least;
    seam->along = bottom;
    for (int i = 0; i < SAMPLES; i++) {
        double along = bw_curve_length(edge) * i / SAMPLES, turning = turning_around(edge, along);
        most = fmax(most, turning);
        bool calmer = turning < least - AS_CALM, lower = height(edge, along) < lowest - AS_LOW;
        if (!calmer && !(turning <= least + AS_CALM && lower))
            continue;
        least = fmin(least, turning);
        lowest = height(edge, along);
        seam->along = along;
    }
    bool is_bottom = at_bottom <= least + AS_CALM;
    seam->how = is_bottom ? BW_HIDE_BOTTOM : BW_HIDE_CALM;
    if (is_bottom)
        seam->along = bottom;
    /* The bottom is out of sight; the top or a side, however calm, is not. Where all places turn alike it is a point.
     */
    bool differ = most > least + 2 * AS_CALM, calm_there = turning_around(edge, start) <= least + AS_CALM;
    bool low = !is_bottom || height(edge, start) <= height(edge, bottom) + AS_LOW;
    seam->there = apart(edge, seam->along, start) <= THERE || (differ && calm_there && low);
}

/* A place that has a name is called by it. */
static bw_place place_of(const bw_curve *edge, double along, double scale) {
    for (int kind = BW_PLACE_BOTTOM; kind <= BW_PLACE_LEFT; kind++)
        if (apart(edge, bw_curve_place(edge, (bw_place){(bw_place_kind)kind, 0}), along) <= BW_EPS_FIT)
            return (bw_place){(bw_place_kind)kind, 0};
    return (bw_place){BW_PLACE_ALONG, along * scale};
}

bw_seam bw_seam_best(const bw_layout *layout, const bw_plan *plan) {
    bw_seam seam = {.how = BW_HIDE_NONE};
    const bw_curve *edge = plan->edge;
    if (!bw_curve_closed(edge) || bw_curve_loops(edge) == 0)
        return seam;
    if (!buckle(&layout->outline, edge, &seam, plan->start_along) && !corner(edge, &seam, plan->start_along))
        calm(edge, &seam, plan->start_along);
    seam.place = place_of(edge, seam.along, layout->finished ? 1 + layout->growth : 1);
    return seam;
}
