/* Parallels: moving every piece of an edge, and the whole way to the trimmed parallel (see parallel.h). */
#include <math.h>

#include "maths/meet.h"
#include "maths/parallel.h"

#define PARALLEL_SWERVE 1e-8 /* mm: so far d is changed where cuts fall together so badly that nothing links up */
#define MITRE_GUESSED 1e-5   /* radians: up to here both pieces are as good as straight at their mitre */

static bw_point towards(bw_point from, bw_point to, double share) {
    return (bw_point){from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)};
}

/* A piece moved inward by d along its normal; 0 if it has shrunk to a point, -1 if it has turned inside out. */
static int move_piece(const bw_piece *piece, double d, bw_piece *moved) {
    *moved = *piece;
    if (piece->curvature == 0) {
        double share = d / piece->length, x = share * (piece->from.y - piece->to.y),
               y = share * (piece->to.x - piece->from.x);
        moved->from = (bw_point){piece->from.x + x, piece->from.y + y};
        moved->to = (bw_point){piece->to.x + x, piece->to.y + y};
        return 1;
    }
    double share = d * piece->curvature; /* of the way to the centre */
    moved->from = towards(piece->from, piece->centre, share);
    moved->to = towards(piece->to, piece->centre, share);
    double radius = piece->curvature > 0 ? 1 / piece->curvature - d : d - 1 / piece->curvature;
    if (radius <= BW_EPS)
        return radius < -BW_EPS ? -1 : 0;
    moved->curvature = (piece->curvature > 0 ? 1 : -1) / radius;
    moved->length = radius * fabs(piece->sweep);
    for (int i = 0; i < 2; i++) {
        bool fitted = piece->bend[i] != piece->curvature && 1 - d * piece->bend[i] > BW_EPS;
        moved->bend[i] = fitted ? piece->bend[i] / (1 - d * piece->bend[i]) : moved->curvature;
    }
    return 1;
}

/* ---- mitres ---- */

/* What the mitres at both ends leave of a piece. */
typedef struct part {
    double from, until;
    bool mitred; /* with the next piece */
} part;

/* tan(turn / 2); its series where that is as good, for chains of thousands of shallow corners. */
static double tan_half(double turn) {
    const double shallow = 0.05;
    double x = turn / 2, q = x * x;
    return turn > shallow ? tan(x) : x * (1 + q * (1 / 3.0 + q * (2 / 15.0 + q * (17 / 315.0 + q * 62 / 2835.0))));
}

/* Where two moved pieces that met in a corner of this turn cross. */
static bool mitre(const bw_piece *a, const bw_piece *b, double turn, double d, maths_meeting *at) {
    double back = d * tan_half(turn);
    *at = (maths_meeting){a->length - back, back};
    if (a->curvature == 0 && b->curvature == 0)
        return at->a >= 0 && at->b <= b->length;
    if (turn > MITRE_GUESSED)
        return turn <= BW_CORNER_CUT && maths_meet_near(a, b, at);
    return at->a >= 0 && at->b <= b->length;
}

/* turns[i]: the convex corner before piece i, 0 where there is none. */
static void mitre_all(const maths_moved *m, part *parts, const double *turns, double d) {
    size_t n = m->count;
    for (size_t i = 0; i < n; i++)
        parts[i] = (part){0, m->pieces[i].length, false};
    for (size_t i = 0; i < n; i++) {
        size_t next = (i + 1) % n;
        maths_meeting at;
        if (turns[next] <= 0 || n == 1 || !mitre(&m->pieces[i], &m->pieces[next], turns[next], d, &at))
            continue;
        parts[i].mitred = true;
        parts[i].until = at.a;
        parts[next].from = at.b;
    }
}

/* A piece that its mitres use up keeps its whole length, and the chain is broken on both sides of it. */
static void undo_used_up(const maths_moved *m, part *parts) {
    size_t n = m->count;
    for (size_t i = 0; i < n; i++) {
        part *p = &parts[i], *before = &parts[(i + n - 1) % n], *behind = &parts[(i + 1) % n];
        if (p->until - p->from > BW_EPS)
            continue;
        if (p->mitred)
            behind->from = 0;
        if (before->mitred) {
            before->mitred = false;
            before->until = m->pieces[(i + n - 1) % n].length;
        }
        *p = (part){0, m->pieces[i].length, false};
    }
}

static void cut_to_mitres(maths_moved *m, const part *parts) {
    size_t n = m->count;
    for (size_t i = 0; i < n; i++)
        if (parts[i].from > 0 || parts[i].until < m->pieces[i].length)
            m->pieces[i] = maths_piece_part(&m->pieces[i], parts[i].from, parts[i].until);
    for (size_t i = 0; i < n && (m->closed || i + 1 < n); i++) {
        const bw_piece *next = &m->pieces[(i + 1) % n];
        double x = next->from.x - m->pieces[i].to.x, y = next->from.y - m->pieces[i].to.y;
        m->breaks[i] = !parts[i].mitred && x * x + y * y > MATHS_SAME_SPOT * MATHS_SAME_SPOT;
        m->clean = m->clean && !m->breaks[i];
    }
}

/* ---- the moved chain ---- */

/* A concave corner opens into an arc around it, from where the piece before it ends to where the one behind begins. */
static bw_piece corner_arc(bw_point corner, double heading, double turn, double d, bw_point from, bw_point to) {
    return (bw_piece){.from = from,
                      .to = to,
                      .centre = corner,
                      .curvature = -1 / d,
                      .heading = maths_angle(heading),
                      .length = -turn * d,
                      .bend = {-1 / d, -1 / d},
                      .sweep = turn};
}

/* Appends what every piece and the corner before it become. corners: the turns before the pieces of the edge; turns:
 * the convex ones between moved pieces that still touch. */
static void move_all(maths_moved *m, const bw_curve *edge, double d, const double *corners, double *turns) {
    bool lost = false; /* the piece before */
    bw_piece moved, last = edge->pieces[edge->count - 1];
    bw_point end = maths_ahead(last.to, last.heading + last.sweep + BW_PI / 2, d);
    for (size_t i = 0; i < edge->count; i++) {
        const bw_piece *piece = &edge->pieces[i];
        int kind = move_piece(piece, d, &moved);
        if (-corners[i] * d > BW_EPS)
            m->pieces[m->count++] =
                corner_arc(piece->from, piece->heading - corners[i], corners[i], d, end, moved.from);
        m->clean = m->clean && corners[i] >= 0 && piece->curvature >= 0;
        end = moved.to;
        if (kind > 0) {
            turns[m->count] = lost || corners[i] < 0 ? 0 : corners[i];
            m->pieces[m->count++] = moved;
        }
        lost = kind <= 0;
    }
    if (lost)
        turns[0] = 0;
}

bool maths_moved_make(maths_moved *m, const bw_curve *edge, double d, maths_arena *arena) {
    size_t room = edge->count;
    double *corners = maths_take_unset(arena, edge->count, sizeof *corners);
    for (size_t i = 0; i < edge->count && corners != NULL; i++) {
        corners[i] = maths_joint(edge, 0, i);
        room += corners[i] < 0;
    }
    *m = (maths_moved){.closed = edge->closed, .clean = edge->closed};
    m->own = corners != NULL ? maths_curve_new(&arena->allocator, room, edge->closed) : NULL;
    if (m->own == NULL)
        return false;
    m->pieces = m->own->pieces;
    m->breaks = maths_take(arena, room, sizeof *m->breaks);
    part *parts = maths_take_unset(arena, room, sizeof *parts);
    double *turns = maths_take(arena, room, sizeof *turns);
    if (arena->failed)
        return false;
    move_all(m, edge, d, corners, turns);
    if (m->count == 0)
        return true;
    mitre_all(m, parts, turns, d);
    undo_used_up(m, parts);
    cut_to_mitres(m, parts);
    return true;
}

/* ---- the whole way ---- */

static bw_curve *copy(const bw_curve *edge, const bw_allocator *allocator) {
    bw_curve *made = maths_curve_new(allocator, edge->count, edge->closed);
    for (size_t i = 0; i < edge->count && made != NULL; i++)
        maths_curve_add(made, edge->pieces[i]);
    return made;
}

/* A convex chain that still holds together all round is its own parallel. Takes it over. */
static bw_curve *as_moved(maths_moved *moved) {
    bw_curve *made = moved->own;
    moved->own = NULL;
    maths_curve_adopt(made, moved->count);
    if (made->loops > 0)
        maths_curve_drop_thin(made);
    return made;
}

/* NULL without memory. */
static bw_curve *parallel(const bw_curve *edge, double d, const bw_allocator *allocator, bool *sound) {
    maths_arena arena;
    maths_moved moved;
    maths_slices slices;
    bw_curve *made = NULL;
    *sound = true;
    maths_arena_init(&arena, allocator);
    if (maths_moved_make(&moved, edge, d, &arena)) {
        if (moved.count == 0 || moved.clean)
            made = as_moved(&moved);
        else if (maths_trim(&slices, &moved, edge, d, &arena))
            made = maths_link(&slices, &moved, edge, &arena, sound);
    }
    bw_curve_destroy(moved.own);
    maths_arena_free(&arena);
    return made;
}

bw_status bw_curve_offset(const bw_curve *curve, double d, const bw_allocator *allocator, bw_curve **made) {
    static const double swerves[] = {0, 1, -1, 3, -3};
    enum { TRIES = sizeof swerves / sizeof *swerves };
    bool sound = d <= BW_EPS;
    *made = sound ? copy(curve, allocator) : NULL;
    for (int i = 0; i < TRIES && !sound; i++) {
        bw_curve_destroy(*made);
        *made = parallel(curve, d + swerves[i] * PARALLEL_SWERVE, allocator, &sound);
        if (*made == NULL)
            break;
    }
    return *made == NULL ? BW_NO_MEMORY : BW_OK;
}
