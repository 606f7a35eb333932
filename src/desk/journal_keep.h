/* desk/journal_keep.h - a journal being kept, and one that was left; no other room includes it. */
#ifndef DESK_JOURNAL_KEEP_H
#define DESK_JOURNAL_KEEP_H

#include "desk/journal.h"
#include "desk/journal_format.h"

typedef struct desk_journal {
    char *folder;       /* where it should lie; NULL: beside the file */
    char *name;         /* NULL: there is none now */
    int descriptor;     /* locked as long as it is open */
    size_t good;        /* bytes of whole lines */
    bool gap;           /* a line is missing after them: the next one goes into another file */
    bool stays;         /* also when the layout is closed */
    bool unlisted;      /* its name is not on the disk yet */
    bool dirty;         /* something is not on the disk yet, */
    double dirty_since; /* since this time in ms */
    char trouble[160];
} desk_journal;

struct desk_left {
    char *name;
    int descriptor; /* locked */
    size_t good;    /* bytes of whole lines */
    bool damaged;
    journal_head head;
    journal_record *records; /* every line */
    size_t count;
    size_t *order; /* records that are steps after all of them: order[0 .. done - 1] can be undone, the others redone */
    size_t step_count, done;
    char *text; /* after all of them */
    size_t length;
    char *held; /* the layout held beside it then; NULL: none */
    size_t held_length;
    size_t last; /* the record whose step the last line made, undid or redid; SIZE_MAX: none */
};

/* A journal that holds what led to the text as it is, as one change, in the place of the one there was. */
void desk_journal_renew(desk *d);

/* Reads the bytes of a journal into an empty one (all zero); false if it is none. journal_forget in both cases. */
bool journal_understand(desk_left *left, const char *bytes, size_t length);
void journal_forget(desk_left *left);

/* The folder of a file ("." if its name has none); the full name of a file that need not be there. malloc'ed. */
char *journal_folder_of(const char *file);
char *journal_full_name(const char *file);
char *journal_name_anyway(const char *file); /* also where its folder is gone, or not made yet */

#endif
