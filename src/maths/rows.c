/* Rows: which are struck whole, which leaned, and what stays bare. */
#include <math.h>
#include <stdlib.h>

#include "maths/lay.h"

#define LEANED_FROM 0.25 /* a row is struck, leaned, from this share of its height on */

/* The tips of a rigid face stand off a line of this radius. */
static double rise(double radius, double length) {
    return hypot(radius, length / 2) - radius;
}

/* One side of a straight guide. room: from the guide to the border line. */
typedef struct side {
    int whole;
    bool leaned;
    double cover, bare;
} side;

static bool row_fits(const maths_lay *lay, double room, double kappa, int k) {
    double t = lay->face.rail, depth = k * lay->apart + t / 2;
    double off = kappa > 0 ? rise(1 / kappa + depth, lay->face.length) : 0;
    return room - depth - off >= -BW_EPS_FIT;
}

static side straight_side(const maths_lay *lay, double room, double kappa) {
    side s = {0};
    /* The rise shrinks more slowly than rows add up, so fitting can only stop once. */
    int low = 0, high = (int)fmin(room / lay->apart, 1e8) + 2;
    while (high - low > 1) {
        int middle = low + (high - low) / 2;
        if (row_fits(lay, room, kappa, middle))
            low = middle;
        else
            high = middle;
    }
    s.whole = low;
    double left = fmax(room - s.whole * lay->apart - lay->face.rail / 2, 0);
    s.bare = left;
    if (left >= LEANED_FROM * lay->apart - BW_EPS_FIT) {
        s.leaned = true;
        s.cover = fmin(left / lay->apart, 1);
        s.bare = fmax(left - lay->apart, 0);
    }
    return s;
}

static void add_straight(maths_rows *rows, const maths_lay *lay, double guide, int row, const side *s) {
    int away = abs(row);
    bool leaned = away > s->whole;
    double delta = (away - 0.5) * lay->apart * (row < 0 ? -1 : 1);
    rows->rows[rows->count++] =
        (bw_row_plan){.row = row, .from_edge = guide + delta, .cover = leaned ? s->cover : 1, .leaned = leaned};
}

static bool straight_rows(maths_rows *rows, const maths_lay *lay, const maths_strip *strip, double convex,
                          double concave, maths_arena *arena) {
    side outer = straight_side(lay, strip->guide - strip->outer, convex);
    side inner = straight_side(lay, strip->inner - strip->guide, fabs(concave));
    rows->outer_rows = outer.whole + outer.leaned;
    rows->inner_rows = inner.whole + inner.leaned;
    rows->rows = maths_take(arena, (size_t)(rows->outer_rows + rows->inner_rows), sizeof *rows->rows);
    if (rows->rows == NULL)
        return false;
    for (int k = rows->outer_rows; k >= 1; k--)
        add_straight(rows, lay, strip->guide, -k, &outer);
    for (int k = 1; k <= rows->inner_rows; k++)
        add_straight(rows, lay, strip->guide, k, &inner);
    rows->bare_outer = outer.bare;
    rows->bare_inner = inner.bare;
    rows->guide_row_missing = rows->outer_rows == 0 || rows->inner_rows == 0;
    rows->guide_row_leaned = (outer.whole == 0 && outer.leaned) || (inner.whole == 0 && inner.leaned);
    return true;
}

/* How much of the face of an angled row lies inside the band, mm. */
static double inside(const maths_lay *lay, const maths_strip *strip, int row) {
    double v = strip->guide + row * lay->apart;
    return fmin(v + lay->half_height, strip->inner) - fmax(v - lay->half_height, strip->outer);
}

static bool angled_rows(maths_rows *rows, const maths_lay *lay, const maths_strip *strip, maths_arena *arena) {
    double height = 2 * lay->half_height, enough = LEANED_FROM * height - BW_EPS_FIT;
    int first = 0, last = 0;
    rows->bare_outer = strip->guide - strip->outer;
    rows->bare_inner = strip->inner - strip->guide;
    rows->guide_row_missing = inside(lay, strip, 0) < enough;
    if (rows->guide_row_missing)
        return true;
    while (inside(lay, strip, first - 1) >= enough)
        first--;
    while (inside(lay, strip, last + 1) >= enough)
        last++;
    rows->rows = maths_take(arena, (size_t)(last - first + 1), sizeof *rows->rows);
    if (rows->rows == NULL)
        return false;
    for (int j = first; j <= last; j++) {
        double in = inside(lay, strip, j), shift = j * lay->slant * cos(2 * lay->turn);
        shift -= floor(shift);
        if (shift <= BW_EPS || shift >= 1 - BW_EPS)
            shift = 0;
        rows->rows[rows->count++] = (bw_row_plan){.row = j,
                                                  .from_edge = strip->guide + j * lay->apart,
                                                  .cover = fmin(in / height, 1),
                                                  .leaned = in < height - BW_EPS_FIT,
                                                  .shift = shift};
    }
    rows->guide_row_leaned = rows->rows[-first].leaned;
    rows->bare_outer = fmax(strip->guide + first * lay->apart - lay->half_height - strip->outer, 0);
    rows->bare_inner = fmax(strip->inner - strip->guide - last * lay->apart - lay->half_height, 0);
    return true;
}

static bool single_row(maths_rows *rows, const maths_lay *lay, const maths_strip *strip, maths_arena *arena) {
    double half = lay->face.width / 2;
    rows->rows = maths_take(arena, 1, sizeof *rows->rows);
    if (rows->rows == NULL)
        return false;
    double in = fmin(strip->guide + half, strip->inner) - fmax(strip->guide - half, strip->outer);
    rows->face_out = in < 2 * half - BW_EPS_FIT;
    rows->rows[rows->count++] =
        (bw_row_plan){.from_edge = strip->guide, .cover = rows->face_out ? fmax(in, 0) / (2 * half) : 1};
    rows->bare_outer = fmax(strip->guide - half - strip->outer, 0);
    rows->bare_inner = fmax(strip->inner - strip->guide - half, 0);
    return true;
}

bool maths_rows_make(maths_rows *rows, const maths_lay *lay, const maths_strip *strip, double kappa_convex,
                     double kappa_concave, maths_arena *arena) {
    *rows = (maths_rows){0};
    if (lay->fill != BW_FILL_BASKET)
        return single_row(rows, lay, strip, arena);
    if (lay->angled)
        return angled_rows(rows, lay, strip, arena);
    return straight_rows(rows, lay, strip, kappa_convex, kappa_concave, arena);
}

maths_line *maths_lines_make(const maths_rows *rows, const maths_lay *lay, const maths_strip *strip, size_t *count,
                             maths_arena *arena) {
    bool straight = lay->fill == BW_FILL_BASKET && !lay->angled;
    int first = 0, last = 0; /* line 0 always counts */
    if (straight) {
        first = rows->outer_rows > 1 ? 1 - rows->outer_rows : 0;
        last = rows->inner_rows > 1 ? rows->inner_rows - 1 : 0;
    } else if (rows->count > 0) {
        first = rows->rows[0].row;
        last = rows->rows[rows->count - 1].row;
    }
    maths_line *lines = maths_take(arena, (size_t)(last - first + 1), sizeof *lines);
    *count = 0;
    if (lines == NULL)
        return NULL;
    for (int j = first; j <= last; j++) {
        double v = strip->guide + j * lay->apart;
        if (!straight) /* a row's centre outside the band: its line is taken at the border line */
            v = fmin(fmax(v, strip->outer), strip->inner);
        lines[(*count)++] = (maths_line){.number = j, .delta = v - strip->guide};
    }
    return lines;
}
