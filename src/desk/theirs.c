/* theirs.c - the file was changed by somebody else: what differs, and saving over it without losing their version. */
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "desk/journal.h"
#include "desk/tools.h"
#include "shop/text.h"

#define STRUCK ".struck"
#define ROOM_OF_PATH (BW_NAME_MOST * 4 + 60)

void desk_clashes_free(desk_clash *list, size_t count) {
    for (size_t i = 0; list != NULL && i < count; i++) {
        free(list[i].what);
        free(list[i].mine);
        free(list[i].theirs);
    }
    free(list);
}

/* "6 of 46 struck": what is counted at the bench, of each run that was begun. NULL without memory. */
static char *struck_in_words(const shop_text *text, const char *path) {
    char *said = NULL;
    for (int i = 1;; i++) {
        char at[ROOM_OF_PATH];
        snprintf(at, sizeof at, "%.*s[%d].impressions", (int)sizeof at - 40, path, i);
        char *struck = shop_text_get(text, at);
        snprintf(at, sizeof at, "%.*s[%d].of", (int)sizeof at - 40, path, i);
        char *of = struck == NULL ? NULL : shop_text_get(text, at);
        if (struck == NULL) {
            return said == NULL ? shop_copy("nothing", 7) : said;
        }
        char *more = desk_say("%s%s%.20s%s%.20s struck", said != NULL ? said : "", said != NULL ? ", " : "", struck,
                              of != NULL ? " of " : "", of != NULL ? of : "");
        free(said);
        free(of);
        free(struck);
        said = more;
        if (said == NULL) {
            return NULL;
        }
    }
}

/* A value in words, "nothing" where there is none. */
static char *in_words(const desk *d, const shop_text *from, const char *path, const char *text) {
    size_t length = strlen(path), end = strlen(STRUCK);
    if (length > end && strcmp(path + length - end, STRUCK) == 0) {
        return struck_in_words(from, path);
    }
    const shop_field *field = shop_field_for(d->project, path);
    return text == NULL ? shop_copy("nothing", 7)
                        : desk_value_words(field != NULL ? field : shop_field_find(path), d->project->units, text);
}

static bool put_in_words(const desk *d, const shop_text *theirs, const shop_edit *edit, desk_clash *to) {
    to->what = desk_what(d, edit->path);
    to->mine = in_words(d, desk_kept(d)->text, edit->path, edit->old_text);
    to->theirs = in_words(d, theirs, edit->path, edit->new_text);
    return to->what != NULL && to->mine != NULL && to->theirs != NULL;
}

/* Remarks of a file: a # at the beginning of a line or behind a blank, outside of quotes. */
static size_t remarks(const shop_text *text) {
    size_t count = 0;
    char quote = '\0', before = '\n';
    bool within = false;
    for (size_t i = 0; i < text->length; before = text->bytes[i++]) {
        char c = text->bytes[i];
        bool begins = before == '\n' || before == ' ' || before == '\t';
        if (c == '\n') {
            within = false;
            quote = '\0';
        } else if (!within && quote == '\0' && c == '#' && begins) {
            within = true;
            count++;
        } else if (!within && (c == quote || (quote == '\0' && (c == '"' || c == '\'') &&
                                              (begins || before == '{' || before == '[')))) {
            quote = c == quote ? '\0' : c;
        }
    }
    return count;
}

static bool put_remarks(size_t mine, size_t theirs, desk_clash *to) {
    to->what = desk_say("remarks in the file");
    to->mine = desk_say("%zu", mine);
    to->theirs = desk_say("%zu", theirs);
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
    size_t differ = *count, here = remarks(desk_kept(d)->text), there = remarks(theirs);
    desk_clash *made = fine ? shop_alloc((differ + 1) * sizeof *made) : NULL;
    fine = made != NULL;
    if (fine) {
        memset(made, 0, (differ + 1) * sizeof *made);
    }
    for (size_t i = 0; fine && i < differ; i++) {
        fine = put_in_words(d, theirs, &edits[i], &made[i]);
    }
    if (fine && here != there) {
        fine = put_remarks(here, there, &made[differ]);
        (*count)++;
    }
    desk_edits_free(edits, differ);
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
