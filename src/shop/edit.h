/* shop/edit.h - changing a text: how values are written, where a path leads, and the bytes that change. */
#ifndef SHOP_EDIT_H
#define SHOP_EDIT_H

#include "shop/text.h"

/* A scalar as YAML on one line: in the wanted style where that can hold it, else quoted. `flow`: inside [] or {}.
 * `text_field`: a value that must stay a text even if it looks like a number or yes. NULL without memory, or if bytes
 * are not UTF-8. malloc'ed. */
char *shop_write_scalar(const char *bytes, size_t length, shop_style style, bool flow, bool text_field);
/* A value and all below it in flow style on one line, aliases written out. malloc'ed. */
char *shop_write_flow(const shop_node *node);
/* The same of what is called `path` in the table of fields ("tools[]"), from a file of this unit for one of another:
 * each length without a unit gets this one. */
char *shop_write_flow_units(const shop_node *node, const char *path, shop_unit unit);

/* Where a path leads. */
typedef struct shop_found {
    const shop_node *node;   /* the value; NULL if it is not there */
    const shop_node *key;    /* its key, in a map */
    const shop_node *parent; /* the deepest map or list on the way */
    size_t index;            /* in a list: of the item, from 0; the list's count if one could be added */
    const char *rest;        /* the part of the path that is not there, without a leading point */
    bool shared;             /* the way goes through an alias, or a value that aliases repeat */
    char why[160];           /* if the path makes no sense here */
} shop_found;

/* False with .why if the path cannot be followed as far as it would need to be. */
bool shop_find(const shop_text *text, const char *path, shop_found *found);

/* Edits one scalar wherever it stands, a key or a value: what shop_text_edit does once it has found it. */
bool shop_replace_scalar(const shop_text *text, const shop_node *node, const char *value, char **bytes, size_t *length,
                         shop_problems *problems);

#endif
