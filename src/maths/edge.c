/* The edge as it is laid out: sizes of a finished piece shrink by its growth under the hammer. */
#include <math.h>
#include <string.h>

#include "maths/band.h"

/* Corners and path are copied. False without memory. */
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
    if (o->shape == BW_PATH && o->svg != NULL) {
        size_t size = strlen(o->svg) + 1;
        char *svg = maths_take(arena, size, 1);
        o->svg = svg != NULL ? memcpy(svg, o->svg, size) : NULL;
        return svg != NULL;
    }
    if (o->shape != BW_POLYGON)
        return true;
    bw_corner *corners = maths_take(arena, o->corner_count, sizeof *corners);
    for (size_t i = 0; i < o->corner_count && corners != NULL; i++)
        corners[i] = (bw_corner){o->corners[i].x * k, o->corners[i].y * k, o->corners[i].radius * k};
    o->corners = corners;
    return corners != NULL;
}

static bool same_numbers(const double *a, const double *b, size_t count) {
    return memcmp(a, b, count * sizeof *a) == 0; /* to the bit: what is not given is NAN in both */
}

/* Of the same outline comes the same curve, to the bit. */
static bool same_outline(const bw_outline *a, const bw_outline *b) {
    const double one[] = {a->diameter, a->around, a->chord, a->depth,       a->length,   a->width,
                          a->scale,    a->radius, a->sweep, a->start.point, a->end.point};
    const double other[] = {b->diameter, b->around, b->chord, b->depth,       b->length,   b->width,
                            b->scale,    b->radius, b->sweep, b->start.point, b->end.point};
    if (a->shape != b->shape || a->start.kind != b->start.kind || a->end.kind != b->end.kind ||
        !same_numbers(one, other, sizeof one / sizeof one[0]) || !same_numbers(a->corner, b->corner, 4))
        return false;
    if (a->shape == BW_PATH)
        return a->svg != NULL && b->svg != NULL && strcmp(a->svg, b->svg) == 0;
    if (a->shape != BW_POLYGON)
        return true;
    bool same = a->corner_count == b->corner_count;
    for (size_t i = 0; i < a->corner_count && same; i++) {
        const double corner[] = {a->corners[i].x, a->corners[i].y, a->corners[i].radius};
        same = same_numbers(corner, (const double[]){b->corners[i].x, b->corners[i].y, b->corners[i].radius}, 3);
    }
    return same;
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

/* Fitting arcs to an ellipse or a path takes longer than all bands of a small piece. */
static bw_status make_curve(maths_edge *edge, const maths_edge *before, const bw_allocator *allocator) {
    if (before == NULL || before->curve == NULL || !same_outline(&before->of, &edge->of))
        return bw_curve_create(&edge->of, allocator, &edge->curve);
    edge->curve = maths_curve_copy(before->curve, allocator);
    return edge->curve != NULL ? BW_OK : BW_NO_MEMORY;
}

bw_status maths_edge_make(maths_edge *edge, const bw_layout *layout, const maths_edge *before, maths_arena *arena) {
    enum { ANCHORS_LEAST = 4 };
    *edge = (maths_edge){.scale = layout->finished ? 1 / (1 + layout->growth) : 1, .of = layout->outline};
    if (!scale_outline(&edge->of, edge->scale, arena))
        return BW_NO_MEMORY;
    bw_status status = make_curve(edge, before, &arena->allocator);
    if (status != BW_OK)
        return status;
    bw_place start = layout->start;
    start.along *= edge->scale;
    edge->start = bw_curve_place(edge->curve, start);
    edge->anchors = maths_take(arena, bw_curve_pieces(edge->curve) + ANCHORS_LEAST, sizeof *edge->anchors);
    if (edge->anchors == NULL)
        return BW_NO_MEMORY;
    own_anchors(edge, &edge->of);
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
