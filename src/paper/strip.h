/* paper/strip.h - some impressions of a band that follow each other, for a trial strip and the same laid straight. */
#ifndef PAPER_STRIP_H
#define PAPER_STRIP_H

#include "paper/template.h"

#define PAPER_TEN 10 /* impressions of a trial strip */

typedef struct paper_strip {
    paper_flow *flow;
    size_t band;
    const bw_band_plan *made;
    const bw_run_plan *run;
    const bw_curve *guide;
    int first, count; /* within the run, from 1 */
    bw_placing places[PAPER_TEN];
    paper_part part;   /* from the first to the last of them */
    bool even;         /* the guide bends alike all along */
    double half;       /* mm, of a face along the line */
    bw_point *outline; /* of the strip to be seen, on the piece */
    int outline_count;
} paper_strip;

/* Finds places and part for first and count; false where the run has not so many. */
bool paper_strip_places(paper_strip *strip);
/* A place as the part counts it, back on the guide. */
bw_spot paper_strip_spot(const paper_strip *strip, double along);
/* mm straight from one impression (from 0) to another. */
double paper_strip_across(const paper_strip *strip, int from, int to);
/* As a rule shows it: "7.9 mm", "0.312 in". */
void paper_strip_length(const paper_strip *strip, double mm, char out[48]);
/* mm on the page, with its words. */
double paper_strip_straight_height(const paper_strip *strip);
void paper_strip_straight(paper_strip *strip);

#endif
