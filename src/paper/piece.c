/* piece.c - the piece at full size: faces, rows, guides, borders, edge, blank. */
#include <math.h>

#include "bandwright/blank.h"
#include "paper/template.h"

#define HOLE 0.35 /* mm, radius of the dot of a stitch hole */

static const bw_line_plan *made_line(const bw_plan *plan, size_t band, bw_which which) {
    for (size_t i = 0; i < plan->line_count; i++)
        if (plan->lines[i].band == band && plan->lines[i].which == which)
            return &plan->lines[i];
    return NULL;
}

/* Does some line that is made, or the edge, lie at this depth? */
static bool lies_there(const bw_plan *plan, double from_edge) {
    for (size_t i = 0; i < plan->line_count; i++)
        if (fabs(plan->lines[i].from_edge - from_edge) < PAPER_SAME)
            return true;
    return from_edge < PAPER_SAME;
}

bool paper_line_of(const bw_plan *plan, size_t band, bw_which which, paper_style *style) {
    const bw_curve *curve = bw_plan_line(plan, band, which);
    if (!curve || bw_curve_loops(curve) == 0)
        return false;
    const bw_band_plan *made = &plan->bands[band];
    const bw_line_plan *line = made_line(plan, band, which);
    *style = which == BW_GUIDE         ? PAPER_GUIDE
             : !line                   ? PAPER_BORDER
             : line->what == BW_DO_CUT ? PAPER_CUT
                                       : PAPER_SCRIBE;
    return *style != PAPER_BORDER || !lies_there(plan, which == BW_OUTER ? made->outer : made->inner);
}

/* The lines of cr keep their width: the matrix only serves the path. */
static void stroke_curve(cairo_t *cr, const cairo_matrix_t *matrix, const bw_curve *curve, paper_style style) {
    if (!curve || bw_curve_loops(curve) == 0)
        return;
    cairo_save(cr);
    cairo_transform(cr, matrix);
    cairo_new_path(cr);
    paper_curve(cr, curve);
    cairo_restore(cr);
    cairo_save(cr);
    paper_line_style(cr, style);
    cairo_stroke(cr);
    cairo_restore(cr);
}

/* The outline of one impression, added to the path. */
static void add_face(cairo_t *cr, const bw_band_plan *band, bw_point at, double turn) {
    double half = band->face.length / 2, side = band->face.width / 2, bar = band->face.bar / 2;
    cairo_save(cr);
    cairo_translate(cr, at.x, at.y);
    cairo_rotate(cr, turn);
    cairo_new_sub_path(cr);
    if (band->fill == BW_FILL_STITCH) {
        cairo_arc(cr, 0, 0, HOLE, 0, 2 * BW_PI);
        cairo_close_path(cr);
    } else if (band->fill == BW_FILL_BASKET) { /* the bar between the legs */
        cairo_rectangle(cr, -half, -side, 2 * half, 2 * side);
        cairo_rectangle(cr, -bar, -side, 2 * bar, 2 * side);
    } else { /* the side towards the leather is round */
        cairo_move_to(cr, -half, -side);
        cairo_line_to(cr, half, -side);
        cairo_curve_to(cr, half, side * 1.6, -half, side * 1.6, -half, -side);
        cairo_close_path(cr);
    }
    cairo_restore(cr);
}

/* The path of faces. The matrix must be that of the page: lines keep their width. */
static void draw_faces(cairo_t *cr, const bw_band_plan *band) {
    if (band->fill == BW_FILL_STITCH) {
        cairo_set_source_rgb(cr, 0, 0, 0);
        cairo_fill(cr);
    } else {
        paper_line_style(cr, PAPER_FACE);
        cairo_stroke(cr);
    }
}

void paper_face(cairo_t *cr, const bw_band_plan *band, bw_point at, double turn) {
    cairo_new_path(cr);
    add_face(cr, band, at, turn);
    draw_faces(cr, band);
}

/* Leaned impressions print only as far as the border line. */
static void clip_to_band(cairo_t *cr, const bw_plan *plan, size_t index) {
    if (!bw_curve_closed(plan->edge))
        return;
    cairo_new_path(cr);
    paper_curve(cr, bw_plan_line(plan, index, BW_OUTER));
    paper_curve(cr, bw_plan_line(plan, index, BW_INNER));
    cairo_fill_rule_t before = cairo_get_fill_rule(cr);
    cairo_set_fill_rule(cr, CAIRO_FILL_RULE_EVEN_ODD);
    cairo_clip(cr);
    cairo_set_fill_rule(cr, before);
}

double paper_part_place(const bw_run_plan *run, const paper_part *part, double along) {
    double around = run->to - run->from;
    return run->closed && along < part->from - BW_EPS_FIT && around > 0 ? along + around : along;
}

bool paper_part_has(const bw_band_plan *band, const paper_part *part, const bw_placing *place) {
    if (place->run != (int)part->run + 1)
        return false;
    double at = paper_part_place(&band->runs[part->run], part, place->along);
    return at > part->from - BW_EPS_FIT && at < part->to + BW_EPS_FIT;
}

/* part NULL: all that touch the window. One path for all: a page of thousands stays small. */
static void faces(const paper_frame *frame, const cairo_matrix_t *matrix, size_t index, const paper_part *part,
                  const paper_rect *window) {
    const bw_band_plan *band = &frame->plan->bands[index];
    const paper_band_lines *lines = &frame->bands[index];
    cairo_t *cr = frame->cr;
    if (lines->place_count == 0 || (band->fill != BW_FILL_STITCH && !frame->asked.impressions && !part))
        return;
    double reach = hypot(band->face.length, band->face.width) + HOLE;
    cairo_save(cr);
    cairo_transform(cr, matrix);
    if (band->fill == BW_FILL_BASKET)
        clip_to_band(cr, frame->plan, index);
    cairo_new_path(cr);
    for (size_t i = 0; i < lines->place_count; i++) {
        const bw_placing *place = &lines->places[i];
        double x = place->at.x, y = place->at.y;
        cairo_matrix_transform_point(matrix, &x, &y);
        bool seen = !window || (x > window->x - reach && x < window->x + window->width + reach &&
                                y > window->y - reach && y < window->y + window->height + reach);
        if (part ? paper_part_has(band, part, place) : seen)
            add_face(cr, band, place->at, place->turn);
    }
    draw_faces(cr, band);
    cairo_restore(cr);
}

static void rows(const paper_frame *frame, const cairo_matrix_t *matrix, size_t index) {
    const paper_band_lines *lines = &frame->bands[index];
    for (size_t i = 0; i < lines->row_count; i++)
        stroke_curve(frame->cr, matrix, lines->rows[i], PAPER_ROW);
}

static void blank(const paper_frame *frame, const cairo_matrix_t *matrix) {
    double trim = frame->project->layout.trim;
    if (!bw_curve_closed(frame->plan->edge) || !(trim > 0))
        return;
    bw_box box = bw_blank_of(&frame->project->layout, frame->plan).box;
    cairo_save(frame->cr);
    cairo_transform(frame->cr, matrix);
    cairo_rectangle(frame->cr, box.left - trim, box.bottom - trim, box.right - box.left + 2 * trim,
                    box.top - box.bottom + 2 * trim);
    cairo_restore(frame->cr);
    paper_line_style(frame->cr, PAPER_BLANK);
    cairo_stroke(frame->cr);
}

static void band_lines(const paper_frame *frame, const cairo_matrix_t *matrix, size_t band) {
    for (int which = BW_OUTER; which <= BW_INNER; which++) {
        paper_style style;
        if (paper_line_of(frame->plan, band, (bw_which)which, &style))
            stroke_curve(frame->cr, matrix, bw_plan_line(frame->plan, band, (bw_which)which), style);
    }
}

void paper_band(const paper_frame *frame, const cairo_matrix_t *matrix, size_t band, const paper_part *part) {
    rows(frame, matrix, band);
    faces(frame, matrix, band, part, NULL);
    band_lines(frame, matrix, band);
    stroke_curve(frame->cr, matrix, frame->plan->edge, PAPER_EDGE);
}

void paper_piece(const paper_frame *frame, const cairo_matrix_t *matrix, paper_rect window) {
    const bw_plan *plan = frame->plan;
    cairo_t *cr = frame->cr;
    cairo_save(cr);
    cairo_rectangle(cr, window.x, window.y, window.width, window.height);
    cairo_clip(cr);
    for (size_t i = 0; i < plan->band_count; i++)
        rows(frame, matrix, i);
    for (size_t i = 0; i < plan->band_count; i++)
        faces(frame, matrix, i, NULL, &window);
    for (size_t i = 0; i < plan->band_count; i++)
        band_lines(frame, matrix, i);
    stroke_curve(cr, matrix, plan->edge, PAPER_EDGE);
    blank(frame, matrix);
    cairo_restore(cr);
}
