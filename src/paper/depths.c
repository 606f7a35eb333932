/* depths.c - how far from the edge places of a page lie, and how many lines of the piece a label there would cover. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/blank.h"
#include "paper/template.h"
#include "shop/alloc.h"

#define CELL 2.0  /* mm: within so much one place of the edge is the nearest for all */
#define FOOT 1e-3 /* mm along the edge: a place beside this is nearest to a corner */

/* Edges of thousands of corners: the nearest place is looked for once in each cell that a label is tried in. */
typedef struct cell {
    bw_spot near;
    bool known, corner;
} cell;

struct paper_depths {
    const paper_frame *frame;
    cairo_matrix_t back; /* from the page to the piece */
    paper_rect window;
    int across, down;
    cell *cells;
};

paper_depths *paper_depths_create(const paper_frame *frame, const cairo_matrix_t *matrix, paper_rect window) {
    paper_depths *d = shop_alloc(sizeof *d);
    if (!d)
        return NULL;
    *d = (paper_depths){.frame = frame, .back = *matrix, .window = window};
    d->across = (int)ceil(window.width / CELL) + 1;
    d->down = (int)ceil(window.height / CELL) + 1;
    size_t size = (size_t)d->across * (size_t)d->down * sizeof *d->cells;
    d->cells = shop_alloc(size);
    if (!d->cells || cairo_matrix_invert(&d->back) != CAIRO_STATUS_SUCCESS) {
        paper_depths_free(d);
        return NULL;
    }
    memset(d->cells, 0, size);
    return d;
}

void paper_depths_free(paper_depths *depths) {
    if (depths)
        free(depths->cells);
    free(depths);
}

static cell look_up(const paper_depths *d, double x, double y) {
    const bw_curve *edge = d->frame->plan->edge;
    cairo_matrix_transform_point(&d->back, &x, &y);
    bw_spot near = bw_curve_at(edge, bw_curve_nearest(edge, (bw_point){x, y}));
    double along = (x - near.at.x) * cos(near.heading) + (y - near.at.y) * sin(near.heading);
    return (cell){near, true, fabs(along) > FOOT};
}

/* mm from the edge, inward +, of a place on the page. */
static double deep_at(paper_depths *d, double x, double y) {
    int column = (int)floor((x - d->window.x) / CELL), row = (int)floor((y - d->window.y) / CELL);
    cell c;
    if (column < 0 || row < 0 || column >= d->across || row >= d->down) {
        c = look_up(d, x, y);
    } else {
        cell *known = &d->cells[row * d->across + column];
        if (!known->known)
            *known = look_up(d, d->window.x + (column + 0.5) * CELL, d->window.y + (row + 0.5) * CELL);
        c = *known;
    }
    cairo_matrix_transform_point(&d->back, &x, &y);
    double dx = x - c.near.at.x, dy = y - c.near.at.y;
    double in = dy * cos(c.near.heading) - dx * sin(c.near.heading);
    return c.corner ? copysign(hypot(dx, dy), in) : in;
}

/* Does a rectangle of the page lie across the blank's outline? */
static bool on_blank(const paper_depths *d, paper_rect r) {
    const paper_frame *frame = d->frame;
    double trim = frame->project->layout.trim;
    if (!bw_curve_closed(frame->plan->edge) || !(trim > 0))
        return false;
    bw_box box = bw_blank_of(&frame->project->layout, frame->plan).box;
    bool in = false, out = false;
    for (int i = 0; i < 4; i++) {
        double x = r.x + r.width * (i % 2), y = r.y + r.height * (i / 2);
        cairo_matrix_transform_point(&d->back, &x, &y);
        bool within = x > box.left - trim && x < box.right + trim && y > box.bottom - trim && y < box.top + trim;
        in = in || within;
        out = out || !within;
    }
    return in && out;
}

int paper_crossed(paper_depths *d, paper_rect r) {
    const bw_plan *plan = d->frame->plan;
    double least = INFINITY, most = -INFINITY; /* mm from the edge, inward + */
    for (int i = 0; i < 9; i++) {
        double deep = deep_at(d, r.x + r.width * (i % 3) / 2.0, r.y + r.height * (i / 3) / 2.0);
        least = fmin(least, deep);
        most = fmax(most, deep);
    }
    int count = (least < 0.4 && most > -0.4 ? 6 : 0) + (on_blank(d, r) ? 3 : 0); /* what is cut stays whole */
    for (size_t i = 0; i < plan->band_count; i++) {
        const bw_band_plan *band = &plan->bands[i];
        const double lines[] = {band->outer, band->inner, band->guide_from_edge};
        for (int k = 0; k < (band->fill == BW_FILL_PLAIN ? 2 : 3); k++)
            count += lines[k] > least - 0.3 && lines[k] < most + 0.3 ? 2 : 0;
        for (size_t k = 0; k < band->row_count; k++)
            count += band->rows[k].from_edge > least && band->rows[k].from_edge < most ? 1 : 0;
    }
    return count;
}
