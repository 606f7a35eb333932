/* change.c - values that bring others with them: units, the kind of a stamp, what a round piece is given by. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"
#include "shop/alloc.h"

#define UNKNOWN_SIZE 9 /* mm: a stamp of which nothing is known yet */

/* ---- a list of edits that grows ---- */

typedef struct change {
    shop_edit *list;
    size_t count;
    bool failed;
} change;

static void add(change *c, const char *path, const char *text) {
    shop_edit *more = c->failed ? NULL : shop_resize(c->list, (c->count + 1) * sizeof *more);
    if (more == NULL) {
        c->failed = true;
        return;
    }
    c->list = more;
    shop_edit *one = &c->list[c->count++];
    *one = (shop_edit){.path = shop_copy(path, strlen(path)),
                       .new_text = text != NULL ? shop_copy(text, strlen(text)) : NULL};
    c->failed = one->path == NULL || (text != NULL && one->new_text == NULL);
}

/* One undo step of them all. */
static bool done(bench *b, change *c, const char *title) {
    bool fine = !c->failed && bench_edits(b, c->list, c->count, title);
    if (c->failed) {
        bench_refuse(b, "out of memory");
    }
    for (size_t i = 0; i < c->count; i++) {
        shop_edit_free(&c->list[i]);
    }
    free(c->list);
    return fine;
}

static bool stands(const shop_project *project, const char *path) {
    char *text = shop_text_get(project->text, path);
    bool there = text != NULL;
    free(text);
    return there;
}

/* ---- units ---- */

/* "[5, 5 mm]" -> "[5 in, 5 mm]": every number without a unit gets one. */
static char *with_unit(const char *text, const char *unit) {
    shop_buffer out = {0};
    for (const char *at = text; *at != '\0';) {
        size_t length = strcspn(at, "[]{},");
        size_t size = length;
        while (size > 0 && at[size - 1] == ' ') {
            size--;
        }
        bool quoted =
            size > 1 && (at[size - 1] == '"' || at[size - 1] == '\'') && memchr(at, at[size - 1], size - 1) != NULL;
        size_t digits = quoted ? size - 1 : size;
        bool bare = digits > 0 && (at[digits - 1] == '.' || (at[digits - 1] >= '0' && at[digits - 1] <= '9'));
        shop_buffer_add(&out, at, bare ? digits : length);
        if (bare) {
            shop_buffer_text(&out, unit);
            shop_buffer_add(&out, at + digits, length - digits);
        }
        at += length;
        shop_buffer_add(&out, at, *at != '\0');
        at += *at != '\0';
    }
    return shop_buffer_take(&out, NULL);
}

static void unit_edit(const bench *b, const char *path, const char *unit, change *c) {
    char *text = shop_text_get(desk_project(b->desk)->text, path);
    char *made = text == NULL ? NULL : with_unit(text, unit);
    if (text != NULL && made == NULL) {
        c->failed = true;
    } else if (text != NULL && strcmp(text, made) != 0) {
        add(c, path, made);
    }
    free(made);
    free(text);
}

/* The lengths of every item of a list of mappings: strips, rounds, what was struck. */
static void unit_list(const bench *b, const shop_field *list, const char *path, const char *unit, change *c) {
    size_t count, front = strlen(list->path);
    const shop_field *fields = shop_fields(&count);
    char *text = shop_text_get(desk_project(b->desk)->text, path), item[ROW_TEXT * 2];
    size_t items = text != NULL ? flow_count(text) : 0;
    for (size_t i = 0; i < items; i++) {
        for (size_t k = 0; k < count; k++) {
            bool below = strncmp(fields[k].path, list->path, front) == 0 && fields[k].path[front] == '[';
            if (below && shop_field_has_unit(&fields[k])) {
                snprintf(item, sizeof item, "%s[%zu].%s", path, i + 1, fields[k].path + front + strlen("[]."));
                unit_edit(b, item, unit, c);
            }
        }
    }
    free(text);
}

/* The bare numbers keep what they mean: each gets the unit that it had until now. */
static bool set_units(bench *b, const char *word) {
    const shop_project *project = desk_project(b->desk);
    const char *unit = project->units == SHOP_MM ? " mm" : " in";
    change c = {0};
    size_t count, cards = bench_cards(b), card = b->card;
    const shop_field *fields = shop_fields(&count);
    if ((strcmp(word, "mm") == 0) == (project->units == SHOP_MM)) {
        return bench_change(b, "units", word);
    }
    for (b->card = 0; b->card < cards; b->card++) {
        for (size_t i = 0; i < count; i++) {
            char path[ROW_TEXT];
            if ((!shop_field_has_unit(&fields[i]) && fields[i].type != SHOP_TYPE_LIST) ||
                !card_path(b, &fields[i], path)) {
                continue;
            }
            if (fields[i].type == SHOP_TYPE_LIST) {
                unit_list(b, &fields[i], path, unit, &c);
            } else {
                unit_edit(b, path, unit, &c);
            }
        }
    }
    b->card = card;
    add(&c, "units", word);
    char title[120];
    snprintf(title, sizeof title, "units -> %.8s; every length as it was", word);
    return done(b, &c, title);
}

/* ---- the kind of a tool ---- */

static const bw_tool *tool_in_hand(const bench *b, size_t *index) {
    const shop_project *project = desk_project(b->desk);
    *index = b->card - 1 - project->layout.band_count;
    return &project->tools[*index];
}

static bool kind_has(const char *pattern, bw_kind kind) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(fields[i].path, pattern) == 0 && (fields[i].kinds == 0 || (fields[i].kinds & 1u << kind) != 0)) {
            return true;
        }
    }
    return false;
}

/* "bar, rail" */
static void add_lost(char lost[120], const char *label) {
    size_t used = strlen(lost);
    snprintf(lost + used, 120 - used, "%s%s", used > 0 ? ", " : "", label);
}

/* What the new kind does not have goes, and is told; what it needs comes from the old size. */
static void kind_edits(const shop_project *project, const bw_tool *tool, bw_kind kind, change *c, char lost[120]) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    char path[ROW_TEXT], size_path[ROW_TEXT], text[64];
    bool steps = kind_has("tools[].steps.usual", kind);
    double size = !isnan(tool->length) ? tool->length : !isnan(tool->pitch) ? tool->pitch : UNKNOWN_SIZE;
    snprintf(size_path, sizeof size_path, "tools.%s.steps", tool->id);
    if (!steps && stands(project, size_path)) {
        add(c, size_path, NULL);
        add_lost(lost, "steps");
    }
    for (size_t i = 0; i < count; i++) {
        const shop_field *field = &fields[i];
        if (field->owner != SHOP_OF_TOOL || field->kinds == 0) {
            continue;
        }
        const char *key = field->path + strlen("tools[].");
        snprintf(path, sizeof path, "tools.%s.%s", tool->id, key);
        bool there = stands(project, path), of_old = (field->kinds & 1u << tool->kind) != 0;
        bool of_new = (field->kinds & 1u << kind) != 0;
        if (there && of_old && !kind_has(field->path, kind) && strncmp(key, "steps.", 6) != 0) {
            add(c, path, NULL);
            add_lost(lost, field->label);
        } else if (!there && of_new && field->needed) {
            shop_write_length(fmin(size, field->most), project->units, text, sizeof text);
            add(c, path, text);
        }
    }
}

static bool set_kind(bench *b, const bench_row *row, const char *word) {
    const shop_project *project = desk_project(b->desk);
    size_t index;
    const bw_tool *tool = tool_in_hand(b, &index);
    bw_kind kind = tool->kind;
    for (int i = 0; row->field->words[i] != NULL; i++) {
        kind = strcmp(row->field->words[i], word) == 0 ? (bw_kind)i : kind;
    }
    for (size_t i = 0; i < project->layout.band_count && kind != tool->kind; i++) {
        if (project->bands[i].tool == (int)index) {
            bench_refuse(b, "%s fills %s and stays a %s; give that band another first ({workbench.stamp}).", tool->id,
                         project->bands[i].name, kind_words(tool->kind));
            return false;
        }
    }
    change c = {0};
    char title[240], lost[120] = "";
    add(&c, row->path, word);
    kind_edits(project, tool, kind, &c, lost);
    snprintf(title, sizeof title, "%.50s kind -> %.12s%s%s", tool->id, word, lost[0] != '\0' ? "; it loses " : "",
             lost);
    return done(b, &c, title);
}

/* ---- a round piece ---- */

/* One way of giving it takes the place of the others; of a chord and its depth the missing one comes from the round as
 * it is: chord^2 = 4 depth (diameter - depth) (Euclid III.35). */
static bool set_circle(bench *b, const bench_row *row, const char *text) {
    static const char *const ways[] = {"outline.diameter", "outline.around", "outline.chord", "outline.depth"};
    const shop_project *project = desk_project(b->desk);
    const bw_outline *outline = &project->layout.outline;
    bool chord = strcmp(row->path, ways[2]) == 0, depth = strcmp(row->path, ways[3]) == 0;
    if (row->given || (depth && !isnan(outline->chord)) || (chord && !isnan(outline->depth))) {
        return bench_change(b, row->path, text);
    }
    char why[200], other[64], title[80];
    double mm = 0, across = outline_across(b);
    if (!field_fits(row->field, project->units, text, why)) {
        bench_refuse(b, "%s", why);
        return false;
    }
    shop_parse_length(text, strlen(text), project->units, false, &mm, why);
    if ((chord || depth) && mm > across + BW_EPS) {
        shop_show_length(across, project->units, other, sizeof other);
        bench_refuse(b, "%.40s: no %s of this piece is longer than its diameter of %s.", text, row->field->label,
                     other);
        return false;
    }
    change c = {0};
    for (int i = 0; i < 4; i++) {
        bool kept = strcmp(ways[i], row->path) == 0 || ((chord || depth) && i >= 2);
        if (!kept && stands(project, ways[i])) {
            add(&c, ways[i], NULL);
        }
    }
    if (chord || depth) {
        double rest = chord ? (across - sqrt(fmax(across * across - mm * mm, 0))) / 2 : 2 * sqrt(mm * (across - mm));
        shop_write_length(rest, project->units, other, sizeof other);
        add(&c, ways[chord ? 3 : 2], other);
    }
    add(&c, row->path, text);
    snprintf(title, sizeof title, "%s %.40s in place of what was given", row->field->label, text);
    return done(b, &c, title);
}

/* ---- ends ---- */

void end_text(const char *typed, char out[ROW_TEXT]) {
    const char *at = typed + strspn(typed, " ");
    bool named = strncmp(at, "point", 5) == 0;
    const char *length = named ? at + 5 + strspn(at + 5, ": ") : at;
    bool number = (*length >= '0' && *length <= '9') || *length == '.' || *length == '-' || *length == '+';
    snprintf(out, ROW_TEXT, number ? "{point: %.200s}" : "%.200s", number ? length : at);
}

/* ---- the one way in ---- */

static int word_index(const char *const *words, const char *text) {
    for (int i = 0; words[i] != NULL; i++) {
        if (strcmp(words[i], text) == 0) {
            return i;
        }
    }
    return 0;
}

/* A tool that only the inventory has is copied into the project. */
static bool choose_tool(bench *b, const char *id) {
    const shop_project *project = desk_project(b->desk);
    shop_problems problems;
    shop_problems_init(&problems, "");
    double gap = bench_gap(b);
    int tool = -1;
    for (size_t i = 0; i < project->layout.tool_count; i++) {
        tool = strcmp(project->tools[i].id, id) == 0 ? (int)i : tool;
    }
    bool fine = desk_choose_tool(b->desk, b->band, tool, &problems);
    if (fine) {
        shop_problems_free(&problems);
        bench_tell_change(b, gap);
    } else {
        bench_refuse_problem(b, &problems);
    }
    return fine;
}

bool bench_set_value(bench *b, const bench_row *row, const char *text) {
    const char *pattern = row->field->path;
    char end[ROW_TEXT];
    if (text == NULL && strcmp(pattern, "units") == 0) {
        text = row->field->fallback; /* no unit is that one, too: lengths stay what they are */
    }
    if (text == NULL) {
        return bench_change(b, row->path, NULL);
    }
    if (strcmp(pattern, "bands[].fill") == 0) {
        return bench_set_fill(b, word_index(row->field->words, text));
    }
    if (strcmp(pattern, "bands[].tool") == 0) {
        return choose_tool(b, text);
    }
    if (strcmp(pattern, "outline.shape") == 0) {
        return bench_set_shape(b, text);
    }
    if (strcmp(pattern, "units") == 0) {
        return set_units(b, text);
    }
    if (strcmp(pattern, "tools[].kind") == 0) {
        return set_kind(b, row, text);
    }
    if (row->field->owner == SHOP_OF_PROJECT && row->field->kinds == 1u << BW_CIRCLE) {
        return set_circle(b, row, text);
    }
    if (row->field->type == SHOP_TYPE_END) {
        end_text(text, end);
        return bench_change(b, row->path, end);
    }
    return bench_change(b, row->path, text);
}
