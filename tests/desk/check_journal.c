/* check_journal.c - the journal: what is kept is the layout to the byte, whatever was done; and journals that are torn,
 * foreign, stale, in use or of a file that somebody else has changed; disks that are full, memory that is lacking. */
#include <check.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "bench/hands.h"
#include "desk/journal.h"
#include "desk/tools.h"
#include "shop/alloc.h"

Suite *desk_journal_suite(void);

#define LID "cedar-lid.yaml"
#define STATE "state"

static shop_problems problems;

static void begin(void) {
    hands_begin();
    shop_problems_init(&problems, "journal");
}

static void end(void) {
    shop_problems_free(&problems);
    hands_end();
}

static desk *opened(const char *file) {
    shop_status status;
    desk *d = desk_open(file, NULL, &problems, &status);
    ck_assert_ptr_nonnull(d);
    ck_assert(desk_journal_begin(d, STATE));
    ck_assert_ptr_null(desk_journal_file(d));
    return d;
}

static char *text_of(const desk *d) {
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    char *copy = strndup(bytes, length);
    ck_assert_ptr_nonnull(copy);
    return copy;
}

static void is_text(const desk *d, const char *text) {
    char *now = text_of(d);
    ck_assert_str_eq(now, text);
    free(now);
}

static void edit(desk *d, const char *path, const char *text) {
    ck_assert_msg(desk_edit(d, path, text, &problems), "%s", path);
}

static char *slurp(const char *name, size_t *length) {
    char *bytes = NULL;
    ck_assert_int_eq(shop_read(name, &bytes, length, &problems), SHOP_OK);
    return bytes;
}

static void spill(const char *name, const char *bytes, size_t length) {
    FILE *to = fopen(name, "wb");
    ck_assert_ptr_nonnull(to);
    ck_assert_uint_eq(fwrite(bytes, 1, length, to), length);
    ck_assert_int_eq(fclose(to), 0);
}

/* The program is gone: the journal stays, and its name is given. */
static char *gone(desk *d) {
    const char *name = desk_journal_leave(d);
    ck_assert_ptr_nonnull(name);
    char *copy = strdup(name);
    desk_close(d);
    return copy;
}

static desk_left *left_of(const char *file) {
    desk_left *left = desk_left_for(STATE, file);
    ck_assert_msg(left != NULL, "nothing is left of %s", file);
    return left;
}

static void nothing_left(const char *file) {
    ck_assert_ptr_null(desk_left_for(STATE, file));
}

static desk *taken(const char *file) {
    desk_left *left = left_of(file);
    desk *d = opened(file);
    char *kept;
    ck_assert(desk_left_take(d, left, &problems, &kept));
    ck_assert_ptr_null(kept);
    return d;
}

static int all_undone(desk *d) {
    int steps = 0;
    while (desk_undo(d, NULL)) {
        steps++;
    }
    return steps;
}

/* Every way in which a layout changes. */
static void much(desk *d) {
    edit(d, "bands.weave.width", "20.75");
    edit(d, "outline.diameter", "5 1/2 in");
    edit(d, "piece", "the \"lid\",\\ of \xC3\xA9lan\ttabs: {all}");
    edit(d, "bands.rim.note", "first\nsecond # no comment");
    ck_assert(desk_undo(d, NULL));
    ck_assert(desk_undo(d, NULL));
    ck_assert(desk_redo(d, NULL));
    ck_assert(desk_band_move(d, 0, 1, &problems));
    ck_assert(desk_band_copy(d, 1, &problems));
    ck_assert(desk_band_remove(d, 2, &problems)); /* the copy */
    ck_assert(desk_band_add(d, 0, "{name: plain one, width: 3}", &problems));
    ck_assert(desk_choose_tool(d, 1, 1, &problems) || true); /* whether it fits is not asked here */
    edit(d, "tools.basket-m.id", "basket-n");
    edit(d, "bands.weave.outer", NULL);
    ck_assert(desk_undo(d, NULL));
    edit(d, "bands.weave.name", "plait");
    ck_assert(desk_undo(d, NULL)); /* and left so: it can be redone */
}

START_TEST(everything_is_kept) {
    desk *d = opened(LID);
    char *first = text_of(d);
    much(d);
    char *last = text_of(d), *title = strdup(desk_last(d));
    free(gone(d));
    d = taken(LID);
    is_text(d, last);
    ck_assert_str_eq(desk_last(d), title);
    ck_assert(desk_redo(d, NULL)); /* what was taken back when it ended, too */
    ck_assert(strstr(desk_bytes(d, &(size_t){0}), "name: plait") != NULL);
    ck_assert(desk_undo(d, NULL));
    ck_assert_int_gt(all_undone(d), 6);
    is_text(d, first);
    ck_assert(!desk_unsaved(d));
    while (desk_redo(d, NULL)) {
    }
    ck_assert(desk_undo(d, NULL));
    is_text(d, last);
    free(gone(d)); /* the journal went on: a second end loses no more than the first */
    d = taken(LID);
    is_text(d, last);
    free(title);
    free(first);
    free(last);
    desk_close(d);
    nothing_left(LID);
}
END_TEST

START_TEST(it_goes_when_all_is_saved) {
    desk *d = opened(LID);
    edit(d, "bands.weave.width", "20.75");
    ck_assert_ptr_nonnull(desk_journal_file(d));
    ck_assert_int_eq(desk_save(d, &problems), SHOP_OK);
    ck_assert_ptr_null(desk_journal_file(d));
    ck_assert_ptr_null(desk_journal_leave(d));
    edit(d, "bands.weave.width", "20.5");
    ck_assert_int_eq(desk_save_as(d, "other.yaml", false, &problems), SHOP_OK);
    ck_assert_ptr_null(desk_journal_file(d));
    edit(d, "bands.weave.width", "20.25");
    char *last = text_of(d), *name = gone(d);
    nothing_left(LID);
    d = taken("other.yaml");
    is_text(d, last);
    desk_close(d); /* closed on purpose: what was not saved is not wanted */
    ck_assert_int_ne(access(name, F_OK), 0);
    nothing_left("other.yaml");
    free(name);
    free(last);
}
END_TEST

/* Undo past a save is a change of the file that was saved. */
START_TEST(undo_past_a_save) {
    desk *d = opened(LID);
    char *first = text_of(d);
    edit(d, "bands.weave.width", "20.75");
    edit(d, "bands.rim.width", "6");
    ck_assert_int_eq(desk_save(d, &problems), SHOP_OK);
    char *saved = text_of(d);
    ck_assert(desk_undo(d, NULL));
    edit(d, "bands.rim.space", "5");
    ck_assert(desk_undo(d, NULL));
    ck_assert(desk_undo(d, NULL));
    is_text(d, first);
    free(gone(d));
    d = taken(LID);
    is_text(d, first);
    ck_assert_int_eq(all_undone(d), 2);
    is_text(d, saved);
    free(first);
    free(saved);
    desk_close(d);
}
END_TEST

START_TEST(a_reload_is_one_step) {
    desk *d = opened(LID);
    edit(d, "bands.weave.width", "20.75");
    char *mine = text_of(d);
    size_t length;
    char *file = slurp(LID, &length);
    memcpy(strstr(file, "diameter: 140"), "diameter: 150", 13);
    spill(LID, file, length);
    ck_assert(desk_reload(d, &problems));
    ck_assert_ptr_null(desk_journal_file(d));
    ck_assert(desk_undo(d, NULL));
    is_text(d, mine);
    free(gone(d));
    d = taken(LID);
    is_text(d, mine);
    free(file);
    free(mine);
    desk_close(d);
}
END_TEST

/* A trial is kept only when it is taken. */
START_TEST(trials_are_not_kept) {
    desk *d = opened(LID);
    shop_edit edits[] = {{.path = "bands.weave.width", .new_text = "20"}};
    ck_assert(desk_try(d, edits, 1, "tried", &problems));
    ck_assert_ptr_null(desk_journal_file(d));
    ck_assert_ptr_null(desk_journal_leave(d)); /* left: there is nothing unsaved */
    ck_assert(desk_try(d, edits, 1, "tried", &problems));
    ck_assert(desk_try_keep(d, &problems));
    ck_assert_ptr_nonnull(desk_journal_file(d));
    desk_close(d);
    nothing_left(LID);
}
END_TEST

START_TEST(a_piece_without_a_file) {
    size_t length;
    shop_status status;
    char *bytes = shop_new_text("Coaster", SHOP_MM, &length), *kept;
    desk *d = desk_new(NULL, bytes, length, NULL, &problems, &status);
    ck_assert(desk_journal_begin(d, STATE));
    char *name = gone(d); /* without a single change */
    desk_left *left = desk_left_open(name);
    ck_assert_ptr_nonnull(left);
    ck_assert(desk_left_is_new(left));
    ck_assert_ptr_null(desk_left_file(left));
    ck_assert_uint_eq(desk_left_count(left), 0);
    char *called = desk_left_name(left);
    ck_assert_str_eq(called, "Coaster");
    free(called);
    const char *base = desk_left_base(left, &length);
    d = desk_new(NULL, base, length, NULL, &problems, &status);
    ck_assert(desk_journal_begin(d, STATE));
    ck_assert(desk_left_take(d, left, &problems, &kept));
    ck_assert_ptr_null(kept);
    is_text(d, bytes);
    edit(d, "outline.diameter", "90");
    ck_assert_int_eq(desk_save_as(d, "coaster.yaml", false, &problems), SHOP_OK);
    ck_assert_ptr_null(desk_left_open(name));
    ck_assert_int_ne(access(name, F_OK), 0);
    desk_close(d);
    free(name);
    free(bytes);
}
END_TEST

/* ---- journals that are not as they should be ---- */

/* Cut after any byte: the changes whose lines are whole are there, in order, and nothing else. */
START_TEST(torn_anywhere) {
    desk *d = opened(LID);
    char *texts[4] = {text_of(d)};
    static const char *const widths[] = {"20.75", "20.5", "20.25"};
    for (int i = 0; i < 3; i++) {
        edit(d, "bands.weave.width", widths[i]);
        texts[i + 1] = text_of(d);
    }
    char *name = gone(d);
    size_t length;
    char *whole = slurp(name, &length);
    int seen = 0;
    for (size_t cut = 0; cut < length; cut += 3) {
        spill(name, whole, cut);
        int lines = -2;
        for (size_t i = 0; i < cut; i++) {
            lines += whole[i] == '\n';
        }
        desk_left *left = desk_left_open(name);
        if (lines <= 0) {
            ck_assert_ptr_null(left); /* nothing that the file does not hold */
            continue;
        }
        ck_assert_ptr_nonnull(left);
        ck_assert_uint_eq(desk_left_count(left), (size_t)lines);
        ck_assert(!desk_left_is_damaged(left));
        if (lines != seen) { /* once for each is enough: it is the same from here */
            char *kept;
            seen = lines;
            d = opened(LID);
            ck_assert(desk_left_take(d, left, &problems, &kept));
            is_text(d, texts[lines]);
            edit(d, "bands.rim.width", "6"); /* goes on behind the last whole line */
            char *last = text_of(d);
            free(gone(d));
            d = taken(LID);
            is_text(d, last);
            free(last);
            desk_close(d);
        } else {
            desk_left_close(left);
        }
    }
    ck_assert_int_eq(seen, 2);
    for (int i = 0; i < 4; i++) {
        free(texts[i]);
    }
    free(whole);
    free(name);
}
END_TEST

/* One byte is another: never taken for good, never more than what stands before it, never a fall. */
START_TEST(bytes_that_changed) {
    desk *d = opened(LID);
    edit(d, "bands.weave.width", "20.75");
    edit(d, "bands.weave.width", "20.5");
    char *last = text_of(d), *name = gone(d);
    size_t length;
    char *whole = slurp(name, &length), *changed = malloc(length);
    ck_assert_ptr_nonnull(changed);
    for (size_t i = 0; i < length; i += 5) {
        memcpy(changed, whole, length);
        changed[i] = (char)(changed[i] ^ (i % 2 ? 1 : 0x80));
        spill(name, changed, length);
        desk_left *left = desk_left_open(name);
        if (left == NULL) {
            ck_assert(access(name, F_OK) == 0 || i > length - 400);
            continue;
        }
        ck_assert_uint_lt(desk_left_count(left), 2);
        desk_left_close(left);
    }
    free(changed);
    free(whole);
    free(last);
    free(name);
}
END_TEST

START_TEST(what_stands_before_damage_is_taken) {
    desk *d = opened(LID);
    edit(d, "bands.weave.width", "20.75");
    char *good = text_of(d), *kept;
    edit(d, "bands.weave.width", "20.5");
    edit(d, "bands.weave.width", "20.25");
    char *name = gone(d);
    size_t length;
    char *whole = slurp(name, &length), *line = strstr(whole, "\nedit \"weave width 20.75");
    ck_assert_ptr_nonnull(line);
    line[3] = 'X';
    spill(name, whole, length);
    desk_left *left = left_of(LID);
    ck_assert(desk_left_is_damaged(left));
    d = opened(LID);
    ck_assert(desk_left_take(d, left, &problems, &kept));
    is_text(d, good);
    ck_assert_ptr_nonnull(kept);
    size_t kept_length;
    char *again = slurp(kept, &kept_length); /* the whole of it is still there, for people who look */
    ck_assert(kept_length == length && memcmp(again, whole, length) == 0);
    free(again);
    free(gone(d)); /* and what was taken is kept anew */
    d = taken(LID);
    is_text(d, good);
    desk_close(d);
    free(kept);
    free(whole);
    free(name);
    free(good);
}
END_TEST

START_TEST(foreign_files_are_left_alone) {
    static const char *const others[] = {"",
                                         "bandwright-project: 1\n",
                                         "bandwright-journal: 2\nof \"x\"\n",
                                         "bandwright-journal: 1\n",
                                         "bandwright-journal: 1\nof \"x\" 3 0 0 \"abc\" ~0\n",
                                         "bandwright-journal: 1\n\n\n"};
    ck_assert_int_eq(mkdir(STATE, 0700), 0);
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        hands_write(STATE "/a.journal", others[i]);
        ck_assert_ptr_null(desk_left_open(STATE "/a.journal"));
        nothing_left(LID);
        ck_assert_int_eq(access(STATE "/a.journal", F_OK), 0);
    }
    ck_assert_int_eq(mkdir(STATE "/folder.journal", 0700), 0);
    ck_assert_int_eq(symlink("a.journal", STATE "/link.journal"), 0);
    nothing_left(LID);
    ck_assert_ptr_null(desk_left_open("nowhere.journal"));
}
END_TEST

/* As a program leaves it that ends between the saving and the clearing up. */
START_TEST(a_stale_journal_goes) {
    desk *d = opened(LID);
    edit(d, "bands.weave.width", "20.75");
    char *last = text_of(d), *name = gone(d);
    spill(LID, last, strlen(last));
    nothing_left(LID);
    ck_assert_int_ne(access(name, F_OK), 0);
    free(last);
    free(name);
}
END_TEST

START_TEST(a_journal_in_use_is_not_offered) {
    desk *d = opened(LID), *other = opened(LID);
    edit(d, "bands.weave.width", "20.75");
    nothing_left(LID);
    edit(other, "bands.weave.width", "22"); /* a journal of its own */
    ck_assert_str_ne(desk_journal_file(d), desk_journal_file(other));
    free(gone(d));
    desk_left *left = left_of(LID);
    nothing_left(LID); /* held by who asks */
    desk_left_close(left);
    left = left_of(LID);
    desk_left_drop(left);
    nothing_left(LID);
    desk_close(other);
}
END_TEST

/* ---- a file that was changed since ---- */

static void change_file(const char *from, const char *to) {
    size_t length;
    char *file = slurp(LID, &length), *at = strstr(file, from);
    ck_assert_msg(at != NULL && strlen(from) == strlen(to), "%s", from);
    memcpy(at, to, strlen(to));
    spill(LID, file, length);
    free(file);
}

START_TEST(what_still_fits) {
    desk *d = opened(LID);
    edit(d, "bands.weave.width", "20.75");
    edit(d, "outline.diameter", "150");
    edit(d, "bands.rim.space", "4.5");
    ck_assert(desk_band_move(d, 0, 1, &problems));
    edit(d, "bands.stitching.space", "2");
    char *name = gone(d), *kept, *now;
    change_file("diameter: 140", "diameter: 200");
    desk_left *left = left_of(LID);
    d = opened(LID);
    ck_assert(desk_left_differs(left, d));
    ck_assert(desk_left_take(d, left, &problems, &kept));
    now = text_of(d);
    ck_assert(strstr(now, "diameter: 200") && strstr(now, "width: 20.75") && strstr(now, "space: 4.5"));
    ck_assert_str_eq(desk_project(d)->bands[0].name, "weave");
    ck_assert_str_eq(desk_project(d)->bands[1].name, "rim");
    ck_assert_double_eq(desk_project(d)->bands[2].space, 2);
    ck_assert_uint_eq(problems.count, 1); /* the diameter, which somebody else has given a value */
    ck_assert_msg(strstr(problems.list[0].text, "diameter 140 mm -> 150 mm") &&
                      strstr(problems.list[0].text, "outline.diameter is 200 now"),
                  "%s", problems.list[0].text);
    ck_assert_ptr_nonnull(kept); /* and is not lost */
    ck_assert_int_eq(access(kept, F_OK), 0);
    ck_assert_int_eq(all_undone(d), 4);
    ck_assert(!desk_unsaved(d));
    free(now);
    free(kept);
    free(name);
    desk_close(d);
    nothing_left(LID); /* it is not asked about again */
}
END_TEST

START_TEST(all_fits_though_it_was_changed) {
    desk *d = opened(LID);
    edit(d, "bands.weave.width", "20.75");
    edit(d, "bands.weave.width", "20.5");
    char *name = gone(d), *kept;
    change_file("diameter: 140", "diameter: 200");
    d = opened(LID);
    ck_assert(desk_left_take(d, left_of(LID), &problems, &kept));
    ck_assert_ptr_null(kept);
    ck_assert_uint_eq(problems.count, 0);
    ck_assert_int_ne(access(name, F_OK), 0);
    char *last = text_of(d);
    free(gone(d));
    d = taken(LID);
    is_text(d, last);
    desk_close(d);
    free(last);
    free(name);
}
END_TEST

START_TEST(the_file_is_gone) {
    desk *d = opened(LID);
    edit(d, "bands.weave.width", "20.75");
    char *last = text_of(d), *kept;
    free(gone(d));
    ck_assert_int_eq(unlink(LID), 0);
    desk_left *left = left_of(LID);
    size_t length;
    shop_status status;
    const char *base = desk_left_base(left, &length);
    d = desk_new(LID, base, length, NULL, &problems, &status);
    ck_assert(desk_journal_begin(d, STATE));
    ck_assert(desk_left_take(d, left, &problems, &kept));
    is_text(d, last);
    ck_assert_int_eq(desk_save(d, &problems), SHOP_OK);
    desk_close(d);
    free(last);
}
END_TEST

START_TEST(theirs_stays_beside_mine) {
    desk *d = opened(LID);
    edit(d, "bands.weave.width", "20.75");
    char *mine = text_of(d), *kept;
    change_file("diameter: 140", "diameter: 200");
    desk_clash *list;
    size_t count;
    ck_assert(desk_theirs(d, &list, &count, &problems));
    ck_assert_uint_eq(count, 2);
    ck_assert_str_eq(list[0].what, "diameter");
    ck_assert_str_eq(list[0].mine, "140 mm");
    ck_assert_str_eq(list[0].theirs, "200 mm");
    ck_assert_str_eq(list[1].what, "weave width");
    ck_assert_str_eq(list[1].theirs, "21 mm");
    desk_clashes_free(list, count);
    for (int i = 0; i < 2; i++) { /* a second one does not go over the first */
        static const char *const names[] = {LID ".theirs", LID ".theirs-2"};
        size_t before_length, length;
        char *before = slurp(LID, &before_length);
        ck_assert_int_eq(desk_save(d, &problems), SHOP_CANNOT_WRITE);
        ck_assert_int_eq(desk_save_over(d, &kept, &problems), SHOP_OK);
        ck_assert_str_eq(kept, names[i]);
        char *theirs = slurp(kept, &length), *now = slurp(LID, &length);
        ck_assert_str_eq(theirs, before);
        ck_assert_str_eq(now, mine);
        free(theirs);
        free(now);
        free(before);
        free(kept);
        change_file("diameter: 140", "diameter: 201");
    }
    free(mine);
    desk_close(d);
}
END_TEST

/* ---- differences ---- */

/* Applied one after the other they make the one text say what the other says. */
static void leads_there(const char *from, const char *to, size_t least) {
    shop_text *a = shop_text_read(from, strlen(from), &problems), *b = shop_text_read(to, strlen(to), &problems);
    ck_assert(a != NULL && b != NULL);
    shop_edit *edits;
    size_t count;
    ck_assert(desk_text_edits(a, b, &edits, &count));
    ck_assert_uint_ge(count, least);
    for (size_t i = 0; i < count; i++) {
        char *bytes;
        size_t length;
        ck_assert_msg(shop_text_edit(a, &edits[i], &bytes, &length, &problems), "%s -> %s: %s: %s", from, to,
                      edits[i].path, problems.list[problems.count - 1].text);
        shop_text_free(a);
        a = shop_text_read(bytes, length, &problems);
        ck_assert_ptr_nonnull(a);
        free(bytes);
    }
    desk_edits_free(edits, count);
    ck_assert(desk_text_edits(a, b, &edits, &count));
    ck_assert_msg(count == 0, "%s -> %s: %s is still another", from, to, count ? edits[0].path : "");
    desk_edits_free(edits, count);
    shop_text_free(a);
    shop_text_free(b);
}

START_TEST(differences_lead_there) {
    static const char *const lists[] = {"a",     "a b",     "b a",   "a b c", "c a b",
                                        "c b a", "b c d e", "e d a", "x b y", "a c e x y z"};
    enum { LISTS = sizeof lists / sizeof lists[0] };
    char texts[LISTS][400];
    for (size_t i = 0; i < LISTS; i++) {
        int used = snprintf(texts[i], sizeof texts[i], "v: 1\nbands:\n");
        for (const char *at = lists[i]; *at != '\0'; at++) {
            if (*at != ' ') {
                used += snprintf(texts[i] + used, sizeof texts[i] - (size_t)used, "  - {name: %c, width: %zu}\n", *at,
                                 i % 3 + 1);
            }
        }
    }
    for (size_t i = 0; i < LISTS; i++) {
        for (size_t k = 0; k < LISTS; k++) {
            leads_there(texts[i], texts[k], i != k);
        }
    }
    leads_there("piece: lid\noutline: {shape: circle, diameter: 20, corner: [1, 2]}\n",
                "outline: {shape: path, svg: 'M0 0', corner: [2, 1]}\nunits: mm\n", 6);
    leads_there("piece: lid\n", "piece: \"lid\" # said again\n", 0);
}
END_TEST

/* ---- disks and memory ---- */

/* A file may be no longer than so many bytes: as a disk that is full, at every byte of the journal. */
static void with_so_much_room(rlim_t room) {
    struct rlimit limit = {room, room};
    signal(SIGXFSZ, SIG_IGN);
    desk *d = opened(LID);
    char *texts[4] = {text_of(d)};
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
    static const char *const widths[] = {"20.75", "20.5", "20.25"};
    int kept = 0;
    for (int i = 0; i < 3; i++) {
        edit(d, "bands.weave.width", widths[i]); /* never refused for that */
        texts[i + 1] = text_of(d);
        kept = desk_journal_trouble(d) == NULL ? i + 1 : kept;
        ck_assert(desk_journal_trouble(d) != NULL || desk_journal_file(d) != NULL);
    }
    desk_journal_leave(d);
    kept = desk_journal_trouble(d) == NULL && desk_journal_file(d) != NULL ? 3 : kept;
    desk_close(d);
    desk_left *left = desk_left_for(STATE, LID);
    if (kept == 0) {
        ck_assert_ptr_null(left);
        return;
    }
    d = opened(LID);
    char *rest;
    ck_assert(desk_left_take(d, left, &problems, &rest));
    is_text(d, texts[kept]);
}

START_TEST(a_full_disk) {
    desk *d = opened(LID);
    edit(d, "bands.weave.width", "20.75");
    edit(d, "bands.weave.width", "20.5");
    edit(d, "bands.weave.width", "20.25");
    char *name = gone(d);
    struct stat whole;
    ck_assert_int_eq(stat(name, &whole), 0);
    desk_left_drop(left_of(LID));
    free(name);
    for (rlim_t room = 0; room <= (rlim_t)whole.st_size; room += room < (rlim_t)whole.st_size - 600 ? 97 : 7) {
        pid_t child = fork();
        if (child == 0) {
            with_so_much_room(room);
            _exit(0);
        }
        int status;
        ck_assert_int_eq(waitpid(child, &status, 0), child);
        ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "with room for %lu bytes", (unsigned long)room);
        ck_assert_int_eq(system("rm -rf " STATE " .*.journal*"), 0);
    }
}
END_TEST

/* Where the folder cannot be made it lies beside the file, and is found there. */
START_TEST(beside_the_file) {
    hands_write(STATE, "no folder\n");
    desk *d = opened(LID);
    edit(d, "bands.weave.width", "20.75");
    ck_assert_ptr_null(desk_journal_trouble(d));
    char *last = text_of(d), *name = gone(d);
    ck_assert_msg(strstr(name, "/." LID) != NULL, "%s", name);
    d = taken(LID);
    is_text(d, last);
    desk_close(d);
    ck_assert_int_ne(access(name, F_OK), 0);
    free(name);
    free(last);
}
END_TEST

/* Every allocation fails once: changes are made or not, the journal holds those that were, or says that it does not. */
START_TEST(without_memory) {
    int failed = 0;
    for (long n = 0; n < 100000; n++) {
        desk *d = opened(LID);
        shop_alloc_fail_at(n);
        bool one = desk_edit(d, "bands.weave.width", "20.75", NULL);
        bool two = desk_band_move(d, 0, 1, &problems);
        shop_alloc_fail_at(-1);
        failed += !one || !two || desk_journal_trouble(d) != NULL;
        bool done = one && two && desk_journal_trouble(d) == NULL && n > 50 && failed > 50;
        char *last = text_of(d);
        if (desk_unsaved(d)) {
            free(gone(d));    /* with memory again, what was missing is kept */
            long m = n % 400; /* and taken, though memory is lacking */
            char *kept;
            desk_left *left = left_of(LID);
            d = opened(LID);
            shop_alloc_fail_at(m);
            bool took = desk_left_take(d, left, NULL, &kept);
            shop_alloc_fail_at(-1);
            if (took) {
                is_text(d, last);
                free(kept);
                desk_close(d);
            } else {
                desk_close(d);
                d = taken(LID); /* nothing was lost by it */
                is_text(d, last);
                desk_close(d);
            }
        } else {
            desk_close(d);
        }
        free(last);
        shop_problems_free(&problems);
        shop_problems_init(&problems, "journal");
        if (done) {
            ck_assert_int_gt(failed, 50);
            return;
        }
        n += n / 60; /* the later ones in larger steps */
    }
    ck_abort_msg("memory was lacking to the end");
}
END_TEST

START_TEST(brought_to_the_disk_within_a_second) {
    desk *d = opened(LID);
    ck_assert_int_eq(desk_journal_wait(d), -1);
    edit(d, "bands.weave.width", "20.75");
    int wait = desk_journal_wait(d);
    ck_assert(wait >= 0 && wait <= 1001);
    edit(d, "bands.weave.width", "20.5");
    ck_assert_int_le(desk_journal_wait(d), wait); /* counted from the first */
    desk_journal_sync(d);
    ck_assert_int_eq(desk_journal_wait(d), -1);
    desk_close(d);
}
END_TEST

Suite *desk_journal_suite(void) {
    Suite *suite = suite_create("the journal");
    TCase *tests = tcase_create("journal");
    tcase_set_timeout(tests, 120);
    tcase_add_checked_fixture(tests, begin, end);
    tcase_add_test(tests, everything_is_kept);
    tcase_add_test(tests, it_goes_when_all_is_saved);
    tcase_add_test(tests, undo_past_a_save);
    tcase_add_test(tests, a_reload_is_one_step);
    tcase_add_test(tests, trials_are_not_kept);
    tcase_add_test(tests, a_piece_without_a_file);
    tcase_add_test(tests, torn_anywhere);
    tcase_add_test(tests, bytes_that_changed);
    tcase_add_test(tests, what_stands_before_damage_is_taken);
    tcase_add_test(tests, foreign_files_are_left_alone);
    tcase_add_test(tests, a_stale_journal_goes);
    tcase_add_test(tests, a_journal_in_use_is_not_offered);
    tcase_add_test(tests, what_still_fits);
    tcase_add_test(tests, all_fits_though_it_was_changed);
    tcase_add_test(tests, the_file_is_gone);
    tcase_add_test(tests, theirs_stays_beside_mine);
    tcase_add_test(tests, differences_lead_there);
    tcase_add_test(tests, a_full_disk);
    tcase_add_test(tests, beside_the_file);
    tcase_add_test(tests, without_memory);
    tcase_add_test(tests, brought_to_the_disk_within_a_second);
    suite_add_tcase(suite, tests);
    return suite;
}
