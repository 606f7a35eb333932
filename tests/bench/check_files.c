/* check_files.c - what a file keeps of the maker's own while hands change it: examples, lists in lines, kept values,
 * odd names; and the form that makes the first one. */
#include <check.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_files_suite(void);

static void holds(const bench *b, const char *text) {
    char *bytes = hands_bytes(b);
    ck_assert_msg(strstr(bytes, text) != NULL, "no '%s' in\n%s", text, bytes);
    free(bytes);
}

/* Puts the value of this path on the piece's card in hand. */
static void go_to(bench *b, const char *path) {
    bench_card card;
    b->card = 0;
    card_read(b, &card);
    for (b->field = 0; b->field < card.count; b->field++) {
        if (strcmp(card.rows[b->field].path, path) == 0) {
            return;
        }
    }
    ck_abort_msg("no row of %s", path);
}

/* An example is one wherever it is opened from; a copy of it elsewhere is the maker's own. */
START_TEST(an_example_is_saved_elsewhere) {
    static const char *const ways[] = {"examples/cedar-lid.yaml", "./state/../examples/cedar-lid.yaml", "link.yaml"};
    (void)unlink("link.yaml");
    ck_assert_int_eq(symlink("examples/cedar-lid.yaml", "link.yaml"), 0);
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        bench *b = hands_open(ways[i]);
        char *before = hands_bytes(b);
        hands_press(b, "Right s");
        ck_assert_int_eq(bench_where(b), BENCH_TYPING);
        hands_see(b, "Examples stay as they are");
        hands_see(b, i < 2 ? "save as: cedar-lid.yaml" : "save as: link.yaml");
        hands_press(b, "Backspace*20 \"own.yaml\" Enter");
        hands_see(b, "saved as own.yaml");
        hands_press(b, "Right s");
        hands_see(b, "saved as own.yaml");
        bench_destroy(b);
        b = hands_open(ways[i]);
        char *after = hands_bytes(b);
        ck_assert_str_eq(before, after);
        free(before);
        free(after);
        bench_destroy(b);
        ck_assert_int_eq(unlink("own.yaml"), 0);
    }
}
END_TEST

/* A list that stands in lines keeps them, and what stands between. */
START_TEST(a_list_in_lines_stays_in_lines) {
    static const char text[] =
        "bandwright-project: 1\noutline:\n  shape: polygon\n  corners:\n  # left\n  - [0, 0]\n"
        "  # right\n  - [60, 0] # lower\n  - [60, 40]\nfixed: # ours\n- outline.shape\n- leather\n";
    hands_write("lines.yaml", text);
    bench *b = hands_open("lines.yaml");
    go_to(b, "outline.corners");
    hands_press(b, "Enter a \"30, -8\" Enter");
    holds(b, "  - [0, 0]\n  - [30, -8]\n  # right\n  - [60, 0] # lower\n  - [60, 40]\n");
    hands_press(b, "Down x");
    holds(b, "  - [0, 0]\n  - [30, -8]\n  # right\n  - [60, 40]\n");
    hands_press(b, "Esc");
    go_to(b, "fixed");
    hands_press(b, "Enter a \"units\" Enter Esc");
    holds(b, "fixed: # ours\n- outline.shape\n- units\n- leather\n");
    hands_press(b, "u*3");
    holds(b, text);
    bench_destroy(b);
}
END_TEST

/* Kept values come and go one by one, however many there are, and the key goes with the last. */
START_TEST(many_values_are_kept) {
    char *text = malloc(40000);
    ck_assert_ptr_nonnull(text);
    strcpy(text, "bandwright-project: 1\noutline: {shape: circle, diameter: 900}\nfixed: [");
    for (int i = 0; i < 60; i++) {
        sprintf(text + strlen(text), "%s\"bands.a band with a name as long %d.width\"", i > 0 ? ", " : "", i);
    }
    strcat(text, "]\nbands:\n");
    for (int i = 0; i < 60; i++) {
        sprintf(text + strlen(text), "- {name: a band with a name as long %d, width: 1}\n", i);
    }
    hands_write("many.yaml", text);
    bench *b = hands_open("many.yaml");
    size_t before = desk_project(bench_desk(b))->fixed_count;
    ck_assert_uint_eq(before, 60);
    go_to(b, "outline.diameter");
    hands_press(b, "k");
    hands_see(b, "suggestions leave diameter as it is");
    ck_assert_uint_eq(desk_project(bench_desk(b))->fixed_count, before + 1);
    holds(b, ", outline.diameter]");
    hands_press(b, "k");
    ck_assert_uint_eq(desk_project(bench_desk(b))->fixed_count, before);
    bench_destroy(b);
    hands_write("many.yaml", "bandwright-project: 1\noutline: {shape: circle, diameter: 90}\nbands: []\n");
    b = hands_open("many.yaml");
    go_to(b, "outline.diameter");
    hands_press(b, "k");
    holds(b, "fixed:\n  - outline.diameter\n");
    hands_press(b, "k");
    char *bytes = hands_bytes(b);
    ck_assert_ptr_null(strstr(bytes, "fixed:"));
    free(bytes);
    free(text);
    bench_destroy(b);
}
END_TEST

/* Ids that YAML would read as something else are written so that it does not. */
START_TEST(a_stamp_of_an_odd_id_fills_a_band) {
    static const char *const ids[] = {"#4 star, b", "yes", "{x}", "- x", "null", "it's", "8"};
    for (size_t i = 0; i < sizeof ids / sizeof ids[0]; i++) {
        char text[400];
        snprintf(text, sizeof text, "bandwright-inventory: 1\ntools:\n- {id: '%s', kind: basket, length: 9}\n", ids[i]);
        char *quote = strstr(text, "it's");
        if (quote != NULL) { /* twice inside the quotes */
            memmove(quote + 3, quote + 2, strlen(quote + 2) + 1);
        }
        hands_write(HANDS_INVENTORY, text);
        bench *b = hands_open("odd.yaml");
        hands_press(b, "\"120\" Enter End Up*3 Right End Enter"); /* the form, with the stamp of the inventory */
        ck_assert_int_eq(bench_where(b), BENCH_WORK);
        const shop_project *project = desk_project(bench_desk(b));
        ck_assert_str_eq(project->tools[project->bands[0].tool].id, ids[i]);
        hands_press(b, "a Enter"); /* and another band of it */
        ck_assert_msg(!b->bad, "%s: %s", ids[i], b->message);
        project = desk_project(bench_desk(b));
        ck_assert_uint_eq(project->layout.band_count, 2);
        bench_destroy(b);
    }
    hands_fresh(NULL);
}
END_TEST

/* The stamp that the last band has is the piece's own, and one step back takes the band and the copy. */
static void carried_once(bench *b, const char *before, const char *keys, size_t copies) {
    const shop_project *project = desk_project(bench_desk(b));
    int tool = project->bands[project->layout.band_count - 1].tool;
    ck_assert_msg(tool >= 0 && (size_t)tool < project->own_tools, "%s: the stamp stays behind", keys);
    ck_assert_uint_eq(project->own_tools, copies);
    char *bytes = hands_bytes(b), *again;
    shop_problems problems;
    shop_problems_init(&problems, "");
    shop_project *alone = shop_project_read(bytes, strlen(bytes), "a.yaml", NULL, &problems);
    ck_assert_msg(alone != NULL && problems.errors == 0, "%s: no inventory, no piece:\n%s", keys, bytes);
    shop_project_free(alone);
    shop_problems_free(&problems);
    hands_press(b, "u");
    again = hands_bytes(b);
    ck_assert_str_eq(again, before);
    free(again);
    hands_press(b, "U");
    again = hands_bytes(b);
    ck_assert_str_eq(again, bytes);
    free(again);
    free(bytes);
}

/* A stamp of the inventory goes into the piece with the band that gets it, whichever way that comes. */
START_TEST(a_stamp_goes_with_the_piece) {
    static const char shop[] = "bandwright-inventory: 1\ntools:\n- {id: rope, kind: basket, length: 9}\n"
                               "- {id: shell, kind: border, length: 5.2, width: 5}\n"
                               "- {id: iron-4, kind: iron, pitch: 4, teeth: 6}\n";
    static const char bare[] = "bandwright-project: 1\noutline: {shape: circle, diameter: 140}\n";
    static const char plain[] = "bands: [{name: one, width: 16, fill: plain}]\n";
    static const char lent[] = "bands: [{name: one, width: 16, fill: basket, tool: rope}]\n"; /* by hand, or set */
    static const struct {
        const char *bands, *keys;
        size_t copies;
    } ways[] = {{"", "a Enter", 1},  {"", "a Down Enter", 1},   {"", "a Down*2 Enter", 1},
                {plain, "Right", 1}, {lent, "a Down Enter", 2}, {lent, "d", 1}};
    hands_write(HANDS_INVENTORY, shop);
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        char text[400];
        snprintf(text, sizeof text, "%s%s", bare, ways[i].bands);
        hands_write("a.yaml", text);
        bench *b = hands_open("a.yaml");
        char *before = hands_bytes(b);
        b->card = ways[i].bands[0] != '\0';
        b->band = 0;
        bench_take_field(b, "bands[].fill");
        hands_press(b, ways[i].keys);
        ck_assert_msg(!b->bad, "%s: %s", ways[i].keys, b->message);
        carried_once(b, before, ways[i].keys, ways[i].copies);
        free(before);
        bench_destroy(b);
    }
    ck_assert_int_eq(unlink("a.yaml"), 0);
    hands_fresh(NULL);
}
END_TEST

/* In the form a name is just typed, whatever its letters mean elsewhere, and a number is a size. */
START_TEST(the_form_takes_what_is_typed) {
    bench *b = hands_open(NULL);
    hands_press(b, "n h");
    ck_assert_int_eq(bench_where(b), BENCH_TYPING);
    hands_press(b, "\"at tray\" Enter");
    ck_assert_str_eq(b->form.text[FORM_PIECE], "hat tray");
    hands_see(b, "a number goes straight to");
    hands_press(b, "\"140\" Enter \"8 oz\" Enter"); /* behind the name, no word of units */
    ck_assert_str_eq(b->form.text[FORM_SIZE], "140");
    ck_assert_str_eq(b->form.text[FORM_WEIGHT], "8 oz");
    ck_assert_int_eq(b->form.unit, 0);
    ck_assert_int_eq(b->form.at, FORM_FILL);
    hands_press(b, "6");
    hands_see(b, "This row is a choice, not a number");
    hands_press(b, "Home \"120\" Enter");
    ck_assert_str_eq(b->form.text[FORM_PIECE], "hat tray");
    ck_assert_str_eq(b->form.text[FORM_SIZE], "120");
    hands_press(b, "End");
    ck_assert_int_eq(b->form.at, FORM_MAKE);
    hands_press(b, "Home Down*2 Right*3 Down*3 \"round\" Enter");
    ck_assert_str_eq(b->form.text[FORM_START], "round");
    bench_destroy(b);
}
END_TEST

/* A bare number over 1 typed for a share means percent, any other what it means in a file; what it was stays as it is
 * spelled. */
START_TEST(a_bare_share_is_percent) {
    hands_write("share.yaml", "bandwright-project: 1\noutline: {shape: circle, diameter: 120}\nleather: {growth: 0.1}\n"
                              "bands:\n- {name: weave, space: 4, width: 15, fill: basket, tool: b9}\n"
                              "tools:\n- {id: b9, kind: basket, length: 9}\n");
    bench *b = hands_open("share.yaml");
    go_to(b, "leather.growth");
    bench_card card;
    card_read(b, &card);
    ck_assert_str_eq(card.rows[b->field].words, "10 %");
    hands_press(b, "Enter Enter");
    ck_assert(!desk_unsaved(bench_desk(b)));
    hands_press(b, "\"2\" Enter");
    holds(b, "growth: 2 %");
    hands_press(b, "\"1\" Enter");
    hands_see(b, "1 alone is 100 %, write 1 %");
    hands_press(b, "\" %\" Enter");
    holds(b, "growth: 1 %");
    b->card = 1;
    for (b->field = 0, card_read(b, &card); strcmp(card.rows[b->field].field->path, "bands[].overlap") != 0;) {
        b->field++;
    }
    hands_press(b, "\"60\" Enter");
    holds(b, "overlap: 60 %");
    hands_press(b, "\"0.5\" Enter");
    holds(b, "overlap: 0.5");
    hands_see(b, "overlap 60 % -> 50 %");
    hands_press(b, "Enter Backspace*9 \"101\" Enter");
    ck_assert(b->bad);
    ck_assert_str_eq(b->entry.text, "101");
    bench_destroy(b);
}
END_TEST

/* A list that is open when the hand moves to another value (as undo does) reads no runs of no band. */
START_TEST(an_open_list_leaves_when_it_is_none) {
    bench *b = hands_open("cedar-lid.yaml");
    b->card = 0;
    b->field = 0;
    bench_go(b, BENCH_ITEMS);
    items_settle(b);
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    bench_destroy(b);
}
END_TEST

/* Blanks around a file's name are none of it, and ~/ is the maker's folder. */
START_TEST(names_of_files_are_tidied) {
    char here[4096];
    ck_assert_ptr_nonnull(getcwd(here, sizeof here));
    const char *home = getenv("HOME");
    char *old = home != NULL ? strdup(home) : NULL;
    ck_assert_int_eq(setenv("HOME", here, 1), 0);
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "S Backspace*20 \" \" Enter");
    hands_see(b, "A file needs a name");
    hands_press(b, "Backspace*20 \" ~/tidy.yaml \" Enter");
    hands_see(b, "saved as ");
    ck_assert_int_eq(access("tidy.yaml", F_OK), 0);
    bench_destroy(b);
    ck_assert_int_eq(unlink("tidy.yaml"), 0);
    if (old != NULL) {
        ck_assert_int_eq(setenv("HOME", old, 1), 0);
    }
    free(old);
}
END_TEST

/* A name without an ending gets one, so that the list of files shows it; a file that has none keeps its name. */
START_TEST(a_name_gets_its_ending) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "S Backspace*20 \"strap\" Enter");
    hands_see(b, "saved as strap.yaml");
    ck_assert_int_eq(access("strap.yaml", F_OK), 0);
    ck_assert_int_ne(access("strap", F_OK), 0);
    hands_press(b, "S Backspace*20 \"shop/strap\" Enter");
    ck_assert_int_eq(access("shop/strap.yaml", F_OK), 0);
    hands_press(b, "S Backspace*20 \"strap\" Enter"); /* and what stands there is asked about */
    ck_assert_int_eq(bench_where(b), BENCH_ASK);
    hands_see(b, "strap.yaml");
    bench_destroy(b);
    ck_assert_int_eq(rename("strap.yaml", "plain"), 0);
    b = hands_open("plain");
    hands_press(b, "Right S Enter n Esc");
    ck_assert_str_eq(desk_file(bench_desk(b)), "plain");
    bench_destroy(b);
    ck_assert_int_eq(unlink("plain") | unlink("shop/strap.yaml"), 0);
}
END_TEST

/* What lies below a kept value is kept with it, and its line shows that. */
START_TEST(what_lies_below_a_kept_value_is_kept) {
    hands_write("kept.yaml", "bandwright-project: 1\noutline: {shape: circle, diameter: 120}\nfixed: [bands.weave]\n"
                             "bands:\n- {name: weave, space: 4, width: 15}\n- {name: weave 2, width: 3}\n");
    bench *b = hands_open("kept.yaml");
    bench_card card;
    for (b->card = 1; b->card <= 2; b->card++) {
        card_read(b, &card);
        for (size_t i = 0; i < card.count; i++) {
            ck_assert_int_eq(card.rows[i].fixed, b->card == 1);
        }
    }
    bench_destroy(b);
}
END_TEST

/* The list of last files holds the twelve last, the latest first, each once. */
START_TEST(the_last_files_are_twelve) {
    char name[40], last[40] = "";
    for (int i = 0; i < 15; i++) {
        snprintf(name, sizeof name, "last-%d.yaml", i % 14); /* the first once more, at the end */
        hands_write(name, "bandwright-project: 1\noutline: {shape: circle, diameter: 120}\n");
        bench_destroy(hands_open(name));
    }
    bench *b = hands_open(NULL);
    size_t recent = 0, first = 0;
    for (size_t i = 0; i < b->start_count; i++) {
        if (strcmp(b->start[i].kind, "recent") == 0) {
            const char *slash = strrchr(b->start[i].path, '/');
            ck_assert_ptr_nonnull(slash);
            snprintf(name, sizeof name, "%.30s", slash + 1);
            first += strcmp(name, "last-0.yaml") == 0;
            if (recent++ == 0) {
                ck_assert_str_eq(name, "last-0.yaml");
            }
            snprintf(last, sizeof last, "%s", name);
        }
    }
    ck_assert_uint_eq(recent, 12);
    ck_assert_uint_eq(first, 1);
    ck_assert_str_eq(last, "last-3.yaml");
    bench_destroy(b);
}
END_TEST

/* Another name of a band or id of a tool is followed by all that means it. */
START_TEST(what_means_a_name_follows_it) {
    hands_write("names.yaml", "bandwright-project: 1\noutline: {shape: circle, diameter: 120}\ndividers: d1\n"
                              "fixed: [bands.weave.width, tools.b9, outline.diameter]\n"
                              "bands:\n- {name: weave, space: 4, width: 15, fill: basket, tool: b9}\n"
                              "tools:\n- {id: b9, kind: basket, length: 9}\n- {id: d1, kind: dividers}\n");
    static const struct {
        size_t card;
        const char *keys, *then;
    } names[] = {{1, "Enter Backspace*9 \"net\" Enter", "fixed: [bands.net.width, tools.b9, outline.diameter]"},
                 {2, "Enter Backspace*9 \"big\" Enter", "fixed: [bands.net.width, tools.big, outline.diameter]"},
                 {3, "Enter Backspace*9 \"two\" Enter", "dividers: two\n"}};
    bench *b = hands_open("names.yaml");
    char *before = hands_bytes(b);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        b->card = names[i].card;
        b->field = 0; /* name or id stands first */
        hands_press(b, names[i].keys);
        ck_assert_msg(!b->bad, "%s", b->message);
        holds(b, names[i].then);
    }
    holds(b, "tool: big");
    hands_press(b, "u u u");
    holds(b, before);
    free(before);
    bench_destroy(b);
}
END_TEST

/* With another unit every length stays what it was: the plan is the same to the digit, and what cannot be known is
 * said. */
START_TEST(another_unit_changes_no_length) {
    hands_write("bare.yaml",
                "bandwright-project: 1\nunits: mm\noutline: {shape: strap, length: 200, width: 60, start: {point: 30}, "
                "end: round}\nstart-mark: 25\nleather: {weight: 3.2, trim: 4}\n"
                "bands:\n- {name: weave, space: 4, width: 15, guide: 7 mm, fill: basket, tool: b9, lose: anchored, "
                "anchors: [30, 90]}\n"
                "tools:\n- {id: b9, kind: basket, length: 9, width: 4.5, bar: 3, rail: 1.2, strips: [{impressions: 11, "
                "length: 75, aimed: 7.5}, {places: [7.4, 15.1]}], rounds: [{impressions: 20, length: 143}]}\n");
    bench *b = hands_open("bare.yaml");
    const shop_project *project = desk_project(bench_desk(b));
    double length = desk_plan(bench_desk(b))->length, step = desk_plan(bench_desk(b))->bands[0].runs[0].step;
    double start = project->layout.start.along, weight = project->layout.weight, trim = project->layout.trim;
    double anchor = project->bands[0].anchors[1].along;
    go_to(b, "units");
    hands_press(b, "Right");
    hands_see(b, "every length as it was");
    ck_assert_double_eq_tol(desk_project(bench_desk(b))->tools[0].strips[0].aimed, 7.5, 1e-9);
    ck_assert_double_eq_tol(desk_project(bench_desk(b))->tools[0].strips[1].places[1], 15.1, 1e-9);
    project = desk_project(bench_desk(b));
    ck_assert_int_eq(project->units, SHOP_INCH);
    ck_assert_double_eq_tol(desk_plan(bench_desk(b))->length, length, 1e-9);
    ck_assert_double_eq_tol(desk_plan(bench_desk(b))->bands[0].runs[0].step, step, 1e-9);
    ck_assert_double_eq_tol(project->layout.start.along, start, 1e-9);
    ck_assert_double_eq_tol(project->layout.weight, weight, 1e-9);
    ck_assert_double_eq_tol(project->layout.trim, trim, 1e-9);
    ck_assert_double_eq_tol(project->bands[0].anchors[1].along, anchor, 1e-9);
    ck_assert_double_eq_tol(start, 25, 1e-9);
    ck_assert_double_eq_tol(weight, 3.2, 1e-9);
    bench_destroy(b);
}
END_TEST

Suite *bench_files_suite(void) {
    Suite *suite = suite_create("files in the hand");
    TCase *tests = tcase_create("all");
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, an_example_is_saved_elsewhere);
    tcase_add_test(tests, a_list_in_lines_stays_in_lines);
    tcase_add_test(tests, many_values_are_kept);
    tcase_add_test(tests, a_stamp_of_an_odd_id_fills_a_band);
    tcase_add_test(tests, a_stamp_goes_with_the_piece);
    tcase_add_test(tests, the_form_takes_what_is_typed);
    tcase_add_test(tests, a_bare_share_is_percent);
    tcase_add_test(tests, an_open_list_leaves_when_it_is_none);
    tcase_add_test(tests, names_of_files_are_tidied);
    tcase_add_test(tests, a_name_gets_its_ending);
    tcase_add_test(tests, what_lies_below_a_kept_value_is_kept);
    tcase_add_test(tests, the_last_files_are_twelve);
    tcase_add_test(tests, what_means_a_name_follows_it);
    tcase_add_test(tests, another_unit_changes_no_length);
    suite_add_tcase(suite, tests);
    return suite;
}
