/* other_keys.c - a file of keys that changes every key that may be changed, each to one that nobody ships. */
#include "bench/other_keys.h"

#include <check.h>
#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"

/* While text is typed a character is text: what works there too goes to function keys. */
static const int functions[] = {BENCH_KEY_ENTER, BENCH_KEY_UP,  BENCH_KEY_DOWN, BENCH_KEY_PAGE_UP, BENCH_KEY_PAGE_DOWN,
                                BENCH_KEY_HOME,  BENCH_KEY_END, BENCH_KEY_F1,   BENCH_KEY_REPAINT};

int other_key(int shipped) {
    if (shipped == BENCH_KEY_ESC || shipped == BENCH_KEY_DIGIT || (shipped >= '0' && shipped <= '9')) {
        return shipped;
    }
    for (size_t i = 0; i < sizeof functions / sizeof functions[0]; i++) {
        if (functions[i] == shipped) {
            return BENCH_KEY_F1 + 1 + (int)i;
        }
    }
    return shipped < BENCH_KEY_ENTER ? 0x4E00 + shipped : 0x5E00 + shipped - BENCH_KEY_ENTER;
}

static char *file_of_keys(size_t *length) {
    size_t count;
    char *text = NULL;
    FILE *to = open_memstream(&text, length);
    ck_assert_ptr_nonnull(to);
    const bench_command *table = bench_commands(&count);
    for (size_t i = 0; i < count; i++) {
        char id[COMMAND_ID_ROOM], name[16];
        command_id(i, id);
        fprintf(to, "%s =", id);
        for (int k = 0; k < COMMAND_KEYS && table[i].keys[k] != BENCH_KEY_NONE; k++) {
            fprintf(to, " %s", key_name(other_key(table[i].keys[k]), name));
        }
        fprintf(to, "\n");
    }
    ck_assert_int_eq(fclose(to), 0);
    return text;
}

void other_keys_take(bench *b) {
    static char *text; /* the same each time; the test's process ends with it */
    static size_t length;
    if (text == NULL) {
        text = file_of_keys(&length);
    }
    shop_problems problems;
    shop_problems_init(&problems, "keys");
    bool fine = bench_keys_change(b, text, length, &problems);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    ck_assert(fine);
}

char *other_keys_script(const char *script) {
    size_t length;
    char *text = NULL;
    FILE *to = open_memstream(&text, &length);
    ck_assert_ptr_nonnull(to);
    while (*script != '\0') {
        size_t word = *script == '"' ? strcspn(script + 1, "\"") + 2 : strcspn(script, " ");
        size_t name = *script == '"' ? word : word < 2 ? word : strcspn(script + 1, "*") + 1;
        name = name > word ? word : name;
        int key = *script == '"' ? BENCH_KEY_NONE : key_of_name(script, name);
        char spelled[16];
        if (key == BENCH_KEY_NONE) {
            fprintf(to, "%.*s", (int)word, script);
        } else {
            fprintf(to, "%s%.*s", key_name(other_key(key), spelled), (int)(word - name), script + name);
        }
        script += word;
        while (*script == ' ') {
            fputc(*script++, to);
        }
    }
    ck_assert_int_eq(fclose(to), 0);
    return text;
}

/* ---- keys in words ---- */

static bool is_shipped(int key) {
    size_t count;
    const bench_command *table = bench_commands(&count);
    bool moves = other_key(key) != key;
    for (size_t i = 0; i < count && moves; i++) {
        for (int k = 0; k < COMMAND_KEYS; k++) {
            if (table[i].keys[k] == key) {
                return true;
            }
        }
    }
    return false;
}

static bool in_word(char c) {
    return isalnum((unsigned char)c) || c == '-' || c == '_' || c == '\'' || (c & 0x80) != 0;
}

/* Is there a verb behind it, as in "u takes"? "and", "or" and commas lead on to the next key. */
static bool does_something(const char *after) {
    static const char *const verbs[] = {"takes",   "shows",  "adds",  "gives", "brings", "saves",   "reads", "leaves",
                                        "drops",   "keeps",  "finds", "goes",  "looks",  "settles", "flips", "changes",
                                        "chooses", "follow", "jumps", "says",  "types",  "makes",   "opens", "answer",
                                        "writes",  "asks",   "again", "puts",  "counts", "undoes",  "moves", "scrolls"};
    for (size_t i = 0; i < sizeof verbs / sizeof verbs[0]; i++) {
        size_t length = strlen(verbs[i]);
        if (strncmp(after, verbs[i], length) == 0 && !in_word(after[length])) {
            return true;
        }
    }
    return false;
}

static bool names_letter(const char *text, const char *at) {
    char before = at > text ? at[-1] : ' ';
    if (!isgraph((unsigned char)*at) || strchr("+-,.", *at) != NULL) { /* signs */
        return false;
    }
    if (strchr(" \n\"(", before) == NULL || in_word(at[1]) || !is_shipped((unsigned char)*at)) {
        return false;
    }
    if (at - text >= 5 && strncmp(at - 5, "last ", 5) == 0) {
        return false; /* the last K steps */
    }
    if (before == '(' && at[1] == ')') {
        return true;
    }
    return strchr(" \n\"(", before) != NULL && at[1] == ' ' && does_something(at + 2);
}

const char *shipped_key_named(const char *text) {
    for (const char *at = text; *at != '\0'; at++) {
        if (names_letter(text, at)) {
            return at;
        }
        size_t length = 0;
        while (in_word(at[length])) {
            length++;
        }
        int key = length > 1 ? key_of_name(at, length) : BENCH_KEY_NONE;
        if (key != BENCH_KEY_NONE && is_shipped(key)) {
            return at;
        }
        at += length > 0 ? length - 1 : 0;
    }
    return NULL;
}
