/* desk/inner.h - what the files of this room share; no other room includes it. */
#ifndef DESK_INNER_H
#define DESK_INNER_H

#include "desk/desk.h"
#include "desk/journal.h"
#include "shop/alloc.h"

/* One undo step: a stretch of the text exchanged for another. Bytes rather than edits, so that undo restores every
 * comment and blank exactly. */
typedef struct desk_step {
    char *title;
    size_t at;
    char *before, *after;
    size_t before_length, after_length;
    int theirs;        /* 1: it took over what somebody else had written; -1: it went over that; 0: neither */
    bool moves_second; /* with it another layout became the held one: undo and redo exchange it for this */
    bool flips;        /* it only exchanged the layout in hand and the held one */
    char *second;      /* NULL: none was held */
    size_t second_length;
} desk_step;

/* The layout held beside the one in hand, kept as its text; everything else is made of it when asked for. */
typedef struct desk_second {
    char *bytes; /* NULL: none is held */
    size_t length;
    char trouble[200]; /* why it cannot be read now; "" if it can, or if that was not asked yet */
    shop_project *project;
    bw_plan *plan;
    desk_difference *list; /* against the layout in hand */
    size_t count;
    bool listed;
} desk_second;

struct desk {
    struct desk_journal *journal; /* NULL: none is kept */
    char *file;                   /* NULL: not named yet */
    char *inventory_file;
    shop_inventory *inventory;
    bool is_inventory; /* it holds nothing but tools, and there is no plan */
    double tolerance;  /* mm, of every project that is read; 0: as usual */
    shop_project *project;
    bw_plan *plan;
    shop_project *kept_project; /* during a trial: what it is tried on; else NULL */
    bw_plan *kept_plan;
    char *trial_title;
    char *saved; /* what stands on the disk; NULL: nothing yet */
    size_t saved_length;
    bool over_theirs;  /* what stands on the disk is somebody else's, and this text does not go on from it */
    char *kept_beside; /* where the last save put that, NULL if it had not to */
    desk_step *steps;
    size_t step_count, step_room;
    size_t done; /* steps[0 .. done - 1] can be undone, the others redone */
    desk_suggestion *suggestions;
    size_t suggestion_count;
    size_t suggested_band;
    int suggested_knobs; /* bw_knob that is looked at next: suggestions are found knob by knob; 0 with none: not begun
                          */
    bw_rank **ranks;     /* one list a band, NULL until asked for */
    size_t *rank_counts;
    size_t rank_bands;
    desk_second second;
    bw_even *even; /* the whole-piece search, NULL until it is begun */
};

/* The maths get their memory from where the shop gets it. */
extern const bw_allocator desk_memory;

void desk_no_memory(shop_problems *problems);
/* Errors, and with notes all the rest, into problems (which may be NULL). */
void desk_pass_on(shop_problems *from, shop_problems *problems, bool notes);
__attribute__((format(printf, 1, 2))) char *desk_say(const char *format, ...);
/* Reads bytes as a project and plans it; false with problems and nothing made. */
bool desk_compute(const desk *d, const char *bytes, size_t length, shop_project **project, bw_plan **plan,
                  shop_problems *problems, bool notes);
/* Makes bytes the desk's text as one undo step. Takes title. */
bool desk_change(desk *d, const char *bytes, size_t length, char *title, shop_problems *problems);
/* The same of what is computed already; takes project and plan, too. */
bool desk_change_to(desk *d, shop_project *project, bw_plan *plan, char *title, shop_problems *problems);
/* The same, and a step also if no byte changes. */
bool desk_step_add(desk *d, const char *bytes, size_t length, char *title, shop_problems *problems);
/* What lies between the common beginning and the common end of two texts; title stays. False without memory: then
 * desk_step_free. */
bool desk_step_make(desk_step *step, const char *old, size_t old_length, const char *new, size_t new_length);
/* The same stretch exchanged the other way; it owns nothing. */
desk_step desk_step_back(const desk_step *step);
/* The text after a step, malloc'ed; NULL without memory. */
char *desk_spliced(const char *text, size_t length, const desk_step *step, size_t *made_length);
/* The text after edits (all or none); fills their old texts. *bytes is malloc'ed. */
bool desk_apply(const desk *d, shop_edit *edits, size_t count, char **bytes, size_t *length, shop_problems *problems);
/* "weave width". malloc'ed, NULL without memory. */
char *desk_what(const desk *d, const char *path);
/* "weave width 21 mm -> 21.25 mm". malloc'ed, NULL without memory. */
char *desk_title(const desk *d, const char *path, const char *old_text, const char *new_text);
/* The folder in which a file is to be, with those above it. */
shop_status desk_make_folder(const char *file, shop_problems *problems);
/* Makes what was read and planned the desk's. */
void desk_put_in_place(desk *d, shop_project *project, bw_plan *plan);
/* suggest.c: a change of the maths as edits, which the caller releases, and in words: "weave width 18 mm -> 18.25 mm"
 * (malloc'ed). Of d->project, which must not be a trial's. */
desk_edits desk_change_edits(const desk *d, const bw_change *change);
char *desk_change_words(const desk *d, const bw_change *change, const desk_edits *list);

/* Forgets what was computed from the layout that is gone. */
void desk_forget(desk *d);
void desk_step_free(desk_step *step);
void desk_cut_name(char *name, int most); /* after at most this many characters */
void desk_refuse(shop_problems *problems, const char *why);

/* Their bytes under a name of their own, malloc'ed; NULL with status and problems. */
char *desk_keep_theirs(const desk *d, shop_status *status, shop_problems *problems);

/* round_read.c: an item of a band's `struck` (from 0), or what it says of a key; malloc'ed, NULL if it does not. */
char *desk_round_item(const desk *d, size_t band, size_t item, const char *key);

/* second.c */
void desk_second_swap(desk *d, desk_step *step); /* at undo and redo */
void desk_second_forget(desk *d);                /* what was compared with a layout that is gone */
void desk_second_anew(desk *d);                  /* its file's name or its tools have changed */
void desk_second_free(desk *d);

/* What the journal is told. It never makes a change fail: what cannot be written is desk_journal_trouble. */
typedef enum desk_record {
    DESK_RECORD_EDIT,
    DESK_RECORD_UNDO,
    DESK_RECORD_REDO,
    DESK_RECORD_HOLD, /* from now on this layout is held */
    DESK_RECORD_HELD, /* likewise (or none is), by the change before */
    DESK_RECORD_FLIP  /* likewise, by a flip */
} desk_record;
void desk_journal_note(desk *d, desk_record kind, const desk_step *step, const shop_text *from, const shop_text *to);
/* The held layout is another one by hand, or (step not NULL) by a step made, undone or redone. */
void desk_journal_note_second(desk *d, const desk_step *step);
/* Everything is saved: the journal is needed for nothing but a held layout any more. */
void desk_journal_saved(desk *d);
void desk_journal_drop(desk *d);
void desk_journal_close(desk *d);

#endif
