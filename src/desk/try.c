/* try.c - a change that everything shows before it is taken or left. */
#include <stdlib.h>
#include <string.h>

#include "desk/inner.h"
#include "desk/tools.h"

bool desk_trying(const desk *d) {
    return d->kept_project != NULL;
}

/* The layout as it was is in force again; the trial is nobody's now. */
static void put_back(desk *d) {
    free(d->trial_title);
    d->project = d->kept_project;
    d->plan = d->kept_plan;
    d->kept_project = NULL;
    d->kept_plan = NULL;
    d->trial_title = NULL;
    desk_second_forget(d);
}

void desk_try_leave(desk *d) {
    if (d->kept_project == NULL) {
        return;
    }
    bw_plan_destroy(d->plan);
    shop_project_free(d->project);
    put_back(d);
}

/* Takes title. */
static bool try_edits(desk *d, shop_edit *edits, size_t count, char *title, shop_problems *problems) {
    char *bytes = NULL;
    size_t length = 0;
    shop_project *project = NULL;
    bw_plan *plan = NULL;
    if (title == NULL) {
        desk_no_memory(problems);
        return false;
    }
    bool fine = desk_apply(d, edits, count, &bytes, &length, problems) &&
                desk_compute(d, bytes, length, &project, &plan, problems, false);
    free(bytes);
    if (!fine) {
        free(title);
        return false;
    }
    d->kept_project = d->project;
    d->kept_plan = d->plan;
    d->trial_title = title;
    d->project = project;
    d->plan = plan;
    desk_second_forget(d);
    return true;
}

bool desk_try(desk *d, const shop_edit *edits, size_t count, const char *title, shop_problems *problems) {
    desk_try_leave(d);
    shop_edit *own = desk_edits_copy(edits, count);
    if (own == NULL) {
        desk_no_memory(problems);
        return false;
    }
    bool fine = try_edits(d, own, count, shop_copy(title, strlen(title)), problems);
    desk_edits_free(own, count);
    return fine;
}

bool desk_try_tool(desk *d, size_t band, int tool, shop_problems *problems) {
    desk_try_leave(d);
    desk_edits list = {0};
    char *title = NULL;
    bool fine = desk_tool_edits(d, band, tool, &list, problems);
    if (fine) {
        const shop_edit *last = &list.edits[list.count - 1];
        char *old = shop_text_get(d->project->text, last->path);
        title = desk_title(d, last->path, old, last->new_text);
        free(old);
        fine = try_edits(d, list.edits, list.count, title, problems);
    }
    desk_edits_free(list.edits, list.count);
    return fine;
}

bool desk_try_take(desk *d, const desk_suggestion *suggestion, shop_problems *problems) {
    return desk_try(d, suggestion->edits, suggestion->edit_count, suggestion->words, problems);
}

bool desk_try_keep(desk *d, shop_problems *problems) {
    if (d->kept_project == NULL) {
        return true;
    }
    shop_project *project = d->project;
    bw_plan *plan = d->plan;
    char *title = d->trial_title;
    d->trial_title = NULL;
    put_back(d);
    return desk_change_to(d, project, plan, title, problems);
}
