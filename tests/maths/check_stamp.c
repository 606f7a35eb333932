/* check_stamp.c - which stamp would do: just inside the ranges a plan made anew works, just outside it does not; on a
 * circle the least leg against the closed form. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "maths/measure.h"
#include "maths/purse.h"
#include "maths/random.h"
#include "maths/sample.h"

Suite *maths_stamp_suite(void);

typedef enum size_of { LENGTH, LEG, RAIL } size_of;

/* A stamp like the one in use, one size changed; measured steps are not another stamp's. */
static bool works(const bw_layout *layout, size_t band, const bw_face *face, size_of which, double value) {
    bw_layout other = *layout;
    bw_plan *plan = NULL;
    int own = layout->bands[band].tool;
    bw_tool *tools = malloc(layout->tool_count * sizeof *tools);
    ck_assert_ptr_nonnull(tools);
    for (size_t i = 0; i < layout->tool_count; i++) {
        tools[i] = layout->tools[i];
    }
    bw_tool *tool = &tools[own];
    double length = which == LENGTH ? value : face->length;
    if (tool->kind == BW_BASKET) {
        double leg = which == LEG ? value : face->leg / face->length;
        tool->bar = length * (1 - 2 * leg);
        tool->width = face->width;
        tool->rail = which == RAIL ? value : face->rail;
    }
    *(tool->kind == BW_IRON ? &tool->pitch : &tool->length) = length;
    if (which != RAIL) {
        tool->closest = tool->usual = tool->widest = (double)NAN;
    }
    other.tools = tools;
    ck_assert_int_eq(bw_plan_create(&other, NULL, &plan), BW_OK);
    bool good = plan->bands[band].fit.verdict >= BW_TIGHT;
    bw_plan_destroy(plan);
    free(tools);
    return good;
}

/* Just outside an end: what does not work may be a narrow gap between counts. */
static bool fails_near(const bw_layout *layout, size_t band, const bw_face *face, size_of which, double end,
                       double off) {
    enum { TRIED = 64 };
    for (int i = 1; i <= TRIED; i++) {
        if (!works(layout, band, face, which, end + off * i / TRIED)) {
            return true;
        }
    }
    return false;
}

/* Returns how many ends were found by trying. */
static size_t check_span(const bw_layout *layout, size_t band, const bw_face *face, size_of which, const bw_span *span,
                         const char *what) {
    double now = which == LENGTH ? face->length : which == LEG ? face->leg / face->length : face->rail;
    double off = 0.0005 * now;
    if (!span->any) {
        return 0;
    }
    ck_assert_msg(span->least <= span->most, "%s, size %d", what, which);
    ck_assert_msg(works(layout, band, face, which, span->least), "%s, size %d: not from %g", what, which, span->least);
    ck_assert_msg(works(layout, band, face, which, span->most), "%s, size %d: not to %g", what, which, span->most);
    ck_assert_msg(span->below || fails_near(layout, band, face, which, span->least, -off), "%s, size %d: also below %g",
                  what, which, span->least);
    ck_assert_msg(span->above || fails_near(layout, band, face, which, span->most, off), "%s, size %d: also above %g",
                  what, which, span->most);
    return (size_t)!span->below + (size_t)!span->above;
}

START_TEST(random_layouts) {
    size_t ends = 0, found = 0;
    for (unsigned seed = 0; seed < 80; seed++) {
        char what[40], *text = random_project(seed);
        measured m;
        snprintf(what, sizeof what, "random layout %u", seed);
        ck_assert(measured_open(&m, text, what));
        for (size_t band = 0; band < m.plan->band_count; band++) {
            const bw_band_plan *made = &m.plan->bands[band];
            const bw_stamp *stamp = bw_plan_stamp(&m.project->layout, m.plan, band);
            ck_assert_msg((stamp == NULL) == (made->fill == BW_FILL_PLAIN), "%s", what);
            if (stamp == NULL) {
                continue;
            }
            ck_assert(bw_plan_stamp(&m.project->layout, m.plan, band) == stamp);
            ck_assert_msg(stamp->works == (made->fit.verdict >= BW_TIGHT), "%s", what);
            const bw_span *spans[] = {&stamp->length, &stamp->leg, &stamp->rail};
            for (int i = 0; i < (made->fill == BW_FILL_BASKET ? 3 : 1); i++) {
                ends += check_span(&m.project->layout, band, &made->face, (size_of)i, spans[i], what);
                found += !stamp->works && spans[i]->any;
            }
        }
        measured_close(&m);
        free(text);
    }
    ck_assert_uint_gt(ends, 40);
    ck_assert_uint_gt(found, 5);
}
END_TEST

/* On a circle, two rows at radius R +- 0 and counted lines 0, -1, 1: both reach and crowd hold only if r_out/r_in <=
 * l/(l - e), section 4 of the maths; so e >= l (1 - r_in/r_out). */
START_TEST(least_leg_on_a_circle) {
    sample s;
    sample_circle(&s, 120);
    bw_band *band = sample_basket(&s, 4, 17, 6, 4.6, 2.4, 1.2);
    band->count = 0;
    bw_plan *plan = sample_plan(&s);
    const bw_stamp *stamp = bw_plan_stamp(&s.layout, plan, 0);
    const bw_band_plan *made = &plan->bands[0];
    double out = 60 - made->lines[0].from_edge, in = 60 - made->lines[made->line_count - 1].from_edge;
    ck_assert_uint_ge(made->line_count, 3);
    ck_assert(stamp->leg.any && !stamp->leg.below);
    ck_assert_double_ge(stamp->leg.least, 1 - in / out - 1e-6);  /* necessary */
    ck_assert_double_le(stamp->leg.least, 1.3 * (1 - in / out)); /* and whole counts ask for little more */
    bw_plan_destroy(plan);
}
END_TEST

/* A border stamp at a count that is given: its step is fixed, and its length times 1 +- give must hold it. */
START_TEST(length_at_a_given_count) {
    sample s;
    sample_circle(&s, 120);
    bw_band *band = sample_border(&s, 4, 6, 5, 4);
    s.tools[band->tool].give = 0.05;
    band->count = 67;
    bw_plan *plan = sample_plan(&s);
    const bw_stamp *stamp = bw_plan_stamp(&s.layout, plan, 0);
    double step = (120 - 14) * BW_PI / 67;
    ck_assert(stamp->works && stamp->length.any && !stamp->length.below && !stamp->length.above);
    ck_assert_double_eq_tol(stamp->length.least, step / 1.05, 0.005);
    ck_assert_double_eq_tol(stamp->length.most, step / 0.95, 0.005);
    bw_plan_destroy(plan);
}
END_TEST

static bw_status stamp_once(const void *about, const bw_allocator *allocator) {
    const sample *s = about;
    bw_plan *plan = NULL;
    bw_status status = bw_plan_create(&s->layout, allocator, &plan);
    if (status == BW_OK && bw_plan_stamp(&s->layout, plan, 0) == NULL) {
        status = BW_NO_MEMORY;
    }
    bw_plan_destroy(plan);
    return status;
}

START_TEST(memory_runs_out) {
    sample s;
    sample_circle(&s, 120);
    sample_basket(&s, 4, 17, 9, 4.6, 3, 1.2);
    purse_run_out(&s, stamp_once, 97, "stamp");
}
END_TEST

Suite *maths_stamp_suite(void) {
    Suite *suite = suite_create("maths/stamp");
    TCase *tests = tcase_create("stamp");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, random_layouts);
    tcase_add_test(tests, least_leg_on_a_circle);
    tcase_add_test(tests, length_at_a_given_count);
    tcase_add_test(tests, memory_runs_out);
    suite_add_tcase(suite, tests);
    return suite;
}
