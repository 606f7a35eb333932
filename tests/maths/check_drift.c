/* check_drift.c - how far the hand strays: against published coverage factors and worked figures, against itself by
 * trials, and by what must hold whatever the figures are. */
#include <check.h>
#include <math.h>

#include "bandwright/bandwright.h"
#include "maths/dice.h"
#include "maths/random.h"

Suite *maths_drift_suite(void);

#define GUIDE_FACTOR 1.959964 /* 95 %, normal distribution */

enum { TRIALS = 3000, PROPERTY_ROUNDS = 400 };

static bw_drift of(int steps, double sigma, double between, double bias, double tolerance) {
    return (bw_drift){steps, 7.5, sigma, between, bias, 0, tolerance};
}

static double through(const bw_drift *d) {
    return bw_closing_chance(d, BW_WAY_THROUGH, 0).closes;
}

/* ---- published ---- */

/* NIST Technical Note 1297, table B.1, degrees of freedom without end: coverage factors for 68.27, 90, 95, 95.45, 99
 * and 99.73 %. */
START_TEST(coverage_factors) {
    static const double table[][2] = {{1.000, 0.6827}, {1.645, 0.90}, {1.960, 0.95},
                                      {2.000, 0.9545}, {2.576, 0.99}, {3.000, 0.9973}};
    double k = table[_i][0], chance = table[_i][1];
    bw_drift steps = of(49, 0.1, 0, 0, k * 0.1 * 7), whole = of(49, 0, 0.1, 0, k * 0.1 * 49);
    ck_assert_double_eq_tol(through(&steps), chance, 6e-5);
    ck_assert_double_eq_tol(through(&whole), chance, 6e-5);
}
END_TEST

/* JCGM 100:2008, 5.2.2, example: ten resistors of 1000 ohm, each uncertain by 100 mohm, in series. Compared with the
 * same standard their errors are common and the sum is uncertain by 1 ohm; 0.32 ohm (5.1.2, all independent) is wrong.
 */
START_TEST(common_errors_add_plainly_others_by_squares) {
    bw_drift common = of(10, 0, 0.1, 0, 1.0), apart = of(10, 0.1, 0, 0, 0.32);
    ck_assert_double_eq_tol(through(&common), 0.6827, 5e-5);
    ck_assert_double_eq_tol(through(&apart), 0.6827, 0.01); /* 0.316 is written as 0.32 */
    apart.tolerance = sqrt(0.1);
    ck_assert_double_eq_tol(through(&apart), 0.6827, 5e-5);
}
END_TEST

START_TEST(a_bias_moves_the_middle) {
    bw_drift d = of(25, 0.1, 0, 0.02, 0.5);               /* 0.5 off, deviation 0.5: between 0 and 2 deviations */
    ck_assert_double_eq_tol(through(&d), 0.477250, 1e-6); /* 0.97725 - 0.5, table of the normal distribution */
    d.bias = -0.02;
    ck_assert_double_eq_tol(through(&d), 0.477250, 1e-6);
}
END_TEST

/* M <= (tolerance/(z sigma))^2 */
START_TEST(the_fewest_marks_leave_so_many_steps) {
    static const double sigmas[] = {0.03, 0.05, 0.08, 0.1, 0.12, 0.15, 0.2};
    for (int i = 0; i < 7; i++) {
        for (int steps = 5; steps < 100; steps++) {
            bw_drift d = of(steps, sigmas[i], 0, 0, BW_VISIBLE_JUMP);
            double most = pow(d.tolerance / (GUIDE_FACTOR * d.sigma), 2);
            int marks = bw_marks_needed(&d, 0.95, false), wanted = 0;
            while (wanted < steps && steps - bw_mark_at(steps, wanted + 1, wanted) > most) {
                wanted++;
            }
            ck_assert_int_eq(marks, wanted < steps ? wanted : -1);
        }
    }
}
END_TEST

/* ---- formula and trials ---- */

typedef struct held {
    int compared, near;
} held;

static void same(held *sum, double formula, double trials, double error, const char *what, const bw_drift *d,
                 int marks) {
    ck_assert_msg(fabs(formula - trials) <= 4.5 * error, "%s, %d steps, %d marks: %.4f by formula, %.4f +- %.4f", what,
                  d->steps, marks, formula, trials, error);
    sum->compared++;
    sum->near += fabs(formula - trials) <= 2 * error;
}

START_TEST(formula_and_trials_agree) {
    static const double hands[][3] = {
        {0.06, 0, 0}, {0.1, 0, 0.01}, {0.05, 0.02, 0}, {0.08, 0.01, -0.02}, {0, 0.02, 0.01}};
    static const char *const ways[] = {"struck through", "set anew", "corrected"};
    held sum = {0, 0};
    for (int hand = 0; hand < 5; hand++) {
        for (int marks = 0; marks <= 7; marks = 2 * marks + 1) {
            for (int way = 0; way < 3; way++) {
                bw_drift d = of(38 + 7 * hand, hands[hand][0], hands[hand][1], hands[hand][2], BW_VISIBLE_JUMP);
                d.reading = way == 0 ? 0 : 0.1;
                d.step = 1000; /* no correction is too great */
                bw_closing formula = bw_closing_chance(&d, (bw_way)way, marks);
                bw_closing trials = bw_closing_trials(&d, (bw_way)way, marks, TRIALS, 20260302u + (unsigned)hand);
                ck_assert_double_eq(formula.error, 0);
                ck_assert_int_eq(trials.trials, TRIALS);
                same(&sum, formula.closes, trials.closes, trials.error, ways[way], &d, marks);
                same(&sum, formula.unseen, trials.unseen, trials.error, "no jump", &d, marks);
            }
        }
    }
    ck_assert_int_ge(sum.near * 100, sum.compared * 90);
}
END_TEST

/* The stated error is how far trials with other seeds lie around the chance. */
START_TEST(the_stated_error_is_true) {
    bw_drift d = of(12, 0.1, 0, 0, 0.3);
    double squares = 0, error = 0, chance = through(&d);
    for (unsigned seed = 0; seed < 300; seed++) {
        bw_closing c = bw_closing_trials(&d, BW_WAY_THROUGH, 0, 200, seed * 7919u);
        squares += (c.closes - chance) * (c.closes - chance) / 300;
        error += c.error / 300;
    }
    ck_assert_double_eq_tol(sqrt(squares) / error, 1, 0.15);
}
END_TEST

START_TEST(the_same_seed_gives_the_same) {
    bw_drift d = of(40, 0.1, 0.01, 0.01, 0.4);
    bw_closing a = bw_closing_trials(&d, BW_WAY_GRADUAL, 3, 500, 5),
               b = bw_closing_trials(&d, BW_WAY_GRADUAL, 3, 500, 5);
    ck_assert(a.closes == b.closes && a.unseen == b.unseen && a.error == b.error);
    ck_assert_int_eq(bw_trials_for(40), 20000);
    ck_assert_int_eq(bw_trials_for(1000), 4000);
    ck_assert_int_eq(bw_trials_for(100000), 400);
}
END_TEST

/* ---- corrected gradually ---- */

/* No chance in it: ten steps 0.5 too long are 5 off; seven of the next ten take back 3 % of 10 mm each, the last three
 * nothing: 5 + 5 - 2.1 = 7.9. */
START_TEST(three_percent_a_step_and_none_in_the_last_three) {
    bw_drift d = {20, 10, 0, 0, 0.5, 0, 7.9 - 1e-6};
    ck_assert_double_eq(bw_closing_trials(&d, BW_WAY_GRADUAL, 1, 5, 1).closes, 0);
    d.tolerance = 7.9 + 1e-6;
    ck_assert_double_eq(bw_closing_trials(&d, BW_WAY_GRADUAL, 1, 5, 1).closes, 1);
    d.bias = -0.5;
    ck_assert_double_eq(bw_closing_trials(&d, BW_WAY_GRADUAL, 1, 5, 1).closes, 1);
    d.bias = 0.1; /* 1 off is taken back in full, and then 1 more comes */
    d.tolerance = 1 + 1e-6;
    ck_assert_double_eq(bw_closing_trials(&d, BW_WAY_GRADUAL, 1, 5, 1).closes, 1);
    d.tolerance = 1 - 1e-6;
    ck_assert_double_eq(bw_closing_trials(&d, BW_WAY_GRADUAL, 1, 5, 1).closes, 0);
}
END_TEST

/* Where no step is left that may be corrected, a mark is of no use. */
START_TEST(marks_before_the_last_three_alone_help) {
    for (int steps = 2; steps <= 6; steps++) {
        bw_drift d = of(steps, 0.2, 0, 0, 0.3);
        bw_closing c = bw_closing_trials(&d, BW_WAY_GRADUAL, 1, 20000, 3);
        if (bw_mark_at(steps, 2, 1) >= steps - BW_LAST_ALONE) {
            ck_assert_double_eq_tol(c.closes, through(&d), 4 * c.error);
        } else {
            ck_assert_double_gt(c.closes, through(&d) + 4 * c.error);
        }
        ck_assert_double_eq(c.unseen, c.closes);
    }
}
END_TEST

/* However many marks there are: of four steps none but the first may be corrected, and nothing is off before it. */
START_TEST(many_marks_leave_the_last_three_alone) {
    bw_drift d = of(4, 0, 0, 0.2, 0.55);
    ck_assert_double_eq(bw_closing_trials(&d, BW_WAY_GRADUAL, 3, 10, 1).closes, 0); /* 4 x 0.2 off */
    d.tolerance = 0.81;
    ck_assert_double_eq(bw_closing_trials(&d, BW_WAY_GRADUAL, 3, 10, 1).closes, 1);
}
END_TEST

START_TEST(a_reading_of_the_mark_costs) {
    bw_drift d = of(40, 0.06, 0, 0, 0.4);
    double before = 2;
    for (int i = 0; i < 4; i++) {
        d.reading = 0.12 * i;
        bw_closing c = bw_closing_trials(&d, BW_WAY_GRADUAL, 3, 20000, 3);
        ck_assert_double_lt(c.closes, before - 2 * c.error);
        before = c.closes;
    }
}
END_TEST

/* ---- what must hold ---- */

START_TEST(more_marks_never_worsen) {
    random_source r = {17};
    for (int i = 0; i < PROPERTY_ROUNDS; i++) {
        bw_drift d = of(random_number(&r, 2, 150), random_between(&r, 0, 0.3), random_between(&r, 0, 0.05),
                        random_between(&r, -0.05, 0.05), random_between(&r, 0.05, 1));
        d.reading = i % 2 ? random_between(&r, 0, 0.2) : 0;
        double before = 0, fewest = bw_marks_needed(&d, 0.9, false);
        for (int marks = d.reading > 0; marks < d.steps && marks < 20;
             marks++) { /* the first mark brings the reading */
            bw_closing c = bw_closing_chance(&d, BW_WAY_ANEW, marks);
            ck_assert_double_ge(c.closes, before - 1e-12);
            ck_assert(c.closes <= 1 && c.unseen >= 0 && c.unseen <= c.closes);
            ck_assert(c.closes < 0.9 || (fewest >= 0 && fewest <= marks));
            before = c.closes;
        }
        int none_seen = bw_marks_needed(&d, 0.9, true);
        ck_assert(none_seen < 0 || none_seen >= fewest);
        ck_assert(none_seen < 0 || bw_closing_chance(&d, BW_WAY_ANEW, none_seen).unseen >= 0.9);
    }
}
END_TEST

START_TEST(a_hand_that_never_strays_always_closes) {
    for (int way = 0; way < 3; way++) {
        for (int marks = 0; marks <= 7; marks = 2 * marks + 1) {
            for (int tolerance = 0; tolerance < 2; tolerance++) {
                bw_drift d = of(40, 0, 0, 0, tolerance);
                bw_closing formula = bw_closing_chance(&d, (bw_way)way, marks);
                bw_closing trials = bw_closing_trials(&d, (bw_way)way, marks, 10, 1);
                ck_assert(formula.closes == 1 && formula.unseen == 1 && trials.closes == 1 && trials.unseen == 1);
                ck_assert_double_gt(trials.error, 0); /* ten trials prove little */
            }
        }
    }
    bw_drift d = of(40, 0, 0, 0, 0);
    ck_assert_int_eq(bw_marks_needed(&d, 0.95, true), 0);
    d = of(40, 50, 0, 0, 0.4);
    ck_assert_int_eq(bw_marks_needed(&d, 0.95, false), -1);
}
END_TEST

/* ---- from strips ---- */

START_TEST(a_hand_and_its_limits) {
    bw_hand hand = {.rule = 0.6};
    bw_drift d;
    hand.sigma = (bw_estimate){0.1, 0.05, 0.4, 3, 4};
    hand.between = (bw_estimate){NAN, NAN, NAN, NAN, 0};
    hand.bias = (bw_estimate){0.02, -0.01, 0.05, 3, 4};
    ck_assert(bw_drift_of(&hand, 40, 7.5, 0.4, &d));
    ck_assert(d.steps == 40 && d.step == 7.5 && d.sigma == 0.1 && d.between == 0 && d.bias == 0.02 &&
              d.tolerance == 0.4);
    ck_assert_double_eq_tol(d.reading, 0.6 / sqrt(12), 1e-12);
    ck_assert(bw_drift_limit(&hand, true, &d) && d.sigma == 0.4 && d.bias == 0.05);
    ck_assert(bw_drift_limit(&hand, false, &d) && d.sigma == 0.05 && d.bias == 0);
    hand.bias = (bw_estimate){-0.04, -0.06, -0.02, 3, 4};
    ck_assert(bw_drift_limit(&hand, true, &d) && d.bias == -0.06);
    ck_assert(bw_drift_limit(&hand, false, &d) && d.bias == -0.02);
    /* no aim: the usual step is sure to -0.2 and +0.2, and so is the bias */
    hand.usual = (bw_estimate){7.5, 7.3, 7.7, 1, 2};
    hand.bias = (bw_estimate){NAN, NAN, NAN, NAN, 0};
    ck_assert(bw_drift_of(&hand, 40, 7.5, 0.4, &d) && d.bias == 0);
    ck_assert(bw_drift_limit(&hand, true, &d));
    ck_assert_double_eq_tol(fabs(d.bias), 0.2, 1e-12);
    ck_assert(bw_drift_limit(&hand, false, &d) && d.bias == 0);
    hand = bw_hand_of(NULL, 0, 0.5);
    ck_assert(!bw_drift_of(&hand, 40, 7.5, 0.4, &d));
    ck_assert(!bw_drift_limit(&hand, true, &d));
}
END_TEST

/* ---- the generator ---- */

/* First numbers for the seed 1234567, as they are commonly listed; from memory, source not read. */
START_TEST(the_generator_is_the_published_one) {
    static const uint64_t first[] = {6457827717110365317u, 3203168211198807973u, 9817491932198370423u,
                                     4593380528125082431u, 16408922859458223821u};
    maths_dice dice = maths_dice_from(1234567);
    for (int i = 0; i < 5; i++) {
        ck_assert(maths_dice_next(&dice) == first[i]);
    }
}
END_TEST

START_TEST(normal_numbers_are_normal) {
    enum { DRAWN = 200000 };
    maths_dice dice = maths_dice_from(99);
    double mean = 0, square = 0, fourth = 0, neighbours = 0, last = 0;
    int below[5] = {0};
    static const double bounds[] = {-1.644854, -0.674490, 0, 0.674490, 1.644854},
                        shares[] = {0.05, 0.25, 0.5, 0.75, 0.95};
    for (int i = 0; i < DRAWN; i++) {
        double z = maths_dice_normal(&dice);
        mean += z / DRAWN;
        square += z * z / DRAWN;
        fourth += z * z * z * z / DRAWN;
        neighbours += z * last / DRAWN;
        last = z;
        for (int k = 0; k < 5; k++) {
            below[k] += z <= bounds[k];
        }
    }
    ck_assert_double_eq_tol(mean, 0, 4.5 / sqrt(DRAWN));
    ck_assert_double_eq_tol(square, 1, 4.5 * sqrt(2.0 / DRAWN));
    ck_assert_double_eq_tol(fourth, 3, 4.5 * sqrt(96.0 / DRAWN));
    ck_assert_double_eq_tol(neighbours, 0, 4.5 / sqrt(DRAWN));
    for (int k = 0; k < 5; k++) {
        ck_assert_double_eq_tol((double)below[k] / DRAWN, shares[k], 4.5 * sqrt(0.25 / DRAWN));
    }
}
END_TEST

Suite *maths_drift_suite(void) {
    Suite *suite = suite_create("maths/drift");
    TCase *tests = tcase_create("drift");
    tcase_set_timeout(tests, 0);
    tcase_add_loop_test(tests, coverage_factors, 0, 6);
    tcase_add_test(tests, common_errors_add_plainly_others_by_squares);
    tcase_add_test(tests, a_bias_moves_the_middle);
    tcase_add_test(tests, the_fewest_marks_leave_so_many_steps);
    tcase_add_test(tests, formula_and_trials_agree);
    tcase_add_test(tests, the_stated_error_is_true);
    tcase_add_test(tests, the_same_seed_gives_the_same);
    tcase_add_test(tests, three_percent_a_step_and_none_in_the_last_three);
    tcase_add_test(tests, marks_before_the_last_three_alone_help);
    tcase_add_test(tests, many_marks_leave_the_last_three_alone);
    tcase_add_test(tests, a_reading_of_the_mark_costs);
    tcase_add_test(tests, more_marks_never_worsen);
    tcase_add_test(tests, a_hand_that_never_strays_always_closes);
    tcase_add_test(tests, a_hand_and_its_limits);
    tcase_add_test(tests, the_generator_is_the_published_one);
    tcase_add_test(tests, normal_numbers_are_normal);
    suite_add_tcase(suite, tests);
    return suite;
}
