/* tools.c - stamps that are not in any list yet, and what a band holds. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"
#include "shop/alloc.h"
#include "shop/edit.h"

const char *kind_words(bw_kind kind) {
    switch (kind) {
    case BW_BASKET:
        return "basket stamp";
    case BW_BORDER:
        return "border stamp";
    case BW_IRON:
        return "stitching iron";
    case BW_DIVIDERS:
        return "pair of dividers";
    default:
        return "tool";
    }
}

static const char *kind_word(bw_kind kind) {
    return kind == BW_BASKET ? "basket" : kind == BW_BORDER ? "border" : "iron";
}

int tool_first(const shop_project *project, bw_kind kind) {
    for (size_t i = 0; i < project->layout.tool_count; i++) {
        if (project->tools[i].kind == kind && !project->tools[i].retired) {
            return (int)i;
        }
    }
    return -1;
}

static bool id_taken(const shop_project *project, const char *id) {
    for (size_t i = 0; i < project->layout.tool_count; i++) {
        if (strcmp(project->tools[i].id, id) == 0) {
            return true;
        }
    }
    return false;
}

/* "basket-9", "border-3-16-in": the kind and the size, so that the name says what it is. */
static void make_id(const shop_project *project, bw_kind kind, const char *length, char id[64]) {
    size_t used = (size_t)snprintf(id, 64, "%s-", kind_word(kind)), stem;
    const char *unit = strstr(length, project->units == SHOP_MM ? "mm" : "in"); /* all others go without it, too */
    const char *end = unit != NULL ? unit : length + strlen(length);
    for (const char *at = length; at < end && used < 30; at++) {
        bool plain = (*at >= '0' && *at <= '9') || (*at >= 'a' && *at <= 'z');
        if (plain) {
            id[used++] = *at;
        } else if (id[used - 1] != '-') {
            id[used++] = '-';
        }
    }
    while (id[used - 1] == '-') {
        used--;
    }
    id[used] = '\0';
    stem = used;
    for (int i = 2; i < BW_TOOLS_MOST && id_taken(project, id); i++) {
        snprintf(id + stem, 64 - stem, "-%d", i);
    }
}

/* The row of the table for a tool's size, which knows its range. */
static const shop_field *size_field(bw_kind kind, const char *path) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(fields[i].path, path) == 0 && (fields[i].kinds & 1u << kind) != 0) {
            return &fields[i];
        }
    }
    return NULL;
}

bool field_fits(const shop_field *field, shop_unit unit, const char *text, char why[200]) {
    double mm;
    char reason[160], least[64], most[64];
    if (!shop_parse_length(text, strlen(text), unit, field->type == SHOP_TYPE_WEIGHT, &mm, reason)) {
        snprintf(why, 200, "%s: %s", field->label, reason);
        return false;
    }
    if (mm < field->least - BW_EPS || mm > field->most + BW_EPS) {
        shop_show_length(field->least, unit, least, sizeof least);
        shop_show_length(field->most, unit, most, sizeof most);
        snprintf(why, 200, "%s: lies between %s and %s.", field->label, least, most);
        return false;
    }
    return true;
}

bool tool_new_flow(const shop_project *project, bw_kind kind, const char *length, const char *across, char id[64],
                   char out[ROW_TEXT], char why[200]) {
    const char *size = kind == BW_IRON ? "pitch" : "length";
    if (length[0] == '\0') {
        snprintf(why, 200, "A %s needs its %s.", kind_words(kind), size);
        return false;
    }
    if (!field_fits(size_field(kind, kind == BW_IRON ? "tools[].pitch" : "tools[].length"), project->units, length,
                    why)) {
        return false;
    }
    /* A border stamp has no usual shape: without its width it is taken as wide as it is long. */
    const char *width = across[0] != '\0' ? across : kind == BW_BORDER ? length : "";
    if (kind != BW_IRON && width[0] != '\0' &&
        !field_fits(size_field(kind, "tools[].width"), project->units, width, why)) {
        return false;
    }
    make_id(project, kind, length, id);
    snprintf(out, ROW_TEXT, "{id: %s, kind: %s, %s: %.60s%s%.60s}", id, kind_word(kind), size, length,
             kind != BW_IRON && width[0] != '\0' ? ", width: " : "", kind != BW_IRON ? width : "");
    return true;
}

/* ---- what a band holds ---- */

static const char *const fill_word[] = {"plain", "basket", "border", "stitch"};

/* A name that says what the band is, once. */
static void band_name(const shop_project *project, int fill, char out[64]) {
    static const char *const stems[] = {"plain", "weave", "border", "stitching"};
    snprintf(out, 64, "%s", stems[fill]);
    for (int i = 2; i < BW_BANDS_MOST + 10; i++) {
        bool taken = false;
        for (size_t k = 0; k < project->layout.band_count; k++) {
            taken = taken || strcmp(project->bands[k].name, out) == 0;
        }
        if (!taken) {
            return;
        }
        snprintf(out, 64, "%s %d", stems[fill], i);
    }
}

bool tool_id_written(const char *id, char out[TOOL_ID_ROOM]) {
    char *written = shop_write_scalar(id, strlen(id), SHOP_STYLE_PLAIN, true, true);
    int used = written == NULL ? -1 : snprintf(out, TOOL_ID_ROOM, "%s", written);
    free(written);
    return used >= 0 && used < TOOL_ID_ROOM;
}

#define BAND_FLOW (ROW_TEXT + TOOL_ID_ROOM)

/* Widths from which a maker starts; a border's is that of its stamp, rounded up to the dividers. */
static void band_flow(const shop_project *project, int fill, const char *tool, double tool_width, char out[BAND_FLOW]) {
    bool inches = project->units == SHOP_INCH;
    char name[64], width[64] = "", id[TOOL_ID_ROOM] = "";
    bool written = tool == NULL || tool_id_written(tool, id);
    band_name(project, fill, name);
    double grid = inches ? BW_GRID_INCH : BW_GRID_MM;
    double mm = fill == BW_FILL_BASKET   ? (inches ? 0.625 * BW_MM_PER_INCH : 16)
                : fill == BW_FILL_BORDER ? ceil(tool_width / grid - BW_EPS) * grid
                : fill == BW_FILL_PLAIN  ? (inches ? 0.125 * BW_MM_PER_INCH : 3)
                                         : 0;
    shop_write_length(mm, project->units, width, sizeof width);
    const char *space = fill != BW_FILL_STITCH ? "" : inches ? ", space: 0.125" : ", space: 3";
    snprintf(out, BAND_FLOW, "{name: %s%s%s%s, fill: %s%s%s}", name, space, mm > 0 ? ", width: " : "",
             mm > 0 ? width : "", fill_word[fill], tool != NULL && written ? ", tool: " : "", written ? id : "");
}

/* A stamp known by its length: into the file, and to the band that waits for it. */
bool tools_take_new(bench *b, const char *length) {
    const shop_project *project = desk_project(b->desk);
    char id[64], flow[ROW_TEXT], why[200], tool_path[40], path[ROW_TEXT], band[BAND_FLOW], fill_path[ROW_TEXT];
    if (!tool_new_flow(project, b->new_kind, length, "", id, flow, why)) {
        bench_refuse(b, "%s", why);
        return false;
    }
    snprintf(tool_path, sizeof tool_path, "tools[%zu]", project->own_tools + 1);
    shop_edit edits[3] = {{.path = tool_path, .new_text = flow}};
    size_t count = 1, at = b->new_at;
    char title[120];
    snprintf(title, sizeof title, "a new %s: %s", kind_words(b->new_kind), id);
    if (b->new_band) {
        double mm = 0;
        char reason[160];
        shop_parse_length(length, strlen(length), project->units, false, &mm, reason);
        band_flow(project, b->new_fill, id, mm, band);
        snprintf(path, sizeof path, "bands[%zu]", at + 1);
        edits[count++] = (shop_edit){.path = path, .new_text = band};
    } else {
        const char *name = project->bands[b->band].name;
        if (b->new_fill >= 0) {
            snprintf(fill_path, sizeof fill_path, "bands.%s.fill", name);
            snprintf(band, sizeof band, "%s", fill_word[b->new_fill]);
            edits[count++] = (shop_edit){.path = fill_path, .new_text = band};
        }
        snprintf(path, sizeof path, "bands.%s.tool", name);
        edits[count++] = (shop_edit){.path = path, .new_text = id};
    }
    bool fine = bench_edits(b, edits, count, title);
    if (fine && b->new_band) {
        b->card = at + 1;
        b->band = at;
        bench_take_field(b, "bands[].width");
    }
    return fine;
}

static void ask_for_tool(bench *b, bw_kind kind, int fill, bool band, size_t at) {
    b->new_kind = kind;
    b->new_fill = fill;
    b->new_band = band;
    b->new_at = at;
    bench_type(b, TYPING_NEW_TOOL, "");
    static const char *const asked[] = {
        [BW_BASKET] =
            "How long is the new basket stamp's face? Type it, then {typing.take}; what is not measured is estimated.",
        [BW_BORDER] =
            "How long is the new border stamp's face? Type it, then {typing.take}; it is taken as wide as it is long.",
        [BW_IRON] = "From tooth to tooth, what is the new iron's pitch? Type it, then {typing.take}."};
    bench_say(b, "%s", asked[kind]);
}

void tools_ask_new(bench *b) {
    bw_kind kind;
    if (bw_fill_kind(desk_project(b->desk)->bands[b->band].fill, &kind)) {
        ask_for_tool(b, kind, -1, false, 0);
    }
}

bool bench_set_fill(bench *b, int fill) {
    const shop_project *project = desk_project(b->desk);
    const bw_band *band = &project->bands[b->band];
    bw_kind kind;
    char fill_path[ROW_TEXT], tool_path[ROW_TEXT], word[16], title[200];
    snprintf(fill_path, sizeof fill_path, "bands.%s.fill", band->name);
    snprintf(tool_path, sizeof tool_path, "bands.%s.tool", band->name);
    snprintf(word, sizeof word, "%s", fill_word[fill]);
    snprintf(title, sizeof title, "%s fill %s -> %s", band->name, fill_word[band->fill], fill_word[fill]);
    shop_edit edits[4] = {{.path = fill_path, .new_text = word}};
    size_t count = 1;
    if (!bw_fill_kind((bw_fill)fill, &kind)) {
        edits[count++] = (shop_edit){.path = tool_path};
        return bench_edits(b, edits, count, title);
    }
    int tool = tool_first(project, kind);
    if (tool < 0) {
        ask_for_tool(b, kind, fill, false, 0);
        return true;
    }
    char id[BW_NAME_MOST * 4 + 1];
    snprintf(id, sizeof id, "%s", project->tools[tool].id);
    edits[count++] = (shop_edit){.path = tool_path, .new_text = id};
    return bench_band_edits(b, edits, count, title);
}

/* A new band of this fill inside the one in hand, with the first tool that fits. */
void bench_add_band(bench *b, int fill) {
    const shop_project *project = desk_project(b->desk);
    size_t at = bench_card_band(b) == SIZE_MAX ? project->layout.band_count : bench_card_band(b) + 1;
    bw_kind kind;
    char flow[BAND_FLOW], path[40], title[100];
    bool needs = bw_fill_kind((bw_fill)fill, &kind);
    int tool = needs ? tool_first(project, kind) : -1;
    if (needs && tool < 0) {
        ask_for_tool(b, kind, fill, true, at);
        return;
    }
    band_flow(project, fill, needs ? project->tools[tool].id : NULL,
              needs && kind == BW_BORDER ? project->tools[tool].width : 0, flow);
    snprintf(path, sizeof path, "bands[%zu]", at + 1);
    snprintf(title, sizeof title, "a %s band added", fill_word[fill]);
    shop_edit edit = {.path = path, .new_text = flow};
    if (bench_band_edits(b, &edit, 1, title)) {
        b->card = at + 1;
        b->band = at;
        bench_take_field(b, fill == BW_FILL_STITCH ? "bands[].space" : "bands[].width");
    }
}
