/* tiles.c - on how few sheets a piece goes: both ways of the sheet, the piece as it is and turned by a quarter. */
#include <math.h>
#include <stdlib.h>

#include "bandwright/blank.h"
#include "paper/template.h"
#include "shop/alloc.h"

#define AROUND 2.0       /* mm left free around what is drawn: half a line, the start mark's tip */
#define ACROSS_MOST 2000 /* tiles in one direction that are looked at */
#define STEP 3.0         /* mm: how closely lines are looked at for which tiles they touch */

static void grow(bw_box *box, bw_box other) {
    box->left = fmin(box->left, other.left);
    box->right = fmax(box->right, other.right);
    box->bottom = fmin(box->bottom, other.bottom);
    box->top = fmax(box->top, other.top);
}

static bw_box blank_box(const paper_frame *frame) {
    bw_blank blank = bw_blank_of(&frame->project->layout, frame->plan);
    double trim = frame->project->layout.trim;
    bw_box box = blank.box;
    return (bw_box){box.left - trim, box.bottom - trim, box.right + trim, box.top + trim};
}

static bool has_blank(const paper_frame *frame) {
    return bw_curve_closed(frame->plan->edge) && frame->project->layout.trim > 0;
}

static bw_box drawn_box(const paper_frame *frame) {
    const bw_plan *plan = frame->plan;
    bw_box box = bw_curve_box(plan->edge);
    if (has_blank(frame))
        grow(&box, blank_box(frame));
    for (size_t i = 0; i < plan->band_count; i++)
        for (int which = BW_OUTER; which <= BW_INNER; which++) {
            const bw_curve *line = bw_plan_line(plan, i, (bw_which)which);
            if (line && bw_curve_loops(line) > 0)
                grow(&box, bw_curve_box(line));
        }
    return (bw_box){box.left - AROUND, box.bottom - AROUND, box.right + AROUND, box.top + AROUND};
}

static cairo_matrix_t place_of(bool turned, bool mirrored) {
    cairo_matrix_t m;
    cairo_matrix_init_identity(&m);
    if (mirrored)
        cairo_matrix_init(&m, -1, 0, 0, 1, 0, 0);
    if (turned) { /* (x, y) to (-y, x) */
        cairo_matrix_t quarter;
        cairo_matrix_init(&quarter, 0, 1, -1, 0, 0, 0);
        cairo_matrix_multiply(&m, &m, &quarter);
    }
    return m;
}

static bw_box placed_box(bw_box box, const cairo_matrix_t *m) {
    double x0 = box.left, y0 = box.bottom, x1 = box.right, y1 = box.top;
    cairo_matrix_transform_point(m, &x0, &y0);
    cairo_matrix_transform_point(m, &x1, &y1);
    return (bw_box){fmin(x0, x1), fmin(y0, y1), fmax(x0, x1), fmax(y0, y1)};
}

/* How many windows so long cover a length, each overlapping the one before. */
static double tiles_for(double length, double window) {
    return length <= window + BW_EPS ? 1 : ceil((length - PAPER_OVERLAP) / (window - PAPER_OVERLAP) - BW_EPS);
}

/* Marks the tiles on whose window a point lies. */
static void touch(paper_tiling *t, double x, double y) {
    double across = t->width - PAPER_OVERLAP, down = t->height - PAPER_OVERLAP;
    double from_left = x - t->left, from_top = t->top - y;
    int column = (int)floor(from_left / across), row = (int)floor(from_top / down);
    for (int r = row - 1; r <= row; r++)
        for (int c = column - 1; c <= column; c++)
            if (r >= 0 && r < t->rows && c >= 0 && c < t->columns && from_left - c * across <= t->width + BW_EPS &&
                from_top - r * down <= t->height + BW_EPS)
                t->tiles[r * t->columns + c].number = 1;
}

static void touch_curve(paper_tiling *t, const bw_curve *curve) {
    for (size_t i = 0; curve && i < bw_curve_pieces(curve); i++) {
        bw_piece piece = bw_curve_piece(curve, i);
        int parts = (int)ceil(piece.length / STEP) + 1;
        for (int k = 0; k <= parts; k++) {
            double s = piece.length * k / parts, turn = piece.heading + piece.sweep * k / parts / 2;
            double reach = fabs(piece.sweep) < 1e-9 ? s : 2 * sin(piece.sweep * k / parts / 2) / piece.curvature;
            double x = piece.from.x + reach * cos(turn), y = piece.from.y + reach * sin(turn);
            cairo_matrix_transform_point(&t->place, &x, &y);
            touch(t, x, y);
        }
    }
}

static void touch_box(paper_tiling *t, bw_box box) {
    double xs[] = {box.left, box.right, box.right, box.left}, ys[] = {box.bottom, box.bottom, box.top, box.top};
    for (int side = 0; side < 4; side++) {
        int next = (side + 1) % 4;
        int parts = (int)ceil(hypot(xs[next] - xs[side], ys[next] - ys[side]) / STEP) + 1;
        for (int k = 0; k < parts; k++) {
            double x = xs[side] + (xs[next] - xs[side]) * k / parts, y = ys[side] + (ys[next] - ys[side]) * k / parts;
            cairo_matrix_transform_point(&t->place, &x, &y);
            touch(t, x, y);
        }
    }
}

/* Which tiles have something on them, numbered from the upper left. */
static void number_tiles(const paper_frame *frame, paper_tiling *t) {
    for (int i = 0; i < t->rows * t->columns; i++)
        t->tiles[i] = (paper_tile){.row = i / t->columns, .column = i % t->columns};
    touch_curve(t, frame->plan->edge);
    if (has_blank(frame))
        touch_box(t, blank_box(frame));
    for (size_t i = 0; i < frame->plan->band_count; i++)
        for (int which = BW_OUTER; which <= BW_INNER; which++)
            touch_curve(t, bw_plan_line(frame->plan, i, (bw_which)which));
    t->count = 0;
    for (int i = 0; i < t->rows * t->columns; i++)
        if (t->tiles[i].number > 0)
            t->tiles[i].number = ++t->count;
}

/* One way of laying sheets; false where there would be too many or no memory. */
static bool lay(paper_frame *frame, bool landscape, bool turned, paper_tiling *t) {
    paper_rect window = paper_frame_window(&frame->asked.paper, landscape);
    *t = (paper_tiling){.landscape = landscape, .turned = turned, .width = window.width, .height = window.height};
    t->place = place_of(turned, frame->asked.mirror);
    t->box = placed_box(drawn_box(frame), &t->place);
    double length = t->box.right - t->box.left, height = t->box.top - t->box.bottom;
    double columns = tiles_for(length, t->width), rows = tiles_for(height, t->height);
    if (columns > ACROSS_MOST || rows > ACROSS_MOST)
        return false;
    t->columns = (int)columns;
    t->rows = (int)rows;
    double covered = t->columns * (t->width - PAPER_OVERLAP) + PAPER_OVERLAP;
    double covered_down = t->rows * (t->height - PAPER_OVERLAP) + PAPER_OVERLAP;
    t->left = t->box.left - (covered - length) / 2;
    t->top = t->box.top + (covered_down - height) / 2;
    t->tiles = shop_alloc((size_t)(t->rows * t->columns) * sizeof *t->tiles);
    if (!t->tiles) {
        frame->no_memory = true;
        return false;
    }
    number_tiles(frame, t);
    return true;
}

void paper_tiling_free(paper_tiling *tiling) {
    free(tiling->tiles);
    tiling->tiles = NULL;
}

bool paper_tiling_find(paper_frame *frame, paper_tiling *best, char reason[160]) {
    *best = (paper_tiling){0};
    for (int way = 0; way < 4; way++) {
        paper_tiling next;
        if (!lay(frame, way % 2 == 1, way >= 2, &next))
            continue;
        bool better = !best->tiles || next.count < best->count;
        paper_tiling_free(better ? best : &next);
        if (better)
            *best = next;
    }
    if (frame->no_memory) {
        snprintf(reason, 160, "out of memory");
        paper_tiling_free(best);
        return false;
    }
    if (best->tiles && best->count <= PAPER_TILES_MOST)
        return true;
    if (best->tiles)
        snprintf(reason, 160, "at full size this takes %d sheets of %s, and %d are the most; take larger paper",
                 best->count, frame->asked.paper.name, PAPER_TILES_MOST);
    else
        snprintf(reason, 160, "at full size this takes more than %d sheets of %s; take larger paper", PAPER_TILES_MOST,
                 frame->asked.paper.name);
    paper_tiling_free(best);
    return false;
}

const paper_tile *paper_tiling_tile(const paper_tiling *tiling, int row, int column) {
    if (row < 0 || row >= tiling->rows || column < 0 || column >= tiling->columns)
        return NULL;
    const paper_tile *tile = &tiling->tiles[row * tiling->columns + column];
    return tile->number > 0 ? tile : NULL;
}

cairo_matrix_t paper_tiling_matrix(const paper_tiling *tiling, const paper_tile *tile, paper_rect window) {
    double left = tiling->left + tile->column * (tiling->width - PAPER_OVERLAP);
    double top = tiling->top - tile->row * (tiling->height - PAPER_OVERLAP);
    cairo_matrix_t down, all;
    cairo_matrix_init(&down, 1, 0, 0, -1, window.x - left, window.y + top);
    cairo_matrix_multiply(&all, &tiling->place, &down);
    return all;
}
