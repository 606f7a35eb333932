/* A guide: where it starts, where it is cut, and its runs. */
#include "maths/run.h"

#include <math.h>

/* A guide with corners starts at the first of them at or after its start. */
static double first_cut(const bw_curve *curve) {
    for (size_t i = 0; i < curve->count; i++)
        if (fabs(maths_joint(curve, 0, i)) > BW_CORNER_CUT + BW_EPS)
            return curve->pieces[i].start;
    return 0;
}

/* Takes the curve over. */
static bw_curve *turned(bw_curve *curve, double along, const bw_allocator *allocator) {
    if (curve == NULL || along <= BW_EPS)
        return curve;
    bw_curve *other = maths_curve_from(curve, along, allocator);
    bw_curve_destroy(curve);
    return other;
}

bw_curve *maths_guide_curve(const bw_curve *edge, double start_along, double from_edge, const bw_allocator *allocator) {
    bw_curve *curve;
    if (bw_curve_offset(edge, from_edge, allocator, &curve) != BW_OK)
        return NULL;
    if (!curve->closed || curve->loops == 0)
        return curve;
    curve = turned(curve, bw_curve_nearest(curve, bw_curve_at(edge, start_along).at), allocator);
    return curve == NULL ? NULL : turned(curve, first_cut(curve), allocator);
}

/* Pieces first .. first + count - 1 as one run. */
static void fill_run(maths_run *run, const bw_curve *curve, size_t first, size_t count, bool closed,
                     maths_arena *arena) {
    double *at = maths_take(arena, count + 1, sizeof *at);
    double *curvature = maths_take(arena, count, sizeof *curvature);
    double *turn = maths_take(arena, count, sizeof *turn);
    if (at == NULL || curvature == NULL || turn == NULL)
        return;
    *run = (maths_run){.from = curve->pieces[first].start, .closed = closed, .count = count};
    run->at = at;
    run->curvature = curvature;
    run->turn = turn;
    double direction = 0;
    for (size_t i = 0; i < count; i++) {
        const bw_piece *piece = &curve->pieces[first + i];
        double corner = i > 0 ? maths_joint(curve, 0, first + i) : 0;
        direction += corner;
        at[i] = run->length;
        curvature[i] = piece->curvature;
        turn[i] = direction;
        direction += piece->sweep;
        run->length += piece->length;
        run->turns = run->turns || piece->curvature != 0 || corner != 0;
    }
    at[count] = run->length;
    double seam = closed ? maths_joint(curve, 0, first) : 0;
    run->total = direction + seam;
    run->turns = run->turns || seam != 0;
}

static void make_runs(maths_guide *guide, maths_arena *arena) {
    const bw_curve *curve = guide->curve;
    if (curve->loops == 0)
        return;
    guide->runs = maths_take(arena, curve->count, sizeof *guide->runs);
    if (guide->runs == NULL)
        return;
    size_t first = 0;
    for (size_t i = 0; i < curve->count; i++) {
        if (fabs(maths_joint(curve, 0, i)) <= BW_CORNER_CUT + BW_EPS)
            continue;
        guide->cut = true;
        if (i > 0) {
            fill_run(&guide->runs[guide->run_count++], curve, first, i - first, false, arena);
            first = i;
        }
    }
    bool closed = curve->closed && !guide->cut;
    fill_run(&guide->runs[guide->run_count++], curve, first, curve->count - first, closed, arena);
}

bool maths_guide_make(maths_guide *guide, const bw_curve *edge, double start_along, double from_edge,
                      maths_arena *arena) {
    *guide = (maths_guide){.curve = maths_guide_curve(edge, start_along, from_edge, &arena->allocator)};
    if (guide->curve == NULL)
        return false;
    make_runs(guide, arena);
    for (size_t i = 0; i < guide->run_count && !arena->failed; i++)
        guide->turns = guide->turns || guide->runs[i].turns;
    return !arena->failed;
}

void maths_guide_free(maths_guide *guide) {
    bw_curve_destroy(guide->curve);
    guide->curve = NULL;
}
