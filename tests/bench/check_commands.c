/* check_commands.c - the table of commands: whole, without two meanings for a key, told in the help and the manual. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/ways.h"

Suite *bench_commands_suite(void);

static bench *come_to(size_t number) {
    size_t count;
    return ways_come(&ways_all(&count)[number], NULL);
}

static bench_screen screen_of(size_t number) {
    size_t count;
    return ways_all(&count)[number].screen;
}

START_TEST(every_command_is_whole) {
    size_t count;
    const bench_command *table = bench_commands(&count);
    ck_assert_uint_gt(count, 50);
    for (size_t i = 0; i < count; i++) {
        const bench_command *one = &table[i];
        ck_assert_msg(one->keys[0] != BENCH_KEY_NONE && one->name[0] != '\0' && one->run != NULL, "row %zu", i);
        ck_assert_msg(one->help[0] != '\0' && one->help[strlen(one->help) - 1] == '.', "row %zu: %s", i, one->help);
        ck_assert_msg((one->where & ((1u << BENCH_SCREENS) - 1)) != 0, "row %zu works nowhere", i);
        for (int k = 0; k < COMMAND_KEYS && one->keys[k] != BENCH_KEY_NONE; k++) {
            char name[16];
            const char *spelled = key_name(one->keys[k], name);
            int back = key_of_name(spelled, strlen(spelled));
            ck_assert_msg(back == one->keys[k] || one->keys[k] == BENCH_KEY_DIGIT, "%s is read as another", spelled);
        }
    }
}
END_TEST

static bool takes(const bench_command *command, int key) {
    for (int k = 0; k < COMMAND_KEYS; k++) {
        if (command->keys[k] == key || (command->keys[k] == BENCH_KEY_DIGIT && key >= '0' && key <= '9')) {
            return true;
        }
    }
    return false;
}

START_TEST(a_key_means_one_thing) {
    size_t count;
    const bench_command *table = bench_commands(&count);
    for (int screen = 0; screen < BENCH_SCREENS; screen++) {
        for (int key = 1; key < BENCH_KEY_LAST; key = key == 0x2FF ? BENCH_KEY_ENTER : key + 1) {
            int meanings = 0;
            for (size_t i = 0; i < count; i++) {
                meanings += (table[i].where & 1u << screen) != 0 && takes(&table[i], key);
            }
            char name[16];
            ck_assert_msg(meanings <= 1, "%s means %d things on screen %d", key_name(key, name), meanings, screen);
        }
    }
}
END_TEST

/* Every key of the table is answered on its screen, every other key there says that it does nothing. */
START_TEST(every_command_is_reached) {
    size_t count, pressed = 0;
    const bench_command *table = bench_commands(&count);
    bench_screen screen = screen_of((size_t)_i);
    for (size_t i = 0; i < count; i++) {
        for (int k = 0; (table[i].where & 1u << screen) != 0 && k < COMMAND_KEYS; k++) {
            if (table[i].keys[k] == BENCH_KEY_NONE) {
                continue;
            }
            bench *b = come_to((size_t)_i);
            bench_key(b, table[i].keys[k] == BENCH_KEY_DIGIT ? '7' : table[i].keys[k]);
            ck_assert_msg(strstr(b->message, "does nothing here") == NULL, "%s: %s", table[i].name, b->message);
            bench_destroy(b);
            pressed++;
        }
    }
    ck_assert_uint_gt(pressed, 1);
    bench *b = come_to((size_t)_i);
    bench_key(b, BENCH_KEY_UNKNOWN);
    hands_see(b, "nothing here");
    bench_destroy(b);
}
END_TEST

static bool has_help_page(bench_screen screen) {
    return screen != BENCH_READ && screen != BENCH_ASK && screen != BENCH_TYPING && screen != BENCH_COMMANDS;
}

START_TEST(help_and_manual_tell_every_command) {
    size_t count, length, ways;
    const bench_command *table = bench_commands(&count);
    (void)ways_all(&ways);
    char *manual = NULL;
    FILE *to = open_memstream(&manual, &length);
    ck_assert_ptr_nonnull(to);
    bench_keys_manual(to);
    ck_assert_int_eq(fclose(to), 0);
    for (size_t at = 0; at < ways; at++) {
        bench *b = come_to(at);
        bool has_help = has_help_page(screen_of(at));
        if (has_help) {
            bench_key(b, at % 2 == 0 ? 'h' : BENCH_KEY_F1);
            ck_assert_int_eq(b->screen, BENCH_READ);
        }
        for (size_t i = 0; i < count; i++) {
            if ((table[i].where & 1u << screen_of(at)) == 0) {
                continue;
            }
            char first[64]; /* the manual escapes some characters: as far as the first of them */
            snprintf(first, sizeof first, "%.*s", (int)strcspn(table[i].help, "-\\"), table[i].help);
            ck_assert_msg(strstr(manual, first) != NULL, "not in the manual: %s", table[i].help);
            ck_assert_msg(b->screen != BENCH_READ || !has_help || strstr(b->text, table[i].help) != NULL,
                          "not in the help: %s", table[i].help);
        }
        bench_destroy(b);
    }
    free(manual);
}
END_TEST

/* The bottom line names only what works: each of its words is a command of that screen. */
START_TEST(the_bottom_line_names_help_and_the_way_out) {
    size_t ways;
    (void)ways_all(&ways);
    for (size_t at = 0; at < ways; at++) {
        bench *b = come_to(at);
        bench_screen screen = screen_of(at);
        hands_see(b, screen == BENCH_START || screen == BENCH_WORK ? "q quit" : "Esc");
        if (has_help_page(screen)) {
            hands_see(b, "h help");
            hands_see(b, "/ more");
        }
        bench_destroy(b);
    }
}
END_TEST

/* Esc leads back from everywhere, and changes nothing. */
START_TEST(esc_leads_back) {
    bench *b = come_to((size_t)_i);
    char *before = bench_desk(b) == NULL ? NULL : hands_bytes(b);
    bench_key(b, BENCH_KEY_ESC);
    bench_screen screen = screen_of((size_t)_i);
    if (screen == BENCH_TOOL_ITEMS) { /* to the values */
        ck_assert_int_eq(bench_where(b), BENCH_TOOL);
        bench_key(b, BENCH_KEY_ESC);
    }
    if (screen == BENCH_REST) { /* to the strikes */
        ck_assert_int_eq(bench_where(b), BENCH_STRIKES);
        bench_key(b, BENCH_KEY_ESC);
    }
    if (screen == BENCH_TOOL || screen == BENCH_TOOL_ITEMS || screen == BENCH_KINDS) { /* to the list, and on */
        ck_assert_int_eq(bench_where(b), BENCH_INVENTORY);
        bench_key(b, BENCH_KEY_ESC);
    }
    if (before != NULL) {
        ck_assert_int_eq(bench_where(b), BENCH_WORK);
        if (screen != BENCH_TOOLS && screen != BENCH_MOVES && screen != BENCH_EVEN) {
            char *after = hands_bytes(b);
            ck_assert_str_eq(before, after);
            free(after);
        } else {
            ck_assert(!desk_trying(bench_desk(b)));
            ck_assert(!desk_unsaved(bench_desk(b)));
        }
    } else {
        ck_assert_int_eq(bench_where(b), BENCH_START);
    }
    free(before);
    bench_destroy(b);
}
END_TEST

/* ---- the list of commands ---- */

static void type(bench *b, const char *text) {
    for (; *text != '\0'; text++) {
        bench_key(b, (unsigned char)*text);
    }
}

/* Whatever a command is called, typing it leads to it, with its help and where it works. */
START_TEST(the_list_has_every_command) {
    size_t count;
    const bench_command *table = bench_commands(&count);
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "/");
    ck_assert_uint_eq(b->list.count, count);
    for (size_t i = 0; i < count; i++) {
        char shown[60], where[200];
        bool found = false;
        hands_press(b, "Esc /");
        type(b, table[i].help);
        ck_assert_msg(b->list.count >= 1, "%s is not found by its help", table[i].name);
        command_where_words(&table[i], where);
        ck_assert_msg(where[0] != '\0', "%s works at no place that has a name", table[i].name);
        snprintf(shown, sizeof shown, "%.18s", table[i].name);
        for (size_t at = 0; at < b->list.count && !found; at++) {
            char *screen = hands_screen(b, 160, 24);
            found = strstr(screen, shown) != NULL && strstr(screen, table[i].help) != NULL;
            free(screen);
            bench_key(b, BENCH_KEY_DOWN);
        }
        ck_assert_msg(found, "%s is not seen in the list", table[i].name);
    }
    bench_destroy(b);
}
END_TEST

START_TEST(the_list_does_what_is_chosen) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "/ \"FEWER more\" Enter"); /* words in any order, large or small */
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    ck_assert(desk_unsaved(bench_desk(b)));
    hands_press(b, "u / \"tightest\" Enter");
    ck_assert(b->bad);
    ck_assert_int_eq(bench_where(b), BENCH_COMMANDS);
    hands_see(b, "tightest works along the round");
    hands_press(b, "Esc r Right*5 / \"to the seam\" Enter");
    ck_assert_int_eq(bench_where(b), BENCH_ROUND);
    ck_assert_int_eq(b->impression, 1);
    bench_destroy(b);
}
END_TEST

/* Who types a command's name means it, however many others have the word in their help. */
START_TEST(the_list_begins_with_what_is_called_so) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "Right / \"Save\" Enter");
    ck_assert(!desk_unsaved(bench_desk(b)));
    hands_press(b, "/ \"page\" Enter");
    ck_assert_int_eq(bench_where(b), BENCH_READ);
    hands_press(b, "Esc / \"bench\" Enter");
    ck_assert_int_eq(bench_where(b), BENCH_STRIKES);
    hands_press(b, "Esc / \"workbench.page\" Enter");
    ck_assert_int_eq(bench_where(b), BENCH_READ);
    hands_press(b, "Esc / \"und\" Enter");
    ck_assert(desk_unsaved(bench_desk(b)));
    bench_destroy(b);
}
END_TEST

/* Why a command cannot be done now is said, and the list stays. */
START_TEST(the_list_says_why_not) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "a Home Enter"); /* a plain band */
    ck_assert_ptr_nonnull(refuse_no_rounds(b));
    hands_press(b, "/ \"counts strikes\" Enter");
    ck_assert(b->bad);
    hands_see(b, "plain band");
    ck_assert_int_eq(bench_where(b), BENCH_COMMANDS);
    hands_press(b, "Esc");
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    hands_press(b, "/ \"no such thing\"");
    hands_see(b, "No command is called so");
    hands_press(b, "Enter Down Up End PageDown Esc");
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    bench_destroy(b);
}
END_TEST

/* The list gives back the list it was opened from, with what was tried there. */
START_TEST(the_list_leads_back_to_a_trial) {
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, "t Down Down");
    size_t at = b->list.at;
    ck_assert(desk_trying(bench_desk(b)));
    hands_press(b, "/ \"xyz\" Esc");
    ck_assert_int_eq(bench_where(b), BENCH_TOOLS);
    ck_assert_uint_eq(b->list.at, at);
    ck_assert(desk_trying(bench_desk(b)));
    bench_destroy(b);
}
END_TEST

/* ---- what is pasted ---- */

START_TEST(what_is_pasted_is_text) {
    bench *b = hands_open("cedar-lid.yaml");
    char *before = hands_bytes(b);
    hands_press(b, "Paste \"xquat\" Enter Down Esc \"1\" Pasted"); /* commands, were they typed */
    char *after = hands_bytes(b);
    ck_assert_str_eq(before, after);
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    hands_see(b, "Pasted text goes into a line that is being typed");
    hands_press(b, "Enter Paste \"22\" Enter Tab Esc Right \"mm\" Pasted");
    ck_assert_int_eq(bench_where(b), BENCH_TYPING);
    ck_assert_str_eq(b->entry.text, "22  mm");
    hands_press(b, "Enter");
    ck_assert(desk_unsaved(bench_desk(b)));
    hands_press(b, "/ Paste \"undo\" Pasted");
    hands_see(b, "Takes back the last change");
    bench_destroy(b);
    free(after);
    free(before);
}
END_TEST

Suite *bench_commands_suite(void) {
    Suite *suite = suite_create("the table of commands");
    size_t ways;
    (void)ways_all(&ways);
    TCase *tests = tcase_create("commands");
    tcase_set_timeout(tests, 120);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, every_command_is_whole);
    tcase_add_test(tests, a_key_means_one_thing);
    tcase_add_loop_test(tests, every_command_is_reached, 0, (int)ways);
    tcase_add_test(tests, help_and_manual_tell_every_command);
    tcase_add_test(tests, the_bottom_line_names_help_and_the_way_out);
    tcase_add_loop_test(tests, esc_leads_back, 0, (int)ways);
    tcase_add_test(tests, the_list_has_every_command);
    tcase_add_test(tests, the_list_does_what_is_chosen);
    tcase_add_test(tests, the_list_begins_with_what_is_called_so);
    tcase_add_test(tests, the_list_says_why_not);
    tcase_add_test(tests, the_list_leads_back_to_a_trial);
    tcase_add_test(tests, what_is_pasted_is_text);
    suite_add_tcase(suite, tests);
    return suite;
}
