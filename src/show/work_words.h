/* show/work_words.h - the order of work, from the blank to the finish, and the cautions: the same on every page. */
#ifndef SHOW_WORK_WORDS_H
#define SHOW_WORK_WORDS_H

#include "show/inner.h"

typedef struct work_step {
    show_words brief; /* "Case the leather" */
    show_words more;  /* ": wet it, let it come back ...": goes on where the brief words end */
    bool anew;        /* `more` is the full sentence by itself */
} work_step;

enum { WORK_STEPS = 12 };

/* Only the steps that this piece needs. marks: check marks were given. Returns how many. */
size_t work_steps(const shop_project *project, const bw_plan *plan, bool marks, work_step list[WORK_STEPS]);

/* Does it hold a line that is done this way, or one that is beveled, too? */
bool work_has_line(const bw_plan *plan, bw_do what, bool beveled);

#define CAUTIONS_HEAD "CAUTIONS; where a trade or workplace rule applies, it stands above this page"
extern const char *const work_cautions[]; /* sentences, NULL behind the last */

#endif
