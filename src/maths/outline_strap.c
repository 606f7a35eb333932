/* Straps: two long straights and an end at either side. */
#include <math.h>

#include "maths/outline.h"

double bw_end_takes(const bw_end *end, double width) {
    switch (end->kind) {
    case BW_END_ROUND:
        return width / 2;
    case BW_END_POINT:
        return end->point;
    case BW_END_SQUARE:
        break;
    }
    return 0;
}

/* Round the end at x = tip, on to where the straight on the other side begins. way: +1 the right end, -1 the left. */
static void add_end(maths_chain *chain, const bw_end *end, double tip, double width, double way) {
    bw_point from = {tip - way * bw_end_takes(end, width), way > 0 ? 0 : width};
    bw_point to = {from.x, width - from.y};
    maths_chain_line(chain, from);
    if (end->kind == BW_END_ROUND)
        maths_chain_bend(chain, maths_bend_of(from, way > 0 ? 0 : BW_PI, BW_PI * width / 2, BW_PI));
    else if (end->kind == BW_END_POINT)
        maths_chain_line(chain, (bw_point){tip, width / 2});
    if (end->kind == BW_END_ROUND)
        chain->at = to;
    else
        maths_chain_line(chain, to);
}

bw_status maths_strap(maths_chain *chain, const bw_outline *o, bw_outline_fault *fault) {
    double left = bw_end_takes(&o->start, o->width), right = bw_end_takes(&o->end, o->width);
    if (!(left >= 0 && right >= 0 && left + right <= o->length + BW_EPS)) {
        fault->what = BW_TROUBLE_SIZE;
        return BW_BAD_VALUE;
    }
    bw_point middle = {(left + o->length - right) / 2, 0}; /* where no straight is left, the lowest point */
    maths_chain_init(chain, &chain->allocator, middle);
    add_end(chain, &o->end, o->length, o->width, 1);
    add_end(chain, &o->start, 0, o->width, -1);
    maths_chain_line(chain, middle);
    return BW_OK;
}
