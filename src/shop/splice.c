/* Which bytes a change touches. Whole lines come and go with their siblings' indent and the file's own line ending;
 * inside [] and {} only what is needed. Comments on other lines are never touched. */
#include <stdlib.h>
#include <string.h>

#include "shop/edit_plan.h"
#include "shop/spans.h"

static const char *line_ending(const shop_text *text) {
    for (size_t i = text->mark; i < text->length; i++) {
        if (text->bytes[i] == '\n')
            return "\n";
        if (text->bytes[i] == '\r')
            return i + 1 < text->length && text->bytes[i + 1] == '\n' ? "\r\n" : "\r";
    }
    return "\n";
}

static bool breaks(const shop_text *text, size_t at) {
    return at < text->length && (text->bytes[at] == '\n' || text->bytes[at] == '\r');
}

static size_t line_start(const shop_text *text, size_t at) {
    while (at > text->mark && !breaks(text, at - 1))
        at--;
    return at;
}

static size_t skip_blanks(const shop_text *text, size_t at) {
    while (at < text->length && (text->bytes[at] == ' ' || text->bytes[at] == '\t'))
        at++;
    return at;
}

/* The end of the line (before its ending). */
static size_t line_end(const shop_text *text, size_t at) {
    while (at < text->length && !breaks(text, at))
        at++;
    return at;
}

static size_t behind_break(const shop_text *text, size_t at) {
    if (at + 1 < text->length && text->bytes[at] == '\r' && text->bytes[at + 1] == '\n')
        return at + 2;
    return at < text->length ? at + 1 : at;
}

/* Where the bytes of a value end that a new one would replace: the last line break of a block scalar stays. */
static size_t content_end(const shop_text *text, const shop_node *node) {
    const shop_node *last = node;
    while (last->style == SHOP_STYLE_BLOCK && last->last)
        last = last->last;
    size_t end = last->end;
    bool block =
        last->kind == SHOP_NODE_SCALAR && (last->style == SHOP_STYLE_LITERAL || last->style == SHOP_STYLE_FOLDED);
    while (block && end > last->start && breaks(text, end - 1))
        end--;
    return end;
}

static bool is_empty(const shop_node *node) {
    return node->kind == SHOP_NODE_SCALAR && node->end == node->start;
}

static bool in_flow(const shop_node *node) {
    return node->parent && node->parent->style == SHOP_STYLE_FLOW;
}

static bool finish(shop_change *change, shop_buffer *bytes, size_t from, size_t to) {
    change->from = from;
    change->to = to;
    change->bytes = shop_buffer_take(bytes, NULL);
    return change->bytes != NULL;
}

/* A block list or map under its key on lines of its own: what is new can follow the colon instead. */
static size_t behind_colon(const shop_text *text, const shop_node *node) {
    if (node->style != SHOP_STYLE_BLOCK || node->start != node->full_start)
        return node->start;
    size_t at = node->start;
    while (at > text->mark && strchr(" \t\r\n", text->bytes[at - 1]))
        at--;
    bool own_lines = line_start(text, node->start) != line_start(text, at);
    return own_lines && at > text->mark && text->bytes[at - 1] == ':' ? at : node->start;
}

bool shop_plan_replace(const shop_text *text, shop_change *change, const char *written) {
    const shop_node *node = change->node;
    size_t from = behind_colon(text, node), to = content_end(text, node);
    shop_buffer bytes = {0};
    if (is_empty(node) && in_flow(node) && from > text->mark && !strchr(":[,{ \n", text->bytes[from - 1]) &&
        node->parent->kind == SHOP_NODE_MAP)
        shop_buffer_text(&bytes, ":"); /* {a} becomes {a: value} */
    if (from > text->mark && (is_empty(node) || from != node->start) && !strchr(" \t\r\n[{", text->bytes[from - 1]))
        shop_buffer_text(&bytes, " ");
    shop_buffer_text(&bytes, written);
    if (is_empty(node) && to < text->length && !strchr(" \t\r\n,]}", text->bytes[to]))
        shop_buffer_text(&bytes, " ");
    return finish(change, &bytes, from, to);
}

static size_t column_of(const shop_text *text, size_t at) {
    size_t column = 0;
    for (size_t i = line_start(text, at); i < at; i++)
        column += ((unsigned char)text->bytes[i] & 0xC0) != 0x80;
    return column;
}

/* A new line behind the one on which a value ends. False if something else than a comment follows the value there. */
static bool line_behind(const shop_text *text, shop_change *change, const shop_node *last, size_t indent,
                        const char *front, const char *written) {
    size_t end = shop_node_end(last);
    bool at_start = end > text->mark && breaks(text, end - 1); /* a block scalar ends at the start of the next line */
    size_t next = skip_blanks(text, end);
    if (!at_start && next < text->length && !breaks(text, next) && text->bytes[next] != '#')
        return false;
    size_t place = at_start ? end : behind_break(text, line_end(text, end));
    bool needs_break = place == text->length && !(place > text->mark && breaks(text, place - 1));
    shop_buffer bytes = {0};
    if (needs_break)
        shop_buffer_text(&bytes, line_ending(text));
    shop_buffer_spaces(&bytes, indent);
    shop_buffer_text(&bytes, front);
    shop_buffer_text(&bytes, written);
    if (!needs_break)
        shop_buffer_text(&bytes, line_ending(text));
    return finish(change, &bytes, place, place);
}

static bool into_flow(const shop_text *text, shop_change *change, const char *front, const char *written) {
    const shop_node *all = change->node;
    char open = all->kind == SHOP_NODE_MAP ? '{' : '[';
    if (text->bytes[all->start] != open)
        return false; /* [a: b], a pair without its own braces */
    shop_buffer bytes = {0};
    size_t place = all->last ? content_end(text, all->last) : all->start + 1;
    if (all->last)
        shop_buffer_text(&bytes, ", ");
    shop_buffer_text(&bytes, front);
    shop_buffer_text(&bytes, written);
    return finish(change, &bytes, place, place);
}

bool shop_plan_insert_pair(const shop_text *text, shop_change *change, const char *written) {
    const shop_node *map = change->node;
    shop_buffer front = {0};
    shop_buffer_add(&front, change->key, change->key_length);
    shop_buffer_text(&front, ": ");
    char *key = shop_buffer_take(&front, NULL);
    if (!key)
        return false;
    bool good = map->style == SHOP_STYLE_FLOW ? into_flow(text, change, key, written)
                                              : line_behind(text, change, map->last, map->child->indent, key, written);
    free(key);
    return good;
}

/* The dash of a block list's item; text->length if it is not where it should be. */
static size_t dash_of(const shop_text *text, const shop_node *list, size_t index) {
    const shop_node *before = index ? shop_list_item(list, index - 1) : NULL;
    size_t at = before ? shop_node_end(before) : list->start;
    at = shop_skip_space(text->bytes, text->length, at);
    return at < text->length && text->bytes[at] == '-' ? at : text->length;
}

bool shop_plan_insert_item(const shop_text *text, shop_change *change, const char *written) {
    const shop_node *list = change->node, *next = shop_list_item(list, change->index);
    shop_buffer bytes = {0};
    if (list->style == SHOP_STYLE_FLOW) {
        if (!next)
            return into_flow(text, change, "", written);
        shop_buffer_text(&bytes, written);
        shop_buffer_text(&bytes, ", ");
        return finish(change, &bytes, next->full_start, next->full_start);
    }
    size_t dash = dash_of(text, list, 0), indent = column_of(text, dash);
    if (dash == text->length)
        return false;
    if (change->index > 0)
        return line_behind(text, change, shop_list_item(list, change->index - 1), indent, "- ", written);
    shop_buffer_text(&bytes, "- ");
    shop_buffer_text(&bytes, written);
    shop_buffer_text(&bytes, line_ending(text));
    shop_buffer_spaces(&bytes, indent);
    return finish(change, &bytes, dash, dash);
}

bool shop_plan_first_item(const shop_text *text, shop_change *change, const shop_node *key_node, const char *written) {
    const shop_node *list = change->node;
    shop_buffer bytes = {0};
    if (!key_node) { /* the whole pair is new: "bands:" and the item on the next line */
        shop_buffer_text(&bytes, line_ending(text));
        shop_buffer_spaces(&bytes, list->child->indent + 2);
        shop_buffer_text(&bytes, "- ");
        shop_buffer_text(&bytes, written);
        char *lines = shop_buffer_take(&bytes, NULL);
        shop_buffer_add(&bytes, change->key, change->key_length);
        shop_buffer_text(&bytes, ":");
        char *key = shop_buffer_take(&bytes, NULL);
        bool good = lines && key && line_behind(text, change, list->last, list->child->indent, key, lines);
        free(lines);
        free(key);
        return good;
    }
    size_t rest = skip_blanks(text, list->end), end = line_end(text, list->end), from = list->start;
    if (rest < end && text->bytes[rest] != '#')
        return false;
    if (rest == end)
        while (from > text->mark && (text->bytes[from - 1] == ' ' || text->bytes[from - 1] == '\t'))
            from--;
    else
        shop_buffer_add(&bytes, text->bytes + rest, end - rest);
    shop_buffer_text(&bytes, line_ending(text));
    shop_buffer_spaces(&bytes, key_node->indent + 2);
    shop_buffer_text(&bytes, "- ");
    shop_buffer_text(&bytes, written);
    return finish(change, &bytes, from, end);
}

/* ---- taking out ---- */

/* One item or pair among others: from its first byte (dash, key) to its last. */
typedef struct part {
    size_t from, end;
    size_t next; /* first byte of the one behind, 0 = none */
    size_t last; /* last byte of the one before, 0 = none */
} part;

static size_t part_start(const shop_text *text, const shop_node *all, size_t index) {
    bool map = all->kind == SHOP_NODE_MAP;
    if (!map && all->style == SHOP_STYLE_BLOCK)
        return dash_of(text, all, index);
    const shop_node *at = all->child;
    for (size_t i = 0; i < index; i++)
        at = map ? at->next->next : at->next;
    return at->full_start;
}

static part find_part(const shop_text *text, const shop_node *all, size_t index) {
    bool map = all->kind == SHOP_NODE_MAP;
    part p = {.from = part_start(text, all, index)};
    const shop_node *at = all->child, *before = NULL;
    for (size_t i = 0; i <= index; i++) {
        if (i)
            before = at, at = at->next;
        if (map)
            at = at->next; /* the value */
    }
    p.end = shop_node_end(at);
    if (at->next)
        p.next = part_start(text, all, index + 1);
    if (before)
        p.last = content_end(text, before);
    return p;
}

/* Between two places stands nothing but blanks and line breaks. */
static bool only_space(const shop_text *text, size_t from, size_t to) {
    for (size_t i = from; i < to; i++)
        if (!strchr(" \t\r\n", text->bytes[i]))
            return false;
    return true;
}

static void remove_line(const shop_text *text, const part *p, size_t *from, size_t *to) {
    bool at_start = p->end > text->mark && breaks(text, p->end - 1);
    *from = line_start(text, p->from);
    *to = at_start ? p->end : behind_break(text, line_end(text, p->end));
    bool ended = *to > text->mark && breaks(text, *to - 1);
    if (*to < text->length || ended || *from <= text->mark)
        return;
    (*from)--; /* the file has no line ending at its end, and keeps none */
    if (*from > text->mark && text->bytes[*from] == '\n' && text->bytes[*from - 1] == '\r')
        (*from)--;
}

bool shop_plan_remove(const shop_text *text, shop_change *change) {
    const shop_node *all = change->node;
    part p = find_part(text, all, change->index);
    size_t from = p.from, to = p.end;
    if (p.from >= text->length || p.next >= text->length)
        return false;
    if (all->style == SHOP_STYLE_FLOW) {
        if (p.next)
            to = p.next;
        else
            from = p.last;
    } else if (skip_blanks(text, line_start(text, from)) == from)
        remove_line(text, &p, &from, &to);
    else if (p.next && only_space(text, p.end, p.next))
        to = p.next; /* behind a dash: the next one takes its place */
    shop_buffer bytes = {0};
    return finish(change, &bytes, from, to);
}

/* ---- one block list in place of another ---- */

/* Changes one behind the other as a single one. */
typedef struct changes {
    shop_buffer bytes;
    size_t from, to;
    bool any;
} changes;

/* Takes over the bytes of `one`. False if it does not lie behind those before it, or without memory. */
static bool put_behind(const shop_text *text, changes *all, shop_change *one) {
    bool good = one->bytes && (!all->any || one->from >= all->to);
    if (good && !all->any)
        all->from = all->to = one->from;
    if (good) {
        shop_buffer_add(&all->bytes, text->bytes + all->to, one->from - all->to);
        shop_buffer_text(&all->bytes, one->bytes);
        all->to = one->to;
        all->any = true;
    }
    free(one->bytes);
    one->bytes = NULL;
    return good;
}

/* What becomes of the old item `index`: new bytes, or (`item` NULL) it goes; or a new one comes in before it. */
static bool change_item(const shop_text *text, changes *all, const shop_node *list, size_t index, shop_change_kind kind,
                        const char *item) {
    const shop_node *old = shop_list_item(list, index);
    shop_change one = {.kind = kind, .node = kind == SHOP_REPLACE ? old : list, .index = index};
    bool planned = kind == SHOP_REPLACE  ? shop_plan_replace(text, &one, item)
                   : kind == SHOP_INSERT ? shop_plan_insert_item(text, &one, item)
                                         : shop_plan_remove(text, &one);
    return put_behind(text, all, &one) && planned;
}

/* Items alike at the front, or from the end: as many as both lists share, at most `most`. */
static size_t alike(const shop_node *a, const shop_node *b, bool from_end, size_t most) {
    size_t same = 0;
    while (same < most && shop_says_the_same(shop_list_item(a, from_end ? a->count - 1 - same : same),
                                             shop_list_item(b, from_end ? b->count - 1 - same : same)))
        same++;
    return same;
}

bool shop_plan_lines(const shop_text *text, shop_change *change, const char *written) {
    const shop_node *old = change->node, *new = change->fragment;
    if (old->kind != SHOP_NODE_LIST || old->style != SHOP_STYLE_BLOCK || new->kind != SHOP_NODE_LIST || !new->count)
        return false;
    size_t most = old->count < new->count ? old->count : new->count;
    size_t front = alike(old, new, false, most), end = alike(old, new, true, most - front);
    changes all = {0};
    bool good = true;
    for (size_t i = front; good && (i < old->count - end || i < new->count - end); i++) {
        const shop_node *item = i < new->count - end ? shop_list_item(new, i) : NULL;
        bool stood = i < old->count - end;
        char *bytes = item ? shop_copy(written + item->full_start, item->end - item->full_start) : NULL;
        good = (bytes || !item) && change_item(text, &all, old, stood ? i : old->count - end,
                                               !item   ? SHOP_REMOVE
                                               : stood ? SHOP_REPLACE
                                                       : SHOP_INSERT,
                                               bytes);
        free(bytes);
    }
    if (!all.any)
        all.from = all.to = old->start;
    bool made = finish(change, &all.bytes, all.from, all.to);
    return good && made;
}
