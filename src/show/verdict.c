/* Does it work? One sentence with a number, and where it does not: the nearest that would. */
#include <math.h>

#include "show/inner.h"
#include "show/legs.h"

typedef struct telling {
    show_words *out;
    const shop_project *project;
    const bw_plan *plan;
    size_t index;
    const bw_band *band;
    const bw_band_plan *made;
} telling;

#define LEN(mm) (show_length(t->project, mm).text)
#define UP(mm) (show_length_up(t->project, mm).text)
#define DOWN(mm) (show_length_down(t->project, mm).text)
#define DIFF(mm) (show_difference(t->project, mm).text)

enum { STRETCHES = 64 };

/* What would do instead; nothing without memory. */
static bw_would would_do(const telling *t) {
    const bw_would *would = bw_plan_would(&t->project->layout, t->plan, t->index);
    return would ? *would : (bw_would){.depth = INFINITY};
}

/* Where on the edge it fails: "; from 118 to 131 mm along the edge, at the upper right corner, and in 3 more places".
 * Nothing and false where it fails all along, as on a circle. */
static bool say_where(const telling *t, bw_margin margin) {
    bw_stretch list[STRETCHES];
    const bw_profile *profile = bw_plan_profile(t->plan, t->index);
    if (!profile)
        return false;
    size_t count = bw_profile_stretches(profile, margin, list, STRETCHES), worst = 0;
    double length = bw_profile_length(profile), failing = 0;
    for (size_t i = 0; i < count && i < STRETCHES; i++) {
        double way = list[i].to - list[i].from;
        failing += way < 0 ? way + length : way;
        worst = list[i].margin < list[worst].margin - 0.005 ? i : worst;
    }
    if (count == 0 || failing > length * SHOW_ALL_ALONG)
        return false;
    show_say(t->out, "; ");
    show_say_stretch(t->out, t->project, t->plan, &list[worst]);
    if (count > 1)
        show_say(t->out, ", and in %zu more place%s", count - 1, count == 2 ? "" : "s");
    return true;
}

/* The cheapest cure first: "; 34 impressions would do"; with more to follow: "; 34 impressions would do, or". */
static bool say_count(const telling *t, bool more) {
    int count = would_do(t).count;
    if (count > 0)
        show_say(t->out, "; %d %s would do%s", count, show_impressions_word(t->made->fill), more ? ", or" : "");
    return count > 0;
}

static void no_room(const telling *t) {
    const bw_band_plan *b = t->made;
    bool gone = b->outer_gone || b->inner_gone || b->guide_gone;
    if (!gone) {
        const bw_run_plan *run = NULL;
        for (size_t i = 0; i < b->run_count && (!run || run->count > 0); i++)
            run = &b->runs[i];
        double length = run ? run->to - run->from : 0;
        show_say(t->out,
                 "no: the band has no room: a run of %s is shorter than the %s that a face takes along the line",
                 LEN(length), LEN(b->along_line));
        show_say(t->out, "; a face of %s at most would do", DOWN(length));
        return;
    }
    double from = b->outer_gone ? b->outer : b->guide_gone ? b->guide_from_edge : b->inner;
    double depth = would_do(t).depth;
    show_say(t->out, "no: the band has no room: its %s would lie %s from the edge",
             b->outer_gone   ? "outer line"
             : b->guide_gone ? "guide"
                             : "inner line",
             LEN(from));
    if (!isfinite(depth))
        return;
    double grid = t->project->layout.grid > 0 ? t->project->layout.grid : BW_GRID_MM;
    double less = (floor((b->inner - depth) / grid + BW_EPS) + 1) * grid;
    show_say(t->out, ", but the piece closes up at %s", LEN(depth));
    if (less > 0)
        show_say(t->out, "; bands and spaces %s less in all would do", LEN(less));
}

static void too_narrow(const telling *t) {
    const bw_band_plan *b = t->made;
    const bw_face *f = &b->face;
    if (t->band->lay == BW_LAY_ANGLED) {
        double high = f->length * sin(b->turn) + f->width * cos(b->turn);
        show_say(t->out,
                 "no: the band of %s holds less than a quarter of the row on its guide, which is %s high; "
                 "a band of %s with the guide in its middle would hold it whole",
                 LEN(b->inner - b->outer), LEN(high), UP(high));
        return;
    }
    double outside = b->guide_from_edge - b->outer, inside = b->inner - b->guide_from_edge;
    double leaned = b->rows_apart / 4 + f->rail / 2, whole = b->rows_apart + f->rail / 2;
    bool outer = outside < inside;
    show_say(t->out,
             "no: the band has %s %s the guide, and a row there needs %s even when leaned; "
             "a band of %s with the guide in its middle would hold whole rows",
             LEN(outer ? outside : inside), outer ? "outside" : "inside", UP(leaned), UP(2 * whole));
}

static void too_sharp(const telling *t) {
    const bw_band_plan *b = t->made;
    double worst = 0, radius = 0, deep = 0;
    for (size_t r = 0; r < b->run_count; r++) {
        for (size_t i = 0; i < b->line_count; i++) {
            double delta = b->lines[i].from_edge - b->guide_from_edge;
            double kappa = delta > 0 ? b->runs[r].kappa_convex : b->runs[r].kappa_concave;
            if (kappa * delta <= worst)
                continue;
            worst = kappa * delta;
            radius = 1 / fabs(kappa);
            deep = fabs(delta);
        }
    }
    show_say(t->out,
             "no: the bend is too sharp: rows key %s from the guide, but there the guide bends at a radius of %s",
             LEN(deep), LEN(radius));
    say_where(t, BW_MARGIN_BEND);
    show_say(t->out, "; it takes a bend of more than %s, or fewer rows", UP(deep));
}

static void shorter_stamp(const telling *t) {
    bw_would would = would_do(t);
    const char *joint = say_count(t, would.length > 0 || would.takes_bend > 0) ? "" : ";";
    if (would.length > 0)
        show_say(t->out, "%s a stamp of these proportions %s long would do", joint, DOWN(would.length));
    else if (would.takes_bend > 0)
        show_say(t->out, "%s one of these proportions takes the bend from %s down, in a band of fewer rows", joint,
                 DOWN(would.takes_bend));
}

/* Bend: the margin is 1 - (what happens)/(what is allowed), whichever of two is worse. */
static void legs_long(const telling *t) {
    const bw_band_plan *b = t->made;
    const bw_face *f = &b->face;
    double over = 1 - b->fit.bend;
    const bw_weave_line *line = show_line_find(b, b->fit.bend_line);
    double rise = 0, half = f->length / 2;
    for (size_t r = 0; line && r < b->run_count; r++) {
        double delta = line->from_edge - b->guide_from_edge;
        const double bends[] = {b->runs[r].kappa_convex, b->runs[r].kappa_concave};
        for (size_t i = 0; i < 2; i++) {
            if (bends[i] == 0)
                continue;
            double radius = fabs(1 / bends[i] - delta);
            rise = fmax(rise, sqrt(radius * radius + half * half) - radius);
        }
    }
    bool tips = rise >= over * f->rail / 2 * 0.999;
    show_say(t->out, "no: legs long for this bend: %s by %s %s, %s is the most",
             tips ? "the tips stand off the line" : "rails cross",
             show_over(t->project, over * f->rail / (tips ? 2 : 4), f->rail / (tips ? 2 : 4)).text,
             show_line_place(b->fit.bend_line), DIFF(f->rail / (tips ? 2 : 4)));
    say_where(t, BW_MARGIN_BEND);
    shorter_stamp(t);
}

static void feet_collide(const telling *t) {
    const bw_band_plan *b = t->made;
    double over = 1 - b->fit.bend, turn = b->line_count ? b->lines[0].turn_most : 0;
    double step = b->line_count ? b->lines[0].step_least : b->usual;
    double feet = b->face.length - step + turn * b->face.width / 2;
    bool are_feet = feet >= over * BW_FEET_MOST * b->face.length * 0.999;
    double allowed = (are_feet ? BW_FEET_MOST : BW_HEADS_MOST) * b->face.length;
    show_say(t->out, "no: on the bend %s by %s, %s is the most",
             are_feet ? "the stamp's feet lie on each other" : "the stamp's heads gape",
             show_over(t->project, over * allowed, allowed).text, DIFF(allowed));
    say_where(t, BW_MARGIN_BEND);
    double width = would_do(t).width;
    bool count = say_count(t, width > 0);
    if (width > 0)
        show_say(t->out, "%s a stamp %s wide would do", count ? "" : ";", DOWN(width));
}

static void say_feasible(const telling *t) {
    const bw_band_plan *b = t->made;
    size_t at = b->fit.run >= 0 && (size_t)b->fit.run < b->run_count ? (size_t)b->fit.run : 0;
    if (b->run_count == 0)
        return;
    const bw_run_plan *run = &b->runs[at];
    if (run->feasible_most == 0)
        return;
    bool within = run->count >= run->feasible_least && run->count <= run->feasible_most;
    if (within)
        show_say(t->out, "; spread evenly it would do");
    else if (run->feasible_least == run->feasible_most)
        show_say(t->out, "; %d %s would do", run->feasible_least, show_impressions_word(b->fill));
    else
        show_say(t->out, "; %d to %d %s would do", run->feasible_least, run->feasible_most,
                 show_impressions_word(b->fill));
}

/* What is wrong between neighbours, in mm: legs that miss or ride, or steps out of the stamp's range. */
static void say_misfit(const telling *t, bool opens) {
    const bw_band_plan *b = t->made;
    int number = opens ? b->fit.reach_line : b->fit.crowd_line;
    const bw_weave_line *line = show_line_find(b, number);
    if (b->fill == BW_FILL_BASKET) {
        show_say_passed(t->out, t->project, b, opens, opens ? b->fit.reach_mm : b->fit.crowd_mm, number);
    } else if (line) {
        show_say(t->out, "a step of %s is %s than this %s takes (%s)", LEN(opens ? line->step_most : line->step_least),
                 opens ? "longer" : "shorter", b->fill == BW_FILL_STITCH ? "iron" : "stamp",
                 LEN(opens ? b->most : b->least));
    }
    if (!line || line->step_most - line->step_least < 0.01)
        return;
    const bw_extreme *where = opens ? &line->widest : &line->tightest;
    show_words place;
    double along = where->edge_along;
    show_say(t->out, ", worst %s along the edge", show_edge_length(t->project, along).text);
    if (where->impression > 0)
        show_say(t->out, ", near %s %d", b->fill == BW_FILL_STITCH ? "hole" : "impression",
                 show_extreme_number(b, where));
    if (say_where(t, opens ? BW_MARGIN_REACH : BW_MARGIN_CROWD))
        return;
    show_edge_place(&place, t->project, t->plan, along);
    if (place.text[0])
        show_say(t->out, ", %s", place.text);
}

static void legs_short(const telling *t) {
    const bw_band_plan *b = t->made;
    const bw_fit *fit = &b->fit;
    show_say(t->out, "no: ");
    say_misfit(t, fit->reach <= fit->crowd);
    show_say(t->out, ", and no other step mends it; ");
    if (fit->needed_leg > b->face.leg || !(show_limit_measured(b, true) || show_limit_measured(b, false)))
        show_say(t->out, "legs of %s would do (these have %s)", UP(fit->needed_leg), LEN(b->face.leg));
    else
        show_say(t->out,
                 "the widest step (%s, %s) and the closest (%s, %s) lie too near together for this band: measure "
                 "both again, or make the band narrower",
                 DIFF(b->most), show_limit_source(b, true), DIFF(b->least), show_limit_source(b, false));
}

static void too_wide(const telling *t) {
    const bw_band_plan *b = t->made;
    double outer = 0, inner = INFINITY;
    for (size_t i = 0; i < b->line_count; i++) {
        outer = fmax(outer, b->lines[i].step_most);
        inner = fmin(inner, b->lines[i].step_least);
    }
    show_say(t->out, "no: the band is too wide for this bend: steps go from %s inside to %s outside, %s takes %s to %s",
             LEN(inner), LEN(outer),
             show_limit_measured(b, true) || show_limit_measured(b, false) ? "this stamp, as measured,"
                                                                           : "a stamp of this length",
             LEN(b->least), LEN(b->most));
    say_where(t, b->fit.reach <= b->fit.crowd ? BW_MARGIN_REACH : BW_MARGIN_CROWD);
    int fit = would_do(t).rows;
    if (fit > 0)
        show_say(t->out, "; %d row%s each side of the guide would do", fit, fit == 1 ? "" : "s");
}

static void no_whole_count(const telling *t) {
    const bw_band_plan *b = t->made;
    size_t at = b->fit.run >= 0 && (size_t)b->fit.run < b->run_count ? (size_t)b->fit.run : 0;
    if (b->run_count == 0)
        return;
    const bw_run_plan *run = &b->runs[at];
    const char *what = show_impressions_word(b->fill);
    bool basket = b->fill == BW_FILL_BASKET;
    int multiple = basket && t->band->lay == BW_LAY_STRAIGHT && run->closed ? 2
                   : b->fill == BW_FILL_BORDER                              ? t->band->group
                                                                            : 1;
    if (run->given && multiple > 1 && run->count % multiple != 0) {
        int below = run->count / multiple * multiple;
        show_say(t->out, "no: %d %s do not come out even: it takes a multiple of %d", run->count, what, multiple);
        if (below > 0)
            show_say(t->out, ", %d or %d", below, below + multiple);
        return;
    }
    if (run->given && run->count < 2) {
        show_say(t->out, "no: one alone makes no row between two ends; it takes 2 %s at least", what);
        return;
    }
    show_say(t->out, "no: no whole count fits");
    if (b->run_count > 1) {
        show_say(t->out, " on the run from ");
        if (!show_say_run_start(t->out, t->project, t->plan, t->index, at))
            show_say(t->out, "%s along the guide", LEN(run->from));
    }
    show_say(t->out, ": some step would, but %s%d %s%s leave %s %s", run->given ? "the " : "", run->count, what,
             run->given     ? " asked for"
             : multiple > 1 ? " (the nearest count that closes the pattern)"
                            : " (the nearest)",
             DIFF(run->closure_gap), run->closure_gap > 0 ? "over" : "lacking");
    if (run->has_even_at)
        show_say(t->out, "; the round closes with the guide %s farther %s", DIFF(run->guide_shift),
                 run->guide_shift > 0 ? "in" : "out");
}

/* Steps that show are told before all figures: "but steps are up to 39 % longer than usual". */
static void say_changed_steps(const telling *t) {
    const bw_band_plan *b = t->made;
    double most = 0;
    for (size_t r = 0; r < b->run_count; r++)
        for (size_t i = 0; i < b->runs[r].setting_count; i++) {
            double change = (b->runs[r].settings[i].step - b->usual) / b->usual;
            most = fabs(change) > fabs(most) ? change : most;
        }
    if (fabs(most) > BW_VISIBLE_CHANGE + BW_EPS)
        show_say(t->out, ", but with steps %s %s than usual", show_percent(fabs(most)).text,
                 most > 0 ? "longer" : "shorter");
}

static void works(const telling *t, bool tight) {
    const bw_band_plan *b = t->made;
    show_say(t->out, tight ? "just: it works with little to spare" : "yes: it works");
    say_changed_steps(t);
    show_say(t->out, ": ");
    if (b->fill != BW_FILL_BASKET) {
        const bw_weave_line *line = b->line_count ? &b->lines[0] : NULL;
        bool same = line && line->step_most - line->step_least < 0.005;
        if (!line)
            return;
        show_say(t->out, "steps of %s", LEN(line->step_least));
        if (!same)
            show_say(t->out, " to %s", LEN(line->step_most));
        show_say(t->out, ", and this %s takes %s to %s", b->fill == BW_FILL_STITCH ? "iron" : "stamp", LEN(b->least),
                 LEN(b->most));
        if (tight && b->fit.bend < fmin(b->fit.reach, b->fit.crowd))
            show_say(t->out, "; the bend is near its limit");
        return;
    }
    if (tight && b->fit.bend < fmin(b->fit.reach, b->fit.crowd)) {
        show_say(t->out, "the bend comes near to what its rails can hide, %s to spare", show_percent(b->fit.bend).text);
        return;
    }
    bool reach = b->fit.reach <= b->fit.crowd || !b->turns;
    show_say_kept(t->out, t->project, b,
                  &(show_kept){.reach = b->fit.reach_mm,
                               .crowd = b->fit.crowd_mm,
                               .reach_line = b->fit.reach_line,
                               .crowd_line = b->fit.crowd_line,
                               .few_reach = tight && reach,
                               .few_crowd = tight && !reach,
                               .no_place = !show_steps_vary(b),
                               .no_crowd = !b->turns});
}

#undef LEN
#undef UP
#undef DOWN
#undef DIFF

const char *show_verdict_sentence(show_words *out, const shop_project *project, const bw_plan *plan, size_t band) {
    show_start(out);
    if (band >= plan->band_count || band >= project->layout.band_count) {
        show_say(out, "there is no band yet");
        return out->text;
    }
    const telling t = {out, project, plan, band, &project->bands[band], &plan->bands[band]};
    if (t.made->fill == BW_FILL_PLAIN && t.made->fit.verdict != BW_NO_ROOM) {
        show_say(out, "plain leather: nothing is struck here");
        return out->text;
    }
    switch (t.made->fit.verdict) {
    case BW_NO_ROOM:
        no_room(&t);
        break;
    case BW_BAND_TOO_NARROW:
        too_narrow(&t);
        break;
    case BW_EDGE_TOO_SHARP:
        too_sharp(&t);
        break;
    case BW_LEGS_LONG:
        legs_long(&t);
        break;
    case BW_FEET_COLLIDE:
        feet_collide(&t);
        break;
    case BW_LEGS_SHORT:
        legs_short(&t);
        break;
    case BW_BAND_TOO_WIDE:
        too_wide(&t);
        break;
    case BW_NO_WHOLE_COUNT:
        no_whole_count(&t);
        break;
    case BW_OPENS_OUTSIDE:
    case BW_CROWDS_INSIDE:
        show_say(out, "no: ");
        say_misfit(&t, t.made->fit.verdict == BW_OPENS_OUTSIDE);
        say_feasible(&t);
        break;
    case BW_TIGHT:
    case BW_GOOD:
        works(&t, t.made->fit.verdict == BW_TIGHT);
        break;
    }
    return out->text;
}
