/* shop/text.h - a YAML text as a tree of values, each with its bytes in the file. Nothing here knows what a project is.
 */
#ifndef SHOP_TEXT_H
#define SHOP_TEXT_H

#include "shop/alloc.h"
#include "shop/shop.h"

#define SHOP_TEXT_BYTES_MOST (16u << 20)
#define SHOP_TEXT_DEPTH_MOST 64u
#define SHOP_TEXT_NODES_MOST 200000u /* also counted with every alias written out */

typedef enum shop_node_kind { SHOP_NODE_SCALAR, SHOP_NODE_LIST, SHOP_NODE_MAP, SHOP_NODE_ALIAS } shop_node_kind;
typedef enum shop_style {
    SHOP_STYLE_PLAIN,
    SHOP_STYLE_SINGLE,
    SHOP_STYLE_DOUBLE,
    SHOP_STYLE_LITERAL,
    SHOP_STYLE_FOLDED,
    SHOP_STYLE_BLOCK, /* lists and maps from here on */
    SHOP_STYLE_FLOW
} shop_style;

/* Byte spans count from the first byte of the file, a byte order mark included. A block list or map ends where its
 * last value ends, which shop_node_end finds; its own `end` lies at the next token. */
typedef struct shop_node {
    shop_node_kind kind;
    shop_style style;
    size_t full_start;           /* with anchor and tag */
    size_t start, end;           /* the value alone */
    size_t line, column, indent; /* of start: line and byte column from 1; indent in characters from 0 */
    const char *value;           /* scalar: the text; alias: the anchor's name */
    size_t length;
    const char *anchor, *tag; /* NULL if none */
    size_t uses;              /* aliases to this node's anchor */
    size_t weight;            /* values in it, aliases written out */
    size_t height;            /* lists and maps inside each other, itself counted, aliases written out */
    struct shop_node *target; /* of an alias */
    struct shop_node *parent, *child, *last, *next; /* a map's children: key, value, key, value */
    size_t count;                                   /* items, or pairs */
} shop_node;

struct shop_text {
    shop_arena *memory;
    char *bytes;
    size_t length;
    size_t mark; /* bytes of the byte order mark */
    size_t nodes;
    shop_node *root; /* NULL: nothing but comments */
};

/* The value that a node stands for: aliases followed. NULL stays NULL. */
const shop_node *shop_node_real(const shop_node *node);
/* An empty plain value, ~ or null. */
bool shop_node_is_null(const shop_node *node);
/* Value of a key (not followed through an alias), NULL if there is none; *key the key's node if wanted. */
const shop_node *shop_map_get(const shop_node *map, const char *key, size_t length, const shop_node **key_node);
const shop_node *shop_list_item(const shop_node *list, size_t index);
/* Where the bytes of a value end, trailing comments and blank lines left out (but those a block scalar includes). */
size_t shop_node_end(const shop_node *node);
bool shop_node_says(const shop_node *node, const char *text);

#endif
