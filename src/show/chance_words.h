/* show/chance_words.h - how surely a run of a band closes: what the hand's strips tell of it, in words. */
#ifndef SHOW_CHANCE_WORDS_H
#define SHOW_CHANCE_WORDS_H

#include "bandwright/drift.h"
#include "show/band_words.h"

#define CHANCE_WANTED 0.95 /* the fewest marks are told for it */

typedef enum chance_told {
    CHANCE_TOLD,
    CHANCE_NO_STRIP,  /* the tool has none */
    CHANCE_ONE_STRIP, /* one more of the same sort would tell */
    CHANCE_HIDDEN,    /* its strips read alike: how far a step strays lies below what the rule tells */
    CHANCE_NONE       /* nothing is struck by hand: plain, no tool, no step; or stitches, whose steps the iron sets */
} chance_told;

/* Of a run; *drift and *hand are set where it is CHANCE_TOLD or CHANCE_HIDDEN. */
chance_told chance_of(const at_bench *a, size_t run, bw_drift *drift, bw_hand *hand);
/* The run with the most steps: the one that closes least surely. */
size_t chance_run(const bw_band_plan *band);

/* hand.c: how far a step strays: "0.17 mm", "less than a rule read to 0.5 mm tells"; and with how far it is off its
 * aim, where strips tell that: "strays by 0.17 mm and is -0.07 mm off". */
show_figure_text show_stray_text(const shop_project *project, const bw_hand *hand);
const char *show_stray_words(show_words *out, const shop_project *project, const bw_hand *hand);

/* Which strips tell how far a step strays: "4 strips", "1 strip with places". */
show_figure_text chance_strips(const bw_hand *hand);
/* "62 %", "over 99 %", "under 1 %" */
show_figure_text chance_text(double share);
/* "5 to 88 %": by the limits of what the strips tell, set anew at so many marks; "" where there are none. */
show_figure_text chance_range(const bw_hand *hand, const bw_drift *drift, int marks);
/* What would tell it: "two test strips of basket-m, ten impressions each, would tell how surely it closes". Appends. */
void chance_say_missing(const at_bench *a, chance_told told, show_words *words);

/* The chances of the run that closes least surely, in one sentence; or, of a piece once, what would tell them. */
void band_say_chance(const at_bench *a, show_words *words);

#endif
