/* even_knobs.c: which values the search may move and how far, and the outline's sizes in the order in which they are
 * tried. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/limits.h"
#include "maths/even.h"
#include "maths/knobs.h"

enum { EDGES_MOST = 60000 }; /* combinations of sizes: more are not listed, and that is said */

static const bw_knob edge_knobs[EVEN_OF_EDGE] = {BW_KNOB_DIAMETER, BW_KNOB_LENGTH, BW_KNOB_WIDTH, BW_KNOB_RADIUS,
                                                 BW_KNOB_CORNER};
static const bw_knob band_knobs[EVEN_OF_BAND] = {BW_KNOB_SPACE, BW_KNOB_BAND_WIDTH, BW_KNOB_GUIDE};

bw_knob even_edge_knob(size_t index) {
    return edge_knobs[index];
}

bw_knob even_band_knob(size_t index) {
    return band_knobs[index];
}

uint64_t even_bits_of(bw_knob knob, size_t band) {
    /* the finisher of a 64-bit generator: Steele, Lea, Flood, Fast splittable pseudorandom number generators, 2014 */
    uint64_t z = ((uint64_t)band * BW_KNOB_COUNT_OF_KNOBS + (uint64_t)knob + 1) * 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

/* May it move, and between which values? */
static bool movable(const bw_even *s, bw_knob knob, size_t band, double now, double *least, double *most) {
    const bw_even_wish *wish = &s->wish;
    bool wished = wish->knobs == NULL;
    if (isnan(now) || maths_knob_fixed(&s->layout, knob, band))
        return false;
    *least = now - wish->within;
    *most = now + wish->within;
    for (size_t i = 0; i < wish->knob_count && wish->knobs != NULL; i++) {
        const bw_even_knob *k = &wish->knobs[i];
        if (k->knob != knob || (knob >= BW_KNOB_SPACE && k->band != band))
            continue;
        wished = true;
        *least = isnan(k->least) ? *least : k->least;
        *most = isnan(k->most) ? *most : k->most;
    }
    *least = fmax(*least, 0);
    if (knob == BW_KNOB_CORNER && maths_corners_only_grow(&s->layout.outline))
        *least = now;
    return wished;
}

/* One knob's values in the order of how far they move it; of two as far the smaller first. */
static bool fill_values(bw_even *s, even_values *v, bw_knob knob, size_t band) {
    double least, most, now = bw_knob_value(&s->layout, knob, band), grid = s->layout.grid;
    v->now = now;
    if (!movable(s, knob, band, now, &least, &most))
        return true;
    size_t room = (size_t)(fmax(most - now, 0) / grid + fmax(now - least, 0) / grid) + 4;
    v->value = maths_take(&s->arena, room, sizeof *v->value);
    v->size = maths_take(&s->arena, room, sizeof *v->size);
    if (v->value == NULL || v->size == NULL)
        return false;
    int below = 1, above = 1;
    while (maths_grid_value(now, grid, 1, above) < least - BW_EPS)
        above++;
    while (maths_grid_value(now, grid, -1, below) > most + BW_EPS)
        below++;
    while (v->count < room) {
        double down = maths_grid_value(now, grid, -1, below), up = maths_grid_value(now, grid, 1, above);
        bool can_down = down >= least - BW_EPS && down >= 0, can_up = up <= most + BW_EPS;
        if (!can_down && !can_up)
            break;
        bool down_first = can_down && (!can_up || now - down <= up - now + BW_EPS);
        v->value[v->count] = down_first ? down : up;
        v->size[v->count++] = down_first ? now - down : up - now;
        *(down_first ? &below : &above) += 1;
    }
    v->there = v->count > 0;
    return true;
}

bool even_knobs_make(bw_even *s) {
    size_t bands = s->layout.band_count;
    s->values = maths_take(&s->arena, bands * EVEN_OF_BAND, sizeof *s->values);
    s->knobs_from = maths_take(&s->arena, bands + 1, sizeof *s->knobs_from);
    if (s->values == NULL || s->knobs_from == NULL)
        return false;
    for (size_t i = 0; i < EVEN_OF_EDGE; i++) {
        if (!fill_values(s, &s->of_edge[i], edge_knobs[i], 0))
            return false;
        s->edge_knobs += s->of_edge[i].there;
    }
    for (size_t band = bands; band-- > 0;) {
        s->knobs_from[band] = s->knobs_from[band + 1];
        for (size_t i = 0; i < EVEN_OF_BAND; i++) {
            even_values *v = &s->values[band * EVEN_OF_BAND + i];
            if (!fill_values(s, v, band_knobs[i], band))
                return false;
            s->knobs_from[band] += v->there;
        }
    }
    s->knob_count = s->edge_knobs + s->knobs_from[0];
    return true;
}

/* ---- sizes of the outline ---- */

static int by_total(const void *left, const void *right) {
    const even_edge *a = left, *b = right;
    if (fabs(a->total - b->total) > BW_EPS)
        return a->total < b->total ? -1 : 1;
    if (a->changes != b->changes)
        return a->changes < b->changes ? -1 : 1;
    return memcmp(a->value, b->value, sizeof a->value);
}

/* How many combinations change exactly so many sizes. */
static double combinations(const bw_even *s, size_t changes) {
    double ways[EVEN_OF_EDGE + 1] = {1};
    for (size_t i = 0; i < EVEN_OF_EDGE; i++)
        for (size_t k = EVEN_OF_EDGE; k > 0; k--)
            ways[k] += ways[k - 1] * (double)s->of_edge[i].count;
    return ways[changes];
}

/* All that change up to s->edge_changes sizes, from knob `index` on. */
static void list_edges(bw_even *s, size_t index, even_edge edge) {
    if (index == EVEN_OF_EDGE) {
        s->edges[s->edge_count++] = edge;
        return;
    }
    list_edges(s, index + 1, edge);
    const even_values *v = &s->of_edge[index];
    double total = edge.total;
    if (edge.changes++ == s->edge_changes)
        return;
    for (size_t i = 0; i < v->count; i++) {
        edge.value[index] = (uint16_t)(i + 1);
        edge.total = total + v->size[i];
        list_edges(s, index + 1, edge);
    }
}

bool even_edges_make(bw_even *s) {
    double all = 1;
    for (size_t k = 1; k <= s->edge_knobs && all + combinations(s, k) <= EDGES_MOST; k++) {
        all += combinations(s, k);
        s->edge_changes = k;
    }
    s->edges = maths_take(&s->arena, (size_t)all, sizeof *s->edges);
    if (s->edges == NULL)
        return false;
    list_edges(s, 0, (even_edge){.total = 0});
    qsort(s->edges, s->edge_count, sizeof *s->edges, by_total);
    return true;
}

bw_layout even_layout(bw_even *s, const even_edge *edge) {
    bw_layout layout = s->layout;
    for (size_t i = 0; i < EVEN_OF_EDGE; i++)
        if (edge->value[i] > 0)
            bw_change_apply(&(bw_change){.knob = edge_knobs[i], .value = s->of_edge[i].value[edge->value[i] - 1]},
                            &layout, s->scratch, s->corners);
    return layout;
}
