/* edit.c - the one way in which a layout changes, and the way back. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "desk/inner.h"
#include "desk/tools.h"

void desk_step_free(desk_step *step) {
    free(step->title);
    free(step->before);
    free(step->after);
    free(step->second);
}

/* ---- changing the text ---- */

void desk_put_in_place(desk *d, shop_project *project, bw_plan *plan) {
    desk_forget(d);
    bw_plan_destroy(d->plan);
    shop_project_free(d->project);
    d->project = project;
    d->plan = plan;
}

/* The layout's new text; the step that led there goes into the journal. */
static void put_step(desk *d, shop_project *project, bw_plan *plan, desk_record kind, const desk_step *step) {
    desk_journal_note(d, kind, step, d->project->text, project->text);
    desk_put_in_place(d, project, plan);
}

/* What lies between the common beginning and the common end of two texts. */
bool desk_step_make(desk_step *step, const char *old, size_t old_length, const char *new, size_t new_length) {
    size_t least = old_length < new_length ? old_length : new_length, front = 0, back = 0;
    while (front < least && old[front] == new[front]) {
        front++;
    }
    while (back < least - front && old[old_length - 1 - back] == new[new_length - 1 - back]) {
        back++;
    }
    step->at = front;
    step->before_length = old_length - front - back;
    step->after_length = new_length - front - back;
    step->before = shop_copy(old + front, step->before_length);
    step->after = shop_copy(new + front, step->after_length);
    return step->before != NULL && step->after != NULL;
}

static bool room_for_step(desk *d) {
    if (d->done < d->step_room) {
        return true;
    }
    size_t room = d->step_room == 0 ? 64 : d->step_room * 2;
    desk_step *steps = shop_resize(d->steps, room * sizeof *steps);
    if (steps == NULL) {
        return false;
    }
    d->steps = steps;
    d->step_room = room;
    return true;
}

static bool same_bytes(const desk *d, const char *bytes, size_t length) {
    size_t old_length;
    const char *old = desk_bytes(d, &old_length);
    return old_length == length && memcmp(old, bytes, length) == 0;
}

bool desk_change(desk *d, const char *bytes, size_t length, char *title, shop_problems *problems) {
    if (title != NULL && same_bytes(d, bytes, length)) {
        free(title);
        return true;
    }
    return desk_step_add(d, bytes, length, title, problems);
}

/* Takes all three. */
static bool step_to(desk *d, shop_project *project, bw_plan *plan, char *title, shop_problems *problems) {
    size_t old_length, length;
    const char *old = desk_bytes(d, &old_length), *bytes = shop_text_bytes(project->text, &length);
    desk_step step = {.title = title};
    if (title == NULL || !desk_step_make(&step, old, old_length, bytes, length) || !room_for_step(d)) {
        desk_no_memory(problems);
        desk_step_free(&step);
        bw_plan_destroy(plan);
        shop_project_free(project);
        return false;
    }
    for (size_t i = d->done; i < d->step_count; i++) {
        desk_step_free(&d->steps[i]);
    }
    d->steps[d->done++] = step;
    d->step_count = d->done;
    put_step(d, project, plan, DESK_RECORD_EDIT, &d->steps[d->done - 1]);
    return true;
}

bool desk_step_add(desk *d, const char *bytes, size_t length, char *title, shop_problems *problems) {
    shop_project *project = NULL;
    bw_plan *plan = NULL;
    if (!desk_compute(d, bytes, length, &project, &plan, problems, false)) {
        free(title);
        return false;
    }
    return step_to(d, project, plan, title, problems);
}

bool desk_change_to(desk *d, shop_project *project, bw_plan *plan, char *title, shop_problems *problems) {
    size_t length;
    const char *bytes = shop_text_bytes(project->text, &length);
    if (title != NULL && same_bytes(d, bytes, length)) {
        free(title);
        bw_plan_destroy(plan);
        shop_project_free(project);
        return true;
    }
    return step_to(d, project, plan, title, problems);
}

/* ---- edits ---- */

bool desk_apply(const desk *d, shop_edit *edits, size_t count, char **bytes, size_t *length, shop_problems *problems) {
    shop_problems own;
    shop_problems_init(&own, d->file != NULL ? d->file : "new piece");
    const shop_text *text = d->project->text;
    shop_text *made = NULL;
    char *now = NULL;
    bool fine = true;
    for (size_t i = 0; fine && i < count; i++) {
        char *next = NULL;
        size_t next_length = 0;
        fine = shop_text_edit(text, &edits[i], &next, &next_length, &own);
        if (fine) {
            free(now);
            now = next;
            *length = next_length;
            shop_text_free(made);
            made = i + 1 < count ? shop_text_read(now, next_length, &own) : NULL;
            text = made;
            fine = i + 1 == count || made != NULL;
        }
    }
    shop_text_free(made);
    if (!fine && own.errors == 0) {
        desk_no_memory(&own);
    }
    if (!fine) {
        desk_pass_on(&own, problems, false);
        free(now);
        now = NULL;
    }
    shop_problems_free(&own);
    *bytes = now;
    return fine && now != NULL;
}

void desk_edits_free(shop_edit *edits, size_t count) {
    for (size_t i = 0; edits != NULL && i < count; i++) {
        shop_edit_free(&edits[i]);
    }
    free(edits);
}

void desk_edits_add(desk_edits *list, char *path, char *new_text, bool take_out) {
    shop_edit *more = list->failed ? NULL : shop_resize(list->edits, (list->count + 1) * sizeof *more);
    if (more != NULL) {
        list->edits = more;
    }
    if (more == NULL || path == NULL || (new_text == NULL && !take_out)) {
        list->failed = true;
        free(path);
        free(new_text);
        return;
    }
    list->edits[list->count++] = (shop_edit){.path = path, .new_text = new_text};
}

static char *copy_or_null(const char *text, bool *fine) {
    char *copy = text == NULL ? NULL : shop_copy(text, strlen(text));
    *fine = *fine && (copy != NULL || text == NULL);
    return copy;
}

shop_edit *desk_edits_copy(const shop_edit *edits, size_t count) {
    shop_edit *own = shop_alloc(count * sizeof *own);
    if (own == NULL) {
        return NULL;
    }
    memset(own, 0, count * sizeof *own);
    bool fine = true;
    for (size_t i = 0; i < count; i++) {
        own[i].path = copy_or_null(edits[i].path, &fine);
        own[i].old_text = copy_or_null(edits[i].old_text, &fine);
        own[i].new_text = copy_or_null(edits[i].new_text, &fine);
    }
    if (!fine) {
        desk_edits_free(own, count);
        return NULL;
    }
    return own;
}

bool desk_edit_many(desk *d, const shop_edit *edits, size_t count, const char *title, shop_problems *problems) {
    if (count == 0) {
        return true;
    }
    desk_try_leave(d);
    shop_edit *own = desk_edits_copy(edits, count);
    if (own == NULL) {
        desk_no_memory(problems);
        return false;
    }
    char *bytes = NULL;
    size_t length = 0;
    bool fine = desk_apply(d, own, count, &bytes, &length, problems);
    if (fine) {
        char *words = title != NULL ? shop_copy(title, strlen(title))
                                    : desk_title(d, own[0].path, own[0].old_text, own[0].new_text);
        fine = desk_change(d, bytes, length, words, problems);
    }
    free(bytes);
    desk_edits_free(own, count);
    return fine;
}

bool desk_edit(desk *d, const char *path, const char *new_text, shop_problems *problems) {
    desk_try_leave(d);
    desk_edits list = {0};
    desk_edits_add(&list, shop_copy(path, strlen(path)),
                   new_text == NULL ? NULL : shop_copy(new_text, strlen(new_text)), new_text == NULL);
    desk_follow_id(d, path, new_text, &list);
    bool fine = !list.failed && desk_edit_many(d, list.edits, list.count, NULL, problems);
    if (list.failed) {
        desk_no_memory(problems);
    }
    desk_edits_free(list.edits, list.count);
    return fine;
}

/* ---- titles ---- */

static bool is_length(const shop_field *field) {
    return field != NULL && (field->type == SHOP_TYPE_LENGTH || field->type == SHOP_TYPE_WEIGHT ||
                             field->type == SHOP_TYPE_CORNER || field->type == SHOP_TYPE_END);
}

char *desk_value_words(const shop_field *field, shop_unit unit, const char *text) {
    double mm;
    char reason[160], shown[64];
    bool point = field != NULL && field->type == SHOP_TYPE_END && strchr(text, ':') != NULL;
    const char *from = point ? strchr(text, ':') + 1 : text;
    from += point ? strspn(from, " ") : 0;
    size_t end = point ? strcspn(from, "}") : strlen(from);
    while (point && end > 0 && from[end - 1] == ' ') {
        end--;
    }
    double share;
    bool of_whole = field != NULL && (field->type == SHOP_TYPE_SHARE || field->type == SHOP_TYPE_GUIDE);
    if (of_whole && strchr(text, '%') == NULL && shop_parse_share(text, strlen(text), &share, reason)) {
        return desk_say("%.6g %%", share * 100);
    }
    bool bare = end > 0 && (from[end - 1] == '.' || (from[end - 1] >= '0' && from[end - 1] <= '9'));
    if (is_length(field) && bare && shop_parse_length(from, end, unit, field->type == SHOP_TYPE_WEIGHT, &mm, reason)) {
        shop_show_length(mm, unit, shown, sizeof shown);
        return desk_say("%s%s", point ? "point " : "", shown);
    }
    /* "2.2mm" as all others are shown: a blank before the unit. */
    size_t figures = strspn(from, "0123456789./ ");
    bool joined = is_length(field) && figures > 0 && figures < end && from[figures - 1] != ' ' &&
                  shop_parse_length(from, end, unit, field->type == SHOP_TYPE_WEIGHT, &mm, reason);
    size_t before = joined ? figures : end;
    return desk_say("%s%.*s%s%.*s", point ? "point " : "", (int)before, from, joined ? " " : "", (int)(end - before),
                    from + before);
}

/* "weave " for a band's or tool's value, "" for the piece's. */
static char *whose(const desk *d, const char *path) {
    for (size_t i = 0; i < d->project->layout.band_count; i++) {
        const char *name = d->project->bands[i].name;
        size_t length = strlen(name);
        if (strncmp(path, "bands.", 6) == 0 && strncmp(path + 6, name, length) == 0 && path[6 + length] == '.') {
            return desk_say("%s ", name);
        }
    }
    const char *dot = strncmp(path, "tools.", 6) == 0 ? strchr(path + 6, '.') : NULL;
    return dot == NULL ? desk_say("%s", "") : desk_say("%.*s ", (int)(dot - path - 6), path + 6);
}

char *desk_what(const desk *d, const char *path) {
    const shop_field *field = shop_field_for(d->project, path);
    if (field == NULL) {
        field = shop_field_find(path);
    }
    char *owner = whose(d, path);
    char *what = owner == NULL ? NULL : desk_say("%s%s", owner, field != NULL ? field->label : path);
    free(owner);
    return what;
}

char *desk_title(const desk *d, const char *path, const char *old_text, const char *new_text) {
    const shop_field *field = shop_field_for(d->project, path);
    if (field == NULL) {
        field = shop_field_find(path);
    }
    char *given = old_text == NULL ? shop_project_get(d->project, path) : NULL;
    const char *old = old_text != NULL ? old_text : given;
    char *before = desk_value_words(field, d->project->units, old != NULL && *old != '\0' ? old : "nothing");
    char *after = desk_value_words(field, d->project->units, new_text != NULL ? new_text : "as usual");
    char *owner = whose(d, path);
    char *title = before == NULL || after == NULL || owner == NULL
                      ? NULL
                      : desk_say("%s%s %.60s -> %.60s", owner, field != NULL ? field->label : path, before, after);
    free(owner);
    free(after);
    free(before);
    free(given);
    return title;
}

/* ---- back and forth ---- */

char *desk_spliced(const char *text, size_t length, const desk_step *step, size_t *made_length) {
    *made_length = length - step->before_length + step->after_length;
    char *made = shop_alloc(*made_length + 1);
    if (made != NULL) {
        size_t behind = step->at + step->before_length;
        memcpy(made, text, step->at);
        memcpy(made + step->at, step->after, step->after_length);
        memcpy(made + step->at + step->after_length, text + behind, length - behind);
        made[*made_length] = '\0';
    }
    return made;
}

desk_step desk_step_back(const desk_step *step) {
    return (desk_step){.title = step->title,
                       .at = step->at,
                       .before = step->after,
                       .after = step->before,
                       .before_length = step->after_length,
                       .after_length = step->before_length};
}

/* Exchanges one stretch of the text. What was valid once is valid again, unless memory or a tool is lacking that the
 * inventory has lost since. */
static bool exchange(desk *d, const desk_step *step, desk_record kind) {
    size_t length, made_length;
    const char *now = desk_bytes(d, &length);
    char *made = desk_spliced(now, length, step, &made_length);
    if (made == NULL) {
        return false;
    }
    shop_project *project = NULL;
    bw_plan *plan = NULL;
    bool fine = desk_compute(d, made, made_length, &project, &plan, NULL, false);
    free(made);
    if (fine) {
        put_step(d, project, plan, kind, step);
    }
    return fine;
}

bool desk_undo(desk *d, const char **title) {
    desk_try_leave(d);
    if (d->done == 0) {
        return false;
    }
    desk_step *step = &d->steps[d->done - 1];
    desk_step back = desk_step_back(step);
    if (!exchange(d, &back, DESK_RECORD_UNDO)) {
        return false;
    }
    d->done--;
    d->over_theirs = step->theirs != 0 ? step->theirs > 0 : d->over_theirs;
    desk_second_swap(d, step);
    if (title != NULL) {
        *title = step->title;
    }
    return true;
}

bool desk_redo(desk *d, const char **title) {
    desk_try_leave(d);
    if (d->done == d->step_count) {
        return false;
    }
    desk_step *step = &d->steps[d->done];
    if (!exchange(d, step, DESK_RECORD_REDO)) {
        return false;
    }
    d->done++;
    d->over_theirs = step->theirs != 0 ? step->theirs < 0 : d->over_theirs;
    desk_second_swap(d, step);
    if (title != NULL) {
        *title = step->title;
    }
    return true;
}

const char *desk_last(const desk *d) {
    return d->done == 0 ? NULL : d->steps[d->done - 1].title;
}

const char *desk_next(const desk *d) {
    return d->done == d->step_count ? NULL : d->steps[d->done].title;
}
