/* bandwright/even.h - sizes that close: the search over the whole piece for the fewest and smallest changes after which
 * no step changes by more than a limit and every fit is good.
 *
 * With the edge fixed, bands are linked only by how far from the edge they begin: the search goes from band to band
 * over that distance, keeps for each distance, number of changes and set of moved values the least total, and plans
 * each band alone, once for every place of its guide and choice of rows. Sizes of the outline are tried around it.
 * Answers come by number of changes, and the next number is begun when the one before has been looked at completely: so
 * what is found first is the best there is, or the search says how far it came.
 */
#ifndef BANDWRIGHT_EVEN_H
#define BANDWRIGHT_EVEN_H

#include "moves.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BW_EVEN_WITHIN 3.0 /* mm each way a value may move, if nothing else is wished */
#define BW_EVEN_ANSWERS 5
#define BW_EVEN_ANSWERS_MOST 20
#define BW_EVEN_STEPS_MOST 400 /* steps of the dividers' grid each way */
#define BW_EVEN_TRIALS 400000  /* bands planned before it stops, if nothing else is wished */

/* A value that may move. Diameter, length, width, radius, corner of the outline; space, width, guide of a band. */
typedef struct bw_even_knob {
    bw_knob knob;
    size_t band;
    double least, most; /* mm, in the terms of bw_change, BW_EVEN_STEPS_MOST of the grid off at most, least up to most;
                           NAN: as far as `within` */
} bw_even_knob;

typedef struct bw_even_wish {
    double within;             /* mm, each way; > 0, up to BW_EVEN_STEPS_MOST of the layout's grid */
    double limit;              /* |step-change| of every run up to this share of its usual step; > 0 */
    bw_verdict fit;            /* every band's at least: BW_GOOD, or BW_TIGHT */
    size_t answers;            /* 1 .. BW_EVEN_ANSWERS_MOST */
    size_t changes;            /* most that an answer may make; 0: as many as there are values */
    size_t trials;             /* bands planned before it stops; 0: no limit */
    const bw_even_knob *knobs; /* what may move; NULL: all that can. What is marked fixed never does. Copied. */
    size_t knob_count;
} bw_even_wish;

/* +-3 mm, 3 %, good, five answers. */
void bw_even_wish_init(bw_even_wish *wish);

/* A band after an answer. */
typedef struct bw_even_band {
    bw_verdict verdict;
    int count;      /* impressions of the run that changes most (bw_worst_run); 0 for a plain band */
    double step;    /* mm, its even step */
    double change;  /* its step-change as a share of the usual step */
    double gap;     /* mm, its closure gap */
    double margin;  /* the least of reach, crowd and bend */
    unsigned fresh; /* warnings that it has then and has not now: bits 1u << bw_warning_kind */
} bw_even_band;

typedef struct bw_even_answer {
    const bw_change *changes;  /* outline first, then by band */
    const double *before;      /* mm, what each value is now */
    size_t change_count;       /* 0: the layout is well as it is */
    double total;              /* mm, sum of what they move */
    const bw_even_band *bands; /* the layout's */
} bw_even_answer;

/* Two answers never move the same set of values. One that moves all that another moves, and more, is told only if it
 * moves fewer mm in all. In the order of number of changes, then total. */
typedef struct bw_even_found {
    const bw_even_answer *answers;
    size_t count;
    bool done;      /* nothing more will come */
    bool best;      /* the first answer is the best there is; without one: there is none */
    size_t looked;  /* with fewer changes than this everything was looked at */
    size_t looking; /* number of changes in hand */
    double share;   /* of the outline's sizes that are tried with it, 0..1 */
    size_t knobs;   /* values that may move */
    size_t trials;  /* bands planned so far */
} bw_even_found;

typedef struct bw_even bw_even;

/* The layout is copied but for what it points to (tools, names, anchors, an outline's corners), which must stay.
 * BW_BAD_VALUE: a layout that cannot be planned, or a wish outside its range. */
bw_status bw_even_create(const bw_layout *layout, const bw_even_wish *wish, const bw_allocator *allocator,
                         bw_even **search);
void bw_even_destroy(bw_even *search); /* NULL is fine */

/* Goes on for about so many planned bands (at least one thing is done), or until it is done. BW_NO_MEMORY: the search
 * is at its end; what was found so far stays. */
bw_status bw_even_step(bw_even *search, size_t trials);
/* Goes on to the end; asks go_on (NULL: nobody) after every few planned bands, and stops where that says false. */
bw_status bw_even_run(bw_even *search, bool (*go_on)(void *context, const bw_even_found *so_far), void *context);

/* What is known so far; its answers are valid until the search goes on. */
bw_even_found bw_even_result(const bw_even *search);

#ifdef __cplusplus
}
#endif
#endif
