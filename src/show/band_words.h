/* show/band_words.h - what is said of a band at the bench, the same on the page, the card and wherever else it is told.
 *
 * Each band_say_... begins its words anew and leaves them empty where there is nothing to say.
 */
#ifndef SHOW_BAND_WORDS_H
#define SHOW_BAND_WORDS_H

#include "show/inner.h"

typedef struct at_bench {
    const shop_project *project;
    const bw_plan *plan;
    size_t index;
    const bw_band *asked;
    const bw_band_plan *made;
    const bw_tool *tool; /* NULL: none */
    bool told_lay;       /* a word of our own is explained once */
} at_bench;

at_bench band_at(const shop_project *project, const bw_plan *plan, size_t index);

const char *band_unit(const at_bench *a, int count); /* "impression", "holes" */
/* A length rounded to what steps can be set to. */
show_figure_text band_set(const at_bench *a, double mm);

void band_say_lay(const at_bench *a, show_words *words);     /* appends ", straight lay (along the guide line)" */
void band_say_strikes(const at_bench *a, show_words *words); /* appends "; 84 x 3 blows, about 11 min at your rate" */
void band_say_sizes(const at_bench *a, show_words *words);   /* sizes of the face that are estimated */
/* Are they told together: as many impressions, the same steps? */
bool band_runs_alike(const bw_run_plan *a, const bw_run_plan *b);
void band_say_steps(const at_bench *a, show_words *words); /* "usual step 7.53 mm, from 3 strips" */
/* "2 runs of 89.5 mm along the guide, from the lower right corner (at 0 mm) and ..., each: " for runs that are alike;
 * false if an earlier run told it. */
bool band_say_runs(const at_bench *a, size_t run, show_words *words);
/* How each step is changed: "0.03 mm longer", "under 0.001 in shorter". */
show_figure_text band_change(const at_bench *a, const bw_run_plan *run);
/* Of a run that band_say_runs tells: how many, at which step, and how the difference is lost. Appends. */
void band_say_count(const at_bench *a, size_t run, show_words *words);
/* "27 steps at 7.9 mm and 13 at 8 mm, mixed evenly (about 1 in 3)"; of stitches only the iron sets the step. */
void band_say_lose(const at_bench *a, size_t run, show_words *words);
void band_say_rows(const at_bench *a, show_words *words);
void band_say_notches(const at_bench *a, show_words *words);
/* Placings of a T-tooth iron along a run; runs alike are told with the first of them. */
void band_say_iron(const at_bench *a, size_t run, show_words *words);
void band_say_shared(const at_bench *a, show_words *words); /* holes that two runs have together */

#endif
