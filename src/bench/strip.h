/* bench/strip.h - the form of a test strip. inner.h includes it; no other room does. */
#ifndef BENCH_STRIP_H
#define BENCH_STRIP_H

#include <stdbool.h>

#include "bandwright/limits.h"
#include "bench/bench.h"

typedef enum strip_row {
    STRIP_IMPRESSIONS,
    STRIP_SPAN, /* from one point to the same point, or from tip to tip */
    STRIP_LENGTH,
    STRIP_STRUCK,
    STRIP_AIMED,
    STRIP_LEATHER,
    STRIP_DATE,
    STRIP_ADD,
    STRIP_ROWS
} strip_row;

#define STRIP_TEXT 256

typedef struct bench_strip {
    int from;                      /* the bench_screen where it was opened */
    bool stock;                    /* the tool is the inventory's, else the piece's */
    char id[BW_NAME_MOST * 4 + 1]; /* of the tool */
    char text[STRIP_ROWS][STRIP_TEXT];
    bool tips;
    int struck; /* a bw_how */
    strip_row at;
} bench_strip;

void strip_take(bench *b);   /* the typed line into its row */
void strip_settle(bench *b); /* after every key: its tool may be gone */
void strip_leave(bench *b);

#endif
