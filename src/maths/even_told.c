/* even_told.c: the answers: each planned anew as a whole before it is kept, best first. */
#include <math.h>
#include <string.h>

#include "maths/even.h"

/* At this level no set of values can still be told for this much. */
bool even_told_full(const bw_even *s, double total) {
    return s->count == s->wish.answers && s->count > s->told_count &&
           total >= s->told[s->count - 1].answer.total - BW_EPS;
}

static void free_told(bw_even *s, even_told *told) {
    bw_allocator *a = &s->allocator;
    maths_release(a, (void *)told->answer.changes);
    maths_release(a, (void *)told->answer.before);
    maths_release(a, (void *)told->answer.bands);
    maths_release(a, told->band_bits);
    *told = (even_told){0};
}

void even_told_free(bw_even *s) {
    for (size_t i = 0; i < s->count; i++)
        free_told(s, &s->told[i]);
    s->count = s->told_count = 0;
}

void even_told_settle(bw_even *s) {
    s->told_count = s->count;
}

/* ---- making one ---- */

typedef struct making {
    bw_change *changes;
    double *before;
    bw_even_band *bands;
    uint8_t *band_bits;
    size_t count;
} making;

static void add_change(making *m, bw_knob knob, size_t band, double value, double before) {
    m->before[m->count] = before;
    m->changes[m->count++] = (bw_change){.knob = knob, .band = band, .value = value};
}

static void changes_of(bw_even *s, const even_edge *edge, const even_way *way, making *m) {
    size_t band = s->layout.band_count, last = s->level;
    for (size_t i = 0; i < EVEN_OF_EDGE; i++)
        if (edge->value[i] > 0)
            add_change(m, even_edge_knob(i), 0, s->of_edge[i].value[edge->value[i] - 1], s->of_edge[i].now);
    /* the ways are known from the last band back: filled from behind */
    for (const even_way *w = way; band-- > 0; w = &s->ways.ways[w->parent]) {
        m->band_bits[band] = (uint8_t)w->moved;
        for (size_t i = EVEN_OF_BAND; i-- > 0;) {
            if ((w->moved >> i & 1u) == 0)
                continue;
            m->count = --last;
            add_change(m, even_band_knob(i), band, w->value[i], s->values[band * EVEN_OF_BAND + i].now);
        }
    }
    m->count = s->level;
}

unsigned even_warnings(const bw_plan *plan, size_t band) {
    unsigned bits = 0;
    for (size_t i = 0; i < plan->warning_count; i++)
        bits |= plan->warnings[i].band == band ? 1u << plan->warnings[i].kind : 0;
    return bits;
}

static bw_even_band figures(const bw_even *s, const bw_plan *plan, size_t index) {
    const bw_band_plan *band = &plan->bands[index];
    bw_even_band out = {.verdict = band->fit.verdict, .fresh = even_warnings(plan, index) & ~s->warned[index]};
    if (band->run_count == 0)
        return out;
    const bw_run_plan *run = &band->runs[bw_worst_run(band)];
    out.count = run->count;
    out.step = run->step;
    out.change = run->step_change / run->usual_step;
    out.gap = run->closure_gap;
    out.margin = fmin(fmin(band->fit.reach, band->fit.crowd), band->fit.bend);
    return out;
}

/* Is the whole piece as wished with these changes? */
static bool holds(bw_even *s, making *m) {
    bw_layout layout = s->layout;
    bw_plan *plan;
    memcpy(s->scratch, s->bands, s->layout.band_count * sizeof *s->scratch);
    layout.bands = s->scratch;
    for (size_t i = 0; i < m->count; i++)
        bw_change_apply(&m->changes[i], &layout, s->scratch, s->corners);
    s->trials += layout.band_count;
    bw_status status = bw_plan_create(&layout, &s->allocator, &plan);
    if (status == BW_NO_MEMORY)
        s->status = status;
    if (status != BW_OK)
        return false;
    bool good = true;
    for (size_t i = 0; i < plan->band_count && good; i++) {
        good = even_band_good(s, &plan->bands[i]);
        m->bands[i] = figures(s, plan, i);
    }
    bw_plan_destroy(plan);
    return good;
}

static bool make(bw_even *s, const even_edge *edge, const even_way *way, even_told *made) {
    size_t bands = s->layout.band_count;
    making m = {.changes = maths_alloc(&s->allocator, s->level, sizeof *m.changes),
                .before = maths_alloc(&s->allocator, s->level, sizeof *m.before),
                .bands = maths_alloc(&s->allocator, bands, sizeof *m.bands),
                .band_bits = maths_alloc(&s->allocator, bands, 1)};
    bool fine = m.changes != NULL && m.before != NULL && m.bands != NULL && m.band_bits != NULL;
    if (fine)
        changes_of(s, edge, way, &m);
    else
        s->status = BW_NO_MEMORY;
    *made = (even_told){.answer = {.changes = m.changes,
                                   .before = m.before,
                                   .change_count = m.count,
                                   .total = way->total,
                                   .bands = m.bands},
                        .set = way->set,
                        .band_bits = m.band_bits};
    for (size_t i = 0; i < EVEN_OF_EDGE; i++)
        made->edge_bits |= edge->value[i] > 0 ? 1u << i : 0;
    for (size_t i = 0; i < bands && fine; i++)
        made->last_band = m.band_bits[i] != 0 ? i : made->last_band;
    fine = fine && holds(s, &m);
    if (!fine)
        free_told(s, made);
    return fine;
}

/* ---- the list ---- */

static void take_out(bw_even *s, size_t index) {
    free_told(s, &s->told[index]);
    memmove(&s->told[index], &s->told[index + 1], (s->count - index - 1) * sizeof s->told[0]);
    s->told[--s->count] = (even_told){0};
}

void even_tell(bw_even *s, const even_edge *edge, const even_way *way) {
    size_t same = s->told_count, at = s->told_count;
    even_told made;
    while (same < s->count && s->told[same].set != way->set)
        same++;
    if ((same < s->count && way->total >= s->told[same].answer.total - BW_EPS) ||
        (same == s->count && even_told_full(s, way->total)) || !make(s, edge, way, &made))
        return;
    if (same < s->count)
        take_out(s, same);
    else if (s->count == s->wish.answers)
        take_out(s, s->count - 1);
    while (at < s->count && s->told[at].answer.total <= way->total + BW_EPS)
        at++;
    memmove(&s->told[at + 1], &s->told[at], (s->count - at) * sizeof s->told[0]);
    s->told[at] = made;
    s->count++;
}
