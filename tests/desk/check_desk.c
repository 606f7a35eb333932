/* check_desk.c - one open layout: edits taken or refused, undo and redo to the byte, whole bands, tools, trials,
 * suggestions that keep their word, saving. */
#include <check.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bench/hands.h"
#include "desk/desk.h"

Suite *desk_desk_suite(void);

static desk *d;
static shop_problems problems;

static desk *opened(const char *file, const char *inventory) {
    shop_status status;
    desk *made = desk_open(file, inventory, &problems, &status);
    if (made == NULL) {
        shop_problems_print(&problems, stderr);
    }
    ck_assert_ptr_nonnull(made);
    return made;
}

static void begin(void) {
    hands_begin();
    shop_problems_init(&problems, "desk");
    hands_write("tools.yaml", "bandwright-inventory: 1\nunits: in\ntools:\n"
                              "  - {id: reed-half, kind: basket, length: 1/2, name: \"the reed, worn\"}\n");
    d = opened("cedar-lid.yaml", "tools.yaml");
}

static void end(void) {
    desk_close(d);
    shop_problems_free(&problems);
    hands_end();
}

static char *bytes_now(void) {
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    char *copy = strndup(bytes, length);
    ck_assert_ptr_nonnull(copy);
    return copy;
}

static void is_still(const char *text) {
    char *now = bytes_now();
    ck_assert_str_eq(now, text);
    free(now);
}

static double gap_of(const bw_plan *plan, size_t band) {
    double sum = 0;
    for (size_t i = 0; i < plan->bands[band].run_count; i++) {
        sum += fabs(plan->bands[band].runs[i].closure_gap);
    }
    return sum;
}

/* As the screen tells it: of the run whose steps change most. */
static double worst_gap(const bw_plan *plan, size_t band) {
    const bw_band_plan *one = &plan->bands[band];
    return one->run_count > 0 ? one->runs[bw_worst_run(one)].closure_gap : 0;
}

/* Undo to the start gives the first bytes, redo to the end the last, and undo the first again. */
static void there_and_back(const char *first) {
    char *last = bytes_now();
    const char *title;
    int steps = 0;
    while (desk_undo(d, &title)) {
        ck_assert(title != NULL && title[0] != '\0');
        steps++;
    }
    is_still(first);
    for (int i = 0; i < steps; i++) {
        ck_assert(desk_redo(d, &title));
    }
    ck_assert(!desk_redo(d, &title));
    is_still(last);
    while (desk_undo(d, &title)) {
    }
    is_still(first);
    free(last);
}

START_TEST(edits_are_taken) {
    char *first = bytes_now();
    static const char *const edits[][2] = {{"bands.weave.width", "21.25"},  {"bands.weave.width", "3/4 in"},
                                           {"outline.diameter", "141.5"},   {"bands.weave.count", "42"},
                                           {"bands.weave.lose", "last 12"}, {"bands.weave.overlap", "60 %"},
                                           {"bands.weave.count", NULL},     {"piece", "a lid: of \"oak\" #1"},
                                           {"bands.rim.note", "slowly"},    {"leather.weight", "3 mm"}};
    for (size_t i = 0; i < sizeof edits / sizeof edits[0]; i++) {
        ck_assert_msg(desk_edit(d, edits[i][0], edits[i][1], &problems), "%s", edits[i][0]);
        char *text = shop_text_get(desk_project(d)->text, edits[i][0]);
        ck_assert(edits[i][1] == NULL ? text == NULL : strcmp(text, edits[i][1]) == 0);
        free(text);
        ck_assert_ptr_nonnull(desk_last(d));
    }
    ck_assert_double_eq_tol(desk_project(d)->layout.outline.diameter, 141.5, 1e-12);
    there_and_back(first);
    free(first);
}
END_TEST

START_TEST(refused_edits_change_nothing) {
    char *first = bytes_now();
    const bw_plan *plan = desk_plan(d);
    static const char *const edits[][2] = {{"bands.weave.width", "wide"},   {"bands.weave.width", "-1"},
                                           {"bands.weave.width", "1e9"},    {"bands.weave.tool", "nothing"},
                                           {"bands.weave.fill", "bows"},    {"bands.nobody.width", "5"},
                                           {"outline.diameter", NULL},      {"leather.weight", "9 km"},
                                           {"bands.weave.tool", "shell-5"}, {"no.such.key", "1"},
                                           {"bands.rim.name", "weave"},     {"outline.shape", "heart"}};
    for (size_t i = 0; i < sizeof edits / sizeof edits[0]; i++) {
        size_t errors = problems.errors;
        ck_assert_msg(!desk_edit(d, edits[i][0], edits[i][1], &problems), "%s: %s", edits[i][0],
                      edits[i][1] != NULL ? edits[i][1] : "taken out");
        ck_assert_uint_gt(problems.errors, errors);
        is_still(first);
        ck_assert_ptr_eq(desk_plan(d), plan);
        ck_assert(!desk_unsaved(d) && desk_last(d) == NULL);
    }
    free(first);
}
END_TEST

/* All of several edits or none. */
START_TEST(edits_hold_together) {
    char *first = bytes_now();
    shop_edit edits[2] = {{.path = (char *)(uintptr_t) "bands.weave.width", .new_text = (char *)(uintptr_t) "20"},
                          {.path = (char *)(uintptr_t) "outline.diameter", .new_text = (char *)(uintptr_t) "small"}};
    ck_assert(!desk_edit_many(d, edits, 2, "both", &problems));
    is_still(first);
    edits[1].new_text = (char *)(uintptr_t) "139";
    ck_assert(desk_edit_many(d, edits, 2, "both", &problems));
    ck_assert_str_eq(desk_last(d), "both");
    const char *title;
    ck_assert(desk_undo(d, &title) && !desk_undo(d, &title));
    is_still(first);
    free(first);
}
END_TEST

START_TEST(undo_past_a_save) {
    char *first = bytes_now();
    const char *title;
    ck_assert(desk_edit(d, "bands.weave.width", "20", &problems) && desk_unsaved(d));
    ck_assert_int_eq(desk_save(d, &problems), SHOP_OK);
    ck_assert(!desk_unsaved(d));
    ck_assert(desk_undo(d, &title) && desk_unsaved(d));
    is_still(first);
    ck_assert_int_eq(desk_save(d, &problems), SHOP_OK);
    desk *again = opened("cedar-lid.yaml", "tools.yaml");
    size_t length;
    const char *bytes = desk_bytes(again, &length);
    ck_assert(length == strlen(first) && memcmp(bytes, first, length) == 0);
    desk_close(again);
    ck_assert(desk_redo(d, &title));
    free(first);
}
END_TEST

/* A new edit after an undo: what was undone cannot come back. */
START_TEST(a_new_edit_forgets_what_was_undone) {
    const char *title;
    ck_assert(desk_edit(d, "bands.weave.width", "20", &problems) && desk_undo(d, &title));
    ck_assert(desk_edit(d, "bands.weave.width", "19", &problems));
    ck_assert(!desk_redo(d, &title));
}
END_TEST

START_TEST(whole_bands) {
    char *first = bytes_now();
    const bw_layout *layout;
    ck_assert(desk_band_add(d, 1, "{name: plain, width: 2}", &problems));
    ck_assert_str_eq(desk_project(d)->bands[1].name, "plain");
    ck_assert(desk_band_copy(d, 2, &problems));
    ck_assert_str_eq(desk_project(d)->bands[3].name, "weave 2");
    ck_assert(desk_band_copy(d, 3, &problems));
    ck_assert_str_eq(desk_project(d)->bands[4].name, "weave 3");
    ck_assert(desk_band_move(d, 3, -1, &problems));
    ck_assert_str_eq(desk_project(d)->bands[2].name, "weave 2");
    ck_assert_str_eq(desk_project(d)->bands[3].name, "weave");
    ck_assert(desk_band_remove(d, 0, &problems));
    layout = &desk_project(d)->layout;
    ck_assert_uint_eq(layout->band_count, 5);
    ck_assert(!desk_band_move(d, 0, -1, &problems) && !desk_band_move(d, 4, 1, &problems));
    ck_assert(!desk_band_remove(d, 5, &problems) && !desk_band_copy(d, 99, &problems));
    there_and_back(first);
    free(first);
}
END_TEST

/* The tool of the inventory is copied with its unit and its name, so that the file can travel. */
START_TEST(a_chosen_tool_is_copied) {
    char *first = bytes_now();
    const shop_project *project = desk_project(d);
    int tool = -1;
    for (size_t i = 0; i < project->layout.tool_count; i++) {
        tool = strcmp(project->tools[i].id, "reed-half") == 0 ? (int)i : tool;
    }
    ck_assert_int_ge(tool, (int)project->own_tools);
    ck_assert(desk_choose_tool(d, 1, tool, &problems));
    char *length = shop_text_get(desk_project(d)->text, "tools.reed-half.length");
    char *name = shop_text_get(desk_project(d)->text, "tools.reed-half.name");
    ck_assert_str_eq(length, "1/2 in");
    ck_assert_str_eq(name, "the reed, worn");
    ck_assert_double_eq_tol(desk_project(d)->tools[desk_project(d)->bands[1].tool].length, 12.7, 1e-12);
    ck_assert(!desk_choose_tool(d, 1, 999, &problems) && !desk_choose_tool(d, 1, -1, &problems));
    there_and_back(first);
    free(name);
    free(length);
    free(first);
}
END_TEST

/* A tool that gets another id keeps its bands. */
START_TEST(a_renamed_tool_keeps_its_bands) {
    char *first = bytes_now();
    ck_assert(desk_edit(d, "tools.basket-m.id", "reed", &problems));
    char *text = shop_text_get(desk_project(d)->text, "bands.weave.tool");
    ck_assert_str_eq(text, "reed");
    there_and_back(first);
    free(text);
    free(first);
}
END_TEST

START_TEST(trials) {
    char *first = bytes_now();
    const shop_project *kept = desk_project(d);
    shop_edit edit = {.path = (char *)(uintptr_t) "bands.weave.width", .new_text = (char *)(uintptr_t) "18"};
    ck_assert(desk_try(d, &edit, 1, "narrower", &problems) && desk_trying(d));
    ck_assert_ptr_eq(desk_kept(d), kept);
    ck_assert_double_eq_tol(desk_project(d)->bands[1].width, 18, 1e-12);
    ck_assert(desk_last(d) == NULL);
    desk_try_leave(d);
    ck_assert(!desk_trying(d) && desk_project(d) == kept);
    is_still(first);
    edit.new_text = (char *)(uintptr_t) "nonsense";
    ck_assert(!desk_try(d, &edit, 1, "bad", &problems) && !desk_trying(d));
    is_still(first);
    edit.new_text = (char *)(uintptr_t) "18";
    ck_assert(desk_try(d, &edit, 1, "narrower", &problems) && desk_try_keep(d, &problems) && !desk_trying(d));
    ck_assert_str_eq(desk_last(d), "narrower");
    /* An undo leaves a trial first. */
    ck_assert(desk_try_tool(d, 1, desk_project(d)->bands[1].tool, &problems));
    const char *title;
    ck_assert(desk_undo(d, &title) && !desk_trying(d));
    is_still(first);
    free(first);
}
END_TEST

/* A trial is never saved. */
START_TEST(a_trial_is_not_saved) {
    char *first = bytes_now();
    shop_edit edit = {.path = (char *)(uintptr_t) "bands.weave.width", .new_text = (char *)(uintptr_t) "18"};
    ck_assert(desk_try(d, &edit, 1, "narrower", &problems));
    ck_assert_int_eq(desk_save(d, &problems), SHOP_OK);
    ck_assert(!desk_trying(d));
    is_still(first);
    free(first);
}
END_TEST

/* A number with two decimals in a sentence, behind these words. */
static double said(const char *words, const char *before) {
    const char *at = strstr(words, before);
    double value = NAN;
    ck_assert_msg(at != NULL && sscanf(at + strlen(before), "%lf", &value) == 1, "no '%s' in: %s", before, words);
    return value;
}

START_TEST(suggestions_say_what_comes) {
    static const char *const files[] = {"cedar-lid.yaml", "blackthorn-rosette.yaml", "alder-tray.yaml",
                                        "hazel-coaster.yaml"};
    size_t told = 0;
    for (size_t f = 0; f < sizeof files / sizeof files[0]; f++) {
        desk_close(d);
        d = opened(files[f], "tools.yaml");
        char *first = bytes_now();
        for (size_t band = 0; band < desk_project(d)->layout.band_count; band++) {
            size_t count;
            desk_suggestions(d, band, &count);
            for (size_t i = 0; i < count; i++) {
                const desk_suggestion *one = &desk_suggestions(d, band, &count)[i];
                bw_move move = one->move;
                char *words = strdup(one->words);
                ck_assert_uint_eq(move.band, band);
                ck_assert(desk_take(d, one, &problems));
                double gap = gap_of(desk_plan(d), band);
                ck_assert_double_eq_tol(gap, move.remaining_gap, 1e-9);
                ck_assert_int_eq(desk_plan(d)->bands[band].fit.verdict, move.verdict);
                ck_assert_str_eq(desk_last(d), words);
                if (strstr(words, "no gap then") != NULL) {
                    ck_assert_double_lt(fabs(worst_gap(desk_plan(d), band)), 0.01);
                } else if (desk_project(d)->bands[band].fill != BW_FILL_PLAIN) { /* to two decimals */
                    ck_assert_double_eq_tol(said(words, "gap then "), worst_gap(desk_plan(d), band), 0.0051);
                }
                ck_assert_int_eq(strstr(words, "every row whole") != NULL, move.whole_rows && !move.cures_warning);
                const char *title;
                ck_assert(desk_undo(d, &title));
                is_still(first);
                free(words);
                told++;
            }
        }
        free(first);
    }
    ck_assert_uint_gt(told, 10);
}
END_TEST

/* Those of one band, whichever was asked for before. */
START_TEST(suggestions_band_by_band) {
    size_t weave, rim, again;
    desk_suggestions(d, 1, &weave);
    desk_suggestions(d, 0, &rim);
    ck_assert_uint_gt(weave, 0);
    ck_assert_uint_gt(rim, 0);
    const desk_suggestion *list = desk_suggestions(d, 1, &again);
    ck_assert_uint_eq(again, weave);
    for (size_t i = 0; i < again; i++) {
        ck_assert_uint_eq(list[i].move.band, 1);
    }
    ck_assert_ptr_null(desk_suggestions(d, 99, &again));
    ck_assert_uint_eq(again, 0);
}
END_TEST

START_TEST(ranks_are_of_the_kind) {
    size_t count;
    const bw_rank *ranks = desk_ranks(d, 1, &count);
    ck_assert_uint_ge(count, 2); /* basket-m and the inventory's */
    for (size_t i = 0; i < count; i++) {
        ck_assert_int_eq(desk_project(d)->tools[ranks[i].tool].kind, BW_BASKET);
    }
    ck_assert_ptr_null(desk_ranks(d, 99, &count));
    ck_assert_uint_eq(count, 0);
}
END_TEST

/* What another program wrote is not written over unasked. */
START_TEST(a_file_changed_by_another) {
    char *first = bytes_now();
    ck_assert(desk_edit(d, "bands.weave.width", "20", &problems) && !desk_changed_outside(d));
    char *edited = bytes_now();
    hands_write("cedar-lid.yaml", "# mine\n");
    ck_assert(desk_changed_outside(d));
    ck_assert_int_eq(desk_save(d, &problems), SHOP_CANNOT_WRITE);
    ck_assert_int_eq(desk_save_as(d, "cedar-lid.yaml", false, &problems), SHOP_CANNOT_MAKE);
    ck_assert(desk_unsaved(d));
    is_still(edited);
    ck_assert_int_eq(desk_save_as(d, "cedar-lid.yaml", true, &problems), SHOP_OK);
    ck_assert(!desk_changed_outside(d) && !desk_unsaved(d));
    ck_assert_int_eq(unlink("cedar-lid.yaml"), 0);
    ck_assert(desk_edit(d, "bands.weave.width", "21", &problems) && !desk_changed_outside(d));
    ck_assert_int_eq(desk_save(d, &problems), SHOP_OK);
    free(edited);
    free(first);
}
END_TEST

START_TEST(save_as) {
    ck_assert(desk_edit(d, "bands.weave.width", "20", &problems));
    hands_write("there.yaml", "mine\n");
    ck_assert_int_eq(desk_save_as(d, "there.yaml", false, &problems), SHOP_CANNOT_MAKE);
    ck_assert_str_eq(desk_file(d), "cedar-lid.yaml");
    ck_assert(desk_unsaved(d));
    ck_assert_int_ne(desk_save_as(d, "no/such/folder.yaml", false, &problems), SHOP_OK);
    ck_assert_int_eq(desk_save_as(d, "there.yaml", true, &problems), SHOP_OK);
    ck_assert_str_eq(desk_file(d), "there.yaml");
    ck_assert(!desk_unsaved(d));
    desk *again = opened("there.yaml", "tools.yaml");
    ck_assert_double_eq_tol(desk_project(again)->bands[1].width, 20, 1e-12);
    desk_close(again);
}
END_TEST

/* What another program wrote meanwhile stays, unless it is asked for by name. */
START_TEST(a_file_changed_outside) {
    ck_assert(desk_edit(d, "bands.weave.width", "20", &problems));
    ck_assert(!desk_changed_outside(d));
    hands_write("cedar-lid.yaml", "somebody else's\n");
    ck_assert(desk_changed_outside(d));
    ck_assert_int_eq(desk_save(d, &problems), SHOP_CANNOT_WRITE);
    ck_assert(desk_unsaved(d));
    char *bytes = NULL;
    size_t length;
    ck_assert_int_eq(shop_read("cedar-lid.yaml", &bytes, &length, &problems), SHOP_OK);
    ck_assert_uint_eq(length, strlen("somebody else's\n"));
    free(bytes);
    ck_assert_int_eq(desk_save_as(d, "cedar-lid.yaml", true, &problems), SHOP_OK);
    ck_assert(!desk_changed_outside(d) && !desk_unsaved(d));
}
END_TEST

START_TEST(reload) {
    char *first = bytes_now();
    ck_assert(desk_edit(d, "bands.weave.width", "20", &problems));
    char *edited = bytes_now();
    ck_assert(desk_reload(d, &problems));
    is_still(first);
    ck_assert(!desk_unsaved(d));
    const char *title;
    ck_assert(desk_undo(d, &title));
    is_still(edited);
    hands_write("cedar-lid.yaml", "broken: [\n");
    ck_assert(!desk_reload(d, &problems));
    is_still(edited);
    free(edited);
    free(first);
}
END_TEST

Suite *desk_desk_suite(void) {
    Suite *suite = suite_create("the open layout");
    TCase *tests = tcase_create("desk");
    tcase_add_checked_fixture(tests, begin, end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, edits_are_taken);
    tcase_add_test(tests, refused_edits_change_nothing);
    tcase_add_test(tests, edits_hold_together);
    tcase_add_test(tests, undo_past_a_save);
    tcase_add_test(tests, a_new_edit_forgets_what_was_undone);
    tcase_add_test(tests, whole_bands);
    tcase_add_test(tests, a_chosen_tool_is_copied);
    tcase_add_test(tests, a_renamed_tool_keeps_its_bands);
    tcase_add_test(tests, trials);
    tcase_add_test(tests, a_trial_is_not_saved);
    tcase_add_test(tests, suggestions_say_what_comes);
    tcase_add_test(tests, suggestions_band_by_band);
    tcase_add_test(tests, ranks_are_of_the_kind);
    tcase_add_test(tests, a_file_changed_by_another);
    tcase_add_test(tests, save_as);
    tcase_add_test(tests, a_file_changed_outside);
    tcase_add_test(tests, reload);
    suite_add_tcase(suite, tests);
    return suite;
}
