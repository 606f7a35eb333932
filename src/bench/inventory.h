/* bench/inventory.h - what the files of the inventory's screens share. */
#ifndef BENCH_INVENTORY_H
#define BENCH_INVENTORY_H

#include "bench/inner.h"

/* A tool as it is listed: in the inventory, in the piece, or in both. */
typedef struct shelf_row {
    int shop, own;       /* index in the inventory and among the piece's copies; -1 = not there */
    const bw_tool *tool; /* the piece's copy where there is one: it is what counts */
    const shop_tool *about;
    shop_unit unit;
    const bw_rank *rank; /* NULL: not judged */
    size_t place;        /* in the ranking */
    bool in_use, differs, retired;
    bool only_named;  /* it differs in nothing but its name or note */
    bool only_strips; /* in nothing but its test strips and rounds */
} shelf_row;

/* The rows that pass the filters, in order; malloc'ed, NULL if there are none. `all`: how many there are without
 * filters. */
shelf_row *shelf_read(bench *b, size_t *count, size_t *all);
/* The row in hand; false if there is none. */
bool shelf_in_hand(bench *b, shelf_row *row);
/* Keeps the tool in hand where the list has changed. */
void shelf_settle(bench *b);
const char *shelf_order_words(const bench *b);
bool shelf_has_band(const bench *b); /* is there a band for which stamps can be ranked? */

/* The inventory is opened if it was not yet; false with the reason said. */
bool shelf_open(bench *b);
/* The open piece reads its tools from the inventory as it stands; false with the reason. */
bool shelf_piece_follows(bench *b, char why[400]);

/* One undo step of the inventory, or of the piece; says what was done, or why not. */
bool shelf_edit(bench *b, bool piece, const shop_edit *edits, size_t count, const char *title);
/* Which way the tool in hand could be given so that something would change. */
enum { SHELF_TO_PIECE = 1, SHELF_TO_INVENTORY = 2 };
unsigned shelf_gives(bench *b);
/* The names of the piece's bands that are struck with this tool, "" if none; also the dividers count. */
void shelf_users(const bench *b, const char *id, char out[200]);

/* The values of the tool in hand, of the inventory or of the piece's copy; none if that has no such tool. */
void shelf_card(bench *b, bool piece, bench_card *card);
bool shelf_has(const bench *b, bool piece);
/* The row of the same field on the other side; NULL if there is none. */
const bench_row *shelf_same_row(const bench_card *card, const bench_row *row);
bool shelf_rows_differ(const bench *b, const bench_row *shop, const bench_row *own);
/* inventory_hand.c: a value of the one in hand, a step on, or set with what belongs to it; false with the reason. */
bool shelf_step_text(bench *b, const bench_row *row, int steps, char out[ROW_TEXT], char why[200]);
bool shelf_set_value(bench *b, const bench_row *row, const char *text);
bool shelf_row_has_items(bench *b, const bench_row *row);
void shelf_items_show(bench *b); /* BENCH_TOOL_ITEMS */
/* The screen of its values; pattern: the value that comes into hand, NULL = the first size. */
void shelf_open_tool(bench *b, const char *pattern);
void shelf_kind_taken(bench *b, bw_kind kind); /* what is added */
bool shelf_add(bench *b, const char *typed);   /* its size or id was typed; false if it is refused */

/* The question that is asked; "" if it is none of the inventory's. */
void shelf_take_out(bench *b); /* the tool in hand, after the question */
/* Back from the choice between two versions of the inventory. */
void shelf_theirs_back(bench *b);
void shelf_question(const bench *b, char *out, size_t room);

/* Handlers, one a row of the table of commands. */
void do_shelf_list(bench *b, int key);
void do_shelf_order(bench *b, int key);
void do_shelf_kind(bench *b, int key);
void do_shelf_retired(bench *b, int key);
void do_shelf_find(bench *b, int key);
void do_shelf_open_tool(bench *b, int key);
void do_shelf_add(bench *b, int key);
void do_shelf_copy(bench *b, int key);
void do_shelf_out(bench *b, int key);
void do_shelf_retire(bench *b, int key);
void do_shelf_head(bench *b, int key);
void do_shelf_give(bench *b, int key);
void do_shelf_undo(bench *b, int key);
void do_shelf_redo(bench *b, int key);
void do_shelf_save(bench *b, int key);
void do_shelf_reload(bench *b, int key);
void do_tool_move(bench *b, int key);
void do_tool_side(bench *b, int key);
void do_tool_step(bench *b, int key);
void do_tool_ten(bench *b, int key);
void do_tool_type(bench *b, int key);
void do_tool_digit(bench *b, int key);
void do_tool_usual(bench *b, int key);

#endif
