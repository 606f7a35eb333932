/* check_inventory.c - the open inventory: edits that keep its comments, undo to the byte, saving beside other programs,
 * a first file with its folder, tools given from file to file whatever their units, layouts that read from it. */
#include <check.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "bench/hands.h"
#include "desk/desk.h"
#include "shop/alloc.h"

Suite *desk_inventory_suite(void);

static const char text[] = "# our tools\n"
                           "bandwright-inventory: 1\n"
                           "units: mm\n"
                           "tools:\n"
                           "  # the good one\n"
                           "  - id: reed\n"
                           "    kind: basket   # worn\n"
                           "    length: 9.5    # measured\n"
                           "    name: the reed\n"
                           "  - {id: shell, kind: border, length: 5, width: 4} # a shell\n"
                           "  - {id: dots, kind: iron, pitch: 4}\n";
static const char piece[] = "bandwright-project: 1\nunits: in\noutline: {shape: circle, diameter: 5}\n"
                            "bands:\n  - {name: weave, width: 3/4, fill: basket, tool: reed}\n"
                            "tools:\n  - {id: mine, kind: basket, length: 3/8}\n";

static shop_problems problems;

static void begin(void) {
    hands_begin();
    shop_problems_init(&problems, "inventory");
    hands_write("tools.yaml", text);
    hands_write("piece.yaml", piece);
}

static void end(void) {
    shop_problems_free(&problems);
    hands_end();
}

static desk *opened(const char *file) {
    shop_status status;
    desk *d = desk_open_inventory(file, &problems, &status);
    ck_assert_msg(d != NULL && status == SHOP_OK, "%s", file);
    return d;
}

static desk *opened_piece(void) {
    shop_status status;
    desk *d = desk_open("piece.yaml", "tools.yaml", &problems, &status);
    ck_assert_ptr_nonnull(d);
    return d;
}

static void says(const desk *d, const char *want) {
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    ck_assert_msg(length == strlen(want) && memcmp(bytes, want, length) == 0, "%.*s", (int)length, bytes);
}

static void file_says(const char *file, const char *want) {
    char *bytes;
    size_t length;
    ck_assert_int_eq(shop_read(file, &bytes, &length, &problems), SHOP_OK);
    ck_assert_msg(length == strlen(want) && memcmp(bytes, want, length) == 0, "%s holds\n%.*s", file, (int)length,
                  bytes);
    free(bytes);
}

/* The text with one stretch of it exchanged. */
static char *with(const char *from, const char *old, const char *new) {
    const char *at = strstr(from, old);
    ck_assert_ptr_nonnull(at);
    char *made = malloc(strlen(from) + strlen(new) + 1);
    ck_assert_ptr_nonnull(made);
    sprintf(made, "%.*s%s%s", (int)(at - from), from, new, at + strlen(old));
    return made;
}

START_TEST(an_edit_touches_one_value) {
    desk *d = opened("tools.yaml");
    ck_assert(desk_is_inventory(d));
    ck_assert_ptr_null(desk_plan(d));
    ck_assert(!desk_unsaved(d));
    ck_assert(desk_edit(d, "tools.reed.length", "3/8 in", &problems));
    ck_assert_double_eq_tol(desk_project(d)->tools[0].length, 9.525, 1e-12);
    char *want = with(text, "9.5 ", "3/8 in ");
    says(d, want);
    ck_assert(desk_unsaved(d));
    file_says("tools.yaml", text);
    ck_assert_int_eq(desk_save(d, &problems), SHOP_OK);
    ck_assert(!desk_unsaved(d));
    file_says("tools.yaml", want);
    const char *title;
    ck_assert(desk_undo(d, &title));
    ck_assert_str_eq(title, "reed length 9.5 mm -> 3/8 in");
    says(d, text);
    ck_assert(desk_unsaved(d));
    ck_assert(desk_redo(d, &title));
    says(d, want);
    ck_assert(!desk_unsaved(d));
    free(want);
    desk_close(d);
}
END_TEST

START_TEST(what_is_wrong_is_refused) {
    static const char *const bad[][2] = {{"tools.reed.length", "90"},   {"tools.reed.length", NULL},
                                         {"tools.reed.kind", "spoon"},  {"tools.reed.id", "shell"},
                                         {"tools.reed.bar", "20"},      {"tools.shell.width", "wide"},
                                         {"tools.shell.id", "a.b"},     {"tools.reed.kind", "iron"},
                                         {"tools.nothing.length", "3"}, {"tools.dots.blows", "0"}};
    desk *d = opened("tools.yaml");
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        size_t before = problems.errors;
        ck_assert_msg(!desk_edit(d, bad[i][0], bad[i][1], &problems), "%s", bad[i][0]);
        ck_assert_uint_gt(problems.errors, before);
        says(d, text);
        ck_assert(!desk_unsaved(d));
    }
    desk_close(d);
}
END_TEST

/* ---- beside other programs ---- */

START_TEST(others_are_noticed) {
    desk *d = opened("tools.yaml");
    ck_assert(desk_edit(d, "tools.reed.blows", "4", &problems));
    ck_assert(!desk_changed_outside(d));
    char *theirs = with(text, "pitch: 4", "pitch: 4.5");
    hands_write("tools.yaml", theirs);
    ck_assert(desk_changed_outside(d));
    ck_assert_int_eq(desk_save(d, &problems), SHOP_CANNOT_WRITE);
    file_says("tools.yaml", theirs);
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    char *mine = strndup(bytes, length);
    ck_assert(desk_reload(d, &problems)); /* theirs; mine is a step back */
    says(d, theirs);
    ck_assert(!desk_unsaved(d));
    ck_assert(desk_undo(d, NULL));
    says(d, mine);
    ck_assert_int_eq(desk_save(d, &problems), SHOP_OK); /* theirs were seen */
    file_says("tools.yaml", mine);
    hands_write("tools.yaml", "bandwright-inventory: 1\ntools: [\n"); /* broken is no reason to write over it */
    ck_assert(desk_edit(d, "tools.reed.blows", "5", &problems));
    ck_assert_int_eq(desk_save(d, &problems), SHOP_CANNOT_WRITE);
    ck_assert(!desk_reload(d, &problems));
    ck_assert_int_eq(desk_save_as(d, "tools.yaml", true, &problems), SHOP_OK);
    free(mine);
    free(theirs);
    desk_close(d);
}
END_TEST

START_TEST(the_first_file_is_made) {
    desk *d = opened("home/share/tools/inventory.yaml");
    ck_assert(!desk_unsaved(d));
    ck_assert_uint_eq(desk_project(d)->own_tools, 0);
    ck_assert_int_ne(access("home", F_OK), 0);
    ck_assert(desk_edit(d, "tools[1]", "{id: reed, kind: basket, length: 9}", &problems));
    ck_assert(desk_edit(d, "tools[2]", "{id: blade, kind: knife}", &problems));
    ck_assert(desk_unsaved(d));
    ck_assert(desk_undo(d, NULL) && desk_undo(d, NULL));
    ck_assert(!desk_unsaved(d)); /* nothing in it: nothing to be saved */
    ck_assert(desk_redo(d, NULL));
    ck_assert_int_eq(desk_save(d, &problems), SHOP_OK);
    ck_assert(!desk_unsaved(d));
    struct stat about;
    ck_assert_int_eq(stat("home/share/tools", &about), 0);
    ck_assert_uint_eq(about.st_mode & 077, 0); /* the user's alone */
    desk_close(d);
    d = opened("home/share/tools/inventory.yaml");
    ck_assert_uint_eq(desk_project(d)->own_tools, 1);
    desk_close(d);
}
END_TEST

/* Two programs start without a file: the second to save does not write over the first. */
START_TEST(two_first_files) {
    desk *one = opened("new.yaml"), *two = opened("new.yaml");
    ck_assert(desk_edit(one, "tools[1]", "{id: reed, kind: basket, length: 9}", &problems));
    ck_assert(desk_edit(two, "tools[1]", "{id: leaf, kind: border, length: 9, width: 5}", &problems));
    ck_assert_int_eq(desk_save(one, &problems), SHOP_OK);
    ck_assert(desk_changed_outside(two));
    ck_assert_int_ne(desk_save(two, &problems), SHOP_OK);
    ck_assert(desk_unsaved(two));
    ck_assert(desk_reload(two, &problems));
    ck_assert_str_eq(desk_project(two)->tools[0].id, "reed");
    desk_close(two);
    desk_close(one);
}
END_TEST

START_TEST(what_cannot_be_saved_is_not_lost) {
    desk *d = opened("tools.yaml/inventory.yaml"); /* below a file: no folder can be made there */
    ck_assert(desk_edit(d, "tools[1]", "{id: reed, kind: basket, length: 9}", &problems));
    ck_assert_int_eq(desk_save(d, &problems), SHOP_CANNOT_MAKE);
    ck_assert_ptr_nonnull(strstr(problems.list[problems.count - 1].text, strerror(ENOTDIR)));
    ck_assert(desk_unsaved(d));
    ck_assert_uint_eq(desk_project(d)->own_tools, 1);
    desk_close(d);
    d = opened("tools.yaml");
    ck_assert(desk_edit(d, "tools.reed.blows", "4", &problems));
    ck_assert_int_eq(unlink("tools.yaml"), 0);
    ck_assert_int_eq(mkdir("tools.yaml", 0700), 0);
    ck_assert_int_ne(desk_save(d, &problems), SHOP_OK);
    ck_assert(desk_unsaved(d));
    ck_assert_int_eq(rmdir("tools.yaml"), 0);
    ck_assert_int_eq(desk_save(d, &problems), SHOP_OK);
    ck_assert(!desk_unsaved(d));
    desk_close(d);
    shop_status status;
    ck_assert_int_eq(mkdir("folder.yaml", 0700), 0);
    ck_assert_ptr_null(desk_open_inventory("folder.yaml", &problems, &status));
    ck_assert_ptr_null(desk_open_inventory("piece.yaml", &problems, &status)); /* no inventory */
    ck_assert_int_eq(status, SHOP_BAD_FILE);
}
END_TEST

/* ---- the piece beside it ---- */

START_TEST(a_piece_reads_it_unsaved) {
    desk *d = opened("tools.yaml"), *p = opened_piece();
    double step = desk_plan(p)->bands[0].runs[0].step;
    ck_assert(desk_edit(d, "tools.reed.length", "12", &problems));
    ck_assert(desk_use_inventory(p, d, &problems));
    ck_assert_double_ne(desk_plan(p)->bands[0].runs[0].step, step);
    ck_assert(!desk_unsaved(p));
    size_t errors = problems.errors;
    ck_assert(desk_edit(d, "tools.reed.id", "rush", &problems)); /* the piece has no copy of the reed */
    ck_assert(!desk_use_inventory(p, d, &problems));
    ck_assert_uint_gt(problems.errors, errors);
    ck_assert_double_ne(desk_plan(p)->bands[0].runs[0].step, step); /* as before */
    says(p, piece);
    desk_close(p);
    desk_close(d);
}
END_TEST

static void given(const desk *from, desk *to, const char *id, size_t count) {
    desk_edits list = {0};
    ck_assert(desk_tool_give(from, to, id, &list));
    ck_assert_uint_eq(list.count, count);
    ck_assert(list.count == 0 || desk_edit_many(to, list.edits, list.count, id, &problems));
    desk_edits_release(&list);
}

/* 1 in = 25.4 mm exactly: what is measured does not change with the units of the file it goes to. */
START_TEST(tools_go_from_file_to_file) {
    desk *d = opened("tools.yaml"), *p = opened_piece();
    given(d, p, "reed", 2); /* whole, and not retired */
    int reed = desk_tool_find(p, "reed"), mine;
    ck_assert_int_eq(reed, 1);
    ck_assert_double_eq_tol(desk_project(p)->tools[reed].length, 9.5, 1e-12);
    given(d, p, "reed", 0);
    given(p, d, "reed", 0);
    given(p, d, "mine", 2);
    mine = desk_tool_find(d, "mine");
    ck_assert_int_eq(mine, 3);
    ck_assert_double_eq_tol(desk_project(d)->tools[mine].length, 9.525, 1e-12);
    given(p, d, "mine", 0);
    /* Differences: a value each, and comments stay. */
    ck_assert(desk_edit(p, "tools.reed.length", "1/2", &problems));
    ck_assert(desk_edit(p, "tools.reed.steps.usual", "0.42", &problems));
    ck_assert(desk_edit(d, "tools.reed.retired", "yes", &problems));
    ck_assert(desk_use_inventory(p, d, &problems));
    ck_assert(desk_project(p)->tool_about[reed].differs);
    given(p, d, "reed", 2);
    ck_assert_double_eq_tol(desk_project(d)->tools[0].length, 12.7, 1e-12);
    ck_assert_double_eq_tol(desk_project(d)->tools[0].usual, 0.42 * 25.4, 1e-12);
    ck_assert(desk_project(d)->tools[0].retired); /* each file's own matter */
    ck_assert(!desk_project(p)->tools[reed].retired);
    size_t length;
    ck_assert_ptr_nonnull(strstr(desk_bytes(d, &length), "    # measured\n"));
    ck_assert(desk_use_inventory(p, d, &problems));
    ck_assert(!desk_project(p)->tool_about[reed].differs);
    ck_assert(!desk_tool_give(p, d, "nothing", &(desk_edits){0}));
    desk_close(p);
    desk_close(d);
}
END_TEST

static const char measured[] =
    "bandwright-inventory: 1\nunits: mm\ntools:\n"
    "  - id: reed\n    kind: basket\n    length: 9.5\n    from: my uncle\n    steps: {closest: 7}\n"
    "    strips:\n      - {impressions: 11, length: 75, aimed: 7.5, hammer: 16 oz}\n"
    "      - {places: [7.4, 0.6 in], leather: \"12\"}\n"
    "    rounds: [{impressions: 20, length: 143, date: 2026-03-02}]\n";

/* 75 mm stays 75 mm in a file in inches, whole or key by key, and the maker's own keys come along. */
START_TEST(strips_go_from_file_to_file) {
    hands_write("tools.yaml", measured);
    desk *d = opened("tools.yaml"), *p = opened_piece();
    given(d, p, "reed", 2);
    int reed = desk_tool_find(p, "reed");
    const bw_tool *from = &desk_project(d)->tools[0];
    ck_assert(shop_same_strips(from, &desk_project(p)->tools[reed]));
    ck_assert_double_eq_tol(desk_project(p)->tools[reed].strips[1].places[1], 15.24, 1e-9);
    ck_assert_double_eq_tol(desk_project(p)->tools[reed].closest, 7, 1e-12);
    static const char *const kept[] = {"from: my uncle",   "hammer: 16 oz", "leather: \"12\"",
                                       "date: 2026-03-02", "length: 75 mm", "[7.4 mm, 0.6 in]"};
    size_t length;
    for (size_t i = 0; i < sizeof kept / sizeof kept[0]; i++) {
        ck_assert_msg(strstr(desk_bytes(p, &length), kept[i]) != NULL, "%s: %s", kept[i], desk_bytes(p, &length));
    }
    given(d, p, "reed", 0);
    given(p, d, "reed", 0);
    /* One strip more in the piece: it differs, in strips alone, and goes back as it is. */
    ck_assert(desk_edit(p, "tools.reed.strips[3]", "{impressions: 11, length: 3}", &problems));
    ck_assert(desk_use_inventory(p, d, &problems));
    ck_assert(desk_project(p)->tool_about[reed].differs && desk_project(p)->tool_about[reed].only_strips);
    given(p, d, "reed", 1);
    ck_assert_double_eq_tol(desk_project(d)->tools[0].strips[2].length, 76.2, 1e-9);
    ck_assert_double_eq_tol(desk_project(d)->tools[0].strips[0].length, 75, 1e-9);
    ck_assert(desk_use_inventory(p, d, &problems));
    ck_assert(!desk_project(p)->tool_about[reed].differs);
    /* Each has one that the other has not: neither loses it, whichever way it goes, and then they are alike. */
    ck_assert(desk_edit(p, "tools.reed.rounds[2]", "{impressions: 30, length: 9}", &problems));
    ck_assert(desk_edit(d, "tools.reed.rounds[2]", "{impressions: 40, length: 300}", &problems));
    given(p, d, "reed", 1);
    given(p, d, "reed", 0);
    ck_assert_uint_eq(desk_project(d)->tools[0].strip_count, 6);
    ck_assert(!shop_same_strips(&desk_project(d)->tools[0], &desk_project(p)->tools[reed]));
    given(d, p, "reed", 1);
    ck_assert(shop_same_strips(&desk_project(d)->tools[0], &desk_project(p)->tools[reed]));
    ck_assert(desk_use_inventory(p, d, &problems));
    ck_assert(!desk_project(p)->tool_about[reed].differs);
    /* Sizes, too: then it is not the strips alone. A given step is a size. */
    ck_assert(desk_edit(p, "tools.reed.steps.usual", "0.3", &problems));
    ck_assert(desk_use_inventory(p, d, &problems));
    ck_assert(desk_project(p)->tool_about[reed].differs && !desk_project(p)->tool_about[reed].only_strips);
    desk_close(p);
    desk_close(d);
}
END_TEST

START_TEST(copies_get_ids_of_their_own) {
    desk *d = opened("tools.yaml"), *p = opened_piece();
    ck_assert(desk_edit(p, "tools.mine.id", "reed-2", &problems));
    for (int i = 0; i < 3; i++) {
        desk_edits list = {0};
        char id[BW_NAME_MOST * 4 + 1];
        ck_assert(desk_tool_copy(d, 0, p, &list, id));
        ck_assert_int_eq(desk_tool_find(p, id), -1);
        ck_assert_int_eq(desk_tool_find(d, id), -1);
        ck_assert(desk_edit_many(d, list.edits, list.count, "copied", &problems));
        ck_assert_int_eq(desk_tool_find(d, id), 1); /* behind the first */
        ck_assert_double_eq_tol(desk_project(d)->tools[1].length, 9.5, 1e-12);
        desk_edits_release(&list);
    }
    while (desk_undo(d, NULL)) {
    }
    says(d, text);
    desk_close(p);
    desk_close(d);
}
END_TEST

/* Every allocation fails once: nothing is half done. */
START_TEST(memory_runs_out) {
    int done = 0;
    for (long n = 0; !done; n++) {
        shop_problems quiet;
        shop_status status;
        desk_edits list = {0};
        shop_problems_init(&quiet, "quiet");
        desk *d = opened("tools.yaml"), *p = opened_piece();
        shop_alloc_fail_at(n);
        desk *third = desk_open_inventory("tools.yaml", &quiet, &status);
        bool fine = third != NULL && desk_edit(d, "tools.reed.length", "10", &quiet) &&
                    desk_use_inventory(p, d, &quiet) && desk_tool_give(d, p, "reed", &list) &&
                    desk_edit_many(p, list.edits, list.count, "given", &quiet) && desk_save(d, &quiet) == SHOP_OK;
        shop_alloc_fail_at(-1);
        done = fine;
        ck_assert_ptr_nonnull(desk_project(d));
        ck_assert_ptr_nonnull(desk_plan(p));
        desk_edits_release(&list);
        desk_close(third);
        desk_close(p);
        desk_close(d);
        shop_problems_free(&quiet);
        hands_write("tools.yaml", text);
        ck_assert_int_lt(n, 100000);
    }
}
END_TEST

Suite *desk_inventory_suite(void) {
    Suite *suite = suite_create("the open inventory");
    TCase *tests = tcase_create("inventory");
    tcase_set_timeout(tests, 120);
    tcase_add_checked_fixture(tests, begin, end);
    tcase_add_test(tests, an_edit_touches_one_value);
    tcase_add_test(tests, what_is_wrong_is_refused);
    tcase_add_test(tests, others_are_noticed);
    tcase_add_test(tests, the_first_file_is_made);
    tcase_add_test(tests, two_first_files);
    tcase_add_test(tests, what_cannot_be_saved_is_not_lost);
    tcase_add_test(tests, a_piece_reads_it_unsaved);
    tcase_add_test(tests, tools_go_from_file_to_file);
    tcase_add_test(tests, strips_go_from_file_to_file);
    tcase_add_test(tests, copies_get_ids_of_their_own);
    tcase_add_test(tests, memory_runs_out);
    suite_add_tcase(suite, tests);
    return suite;
}
