/* check_told.c - what a maker looks for is told where he looks: commands by his own words, which of two layouts works,
 * what others wrote, the last of what was left, keys that settle something. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_told_suite(void);

#define LID "cedar-lid.yaml"

static bench *b;

static void begin(void) {
    hands_begin();
    b = hands_open(LID);
}

static void end(void) {
    bench_destroy(b);
    hands_end();
}

static void reopen(const char *file) {
    bench_destroy(b);
    b = hands_open(file);
}

static void hides(const char *words) {
    char *screen = hands_screen(b, 80, 24);
    ck_assert_msg(strstr(screen, words) == NULL, "'%s' in\n%s", words, screen);
    free(screen);
}

static void has(const char *words, bool there) {
    char *bytes = hands_bytes(b);
    ck_assert_msg((strstr(bytes, words) != NULL) == there, "'%s' in\n%s", words, bytes);
    free(bytes);
}

static void shell(const char *command) {
    ck_assert_msg(system(command) == 0, "%s", command);
}

/* ---- commands ---- */

static const struct {
    const char *typed, *first;
} searches[] = {{"stitch", "> add band"},     {"holes", "> add band"},  {"compare", "> both"}, {"print", "> page"},
                {"dividers", "> page"},       {"inch", "> type"},       {"zoom", "> closer"},  {"variant", "> both"},
                {"corner", "> round"},        {"delete", "> take out"}, {"save", "> save"},    {"bench", "> bench"},
                {"remove band", "> take out"}};

START_TEST(commands_by_a_makers_words) {
    char keys[80];
    snprintf(keys, sizeof keys, "/ \"%s\"", searches[_i].typed);
    hands_press(b, keys);
    hands_see(b, searches[_i].first);
}
END_TEST

/* Words are found by their beginnings: a hole is not meant by "whole". */
START_TEST(no_command_by_a_words_inside) {
    hands_press(b, "/ \"hole\"");
    hides("paint");
    hands_press(b, "Esc / \"whol\"");
    hands_see(b, "paint");
}
END_TEST

/* ---- two layouts ---- */

START_TEST(two_layouts_say_which_works) {
    hands_press(b, "g m*3 G");
    hands_see(b, "weave, in hand: no");
    hands_see(b, "weave, held: yes");
    hands_see(b, "weave impressions");
    hands_see(b, "? explain");
    hands_press(b, "?");
    hands_see(b, "The figures of weave");
    hands_press(b, "Esc");
    ck_assert_int_eq(b->screen, BENCH_SECOND);
}
END_TEST

/* ---- what is kept and left ---- */

START_TEST(changes_that_are_not_kept_stay_told) {
    shell("touch state && mkdir -p away && cp " LID " away/lid.yaml");
    reopen("away/lid.yaml");
    shell("rm -r away");
    hands_see(b, "  saved");
    hands_press(b, "Right Right Right Tab Down");
    hands_see(b, "not saved, not kept");
    shell("mkdir away");
    hands_press(b, "s");
    hides("not kept");
}
END_TEST

START_TEST(the_last_of_what_was_left) {
    hands_press(b, "Right*40");
    ck_assert_ptr_nonnull(bench_leave(b));
    reopen(LID);
    hands_see(b, "-> 31 mm");
    hands_see(b, "more before these: v");
    hides("-> 21.25 mm");
}
END_TEST

/* ---- what others wrote ---- */

static void others_write(const char *command) {
    hands_press(b, "Right");
    shell(command);
    hands_press(b, "s");
    ck_assert_int_eq(bench_where(b), BENCH_THEIRS);
}

START_TEST(theirs_cannot_be_read) {
    others_write("echo 'garbage: [' >> " LID);
    hands_see(b, "Theirs cannot be read: line ");
    hands_press(b, "v");
    ck_assert_ptr_nonnull(strstr(b->message, "Theirs cannot be read: line "));
    hands_press(b, "k");
    has("21.25", true);
}
END_TEST

START_TEST(theirs_has_a_remark_more) {
    others_write("sed -i '1i # wet for an hour' " LID);
    hands_see(b, "remarks in the file: yours 6, theirs 7");
    hands_see(b, "weave width: yours 21.25 mm, theirs 21 mm");
}
END_TEST

START_TEST(strikes_of_both_are_told_in_words) {
    hands_press(b, "b Space*6 Esc s");
    reopen(LID);
    hands_press(b, "b Space*3 Esc");
    shell("sed -i 's/impressions: 6, of/impressions: 5, of/' " LID);
    hands_press(b, "s");
    hands_see(b, "yours 9 of 40 struck, theirs 5 of 40 struck");
}
END_TEST

/* ---- values ---- */

START_TEST(a_unit_stands_apart) {
    hands_press(b, "Enter \"2.2mm\" Enter");
    hands_see(b, "width       2.2 mm");
    has("width: 2.2mm", true); /* as it was typed */
}
END_TEST

/* What Enter does is not the same for all values. */
START_TEST(what_enter_does) {
    hands_see(b, "Enter type");
    hands_press(b, "Down");
    hands_see(b, "Enter next");
    hands_press(b, "Down");
    hands_see(b, "Enter choose");
    hands_press(b, "Shift-Tab*2 Home Down*4");
    hands_see(b, "Enter list");
    hands_press(b, "i Enter Home");
    hands_see(b, "Enter type");
    hands_press(b, "Down*4");
    hands_see(b, "Enter next");
}
END_TEST

/* What was kept of a band goes with it, and comes back with it. */
START_TEST(kept_values_go_with_their_band) {
    hands_press(b, "k Up k");
    has("bands.weave.space", true);
    hands_press(b, "Tab Home Down k Shift-Tab x");
    has("bands.weave", false);
    has("bands.stitching.space", true);
    hands_press(b, "u");
    has("bands.weave.space", true);
    hands_press(b, "U");
    has("bands.weave", false);
    hands_press(b, "x"); /* the stitching is in hand now */
    has("fixed", false);
    hands_press(b, "u*2");
    has("bands.weave.width", true);
}
END_TEST

/* ---- the form ---- */

/* A circle as a drawn path of many short lines. */
static char *long_path(int points) {
    char *path = malloc((size_t)points * 32 + 8), *to = path;
    ck_assert_ptr_nonnull(path);
    for (int i = 0; i < points; i++) {
        double x = i < points / 2 ? i : points - i, y = i < points / 2 ? 0 : 60;
        to += sprintf(to, "%s%.3f %.3f", i == 0 ? "M" : " L", x, y);
    }
    strcpy(to, " Z");
    return path;
}

START_TEST(a_long_path_can_be_given) {
    char *path = long_path(400), *script = malloc(strlen(path) + 200);
    ck_assert_ptr_nonnull(script);
    reopen(NULL);
    hands_press(b, "n \"Hat\" Enter Down");
    for (int i = 0; i < 20 && !form_outline_has(&b->form, FORM_SVG); i++) {
        hands_press(b, "Right");
    }
    sprintf(script, "Down Enter Paste \"%s\" Pasted Enter", path);
    hands_press(b, script);
    ck_assert_msg(strcmp(b->form.text[FORM_SVG], path) == 0, "%s", b->message);
    ck_assert_ptr_nonnull(bench_leave(b)); /* the program ends: kept, whole */
    reopen(NULL);
    hands_press(b, "n");
    ck_assert(strcmp(b->form.text[FORM_SVG], path) == 0); /* too long to be told */
    free(path);
    free(script);
}
END_TEST

/* ---- the inventory ---- */

START_TEST(the_other_copy_is_told_where_there_is_one) {
    hands_press(b, "i F \"iron-4\" Enter");
    hands_see(b, "P to the piece");
    hands_see(b, "I to the inventory");
    hands_press(b, "P"); /* now both say the same */
    hides("to the piece");
    hides("to the inventory");
    hands_press(b, "Enter");
    hands_see(b, "Tab other copy");
    hides("to the piece");
    reopen(NULL);
    hands_press(b, "i Enter");
    hides("other copy");
    hides("P to the piece");
}
END_TEST

START_TEST(sizes_of_a_new_tool_follow_one_another) {
    hands_press(b, "i a Enter \"7mm\" Enter");
    hands_see(b, "basket-7 ");
    hands_press(b, "4 Enter 2 Enter");
    char *bytes = hands_stock_bytes(b);
    ck_assert_ptr_nonnull(strstr(bytes, "{id: basket-7, kind: basket, length: 7mm, width: 4, bar: 2}"));
    free(bytes);
    hands_press(b, "Esc Enter 5 Enter"); /* not new any more: the value stays in hand */
    ck_assert_uint_eq(b->shelf.field, 6);
}
END_TEST

/* Forty letters of any script. */
START_TEST(an_id_of_forty_letters) {
    char keys[400] = "i a End \"";
    for (int i = 0; i < 40; i++) {
        strcat(keys, "革");
    }
    strcat(keys, "\" Enter");
    hands_press(b, "i a End Enter");
    hands_press(b, strchr(keys, '"'));
    ck_assert_int_eq(b->screen, BENCH_TOOL);
    ck_assert_int_eq((int)strlen(b->shelf.id), 120);
}
END_TEST

/* Files that were open lately and have no copy of a tool would miss it. */
START_TEST(who_else_uses_a_tool) {
    hands_write("other.yaml", "bandwright-project: 1\nunits: mm\noutline: {shape: circle, diameter: 120}\nbands:\n"
                              "  - {name: weave, space: 5, width: 12, fill: basket, tool: basket-s}\n");
    reopen("other.yaml");
    reopen(LID);
    hands_press(b, "i F \"basket-s\" Enter x");
    hands_see(b, "other.yaml. y takes it out");
    hands_press(b, "Esc F Backspace*20 Enter F \"basket-l\" Enter x");
    hides("have no copy");
}
END_TEST

Suite *bench_told_suite(void) {
    Suite *suite = suite_create("told where it is looked for");
    TCase *tests = tcase_create("told");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, begin, end);
    tcase_add_loop_test(tests, commands_by_a_makers_words, 0, sizeof searches / sizeof searches[0]);
    tcase_add_test(tests, no_command_by_a_words_inside);
    tcase_add_test(tests, two_layouts_say_which_works);
    tcase_add_test(tests, changes_that_are_not_kept_stay_told);
    tcase_add_test(tests, the_last_of_what_was_left);
    tcase_add_test(tests, theirs_cannot_be_read);
    tcase_add_test(tests, theirs_has_a_remark_more);
    tcase_add_test(tests, strikes_of_both_are_told_in_words);
    tcase_add_test(tests, a_unit_stands_apart);
    tcase_add_test(tests, what_enter_does);
    tcase_add_test(tests, kept_values_go_with_their_band);
    tcase_add_test(tests, a_long_path_can_be_given);
    tcase_add_test(tests, the_other_copy_is_told_where_there_is_one);
    tcase_add_test(tests, sizes_of_a_new_tool_follow_one_another);
    tcase_add_test(tests, an_id_of_forty_letters);
    tcase_add_test(tests, who_else_uses_a_tool);
    suite_add_tcase(suite, tests);
    return suite;
}
