/* On a smooth convex loop every mm inward shortens the round by 2 pi (Steiner). Elsewhere corners that turn by t take
 * 2 tan(t/2), which is more, and the loop may split: the move is then sought between nothing and Steiner's. */
#include "maths/even_at.h"

#include <math.h>

#define CLOSED_TO (BW_EPS / 10) /* mm of round that may be left over */
#define CLOSED_AT_ALL 1e-8      /* mm: a jump of the length (a loop that splits) leaves more than this */

/* Does the point lie within the segment between an arc, of less than half a circle, and its chord? */
static bool in_segment(const bw_piece *arc, bw_point p) {
    double chord_x = arc->to.x - arc->from.x, chord_y = arc->to.y - arc->from.y;
    double side = chord_x * (p.y - arc->from.y) - chord_y * (p.x - arc->from.x);
    bool beyond = arc->curvature > 0 ? side < 0 : side > 0;
    return beyond && hypot(p.x - arc->centre.x, p.y - arc->centre.y) < 1 / fabs(arc->curvature);
}

/* By how much the direction from p to the piece's point turns along it. */
static double seen_turn(const bw_piece *piece, bw_point p) {
    enum { HALVES = 4 }; /* of a full circle, each less than half of one */
    int parts = fabs(piece->sweep) > BW_PI / 2 ? HALVES : 1;
    double turn = 0;
    for (int i = 0; i < parts; i++) {
        bw_piece part = maths_piece_part(piece, piece->length * i / parts, piece->length * (i + 1) / parts);
        double seen =
            maths_angle(atan2(part.to.y - p.y, part.to.x - p.x) - atan2(part.from.y - p.y, part.from.x - p.x));
        if (part.curvature != 0 && in_segment(&part, p))
            seen += seen * part.curvature < 0 ? (part.curvature > 0 ? 2 * BW_PI : -2 * BW_PI) : 0;
        turn += seen;
    }
    return turn;
}

static bool encloses(const bw_curve *curve, int loop, bw_point p) {
    size_t first, count;
    double turn = 0;
    bw_curve_loop(curve, loop, &first, &count);
    for (size_t i = first; i < first + count; i++)
        turn += seen_turn(&curve->pieces[i], p);
    return fabs(turn) > BW_PI;
}

static bw_point begin_of(const bw_curve *curve, int loop) {
    return curve->pieces[curve->firsts[loop]].from;
}

/* The loop that a loop of `from` becomes; -1 if it has gone, split or met another. */
static int becomes(const bw_curve *from, int loop, const bw_curve *to, bool inward) {
    int found = -1;
    if (from->loops == 1 && to->loops == 1)
        return 0;
    for (int i = 0; i < to->loops; i++) {
        if (!to->loop_closed[i] ||
            !(inward ? encloses(from, loop, begin_of(to, i)) : encloses(to, i, begin_of(from, loop))))
            continue;
        if (found >= 0)
            return -1;
        found = i;
    }
    for (int i = 0; i < from->loops && found >= 0 && !inward; i++)
        if (i != loop && encloses(to, found, begin_of(from, i)))
            return -1;
    return found;
}

typedef struct seeking {
    const maths_worked *work;
    int loop;
    double target; /* mm */
    bool no_memory;
} seeking;

/* How much too long the round is with the guide moved; NAN if it is not one closed run there. */
static double too_long(seeking *s, double shift) {
    const bw_curve *guide = s->work->guide.curve;
    bw_curve *moved;
    if (bw_curve_offset(s->work->edge->curve, s->work->strip.guide + shift, &guide->allocator, &moved) != BW_OK) {
        s->no_memory = true;
        return NAN;
    }
    int loop = becomes(guide, s->loop, moved, shift > 0);
    double length = loop >= 0 && moved->loop_closed[loop] ? 0 : NAN;
    for (size_t i = loop >= 0 ? moved->firsts[loop] : 0; loop >= 0 && i < moved->firsts[loop + 1]; i++)
        length += maths_cut_before(moved, loop, i) ? NAN : moved->pieces[i].length;
    bw_curve_destroy(moved);
    return length - s->target;
}

/* A smooth convex loop that stays one: Steiner's move is exact. */
static bool smooth(const bw_curve *curve, int loop, double shift) {
    for (size_t i = curve->firsts[loop]; i < curve->firsts[loop + 1]; i++) {
        const bw_piece *piece = &curve->pieces[i];
        if (maths_joint(curve, loop, i) != 0 || piece->curvature < 0 || piece->curvature * shift >= 1 - BW_EPS)
            return false;
    }
    return true;
}

/* Between 0, where the round is off by gap, and `far`, where it is off the other way or no round at all. */
static bool seek(seeking *s, double gap, double far, double *shift) {
    enum { TRIES = 80 };
    double near = 0, off_near = gap, off_far = too_long(s, far), off = off_far;
    *shift = far;
    if (fabs(off) > CLOSED_TO && off * gap > 0)
        return false;
    for (int i = 0; i < TRIES && !(fabs(off) <= CLOSED_TO) && fabs(far - near) > CLOSED_TO / 100; i++) {
        double at = isnan(off_far) ? (near + far) / 2 : near - off_near * (far - near) / (off_far - off_near);
        off = too_long(s, at);
        *shift = at;
        if (isnan(off) || off * gap < 0) { /* false position with a halved end (Illinois) */
            far = at;
            off_far = off;
            off_near /= 2;
        } else {
            near = at;
            off_near = off;
            off_far /= 2;
        }
    }
    return fabs(off) <= CLOSED_AT_ALL;
}

bool maths_even_at(const maths_worked *work, const maths_run *run, double gap, double *shift, bool *no_memory) {
    const maths_strip *strip = &work->strip;
    seeking s = {.work = work, .loop = run->loop, .target = run->length - gap};
    double steiner = gap / (2 * BW_PI);
    double far = fmin(fmax(steiner, strip->outer - strip->guide), strip->inner - strip->guide);
    *no_memory = false;
    if (smooth(work->guide.curve, run->loop, steiner)) {
        *shift = steiner;
        return fabs(far - steiner) <= BW_EPS;
    }
    bool found = fabs(gap) <= CLOSED_TO ? (*shift = 0, true) : seek(&s, gap, far, shift);
    *no_memory = s.no_memory;
    return found && !s.no_memory;
}
