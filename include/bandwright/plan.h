/* bandwright/plan.h - the whole calculation: from a layout's values to counts, steps, rows, margins and warnings.
 *
 * bw_plan_create never fails on geometry: what cannot work is a verdict with figures. Everything in a bw_plan belongs
 * to it and lives until bw_plan_destroy; indices of bands are those of the layout.
 */
#ifndef BANDWRIGHT_PLAN_H
#define BANDWRIGHT_PLAN_H

#include "curve.h"

#ifdef __cplusplus
extern "C" {
#endif

/* In the order in which they are looked for; the first that holds for any run is the band's. */
typedef enum bw_verdict {
    BW_NO_ROOM,
    BW_BAND_TOO_NARROW,
    BW_EDGE_TOO_SHARP,
    BW_LEGS_LONG,
    BW_FEET_COLLIDE,
    BW_LEGS_SHORT,
    BW_BAND_TOO_WIDE,
    BW_NO_WHOLE_COUNT,
    BW_OPENS_OUTSIDE,
    BW_CROWDS_INSIDE,
    BW_TIGHT,
    BW_GOOD
} bw_verdict;

typedef enum bw_which { BW_OUTER, BW_GUIDE, BW_INNER } bw_which;
typedef enum bw_do { BW_DO_CUT, BW_DO_SCRIBE, BW_DO_STITCH } bw_do;

/* A line to be set with the dividers and made. */
typedef struct bw_line_plan {
    size_t band;
    bw_which which;
    double from_edge, length; /* mm; a vanished line has length 0 and loops 0 */
    int loops;
    bw_do what;
    bw_bevel bevel;
    double set_to; /* mm, from_edge on the dividers' grid */
} bw_line_plan;

typedef enum bw_where { BW_WHERE_STEPS, BW_WHERE_BENDS, BW_WHERE_STRAIGHTS } bw_where;

typedef struct bw_setting {
    bw_where where;
    int steps;   /* how many; only BW_WHERE_STEPS */
    double step; /* mm */
} bw_setting;

typedef struct bw_run_plan {
    double from, to; /* mm along the guide from its start */
    bool closed;
    int loop;
    int count;          /* impressions on the guide's round; 0 = too short for the face */
    bool given;         /* the count was given, not found */
    double step;        /* mm, the even step */
    double usual_step;  /* mm */
    double closure_gap; /* mm, + left over, - lacking */
    double step_change; /* mm */
    bw_setting *settings;
    size_t setting_count;
    int feasible_least, feasible_most; /* multiples; 0, 0 = none */
    bool has_even_at;
    double guide_shift; /* mm, inward +: where the round closes at the usual step */
    bw_lose lose;       /* the mode used */
    bool fell_back;     /* the band's mode could not be done here */
    int least_last;     /* least K for `lose: last K` within the visible limit; 0 = none */
    int wanted;         /* nearest count whatever the rows say; 0 = it is the count, or nothing to tell */
    int wanted_line;    /* weave line that opens or crowds worst at that count */
    double wanted_miss; /* mm at that line: + legs do not reach, - legs ride on the bars */
    bool turns;         /* its direction changes */
    double kappa_convex, kappa_concave; /* 1/mm over one face length; >= 0, <= 0 */
    bw_verdict verdict;
    double reach, crowd, bend; /* margins of this run */
} bw_run_plan;

typedef struct bw_row_plan {
    int row;          /* < 0 outside the guide, > 0 inside, 0 on it */
    double from_edge; /* mm, middle of the whole face */
    double cover;     /* share of the face that prints, 0..1 */
    bool leaned;
    int impressions; /* of all runs */
    double shift;    /* share of a step, angled lay */
} bw_row_plan;

/* The shortest or longest step of a line among those that are struck. */
typedef struct bw_extreme {
    double step;       /* mm on the line; with `last K`, judged as if it could lie anywhere, it may lie within
                          step_least and step_most */
    double along;      /* mm along the guide from its start, where the step begins */
    double edge_along; /* mm along the edge from the start mark (an open edge: from its start) to the place beside it */
    int impression;    /* the impression nearest, from 1, within its run */
    int run;           /* index */
} bw_extreme;

typedef struct bw_weave_line {
    int line;
    double from_edge;
    double step_least, step_most;       /* mm, over all runs */
    double overlap_least, overlap_most; /* shares, basket only */
    double miss;                        /* mm, angled only: sideways miss of the rails */
    double turn_most;                   /* radians, greatest |turning| of a step */
    bw_extreme tightest, widest;        /* of the steps that are struck */
} bw_weave_line;

typedef struct bw_fit {
    bw_verdict verdict;
    double reach, crowd, bend;             /* 0 = at the limit */
    double needed_leg;                     /* mm, with BW_LEGS_SHORT; else 0 */
    int reach_line, crowd_line, bend_line; /* weave lines where the margins are least */
    double reach_mm;                       /* mm by which legs overlap (+) or miss (-) on reach_line */
    double crowd_mm;                       /* mm left (+) or ridden (-) to the bar on crowd_line */
    int run;                               /* index of the run that gives the verdict */
} bw_fit;

typedef struct bw_band_plan {
    bw_fill fill;
    double outer, inner; /* mm from the edge: the border lines */
    bool outer_gone, inner_gone, guide_gone;
    bw_face face;
    double turn;               /* radians, of the face from the line */
    double least, usual, most; /* mm, step range on the guide in this lay */
    double overlap;            /* usual share f; 0 unless basket */
    bool measured;             /* a measured step was used */
    double rows_apart;         /* mm, q */
    double along_line;         /* mm, face along the line, F */
    bool turns;                /* the guide turns somewhere */
    double guide_from_edge, guide_length, guide_least_radius;
    int guide_loops;
    bw_run_plan *runs;
    size_t run_count;
    bw_row_plan *rows;
    size_t row_count;
    bw_weave_line *lines;
    size_t line_count;
    double bare_outer, bare_inner;   /* mm */
    double notch_outer, notch_inner; /* mm, straight lay */
    bool has_notch;
    double corner_pass; /* mm by which the guide passes beside the corners of the face, angled lay */
    bw_fit fit;         /* plain bands: only the verdict, BW_GOOD or BW_NO_ROOM */
    long long strikes;  /* a fine stamp over a wide band passes what an int holds */
} bw_band_plan;

/* In the order in which a band's warnings are listed. Verdict warnings come first, as BW_WARN_VERDICT. */
typedef enum bw_warning_kind {
    BW_WARN_VERDICT,
    BW_WARN_BARE_STRIP,
    BW_WARN_STRETCH,
    BW_WARN_JUMP,
    BW_WARN_WANTED_COUNT,
    BW_WARN_NARROW,
    BW_WARN_MISS,
    BW_WARN_CORNER,
    BW_WARN_SPLIT,
    BW_WARN_FALLBACK,
    BW_WARN_FACE_OUT,
    BW_WARN_STEPS_FACE,
    BW_WARN_ESTIMATED,
    BW_WARN_TOOL_DIFFERS /* never from bw_plan: only the shop knows both copies */
} bw_warning_kind;

typedef struct bw_warning {
    size_t band;
    bw_warning_kind kind;
} bw_warning;

typedef struct bw_plan {
    bw_curve *edge;                       /* the outline, laid out (finished sizes already divided) */
    double start_along;                   /* mm along edge: the start mark */
    double length, turning, least_radius; /* mm, radians, mm */
    bw_line_plan *lines;
    size_t line_count;
    bw_band_plan *bands;
    size_t band_count;
    bw_warning *warnings;
    size_t warning_count;
    void *memory; /* the library's own */
} bw_plan;

bw_status bw_plan_create(const bw_layout *layout, const bw_allocator *allocator, bw_plan **plan);
/* The same plan, to the bit, in less time where the outline is still that of the plan before, whose edge is then
 * copied; before may be NULL. Neither plan needs the other afterwards. */
bw_status bw_plan_again(const bw_layout *layout, const bw_plan *before, const bw_allocator *allocator, bw_plan **plan);
void bw_plan_destroy(bw_plan *plan); /* NULL is fine */

/* One thing that its user has made of a plan and wants kept with it, such as words about it: `release` is called with
 * it by bw_plan_destroy. Returns what is kept from now on, which is another's if a thread was faster (`made` is then
 * still the caller's); NULL without memory. */
void *bw_plan_keep(const bw_plan *plan, void *made, void (*release)(void *made));
void *bw_plan_keepsake(const bw_plan *plan); /* NULL: nothing is kept */

/* Every verdict good or tight, and no plain band without room. */
bool bw_plan_works(const bw_plan *plan);
/* The run one of whose steps changes most (of equal ones the first), or where no whole count fits the run that says so:
 * the one that figures of a band are told of. 0 without runs. */
size_t bw_worst_run(const bw_band_plan *band);
/* "good", "legs short": the words of files and screens. */
const char *bw_verdict_word(bw_verdict verdict);
/* Words of a warning kind as files spell them; a verdict's is bw_verdict_word with hyphens and not given here. */
const char *bw_warning_word(bw_warning_kind kind);
/* Where one suits, a distance on the dividers' grid: nearest multiple, ties up. */
double bw_on_grid(double length, double grid);

/* One placing of the stamp. */
typedef struct bw_placing {
    int row, run, number; /* run and number from 1 */
    bw_point at;          /* middle of the face */
    double turn;          /* radians counter-clockwise from x, over -pi up to pi */
    double along;         /* mm on the guide from its start */
    double cover;
} bw_placing;

/* Every impression of a band: by row from the edge inward, run, number. *placings is released with bw_placings_release.
 */
bw_status bw_placings_create(const bw_plan *plan, size_t band, const bw_allocator *allocator, bw_placing **placings,
                             size_t *count);
void bw_placings_release(bw_placing *placings, const bw_allocator *allocator);

/* A border line of a band, as it lies on the piece, or its guide: the plan's own. A vanished one has no loops; a plain
 * band's guide is NULL. */
const bw_curve *bw_plan_line(const bw_plan *plan, size_t band, bw_which which);

/* The guide of a band as a curve that begins at the guide's start (bw_placing.along and bw_run_plan.from are measured
 * on it). The caller destroys it. A vanished guide is a curve without loops. */
bw_status bw_guide_create(const bw_plan *plan, size_t band, const bw_allocator *allocator, bw_curve **guide);

/* How well a tool fits a band; the order of bw_rank_compare. */
typedef struct bw_rank {
    int tool; /* index into the layout's tools */
    bw_verdict verdict;
    double least_margin, change, bare; /* least margin, |step-change| / usual, mm of bare strip on both sides */
    bw_fit fit;                        /* all of the judgement, for the reason */
} bw_rank;

/* Ranks every unretired tool of the layout that suits the band's fill, best first. Each is judged by a plan of that
 * band alone. *ranks is released with the allocator (bw_ranks_release). */
bw_status bw_rank_tools(const bw_layout *layout, size_t band, const bw_allocator *allocator, bw_rank **ranks,
                        size_t *count);
void bw_ranks_release(bw_rank *ranks, const bw_allocator *allocator);

#ifdef __cplusplus
}
#endif
#endif
