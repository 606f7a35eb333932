/* Cells in memory. Nothing is ever drawn outside the grid, and no byte that a terminal could act on gets in. */
#include "show/grid.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "shop/characters.h"
#include "shop/shop.h"
#include "show/inner.h"

#define GRID_MOST 1000
#define TEXT_ROOM 8192 /* bytes: far more than the widest grid shows */

static int clamp(int value, int least, int most) {
    return value < least ? least : value > most ? most : value;
}

bool show_grid_init(show_grid *grid, int width, int height, bool unicode) {
    memset(grid, 0, sizeof *grid);
    grid->cursor_x = grid->cursor_y = -1;
    grid->unicode = unicode;
    int wide = clamp(width, 1, GRID_MOST), high = clamp(height, 1, GRID_MOST);
    grid->cells = calloc((size_t)wide * (size_t)high, sizeof *grid->cells);
    if (!grid->cells)
        return false;
    grid->width = wide;
    grid->height = high;
    show_clear(grid);
    return true;
}

void show_grid_free(show_grid *grid) {
    free(grid->cells);
    memset(grid, 0, sizeof *grid);
}

void show_clear(show_grid *grid) {
    size_t count = (size_t)grid->width * (size_t)grid->height;
    for (size_t i = 0; i < count; i++)
        grid->cells[i] = (show_cell){.code = ' '};
    grid->cursor_x = grid->cursor_y = -1;
}

static show_cell *cell_at(const show_grid *grid, int x, int y) {
    if (x < 0 || y < 0 || x >= grid->width || y >= grid->height)
        return NULL;
    return &grid->cells[(size_t)y * (size_t)grid->width + (size_t)x];
}

/* Writes one character of known width; half of a wide one that is overwritten becomes a blank. */
static void set_cell(show_grid *grid, int x, int y, uint32_t code, int cells, unsigned look) {
    for (int i = 0; i < cells; i++) {
        show_cell *cell = cell_at(grid, x + i, y);
        if (!cell)
            continue;
        show_cell *left = cell_at(grid, x + i - 1, y), *right = cell_at(grid, x + i + 1, y);
        if (cell->code == 0 && left && i == 0)
            *left = (show_cell){.code = ' ', .look = left->look};
        if (cell->code != 0 && right && right->code == 0)
            *right = (show_cell){.code = ' ', .look = right->look};
        *cell = (show_cell){.code = i == 0 ? code : 0, .look = (uint16_t)look};
    }
}

int show_put(show_grid *grid, int x, int y, int width, unsigned look, const char *text) {
    char clean[TEXT_ROOM];
    shop_clean(text, strnlen(text, TEXT_ROOM), clean, sizeof clean);
    int room = width < 0 || width > grid->width - x ? grid->width - x : width, used = 0, last = -1;
    for (const char *next = clean; *next;) {
        uint32_t code = show_decode(&next);
        if (code == SHOW_BROKEN)
            continue;
        int cells = show_code_width(code);
        if (cells == 0) {
            show_cell *under = last < 0 ? NULL : cell_at(grid, last, y);
            if (under && under->mark == 0 && grid->unicode)
                under->mark = code;
            continue;
        }
        if (!grid->unicode && code > '~') {
            code = '?';
            cells = 1;
        }
        if (used + cells > room)
            break;
        if (x + used >= 0) {
            set_cell(grid, x + used, y, code, cells, look);
            last = x + used;
        }
        used += cells;
    }
    return used;
}

int show_putf(show_grid *grid, int x, int y, int width, unsigned look, const char *format, ...) {
    char text[1024];
    va_list rest;
    va_start(rest, format);
    vsnprintf(text, sizeof text, format, rest);
    va_end(rest);
    return show_put(grid, x, y, width, look, text);
}

void show_cell_put(show_grid *grid, int x, int y, uint32_t code, unsigned look) {
    bool safe = !shop_character_hides(code) && code <= 0x10FFFF && (code < 0xD800 || code > 0xDFFF) &&
                (code <= '~' || grid->unicode);
    int cells = safe ? show_code_width(code) : 1;
    if (cells == 0 || (cells == 2 && x + 1 >= grid->width))
        safe = false;
    set_cell(grid, x, y, safe ? code : '?', safe ? cells : 1, look);
}

/* Bytes of the next line of text that fit in `width` cells, broken at a blank where there is one; *next is where the
 * following line begins. */
static size_t line_bytes(const char *text, int width, const char **next) {
    const char *at = text, *blank = NULL;
    int used = 0;
    while (*at && *at != '\n') {
        const char *before = at;
        uint32_t code = show_decode(&at);
        used += code == SHOW_BROKEN ? 4 : show_code_width(code);
        if (code == ' ')
            blank = before;
        if (used > width && code != ' ') {
            if (!blank)
                blank = before > text ? before : at;
            *next = blank;
            while (**next == ' ')
                (*next)++;
            return (size_t)(blank - text);
        }
    }
    *next = *at == '\n' ? at + 1 : at;
    return (size_t)(at - text);
}

int show_wrap(show_grid *grid, show_rect where, unsigned look, const char *text) {
    char clean[TEXT_ROOM], line[TEXT_ROOM];
    size_t kept = 0;
    /* Line ends are kept, everything else unsafe is made visible before it is measured. */
    for (const char *from = text; *from && kept + 1 < sizeof clean;) {
        size_t length = strcspn(from, "\n");
        shop_clean(from, length, clean + kept, sizeof clean - kept);
        kept += strlen(clean + kept);
        from += length;
        if (*from == '\n' && kept + 1 < sizeof clean) {
            clean[kept++] = '\n';
            from++;
        }
    }
    clean[kept] = '\0';
    if (where.width < 1)
        return 0;
    int lines = 0;
    for (const char *from = clean; *from; lines++) {
        const char *next;
        size_t length = line_bytes(from, where.width, &next);
        memcpy(line, from, length);
        line[length] = '\0';
        if (lines < where.height)
            show_put(grid, where.x, where.y + lines, where.width, look, line);
        from = next;
    }
    return lines;
}

char *show_grid_text(const show_grid *grid) {
    size_t room = (size_t)grid->height * ((size_t)grid->width * 8 + 1) + 1, used = 0;
    char *text = malloc(room);
    if (!text)
        return NULL;
    for (int y = 0; y < grid->height; y++) {
        size_t keep = used;
        for (int x = 0; x < grid->width; x++) {
            const show_cell *cell = cell_at(grid, x, y);
            if (cell->code == 0)
                continue;
            used += (size_t)show_encode(cell->code, text + used);
            if (cell->mark)
                used += (size_t)show_encode(cell->mark, text + used);
            if (cell->code != ' ' || cell->mark)
                keep = used;
        }
        used = keep;
        text[used++] = '\n';
    }
    text[used] = '\0';
    return text;
}
