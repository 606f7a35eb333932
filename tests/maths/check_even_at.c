/* check_even_at.c - the move that closes a round, where Steiner's formula does not hold: small corners, ovals past
 * their cusp, parallels that split. The guide is moved and everything planned anew. */
#include <check.h>
#include <math.h>
#include <stdio.h>

#include "maths/random.h"
#include "maths/sample.h"

Suite *maths_even_at_suite(void);

#define CLOSES 2e-7 /* mm of gap that may be left once the guide has moved */
#define WIDTH 40.0

enum { SIDES_MOST = 60 };

typedef struct piece {
    sample s;
    bw_corner corners[SIDES_MOST];
} piece;

static void border_on(piece *p, double space, double face, double guide) {
    bw_band *band = sample_border(&p->s, space, WIDTH, face, 0.5);
    band->guide_is_length = true;
    band->guide = guide;
}

/* A polygon around an oval, with corners of less than 15 degrees all round. */
static void many_sided(piece *p, random_source *r) {
    int sides = random_number(r, 40, SIDES_MOST);
    double a = random_between(r, 80, 140), b = random_between(r, 0.8, 1) * a;
    sample_circle(&p->s, 100);
    p->s.layout.outline.shape = BW_POLYGON;
    for (int i = 0; i < sides; i++)
        p->corners[i] = (bw_corner){a * cos(2 * BW_PI * i / sides), b * sin(2 * BW_PI * i / sides), 0};
    p->s.layout.outline.corners = p->corners;
    p->s.layout.outline.corner_count = (size_t)sides;
}

/* Two wide ends and a waist, rounded everywhere. */
static void waisted(piece *p, random_source *r) {
    double waist = random_between(r, 20, 60), radius = random_between(r, 20, 30);
    const bw_corner corners[] = {{0, 0, radius},
                                 {120, 0, radius},
                                 {160, 60 - waist / 2, radius},
                                 {240, 60 - waist / 2, radius},
                                 {280, 0, radius},
                                 {400, 0, radius},
                                 {400, 120, radius},
                                 {280, 120, radius},
                                 {240, 60 + waist / 2, radius},
                                 {160, 60 + waist / 2, radius},
                                 {120, 120, radius},
                                 {0, 120, radius}};
    sample_circle(&p->s, 100);
    p->s.layout.outline.shape = BW_POLYGON;
    for (size_t i = 0; i < sizeof corners / sizeof *corners; i++)
        p->corners[i] = corners[i];
    p->s.layout.outline.corners = p->corners;
    p->s.layout.outline.corner_count = sizeof corners / sizeof *corners;
}

static void oval(piece *p, random_source *r) {
    sample_circle(&p->s, 100);
    p->s.layout.outline.shape = BW_ELLIPSE;
    p->s.layout.outline.length = random_between(r, 110, 140);
    p->s.layout.outline.width = random_between(r, 0.8, 0.95) * p->s.layout.outline.length;
}

/* How far the first run with this count is from closing with the guide moved; NAN if it is not closed there. */
static double gap_at(piece *p, double guide, int run, int runs, int count) {
    int counts[4] = {count, count, count, count};
    bw_band *band = &p->s.bands[0];
    band->guide = guide;
    band->counts = counts;
    band->count_runs = 4;
    bw_plan *plan = sample_plan(&p->s);
    const bw_band_plan *b = &plan->bands[0];
    bool same = (int)b->run_count == runs && b->runs[run].closed;
    double gap = same ? b->runs[run].closure_gap : NAN;
    bw_plan_destroy(plan);
    band->counts = NULL;
    return gap;
}

typedef struct tally {
    int closed, absent, not_steiner, several;
} tally;

static void check_piece(piece *p, double space, double guide, double face, tally *t) {
    border_on(p, space, face, guide);
    bw_plan *plan = sample_plan(&p->s);
    const bw_band_plan *b = &plan->bands[0];
    for (size_t i = 0; i < b->run_count; i++) {
        const bw_run_plan *run = &b->runs[i];
        int runs = (int)b->run_count;
        if (!run->closed || run->count == 0) {
            ck_assert(!run->has_even_at);
            continue;
        }
        double steiner = run->closure_gap / (2 * BW_PI);
        if (run->has_even_at) {
            double left = gap_at(p, guide + run->guide_shift, (int)i, runs, run->count);
            ck_assert_msg(fabs(left) <= CLOSES, "guide at %.9g, moved by %.9g: %g left", guide, run->guide_shift, left);
            ck_assert_double_le(fabs(run->guide_shift), fabs(steiner) + BW_EPS);
            t->closed++;
            t->several += runs > 1;
            t->not_steiner += fabs(run->guide_shift - steiner) > 1e-6;
        } else { /* then no move up to Steiner's, which is the farthest, may close it and stay one round */
            enum { PLACES = 40 };
            for (int k = 1; k <= PLACES; k++) {
                double at = guide + steiner * k / PLACES, left = NAN;
                if (at >= 0 && at <= WIDTH)
                    left = gap_at(p, at, (int)i, runs, run->count);
                ck_assert_msg(isnan(left) || left * run->closure_gap > 0, "guide at %.9g closes by %.9g", guide, at);
            }
            t->absent++;
        }
    }
    bw_plan_destroy(plan);
}

START_TEST(small_corners) {
    enum { ROUNDS = 60 };
    random_source r = {1};
    tally t = {0};
    for (int round = 0; round < ROUNDS; round++) {
        piece p;
        many_sided(&p, &r);
        double guide = random_between(&r, 5, 35);
        check_piece(&p, 0, guide, random_between(&r, 4, 9), &t);
    }
    ck_assert_int_gt(t.closed, ROUNDS / 2);
    ck_assert_int_gt(t.not_steiner, ROUNDS / 4);
}
END_TEST

START_TEST(waists) {
    enum { ROUNDS = 60 };
    random_source r = {2};
    tally t = {0};
    for (int round = 0; round < ROUNDS; round++) {
        piece p;
        waisted(&p, &r);
        double guide = random_between(&r, 2, 38);
        check_piece(&p, 0, guide, random_between(&r, 4, 9), &t);
    }
    ck_assert_int_gt(t.closed, ROUNDS / 4); /* corners of the loops behind the split are cut */
}
END_TEST

START_TEST(ovals_past_their_cusp) {
    enum { ROUNDS = 40 };
    random_source r = {3};
    tally t = {0};
    for (int round = 0; round < ROUNDS; round++) {
        piece p;
        oval(&p, &r);
        double least = pow(p.s.layout.outline.width, 2) / p.s.layout.outline.length / 2; /* b^2/a */
        double guide = WIDTH / 2, space = least - guide + random_between(&r, -1, 1);
        check_piece(&p, space, guide, random_between(&r, 4, 9), &t);
    }
    ck_assert_int_gt(t.closed, ROUNDS / 4);
    ck_assert_int_gt(t.not_steiner, 0);
}
END_TEST

/* Two round rooms and a narrow way between them. Far in, each has a round of its own; near the edge one round goes
 * around both. That one closes somewhere with the count given, but it is not what either round becomes. */
START_TEST(rounds_that_meet) {
    enum { COUNT = 152 };
    piece p;
    int counts[] = {COUNT, COUNT};
    sample_circle(&p.s, 100);
    p.s.layout.outline.shape = BW_PATH;
    p.s.layout.outline.svg = "M59.867 4A60 60 0 1 1 59.867-4L80.133-4A60 60 0 1 1 80.133 4Z";
    p.s.layout.outline.scale = 1;
    border_on(&p, 2, 5, WIDTH - 2);
    ck_assert_double_gt(gap_at(&p, 0, 0, 1, COUNT), 0);
    ck_assert_double_lt(gap_at(&p, 1.5, 0, 1, COUNT), 0);
    p.s.bands[0].guide = WIDTH - 2;
    p.s.bands[0].counts = counts;
    p.s.bands[0].count_runs = 2;
    bw_plan *plan = sample_plan(&p.s);
    ck_assert_uint_eq(plan->bands[0].run_count, 2);
    for (int i = 0; i < 2; i++) {
        ck_assert(plan->bands[0].runs[i].closed);
        ck_assert(!plan->bands[0].runs[i].has_even_at);
    }
    bw_plan_destroy(plan);
}
END_TEST

Suite *maths_even_at_suite(void) {
    Suite *suite = suite_create("maths: even-at");
    TCase *tests = tcase_create("even_at");
    tcase_add_test(tests, small_corners);
    tcase_add_test(tests, waists);
    tcase_add_test(tests, ovals_past_their_cusp);
    tcase_add_test(tests, rounds_that_meet);
    suite_add_tcase(suite, tests);
    return suite;
}
