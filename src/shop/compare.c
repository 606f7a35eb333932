/* The second reading: an edit must have changed what it was meant to change, and nothing else. */
#include <string.h>

#include "shop/edit_plan.h"

static bool same_text(const char *a, const char *b) {
    return a == b || (a && b && strcmp(a, b) == 0);
}

static bool same_scalar(const shop_node *a, const shop_node *b) {
    return a->length == b->length && (a->length == 0 || memcmp(a->value, b->value, a->length) == 0);
}

bool shop_says_the_same(const shop_node *a, const shop_node *b) {
    if (a->kind != b->kind || b->anchor || b->tag)
        return false;
    if (a->kind == SHOP_NODE_SCALAR)
        return a->style == b->style && same_scalar(a, b);
    const shop_node *x = a->child, *y = b->child;
    for (; x && y; x = x->next, y = y->next)
        if (!shop_says_the_same(x, y))
            return false;
    return !x && !y;
}

static bool same_properties(const shop_node *a, const shop_node *b) {
    return same_text(a->anchor, b->anchor) && same_text(a->tag, b->tag);
}

/* The pair or item that came in; *at moves behind it. */
static bool came_in(const shop_node **at, const shop_change *change) {
    const shop_node *node = *at;
    if (change->node->kind == SHOP_NODE_MAP) {
        if (!node || node->kind != SHOP_NODE_SCALAR || node->length != change->key_length ||
            memcmp(node->value, change->key, node->length) != 0)
            return false;
        node = node->next;
    }
    if (!node || !shop_says_the_same(change->fragment, node))
        return false;
    *at = node->next;
    return true;
}

static bool same_children(const shop_node *before, const shop_node *after, const shop_change *change) {
    bool here = before == change->node && change->kind != SHOP_REPLACE;
    size_t step = before->kind == SHOP_NODE_MAP ? 2 : 1, place = 0;
    const shop_node *x = before->child, *y = after->child;
    for (;; place++) {
        if (here && place == change->index * step) {
            if (change->kind == SHOP_INSERT && !came_in(&y, change))
                return false;
            for (size_t i = 0; change->kind == SHOP_REMOVE && i < step; i++)
                x = x->next;
        }
        if (!x || !y)
            return !x && !y;
        if (!shop_change_holds(x, y, change))
            return false;
        x = x->next;
        y = y->next;
    }
}

bool shop_change_holds(const shop_node *before, const shop_node *after, const shop_change *change) {
    if (!before || !after)
        return before == after;
    if (change->kind == SHOP_REPLACE && before == change->node) {
        if (!same_properties(before, after))
            return false;
        shop_node bare = *after;
        bare.anchor = bare.tag = NULL;
        return shop_says_the_same(change->fragment, &bare);
    }
    if (before->kind != after->kind || before->style != after->style || !same_properties(before, after))
        return false;
    if (before->kind == SHOP_NODE_SCALAR || before->kind == SHOP_NODE_ALIAS)
        return same_scalar(before, after);
    return same_children(before, after, change);
}
