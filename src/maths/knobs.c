/* Knobs: the values that a suggestion may turn. */
#include <math.h>

#include "bandwright/moves.h"
#include "maths/knobs.h"

static bool long_and_wide(bw_shape shape) {
    return shape == BW_RECTANGLE || shape == BW_ELLIPSE || shape == BW_STRAP;
}

/* The one number behind a knob of the outline; NULL if there is none, as of corners (corner_value). */
static double *outline_value(bw_outline *o, bw_knob knob) {
    switch (knob) {
    case BW_KNOB_DIAMETER:
        return o->shape != BW_CIRCLE ? NULL : isnan(o->diameter) && !isnan(o->around) ? &o->around : &o->diameter;
    case BW_KNOB_LENGTH:
        return long_and_wide(o->shape) || o->shape == BW_LINE ? &o->length : NULL;
    case BW_KNOB_WIDTH:
        return long_and_wide(o->shape) ? &o->width : NULL;
    case BW_KNOB_RADIUS:
        return o->shape == BW_ARC ? &o->radius : NULL;
    case BW_KNOB_SWEEP:
        return o->shape == BW_ARC ? &o->sweep : NULL;
    default:
        return NULL;
    }
}

/* ---- corners ---- */

static bool corners_alike(const bw_outline *o) {
    return o->corner[1] == o->corner[0] && o->corner[2] == o->corner[0] && o->corner[3] == o->corner[0];
}

bool maths_corners_only_grow(const bw_outline *o) {
    return o->shape == BW_POLYGON || !corners_alike(o);
}

/* Twice the area of a polygon's corners, < 0 if they are walked clockwise. */
static double twice_area(const bw_outline *o) {
    double area = 0;
    for (size_t i = 0; i < o->corner_count; i++) {
        const bw_corner *a = &o->corners[i], *b = &o->corners[(i + 1) % o->corner_count];
        area += a->x * b->y - b->x * a->y;
    }
    return area;
}

/* Hollow corners open as lines go in: they are never too tight for what lies inward. */
static bool hollow(const bw_outline *o, double area, size_t i) {
    size_t n = o->corner_count;
    const bw_corner *before = &o->corners[(i + n - 1) % n], *at = &o->corners[i], *after = &o->corners[(i + 1) % n];
    double turn = (at->x - before->x) * (after->y - at->y) - (at->y - before->y) * (after->x - at->x);
    return turn * area < 0;
}

/* The least radius of what may grow: rounded corners that are not hollow; NAN if there is none. */
static double corner_value(const bw_outline *o) {
    double least = INFINITY, area = o->shape == BW_POLYGON ? twice_area(o) : 0;
    if (o->shape != BW_RECTANGLE && o->shape != BW_POLYGON)
        return NAN;
    if (!maths_corners_only_grow(o))
        return o->corner[0];
    for (size_t i = 0; o->shape == BW_POLYGON && i < o->corner_count; i++)
        if (o->corners[i].radius > 0 && !hollow(o, area, i))
            least = fmin(least, o->corners[i].radius);
    for (size_t i = 0; o->shape == BW_RECTANGLE && i < 4; i++)
        least = o->corner[i] > 0 ? fmin(least, o->corner[i]) : least;
    return isinf(least) ? NAN : least;
}

static double grown(double radius, double least) {
    return radius > 0 ? fmax(radius, least) : radius; /* a sharp corner is meant to be one */
}

static void apply_corner(double value, bw_outline *o, bw_corner *corners) {
    bool grow = maths_corners_only_grow(o);
    for (int i = 0; i < 4 && o->shape == BW_RECTANGLE; i++)
        o->corner[i] = grow ? grown(o->corner[i], value) : value;
    if (o->shape != BW_POLYGON || corners == NULL)
        return;
    double area = twice_area(o);
    for (size_t i = 0; i < o->corner_count; i++) {
        corners[i] = o->corners[i];
        if (!hollow(o, area, i))
            corners[i].radius = grown(corners[i].radius, value);
    }
    o->corners = corners;
}

static double band_value(const bw_layout *layout, const bw_band *b, bw_knob knob) {
    switch (knob) {
    case BW_KNOB_SPACE:
        return b->space;
    case BW_KNOB_BAND_WIDTH:
        return b->width;
    case BW_KNOB_GUIDE:
        return b->fill == BW_FILL_PLAIN ? NAN : b->guide_is_length ? b->guide : b->guide * b->width;
    case BW_KNOB_OVERLAP:
        return b->fill != BW_FILL_BASKET ? NAN : b->overlap;
    case BW_KNOB_COUNT:
        return b->fill == BW_FILL_PLAIN ? NAN : (double)b->count;
    case BW_KNOB_LOSE:
        return b->fill == BW_FILL_PLAIN ? NAN : (double)b->lose;
    case BW_KNOB_TOOL:
        return b->tool >= 0 && (size_t)b->tool < layout->tool_count ? (double)b->tool : NAN;
    default:
        return NAN;
    }
}

double bw_knob_value(const bw_layout *layout, bw_knob knob, size_t band) {
    if (knob >= BW_KNOB_SPACE)
        return band < layout->band_count ? band_value(layout, &layout->bands[band], knob) : NAN;
    bw_outline outline = layout->outline;
    if (knob == BW_KNOB_CORNER)
        return corner_value(&outline);
    const double *value = outline_value(&outline, knob);
    if (value == NULL)
        return NAN;
    return knob == BW_KNOB_DIAMETER && isnan(*value) ? bw_outline_diameter(&outline) : *value;
}

static void apply_outline(const bw_change *change, bw_outline *o, bw_corner *corners) {
    double *value = outline_value(o, change->knob);
    if (change->knob == BW_KNOB_CORNER)
        apply_corner(change->value, o, corners);
    if (value == NULL)
        return;
    *value = change->value;
    if (change->knob == BW_KNOB_DIAMETER && value == &o->diameter)
        o->around = o->chord = o->depth = NAN;
}

static void apply_band(const bw_change *change, bw_band *b) {
    switch (change->knob) {
    case BW_KNOB_SPACE:
        b->space = change->value;
        return;
    case BW_KNOB_BAND_WIDTH:
        b->width = change->value;
        return;
    case BW_KNOB_GUIDE:
        b->guide_is_length = true;
        b->guide = change->value;
        return;
    case BW_KNOB_OVERLAP:
        b->overlap = change->value;
        return;
    case BW_KNOB_COUNT:
        b->count = change->number;
        b->counts = NULL;
        b->count_runs = 0;
        return;
    case BW_KNOB_LOSE:
        b->lose = (bw_lose)change->number;
        return;
    case BW_KNOB_TOOL:
        b->tool = change->number;
        return;
    default:
        return;
    }
}

void bw_change_apply(const bw_change *change, bw_layout *layout, bw_band *bands, bw_corner *corners) {
    if (change->knob < BW_KNOB_SPACE)
        apply_outline(change, &layout->outline, corners);
    else if (change->band < layout->band_count)
        apply_band(change, &bands[change->band]);
}

bool maths_knob_fixed(const bw_layout *layout, bw_knob knob, size_t band) {
    unsigned fixed = knob < BW_KNOB_SPACE ? layout->fixed : layout->bands[band].fixed;
    return (fixed >> knob & 1u) != 0;
}

double maths_grid_value(double now, double grid, int way, int k) {
    double whole = way > 0 ? floor(now / grid + BW_EPS) + k : ceil(now / grid - BW_EPS) - k, parts = round(1 / grid);
    return fabs(parts * grid - 1) <= BW_EPS ? whole / parts : whole * grid;
}
