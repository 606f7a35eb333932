/* bandwright/values.h - the plain values of a layout: outline, leather, tools and bands.
 *
 * A value that was not given is NAN (numbers) or the enum's first entry; bw_layout_init, bw_band_init and bw_tool_init
 * set all defaults of the file format. Strings are borrowed, UTF-8, NUL-terminated, and only passed through.
 */
#ifndef BANDWRIGHT_VALUES_H
#define BANDWRIGHT_VALUES_H

#include "base.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bw_point {
    double x, y; /* mm */
} bw_point;

typedef enum bw_shape { BW_CIRCLE, BW_ELLIPSE, BW_RECTANGLE, BW_STRAP, BW_POLYGON, BW_PATH, BW_LINE, BW_ARC } bw_shape;

/* How an end of a strap is cut. */
typedef enum bw_end_kind { BW_END_SQUARE, BW_END_ROUND, BW_END_POINT } bw_end_kind;

typedef struct bw_end {
    bw_end_kind kind;
    double point; /* mm along the strap, tip on its middle; only with BW_END_POINT */
} bw_end;

/* A corner of a polygon; radius 0: sharp. */
typedef struct bw_corner {
    double x, y, radius; /* mm */
} bw_corner;

/* Which way a place on an edge is named. BW_PLACE_OWN is the shape's own start. */
typedef enum bw_place_kind {
    BW_PLACE_OWN,
    BW_PLACE_BOTTOM,
    BW_PLACE_RIGHT,
    BW_PLACE_TOP,
    BW_PLACE_LEFT,
    BW_PLACE_ALONG
} bw_place_kind;

typedef struct bw_place {
    bw_place_kind kind;
    double along; /* mm along the edge from the shape's own start; only with BW_PLACE_ALONG */
} bw_place;

/* The edge as the maker measures it. Which members count depends on shape:
 * circle: diameter, else around, else chord and depth; ellipse: length (along x), width (along y); rectangle: length,
 * width, corner[] = radii counter-clockwise from bottom left; strap: length over all (along x), width, start (left),
 * end (right); polygon: corners in the order in which they are walked, either way round; path: svg (path data as in
 * SVG 1.1, 8.3: M L H V C S Q T A Z, both cases, one subpath, y downwards), scale (mm per SVG unit); line: length;
 * arc: radius, sweep (radians, > 0 has the leather towards the centre, < 0 away from it). corners and svg are borrowed:
 * they stay the caller's, as they are for as long as the outline is used; a plan uses it until bw_plan_destroy. */
typedef struct bw_outline {
    bw_shape shape;
    double diameter, around, chord, depth;
    double length, width;
    double corner[4];
    bw_end start, end;
    const bw_corner *corners;
    size_t corner_count;
    const char *svg;
    double scale;
    double radius, sweep;
} bw_outline;

/* What can be wrong with an outline. */
typedef enum bw_trouble {
    BW_TROUBLE_NONE,
    BW_TROUBLE_SIZE,    /* a size is missing, not finite or outside limits.h */
    BW_TROUBLE_FEW,     /* nothing to walk along: all corners on one spot, a path of no length */
    BW_TROUBLE_CORNER,  /* polygon: the roundings of corner `item` and of a neighbour need more than the side holds */
    BW_TROUBLE_SVG,     /* path: `why`, at byte `item` of svg */
    BW_TROUBLE_CROSSING /* the edge crosses or touches itself at `at` */
} bw_trouble;

typedef struct bw_outline_fault {
    bw_trouble what;
    size_t item;     /* corner (from 0), or byte of svg */
    const char *why; /* BW_TROUBLE_SVG: a sentence without a full stop; static */
    bw_point at;     /* mm, where on the piece; BW_TROUBLE_CORNER, BW_TROUBLE_CROSSING */
    double along[2]; /* mm. BW_TROUBLE_CROSSING: both visits along the edge, the lesser first. BW_TROUBLE_CORNER: what
                      * the roundings need of the side, and its length */
    double most;     /* mm, BW_TROUBLE_CORNER: greatest radius of that corner with all others as they are; 0 if none */
} bw_outline_fault;

/* Is this an outline that can be planned? BW_BAD_VALUE with what is wrong and where, BW_NO_MEMORY, or BW_OK. fault may
 * be NULL. */
bw_status bw_outline_check(const bw_outline *outline, const bw_allocator *allocator, bw_outline_fault *fault);

typedef enum bw_kind { BW_BASKET, BW_BORDER, BW_IRON, BW_BEVELER, BW_DIVIDERS, BW_KNIFE, BW_MAUL } bw_kind;

/* A tool as written down; sizes that are missing are NAN and completed by bw_tool_face. */
typedef struct bw_tool {
    const char *id;
    bw_kind kind;
    bool retired;
    int blows;
    double length, width, bar, rail; /* basket; border: length, width */
    double overlap;                  /* basket: usual share, 0..1 */
    double pitch;                    /* iron */
    int teeth;                       /* iron */
    double give;                     /* border, iron: share by which a step may be stretched or squeezed */
    double closest, usual, widest;   /* measured steps, straight lay */
    const struct bw_strip *strips;   /* test strips and finished rounds (hand.h); NULL: none */
    size_t strip_count;
    unsigned from_strips;     /* bits 1u << bw_how of the steps above that bw_tool_take_strips filled in */
    unsigned off_strips;      /* of those that it left out, as they would not lie between the others */
    double least, most, grid; /* dividers */
} bw_tool;

typedef enum bw_fill { BW_FILL_PLAIN, BW_FILL_BASKET, BW_FILL_BORDER, BW_FILL_STITCH } bw_fill;
typedef enum bw_lay { BW_LAY_STRAIGHT, BW_LAY_ANGLED } bw_lay;
typedef enum bw_slant { BW_SLANT_INWARD, BW_SLANT_OUTWARD } bw_slant;
typedef enum bw_lose { BW_LOSE_EVEN, BW_LOSE_LAST, BW_LOSE_STRAIGHTS, BW_LOSE_ANCHORED } bw_lose;
typedef enum bw_mark { BW_MARK_NONE, BW_MARK_CUT, BW_MARK_SCRIBE } bw_mark;
typedef enum bw_bevel { BW_BEVEL_NONE, BW_BEVEL_INSIDE, BW_BEVEL_OUTSIDE } bw_bevel;

/* One border line of a band: how it is made. */
typedef struct bw_border_line {
    bw_mark line;
    bw_bevel bevel;
} bw_border_line;

/* Values that a suggestion could change; also the bits (1u << knob) of `fixed`. */
typedef enum bw_knob {
    BW_KNOB_DIAMETER, /* outline: the number that gives the size, whichever of its forms is in the file */
    BW_KNOB_LENGTH,
    BW_KNOB_WIDTH,
    BW_KNOB_RADIUS,
    BW_KNOB_SWEEP,
    BW_KNOB_CORNER,
    BW_KNOB_SPACE, /* from here on: of a band */
    BW_KNOB_BAND_WIDTH,
    BW_KNOB_GUIDE,
    BW_KNOB_OVERLAP,
    BW_KNOB_COUNT,
    BW_KNOB_LOSE,
    BW_KNOB_TOOL,
    BW_KNOB_COUNT_OF_KNOBS
} bw_knob;

typedef struct bw_band {
    const char *name;
    double space, width; /* mm, from the line before, inward */
    bw_fill fill;
    int tool; /* index into the layout's tools, -1 for none */
    bw_lay lay;
    bw_slant slant;
    bool guide_is_length; /* guide: mm from the outer line, else a share of the width */
    double guide;
    double overlap;    /* share, NAN = not given */
    int count;         /* for every run; 0 = auto */
    const int *counts; /* one a run, in place of count; 0 = auto; NULL if there is none */
    size_t count_runs; /* entries of counts; runs beyond are auto */
    int group;         /* border only */
    bw_lose lose;
    int lose_last;           /* K of BW_LOSE_LAST */
    const bw_place *anchors; /* NULL: the shape's own */
    size_t anchor_count;
    bw_border_line outer, inner;
    unsigned fixed; /* knobs that must not move */
} bw_band;

typedef struct bw_layout {
    bw_outline outline;
    bw_place start;              /* the start mark */
    bool finished;               /* sizes are those of the finished piece: lengths are divided by 1 + growth */
    double weight, trim, growth; /* leather: mm (NAN = none), mm, share */
    double grid;                 /* mm to which dividers can be set */
    unsigned fixed;              /* knobs of the outline that must not move */
    const bw_band *bands;
    size_t band_count;
    const bw_tool *tools;
    size_t tool_count;
} bw_layout;

/* A basket or border stamp or an iron with every size known (mm). For an iron length = pitch, width = 0. */
typedef struct bw_face {
    double length, width, bar, rail;
    double leg;                                          /* (length - bar) / 2; 0 unless basket */
    bool estimated_width, estimated_bar, estimated_rail; /* filled in from the trade's proportions */
} bw_face;

void bw_layout_init(bw_layout *layout);
void bw_band_init(bw_band *band);
void bw_tool_init(bw_tool *tool, bw_kind kind);

/* The face with missing sizes filled in: width half the length, bar a third, rail 0.28 of the width. */
bw_face bw_tool_face(const bw_tool *tool);

/* Steps in a straight lay, mm. */
typedef struct bw_steps {
    double closest, usual, widest;
} bw_steps;

/* The measured steps of a basket stamp, border stamp or iron, missing ones filled in from its face and give. Each must
 * be over the one before. The usual step of a basket stamp follows from the band's overlap if it was not measured: NAN.
 */
bw_steps bw_tool_steps(const bw_tool *tool);

/* Fills in each measured step that is not given from the tool's strips and rounds, if it
 * then still lies between the others, and notes which. For tools with steps; others stay as they are. */
void bw_tool_take_strips(bw_tool *tool);

/* How much of a strap's length an end takes, mm: a round one half the width, a point its own length. */
double bw_end_takes(const bw_end *end, double width);

/* The kind of tool that a fill needs; false for plain. */
bool bw_fill_kind(bw_fill fill, bw_kind *kind);

/* Diameter of a circle of this circumference. */
double bw_diameter_around(double around);
/* Diameter of the circle in which a chord has this greatest depth: (c^2 + 4 h^2) / (4 h); Machinery's Handbook,
 * 31st ed., p. 79 gives half of it. */
double bw_diameter_chord(double chord, double depth);
/* The diameter of a circle outline in whichever way it is given; NAN if it is not. */
double bw_outline_diameter(const bw_outline *outline);

/* Checks every value against limits.h and that tools fit their fills. What passes can be planned. */
bw_status bw_layout_check(const bw_layout *layout);

#ifdef __cplusplus
}
#endif
#endif
