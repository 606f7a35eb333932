/* check_hand.c - what strips tell of the hand: against hands that are known because they are made up here, against the
 * worked figures of JCGM 100:2008 (Guide to the expression of uncertainty in measurement) and by sums done by hand. */
#include <check.h>
#include <math.h>

#include "bandwright/chance.h"
#include "bandwright/hand.h"
#include "maths/random.h"

Suite *maths_hand_suite(void);

enum { TRIALS = 10000, STRIPS_MOST = 20, STEPS = 9 };

static bw_strip strip(int impressions, double length) {
    return (bw_strip){.impressions = impressions, .length = length, .aimed = NAN};
}

/* ---- sums done by hand ---- */

/* Ten impressions of 67.6 and 67.9 mm: steps 7.5111 and 7.5444, mean 7.5278, deviation 0.02357, of the mean 0.016667;
 * t(1) = 12.706 (JCGM 100:2008, table G.2). */
START_TEST(two_strips_as_reckoned_by_hand) {
    bw_strip two[] = {strip(10, 67.6), strip(10, 67.9)};
    bw_hand hand = bw_hand_of(two, 2, 0.5);
    ck_assert_double_eq_tol(hand.usual.value, 7.527778, 1e-6);
    ck_assert_double_eq_tol(hand.usual.most - hand.usual.value, 12.7062 / 60, 1e-5);
    ck_assert_double_eq_tol(hand.usual.value - hand.usual.least, 12.7062 / 60, 1e-5);
    ck_assert_int_eq(hand.usual.strips, 2);
    ck_assert_double_eq_tol(hand.usual.freedom, 1, 1e-12);
    ck_assert(isnan(hand.bias.value) && hand.bias.strips == 0);
    ck_assert(isnan(hand.closest.value) && isnan(hand.widest.value) && isnan(hand.between.value));
    /* nine steps: 9 s^2 less the reading, 0.25/(6 x 9) */
    ck_assert_double_eq_tol(hand.sigma.value, sqrt(9 * 0.0333333 * 0.0333333 / 2 - 0.25 / 54), 1e-6);
    ck_assert(!hand.from_places);
}
END_TEST

START_TEST(one_strip_has_no_limits_and_none_has_no_value) {
    bw_strip one = strip(10, 67.6);
    bw_hand hand = bw_hand_of(&one, 1, 0.5);
    ck_assert_double_eq_tol(hand.usual.value, 67.6 / 9, 1e-12);
    ck_assert(isnan(hand.usual.least) && isnan(hand.usual.most) && isnan(hand.sigma.value) && isnan(hand.bias.value));
    ck_assert_int_eq(bw_strips_to_halve(&hand.usual), 1);
    hand = bw_hand_of(NULL, 0, 0.5);
    ck_assert(isnan(hand.usual.value) && isnan(hand.sigma.value) && hand.usual.strips == 0);
}
END_TEST

/* JCGM 100:2008, 4.4.3 with table 1: 20 temperatures, mean 100.14, deviation 1.49, of the mean 0.33; t95(19) = 2.09. */
START_TEST(the_mean_of_the_guide) {
    static const double readings[] = {96.90,  98.18,  98.25,  98.61,  99.03,  99.49,  99.56,  99.74,  99.89,  100.07,
                                      100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72};
    bw_strip strips[20];
    for (int i = 0; i < 20; i++)
        strips[i] = strip(2, readings[i]); /* one step each: the reading is the step */
    bw_hand hand = bw_hand_of(strips, 20, 0);
    ck_assert_double_eq_tol(hand.usual.value, 100.14, 0.006);
    ck_assert_double_eq_tol(hand.sigma.value, 1.49, 0.006);
    ck_assert_double_eq_tol((hand.usual.most - hand.usual.value) / 2.09, 0.33, 0.006);
}
END_TEST

/* Table G.2 of the same guide: t95 for degrees of freedom 1, 2, 3, 4, 5, 10, 20 and without end. */
START_TEST(students_t_as_in_the_guide) {
    static const double table[][2] = {{1, 12.71}, {2, 4.30},  {3, 3.18},  {4, 2.78},
                                      {5, 2.57},  {10, 2.23}, {20, 2.09}, {INFINITY, 1.96}};
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++)
        ck_assert_double_eq_tol(bw_student_quantile(0.975, table[i][0]), table[i][1], 0.00501);
}
END_TEST

START_TEST(places_say_impressions_and_length) {
    static const double places[] = {7.4, 15.1, 22.5, 30.2};
    bw_strip one = {.impressions = 10, .length = 1, .aimed = NAN, .places = places, .place_count = 4};
    ck_assert_int_eq(bw_strip_steps(&one), 4);
    ck_assert_double_eq_tol(bw_strip_step(&one), 7.55, 1e-12);
    /* steps 7.4 7.7 7.4 7.7: squares 4 x 0.15^2 = 0.09 on 3 degrees, and no reading */
    bw_hand hand = bw_hand_of(&one, 1, 0);
    ck_assert(hand.from_places);
    ck_assert_double_eq_tol(hand.sigma.value, sqrt(0.09 / 3), 1e-9);
    ck_assert_double_eq_tol(hand.sigma.freedom, 3, 1e-9);
    /* the reading takes r^2/12 (2 x 4 - 2/4) of the squares off */
    hand = bw_hand_of(&one, 1, 0.1);
    ck_assert_double_eq_tol(hand.sigma.value, sqrt((0.09 - 0.01 / 12 * 7.5) / 3), 1e-9);
}
END_TEST

START_TEST(sorts_keep_apart_and_rounds_with_an_aim_set_no_usual_step) {
    bw_strip strips[] = {strip(10, 67.5), strip(10, 63), strip(10, 76.5), strip(40, 7.9 * 39)};
    strips[1].struck = BW_STRUCK_CLOSEST;
    strips[2].struck = BW_STRUCK_WIDEST;
    strips[3].round = true;
    strips[3].aimed = 7.88;
    bw_hand hand = bw_hand_of(strips, 4, 0.5);
    ck_assert_double_eq_tol(hand.closest.value, 7, 1e-12);
    ck_assert_double_eq_tol(hand.usual.value, 7.5, 1e-12);
    ck_assert_double_eq_tol(hand.widest.value, 8.5, 1e-12);
    ck_assert_int_eq(hand.usual.strips, 1);
    ck_assert_double_eq_tol(hand.bias.value, 0.02, 1e-12); /* of the round alone */
    ck_assert_int_eq(hand.bias.strips, 1);
    strips[0].aimed = 7.46;
    hand = bw_hand_of(strips, 4, 0.5);
    ck_assert_double_eq_tol(hand.bias.value, 0.03, 1e-12); /* 0.04 and 0.02, t(1) = 12.706 */
    ck_assert_double_eq_tol(hand.bias.most - hand.bias.value, 12.7062 * 0.01, 1e-5);
    strips[3].aimed = NAN;
    hand = bw_hand_of(strips, 4, 0.5);
    ck_assert_double_eq_tol(hand.usual.value, 7.7, 1e-12);
}
END_TEST

START_TEST(what_is_outside_its_range_is_left_out) {
    bw_strip strips[] = {strip(10, 67.5), strip(1, 67.5), strip(10, 0), strip(10, NAN), strip(10, INFINITY)};
    bw_hand hand = bw_hand_of(strips, 5, 0.5);
    ck_assert_int_eq(hand.usual.strips, 1);
    ck_assert_double_eq_tol(hand.usual.value, 7.5, 1e-12);
}
END_TEST

START_TEST(places_that_do_not_rise_are_left_out) {
    static const double wrong[][3] = {{9, 5, 10}, {NAN, 5, 10}, {5, NAN, 10}, {0, 5, 10}, {5, 10, INFINITY}};
    for (int i = 0; i < 5; i++) {
        bw_strip strips[] = {strip(10, 67.5), {.aimed = NAN, .places = wrong[i], .place_count = 3}};
        bw_hand hand = bw_hand_of(strips, 2, 0.5);
        ck_assert_int_eq(bw_strip_steps(&strips[1]), 0);
        ck_assert_int_eq(hand.usual.strips, 1);
        ck_assert(isnan(hand.sigma.value) && !hand.from_places);
    }
}
END_TEST

/* A lone strip of another sort scatters around nothing, so it explains nothing: two strips of 7.5 and 7.6 mm, steps
 * 7.5 and 7.6 throughout but for one of 0.1 more and less: between^2 = 0.005 - sigma^2/4, sigma^2 = 0.02 x 2/6. */
START_TEST(a_lone_strip_explains_nothing) {
    static const double a[] = {7.5, 15.1, 22.5, 30}, b[] = {7.6, 15.3, 22.8, 30.4}, c[] = {6.5};
    bw_strip strips[] = {{.aimed = NAN, .places = a, .place_count = 4},
                         {.aimed = NAN, .places = b, .place_count = 4},
                         {.aimed = NAN, .places = c, .place_count = 1, .struck = BW_STRUCK_CLOSEST}};
    double wanted = sqrt(0.005 - 0.04 / 6 / 4);
    for (size_t count = 2; count <= 3; count++) {
        bw_hand hand = bw_hand_of(strips, count, 0);
        ck_assert_double_eq_tol(hand.sigma.value * hand.sigma.value, 0.04 / 6, 1e-12);
        ck_assert_double_eq_tol(hand.between.value, wanted, 1e-9);
    }
}
END_TEST

START_TEST(strips_that_read_alike_are_no_surer_than_the_rule) {
    bw_strip two[] = {strip(10, 67.5), strip(10, 67.5)};
    bw_hand hand = bw_hand_of(two, 2, 0.5);
    ck_assert_double_eq_tol(hand.usual.most - hand.usual.value, 12.7062 * 0.5 / 9 / sqrt(6) / sqrt(2), 1e-5);
    ck_assert_double_eq_tol(hand.sigma.value, 0, 1e-12);
    ck_assert_double_gt(hand.sigma.most, 0.1);
    ck_assert_double_eq_tol(hand.sigma.least, 0, 0.1);
}
END_TEST

/* A basket face of 9.5 mm with a bar of 3.1 has legs of 3.2: steps of 6.3 to 9.5. A border stamp of 6 gives 5 %. What
 * is measured of the steps changes nothing of what a face can do. */
START_TEST(what_no_face_can_do) {
    double least, most;
    bw_tool tool;
    bw_tool_init(&tool, BW_BASKET);
    tool.length = 9.5;
    tool.bar = 3.1;
    tool.usual = 60;
    ck_assert_double_eq_tol(bw_face_step(&tool), 7.9, 1e-12);
    ck_assert(bw_step_can_be(&tool, 19, &least, &most) && bw_step_can_be(&tool, 3.15, &least, &most));
    ck_assert(!bw_step_can_be(&tool, 75.1, &least, &most) && !bw_step_can_be(&tool, 3.1, &least, &most));
    ck_assert_double_eq_tol(least, 3.15, 1e-12);
    ck_assert_double_eq_tol(most, 19, 1e-12);
    bw_tool_init(&tool, BW_BORDER);
    tool.length = 6;
    ck_assert_double_eq_tol(bw_face_step(&tool), 6, 1e-12);
    ck_assert(!bw_step_can_be(&tool, 52, &least, &most));
    ck_assert_double_eq_tol(least, 6 * 0.95 / 2, 1e-12);
    ck_assert_double_eq_tol(most, 6 * 1.05 * 2, 1e-12);
    bw_tool_init(&tool, BW_MAUL);
    ck_assert(isnan(bw_face_step(&tool)));
}
END_TEST

/* t(1)/sqrt(2) = 8.985, t(2)/sqrt(3) = 2.484: one more is enough. t(4)/sqrt(5) = 1.2417; half of it is reached by 13:
 * t(12)/sqrt(13) = 0.6043, while t(11)/sqrt(12) = 0.6354 is over 0.6208. */
START_TEST(how_many_more_strips) {
    bw_strip strips[] = {strip(10, 67.4), strip(10, 67.9), strip(10, 67.6), strip(10, 67.5), strip(10, 67.7)};
    bw_hand two = bw_hand_of(strips, 2, 0.5), five = bw_hand_of(strips, 5, 0.5);
    ck_assert_int_eq(bw_strips_to_halve(&two.usual), 1);
    ck_assert_int_eq(bw_strips_to_halve(&five.usual), 8);
    /* far out t is that of the normal distribution: three times as many more */
    bw_estimate many = {7.5, 7.4, 7.6, 9999, 10000};
    int more = bw_strips_to_halve(&many);
    ck_assert(more > 29950 && more <= 30000);
    for (many.strips = 2; many.strips < 60; many.strips++) { /* the least that does */
        double now = bw_student_quantile(0.975, many.strips - 1) / sqrt(many.strips);
        int n = many.strips + bw_strips_to_halve(&many);
        ck_assert(bw_student_quantile(0.975, n - 1) / sqrt(n) <= now / 2);
        ck_assert(n == many.strips + 1 || bw_student_quantile(0.975, n - 2) / sqrt(n - 1) > now / 2);
    }
}
END_TEST

/* ---- coverage ---- */

static double normal(random_source *r) {
    double u = random_between(r, 1e-12, 1);
    return sqrt(-2 * log(u)) * cos(2 * BW_PI * random_between(r, 0, 1));
}

typedef struct maker {
    double usual, sigma, between, rule, aimed;
    bool rounded; /* lengths are read to the rule's lines, else the reading is anywhere within half a line */
    bool places;
} maker;

static double place_room[STRIPS_MOST][STEPS];

static bw_strip strike(const maker *m, random_source *r, int i) {
    double at = 0, step = m->usual + m->between * normal(r), zero = random_between(r, -0.5, 0.5) * m->rule;
    for (int j = 0; j < STEPS; j++) {
        at += step + m->sigma * normal(r);
        place_room[i][j] = at - zero + random_between(r, -0.5, 0.5) * m->rule;
    }
    bw_strip s = strip(STEPS + 1, place_room[i][STEPS - 1]);
    if (m->rounded)
        s.length = round(at / m->rule) * m->rule;
    s.aimed = m->aimed;
    if (m->places) {
        s.places = place_room[i];
        s.place_count = STEPS;
    }
    return s;
}

typedef struct held {
    double usual, sigma, bias; /* shares of the trials in which the limits held the truth */
} held;

static bool holds(const bw_estimate *e, double truth) {
    return e->least <= truth && truth <= e->most;
}

static held coverage(const maker *m, int strips, unsigned seed) {
    random_source r = {seed};
    held sum = {0};
    bw_strip all[STRIPS_MOST];
    double sigma = m->places ? m->sigma : sqrt(m->sigma * m->sigma + STEPS * m->between * m->between);
    for (int trial = 0; trial < TRIALS; trial++) {
        for (int i = 0; i < strips; i++)
            all[i] = strike(m, &r, i);
        bw_hand hand = bw_hand_of(all, (size_t)strips, m->rule);
        sum.usual += holds(&hand.usual, m->usual);
        sum.sigma += holds(&hand.sigma, sigma);
        sum.bias += holds(&hand.bias, m->usual - m->aimed);
    }
    return (held){sum.usual / TRIALS, sum.sigma / TRIALS, sum.bias / TRIALS};
}

static const int counts[] = {2, 3, 5, 20};

static void within(const char *what, int strips, double share) {
    ck_assert_msg(share >= 0.93 && share <= 0.97, "%s of %d strips: limits hold in %.2f %%", what, strips, share * 100);
}

START_TEST(limits_hold_in_95_of_100) {
    maker m = {.usual = 7.53, .sigma = 0.22, .between = 0.05, .rule = 0.5, .aimed = 7.5, .places = _i % 2};
    int strips = counts[_i / 2];
    held got = coverage(&m, strips, 20260302u + (unsigned)_i);
    within("usual step", strips, got.usual);
    within("sigma", strips, got.sigma);
    within("bias", strips, got.bias);
}
END_TEST

/* Lengths that are read to the lines of the rule are lumpy; the limits may then be too wide, but not too narrow. */
START_TEST(limits_hold_where_lengths_are_read_to_the_line) {
    maker m = {.usual = 7.53, .sigma = 0.22, .between = 0.03, .rule = 0.5, .aimed = 7.5, .rounded = true};
    held got = coverage(&m, counts[_i], 7u + (unsigned)_i);
    ck_assert_double_ge(got.usual, 0.93);
    ck_assert_double_ge(got.sigma, 0.93);
    ck_assert_double_ge(got.bias, 0.93);
}
END_TEST

/* `between` is found where both can be told apart. */
START_TEST(steps_and_strips_are_told_apart) {
    maker m = {.usual = 7.53, .sigma = 0.2, .between = 0.1, .rule = 0.5, .aimed = 7.5, .places = true};
    random_source r = {11};
    bw_strip all[STRIPS_MOST];
    double sigma = 0, between = 0;
    int in = 0;
    for (int trial = 0; trial < 1000; trial++) {
        for (int i = 0; i < STRIPS_MOST; i++)
            all[i] = strike(&m, &r, i);
        bw_hand hand = bw_hand_of(all, STRIPS_MOST, m.rule);
        sigma += hand.sigma.value * hand.sigma.value / 1000;
        between += hand.between.value * hand.between.value / 1000;
        in += holds(&hand.between, m.between);
    }
    ck_assert_double_eq_tol(sqrt(sigma), 0.2, 0.004);
    ck_assert_double_eq_tol(sqrt(between), 0.1, 0.004);
    ck_assert_int_ge(in, 920);
}
END_TEST

Suite *maths_hand_suite(void) {
    Suite *suite = suite_create("maths/hand");
    TCase *tests = tcase_create("hand");
    tcase_set_timeout(tests, 0);
    tcase_add_test(tests, two_strips_as_reckoned_by_hand);
    tcase_add_test(tests, one_strip_has_no_limits_and_none_has_no_value);
    tcase_add_test(tests, the_mean_of_the_guide);
    tcase_add_test(tests, students_t_as_in_the_guide);
    tcase_add_test(tests, places_say_impressions_and_length);
    tcase_add_test(tests, sorts_keep_apart_and_rounds_with_an_aim_set_no_usual_step);
    tcase_add_test(tests, what_is_outside_its_range_is_left_out);
    tcase_add_test(tests, strips_that_read_alike_are_no_surer_than_the_rule);
    tcase_add_test(tests, places_that_do_not_rise_are_left_out);
    tcase_add_test(tests, a_lone_strip_explains_nothing);
    tcase_add_test(tests, what_no_face_can_do);
    tcase_add_test(tests, how_many_more_strips);
    tcase_add_loop_test(tests, limits_hold_in_95_of_100, 0, 8);
    tcase_add_loop_test(tests, limits_hold_where_lengths_are_read_to_the_line, 0, 4);
    tcase_add_test(tests, steps_and_strips_are_told_apart);
    suite_add_tcase(suite, tests);
    return suite;
}
