/* The piece from above. Rows are lines where the impressions are too small for the cells, and then it says so. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/inner.h"

typedef struct sheet {
    show_grid *grid;
    show_rect where; /* the drawing, without the words under it */
    const show_view *view;
    bw_box box;
    double per_column, per_line; /* mm of one cell */
    double left, top;            /* mm at the drawing's upper left */
} sheet;

#define SAMPLES_MOST 200000 /* a bound on the work of one curve, far above what a screen needs */

static const char marks[] = "ox:+=%~*";

char show_band_mark(size_t band, size_t selected) {
    return band == selected ? '#' : marks[band % (sizeof marks - 1)];
}

/* On the border of two cells the last digits must not decide: everything is drawn a trifle nearer to the middle. */
#define PULL (1 - 1e-6)

static bool cell_of(const sheet *s, bw_point p, int *x, int *y) {
    double middle_x = (s->box.left + s->box.right) / 2, middle_y = (s->box.bottom + s->box.top) / 2;
    double column = (middle_x + (p.x - middle_x) * PULL - s->left) / s->per_column;
    double line = (s->top - middle_y - (p.y - middle_y) * PULL) / s->per_line;
    if (!(column >= -0.5 && line >= -0.5 && column <= s->where.width && line <= s->where.height))
        return false;
    /* What lies on the very rim belongs to the last cell. */
    int cx = (int)fmin(fmax(column, 0), s->where.width - 1), cy = (int)fmin(fmax(line, 0), s->where.height - 1);
    *x = s->where.x + cx;
    *y = s->where.y + cy;
    return true;
}

static void mark_at(const sheet *s, bw_point p, char mark, unsigned look) {
    int x, y;
    if (cell_of(s, p, &x, &y))
        show_cell_put(s->grid, x, y, (unsigned char)mark, look);
}

static void draw_curve(const sheet *s, const bw_curve *curve, char mark, unsigned look) {
    double length = bw_curve_length(curve), fine = fmin(s->per_column, s->per_line) / 2;
    if (bw_curve_loops(curve) == 0 || !(length > 0) || !(fine > 0))
        return;
    int samples = (int)fmin(SAMPLES_MOST, ceil(length / fine));
    for (int i = 0; i <= samples; i++)
        mark_at(s, bw_curve_at(curve, fmin(length, length * i / samples)).at, mark, look);
}

static void draw_parallel(const sheet *s, double from_edge, char mark, unsigned look) {
    bw_curve *curve;
    if (!(from_edge >= 0) || bw_curve_offset(s->view->plan->edge, from_edge, NULL, &curve) != BW_OK)
        return;
    draw_curve(s, curve, mark, look);
    bw_curve_destroy(curve);
}

static void draw_stroke(const sheet *s, bw_point from, bw_point to, char mark, unsigned look) {
    double fine = fmin(s->per_column, s->per_line) / 2;
    int samples = (int)fmin(1000, ceil(hypot(to.x - from.x, to.y - from.y) / fine)) + 1;
    for (int i = 0; i <= samples; i++) {
        double share = (double)i / samples;
        mark_at(s, (bw_point){from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share}, mark, look);
    }
}

/* A face as its two rails and its bar, or the outline of a border stamp. */
static void draw_face(const sheet *s, const bw_band_plan *band, const bw_placing *at, char mark, unsigned look) {
    double c = cos(at->turn), n = sin(at->turn), half = band->face.length / 2, high = band->face.width / 2;
    bool basket = band->fill == BW_FILL_BASKET;
    if (basket)
        high -= band->face.rail / 2;
    bw_point corner[4];
    for (int i = 0; i < 4; i++) {
        double u = i == 0 || i == 3 ? -half : half, v = i < 2 ? -high : high;
        corner[i] = (bw_point){at->at.x + u * c - v * n, at->at.y + u * n + v * c};
    }
    draw_stroke(s, corner[0], corner[1], mark, look);
    draw_stroke(s, corner[2], corner[3], mark, look);
    bw_point low = {at->at.x + high * n, at->at.y - high * c}, top = {at->at.x - high * n, at->at.y + high * c};
    if (basket) {
        draw_stroke(s, low, top, mark, look);
    } else {
        draw_stroke(s, corner[1], corner[2], mark, look);
        draw_stroke(s, corner[3], corner[0], mark, look);
    }
}

/* Large enough that neighbours and rows stay apart: then every impression is drawn. */
static bool can_draw_faces(const sheet *s, const bw_band_plan *band) {
    double cell = fmax(s->per_column, s->per_line);
    if (band->fill == BW_FILL_STITCH)
        return band->usual >= 2 * cell;
    double least = fmin(band->face.length, band->face.width);
    return least >= 3 * cell && (band->fill != BW_FILL_BASKET || band->rows_apart >= 3 * cell);
}

static bool draw_faces(const sheet *s, size_t index, char mark, unsigned look) {
    const bw_band_plan *band = &s->view->plan->bands[index];
    bw_placing *list;
    size_t count;
    if (bw_placings_create(&s->view->project->layout, s->view->plan, index, NULL, &list, &count) != BW_OK)
        return false;
    for (size_t i = 0; i < count; i++) {
        if (band->fill == BW_FILL_STITCH)
            mark_at(s, list[i].at, mark, look);
        else
            draw_face(s, band, &list[i], mark, look);
    }
    bw_placings_release(list, NULL);
    return true;
}

/* Returns whether its impressions were drawn one by one, or there are none. */
static bool draw_band(const sheet *s, size_t index) {
    const bw_band_plan *band = &s->view->plan->bands[index];
    bool selected = index == s->view->band;
    unsigned look = selected ? SHOW_BOLD : SHOW_PLAIN;
    char mark = show_band_mark(index, s->view->band);
    draw_parallel(s, band->outer, '.', SHOW_DIM);
    draw_parallel(s, band->inner, '.', SHOW_DIM);
    if (band->fill == BW_FILL_PLAIN || band->guide_gone)
        return true;
    if (can_draw_faces(s, band) && draw_faces(s, index, mark, look))
        return true;
    for (size_t i = 0; i < band->row_count; i++)
        if (band->rows[i].impressions > 0)
            draw_parallel(s, fmin(fmax(band->rows[i].from_edge, band->outer), band->inner), mark, look);
    return band->row_count == 0;
}

/* The spot of a line's extreme: on the guide, moved to the line. */
static void mark_extreme(const sheet *s, const bw_curve *guide, bool widest) {
    const bw_band_plan *band = show_view_band(s->view);
    const bw_weave_line *line = show_extreme_line(band, widest);
    if (!line || bw_curve_loops(guide) == 0)
        return;
    const bw_extreme *at = widest ? &line->widest : &line->tightest;
    bw_spot spot = bw_curve_at(guide, at->along + (widest ? line->step_most : line->step_least) / 2);
    double delta = line->from_edge - band->guide_from_edge;
    bw_point p = {spot.at.x - delta * sin(spot.heading), spot.at.y + delta * cos(spot.heading)};
    mark_at(s, p, widest ? 'W' : 'T', SHOW_BOLD | SHOW_WARN);
}

static void draw_marks(const sheet *s) {
    const bw_plan *plan = s->view->plan;
    const bw_band_plan *band = show_view_band(s->view);
    bw_curve *guide;
    bool tight = show_tightest(plan, s->view->band) > 0, wide = show_widest(plan, s->view->band) > 0;
    if (band && band->fill != BW_FILL_PLAIN && !band->guide_gone && (tight || wide) &&
        bw_guide_create(plan, s->view->band, NULL, &guide) == BW_OK) {
        if (tight)
            mark_extreme(s, guide, false);
        if (wide)
            mark_extreme(s, guide, true);
        bw_curve_destroy(guide);
    }
    mark_at(s, bw_curve_at(plan->edge, plan->start_along).at, 'S', SHOW_BOLD);
    bw_placing placing;
    if (s->view->impression > 0 &&
        show_impression_place(s->view->project, plan, s->view->band, s->view->impression, &placing))
        mark_at(s, placing.at, '@', SHOW_BOLD | SHOW_REVERSE);
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
        bw_curve *inner;
        if (plan->bands[i].inner_gone || bw_curve_offset(plan->edge, plan->bands[i].inner, NULL, &inner) != BW_OK)
            continue;
        if (bw_curve_loops(inner) > 0)
            grow(&box, bw_curve_box(inner));
        bw_curve_destroy(inner);
    }
    return box;
}

static bool fit_sheet(sheet *s, double aspect) {
    double wide = s->box.right - s->box.left, high = s->box.top - s->box.bottom;
    if (s->where.width < 1 || s->where.height < 1 || !(wide + high > 0))
        return false;
    if (!(aspect > 0))
        aspect = 2;
    s->per_column = fmax(wide / s->where.width, high / (s->where.height * aspect));
    s->per_line = s->per_column * aspect;
    s->left = (s->box.left + s->box.right) / 2 - s->per_column * s->where.width / 2;
    s->top = (s->box.top + s->box.bottom) / 2 + s->per_line * s->where.height / 2;
    return s->per_column > 0;
}

/* What is not drawn one by one is said, in as many words as there is room for. */
static const char *rows_note(int width) {
    return width >= 46   ? "impressions too small to draw here: rows shown"
           : width >= 30 ? "impressions too small: rows"
           : width >= 18 ? "too small: rows"
                         : "rows";
}

/* The letters of the drawing with their steps: a letter only where there is such a place. */
static void say_steps(show_words *out, const show_view *view, bool roomy) {
    const bw_band_plan *band = show_view_band(view);
    const bw_weave_line *tight = band ? show_extreme_line(band, false) : NULL,
                        *wide = band ? show_extreme_line(band, true) : NULL;
    show_start(out);
    if (!tight || !wide)
        return;
    show_figure_text least = show_length(view->project, tight->step_least),
                     most = show_length(view->project, wide->step_most);
    bool has_tight = show_tightest(view->plan, view->band) > 0, has_wide = show_widest(view->plan, view->band) > 0;
    if (has_tight)
        show_say(out, "%s %s  ", roomy ? "T tightest" : "T", least.text);
    if (has_wide)
        show_say(out, "%s %s  ", roomy ? "W widest" : "W", most.text);
    if (!has_tight && !has_wide && !show_steps_vary(band))
        show_say(out, "all steps %s  ", least.text);
    else if (!has_tight && !has_wide)
        show_say(out, "steps %s to %s  ", least.text, most.text);
}

/* Which mark is which band, then the letters, then what is not drawn. */
static void legend(show_grid *grid, show_rect where, const show_view *view, bool rows_only) {
    int x = where.x, right = where.x + where.width;
    for (size_t i = 0; i < view->plan->band_count && x < right; i++) {
        bool selected = i == view->band;
        show_words one = {""};
        show_say(&one, "%c %s%s", view->plan->bands[i].fill == BW_FILL_PLAIN ? '.' : show_band_mark(i, view->band),
                 show_band_name(view->project, i), selected ? " (in hand)" : "");
        /* A name is said whole or not at all, but for the first. */
        if (x > where.x && x + (int)strlen(one.text) > right)
            break;
        x += show_put(grid, x, where.y, right - x, selected ? SHOW_BOLD : SHOW_PLAIN, one.text) + 2;
    }
    if (where.height < 2)
        return;
    x = where.x + show_put(grid, where.x, where.y + 1, where.width, SHOW_PLAIN, "S start  ");
    show_words steps;
    say_steps(&steps, view, where.width >= 46);
    x += show_put(grid, x, where.y + 1, right - x, SHOW_PLAIN, steps.text);
    if (view->impression > 0)
        show_putf(grid, x, where.y + 1, right - x, SHOW_PLAIN, "@ impression %d", view->impression);
    if (where.height > 2 && rows_only)
        show_put(grid, where.x, where.y + 2, where.width, SHOW_DIM, rows_note(where.width));
}

void show_preview(show_grid *grid, show_rect where, const show_view *view) {
    where = show_inside(grid, where);
    if (where.width < 1 || where.height < 1 || !view->plan || !view->plan->edge)
        return;
    int words = where.height >= 9 && where.width >= 16 ? 3 : where.height >= 4 ? 1 : 0;
    sheet s = {.grid = grid, .where = where, .view = view, .box = piece_box(view->plan)};
    s.where.height -= words;
    if (!fit_sheet(&s, view->cell_aspect))
        return;
    draw_curve(&s, view->plan->edge, '.', SHOW_PLAIN);
    bool all = true;
    for (size_t i = 0; i < view->plan->band_count; i++)
        if (i != view->band)
            all = draw_band(&s, i) && all;
    if (show_view_band(view))
        all = draw_band(&s, view->band) && all;
    draw_marks(&s);
    show_rect under = show_from_line(where, where.height - words);
    if (words == 1 && !all)
        show_put(grid, under.x, under.y, under.width, SHOW_DIM, rows_note(under.width));
    else if (words > 0)
        legend(grid, under, view, !all);
}
