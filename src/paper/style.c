/* style.c - lines told apart by their dashes. */
#include "paper/draw.h"

typedef struct style {
    double width; /* mm */
    double shade; /* 0 black .. 1 white */
    int dash_count;
    double dashes[6]; /* mm of line, of gap, ... */
    const char *words;
} style;

static const style styles[PAPER_STYLES] = {
    [PAPER_EDGE] = {0.45, 0, 0, {0}, "edge of the piece"},
    [PAPER_BLANK] = {0.25, 0, 6, {7, 1, 0.4, 1, 0.4, 1}, "blank: cut this much leather first"},
    [PAPER_CUT] = {0.3, 0, 2, {6, 1.2}, "border line to cut (swivel knife)"},
    [PAPER_SCRIBE] = {0.2, 0, 2, {2, 1}, "border line to scribe"},
    [PAPER_BORDER] = {0.2, 0, 2, {0.4, 2.5}, "border of a band: no line is made"},
    [PAPER_GUIDE] = {0.2, 0, 4, {5, 1, 0.5, 1}, "guide: scribe lightly, never cut"},
    [PAPER_ROW] = {0.15, 0.3, 2, {0.3, 1}, "middle of a row"},
    [PAPER_FACE] = {0.12, 0.6, 0, {0}, "impression"},
    [PAPER_FINE] = {0.15, 0, 0, {0}, ""},
};

void paper_line_style(cairo_t *cr, paper_style which) {
    const style *s = &styles[which];
    cairo_set_line_width(cr, s->width);
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_MITER);
    cairo_set_source_rgb(cr, s->shade, s->shade, s->shade);
    cairo_set_dash(cr, s->dashes, s->dash_count, 0);
}

const char *paper_style_words(paper_style which) {
    return styles[which].words;
}

void paper_segment(cairo_t *cr, double x0, double y0, double x1, double y1) {
    cairo_move_to(cr, x0, y0);
    cairo_line_to(cr, x1, y1);
    cairo_stroke(cr);
}
