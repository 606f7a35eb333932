/* even_ways.c: from band to band over the distance from the edge. Of the ways that end as far in, with as many changes,
 * only the best of every set of values matters, and of those only as many as answers are wished: whatever follows costs
 * all of them the same. (Dynamic programming: R. Bellman, 1957.) */
#include <math.h>
#include <string.h>

#include "maths/even.h"

enum { WAYS_LEAST = 64, BUCKETS_LEAST = 64, NOBODY = UINT32_MAX };

#define AS_ONE 1e7 /* offsets are the same that agree to 1 / AS_ONE mm */

static int64_t rounded(double offset) {
    return (int64_t)llround(offset * AS_ONE);
}

/* ---- the layer that is being made ---- */

static uint32_t *bucket_of(even_ways *w, const even_way *way) {
    uint64_t hash = ((uint64_t)rounded(way->offset) * 31 + way->changes) * 0x9e3779b97f4a7c15u;
    return &w->buckets[(size_t)(hash >> 32) & (w->bucket_count - 1)];
}

static bool new_buckets(bw_even *s, size_t count) {
    even_ways *w = &s->ways;
    if (count != w->bucket_count) {
        uint32_t *grown = maths_alloc(&s->allocator, count, sizeof *grown);
        if (grown == NULL) {
            s->status = BW_NO_MEMORY;
            return false;
        }
        maths_release(&s->allocator, w->buckets);
        w->buckets = grown;
        w->bucket_count = count;
    }
    for (size_t i = 0; i < count; i++)
        w->buckets[i] = NOBODY;
    for (size_t i = w->end; i < w->count; i++) {
        uint32_t *bucket = bucket_of(w, &w->ways[i]);
        w->ways[i].next = *bucket;
        *bucket = (uint32_t)i;
    }
    return true;
}

static bool room_for_one(bw_even *s) {
    even_ways *w = &s->ways;
    if (w->count == w->room) {
        size_t room = w->room > 0 ? w->room * 2 : WAYS_LEAST;
        even_way *grown = s->allocator.resize(s->allocator.context, w->ways, room * sizeof *grown);
        if (grown == NULL) {
            s->status = BW_NO_MEMORY;
            return false;
        }
        w->ways = grown;
        w->room = room;
    }
    return w->count - w->end < w->bucket_count || new_buckets(s, w->bucket_count * 2);
}

static void replace(even_way *old, even_way way) {
    way.next = old->next;
    *old = way;
}

/* Keeps the way if it is among the best that end there. */
static void add(bw_even *s, even_way way) {
    even_ways *w = &s->ways;
    even_way *worst = NULL;
    size_t alike = 0;
    if (!room_for_one(s))
        return;
    uint32_t *bucket = bucket_of(w, &way);
    for (uint32_t i = *bucket; i != NOBODY; i = w->ways[i].next) {
        even_way *old = &w->ways[i];
        if (old->changes != way.changes || rounded(old->offset) != rounded(way.offset))
            continue;
        if (old->set == way.set) {
            if (way.total < old->total - BW_EPS)
                replace(old, way);
            return;
        }
        if (old->alive != way.alive)
            continue;
        alike++;
        if (worst == NULL || old->total > worst->total)
            worst = old;
    }
    if (alike >= s->wish.answers) {
        if (way.total < worst->total - BW_EPS)
            replace(worst, way);
        return;
    }
    way.next = *bucket;
    *bucket = (uint32_t)w->count;
    w->ways[w->count++] = way;
}

/* ---- going on ---- */

/* Which told answers it still moves all of. */
static uint32_t alive_after(const bw_even *s, size_t band, uint32_t alive, uint32_t moved) {
    for (size_t a = 0; a < s->told_count; a++)
        if ((s->told[a].band_bits[band] & ~moved) != 0)
            alive &= ~(1u << a);
    return alive;
}

/* It moves all that a told answer moves, and no less. */
static bool outdone(const bw_even *s, const even_way *way, size_t band) {
    for (size_t a = 0; a < s->told_count; a++)
        if ((way->alive >> a & 1u) != 0 && s->told[a].last_band <= band &&
            way->total >= s->told[a].answer.total - BW_EPS)
            return true;
    return false;
}

/* What is being tried for one band. */
typedef struct trying {
    bw_even *s;
    size_t band, parent, left; /* left: changes that may still be made */
    const even_values *values; /* EVEN_OF_BAND */
} trying;

/* Keeps a way if it can still become an answer. */
static void go(const trying *t, even_way way) {
    bw_even *s = t->s;
    const even_way *from = &s->ways.ways[t->parent];
    uint32_t made = 0;
    for (size_t i = 0; i < EVEN_OF_BAND; i++)
        if ((way.moved >> i & 1u) != 0) {
            way.set ^= even_bits_of(even_band_knob(i), t->band);
            made++;
        }
    way.changes = from->changes + made;
    if (s->level - way.changes > s->knobs_from[t->band + 1]) /* more changes are owed than can follow */
        return;
    way.alive = alive_after(s, t->band, from->alive, way.moved);
    way.parent = (uint32_t)t->parent;
    if (!even_told_full(s, way.total) && !outdone(s, &way, t->band))
        add(s, way);
}

/* The guide where it is, or else the nearest that does: nothing that follows knows where it is. */
static void try_guides(const trying *t, even_way way, double outer, double width, size_t left) {
    const bw_band *band = &t->s->bands[t->band];
    const even_values *guide = &t->values[EVEN_GUIDE];
    double now = band->guide_is_length ? band->guide : band->guide * width;
    way.offset = outer + width;
    way.value[EVEN_GUIDE] = now;
    if (even_trial(t->s, t->band, outer, width, now)) {
        go(t, way);
        return;
    }
    for (size_t i = 0; left > 0 && i < guide->count && t->s->status == BW_OK; i++) {
        if (even_told_full(t->s, way.total + guide->size[i]))
            return;
        if (!even_trial(t->s, t->band, outer, width, guide->value[i]))
            continue;
        way.value[EVEN_GUIDE] = guide->value[i];
        way.total += guide->size[i];
        way.moved |= 1u << EVEN_GUIDE;
        go(t, way);
        return;
    }
}

/* A knob's value, counted from 1; 0 = as it is. */
static void take_value(even_way *way, const even_values *values, size_t knob, size_t index) {
    way->value[knob] = index > 0 ? values->value[index - 1] : values->now;
    way->total += index > 0 ? values->size[index - 1] : 0;
    way->moved |= index > 0 ? 1u << knob : 0;
}

/* May the knob take its next value, on top of a total? */
static bool goes_on(const trying *t, const even_values *values, size_t index, double total, size_t left) {
    return left > 0 && index < values->count && !even_told_full(t->s, total + values->size[index]);
}

/* One space with one width, so that the search can stop between any two of them. False after the last. */
static bool try_pair(const trying *t) {
    even_ways *w = &t->s->ways;
    const even_way from = w->ways[t->parent];
    const even_values *space = &t->values[EVEN_SPACE], *width = &t->values[EVEN_WIDTH];
    even_way way = {.total = from.total, .set = from.set};
    take_value(&way, space, EVEN_SPACE, w->space);
    double so_far = way.total;
    size_t left = t->left - (w->space > 0);
    take_value(&way, width, EVEN_WIDTH, w->width);
    try_guides(t, way, from.offset + way.value[EVEN_SPACE], way.value[EVEN_WIDTH], left - (w->width > 0));
    if (goes_on(t, width, w->width, so_far, left)) {
        w->width++;
        return true;
    }
    w->width = 0;
    bool more = goes_on(t, space, w->space, from.total, t->left);
    w->space = more ? w->space + 1 : 0;
    return more;
}

/* ---- from the edge to the last band ---- */

static uint32_t edge_bits(const even_edge *edge) {
    uint32_t bits = 0;
    for (size_t i = 0; i < EVEN_OF_EDGE; i++)
        bits |= edge->value[i] > 0 ? 1u << i : 0;
    return bits;
}

bool even_ways_begin(bw_even *s, const even_edge *edge) {
    even_ways *w = &s->ways;
    even_way way = {.total = edge->total, .changes = edge->changes, .parent = NOBODY};
    uint32_t bits = edge_bits(edge);
    for (size_t i = 0; i < EVEN_OF_EDGE; i++)
        way.set ^= edge->value[i] > 0 ? even_bits_of(even_edge_knob(i), 0) : 0;
    for (size_t a = 0; a < s->told_count; a++)
        way.alive |= (s->told[a].edge_bits & ~bits) == 0 ? 1u << a : 0;
    w->count = w->begin = w->end = w->at = w->band = w->space = w->width = 0;
    if (!new_buckets(s, w->bucket_count > 0 ? w->bucket_count : BUCKETS_LEAST))
        return false;
    add(s, way);
    w->end = w->count;
    return s->status == BW_OK && new_buckets(s, w->bucket_count);
}

static void tell_all(bw_even *s, const even_edge *edge) {
    const even_ways *w = &s->ways;
    for (size_t i = w->begin; i < w->end && s->status == BW_OK; i++)
        if (w->ways[i].changes == s->level && !outdone(s, &w->ways[i], s->layout.band_count))
            even_tell(s, edge, &w->ways[i]);
}

bool even_ways_step(bw_even *s, const even_edge *edge) {
    even_ways *w = &s->ways;
    if (w->band == s->layout.band_count) {
        tell_all(s, edge);
        return false;
    }
    if (w->at < w->end) {
        trying t = {.s = s,
                    .band = w->band,
                    .parent = w->at,
                    .left = s->level - w->ways[w->at].changes,
                    .values = &s->values[w->band * EVEN_OF_BAND]};
        w->at += !try_pair(&t);
        return true;
    }
    w->begin = w->end;
    w->at = w->begin;
    w->end = w->count;
    w->band++;
    return w->begin < w->end && new_buckets(s, w->bucket_count);
}

void even_ways_free(bw_even *s) {
    maths_release(&s->allocator, s->ways.ways);
    maths_release(&s->allocator, s->ways.buckets);
    s->ways = (even_ways){0};
}
