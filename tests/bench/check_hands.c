/* check_hands.c - what hands do: typed values, the form, strikes, refusals that keep what was typed. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_hands_suite(void);

static void holds(const bench *b, const char *text) {
    char *bytes = hands_bytes(b);
    ck_assert_msg(strstr(bytes, text) != NULL, "no '%s' in\n%s", text, bytes);
    free(bytes);
}

static void unchanged(const bench *b) {
    ck_assert(!desk_unsaved(bench_desk(b)));
}

/* 1 in = 25.4 mm exactly (international yard and pound agreement of 1959). */
START_TEST(inches_in_a_mm_file) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "Enter \"3/4 in\" Enter");
    holds(b, "3/4 in");
    ck_assert_double_eq_tol(desk_project(bench_desk(b))->bands[b->band].width, 0.75 * 25.4, 1e-12);
    hands_see(b, "3/4 in");
    bench_destroy(b);
}
END_TEST

START_TEST(what_is_refused_stays_typed) {
    static const char *const bad[] = {"wide", "3/0 in", "-4", "5000", "1,5", "12 oz", "nan", "1e3 mm mm"};
    bench *b = hands_open("cedar-lid.yaml");
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        char keys[80];
        snprintf(keys, sizeof keys, "Enter \"%s\" Enter", bad[i]);
        hands_press(b, keys);
        ck_assert_msg(b->bad && b->message[0] != '\0', "%s was not refused", bad[i]);
        ck_assert_int_eq(bench_where(b), BENCH_TYPING);
        ck_assert_str_eq(b->entry.text, bad[i]);
        hands_see(b, bad[i]);
        unchanged(b);
        hands_press(b, "Esc");
        unchanged(b);
    }
    bench_destroy(b);
}
END_TEST

START_TEST(steps_of_a_width) {
    bench *b = hands_open("cedar-lid.yaml");
    double width = desk_project(bench_desk(b))->bands[b->band].width;
    static const struct {
        const char *key;
        double change;
    } steps[] = {{"Right", 0.25}, {"+", 0.25}, {">", 2.5}, {"Left", -0.25}, {"<", -2.5}, {"-", -0.25}};
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        hands_press(b, steps[i].key);
        width += steps[i].change;
        ck_assert_double_eq_tol(desk_project(bench_desk(b))->bands[b->band].width, width, 1e-9);
    }
    hands_press(b, "u*6");
    unchanged(b);
    bench_destroy(b);
}
END_TEST

/* A stamp in hand: the figures are those of a band that it strikes. */
START_TEST(a_stamp_shows_its_band) {
    static const char *const keys[] = {"Tab*2", "Tab", "Tab"}; /* weave, stitching, then the stamps */
    bench *b = hands_open("cedar-lid.yaml");
    const shop_project *project = desk_project(bench_desk(b));
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        hands_press(b, keys[i]);
        ck_assert_uint_eq(b->card, 1 + project->layout.band_count + i);
        ck_assert_int_eq(project->bands[b->band].tool, (int)i);
    }
    bench_destroy(b);
}
END_TEST

/* Space does what Enter does. */
START_TEST(space_is_enter) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "Space");
    ck_assert_int_eq(bench_where(b), BENCH_TYPING);
    bench_destroy(b);
}
END_TEST

/* A count key leaves a weave on a closed line even: whole pairs (common practice). */
START_TEST(counts_go_by_what_belongs_together) {
    bench *b = hands_open("cedar-lid.yaml");
    int count = show_impressions(desk_plan(bench_desk(b)), b->band);
    hands_press(b, "m");
    ck_assert_int_eq(show_impressions(desk_plan(bench_desk(b)), b->band), count + 2);
    hands_press(b, "f f");
    ck_assert_int_eq(show_impressions(desk_plan(bench_desk(b)), b->band), count - 2);
    hands_press(b, "Backspace");
    ck_assert_int_eq(show_impressions(desk_plan(bench_desk(b)), b->band), count);
    bench_destroy(b);
}
END_TEST

START_TEST(strikes_are_counted) {
    bench *b = hands_open("cedar-lid.yaml");
    int count = show_impressions(desk_plan(bench_desk(b)), b->band);
    hands_press(b, "b Space*4 Backspace");
    hands_see(b, "3 struck of 40, 37 to go");
    hands_press(b, "Space*37");
    hands_see(b, "40 struck of 40, 0 to go");
    hands_see(b, "full: stop");
    ck_assert_int_eq(count, 40);
    hands_press(b, "Esc x"); /* what goes with the band is told */
    hands_see(b, "taken out, with the 40 struck");
    hands_press(b, "u b u*42");
    hands_see(b, "0 struck of 40");
    unchanged(b);
    bench_destroy(b);
}
END_TEST

/* A list shows each stamp's answer and leaves everything alone until one is taken. */
START_TEST(stamps_are_tried) {
    bench *b = hands_open("cedar-lid.yaml");
    char *before = hands_bytes(b);
    hands_press(b, "t Home");
    ck_assert(desk_trying(bench_desk(b)));
    hands_press(b, "Esc");
    char *after = hands_bytes(b);
    ck_assert_str_eq(before, after);
    hands_press(b, "t Home Enter");
    ck_assert(desk_unsaved(bench_desk(b)));
    hands_press(b, "u");
    unchanged(b);
    free(after);
    free(before);
    bench_destroy(b);
}
END_TEST

/* ---- the form ---- */

static bench *made(const char *keys) {
    bench *b = hands_open("fresh.yaml");
    hands_press(b, keys);
    ck_assert_msg(bench_where(b) == BENCH_WORK, "%s: %s", keys, b->message);
    shop_problems problems;
    shop_problems_init(&problems, "fresh.yaml");
    ck_assert_msg(desk_save((desk *)(uintptr_t)bench_desk(b), &problems) == SHOP_OK, "%s", keys);
    shop_problems_free(&problems);
    bench_destroy(b);
    return hands_open("fresh.yaml");
}

START_TEST(form_to_file) {
    bench *b = made("\"120\" Enter Down Down Down Down Down \"9\" Enter Down Enter");
    holds(b, "diameter: 120");
    holds(b, "length: 9");
    ck_assert_double_eq_tol(desk_plan(bench_desk(b))->length, 120 * BW_PI, 1e-9);
    bench_destroy(b);
}
END_TEST

START_TEST(form_by_chord) {
    /* A chord c with depth d belongs to a circle of c*c/(4d) + d across: 80 and 16 make 116 (Euclid III.35). */
    bench *b = made("Down Right*2 Down \"80\" Enter \"16\" Enter Down*5 \"9\" Enter Down Enter");
    holds(b, "chord: 80");
    holds(b, "depth: 16");
    ck_assert_double_eq_tol(desk_plan(bench_desk(b))->length, 116 * BW_PI, 1e-9);
    bench_destroy(b);
}
END_TEST

START_TEST(form_in_inches_around) {
    bench *b = made("Up Right Down Down Right Down \"12 1/2\" Enter Down*5 \"3/8\" Enter \"1/4\" Enter Enter");
    holds(b, "around: 12 1/2");
    holds(b, "units: in");
    ck_assert_double_eq_tol(desk_plan(bench_desk(b))->length, 12.5 * 25.4, 1e-9);
    bench_destroy(b);
}
END_TEST

/* The ratio reaches the drawings; that a circle is round by it is measured where they are made. */
START_TEST(cells_of_another_shape) {
    char *before = NULL;
    for (double ratio = 1.5; ratio <= 3; ratio += 0.5) {
        bench *round = hands_open("cedar-lid.yaml");
        ck_assert(bench_set_aspect(round, ratio));
        hands_press(round, "v");
        char *now = hands_screen(round, 120, 40);
        ck_assert(before == NULL || strcmp(before, now) != 0);
        free(before);
        before = now;
        bench_destroy(round);
    }
    free(before);
    bench *b = hands_open("cedar-lid.yaml");
    ck_assert(!bench_set_aspect(b, 0.9));
    ck_assert(!bench_set_aspect(b, 3.1));
    ck_assert(!bench_set_aspect(b, (double)NAN));
    hands_press(b, ")");
    hands_see(b, "2.05 times as high as wide");
    hands_see(b, "BANDWRIGHT_ASPECT=2.05");
    hands_press(b, "(*40");
    hands_see(b, "1 to 3 times");
    ck_assert(b->bad);
    bench_destroy(b);
}
END_TEST

/* A long list is changed item by item: each is there whole, and what is typed goes to its own place. */
START_TEST(a_long_list_item_by_item) {
    char text[6000] = "bandwright-project: 1\noutline: {shape: polygon, corners: [";
    for (int i = 0; i < 90; i++) {
        double turn = 2 * BW_PI * i / 90;
        snprintf(text + strlen(text), sizeof text - strlen(text), "%s[%.3f, %.3f]", i > 0 ? ", " : "", 80 * cos(turn),
                 80 * sin(turn));
    }
    strcat(text, "]}\n");
    hands_write("many.yaml", text);
    bench *b = hands_open("many.yaml");
    hands_press(b, "End Up*3");
    hands_see(b, "90 corners");
    hands_press(b, "Enter");
    ck_assert_int_eq(bench_where(b), BENCH_ITEMS);
    hands_see(b, "80.000, 0.000");
    hands_press(b, "PageDown PageDown PageDown Enter");
    ck_assert_int_eq(bench_where(b), BENCH_TYPING);
    hands_press(b, "Esc Home Down Enter");
    ck_assert_str_eq(b->entry.text, "79.805, 5.581");
    hands_press(b, "\"79.8, 5.6, 2\" Enter");
    holds(b, "[80.000, 0.000], [79.8, 5.6, 2], [79.221, 11.134]");
    hands_press(b, "u a \"79.5, 8\" Enter");
    holds(b, "[79.805, 5.581], [79.5, 8], [79.221, 11.134]");
    ck_assert_uint_eq(desk_project(bench_desk(b))->layout.outline.corner_count, 91);
    hands_press(b, "x");
    ck_assert_uint_eq(desk_project(bench_desk(b))->layout.outline.corner_count, 90);
    hands_press(b, "u u Esc");
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    char *bytes = hands_bytes(b);
    ck_assert_str_eq(bytes, text);
    free(bytes);
    bench_destroy(b);
}
END_TEST

/* A drawn path of many lines of the window is typed whole, and Up and Down go through it. */
START_TEST(a_long_path_is_typed_whole) {
    char path[4000] = "M 0 0", text[4200];
    for (int i = 1; i <= 100; i++) {
        snprintf(path + strlen(path), sizeof path - strlen(path), " L %d %d", i, i % 2);
    }
    strcat(path, " V 60 H 0 Z");
    snprintf(text, sizeof text, "bandwright-project: 1\noutline: {shape: path, svg: %s}\n", path);
    hands_write("path.yaml", text);
    bench *b = hands_open("path.yaml");
    bench_take_field(b, "outline.svg");
    hands_press(b, "Enter");
    ck_assert_str_eq(b->entry.text, path);
    hands_see(b, " H 0 Z");
    size_t end = b->entry.at;
    hands_press(b, "Up*4");
    ck_assert_uint_lt(b->entry.at + 200, end);
    hands_press(b, "Down*9 Left*6");
    ck_assert_uint_eq(b->entry.at, end - 6);
    hands_press(b, "Backspace \"1\" Enter");
    holds(b, " V 61 H 0 Z");
    hands_press(b, "u");
    char *bytes = hands_bytes(b);
    ck_assert_str_eq(bytes, text);
    free(bytes);
    bench_destroy(b);
}
END_TEST

/* The seam goes where it hides best, as one change that can be taken back. */
START_TEST(the_seam_is_hidden_with_one_key) {
    bench *b = hands_open("sycamore-cuff.yaml");
    hands_press(b, "Shift-Tab*2 Home Down*3 \"140\" Enter");
    hands_see(b, "start mark");
    hands_press(b, "H");
    holds(b, "start-mark: bottom");
    hands_press(b, "H");
    hands_see(b, "it hides well there");
    hands_press(b, "u");
    holds(b, "start-mark: 140");
    bench_destroy(b);
}
END_TEST

START_TEST(form_of_an_oval) {
    bench *b = made("Right \"240\" Enter \"172\" Enter Down*5 \"6\" Enter Down Enter");
    holds(b, "shape: ellipse");
    holds(b, "width: 172");
    ck_assert_int_eq(desk_project(bench_desk(b))->layout.outline.shape, BW_ELLIPSE);
    bench_destroy(b);
}
END_TEST

START_TEST(form_of_a_belt_end) {
    bench *b = made("Right*3 \"420\" Enter \"44\" Enter Down Right*2 Enter \"{point: 25}\" Enter Down*2 \"3\" Enter "
                    "\"9\" Enter Down \"6\" Enter Down Enter");
    holds(b, "point: 25");
    ck_assert_double_eq(desk_project(bench_desk(b))->layout.outline.end.point, 25);
    ck_assert_int_eq(desk_project(bench_desk(b))->layout.outline.start.kind, BW_END_SQUARE);
    bench_destroy(b);
}
END_TEST

START_TEST(form_of_a_cover) {
    bench *b = made("Right*2 \"148\" Enter \"210\" Enter \"12\" Enter Down*5 \"9\" Enter Down Enter");
    holds(b, "shape: rectangle");
    holds(b, "corner: 12");
    ck_assert_double_eq_tol(desk_plan(bench_desk(b))->length, 2 * (124 + 186) + 24 * BW_PI, 1e-9);
    bench_destroy(b);
}
END_TEST

/* A row of sizes that make no piece together keeps what is typed. */
START_TEST(form_refuses_a_corner) {
    bench *b = hands_open("fresh.yaml");
    hands_press(b, "Right*2 \"20\" Enter \"20\" Enter Down*6 \"9\" Enter Up*7 \"11\" Enter");
    ck_assert(b->bad);
    ck_assert_int_eq(bench_where(b), BENCH_TYPING);
    ck_assert_str_eq(b->entry.text, "11");
    bench_destroy(b);
}
END_TEST

START_TEST(form_with_a_stamp_of_the_inventory) {
    bench *b = made("\"120\" Enter Down*4 Right Down Enter");
    const shop_project *project = desk_project(bench_desk(b));
    ck_assert_uint_eq(project->own_tools, 1); /* copied, so that the file can travel */
    ck_assert_int_eq(project->bands[0].tool, 0);
    bench_destroy(b);
}
END_TEST

START_TEST(form_refuses) {
    bench *b = hands_open("fresh.yaml");
    hands_press(b, "\"0\" Enter");
    ck_assert(b->bad);
    ck_assert_int_eq(bench_where(b), BENCH_TYPING);
    ck_assert_str_eq(b->entry.text, "0");
    hands_press(b, "Esc Down*12 Enter");
    ck_assert_int_eq(bench_where(b), BENCH_FORM);
    hands_see(b, "diameter is needed");
    ck_assert_ptr_null(bench_desk(b));
    bench_destroy(b);
}
END_TEST

/* A refused file is said, and the start screen stays. */
START_TEST(a_bad_file_is_said) {
    hands_write("bad.yaml", "bandwright-project: 1\nunits: ells\n");
    bench *b = hands_open(NULL);
    hands_press(b, "o \"bad.yaml\" Enter");
    hands_see(b, "bad.yaml:2:");
    hands_see(b, "ells");
    ck_assert_ptr_null(bench_desk(b));
    hands_press(b, "Esc");
    ck_assert_int_eq(bench_where(b), BENCH_START);
    hands_press(b, "o \"cedar-lid.yaml\" Enter");
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    bench_destroy(b);
}
END_TEST

START_TEST(a_file_changed_by_another) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "Right");
    hands_write("cedar-lid.yaml", "# mine\n");
    hands_press(b, "s");
    hands_see(b, "Another program has changed cedar-lid.yaml");
    hands_press(b, "Esc");
    ck_assert(desk_unsaved(bench_desk(b)));
    hands_press(b, "s S");
    ck_assert_int_eq(b->typing, TYPING_SAVE_AS);
    hands_press(b, "Esc q y k");
    bench_destroy(b);
    b = hands_open("cedar-lid.yaml"); /* whole again, with the step */
    ck_assert_double_eq_tol(desk_project(bench_desk(b))->bands[1].width, 21.25, 1e-12);
    bench_destroy(b);
}
END_TEST

/* A value that is kept is in no suggestion any more. */
START_TEST(what_is_kept_is_left_alone) {
    bench *b = hands_open("cedar-lid.yaml");
    size_t count, without = 0;
    desk *d = (desk *)(uintptr_t)bench_desk(b);
    const desk_suggestion *list = desk_suggestions(d, b->band, &count);
    for (size_t i = 0; i < count; i++) {
        without += list[i].move.change.knob == BW_KNOB_BAND_WIDTH;
    }
    ck_assert_uint_gt(without, 0);
    hands_press(b, "k");
    list = desk_suggestions(d, b->band, &count);
    for (size_t i = 0; i < count; i++) {
        ck_assert(list[i].move.change.knob != BW_KNOB_BAND_WIDTH || list[i].move.change.band != b->band);
    }
    hands_press(b, "k u u");
    unchanged(b);
    bench_destroy(b);
}
END_TEST

Suite *bench_hands_suite(void) {
    Suite *suite = suite_create("what hands do");
    TCase *tests = tcase_create("hands");
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, inches_in_a_mm_file);
    tcase_add_test(tests, what_is_refused_stays_typed);
    tcase_add_test(tests, steps_of_a_width);
    tcase_add_test(tests, a_stamp_shows_its_band);
    tcase_add_test(tests, space_is_enter);
    tcase_add_test(tests, counts_go_by_what_belongs_together);
    tcase_add_test(tests, strikes_are_counted);
    tcase_add_test(tests, stamps_are_tried);
    tcase_add_test(tests, form_to_file);
    tcase_add_test(tests, form_by_chord);
    tcase_add_test(tests, form_in_inches_around);
    tcase_add_test(tests, cells_of_another_shape);
    tcase_add_test(tests, a_long_list_item_by_item);
    tcase_add_test(tests, a_long_path_is_typed_whole);
    tcase_add_test(tests, the_seam_is_hidden_with_one_key);
    tcase_add_test(tests, form_of_an_oval);
    tcase_add_test(tests, form_of_a_belt_end);
    tcase_add_test(tests, form_of_a_cover);
    tcase_add_test(tests, form_refuses_a_corner);
    tcase_add_test(tests, form_with_a_stamp_of_the_inventory);
    tcase_add_test(tests, form_refuses);
    tcase_add_test(tests, a_bad_file_is_said);
    tcase_add_test(tests, a_file_changed_by_another);
    tcase_add_test(tests, what_is_kept_is_left_alone);
    suite_add_tcase(suite, tests);
    return suite;
}
