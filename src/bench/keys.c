/* keys.c - keys and their names, as scripts, the help and the bottom line spell them. */
#include <string.h>

#include "bench/inner.h"

static const struct {
    int key;
    const char *name;
} named[] = {
    {BENCH_KEY_ENTER, "Enter"},
    {BENCH_KEY_ESC, "Esc"},
    {BENCH_KEY_TAB, "Tab"},
    {BENCH_KEY_BACKTAB, "Shift-Tab"},
    {BENCH_KEY_BACKSPACE, "Backspace"},
    {BENCH_KEY_DELETE, "Delete"},
    {BENCH_KEY_UP, "Up"},
    {BENCH_KEY_DOWN, "Down"},
    {BENCH_KEY_LEFT, "Left"},
    {BENCH_KEY_RIGHT, "Right"},
    {BENCH_KEY_PAGE_UP, "PageUp"},
    {BENCH_KEY_PAGE_DOWN, "PageDown"},
    {BENCH_KEY_HOME, "Home"},
    {BENCH_KEY_END, "End"},
    {BENCH_KEY_REPAINT, "Ctrl-L"},
    {BENCH_KEY_F1, "F1"},
    {BENCH_KEY_F1 + 1, "F2"},
    {BENCH_KEY_F1 + 2, "F3"},
    {BENCH_KEY_F1 + 3, "F4"},
    {BENCH_KEY_F1 + 4, "F5"},
    {BENCH_KEY_F1 + 5, "F6"},
    {BENCH_KEY_F1 + 6, "F7"},
    {BENCH_KEY_F1 + 7, "F8"},
    {BENCH_KEY_F1 + 8, "F9"},
    {BENCH_KEY_F1 + 9, "F10"},
    {BENCH_KEY_F1 + 10, "F11"},
    {BENCH_KEY_F12, "F12"},
    {BENCH_KEY_PASTE_BEGIN, "Paste"},
    {BENCH_KEY_PASTE_END, "Pasted"},
    {BENCH_KEY_UNKNOWN, "Unknown"},
    {BENCH_KEY_DIGIT, "0-9"},
    {' ', "Space"},
};

/* The character as UTF-8; 0 if it is none. */
static int utf8(int code, char out[5]) {
    int length = 0;
    if (code < 0x80) {
        out[length++] = (char)code;
    } else if (code < 0x800) {
        out[length++] = (char)(0xC0 | code >> 6);
    } else if (code < 0x10000) {
        out[length++] = (char)(0xE0 | code >> 12);
        out[length++] = (char)(0x80 | (code >> 6 & 0x3F));
    } else {
        out[length++] = (char)(0xF0 | code >> 18);
        out[length++] = (char)(0x80 | (code >> 12 & 0x3F));
        out[length++] = (char)(0x80 | (code >> 6 & 0x3F));
    }
    if (code >= 0x80) {
        out[length++] = (char)(0x80 | (code & 0x3F));
    }
    out[length] = '\0';
    return length;
}

static bool is_character(int key) {
    return key >= ' ' && key != 0x7F && !(key >= 0x80 && key < 0xA0) && !(key >= 0xD800 && key < 0xE000) &&
           key < 0x110000;
}

const char *key_name(int key, char out[16]) {
    for (size_t i = 0; i < sizeof named / sizeof named[0]; i++) {
        if (named[i].key == key) {
            return named[i].name;
        }
    }
    if (is_character(key)) {
        utf8(key, out);
    } else {
        snprintf(out, 16, "#%X", (unsigned)key);
    }
    return out;
}

int key_of_name(const char *name, size_t length) {
    for (size_t i = 0; i < sizeof named / sizeof named[0]; i++) {
        if (named[i].key != BENCH_KEY_DIGIT && strlen(named[i].name) == length &&
            memcmp(named[i].name, name, length) == 0) {
            return named[i].key;
        }
    }
    size_t at = 0;
    int code = entry_character(name, length, &at);
    return at == length && is_character(code) ? code : BENCH_KEY_NONE;
}

/* Broken into lines that begin as comments do. */
void bench_key_names(FILE *to) {
    int used = 20;
    for (size_t i = 0; i < sizeof named / sizeof named[0]; i++) {
        int key = named[i].key;
        if (key == BENCH_KEY_UNKNOWN || key == BENCH_KEY_DIGIT || key == BENCH_KEY_PASTE_BEGIN ||
            key == BENCH_KEY_PASTE_END) {
            continue;
        }
        used += (int)strlen(named[i].name) + 1;
        fprintf(to, "%s%s", used > 105 ? "\n# " : " ", named[i].name);
        used = used > 105 ? (int)strlen(named[i].name) + 2 : used;
    }
}

/* ---- a line that is being typed ---- */

int entry_character(const char *text, size_t length, size_t *at) {
    const unsigned char *c = (const unsigned char *)text + *at;
    size_t left = length - *at, size = left == 0     ? 0
                                       : c[0] < 0x80 ? 1
                                       : c[0] < 0xC2 ? 0
                                       : c[0] < 0xE0 ? 2
                                       : c[0] < 0xF0 ? 3
                                       : c[0] < 0xF5 ? 4
                                                     : 0;
    if (size == 0 || size > left) {
        return BENCH_KEY_NONE;
    }
    int code = size == 1 ? c[0] : c[0] & (0xFF >> (size + 1));
    for (size_t i = 1; i < size; i++) {
        if ((c[i] & 0xC0) != 0x80) {
            return BENCH_KEY_NONE;
        }
        code = code << 6 | (c[i] & 0x3F);
    }
    *at += size;
    return code;
}

void entry_start(bench_entry *entry, const char *text) {
    size_t length = strlen(text);
    entry->length = length > ENTRY_MOST ? 0 : length; /* what cannot be held whole is typed anew */
    memcpy(entry->text, text, entry->length);
    entry->text[entry->length] = '\0';
    entry->at = entry->length;
    entry->whole = entry->length > 0;
}

static size_t before(const bench_entry *entry, size_t at) {
    do {
        at -= at > 0;
    } while (at > 0 && ((unsigned char)entry->text[at] & 0xC0) == 0x80);
    return at;
}

static size_t after(const bench_entry *entry, size_t at) {
    do {
        at += at < entry->length;
    } while (at < entry->length && ((unsigned char)entry->text[at] & 0xC0) == 0x80);
    return at;
}

static void cut(bench_entry *entry, size_t from, size_t to) {
    memmove(entry->text + from, entry->text + to, entry->length - to + 1);
    entry->length -= to - from;
    entry->at = from;
}

static bool insert(bench_entry *entry, int key) {
    char bytes[5];
    if (!is_character(key)) {
        return false;
    }
    if (entry->whole) {
        cut(entry, 0, entry->length);
    }
    size_t size = (size_t)utf8(key, bytes);
    if (entry->length + size > ENTRY_MOST) {
        return true;
    }
    memmove(entry->text + entry->at + size, entry->text + entry->at, entry->length - entry->at + 1);
    memcpy(entry->text + entry->at, bytes, size);
    entry->length += size;
    entry->at += size;
    return true;
}

static bool edit(bench_entry *entry, int key) {
    switch (key) {
    case BENCH_KEY_LEFT:
        entry->at = before(entry, entry->at);
        return true;
    case BENCH_KEY_RIGHT:
        entry->at = after(entry, entry->at);
        return true;
    case BENCH_KEY_HOME:
        entry->at = 0;
        return true;
    case BENCH_KEY_END:
        entry->at = entry->length;
        return true;
    case BENCH_KEY_BACKSPACE:
        cut(entry, before(entry, entry->at), entry->at);
        return true;
    case BENCH_KEY_DELETE: {
        size_t at = entry->at;
        cut(entry, at, after(entry, at));
        return true;
    }
    default:
        return insert(entry, key);
    }
}

bool entry_key(bench_entry *entry, int key) {
    bool fine = edit(entry, key);
    entry->whole = entry->whole && !fine; /* whatever was done, it is being mended now */
    return fine;
}

void entry_draw(const bench_entry *entry, show_grid *grid, int x, int y, int width) {
    if (width < 2) {
        return;
    }
    /* The part shown begins where the cursor still fits. Text before it is at most as wide as it has bytes. */
    size_t first = 0;
    while (entry->at - first > (size_t)(width - 1)) {
        first = after(entry, first);
    }
    char ahead[ENTRY_MOST + 1];
    size_t length = entry->at - first;
    memcpy(ahead, entry->text + first, length);
    ahead[length] = '\0';
    for (int i = 0; i < width; i++) {
        show_cell_put(grid, x + i, y, ' ', SHOW_UNDERLINE);
    }
    int used = show_put(grid, x, y, width - 1, entry->whole ? SHOW_REVERSE : SHOW_UNDERLINE, ahead);
    show_put(grid, x + used, y, width - used, SHOW_UNDERLINE, entry->text + entry->at);
    grid->cursor_x = x + used;
    grid->cursor_y = y;
}

/* ---- lists ---- */

bool list_back(int key) {
    return key == BENCH_KEY_UP || key == BENCH_KEY_HOME || key == BENCH_KEY_PAGE_UP;
}

size_t list_page(const bench *b) {
    return (size_t)(b->height > 12 ? b->height - 10 : 3);
}

bool list_key(bench_list *list, int key, size_t page) {
    size_t last = list->count > 0 ? list->count - 1 : 0;
    page = page > 0 ? page : 1;
    switch (key) {
    case BENCH_KEY_UP:
        list->at -= list->at > 0;
        return true;
    case BENCH_KEY_DOWN:
        list->at += list->at < last;
        return true;
    case BENCH_KEY_PAGE_UP:
        list->at -= list->at < page ? list->at : page;
        return true;
    case BENCH_KEY_PAGE_DOWN:
        list->at = last - list->at < page ? last : list->at + page;
        return true;
    case BENCH_KEY_HOME:
        list->at = 0;
        return true;
    case BENCH_KEY_END:
        list->at = last;
        return true;
    default:
        return false;
    }
}

void list_show(bench_list *list, size_t lines) {
    lines = lines > 0 ? lines : 1;
    if (list->at >= list->count) {
        list->at = list->count > 0 ? list->count - 1 : 0;
    }
    if (list->at < list->first) {
        list->first = list->at;
    }
    if (list->at >= list->first + lines) {
        list->first = list->at - lines + 1;
    }
    if (list->first + lines > list->count) {
        list->first = list->count > lines ? list->count - lines : 0;
    }
}
