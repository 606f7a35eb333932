/* fields.c - the values of what is in hand: the piece, a band or a stamp, from the one table of fields. */
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

/* A circle is given in one of three ways; the file shows which. */
static bool circle_form_used(const bw_outline *outline, const char *key) {
    if (strcmp(key, "diameter") == 0) {
        return !isnan(outline->diameter) || (isnan(outline->around) && isnan(outline->chord));
    }
    if (strcmp(key, "around") == 0) {
        return !isnan(outline->around);
    }
    return !isnan(outline->chord);
}

static bool piece_has(const shop_project *project, const shop_field *field) {
    static const char *const left_out[] = {"bandwright-project", "bandwright-inventory", "units"};
    for (size_t i = 0; i < sizeof left_out / sizeof left_out[0]; i++) {
        if (strcmp(field->path, left_out[i]) == 0) {
            return false;
        }
    }
    const bw_outline *outline = &project->layout.outline;
    if (strncmp(field->path, "outline.", 8) == 0 && field->kinds != 0) {
        return (field->kinds & 1u << outline->shape) != 0 &&
               (outline->shape != BW_CIRCLE || circle_form_used(outline, field->path + 8));
    }
    return true;
}

/* What has no bearing as the band is now only takes room. */
static bool band_has(const bw_band *band, const shop_field *field) {
    const char *key = field->path + strlen("bands[].");
    if (field->kinds != 0 && (field->kinds & 1u << band->fill) == 0) {
        return false;
    }
    if (strcmp(key, "slant") == 0) {
        return band->lay == BW_LAY_ANGLED;
    }
    if (strcmp(key, "anchors") == 0) {
        return band->lose == BW_LOSE_ANCHORED;
    }
    if (strcmp(key, "outer.bevel") == 0) {
        return band->outer.line == BW_MARK_CUT;
    }
    return strcmp(key, "inner.bevel") != 0 || band->inner.line == BW_MARK_CUT;
}

/* The place of a field's value for the card in hand; false if the card has no such field. */
static bool row_path(const bench *b, const shop_field *field, char path[ROW_TEXT]) {
    const shop_project *project = desk_project(b->desk);
    size_t bands = project->layout.band_count;
    shop_owner owner = b->card == 0 ? SHOP_OF_PROJECT : b->card <= bands ? SHOP_OF_BAND : SHOP_OF_TOOL;
    if (field->owner != owner || field->type == SHOP_TYPE_LIST) {
        return false;
    }
    if (owner == SHOP_OF_PROJECT) {
        snprintf(path, ROW_TEXT, "%s", field->path);
        return piece_has(project, field);
    }
    if (owner == SHOP_OF_BAND) {
        const bw_band *band = &project->bands[b->card - 1];
        snprintf(path, ROW_TEXT, "bands.%s.%s", band->name, field->path + strlen("bands[]."));
        return band_has(band, field);
    }
    const bw_tool *tool = &project->tools[b->card - 1 - bands];
    snprintf(path, ROW_TEXT, "tools.%s.%s", tool->id, field->path + strlen("tools[]."));
    return field->kinds == 0 || (field->kinds & 1u << tool->kind) != 0;
}

/* ---- what they say ---- */

static bool is_fixed(const shop_project *project, const char *path) {
    for (size_t i = 0; i < project->fixed_count; i++) {
        const shop_string *one = &project->fixed[i];
        size_t length = one->length;
        if (strncmp(path, one->bytes, length) == 0 &&
            (path[length] == '\0' || path[length] == '.' || path[length] == '[')) {
            return true;
        }
    }
    return false;
}

/* A value that is not in the file and has no fixed default, but that the plan knows. */
static void planned_value(const bench *b, bench_row *row) {
    size_t band = bench_card_band(b);
    const bw_band_plan *plan = band == SIZE_MAX ? NULL : &desk_plan(b->desk)->bands[band];
    if (plan != NULL && strcmp(row->field->path, "bands[].overlap") == 0) {
        snprintf(row->text, sizeof row->text, "%.0f %%", 100 * plan->overlap);
    }
}

/* "auto" says how many that are. */
static void count_words(const bench *b, bench_row *row) {
    size_t band = bench_card_band(b);
    if (band != SIZE_MAX && row->field->type == SHOP_TYPE_COUNT && strcmp(row->text, "auto") == 0) {
        snprintf(row->words, sizeof row->words, "auto: %d", show_impressions(desk_plan(b->desk), band));
    }
}

/* Whole lists and drawn paths may be long and hold line breaks: shown as one line, cut with "...". */
static void long_words(bench_row *row, const char *text) {
    size_t used = 0, room = sizeof row->words - 4;
    bool blank = false;
    for (; *text != '\0' && used < room; text++) {
        bool space = *text == ' ' || *text == '\n' || *text == '\t' || *text == '\r';
        if (!space) {
            if (blank && used > 0) {
                row->words[used++] = ' ';
            }
            row->words[used++] = *text;
        }
        blank = space;
    }
    while (*text != '\0' && used > 0 && ((unsigned char)row->words[used - 1] & 0xC0) == 0x80) {
        used--; /* not in the middle of a character */
    }
    snprintf(row->words + used, sizeof row->words - used, "%s", *text != '\0' ? "..." : "");
}

static void row_fill(const bench *b, bench_row *row) {
    const shop_project *project = desk_project(b->desk);
    char *given = shop_text_get(project->text, row->path);
    char *text = given != NULL ? NULL : shop_project_get(project, row->path);
    const char *found = given != NULL ? given : text;
    row->given = given != NULL;
    row->fixed = is_fixed(project, row->path);
    row->cut = found != NULL && strlen(found) >= sizeof row->text;
    snprintf(row->text, sizeof row->text, "%s", found != NULL ? found : "");
    if (found == NULL) {
        planned_value(b, row);
    }
    char *words = desk_value_words(row->field, project->units, row->text);
    snprintf(row->words, sizeof row->words, "%s", words != NULL ? words : row->text);
    if (row->field->type == SHOP_TYPE_SVG || row->field->type == SHOP_TYPE_CORNERS) {
        long_words(row, found != NULL ? found : "");
    }
    count_words(b, row);
    free(words);
    free(text);
    free(given);
}

void card_read(const bench *b, bench_card *card) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    card->count = 0;
    for (size_t i = 0; i < count && card->count < ROWS_MOST; i++) {
        bench_row *row = &card->rows[card->count];
        row->field = &fields[i];
        if (row_path(b, &fields[i], row->path)) {
            row_fill(b, row);
            card->count++;
        }
    }
}
