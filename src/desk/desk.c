/* desk.c - opening, saving and closing one layout. */
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "desk/inner.h"

static void *desk_resize(void *context, void *block, size_t size) {
    (void)context;
    if (size == 0) {
        free(block);
        return NULL;
    }
    return shop_resize(block, size);
}

const bw_allocator desk_memory = {desk_resize, NULL};

void desk_refuse(shop_problems *problems, const char *why) {
    if (problems != NULL) {
        shop_problem_add(problems, false, 0, 0, "%s", why);
    }
}

void desk_no_memory(shop_problems *problems) {
    desk_refuse(problems, "out of memory");
}

void desk_pass_on(shop_problems *from, shop_problems *problems, bool notes) {
    for (size_t i = 0; problems != NULL && i < from->count; i++) {
        const shop_problem *one = &from->list[i];
        if (notes || !one->note) {
            shop_problem_add(problems, one->note, one->line, one->column, "%s", one->text);
        }
    }
}

char *desk_say(const char *format, ...) {
    va_list list, again;
    va_start(list, format);
    va_copy(again, list);
    int length = vsnprintf(NULL, 0, format, list);
    char *text = length < 0 ? NULL : shop_alloc((size_t)length + 1);
    if (text != NULL) {
        vsnprintf(text, (size_t)length + 1, format, again);
    }
    va_end(again);
    va_end(list);
    return text;
}

/* ---- opening ---- */

static bool read_inventory(desk *d, const char *file, shop_problems *problems, shop_status *status) {
    bool usual = file == NULL;
    d->inventory_file = usual ? shop_inventory_place() : shop_copy(file, strlen(file));
    if (d->inventory_file == NULL) {
        return usual; /* no home folder: no inventory */
    }
    if (d->inventory_file[0] == '\0') {
        return true;
    }
    shop_problems own;
    shop_problems_init(&own, d->inventory_file);
    char *bytes = NULL;
    size_t length = 0;
    shop_status got = shop_read(d->inventory_file, &bytes, &length, &own);
    if (got == SHOP_NO_FILE && usual) {
        shop_problems_free(&own);
        return true;
    }
    if (got == SHOP_OK) {
        d->inventory = shop_inventory_read(bytes, length, &own);
        got = d->inventory != NULL ? SHOP_OK : SHOP_BAD_FILE;
    }
    free(bytes);
    for (size_t i = 0; problems != NULL && i < own.count; i++) {
        shop_problem_of(problems, &own.list[i], d->inventory_file);
    }
    shop_problems_free(&own);
    if (got != SHOP_OK) {
        *status = got;
    }
    return got == SHOP_OK;
}

bool desk_compute(const desk *d, const char *bytes, size_t length, shop_project **project, bw_plan **plan,
                  shop_problems *problems, bool notes) {
    shop_problems own;
    shop_problems_init(&own, d->file != NULL ? d->file : "new piece");
    *plan = NULL;
    *project = d->is_inventory ? shop_inventory_tools(bytes, length, &own)
                               : shop_project_read(bytes, length, d->file, d->inventory, &own);
    if (*project != NULL && d->tolerance > 0) {
        (*project)->tolerance = d->tolerance;
    }
    if (*project != NULL && !d->is_inventory) {
        bw_status status = bw_plan_again(&(*project)->layout, d->plan, &desk_memory, plan);
        if (status != BW_OK) {
            shop_problem_add(&own, false, 0, 0, "%s",
                             status == BW_NO_MEMORY ? "out of memory" : "these values cannot be planned together");
            shop_project_free(*project);
            *project = NULL;
        }
    } else if (*project == NULL && own.errors == 0) {
        desk_no_memory(&own);
    }
    desk_pass_on(&own, problems, notes);
    shop_problems_free(&own);
    return *project != NULL;
}

static desk *start(const char *file, const char *inventory_file, shop_problems *problems, shop_status *status) {
    desk *d = shop_alloc(sizeof *d);
    if (d == NULL) {
        desk_no_memory(problems);
        *status = SHOP_NO_MEMORY;
        return NULL;
    }
    memset(d, 0, sizeof *d);
    *status = SHOP_NO_MEMORY;
    if (file != NULL && (d->file = shop_copy(file, strlen(file))) == NULL) {
        desk_no_memory(problems);
        desk_close(d);
        return NULL;
    }
    if (!read_inventory(d, inventory_file, problems, status)) {
        desk_close(d);
        return NULL;
    }
    *status = SHOP_OK;
    return d;
}

static desk *finish(desk *d, const char *bytes, size_t length, shop_problems *problems, shop_status *status) {
    if (!desk_compute(d, bytes, length, &d->project, &d->plan, problems, true)) {
        *status = SHOP_BAD_FILE;
        desk_close(d);
        return NULL;
    }
    return d;
}

desk *desk_open(const char *file, const char *inventory_file, shop_problems *problems, shop_status *status) {
    desk *d = start(file, inventory_file, problems, status);
    if (d == NULL) {
        return NULL;
    }
    *status = shop_read(file, &d->saved, &d->saved_length, problems);
    if (*status != SHOP_OK) {
        desk_close(d);
        return NULL;
    }
    return finish(d, d->saved, d->saved_length, problems, status);
}

desk *desk_new(const char *file, const char *bytes, size_t length, const char *inventory_file, shop_problems *problems,
               shop_status *status) {
    desk *d = start(file, inventory_file, problems, status);
    return d == NULL ? NULL : finish(d, bytes, length, problems, status);
}

void desk_close(desk *d) {
    if (d == NULL) {
        return;
    }
    desk_try_leave(d);
    desk_forget(d);
    desk_second_free(d);
    desk_journal_close(d);
    for (size_t i = 0; i < d->step_count; i++) {
        desk_step_free(&d->steps[i]);
    }
    free(d->steps);
    bw_plan_destroy(d->plan);
    shop_project_free(d->project);
    shop_inventory_free(d->inventory);
    free(d->saved);
    free(d->kept_beside);
    free(d->inventory_file);
    free(d->file);
    free(d);
}

/* ---- looking ---- */

const bw_plan *desk_kept_plan(const desk *d) {
    return d->kept_plan != NULL ? d->kept_plan : d->plan;
}

const shop_project *desk_kept(const desk *d) {
    return d->kept_project != NULL ? d->kept_project : d->project;
}

const shop_project *desk_project(const desk *d) {
    return d->project;
}

const bw_plan *desk_plan(const desk *d) {
    return d->plan;
}

const shop_inventory *desk_inventory(const desk *d) {
    return d->inventory;
}

const char *desk_file(const desk *d) {
    return d->file;
}

const char *desk_bytes(const desk *d, size_t *length) {
    return shop_text_bytes(d->project->text, length);
}

const char *desk_kept_beside(const desk *d) {
    return d->kept_beside;
}

void desk_set_tolerance(desk *d, double mm) {
    shop_project *const made[] = {d->project, d->kept_project, d->second.project};
    d->tolerance = mm;
    for (size_t i = 0; i < sizeof made / sizeof made[0]; i++) {
        if (made[i] != NULL) {
            made[i]->tolerance = mm;
        }
    }
}

bool desk_unsaved(const desk *d) {
    if (d->is_inventory && d->saved == NULL) {
        return d->done > 0; /* an inventory that nobody has put anything into needs no file */
    }
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    return d->saved == NULL || length != d->saved_length || memcmp(bytes, d->saved, length) != 0;
}

/* ---- keeping ---- */

static shop_status save_to(desk *d, const char *file, bool must_not_exist, shop_problems *problems) {
    desk_try_leave(d);
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    char *copy = shop_copy(bytes, length), *beside = NULL;
    if (copy == NULL) {
        desk_no_memory(problems);
        return SHOP_NO_MEMORY;
    }
    shop_status status = SHOP_OK;
    if (d->over_theirs && d->file != NULL && strcmp(file, d->file) == 0 && desk_unsaved(d)) {
        beside = desk_keep_theirs(d, &status, problems);
    }
    if (status == SHOP_OK && d->is_inventory && d->saved == NULL) {
        status = desk_make_folder(file, problems);
    }
    if (status == SHOP_OK) {
        status = shop_save(file, bytes, length, must_not_exist, problems);
    }
    if (status != SHOP_OK) {
        free(beside);
        free(copy);
        return status;
    }
    free(d->kept_beside);
    d->kept_beside = beside;
    d->over_theirs = false;
    for (size_t i = 0; i < d->step_count; i++) {
        d->steps[i].theirs = 0; /* the file is this desk's own again */
    }
    free(d->saved);
    d->saved = copy;
    d->saved_length = length;
    desk_journal_saved(d);
    return SHOP_OK;
}

bool desk_changed_outside(const desk *d) {
    char *bytes = NULL;
    size_t length = 0;
    shop_problems quiet;
    if (d->is_inventory && d->file != NULL && d->saved == NULL) {
        return access(d->file, F_OK) == 0; /* somebody else has made it */
    }
    if (d->file == NULL || d->saved == NULL) {
        return false;
    }
    shop_problems_init(&quiet, d->file);
    bool other = shop_read(d->file, &bytes, &length, &quiet) == SHOP_OK &&
                 (length != d->saved_length || memcmp(bytes, d->saved, length) != 0);
    shop_problems_free(&quiet);
    free(bytes);
    return other;
}

shop_status desk_save(desk *d, shop_problems *problems) {
    if (d->file == NULL) {
        shop_problem_add(problems, false, 0, 0, "the layout has no file name yet");
        return SHOP_CANNOT_MAKE;
    }
    if (desk_changed_outside(d)) {
        shop_problem_add(
            problems, false, 0, 0,
            "the file was changed by another program since it was opened here: save under another name, or "
            "reload it and make your change again");
        return SHOP_CANNOT_WRITE;
    }
    /* A new piece must not write over a file that has come into being meanwhile. */
    return save_to(d, d->file, d->saved == NULL, problems);
}

/* A piece without a name of its own is called after its file. */
static void name_anew(desk *d) {
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    shop_project *project;
    bw_plan *plan;
    if (!desk_is_inventory(d) && desk_compute(d, bytes, length, &project, &plan, NULL, false)) {
        desk_put_in_place(d, project, plan);
    }
    desk_second_anew(d);
}

shop_status desk_save_as(desk *d, const char *file, bool overwrite, shop_problems *problems) {
    char *name = shop_copy(file, strlen(file));
    if (name == NULL) {
        desk_no_memory(problems);
        return SHOP_NO_MEMORY;
    }
    bool same = d->file != NULL && strcmp(d->file, file) == 0 && d->saved != NULL && !desk_changed_outside(d);
    shop_status status = save_to(d, file, !overwrite && !same, problems);
    if (status != SHOP_OK) {
        free(name);
        return status;
    }
    free(d->file);
    d->file = name;
    name_anew(d);
    return SHOP_OK;
}

bool desk_reload(desk *d, shop_problems *problems) {
    desk_try_leave(d);
    if (d->file == NULL) {
        shop_problem_add(problems, false, 0, 0, "the layout has no file yet, so there is nothing to read again");
        return false;
    }
    char *bytes = NULL;
    size_t length = 0;
    if (shop_read(d->file, &bytes, &length, problems) != SHOP_OK) {
        return false;
    }
    bool theirs = desk_changed_outside(d);
    const char *last = desk_last(d);
    if (!desk_change(d, bytes, length, desk_say("read again from the file"), problems)) {
        free(bytes);
        return false;
    }
    if (theirs && desk_last(d) != last) {
        d->steps[d->done - 1].theirs = 1;
        d->over_theirs = false;
    }
    free(d->saved);
    d->saved = bytes;
    d->saved_length = length;
    desk_journal_saved(d);
    return true;
}
