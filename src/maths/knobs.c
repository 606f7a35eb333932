/* Knobs: the values that a suggestion may turn. */
#include <math.h>

#include "bandwright/moves.h"
#include "maths/knobs.h"

static bool has_width(bw_shape shape) {
    return shape == BW_ELLIPSE || shape == BW_RECTANGLE || shape == BW_STRAP;
}

static double *outline_value(bw_outline *o, bw_knob knob) {
    switch (knob) {
    case BW_KNOB_DIAMETER:
        return o->shape != BW_CIRCLE ? NULL : isnan(o->diameter) && !isnan(o->around) ? &o->around : &o->diameter;
    case BW_KNOB_LENGTH:
        return has_width(o->shape) || o->shape == BW_LINE ? &o->length : NULL;
    case BW_KNOB_WIDTH:
        return has_width(o->shape) ? &o->width : NULL;
    case BW_KNOB_RADIUS:
        return o->shape == BW_ARC ? &o->radius : NULL;
    case BW_KNOB_SWEEP:
        return o->shape == BW_ARC ? &o->sweep : NULL;
    case BW_KNOB_CORNER: /* only where all four are alike */
        for (int i = 1; i < 4; i++)
            if (o->corner[i] != o->corner[0])
                return NULL;
        return o->shape == BW_RECTANGLE ? o->corner : NULL;
    default:
        return NULL;
    }
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
    const double *value = outline_value(&outline, knob);
    if (value == NULL)
        return NAN;
    return knob == BW_KNOB_DIAMETER && isnan(*value) ? bw_outline_diameter(&outline) : *value;
}

static void apply_outline(const bw_change *change, bw_outline *o) {
    double *value = outline_value(o, change->knob);
    if (value == NULL)
        return;
    *value = change->value;
    if (change->knob == BW_KNOB_CORNER)
        o->corner[1] = o->corner[2] = o->corner[3] = change->value;
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

void bw_change_apply(const bw_change *change, bw_layout *layout, bw_band *bands) {
    if (change->knob < BW_KNOB_SPACE)
        apply_outline(change, &layout->outline);
    else if (change->band < layout->band_count)
        apply_band(change, &bands[change->band]);
}

bool maths_knob_fixed(const bw_layout *layout, bw_knob knob, size_t band) {
    unsigned fixed = knob < BW_KNOB_SPACE ? layout->fixed : layout->bands[band].fixed;
    return (fixed >> knob & 1u) != 0;
}
