/* bandwright/blank.h - the leather that a piece takes. */
#ifndef BANDWRIGHT_BLANK_H
#define BANDWRIGHT_BLANK_H

#include "plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Sizes as they are laid out, before the leather grows under the hammer. */
typedef struct bw_blank {
    bw_box box;           /* mm, around the piece */
    double length, width; /* mm along x and y, of the blank to cut: the box and the trimming allowance all round */
    double area;          /* mm^2, of the piece; 0 of an open edge, whose leather has no other side */
    double grown_length, grown_width; /* mm, of the piece when it is finished: the box times 1 + growth */
} bw_blank;

bw_blank bw_blank_of(const bw_layout *layout, const bw_plan *plan);

#ifdef __cplusplus
}
#endif
#endif
