/* Does an edge cross or touch itself? */
#include <math.h>

#include "maths/boxes.h"
#include "maths/meet.h"

typedef struct looking {
    const bw_curve *curve;
    bool found;
    size_t before; /* what begins from this piece on lies behind what was found */
    bw_point at;
    double along[2];
} looking;

static bool report(looking *l, size_t i, size_t k, double on_i, double on_k) {
    const bw_piece *a = &l->curve->pieces[i], *b = &l->curve->pieces[k];
    double along[2] = {a->start + on_i, b->start + on_k};
    if (l->found && along[0] >= l->along[0] - BW_EPS) /* the first along the edge is told */
        return true;
    l->found = true;
    l->before = i + 1; /* another on the same piece may lie earlier */
    l->at = maths_piece_at(a, on_i).at;
    l->along[0] = along[0];
    l->along[1] = along[1];
    return true;
}

/* Where piece i ends and k begins, or the other way round on a closed curve. */
static bool in_joint(const looking *l, size_t i, size_t k, const maths_meeting *at) {
    const bw_piece *pieces = l->curve->pieces;
    size_t n = l->curve->count;
    if (k == i + 1 && at->a >= pieces[i].length - BW_EPS_FIT && at->b <= BW_EPS_FIT)
        return true;
    return l->curve->closed && i == 0 && k == n - 1 && at->a <= BW_EPS_FIT && at->b >= pieces[k].length - BW_EPS_FIT;
}

static bool look(void *context, size_t i, size_t k) {
    looking *l = context;
    const bw_piece *a = &l->curve->pieces[i], *b = &l->curve->pieces[k];
    maths_meeting met[2];
    int count = maths_meet(a, b, met);
    if (count == 0)
        count = maths_meet_along(a, b, met);
    for (int c = 0; c < count; c++)
        if (!in_joint(l, i, k, &met[c]))
            report(l, i, k, met[c].a, met[c].b);
    return true;
}

/* An edge that turns straight back lies on itself. */
static void look_for_folds(looking *l) {
    for (size_t i = 0; i < l->curve->count; i++) {
        size_t before = i > 0 ? i - 1 : l->curve->count - 1;
        if (fabs(maths_joint(l->curve, 0, i)) >= BW_PI - BW_EPS)
            report(l, i > 0 ? before : i, i > 0 ? i : before, i > 0 ? l->curve->pieces[before].length : 0,
                   i > 0 ? 0 : l->curve->pieces[before].length);
    }
}

bw_status maths_curve_crossing(const bw_curve *curve, bool *crosses, bw_point *at, double along[2]) {
    looking l = {.curve = curve, .before = curve->count};
    maths_arena arena;
    maths_boxes boxes;
    *crosses = false;
    maths_arena_init(&arena, &curve->allocator);
    bool made = maths_boxes_make(&boxes, curve->pieces, curve->count, &arena);
    if (made) {
        look_for_folds(&l);
        maths_boxes_pairs(&boxes, &l.before, look, &l);
    }
    maths_arena_free(&arena);
    *crosses = l.found;
    *at = l.at;
    along[0] = l.along[0];
    along[1] = l.along[1];
    return made ? BW_OK : BW_NO_MEMORY;
}
