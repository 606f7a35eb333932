/* The values that only an outline has: ends of a strap, corners of a polygon, path data. */
#include <string.h>
#include <strings.h>

#include "bandwright/limits.h"
#include "shop/holder.h"

/* ---- the ends of a strap ---- */

bool shop_hold_end(shop_holder *h) {
    static const char *const words[] = {"square", "round", NULL}; /* as bw_end_kind */
    int index;
    if (!shop_parse_word(h->node->value, h->node->length, words, &index, h->why)) {
        snprintf(h->why, sizeof h->why, SHOP_END_ALLOWED);
        return false;
    }
    *(bw_end *)(void *)h->place = (bw_end){.kind = (bw_end_kind)index};
    return true;
}

static void point_length(shop_holder *h, const shop_node *node) {
    const shop_node *real = shop_node_real(node);
    shop_field length = *h->field;
    const shop_field *field = h->field;
    double value;
    length.type = SHOP_TYPE_LENGTH;
    h->field = &length;
    bool single = real->kind == SHOP_NODE_SCALAR && !shop_node_is_null(real);
    if (!single)
        snprintf(h->why, sizeof h->why, "the length of the point must stand here, such as {point: 30}");
    if (single && shop_hold_double(h, real, &value))
        *(bw_end *)(void *)h->place = (bw_end){.kind = BW_END_POINT, .point = value};
    else
        shop_hold_refuse(h, node);
    h->field = field;
}

void shop_hold_point(shop_holder *h) {
    const char *whole = h->path;
    bool found = false;
    for (const shop_node *key = h->node->child; key; key = key->next->next) {
        const shop_node *real = shop_node_real(key);
        char name[48], path[SHOP_PATH];
        bool plain = real->kind == SHOP_NODE_SCALAR;
        shop_clean(plain ? real->value : "?", plain ? real->length : 1, name, sizeof name);
        snprintf(path, sizeof path, "%s.%s", whole, name);
        h->path = path;
        if (shop_node_says(real, "point")) {
            found = true;
            point_length(h, key->next);
        } else
            shop_load_unknown(h->loader, key, path);
        h->path = whole;
    }
    if (found)
        return;
    snprintf(h->why, sizeof h->why, SHOP_END_ALLOWED);
    shop_hold_refuse(h, h->node);
}

/* ---- the corners of a polygon ---- */

static const shop_field place_part = {.type = SHOP_TYPE_LENGTH, .least = -BW_PLACE_MOST, .most = BW_PLACE_MOST};
static const shop_field radius_part = {.type = SHOP_TYPE_LENGTH, .least = BW_CORNER_LEAST, .most = BW_OUTLINE_MOST};

/* x, y or radius of the corner that h->path names. */
static void corner_part(shop_holder *h, const shop_node *node, size_t part, double *value) {
    static const char *const what[] = {"x", "y", "the radius"};
    const shop_node *real = shop_node_real(node);
    const char *whole = h->path;
    char path[SHOP_PATH + 24];
    snprintf(path, sizeof path, "%s[%zu]", whole, part + 1);
    h->path = path;
    h->field = part == 2 ? &radius_part : &place_part;
    bool single = real->kind == SHOP_NODE_SCALAR && !shop_node_is_null(real);
    if (!single)
        snprintf(h->why, sizeof h->why, "%s of the corner must stand here, a length", what[part]);
    if (!single || !shop_hold_double(h, real, value))
        shop_hold_refuse(h, node);
    h->path = whole;
}

static void one_corner(shop_holder *h, const shop_node *node, bw_corner *corner) {
    const shop_node *real = shop_node_real(node);
    double parts[3] = {0, 0, 0};
    if (real->kind != SHOP_NODE_LIST || real->count < 2 || real->count > 3) {
        snprintf(h->why, sizeof h->why, "%s; a corner is [x, y] or [x, y, radius], lengths with a decimal point",
                 real->kind != SHOP_NODE_LIST ? "no list"
                 : real->count < 2            ? "too little"
                                              : "too much");
        shop_hold_refuse(h, node);
        return;
    }
    size_t part = 0;
    for (const shop_node *at = real->child; at; at = at->next, part++)
        corner_part(h, at, part, &parts[part]);
    *corner = (bw_corner){parts[0], parts[1], parts[2]};
}

void shop_hold_corners(shop_holder *h) {
    bw_outline *outline = &h->loader->project->layout.outline;
    size_t count = h->node->count, index = 0;
    if (count < BW_CORNERS_LEAST || count > BW_CORNERS_MOST) {
        snprintf(h->why, sizeof h->why, "%zu corner%s; allowed: %d to %d", count, count == 1 ? "" : "s",
                 BW_CORNERS_LEAST, BW_CORNERS_MOST);
        shop_hold_refuse(h, h->node);
        return;
    }
    bw_corner *corners = shop_arena_list(h->loader->memory, count, sizeof *corners);
    if (!corners) {
        shop_load_no_memory(h->loader);
        return;
    }
    const char *whole = h->path;
    const shop_field *field = h->field;
    for (const shop_node *at = h->node->child; at; at = at->next, index++) {
        char path[SHOP_PATH + 24];
        snprintf(path, sizeof path, "%s[%zu]", whole, index + 1);
        h->path = path;
        one_corner(h, at, &corners[index]);
    }
    h->path = whole;
    h->field = field;
    outline->corners = corners;
    outline->corner_count = count;
}

/* ---- path data ---- */

bool shop_hold_svg(shop_holder *h) {
    if (memchr(h->node->value, '\0', h->node->length)) {
        snprintf(h->why, sizeof h->why, "path data of SVG holds no such character");
        return false;
    }
    if (h->node->length && h->node->value[0] == '@') {
        snprintf(h->why, sizeof h->why,
                 "path data begin with M; a drawing is read once, by: bandwright new FILE outline.svg=@DRAWING");
        return false;
    }
    if (h->node->length > 4 && strcasecmp(h->node->value + h->node->length - 4, ".svg") == 0) {
        snprintf(h->why, sizeof h->why,
                 "that names a drawing, which is read once, by: bandwright new FILE outline.svg=@%.40s",
                 h->node->value);
        return false;
    }
    *(const char **)(void *)h->place = h->node->value; /* lives in the text */
    return true;
}
