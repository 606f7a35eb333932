/* differences.c - what two texts say differently, as the edits that make the second of the first. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "desk/tools.h"
#include "shop/edit.h"

typedef struct comparison {
    desk_edits *list;
    size_t depth;
} comparison;

static void compare(comparison *c, const char *path, const shop_node *from, const shop_node *to);

static bool same_scalar(const shop_node *a, const shop_node *b) {
    return a->kind == SHOP_NODE_SCALAR && b->kind == SHOP_NODE_SCALAR && a->length == b->length &&
           (a->length == 0 || memcmp(a->value, b->value, a->length) == 0);
}

/* As shop_text_get gives it: a scalar's own text, all else in flow style. */
static char *words_of(const shop_node *node) {
    return node->kind == SHOP_NODE_SCALAR ? shop_copy(node->value, node->length) : shop_write_flow(node);
}

/* A value that is another, or (NULL) that only one of them has. Takes path. */
static void differs(comparison *c, char *path, const shop_node *from, const shop_node *to) {
    size_t before = c->list->count;
    char *old_text = from != NULL ? words_of(from) : NULL, *new_text = to != NULL ? words_of(to) : NULL;
    if ((from != NULL && old_text == NULL) || (to != NULL && new_text == NULL)) {
        c->list->failed = true;
    }
    desk_edits_add(c->list, path, new_text, to == NULL);
    if (c->list->count > before) {
        c->list->edits[before].old_text = old_text;
    } else {
        free(old_text);
    }
}

static char *key_path(const char *path, const shop_node *key) {
    return desk_say("%s%s%.*s", path, path[0] != '\0' ? "." : "", (int)key->length, key->value);
}

/* told: a key whose value is compared already; NULL if there is none. */
static void compare_maps(comparison *c, const char *path, const shop_node *from, const shop_node *to,
                         const char *told) {
    for (const shop_node *key = from->child; key != NULL; key = key->next->next) {
        const shop_node *real = shop_node_real(key);
        if (real->kind == SHOP_NODE_SCALAR && shop_map_get(to, real->value, real->length, NULL) == NULL) {
            differs(c, key_path(path, real), shop_node_real(key->next), NULL);
        }
    }
    for (const shop_node *key = to->child; key != NULL; key = key->next->next) {
        const shop_node *real = shop_node_real(key), *value = shop_node_real(key->next);
        if (real->kind != SHOP_NODE_SCALAR || (told != NULL && shop_node_says(real, told))) {
            continue;
        }
        char *own = key_path(path, real);
        const shop_node *old = shop_map_get(from, real->value, real->length, NULL);
        if (own == NULL) {
            c->list->failed = true;
        } else if (old == NULL) {
            differs(c, own, NULL, value);
        } else {
            compare(c, own, shop_node_real(old), value);
            free(own);
        }
    }
}

static bool same_flow(const shop_node *a, const shop_node *b) {
    char *x = shop_write_flow(a), *y = shop_write_flow(b);
    bool same = x != NULL && y != NULL && strcmp(x, y) == 0;
    free(x);
    free(y);
    return same;
}

/* ---- bands and tools: by their names ---- */

static const shop_node *name_of(const shop_node *item, const char *key) {
    const shop_node *name = shop_node_real(shop_map_get(shop_node_real(item), key, strlen(key), NULL));
    return name != NULL && name->kind == SHOP_NODE_SCALAR && name->length > 0 ? name : NULL;
}

typedef struct named_item {
    const shop_node *node, *name;
    size_t other; /* index in the other list; SIZE_MAX: it is not there */
    bool moved;
} named_item;

static named_item *items_of(const shop_node *list, const char *key, size_t *count) {
    named_item *items = shop_alloc((list->count + 1) * sizeof *items);
    *count = 0;
    for (const shop_node *at = items == NULL ? NULL : list->child; at != NULL; at = at->next) {
        const shop_node *name = name_of(at, key);
        if (name == NULL) {
            free(items);
            return NULL; /* what has no name is compared as a whole */
        }
        items[(*count)++] = (named_item){shop_node_real(at), name, SIZE_MAX, false};
    }
    return items;
}

/* Is it the same under another name? All else is as it was, then. */
static bool same_but_name(const named_item *a, const named_item *b) {
    bool same = a->node->kind == SHOP_NODE_MAP && b->node->kind == SHOP_NODE_MAP && a->node->count == b->node->count;
    for (const shop_node *key = same ? a->node->child : NULL; key != NULL && same; key = key->next->next) {
        const shop_node *real = shop_node_real(key), *value = shop_node_real(key->next);
        const shop_node *other = shop_map_get(b->node, real->value, real->length, NULL);
        same = real->kind == SHOP_NODE_SCALAR && other != NULL &&
               (value == a->name || same_flow(value, shop_node_real(other)));
    }
    return same;
}

static void match(named_item *a, size_t a_count, named_item *b, size_t b_count) {
    for (size_t i = 0; i < a_count; i++) {
        for (size_t k = 0; k < b_count && a[i].other == SIZE_MAX; k++) {
            size_t at = (i + k) % b_count; /* most stand where they stood */
            if (b[at].other == SIZE_MAX && same_scalar(a[i].name, b[at].name)) {
                a[i].other = at;
                b[at].other = i;
            }
        }
    }
    for (size_t i = 0; a_count == b_count && i < a_count; i++) { /* another name in the same place */
        if (a[i].other == SIZE_MAX && b[i].other == SIZE_MAX && same_but_name(&a[i], &b[i])) {
            a[i].other = b[i].other = i;
        }
    }
}

/* Those that stand in another order: taken out and put in again. */
static void find_moved(named_item *a, size_t a_count, named_item *b, size_t b_count) {
    size_t at = 0;
    for (size_t i = 0; i < b_count; i++) {
        while (at < a_count && (a[at].other == SIZE_MAX || a[at].moved)) {
            at++;
        }
        if (b[i].other == SIZE_MAX || b[i].moved || at == a_count) {
            continue;
        }
        if (b[i].other == at) {
            at++;
            continue;
        }
        size_t next = at + 1;
        while (next < a_count && (a[next].other == SIZE_MAX || a[next].moved)) {
            next++;
        }
        size_t gone = next < a_count && b[i].other == next ? at : b[i].other;
        a[gone].moved = b[a[gone].other].moved = true;
        i -= gone == at; /* the same again, now that the other is out of the way */
    }
}

static char *item_path(const char *list, const shop_node *name) {
    return desk_say("%s.%.*s", list, (int)name->length, name->value);
}

static void compare_named(comparison *c, const char *path, const char *key, named_item *a, size_t a_count,
                          named_item *b, size_t b_count) {
    match(a, a_count, b, b_count);
    find_moved(a, a_count, b, b_count);
    for (size_t i = 0; i < a_count; i++) {
        if (a[i].other == SIZE_MAX || a[i].moved) {
            differs(c, item_path(path, a[i].name), a[i].node, NULL);
        }
    }
    for (size_t i = 0; i < b_count; i++) {
        if (b[i].other == SIZE_MAX || b[i].moved) {
            differs(c, desk_say("%s[%zu]", path, i + 1), NULL, b[i].node);
            continue;
        }
        const named_item *old = &a[b[i].other];
        if (!same_scalar(old->name, b[i].name)) {
            differs(c, desk_say("%s.%.*s.%s", path, (int)old->name->length, old->name->value, key), old->name,
                    b[i].name);
        }
        char *own = item_path(path, b[i].name);
        if (own == NULL) {
            c->list->failed = true;
        } else if (old->node->kind == SHOP_NODE_MAP && b[i].node->kind == SHOP_NODE_MAP) {
            compare_maps(c, own, old->node, b[i].node, key);
        }
        free(own);
    }
}

static bool compare_items(comparison *c, const char *path, const shop_node *from, const shop_node *to) {
    const char *key = strcmp(path, "bands") == 0 ? "name" : strcmp(path, "tools") == 0 ? "id" : NULL;
    if (key == NULL) {
        return false;
    }
    size_t a_count = 0, b_count = 0;
    named_item *a = items_of(from, key, &a_count), *b = items_of(to, key, &b_count);
    bool fine = a != NULL && b != NULL;
    if (fine) {
        compare_named(c, path, key, a, a_count, b, b_count);
    }
    free(a);
    free(b);
    return fine;
}

/* ---- values ---- */

static void compare(comparison *c, const char *path, const shop_node *from, const shop_node *to) {
    if (from->kind == SHOP_NODE_MAP && to->kind == SHOP_NODE_MAP && c->depth < SHOP_TEXT_DEPTH_MOST) {
        c->depth++;
        compare_maps(c, path, from, to, NULL);
        c->depth--;
    } else if (from->kind == SHOP_NODE_LIST && to->kind == SHOP_NODE_LIST && compare_items(c, path, from, to)) {
        return;
    } else if (from->kind == SHOP_NODE_SCALAR ? !same_scalar(from, to) : !same_flow(from, to)) {
        differs(c, shop_copy(path, strlen(path)), from, to);
    }
}

bool desk_text_edits(const shop_text *from, const shop_text *to, shop_edit **edits, size_t *count) {
    desk_edits list = {0};
    comparison c = {&list, 0};
    const shop_node *a = shop_node_real(from->root), *b = shop_node_real(to->root);
    if (a != NULL && b != NULL && a->kind == SHOP_NODE_MAP && b->kind == SHOP_NODE_MAP) {
        compare_maps(&c, "", a, b, NULL);
    }
    *edits = list.edits;
    *count = list.count;
    if (list.failed) {
        desk_edits_free(list.edits, list.count);
        *edits = NULL;
        *count = 0;
    }
    return !list.failed;
}
