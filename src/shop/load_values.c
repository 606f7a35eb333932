/* One value of a file into its place, by its row of the table. */
#include <math.h>
#include <string.h>

#include "bandwright/limits.h"
#include "shop/holder.h"
#include "shop/values.h"

void shop_hold_refuse(shop_holder *h, const shop_node *node) {
    shop_load_error(h->loader, node, h->path, h->why);
}

static shop_unit units(const shop_holder *h) {
    return h->loader->project->units;
}

/* The range as the maker writes it. */
static void say_range(shop_holder *h, double value) {
    const shop_field *f = h->field;
    char least[64], most[64];
    const char *unit = "";
    double scale = 1;
    switch (f->type) {
    case SHOP_TYPE_LENGTH:
    case SHOP_TYPE_WEIGHT:
    case SHOP_TYPE_CORNER:
    case SHOP_TYPE_LENGTHS:
        unit = units(h) == SHOP_INCH ? " in" : " mm";
        scale = units(h) == SHOP_INCH ? 1 / BW_MM_PER_INCH : 1;
        break;
    case SHOP_TYPE_SHARE:
    case SHOP_TYPE_GUIDE:
        unit = " %";
        scale = 100;
        break;
    case SHOP_TYPE_ANGLE:
        unit = " degrees, but not 0";
        scale = 180 / BW_PI;
        break;
    default:
        break;
    }
    if (f->above) {
        snprintf(h->why, sizeof h->why, "allowed: any number above %.6g", f->least);
        return;
    }
    snprintf(least, sizeof least, "%.6g", f->least * scale);
    snprintf(most, sizeof most, f->most * scale < 1e6 ? "%.6g" : "%.0f", f->most * scale);
    size_t used = (size_t)snprintf(h->why, sizeof h->why, "allowed: %s to %s%s", least, most, unit);
    bool share = f->type == SHOP_TYPE_SHARE || f->type == SHOP_TYPE_GUIDE;
    if (share && h->node->kind == SHOP_NODE_SCALAR && !memchr(h->node->value, '%', h->node->length))
        snprintf(h->why + used, sizeof h->why - used, "; %.6g alone is %.6g %%, write %.6g %%", value, value * 100,
                 value);
}

static bool in_range(shop_holder *h, double value) {
    const shop_field *f = h->field;
    if (f->above && value > f->least)
        return true;
    if (!f->above && value >= f->least - BW_EPS && value <= f->most + BW_EPS &&
        (f->type != SHOP_TYPE_ANGLE || fabs(value) > BW_EPS))
        return true;
    say_range(h, value);
    return false;
}

/* Lengths, shares, angles and decimals: all doubles. */
bool shop_hold_double(shop_holder *h, const shop_node *node, double *value) {
    const char *text = node->value;
    size_t length = node->length;
    bool parsed = false;
    switch (h->field->type) {
    case SHOP_TYPE_SHARE:
        parsed = shop_parse_share(text, length, value, h->why);
        break;
    case SHOP_TYPE_ANGLE:
        parsed = shop_parse_angle(text, length, value, h->why);
        break;
    case SHOP_TYPE_DECIMAL:
        parsed = shop_parse_decimal(text, length, value, h->why);
        break;
    default:
        parsed = shop_parse_length(text, length, units(h), h->field->type == SHOP_TYPE_WEIGHT, value, h->why);
    }
    return parsed && in_range(h, *value);
}

static bool read_double(shop_holder *h) {
    double value;
    if (!shop_hold_double(h, h->node, &value))
        return false;
    *(double *)(void *)h->place = value;
    return true;
}

static bool read_number(shop_holder *h) {
    int value;
    if (!shop_parse_whole(h->node->value, h->node->length, &value, h->why) || !in_range(h, value))
        return false;
    *(int *)(void *)h->place = value;
    return true;
}

static bool read_word(shop_holder *h) {
    int value;
    if (!shop_parse_word(h->node->value, h->node->length, h->field->words, &value, h->why))
        return false;
    *(int *)(void *)h->place = value;
    return true;
}

static bool read_yes_no(shop_holder *h) {
    return shop_parse_yes_no(h->node->value, h->node->length, (bool *)h->place, h->why);
}

static bool read_name(shop_holder *h) {
    if (!shop_check_name(h->node->value, h->node->length, h->why))
        return false;
    *(const char **)(void *)h->place = h->node->value; /* lives in the text */
    return true;
}

static bool read_guide(shop_holder *h) {
    bool is_length;
    double value;
    if (!shop_parse_guide(h->node->value, h->node->length, &is_length, &value, h->why))
        return false;
    if (is_length ? value < -BW_EPS : !in_range(h, value)) {
        if (is_length)
            snprintf(h->why, sizeof h->why, "allowed: 0 %% to 100 %%, or 0 mm to the band's width");
        return false;
    }
    h->band->guide_is_length = is_length;
    h->band->guide = value;
    return true;
}

static bool one_place(shop_holder *h, const shop_node *node, bw_place *place) {
    bw_place found;
    if (!shop_parse_place(node->value, node->length, units(h), &found, h->why))
        return false;
    if (found.along < -BW_EPS || found.along > BW_LINE_MOST) {
        snprintf(h->why, sizeof h->why, "allowed: 0 to 100000 mm along the edge");
        return false;
    }
    *place = found;
    return true;
}

/* ---- lists ---- */

/* Goes through a list's items, which must be single values; `index` counts from 0. */
typedef bool (*read_item)(shop_holder *h, const shop_node *item, size_t index, void *to);

static bool read_items(shop_holder *h, read_item item, void *to) {
    size_t index = 0;
    bool good = true;
    const char *whole = h->path;
    for (const shop_node *at = h->node->child; at; at = at->next, index++) {
        const shop_node *real = shop_node_real(at);
        char path[SHOP_PATH + 24];
        snprintf(path, sizeof path, "%s[%zu]", whole, index + 1);
        h->path = path;
        bool single = real->kind == SHOP_NODE_SCALAR && !shop_node_is_null(real);
        if (!single)
            snprintf(h->why, sizeof h->why, "a single value must stand here");
        if (!single || !item(h, real, index, to)) {
            shop_hold_refuse(h, at->kind == SHOP_NODE_ALIAS ? at : real);
            good = false;
        }
    }
    h->path = whole;
    return good;
}

static bool place_item(shop_holder *h, const shop_node *item, size_t index, void *to) {
    return one_place(h, item, (bw_place *)to + index);
}

static bool count_item(shop_holder *h, const shop_node *item, size_t index, void *to) {
    return shop_parse_count(item->value, item->length, (int *)to + index, h->why);
}

static bool corner_item(shop_holder *h, const shop_node *item, size_t index, void *to) {
    double value;
    if (!shop_hold_double(h, item, &value))
        return false;
    if (index < 4)
        ((double *)to)[index] = value;
    return true;
}

static bool length_item(shop_holder *h, const shop_node *item, size_t index, void *to) {
    return shop_hold_double(h, item, (double *)to + index);
}

static bool path_item(shop_holder *h, const shop_node *item, size_t index, void *to) {
    (void)h;
    ((shop_string *)to)[index] = (shop_string){item->value, item->length};
    return true;
}

/* Items into new memory; NULL with an error told, or without memory. */
static void *new_items(shop_holder *h, size_t size, read_item item) {
    void *list = shop_arena_list(h->loader->memory, h->node->count, size);
    if (!list)
        shop_load_no_memory(h->loader);
    return list && read_items(h, item, list) ? list : NULL;
}

static void read_list(shop_holder *h) {
    shop_project *project = h->loader->project;
    void *list;
    switch (h->field->type) {
    case SHOP_TYPE_PLACES:
        if (h->node->count == 0 || !(list = new_items(h, sizeof(bw_place), place_item)))
            return;
        h->band->anchors = list;
        h->band->anchor_count = h->node->count;
        return;
    case SHOP_TYPE_COUNT:
        if (h->node->count == 0 || !(list = new_items(h, sizeof(int), count_item)))
            return;
        h->band->counts = list;
        h->band->count_runs = h->node->count;
        return;
    case SHOP_TYPE_PATHS:
        if (!(list = new_items(h, sizeof(shop_string), path_item)))
            return;
        project->fixed = list;
        project->fixed_count = h->node->count;
        return;
    case SHOP_TYPE_CORNERS:
        shop_hold_corners(h);
        return;
    case SHOP_TYPE_LENGTHS:
        if (h->node->count == 0 || !(list = new_items(h, sizeof(double), length_item)))
            return;
        h->target->strip->places = list;
        h->target->strip->place_count = h->node->count;
        return;
    case SHOP_TYPE_LIST:
        shop_hold_maps(h);
        return;
    case SHOP_TYPE_CORNER:
        if (h->node->count != 4) {
            snprintf(h->why, sizeof h->why, "one radius, or a list of four from bottom left on, counter-clockwise");
            shop_hold_refuse(h, h->node);
            return;
        }
        read_items(h, corner_item, h->place);
        return;
    default:
        return;
    }
}

/* One radius for all corners. */
static bool read_radius(shop_holder *h) {
    double radius;
    if (!shop_hold_double(h, h->node, &radius))
        return false;
    for (int i = 0; i < 4; i++)
        ((double *)(void *)h->place)[i] = radius;
    return true;
}

/* Where a single value stands for what can only be a list. */
static bool refuse_single(shop_holder *h) {
    static const char *const such[] = {
        [SHOP_TYPE_CORNERS] = "a list of corners must stand here, such as [[0, 0], [60, 0], [60, 40, 5]]",
        [SHOP_TYPE_PLACES] = "a list must stand here, such as [bottom, top]",
        [SHOP_TYPE_PATHS] = "a list must stand here, such as [outline.diameter]",
        [SHOP_TYPE_LIST] = "a list must stand here, such as [{impressions: 10, length: 67.5}]",
        [SHOP_TYPE_LENGTHS] = "a list of lengths must stand here, such as [7.5, 15.1, 22.4]",
    };
    size_t type = h->field->type;
    bool known = type < sizeof such / sizeof such[0] && such[type];
    snprintf(h->why, sizeof h->why, "%s", known ? such[type] : "a list must stand here");
    return false;
}

static bool read_one(shop_holder *h) {
    const char *text = h->node->value;
    size_t length = h->node->length;
    switch (h->field->type) {
    case SHOP_TYPE_FORMAT: /* read before everything else */
    case SHOP_TYPE_TOOL:   /* looked up when all tools are there */
        return true;
    case SHOP_TYPE_TEXT:
        *(shop_string *)(void *)h->place = (shop_string){text, length};
        return true;
    case SHOP_TYPE_NAME:
        return read_name(h);
    case SHOP_TYPE_WORD:
        return read_word(h);
    case SHOP_TYPE_YES_NO:
        return read_yes_no(h);
    case SHOP_TYPE_NUMBER:
        return read_number(h);
    case SHOP_TYPE_LENGTH:
    case SHOP_TYPE_WEIGHT:
    case SHOP_TYPE_SHARE:
    case SHOP_TYPE_ANGLE:
    case SHOP_TYPE_DECIMAL:
        return read_double(h);
    case SHOP_TYPE_PLACE:
        return one_place(h, h->node, (bw_place *)(void *)h->place);
    case SHOP_TYPE_GUIDE:
        return read_guide(h);
    case SHOP_TYPE_COUNT:
        return shop_parse_count(text, length, &h->band->count, h->why);
    case SHOP_TYPE_LOSE:
        return shop_parse_lose(text, length, &h->band->lose, &h->band->lose_last, h->why);
    case SHOP_TYPE_CORNER:
        return read_radius(h);
    case SHOP_TYPE_END:
        return shop_hold_end(h);
    case SHOP_TYPE_SVG:
        return shop_hold_svg(h);
    case SHOP_TYPE_LIST:
    case SHOP_TYPE_LENGTHS:
    case SHOP_TYPE_CORNERS:
    case SHOP_TYPE_PLACES:
    case SHOP_TYPE_PATHS:
        break;
    }
    return refuse_single(h);
}

static char *place_of(const shop_loader *loader, const shop_field *field, const shop_target *target) {
    bool text = field->type == SHOP_TYPE_TEXT;
    char *base = NULL;
    switch (field->owner) {
    case SHOP_OF_PROJECT:
        base = (char *)loader->project;
        break;
    case SHOP_OF_RATES:
        base = (char *)&loader->project->rates;
        break;
    case SHOP_OF_BAND:
        base = text ? (char *)target->band_about : (char *)target->band;
        break;
    case SHOP_OF_TOOL:
        base = text ? (char *)target->tool_about : (char *)target->tool;
        break;
    case SHOP_OF_STRIP:
        base = text ? (char *)target->strip_about : (char *)target->strip;
        break;
    case SHOP_OF_STRUCK:
        base = (char *)target->struck;
        break;
    }
    return base + field->offset;
}

void shop_load_value(shop_loader *loader, const shop_node *node, const shop_field *field, const char *path,
                     const shop_target *target) {
    shop_holder h = {.loader = loader,
                     .node = shop_node_real(node),
                     .field = field,
                     .path = path,
                     .band = target->band,
                     .target = target};
    h.place = place_of(loader, field, target);
    if (shop_node_is_null(h.node)) {
        if (field->type == SHOP_TYPE_TEXT || (shop_field_may_list(field) && !field->needed))
            return; /* as if it were not given */
        shop_load_error(loader, node, path, "nothing stands here; give a value or take the key out");
        return;
    }
    if (h.node->kind == SHOP_NODE_LIST && shop_field_may_list(field)) {
        read_list(&h);
        return;
    }
    if (h.node->kind == SHOP_NODE_MAP && field->type == SHOP_TYPE_END) {
        shop_hold_point(&h);
        return;
    }
    if (h.node->kind != SHOP_NODE_SCALAR && field->type == SHOP_TYPE_END)
        snprintf(h.why, sizeof h.why, SHOP_END_ALLOWED);
    else if (h.node->kind != SHOP_NODE_SCALAR)
        snprintf(h.why, sizeof h.why, "%s stands here, but %s must",
                 h.node->kind == SHOP_NODE_LIST ? "a list" : "a mapping",
                 shop_field_may_list(field) ? "a value or a list" : "a single value");
    if (h.node->kind != SHOP_NODE_SCALAR || !read_one(&h))
        shop_hold_refuse(&h, node);
}
