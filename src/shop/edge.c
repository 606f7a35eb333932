/* What the maths finds wrong with the edge that an outline makes, told at the value it comes from. */
#include <string.h>

#include "shop/load.h"
#include "shop/spans.h"

#define WHY 320 /* bytes of a reason */

/* Where a byte of a scalar's value stands in the file, whatever the style. Escapes in double quotes would be more than
 * one byte; there it is the start. */
static size_t byte_in_file(const shop_text *text, const shop_node *node, size_t item) {
    size_t at = node->start;
    if (node->style == SHOP_STYLE_LITERAL || node->style == SHOP_STYLE_FOLDED)
        while (at < node->end && text->bytes[at] != '\n' && text->bytes[at] != '\r')
            at++; /* the head of the block */
    else if (node->style == SHOP_STYLE_SINGLE || node->style == SHOP_STYLE_DOUBLE)
        at++;
    if (node->style == SHOP_STYLE_DOUBLE && memchr(text->bytes + at, '\\', node->end - at))
        return node->start;
    return shop_same_mark(node->value, item, text->bytes, at, node->end);
}

void shop_show_data(const char *svg, size_t length, size_t at, char out[SHOP_DATA_SHOWN]) {
    char clean[SHOP_DATA_SHOWN - 4];
    size_t shown = 0;
    while (shown < 12 && at + shown < length && svg[at + shown] != '\n' && svg[at + shown] != '\r')
        shown++;
    shop_clean(svg + at, shown, clean, sizeof clean);
    snprintf(out, SHOP_DATA_SHOWN, shown ? "'%s'" : "the end", clean);
}

static void tell_svg(shop_loader *loader, const shop_node *node, const bw_outline_fault *fault) {
    const shop_node *real = shop_node_real(node);
    const shop_text *text = loader->text;
    shop_cursor cursor;
    size_t line, column, at = fault->item < real->length ? fault->item : real->length;
    char found[SHOP_DATA_SHOWN];
    shop_cursor_init(&cursor, text->bytes + text->mark, text->length - text->mark);
    shop_cursor_line(&cursor, byte_in_file(text, real, at) - text->mark, &line, &column);
    shop_show_data(real->value, real->length, at, found);
    shop_problem_add(loader->problems, false, line, column, "outline.svg: found %s at byte %zu of the path data; %s",
                     found, at + 1, fault->why);
}

static void say_crossing(const shop_loader *loader, const bw_outline_fault *fault, char why[WHY]) {
    char words[4][48];
    const bw_outline *o = &loader->project->layout.outline;
    bool drawn = o->shape == BW_PATH; /* its y is told as it is written: down */
    const double lengths[4] = {fault->at.x, drawn ? 0 - fault->at.y : fault->at.y, fault->along[0], fault->along[1]};
    for (int i = 0; i < 4; i++)
        shop_show_length(lengths[i], loader->project->units, words[i], sizeof words[i]);
    if (drawn && o->scale != 1)
        for (int i = 0; i < 2; i++)
            snprintf(words[i], sizeof words[i], "%.6g", lengths[i] / o->scale);
    bool once = strcmp(words[2], words[3]) == 0;
    snprintf(why, WHY, "the edge crosses or touches itself at x %s, y %s%s, %s%s%s along it; it may not meet itself",
             words[0], words[1], drawn && o->scale != 1 ? " in the drawing" : "", words[2], once ? "" : " and again ",
             once ? "" : words[3]);
}

static void tell_corner(shop_loader *loader, const shop_node *corners, const bw_outline_fault *fault) {
    const bw_outline *o = &loader->project->layout.outline;
    const shop_unit unit = loader->project->units;
    const shop_node *node = shop_list_item(shop_node_real(corners), fault->item);
    const double lengths[4] = {o->corners[fault->item].radius, fault->along[0], fault->along[1], fault->most};
    char path[SHOP_PATH], why[WHY], words[4][48];
    for (int i = 0; i < 4; i++)
        shop_show_length(lengths[i], unit, words[i], sizeof words[i]);
    snprintf(path, sizeof path, "outline.corners[%zu]", fault->item + 1);
    snprintf(
        why, sizeof why,
        "a rounding of %s does not fit: with its neighbour's it needs %s of a side of %s; allowed beside the others: "
        "at most %s",
        words[0], words[1], words[2], words[3]);
    shop_load_error(loader, node, path, why);
}

static void tell_fault(shop_loader *loader, const shop_node *map, const bw_outline_fault *fault) {
    const char *key = loader->project->layout.outline.shape == BW_PATH ? "svg" : "corners";
    const shop_node *node = shop_map_get(map, key, strlen(key), NULL);
    char why[WHY] = "with these sizes there is no edge that can be planned; allowed: lengths of 1 to 5000 mm";
    if (fault->what == BW_TROUBLE_SVG && node) {
        tell_svg(loader, node, fault);
        return;
    }
    if (fault->what == BW_TROUBLE_CORNER && node) {
        tell_corner(loader, node, fault);
        return;
    }
    if (fault->what == BW_TROUBLE_CROSSING)
        say_crossing(loader, fault, why);
    if (fault->what == BW_TROUBLE_FEW)
        snprintf(why, sizeof why, "%s",
                 strcmp(key, "svg") == 0 ? "the path has no length; there is no edge to follow"
                                         : "all corners lie on one spot; there is no edge to "
                                           "follow");
    if (node)
        shop_check_error(loader, map, key, "outline", why);
    else
        shop_load_error(loader, map, "outline", why);
}

void shop_check_edge(shop_loader *loader, const shop_node *map) {
    const bw_allocator memory = {.resize = shop_maths_resize};
    bw_outline_fault fault = {.what = BW_TROUBLE_NONE};
    bw_status status = bw_outline_check(&loader->project->layout.outline, &memory, &fault);
    if (status == BW_NO_MEMORY)
        shop_load_no_memory(loader);
    else if (status != BW_OK)
        tell_fault(loader, map, &fault);
}
