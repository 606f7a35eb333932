/* The edge as it is laid out: sizes of a finished piece shrink by its growth under the hammer. */
#include <math.h>

#include "maths/band.h"

static bw_outline scaled(const bw_outline *o, double k) {
    bw_outline s = *o;
    s.diameter *= k;
    s.around *= k;
    s.chord *= k;
    s.depth *= k;
    s.length *= k;
    s.width *= k;
    s.radius *= k;
    for (int i = 0; i < 4; i++)
        s.corner[i] *= k;
    return s;
}

/* A circle has its start mark, a rectangle the middle of each rounded corner, an open edge none. */
static void own_anchors(maths_edge *edge, bw_shape shape) {
    edge->anchor_count = 0;
    if (shape == BW_CIRCLE)
        edge->anchors[edge->anchor_count++] = edge->start;
    for (size_t i = 0; i < bw_curve_pieces(edge->curve) && shape == BW_RECTANGLE; i++) {
        bw_piece piece = bw_curve_piece(edge->curve, i);
        if (piece.curvature != 0)
            edge->anchors[edge->anchor_count++] = piece.start + piece.length / 2;
    }
}

bw_status maths_edge_make(maths_edge *edge, const bw_layout *layout, maths_arena *arena) {
    *edge = (maths_edge){.scale = layout->finished ? 1 / (1 + layout->growth) : 1};
    bw_outline outline = scaled(&layout->outline, edge->scale);
    bw_status status = bw_curve_create(&outline, &arena->allocator, &edge->curve);
    if (status != BW_OK)
        return status;
    bw_place start = layout->start;
    start.along *= edge->scale;
    edge->start = bw_curve_place(edge->curve, start);
    edge->anchors = maths_take(arena, bw_curve_pieces(edge->curve) + 1, sizeof *edge->anchors);
    if (edge->anchors == NULL)
        return BW_NO_MEMORY;
    own_anchors(edge, layout->outline.shape);
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
