/* What is said of a band at the bench: its tool, count, rows, notches and check marks, for every page that tells it. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/band_words.h"
#include "show/hand.h"

#define NOTCH_NOTED 0.05 /* mm: less does not show */

at_bench band_at(const shop_project *project, const bw_plan *plan, size_t index) {
    return (at_bench){.project = project,
                      .plan = plan,
                      .index = index,
                      .asked = &project->bands[index],
                      .made = &plan->bands[index],
                      .tool = show_band_tool(project, index)};
}

show_figure_text band_set(const at_bench *a, double mm) {
    double grid = show_step_grid(a->project);
    return show_length(a->project, floor(mm / grid + 0.5) * grid);
}

const char *band_unit(const at_bench *a, int count) {
    if (a->made->fill == BW_FILL_STITCH)
        return count == 1 ? "hole" : "holes";
    return count == 1 ? "impression" : "impressions";
}

void band_say_lay(const at_bench *a, show_words *words) {
    if (a->made->fill != BW_FILL_BASKET)
        return;
    bool angled = a->asked->lay == BW_LAY_ANGLED;
    show_say(words, ", %s lay", angled ? "angled" : "straight");
    if (angled)
        show_say(words, " (the stamp turned %.1f degrees from the guide line, leading end %s)",
                 a->made->turn * 180 / BW_PI, a->asked->slant == BW_SLANT_INWARD ? "inward" : "outward");
    else if (!a->told_lay)
        show_say(words, " (along the guide line)");
}

void band_say_strikes(const at_bench *a, show_words *words) {
    if (a->made->fill == BW_FILL_STITCH || a->made->strikes == 0)
        return;
    int blows = a->tool ? a->tool->blows : 1;
    show_say(words, "; %lld x %s", a->made->strikes, show_counted(blows, "blow").text);
    double rate = a->project->rates.strikes_per_minute;
    if (rate > 0)
        show_say(words, ", about %.0f min at your rate of %g impressions a minute",
                 ceil((double)a->made->strikes / rate), rate);
}

void band_say_steps(const at_bench *a, show_words *words) {
    show_start(words);
    if (a->tool != NULL)
        show_say_steps_source(words, a->project, a->tool);
}

void band_say_sizes(const at_bench *a, show_words *words) {
    const bw_face *f = &a->made->face;
    show_start(words);
    if (a->made->fill != BW_FILL_BASKET || !(f->estimated_width || f->estimated_bar || f->estimated_rail))
        return;
    const shop_project *project = a->project;
    show_say(words, "face %s x %s%s, bar %s%s, rail %s%s: measure what is *estimated* before you strike",
             show_length(project, f->length).text, show_length(project, f->width).text,
             f->estimated_width ? " *estimated*" : "", show_length(project, f->bar).text,
             f->estimated_bar ? " *estimated*" : "", show_length(project, f->rail).text,
             f->estimated_rail ? " *estimated*" : "");
}

bool band_runs_alike(const bw_run_plan *a, const bw_run_plan *b) {
    if (a->count != b->count || a->closed != b->closed || a->setting_count != b->setting_count ||
        fabs(a->step - b->step) > BW_EPS_FIT || fabs(a->closure_gap - b->closure_gap) > BW_EPS_FIT)
        return false;
    for (size_t i = 0; i < a->setting_count; i++)
        if (a->settings[i].steps != b->settings[i].steps ||
            fabs(a->settings[i].step - b->settings[i].step) > BW_EPS_FIT)
            return false;
    return true;
}

/* "the lower right corner (at 0 mm)" */
static void say_from(const at_bench *a, size_t r, show_words *out) {
    show_figure_text along = show_length(a->project, a->made->runs[r].from);
    if (show_say_run_start(out, a->project, a->plan, a->index, r))
        show_say(out, " (at %s)", along.text);
    else
        show_say(out, "%s", along.text);
}

/* "2 runs of 89.5 mm along the guide, from the lower right corner (at 0 mm) and ..., each: " for runs that are alike;
 * false if an earlier run told it. */
bool band_say_runs(const at_bench *a, size_t r, show_words *out) {
    const bw_run_plan *runs = a->made->runs;
    int told = 1;
    for (size_t i = 0; i < r; i++)
        if (band_runs_alike(&runs[i], &runs[r]))
            return false;
    for (size_t i = r + 1; i < a->made->run_count; i++)
        told += band_runs_alike(&runs[i], &runs[r]) ? 1 : 0;
    show_start(out);
    if (a->made->run_count < 2)
        return true;
    if (told == 1) {
        show_say(out, "run of %s along the guide, from ", show_length(a->project, runs[r].to - runs[r].from).text);
        say_from(a, r, out);
        show_say(out, ": ");
        return true;
    }
    show_say(out, "%d runs of %s along the guide, from ", told,
             show_length(a->project, runs[r].to - runs[r].from).text);
    for (size_t i = r; i < a->made->run_count; i++)
        if (band_runs_alike(&runs[i], &runs[r])) {
            show_say(out, "%s", i == r ? "" : told == 1 ? " and " : ", ");
            say_from(a, i, out);
            told--;
        }
    show_say(out, ", each: ");
    return true;
}

show_figure_text band_change(const at_bench *a, const bw_run_plan *run) {
    show_figure_text out = show_change(a->project, run->step_change);
    strcat(out.text, run->closure_gap > 0 ? " longer" : " shorter");
    return out;
}

void band_say_count(const at_bench *a, size_t r, show_words *words) {
    const bw_run_plan *run = &a->made->runs[r];
    const shop_project *project = a->project;
    if (run->count == 0) {
        show_say(words, "no room for one");
        return;
    }
    bool closes = fabs(run->closure_gap) < show_nothing(project);
    const bw_setting *last = show_last_setting(run);
    show_say(words, "%d %s%s ", run->count, band_unit(a, run->count), last ? "," : "");
    if (!last)
        show_say(words, "at %s, ", show_length(project, run->step).text);
    show_say(words, "usual %s", show_length(project, run->usual_step).text);
    if (closes)
        return;
    show_say(words, ": %s %s, ", show_difference(project, run->closure_gap).text,
             run->closure_gap > 0 ? "left over" : "lacking");
    if (last)
        show_say(words, "lost in the last %d", last->steps);
    else
        show_say(words, "each %s", band_change(a, run).text);
}

void band_say_lose(const at_bench *a, size_t r, show_words *words) {
    show_words lose;
    show_start(words);
    if (a->made->runs[r].count == 0 || a->made->runs[r].setting_count == 0 || a->made->fill == BW_FILL_STITCH)
        return;
    show_lose_sentence(&lose, a->project, a->plan, a->index, r);
    const char *text = a->made->run_count > 1 ? strstr(lose.text, ": ") : NULL;
    show_say(words, "%s", text ? text + 2 : lose.text);
}

/* "rows -2 (leaned), -1, 1, 2 of 20 impressions each". */
void band_say_rows(const at_bench *a, show_words *words) {
    show_start(words);
    if (a->made->fill != BW_FILL_BASKET || a->made->row_count == 0 || a->made->strikes == 0)
        return;
    bool same = true, leaned = false;
    for (size_t i = 0; i < a->made->row_count; i++) {
        same = same && a->made->rows[i].impressions == a->made->rows[0].impressions;
        leaned = leaned || a->made->rows[i].leaned;
    }
    show_say(words, "%zu rows from the edge inward: ", a->made->row_count);
    for (size_t i = 0; i < a->made->row_count; i++) {
        const bw_row_plan *row = &a->made->rows[i];
        show_say(words, "%s%d", i ? ", " : "", row->row);
        if (!same)
            show_say(words, " (%d)", row->impressions);
        if (row->leaned)
            show_say(words, " leaned");
        if (row->leaned && row->cover < 0.995)
            show_say(words, " (%.0f %% of it prints)", row->cover * 100);
    }
    if (same)
        show_say(words, "; %d in each", a->made->rows[0].impressions);
    if (leaned)
        show_say(words, " (lean: tip the stamp off the border line)");
}

/* A border band whose faces come up to this border line closes what stays open of it. */
static const char *covered_by(const at_bench *a, double line) {
    for (size_t i = 0; i < a->plan->band_count; i++) {
        const bw_band_plan *other = &a->plan->bands[i];
        if (other->fill != BW_FILL_BORDER || other->strikes == 0)
            continue;
        double half = other->face.width / 2;
        if (fabs(other->guide_from_edge + half - line) < BW_BARE_NOTED ||
            fabs(other->guide_from_edge - half - line) < BW_BARE_NOTED)
            return show_band_name(a->project, i);
    }
    return NULL;
}

static bool leaned_last(const at_bench *a, bool outer) {
    const bw_row_plan *row = outer ? &a->made->rows[0] : &a->made->rows[a->made->row_count - 1];
    return row->leaned;
}

void band_say_notches(const at_bench *a, show_words *words) {
    show_start(words);
    if (!a->made->has_notch || a->made->strikes == 0)
        return;
    const char *between = "notches (border line open between two impressions of the last row): ";
    for (int side = 0; side < 2; side++) {
        bool outer = side == 0;
        double notch = outer ? a->made->notch_outer : a->made->notch_inner;
        const char *by = covered_by(a, outer ? a->made->outer : a->made->inner);
        if (notch < NOTCH_NOTED)
            continue;
        show_say(words, "%s%s %s, ", between, outer ? "outer" : "inner", band_set(a, notch).text);
        if (by)
            show_say(words, "covered by %s", by);
        else
            show_say(words, "%s",
                     leaned_last(a, outer) ? "closed by leaned strikes between"
                                           : "needs leaned strikes or a border stamp");
        between = "; ";
    }
}

/* A T-tooth iron re-enters its last hole: every placing makes T - 1 new ones. */
void band_say_iron(const at_bench *a, size_t r, show_words *words) {
    int teeth = a->tool ? a->tool->teeth : 1;
    show_start(words);
    if (a->made->fill != BW_FILL_STITCH || teeth < 2 || !band_say_runs(a, r, words))
        return;
    const bw_run_plan *run = &a->made->runs[r];
    int steps = show_run_steps(run), whole = steps / (teeth - 1), rest = steps % (teeth - 1);
    show_say(words, "%s of the %d-tooth iron, first tooth in the last hole", show_counted(whole, "placing").text,
             teeth);
    if (rest > 0)
        show_say(words, ", and %s more", show_counted(rest, "hole").text);
    double each = run->step_change * (teeth - 1);
    if (fabs(each) >= 0.005)
        show_say(words, "; each placing %s %s", show_change(a->project, each).text, each > 0 ? "longer" : "shorter");
}

/* Runs that meet in a corner have one hole there together. */
void band_say_shared(const at_bench *a, show_words *words) {
    long long shared = show_impressions(a->plan, a->index) - a->made->strikes;
    show_start(words);
    if (a->made->fill == BW_FILL_STITCH && shared > 0)
        show_say(words, "%lld holes in all: %lld at corners end one run and begin the next", a->made->strikes, shared);
}
