#include "maths/boxes.h"

#include <math.h>

#define LEAF 4         /* pieces in a leaf */
#define SMALL_BEND 0.5 /* radians: up to here a box is drawn around the chord, widened by the rise of the arc */

static const bw_box nothing = {INFINITY, INFINITY, -INFINITY, -INFINITY};

static bw_box both(bw_box a, bw_box b) {
    return (bw_box){a.left < b.left ? a.left : b.left, a.bottom < b.bottom ? a.bottom : b.bottom,
                    a.right > b.right ? a.right : b.right, a.top > b.top ? a.top : b.top};
}

static bool touch(const bw_box *a, const bw_box *b) {
    return a->left <= b->right && b->left <= a->right && a->bottom <= b->top && b->bottom <= a->top;
}

/* Widened by BW_EPS_FIT, so that pieces that touch at their ends are seen. */
static bw_box around(const bw_piece *p) {
    double more = BW_EPS_FIT;
    bw_box box =
        both((bw_box){p->from.x, p->from.y, p->from.x, p->from.y}, (bw_box){p->to.x, p->to.y, p->to.x, p->to.y});
    if (fabs(p->sweep) <= SMALL_BEND)
        more += fabs(p->sweep) * p->length / 8;
    else
        for (int quarter = 0; quarter < 4; quarter++) { /* where the arc heads along an axis */
            double turn = maths_angle(quarter * (BW_PI / 2) - p->heading) * (p->sweep > 0 ? 1 : -1);
            if (turn < 0)
                turn += 2 * BW_PI;
            if (turn < fabs(p->sweep)) {
                bw_point at = maths_piece_at(p, turn / fabs(p->curvature)).at;
                box = both(box, (bw_box){at.x, at.y, at.x, at.y});
            }
        }
    return (bw_box){box.left - more, box.bottom - more, box.right + more, box.top + more};
}

bool maths_boxes_make(maths_boxes *boxes, const bw_piece *pieces, size_t count, maths_arena *arena) {
    *boxes = (maths_boxes){.pieces = pieces, .count = count, .leaves = 1};
    while (boxes->leaves * LEAF < count)
        boxes->leaves *= 2;
    boxes->around = maths_take_unset(arena, count, sizeof *boxes->around);
    boxes->nodes = maths_take_unset(arena, 2 * boxes->leaves, sizeof *boxes->nodes);
    if (boxes->around == NULL || boxes->nodes == NULL)
        return false;
    for (size_t k = 0; k < boxes->leaves; k++)
        boxes->nodes[boxes->leaves + k] = nothing;
    for (size_t i = 0; i < count; i++) {
        bw_box *leaf = &boxes->nodes[boxes->leaves + i / LEAF];
        boxes->around[i] = around(&pieces[i]);
        *leaf = both(*leaf, boxes->around[i]);
    }
    for (size_t k = boxes->leaves; k-- > 1;)
        boxes->nodes[k] = both(boxes->nodes[2 * k], boxes->nodes[2 * k + 1]);
    return true;
}

/* ---- pairs ---- */

typedef struct pairing {
    const maths_boxes *one, *other;
    maths_pair *pair;
    void *context;
    const size_t *before; /* pairs whose first piece is this one or a later one are of no interest; NULL: all are */
} pairing;

static size_t first_of(const maths_boxes *boxes, size_t node) {
    while (node < boxes->leaves)
        node *= 2;
    return (node - boxes->leaves) * LEAF;
}

static bool pair_leaves(const pairing *p, size_t a, size_t b) {
    size_t i_first = (a - p->one->leaves) * LEAF, k_first = (b - p->other->leaves) * LEAF;
    bool same = p->one == p->other && a == b;
    for (size_t i = i_first; i < i_first + LEAF && i < p->one->count; i++)
        for (size_t k = same ? i + 1 : k_first; k < k_first + LEAF && k < p->other->count; k++)
            if (touch(&p->one->around[i], &p->other->around[k]) && !p->pair(p->context, i, k))
                return false;
    return true;
}

/* Sets of different depth wait for each other at their leaves. */
static bool pair_nodes(const pairing *p, size_t a, size_t b) {
    if (!touch(&p->one->nodes[a], &p->other->nodes[b]) || (p->before != NULL && first_of(p->one, a) >= *p->before))
        return true;
    bool a_leaf = a >= p->one->leaves, b_leaf = b >= p->other->leaves;
    if (a_leaf && b_leaf)
        return pair_leaves(p, a, b);
    if (p->one == p->other && a == b)
        return pair_nodes(p, 2 * a, 2 * a) && pair_nodes(p, 2 * a, 2 * a + 1) && pair_nodes(p, 2 * a + 1, 2 * a + 1);
    for (size_t i = a_leaf ? a : 2 * a; i <= (a_leaf ? a : 2 * a + 1); i++)
        for (size_t k = b_leaf ? b : 2 * b; k <= (b_leaf ? b : 2 * b + 1); k++)
            if (!pair_nodes(p, i, k))
                return false;
    return true;
}

bool maths_boxes_pairs(const maths_boxes *boxes, const size_t *before, maths_pair *pair, void *context) {
    return pair_nodes(&(pairing){boxes, boxes, pair, context, before}, 1, 1);
}

bool maths_boxes_between(const maths_boxes *one, const maths_boxes *other, maths_pair *pair, void *context) {
    return pair_nodes(&(pairing){one, other, pair, context, NULL}, 1, 1);
}

/* ---- nearness ---- */

/* Square of the distance from p to a box; 0 inside. */
static double off_box(const bw_box *box, bw_point p) {
    double x = p.x < box->left ? box->left - p.x : p.x > box->right ? p.x - box->right : 0;
    double y = p.y < box->bottom ? box->bottom - p.y : p.y > box->top ? p.y - box->top : 0;
    return x * x + y * y;
}

static bool piece_nearer(const bw_piece *piece, bw_point p, double limit) {
    if (piece->curvature != 0) {
        double radius = 1 / fabs(piece->curvature);
        double x = p.x - piece->centre.x, y = p.y - piece->centre.y;
        if (fabs(sqrt(x * x + y * y) - radius) >= limit + radius * BW_EPS)
            return false;
    }
    double distance;
    maths_piece_nearest(piece, p, &distance);
    return distance < limit;
}

static bool node_nearer(const maths_boxes *boxes, size_t node, bw_point p, double limit) {
    if (node >= boxes->leaves) {
        size_t first = (node - boxes->leaves) * LEAF;
        for (size_t i = first; i < first + LEAF && i < boxes->count; i++)
            if (off_box(&boxes->around[i], p) < limit * limit && piece_nearer(&boxes->pieces[i], p, limit))
                return true;
        return false;
    }
    double square = limit * limit;
    double left = off_box(&boxes->nodes[2 * node], p), right = off_box(&boxes->nodes[2 * node + 1], p);
    size_t first = 2 * node + (right < left); /* the nearer half is likelier to answer */
    double near = left < right ? left : right, far = left < right ? right : left;
    if (near < square && node_nearer(boxes, first, p, limit))
        return true;
    return far < square && node_nearer(boxes, first ^ 1, p, limit);
}

bool maths_boxes_nearer(const maths_boxes *boxes, bw_point p, double limit) {
    return limit > 0 && boxes->count > 0 && node_nearer(boxes, 1, p, limit);
}

typedef struct nearing {
    const maths_boxes *boxes;
    bw_point p;
    size_t piece;
    double u, distance;
} nearing;

static void near_piece(nearing *n, size_t i) {
    double distance, u = maths_piece_nearest(&n->boxes->pieces[i], n->p, &distance);
    bool as_near = fabs(distance - n->distance) <= BW_EPS;
    if (as_near ? i < n->piece : distance < n->distance) {
        n->piece = i;
        n->u = u;
        n->distance = distance;
    }
}

static void near_node(nearing *n, size_t node) {
    const maths_boxes *boxes = n->boxes;
    if (sqrt(off_box(&boxes->nodes[node], n->p)) > n->distance + BW_EPS)
        return;
    if (node >= boxes->leaves) {
        size_t first = (node - boxes->leaves) * LEAF;
        for (size_t i = first; i < first + LEAF && i < boxes->count; i++)
            near_piece(n, i);
        return;
    }
    double left = off_box(&boxes->nodes[2 * node], n->p), right = off_box(&boxes->nodes[2 * node + 1], n->p);
    size_t nearer = 2 * node + (right < left);
    near_node(n, nearer);
    near_node(n, nearer ^ 1);
}

double maths_boxes_nearest(const maths_boxes *boxes, const bw_curve *curve, bw_point p) {
    nearing n = {.boxes = boxes, .p = p, .distance = INFINITY};
    if (boxes->count == 0)
        return 0;
    near_node(&n, 1);
    return maths_curve_place_on(curve, n.piece, n.u);
}
