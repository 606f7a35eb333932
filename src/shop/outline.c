/* What must hold between the values of an outline. A value that was wrong by itself is NAN or not there, and passes. */
#include <math.h>
#include <string.h>

#include "bandwright/limits.h"
#include "shop/load.h"

#define WHY 240 /* bytes of a reason */

static void check_circle(shop_loader *loader, const shop_node *map) {
    const bw_outline *o = &loader->project->layout.outline;
    static const char *const keys[] = {"diameter", "around", "chord", "depth"};
    bool has[4];
    for (int i = 0; i < 4; i++)
        has[i] = shop_map_get(map, keys[i], strlen(keys[i]), NULL) != NULL;
    int ways = has[0] + has[1] + (has[2] || has[3]);
    if (ways == 0)
        shop_load_error(loader, map, "outline", "a circle needs its diameter, or around, or chord and depth");
    if (ways > 1)
        shop_check_error(
            loader, map, has[2] || has[3] ? has[2] ? "chord" : "depth" : "around", "outline",
            "a circle is given in one way only: diameter, or around, or chord and depth; take the other out");
    if (has[2] != has[3])
        shop_check_error(loader, map, has[2] ? "depth" : "chord", "outline", "chord and depth go together");
    if (ways != 1 || isnan(o->chord) || isnan(o->depth))
        return;
    if (bw_diameter_chord(o->chord, o->depth) > BW_OUTLINE_MOST + BW_EPS)
        shop_check_error(loader, map, "depth", "outline", "with this chord the circle would be over 5000 mm across");
}

static void check_rectangle(shop_loader *loader, const shop_node *map) {
    const bw_outline *o = &loader->project->layout.outline;
    double half = fmin(o->length, o->width) / 2;
    const shop_node *node = shop_map_get(map, "corner", 6, NULL), *real = shop_node_real(node);
    for (size_t i = 0; node && i < 4; i++) {
        if (!(o->corner[i] > half + BW_EPS))
            continue;
        bool list = real->kind == SHOP_NODE_LIST;
        char path[SHOP_PATH], why[120], limit[48];
        snprintf(path, sizeof path, list ? "outline.corner[%zu]" : "outline.corner", i + 1);
        shop_show_length(half, loader->project->units, limit, sizeof limit);
        snprintf(why, sizeof why, "a corner is at most half the shorter side, %s", limit);
        shop_load_error(loader, list ? shop_list_item(real, i) : node, path, why);
        if (!list)
            return;
    }
}

static void check_strap(shop_loader *loader, const shop_node *map) {
    const bw_outline *o = &loader->project->layout.outline;
    double start = bw_end_takes(&o->start, o->width), end = bw_end_takes(&o->end, o->width);
    if (!(start + end > o->length + BW_EPS)) /* as it is for NAN */
        return;
    char why[WHY], taken[48], length[48];
    shop_show_length(start + end, loader->project->units, taken, sizeof taken);
    shop_show_length(o->length, loader->project->units, length, sizeof length);
    snprintf(why, sizeof why,
             "the ends take %s of the length (a round one half the width, a point its own length); allowed: at most "
             "the length, %s",
             taken, length);
    shop_check_error(loader, map, end > start ? "end" : "start", "outline", why);
}

void shop_check_outline(shop_loader *loader) {
    const shop_node *root = shop_node_real(loader->text->root);
    const shop_node *map = shop_node_real(shop_map_get(root, "outline", 7, NULL));
    const shop_node *shape = shop_node_real(shop_map_get(map, "shape", 5, NULL));
    if (shop_node_says(shape, "circle"))
        check_circle(loader, map);
    if (shop_node_says(shape, "rectangle"))
        check_rectangle(loader, map);
    if (shop_node_says(shape, "strap"))
        check_strap(loader, map);
    if (!loader->outline_wrong)
        shop_check_edge(loader, map);
}
