/* bench/shelf.h - what the inventory's screens keep between keys. */
#ifndef BENCH_SHELF_H
#define BENCH_SHELF_H

#include <stdbool.h>
#include <stddef.h>

#include "bandwright/limits.h"
#include "bandwright/values.h"

/* How the inventory is listed. */
typedef enum shelf_order { SHELF_BY_FIT, SHELF_BY_ID, SHELF_BY_KIND, SHELF_BY_LENGTH, SHELF_ORDERS } shelf_order;

#define SHELF_FIND 100
#define SHELF_STEPS 256

typedef struct bench_shelf {
    char id[BW_NAME_MOST * 4 + 1]; /* the tool in hand */
    int order;                     /* a shelf_order */
    int kind;                      /* only these, 0 = all, else 1 + a bw_kind */
    bool retired;                  /* they are shown, too */
    char find[SHELF_FIND];
    bw_kind added;    /* TYPING_ADD */
    bool piece;       /* BENCH_TOOL: the piece's copy is in hand */
    bool fresh;       /* BENCH_TOOL: just added, its sizes are typed one after the other */
    bool head;        /* BENCH_TOOL: what the inventory says of itself is in hand, and no tool */
    struct bench *of; /* not NULL: these are only the hands of that workbench, whose inventory they change */
    size_t field, field_first;
    char others[200]; /* ASK_TOOL_OUT: the recent files that would miss it */
    int asked_from;   /* the bench_screen that a question goes back to */
    /* What was changed on this visit, the piece or the inventory: undo goes the same way back. */
    bool sides[SHELF_STEPS];
    size_t side_count, side_done, before; /* before: steps taken back that were made on an earlier visit */
} bench_shelf;

#endif
