/* Where a path leads in a text. */
#include <stdlib.h>
#include <string.h>

#include "shop/edit.h"

/* The item that is called so: tools by their id, all others by their name; -1 if there is none. */
static long item_called(const shop_node *list, const char *own, const char *name, size_t length) {
    long index = 0;
    for (const shop_node *at = list->child; at; at = at->next, index++) {
        const shop_node *called = shop_node_real(shop_map_get(shop_node_real(at), own, strlen(own), NULL));
        if (called && called->kind == SHOP_NODE_SCALAR && called->length == length &&
            memcmp(called->value, name, length) == 0)
            return index;
    }
    return -1;
}

static bool senseless(shop_found *found, const char *what, const char *part, size_t length) {
    char shown[64];
    shop_clean(part, length, shown, sizeof shown);
    snprintf(found->why, sizeof found->why, what, shown);
    return false;
}

/* The number in [n], 0 if it is none. */
static size_t index_in(const char *part, size_t length) {
    size_t number = 0;
    if (length < 3 || length > 9)
        return 0;
    for (size_t i = 1; i + 1 < length; i++) {
        if (part[i] < '0' || part[i] > '9')
            return 0;
        number = number * 10 + (size_t)(part[i] - '0');
    }
    return number;
}

/* One part of the path below a list. */
static bool step_list(shop_found *found, const shop_node *list, const char *own, const char *part, size_t length) {
    if (*part != '[') {
        long index = item_called(list, own, part, length);
        if (index < 0)
            return senseless(found, "there is none called '%s'", part, length);
        found->index = (size_t)index;
    } else {
        size_t number = index_in(part, length);
        if (number == 0)
            return senseless(found, "'%s' is no item; they are counted from [1]", part, length);
        if (number > list->count + 1 || (number > list->count && part[length])) {
            snprintf(found->why, sizeof found->why, "there are only %zu items", list->count);
            return false;
        }
        found->index = number - 1;
    }
    found->node = shop_list_item(list, found->index);
    return true;
}

bool shop_find(const shop_text *text, const char *path, shop_found *found) {
    *found = (shop_found){.node = text->root, .rest = ""};
    for (const char *at = path; *at;) {
        size_t length = *at == '[' ? strcspn(at, "]") + 1 : strcspn(at, ".[");
        if (length == 0 || (*at == '[' && at[length - 1] != ']'))
            return senseless(found, "'%s' is no path", at, strlen(at));
        const shop_node *here = shop_node_real(found->node);
        found->shared = found->shared || (here && (here != found->node || here->uses > 0));
        found->parent = here;
        const char *own = shop_node_says(found->key, "tools") ? "id" : "name";
        found->key = NULL;
        if (!here || shop_node_is_null(here))
            found->node = NULL;
        else if (here->kind == SHOP_NODE_LIST) {
            if (!step_list(found, here, own, at, length))
                return false;
        } else if (here->kind == SHOP_NODE_MAP && *at != '[')
            found->node = shop_map_get(here, at, length, &found->key);
        else if (here->kind == SHOP_NODE_SCALAR && *at == '[')
            return senseless(found, "a single value stands here; for '%s' give the list as a whole, such as [a, b]", at,
                             length);
        else
            return senseless(found, "there is nothing below a single value or at '%s'", at, length);
        if (!found->node && !(here && here->kind == SHOP_NODE_LIST)) {
            found->rest = at;
            return true;
        }
        at += length;
        if (*at == '.')
            at++;
    }
    const shop_node *real = shop_node_real(found->node);
    found->shared = found->shared || (real && (real != found->node || real->uses > 0));
    return true;
}

/* Flow text that can be given as it stands: one line, no comments, anchors or tags. */
static bool shows_as_it_is(const shop_text *text, const shop_node *node) {
    if (node->style != SHOP_STYLE_FLOW || text->bytes[node->start] == '\0')
        return false;
    bool bracket = text->bytes[node->start] == '{' || text->bytes[node->start] == '[';
    for (size_t i = node->start; bracket && i < node->end; i++)
        if (strchr("\r\n#&*!", text->bytes[i]))
            return false;
    return bracket;
}

char *shop_text_get(const shop_text *text, const char *path) {
    shop_found found;
    if (!shop_find(text, path, &found) || !found.node)
        return NULL;
    const shop_node *node = shop_node_real(found.node);
    if (node->kind != SHOP_NODE_SCALAR)
        return shows_as_it_is(text, node) ? shop_copy(text->bytes + node->start, node->end - node->start)
                                          : shop_write_flow(node);
    shop_buffer out = {0};
    for (size_t i = 0; i < node->length; i++) /* a NUL cannot stand in a C text */
        shop_buffer_add(&out, node->value[i] ? node->value + i : "\xEF\xBF\xBD", node->value[i] ? 1 : 3);
    return shop_buffer_take(&out, NULL);
}
