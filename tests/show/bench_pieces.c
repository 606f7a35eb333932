#include "show/bench_pieces.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

void piece_start(piece *p, const char *name, bw_outline outline) {
    memset(p, 0, sizeof *p);
    shop_project *project = &p->project;
    bw_layout_init(&project->layout);
    project->piece = (shop_string){name, strlen(name)};
    project->bands = p->bands;
    project->band_about = p->band_about;
    project->tools = p->tools;
    project->tool_about = p->tool_about;
    project->dividers = -1;
    project->tolerance = BW_VISIBLE_JUMP;
    project->layout.outline = outline;
    project->layout.bands = p->bands;
    project->layout.tools = p->tools;
}

bw_tool *piece_tool(piece *p, const char *id, bw_kind kind, double length, double width, double bar, double rail) {
    bw_tool *tool = &p->tools[p->project.layout.tool_count++];
    bw_tool_init(tool, kind);
    tool->id = id;
    if (kind == BW_IRON) {
        tool->pitch = length;
    } else {
        tool->length = length;
        tool->width = width;
        tool->bar = bar;
        tool->rail = rail;
    }
    p->project.own_tools = p->project.layout.tool_count;
    return tool;
}

bw_band *piece_band(piece *p, const char *name, bw_fill fill, const char *tool, double space, double width) {
    bw_band *band = &p->bands[p->project.layout.band_count++];
    bw_band_init(band);
    band->name = name;
    band->fill = fill;
    band->space = space;
    band->width = width;
    for (size_t i = 0; tool && i < p->project.layout.tool_count; i++)
        if (strcmp(p->tools[i].id, tool) == 0)
            band->tool = (int)i;
    return band;
}

void piece_finish(piece *p) {
    bw_plan_destroy(p->plan);
    p->plan = NULL;
    ck_assert_int_eq(bw_plan_create(&p->project.layout, NULL, &p->plan), BW_OK);
}

void piece_end(piece *p) {
    bw_plan_destroy(p->plan);
    p->plan = NULL;
}

bw_outline circle_of(double diameter) {
    bw_layout blank;
    bw_layout_init(&blank);
    blank.outline.shape = BW_CIRCLE;
    blank.outline.diameter = diameter;
    return blank.outline;
}

static const bw_border_line cut_inside = {BW_MARK_CUT, BW_BEVEL_INSIDE}, cut_outside = {BW_MARK_CUT, BW_BEVEL_OUTSIDE};

void piece_cedar_lid(piece *p) {
    piece_start(p, "Cedar box lid", circle_of(140));
    p->project.layout.weight = 8 * BW_MM_PER_OUNCE;
    p->project.layout.trim = 3;
    piece_tool(p, "basket-m", BW_BASKET, 9.5, 6.4, 3.1, 1.6);
    piece_tool(p, "shell-5", BW_BORDER, 5.2, 5, 0, 0);
    piece_tool(p, "iron-4", BW_IRON, 4, 0, 0, 0)->teeth = 6;
    piece_band(p, "rim", BW_FILL_BORDER, "shell-5", 4, 5)->outer = cut_inside;
    bw_band *weave = piece_band(p, "weave", BW_FILL_BASKET, "basket-m", 0, 21);
    weave->outer = cut_inside;
    weave->inner = cut_outside;
    piece_band(p, "stitching", BW_FILL_STITCH, "iron-4", 3, 0);
    piece_finish(p);
}

void piece_rowan_end(piece *p) {
    piece_start(p, "Rowan coaster", circle_of(60));
    piece_tool(p, "basket-l", BW_BASKET, 13, 7, 4, 2);
    piece_band(p, "weave", BW_FILL_BASKET, "basket-l", 3, 16);
    piece_finish(p);
}

void piece_wide_lid(piece *p) {
    piece_start(p, "Wide lid", circle_of(120));
    piece_tool(p, "basket-stub", BW_BASKET, 9, 4.5, 6, 1.3);
    piece_band(p, "weave", BW_FILL_BASKET, "basket-stub", 4, 26);
    piece_finish(p);
}

void piece_maple_tray(piece *p) {
    bw_outline tray = circle_of(1);
    tray.shape = BW_RECTANGLE;
    tray.length = 180;
    tray.width = 120;
    piece_start(p, "Maple tray", tray);
    p->project.units = SHOP_INCH;
    p->project.layout.grid = BW_GRID_INCH;
    piece_tool(p, "basket-s", BW_BASKET, 7.8, (double)NAN, 2.4, (double)NAN);
    piece_tool(p, "leaf-6", BW_BORDER, 6, 5, 0, 0);
    bw_band *slant = piece_band(p, "slant", BW_FILL_BASKET, "basket-s", 4, 17);
    slant->lay = BW_LAY_ANGLED;
    slant->outer = cut_inside;
    piece_band(p, "leaves", BW_FILL_BORDER, "leaf-6", 1, 5)->group = 2;
    piece_band(p, "field", BW_FILL_PLAIN, NULL, 0, 10);
    piece_finish(p);
}

void piece_ash_edge(piece *p) {
    bw_outline edge = circle_of(1);
    edge.shape = BW_LINE;
    edge.length = 300;
    piece_start(p, "Ash strap sample", edge);
    piece_tool(p, "basket-m", BW_BASKET, 9.5, 6.4, 3.1, 1.6);
    piece_tool(p, "iron-4", BW_IRON, 4, 0, 0, 0)->teeth = 4;
    piece_band(p, "stitching", BW_FILL_STITCH, "iron-4", 3, 0);
    bw_band *weave = piece_band(p, "weave", BW_FILL_BASKET, "basket-m", 3, 22);
    weave->lose = BW_LOSE_LAST;
    weave->lose_last = 5;
    weave->outer = cut_inside;
    piece_finish(p);
}

void piece_no_room(piece *p) {
    piece_start(p, "Too much for it", circle_of(50));
    piece_tool(p, "basket-m", BW_BASKET, 9.5, 6.4, 3.1, 1.6);
    piece_band(p, "weave", BW_FILL_BASKET, "basket-m", 4, 60)->outer = cut_inside;
    piece_band(p, "heart", BW_FILL_PLAIN, NULL, 0, 10);
    piece_finish(p);
}

void piece_bare(piece *p) {
    piece_start(p, "Bare disc", circle_of(90));
    piece_finish(p);
}

void piece_beech_oval(piece *p) {
    bw_outline oval = circle_of(1);
    oval.shape = BW_ELLIPSE;
    oval.length = 150;
    oval.width = 100;
    piece_start(p, "Beech oval", oval);
    piece_tool(p, "basket-s", BW_BASKET, 6, 3.2, 2, 0.9);
    piece_tool(p, "grain-4", BW_BORDER, 4, 1.5, 0, 0);
    piece_band(p, "grains", BW_FILL_BORDER, "grain-4", 3, 2);
    piece_band(p, "weave", BW_FILL_BASKET, "basket-s", 2, 12)->lay = BW_LAY_ANGLED;
    piece_finish(p);
}

void piece_belt_end(piece *p) {
    bw_outline strap = circle_of(1);
    strap.shape = BW_STRAP;
    strap.length = 180;
    strap.width = 44;
    strap.end = (bw_end){BW_END_POINT, 30};
    piece_start(p, "Belt end", strap);
    piece_tool(p, "basket-s", BW_BASKET, 6, 3.2, 2, 0.9);
    piece_tool(p, "iron-4", BW_IRON, 4, 0, 0, 0)->teeth = 6;
    piece_band(p, "stitching", BW_FILL_STITCH, "iron-4", 3, 0);
    piece_band(p, "weave", BW_FILL_BASKET, "basket-s", 2, 9)->lose = BW_LOSE_STRAIGHTS;
    piece_finish(p);
}

void piece_hollow(piece *p) {
    static const bw_corner corners[] = {{0, 0, 0},     {160, 0, 14}, {160, 110, 40},
                                        {90, 110, 30}, {90, 60, 12}, {0, 60, 20}};
    bw_outline polygon = circle_of(1);
    polygon.shape = BW_POLYGON;
    polygon.corners = corners;
    polygon.corner_count = sizeof corners / sizeof *corners;
    piece_start(p, "Hollow rest", polygon);
    piece_tool(p, "basket-s", BW_BASKET, 6, 3.2, 2, 0.9);
    piece_tool(p, "grain-4", BW_BORDER, 4, 1.5, 0, 0);
    piece_band(p, "grains", BW_FILL_BORDER, "grain-4", 3, 2);
    piece_band(p, "weave", BW_FILL_BASKET, "basket-s", 1, 8);
    piece_finish(p);
}

void piece_bell(piece *p) {
    static const bw_corner corners[] = {{0, 0, 10},    {90, 0, 10},  {90, 40, 15},   {150, 40, 15},
                                        {150, 0, 10},  {240, 0, 10}, {240, 110, 10}, {150, 110, 10},
                                        {150, 70, 15}, {90, 70, 15}, {90, 110, 10},  {0, 110, 10}};
    bw_outline bell = circle_of(1);
    bell.shape = BW_POLYGON;
    bell.corners = corners;
    bell.corner_count = sizeof corners / sizeof *corners;
    piece_start(p, "Bell", bell);
    piece_tool(p, "grain-4", BW_BORDER, 4, 1.5, 0, 0);
    piece_tool(p, "iron-4", BW_IRON, 4, 0, 0, 0);
    piece_band(p, "stitching", BW_FILL_STITCH, "iron-4", 4, 0);
    piece_band(p, "grains", BW_FILL_BORDER, "grain-4", 14, 3);
    piece_finish(p);
}

const piece_maker piece_makers[] = {piece_cedar_lid, piece_rowan_end, piece_wide_lid,   piece_maple_tray,
                                    piece_ash_edge,  piece_no_room,   piece_beech_oval, piece_belt_end,
                                    piece_hollow,    piece_bell,      piece_bare};
const size_t piece_maker_count = sizeof piece_makers / sizeof *piece_makers;

show_view piece_view(const piece *p, size_t band) {
    return (show_view){.project = &p->project, .plan = p->plan, .band = band, .cell_aspect = 2};
}

char *piece_written(const piece *p, piece_writer write) {
    char *text = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&text, &length);
    ck_assert_ptr_nonnull(to);
    ck_assert(write(to, &p->project, p->plan));
    ck_assert_int_eq(fclose(to), 0);
    return text;
}

char *piece_read(const char *file) {
    FILE *from = fopen(file, "rb");
    ck_assert_msg(from != NULL, "%s cannot be opened", file);
    size_t room = 1 << 20;
    char *text = calloc(1, room);
    ck_assert_ptr_nonnull(text);
    size_t length = fread(text, 1, room - 1, from);
    ck_assert_uint_gt(length, 0);
    fclose(from);
    return text;
}
