/* straight.c - a band laid straight: its lines at their distances from the edge, its steps as ticks, for dividers. */
#include <math.h>

#include "paper/strip.h"

#define EDGE_SHOWN 15.0 /* mm: a band that begins no farther in is shown with the edge */
#define DEEP_MOST 90.0  /* mm: a wider band is shown so far */
#define NAMES 42.0      /* mm, for the names of lines */
#define NAME_APART 2.6  /* mm from one name to the next */
#define TICK 1.5        /* mm to both sides of the guide */
#define BENT 0.05       /* mm between step and divider setting that are worth a word */

typedef struct level_line {
    double deep; /* mm from the edge */
    paper_style style;
    const char *name;
} level_line;

typedef struct level_view {
    const paper_strip *strip;
    double x, y;  /* of the first impression, and of the edge, which lies below */
    double right; /* where lines end */
    double deep_least, deep_most;
    level_line lines[4]; /* from the inside outward, as they stand from above */
    int count;
} level_view;

static void add_line(level_view *v, double deep, paper_style style, const char *name) {
    for (int i = 0; i < v->count; i++)
        if (fabs(v->lines[i].deep - deep) < 0.02)
            return;
    if (deep <= v->deep_most + BW_EPS)
        v->lines[v->count++] = (level_line){deep, style, name};
}

static void find_lines(level_view *v) {
    const bw_band_plan *made = v->strip->made;
    const bw_plan *plan = v->strip->flow->frame->plan;
    bool one = made->fill == BW_FILL_STITCH && made->inner - made->outer < 0.02;
    paper_style style = PAPER_BORDER;
    v->deep_least = made->outer <= EDGE_SHOWN ? 0 : made->outer;
    v->deep_most = fmin(made->inner, v->deep_least + DEEP_MOST);
    if (!one) {
        paper_line_of(plan, v->strip->band, BW_INNER, &style);
        add_line(v, made->inner, style, "inner line");
    }
    add_line(v, made->guide_from_edge, PAPER_GUIDE, "guide");
    if (!one) {
        style = PAPER_BORDER;
        paper_line_of(plan, v->strip->band, BW_OUTER, &style);
        add_line(v, made->outer, style, "outer line");
    }
    if (v->deep_least <= 0)
        add_line(v, 0, PAPER_EDGE, "edge");
}

/* At the end of the lines, none on another. */
static void draw_names(const level_view *v) {
    cairo_t *cr = v->strip->flow->frame->cr;
    double last = -INFINITY;
    for (int i = 0; i < v->count; i++) {
        const level_line *line = &v->lines[i];
        char text[80], deep[48];
        shop_show_length(line->deep, v->strip->flow->frame->project->units, deep, sizeof deep);
        snprintf(text, sizeof text, line->style == PAPER_EDGE ? "%s" : "%s, %s from the edge", line->name, deep);
        double y = v->y - line->deep, at = fmax(y, last + NAME_APART);
        paper_line_style(cr, PAPER_FINE);
        cairo_set_line_width(cr, 0.08);
        paper_segment(cr, v->right + 1, y, v->right + 4, at);
        cairo_set_source_rgb(cr, 0, 0, 0);
        paper_font(cr, 2.0, false);
        paper_text_within(cr, v->right + 4.6, at + 0.7, NAMES - 5, text);
        last = at;
    }
}

static double deep_of(const bw_band_plan *made, int row) {
    for (size_t r = 0; r < made->row_count; r++)
        if (made->rows[r].row == row)
            return made->rows[r].from_edge;
    return made->guide_from_edge;
}

static void draw_faces(const level_view *v) {
    const paper_strip *s = v->strip;
    cairo_t *cr = s->flow->frame->cr;
    const paper_band_lines *lines = &s->flow->frame->bands[s->band];
    cairo_save(cr);
    cairo_translate(cr, v->x, v->y);
    cairo_scale(cr, 1, -1); /* inward is upward */
    if (s->made->fill == BW_FILL_BASKET) {
        cairo_rectangle(cr, -s->half - 2, s->made->outer, v->right - v->x + s->half + 2, v->deep_most - s->made->outer);
        cairo_clip(cr);
    }
    for (size_t i = 0; i < lines->place_count; i++) {
        const bw_placing *place = &lines->places[i];
        if (!paper_part_has(s->made, &s->part, place))
            continue;
        double along = paper_part_place(s->run, &s->part, place->along) - s->part.from;
        double turn = place->turn - paper_strip_spot(s, place->along).heading;
        paper_face(cr, s->made, (bw_point){along, deep_of(s->made, place->row)}, turn);
    }
    cairo_restore(cr);
}

static void draw_lines(const level_view *v) {
    const paper_strip *s = v->strip;
    cairo_t *cr = s->flow->frame->cr;
    for (int i = 0; i < v->count; i++) {
        paper_line_style(cr, v->lines[i].style);
        paper_segment(cr, v->x - s->half - 2, v->y - v->lines[i].deep, v->right, v->y - v->lines[i].deep);
    }
    paper_line_style(cr, PAPER_FINE);
    for (int i = 0; i < s->count; i++) {
        double x = v->x + paper_part_place(s->run, &s->part, s->places[i].along) - s->part.from;
        double guide = v->y - s->made->guide_from_edge;
        paper_segment(cr, x, guide - TICK, x, guide + TICK);
    }
}

static void say_straight(const paper_strip *s) {
    char step[48], across[48], text[400], closer[120] = "";
    double even = (s->part.to - s->part.from) / (s->count - 1), apart = paper_strip_across(s, 0, 1);
    paper_strip_length(s, even, step);
    paper_strip_length(s, apart, across);
    if (even - apart > BENT)
        snprintf(closer, sizeof closer, " On the bend the points of the dividers stand closer, %s apart.", across);
    snprintf(text, sizeof text,
             "The same laid straight: set the dividers from the edge to a line, or from tick to tick for the step of "
             "%s.%s",
             step, closer);
    paper_flow_text(s->flow, 0, text);
}

static double over_lines(const paper_strip *s) {
    return s->made->fill == BW_FILL_BORDER ? s->made->face.width / 2 : TICK;
}

double paper_strip_straight_height(const paper_strip *s) {
    level_view v = {.strip = s};
    find_lines(&v);
    return fmax(v.deep_most - v.deep_least, v.count * NAME_APART) + 2 * over_lines(s) + 12;
}

void paper_strip_straight(paper_strip *s) {
    level_view v = {.strip = s};
    double room = s->flow->window.width - NAMES - 2 * s->half - 6;
    while (s->count > 2 && s->part.to - s->part.from > room) {
        s->count--;
        if (!paper_strip_places(s))
            return;
    }
    if (s->part.to - s->part.from > room)
        return;
    find_lines(&v);
    double high = v.deep_most - v.deep_least, over = over_lines(s);
    paper_flow_need(s->flow, paper_strip_straight_height(s));
    say_straight(s);
    v.x = s->flow->window.x + s->half + 3;
    v.y = s->flow->y + over + 1.5 + v.deep_most;
    v.right = v.x + (s->part.to - s->part.from) + s->half + 2;
    draw_faces(&v);
    draw_lines(&v);
    draw_names(&v);
    s->flow->y += fmax(high, v.count * NAME_APART) + 2 * over + 3;
}
