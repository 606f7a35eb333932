/* inventory_edit.c - what changes the inventory, and the piece's copies of its tools. */
#include <stdlib.h>
#include <string.h>

#include "bench/inventory.h"
#include "desk/desk.h"
#include "shop/alloc.h"
#include "shop/characters.h"
#include "shop/edit.h"

#define TOOL_FLOW (ROW_TEXT + TOOL_ID_ROOM)

/* ---- one step ---- */

static void note_side(bench *b, bool piece) {
    bench_shelf *shelf = &b->shelf;
    shelf->side_count = shelf->side_done;
    shelf->before = 0;
    if (shelf->side_count == SHELF_STEPS) {
        memmove(shelf->sides, shelf->sides + 1, (SHELF_STEPS - 1) * sizeof *shelf->sides);
        shelf->side_count--;
    }
    shelf->sides[shelf->side_count++] = piece;
    shelf->side_done = shelf->side_count;
}

/* The piece must still be readable with the inventory as it would be: tried first, so that a refusal leaves no trace.
 */
static bool edit_stock(bench *b, const shop_edit *edits, size_t count, const char *title, shop_problems *problems) {
    char why[400] = "";
    if (!desk_try(b->stock, edits, count, title, problems)) {
        return false;
    }
    if (!shelf_piece_follows(b, why)) {
        desk_try_leave(b->stock);
        shop_problem_add(
            problems, false, 0, 0,
            "the open piece uses it from the inventory ({inventory.to-the-piece} gives it a copy of its own first): %s",
            why);
        return false;
    }
    if (!desk_try_keep(b->stock, problems)) {
        (void)shelf_piece_follows(b, why);
        return false;
    }
    return true;
}

bool shelf_edit(bench *b, bool piece, const shop_edit *edits, size_t count, const char *title) {
    shop_problems problems;
    shop_problems_init(&problems, "");
    desk *d = piece ? b->desk : b->stock;
    const char *before = desk_last(d);
    const char *key = strrchr(edits[0].path, '.');
    bool renames = count == 1 && key != NULL && strcmp(key, ".id") == 0; /* the piece's bands follow */
    bool fine = !piece    ? edit_stock(b, edits, count, title, &problems)
                : renames ? desk_edit(d, edits[0].path, edits[0].new_text, &problems)
                          : desk_edit_many(d, edits, count, title, &problems);
    if (!fine) {
        bench_refuse_problem(b, &problems);
        return false;
    }
    shop_problems_free(&problems);
    if (desk_last(d) != before) {
        note_side(b, piece);
        bench_say(b, "%s: %s ({inventory.undo} takes it back)", piece ? "the piece" : "the inventory", title);
    }
    return true;
}

static bool edit_list(bench *b, bool piece, desk_edits *list, const char *title) {
    bool fine = !list->failed && shelf_edit(b, piece, list->edits, list->count, title);
    if (list->failed) {
        bench_refuse(b, "out of memory");
    }
    desk_edits_release(list);
    return fine;
}

/* ---- undo ---- */

static void moved(bench *b, bool piece, const char *verb, const char *title) {
    bench_say(b, "%s in %s: %.500s", verb, piece ? "the piece" : "the inventory", title);
    shelf_settle(b);
}

void do_shelf_undo(bench *b, int key) {
    (void)key;
    bench_shelf *shelf = &b->shelf;
    bool here = shelf->side_done > 0, piece = here && shelf->sides[shelf->side_done - 1];
    const char *title = NULL;
    char why[400] = "";
    if (!desk_undo(piece ? b->desk : b->stock, &title)) {
        if (piece && desk_last(b->desk) != NULL) {
            bench_refuse(b, "This cannot be taken back in the piece: " TOOL_GONE);
        } else {
            bench_say(b, "There is nothing to take back in the inventory.");
        }
        return;
    }
    if (!piece && !shelf_piece_follows(b, why)) {
        desk_redo(b->stock, NULL);
        bench_refuse(b, "This cannot be taken back, the open piece uses it: %s", why);
        return;
    }
    shelf->side_done -= here;
    shelf->before += !here;
    moved(b, piece, "taken back", title);
}

void do_shelf_redo(bench *b, int key) {
    (void)key;
    bench_shelf *shelf = &b->shelf;
    bool before = shelf->before > 0 || shelf->side_count == 0;
    bool piece = !before && shelf->side_done < shelf->side_count && shelf->sides[shelf->side_done];
    const char *title = NULL;
    char why[400] = "";
    if ((!before && shelf->side_done == shelf->side_count) || !desk_redo(piece ? b->desk : b->stock, &title)) {
        bench_say(b, "There is nothing to make again in the inventory.");
        return;
    }
    if (!piece && !shelf_piece_follows(b, why)) {
        desk_undo(b->stock, NULL);
        bench_refuse(b, "This cannot be made again, the open piece uses the tool: %s", why);
        return;
    }
    shelf->before -= shelf->before > 0;
    shelf->side_done += !before;
    moved(b, piece, "made again", title);
}

/* ---- whole tools ---- */

void shelf_users(const bench *b, const char *id, char out[200]) {
    const shop_project *piece = b->desk == NULL ? NULL : desk_project(b->desk);
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; piece != NULL && i < piece->layout.band_count && used < 150; i++) {
        int tool = piece->bands[i].tool;
        if (tool >= 0 && strcmp(piece->tools[tool].id, id) == 0) {
            used += (size_t)snprintf(out + used, 200 - used, "%s%.40s", used > 0 ? ", " : "", piece->bands[i].name);
        }
    }
    if (piece != NULL && piece->dividers >= 0 && strcmp(piece->tools[piece->dividers].id, id) == 0) {
        snprintf(out + used, 200 - used, "%sas its dividers", used > 0 ? ", " : "");
    }
}

static bool needs_tool(bench *b, shelf_row *row) {
    if (b->shelf.head) {
        bench_refuse(b, "These values are of no tool: {inventory.back} goes back to the list.");
        return false;
    }
    if (!shelf_in_hand(b, row)) {
        bench_refuse(b, "There is no tool in hand: {inventory.add} adds one, {inventory.find} and {inventory.kind} "
                        "change what is shown.");
        return false;
    }
    return true;
}

/* The piece gets the inventory's, or the other way round; the same key adds a copy where there is none. */
static bool give(bench *b, bool to_piece, const char *id) {
    desk_edits list = {0};
    char title[300];
    const desk *from = to_piece ? b->stock : b->desk, *to = to_piece ? b->desk : b->stock;
    bool there = desk_tool_find(to, id) >= 0;
    int used = snprintf(title, sizeof title, there ? "%.100s as %s has it" : "%.100s added from %s", id,
                        to_piece ? "the inventory" : "the piece");
    if (!desk_tool_give(from, to, id, &list)) {
        desk_edits_release(&list);
        bench_refuse(b, "out of memory");
        return false;
    }
    if (list.count == 0) {
        const bw_tool *one = &desk_project(from)->tools[desk_tool_find(from, id)];
        bool more = there && !shop_same_strips(one, &desk_project(to)->tools[desk_tool_find(to, id)]);
        bench_say(b,
                  more ? "%s: %s has all that the other has, and strips or rounds besides"
                       : "%s: the inventory and the piece say the same",
                  id, to_piece ? "the piece" : "the inventory");
        return true;
    }
    for (size_t i = 0; there && i < list.count && used < 250; i++) { /* what is settled */
        const shop_edit *edit = &list.edits[i];
        const shop_field *field = shop_field_for(desk_project(to), edit->path);
        used += snprintf(title + used, sizeof title - (size_t)used, "%s%s%s", i > 0 ? ", " : ": ",
                         field != NULL ? field->label : "all of it", edit->new_text == NULL ? " taken out" : "");
    }
    return edit_list(b, to_piece, &list, title);
}

unsigned shelf_gives(bench *b) {
    shelf_row row;
    if (b->desk == NULL || b->shelf.head || !shelf_in_hand(b, &row)) {
        return 0;
    }
    bool both = row.shop >= 0 && row.own >= 0;
    return both            ? (row.differs ? SHELF_TO_PIECE | SHELF_TO_INVENTORY : 0)
           : row.shop >= 0 ? SHELF_TO_PIECE
                           : SHELF_TO_INVENTORY;
}

void do_shelf_give(bench *b, int key) {
    shelf_row row;
    bool to_piece = key == 'P';
    if (!needs_tool(b, &row)) {
        return;
    }
    if (b->desk == NULL) {
        bench_refuse(b, "No piece is open: {start.open-by-name} on the start screen opens one.");
    } else if ((to_piece ? row.shop : row.own) < 0) {
        bench_refuse(b,
                     to_piece ? "The inventory does not have %s; {inventory.to-the-inventory} gives it the piece's."
                              : "The piece has no copy of %s; {inventory.to-the-piece} gives it the inventory's.",
                     row.tool->id);
    } else {
        give(b, to_piece, row.tool->id);
        shelf_settle(b);
    }
}

void do_shelf_copy(bench *b, int key) {
    (void)key;
    shelf_row row;
    char id[BW_NAME_MOST * 4 + 1], title[300];
    desk_edits list = {0};
    if (!needs_tool(b, &row)) {
        return;
    }
    if (row.shop < 0) {
        bench_refuse(b, "Only the piece has %s: {inventory.to-the-inventory} gives it to the inventory first.",
                     row.tool->id);
        return;
    }
    if (!desk_tool_copy(b->stock, (size_t)row.shop, b->desk, &list, id)) {
        desk_edits_release(&list);
        bench_refuse(b, "out of memory");
        return;
    }
    snprintf(title, sizeof title, "%.140s copied as %.140s", row.tool->id, id);
    if (edit_list(b, false, &list, title)) {
        snprintf(b->shelf.id, sizeof b->shelf.id, "%s", id);
        shelf_settle(b);
    }
}

void do_shelf_retire(bench *b, int key) {
    (void)key;
    shelf_row row;
    char path[ROW_TEXT], title[300], yes[] = "yes";
    if (!needs_tool(b, &row)) {
        return;
    }
    snprintf(path, sizeof path, "tools.%s.retired", row.tool->id);
    shop_edit edit = {.path = path, .new_text = row.retired ? NULL : yes};
    snprintf(title, sizeof title, row.retired ? "%.160s is offered again" : "%.160s is retired", row.tool->id);
    if (shelf_edit(b, row.shop < 0, &edit, 1, title)) {
        if (!row.retired && !b->shelf.retired && row.own < 0) {
            bench_say(b, "%s is retired: {inventory.retired} shows it, {inventory.undo} takes it back",
                      b->shelf.id); /* the row is gone */
        }
        shelf_settle(b);
    }
}

void shelf_take_out(bench *b) {
    char users[200], path[ROW_TEXT], title[300], id[sizeof b->shelf.id];
    bool shop = shelf_has(b, false), own = shelf_has(b, true);
    snprintf(id, sizeof id, "%s", b->shelf.id);
    shelf_users(b, id, users);
    if (shop && !own && users[0] != '\0' && !give(b, true, id)) {
        return;
    }
    snprintf(path, sizeof path, "tools.%s", id);
    snprintf(title, sizeof title, "%.160s taken out", id);
    shop_edit edit = {.path = path};
    shelf_edit(b, !shop, &edit, 1, title);
    shelf_settle(b);
}

/* ---- adding ---- */

void do_shelf_add(bench *b, int key) {
    (void)key;
    bench_go(b, BENCH_KINDS);
    b->list.count = BW_MAUL + 1;
}

void shelf_kind_taken(bench *b, bw_kind kind) {
    b->shelf.added = kind;
    bench_go(b, BENCH_INVENTORY);
    shelf_settle(b);
    bench_type(b, TYPING_ADD, "");
    if (kind <= BW_IRON) {
        bench_say(b, "How long is the new %s's %s? Type it, then {typing.take}; its other sizes come next.",
                  kind_words(kind), kind == BW_IRON ? "pitch" : "face");
    } else {
        bench_say(b, "Under which id? A short name by which this %s is known.", show_kind_word(kind));
    }
}

/* What a tool without a size that names it is called, the maker says. */
static bool named_flow(bench *b, const char *typed, char id[TOOL_ID_ROOM], char flow[TOOL_FLOW], char why[200]) {
    char written[TOOL_ID_ROOM];
    size_t letters = shop_characters(typed, strlen(typed));
    bool taken = desk_tool_find(b->stock, typed) >= 0;
    if (letters < 1 || letters > BW_NAME_MOST || taken || !tool_id_written(typed, written)) {
        snprintf(why, 200, taken ? "There is a tool of this id already." : "An id has 1 to %d characters.",
                 BW_NAME_MOST);
        return false;
    }
    snprintf(id, TOOL_ID_ROOM, "%s", typed);
    snprintf(flow, TOOL_FLOW, "{id: %s, kind: %s}", written, show_kind_word(b->shelf.added));
    return true;
}

/* True once it is added. */
bool shelf_add(bench *b, const char *typed) {
    const shop_project *stock = desk_project(b->stock);
    char id[TOOL_ID_ROOM], flow[TOOL_FLOW], why[200] = "", path[40], title[300];
    /* Ids that the piece has are taken, too; sizes are in the inventory's unit. */
    shop_project known = b->desk != NULL ? *desk_project(b->desk) : *stock;
    known.units = stock->units;
    bool fine = b->shelf.added <= BW_IRON ? tool_new_flow(&known, b->shelf.added, typed, "", id, flow, why)
                                          : named_flow(b, typed, id, flow, why);
    if (!fine) {
        bench_refuse(b, "%s", why);
        return false;
    }
    snprintf(path, sizeof path, "tools[%zu]", stock->own_tools + 1);
    snprintf(title, sizeof title, "a new %s: %.200s", kind_words(b->shelf.added), id);
    shop_edit edit = {.path = path, .new_text = flow};
    if (!shelf_edit(b, false, &edit, 1, title)) {
        return false;
    }
    snprintf(b->shelf.id, sizeof b->shelf.id, "%.160s", id);
    b->shelf.piece = false;
    b->shelf.find[0] = '\0'; /* so that it is seen */
    b->shelf.kind = b->shelf.kind == 1 + (int)b->shelf.added ? b->shelf.kind : 0;
    shelf_open_tool(b, b->shelf.added == BW_IRON ? "tools[].teeth" : "tools[].width");
    b->shelf.fresh = true;
    return true;
}
