/* "What is this figure?": one plain sentence for each figure of a band, with the values it comes from. */
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "show/chance_words.h"
#include "show/hand.h"
#include "show/legs.h"

typedef struct asked {
    const shop_project *project;
    const bw_plan *plan;
    size_t index;
    const bw_band *band;
    const bw_band_plan *made;
    const bw_run_plan *run; /* the first; NULL if there is none */
    bool basket, angled;
    show_figure *out;
} asked;

#define LEN(mm) (show_length(a->project, mm).text)
#define DIFF(mm) (show_difference(a->project, mm).text)
#define SIGNED(mm) (show_signed(a->project, mm).text)

__attribute__((format(printf, 2, 3))) static void value(const asked *a, const char *format, ...) {
    va_list rest;
    va_start(rest, format);
    vsnprintf(a->out->value, sizeof a->out->value, format, rest);
    va_end(rest);
}

__attribute__((format(printf, 2, 3))) static void words(const asked *a, const char *format, ...) {
    show_words text;
    va_list rest;
    va_start(rest, format);
    vsnprintf(text.text, sizeof text.text, format, rest);
    va_end(rest);
    snprintf(a->out->words, sizeof a->out->words, "%.*s", (int)sizeof a->out->words - 1, text.text);
}

/* Never "-0.00". */
static void margin(const asked *a, double x) {
    value(a, "%.2f", fabs(x) < 0.005 ? 0 : x);
}

static double run_length(const asked *a) {
    return a->run->to - a->run->from;
}

/* What the steps share: on an open run from the first of its faces to the last. */
static double shared(const asked *a) {
    return a->run->step * show_run_steps(a->run);
}

static const char *around(const asked *a) {
    return a->run->closed ? "around" : "between the first and the last";
}

static const char *of_run(const asked *a) {
    return a->made->run_count > 1 ? " (of the run that changes most)" : "";
}

static bool count(const asked *a) {
    if (!a->run)
        return false;
    value(a, "%d", show_struck(a->plan, a->index));
    int at_corners = show_impressions(a->plan, a->index) - show_struck(a->plan, a->index);
    int multiple = a->basket && !a->angled && a->run->closed ? 2 : a->made->fill == BW_FILL_BORDER ? a->band->group : 1;
    if (a->run->given) {
        words(a, "How many %s go once along the guide line, as given: %d on %s%s.",
              show_impressions_word(a->made->fill), a->run->count, LEN(run_length(a)), of_run(a));
        return true;
    }
    char nearest[48] = "whole number";
    if (multiple > 1)
        snprintf(nearest, sizeof nearest, multiple == 2 ? "even number" : "multiple of %d", multiple);
    if (a->made->run_count > 1) {
        words(a,
              "How many %s go once along the guide line, all %zu runs together: of each run its length divided by the "
              "usual step of %s, the nearest %s that fits%s.",
              show_impressions_word(a->made->fill), a->made->run_count, LEN(a->run->usual_step), nearest,
              at_corners > 0 ? "; a hole at a corner, which ends one run and begins the next, counts once" : "");
        return true;
    }
    words(a, "How many %s go once along the guide line: %s divided by the usual step of %s, the nearest %s that fits.",
          show_impressions_word(a->made->fill), LEN(run_length(a)), LEN(a->run->usual_step), nearest);
    return true;
}

static bool closure_gap(const asked *a) {
    if (!a->run || a->run->count == 0)
        return false;
    value(a, "%s", SIGNED(a->run->closure_gap));
    words(a, "The closure gap: %s %s less %d steps of the usual %s; left over (+) or lacking (-)%s.", LEN(shared(a)),
          around(a), show_run_steps(a->run), LEN(a->run->usual_step), of_run(a));
    return true;
}

static bool step_change(const asked *a) {
    if (!a->run || a->run->count == 0)
        return false;
    const bw_setting *last = show_last_setting(a->run);
    if (last) {
        value(a, "%s, the last %d", SIGNED(last->step - a->run->usual_step), last->steps);
        words(
            a,
            "By how much each of the last %d steps is stretched (+) or squeezed (-) so that the round closes: the gap "
            "of %s shared by them, the others are the usual %s; up to 3 %% of a step is not seen%s.",
            last->steps, DIFF(a->run->closure_gap), LEN(a->run->usual_step), of_run(a));
        return true;
    }
    value(a, "%s", SIGNED(a->run->step_change));
    words(a,
          "By how much each step is stretched (+) or squeezed (-) so that the round closes: the gap of %s shared by %d "
          "step%s; up to 3 %% of a step is not seen%s.",
          DIFF(a->run->closure_gap), show_run_steps(a->run), show_run_steps(a->run) == 1 ? "" : "s", of_run(a));
    return true;
}

static bool step(const asked *a) {
    if (!a->run || a->run->count == 0)
        return false;
    value(a, "%s", LEN(a->run->step));
    words(a,
          "The distance along the guide from one of the %s to the next when the difference is spread evenly: %s = "
          "%s %s / %d %s%s.",
          show_impressions_word(a->made->fill), LEN(a->run->step), LEN(shared(a)), around(a),
          a->run->closed ? a->run->count : show_run_steps(a->run),
          a->run->closed ? show_impressions_word(a->made->fill) : "steps", of_run(a));
    return true;
}

static bool usual_step(const asked *a) {
    value(a, "%s", LEN(a->made->usual));
    const bw_tool *tool = show_band_tool(a->project, a->index);
    show_words source;
    show_start(&source);
    if (tool != NULL)
        show_say_steps_source(&source, a->project, tool);
    if (source.text[0] != '\0')
        words(a, "The step this tool takes by itself, as strips tell it: %s.", source.text);
    else if (a->made->measured)
        words(a, "The step this tool takes by itself, from the steps measured with it.");
    else if (a->basket)
        words(a, "The step this stamp takes by itself: its widest of %s less %s of the way down to its closest of %s.",
              LEN(a->made->most), show_percent(a->made->overlap).text, LEN(a->made->least));
    else
        words(a, "The step this tool takes by itself: its own %s of %s.",
              a->made->fill == BW_FILL_STITCH ? "pitch" : "length", LEN(a->made->face.length));
    return true;
}

static bool step_range(const asked *a) {
    value(a, "%s to %s", LEN(a->made->least), LEN(a->made->most));
    if (a->basket)
        words(a, "The steps this stamp can take: from %s, %s, to %s, %s.", DIFF(a->made->least),
              show_limit_measured(a->made, false) ? "the closest measured"
                                                  : "where its legs lie on the neighbour up to the bar",
              DIFF(a->made->most),
              show_limit_measured(a->made, true) ? "the widest measured" : "where tip touches tip");
    else
        words(a, "The steps this tool can take without showing it: its own %s, squeezed or stretched by its give.",
              LEN(a->made->usual));
    return true;
}

static bool overlap(const asked *a) {
    const bw_weave_line *guide = a->basket ? show_line_find(a->made, 0) : NULL;
    if (!guide)
        return false;
    value(a, "%s", show_percent(show_legs_share(a->made, guide->step_most)).text);
    words(a,
          "How far a leg lies on its neighbour's leg along the guide: 0 %% = tips touch, 100 %% = up to the bar; usual "
          "for this band is %s, of legs %s long.",
          show_percent(show_legs_share(a->made, a->made->usual)).text, LEN(a->made->face.leg));
    return true;
}

static bool leg(const asked *a) {
    if (!a->basket)
        return false;
    const bw_face *f = &a->made->face;
    value(a, "%s%s", LEN(f->leg), f->estimated_bar ? " *estimated*" : "");
    words(a,
          "The legs are what sticks out beyond the bar at each end: half of the face's length of %s less the bar of "
          "%s%s.",
          LEN(f->length), LEN(f->bar), f->estimated_bar ? " (*estimated*: measure it)" : "");
    return true;
}

static bool turn(const asked *a) {
    if (!a->angled)
        return false;
    value(a, "%.1f degrees", a->made->turn * 180 / BW_PI);
    words(a,
          "How far the stamp is turned from the guide line, so that each leg lies exactly on its neighbour's: from the "
          "rows' %s and the usual step; the line passes %s beside the corners of the face.",
          LEN(a->made->face.width - a->made->face.rail), LEN(a->made->corner_pass));
    return true;
}

static bool feasible(const asked *a) {
    if (!a->run)
        return false;
    if (a->run->feasible_most > 0)
        value(a, "%d to %d", a->run->feasible_least, a->run->feasible_most);
    else
        value(a, "none");
    words(a, "The counts at which every row still fits with even steps: outside %s, inside %s%s.",
          show_limit_measured(a->made, true) ? "they stay under the widest measured" : "legs still reach",
          show_limit_measured(a->made, false) ? "they stay over the closest measured" : "they do not ride on the bars",
          of_run(a));
    return true;
}

static bool guide(const asked *a) {
    value(a, "%s", LEN(a->made->guide_from_edge));
    words(
        a,
        "The guide line, where the first row is struck from, %s from the edge and %s long: scribed lightly, never cut.",
        LEN(a->made->guide_from_edge), LEN(a->made->guide_length));
    return true;
}

static bool guide_shift(const asked *a) {
    if (!a->run || !a->run->has_even_at)
        return false;
    value(a, "%s %s", DIFF(a->run->guide_shift), a->run->guide_shift > 0 ? "inward" : "outward");
    words(a, "The least move of the guide for which the round closes at the usual step of %s, with %d %s kept.",
          LEN(a->run->usual_step), a->run->count, show_impressions_word(a->made->fill));
    return true;
}

static bool rows(const asked *a) {
    int leaned = 0;
    for (size_t i = 0; i < a->made->row_count; i++)
        leaned += a->made->rows[i].leaned ? 1 : 0;
    value(a, "%zu, %d leaned", a->made->row_count, leaned);
    words(a,
          "Rows of impressions side by side along the band of %s; a leaned one has no room for its whole face: the "
          "stamp is tipped, so that the border line stays clean.",
          LEN(a->made->inner - a->made->outer));
    return a->basket;
}

static bool rows_apart(const asked *a) {
    if (!a->basket)
        return false;
    value(a, "%s", LEN(a->made->rows_apart));
    words(a, "The distance from one row to the next: the face's width of %s less the rail of %s that two rows share%s.",
          LEN(a->made->face.width), LEN(a->made->face.rail), a->angled ? ", twice that as it lies turned" : "");
    return true;
}

static bool bare_strip(const asked *a) {
    if (a->made->fill == BW_FILL_STITCH)
        return false;
    value(a, "outer %s, inner %s", LEN(a->made->bare_outer), LEN(a->made->bare_inner));
    words(a,
          "The bare strip: leather between the last row and the border line that no impression covers; over %s it "
          "shows.",
          LEN(BW_BARE_NOTED));
    return true;
}

static bool notch(const asked *a) {
    if (!a->made->has_notch)
        return false;
    value(a, "outer %s, inner %s", LEN(a->made->notch_outer), LEN(a->made->notch_inner));
    words(a,
          "A notch is what stays open of the border line between two impressions of the last row: two steps there less "
          "the face's %s; a border stamp or leaned strikes close it.",
          LEN(a->made->face.length));
    return true;
}

/* reach or crowd: how far the fit is from its longest or shortest step. */
static bool limit(const asked *a, bool widest) {
    const bw_fit *fit = &a->made->fit;
    show_words said;
    margin(a, widest ? fit->reach : fit->crowd);
    if (a->basket)
        words(a, "%s", show_margin_words(&said, a->project, a->made, widest));
    else
        words(a,
              "How far the steps are from the %s this tool takes, %s: 1 = at its usual step, 0 is the limit, from "
              "0.15 on is good.",
              widest ? "longest" : "shortest", LEN(widest ? a->made->most : a->made->least));
    return true;
}

static bool reach(const asked *a) {
    return limit(a, true);
}

static bool crowd(const asked *a) {
    return limit(a, false);
}

static bool bend(const asked *a) {
    margin(a, a->made->fit.bend);
    if (a->made->fill == BW_FILL_STITCH)
        return false;
    if (!a->made->turns) {
        words(a,
              "How far the fit is from a stiff face showing on a bend: the guide nowhere turns, so nothing can show.");
        return true;
    }
    words(a,
          "How far the fit is from a stiff face showing on the bend (%s; least radius of the guide %s): 1 = "
          "straight, 0 is the limit, from 0.15 on is good.",
          a->basket ? "legs that cross, tips that stand off" : "feet that collide, heads that gape",
          LEN(a->made->guide_least_radius));
    return true;
}

static bool miss(const asked *a) {
    double worst = 0;
    for (size_t i = 0; i < a->made->line_count; i++)
        worst = fmax(worst, a->made->lines[i].miss);
    value(a, "%s", DIFF(worst));
    words(a,
          "By how much rails miss each other sideways in the worst row of the angled lay; over half a rail, %s, it "
          "shows.",
          DIFF(a->made->face.rail / 2));
    return a->angled;
}

static bool seam(const asked *a) {
    if (!a->run || a->run->count == 0)
        return false;
    if (a->run->closed && a->made->run_count == 1) {
        value(a, "%d meets 1", a->run->count);
        words(a, "The seam is where the last impression, number %d, meets the first, at the start mark.",
              a->run->count);
    } else {
        value(a, "none: %zu run%s", a->made->run_count, a->made->run_count == 1 ? "" : "s");
        words(a, "There is no seam: each run ends by itself, %s, its first and last faces flush with its ends.",
              a->made->run_count > 1 ? "at the corners" : "at the ends of the edge");
    }
    return true;
}

/* What the strips of the band's tool tell of its longest run. */
static bool drift_of(const asked *a, bw_drift *drift, bw_hand *hand) {
    at_bench at = band_at(a->project, a->plan, a->index);
    show_words missing;
    chance_told told = chance_of(&at, chance_run(a->made), drift, hand);
    if (told == CHANCE_NONE || told == CHANCE_TOLD)
        return told == CHANCE_TOLD;
    show_start(&missing);
    chance_say_missing(&at, told, &missing);
    value(a, "not known");
    words(a, "How surely a round closes follows from your own hand: %s.", missing.text);
    return false;
}

static bool chance(const asked *a) {
    bw_drift drift;
    bw_hand hand;
    show_words off;
    if (!drift_of(a, &drift, &hand))
        return a->out->value[0] != '\0';
    value(a, "%s", chance_text(bw_closing_chance(&drift, BW_WAY_THROUGH, 0).closes).text);
    words(a,
          "How surely %d steps, struck through without a look, end within %s of where they should: each %s (by "
          "%s), open from %s; set anew at 3 check marks %s.",
          drift.steps, DIFF(drift.tolerance), show_stray_words(&off, a->project, &hand), chance_strips(&hand).text,
          chance_range(&hand, &drift, 0).text,
          chance_text(bw_closing_chance(&drift, BW_WAY_ANEW, drift.steps > 3 ? 3 : 0).closes).text);
    return true;
}

static bool marks_for(const asked *a) {
    bw_drift drift;
    bw_hand hand;
    show_words off;
    if (!drift_of(a, &drift, &hand))
        return a->out->value[0] != '\0';
    int fewest = bw_marks_needed(&drift, CHANCE_WANTED, false);
    if (fewest < 0)
        value(a, "none do");
    else
        value(a, "%d", fewest);
    words(a,
          "The fewest check marks, the stamp set anew on each, with which %d steps end within %s of where they should "
          "in 95 of 100 rounds; each %s (by %s).",
          drift.steps, DIFF(drift.tolerance), show_stray_words(&off, a->project, &hand), chance_strips(&hand).text);
    return true;
}

static bool set_to(const asked *a) {
    for (size_t i = 0; i < a->plan->line_count; i++) {
        const bw_line_plan *line = &a->plan->lines[i];
        if (line->band != a->index || line->which != BW_GUIDE)
            continue;
        value(a, "%s", LEN(line->set_to));
        words(a,
              "What the dividers are set to for the guide line: its %s from the edge on their grid of %s; %s remains.",
              DIFF(line->from_edge), LEN(a->project->layout.grid), DIFF(line->set_to - line->from_edge));
        return true;
    }
    return false;
}

static bool strikes(const asked *a) {
    const bw_tool *tool = show_band_tool(a->project, a->index);
    int blows = tool && a->made->fill != BW_FILL_STITCH ? tool->blows : 1;
    value(a, "%lld", a->made->strikes);
    long long shared = show_impressions(a->plan, a->index) - a->made->strikes;
    if (a->made->fill == BW_FILL_STITCH && shared > 0)
        words(a,
              "All holes of the band: %d counted run by run less %lld at corners, where two runs have one hole "
              "together.",
              show_impressions(a->plan, a->index), shared);
    else
        words(a, "All %s of the band, over all its rows; with %d blow%s each that is %lld.",
              show_impressions_word(a->made->fill), blows, blows == 1 ? "" : "s", a->made->strikes * blows);
    return true;
}

static const struct {
    const char *name;
    bool (*tell)(const asked *a);
} kinds[SHOW_FIGURE_COUNT_OF_KINDS] = {
    [SHOW_FIGURE_COUNT] = {"count", count},
    [SHOW_FIGURE_GAP] = {"closure gap", closure_gap},
    [SHOW_FIGURE_STEP_CHANGE] = {"step-change", step_change},
    [SHOW_FIGURE_STEP] = {"step", step},
    [SHOW_FIGURE_USUAL_STEP] = {"usual step", usual_step},
    [SHOW_FIGURE_STEP_RANGE] = {"step range", step_range},
    [SHOW_FIGURE_OVERLAP] = {"overlap", overlap},
    [SHOW_FIGURE_LEG] = {"leg", leg},
    [SHOW_FIGURE_TURN] = {"turn", turn},
    [SHOW_FIGURE_FEASIBLE] = {"feasible counts", feasible},
    [SHOW_FIGURE_GUIDE] = {"guide line", guide},
    [SHOW_FIGURE_GUIDE_SHIFT] = {"guide shift", guide_shift},
    [SHOW_FIGURE_ROWS] = {"rows", rows},
    [SHOW_FIGURE_ROWS_APART] = {"rows apart", rows_apart},
    [SHOW_FIGURE_BARE_STRIP] = {"bare strip", bare_strip},
    [SHOW_FIGURE_NOTCH] = {"notch", notch},
    [SHOW_FIGURE_REACH] = {"reach", reach},
    [SHOW_FIGURE_CROWD] = {"crowd", crowd},
    [SHOW_FIGURE_BEND] = {"bend", bend},
    [SHOW_FIGURE_MISS] = {"rails miss", miss},
    [SHOW_FIGURE_SEAM] = {"seam", seam},
    [SHOW_FIGURE_CHANCE] = {"chance to close", chance},
    [SHOW_FIGURE_MARKS] = {"marks for 95 %", marks_for},
    [SHOW_FIGURE_SET_TO] = {"set to", set_to},
    [SHOW_FIGURE_STRIKES] = {"strikes", strikes},
};

bool show_figure_of(const shop_project *project, const bw_plan *plan, size_t band, show_figure_kind kind,
                    show_figure *out) {
    memset(out, 0, sizeof *out);
    if ((int)kind < 0 || kind >= SHOW_FIGURE_COUNT_OF_KINDS)
        return false;
    out->kind = kind;
    out->name = kinds[kind].name;
    if (band >= plan->band_count || band >= project->layout.band_count || plan->bands[band].fill == BW_FILL_PLAIN)
        return false;
    asked a = {.project = project,
               .plan = plan,
               .index = band,
               .band = &project->bands[band],
               .made = &plan->bands[band],
               .out = out};
    a.run = a.made->run_count > 0 ? &a.made->runs[bw_worst_run(a.made)] : NULL;
    a.basket = a.made->fill == BW_FILL_BASKET;
    a.angled = a.basket && a.band->lay == BW_LAY_ANGLED;
    return kinds[kind].tell(&a);
}

size_t show_figures(const shop_project *project, const bw_plan *plan, size_t band, show_figure *list, size_t room) {
    size_t written = 0;
    for (int kind = 0; kind < SHOW_FIGURE_COUNT_OF_KINDS && written < room; kind++)
        if (show_figure_of(project, plan, band, (show_figure_kind)kind, &list[written]))
            written++;
    return written;
}
