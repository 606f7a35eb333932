/* Small questions to the tree of values. */
#include <string.h>

#include "shop/text.h"

const shop_node *shop_node_real(const shop_node *node) {
    return node && node->kind == SHOP_NODE_ALIAS ? node->target : node;
}

bool shop_node_says(const shop_node *node, const char *text) {
    return node && node->kind == SHOP_NODE_SCALAR && node->length == strlen(text) &&
           memcmp(node->value, text, node->length) == 0;
}

bool shop_node_is_null(const shop_node *node) {
    return node && node->kind == SHOP_NODE_SCALAR && node->style == SHOP_STYLE_PLAIN && !node->tag &&
           (node->length == 0 || shop_node_says(node, "~") || shop_node_says(node, "null"));
}

const shop_node *shop_map_get(const shop_node *map, const char *key, size_t length, const shop_node **key_node) {
    if (!map || map->kind != SHOP_NODE_MAP)
        return NULL;
    for (const shop_node *at = map->child; at; at = at->next->next) {
        const shop_node *real = shop_node_real(at);
        if (real->kind != SHOP_NODE_SCALAR || real->length != length)
            continue;
        if (length && memcmp(real->value, key, length) != 0)
            continue;
        if (key_node)
            *key_node = at;
        return at->next;
    }
    return NULL;
}

const shop_node *shop_list_item(const shop_node *list, size_t index) {
    if (!list || list->kind != SHOP_NODE_LIST)
        return NULL;
    const shop_node *item = list->child;
    while (item && index--)
        item = item->next;
    return item;
}

size_t shop_node_end(const shop_node *node) {
    while (node->style == SHOP_STYLE_BLOCK && node->last)
        node = node->last;
    return node->end;
}
