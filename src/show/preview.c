/* The piece from above. Rows are lines where the impressions are too small for the cells, and then it says so. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/sheet.h"

static const char marks[] = "ox:+=%~*";

char show_band_mark(size_t band, size_t selected) {
    return band == selected ? '#' : marks[band % (sizeof marks - 1)];
}

static void draw_parallel(const sheet *s, double from_edge, sheet_pen pen) {
    bw_curve *curve;
    if (!(from_edge >= 0) || bw_curve_offset(s->view->plan->edge, from_edge, NULL, &curve) != BW_OK)
        return;
    sheet_curve(s, &pen, curve);
    bw_curve_destroy(curve);
}

static void draw_line(const sheet *s, size_t band, bw_which which, sheet_pen pen) {
    sheet_curve(s, &pen, bw_plan_line(s->view->plan, band, which));
}

/* A face as its two rails and its bar, or the outline of a border stamp. */
static void draw_face(const sheet *s, const bw_band_plan *band, const bw_placing *at, sheet_pen *pen) {
    double c = cos(at->turn), n = sin(at->turn), half = band->face.length / 2, high = band->face.width / 2;
    bool basket = band->fill == BW_FILL_BASKET;
    if (!sheet_meets(s, at->at, half + high))
        return;
    if (basket)
        high -= band->face.rail / 2;
    bw_point corner[4];
    for (int i = 0; i < 4; i++) {
        double u = i == 0 || i == 3 ? -half : half, v = i < 2 ? -high : high;
        corner[i] = (bw_point){at->at.x + u * c - v * n, at->at.y + u * n + v * c};
    }
    sheet_stroke(s, pen, corner[0], corner[1]);
    sheet_stroke(s, pen, corner[2], corner[3]);
    bw_point low = {at->at.x + high * n, at->at.y - high * c}, top = {at->at.x - high * n, at->at.y + high * c};
    if (basket) {
        sheet_stroke(s, pen, low, top);
    } else {
        sheet_stroke(s, pen, corner[1], corner[2]);
        sheet_stroke(s, pen, corner[3], corner[0]);
    }
}

/* Large enough that neighbours and rows stay apart: then every impression is drawn. */
static bool can_draw_faces(const sheet *s, const bw_band_plan *band) {
    double cell = sheet_coarse(s);
    if (band->fill == BW_FILL_STITCH)
        return band->usual >= 2 * cell;
    double least = fmin(band->face.length, band->face.width);
    return least >= 3 * cell && (band->fill != BW_FILL_BASKET || band->rows_apart >= 3 * cell);
}

/* Of holes none is left out, however a line of this band would be broken. */
static void draw_hole(const sheet *s, bw_point at, sheet_pen pen) {
    pen.every = 1;
    sheet_point(s, &pen, at);
}

static bool draw_faces(const sheet *s, size_t index, sheet_pen *pen) {
    const bw_band_plan *band = &s->view->plan->bands[index];
    bw_placing *list;
    size_t count;
    if (bw_placings_create(s->view->plan, index, NULL, &list, &count) != BW_OK)
        return false;
    for (size_t i = 0; i < count; i++) {
        if (band->fill == BW_FILL_STITCH)
            draw_hole(s, list[i].at, *pen);
        else
            draw_face(s, band, &list[i], pen);
    }
    bw_placings_release(list, NULL);
    return true;
}

/* The band in hand is a whole line of dots, others are broken ones. */
static int dots_apart(size_t band, size_t selected) {
    return band == selected ? 1 : 2 + (int)(band % 3);
}

/* How truly bands were drawn. */
typedef enum drawn_as { DRAWN_WHOLE, DRAWN_ROWS, DRAWN_MERGED } drawn_as;

static drawn_as draw_band(const sheet *s, size_t index) {
    const bw_band_plan *band = &s->view->plan->bands[index];
    bool selected = index == s->view->band;
    const sheet_pen pen = {.mark = show_band_mark(index, s->view->band),
                           .look = selected ? SHOW_BOLD : SHOW_PLAIN,
                           .every = dots_apart(index, s->view->band)},
                    border = {.mark = '.', .look = SHOW_DIM, .every = 6};
    draw_line(s, index, BW_OUTER, border);
    draw_line(s, index, BW_INNER, border);
    if (band->fill == BW_FILL_PLAIN || band->guide_gone)
        return DRAWN_WHOLE;
    sheet_pen faces = pen;
    if (can_draw_faces(s, band) && draw_faces(s, index, &faces))
        return DRAWN_WHOLE;
    for (size_t i = 0; i < band->row_count; i++)
        if (band->rows[i].impressions > 0)
            draw_parallel(s, fmin(fmax(band->rows[i].from_edge, band->outer), band->inner), pen);
    if (band->row_count == 0)
        return DRAWN_WHOLE;
    return band->row_count > 1 && band->rows_apart < sheet_coarse(s) ? DRAWN_MERGED : DRAWN_ROWS;
}

static void grow(bw_box *box, bw_box other) {
    box->left = fmin(box->left, other.left);
    box->right = fmax(box->right, other.right);
    box->bottom = fmin(box->bottom, other.bottom);
    box->top = fmax(box->top, other.top);
}

/* An open edge has its leather beside it: the bands are not inside its own box. */
static bw_box piece_box(const bw_plan *plan) {
    bw_box box = bw_curve_box(plan->edge);
    if (bw_curve_closed(plan->edge))
        return box;
    for (size_t i = 0; i < plan->band_count; i++) {
        const bw_curve *inner = bw_plan_line(plan, i, BW_INNER);
        if (bw_curve_loops(inner) > 0)
            grow(&box, bw_curve_box(inner));
    }
    return box;
}

/* What is not drawn one by one is said, in as many words as there is room for. */
static const char *rows_note(drawn_as how, int width) {
    if (how == DRAWN_WHOLE)
        return NULL;
    if (how == DRAWN_MERGED)
        return width >= 52   ? "too small to draw truly here: rows merge into each other"
               : width >= 22 ? "too small: rows merge"
               : width >= 10 ? "rows merge"
                             : "rows";
    return width >= 46   ? "impressions too small to draw here: rows shown"
           : width >= 30 ? "impressions too small: rows"
           : width >= 18 ? "too small: rows"
                         : "rows";
}

static drawn_as draw_bands(const sheet *s) {
    const show_view *view = s->view;
    drawn_as all = DRAWN_WHOLE, one;
    for (size_t i = 0; i <= view->plan->band_count; i++) {
        size_t band = i == view->plan->band_count ? view->band : i; /* the one in hand last, over the others */
        if ((i == view->band && i < view->plan->band_count) || band >= view->plan->band_count)
            continue;
        one = draw_band(s, band);
        all = one > all ? one : all;
    }
    if (view->sight) {
        view->sight->drawn = s->per_column;
        view->sight->rows_only = all != DRAWN_WHOLE;
        view->sight->rows_merge = all == DRAWN_MERGED;
    }
    return all;
}

void show_preview(show_grid *grid, show_rect where, const show_view *asked) {
    show_view possible = *asked, *const view = &possible;
    where = show_inside(grid, where);
    if (where.width < 1 || where.height < 1 || !view->plan || !view->plan->edge)
        return;
    if (!grid->unicode) /* so the legend does not speak of dots */
        possible.fine = SHOW_FINE_NONE;
    show_spot *spots = calloc(SHOW_MARKS_MOST, sizeof *spots);
    size_t count = !spots        ? 0
                   : view->sight ? show_marks(view->project, view->plan, view->band, spots, SHOW_MARKS_MOST)
                                 : show_marks_brief(view->project, view->plan, view->band, spots, SHOW_MARKS_MOST);
    int words = show_legend_lines(view, where, spots, count);
    sheet s = {.grid = grid, .where = where, .view = view, .box = piece_box(view->plan)};
    s.where.height -= words;
    if (!sheet_open(&s, view->cell_aspect)) {
        free(spots);
        return;
    }
    sheet_pen edge = {.mark = '.', .every = 1};
    sheet_curve(&s, &edge, view->plan->edge);
    drawn_as how = draw_bands(&s);
    sheet_close(&s);
    show_spots_draw(&s, spots, count);
    show_rect under = show_from_line(where, where.height - words);
    const char *note = rows_note(how, under.width);
    if (words == 1 && note)
        show_put(grid, under.x, under.y, under.width, SHOW_DIM, note);
    else if (words > 0)
        show_legend(grid, under, view, spots, count, note);
    free(spots);
}
