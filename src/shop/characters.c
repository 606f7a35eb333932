/* UTF-8, read strictly, and text made safe to show. */
#include "shop/characters.h"

#include <stdio.h>
#include <string.h>

#include "shop/shop.h"

uint32_t shop_character(const char *bytes, size_t length, size_t *used) {
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    *used = 0;
    if (length == 0)
        return 0;
    const unsigned char *b = (const unsigned char *)bytes;
    size_t need = b[0] < 0x80                   ? 1
                  : b[0] >= 0xC2 && b[0] < 0xE0 ? 2
                  : b[0] >= 0xE0 && b[0] < 0xF0 ? 3
                  : b[0] >= 0xF0 && b[0] < 0xF5 ? 4
                                                : 0;
    if (need == 0 || need > length)
        return 0;
    if (need == 1) {
        *used = 1;
        return b[0];
    }
    uint32_t code = b[0] & (0xFFu >> (need + 1));
    for (size_t i = 1; i < need; i++) {
        if ((b[i] & 0xC0) != 0x80)
            return 0;
        code = code << 6 | (b[i] & 0x3Fu);
    }
    if (code < least[need] || code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF))
        return 0;
    *used = need;
    return code;
}

bool shop_character_hides(uint32_t code) {
    static const struct {
        uint32_t from, to;
    } hides[] = {
        {0x00, 0x1F},     {0x7F, 0x9F},     {0xAD, 0xAD},     {0x34F, 0x34F},   {0x61C, 0x61C},   {0x115F, 0x1160},
        {0x17B4, 0x17B5}, {0x180B, 0x180F}, {0x200B, 0x200F}, {0x2028, 0x202E}, {0x2060, 0x206F}, {0x3164, 0x3164},
        {0xFE00, 0xFE0F}, {0xFEFF, 0xFEFF}, {0xFFA0, 0xFFA0}, {0xFFF0, 0xFFFB}, {0xFFFE, 0xFFFF}, {0xE0000, 0xE0FFF},
    };
    for (size_t i = 0; i < sizeof hides / sizeof hides[0]; i++)
        if (code >= hides[i].from && code <= hides[i].to)
            return true;
    return false;
}

bool shop_is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

bool shop_is_utf8(const char *bytes, size_t length) {
    for (size_t at = 0, used; at < length; at += used) {
        shop_character(bytes + at, length - at, &used);
        if (used == 0)
            return false;
    }
    return true;
}

size_t shop_characters(const char *bytes, size_t length) {
    size_t count = 0;
    for (size_t i = 0; i < length; i++)
        count += ((unsigned char)bytes[i] & 0xC0) != 0x80;
    return count;
}

size_t shop_clean(const char *bytes, size_t length, char *out, size_t room) {
    size_t needed = 0, written = 0;
    bool full = room == 0;
    for (size_t at = 0, used; at < length; at += used) {
        char escape[16];
        const char *piece = bytes + at;
        uint32_t code = shop_character(piece, length - at, &used);
        bool broken = used == 0;
        if (broken)
            used = 1;
        size_t size = used;
        if (broken || shop_character_hides(code)) {
            if (broken)
                code = (unsigned char)*piece;
            const char *form = broken || code < 0x80 ? "\\x%02X" : code <= 0xFFFF ? "\\u%04X" : "\\U%08X";
            size = (size_t)snprintf(escape, sizeof escape, form, (unsigned)code);
            piece = escape;
        }
        needed += size;
        full = full || written + size >= room; /* what does not fit whole is left out, and all behind it */
        if (full)
            continue;
        memcpy(out + written, piece, size);
        written += size;
    }
    if (room)
        out[written] = '\0';
    return needed;
}
