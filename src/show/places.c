/* The places of a band that are worth a look, with a mark and a sentence each. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/inner.h"
#include "show/legs.h"

enum { STRETCHES = 32, LOOPS_MOST = 9 };

typedef struct gathering {
    const shop_project *project;
    const bw_plan *plan;
    const bw_band_plan *band;
    size_t index;
    const bw_curve *guide;
    show_spot *list;
    size_t count, room;
} gathering;

static show_spot *add(gathering *g, char mark, double along) {
    if (g->count == g->room)
        return NULL;
    show_spot *spot = &g->list[g->count++];
    *spot = (show_spot){.mark = mark, .band = g->index, .along = along, .from = along, .to = along};
    spot->at = bw_curve_at(g->guide, along).at;
    show_start(&spot->words);
    return spot;
}

/* ", 221 mm along the edge, at the right" without its first words. */
static void say_beside(const gathering *g, show_spot *spot) {
    bw_spot here = bw_curve_at(g->guide, spot->along);
    double edge = show_beside(g->plan, here, g->band->guide_from_edge);
    show_words place;
    show_say(&spot->words, "%s along the edge", show_edge_length(g->project, edge).text);
    show_edge_place(&place, g->project, g->plan, edge);
    if (place.text[0])
        show_say(&spot->words, ", %s", place.text);
}

bool show_guide_cut(const bw_plan *plan, size_t band) {
    const bw_band_plan *b = &plan->bands[band];
    return bw_curve_closed(plan->edge) && b->run_count > 0 && !b->runs[0].closed;
}

/* ---- the start ---- */

static void add_start(gathering *g) {
    bool cut = show_guide_cut(g->plan, g->index);
    show_spot *spot = add(g, 'S', 0);
    if (!spot)
        return;
    spot->impression = show_impressions(g->plan, g->index) > 0;
    show_say(&spot->words, cut ? "the first run starts: " : "the round starts: ");
    bw_point mark = bw_curve_at(g->plan->edge, g->plan->start_along).at;
    if (!cut) {
        spot->at = mark;
        say_beside(g, spot);
        return;
    }
    double edge = show_corner_edge(g->plan, g->index, g->band->runs[0].from);
    spot->at = bw_curve_at(g->plan->edge, g->plan->start_along + edge).at;
    show_words place;
    show_edge_place(&place, g->project, g->plan, edge);
    show_say(&spot->words, "%s along the edge%s%s", show_edge_length(g->project, edge).text, place.text[0] ? ", " : "",
             place.text);
    if (hypot(spot->at.x - mark.x, spot->at.y - mark.y) < SHOW_NOTHING || !(spot = add(g, 's', 0)))
        return;
    spot->at = mark;
    spot->along = bw_curve_nearest(g->guide, mark);
    show_edge_place(&place, g->project, g->plan, 0);
    show_say(&spot->words, "the start mark%s%s: places along the edge count from here", place.text[0] ? ", " : "",
             place.text);
}

/* ---- where it fails ---- */

static const char *failing(const bw_band_plan *band, bw_margin margin) {
    bool basket = band->fill == BW_FILL_BASKET;
    switch (margin) {
    case BW_MARGIN_REACH:
        return basket ? show_passed(band, true) : "steps are longer than the tool takes";
    case BW_MARGIN_CROWD:
        return basket ? show_passed(band, false) : "steps are shorter than the tool takes";
    default:
        return "the bend is too tight for the tool";
    }
}

static void add_failing(gathering *g) {
    const bw_fit *fit = &g->band->fit;
    if (fit->reach >= -BW_EPS && fit->crowd >= -BW_EPS && fit->bend >= -BW_EPS && fit->verdict >= BW_TIGHT)
        return;
    const bw_profile *profile = bw_plan_profile(g->plan, g->index);
    if (!profile)
        return;
    for (int margin = BW_MARGIN_REACH; margin <= BW_MARGIN_BEND; margin++) {
        bw_stretch list[STRETCHES];
        size_t count = bw_profile_stretches(profile, (bw_margin)margin, list, STRETCHES);
        for (size_t i = 0; i < count && i < STRETCHES; i++) {
            show_spot *spot = add(g, '!', list[i].worst);
            if (!spot)
                break;
            spot->from = list[i].from;
            spot->to = list[i].to;
            spot->edge_from = list[i].edge_from;
            spot->edge_to = list[i].edge_to;
            double way = list[i].to - list[i].from, length = bw_curve_length(g->guide);
            show_say(&spot->words, "%s ", failing(g->band, (bw_margin)margin));
            if (way + (way < 0 ? length : 0) > length * SHOW_ALL_ALONG)
                show_say(&spot->words, "all along");
            else
                show_say_stretch(&spot->words, g->project, g->plan, &list[i]);
        }
    }
}

/* ---- tightest and widest ---- */

static void add_extreme(gathering *g, bool widest) {
    const bw_weave_line *line = show_extreme_line(g->band, widest);
    int number = widest ? show_widest(g->plan, g->index) : show_tightest(g->plan, g->index);
    if (!line || number == 0)
        return;
    const bw_extreme *at = widest ? &line->widest : &line->tightest;
    double step = at->step;
    show_spot *spot = add(g, widest ? 'W' : 'T', at->along + step / 2);
    if (!spot)
        return;
    bw_spot here = bw_curve_at(g->guide, spot->along);
    double delta = line->from_edge - g->band->guide_from_edge;
    spot->at = (bw_point){here.at.x - delta * sin(here.heading), here.at.y + delta * cos(here.heading)};
    spot->impression = number;
    show_say(&spot->words, "the %s step, %s: ", widest ? "widest" : "tightest", show_length(g->project, step).text);
    show_say_extreme(&spot->words, g->project, g->plan, g->index, at);
}

/* ---- corners, loops, bare strips ---- */

static void add_corners(gathering *g) {
    bool closed = bw_curve_closed(g->plan->edge);
    for (size_t i = 0; i < g->band->run_count; i++) {
        const bw_run_plan *run = &g->band->runs[i];
        if (run->closed || (!closed && i == 0))
            continue;
        show_spot *spot = add(g, 'C', run->from);
        if (!spot)
            return;
        double edge = show_corner_edge(g->plan, g->index, run->from);
        show_words place;
        show_edge_place(&place, g->project, g->plan, edge);
        show_say(&spot->words, "the guide turns a corner at %s along the edge%s%s: a run ends and another starts",
                 show_edge_length(g->project, edge).text, place.text[0] ? ", " : "", place.text);
    }
}

static void add_loops(gathering *g) {
    for (size_t i = 0; g->band->guide_loops > 1 && i < g->band->run_count; i++) {
        const bw_run_plan *run = &g->band->runs[i];
        if ((i > 0 && g->band->runs[i - 1].loop == run->loop) || run->loop >= LOOPS_MOST)
            continue;
        show_spot *spot = add(g, (char)('1' + run->loop), run->from);
        if (!spot)
            return;
        show_say(&spot->words, "loop %d of the %d into which the guide falls apart starts beside ", run->loop + 1,
                 g->band->guide_loops);
        say_beside(g, spot);
    }
}

static bool warned(const gathering *g, bw_warning_kind kind) {
    for (size_t i = 0; i < g->plan->warning_count; i++)
        if (g->plan->warnings[i].band == g->index && g->plan->warnings[i].kind == kind)
            return true;
    return false;
}

static void add_bare(gathering *g, bool outer) {
    double bare = outer ? g->band->bare_outer : g->band->bare_inner;
    double depth = outer ? g->band->outer + bare / 2 : g->band->inner - bare / 2;
    bw_curve *strip;
    if (!(bare > BW_BARE_NOTED + BW_EPS) || !warned(g, BW_WARN_BARE_STRIP) ||
        bw_curve_offset(g->plan->edge, depth, NULL, &strip) != BW_OK)
        return;
    show_spot *spot = bw_curve_loops(strip) > 0 ? add(g, 'b', 0) : NULL;
    if (spot) {
        bw_spot start = bw_curve_at(g->guide, 0);
        spot->at = bw_curve_at(strip, bw_curve_nearest(strip, start.at)).at;
        spot->from = spot->to = depth;
        show_say(&spot->words, "a bare strip of %s along the %s border line: no impression covers it",
                 show_length(g->project, bare).text, outer ? "outer" : "inner");
    }
    bw_curve_destroy(strip);
}

static size_t gather(const shop_project *project, const bw_plan *plan, size_t band, bool faults, show_spot *list,
                     size_t room) {
    bw_curve *guide;
    gathering g = {.project = project, .plan = plan, .index = band, .list = list, .room = room};
    if (band >= plan->band_count || band >= project->layout.band_count || plan->bands[band].fill == BW_FILL_PLAIN ||
        plan->bands[band].guide_gone || bw_guide_create(plan, band, NULL, &guide) != BW_OK)
        return 0;
    g.band = &plan->bands[band];
    g.guide = guide;
    if (bw_curve_loops(guide) > 0) {
        if (!faults)
            add_start(&g);
        add_failing(&g);
        if (!faults) {
            add_extreme(&g, false);
            add_extreme(&g, true);
        }
        add_corners(&g);
        add_loops(&g);
        add_bare(&g, true);
        add_bare(&g, false);
    }
    bw_curve_destroy(guide);
    return g.count;
}

size_t show_spots(const shop_project *project, const bw_plan *plan, size_t band, show_spot *list, size_t room) {
    return gather(project, plan, band, false, list, room);
}

size_t show_faults(const shop_project *project, const bw_plan *plan, size_t band, show_spot *list, size_t room) {
    return gather(project, plan, band, true, list, room);
}
