/* table.c - the spacing table in a screen of its own: a cursor on its figures, and what the figure under it means. */
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"
#include "shop/alloc.h"

show_view table_view(const bench *b) {
    return (show_view){
        .project = desk_project(b->desk), .plan = desk_plan(b->desk), .band = b->band, .cell_aspect = b->aspect};
}

void do_table(bench *b, int key) {
    (void)key;
    bench_go(b, BENCH_TABLE);
    b->spacing = (show_spacing_place){0};
}

void do_table_move(bench *b, int key) {
    show_view view = table_view(b);
    show_spacing_place *at = &b->spacing;
    size_t rows = show_spacing_rows(&view);
    bench_list list = {.at = at->row, .count = rows};
    if (rows == 0) {
        bench_say(b, "This band has no figures: it is plain leather, or there is none.");
        return;
    }
    if (key == BENCH_KEY_LEFT) {
        at->column -= at->column > 0;
    } else if (key == BENCH_KEY_RIGHT) {
        at->column += at->column + 1 < show_spacing_columns(&view, at->row);
    } else if (list_key(&list, key, at->page)) {
        at->row = list.at;
    }
    size_t columns = show_spacing_columns(&view, at->row);
    if (at->column >= columns) {
        at->column = columns - 1; /* blocks differ in width */
    }
}

void do_table_explain(bench *b, int key) {
    (void)key;
    show_view view = table_view(b);
    show_figure figure;
    char text[sizeof figure.words + 200];
    if (!show_spacing_cell(&view, b->spacing.row, b->spacing.column, &figure)) {
        bench_say(b, "There is no figure here.");
        return;
    }
    snprintf(text, sizeof text, "%s of %.100s:\n\n%s\n", figure.name, desk_project(b->desk)->bands[b->band].name,
             figure.words);
    bench_read(b, "what is this", shop_copy(text, strlen(text)));
}

/* "weave, line 0: shortest step" */
static void put_title(const bench *b, show_grid *grid, const show_view *view) {
    const shop_project *project = desk_project(b->desk);
    show_figure figure, row;
    char title[300], of[80] = "";
    if (!show_spacing_cell(view, b->spacing.row, b->spacing.column, &figure)) {
        snprintf(figure.value, sizeof figure.value, "figures");
        figure.name = figure.value;
    } else if (b->spacing.column > 0 && show_spacing_cell(view, b->spacing.row, 0, &row) &&
               strcmp(row.name, figure.name) != 0) {
        snprintf(of, sizeof of, ", %s %.40s", row.name, row.value);
    }
    snprintf(title, sizeof title, "%.100s%s: %s",
             b->band < project->layout.band_count ? project->bands[b->band].name : "no band", of, figure.name);
    show_put(grid, 0, 0, -1, SHOW_BOLD, title);
}

#define COLUMNS_MOST 64 /* more than any row has */

static void add_spot(void *to, int x, int y, int width, size_t row, size_t column) {
    spot_add(to, x, y, width, SPOT_CELL, row * COLUMNS_MOST + column);
}

unsigned table_click(bench *b, size_t which) {
    size_t row = which / COLUMNS_MOST, column = which % COLUMNS_MOST;
    if (row == b->spacing.row && column == b->spacing.column) {
        return bench_meant(b, BENCH_KEY_ENTER);
    }
    b->spacing.row = row;
    b->spacing.column = column;
    b->message[0] = '\0';
    return BENCH_REDRAW;
}

/* The explanation takes what it needs, but leaves the table two lines. */
void draw_table(bench *b, show_grid *grid) {
    show_view view = table_view(b);
    int bottom = grid->height - foot_lines(grid), room = bottom - 1, blank = room > 6;
    show_figure figure;
    bool any = show_spacing_cell(&view, b->spacing.row, b->spacing.column, &figure);
    int words = any ? show_wrap(grid, (show_rect){0, 0, grid->width, 0}, 0, figure.words) : 0;
    int most = room > 6 ? room - 4 : room > 2 ? room - 2 : 0, lines = words < most ? words : most;
    b->spacing.drawn = add_spot;
    b->spacing.to = b;
    show_spacing(grid, (show_rect){0, 1, grid->width, room - lines - blank}, &view, &b->spacing);
    b->spacing.drawn = NULL;
    put_title(b, grid, &view);
    if (any) {
        show_wrap(grid, (show_rect){0, bottom - lines, grid->width, lines}, SHOW_PLAIN, figure.words);
    }
    if (words > lines && lines > 0 && grid->width > 8) {
        char more[COMMAND_ID_ROOM + 5];
        key_words(b, " ... {table.explain}", more, sizeof more);
        show_put(grid, grid->width - words_width(more), bottom - 1, -1, SHOW_DIM, more);
    }
    draw_foot(b, grid);
}
