/* keyboard.c - which key stands for which command, and what is pasted. */
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

const char *command_key(const bench *b, int meant, char out[16]) {
    int key;
    size_t index = command_of(NULL, meant, 1u << BENCH_WORK, &key);
    bench_keys keys = index == SIZE_MAX ? (bench_keys){.count = 0} : command_keys(b, index);
    for (int i = 0; i < keys.count; i++) {
        if (keys.meant[i] == meant) {
            const char *name = key_name(keys.pressed[i], out);
            if (name != out) {
                snprintf(out, 16, "%s", name);
            }
            return out;
        }
    }
    snprintf(out, 16, "(no key)");
    return out;
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
