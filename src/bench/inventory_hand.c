/* inventory_hand.c - the values of the inventory under the hands of the workbench: what a row says, how it steps, what
 * changes with it and how the items of a list are changed is the same there. */
#include <stdlib.h>
#include <string.h>

#include "bench/inventory.h"
#include "shop/alloc.h"

bool shelf_has(const bench *b, bool piece) {
    const desk *d = piece ? b->desk : b->stock;
    return d != NULL && (b->shelf.head ? !piece : desk_tool_find(d, b->shelf.id) >= 0);
}

/* The workbench with that tool in hand, or what the inventory says of itself; its edits go to the inventory's undo. */
static bench *hand_of(bench *b, bool piece) {
    bench *hand = shelf_has(b, piece) ? shop_alloc(sizeof *hand) : NULL;
    if (hand == NULL) {
        return NULL;
    }
    *hand = *b;
    hand->desk = piece ? b->desk : b->stock;
    hand->shelf.of = b;
    hand->screen = BENCH_WORK;
    hand->field = b->shelf.field;
    hand->message[0] = '\0';
    const shop_project *project = desk_project(hand->desk);
    hand->card = b->shelf.head ? 0 : 1 + project->layout.band_count + (size_t)desk_tool_find(hand->desk, b->shelf.id);
    return hand;
}

/* What it said, unless the edit has said it already. */
static void put_down(bench *b, bench *hand) {
    if (hand != NULL && hand->message[0] != '\0') {
        snprintf(b->message, sizeof b->message, "%s", hand->message);
        b->bad = hand->bad;
    }
    free(hand);
}

void shelf_card(bench *b, bool piece, bench_card *card) {
    bench *hand = hand_of(b, piece);
    card->count = 0;
    if (hand != NULL) {
        card_read(hand, card);
    }
    free(hand);
}

bool shelf_step_text(bench *b, const bench_row *row, int steps, char out[ROW_TEXT], char why[200]) {
    bench *hand = hand_of(b, b->shelf.piece);
    bool fine = hand != NULL && row_step(hand, row, steps, out, why);
    free(hand);
    return fine;
}

bool shelf_set_value(bench *b, const bench_row *row, const char *text) {
    bench *hand = hand_of(b, b->shelf.piece);
    bool fine = hand != NULL && bench_set_value(hand, row, text);
    put_down(b, hand);
    return fine;
}

/* ---- the edits of such a hand ---- */

bool shelf_hand_edits(bench *hand, const shop_edit *edits, size_t count, const char *title) {
    bench *b = hand->shelf.of;
    hand->message[0] = '\0';
    return shelf_edit(b, b->shelf.piece, edits, count, title);
}

bool shelf_hand_change(bench *hand, const char *path, const char *text) {
    bench *b = hand->shelf.of;
    const shop_project *project = desk_project(hand->desk);
    const shop_field *field = shop_field_for(project, path);
    char *old = shop_text_get(project->text, path), title[300], whose[100] = "";
    char *before = field == NULL || old == NULL ? NULL : desk_value_words(field, project->units, old);
    char *after = field == NULL || text == NULL ? NULL : desk_value_words(field, project->units, text);
    if (!b->shelf.head) {
        snprintf(whose, sizeof whose, "%.90s ", b->shelf.id);
    }
    snprintf(title, sizeof title, "%s%.40s %.60s -> %.60s", whose, field != NULL ? field->label : path,
             before != NULL ? before : "nothing", after != NULL ? after : "as usual");
    shop_edit edit = {.path = (char *)(uintptr_t)path, .new_text = (char *)(uintptr_t)text};
    bool fine = shelf_hand_edits(hand, &edit, 1, title);
    free(after);
    free(before);
    free(old);
    return fine;
}

/* ---- the items of a list ---- */

bool shelf_row_has_items(bench *b, const bench_row *row) {
    bench *hand = hand_of(b, b->shelf.piece);
    bool has = hand != NULL && bench_items_of(hand, row);
    free(hand);
    return has;
}

/* Back from the items to where they are kept between keys. */
static void take_over(bench *b, bench *hand) {
    b->list = hand->list;
    b->entry = hand->entry;
    b->typing = hand->typing;
    b->item_new = hand->item_new;
    if (hand->screen != BENCH_ITEMS) { /* the list has gone */
        b->typing = TYPING_NOTHING;
        bench_go(b, BENCH_TOOL);
    }
    put_down(b, hand);
}

static bench *items_hand(bench *b) {
    bench *hand = b->screen == BENCH_TOOL_ITEMS ? hand_of(b, b->shelf.piece) : NULL;
    if (hand != NULL) {
        hand->screen = BENCH_ITEMS;
    }
    return hand;
}

void shelf_items_show(bench *b) {
    bench_go(b, BENCH_TOOL_ITEMS);
    shelf_items_settle(b);
}

void shelf_items_settle(bench *b) {
    bench *hand = items_hand(b);
    if (hand != NULL) {
        items_settle(hand);
        take_over(b, hand);
    } else if (b->screen == BENCH_TOOL_ITEMS) {
        bench_go(b, BENCH_TOOL);
    }
}

bool shelf_items(bench *b, void (*run)(bench *b, int key), int key) {
    bench *hand = items_hand(b);
    if (hand == NULL) {
        return false;
    }
    run(hand, key);
    items_settle(hand);
    take_over(b, hand);
    return true;
}

static void take_typed(bench *hand, int key) {
    (void)key;
    if (items_take(hand, hand->entry.text)) {
        hand->typing = TYPING_NOTHING;
    }
}

bool shelf_items_take(bench *b) {
    return shelf_items(b, take_typed, 0);
}

void draw_tool_items(bench *b, show_grid *grid) {
    bench *hand = items_hand(b);
    bool low = grid->height < 10;
    if (hand != NULL) {
        int top = low ? 0 : 2;
        if (!low) {
            show_putf(grid, 0, 0, -1, SHOW_BOLD, "%s, %s", b->shelf.id,
                      b->shelf.piece ? "the piece's copy" : "in the inventory");
        }
        items_draw(hand, grid, (show_rect){0, top, grid->width, grid->height - foot_lines(grid) - top});
        draw_prompt(hand, grid);
        b->entry.across = hand->entry.across;
        b->list = hand->list;
        for (size_t i = 0; i < hand->spot_count; i++) {
            b->spots[i] = hand->spots[i];
        }
        b->spot_count = hand->spot_count;
        free(hand);
    }
    draw_foot(b, grid);
}
