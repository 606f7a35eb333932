/* Values as YAML on one line, quoted wherever plain would be read as something else. */
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "shop/characters.h"
#include "shop/edit.h"
#include "shop/load.h"

static bool hides(const char *bytes, size_t length) {
    for (size_t at = 0, used; at < length; at += used)
        if (shop_character_hides(shop_character(bytes + at, length - at, &used)))
            return true;
    return false;
}

static bool one_of(const char *bytes, size_t length, const char *const *words) {
    for (size_t i = 0; words[i]; i++)
        if (strlen(words[i]) == length && strncasecmp(words[i], bytes, length) == 0)
            return true;
    return false;
}

/* Plain, a reader of YAML would take it for a number, a yes or no, or a date. */
static bool reads_as_other(const char *bytes, size_t length) {
    static const char *const words[] = {"yes",  "no",    "true",  "false", "on", "off", "y", "n",
                                        ".inf", "-.inf", "+.inf", ".nan",  "=",  "<<",  NULL};
    if (one_of(bytes, length, words))
        return true;
    if (!strchr("0123456789+-.", *bytes))
        return false;
    for (size_t i = 0; i < length; i++)
        if (!strchr("0123456789+-.abcdefABCDEFxXoO_:tTZ ", bytes[i]))
            return false;
    return true;
}

static bool plain_is_safe(const char *bytes, size_t length, bool flow, bool text_field) {
    static const char *const nothing[] = {"~", "null", NULL};
    if (length == 0 || bytes[0] == ' ' || bytes[length - 1] == ' ' || bytes[length - 1] == ':')
        return false;
    bool minus = bytes[0] == '-' && length > 1 && strchr("0123456789.", bytes[1]);
    if (strchr("-?:,[]{}#&*!|>'\"%@`", bytes[0]) && !minus)
        return false;
    if (length >= 3 && memcmp(bytes, "...", 3) == 0)
        return false;
    for (size_t i = 0; i + 1 < length; i++)
        if ((bytes[i] == ':' && bytes[i + 1] == ' ') || (bytes[i] == ' ' && bytes[i + 1] == '#'))
            return false;
    for (size_t i = 0; flow && i < length; i++)
        if (strchr(",[]{}:", bytes[i]))
            return false;
    return !one_of(bytes, length, nothing) && !(text_field && reads_as_other(bytes, length));
}

static void add_single(shop_buffer *out, const char *bytes, size_t length) {
    shop_buffer_text(out, "'");
    for (size_t i = 0; i < length; i++)
        shop_buffer_add(out, bytes[i] == '\'' ? "''" : bytes + i, bytes[i] == '\'' ? 2 : 1);
    shop_buffer_text(out, "'");
}

static void add_double(shop_buffer *out, const char *bytes, size_t length) {
    shop_buffer_text(out, "\"");
    for (size_t at = 0, used; at < length; at += used) {
        uint32_t code = shop_character(bytes + at, length - at, &used);
        char escape[16];
        if (code == '"' || code == '\\')
            snprintf(escape, sizeof escape, "\\%c", (char)code);
        else if (code == '\n')
            snprintf(escape, sizeof escape, "\\n");
        else if (code == '\t')
            snprintf(escape, sizeof escape, "\\t");
        else if (!shop_character_hides(code)) {
            shop_buffer_add(out, bytes + at, used);
            continue;
        } else
            snprintf(escape, sizeof escape, code < 0x100 ? "\\x%02X" : code < 0x10000 ? "\\u%04X" : "\\U%08X", code);
        shop_buffer_text(out, escape);
    }
    shop_buffer_text(out, "\"");
}

static void add_scalar(shop_buffer *out, const char *bytes, size_t length, shop_style style, bool flow,
                       bool text_field) {
    if (!shop_is_utf8(bytes, length)) {
        out->failed = true;
        return;
    }
    if (hides(bytes, length) || style == SHOP_STYLE_DOUBLE)
        add_double(out, bytes, length);
    else if (style != SHOP_STYLE_SINGLE && plain_is_safe(bytes, length, flow, text_field))
        shop_buffer_add(out, bytes, length);
    else
        add_single(out, bytes, length);
}

char *shop_write_scalar(const char *bytes, size_t length, shop_style style, bool flow, bool text_field) {
    shop_buffer out = {0};
    add_scalar(&out, bytes, length, style, flow, text_field);
    return shop_buffer_take(&out, NULL);
}

/* Writing for a file of another unit: what a value without a unit meant until now. */
typedef struct units {
    char path[SHOP_PATH]; /* of the value in the table of fields; "" = values stay as they are */
    const char *word;
    bool length; /* of the value, or of what it is in */
} units;

static units units_of(const units *in, const shop_node *key) {
    units out = *in;
    if (in->path[0] == '\0')
        return out;
    if (key)
        snprintf(out.path, sizeof out.path, "%.100s.%.*s", in->path, (int)(key->length < 40 ? key->length : 40),
                 key->value ? key->value : "");
    else
        snprintf(out.path, sizeof out.path, "%.140s[]", in->path);
    const shop_field *field = shop_field_find(out.path);
    out.length = out.length || (field && shop_field_has_unit(field));
    return out;
}

static void add_value(shop_buffer *out, const shop_node *node, const units *in) {
    char last = node->length > 0 ? node->value[node->length - 1] : ' ', text[80];
    size_t length = node->length;
    const char *value = node->value;
    if (shop_node_is_null(node)) {
        shop_buffer_text(out, "~");
        return;
    }
    if (in->length && (last == '.' || (last >= '0' && last <= '9')) && length < sizeof text - 8) {
        length = (size_t)snprintf(text, sizeof text, "%.*s%s", (int)length, value, in->word);
        value = text;
    }
    add_scalar(out, value, length, node->style, true, node->style != SHOP_STYLE_PLAIN);
}

/* Depth is bounded by the height that reading allows. */
static void add_flow(shop_buffer *out, const shop_node *node, const units *in) {
    node = shop_node_real(node);
    if (node->kind == SHOP_NODE_SCALAR) {
        add_value(out, node, in);
        return;
    }
    static const units as_it_is = {.word = ""};
    bool map = node->kind == SHOP_NODE_MAP;
    shop_buffer_text(out, map ? "{" : "[");
    for (const shop_node *at = node->child; at; at = at->next) {
        if (at != node->child)
            shop_buffer_text(out, ", ");
        const shop_node *key = map ? shop_node_real(at) : NULL;
        units below = units_of(in, key);
        if (map) {
            bool complex_key = key->kind != SHOP_NODE_SCALAR;
            shop_buffer_text(out, complex_key ? "? " : "");
            add_flow(out, at, &as_it_is);
            shop_buffer_text(out, complex_key ? " : " : ": ");
            at = at->next;
        }
        add_flow(out, at, &below);
    }
    shop_buffer_text(out, map ? "}" : "]");
}

char *shop_write_flow(const shop_node *node) {
    return shop_write_flow_units(node, "", SHOP_MM);
}

char *shop_write_flow_units(const shop_node *node, const char *path, shop_unit unit) {
    shop_buffer out = {0};
    units in = {.word = unit == SHOP_INCH ? " in" : " mm"};
    snprintf(in.path, sizeof in.path, "%s", path);
    add_flow(&out, node, &in);
    return shop_buffer_take(&out, NULL);
}
