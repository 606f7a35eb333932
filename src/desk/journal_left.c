/* journal_left.c - finding and reading what a program left that did not end as it should. */
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "desk/journal_keep.h"
#include "desk/tools.h"

/* ---- what a journal says in the end ---- */

static bool same_bytes(const char *a, size_t a_length, const char *b, size_t b_length) {
    return a_length == b_length && memcmp(a, b, a_length) == 0;
}

static bool same_step(const desk_step *a, const desk_step *b) {
    return a->at == b->at && same_bytes(a->before, a->before_length, b->before, b->before_length) &&
           same_bytes(a->after, a->after_length, b->after, b->after_length);
}

/* Does the text hold what the step takes out of it? */
static bool fits(const desk_left *left, const desk_step *step) {
    return step->at <= left->length && step->before_length <= left->length - step->at &&
           memcmp(left->text + step->at, step->before, step->before_length) == 0;
}

/* Undo and redo exchange the layout held before a step for the one held after it. */
static bool follow_second(desk_left *left, const journal_record *record) {
    bool own = record->kind != DESK_RECORD_HOLD && left->last != SIZE_MAX;
    desk_step *step = own ? &left->records[left->last].step : NULL;
    char *held = record->step.after == NULL ? NULL : shop_copy(record->step.after, record->step.after_length);
    if (held == NULL && record->step.after != NULL) {
        return false;
    }
    if (step != NULL) {
        step->moves_second = true;
        step->flips = record->kind == DESK_RECORD_FLIP;
        free(step->second);
        step->second = left->held;
        step->second_length = left->held_length;
    } else {
        free(left->held);
    }
    left->held = held;
    left->held_length = record->step.after_length;
    return true;
}

/* One line more. What goes back a step that the journal knows is such a step; any other way back (past a save) is a
 * change of its own. */
static bool follow(desk_left *left, size_t index) {
    const journal_record *record = &left->records[index];
    const desk_step *step = &record->step;
    size_t length;
    if (record->kind >= DESK_RECORD_HOLD) {
        return follow_second(left, record);
    }
    char *text = fits(left, step) ? desk_spliced(left->text, left->length, step, &length) : NULL;
    if (text == NULL) {
        return false;
    }
    free(left->text);
    left->text = text;
    left->length = length;
    if (record->kind == DESK_RECORD_UNDO && left->done > 0) {
        desk_step back = desk_step_back(&left->records[left->order[left->done - 1]].step);
        if (same_step(&back, step)) {
            left->last = left->order[--left->done];
            return true;
        }
    }
    if (record->kind == DESK_RECORD_REDO && left->done < left->step_count &&
        same_step(&left->records[left->order[left->done]].step, step)) {
        left->last = left->order[left->done++];
        return true;
    }
    left->order[left->done++] = left->last = index;
    left->step_count = left->done;
    return true;
}

static bool add_record(desk_left *left, const char *line, size_t length) {
    size_t *order = shop_resize(left->order, (left->count + 1) * sizeof *order);
    left->order = order != NULL ? order : left->order;
    journal_record *records = shop_resize(left->records, (left->count + 1) * sizeof *records);
    left->records = records != NULL ? records : left->records;
    if (order == NULL || records == NULL) {
        return false;
    }
    bool fine = journal_record_read(&records[left->count], line, length) && follow(left, left->count);
    if (!fine) {
        journal_record_free(&records[left->count]);
        return false;
    }
    left->count++;
    return true;
}

bool desk_left_is_newer(const char *journal) {
    static const char key[] = "bandwright-journal: ";
    char line[sizeof key + 12] = "";
    FILE *from = fopen(journal, "re");
    bool newer = from != NULL && fgets(line, sizeof line, from) != NULL && strncmp(line, key, sizeof key - 1) == 0 &&
                 strcmp(line, JOURNAL_FIRST_LINE) != 0 && line[sizeof key - 1] >= '1' && line[sizeof key - 1] <= '9';
    if (from != NULL) {
        fclose(from);
    }
    return newer;
}

bool journal_understand(desk_left *left, const char *bytes, size_t length) {
    size_t at = strlen(JOURNAL_FIRST_LINE);
    if (length < at || memcmp(bytes, JOURNAL_FIRST_LINE, at) != 0) {
        return false;
    }
    const char *end = memchr(bytes + at, '\n', length - at);
    if (end == NULL || !journal_head_read(&left->head, bytes + at, (size_t)(end - bytes) - at)) {
        return false;
    }
    left->text = shop_copy(left->head.base, left->head.base_length);
    left->last = SIZE_MAX;
    left->length = left->head.base_length;
    left->good = (size_t)(end - bytes) + 1;
    while (left->text != NULL && left->good < length) {
        const char *line = bytes + left->good;
        end = memchr(line, '\n', length - left->good);
        if (end == NULL || !add_record(left, line, (size_t)(end - line))) {
            left->damaged = end != NULL; /* a last line without its end was being written */
            break;
        }
        left->good += (size_t)(end - line) + 1;
    }
    return left->text != NULL;
}

/* ---- opening ---- */

/* A program that is still there holds the lock; without locks it is known by its number. */
static bool is_in_use(int descriptor) {
    return flock(descriptor, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
}

static bool has_no_locks(int descriptor) {
    return flock(descriptor, LOCK_EX | LOCK_NB) != 0;
}

/* Everything is in the file already: the program ended between saving and clearing up, or nothing was changed. */
static bool is_saved(const desk_left *left) {
    char *bytes = NULL;
    size_t length = 0;
    shop_problems quiet;
    if (left->head.file == NULL || left->held != NULL) {
        return false;
    }
    shop_problems_init(&quiet, "");
    bool saved = shop_read(left->head.file, &bytes, &length, &quiet) == SHOP_OK &&
                 same_bytes(bytes, length, left->text, left->length);
    shop_problems_free(&quiet);
    free(bytes);
    return saved;
}

desk_left *desk_left_open(const char *journal) {
    shop_problems quiet;
    char *bytes = NULL;
    size_t length = 0;
    int descriptor = open(journal, O_RDWR | O_APPEND | O_CLOEXEC | O_NOFOLLOW);
    desk_left *left = descriptor < 0 || is_in_use(descriptor) ? NULL : shop_alloc(sizeof *left);
    if (left == NULL) {
        if (descriptor >= 0) {
            close(descriptor);
        }
        return NULL;
    }
    *left = (desk_left){.descriptor = descriptor, .name = shop_copy(journal, strlen(journal))};
    shop_problems_init(&quiet, "");
    bool fine = left->name != NULL && shop_read(journal, &bytes, &length, &quiet) == SHOP_OK &&
                journal_understand(left, bytes, length);
    shop_problems_free(&quiet);
    free(bytes);
    if (fine && has_no_locks(descriptor) && kill((pid_t)left->head.program, 0) == 0) {
        fine = false;
    }
    if (fine && !left->damaged && is_saved(left)) {
        desk_left_drop(left);
        return NULL;
    }
    if (!fine) {
        desk_left_close(left);
        return NULL;
    }
    return left;
}

void journal_forget(desk_left *left) {
    for (size_t i = 0; i < left->count; i++) {
        journal_record_free(&left->records[i]);
    }
    journal_head_free(&left->head);
    free(left->records);
    free(left->order);
    free(left->text);
    free(left->held);
    free(left->name);
}

void desk_left_close(desk_left *left) {
    if (left == NULL) {
        return;
    }
    if (left->descriptor >= 0) {
        close(left->descriptor);
    }
    journal_forget(left);
    free(left);
}

void desk_left_drop(desk_left *left) {
    unlink(left->name);
    desk_left_close(left);
}

/* ---- finding ---- */

static bool is_journal_name(const char *name) {
    size_t length = strlen(name), ending = strlen(JOURNAL_ENDING);
    return length > ending && strcmp(name + length - ending, JOURNAL_ENDING) == 0;
}

static int by_name(const void *a, const void *b) {
    return strcmp(*(char *const *)a, *(char *const *)b);
}

/* Adds the journals of a folder: all, or those whose names begin so. */
static void add_names(char ***names, size_t *count, const char *folder, const char *prefix) {
    DIR *open_folder = opendir(folder);
    if (open_folder == NULL) {
        return;
    }
    for (struct dirent *one; (one = readdir(open_folder)) != NULL;) {
        if (!is_journal_name(one->d_name) || strncmp(one->d_name, prefix, strlen(prefix)) != 0) {
            continue;
        }
        char *name = desk_say("%s/%s", folder, one->d_name);
        char **more = name == NULL ? NULL : shop_resize(*names, (*count + 1) * sizeof *more);
        if (more == NULL) {
            free(name);
            break;
        }
        *names = more;
        more[(*count)++] = name;
    }
    closedir(open_folder);
}

char **desk_left_names(const char *folder, const char *file, size_t *count) {
    char **names = NULL;
    *count = 0;
    if (folder != NULL) {
        add_names(&names, count, folder, "");
    }
    char *beside = file != NULL ? journal_folder_of(file) : shop_copy(".", 1);
    if (beside != NULL) {
        add_names(&names, count, beside, ".");
    }
    free(beside);
    if (*count > 1) {
        qsort(names, *count, sizeof *names, by_name);
    }
    return names;
}

desk_left *desk_left_for(const char *folder, const char *file) {
    size_t count;
    char *full = journal_name_anyway(file), **names = desk_left_names(folder, file, &count);
    desk_left *found = NULL;
    for (size_t i = 0; i < count; i++) {
        if (found == NULL && full != NULL) {
            found = desk_left_open(names[i]);
            if (found != NULL && (found->head.file == NULL || strcmp(found->head.file, full) != 0)) {
                desk_left_close(found);
                found = NULL;
            }
        }
        free(names[i]);
    }
    free(names);
    free(full);
    return found;
}

/* Whose it is only its own name tells: "lid.yaml-1.journal", ".lid.yaml-1.journal". */
static bool is_called_after(const char *journal, const char *file) {
    const char *slash = strrchr(journal, '/'), *name = slash != NULL ? slash + 1 : journal;
    const char *cut = strrchr(file, '/'), *stem = cut != NULL ? cut + 1 : file;
    size_t length = strlen(stem);
    name += *name == '.';
    return strncmp(name, stem, length) == 0 && name[length] == '-' && name[length + 1] != '\0' &&
           strcmp(name + length + 1 + strspn(name + length + 1, "0123456789"), JOURNAL_ENDING) == 0;
}

char *desk_left_newer(const char *folder, const char *file) {
    size_t count;
    char **names = desk_left_names(folder, file, &count), *found = NULL;
    for (size_t i = 0; i < count; i++) {
        if (found == NULL && is_called_after(names[i], file) && desk_left_is_newer(names[i])) {
            found = names[i];
        } else {
            free(names[i]);
        }
    }
    free(names);
    return found;
}

/* ---- looking ---- */

const char *desk_left_file(const desk_left *left) {
    return left->head.file;
}

char *desk_left_name(const desk_left *left) {
    if (left->head.file != NULL) {
        const char *slash = strrchr(left->head.file, '/');
        return desk_say("%s", slash != NULL ? slash + 1 : left->head.file);
    }
    shop_problems quiet;
    shop_problems_init(&quiet, "");
    shop_text *text = shop_text_read(left->text, left->length, &quiet);
    char *piece = text == NULL ? NULL : shop_text_get(text, "piece");
    shop_text_free(text);
    shop_problems_free(&quiet);
    return piece != NULL ? piece : desk_say("a new piece");
}

bool desk_left_is_inventory(const desk_left *left) {
    shop_problems quiet;
    shop_problems_init(&quiet, "");
    shop_text *text = shop_text_read(left->head.base, left->head.base_length, &quiet);
    char *format = text == NULL ? NULL : shop_text_get(text, "bandwright-inventory");
    bool is = format != NULL;
    free(format);
    shop_text_free(text);
    shop_problems_free(&quiet);
    return is;
}

bool desk_left_is_new(const desk_left *left) {
    return left->head.is_new;
}

const char *desk_left_base(const desk_left *left, size_t *length) {
    *length = left->head.base_length;
    return left->head.base;
}

size_t desk_left_count(const desk_left *left) {
    return left->done;
}

bool desk_left_holds(const desk_left *left) {
    return left->held != NULL;
}

const char *desk_left_title(const desk_left *left, size_t index) {
    return left->records[left->order[index]].step.title;
}

bool desk_left_is_damaged(const desk_left *left) {
    return left->damaged;
}

bool desk_left_differs(const desk_left *left, const desk *d) {
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    return !same_bytes(bytes, length, left->head.base, left->head.base_length);
}
