/* check_even.c - sizes that close, on an open layout: every answer, written into the file's text, does what it claims;
 * fixed values stay; the search lives as long as the layout it is of. */
#include <check.h>
#include <glob.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "desk/desk.h"
#include "maths/random.h"

Suite *desk_even_suite(void);

static desk *open_text(const char *text) {
    shop_problems problems;
    shop_status status = SHOP_OK;
    shop_problems_init(&problems, "piece.yaml");
    desk *d = desk_new(NULL, text, strlen(text), "", &problems, &status);
    ck_assert_msg(d != NULL, "status %d", status);
    shop_problems_free(&problems);
    return d;
}

/* The plan made of the written text says of every band what the answer said. */
static void as_claimed(const desk *d, const bw_even_answer *answer, const bw_even_wish *wish, const char *what) {
    const bw_plan *plan = desk_plan(d);
    for (size_t i = 0; i < plan->band_count; i++) {
        const bw_band_plan *band = &plan->bands[i];
        const bw_even_band *said = &answer->bands[i];
        ck_assert_msg(band->fit.verdict == said->verdict, "%s: band %zu is %s, %s said", what, i,
                      bw_verdict_word(band->fit.verdict), bw_verdict_word(said->verdict));
        ck_assert_msg(band->fit.verdict >= wish->fit, "%s: band %zu is %s", what, i,
                      bw_verdict_word(band->fit.verdict));
        for (size_t r = 0; r < band->run_count; r++) {
            const bw_run_plan *run = &band->runs[r];
            ck_assert_msg(fabs(run->step_change) <= wish->limit * run->usual_step + 1e-9, "%s: band %zu", what, i);
        }
        if (band->run_count > 0) {
            const bw_run_plan *run = &band->runs[bw_worst_run(band)];
            ck_assert_msg(run->count == said->count && fabs(run->closure_gap - said->gap) <= 1e-6, "%s: band %zu", what,
                          i);
        }
    }
    for (size_t i = 0; i < answer->change_count; i++) {
        const bw_change *change = &answer->changes[i];
        double now = bw_knob_value(&desk_project(d)->layout, change->knob, change->band);
        ck_assert_msg(fabs(now - change->value) <= 1e-9, "%s: %.12g written, %.12g said", what, now, change->value);
    }
}

/* Every answer for itself: tried, taken, looked at, taken back. Returns how many changes there were in all. */
static size_t take_each(desk *d, const bw_even_wish *wish, const char *what) {
    shop_problems problems;
    size_t length, count, changes = 0;
    char *before = strdup(desk_bytes(d, &length));
    for (size_t i = 0, n = 1; i < n; i++) {
        shop_problems_init(&problems, what);
        ck_assert_msg(desk_even_begin(d, wish, &problems), "%s", what);
        while (desk_even_more(d, 5000)) {
        }
        bw_even_found found = desk_even_found(d);
        n = found.count;
        if (i >= n) {
            shop_problems_free(&problems);
            break;
        }
        desk *other = open_text(desk_bytes(d, &length));
        desk_edits list;
        ck_assert(desk_even_edits(d, i, &list));
        ck_assert_msg((list.count == 0) == (found.answers[i].change_count == 0), "%s", what);
        count = list.count;
        ck_assert_msg(desk_even_try(d, i, &problems), "%s, answer %zu", what, i);
        ck_assert_msg(desk_trying(d) == (count > 0), "%s", what);
        ck_assert(count == 0 || desk_edit_many(other, list.edits, list.count, "even", &problems));
        as_claimed(d, &found.answers[i], wish, what);
        as_claimed(other, &found.answers[i], wish, what);
        changes += found.answers[i].change_count;
        desk_edits_release(&list);
        if (count > 0) {
            ck_assert(desk_try_keep(d, &problems));
            ck_assert_msg(!desk_even_begun(d), "%s: the search outlives its layout", what);
            ck_assert(desk_undo(d, NULL));
        }
        ck_assert_str_eq(desk_bytes(d, &length), before);
        desk_close(other);
        shop_problems_free(&problems);
    }
    free(before);
    return changes;
}

START_TEST(random_layouts) {
    size_t changes = 0;
    for (unsigned seed = 0; seed < 60; seed++) {
        random_source r = {.state = seed};
        bw_even_wish wish;
        char what[40], *text = random_project(seed);
        desk *d = open_text(text);
        snprintf(what, sizeof what, "random layout %u", seed);
        desk_even_wish(d, &wish);
        wish.limit = random_between(&r, 0.002, 0.02);
        wish.fit = random_chance(&r, 0.5) ? BW_TIGHT : BW_GOOD;
        wish.answers = 3;
        wish.trials = 3000;
        changes += take_each(d, &wish, what);
        desk_close(d);
        free(text);
    }
    ck_assert_uint_gt(changes, 20); /* each compiler makes layouts of its own: 35 and more */
}
END_TEST

/* Shapes with corners, in inches, with a circumference, of a finished size; the diameter is kept from moving. */
static const char *const pieces[] = {
    "bandwright-project: 1\nunits: in\noutline: {shape: rectangle, length: 9 1/4, width: 6, corner: 1 1/2}\n"
    "bands:\n  - {name: a, space: 1/8, width: 1/2, fill: basket, tool: b}\n  - {name: s, space: 1/8, width: 0, fill: "
    "stitch, tool: i}\ntools:\n  - {id: b, kind: basket, length: 1/4}\n  - {id: i, kind: iron, pitch: 1/6, teeth: 4}\n",
    "bandwright-project: 1\noutline: {shape: circle, around: 377.2}\nleather: {growth: 2 %}\nsizes: finished\n"
    "bands:\n  - {name: a, space: 3, width: 14, fill: basket, guide: 40 %, tool: b}\n  - {name: rim, space: 2, width: "
    "6, fill: border, tool: r}\ntools:\n  - {id: b, kind: basket, length: 8}\n  - {id: r, kind: border, length: 5, "
    "width: 4}\n",
    "bandwright-project: 1\noutline: {shape: polygon, corners: [[0, 0, 30], [141.3, 0, 30], [141.3, 90, 32], [0, 90, "
    "30]]}\nfixed: [bands.a.width]\nbands:\n  - {name: a, space: 4, width: 12, fill: basket, tool: b}\ntools:\n  - "
    "{id: "
    "b, kind: basket, length: 6}\n",
};

START_TEST(other_pieces) {
    size_t changes = 0;
    for (int k = 0; k < 3; k++) {
        char what[40];
        bw_even_wish wish;
        desk *d = open_text(pieces[_i]);
        snprintf(what, sizeof what, "piece %d, %d", _i, k);
        desk_even_wish(d, &wish);
        ck_assert_double_eq_tol(wish.within, _i == 0 ? 25.4 / 8 : 3, 1e-12);
        wish.limit = 0.002 * (k + 1);
        wish.fit = BW_TIGHT;
        wish.changes = 2;
        wish.trials = 30000;
        changes += take_each(d, &wish, what);
        bw_even_found found = desk_even_found(d);
        for (size_t i = 0; i < found.count; i++) {
            for (size_t c = 0; c < found.answers[i].change_count; c++) {
                ck_assert_msg(_i != 2 || found.answers[i].changes[c].knob != BW_KNOB_BAND_WIDTH, "a fixed width moves");
            }
        }
        desk_close(d);
    }
    ck_assert_uint_gt(changes, 3);
}
END_TEST

/* Words of an answer are those of the undo step that taking it makes. */
START_TEST(words_of_a_step) {
    shop_problems problems;
    bw_even_wish wish;
    desk *d =
        open_text("bandwright-project: 1\noutline: {shape: circle, diameter: 120}\nbands:\n  - {name: rim, space: "
                  "4, width: 6, fill: border, tool: s}\ntools:\n  - {id: s, kind: border, length: 5, width: 5}\n");
    shop_problems_init(&problems, "");
    desk_even_wish(d, &wish);
    wish.limit = 0.003;
    ck_assert(!desk_even_begun(d) && desk_even_found(d).done && desk_even_found(d).count == 0);
    ck_assert(desk_even_begin(d, &wish, &problems));
    while (desk_even_more(d, 50)) {
    }
    ck_assert_uint_gt(desk_even_found(d).count, 0);
    char *words = desk_even_words(d, 0);
    ck_assert(desk_even_try(d, 0, &problems) && desk_even_begun(d));
    char *during = desk_even_words(d, 0); /* of the layout without the trial */
    ck_assert_str_eq(words, during);
    ck_assert(strstr(words, " mm -> ") != NULL);
    ck_assert(desk_try_keep(d, &problems));
    ck_assert_str_eq(desk_last(d), words);
    wish.within = -1;
    ck_assert(!desk_even_begin(d, &wish, &problems));
    ck_assert_int_eq((int)problems.errors, 1);
    free(words);
    free(during);
    shop_problems_free(&problems);
    desk_close(d);
}
END_TEST

Suite *desk_even_suite(void) {
    Suite *suite = suite_create("desk/even");
    TCase *tests = tcase_create("even");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, random_layouts);
    tcase_add_loop_test(tests, other_pieces, 0, (int)(sizeof pieces / sizeof pieces[0]));
    tcase_add_test(tests, words_of_a_step);
    suite_add_tcase(suite, tests);
    return suite;
}
