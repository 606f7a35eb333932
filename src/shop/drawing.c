/* The first path of an SVG drawing (Scalable Vector Graphics 1.1, 2nd ed., W3C: 7.7 to 7.9 for sizes, 8.3 for path
 * data), and what taking it leaves out. */
#include "shop/drawing.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "shop/load.h"
#include "shop/problems.h"
#include "shop/spans.h"
#include "shop/values.h"

typedef struct reader {
    shop_xml xml;
    shop_cursor cursor;
    size_t mark; /* bytes of the byte order mark */
    shop_problems *problems;
    bool scale_given;
    shop_span prefix;                              /* of the outermost element: svg: or nothing */
    double unit;                                   /* mm, by the outermost element; NAN */
    shop_span transforms[SHOP_XML_DEPTH_MOST + 1]; /* of the elements open now, by depth from 1 */
    size_t inner;                                  /* depth of an <svg> inside another, 0 = none */
    size_t hidden;                                 /* depth of what is not drawn where it stands, 0 = none */
    size_t paths, shapes, first_left;              /* left out, and where the first of them stands */
    shop_drawing *drawing;
} reader;

static const char *const shape_names[] = {"rect",    "circle", "ellipse", "line", "polyline",
                                          "polygon", "text",   "image",   "use",  NULL};
/* Paths in these are only drawn where something refers to them. */
static const char *const hidden_names[] = {"defs", "clipPath", "symbol", "mask", "marker", "pattern", "glyph", NULL};

__attribute__((format(printf, 4, 5))) static void tell(reader *r, bool note, size_t byte, const char *format, ...) {
    char text[400];
    size_t line, column;
    va_list values;
    va_start(values, format);
    vsnprintf(text, sizeof text, format, values);
    va_end(values);
    shop_cursor_line(&r->cursor, byte > r->mark ? byte - r->mark : 0, &line, &column);
    shop_problem_add(r->problems, note, line, column, "%s", text);
}

/* The first bytes of a span, cleaned. */
static const char *shown(const reader *r, shop_span span, char out[64]) {
    size_t length = span.to - span.from;
    shop_clean(r->xml.bytes + span.from, length < 40 ? length : 40, out, 60);
    return length > 40 ? strcat(out, "...") : out;
}

/* ---- what an element is ---- */

/* Its name without the prefix that means SVG; an empty span for elements of other languages. */
static shop_span local_name(const reader *r) {
    shop_span name = r->xml.name;
    size_t length = r->prefix.to - r->prefix.from;
    const char *bytes = r->xml.bytes, *colon = memchr(bytes + name.from, ':', name.to - name.from);
    if (!colon)
        return name;
    size_t front = (size_t)(colon - bytes) + 1 - name.from;
    bool ours = front == length && memcmp(bytes + name.from, bytes + r->prefix.from, length) == 0;
    bool usual = front == 4 && memcmp(bytes + name.from, "svg:", 4) == 0;
    return (shop_span){ours || usual ? name.from + front : name.to, name.to};
}

static bool is_one_of(const reader *r, shop_span name, const char *const *names) {
    for (size_t i = 0; names[i]; i++)
        if (shop_xml_says(&r->xml, name, names[i]))
            return true;
    return false;
}

static void leave_out(reader *r, size_t *count) {
    if (r->paths + r->shapes == 0)
        r->first_left = r->xml.name.from - 1;
    ++*count;
}

/* ---- taking the path ---- */

/* How much the transforms from the outermost element to this one enlarge; each is told. */
static double enlarged(reader *r) {
    double factor = 1;
    char text[64];
    for (size_t depth = 1; depth <= r->xml.depth; depth++) {
        shop_span span = r->transforms[depth];
        double one = span.to > span.from ? shop_transform_factor(r->xml.bytes + span.from, span.to - span.from) : 1;
        if (isnan(one))
            tell(r, true, span.from, "the transform '%s' is left out", shown(r, span, text));
        else if (span.to > span.from)
            tell(r, true, span.from, "the transform '%s' is left out%s", shown(r, span, text),
                 one == 1 ? ": it only moves the path" : " but for its size, which counts in the scale");
        factor *= isnan(one) ? 1 : one;
    }
    if (r->inner)
        tell(r, true, r->xml.open[r->inner - 1].from - 1,
             "the size and the place of an svg inside the svg are left out");
    return factor;
}

static void tell_taken(reader *r, size_t at, double scale) {
    if (r->scale_given)
        tell(r, true, at, "this path is taken");
    else if (isnan(scale))
        tell(r, true, at, "this path is taken; nothing says how large its unit is, and it counts as 1 mm");
    else
        tell(r, true, at, "this path is taken; its unit is %.6g mm by %s", scale,
             isnan(r->unit) ? "transforms alone" : "the size that the drawing gives");
}

/* Errors of the path data are told where they stand in the drawing. */
/* mm per unit: small enough that no place is too far off, which depends on the scale and is told of the piece. */
#define SCALE_CHECKED 1e-6

static shop_status check_data(reader *r, shop_span value) {
    const bw_allocator memory = {.resize = shop_maths_resize};
    const char *svg = r->drawing->svg;
    size_t length = strlen(svg);
    bw_layout layout;
    bw_outline_fault fault = {.what = BW_TROUBLE_NONE};
    bw_layout_init(&layout);
    layout.outline.shape = BW_PATH;
    layout.outline.svg = svg;
    layout.outline.scale = SCALE_CHECKED;
    bw_status status = bw_outline_check(&layout.outline, &memory, &fault);
    if (status == BW_NO_MEMORY)
        return SHOP_NO_MEMORY;
    if (status == BW_OK || fault.what != BW_TROUBLE_SVG)
        return SHOP_OK; /* what else is wrong depends on the scale, and is told of the piece */
    size_t item = fault.item < length ? fault.item : length;
    bool plain = !memchr(r->xml.bytes + value.from, '&', value.to - value.from);
    char found[SHOP_DATA_SHOWN];
    shop_show_data(svg, length, item, found);
    tell(r, false, plain ? shop_same_mark(svg, item, r->xml.bytes, value.from, value.to) : value.from,
         "found %s at byte %zu of the path data; %s", found, item + 1, fault.why);
    return SHOP_BAD_FILE;
}

/* Ten digits: no more was ever measured, and a person has to read it. */
static double rounded(double scale) {
    char text[SHOP_NUMBER_MOST];
    int length = snprintf(text, sizeof text, "%.10g", scale);
    return shop_convert(text, text + length);
}

static shop_status take(reader *r, shop_span value) {
    shop_buffer data = {0};
    bool good = shop_xml_text(&r->xml, value, &data);
    char *svg = shop_buffer_take(&data, NULL);
    if (!good || !svg) {
        free(svg);
        if (!good)
            tell(r, false, r->xml.where, "%s", r->xml.why);
        return good ? SHOP_NO_MEMORY : SHOP_BAD_FILE;
    }
    size_t more = shop_first_subpath(svg);
    double factor = enlarged(r);
    bool known = !isnan(r->unit) || factor != 1;
    r->drawing->svg = svg;
    r->drawing->scale = known ? rounded((isnan(r->unit) ? 1 : r->unit) * factor) : NAN;
    tell_taken(r, r->xml.name.from - 1, r->drawing->scale);
    if (more)
        tell(r, true, value.from, "%zu further subpath%s of this path %s left out", more, more == 1 ? "" : "s",
             more == 1 ? "is" : "are");
    return check_data(r, value);
}

/* ---- going through the drawing ---- */

static bool has_data(const reader *r, shop_span *value) {
    if (!shop_xml_attribute(&r->xml, "d", value))
        return false;
    size_t from = value->from;
    while (from < value->to && strchr(" \t\r\n", r->xml.bytes[from]))
        from++;
    return from < value->to && !shop_xml_says(&r->xml, (shop_span){from, value->to}, "none");
}

static bool begin(reader *r) {
    const char *bytes = r->xml.bytes;
    shop_span name = r->xml.name;
    const char *colon = memchr(bytes + name.from, ':', name.to - name.from);
    r->prefix = (shop_span){name.from, colon ? (size_t)(colon - bytes) + 1 : name.from};
    if (!shop_xml_says(&r->xml, local_name(r), "svg")) {
        tell(r, false, name.from - 1, "this is no SVG drawing; its outermost element must be svg");
        return false;
    }
    r->unit = shop_drawing_unit(&r->xml);
    return true;
}

static shop_status on_open(reader *r) {
    size_t depth = r->xml.depth;
    shop_span value = {0, 0}, name;
    if (depth == 1 && !begin(r))
        return SHOP_BAD_FILE;
    r->transforms[depth] = shop_xml_attribute(&r->xml, "transform", &value) ? value : (shop_span){0, 0};
    name = local_name(r);
    if (r->hidden)
        return SHOP_OK;
    if (is_one_of(r, name, hidden_names))
        r->hidden = depth;
    else if (depth > 1 && shop_xml_says(&r->xml, name, "svg"))
        r->inner = r->inner ? r->inner : depth;
    else if (is_one_of(r, name, shape_names))
        leave_out(r, &r->shapes);
    else if (shop_xml_says(&r->xml, name, "path") && has_data(r, &value)) {
        if (!r->drawing->svg)
            return take(r, value);
        leave_out(r, &r->paths);
    }
    return SHOP_OK;
}

static void on_close(reader *r) {
    if (r->hidden > r->xml.depth)
        r->hidden = 0;
    if (r->inner > r->xml.depth)
        r->inner = 0;
}

static shop_status at_end(reader *r) {
    size_t root = r->mark;
    if (!r->drawing->svg) {
        tell(r, false, root, "%s",
             r->shapes ? "there is no path in this drawing, only other shapes; turn one into a path"
                       : "there is no path in this drawing");
        return SHOP_BAD_FILE;
    }
    if (r->paths + r->shapes)
        tell(r, true, r->first_left, "left out from here on: %zu other path%s, %zu other shape%s", r->paths,
             r->paths == 1 ? "" : "s", r->shapes, r->shapes == 1 ? "" : "s");
    return SHOP_OK;
}

static shop_status read_all(reader *r) {
    shop_status status = SHOP_OK;
    while (status == SHOP_OK) {
        switch (shop_xml_next(&r->xml)) {
        case SHOP_XML_OPEN:
            status = on_open(r);
            break;
        case SHOP_XML_CLOSE:
            on_close(r);
            break;
        case SHOP_XML_END:
            return at_end(r);
        case SHOP_XML_WRONG:
            tell(r, false, r->xml.where, "%s", r->xml.why);
            return SHOP_BAD_FILE;
        }
    }
    return status;
}

/* What is no text of XML at all. */
static const char *no_text(const char *bytes, size_t length) {
    const unsigned char *b = (const unsigned char *)bytes;
    if (length >= 2 && b[0] == 0x1F && b[1] == 0x8B)
        return "this is a packed drawing; unpack it first, or save it as plain SVG";
    if (length >= 2 && ((b[0] == 0xFE && b[1] == 0xFF) || (b[0] == 0xFF && b[1] == 0xFE)))
        return "this is UTF-16; save the drawing as UTF-8";
    if (length && memchr(bytes, '\0', length))
        return "this is no text, and so no SVG drawing";
    return NULL;
}

shop_status shop_drawing_read(const char *bytes, size_t length, bool scale_given, shop_problems *problems,
                              shop_drawing *drawing) {
    const char *why = no_text(bytes, length);
    size_t first = problems->count;
    *drawing = (shop_drawing){.scale = NAN};
    if (why) {
        shop_problem_add(problems, false, 1, 1, "%s", why);
        return SHOP_BAD_FILE;
    }
    reader *r = shop_alloc(sizeof *r);
    shop_status status = SHOP_NO_MEMORY;
    if (r) {
        memset(r, 0, sizeof *r);
        shop_xml_init(&r->xml, bytes, length);
        r->mark = r->xml.at;
        shop_cursor_init(&r->cursor, bytes + r->mark, length - r->mark);
        r->problems = problems;
        r->scale_given = scale_given;
        r->drawing = drawing;
        status = read_all(r);
        free(r);
    }
    if (status == SHOP_NO_MEMORY)
        shop_problem_add(problems, false, 0, 0, "out of memory");
    if (status != SHOP_OK) {
        free(drawing->svg);
        *drawing = (shop_drawing){.scale = NAN};
    }
    shop_problems_sort(problems, first);
    return status;
}
