/* Parallels: exact on lines and arcs. A convex corner is mitred; an arc that is used up leaves a corner behind. */
#include <math.h>

#include "maths/curve.h"

/* A piece moved inward by d along its normal; false if it is an arc that is used up. */
static bool move_piece(const bw_piece *piece, double d, bw_piece *moved) {
    *moved = *piece;
    if (piece->curvature == 0) {
        double left = piece->heading + BW_PI / 2;
        moved->from = maths_ahead(piece->from, left, d);
        moved->to = maths_ahead(piece->to, left, d);
        return true;
    }
    double radius = piece->curvature > 0 ? 1 / piece->curvature - d : d - 1 / piece->curvature;
    if (radius <= BW_EPS)
        return false;
    moved->curvature = (piece->curvature > 0 ? 1 : -1) / radius;
    moved->length = radius * fabs(piece->sweep);
    double away = piece->curvature > 0 ? -BW_PI / 2 : BW_PI / 2;
    moved->from = maths_ahead(piece->centre, piece->heading + away, radius);
    moved->to = maths_ahead(piece->centre, piece->heading + piece->sweep + away, radius);
    return true;
}

/* b goes straight on from a. */
static bool goes_on(const bw_piece *a, const bw_piece *b) {
    return a->curvature == 0 && b->curvature == 0 && fabs(maths_angle(b->heading - a->heading)) <= BW_EPS;
}

/* The pieces of a curve with every straight in one piece, also the one that its start divides. Returns how many. */
static size_t whole_straights(const bw_curve *curve, bw_piece *pieces) {
    size_t n = 0;
    for (size_t i = 0; i < curve->count; i++) {
        const bw_piece *piece = &curve->pieces[i];
        if (n > 0 && goes_on(&pieces[n - 1], piece)) {
            pieces[n - 1].to = piece->to;
            pieces[n - 1].length += piece->length;
        } else
            pieces[n++] = *piece;
    }
    if (curve->closed && n > 1 && goes_on(&pieces[n - 1], &pieces[0])) {
        pieces[0].from = pieces[n - 1].from;
        pieces[0].length += pieces[n - 1].length;
        n--;
    }
    return n;
}

/* How far along the line of a (from its beginning) it crosses the line of b. */
static double crossing(const bw_piece *a, const bw_piece *b) {
    double ax = cos(a->heading), ay = sin(a->heading), bx = cos(b->heading), by = sin(b->heading);
    double dx = b->from.x - a->from.x, dy = b->from.y - a->from.y;
    return (dx * by - dy * bx) / (ax * by - ay * bx);
}

/* Lines that meet in a corner are lengthened or shortened to where they cross. */
typedef struct ends {
    double from, until; /* along the moved line */
    bool mitred;
} ends;

static ends trim(const bw_piece *pieces, size_t n, size_t i, bool closed) {
    const bw_piece *p = &pieces[i];
    ends e = {0, p->length, false};
    if (p->curvature != 0 || n < 2)
        return e;
    const bw_piece *next = &pieces[(i + 1) % n], *before = &pieces[(i + n - 1) % n];
    bool last = !closed && i + 1 == n, first = !closed && i == 0;
    if (!last && hypot(next->from.x - p->to.x, next->from.y - p->to.y) > BW_EPS && next->curvature == 0) {
        e.until = crossing(p, next);
        e.mitred = true;
    }
    if (!first && hypot(before->to.x - p->from.x, before->to.y - p->from.y) > BW_EPS && before->curvature == 0) {
        e.from = crossing(p, before);
        e.mitred = true;
    }
    return e;
}

/* Does the chain turn straight back on itself after piece i? Then two opposite sides have met. */
static bool folds(const bw_piece *pieces, size_t n, size_t i) {
    const bw_piece *p = &pieces[i], *next = &pieces[(i + 1) % n];
    return n > 1 && fabs(maths_angle(next->heading - p->heading - p->sweep)) >= BW_PI - BW_EPS;
}

/* The moved pieces joined; false once a line between mitres has nothing left: the leather's middle is reached. */
static bool join(bw_curve *to, const bw_piece *moved, size_t n) {
    for (size_t i = 0; i < n; i++) {
        const bw_piece *p = &moved[i];
        if (to->closed && folds(moved, n, i))
            return false;
        if (p->curvature != 0) {
            maths_curve_add_arc(to, p->centre, 1 / fabs(p->curvature), p->heading, p->sweep);
            continue;
        }
        ends e = trim(moved, n, i, to->closed);
        if (e.mitred && e.until - e.from <= BW_EPS)
            return false;
        maths_curve_add_line(to, maths_ahead(p->from, p->heading, e.from), p->heading, e.until - e.from);
    }
    return true;
}

bw_status bw_curve_offset(const bw_curve *curve, double d, const bw_allocator *allocator, bw_curve **parallel) {
    *parallel = NULL;
    bw_curve *made = maths_curve_new(allocator, curve->count, curve->closed);
    bw_piece *moved = made != NULL ? maths_alloc(&made->allocator, curve->count, sizeof *moved) : NULL;
    if (moved == NULL) {
        bw_curve_destroy(made);
        return BW_NO_MEMORY;
    }
    size_t whole = whole_straights(curve, moved), n = 0;
    for (size_t i = 0; i < whole; i++) {
        bw_piece piece = moved[i];
        n += move_piece(&piece, d, &moved[n]);
    }
    if (!join(made, moved, n)) {
        made->count = 0;
        made->loops = 0;
        made->length = 0;
    }
    maths_release(&made->allocator, moved);
    *parallel = made;
    return BW_OK;
}
