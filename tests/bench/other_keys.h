/* other_keys.h - a file of keys that changes every key that may be changed, each to one that nobody ships. */
#ifndef TESTS_BENCH_OTHER_KEYS_H
#define TESTS_BENCH_OTHER_KEYS_H

#include "bench/bench.h"

/* The key in the place of a shipped one: always the same; Esc and digits stay. */
int other_key(int shipped);
void other_keys_take(bench *b); /* fails the test if the file is refused */
/* A script of shipped keys as a hand presses it then, malloc'ed; quoted text and words such as screen stay. */
char *other_keys_script(const char *script);
/* Where a text names a key as it is shipped: "u takes it back", "(w)", "Enter"; NULL if nowhere. */
const char *shipped_key_named(const char *text);

#endif
