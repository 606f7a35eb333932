/* A guide: where it starts, where it is cut, and its runs. */
#include "maths/run.h"

#include <math.h>

bool maths_cut_before(const bw_curve *curve, int loop, size_t i) {
    return fabs(maths_joint(curve, loop, i)) > BW_CORNER_CUT + BW_EPS;
}

/* A loop starts at its point nearest to the start mark; one with corners at the first of them at or after it. */
static double loop_start(const bw_curve *curve, int loop, bw_point mark) {
    double nearest = maths_loops_nearest(curve, loop, loop, mark), start = nearest, least = INFINITY;
    size_t first, count;
    bw_curve_loop(curve, loop, &first, &count);
    const bw_piece *last = &curve->pieces[first + count - 1];
    double length = last->start + last->length - curve->pieces[first].start;
    for (size_t i = first; i < first + count; i++) {
        double ahead = curve->pieces[i].start - nearest;
        ahead += ahead < -BW_EPS ? length : 0;
        if (ahead < least && maths_cut_before(curve, loop, i)) {
            least = ahead;
            start = curve->pieces[i].start;
        }
    }
    return start;
}

bw_curve *maths_guide_curve(const bw_curve *edge, double start_along, double from_edge, const bw_allocator *allocator) {
    bw_curve *curve;
    if (bw_curve_offset(edge, from_edge, allocator, &curve) != BW_OK)
        return NULL;
    if (curve->loops == 0)
        return curve;
    bw_point mark = bw_curve_at(edge, start_along).at;
    bw_curve *turned =
        maths_curve_new_loops(allocator, curve->count + (size_t)curve->loops, (size_t)curve->loops, curve->closed);
    for (int loop = 0; loop < curve->loops && turned != NULL; loop++) {
        double begin = curve->pieces[curve->firsts[loop]].start;
        maths_curve_add_from(turned, curve, loop, curve->loop_closed[loop] ? loop_start(curve, loop, mark) : begin);
    }
    bw_curve_destroy(curve);
    return turned;
}

/* Pieces first .. first + count - 1 as one run. */
static void fill_run(maths_run *run, const bw_curve *curve, int loop, size_t first, size_t count, bool closed,
                     maths_arena *arena) {
    double *at = maths_take(arena, count + 1, sizeof *at);
    double *curvature = maths_take(arena, count, sizeof *curvature);
    double *turn = maths_take(arena, count, sizeof *turn);
    if (at == NULL || curvature == NULL || turn == NULL)
        return;
    *run = (maths_run){.from = curve->pieces[first].start, .closed = closed, .loop = loop, .count = count};
    run->at = at;
    run->curvature = curvature;
    run->turn = turn;
    double direction = 0;
    for (size_t i = 0; i < count; i++) {
        const bw_piece *piece = &curve->pieces[first + i];
        double corner = i > 0 ? maths_joint(curve, loop, first + i) : 0;
        direction += corner;
        at[i] = run->length;
        curvature[i] = piece->curvature;
        turn[i] = direction;
        direction += piece->sweep;
        run->length += piece->length;
        run->turns = run->turns || piece->curvature != 0 || corner != 0;
    }
    at[count] = run->length;
    double seam = closed ? maths_joint(curve, loop, first) : 0;
    run->total = direction + seam;
    run->turns = run->turns || seam != 0;
}

static void cut_loop(maths_guide *guide, int loop, maths_arena *arena) {
    const bw_curve *curve = guide->curve;
    size_t first = curve->firsts[loop], end = curve->firsts[loop + 1];
    bool cut = false;
    for (size_t i = first; i < end; i++) {
        if (!maths_cut_before(curve, loop, i))
            continue;
        cut = true;
        if (i > first) {
            fill_run(&guide->runs[guide->run_count++], curve, loop, first, i - first, false, arena);
            first = i;
        }
    }
    guide->cut = guide->cut || cut;
    bool closed = curve->loop_closed[loop] && !cut;
    fill_run(&guide->runs[guide->run_count++], curve, loop, first, end - first, closed, arena);
}

static void make_runs(maths_guide *guide, maths_arena *arena) {
    const bw_curve *curve = guide->curve;
    if (curve->loops == 0)
        return;
    guide->runs = maths_take(arena, curve->count, sizeof *guide->runs);
    for (int loop = 0; loop < curve->loops && guide->runs != NULL; loop++)
        cut_loop(guide, loop, arena);
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
