/* inventory.c - the shop's inventory, open for edits, and the layout that reads its tools from it. */
#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "desk/inner.h"

bool desk_is_inventory(const desk *d) {
    return d->is_inventory;
}

/* What stands in the file, or what a new one begins with. */
static shop_status read_or_begin(desk *d, shop_problems *problems, char **bytes, size_t *length) {
    shop_problems own;
    shop_problems_init(&own, d->file);
    errno = 0;
    shop_status status = shop_read(d->file, bytes, length, &own);
    if (status == SHOP_OK) {
        d->saved = shop_copy(*bytes, *length);
        d->saved_length = *length;
        status = d->saved != NULL ? SHOP_OK : SHOP_NO_MEMORY;
    } else if (status == SHOP_NO_FILE && (errno == ENOENT || errno == ENOTDIR)) {
        *bytes = shop_new_inventory(SHOP_MM, length);
        status = *bytes != NULL ? SHOP_OK : SHOP_NO_MEMORY;
    } else {
        desk_pass_on(&own, problems, true);
    }
    if (status == SHOP_NO_MEMORY) {
        desk_no_memory(problems);
    }
    shop_problems_free(&own);
    return status;
}

desk *desk_open_inventory(const char *file, shop_problems *problems, shop_status *status) {
    desk *d = shop_alloc(sizeof *d);
    char *bytes = NULL;
    size_t length = 0;
    *status = SHOP_NO_MEMORY;
    if (d == NULL) {
        desk_no_memory(problems);
        return NULL;
    }
    memset(d, 0, sizeof *d);
    d->is_inventory = true;
    d->file = file == NULL ? shop_inventory_place() : shop_copy(file, strlen(file));
    if (d->file == NULL) {
        desk_refuse(problems, "there is no home folder in which an inventory could be kept, or no memory");
    } else {
        *status = read_or_begin(d, problems, &bytes, &length);
    }
    if (*status == SHOP_OK && !desk_compute(d, bytes, length, &d->project, &d->plan, problems, true)) {
        *status = SHOP_BAD_FILE;
    }
    free(bytes);
    if (*status != SHOP_OK) {
        desk_close(d);
        return NULL;
    }
    return d;
}

shop_status desk_make_folder(const char *file, shop_problems *problems) {
    const char *slash = strrchr(file, '/');
    char *folder = slash == NULL || slash == file ? NULL : shop_copy(file, (size_t)(slash - file));
    bool fine = slash == NULL || slash == file || (folder != NULL && shop_folder_make(folder));
    int error = errno;
    if (!fine && problems != NULL) {
        shop_problem_add(problems, false, 0, 0, "cannot make the folder %s: %s", folder != NULL ? folder : "",
                         strerror(error));
    }
    free(folder);
    errno = error;
    return fine ? SHOP_OK : SHOP_CANNOT_MAKE;
}

/* The layout held beside the one in hand must not be lost either. */
static bool held_can_be_read(const desk *d, shop_problems *problems) {
    shop_project *project = NULL;
    bw_plan *plan = NULL;
    if (!desk_holding(d)) {
        return true;
    }
    bool fine = desk_compute(d, d->second.bytes, d->second.length, &project, &plan, problems, false);
    bw_plan_destroy(plan);
    shop_project_free(project);
    return fine;
}

bool desk_use_inventory(desk *d, const desk *inventory, shop_problems *problems) {
    desk_try_leave(d);
    size_t length, own_length;
    const char *bytes = desk_bytes(inventory, &length), *own = desk_bytes(d, &own_length);
    shop_problems of_inventory;
    shop_problems_init(&of_inventory, inventory->file);
    shop_inventory *old = d->inventory, *fresh = shop_inventory_read(bytes, length, &of_inventory);
    shop_project *project = NULL;
    bw_plan *plan = NULL;
    desk_pass_on(&of_inventory, problems, false);
    shop_problems_free(&of_inventory);
    d->inventory = fresh;
    bool fine = fresh != NULL && desk_compute(d, own, own_length, &project, &plan, problems, false);
    if (fine && !held_can_be_read(d, problems)) {
        bw_plan_destroy(plan);
        shop_project_free(project);
        fine = false;
    }
    if (!fine) {
        d->inventory = old;
        shop_inventory_free(fresh);
        return false;
    }
    desk_put_in_place(d, project, plan);
    desk_second_anew(d);
    shop_inventory_free(old);
    return true;
}
