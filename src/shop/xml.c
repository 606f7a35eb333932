/* The tags of an XML text (Extensible Markup Language 1.0, 5th ed., W3C: 2.3 to 2.8, 3.1 and 4.1). */
#include "shop/characters.h"
#include "shop/xml.h"

#include <stdint.h>
#include <string.h>

static shop_xml_event wrong(shop_xml *xml, size_t where, const char *why) {
    xml->why = why;
    xml->where = where;
    return SHOP_XML_WRONG;
}

static bool in_name(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == ':' ||
           c == '-' || c == '.' || (unsigned char)c >= 0x80;
}

static bool begins_name(char c) {
    return in_name(c) && !(c >= '0' && c <= '9') && c != '-' && c != '.';
}

static bool starts(const shop_xml *xml, size_t at, const char *text) {
    size_t length = strlen(text);
    return xml->length - at >= length && memcmp(xml->bytes + at, text, length) == 0;
}

bool shop_xml_says(const shop_xml *xml, shop_span span, const char *text) {
    size_t length = strlen(text);
    return span.to - span.from == length && memcmp(xml->bytes + span.from, text, length) == 0;
}

void shop_xml_init(shop_xml *xml, const char *bytes, size_t length) {
    memset(xml, 0, sizeof *xml);
    xml->bytes = bytes;
    xml->length = length;
    xml->at = length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
}

static size_t skip_blanks(const shop_xml *xml, size_t at) {
    while (at < xml->length && shop_is_blank(xml->bytes[at]))
        at++;
    return at;
}

static size_t skip_name(const shop_xml *xml, size_t at) {
    while (at < xml->length && in_name(xml->bytes[at]))
        at++;
    return at;
}

/* Behind the next `end`; 0 if it does not come. */
static size_t behind(const shop_xml *xml, size_t at, const char *end) {
    const char *found = at < xml->length ? memmem(xml->bytes + at, xml->length - at, end, strlen(end)) : NULL;
    return found ? (size_t)(found - xml->bytes) + strlen(end) : 0;
}

/* Behind <!DOCTYPE ...>, with what may stand in its brackets; 0 if it does not end. */
static size_t behind_doctype(const shop_xml *xml, size_t at) {
    bool inside = false; /* the brackets */
    while (at && at < xml->length) {
        char c = xml->bytes[at];
        char quote[2] = {c, '\0'};
        if (starts(xml, at, "<!--"))
            at = behind(xml, at + 4, "-->");
        else if (starts(xml, at, "<?"))
            at = behind(xml, at + 2, "?>");
        else if (c == '"' || c == '\'')
            at = behind(xml, at + 1, quote);
        else if (c == '>' && !inside)
            return at + 1;
        else {
            inside = c == '[' || (inside && c != ']');
            at++;
        }
    }
    return 0;
}

/* What is no tag: comment, CDATA, instruction or document type at a `<`. False with *error if it does not end. */
static bool passed_over(shop_xml *xml, const char **error) {
    size_t at = xml->at, end;
    if (starts(xml, at, "<!--")) {
        *error = "a comment that does not end";
        end = behind(xml, at + 4, "-->");
    } else if (starts(xml, at, "<![CDATA[")) {
        *error = "a CDATA section that does not end";
        end = behind(xml, at + 9, "]]>");
    } else if (starts(xml, at, "<?")) {
        *error = "an instruction that does not end";
        end = behind(xml, at + 2, "?>");
    } else if (starts(xml, at, "<!DOCTYPE")) {
        *error = "a document type that does not end";
        end = behind_doctype(xml, at + 9);
    } else {
        *error = NULL;
        return false;
    }
    if (end)
        xml->at = end;
    return end != 0;
}

/* One attribute at `at`; 0 with why and where if it is none, else the byte behind it. */
static size_t one_attribute(shop_xml *xml, size_t at, shop_span *name, shop_span *value) {
    *name = (shop_span){at, skip_name(xml, at)};
    at = skip_blanks(xml, name->to);
    if (name->to == name->from || !begins_name(xml->bytes[name->from])) {
        wrong(xml, name->from, "no attribute; one is written like width=\"10mm\"");
        return 0;
    }
    if (at >= xml->length || xml->bytes[at] != '=') {
        wrong(xml, at, "an attribute without its =");
        return 0;
    }
    at = skip_blanks(xml, at + 1);
    if (at >= xml->length || (xml->bytes[at] != '"' && xml->bytes[at] != '\'')) {
        wrong(xml, at, "the value of an attribute stands in quotes");
        return 0;
    }
    const char *end = memchr(xml->bytes + at + 1, xml->bytes[at], xml->length - at - 1);
    if (!end) {
        wrong(xml, at, "a quote that does not end");
        return 0;
    }
    *value = (shop_span){at + 1, (size_t)(end - xml->bytes)};
    const char *less = memchr(xml->bytes + value->from, '<', value->to - value->from);
    if (less) {
        wrong(xml, (size_t)(less - xml->bytes), "no < may stand in the value of an attribute");
        return 0;
    }
    return value->to + 1;
}

/* <name attributes> or <name attributes/> at the place. */
static shop_xml_event open_tag(shop_xml *xml) {
    size_t start = xml->at;
    xml->name = (shop_span){start + 1, skip_name(xml, start + 1)};
    if (xml->name.to == xml->name.from || !begins_name(xml->bytes[xml->name.from]))
        return wrong(xml, start, "a < that begins no tag");
    size_t at = xml->name.to;
    for (;;) {
        size_t next = skip_blanks(xml, at);
        if (next >= xml->length)
            return wrong(xml, start, "a tag that does not end");
        bool ends = xml->bytes[next] == '>' || starts(xml, next, "/>");
        if (ends) {
            xml->attributes = (shop_span){xml->name.to, next};
            xml->closes = xml->bytes[next] == '/';
            xml->at = next + (xml->closes ? 2 : 1);
            break;
        }
        shop_span name, value;
        if (next == at)
            return wrong(xml, next, "a blank must stand before an attribute");
        at = one_attribute(xml, next, &name, &value);
        if (!at)
            return SHOP_XML_WRONG;
    }
    if (xml->depth == SHOP_XML_DEPTH_MOST)
        return wrong(xml, start, "more than 200 elements inside each other");
    xml->open[xml->depth++] = xml->name;
    return SHOP_XML_OPEN;
}

static shop_xml_event close_tag(shop_xml *xml) {
    size_t start = xml->at;
    xml->name = (shop_span){start + 2, skip_name(xml, start + 2)};
    size_t end = skip_blanks(xml, xml->name.to);
    if (end >= xml->length || xml->bytes[end] != '>')
        return wrong(xml, start, "a tag that does not end");
    shop_span last = xml->depth ? xml->open[xml->depth - 1] : (shop_span){0, 0};
    size_t length = last.to - last.from;
    if (!xml->depth || length != xml->name.to - xml->name.from ||
        memcmp(xml->bytes + last.from, xml->bytes + xml->name.from, length) != 0)
        return wrong(xml, start, "this closes an element that is not the last one opened");
    xml->depth--;
    xml->at = end + 1;
    return SHOP_XML_CLOSE;
}

shop_xml_event shop_xml_next(shop_xml *xml) {
    if (xml->closes) {
        xml->closes = false;
        xml->name = xml->open[--xml->depth];
        return SHOP_XML_CLOSE;
    }
    for (;;) {
        const char *less = memchr(xml->bytes + xml->at, '<', xml->length - xml->at), *error;
        if (!less)
            break;
        xml->at = (size_t)(less - xml->bytes);
        if (passed_over(xml, &error))
            continue;
        if (error)
            return wrong(xml, xml->at, error);
        return starts(xml, xml->at, "</") ? close_tag(xml) : open_tag(xml);
    }
    xml->at = xml->length;
    if (xml->depth)
        return wrong(xml, xml->open[xml->depth - 1].from - 1, "an element that is not closed");
    return SHOP_XML_END;
}

bool shop_xml_attribute(const shop_xml *xml, const char *name, shop_span *value) {
    shop_xml again = *xml; /* its why is of no use: the tag was read once */
    shop_span found;
    size_t at = skip_blanks(xml, xml->attributes.from);
    while (at && at < xml->attributes.to) {
        at = one_attribute(&again, at, &found, value);
        if (at && shop_xml_says(xml, found, name))
            return true;
        at = at ? skip_blanks(xml, at) : 0;
    }
    return false;
}

/* ---- references ---- */

static void add_character(shop_buffer *out, uint32_t code) {
    char bytes[4];
    size_t length = code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
    static const unsigned char lead[] = {0, 0x00, 0xC0, 0xE0, 0xF0};
    for (size_t i = length; i-- > 1; code >>= 6)
        bytes[i] = (char)(0x80 | (code & 0x3F));
    bytes[0] = (char)(lead[length] | code);
    shop_buffer_add(out, bytes, length);
}

/* The number in &#65; or &#x41;, 0 if it is none that may be written. */
static uint32_t numbered(const char *digits, size_t length) {
    bool sixteen = length && *digits == 'x';
    uint32_t code = 0, base = sixteen ? 16 : 10;
    if (length == sixteen)
        return 0;
    for (size_t i = sixteen; i < length; i++) {
        char c = digits[i];
        uint32_t digit = c >= '0' && c <= '9'   ? (uint32_t)(c - '0')
                         : c >= 'a' && c <= 'f' ? (uint32_t)(c - 'a') + 10
                         : c >= 'A' && c <= 'F' ? (uint32_t)(c - 'A') + 10
                                                : 99;
        if (digit >= base)
            return 0;
        code = code * base + digit;
        if (code > 0x10FFFF)
            return 0;
    }
    bool control = code < 0x20 && code != '\t' && code != '\n' && code != '\r';
    return control || (code >= 0xD800 && code < 0xE000) ? 0 : code;
}

static bool add_reference(shop_buffer *out, const char *name, size_t length) {
    static const char *const names[] = {"amp", "lt", "gt", "quot", "apos"};
    static const char marks[] = "&<>\"'";
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strlen(names[i]) == length && memcmp(names[i], name, length) == 0) {
            shop_buffer_add(out, marks + i, 1);
            return true;
        }
    uint32_t code = length && *name == '#' ? numbered(name + 1, length - 1) : 0;
    if (code)
        add_character(out, code);
    return code != 0;
}

bool shop_xml_text(shop_xml *xml, shop_span value, shop_buffer *out) {
    for (size_t at = value.from; at < value.to;) {
        const char *here = xml->bytes + at;
        if (*here != '&') {
            shop_buffer_add(out, shop_is_blank(*here) ? " " : here, 1);
            at++;
            continue;
        }
        const char *end = memchr(here, ';', value.to - at);
        if (!end || !add_reference(out, here + 1, (size_t)(end - here) - 1)) {
            wrong(xml, at, "a reference that is not understood; allowed: &amp; &lt; &gt; &quot; &apos; and &#NUMBER;");
            return false;
        }
        at = (size_t)(end - xml->bytes) + 1;
    }
    return true;
}
