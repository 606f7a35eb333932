/* sample.c - what is struck on scrap first: ten impressions on the true bend of each band's guide, and the same band
 * laid straight, to set dividers from. */
#include <math.h>
#include <stdlib.h>

#include "paper/strip.h"
#include "shop/alloc.h"

#define BESIDE 1.5     /* mm of leather shown on both sides of the band */
#define NUMBERS 3.5    /* mm for numbers along a strip */
#define ALIKE 1e-5     /* 1/mm: bends that differ by less are the same */
#define INSIDE 1e-6    /* mm: so near to a corner the guide still has the run's direction */
#define LOOKED_AT 1000 /* places of a guide at which its bend is looked at */

/* An impression of the run in hand; NULL: another run has it. */
static const bw_placing *place_of(const paper_strip *s, const bw_run_plan *run, int number) {
    return paper_place(s->flow->frame, s->band, (size_t)(run - s->made->runs), number);
}

/* A place as the part counts it, back on the guide. */
bw_spot paper_strip_spot(const paper_strip *s, double along) {
    double around = s->run->to - s->run->from;
    if (s->run->closed && around > 0)
        return bw_curve_at(s->guide, s->run->from + fmod(fmod(along - s->run->from, around) + around, around));
    double within = fmin(fmax(along, s->run->from + INSIDE), s->run->to - INSIDE), beyond = along - within;
    bw_spot spot = bw_curve_at(s->guide, within);
    spot.at.x += beyond * cos(spot.heading); /* past its ends an open run goes on straight */
    spot.at.y += beyond * sin(spot.heading);
    return spot;
}

/* How much the guide bends around a place, 1/mm over a step. */
static double bend_at(const paper_strip *s, double along, double step) {
    double turn = paper_strip_spot(s, along + step / 2).heading - paper_strip_spot(s, along - step / 2).heading;
    return fabs(remainder(turn, 2 * BW_PI)) / step;
}

/* The impression nearest to a place: guessed by the step, and put right as an anchored round begins elsewhere. */
static int nearest(const paper_strip *s, double along, double step) {
    int count = s->run->count;
    double around = s->run->to - s->run->from;
    int number = (int)lround((along - s->run->from) / step) + 1;
    for (int i = 0; i < 6; i++) {
        number = s->run->closed   ? (number - 1 + 2 * count) % count + 1
                 : number < 1     ? 1
                 : number > count ? count
                                  : number;
        const bw_placing *place = place_of(s, s->run, number);
        if (!place)
            break;
        double off = along - place->along;
        int steps = (int)lround((s->run->closed ? remainder(off, around) : off) / step);
        if (steps == 0)
            break;
        number += steps;
    }
    return number < 1 ? 1 : number > count ? count : number;
}

/* The impression nearest to where the run bends most, of places that bend alike the middle one of the first; 0 where it
 * bends alike all along. */
static int sharpest(const paper_strip *s) {
    double most = 0, least = INFINITY, from = 0, to = 0, length = s->run->to - s->run->from;
    double step = s->run->closed ? s->run->step : length / fmax(s->run->count - 1, 1);
    double in = s->run->closed ? 0 : step / 2;
    for (int i = 0; i < LOOKED_AT; i++) {
        double along = s->run->from + in + (length - 2 * in) * i / LOOKED_AT, bend = bend_at(s, along, step);
        least = fmin(least, bend);
        if (bend > most + ALIKE) {
            most = bend;
            from = to = along;
        } else if (bend > most - ALIKE && along - to < 1.5 * length / LOOKED_AT)
            to = along;
    }
    if (most - least < ALIKE)
        return 0;
    return nearest(s, (from + to) / 2, step);
}

/* A hole in a corner belongs to the run that begins there. */
static int own_count(const paper_strip *s, const bw_run_plan *run) {
    return run->count > 0 && place_of(s, run, run->count) ? run->count : run->count - 1;
}

/* Ten impressions, or as many as there are, around the sharpest place of the run that bends most; a run too short for
 * ten only where there is no longer one. */
static bool choose_run(paper_strip *s) {
    double most = -1;
    int usable = 0;
    for (size_t r = 0; r < s->made->run_count; r++) {
        const bw_run_plan *run = &s->made->runs[r];
        double bend = fmax(fabs(run->kappa_convex), fabs(run->kappa_concave));
        int count = own_count(s, run), shown = count < PAPER_TEN ? count : PAPER_TEN;
        if (shown < 2 || shown < s->count || (shown == s->count && bend <= most + ALIKE))
            continue;
        most = bend;
        s->run = run;
        s->count = shown;
        usable = count;
    }
    if (!s->run)
        return false;
    int middle = sharpest(s);
    s->even = middle == 0;
    s->first = s->even ? 1 : middle - s->count / 2;
    if (!s->run->closed) {
        s->first = s->first < 1 ? 1 : s->first;
        s->first = s->first + s->count - 1 > usable ? usable - s->count + 1 : s->first;
    }
    return true;
}

bool paper_strip_places(paper_strip *s) {
    int around = s->run->count;
    for (int i = 0; i < s->count; i++) {
        int number = s->first + i;
        const bw_placing *place = place_of(s, s->run, s->run->closed ? (number - 1 + 2 * around) % around + 1 : number);
        if (!place)
            return false;
        s->places[i] = *place;
    }
    s->part.run = (size_t)(s->run - s->made->runs);
    s->part.from = s->places[0].along;
    s->part.to = s->part.from;
    s->part.to = paper_part_place(s->run, &s->part, s->places[s->count - 1].along);
    return true;
}

static bw_point beside(bw_spot spot, double in) {
    return (bw_point){spot.at.x - in * sin(spot.heading), spot.at.y + in * cos(spot.heading)};
}

/* There along the outer side, back along the inner one. */
static bool make_outline(paper_strip *s) {
    double before = s->half + 2, from = s->part.from - before, to = s->part.to + before;
    double around = s->run->to - s->run->from;
    if (s->run->closed && to - from > around)
        to = from + around;
    int parts = (int)ceil((to - from) / 0.5) + 2;
    double out = s->made->guide_from_edge - s->made->outer + BESIDE,
           in = s->made->inner - s->made->guide_from_edge + BESIDE;
    s->outline_count = 2 * (parts + 1);
    s->outline = shop_alloc((size_t)s->outline_count * sizeof *s->outline);
    for (int i = 0; s->outline && i <= parts; i++) {
        bw_spot spot = paper_strip_spot(s, from + (to - from) * i / parts);
        s->outline[i] = beside(spot, -out);
        s->outline[s->outline_count - 1 - i] = beside(spot, in);
    }
    s->flow->frame->no_memory = s->flow->frame->no_memory || !s->outline;
    return s->outline != NULL;
}

/* Turned so that its ends lie level, y downwards; the box of it there. */
static cairo_matrix_t level(const paper_strip *s, bw_box *box) {
    bw_spot first = paper_strip_spot(s, s->part.from);
    bw_point a = first.at, b = paper_strip_spot(s, s->part.to).at;
    bool closes = hypot(b.x - a.x, b.y - a.y) < 1;
    double turn = closes ? first.heading : atan2(b.y - a.y, b.x - a.x);
    cairo_matrix_t m;
    cairo_matrix_init_scale(&m, 1, -1);
    cairo_matrix_rotate(&m, -turn);
    *box = (bw_box){INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (int i = 0; i < s->outline_count; i++) {
        double x = s->outline[i].x, y = s->outline[i].y;
        cairo_matrix_transform_point(&m, &x, &y);
        *box = (bw_box){fmin(box->left, x), fmin(box->bottom, y), fmax(box->right, x), fmax(box->top, y)};
    }
    return m;
}

/* As many of the ten as the sheet holds; false if not even two. */
static bool fit_strip(paper_strip *s, cairo_matrix_t *m, bw_box *box) {
    for (; s->count >= 2; s->count--) {
        free(s->outline);
        s->outline = NULL;
        if (!paper_strip_places(s) || !make_outline(s))
            return false;
        *m = level(s, box);
        if (box->right - box->left + 2 * NUMBERS <= s->flow->window.width &&
            box->top - box->bottom + 2 * NUMBERS <= s->flow->window.height - 40)
            return true;
    }
    return false;
}

double paper_strip_across(const paper_strip *s, int from, int to) {
    bw_spot a = paper_strip_spot(s, s->places[from].along), b = paper_strip_spot(s, s->places[to].along);
    return hypot(b.at.x - a.at.x, b.at.y - a.at.y);
}

void paper_strip_length(const paper_strip *s, double mm, char out[48]) {
    bool inch = s->flow->frame->project->units == SHOP_INCH;
    snprintf(out, 48, inch ? "%.3f in" : "%.1f mm", inch ? mm / BW_MM_PER_INCH : mm);
}

static void say_strip(const paper_strip *s) {
    char text[600], along[48], across[48], radius[48], step[48];
    paper_strip_length(s, s->part.to - s->part.from, along);
    paper_strip_length(s, paper_strip_across(s, 0, s->count - 1), across);
    paper_strip_length(s, (s->part.to - s->part.from) / (s->count - 1), step);
    double most = fmax(fabs(s->run->kappa_convex), fabs(s->run->kappa_concave));
    paper_strip_length(s, most > 0 ? 1 / most : 0, radius);
    const char *what = s->made->fill == BW_FILL_STITCH ? "holes" : "impressions";
    char bend[100] = "its guide runs straight";
    if (most > ALIKE && s->made->turns)
        snprintf(bend, sizeof bend,
                 s->even ? "on its guide's circle of radius %s" : "where its guide bends most, radius %s", radius);
    snprintf(text, sizeof text,
             "%d %s, %s; %s a step. From the first to the last %s along the guide, %s straight across. %s", s->count,
             what, bend, step, along, across,
             s->count == PAPER_TEN || s->count == s->run->count ? "" : "No more of them fit on the sheet.");
    paper_flow_text(s->flow, 0, text);
}

/* Numbers beside the outer side, as many as can be read. */
static void number_places(const paper_strip *s, const cairo_matrix_t *m) {
    cairo_t *cr = s->flow->frame->cr;
    double out = s->made->guide_from_edge - s->made->outer + BESIDE + 1.6;
    double step = (s->part.to - s->part.from) / (s->count - 1);
    paper_line_style(cr, PAPER_FINE);
    paper_font(cr, fmin(2.2, step * 0.6), false);
    for (int i = 0; i < s->count; i++) {
        char text[8];
        bw_spot spot = paper_strip_spot(s, s->places[i].along);
        bw_point number = beside(spot, -out), a = beside(spot, -1), b = beside(spot, 1);
        cairo_matrix_transform_point(m, &number.x, &number.y);
        cairo_matrix_transform_point(m, &a.x, &a.y);
        cairo_matrix_transform_point(m, &b.x, &b.y);
        paper_segment(cr, a.x, a.y, b.x, b.y);
        snprintf(text, sizeof text, "%d", i + 1);
        paper_text(cr, number.x, number.y + 0.8, PAPER_MIDDLE, text);
    }
}

static void draw_strip(const paper_strip *s, const cairo_matrix_t *turned, bw_box box) {
    paper_flow *flow = s->flow;
    cairo_t *cr = flow->frame->cr;
    double left = flow->window.x + (flow->window.width - (box.right - box.left)) / 2;
    cairo_matrix_t m = *turned, move;
    cairo_matrix_init_translate(&move, left - box.left, flow->y + NUMBERS - box.bottom);
    cairo_matrix_multiply(&m, &m, &move);
    cairo_save(cr);
    for (int i = 0; i < s->outline_count; i++) {
        double x = s->outline[i].x, y = s->outline[i].y;
        cairo_matrix_transform_point(&m, &x, &y);
        cairo_line_to(cr, x, y);
    }
    cairo_close_path(cr);
    cairo_clip(cr);
    paper_band(flow->frame, &m, s->band, &s->part);
    cairo_restore(cr);
    cairo_set_source_rgb(cr, 0, 0, 0);
    number_places(s, &m);
    flow->y += box.top - box.bottom + 2 * NUMBERS;
}

static void sample(paper_flow *flow, size_t band) {
    paper_strip s = {.flow = flow, .band = band, .made = &flow->frame->plan->bands[band]};
    if (s.made->fill == BW_FILL_PLAIN || s.made->strikes == 0)
        return;
    s.guide = flow->frame->bands[band].guide;
    if (!s.guide)
        return;
    s.half = s.made->along_line / 2;
    cairo_matrix_t m;
    bw_box box;
    if (choose_run(&s) && fit_strip(&s, &m, &box)) {
        char head[80];
        snprintf(head, sizeof head, "Trial strip: %.40s", flow->frame->project->bands[band].name);
        paper_flow_need(flow, box.top - box.bottom + 2 * NUMBERS + 22 + paper_strip_straight_height(&s));
        paper_flow_head(flow, head);
        say_strip(&s);
        draw_strip(&s, &m, box);
        paper_strip_straight(&s);
    }
    free(s.outline);
}

void paper_samples(paper_flow *flow) {
    for (size_t i = 0; i < flow->frame->plan->band_count; i++)
        sample(flow, i);
}
