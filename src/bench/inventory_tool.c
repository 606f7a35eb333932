/* inventory_tool.c - the values of one tool, the inventory's and the piece's copy side by side. */
#include <stdlib.h>
#include <string.h>

#include "bench/inventory.h"

const bench_row *shelf_same_row(const bench_card *card, const bench_row *row) {
    for (size_t i = 0; i < card->count; i++) {
        if (strcmp(card->rows[i].field->path, row->field->path) == 0) {
            return &card->rows[i];
        }
    }
    return NULL;
}

bool shelf_rows_differ(const bench *b, const bench_row *shop, const bench_row *own) {
    const char *key = shop->field->path + strlen("tools[].");
    return strcmp(key, "retired") != 0 && /* each file's own matter */
           !desk_same_value(shop->field, shop->given ? shop->text : NULL, desk_project(b->stock)->units,
                            own->given ? own->text : NULL, desk_project(b->desk)->units);
}

void shelf_open_tool(bench *b, const char *pattern) {
    bench_card card;
    bench_go(b, BENCH_TOOL);
    shelf_card(b, b->shelf.piece, &card);
    b->shelf.fresh = false;
    b->shelf.field = b->shelf.field_first = 0;
    for (size_t i = 0; i < card.count; i++) {
        const bench_row *row = &card.rows[i];
        bool wanted = pattern == NULL ? row->field->type == SHOP_TYPE_LENGTH : strcmp(row->field->path, pattern) == 0;
        if (wanted) {
            b->shelf.field = i;
            return;
        }
    }
    for (size_t i = 0; i < card.count; i++) {
        b->shelf.field = strcmp(card.rows[i].field->path, "tools[].name") == 0 ? i : b->shelf.field;
    }
}

static bool row_in_hand(bench *b, bench_row *row) {
    bench_card card;
    shelf_card(b, b->shelf.piece, &card);
    if (card.count == 0) {
        return false;
    }
    b->shelf.field = b->shelf.field < card.count ? b->shelf.field : card.count - 1;
    *row = card.rows[b->shelf.field];
    return true;
}

/* ---- moving ---- */

void do_tool_move(bench *b, int key) {
    bench_card card;
    shelf_card(b, b->shelf.piece, &card);
    bench_list list = {.at = b->shelf.field, .count = card.count};
    if (!list_key(&list, key, list_page(b)) || list.at == b->shelf.field) {
        bench_say(b, list_back(key) ? "This is the first value." : "This is the last value.");
    }
    b->shelf.field = list.at;
}

void do_tool_side(bench *b, int key) {
    (void)key;
    bench_card card;
    bench_row row;
    if (b->shelf.head) {
        bench_refuse(b, "These are the inventory's own; those of the piece are on the workbench.");
        return;
    }
    if (!shelf_has(b, !b->shelf.piece)) {
        bench_refuse(b,
                     b->shelf.piece
                         ? "The inventory does not have this tool; {inventory.to-the-inventory} gives it the piece's."
                     : b->desk == NULL ? "No piece is open that could have a copy."
                                       : "The piece has no copy of this tool; {inventory.to-the-piece} gives it one.");
        return;
    }
    bool there = row_in_hand(b, &row);
    b->shelf.piece = !b->shelf.piece;
    shelf_card(b, b->shelf.piece, &card);
    const bench_row *same = there ? shelf_same_row(&card, &row) : NULL;
    b->shelf.field = same != NULL ? (size_t)(same - card.rows) : 0;
    bench_say(b, b->shelf.piece ? "the piece's copy is in hand" : "the inventory's is in hand");
}

/* ---- changing ---- */

/* NULL takes the value out: it is then as usual. A tool that is renamed stays on the screen. */
static bool change(bench *b, const bench_row *row, const char *text) {
    char id[sizeof b->shelf.id];
    snprintf(id, sizeof id, "%s", b->shelf.id);
    bool fine = shelf_set_value(b, row, text);
    if (fine && text != NULL && strcmp(row->field->path, "tools[].id") == 0) {
        snprintf(b->shelf.id, sizeof b->shelf.id, "%.160s", text);
        if (!shelf_has(b, b->shelf.piece)) { /* as it was typed is not as it stands */
            snprintf(b->shelf.id, sizeof b->shelf.id, "%s", id);
        }
    }
    return fine;
}

static void step(bench *b, int steps) {
    bench_row row;
    char text[ROW_TEXT], why[200] = "";
    if (!row_in_hand(b, &row)) {
        return;
    }
    if (shelf_step_text(b, &row, steps, text, why)) {
        change(b, &row, text);
    } else {
        bench_refuse(b, "%s", why);
    }
}

static int direction(int key) {
    return key == BENCH_KEY_RIGHT || key == '+' || key == '=' || key == '>' || key == '.' ? 1 : -1;
}

void do_tool_step(bench *b, int key) {
    step(b, direction(key));
}

void do_tool_ten(bench *b, int key) {
    step(b, 10 * direction(key));
}

void do_tool_type(bench *b, int key) {
    (void)key;
    bench_row row;
    if (!row_in_hand(b, &row)) {
        return;
    }
    if (row.field->type == SHOP_TYPE_WORD || row.field->type == SHOP_TYPE_YES_NO) {
        step(b, 1);
    } else if (shelf_row_has_items(b, &row)) {
        shelf_items_show(b);
    } else {
        bench_type_row(b, TYPING_TOOL, b->shelf.piece ? b->desk : b->stock, &row);
    }
}

void do_tool_digit(bench *b, int key) {
    bench_row row;
    if (!row_in_hand(b, &row)) {
        return;
    }
    if (row_is_list(row.field)) {
        shelf_items_show(b); /* a number belongs to one of its items */
        return;
    }
    bench_type(b, TYPING_TOOL, "");
    entry_key(&b->entry, key);
}

void do_tool_usual(bench *b, int key) {
    (void)key;
    bench_row row;
    if (!row_in_hand(b, &row)) {
        return;
    }
    if (!row.given) {
        bench_say(b, "%s is as usual already: it does not stand in the file.", row.field->label);
    } else {
        change(b, &row, NULL);
    }
}

/* ---- what was typed ---- */

static void take_value(bench *b) {
    bench_row row;
    if (!row_in_hand(b, &row)) {
        b->typing = TYPING_NOTHING;
        return;
    }
    char text[ENTRY_MOST + 1];
    snprintf(text, sizeof text, "%s", b->entry.text);
    row_typed(&row, text);
    bool clear = text[0] == '\0' && row.field->type != SHOP_TYPE_TEXT;
    /* What is refused stays as typed, to be put right. */
    if (change(b, &row, clear ? NULL : text)) {
        b->typing = TYPING_NOTHING;
        bench_card card;
        shelf_card(b, b->shelf.piece, &card);
        bool more = b->shelf.field + 1 < card.count && card.rows[b->shelf.field + 1].field->type != SHOP_TYPE_LIST;
        b->shelf.field += b->shelf.fresh && more;
    }
}

void shelf_take(bench *b) {
    if (b->typing == TYPING_TOOL) {
        take_value(b);
    } else if (b->typing == TYPING_ADD) {
        char typed[ENTRY_MOST + 1];
        snprintf(typed, sizeof typed, "%s", b->entry.text);
        if (shelf_add(b, typed)) {
            b->typing = TYPING_NOTHING;
        }
    } else {
        snprintf(b->shelf.find, sizeof b->shelf.find, "%.99s", b->entry.text);
        b->typing = TYPING_NOTHING;
        shelf_settle(b);
    }
}
