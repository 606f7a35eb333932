/* check_walk.c - walking along a run with a step, against looking at many places one by one. */
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "maths/run.h"

Suite *maths_walk_suite(void);

static double roll(double least, double most) {
    return least + (most - least) * (rand() / (double)RAND_MAX);
}

typedef struct course {
    maths_arena arena;
    bw_curve *edge;
    maths_guide guide;
} course;

/* A guide of a random rounded rectangle. */
static void lay_out(course *c, double from_edge, bool sharp) {
    bw_layout layout;
    bw_layout_init(&layout);
    layout.outline.shape = BW_RECTANGLE;
    layout.outline.length = roll(80, 200);
    layout.outline.width = roll(80, 200);
    for (int i = 0; i < 4; i++)
        layout.outline.corner[i] = sharp && i % 2 == 0 ? 0 : roll(from_edge + 5, 40);
    maths_arena_init(&c->arena, NULL);
    ck_assert_int_eq(bw_curve_create(&layout.outline, NULL, &c->edge), BW_OK);
    ck_assert(maths_guide_make(&c->guide, c->edge, 0, from_edge, &c->arena));
}

static void clear_up(course *c) {
    maths_guide_free(&c->guide);
    bw_curve_destroy(c->edge);
    maths_arena_free(&c->arena);
}

/* Direction at a place of a run, counted on over trips, from the curve's own spots. */
static double direction_at(const course *c, const maths_run *run, double x) {
    double trips = run->closed ? floor(x / run->length) : 0, rest = x - trips * run->length;
    double sum = 0;
    for (size_t i = 0; i < bw_curve_pieces(c->guide.curve); i++) {
        bw_piece piece = bw_curve_piece(c->guide.curve, i);
        double u = fmin(fmax(rest + run->from - piece.start, 0), piece.length);
        if (piece.start >= run->from - 1e-9)
            sum += piece.curvature * u;
    }
    return sum + trips * run->total;
}

START_TEST(turning_over_windows_is_that_of_every_place) {
    enum { PLACES = 4000 };
    srand(3);
    for (int round = 0; round < 60; round++) {
        course c;
        lay_out(&c, roll(2, 10), round % 2 == 1);
        ck_assert_uint_eq(c.guide.run_count, round % 2 == 1 ? 2 : 1);
        for (size_t r = 0; r < c.guide.run_count; r++) {
            const maths_run *run = &c.guide.runs[r];
            double u = roll(3, 40), end = run->closed ? run->length : run->length - u;
            maths_range range = maths_turn_range(run, u, 0, run->length);
            double least = INFINITY, most = -INFINITY;
            for (int k = 0; k <= PLACES; k++) {
                double x = end * k / PLACES;
                double turn = direction_at(&c, run, x + u) - direction_at(&c, run, x);
                least = fmin(least, turn);
                most = fmax(most, turn);
            }
            /* between two places looked at, the turning changes by no more than 1/5 mm of curvature allows */
            ck_assert_double_le(range.least, least + 1e-9);
            ck_assert_double_ge(range.most, most - 1e-9);
            ck_assert_double_eq_tol(range.least, least, end / PLACES / 5);
            ck_assert_double_eq_tol(range.most, most, end / PLACES / 5);
        }
        clear_up(&c);
    }
}
END_TEST

typedef struct sum {
    double covered, least, most;
    const maths_run *run;
} sum;

static void add_span(void *context, const maths_span *span) {
    sum *s = context;
    s->covered += span->until - span->from;
    s->least = fmin(s->least, fmin(span->step[0], span->step[1]));
    s->most = fmax(s->most, fmax(span->step[0], span->step[1]));
}

START_TEST(a_walk_covers_every_place_once) {
    srand(4);
    for (int round = 0; round < 60; round++) {
        course c;
        lay_out(&c, roll(2, 10), round % 2 == 1);
        const maths_run *run = &c.guide.runs[0];
        double bend = roll(3, 9), straight = bend * roll(0.9, 1.1);
        maths_pace pace = {
            .step = bend, .straight = straight, .round = run->closed, .from = 2, .until = run->length - 2};
        sum s = {.least = INFINITY, .most = -INFINITY, .run = run};
        maths_walk(run, &pace, add_span, &s);
        double last = run->closed ? run->length : 0; /* the place from which the last step ends at the end */
        if (!run->closed) {
            double low = 2, high = run->length - 2;
            for (int i = 0; i < 80; i++) {
                last = (low + high) / 2;
                if (maths_step_end(run, &pace, last) > pace.until)
                    high = last;
                else
                    low = last;
            }
            last -= 2;
        }
        ck_assert_double_eq_tol(s.covered, last, 1e-7);
        ck_assert_double_eq_tol(s.least, fmin(bend, straight), 1e-9);
        ck_assert_double_eq_tol(s.most, fmax(bend, straight), 1e-9);
        clear_up(&c);
    }
}
END_TEST

START_TEST(steps_of_two_lengths_pass_the_joints) {
    srand(5);
    for (int round = 0; round < 60; round++) {
        course c;
        lay_out(&c, roll(2, 10), false);
        const maths_run *run = &c.guide.runs[0];
        maths_pace pace = {.step = roll(3, 9), .straight = roll(3, 9), .round = true};
        double x = roll(0, run->length), end = maths_step_end(run, &pace, x), share = 0;
        enum { SLICES = 20000 };
        for (int k = 0; k < SLICES; k++) { /* the integral of dx / step(x) over the step is one */
            double at = fmod(x + (end - x) * (k + 0.5) / SLICES, run->length);
            size_t i = 0;
            while (i + 1 < run->count && run->at[i + 1] <= at)
                i++;
            share += (end - x) / SLICES / (run->curvature[i] == 0 ? pace.straight : pace.step);
        }
        ck_assert_double_eq_tol(share, 1, 1e-3);
        clear_up(&c);
    }
}
END_TEST

/* A run exactly as long as its face: two impressions on one spot, and an end of the walk. */
START_TEST(a_step_of_nothing_is_one_spot) {
    course c;
    srand(6);
    lay_out(&c, 5, false);
    maths_pace pace = {.step = 0, .from = 2, .until = 2};
    sum s = {.least = INFINITY, .most = -INFINITY};
    maths_walk(&c.guide.runs[0], &pace, add_span, &s);
    ck_assert_double_eq(s.most, 0);
    ck_assert_double_eq(s.covered, 0);
    clear_up(&c);
}
END_TEST

Suite *maths_walk_suite(void) {
    Suite *suite = suite_create("maths: walking");
    TCase *tc = tcase_create("walk");
    tcase_add_test(tc, turning_over_windows_is_that_of_every_place);
    tcase_add_test(tc, a_walk_covers_every_place_once);
    tcase_add_test(tc, steps_of_two_lengths_pass_the_joints);
    tcase_add_test(tc, a_step_of_nothing_is_one_spot);
    suite_add_tcase(suite, tc);
    return suite;
}
