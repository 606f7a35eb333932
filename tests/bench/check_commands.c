/* check_commands.c - the table of commands: whole, without two meanings for a key, told in the help and the manual. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_commands_suite(void);

/* How each screen is come to by keys alone. */
static const struct {
    bench_screen screen;
    const char *file, *keys;
} ways[] = {
    {BENCH_START, NULL, ""},
    {BENCH_FORM, NULL, "n"},
    {BENCH_WORK, "cedar-lid.yaml", ""},
    {BENCH_TOOLS, "cedar-lid.yaml", "t"},
    {BENCH_MOVES, "cedar-lid.yaml", "c"},
    {BENCH_FILLS, "cedar-lid.yaml", "a"},
    {BENCH_ROUND, "cedar-lid.yaml", "r"},
    {BENCH_STRIKES, "cedar-lid.yaml", "b"},
    {BENCH_READ, "cedar-lid.yaml", "p"},
    {BENCH_ASK, "cedar-lid.yaml", "Right q"},
    {BENCH_TYPING, "cedar-lid.yaml", "Enter"},
};
enum { WAYS = sizeof ways / sizeof ways[0] };

static bench *come_to(size_t way) {
    bench *b = hands_open(ways[way].file);
    hands_press(b, ways[way].keys);
    ck_assert_msg(bench_where(b) == ways[way].screen, "keys %s", ways[way].keys);
    return b;
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
    bench_screen screen = ways[_i].screen;
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

START_TEST(help_and_manual_tell_every_command) {
    size_t count, length;
    const bench_command *table = bench_commands(&count);
    char *manual = NULL;
    FILE *to = open_memstream(&manual, &length);
    ck_assert_ptr_nonnull(to);
    bench_keys_manual(to);
    ck_assert_int_eq(fclose(to), 0);
    for (size_t way = 0; way < WAYS; way++) {
        bench *b = come_to(way);
        bool has_help = ways[way].screen != BENCH_READ && ways[way].screen != BENCH_ASK;
        if (has_help && ways[way].screen != BENCH_TYPING) {
            bench_key(b, 'h');
            ck_assert_int_eq(b->screen, BENCH_READ);
        }
        for (size_t i = 0; i < count; i++) {
            if ((table[i].where & 1u << ways[way].screen) == 0) {
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
    for (size_t way = 0; way < WAYS; way++) {
        bench *b = come_to(way);
        bench_screen screen = ways[way].screen;
        hands_see(b, screen == BENCH_START || screen == BENCH_WORK ? "q quit" : "Esc");
        if (screen != BENCH_READ && screen != BENCH_ASK && screen != BENCH_TYPING) {
            hands_see(b, "h help");
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
    if (before != NULL) {
        ck_assert_int_eq(bench_where(b), BENCH_WORK);
        if (ways[_i].screen != BENCH_TOOLS && ways[_i].screen != BENCH_MOVES) {
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

Suite *bench_commands_suite(void) {
    Suite *suite = suite_create("the table of commands");
    TCase *tests = tcase_create("commands");
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, every_command_is_whole);
    tcase_add_test(tests, a_key_means_one_thing);
    tcase_add_loop_test(tests, every_command_is_reached, 0, WAYS);
    tcase_add_test(tests, help_and_manual_tell_every_command);
    tcase_add_test(tests, the_bottom_line_names_help_and_the_way_out);
    tcase_add_loop_test(tests, esc_leads_back, 0, WAYS);
    suite_add_tcase(suite, tests);
    return suite;
}
