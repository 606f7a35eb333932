/* check_fields.c - every field of the one table is found on a card of the workbench, with its help and its range, is
 * changed there by keys, stands in the text as it was typed, and goes back byte for byte. What is wrong is refused in
 * place and stays typed. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_fields_suite(void);

/* What a hand does on a field, what then stands in the file (NULL: what was typed), and what is refused (NULL: there is
 * nothing that could be wrong). */
typedef struct sample {
    const char *path, *keys, *text, *wrong;
    unsigned kinds; /* the row of these kinds of tools; 0: every row of the path */
} sample;

#define TYPED(text) "Enter \"" text "\" Enter", text
#define NEXT "Right", NULL

static const sample samples[] = {
    {"piece", TYPED("Box, of two parts"), NULL, 0},
    {"units", NEXT, NULL, 0},
    {"sizes", NEXT, NULL, 0},
    {"start-mark", TYPED("12.5 mm"), "middle", 0},
    {"fixed", "Enter Enter \"bands.weave.width\" Enter Esc", "[bands.weave.width]", "bands.none.width", 0},
    {"dividers", NEXT, NULL, 0},
    {"leather.weight", TYPED("8 oz"), "21 mm", 0},
    {"leather.trim", TYPED("3"), "101", 0},
    {"leather.growth", TYPED("2 %"), "30 %", 0},
    {"outline.shape", NEXT, NULL, 0},
    {"outline.diameter", TYPED("301"), "4", 0},
    {"outline.around", TYPED("920"), "0", 0},
    {"outline.chord", TYPED("90"), "301", 0},
    {"outline.depth", TYPED("40"), "deep", 0},
    {"outline.length", TYPED("399.5"), "0.5", 0},
    {"outline.width", TYPED("300 1/2"), "wide", 0},
    {"outline.corner", "Enter Down Enter \"7\" Enter Esc", "[7, 0, 0, 0]", "151", 0},
    {"outline.start", "Enter \"point 20\" Enter", "{point: 20}", "blunt", 0},
    {"outline.end", "\"25\" Enter", "{point: 25}", "point 0.5", 0},
    {"outline.corners", "Enter Down Enter \"401, 1, 2\" Enter Esc", "[[0, 0], [401, 1, 2], [400, 300], [0, 300]]",
     "401", 0},
    {"outline.svg", TYPED("M 0 0 H 410 V 300 H 0 Z"), "M 0 0 K 9", 0},
    {"outline.scale", TYPED("1.5"), "0", 0},
    {"outline.radius", TYPED("210"), "0.5", 0},
    {"outline.sweep", TYPED("170"), "0", 0},
    {"bands[].name", TYPED("second"), "a/b", 0},
    {"bands[].space", TYPED("1.25 mm"), "-1", 0},
    {"bands[].width", TYPED("9 mm"), "1001", 0},
    {"bands[].fill", NEXT, NULL, 0},
    {"bands[].tool", NEXT, NULL, 0},
    {"bands[].lay", NEXT, NULL, 0},
    {"bands[].slant", NEXT, NULL, 0},
    {"bands[].guide", TYPED("45 %"), "101 %", 0},
    {"bands[].overlap", TYPED("55 %"), "over", 0},
    {"bands[].count", TYPED("30"), "none", 0},
    {"bands[].group", TYPED("2"), "0", 0},
    {"bands[].lose", TYPED("last 4"), "last", 0},
    {"bands[].anchors", "Enter a \"top\" Enter Esc", "[bottom, top]", "centre", 0},
    {"bands[].outer.line", NEXT, NULL, 0},
    {"bands[].outer.bevel", NEXT, NULL, 0},
    {"bands[].inner.line", NEXT, NULL, 0},
    {"bands[].inner.bevel", NEXT, NULL, 0},
    {"bands[].note", TYPED("Struck on a wet day: held well"), NULL, 0},
    {"bands[].struck", "Enter Enter \"{impressions: 11}\" Enter Esc", "[{impressions: 11}]", "{impressions: -1}", 0},
    {"tools[].id", TYPED("other-9"), "a.b", 0},
    {"tools[].kind", NEXT, NULL, 0},
    {"tools[].name", TYPED("the old one"), NULL, 0},
    {"tools[].note", TYPED("worn at one end"), NULL, 0},
    {"tools[].retired", NEXT, NULL, 0},
    {"tools[].blows", TYPED("4"), "0", 0},
    {"tools[].length", TYPED("9.25"), "61", 0},
    {"tools[].width", TYPED("5.5 mm"), "0", 0},
    {"tools[].bar", TYPED("3"), "9.5", 0},
    {"tools[].rail", TYPED("1.5"), "3.5", 0},
    {"tools[].overlap", TYPED("40 %"), "101 %", 0},
    {"tools[].give", TYPED("6 %"), "31 %", 0},
    {"tools[].pitch", TYPED("3.85"), "0.4", 0},
    {"tools[].teeth", TYPED("6"), "51", 0},
    {"tools[].steps.closest", TYPED("3.7"), "1001", 0},
    {"tools[].steps.usual", TYPED("7.5"), "1001", 1u << BW_BASKET},
    {"tools[].steps.usual", TYPED("9.3"), "1001", 1u << BW_BORDER},
    {"tools[].steps.usual", TYPED("4.05"), "1001", 1u << BW_IRON},
    {"tools[].steps.widest", TYPED("9.8"), "0", 0},
    {"tools[].strips", "Enter Enter \"{impressions: 10, length: 74}\" Enter Esc", "[{impressions: 10, length: 74}]",
     "{impressions: 10}", 0},
    {"tools[].rounds", "Enter Enter \"{impressions: 40, length: 300}\" Enter Esc", "[{impressions: 40, length: 300}]",
     "11", 0},
    {"tools[].least", TYPED("2"), "201", 0},
    {"tools[].most", TYPED("150"), "0", 0},
    {"tools[].grid", TYPED("0.5"), "0", 0},
    {"rates.per-hour", TYPED("32"), "dear", 0},
    {"rates.strikes-per-minute", TYPED("12.5"), "0", 0},
    {"rates.currency", TYPED("crowns"), NULL, 0},
};

static const sample *sample_of(const shop_field *field, unsigned kind) {
    for (size_t i = 0; i < sizeof samples / sizeof samples[0]; i++) {
        if (strcmp(samples[i].path, field->path) == 0 && (samples[i].kinds == 0 || (samples[i].kinds & kind) != 0)) {
            return &samples[i];
        }
    }
    ck_abort_msg("%s: no keys for it", field->path);
    return NULL;
}

/* ---- a layout in which every field has a bearing ---- */

static const char *const outlines[] = {
    [BW_CIRCLE] = "{shape: circle, diameter: 300}",
    [BW_ELLIPSE] = "{shape: ellipse, length: 400, width: 300}",
    [BW_RECTANGLE] = "{shape: rectangle, length: 400, width: 300}",
    [BW_STRAP] = "{shape: strap, length: 400, width: 300}",
    [BW_POLYGON] = "{shape: polygon, corners: [[0, 0], [400, 0], [400, 300], [0, 300]]}",
    [BW_PATH] = "{shape: path, svg: M 0 0 H 400 V 300 H 0 Z}",
    [BW_LINE] = "{shape: line, length: 400}",
    [BW_ARC] = "{shape: arc, radius: 200, sweep: 180}",
};
enum { SHAPES = sizeof outlines / sizeof outlines[0], BANDS = 4, TOOLS = 7 };

#define MEASURED "strips: [{impressions: 10, length: 81}], rounds: [{impressions: 41, length: 300, aimed: 7.4}]"

static const char rest[] =
    "bands:\n"
    "  - {name: bare, space: 2, width: 2, outer: {line: cut}, inner: {line: cut}, struck: [{impressions: 1}]}\n"
    "  - {name: weave, space: 2, width: 14, fill: basket, tool: basket-m, slant: inward, lose: anchored, anchors: "
    "[bottom],"
    " outer: {line: cut}, inner: {line: cut}, struck: [{impressions: 1}]}\n"
    "  - {name: rim, space: 1, width: 6, fill: border, tool: shell-5, lose: anchored, anchors: [bottom], outer: {line: "
    "cut}, inner: {line: cut}, struck: [{impressions: 1}]}\n"
    "  - {name: stitching, space: 2, fill: stitch, tool: iron-4, lose: anchored, anchors: [bottom], outer: {line: cut},"
    " inner: {line: cut}, struck: [{impressions: 1}]}\n"
    "tools:\n"
    "  - {id: basket-m, kind: basket, length: 6, width: 3.2}\n"
    "  - {id: shell-5, kind: border, length: 5.2, width: 5}\n"
    "  - {id: iron-4, kind: iron, pitch: 4, teeth: 6}\n"
    "  - {id: spare-basket, kind: basket, length: 9.5, width: 6.4, " MEASURED "}\n"
    "  - {id: spare-border, kind: border, length: 9.5, width: 5, " MEASURED "}\n"
    "  - {id: spare-iron, kind: iron, pitch: 4, " MEASURED "}\n"
    "  - {id: spare-beveler, kind: beveler, width: 5}\n"
    "  - {id: wings, kind: dividers, most: 200}\n"
    "  - {id: round-knife, kind: knife}\n"
    "  - {id: soft-maul, kind: maul}\n";

static bench *open_layout(int shape) {
    char text[4000];
    snprintf(text, sizeof text, "bandwright-project: 1\noutline: %s\n%s", outlines[shape], rest);
    hands_write("every.yaml", text);
    return hands_open("every.yaml");
}

/* ---- hands ---- */

/* In a window without drawings: thousands of keys would take their time. */
static void press(bench *b, const char *script) {
    FILE *nowhere = fopen("/dev/null", "w");
    shop_problems problems;
    shop_problems_init(&problems, "keys");
    ck_assert_ptr_nonnull(nowhere);
    bool fine = bench_replay(b, script, strlen(script), (bench_size){12, 4}, true, nowhere, &problems);
    fclose(nowhere);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    ck_assert_msg(fine, "the keys %s", script);
}

static void find(bench *b, size_t card, const char *path) {
    bench_card rows;
    for (size_t i = 0; b->card != card && i < 100; i++) {
        press(b, "Tab");
    }
    ck_assert_uint_eq(b->card, card);
    press(b, "Home");
    card_read(b, &rows);
    for (size_t i = 0; i + 1 < rows.count && strcmp(rows.rows[b->field].path, path) != 0; i++) {
        press(b, "Down");
    }
    ck_assert_msg(strcmp(rows.rows[b->field].path, path) == 0, "%s is on no card", path);
}

static void is_as(const bench *b, const char *bytes, const char *path) {
    char *now = hands_bytes(b);
    ck_assert_msg(strcmp(now, bytes) == 0, "%s left a trace:\n%s", path, now);
    free(now);
}

/* Refused in place: nothing changes, the reason is said, and what was typed stays. */
static void refuse(bench *b, const sample *one, const char *path) {
    char keys[200], *bytes = hands_bytes(b);
    bool item = strncmp(one->keys, "Enter Enter", 11) == 0 || strncmp(one->keys, "Enter Down", 10) == 0 ||
                strncmp(one->keys, "Enter a", 7) == 0;
    snprintf(keys, sizeof keys, "Enter %s\"%s\" Enter",
             item ? strstr(one->keys, "Down") ? "Down Enter " : "Enter " : "", one->wrong);
    press(b, keys);
    ck_assert_msg(b->bad && b->message[0] != '\0', "%s: %s is not refused", path, one->wrong);
    ck_assert_msg(bench_where(b) == BENCH_TYPING, "%s: %s", path, b->message);
    ck_assert_str_eq(b->entry.text, one->wrong);
    is_as(b, bytes, path);
    press(b, "Esc");
    if (b->screen != BENCH_WORK) {
        press(b, "Esc");
    }
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    free(bytes);
}

/* The path after a change of the name in it. */
static void renamed(const shop_field *field, const sample *one, char *path, size_t room) {
    if (strcmp(field->path, "bands[].name") == 0 || strcmp(field->path, "tools[].id") == 0) {
        snprintf(path, room, "%.5s.%s.%s", field->path, one->text, strrchr(field->path, '.') + 1);
    }
}

static void change(bench *b, const shop_field *field, unsigned kind, size_t card, const char *place) {
    const sample *one = sample_of(field, kind);
    char path[ROW_TEXT], range[ROW_TEXT], *bytes = hands_bytes(b);
    snprintf(path, sizeof path, "%s", place);
    find(b, card, path);
    bench_card rows;
    card_read(b, &rows);
    row_range_words(b, rows.rows[b->field].field, range);
    ck_assert_msg(range[0] != '\0', "%s: nothing says what is allowed", path);
    if (one->wrong != NULL) {
        refuse(b, one, path);
        find(b, card, path);
    }
    const shop_text *text = desk_project(bench_desk(b))->text;
    char *before = shop_text_get(text, path);
    press(b, one->keys);
    ck_assert_msg(!b->bad, "%s, %s: %s", path, one->keys, b->message);
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    renamed(field, one, path, sizeof path);
    char *after = shop_text_get(desk_project(bench_desk(b))->text, path);
    ck_assert_msg(after != NULL, "%s is not in the file after %s: %s", path, one->keys, b->message);
    if (one->text != NULL) {
        ck_assert_msg(strcmp(after, one->text) == 0, "%s: %s in place of %s", path, after, one->text);
    }
    ck_assert_msg(before == NULL || strcmp(before, after) != 0, "%s: %s did not change it", path, one->keys);
    free(before);
    free(after);
    press(b, "u");
    is_as(b, bytes, path);
    free(bytes);
}

/* ---- the walks ---- */

/* All of the piece, and of the outline what this shape reads. */
START_TEST(fields_of_the_piece) {
    size_t count, walked = 0;
    const shop_field *fields = shop_fields(&count);
    bench *b = open_layout(_i);
    for (size_t i = 0; i < count; i++) {
        const shop_field *field = &fields[i];
        bool project = field->owner == SHOP_OF_PROJECT || field->owner == SHOP_OF_RATES;
        bool other = strncmp(field->path, "outline.", 8) == 0 && field->kinds != 0 && (field->kinds & 1u << _i) == 0;
        if (!project || other) {
            continue;
        }
        if (field->type == SHOP_TYPE_FORMAT) {
            ck_assert(field->least == field->most); /* there is nothing to be changed to */
            continue;
        }
        change(b, field, 0, 0, field->path);
        walked++;
    }
    ck_assert_uint_ge(walked, 14);
    bench_destroy(b);
}
END_TEST

START_TEST(fields_of_bands) {
    size_t count, walked = 0;
    const shop_field *fields = shop_fields(&count);
    bench *b = open_layout(BW_ELLIPSE);
    const shop_project *project = desk_project(bench_desk(b));
    bw_fill fill = project->bands[_i].fill;
    char name[64], path[ROW_TEXT];
    snprintf(name, sizeof name, "%s", project->bands[_i].name);
    ck_assert_int_eq(fill, _i); /* one of each */
    for (size_t i = 0; i < count; i++) {
        if (fields[i].owner == SHOP_OF_BAND && (fields[i].kinds == 0 || (fields[i].kinds & 1u << fill) != 0)) {
            snprintf(path, sizeof path, "bands.%s.%s", name, fields[i].path + strlen("bands[]."));
            change(b, &fields[i], 0, (size_t)_i + 1, path);
            walked++;
        }
    }
    ck_assert_uint_ge(walked, 10);
    bench_destroy(b);
}
END_TEST

START_TEST(fields_of_tools) {
    size_t count, walked = 0, index = 3 + (size_t)_i; /* behind those that bands use */
    const shop_field *fields = shop_fields(&count);
    bench *b = open_layout(BW_ELLIPSE);
    const shop_project *project = desk_project(bench_desk(b));
    bw_kind kind = project->tools[index].kind;
    char id[64], path[ROW_TEXT];
    snprintf(id, sizeof id, "%s", project->tools[index].id);
    ck_assert_int_eq(kind, _i);
    for (size_t i = 0; i < count; i++) {
        if (fields[i].owner == SHOP_OF_TOOL && (fields[i].kinds == 0 || (fields[i].kinds & 1u << kind) != 0)) {
            snprintf(path, sizeof path, "tools.%s.%s", id, fields[i].path + strlen("tools[]."));
            change(b, &fields[i], 1u << kind, 1 + BANDS + index, path);
            walked++;
        }
    }
    ck_assert_uint_ge(walked, 6);
    bench_destroy(b);
}
END_TEST

/* What a file may hold, by what it is of: a row that is lost from the table is missed here. */
static const struct {
    shop_owner owner;
    unsigned kinds; /* 0: of all */
    const char *paths;
} must_be[] = {
    {SHOP_OF_PROJECT, 0,
     "piece units sizes start-mark fixed dividers leather.weight leather.trim leather.growth outline.shape"},
    {SHOP_OF_RATES, 0, "rates.per-hour rates.strikes-per-minute rates.currency"},
    {SHOP_OF_PROJECT, 1u << BW_CIRCLE, "outline.diameter outline.around outline.chord outline.depth"},
    {SHOP_OF_PROJECT, 1u << BW_ELLIPSE, "outline.length outline.width"},
    {SHOP_OF_PROJECT, 1u << BW_RECTANGLE, "outline.length outline.width outline.corner"},
    {SHOP_OF_PROJECT, 1u << BW_STRAP, "outline.length outline.width outline.start outline.end"},
    {SHOP_OF_PROJECT, 1u << BW_POLYGON, "outline.corners"},
    {SHOP_OF_PROJECT, 1u << BW_PATH, "outline.svg outline.scale"},
    {SHOP_OF_PROJECT, 1u << BW_LINE, "outline.length"},
    {SHOP_OF_PROJECT, 1u << BW_ARC, "outline.radius outline.sweep"},
    {SHOP_OF_BAND, 0,
     "bands[].name bands[].space bands[].width bands[].fill bands[].outer.line bands[].outer.bevel bands[].inner.line "
     "bands[].inner.bevel bands[].note bands[].struck"},
    {SHOP_OF_BAND, 1u << BW_FILL_BASKET,
     "bands[].tool bands[].lay bands[].slant bands[].guide bands[].overlap bands[].count bands[].lose bands[].anchors"},
    {SHOP_OF_BAND, 1u << BW_FILL_BORDER,
     "bands[].tool bands[].guide bands[].count bands[].group bands[].lose bands[].anchors"},
    {SHOP_OF_BAND, 1u << BW_FILL_STITCH, "bands[].tool bands[].count bands[].lose bands[].anchors"},
    {SHOP_OF_TOOL, 0, "tools[].id tools[].kind tools[].name tools[].note tools[].retired tools[].blows"},
    {SHOP_OF_TOOL, 1u << BW_BASKET,
     "tools[].length tools[].width tools[].bar tools[].rail tools[].overlap tools[].steps.closest tools[].steps.usual "
     "tools[].steps.widest tools[].strips tools[].rounds"},
    {SHOP_OF_TOOL, 1u << BW_BORDER,
     "tools[].length tools[].width tools[].give tools[].steps.closest tools[].steps.usual tools[].steps.widest "
     "tools[].strips tools[].rounds"},
    {SHOP_OF_TOOL, 1u << BW_IRON,
     "tools[].pitch tools[].teeth tools[].give tools[].steps.closest tools[].steps.usual tools[].steps.widest "
     "tools[].strips tools[].rounds"},
    {SHOP_OF_STRIP, 1u << BW_IRON,
     "tools[].strips[].impressions tools[].strips[].length tools[].strips[].struck tools[].strips[].aimed "
     "tools[].strips[].places tools[].strips[].leather tools[].strips[].date tools[].rounds[].impressions "
     "tools[].rounds[].length tools[].rounds[].aimed tools[].rounds[].piece tools[].rounds[].date"},
    {SHOP_OF_STRUCK, 0,
     "bands[].struck[].run bands[].struck[].row bands[].struck[].impressions bands[].struck[].of bands[].struck[].from "
     "bands[].struck[].left bands[].struck[].aimed bands[].struck[].done bands[].struck[].date"},
    {SHOP_OF_TOOL, 1u << BW_BEVELER, "tools[].width"},
    {SHOP_OF_TOOL, 1u << BW_DIVIDERS, "tools[].least tools[].most tools[].grid"},
};

START_TEST(no_field_is_lost) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    for (size_t i = 0; i < sizeof must_be / sizeof must_be[0]; i++) {
        char paths[600];
        snprintf(paths, sizeof paths, "%s", must_be[i].paths);
        for (char *left = paths, *path; (path = strtok_r(left, " ", &left)) != NULL;) {
            size_t found = 0;
            for (size_t k = 0; k < count; k++) {
                bool of = fields[k].kinds == 0 || (fields[k].kinds & must_be[i].kinds) != 0;
                found += fields[k].owner == must_be[i].owner && of && strcmp(fields[k].path, path) == 0;
            }
            ck_assert_msg(found == 1, "%s of kinds %x is in the table %zu times", path, must_be[i].kinds, found);
        }
    }
    for (size_t i = 0; i < sizeof samples / sizeof samples[0]; i++) { /* nor are there keys for what is no field */
        size_t found = 0;
        for (size_t k = 0; k < count; k++) {
            found += strcmp(fields[k].path, samples[i].path) == 0;
        }
        ck_assert_msg(found > 0, "%s is in no row of the table", samples[i].path);
    }
}
END_TEST

/* One line of 80 holds the help, and the label has its room beside the value. */
START_TEST(every_field_is_told) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    for (size_t i = 0; i < count; i++) {
        ck_assert_msg(strlen(fields[i].help) <= 79 && fields[i].help[0] != '\0', "%s: %s", fields[i].path,
                      fields[i].help);
        ck_assert_msg(strlen(fields[i].label) <= 11, "%s: %s", fields[i].path, fields[i].label);
    }
}
END_TEST

Suite *bench_fields_suite(void) {
    Suite *suite = suite_create("every field by keys");
    TCase *tests = tcase_create("fields");
    tcase_set_timeout(tests, 240);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_loop_test(tests, fields_of_the_piece, 0, SHAPES);
    tcase_add_loop_test(tests, fields_of_bands, 0, BANDS);
    tcase_add_loop_test(tests, fields_of_tools, 0, TOOLS);
    tcase_add_test(tests, every_field_is_told);
    tcase_add_test(tests, no_field_is_lost);
    suite_add_tcase(suite, tests);
    return suite;
}
