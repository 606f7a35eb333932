/* ways.h - how each screen is come to by keys alone. */
#ifndef TESTS_BENCH_WAYS_H
#define TESTS_BENCH_WAYS_H

#include "bench/inner.h"

typedef struct way {
    bench_screen screen;
    const char *file;   /* NULL: the start screen */
    const char *before; /* keys of a program that was ended from outside before; NULL: there was none */
    const char *keys;
    const char *other; /* what somebody else writes into the file then, and `s` comes after it; NULL: nobody */
} way;

const way *ways_all(size_t *count);
/* The workbench on that screen, the file being this text (NULL: as the example is), nothing left from before; fails the
 * test if the way leads elsewhere. */
bench *ways_come(const way *one, const char *text);

#endif
