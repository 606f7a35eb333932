/* files_left.c - what a program left behind that did not end as it should: found at opening, then taken, looked at or
 * dropped. */
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "bench/inner.h"
#include "shop/alloc.h"

#define NEWER "%.300s was kept by a newer version of bandwright: it stays as it is, and that version offers it."

static bool is_there(const char *file) {
    struct stat status;
    return lstat(file, &status) == 0;
}

/* ---- finding ---- */

bool left_look_for(bench *b, const char *file) {
    desk_left_close(b->left);
    b->left = desk_left_for(b->state, file);
    return b->left != NULL;
}

static void forget(bench *b) {
    desk_left_close(b->left);
    b->left = NULL;
}

desk *left_open_layout(bench *b, const char *file, shop_problems *problems, shop_status *status) {
    desk *opened;
    if (left_look_for(b, file) && !is_there(file)) {
        size_t length;
        const char *base = desk_left_base(b->left, &length);
        opened = desk_new(file, base, length, shelf_readable(b), problems, status);
    } else {
        opened = desk_open(file, shelf_readable(b), problems, status);
    }
    if (opened == NULL) {
        forget(b);
    }
    return opened;
}

bool left_open_journal(bench *b, const char *journal) {
    desk_left *left = desk_left_open(journal);
    if (left == NULL) {
        char name[400]; /* the list, read anew, takes the old one's names with it */
        snprintf(name, sizeof name, "%.390s", journal);
        recent_read(b);
        bench_go(b, BENCH_START);
        if (desk_left_is_newer(name)) {
            bench_refuse(b, NEWER, name);
            return false;
        }
        bench_refuse(b, "These changes are not there any more: another program has them, or they were saved.");
        return false;
    }
    if (desk_left_file(left) != NULL) {
        char file[ENTRY_MOST + 1];
        bool inventory = desk_left_is_inventory(left);
        snprintf(file, sizeof file, "%s", desk_left_file(left));
        desk_left_close(left);
        if (shelf_is_file(b, file)) {
            do_inventory(b, 'i');
            return b->stock != NULL;
        }
        if (inventory) {
            bench_refuse(b, "These are changes of another inventory: bandwright --inventory %.400s offers them.", file);
            return false;
        }
        return bench_open_file(b, file);
    }
    size_t length;
    const char *base = desk_left_base(left, &length);
    shop_problems problems;
    shop_status status;
    shop_problems_init(&problems, "new piece");
    desk *opened = desk_new(NULL, base, length, shelf_readable(b), &problems, &status);
    if (opened == NULL) {
        desk_left_close(left);
        bench_refuse_problem(b, &problems);
        return false;
    }
    shop_problems_free(&problems);
    forget(b);
    b->left = left;
    desk_close(b->desk);
    b->desk = opened;
    bench_opened(b);
    return true;
}

/* "1 change", "3 changes" */
static void count_words(size_t count, char out[40]) {
    snprintf(out, 40, "%zu change%s", count, count == 1 ? "" : "s");
}

/* "lid.yaml: 3 changes, a held layout"; NULL without memory. */
static char *left_words(const desk_left *left) {
    char changes[40], words[400], *name = desk_left_name(left);
    const char *parts[] = {desk_left_is_new(left) ? "never saved" : NULL, desk_left_count(left) > 0 ? changes : NULL,
                           desk_left_holds(left) ? "a held layout" : NULL,
                           desk_left_is_inventory(left) ? "an inventory" : NULL};
    if (name == NULL) {
        return NULL;
    }
    count_words(desk_left_count(left), changes);
    size_t used = (size_t)snprintf(words, sizeof words, "%.300s", name);
    const char *between = ": ";
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        if (parts[i] != NULL) {
            used += (size_t)snprintf(words + used, sizeof words - used, "%s%s", between, parts[i]);
            between = ", ";
        }
    }
    free(name);
    return shop_copy(words, used);
}

static char *newer_words(const char *journal) {
    char words[400];
    const char *slash = strrchr(journal, '/');
    snprintf(words, sizeof words, "%.300s: kept by a newer version", slash != NULL ? slash + 1 : journal);
    return shop_copy(words, strlen(words));
}

void left_add_places(bench *b) {
    size_t count;
    char **names = desk_left_names(b->state, NULL, &count);
    for (size_t i = 0; i < count; i++) {
        desk_left *left = desk_left_open(names[i]);
        char *copy = left != NULL ? left_words(left) : desk_left_is_newer(names[i]) ? newer_words(names[i]) : NULL;
        desk_left_close(left);
        if (copy != NULL) {
            start_add(b, names[i], "left", copy);
        } else {
            free(names[i]);
        }
    }
    free(names);
}

/* ---- the question ---- */

static void begin_journal(bench *b) {
    if (!desk_journal_begin(b->desk, b->state)) {
        bench_refuse(b, "out of memory: changes are not kept until they are saved");
    }
}

void left_tell_newer(bench *b, const desk *d) {
    char *newer = desk_file(d) == NULL ? NULL : desk_left_newer(b->state, desk_file(d));
    if (newer != NULL) {
        bench_refuse(b, NEWER, newer);
    }
    free(newer);
}

void left_opened(bench *b) {
    b->trouble_told = false;
    b->dropping = false;
    if (b->left != NULL) {
        bench_go(b, BENCH_LEFT); /* its journal begins with the answer */
    } else {
        begin_journal(b);
        left_tell_newer(b, b->desk);
    }
}

/* Said once, and again after it was well in between. */
void left_tell_trouble(bench *b) {
    const char *why = b->desk != NULL ? desk_journal_trouble(b->desk) : NULL;
    why = why == NULL && b->stock != NULL ? desk_journal_trouble(b->stock) : why;
    if (why != NULL && !b->trouble_told) {
        char said[sizeof b->message];
        snprintf(said, sizeof said, "%s", b->message);
        bench_refuse(b, "%.300s%sThis change is not kept on the disk (%s): save often.", said,
                     said[0] != '\0' ? ". " : "", why);
    }
    b->trouble_told = why != NULL;
}

/* A file may have been left more than once. */
static void ask_for_next(bench *b) {
    const char *file = desk_file(b->desk);
    if (file != NULL && b->screen == BENCH_WORK && left_look_for(b, file)) {
        bench_go(b, BENCH_LEFT);
    }
}

/* What did not fit, as a text to read. */
static void show_unfit(bench *b, const shop_problems *problems, const char *kept) {
    char *text = NULL;
    size_t size = 0;
    FILE *to = open_memstream(&text, &size);
    if (to == NULL) {
        return;
    }
    char undo[COMMAND_ID_ROOM];
    fprintf(to, "What fits was done again, and %s takes it back. The journal stays as %s.\n\n",
            key_words(b, "{workbench.undo}", undo, sizeof undo), kept);
    if (problems->count == 0) {
        fprintf(to, "A part of the journal cannot be read; what stands before it was taken.\n");
    } else {
        fprintf(to, "These changes do not fit any more:\n\n");
    }
    for (size_t i = 0; i < problems->count; i++) {
        fprintf(to, "- %s\n", problems->list[i].text);
    }
    if (fclose(to) == 0) {
        bench_read(b, "what was not taken", text);
    } else {
        free(text);
    }
}

void do_left_take(bench *b, int key) {
    (void)key;
    shop_problems problems;
    char *kept = NULL, changes[40];
    desk_left *left = b->left;
    size_t count = desk_left_count(left);
    bool holds = desk_left_holds(left);
    count_words(count, changes);
    shop_problems_init(&problems, "");
    b->left = NULL;
    begin_journal(b);
    bench_go(b, BENCH_WORK);
    if (!desk_left_take(b->desk, left, &problems, &kept)) {
        bench_refuse_problem(b, &problems);
        return;
    }
    bool held = holds && desk_holding(b->desk);
    if (held && count == 0) {
        bench_say(b, "a layout is held as before: {workbench.hold-flip} flips, {workbench.both} shows both");
    } else if (count == 0) {
        bench_say(b, "the piece as it was; {workbench.save} saves it");
    } else {
        bench_say(b, "%s taken; {workbench.undo} takes %s back, {workbench.save} saves%s", changes,
                  count == 1 ? "it" : "them one by one", held ? "; the other layout is held as before" : "");
    }
    if (kept != NULL) {
        show_unfit(b, &problems, kept);
    }
    free(kept);
    shop_problems_free(&problems);
    bench_settle(b);
    ask_for_next(b);
}

void do_left_look(bench *b, int key) {
    (void)key;
    char *text = NULL;
    size_t size = 0, count = desk_left_count(b->left);
    FILE *to = open_memstream(&text, &size);
    b->dropping = false;
    if (to == NULL) {
        bench_refuse(b, "out of memory");
        return;
    }
    fprintf(to, "Not saved, from the first to the last:\n\n");
    for (size_t i = 0; i < count; i++) {
        fprintf(to, "- %s\n", desk_left_title(b->left, i));
    }
    if (count == 0 && desk_left_is_new(b->left)) {
        fprintf(to, "- the piece itself, as it was made\n");
    }
    if (desk_left_holds(b->left)) {
        fprintf(to, "- the layout that was held beside it\n");
    }
    bool fine = fclose(to) == 0;
    bench_read(b, "changes that were not saved", fine ? text : NULL);
    if (!fine) {
        free(text);
    }
}

/* Of a piece that is nowhere else nothing remains to be shown. */
static void without_it(bench *b, bool nowhere_else) {
    bench_go(b, BENCH_WORK);
    if (nowhere_else) {
        desk_close(b->desk);
        b->desk = NULL;
        recent_read(b);
        bench_go(b, BENCH_START);
    } else {
        begin_journal(b);
    }
}

static bool is_nowhere_else(const bench *b) {
    const char *file = desk_file(b->desk);
    return file == NULL || !is_there(file);
}

void do_left_drop(bench *b, int key) {
    (void)key;
    if (!b->dropping) {
        b->dropping = true;
        bench_say(b, "{left.drop-them} again drops them for good; {left.take-them} takes them, {left.later} leaves "
                     "them for later.");
        return;
    }
    bool nowhere_else = is_nowhere_else(b);
    b->dropping = false;
    desk_left_drop(b->left);
    b->left = NULL;
    without_it(b, nowhere_else);
    bench_say(b, "dropped");
    if (!nowhere_else) {
        ask_for_next(b);
    }
}

void do_left_later(bench *b, int key) {
    (void)key;
    b->dropping = false;
    forget(b);
    without_it(b, is_nowhere_else(b));
    bench_say(b, "The changes stay where they are; you are asked again next time.");
}

/* ---- drawing ---- */

void draw_left(bench *b, show_grid *grid) {
    char changes[40], look[COMMAND_ID_ROOM];
    size_t count = desk_left_count(b->left);
    show_rect all = {2, 2, grid->width > 6 ? grid->width - 4 : grid->width, grid->height - foot_lines(grid) - 2};
    count_words(count, changes);
    show_put(grid, 2, 0, -1, SHOW_BOLD, "Not saved yet");
    show_rect where = all;
    char words[700], *name = desk_left_name(b->left);
    bool other = desk_left_differs(b->left, b->desk), differs = other && !desk_left_is_new(b->left);
    bool came = other && !differs && desk_file(b->desk) != NULL && is_there(desk_file(b->desk));
    bool holds = desk_left_holds(b->left), only_held = holds && count == 0 && !desk_left_is_new(b->left);
    snprintf(words, sizeof words, "%s%s%.300s%s %s kept when the program ended before saving%s%s.",
             only_held    ? "The layout held beside "
             : count == 0 ? ""
                          : changes,
             count == 0 ? "" : " of ", name != NULL ? name : "a piece",
             holds && !only_held ? " and the layout held beside it" : "",
             count > 1 || (holds && !only_held) ? "were" : "was",
             differs ? ". The file was changed since: what still fits is taken, the rest is listed"
             : came  ? ". A file of this name came to be since: saving keeps it beside under another name"
                     : "",
             desk_left_is_damaged(b->left) ? ". A part of the journal cannot be read" : "");
    free(name);
    int used = show_wrap(grid, where, SHOW_PLAIN, words);
    where.y += used + (all.height > 8);
    grid->cursor_x = 2;
    grid->cursor_y = 2;
    int room = all.y + all.height - where.y;
    size_t shown = room < 1 ? 0 : (size_t)room < count ? (size_t)room - 1 : count;
    if (shown < count && room > 0) { /* the last ones tell how far it came */
        spot_add(b, 2, where.y, where.width, SPOT_MEANT, 'v');
        show_putf(grid, 2, where.y++, where.width, SHOW_DIM, "%zu more before these: %s shows all", count - shown,
                  key_words(b, "{left.look}", look, sizeof look));
    }
    for (size_t i = 0; i < shown; i++) {
        show_putf(grid, 2, where.y + (int)i, where.width, SHOW_PLAIN, "- %s",
                  desk_left_title(b->left, count - shown + i));
        spot_add(b, 2, where.y + (int)i, where.width, SPOT_MEANT, 'v');
    }
    draw_foot(b, grid);
}
