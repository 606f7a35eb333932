/* bands.c - whole bands as edits. */
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

typedef bool edit_way(desk *d, const shop_edit *edits, size_t count, const char *title, shop_problems *problems);

/* One undo step; takes paths and texts. */
static bool edit_and_free(desk *d, edit_way *way, shop_edit *edits, size_t count, char *title,
                          shop_problems *problems) {
    bool fine = title != NULL;
    for (size_t i = 0; i < count; i++) {
        fine = fine && edits[i].path != NULL;
    }
    if (!fine) {
        desk_no_memory(problems);
    }
    fine = fine && way(d, edits, count, title, problems);
    for (size_t i = 0; i < count; i++) {
        shop_edit_free(&edits[i]);
    }
    free(title);
    return fine;
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
    return edit_and_free(d, desk_edit_carrying, &edit, 1, title, problems);
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

void desk_cut_name(char *name, int most) {
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
    desk_cut_name(stem, BW_NAME_MOST - 6);
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
    return edit_and_free(d, desk_edit_carrying, edits, 2, desk_say("%s copied", d->project->bands[band].name),
                         problems);
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
        d, desk_edit_many, edits, 2,
        desk_say("%s moved %s", d->project->bands[band].name, by < 0 ? "towards the edge" : "away from the edge"),
        problems);
}

/* The copy of a tool that nothing else in the layout uses; -1 if it stays. */
static int copy_left_over(const desk *d, size_t band) {
    const bw_layout *layout = &d->project->layout;
    int tool = layout->bands[band].tool;
    bool used = tool < 0 || (size_t)tool >= d->project->own_tools;
    for (size_t i = 0; i < layout->band_count && !used; i++) {
        used = i != band && layout->bands[i].tool == tool;
    }
    return used ? -1 : tool;
}

/* A tool's sizes must stand somewhere: one that the inventory does not have just so stays with the piece. */
static bool inventory_has_it(const desk *d, int tool) {
    bool there = false;
    for (size_t i = 0; d->inventory != NULL && i < d->inventory->tool_count && !there; i++) {
        there = strcmp(d->inventory->tools[i].id, d->project->tools[tool].id) == 0;
    }
    const shop_tool *about = &d->project->tool_about[tool];
    return there && !about->differs && !about->named_otherwise;
}

/* Impressions that were counted on a band go with it: "" or ", with the 20 struck". */
static void struck_words(const shop_band *band, char out[40]) {
    int struck = 0;
    for (size_t i = 0; i < band->struck_count; i++) {
        struck += band->struck[i].impressions;
    }
    out[0] = '\0';
    if (struck > 0) {
        snprintf(out, 40, ", with the %d struck", struck);
    }
}

bool desk_band_remove(desk *d, size_t band, shop_problems *problems) {
    if (!known(d, band, problems)) {
        return false;
    }
    int tool = copy_left_over(d, band);
    bool goes = tool >= 0 && inventory_has_it(d, tool);
    const char *id = tool >= 0 ? d->project->tools[tool].id : "", *name = d->project->bands[band].name;
    char struck[40];
    struck_words(&d->project->band_about[band], struck);
    char *title = goes ? desk_say("%s taken out%s, and its copy of %s, which the inventory has", name, struck, id)
                  : tool >= 0 ? desk_say("%s taken out%s; its tool %s stays in the piece", name, struck, id)
                              : desk_say("%s taken out%s", name, struck);
    desk_edits list = {0};
    desk_edits_add(&list, item_path(band), NULL, true);
    desk_unfix(d, false, name, &list);
    if (goes) {
        desk_edits_add(&list, desk_say("tools.%s", id), NULL, true);
        desk_unfix(d, true, id, &list);
    }
    bool fine = title != NULL && !list.failed;
    if (!fine) {
        desk_no_memory(problems);
    }
    fine = fine && desk_edit_many(d, list.edits, list.count, title, problems);
    desk_edits_release(&list);
    free(title);
    return fine;
}
