/* check_second.c - a second layout beside the one in hand: held, flipped, kept, dropped, and all of it undone. */
#include <check.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "desk/desk.h"

Suite *desk_second_suite(void);

static const char text[] = "bandwright-project: 1\n"
                           "outline: {shape: circle, diameter: 120}  # the lid\n"
                           "tools:\n"
                           "  - {id: star, kind: basket, length: 9, width: 6}\n"
                           "bands:\n"
                           "  - {name: rim, width: 3}\n"
                           "  - {name: weave, width: 18, fill: basket, tool: star}\n";

static shop_problems problems;
static desk *d;

static void open_lid(void) {
    shop_status status;
    shop_problems_init(&problems, "lid.yaml");
    d = desk_new("lid.yaml", text, strlen(text), "share/inventory.yaml", &problems, &status);
    ck_assert_ptr_nonnull(d);
}

static void close_lid(void) {
    desk_close(d);
    shop_problems_free(&problems);
}

static bool in_hand(const char *bytes) {
    size_t length;
    const char *now = desk_bytes(d, &length);
    return length == strlen(bytes) && memcmp(now, bytes, length) == 0;
}

static double width_of(const shop_project *project) {
    return project->layout.bands[1].width;
}

static void set_width(const char *width) {
    ck_assert(desk_edit(d, "bands.weave.width", width, &problems));
}

static void undo_all(void) {
    while (desk_undo(d, NULL)) {
    }
}

START_TEST(held_while_the_other_changes) {
    ck_assert(!desk_holding(d));
    ck_assert_ptr_null(desk_held_project(d));
    ck_assert(desk_hold(d, &problems));
    ck_assert(!desk_hold(d, &problems)); /* one at a time */
    size_t count = 1;
    ck_assert_ptr_null(desk_differences(d, &count));
    ck_assert_uint_eq(count, 0);
    set_width("20");
    set_width("19 1/2 mm");
    ck_assert_double_eq(width_of(desk_project(d)), 19.5);
    ck_assert_double_eq(width_of(desk_held_project(d)), 18);
    const desk_difference *list = desk_differences(d, &count);
    ck_assert_uint_eq(count, 1);
    ck_assert_str_eq(list[0].edit.path, "bands.weave.width");
    ck_assert_str_eq(list[0].edit.old_text, "19 1/2 mm");
    ck_assert_str_eq(list[0].edit.new_text, "18");
    ck_assert_str_eq(list[0].label, "weave width");
    ck_assert_str_eq(list[0].here, "19 1/2 mm");
    ck_assert_str_eq(list[0].held, "18 mm");
    ck_assert_int_gt(desk_held_plan(d)->bands[1].runs[0].count, 0);
}
END_TEST

START_TEST(flipped_and_flipped_back) {
    ck_assert(!desk_flip(d, &problems)); /* none is held */
    ck_assert(desk_hold(d, &problems));
    set_width("20");
    ck_assert(desk_flip(d, &problems));
    ck_assert(in_hand(text)); /* comments and all */
    ck_assert_double_eq(width_of(desk_held_project(d)), 20);
    ck_assert_ptr_nonnull(strstr(desk_last(d), "weave width 20 mm -> 18 mm"));
    ck_assert(desk_flip(d, &problems)); /* takes the flip back: steps do not pile up */
    ck_assert_double_eq(width_of(desk_project(d)), 20);
    ck_assert_double_eq(width_of(desk_held_project(d)), 18);
    ck_assert_ptr_null(strstr(desk_last(d), "other layout"));
    ck_assert(desk_flip(d, &problems));
    ck_assert(desk_edit(d, "bands.rim.width", "4", &problems)); /* both were changed since they parted */
    ck_assert(desk_flip(d, &problems));
    ck_assert_double_eq(width_of(desk_project(d)), 20);
    ck_assert_double_eq(desk_held_project(d)->layout.bands[0].width, 4);
    size_t count;
    desk_differences(d, &count);
    ck_assert_uint_eq(count, 2);
    undo_all();
    ck_assert(in_hand(text));
    while (desk_redo(d, NULL)) {
    }
    ck_assert_double_eq(width_of(desk_project(d)), 20);
    ck_assert_double_eq(desk_held_project(d)->layout.bands[0].width, 4);
}
END_TEST

START_TEST(kept_and_dropped) {
    const char *title;
    ck_assert(!desk_keep_held(d, &problems) && !desk_drop_held(d, &problems));
    ck_assert(desk_hold(d, &problems));
    set_width("20");
    ck_assert(desk_keep_held(d, &problems));
    ck_assert(!desk_holding(d) && in_hand(text));
    ck_assert(desk_undo(d, &title)); /* one step */
    ck_assert_ptr_nonnull(strstr(title, "kept"));
    ck_assert(desk_holding(d));
    ck_assert_double_eq(width_of(desk_project(d)), 20);
    ck_assert(desk_drop_held(d, &problems));
    ck_assert(!desk_holding(d));
    ck_assert_double_eq(width_of(desk_project(d)), 20);
    ck_assert(desk_hold(d, &problems)); /* another one, held since */
    ck_assert(desk_undo(d, &title));    /* the one dropped is back */
    ck_assert_double_eq(width_of(desk_held_project(d)), 18);
    ck_assert(desk_redo(d, &title)); /* and so is the other */
    ck_assert_double_eq(width_of(desk_held_project(d)), 20);
    undo_all();
    ck_assert(in_hand(text));
}
END_TEST

START_TEST(bands_and_stamps_that_one_lacks) {
    ck_assert(desk_hold(d, &problems));
    ck_assert(desk_band_remove(d, 0, &problems));
    size_t count, found = 0;
    const desk_difference *list = desk_differences(d, &count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(list[i].edit.path, "bands.rim") == 0) {
            found++;
            ck_assert_ptr_null(list[i].edit.old_text);
            ck_assert_ptr_nonnull(strstr(list[i].edit.new_text, "rim"));
            ck_assert_str_eq(list[i].here, "none");
        }
    }
    ck_assert_uint_eq(found, 1);
    undo_all();
    ck_assert(desk_band_move(d, 1, -1, &problems));
    list = desk_differences(d, &count);
    ck_assert_uint_eq(count, 1);
    ck_assert_str_eq(list[0].edit.path, "bands");
    ck_assert_str_eq(list[0].here, "weave, rim");
    ck_assert_str_eq(list[0].held, "rim, weave");
}
END_TEST

/* A trial is compared, too, and what was compared before is forgotten with it. */
START_TEST(compared_while_trying) {
    ck_assert(desk_hold(d, &problems));
    shop_edit edit = {.path = (char[]){"bands.weave.width"}, .new_text = (char[]){"21"}};
    ck_assert(desk_try(d, &edit, 1, "wider", &problems));
    size_t count;
    const desk_difference *list = desk_differences(d, &count);
    ck_assert_uint_eq(count, 1);
    ck_assert_str_eq(list[0].here, "21 mm");
    desk_try_leave(d);
    desk_differences(d, &count);
    ck_assert_uint_eq(count, 0);
}
END_TEST

/* A piece is called after its file: both layouts by the new name, once it is saved under one. */
START_TEST(named_anew) {
    char file[] = "/tmp/bandwright-second-XXXXXX";
    int made = mkstemp(file);
    ck_assert_int_ge(made, 0);
    ck_assert_int_eq(close(made), 0);
    ck_assert(desk_hold(d, &problems));
    ck_assert_str_eq(desk_held_project(d)->piece.bytes, "lid");
    ck_assert_int_eq(desk_save_as(d, file, true, &problems), SHOP_OK);
    ck_assert_str_eq(desk_project(d)->piece.bytes, strrchr(file, '/') + 1);
    ck_assert_str_eq(desk_held_project(d)->piece.bytes, strrchr(file, '/') + 1);
    size_t count;
    desk_differences(d, &count);
    ck_assert_uint_eq(count, 0);
    ck_assert_int_eq(unlink(file), 0);
}
END_TEST

Suite *desk_second_suite(void) {
    Suite *suite = suite_create("desk: a second layout");
    TCase *tests = tcase_create("second");
    tcase_add_checked_fixture(tests, open_lid, close_lid);
    tcase_add_test(tests, held_while_the_other_changes);
    tcase_add_test(tests, flipped_and_flipped_back);
    tcase_add_test(tests, kept_and_dropped);
    tcase_add_test(tests, bands_and_stamps_that_one_lacks);
    tcase_add_test(tests, compared_while_trying);
    tcase_add_test(tests, named_anew);
    suite_add_tcase(suite, tests);
    return suite;
}
