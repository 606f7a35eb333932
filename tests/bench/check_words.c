/* check_words.c - what is said about keys: every message names the keys in force, whatever a file has made of them; one
 * key means one thing on every screen; a key that does nothing says which do something. */
#include <check.h>
#include <glob.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/other_keys.h"
#include "bench/ways.h"

Suite *bench_words_suite(void);

/* ---- keys in force ---- */

static void says_no_shipped_key(bench *b, const char *what) {
    char *screen = hands_screen(b, 100, 30);
    const char *texts[] = {b->message, screen, b->screen == BENCH_READ ? b->text : ""};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        const char *found = shipped_key_named(texts[i]);
        ck_assert_msg(found == NULL, "%s: '%.40s' is named, in\n%s", what, found, texts[i]);
    }
    free(screen);
}

/* On every screen every key, then Enter where a question or a list has come of it. */
START_TEST(every_screen_names_the_keys_in_force) {
    size_t count, ways;
    const bench_command *table = bench_commands(&count);
    const way *one = &ways_all(&ways)[_i];
    hands_other_keys();
    bench *b = ways_come(one, NULL);
    says_no_shipped_key(b, "as it is come to");
    bench_destroy(b);
    for (size_t i = 0; i < count; i++) {
        for (int k = 0; (table[i].where & 1u << one->screen) != 0 && k < COMMAND_KEYS; k++) {
            int key = table[i].keys[k];
            if (key == BENCH_KEY_NONE) {
                continue;
            }
            b = ways_come(one, NULL);
            bench_key(b, key == BENCH_KEY_DIGIT ? '7' : other_key(key));
            ck_assert_msg(strstr(b->message, "does nothing here") == NULL, "%s: %s", table[i].name, b->message);
            says_no_shipped_key(b, table[i].name);
            bench_key(b, other_key(BENCH_KEY_ENTER));
            says_no_shipped_key(b, table[i].name);
            bench_destroy(b);
        }
    }
}
END_TEST

/* What keys lead to beyond that: pieces without a band, without a tool, that do not work; rows of the form. */
static const struct {
    const char *file, *keys;
} more[] = {
    {NULL, "n screen Down screen Down screen Down*20 screen Left Up Enter screen"},
    {NULL, "i screen a screen Enter screen \"7\" Enter screen Esc q q"},
    {NULL, "i F \"zzz\" Enter screen F \"q\" Enter Enter screen P I d R x"},
    {NULL, "o \"\" Enter screen"},
    {"cedar-lid.yaml", "t End Enter screen Enter screen \"9\" Enter screen"},
    {"cedar-lid.yaml", "Home Left Left screen End Right Down Down"},
    {"cedar-lid.yaml", "Tab*4 x screen x screen x screen c t m l r b screen"},
    {"cedar-lid.yaml", "Right i Right Enter Right Esc Esc q screen n screen"},
    {"cedar-lid.yaml", "i Enter Right s s screen L screen Esc x screen y screen"},
    {"cedar-lid.yaml", "g g screen Right g screen G x screen q n screen"},
    {"cedar-lid.yaml", "z Left screen v Up screen"},
    {"cedar-lid.yaml", "s S screen \"cedar-lid.yaml\" Enter screen"},
    {"blackthorn-rosette.yaml", "screen c screen Esc w screen"},
    {"alder-tray.yaml",
     "Shift-Tab Home Down*4 Enter screen Enter \"\" Enter screen Right Esc Esc Shift-Tab k [ screen"},
};

START_TEST(what_comes_of_them_does_so_too) {
    hands_other_keys();
    hands_fresh(more[_i].file);
    bench *b = hands_open(more[_i].file);
    char *keys = strdup(more[_i].keys), *rest = keys;
    for (char *word; (word = strsep(&rest, " ")) != NULL;) {
        char *star = strchr(word, '*'); /* one by one, so that no message is missed */
        int times = star != NULL ? atoi(star + 1) : 1;
        if (star != NULL) {
            *star = '\0';
        }
        for (int i = 0; i < times; i++) {
            hands_press(b, word);
            says_no_shipped_key(b, more[_i].keys);
        }
    }
    free(keys);
    bench_destroy(b);
}
END_TEST

/* A text in the program that names a key names it as {workbench.undo}, and such a command there is. */
static void check_literal(const char *file, size_t line, const char *literal) {
    char plain[4096], words[4096];
    size_t used = 0;
    key_words(NULL, literal, words, sizeof words);
    for (const char *at = literal; *at != '\0' && used + 2 < sizeof plain; at++) {
        size_t inner = *at == '{' ? strcspn(at + 1, "}") : 0;
        bool named = inner > 0 && memchr(at + 1, '.', inner) != NULL && strcspn(at + 1, " ,") > inner;
        if (named) {
            char one[200], known[200];
            snprintf(one, sizeof one, "%.*s", (int)inner + 2, at);
            ck_assert_msg(strcmp(key_words(NULL, one, known, sizeof known), one) != 0, "%s:%zu: %s is no command", file,
                          line, one);
            at += inner + 1;
            plain[used++] = '_';
        } else {
            plain[used++] = *at;
        }
    }
    plain[used] = '\0';
    const char *found = shipped_key_named(plain);
    ck_assert_msg(found == NULL, "%s:%zu: a key is named by itself: %.40s", file, line, found);
}

/* Texts that stand one behind the other are one. */
static void check_source(const char *file) {
    FILE *from = fopen(file, "r");
    char *text = NULL, literal[4096];
    size_t room = 0, used = 0, line = 1;
    ck_assert_ptr_nonnull(from);
    ck_assert_int_gt(getdelim(&text, &room, '\0', from), 0);
    fclose(from);
    for (const char *at = text; *at != '\0'; at++) {
        line += *at == '\n';
        if (strncmp(at, "/*", 2) == 0) {
            at = strstr(at, "*/") + 1;
        } else if (*at == '\'') {
            at += at[1] == '\\' ? 3 : 2;
        } else if (*at == '"') {
            for (at++; *at != '"'; at++) {
                if (*at == '\\') {
                    at++;
                }
                literal[used < sizeof literal - 1 ? used++ : used] = *at;
            }
            literal[used] = '\0';
        } else if (*at != ' ' && *at != '\n' && used > 0) {
            check_literal(file, line, literal);
            used = 0;
        }
    }
    free(text);
}

START_TEST(no_text_names_a_key_by_itself) {
    /* The names of keys themselves, and words about files of keys and scripts. */
    static const char *const spared[] = {"src/bench/keys.c", "src/bench/keys_file.c", "src/bench/script.c"};
    glob_t files;
    ck_assert_int_eq(glob("src/bench/*.c", 0, NULL, &files), 0);
    ck_assert_int_eq(glob("src/show/*.c", GLOB_APPEND, NULL, &files), 0);
    ck_assert_int_eq(glob("src/desk/*.c", GLOB_APPEND, NULL, &files), 0);
    ck_assert_uint_gt(files.gl_pathc, 60);
    for (size_t i = 0; i < files.gl_pathc; i++) {
        bool names_keys = false;
        for (size_t k = 0; k < sizeof spared / sizeof spared[0]; k++) {
            names_keys = names_keys || strcmp(spared[k], files.gl_pathv[i]) == 0;
        }
        if (!names_keys) {
            check_source(files.gl_pathv[i]);
        }
    }
    globfree(&files);
}
END_TEST

/* The two checks above see what they must see. */
START_TEST(a_named_key_is_seen) {
    static const char *const named[] = {"it is so (u takes it back)",  "1 of 3 (w): legs", "Enter makes the piece",
                                        "the first: a adds one",       "Tab to another",   "Type it, then Enter.",
                                        "what is shown: ? says more.", "PageUp goes back"};
    static const char *const not_named[] = {"a stamp takes it", "x, y or x, y, radius", "Esc leaves it",
                                            "entered upward",   "(2 places)",           "_ takes it back"};
    for (size_t i = 0; i < sizeof named / sizeof named[0]; i++) {
        ck_assert_msg(shipped_key_named(named[i]) != NULL, "%s", named[i]);
    }
    for (size_t i = 0; i < sizeof not_named / sizeof not_named[0]; i++) {
        ck_assert_msg(shipped_key_named(not_named[i]) == NULL, "%s", not_named[i]);
    }
}
END_TEST

START_TEST(a_command_without_a_key_is_named_itself) {
    shop_problems problems;
    char words[100];
    static const char keys[] = "workbench.undo = none\nworkbench.count = none + \n";
    bench *b = hands_open("cedar-lid.yaml");
    shop_problems_init(&problems, "keys");
    ck_assert(!bench_keys_change(b, keys, strlen(keys), &problems)); /* + is a step more */
    shop_problems_free(&problems);
    ck_assert_str_eq(key_words(b, "{workbench.undo} takes it back", words, sizeof words), "u takes it back");
    shop_problems_init(&problems, "keys");
    ck_assert(bench_keys_change(b, "workbench.undo = none\nworkbench.count = none ~\n", 46, &problems));
    shop_problems_free(&problems);
    ck_assert_str_eq(key_words(b, "{workbench.undo} takes it back", words, sizeof words), "\"undo\" takes it back");
    ck_assert_str_eq(key_words(b, "{workbench.count}, {workbench.count:2}; {end: point}", words, sizeof words),
                     "\"count\", ~; {end: point}");
    hands_press(b, "~");
    hands_see(b, "(\"undo\" takes it back)");
    bench_destroy(b);
}
END_TEST

/* ---- one key, one meaning ---- */

/* Commands that are one thing under names that suit their screens. Everything else that shares a key must share its
 * name. */
static const struct {
    const char *keys, *names;
} same[] = {
    {"Enter Space", "|take|yes|take them|look|type item|type or make it|type or add it|type|values|explain|struck "
                    "one|what is left|keep it|back|do it|"},
    {"Esc q h F1 G", "|leave|back|later|quit|help|keys|both|"}, /* what a key opens it closes */
    {"Up Down", "|choose|row|value|one back or on|along|tool|figure|scroll|"},
    {"Left Right - + =", "|step|step item|limit|other choice|one back or on|along|figure|this or that|one less|"},
    {"< > , .", "|ten steps|ten back or on|"},
    {"Home End", "|first, last|page|"},
    {"PageUp PageDown", "|page|page of values|"},
    {"Tab Shift-Tab", "|band|next row|other copy|"},
    {"x Backspace Delete", "|drop them|take item out|take out|drop the held one|empty|as usual|one less|begin anew|"},
    {"a", "|add item|add band|add|"},
    {"e ?", "|figures|explain|marks|"},
    {"k", "|keep|keep mine|"},
    {"L", "|load again|take theirs|"},
    {"S", "|save as|other name|"},
    {"o", "|open|open by name|"},
    {"v", "|view|look|drawing|retired|"},
    {"z", "|closer|closer, farther|"},
    {"y", "|yes|take them|log it|"},
    {"n", "|no|new piece|"}, /* at a question letters are answers */
    {"0", "|seam|all of it|"},
};

static bool lists(const char *list, const char *word, char edge) {
    size_t length = strlen(word);
    for (const char *at = list; (at = strstr(at, word)) != NULL; at++) {
        if ((at == list || at[-1] == edge) && (at[length] == edge || at[length] == '\0')) {
            return true;
        }
    }
    return false;
}

static bool mean_the_same(int key, const char *one, const char *other) {
    char name[16];
    bool fine = strcmp(one, other) == 0;
    for (size_t i = 0; i < sizeof same / sizeof same[0] && !fine; i++) {
        fine = lists(same[i].keys, key_name(key, name), ' ') && lists(same[i].names, one, '|') &&
               lists(same[i].names, other, '|');
    }
    return fine;
}

START_TEST(one_key_means_one_thing_everywhere) {
    size_t count;
    const bench_command *table = bench_commands(&count);
    for (size_t i = 0; i < count * COMMAND_KEYS; i++) {
        for (size_t j = 0; j < i; j++) {
            const bench_command *one = &table[i / COMMAND_KEYS], *other = &table[j / COMMAND_KEYS];
            int key = one->keys[i % COMMAND_KEYS];
            if (key != BENCH_KEY_NONE && key == other->keys[j % COMMAND_KEYS]) {
                char name[16];
                ck_assert_msg(mean_the_same(key, one->name, other->name), "%s is %s and %s", key_name(key, name),
                              one->name, other->name);
            }
        }
    }
}
END_TEST

/* ---- keys that do nothing ---- */

/* Every command that a hint names works on that screen. */
static void hint_works(const bench *b, const char *hint) {
    size_t named = 0, count;
    const bench_command *table = bench_commands(&count);
    for (const char *at = hint; (at = strchr(at, '{')) != NULL; at++) {
        bool works = false;
        for (size_t i = 0; i < count; i++) {
            char id[COMMAND_ID_ROOM];
            command_id(i, id);
            works = works || (strlen(id) == strcspn(at + 1, ":}") && strncmp(id, at + 1, strlen(id)) == 0 &&
                              (table[i].where & 1u << bench_where(b)) != 0);
        }
        ck_assert_msg(works, "%s does not work on screen %d", at, bench_where(b));
        named++;
    }
    ck_assert_uint_gt(named, 0);
}

static bool is_unused(const bench *b, int key) {
    int meant;
    bool text = bench_where(b) == BENCH_TYPING || bench_where(b) == BENCH_COMMANDS;
    return command_of(b, key, 1u << bench_where(b), &meant) == SIZE_MAX && (!text || key >= BENCH_KEY_F1) &&
           !form_takes_letter(b, key) && key != BENCH_KEY_PASTE_BEGIN && key != BENCH_KEY_PASTE_END &&
           key != BENCH_KEY_DIGIT;
}

START_TEST(a_key_that_does_nothing_says_which_do) {
    size_t ways, unused = 0;
    const way *one = &ways_all(&ways)[_i];
    bench *b = ways_come(one, NULL);
    bench_screen screen = bench_where(b);
    char *before = bench_desk(b) == NULL ? NULL : hands_bytes(b);
    for (int key = '!'; key < BENCH_KEY_LAST; key = key == 0x17F ? BENCH_KEY_ENTER : key + 1) {
        if (!is_unused(b, key)) {
            continue;
        }
        bench_key(b, key);
        ck_assert_int_eq(bench_where(b), screen);
        const char *hint = strstr(b->message, " here: ");
        ck_assert_msg(b->bad && hint != NULL, "'%s' says '%s'", "an unused key", b->message);
        ck_assert_msg(b->message[strlen(b->message) - 1] == '.' && strlen(hint) > 20, "%s", b->message);
        unused++;
    }
    ck_assert_uint_gt(unused, 5);
    hint_works(b, bench_hint(screen));
    char *after = before == NULL ? NULL : hands_bytes(b);
    ck_assert(before == NULL || strcmp(before, after) == 0);
    free(after);
    free(before);
    bench_destroy(b);
}
END_TEST

Suite *bench_words_suite(void) {
    Suite *suite = suite_create("what is said about keys");
    size_t ways;
    (void)ways_all(&ways);
    TCase *tests = tcase_create("words"), *plain = tcase_create("sources");
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_loop_test(tests, every_screen_names_the_keys_in_force, 0, (int)ways);
    tcase_add_loop_test(tests, what_comes_of_them_does_so_too, 0, (int)(sizeof more / sizeof more[0]));
    tcase_add_test(tests, a_command_without_a_key_is_named_itself);
    tcase_add_loop_test(tests, a_key_that_does_nothing_says_which_do, 0, (int)ways);
    tcase_add_test(plain, no_text_names_a_key_by_itself);
    tcase_add_test(plain, a_named_key_is_seen);
    tcase_add_test(plain, one_key_means_one_thing_everywhere);
    suite_add_tcase(suite, tests);
    suite_add_tcase(suite, plain);
    return suite;
}
