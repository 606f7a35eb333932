/* The order of work, from the blank to the finish: only the steps that this piece needs. */
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>

#include "bandwright/blank.h"
#include "show/work_words.h"

/* The usual cautions of the trade, short; whatever rule applies at the place of work stands above them. */
const char *const work_cautions[] = {
    "Sharp blades: cut away from the hand, with the work clamped or weighted.",
    "Eye protection when striking steel; no metal hammer on stamps: struck heads mushroom and shed chips (OSHA 3080). "
    "Long stamping: hearing protection (NIOSH limit: 85 dBA over 8 h, half the time for every 3 dB more); rest the "
    "wrists.",
    "Dyes, cleaners, finishes: fresh air, gloves, no flame; oily rags flat to dry.", NULL};

typedef struct work {
    const shop_project *project;
    const bw_plan *plan;
    bool marks;
    work_step *list;
    size_t count;
} work;

/* A step whose brief words are the beginning of the full ones. Returns it, for what is still to be said. */
static work_step *add(work *w, const char *more) {
    work_step *step = &w->list[w->count++];
    step->anew = false;
    show_start(&step->brief);
    show_start(&step->more);
    show_say(&step->more, "%s", more);
    return step;
}

static bool any_fill(const work *w, bw_fill fill) {
    for (size_t i = 0; i < w->plan->band_count; i++)
        if (w->plan->bands[i].fill == fill && w->plan->bands[i].strikes > 0)
            return true;
    return false;
}

bool work_has_line(const bw_plan *plan, bw_do what, bool beveled) {
    for (size_t i = 0; i < plan->line_count; i++)
        if (plan->lines[i].what == what && (!beveled || plan->lines[i].bevel != BW_BEVEL_NONE))
            return true;
    return false;
}

static void blank(work *w) {
    const bw_layout *l = &w->project->layout;
    if (!bw_curve_closed(w->plan->edge)) {
        show_say(&add(w, ": the dividers ride on it.")->brief, "Make the edge %s and clean",
                 l->outline.shape == BW_LINE ? "straight" : "true");
        return;
    }
    bw_blank size = bw_blank_of(l, w->plan);
    show_figure_text across = show_length(w->project, size.length), down = show_length(w->project, size.width);
    if (l->trim > 0)
        show_say(&add(w, ", then the piece itself: the dividers ride on its finished edge.")->brief,
                 "Cut a blank of %s by %s (%s to trim all round)", across.text, down.text,
                 show_length(w->project, l->trim).text);
    else
        show_say(&add(w, "; the dividers ride on its finished edge.")->brief, "Cut the piece from a blank of %s by %s",
                 across.text, down.text);
}

/* Band names with this fill: "rim, weave". */
static void names_of(const work *w, bw_fill fill, show_words *out) {
    int told = 0;
    show_start(out);
    for (size_t i = 0; i < w->plan->band_count; i++)
        if (w->plan->bands[i].fill == fill && w->plan->bands[i].strikes > 0)
            show_say(out, "%s%s", told++ ? ", " : "", show_band_name(w->project, i));
}

static bool any_leaned(const work *w) {
    for (size_t i = 0; i < w->plan->band_count; i++)
        for (size_t r = 0; r < w->plan->bands[i].row_count; r++)
            if (w->plan->bands[i].rows[r].leaned)
                return true;
    return false;
}

static void basket(work *w) {
    show_words names;
    work_step *step = add(w, "");
    bool leaned = any_leaned(w);
    names_of(w, BW_FILL_BASKET, &names);
    show_say(&step->brief, "Basket stamp (%s): the guide's round from its start, then the outer and inner rows%s",
             names.text, leaned ? ", the leaned ones last" : "");
    step->anew = true;
    show_say(&step->more,
             "Basket stamp (%s): strike the guide's round first, from its start; compare at %s, and put right early, a "
             "quarter of the round ahead, never in the last three. Then the outer and inner rows, keyed to it%s.",
             names.text, w->marks ? "each check mark" : "a quarter, half and three quarters",
             leaned ? ", and last the leaned ones, tipped so that no tip prints on the border line" : "");
}

static void stamping(work *w) {
    show_words names;
    if (any_fill(w, BW_FILL_BASKET))
        basket(w);
    if (work_has_line(w->plan, BW_DO_CUT, true))
        show_say(&add(w, " on the side given above.")->brief, "Bevel the cut lines");
    if (any_fill(w, BW_FILL_BORDER)) {
        names_of(w, BW_FILL_BORDER, &names);
        show_say(&add(w, w->marks ? ", comparing at the check marks." : "; compare halfway.")->brief,
                 "Border stamp (%s): from the start%s", names.text, w->marks ? " mark" : "");
    }
}

static void lines(work *w) {
    const bw_layout *l = &w->project->layout;
    if (w->plan->line_count > 0)
        show_say(&add(w, ".")->brief, "Set the dividers and make the lines above; guides only lightly, never cut%s",
                 w->marks ? ". Then the start mark and the check marks" : "");
    if (!work_has_line(w->plan, BW_DO_CUT, false))
        return;
    double grid = show_step_grid(w->project), third = l->weight / 3, half = l->weight / 2;
    if (isfinite(l->weight))
        show_say(&add(w, " (a third to half).")->brief, "Swivel knife: cut the border lines %s to %s deep",
                 show_length(w->project, floor(third / grid + 0.5) * grid).text,
                 show_length(w->project, floor(half / grid + 0.5) * grid).text);
    else
        show_say(&add(w, ".")->brief, "Swivel knife: cut the border lines, a third to half the thickness deep");
}

size_t work_steps(const shop_project *project, const bw_plan *plan, bool marks, work_step list[WORK_STEPS]) {
    work w = {.project = project, .plan = plan, .marks = marks, .list = list};
    show_words names;
    blank(&w);
    if (any_fill(&w, BW_FILL_BASKET) || any_fill(&w, BW_FILL_BORDER)) {
        show_say(&add(&w,
                      ": strike ten of each stamp along a line, measure from one point of the first to the same point of "
                      "the tenth, divide by nine; if that is not the usual step above, plan again.")
                      ->brief,
                 "Test strip on cased scrap of the same leather");
        show_say(&add(&w, ": wet it, let it come back until it takes a clean print.")->brief, "Case the leather");
    }
    lines(&w);
    stamping(&w);
    if (any_fill(&w, BW_FILL_STITCH)) {
        names_of(&w, BW_FILL_STITCH, &names);
        show_say(&add(&w, ".")->brief, "Stitches (%s): prick all holes lightly first, then punch and sew", names.text);
    }
    show_say(&add(&w, "; write down the step that came out.")->brief, "Dry it slowly and flat; dye, clean, finish");
    return w.count;
}
