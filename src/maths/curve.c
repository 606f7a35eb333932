/* Curves: making them, and asking them. */
#include "maths/curve.h"

#include <math.h>
#include <string.h>

double maths_angle(double radians) {
    double a = remainder(radians, 2 * BW_PI);
    return a <= -BW_PI ? BW_PI : a;
}

bw_point maths_ahead(bw_point from, double heading, double distance) {
    return (bw_point){from.x + distance * cos(heading), from.y + distance * sin(heading)};
}

bw_curve *maths_curve_new(const bw_allocator *allocator, size_t room, bool closed) {
    bw_allocator a = maths_allocator(allocator);
    bw_curve *curve = maths_alloc(&a, 1, sizeof *curve);
    if (curve == NULL)
        return NULL;
    curve->allocator = a;
    curve->room = room;
    curve->closed = closed;
    curve->pieces = maths_alloc(&a, room, sizeof *curve->pieces);
    curve->firsts = maths_alloc(&a, 2, sizeof *curve->firsts);
    if (curve->pieces == NULL || curve->firsts == NULL) {
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
    maths_release(&a, curve);
}

static void add(bw_curve *curve, bw_piece piece) {
    if (piece.length <= BW_EPS || curve->count == curve->room)
        return;
    piece.start = curve->length;
    curve->pieces[curve->count++] = piece;
    curve->length += piece.length;
    curve->loops = 1;
    curve->firsts[1] = curve->count;
}

void maths_curve_add_line(bw_curve *curve, bw_point from, double heading, double length) {
    add(curve,
        (bw_piece){
            .from = from, .to = maths_ahead(from, heading, length), .heading = maths_angle(heading), .length = length});
}

void maths_curve_add_arc(bw_curve *curve, bw_point centre, double radius, double heading, double sweep) {
    double side = sweep > 0 ? -BW_PI / 2 : BW_PI / 2; /* from the direction of travel to the one away from the centre */
    add(curve, (bw_piece){.from = maths_ahead(centre, heading + side, radius),
                          .to = maths_ahead(centre, heading + sweep + side, radius),
                          .centre = centre,
                          .curvature = (sweep > 0 ? 1 : -1) / radius,
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
    (void)loop;
    return curve->closed;
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
    if (i == first && !curve->closed)
        return 0;
    const bw_piece *before = &curve->pieces[i == first ? first + count - 1 : i - 1];
    double turn = maths_angle(curve->pieces[i].heading - before->heading - before->sweep);
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
        most = fmax(most, fabs(curve->pieces[i].curvature));
    return most > 0 ? 1 / most : INFINITY;
}

/* Green's theorem: chords, and the segment between each arc and its chord. */
double bw_curve_area(const bw_curve *curve) {
    double twice = 0;
    for (size_t i = 0; i < curve->count; i++) {
        const bw_piece *p = &curve->pieces[i];
        twice += p->from.x * p->to.y - p->to.x * p->from.y;
        if (p->curvature != 0)
            twice += (p->sweep - sin(p->sweep)) / (p->curvature * p->curvature);
    }
    return curve->closed ? twice / 2 : 0;
}

bw_spot maths_piece_at(const bw_piece *piece, double u) {
    if (piece->curvature == 0)
        return (bw_spot){maths_ahead(piece->from, piece->heading, u), piece->heading};
    double heading = piece->heading + piece->curvature * u;
    double reach = 1 / piece->curvature; /* signed: the centre lies to the left of a convex arc */
    bw_point at = maths_ahead(piece->centre, heading - BW_PI / 2, reach);
    return (bw_spot){at, maths_angle(heading)};
}

/* The last piece that begins at or before `along` (within BW_EPS, so that a corner counts as passed). */
static size_t piece_at(const bw_curve *curve, double along) {
    size_t low = 0, high = curve->count;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        if (curve->pieces[middle].start <= along + BW_EPS)
            low = middle;
        else
            high = middle;
    }
    return low;
}

bw_spot bw_curve_at(const bw_curve *curve, double along) {
    if (curve->count == 0)
        return (bw_spot){{0, 0}, 0};
    if (curve->closed && curve->loops == 1) {
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

double maths_piece_nearest(const bw_piece *piece, bw_point p, double *distance) {
    double u;
    if (piece->curvature == 0) {
        u = (p.x - piece->from.x) * cos(piece->heading) + (p.y - piece->from.y) * sin(piece->heading);
    } else {
        double away = atan2(p.y - piece->centre.y, p.x - piece->centre.x);
        double begin = piece->heading - (piece->curvature > 0 ? BW_PI / 2 : -BW_PI / 2);
        double turn = maths_angle(away - begin) * (piece->curvature > 0 ? 1 : -1);
        double sweep = fabs(piece->sweep);
        if (turn < -BW_EPS && turn + 2 * BW_PI <= sweep + BW_EPS)
            turn += 2 * BW_PI;
        u = turn / fabs(piece->curvature);
    }
    if (u < 0 || u > piece->length) { /* an end is nearer, and on an arc not always the end that u is nearer to */
        double begin = hypot(p.x - piece->from.x, p.y - piece->from.y);
        double end = hypot(p.x - piece->to.x, p.y - piece->to.y);
        u = begin <= end + BW_EPS ? 0 : piece->length;
        *distance = fmin(begin, end);
        return u;
    }
    bw_point at = maths_piece_at(piece, u).at;
    *distance = hypot(p.x - at.x, p.y - at.y);
    return u;
}

double bw_curve_nearest(const bw_curve *curve, bw_point p) {
    double best = INFINITY, along = 0;
    for (size_t i = 0; i < curve->count; i++) {
        double distance;
        double u = maths_piece_nearest(&curve->pieces[i], p, &distance);
        if (distance < best - BW_EPS) {
            best = distance;
            along = curve->pieces[i].start + u;
        }
    }
    return along >= curve->length - BW_EPS && curve->closed ? 0 : along;
}

static bw_box hold(bw_box box, bw_point p) {
    return (bw_box){fmin(box.left, p.x), fmin(box.bottom, p.y), fmax(box.right, p.x), fmax(box.top, p.y)};
}

bw_box bw_curve_box(const bw_curve *curve) {
    bw_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (size_t i = 0; i < curve->count; i++) {
        const bw_piece *p = &curve->pieces[i];
        box = hold(hold(box, p->from), p->to);
        for (int quarter = 0; quarter < 4 && p->curvature != 0; quarter++) {
            double away = quarter * BW_PI / 2, distance;
            bw_point out = maths_ahead(p->centre, away, 1 / fabs(p->curvature));
            maths_piece_nearest(p, out, &distance);
            if (distance <= BW_EPS)
                box = hold(box, out);
        }
    }
    return curve->count > 0 ? box : (bw_box){0, 0, 0, 0};
}

static void add_part(bw_curve *to, const bw_piece *piece, double from, double until) {
    bw_spot spot = maths_piece_at(piece, from);
    if (piece->curvature == 0)
        maths_curve_add_line(to, spot.at, piece->heading, until - from);
    else
        maths_curve_add_arc(to, piece->centre, 1 / fabs(piece->curvature), spot.heading,
                            piece->curvature * (until - from));
}

bw_curve *maths_curve_from(const bw_curve *curve, double along, const bw_allocator *allocator) {
    bw_curve *turned = maths_curve_new(allocator, curve->count + 1, curve->closed);
    if (turned == NULL || curve->count == 0)
        return turned;
    size_t k = piece_at(curve, along), n = curve->count;
    double u = along - curve->pieces[k].start;
    if (u <= BW_EPS)
        u = 0;
    for (size_t i = 0; i < n; i++) {
        const bw_piece *piece = &curve->pieces[(k + i) % n];
        if (i == 0 && u > 0)
            add_part(turned, piece, u, piece->length);
        else
            add(turned, *piece);
    }
    if (u > 0)
        add_part(turned, &curve->pieces[k], 0, u);
    return turned;
}
