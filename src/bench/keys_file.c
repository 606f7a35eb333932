/* keys_file.c - keys as a file changes them, and the file that is shipped.
 *
 * A line is `workbench.undo = u`: a command, then its keys. Every place on the right keeps the meaning that it has in
 * the shipped file, so that in `workbench.step = Left Right - + =` the first key is always a step less; what stands
 * behind the shipped places means the same as the last of them, and `none` leaves a place empty.
 */
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"
#include "shop/alloc.h"

#define WORD_ROOM 64
#define NONE "none"

void bench_keys_shipped(FILE *to) {
    size_t count, places;
    (void)bench_commands(&count);
    const bench_place_name *names = bench_place_names(&places);
    fprintf(
        to,
        "# The keys of bandwright as they are shipped. A copy of this as $XDG_CONFIG_HOME/bandwright/keys (usually\n"
        "# ~/.config/bandwright/keys), or given with --keys-file, changes them; lines left out stay as they are.\n"
        "#\n"
        "# Each key keeps the place it has here: of two keys the first means the one thing, the second the other.\n"
        "# What is added behind the last means the same as the last. none leaves a place empty. A command that "
        "several\n"
        "# places have, such as undo, has a line for each of them: change them all alike. A key is a\n"
        "# character or one of");
    bench_key_names(to);
    fprintf(to, ".\n# Esc and the digits stay what they are. While text is typed, characters are text.\n");
    for (size_t p = 0; p < places; p++) {
        bool headed = false;
        for (size_t i = 0; i < count; i++) {
            char id[COMMAND_ID_ROOM], keys[100];
            command_id(i, id);
            command_keys_words(NULL, i, keys);
            if (strncmp(id, names[p].word, strlen(names[p].word)) == 0 && id[strlen(names[p].word)] == '.') {
                fprintf(to, "%s%s%s\n# %s\n%s = %s\n", headed ? "" : "\n# ---- ", headed ? "" : names[p].title,
                        headed ? "" : " ----\n", bench_commands(&count)[i].help, id, keys);
                headed = true;
            }
        }
    }
}

/* ---- reading ---- */

typedef struct found {
    bench_keys keys;
    size_t line, column[COMMAND_KEYS]; /* line 0: not in the file */
} found;

typedef struct reading {
    const char *text;
    size_t length, at, line, line_start;
    found *rows;
    size_t count;
    shop_problems *problems;
} reading;

typedef struct word {
    char text[WORD_ROOM]; /* as much of it as is needed to tell it */
    size_t length, begin, column;
} word;

static bool blank(char c) {
    return c == ' ' || c == '\t' || c == '\r';
}

/* The next word of the line; false at its end. */
static bool next_word(reading *r, word *out) {
    while (r->at < r->length && blank(r->text[r->at])) {
        r->at++;
    }
    out->begin = r->at;
    out->column = r->at - r->line_start + 1;
    while (r->at < r->length && r->text[r->at] != '\n' && !blank(r->text[r->at])) {
        r->at++;
    }
    out->length = r->at - out->begin;
    shop_clean(r->text + out->begin, out->length, out->text, sizeof out->text);
    return out->length > 0;
}

static void skip_line(reading *r) {
    while (r->at < r->length && r->text[r->at] != '\n') {
        r->at++;
    }
    r->at += r->at < r->length;
    r->line++;
    r->line_start = r->at;
}

static size_t command_named(const reading *r, const word *name) {
    for (size_t i = 0; i < r->count; i++) {
        char id[COMMAND_ID_ROOM];
        command_id(i, id);
        if (strcmp(id, name->text) == 0) {
            return i;
        }
    }
    return SIZE_MAX;
}

/* May this key stand at this place? Esc and digits are where a hand looks for them on every screen. */
static bool may_stand(reading *r, const word *w, int key, int meant) {
    bool kept = meant == BENCH_KEY_ESC || meant == BENCH_KEY_DIGIT;
    bool keeps = key == BENCH_KEY_ESC || key == BENCH_KEY_DIGIT || (key >= '0' && key <= '9');
    if ((kept || keeps) && key != meant) {
        char name[16];
        shop_problem_add(r->problems, false, r->line, w->column, "%s: Esc and the digits stay as they are shipped%s%s",
                         w->text, kept ? "; here stands " : "", kept ? key_name(meant, name) : "");
        return false;
    }
    if (key == BENCH_KEY_NONE || key == BENCH_KEY_UNKNOWN || key == BENCH_KEY_PASTE_BEGIN ||
        key == BENCH_KEY_PASTE_END) {
        shop_problem_add(r->problems, false, r->line, w->column,
                         "%s is no key; a key is a character, or a name such as Up, Enter, Tab, Space or F2; none "
                         "leaves the place empty",
                         w->text);
        return false;
    }
    return true;
}

static void read_keys(reading *r, size_t index) {
    found *row = &r->rows[index];
    bench_keys old = command_keys(NULL, index);
    word w;
    int place = 0;
    row->line = r->line;
    row->keys.count = 0;
    for (; next_word(r, &w); place++) {
        int meant = old.meant[place < old.count ? place : old.count - 1];
        bool none = strcmp(w.text, NONE) == 0;
        int key = strcmp(w.text, "0-9") == 0 ? BENCH_KEY_DIGIT : key_of_name(r->text + w.begin, w.length);
        if (place >= COMMAND_KEYS) {
            shop_problem_add(r->problems, false, r->line, w.column, "%s: a command has %d keys at most", w.text,
                             COMMAND_KEYS);
            return;
        }
        if (none && meant != BENCH_KEY_ESC && meant != BENCH_KEY_DIGIT) {
            continue;
        }
        if (may_stand(r, &w, key, meant)) {
            int n = row->keys.count++;
            row->keys.pressed[n] = key;
            row->keys.meant[n] = meant;
            row->column[n] = w.column;
        }
    }
    for (int i = 0; i < old.count; i++) {
        bool must = old.meant[i] == BENCH_KEY_ESC || old.meant[i] == BENCH_KEY_DIGIT;
        if (must && i >= place) {
            char name[16];
            shop_problem_add(r->problems, false, r->line, r->at - r->line_start + 1,
                             "%s is missing in place %d: Esc and the digits stay as they are shipped",
                             key_name(old.meant[i], name), i + 1);
        }
    }
    if (place == 0) {
        shop_problem_add(r->problems, false, r->line, r->at - r->line_start + 1,
                         "the keys are missing; none leaves a command without a key");
    }
}

static void read_line(reading *r) {
    word name, equals;
    if (!next_word(r, &name) || name.text[0] == '#') {
        return;
    }
    size_t index = command_named(r, &name);
    if (index == SIZE_MAX) {
        shop_problem_add(r->problems, false, r->line, name.column,
                         "no command is called %s; the shipped file of keys (share/keys) names them all", name.text);
        return;
    }
    if (!next_word(r, &equals) || strcmp(equals.text, "=") != 0) {
        shop_problem_add(r->problems, false, r->line, equals.column, "= is missing between the command and its keys");
        return;
    }
    if (r->rows[index].line > 0) {
        shop_problem_add(r->problems, false, r->line, name.column, "%s is given twice; first in line %zu", name.text,
                         r->rows[index].line);
        return;
    }
    read_keys(r, index);
}

/* ---- one key, one meaning ---- */

static bool same_key(int a, int b) {
    bool digit_a = a >= '0' && a <= '9', digit_b = b >= '0' && b <= '9';
    return a == b || (a == BENCH_KEY_DIGIT && digit_b) || (b == BENCH_KEY_DIGIT && digit_a);
}

static const char *place_of_both(unsigned where) {
    size_t places;
    const bench_place_name *names = bench_place_names(&places);
    for (size_t i = 0; i < places; i++) {
        if ((where & 1u << names[i].screen) != 0) {
            return names[i].word;
        }
    }
    return NULL;
}

/* The fault is told where the file says it: at the later of both lines. */
static void clash(reading *r, size_t first, size_t second, int key, size_t column, const char *place) {
    char id[COMMAND_ID_ROOM], name[16], line[40] = ", as it is shipped";
    command_id(first, id);
    if (r->rows[first].line > 0) {
        snprintf(line, sizeof line, ", by line %zu", r->rows[first].line);
    }
    shop_problem_add(r->problems, false, r->rows[second].line, column, "%s is the key of %s already (%s)%s",
                     key_name(key, name), id, place, line);
}

static void compare(reading *r, size_t i, size_t j) {
    size_t count;
    const bench_command *table = bench_commands(&count);
    const char *place = place_of_both(table[i].where & table[j].where);
    found *a = &r->rows[i], *b = &r->rows[j];
    if (place == NULL || (a->line == 0 && b->line == 0)) {
        return;
    }
    for (int x = 0; x < a->keys.count; x++) {
        for (int y = 0; y < b->keys.count; y++) {
            if (!same_key(a->keys.pressed[x], b->keys.pressed[y]) || (i == j && y <= x)) {
                continue;
            }
            if (b->line > a->line || i == j) {
                clash(r, i, j, b->keys.pressed[y], b->column[y], place);
            } else {
                clash(r, j, i, a->keys.pressed[x], a->column[x], place);
            }
        }
    }
}

static void no_key_twice(reading *r) {
    for (size_t i = 0; i < r->count; i++) {
        for (size_t j = i; j < r->count; j++) {
            compare(r, i, j);
        }
    }
}

/* ---- all of it ---- */

/* The lines of the problems from `from` on count as they are shipped. False if none of them was changed. */
static bool drop_lines(reading *r, size_t from) {
    bool dropped = false;
    for (size_t p = from; p < r->problems->count; p++) {
        for (size_t i = 0; i < r->count; i++) {
            if (r->rows[i].line > 0 && r->rows[i].line == r->problems->list[p].line) {
                r->rows[i] = (found){.keys = command_keys(NULL, i)};
                dropped = true;
            }
        }
    }
    return dropped;
}

/* A key that is shipped again may be another line's by now: until no key is left that means two things. */
static void drop_faults(reading *r) {
    (void)drop_lines(r, 0);
    for (size_t seen = r->problems->count;; seen = r->problems->count) {
        no_key_twice(r);
        if (!drop_lines(r, seen)) {
            return;
        }
    }
}

static bool take_keys(bench *b, reading *r, bool own) {
    bench_keys *keys = shop_alloc(r->count * sizeof *keys);
    r->rows = shop_alloc(r->count * sizeof *r->rows);
    bool fine = keys != NULL && r->rows != NULL;
    if (!fine) {
        shop_problem_add(r->problems, false, 0, 0, "out of memory");
    }
    for (size_t i = 0; fine && i < r->count; i++) {
        r->rows[i] = (found){.keys = command_keys(NULL, i)};
    }
    while (fine && r->at < r->length) {
        read_line(r);
        skip_line(r);
    }
    if (fine && own) {
        drop_faults(r);
    } else if (fine && r->problems->errors == 0) {
        no_key_twice(r);
    }
    fine = fine && (own || r->problems->errors == 0);
    for (size_t i = 0; fine && i < r->count; i++) {
        keys[i] = r->rows[i].keys;
    }
    free(r->rows);
    if (fine) {
        free(b->keys);
        b->keys = keys;
    } else {
        free(keys);
    }
    return fine;
}

bool bench_keys_change(bench *b, const char *text, size_t length, shop_problems *problems) {
    reading r = {.text = text, .length = length, .line = 1, .problems = problems};
    (void)bench_commands(&r.count);
    return take_keys(b, &r, false);
}

/* "keys:3:18: uu is no key; ..." with what it means; the first fault, and how many there are more. */
static void tell_faults(bench *b, const shop_problems *problems) {
    const shop_problem *first = &problems->list[0];
    const char *slash = strrchr(problems->file, '/');
    char place[80] = "", more[60] = "", said[sizeof b->message], name[100], why[300];
    if (first->line > 0) {
        snprintf(place, sizeof place, ":%zu:%zu", first->line, first->column);
    }
    if (problems->errors > 1) {
        snprintf(more, sizeof more, " (and %zu more)", problems->errors - 1);
    }
    const char *file = slash != NULL ? slash + 1 : problems->file;
    shop_clean(file, strlen(file), name, sizeof name);
    shop_clean(first->text, strlen(first->text), why, sizeof why);
    snprintf(said, sizeof said, "%s", b->message);
    bench_refuse(b, "%.350s%s%s%s: %s%s; %s.", said, said[0] != '\0' ? " " : "", name, place, why, more,
                 first->line > 0 ? "what is wrong counts as it is shipped" : "the keys are as they are shipped");
}

void bench_keys_own(bench *b, const char *text, size_t length, shop_problems *problems) {
    reading r = {.text = text, .length = length, .line = 1, .problems = problems};
    (void)bench_commands(&r.count);
    if (text != NULL) {
        (void)take_keys(b, &r, true);
    }
    if (problems->errors > 0) {
        tell_faults(b, problems);
    }
}
