/* draw_even.c - lists of changes in words, and that of sizes that close. */
#include "bench/inner.h"

/* Words may take several lines: the list begins where the chosen one can still be seen whole. */
static void scroll(bench *b, show_grid *grid, show_rect where, size_t count, draw_row_words *words) {
    if (b->list.at < b->list.first) {
        b->list.first = b->list.at;
    }
    for (; b->list.first < b->list.at; b->list.first++) {
        int lines = 0;
        for (size_t i = b->list.first; i <= b->list.at && i < count; i++) {
            lines += show_wrap(grid, (show_rect){where.x + 2, 0, where.width - 2, 0}, 0, words(b, i));
        }
        if (lines <= where.height) {
            return;
        }
    }
}

int draw_worded(bench *b, show_grid *grid, show_rect where, size_t count, draw_row_words *words) {
    int y = where.y, bottom = where.y + where.height;
    scroll(b, grid, where, count, words);
    for (size_t i = b->list.first; i < count && y < bottom; i++) {
        bool chosen = i == b->list.at;
        show_put(grid, where.x, y, 1, SHOW_BOLD, chosen ? ">" : " ");
        if (chosen) {
            grid->cursor_x = where.x + 2;
            grid->cursor_y = y;
        }
        int lines = show_wrap(grid, (show_rect){where.x + 2, y, where.width - 2, bottom - y},
                              chosen ? SHOW_REVERSE | SHOW_BOLD : SHOW_PLAIN, words(b, i));
        for (int line = 0; line < lines && y + line < bottom; line++) {
            spot_add(b, where.x, y + line, where.width, SPOT_ROW, i);
        }
        y += lines;
    }
    return y - where.y;
}

void draw_even(bench *b, show_grid *grid, show_rect where) {
    bw_even_found found = desk_even_found(b->desk);
    bool busy = even_busy(b);
    char title[100];
    show_words words;
    if (busy) {
        snprintf(title, sizeof title, "looking: %zu change%s, %.0f %% ...", found.looking,
                 found.looking == 1 ? "" : "s", 100 * found.share);
    } else {
        snprintf(title, sizeof title, "%s", found.count > 0 ? "sizes that close, least first" : "no sizes that close");
    }
    show_put(grid, where.x, where.y, where.width, SHOW_UNDERLINE, title);
    grid->cursor_x = where.x;
    grid->cursor_y = where.y;
    snprintf(title, sizeof title, "steps within %g %%, fit %s", 100 * even_limit(b), b->even_tight ? "tight" : "good");
    if (where.height > 2) {
        show_put(grid, where.x, where.y + 1, where.width, SHOW_DIM, title);
    }
    show_rect list = rect_below(where, where.height > 2 ? 2 : 1);
    int used = draw_worded(b, grid, list, b->even_row_count, even_row);
    if (!busy && list.height - used > 1) {
        show_wrap(grid, rect_below(list, used + (used > 0)), SHOW_DIM, show_even_end(&words, &found, false));
    }
}
