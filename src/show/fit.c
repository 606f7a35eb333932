/* `fit FILE BAND`: the stamps ranked for a band, each with its reason. */
#include <math.h>
#include <string.h>

#include "show/inner.h"

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

bw_verdict show_verdict_if(const shop_project *project, size_t band, const bw_band *asked, const bw_tool *tool) {
    lone trial;
    bw_band free_count = *asked;
    free_count.count = 0;
    free_count.counts = NULL;
    free_count.count_runs = 0;
    if (tool)
        free_count.tool = 0;
    shop_project one = *project;
    if (tool)
        one.layout.tool_count = 1;
    if (!plan_alone(&trial, &one, band, &free_count, tool ? tool : project->tools))
        return BW_NO_ROOM;
    bw_verdict verdict = trial.plan->bands[0].fit.verdict;
    bw_plan_destroy(trial.plan);
    return verdict;
}

/* Text of the file on a line of its own: cleaned. */
static void put_clean(FILE *to, const char *text, int width) {
    char clean[512];
    shop_clean(text, strlen(text), clean, sizeof clean);
    fputs(clean, to);
    for (int i = show_text_width(clean); i < width; i++)
        fputc(' ', to);
}

static void one_rank(FILE *to, const shop_project *project, size_t band, const bw_rank *rank, size_t place) {
    const bw_tool *tool = &project->tools[rank->tool];
    bool now = project->bands[band].tool == rank->tool, stitch = project->bands[band].fill == BW_FILL_STITCH;
    fprintf(to, "%2zu. ", place);
    put_clean(to, tool->id ? tool->id : "", 16);
    fprintf(to, " %-16s least margin %.2f, each step %s %s", bw_verdict_word(rank->verdict),
            fabs(rank->least_margin) < 0.005 ? 0 : rank->least_margin, show_percent(rank->change).text, "off");
    if (!stitch)
        fprintf(to, ", bare strip %s", show_length(project, rank->bare).text);
    fputs(now ? " (in use)\n" : "\n", to);
    show_words words;
    if (!show_rank_sentence(&words, project, band, rank->tool))
        return;
    fputs("    ", to);
    put_clean(to, words.text, 0);
    fputc('\n', to);
}

bool show_fit_text(FILE *to, const shop_project *project, size_t band, const bw_rank *ranks, size_t count) {
    put_clean(to, show_band_name(project, band), 0);
    fputs(count > 0 ? ": stamps that suit, best first\n" : ": no stamp suits this band\n", to);
    for (size_t i = 0; i < count; i++)
        one_rank(to, project, band, &ranks[i], i + 1);
    return fflush(to) == 0 && !ferror(to);
}
