/* round_left.c - how the part in hand goes on, and what is left of it by that. */
#include <math.h>
#include <stdlib.h>

#include "desk/inner.h"
#include "desk/round.h"

double desk_round_left(const desk_round *round, const bw_plan *plan) {
    const desk_part *part = &round->parts[round->at];
    if (part->row != 0) {
        return NAN;
    }
    double longest = bw_rest_longest(plan, round->band, part->index), gone = 0;
    int n = part->struck > 1 ? part->struck : 1;
    if (part->changed && !isnan(part->aimed)) {
        gone = (n - 1) * part->aimed;
        return gone < longest ? longest - gone : NAN;
    }
    bw_rest *way = desk_round_way(round, plan);
    double left = NAN;
    int steps = way != NULL ? way->counts[0].steps : 0, from = way != NULL ? way->struck : 0;
    double *places = way != NULL ? calloc((size_t)steps + 1, sizeof *places) : NULL;
    if (places != NULL && n - from <= steps) {
        bw_rest_places(plan, way, 0, places);
        left = places[steps] - places[n - from];
    }
    free(places);
    bw_rest_destroy(way);
    return left;
}

bw_rest *desk_round_way(const desk_round *round, const bw_plan *plan) {
    const desk_part *part = &round->parts[round->at];
    bw_rest *rest = NULL;
    if (part->row != 0 || part->changed || part->of == 0) {
        return NULL;
    }
    int from = part->from > 0 ? part->from : 1;
    double left = part->from > 0 ? part->left : bw_rest_planned(plan, round->band, part->index, 1);
    bw_rest_create(plan, round->band, part->index, from, left, part->count, &desk_memory, &rest);
    return rest;
}
