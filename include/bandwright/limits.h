/* bandwright/limits.h - the range of every value that a layout may hold (mm, shares as fractions, radians). */
#ifndef BANDWRIGHT_LIMITS_H
#define BANDWRIGHT_LIMITS_H

#include "base.h"

#define BW_OUTLINE_LEAST 1.0
#define BW_OUTLINE_MOST 5000.0
#define BW_AROUND_MOST (BW_PI * BW_OUTLINE_MOST) /* circumference of the largest circle */
#define BW_CORNER_LEAST 0.0
#define BW_LINE_MOST 100000.0
#define BW_CORNERS_LEAST 3
#define BW_CORNERS_MOST 10000
#define BW_ARCS_MOST 500000    /* of a drawn path: its curves are fitted with arcs */
#define BW_SCALE_LEAST 0.0     /* mm per SVG unit: above this */
#define BW_PLACE_MOST 100000.0 /* mm: x and y of a corner lie between minus this and this */
#define BW_SWEEP_MOST (2.0 * BW_PI)
#define BW_WEIGHT_LEAST 0.2
#define BW_WEIGHT_MOST 20.0
#define BW_TRIM_MOST 100.0
#define BW_GROWTH_MOST 0.20
#define BW_BAND_MOST 1000.0 /* space and width */
#define BW_BANDS_MOST 200
#define BW_TOOLS_MOST 10000
#define BW_GROUP_MOST 100
#define BW_COUNT_MOST 100000
#define BW_BASKET_LEAST 2.0
#define BW_BASKET_MOST 40.0
#define BW_BORDER_LEAST 0.5
#define BW_BORDER_MOST 60.0
#define BW_PITCH_LEAST 0.5
#define BW_PITCH_MOST 40.0
#define BW_GIVE_LEAST 0.005
#define BW_GIVE_MOST 0.30
#define BW_GIVE_BORDER 0.05 /* default */
#define BW_GIVE_IRON 0.08   /* default */
#define BW_TEETH_MOST 50
#define BW_BLOWS_MOST 100
#define BW_BLOWS 3         /* default */
#define BW_STEP_LEAST 0.01 /* mm, a measured step, and a step aimed at */
#define BW_STEP_MOST 1000.0
#define BW_STRIP_LEAST 2        /* impressions: a strip has a step at least */
#define BW_STRIPS_MOST 10000    /* strips, or rounds, of one tool; rounds of one band */
#define BW_TOLERANCE_LEAST 0.01 /* mm by which a round may miss its end: less shows as nothing */
#define BW_TOLERANCE_MOST 20.0
#define BW_ROWS_MOST 10000 /* rows on one side of a guide */
#define BW_NAME_MOST 40    /* characters of a band's name or a tool's id */

#endif
