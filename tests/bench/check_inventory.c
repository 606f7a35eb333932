/* check_inventory.c - the inventory's screens under hands: every value of every kind of tool, refusals, settling,
 * questions, other programs, a first file, a thousand tools, keys at random. */
#include <check.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "bench/hands.h"
#include "bench/inventory.h"

Suite *bench_inventory_suite(void);

static void stock_holds(const bench *b, const char *words, bool wanted) {
    char *bytes = hands_stock_bytes(b);
    ck_assert_msg((strstr(bytes, words) != NULL) == wanted, "'%s' in\n%s", words, bytes);
    free(bytes);
}

static void file_holds(const char *file, const char *words) {
    char command[300];
    snprintf(command, sizeof command, "grep -qF -- '%s' '%s'", words, file);
    ck_assert_msg(system(command) == 0, "no '%s' in %s", words, file);
}

/* ---- every value ---- */

/* Another value that the field takes; NULL where nothing can be typed. */
static const char *another(const shop_field *field, int kind) {
    const char *key = field->path + strlen("tools[].");
    if (strncmp(key, "steps.", 6) == 0) { /* each within what the other two are by default */
        static const char *const steps[][2] = {{"7", "8.55"}, {"7.5", "9.1"}, {"8.75", "9.95"}};
        return steps[strcmp(key, "steps.closest") == 0 ? 0
                     : strcmp(key, "steps.usual") == 0 ? 1
                                                       : 2][kind != BW_BASKET];
    }
    switch (field->type) {
    case SHOP_TYPE_NAME:
        return "renamed";
    case SHOP_TYPE_TEXT:
        return "some words, and: more";
    case SHOP_TYPE_NUMBER:
        return "7";
    case SHOP_TYPE_SHARE:
        return "12 %";
    case SHOP_TYPE_LENGTH:
        return strcmp(key, "length") == 0 || strcmp(key, "pitch") == 0 ? "9.25"
               : strcmp(key, "width") == 0                             ? "4.5"
               : strcmp(key, "bar") == 0                               ? "2.75"
               : strcmp(key, "rail") == 0                              ? "1.25"
               : strcmp(key, "grid") == 0                              ? "0.5"
               : strcmp(key, "most") == 0                              ? "200"
               : strcmp(key, "least") == 0                             ? "2"
                                                                       : "8.75";
    default:
        return NULL;
    }
}

/* A fresh tool of a kind is in hand, its values on the screen. */
static void add(bench *b, int kind) {
    char keys[80], up[20] = "";
    if (kind < BW_MAUL) {
        snprintf(up, sizeof up, " Up*%d", BW_MAUL - kind);
    }
    snprintf(keys, sizeof keys, "a End%s Enter \"%s\" Enter", up, kind <= BW_IRON ? "9" : "thing");
    hands_press(b, keys);
    ck_assert_msg(b->screen == BENCH_TOOL, "%s: %s", keys, b->message);
}

static void change_row(bench *b, const bench_row *row, int kind) {
    const char *value = another(row->field, kind);
    char keys[120];
    if (row->field->type == SHOP_TYPE_WORD || row->field->type == SHOP_TYPE_YES_NO) {
        return; /* steps, below */
    }
    if (value == NULL) {
        ck_assert_msg(row->field->type == SHOP_TYPE_LIST, "no value for %s", row->field->path);
        return;
    }
    snprintf(keys, sizeof keys, "Enter \"%s\" Enter", value);
    hands_press(b, keys);
    ck_assert_msg(!b->bad && bench_where(b) == BENCH_TOOL, "%s %s: %s", row->path, value, b->message);
    stock_holds(b, value, true);
}

/* The table of fields is walked: each that a kind of tool has can be changed here, and taken back. */
START_TEST(every_value_of_every_kind) {
    bench *b = hands_open(NULL);
    hands_press(b, "i");
    add(b, _i);
    size_t count, shown = 0;
    const shop_field *fields = shop_fields(&count);
    bench_card card;
    for (size_t i = 0; i < count; i++) {
        bool has = fields[i].owner == SHOP_OF_TOOL && fields[i].type != SHOP_TYPE_LIST &&
                   (fields[i].kinds == 0 || (fields[i].kinds & 1u << _i) != 0);
        if (!has) {
            continue;
        }
        char *before = hands_stock_bytes(b);
        shelf_card(b, false, &card);
        size_t at = 0;
        while (at < card.count && card.rows[at].field != &fields[i]) {
            at++;
        }
        ck_assert_msg(at < card.count, "%s is not on the screen", fields[i].path);
        b->shelf.field = at;
        hands_see(b, fields[i].label);
        change_row(b, &card.rows[at], _i);
        shown++;
        if (fields[i].type == SHOP_TYPE_YES_NO) {
            hands_press(b, "Right");
            stock_holds(b, "retired: yes", true);
        }
        if (b->shelf.side_done > 1) {
            hands_press(b, "u");
            snprintf(b->shelf.id, sizeof b->shelf.id, "%s",
                     desk_project(b->stock)->tools[desk_project(b->stock)->own_tools - 1].id);
        }
        char *after = hands_stock_bytes(b);
        ck_assert_str_eq(before, after);
        free(after);
        free(before);
    }
    ck_assert_uint_ge(shown, 6);
    bench_destroy(b);
}
END_TEST

START_TEST(a_bad_value_stays_typed) {
    static const char *const bad[] = {"wide", "90", "0", "1,5", "-3", "3/0 in"};
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "i Enter");
    char *before = hands_stock_bytes(b);
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        char keys[60];
        snprintf(keys, sizeof keys, "Enter \"%s\" Enter", bad[i]);
        hands_press(b, keys);
        ck_assert_msg(b->bad && b->message[0] != '\0', "%s", bad[i]);
        ck_assert_int_eq(bench_where(b), BENCH_TYPING);
        ck_assert_str_eq(b->entry.text, bad[i]);
        hands_press(b, "Esc");
    }
    char *after = hands_stock_bytes(b);
    ck_assert_str_eq(before, after);
    ck_assert(!desk_unsaved(b->stock));
    free(after);
    free(before);
    bench_destroy(b);
}
END_TEST

/* ---- order and filters ---- */

START_TEST(best_first_is_the_ranking) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "i");
    size_t count, all, ranked;
    shelf_row *rows = shelf_read(b, &count, &all);
    const bw_rank *ranks = desk_ranks(b->desk, b->band, &ranked);
    ck_assert_uint_gt(ranked, 3);
    for (size_t i = 0; i < ranked; i++) {
        ck_assert_str_eq(rows[i].tool->id, desk_project(b->desk)->tools[ranks[i].tool].id);
    }
    free(rows);
    hands_press(b, "O"); /* by id */
    rows = shelf_read(b, &count, &all);
    for (size_t i = 1; i < count; i++) {
        ck_assert_int_lt(strcmp(rows[i - 1].tool->id, rows[i].tool->id), 0);
    }
    free(rows);
    hands_press(b, "O"); /* by kind */
    rows = shelf_read(b, &count, &all);
    for (size_t i = 1; i < count; i++) {
        ck_assert_int_le((int)rows[i - 1].tool->kind, (int)rows[i].tool->kind);
    }
    free(rows);
    hands_press(b, "O F \"BASKET 3\" Enter"); /* two words, whatever their case; shortest first */
    rows = shelf_read(b, &count, &all);
    ck_assert_uint_eq(count, 1);
    ck_assert_str_eq(rows[0].tool->id, "basket-3-8");
    free(rows);
    hands_press(b, "F Backspace*8 Enter K*3"); /* irons */
    rows = shelf_read(b, &count, &all);
    ck_assert_uint_eq(count, 3);
    ck_assert_double_lt(rows[0].tool->pitch, rows[2].tool->pitch);
    free(rows);
    bench_destroy(b);
}
END_TEST

/* ---- settling ---- */

START_TEST(differences_are_settled_either_way) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "i Enter Right*4 Esc"); /* the inventory's medium stamp: 9.9 mm */
    hands_see(b, "differs");
    char *mine = hands_bytes(b);
    hands_press(b, "P");
    ck_assert_double_eq_tol(desk_project(b->desk)->tools[0].length, 9.9, 1e-9);
    ck_assert(!desk_project(b->desk)->tool_about[0].differs);
    hands_press(b, "u");
    char *now = hands_bytes(b);
    ck_assert_str_eq(mine, now);
    ck_assert(desk_project(b->desk)->tool_about[0].differs);
    hands_press(b, "I");
    ck_assert(!desk_project(b->desk)->tool_about[0].differs);
    stock_holds(b, "basket-m, kind: basket, length: 9.5", true); /* which has no name */
    hands_press(b, "u*5 u");                                     /* I, and the four steps of the length */
    ck_assert(!desk_unsaved(b->stock));
    ck_assert(!desk_unsaved(b->desk));
    hands_press(b, "U*5");
    ck_assert(!desk_project(b->desk)->tool_about[0].differs);
    free(now);
    free(mine);
    bench_destroy(b);
}
END_TEST

/* A piece that has no copy of its stamp gets one before the inventory's goes; without that it is refused. */
START_TEST(what_a_piece_uses_does_not_vanish) {
    hands_write("bare.yaml", "bandwright-project: 1\noutline: {shape: circle, diameter: 120}\n"
                             "bands:\n  - {name: weave, width: 20, fill: basket, tool: basket-m}\n");
    bench *b = hands_open("bare.yaml");
    hands_press(b, "i Enter Home Enter \"other\" Enter");
    ck_assert(b->bad);
    hands_see(b, "P gives it a copy");
    hands_press(b, "Esc Esc x");
    hands_see(b, "weave");
    hands_see(b, "copy of its own first");
    hands_press(b, "n");
    stock_holds(b, "basket-m,", true);
    hands_press(b, "x y");
    stock_holds(b, "basket-m,", false);
    char *bytes = hands_bytes(b);
    ck_assert_ptr_nonnull(strstr(bytes, "id: basket-m,"));
    free(bytes);
    hands_press(b, "x"); /* now only the piece has it */
    ck_assert_int_eq(b->screen, BENCH_INVENTORY);
    ck_assert(b->bad);
    hands_press(b, "u u");
    stock_holds(b, "basket-m,", true);
    ck_assert(!desk_unsaved(b->desk));
    ck_assert(!desk_unsaved(b->stock));
    bench_destroy(b);
}
END_TEST

/* Neither the layout held beside the one in hand, nor a step that could be taken back, loses its tool unsaid. */
START_TEST(what_is_held_or_past_is_thought_of) {
    hands_write("bare.yaml", "bandwright-project: 1\noutline: {shape: circle, diameter: 120}\n"
                             "bands:\n  - {name: weave, width: 20, fill: basket, tool: basket-m}\n");
    bench *b = hands_open("bare.yaml");
    hands_press(b, "g t Down Enter i F \"basket-m\" Enter x y"); /* the held one strikes with it, this one does not */
    ck_assert(b->bad);
    stock_holds(b, "basket-m,", true);
    bench_destroy(b);
    b = hands_open("bare.yaml");
    hands_press(b, "t Down Enter i F \"basket-m\" Enter x y"); /* one step back it is used */
    stock_holds(b, "basket-m,", false);
    hands_press(b, "Esc u*5");
    ck_assert_ptr_nonnull(desk_last(b->desk));
    hands_see(b, "the piece used a tool then");
    hands_see(b, "i, then u");
    hands_press(b, "i u Esc u*9");
    ck_assert_ptr_null(desk_last(b->desk));
    bench_destroy(b);
}
END_TEST

/* A click takes a tool or a value in hand, a second one is Enter. */
START_TEST(the_mouse_works_here) {
    bench *b = hands_open("cedar-lid.yaml");
    bench_set_pointer(b, true);
    hands_press(b, "i");
    free(hands_screen(b, 80, 24));
    bench_pointer(b, BENCH_CLICK, 10, 5);
    ck_assert_str_eq(b->shelf.id, "basket-l");
    free(hands_screen(b, 80, 24));
    bench_pointer(b, BENCH_CLICK, 10, 5);
    ck_assert_int_eq(b->screen, BENCH_TOOL);
    free(hands_screen(b, 80, 24));
    bench_pointer(b, BENCH_CLICK, 20, 9);
    ck_assert_uint_eq(b->shelf.field, 7);
    bench_destroy(b);
}
END_TEST

/* ---- saving, other programs, leaving ---- */

START_TEST(others_are_asked_about) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "i Enter Right");
    char *mine = hands_stock_bytes(b);
    static const char theirs[] = "bandwright-inventory: 1\ntools:\n  - {id: theirs, kind: knife}\n";
    hands_write(HANDS_INVENTORY, theirs);
    hands_press(b, "s");
    ck_assert_int_eq(b->screen, BENCH_THEIRS);
    hands_press(b, "v");
    hands_see(b, "theirs");
    hands_press(b, "Esc Esc");
    ck_assert_int_eq(b->screen, BENCH_TOOL);
    hands_press(b, "s L");
    char *now = hands_stock_bytes(b);
    ck_assert_str_eq(now, theirs);
    free(now);
    hands_press(b, "u"); /* mine again */
    now = hands_stock_bytes(b);
    ck_assert_str_eq(now, mine);
    free(now);
    hands_write(HANDS_INVENTORY, "bandwright-inventory: 1\n");
    hands_press(b, "s k");
    file_holds(HANDS_INVENTORY, "9.6");
    file_holds(HANDS_INVENTORY ".theirs", "bandwright-inventory: 1");
    ck_assert(!desk_unsaved(b->stock));
    hands_write(HANDS_INVENTORY, theirs);
    hands_press(b, "Esc Esc i");
    hands_see(b, "L reads it again");
    hands_press(b, "L");
    hands_see(b, "theirs");
    free(mine);
    bench_destroy(b);
}
END_TEST

START_TEST(a_failing_save_is_told) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "i Enter Right");
    ck_assert_int_eq(unlink(HANDS_INVENTORY), 0);
    ck_assert_int_eq(mkdir(HANDS_INVENTORY, 0700), 0);
    hands_press(b, "s");
    ck_assert(b->bad);
    hands_see(b, "nothing is lost");
    ck_assert(desk_unsaved(b->stock));
    hands_press(b, "Esc Esc q");
    ck_assert_int_eq(b->screen, BENCH_ASK);
    ck_assert_uint_eq(bench_key(b, 'y') & BENCH_QUIT, 0); /* it could not be saved: nobody leaves */
    ck_assert(desk_unsaved(b->stock));
    ck_assert_int_eq(rmdir(HANDS_INVENTORY), 0);
    hands_press(b, "q");
    ck_assert_uint_eq(bench_key(b, 'y') & BENCH_QUIT, BENCH_QUIT);
    file_holds(HANDS_INVENTORY, "9.6");
    bench_destroy(b);
}
END_TEST

START_TEST(leaving_asks_for_both) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "Right i Enter Right Esc Esc q");
    hands_see(b, "The layout is not saved");
    bench_key(b, 'n');
    hands_see(b, "The inventory is not saved");
    ck_assert_uint_eq(bench_key(b, BENCH_KEY_ESC) & BENCH_QUIT, 0);
    ck_assert_int_eq(b->screen, BENCH_WORK);
    hands_press(b, "q y");
    file_holds("cedar-lid.yaml", "21.25");
    hands_see(b, "The inventory is not saved");
    ck_assert_uint_eq(bench_key(b, 'n') & BENCH_QUIT, BENCH_QUIT);
    bench_destroy(b);
}
END_TEST

/* Changed by another program, and left: asked about before anybody leaves. */
START_TEST(leaving_with_two_versions) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "i Enter Right Esc Esc");
    hands_write(HANDS_INVENTORY, "bandwright-inventory: 1\n");
    hands_press(b, "q");
    ck_assert_uint_eq(bench_key(b, 'y') & BENCH_QUIT, 0);
    ck_assert_int_eq(b->screen, BENCH_THEIRS);
    ck_assert_uint_eq(bench_key(b, BENCH_KEY_ESC) & BENCH_QUIT, 0);
    ck_assert_int_eq(b->screen, BENCH_WORK);
    hands_press(b, "q y");
    ck_assert_uint_eq(bench_key(b, 'k') & BENCH_QUIT, BENCH_QUIT);
    file_holds(HANDS_INVENTORY, "9.6");
    bench_destroy(b);
}
END_TEST

/* A program that was killed: its changes are offered when the inventory is opened next. */
static void killed(const char *keys) {
    pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) {
        bench *b = hands_open("cedar-lid.yaml");
        hands_press(b, keys);
        raise(SIGKILL);
    }
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL);
}

START_TEST(a_killed_program_loses_nothing) {
    killed("i Enter Right Esc d a Home Enter \"7\" Enter");
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "i");
    hands_see(b, "3 changes of the inventory were not saved");
    hands_see(b, "9.5 mm -> 9.6 mm");
    hands_press(b, "Esc");
    stock_holds(b, "9.6", false);
    bench_destroy(b);
    b = hands_open(NULL); /* from the start screen, too */
    hands_press(b, "i y");
    stock_holds(b, "9.6", true);
    stock_holds(b, "basket-7", true);
    hands_press(b, "u*3");
    ck_assert(!desk_unsaved(b->stock));
    hands_press(b, "U*3 s");
    file_holds(HANDS_INVENTORY, "basket-7");
    bench_destroy(b);
    b = hands_open("cedar-lid.yaml");
    hands_press(b, "i");
    ck_assert_int_eq(b->screen, BENCH_INVENTORY); /* nothing is left */
    bench_destroy(b);
    killed("i R");
    b = hands_open("cedar-lid.yaml");
    hands_press(b, "i n n q i");
    ck_assert_int_eq(b->screen, BENCH_INVENTORY);
    stock_holds(b, "retired", false);
    bench_destroy(b);
}
END_TEST

/* No inventory anywhere: the first save makes the file and its folder. */
START_TEST(a_first_inventory) {
    ck_assert_int_eq(setenv("XDG_DATA_HOME", "/nowhere/that/is", 1), 0);
    bench_places places = {"deep/down/inventory.yaml", "state", "."};
    shop_problems problems;
    shop_problems_init(&problems, "");
    shop_status status;
    bench *b = bench_create(NULL, &places, &problems, &status);
    ck_assert_ptr_nonnull(b);
    hands_press(b, "i");
    hands_see(b, "There is no tool yet");
    ck_assert(!desk_unsaved(b->stock));
    hands_press(b, "q i a Enter \"9.5\" Enter s");
    file_holds("deep/down/inventory.yaml", "{id: basket-9-5, kind: basket, length: 9.5}");
    bench_destroy(b);
    shop_problems_free(&problems);
}
END_TEST

/* ---- many ---- */

enum { MANY = 1000 };

/* Moving does not rank anew: what was reckoned for the band stays until a value changes. */
START_TEST(a_thousand_tools) {
    FILE *to = fopen(HANDS_INVENTORY, "wb");
    ck_assert_ptr_nonnull(to);
    fprintf(to, "bandwright-inventory: 1\ntools:\n");
    for (int i = 0; i < MANY; i++) {
        fprintf(to, "  - {id: tool-%04d, kind: basket, length: %d.%02d}\n", i, 4 + i % 30, i % 97);
    }
    ck_assert_int_eq(fclose(to), 0);
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "i");
    hands_see(b, "1003 of 1003 tools");
    size_t count;
    const bw_rank *ranks = desk_ranks(b->desk, b->band, &count);
    ck_assert_uint_eq(count, MANY + 1);
    hands_press(b, "End PageUp*5 Home Down*20 O O O O F \"tool-0999\"");
    hands_see(b, "1 of 1003 tools");
    ck_assert_ptr_eq(desk_ranks(b->desk, b->band, &count), ranks);
    hands_press(b, "Enter Enter Right Esc");
    hands_see(b, "the inventory");
    stock_holds(b, "id: tool-0999, kind: basket, length: 13.39", true);
    bench_destroy(b);
}
END_TEST

/* ---- keys at random ---- */

static unsigned next_random(unsigned *state) {
    *state = *state * 1664525u + 1013904223u; /* any constants of a full period would do */
    return *state >> 8;
}

/* What is shown is the text read afresh, and the piece stands on it. */
static void is_true(const bench *b) {
    if (b->stock == NULL) {
        return;
    }
    shop_problems problems;
    size_t length;
    const char *bytes = desk_bytes(b->stock, &length);
    shop_problems_init(&problems, "afresh");
    shop_inventory *afresh = shop_inventory_read(bytes, length, &problems);
    ck_assert_ptr_nonnull(afresh);
    ck_assert_uint_eq(afresh->tool_count, desk_project(b->stock)->own_tools);
    bytes = desk_bytes(b->desk, &length);
    shop_project *project = shop_project_read(bytes, length, "cedar-lid.yaml", afresh, &problems);
    ck_assert_ptr_nonnull(project);
    const shop_project *shown = desk_project(b->desk);
    ck_assert_uint_eq(project->layout.tool_count, shown->layout.tool_count);
    for (size_t i = 0; i < shown->layout.tool_count; i++) {
        ck_assert_str_eq(project->tools[i].id, shown->tools[i].id);
        ck_assert(project->tools[i].length == shown->tools[i].length ||
                  project->tools[i].length != project->tools[i].length);
        ck_assert_int_eq(project->tool_about[i].differs, shown->tool_about[i].differs);
    }
    shop_project_free(project);
    shop_inventory_free(afresh);
    shop_problems_free(&problems);
}

START_TEST(the_way_back) {
    static const int named[] = {BENCH_KEY_ENTER,    BENCH_KEY_ESC,       BENCH_KEY_TAB,   BENCH_KEY_UP,
                                BENCH_KEY_DOWN,     BENCH_KEY_LEFT,      BENCH_KEY_RIGHT, BENCH_KEY_HOME,
                                BENCH_KEY_END,      BENCH_KEY_PAGE_DOWN, BENCH_KEY_DOWN,  BENCH_KEY_RIGHT,
                                BENCH_KEY_BACKSPACE};
    static const char letters[] = "adrRxPIuUfkoyns1234567890.sL<>h/";
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "i");
    char *shop = hands_stock_bytes(b), *piece = hands_bytes(b);
    unsigned state = 5u + 31u * (unsigned)_i;
    for (int i = 0; i < 400; i++) {
        int key = next_random(&state) % 2 == 0 ? named[next_random(&state) % (sizeof named / sizeof named[0])]
                                               : letters[next_random(&state) % (sizeof letters - 1)];
        bool away = b->screen == BENCH_WORK && b->typing == TYPING_NOTHING;
        bench_key(b, away ? 'i' : key);
        free(hands_screen(b, _i % 2 == 0 ? 80 : 44, _i % 2 == 0 ? 24 : 11));
        is_true(b);
    }
    while (desk_undo(b->desk, NULL)) {
    }
    while (desk_undo(b->stock, NULL)) {
    }
    char *after = hands_stock_bytes(b), *after_piece = hands_bytes(b);
    ck_assert_str_eq(shop, after);
    ck_assert_str_eq(piece, after_piece);
    free(after_piece);
    free(after);
    free(piece);
    free(shop);
    bench_destroy(b);
}
END_TEST

Suite *bench_inventory_suite(void) {
    Suite *suite = suite_create("the inventory's screens");
    TCase *tests = tcase_create("inventory");
    tcase_set_timeout(tests, 120);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_loop_test(tests, every_value_of_every_kind, 0, BW_MAUL + 1);
    tcase_add_test(tests, a_bad_value_stays_typed);
    tcase_add_test(tests, best_first_is_the_ranking);
    tcase_add_test(tests, differences_are_settled_either_way);
    tcase_add_test(tests, what_a_piece_uses_does_not_vanish);
    tcase_add_test(tests, what_is_held_or_past_is_thought_of);
    tcase_add_test(tests, the_mouse_works_here);
    tcase_add_test(tests, others_are_asked_about);
    tcase_add_test(tests, a_failing_save_is_told);
    tcase_add_test(tests, leaving_asks_for_both);
    tcase_add_test(tests, leaving_with_two_versions);
    tcase_add_test(tests, a_killed_program_loses_nothing);
    tcase_add_test(tests, a_first_inventory);
    tcase_add_test(tests, a_thousand_tools);
    tcase_add_loop_test(tests, the_way_back, 0, 6);
    suite_add_tcase(suite, tests);
    return suite;
}
