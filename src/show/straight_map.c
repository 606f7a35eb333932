/* The whole guide in one line: its bends, its runs, where it fails, and which part is seen larger. */
#include <math.h>

#include "show/inner.h"

enum { STRETCHES = 64 };

typedef struct map {
    show_grid *grid;
    show_rect where;
    double length; /* mm, of the guide */
} map;

static void put(const map *m, int column, char mark, unsigned look) {
    if (column >= 0 && column < m->where.width)
        show_cell_put(m->grid, m->where.x + column, m->where.y, (unsigned char)mark, look);
}

/* Columns that hold a part of the guide from one place to another get the mark. */
static void mark_part(const map *m, double from, double to, char mark, unsigned look) {
    double scale = m->length / m->where.width;
    for (int c = (int)floor(from / scale + BW_EPS_FIT); c < m->where.width && c * scale < to - BW_EPS_FIT; c++)
        put(m, c, mark, look);
}

static void mark_failing(const map *m, const bw_profile *profile, bw_margin margin) {
    bw_stretch list[STRETCHES];
    size_t count = bw_profile_stretches(profile, margin, list, STRETCHES);
    for (size_t i = 0; i < count && i < STRETCHES; i++) {
        double end = list[i].to < list[i].from ? m->length : list[i].to; /* over the start of a round */
        mark_part(m, list[i].from, end, '!', SHOW_BOLD | SHOW_BAD);
        if (list[i].to < list[i].from)
            mark_part(m, 0, list[i].to, '!', SHOW_BOLD | SHOW_BAD);
    }
}

void show_straight_map(show_grid *grid, show_rect where, const bw_band_plan *band, const bw_profile *profile,
                       const bw_curve *guide, double from, double to) {
    const map m = {grid, where, bw_curve_length(guide)};
    int columns = where.width;
    double scale = m.length / columns;
    mark_part(&m, 0, m.length, '-', SHOW_PLAIN);
    for (size_t i = 0; i < bw_curve_pieces(guide); i++) {
        bw_piece piece = bw_curve_piece(guide, i);
        if (fabs(piece.curvature) > BW_EPS)
            mark_part(&m, piece.start, piece.start + piece.length, piece.curvature > 0 ? '(' : ')', SHOW_PLAIN);
    }
    for (int margin = BW_MARGIN_REACH; margin <= BW_MARGIN_BEND; margin++)
        mark_failing(&m, profile, (bw_margin)margin);
    for (size_t r = 0; r < band->run_count; r++)
        if (!band->runs[r].closed)
            put(&m, (int)fmin(band->runs[r].from / scale, columns - 1), '|', SHOW_BOLD);
    int first = (int)(from / scale), last = (int)ceil(to / scale) - 1;
    if (from <= 0 && last >= columns - 1)
        return;
    put(&m, first, '[', SHOW_BOLD | SHOW_REVERSE);
    put(&m, last < columns ? (last > first ? last : first + 1) : columns - 1, ']', SHOW_BOLD | SHOW_REVERSE);
}
