/* check_outline.c - every shape read to the value, what is wrong with it told where it stands, and changed in place. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/curve.h"
#include "paper.h"
#include "shop/alloc.h"

Suite *shop_outline_suite(void);

#define HEAD "bandwright-project: 1\n"

static const bw_outline *outline_of(const char *yaml, shop_project **project) {
    *project = paper_project(yaml);
    return &(*project)->layout.outline;
}

START_TEST(a_strap_and_its_ends) {
    shop_project *p;
    const bw_outline *o = outline_of(
        HEAD "outline: {shape: strap, length: 900, width: 38, start: round, end: {point: 1 in, why: fit}}\n", &p);
    ck_assert_int_eq(o->shape, BW_STRAP);
    ck_assert_double_eq(o->length, 900);
    ck_assert_double_eq(o->width, 38);
    ck_assert_int_eq(o->start.kind, BW_END_ROUND);
    ck_assert_int_eq(o->end.kind, BW_END_POINT);
    ck_assert_double_eq(o->end.point, 25.4);
    shop_project_free(p);
    o = outline_of(HEAD "units: in\noutline:\n  shape: strap\n  length: 36\n  width: 1 1/2\n  end:\n    point: 2\n",
                   &p);
    ck_assert_int_eq(o->start.kind, BW_END_SQUARE);
    ck_assert_int_eq(o->end.kind, BW_END_POINT);
    ck_assert_double_eq(o->end.point, 50.8);
    ck_assert_double_eq_tol(o->width, 38.1, 1e-12);
    shop_project_free(p);
}
END_TEST

/* The same corners in flow style, in block style, and through an alias. */
START_TEST(corners_in_every_style) {
    static const char *const texts[] = {
        HEAD "outline: {shape: polygon, corners: [[0, 0], [60 mm, 0], [6 cm, 40, 5], [-1 in, 40.5]]}\n",
        HEAD "outline:\n  shape: polygon\n  corners:\n    - [0, 0]\n    - - 60\n      - 0\n    # a round one\n"
             "    - [60, 40,\n       5]\n    - [-25.4, 40.5]\n",
        HEAD "zero: &z [0, 0]\noutline:\n  shape: polygon\n  corners: [*z, [60, 0], [60, 40, 5], [-25.4, 40.5, 0]]\n"};
    static const bw_corner wanted[] = {{0, 0, 0}, {60, 0, 0}, {60, 40, 5}, {-25.4, 40.5, 0}};
    for (size_t t = 0; t < 3; t++) {
        shop_project *p;
        const bw_outline *o = outline_of(texts[t], &p);
        ck_assert_uint_eq(o->corner_count, 4);
        for (int i = 0; i < 4; i++) {
            ck_assert_double_eq(o->corners[i].x, wanted[i].x);
            ck_assert_double_eq(o->corners[i].y, wanted[i].y);
            ck_assert_double_eq(o->corners[i].radius, wanted[i].radius);
        }
        shop_project_free(p);
    }
}
END_TEST

/* All styles that YAML has for a text over several lines. */
START_TEST(path_data_in_every_style) {
    static const char *const texts[] = {"  svg: M 0 0 H 60 V 40 Z\n",
                                        "  svg: 'M 0 0 H 60 V 40 Z'\n",
                                        "  svg: \"M 0 0\\n H 60\\x20V 40 Z\"\n",
                                        "  svg: |\n    M 0 0\n    H 60 V 40 Z\n",
                                        "  svg: >-\n    M 0 0\n    H 60\n\n    V 40 Z\n",
                                        "  svg: M 0 0\n    H 60\n    V 40 Z\n",
                                        "  svg: 'M 0 0\n    H 60 V 40 Z'\n"};
    for (size_t t = 0; t < sizeof texts / sizeof texts[0]; t++) {
        char yaml[300], *value;
        shop_project *p;
        bw_curve *curve;
        snprintf(yaml, sizeof yaml, HEAD "outline:\n  shape: path\n%s  scale: 0.5\n", texts[t]);
        const bw_outline *o = outline_of(yaml, &p);
        ck_assert_double_eq(o->scale, 0.5);
        ck_assert_int_eq(bw_curve_create(o, NULL, &curve), BW_OK);
        ck_assert_double_eq_tol(bw_curve_length(curve), 30 + 20 + hypot(30, 20), 1e-9);
        bw_curve_destroy(curve);
        value = shop_project_get(p, "outline.svg"); /* shown on one line */
        ck_assert_msg(value && !strpbrk(value, "\r\n") && strncmp(value, "M 0 0", 5) == 0, "%s", value);
        ck_assert_int_eq(value[strlen(value) - 1], 'Z');
        free(value);
        shop_project_free(p);
    }
}
END_TEST

/* ---- what is wrong ---- */

typedef struct row {
    const char *yaml; /* behind the head */
    const char *said[3];
} row;

static const row rows[] = {
    {"outline: {shape: ellipse}\n",
     {"lid.yaml:2:10: error: outline.length: must be given. The oval", "lid.yaml:2:10: error: outline.width: must be"}},
    {"outline: {shape: ellipse, length: 5001, width: 0.5}\n",
     {"lid.yaml:2:35: error: outline.length: found '5001'; allowed: 1 to 5000 mm\n",
      "lid.yaml:2:48: error: outline.width: found '0.5'; allowed: 1 to 5000 mm\n"}},
    {"units: in\noutline: {shape: ellipse, length: 200, width: 5}\n",
     {"lid.yaml:3:35: error: outline.length: found '200'; allowed: 0.0393701 to 196.85 in\n"}},
    {"outline: {shape: strap, width: 38}\n", {"lid.yaml:2:10: error: outline.length: must be given. The strap"}},
    {"outline:\n  shape: strap\n  length: 300\n  width: 38\n  start: blunt\n  end: {point: 0.5}\n",
     {"lid.yaml:6:10: error: outline.start: found 'blunt'; allowed: square, round, or {point: LENGTH}, such as "
      "{point: 30}\n",
      "lid.yaml:7:16: error: outline.end.point: found '0.5'; allowed: 1 to 5000 mm\n"}},
    {"outline: {shape: strap, length: 300, width: 38, start: {point: 1,5}, end: [round]}\n",
     {"lid.yaml:2:66: error: outline.start.5: found '5'; a comma ends the value before it",
      "lid.yaml:2:75: error: outline.end: allowed: square, round, or {point: LENGTH}"}},
    {"outline: {shape: strap, length: 300, width: 38, start: {tip: 3}, end: {point: [3]}}\n",
     {"lid.yaml:2:56: error: outline.start: allowed: square", "lid.yaml:2:57: note: outline.start.tip: unknown key",
      "lid.yaml:2:79: error: outline.end.point: the length of the point must stand here"}},
    {"outline: {shape: strap, length: 50, width: 40, start: {point: 31}, end: round}\n",
     {"lid.yaml:2:55: error: outline.start: the ends take 51 mm of the length",
      "allowed: at most the length, 50 mm\n"}},
    {"outline: {shape: strap, length: 39, width: 40, start: round, end: round}\n",
     {"lid.yaml:2:55: error: outline.start: found 'round'; the ends take 40 mm"}},
    {"outline: {shape: polygon}\n", {"lid.yaml:2:10: error: outline.corners: must be given."}},
    {"outline: {shape: polygon, corners: }\n", {"lid.yaml:2:36: error: outline.corners: nothing stands here"}},
    {"outline: {shape: polygon, corners: 3}\n",
     {"lid.yaml:2:36: error: outline.corners: found '3'; a list of corners must stand here, such as [[0, 0],"}},
    {"outline: {shape: polygon, corners: [[0, 0], [1, 1]]}\n",
     {"lid.yaml:2:36: error: outline.corners: 2 corners; allowed: 3 to 10000\n"}},
    {"outline: {shape: polygon, corners: [[0, 0], [60], [60, 40, 5, 1], 7]}\n",
     {"lid.yaml:2:45: error: outline.corners[2]: too little; a corner is [x, y] or [x, y, radius]",
      "lid.yaml:2:51: error: outline.corners[3]: too much;",
      "lid.yaml:2:67: error: outline.corners[4]: found '7'; no list;"}},
    {"outline:\n  shape: polygon\n  corners:\n    - [0, zero]\n    - [100001, 0]\n    - [60, 40, -1]\n",
     {"lid.yaml:5:11: error: outline.corners[1][2]: found 'zero'; a length is written like",
      "lid.yaml:6:8: error: outline.corners[2][1]: found '100001'; allowed: -100000 to 100000 mm\n",
      "lid.yaml:7:16: error: outline.corners[3][3]: found '-1'; allowed: 0 to 5000 mm\n"}},
    {"outline: {shape: polygon, corners: [[0, 0], [60, [0]], [60, 40]]}\n",
     {"lid.yaml:2:50: error: outline.corners[2][2]: y of the corner must stand here, a length\n"}},
    {"outline: {shape: polygon, corners: [[0, 0], [60, 0], [0, 40], [60, 40]]}\n",
     {"lid.yaml:2:36: error: outline.corners: the edge crosses or touches itself at x 30 mm, y 20 mm, 96.06 mm and "
      "again 228.17 mm along it"}}, /* half the diagonal of 60 by 40 is 36.06 */
    {"units: in\noutline: {shape: polygon, corners: [[0, 0], [6, 0], [0, 4], [6, 4]]}\n",
     {"lid.yaml:3:36: error: outline.corners: the edge crosses or touches itself at x 3 in, y 2 in, "}},
    {"outline: {shape: polygon, corners: [[0, 0], [0, 0], [0, 0]]}\n",
     {"lid.yaml:2:36: error: outline.corners: all corners lie on one spot"}},
    {"outline: {shape: polygon, corners: [[0, 0], [9, 0], [5, 0]]}\n",
     {"lid.yaml:2:36: error: outline.corners: the edge crosses or touches itself at x "}},
    {"outline: {shape: polygon, corners: [[0, 0, 30], [40, 0, 20], [40, 40], [0, 40]]}\n",
     {"lid.yaml:2:37: error: outline.corners[1]: a rounding of 30 mm does not fit: with its neighbour's it needs "
      "50 mm of a side of 40 mm; allowed beside the others: at most 20 mm\n"}}, /* a right angle takes its radius */
    {"outline: {shape: polygon, corners: [[0, 0, 3], [40, 0, 41], [40, 40], [0, 40]]}\n",
     {"lid.yaml:2:48: error: outline.corners[2]: a rounding of 41 mm does not fit", "at most 37 mm\n"}},
    {"outline: {shape: path, scale: 2}\n", {"lid.yaml:2:10: error: outline.svg: must be given."}},
    {"outline: {shape: path, svg: M 0 0 H 9 V 9 Z, scale: 0}\n",
     {"lid.yaml:2:53: error: outline.scale: found '0'; allowed: any number above 0\n"}},
    {"outline: {shape: path, svg: M 0 0 H 9 X}\n",
     {"lid.yaml:2:39: error: outline.svg: found 'X' at byte 11 of the path data; "}},
    {"outline: {shape: path, svg: ''}\n",
     {"lid.yaml:2:30: error: outline.svg: found the end at byte 1 of the path data; "}},
    {"outline: {shape: path, svg: \"M 0 0 H 9\\0\"}\n",
     {"lid.yaml:2:29: error: outline.svg: found 'M 0 0 H 9\\x00'; "}},
    {"outline: {shape: path, svg: [M, 0]}\n", {"lid.yaml:2:29: error: outline.svg: a list stands here, but a single"}},
    {"outline: {shape: path, svg: @drawing.svg}\n", {"lid.yaml:2:29: error: this is no YAML"}},
    {"outline: {shape: path, svg: '@drawing.svg'}\n",
     {"lid.yaml:2:29: error: outline.svg: found '@drawing.svg'; path data begin with M; a drawing is read once, by: "}},
    {"outline:\n  shape: path\n  svg: |- # drawn by hand\n    M 0 0\n    H 9\n\n      V 9 Y 3\n",
     {"lid.yaml:8:11: error: outline.svg: found 'Y 3' at byte "}},
    {"outline:\n  shape: path\n  svg: >\n    M 0 0\n    H 9 Q 3\n  scale: 1\n",
     {"lid.yaml:6:12: error: outline.svg: found the end at byte "}},
    {"outline:\n  shape: path\n  svg: M 0 0\n    H 9\n    W 3\n", {"lid.yaml:6:5: error: outline.svg: found 'W 3'"}},
    {"outline:\n  shape: path\n  svg: 'M 0 0\n    H 9 W 3'\n", {"lid.yaml:5:9: error: outline.svg: found 'W 3'"}},
    {"outline:\n  shape: path\n  svg: \"M 0 0\n    H 9 W 3\"\n", {"lid.yaml:5:9: error: outline.svg: found 'W 3'"}},
    {"outline:\n  shape: path\n  svg: \"M 0 0\\x20\n    H 9 W 3\"\n", /* escapes: where the value begins */
     {"lid.yaml:4:8: error: outline.svg: found 'W 3'"}},
    {"outline: {shape: path, svg: M 0 0}\n",
     {"lid.yaml:2:29: error: outline.svg: found 'M 0 0'; the path has no length"}},
    {"outline: {shape: path, svg: M 0 0 L 60 0 L 0 40 L 60 40 Z}\n",
     {"lid.yaml:2:29: error: outline.svg: found 'M 0 0 L 60 0 L 0 40 L 60 40 Z'; the edge crosses or touches itself at "
      "x 30 mm, y 20 mm, 96.06 mm and again 228.17 mm along it"}}, /* as it is drawn */
    /* all of a file in one go: the edge and a band */
    {"outline: {shape: polygon, corners: [[0, 0], [60, 0], [0, 40], [60, 40]]}\nbands: [{name: a, width: -1}]\n",
     {"lid.yaml:2:36: error: outline.corners: the edge", "lid.yaml:3:26: error: bands.a.width: found '-1'"}},
};

START_TEST(what_is_wrong_is_told_where_it_stands) {
    char yaml[600];
    shop_project *project;
    snprintf(yaml, sizeof yaml, HEAD "%s", rows[_i].yaml);
    char *said = paper_read(yaml, strlen(yaml), &project);
    ck_assert_msg(project == NULL, "%s must be refused", yaml);
    for (int i = 0; i < 3 && rows[_i].said[i]; i++)
        ck_assert_msg(strstr(said, rows[_i].said[i]) != NULL, "wanted '%s' in: %s", rows[_i].said[i], said);
    ck_assert_msg(!strstr(said, "do not go together") && !strstr(said, "there is no edge that can be planned"), "%s",
                  said);
    free(said);
}
END_TEST

/* Keys of another shape are kept and noted, and their values not looked at. */
START_TEST(keys_of_other_shapes_are_kept) {
    char *said =
        paper_read(HEAD "outline: {shape: circle, diameter: 90, corners: [[1]], svg: X, scale: -1, start: x}\n",
                   strlen(HEAD) + 84, NULL);
    static const char *const keys[] = {"corners", "svg", "scale", "start"};
    for (int i = 0; i < 4; i++) {
        char wanted[100];
        snprintf(wanted, sizeof wanted, "note: outline.%s: has no meaning here and is kept as it is", keys[i]);
        ck_assert_msg(strstr(said, wanted) != NULL, "%s", said);
    }
    ck_assert_ptr_null(strstr(said, "error"));
    free(said);
}
END_TEST

static char *wheel(int corners) {
    size_t room = (size_t)corners * 60 + 100, used;
    char *yaml = malloc(room);
    ck_assert_ptr_nonnull(yaml);
    used = (size_t)snprintf(yaml, room, HEAD "outline:\n  shape: polygon\n  corners:\n");
    for (int i = 0; i < corners; i++)
        used += (size_t)snprintf(yaml + used, room - used, "  - [%.6f, %.6f]\n", 100 * cos(2 * BW_PI * i / corners),
                                 100 * sin(2 * BW_PI * i / corners));
    return yaml;
}

START_TEST(corners_are_counted) {
    char *yaml = wheel(10000), *said;
    shop_project *project = paper_project(yaml);
    ck_assert_uint_eq(project->layout.outline.corner_count, 10000);
    shop_project_free(project);
    free(yaml);
    yaml = wheel(10001);
    said = paper_read(yaml, strlen(yaml), &project);
    ck_assert_ptr_null(project);
    ck_assert_msg(strstr(said, "outline.corners: 10001 corners; allowed: 3 to 10000") != NULL, "%s", said);
    free(said);
    free(yaml);
}
END_TEST

/* ---- get and set ---- */

#define POLYGON HEAD "outline: # as cut\n  shape: polygon\n  corners: [[0, 0], [60 , 0], [60, 40, 5]] # mm\nunits: mm\n"
#define LINES HEAD "outline:\n  shape: polygon\n  corners:\n  - [0, 0]   # heel\n  - [60, 0]\n  - - 60\n    - 40\n"
#define STRAP HEAD "outline: {shape: strap, length: 900, width: 38, end: {point: 30}} # belt\n"
#define DRAWN                                                                                                          \
    HEAD "outline:\n  shape: path\n  svg: |  # from the template\n    M 0 0\n    H 9 V 9 Z\n  scale: 2 # twice\n"

typedef struct edit_row {
    const char *yaml, *path, *value, *from, *to; /* value NULL: taken out */
} edit_row;

static const edit_row edits[] = {
    {POLYGON, "outline.corners[2]", "[55, 1 in]", "[60 , 0]", "[55, 1 in]"},
    {POLYGON, "outline.corners[3][3]", "8", "40, 5]", "40, 8]"},
    {POLYGON, "outline.corners[2][3]", "2", "[60 , 0]", "[60 , 0, 2]"},
    {POLYGON, "outline.corners[3][3]", NULL, "40, 5]", "40]"},
    {POLYGON, "outline.corners[4]", "[0, 40]", "40, 5]]", "40, 5], [0, 40]]"},
    {POLYGON, "outline.corners[1]", NULL, "[0, 0], ", ""},
    {POLYGON, "outline.corners", "[[0, 0], [9, 0], [9, 9]]", "[[0, 0], [60 , 0], [60, 40, 5]]",
     "[[0, 0], [9, 0], [9, 9]]"},
    {LINES, "outline.corners[1][1]", "-3", "[0, 0]", "[-3, 0]"},
    {LINES, "outline.corners[3][2]", "41", "- 40\n", "- 41\n"},
    {LINES, "outline.corners[2]", NULL, "  - [60, 0]\n", ""},
    {LINES, "outline.corners[4]", "[0, 40]", "- 40\n", "- 40\n  - [0, 40]\n"},
    {STRAP, "outline.end", "round", "{point: 30}", "round"},
    {STRAP, "outline.end", "{point: 1 1/4 in}", "{point: 30}", "{point: 1 1/4 in}"},
    {STRAP, "outline.start", "{point: 20}", "{point: 30}", "{point: 30}, start: {point: 20}"},
    {STRAP, "outline.end", NULL, ", end: {point: 30}", ""},
    {STRAP, "outline.width", "1 1/2 in", "38", "1 1/2 in"},
    {DRAWN, "outline.scale", "0.5", "2 #", "0.5 #"},
    {DRAWN, "outline.svg", "M 0 0 H 8 V 8 Z", "|  # from the template\n    M 0 0\n    H 9 V 9 Z", "M 0 0 H 8 V 8 Z"},
};

START_TEST(an_edit_changes_its_bytes_alone) {
    const edit_row *e = &edits[_i];
    const char *at = strstr(e->yaml, e->from);
    char wanted[600], *why;
    size_t length;
    ck_assert_ptr_nonnull(at);
    snprintf(wanted, sizeof wanted, "%.*s%s%s", (int)(at - e->yaml), e->yaml, e->to, at + strlen(e->from));
    char *got = paper_edit(e->yaml, strlen(e->yaml), e->path, NULL, e->value, &length, &why);
    ck_assert_msg(got != NULL, "%s", why);
    ck_assert_str_eq(got, wanted);
    free(got);
    free(why);
}
END_TEST

START_TEST(values_and_items_are_got) {
    static const struct {
        const char *yaml, *path, *value; /* NULL: no such value */
    } got[] = {
        {POLYGON, "outline.corners[3]", "[60, 40, 5]"},
        {POLYGON, "outline.corners[3][2]", "40"},
        {POLYGON, "outline.corners[4]", NULL},
        {POLYGON, "outline.corners", "[[0, 0], [60 , 0], [60, 40, 5]]"},
        {LINES, "outline.corners", "[[0, 0], [60, 0], [60, 40]]"},
        {STRAP, "outline.start", "square"},
        {STRAP, "outline.end", "{point: 30}"},
        {DRAWN, "outline.svg", "M 0 0 H 9 V 9 Z"},
        {DRAWN, "outline.scale", "2"},
        {HEAD "outline: {shape: path, svg: M 0 0 H 9}", "outline.scale", "1"},
        {HEAD "outline: {shape: rectangle, length: 90, width: 60, corner: 8}", "outline.corner[2]", "8"},
        {HEAD "outline: {shape: rectangle, length: 90, width: 60, corner: [1, 2, 3, 4]}", "outline.corner[2]", "2"},
        {HEAD "outline: {shape: rectangle, length: 90, width: 60, corner: [1, 2, 3, 4]}", "outline.corner[5]", NULL},
        {HEAD "outline: {shape: rectangle, length: 90, width: 60}", "outline.corner[4]", "0"},
    };
    for (size_t i = 0; i < sizeof got / sizeof got[0]; i++) {
        shop_project *project = paper_project(got[i].yaml);
        char *value = shop_project_get(project, got[i].path);
        if (got[i].value)
            ck_assert_str_eq(value, got[i].value);
        else
            ck_assert_msg(value == NULL, "%s: %s", got[i].path, value);
        ck_assert_ptr_nonnull(shop_field_for(project, got[i].path));
        free(value);
        shop_project_free(project);
    }
    static const char *const none[] = {"outline.corners[1][2][3]", "outline.scale[1]", "outline.start.point",
                                       "outline.corner[1][1]", "outline[1]"};
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++)
        ck_assert_msg(shop_field_holding(none[i]) == NULL, "%s", none[i]);
}
END_TEST

START_TEST(corners_can_be_fixed) {
    static const char *const paths[] = {"outline.corners", "outline.corners[2]", "outline.corners[3][3]", "outline"};
    for (size_t i = 0; i < 4; i++) {
        char yaml[300];
        snprintf(yaml, sizeof yaml, POLYGON "fixed: ['%s']\n", paths[i]);
        shop_project *project = paper_project(yaml);
        ck_assert_msg(project->layout.fixed & 1u << BW_KNOB_CORNER, "%s", paths[i]);
        shop_project_free(project);
    }
    shop_project *project = paper_project(POLYGON "fixed: [outline.shape]\n");
    ck_assert_uint_eq(project->layout.fixed, 0);
    shop_project_free(project);
}
END_TEST

/* ---- without memory ---- */

START_TEST(outlines_without_memory) {
    static const char *const texts[] = {POLYGON, STRAP, DRAWN, HEAD "outline: {shape: ellipse, length: 90, width: 60}"};
    for (size_t t = 0; t < 4; t++) {
        size_t failures = 0;
        for (long n = 0; n < 600; n++) {
            shop_problems problems;
            shop_problems_init(&problems, "lid.yaml");
            shop_alloc_fail_at(n);
            shop_project *p = shop_project_read(texts[t], strlen(texts[t]), "lid.yaml", NULL, &problems);
            shop_alloc_fail_at(-1);
            ck_assert_int_eq(p != NULL, problems.errors == 0);
            failures += p == NULL;
            if (p)
                ck_assert_uint_eq(p->layout.outline.corner_count, t == 0 ? 3 : 0);
            for (size_t i = 0; i < problems.count; i++)
                ck_assert_msg(problems.list[i].note || strstr(problems.list[i].text, "memory"), "%s",
                              problems.list[i].text);
            shop_project_free(p);
            shop_problems_free(&problems);
        }
        ck_assert_uint_gt(failures, 10);
    }
}
END_TEST

#define ALL(table) (int)(sizeof table / sizeof table[0])

Suite *shop_outline_suite(void) {
    Suite *suite = suite_create("outline");
    TCase *all = tcase_create("shapes");
    tcase_set_timeout(all, 60);
    tcase_add_test(all, a_strap_and_its_ends);
    tcase_add_test(all, corners_in_every_style);
    tcase_add_test(all, path_data_in_every_style);
    tcase_add_loop_test(all, what_is_wrong_is_told_where_it_stands, 0, ALL(rows));
    tcase_add_test(all, keys_of_other_shapes_are_kept);
    tcase_add_test(all, corners_are_counted);
    tcase_add_loop_test(all, an_edit_changes_its_bytes_alone, 0, ALL(edits));
    tcase_add_test(all, values_and_items_are_got);
    tcase_add_test(all, corners_can_be_fixed);
    tcase_add_test(all, outlines_without_memory);
    suite_add_tcase(suite, all);
    return suite;
}
