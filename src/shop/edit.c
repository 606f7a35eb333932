/* One edit: what is meant, the bytes that do it, and the second reading that proves it. */
#include <stdlib.h>
#include <string.h>

#include "shop/edit_plan.h"
#include "shop/fields.h"
#include "shop/problems.h"

typedef struct editor {
    const shop_text *text;
    const shop_edit *edit;
    shop_problems *problems;
    shop_found found;
    shop_change change;
    shop_text *fragment; /* of the new value */
    char *written;       /* the new value as YAML on one line */
} editor;

static bool refuse(editor *e, const char *why) {
    const shop_node *at = e->found.node ? e->found.node : e->found.parent;
    shop_problem_add(e->problems, false, at ? at->line : 0, at ? at->column : 0, "%s: %s", e->edit->path, why);
    return false;
}

static bool no_memory(editor *e) {
    return refuse(e, "out of memory");
}

/* ---- the new value ---- */

static bool says_flow(const char *text) {
    text += strspn(text, " \t");
    return *text == '[' || *text == '{';
}

/* A list or mapping that was given: one value in flow style, with nothing beside it. */
static bool write_given_flow(editor *e) {
    shop_problems inner;
    shop_problems_init(&inner, NULL);
    const char *given = e->edit->new_text;
    shop_text *read = shop_text_read(given, strlen(given), &inner);
    const shop_node *root = read ? read->root : NULL;
    bool good = inner.errors == 0 && root && root->style == SHOP_STYLE_FLOW && !root->anchor && !root->tag;
    const char *why = inner.count ? inner.list[0].text : "a list [a, b] or a mapping {key: value} on one line";
    if (!good)
        refuse(e, why);
    size_t length = good ? root->end - root->start : 0;
    bool as_it_is = good && !strpbrk(given, "\r\n#&*!");
    if (good)
        e->written = as_it_is ? shop_copy(given + root->start, length) : shop_write_flow(root);
    if (good && !e->written)
        no_memory(e);
    shop_text_free(read);
    shop_problems_free(&inner);
    return good && e->written;
}

static shop_style style_for(const editor *e) {
    const shop_node *old = e->found.node;
    bool quoted =
        old && old->kind == SHOP_NODE_SCALAR && (old->style == SHOP_STYLE_SINGLE || old->style == SHOP_STYLE_DOUBLE);
    return quoted ? old->style : SHOP_STYLE_PLAIN;
}

/* `flow`: it will stand inside [] or {}. */
static bool write_value(editor *e, bool flow) {
    const shop_field *field = shop_field_find(e->edit->path);
    bool may_flow = !field || shop_field_may_flow(field);
    if (may_flow && says_flow(e->edit->new_text))
        return write_given_flow(e);
    if (shop_path_holds(e->edit->path))
        return refuse(e, "a list [a, b] or a mapping {key: value} must stand here");
    size_t length = strlen(e->edit->new_text);
    e->written = shop_write_scalar(e->edit->new_text, length, style_for(e), flow, field && shop_field_is_text(field));
    return e->written || refuse(e, "the new value is not UTF-8, or memory ran out");
}

/* The written value by itself as a tree, to compare with. */
static bool read_fragment(editor *e) {
    shop_problems inner;
    shop_problems_init(&inner, NULL);
    e->fragment = shop_text_read(e->written, strlen(e->written), &inner);
    bool good = e->fragment && e->fragment->root && inner.errors == 0;
    shop_problems_free(&inner);
    if (good)
        e->change.fragment = e->fragment->root;
    return good || refuse(e, "the new value cannot be written into the file");
}

/* What is missing of the path around the written value: "outer.line" gives the key outer and {line: VALUE}. */
static bool wrap(editor *e) {
    const char *rest = e->found.rest;
    size_t first = *rest == '[' ? 0 : strcspn(rest, ".[");
    e->change.key = rest;
    e->change.key_length = first;
    size_t length = strlen(rest);
    while (length > first) { /* from the innermost outward */
        size_t start = length;
        do
            start--;
        while (start > first && rest[start] != '.' && rest[start] != '[');
        bool item = rest[start] == '[';
        if (item && length - start != 3)
            return refuse(e, "items are added one by one, from [1]");
        if (item && rest[start + 1] != '1')
            return refuse(e, "there are no items; the first is [1]");
        shop_buffer around = {0};
        shop_buffer_text(&around, item ? "[" : "{");
        if (!item)
            shop_buffer_add(&around, rest + start + 1, length - start - 1);
        if (!item)
            shop_buffer_text(&around, ": ");
        shop_buffer_text(&around, e->written);
        shop_buffer_text(&around, item ? "]" : "}");
        free(e->written);
        e->written = shop_buffer_take(&around, NULL);
        if (!e->written)
            return no_memory(e);
        length = start;
    }
    return true;
}

/* ---- what is meant ---- */

static bool in_flow(const shop_node *node) {
    return node && node->style == SHOP_STYLE_FLOW;
}

/* Read again, the bytes hold the change and nothing else. */
static bool holds(const editor *e, const char *bytes, size_t length) {
    shop_problems inner;
    shop_problems_init(&inner, NULL);
    shop_text *again = shop_text_read(bytes, length, &inner);
    bool good = again && inner.errors == 0 && shop_change_holds(e->text->root, again->root, &e->change);
    shop_text_free(again);
    shop_problems_free(&inner);
    return good;
}

static char *splice(const editor *e, size_t *length) {
    const shop_text *text = e->text;
    const shop_change *change = &e->change;
    shop_buffer bytes = {0};
    shop_buffer_add(&bytes, text->bytes, change->from);
    shop_buffer_text(&bytes, change->bytes);
    shop_buffer_add(&bytes, text->bytes + change->to, text->length - change->to);
    return shop_buffer_take(&bytes, length);
}

/* A list that stands in lines keeps them; false where that cannot be done. */
static bool plan_lines(editor *e) {
    size_t length = 0;
    char *bytes = shop_plan_lines(e->text, &e->change, e->written) ? splice(e, &length) : NULL;
    bool good = bytes && holds(e, bytes, length);
    free(bytes);
    if (!good) {
        free(e->change.bytes);
        e->change.bytes = NULL;
    }
    return good;
}

static bool plan_replace(editor *e) {
    e->change.kind = SHOP_REPLACE;
    e->change.node = e->found.node;
    return write_value(e, in_flow(e->found.node->parent)) && read_fragment(e) &&
           (plan_lines(e) || shop_plan_replace(e->text, &e->change, e->written) || no_memory(e));
}

/* The one item written in e->written; the list is empty or not there yet, its key stands in a block map. */
static bool plan_first_item(editor *e, const shop_node *list, const shop_node *key) {
    shop_buffer all = {0};
    shop_buffer_text(&all, "[");
    shop_buffer_text(&all, e->written);
    shop_buffer_text(&all, "]");
    char *item = e->written;
    e->written = shop_buffer_take(&all, NULL);
    bool good = e->written ? read_fragment(e) : no_memory(e);
    e->change.node = key ? list : e->found.parent;
    e->change.kind = key ? SHOP_REPLACE : SHOP_INSERT;
    e->change.index = e->found.parent ? e->found.parent->count : 0;
    good = good && (shop_plan_first_item(e->text, &e->change, key, item) ||
                    refuse(e, "this place of the file is too unusual to be changed; change it by hand"));
    free(item);
    return good;
}

/* The key of a list that stands as a value in a block map; NULL elsewhere. */
static const shop_node *block_key(const shop_node *list) {
    const shop_node *map = list->parent;
    if (!map || map->kind != SHOP_NODE_MAP || map->style != SHOP_STYLE_BLOCK || list->anchor || list->tag)
        return NULL;
    const shop_node *key = map->child;
    while (key && key->next != list)
        key = key->next->next;
    return key;
}

static bool plan_insert_item(editor *e) {
    const shop_node *list = e->found.parent;
    const shop_node *key = list->count == 0 ? block_key(list) : NULL;
    if (!write_value(e, list->style == SHOP_STYLE_FLOW && !key))
        return false;
    if (key)
        return plan_first_item(e, list, key);
    e->change.kind = SHOP_INSERT;
    e->change.node = list;
    e->change.index = e->found.index;
    return read_fragment(e) && (shop_plan_insert_item(e->text, &e->change, e->written) ||
                                refuse(e, "this list is too unusual to be added to; change it by hand"));
}

static bool plan_insert_pair(editor *e) {
    const shop_node *map = e->found.parent;
    if (!map)
        return refuse(e, "the file holds nothing yet");
    const char *rest = e->found.rest;
    bool first_item = strcmp(rest + strcspn(rest, "["), "[1]") == 0 && !strchr(rest, '.');
    if (shop_node_is_null(map)) { /* "leather:" with nothing behind, or "bands:" */
        const shop_node *key = block_key(map);
        bool item = *rest == '[' && first_item;
        if (!write_value(e, !(item && key)))
            return false;
        if (item && key)
            return plan_first_item(e, map, key);
        shop_buffer dotted = {0}; /* all of the path goes around the value */
        if (*rest != '[')
            shop_buffer_text(&dotted, ".");
        shop_buffer_text(&dotted, rest);
        char *around = shop_buffer_take(&dotted, NULL);
        if (!around)
            return no_memory(e);
        e->found.rest = around;
        bool good = wrap(e);
        free(around);
        e->found.rest = "";
        e->change.kind = SHOP_REPLACE;
        e->change.node = map;
        return good && read_fragment(e) && (shop_plan_replace(e->text, &e->change, e->written) || no_memory(e));
    }
    if (map->kind != SHOP_NODE_MAP)
        return refuse(e, "nothing can lie below this value");
    e->change.kind = SHOP_INSERT;
    e->change.node = map;
    e->change.index = map->count;
    bool nested = rest[strcspn(rest, ".[")] != '\0', block = map->style == SHOP_STYLE_BLOCK;
    if (!write_value(e, !block || (nested && !first_item)))
        return false;
    e->change.key = rest;
    e->change.key_length = strcspn(rest, ".[");
    if (first_item && block)
        return plan_first_item(e, NULL, NULL);
    return wrap(e) && read_fragment(e) &&
           (shop_plan_insert_pair(e->text, &e->change, e->written) ||
            refuse(e, "this place of the file is too unusual to be added to; change it by hand"));
}

static bool plan_remove(editor *e) {
    const shop_node *all = e->found.parent;
    if (!all)
        return refuse(e, "the whole file cannot be taken out");
    e->change.node = all;
    if (all->count == 1) { /* nothing would be left: an empty list or mapping */
        e->change.kind = SHOP_REPLACE;
        e->written = shop_copy(all->kind == SHOP_NODE_LIST ? "[]" : "{}", 2);
        return (e->written || no_memory(e)) && read_fragment(e) &&
               (shop_plan_replace(e->text, &e->change, e->written) || no_memory(e));
    }
    e->change.kind = SHOP_REMOVE;
    e->change.index = e->found.index;
    if (all->kind == SHOP_NODE_MAP) {
        e->change.index = 0;
        for (const shop_node *key = all->child; key != e->found.key; key = key->next->next)
            e->change.index++;
    }
    return shop_plan_remove(e->text, &e->change) ||
           refuse(e, "this place of the file is too unusual to be changed; change it by hand");
}

/* With no old text, a mapping for an item of bands or tools comes in before the one that is there. */
static bool inserts_before(const editor *e) {
    const shop_node *list = e->found.parent;
    bool item = list && list->kind == SHOP_NODE_LIST && e->edit->path[strlen(e->edit->path) - 1] == ']';
    return item && !e->edit->old_text && e->edit->new_text &&
           e->edit->new_text[strspn(e->edit->new_text, " \t")] == '{';
}

static bool plan(editor *e) {
    const shop_found *found = &e->found;
    if (!shop_find(e->text, e->edit->path, &e->found))
        return refuse(e, found->why);
    if (found->shared)
        return refuse(e, "the file writes this value once and repeats it through an anchor (&) and aliases (*); "
                         "change it by hand");
    if (!e->edit->new_text)
        return plan_remove(e);
    if (found->node && !inserts_before(e))
        return plan_replace(e);
    if (!shop_path_known(e->edit->path))
        return refuse(e, "there is no such value");
    bool item = found->parent && found->parent->kind == SHOP_NODE_LIST;
    return item ? plan_insert_item(e) : plan_insert_pair(e);
}

/* ---- doing it ---- */

static bool proves(editor *e, const char *bytes, size_t length) {
    return holds(e, bytes, length) ||
           refuse(e, "this cannot be changed without changing something else in the file; change it by hand");
}

void shop_edit_free(shop_edit *edit) {
    free(edit->path);
    free(edit->old_text);
    free(edit->new_text);
    *edit = (shop_edit){0};
}

static void put_away(editor *e) {
    free(e->change.bytes);
    free(e->written);
    shop_text_free(e->fragment);
}

/* The bytes of what was planned, proven; or nothing and a problem. */
static bool carry_out(editor *e, char **bytes, size_t *length) {
    *bytes = splice(e, length);
    if (!*bytes)
        return no_memory(e);
    if (proves(e, *bytes, *length))
        return true;
    free(*bytes);
    *bytes = NULL;
    *length = 0;
    return false;
}

bool shop_replace_scalar(const shop_text *text, const shop_node *node, const char *value, char **bytes, size_t *length,
                         shop_problems *problems) {
    char path[] = "value", *copy = shop_copy(value, strlen(value));
    shop_edit edit = {.path = path, .new_text = copy};
    editor e = {.text = text, .edit = &edit, .problems = problems, .found = {.node = node}};
    *bytes = NULL;
    *length = 0;
    bool good = copy ? plan_replace(&e) && carry_out(&e, bytes, length) : no_memory(&e);
    put_away(&e);
    free(copy);
    return good;
}

bool shop_text_edit(const shop_text *text, shop_edit *edit, char **bytes, size_t *length, shop_problems *problems) {
    editor e = {.text = text, .edit = edit, .problems = problems};
    *bytes = NULL;
    *length = 0;
    char *old = shop_text_get(text, edit->path);
    bool good;
    bool idle = old ? edit->new_text && *edit->new_text != '{' && strcmp(old, edit->new_text) == 0 : !edit->new_text;
    if (idle) { /* it says so already, or is not there to be taken out */
        *bytes = shop_copy(text->bytes, text->length);
        *length = *bytes ? text->length : 0;
        good = *bytes || no_memory(&e);
    } else
        good = plan(&e) && carry_out(&e, bytes, length);
    if (good) {
        bool inserted = e.change.kind == SHOP_INSERT;
        free(edit->old_text);
        edit->old_text = inserted ? NULL : old;
        if (!inserted)
            old = NULL;
    }
    free(old);
    put_away(&e);
    return good;
}
