/* text.c - words on a page. */
#include <stdarg.h>
#include <string.h>

#include "paper/draw.h"

#define FACE "DejaVu Sans"
#define LEADING 1.25
#define TEXT_MOST 1024

void paper_font(cairo_t *cr, double size, bool bold) {
    cairo_select_font_face(cr, FACE, CAIRO_FONT_SLANT_NORMAL, bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cr, size);
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF); /* the same widths in every kind of file */
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_set_font_options(cr, options);
    cairo_font_options_destroy(options);
}

static const char *cleaned(const char *text, char clean[TEXT_MOST]) {
    shop_clean(text, strnlen(text, TEXT_MOST), clean, TEXT_MOST);
    return clean;
}

static double width_of(cairo_t *cr, const char *clean) {
    cairo_text_extents_t extents;
    cairo_text_extents(cr, clean, &extents);
    return extents.x_advance;
}

double paper_text_width(cairo_t *cr, const char *text) {
    char clean[TEXT_MOST];
    return width_of(cr, cleaned(text, clean));
}

double paper_text(cairo_t *cr, double x, double y, paper_align align, const char *text) {
    char clean[TEXT_MOST];
    double width = width_of(cr, cleaned(text, clean));
    cairo_move_to(cr, align == PAPER_LEFT ? x : align == PAPER_MIDDLE ? x - width / 2 : x - width, y);
    cairo_show_text(cr, clean);
    cairo_new_path(cr);
    return width;
}

double paper_textf(cairo_t *cr, double x, double y, paper_align align, const char *format, ...) {
    char text[TEXT_MOST];
    va_list rest;
    va_start(rest, format);
    vsnprintf(text, sizeof text, format, rest);
    va_end(rest);
    return paper_text(cr, x, y, align, text);
}

void paper_label(cairo_t *cr, double x, double y, paper_align align, const char *text) {
    cairo_font_extents_t font;
    cairo_font_extents(cr, &font);
    double width = paper_text_width(cr, text), pad = font.height * 0.1;
    double left = align == PAPER_LEFT ? x : align == PAPER_MIDDLE ? x - width / 2 : x - width;
    cairo_save(cr);
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_rectangle(cr, left - pad, y - font.ascent * 0.85, width + 2 * pad, font.ascent * 0.85 + font.descent);
    cairo_fill(cr);
    cairo_restore(cr);
    paper_text(cr, x, y, align, text);
}

double paper_leading(cairo_t *cr) {
    cairo_matrix_t font;
    cairo_get_font_matrix(cr, &font);
    return font.yy * LEADING;
}

static bool fits(cairo_t *cr, const char *clean, size_t length, double width) {
    char line[TEXT_MOST];
    memcpy(line, clean, length);
    line[length] = '\0';
    return width_of(cr, line) <= width;
}

/* Bytes of clean text that fit into so many mm, broken at a blank where there is one; at least one character. */
static size_t fitting(cairo_t *cr, const char *clean, double width) {
    size_t words = 0, characters = 0, end = strcspn(clean, " ");
    for (; end > 0 && fits(cr, clean, end, width); end += 1 + strcspn(clean + end + 1, " ")) {
        words = end;
        if (clean[end] == '\0')
            return words;
    }
    for (end = 1; words == 0 && clean[end - 1] != '\0'; end++) { /* a word that is too long is broken */
        if (((unsigned char)clean[end] & 0xC0) == 0x80)
            continue;
        if (characters > 0 && !fits(cr, clean, end, width))
            break;
        characters = end;
    }
    return words > 0 ? words : characters;
}

void paper_text_within(cairo_t *cr, double x, double y, double width, const char *text) {
    char clean[TEXT_MOST];
    if (width_of(cr, cleaned(text, clean)) <= width) {
        paper_text(cr, x, y, PAPER_LEFT, text);
        return;
    }
    size_t length = strlen(clean);
    double dots = width_of(cr, "...");
    do {
        length--;
    } while (length > 0 && (((unsigned char)clean[length] & 0xC0) == 0x80 || !fits(cr, clean, length, width - dots)));
    clean[length] = '\0';
    double used = paper_text(cr, x, y, PAPER_LEFT, clean);
    paper_text(cr, x + used, y, PAPER_LEFT, "...");
}

double paper_paragraph(cairo_t *cr, double x, double y, double width, const char *text, bool draw) {
    char clean[TEXT_MOST], line[TEXT_MOST];
    const char *at = cleaned(text, clean);
    while (*at) {
        size_t length = fitting(cr, at, width);
        memcpy(line, at, length);
        line[length] = '\0';
        if (draw)
            paper_text(cr, x, y, PAPER_LEFT, line);
        y += paper_leading(cr);
        at += length;
        while (*at == ' ')
            at++;
    }
    return y;
}
