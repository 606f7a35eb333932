/* Lays: every way of striking comes down to a range of steps. */
#include "maths/lay.h"

#include <math.h>

#define FLAT_OVERLAP 1.0 /* on a flat guide legs go up to the bar; common practice */

/* The range of steps in a straight lay. */
static void basket_range(maths_lay *lay, const bw_band *band, const bw_tool *tool, bool turns) {
    bw_steps steps = bw_tool_steps(tool);
    lay->least = steps.closest;
    lay->most = steps.widest;
    double span = lay->most - lay->least;
    if (!isnan(band->overlap))
        lay->overlap = band->overlap;
    else if (!isnan(tool->usual))
        lay->overlap = (lay->most - tool->usual) / span;
    else
        lay->overlap = !isnan(tool->overlap) ? tool->overlap : turns ? BW_USUAL_OVERLAP : FLAT_OVERLAP;
    lay->usual = isnan(tool->usual) || !isnan(band->overlap) ? lay->most - lay->overlap * span : tool->usual;
}

static void basket(maths_lay *lay, const bw_band *band, const bw_tool *tool, bool turns) {
    const bw_face *face = &lay->face;
    basket_range(lay, band, tool, turns);
    lay->apart = face->width - face->rail;
    lay->along = face->length;
    if (!lay->angled)
        return;
    /* The turn at which a leg lies exactly on its neighbour's leg. */
    lay->turn = atan((face->width - face->rail) / lay->usual);
    double c = cos(lay->turn), s = sin(lay->turn);
    lay->least /= c;
    lay->usual /= c;
    lay->most /= c;
    lay->apart = 2 * (face->width - face->rail) * c;
    lay->along = face->length * c + face->width * s;
    lay->half_height = (face->length * s + face->width * c) / 2;
}

maths_lay maths_lay_make(const bw_band *band, const bw_tool *tool, bool turns) {
    maths_lay lay = {.fill = band->fill, .face = bw_tool_face(tool)};
    lay.measured = !isnan(tool->closest) || !isnan(tool->usual) || !isnan(tool->widest);
    lay.slant = band->slant == BW_SLANT_OUTWARD ? -1 : 1;
    if (band->fill == BW_FILL_BASKET) {
        lay.angled = band->lay == BW_LAY_ANGLED;
        basket(&lay, band, tool, turns);
        return lay;
    }
    bw_steps steps = bw_tool_steps(tool);
    lay.least = steps.closest;
    lay.usual = steps.usual;
    lay.most = steps.widest;
    lay.along = band->fill == BW_FILL_STITCH ? 0 : lay.face.length;
    return lay;
}

double maths_share(const maths_lay *lay, double step) {
    return (lay->most - step) / (lay->most - lay->least);
}
