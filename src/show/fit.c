/* `fit FILE BAND`: the stamps ranked for a band, each with its reason. */
#include <math.h>
#include <string.h>

#include "show/page.h"

/* A project of one band alone, at its own depth. */
typedef struct lone {
    shop_project project;
    bw_band band;
    bw_plan *plan;
} lone;

static bool plan_alone(lone *out, const shop_project *project, size_t band, const bw_band *asked,
                       const bw_tool *tools) {
    out->project = *project;
    out->band = *asked;
    for (size_t i = 0; i < band; i++)
        out->band.space += project->bands[i].space + project->bands[i].width;
    out->project.bands = &out->band;
    out->project.layout.bands = &out->band;
    out->project.layout.band_count = 1;
    out->project.layout.tools = tools;
    return bw_plan_create(&out->project.layout, NULL, &out->plan) == BW_OK;
}

bool show_rank_sentence(show_words *out, const shop_project *project, size_t band, int tool) {
    lone trial;
    show_start(out);
    if (band >= project->layout.band_count || tool < 0 || (size_t)tool >= project->layout.tool_count)
        return false;
    bw_band asked = project->bands[band];
    asked.tool = tool;
    if (!plan_alone(&trial, project, band, &asked, project->tools))
        return false;
    show_verdict_sentence(out, &trial.project, trial.plan, 0);
    bw_plan_destroy(trial.plan);
    return true;
}

static void one_rank(page *p, size_t band, const bw_rank *rank, size_t place) {
    const bw_tool *tool = &p->project->tools[rank->tool];
    bool now = p->project->bands[band].tool == rank->tool, stitch = p->project->bands[band].fill == BW_FILL_STITCH;
    char lead[32];
    show_words figures, why;
    snprintf(lead, sizeof lead, "%2zu. ", place);
    show_start(&figures);
    show_say(&figures, "%s%s: %s; margin %.2f, steps change by %s", tool->id ? tool->id : "", now ? " (in use)" : "",
             bw_verdict_word(rank->verdict), fabs(rank->least_margin) < 0.005 ? 0 : rank->least_margin,
             show_percent(rank->change).text);
    if (!stitch)
        show_say(&figures, ", bare strip %s", show_length(p->project, rank->bare).text);
    page_put(p, lead, figures.text);
    if (show_rank_sentence(&why, p->project, band, rank->tool))
        page_put(p, "    ", why.text);
}

bool show_fit_text(FILE *to, const shop_project *project, const bw_plan *plan, size_t band, const bw_rank *ranks,
                   size_t count, bool stamp) {
    show_words would;
    page p = {.to = to, .project = project, .plan = plan, .width = SHOW_PAGE_WIDTH};
    if (count > 0)
        page_putf(&p, "",
                  "%s: what suits it, best first (margin: 0 = at the limit of its worst place, good from %.2f%s)",
                  show_band_name(project, band), BW_GOOD_MARGIN,
                  project->bands[band].fill == BW_FILL_STITCH ? "" : "; bare strip: leather that no impression covers");
    else
        page_putf(&p, "", "%s: no stamp suits this band", show_band_name(project, band));
    for (size_t i = 0; i < count; i++)
        one_rank(&p, band, &ranks[i], i + 1);
    if (stamp)
        page_put(&p, "", show_stamp_sentence(&would, project, plan, band));
    return fflush(to) == 0 && !ferror(to);
}
