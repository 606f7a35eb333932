/* What a path says, its default included. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "shop/edit.h"
#include "shop/load.h"
#include "shop/values.h"

/* Which item of bands or tools a path goes through: -1 if none of that name or number. */
static int item_of(const shop_project *p, const char *path) {
    bool tools = strncmp(path, "tools", 5) == 0;
    size_t count = tools ? p->layout.tool_count : p->layout.band_count;
    const char *rest = path + 5;
    size_t length = strcspn(rest + 1, ".[");
    for (size_t i = 0; i < count; i++) {
        const char *name = tools ? p->tools[i].id : p->bands[i].name;
        char by_index[SHOP_PATH];
        snprintf(by_index, sizeof by_index, "[%zu]", i + 1);
        if (*rest == '[' ? strncmp(rest, by_index, strlen(by_index)) == 0
                         : strlen(name) == length && memcmp(name, rest + 1, length) == 0)
            return (int)i;
    }
    return -1;
}

const shop_field *shop_field_for(const shop_project *project, const char *path) {
    char pattern[SHOP_PATH];
    if (!shop_path_pattern(path, pattern, sizeof pattern))
        return NULL;
    unsigned kinds = SHOP_ANY_KIND;
    if (strncmp(pattern, "bands[]", 7) == 0 || strncmp(pattern, "tools[]", 7) == 0) {
        int item = item_of(project, path);
        if (item < 0)
            return NULL;
        kinds = 1u << (*pattern == 't' ? (unsigned)project->tools[item].kind : (unsigned)project->bands[item].fill);
    } else if (strncmp(pattern, "outline.", 8) == 0)
        kinds = 1u << project->layout.outline.shape;
    return shop_field_around(pattern, kinds, NULL);
}

/* Defaults that depend on other values. */
static double depending(const shop_project *project, const shop_field *field, const char *path) {
    if (strncmp(field->path, "tools[]", 7) != 0)
        return NAN;
    const bw_tool *tool = &project->tools[item_of(project, path)];
    const char *key = field->path + 8;
    if (strcmp(key, "grid") == 0)
        return tool->grid;
    if (tool->kind != BW_BASKET)
        return NAN;
    bw_face face = bw_tool_face(tool);
    return strcmp(key, "width") == 0  ? face.width
           : strcmp(key, "bar") == 0  ? face.bar
           : strcmp(key, "rail") == 0 ? face.rail
                                      : NAN;
}

/* What an item of a list says that is not there by itself: a single value in place of the list holds for each. */
static char *item_default(const shop_project *project, const shop_field *field, const char *path) {
    char *list = shop_copy(path, strcspn(path, "]") + 1);
    char *mark = list ? strrchr(list, '[') : NULL;
    if (mark)
        *mark = '\0';
    char *whole = list ? shop_text_get(project->text, list) : NULL;
    free(list);
    if (whole && *whole && *whole != '[')
        return whole;
    bool short_list = whole && *whole == '[' && field->type != SHOP_TYPE_COUNT;
    free(whole);
    return short_list || !field->fallback || *field->fallback == '['
               ? NULL
               : shop_copy(field->fallback, strlen(field->fallback));
}

/* Line breaks mean no more than blanks in path data, and a value is shown on one line. */
static char *on_one_line(char *text) {
    size_t length = strlen(text);
    while (length && strchr(" \t\r\n", text[length - 1]))
        text[--length] = '\0';
    for (size_t i = 0; i < length; i++)
        if (text[i] == '\r' || text[i] == '\n')
            text[i] = ' ';
    return text;
}

char *shop_project_get(const shop_project *project, const char *path) {
    char *text = shop_text_get(project->text, path);
    const shop_field *field = shop_field_for(project, path);
    if (text)
        return field && field->type == SHOP_TYPE_SVG ? on_one_line(text) : text;
    if (!field)
        return NULL;
    if (path[strlen(path) - 1] == ']')
        return item_default(project, field, path);
    if (strcmp(field->path, "piece") == 0)
        return shop_copy(project->piece.bytes, project->piece.length);
    if (field->fallback)
        return shop_copy(field->fallback, strlen(field->fallback));
    double value = depending(project, field, path);
    if (isnan(value))
        return NULL;
    char number[64];
    double unit = project->units == SHOP_INCH ? BW_MM_PER_INCH : 1;
    shop_write_number(round(value / unit * 1e6) / 1e6, number, sizeof number); /* a usual size, no measured one */
    return shop_copy(number, strlen(number));
}

char *shop_new_text(const char *piece, shop_unit unit, size_t *length) {
    shop_buffer text = {0};
    bool inch = unit == SHOP_INCH;
    shop_buffer_text(&text,
                     "# A piece of tooled leather. A bare number is in the units below; 3/4 in or 18 mm work, too.\n"
                     "bandwright-project: 1\n");
    if (piece && *piece) {
        char *value = shop_write_scalar(piece, strlen(piece), SHOP_STYLE_PLAIN, false, true);
        shop_buffer_text(&text, "piece: ");
        if (value)
            shop_buffer_text(&text, value);
        else
            text.failed = true;
        shop_buffer_text(&text, "\n");
        free(value);
    }
    shop_buffer_text(&text, inch ? "units: in\n" : "units: mm\n");
    shop_buffer_text(&text, "outline:\n  shape: circle\n  diameter: ");
    shop_buffer_text(&text, inch ? "4\n" : "100\n");
    shop_buffer_text(&text, "# Bands follow the edge, from the outermost inward.\nbands: []\ntools: []\n");
    return shop_buffer_take(&text, length);
}
