/* paper/draw.h - what the files of this room draw with: a page in mm, y downwards from its upper left corner. */
#ifndef PAPER_DRAW_H
#define PAPER_DRAW_H

#include <cairo/cairo.h>

#include "paper/paper.h"

/* Begins a page of so many mm (the one before ends) and returns what draws on it: mm, y downwards, until the next page
 * begins or the book is written. Never NULL; errors of drawing are kept and told by paper_book_write. */
cairo_t *paper_page(paper_book *book, double width, double height);

/* ---- text: always the same font, put into the file; what comes from files is cleaned ---- */

typedef enum paper_align { PAPER_LEFT, PAPER_MIDDLE, PAPER_RIGHT } paper_align;

#define PAPER_SMALL 2.5 /* mm, height of a letter's body */
#define PAPER_USUAL 3.2
#define PAPER_LARGE 5.0

void paper_font(cairo_t *cr, double size, bool bold);
double paper_text_width(cairo_t *cr, const char *text);
/* x, y: where the baseline begins, has its middle or ends. Returns the width. */
double paper_text(cairo_t *cr, double x, double y, paper_align align, const char *text);
__attribute__((format(printf, 5, 6))) double paper_textf(cairo_t *cr, double x, double y, paper_align align,
                                                         const char *format, ...);
/* The same on white, so that it can be read where lines lie under it. */
void paper_label(cairo_t *cr, double x, double y, paper_align align, const char *text);
/* Broken at blanks to so many mm; y: first baseline. Returns the baseline after the last. draw false: only measures. */
double paper_paragraph(cairo_t *cr, double x, double y, double width, const char *text, bool draw);
/* Text cut to so many mm, with "..." at its end where it is. */
void paper_text_within(cairo_t *cr, double x, double y, double width, const char *text);
/* Of the font in hand: mm from one baseline to the next. */
double paper_leading(cairo_t *cr);

/* ---- lines: told apart by their dashes, not by colour ---- */

typedef enum paper_style {
    PAPER_EDGE,   /* the piece's edge: thick, whole */
    PAPER_BLANK,  /* the blank: long dash, two dots */
    PAPER_CUT,    /* long dashes */
    PAPER_SCRIBE, /* short dashes */
    PAPER_BORDER, /* a band's border that is neither cut nor scribed: sparse dots */
    PAPER_GUIDE,  /* dash and dot */
    PAPER_ROW,    /* dots */
    PAPER_FACE,   /* an impression: faint */
    PAPER_FINE,   /* frames, scales, marks */
    PAPER_STYLES
} paper_style;

/* Sets width, dashes and shade for the next stroke. */
void paper_line_style(cairo_t *cr, paper_style style);
/* What a maker calls it: "border line, cut". */
const char *paper_style_words(paper_style style);
void paper_segment(cairo_t *cr, double x0, double y0, double x1, double y1);

/* A curve as a path of lines and arcs. The matrix of cr must map the piece's mm (y upwards). */
void paper_curve(cairo_t *cr, const bw_curve *curve);

#endif
