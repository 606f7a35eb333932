/* desk/journal.h - every change of an open layout, kept on the disk as it is made, and what a program left behind that
 * did not end as it should.
 *
 * A journal is a text of one change a line (its format: bandwright-files(5)). It comes with the first change that is
 * not saved and goes when the layout is saved or closed. The system holds each line as soon as it is written, so that
 * the end of the program loses nothing; desk_journal_sync brings it to the disk, for when the power goes.
 */
#ifndef DESK_JOURNAL_H
#define DESK_JOURNAL_H

#include "desk/desk.h"

/* From now on changes are kept in this folder (made if need be), or beside the file where that cannot be written.
 * folder NULL: beside the file. A piece that has no file yet is kept at once. False without memory. */
bool desk_journal_begin(desk *d, const char *folder);
/* Why changes are not kept, in words; NULL if they are. */
const char *desk_journal_trouble(const desk *d);
/* The journal's own file; NULL while there is none. */
const char *desk_journal_file(const desk *d);
/* Milliseconds until desk_journal_sync should be called, 0 = now, -1 = there is nothing to bring to the disk. */
int desk_journal_wait(const desk *d);
void desk_journal_sync(desk *d);
/* The layout will be closed with what is not saved: its journal stays, also one that had failed is tried again. The
 * journal's file, NULL if everything is saved or nothing could be kept. */
const char *desk_journal_leave(desk *d);

/* ---- left journals ---- */

typedef struct desk_left desk_left;

/* Reads a journal and holds it, so that nobody else takes it. NULL if it is none, if a program that runs has it, or if
 * it holds nothing that its file does not hold; what is of no use any more is removed. */
desk_left *desk_left_open(const char *journal);
void desk_left_close(desk_left *left); /* it stays for next time; NULL is fine */
/* The journals in a folder (NULL: none) and beside file, by name: malloc'ed, as every name in it. file NULL: those of
 * every file that the folder knows. */
char **desk_left_names(const char *folder, const char *file, size_t *count);
/* The first of these that can be opened and is of that file. */
desk_left *desk_left_for(const char *folder, const char *file);

/* Was it written by a newer version of the program, that keeps more in it? Then only that version can offer it. */
bool desk_left_is_newer(const char *journal);
/* The name of such a journal that is called after this file; malloc'ed, NULL if there is none. */
char *desk_left_newer(const char *folder, const char *file);

bool desk_left_is_inventory(const desk_left *left); /* the shop's tools, and no piece */
const char *desk_left_file(const desk_left *left); /* of the layout; NULL: a piece that was never saved */
bool desk_left_is_new(const desk_left *left);      /* it was never on the disk */
char *desk_left_name(const desk_left *left);       /* the file without its folder, else the piece; malloc'ed */
const char *desk_left_base(const desk_left *left, size_t *length); /* the text that it begins from */
/* The changes in words, first to last, without those that were taken back again. */
size_t desk_left_count(const desk_left *left);
const char *desk_left_title(const desk_left *left, size_t index);
bool desk_left_holds(const desk_left *left); /* was another layout held beside it? */
/* Does it begin from another text than the layout's? Then only what fits is taken. */
bool desk_left_differs(const desk_left *left, const desk *d);
/* Is a part of it no text of a journal? (A last line that was cut off does not count.) */
bool desk_left_is_damaged(const desk_left *left);

/* Makes the changes again as steps that can be undone, and takes `left` over. What does not fit comes into problems, a
 * note a change, and *kept (malloc'ed) is then where the whole journal stays; else NULL. False if nothing could be done
 * (memory): all is as before, and `left` is closed. */
bool desk_left_take(desk *d, desk_left *left, shop_problems *problems, char **kept);
void desk_left_drop(desk_left *left); /* removes it for good and takes `left` over */

/* ---- another program's version ---- */

typedef struct desk_clash {
    char *what; /* "weave width" */
    char *mine, *theirs;
} desk_clash;

/* What this layout and the file on the disk say differently, value by value. False with problems if the file cannot be
 * read. */
bool desk_theirs(const desk *d, desk_clash **list, size_t *count, shop_problems *problems);
void desk_clashes_free(desk_clash *list, size_t count);
/* Saves over the file; the other version stays beside it, as *kept (malloc'ed). */
shop_status desk_save_over(desk *d, char **kept, shop_problems *problems);

#endif
