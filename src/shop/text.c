/* From bytes to a tree of values: the YAML reader's events, counted and limited by ourselves, since the reader limits
 * neither depth nor aliases and lets duplicate keys pass. */
#include "shop/text.h"

#include <stdlib.h>
#include <string.h>
#include <yaml.h>

#include "shop/characters.h"
#include "shop/problems.h"
#include "shop/spans.h"

typedef struct shop_anchor {
    const char *name;
    shop_node *node;
    struct shop_anchor *next;
} shop_anchor;

typedef struct builder {
    shop_text *text;
    shop_problems *problems;
    shop_cursor cursor; /* without the byte order mark, as the reader sees it */
    shop_node *open;    /* the innermost list or map not yet ended */
    size_t depth;
    shop_anchor *anchors; /* the latest first */
    size_t anchor_count;
    bool stop;
} builder;

#define ANCHORS_MOST 1000 /* looking one up is linear */

static void fail_at_byte(builder *b, size_t byte, const char *what) {
    size_t line, column;
    shop_cursor_line(&b->cursor, byte, &line, &column);
    shop_problem_add(b->problems, false, line, column, "%s", what);
    b->stop = true;
}

static void no_memory(builder *b) {
    shop_problem_add(b->problems, false, 0, 0, "out of memory");
    b->stop = true;
}

static shop_node *add_node(builder *b, shop_node_kind kind, const yaml_event_t *event) {
    if (++b->text->nodes > SHOP_TEXT_NODES_MOST) {
        fail_at_byte(b, shop_cursor_byte(&b->cursor, event->start_mark.index), "more than 200,000 values");
        return NULL;
    }
    shop_node *node = shop_arena_get(b->text->memory, sizeof *node);
    if (!node) {
        no_memory(b);
        return NULL;
    }
    node->kind = kind;
    node->weight = 1;
    node->full_start = node->start = shop_cursor_byte(&b->cursor, event->start_mark.index);
    node->indent = event->start_mark.column;
    shop_node *parent = node->parent = b->open;
    if (!parent) {
        b->text->root = node;
        return node;
    }
    if (parent->last)
        parent->last->next = node;
    else
        parent->child = node;
    parent->last = node;
    parent->count++; /* a map's is halved when it ends */
    return node;
}

static const char *keep(builder *b, const void *bytes, size_t length) {
    const char *copy = shop_arena_copy(b->text->memory, bytes, length);
    if (!copy)
        no_memory(b);
    return copy;
}

static bool known_tag(const char *tag) {
    static const char *const known[] = {"!",          YAML_NULL_TAG,  YAML_BOOL_TAG, YAML_STR_TAG,
                                        YAML_INT_TAG, YAML_FLOAT_TAG, YAML_SEQ_TAG,  YAML_MAP_TAG};
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++)
        if (strcmp(tag, known[i]) == 0)
            return true;
    return false;
}

/* Anchor and tag of a new node; its start moves behind them. */
static void add_properties(builder *b, shop_node *node, const yaml_char_t *anchor, const yaml_char_t *tag, bool empty) {
    const shop_cursor *all = &b->cursor;
    if (anchor || tag) {
        node->start = shop_skip_properties(all->bytes, all->length, node->full_start, anchor != NULL, tag != NULL);
        if (!empty)
            node->start = shop_skip_space(all->bytes, all->length, node->start);
    }
    shop_cursor_line(&b->cursor, node->start, &node->line, &node->column);
    if (tag) {
        node->tag = keep(b, tag, strlen((const char *)tag));
        if (node->tag && !known_tag(node->tag))
            shop_problem_add(b->problems, false, node->line, node->column, "unknown tag; leave it out");
    }
    if (!anchor)
        return;
    if (b->anchor_count++ >= ANCHORS_MOST) {
        fail_at_byte(b, node->start, "more than 1,000 anchors");
        return;
    }
    shop_anchor *entry = shop_arena_get(b->text->memory, sizeof *entry);
    node->anchor = keep(b, anchor, strlen((const char *)anchor));
    if (!entry || !node->anchor) {
        if (!entry)
            no_memory(b);
        return;
    }
    *entry = (shop_anchor){.name = node->anchor, .node = node, .next = b->anchors};
    b->anchors = entry;
}

/* Size and depth with every alias written out: what walks the tree later is bounded by them. */
static void add_weight(builder *b, shop_node *node) {
    if (!node->parent)
        return;
    node->parent->weight += node->weight;
    if (node->height + 1 > node->parent->height)
        node->parent->height = node->height + 1;
    if (node->parent->weight > SHOP_TEXT_NODES_MOST)
        fail_at_byte(b, node->start, "aliases that would make more than 200,000 values of it");
    else if (b->depth + node->height > SHOP_TEXT_DEPTH_MOST)
        fail_at_byte(b, node->start, "more than 64 lists and mappings inside each other, aliases written out");
}

static void on_alias(builder *b, const yaml_event_t *event) {
    shop_node *node = add_node(b, SHOP_NODE_ALIAS, event);
    if (!node)
        return;
    const char *name = (const char *)event->data.alias.anchor;
    shop_cursor_line(&b->cursor, node->start, &node->line, &node->column);
    node->end = shop_cursor_byte(&b->cursor, event->end_mark.index);
    node->length = strlen(name);
    node->value = keep(b, name, node->length);
    for (shop_anchor *a = b->anchors; a && !node->target; a = a->next)
        if (strcmp(a->name, name) == 0)
            node->target = a->node;
    if (!node->target) {
        fail_at_byte(b, node->start, "an alias to an anchor that is not there");
        return;
    }
    for (const shop_node *open = b->open; open; open = open->parent)
        if (open == node->target) {
            fail_at_byte(b, node->start, "an alias to the value that it stands in");
            return;
        }
    node->target->uses++;
    node->weight = node->target->weight;
    node->height = node->target->height;
    add_weight(b, node);
}

static void on_scalar(builder *b, const yaml_event_t *event) {
    shop_node *node = add_node(b, SHOP_NODE_SCALAR, event);
    if (!node)
        return;
    size_t length = event->data.scalar.length;
    switch (event->data.scalar.style) {
    case YAML_SINGLE_QUOTED_SCALAR_STYLE:
        node->style = SHOP_STYLE_SINGLE;
        break;
    case YAML_DOUBLE_QUOTED_SCALAR_STYLE:
        node->style = SHOP_STYLE_DOUBLE;
        break;
    case YAML_LITERAL_SCALAR_STYLE:
        node->style = SHOP_STYLE_LITERAL;
        break;
    case YAML_FOLDED_SCALAR_STYLE:
        node->style = SHOP_STYLE_FOLDED;
        break;
    default:
        node->style = SHOP_STYLE_PLAIN;
        break;
    }
    node->value = keep(b, event->data.scalar.value, length);
    node->length = length;
    bool empty = node->style == SHOP_STYLE_PLAIN && length == 0;
    node->end = shop_cursor_byte(&b->cursor, event->end_mark.index);
    add_properties(b, node, event->data.scalar.anchor, event->data.scalar.tag, empty);
    if (node->end < node->start)
        node->end = node->start;
    add_weight(b, node);
}

static void on_start(builder *b, const yaml_event_t *event) {
    bool list = event->type == YAML_SEQUENCE_START_EVENT;
    shop_node *node = add_node(b, list ? SHOP_NODE_LIST : SHOP_NODE_MAP, event);
    if (!node)
        return;
    bool flow = list ? event->data.sequence_start.style == YAML_FLOW_SEQUENCE_STYLE
                     : event->data.mapping_start.style == YAML_FLOW_MAPPING_STYLE;
    node->style = flow ? SHOP_STYLE_FLOW : SHOP_STYLE_BLOCK;
    add_properties(b, node, list ? event->data.sequence_start.anchor : event->data.mapping_start.anchor,
                   list ? event->data.sequence_start.tag : event->data.mapping_start.tag, false);
    if (++b->depth > SHOP_TEXT_DEPTH_MOST)
        fail_at_byte(b, node->start, "more than 64 lists and mappings inside each other");
    node->height = 1;
    b->open = node;
}

static int by_bytes(const void *a, const void *b) {
    const shop_node *x = *(const shop_node *const *)a, *y = *(const shop_node *const *)b;
    size_t shorter = x->length < y->length ? x->length : y->length;
    int order = shorter ? memcmp(x->value, y->value, shorter) : 0;
    if (order)
        return order;
    if (x->length != y->length)
        return x->length < y->length ? -1 : 1;
    return x->start < y->start ? -1 : x->start > y->start;
}

static bool same_key(const shop_node *a, const shop_node *b) {
    return a->length == b->length && (a->length == 0 || memcmp(a->value, b->value, a->length) == 0);
}

/* The reader lets a key stand twice; we do not, since one of the two would silently be lost. */
static void refuse_duplicates(builder *b, const shop_node *map) {
    if (map->count < 2)
        return;
    const shop_node **keys = shop_alloc(map->count * sizeof *keys);
    if (!keys) {
        no_memory(b);
        return;
    }
    size_t count = 0;
    for (shop_node *key = map->child; key; key = key->next->next) {
        const shop_node *real = shop_node_real(key);
        if (real->kind == SHOP_NODE_SCALAR)
            keys[count++] = real;
    }
    qsort(keys, count, sizeof *keys, by_bytes);
    for (size_t i = 1; i < count; i++) {
        if (!same_key(keys[i - 1], keys[i]))
            continue;
        char shown[64];
        shop_clean(keys[i]->value, keys[i]->length, shown, sizeof shown);
        shop_problem_add(b->problems, false, keys[i]->line, keys[i]->column,
                         "the key '%s' stands here a second time; the one before is in line %zu", shown,
                         keys[i - 1]->line);
    }
    free(keys);
}

static void on_end(builder *b, const yaml_event_t *event) {
    shop_node *node = b->open;
    node->end = shop_cursor_byte(&b->cursor, event->end_mark.index);
    b->depth--;
    b->open = node->parent;
    if (node->kind == SHOP_NODE_MAP) {
        node->count /= 2;
        refuse_duplicates(b, node);
    }
    add_weight(b, node);
}

static void on_event(builder *b, const yaml_event_t *event, size_t *documents) {
    switch (event->type) {
    case YAML_DOCUMENT_START_EVENT:
        if (++*documents > 1)
            fail_at_byte(b, shop_cursor_byte(&b->cursor, event->start_mark.index),
                         "a second document; a file holds one");
        break;
    case YAML_ALIAS_EVENT:
        on_alias(b, event);
        break;
    case YAML_SCALAR_EVENT:
        on_scalar(b, event);
        break;
    case YAML_SEQUENCE_START_EVENT:
    case YAML_MAPPING_START_EVENT:
        on_start(b, event);
        break;
    case YAML_SEQUENCE_END_EVENT:
    case YAML_MAPPING_END_EVENT:
        on_end(b, event);
        break;
    default:
        break;
    }
}

static void tell_reader_error(builder *b, const yaml_parser_t *parser) {
    if (parser->error == YAML_MEMORY_ERROR) {
        no_memory(b);
        return;
    }
    char what[200];
    if (parser->error == YAML_READER_ERROR) { /* has no mark, but the byte */
        snprintf(what, sizeof what, "this is no readable text: %s", parser->problem);
        fail_at_byte(b, parser->problem_offset, what);
        return;
    }
    bool context = parser->context != NULL;
    snprintf(what, sizeof what, "this is no YAML: %s%s%s", parser->problem ? parser->problem : "cannot be read",
             context ? ", " : "", context ? parser->context : "");
    fail_at_byte(b, shop_cursor_byte(&b->cursor, parser->problem_mark.index), what);
}

/* False if the text cannot be used at all. */
static bool read_events(builder *b) {
    yaml_parser_t parser;
    if (!yaml_parser_initialize(&parser)) {
        no_memory(b);
        return false;
    }
    yaml_parser_set_encoding(&parser, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&parser, (const unsigned char *)b->cursor.bytes, b->cursor.length);
    size_t documents = 0;
    bool ended = false, second = false;
    while (!ended && !b->stop) {
        yaml_event_t event;
        if (!yaml_parser_parse(&parser, &event)) {
            tell_reader_error(b, &parser);
            break;
        }
        ended = event.type == YAML_STREAM_END_EVENT;
        on_event(b, &event, &documents);
        second = documents > 1;
        yaml_event_delete(&event);
    }
    yaml_parser_delete(&parser);
    return ended || second;
}

/* Spans so far leave out the byte order mark. */
static void shift_spans(shop_node *node, size_t by) {
    if (by == 0)
        return;
    while (node) { /* depth first, without a stack */
        node->full_start += by;
        node->start += by;
        node->end += by;
        if (node->child) {
            node = node->child;
            continue;
        }
        while (node && !node->next)
            node = node->parent;
        if (node)
            node = node->next;
    }
}

/* UTF-16 without its mark: a file begins with signs of ASCII, each with a zero byte on the same side. Other zero bytes
 * are told of where they stand. */
static bool is_wide(const unsigned char *bytes, size_t length) {
    size_t zero = length > 0 && bytes[0] == 0 ? 0 : 1, looked = length < 4 ? 2 : 4;
    for (size_t i = 0; i < looked && i < length; i++) {
        bool sign = (bytes[i] >= ' ' && bytes[i] < 0x7F) || (bytes[i] >= '\t' && bytes[i] <= '\r');
        if (i % 2 == zero ? bytes[i] != 0 : !sign)
            return false;
    }
    return length >= 2;
}

static bool refuse_encoding(const char *bytes, size_t length, shop_problems *problems) {
    const unsigned char *b = (const unsigned char *)bytes;
    if (length > SHOP_TEXT_BYTES_MOST) {
        shop_problem_add(problems, false, 0, 0, "over 16 MiB; no project is that large");
        return true;
    }
    bool marked = length >= 2 && ((b[0] == 0xFE && b[1] == 0xFF) || (b[0] == 0xFF && b[1] == 0xFE));
    if (!marked && !is_wide(b, length))
        return false;
    shop_problem_add(problems, false, 1, 1, "this is UTF-16; save the file as UTF-8");
    return true;
}

shop_text *shop_text_read(const char *bytes, size_t length, shop_problems *problems) {
    if (refuse_encoding(bytes, length, problems))
        return NULL;
    shop_arena *memory = shop_arena_create();
    shop_text *text = memory ? shop_arena_get(memory, sizeof *text) : NULL;
    char *copy = text ? shop_arena_copy(memory, bytes, length) : NULL;
    if (!copy) {
        shop_problem_add(problems, false, 0, 0, "out of memory");
        shop_arena_free(memory);
        return NULL;
    }
    text->memory = memory;
    text->bytes = copy;
    text->length = length;
    text->mark = length >= 3 && memcmp(copy, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    builder b = {.text = text, .problems = problems};
    shop_cursor_init(&b.cursor, copy + text->mark, length - text->mark);
    if (!read_events(&b)) {
        shop_text_free(text);
        return NULL;
    }
    shift_spans(text->root, text->mark);
    return text;
}

void shop_text_free(shop_text *text) {
    if (text)
        shop_arena_free(text->memory);
}

const char *shop_text_bytes(const shop_text *text, size_t *length) {
    *length = text->length;
    return text->bytes;
}
