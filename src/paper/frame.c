/* frame.c - what stands on every page of a template: whose it is, the check scales, how to print it. */
#include <math.h>

#include "paper/template.h"

#define HEAD 7.0    /* mm above the window */
#define FOOT 15.0   /* below it: scale, legend, caution */
#define SIDE 10.0   /* right of it: the upright scale */
#define RULER 4.0   /* of a scale, from its line to the ends of its numbers */
#define BESIDE 80.0 /* the legend stands beside the lying scale where there is so much room; else above it, */
#define ABOVE 12.0  /* which takes so much more */

static const char caution[] = "Measure the check scales before cutting: print at 100 %, no fitting to the page.";

static void sides(const paper_size *paper, bool landscape, double *width, double *height) {
    *width = landscape ? paper->height : paper->width;
    *height = landscape ? paper->width : paper->height;
}

/* mm from the left side of a page to a legend beside the lying scale; less than 0: there is no room. */
static double beside_scale(double width) {
    double left = PAPER_MARGIN + 4 * BW_MM_PER_INCH + 5;
    return width - PAPER_MARGIN - left < BESIDE ? -1 : left;
}

paper_rect paper_frame_window(const paper_size *paper, bool landscape) {
    double width, height;
    sides(paper, landscape, &width, &height);
    return (paper_rect){PAPER_MARGIN, PAPER_MARGIN + HEAD, width - 2 * PAPER_MARGIN - SIDE,
                        height - 2 * PAPER_MARGIN - HEAD - FOOT - (beside_scale(width) < 0 ? ABOVE : 0)};
}

/* One side of a scale: `count` ticks `apart`, `long_every` and `middle_every` of them longer, above (-1) or below. */
static void ticks(cairo_t *cr, double apart, int count, int middle_every, int long_every, double way) {
    for (int i = 0; i <= count; i++) {
        double length = i % long_every == 0 ? 2.6 : i % middle_every == 0 ? 1.8 : 1.1;
        cairo_move_to(cr, i * apart, 0);
        cairo_line_to(cr, i * apart, way * length);
    }
    cairo_stroke(cr);
}

/* 100 mm above the line and 4 in below it, from the origin along x. */
static void scale(cairo_t *cr) {
    paper_line_style(cr, PAPER_FINE);
    paper_segment(cr, 0, 0, 4 * BW_MM_PER_INCH, 0);
    ticks(cr, 1, 100, 5, 10, -1);
    ticks(cr, BW_MM_PER_INCH / 8, 32, 4, 8, 1);
    cairo_set_source_rgb(cr, 0, 0, 0);
    paper_font(cr, 2.0, false);
    paper_text(cr, 0.4, -2.8, PAPER_LEFT, "0");
    paper_text(cr, 50, -2.8, PAPER_MIDDLE, "50");
    paper_text(cr, 100, -2.8, PAPER_RIGHT, "100 mm");
    paper_text(cr, 0.4, 4.4, PAPER_LEFT, "0");
    paper_text(cr, 2 * BW_MM_PER_INCH, 4.4, PAPER_MIDDLE, "2");
    paper_text(cr, 4 * BW_MM_PER_INCH, 4.4, PAPER_RIGHT, "4 in");
}

static const char *short_word(paper_style style) {
    static const char *const words[PAPER_STYLES] = {"edge",  "blank",        "cut",        "scribe", "border, no line",
                                                    "guide", "row's middle", "impression", ""};
    return words[style];
}

unsigned paper_frame_styles(const paper_frame *frame) {
    unsigned used = 1u << PAPER_EDGE;
    if (bw_curve_closed(frame->plan->edge) && frame->project->layout.trim > 0)
        used |= 1u << PAPER_BLANK;
    for (size_t i = 0; i < frame->plan->band_count; i++) {
        const bw_band_plan *band = &frame->plan->bands[i];
        for (int which = BW_OUTER; which <= BW_INNER; which++) {
            paper_style style;
            if (paper_line_of(frame->plan, i, (bw_which)which, &style))
                used |= 1u << style;
        }
        if (band->fill == BW_FILL_BASKET && band->row_count > 0)
            used |= 1u << PAPER_ROW;
        if (frame->asked.impressions && band->strikes > 0)
            used |= 1u << PAPER_FACE;
    }
    return used;
}

/* In three lines and as many columns as it takes. */
static void legend(paper_frame *frame, double x, double y, double width) {
    cairo_t *cr = frame->cr;
    unsigned styles = paper_frame_styles(frame);
    int at = 0;
    double column = fmin(width / 3, 34);
    for (int style = 0; style < PAPER_FINE; style++) {
        if ((styles & (1u << style)) == 0)
            continue;
        double left = x + at / 3 * column, line = y + at % 3 * 3.3;
        paper_line_style(cr, (paper_style)style);
        paper_segment(cr, left, line - 0.7, left + 11, line - 0.7);
        cairo_set_source_rgb(cr, 0, 0, 0);
        paper_font(cr, 2.0, false);
        paper_text_within(cr, left + 12, line, column - 12.5, short_word((paper_style)style));
        at++;
    }
}

static void head(paper_frame *frame, const char *what, double left, double right) {
    cairo_t *cr = frame->cr;
    char piece[300], title[400], page[64];
    shop_clean(frame->project->piece.bytes, frame->project->piece.length, piece, sizeof piece);
    snprintf(title, sizeof title, "%.250s: %s", piece, what);
    if (frame->pages > 0)
        snprintf(page, sizeof page, "page %d of %d", frame->page, frame->pages);
    else
        snprintf(page, sizeof page, "page %d of 999", frame->page);
    paper_font(cr, PAPER_USUAL, true);
    double number = paper_text(cr, right, PAPER_MARGIN + 3.2, PAPER_RIGHT, page);
    const char *state = frame->project->layout.finished
                            ? "laid-out sizes: smaller than the finished ones of the file, before the leather grows"
                            : "laid-out sizes, before the leather grows";
    if (frame->asked.mirror)
        state = "MIRRORED, to trace from the flesh side; laid-out sizes";
    paper_font(cr, PAPER_SMALL, false);
    double states = paper_text_width(cr, state), room = right - left - number - 8;
    paper_font(cr, PAPER_USUAL, true);
    double names = fmin(paper_text_width(cr, title), fmax(room - states, room * 0.5));
    paper_text_within(cr, left, PAPER_MARGIN + 3.2, names + 0.01, title);
    paper_font(cr, PAPER_SMALL, false);
    paper_text_within(cr, left + names + 3, PAPER_MARGIN + 3.2, room - names + 1, state);
}

paper_rect paper_frame_page(paper_frame *frame, bool landscape, const char *what) {
    double width, height;
    sides(&frame->asked.paper, landscape, &width, &height);
    cairo_t *cr = frame->cr = paper_page(frame->book, width, height);
    frame->landscape = landscape;
    frame->page++;
    frame->taken_count = 0;
    paper_rect window = paper_frame_window(&frame->asked.paper, landscape);
    head(frame, what, PAPER_MARGIN, width - PAPER_MARGIN);
    double line = height - PAPER_MARGIN - 8.5;
    cairo_save(cr);
    cairo_translate(cr, PAPER_MARGIN + 0.5, line);
    scale(cr);
    cairo_restore(cr);
    cairo_save(cr);
    cairo_translate(cr, width - PAPER_MARGIN - RULER - 0.5, window.y + window.height / 2 + 2 * BW_MM_PER_INCH);
    cairo_rotate(cr, -BW_PI / 2);
    scale(cr);
    cairo_restore(cr);
    double beside = beside_scale(width);
    if (beside < 0)
        legend(frame, PAPER_MARGIN, line - 2.5 - ABOVE, width - 2 * PAPER_MARGIN);
    else
        legend(frame, beside, line - 2.5, width - PAPER_MARGIN - beside);
    cairo_set_source_rgb(cr, 0, 0, 0);
    paper_font(cr, PAPER_SMALL, true);
    paper_text(cr, PAPER_MARGIN, height - PAPER_MARGIN - 0.8, PAPER_LEFT, caution);
    return window;
}
