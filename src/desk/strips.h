/* desk/strips.h - a test strip as a maker gives it: into figures, and into a tool of the file. */
#ifndef DESK_STRIPS_H
#define DESK_STRIPS_H

#include "desk/desk.h"

/* What may be said of a strip; all but DESK_STRIP_TIPS are keys of the file. */
typedef enum desk_strip_key {
    DESK_STRIP_IMPRESSIONS,
    DESK_STRIP_LENGTH,
    DESK_STRIP_TIPS, /* over all, from tip to tip: one face is taken off, and it becomes the length */
    DESK_STRIP_STRUCK,
    DESK_STRIP_AIMED,
    DESK_STRIP_PLACES,
    DESK_STRIP_LEATHER,
    DESK_STRIP_DATE,
    DESK_STRIP_KEYS
} desk_strip_key;

extern const char *const desk_strip_words[DESK_STRIP_KEYS + 1]; /* NULL-terminated */

/* Texts as typed, in the unit of the tool's file; NULL or "" = not said. */
typedef struct desk_strip {
    const char *text[DESK_STRIP_KEYS];
} desk_strip;

/* The strip as figures; false with the reason and *wrong. With places, *places is what strip->places points to, to be
 * freed; else NULL. */
bool desk_strip_read(const desk_strip *typed, const bw_tool *tool, shop_unit unit, bw_strip *strip, double **places,
                     char why[200], desk_strip_key *wrong);

/* The edit that adds it to the tool of this id, which stands in the file itself; typed must be readable. title: what is
 * done, in words. False without memory, or if there is no such tool. The caller frees it with shop_edit_free. */
bool desk_strip_edit(const desk *d, const char *id, const desk_strip *typed, shop_edit *edit, char title[160]);

/* A tool that only the inventory has is copied into the layout first: the edits of both, in order. *count is 1 or 2;
 * each is to be freed. */
bool desk_strip_edits(const desk *d, int tool, const desk_strip *typed, shop_edit edits[2], size_t *count,
                      char title[160]);

/* The edit that takes one of the strips and rounds (as bw_tool.strips has them, from 0) out of a tool that stands in
 * the file itself; with the last one its list goes. *was: what it said, malloc'ed. False without memory. */
bool desk_strip_out(const desk *d, int tool, size_t strip, shop_edit *edit, char **was, char title[160]);

/* No digits that nobody measured: mm to so many parts of a file's unit. */
double desk_cut_digits(double mm, shop_unit unit, double parts);

/* Rounds that are logged as one change. */
typedef struct desk_logs {
    desk_edits list;
    size_t more; /* rounds that it adds to the tool */
} desk_logs;

/* Adds the edits that log the n-th round (from 0) of a band's `struck` into `rounds` of its tool: the impressions
 * struck and what they took, which is the run less what was left, mm. What was logged of the same round before makes
 * place. The layout's own copy of the tool gets it. False with the reason if it says too little: 2 impressions at
 * least, and what was left as it was measured. The caller releases the list also then. */
bool desk_log_round(const desk *d, size_t band, size_t round, desk_logs *logs, double *took, shop_problems *problems);

#endif
