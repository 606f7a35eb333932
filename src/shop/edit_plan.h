/* shop/edit_plan.h - one change of a text, as a splice of bytes and as what it must do to the tree of values. */
#ifndef SHOP_EDIT_PLAN_H
#define SHOP_EDIT_PLAN_H

#include "shop/edit.h"

typedef enum shop_change_kind { SHOP_REPLACE, SHOP_INSERT, SHOP_REMOVE } shop_change_kind;

typedef struct shop_change {
    shop_change_kind kind;
    const shop_node *node;     /* replaced: the value; else the list or map that gains or loses an item or a pair */
    size_t index;              /* of the item or pair gained or lost */
    const shop_node *fragment; /* the new value as a tree of its own */
    const char *key;           /* of a pair gained */
    size_t key_length;
    size_t from, to; /* the bytes that go ... */
    char *bytes;     /* ... and what comes in their place, malloc'ed */
} shop_change;

/* Each works out the bytes; false if memory ran out or the text is too unusual (the reading again would refuse it).
 * `written` is the new value as YAML on one line. */
bool shop_plan_replace(const shop_text *text, shop_change *change, const char *written);
bool shop_plan_insert_pair(const shop_text *text, shop_change *change, const char *written);
bool shop_plan_insert_item(const shop_text *text, shop_change *change, const char *written);
/* A list in place of a block list (change->node): each item keeps its line and what stands between them, and only lines
 * that differ come, go or change. False too if either is no such list; change->fragment is `written` as a tree. */
bool shop_plan_lines(const shop_text *text, shop_change *change, const char *written);
bool shop_plan_remove(const shop_text *text, shop_change *change);
/* An item as the first one of a list that is empty, nothing, or (with change->key) not there: a line of its own in a
 * block map. `key_node` is the list's key where it has one. */
bool shop_plan_first_item(const shop_text *text, shop_change *change, const shop_node *key_node, const char *written);

/* The same values; a list or map may be written in the other style. */
bool shop_says_the_same(const shop_node *a, const shop_node *b);
/* Whether the tree read anew is the old one but for the change. */
bool shop_change_holds(const shop_node *before, const shop_node *after, const shop_change *change);

#endif
