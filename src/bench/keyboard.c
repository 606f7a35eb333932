/* keyboard.c - which key stands for which command, and what is pasted. */
#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"

static bench_keys shipped(const bench_command *command) {
    bench_keys keys = {.count = 0};
    for (int i = 0; i < COMMAND_KEYS && command->keys[i] != BENCH_KEY_NONE; i++) {
        keys.pressed[i] = keys.meant[i] = command->keys[i];
        keys.count++;
    }
    return keys;
}

bench_keys command_keys(const bench *b, size_t index) {
    size_t count;
    const bench_command *table = bench_commands(&count);
    return b == NULL || b->keys == NULL ? shipped(&table[index]) : b->keys[index];
}

void command_keys_words(const bench *b, size_t index, char out[100]) {
    bench_keys keys = command_keys(b, index);
    size_t used = 0;
    snprintf(out, 100, "none");
    for (int i = 0; i < keys.count; i++) {
        char name[16];
        used += (size_t)snprintf(out + used, 100 - used, "%s%s", i > 0 ? " " : "", key_name(keys.pressed[i], name));
    }
}

size_t command_of(const bench *b, int key, unsigned where, int *meant) {
    size_t count;
    const bench_command *table = bench_commands(&count);
    bool text = (where & (1u << BENCH_TYPING | 1u << BENCH_COMMANDS)) != 0 && key < BENCH_KEY_ENTER;
    for (size_t i = 0; i < count && !text; i++) {
        if ((table[i].where & where) == 0) {
            continue;
        }
        bench_keys keys = command_keys(b, i);
        for (int k = 0; k < keys.count; k++) {
            bool digit = keys.pressed[k] == BENCH_KEY_DIGIT && key >= '0' && key <= '9';
            if (keys.pressed[k] == key || digit) {
                *meant = digit ? key : keys.meant[k];
                return i;
            }
        }
    }
    return SIZE_MAX;
}

void command_id(size_t index, char out[COMMAND_ID_ROOM]) {
    size_t count, places;
    const bench_command *command = &bench_commands(&count)[index];
    const bench_place_name *names = bench_place_names(&places);
    const char *place = "";
    for (size_t i = places; i > 0; i--) {
        place = (command->where & 1u << names[i - 1].screen) != 0 ? names[i - 1].word : place;
    }
    int used = snprintf(out, COMMAND_ID_ROOM, "%s.", place);
    for (const char *at = command->name; *at != '\0' && used < COMMAND_ID_ROOM - 1; at++) {
        if (isalnum((unsigned char)*at)) {
            out[used++] = *at;
        } else if (out[used - 1] != '-') {
            out[used++] = '-';
        }
    }
    out[used] = '\0';
}

static size_t command_called(const char *id, size_t length) {
    size_t count;
    (void)bench_commands(&count);
    for (size_t i = 0; i < count; i++) {
        char name[COMMAND_ID_ROOM];
        command_id(i, name);
        if (strlen(name) == length && strncmp(name, id, length) == 0) {
            return i;
        }
    }
    return SIZE_MAX;
}

/* The key in one place of a command; the command's name if nothing stands there: the list of commands finds that. */
static bool key_in_place(const bench *b, size_t index, int place, char out[COMMAND_ID_ROOM]) {
    size_t count;
    bench_keys keys = command_keys(b, index), old = command_keys(NULL, index);
    if (place < 1 || place > old.count) {
        return false;
    }
    snprintf(out, COMMAND_ID_ROOM, "\"%s\"", bench_commands(&count)[index].name);
    for (int i = 0; i < keys.count; i++) {
        char name[16];
        if (keys.meant[i] == old.meant[place - 1]) {
            snprintf(out, COMMAND_ID_ROOM, "%s", key_name(keys.pressed[i], name));
            break;
        }
    }
    return true;
}

/* What stands between two braces, "workbench.undo" or "lists.choose:2", as a key; false if it is no command. */
static bool named_key(const bench *b, const char *inner, size_t length, char out[COMMAND_ID_ROOM]) {
    const char *colon = memchr(inner, ':', length);
    size_t id = colon != NULL ? (size_t)(colon - inner) : length, index = command_called(inner, id);
    if (index == SIZE_MAX || (colon != NULL && length != id + 2)) {
        return false;
    }
    return key_in_place(b, index, colon != NULL ? colon[1] - '0' : 1, out);
}

const char *key_words(const bench *b, const char *text, char *out, size_t room) {
    size_t used = 0;
    out[0] = '\0';
    while (*text != '\0' && used + 1 < room) {
        size_t plain = strcspn(text, "{"), inner = text[plain] == '{' ? strcspn(text + plain + 1, "}") : 0;
        char key[COMMAND_ID_ROOM];
        bool named = text[plain] == '{' && named_key(b, text + plain + 1, inner, key);
        plain += text[plain] == '{' && !named;
        used += (size_t)snprintf(out + used, room - used, "%.*s%s", (int)plain, text, named ? key : "");
        text += plain + (named ? inner + 2 : 0);
    }
    return out;
}

int words_width(const char *text) {
    int width = 0;
    for (size_t at = 0, length = strlen(text); at < length;) {
        width += show_code_width((uint32_t)entry_character(text, length, &at));
    }
    return width;
}

/* ---- what is pasted ---- */

static bool takes_text(const bench *b) {
    return b->typing != TYPING_NOTHING;
}

static void paste_end(bench *b) {
    b->pasting = false;
    b->effects = BENCH_REDRAW;
    b->message[0] = '\0';
    b->bad = false;
    if (b->passed_over > 0) {
        bench_refuse(b, "Pasted text goes into a line that is being typed, and none is: nothing was done with it.");
    } else {
        bench_say(b, "%zu character%s pasted", b->pasted, b->pasted == 1 ? "" : "s");
    }
    if (b->screen == BENCH_COMMANDS) {
        commands_filter(b);
    }
}

/* A line break or a tab in it is a blank: it must not take what is typed. Other keys in it are none. */
bool paste_key(bench *b, int key) {
    if (key == BENCH_KEY_PASTE_BEGIN) {
        b->pasting = true;
        b->pasted = b->passed_over = 0;
        b->effects = BENCH_NOTHING;
        return true;
    }
    if (!b->pasting) {
        return key == BENCH_KEY_PASTE_END;
    }
    if (key == BENCH_KEY_PASTE_END) {
        paste_end(b);
        return true;
    }
    b->effects = BENCH_NOTHING;
    if (key == BENCH_KEY_ENTER || key == BENCH_KEY_TAB) {
        key = ' ';
    }
    if (key >= BENCH_KEY_ENTER) {
        return true;
    }
    if (takes_text(b) && entry_key(&b->entry, key)) {
        b->pasted++;
    } else {
        b->passed_over++;
    }
    return true;
}
