/* shop/spans.h - from the YAML reader's marks (characters) to bytes, lines and columns. */
#ifndef SHOP_SPANS_H
#define SHOP_SPANS_H

#include <stdbool.h>
#include <stddef.h>

/* A place that moves along the bytes; marks come nearly in order, so that each move is short. */
typedef struct shop_cursor {
    const char *bytes;
    size_t length;
    size_t at, character; /* byte and character of the place */
    size_t line_at;       /* a byte, and ... */
    size_t line;          /* ... its line from 1, and ... */
    size_t line_start;    /* ... the byte where that line starts */
} shop_cursor;

void shop_cursor_init(shop_cursor *cursor, const char *bytes, size_t length);
size_t shop_cursor_byte(shop_cursor *cursor, size_t character);
/* Line and column (bytes) of a byte, both from 1. LF, CR LF and CR end a line. */
void shop_cursor_line(shop_cursor *cursor, size_t byte, size_t *line, size_t *column);
/* Behind an anchor, a tag, and the blanks, breaks and comments that follow them. */
size_t shop_skip_properties(const char *bytes, size_t length, size_t at, bool anchor, bool tag);
/* Behind blanks, line breaks and comments. */
size_t shop_skip_space(const char *bytes, size_t length, size_t at);

/* Where the mark at value[item] stands in from..to of bytes, which say the same but for blanks and line breaks: behind
 * the last mark if the value ends there. */
size_t shop_same_mark(const char *value, size_t item, const char *bytes, size_t from, size_t to);

#endif
