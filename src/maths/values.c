#include <math.h>
#include <string.h>

#include "bandwright/limits.h"
#include "bandwright/values.h"

/* The trade's proportions, for sizes that were not measured. */
#define WIDTH_OF_LENGTH 0.5
#define BAR_OF_LENGTH (1.0 / 3.0)
#define RAIL_OF_WIDTH 0.28

void bw_layout_init(bw_layout *layout) {
    *layout = (bw_layout){.weight = NAN, .grid = BW_GRID_MM};
    bw_outline *o = &layout->outline;
    o->diameter = o->around = o->chord = o->depth = NAN;
    o->length = o->width = o->radius = o->sweep = NAN;
    o->scale = 1;
}

void bw_band_init(bw_band *band) {
    *band = (bw_band){.tool = -1, .guide = 0.5, .overlap = NAN, .group = 1};
}

void bw_tool_init(bw_tool *tool, bw_kind kind) {
    *tool = (bw_tool){.kind = kind, .blows = BW_BLOWS, .teeth = 1};
    tool->length = tool->width = tool->bar = tool->rail = tool->overlap = tool->pitch = NAN;
    tool->closest = tool->usual = tool->widest = tool->most = NAN;
    tool->least = 0;
    tool->grid = BW_GRID_MM;
    tool->give = kind == BW_IRON ? BW_GIVE_IRON : BW_GIVE_BORDER;
}

static double filled(double value, double otherwise, bool *estimated) {
    *estimated = isnan(value);
    return *estimated ? otherwise : value;
}

bw_face bw_tool_face(const bw_tool *tool) {
    bw_face face = {0};
    if (tool->kind == BW_IRON) {
        face.length = tool->pitch;
        return face;
    }
    face.length = tool->length;
    if (tool->kind == BW_BORDER) {
        face.width = tool->width;
        return face;
    }
    face.width = filled(tool->width, WIDTH_OF_LENGTH * tool->length, &face.estimated_width);
    face.bar = filled(tool->bar, BAR_OF_LENGTH * tool->length, &face.estimated_bar);
    face.rail = filled(tool->rail, RAIL_OF_WIDTH * face.width, &face.estimated_rail);
    face.leg = (face.length - face.bar) / 2;
    return face;
}

static double or_else(double value, double otherwise) {
    return isnan(value) ? otherwise : value;
}

bw_steps bw_tool_steps(const bw_tool *tool) {
    bw_face face = bw_tool_face(tool);
    bool basket = tool->kind == BW_BASKET;
    double l = face.length;
    return (bw_steps){.closest = or_else(tool->closest, basket ? l - face.leg : l * (1 - tool->give)),
                      .usual = basket ? tool->usual : or_else(tool->usual, l),
                      .widest = or_else(tool->widest, basket ? l : l * (1 + tool->give))};
}

bool bw_fill_kind(bw_fill fill, bw_kind *kind) {
    switch (fill) {
    case BW_FILL_BASKET:
        *kind = BW_BASKET;
        return true;
    case BW_FILL_BORDER:
        *kind = BW_BORDER;
        return true;
    case BW_FILL_STITCH:
        *kind = BW_IRON;
        return true;
    case BW_FILL_PLAIN:
        break;
    }
    return false;
}

double bw_diameter_around(double around) {
    return around / BW_PI;
}

double bw_diameter_chord(double chord, double depth) {
    return (chord * chord + 4 * depth * depth) / (4 * depth);
}

double bw_outline_diameter(const bw_outline *outline) {
    if (!isnan(outline->diameter))
        return outline->diameter;
    if (!isnan(outline->around))
        return bw_diameter_around(outline->around);
    return bw_diameter_chord(outline->chord, outline->depth);
}
