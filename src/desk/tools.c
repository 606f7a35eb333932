/* tools.c - tools as edits: as flow text for another file, chosen for a band, copied, given from one file to another.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "desk/tools.h"
#include "shop/edit.h"

static bool tool_is_own(const desk *d, int tool) {
    return tool >= 0 && (size_t)tool < d->project->own_tools;
}

static bool is_bare(const char *text) {
    size_t length = strlen(text);
    return length > 0 && (text[length - 1] == '.' || (text[length - 1] >= '0' && text[length - 1] <= '9'));
}

/* A value with the unit of its file made plain where the other file's is another. malloc'ed. */
static char *value_for(const shop_field *field, const char *text, shop_unit unit, shop_unit to) {
    bool bare = unit != to && field->type == SHOP_TYPE_LENGTH && is_bare(text);
    return desk_say("%s%s", text, !bare ? "" : unit == SHOP_INCH ? " in" : " mm");
}

/* What stands at a path of the table of fields ("tools[].strips"), for a file of another unit. malloc'ed. */
static char *flow_in(const shop_text *from, const char *path, const char *field, shop_unit unit) {
    shop_found found;
    return shop_find(from, path, &found) && found.node != NULL ? shop_write_flow_units(found.node, field, unit) : NULL;
}

static bool has_field(const shop_field *field, bw_kind kind) {
    return field->owner == SHOP_OF_TOOL && strncmp(field->path, "tools[].", 8) == 0 &&
           (field->kinds == 0 || (field->kinds & 1u << kind) != 0);
}

char *desk_tool_flow(const shop_text *from, shop_unit unit, const bw_tool *tool, shop_unit to) {
    char *path = desk_say("tools.%s", tool->id);
    char *text = path == NULL ? NULL : unit == to ? shop_text_get(from, path) : flow_in(from, path, "tools[]", unit);
    free(path);
    return text;
}

static char *flow_of_inventory(const desk *d, int tool) {
    return d->inventory == NULL
               ? NULL
               : desk_tool_flow(d->inventory->text, d->inventory->units, &d->project->tools[tool], d->project->units);
}

/* Which band's name or tool's id a path is; -1 if it is none. */
static int item_of_path(const desk *d, const char *path, bool tools) {
    size_t count = tools ? d->project->own_tools : d->project->layout.band_count;
    for (size_t i = 0; i < count; i++) {
        const char *name = tools ? d->project->tools[i].id : d->project->bands[i].name;
        char *named = desk_say("%s.%s.%s", tools ? "tools" : "bands", name, tools ? "id" : "name");
        char *counted = desk_say("%s[%zu].%s", tools ? "tools" : "bands", i + 1, tools ? "id" : "name");
        bool found = (named != NULL && strcmp(named, path) == 0) || (counted != NULL && strcmp(counted, path) == 0);
        free(named);
        free(counted);
        if (found) {
            return (int)i;
        }
    }
    return -1;
}

/* Is it the path of this band or tool ("bands.weave"), or of something of it? */
static bool is_of(const shop_string *path, const char *front) {
    size_t length = front != NULL ? strlen(front) : 0;
    return length > 0 && path->length >= length && memcmp(path->bytes, front, length) == 0 &&
           (path->length == length || path->bytes[length] == '.');
}

void desk_unfix(const desk *d, bool tool, const char *name, desk_edits *list) {
    char *front = desk_say("%s.%s", tool ? "tools" : "bands", name);
    size_t count = d->project->fixed_count, of_it = 0;
    for (size_t i = 0; i < count; i++) {
        of_it += is_of(&d->project->fixed[i], front);
    }
    if (of_it > 0 && of_it == count) { /* the key goes with the last */
        desk_edits_add(list, shop_copy("fixed", 5), NULL, true);
    }
    for (size_t i = count; i > 0 && of_it < count; i--) {
        if (is_of(&d->project->fixed[i - 1], front)) {
            desk_edits_add(list, desk_say("fixed[%zu]", i), NULL, true);
        }
    }
    list->failed = list->failed || front == NULL;
    free(front);
}

/* What is kept from suggestions is kept under the new name, too. */
static void follow_fixed(const desk *d, bool tools, const char *name, const char *new_text, desk_edits *list) {
    char *front = desk_say("%s.%s", tools ? "tools" : "bands", name);
    size_t length = front != NULL ? strlen(front) : 0;
    for (size_t i = 0; i < d->project->fixed_count; i++) {
        const shop_string *one = &d->project->fixed[i];
        if (is_of(one, front)) {
            desk_edits_add(list, desk_say("fixed[%zu]", i + 1),
                           desk_say("%.6s%s%.*s", front, new_text, (int)(one->length - length), one->bytes + length),
                           false);
        }
    }
    free(front);
}

void desk_follow_id(const desk *d, const char *path, const char *new_text, desk_edits *list) {
    int tool = new_text == NULL ? -1 : item_of_path(d, path, true);
    int band = new_text == NULL ? -1 : item_of_path(d, path, false);
    for (size_t i = 0; tool >= 0 && i < d->project->layout.band_count; i++) {
        if (d->project->layout.bands[i].tool == tool) {
            desk_edits_add(list, desk_band_path(d, i, "tool"), shop_copy(new_text, strlen(new_text)), false);
        }
    }
    if (tool >= 0 && d->project->dividers == tool) {
        desk_edits_add(list, shop_copy("dividers", 8), shop_copy(new_text, strlen(new_text)), false);
    }
    if (tool >= 0 || band >= 0) {
        follow_fixed(d, tool >= 0, tool >= 0 ? d->project->tools[tool].id : d->project->bands[band].name, new_text,
                     list);
    }
}

bool desk_tool_edits(const desk *d, size_t band, int tool, desk_edits *list, shop_problems *problems) {
    if (band >= d->project->layout.band_count) {
        desk_refuse(problems, "there is no such band");
        return false;
    }
    if (tool < 0 || (size_t)tool >= d->project->layout.tool_count) {
        desk_refuse(problems, "there is no such tool");
        return false;
    }
    const char *id = d->project->tools[tool].id;
    if (!tool_is_own(d, tool)) {
        desk_edits_add(list, desk_say("tools[%zu]", d->project->own_tools + 1), flow_of_inventory(d, tool), false);
    }
    desk_edits_add(list, desk_band_path(d, band, "tool"), shop_copy(id, strlen(id)), false);
    if (list->failed) {
        desk_no_memory(problems);
    }
    return !list->failed;
}

/* ---- the same tool in two files ---- */

int desk_tool_find(const desk *d, const char *id) {
    for (size_t i = 0; i < d->project->own_tools; i++) {
        if (strcmp(d->project->tools[i].id, id) == 0) {
            return (int)i;
        }
    }
    return -1;
}

void desk_edits_release(desk_edits *list) {
    desk_edits_free(list->edits, list->count);
    *list = (desk_edits){0};
}

/* Strips or rounds as a file of this unit would hold them; NULL without memory, or if they are none. */
static shop_inventory *strips_of(const shop_field *field, const char *text, shop_unit unit) {
    shop_problems quiet;
    shop_problems_init(&quiet, "strips");
    char *file =
        desk_say("{bandwright-inventory: 1, units: %s, tools: [{id: t, kind: border, length: 1 mm, width: 1 mm, "
                 "%s: %s}]}",
                 unit == SHOP_INCH ? "in" : "mm", field->path + strlen("tools[]."), text);
    shop_inventory *made = file == NULL ? NULL : shop_inventory_read(file, strlen(file), &quiet);
    free(file);
    shop_problems_free(&quiet);
    return made;
}

static bool same_strips(const shop_field *field, const char *a, shop_unit a_unit, const char *b, shop_unit b_unit) {
    shop_inventory *one = strips_of(field, a, a_unit), *other = strips_of(field, b, b_unit);
    bool same = one != NULL && other != NULL && shop_same_strips(&one->tools[0], &other->tools[0]);
    shop_inventory_free(one);
    shop_inventory_free(other);
    return same;
}

bool desk_same_value(const shop_field *field, const char *a, shop_unit a_unit, const char *b, shop_unit b_unit) {
    double x, y;
    char reason[160];
    if (a == NULL || b == NULL) {
        return a == b;
    }
    if (field->type == SHOP_TYPE_LIST && a_unit != b_unit) {
        return same_strips(field, a, a_unit, b, b_unit);
    }
    size_t a_length = strlen(a), b_length = strlen(b);
    if (field->type == SHOP_TYPE_LENGTH && shop_parse_length(a, a_length, a_unit, false, &x, reason) &&
        shop_parse_length(b, b_length, b_unit, false, &y, reason)) {
        return fabs(x - y) <= BW_EPS;
    }
    if (field->type == SHOP_TYPE_SHARE && shop_parse_share(a, a_length, &x, reason) &&
        shop_parse_share(b, b_length, &y, reason)) {
        return fabs(x - y) <= BW_EPS;
    }
    return strcmp(a, b) == 0;
}

/* The id is what both share; kinds are told apart before; whether a tool is offered is each file's own matter. */
static bool is_given(const shop_field *field) {
    const char *key = field->path + strlen("tools[].");
    return strcmp(key, "id") != 0 && strcmp(key, "kind") != 0 && strcmp(key, "retired") != 0;
}

static void give_key(const desk *from, const desk *to, const char *id, const shop_field *field, desk_edits *list) {
    shop_unit unit = from->project->units, to_unit = to->project->units;
    char *path = desk_say("tools.%s.%s", id, field->path + strlen("tools[]."));
    char *text = path == NULL ? NULL : shop_text_get(from->project->text, path);
    char *old = path == NULL ? NULL : shop_text_get(to->project->text, path);
    if (path != NULL && desk_same_value(field, text, unit, old, to_unit)) {
        free(path);
    } else {
        desk_edits_add(list, path, text == NULL ? NULL : value_for(field, text, unit, to_unit), text == NULL);
    }
    free(old);
    free(text);
}

/* The n-th strip or round of a tool as its own list has it. */
static char *strip_flow(const desk *from, const bw_tool *tool, size_t n, shop_unit to) {
    const shop_text *text = from->project->text;
    const char *list = tool->strips[n].round ? "rounds" : "strips";
    size_t before = 0;
    for (size_t i = 0; i < n; i++) {
        before += tool->strips[i].round == tool->strips[n].round;
    }
    char *path = desk_say("tools.%s.%s[%zu]", tool->id, list, before + 1);
    char *flow = path == NULL ? NULL
                 : from->project->units == to
                     ? shop_text_get(text, path)
                     : flow_in(text, path, tool->strips[n].round ? "tools[].rounds[]" : "tools[].strips[]",
                               from->project->units);
    free(path);
    return flow;
}

/* What was measured is a fact that neither file may lose: the other's strips and rounds come to its own, each once. */
static void give_strips(const desk *from, const bw_tool *tool, const bw_tool *other, shop_unit to, desk_edits *list) {
    size_t counts[2] = {0, 0};
    bool *used = shop_alloc(other->strip_count + 1);
    for (size_t i = 0; used != NULL && i < other->strip_count; i++) {
        used[i] = false;
        counts[other->strips[i].round]++;
    }
    list->failed = list->failed || used == NULL;
    for (size_t i = 0; !list->failed && i < tool->strip_count; i++) {
        bool round = tool->strips[i].round, there = false;
        for (size_t j = 0; j < other->strip_count && !there; j++) {
            there = !used[j] && shop_same_strip(&tool->strips[i], &other->strips[j]);
            used[j] = used[j] || there;
        }
        if (!there) {
            desk_edits_add(list, desk_say("tools.%s.%s[%zu]", tool->id, round ? "rounds" : "strips", ++counts[round]),
                           strip_flow(from, tool, i, to), false);
        }
    }
    free(used);
}

bool desk_tool_give(const desk *from, const desk *to, const char *id, desk_edits *list) {
    int source = desk_tool_find(from, id), target = desk_tool_find(to, id);
    size_t count;
    const shop_field *fields = shop_fields(&count);
    if (source < 0) {
        return false;
    }
    const bw_tool *tool = &from->project->tools[source];
    bool whole = target < 0 || to->project->tools[target].kind != tool->kind;
    if (whole) {
        char *flow = desk_tool_flow(from->project->text, from->project->units, tool, to->project->units);
        desk_edits_add(list, target < 0 ? desk_say("tools[%zu]", to->project->own_tools + 1) : desk_say("tools.%s", id),
                       flow, false);
        desk_edits_add(list, desk_say("tools.%s.retired", id), NULL, true);
    }
    for (size_t i = 0; !whole && i < count; i++) {
        if (has_field(&fields[i], tool->kind) && is_given(&fields[i]) && fields[i].type != SHOP_TYPE_LIST) {
            give_key(from, to, id, &fields[i], list);
        }
    }
    if (!whole) {
        give_strips(from, tool, &to->project->tools[target], to->project->units, list);
    }
    return !list->failed;
}

static bool fresh_id(const desk *d, const desk *other, const char *id, char out[BW_NAME_MOST * 4 + 1]) {
    char stem[BW_NAME_MOST * 4 + 1];
    snprintf(stem, sizeof stem, "%s", id);
    desk_cut_name(stem, BW_NAME_MOST - 6);
    for (int i = 2; i < 2 * BW_TOOLS_MOST + 10; i++) {
        snprintf(out, BW_NAME_MOST * 4 + 1, "%.150s-%d", stem, i);
        if (desk_tool_find(d, out) < 0 && (other == NULL || desk_tool_find(other, out) < 0)) {
            return true;
        }
    }
    return false;
}

bool desk_tool_copy(const desk *d, size_t tool, const desk *other, desk_edits *list, char id[BW_NAME_MOST * 4 + 1]) {
    if (tool >= d->project->own_tools || !fresh_id(d, other, d->project->tools[tool].id, id)) {
        return false;
    }
    char *from = desk_say("tools[%zu]", tool + 1);
    desk_edits_add(list, desk_say("tools[%zu]", tool + 2), from == NULL ? NULL : shop_text_get(d->project->text, from),
                   false);
    desk_edits_add(list, desk_say("tools[%zu].id", tool + 2), shop_copy(id, strlen(id)), false);
    free(from);
    return !list->failed;
}

/* ---- choosing ---- */

/* Copies of the tools that bands have from the inventory only, each once, behind the project's own. */
static void lent_edits(const desk *d, desk_edits *list) {
    const bw_layout *layout = &d->project->layout;
    for (size_t i = 0; i < layout->band_count; i++) {
        int tool = layout->bands[i].tool;
        bool lent = tool >= 0 && !tool_is_own(d, tool);
        for (size_t k = 0; k < i && lent; k++) {
            lent = layout->bands[k].tool != tool;
        }
        if (lent) {
            desk_edits_add(list, desk_say("tools[%zu]", d->project->own_tools + list->count + 1),
                           flow_of_inventory(d, tool), false);
        }
    }
}

bool desk_edit_carrying(desk *d, const shop_edit *edits, size_t count, const char *title, shop_problems *problems) {
    if (!desk_try(d, edits, count, title, problems)) {
        return false;
    }
    desk_edits list = {0};
    lent_edits(d, &list);
    if (list.count == 0 && !list.failed) {
        return desk_try_keep(d, problems);
    }
    char *bytes = NULL;
    size_t length = 0;
    bool fine = !list.failed && desk_apply(d, list.edits, list.count, &bytes, &length, problems);
    if (list.failed) {
        desk_no_memory(problems);
    }
    desk_try_leave(d);
    fine = fine && desk_change(d, bytes, length, shop_copy(title, strlen(title)), problems);
    free(bytes);
    desk_edits_release(&list);
    return fine;
}

bool desk_choose_tool(desk *d, size_t band, int tool, shop_problems *problems) {
    return desk_try_tool(d, band, tool, problems) && desk_try_keep(d, problems);
}
