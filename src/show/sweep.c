/* sweep.c - what becomes of one layout value after the other, a line each of RFC 4180, for tables and further work. */
#include "show/inner.h"

static void next(FILE *to, double value) {
    fprintf(to, ",%s", show_number(value).text);
}

static void nexts(FILE *to, int columns) {
    while (columns-- > 0)
        fputc(',', to);
}

bool show_sweep_head(FILE *to, const char *const *paths, size_t count) {
    for (size_t i = 0; i < count; i++) {
        show_csv_field(to, paths[i]);
        fputc(',', to);
    }
    fputs("file,band,verdict,run,count,step,usual-step,closure-gap,step-change,reach,crowd,bend,bare-outer,bare-inner,"
          "strikes,refused\r\n",
          to);
    return !ferror(to);
}

static void before(FILE *to, const show_sweep_line *line) {
    for (size_t i = 0; i < line->count; i++) {
        show_csv_field(to, line->values[i]);
        fputc(',', to);
    }
    show_csv_field(to, line->file);
}

/* Figures of a band are those of the run that is worst; strikes those of all. */
static void band_figures(FILE *to, const bw_band_plan *band) {
    if (band->fill == BW_FILL_PLAIN) {
        nexts(to, 13);
        return;
    }
    if (band->run_count > 0) {
        size_t worst = bw_worst_run(band);
        const bw_run_plan *run = &band->runs[worst];
        fprintf(to, ",%zu,%d", worst + 1, run->count);
        next(to, run->step);
        next(to, run->usual_step);
        next(to, run->closure_gap);
        next(to, run->step_change);
    } else
        nexts(to, 6);
    next(to, band->fit.reach);
    next(to, band->fit.crowd);
    next(to, band->fit.bend);
    next(to, band->bare_outer);
    next(to, band->bare_inner);
    fprintf(to, ",%lld,", band->strikes);
}

bool show_sweep_plan(FILE *to, const show_sweep_line *line, const shop_project *project, const bw_plan *plan) {
    for (size_t i = 0; i < plan->band_count; i++) {
        before(to, line);
        fputc(',', to);
        show_csv_field(to, show_band_name(project, i));
        fprintf(to, ",%s", bw_verdict_word(plan->bands[i].fit.verdict));
        band_figures(to, &plan->bands[i]);
        fputs("\r\n", to);
    }
    if (plan->band_count == 0) {
        before(to, line);
        nexts(to, 15);
        fputs("\r\n", to);
    }
    return !ferror(to);
}

bool show_sweep_refused(FILE *to, const show_sweep_line *line, const char *why) {
    before(to, line);
    nexts(to, 15);
    show_csv_field(to, why);
    fputs("\r\n", to);
    return !ferror(to);
}
