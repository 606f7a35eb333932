/* What the cells of the spacing table mean, with the numbers put in. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/legs.h"
#include "show/spacing.h"

typedef struct telling {
    show_words *out;
    const show_view *view;
    const shop_project *project;
    const bw_band_plan *band;
    const char *value; /* as the cell shows it */
    spacing_kind kind;
    size_t index;
} telling;

#define LEN(mm) (show_length(t->project, mm).text)
#define DIFF(mm) (show_difference(t->project, mm).text)
#define SAY(...) show_say(t->out, __VA_ARGS__)

static const char *many(const telling *t) {
    return show_impressions_word(t->band->fill);
}

/* "3.85 mm farther in" */
static void say_deeper(const telling *t, double delta) {
    if (fabs(delta) < BW_EPS)
        SAY("no deeper than it");
    else
        SAY("%s farther %s", LEN(fabs(delta)), delta > 0 ? "in" : "out");
}

/* ---- weave lines ---- */

static const bw_weave_line *the_line(const telling *t) {
    return &t->band->lines[t->index];
}

static void line_number(const telling *t) {
    int line = the_line(t)->line;
    if (t->band->fill != BW_FILL_BASKET)
        SAY("%s: the guide line, on which the %s stand.", t->value, many(t));
    else if (line == 0)
        SAY("%s: the guide line itself; lines below 0 lie outside it, those above inside.", t->value);
    else
        SAY("%s: weave line number %d %s the guide line; the legs of the two rows beside it meet on it.", t->value,
            abs(line), line < 0 ? "outside" : "inside");
}

static void line_from_edge(const telling *t) {
    double depth = the_line(t)->from_edge, delta = depth - t->band->guide_from_edge;
    if (fabs(delta) < BW_EPS) {
        SAY("%s = how far the guide line lies from the edge.", t->value);
        return;
    }
    SAY("%s = the guide line's %s from the edge, ", t->value, LEN(t->band->guide_from_edge));
    say_deeper(t, delta);
    int line = the_line(t)->line;
    if (fabs(delta - line * t->band->rows_apart) < BW_EPS_FIT)
        SAY(" (%d times the %s from row to row).", abs(line), LEN(t->band->rows_apart));
    else
        SAY(": at the border line, for its row reaches over that.");
}

/* "7.55 mm (317.3 mm around / 42 impressions)" */
static void say_guide_step(const telling *t, double step, int run_index) {
    SAY("%s", LEN(step));
    if (run_index < 0 || (size_t)run_index >= t->band->run_count)
        return;
    const bw_run_plan *run = &t->band->runs[run_index];
    int steps = show_run_steps(run);
    if (steps > 0 && fabs(step - run->step) < BW_EPS_FIT && run->closed)
        SAY(" (%s around / %d %s)", LEN(run->to - run->from), run->count, many(t));
    else if (steps > 0 && fabs(step - run->step) < BW_EPS_FIT)
        SAY(" (%s between the first and the last / %d steps)", LEN(step * steps), steps);
    else
        SAY(" (as the gap is lost there)");
}

static void line_step(const telling *t, bool longest) {
    const bw_weave_line *line = the_line(t);
    const bw_extreme *at = longest ? &line->widest : &line->tightest;
    double delta = line->from_edge - t->band->guide_from_edge;
    const bw_profile *profile = bw_plan_profile(t->view->plan, t->view->band);
    SAY("%s = the %s step on this line: ", t->value, longest ? "longest" : "shortest");
    if (fabs(at->step - (longest ? line->step_most : line->step_least)) >= 2 * SHOW_NOTHING)
        SAY("it is judged as if the last steps could lie anywhere; of those that are struck %s = ", LEN(at->step));
    if (!profile)
        return;
    bw_felt felt = show_extreme_felt(profile, t->band, line, longest);
    say_guide_step(t, felt.step, at->run);
    SAY(" on the guide");
    if (fabs(delta) < BW_EPS) {
        SAY(", which is this line.");
        return;
    }
    if (fabs(felt.turning) < BW_EPS) {
        SAY("; the way is straight there, so it is as long ");
        say_deeper(t, delta);
        SAY(".");
        return;
    }
    bool less = delta * felt.turning > 0;
    SAY(" %s %s (", less ? "-" : "+", DIFF(delta * felt.turning));
    say_deeper(t, delta);
    SAY(", on a way that turns %.3g degrees a step).", fabs(felt.turning) * 180 / BW_PI);
}

static void line_shortest(const telling *t) {
    line_step(t, false);
}

static void line_longest(const telling *t) {
    line_step(t, true);
}

static void line_share(const telling *t, bool most) {
    const bw_weave_line *line = the_line(t);
    const bw_band_plan *b = t->band;
    double step = most ? line->step_least : line->step_most;
    if (show_limit_measured(b, true) || show_limit_measured(b, false)) {
        SAY("%s = how far a leg lies on its neighbour's where the step is %s: (the face's %s - %s) / the leg's %s; 0 "
            "%% "
            "= tips touch, 100 %% = up to the bar. The margins count from the steps measured, %s to %s.",
            t->value, most ? "shortest" : "longest", LEN(b->face.length), DIFF(step * cos(b->turn)), LEN(b->face.leg),
            DIFF(b->least), DIFF(b->most));
        return;
    }
    SAY("%s = how far a leg lies on its neighbour's where the step is %s: (%s at the widest - %s) / (%s - %s at the "
        "closest); 0 %% = tips touch, 100 %% = up to the bar.",
        t->value, most ? "shortest" : "longest", LEN(t->band->most), LEN(step), LEN(t->band->most),
        LEN(t->band->least));
}

static void line_least_share(const telling *t) {
    line_share(t, false);
}

static void line_most_share(const telling *t) {
    line_share(t, true);
}

static void line_leg(const telling *t, bool most) {
    const bw_weave_line *line = the_line(t);
    double share = show_legs_share(t->band, most ? line->step_least : line->step_most);
    SAY("%s = %s of the leg of %s: so far legs lie on each other where the step is %s%s.", t->value,
        show_percent(share).text, LEN(t->band->face.leg), most ? "shortest" : "longest",
        share < 0 ? "; under 0 they miss each other" : "");
}

static void line_least_leg(const telling *t) {
    line_leg(t, false);
}

static void line_most_leg(const telling *t) {
    line_leg(t, true);
}

static void line_turn(const telling *t) {
    double turn = the_line(t)->turn_most;
    if (turn < BW_EPS)
        SAY("%s: the way is straight, no step turns.", t->value);
    else
        SAY("%s = the most that the direction of the way changes over one step; %.3g such steps would turn all round.",
            t->value, 2 * BW_PI / turn);
}

static void line_miss(const telling *t) {
    SAY("%s = by how much rails of neighbours miss each other sideways on this line, at worst: none on a straight way, "
        "more the more it turns a step; over half a rail, %s, it shows.",
        t->value, DIFF(t->band->face.rail / 2));
}

static void line_place(const telling *t, bool widest) {
    const bw_weave_line *line = the_line(t);
    double step = widest ? line->widest.step : line->tightest.step;
    if (line->step_most - line->step_least < 2 * SHOW_NOTHING) {
        SAY("%s: every step on this line is %s, so no place is the %s.", t->value, LEN(step),
            widest ? "widest" : "tightest");
        return;
    }
    SAY("%s = where the step is %s, %s: ", t->value, widest ? "longest" : "shortest", LEN(step));
    show_say_extreme(t->out, t->project, t->view->plan, t->view->band, widest ? &line->widest : &line->tightest);
    SAY(".");
}

static void line_tightest(const telling *t) {
    line_place(t, false);
}

static void line_widest(const telling *t) {
    line_place(t, true);
}

/* ---- rows ---- */

static const bw_row_plan *the_row(const telling *t) {
    return &t->band->rows[t->index];
}

static void row_number(const telling *t) {
    int row = the_row(t)->row;
    if (row == 0)
        SAY("%s: the row on the guide line.", t->value);
    else
        SAY("%s: row number %d %s the guide line.", t->value, abs(row), row < 0 ? "outside" : "inside");
}

static void row_from_edge(const telling *t) {
    double delta = the_row(t)->from_edge - t->band->guide_from_edge;
    SAY("%s = the guide line's %s from the edge, ", t->value, LEN(t->band->guide_from_edge));
    say_deeper(t, delta);
    SAY(": where the middle of the face is set.");
}

static void row_prints(const telling *t) {
    const bw_row_plan *row = the_row(t);
    if (row->cover >= 1 - BW_EPS_FIT)
        SAY("%s = all of the face prints: it lies between the border lines at %s and %s.", t->value,
            LEN(t->band->outer), LEN(t->band->inner));
    else
        SAY("%s = what of the face prints: the rest would lie beyond the border line at %s, so the stamp is leaned.",
            t->value, LEN(row->row < 0 ? t->band->outer : t->band->inner));
}

static void row_struck(const telling *t) {
    const bw_row_plan *row = the_row(t);
    if (row->leaned)
        SAY("%s: the stamp is tipped, so that only %s of its face prints.", t->value, show_percent(row->cover).text);
    else
        SAY("%s: the stamp is struck upright, with its whole face.", t->value);
}

static void row_impressions(const telling *t) {
    const bw_row_plan *row = the_row(t);
    int guide = show_impressions(t->view->plan, t->view->band);
    if (row->impressions * 2 == guide)
        SAY("%s = every second of the %d on the guide line: rows take turns.", t->value, guide);
    else if (row->impressions == guide)
        SAY("%s = as many as on the guide line.", t->value);
    else
        SAY("%s = the %s of this row in all %zu run%s; on the guide line there are %d.", t->value, many(t),
            t->band->run_count, t->band->run_count == 1 ? "" : "s", guide);
}

static void row_shift(const telling *t) {
    SAY("%s of a step: so much later this row begins than the row on the guide line, because the stamp lies turned by "
        "%.1f degrees.",
        t->value, t->band->turn * 180 / BW_PI);
}

/* ---- runs ---- */

static const bw_run_plan *the_run(const telling *t) {
    return &t->band->runs[t->index];
}

/* "5 mm along the edge, at the lower right corner" */
static void say_run_end(const telling *t, bool last) {
    double edge = show_run_end(t->view->plan, t->view->band, the_run(t), last);
    show_words place;
    SAY("%s along the edge", show_edge_length(t->project, edge).text);
    show_edge_place(&place, t->project, t->view->plan, edge);
    if (place.text[0])
        SAY(", %s", place.text);
}

static void run_number(const telling *t) {
    const bw_run_plan *run = the_run(t);
    SAY("%s of %zu: ", t->value, t->band->run_count);
    if (run->closed) {
        SAY("a round, which closes on itself; it begins ");
        say_run_end(t, false);
    } else {
        SAY("it goes from ");
        say_run_end(t, false);
        SAY(" to ");
        say_run_end(t, true);
    }
    SAY(".");
}

static void run_end(const telling *t, bool last) {
    SAY("%s along the guide line from its start: where this run %s; beside it, ", t->value, last ? "ends" : "begins");
    say_run_end(t, last);
    SAY(".");
}

static void run_from(const telling *t) {
    run_end(t, false);
}

static void run_to(const telling *t) {
    run_end(t, true);
}

static void run_length(const telling *t) {
    const bw_run_plan *run = the_run(t);
    SAY("%s = from %s to %s along the guide line%s.", t->value, LEN(run->from), LEN(run->to),
        run->closed ? ", all around" : "");
}

/* What the steps share: on an open run not all of its length lies between the middles of its end faces. */
static double shared(const bw_run_plan *run) {
    return run->step * show_run_steps(run);
}

static void say_shared(const telling *t) {
    const bw_run_plan *run = the_run(t);
    SAY("%s %s", LEN(shared(run)), run->closed ? "around" : "between the first and the last");
}

static void run_count(const telling *t) {
    const bw_run_plan *run = the_run(t);
    if (run->count == 0) {
        SAY("%s: the run of %s is too short for one face.", t->value, LEN(run->to - run->from));
        return;
    }
    SAY("%s %s%s: ", t->value, many(t), run->given ? ", as given" : "");
    if (show_run_steps(run) == 0) {
        SAY("there is room for one alone.");
        return;
    }
    say_shared(t);
    if (run->given)
        SAY(" / %d steps = %s each.", show_run_steps(run), LEN(run->step));
    else if (run->closed)
        SAY(" / the usual step of %s = %.2f, and the nearest count that fits is taken.", LEN(run->usual_step),
            shared(run) / run->usual_step);
    else
        SAY(" / the usual step of %s = %.2f steps, of which the nearest number that fits is taken, and the first "
            "besides.",
            LEN(run->usual_step), shared(run) / run->usual_step);
}

static void run_usual(const telling *t) {
    SAY("%s = the step this tool takes by itself, between %s at the closest and %s at the widest%s.", t->value,
        LEN(t->band->least), LEN(t->band->most), t->band->measured ? "; measured" : "");
}

static bool no_steps(const telling *t) {
    if (show_run_steps(the_run(t)) > 0)
        return false;
    SAY("%s: there is no step on this run of %s.", t->value, LEN(the_run(t)->to - the_run(t)->from));
    return true;
}

static void run_gap(const telling *t) {
    const bw_run_plan *run = the_run(t);
    if (no_steps(t))
        return;
    SAY("%s = ", t->value);
    say_shared(t);
    SAY(" - %d steps of the usual %s: what is left over (+) or lacking (-).", show_run_steps(run),
        LEN(run->usual_step));
}

static void run_step(const telling *t) {
    const bw_run_plan *run = the_run(t);
    if (no_steps(t))
        return;
    SAY("step %s = ", t->value);
    say_shared(t);
    if (run->closed)
        SAY(" / %d %s.", run->count, many(t));
    else
        SAY(" / %d steps.", show_run_steps(run));
}

static void run_change(const telling *t) {
    const bw_run_plan *run = the_run(t);
    if (no_steps(t))
        return;
    SAY("%s = the gap of %s shared by %d steps: so much longer (+) or shorter (-) than usual is each.", t->value,
        show_signed(t->project, run->closure_gap).text, show_run_steps(run));
}

static void run_fits(const telling *t) {
    SAY("%s: the counts at which every row of this run still fits with even steps.", t->value);
}

/* ---- all ---- */

static void (*const tell[SPACING_KINDS])(const telling *) = {
    [LINE_NUMBER] = line_number,
    [LINE_FROM_EDGE] = line_from_edge,
    [LINE_SHORTEST] = line_shortest,
    [LINE_LONGEST] = line_longest,
    [LINE_LEAST_SHARE] = line_least_share,
    [LINE_MOST_SHARE] = line_most_share,
    [LINE_LEAST_LEG] = line_least_leg,
    [LINE_MOST_LEG] = line_most_leg,
    [LINE_TURN] = line_turn,
    [LINE_MISS] = line_miss,
    [LINE_TIGHTEST] = line_tightest,
    [LINE_WIDEST] = line_widest,
    [ROW_NUMBER] = row_number,
    [ROW_FROM_EDGE] = row_from_edge,
    [ROW_PRINTS] = row_prints,
    [ROW_STRUCK] = row_struck,
    [ROW_IMPRESSIONS] = row_impressions,
    [ROW_SHIFT] = row_shift,
    [RUN_NUMBER] = run_number,
    [RUN_FROM] = run_from,
    [RUN_TO] = run_to,
    [RUN_LENGTH] = run_length,
    [RUN_COUNT] = run_count,
    [RUN_USUAL] = run_usual,
    [RUN_GAP] = run_gap,
    [RUN_STEP] = run_step,
    [RUN_CHANGE] = run_change,
    [RUN_FITS] = run_fits,
};

void spacing_words(const show_view *view, const spacing_cell *cell, show_words *out) {
    show_figure list[SHOW_FIGURE_COUNT_OF_KINDS];
    show_start(out);
    if (cell->block == SPACING_FIGURES) {
        show_figures(view->project, view->plan, view->band, list, SHOW_FIGURE_COUNT_OF_KINDS);
        show_say(out, "%s: %s", list[cell->index].value, list[cell->index].words);
        return;
    }
    show_figure_text value = spacing_text(view, cell);
    const telling t = {out, view, view->project, show_view_band(view), value.text, cell->kind, cell->index};
    tell[cell->kind](&t);
}
