/* Whether two copies of a tool say the same: what counts in a plan or an estimate. */
#include <math.h>

#include "bandwright/hand.h"
#include "shop/load.h"

static bool same(double a, double b) {
    return (isnan(a) && isnan(b)) || fabs(a - b) <= BW_EPS;
}

/* A step as it stands in the file: what strips tell is theirs. */
static double given(const bw_tool *tool, bw_how how, double step) {
    return (tool->from_strips & 1u << how) != 0 ? (double)NAN : step;
}

static bool same_step(const bw_tool *a, double a_step, const bw_tool *b, double b_step, bw_how how) {
    return same(given(a, how, a_step), given(b, how, b_step));
}

bool shop_same_sizes(const bw_tool *a, const bw_tool *b) {
    if (a->kind != b->kind || a->blows != b->blows)
        return false;
    if (a->kind == BW_DIVIDERS)
        return same(a->least, b->least) && same(a->most, b->most) && same(a->grid, b->grid);
    return a->teeth == b->teeth && same(a->length, b->length) && same(a->width, b->width) && same(a->bar, b->bar) &&
           same(a->rail, b->rail) && same(a->overlap, b->overlap) && same(a->pitch, b->pitch) &&
           same(a->give, b->give) && same_step(a, a->closest, b, b->closest, BW_STRUCK_CLOSEST) &&
           same_step(a, a->usual, b, b->usual, BW_STRUCK_USUAL) &&
           same_step(a, a->widest, b, b->widest, BW_STRUCK_WIDEST);
}

bool shop_same_strip(const bw_strip *a, const bw_strip *b) {
    bool fine = a->round == b->round && a->struck == b->struck && same(a->aimed, b->aimed) &&
                a->place_count == b->place_count && (a->places == NULL) == (b->places == NULL);
    if (fine && a->places == NULL)
        return a->impressions == b->impressions && same(a->length, b->length);
    for (size_t i = 0; fine && i < a->place_count; i++)
        fine = same(a->places[i], b->places[i]);
    return fine;
}

static size_t times(const bw_strip *one, const bw_tool *tool) {
    size_t count = 0;
    for (size_t i = 0; i < tool->strip_count; i++)
        count += shop_same_strip(one, &tool->strips[i]);
    return count;
}

bool shop_same_strips(const bw_tool *a, const bw_tool *b) {
    size_t i = 0;
    if (a->strip_count != b->strip_count)
        return false;
    while (i < a->strip_count && shop_same_strip(&a->strips[i], &b->strips[i]))
        i++;
    for (; i < a->strip_count; i++) /* the same, but in another order? */
        if (times(&a->strips[i], a) != times(&a->strips[i], b))
            return false;
    return true;
}
