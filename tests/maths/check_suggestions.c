/* check_suggestions.c - every suggestion, made: its warning goes, what it says remains does remain, and what the maker
 * has marked fixed stays. */
#include <check.h>
#include <glob.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "desk/desk.h"
#include "maths/measure.h"
#include "maths/random.h"

Suite *maths_suggestions_suite(void);

static bool warned(const bw_plan *plan, size_t band, bw_warning_kind kind) {
    for (size_t i = 0; i < plan->warning_count; i++) {
        if (plan->warnings[i].band == band && plan->warnings[i].kind == kind) {
            return true;
        }
    }
    return false;
}

static double gaps(const bw_band_plan *band) {
    double sum = 0;
    for (size_t i = 0; i < band->run_count; i++) {
        sum += fabs(band->runs[i].closure_gap);
    }
    return sum;
}

/* What a move promises, against the plan with it made. */
static void keeps_its_word(const bw_move *move, const bw_plan *before, const bw_plan *after, const char *what) {
    const bw_band_plan *band = &after->bands[move->band];
    ck_assert_msg(fabs(gaps(band) - move->remaining_gap) <= 1e-9, "%s, knob %d: %.12g left, %.12g told", what,
                  move->change.knob, gaps(band), move->remaining_gap);
    ck_assert_msg(band->fit.verdict != BW_NO_ROOM, "%s, knob %d: the band is gone", what, move->change.knob);
    ck_assert_uint_eq(band->run_count, move->run_count);
    ck_assert_double_eq_tol(band->run_count > 0 ? band->runs[bw_worst_run(band)].closure_gap : 0, move->worst_gap,
                            1e-9);
    for (int kind = 0; kind < BW_WARN_TOOL_DIFFERS; kind++) {
        bool before_it = warned(before, move->band, (bw_warning_kind)kind);
        bool gone = before_it && !warned(after, move->band, (bw_warning_kind)kind);
        bool comes = !before_it && warned(after, move->band, (bw_warning_kind)kind);
        bool works_now = (move->gone & 1u << BW_WARN_VERDICT) != 0;
        ck_assert_msg(!comes || works_now, "%s, knob %d: brings warning %d", what, move->change.knob, kind);
        if (kind == BW_WARN_WANTED_COUNT && move->change.knob == BW_KNOB_COUNT) {
            ck_assert((move->gone & 1u << kind) == 0); /* a count that is given is never warned of so */
            continue;
        }
        ck_assert_msg(gone == ((move->gone & 1u << kind) != 0), "%s, knob %d: warning %d is told wrong", what,
                      move->change.knob, kind);
    }
    ck_assert_msg(band->fit.verdict == move->verdict, "%s, knob %d: %s, %s told", what, move->change.knob,
                  bw_verdict_word(band->fit.verdict), bw_verdict_word(move->verdict));
    ck_assert_msg(move->cures_warning || move->closes || move->whole_rows, "%s: a move for nothing", what);
    if (move->cures_warning) {
        ck_assert_msg(warned(before, move->band, move->cures) && !warned(after, move->band, move->cures),
                      "%s, knob %d: warning %d is still there", what, move->change.knob, move->cures);
    }
    if (move->closes) {
        ck_assert_msg(gaps(band) < gaps(&before->bands[move->band]), "%s: the gap is no smaller", what);
    }
    for (size_t i = 0; move->whole_rows && i < band->row_count; i++) {
        ck_assert_msg(!band->rows[i].leaned, "%s: row %d is still leaned", what, band->rows[i].row);
    }
    for (size_t i = 0; i < after->band_count; i++) {
        ck_assert_msg(before->bands[i].fit.verdict < BW_TIGHT || after->bands[i].fit.verdict >= BW_TIGHT,
                      "%s: band %zu worked and does not now", what, i);
    }
}

static size_t try_all(const measured *m, const bw_layout *layout, const char *what) {
    bw_move *moves = NULL;
    size_t count = 0;
    ck_assert_int_eq(bw_moves_create(layout, m->plan, SIZE_MAX, NULL, &moves, &count), BW_OK);
    for (size_t i = 0; i < count; i++) {
        bw_layout changed = *layout;
        bw_band *bands = malloc(layout->band_count * sizeof *bands);
        bw_corner *corners = malloc((layout->outline.corner_count + 1) * sizeof *corners);
        ck_assert_ptr_nonnull(bands);
        ck_assert_ptr_nonnull(corners);
        memcpy(bands, layout->bands, layout->band_count * sizeof *bands);
        changed.bands = bands;
        bw_change_apply(&moves[i].change, &changed, bands, corners);
        bw_plan *after = NULL;
        ck_assert_int_eq(bw_plan_create(&changed, NULL, &after), BW_OK);
        keeps_its_word(&moves[i], m->plan, after, what);
        bw_plan_destroy(after);
        free(bands);
        free(corners);
        if (i > 0 && moves[i].band == moves[i - 1].band) {
            bool works = moves[i].verdict >= BW_TIGHT, worked = moves[i - 1].verdict >= BW_TIGHT;
            ck_assert_msg(worked || !works, "%s: what works does not come first", what);
            const unsigned shows = 1u << BW_WARN_STRETCH | 1u << BW_WARN_JUMP;
            bool mends = (moves[i].gone & shows) != 0, mended = (moves[i - 1].gone & shows) != 0;
            ck_assert_msg(worked != works || mended || !mends, "%s: what mends steps does not come first", what);
            ck_assert_msg(worked != works || mended != mends || moves[i].size >= moves[i - 1].size,
                          "%s: not smallest first", what);
        }
    }
    bw_moves_release(moves, NULL);
    return count;
}

START_TEST(random_layouts) {
    size_t tried = 0;
    for (unsigned seed = (unsigned)_i * 50; seed < (unsigned)_i * 50 + 50; seed++) {
        char what[40], *text = random_project(seed);
        snprintf(what, sizeof what, "random layout %u", seed);
        measured m;
        ck_assert(measured_open(&m, text, what));
        tried += try_all(&m, &m.project->layout, what);
        measured_close(&m);
        free(text);
    }
    ck_assert_uint_gt(tried, 50);
}
END_TEST

/* With some knobs fixed, here and there, no move touches them. */
START_TEST(fixed_values_never_move) {
    size_t tried = 0;
    for (unsigned seed = 0; seed < 100; seed++) {
        random_source r = {.state = seed};
        char *text = random_project(seed);
        measured m;
        ck_assert(measured_open(&m, text, "fixed"));
        bw_layout layout = m.project->layout;
        layout.fixed = (unsigned)random_number(&r, 0, (1 << BW_KNOB_COUNT_OF_KNOBS) - 1);
        for (size_t i = 0; i < layout.band_count; i++) {
            m.project->bands[i].fixed = (unsigned)random_number(&r, 0, (1 << BW_KNOB_COUNT_OF_KNOBS) - 1);
        }
        bw_move *moves = NULL;
        size_t count = 0;
        ck_assert_int_eq(bw_moves_create(&layout, m.plan, SIZE_MAX, NULL, &moves, &count), BW_OK);
        for (size_t i = 0; i < count; i++) {
            const bw_change *change = &moves[i].change;
            unsigned fixed = change->knob < BW_KNOB_SPACE ? layout.fixed : layout.bands[change->band].fixed;
            ck_assert_msg((fixed & (1u << change->knob)) == 0, "layout %u: knob %d moves", seed, change->knob);
        }
        tried += count;
        bw_moves_release(moves, NULL);
        measured_close(&m);
        free(text);
    }
    ck_assert_uint_gt(tried, 50);
}
END_TEST

/* The same through the desk, as edits of the file's text: taken, compared, taken back. */
static size_t take_all(desk *d, size_t band, const char *what) {
    shop_problems problems;
    shop_problems_init(&problems, what);
    size_t count, length, tried = 0;
    desk_suggestions(d, band, &count);
    const char *now_there = desk_bytes(d, &length);
    char *original = strndup(now_there, length);
    for (; tried < count; tried++) {
        size_t now;
        const desk_suggestion *all = desk_suggestions(d, band, &now);
        ck_assert_uint_eq(now, count);
        bw_move move = all[tried].move;
        bw_plan *before = NULL;
        ck_assert_int_eq(bw_plan_create(&desk_project(d)->layout, NULL, &before), BW_OK);
        ck_assert_msg(desk_take(d, &all[tried], &problems), "%s: suggestion %zu cannot be taken", what, tried);
        keeps_its_word(&move, before, desk_plan(d), what);
        bw_plan_destroy(before);
        const char *title;
        ck_assert(desk_undo(d, &title));
        size_t back;
        const char *bytes = desk_bytes(d, &back);
        ck_assert_msg(back == length && memcmp(bytes, original, length) == 0, "%s: undo leaves other bytes", what);
    }
    free(original);
    shop_problems_free(&problems);
    return tried;
}

START_TEST(suggestions_as_edits) {
    size_t tried = 0;
    for (unsigned seed = 0; seed < 40; seed++) {
        char *text = random_project(seed);
        shop_problems problems;
        shop_problems_init(&problems, "random.yaml");
        shop_status status;
        desk *d = desk_new("random.yaml", text, strlen(text), NULL, &problems, &status);
        shop_problems_print(&problems, stderr);
        ck_assert_ptr_nonnull(d);
        for (size_t band = 0; band < desk_project(d)->layout.band_count; band++) {
            tried += take_all(d, band, "random.yaml");
        }
        desk_close(d);
        shop_problems_free(&problems);
        free(text);
    }
    ck_assert_uint_gt(tried, 20);
}
END_TEST

START_TEST(suggestions_of_the_examples) {
    glob_t files;
    size_t tried = 0;
    ck_assert_int_eq(glob("projects/*.yaml", 0, NULL, &files), 0);
    for (size_t i = 0; i < files.gl_pathc; i++) {
        shop_problems problems;
        shop_problems_init(&problems, files.gl_pathv[i]);
        shop_status status;
        desk *d = desk_open(files.gl_pathv[i], "share/inventory.yaml", &problems, &status);
        shop_problems_print(&problems, stderr);
        ck_assert_ptr_nonnull(d);
        for (size_t band = 0; band < desk_project(d)->layout.band_count; band++) {
            tried += take_all(d, band, files.gl_pathv[i]);
        }
        desk_close(d);
        shop_problems_free(&problems);
    }
    globfree(&files);
    ck_assert_uint_gt(tried, 0);
}
END_TEST

Suite *maths_suggestions_suite(void) {
    Suite *suite = suite_create("maths/suggestions");
    TCase *tests = tcase_create("suggestions");
    tcase_set_timeout(tests, 120);
    tcase_add_loop_test(tests, random_layouts, 0, 10);
    tcase_add_test(tests, fixed_values_never_move);
    tcase_add_test(tests, suggestions_as_edits);
    tcase_add_test(tests, suggestions_of_the_examples);
    suite_add_tcase(suite, tests);
    return suite;
}
