/* check_journal_taken.c - changes that were left are taken, and the program is killed in the same moment, or the disk
 * is full: they can be taken once more. */
#include <check.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "bench/hands.h"
#include "desk/journal.h"
#include "desk/tools.h"

Suite *desk_journal_taken_suite(void);

#define LID "cedar-lid.yaml"
#define STATE "state"

static desk *opened(void) {
    shop_status status;
    desk *d = desk_open(LID, NULL, NULL, &status);
    ck_assert_ptr_nonnull(d);
    ck_assert(desk_journal_begin(d, STATE));
    return d;
}

static void edit(desk *d, const char *path, const char *text) {
    ck_assert_msg(desk_edit(d, path, text, NULL), "%s", path);
}

static bool says(const desk *d, const char *text) {
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    return memmem(bytes, length, text, strlen(text)) != NULL;
}

/* A program that ends without a word once it has done this. */
static void killed_after(void (*work)(void)) {
    pid_t child = fork();
    if (child == 0) {
        work();
        raise(SIGKILL);
    }
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_msg(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL, "it did not come to its end: %d", status);
}

static void change_width(void) {
    edit(opened(), "bands.weave.width", "20.75");
}

static void save_another_diameter(void) {
    desk *d = opened();
    edit(d, "outline.diameter", "151");
    ck_assert_int_eq(desk_save(d, NULL), SHOP_OK);
    desk_close(d);
}

static void take(desk *d) {
    desk_left *left = desk_left_for(STATE, LID);
    shop_problems problems;
    char *kept;
    ck_assert_ptr_nonnull(left);
    shop_problems_init(&problems, "");
    ck_assert(desk_left_take(d, left, &problems, &kept));
    shop_problems_free(&problems);
    ck_assert_ptr_null(kept);
}

/* The layout comes to be what the journal begins from, but the file is another one: that journal cannot go on. */
static void take_beside_own_changes(void) {
    desk *d = opened();
    edit(d, "outline.diameter", "150");
    take(d);
    ck_assert(says(d, "diameter: 150") && says(d, "width: 20.75"));
}

START_TEST(own_changes_and_those_taken_are_kept) {
    desk *d = opened();
    edit(d, "outline.diameter", "150");
    ck_assert_int_eq(desk_save(d, NULL), SHOP_OK);
    desk_close(d);
    killed_after(change_width);
    save_another_diameter();
    killed_after(take_beside_own_changes);
    d = opened();
    ck_assert(says(d, "diameter: 151"));
    take(d);
    ck_assert(says(d, "diameter: 150"));
    ck_assert(says(d, "width: 20.75"));
    desk_close(d);
}
END_TEST

static void take_without_room(void) {
    const struct rlimit none = {0, 0};
    desk *d = opened();
    signal(SIGXFSZ, SIG_IGN);
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &none), 0);
    take(d);
    ck_assert(says(d, "width: 20.75"));
    ck_assert_ptr_nonnull(desk_journal_trouble(d));
}

START_TEST(a_full_disk_leaves_the_old_journal) {
    killed_after(change_width);
    save_another_diameter(); /* so that a journal of its own is needed */
    killed_after(take_without_room);
    desk *d = opened();
    take(d);
    ck_assert(says(d, "width: 20.75"));
    desk_close(d);
}
END_TEST

/* Steps taken back and left so can be done again after each end of the program. */
static void redo_one(void) {
    desk *d = opened();
    take(d);
    ck_assert(desk_redo(d, NULL));
}

static void change_and_undo(void) {
    desk *d = opened();
    edit(d, "outline.diameter", "150");
    edit(d, "bands.weave.width", "20.75");
    ck_assert(desk_undo(d, NULL));
}

START_TEST(what_was_redone_is_kept) {
    killed_after(change_and_undo);
    killed_after(redo_one);
    desk *d = opened();
    take(d);
    ck_assert(says(d, "width: 20.75"));
    ck_assert(desk_undo(d, NULL));
    ck_assert(!says(d, "width: 20.75"));
    desk_close(d);
}
END_TEST

Suite *desk_journal_taken_suite(void) {
    Suite *suite = suite_create("a journal that is taken");
    TCase *tests = tcase_create("taken");
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, own_changes_and_those_taken_are_kept);
    tcase_add_test(tests, a_full_disk_leaves_the_old_journal);
    tcase_add_test(tests, what_was_redone_is_kept);
    suite_add_tcase(suite, tests);
    return suite;
}
