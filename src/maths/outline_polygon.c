/* Polygons: straight sides, corners sharp or rounded. */
#include <math.h>

#include "maths/outline.h"

/* A corner that counts, with the side that leaves it. */
typedef struct node {
    size_t item; /* among the corners given */
    bw_point at;
    double radius;
    double heading, side; /* of the side that leaves it */
    double turn;          /* at the corner */
    double takes;         /* mm of either side, for its rounding */
} node;

/* Corners on one spot are one corner, with the largest of their radii. */
static bool joins(node *other, const node *corner) {
    if (hypot(corner->at.x - other->at.x, corner->at.y - other->at.y) > BW_EPS)
        return false;
    other->radius = fmax(other->radius, corner->radius);
    return true;
}

static size_t keep(const bw_outline *o, node *nodes) {
    size_t n = 0;
    for (size_t i = 0; i < o->corner_count; i++) {
        const bw_corner *c = &o->corners[i];
        node corner = {.item = i, .at = {c->x, c->y}, .radius = c->radius};
        if (n == 0 || !joins(&nodes[n - 1], &corner))
            nodes[n++] = corner;
    }
    while (n > 1 && joins(&nodes[0], &nodes[n - 1]))
        n--;
    return n;
}

/* Clockwise ones are walked the other way, from the same first corner. */
static void turn_to_leather(node *nodes, size_t n) {
    double twice = 0;
    bw_point zero = nodes[0].at;
    for (size_t i = 1; i + 1 < n; i++)
        twice += (nodes[i].at.x - zero.x) * (nodes[i + 1].at.y - zero.y) -
                 (nodes[i + 1].at.x - zero.x) * (nodes[i].at.y - zero.y);
    for (size_t i = 1, k = n - 1; i < k && twice < 0; i++, k--) {
        node swapped = nodes[i];
        nodes[i] = nodes[k];
        nodes[k] = swapped;
    }
}

static bw_status fold_at(bw_outline_fault *fault, const node *at, double along) {
    *fault = (bw_outline_fault){.what = BW_TROUBLE_CROSSING, .at = at->at, .along = {along, along}};
    return BW_BAD_VALUE;
}

/* The side that leaves node i is too short for both of its roundings; the larger one is told. */
static bw_status short_side(bw_outline_fault *fault, const node *nodes, size_t n, size_t i) {
    const node *from = &nodes[i], *to = &nodes[(i + 1) % n];
    size_t k = from->takes >= to->takes ? i : (i + 1) % n;
    const node *corner = &nodes[k], *before = &nodes[(k + n - 1) % n], *after = &nodes[(k + 1) % n];
    double room = fmin(before->side - before->takes, corner->side - after->takes);
    *fault = (bw_outline_fault){.what = BW_TROUBLE_CORNER,
                                .item = corner->item,
                                .at = corner->at,
                                .along = {from->takes + to->takes, from->side},
                                .most = fmax(0, room / tan(fabs(corner->turn) / 2))};
    return BW_BAD_VALUE;
}

/* Sides, turns and what roundings take. A side that runs straight back over the one before crosses it. */
static bw_status measure(node *nodes, size_t n, bw_outline_fault *fault) {
    double along = 0;
    for (size_t i = 0; i < n; i++) {
        bw_point to = nodes[(i + 1) % n].at;
        nodes[i].heading = atan2(to.y - nodes[i].at.y, to.x - nodes[i].at.x);
        nodes[i].side = hypot(to.y - nodes[i].at.y, to.x - nodes[i].at.x);
    }
    for (size_t i = 0; i < n; i++) {
        node *corner = &nodes[i];
        corner->turn = maths_angle(corner->heading - nodes[(i + n - 1) % n].heading);
        if (fabs(corner->turn) >= BW_PI - BW_EPS)
            return fold_at(fault, corner, along);
        corner->takes = corner->radius * tan(fabs(corner->turn) / 2);
        along += corner->side;
    }
    for (size_t i = 0; i < n; i++)
        if (nodes[i].takes + nodes[(i + 1) % n].takes > nodes[i].side + BW_EPS)
            return short_side(fault, nodes, n, i);
    return BW_OK;
}

/* A part of a corner's arc. */
static void round_corner(maths_chain *chain, const node *corner, double from, double until) {
    double begin = corner->heading - corner->turn;
    maths_bend whole = maths_bend_of(maths_ahead(corner->at, begin, -corner->takes), begin,
                                     corner->radius * fabs(corner->turn), corner->turn);
    if (corner->takes <= 0)
        return;
    maths_bend part = maths_bend_of(whole.from, begin, whole.length * from, whole.sweep * from);
    part.from = maths_bend_end(&part);
    part.heading = begin + whole.sweep * from;
    part.length = whole.length * (until - from);
    part.sweep = whole.sweep * (until - from);
    maths_chain_bend(chain, part);
}

/* A side between roundings keeps its heading, however little of it is left. */
static void straight_side(maths_chain *chain, const node *from, const node *to) {
    maths_chain_bend(chain, maths_bend_of(maths_ahead(from->at, from->heading, from->takes), from->heading,
                                          from->side - from->takes - to->takes, 0));
}

bw_status maths_polygon(maths_chain *chain, const bw_outline *o, bw_outline_fault *fault) {
    node *nodes = maths_alloc(&chain->allocator, o->corner_count, sizeof *nodes);
    if (nodes == NULL)
        return BW_NO_MEMORY;
    size_t n = keep(o, nodes);
    bw_status status = BW_OK;
    if (n < 2) {
        status = BW_BAD_VALUE;
        fault->what = BW_TROUBLE_FEW;
    } else {
        turn_to_leather(nodes, n);
        status = measure(nodes, n, fault);
    }
    if (status == BW_OK) {
        maths_chain_init(chain, &chain->allocator, nodes[0].at);
        round_corner(chain, &nodes[0], 0.5, 1);
        for (size_t i = 0; i < n; i++) {
            straight_side(chain, &nodes[i], &nodes[(i + 1) % n]);
            round_corner(chain, &nodes[(i + 1) % n], 0, i + 1 == n ? 0.5 : 1);
        }
    }
    maths_release(&chain->allocator, nodes);
    return status;
}
