/* bands.c - whole bands and tools as edits. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "desk/inner.h"
#include "desk/tools.h"
#include "shop/edit.h"

char *desk_band_path(const desk *d, size_t band, const char *key) {
    return band >= d->project->layout.band_count ? NULL : desk_say("bands.%s.%s", d->project->bands[band].name, key);
}

static char *item_path(size_t index) {
    return desk_say("bands[%zu]", index + 1);
}

/* One undo step; takes paths and texts. */
static bool edit_and_free(desk *d, shop_edit *edits, size_t count, char *title, shop_problems *problems) {
    bool fine = title != NULL;
    for (size_t i = 0; i < count; i++) {
        fine = fine && edits[i].path != NULL;
    }
    if (!fine) {
        desk_no_memory(problems);
    }
    fine = fine && desk_edit_many(d, edits, count, title, problems);
    for (size_t i = 0; i < count; i++) {
        shop_edit_free(&edits[i]);
    }
    free(title);
    return fine;
}

static bool tool_is_own(const desk *d, int tool) {
    return tool >= 0 && (size_t)tool < d->project->own_tools;
}

static bool known(const desk *d, size_t band, shop_problems *problems) {
    if (band < d->project->layout.band_count) {
        return true;
    }
    if (problems != NULL) {
        shop_problem_add(problems, false, 0, 0, "there is no such band");
    }
    return false;
}

static bool insert(desk *d, size_t at, char *text, char *title, shop_problems *problems) {
    shop_edit edit = {.path = item_path(at), .new_text = text};
    if (text == NULL) {
        free(edit.path);
        edit.path = NULL;
    }
    return edit_and_free(d, &edit, 1, title, problems);
}

bool desk_band_add(desk *d, size_t at, const char *flow_text, shop_problems *problems) {
    size_t count = d->project->layout.band_count;
    return insert(d, at > count ? count : at, shop_copy(flow_text, strlen(flow_text)), desk_say("a band added"),
                  problems);
}

static bool name_taken(const desk *d, const char *name) {
    for (size_t i = 0; i < d->project->layout.band_count; i++) {
        if (strcmp(d->project->bands[i].name, name) == 0) {
            return true;
        }
    }
    return false;
}

/* Cuts a name after at most this many characters. */
static void cut_name(char *name, int most) {
    int characters = 0;
    for (char *at = name; *at != '\0'; at++) {
        if (((unsigned char)*at & 0xC0) != 0x80 && characters++ == most) {
            *at = '\0';
            return;
        }
    }
}

static bool fresh_name(const desk *d, const char *name, char *out, size_t room) {
    char stem[BW_NAME_MOST * 4 + 1];
    snprintf(stem, sizeof stem, "%s", name);
    cut_name(stem, BW_NAME_MOST - 6);
    char *number = strrchr(stem, ' '); /* the copy of "weave 2" is "weave 3" */
    if (number != NULL && number > stem && number[1] != '\0' &&
        strspn(number + 1, "0123456789") == strlen(number + 1)) {
        *number = '\0';
    }
    for (int i = 2; i < BW_BANDS_MOST + 10; i++) {
        snprintf(out, room, "%s %d", stem, i);
        if (!name_taken(d, out)) {
            return true;
        }
    }
    return false;
}

/* A band inserted and renamed in one step: the new name goes in through the text's own rules for quoting. */
bool desk_band_copy(desk *d, size_t band, shop_problems *problems) {
    if (!known(d, band, problems)) {
        return false;
    }
    char name[BW_NAME_MOST * 4 + 16], *from = item_path(band);
    if (from == NULL || !fresh_name(d, d->project->bands[band].name, name, sizeof name)) {
        free(from);
        desk_no_memory(problems);
        return false;
    }
    char *text = shop_text_get(d->project->text, from);
    free(from);
    shop_edit edits[2] = {{.path = item_path(band + 1), .new_text = text},
                          {.path = desk_say("bands[%zu].name", band + 2), .new_text = shop_copy(name, strlen(name))}};
    return edit_and_free(d, edits, 2, desk_say("%s copied", d->project->bands[band].name), problems);
}

bool desk_band_move(desk *d, size_t band, int by, shop_problems *problems) {
    if (!known(d, band, problems)) {
        return false;
    }
    size_t count = d->project->layout.band_count;
    size_t to = by < 0 && (size_t)-by > band ? SIZE_MAX : (size_t)((long)band + by);
    if (to >= count) {
        shop_problem_add(problems, false, 0, 0, by < 0 ? "this is the outermost band" : "this is the innermost band");
        return false;
    }
    char *from = item_path(band);
    char *text = from == NULL ? NULL : shop_text_get(d->project->text, from);
    shop_edit edits[2] = {{.path = from}, {.path = item_path(to), .new_text = text}};
    return edit_and_free(
        d, edits, 2,
        desk_say("%s moved %s", d->project->bands[band].name, by < 0 ? "towards the edge" : "away from the edge"),
        problems);
}

bool desk_band_remove(desk *d, size_t band, shop_problems *problems) {
    if (!known(d, band, problems)) {
        return false;
    }
    shop_edit edit = {.path = item_path(band)};
    return edit_and_free(d, &edit, 1, desk_say("%s taken out", d->project->bands[band].name), problems);
}

/* ---- tools ---- */

static bool is_bare(const char *text) {
    size_t length = strlen(text);
    return length > 0 && (text[length - 1] == '.' || (text[length - 1] >= '0' && text[length - 1] <= '9'));
}

/* A value of the inventory with the inventory's unit made plain, as it is written inside {}. */
static char *value_with_unit(const desk *d, const shop_field *field, const char *text) {
    const char *unit = field->type != SHOP_TYPE_LENGTH || !is_bare(text) ? ""
                       : d->inventory->units == SHOP_INCH                ? " in"
                                                                         : " mm";
    bool is_text = field->type == SHOP_TYPE_TEXT || field->type == SHOP_TYPE_NAME;
    char *value = desk_say("%s%s", text, unit);
    char *written = value == NULL ? NULL : shop_write_scalar(value, strlen(value), SHOP_STYLE_PLAIN, true, is_text);
    free(value);
    return written;
}

static void add_key(const desk *d, const char *id, const shop_field *field, const char *key, shop_buffer *to) {
    char *path = desk_say("tools.%s.%s", id, key);
    char *text = path == NULL ? NULL : shop_text_get(d->inventory->text, path);
    if (text != NULL && field->type != SHOP_TYPE_LIST) {
        const char *last = strrchr(key, '.');
        char *value = value_with_unit(d, field, text);
        char *pair = value == NULL
                         ? NULL
                         : desk_say("%s%s: %s", to->length > 1 && to->bytes[to->length - 1] != '{' ? ", " : "",
                                    last != NULL ? last + 1 : key, value);
        if (pair != NULL) {
            shop_buffer_text(to, pair);
        } else {
            to->failed = true;
        }
        free(value);
        free(pair);
    }
    free(text);
    free(path);
}

/* Where the units of both files differ, bare numbers would change their meaning: each value is written with its unit.
 */
static char *flow_with_units(const desk *d, int tool) {
    const bw_tool *one = &d->project->tools[tool];
    size_t count;
    const shop_field *fields = shop_fields(&count);
    shop_buffer to = {0};
    bool in_steps = false;
    shop_buffer_text(&to, "{");
    for (size_t i = 0; i < count; i++) {
        const shop_field *field = &fields[i];
        if (field->owner != SHOP_OF_TOOL || strncmp(field->path, "tools[].", 8) != 0 ||
            (field->kinds != 0 && (field->kinds & 1u << one->kind) == 0)) {
            continue;
        }
        const char *key = field->path + 8;
        if (strncmp(key, "steps.", 6) == 0) {
            shop_buffer steps = {0};
            shop_buffer_text(&steps, "{");
            for (; i < count && strncmp(fields[i].path, "tools[].steps.", 14) == 0; i++) {
                add_key(d, one->id, &fields[i], fields[i].path + 8, &steps);
            }
            i--;
            size_t length;
            char *text = shop_buffer_take(&steps, &length);
            in_steps = text != NULL && length > 1;
            if (in_steps) {
                shop_buffer_text(&to, ", steps: ");
                shop_buffer_add(&to, text, length);
                shop_buffer_text(&to, "}");
            }
            free(text);
        } else {
            add_key(d, one->id, field, key, &to);
        }
    }
    shop_buffer_text(&to, "}");
    size_t length;
    return shop_buffer_take(&to, &length);
}

static char *tool_flow(const desk *d, int tool) {
    if (d->inventory == NULL) {
        return NULL;
    }
    if (d->inventory->units != d->project->units) {
        return flow_with_units(d, tool);
    }
    char *path = desk_say("tools.%s", d->project->tools[tool].id);
    char *text = path == NULL ? NULL : shop_text_get(d->inventory->text, path);
    free(path);
    return text;
}

/* Which tool's id a path is; -1 if it is none. */
static int tool_of_id_path(const desk *d, const char *path) {
    for (size_t i = 0; i < d->project->own_tools; i++) {
        char *named = desk_say("tools.%s.id", d->project->tools[i].id), *counted = desk_say("tools[%zu].id", i + 1);
        bool found = (named != NULL && strcmp(named, path) == 0) || (counted != NULL && strcmp(counted, path) == 0);
        free(named);
        free(counted);
        if (found) {
            return (int)i;
        }
    }
    return -1;
}

void desk_follow_id(const desk *d, const char *path, const char *new_text, desk_edits *list) {
    int tool = new_text == NULL ? -1 : tool_of_id_path(d, path);
    for (size_t i = 0; tool >= 0 && i < d->project->layout.band_count; i++) {
        if (d->project->layout.bands[i].tool == tool) {
            desk_edits_add(list, desk_band_path(d, i, "tool"), shop_copy(new_text, strlen(new_text)), false);
        }
    }
}

bool desk_tool_edits(const desk *d, size_t band, int tool, desk_edits *list, shop_problems *problems) {
    if (!known(d, band, problems)) {
        return false;
    }
    if (tool < 0 || (size_t)tool >= d->project->layout.tool_count) {
        if (problems != NULL) {
            shop_problem_add(problems, false, 0, 0, "there is no such tool");
        }
        return false;
    }
    const char *id = d->project->tools[tool].id;
    if (!tool_is_own(d, tool)) {
        desk_edits_add(list, desk_say("tools[%zu]", d->project->own_tools + 1), tool_flow(d, tool), false);
    }
    desk_edits_add(list, desk_band_path(d, band, "tool"), shop_copy(id, strlen(id)), false);
    if (list->failed) {
        desk_no_memory(problems);
    }
    return !list->failed;
}

bool desk_choose_tool(desk *d, size_t band, int tool, shop_problems *problems) {
    return desk_try_tool(d, band, tool, problems) && desk_try_keep(d, problems);
}
