/* inventory_rows.c - which tools are listed, and in which order. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inventory.h"
#include "shop/alloc.h"

bool shelf_has_band(const bench *b) {
    bw_kind kind;
    return b->desk != NULL && b->band < desk_project(b->desk)->layout.band_count &&
           bw_fill_kind(desk_project(b->desk)->bands[b->band].fill, &kind);
}

/* ---- the rows ---- */

/* Index of a tool's rank by its index in the piece's tools; malloc'ed, NULL if nothing is ranked. */
static size_t *rank_places(bench *b, const bw_rank **ranks) {
    size_t count, tools = b->desk == NULL ? 0 : desk_project(b->desk)->layout.tool_count;
    *ranks = shelf_has_band(b) ? desk_ranks(b->desk, b->band, &count) : NULL;
    size_t *places = *ranks == NULL ? NULL : shop_alloc((tools + 1) * sizeof *places);
    for (size_t i = 0; places != NULL && i < tools; i++) {
        places[i] = SIZE_MAX;
    }
    for (size_t i = 0; places != NULL && i < count; i++) {
        places[(*ranks)[i].tool] = i;
    }
    return places;
}

static bool in_use(const shop_project *piece, int tool) {
    bool used = piece->dividers == tool;
    for (size_t i = 0; i < piece->layout.band_count && !used; i++) {
        used = piece->bands[i].tool == tool;
    }
    return used;
}

/* The piece's tools: its own copies first, then what it reads from the inventory, in the inventory's order. So the next
 * one is looked for where the last was found. */
static int find_known(const shop_project *piece, const char *id, size_t *hint) {
    size_t count = piece == NULL ? 0 : piece->layout.tool_count;
    for (size_t i = 0; i < count; i++) {
        size_t at = (*hint + i) % count;
        if (strcmp(piece->tools[at].id, id) == 0) {
            *hint = at >= piece->own_tools ? at + 1 : *hint;
            return (int)at;
        }
    }
    return -1;
}

static void add_piece_side(shelf_row *row, const shop_project *piece, int known, const bw_rank *ranks,
                           const size_t *places) {
    if (known < 0) {
        return;
    }
    if ((size_t)known < piece->own_tools) {
        row->own = known;
        row->tool = &piece->tools[known];
        bool named = row->about == NULL || piece->tool_about[known].name.length > 0;
        row->about = named ? &piece->tool_about[known] : row->about;
        row->unit = piece->units;
        const shop_tool *about = &piece->tool_about[known];
        row->differs = row->shop >= 0 && (about->differs || about->named_otherwise);
        row->only_named = row->differs && !about->differs;
        row->only_strips = row->shop >= 0 && about->only_strips;
    }
    row->in_use = in_use(piece, known);
    if (places != NULL && places[known] != SIZE_MAX) {
        row->place = places[known];
        row->rank = &ranks[places[known]];
    }
}

static size_t all_rows(bench *b, shelf_row *rows) {
    const shop_project *stock = desk_project(b->stock), *piece = b->desk == NULL ? NULL : desk_project(b->desk);
    const bw_rank *ranks;
    size_t *places = rank_places(b, &ranks), count = 0, hint = piece == NULL ? 0 : piece->own_tools;
    for (size_t i = 0; i < stock->own_tools; i++) {
        shelf_row *row = &rows[count++];
        *row = (shelf_row){.shop = (int)i,
                           .own = -1,
                           .tool = &stock->tools[i],
                           .about = &stock->tool_about[i],
                           .unit = stock->units,
                           .place = SIZE_MAX,
                           .retired = stock->tools[i].retired};
        add_piece_side(row, piece, find_known(piece, stock->tools[i].id, &hint), ranks, places);
    }
    for (size_t i = 0; piece != NULL && i < piece->own_tools; i++) {
        if (desk_tool_find(b->stock, piece->tools[i].id) < 0) {
            shelf_row *row = &rows[count++];
            *row = (shelf_row){.shop = -1, .own = -1, .place = SIZE_MAX, .retired = piece->tools[i].retired};
            add_piece_side(row, piece, (int)i, ranks, places);
        }
    }
    free(places);
    return count;
}

/* ---- filters ---- */

/* Every word of what was typed is found in the id, the kind or the name. */
static bool is_found(const shelf_row *row, const char *find) {
    char name[200], all[500], words[SHELF_FIND], *rest = words;
    if (find[0] == '\0') {
        return true;
    }
    shop_clean(row->about->name.bytes, row->about->name.length, name, sizeof name);
    snprintf(all, sizeof all, "%.170s %s %s", row->tool->id, show_kind_word(row->tool->kind), name);
    snprintf(words, sizeof words, "%s", find);
    for (char *word = strtok_r(words, " ", &rest); word != NULL; word = strtok_r(NULL, " ", &rest)) {
        if (strcasestr(all, word) == NULL) {
            return false;
        }
    }
    return true;
}

static bool passes(const bench *b, const shelf_row *row) {
    char typed[SHELF_FIND];
    snprintf(typed, sizeof typed, "%.99s", b->typing == TYPING_FIND ? b->entry.text : b->shelf.find);
    bool kind = b->shelf.kind == 0 || b->shelf.kind == 1 + (int)row->tool->kind;
    return kind && (!row->retired || row->own >= 0 || b->shelf.retired) && is_found(row, typed);
}

/* ---- orders ---- */

static double size_of(const bw_tool *tool) {
    double size = tool->kind == BW_IRON       ? tool->pitch
                  : tool->kind == BW_BEVELER  ? tool->width
                  : tool->kind == BW_DIVIDERS ? tool->most
                                              : tool->length;
    return tool->kind > BW_DIVIDERS || !isfinite(size) ? INFINITY : size;
}

static int by_size(const shelf_row *a, const shelf_row *b) {
    double x = size_of(a->tool), y = size_of(b->tool);
    return (x > y) - (x < y);
}

static int by_kind(const shelf_row *a, const shelf_row *b) {
    return (int)a->tool->kind - (int)b->tool->kind;
}

/* Whatever the order, ids tell the rest. */
static int compare(const void *left, const void *right, void *order) {
    const shelf_row *a = left, *b = right;
    int by = 0;
    switch (*(const int *)order) {
    case SHELF_BY_FIT:
        by = (a->place > b->place) - (a->place < b->place);
        by = by != 0 ? by : by_kind(a, b);
        break;
    case SHELF_BY_KIND:
        by = by_kind(a, b);
        by = by != 0 ? by : by_size(a, b);
        break;
    case SHELF_BY_LENGTH:
        by = by_size(a, b);
        break;
    default:
        break;
    }
    return by != 0 ? by : strcmp(a->tool->id, b->tool->id);
}

const char *shelf_order_words(const bench *b) {
    static const char *const words[] = {"best first", "by id", "by kind", "shortest first"};
    return b->shelf.order == SHELF_BY_FIT && !shelf_has_band(b) ? "by kind" : words[b->shelf.order];
}

shelf_row *shelf_read(bench *b, size_t *count, size_t *all) {
    size_t most = desk_project(b->stock)->own_tools + (b->desk == NULL ? 0 : desk_project(b->desk)->own_tools);
    shelf_row *rows = shop_alloc((most + 1) * sizeof *rows);
    *count = *all = 0;
    if (rows == NULL) {
        return NULL;
    }
    *all = all_rows(b, rows);
    for (size_t i = 0; i < *all; i++) {
        if (passes(b, &rows[i])) {
            rows[(*count)++] = rows[i];
        }
    }
    qsort_r(rows, *count, sizeof *rows, compare, &b->shelf.order);
    return rows;
}

/* ---- the one in hand ---- */

void shelf_settle(bench *b) {
    if (b->screen == BENCH_TOOL_ITEMS) {
        shelf_items_settle(b);
        return;
    }
    size_t count, all;
    shelf_row *rows = shelf_read(b, &count, &all);
    b->list.count = count;
    b->list.at = b->list.at < count ? b->list.at : count > 0 ? count - 1 : 0;
    bool found = false;
    for (size_t i = 0; i < count && !found; i++) {
        found = strcmp(rows[i].tool->id, b->shelf.id) == 0;
        b->list.at = found ? i : b->list.at;
    }
    if (!found && count > 0 && b->screen == BENCH_INVENTORY) {
        snprintf(b->shelf.id, sizeof b->shelf.id, "%s", rows[b->list.at].tool->id);
    }
    free(rows);
}

bool shelf_in_hand(bench *b, shelf_row *row) {
    size_t count, all;
    shelf_row *rows = shelf_read(b, &count, &all);
    bool found = false;
    for (size_t i = 0; i < count && !found; i++) {
        found = strcmp(rows[i].tool->id, b->shelf.id) == 0;
        *row = found ? rows[i] : *row;
    }
    free(rows);
    return found;
}
