/* alike.h - two whole plans held against each other. */
#ifndef TESTS_MATHS_ALIKE_H
#define TESTS_MATHS_ALIKE_H

#include "bandwright/bandwright.h"

typedef struct alike_within {
    double length; /* mm, of what is as long as the edge; of steps a hundredth of it is asked */
    double share;  /* margins, overlaps */
    bool radius;   /* least radii too, as shares of themselves */
    double corner; /* radians: so much more or less a step may turn; asked beside `share` of steps at weave lines */
} alike_within;

/* Fails the test, naming `what`, where counts, rows, verdicts, warnings or figures differ. */
void alike_plans(const char *what, const bw_plan *one, const bw_plan *other, alike_within within);

/* Are these impressions the mirror image of those: every one on the image of another, within `within` mm, and,
 * with `turned`, turned likewise (a mirrored face is walked the other way)? The mirror is the line through `at` in this
 * direction. */
void alike_mirrored(const char *what, const bw_placing *one, const bw_placing *other, size_t count, bw_point at,
                    double heading, double within, bool turned);

#endif
