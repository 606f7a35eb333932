/* shop/load.h - from the tree of values to a project or inventory, by the table of fields. */
#ifndef SHOP_LOAD_H
#define SHOP_LOAD_H

#include "shop/fields.h"
#include "shop/text.h"

#define SHOP_PATH 256 /* bytes of a path in a message; a longer one is cut */

#define SHOP_NO_KIND (BW_MAUL + 1) /* of a tool whose kind was wrong; it never gets out of loading */

typedef struct shop_loader {
    const shop_text *text;
    shop_problems *problems;
    shop_arena *memory;
    shop_project *project; /* an inventory is read into one, too */
    bool inventory;
    bool shop_beside;                           /* of a project: an inventory's tools are there, too */
    bool outline_wrong;                         /* an error was told that may lie in the outline */
    const shop_node **band_nodes, **tool_nodes; /* the maps, a band or own tool each */
} shop_loader;

/* Where the values of a map go; what does not apply is NULL. */
typedef struct shop_target {
    bw_band *band;
    shop_band *band_about;
    bw_tool *tool;
    shop_tool *tool_about;
    bw_strip *strip;
    shop_strip *strip_about;
    shop_struck *struck;
} shop_target;

/* An error at a value (NULL: at the file's start): "PATH: found 'VALUE'; WHY" for scalars, "PATH: WHY" for others. */
void shop_load_error(shop_loader *loader, const shop_node *node, const char *path, const char *why);
void shop_load_note(shop_loader *loader, const shop_node *node, const char *path, const char *why);
void shop_load_no_memory(shop_loader *loader);
/* A key that has no row: kept and noted, but for what looks like the rest of a number behind a comma. */
void shop_load_unknown(shop_loader *loader, const shop_node *key, const char *path);

/* Reads what a map holds by the rows below `pattern` ("" for the whole file) that belong to `kinds`; `path` is how the
 * map is called in messages. Lists of bands and tools are left to the caller. */
void shop_load_map(shop_loader *loader, const shop_node *map, const char *pattern, const char *path, unsigned kinds,
                   const shop_target *target);
/* Tells of rows that must be given and are not. */
void shop_load_missing(shop_loader *loader, const shop_node *map, const char *pattern, const char *path,
                       unsigned kinds);
/* The value into its place; range and form are checked. */
void shop_load_value(shop_loader *loader, const shop_node *node, const shop_field *field, const char *path,
                     const shop_target *target);

/* The tool's strips in memory of this loader's own, with all that belongs to them. False without memory. */
bool shop_keep_strips(shop_loader *loader, bw_tool *tool, shop_tool *about);

/* Whether two copies of a tool say the same of sizes, blows and given steps; their strips apart. */
bool shop_same_sizes(const bw_tool *a, const bw_tool *b);

/* An empty project or inventory; NULL with an error without memory. */
shop_project *shop_project_new(shop_problems *problems);
/* Reads bytes into loader->project, bands, tools and all. */
bool shop_load_file(shop_loader *loader, const char *bytes, size_t length);

/* What must hold between values (only values that are right by themselves are looked at). */
void shop_check_project(shop_loader *loader);
void shop_check_tools(shop_loader *loader);
void shop_check_outline(shop_loader *loader);
/* Whether there is an edge that can be planned; `map` is the outline, whose values are right by themselves. */
void shop_check_edge(shop_loader *loader, const shop_node *map);
/* What stands at a byte of path data, in quotes, or "the end". */
#define SHOP_DATA_SHOWN 64
void shop_show_data(const char *svg, size_t length, size_t at, char out[SHOP_DATA_SHOWN]);
/* Error at a key of a map, or at the map where the key is not given; `path` is the map's. */
void shop_check_error(shop_loader *loader, const shop_node *map, const char *key, const char *path, const char *why);
/* `fixed` into the bits of layout and bands. */
void shop_load_fixed(shop_loader *loader);

/* "bands.weave", or "bands[2]" if it has no usable name; likewise tools. */
void shop_item_path(char out[SHOP_PATH], const char *list, size_t index, const char *name);
/* The tool of an id, -1 if there is none. */
int shop_tool_index(const shop_project *project, const char *id, size_t length);

#endif
