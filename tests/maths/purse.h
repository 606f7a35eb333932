/* purse.h - an allocator that counts what is out and refuses one request. */
#ifndef TESTS_MATHS_PURSE_H
#define TESTS_MATHS_PURSE_H

#include "bandwright/bandwright.h"

typedef struct purse {
    long asked, fail_at;
    long out; /* blocks not given back */
} purse;

bw_allocator purse_allocator(purse *p);

/* Runs `once` with request 0, `stride`, 2 `stride` ... refused until none is: refusals are told, and nothing leaks.
 * How many there were. */
typedef bw_status purse_attempt(const void *about, const bw_allocator *allocator);
long purse_run_out(const void *about, purse_attempt *once, long stride, const char *what);

#endif
