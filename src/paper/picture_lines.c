/* picture_lines.c - the edge of the leather, cut and scribed lines, bevels: what follows a curve. */
#include <math.h>
#include <stdlib.h>

#include "paper/picture.h"
#include "shop/alloc.h"

#define CHORD 0.1        /* pixels by which a straight may miss its arc */
#define CUT_HALF 0.3     /* mm, half the V of a cut at the surface */
#define CUT_DEEP 1.1     /* of the depth of a stamp */
#define SCRIBE_HALF 0.35 /* mm */
#define SCRIBE_DEEP 0.3  /* of the depth of a stamp */
#define BEVEL_WIDE 2.2   /* mm that a beveler presses beside a cut */
#define BEVEL_DEEP 0.75  /* of the depth of a stamp, at the cut */

/* ---- curves as short straights ---- */

static bw_point place_on(const bw_piece *piece, double share) {
    if (piece->curvature == 0)
        return (bw_point){piece->from.x + share * (piece->to.x - piece->from.x),
                          piece->from.y + share * (piece->to.y - piece->from.y)};
    double angle = share * piece->sweep, c = cos(angle), s = sin(angle);
    double x = piece->from.x - piece->centre.x, y = piece->from.y - piece->centre.y;
    return (bw_point){piece->centre.x + c * x - s * y, piece->centre.y + s * x + c * y};
}

static size_t parts_of(const picture *p, const bw_piece *piece, double longest) {
    double parts = piece->length / longest;
    if (piece->curvature != 0)
        parts = fmax(parts, piece->length / sqrt(8 * CHORD / p->per_mm / fabs(piece->curvature)));
    return (size_t)fmin(1e7, ceil(fmax(parts, 1)));
}

void picture_straights(const picture *p, const bw_curve *curve, double longest, picture_straight *each, void *to) {
    for (int loop = 0; loop < bw_curve_loops(curve); loop++) {
        size_t first, count;
        bw_curve_loop(curve, loop, &first, &count);
        bool open = !bw_curve_loop_closed(curve, loop);
        for (size_t i = 0; i < count; i++) {
            bw_piece piece = bw_curve_piece(curve, first + i);
            size_t parts = parts_of(p, &piece, longest);
            bw_point a = piece.from;
            for (size_t j = 1; j <= parts; j++) {
                bw_point b = j == parts ? piece.to : place_on(&piece, (double)j / (double)parts);
                each(to, a, b, open && i == 0 && j == 1, open && i + 1 == count && j == parts);
                a = b;
            }
        }
    }
}

typedef struct walk {
    picture *p;
    double radius;
    picture_near *near;
    const void *with;
} walk;

static void near_straight(void *to, bw_point a, bw_point b, bool first, bool last) {
    const walk *w = to;
    picture *p = w->p;
    picture_box box;
    bw_box around = {fmin(a.x, b.x) - w->radius, fmin(a.y, b.y) - w->radius, fmax(a.x, b.x) + w->radius,
                     fmax(a.y, b.y) + w->radius};
    double length = hypot(b.x - a.x, b.y - a.y);
    if (length == 0 || !picture_pixels(p, around, &box))
        return;
    double tx = (b.x - a.x) / length, ty = (b.y - a.y) / length;
    for (int row = box.top; row <= box.bottom; row++)
        for (int column = box.left; column <= box.right; column++) {
            double x = picture_x(p, column) - a.x, y = picture_y(p, row) - a.y;
            double ahead = x * tx + y * ty, side = tx * y - ty * x;
            double past = ahead < 0 ? -ahead : ahead > length ? ahead - length : 0;
            double distance = past > 0 ? hypot(past, side) : fabs(side);
            if (distance <= w->radius)
                w->near(p, (size_t)row * (size_t)p->width + (size_t)column, distance, side,
                        (first && ahead < 0) || (last && ahead > length), w->with);
        }
}

void picture_along(picture *p, const bw_curve *curve, double radius, picture_near *near, const void *with) {
    walk w = {p, radius, near, with};
    /* Short, so that the box around a slanting one holds little that is far from it. */
    picture_straights(p, curve, radius + 2, near_straight, &w);
}

/* ---- which pixels are leather ---- */

/* Where the edge crosses the middles of the lines of pixels. */
typedef struct crossings {
    const picture *p;
    size_t *first; /* of a line in `at`; one more than lines */
    float *at;     /* columns; NULL while they are only counted */
} crossings;

static void cross_straight(void *to, bw_point a, bw_point b, bool first, bool last) {
    crossings *c = to;
    (void)first;
    (void)last;
    if (a.y == b.y)
        return;
    double high = fmax(a.y, b.y), low = fmin(a.y, b.y);
    /* Lines whose middle lies from low up to below high: a corner on a middle counts once. */
    int from = (int)fmax(0, floor((c->p->top - high) * c->p->per_mm - 0.5) + 1);
    int until = (int)fmin(c->p->height - 1, floor((c->p->top - low) * c->p->per_mm - 0.5));
    for (int row = from; row <= until; row++) {
        if (c->at) {
            double share = (picture_y(c->p, row) - a.y) / (b.y - a.y);
            c->at[c->first[row]] = (float)((a.x + share * (b.x - a.x) - c->p->left) * c->p->per_mm - 0.5);
        }
        c->first[row]++;
    }
}

static int by_column(const void *a, const void *b) {
    float x = *(const float *)a, y = *(const float *)b;
    return (x > y) - (x < y);
}

static void fill_line(picture *p, int row, float *at, size_t count) {
    qsort(at, count, sizeof *at, by_column);
    for (size_t i = 0; i + 1 < count; i += 2)
        for (int column = (int)fmaxf(0, ceilf(at[i])); column < p->width && (float)column <= at[i + 1]; column++)
            p->inside[(size_t)row * (size_t)p->width + (size_t)column] = PICTURE_FAR;
}

static bool fill_piece(picture *p, const bw_curve *edge) {
    size_t lines = (size_t)p->height, sum = 0;
    crossings c = {p, shop_alloc((lines + 1) * sizeof *c.first), NULL};
    if (!c.first)
        return false;
    for (size_t i = 0; i <= lines; i++)
        c.first[i] = 0;
    picture_straights(p, edge, HUGE_VAL, cross_straight, &c);
    for (size_t i = 0; i <= lines; i++) {
        size_t here = c.first[i];
        c.first[i] = sum;
        sum += here;
    }
    c.at = shop_alloc((sum + 1) * sizeof *c.at);
    if (c.at) {
        picture_straights(p, edge, HUGE_VAL, cross_straight, &c); /* each `first` is then the end of its line */
        for (size_t i = 0; i < lines; i++) {
            size_t begin = i == 0 ? 0 : c.first[i - 1];
            fill_line(p, (int)i, c.at + begin, c.first[i] - begin);
        }
    }
    bool fine = c.at != NULL;
    free(c.at);
    free(c.first);
    return fine;
}

static void near_edge(picture *p, size_t pixel, double distance, double side, bool beyond, const void *with) {
    (void)side;
    (void)beyond;
    (void)with;
    if (distance < fabsf(p->inside[pixel]))
        p->inside[pixel] = (float)copysign(distance, p->inside[pixel]);
}

/* An open edge has no other side: leather is what lies on its left, so far in. */
static void near_open(picture *p, size_t pixel, double distance, double side, bool beyond, const void *with) {
    (void)with;
    if (distance < fabsf(p->inside[pixel])) /* beyond an end it is nearest to that end, and bare */
        p->inside[pixel] = (float)(side >= 0 && !beyond ? distance : -distance);
}

bool picture_edge(picture *p, const bw_plan *plan) {
    if (p->ends > 0) {
        picture_along(p, plan->edge, p->ends, near_open, NULL);
        return true;
    }
    if (!fill_piece(p, plan->edge))
        return false;
    picture_along(p, plan->edge, PICTURE_EDGE, near_edge, NULL);
    return true;
}

/* ---- lines ---- */

typedef struct groove {
    double half, deep; /* mm */
    double side;       /* bevels: +1 inward of the line, -1 outward */
} groove;

static void near_groove(picture *p, size_t pixel, double distance, double side, bool beyond, const void *with) {
    const groove *g = with;
    (void)side;
    double deep = beyond ? 0 : g->deep * (1 - distance / g->half);
    p->pressed[pixel] = fmaxf(p->pressed[pixel], (float)deep);
}

/* A bevel keeps to its side, so the side that counts is found first: that of the nearest straight, and of two that meet
 * in the nearest corner that of the one from which the pixel lies farther aside. */
typedef struct beveler {
    groove g;
    float *distance, *side; /* of every pixel; PICTURE_FAR where none is near */
} beveler;

#define SAME_AWAY 1e-4f /* mm: as far from both straights that meet in a corner */

static void find_side(picture *p, size_t pixel, double distance, double side, bool beyond, const void *with) {
    const beveler *b = with;
    float before = b->distance[pixel], now = (float)distance;
    (void)p;
    if (beyond || now > before + SAME_AWAY || (now > before - SAME_AWAY && fabs(side) <= fabsf(b->side[pixel])))
        return;
    b->distance[pixel] = now;
    b->side[pixel] = (float)side;
}

static void near_bevel(picture *p, size_t pixel, double distance, double side, bool beyond, const void *with) {
    const beveler *b = with;
    double share = 1 - b->distance[pixel] / b->g.half;
    (void)distance;
    (void)side;
    (void)beyond;
    if (share > 0 && b->side[pixel] * b->g.side > 0)
        p->pressed[pixel] = fmaxf(p->pressed[pixel], (float)(b->g.deep * share * sqrt(share)));
    b->distance[pixel] = PICTURE_FAR; /* as it was, for the next line */
}

/* No line is thinner than a pixel or two. */
static double at_least(const picture *p, double half) {
    return fmax(half, 0.8 / p->per_mm);
}

static const bw_border_line *border_of(const bw_layout *layout, const bw_line_plan *line) {
    const bw_band *band = &layout->bands[line->band];
    return line->which == BW_OUTER ? &band->outer : line->which == BW_INNER ? &band->inner : NULL;
}

bool picture_lines(picture *p, const bw_layout *layout, const bw_plan *plan) {
    for (size_t i = 0; i < plan->line_count; i++) {
        const bw_border_line *made = border_of(layout, &plan->lines[i]);
        const bw_curve *curve = bw_plan_line(plan, plan->lines[i].band, plan->lines[i].which);
        if (!made || !curve || made->line == BW_MARK_NONE)
            continue;
        bool cut = made->line == BW_MARK_CUT;
        groove g = {at_least(p, cut ? CUT_HALF : SCRIBE_HALF), p->depth * (cut ? CUT_DEEP : SCRIBE_DEEP), 0};
        picture_along(p, curve, g.half, near_groove, &g);
    }
    return true;
}

static void bevel_all(picture *p, const bw_layout *layout, const bw_plan *plan, beveler *b) {
    for (size_t i = 0; i < plan->line_count; i++) {
        const bw_border_line *made = border_of(layout, &plan->lines[i]);
        const bw_curve *curve = bw_plan_line(plan, plan->lines[i].band, plan->lines[i].which);
        if (!made || !curve || made->line == BW_MARK_NONE || made->bevel == BW_BEVEL_NONE)
            continue;
        b->g = (groove){at_least(p, BEVEL_WIDE), p->depth * BEVEL_DEEP, made->bevel == BW_BEVEL_INSIDE ? 1 : -1};
        picture_along(p, curve, b->g.half, find_side, b);
        picture_along(p, curve, b->g.half, near_bevel, b);
    }
}

bool picture_bevels(picture *p, const bw_layout *layout, const bw_plan *plan) {
    size_t count = (size_t)p->width * (size_t)p->height;
    beveler b = {.distance = shop_alloc(count * sizeof *b.distance), .side = shop_alloc(count * sizeof *b.side)};
    bool fine = b.distance && b.side;
    for (size_t i = 0; fine && i < count; i++) {
        b.distance[i] = PICTURE_FAR;
        b.side[i] = 0;
    }
    if (fine)
        bevel_all(p, layout, plan, &b);
    free(b.distance);
    free(b.side);
    return fine;
}
