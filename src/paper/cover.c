/* cover.c - the page of words: how to use the template, divider settings, bands, legend, page map. */
#include <math.h>
#include <stdlib.h>

#include "bandwright/blank.h"
#include "paper/template.h"

#define MAP_HEIGHT 55.0 /* mm, at most */
#define MAP_WIDTH 120.0

static void say_use(paper_flow *flow, const paper_tiling *tiling) {
    const paper_frame *f = flow->frame;
    show_words words;
    paper_flow_head(flow, "How to use it");
    paper_flow_text(
        flow, 0,
        "Print at 100 %, without fitting to the page. Then lay a ruler on the check scales of every page, "
        "lying and upright: 100 mm and 4 in must be right in both directions. If they are not, do not cut.");
    if (tiling->count > 1)
        paper_flow_text(flow, 0,
                        "Join the pages by the map below: cut or fold one page along its thin dotted line, lay it on "
                        "its neighbour so that the round marks with the same letters lie on each other, and tape it.");
    paper_flow_text(flow, 0,
                    "Strike the trial strips on scrap of the same leather first. If what ten impressions take is not "
                    "what the strip says, measure the stamp again before you touch the piece.");
    if (f->asked.mirror)
        paper_flow_text(flow, 0,
                        "The piece is drawn mirrored: trace it on the flesh side. The trial strips are not mirrored.");
    bw_blank blank = bw_blank_of(&f->project->layout, f->plan);
    if (bw_curve_closed(f->plan->edge) && f->project->layout.growth > 0 && blank.length > 0)
        paper_flow_text(flow, 0,
                        "Drawn as it is laid out; the finished piece will be larger, as the leather grows under the "
                        "hammer.");
    paper_flow_text(flow, 0, show_leather_sentence(&words, f->project, f->plan));
}

static void say_lines(paper_flow *flow) {
    const paper_frame *f = flow->frame;
    if (f->plan->line_count == 0)
        return;
    paper_flow_head(flow, "Lines, by their distance from the edge");
    for (size_t i = 0; i < f->plan->line_count; i++) {
        show_words set_to, what;
        show_line_words(f->project, &f->plan->lines[i], &set_to, &what);
        paper_flow_need(flow, 5);
        cairo_set_source_rgb(f->cr, 0, 0, 0);
        paper_font(f->cr, PAPER_USUAL, true);
        paper_text(f->cr, flow->window.x + 20, flow->y + PAPER_USUAL, PAPER_RIGHT, set_to.text);
        paper_flow_text(flow, 23, what.text);
    }
}

static void say_bands(paper_flow *flow) {
    const paper_frame *f = flow->frame;
    bool headed = false;
    for (size_t i = 0; i < f->plan->band_count; i++) {
        const bw_band_plan *band = &f->plan->bands[i];
        show_words closure;
        char text[700];
        if (band->fill == BW_FILL_PLAIN)
            continue;
        if (!headed)
            paper_flow_head(flow, "Bands");
        headed = true;
        int tool = f->project->bands[i].tool;
        const char *id = tool >= 0 && (size_t)tool < f->project->layout.tool_count ? f->project->tools[tool].id : NULL;
        bool works = band->fit.verdict >= BW_TIGHT;
        snprintf(text, sizeof text, "%.40s, with %.40s: %d %s; %.400s%s%s%s", f->project->bands[i].name,
                 id ? id : "no tool", show_struck(f->plan, i),
                 band->fill == BW_FILL_STITCH ? "holes" : "impressions on the guide",
                 show_closure_sentence(&closure, f->project, f->plan, i, bw_worst_run(band)),
                 works ? "" : ". It does not fit: ", works ? "" : bw_verdict_word(band->fit.verdict),
                 works ? "" : "; see the plan before you cut");
        paper_flow_text(flow, 0, text);
    }
}

typedef void draw_sample(cairo_t *cr, double x, double y, int style);

static void sample_line(cairo_t *cr, double x, double y, int style) {
    paper_line_style(cr, (paper_style)style);
    paper_segment(cr, x, y, x + 22, y);
}

static void sample_start(cairo_t *cr, double x, double y, int style) {
    sample_line(cr, x, y, style);
    cairo_set_line_width(cr, 0.5);
    paper_segment(cr, x + 6, y + 1, x + 6, y - 2);
    cairo_set_line_width(cr, 0.25);
    paper_segment(cr, x + 6, y - 1.2, x + 12, y - 1.2);
    paper_segment(cr, x + 12, y - 1.2, x + 10.6, y - 1.8);
    paper_segment(cr, x + 12, y - 1.2, x + 10.6, y - 0.6);
}

static void sample_check(cairo_t *cr, double x, double y, int style) {
    sample_line(cr, x, y, style);
    paper_line_style(cr, PAPER_FINE);
    cairo_set_line_width(cr, 0.3);
    paper_segment(cr, x + 6, y + 1.6, x + 6, y - 1.6);
    cairo_set_source_rgb(cr, 0, 0, 0);
    paper_font(cr, 2.2, true);
    paper_text(cr, x + 7, y - 0.8, PAPER_LEFT, "rim 20");
}

static void sample_hole(cairo_t *cr, double x, double y, int style) {
    sample_line(cr, x, y, style);
    bw_band_plan stitch = {.fill = BW_FILL_STITCH};
    for (int i = 0; i < 5; i++)
        paper_face(cr, &stitch, (bw_point){x + 2 + 4 * i, y}, 0);
}

static void sample_join(cairo_t *cr, double x, double y, int style) {
    (void)style;
    paper_join_mark(cr, x + 6, y - 0.5);
}

static void legend_row(paper_flow *flow, draw_sample *draw, paper_style style, const char *words) {
    paper_flow_need(flow, 6);
    draw(flow->frame->cr, flow->window.x + 1, flow->y + 2.4, (int)style);
    paper_flow_text(flow, 27, words);
    flow->y += 0.8;
}

static void say_legend(paper_flow *flow, const paper_tiling *tiling) {
    unsigned styles = paper_frame_styles(flow->frame);
    bool holes = false, struck = false;
    paper_flow_head(flow, "What the lines mean");
    for (int style = 0; style < PAPER_FINE; style++)
        if ((styles & (1u << style)) != 0)
            legend_row(flow, sample_line, (paper_style)style, paper_style_words((paper_style)style));
    for (size_t i = 0; i < flow->frame->plan->band_count; i++) {
        bool stitched = flow->frame->plan->bands[i].fill == BW_FILL_STITCH;
        holes = holes || stitched;
        struck = struck || flow->frame->plan->bands[i].strikes > 0;
    }
    legend_row(flow, sample_start, PAPER_EDGE, "start mark; the round goes the way of the arrow");
    if (struck)
        legend_row(flow, sample_check, PAPER_GUIDE,
                   "check mark of a band: after so many impressions the middle of the next one lies here; where its "
                   "name does not stand beside it, a fine grey line leads to it");
    if (holes)
        legend_row(flow, sample_hole, PAPER_GUIDE, "stitch holes");
    if (tiling->count > 1) {
        flow->y += 1.5;
        legend_row(flow, sample_join, PAPER_FINE, "joining mark, named by the two pages that have it");
        flow->y += 1.5;
    }
}

/* The tiles with their page numbers and the edge within them. */
static void draw_map(paper_flow *flow, const paper_tiling *t) {
    const paper_frame *f = flow->frame;
    double across = t->width - PAPER_OVERLAP, down = t->height - PAPER_OVERLAP;
    double width = t->columns * across + PAPER_OVERLAP, height = t->rows * down + PAPER_OVERLAP;
    double scale = fmin(fmin(MAP_WIDTH, flow->window.width - 4) / width, MAP_HEIGHT / height);
    paper_flow_need(flow, height * scale + 14);
    paper_flow_head(flow, "Page map");
    cairo_t *cr = f->cr;
    double left = flow->window.x + 2, top = flow->y + 1;
    const paper_tile first = {.row = 0, .column = 0};
    cairo_matrix_t m = paper_tiling_matrix(t, &first, (paper_rect){0, 0, 0, 0});
    cairo_save(cr);
    cairo_translate(cr, left, top);
    cairo_scale(cr, scale, scale);
    cairo_transform(cr, &m);
    paper_curve(cr, f->plan->edge);
    cairo_restore(cr);
    paper_line_style(cr, PAPER_EDGE);
    cairo_stroke(cr);
    paper_line_style(cr, PAPER_FINE);
    for (int i = 0; i < t->rows * t->columns; i++) {
        const paper_tile *tile = paper_tiling_tile(t, i / t->columns, i % t->columns);
        if (!tile)
            continue;
        double x = left + (tile->column * across) * scale, y = top + (tile->row * down) * scale;
        cairo_rectangle(cr, x, y, t->width * scale, t->height * scale);
        cairo_stroke(cr);
    }
    paper_font(cr, fmin(4.0, down * scale * 0.4), true);
    cairo_set_source_rgb(cr, 0, 0, 0);
    for (int i = 0; i < t->rows * t->columns; i++) {
        const paper_tile *tile = paper_tiling_tile(t, i / t->columns, i % t->columns);
        char number[16];
        if (!tile)
            continue;
        snprintf(number, sizeof number, "%d", f->pages - t->count + tile->number);
        paper_label(cr, left + (tile->column * across + t->width / 2) * scale,
                    top + (tile->row * down + t->height / 2) * scale + 1.4, PAPER_MIDDLE, number);
    }
    flow->y = top + height * scale + 2;
}

void paper_cover(paper_flow *flow, const paper_tiling *tiling) {
    say_use(flow, tiling);
    if (tiling->count > 1)
        draw_map(flow, tiling);
    say_lines(flow);
    say_bands(flow);
    say_legend(flow, tiling);
}
