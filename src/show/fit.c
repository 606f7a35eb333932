/* `fit FILE BAND`: the stamps ranked for a band, each with its reason. */
#include <math.h>
#include <string.h>

#include "show/inner.h"

/* The band alone, at its own depth, with this tool in it. */
bool show_rank_sentence(show_words *out, const shop_project *project, size_t band, int tool) {
    show_start(out);
    if (band >= project->layout.band_count || tool < 0 || (size_t)tool >= project->layout.tool_count)
        return false;
    shop_project alone = *project;
    bw_band one = project->bands[band];
    for (size_t i = 0; i < band; i++)
        one.space += project->bands[i].space + project->bands[i].width;
    one.tool = tool;
    alone.bands = &one;
    alone.layout.bands = &one;
    alone.layout.band_count = 1;
    bw_plan *plan;
    if (bw_plan_create(&alone.layout, NULL, &plan) != BW_OK)
        return false;
    show_verdict_sentence(out, &alone, plan, 0);
    bw_plan_destroy(plan);
    return true;
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
