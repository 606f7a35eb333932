/* hands.h - a workbench in a folder of its own, and hands that press keys on it. */
#ifndef TESTS_BENCH_HANDS_H
#define TESTS_BENCH_HANDS_H

#include "bench/bench.h"

#define HANDS_INVENTORY "shop/inventory.yaml" /* a copy of the one to begin with */

/* Fixture: a fresh folder to work in, with copies of the examples; removed afterwards. */
void hands_begin(void);
void hands_end(void);
/* From now on every bench that is opened has other keys, and scripts are pressed with them; off again by hands_begin.
 */
void hands_other_keys(void);
/* This example (may be NULL) and the inventory as they were, and no state. */
void hands_fresh(const char *file);
/* A file of that folder, NULL for the start screen; fails the test if it cannot be opened. */
bench *hands_open(const char *file);
/* Presses the keys of a script at 80x24. */
void hands_press(bench *b, const char *script);
/* The screen as text, malloc'ed. */
char *hands_screen(bench *b, int width, int height);
void hands_see(bench *b, const char *words); /* fails unless the 80x24 screen holds them */
void hands_write(const char *name, const char *text);
char *hands_bytes(const bench *b);       /* the layout's text, malloc'ed */
char *hands_stock_bytes(const bench *b); /* the same of the open inventory */

#endif
