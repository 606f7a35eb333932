/* bench/strip.h - the form of a test strip. inner.h includes it; no other room does. */
#ifndef BENCH_STRIP_H
#define BENCH_STRIP_H

#include <stdbool.h>

#include "bandwright/limits.h"
#include "bench/bench.h"
#include "desk/strips.h"

typedef enum strip_row {
    STRIP_IMPRESSIONS,
    STRIP_SPAN,   /* what the rule tells: a strip_span */
    STRIP_LENGTH, /* or places */
    STRIP_STRUCK,
    STRIP_AIMED,
    STRIP_LEATHER,
    STRIP_DATE,
    STRIP_ADD,
    STRIP_OUT, /* takes out one of those that the tool has */
    STRIP_ROWS
} strip_row;

typedef enum strip_span {
    STRIP_BY_POINTS, /* from one point of the first to the same point of the last */
    STRIP_BY_TIPS,   /* over all */
    STRIP_BY_PLACES, /* where each stands, from the first */
    STRIP_SPANS
} strip_span;

#define STRIP_TEXT 256

typedef struct bench_strip {
    int from;                      /* the bench_screen where it was opened */
    bool stock;                    /* the tool is the inventory's, else the piece's */
    char id[BW_NAME_MOST * 4 + 1]; /* of the tool */
    char text[STRIP_ROWS][STRIP_TEXT];
    int span;   /* a strip_span */
    int struck; /* a bw_how */
    strip_row at;
    size_t out; /* of the tool's strips and rounds: the one that STRIP_OUT is about */
    int first;  /* line of the answer that is shown first */
    int page;   /* how many lines of it there is room for */
} bench_strip;

void strip_take(bench *b);   /* the typed line into its row */
void strip_settle(bench *b); /* after every key: its tool may be gone */
void strip_leave(bench *b);

const desk *strip_desk(const bench *b);
int strip_tool(const bench *b); /* the tool in the file that the form is of; -1 if it is gone */
/* Is the strip whole? Then as figures, with *places to be freed; else why not. */
bool strip_whole(const bench *b, bw_strip *strip, double **places, char why[200], desk_strip_key *wrong);

#endif
