/* One band, from its place on the edge to its margins and verdict. */
#include "maths/band.h"

#include <math.h>

#include "maths/boxes.h"

/* ---- anchors on the guide ---- */

/* Keeps the places ascending and each once; on a closed run its end is its beginning. */
static void insert_place(double *places, size_t *count, double x) {
    size_t i = *count;
    for (size_t k = 0; k < *count; k++)
        if (fabs(places[k] - x) <= BW_EPS)
            return;
    for (; i > 0 && places[i - 1] > x; i--)
        places[i] = places[i - 1];
    places[i] = x;
    (*count)++;
}

static double anchor_along(const bw_band *band, const maths_edge *edge, size_t i) {
    if (band->anchors == NULL)
        return edge->anchors[i];
    bw_place place = band->anchors[i];
    place.along *= edge->scale;
    return bw_curve_place(edge->curve, place);
}

/* Places on the guide nearest to the band's anchors, each once, for all of its runs. */
static bool find_anchors(maths_worked *work, const maths_edge *edge, maths_arena *arena) {
    const bw_band *band = work->band;
    size_t given = band->anchors != NULL ? band->anchor_count : edge->anchor_count;
    maths_boxes boxes;
    work->anchors = maths_take(arena, given, sizeof *work->anchors);
    if (work->anchors == NULL || !maths_boxes_make(&boxes, work->guide.curve->pieces, work->guide.curve->count, arena))
        return false;
    for (size_t i = 0; i < given && work->guide.curve->loops > 0; i++) {
        bw_point beside = bw_curve_at(edge->curve, anchor_along(band, edge, i)).at;
        work->anchors[work->anchor_count++] = maths_boxes_nearest(&boxes, work->guide.curve, beside);
    }
    return true;
}

static void run_anchors(maths_task *task, const maths_worked *work, maths_arena *arena) {
    double *places = maths_take(arena, work->anchor_count, sizeof *places);
    if (places == NULL)
        return;
    task->anchors = places;
    for (size_t i = 0; i < work->anchor_count; i++) {
        double x = work->anchors[i] - task->run->from;
        if (task->run->closed && x >= task->run->length - BW_EPS) /* it is the beginning of the next loop */
            continue;
        if (x >= -BW_EPS && x <= task->run->length + BW_EPS)
            insert_place(places, &task->anchor_count, fmax(x, 0));
    }
}

/* ---- lines that may be gone ---- */

static bool make_line(bw_curve **line, const bw_curve *edge, double from_edge, const maths_arena *arena) {
    return bw_curve_offset(edge, from_edge, &arena->allocator, line) == BW_OK;
}

/* ---- verdicts ---- */

static bool opens_or_crowds(const maths_worked_run *run, bw_verdict *verdict) {
    *verdict = run->margins.reach < -BW_EPS ? BW_OPENS_OUTSIDE : BW_CROWDS_INSIDE;
    return run->margins.reach < -BW_EPS || run->margins.crowd < -BW_EPS;
}

static bw_verdict judge_run(const maths_worked *work, const maths_worked_run *run) {
    const maths_margins *m = &run->margins;
    bw_verdict verdict;
    if (run->short_run || work->outer_gone || work->inner_gone)
        return BW_NO_ROOM;
    if (work->rows.guide_row_missing)
        return BW_BAND_TOO_NARROW;
    if (m->sharp)
        return BW_EDGE_TOO_SHARP;
    if (m->bend < -BW_EPS)
        return work->lay.fill == BW_FILL_BORDER ? BW_FEET_COLLIDE : BW_LEGS_LONG;
    if (run->spread.feasible_least == 0) {
        maths_some_step some = maths_any_step(&run->task);
        if (!some.works)
            return some.longer_legs_do ? BW_LEGS_SHORT : BW_BAND_TOO_WIDE;
        return BW_NO_WHOLE_COUNT;
    }
    if (run->spread.refused)
        return BW_NO_WHOLE_COUNT;
    if (opens_or_crowds(run, &verdict))
        return verdict;
    return fmin(fmin(m->reach, m->crowd), m->bend) >= BW_GOOD_MARGIN - BW_EPS ? BW_GOOD : BW_TIGHT;
}

/* ---- a run ---- */

/* Greatest mean curvatures over every window of one face length. */
static void measure_bend(maths_worked_run *run, const maths_lay *lay) {
    double l = lay->face.length;
    maths_range turn = maths_turn_range(run->task.run, l, 0, run->task.run->length);
    run->convex = turn.any ? fmax(turn.most / l, 0) : 0;
    run->concave = turn.any ? fmin(turn.least / l, 0) : 0;
    if (run->convex <= BW_EPS / l) /* straight but for rounding */
        run->convex = 0;
    if (run->concave >= -BW_EPS / l)
        run->concave = 0;
}

static bool work_run(maths_worked_run *run, const maths_worked *work, maths_arena *arena) {
    double feet = -INFINITY, heads = -INFINITY;
    run->task.lines = work->lines;
    run->task.line_count = work->line_count;
    run->short_run = maths_too_short(run->task.run, &work->lay);
    run->felt = maths_take(arena, work->line_count, sizeof *run->felt);
    if (run->felt == NULL || !maths_spread_make(&run->spread, &run->task, arena))
        return false;
    for (size_t i = 0; i < run->spread.pace_count; i++)
        maths_feel(run->task.run, &run->spread.paces[i], &work->lay, work->lines, work->line_count, run->felt, &feet,
                   &heads);
    run->margins = maths_judge(run->task.run, &work->lay, work->lines, work->line_count, run->felt, feet, heads,
                               run->task.flat, run->convex, run->concave);
    run->verdict = judge_run(work, run);
    return true;
}

static int given_count(const bw_band *band, size_t run) {
    if (band->counts == NULL)
        return band->count;
    return run < band->count_runs ? band->counts[run] : 0;
}

static bool make_runs(maths_worked *work, const maths_edge *edge, maths_arena *arena) {
    const bw_band *band = work->band;
    if (band->lose == BW_LOSE_ANCHORED && !find_anchors(work, edge, arena))
        return false;
    work->runs = maths_take(arena, work->guide.run_count, sizeof *work->runs);
    for (size_t i = 0; i < work->guide.run_count && work->runs != NULL; i++) {
        maths_worked_run *run = &work->runs[i];
        const maths_run *stretch = &work->guide.runs[i];
        run->task = (maths_task){.run = stretch,
                                 .lay = &work->lay,
                                 .flat = !work->guide.turns,
                                 .multiple = maths_multiple(band, stretch->closed),
                                 .given = given_count(band, i),
                                 .lose = band->lose,
                                 .lose_last = band->lose_last};
        measure_bend(run, &work->lay);
        if (band->lose == BW_LOSE_ANCHORED)
            run_anchors(&run->task, work, arena);
    }
    return !arena->failed;
}

bool maths_band_make(maths_worked *work, const bw_layout *layout, const maths_edge *edge, size_t band,
                     maths_arena *arena) {
    *work =
        (maths_worked){.band = &layout->bands[band], .edge = edge, .strip = maths_strip_of(layout, band, edge->scale)};
    if (!make_line(&work->outer, edge->curve, work->strip.outer, arena) ||
        !make_line(&work->inner, edge->curve, work->strip.inner, arena))
        return false;
    work->outer_gone = work->outer->loops == 0;
    work->inner_gone = work->inner->loops == 0;
    if (work->band->fill == BW_FILL_PLAIN)
        return true;
    if (!maths_guide_make(&work->guide, edge->curve, edge->start, work->strip.guide, arena))
        return false;
    work->guide_gone = work->guide.curve->loops == 0;
    work->lay = maths_lay_make(work->band, &layout->tools[work->band->tool], work->guide.turns);
    if (!make_runs(work, edge, arena))
        return false;
    double convex = 0, concave = 0;
    for (size_t i = 0; i < work->guide.run_count; i++) {
        convex = fmax(convex, work->runs[i].convex);
        concave = fmin(concave, work->runs[i].concave);
    }
    if (!maths_rows_make(&work->rows, &work->lay, &work->strip, convex, concave, arena))
        return false;
    work->lines = maths_lines_make(&work->rows, &work->lay, &work->strip, &work->line_count, arena);
    for (size_t i = 0; i < work->guide.run_count && !arena->failed; i++)
        work_run(&work->runs[i], work, arena);
    return !arena->failed;
}

void maths_band_free(maths_worked *work) {
    maths_guide_free(&work->guide);
    bw_curve_destroy(work->outer);
    bw_curve_destroy(work->inner);
    work->outer = work->inner = NULL;
}

int maths_impressions(const maths_lay *lay, const bw_row_plan *row, int count, bool closed, bool shared) {
    if (count == 0)
        return 0;
    if (lay->fill != BW_FILL_BASKET)
        return count - (shared && count > 1 ? 1 : 0); /* a single hole stands at the beginning */
    if (lay->angled)
        return closed || row->shift == 0 ? count : count - 1;
    bool odd_row = row->row % 2 != 0;
    bool even_impressions = row->row < 0 ? odd_row : !odd_row; /* even ones stand in rows -1, 2, -3, 4 ... */
    return even_impressions ? (count + 1) / 2 : count / 2;
}

bool maths_shares_end(const maths_worked *work, size_t run) {
    const maths_guide *guide = &work->guide;
    const maths_run *this = &guide->runs[run];
    bool another = run + 1 < guide->run_count && guide->runs[run + 1].loop == this->loop;
    return work->lay.fill == BW_FILL_STITCH && !this->closed && (guide->curve->loop_closed[this->loop] || another);
}

double **maths_all_places(const maths_worked *work, maths_arena *arena) {
    double **places = maths_take(arena, work->guide.run_count, sizeof *places);
    for (size_t r = 0; r < work->guide.run_count && places != NULL; r++) {
        const maths_worked_run *run = &work->runs[r];
        places[r] = maths_take(arena, (size_t)run->spread.count, sizeof **places);
        if (places[r] == NULL)
            return NULL;
        maths_places(&run->spread, &run->task, places[r]);
    }
    return places;
}
