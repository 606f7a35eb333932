/* check_words.c - the sentences: the numbers in them are those of the plan, and what "would do" does when it is tried.
 */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/bench_pieces.h"
#include "show/inner.h"

Suite *show_words_suite(void);

static void assert_holds(const char *text, const char *part) {
    ck_assert_msg(strstr(text, part) != NULL, "no \"%s\" in \"%s\"", part, text);
}

/* The number in front of these words: the last one before them. */
static double number_before(const char *text, const char *words) {
    const char *at = strstr(text, words);
    ck_assert_msg(at != NULL, "no \"%s\" in \"%s\"", words, text);
    while (at > text && strchr("0123456789.", at[-1]) == NULL)
        at--;
    while (at > text && strchr("0123456789.", at[-1]) != NULL)
        at--;
    return strtod(at, NULL);
}

static const char *verdict(const piece *p, size_t band, show_words *out) {
    return show_verdict_sentence(out, &p->project, p->plan, band);
}

START_TEST(the_lid_works) {
    piece p;
    show_words words;
    piece_cedar_lid(&p);
    /* Worked example: least overlap share 0.2542 of a leg of 3.2 mm, greatest 0.7255. */
    verdict(&p, 1, &words);
    assert_holds(words.text, "yes: ");
    assert_holds(words.text, "legs overlap by 0.81 mm on the outer row");
    assert_holds(words.text, "keep 0.88 mm off the bars on the inner row");
    show_closure_sentence(&words, &p.project, p.plan, 1, 0);
    ck_assert_str_eq(words.text, "1.3 mm left over, 40 steps each 0.03 mm longer than the usual 7.9 mm");
    show_closure_sentence(&words, &p.project, p.plan, 0, 0);
    assert_holds(words.text, "1.42 mm lacking, 77 steps each 0.02 mm shorter");
    p.project.units = SHOP_INCH;
    show_closure_sentence(&words, &p.project, p.plan, 1, 0);
    assert_holds(words.text, "0.051 in left over");
    piece_end(&p);
}
END_TEST

/* Two settings of a hand-set step make up the round within one step of their grid. */
START_TEST(how_to_lose_the_difference) {
    piece p;
    show_words words;
    piece_cedar_lid(&p);
    show_lose_sentence(&words, &p.project, p.plan, 1, 0);
    ck_assert_str_eq(words.text, "27 steps at 7.9 mm and 13 at 8 mm, mixed evenly (about 1 in 3)");
    ck_assert_double_le(fabs(27 * 7.9 + 13 * 8.0 - p.plan->bands[1].runs[0].to), 0.05 + 1e-9);
    p.bands[1].lose = BW_LOSE_LAST;
    p.bands[1].lose_last = 8;
    piece_finish(&p);
    show_lose_sentence(&words, &p.project, p.plan, 1, 0);
    assert_holds(words.text, "32 steps at 7.9 mm, then 5 steps at 8.1 mm and 3 at 8 mm"); /* 7.9 + 1.3009/8 */
    piece_end(&p);
}
END_TEST

/* A hand that keeps to the pattern told from the first step to the last spends no more than half of the tolerance;
 * where no pattern does, none is told. */
START_TEST(a_pattern_that_is_kept_closes) {
    shop_project project = {.units = SHOP_MM, .tolerance = BW_VISIBLE_JUMP};
    int told = 0, several = 0;
    for (int steps = 2; steps <= 300; steps += steps < 60 ? 1 : 7)
        for (int longer = 1; longer < steps; longer++) {
            show_words words;
            int fewer = longer < steps - longer ? longer : steps - longer, part = 1, of = 2;
            show_start(&words);
            show_say_steps(&words, &project, steps, 7 + 0.1 * longer / steps, "");
            const char *pattern = strstr(words.text, "mixed evenly (");
            assert_holds(words.text, "mixed evenly");
            if (pattern == NULL)
                continue;
            if (strstr(pattern, "(turn about)") == NULL)
                ck_assert_int_eq(sscanf(strpbrk(pattern, "0123456789"), "%d in %d", &part, &of), 2);
            double off = fabs((double)steps * part / of - fewer);
            ck_assert_msg(off * 0.1 <= BW_VISIBLE_JUMP / 2 + 1e-9, "%d of %d: %s", fewer, steps, words.text);
            told++;
            several += part > 1;
        }
    ck_assert_int_gt(told, 3000);
    ck_assert_int_gt(several, 1000);
}
END_TEST

/* In inches a change is told as nothing only where it shows as nothing. */
START_TEST(differences_too_small_to_show) {
    piece p;
    piece_cedar_lid(&p);
    for (int inch = 0; inch < 2; inch++) {
        p.project.units = inch ? SHOP_INCH : SHOP_MM;
        for (int count = 39; count <= 43; count++) {
            p.bands[1].count = count;
            piece_finish(&p);
            char *page = piece_written(&p, show_plan_text), *card = piece_written(&p, show_card_text);
            ck_assert_msg(strstr(page, "each 0 ") == NULL && strstr(card, "each 0 ") == NULL, "%s%s", page, card);
            free(page);
            free(card);
        }
    }
    piece_end(&p);
}
END_TEST

static void scale_tool(bw_tool *tool, double scale) {
    tool->length *= scale;
    tool->width *= scale;
    tool->bar *= scale;
    tool->rail *= scale;
}

START_TEST(legs_that_are_long) {
    piece p;
    show_words words;
    piece_rowan_end(&p);
    ck_assert_int_eq(p.plan->bands[0].fit.verdict, BW_LEGS_LONG);
    verdict(&p, 0, &words);
    assert_holds(words.text, "no: legs long");
    /* No stamp closes so wide a band on so small a round; one of the length that is named takes the bend. */
    scale_tool(&p.tools[0], number_before(words.text, " down, in a band of fewer rows") / p.tools[0].length);
    piece_finish(&p);
    ck_assert_msg(p.plan->bands[0].fit.verdict > BW_FEET_COLLIDE, "%s", verdict(&p, 0, &words));
    piece_end(&p);
    piece_start(&p, "Lid", circle_of(100));
    piece_tool(&p, "basket-l", BW_BASKET, 14, 7, 4.5, 0.9);
    piece_band(&p, "weave", BW_FILL_BASKET, "basket-l", 4, 14);
    piece_finish(&p);
    ck_assert_int_eq(p.plan->bands[0].fit.verdict, BW_LEGS_LONG);
    verdict(&p, 0, &words);
    scale_tool(&p.tools[0], number_before(words.text, " long would do") / p.tools[0].length);
    ck_assert_double_lt(p.tools[0].length, 14);
    piece_finish(&p);
    ck_assert_msg(p.plan->bands[0].fit.verdict >= BW_TIGHT, "%s", verdict(&p, 0, &words));
    piece_end(&p);
}
END_TEST

/* Legs of the length that is named, everything else the same, fit. */
START_TEST(legs_that_are_short) {
    piece p;
    show_words words;
    piece_start(&p, "Rosette", circle_of(90));
    bw_tool *tool = piece_tool(&p, "basket-stub", BW_BASKET, 6, 3, 4, 0.7);
    piece_band(&p, "weave", BW_FILL_BASKET, "basket-stub", 4, 14);
    piece_finish(&p);
    ck_assert_int_eq(p.plan->bands[0].fit.verdict, BW_LEGS_SHORT);
    verdict(&p, 0, &words);
    assert_holds(words.text, "legs miss each other by");
    ck_assert_double_eq_tol(number_before(words.text, " on the outer row"), -p.plan->bands[0].fit.reach_mm, 0.005001);
    double leg = number_before(words.text, " would do");
    ck_assert_double_ge(leg, p.plan->bands[0].fit.needed_leg - 1e-6);
    tool->bar = tool->length - 2 * leg;
    piece_finish(&p);
    ck_assert_msg(p.plan->bands[0].fit.verdict >= BW_NO_WHOLE_COUNT, "%s", verdict(&p, 0, &words));
    piece_end(&p);
}
END_TEST

START_TEST(no_room_names_what_would_do) {
    piece p;
    show_words words;
    piece_start(&p, "Too deep", circle_of(60));
    piece_tool(&p, "basket-s", BW_BASKET, 6, 3.2, 2, 0.9);
    piece_band(&p, "weave", BW_FILL_BASKET, "basket-s", 10, 25);
    piece_finish(&p);
    ck_assert_int_eq(p.plan->bands[0].fit.verdict, BW_NO_ROOM);
    verdict(&p, 0, &words);
    assert_holds(words.text, "inner line would lie 35 mm from the edge, but the piece closes up at 30 mm");
    p.bands[0].width -= number_before(words.text, " less in all would do");
    piece_finish(&p);
    ck_assert_msg(p.plan->bands[0].fit.verdict != BW_NO_ROOM, "%s", verdict(&p, 0, &words));
    p.bands[0].width += 0.25;
    piece_finish(&p);
    ck_assert_msg(p.plan->bands[0].fit.verdict == BW_NO_ROOM, "a quarter more has room too");
    piece_end(&p);
}
END_TEST

START_TEST(too_narrow_names_a_width) {
    piece p;
    show_words words;
    for (int lay = 0; lay < 2; lay++) {
        piece_start(&p, "Narrow", circle_of(140));
        piece_tool(&p, "basket-m", BW_BASKET, 9.5, 6.4, 3.1, 1.6);
        bw_band *band = piece_band(&p, "weave", BW_FILL_BASKET, "basket-m", 4, lay ? 1.5 : 3);
        band->lay = lay ? BW_LAY_ANGLED : BW_LAY_STRAIGHT;
        piece_finish(&p);
        ck_assert_int_eq(p.plan->bands[0].fit.verdict, BW_BAND_TOO_NARROW);
        verdict(&p, 0, &words);
        band->width = number_before(words.text, " with the guide in its middle would hold");
        piece_finish(&p);
        ck_assert_msg(p.plan->bands[0].fit.verdict != BW_BAND_TOO_NARROW, "%s", verdict(&p, 0, &words));
        piece_end(&p);
    }
}
END_TEST

START_TEST(counts_that_do_not_come_out) {
    piece p;
    show_words words;
    piece_cedar_lid(&p);
    p.bands[1].count = 41;
    piece_finish(&p);
    ck_assert_int_eq(p.plan->bands[1].fit.verdict, BW_NO_WHOLE_COUNT);
    verdict(&p, 1, &words);
    assert_holds(words.text, "no: 41 impressions do not come out even: it takes a multiple of 2, 40 or 42");
    p.bands[1].count = 32; /* stretched too far: the worked lid's feasible counts are 38 to 44 */
    piece_finish(&p);
    ck_assert_int_eq(p.plan->bands[1].fit.verdict, BW_OPENS_OUTSIDE);
    verdict(&p, 1, &words);
    assert_holds(words.text, "legs miss each other by");
    assert_holds(words.text, "38 to 44 impressions would do");
    p.bands[1].count = 50;
    piece_finish(&p);
    ck_assert_int_eq(p.plan->bands[1].fit.verdict, BW_CROWDS_INSIDE);
    verdict(&p, 1, &words);
    assert_holds(words.text, "legs ride on the bars by");
    assert_holds(words.text, "on the inner row");
    piece_end(&p);
}
END_TEST

/* The band too wide: with so many rows each side as named, its own verdict is another one. */
START_TEST(too_wide_names_rows) {
    piece p;
    show_words words;
    piece_wide_lid(&p);
    ck_assert_int_eq(p.plan->bands[0].fit.verdict, BW_BAND_TOO_WIDE);
    verdict(&p, 0, &words);
    int rows = (int)number_before(words.text, " each side of the guide would do");
    ck_assert_int_gt(rows, 0);
    const bw_face *face = &p.plan->bands[0].face;
    double apart = p.plan->bands[0].rows_apart, middle = p.plan->bands[0].guide_from_edge;
    p.bands[0].width = 2 * (rows * apart + face->rail / 2) + apart / 4; /* too little for another, leaned one */
    p.bands[0].space = middle - p.bands[0].width / 2;
    piece_finish(&p);
    ck_assert_int_eq((int)p.plan->bands[0].row_count, 2 * rows);
    ck_assert_msg(p.plan->bands[0].fit.verdict >= BW_TIGHT, "%s", verdict(&p, 0, &words));
    piece_end(&p);
}
END_TEST

/* The bend too sharp: a row line deeper than the guide's own radius; the radius named is no longer too sharp. */
START_TEST(a_sharp_bend_names_a_radius) {
    piece p;
    show_words words;
    piece_start(&p, "Sharp tray", circle_of(1));
    p.project.layout.outline.shape = BW_RECTANGLE;
    p.project.layout.outline.length = 200;
    p.project.layout.outline.width = 160;
    for (int i = 0; i < 4; i++)
        p.project.layout.outline.corner[i] = 14;
    piece_tool(&p, "basket-s", BW_BASKET, 6, 3.2, 2, 0.9);
    piece_band(&p, "weave", BW_FILL_BASKET, "basket-s", 2, 20);
    piece_finish(&p);
    if (p.plan->bands[0].fit.verdict == BW_EDGE_TOO_SHARP) {
        verdict(&p, 0, &words);
        double deeper = number_before(words.text, ", or fewer rows") - 1 / p.plan->bands[0].runs[0].kappa_convex;
        for (int i = 0; i < 4; i++)
            p.project.layout.outline.corner[i] += deeper + 3;
        piece_finish(&p);
        ck_assert_msg(p.plan->bands[0].fit.verdict != BW_EDGE_TOO_SHARP, "%s", verdict(&p, 0, &words));
    } else {
        ck_abort_msg("the example is not too sharp: %s", verdict(&p, 0, &words));
    }
    piece_end(&p);
}
END_TEST

/* Every warning that a piece has: a sentence, its word, and `tool-differs` last of its band. */
START_TEST(every_warning_is_a_sentence) {
    for (size_t i = 0; i < piece_maker_count; i++) {
        piece p;
        size_t count;
        piece_makers[i](&p);
        for (size_t tool = 0; tool < PIECE_TOOLS; tool++)
            p.tool_about[tool].differs = true;
        bw_warning *list = show_warnings(&p.project, p.plan, &count);
        ck_assert_ptr_nonnull(list);
        size_t own = 0;
        for (size_t w = 0; w < count; w++) {
            show_words words;
            show_warning_sentence(&words, &p.project, p.plan, &list[w]);
            ck_assert_msg(strlen(words.text) > 20, "piece %zu, %s: \"%s\"", i, show_warning_word(p.plan, &list[w]),
                          words.text);
            ck_assert_ptr_null(strchr(show_warning_word(p.plan, &list[w]), ' '));
            if (list[w].kind == BW_WARN_TOOL_DIFFERS)
                ck_assert(w + 1 == count || list[w + 1].band > list[w].band);
            else
                own++;
            ck_assert(w == 0 || list[w].band >= list[w - 1].band);
        }
        ck_assert_uint_eq(own, p.plan->warning_count);
        free(list);
        piece_end(&p);
    }
}
END_TEST

START_TEST(every_figure_is_explained) {
    for (size_t i = 0; i < piece_maker_count; i++) {
        piece p;
        piece_makers[i](&p);
        for (size_t band = 0; band <= p.plan->band_count; band++) {
            show_figure list[SHOW_FIGURE_COUNT_OF_KINDS + 1];
            size_t count = show_figures(&p.project, p.plan, band, list, SHOW_FIGURE_COUNT_OF_KINDS + 1);
            bool struck = band < p.plan->band_count && p.plan->bands[band].fill != BW_FILL_PLAIN;
            ck_assert_msg(struck ? count >= 8 : count == 0, "piece %zu band %zu: %zu figures", i, band, count);
            for (size_t f = 0; f < count; f++) {
                ck_assert(list[f].value[0] && list[f].name[0]);
                size_t length = strlen(list[f].words);
                ck_assert_msg(length > 30 && list[f].words[length - 1] == '.', "%s: %s", list[f].name, list[f].words);
                ck_assert_ptr_null(strstr(list[f].words, "nan"));
            }
        }
        piece_end(&p);
    }
    piece p;
    show_figure one;
    piece_cedar_lid(&p);
    ck_assert(show_figure_of(&p.project, p.plan, 1, SHOW_FIGURE_GAP, &one));
    ck_assert_str_eq(one.value, "+1.3 mm");
    assert_holds(one.words, "317.3 mm");
    assert_holds(one.words, "40 steps of the usual 7.9 mm");
    ck_assert(show_figure_of(&p.project, p.plan, 1, SHOW_FIGURE_REACH, &one));
    ck_assert_str_eq(one.value, "0.25");
    ck_assert(!show_figure_of(&p.project, p.plan, 0, SHOW_FIGURE_LEG, &one));
    piece_end(&p);
}
END_TEST

START_TEST(ranked_stamps_give_their_reason) {
    piece p;
    bw_rank *ranks;
    size_t count;
    char *text = NULL;
    size_t length;
    piece_cedar_lid(&p);
    piece_tool(&p, "basket-long", BW_BASKET, 30, 6, 6, 1.2);
    ck_assert_int_eq(bw_rank_tools(&p.project.layout, 1, NULL, &ranks, &count), BW_OK);
    ck_assert_uint_eq(count, 2);
    FILE *to = open_memstream(&text, &length);
    ck_assert(show_fit_text(to, &p.project, p.plan, 1, ranks, count, false));
    fclose(to);
    assert_holds(text, " 1. basket-m (in use): good; margin 0.25");
    assert_holds(text, "\n    yes: it works: legs overlap by 0.81 mm on the outer row");
    assert_holds(text, " 2. basket-long: ");
    assert_holds(text, "\n    no: ");
    free(text);
    bw_ranks_release(ranks, NULL);
    piece_end(&p);
}
END_TEST

/* Every impression that can be stepped to lies where the csv has it. */
START_TEST(impressions_have_places) {
    piece p;
    bw_placing at;
    piece_cedar_lid(&p);
    ck_assert_int_eq(show_impressions(p.plan, 1), 40);
    for (int i = 1; i <= 40; i++) {
        ck_assert(show_impression_place(&p.project, p.plan, 1, i, &at));
        ck_assert_double_eq_tol(at.along, (i - 1) * p.plan->bands[1].runs[0].step, 1e-9);
        ck_assert_int_eq(at.row, i % 2 ? -1 : 1); /* even impressions, counted from 0, outside */
    }
    ck_assert(!show_impression_place(&p.project, p.plan, 1, 41, &at));
    ck_assert(!show_impression_place(&p.project, p.plan, 1, 0, &at));
    ck_assert_int_eq(show_tightest(p.plan, 1), 0); /* even steps: no place is tighter than another */
    ck_assert_int_eq(show_widest(p.plan, 1), 0);
    piece_end(&p);
    piece_maple_tray(&p);
    int all = show_impressions(p.plan, 0);
    double before = -1;
    for (int i = 1; i <= all; i++) {
        ck_assert(show_impression_place(&p.project, p.plan, 0, i, &at));
        ck_assert_double_gt(at.along, before);
        before = at.along;
    }
    int tight = show_tightest(p.plan, 0), wide = show_widest(p.plan, 0);
    ck_assert(tight >= 1 && tight <= all && wide >= 1 && wide <= all);
    ck_assert_int_eq(show_impressions(p.plan, 2), 0);
    ck_assert_int_eq(show_impressions(p.plan, 99), 0);
    piece_end(&p);
}
END_TEST

/* mm along the guide from an impression to the next one of its run. */
static double step_after(const piece *p, size_t band, int impression) {
    bw_placing here, next;
    ck_assert(show_impression_place(&p->project, p->plan, band, impression, &here));
    ck_assert(show_impression_place(&p->project, p->plan, band, impression + 1, &next));
    return next.along - here.along;
}

/* Where the gap is lost in the last steps, the places told are those where such steps are struck. */
START_TEST(last_steps_are_told_where_they_lie) {
    piece p;
    show_words words;
    show_figure figure;
    const bw_warning stretch = {1, BW_WARN_STRETCH}, jump = {1, BW_WARN_JUMP};
    piece_cedar_lid(&p);
    p.bands[1].lose = BW_LOSE_LAST;
    p.bands[1].lose_last = 3;
    piece_finish(&p);
    const bw_band_plan *band = &p.plan->bands[1];
    ck_assert_int_eq(show_widest(p.plan, 1), 38); /* 37 usual steps, then 3 long ones */
    ck_assert_double_lt(step_after(&p, 1, 37), step_after(&p, 1, 38) - 0.4);
    ck_assert_int_lt(show_tightest(p.plan, 1), 38);
    const bw_weave_line *wide = show_extreme_line(band, true);
    ck_assert_double_eq_tol(wide->widest.along, 37 * 7.9, 1e-6);
    show_warning_sentence(&words, &p.project, p.plan, &stretch);
    assert_holds(words.text, "the last 3 of 40, from ");
    ck_assert_double_gt(number_before(strstr(words.text, ", from "), " to "), 0.9 * 37 / 40 * p.plan->length);
    show_warning_sentence(&words, &p.project, p.plan, &jump);
    assert_holds(words.text, "from 7.9 mm to 8.33 mm at impression 38 of 40, ");
    ck_assert(show_figure_of(&p.project, p.plan, 1, SHOW_FIGURE_STEP_CHANGE, &figure));
    ck_assert_str_eq(figure.value, "+0.43 mm, the last 3");
    assert_holds(figure.words, "each of the last 3 steps");
    piece_end(&p);
}
END_TEST

/* A long hostile name is cut at a whole character. */
START_TEST(sentences_are_cut_at_characters) {
    show_words words;
    show_start(&words);
    for (int i = 0; i < 300; i++)
        show_say(&words, "%s", "\xe7\x9a\xae");
    ck_assert_uint_lt(strlen(words.text), sizeof words.text);
    ck_assert_uint_eq(strlen(words.text) % 3, 0);
    ck_assert_uint_gt(strlen(words.text), sizeof words.text - 5);
}
END_TEST

Suite *show_words_suite(void) {
    Suite *suite = suite_create("show: words");
    TCase *verdicts = tcase_create("verdicts"), *others = tcase_create("others");
    tcase_add_test(verdicts, the_lid_works);
    tcase_add_test(verdicts, legs_that_are_long);
    tcase_add_test(verdicts, legs_that_are_short);
    tcase_add_test(verdicts, no_room_names_what_would_do);
    tcase_add_test(verdicts, too_narrow_names_a_width);
    tcase_add_test(verdicts, counts_that_do_not_come_out);
    tcase_add_test(verdicts, too_wide_names_rows);
    tcase_add_test(verdicts, a_sharp_bend_names_a_radius);
    tcase_add_test(others, how_to_lose_the_difference);
    tcase_add_test(others, a_pattern_that_is_kept_closes);
    tcase_add_test(others, differences_too_small_to_show);
    tcase_add_test(others, every_warning_is_a_sentence);
    tcase_add_test(others, every_figure_is_explained);
    tcase_add_test(others, ranked_stamps_give_their_reason);
    tcase_add_test(others, impressions_have_places);
    tcase_add_test(others, last_steps_are_told_where_they_lie);
    tcase_add_test(others, sentences_are_cut_at_characters);
    suite_add_tcase(suite, verdicts);
    suite_add_tcase(suite, others);
    return suite;
}
