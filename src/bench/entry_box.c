/* entry_box.c - a text of several lines that is being typed: broken at the box's edge, scrolled to the cursor. */
#include <string.h>

#include "bench/inner.h"

/* One line of the box: bytes from .. end of it, the next begins at `next`. */
typedef struct box_line {
    size_t from, end, next;
} box_line;

static int cells_of(const bench_entry *entry, size_t *at) {
    int code = entry_character(entry->text, entry->length, at);
    *at += code == BENCH_KEY_NONE; /* broken bytes go on one by one */
    return code == BENCH_KEY_NONE ? 1 : show_code_width((uint32_t)code);
}

/* A cell is left for the cursor behind the last character. */
static box_line line_from(const bench_entry *entry, size_t from) {
    int used = 0;
    size_t at = from;
    while (at < entry->length) {
        size_t before = at;
        if (entry->text[at] == '\n') {
            return (box_line){from, at, at + 1};
        }
        used += cells_of(entry, &at);
        if (used > entry->across - 1 && before > from) {
            return (box_line){from, before, before};
        }
    }
    return (box_line){from, entry->length, entry->length};
}

static bool is_last(const bench_entry *entry, const box_line *line) {
    return line->next >= entry->length && (line->end == line->next || line->end == entry->length);
}

static bool holds(const bench_entry *entry, const box_line *line, size_t at) {
    return at >= line->from && (at < line->next || is_last(entry, line));
}

static int cells_between(const bench_entry *entry, size_t from, size_t to) {
    int cells = 0;
    while (from < to) {
        cells += cells_of(entry, &from);
    }
    return cells;
}

/* The line in which a byte stands; *number if wanted. */
static box_line line_of(const bench_entry *entry, size_t at, int *number) {
    box_line line = line_from(entry, 0);
    int count = 0;
    for (; !holds(entry, &line, at); count++) {
        line = line_from(entry, line.next);
    }
    if (number != NULL) {
        *number = count;
    }
    return line;
}

bool entry_box_key(bench_entry *entry, int key) {
    if (entry->across <= 0 || (key != BENCH_KEY_UP && key != BENCH_KEY_DOWN)) {
        return false;
    }
    box_line now = line_of(entry, entry->at, NULL), to;
    int x = cells_between(entry, now.from, entry->at);
    entry->whole = false;
    if (key == BENCH_KEY_UP ? now.from == 0 : is_last(entry, &now)) {
        entry->at = key == BENCH_KEY_UP ? 0 : entry->length;
        return true;
    }
    to = key == BENCH_KEY_UP ? line_of(entry, now.from - 1, NULL) : line_from(entry, now.next);
    entry->at = to.from;
    while (entry->at < to.end && cells_between(entry, to.from, entry->at) < x) {
        (void)cells_of(entry, &entry->at);
    }
    if (entry->at == to.end && to.end == to.next && !is_last(entry, &to)) { /* that place is the next line's first */
        entry->at = now.from > to.from || to.end == to.from ? entry->at - (to.end > to.from) : entry->at - 1;
        while (entry->at > to.from && ((unsigned char)entry->text[entry->at] & 0xC0) == 0x80) {
            entry->at--;
        }
    }
    return true;
}

int entry_box_lines(bench_entry *entry, int across) {
    int last = 0;
    entry->across = across;
    line_of(entry, entry->length, &last);
    return last + 1;
}

void entry_box_draw(bench_entry *entry, show_grid *grid, show_rect where) {
    if (where.width < 4 || where.height < 1) {
        return;
    }
    int width = where.width - 1, all = entry_box_lines(entry, width), row = 0;
    box_line line = line_of(entry, entry->at, &row);
    int first = row >= where.height ? row - where.height + 1 : 0;
    grid->cursor_x = where.x + cells_between(entry, line.from, entry->at);
    grid->cursor_y = where.y + row - first;
    line = line_from(entry, 0);
    for (int y = 0; y < first + where.height; y++) {
        if (y >= first) {
            char text[ENTRY_MOST + 1];
            size_t length = y < all ? line.end - line.from : 0;
            memcpy(text, entry->text + line.from, length);
            text[length] = '\0';
            for (int x = 0; x < width; x++) {
                show_cell_put(grid, where.x + x, where.y + y - first, ' ', SHOW_UNDERLINE);
            }
            show_put(grid, where.x, where.y + y - first, width, entry->whole ? SHOW_REVERSE : SHOW_UNDERLINE, text);
        }
        line = line_from(entry, line.next);
    }
    if (first > 0) {
        show_put(grid, where.x + width, where.y, 1, SHOW_DIM, "^");
    }
    if (first + where.height < all) {
        show_put(grid, where.x + width, where.y + where.height - 1, 1, SHOW_DIM, "v");
    }
}
