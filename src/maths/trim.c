/* Cutting a moved chain where it crosses itself, and keeping what lies at distance d (see parallel.h). */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "maths/meet.h"
#include "maths/parallel.h"

#define LONG_PART 0.25 /* of d: longer parts are sifted by halves */
#define HALVINGS_MOST 6
#define LOOKS_A_PIECE 8 /* pairs looked at before a chain counts as a tangle */
#define FEW_LOOKS 256   /* which may always be looked at */
#define NEARER 1e-8     /* mm: a sample that lies nearer to the edge than d by more than this does not belong */

/* A place where the chain is cut. Both pieces that cross get one, of the same spot. */
typedef struct cut {
    size_t piece, spot;
    double along;
} cut;

/* Stretches of the moved chain that are looked at for crossings. */
typedef struct stretches {
    const bw_piece *pieces;
    const size_t *of;   /* the moved piece that each is a part of; NULL: they are the moved pieces */
    const double *from; /* where on it the part begins */
    size_t count;
} stretches;

typedef struct trimming {
    const maths_moved *moved;
    double d;
    maths_boxes edge; /* what distances are measured to */
    stretches live;   /* what may lie at distance d */
    bool *spent;      /* one a moved piece: none of it does; NULL: not known */
    cut *cuts;
    size_t count, room, spots;
    size_t looks, looks_most; /* pairs looked at, and when to give up */
    const bw_piece *others;   /* cutters of an open edge: its other side and round its ends */
    maths_arena *arena;
} trimming;

/* ---- pieces without a chance ---- */

typedef struct sieve {
    trimming *t;
    bw_piece *pieces;
    size_t *of;
    double *from;
    size_t count, room;
} sieve;

static bool add_live(sieve *s, const bw_piece *part, size_t of, double from) {
    if (s->count == s->room) {
        sieve grown = *s;
        grown.room = s->room > 0 ? 2 * s->room : s->t->moved->count + 64;
        grown.pieces = maths_take_unset(s->t->arena, grown.room, sizeof *grown.pieces);
        grown.of = maths_take_unset(s->t->arena, grown.room, sizeof *grown.of);
        grown.from = maths_take_unset(s->t->arena, grown.room, sizeof *grown.from);
        if (s->t->arena->failed)
            return false;
        for (size_t i = 0; i < s->count; i++) {
            grown.pieces[i] = s->pieces[i];
            grown.of[i] = s->of[i];
            grown.from[i] = s->from[i];
        }
        *s = grown;
    }
    s->pieces[s->count] = *part;
    s->of[s->count] = of;
    s->from[s->count++] = from;
    return true;
}

static bool lies_deep(const trimming *t, const bw_piece *piece) {
    bw_point middle = maths_piece_at(piece, piece->length / 2).at;
    return maths_boxes_nearer(&t->edge, middle, t->d - piece->length / 2 - NEARER);
}

/* A part whose middle is nearer to the edge by more than half its length has no point at distance d. Long parts are
 * halved. */
static bool sift(sieve *s, size_t of, double from, double until, int halvings) {
    const bw_piece *piece = &s->t->moved->pieces[of];
    double middle = (from + until) / 2, d = s->t->d;
    bw_piece part = maths_piece_part(piece, from, until);
    if (lies_deep(s->t, &part))
        return true;
    if (halvings > 0 && until - from > d * LONG_PART)
        return sift(s, of, from, middle, halvings - 1) && sift(s, of, middle, until, halvings - 1);
    return add_live(s, &part, of, from);
}

/* Mitres on both sides have used the piece up: most such pieces lie deep. */
static bool used_up(const maths_moved *m, size_t i) {
    return m->breaks[i] && m->breaks[i > 0 ? i - 1 : m->count - 1];
}

/* all: every piece; else only those used up. */
static bool sift_pieces(trimming *t, bool all) {
    sieve s = {.t = t};
    const maths_moved *m = t->moved;
    t->spent = maths_take(t->arena, m->count, sizeof *t->spent);
    for (size_t i = 0; i < m->count && !t->arena->failed; i++) {
        size_t before = s.count;
        if (!(all || used_up(m, i) ? sift(&s, i, 0, m->pieces[i].length, all ? HALVINGS_MOST : 0)
                                   : add_live(&s, &m->pieces[i], i, 0)))
            return false;
        t->spent[i] = s.count == before;
    }
    t->live = (stretches){s.pieces, s.of, s.from, s.count};
    return !t->arena->failed;
}

static bool any_used_up(const maths_moved *m) {
    for (size_t i = 0; i < m->count; i++)
        if (used_up(m, i))
            return true;
    return false;
}

/* ---- cuts ---- */

static bool add_cut(trimming *t, size_t piece, double along, size_t spot) {
    if (t->count == t->room) {
        size_t room = 2 * t->room + 64;
        cut *grown = maths_take_unset(t->arena, room, sizeof *grown);
        for (size_t i = 0; i < t->count && grown != NULL; i++)
            grown[i] = t->cuts[i];
        if (grown == NULL)
            return false;
        t->cuts = grown;
        t->room = room;
    }
    t->cuts[t->count++] = (cut){piece, spot, along};
    return true;
}

/* Pieces that follow each other meet in their joint; where the chain is smooth they cannot meet again. */
static bool follow(const maths_moved *m, size_t i, size_t k) {
    size_t n = m->count;
    return (k == i + 1 || (m->closed && i == 0 && k == n - 1)) && n > 1;
}

static bool in_joint(const maths_moved *m, size_t i, size_t k, const maths_meeting *at) {
    double i_end = k == i + 1 ? m->pieces[i].length : 0, k_end = k == i + 1 ? 0 : m->pieces[k].length;
    bool both = m->count == 2 && m->closed; /* two pieces meet in two joints */
    bool here = fabs(at->a - i_end) <= BW_EPS_FIT && fabs(at->b - k_end) <= BW_EPS_FIT;
    bool there = both && at->a <= BW_EPS_FIT && at->b >= m->pieces[k].length - BW_EPS_FIT;
    return here || there;
}

static bool smooth(const maths_moved *m, size_t i, size_t k) {
    const bw_piece *a = &m->pieces[k == i + 1 ? i : k], *b = &m->pieces[k == i + 1 ? k : i];
    return fabs(maths_angle(b->heading - a->heading - a->sweep)) <= BW_EPS_FIT;
}

static size_t moved_of(const stretches *live, size_t i) {
    return live->of != NULL ? live->of[i] : i;
}

static double from_of(const stretches *live, size_t i) {
    return live->from != NULL ? live->from[i] : 0;
}

static bool cross_itself(void *context, size_t one, size_t other) {
    trimming *t = context;
    const maths_moved *m = t->moved;
    const bw_piece *a = &t->live.pieces[one], *b = &t->live.pieces[other];
    maths_meeting met[2];
    size_t i = moved_of(&t->live, one), k = moved_of(&t->live, other), joint = k == i + 1 ? i : k;
    bool joined = follow(m, i, k) && !m->breaks[joint];
    if (i == k || (joined && smooth(m, i, k) && m->count > 2))
        return true;
    if (++t->looks > t->looks_most)
        return false;
    int count = maths_meet(a, b, met);
    if (count == 0)
        count = maths_meet_along(a, b, met);
    for (int c = 0; c < count; c++) {
        maths_meeting at = {met[c].a + from_of(&t->live, one), met[c].b + from_of(&t->live, other)};
        if (joined && in_joint(m, i, k, &at))
            continue;
        if (!add_cut(t, i, at.a, t->spots) || !add_cut(t, k, at.b, t->spots))
            return false;
        t->spots++;
    }
    return true;
}

static bool cross_other(void *context, size_t i, size_t k) {
    trimming *t = context;
    maths_meeting met[2];
    if (++t->looks > t->looks_most)
        return false;
    int count = maths_meet(&t->live.pieces[i], &t->others[k], met);
    for (int c = 0; c < count; c++)
        if (!add_cut(t, moved_of(&t->live, i), met[c].a + from_of(&t->live, i), t->spots++))
            return false;
    return true;
}

/* The other side of an open edge and half circles round its ends: where they pass, the parallel comes too near. */
static size_t other_side(const bw_curve *edge, double d, bw_piece *others) {
    size_t n = 0;
    for (size_t i = 0; i < edge->count; i++) {
        bw_piece p = edge->pieces[i];
        double turn = maths_joint(edge, 0, i);
        if (i == 0)
            turn = BW_PI; /* half a circle round the start */
        if (turn * d > BW_EPS) {
            double heading = maths_angle(p.heading - turn);
            others[n++] = (bw_piece){.from = maths_ahead(p.from, heading - BW_PI / 2, d),
                                     .to = maths_ahead(p.from, p.heading - BW_PI / 2, d),
                                     .centre = p.from,
                                     .curvature = 1 / d,
                                     .heading = heading,
                                     .length = turn * d,
                                     .sweep = turn};
        }
        double radius = p.curvature != 0 ? 1 / p.curvature + d : INFINITY;
        p.from = maths_ahead(p.from, p.heading - BW_PI / 2, d);
        p.to = maths_ahead(p.to, p.heading + p.sweep - BW_PI / 2, d);
        if (p.curvature < 0 && radius >= -BW_EPS) /* turned inside out */
            continue;
        if (p.curvature != 0) {
            p.curvature = 1 / radius;
            p.length = fabs(radius * p.sweep);
        }
        others[n++] = p;
    }
    const bw_piece *last = &edge->pieces[edge->count - 1];
    double heading = maths_angle(last->heading + last->sweep);
    others[n++] = (bw_piece){.from = maths_ahead(last->to, heading - BW_PI / 2, d),
                             .to = maths_ahead(last->to, heading + BW_PI / 2, d),
                             .centre = last->to,
                             .curvature = 1 / d,
                             .heading = heading,
                             .length = BW_PI * d,
                             .sweep = BW_PI};
    return n;
}

static int by_place(const void *one, const void *other) {
    const cut *a = one, *b = other;
    if (a->piece != b->piece)
        return a->piece < b->piece ? -1 : 1;
    return (a->along > b->along) - (a->along < b->along);
}

/* Pieces with no point at distance d cut nothing that has one. */
static size_t drop_deep(const trimming *t, bw_piece *pieces, size_t count) {
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (!lies_deep(t, &pieces[i]))
            pieces[kept++] = pieces[i];
    return kept;
}

/* Where the live stretches cross each other, and on an open edge where its other side crosses them. */
static bool cross_live(trimming *t, const bw_curve *edge, size_t *own) {
    maths_boxes boxes, sides;
    t->count = t->spots = t->looks = 0;
    if (!maths_boxes_make(&boxes, t->live.pieces, t->live.count, t->arena) ||
        !maths_boxes_pairs(&boxes, NULL, cross_itself, t))
        return false;
    *own = t->spots;
    if (edge->closed)
        return true;
    bw_piece *others = maths_take_unset(t->arena, 2 * edge->count + 1, sizeof *others);
    if (others == NULL)
        return false;
    t->others = others;
    size_t count = other_side(edge, t->d, others);
    if (t->spent != NULL)
        count = drop_deep(t, others, count);
    return maths_boxes_make(&sides, others, count, t->arena) && maths_boxes_between(&boxes, &sides, cross_other, t);
}

/* Most chains cross themselves in few places. One that is all in a tangle is sifted first. */
static bool find_cuts(trimming *t, const bw_curve *edge, size_t *own) {
    t->live = (stretches){.pieces = t->moved->pieces, .count = t->moved->count};
    t->looks_most = LOOKS_A_PIECE * t->moved->count + FEW_LOOKS;
    if (any_used_up(t->moved) && !sift_pieces(t, false))
        return false;
    bool found = cross_live(t, edge, own);
    if (!found && !t->arena->failed) {
        t->looks_most = SIZE_MAX;
        found = sift_pieces(t, true) && cross_live(t, edge, own);
    }
    if (found && t->count > 1)
        qsort(t->cuts, t->count, sizeof *t->cuts, by_place);
    return found;
}

/* ---- slices ---- */

typedef struct cutting {
    maths_slice *list;
    bool *bad;    /* goes over a break */
    double *ends; /* length of the chain up to the end of every piece */
    size_t count;
} cutting;

static bool spent(const trimming *t, size_t piece) {
    return t->spent != NULL && t->spent[piece];
}

/* From cut to cut along the chain. Its two ends are cuts too: spots `spots` and `spots + 1`, one if it is closed. */
static void cut_chain(cutting *c, const trimming *t) {
    const maths_moved *m = t->moved;
    size_t at = 0;
    maths_slice slice = {.begin = t->spots};
    bool bad = false;
    for (size_t i = 0; i < m->count; i++) {
        bad = bad || spent(t, i);
        for (; at < t->count && t->cuts[at].piece == i; at++) {
            slice.last = i;
            slice.until = t->cuts[at].along;
            slice.end = t->cuts[at].spot;
            c->bad[c->count] = bad;
            c->list[c->count++] = slice;
            slice = (maths_slice){.first = i, .from = slice.until, .begin = slice.end};
            bad = spent(t, i);
        }
        bad = bad || (m->breaks[i] && i + 1 < m->count);
    }
    slice.last = m->count - 1;
    slice.until = m->pieces[m->count - 1].length;
    slice.end = m->closed ? t->spots : t->spots + 1;
    c->bad[c->count] = bad;
    c->list[c->count++] = slice;
    if (m->closed && (c->bad[0] || bad || m->breaks[m->count - 1])) /* the chain goes on over its start */
        c->bad[0] = c->bad[c->count - 1] = true;
}

static double chain_place(const cutting *c, const maths_moved *m, size_t piece, double along) {
    return c->ends[piece] - m->pieces[piece].length + along;
}

static double slice_length(const cutting *c, const maths_moved *m, const maths_slice *s) {
    return chain_place(c, m, s->last, s->until) - chain_place(c, m, s->first, s->from);
}

/* A point of the slice, at this share of its length. */
static bw_point sample(const cutting *c, const maths_moved *m, const maths_slice *s, double share) {
    double at = chain_place(c, m, s->first, s->from) + share * slice_length(c, m, s);
    size_t low = s->first, high = s->last;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (c->ends[middle] < at)
            low = middle + 1;
        else
            high = middle;
    }
    return maths_piece_at(&m->pieces[low], at - (c->ends[low] - m->pieces[low].length)).at;
}

static bool belongs(const trimming *t, const cutting *c, const maths_slice *s) {
    static const double shares[] = {0.5, 0.23, 0.81};
    for (int i = 0; i < 3; i++)
        if (maths_boxes_nearer(&t->edge, sample(c, t->moved, s, shares[i]), t->d - NEARER))
            return false;
    return true;
}

/* ---- spots that are one ---- */

static size_t root_of(size_t *spots, size_t i) {
    while (spots[i] != i) {
        spots[i] = spots[spots[i]];
        i = spots[i];
    }
    return i;
}

/* Two slices on each other, there and back, have no leather between them. */
static void drop_doubled(maths_slices *slices, const cutting *c, const trimming *t) {
    size_t *first = maths_take(t->arena, t->spots + 2, sizeof *first); /* 1 + the first slice that begins at a spot */
    size_t *sibling = maths_take(t->arena, slices->count, sizeof *sibling);
    bool *doubled = maths_take(t->arena, slices->count, sizeof *doubled);
    size_t kept = 0;
    if (t->arena->failed)
        return;
    for (size_t i = 0; i < slices->count; i++) {
        const maths_slice *s = &slices->list[i];
        for (size_t k = first[s->end]; k > 0; k = sibling[k - 1]) {
            if (slices->list[k - 1].end != s->begin || doubled[k - 1])
                continue;
            bw_point a = sample(c, t->moved, s, 0.5), b = sample(c, t->moved, &slices->list[k - 1], 0.5);
            if (hypot(a.x - b.x, a.y - b.y) <= MATHS_SAME_SPOT)
                doubled[i] = doubled[k - 1] = true;
        }
        sibling[i] = first[s->begin];
        first[s->begin] = i + 1;
    }
    for (size_t i = 0; i < slices->count; i++)
        if (!doubled[i])
            slices->list[kept++] = slices->list[i];
    slices->count = kept;
}

static bool keep_slices(maths_slices *slices, const trimming *t, cutting *c, size_t own) {
    size_t spots = t->spots + 2;
    size_t *roots = maths_take(t->arena, spots, sizeof *roots);
    slices->list = maths_take(t->arena, c->count, sizeof *slices->list);
    slices->loose = maths_take(t->arena, spots, sizeof *slices->loose);
    if (t->arena->failed)
        return false;
    for (size_t i = 0; i < spots; i++)
        roots[i] = i;
    for (size_t i = 0; i < c->count; i++) {
        const maths_slice *s = &c->list[i];
        bool short_one = slice_length(c, t->moved, s) <= MATHS_SAME_SPOT;
        if (short_one && !c->bad[i])
            roots[root_of(roots, s->begin)] = root_of(roots, s->end);
        if (!short_one && !c->bad[i] && belongs(t, c, s))
            slices->list[slices->count++] = *s;
    }
    for (size_t i = own; i < spots && !t->moved->closed; i++)
        slices->loose[root_of(roots, i)] = true;
    for (size_t i = 0; i < slices->count; i++) {
        slices->list[i].begin = root_of(roots, slices->list[i].begin);
        slices->list[i].end = root_of(roots, slices->list[i].end);
    }
    slices->cuts = spots;
    drop_doubled(slices, c, t);
    return !t->arena->failed;
}

bool maths_trim(maths_slices *slices, const maths_moved *moved, const bw_curve *edge, double d, maths_arena *arena) {
    trimming t = {.moved = moved, .d = d, .arena = arena};
    cutting c = {0};
    size_t own;
    *slices = (maths_slices){0};
    if (!maths_boxes_make(&t.edge, edge->pieces, edge->count, arena) || !find_cuts(&t, edge, &own))
        return false;
    c.list = maths_take_unset(arena, t.count + 1, sizeof *c.list);
    c.bad = maths_take(arena, t.count + 1, sizeof *c.bad);
    c.ends = maths_take_unset(arena, moved->count, sizeof *c.ends);
    if (arena->failed)
        return false;
    for (size_t i = 0; i < moved->count; i++)
        c.ends[i] = (i > 0 ? c.ends[i - 1] : 0) + moved->pieces[i].length;
    cut_chain(&c, &t);
    return keep_slices(slices, &t, &c, own);
}
