/* check_edits.c - an edit changes the bytes of its value, and no others. */
#include <check.h>
#include <glob.h>
#include <stdlib.h>
#include <string.h>

#include "paper.h"
#include "shop/fields.h"

Suite *shop_edits_suite(void);

typedef struct row {
    const char *before, *path, *value, *after; /* value NULL: taken out; after NULL: refused */
} row;

#define HEAD "# our lid\nbandwright-project: 1   # format\n"
#define BLOCK                                                                                                          \
    HEAD "piece: 'Cedar box'\nunits: mm\n\nleather: # whole hide\n  weight: 8 oz  # as bought\n  trim:\n"              \
         "outline:\n    shape: circle\n    # measured twice\n    diameter: 140 # across\n"                             \
         "bands:\n  # outermost\n  - name: rim # first\n    width: 5\n    outer:\n      line: cut\n"                   \
         "  # the weave\n  - width:   21\n    name: \"weave\"\n    note: |\n      two\n      lines\n"                  \
         "# end of bands\ntools:\n- id: basket-m\n  kind: basket\n  length: 9.5\n# end\n"
#define FLOW                                                                                                           \
    HEAD "outline: {shape: circle,diameter: 140}\nbands: [{name: rim, width: 5}, # one\n"                              \
         "        {name: weave , width: 21 mm, count: [20, auto], } ]\nfixed: []\n"
/* Lists in lines, with comments behind and between their items. */
#define LINES                                                                                                          \
    HEAD "outline:\n  shape: polygon\n  corners:\n  # lower left\n  - [0, 0] # start\n  # lower right\n\n"             \
         "  - [60, 0]\n  - [60, 40, 5]  # round\n  - [0,40]\n# end of corners\n"                                       \
         "bands:\n  - name: rim\n    count:\n      -   20 # long\n      - auto\n    width: 5\n"                        \
         "fixed: # kept\n- outline\n- 'bands.rim'\n# end\n"

/* The text of BLOCK with one piece of it in another way: what stands before and behind must come through untouched. */
static char *with(const char *text, const char *from, const char *to) {
    const char *at = strstr(text, from);
    ck_assert_msg(at && !strstr(at + 1, from), "'%s' must stand once in the text", from);
    size_t front = (size_t)(at - text), size = strlen(text) + strlen(to) + 1;
    char *out = malloc(size);
    ck_assert_ptr_nonnull(out);
    snprintf(out, size, "%.*s%s%s", (int)front, text, to, at + strlen(from));
    return out;
}

typedef struct swap {
    const char *text, *path, *value, *from, *to;
} swap;

static const swap swaps[] = {
    {BLOCK, "bands.rim.width", "5.25", "width: 5\n", "width: 5.25\n"},
    {BLOCK, "bands[1].width", "3/4 in", "width: 5\n", "width: 3/4 in\n"},
    {BLOCK, "bands.weave.width", "18", "width:   21", "width:   18"},
    {BLOCK, "bands[2].width", ".5", "width:   21", "width:   .5"},
    {BLOCK, "bands.weave.name", "inner weave", "\"weave\"", "\"inner weave\""},
    {BLOCK, "bands.weave.note", "one", "|\n      two\n      lines\n", "one\n"},
    {BLOCK, "bands.weave.note", "a\nb", "|\n      two\n      lines\n", "\"a\\nb\"\n"},
    {BLOCK, "piece", "it's", "'Cedar box'", "'it''s'"},
    {BLOCK, "piece", "tab\there", "'Cedar box'", "\"tab\\there\""},
    {BLOCK, "piece", "\xE2\x80\xAE turned", "'Cedar box'", "\"\\u202E turned\""},
    {BLOCK, "leather.trim", "3", "trim:\n", "trim: 3\n"},
    {BLOCK, "leather.weight", "9 oz", "8 oz  # as", "9 oz  # as"},
    {BLOCK, "outline.diameter", "1 1/8\"", "140 # across", "1 1/8\" # across"},
    {BLOCK, "bands.rim.outer.bevel", "inside", "line: cut\n", "line: cut\n      bevel: inside\n"},
    {BLOCK, "bands.rim.inner.line", "scribe", "line: cut\n", "line: cut\n    inner: {line: scribe}\n"},
    {BLOCK, "bands.rim.outer", "{line: none, bevel: none}", "outer:\n      line: cut\n",
     "outer: {line: none, bevel: none}\n"},
    {BLOCK, "bands.rim.outer.line", NULL, "outer:\n      line: cut\n", "outer: {}\n"},
    {BLOCK, "bands.rim.name", NULL, "name: rim # first\n    width", " # first\n    width"},
    {BLOCK, "bands.weave.width", NULL, "width:   21\n    name", "name"},
    {BLOCK, "bands.weave.space", "2", "      lines\n", "      lines\n    space: 2\n"},
    {BLOCK, "bands.rim", NULL, "  - name: rim # first\n    width: 5\n    outer:\n      line: cut\n", ""},
    {BLOCK, "bands[2]", NULL, "  - width:   21\n    name: \"weave\"\n    note: |\n      two\n      lines\n", ""},
    {BLOCK, "bands[1]", "{name: edge, width: 2}", "- name: rim", "- {name: edge, width: 2}\n  - name: rim"},
    {BLOCK, "bands[2]", "{name: x}", "line: cut\n", "line: cut\n  - {name: x}\n"},
    {BLOCK, "bands[3]", "{name: x, fill: plain}", "      lines\n", "      lines\n  - {name: x, fill: plain}\n"},
    {BLOCK, "tools[2]", "{id: b, kind: maul}", "length: 9.5\n", "length: 9.5\n- {id: b, kind: maul}\n"},
    {BLOCK, "tools.basket-m.steps.usual", "7.9", "length: 9.5\n", "length: 9.5\n  steps: {usual: 7.9}\n"},
    {BLOCK, "tools.basket-m", NULL, "tools:\n- id: basket-m\n  kind: basket\n  length: 9.5\n", "tools: []\n"},
    {BLOCK, "start-mark", "right", "length: 9.5\n", "length: 9.5\nstart-mark: right\n"},
    {BLOCK, "leather", NULL, "leather: # whole hide\n  weight: 8 oz  # as bought\n  trim:\n", ""},
    {BLOCK, "fixed", "[outline, bands.rim]", "length: 9.5\n", "length: 9.5\nfixed: [outline, bands.rim]\n"},
    {LINES, "outline.corners", "[[0, 0], [30, -5], [60, 0], [60, 40, 5], [0, 40]]", "# start\n",
     "# start\n  - [30, -5]\n"},
    {LINES, "outline.corners", "[[0, 0], [60, 0], [60, 40, 5], [0, 40], [-9, 20], [-9, 10]]", "  - [0,40]\n",
     "  - [0,40]\n  - [-9, 20]\n  - [-9, 10]\n"},
    {LINES, "outline.corners", "[[-1, 0], [0, 0], [60, 0], [60, 40, 5], [0, 40]]", "  - [0, 0]",
     "  - [-1, 0]\n  - [0, 0]"},
    {LINES, "outline.corners", "[[0, 0], [60, 40, 5], [0, 40]]", "  - [60, 0]\n", ""},
    {LINES, "outline.corners", "[[0, 0], [61, 0], [61, 40, 5], [0, 40]]", "[60, 0]\n  - [60, 40, 5]",
     "[61, 0]\n  - [61, 40, 5]"},
    {LINES, "outline.corners", "[[0, 0], [60, 0], [0, 41]]", "  - [60, 40, 5]  # round\n  - [0,40]\n",
     "  - [0, 41]  # round\n"},
    {LINES, "outline.corners[2]", "[50, 0]", "[60, 0]", "[50, 0]"},
    {LINES, "bands.rim.count", "[18, auto]", "20 # long", "18 # long"},
    {LINES, "bands.rim.count", "[20, 8, auto]", "# long\n", "# long\n      - 8\n"},
    {LINES, "bands.rim.count", "12", "\n      -   20 # long\n      - auto\n", " 12\n"},
    {LINES, "fixed", "[tools, outline, 'bands.rim']", "- outline\n", "- tools\n- outline\n"},
    {LINES, "fixed", "[outline]", "- 'bands.rim'\n", ""},
    {FLOW, "outline.diameter", "120", "140", "120"},
    {FLOW, "outline.shape", "line", "circle", "line"},
    {FLOW, "outline.diameter", NULL, ",diameter: 140", ""},
    {FLOW, "outline.shape", NULL, "shape: circle,", ""},
    {FLOW, "bands.rim.space", "4", "width: 5", "width: 5, space: 4"},
    {FLOW, "bands.rim.outer.line", "cut", "width: 5", "width: 5, outer: {line: cut}"},
    {FLOW, "bands.weave.count[1]", "30", "[20,", "[30,"},
    {FLOW, "bands.weave.count[3]", "7", "auto]", "auto, 7]"},
    {FLOW, "bands.weave.count[1]", NULL, "20, auto", "auto"},
    {FLOW, "bands.weave.count", "auto", "[20, auto]", "auto"},
    {FLOW, "bands.weave.name", "no", "weave ", "'no' "},
    {FLOW, "bands.weave.group", "2", "auto],", "auto], group: 2,"},
    {FLOW, "bands.weave", NULL, ", # one\n        {name: weave , width: 21 mm, count: [20, auto], }", ""},
    {FLOW, "bands[1]", "{name: x}", "[{name: rim", "[{name: x}, {name: rim"},
    {FLOW, "bands[3]", "{name: x}", "auto], }", "auto], }, {name: x}"},
    {FLOW, "fixed[1]", "bands", "fixed: []\n", "fixed:\n  - bands\n"},
    {FLOW, "fixed", "[a, b]", "fixed: []", "fixed: [a, b]"},
};

static void try(const char *before, const char *path, const char *value, const char *after) {
    size_t length;
    char *why, *got = paper_edit(before, strlen(before), path, NULL, value, &length, &why);
    ck_assert_msg(got != NULL, "%s=%s refused: %s", path, value ? value : "(out)", why);
    ck_assert_uint_eq(length, strlen(got));
    ck_assert_str_eq(got, after);
    free(got);
    free(why);
}

START_TEST(only_the_value_changes) {
    const swap *s = &swaps[_i];
    char *after = with(s->text, s->from, s->to);
    try(s->text, s->path, s->value, after);
    free(after);
}
END_TEST

/* Any single line that ends in LF, with CR LF instead, behind a byte order mark, or without its last line ending. */
static char *dressed(const char *text, int dress) {
    size_t length = strlen(text), used = 0;
    char *out = malloc(2 * length + 8);
    ck_assert_ptr_nonnull(out);
    if (dress & 2)
        used = (size_t)sprintf(out, "\xEF\xBB\xBF");
    for (size_t i = 0; i < length; i++) {
        if ((dress & 4) && i + 1 == length && text[i] == '\n')
            break;
        if ((dress & 1) && text[i] == '\n')
            out[used++] = '\r';
        out[used++] = text[i];
    }
    out[used] = '\0';
    return out;
}

START_TEST(line_endings_and_marks_stay) {
    const swap *s = &swaps[_i];
    char *after = with(s->text, s->from, s->to);
    for (int dress = 1; dress < 8; dress++) {
        char *before = dressed(s->text, dress), *wanted = dressed(after, dress);
        try(before, s->path, s->value, wanted);
        free(before);
        free(wanted);
    }
    free(after);
}
END_TEST

static const row rows[] = {
    /* `bands` empty, missing, or nothing */
    {"bands: []\n", "bands[1]", "{name: x}", "bands:\n  - {name: x}\n"},
    {"bands: [] # none\na: 1\n", "bands[1]", "{name: x}", "bands: # none\n  - {name: x}\na: 1\n"},
    {"bands:\na: 1\n", "bands[1]", "{name: x}", "bands:\n  - {name: x}\na: 1\n"},
    {"a: 1\n", "bands[1]", "{name: x}", "a: 1\nbands:\n  - {name: x}\n"},
    {"a: 1", "bands[1]", "{name: x}", "a: 1\nbands:\n  - {name: x}"},
    {"{a: 1}", "bands[1]", "{name: x}", "{a: 1, bands: [{name: x}]}"},
    {"{a: 1, bands: []}", "bands[1]", "{name: x}", "{a: 1, bands: [{name: x}]}"},
    {"{}", "units", "in", "{units: in}"},
    {"bands:\n- {name: a}", "bands[2]", "{name: b}", "bands:\n- {name: a}\n- {name: b}"},
    {"bands:\n- name: a", "bands.a.width", "3", "bands:\n- name: a\n  width: 3"},
    {"bands:\n- name: a\n- name: b", "bands.b", NULL, "bands:\n- name: a"},
    {"leather:\nunits: mm\n", "leather.trim", "3", "leather: {trim: 3}\nunits: mm\n"},
    {"leather: ~\n", "leather.trim", "3", "leather: {trim: 3}\n"},
    {"bands:\n-\n  name: a\n", "bands.a.width", "3", "bands:\n-\n  name: a\n  width: 3\n"},
    {"bands: [{name: a, width: }]\n", "bands.a.width", "3", "bands: [{name: a, width: 3}]\n"},
    {"bands: [{width: }]\n", "bands[1].width", "3", "bands: [{width: 3}]\n"},
    {"bands: [{width}]\n", "bands[1].width", "3", "bands: [{width: 3}]\n"},
    /* anchors: one that nobody repeats is no hindrance, others are */
    {"outline: {diameter: &d 140}\n", "outline.diameter", "120", "outline: {diameter: &d 120}\n"},
    {"a: &d 140\noutline: {diameter: *d}\n", "outline.diameter", "120", NULL},
    {"outline: {diameter: &d 140}\na: *d\n", "outline.diameter", "120", NULL},
    {"a: &o {diameter: 140}\noutline: *o\n", "outline.diameter", "120", NULL},
    {"outline: &o {diameter: 140}\na: *o\n", "outline.around", "120", NULL},
    {"bands: [&b {name: a}, *b]\n", "bands[1]", NULL, NULL},
    {"outline: {diameter: !!int 140}\n", "outline.diameter", "120", "outline: {diameter: !!int 120}\n"},
    /* text that plain would be read as something else is quoted, but not words and numbers that are meant */
    {"piece: x\n", "piece", "12", "piece: '12'\n"},
    {"piece: x\n", "piece", "true", "piece: 'true'\n"},
    {"piece: x\n", "piece", "null", "piece: 'null'\n"},
    {"piece: x\n", "piece", "", "piece: ''\n"},
    {"piece: x\n", "piece", "a: b", "piece: 'a: b'\n"},
    {"piece: x\n", "piece", "a #b", "piece: 'a #b'\n"},
    {"piece: x\n", "piece", "- a", "piece: '- a'\n"},
    {"piece: x\n", "piece", "[a]", "piece: '[a]'\n"},
    {"piece: x\n", "piece", "{a: 1}", "piece: '{a: 1}'\n"},
    {"piece: x\n", "piece", "1 1/8\"", "piece: 1 1/8\"\n"},
    {"piece: x\n", "piece", "50 %", "piece: 50 %\n"},
    {"piece: x\n", "piece", "%50", "piece: '%50'\n"},
    {"piece: x\n", "piece", " x ", "piece: ' x '\n"},
    {"piece: x\n", "piece", "gr\xC3\xBC\xC3\x9F", "piece: gr\xC3\xBC\xC3\x9F\n"},
    {"outline: {sweep: 9}\n", "outline.sweep", "-90", "outline: {sweep: -90}\n"},
    {"tools: [{id: a, retired: no}]\n", "tools.a.retired", "yes", "tools: [{id: a, retired: yes}]\n"},
    {"units: \"mm\"\n", "units", "in", "units: \"in\"\n"},
    /* a word that is no value of the file format, or a place that is not there */
    {"outline: {shape: circle}\n", "outline.diametre", "3", NULL},
    {"outline: {shape: circle}\n", "outline.shape.x", "3", NULL},
    {"bands: [{name: a}]\n", "bands.b.width", "3", NULL},
    {"bands: [{name: a}]\n", "bands[3]", "{name: c}", NULL},
    {"bands: [{name: a}]\n", "bands[0]", "{name: c}", NULL},
    {"bands: [{name: a}]\n", "bands[2]", "{name: c", NULL},
    {"bands: [{name: a}]\n", "bands[2]", "{name: c} {name: d}", NULL},
    {"bands: [{name: a}]\n", "bands[2]", "{name: c}\n---\n{name: d}", NULL},
    {"bands: [{name: a}]\n", "bands[2]", "{name: c, name: d}", NULL},
    {"bands: [{name: a}]\n", "bands[2]", "&x {name: c}", NULL},
    {"piece: x\n", "piece", "\xFF", NULL},
    {"", "units", "mm", NULL},
    /* taking out what is not there changes nothing */
    {"units: mm\n", "leather.trim", NULL, "units: mm\n"},
};

START_TEST(special_places) {
    const row *r = &rows[_i];
    size_t length;
    char *why, *got = paper_edit(r->before, strlen(r->before), r->path, NULL, r->value, &length, &why);
    if (r->after) {
        ck_assert_msg(got != NULL, "%s", why);
        ck_assert_str_eq(got, r->after);
    } else {
        ck_assert_msg(got == NULL, "must be refused, but gave: %s", got);
        ck_assert_msg(strlen(why) > 20, "a reason must be given: %s", why);
    }
    free(got);
    free(why);
}
END_TEST

START_TEST(undone_by_the_old_text) {
    size_t length;
    char *why, *got, *back;
    got = paper_edit(FLOW, strlen(FLOW), "bands.rim", NULL, NULL, &length, &why);
    free(why);
    back = paper_edit(got, length, "bands[1]", NULL, "{name: rim, width: 5}", &length, &why);
    ck_assert_ptr_nonnull(strstr(back, "{name: rim, width: 5}"));
    free(why);
    free(got);
    free(back);
    shop_problems problems;
    shop_problems_init(&problems, NULL);
    shop_text *text = shop_text_read(BLOCK, strlen(BLOCK), &problems);
    static const struct {
        const char *path, *text;
    } told[] = {{"bands.rim.width", "5"},
                {"bands.weave.note", "two\nlines\n"},
                {"leather.trim", ""},
                {"leather.growth", NULL},
                {"bands.nosuch", NULL},
                {"piece", "Cedar box"},
                {"bands.rim", "{name: rim, width: 5, outer: {line: cut}}"},
                {"tools", "[{id: basket-m, kind: basket, length: 9.5}]"},
                {"tools.basket-m.kind", "basket"}};
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
        got = shop_text_get(text, told[i].path);
        if (told[i].text)
            ck_assert_str_eq(got, told[i].text);
        else
            ck_assert_ptr_null(got);
        free(got);
    }
    shop_text_free(text);
    shop_problems_free(&problems);
}
END_TEST

/* Changes one value of a file and back again; the bytes must be the old ones, and so must they be if it is set to what
 * it is. Returns whether there was such a value. */
static bool there_and_back(const char *bytes, size_t length, const char *path) {
    shop_problems problems;
    shop_problems_init(&problems, NULL);
    shop_text *text = shop_text_read(bytes, length, &problems);
    ck_assert_ptr_nonnull(text);
    char *was = shop_text_get(text, path);
    shop_text_free(text);
    shop_problems_free(&problems);
    if (!was)
        return false;
    const char *new_text = shop_field_is_text(shop_field_find(path)) ? "seven" : "7"; /* neither needs quotes */
    size_t size;
    char *why, *same = paper_edit(bytes, length, path, was, was, &size, &why);
    ck_assert_msg(same && size == length && memcmp(same, bytes, size) == 0, "%s=%s: %s", path, was, why);
    free(same);
    free(why);
    char *other = paper_edit(bytes, length, path, was, new_text, &size, &why);
    ck_assert_msg(other && strcmp(other, bytes) != 0, "%s: %s", path, why);
    free(why);
    char *back = paper_edit(other, size, path, new_text, was, &size, &why);
    bool one_line = !strstr(path, ".note"); /* a text over several lines comes back on one */
    ck_assert_msg(back && (!one_line || size == length) && (!one_line || memcmp(back, bytes, size) == 0),
                  "%s: %s and back: %s", path, was, back);
    free(other);
    free(why);
    free(back);
    free(was);
    return true;
}

/* "bands[].width" with a number in the brackets. */
static void numbered(char out[128], const char *pattern, size_t number) {
    const char *at = strstr(pattern, "[]");
    snprintf(out, 128, "%.*s[%zu]%s", (int)(at - pattern), pattern, number, at + 2);
}

START_TEST(every_value_of_the_examples_goes_there_and_back) {
    glob_t found;
    ck_assert_int_eq(glob("projects/*.yaml", 0, NULL, &found), 0);
    size_t count, values = 0;
    const shop_field *fields = shop_fields(&count);
    for (size_t f = 0; f < found.gl_pathc; f++) {
        shop_problems problems;
        shop_problems_init(&problems, found.gl_pathv[f]);
        char *bytes, path[128];
        size_t length;
        ck_assert_int_eq(shop_read(found.gl_pathv[f], &bytes, &length, &problems), SHOP_OK);
        for (size_t i = 0; i < count; i++) {
            bool item = strstr(fields[i].path, "[]") != NULL;
            for (size_t n = 1; n <= (item ? 8u : 1u); n++) {
                if (item)
                    numbered(path, fields[i].path, n);
                values += there_and_back(bytes, length, item ? path : fields[i].path);
            }
        }
        free(bytes);
        shop_problems_free(&problems);
    }
    globfree(&found);
    ck_assert_uint_gt(values, 100);
}
END_TEST

START_TEST(old_text_decides_between_inserting_and_replacing) {
    static const char before[] = "bands: [{name: a}, {name: b}]\n";
    size_t length;
    char *why, *got = paper_edit(before, strlen(before), "bands[2]", "{name: b}", "{name: c}", &length, &why);
    ck_assert_str_eq(got, "bands: [{name: a}, {name: c}]\n");
    free(got);
    free(why);
    got = paper_edit(before, strlen(before), "bands[2]", NULL, "{name: c}", &length, &why);
    ck_assert_str_eq(got, "bands: [{name: a}, {name: c}, {name: b}]\n");
    free(got);
    free(why);
}
END_TEST

Suite *shop_edits_suite(void) {
    Suite *suite = suite_create("edits");
    TCase *all = tcase_create("bytes");
    tcase_add_loop_test(all, only_the_value_changes, 0, sizeof swaps / sizeof swaps[0]);
    tcase_add_loop_test(all, line_endings_and_marks_stay, 0, sizeof swaps / sizeof swaps[0]);
    tcase_add_loop_test(all, special_places, 0, sizeof rows / sizeof rows[0]);
    tcase_add_test(all, undone_by_the_old_text);
    tcase_add_test(all, every_value_of_the_examples_goes_there_and_back);
    tcase_add_test(all, old_text_decides_between_inserting_and_replacing);
    suite_add_tcase(suite, all);
    return suite;
}
