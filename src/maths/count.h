/* maths/count.h - counting on one run; for spread.c. */
#ifndef MATHS_COUNT_H
#define MATHS_COUNT_H

#include "maths/spread.h"

/* Length that the steps share: G on a closed run, G - F on an open one. */
double maths_steps_length(const maths_task *task);
int maths_steps_of(const maths_task *task, int count);
double maths_step_of(const maths_task *task, int count); /* the even step; 0 if there is none */
double maths_off_usual(double step, double usual);       /* |ln(step / usual)| */
/* Multiple of m whose step is nearest to the usual by ratio; a tie takes the smaller. */
int maths_nearest_count(const maths_task *task);
/* Least and greatest multiple for which reach and crowd hold with even steps; 0, 0 = none. */
void maths_feasible(const maths_task *task, int *least, int *most);

#endif
