/* What must hold between the values of a file. A value that was wrong by itself is NAN or not there, and passes. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/limits.h"
#include "shop/load.h"

void shop_check_error(shop_loader *loader, const shop_node *map, const char *key, const char *path, const char *why) {
    const shop_node *node = shop_map_get(map, key, strlen(key), NULL);
    char shown[SHOP_PATH + 16];
    snprintf(shown, sizeof shown, "%s.%s", path, key);
    shop_load_error(loader, node ? node : map, shown, why);
}

/* ---- names and ids ---- */

typedef struct named {
    const char *name;
    const shop_node *map;
    size_t index;
} named;

static int by_name(const void *a, const void *b) {
    const named *x = a, *y = b;
    int order = strcmp(x->name, y->name);
    return order ? order : x->index < y->index ? -1 : x->index > y->index;
}

static void refuse_twice(shop_loader *loader, named *all, size_t count, const char *list, const char *key) {
    if (count > 1)
        qsort(all, count, sizeof *all, by_name);
    for (size_t i = 1; i < count; i++) {
        if (strcmp(all[i].name, all[i - 1].name) != 0)
            continue;
        char path[SHOP_PATH], why[120];
        shop_item_path(path, list, all[i].index, NULL);
        snprintf(why, sizeof why, "every %s stands once; it is in line %zu already", key,
                 shop_map_get(all[i - 1].map, key, strlen(key), NULL)->line);
        shop_check_error(loader, all[i].map, key, path, why);
    }
}

static void check_names(shop_loader *loader, bool tools) {
    const shop_project *p = loader->project;
    size_t count = tools ? p->own_tools : p->layout.band_count, used = 0;
    named *all = shop_alloc(count * sizeof *all);
    if (!all) {
        shop_load_no_memory(loader);
        return;
    }
    for (size_t i = 0; i < count; i++) {
        const char *name = tools ? p->tools[i].id : p->bands[i].name;
        if (name)
            all[used++] = (named){name, tools ? loader->tool_nodes[i] : loader->band_nodes[i], i};
    }
    refuse_twice(loader, all, used, tools ? "tools" : "bands", tools ? "id" : "name");
    free(all);
}

/* ---- tools ---- */

static void check_steps(shop_loader *loader, const bw_tool *tool, const shop_node *map, const char *path) {
    if (isnan(tool->closest) && isnan(tool->usual) && isnan(tool->widest))
        return;
    bw_steps steps = bw_tool_steps(tool);
    bool wrong = steps.closest >= steps.widest || steps.closest >= steps.usual || steps.usual >= steps.widest;
    if (!wrong) /* as it is for NAN */
        return;
    char why[200], usual[32] = "not given";
    double unit = loader->project->units == SHOP_INCH ? BW_MM_PER_INCH : 1;
    if (!isnan(steps.usual))
        snprintf(usual, sizeof usual, "%.4g", steps.usual / unit);
    snprintf(why, sizeof why,
             "closest must be under usual and usual under widest; with what follows from the face they are "
             "%.4g, %s and %.4g",
             steps.closest / unit, usual, steps.widest / unit);
    shop_check_error(loader, map, "steps", path, why);
}

static void check_tool(shop_loader *loader, const bw_tool *tool, const shop_node *map, const char *path) {
    if (tool->kind == BW_BASKET) {
        bw_face face = bw_tool_face(tool);
        if (face.bar >= face.length - BW_EPS)
            shop_check_error(loader, map, "bar", path, "the bar must be under the length of the face");
        if (face.rail >= face.width / 2 - BW_EPS)
            shop_check_error(loader, map, isnan(tool->rail) ? "width" : "rail", path,
                             face.estimated_width
                                 ? "the rail must be under half the width, which is half the length if not given"
                                 : "the rail must be under half the width of the face");
    }
    if (tool->kind == BW_BASKET || tool->kind == BW_BORDER || tool->kind == BW_IRON)
        check_steps(loader, tool, map, path);
    if (tool->kind == BW_DIVIDERS && tool->least >= tool->most)
        shop_check_error(loader, map, "most", path, "the widest setting must be over the closest");
}

void shop_check_tools(shop_loader *loader) {
    const shop_project *p = loader->project;
    check_names(loader, true);
    for (size_t i = 0; i < p->own_tools; i++) {
        char path[SHOP_PATH];
        shop_item_path(path, "tools", i, p->tools[i].id);
        check_tool(loader, &p->tools[i], loader->tool_nodes[i], path);
    }
}

/* ---- bands ---- */

static void say_kinds(char why[200], const char *front, bw_kind kind, const shop_project *p) {
    const shop_field *field = shop_field_of("tools[].kind", SHOP_ANY_KIND);
    size_t used = (size_t)snprintf(why, 200, "%s; allowed: a tool of kind %s", front, field->words[kind]);
    bool first = true;
    for (size_t i = 0; i < p->layout.tool_count && used < 150; i++) {
        if (p->tools[i].kind != kind || !p->tools[i].id)
            continue;
        used += (size_t)snprintf(why + used, 200 - used, "%s%s", first ? ", such as " : ", ", p->tools[i].id);
        first = false;
    }
}

/* Looks up the tool that a key names. */
static int find_tool(shop_loader *loader, const shop_node *map, const char *path, bw_kind kind) {
    const shop_project *p = loader->project;
    const char *key = strrchr(path, '.') ? strrchr(path, '.') + 1 : path;
    const shop_node *node = shop_map_get(map, key, strlen(key), NULL), *real = shop_node_real(node);
    if (!real || real->kind != SHOP_NODE_SCALAR || shop_node_is_null(real))
        return -1;
    char why[200];
    int index = shop_tool_index(p, real->value, real->length);
    if (index >= 0 && (int)p->tools[index].kind == SHOP_NO_KIND)
        return -1; /* told already */
    if (index >= 0 && p->tools[index].kind == kind)
        return index;
    say_kinds(why,
              index >= 0            ? "this tool is of another kind"
              : loader->shop_beside ? "neither the piece nor the inventory has a tool of this id"
                                    : "the piece has no tool of this id, and no inventory was read (--inventory FILE)",
              kind, p);
    shop_load_error(loader, node, path, why);
    return -1;
}

static void check_band(shop_loader *loader, bw_band *band, const shop_node *map, const char *path) {
    bw_kind kind;
    char tool[SHOP_PATH + 8];
    snprintf(tool, sizeof tool, "%s.tool", path);
    if (bw_fill_kind(band->fill, &kind))
        band->tool = find_tool(loader, map, tool, kind);
    if (!band->guide_is_length || band->guide <= band->width + BW_EPS)
        return;
    char why[120], width[48];
    shop_show_length(band->width, loader->project->units, width, sizeof width);
    snprintf(why, sizeof why, "the guide lies within the band: 0 to its width, %s", width);
    shop_check_error(loader, map, "guide", path, why);
}

void shop_check_project(shop_loader *loader) {
    shop_project *p = loader->project;
    shop_check_outline(loader);
    check_names(loader, false);
    for (size_t i = 0; i < p->layout.band_count; i++) {
        char path[SHOP_PATH];
        shop_item_path(path, "bands", i, p->bands[i].name);
        check_band(loader, &p->bands[i], loader->band_nodes[i], path);
    }
    p->dividers = find_tool(loader, shop_node_real(loader->text->root), "dividers", BW_DIVIDERS);
    if (p->dividers >= 0)
        p->layout.grid = p->tools[p->dividers].grid;
}
