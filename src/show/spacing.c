/* The whole spacing table: its cells, and as much of it as a window holds. */
#include "show/spacing.h"

#include <math.h>
#include <string.h>

#include "show/legs.h"

/* ---- which cells there are ---- */

static bool is_counted(const show_view *view, const bw_band_plan **band) {
    *band = show_view_band(view);
    return *band && (*band)->fill != BW_FILL_PLAIN;
}

static bool is_angled(const show_view *view) {
    return view->project->bands[view->band].lay == BW_LAY_ANGLED;
}

size_t spacing_block_rows(const show_view *view, spacing_block block) {
    const bw_band_plan *band;
    show_figure list[SHOW_FIGURE_COUNT_OF_KINDS];
    if (!is_counted(view, &band))
        return 0;
    switch (block) {
    case SPACING_LINES:
        return band->line_count;
    case SPACING_ROWS:
        return band->row_count;
    case SPACING_RUNS:
        return band->run_count;
    default:
        return show_figures(view->project, view->plan, view->band, list, SHOW_FIGURE_COUNT_OF_KINDS);
    }
}

/* Some kinds are of one fill or one lay only. */
static bool has_kind(const show_view *view, const bw_band_plan *band, spacing_kind kind) {
    bool basket = band->fill == BW_FILL_BASKET;
    switch (kind) {
    case LINE_LEAST_SHARE:
    case LINE_MOST_SHARE:
    case LINE_LEAST_LEG:
    case LINE_MOST_LEG:
        return basket;
    case LINE_MISS:
    case ROW_SHIFT:
        return basket && is_angled(view);
    default:
        return true;
    }
}

size_t spacing_block_columns(const show_view *view, spacing_block block, spacing_kind kinds[SPACING_KINDS]) {
    static const spacing_kind first[SPACING_BLOCKS + 1] = {LINE_NUMBER, ROW_NUMBER, RUN_NUMBER, FIGURE_NAME,
                                                           SPACING_KINDS};
    const bw_band_plan *band;
    size_t count = 0;
    if (!is_counted(view, &band))
        return 0;
    for (int kind = (int)first[block]; kind < (int)first[block + 1]; kind++)
        if (has_kind(view, band, (spacing_kind)kind))
            kinds[count++] = (spacing_kind)kind;
    return count;
}

bool spacing_find(const show_view *view, size_t row, size_t column, spacing_cell *cell) {
    for (int block = 0; block < SPACING_BLOCKS; block++) {
        spacing_kind kinds[SPACING_KINDS];
        size_t rows = spacing_block_rows(view, (spacing_block)block);
        if (row >= rows) {
            row -= rows;
            continue;
        }
        if (column >= spacing_block_columns(view, (spacing_block)block, kinds))
            return false;
        *cell = (spacing_cell){(spacing_block)block, kinds[column], row};
        return true;
    }
    return false;
}

size_t show_spacing_rows(const show_view *view) {
    size_t rows = 0;
    for (int block = 0; block < SPACING_BLOCKS; block++)
        rows += spacing_block_rows(view, (spacing_block)block);
    return rows;
}

size_t show_spacing_columns(const show_view *view, size_t row) {
    spacing_cell cell;
    spacing_kind kinds[SPACING_KINDS];
    return spacing_find(view, row, 0, &cell) ? spacing_block_columns(view, cell.block, kinds) : 0;
}

/* ---- what stands in them ---- */

const char *spacing_header(spacing_kind kind) {
    static const char *const headers[SPACING_KINDS] = {
        [LINE_NUMBER] = "line",
        [LINE_FROM_EDGE] = "from edge",
        [LINE_SHORTEST] = "shortest step",
        [LINE_LONGEST] = "longest step",
        [LINE_LEAST_SHARE] = "overlap from",
        [LINE_MOST_SHARE] = "overlap to",
        [LINE_LEAST_LEG] = "legs from",
        [LINE_MOST_LEG] = "legs to",
        [LINE_TURN] = "turned a step",
        [LINE_MISS] = "rails miss",
        [LINE_TIGHTEST] = "tightest at",
        [LINE_WIDEST] = "widest at",
        [ROW_NUMBER] = "row",
        [ROW_FROM_EDGE] = "from edge",
        [ROW_PRINTS] = "prints",
        [ROW_STRUCK] = "struck",
        [ROW_IMPRESSIONS] = "how many",
        [ROW_SHIFT] = "begins later",
        [RUN_NUMBER] = "run",
        [RUN_FROM] = "guide from",
        [RUN_TO] = "guide to",
        [RUN_LENGTH] = "length",
        [RUN_COUNT] = "count",
        [RUN_USUAL] = "usual step",
        [RUN_GAP] = "gap",
        [RUN_STEP] = "even step",
        [RUN_CHANGE] = "each step",
        [RUN_FITS] = "counts that fit",
        [FIGURE_NAME] = "figure",
        [FIGURE_VALUE] = "value",
    };
    return headers[kind];
}

static void write(show_figure_text *out, const char *text) {
    snprintf(out->text, sizeof out->text, "%.47s", text);
}

static show_figure_text share(double x) {
    show_figure_text out;
    double percent = round(x * 100);
    snprintf(out.text, sizeof out.text, "%.0f %%", percent == 0 ? 0 : percent);
    return out;
}

static show_figure_text line_text(const show_view *view, const bw_band_plan *band, const spacing_cell *cell) {
    const shop_project *p = view->project;
    const bw_weave_line *line = &band->lines[cell->index];
    show_figure_text out = {""};
    switch (cell->kind) {
    case LINE_FROM_EDGE:
        return show_length(p, line->from_edge);
    case LINE_SHORTEST:
        return show_length(p, line->step_least);
    case LINE_LONGEST:
        return show_length(p, line->step_most);
    case LINE_LEAST_SHARE:
        return share(show_legs_share(band, line->step_most));
    case LINE_MOST_SHARE:
        return share(show_legs_share(band, line->step_least));
    case LINE_LEAST_LEG:
        return show_signed(p, show_legs(band, line->step_most));
    case LINE_MOST_LEG:
        return show_signed(p, show_legs(band, line->step_least));
    case LINE_TURN:
        snprintf(out.text, sizeof out.text, "%.1f deg", line->turn_most * 180 / BW_PI);
        return out;
    case LINE_MISS:
        return show_difference(p, line->miss);
    case LINE_TIGHTEST:
    case LINE_WIDEST:
        if (line->step_most - line->step_least < 2 * SHOW_NOTHING) {
            write(&out, "all along");
            return out;
        }
        return show_edge_length(p, cell->kind == LINE_TIGHTEST ? line->tightest.edge_along : line->widest.edge_along);
    default:
        snprintf(out.text, sizeof out.text, "%d", line->line);
        return out;
    }
}

static show_figure_text row_text(const show_view *view, const bw_band_plan *band, const spacing_cell *cell) {
    const bw_row_plan *row = &band->rows[cell->index];
    show_figure_text out = {""};
    switch (cell->kind) {
    case ROW_FROM_EDGE:
        return show_length(view->project, row->from_edge);
    case ROW_PRINTS:
        return share(row->cover);
    case ROW_STRUCK:
        write(&out, row->leaned ? "leaned" : "whole");
        return out;
    case ROW_IMPRESSIONS:
        snprintf(out.text, sizeof out.text, "%d", row->impressions);
        return out;
    case ROW_SHIFT:
        return share(row->shift);
    default:
        snprintf(out.text, sizeof out.text, "%d", row->row);
        return out;
    }
}

static show_figure_text run_text(const show_view *view, const bw_band_plan *band, const spacing_cell *cell) {
    const shop_project *p = view->project;
    const bw_run_plan *run = &band->runs[cell->index];
    show_figure_text out = {""};
    switch (cell->kind) {
    case RUN_FROM:
        return show_length(p, run->from);
    case RUN_TO:
        return show_length(p, run->to);
    case RUN_LENGTH:
        return show_length(p, run->to - run->from);
    case RUN_COUNT:
        snprintf(out.text, sizeof out.text, "%d", run->count);
        return out;
    case RUN_USUAL:
        return show_length(p, run->usual_step);
    case RUN_GAP:
        if (run->count > 0)
            return show_signed(p, run->closure_gap);
        break;
    case RUN_STEP:
        if (run->count > 0)
            return show_length(p, run->step);
        break;
    case RUN_CHANGE:
        if (run->count > 0)
            return show_signed(p, run->step_change);
        break;
    case RUN_FITS:
        if (run->feasible_most > 0)
            snprintf(out.text, sizeof out.text, "%d to %d", run->feasible_least, run->feasible_most);
        else
            write(&out, "none");
        return out;
    default:
        snprintf(out.text, sizeof out.text, "%zu", cell->index + 1);
        return out;
    }
    write(&out, "none");
    return out;
}

show_figure_text spacing_text(const show_view *view, const spacing_cell *cell) {
    const bw_band_plan *band = show_view_band(view);
    show_figure list[SHOW_FIGURE_COUNT_OF_KINDS];
    show_figure_text out = {""};
    switch (cell->block) {
    case SPACING_LINES:
        return line_text(view, band, cell);
    case SPACING_ROWS:
        return row_text(view, band, cell);
    case SPACING_RUNS:
        return run_text(view, band, cell);
    default:
        show_figures(view->project, view->plan, view->band, list, SHOW_FIGURE_COUNT_OF_KINDS);
        write(&out, cell->kind == FIGURE_NAME ? list[cell->index].name : list[cell->index].value);
        return out;
    }
}

bool show_spacing_cell(const show_view *view, size_t row, size_t column, show_figure *out) {
    spacing_cell cell;
    memset(out, 0, sizeof *out);
    if (!spacing_find(view, row, column, &cell))
        return false;
    show_words words;
    show_figure_text text = spacing_text(view, &cell);
    spacing_words(view, &cell, &words);
    show_figure list[SHOW_FIGURE_COUNT_OF_KINDS];
    if (cell.block == SPACING_FIGURES)
        show_figures(view->project, view->plan, view->band, list, SHOW_FIGURE_COUNT_OF_KINDS);
    out->name = cell.block == SPACING_FIGURES ? list[cell.index].name : spacing_header(cell.kind);
    snprintf(out->value, sizeof out->value, "%s", text.text);
    snprintf(out->words, sizeof out->words, "%.*s", (int)sizeof out->words - 1, words.text);
    return true;
}

/* ---- drawing ---- */

#define GAP 2 /* cells between columns: the second holds the mark of the cursor */

typedef struct spread_sheet {
    show_grid *grid;
    show_rect where;
    const show_view *view;
    show_spacing_place *place;
    spacing_block block; /* of the cursor */
    size_t row;          /* being drawn */
} spread_sheet;

static int width_of(const show_view *view, spacing_block block, spacing_kind kind) {
    int width = show_text_width(spacing_header(kind));
    size_t rows = spacing_block_rows(view, block);
    for (size_t i = 0; i < rows; i++) {
        const spacing_cell cell = {block, kind, i};
        int wide = show_text_width(spacing_text(view, &cell).text);
        width = wide > width ? wide : width;
    }
    return width;
}

typedef struct columns_of {
    spacing_kind kinds[SPACING_KINDS];
    int width[SPACING_KINDS];
    size_t count, first, last; /* shown beside the first one: first .. last - 1 */
} columns_of;

static size_t last_shown(const columns_of *c, size_t first, int room) {
    int used = c->width[0] + 1;
    size_t at = first;
    while (at < c->count && used + GAP + c->width[at] <= room)
        used += GAP + c->width[at++];
    return at == first && first < c->count ? first + 1 : at; /* one is shown, and be it cut */
}

/* The columns of a block, from the first one that lets the cursor's be seen. */
static void choose_columns(const spread_sheet *s, spacing_block block, columns_of *c) {
    c->count = spacing_block_columns(s->view, block, c->kinds);
    for (size_t i = 0; i < c->count; i++)
        c->width[i] = width_of(s->view, block, c->kinds[i]);
    c->first = s->place->first_column < 1 ? 1 : s->place->first_column;
    if (block != s->block) {
        c->first = c->first < c->count ? c->first : 1;
        c->last = last_shown(c, c->first, s->where.width);
        return;
    }
    size_t wanted = s->place->column;
    if (wanted > 0 && wanted < c->first)
        c->first = wanted;
    c->last = last_shown(c, c->first, s->where.width);
    while (wanted >= c->last && c->first < wanted)
        c->last = last_shown(c, ++c->first, s->where.width);
    s->place->first_column = c->first;
}

static void put_cell(const spread_sheet *s, int x, int y, int width, unsigned look, bool chosen, const char *text) {
    int right = s->where.x + s->where.width;
    if (x >= right)
        return;
    if (chosen) {
        show_put(s->grid, x - 1, y, 1, SHOW_BOLD, ">");
        s->grid->cursor_x = x;
        s->grid->cursor_y = y;
    }
    show_put(s->grid, x, y, width < right - x ? width : right - x, chosen ? SHOW_BOLD | SHOW_REVERSE : look, text);
}

/* A line of cells or of headers; where columns are hidden, its ends say so. */
static void put_line(const spread_sheet *s, int y, spacing_block block, const columns_of *c, size_t index, int chosen) {
    bool header = index == SIZE_MAX;
    unsigned look = header ? SHOW_UNDERLINE : SHOW_PLAIN;
    int x = s->where.x + 1;
    for (size_t k = 0; k < c->count; k += k == 0 ? c->first : 1) {
        if (k >= c->last && k > 0)
            break;
        const spacing_cell cell = {block, c->kinds[k], index};
        show_figure_text text = {""};
        if (header)
            write(&text, spacing_header(c->kinds[k]));
        else
            text = spacing_text(s->view, &cell);
        put_cell(s, x, y, c->width[k], look, chosen == (int)k, text.text);
        if (!header && s->place->drawn)
            s->place->drawn(s->place->to, x, y, c->width[k], s->row, k);
        x += c->width[k] + GAP;
    }
    if (header && c->first > 1)
        show_put(s->grid, s->where.x, y, 1, SHOW_BOLD, "<");
    if (header && c->last < c->count && c->last > 0)
        show_put(s->grid, x - 1 < s->where.x + s->where.width ? x - 1 : s->where.x + s->where.width - 1, y, 1,
                 SHOW_BOLD, ">");
}

/* Rows from `first` on, with a header before the first of each block; returns the row after the last one shown. */
static size_t put_rows(spread_sheet *s, size_t first, bool draw) {
    int y = 0;
    size_t row = first, all = show_spacing_rows(s->view);
    spacing_block block = SPACING_BLOCKS;
    columns_of c = {.count = 0};
    for (; row < all && y < s->where.height; row++) {
        spacing_cell cell;
        spacing_find(s->view, row, 0, &cell);
        if (cell.block != block) {
            if (y > 0 && y + 2 < s->where.height)
                y++;
            if (y + 1 >= s->where.height && y > 0)
                break;
            block = cell.block;
            if (draw) {
                choose_columns(s, block, &c);
                put_line(s, s->where.y + y, block, &c, SIZE_MAX, -1);
            }
            y += s->where.height > 1;
        }
        s->row = row;
        if (draw)
            put_line(s, s->where.y + y, block, &c, cell.index, row == s->place->row ? (int)s->place->column : -1);
        y++;
    }
    return row;
}

void show_spacing(show_grid *grid, show_rect where, const show_view *view, show_spacing_place *place) {
    spread_sheet s = {grid, show_inside(grid, where), view, place, SPACING_BLOCKS, 0};
    size_t all = show_spacing_rows(view);
    place->page = 1;
    if (s.where.width < 1 || s.where.height < 1)
        return;
    if (all == 0) {
        show_wrap(grid, s.where, SHOW_DIM, show_view_band(view) ? "plain leather: no steps here" : "no band yet");
        return;
    }
    if (place->row >= all)
        place->row = all - 1;
    size_t columns = show_spacing_columns(view, place->row);
    if (place->column >= columns)
        place->column = columns - 1;
    spacing_cell cell;
    spacing_find(view, place->row, place->column, &cell);
    s.block = cell.block;
    if (place->first_row > place->row)
        place->first_row = place->row;
    if (place->first_row + (size_t)s.where.height < place->row) /* no window holds more rows than lines */
        place->first_row = place->row - (size_t)s.where.height;
    while (place->first_row < place->row && put_rows(&s, place->first_row, false) <= place->row)
        place->first_row++;
    place->page = put_rows(&s, place->first_row, true) - place->first_row;
}
