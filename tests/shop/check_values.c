/* check_values.c - every form in which a value may be written, and what is said about the others. */
#include <check.h>
#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper.h"
#include "shop/values.h"

Suite *shop_values_suite(void);

#define INCH 25.4 /* mm exactly: international yard, 1959 */

typedef struct length_row {
    const char *text;
    double mm, inch_file; /* the value in a file of mm, and in one of inches; NAN: refused */
    const char *reason;
} length_row;

static const length_row lengths[] = {
    {"18", 18, 18 * INCH, NULL},
    {".5", 0.5, 0.5 * INCH, NULL},
    {"0.25", 0.25, 0.25 * INCH, NULL},
    {"18.5 mm", 18.5, 18.5, NULL},
    {"18mm", 18, 18, NULL},
    {"1.2 cm", 12, 12, NULL},
    {"1.2cm", 12, 12, NULL},
    {"0.75 in", 0.75 * INCH, 0.75 * INCH, NULL},
    {"3/4 in", 0.75 * INCH, 0.75 * INCH, NULL},
    {"3/4\"", 0.75 * INCH, 0.75 * INCH, NULL},
    {"1 1/8 in", 1.125 * INCH, 1.125 * INCH, NULL},
    {"1-1/8\"", 1.125 * INCH, 1.125 * INCH, NULL},
    {"1-1/8 in", 1.125 * INCH, 1.125 * INCH, NULL},
    {"5/64 in", 5 * INCH / 64, 5 * INCH / 64, NULL},
    {"3 / 4 in", 0.75 * INCH, 0.75 * INCH, NULL},
    {"1/2", 0.5, 0.5 * INCH, NULL},
    {" 7 ", 7, 7 * INCH, NULL},
    {"-2", -2, -2 * INCH, NULL},
    {"+2 mm", 2, 2, NULL},
    {"-1 1/2 in", -1.5 * INCH, -1.5 * INCH, NULL},
    {"18,5", NAN, NAN, "point"},
    {"18,5 mm", NAN, NAN, "point"},
    {"1e3", NAN, NAN, "exponent"},
    {"1E-3", NAN, NAN, "exponent"},
    {"1.5e+2 mm", NAN, NAN, "exponent"},
    {"0x10", NAN, NAN, "hexadecimal"},
    {"inf", NAN, NAN, "written like"},
    {".inf", NAN, NAN, "written like"},
    {"nan", NAN, NAN, "written like"},
    {".nan", NAN, NAN, "written like"},
    {"", NAN, NAN, "written like"},
    {".", NAN, NAN, "written like"},
    {"-", NAN, NAN, "written like"},
    {"--1", NAN, NAN, "written like"},
    {"mm", NAN, NAN, "written like"},
    {"18 m", NAN, NAN, "written like"},
    {"18 feet", NAN, NAN, "written like"},
    {"18 mm mm", NAN, NAN, "written like"},
    {"3/0 in", NAN, NAN, "written like"},
    {"3/", NAN, NAN, "written like"},
    {"/4", NAN, NAN, "written like"},
    {"1.5/2", NAN, NAN, "written like"},
    {"1 2", NAN, NAN, "written like"},
    {"1 1/8 1/8 in", NAN, NAN, "written like"},
    {"8 oz", NAN, NAN, "written like"},
    {"1\xC2\xA0mm", NAN, NAN, "written like"},
    {"\xD9\xA3", NAN, NAN, "written like"},
    {"123456789012345678901234567890123456789012345", NAN, NAN, "too long"},
};

START_TEST(lengths_are_read) {
    const length_row *row = &lengths[_i];
    for (int inch = 0; inch < 2; inch++) {
        double wanted = inch ? row->inch_file : row->mm, mm = -1;
        char reason[160] = "";
        bool good = shop_parse_length(row->text, strlen(row->text), inch ? SHOP_INCH : SHOP_MM, false, &mm, reason);
        ck_assert_msg(good == !isnan(wanted), "'%s' in a file of %s", row->text, inch ? "in" : "mm");
        if (good)
            ck_assert_double_eq_tol(mm, wanted, 1e-12);
        else
            ck_assert_msg(strstr(reason, row->reason) != NULL, "'%s' says: %s", row->text, reason);
    }
}
END_TEST

START_TEST(leather_weight_may_be_in_ounces) {
    double mm;
    char reason[160];
    ck_assert(shop_parse_length("8 oz", 4, SHOP_MM, true, &mm, reason));
    ck_assert_double_eq_tol(mm, 8 * INCH / 64, 1e-12); /* 1 oz = 1/64 in of thickness, ASTM D1814-70 section 1.2 */
    ck_assert(shop_parse_length("1/2oz", 5, SHOP_INCH, true, &mm, reason));
    ck_assert_double_eq_tol(mm, INCH / 128, 1e-12);
    ck_assert(!shop_parse_length("8 ounces", 8, SHOP_MM, true, &mm, reason));
}
END_TEST

typedef struct number_row {
    const char *text;
    double value; /* NAN: refused */
} number_row;

START_TEST(shares_are_read) {
    static const number_row rows[] = {
        {"50 %", 0.5},    {"50%", 0.5},    {"0.5", 0.5},  {".5", 0.5},         {"1", 1},
        {"12.5 %", .125}, {"-5 %", -0.05}, {"1/2", NAN},  {"50 percent", NAN}, {"%", NAN},
        {"50 % %", NAN},  {"5,5 %", NAN},  {"1e-1", NAN}, {"", NAN},           {"nan", NAN}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double share;
        char reason[160];
        bool good = shop_parse_share(rows[i].text, strlen(rows[i].text), &share, reason);
        ck_assert_msg(good == !isnan(rows[i].value), "'%s'", rows[i].text);
        if (good)
            ck_assert_double_eq_tol(share, rows[i].value, 1e-15);
        else
            ck_assert_uint_gt(strlen(reason), 8);
    }
}
END_TEST

START_TEST(angles_counts_and_words_are_read) {
    char reason[160];
    double radians;
    ck_assert(shop_parse_angle("-90", 3, &radians, reason));
    ck_assert_double_eq_tol(radians, -acos(0), 1e-15);
    ck_assert(!shop_parse_angle("90 mm", 5, &radians, reason));
    ck_assert(strstr(reason, "degrees"));
    int count;
    ck_assert(shop_parse_count("auto", 4, &count, reason) && count == 0);
    ck_assert(shop_parse_count("42", 2, &count, reason) && count == 42);
    ck_assert(!shop_parse_count("0", 1, &count, reason));
    ck_assert(!shop_parse_count("100001", 6, &count, reason));
    ck_assert(!shop_parse_count("4.5", 3, &count, reason));
    ck_assert(!shop_parse_count("99999999999999999999", 20, &count, reason));
    bool yes;
    ck_assert(shop_parse_yes_no("yes", 3, &yes, reason) && yes);
    ck_assert(shop_parse_yes_no("false", 5, &yes, reason) && !yes);
    ck_assert(!shop_parse_yes_no("y", 1, &yes, reason));
    static const char *const words[] = {"left", "right", NULL};
    int index;
    ck_assert(shop_parse_word("right", 5, words, &index, reason) && index == 1);
    ck_assert(!shop_parse_word("righ", 4, words, &index, reason));
    ck_assert_str_eq(reason, "allowed: left, right");
}
END_TEST

START_TEST(lose_is_read) {
    static const struct {
        const char *text;
        int lose, last; /* -1: refused */
    } rows[] = {{"even", BW_LOSE_EVEN, 0},
                {"last 8", BW_LOSE_LAST, 8},
                {"last  12", BW_LOSE_LAST, 12},
                {"straights", BW_LOSE_STRAIGHTS, 0},
                {"anchored", BW_LOSE_ANCHORED, 0},
                {"last", -1, 0},
                {"last 0", -1, 0},
                {"last -3", -1, 0},
                {"last8", -1, 0},
                {"last 8 steps", -1, 0},
                {"odd", -1, 0},
                {"last 100001", -1, 0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        bw_lose lose = BW_LOSE_EVEN;
        int last;
        char reason[160];
        bool good = shop_parse_lose(rows[i].text, strlen(rows[i].text), &lose, &last, reason);
        ck_assert_msg(good == (rows[i].lose >= 0), "'%s'", rows[i].text);
        if (good)
            ck_assert_int_eq((int)lose, rows[i].lose);
        if (good)
            ck_assert_int_eq(last, rows[i].last);
    }
}
END_TEST

START_TEST(guides_and_places_are_read) {
    static const struct {
        const char *text;
        int is_length; /* -1: refused */
        double value;
    } guides[] = {{"50 %", 0, .5},           {"0.5", 0, .5},         {"1", 0, 1},    {"10.5 mm", 1, 10.5},
                  {"3/4 in", 1, .75 * INCH}, {"1/2\"", 1, INCH / 2}, {"3/4", -1, 0}, {"half", -1, 0},
                  {"1,5 mm", -1, 0}};
    char reason[160];
    for (size_t i = 0; i < sizeof guides / sizeof guides[0]; i++) {
        bool is_length;
        double value;
        bool good = shop_parse_guide(guides[i].text, strlen(guides[i].text), &is_length, &value, reason);
        ck_assert_msg(good == (guides[i].is_length >= 0), "'%s'", guides[i].text);
        if (!good)
            continue;
        ck_assert_int_eq(is_length, guides[i].is_length);
        ck_assert_double_eq_tol(value, guides[i].value, 1e-12);
    }
    bw_place place;
    ck_assert(shop_parse_place("top", 3, SHOP_MM, &place, reason) && place.kind == BW_PLACE_TOP);
    ck_assert(shop_parse_place("left", 4, SHOP_MM, &place, reason) && place.kind == BW_PLACE_LEFT);
    ck_assert(shop_parse_place("2", 1, SHOP_INCH, &place, reason) && place.kind == BW_PLACE_ALONG);
    ck_assert_double_eq_tol(place.along, 2 * INCH, 1e-12);
    ck_assert(!shop_parse_place("middle", 6, SHOP_MM, &place, reason));
}
END_TEST

START_TEST(names_are_judged) {
    static const struct {
        const char *text;
        bool good;
    } rows[] = {
        {"weave", true},
        {"inner weave", true},
        {"gr\xC3\xBC\xC3\x9F", true},
        {"a=b", true},
        {"", false},
        {"a.b", false},
        {"a\"b", false},
        {"a[1", false},
        {"a]", false},
        {"a/b", false},
        {"a:b", false},
        {"a\nb", false},
        {"\x1B[31m", false},
        {"\x7F", false},
        {"\xC2\x9B", false},
        {"\xE2\x80\xAE", false},
        {"\xE2\x81\xA6", false},
        {"\xE2\x80\x8B", false},
        {"\xFF", false},
        {"1234567890123456789012345678901234567890", true},
        {"12345678901234567890123456789012345678901", false},
        {"\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC"
         "\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC"
         "\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC"
         "\xC3\xBC",
         true}}; /* 40 characters, 80 bytes */
    char reason[160];
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        ck_assert_msg(shop_check_name(rows[i].text, strlen(rows[i].text), reason) == rows[i].good, "'%s'",
                      rows[i].text);
    ck_assert(!shop_check_name("a\0b", 3, reason));
}
END_TEST

START_TEST(lengths_are_written_to_be_read_again) {
    static const double some[] = {0, 18, 18.5, 0.1, 140, 1.0 / 3, 19.05, 28.575, 4999.99, 1e-3, -2.5, 12.7, 25.4 / 64};
    srand(7);
    for (int i = 0; i < 400; i++) {
        size_t fixed = sizeof some / sizeof some[0];
        double mm = (size_t)i < fixed ? some[i] : 5000.0 * rand() / RAND_MAX;
        for (int unit = SHOP_MM; unit <= SHOP_INCH; unit++) {
            char text[64], reason[160];
            double back;
            shop_write_length(mm, (shop_unit)unit, text, sizeof text);
            ck_assert_msg(!strpbrk(text, "eE,"), "%s", text);
            ck_assert(shop_parse_length(text, strlen(text), (shop_unit)unit, false, &back, reason));
            ck_assert(fabs(back - mm) <= (unit == SHOP_MM ? 0 : 1e-12 * fabs(mm)));
        }
    }
    char text[64];
    shop_write_length(18.5, SHOP_MM, text, sizeof text);
    ck_assert_str_eq(text, "18.5");
    shop_write_length(0.75 * INCH, SHOP_INCH, text, sizeof text);
    ck_assert_str_eq(text, "0.75");
}
END_TEST

START_TEST(lengths_are_shown_as_a_hand_sets_them) {
    static const struct {
        double mm;
        shop_unit unit;
        const char *text;
    } rows[] = {{18.5, SHOP_MM, "18.5 mm"},        {18, SHOP_MM, "18 mm"},       {3.175, SHOP_MM, "3.18 mm"},
                {-0.001, SHOP_MM, "0 mm"},         {19.05, SHOP_INCH, "3/4 in"}, {28.575, SHOP_INCH, "1 1/8 in"},
                {25.4, SHOP_INCH, "1 in"},         {0, SHOP_INCH, "0 in"},       {-12.7, SHOP_INCH, "-1/2 in"},
                {25.4 / 64, SHOP_INCH, "1/64 in"}, {25.3, SHOP_INCH, "1 in"},    {100, SHOP_INCH, "3 15/16 in"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[64];
        shop_show_length(rows[i].mm, rows[i].unit, text, sizeof text);
        ck_assert_str_eq(text, rows[i].text);
    }
}
END_TEST

/* A locale in which numbers have a comma must change nothing. */
START_TEST(the_locale_plays_no_part) {
    double mm;
    char reason[160];
    const char *set = setlocale(LC_NUMERIC, "de_DE.UTF-8");
    ck_assert_msg(set != NULL, "the locale de_DE.UTF-8 is missing: install locales-all");
    char shown[16];
    snprintf(shown, sizeof shown, "%.1f", 1.5);
    ck_assert_str_eq(shown, "1,5");
    bool good = shop_parse_length("18.5", 4, SHOP_MM, false, &mm, reason);
    bool comma = shop_parse_length("18,5", 4, SHOP_MM, false, &mm, reason);
    setlocale(LC_NUMERIC, "C");
    ck_assert(good && !comma);
    ck_assert_double_eq(mm, 18.5);
}
END_TEST

Suite *shop_values_suite(void) {
    Suite *suite = suite_create("values");
    TCase *all = tcase_create("forms");
    tcase_add_loop_test(all, lengths_are_read, 0, sizeof lengths / sizeof lengths[0]);
    tcase_add_test(all, leather_weight_may_be_in_ounces);
    tcase_add_test(all, shares_are_read);
    tcase_add_test(all, angles_counts_and_words_are_read);
    tcase_add_test(all, lose_is_read);
    tcase_add_test(all, guides_and_places_are_read);
    tcase_add_test(all, names_are_judged);
    tcase_add_test(all, lengths_are_written_to_be_read_again);
    tcase_add_test(all, lengths_are_shown_as_a_hand_sets_them);
    tcase_add_test(all, the_locale_plays_no_part);
    suite_add_tcase(suite, all);
    return suite;
}
