/* round_left.c - how the part in hand goes on, what is left of it by that, and what a measure is compared with. */
#include <math.h>
#include <stdlib.h>

#include "desk/inner.h"
#include "desk/round.h"

bw_measure desk_round_measure(const desk_round *round, size_t band, size_t run, int struck, double left) {
    bw_measure out = {.band = band, .run = run, .struck = struck, .left = left};
    const desk_part *part = round != NULL && run < round->runs ? &round->parts[run] : NULL;
    if (part == NULL || !part->begun) {
        return out;
    }
    if (part->changed) {
        out.aimed = isnan(part->went) ? 0 : part->went;
    } else if (part->from > 0 &&
               part->from < struck) { /* measured once more after the same strike: it counts no more */
        out.told_at = part->from;
        out.told_left = part->left;
        out.told_count = part->count;
    }
    return out;
}

double desk_round_left(const desk_round *round, const bw_plan *plan) {
    const desk_part *part = &round->parts[round->at];
    if (part->row != 0) {
        return NAN;
    }
    double longest = bw_rest_longest(plan, round->band, part->index), gone = 0;
    int n = part->struck > 1 ? part->struck : 1;
    if (part->changed && !isnan(part->went)) {
        gone = (n - 1) * part->went;
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
    bw_measure measure = {.band = round->band, .run = part->index, .struck = part->from, .left = part->left};
    if (part->from == 0) {
        measure.struck = 1;
        measure.left = bw_rest_planned(plan, round->band, part->index, 1);
    }
    measure.count = part->count;
    bw_rest_create(plan, &measure, &desk_memory, &rest);
    return rest;
}
