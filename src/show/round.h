/* show/round.h - what is said in the middle of a round: the step that counts now, and what is left with each count. */
#ifndef SHOW_ROUND_H
#define SHOW_ROUND_H

#include "desk/round.h"
#include "show/show.h"

/* The step from the impression struck last to the next. */
typedef struct show_now {
    bool known;  /* false: a row, a full run, or a layout that has changed */
    double set;  /* mm, as a hand sets this one */
    double even; /* mm, what it is on the mean */
    int more;    /* steps of this length that follow, this one among them */
    double then; /* mm, the step that follows those; 0: the run is full then, or steps vary with the bends */
    int then_more;
    bool bends;       /* steps vary with the bends */
    show_words words; /* "34 more at 7.5 mm, 8 at 7.6 mm, mixed evenly; then the last 5 at 7.9 mm" */
} show_now;
bool show_round_now(show_now *out, const shop_project *project, const bw_plan *plan, const desk_round *round);

/* After how many impressions of the run in hand, over `struck`, the next check mark falls: the middle of the impression
 * that follows belongs on it. One of those that the page tells, or of what was left when it was measured; *along is
 * then mm from the impression struck last before, else NAN. 0: there is none any more, or the run is too short for
 * marks. */
int show_next_mark(const shop_project *project, const bw_plan *plan, const desk_round *round, int struck,
                   double *along);

/* "the guide's round", "run 2 of 5, from the lower right corner", "row -2, leaned" */
const char *show_part_words(show_words *out, const shop_project *project, const bw_plan *plan, const desk_round *round,
                            size_t part);
/* What holds since what was left was measured, of the part in hand: the new check marks; "" if it was not. */
const char *show_round_marks(show_words *out, const shop_project *project, const bw_plan *plan,
                             const desk_round *round);
/* The same, brief, of a part struck before a measure. */
const char *show_round_struck(show_words *out, const shop_project *project, const bw_plan *plan,
                              const desk_round *round);
/* What has changed under a run that is begun, and what is left by the steps it was struck with. */
const char *show_round_changed(show_words *out, const shop_project *project, const bw_plan *plan,
                               const desk_round *round);

/* A line of a list: "40: 29 steps of 7.93 mm, 1.5 % longer", brief "40: 29 x 7.93 mm"; an x before what does not work.
 */
const char *show_rest_line(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest,
                           size_t index, bool brief);
/* All there is to say of one count. */
const char *show_rest_words(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest,
                            size_t index);
/* "38.4 mm more than planned: ..."; whether it drifted, and how. */
const char *show_rest_drift(show_words *out, const shop_project *project, const bw_rest *rest);
/* What is said first of a measure or count that is likelier wrong than the hand; "" of others. */
const char *show_rest_doubt(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest);
/* Where rows keyed to the part struck do not work, and unless brief what to do; "" where they do. */
const char *show_rest_struck(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest,
                             bool brief);
/* That old check marks hold no more, and the new ones of a count; "" where they hold or it does not work. */
const char *show_rest_marks(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest,
                            size_t index);
/* "legs ride on bars by 0.21 mm on the inner row": why a count, or the part struck, does not work. */
void show_say_misfit(show_words *out, const shop_project *project, const bw_band_plan *band, const bw_rest_count *one);
#define SHOW_REST_MARKS 4 /* parts of what is left, with a check mark between each two */
/* How many check marks there are for what is left of a count, and where. */
int show_rest_marks_of(const bw_plan *plan, const bw_rest *rest, size_t index, bw_check_mark list[SHOW_REST_MARKS]);
/* What to do where no count works; "" where one does. */
const char *show_rest_none(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest);
/* All of it as a page. False if writing failed. */
bool show_rest_text(FILE *to, const shop_project *project, const bw_plan *plan, const bw_rest *rest);

#endif
