/* check_strips.c - strips on the screen: their form, where steps come from, copies that have other ones. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_strips_suite(void);

#define TOOL "kind: basket, length: 9.5, width: 6.4, bar: 3.1, rail: 1.6"

/* A lid with its own copy of a stamp, and the shop's inventory with the same; each with these further keys. */
static bench *lid_with(const char *own, const char *shop) {
    char text[800];
    snprintf(text, sizeof text, "bandwright-inventory: 1\nunits: mm\ntools:\n  - {id: m, " TOOL "%s}\n", shop);
    hands_write(HANDS_INVENTORY, text);
    snprintf(text, sizeof text,
             "bandwright-project: 1\noutline: {shape: circle, diameter: 140}\n"
             "bands:\n  - {name: weave, width: 21, fill: basket, tool: m}\ntools:\n  - {id: m, " TOOL "%s}\n",
             own);
    hands_write("lid.yaml", text);
    return hands_open("lid.yaml");
}

/* 67.6/9 = 7.5111; 9.5 less half a leg of 3.2 is 7.9. */
START_TEST(where_steps_come_from) {
    bench *b = lid_with(", steps: {widest: 8.4}, strips: [{impressions: 10, length: 67.6}]", "");
    hands_press(b, "i Enter");
    hands_see(b, "(6.3 mm, from the face)");
    hands_see(b, "(7.51 mm, from strips)");
    hands_see(b, "(7.9 mm, by overlap)");
    hands_see(b, " 8.4 mm ");
    hands_see(b, "1 strip ");
    bench_destroy(b);
}
END_TEST

/* Copies that have nothing but other strips: it is said so, with the keys that settle it, and they do. */
START_TEST(other_strips_in_the_inventory) {
    static const char one[] = ", strips: [{impressions: 10, length: 67.6}]";
    static const char two[] = ", strips: [{impressions: 10, length: 67.6}, {impressions: 10, length: 67.6}]";
    bench *b = lid_with(one, two);
    hands_see(b, "m has other strips or rounds in the inventory than in this piece");
    hands_see(b, "i, then P takes the inventory's, I gives it");
    hands_press(b, "w");
    hands_see(b, "i, then P takes the inventory's, I gives it");
    hands_press(b, "Esc i");
    hands_see(b, "the piece has other strips: P takes the inventory's, I gives the piece's");
    hands_press(b, "P");
    ck_assert_uint_eq(desk_project(b->desk)->tools[0].strip_count, 2);
    hands_press(b, "Esc");
    hands_see(b, "no warnings");
    bench_destroy(b);
    b = lid_with("", ", steps: {usual: 7.6}");
    hands_see(b, "m has other sizes in the inventory than in this piece");
    bench_destroy(b);
}
END_TEST

Suite *bench_strips_suite(void) {
    Suite *suite = suite_create("strips on the screen");
    TCase *tests = tcase_create("strips");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, where_steps_come_from);
    tcase_add_test(tests, other_strips_in_the_inventory);
    suite_add_tcase(suite, tests);
    return suite;
}
