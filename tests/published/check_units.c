/* check_units.c - inches and leather ounces, read as the files read them. */
#include <check.h>
#include <math.h>
#include <string.h>

#include "shop/shop.h"

Suite *published_units_suite(void);

static const struct {
    const char *text;
    shop_unit bare;
    double mm;
    const char *source;
} lengths[] = {
#define INCH "international yard of 1959: an inch is 25.4 mm exactly"
#define OUNCE "ASTM D1814-70, section 1.2: an ounce of leather is 1/64 in of thickness"
    {"1 in", SHOP_MM, 25.4, INCH},      {"1\"", SHOP_MM, 25.4, INCH},         {"10", SHOP_INCH, 254, INCH},
    {"0.5 in", SHOP_MM, 12.7, INCH},    {"1/64 in", SHOP_MM, 0.396875, INCH}, {"1-1/8\"", SHOP_MM, 28.575, INCH},
    {"1 oz", SHOP_MM, 0.396875, OUNCE}, {"8 oz", SHOP_INCH, 3.175, OUNCE},    {"64 oz", SHOP_MM, 25.4, OUNCE},
};

START_TEST(length_in_mm) {
    double mm = NAN;
    char reason[160] = "";
    ck_assert_msg(shop_parse_length(lengths[_i].text, strlen(lengths[_i].text), lengths[_i].bare, true, &mm, reason),
                  "%s: %s", lengths[_i].text, reason);
    ck_assert_msg(fabs(mm - lengths[_i].mm) <= 1e-12 * lengths[_i].mm, "%s is %.15g mm: %s", lengths[_i].text, mm,
                  lengths[_i].source);
}
END_TEST

Suite *published_units_suite(void) {
    Suite *suite = suite_create("published/units");
    TCase *tests = tcase_create("units");
    tcase_add_loop_test(tests, length_in_mm, 0, (int)(sizeof lengths / sizeof lengths[0]));
    suite_add_tcase(suite, tests);
    return suite;
}
