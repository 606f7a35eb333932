/* even_trial.c: does one band do as wished, so far from the edge? What depends on the place of a line or guide alone is
 * found once for every place; what depends on the rows besides, once for every choice of rows. */
#include <math.h>
#include <string.h>

#include "bandwright/limits.h"
#include "maths/even.h"

enum { FACTS_LEAST = 256, LOOK_UPS_A_TRIAL = 64 };
enum { KIND_LINE, KIND_GUIDE, KIND_ROWS };

#define AS_ONE 1e8 /* places are the same that agree to 1 / AS_ONE mm */

/* ---- what is known ---- */

static uint64_t mixed(uint64_t z) {
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u; /* see even_bits_of */
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static bool same_key(const even_fact *a, const even_fact *b) {
    return a->at == b->at && a->kind == b->kind && a->band == b->band && a->rows == b->rows;
}

/* The fact with this key, or the free place for it. */
static even_fact *place_of(const even_facts *f, const even_fact *key) {
    uint64_t hash = mixed(mixed((uint64_t)key->at + key->kind) + key->rows + key->band);
    size_t i = (size_t)hash & (f->room - 1);
    while (f->facts[i].used && !same_key(&f->facts[i], key))
        i = (i + 1) & (f->room - 1);
    return &f->facts[i];
}

static bool grow(bw_even *s, even_facts *f) {
    even_facts grown = {.room = f->room > 0 ? f->room * 2 : FACTS_LEAST, .count = f->count};
    grown.facts = maths_alloc(&s->allocator, grown.room, sizeof *grown.facts);
    if (grown.facts == NULL) {
        s->status = BW_NO_MEMORY;
        return false;
    }
    for (size_t i = 0; i < f->room; i++)
        if (f->facts[i].used)
            *place_of(&grown, &f->facts[i]) = f->facts[i];
    maths_release(&s->allocator, f->facts);
    *f = grown;
    return true;
}

static even_facts *facts_of(bw_even *s) {
    return s->edges[s->edge_at].changes == 0 ? &s->home : &s->away;
}

static const even_fact *known(bw_even *s, const even_fact *key) {
    const even_facts *f = facts_of(s);
    if (++s->looked_up >= LOOK_UPS_A_TRIAL) {
        s->looked_up = 0;
        s->trials++;
    }
    if (f->room == 0)
        return NULL;
    const even_fact *fact = place_of(f, key);
    return fact->used ? fact : NULL;
}

static void learn(bw_even *s, even_fact fact) {
    even_facts *f = facts_of(s);
    if (2 * (f->count + 1) > f->room && !grow(s, f))
        return;
    fact.used = true;
    even_fact *place = place_of(f, &fact);
    f->count += !place->used;
    *place = fact;
}

void even_facts_free(bw_even *s, even_facts *facts) {
    maths_release(&s->allocator, facts->facts);
    *facts = (even_facts){0};
}

/* ---- the edge in hand ---- */

bool even_trial_open(bw_even *s, const even_edge *edge) {
    bw_layout layout = even_layout(s, edge);
    layout.band_count = 0;
    even_facts_free(s, &s->away);
    maths_arena_init(&s->edge_arena, &s->allocator);
    s->edge = (maths_edge){0};
    s->trials++;
    bw_status status = bw_layout_check(&layout);
    if (status == BW_OK)
        status = maths_edge_make(&s->edge, &layout, NULL, &s->edge_arena);
    if (status == BW_NO_MEMORY)
        s->status = status;
    if (status != BW_OK)
        even_trial_close(s);
    return status == BW_OK;
}

void even_trial_close(bw_even *s) {
    bw_curve_destroy(s->edge.curve);
    s->edge = (maths_edge){0};
    maths_arena_free(&s->edge_arena);
}

/* ---- trials ---- */

static int64_t rounded(double from_edge) {
    return (int64_t)llround(from_edge * AS_ONE);
}

static bool line_there(bw_even *s, double from_edge) {
    even_fact key = {.kind = KIND_LINE, .at = rounded(from_edge)};
    const even_fact *fact = known(s, &key);
    if (fact != NULL)
        return fact->good;
    bw_curve *line;
    if (bw_curve_offset(s->edge.curve, from_edge, &s->allocator, &line) != BW_OK) {
        s->status = BW_NO_MEMORY;
        return false;
    }
    key.good = line->loops > 0;
    bw_curve_destroy(line);
    learn(s, key);
    return key.good;
}

static bool good_fit(const bw_even *s, const maths_worked *work) {
    bw_fit fit;
    maths_band_fit(&fit, work);
    if (fit.verdict < s->wish.fit)
        return false;
    for (size_t i = 0; i < work->guide.run_count; i++)
        if (fabs(work->runs[i].spread.change) > s->wish.limit * work->lay.usual + BW_EPS)
            return false;
    return true;
}

bool even_band_good(const bw_even *s, const bw_band_plan *band) {
    if (band->fill == BW_FILL_PLAIN)
        return band->fit.verdict == BW_GOOD;
    for (size_t i = 0; i < band->run_count; i++)
        if (fabs(band->runs[i].step_change) > s->wish.limit * band->runs[i].usual_step + BW_EPS)
            return false;
    return band->fit.verdict >= s->wish.fit;
}

static uint64_t lines_hash(const maths_rows *rows, const maths_line *lines, size_t count) {
    uint64_t hash = mixed(count + 1 + rows->guide_row_missing);
    for (size_t i = 0; i < count; i++)
        hash = mixed(hash + (uint64_t)rounded(lines[i].delta)) + (uint64_t)(int64_t)lines[i].number;
    return hash;
}

/* The rows that the band would have, as a key; false without memory. */
static bool rows_key(bw_even *s, const bw_layout *layout, const maths_strip *strip, const even_fact *guide,
                     even_fact *key) {
    maths_arena arena;
    maths_rows rows;
    size_t count = 0;
    const bw_band *band = &layout->bands[0];
    maths_arena_init(&arena, &s->allocator);
    maths_lay lay = maths_lay_make(band, &layout->tools[band->tool], guide->turns);
    if (maths_rows_make(&rows, &lay, strip, guide->convex, guide->concave, &arena)) {
        const maths_line *lines = maths_lines_make(&rows, &lay, strip, &count, &arena);
        key->rows = lines != NULL ? lines_hash(&rows, lines, count) : 0;
    }
    bool fine = !arena.failed;
    maths_arena_free(&arena);
    if (!fine)
        s->status = BW_NO_MEMORY;
    return fine;
}

/* Works the band out and learns of it. */
static bool work_out(bw_even *s, const bw_layout *layout, size_t band) {
    maths_arena arena;
    maths_worked work;
    bool good = false;
    maths_arena_init(&arena, &s->allocator);
    s->trials++;
    if (maths_band_make(&work, layout, &s->edge, 0, &arena)) {
        even_fact guide = {.kind = KIND_GUIDE, .band = (uint32_t)band, .at = rounded(work.strip.guide)};
        even_fact rows = {.kind = KIND_ROWS, .band = (uint32_t)band, .at = guide.at};
        guide.turns = work.guide.turns;
        for (size_t i = 0; i < work.guide.run_count; i++) {
            guide.convex = fmax(guide.convex, work.runs[i].convex);
            guide.concave = fmin(guide.concave, work.runs[i].concave);
        }
        rows.rows = lines_hash(&work.rows, work.lines, work.line_count);
        rows.good = good = good_fit(s, &work);
        learn(s, guide);
        learn(s, rows);
    } else
        s->status = BW_NO_MEMORY;
    maths_band_free(&work);
    maths_arena_free(&arena);
    return good;
}

bool even_trial(bw_even *s, size_t band, double outer, double width, double guide) {
    bw_band asked = s->bands[band];
    bw_layout layout = s->layout;
    asked.space = outer;
    asked.width = width;
    asked.guide = guide;
    asked.guide_is_length = true;
    layout.bands = &asked;
    layout.band_count = 1;
    maths_strip strip = maths_strip_of(&layout, 0, s->edge.scale);
    if (width > BW_BAND_MOST || guide > width || !line_there(s, strip.inner) || !line_there(s, strip.outer))
        return false;
    if (asked.fill == BW_FILL_PLAIN)
        return true;
    even_fact key = {.kind = KIND_GUIDE, .band = (uint32_t)band, .at = rounded(strip.guide)};
    const even_fact *fact = known(s, &key);
    if (fact != NULL) {
        key.kind = KIND_ROWS;
        even_fact at_guide = *fact;
        if (!rows_key(s, &layout, &strip, &at_guide, &key))
            return false;
        fact = known(s, &key);
        if (fact != NULL)
            return fact->good;
    }
    return s->status == BW_OK && work_out(s, &layout, band);
}
