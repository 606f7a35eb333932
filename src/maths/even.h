/* maths/even.h - the whole-piece search from inside. */
#ifndef MATHS_EVEN_H
#define MATHS_EVEN_H

#include <stdint.h>

#include "bandwright/even.h"
#include "maths/band.h"

/* Which of a band's values moves: bits of a set. */
enum { EVEN_SPACE, EVEN_WIDTH, EVEN_GUIDE, EVEN_OF_BAND };
enum { EVEN_OF_EDGE = 5 }; /* knobs of the outline: diameter .. corner, less the sweep */

/* The values that one knob may take instead of the one it has, nearest first. */
typedef struct even_values {
    bool there; /* it may move */
    double now;
    double *value, *size; /* mm; size = how far it moves */
    size_t count;
} even_values;

/* The outline's sizes tried at once: of each knob the index of its value, from 1; 0 = as it is. */
typedef struct even_edge {
    uint16_t value[EVEN_OF_EDGE];
    uint16_t changes;
    double total; /* mm */
} even_edge;

/* What is known of one edge: where lines are gone, how a guide turns, how a band with these rows does. */
typedef struct even_fact {
    bool used;
    bool good; /* the line is there; the band does as wished */
    bool turns;
    uint8_t kind;
    uint32_t band;
    int64_t at;    /* from_edge, rounded */
    uint64_t rows; /* hash of the weave lines */
    double convex, concave;
} even_fact;

typedef struct even_facts {
    even_fact *facts;
    size_t count, room; /* room: 0 or a power of 2 */
} even_facts;

/* A way through the bands up to one of them. */
typedef struct even_way {
    double offset;  /* mm from the edge, in the file's terms: where the last band ends */
    double total;   /* mm moved */
    uint64_t set;   /* hash of the set of values that move */
    uint32_t alive; /* bits: of which told answers it moves everything so far */
    uint32_t changes, parent;
    uint32_t moved; /* bits: of the last band */
    double value[EVEN_OF_BAND];
    uint32_t next; /* in its bucket */
} even_way;

typedef struct even_ways {
    even_way *ways;
    size_t count, room;
    size_t begin, end, at; /* the layer that is gone on from, and how far */
    size_t band;           /* the next one */
    size_t space, width;   /* its values that are tried next: counted from 1, 0 = as they are */
    uint32_t *buckets;     /* heads of the layer that is being made */
    size_t bucket_count;   /* a power of 2 */
} even_ways;

/* An answer with what is needed to compare sets. */
typedef struct even_told {
    bw_even_answer answer;
    uint64_t set;
    uint32_t edge_bits;
    uint8_t *band_bits; /* one a band */
    size_t last_band;   /* the last that it moves; 0 if none */
} even_told;

struct bw_even {
    bw_allocator allocator;
    maths_arena arena; /* what lives as long as the search */
    bw_even_wish wish;
    bw_layout layout;
    bw_band *bands;      /* copies; */
    bw_band *scratch;    /* of them, to be changed */
    bw_corner *corners;  /* likewise */
    unsigned *warned;    /* a band: what it is warned of now */
    even_values *values; /* EVEN_OF_BAND a band */
    even_values of_edge[EVEN_OF_EDGE];
    size_t *knobs_from; /* a band: how many values may move in it and all that follow */
    size_t knob_count, edge_knobs;
    even_edge *edges; /* by total */
    size_t edge_count;
    size_t edge_changes; /* all combinations of so many sizes are among them */
    /* where it stands */
    size_t level, edge_at;
    bool edge_open;
    maths_edge edge;
    maths_arena edge_arena;
    even_facts home, away; /* of the outline as it is; of the one in hand */
    even_ways ways;
    size_t looked_up; /* facts asked for, since a trial was last counted for them */
    size_t trials, budget;
    even_told told[BW_EVEN_ANSWERS_MOST];
    bw_even_answer *list; /* their answers */
    size_t told_count;    /* of the levels before */
    size_t count;         /* with those of this level */
    size_t looked;        /* with fewer changes all was looked at */
    size_t most;          /* changes that an answer may make */
    bool done;
    bw_status status;
};

/* ---- even_knobs.c ---- */

bool even_knobs_make(bw_even *s);
bool even_edges_make(bw_even *s);
/* The knob of the outline behind an index. */
bw_knob even_edge_knob(size_t index);
bw_knob even_band_knob(size_t index);
/* Random bits of a knob: those of a set are put together by exclusive or. */
uint64_t even_bits_of(bw_knob knob, size_t band);
/* The layout with the sizes of the outline changed; corners goes to s->corners. */
bw_layout even_layout(bw_even *s, const even_edge *edge);

/* ---- even_trial.c ---- */

/* Makes the edge in hand; false if there is none such, or without memory (s->status). */
bool even_trial_open(bw_even *s, const even_edge *edge);
void even_trial_close(bw_even *s);
/* Does the band do as wished there? outer: mm from the edge in the file's terms, width and guide likewise. */
bool even_trial(bw_even *s, size_t band, double outer, double width, double guide);
void even_facts_free(bw_even *s, even_facts *facts);
/* Warnings of a band as bits. */
unsigned even_warnings(const bw_plan *plan, size_t band);
/* Does a band of a whole plan do as wished? */
bool even_band_good(const bw_even *s, const bw_band_plan *band);

/* ---- even_ways.c ---- */

/* Begins at the edge with so many changes for the bands. False without memory. */
bool even_ways_begin(bw_even *s, const even_edge *edge);
/* Goes on from one way with one space and one width of the next band; false if all bands are through. */
bool even_ways_step(bw_even *s, const even_edge *edge);
void even_ways_free(bw_even *s);

/* ---- even_told.c ---- */

/* Nothing that moves this much can still be told at this level. */
bool even_told_full(const bw_even *s, double total);
/* Plans what the way says with all bands and, if it does as wished, keeps it. */
void even_tell(bw_even *s, const even_edge *edge, const even_way *way);
/* The answers of the level now hold for good. */
void even_told_settle(bw_even *s);
void even_told_free(bw_even *s);

#endif
