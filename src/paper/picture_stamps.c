/* picture_stamps.c - impressions pressed one after the other, by the shape of their faces, and stitches. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper/picture.h"
#include "shop/alloc.h"

#define ROUND 0.36       /* mm over which the edges of a print are rounded */
#define LEAN_SOFT 0.3    /* share of the face over which a leaned print fades */
#define RIB_WIDE 0.9     /* mm from rib to rib of a border stamp */
#define RIBS_FROM 2.5    /* mm: a face narrower than this is drawn without ribs */
#define THREAD_HALF 0.45 /* mm, at a pitch of 4 mm; thinner for a finer one */
#define THREAD_HIGH 0.35 /* mm over the leather */
#define HOLE_DEEP 1.6    /* of the depth of a stamp */

/* ---- the order of the strokes ---- */

/* The guide's round first, row beside row as the hand goes; then outward and inward, always keyed to what is there. */
static int ring_of(int row) {
    int away = abs(row);
    return away <= 1 ? 0 : 2 * away + (row > 0);
}

static int by_stroke(const void *first, const void *second) {
    const bw_placing *a = first, *b = second;
    int keys[][2] = {{ring_of(a->row), ring_of(b->row)}, {a->run, b->run}, {a->number, b->number}, {a->row, b->row}};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
        if (keys[i][0] != keys[i][1])
            return keys[i][0] < keys[i][1] ? -1 : 1;
    return 0;
}

/* In an angled lay only row 0 is the guide's; rows beside it come after it. */
static int by_stroke_angled(const void *first, const void *second) {
    const bw_placing *a = first, *b = second;
    int x = abs(a->row), y = abs(b->row);
    if (x != y)
        return x < y ? -1 : 1;
    int keys[][2] = {{a->row, b->row}, {a->run, b->run}, {a->number, b->number}};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
        if (keys[i][0] != keys[i][1])
            return keys[i][0] < keys[i][1] ? -1 : 1;
    return 0;
}

/* ---- faces ---- */

/* 1 within half a width of the middle, 0 outside, rounded at the edge; a part finer than a pixel is drawn fainter. */
static double within(double at, double half, double soft) {
    return 1 - picture_smooth(half - soft / 2, half + soft / 2, fabs(at));
}

/* How deep a basket stamp presses at a place of its face (mm from its middle, along and across), 0 to 1: rails along
 * both long edges, whose ends are the legs, and the bar across the middle. */
static double basket_at(const bw_face *face, double along, double across, double soft) {
    double rail = within(fabs(across) - (face->width - face->rail) / 2, face->rail / 2, soft) *
                  within(along, face->length / 2, soft);
    double bar = within(along, face->bar / 2, soft) * within(across, face->width / 2, soft);
    return fmax(rail, bar);
}

/* A border stamp's face is not described in files: a shell of its length and width, with a seed in the middle and,
 * where there is room, ribs that spread from its foot. `across` counts from the foot's side. */
static double border_at(const bw_face *face, double along, double across, double soft) {
    double a = face->length / 2 * 0.96, b = face->width / 2;
    double out = pow(fabs(along) / a, 2.6) + pow(fabs(across) / b, 2.6);
    double rim = 1 - picture_smooth(1 - 2.6 * soft / fmin(a, b), 1, out);
    if (rim <= 0)
        return 0;
    double round = picture_smooth(0, 0.75, out);
    double pressed = rim * (0.35 + 0.65 * round);
    if (face->width < RIBS_FROM)
        return pressed;
    double angle = atan2(along, across + 1.25 * b), ribs = ceil(face->length / RIB_WIDE);
    return pressed * (0.72 + 0.28 * cos(angle * ribs * 2.2)) + 0.15 * rim * round;
}

/* ---- one stroke ---- */

typedef struct stroke {
    const bw_face *face;
    bw_fill fill;
    double turn;                /* of the face from the line, as it is slanted */
    double half_along, half_up; /* mm, of the face's box along and across the line */
    double soft;                /* mm over which edges are rounded */
    int group;
} stroke;

/* A leaned stamp prints on the side of the row it is keyed to, and fades towards the border line. `inward`: mm from the
 * middle of the face, as the line sees it. */
static double leaned(const stroke *s, const bw_placing *at, double inward) {
    if (at->cover >= 1 - BW_EPS_FIT)
        return 1;
    double towards = at->row < 0 ? -inward : inward; /* the border's side */
    double share = (towards + s->half_up) / (2 * s->half_up);
    return 1 - picture_smooth(at->cover - LEAN_SOFT / 2, at->cover + LEAN_SOFT / 2, share);
}

static void press(picture *p, const stroke *s, const bw_placing *at) {
    double reach = hypot(s->face->length, s->face->width) / 2 + s->soft;
    picture_box box;
    if (!picture_pixels(p, (bw_box){at->at.x - reach, at->at.y - reach, at->at.x + reach, at->at.y + reach}, &box))
        return;
    double c = cos(at->turn), sn = sin(at->turn), heading = at->turn - s->turn;
    double lc = cos(heading), ls = sin(heading);
    /* Of a pair the second one is turned round. */
    double flip = s->group == 2 && at->number % 2 == 0 ? -1 : 1;
    double half_along = s->face->length / 2 + s->soft, half_across = s->face->width / 2 + s->soft;
    for (int row = box.top; row <= box.bottom; row++)
        for (int column = box.left; column <= box.right; column++) {
            double x = picture_x(p, column) - at->at.x, y = picture_y(p, row) - at->at.y;
            double along = x * c + y * sn, across = y * c - x * sn;
            size_t pixel = (size_t)row * (size_t)p->width + (size_t)column;
            if (fabs(along) > half_along || fabs(across) > half_across || p->inside[pixel] <= 0)
                continue;
            double deep = s->fill == BW_FILL_BASKET ? basket_at(s->face, along, across, s->soft)
                                                    : border_at(s->face, along, flip * across, s->soft);
            picture_print(p, pixel, deep * p->depth * leaned(s, at, y * lc - x * ls));
        }
}

bool picture_band(picture *p, const bw_layout *layout, const bw_plan *plan, size_t band) {
    const bw_band_plan *one = &plan->bands[band];
    const bw_band *given = &layout->bands[band];
    const bw_allocator memory = {shop_maths_resize, NULL};
    bw_placing *list;
    size_t count;
    if (bw_placings_create(plan, band, &memory, &list, &count) != BW_OK)
        return false;
    bool angled = one->fill == BW_FILL_BASKET && given->lay == BW_LAY_ANGLED;
    qsort(list, count, sizeof *list, angled ? by_stroke_angled : by_stroke);
    double a = fabs(one->turn), l = one->face.length, w = one->face.width;
    stroke s = {.face = &one->face,
                .fill = one->fill,
                .turn = given->slant == BW_SLANT_OUTWARD ? -one->turn : one->turn,
                .half_along = (l * cos(a) + w * sin(a)) / 2,
                .half_up = (l * sin(a) + w * cos(a)) / 2,
                .soft = fmax(fmin(ROUND, one->fill == BW_FILL_BASKET ? 0.4 * one->face.rail : 0.15 * w), 1 / p->per_mm),
                .group = given->group};
    for (size_t i = 0; i < count; i++)
        press(p, &s, &list[i]);
    bw_placings_release(list, &memory);
    return true;
}

/* ---- stitches ---- */

typedef struct stitching {
    double half, high; /* mm, of the thread */
    double farthest;   /* mm between holes that one stitch joins */
} stitching;

/* The thread lies over the leather from hole to hole and dives into both. */
static void thread_between(picture *p, const stitching *s, bw_point a, bw_point b) {
    double length = hypot(b.x - a.x, b.y - a.y), r = s->half;
    picture_box box;
    bw_box around = {fmin(a.x, b.x) - r, fmin(a.y, b.y) - r, fmax(a.x, b.x) + r, fmax(a.y, b.y) + r};
    if (length == 0 || !picture_pixels(p, around, &box))
        return;
    double tx = (b.x - a.x) / length, ty = (b.y - a.y) / length, twist = 2.4 * r;
    for (int row = box.top; row <= box.bottom; row++)
        for (int column = box.left; column <= box.right; column++) {
            double x = picture_x(p, column) - a.x, y = picture_y(p, row) - a.y;
            double along = x * tx + y * ty, side = tx * y - ty * x;
            double share = along / length, end = 4 * share * (1 - share);
            double thick = r * (0.72 + 0.28 * fmin(1, 2 * end));
            if (share <= 0 || share >= 1 || fabs(side) >= thick)
                continue;
            size_t pixel = (size_t)row * (size_t)p->width + (size_t)column;
            double dome = sqrt(1 - side * side / (thick * thick));
            double strand = 0.5 + 0.5 * cos(2 * BW_PI * (along + 0.9 * side) / twist);
            double high = s->high * (dome * (0.82 + 0.18 * strand)) * fmin(1, 2.2 * end) -
                          0.5 * s->high * (1 - fmin(1, 2.2 * end));
            double cover = fmin(1, (thick - fabs(side)) * p->per_mm) * fmin(1, 6 * end);
            p->pressed[pixel] = (float)((1 - cover) * p->pressed[pixel] - cover * high);
            unsigned char now = (unsigned char)lround(255 * cover);
            p->thread[pixel] = p->thread[pixel] > now ? p->thread[pixel] : now;
        }
}

static void near_hole(picture *p, size_t pixel, double deep) {
    p->pressed[pixel] = fmaxf(p->pressed[pixel], (float)deep);
}

static void hole_at(picture *p, const stitching *s, bw_point at) {
    double r = 1.5 * s->half;
    picture_box box;
    if (!picture_pixels(p, (bw_box){at.x - r, at.y - r, at.x + r, at.y + r}, &box))
        return;
    for (int row = box.top; row <= box.bottom; row++)
        for (int column = box.left; column <= box.right; column++) {
            double away = hypot(picture_x(p, column) - at.x, picture_y(p, row) - at.y);
            near_hole(p, (size_t)row * (size_t)p->width + (size_t)column,
                      HOLE_DEEP * p->depth * (1 - picture_smooth(0.5 * r, r, away)));
        }
}

/* Holes that follow each other are joined, a closed round's last and first one too. */
static void join(picture *p, const stitching *s, const bw_band_plan *band, const bw_placing *list, size_t count) {
    size_t begin = 0; /* of the loop in hand */
    for (size_t i = 0; i < count; i++) {
        int loop = band->runs[list[i].run - 1].loop;
        bool last = i + 1 == count || band->runs[list[i + 1].run - 1].loop != loop;
        const bw_placing *to = last ? &list[begin] : &list[i + 1];
        if (hypot(to->at.x - list[i].at.x, to->at.y - list[i].at.y) <= s->farthest)
            thread_between(p, s, list[i].at, to->at);
        begin = last ? i + 1 : begin;
    }
}

bool picture_stitches(picture *p, const bw_plan *plan, size_t band) {
    const bw_band_plan *one = &plan->bands[band];
    const bw_allocator memory = {shop_maths_resize, NULL};
    bw_placing *list;
    size_t count;
    if (bw_placings_create(plan, band, &memory, &list, &count) != BW_OK)
        return false;
    double half = fmax(fmin(THREAD_HALF, 0.13 * one->face.length), 0.8 / p->per_mm);
    stitching s = {half, THREAD_HIGH, 1.7 * fmax(one->usual, one->most)};
    for (size_t i = 0; i < count; i++)
        hole_at(p, &s, list[i].at);
    join(p, &s, one, list, count);
    bw_placings_release(list, &memory);
    return true;
}
