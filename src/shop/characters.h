/* shop/characters.h - reading UTF-8, and which characters are not safe to show. */
#ifndef SHOP_CHARACTERS_H
#define SHOP_CHARACTERS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The character at the front of bytes; its length in *used. 0 used = broken UTF-8 (overlong, surrogate, cut off) or
 * nothing there. */
uint32_t shop_character(const char *bytes, size_t length, size_t *used);
/* Controls, C1, bidirectional, zero-width, line separators and other characters that hide or turn text. */
bool shop_character_hides(uint32_t code);
/* A blank, a tab or what ends a line: what YAML, XML and path data take for white space. */
bool shop_is_blank(char c);
bool shop_is_utf8(const char *bytes, size_t length);
/* Characters in valid UTF-8. */
size_t shop_characters(const char *bytes, size_t length);

#endif
