/* desk/desk.h - one open layout: its text, the edits made to it, and the plan, always fresh.
 *
 * Every change goes text -> values -> plan in one full recompute. Undo without limit, also past a save.
 */
#ifndef DESK_DESK_H
#define DESK_DESK_H

#include "bandwright/even.h"
#include "shop/shop.h"

typedef struct desk desk;

/* Opens a file, or with bytes not NULL a new layout that will be saved to file (may be NULL: not named yet).
 * inventory_file NULL: the usual place, which need not exist; "": none. NULL with problems if the layout cannot be
 * read. */
desk *desk_open(const char *file, const char *inventory_file, shop_problems *problems, shop_status *status);
desk *desk_new(const char *file, const char *bytes, size_t length, const char *inventory_file, shop_problems *problems,
               shop_status *status);
void desk_close(desk *d);

const shop_project *desk_project(const desk *d);
const bw_plan *desk_plan(const desk *d);
const shop_project *desk_kept(const desk *d);        /* during a trial: the layout without it; else desk_project */
const bw_plan *desk_kept_plan(const desk *d);        /* likewise; else desk_plan */
const shop_inventory *desk_inventory(const desk *d); /* NULL if there is none */
const char *desk_file(const desk *d);                /* NULL if not named yet */
const char *desk_bytes(const desk *d, size_t *length);
bool desk_unsaved(const desk *d);
/* By how much (mm, above 0) a round may miss its end and still close: project->tolerance of this layout and of all that
 * are made of it, as long as the desk is open. No edit: it stands in no file. */
void desk_set_tolerance(desk *d, double mm);

/* One undo step made of one or more edits; all or none. new_text NULL takes the value out. False with a problem (why
 * not, what is allowed) and nothing changed. */
bool desk_edit(desk *d, const char *path, const char *new_text, shop_problems *problems);
bool desk_edit_many(desk *d, const shop_edit *edits, size_t count, const char *title, shop_problems *problems);
/* The same for bands that get tools: the step also copies into the project what its bands then have from the inventory
 * only, so that the piece keeps the sizes it was struck with, at another bench, too. */
bool desk_edit_carrying(desk *d, const shop_edit *edits, size_t count, const char *title, shop_problems *problems);
/* False if there is nothing to undo or redo, or if the layout of then used a tool that the inventory has lost since.
 * *title: what was changed, in words ("width 18 mm -> 17.75 mm"), valid until the next call. */
bool desk_undo(desk *d, const char **title);
bool desk_redo(desk *d, const char **title);
/* The last step that could be undone, in words; NULL if none. */
const char *desk_last(const desk *d);
/* The same of redo. */
const char *desk_next(const desk *d);

/* Does the file hold something else than what was read or saved last? */
bool desk_changed_outside(const desk *d);
/* Refuses if it does: nothing that somebody else wrote is written over. desk_save_as may still do it,
 * with overwrite. */
shop_status desk_save(desk *d, shop_problems *problems);
shop_status desk_save_as(desk *d, const char *file, bool overwrite, shop_problems *problems);
/* Where the last save put what somebody else had written there, since it was not taken over; NULL if it was, or if
 * there was nothing. */
const char *desk_kept_beside(const desk *d);
bool desk_reload(desk *d, shop_problems *problems); /* from disk; an undo step */

/* Path of a band's value by index: "bands.weave.width"; malloc'ed. */
char *desk_band_path(const desk *d, size_t band, const char *key);

/* Whole bands. */
bool desk_band_add(desk *d, size_t at, const char *flow_text, shop_problems *problems);
bool desk_band_copy(desk *d, size_t band, shop_problems *problems);
bool desk_band_move(desk *d, size_t band, int by, shop_problems *problems); /* towards the edge < 0 */
bool desk_band_remove(desk *d, size_t band, shop_problems *problems);

/* Chooses tools[tool] of desk_project for a band; copies it into the project if it is only in the inventory. */
bool desk_choose_tool(desk *d, size_t band, int tool, shop_problems *problems);

/* ---- the shop's inventory ----
 *
 * An inventory that is open is a desk, too: its project has nothing but tools, desk_plan is NULL, and it is edited,
 * undone and saved like a layout. */

/* file NULL: the usual place. A file that does not exist is made, its folder too, by the first save; until something is
 * put into it, it does not count as unsaved. */
desk *desk_open_inventory(const char *file, shop_problems *problems, shop_status *status);
bool desk_is_inventory(const desk *d);
/* The layout reads its tools from the inventory as that stands now, saved or not. False with the reason, and nothing
 * changed, if it could not be read then: a tool that it uses and has no copy of is gone, say. */
bool desk_use_inventory(desk *d, const desk *inventory, shop_problems *problems);

/* A tool of this id among those that stand in the text itself; -1 if there is none. */
int desk_tool_find(const desk *d, const char *id);
/* The edits of one undo step, in words in `title`; the caller releases the list also when it failed. */
typedef struct desk_edits {
    shop_edit *edits;
    size_t count;
    bool failed; /* memory ran out */
} desk_edits;
void desk_edits_release(desk_edits *list);
/* tools[tool] again, behind itself, under a fresh id that no tool of `other` (may be NULL) has either. */
bool desk_tool_copy(const desk *d, size_t tool, const desk *other, desk_edits *list, char id[BW_NAME_MOST * 4 + 1]);
/* What makes `to` say of the tool of this id what `from` says: a key each that differs, or the whole tool where it has
 * none. `retired` stays as it is, and so do strips and rounds that only `to` has: from's are added. No edits: they say
 * the same, but for such strips. */
bool desk_tool_give(const desk *from, const desk *to, const char *id, desk_edits *list);
/* Do two texts, each in the bare unit of its file, say the same value? NULL: it is not given. */
bool desk_same_value(const shop_field *field, const char *a, shop_unit a_unit, const char *b, shop_unit b_unit);

/* Suggestions: the moves of the maths as lists of edits. Computed when asked for, kept until the layout changes, or
 * another band is asked for. */
typedef struct desk_suggestion {
    bw_move move;
    shop_edit *edits;
    size_t edit_count;
    char *words; /* "weave guide 10.5 mm -> 10.75 mm: it works, gap then +0.12 mm" */
} desk_suggestion;

/* All of one band; NULL if there are none. During a trial those of the layout without it. */
const desk_suggestion *desk_suggestions(desk *d, size_t band, size_t *count);
/* In parts, for a hand that does not wait: those found so far, and a look for more. desk_suggest_more: true as long as
 * there is more to look at; a list from before is no longer valid. */
const desk_suggestion *desk_suggested(desk *d, size_t band, size_t *count);
bool desk_suggest_more(desk *d, size_t band);
bool desk_suggested_all(const desk *d, size_t band);
/* The band's warnings that no suggestion makes go: bits 1u << bw_warning_kind. Of all when desk_suggested_all. */
unsigned desk_warnings_left(desk *d, size_t band);
bool desk_take(desk *d, const desk_suggestion *suggestion, shop_problems *problems);

/* A value's text as a maker reads it: bare lengths with their unit. malloc'ed, NULL without memory. */
char *desk_value_words(const shop_field *field, shop_unit unit, const char *text);

/* Sizes that close: the search over the whole piece, of the layout without a trial; kept until that changes. False with
 * a problem if the wish cannot be. */
void desk_even_wish(const desk *d, bw_even_wish *wish); /* the usual one, in round figures of the file's unit */
bool desk_even_begin(desk *d, const bw_even_wish *wish, shop_problems *problems);
bool desk_even_begun(const desk *d);
void desk_even_drop(desk *d); /* to begin with another wish */
/* Goes on for about so many planned bands; true as long as there is more to look at. Answers from before are no longer
 * valid. */
bool desk_even_more(desk *d, size_t trials);
bw_even_found desk_even_found(const desk *d); /* nothing, and done, if it was not begun */
/* An answer (by its place in the list) as edits, which the caller releases also when it failed; in words, all of it or
 * one of its changes (malloc'ed, NULL without memory); as a trial. */
bool desk_even_edits(desk *d, size_t answer, desk_edits *list);
char *desk_even_words(desk *d, size_t answer);
char *desk_even_change_words(desk *d, const bw_even_answer *answer, size_t change);
bool desk_even_try(desk *d, size_t answer, shop_problems *problems);

/* A trial: everything shows the layout as it would be (desk_project, desk_plan, desk_bytes), and it is kept as one undo
 * step or left. One trial at a time: a new one replaces it, and every edit, undo or save leaves it first. */
bool desk_try(desk *d, const shop_edit *edits, size_t count, const char *title, shop_problems *problems);
bool desk_try_tool(desk *d, size_t band, int tool, shop_problems *problems); /* index of the layout without the trial */
bool desk_try_take(desk *d, const desk_suggestion *suggestion, shop_problems *problems);
bool desk_trying(const desk *d);
bool desk_try_keep(desk *d, shop_problems *problems);
void desk_try_leave(desk *d);

/* A second layout beside the one in hand: held while this one is changed. Holding changes nothing here; flipping,
 * keeping and dropping are one undo step each. */
bool desk_holding(const desk *d);
bool desk_hold(desk *d, shop_problems *problems);      /* the layout as it is now; false if one is held */
bool desk_flip(desk *d, shop_problems *problems);      /* the other in hand, this one held; at once again: undone */
bool desk_keep_held(desk *d, shop_problems *problems); /* the held one in hand, this one given up */
bool desk_drop_held(desk *d, shop_problems *problems); /* the held one given up */
const shop_project *desk_held_project(desk *d);        /* NULL if none is held or without memory */
const bw_plan *desk_held_plan(desk *d);                /* likewise */
/* Why the held one cannot be used as things are (a tool of the inventory's is gone, say); NULL if it can. */
const char *desk_held_trouble(desk *d);

/* What the held layout says otherwise, as edits that would lead there: path, text in hand, text held. */
typedef struct desk_difference {
    shop_edit edit;
    char *label; /* "weave width" */
    char *here;  /* as a maker reads it: "18 mm" */
    char *held;
} desk_difference;

/* Valid until the layout in hand or the held one changes; NULL if nothing differs. */
const desk_difference *desk_differences(desk *d, size_t *count);

/* The stamps that suit a band, best first; valid until the layout changes. During a trial: of the layout without it. */
const bw_rank *desk_ranks(desk *d, size_t band, size_t *count);

#endif
