/* show/check_marks.h - what the files of this room share about check marks; show.h says how many there are and where.
 */
#ifndef SHOW_CHECK_MARKS_H
#define SHOW_CHECK_MARKS_H

#include "show/band_words.h"

/* Goes through the runs that are told with run r (band_runs_alike) and lie otherwise than `list`: *at, r to begin with,
 * is moved on to the next. Its list, malloc'ed; NULL behind the last one. */
bw_check_mark *check_marks_next(const at_bench *a, size_t r, const bw_check_mark *list, int marks, size_t *at);

/* That a round is begun for which the marks hold no more, as what was left of it was measured: of run r, or of one told
 * with it; "" where none is. */
const char *check_marks_begun(const at_bench *a, size_t r, show_words *out);

/* What a mark means, once for all pages: "where the middle of the next one lies". */
#define CHECK_MARK_MEANS "where the middle of the next one lies"

#endif
