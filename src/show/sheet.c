/* Where mm become cells: scale, window, lines of characters, and lines of dots where a cell has several. */
#include "show/sheet.h"

#include <math.h>
#include <stdlib.h>

#define SAMPLES_MOST 200000 /* a bound on the work of one curve, far above what a screen needs */
#define SPAN 64             /* samples of a span that is drawn in one go */

/* On the border of two cells the last digits must not decide: everything is drawn a trifle nearer to the middle. */
#define PULL (1 - 1e-6)

/* ---- dots ---- */

typedef struct dot_kind {
    int wide, high;
} dot_kind;

static const dot_kind kinds[] = {[SHOW_FINE_NONE] = {1, 1}, [SHOW_FINE_BLOCKS] = {2, 2}, [SHOW_FINE_BRAILLE] = {2, 4}};

/* Unicode 15, block Braille Patterns: U+2800 and a bit a dot, 1 to 8, numbered down the left column, down the right,
 * then the lowest two. */
static const uint8_t braille[2][4] = {{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}};
/* Unicode 15, block Block Elements: quadrants by bits 1 upper left, 2 lower left, 4 upper right, 8 lower right. */
static const uint32_t quadrants[16] = {' ',    0x2598, 0x2596, 0x258C, 0x259D, 0x2580, 0x259E, 0x259B,
                                       0x2597, 0x259A, 0x2584, 0x2599, 0x2590, 0x259C, 0x259F, 0x2588};

static uint8_t dot_bit(const sheet *s, int x, int y) {
    return s->fine == SHOW_FINE_BRAILLE ? braille[x][y] : (uint8_t)(1u << (x * 2 + y));
}

double sheet_grain(const sheet *s) {
    return fmin(s->per_column / kinds[s->fine].wide, s->per_line / kinds[s->fine].high);
}

double sheet_coarse(const sheet *s) {
    return fmax(s->per_column / kinds[s->fine].wide, s->per_line / kinds[s->fine].high);
}

/* ---- scale ---- */

static double middle_of(double from, double to) {
    return (from + to) / 2;
}

/* The window keeps to the piece, and a cell beyond its rim. */
static double keep_on(double middle, double from, double to, double window, double cell) {
    double half = window / 2 - cell;
    if (to - from <= 2 * half)
        return middle_of(from, to);
    return fmin(fmax(middle, from + half), to - half);
}

static void choose_window(sheet *s, double aspect) {
    show_sight *sight = s->view->sight;
    double wide = s->box.right - s->box.left, high = s->box.top - s->box.bottom;
    double whole = fmax(wide / s->where.width, high / (s->where.height * aspect));
    s->per_column = whole;
    s->middle = (bw_point){middle_of(s->box.left, s->box.right), middle_of(s->box.bottom, s->box.top)};
    if (sight) {
        sight->whole = whole;
        if (sight->scale >= whole)
            sight->scale = 0;
        s->part = sight->scale > 0;
        if (s->part) {
            s->per_column = sight->scale;
            double x = s->per_column, y = x * aspect;
            sight->middle.x = keep_on(sight->middle.x, s->box.left, s->box.right, x * s->where.width, x);
            sight->middle.y = keep_on(sight->middle.y, s->box.bottom, s->box.top, y * s->where.height, y);
            s->middle = sight->middle;
        }
        sight->width = s->per_column * s->where.width;
        sight->height = s->per_column * aspect * s->where.height;
    }
    s->per_line = s->per_column * aspect;
    s->left = s->middle.x - s->per_column * s->where.width / 2;
    s->top = s->middle.y + s->per_line * s->where.height / 2;
}

bool sheet_open(sheet *s, double aspect) {
    double wide = s->box.right - s->box.left, high = s->box.top - s->box.bottom;
    if (s->where.width < 1 || s->where.height < 1 || !(wide + high > 0))
        return false;
    choose_window(s, aspect > 0 ? aspect : 2);
    if (!(s->per_column > 0))
        return false;
    s->fine = SHOW_FINE_NONE;
    if (s->view->fine == SHOW_FINE_NONE || !s->grid->unicode)
        return true;
    size_t cells = (size_t)s->where.width * (size_t)s->where.height;
    s->dots = calloc(cells, sizeof *s->dots);
    s->looks = calloc(cells, sizeof *s->looks);
    if (s->dots && s->looks)
        s->fine = s->view->fine;
    return true;
}

void sheet_close(sheet *s) {
    for (int y = 0; y < s->where.height && s->fine != SHOW_FINE_NONE; y++)
        for (int x = 0; x < s->where.width; x++) {
            size_t at = (size_t)y * (size_t)s->where.width + (size_t)x;
            uint8_t bits = s->dots[at];
            if (bits != 0)
                show_cell_put(s->grid, s->where.x + x, s->where.y + y,
                              s->fine == SHOW_FINE_BRAILLE ? 0x2800u + bits : quadrants[bits & 15], s->looks[at]);
        }
    free(s->dots);
    free(s->looks);
    s->dots = NULL;
    s->looks = NULL;
    s->fine = SHOW_FINE_NONE;
}

/* ---- points ---- */

/* Column and line of a place, in cells of one dot each: from the drawing's upper left. */
static bool place(const sheet *s, bw_point p, int wide, int high, int *x, int *y) {
    double column = (s->middle.x + (p.x - s->middle.x) * PULL - s->left) / s->per_column * wide;
    double line = (s->top - s->middle.y - (p.y - s->middle.y) * PULL) / s->per_line * high;
    int columns = s->where.width * wide, lines = s->where.height * high;
    double rim = s->part ? 0 : 0.5; /* what lies on the very rim of the whole piece belongs to the last cell */
    if (!(column >= -rim && line >= -rim && column <= columns && line <= lines))
        return false;
    *x = (int)fmin(fmax(column, 0), columns - 1);
    *y = (int)fmin(fmax(line, 0), lines - 1);
    return true;
}

bool sheet_cell(const sheet *s, bw_point p, int *x, int *y) {
    if (!place(s, p, 1, 1, x, y))
        return false;
    *x += s->where.x;
    *y += s->where.y;
    return true;
}

bool sheet_mark(const sheet *s, bw_point p, char mark, unsigned look) {
    int x, y;
    if (!sheet_cell(s, p, &x, &y))
        return false;
    show_cell_put(s->grid, x, y, (unsigned char)mark, look);
    return true;
}

void sheet_point(const sheet *s, sheet_pen *pen, bw_point p) {
    if (s->fine == SHOW_FINE_NONE) {
        sheet_mark(s, p, pen->mark, pen->look);
        return;
    }
    dot_kind k = kinds[s->fine];
    int x, y;
    if (!place(s, p, k.wide, k.high, &x, &y) || (pen->count > 0 && x == pen->last_x && y == pen->last_y))
        return;
    pen->last_x = x;
    pen->last_y = y;
    if (pen->count++ % (pen->every > 0 ? pen->every : 1) != 0)
        return;
    size_t at = (size_t)(y / k.high) * (size_t)s->where.width + (size_t)(x / k.wide);
    s->dots[at] |= dot_bit(s, x % k.wide, y % k.high);
    s->looks[at] = (uint16_t)(s->looks[at] | pen->look);
}

bool sheet_meets(const sheet *s, bw_point p, double reach) {
    return p.x >= s->left - reach && p.x <= s->left + s->per_column * s->where.width + reach && p.y <= s->top + reach &&
           p.y >= s->top - s->per_line * s->where.height - reach;
}

/* ---- lines ---- */

void sheet_stroke(const sheet *s, sheet_pen *pen, bw_point from, bw_point to) {
    double fine = sheet_grain(s) / 2;
    int samples = (int)fmin(1000, ceil(hypot(to.x - from.x, to.y - from.y) / fine)) + 1;
    for (int i = 0; i <= samples; i++) {
        double share = (double)i / samples;
        sheet_point(s, pen, (bw_point){from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share});
    }
}

/* Of a curve that leaves the window only what may lie within is followed. */
static void draw_span(const sheet *s, sheet_pen *pen, const bw_curve *curve, double from, double to, double fine) {
    double length = to - from;
    if (!sheet_meets(s, bw_curve_at(curve, from).at, length))
        return;
    if (length > SPAN * fine) {
        draw_span(s, pen, curve, from, from + length / 2, fine);
        draw_span(s, pen, curve, from + length / 2, to, fine);
        return;
    }
    int samples = (int)ceil(length / fine);
    for (int i = 0; i <= samples; i++)
        sheet_point(s, pen, bw_curve_at(curve, fmin(to, from + length * i / samples)).at);
}

void sheet_curve(const sheet *s, sheet_pen *pen, const bw_curve *curve) {
    double length = bw_curve_length(curve), fine = sheet_grain(s) / 2;
    if (bw_curve_loops(curve) == 0 || !(length > 0) || !(fine > 0))
        return;
    if (s->part) {
        draw_span(s, pen, curve, 0, length, fine);
        return;
    }
    int samples = (int)fmin(SAMPLES_MOST, ceil(length / fine));
    for (int i = 0; i <= samples; i++)
        sheet_point(s, pen, bw_curve_at(curve, fmin(length, length * i / samples)).at);
}
