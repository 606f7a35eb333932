/* What a layout must hold so that it can be planned. */
#include <math.h>

#include "bandwright/limits.h"
#include "bandwright/values.h"
#include "maths/outline.h"

static bool absent_or_within(double value, double least, double most) {
    return isnan(value) || maths_within(value, least, most);
}

/* closest < usual < widest, missing ones filled in; false where one is no number but a basket stamp's usual step. */
static bool steps_ok(const bw_tool *t) {
    bw_steps steps = bw_tool_steps(t);
    bool usual_ok =
        (t->kind == BW_BASKET && isnan(steps.usual)) || (steps.closest < steps.usual && steps.usual < steps.widest);
    return usual_ok && steps.closest > 0 && steps.closest < steps.widest && isfinite(steps.widest);
}

static bool basket_ok(const bw_tool *t) {
    bw_face face = bw_tool_face(t);
    return maths_within(t->length, BW_BASKET_LEAST, BW_BASKET_MOST) && face.width > 0 && isfinite(face.width) &&
           face.bar > 0 && face.bar < face.length && face.rail > 0 && face.rail < face.width / 2 &&
           absent_or_within(t->overlap, 0, 1) && steps_ok(t);
}

static bool tool_ok(const bw_tool *t) {
    switch (t->kind) {
    case BW_BASKET:
        return basket_ok(t);
    case BW_BORDER:
        return maths_within(t->length, BW_BORDER_LEAST, BW_BORDER_MOST) &&
               maths_within(t->width, BW_BORDER_LEAST, BW_BORDER_MOST) &&
               maths_within(t->give, BW_GIVE_LEAST, BW_GIVE_MOST) && steps_ok(t);
    case BW_IRON:
        return maths_within(t->pitch, BW_PITCH_LEAST, BW_PITCH_MOST) &&
               maths_within(t->give, BW_GIVE_LEAST, BW_GIVE_MOST) && t->teeth >= 1 && t->teeth <= BW_TEETH_MOST &&
               steps_ok(t);
    case BW_BEVELER:
    case BW_DIVIDERS:
    case BW_KNIFE:
    case BW_MAUL:
        break;
    }
    return true;
}

static bool counts_ok(const bw_band *b) {
    if (b->count < 0 || b->count > BW_COUNT_MOST)
        return false;
    for (size_t i = 0; b->counts != NULL && i < b->count_runs; i++)
        if (b->counts[i] < 0 || b->counts[i] > BW_COUNT_MOST)
            return false;
    return true;
}

static bool band_ok(const bw_layout *layout, const bw_band *b) {
    bw_kind kind;
    if (!maths_within(b->space, 0, BW_BAND_MOST) || !maths_within(b->width, 0, BW_BAND_MOST) || !counts_ok(b))
        return false;
    if (!maths_within(b->guide, 0, b->guide_is_length ? b->width : 1) || !absent_or_within(b->overlap, 0, 1))
        return false;
    if (b->group < 1 || b->group > BW_GROUP_MOST || (b->lose == BW_LOSE_LAST && b->lose_last < 1))
        return false;
    if (!bw_fill_kind(b->fill, &kind))
        return true;
    return b->tool >= 0 && (size_t)b->tool < layout->tool_count && layout->tools[b->tool].kind == kind &&
           tool_ok(&layout->tools[b->tool]);
}

bw_status bw_layout_check(const bw_layout *layout) {
    if (!maths_outline_sizes(&layout->outline) || !maths_within(layout->growth, 0, BW_GROWTH_MOST) ||
        !(layout->grid > 0) || !isfinite(layout->grid) || layout->band_count > BW_BANDS_MOST)
        return BW_BAD_VALUE;
    for (size_t i = 0; i < layout->band_count; i++)
        if (!band_ok(layout, &layout->bands[i]))
            return BW_BAD_VALUE;
    return BW_OK;
}
