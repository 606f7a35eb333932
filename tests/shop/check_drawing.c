/* check_drawing.c - what is taken from an SVG drawing and what is said of the rest; hostile ones. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper.h"
#include "shop/alloc.h"
#include "shop/drawing.h"

Suite *shop_drawing_suite(void);

/* Sizes: CSS Values and Units 3 (W3C), 6.2: 1 in = 2.54 cm = 25.4 mm = 72 pt = 6 pc = 96 px; SVG 1.1 (W3C), 7.7 and
 * 7.8: what viewBox and preserveAspectRatio do. */
typedef struct size_row {
    const char *attributes;
    double unit; /* 0: nothing says */
} size_row;

static const size_row sizes[] = {
    {"width='100mm' height='50mm' viewBox='0 0 100 50'", 1},
    {"width='10cm' height='5cm' viewBox='0 0 100 50'", 1},
    {"width='2in' height='1in' viewBox='0 0 2 1'", 25.4},
    {"width='72pt' height='144pt' viewBox='0 0 1 2'", 25.4},
    {"width='6pc' viewBox='0 0 1 2'", 25.4},
    {"height='96px' viewBox='-5,-5 3 1'", 25.4},
    {"width='192' height='96' viewBox='0 0 2 1'", 25.4},
    {"width='210mm' height='297mm' viewBox='0 0 793.70079 1122.5197'", 210 / 793.70079},
    {"width=' 1e2mm ' height='5.E1mm' viewBox=' 0 , 0 , 1e+2 , 50 '", 1},
    {"width='100mm' height='100mm' viewBox='0 0 100 50'", 1}, /* all of it is shown: the lesser of 1 and 2 */
    {"width='100mm' height='100mm' viewBox='0 0 100 50' preserveAspectRatio='xMidYMid meet'", 1},
    {"width='100mm' height='100mm' viewBox='0 0 100 50' preserveAspectRatio='none'", 0},
    {"width='100%' height='50%' viewBox='0 0 100 50'", 0},
    {"width='10em' viewBox='0 0 100 50'", 0},
    {"viewBox='0 0 100 50'", 0},
    {"width='100mm' viewBox='0 0 0 50'", 25.4 / 96},
    {"width='100mm' viewBox='0 0 100'", 25.4 / 96},
    {"width='-100mm' viewBox='0 0 100 50'", 0},
    {"width='100mm' height='50mm'", 25.4 / 96}, /* without viewBox a unit is a pixel */
    {"width='300px'", 25.4 / 96},
    {"width='300' height='200'", 0},
    {"", 0},
};

static shop_drawing drawn(const char *svg, size_t length, bool scale_given, char **said, shop_status *status) {
    shop_problems problems;
    shop_drawing drawing;
    shop_problems_init(&problems, "d.svg");
    *status = shop_drawing_read(svg, length, scale_given, &problems, &drawing);
    ck_assert_int_eq(*status == SHOP_OK, drawing.svg != NULL);
    ck_assert_int_eq(*status == SHOP_OK, problems.errors == 0);
    *said = paper_problems(&problems);
    shop_problems_free(&problems);
    return drawing;
}

START_TEST(the_unit_comes_from_the_size) {
    char svg[400], *said;
    shop_status status;
    snprintf(svg, sizeof svg, "<svg %s><path d='M 0 0 H 9 V 9 Z'/></svg>", sizes[_i].attributes);
    shop_drawing drawing = drawn(svg, strlen(svg), false, &said, &status);
    ck_assert_msg(status == SHOP_OK, "%s", said);
    if (sizes[_i].unit == 0)
        ck_assert_msg(isnan(drawing.scale) && strstr(said, "nothing says how large"), "%s: %g", svg, drawing.scale);
    else
        ck_assert_msg(fabs(drawing.scale - sizes[_i].unit) <= 1e-9 * sizes[_i].unit && strstr(said, "its unit is"),
                      "%s: %.15g", svg, drawing.scale);
    free(drawing.svg);
    free(said);
}
END_TEST

typedef struct transform_row {
    const char *text;
    double factor; /* 0: left out as a whole */
} transform_row;

static const transform_row transforms[] = {
    {"", 1},
    {"translate(3)", 1},
    {" translate( -3 , 4e1 ) ", 1},
    {"scale(2)", 2},
    {"scale(.5,0.5)", 0.5},
    {"matrix(3 0 0 3 1 2)", 3},
    {"translate(1 2) scale(2), scale(3)", 6},
    {"scale(2 3)", 0},
    {"scale(-1)", 0},
    {"scale(0)", 0},
    {"rotate(30)", 0},
    {"skewX(3)", 0},
    {"matrix(0 1 -1 0 0 0)", 0},
    {"matrix(3 0 0 3 1)", 0},
    {"translate()", 0},
    {"translate(1 2 3)", 0},
    {"scale(2", 0},
    {"scale(x)", 0},
    {"scale 2", 0},
    {"nonsense", 0},
};

START_TEST(a_transform_moves_or_enlarges) {
    double factor = shop_transform_factor(transforms[_i].text, strlen(transforms[_i].text));
    if (transforms[_i].factor == 0)
        ck_assert_msg(isnan(factor), "%s: %g", transforms[_i].text, factor);
    else
        ck_assert_msg(fabs(factor - transforms[_i].factor) < 1e-12, "%s: %g", transforms[_i].text, factor);
}
END_TEST

typedef struct cut_row {
    const char *data, *first;
    size_t more;
} cut_row;

static const cut_row cuts[] = {
    {"M 0 0 H 9", "M 0 0 H 9", 0},
    {" \n M 0 0\tH  9 \r\n", "M 0 0 H 9", 0},
    {"M0 0h9v9z", "M0 0h9v9z", 0},
    {"M0 0h9v9z ", "M0 0h9v9z", 0},
    {"M 0 0 H 9 Z M 1 1 H 3", "M 0 0 H 9 Z", 1},
    {"M 0 0 H 9 m 1 1 h 3 z m 1 1 h 1", "M 0 0 H 9", 2},
    {"M 0 0 H 9 Z h 3 z", "M 0 0 H 9 Z", 1}, /* what follows Z begins another one, SVG 1.1, 8.3.3 */
    {"M 0 0 H 9 Z L 3 3 M 1 1", "M 0 0 H 9 Z", 2},
    /* subpaths without a stroke come before it */
    {"M 5 5 M 0 0 H 9", "M 0 0 H 9", 0},
    {"M5-5.5ZM1e1,+2 z M 0 0 H 9 M 1 1", "M 0 0 H 9", 1},
    {"M 5 5 m 1 1 h 3", "M 5 5", 1},
    {"M 5 5 6 6 M 1 1", "M 5 5 6 6", 1},
    {"M 5 M 1 1", "M 5", 1},
    {"M 5 5", "M 5 5", 0},
    {"M 5 5 M", "M", 0},
};

START_TEST(the_first_subpath_is_kept) {
    char data[100];
    snprintf(data, sizeof data, "%s", cuts[_i].data);
    ck_assert_uint_eq(shop_first_subpath(data), cuts[_i].more);
    ck_assert_str_eq(data, cuts[_i].first);
}
END_TEST

/* ---- whole drawings ---- */

#define BOX "M 0 0 H 9 V 9 Z"
#define PATH "<path d='" BOX "'/>"

typedef struct drawing_row {
    const char *svg, *data; /* data NULL: refused */
    const char *said[3];
} drawing_row;

static const drawing_row drawings[] = {
    {"<svg>" PATH "</svg>", BOX, {"d.svg:1:6: note: this path is taken; nothing says how large its unit is"}},
    {"\xEF\xBB\xBF<svg>" PATH "</svg>", BOX, {"d.svg:1:6: note: this path is taken"}},
    {"<?xml version=\"1.0\"?>\n<!DOCTYPE svg PUBLIC \"a>b\" 'c' [ <!ENTITY x \"]>\"> <!-- ' --> <?p '?> ]>\n"
     "<!-- <path d='M 1 1'/> -->\n<svg><![CDATA[ <path d='M 2 2'/> ]]>" PATH "</svg>",
     BOX,
     {"d.svg:4:37: note: this path"}},
    {"<s:svg xmlns:s='http://www.w3.org/2000/svg'><s:path d='" BOX "'/><x:path d='M 1 1'/></s:svg>", BOX, {NULL}},
    {"<svg><x:path d='M 1 1'/><svg:path d='" BOX "'/></svg>", BOX, {NULL}},
    {"<svg><path\n id = \"a>b\"\n\td\t=\"M 0 0&#10;H&#x20;9 &#86; 9 Z\" /></svg >", BOX, {NULL}},
    {"<svg><path d=''/><path d='none'/><path/>" PATH "</svg>", BOX, {NULL}},
    {"<svg><defs>" PATH "</defs><symbol><g>" PATH "</g></symbol><clipPath/><path d='M 1 1 H 3'/></svg>",
     "M 1 1 H 3",
     {NULL}},
    {"<svg><rect/><g>" PATH "</g><circle/>\n" PATH PATH "<text>a</text></svg>",
     BOX,
     {"d.svg:1:6: note: left out from here on: 2 other paths, 3 other shapes"}},
    {"<svg>" PATH PATH "</svg>", BOX, {"note: left out from here on: 1 other path, 0 other shapes"}},
    {"<svg><path d='" BOX " M 1 1 H 2'/></svg>", BOX, {"d.svg:1:15: note: 1 further subpath of this path is left out"}},
    {"<svg><path d='" BOX "m 1 1 z h 2'/></svg>", BOX, {"note: 2 further subpaths of this path are left out"}},
    {"<svg width='20mm' viewBox='0 0 10 10'><g transform='scale(3)'>\n<path transform='rotate(9)' d='" BOX
     "'/></g></svg>",
     BOX,
     {"d.svg:1:53: note: the transform 'scale(3)' is left out but for its size",
      "d.svg:2:18: note: the transform 'rotate(9)' is left out\n", "its unit is 6 mm by the size"}},
    {"<svg><g transform='scale(3)'/><g transform='scale(4)'>" PATH "</g></svg>",
     BOX,
     {"its unit is 4 mm by transforms"}},
    {"<svg><g transform='translate(3)'>" PATH "</g></svg>", BOX, {"is left out: it only moves the path"}},
    {"<svg>\n<svg>" PATH "</svg></svg>", BOX, {"d.svg:2:1: note: the size and the place of an svg inside the svg"}},
    {"<svg><svg/>" PATH "</svg>", BOX, {NULL}},
    /* refused */
    {"", NULL, {"d.svg:1:1: error: there is no path in this drawing"}},
    {"M 0 0 H 9", NULL, {"d.svg:1:1: error: there is no path"}},
    {"<svg></svg>", NULL, {"d.svg:1:1: error: there is no path in this drawing\n"}},
    {"<svg><rect/></svg>", NULL, {"only other shapes; turn one into a path"}},
    {"<svg><defs>" PATH "</defs></svg>", NULL, {"there is no path"}},
    {"\n <html>" PATH "</html>", NULL, {"d.svg:2:2: error: this is no SVG drawing; its outermost element must be svg"}},
    {"<svg>" PATH "</svg><p/>", NULL, {"d.svg:1:39: error: this is no SVG drawing"}},
    {"<svg>\n<g>" PATH "</svg>", NULL, {"d.svg:2:31: error: this closes an element that is not the last one opened"}},
    {"<svg>\n<g>" PATH, NULL, {"d.svg:2:1: error: an element that is not closed"}},
    {"</svg>", NULL, {"d.svg:1:1: error: this closes an element"}},
    {"<svg><path d='M 0 0", NULL, {"d.svg:1:14: error: a quote that does not end"}},
    {"<svg><path d=M0></path></svg>", NULL, {"d.svg:1:14: error: the value of an attribute stands in quotes"}},
    {"<svg><path d></path></svg>", NULL, {"d.svg:1:13: error: an attribute without its ="}},
    {"<svg><path d='a'e='b'/></svg>", NULL, {"d.svg:1:17: error: a blank must stand before an attribute"}},
    {"<svg><path 1='a'/></svg>", NULL, {"d.svg:1:12: error: no attribute"}},
    {"<svg><path d='<'/></svg>", NULL, {"d.svg:1:15: error: no < may stand"}},
    {"<svg>a < b</svg>", NULL, {"d.svg:1:8: error: a < that begins no tag"}},
    {"<svg", NULL, {"d.svg:1:1: error: a tag that does not end"}},
    {"<svg></svg", NULL, {"d.svg:1:6: error: a tag that does not end"}},
    {"<svg><!-- -></svg>", NULL, {"d.svg:1:6: error: a comment that does not end"}},
    {"<svg><![CDATA[ ]></svg>", NULL, {"d.svg:1:6: error: a CDATA section"}},
    {"<?xml ><svg/>", NULL, {"d.svg:1:1: error: an instruction"}},
    {"<!DOCTYPE svg [ ><svg/>", NULL, {"d.svg:1:1: error: a document type"}},
    {"<!DOCTYPE svg [<!ENTITY b 'M 0 0'>]>\n<svg><path d='&b; H 9'/></svg>",
     NULL,
     {"d.svg:2:15: error: a reference that is not understood; allowed: &amp;"}},
    {"<svg><path d='M 0 0 &#0; H 9'/></svg>", NULL, {"d.svg:1:21: error: a reference"}},
    {"<svg><path d='M 0 0 &#xD800; H 9'/></svg>", NULL, {"error: a reference"}},
    {"<svg><path d='M 0 0 &#99999999999; H 9'/></svg>", NULL, {"error: a reference"}},
    {"<svg><path d='M 0 0 & H 9'/></svg>", NULL, {"error: a reference"}},
    {"<svg><path d='M 0 0 &#x; H 9'/></svg>", NULL, {"error: a reference"}},
    {"<svg><path d='M 0 0&#27; H 9'/></svg>", NULL, {"error: a reference"}},
    {"\x1F\x8B\x08", NULL, {"d.svg:1:1: error: this is a packed drawing"}},
    {"\xFE\xFF<svg>", NULL, {"d.svg:1:1: error: this is UTF-16"}},
    /* path data that is none is told where it stands in the drawing */
    {"<svg>\n<path d='M 0 0\n  H 9 X 3'/></svg>",
     NULL,
     {"d.svg:3:7: error: found 'X 3' at byte 11 of the path data; "}},
    {"<svg>\n<path d='M 0 0 H&#32;9 X 3'/></svg>", NULL, {"d.svg:2:10: error: found 'X 3' at byte 11 of the path"}},
};

START_TEST(a_drawing_gives_its_first_path) {
    const drawing_row *row = &drawings[_i];
    char *said;
    shop_status status;
    shop_drawing drawing = drawn(row->svg, strlen(row->svg), false, &said, &status);
    ck_assert_msg((status == SHOP_OK) == (row->data != NULL), "%s: %s", row->svg, said);
    ck_assert_int_eq(status, row->data ? SHOP_OK : SHOP_BAD_FILE);
    if (row->data)
        ck_assert_str_eq(drawing.svg, row->data);
    for (int i = 0; i < 3 && row->said[i]; i++)
        ck_assert_msg(strstr(said, row->said[i]) != NULL, "wanted '%s' in: %s", row->said[i], said);
    free(drawing.svg);
    free(said);
}
END_TEST

START_TEST(a_scale_that_is_given_is_left_alone) {
    static const char svg[] = "<svg width='20mm' viewBox='0 0 10 10'>" PATH "</svg>";
    char *said;
    shop_status status;
    shop_drawing drawing = drawn(svg, strlen(svg), true, &said, &status);
    ck_assert_str_eq(said, "d.svg:1:39: note: this path is taken\n");
    free(drawing.svg);
    free(said);
}
END_TEST

START_TEST(a_nul_is_no_text) {
    static const char svg[] = "<svg>\0" PATH "</svg>";
    char *said;
    shop_status status;
    drawn(svg, sizeof svg - 1, false, &said, &status);
    ck_assert_ptr_nonnull(strstr(said, "this is no text"));
    free(said);
}
END_TEST

START_TEST(deep_and_wide_ones) {
    size_t many = 300000, length = 0;
    char *svg = malloc(many * 12 + 100), *said;
    shop_status status;
    ck_assert_ptr_nonnull(svg);
    for (size_t i = 0; i < many; i++)
        length += (size_t)sprintf(svg + length, "<svg>");
    drawn(svg, length, false, &said, &status);
    ck_assert_ptr_nonnull(strstr(said, "d.svg:1:1001: error: more than 200 elements inside each other"));
    free(said);
    length = (size_t)sprintf(svg, "<svg>" PATH);
    for (size_t i = 0; i < many; i++)
        length += (size_t)sprintf(svg + length, "<rect a=''/>");
    length += (size_t)sprintf(svg + length, "</svg>");
    shop_drawing drawing = drawn(svg, length, false, &said, &status);
    ck_assert_msg(strstr(said, "0 other paths, 300000 other shapes") != NULL, "%s", said);
    free(drawing.svg);
    free(said);
    free(svg);
}
END_TEST

/* Every beginning of a drawing, and every one with a byte changed: refused with a place, or taken. */
START_TEST(cut_off_and_damaged_ones) {
    static const char svg[] = "<?a?><!DOCTYPE s [<!--'-->]><svg width='9mm' viewBox='0 0 9 9'><g transform='scale(2)'>"
                              "<![CDATA[>]]><path d='M 0 0&#32;H 9 V 9 Z m 1 1'/></g></svg>";
    static const char marks[] = "<>/&;'\"=! \n[]-?x0";
    char *said, damaged[sizeof svg];
    shop_status status;
    size_t taken = 0;
    for (size_t i = 0; i < sizeof svg - 1; i++) {
        char *part = malloc(i ? i : 1); /* of just this size, so that the sanitizer sees a byte too far */
        ck_assert_ptr_nonnull(part);
        memcpy(part, svg, i);
        free(drawn(part, i, false, &said, &status).svg);
        ck_assert_msg(status == SHOP_BAD_FILE, "%zu: %s", i, said);
        free(said);
        free(part);
        for (size_t k = 0; marks[k]; k++) {
            memcpy(damaged, svg, sizeof svg);
            damaged[i] = marks[k];
            free(drawn(damaged, sizeof svg - 1, false, &said, &status).svg);
            taken += status == SHOP_OK;
            free(said);
        }
    }
    ck_assert_uint_gt(taken, 100);
}
END_TEST

START_TEST(drawings_without_memory) {
    static const char svg[] = "<svg width='20mm' viewBox='0 0 10 10'><g transform='scale(2)'>" PATH "</g></svg>";
    size_t failures = 0;
    for (long n = 0; n < 1000; n++) {
        shop_problems problems;
        shop_drawing drawing;
        shop_problems_init(&problems, "d.svg");
        shop_alloc_fail_at(n);
        shop_status status = shop_drawing_read(svg, strlen(svg), false, &problems, &drawing);
        shop_alloc_fail_at(-1);
        ck_assert(status == SHOP_OK || status == SHOP_NO_MEMORY);
        ck_assert_int_eq(status == SHOP_OK, drawing.svg != NULL);
        ck_assert_int_eq(status == SHOP_OK, problems.errors == 0);
        bool all = status == SHOP_OK && problems.count == 2;
        failures += !all;
        free(drawing.svg);
        shop_problems_free(&problems);
        if (all && n > 200) /* far behind the last allocation */
            break;
    }
    ck_assert_uint_gt(failures, 3);
}
END_TEST

#define ALL(table) (int)(sizeof table / sizeof table[0])

Suite *shop_drawing_suite(void) {
    Suite *suite = suite_create("drawing");
    TCase *all = tcase_create("drawings");
    tcase_set_timeout(all, 60);
    tcase_add_loop_test(all, the_unit_comes_from_the_size, 0, ALL(sizes));
    tcase_add_loop_test(all, a_transform_moves_or_enlarges, 0, ALL(transforms));
    tcase_add_loop_test(all, the_first_subpath_is_kept, 0, ALL(cuts));
    tcase_add_loop_test(all, a_drawing_gives_its_first_path, 0, ALL(drawings));
    tcase_add_test(all, a_scale_that_is_given_is_left_alone);
    tcase_add_test(all, a_nul_is_no_text);
    tcase_add_test(all, deep_and_wide_ones);
    tcase_add_test(all, cut_off_and_damaged_ones);
    tcase_add_test(all, drawings_without_memory);
    suite_add_tcase(suite, all);
    return suite;
}
