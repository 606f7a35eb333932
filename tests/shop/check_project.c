/* check_project.c - what a file becomes: values, defaults, tools from two places, what is fixed; and everything that is
 * wrong with one, in one go, each at its line and column. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper.h"

Suite *shop_project_suite(void);

static const char lid[] =
    "bandwright-project: 1\npiece: Cedar box lid\nunits: mm\nleather: {weight: 8 oz, trim: 3}\n"
    "outline: {shape: circle, diameter: 140}\nbands:\n"
    "  - {name: rim, space: 4, width: 5, fill: border, tool: shell-5, outer: {line: cut, bevel: inside}}\n"
    "  - {name: weave, width: 21, fill: basket, tool: basket-m, guide: 10 mm, count: [40, auto], lose: last 8}\n"
    "  - {name: stitching, space: 3, fill: stitch, tool: iron-4}\ntools:\n"
    "  - {id: basket-m, kind: basket, length: 9.5, width: 6.4, bar: 3.1, rail: 1.6, steps: {usual: 7.9}}\n"
    "  - {id: shell-5, kind: border, length: 5.2, width: 5.0, give: 6 %}\n"
    "  - {id: iron-4, kind: iron, pitch: 4, teeth: 6, retired: yes}\n";

START_TEST(values_reach_the_layout) {
    shop_project *p = paper_project(lid);
    const bw_layout *l = &p->layout;
    ck_assert_uint_eq(p->piece.length, 13);
    ck_assert_double_eq_tol(l->weight, 3.175, 1e-12);
    ck_assert_double_eq(l->trim, 3);
    ck_assert_double_eq(l->outline.diameter, 140);
    ck_assert_uint_eq(l->band_count, 3);
    ck_assert_str_eq(l->bands[0].name, "rim");
    ck_assert_double_eq(l->bands[0].space, 4);
    ck_assert_int_eq((int)l->bands[0].fill, BW_FILL_BORDER);
    ck_assert_int_eq(l->bands[0].tool, 1);
    ck_assert_int_eq((int)l->bands[0].outer.line, BW_MARK_CUT);
    ck_assert_int_eq((int)l->bands[0].outer.bevel, BW_BEVEL_INSIDE);
    ck_assert(l->bands[1].guide_is_length);
    ck_assert_double_eq(l->bands[1].guide, 10);
    ck_assert_uint_eq(l->bands[1].count_runs, 2);
    ck_assert_int_eq(l->bands[1].counts[0], 40);
    ck_assert_int_eq(l->bands[1].counts[1], 0);
    ck_assert_int_eq((int)l->bands[1].lose, BW_LOSE_LAST);
    ck_assert_int_eq(l->bands[1].lose_last, 8);
    ck_assert_uint_eq(l->tool_count, 3);
    ck_assert_double_eq(l->tools[0].rail, 1.6);
    ck_assert_double_eq(l->tools[0].usual, 7.9);
    ck_assert_double_eq(l->tools[1].give, 0.06);
    ck_assert_double_eq(l->tools[2].pitch, 4);
    ck_assert_int_eq(l->tools[2].teeth, 6);
    ck_assert(l->tools[2].retired && !l->tools[1].retired);
    ck_assert_int_eq((int)bw_layout_check(l), BW_OK);
    shop_project_free(p);
}
END_TEST

/* The defaults of the file format, spelled out. */
START_TEST(defaults_are_those_of_the_format) {
    shop_project *p =
        paper_project("bandwright-project: 1\noutline: {shape: rectangle, length: 90, width: 60}\n"
                      "bands: [{name: a}, {name: b, fill: basket, tool: t}]\n"
                      "tools: [{id: t, kind: basket, length: 9}, {id: b, kind: border, length: 5, width: 4},"
                      " {id: i, kind: iron, pitch: 4}, {id: d, kind: dividers}]\n");
    const bw_layout *l = &p->layout;
    ck_assert_str_eq(p->piece.bytes, "lid"); /* the file's name */
    ck_assert_int_eq((int)p->units, SHOP_MM);
    ck_assert(!l->finished && isnan(l->weight) && l->trim == 0 && l->growth == 0);
    ck_assert_int_eq((int)l->start.kind, BW_PLACE_OWN);
    ck_assert_double_eq(l->grid, 0.25);
    for (int i = 0; i < 4; i++)
        ck_assert_double_eq(l->outline.corner[i], 0);
    const bw_band *a = &l->bands[0], *b = &l->bands[1];
    ck_assert(a->space == 0 && a->width == 0 && a->fill == BW_FILL_PLAIN && a->tool == -1);
    ck_assert(b->lay == BW_LAY_STRAIGHT && b->slant == BW_SLANT_INWARD && !b->guide_is_length && b->guide == 0.5);
    ck_assert(isnan(b->overlap) && b->count == 0 && !b->counts && b->group == 1 && b->lose == BW_LOSE_EVEN);
    ck_assert(b->outer.line == BW_MARK_NONE && b->outer.bevel == BW_BEVEL_NONE && !b->anchors);
    const bw_tool *t = l->tools;
    ck_assert(!t[0].retired && t[0].blows == 3 && isnan(t[0].width) && isnan(t[0].bar) && isnan(t[0].rail));
    ck_assert(t[1].give == 0.05 && t[2].give == 0.08 && t[2].teeth == 1 && t[3].least == 0 && t[3].grid == 0.25);
    static const struct {
        const char *path, *text;
    } told[] = {
        {"piece", "lid"},          {"units", "mm"},          {"bands.a.width", "0"},    {"bands.b.guide", "50 %"},
        {"bands.b.count", "auto"}, {"tools.t.width", "4.5"}, {"tools.t.bar", "3"},      {"tools.t.rail", "1.26"},
        {"tools.b.give", "5 %"},   {"tools.i.give", "8 %"},  {"tools.i.teeth", "1"},    {"tools.d.grid", "0.25"},
        {"bands.a.lay", NULL},     {"bands.x.lay", NULL},    {"leather.weight", NULL},  {"nosuch", NULL},
        {"outline.length", "90"},  {"outline.corner", "0"},  {"bands[2].lose", "even"}, {"fixed", "[]"}};
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
        char *text = shop_project_get(p, told[i].path);
        ck_assert_msg((text != NULL) == (told[i].text != NULL), "%s", told[i].path);
        if (text)
            ck_assert_str_eq(text, told[i].text);
        free(text);
    }
    ck_assert_double_eq(shop_field_for(p, "tools.b.give")->least, 0.005);
    ck_assert_double_eq(shop_field_for(p, "outline.length")->most, 5000);
    shop_project_free(p);
}
END_TEST

START_TEST(an_inch_file_is_read_in_inches) {
    shop_project *p = paper_project("units: in\nbandwright-project: 1\noutline: {shape: circle, diameter: 5 1/2}\n"
                                    "leather: {trim: 2 mm}\nbands: [{name: a, width: 3/4}]\n"
                                    "tools: [{id: d, kind: dividers}]\ndividers: d\n");
    ck_assert_double_eq_tol(p->layout.outline.diameter, 139.7, 1e-12);
    ck_assert_double_eq_tol(p->layout.bands[0].width, 19.05, 1e-12);
    ck_assert_double_eq(p->layout.trim, 2);
    ck_assert_double_eq_tol(p->layout.grid, 25.4 / 64, 1e-12);
    ck_assert_int_eq(p->dividers, 0);
    shop_project_free(p);
}
END_TEST

static shop_inventory *inventory(const char *yaml) {
    shop_problems problems;
    shop_problems_init(&problems, "inventory.yaml");
    shop_inventory *read = shop_inventory_read(yaml, strlen(yaml), &problems);
    char *said = paper_problems(&problems);
    ck_assert_msg(read != NULL, "%s", said);
    free(said);
    shop_problems_free(&problems);
    return read;
}

START_TEST(the_projects_copy_of_a_tool_wins) {
    shop_inventory *shelf = inventory("bandwright-inventory: 1\nunits: in\ntools:\n"
                                      "- {id: same, kind: basket, length: 9.5 mm, name: elsewhere}\n"
                                      "- {id: other, kind: basket, length: 0.5}\n"
                                      "- {id: only, kind: basket, length: 0.25, name: small one}\n"
                                      "- {id: d, kind: dividers}\n");
    static const char yaml[] =
        "bandwright-project: 1\noutline: {shape: circle, diameter: 140}\ndividers: d\n"
        "bands: [{name: a, width: 20, fill: basket, tool: only}]\n"
        "tools: [{id: other, kind: basket, length: 9.5}, {id: same, kind: basket, length: 9.5}]\n";
    shop_problems problems;
    shop_problems_init(&problems, "lid.yaml");
    shop_project *p = shop_project_read(yaml, strlen(yaml), "lid.yaml", shelf, &problems);
    shop_inventory_free(shelf); /* the project stands by itself */
    ck_assert_ptr_nonnull(p);
    ck_assert_uint_eq(p->own_tools, 2);
    ck_assert_uint_eq(p->layout.tool_count, 4);
    ck_assert_double_eq(p->tools[0].length, 9.5);
    ck_assert(p->tool_about[0].differs && !p->tool_about[0].from_inventory);
    ck_assert(!p->tool_about[1].differs);
    ck_assert(p->tool_about[2].from_inventory && !p->tool_about[2].differs);
    ck_assert_str_eq(p->tools[2].id, "only");
    ck_assert_double_eq_tol(p->tools[2].length, 6.35, 1e-12);
    ck_assert_str_eq(p->tool_about[2].name.bytes, "small one");
    ck_assert_int_eq(p->layout.bands[0].tool, 2);
    ck_assert_int_eq(p->dividers, 3);
    ck_assert_double_eq_tol(p->layout.grid, 25.4 / 64, 1e-12);
    shop_project_free(p);
    shop_problems_free(&problems);
}
END_TEST

START_TEST(fixed_paths_cover_what_lies_below) {
    static const struct {
        const char *paths;
        unsigned outline, first, second;
    } rows[] = {
        {"[]", 0, 0, 0},
        {"[outline.around]", 1u << BW_KNOB_DIAMETER, 0, 0},
        {"[outline]", 0x3F, 0, 0},
        {"['outline.corner[2]']", 1u << BW_KNOB_CORNER, 0, 0},
        {"[bands.a.width]", 0, 1u << BW_KNOB_BAND_WIDTH, 0},
        {"['bands[2].guide', bands.b.count]", 0, 0, 1u << BW_KNOB_GUIDE | 1u << BW_KNOB_COUNT},
        {"[bands.a]", 0, 0x1FC0, 0},
        {"['bands[1]']", 0, 0x1FC0, 0},
        {"[bands]", 0, 0x1FC0, 0x1FC0},
        {"[bands.b.tool, bands.b.lose, bands.b.space, bands.b.overlap]", 0, 0,
         1u << BW_KNOB_TOOL | 1u << BW_KNOB_LOSE | 1u << BW_KNOB_SPACE | 1u << BW_KNOB_OVERLAP},
        {"[bands.a.name, units]", 0, 0, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char yaml[400];
        snprintf(yaml, sizeof yaml,
                 "bandwright-project: 1\noutline: {shape: circle, diameter: 140}\nfixed: %s\n"
                 "bands: [{name: a}, {name: b}]\n",
                 rows[i].paths);
        shop_project *p = paper_project(yaml);
        ck_assert_msg(p->layout.fixed == rows[i].outline, "%s gives %x", rows[i].paths, p->layout.fixed);
        ck_assert_msg(p->layout.bands[0].fixed == rows[i].first, "%s gives %x", rows[i].paths,
                      p->layout.bands[0].fixed);
        ck_assert_uint_eq(p->layout.bands[1].fixed, rows[i].second);
        shop_project_free(p);
    }
}
END_TEST

/* Each error at its own line and column (bytes, from 1), with the path, what was found and what is allowed. */
START_TEST(all_errors_come_in_one_go) {
    static const char yaml[] = "bandwright-project: 1\n"
                               "piece: x\n"
                               "leather: {weight: 90 oz, growth: 50 %}\n"
                               "outline: {shape: circle, diameter: 3}\n"
                               "colour: red\n"
                               "bands:\n"
                               "  - {name: gr\xC3\xBCn, width: 1,5}\n"
                               "  - {name: w, width: 1200, fill: basket, tool: nosuch}\n"
                               "  - name: w\n"
                               "    guide: 50 %\n"
                               "    fill: border\n";
    static const char wanted[] =
        "lid.yaml:3:19: error: leather.weight: found '90 oz'; allowed: 0.2 to 20 mm\n"
        "lid.yaml:3:34: error: leather.growth: found '50 %'; allowed: 0 to 20 %\n"
        "lid.yaml:4:36: error: outline.diameter: found '3'; allowed: 5 to 5000 mm\n"
        "lid.yaml:5:1: note: colour: unknown key, kept as it is\n"
        "lid.yaml:7:28: error: bands.gr\xC3\xBCn.5: found '5'; a comma ends the value before it; use a point, such as "
        "18.5\n"
        "lid.yaml:8:22: error: bands.w.width: found '1200'; allowed: 0 to 1000 mm\n"
        "lid.yaml:8:48: error: bands.w.tool: found 'nosuch'; the piece has no tool of this id, and no inventory was "
        "read (--inventory FILE); allowed: a tool of kind "
        "basket\n"
        "lid.yaml:9:5: error: bands.w.tool: must be given. The tool that fills the band: the id of one that suits the "
        "fill.\n"
        "lid.yaml:9:11: error: bands[3].name: found 'w'; every name stands once; it is in line 8 already\n";
    char *said = paper_read(yaml, strlen(yaml), NULL);
    ck_assert_str_eq(said, wanted);
    free(said);
}
END_TEST

START_TEST(places_are_counted_in_bytes_from_one) {
    static const struct {
        const char *yaml, *said;
    } rows[] = {
        {"\xEF\xBB\xBF"
         "a: 1\nunits: cm\n",
         "lid.yaml:2:8: error: units"},
        {"\xEF\xBB\xBF"
         "units: cm\n",
         "lid.yaml:1:8: error: units"},
        {"a: 1\r\nunits: cm\r\n", "lid.yaml:2:8: error: units"},
        {"a: 1\runits: cm\r", "lid.yaml:2:8: error: units"},
        {"{\xC3\xBC\xC3\xBC: 1, units: cm}", "lid.yaml:1:18: error: units"},
        {"# \xE2\x82\xAC\nunits: cm", "lid.yaml:2:8: error: units"},
        {"units:   # none\n  &a\n  cm", "lid.yaml:3:3: error: units"},
        {"units: !!str cm", "lid.yaml:1:14: error: units"},
        {"a: &x cm\nunits: *x", "lid.yaml:2:8: error: units: found 'cm'"},
        {"units:\nb: 1", "lid.yaml:1:7: error: units: nothing stands here"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char *said = paper_read(rows[i].yaml, strlen(rows[i].yaml), NULL);
        ck_assert_msg(strstr(said, rows[i].said) != NULL, "row %zu, wanted %s: %s", i, rows[i].said, said);
        free(said);
    }
}
END_TEST

START_TEST(formats_newer_and_older) {
    static const struct {
        const char *yaml, *said;
    } rows[] = {{"bandwright-project: 2\nfuture: 1\n", "newer format"},
                {"bandwright-project: 0\n", "no such format"},
                {"bandwright-project: -1\n", "no such format"},
                {"bandwright-project: 1.0\n", "whole number"},
                {"bandwright-project: one\n", "whole number"},
                {"units: mm\n", "must be given, such as"},
                {"bandwright-inventory: 1\n", "an inventory, not a project"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char *said = paper_read(rows[i].yaml, strlen(rows[i].yaml), NULL);
        ck_assert_msg(strstr(said, rows[i].said) && strstr(said, "error"), "%s", said);
        free(said);
    }
}
END_TEST

START_TEST(unknown_and_idle_keys_are_kept_and_noted) {
    static const char yaml[] = "bandwright-project: 1\noutline: {shape: circle, diameter: 140, width: 3, wobble: 4}\n"
                               "bands: [{name: a, lay: angled, group: many, wish: [1, {2: 3}]}]\n? [a, b]\n: c\n";
    shop_project *p;
    char *said = paper_read(yaml, strlen(yaml), &p);
    ck_assert_ptr_nonnull(p);
    ck_assert(strstr(said, "2:41: note: outline.width: has no meaning here"));
    ck_assert(strstr(said, "note: outline.wobble: unknown key"));
    ck_assert(strstr(said, "note: bands.a.lay: has no meaning"));
    ck_assert(strstr(said, "note: bands.a.wish: unknown key"));
    ck_assert(strstr(said, "no plain text"));
    size_t length;
    ck_assert_str_eq(shop_text_bytes(p->text, &length), yaml);
    ck_assert_uint_eq(length, strlen(yaml));
    shop_project_free(p);
    free(said);
}
END_TEST

START_TEST(a_fresh_project_is_a_good_one) {
    static const char *const names[] = {NULL, "", "Cedar box lid", "12", "a: b # c", "\x1B[2J", "it's"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        for (int unit = SHOP_MM; unit <= SHOP_INCH; unit++) {
            size_t length;
            char *text = shop_new_text(names[i], (shop_unit)unit, &length);
            ck_assert_ptr_nonnull(text);
            shop_project *p = paper_project(text);
            ck_assert_int_eq((int)p->units, unit);
            ck_assert_str_eq(p->piece.bytes, names[i] && *names[i] ? names[i] : "lid");
            ck_assert_uint_eq(p->layout.band_count, 0);
            shop_project_free(p);
            char *why, *more = paper_edit(text, length, "bands[1]", NULL, "{name: rim, width: 5}", &length, &why);
            ck_assert_msg(more && strstr(more, "bands:\n  - {name: rim, width: 5}\n"), "%s", why);
            free(more);
            free(why);
            free(text);
        }
}
END_TEST

START_TEST(the_place_of_the_inventory) {
    setenv("HOME", "/home/none", 1);
    setenv("XDG_DATA_HOME", "/data/here", 1);
    char *place = shop_inventory_place();
    ck_assert_str_eq(place, "/data/here/bandwright/inventory.yaml");
    free(place);
    setenv("XDG_DATA_HOME", "relative/does/not/count", 1);
    place = shop_inventory_place();
    ck_assert_str_eq(place, "/home/none/.local/share/bandwright/inventory.yaml");
    free(place);
    unsetenv("HOME");
    unsetenv("XDG_DATA_HOME");
    place = shop_inventory_place(); /* from the list of users */
    ck_assert(place && *place == '/' && strstr(place, "/.local/share/bandwright/inventory.yaml"));
    free(place);
}
END_TEST

START_TEST(the_starter_inventory_is_good) {
    char *bytes;
    size_t length;
    shop_problems problems;
    shop_problems_init(&problems, "share/inventory.yaml");
    ck_assert_int_eq(shop_read("share/inventory.yaml", &bytes, &length, &problems), SHOP_OK);
    shop_inventory *shelf = shop_inventory_read(bytes, length, &problems);
    ck_assert_ptr_nonnull(shelf);
    ck_assert_uint_eq(problems.count, 0); /* not even a note */
    ck_assert_uint_gt(shelf->tool_count, 10);
    shop_inventory_free(shelf);
    free(bytes);
    shop_problems_free(&problems);
}
END_TEST

Suite *shop_project_suite(void) {
    Suite *suite = suite_create("project");
    TCase *all = tcase_create("reading");
    tcase_add_test(all, values_reach_the_layout);
    tcase_add_test(all, defaults_are_those_of_the_format);
    tcase_add_test(all, an_inch_file_is_read_in_inches);
    tcase_add_test(all, the_projects_copy_of_a_tool_wins);
    tcase_add_test(all, fixed_paths_cover_what_lies_below);
    tcase_add_test(all, all_errors_come_in_one_go);
    tcase_add_test(all, places_are_counted_in_bytes_from_one);
    tcase_add_test(all, formats_newer_and_older);
    tcase_add_test(all, unknown_and_idle_keys_are_kept_and_noted);
    tcase_add_test(all, a_fresh_project_is_a_good_one);
    tcase_add_test(all, the_place_of_the_inventory);
    tcase_add_test(all, the_starter_inventory_is_good);
    suite_add_tcase(suite, all);
    return suite;
}
