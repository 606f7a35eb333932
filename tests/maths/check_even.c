/* check_even.c - the whole-piece search against every combination of values planned one by one; its promises; memory
 * that runs out. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "maths/measure.h"
#include "maths/purse.h"
#include "maths/random.h"
#include "maths/sample.h"

Suite *maths_even_suite(void);

enum { KNOBS_MOST = 5, SETS = 1 << KNOBS_MOST };

/* ---- every combination ---- */

/* What a search may do, and a layout that can be changed. */
typedef struct piece {
    const bw_layout *layout;
    bw_even_wish wish;
    bw_even_knob knobs[KNOBS_MOST];
    size_t knob_count;
    double least[SETS]; /* of each set of moved values the least total that does, INFINITY if none */
    bw_band *bands;
    bw_corner *corners;
    size_t plans;
} piece;

static bool as_wished(const bw_plan *plan, const bw_even_wish *wish) {
    for (size_t i = 0; i < plan->band_count; i++) {
        const bw_band_plan *band = &plan->bands[i];
        if (band->fit.verdict < (band->fill == BW_FILL_PLAIN ? BW_GOOD : wish->fit)) {
            return false;
        }
        for (size_t r = 0; r < band->run_count; r++) {
            if (fabs(band->runs[r].step_change) > wish->limit * band->runs[r].usual_step + 1e-9) {
                return false;
            }
        }
    }
    return true;
}

static bool planned_as_wished(piece *p, const bw_change *changes, size_t count) {
    bw_layout layout = *p->layout;
    bw_plan *plan = NULL;
    memcpy(p->bands, p->layout->bands, layout.band_count * sizeof *p->bands);
    layout.bands = p->bands;
    for (size_t i = 0; i < count; i++) {
        bw_change_apply(&changes[i], &layout, p->bands, p->corners);
    }
    p->plans++;
    if (bw_plan_create(&layout, NULL, &plan) != BW_OK) {
        return false;
    }
    bool good = as_wished(plan, &p->wish);
    bw_plan_destroy(plan);
    return good;
}

static void try_every(piece *p, size_t knob, bw_change *changes, size_t count, size_t set, double total) {
    if (knob == p->knob_count) {
        if (total < p->least[set] && planned_as_wished(p, changes, count)) {
            p->least[set] = total;
        }
        return;
    }
    const bw_even_knob *k = &p->knobs[knob];
    double now = bw_knob_value(p->layout, k->knob, k->band), grid = p->layout->grid;
    double least = isnan(k->least) ? now - p->wish.within : k->least;
    double most = isnan(k->most) ? now + p->wish.within : k->most;
    unsigned fixed = k->knob < BW_KNOB_SPACE ? p->layout->fixed : p->layout->bands[k->band].fixed;
    try_every(p, knob + 1, changes, count, set, total);
    for (double at = ceil(least / grid - 1e-9); at <= most / grid + 1e-9 && (fixed >> k->knob & 1u) == 0; at++) {
        double value = at * grid;
        if (value >= 0 && fabs(value - now) > 1e-6) {
            changes[count] = (bw_change){.knob = k->knob, .band = k->band, .value = value};
            try_every(p, knob + 1, changes, count + 1, set | (size_t)1 << knob, total + fabs(value - now));
        }
    }
}

static size_t members(size_t set) {
    size_t count = 0;
    for (; set > 0; set &= set - 1) {
        count++;
    }
    return count;
}

/* The set that is to be told next; SETS if there is none. */
static size_t next_set(const piece *p, const size_t *told, size_t count) {
    size_t next = SETS;
    for (size_t set = 0; set < SETS; set++) {
        bool out = isinf(p->least[set]);
        for (size_t i = 0; i < count && !out; i++) {
            out = (told[i] & ~set) == 0 && (told[i] == set || p->least[set] >= p->least[told[i]] - 1e-9);
        }
        if (!out && (next == SETS || members(set) < members(next) ||
                     (members(set) == members(next) && p->least[set] < p->least[next]))) {
            next = set;
        }
    }
    return next;
}

static size_t set_of(const piece *p, const bw_even_answer *answer) {
    size_t set = 0;
    for (size_t i = 0; i < answer->change_count; i++) {
        for (size_t k = 0; k < p->knob_count; k++) {
            const bw_even_knob *knob = &p->knobs[k];
            bool same = knob->knob == answer->changes[i].knob;
            set |= same && (knob->knob < BW_KNOB_SPACE || knob->band == answer->changes[i].band) ? (size_t)1 << k : 0;
        }
    }
    ck_assert_uint_eq(members(set), answer->change_count);
    return set;
}

static void keeps_its_word(piece *p, const bw_even_answer *answer, const char *what) {
    double total = 0;
    for (size_t i = 0; i < answer->change_count; i++) {
        double now = bw_knob_value(p->layout, answer->changes[i].knob, answer->changes[i].band);
        double steps = answer->changes[i].value / p->layout->grid;
        ck_assert_msg(fabs(answer->before[i] - now) <= 1e-9, "%s: %.12g before, %.12g told", what, now,
                      answer->before[i]);
        ck_assert_msg(fabs(steps - round(steps)) <= 1e-6, "%s: %.12g is off the grid", what, answer->changes[i].value);
        total += fabs(answer->changes[i].value - now);
    }
    ck_assert_msg(fabs(total - answer->total) <= 1e-9, "%s: moves %.12g, %.12g told", what, total, answer->total);
    ck_assert_msg(planned_as_wished(p, answer->changes, answer->change_count), "%s: an answer does not do", what);
}

/* The search tells what the list of all combinations tells. Returns how many answers there are. */
static size_t compare(piece *p, const char *what) {
    bw_change changes[KNOBS_MOST];
    size_t told[BW_EVEN_ANSWERS_MOST], count = 0;
    bw_even *search = NULL;
    for (size_t set = 0; set < SETS; set++) {
        p->least[set] = INFINITY;
    }
    p->bands = malloc(p->layout->band_count * sizeof *p->bands);
    p->corners = malloc((p->layout->outline.corner_count + 1) * sizeof *p->corners);
    ck_assert(p->bands != NULL && p->corners != NULL);
    try_every(p, 0, changes, 0, 0, 0);
    p->wish.knobs = p->knobs;
    p->wish.knob_count = p->knob_count;
    ck_assert_msg(bw_even_create(p->layout, &p->wish, NULL, &search) == BW_OK, "%s", what);
    ck_assert_int_eq(bw_even_run(search, NULL, NULL), BW_OK);
    bw_even_found found = bw_even_result(search);
    ck_assert_msg(found.done && found.best, "%s: not looked at to the end", what);
    for (; count < p->wish.answers; count++) {
        size_t set = next_set(p, told, count);
        if (set == SETS || (count > 0 && members(set) > members(told[0]) + 1)) {
            break;
        }
        told[count] = set;
        ck_assert_msg(count < found.count, "%s: %zu answers, more are there", what, found.count);
        const bw_even_answer *answer = &found.answers[count];
        ck_assert_msg(answer->change_count == members(set) && fabs(answer->total - p->least[set]) <= 1e-9,
                      "%s, answer %zu: %zu changes of %.12g mm, told %zu of %.12g", what, count, members(set),
                      p->least[set], answer->change_count, answer->total);
        told[count] = set_of(p, answer); /* of two as good, the search may tell the other first */
        ck_assert_msg(fabs(p->least[told[count]] - answer->total) <= 1e-9, "%s, answer %zu", what, count);
        keeps_its_word(p, answer, what);
    }
    ck_assert_msg(found.count == count, "%s: %zu answers, %zu told", what, count, found.count);
    bw_even_destroy(search);
    free(p->bands);
    free(p->corners);
    return count;
}

static void add_knob(piece *p, bw_knob knob, size_t band) {
    if (p->knob_count < KNOBS_MOST && !isnan(bw_knob_value(p->layout, knob, band))) {
        p->knobs[p->knob_count++] = (bw_even_knob){knob, band, NAN, NAN};
    }
}

static void begin(piece *p, const bw_layout *layout, double steps, double limit) {
    *p = (piece){.layout = layout};
    bw_even_wish_init(&p->wish);
    p->wish.within = steps * layout->grid;
    p->wish.limit = limit;
}

/* ---- cases ---- */

/* Stamps small enough for corners of a few cm. */
static void two_bands(sample *s, double space, double width) {
    sample_basket(s, space, width, 5, 2.6, 1.6, 0.8);
    sample_border(s, 2, 4, 4, 2.2)->guide = 0.4;
}

static const char *const shape_words[] = {"circle", "rectangle", "line", "strap", "ellipse", "arc", "polygon"};

static void make_shape(sample *s, int shape, double size, bw_corner *corners) {
    sample_circle(s, size);
    bw_outline *o = &s->layout.outline;
    o->length = size;
    o->width = size * 0.7;
    o->radius = size / 2;
    o->sweep = 4;
    static const bw_shape shapes[] = {BW_CIRCLE, BW_RECTANGLE, BW_LINE, BW_STRAP, BW_ELLIPSE, BW_ARC, BW_POLYGON};
    o->shape = shapes[shape];
    for (int i = 0; i < 4; i++) {
        o->corner[i] = 32;
        corners[i] = (bw_corner){i == 1 || i == 2 ? size : 0, i >= 2 ? size * 0.8 : 0, 26};
    }
    o->corners = corners;
    o->corner_count = shapes[shape] == BW_POLYGON ? 4 : 0;
    o->start = o->end = (bw_end){BW_END_ROUND, NAN};
}

START_TEST(every_shape) {
    static const bw_knob of_edge[] = {BW_KNOB_DIAMETER, BW_KNOB_LENGTH, BW_KNOB_LENGTH, BW_KNOB_WIDTH,
                                      BW_KNOB_LENGTH,   BW_KNOB_RADIUS, BW_KNOB_CORNER};
    size_t answers = 0, plans = 0;
    for (int k = 0; k < 6; k++) {
        sample s;
        piece p;
        bw_corner corners[4];
        char what[60];
        make_shape(&s, _i, 118 + 1.3 * k, corners);
        two_bands(&s, 2 + 0.25 * k, 6);
        s.bands[0].guide_is_length = k % 2 == 1;
        s.bands[0].guide = k % 2 == 1 ? 3.25 : 0.5;
        s.layout.grid = k % 3 == 2 ? BW_GRID_INCH : BW_GRID_MM;
        s.layout.finished = k == 5;
        s.layout.growth = k == 5 ? 0.02 : 0;
        begin(&p, &s.layout, 2, (0.002 + 0.001 * k) * (_i == 1 ? 2 : _i == 2 ? 5 : 1)); /* which turn little */
        p.wish.fit = k % 2 == 0 ? BW_TIGHT : BW_GOOD;
        add_knob(&p, of_edge[_i], 0);
        add_knob(&p, BW_KNOB_BAND_WIDTH, 0);
        add_knob(&p, k % 2 == 0 ? BW_KNOB_SPACE : BW_KNOB_GUIDE, 0);
        add_knob(&p, k % 3 != 0 ? BW_KNOB_SPACE : BW_KNOB_GUIDE, 1);
        snprintf(what, sizeof what, "%s %d", shape_words[_i], k);
        answers += compare(&p, what);
        plans += p.plans;
    }
    ck_assert_uint_gt(plans, 500);
    ck_assert_msg(answers > 3, "%s: %zu answers", shape_words[_i], answers);
}
END_TEST

/* Layouts of every fill, lay and mode, some values fixed, some bounds of their own. */
START_TEST(random_layouts) {
    size_t answers = 0;
    for (unsigned seed = (unsigned)_i * 40; seed < (unsigned)_i * 40 + 40; seed++) {
        random_source r = {.state = seed};
        char what[40], *text = random_project(seed);
        measured m;
        piece p;
        snprintf(what, sizeof what, "random layout %u", seed);
        ck_assert(measured_open(&m, text, what));
        bw_layout *layout = &m.project->layout;
        begin(&p, layout, random_number(&r, 1, 3), random_between(&r, 0.005, 0.06));
        p.wish.fit = random_chance(&r, 0.9) ? BW_TIGHT : BW_GOOD;
        p.wish.answers = (size_t)random_number(&r, 1, 8);
        if (random_chance(&r, 0.5)) {
            add_knob(&p, (bw_knob)random_number(&r, BW_KNOB_DIAMETER, BW_KNOB_RADIUS), 0);
        }
        for (size_t band = 0; band < layout->band_count; band++) {
            m.project->bands[band].fixed = (unsigned)random_number(&r, 0, 7) << BW_KNOB_SPACE & 5u << BW_KNOB_SPACE;
            for (bw_knob knob = BW_KNOB_SPACE; knob <= BW_KNOB_GUIDE && p.knob_count < 4; knob++) {
                if (random_chance(&r, 0.6)) {
                    add_knob(&p, knob, band);
                }
            }
        }
        if (p.knob_count > 0 && random_chance(&r, 0.3)) {
            double now = bw_knob_value(layout, p.knobs[0].knob, p.knobs[0].band);
            p.knobs[0].least = now - 1.1 * layout->grid;
            p.knobs[0].most = now + 4 * layout->grid;
        }
        answers += compare(&p, what);
        measured_close(&m);
        free(text);
    }
    ck_assert_msg(answers > 10, "%zu answers", answers);
}
END_TEST

/* Three bands that must move together: five values, three deep. */
START_TEST(bands_that_push_each_other) {
    size_t deep = 0;
    for (int k = 0; k < 2; k++) {
        sample s;
        piece p;
        char what[40];
        sample_circle(&s, 110 + 0.9 * k);
        sample_border(&s, 2, 6, 5, 5);
        sample_basket(&s, 2.5, 12, 9, 5, 3, 1.4);
        sample_border(&s, 1, 6, 6, 5);
        begin(&p, &s.layout, 2, 0.002);
        p.wish.answers = 12;
        p.wish.fit = BW_TIGHT;
        add_knob(&p, BW_KNOB_SPACE, 0);
        add_knob(&p, BW_KNOB_BAND_WIDTH, 0);
        add_knob(&p, BW_KNOB_SPACE, 1);
        add_knob(&p, BW_KNOB_BAND_WIDTH, 1);
        add_knob(&p, BW_KNOB_SPACE, 2);
        snprintf(what, sizeof what, "rosette %d", k);
        compare(&p, what);
        for (size_t set = 0; set < SETS; set++) {
            deep += !isinf(p.least[set]) && members(set) > 2;
        }
    }
    ck_assert_uint_gt(deep, 2);
}
END_TEST

/* A single move of the suggestions that does all that is wished moves no less than the first answer. */
START_TEST(no_worse_than_a_move) {
    size_t compared = 0;
    for (unsigned seed = 0; seed < 60; seed++) {
        char *text = random_project(seed);
        measured m;
        piece p;
        bw_move *moves = NULL;
        bw_even *search = NULL;
        size_t count = 0;
        ck_assert(measured_open(&m, text, "moves"));
        begin(&p, &m.project->layout, 12, 0.01);
        p.wish.fit = BW_TIGHT;
        p.wish.changes = 1;
        p.bands = malloc(p.layout->band_count * sizeof *p.bands);
        ck_assert_ptr_nonnull(p.bands);
        ck_assert_int_eq(bw_moves_create(p.layout, m.plan, SIZE_MAX, NULL, &moves, &count), BW_OK);
        ck_assert_int_eq(bw_even_create(p.layout, &p.wish, NULL, &search), BW_OK);
        ck_assert_int_eq(bw_even_run(search, NULL, NULL), BW_OK);
        bw_even_found found = bw_even_result(search);
        for (size_t i = 0; i < count; i++) {
            const bw_change *change = &moves[i].change;
            double far = fabs(change->value - bw_knob_value(p.layout, change->knob, change->band));
            if (change->knob > BW_KNOB_GUIDE || far > p.wish.within || !planned_as_wished(&p, change, 1)) {
                continue;
            }
            compared++;
            ck_assert_msg(found.count > 0 && found.answers[0].change_count <= 1 && found.answers[0].total <= far + 1e-9,
                          "layout %u: knob %d by %g is better", seed, change->knob, far);
        }
        bw_even_destroy(search);
        bw_moves_release(moves, NULL);
        free(p.bands);
        measured_close(&m);
        free(text);
    }
    ck_assert_uint_gt(compared, 10);
}
END_TEST

static void demo(sample *s) {
    sample_circle(s, 121.3);
    sample_border(s, 2, 6, 5, 5);
    sample_basket(s, 2.5, 14, 9, 5, 3, 1.4);
    sample_border(s, 1, 6, 5, 5);
}

static bool ask(void *context, const bw_even_found *so_far) {
    size_t *left = context;
    ck_assert(!so_far->best || so_far->looked > 0);
    return (*left)-- > 0;
}

/* Stopped after any number of steps, it has what it has found, and goes on from there to the same end. */
START_TEST(stopped_and_gone_on_with) {
    sample s;
    bw_even_wish wish;
    bw_even *whole, *parts;
    size_t left = 0, steps = 0;
    demo(&s);
    bw_even_wish_init(&wish);
    wish.limit = 0.004;
    ck_assert_int_eq(bw_even_create(&s.layout, &wish, NULL, &whole), BW_OK);
    ck_assert_int_eq(bw_even_create(&s.layout, &wish, NULL, &parts), BW_OK);
    ck_assert_int_eq(bw_even_run(parts, ask, &left), BW_OK);
    ck_assert(!bw_even_result(parts).done);
    ck_assert_int_eq(bw_even_run(whole, NULL, NULL), BW_OK);
    bw_even_found all = bw_even_result(whole);
    for (; !bw_even_result(parts).done; steps++) {
        bw_even_found some = bw_even_result(parts);
        ck_assert(!some.best || some.answers[0].total == all.answers[0].total);
        ck_assert_int_eq(bw_even_step(parts, 1), BW_OK);
    }
    bw_even_found end = bw_even_result(parts);
    ck_assert_uint_gt(steps, 20);
    ck_assert_uint_gt(all.count, 2);
    ck_assert(all.best && end.best && end.count == all.count && end.trials == all.trials);
    for (size_t i = 0; i < all.count; i++) {
        ck_assert_double_eq_tol(all.answers[i].total, end.answers[i].total, 1e-12);
    }
    bw_even_destroy(whole);
    bw_even_destroy(parts);
}
END_TEST

/* With a bound on its trials it says how far it came, never that it is the best. */
START_TEST(bound_is_told) {
    sample s;
    bw_even_wish wish;
    bw_even *search;
    demo(&s);
    s.bands[1].fill = BW_FILL_PLAIN; /* which closes whatever it is, and is linked all the same */
    s.bands[1].tool = -1;
    bw_even_wish_init(&wish);
    wish.limit = 1e-6;
    wish.trials = 300;
    ck_assert_int_eq(bw_even_create(&s.layout, &wish, NULL, &search), BW_OK);
    ck_assert_int_eq(bw_even_run(search, NULL, NULL), BW_OK);
    bw_even_found found = bw_even_result(search);
    ck_assert(found.done && !found.best && found.count == 0);
    ck_assert(found.looked >= 1 && found.looked <= found.looking);
    bw_even_destroy(search);
}
END_TEST

START_TEST(well_as_it_is) {
    sample s;
    bw_even_wish wish;
    bw_even *search;
    sample_circle(&s, 120);
    sample_border(&s, 2, 6, 5, 5);
    bw_even_wish_init(&wish);
    wish.limit = 0.05;
    wish.fit = BW_TIGHT;
    ck_assert_int_eq(bw_even_create(&s.layout, &wish, NULL, &search), BW_OK);
    ck_assert_int_eq(bw_even_run(search, NULL, NULL), BW_OK);
    bw_even_found found = bw_even_result(search);
    ck_assert(found.done && found.best && found.count == 1 && found.answers[0].change_count == 0);
    ck_assert_int_eq(found.answers[0].bands[0].count, 69);
    bw_even_destroy(search);
}
END_TEST

START_TEST(wishes_out_of_range) {
    sample s;
    demo(&s);
    for (int i = 0; i < 10; i++) {
        bw_even_wish wish;
        bw_even *search = NULL;
        bw_even_knob knob = {BW_KNOB_SPACE, 0, NAN, NAN};
        bw_even_wish_init(&wish);
        wish.within = i == 0 ? 0 : i == 1 ? (double)NAN : i == 2 ? 101 * s.layout.grid * 4 : 1;
        wish.limit = i == 3 ? 0 : i == 4 ? (double)INFINITY : 0.03;
        wish.fit = i == 5 ? BW_NO_ROOM : BW_GOOD;
        wish.answers = i == 6 ? 0 : i == 7 ? BW_EVEN_ANSWERS_MOST + 1 : 3;
        knob.knob = i == 8 ? BW_KNOB_COUNT : BW_KNOB_SPACE;
        wish.knobs = i == 8 ? &knob : NULL;
        wish.knob_count = 1;
        s.bands[0].width = i == 9 ? -1 : 6;
        ck_assert_msg(bw_even_create(&s.layout, &wish, NULL, &search) == BW_BAD_VALUE && search == NULL, "wish %d", i);
    }
}
END_TEST

static bw_status search_once(const void *about, const bw_allocator *allocator) {
    const sample *s = about;
    bw_even_wish wish;
    bw_even *search = NULL;
    bw_even_wish_init(&wish);
    wish.within = 0.5;
    wish.limit = 0.004;
    bw_status status = bw_even_create(&s->layout, &wish, allocator, &search);
    if (status == BW_OK) {
        status = bw_even_run(search, NULL, NULL);
        ck_assert(bw_even_result(search).done);
    }
    bw_even_destroy(search);
    return status;
}

START_TEST(memory_runs_out) {
    sample s;
    demo(&s);
    purse_run_out(&s, search_once, 499, "search");
}
END_TEST

Suite *maths_even_suite(void) {
    Suite *suite = suite_create("maths/even");
    TCase *tests = tcase_create("even");
    tcase_set_timeout(tests, 60);
    tcase_add_loop_test(tests, every_shape, 0, (int)(sizeof shape_words / sizeof shape_words[0]));
    tcase_add_loop_test(tests, random_layouts, 0, 3);
    tcase_add_test(tests, bands_that_push_each_other);
    tcase_add_test(tests, no_worse_than_a_move);
    tcase_add_test(tests, stopped_and_gone_on_with);
    tcase_add_test(tests, bound_is_told);
    tcase_add_test(tests, well_as_it_is);
    tcase_add_test(tests, wishes_out_of_range);
    tcase_add_test(tests, memory_runs_out);
    suite_add_tcase(suite, tests);
    return suite;
}
