/* Lists of mappings below a tool or band: what each holds is in the table of fields. */
#include <math.h>
#include <string.h>

#include "bandwright/limits.h"
#include "shop/holder.h"

/* The mappings of a list; others are told and left out. */
static void each_map(shop_holder *h, const shop_node **maps, size_t *count) {
    size_t index = 0;
    *count = 0;
    for (const shop_node *item = h->node->child; item; item = item->next, index++) {
        const shop_node *real = shop_node_real(item);
        char path[SHOP_PATH];
        snprintf(path, sizeof path, "%.200s[%zu]", h->path, index + 1);
        if (real->kind == SHOP_NODE_MAP)
            maps[(*count)++] = real;
        else
            shop_load_error(h->loader, item, path, "keys with values must stand here, such as {impressions: 10}");
    }
}

static void item_called(const shop_holder *h, const shop_node *map, char path[SHOP_PATH]) {
    size_t index = 1;
    for (const shop_node *item = h->node->child; item && shop_node_real(item) != map; item = item->next)
        index++;
    snprintf(path, SHOP_PATH, "%.200s[%zu]", h->path, index);
}

/* ---- strips and rounds ---- */

static void check_places(shop_holder *h, const bw_strip *strip, const shop_node *map, const char *path) {
    for (size_t i = 1; i < strip->place_count; i++)
        if (strip->places[i] <= strip->places[i - 1]) {
            const shop_node *list = shop_node_real(shop_map_get(map, "places", 6, NULL));
            char shown[SHOP_PATH + 40];
            snprintf(shown, sizeof shown, "%s.places[%zu]", path, i + 1);
            shop_load_error(h->loader, shop_list_item(list, i), shown,
                            "each place is measured from the first impression, so it lies beyond the one before");
            return;
        }
}

/* Impressions and length, or places in their stead. */
static void check_strip(shop_holder *h, const bw_strip *strip, const shop_node *map, const char *path) {
    static const char *const keys[] = {"impressions", "length"};
    const shop_node *places = shop_node_real(shop_map_get(map, "places", 6, NULL));
    if (places && places->count > 0) {
        check_places(h, strip, map, path);
        return;
    }
    for (int i = 0; i < 2; i++)
        if (!shop_map_get(map, keys[i], strlen(keys[i]), NULL))
            shop_check_error(h->loader, map, keys[i], path,
                             i == 0 ? "must be given. How many impressions the strip has"
                                    : "must be given. From one point of the first impression to the same point of the "
                                      "last");
}

static void hold_strips(shop_holder *h, const shop_node **maps, size_t count, bool round) {
    bw_tool *tool = h->target->tool;
    shop_tool *about = h->target->tool_about;
    size_t before = tool->strip_count, all = before + count;
    bw_strip *strips = shop_arena_list(h->loader->memory, all, sizeof *strips);
    shop_strip *strip_about = shop_arena_list(h->loader->memory, all, sizeof *strip_about);
    unsigned kinds = 1u << tool->kind;
    if (!strips || !strip_about) {
        shop_load_no_memory(h->loader);
        return;
    }
    if (before) {
        memcpy(strips, tool->strips, before * sizeof *strips);
        memcpy(strip_about, about->strip_about, before * sizeof *strip_about);
    }
    for (size_t i = 0; i < count; i++) {
        char path[SHOP_PATH];
        shop_target target = {.strip = &strips[before + i], .strip_about = &strip_about[before + i]};
        *target.strip = (bw_strip){.aimed = NAN, .round = round};
        item_called(h, maps[i], path);
        shop_load_map(h->loader, maps[i], round ? "tools[].rounds[]" : "tools[].strips[]", path, kinds, &target);
        check_strip(h, target.strip, maps[i], path);
    }
    tool->strips = strips;
    tool->strip_count = all;
    about->strip_about = strip_about;
}

static bool keep_text(shop_loader *loader, shop_string *text) {
    if (text->bytes)
        text->bytes = shop_arena_copy(loader->memory, text->bytes, text->length);
    return text->bytes || text->length == 0;
}

bool shop_keep_strips(shop_loader *loader, bw_tool *tool, shop_tool *about) {
    bw_strip *strips = shop_arena_list(loader->memory, tool->strip_count, sizeof *strips);
    shop_strip *texts = shop_arena_list(loader->memory, tool->strip_count, sizeof *texts);
    bool good = strips && texts;
    for (size_t i = 0; good && i < tool->strip_count; i++) {
        strips[i] = tool->strips[i];
        texts[i] = about->strip_about[i];
        good = keep_text(loader, &texts[i].leather) && keep_text(loader, &texts[i].piece) &&
               keep_text(loader, &texts[i].date);
        double *places =
            good && strips[i].places ? shop_arena_list(loader->memory, strips[i].place_count, sizeof *places) : NULL;
        if (places)
            memcpy(places, strips[i].places, strips[i].place_count * sizeof *places);
        good = good && (places || !strips[i].places);
        strips[i].places = places;
    }
    tool->strips = good && tool->strip_count ? strips : NULL;
    tool->strip_count = good ? tool->strip_count : 0;
    about->strip_about = texts;
    return good;
}

/* ---- rounds of a band ---- */

static void hold_struck(shop_holder *h, const shop_node **maps, size_t count) {
    shop_struck *list = shop_arena_list(h->loader->memory, count, sizeof *list);
    unsigned kinds = 1u << h->target->band->fill;
    if (!list) {
        shop_load_no_memory(h->loader);
        return;
    }
    for (size_t i = 0; i < count; i++) {
        char path[SHOP_PATH];
        shop_target target = {.struck = &list[i]};
        list[i] = (shop_struck){.run = 1, .guide = NAN, .left = NAN, .left_before = NAN, .aimed = NAN, .took = NAN};
        item_called(h, maps[i], path);
        shop_load_map(h->loader, maps[i], "bands[].struck[]", path, kinds, &target);
    }
    h->target->band_about->struck = list;
    h->target->band_about->struck_count = count;
}

void shop_hold_maps(shop_holder *h) {
    const shop_node **maps = shop_arena_list(h->loader->memory, h->node->count, sizeof *maps);
    size_t count;
    if (!maps) {
        shop_load_no_memory(h->loader);
        return;
    }
    if (h->node->count > BW_STRIPS_MOST) {
        snprintf(h->why, sizeof h->why, "a list of up to %d must stand here", BW_STRIPS_MOST);
        shop_hold_refuse(h, h->node);
        return;
    }
    each_map(h, maps, &count);
    if (h->field->owner == SHOP_OF_BAND)
        hold_struck(h, maps, count);
    else
        hold_strips(h, maps, count, strcmp(h->field->path, "tools[].rounds") == 0);
}
