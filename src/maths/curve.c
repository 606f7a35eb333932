/* Curves: making them, and asking them. */
#include "maths/curve.h"

#include <math.h>
#include <string.h>

double maths_angle(double radians) {
    double a = radians > BW_PI ? radians - 2 * BW_PI : radians <= -BW_PI ? radians + 2 * BW_PI : radians;
    if (a > -BW_PI && a <= BW_PI) /* nearly always */
        return a;
    a = remainder(radians, 2 * BW_PI);
    return a <= -BW_PI ? BW_PI : a;
}

bw_point maths_ahead(bw_point from, double heading, double distance) {
    return (bw_point){from.x + distance * cos(heading), from.y + distance * sin(heading)};
}

bw_curve *maths_curve_new(const bw_allocator *allocator, size_t room, bool closed) {
    return maths_curve_new_loops(allocator, room, 1, closed);
}

bw_curve *maths_curve_new_loops(const bw_allocator *allocator, size_t room, size_t loops, bool closed) {
    bw_allocator a = maths_allocator(allocator);
    bw_curve *curve = maths_alloc(&a, 1, sizeof *curve);
    if (curve == NULL)
        return NULL;
    curve->allocator = a;
    curve->room = room;
    curve->closed = closed;
    curve->pieces = a.resize(a.context, NULL, (room + 1) * sizeof *curve->pieces);
    curve->firsts = maths_alloc(&a, loops + 2, sizeof *curve->firsts);
    curve->loop_closed = maths_alloc(&a, loops + 1, sizeof *curve->loop_closed);
    if (curve->pieces == NULL || curve->firsts == NULL || curve->loop_closed == NULL) {
        bw_curve_destroy(curve);
        return NULL;
    }
    return curve;
}

void bw_curve_destroy(bw_curve *curve) {
    if (curve == NULL)
        return;
    bw_allocator a = curve->allocator;
    maths_release(&a, curve->pieces);
    maths_release(&a, curve->firsts);
    maths_release(&a, curve->loop_closed);
    maths_release(&a, curve);
}

bw_curve *maths_curve_copy(const bw_curve *curve, const bw_allocator *allocator) {
    size_t loops = (size_t)curve->loops;
    bw_curve *copy = maths_curve_new_loops(allocator, curve->count, loops, curve->closed);
    if (copy == NULL)
        return NULL;
    memcpy(copy->pieces, curve->pieces, curve->count * sizeof *copy->pieces);
    memcpy(copy->firsts, curve->firsts, (loops + 1) * sizeof *copy->firsts);
    memcpy(copy->loop_closed, curve->loop_closed, loops * sizeof *copy->loop_closed);
    copy->count = curve->count;
    copy->loops = curve->loops;
    copy->length = curve->length;
    return copy;
}

/* A loop begun is counted with its first piece. */
void maths_curve_begin(bw_curve *curve, bool closed) {
    curve->firsts[curve->loops] = curve->count;
    curve->firsts[curve->loops + 1] = curve->count;
    curve->loop_closed[curve->loops] = closed;
    curve->begun = true;
}

void maths_curve_add(bw_curve *curve, bw_piece piece) {
    if (piece.length <= BW_EPS || curve->count == curve->room)
        return;
    if (curve->count == 0 && !curve->begun)
        maths_curve_begin(curve, curve->closed);
    piece.start = curve->length;
    curve->pieces[curve->count++] = piece;
    curve->length += piece.length;
    curve->loops += curve->begun;
    curve->begun = false;
    curve->firsts[curve->loops] = curve->count;
}

void maths_curve_adopt(bw_curve *curve, size_t count) {
    for (size_t i = 0; i < count; i++) {
        bw_piece *piece = &curve->pieces[i];
        if (piece->length <= BW_EPS || i > curve->count) { /* from the first short one on they close up */
            maths_curve_add(curve, *piece);
            continue;
        }
        if (i == 0)
            maths_curve_begin(curve, curve->closed);
        piece->start = curve->length;
        curve->length += piece->length;
        curve->count = i + 1;
        curve->loops = 1;
        curve->begun = false;
    }
    curve->firsts[curve->loops] = curve->count;
}

void maths_curve_add_line(bw_curve *curve, bw_point from, double heading, double length) {
    maths_curve_add(curve, (bw_piece){.from = from,
                                      .to = maths_ahead(from, heading, length),
                                      .heading = maths_angle(heading),
                                      .length = length});
}

void maths_curve_add_arc(bw_curve *curve, bw_point centre, double radius, double heading, double sweep) {
    double bend = (sweep > 0 ? 1 : -1) / radius;
    double side = sweep > 0 ? -BW_PI / 2 : BW_PI / 2; /* from the direction of travel to the one away from the centre */
    maths_curve_add(curve, (bw_piece){.from = maths_ahead(centre, heading + side, radius),
                                      .to = maths_ahead(centre, heading + sweep + side, radius),
                                      .centre = centre,
                                      .curvature = bend,
                                      .bend = {bend, bend},
                                      .heading = maths_angle(heading),
                                      .length = radius * fabs(sweep),
                                      .sweep = sweep});
}

bool bw_curve_closed(const bw_curve *curve) {
    return curve->closed;
}

int bw_curve_loops(const bw_curve *curve) {
    return curve->loops;
}

bool bw_curve_loop_closed(const bw_curve *curve, int loop) {
    return curve->loop_closed[loop];
}

double bw_curve_length(const bw_curve *curve) {
    return curve->length;
}

size_t bw_curve_pieces(const bw_curve *curve) {
    return curve->count;
}

bw_piece bw_curve_piece(const bw_curve *curve, size_t index) {
    return curve->pieces[index];
}

void bw_curve_loop(const bw_curve *curve, int loop, size_t *first, size_t *count) {
    *first = curve->firsts[loop];
    *count = curve->firsts[loop + 1] - *first;
}

double maths_joint(const bw_curve *curve, int loop, size_t i) {
    size_t first, count;
    bw_curve_loop(curve, loop, &first, &count);
    if (i == first && !curve->loop_closed[loop])
        return 0;
    const bw_piece *before = &curve->pieces[i == first ? first + count - 1 : i - 1];
    double turn = maths_angle(curve->pieces[i].heading - before->heading - before->sweep);
    if (turn < -BW_PI + BW_EPS) /* a point where the curve turns back is convex: parallels have no others */
        return BW_PI;
    return fabs(turn) <= BW_EPS ? 0 : turn;
}

double bw_curve_turning(const bw_curve *curve) {
    double turning = 0;
    for (int loop = 0; loop < curve->loops; loop++)
        for (size_t i = curve->firsts[loop]; i < curve->firsts[loop + 1]; i++)
            turning += curve->pieces[i].sweep + maths_joint(curve, loop, i);
    return turning;
}

double bw_curve_least_radius(const bw_curve *curve) {
    double most = 0;
    for (size_t i = 0; i < curve->count; i++)
        most = fmax(most, fmax(fabs(curve->pieces[i].bend[0]), fabs(curve->pieces[i].bend[1])));
    return most > 0 ? 1 / most : INFINITY;
}

/* s - sin s, also where both are nearly the same. */
static double less_sine(double s) {
    const double little = 0.1, q = s * s;
    if (fabs(s) > little)
        return s - sin(s);
    return s * q / 6 * (1 - q / 20 * (1 - q / 42 * (1 - q / 72)));
}

/* Green's theorem: chords, seen from the loop's first point, and the segment between each arc and its chord. */
static double twice_area(const bw_curve *curve, int loop) {
    double twice = 0;
    size_t first = curve->firsts[loop];
    bw_point zero = curve->pieces[first].from;
    for (size_t i = first; i < curve->firsts[loop + 1]; i++) {
        const bw_piece *p = &curve->pieces[i];
        twice += (p->from.x - zero.x) * (p->to.y - zero.y) - (p->to.x - zero.x) * (p->from.y - zero.y);
        if (p->curvature != 0)
            twice += less_sine(p->sweep) / (p->curvature * p->curvature);
    }
    return twice;
}

double bw_curve_area(const bw_curve *curve) {
    double twice = 0;
    for (int loop = 0; loop < curve->loops; loop++)
        twice += curve->loop_closed[loop] ? twice_area(curve, loop) : 0;
    return twice / 2;
}

void maths_curve_drop_thin(bw_curve *to) {
    size_t first = to->firsts[to->loops - 1];
    double length = 0;
    for (size_t i = first; i < to->count; i++)
        length += to->pieces[i].length;
    if (twice_area(to, to->loops - 1) > length * BW_EPS)
        return;
    to->loops--;
    to->count = first;
    to->length -= length;
}

/* By the chord, which no large radius makes inexact. */
bw_spot maths_piece_at(const bw_piece *piece, double u) {
    if (piece->curvature == 0) {
        double share = u / piece->length;
        return (bw_spot){{piece->from.x + share * (piece->to.x - piece->from.x),
                          piece->from.y + share * (piece->to.y - piece->from.y)},
                         piece->heading};
    }
    double half = piece->curvature * u / 2;
    bw_point at = maths_ahead(piece->from, piece->heading + half, 2 * sin(half) / piece->curvature);
    return (bw_spot){at, maths_angle(piece->heading + 2 * half)};
}

/* Radii change evenly along a piece, and so they do along its parallels; where the bend changes sides it does itself.
 */
static double bend_between(const bw_piece *piece, double share) {
    double a = piece->bend[0], b = piece->bend[1];
    if (a == b)
        return a;
    return a * b > 0 ? a * b / (b + share * (a - b)) : a + share * (b - a);
}

bw_piece maths_piece_part(const bw_piece *piece, double u, double v) {
    bw_piece part = *piece;
    if (u <= 0 && v >= piece->length)
        return part;
    if (u > 0) {
        bw_spot begin = maths_piece_at(piece, u);
        part.from = begin.at;
        part.heading = begin.heading;
    }
    if (v < piece->length)
        part.to = maths_piece_at(piece, v).at;
    part.bend[0] = bend_between(piece, u / piece->length);
    part.bend[1] = bend_between(piece, v / piece->length);
    part.length = v - u;
    part.sweep = piece->curvature * (v - u);
    return part;
}

/* The last of pieces low .. high - 1 that begins at or before `along` (within BW_EPS, so that a corner counts as
 * passed). */
static size_t piece_among(const bw_curve *curve, size_t low, size_t high, double along) {
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        if (curve->pieces[middle].start <= along + BW_EPS)
            low = middle;
        else
            high = middle;
    }
    return low;
}

static size_t piece_at(const bw_curve *curve, double along) {
    return piece_among(curve, 0, curve->count, along);
}

bw_spot maths_loop_at(const bw_curve *curve, int loop, double along) {
    size_t i = piece_among(curve, curve->firsts[loop], curve->firsts[loop + 1], along);
    const bw_piece *piece = &curve->pieces[i];
    return maths_piece_at(piece, fmin(fmax(along - piece->start, 0), piece->length));
}

bw_spot bw_curve_at(const bw_curve *curve, double along) {
    if (curve->count == 0)
        return (bw_spot){{0, 0}, 0};
    if (curve->loops == 1 && curve->loop_closed[0]) {
        along = fmod(along, curve->length);
        if (along < 0)
            along += curve->length;
        if (curve->length - along <= BW_EPS)
            along = 0;
    }
    along = fmin(fmax(along, 0), curve->length);
    const bw_piece *piece = &curve->pieces[piece_at(curve, along)];
    return maths_piece_at(piece, fmin(along - piece->start, piece->length));
}

static double off(bw_point a, bw_point b) {
    return sqrt((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y));
}

/* The place on the line or the full circle; it may lie beyond the piece. */
static double foot_of(const bw_piece *piece, bw_point p) {
    if (piece->curvature == 0)
        return ((p.x - piece->from.x) * (piece->to.x - piece->from.x) +
                (p.y - piece->from.y) * (piece->to.y - piece->from.y)) /
               piece->length;
    double side = piece->curvature > 0 ? 1 : -1;
    double away = atan2(p.y - piece->centre.y, p.x - piece->centre.x);
    double turn = maths_angle(away - piece->heading + side * BW_PI / 2) * side;
    if (turn < -BW_EPS && turn + 2 * BW_PI <= fabs(piece->sweep) + BW_EPS)
        turn += 2 * BW_PI;
    return turn / fabs(piece->curvature);
}

double maths_piece_nearest(const bw_piece *piece, bw_point p, double *distance) {
    if (piece->curvature != 0 && off(p, piece->centre) <= BW_EPS) {
        *distance = 1 / fabs(piece->curvature);
        return 0; /* all of it is as near */
    }
    double u = foot_of(piece, p);
    if (u < 0 || u > piece->length) { /* an end is nearer, and on an arc not always the end that u is nearer to */
        double begin = off(p, piece->from), end = off(p, piece->to);
        *distance = begin <= end ? begin : end;
        return begin <= end + BW_EPS ? 0 : piece->length;
    }
    *distance = off(p, maths_piece_at(piece, u).at);
    return u;
}

double maths_curve_place_on(const bw_curve *curve, size_t piece, double u) {
    int loop = 0;
    while (curve->firsts[loop + 1] <= piece)
        loop++;
    const bw_piece *last = &curve->pieces[curve->firsts[loop + 1] - 1];
    double along = curve->pieces[piece].start + u;
    bool at_end = along >= last->start + last->length - BW_EPS;
    return curve->loop_closed[loop] && at_end ? curve->pieces[curve->firsts[loop]].start : along;
}

double maths_loops_nearest(const bw_curve *curve, int first, int last, bw_point p) {
    double best = INFINITY, at = 0;
    size_t found = curve->count;
    for (size_t i = curve->firsts[first]; i < curve->firsts[last + 1]; i++) {
        const bw_piece *piece = &curve->pieces[i];
        double distance = off(p, piece->from) - piece->length;
        if (distance >= best) /* no need to look */
            continue;
        double u = maths_piece_nearest(piece, p, &distance);
        if (distance < best - BW_EPS) {
            best = distance;
            found = i;
            at = u;
        }
    }
    return found < curve->count ? maths_curve_place_on(curve, found, at) : 0;
}

double bw_curve_nearest(const bw_curve *curve, bw_point p) {
    return curve->loops > 0 ? maths_loops_nearest(curve, 0, curve->loops - 1, p) : 0;
}

static bw_box hold(bw_box box, bw_point p) {
    return (bw_box){fmin(box.left, p.x), fmin(box.bottom, p.y), fmax(box.right, p.x), fmax(box.top, p.y)};
}

/* An arc reaches furthest where it heads along an axis. */
static bw_box hold_arc(bw_box box, const bw_piece *arc) {
    static const bw_point aside[] = {{0, -1}, {1, 0}, {0, 1}, {-1, 0}}; /* to the right of each quarter turn */
    const double quarter = BW_PI / 2, begin = arc->heading / quarter, end = begin + arc->sweep / quarter;
    for (double turns = ceil(fmin(begin, end) - BW_EPS); turns <= fmax(begin, end) + BW_EPS; turns++) {
        bw_point out = aside[((int)turns % 4 + 4) % 4];
        box = hold(box, (bw_point){arc->centre.x + out.x / arc->curvature, arc->centre.y + out.y / arc->curvature});
    }
    return box;
}

bw_box bw_curve_box(const bw_curve *curve) {
    bw_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    if (curve->boxed)
        return curve->box;
    for (size_t i = 0; i < curve->count; i++) {
        const bw_piece *p = &curve->pieces[i];
        box = hold(hold(box, p->from), p->to);
        if (p->curvature != 0)
            box = hold_arc(box, p);
    }
    return curve->count > 0 ? box : (bw_box){0, 0, 0, 0};
}

void maths_curve_add_from(bw_curve *to, const bw_curve *curve, int loop, double along) {
    size_t first, n;
    bw_curve_loop(curve, loop, &first, &n);
    size_t k = piece_at(curve, along) - first;
    double u = along - curve->pieces[first + k].start;
    if (u <= BW_EPS)
        u = 0;
    maths_curve_begin(to, curve->loop_closed[loop]);
    for (size_t i = 0; i < n; i++) {
        const bw_piece *piece = &curve->pieces[first + (k + i) % n];
        maths_curve_add(to, i == 0 ? maths_piece_part(piece, u, piece->length) : *piece);
    }
    if (u > 0)
        maths_curve_add(to, maths_piece_part(&curve->pieces[first + k], 0, u));
}
