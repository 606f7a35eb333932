/* theirs.c - the file was changed by somebody else: what differs, and saving over it without losing their version. */
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "desk/journal.h"
#include "desk/tools.h"

void desk_clashes_free(desk_clash *list, size_t count) {
    for (size_t i = 0; list != NULL && i < count; i++) {
        free(list[i].what);
        free(list[i].mine);
        free(list[i].theirs);
    }
    free(list);
}

/* A value in words, "nothing" where there is none. */
static char *in_words(const desk *d, const char *path, const char *text) {
    const shop_field *field = shop_field_for(d->project, path);
    return text == NULL ? shop_copy("nothing", 7)
                        : desk_value_words(field != NULL ? field : shop_field_find(path), d->project->units, text);
}

static bool put_in_words(const desk *d, const shop_edit *edit, desk_clash *to) {
    to->what = desk_what(d, edit->path);
    to->mine = in_words(d, edit->path, edit->old_text);
    to->theirs = in_words(d, edit->path, edit->new_text);
    return to->what != NULL && to->mine != NULL && to->theirs != NULL;
}

static shop_text *read_theirs(const desk *d, shop_problems *problems) {
    char *bytes = NULL;
    size_t length = 0;
    shop_text *text = NULL;
    if (shop_read(d->file, &bytes, &length, problems) == SHOP_OK) {
        text = shop_text_read(bytes, length, problems);
    }
    free(bytes);
    return text;
}

bool desk_theirs(const desk *d, desk_clash **list, size_t *count, shop_problems *problems) {
    *list = NULL;
    *count = 0;
    shop_text *theirs = read_theirs(d, problems);
    if (theirs == NULL) {
        return false;
    }
    shop_edit *edits = NULL;
    bool fine = desk_text_edits(desk_kept(d)->text, theirs, &edits, count);
    desk_clash *made = fine ? shop_alloc((*count + 1) * sizeof *made) : NULL;
    fine = made != NULL;
    if (fine) {
        memset(made, 0, (*count + 1) * sizeof *made);
    }
    for (size_t i = 0; fine && i < *count; i++) {
        fine = put_in_words(d, &edits[i], &made[i]);
    }
    desk_edits_free(edits, *count);
    shop_text_free(theirs);
    if (!fine) {
        desk_clashes_free(made, *count);
        desk_no_memory(problems);
        return false;
    }
    *list = made;
    return true;
}

/* FILE.theirs, or with a number if that is there already; NULL without memory. */
static char *free_name(const char *file) {
    char *name = desk_say("%s.theirs", file);
    for (int i = 2; name != NULL && access(name, F_OK) == 0; i++) {
        free(name);
        name = desk_say("%s.theirs-%d", file, i);
    }
    return name;
}

char *desk_keep_theirs(const desk *d, shop_status *status, shop_problems *problems) {
    char *bytes = NULL, *name = NULL;
    size_t length = 0;
    *status = shop_read(d->file, &bytes, &length, problems);
    if (*status == SHOP_OK) {
        name = free_name(d->file);
        *status = name == NULL ? SHOP_NO_MEMORY : shop_save(name, bytes, length, true, problems);
    }
    free(bytes);
    if (*status != SHOP_OK) {
        free(name);
        name = NULL;
    }
    return name;
}

shop_status desk_save_over(desk *d, char **kept, shop_problems *problems) {
    shop_status status = SHOP_OK;
    *kept = NULL;
    if (desk_changed_outside(d)) {
        *kept = desk_keep_theirs(d, &status, problems);
        d->over_theirs = false;
    }
    if (status == SHOP_OK) {
        status = desk_save_as(d, d->file, true, problems);
    }
    return status;
}
