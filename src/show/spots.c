/* Places on a round: the impression of a number, the tightest and the widest. */
#include <math.h>

#include "show/inner.h"

int show_impressions(const bw_plan *plan, size_t band) {
    int total = 0;
    if (band >= plan->band_count)
        return 0;
    for (size_t i = 0; i < plan->bands[band].run_count; i++)
        total += plan->bands[band].runs[i].count;
    return total;
}

int show_struck(const bw_plan *plan, size_t band) {
    bool holes = band < plan->band_count && plan->bands[band].fill == BW_FILL_STITCH;
    return holes ? (int)plan->bands[band].strikes : show_impressions(plan, band);
}

int show_impression_run(const bw_band_plan *band, int impression, int *within) {
    for (size_t i = 0; i < band->run_count; i++) {
        if (impression >= 1 && impression <= band->runs[i].count) {
            *within = impression;
            return (int)i;
        }
        impression -= band->runs[i].count;
    }
    return -1;
}

void show_impression_row(const bw_band_plan *band, bool straight, int within, int *row, int *number) {
    if (band->fill == BW_FILL_BASKET && straight) {
        *row = within % 2 == 1 ? -1 : 1;
        *number = (within + 1) / 2;
    } else {
        *row = 0;
        *number = within;
    }
}

bool show_impression_place(const shop_project *project, const bw_plan *plan, size_t band, int impression,
                           bw_placing *placing) {
    int within, row, number;
    if (band >= plan->band_count || plan->bands[band].fill == BW_FILL_PLAIN)
        return false;
    const bw_band_plan *made = &plan->bands[band];
    int run = show_impression_run(made, impression, &within);
    if (run < 0)
        return false;
    show_impression_row(made, project->bands[band].lay == BW_LAY_STRAIGHT, within, &row, &number);
    bw_placing *list;
    size_t count;
    if (bw_placings_create(plan, band, NULL, &list, &count) != BW_OK)
        return false;
    bool found = false;
    for (size_t i = 0; i < count && !found; i++) {
        if (list[i].run != run + 1 || list[i].number != number || list[i].row != row)
            continue;
        *placing = list[i];
        found = true;
    }
    bw_placings_release(list, NULL);
    return found;
}

const bw_weave_line *show_extreme_line(const bw_band_plan *band, bool widest) {
    const bw_weave_line *best = NULL;
    for (size_t i = 0; i < band->line_count; i++) {
        const bw_weave_line *line = &band->lines[i];
        if (!best || (widest ? line->widest.step > best->widest.step + BW_EPS
                             : line->tightest.step < best->tightest.step - BW_EPS))
            best = line;
    }
    return best;
}

bw_felt show_extreme_felt(const bw_profile *profile, const bw_band_plan *band, const bw_weave_line *line, bool widest) {
    static const double aside[] = {0, 0.01, -0.01}; /* mm */
    double delta = line->from_edge - band->guide_from_edge, step = widest ? line->widest.step : line->tightest.step;
    double along = widest ? line->widest.along : line->tightest.along, least = INFINITY;
    bw_felt best = {0};
    for (int i = 0; i < 3; i++) {
        bw_felt felt = bw_profile_at(profile, along + aside[i]);
        double off = fabs(felt.step - delta * felt.turning - step);
        if (off < least - SHOW_NOTHING) {
            least = off;
            best = felt;
        }
    }
    return best;
}

bool show_steps_vary(const bw_band_plan *band) {
    const bw_weave_line *tight = show_extreme_line(band, false), *wide = show_extreme_line(band, true);
    return tight && wide && wide->step_most - tight->step_least >= 2 * SHOW_NOTHING;
}

int show_extreme_number(const bw_band_plan *band, const bw_extreme *at) {
    int before = 0;
    for (int i = 0; i < at->run && (size_t)i < band->run_count; i++)
        before += band->runs[i].count;
    return at->impression > 0 ? before + at->impression : 0;
}

static int extreme(const bw_plan *plan, size_t band, bool widest) {
    if (band >= plan->band_count)
        return 0;
    const bw_band_plan *made = &plan->bands[band];
    const bw_weave_line *line = show_extreme_line(made, widest);
    if (!line)
        return 0;
    /* On an even round every place is the tightest and the widest of its line: then there is none to go to. */
    if (line->step_most - line->step_least < 2 * SHOW_NOTHING)
        return 0;
    return show_extreme_number(made, widest ? &line->widest : &line->tightest);
}

int show_tightest(const bw_plan *plan, size_t band) {
    return extreme(plan, band, false);
}

int show_widest(const bw_plan *plan, size_t band) {
    return extreme(plan, band, true);
}

const bw_band_plan *show_view_band(const show_view *view) {
    if (!view->plan || view->band >= view->plan->band_count || view->band >= view->project->layout.band_count)
        return NULL;
    return &view->plan->bands[view->band];
}

show_rect show_inside(const show_grid *grid, show_rect where) {
    int right = where.x + where.width, bottom = where.y + where.height;
    if (where.x < 0)
        where.x = 0;
    if (where.y < 0)
        where.y = 0;
    if (right > grid->width)
        right = grid->width;
    if (bottom > grid->height)
        bottom = grid->height;
    where.width = right > where.x ? right - where.x : 0;
    where.height = bottom > where.y ? bottom - where.y : 0;
    return where;
}

show_rect show_from_line(show_rect where, int lines) {
    if (lines > where.height)
        lines = where.height;
    return (show_rect){where.x, where.y + lines, where.width, where.height - lines};
}
