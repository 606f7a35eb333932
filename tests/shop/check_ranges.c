/* check_ranges.c - every key at its least, at its most, and just beyond, and the words it takes. The limits stand here
 * a second time, as the description of the file format gives them, so that a slip in the table of fields shows. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "paper.h"

Suite *shop_ranges_suite(void);

#define OUTLINE "outline: {shape: circle, diameter: 100}\n"
#define TOOLS                                                                                                          \
    "tools: [{id: k, kind: basket, length: 9}, {id: b, kind: border, length: 5, width: 5}, "                           \
    "{id: i, kind: iron, pitch: 4}]\n"
#define TOOL(keys) OUTLINE "tools: [{id: t, " keys "}]\n"
#define BAND(keys) OUTLINE TOOLS "bands: [{name: n, " keys "}]\n"
#define RECTANGLE(keys) "outline: {shape: rectangle, " keys "}\n"
#define OVAL(keys) "outline: {shape: ellipse, " keys "}\n"
#define STRAP(keys) "outline: {shape: strap, " keys "}\n"
#define POLYGON(corners) "outline: {shape: polygon, corners: " corners "}\n"
#define STRIPS(keys) "[{impressions: 10, length: 67.5, " keys "}]"
#define HOW                                                                                                            \
    { "usual", "closest", "widest" }
#define ALL_GOOD 8

/* `%` in the text is replaced by a value. */
typedef struct range {
    const char *key, *text;
    const char *good[ALL_GOOD], *bad[ALL_GOOD];
} range;

static const range ranges[] = {
    {"units", OUTLINE "units: %\n", {"mm", "in"}, {"cm", "MM", "1", "", "[mm]"}},
    {"sizes", OUTLINE "sizes: %\n", {"laid-out", "finished"}, {"laid", "yes", ""}},
    {"piece", OUTLINE "piece: %\n", {"x", "12", "", "'a: b'"}, {"[a]", "{a: b}"}},
    {"start-mark",
     OUTLINE "start-mark: %\n",
     {"bottom", "right", "top", "left", "0", "35.5"},
     {"middle", "-1", "100001", "[1]"}},
    {"weight",
     OUTLINE "leather: {weight: %}\n",
     {"0.2", "20", "8 oz", "1/8 in"},
     {"0.19", "20.01", "-1", "60 oz", "thick"}},
    {"trim", OUTLINE "leather: {trim: %}\n", {"0", "100"}, {"-0.01", "100.01", "8 oz"}},
    {"growth", OUTLINE "leather: {growth: %}\n", {"0", "0.2", "20 %"}, {"-1 %", "20.1 %", "0.21", "20"}},
    {"shape",
     "outline: {shape: %, diameter: 100, length: 50, width: 50, radius: 9, sweep: 9, svg: M 0 0 H 90 V 60 Z, "
     "corners: [[0, 0], [90, 0], [90, 60]]}\n",
     {"circle", "ellipse", "rectangle", "strap", "polygon", "path", "line", "arc"},
     {"round", "Circle", ""}},
    {"diameter",
     "outline: {shape: circle, diameter: %}\n",
     {"5", "5000", "50 cm"},
     {"4.99", "5000.01", "-5", ".nan", "1e3", "[5]"}},
    {"around", "outline: {shape: circle, around: %}\n", {"16", "15707"}, {"0.99", "15708"}},
    {"chord", "outline: {shape: circle, chord: %, depth: 10}\n", {"1", "400"}, {"0.99", "5000.01"}},
    {"depth", "outline: {shape: circle, chord: 100, depth: %}\n", {"1", "4999"}, {"0.99", "5000.01", "0"}},
    {"length", RECTANGLE("length: %, width: 9"), {"1", "5000"}, {"0.99", "5000.01"}},
    {"width", RECTANGLE("length: 9, width: %"), {"1", "5000"}, {"0.99", "5000.01"}},
    {"corner",
     RECTANGLE("length: 60, width: 40, corner: %"),
     {"0", "20", "[0, 20, 5, 5.5]"},
     {"-0.01", "20.01", "[1, 2]", "[1, 2, 3, 21]", "[1, 2, 3, x]", "[1, 2, 3, [4]]", "[1, 2, 3, 4, 5]"}},
    {"length", OVAL("length: %, width: 90"), {"1", "5000", "19.7 in"}, {"0.99", "5000.01", "-20", "", "[20]"}},
    {"width", OVAL("length: 90, width: %"), {"1", "5000"}, {"0.99", "5000.01"}},
    {"length", STRAP("width: 38, length: %"), {"1", "5000", "40 in"}, {"0.99", "5000.01", "long"}},
    {"width", STRAP("length: 900, width: %"), {"1", "5000", "1 1/2 in"}, {"0.99", "5000.01"}},
    {"start",
     STRAP("length: 300, width: 40, start: %"),
     {"square", "round", "{point: 1}", "{point: 300}", "{point: 2 in, note: x}"},
     {"pointed", "point", "{point: 0.99}", "{point: 300.01}", "{point: }", "{}", "[round]", "{point: [3]}"}},
    {"end",
     STRAP("length: 300, width: 40, start: round, end: %"),
     {"square", "round", "{point: 1}", "{point: 280}"},
     {"pointed", "30", "{point: 0.99}", "{point: 280.01}", "{point: 5001}", "{length: 3}", ""}},
    {"end", STRAP("length: 40, width: 40, start: round, end: %"), {"square", "round"}, {"{point: 20.01}"}},
    {"corners",
     POLYGON("[[0, 0], [90, 0], %]"),
     {"[90, 60]", "[90, 60, 5]", "[-1 in, 60 mm, 0]", "[-100000, 100000]"},
     {"[90]", "[90, 60, 5, 1]", "[90, x]", "[100000.01, 60]", "[90, -100000.01]", "[90, 60, -0.01]",
      "[90, 60, 5000.01]", "{x: 1, y: 2}"}},
    {"corners",
     POLYGON("%"),
     {"[[0, 0], [90, 0], [90, 60]]"},
     {"[[0, 0], [90, 0]]", "[]", "", "3", "{a: b}", "[0, 0, 0]"}},
    {"svg",
     "outline: {shape: path, svg: %}\n",
     {"M 0 0 H 90 V 60 Z", "'M0,0h90v60z'"},
     {"[M, 0]", "", "''", "X", "\"M 0 0 H 90\\0\""}},
    {"scale",
     "outline: {shape: path, svg: M 0 0 H 90 V 60 Z, scale: %}\n",
     {"1", "0.5", "25.4", "0.264583"},
     {"0", "-1", "1 mm", "50 %", "1e2", ""}},
    {"length", "outline: {shape: line, length: %}\n", {"1", "100000"}, {"0.99", "100000.01"}},
    {"radius", "outline: {shape: arc, radius: %, sweep: 90}\n", {"1", "5000"}, {"0.99", "5000.01"}},
    {"sweep",
     "outline: {shape: arc, radius: 50, sweep: %}\n",
     {"-360", "360", "0.01", "-0.01"},
     {"0", "360.01", "-360.01", "90 mm"}},
    {"name",
     OUTLINE "bands: [{name: %}]\n",
     {"a", "'inner weave'", "1234567890123456789012345678901234567890"},
     {"''", "a.b", "'a[1]'", "a/b", "'a:b'", "\"a\\eb\"", "12345678901234567890123456789012345678901"}},
    {"space", BAND("space: %"), {"0", "1000"}, {"-0.01", "1000.01"}},
    {"width", BAND("width: %"), {"0", "1000"}, {"-0.01", "1000.01"}},
    {"fill", BAND("fill: %"), {"plain"}, {"weave", "Basket", "", "basket"}}, /* the last one lacks its tool */
    {"tool", BAND("fill: basket, tool: %"), {"k"}, {"b", "i", "x", "", "[k]"}},
    {"tool", BAND("fill: border, tool: %"), {"b"}, {"k", "i"}},
    {"tool", BAND("fill: stitch, tool: %"), {"i"}, {"k", "b"}},
    {"lay", BAND("fill: basket, tool: k, lay: %"), {"straight", "angled"}, {"slanted"}},
    {"slant", BAND("fill: basket, tool: k, slant: %"), {"inward", "outward"}, {"left"}},
    {"guide",
     BAND("width: 20, fill: basket, tool: k, guide: %"),
     {"0", "1", "0 %", "100 %", "0 mm", "20 mm", "2 cm", "1/2 in"},
     {"-0.01", "1.01", "101 %", "20.01 mm", "-1 mm", "20", "auto"}},
    {"overlap", BAND("fill: basket, tool: k, overlap: %"), {"0", "1", "100 %"}, {"-1 %", "100.1 %", "1.01"}},
    {"count",
     BAND("fill: basket, tool: k, count: %"),
     {"auto", "1", "100000", "[1, auto]", "[]"},
     {"0", "100001", "-1", "1.5", "[0]", "[auto, none]", "[[1]]", "many"}},
    {"group", BAND("fill: border, tool: b, group: %"), {"1", "100"}, {"0", "101", "1.5"}},
    {"lose",
     BAND("fill: basket, tool: k, lose: %"),
     {"even", "last 1", "last 100000", "straights", "anchored"},
     {"last 0", "last 100001", "last", "odd"}},
    {"anchors", BAND("fill: basket, tool: k, anchors: %"), {"[top, 30, 1 in]", "[]"}, {"top", "[middle]", "[-1]"}},
    {"line", BAND("outer: {line: %}"), {"cut", "scribe", "none"}, {"drawn"}},
    {"bevel", BAND("inner: {line: cut, bevel: %}"), {"inside", "outside", "none"}, {"both"}},
    {"outer", BAND("outer: %"), {"{}", ""}, {"cut", "[cut]"}},
    {"id", OUTLINE "tools: [{id: %, kind: maul}]\n", {"a", "b 2"}, {"''", "a.b", "[a]"}},
    {"kind",
     OUTLINE "tools: [{id: t, kind: %}]\n",
     {"beveler", "dividers", "knife", "maul"},
     {"hammer", "basket", "border", "iron"}},
    {"retired", TOOL("kind: maul, retired: %"), {"yes", "no", "true", "false"}, {"maybe", "1", ""}},
    {"blows", TOOL("kind: maul, blows: %"), {"1", "100"}, {"0", "101", "2.5"}},
    {"length", TOOL("kind: basket, length: %"), {"2", "40"}, {"1.99", "40.01"}},
    {"width", TOOL("kind: basket, length: 9, width: %"), {"0.5", "40"}, {"0", "-1", "40.01"}},
    {"bar", TOOL("kind: basket, length: 9, bar: %"), {"0.5", "8.99"}, {"0", "9", "10"}},
    {"rail", TOOL("kind: basket, length: 9, rail: %"), {"0.5", "2.24"}, {"0", "2.25", "3"}},
    {"overlap", TOOL("kind: basket, length: 9, overlap: %"), {"0", "1"}, {"-1 %", "101 %"}},
    {"length", TOOL("kind: border, width: 5, length: %"), {"0.5", "60"}, {"0.49", "60.01"}},
    {"width", TOOL("kind: border, length: 5, width: %"), {"0.5", "60"}, {"0.49", "60.01"}},
    {"give", TOOL("kind: border, length: 5, width: 5, give: %"), {"0.5 %", "30 %"}, {"0.49 %", "30.1 %", "5"}},
    {"pitch", TOOL("kind: iron, pitch: %"), {"0.5", "40"}, {"0.49", "40.01"}},
    {"teeth", TOOL("kind: iron, pitch: 4, teeth: %"), {"1", "50"}, {"0", "51"}},
    {"give", TOOL("kind: iron, pitch: 4, give: %"), {"0.005", "0.3"}, {"0.0049", "0.301"}},
    {"closest", TOOL("kind: basket, length: 9, steps: {closest: %}"), {"1", "8.99"}, {"0", "9", "-1"}},
    {"usual", TOOL("kind: basket, length: 9, steps: {usual: %}"), {"6.01", "8.99"}, {"6", "9", "x"}}, /* l - e = 6 */
    {"widest", TOOL("kind: basket, length: 9, steps: {widest: %}"), {"6.01", "12"}, {"6", "5"}},
    {"usual",
     TOOL("kind: iron, pitch: 4, steps: {usual: %}"),
     {"3.69", "4.31"},
     {"3.68", "4.32"}}, /* 4 less, more 8 % */
    {"usual", TOOL("kind: border, length: 5, width: 5, steps: {usual: %}"), {"4.76", "5.24"}, {"4.75", "5.25"}},
    {"steps",
     TOOL("kind: basket, length: 9, steps: %"),
     {"{closest: 2, usual: 3, widest: 4}"},
     {"{closest: 3, usual: 3}", "{usual: 5, widest: 5}", "{closest: 8, widest: 7}", "7"}},
    /* Without a measured one, the usual step of these is the face or the pitch itself. */
    {"steps",
     TOOL("kind: border, length: 5, width: 5, steps: %"),
     {"{closest: 4.9}", "{closest: 6, usual: 6.5, widest: 7}"},
     {"{closest: 5}", "{widest: 5}", "{closest: 5.5, widest: 6}"}},
    {"steps", TOOL("kind: iron, pitch: 4, steps: %"), {"{widest: 4.5}"}, {"{closest: 4.1}", "{widest: 4}"}},
    {"width", TOOL("kind: beveler, width: %"), {"5"}, {"0", "61"}},
    {"grid", TOOL("kind: dividers, grid: %"), {"0.25", "1/64 in"}, {"0", "-1"}},
    {"most", TOOL("kind: dividers, least: 5, most: %"), {"6"}, {"5", "4"}},
    {"dividers", OUTLINE "tools: [{id: d, kind: dividers}, {id: m, kind: maul}]\ndividers: %\n", {"d"}, {"m", "x", ""}},
    {"bands",
     OUTLINE "bands: %\n",
     {"[]", "", "[{name: a}, {name: b}]"},
     {"{name: a}", "x", "[a]", "[{name: a}, {name: a}]", "[{}]"}},
    {"tools",
     OUTLINE "tools: %\n",
     {"[]", "", "[{id: a, kind: maul}]"},
     {"{id: a}", "x", "[a]", "[{id: a, kind: maul}, {id: a, kind: knife}]", "[{id: a}]", "[{kind: maul}]"}},
    {"struck", BAND("struck: %"), {"[]", "[{a: b}]", "[{}, {impressions: 3}]", ""}, {"3", "{a: b}", "[1]", "[[1]]"}},
    {"run", BAND("struck: [{run: %}]"), {"1", "100000"}, {"0", "1.5", "100001", ""}},
    {"row", BAND("struck: [{row: %}]"), {"0", "-3", "10000"}, {"-10001", "10001", "x"}},
    {"impressions", BAND("struck: [{impressions: %}]"), {"0", "100000"}, {"-1", "100001", "1.5"}},
    {"of", BAND("struck: [{of: %}]"), {"1", "100000"}, {"0", "auto"}},
    {"from", BAND("struck: [{from: %}]"), {"0", "100000"}, {"-1", "100001"}},
    {"left", BAND("struck: [{left: %}]"), {"0", "100000", "3/4 in"}, {"-0.01", "100001", "x"}},
    {"before", BAND("struck: [{before: %}]"), {"0", "100000"}, {"-1", "100001"}},
    {"left-before", BAND("struck: [{left-before: %}]"), {"0", "100000"}, {"-0.01", "100001"}},
    {"aimed", BAND("struck: [{aimed: %}]"), {"0.01", "1000"}, {"0", "1001"}},
    {"planned", BAND("struck: [{planned: %}]"), {"1", "100000"}, {"0", "100001", "few"}},
    {"guide", BAND("struck: [{guide: %}]"), {"0", "342.5", "100000", "13 1/2 in"}, {"-1", "100001"}},
    {"logged", BAND("struck: [{logged: %}]"), {"yes", "no"}, {"1", "maybe"}},
    {"took", BAND("struck: [{took: %}]"), {"0.01", "161.434", "100000"}, {"0", "100001"}},
    {"done", BAND("struck: [{done: %}]"), {"yes", "no"}, {"1", "maybe"}},
    {"date", BAND("struck: [{date: %}]"), {"2026-03-02", "today", ""}, {"[1]"}},
    {"strips", TOOL("kind: basket, length: 9, strips: %"), {"[]", STRIPS("a: b"), ""}, {"3", "[3]", "[{}]", "{}"}},
    {"strips", TOOL("kind: border, length: 9, width: 5, strips: %"), {STRIPS("a: b")}, {"3"}},
    {"strips", TOOL("kind: iron, pitch: 4, strips: %"), {STRIPS("a: b")}, {"3"}},
    {"rounds", TOOL("kind: basket, length: 9, rounds: %"), {"[]", STRIPS("piece: lid")}, {"3", "[{length: 300}]"}},
    {"impressions",
     TOOL("kind: basket, length: 9, strips: [{impressions: %, length: 67}]"),
     {"2", "10", "100000"},
     {"1", "0", "100001", "ten"}},
    {"length",
     TOOL("kind: iron, pitch: 4, rounds: [{impressions: 10, length: %}]"),
     {"0.01", "100000", "2 5/8 in"},
     {"0", "100001", "-5", "long"}},
    {"struck", TOOL("kind: basket, length: 9, strips: [{impressions: 3, length: 9, struck: %}]"), HOW, {"wide", "1"}},
    {"aimed", TOOL("kind: basket, length: 9, strips: [{impressions: 3, length: 9, aimed: %}]"), {"7.5"}, {"0"}},
    {"places",
     TOOL("kind: basket, length: 9, strips: [{places: %}]"),
     {"[7.5]", "[7.5, 15.2]", "[0.3 in, 1.5 cm]"},
     {"7.5", "[0]", "[7.5, 7.4]", "[7.5, [1]]", "[100001]", "[]"}},
    {"leather", TOOL("kind: basket, length: 9, strips: [{places: [7], leather: %}]"), {"8 oz", ""}, {"[1]"}},
    {"note", BAND("note: %"), {"x", "'a: b'", "12", ""}, {"[a]"}},
    {"name", TOOL("kind: maul, name: %"), {"x", "'a.b/c'"}, {"{a: b}"}},
    {"least", TOOL("kind: dividers, least: %"), {"0", "5000"}, {"-1", "5001"}},
    {"strikes-per-minute", OUTLINE "rates: {strikes-per-minute: %}\n", {"20"}, {"0", "x"}},
    {"currency", OUTLINE "rates: {currency: %}\n", {"coins"}, {"[a]"}},
    {"fixed", OUTLINE "fixed: %\n", {"[]", "[outline, outline.diameter]", "[bands]"}, {"outline", "{a: b}", "[[a]]"}},
    {"leather", OUTLINE "leather: %\n", {"{}", "", "{weight: 8 oz}"}, {"8 oz", "[8 oz]"}},
    {"outline",
     "outline: %\n",
     {"{shape: circle, diameter: 9}", "{shape: line, length: 9}"},
     {"", "circle", "{shape: circle}", "{shape: circle, chord: 9}", "{shape: circle, depth: 9}",
      "{shape: circle, diameter: 9, around: 30}", "{shape: line}", "{shape: arc, radius: 9}"}},
    {"per-hour", OUTLINE "rates: {per-hour: %}\n", {"0", "30.5"}, {"-1", "x"}},
};

static char *fill(const char *text, const char *value) {
    static const char head[] = "bandwright-project: 1\n";
    const char *mark = strchr(text, '%');
    size_t size = strlen(head) + strlen(text) + strlen(value) + 1;
    char *out = malloc(size);
    ck_assert_ptr_nonnull(out);
    ck_assert_ptr_nonnull(mark);
    snprintf(out, size, "%s%.*s%s%s", head, (int)(mark - text), text, value, mark + 1);
    return out;
}

static char *said_about(const char *text, const char *value, bool *good) {
    char *yaml = fill(text, value);
    shop_project *project;
    char *said = paper_read(yaml, strlen(yaml), &project);
    *good = project != NULL;
    shop_project_free(project);
    free(yaml);
    return said;
}

START_TEST(a_key_takes_what_it_may_and_nothing_else) {
    const range *r = &ranges[_i];
    bool good;
    for (int i = 0; i < ALL_GOOD && r->good[i]; i++) {
        char *said = said_about(r->text, r->good[i], &good);
        ck_assert_msg(good, "%s: %s must be taken, but: %s", r->key, r->good[i], said);
        free(said);
    }
    for (int i = 0; i < ALL_GOOD && r->bad[i]; i++) {
        char *said = said_about(r->text, r->bad[i], &good);
        ck_assert_msg(!good, "%s: %s must be refused", r->key, r->bad[i]);
        ck_assert_msg(strncmp(said, "lid.yaml:", 9) == 0 && (strstr(said, r->key) || strstr(said, "must be given")),
                      "%s: %s says: %s", r->key, r->bad[i], said);
        ck_assert_msg(strstr(said, ": error: "), "%s", said);
        free(said);
    }
}
END_TEST

START_TEST(no_row_of_the_table_is_untested) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    for (size_t i = 0; i < count; i++) {
        const char *point = strrchr(fields[i].path, '.'), *key = point ? point + 1 : fields[i].path;
        bool found = strncmp(key, "bandwright-", 11) == 0; /* tried with the formats */
        for (size_t r = 0; r < sizeof ranges / sizeof ranges[0]; r++)
            found = found || strcmp(ranges[r].key, key) == 0;
        ck_assert_msg(found, "%s has no test of its range", fields[i].path);
        ck_assert_msg(strlen(fields[i].help) > 20 && fields[i].help[strlen(fields[i].help) - 1] == '.', "%s",
                      fields[i].path);
        ck_assert_uint_gt(strlen(fields[i].label), 1);
    }
}
END_TEST

/* 200 bands are taken, one more is not. */
START_TEST(bands_are_counted) {
    for (int bands = 200; bands <= 201; bands++) {
        char yaml[8192];
        size_t used = (size_t)snprintf(yaml, sizeof yaml, "bandwright-project: 1\n" OUTLINE "bands:\n");
        for (int i = 0; i < bands; i++)
            used += (size_t)snprintf(yaml + used, sizeof yaml - used, "- {name: b%d}\n", i);
        shop_project *project;
        char *said = paper_read(yaml, used, &project);
        ck_assert_msg((project != NULL) == (bands == 200), "%s", said);
        shop_project_free(project);
        free(said);
    }
}
END_TEST

Suite *shop_ranges_suite(void) {
    Suite *suite = suite_create("ranges");
    TCase *all = tcase_create("keys");
    tcase_add_loop_test(all, a_key_takes_what_it_may_and_nothing_else, 0, sizeof ranges / sizeof ranges[0]);
    tcase_add_test(all, no_row_of_the_table_is_untested);
    tcase_add_test(all, bands_are_counted);
    suite_add_tcase(suite, all);
    return suite;
}
