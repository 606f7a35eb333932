/* Walking a file by the table of fields: unknown keys are kept and noted, everything else must be right. */
#include "shop/load.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/limits.h"
#include "shop/problems.h"
#include "shop/values.h"

void shop_load_error(shop_loader *loader, const shop_node *node, const char *path, const char *why) {
    const shop_node *real = shop_node_real(node);
    loader->outline_wrong = loader->outline_wrong || strncmp(path, "outline", 7) == 0;
    size_t line = node ? node->line : 1, column = node ? node->column : 1;
    if (real && real->kind == SHOP_NODE_SCALAR && !shop_node_is_null(real)) {
        char found[48];
        size_t needed = shop_clean(real->value, real->length, found, sizeof found);
        shop_problem_add(loader->problems, false, line, column, "%s: found '%s%s'; %s", path, found,
                         needed >= sizeof found ? " ..." : "", why);
    } else
        shop_problem_add(loader->problems, false, line, column, "%s: %s", path, why);
}

void shop_load_note(shop_loader *loader, const shop_node *node, const char *path, const char *why) {
    shop_problem_add(loader->problems, true, node ? node->line : 1, node ? node->column : 1, "%s: %s", path, why);
}

void shop_load_no_memory(shop_loader *loader) {
    shop_problem_add(loader->problems, false, 0, 0, "out of memory");
}

void shop_item_path(char out[SHOP_PATH], const char *list, size_t index, const char *name) {
    if (name)
        snprintf(out, SHOP_PATH, "%s.%s", list, name);
    else
        snprintf(out, SHOP_PATH, "%s[%zu]", list, index + 1);
}

int shop_tool_index(const shop_project *project, const char *id, size_t length) {
    for (size_t i = 0; i < project->layout.tool_count; i++) {
        const char *other = project->tools[i].id;
        if (other && strlen(other) == length && memcmp(other, id, length) == 0)
            return (int)i;
    }
    return -1;
}

static void join(char out[SHOP_PATH], const char *front, const char *back) {
    snprintf(out, SHOP_PATH, "%s%s%s", front, *front ? "." : "", back);
}

bool shop_inventory_has(const char *pattern) {
    return strcmp(pattern, "bandwright-inventory") == 0 || strcmp(pattern, "units") == 0 ||
           strncmp(pattern, "tools", 5) == 0 || strncmp(pattern, "rates", 5) == 0;
}

/* What an inventory has no use for, and a project neither. */
static bool stands_in(const shop_loader *loader, const char *pattern) {
    return loader->inventory ? shop_inventory_has(pattern) : strcmp(pattern, "bandwright-inventory") != 0;
}

/* {width: 1,5} is a width of 1 and a key 5: someone meant 1.5. */
static bool is_comma_slip(const shop_node *key) {
    return key->kind == SHOP_NODE_SCALAR && key->length && key->value[0] >= '0' && key->value[0] <= '9' &&
           key->parent->style == SHOP_STYLE_FLOW && shop_node_is_null(key->next);
}

void shop_load_unknown(shop_loader *loader, const shop_node *key, const char *path) {
    if (is_comma_slip(key))
        shop_load_error(loader, key, path, "a comma ends the value before it; use a point, such as 18.5");
    else
        shop_load_note(loader, key, path, "unknown key, kept as it is");
}

static void load_entry(shop_loader *loader, const shop_node *key, const char *pattern, const char *path, unsigned kinds,
                       const shop_target *target) {
    const shop_node *value = key->next;
    const shop_field *any = stands_in(loader, pattern) ? shop_field_of(pattern, SHOP_ANY_KIND) : NULL;
    if (any) {
        const shop_field *row = shop_field_of(pattern, kinds);
        if (row)
            shop_load_value(loader, value, row, path, target);
        else if (kinds)
            shop_load_note(loader, key, path, "has no meaning here and is kept as it is");
        return;
    }
    if (!stands_in(loader, pattern) || !shop_field_below(pattern)) {
        shop_load_unknown(loader, key, path);
        return;
    }
    const shop_node *real = shop_node_real(value);
    if (strcmp(pattern, "bands") == 0 || strcmp(pattern, "tools") == 0 || shop_node_is_null(real))
        return;
    if (real->kind == SHOP_NODE_MAP)
        shop_load_map(loader, real, pattern, path, kinds, target);
    else
        shop_load_error(loader, value, path, "keys with values must stand here, such as {key: value}");
}

void shop_load_map(shop_loader *loader, const shop_node *map, const char *pattern, const char *path, unsigned kinds,
                   const shop_target *target) {
    for (const shop_node *key = map->child; key; key = key->next->next) {
        const shop_node *real = shop_node_real(key);
        char name[SHOP_PATH / 2], below[SHOP_PATH], shown[SHOP_PATH];
        if (real->kind != SHOP_NODE_SCALAR) {
            shop_load_note(loader, key, *path ? path : "the file", "a key that is no plain text, kept as it is");
            continue;
        }
        shop_clean(real->value, real->length, name, sizeof name);
        join(shown, path, name);
        if (memchr(real->value, '.', real->length) || memchr(real->value, '[', real->length) || real->length == 0)
            snprintf(name, sizeof name, "?"); /* not to be mistaken for a path */
        join(below, pattern, name);
        load_entry(loader, key, below, shown, kinds, target);
    }
}

/* The node that a dotted path of keys leads to from a map; *deepest the last map on the way. */
static const shop_node *descend(const shop_node *map, const char *path, const shop_node **deepest) {
    const shop_node *at = shop_node_real(map);
    while (at && *path) {
        size_t length = strcspn(path, ".");
        if (at->kind == SHOP_NODE_MAP)
            *deepest = at;
        at = shop_node_real(shop_map_get(at, path, length, NULL));
        path += length + (path[length] == '.');
    }
    return at;
}

void shop_load_missing(shop_loader *loader, const shop_node *map, const char *pattern, const char *path,
                       unsigned kinds) {
    size_t count, length = strlen(pattern);
    const shop_field *fields = shop_fields(&count);
    for (size_t i = 0; i < count; i++) {
        const shop_field *f = &fields[i];
        bool below = !strstr(f->path + (strncmp(f->path, pattern, length) == 0 ? length : 0), "[]") &&
                     (length == 0 || (strncmp(f->path, pattern, length) == 0 && f->path[length] == '.'));
        if (!below || !f->needed || f->type == SHOP_TYPE_FORMAT || (f->kinds && !(f->kinds & kinds)))
            continue;
        const char *rest = f->path + length + (length > 0);
        const shop_node *deepest = map;
        if (descend(map, rest, &deepest))
            continue;
        char shown[SHOP_PATH], why[400];
        join(shown, path, rest);
        snprintf(why, sizeof why, "must be given. %s", f->help);
        shop_load_error(loader, deepest, shown, why);
    }
}
