/* Marks of the YAML reader count characters; everything here counts bytes. */
#include "shop/characters.h"
#include "shop/spans.h"

static bool continues(const shop_cursor *cursor, size_t at) {
    return at < cursor->length && ((unsigned char)cursor->bytes[at] & 0xC0) == 0x80;
}

void shop_cursor_init(shop_cursor *cursor, const char *bytes, size_t length) {
    *cursor = (shop_cursor){.bytes = bytes, .length = length, .line = 1};
}

size_t shop_cursor_byte(shop_cursor *cursor, size_t character) {
    while (cursor->character < character && cursor->at < cursor->length) {
        do
            cursor->at++;
        while (continues(cursor, cursor->at));
        cursor->character++;
    }
    while (cursor->character > character && cursor->at > 0) {
        do
            cursor->at--;
        while (cursor->at > 0 && continues(cursor, cursor->at));
        cursor->character--;
    }
    return cursor->at;
}

void shop_cursor_line(shop_cursor *cursor, size_t byte, size_t *line, size_t *column) {
    if (byte > cursor->length)
        byte = cursor->length;
    if (byte < cursor->line_start) {
        cursor->line_at = cursor->line_start = 0;
        cursor->line = 1;
    }
    if (cursor->line_at < cursor->line_start || cursor->line_at > byte)
        cursor->line_at = cursor->line_start;
    for (; cursor->line_at < byte; cursor->line_at++) {
        char c = cursor->bytes[cursor->line_at];
        bool pair = c == '\r' && cursor->line_at + 1 < cursor->length && cursor->bytes[cursor->line_at + 1] == '\n';
        if (c != '\n' && (c != '\r' || pair))
            continue;
        cursor->line++;
        cursor->line_start = cursor->line_at + 1;
    }
    *line = cursor->line;
    *column = byte - cursor->line_start + 1;
}

size_t shop_skip_space(const char *bytes, size_t length, size_t at) {
    while (at < length) {
        char c = bytes[at];
        if (c == ' ' || c == '\t' || c == '\n' || c == '\r')
            at++;
        else if (c == '#')
            while (at < length && bytes[at] != '\n' && bytes[at] != '\r')
                at++;
        else
            break;
    }
    return at;
}

size_t shop_skip_properties(const char *bytes, size_t length, size_t at, bool anchor, bool tag) {
    while (anchor || tag) {
        size_t from = shop_skip_space(bytes, length, at);
        if (from >= length)
            break;
        if (anchor && bytes[from] == '&')
            anchor = false;
        else if (tag && bytes[from] == '!')
            tag = false;
        else
            break;
        at = from;
        if (at + 1 < length && bytes[at] == '!' && bytes[at + 1] == '<')
            while (at < length && bytes[at] != '>')
                at++; /* a tag written out may hold commas */
        while (at < length && bytes[at] != ' ' && bytes[at] != '\t' && bytes[at] != '\n' && bytes[at] != '\r' &&
               bytes[at] != ',' && bytes[at] != ']' && bytes[at] != '}')
            at++;
    }
    return at;
}

size_t shop_same_mark(const char *value, size_t item, const char *bytes, size_t from, size_t to) {
    size_t marks = 0, last = from;
    for (size_t i = 0; i < item; i++)
        marks += !shop_is_blank(value[i]);
    for (size_t at = from; at < to; at++) {
        if (shop_is_blank(bytes[at]))
            continue;
        if (marks-- == 0)
            return at;
        last = at + 1;
    }
    return last;
}
