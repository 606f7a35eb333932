/* A project read: text, values, checks, and a layout that is ready to be planned. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/limits.h"
#include "shop/load.h"
#include "shop/problems.h"
#include "shop/values.h"

static const char *head_key(const shop_loader *loader) {
    return loader->inventory ? "bandwright-inventory" : "bandwright-project";
}

/* False if there is no point in reading on. */
static bool read_format(shop_loader *loader, const shop_node *root) {
    const char *key = head_key(loader);
    const shop_node *node = shop_map_get(root, key, strlen(key), NULL), *real = shop_node_real(node);
    int format = 0;
    char why[SHOP_REASON];
    if (!node) {
        const char *other = loader->inventory ? "bandwright-project" : "bandwright-inventory";
        bool swapped = shop_map_get(root, other, strlen(other), NULL) != NULL;
        snprintf(why, sizeof why, "must be given, such as %s: 1%s", key,
                 !swapped            ? ""
                 : loader->inventory ? "; this is a project, not an inventory"
                                     : "; this is an inventory, not a project");
        shop_load_error(loader, root, key, why);
        return !swapped;
    }
    if (real->kind != SHOP_NODE_SCALAR || !shop_parse_whole(real->value, real->length, &format, why)) {
        shop_load_error(loader, node, key, "the format is a whole number; this program reads format 1");
        return true;
    }
    if (format > 1) {
        shop_load_error(loader, node, key, "the file is of a newer format; this program reads format 1");
        return false;
    }
    if (format < 1)
        shop_load_error(loader, node, key, "there is no such format; this program reads format 1");
    return true;
}

/* The bit of the word that decides which rows a map has; 0 = it says no usable word; `missing` if it is not there. */
static unsigned kind_bit(const shop_node *map, const char *pattern, unsigned missing) {
    const shop_field *field = shop_field_of(pattern, SHOP_ANY_KIND);
    const char *key = strrchr(pattern, '.') + 1;
    const shop_node *node = shop_node_real(shop_map_get(map, key, strlen(key), NULL));
    char why[SHOP_REASON];
    int index;
    if (!node)
        return missing;
    if (node->kind != SHOP_NODE_SCALAR || !shop_parse_word(node->value, node->length, field->words, &index, why))
        return 0;
    return 1u << index;
}

/* Units first: every length needs them. Then the shape: it decides which rows the outline has. */
static void read_root(shop_loader *loader, const shop_node *root) {
    shop_project *p = loader->project;
    const shop_node *units = shop_node_real(shop_map_get(root, "units", 5, NULL));
    p->units = shop_node_says(units, "in") ? SHOP_INCH : SHOP_MM;
    p->layout.grid = p->units == SHOP_INCH ? BW_GRID_INCH : BW_GRID_MM;
    unsigned shape = kind_bit(shop_node_real(shop_map_get(root, "outline", 7, NULL)), "outline.shape", 0);
    shop_target none = {0};
    shop_load_map(loader, root, "", "", shape, &none);
    if (!loader->inventory)
        shop_load_missing(loader, root, "", "", shape);
}

/* The maps of `bands` or `tools`; 0 if there are none. The key may be missing or hold nothing. */
static size_t item_maps(shop_loader *loader, const shop_node *root, const char *key, size_t most,
                        const shop_node ***maps) {
    const shop_node *node = shop_map_get(root, key, strlen(key), NULL), *list = shop_node_real(node);
    *maps = NULL;
    if (!list || shop_node_is_null(list))
        return 0;
    char why[80];
    if (list->kind != SHOP_NODE_LIST || list->count > most) {
        snprintf(why, sizeof why, "a list of up to %zu %s must stand here", most, key);
        shop_load_error(loader, node, key, why);
        return 0;
    }
    const shop_node **found = shop_arena_list(loader->memory, list->count, sizeof *found);
    if (!found) {
        shop_load_no_memory(loader);
        return 0;
    }
    size_t count = 0, index = 0;
    for (const shop_node *item = list->child; item; item = item->next, index++) {
        const shop_node *real = shop_node_real(item);
        char path[SHOP_PATH];
        shop_item_path(path, key, index, NULL);
        if (real->kind == SHOP_NODE_MAP)
            found[count++] = real;
        else
            shop_load_error(loader, item, path, "keys with values must stand here, such as {key: value}");
    }
    *maps = found;
    return count;
}

/* What to call an item in messages: by its name if that is a good one. */
static void call_item(char path[SHOP_PATH], const shop_node *map, const char *list, const char *key, size_t index) {
    const shop_node *name = shop_node_real(shop_map_get(map, key, strlen(key), NULL));
    char why[SHOP_REASON];
    bool good = name && name->kind == SHOP_NODE_SCALAR && shop_check_name(name->value, name->length, why);
    shop_item_path(path, list, index, good ? name->value : NULL);
}

static void read_tools(shop_loader *loader, const shop_node *root) {
    shop_project *p = loader->project;
    p->own_tools = item_maps(loader, root, "tools", BW_TOOLS_MOST, &loader->tool_nodes);
    p->layout.tool_count = p->own_tools;
    p->tools = shop_arena_list(loader->memory, p->own_tools, sizeof *p->tools);
    p->tool_about = shop_arena_list(loader->memory, p->own_tools, sizeof *p->tool_about);
    if (!p->tools || !p->tool_about) {
        p->own_tools = p->layout.tool_count = 0;
        shop_load_no_memory(loader);
        return;
    }
    for (size_t i = 0; i < p->own_tools; i++) {
        const shop_node *map = loader->tool_nodes[i];
        unsigned kinds = kind_bit(map, "tools[].kind", 0);
        int kind = 0;
        while (kinds >> kind > 1)
            kind++;
        bw_tool_init(&p->tools[i], (bw_kind)kind);
        p->tools[i].grid = p->layout.grid;
        char path[SHOP_PATH];
        call_item(path, map, "tools", "id", i);
        shop_target target = {.tool = &p->tools[i], .tool_about = &p->tool_about[i]};
        shop_load_map(loader, map, "tools[]", path, kinds, &target);
        shop_load_missing(loader, map, "tools[]", path, kinds);
        bw_tool_take_strips(&p->tools[i]);
    }
}

static void read_bands(shop_loader *loader, const shop_node *root) {
    shop_project *p = loader->project;
    size_t count = item_maps(loader, root, "bands", BW_BANDS_MOST, &loader->band_nodes);
    p->bands = shop_arena_list(loader->memory, count, sizeof *p->bands);
    p->band_about = shop_arena_list(loader->memory, count, sizeof *p->band_about);
    if (!p->bands || !p->band_about) {
        shop_load_no_memory(loader);
        return;
    }
    p->layout.band_count = count;
    for (size_t i = 0; i < count; i++) {
        const shop_node *map = loader->band_nodes[i];
        unsigned kinds = kind_bit(map, "bands[].fill", 1u << BW_FILL_PLAIN);
        bw_band_init(&p->bands[i]);
        char path[SHOP_PATH];
        call_item(path, map, "bands", "name", i);
        shop_target target = {.band = &p->bands[i], .band_about = &p->band_about[i]};
        shop_load_map(loader, map, "bands[]", path, kinds, &target);
        shop_load_missing(loader, map, "bands[]", path, kinds);
    }
}

bool shop_load_file(shop_loader *loader, const char *bytes, size_t length) {
    shop_project *p = loader->project;
    size_t errors = loader->problems->errors;
    loader->text = p->text = shop_text_read(bytes, length, loader->problems);
    loader->outline_wrong = loader->problems->errors > errors; /* a key twice, say: who knows which one counts */
    if (!p->text)
        return false;
    const shop_node *root = shop_node_real(p->text->root);
    if (!root || root->kind != SHOP_NODE_MAP) {
        char why[80];
        snprintf(why, sizeof why, "%s; it must start with %s: 1",
                 !root || shop_node_is_null(root) ? "the file is empty" : "this is no list of keys and values",
                 head_key(loader));
        shop_problem_add(loader->problems, false, 1, 1, "%s", why);
        return false;
    }
    if (!read_format(loader, root))
        return false;
    read_root(loader, root);
    read_tools(loader, root);
    if (!loader->inventory)
        read_bands(loader, root);
    p->layout.finished = p->sizes == 1;
    p->layout.tools = p->tools;
    p->layout.bands = p->bands;
    return true;
}

shop_project *shop_project_new(shop_problems *problems) {
    shop_arena *memory = shop_arena_create();
    shop_project *p = memory ? shop_arena_get(memory, sizeof *p) : NULL;
    if (!p) {
        shop_arena_free(memory);
        shop_problem_add(problems, false, 0, 0, "out of memory");
        return NULL;
    }
    p->memory = memory;
    p->dividers = -1;
    p->tolerance = BW_VISIBLE_JUMP;
    p->rates.per_hour = p->rates.strikes_per_minute = NAN;
    bw_layout_init(&p->layout);
    return p;
}

/* The file's name without folder and extension. */
static void name_piece(shop_loader *loader, const char *file) {
    shop_project *p = loader->project;
    if (p->piece.bytes)
        return;
    const char *name = file ? file : "piece", *slash = strrchr(name, '/');
    if (slash)
        name = slash + 1;
    const char *point = strrchr(name, '.');
    size_t length = point && point > name ? (size_t)(point - name) : strlen(name);
    p->piece.bytes = shop_arena_copy(loader->memory, name, length);
    p->piece.length = length;
    if (!p->piece.bytes)
        shop_load_no_memory(loader);
}

static bool same_string(shop_string a, shop_string b) {
    return a.length == b.length && (a.length == 0 || memcmp(a.bytes, b.bytes, a.length) == 0);
}

static bool keep_string(shop_loader *loader, shop_string *to, shop_string from) {
    to->length = from.length;
    if (from.bytes)
        to->bytes = shop_arena_copy(loader->memory, from.bytes, from.length);
    return !from.bytes || to->bytes;
}

typedef struct named_tool {
    const char *id;
    int index;
} named_tool;

static int compare_ids(const void *a, const void *b) {
    const named_tool *one = a, *other = b;
    return strcmp(one->id, other->id);
}

/* The project's tools in the order of their ids, which differ: of a thousand against a thousand each need not be
 * compared with each. NULL without memory. */
static named_tool *sort_ids(shop_loader *loader, size_t *count) {
    const shop_project *p = loader->project;
    named_tool *list = shop_arena_list(loader->memory, p->layout.tool_count, sizeof *list);
    *count = 0;
    for (size_t i = 0; list && i < p->layout.tool_count; i++)
        if (p->tools[i].id)
            list[(*count)++] = (named_tool){p->tools[i].id, (int)i};
    if (list)
        qsort(list, *count, sizeof *list, compare_ids);
    return list;
}

/* The project's copy of a tool wins; the inventory's others follow behind. Its texts are copied, so that the project
 * may outlive it. */
static void add_inventory(shop_loader *loader, const shop_inventory *inventory) {
    shop_project *p = loader->project;
    size_t own = p->own_tools, all = own + inventory->tool_count;
    bw_tool *tools = shop_arena_list(loader->memory, all, sizeof *tools);
    shop_tool *about = shop_arena_list(loader->memory, all, sizeof *about);
    size_t named;
    const named_tool *ids = sort_ids(loader, &named);
    bool good = tools && about && ids;
    if (good && own) {
        memcpy(tools, p->tools, own * sizeof *tools);
        memcpy(about, p->tool_about, own * sizeof *about);
    }
    size_t count = own;
    for (size_t i = 0; good && i < inventory->tool_count; i++) {
        const bw_tool *tool = &inventory->tools[i];
        const named_tool *here = bsearch(&(named_tool){tool->id, 0}, ids, named, sizeof *ids, compare_ids);
        if (here) {
            int index = here->index;
            bool sizes = shop_same_sizes(tool, &tools[index]), strips = shop_same_strips(tool, &tools[index]);
            about[index].differs = !sizes || !strips;
            about[index].only_strips = sizes && !strips;
            about[index].named_otherwise = !same_string(about[index].name, inventory->about[i].name) ||
                                           !same_string(about[index].note, inventory->about[i].note);
            continue;
        }
        tools[count] = *tool;
        tools[count].id = shop_arena_copy(loader->memory, tool->id, strlen(tool->id));
        about[count].from_inventory = true;
        good = tools[count].id && keep_string(loader, &about[count].name, inventory->about[i].name) &&
               keep_string(loader, &about[count].note, inventory->about[i].note);
        about[count].strip_about = inventory->about[i].strip_about;
        good = good && shop_keep_strips(loader, &tools[count], &about[count]);
        count++;
    }
    if (!good) {
        shop_load_no_memory(loader);
        return;
    }
    p->tools = tools;
    p->tool_about = about;
    p->layout.tools = tools;
    p->layout.tool_count = count;
}

shop_project *shop_project_read(const char *bytes, size_t length, const char *file, const shop_inventory *inventory,
                                shop_problems *problems) {
    size_t first = problems->count, errors = problems->errors;
    shop_project *p = shop_project_new(problems);
    if (!p)
        return NULL;
    shop_loader loader = {.problems = problems, .memory = p->memory, .project = p, .shop_beside = inventory != NULL};
    if (shop_load_file(&loader, bytes, length)) {
        name_piece(&loader, file);
        shop_check_tools(&loader);
        if (inventory)
            add_inventory(&loader, inventory);
        shop_check_project(&loader);
        shop_load_fixed(&loader);
        /* Whatever a check of ours has overlooked must not reach the maths. */
        if (problems->errors == errors && bw_layout_check(&p->layout) != BW_OK)
            shop_problem_add(problems, false, 0, 0, "the values do not go together");
    }
    shop_problems_sort(problems, first);
    if (problems->errors == errors)
        return p;
    shop_project_free(p);
    return NULL;
}

void shop_project_free(shop_project *project) {
    if (!project)
        return;
    shop_text_free(project->text);
    shop_arena_free(project->memory); /* the project itself lies in it */
}
