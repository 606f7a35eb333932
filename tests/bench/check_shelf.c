/* check_shelf.c - the inventory's own values, lists and kinds of its tools, and names that only one file has. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inventory.h"

Suite *bench_shelf_suite(void);

static void stock_says(const bench *b, const char *path, const char *text) {
    char *now = shop_text_get(desk_project(b->stock)->text, path);
    ck_assert_msg(text == NULL ? now == NULL : now != NULL && strcmp(now, text) == 0, "%s: %s in place of %s", path,
                  now != NULL ? now : "nothing", text != NULL ? text : "nothing");
    free(now);
}

static void stock_is(const bench *b, const char *bytes) {
    char *now = hands_stock_bytes(b);
    ck_assert_msg(strcmp(now, bytes) == 0, "another inventory:\n%s", now);
    free(now);
}

/* The row of a field of what is in hand comes into hand. */
static void take(bench *b, const char *pattern) {
    bench_card card;
    shelf_card(b, b->shelf.piece, &card);
    for (size_t i = 0; i < card.count; i++) {
        if (strcmp(card.rows[i].field->path, pattern) == 0) {
            b->shelf.field = i;
            return;
        }
    }
    ck_abort_msg("%s is not on the screen", pattern);
}

/* ---- the inventory itself ---- */

/* All that the table has for an inventory beside its tools is on the screen, is changed there and goes back. */
START_TEST(its_own_values) {
    static const char *const typed[][3] = {{"rates.per-hour", "35", "dear"},
                                           {"rates.strikes-per-minute", "12.5", "0"},
                                           {"rates.currency", "crowns", NULL}};
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "i");
    char *bytes = hands_stock_bytes(b);
    hands_press(b, "E");
    bench_card card;
    shelf_card(b, false, &card);
    size_t count, wanted = 0;
    const shop_field *fields = shop_fields(&count);
    for (size_t i = 0; i < count; i++) {
        wanted += fields[i].type != SHOP_TYPE_FORMAT && fields[i].owner != SHOP_OF_TOOL &&
                  fields[i].owner != SHOP_OF_STRIP && shop_inventory_has(fields[i].path);
    }
    ck_assert_uint_eq(card.count, wanted);
    ck_assert_uint_eq(wanted, 1 + sizeof typed / sizeof typed[0]);
    for (size_t i = 0; i < sizeof typed / sizeof typed[0]; i++) {
        char keys[80];
        take(b, typed[i][0]);
        if (typed[i][2] != NULL) {
            snprintf(keys, sizeof keys, "Enter \"%s\" Enter", typed[i][2]);
            hands_press(b, keys);
            ck_assert(b->bad && bench_where(b) == BENCH_TYPING);
            hands_press(b, "Esc");
            stock_says(b, typed[i][0], NULL);
        }
        snprintf(keys, sizeof keys, "Enter \"%s\" Enter", typed[i][1]);
        hands_press(b, keys);
        ck_assert_msg(!b->bad, "%s", b->message);
        stock_says(b, typed[i][0], typed[i][1]);
        hands_see(b, typed[i][1]);
    }
    ck_assert_double_eq_tol(desk_project(b->stock)->rates.per_hour, 35, 1e-9);
    hands_press(b, "Tab"); /* the piece's own are elsewhere */
    ck_assert(b->bad);
    hands_press(b, "P");
    ck_assert(b->bad);
    hands_press(b, "u*3");
    stock_is(b, bytes);
    hands_press(b, "Esc Enter"); /* and a tool again */
    stock_says(b, "tools.basket-m.length", "9.5");
    hands_see(b, "9.5 mm");
    free(bytes);
    bench_destroy(b);
}
END_TEST

/* Every length means what it meant; the file is then one in inches. */
START_TEST(its_units) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "i E");
    char *bytes = hands_stock_bytes(b);
    size_t tools = desk_project(b->stock)->own_tools;
    double before[64];
    ck_assert_uint_lt(tools, 64);
    for (size_t i = 0; i < tools; i++) {
        before[i] = desk_project(b->stock)->tools[i].length;
    }
    hands_press(b, "Right");
    ck_assert_msg(!b->bad, "%s", b->message);
    stock_says(b, "units", "in");
    ck_assert_int_eq(desk_project(b->stock)->units, SHOP_INCH);
    for (size_t i = 0; i < tools; i++) {
        double now = desk_project(b->stock)->tools[i].length;
        ck_assert(before[i] != before[i] ? now != now : now == before[i]);
    }
    hands_press(b, "Backspace"); /* none is millimetres, and they stay what they are, too */
    ck_assert_int_eq(desk_project(b->stock)->units, SHOP_MM);
    ck_assert_double_eq_tol(desk_project(b->stock)->tools[2].length, before[2], 1e-12);
    hands_press(b, "u u");
    stock_is(b, bytes);
    free(bytes);
    bench_destroy(b);
}
END_TEST

/* ---- lists ---- */

START_TEST(lists_item_by_item) {
    static const char *const lists[] = {"tools[].strips", "tools[].rounds"};
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "i Enter");
    char *bytes = hands_stock_bytes(b), path[60];
    snprintf(path, sizeof path, "tools.basket-m.%s", lists[_i] + strlen("tools[]."));
    take(b, lists[_i]);
    hands_press(b, "Enter");
    ck_assert_int_eq(b->screen, BENCH_TOOL_ITEMS);
    hands_press(b, "Enter \"{impressions: 10, length: 74}\" Enter");
    ck_assert_msg(!b->bad, "%s", b->message);
    stock_says(b, path, "[{impressions: 10, length: 74}]");
    hands_see(b, "{impressions: 10, length: 74}");
    hands_press(b, "Home a \"{impressions: 9, length: 66}\" Enter");
    stock_says(b, path, "[{impressions: 10, length: 74}, {impressions: 9, length: 66}]");
    hands_press(b, "Home Enter \"[\" Enter"); /* is no value: it stays typed */
    ck_assert(b->bad && bench_where(b) == BENCH_TYPING);
    hands_press(b, "Esc Home x");
    stock_says(b, path, "[{impressions: 9, length: 66}]");
    hands_press(b, "x");
    stock_says(b, path, NULL);
    hands_press(b, "u*2");
    stock_says(b, path, "[{impressions: 10, length: 74}, {impressions: 9, length: 66}]");
    hands_press(b, "U u*3");
    stock_is(b, bytes);
    ck_assert_int_eq(b->screen, BENCH_TOOL_ITEMS);
    hands_press(b, "Esc");
    ck_assert_int_eq(b->screen, BENCH_TOOL);
    hands_press(b, "Esc");
    ck_assert_int_eq(b->screen, BENCH_INVENTORY);
    free(bytes);
    bench_destroy(b);
}
END_TEST

/* ---- kinds ---- */

/* From every kind through all others and round again: what is lost is said, and undo brings it back. */
START_TEST(another_kind) {
    bench *b = hands_open(NULL);
    char keys[60], up[20] = "";
    if (_i < BW_MAUL) {
        snprintf(up, sizeof up, " Up*%d", BW_MAUL - _i);
    }
    snprintf(keys, sizeof keys, "i a End%s Enter \"%s\" Enter", up, _i <= BW_IRON ? "9" : "thing");
    hands_press(b, keys);
    char *bytes = hands_stock_bytes(b), id[sizeof b->shelf.id];
    snprintf(id, sizeof id, "%s", b->shelf.id);
    for (int i = 0; i < BW_MAUL; i++) {
        int tool = desk_tool_find(b->stock, id);
        bw_kind before = desk_project(b->stock)->tools[tool].kind;
        bool sized = before <= BW_IRON;
        take(b, "tools[].kind");
        hands_press(b, "Right");
        ck_assert_msg(!b->bad, "%s", b->message);
        tool = desk_tool_find(b->stock, id);
        bw_kind now = desk_project(b->stock)->tools[tool].kind;
        ck_assert_int_eq(now, (before + 1) % (BW_MAUL + 1));
        if (sized && now == BW_IRON) {
            ck_assert_msg(strstr(b->message, "it loses length") != NULL, "%s", b->message);
        }
        hands_see(b, show_kind_word(now));
    }
    snprintf(keys, sizeof keys, "u*%d", BW_MAUL);
    hands_press(b, keys);
    stock_is(b, bytes);
    free(bytes);
    bench_destroy(b);
}
END_TEST

/* A size that the other kind does not allow is refused with the reason, and nothing changes. */
START_TEST(a_kind_whose_sizes_do_not_fit) {
    bench *b = hands_open(NULL);
    hands_press(b, "i");
    hands_write(HANDS_INVENTORY, "bandwright-inventory: 1\ntools:\n"
                                 "  - {id: thin, kind: basket, length: 5, width: 0.3, rail: 0.1}\n");
    hands_press(b, "L Enter");
    char *bytes = hands_stock_bytes(b);
    take(b, "tools[].kind");
    hands_press(b, "Right"); /* a border stamp is at least 0.5 mm wide */
    ck_assert(b->bad);
    hands_see(b, "allowed: 0.5 to 60 mm");
    stock_is(b, bytes);
    free(bytes);
    bench_destroy(b);
}
END_TEST

/* ---- names ---- */

static const char *const sizes[] = {
    [BW_BASKET] = "length: 9", [BW_BORDER] = "length: 5, width: 4", [BW_IRON] = "pitch: 4",
    [BW_BEVELER] = "width: 5", [BW_DIVIDERS] = "most: 150",         [BW_KNIFE] = "blows: 3",
    [BW_MAUL] = "blows: 2"};

/* A name or a note that only one of them has is a difference, settled either way by one key, and undone by one. */
START_TEST(names_are_settled) {
    char text[400];
    int kind = _i / 2;
    bool shop = _i % 2 == 0; /* the inventory has them */
    const char *named = ", name: the old one, note: worn at one end";
    snprintf(text, sizeof text, "bandwright-inventory: 1\ntools:\n  - {id: thing, kind: %s, %s%s}\n",
             show_kind_word((bw_kind)kind), sizes[kind], shop ? named : "");
    hands_write(HANDS_INVENTORY, text);
    snprintf(text, sizeof text,
             "bandwright-project: 1\noutline: {shape: circle, diameter: 100}\ntools:\n  - {id: thing, kind: %s, "
             "%s%s}\n",
             show_kind_word((bw_kind)kind), sizes[kind], shop ? "" : named);
    hands_write("named.yaml", text);
    bench *b = hands_open("named.yaml");
    hands_press(b, "i");
    char *stock = hands_stock_bytes(b), *piece = hands_bytes(b);
    hands_see(b, "differs");
    hands_press(b, "Enter");
    hands_see(b, "differs");
    for (int to_piece = 0; to_piece < 2; to_piece++) {
        hands_press(b, to_piece ? "P" : "I");
        ck_assert_msg(!b->bad && strstr(b->message, "name") != NULL && strstr(b->message, "note") != NULL, "%s",
                      b->message);
        ck_assert((strstr(b->message, "taken out") != NULL) == (to_piece != (int)shop));
        char *screen = hands_screen(b, 80, 24);
        ck_assert_msg(strstr(screen, "differs") == NULL, "%s", screen);
        free(screen);
        stock_says(b, "tools.thing.name", shop == (to_piece == 1) ? "the old one" : NULL);
        hands_press(b, "u");
        stock_is(b, stock);
        char *now = hands_bytes(b);
        ck_assert_str_eq(now, piece);
        free(now);
    }
    free(piece);
    free(stock);
    bench_destroy(b);
}
END_TEST

/* ---- what a band leaves behind ---- */

/* The copy that the inventory has, too, goes with its last band, and comes back with it; the only one stays. */
START_TEST(a_band_takes_its_copy_along) {
    hands_write("two.yaml", "bandwright-project: 1\noutline: {shape: circle, diameter: 140}\nbands:\n"
                            "  - {name: weave, width: 20, fill: basket, tool: basket-m}\n"
                            "  - {name: again, width: 20, fill: basket, tool: basket-m}\n"
                            "  - {name: own, width: 6, fill: border, tool: mine}\n"
                            "tools:\n"
                            "  - {id: basket-m, kind: basket, name: medium basket stamp, length: 9.5, width: 6.4, "
                            "bar: 3.1, rail: 1.6}\n"
                            "  - {id: mine, kind: border, length: 5, width: 5}\n");
    bench *b = hands_open("two.yaml");
    char *bytes = hands_bytes(b);
    hands_press(b, "x"); /* another band needs it */
    ck_assert_uint_eq(desk_project(b->desk)->own_tools, 2);
    ck_assert_ptr_null(strstr(b->message, "copy"));
    hands_press(b, "x");
    ck_assert_uint_eq(desk_project(b->desk)->own_tools, 1);
    ck_assert_ptr_nonnull(strstr(b->message, "its copy of basket-m"));
    hands_press(b, "x"); /* the only copy there is */
    ck_assert_uint_eq(desk_project(b->desk)->layout.band_count, 0);
    ck_assert_uint_eq(desk_project(b->desk)->own_tools, 1);
    ck_assert_ptr_nonnull(strstr(b->message, "mine stays in the piece"));
    hands_press(b, "u u");
    ck_assert_uint_eq(desk_project(b->desk)->own_tools, 2);
    hands_press(b, "u");
    char *now = hands_bytes(b);
    ck_assert_str_eq(now, bytes);
    free(now);
    free(bytes);
    bench_destroy(b);
}
END_TEST

/* One that says something else than the inventory's, in a size or in nothing but its name, stays. */
START_TEST(a_band_leaves_another_copy) {
    static const char *const says[] = {"name: medium basket stamp, length: 9.6", "name: mine, length: 9.5"};
    char text[400];
    snprintf(text, sizeof text,
             "bandwright-project: 1\noutline: {shape: circle, diameter: 140}\nbands:\n"
             "  - {name: weave, width: 20, fill: basket, tool: basket-m}\n"
             "tools:\n  - {id: basket-m, kind: basket, %s, width: 6.4, bar: 3.1, rail: 1.6}\n",
             says[_i]);
    hands_write("one.yaml", text);
    bench *b = hands_open("one.yaml");
    hands_press(b, "x");
    ck_assert_uint_eq(desk_project(b->desk)->layout.band_count, 0);
    ck_assert_uint_eq(desk_project(b->desk)->own_tools, 1);
    ck_assert_ptr_nonnull(strstr(b->message, "basket-m stays in the piece"));
    bench_destroy(b);
}
END_TEST

Suite *bench_shelf_suite(void) {
    Suite *suite = suite_create("the inventory itself");
    TCase *tests = tcase_create("shelf");
    tcase_set_timeout(tests, 120);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, its_own_values);
    tcase_add_test(tests, its_units);
    tcase_add_loop_test(tests, lists_item_by_item, 0, 2);
    tcase_add_loop_test(tests, another_kind, 0, BW_MAUL + 1);
    tcase_add_test(tests, a_kind_whose_sizes_do_not_fit);
    tcase_add_loop_test(tests, names_are_settled, 0, 2 * (BW_MAUL + 1));
    tcase_add_test(tests, a_band_takes_its_copy_along);
    tcase_add_loop_test(tests, a_band_leaves_another_copy, 0, 2);
    suite_add_tcase(suite, tests);
    return suite;
}
