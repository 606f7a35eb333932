/* bench/keyboard.h - which keys stand for which commands, and their names. inner.h includes it; no other room does. */
#ifndef BENCH_KEYBOARD_H
#define BENCH_KEYBOARD_H

#include "bench/bench.h"

#define COMMAND_KEYS 5

/* The keys of one row of the table of commands: what is pressed, and the key of the table that it stands for. */
typedef struct bench_keys {
    int pressed[COMMAND_KEYS], meant[COMMAND_KEYS];
    int count;
} bench_keys;

/* Names as scripts, the help and the bottom line spell them. */
const char *key_name(int key, char out[16]);
int key_of_name(const char *name, size_t length); /* BENCH_KEY_NONE if there is none */

void bench_key_names(FILE *to); /* of the keys that are no characters */

/* ---- the keys of the table, as they are shipped or as a file has changed them; b NULL: as shipped ---- */

bench_keys command_keys(const bench *b, size_t index);
/* "Left Right - +"; "none" if there are none. */
void command_keys_words(const bench *b, size_t index, char out[100]);
/* The command of a key, and in *meant the key of the table that it stands for. SIZE_MAX if there is none. */
size_t command_of(const bench *b, int key, unsigned where, int *meant);
#define COMMAND_ID_ROOM 80
void command_id(size_t index,
                char out[COMMAND_ID_ROOM]); /* "workbench.undo": the first place where it works, its name */
/* A text that names keys as {workbench.undo} or, of several, {workbench.count:2}, with the keys in force: "u takes it
 * back". A command that has none is named itself. Messages pass through it by themselves. Returns out. */
const char *key_words(const bench *b, const char *text, char *out, size_t room);
int words_width(const char *text); /* cells */
/* Does what this key of the table does here, whatever it has been changed to; effects. */
unsigned bench_meant(bench *b, int meant);
bool paste_key(bench *b, int key); /* true if the key was part of something pasted */

#endif
