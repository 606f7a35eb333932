/* What each band needs at the bench: count, step, how the difference is lost, rows, notches, check marks, strikes. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/page.h"

#define IN "  "
#define NOTCH_NOTED 0.05 /* mm: less does not show */
#define MARKS 4          /* check marks at quarters: three between start and start */

typedef struct at_bench {
    page *p;
    size_t index;
    const bw_band *asked;
    const bw_band_plan *made;
    const bw_tool *tool;
    bool told_check, told_lay; /* words of our own are explained once */
} at_bench;

static const char *unit_of(const at_bench *a, int count) {
    if (a->made->fill == BW_FILL_STITCH)
        return count == 1 ? "hole" : "holes";
    return count == 1 ? "impression" : "impressions";
}

static void say_lay(const at_bench *a, show_words *words) {
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

static void say_strikes(const at_bench *a, show_words *words) {
    if (a->made->fill == BW_FILL_STITCH || a->made->strikes == 0)
        return;
    int blows = a->tool ? a->tool->blows : 1;
    show_say(words, "; %lld x %d blow%s", a->made->strikes, blows, blows == 1 ? "" : "s");
    double rate = a->p->project->rates.strikes_per_minute;
    if (rate > 0)
        show_say(words, ", about %.0f min at your rate", ceil((double)a->made->strikes / rate));
}

static void title(const at_bench *a) {
    show_words words;
    show_start(&words);
    show_say(&words, "%s: ", show_band_name(a->p->project, a->index));
    if (a->made->fill == BW_FILL_PLAIN) {
        show_say(&words, "plain leather%s", a->made->fit.verdict == BW_NO_ROOM ? ", but there is no room for it" : "");
    } else {
        show_say(&words, "%s", a->tool && a->tool->id ? a->tool->id : "no tool");
        say_lay(a, &words);
        bool works = a->made->fit.verdict >= BW_TIGHT;
        show_say(&words, "; fit %s%s%s", works ? "" : "\"", bw_verdict_word(a->made->fit.verdict),
                 works ? "" : "\", see the warnings");
        say_strikes(a, &words);
    }
    page_put(a->p, "", words.text);
}

static void sizes(const at_bench *a) {
    const bw_face *f = &a->made->face;
    if (a->made->fill != BW_FILL_BASKET || !(f->estimated_width || f->estimated_bar || f->estimated_rail))
        return;
    const shop_project *project = a->p->project;
    page_putf(a->p, IN, "face %s x %s%s, bar %s%s, rail %s%s: measure what is *estimated* before you strike",
              show_length(project, f->length).text, show_length(project, f->width).text,
              f->estimated_width ? " *estimated*" : "", show_length(project, f->bar).text,
              f->estimated_bar ? " *estimated*" : "", show_length(project, f->rail).text,
              f->estimated_rail ? " *estimated*" : "");
}

/* To what a hand can set. */
static double on_grid(const at_bench *a, double mm) {
    double grid = show_step_grid(a->p->project);
    return floor(mm / grid + 0.5) * grid;
}

/* "10, 20, 30": with its unit only behind the last. */
static void say_length(const at_bench *a, show_words *out, double mm, bool first, bool last) {
    show_figure_text text = show_length(a->p->project, mm);
    char *unit = strrchr(text.text, ' ');
    if (!last && unit)
        *unit = '\0';
    show_say(out, "%s%s", first ? "" : ", ", text.text);
}

static bool alike(const bw_run_plan *a, const bw_run_plan *b) {
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
    show_figure_text along = show_length(a->p->project, a->made->runs[r].from);
    if (show_say_run_start(out, a->p->project, a->p->plan, a->index, r))
        show_say(out, " (at %s)", along.text);
    else
        show_say(out, "%s", along.text);
}

/* "2 runs of 89.5 mm along the guide, from the lower right corner (at 0 mm) and ..., each: " for runs that are alike;
 * false if an earlier run told it. */
static bool say_runs(const at_bench *a, size_t r, show_words *out) {
    const bw_run_plan *runs = a->made->runs;
    int told = 1;
    for (size_t i = 0; i < r; i++)
        if (alike(&runs[i], &runs[r]))
            return false;
    for (size_t i = r + 1; i < a->made->run_count; i++)
        told += alike(&runs[i], &runs[r]) ? 1 : 0;
    show_start(out);
    if (a->made->run_count < 2)
        return true;
    if (told == 1) {
        show_say(out, "run of %s along the guide, from ", show_length(a->p->project, runs[r].to - runs[r].from).text);
        say_from(a, r, out);
        show_say(out, ": ");
        return true;
    }
    show_say(out, "%d runs of %s along the guide, from ", told,
             show_length(a->p->project, runs[r].to - runs[r].from).text);
    for (size_t i = r; i < a->made->run_count; i++)
        if (alike(&runs[i], &runs[r])) {
            show_say(out, "%s", i == r ? "" : told == 1 ? " and " : ", ");
            say_from(a, i, out);
            told--;
        }
    show_say(out, ", each: ");
    return true;
}

static void count_and_steps(const at_bench *a, size_t r) {
    const bw_run_plan *run = &a->made->runs[r];
    const page *p = a->p;
    show_words words, lose;
    if (!say_runs(a, r, &words))
        return;
    if (run->count == 0) {
        show_say(&words, "no room for one");
        page_put(a->p, IN, words.text);
        return;
    }
    bool closes = fabs(run->closure_gap) < SHOW_NOTHING;
    show_say(&words, "%d %s%s ", run->count, unit_of(a, run->count), show_last_setting(run) ? "," : "");
    if (!show_last_setting(run))
        show_say(&words, "at %s, ", show_length(p->project, run->step).text);
    show_say(&words, "usual %s", show_length(p->project, run->usual_step).text);
    if (!closes)
        show_say(&words, ": %s %s, ", show_difference(p->project, run->closure_gap).text,
                 run->closure_gap > 0 ? "left over" : "lacking");
    const bw_setting *last = show_last_setting(run);
    if (!closes && last)
        show_say(&words, "lost in the last %d", last->steps);
    else if (!closes && fabs(run->step_change) < SHOW_NOTHING)
        show_say(&words, "each under %s %s", p->project->units == SHOP_INCH ? "0.001 in" : "0.01 mm",
                 run->closure_gap > 0 ? "longer" : "shorter");
    else if (!closes)
        show_say(&words, "each %s %s", show_difference(p->project, run->step_change).text,
                 run->closure_gap > 0 ? "longer" : "shorter");
    page_put(a->p, IN, words.text);
    if (run->setting_count == 0 || a->made->fill == BW_FILL_STITCH)
        return;
    show_lose_sentence(&lose, p->project, p->plan, a->index, r);
    const char *text = a->made->run_count > 1 ? strstr(lose.text, ": ") : NULL;
    page_putf(a->p, IN, "strike %s", text ? text + 2 : lose.text);
}

/* "rows -2 (leaned), -1, 1, 2 of 20 impressions each". */
static void rows(const at_bench *a) {
    if (a->made->fill != BW_FILL_BASKET || a->made->row_count == 0 || a->made->strikes == 0)
        return;
    show_words words;
    show_start(&words);
    bool same = true, leaned = false;
    for (size_t i = 0; i < a->made->row_count; i++) {
        same = same && a->made->rows[i].impressions == a->made->rows[0].impressions;
        leaned = leaned || a->made->rows[i].leaned;
    }
    show_say(&words, "%zu rows from the edge inward: ", a->made->row_count);
    for (size_t i = 0; i < a->made->row_count; i++) {
        const bw_row_plan *row = &a->made->rows[i];
        show_say(&words, "%s%d", i ? ", " : "", row->row);
        if (!same)
            show_say(&words, " (%d)", row->impressions);
        if (row->leaned)
            show_say(&words, " leaned");
        if (row->leaned && row->cover < 0.995)
            show_say(&words, " (%.0f %% of it prints)", row->cover * 100);
    }
    if (same)
        show_say(&words, "; %d in each", a->made->rows[0].impressions);
    if (leaned)
        show_say(&words, " (lean: tip the stamp off the border line)");
    page_put(a->p, IN, words.text);
}

/* A border band whose faces come up to this border line closes what stays open of it. */
static const char *covered_by(const at_bench *a, double line) {
    for (size_t i = 0; i < a->p->plan->band_count; i++) {
        const bw_band_plan *other = &a->p->plan->bands[i];
        if (other->fill != BW_FILL_BORDER || other->strikes == 0)
            continue;
        double half = other->face.width / 2;
        if (fabs(other->guide_from_edge + half - line) < BW_BARE_NOTED ||
            fabs(other->guide_from_edge - half - line) < BW_BARE_NOTED)
            return show_band_name(a->p->project, i);
    }
    return NULL;
}

static bool leaned_last(const at_bench *a, bool outer) {
    const bw_row_plan *row = outer ? &a->made->rows[0] : &a->made->rows[a->made->row_count - 1];
    return row->leaned;
}

static void notches(const at_bench *a) {
    if (!a->made->has_notch || a->made->strikes == 0)
        return;
    show_words words;
    const char *between = "notches (border line open between two impressions of the last row): ";
    show_start(&words);
    for (int side = 0; side < 2; side++) {
        bool outer = side == 0;
        double notch = outer ? a->made->notch_outer : a->made->notch_inner;
        const char *by = covered_by(a, outer ? a->made->outer : a->made->inner);
        if (notch < NOTCH_NOTED)
            continue;
        show_say(&words, "%s%s %s, ", between, outer ? "outer" : "inner", page_length(a->p, notch).text);
        if (by)
            show_say(&words, "covered by %s", by);
        else
            show_say(&words, "%s",
                     leaned_last(a, outer) ? "closed by leaned strikes between"
                                           : "needs leaned strikes or a border stamp");
        between = "; ";
    }
    if (words.text[0])
        page_put(a->p, IN, words.text);
}

/* Tightest and widest step of the legs, with the place where it varies along the line. */
static void extremes(const at_bench *a) {
    const bw_weave_line *tight = show_extreme_line(a->made, false), *wide = show_extreme_line(a->made, true);
    if (a->made->fill != BW_FILL_BASKET || !a->made->turns || !tight || !wide)
        return;
    show_words words;
    show_start(&words);
    for (int side = 0; side < 2; side++) {
        const bw_weave_line *line = side == 0 ? tight : wide;
        const bw_extreme *at = side == 0 ? &tight->tightest : &wide->widest;
        double step = side == 0 ? line->step_least : line->step_most;
        double e = a->made->face.leg, overlap = (side == 0 ? line->overlap_most : line->overlap_least) * e;
        show_say(&words, "%s %s (step %s, legs ", side == 0 ? "tightest" : "; widest", show_line_place(line->line),
                 page_length(a->p, step).text);
        if (overlap < -BW_EPS)
            show_say(&words, "miss by %s", show_difference(a->p->project, overlap).text);
        else if (overlap > e + BW_EPS)
            show_say(&words, "ride on the bars by %s", show_difference(a->p->project, overlap - e).text);
        else
            show_say(&words, "overlap %s", page_length(a->p, overlap).text);
        show_say(&words, ")");
        if (line->step_most - line->step_least >= 0.01) {
            show_say(&words, ", ");
            show_say_extreme(&words, a->p->project, a->p->plan, a->index, at);
        }
    }
    page_put(a->p, IN, words.text);
}

static bool place_after(const at_bench *a, const bw_placing *list, size_t count, int run, int steps, double *along) {
    int row, number;
    show_impression_row(a->made, a->asked->lay == BW_LAY_STRAIGHT, steps + 1, &row, &number);
    for (size_t i = 0; i < count; i++) {
        if (list[i].run != run || list[i].row != row || list[i].number != number)
            continue;
        *along = list[i].along;
        return true;
    }
    return false;
}

/* Straight across between two places of the guide: by the table of chords where the steps are even on a circle. */
static double chord(const at_bench *a, const bw_curve *guide, const bw_run_plan *run, int from, int to, double x0,
                    double x1) {
    bool even = run->setting_count == 1 && run->settings[0].where == BW_WHERE_STEPS;
    if (a->p->project->layout.outline.shape == BW_CIRCLE && even)
        return bw_chord(2 * a->made->guide_least_radius, to - from, run->count);
    double around = bw_curve_length(guide);
    bw_point start = bw_curve_at(guide, fmod(x0, around)).at, end = bw_curve_at(guide, fmod(x1, around)).at;
    return hypot(end.x - start.x, end.y - start.y);
}

static void say_marks(const at_bench *a, const bw_curve *guide, const bw_placing *list, size_t count) {
    const bw_run_plan *run = &a->made->runs[0];
    show_words after, along;
    double start = 0, before, x = 0, across[MARKS];
    if (!place_after(a, list, count, 1, 0, &start))
        return;
    before = start;
    show_start(&after);
    show_start(&along);
    for (int i = 1; i <= MARKS; i++, before = x) {
        int from = bw_mark_at(run->count, MARKS, i - 1), to = bw_mark_at(run->count, MARKS, i);
        x = start + (run->to - run->from);
        if (i < MARKS && !place_after(a, list, count, 1, to, &x))
            return;
        x += x < start ? run->to - run->from : 0; /* an anchored round begins behind the start mark */
        across[i - 1] = chord(a, guide, run, from, to, before, x);
        if (i == MARKS)
            break;
        show_say(&after, "%s%d", i > 1 ? ", " : "", to);
        say_length(a, &along, on_grid(a, x - start), i == 1, i == MARKS - 1);
    }
    show_say(&along, " along the guide%s; straight across ",
             run->lose == BW_LOSE_ANCHORED ? " from the first anchor" : "");
    bool same = true;
    for (int i = 0; i < MARKS; i++)
        same = same && fabs(across[i] - across[0]) < show_step_grid(a->p->project) / 2;
    for (int i = 0; i < (same ? 1 : MARKS); i++)
        say_length(a, &along, on_grid(a, across[i]), i == 0, same || i == MARKS - 1);
    page_putf(a->p, IN, "check marks%s after %s %s: %s%s",
              a->told_check ? "" : " (light marks made before stamping, where the next one must begin)", after.text,
              unit_of(a, 2), along.text, same ? " each" : "");
}

static bool check_marks(const at_bench *a) {
    if (a->made->run_count != 1 || !a->made->runs[0].closed || a->made->runs[0].count < MARKS)
        return false;
    bw_placing *list;
    size_t count;
    bw_curve *guide;
    const page *p = a->p;
    if (bw_placings_create(p->plan, a->index, NULL, &list, &count) != BW_OK)
        return false;
    bool made = bw_guide_create(p->plan, a->index, NULL, &guide) == BW_OK;
    if (made) {
        say_marks(a, guide, list, count);
        bw_curve_destroy(guide);
    }
    bw_placings_release(list, NULL);
    return made;
}

/* A T-tooth iron re-enters its last hole: every placing makes T - 1 new ones. */
static void iron(const at_bench *a) {
    int teeth = a->tool ? a->tool->teeth : 1;
    if (a->made->fill != BW_FILL_STITCH || teeth < 2)
        return;
    for (size_t r = 0; r < a->made->run_count; r++) {
        const bw_run_plan *run = &a->made->runs[r];
        int steps = show_run_steps(run), whole = steps / (teeth - 1), rest = steps % (teeth - 1);
        show_words words;
        if (!say_runs(a, r, &words))
            continue;
        show_say(&words, "%d placing%s of the %d-tooth iron, first tooth in the last hole", whole,
                 whole == 1 ? "" : "s", teeth);
        if (rest > 0)
            show_say(&words, ", and %d hole%s more", rest, rest == 1 ? "" : "s");
        double each = run->step_change * (teeth - 1);
        if (fabs(each) >= 0.005)
            show_say(&words, "; each placing %s %s", show_difference(a->p->project, each).text,
                     each > 0 ? "longer" : "shorter");
        page_put(a->p, IN, words.text);
    }
}

/* Runs that meet in a corner have one hole there together. */
static void shared_holes(const at_bench *a) {
    long long shared = show_impressions(a->p->plan, a->index) - a->made->strikes;
    if (a->made->fill == BW_FILL_STITCH && shared > 0)
        page_putf(a->p, IN, "%lld holes in all: %lld at corners end one run and begin the next", a->made->strikes,
                  shared);
}

void page_bands(page *p) {
    at_bench a = {.p = p};
    for (size_t i = 0; i < p->plan->band_count; i++) {
        a.index = i;
        a.asked = &p->project->bands[i];
        a.made = &p->plan->bands[i];
        a.tool = show_band_tool(p->project, i);
        if (a.made->fill != BW_FILL_PLAIN || i == 0)
            page_put(p, "", "");
        title(&a);
        if (a.made->fill == BW_FILL_PLAIN)
            continue;
        sizes(&a);
        for (size_t r = 0; r < a.made->run_count; r++)
            count_and_steps(&a, r);
        shared_holes(&a);
        rows(&a);
        extremes(&a);
        notches(&a);
        a.told_check = check_marks(&a) || a.told_check;
        p->check_marks = a.told_check;
        iron(&a);
        a.told_lay = a.told_lay || (a.made->fill == BW_FILL_BASKET && a.asked->lay == BW_LAY_STRAIGHT);
    }
}
