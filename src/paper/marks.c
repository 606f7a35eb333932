/* marks.c - the start mark and the check marks with their numbers, each label where it covers the fewest lines. */
#include <math.h>
#include <stdlib.h>

#include "paper/template.h"

#define TICK 2.2         /* mm to both sides of the guide */
#define LETTERS 2.2      /* mm */
#define LEADER_WIDTH 0.1 /* mm */
#define LEADER_GREY 0.5
#define LEADER 1.0 /* mm farther off than right beside: then a line leads there */
#define WAYS 24    /* directions in which a label is tried, and how far off */
#define RINGS 20
#define RING 0.5      /* mm */
#define START_IN 5.0  /* mm, of the start mark */
#define START_OUT 1.5 /* mm, beyond the edge */
#define BESIDE 1e-6   /* mm along the guide: enough to tell the two sides of a corner */

typedef struct marking {
    paper_frame *frame;
    const cairo_matrix_t *matrix;
    paper_rect window;
    paper_depths *depths;
} marking;

void paper_take(paper_frame *frame, paper_rect place) {
    if (frame->taken_count < PAPER_LABELS_MOST)
        frame->taken[frame->taken_count++] = place;
}

static bool is_free(const marking *m, paper_rect r) {
    const paper_rect *w = &m->window;
    if (r.x < w->x || r.y < w->y || r.x + r.width > w->x + w->width || r.y + r.height > w->y + w->height)
        return false;
    for (int i = 0; i < m->frame->taken_count; i++) {
        const paper_rect *t = &m->frame->taken[i];
        if (r.x < t->x + t->width && t->x < r.x + r.width && r.y < t->y + t->height && t->y < r.y + r.height)
            return false;
    }
    return true;
}

/* A fine line from a spot to a label that does not lie right beside it, so that nobody takes it for another mark's. */
static void leader(cairo_t *cr, double x, double y, double away, paper_rect r) {
    double to_x = fmin(fmax(x, r.x), r.x + r.width), to_y = fmin(fmax(y, r.y), r.y + r.height);
    if (hypot(to_x - x, to_y - y) < away + LEADER)
        return;
    paper_line_style(cr, PAPER_FINE);
    cairo_set_line_width(cr, LEADER_WIDTH);
    cairo_set_source_rgb(cr, LEADER_GREY, LEADER_GREY, LEADER_GREY);
    paper_segment(cr, x, y, to_x, to_y);
}

/* Beside a spot, where fewest lines are covered; nothing if every place is taken. */
static void label(const marking *m, double x, double y, double away, const char *text) {
    cairo_t *cr = m->frame->cr;
    if (m->frame->taken_count + 1 >= PAPER_LABELS_MOST) /* where it would stand on others */
        return;
    paper_font(cr, LETTERS, true);
    double width = paper_text_width(cr, text) + 0.8, height = LETTERS + 0.5;
    paper_rect best = {0};
    int least = 1000;
    for (int ring = 0; ring < RINGS && least > ring; ring++) /* a place farther off must cover less */
        for (int i = 0; i < WAYS; i++) {
            double turn = i * 2 * BW_PI / WAYS, reach = away + ring * RING;
            paper_rect r = {x + cos(turn) * (reach + width / 2) - width / 2,
                            y + sin(turn) * (reach + height / 2) - height / 2, width, height};
            int lines = is_free(m, r) ? paper_crossed(m->depths, r) * 8 + ring : 1000;
            if (lines < least) {
                least = lines;
                best = r;
            }
        }
    if (best.width <= 0)
        return;
    paper_take(m->frame, best);
    leader(cr, x, y, away, best);
    paper_font(cr, LETTERS, true);
    cairo_set_source_rgb(cr, 0, 0, 0);
    paper_label(cr, best.x + 0.4, best.y + LETTERS, PAPER_LEFT, text);
}

static bool on_page(const marking *m, bw_point at, double *x, double *y) {
    *x = at.x;
    *y = at.y;
    cairo_matrix_transform_point(m->matrix, x, y);
    const paper_rect *w = &m->window;
    return *x >= w->x && *x <= w->x + w->width && *y >= w->y && *y <= w->y + w->height;
}

static void segment(const marking *m, bw_spot spot, double ahead, double in, double to_ahead, double to_in) {
    double c = cos(spot.heading), s = sin(spot.heading);
    double x0 = spot.at.x + ahead * c - in * s, y0 = spot.at.y + ahead * s + in * c;
    double x1 = spot.at.x + to_ahead * c - to_in * s, y1 = spot.at.y + to_ahead * s + to_in * c;
    cairo_matrix_transform_point(m->matrix, &x0, &y0);
    cairo_matrix_transform_point(m->matrix, &x1, &y1);
    paper_segment(m->frame->cr, x0, y0, x1, y1);
}

/* A bar across the edge and an arrow in the way in which the round goes. */
static void start_mark(const marking *m) {
    bw_spot spot = bw_curve_at(m->frame->plan->edge, m->frame->plan->start_along);
    double x, y;
    if (!on_page(m, spot.at, &x, &y))
        return;
    cairo_t *cr = m->frame->cr;
    paper_line_style(cr, PAPER_FINE);
    cairo_set_line_width(cr, 0.5);
    segment(m, spot, 0, -START_OUT, 0, START_IN);
    cairo_set_line_width(cr, 0.25);
    segment(m, spot, 0, 1.6, 6, 1.6);
    segment(m, spot, 6, 1.6, 4.6, 0.9);
    segment(m, spot, 6, 1.6, 4.6, 2.3);
    for (double ahead = 0; ahead <= 6; ahead += 1.5) {
        double c = cos(spot.heading), s = sin(spot.heading), at_x = spot.at.x + ahead * c - 1.6 * s,
               at_y = spot.at.y + ahead * s + 1.6 * c;
        cairo_matrix_transform_point(m->matrix, &at_x, &at_y);
        paper_take(m->frame, (paper_rect){at_x - 1, at_y - 1, 2, 2});
    }
    label(m, x, y, 1.5, "START");
}

/* Across the guide; in a corner on the side that begins there, of a run's last impression on the one that ends. */
static void check_mark(const marking *m, size_t band, const bw_curve *guide, double along, int after, bool last) {
    char text[80];
    double x, y;
    bw_spot spot = bw_curve_at(guide, along + (last ? -BESIDE : BESIDE));
    if (!on_page(m, spot.at, &x, &y))
        return;
    paper_line_style(m->frame->cr, PAPER_FINE);
    cairo_set_line_width(m->frame->cr, 0.3);
    segment(m, spot, 0, -TICK, 0, TICK);
    paper_take(m->frame, (paper_rect){x - 0.8, y - 0.8, 1.6, 1.6});
    snprintf(text, sizeof text, "%.40s %d", m->frame->project->bands[band].name, after);
    label(m, x, y, TICK - 0.6, text);
}

/* Of every run where it begins, then its check marks, and of the only one, if it is open, where it ends: of others a
 * corner shows that. */
static void check_marks(const marking *m, size_t band) {
    paper_frame *frame = m->frame;
    const bw_band_plan *made = &frame->plan->bands[band];
    const bw_curve *guide = frame->bands[band].guide;
    for (size_t r = 0; guide && r < made->run_count; r++) {
        const bw_run_plan *run = &made->runs[r];
        const bw_placing *first = run->count > 0 ? paper_place(frame, band, r, 1) : NULL;
        int marks;
        if (first)
            check_mark(m, band, guide, first->along, 0, false);
        bw_check_mark *list = show_check_mark_list(frame->project, frame->plan, band, r, &marks);
        frame->no_memory = frame->no_memory || (marks > 0 && !list);
        bool ends = !run->closed && made->run_count == 1;
        for (int i = 0; list != NULL && i < marks + ends; i++)
            check_mark(m, band, guide, list[i].on_guide, list[i].after, i == marks);
        free(list);
    }
}

void paper_marks(paper_frame *frame, const cairo_matrix_t *matrix, paper_rect window) {
    marking m = {.frame = frame, .matrix = matrix, .window = window};
    m.depths = paper_depths_create(frame, matrix, window);
    frame->no_memory = frame->no_memory || !m.depths;
    if (!m.depths)
        return;
    start_mark(&m);
    for (size_t i = 0; i < frame->plan->band_count; i++)
        if (frame->plan->bands[i].fill != BW_FILL_PLAIN && frame->plan->bands[i].strikes > 0)
            check_marks(&m, i);
    paper_depths_free(m.depths);
}
