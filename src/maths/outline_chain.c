/* Chains of lines and arcs while they grow. */
#include <math.h>

#include "maths/outline.h"

/* mm: of a larger radius an arc's centre would be too far off to place its ends within BW_EPS; it is taken as straight.
 */
#define RADIUS_MOST 1e8

void maths_chain_init(maths_chain *chain, const bw_allocator *allocator, bw_point start) {
    *chain = (maths_chain){.allocator = maths_allocator(allocator), .closed = true, .at = start};
}

void maths_chain_free(maths_chain *chain) {
    maths_release(&chain->allocator, chain->bends);
    chain->bends = NULL;
    chain->count = chain->room = 0;
}

static bool grow(maths_chain *chain) {
    enum { ROOM_LEAST = 64 };
    if (chain->failed)
        return false;
    if (chain->count < chain->room)
        return true;
    size_t room = chain->room == 0 ? ROOM_LEAST : chain->room * 2;
    void *grown = chain->allocator.resize(chain->allocator.context, chain->bends, room * sizeof *chain->bends);
    if (grown == NULL) {
        chain->failed = true;
        return false;
    }
    chain->bends = grown;
    chain->room = room;
    return true;
}

maths_bend maths_bend_of(bw_point from, double heading, double length, double sweep) {
    return (maths_bend){.from = from, .heading = heading, .length = length, .sweep = sweep};
}

bw_point maths_bend_end(const maths_bend *bend) {
    double half = bend->sweep / 2;
    double chord = half == 0 ? bend->length : bend->length * sin(half) / half;
    return maths_ahead(bend->from, bend->heading + half, chord);
}

void maths_chain_line(maths_chain *chain, bw_point to) {
    double dx = to.x - chain->at.x, dy = to.y - chain->at.y;
    maths_bend line = {.from = chain->at, .heading = atan2(dy, dx), .length = hypot(dx, dy)};
    if (line.length <= BW_EPS || !grow(chain))
        return;
    chain->bends[chain->count++] = line;
    chain->at = to;
}

static void add_bend(maths_chain *chain, maths_bend bend) {
    bw_point end = maths_bend_end(&bend);
    if (bend.length <= BW_EPS)
        return;
    if (bend.sweep != 0 && bend.length > RADIUS_MOST * fabs(bend.sweep)) {
        chain->at = bend.from;
        maths_chain_line(chain, end);
        return;
    }
    if (!grow(chain))
        return;
    chain->bends[chain->count++] = bend;
    chain->at = end;
}

void maths_chain_fitted(maths_chain *chain, maths_bend bend, double begin, double end) {
    double own = bend.sweep / bend.length;
    bend.bend[0] = isfinite(begin) ? begin : own;
    bend.bend[1] = isfinite(end) ? end : own;
    add_bend(chain, bend);
}

void maths_chain_bend(maths_chain *chain, maths_bend bend) {
    maths_chain_fitted(chain, bend, NAN, NAN);
}

double maths_chain_area(const maths_chain *chain) {
    double twice = 0;
    for (size_t i = 0; i < chain->count; i++) {
        const maths_bend *b = &chain->bends[i];
        bw_point zero = chain->bends[0].from, end = maths_bend_end(b);
        twice += (b->from.x - zero.x) * (end.y - zero.y) - (end.x - zero.x) * (b->from.y - zero.y);
        if (b->sweep != 0) {
            double radius = b->length / b->sweep;
            twice += radius * radius * (b->sweep - sin(b->sweep));
        }
    }
    return twice;
}

static maths_bend turned_round(const maths_bend *bend, bw_point end) {
    return (maths_bend){
        end, bend->heading + bend->sweep + BW_PI, bend->length, -bend->sweep, {-bend->bend[1], -bend->bend[0]}};
}

void maths_chain_reverse(maths_chain *chain) {
    bw_point end = chain->at;
    if (chain->count == 0)
        return;
    chain->at = chain->bends[0].from;
    for (size_t i = chain->count; i-- > 0;) {
        bw_point from = chain->bends[i].from;
        chain->bends[i] = turned_round(&chain->bends[i], end);
        end = from;
    }
    for (size_t i = 0, k = chain->count - 1; i < k; i++, k--) {
        maths_bend bend = chain->bends[i];
        chain->bends[i] = chain->bends[k];
        chain->bends[k] = bend;
    }
}

bw_curve *maths_chain_curve(const maths_chain *chain) {
    bw_curve *curve = chain->failed ? NULL : maths_curve_new(&chain->allocator, chain->count, chain->closed);
    for (size_t i = 0; i < chain->count && curve != NULL; i++) {
        const maths_bend *b = &chain->bends[i];
        bw_piece piece = {.from = b->from,
                          .to = i + 1 < chain->count ? b[1].from : chain->at,
                          .heading = maths_angle(b->heading),
                          .length = b->length,
                          .sweep = b->sweep};
        if (b->sweep != 0) {
            piece.curvature = b->sweep / b->length;
            piece.bend[0] = b->bend[0];
            piece.bend[1] = b->bend[1];
            piece.centre = maths_ahead(b->from, b->heading + BW_PI / 2, b->length / b->sweep);
        }
        maths_curve_add(curve, piece);
    }
    return curve;
}
