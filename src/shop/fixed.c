/* What no suggestion may change: paths of values into the bits of the maths. */
#include <string.h>

#include "shop/load.h"

typedef struct knob_path {
    const char *path; /* for bands: below the band */
    bw_knob knob;
} knob_path;

static const knob_path outline_knobs[] = {
    {"outline.diameter", BW_KNOB_DIAMETER}, {"outline.around", BW_KNOB_DIAMETER}, {"outline.chord", BW_KNOB_DIAMETER},
    {"outline.depth", BW_KNOB_DIAMETER},    {"outline.length", BW_KNOB_LENGTH},   {"outline.width", BW_KNOB_WIDTH},
    {"outline.radius", BW_KNOB_RADIUS},     {"outline.sweep", BW_KNOB_SWEEP},     {"outline.corner", BW_KNOB_CORNER},
    {"outline.corners", BW_KNOB_CORNER},
};
static const knob_path band_knobs[] = {
    {"space", BW_KNOB_SPACE}, {"width", BW_KNOB_BAND_WIDTH}, {"guide", BW_KNOB_GUIDE}, {"overlap", BW_KNOB_OVERLAP},
    {"count", BW_KNOB_COUNT}, {"lose", BW_KNOB_LOSE},        {"tool", BW_KNOB_TOOL},
};

/* `front` is the path or stands above it; a [n] behind counts as below. */
static bool covers(const char *front, const char *path) {
    size_t length = strlen(front), whole = strlen(path);
    if (length <= whole)
        return strncmp(front, path, length) == 0 && (path[length] == '\0' || path[length] == '.');
    return strncmp(front, path, whole) == 0 && front[whole] == '['; /* outline.corner[2] holds all corners */
}

static unsigned bits(const char *front, const knob_path *knobs, size_t count, const char *above) {
    unsigned found = 0;
    for (size_t i = 0; i < count; i++) {
        char path[SHOP_PATH];
        snprintf(path, sizeof path, "%s%s%s", above, *above ? "." : "", knobs[i].path);
        if (covers(front, path))
            found |= 1u << knobs[i].knob;
    }
    return found;
}

static bool band_is_there(const shop_project *p, const char *path) {
    if (strncmp(path, "bands.", 6) != 0 && strncmp(path, "bands[", 6) != 0)
        return true;
    for (size_t i = 0; i < p->layout.band_count; i++) {
        char by_name[SHOP_PATH], by_index[SHOP_PATH];
        shop_item_path(by_index, "bands", i, NULL);
        shop_item_path(by_name, "bands", i, p->bands[i].name);
        size_t name = strlen(by_name), index = strlen(by_index);
        if (strncmp(path, by_name, name) == 0 && (path[name] == '.' || path[name] == '\0'))
            return true;
        if (strncmp(path, by_index, index) == 0)
            return true;
    }
    return false;
}

void shop_path_knobs(const shop_project *p, const char *path, unsigned *outline, unsigned *bands) {
    size_t count = sizeof band_knobs / sizeof band_knobs[0];
    *outline = bits(path, outline_knobs, sizeof outline_knobs / sizeof outline_knobs[0], "");
    for (size_t i = 0; i < p->layout.band_count; i++) {
        char above[SHOP_PATH];
        shop_item_path(above, "bands", i, NULL);
        bands[i] = bits(path, band_knobs, count, above);
        shop_item_path(above, "bands", i, p->bands[i].name);
        bands[i] |= bits(path, band_knobs, count, above);
        if (strcmp(path, "bands") == 0)
            bands[i] |= bits("bands", band_knobs, count, "bands");
    }
}

void shop_load_fixed(shop_loader *loader) {
    shop_project *p = loader->project;
    const shop_node *root = shop_node_real(loader->text->root);
    const shop_node *list = shop_node_real(shop_map_get(root, "fixed", 5, NULL));
    for (size_t f = 0; f < p->fixed_count; f++) {
        const char *path = p->fixed[f].bytes;
        /* most likely a slip */
        if (strlen(path) != p->fixed[f].length || !shop_path_known(path) || !band_is_there(p, path)) {
            char shown[SHOP_PATH];
            snprintf(shown, sizeof shown, "fixed[%zu]", f + 1);
            shop_load_note(loader, shop_list_item(list, f), shown, "this path leads to no value, and so fixes nothing");
            continue;
        }
        unsigned outline, bands[BW_BANDS_MOST];
        shop_path_knobs(p, path, &outline, bands);
        p->layout.fixed |= outline;
        for (size_t i = 0; i < p->layout.band_count; i++)
            p->bands[i].fixed |= bands[i];
    }
}
