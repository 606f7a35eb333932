/* journal.c - every change on the disk as it is made. */
#include "desk/journal.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "desk/journal_keep.h"
#include "desk/tools.h"

#define NAMES_TRIED 1000
#define NAME_MOST 100     /* bytes of the layout's name in the journal's */
#define SYNC_EVERY 1000.0 /* ms: how much a loss of power may cost */

static double now_ms(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec * 1e3 + (double)now.tv_nsec / 1e6;
}

/* ---- places ---- */

char *journal_folder_of(const char *file) {
    const char *slash = strrchr(file, '/');
    return slash == NULL ? shop_copy(".", 1) : shop_copy(file, (size_t)(slash - file) + (slash == file));
}

char *journal_full_name(const char *file) {
    char *found = realpath(file, NULL), *folder = found != NULL ? NULL : journal_folder_of(file);
    char *full = folder == NULL ? NULL : realpath(folder, NULL);
    if (full != NULL) { /* the file is not there (yet): its folder is */
        const char *slash = strrchr(file, '/');
        found = desk_say("%s/%s", full, slash != NULL ? slash + 1 : file);
    }
    free(folder);
    free(full);
    return found;
}

char *journal_name_anyway(const char *file) {
    char *full = journal_full_name(file), *here = full != NULL || *file == '/' ? NULL : realpath(".", NULL);
    if (full == NULL) {
        full = desk_say("%s%s%s", here != NULL ? here : "", here != NULL ? "/" : "", file);
    }
    free(here);
    return full;
}

/* A file of its own, locked. The name is malloc'ed; NULL with errno. */
static char *new_file(const char *folder, const char *file, bool hidden, int *descriptor) {
    const char *slash = file != NULL ? strrchr(file, '/') : NULL;
    const char *stem = file == NULL ? "new-piece" : slash != NULL ? slash + 1 : file;
    for (int i = 1; i < NAMES_TRIED; i++) {
        char *name = desk_say("%s/%s%.*s-%d%s", folder, hidden ? "." : "", NAME_MOST, stem, i, JOURNAL_ENDING);
        if (name == NULL) {
            errno = ENOMEM;
            return NULL;
        }
        *descriptor = open(name, O_RDWR | O_APPEND | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
        if (*descriptor >= 0) {
            (void)flock(*descriptor, LOCK_EX); /* where there are no locks it is known by the program's number */
            return name;
        }
        int error = errno;
        free(name);
        if (error != EEXIST) {
            errno = error;
            return NULL;
        }
    }
    errno = EEXIST;
    return NULL;
}

/* ---- writing ---- */

static void forget_file(desk_journal *j, bool remove) {
    if (j->name != NULL) {
        if (remove) {
            unlink(j->name); /* while it is locked: nobody has begun to read it */
        }
        close(j->descriptor);
        free(j->name);
    }
    j->name = NULL;
    j->descriptor = -1;
    j->good = 0;
    j->dirty = j->gap = j->unlisted = false;
}

static bool write_all(int descriptor, const char *bytes, size_t length) {
    for (size_t done = 0; done < length;) {
        ssize_t got = write(descriptor, bytes + done, length - done);
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got <= 0) {
            errno = got == 0 ? ENOSPC : errno;
            return false;
        }
        done += (size_t)got;
    }
    return true;
}

static void trouble(desk_journal *j, const char *why) {
    snprintf(j->trouble, sizeof j->trouble, "%s", why);
}

/* What could not be written whole is cut off again: the lines before it stay good. */
static bool append(desk_journal *j, const char *bytes, size_t length) {
    if (bytes == NULL || !write_all(j->descriptor, bytes, length)) {
        trouble(j, bytes == NULL ? "out of memory" : strerror(errno));
        j->gap = true;
        if (j->good == 0 || ftruncate(j->descriptor, (off_t)j->good) != 0) {
            forget_file(j, j->good == 0);
        }
        return false;
    }
    if (!j->dirty) {
        j->dirty = true;
        j->dirty_since = now_ms();
    }
    j->good += length;
    j->trouble[0] = '\0';
    return true;
}

/* One line from the step between two texts. */
static void put_record(shop_buffer *lines, desk_record kind, const desk_step *step, const shop_text *from,
                       const shop_text *to) {
    journal_record record = {.kind = kind, .step = *step};
    if (!desk_text_edits(from, to, &record.edits, &record.edit_count)) {
        lines->failed = true;
        return;
    }
    journal_record_write(lines, &record);
    desk_edits_free(record.edits, record.edit_count);
}

/* What lies between the text on the disk and the one that a journal begins with. */
static void put_earlier(shop_buffer *lines, const desk *d, const shop_text *now) {
    size_t length;
    const char *bytes = shop_text_bytes(now, &length);
    if (d->saved == NULL || (length == d->saved_length && memcmp(bytes, d->saved, length) == 0)) {
        return;
    }
    shop_problems quiet;
    shop_problems_init(&quiet, "");
    shop_text *saved = shop_text_read(d->saved, d->saved_length, &quiet);
    desk_step step = {.title = desk_say("what was changed before")};
    if (saved == NULL || step.title == NULL || !desk_step_make(&step, d->saved, d->saved_length, bytes, length)) {
        lines->failed = true;
    } else {
        put_record(lines, DESK_RECORD_EDIT, &step, saved, now);
    }
    desk_step_free(&step);
    shop_text_free(saved);
    shop_problems_free(&quiet);
}

/* A file in the folder of journals or, where that takes none, beside the layout. */
static bool place_file(desk *d, const char *full, const char *bytes, size_t length) {
    desk_journal *j = d->journal;
    char why[sizeof j->trouble] = "";
    for (int beside = j->folder == NULL; beside < 2; beside++) {
        char *folder = beside == 0    ? shop_copy(j->folder, strlen(j->folder))
                       : full != NULL ? journal_folder_of(full)
                                      : shop_copy(".", 1);
        errno = ENOMEM;
        if (folder != NULL && (beside == 1 || shop_folder_make(folder))) {
            j->name = new_file(folder, full, beside == 1, &j->descriptor);
        }
        if (j->name == NULL) {
            trouble(j, strerror(errno));
        }
        free(folder);
        if (j->name != NULL && append(j, bytes, length)) {
            j->unlisted = true;
            return true;
        }
        if (why[0] == '\0') {
            snprintf(why, sizeof why, "%s", j->trouble); /* the first reason is the one to mend */
        }
    }
    trouble(j, why);
    return false;
}

static void put_second(shop_buffer *lines, const desk *d, desk_record kind) {
    journal_record_write(
        lines, &(journal_record){.kind = kind, .step = {.after = d->second.bytes, .after_length = d->second.length}});
}

/* The first lines of a journal: whose it is, and what led from the text on the disk to this one. */
static bool put_beginning(const desk *d, const char *full, const shop_text *text, shop_buffer *lines) {
    size_t length;
    const char *bytes = shop_text_bytes(text, &length);
    bool is_new = d->saved == NULL;
    journal_head head = {(char *)(uintptr_t)full, is_new, (long)getpid(), is_new ? (char *)(uintptr_t)bytes : d->saved,
                         is_new ? length : d->saved_length};
    journal_head_write(lines, &head);
    put_earlier(lines, d, text);
    if (desk_holding(d)) {
        put_second(lines, d, DESK_RECORD_HOLD);
    }
    return !lines->failed;
}

/* A journal of its own for what led to `text`, and for the step from there (NULL: none). One that was there goes once
 * the new one is written. */
static void begin_anew(desk *d, const shop_text *text, desk_record kind, const desk_step *step, const shop_text *to) {
    desk_journal *j = d->journal, old = *j;
    shop_buffer lines = {0};
    /* An inventory's folder comes with its first save. */
    char *full = d->file == NULL ? NULL : d->is_inventory ? journal_name_anyway(d->file) : journal_full_name(d->file);
    j->name = NULL;
    j->good = 0;
    j->dirty = false;
    if (d->file != NULL && full == NULL) {
        trouble(j, "the folder of the file is gone");
    } else if (put_beginning(d, full, text, &lines)) {
        if (step != NULL) {
            put_record(&lines, kind, step, text, to);
        }
        size_t length;
        char *bytes = shop_buffer_take(&lines, &length);
        j->gap = bytes == NULL || !place_file(d, full, bytes, length);
        if (bytes == NULL) {
            trouble(j, "out of memory");
        }
        free(bytes);
    } else {
        trouble(j, "out of memory");
    }
    free(shop_buffer_take(&lines, NULL));
    free(full);
    if (j->name != NULL) {
        forget_file(&old, true);
    } else {
        j->name = old.name;
        j->descriptor = old.descriptor;
        j->good = old.good;
        j->gap = true;
    }
}

void desk_journal_note(desk *d, desk_record kind, const desk_step *step, const shop_text *from, const shop_text *to) {
    desk_journal *j = d->journal;
    if (j == NULL) {
        return;
    }
    if (j->name == NULL || j->gap) {
        begin_anew(d, from, kind, step, to);
        return;
    }
    shop_buffer lines = {0};
    size_t length;
    put_record(&lines, kind, step, from, to);
    char *bytes = shop_buffer_take(&lines, &length);
    append(j, bytes, length);
    free(bytes);
}

void desk_journal_note_second(desk *d, const desk_step *step) {
    desk_journal *j = d->journal;
    if (j == NULL) {
        return;
    }
    if (j->name == NULL || j->gap) {
        desk_journal_renew(d);
        return;
    }
    shop_buffer lines = {0};
    size_t length;
    put_second(&lines, d, step == NULL ? DESK_RECORD_HOLD : step->flips ? DESK_RECORD_FLIP : DESK_RECORD_HELD);
    char *bytes = shop_buffer_take(&lines, &length);
    append(j, bytes, length);
    free(bytes);
}

/* ---- from outside ---- */

void desk_journal_renew(desk *d) {
    if (d->journal != NULL) {
        begin_anew(d, desk_kept(d)->text, DESK_RECORD_EDIT, NULL, NULL);
    }
}

bool desk_journal_begin(desk *d, const char *folder) {
    desk_journal *j = shop_alloc(sizeof *j);
    if (j == NULL) {
        return false;
    }
    *j = (desk_journal){.descriptor = -1, .folder = folder == NULL ? NULL : shop_copy(folder, strlen(folder))};
    if (folder != NULL && j->folder == NULL) {
        free(j);
        return false;
    }
    desk_journal_close(d);
    d->journal = j;
    if (d->saved == NULL && !d->is_inventory) { /* a piece that was never saved is kept without a change, too */
        desk_journal_renew(d);
    }
    return true;
}

const char *desk_journal_trouble(const desk *d) {
    return d->journal != NULL && d->journal->trouble[0] != '\0' ? d->journal->trouble : NULL;
}

const char *desk_journal_file(const desk *d) {
    return d->journal != NULL ? d->journal->name : NULL;
}

int desk_journal_wait(const desk *d) {
    if (d->journal == NULL || !d->journal->dirty) {
        return -1;
    }
    double left = d->journal->dirty_since + SYNC_EVERY - now_ms();
    return left <= 0 ? 0 : (int)left + 1;
}

/* A name is on the disk when its folder is. */
static void sync_folder(const char *file) {
    char *folder = journal_folder_of(file);
    int descriptor = folder == NULL ? -1 : open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor >= 0) {
        (void)fsync(descriptor);
        close(descriptor);
    }
    free(folder);
}

void desk_journal_sync(desk *d) {
    desk_journal *j = d->journal;
    if (j == NULL || !j->dirty) {
        return;
    }
    (void)fdatasync(j->descriptor); /* where it cannot, the system writes it by and by */
    if (j->unlisted) {
        sync_folder(j->name);
    }
    j->dirty = j->unlisted = false;
}

const char *desk_journal_leave(desk *d) {
    desk_try_leave(d);
    if (d->journal == NULL || (!desk_unsaved(d) && !desk_holding(d))) {
        return NULL;
    }
    if (d->journal->name == NULL || d->journal->gap) {
        desk_journal_renew(d);
    }
    desk_journal_sync(d);
    d->journal->stays = true;
    return d->journal->name;
}

void desk_journal_saved(desk *d) {
    if (desk_holding(d)) {
        desk_journal_renew(d);
    } else {
        desk_journal_drop(d);
    }
}

void desk_journal_drop(desk *d) {
    if (d->journal != NULL) {
        forget_file(d->journal, true);
        d->journal->trouble[0] = '\0';
    }
}

void desk_journal_close(desk *d) {
    if (d->journal != NULL) {
        forget_file(d->journal, !d->journal->stays);
        free(d->journal->folder);
        free(d->journal);
        d->journal = NULL;
    }
}
