/* fields.c - which values there are to what is in hand: the piece, a band or a stamp, from the one table of fields. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"

size_t bench_cards(const bench *b) {
    const shop_project *project = desk_project(b->desk);
    return 1 + project->layout.band_count + project->own_tools;
}

size_t bench_card_band(const bench *b) {
    size_t bands = desk_project(b->desk)->layout.band_count;
    return b->card >= 1 && b->card <= bands ? b->card - 1 : SIZE_MAX;
}

const bw_band_plan *bench_band_plan(const bench *b) {
    const bw_plan *plan = b->desk == NULL ? NULL : desk_plan(b->desk);
    return plan == NULL || b->band >= plan->band_count ? NULL : &plan->bands[b->band];
}

/* ---- which fields there are ---- */

/* Of the inventory itself: what its file has beside the tools. */
static bool stock_has(const shop_field *field) {
    return field->type != SHOP_TYPE_FORMAT && shop_inventory_has(field->path);
}

static bool piece_has(const shop_project *project, const shop_field *field) {
    const bw_outline *outline = &project->layout.outline;
    return field->type != SHOP_TYPE_FORMAT && (strncmp(field->path, "outline.", 8) != 0 || field->kinds == 0 ||
                                               (field->kinds & 1u << outline->shape) != 0);
}

/* What has no bearing as the band is now only takes room; but what stands in the file is shown. */
static bool band_has(const shop_project *project, const bw_band *band, const shop_field *field, const char *path) {
    const char *key = field->path + strlen("bands[].");
    bool bears = strcmp(key, "slant") == 0         ? band->lay == BW_LAY_ANGLED
                 : strcmp(key, "anchors") == 0     ? band->lose == BW_LOSE_ANCHORED
                 : strcmp(key, "outer.bevel") == 0 ? band->outer.line == BW_MARK_CUT
                 : strcmp(key, "inner.bevel") == 0 ? band->inner.line == BW_MARK_CUT
                                                   : field->type != SHOP_TYPE_LIST;
    if (field->kinds != 0 && (field->kinds & 1u << band->fill) == 0) {
        return false;
    }
    char *given = bears ? NULL : shop_text_get(project->text, path);
    bool stands = given != NULL;
    free(given);
    return bears || stands;
}

static bool tool_has(const shop_project *project, const bw_tool *tool, const shop_field *field, const char *path) {
    char *given = field->type == SHOP_TYPE_LIST ? shop_text_get(project->text, path) : NULL;
    bool stands = field->type != SHOP_TYPE_LIST || given != NULL;
    free(given);
    return stands && (field->kinds == 0 || (field->kinds & 1u << tool->kind) != 0);
}

bool card_path(const bench *b, const shop_field *field, char path[ROW_TEXT]) {
    const shop_project *project = desk_project(b->desk);
    size_t bands = project->layout.band_count;
    shop_owner owner = b->card == 0 ? SHOP_OF_PROJECT : b->card <= bands ? SHOP_OF_BAND : SHOP_OF_TOOL;
    shop_owner of = field->owner == SHOP_OF_RATES ? SHOP_OF_PROJECT : field->owner;
    if (of != owner) {
        return false;
    }
    if (owner == SHOP_OF_PROJECT) {
        snprintf(path, ROW_TEXT, "%s", field->path);
        return desk_is_inventory(b->desk) ? stock_has(field) : piece_has(project, field);
    }
    if (owner == SHOP_OF_BAND) {
        const bw_band *band = &project->bands[b->card - 1];
        snprintf(path, ROW_TEXT, "bands.%s.%s", band->name, field->path + strlen("bands[]."));
        return band_has(project, band, field, path);
    }
    const bw_tool *tool = &project->tools[b->card - 1 - bands];
    snprintf(path, ROW_TEXT, "tools.%s.%s", tool->id, field->path + strlen("tools[]."));
    bool list = b->shelf.of != NULL && field->type == SHOP_TYPE_LIST; /* there lists can be begun, too */
    return tool_has(project, tool, field, path) || (list && (field->kinds & 1u << tool->kind) != 0);
}

void card_read(const bench *b, bench_card *card) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    card->count = 0;
    for (size_t i = 0; i < count && card->count < ROWS_MOST; i++) {
        bench_row *row = &card->rows[card->count];
        row->field = &fields[i];
        if (card_path(b, &fields[i], row->path)) {
            row_fill(b, row);
            card->count++;
        }
    }
}
