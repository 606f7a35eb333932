/* bandwright/marks.h - dividing a round: chords and check marks. */
#ifndef BANDWRIGHT_MARKS_H
#define BANDWRIGHT_MARKS_H

#include "plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Straight divider setting that spans `steps` of `count` equal steps on a circle: 2 R sin(pi steps / count). Table of
 * chords, Machinery's Handbook. */
double bw_chord(double diameter, int steps, int count);

/* Check mark i (0 .. marks - 1) of a closed round: after how many impressions it falls, round(i count / marks). */
int bw_mark_at(int count, int marks, int i);

#ifdef __cplusplus
}
#endif
#endif
