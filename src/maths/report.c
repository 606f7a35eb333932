/* What a plan shows of a band. */
#include <math.h>

#include "maths/band.h"
#include "maths/count.h"
#include "maths/even_at.h"

/* ---- runs ---- */

/* The count that would have been nearest, and which line forbids it. */
static void wanted(bw_run_plan *out, const maths_worked *work, const maths_worked_run *run) {
    const maths_spread *s = &run->spread;
    double usual = work->lay.usual;
    if (run->task.given > 0 || s->feasible_least == 0 ||
        (s->nearest >= s->feasible_least && s->nearest <= s->feasible_most) ||
        fabs(s->even - usual) <= BW_VISIBLE_CHANGE * usual + BW_EPS)
        return;
    maths_even even = maths_judge_even(run->task.run, maths_step_of(&run->task, s->nearest), &work->lay, work->lines,
                                       work->line_count, run->task.flat);
    bool opens = even.longest - work->lay.most > work->lay.least - even.shortest;
    out->wanted = s->nearest;
    out->wanted_line = work->lines[opens ? even.longest_line : even.shortest_line].number;
    out->wanted_miss = opens ? even.longest - work->lay.most : even.shortest - work->lay.least;
}

static int least_last(const maths_worked_run *run, double usual) {
    int steps = maths_steps_of(&run->task, run->spread.count);
    double k = ceil(fabs(run->spread.gap) / (BW_VISIBLE_CHANGE * usual) - BW_EPS);
    return k > steps ? 0 : k < 1 ? 1 : (int)k;
}

static void report_run(bw_run_plan *out, const maths_worked *work, size_t i, maths_arena *arena) {
    const maths_worked_run *run = &work->runs[i];
    const maths_spread *s = &run->spread;
    const maths_run *stretch = run->task.run;
    *out = (bw_run_plan){.from = stretch->from,
                         .to = stretch->from + stretch->length,
                         .closed = stretch->closed,
                         .loop = stretch->loop,
                         .count = s->count,
                         .given = run->task.given > 0,
                         .step = s->even,
                         .usual_step = work->lay.usual,
                         .closure_gap = s->gap,
                         .step_change = s->change,
                         .settings = s->settings,
                         .setting_count = s->setting_count,
                         .feasible_least = s->feasible_least,
                         .feasible_most = s->feasible_most,
                         .lose = s->lose,
                         .fell_back = s->fell_back,
                         .turns = stretch->turns,
                         .kappa_convex = run->convex,
                         .kappa_concave = run->concave,
                         .verdict = run->verdict,
                         .reach = run->margins.reach,
                         .crowd = run->margins.crowd,
                         .bend = run->margins.bend};
    if (s->count == 0)
        return;
    out->least_last = least_last(run, work->lay.usual);
    wanted(out, work, run);
    bool no_memory = false;
    out->has_even_at = out->closed && maths_even_at(work, stretch, out->closure_gap, &out->guide_shift, &no_memory);
    if (!out->has_even_at)
        out->guide_shift = 0;
    arena->failed = arena->failed || no_memory;
}

/* ---- weave lines ---- */

/* Places only rise; of two as near the earlier one. */
static int impression_near(const double *places, int count, double x) {
    int before = 0, behind = count;
    while (behind - before > 1) {
        int middle = before + (behind - before) / 2;
        if (places[middle] <= x)
            before = middle;
        else
            behind = middle;
    }
    bool behind_nearer = behind < count && fabs(places[behind] - x) < fabs(places[before] - x);
    return (behind_nearer ? behind : before) + 1;
}

/* What lines feel of the steps that are struck. Where the gap is lost in the last steps both steps are judged over the
 * whole run, but each is struck on its own stretch only. NULL without memory. */
static const maths_felt *struck_felt(const maths_worked *work, size_t run, maths_arena *arena) {
    const maths_spread *spread = &work->runs[run].spread;
    double feet = -INFINITY, heads = -INFINITY;
    if (spread->lose != BW_LOSE_LAST || spread->stretch_count < 2)
        return work->runs[run].felt;
    maths_felt *felt = maths_take(arena, work->line_count, sizeof *felt);
    for (size_t i = 0; felt != NULL && i < spread->stretch_count; i++) {
        const maths_stretch *s = &spread->stretches[i];
        maths_pace pace = {.step = s->step, .from = s->from, .until = s->from + s->steps * s->step};
        maths_feel(&work->guide.runs[run], &pace, &work->lay, work->lines, work->line_count, felt, &feet, &heads);
    }
    return felt;
}

static bw_extreme extreme_at(const maths_worked *work, size_t run, const double *places, double at, double step) {
    return (bw_extreme){.along = work->guide.runs[run].from + at,
                        .impression = impression_near(places, work->runs[run].spread.count, at),
                        .run = (int)run,
                        .step = step};
}

static void merge_felt(bw_weave_line *line, const maths_felt *felt, const maths_felt *struck, const maths_worked *work,
                       size_t run, const double *places, bool first) {
    if (first || struck->step_least < line->tightest.step)
        line->tightest = extreme_at(work, run, places, struck->least_at, struck->step_least);
    if (first || struck->step_most > line->widest.step)
        line->widest = extreme_at(work, run, places, struck->most_at, struck->step_most);
    line->step_least = first ? felt->step_least : fmin(line->step_least, felt->step_least);
    line->step_most = first ? felt->step_most : fmax(line->step_most, felt->step_most);
    line->miss = fmax(line->miss, felt->miss);
    line->turn_most = fmax(line->turn_most, felt->turn_most);
}

/* The place on the edge beside a place on the guide: as far off as the guide is, to its right. */
static void beside(bw_extreme *extreme, const maths_worked *work) {
    const bw_curve *edge = work->edge->curve;
    const maths_run *run = &work->guide.runs[extreme->run];
    double x = extreme->along - run->from; /* a step of a closed run may begin a round later */
    if (run->closed && x >= run->length)
        extreme->along = run->from + fmod(x, run->length);
    bw_spot spot = maths_loop_at(work->guide.curve, run->loop, extreme->along);
    bw_point foot = maths_ahead(spot.at, spot.heading - BW_PI / 2, work->strip.guide);
    extreme->edge_along = bw_curve_nearest(edge, foot) - (edge->closed ? work->edge->start : 0);
    if (edge->closed && extreme->edge_along < 0)
        extreme->edge_along += edge->length;
}

static void report_lines(bw_band_plan *out, const maths_worked *work, maths_arena *arena) {
    double **places = maths_all_places(work, arena);
    const maths_felt **struck = maths_take(arena, work->guide.run_count, sizeof *struck);
    out->lines = maths_take(arena, work->line_count, sizeof *out->lines);
    for (size_t r = 0; struck != NULL && r < work->guide.run_count; r++)
        struck[r] = struck_felt(work, r, arena);
    if (places == NULL || out->lines == NULL || arena->failed)
        return;
    for (size_t i = 0; i < work->line_count; i++) {
        bw_weave_line *line = &out->lines[out->line_count];
        bool any = false;
        *line = (bw_weave_line){.line = work->lines[i].number, .from_edge = work->strip.guide + work->lines[i].delta};
        for (size_t r = 0; r < work->guide.run_count; r++)
            if (work->runs[r].felt[i].any) {
                merge_felt(line, &work->runs[r].felt[i], &struck[r][i], work, r, places[r], !any);
                any = true;
            }
        if (!any)
            continue;
        beside(&line->tightest, work);
        beside(&line->widest, work);
        if (work->lay.fill == BW_FILL_BASKET) {
            line->overlap_least = maths_share(&work->lay, line->step_most);
            line->overlap_most = maths_share(&work->lay, line->step_least);
        }
        out->line_count++;
    }
}

/* ---- rows and notches ---- */

static void report_rows(bw_band_plan *out, const maths_worked *work) {
    out->rows = work->rows.rows;
    out->row_count = work->rows.count;
    for (size_t i = 0; i < out->row_count; i++)
        for (size_t r = 0; r < work->guide.run_count; r++) {
            int count = maths_impressions(&work->lay, &out->rows[i], work->runs[r].spread.count,
                                          work->guide.runs[r].closed, maths_shares_end(work, r));
            out->rows[i].impressions += count;
            out->strikes += count;
        }
}

/* What the last struck row leaves open of a border line between two impressions: at the rail next to it. Nothing where
 * no row is struck on that side. */
static void report_notches(bw_band_plan *out, const maths_worked *work) {
    maths_line rails[2] = {{.delta = -work->rows.outer_rows * work->lay.apart},
                           {.delta = work->rows.inner_rows * work->lay.apart}};
    maths_felt felt[2] = {0};
    double feet = -INFINITY, heads = -INFINITY;
    out->has_notch = true;
    for (size_t r = 0; r < work->guide.run_count; r++)
        for (size_t i = 0; i < work->runs[r].spread.pace_count; i++)
            maths_feel(&work->guide.runs[r], &work->runs[r].spread.paces[i], &work->lay, rails, 2, felt, &feet, &heads);
    out->notch_outer =
        felt[0].any && work->rows.outer_rows > 0 ? fmax(2 * felt[0].step_most - work->lay.face.length, 0) : 0;
    out->notch_inner =
        felt[1].any && work->rows.inner_rows > 0 ? fmax(2 * felt[1].step_most - work->lay.face.length, 0) : 0;
}

/* ---- the fit ---- */

/* Legs that would do: over the weave lines of one run at its settings, the greatest of the runs. */
static double needed_leg(const maths_worked *work) {
    double needed = 0;
    for (size_t r = 0; r < work->guide.run_count; r++) {
        double least = INFINITY, most = 0;
        for (size_t i = 0; i < work->line_count; i++) {
            const maths_felt *felt = &work->runs[r].felt[i];
            least = felt->any ? fmin(least, felt->step_least) : least;
            most = felt->any ? fmax(most, felt->step_most) : most;
        }
        if (most > 0)
            needed = fmax(needed, work->lay.face.length * (1 - least / most));
    }
    return needed;
}

static void report_margins(bw_fit *fit, const maths_worked *work) {
    fit->reach = fit->crowd = fit->bend = INFINITY;
    for (size_t r = 0; r < work->guide.run_count; r++) {
        const maths_worked_run *run = &work->runs[r];
        const maths_margins *m = &run->margins;
        if (run->verdict < fit->verdict || r == 0) {
            fit->verdict = run->verdict;
            fit->run = (int)r;
        }
        if (m->reach < fit->reach) {
            fit->reach = m->reach;
            fit->reach_line = work->lines[m->reach_line].number;
            const maths_felt *felt = &run->felt[m->reach_line];
            fit->reach_mm = felt->any ? work->lay.most - felt->step_most : 0;
        }
        if (m->crowd < fit->crowd) {
            fit->crowd = m->crowd;
            fit->crowd_line = work->lines[m->crowd_line].number;
            const maths_felt *felt = &run->felt[m->crowd_line];
            fit->crowd_mm = felt->any ? felt->step_least - work->lay.least : 0;
        }
        if (m->bend < fit->bend) {
            fit->bend = m->bend;
            fit->bend_line = work->lines[m->bend_line].number;
        }
    }
}

void maths_band_fit(bw_fit *fit, const maths_worked *work) {
    *fit = (bw_fit){.verdict = BW_GOOD};
    report_margins(fit, work);
    if (work->guide_gone || work->outer_gone || work->inner_gone)
        fit->verdict = BW_NO_ROOM;
    if (fit->verdict == BW_NO_ROOM)
        fit->reach = fit->crowd = fit->bend = -1;
    if (fit->verdict == BW_LEGS_SHORT)
        fit->needed_leg = needed_leg(work);
}

static void report_lay(bw_band_plan *out, const maths_worked *work) {
    const maths_lay *lay = &work->lay;
    out->face = lay->face;
    out->turn = lay->turn;
    out->least = lay->least;
    out->usual = lay->usual;
    out->most = lay->most;
    out->overlap = lay->overlap;
    out->measured = lay->measured;
    out->rows_apart = lay->apart;
    out->along_line = lay->along;
    out->turns = work->guide.turns;
    if (lay->angled)
        out->corner_pass = hypot(lay->face.length, lay->face.width) / 2 *
                           sin(fabs(lay->turn - atan(lay->face.width / lay->face.length)));
    out->guide_from_edge = work->strip.guide;
    out->guide_gone = work->guide_gone;
    out->guide_length = bw_curve_length(work->guide.curve);
    out->guide_least_radius = bw_curve_least_radius(work->guide.curve);
    out->guide_loops = bw_curve_loops(work->guide.curve);
}

bool maths_band_report(bw_band_plan *out, const maths_worked *work, maths_arena *arena) {
    *out = (bw_band_plan){.fill = work->band->fill,
                          .outer = work->strip.outer,
                          .inner = work->strip.inner,
                          .outer_gone = work->outer_gone,
                          .inner_gone = work->inner_gone};
    if (out->fill == BW_FILL_PLAIN) {
        out->fit.verdict = out->outer_gone || out->inner_gone ? BW_NO_ROOM : BW_GOOD;
        return true;
    }
    report_lay(out, work);
    out->runs = maths_take(arena, work->guide.run_count, sizeof *out->runs);
    if (out->runs == NULL)
        return false;
    out->run_count = work->guide.run_count;
    for (size_t i = 0; i < out->run_count; i++)
        report_run(&out->runs[i], work, i, arena);
    report_rows(out, work);
    report_lines(out, work, arena);
    out->bare_outer = work->rows.bare_outer;
    out->bare_inner = work->rows.bare_inner;
    if (out->fill == BW_FILL_BASKET && !work->lay.angled)
        report_notches(out, work);
    maths_band_fit(&out->fit, work);
    return !arena->failed;
}
