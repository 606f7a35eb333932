/* The one table of fields: what a file may hold, described once. Ranges come from bandwright/limits.h. */
#include "shop/fields.h"

#include <string.h>

#include "bandwright/limits.h"

#define BIT(kind) (1u << (kind))
#define CIRCLE BIT(BW_CIRCLE)
#define ELLIPSE BIT(BW_ELLIPSE)
#define RECTANGLE BIT(BW_RECTANGLE)
#define STRAP BIT(BW_STRAP)
#define POLYGON BIT(BW_POLYGON)
#define PATH BIT(BW_PATH)
#define LINE BIT(BW_LINE)
#define ARC BIT(BW_ARC)
#define FILLED (BIT(BW_FILL_BASKET) | BIT(BW_FILL_BORDER) | BIT(BW_FILL_STITCH))
#define WOVEN BIT(BW_FILL_BASKET)
#define BASKET BIT(BW_BASKET)
#define BORDER BIT(BW_BORDER)
#define IRON BIT(BW_IRON)
#define STEPPED (BASKET | BORDER | IRON)

#define OF(owner_, type_, member) .owner = SHOP_OF_##owner_, .offset = offsetof(type_, member)
#define PROJECT(member) OF(PROJECT, shop_project, member)
#define BAND(member) OF(BAND, bw_band, member)
#define ABOUT_BAND(member) OF(BAND, shop_band, member)
#define TOOL(member) OF(TOOL, bw_tool, member)
#define ABOUT_TOOL(member) OF(TOOL, shop_tool, member)
#define STRIP(member) OF(STRIP, bw_strip, member)
#define ABOUT_STRIP(member) OF(STRIP, shop_strip, member)
#define STRUCK(member) OF(STRUCK, shop_struck, member)
#define RATES(member) OF(RATES, shop_rates, member)

#define DIAMETER_LEAST 5.0   /* mm: smaller rounds are not tooled by hand */
#define SIZE_LEAST 0.01      /* mm: a size that must be there */
#define PATTERN 128          /* bytes of a path without the names in it */
#define DIVIDERS_MOST 5000.0 /* mm */
#define GRID_MOST 25.4       /* mm */
#define RATE_MOST 1e6
#define EDGE_STEP 0.5 /* mm, one key on a size of the piece */
#define LINE_STEP 0.25
#define TOOL_STEP 0.1
#define DEGREE (BW_PI / 180)
#define SCALE_STEP 0.1

static const char *const units_words[] = {"mm", "in", NULL};
static const char *const how_words[] = {"usual", "closest", "widest", NULL}; /* as bw_how */
static const char *const sizes_words[] = {"laid-out", "finished", NULL};
static const char *const shape_words[] = {"circle", "ellipse", "rectangle", "strap", "polygon",
                                          "path",   "line",    "arc",       NULL};     /* as bw_shape */
static const char *const fill_words[] = {"plain", "basket", "border", "stitch", NULL}; /* as bw_fill */
static const char *const lay_words[] = {"straight", "angled", NULL};
static const char *const slant_words[] = {"inward", "outward", NULL};
static const char *const mark_words[] = {"none", "cut", "scribe", NULL};
static const char *const bevel_words[] = {"none", "inside", "outside", NULL};
static const char *const kind_words[] = {"basket", "border", "iron", "beveler", "dividers", "knife", "maul", NULL};

#define LENGTH(least_, most_, step_) .type = SHOP_TYPE_LENGTH, .least = least_, .most = most_, .step = step_
#define SHARE(least_, most_, step_) .type = SHOP_TYPE_SHARE, .least = least_, .most = most_, .step = step_
#define NUMBER(least_, most_) .type = SHOP_TYPE_NUMBER, .least = least_, .most = most_, .step = 1
#define WORD(words_) .type = SHOP_TYPE_WORD, .words = words_

static const shop_field table[] = {
    {"bandwright-project", "format", PROJECT(text), .type = SHOP_TYPE_FORMAT, .least = 1, .most = 1, .needed = true,
     .help = "The format of a project file; this program reads format 1."},
    {"bandwright-inventory", "format", PROJECT(text), .type = SHOP_TYPE_FORMAT, .least = 1, .most = 1, .needed = true,
     .help = "The format of an inventory file; this program reads format 1."},
    {"piece", "piece", PROJECT(piece), .type = SHOP_TYPE_TEXT,
     .help = "What the piece is called; the file's name if nothing is given."},
    {"units", "units", PROJECT(units), WORD(units_words), .fallback = "mm",
     .help = "What a bare number in this file means: millimetres or inches."},
    {"sizes", "sizes", PROJECT(sizes), WORD(sizes_words), .fallback = "laid-out",
     .help = "Whether sizes are those laid out flat, or those after the leather has grown.",
     .more = "It grows under the hammer; a tool's sizes are always its own."},
    {"start-mark", "start mark", PROJECT(layout.start), .type = SHOP_TYPE_PLACE,
     .help = "Where rounds start: bottom, right, top, left, or a length along the edge.",
     .more = "The seam lies there."},
    {"fixed", "fixed", PROJECT(fixed), .type = SHOP_TYPE_PATHS, .fallback = "[]",
     .help = "Paths of values that no suggestion may change, and all below them."},
    {"dividers", "dividers", PROJECT(dividers), .type = SHOP_TYPE_TOOL, .kinds = 0,
     .help = "The wing dividers on which settings are rounded: the id of a tool."},

    {"leather.weight", "leather", PROJECT(layout.weight), .type = SHOP_TYPE_WEIGHT, .least = BW_WEIGHT_LEAST,
     .most = BW_WEIGHT_MOST, .step = TOOL_STEP,
     .help = "How thick the leather is, in ounces (1/64 in) or as a length."},
    {"leather.trim", "trim", PROJECT(layout.trim), LENGTH(0, BW_TRIM_MOST, EDGE_STEP), .fallback = "0",
     .help = "Extra leather around the piece that is cut off after tooling."},
    {"leather.growth", "growth", PROJECT(layout.growth), SHARE(0, BW_GROWTH_MOST, 0.005), .fallback = "0 %",
     .help = "By how much the piece grows under the hammer."},

    {"outline.shape", "shape", PROJECT(layout.outline.shape), WORD(shape_words), .needed = true,
     .help = "The shape of the edge that the bands follow."},
    {"outline.diameter", "diameter", PROJECT(layout.outline.diameter),
     LENGTH(DIAMETER_LEAST, BW_OUTLINE_MOST, EDGE_STEP), .kinds = CIRCLE,
     .help = "Straight across the round piece through its middle."},
    {"outline.around", "around", PROJECT(layout.outline.around), LENGTH(BW_OUTLINE_LEAST, BW_AROUND_MOST, EDGE_STEP),
     .kinds = CIRCLE, .help = "Once around the edge of the round piece, in place of the diameter."},
    {"outline.chord", "chord", PROJECT(layout.outline.chord), LENGTH(BW_OUTLINE_LEAST, BW_OUTLINE_MOST, EDGE_STEP),
     .kinds = CIRCLE, .help = "Straight from edge to edge beside the middle, given with its depth.",
     .more = "It stands in place of the diameter."},
    {"outline.depth", "depth", PROJECT(layout.outline.depth), LENGTH(BW_OUTLINE_LEAST, BW_OUTLINE_MOST, EDGE_STEP),
     .kinds = CIRCLE, .help = "From the middle of the chord square to the edge, given with the chord."},
    {"outline.length", "length", PROJECT(layout.outline.length), LENGTH(BW_OUTLINE_LEAST, BW_OUTLINE_MOST, EDGE_STEP),
     .kinds = RECTANGLE, .needed = true, .help = "The rectangle from left to right."},
    {"outline.width", "width", PROJECT(layout.outline.width), LENGTH(BW_OUTLINE_LEAST, BW_OUTLINE_MOST, EDGE_STEP),
     .kinds = RECTANGLE, .needed = true, .help = "The rectangle from bottom to top."},
    {"outline.corner", "corner", PROJECT(layout.outline.corner), .type = SHOP_TYPE_CORNER, .least = BW_CORNER_LEAST,
     .most = BW_OUTLINE_MOST / 2, .step = EDGE_STEP, .kinds = RECTANGLE, .fallback = "0",
     .help = "The radius of the corners: one for all, or four from bottom left on.",
     .more = "They go counter-clockwise; at most half a side."},
    {"outline.length", "length", PROJECT(layout.outline.length), LENGTH(BW_OUTLINE_LEAST, BW_OUTLINE_MOST, EDGE_STEP),
     .kinds = ELLIPSE, .needed = true, .help = "The oval from left to right, through its middle."},
    {"outline.width", "width", PROJECT(layout.outline.width), LENGTH(BW_OUTLINE_LEAST, BW_OUTLINE_MOST, EDGE_STEP),
     .kinds = ELLIPSE, .needed = true, .help = "The oval from bottom to top, through its middle."},
    {"outline.length", "length", PROJECT(layout.outline.length), LENGTH(BW_OUTLINE_LEAST, BW_OUTLINE_MOST, EDGE_STEP),
     .kinds = STRAP, .needed = true, .help = "The strap over all, with both ends."},
    {"outline.width", "width", PROJECT(layout.outline.width), LENGTH(BW_OUTLINE_LEAST, BW_OUTLINE_MOST, EDGE_STEP),
     .kinds = STRAP, .needed = true, .help = "The strap from its lower to its upper edge."},
    {"outline.start", "left end", PROJECT(layout.outline.start), .type = SHOP_TYPE_END, .least = BW_OUTLINE_LEAST,
     .most = BW_OUTLINE_MOST, .kinds = STRAP, .fallback = "square",
     .help = "The left end: square, round, or a point of so much length.",
     .more = "In the file {point: LENGTH}, measured along the strap."},
    {"outline.end", "right end", PROJECT(layout.outline.end), .type = SHOP_TYPE_END, .least = BW_OUTLINE_LEAST,
     .most = BW_OUTLINE_MOST, .kinds = STRAP, .fallback = "square",
     .help = "The right end: square, round, or a point of so much length.",
     .more = "In the file {point: LENGTH}, measured along the strap."},
    {"outline.corners", "corners", PROJECT(layout.outline.corners), .type = SHOP_TYPE_CORNERS, .least = -BW_PLACE_MOST,
     .most = BW_PLACE_MOST, .kinds = POLYGON, .needed = true,
     .help = "The corners as the edge runs, each x, y and, if it is rounded, its radius.",
     .more = "In the file [x, y] or [x, y, radius]: x to the right, y upward; either way round."},
    {"outline.svg", "svg", PROJECT(layout.outline.svg), .type = SHOP_TYPE_SVG, .kinds = PATH, .needed = true,
     .help = "The edge as path data of SVG: one subpath of M L H V C S Q T A Z, y downward.",
     .more = "The letters in either case."},
    {"outline.scale", "scale", PROJECT(layout.outline.scale), .type = SHOP_TYPE_DECIMAL, .least = BW_SCALE_LEAST,
     .above = true, .step = SCALE_STEP, .kinds = PATH, .fallback = "1",
     .help = "How many millimetres one unit of the path is."},
    {"outline.length", "length", PROJECT(layout.outline.length), LENGTH(BW_OUTLINE_LEAST, BW_LINE_MOST, EDGE_STEP),
     .kinds = LINE, .needed = true, .help = "The straight edge from its start to its end."},
    {"outline.radius", "radius", PROJECT(layout.outline.radius), LENGTH(BW_OUTLINE_LEAST, BW_OUTLINE_MOST, EDGE_STEP),
     .kinds = ARC, .needed = true, .help = "The radius of the curved edge."},
    {"outline.sweep", "sweep", PROJECT(layout.outline.sweep), .type = SHOP_TYPE_ANGLE, .least = -BW_SWEEP_MOST,
     .most = BW_SWEEP_MOST, .step = DEGREE, .kinds = ARC, .needed = true,
     .help = "Degrees the edge turns through: above 0 the leather lies towards the centre.",
     .more = "Below 0 it lies away from it."},

    {"bands[].name", "name", BAND(name), .type = SHOP_TYPE_NAME, .needed = true,
     .help = "What the band is called; every name once."},
    {"bands[].space", "space", BAND(space), LENGTH(0, BW_BAND_MOST, LINE_STEP), .fallback = "0",
     .help = "Plain leather between this band and the line before it, or the edge."},
    {"bands[].width", "width", BAND(width), LENGTH(0, BW_BAND_MOST, LINE_STEP), .fallback = "0",
     .help = "From the band's outer line to its inner line."},
    {"bands[].fill", "fill", BAND(fill), WORD(fill_words), .fallback = "plain",
     .help = "What the band holds: nothing, basket stamp, border stamp or stitches."},
    {"bands[].tool", "tool", BAND(tool), .type = SHOP_TYPE_TOOL, .kinds = FILLED, .needed = true,
     .help = "The tool that fills the band: the id of one that suits the fill."},
    {"bands[].lay", "lay", BAND(lay), WORD(lay_words), .kinds = WOVEN, .fallback = "straight",
     .help = "How the stamp sits on the guide: straight along it, or angled.",
     .more = "Angled, it runs corner to corner."},
    {"bands[].slant", "slant", BAND(slant), WORD(slant_words), .kinds = WOVEN, .fallback = "inward",
     .help = "Which way the leading end of an angled stamp turns."},
    {"bands[].guide", "guide", BAND(guide), .type = SHOP_TYPE_GUIDE, .least = 0, .most = 1, .step = 0.01,
     .kinds = FILLED, .fallback = "50 %",
     .help = "Where the first round runs, from the outer line: a share, or a length.",
     .more = "A share of the width; a length carries its unit."},
    {"bands[].overlap", "overlap", BAND(overlap), SHARE(0, 1, 0.05), .kinds = WOVEN,
     .help = "How far a leg lies on its neighbour's: 0 % tips touching, 100 % up to the bar."},
    {"bands[].count", "count", BAND(count), .type = SHOP_TYPE_COUNT, .least = 1, .most = BW_COUNT_MOST, .step = 1,
     .kinds = FILLED, .fallback = "auto",
     .help = "Impressions on the guide's round: auto, a number, or one for each run.",
     .more = "For each run a list, in which auto may stand."},
    {"bands[].group", "group", BAND(group), NUMBER(1, BW_GROUP_MOST), .kinds = BIT(BW_FILL_BORDER), .fallback = "1",
     .help = "Impressions of a border stamp that repeat together; 2 for an alternating pair."},
    {"bands[].lose", "lose", BAND(lose), .type = SHOP_TYPE_LOSE, .least = 1, .most = BW_COUNT_MOST, .kinds = FILLED,
     .fallback = "even", .help = "Where the gap goes: even, last K steps, straights, or anchored.",
     .more = "The gap is what is left over or lacking."},
    {"bands[].anchors", "anchors", BAND(anchors), .type = SHOP_TYPE_PLACES, .kinds = FILLED,
     .help = "Places on which an impression is centred with lose: anchored.",
     .more = "The shape's own if nothing is given."},
    {"bands[].outer.line", "outer line", BAND(outer.line), WORD(mark_words), .fallback = "none",
     .help = "How the band's outer border line is made."},
    {"bands[].outer.bevel", "outer bevel", BAND(outer.bevel), WORD(bevel_words), .fallback = "none",
     .help = "On which side of a cut outer line the leather is bevelled down."},
    {"bands[].inner.line", "inner line", BAND(inner.line), WORD(mark_words), .fallback = "none",
     .help = "How the band's inner border line is made."},
    {"bands[].inner.bevel", "inner bevel", BAND(inner.bevel), WORD(bevel_words), .fallback = "none",
     .help = "On which side of a cut inner line the leather is bevelled down."},
    {"bands[].note", "note", ABOUT_BAND(note), .type = SHOP_TYPE_TEXT, .help = "What happened; for the maker only."},
    {"bands[].struck", "struck", BAND(name), .type = SHOP_TYPE_LIST,
     .help = "Rounds of this band begun or finished; the last not done is the one in hand."},
    {"bands[].struck[].run", "run", STRUCK(run), NUMBER(1, BW_COUNT_MOST), .fallback = "1",
     .help = "Which run of the band's guide it is, where corners cut it."},
    {"bands[].struck[].row", "row", STRUCK(row), NUMBER(-BW_ROWS_MOST, BW_ROWS_MOST), .fallback = "0",
     .help = "The row that is struck: 0 is the guide's own round."},
    {"bands[].struck[].impressions", "impressions", STRUCK(impressions), NUMBER(0, BW_COUNT_MOST), .fallback = "0",
     .help = "How many impressions are struck."},
    {"bands[].struck[].of", "of", STRUCK(of), NUMBER(1, BW_COUNT_MOST),
     .help = "The count at which the round is to close."},
    {"bands[].struck[].planned", "planned", STRUCK(planned), NUMBER(1, BW_COUNT_MOST),
     .help = "The count of the plan when the round was begun."},
    {"bands[].struck[].guide", "guide", STRUCK(guide), LENGTH(0, BW_LINE_MOST, LINE_STEP),
     .help = "How long the run of the guide was when the round was begun."},
    {"bands[].struck[].from", "from", STRUCK(from), NUMBER(0, BW_COUNT_MOST), .fallback = "0",
     .help = "How many were struck when the step was last changed."},
    {"bands[].struck[].left", "left", STRUCK(left), LENGTH(0, BW_LINE_MOST, LINE_STEP),
     .help = "What was left to go along the guide, as it was measured.",
     .more = "On a closed run to the first impression, same point to same point; on an open one to its end."},
    {"bands[].struck[].before", "before", STRUCK(before), NUMBER(0, BW_COUNT_MOST), .fallback = "0",
     .help = "How many were struck at the measure before that one."},
    {"bands[].struck[].left-before", "left before", STRUCK(left_before), LENGTH(0, BW_LINE_MOST, LINE_STEP),
     .help = "What was left to go at that measure."},
    {"bands[].struck[].aimed", "aimed", STRUCK(aimed), LENGTH(BW_STEP_LEAST, BW_STEP_MOST, TOOL_STEP),
     .help = "The step that was aimed at."},
    {"bands[].struck[].done", "done", STRUCK(done), .type = SHOP_TYPE_YES_NO, .fallback = "no",
     .help = "Whether the round is finished."},
    {"bands[].struck[].logged", "logged", STRUCK(logged), .type = SHOP_TYPE_YES_NO, .fallback = "no",
     .help = "Whether it is among the rounds of its tool already."},
    {"bands[].struck[].took", "took", STRUCK(took), LENGTH(SIZE_LEAST, BW_LINE_MOST, LINE_STEP),
     .help = "What it took when it was last logged.", .more = "A later log of the same round takes that one's place."},
    {"bands[].struck[].date", "date", STRUCK(date), .type = SHOP_TYPE_TEXT,
     .help = "When it was struck, such as 2026-03-02."},

    {"tools[].id", "id", TOOL(id), .type = SHOP_TYPE_NAME, .needed = true,
     .help = "A short name by which bands mean this tool; every id once."},
    {"tools[].kind", "kind", TOOL(kind), WORD(kind_words), .needed = true, .help = "What sort of tool it is."},
    {"tools[].name", "name", ABOUT_TOOL(name), .type = SHOP_TYPE_TEXT, .help = "What the maker calls the tool."},
    {"tools[].note", "note", ABOUT_TOOL(note), .type = SHOP_TYPE_TEXT,
     .help = "Anything worth knowing about the tool."},
    {"tools[].retired", "retired", TOOL(retired), .type = SHOP_TYPE_YES_NO, .fallback = "no",
     .help = "A retired tool is no longer offered."},
    {"tools[].blows", "blows", TOOL(blows), NUMBER(1, BW_BLOWS_MOST), .fallback = "3",
     .help = "Blows of the maul for one impression."},
    {"tools[].length", "length", TOOL(length), LENGTH(BW_BASKET_LEAST, BW_BASKET_MOST, TOOL_STEP), .kinds = BASKET,
     .needed = true, .help = "The face along its rails, tip to tip of the legs."},
    {"tools[].width", "width", TOOL(width), LENGTH(SIZE_LEAST, BW_BASKET_MOST, TOOL_STEP), .kinds = BASKET,
     .help = "The face across, over both rails; half the length if it is not measured."},
    {"tools[].bar", "bar", TOOL(bar), LENGTH(SIZE_LEAST, BW_BASKET_MOST, TOOL_STEP), .kinds = BASKET,
     .help = "How wide the bar across the middle is; a third of the length if not measured.",
     .more = "It is measured along the length."},
    {"tools[].rail", "rail", TOOL(rail), LENGTH(SIZE_LEAST, BW_BASKET_MOST, TOOL_STEP), .kinds = BASKET,
     .help = "How thick each long edge is; 0.28 of the width if it is not measured.",
     .more = "It is measured across the width."},
    {"tools[].overlap", "overlap", TOOL(overlap), SHARE(0, 1, 0.05), .kinds = BASKET,
     .help = "How far legs usually lie on each other with this stamp."},
    {"tools[].length", "length", TOOL(length), LENGTH(BW_BORDER_LEAST, BW_BORDER_MOST, TOOL_STEP), .kinds = BORDER,
     .needed = true, .help = "The face of the border stamp along the line."},
    {"tools[].width", "width", TOOL(width), LENGTH(BW_BORDER_LEAST, BW_BORDER_MOST, TOOL_STEP), .kinds = BORDER,
     .needed = true, .help = "The face of the border stamp across the line."},
    {"tools[].give", "give", TOOL(give), SHARE(BW_GIVE_LEAST, BW_GIVE_MOST, 0.005), .kinds = BORDER, .fallback = "5 %",
     .help = "By how much a step of this stamp may be stretched or squeezed."},
    {"tools[].pitch", "pitch", TOOL(pitch), LENGTH(BW_PITCH_LEAST, BW_PITCH_MOST, TOOL_STEP), .kinds = IRON,
     .needed = true, .help = "From one tooth of the iron to the next, middle to middle."},
    {"tools[].teeth", "teeth", TOOL(teeth), NUMBER(1, BW_TEETH_MOST), .kinds = IRON, .fallback = "1",
     .help = "How many teeth the iron has."},
    {"tools[].give", "give", TOOL(give), SHARE(BW_GIVE_LEAST, BW_GIVE_MOST, 0.005), .kinds = IRON, .fallback = "8 %",
     .help = "By how much a stitch may be stretched or squeezed."},
    {"tools[].steps.closest", "closest", TOOL(closest), LENGTH(BW_STEP_LEAST, BW_STEP_MOST, TOOL_STEP),
     .kinds = STEPPED, .help = "The closest step that still looks right, measured on scrap in a straight lay."},
    {"tools[].steps.usual", "usual step", TOOL(usual), LENGTH(BW_STEP_LEAST, BW_STEP_MOST, TOOL_STEP), .kinds = STEPPED,
     .help = "The step that the hand falls into, as ten impressions on scrap tell it."},
    {"tools[].steps.widest", "widest", TOOL(widest), LENGTH(BW_STEP_LEAST, BW_STEP_MOST, TOOL_STEP), .kinds = STEPPED,
     .help = "The widest step that still looks right, measured on scrap in a straight lay."},
    {"tools[].strips", "strips", TOOL(id), .type = SHOP_TYPE_LIST, .kinds = STEPPED,
     .help = "Test strips: ten impressions on scrap and a rule say what the hand does.",
     .more = "They give each of the steps above that is not given itself."},
    {"tools[].strips[].impressions", "impressions", STRIP(impressions), NUMBER(BW_STRIP_LEAST, BW_COUNT_MOST),
     .kinds = STEPPED, .help = "How many impressions the strip has.", .more = "It has one step less."},
    {"tools[].strips[].length", "length", STRIP(length), LENGTH(SIZE_LEAST, BW_LINE_MOST, TOOL_STEP), .kinds = STEPPED,
     .help = "From one point of the first impression to the same point of the last.",
     .more = "Measured from tip to tip over all, take the length of one face off."},
    {"tools[].strips[].struck", "struck", STRIP(struck), WORD(how_words), .kinds = STEPPED, .fallback = "usual",
     .help = "How it was struck: as usual, as close or as wide as still looks right."},
    {"tools[].strips[].aimed", "aimed", STRIP(aimed), LENGTH(BW_STEP_LEAST, BW_STEP_MOST, TOOL_STEP), .kinds = STEPPED,
     .help = "The step that was aimed at, such as one pricked off with dividers."},
    {"tools[].strips[].places", "places", STRIP(places), .type = SHOP_TYPE_LENGTHS, .least = SIZE_LEAST,
     .most = BW_LINE_MOST, .kinds = STEPPED,
     .help = "Where each impression but the first stands, all measured from the first.",
     .more = "In place of impressions and length; they tell steps and strips apart."},
    {"tools[].strips[].leather", "leather", ABOUT_STRIP(leather), .type = SHOP_TYPE_TEXT, .kinds = STEPPED,
     .help = "What leather the strip was struck on."},
    {"tools[].strips[].date", "date", ABOUT_STRIP(date), .type = SHOP_TYPE_TEXT, .kinds = STEPPED,
     .help = "When it was struck, such as 2026-03-02."},
    {"tools[].rounds", "rounds", TOOL(id), .type = SHOP_TYPE_LIST, .kinds = STEPPED,
     .help = "Finished rounds of this tool: strips of many steps.",
     .more = "One without an aim counts for the usual step; one with an aim for bias and spread."},
    {"tools[].rounds[].impressions", "impressions", STRIP(impressions), NUMBER(BW_STRIP_LEAST, BW_COUNT_MOST),
     .kinds = STEPPED, .help = "How many impressions the length below holds.", .more = "It has one step less."},
    {"tools[].rounds[].length", "length", STRIP(length), LENGTH(SIZE_LEAST, BW_LINE_MOST, TOOL_STEP), .kinds = STEPPED,
     .help = "Along the guide from a point of the first to the same of the last of them."},
    {"tools[].rounds[].aimed", "aimed", STRIP(aimed), LENGTH(BW_STEP_LEAST, BW_STEP_MOST, TOOL_STEP), .kinds = STEPPED,
     .help = "The step that was aimed at."},
    {"tools[].rounds[].piece", "piece", ABOUT_STRIP(piece), .type = SHOP_TYPE_TEXT, .kinds = STEPPED,
     .help = "The piece that it was struck on."},
    {"tools[].rounds[].date", "date", ABOUT_STRIP(date), .type = SHOP_TYPE_TEXT, .kinds = STEPPED,
     .help = "When it was struck, such as 2026-03-02."},
    {"tools[].width", "width", TOOL(width), LENGTH(SIZE_LEAST, BW_BORDER_MOST, TOOL_STEP), .kinds = BIT(BW_BEVELER),
     .help = "How wide the beveler's foot is."},
    {"tools[].least", "least", TOOL(least), LENGTH(0, DIVIDERS_MOST, LINE_STEP), .kinds = BIT(BW_DIVIDERS),
     .fallback = "0", .help = "The closest setting of the dividers."},
    {"tools[].most", "most", TOOL(most), LENGTH(SIZE_LEAST, DIVIDERS_MOST, LINE_STEP), .kinds = BIT(BW_DIVIDERS),
     .help = "The widest setting of the dividers."},
    {"tools[].grid", "grid", TOOL(grid), LENGTH(SIZE_LEAST, GRID_MOST, LINE_STEP), .kinds = BIT(BW_DIVIDERS),
     .help = "The finest difference to which the dividers can be set.", .more = "0.25 mm, or 1/64 in in an inch file."},

    {"rates.per-hour", "per hour", RATES(per_hour), .type = SHOP_TYPE_DECIMAL, .least = 0, .most = RATE_MOST, .step = 1,
     .help = "What an hour of the maker's work costs; no figure is made of it yet."},
    {"rates.strikes-per-minute", "a minute", RATES(strikes_per_minute), .type = SHOP_TYPE_DECIMAL, .least = 0.01,
     .most = RATE_MOST, .step = 1, .help = "How many impressions the maker strikes in a minute, all blows counted in."},
    {"rates.currency", "currency", RATES(currency), .type = SHOP_TYPE_TEXT,
     .help = "What the hour's cost is counted in; no figure is made of it yet."},
};
#define ROWS (sizeof table / sizeof table[0])

const shop_field *shop_fields(size_t *count) {
    *count = ROWS;
    return table;
}

const shop_field *shop_field_of(const char *pattern, unsigned kinds) {
    for (size_t i = 0; i < ROWS; i++)
        if (strcmp(table[i].path, pattern) == 0 && (table[i].kinds == 0 || (table[i].kinds & kinds)))
            return &table[i];
    return NULL;
}

bool shop_field_below(const char *pattern) {
    size_t length = strlen(pattern);
    for (size_t i = 0; i < ROWS; i++)
        if (strncmp(table[i].path, pattern, length) == 0 &&
            (table[i].path[length] == '.' || strncmp(table[i].path + length, "[].", 3) == 0))
            return true;
    return false;
}

/* Segments of a path: "bands" then ".weave" or "[2]" (an item), then ".width" and so on. Only bands and tools have
 * items with keys; any other [n] stays an item of a list of values. */
bool shop_path_pattern(const char *path, char *pattern, size_t room) {
    size_t used = 0;
    bool item_next = false;
    for (const char *at = path; *at;) {
        size_t length = strcspn(at, ".[");
        bool item = *at == '[' || (item_next && *at == '.');
        if (*at == '[') {
            length = strcspn(at, "]");
            if (at[length] != ']')
                return false;
            length++;
        } else if (*at == '.')
            length = 1 + strcspn(at + 1, ".[");
        if (length == 0 || (*at == '.' && length == 1))
            return false;
        const char *add = item ? "[]" : at;
        size_t size = item ? 2 : length;
        if (used + size + 1 > room)
            return false;
        memcpy(pattern + used, add, size);
        used += size;
        item_next =
            at == path && (strncmp(at, "bands", length) == 0 || strncmp(at, "tools", length) == 0) && length == 5;
        at += length;
    }
    if (used == 0)
        return false;
    pattern[used] = '\0';
    return true;
}

const shop_field *shop_field_find(const char *path) {
    char pattern[PATTERN];
    return shop_path_pattern(path, pattern, sizeof pattern) ? shop_field_of(pattern, SHOP_ANY_KIND) : NULL;
}

const shop_field *shop_field_around(const char *pattern, unsigned kinds, bool *item) {
    const shop_field *field = shop_field_of(pattern, kinds);
    char list[PATTERN];
    size_t length = strlen(pattern);
    if (item)
        *item = !field;
    for (int depth = 1; !field && length > 2 && length < sizeof list; depth++) {
        if (memcmp(pattern + length - 2, "[]", 2) != 0)
            break;
        length -= 2;
        memcpy(list, pattern, length);
        list[length] = '\0';
        field = shop_field_of(list, kinds);
        if (field && (!shop_field_may_list(field) || depth > (field->type == SHOP_TYPE_CORNERS ? 2 : 1)))
            return NULL;
    }
    return field;
}

const shop_field *shop_field_holding(const char *path) {
    char pattern[PATTERN];
    return shop_path_pattern(path, pattern, sizeof pattern) ? shop_field_around(pattern, SHOP_ANY_KIND, NULL) : NULL;
}

bool shop_field_is_text(const shop_field *field) {
    return field->type == SHOP_TYPE_TEXT || field->type == SHOP_TYPE_NAME || field->type == SHOP_TYPE_TOOL ||
           field->type == SHOP_TYPE_SVG;
}

bool shop_field_may_list(const shop_field *field) {
    switch (field->type) {
    case SHOP_TYPE_PLACES:
    case SHOP_TYPE_COUNT:
    case SHOP_TYPE_CORNER:
    case SHOP_TYPE_CORNERS:
    case SHOP_TYPE_PATHS:
    case SHOP_TYPE_LIST:
    case SHOP_TYPE_LENGTHS:
        return true;
    default:
        return false;
    }
}

bool shop_field_may_flow(const shop_field *field) {
    return shop_field_may_list(field) || field->type == SHOP_TYPE_END;
}

bool shop_path_known(const char *path) {
    char pattern[PATTERN];
    return shop_path_pattern(path, pattern, sizeof pattern) &&
           (shop_field_around(pattern, SHOP_ANY_KIND, NULL) || shop_field_below(pattern));
}

bool shop_path_holds(const char *path) {
    char pattern[PATTERN];
    return shop_path_pattern(path, pattern, sizeof pattern) && shop_field_below(pattern);
}

bool shop_field_has_unit(const shop_field *field) {
    switch (field->type) {
    case SHOP_TYPE_LENGTH:
    case SHOP_TYPE_WEIGHT:
    case SHOP_TYPE_PLACE:
    case SHOP_TYPE_PLACES:
    case SHOP_TYPE_CORNER:
    case SHOP_TYPE_CORNERS:
    case SHOP_TYPE_END:
    case SHOP_TYPE_LENGTHS:
        return true;
    default:
        return false;
    }
}
