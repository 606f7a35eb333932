/* draw_inventory.c - the inventory: the list of tools, and one tool's values in both files. */
#include <stdlib.h>
#include <string.h>

#include "bench/inventory.h"

/* ---- the head ---- */

static void put_title(const bench *b, show_grid *grid, const char *what) {
    char state[80];
    const char *file = desk_file(b->stock), *slash = strrchr(file, '/');
    bool wide = grid->width >= 64;
    if (b->desk != NULL) {
        snprintf(state, sizeof state, wide ? "inventory %s, piece %s" : "inv. %s, piece %s", saved_word(b->stock),
                 saved_word(b->desk));
    } else {
        snprintf(state, sizeof state, wide ? "inventory %s" : "%s", saved_word(b->stock));
    }
    int right = grid->width - (int)strlen(state);
    int x = show_put(grid, 0, 0, right > 2 ? right - 2 : 0, SHOW_BOLD, what);
    if (x + 4 < right) {
        show_put(grid, x + 2, 0, right - x - 4, SHOW_DIM, slash != NULL ? slash + 1 : file);
    }
    show_put(grid, right > 0 ? right : 0, 0, -1, desk_unsaved(b->stock) ? SHOW_BOLD : SHOW_PLAIN, state);
}

static void put_prompt(bench *b, show_grid *grid) {
    if (b->typing != TYPING_FIND && b->typing != TYPING_ADD) {
        return;
    }
    int y = grid->height - foot_lines(grid) - 1;
    lines_clear(grid, y, 1);
    int used = show_putf(grid, 0, y, -1, SHOW_BOLD, "%s: ",
                         b->typing == TYPING_FIND      ? "find"
                         : b->shelf.added == BW_IRON   ? "pitch"
                         : b->shelf.added <= BW_BORDER ? "length"
                                                       : "id");
    entry_draw(&b->entry, grid, used, y, grid->width - used);
}

/* ---- the list ---- */

static void put_filters(bench *b, show_grid *grid, size_t count, size_t all) {
    char text[400];
    int used = snprintf(text, sizeof text, "%zu of %zu tools, %s", count, all, shelf_order_words(b));
    if (b->shelf.kind > 0) {
        used += snprintf(text + used, sizeof text - (size_t)used, "; only %s",
                         show_kind_word((bw_kind)(b->shelf.kind - 1)));
    }
    if (b->shelf.find[0] != '\0' && b->typing != TYPING_FIND) {
        char find[COMMAND_ID_ROOM];
        used += snprintf(text + used, sizeof text - (size_t)used, "; with \"%s\" (%s)", b->shelf.find,
                         key_words(b, "{inventory.find}", find, sizeof find));
    }
    snprintf(text + used, sizeof text - (size_t)used, "%s", b->shelf.retired ? "; retired, too" : "");
    show_put(grid, 0, 1, -1, SHOW_PLAIN, text);
}

static void put_line(const bench *b, show_grid *grid, int y, const shelf_row *row, bool chosen) {
    show_tool_row line = {.tool = row->tool,
                          .unit = row->unit,
                          .judged = shelf_has_band(b),
                          .rank = row->rank,
                          .in_inventory = row->shop >= 0,
                          .in_piece = row->own >= 0,
                          .in_use = row->in_use,
                          .differs = row->differs,
                          .only_named = row->only_named,
                          .only_strips = row->only_strips,
                          .retired = row->retired};
    show_put(grid, 0, y, 1, SHOW_BOLD, chosen ? ">" : " ");
    show_tool_line(grid, (show_rect){2, y, grid->width - 2, 1}, chosen ? SHOW_REVERSE | SHOW_BOLD : SHOW_PLAIN, &line);
    if (chosen && b->typing == TYPING_NOTHING) {
        grid->cursor_x = 2;
        grid->cursor_y = y;
    }
}

static const char *place_sentence(const bench *b, const shelf_row *row) {
    return row->shop < 0 ? "only in the piece: {inventory.to-the-inventory} gives it to the inventory"
           : row->own < 0
               ? (b->desk == NULL ? "" : "only in the inventory: {inventory.to-the-piece} gives the piece a copy")
           : row->only_named  ? "in the piece under another name or note: {inventory.values} shows both, "
                                "{inventory.to-the-piece} or {inventory.to-the-inventory} settles it"
           : row->only_strips ? "the piece has other strips: {inventory.to-the-piece} takes the inventory's, "
                                "{inventory.to-the-inventory} gives the piece's"
           : row->differs     ? "the piece's copy differs: {inventory.values} shows both, {inventory.to-the-piece} or "
                                "{inventory.to-the-inventory} settles it"
                              : "in the inventory and in the piece";
}

/* What the tool in hand is, and how it would do in the band at hand. */
static void put_details(const bench *b, show_grid *grid, show_rect where, const shelf_row *row) {
    char name[200];
    show_words words;
    shop_clean(row->about->name.bytes, row->about->name.length, name, sizeof name);
    bool listed = show_tool_has_size(grid->width - 2, shelf_has_band(b)); /* else it is told here */
    const char *size = listed ? "" : show_tool_size(&words, row->tool, row->unit);
    show_putf(grid, where.x, where.y, where.width, SHOW_BOLD, "%s%s%s%s%s%s", row->tool->id,
              name[0] != '\0' ? ": " : "", name, row->retired ? " (retired)" : "", size[0] != '\0' ? ", " : "", size);
    where.y++;
    where.height--;
    if (row->rank != NULL && where.height > 0) {
        const shop_project *piece = desk_project(b->desk);
        bool works = row->rank->verdict >= BW_TIGHT;
        if (show_rank_sentence(&words, piece, b->band, row->rank->tool)) {
            char text[600];
            snprintf(text, sizeof text, "%.60s: %s", piece->bands[b->band].name, words.text);
            int lines = show_wrap(grid, where, works ? SHOW_GOOD : SHOW_BAD, text);
            where.y += lines;
            where.height -= lines;
        }
        if (where.height > 0) {
            show_tool_margins(&words, piece, b->band, row->rank);
            int lines = show_wrap(grid, where, SHOW_PLAIN, words.text);
            where.y += lines;
            where.height -= lines;
        }
    }
    if (where.height > 0) {
        key_words(b, place_sentence(b, row), name, sizeof name);
        show_wrap(grid, where, row->differs ? SHOW_WARN : SHOW_DIM, name);
    }
}

static void put_kinds(bench *b, show_grid *grid, int y) {
    show_put(grid, 0, y, -1, SHOW_UNDERLINE, "what is the new tool?");
    int lines = grid->height - foot_lines(grid) - y - 1;
    list_show(&b->list, (size_t)(lines > 0 ? lines : 1));
    for (int i = 0; i < lines && b->list.first + (size_t)i < b->list.count; i++) {
        size_t at = b->list.first + (size_t)i;
        bool chosen = at == b->list.at;
        spot_add(b, 0, y + 1 + i, grid->width, SPOT_ROW, at);
        show_put(grid, 0, y + 1 + i, 1, SHOW_BOLD, chosen ? ">" : " ");
        show_putf(grid, 2, y + 1 + i, -1, chosen ? SHOW_REVERSE | SHOW_BOLD : SHOW_PLAIN, "%s%s",
                  show_kind_word((bw_kind)at),
                  at == BW_BASKET   ? ": a stamp that weaves"
                  : at == BW_BORDER ? ": a stamp set one beside the other"
                  : at == BW_IRON   ? ": a stitching iron"
                                    : "");
        if (chosen) {
            grid->cursor_x = 2;
            grid->cursor_y = y + 1 + i;
        }
    }
}

void draw_inventory(bench *b, show_grid *grid) {
    char none[200];
    bool low = grid->height < 10;
    if (!low) {
        put_title(b, grid, "inventory");
    }
    int y = low ? 0 : 2, bottom = grid->height - foot_lines(grid);
    if (b->screen == BENCH_KINDS) {
        put_kinds(b, grid, y);
        draw_foot(b, grid);
        return;
    }
    size_t count, all;
    shelf_settle(b);
    shelf_row *rows = shelf_read(b, &count, &all);
    if (!low) {
        put_filters(b, grid, count, all);
        show_tool_head(grid, (show_rect){2, y++, grid->width - 2, 1},
                       shelf_has_band(b) ? desk_project(b->desk)->bands[b->band].name : NULL);
    }
    int details = bottom - y >= 17 ? 7 : bottom - y >= 12 ? 6 : bottom - y >= 9 ? 4 : bottom - y >= 6 ? 2 : 0;
    int lines = bottom - y - details;
    list_show(&b->list, (size_t)(lines > 0 ? lines : 1));
    for (int i = 0; i < lines && b->list.first + (size_t)i < count; i++) {
        size_t at = b->list.first + (size_t)i;
        put_line(b, grid, y + i, &rows[at], at == b->list.at);
        spot_add(b, 0, y + i, grid->width, SPOT_ROW, at);
    }
    if (count == 0) {
        show_wrap(grid, (show_rect){2, y, grid->width - 2, lines}, SHOW_PLAIN,
                  key_words(b,
                            all == 0 ? "There is no tool yet: {inventory.add} adds one."
                                     : "No tool passes: {inventory.find}, {inventory.kind} and {inventory.retired} "
                                       "change what is shown.",
                            none, sizeof none));
    } else if (details > 1) {
        put_details(b, grid, (show_rect){0, bottom - details + 1, grid->width, details - 1}, &rows[b->list.at]);
    }
    free(rows);
    put_prompt(b, grid);
    draw_foot(b, grid);
}

/* ---- one tool ---- */

typedef struct tool_columns {
    int label, value; /* cells */
    bool both;        /* two columns of values */
} tool_columns;

static void put_cell(bench *b, show_grid *grid, int x, int y, int width, const bench_row *row, bool in_hand) {
    char text[ROW_TEXT + 4];
    if (in_hand && b->typing == TYPING_TOOL) {
        entry_draw(&b->entry, grid, x, y, width);
        return;
    }
    snprintf(text, sizeof text, row->given || row->words[0] == '\0' ? "%s" : "(%s)", row->words);
    show_put(grid, x, y, width, in_hand ? SHOW_REVERSE | SHOW_BOLD : row->given ? SHOW_PLAIN : SHOW_DIM, text);
    if (in_hand) {
        grid->cursor_x = x;
        grid->cursor_y = y;
    }
}

static void put_values(bench *b, show_grid *grid, int y, const bench_row *hand, const bench_row *other, bool chosen,
                       tool_columns c) {
    bool piece = b->shelf.piece;
    int own_x = 2 + c.label + (c.both && piece ? c.value + 1 : 0), other_x = 2 + c.label + (piece ? 0 : c.value + 1);
    show_put(grid, 0, y, 1, SHOW_BOLD, chosen ? ">" : " ");
    show_put(grid, 2, y, c.label - 1, chosen ? SHOW_BOLD : SHOW_PLAIN, hand->field->label);
    put_cell(b, grid, own_x, y, c.value, hand, chosen);
    if (!c.both || other == NULL) {
        return;
    }
    put_cell(b, grid, other_x, y, c.value, other, false);
    if (shelf_rows_differ(b, piece ? other : hand, piece ? hand : other)) {
        show_put(grid, 2 + c.label + 2 * (c.value + 1), y, -1, SHOW_WARN, "differs");
    }
}

static void put_sides(bench *b, show_grid *grid, int y, tool_columns c) {
    const char *sides[] = {"inventory", "piece's copy"};
    char words[160];
    for (int i = 0; i < 2; i++) {
        bool hand = b->shelf.piece == (i == 1);
        if (c.both) {
            spot_add(b, 2 + c.label + (i == 1 ? c.value + 1 : 0), y, c.value, SPOT_SIDE, (size_t)i);
        }
        if (!c.both && !hand) {
            continue;
        }
        show_putf(grid, 2 + c.label + (c.both && i == 1 ? c.value + 1 : 0), y, c.value, SHOW_UNDERLINE,
                  c.both && hand ? "[%s]" : " %s", sides[i]);
    }
    if (!c.both && shelf_has(b, !b->shelf.piece)) {
        show_put(grid, 2, y, c.label - 1, SHOW_DIM, key_words(b, "{tool.other-copy}: other", words, sizeof words));
        spot_add(b, 2, y, c.label - 1, SPOT_SIDE, !b->shelf.piece);
    } else if (!c.both && b->desk != NULL && grid->width >= 56 && !b->shelf.head) {
        show_put(grid, 2 + c.label + 20, y, -1, SHOW_DIM,
                 key_words(b,
                           b->shelf.piece ? "{inventory.to-the-inventory} gives it to the inventory"
                                          : "{inventory.to-the-piece} gives the piece a copy",
                           words, sizeof words));
    }
}

/* Taken back or renamed from under the screen: nothing is left to show. */
static void put_gone(bench *b, show_grid *grid) {
    char words[160];
    show_wrap(
        grid, (show_rect){2, 2, grid->width - 2, grid->height - 4}, SHOW_PLAIN,
        key_words(b, "This tool is not there any more: {inventory.back} goes back to the list.", words, sizeof words));
    draw_foot(b, grid);
}

void draw_tool(bench *b, show_grid *grid) {
    bench_card card, other;
    if (!shelf_has(b, b->shelf.piece) && shelf_has(b, !b->shelf.piece)) {
        b->shelf.piece = !b->shelf.piece;
    }
    shelf_card(b, b->shelf.piece, &card);
    shelf_card(b, !b->shelf.piece, &other);
    bool low = grid->height < 10;
    if (!low) {
        put_title(b, grid, b->shelf.head ? "the inventory itself" : b->shelf.id);
    }
    if (card.count == 0) {
        put_gone(b, grid);
        return;
    }
    int y = low ? 0 : 1, bottom = grid->height - foot_lines(grid),
        help = bottom - y >= 10  ? 3
               : bottom - y >= 7 ? 2
                                 : 0;
    tool_columns c = {.label = grid->width >= 44 ? 15 : 11, .both = other.count > 0 && grid->width >= 56};
    int room = grid->width - 2 - c.label - 1;
    c.value = c.both ? (room - 8) / 2 : room;
    if (!low) {
        put_sides(b, grid, y++, c);
    }
    int lines = bottom - y - help;
    bench_list list = {b->shelf.field, b->shelf.field_first, card.count};
    list_show(&list, (size_t)(lines > 0 ? lines : 1));
    b->shelf.field = list.at;
    b->shelf.field_first = list.first;
    for (int i = 0; i < lines && list.first + (size_t)i < card.count; i++) {
        const bench_row *row = &card.rows[list.first + (size_t)i];
        spot_add(b, 0, y + i, grid->width, SPOT_VALUE, list.first + (size_t)i);
        put_values(b, grid, y + i, row, shelf_same_row(&other, row), list.first + (size_t)i == list.at, c);
    }
    if (help > 1) {
        show_wrap(grid, (show_rect){0, bottom - help + 1, grid->width, help - 1}, SHOW_DIM,
                  card.rows[list.at].field->help);
    }
    draw_foot(b, grid);
}
