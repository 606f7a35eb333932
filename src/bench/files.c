/* files.c - opening, saving, leaving, and the list of recent files. */
#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "bench/inner.h"
#include "shop/alloc.h"

#define RECENT_MOST 12
#define EXAMPLES_MOST 40

/* ---- the start screen's list ---- */

void start_free(bench *b) {
    for (size_t i = 0; i < b->start_count; i++) {
        free(b->start[i].path);
        free(b->start[i].words);
    }
    free(b->start);
    b->start = NULL;
    b->start_count = 0;
}

void start_add(bench *b, char *path, const char *kind, char *words) {
    bench_place *list = shop_resize(b->start, (b->start_count + 1) * sizeof *list);
    if (list == NULL) {
        free(path);
        free(words);
        return;
    }
    b->start = list;
    list[b->start_count++] = (bench_place){path, kind, words};
}

static char *joined(const char *folder, const char *name) {
    size_t room = strlen(folder) + strlen(name) + 2;
    char *path = shop_alloc(room);
    if (path != NULL) {
        snprintf(path, room, "%s/%s", folder, name);
    }
    return path;
}

char *recent_bytes(const bench *b, size_t *length) {
    char *file = b->state == NULL ? NULL : joined(b->state, "recent"), *bytes = NULL;
    if (file != NULL) {
        shop_problems problems;
        shop_problems_init(&problems, file);
        if (shop_read(file, &bytes, length, &problems) != SHOP_OK) {
            bytes = NULL;
        }
        shop_problems_free(&problems);
    }
    free(file);
    return bytes;
}

static int by_name(const void *left, const void *right) {
    return strcmp(((const bench_place *)left)->path, ((const bench_place *)right)->path);
}

static void read_examples(bench *b) {
    DIR *folder = b->examples == NULL ? NULL : opendir(b->examples);
    if (folder == NULL) {
        return;
    }
    size_t first = b->start_count;
    for (struct dirent *one; b->start_count - first < EXAMPLES_MOST && (one = readdir(folder)) != NULL;) {
        size_t length = strlen(one->d_name);
        if (one->d_name[0] != '.' && length > 5 && strcmp(one->d_name + length - 5, ".yaml") == 0) {
            char *path = joined(b->examples, one->d_name);
            if (path != NULL) {
                start_add(b, path, "example", NULL);
            }
        }
    }
    closedir(folder);
    if (b->start_count > first) {
        qsort(b->start + first, b->start_count - first, sizeof *b->start, by_name);
    }
}

void recent_read(bench *b) {
    start_free(b);
    start_add(b, NULL, "new", NULL);
    left_add_places(b);
    size_t length = 0;
    char *bytes = recent_bytes(b, &length);
    for (size_t at = 0, kept = 0; bytes != NULL && at < length && kept < RECENT_MOST;) {
        const char *end = memchr(bytes + at, '\n', length - at);
        size_t size = end == NULL ? length - at : (size_t)(end - bytes) - at;
        if (size > 0 && memchr(bytes + at, '\0', size) == NULL) {
            char *path = shop_copy(bytes + at, size);
            if (path != NULL) {
                start_add(b, path, "recent", NULL);
                kept++;
            }
        }
        at += size + 1;
    }
    free(bytes);
    read_examples(b);
}

/* The list is a convenience: if it cannot be kept, nothing is said. */
void recent_add(bench *b, const char *file) {
    char *full = realpath(file, NULL);
    char *name = b->state == NULL ? NULL : joined(b->state, "recent");
    size_t length = 0;
    char *old = full == NULL || name == NULL ? NULL : recent_bytes(b, &length);
    shop_buffer all = {0};
    if (full != NULL && name != NULL && strchr(full, '\n') == NULL && shop_folder_make(b->state)) {
        shop_buffer_text(&all, full);
        shop_buffer_text(&all, "\n");
        for (size_t at = 0, kept = 1; old != NULL && at < length && kept < RECENT_MOST;) {
            const char *end = memchr(old + at, '\n', length - at);
            size_t size = end == NULL ? length - at : (size_t)(end - old) - at;
            if (size > 0 && (size != strlen(full) || memcmp(old + at, full, size) != 0)) {
                shop_buffer_add(&all, old + at, size);
                shop_buffer_text(&all, "\n");
                kept++;
            }
            at += size + 1;
        }
        size_t made_length;
        char *made = shop_buffer_take(&all, &made_length);
        shop_problems problems;
        shop_problems_init(&problems, name);
        if (made != NULL) {
            (void)shop_save(name, made, made_length, false, &problems);
        }
        shop_problems_free(&problems);
        free(made);
    }
    free(old);
    free(name);
    free(full);
}

/* ---- opening ---- */

char *problem_lines(const shop_problems *problems) {
    char *text = NULL;
    size_t size = 0;
    FILE *to = open_memstream(&text, &size);
    if (to == NULL) {
        return NULL;
    }
    fprintf(to, "This file cannot be opened. Nothing in it was changed.\n\n");
    shop_problems_print(problems, to);
    if (fclose(to) != 0) {
        free(text);
        return NULL;
    }
    return text;
}

bool bench_open_file(bench *b, const char *file) {
    shop_problems problems;
    shop_problems_init(&problems, file);
    shop_status status;
    desk *opened = left_open_layout(b, file, &problems, &status);
    if (opened == NULL) {
        bench_read(b, "cannot be opened", problem_lines(&problems));
        shop_problems_free(&problems);
        return false;
    }
    shop_problems_free(&problems);
    desk_close(b->desk);
    b->desk = opened;
    recent_add(b, file);
    bench_opened(b);
    return true;
}

void do_open(bench *b, int key) {
    (void)key;
    bench_type(b, TYPING_OPEN, "");
    bench_say(b, "Which file? Type its name, then {typing.take}. A name that does not exist starts a new piece.");
}

void do_new(bench *b, int key) {
    (void)key;
    form_start(b, NULL);
}

/* ---- saving ---- */

static void go_on(bench *b) {
    bench_after after = b->after;
    if (after == AFTER_QUIT && shelf_ask_unsaved(b)) {
        return;
    }
    b->after = AFTER_NOTHING;
    if (after == AFTER_QUIT) {
        b->effects |= BENCH_QUIT;
    } else if (after == AFTER_START) {
        desk_close(b->desk);
        b->desk = NULL;
        recent_read(b);
        bench_go(b, BENCH_START);
    }
}

void files_saved(bench *b, const char *also) {
    recent_add(b, desk_file(b->desk));
    const char *beside = desk_kept_beside(b->desk);
    const char *slash = strrchr(desk_file(b->desk), '/'), *name = slash != NULL ? slash + 1 : desk_file(b->desk);
    bench_say(b, "saved as %s%s%s%s%s", desk_file(b->desk), strchr(name, '.') == NULL ? " (a name without .yaml)" : "",
              also, beside != NULL ? "; what was there is kept as " : "", beside != NULL ? beside : "");
    bench_go(b, BENCH_WORK);
    go_on(b);
}

static void ask(bench *b, bench_question question) {
    b->question = question;
    b->back = BENCH_WORK;
    b->screen = BENCH_ASK;
}

static void ask_overwrite(bench *b, const char *file) {
    char *copy = shop_copy(file, strlen(file));
    free(b->file);
    b->file = copy;
    b->typing = TYPING_NOTHING;
    ask(b, ASK_OVERWRITE);
}

/* What could not be written, why, and that nothing is lost. */
void files_refuse_save(bench *b, const char *file, shop_problems *problems) {
    char why[sizeof b->message];
    bench_refuse_problem(b, problems);
    snprintf(why, sizeof why, "%s", b->message);
    bench_refuse(b, "%.200s is not saved: %.400s; nothing is lost, {workbench.save-as} saves under another name", file,
                 why);
}

static void save_as(bench *b, const char *file, bool overwrite) {
    shop_problems problems;
    shop_problems_init(&problems, file);
    shop_status status = desk_save_as(b->desk, file, overwrite, &problems);
    if (status == SHOP_OK) {
        shop_problems_free(&problems);
        files_saved(b, "");
        return;
    }
    struct stat there;
    bool exists = !overwrite && stat(file, &there) == 0 && S_ISREG(there.st_mode);
    if (exists) {
        shop_problems_free(&problems);
        bool own = desk_file(b->desk) != NULL && strcmp(desk_file(b->desk), file) == 0;
        if (own && desk_changed_outside(b->desk)) {
            theirs_ask(b);
        } else {
            ask_overwrite(b, file);
        }
        return;
    }
    files_refuse_save(b, file, &problems);
    if (b->typing != TYPING_SAVE_AS) {
        bench_type(b, TYPING_SAVE_AS, file);
    }
}

/* A name from the piece's own: "Cedar box lid" gives "cedar-box-lid.yaml". */
static void name_from_piece(const bench *b, const char *ending, char out[200]) {
    const shop_string *piece = &desk_project(b->desk)->piece;
    size_t used = 0;
    for (size_t i = 0; i < piece->length && used < 150; i++) {
        char c = piece->bytes[i];
        bool letter = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || (unsigned char)c >= 0xC2;
        bool more = (unsigned char)c >= 0x80 && (unsigned char)c < 0xC0;
        if (c >= 'A' && c <= 'Z') {
            out[used++] = (char)(c - 'A' + 'a');
        } else if (letter || more) {
            out[used++] = c;
        } else if (used > 0 && out[used - 1] != '-') {
            out[used++] = '-';
        }
    }
    while (used > 0 && out[used - 1] == '-') {
        used--;
    }
    snprintf(out + used, 200 - used, "%s%s", used > 0 ? "" : "piece", ending);
}

/* The examples are there for everybody: what is made of one is saved elsewhere. A file is one if it lies in their
 * folder, however that was written. */
static bool is_example(const bench *b) {
    char *file = desk_file(b->desk) == NULL || b->examples == NULL ? NULL : realpath(desk_file(b->desk), NULL);
    struct stat there, examples;
    char *slash = file == NULL ? NULL : strrchr(file, '/');
    if (slash != NULL) {
        slash[slash == file] = '\0';
    }
    bool example = slash != NULL && stat(file, &there) == 0 && stat(b->examples, &examples) == 0 &&
                   there.st_dev == examples.st_dev && there.st_ino == examples.st_ino;
    free(file);
    return example;
}

void files_suggest(const bench *b, const char *ending, char out[FILES_SUGGESTED]) {
    const char *file = desk_file(b->desk);
    if (file == NULL) {
        name_from_piece(b, ending, out);
        return;
    }
    const char *slash = strrchr(file, '/'), *name = slash != NULL ? slash + 1 : file, *dot = strrchr(name, '.');
    const char *from = is_example(b) || strlen(file) + strlen(ending) >= FILES_SUGGESTED ? name : file;
    size_t length = dot != NULL && dot > name ? (size_t)(dot - from) : strlen(from);
    snprintf(out, FILES_SUGGESTED, "%.*s%s", (int)length, from, ending);
}

void do_save_as(bench *b, int key) {
    (void)key;
    char name[200];
    const char *file = desk_file(b->desk);
    if (file == NULL) {
        name_from_piece(b, ".yaml", name);
        file = name;
    } else if (is_example(b)) {
        const char *slash = strrchr(file, '/');
        file = slash != NULL ? slash + 1 : file;
    }
    bench_type(b, TYPING_SAVE_AS, file);
    bench_say(b, "%sUnder which name? {typing.take} saves, {typing.leave} leaves it.",
              is_example(b) ? "Examples stay as they are; yours is saved in a file of its own. " : "");
}

void do_save(bench *b, int key) {
    if (desk_file(b->desk) == NULL || (is_example(b) && desk_unsaved(b->desk))) {
        do_save_as(b, key);
        return;
    }
    bool changed = desk_changed_outside(b->desk);
    if (changed && desk_unsaved(b->desk)) {
        theirs_ask(b);
        return;
    }
    if (changed) {
        bench_say(b, "%s was changed by another program; {workbench.load-again} reads it again", desk_file(b->desk));
        return;
    }
    if (!desk_unsaved(b->desk)) {
        bench_say(b, "nothing has changed since it was saved as %s", desk_file(b->desk));
        go_on(b);
        return;
    }
    shop_problems problems;
    shop_problems_init(&problems, desk_file(b->desk));
    if (desk_save(b->desk, &problems) == SHOP_OK) {
        shop_problems_free(&problems);
        files_saved(b, "");
        return;
    }
    b->after = AFTER_NOTHING;
    bench_go(b, BENCH_WORK);
    files_refuse_save(b, desk_file(b->desk), &problems);
}

static void reload(bench *b) {
    shop_problems problems;
    shop_problems_init(&problems, desk_file(b->desk) != NULL ? desk_file(b->desk) : "");
    double gap = bench_gap(b);
    if (!desk_reload(b->desk, &problems)) {
        bench_refuse_problem(b, &problems);
        return;
    }
    shop_problems_free(&problems);
    bench_tell_change(b, gap);
}

/* Undo brings back what was not saved, so that nothing needs to be asked. */
void do_reload(bench *b, int key) {
    (void)key;
    reload(b);
}

/* ---- leaving ---- */

static void leave(bench *b, bench_after after) {
    b->after = after;
    if (b->desk != NULL && desk_unsaved(b->desk)) {
        ask(b, ASK_UNSAVED);
        return;
    }
    if (b->desk != NULL && bench_holds_another(b)) {
        ask(b, ASK_HELD);
        return;
    }
    go_on(b);
}

void do_quit(bench *b, int key) {
    (void)key;
    leave(b, AFTER_QUIT);
}

void do_start(bench *b, int key) {
    (void)key;
    leave(b, AFTER_START);
}

void do_yes(bench *b, int key) {
    if (shelf_answer(b, true)) {
        return;
    }
    b->screen = BENCH_WORK;
    if (b->question == ASK_HELD) {
        go_on(b);
    } else if (b->question == ASK_UNSAVED) {
        do_save(b, key);
    } else if (b->file != NULL) {
        char *file = b->file;
        b->file = NULL;
        save_as(b, file, true);
        free(file);
    }
}

void do_no(bench *b, int key) {
    (void)key;
    if (shelf_answer(b, false)) {
        return;
    }
    b->screen = BENCH_WORK;
    if (b->question == ASK_HELD) {
        b->after = AFTER_NOTHING;
    } else if (b->question == ASK_UNSAVED) {
        go_on(b);
    } else {
        bench_type(b, TYPING_SAVE_AS, b->file != NULL ? b->file : "");
        bench_say(b, "Under which other name? {typing.take} saves, {typing.leave} leaves it.");
    }
}

/* Without the blanks around it; ~/ is the maker's own folder, as in a shell. */
void files_named(const char *typed, char file[FILES_NAME_ROOM]) {
    const char *home = getenv("HOME");
    typed += strspn(typed, " ");
    bool own = typed[0] == '~' && typed[1] == '/' && home != NULL && strlen(home) < FILES_NAME_ROOM - ENTRY_MOST - 1;
    snprintf(file, FILES_NAME_ROOM, "%s%s", own ? home : "", own ? typed + 1 : typed);
    for (size_t length = strlen(file); length > 0 && file[length - 1] == ' '; length--) {
        file[length - 1] = '\0';
    }
}

/* A name without an ending gets the one that the list of files looks for; a file that is opened already keeps its own.
 */
static void add_ending(const bench *b, char file[FILES_NAME_ROOM]) {
    const char *slash = strrchr(file, '/'), *name = slash != NULL ? slash + 1 : file, *own = desk_file(b->desk);
    size_t length = strlen(file);
    if (name[0] != '\0' && strchr(name, '.') == NULL && length + sizeof ".yaml" <= FILES_NAME_ROOM &&
        (own == NULL || strcmp(own, file) != 0)) {
        memcpy(file + length, ".yaml", sizeof ".yaml");
    }
}

void files_take_name(bench *b, const char *name) {
    char file[FILES_NAME_ROOM];
    files_named(name, file);
    if (file[0] == '\0') {
        bench_refuse(b, "A file needs a name; {typing.leave} leaves it.");
    } else if (b->typing == TYPING_SAVE_AS) {
        add_ending(b, file);
        save_as(b, file, false);
    } else {
        struct stat there;
        b->typing = TYPING_NOTHING;
        if (lstat(file, &there) != 0 && errno == ENOENT && !left_look_for(b, file)) {
            form_start(b, file);
        } else {
            bench_open_file(b, file);
        }
    }
}
