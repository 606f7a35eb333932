/* The edge as it is laid out: sizes of a finished piece shrink by its growth under the hammer. */
#include <math.h>

#include "maths/band.h"

/* A polygon's corners are copied. False without memory. */
static bool scale_outline(bw_outline *o, double k, maths_arena *arena) {
    o->diameter *= k;
    o->around *= k;
    o->chord *= k;
    o->depth *= k;
    o->length *= k;
    o->width *= k;
    o->radius *= k;
    o->scale *= k;
    o->start.point *= k;
    o->end.point *= k;
    for (int i = 0; i < 4; i++)
        o->corner[i] *= k;
    if (o->shape != BW_POLYGON)
        return true;
    bw_corner *corners = maths_take(arena, o->corner_count, sizeof *corners);
    for (size_t i = 0; i < o->corner_count && corners != NULL; i++)
        corners[i] = (bw_corner){o->corners[i].x * k, o->corners[i].y * k, o->corners[i].radius * k};
    o->corners = corners;
    return corners != NULL;
}

static void add_anchor(maths_edge *edge, double along) {
    edge->anchors[edge->anchor_count++] = along;
}

/* The middle of every arc; a polygon's first corner, if it is rounded, has it at the edge's start. */
static void corner_anchors(maths_edge *edge, const bw_outline *o) {
    size_t n = bw_curve_pieces(edge->curve), first = 0;
    bw_piece begin = bw_curve_piece(edge->curve, 0), end = bw_curve_piece(edge->curve, n - 1);
    if (o->shape == BW_POLYGON && o->corners[0].radius > 0 && begin.curvature != 0 &&
        hypot(begin.centre.x - end.centre.x, begin.centre.y - end.centre.y) <= BW_EPS_FIT) {
        add_anchor(edge, 0);
        first = 1;
    }
    for (size_t i = first; i + first < n; i++) {
        bw_piece piece = bw_curve_piece(edge->curve, i);
        if (piece.curvature != 0)
            add_anchor(edge, piece.start + piece.length / 2);
    }
}

/* The shape's own: an ellipse's four axis points, both ends of a strap on its middle, rounded corners; the start mark
 * of a circle or path; an open line or arc has none. */
static void own_anchors(maths_edge *edge, const bw_outline *o) {
    double length = bw_curve_length(edge->curve);
    switch (o->shape) {
    case BW_CIRCLE:
    case BW_PATH:
        add_anchor(edge, edge->start);
        return;
    case BW_ELLIPSE:
        for (int quarter = 0; quarter < 4; quarter++)
            add_anchor(edge, length * quarter / 4);
        return;
    case BW_RECTANGLE:
    case BW_POLYGON:
        corner_anchors(edge, o);
        return;
    case BW_STRAP:
        add_anchor(edge, bw_curve_nearest(edge->curve, (bw_point){o->length, o->width / 2}));
        add_anchor(edge, bw_curve_nearest(edge->curve, (bw_point){0, o->width / 2}));
        return;
    case BW_LINE:
    case BW_ARC:
        return;
    }
}

bw_status maths_edge_make(maths_edge *edge, const bw_layout *layout, maths_arena *arena) {
    enum { ANCHORS_LEAST = 4 };
    *edge = (maths_edge){.scale = layout->finished ? 1 / (1 + layout->growth) : 1};
    bw_outline outline = layout->outline;
    if (!scale_outline(&outline, edge->scale, arena))
        return BW_NO_MEMORY;
    bw_status status = bw_curve_create(&outline, &arena->allocator, &edge->curve);
    if (status != BW_OK)
        return status;
    bw_place start = layout->start;
    start.along *= edge->scale;
    edge->start = bw_curve_place(edge->curve, start);
    edge->anchors = maths_take(arena, bw_curve_pieces(edge->curve) + ANCHORS_LEAST, sizeof *edge->anchors);
    if (edge->anchors == NULL)
        return BW_NO_MEMORY;
    own_anchors(edge, &outline);
    return BW_OK;
}

maths_strip maths_strip_of(const bw_layout *layout, size_t band, double scale) {
    maths_strip strip = {0};
    for (size_t i = 0; i <= band; i++) {
        const bw_band *b = &layout->bands[i];
        strip.outer = strip.inner + b->space * scale;
        strip.inner = strip.outer + b->width * scale;
        strip.guide = strip.outer + (b->guide_is_length ? b->guide : b->guide * b->width) * scale;
    }
    return strip;
}
