/* check_page.c - the page for the bench: one sheet for the example lid, and what a hand needs on it. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/bench_pieces.h"
#include "show/inner.h"

/* A text with every row of blanks and line ends as one blank. */
static char *run_together(const char *text) {
    char *flat = malloc(strlen(text) + 1), *to = flat;
    ck_assert_ptr_nonnull(flat);
    for (; *text != '\0'; text++) {
        bool blank = *text == ' ' || *text == '\n';
        if (!blank || (to > flat && to[-1] != ' ')) {
            *to++ = blank ? ' ' : *text;
        }
    }
    *to = '\0';
    return flat;
}

/* Broken once, to any width: no line is wider, and the words are those of the sheet. */
START_TEST(a_page_of_any_width) {
    void (*const pieces[])(piece *) = {piece_cedar_lid, piece_maple_tray, piece_belt_end};
    for (size_t i = 0; i < sizeof pieces / sizeof pieces[0]; i++) {
        piece p;
        pieces[i](&p);
        char *sheet = piece_written(&p, show_plan_text), *words = run_together(sheet);
        for (int width = 16; width <= 90; width++) {
            char *text = NULL;
            size_t size;
            FILE *to = open_memstream(&text, &size);
            ck_assert_ptr_nonnull(to);
            ck_assert(show_plan_page(to, &p.project, p.plan, width));
            fclose(to);
            for (const char *line = text; *line != '\0'; line += strcspn(line, "\n") + 1) {
                size_t length = strcspn(line, "\n");
                ck_assert_msg(length <= (size_t)width, "%d: %.*s", width, (int)length, line);
            }
            char *same = run_together(text);
            ck_assert_str_eq(same, words);
            free(same);
            free(text);
        }
        free(words);
        free(sheet);
        piece_end(&p);
    }
}
END_TEST

Suite *show_page_suite(void);

#define SHEET_LINES 66
#define SHEET_COLUMNS 80

static int lines_of(const char *text) {
    int lines = 0;
    for (; *text; text++)
        lines += *text == '\n';
    return lines;
}

/* Every line fits the sheet, and holds nothing but printable text. */
static void assert_sheet(const char *text) {
    for (const char *line = text; *line;) {
        size_t length = strcspn(line, "\n");
        char copy[512];
        ck_assert_uint_lt(length, sizeof copy);
        memcpy(copy, line, length);
        copy[length] = '\0';
        ck_assert_msg(show_text_width(copy) <= SHEET_COLUMNS, "too wide: %s", copy);
        for (size_t i = 0; i < length; i++)
            if ((unsigned char)copy[i] < ' ' || copy[i] == 0x7F)
                ck_abort_msg("byte %02X in: %s", (unsigned)(unsigned char)copy[i], copy);
        line += length + (line[length] == '\n');
    }
}

/* Parts that follow each other in a text. */
static void assert_in_order(const char *text, const char *const parts[]) {
    const char *at = text;
    for (size_t i = 0; parts[i]; i++) {
        const char *found = strstr(at, parts[i]);
        ck_assert_msg(found != NULL, "\"%s\" is not there, or not behind \"%s\", in\n%s", parts[i],
                      i ? parts[i - 1] : "the start", text);
        at = found + strlen(parts[i]);
    }
}

START_TEST(the_lid_on_one_sheet) {
    piece p;
    piece_cedar_lid(&p);
    char *text = piece_written(&p, show_plan_text);
    assert_sheet(text);
    ck_assert_int_le(lines_of(text), SHEET_LINES);
    static const char *const parts[] = {
        "Cedar box lid\n", "circle of 140 mm", "start at the bottom",
        "  4 mm       rim, outer line: cut, bevel the inside\n", "  6.5 mm     rim, guide line: scribe lightly\n",
        "  9 mm       weave, outer line", "  19.5 mm    weave, guide line",
        "  30 mm      weave, inner line: cut, bevel the outside",
        "  33 mm      stitching, guide line: mark for stitches", "77 x 3 blows",
        "strike 63 steps at 5.2 mm and 14 at 5.1 mm",
        /* round(77 i / 4); 63.5 mm: 2 R sin(pi n / N) */
        "after 19, 39, 58 impressions: 98.5, 202.1, 300.5 mm along the guide;", "88.9, 92.5, 88.9, 88.9 mm",
        "strike 27 steps at 7.9 mm and 13 at 8 mm", "71.4 mm each", "-2 leaned, -1, 1, 2; 20 in each", "covered by rim",
        /* 58 holes of an iron that makes 5 new ones */
        "11 placings of the 6-tooth iron", "3 holes", "ORDER OF WORK", "146 mm by 146 mm", "Test strip",
        "Case the leather", "Set the dividers", "Swivel knife: cut the border lines 1.1 mm to 1.6 mm",
        "guide's round first", "Bevel", "Border stamp (rim)", "Stitches (stitching)",
        "CAUTIONS; where a trade or workplace rule applies", "cut away from the hand", "OSHA 3080", "85 dBA",
        "no flame", NULL};
    assert_in_order(text, parts);
    ck_assert_ptr_null(strstr(text, "WARNINGS"));
    free(text);
    piece_end(&p);
}
END_TEST

/* Words of our own are explained where they first stand. */
START_TEST(own_words_are_explained) {
    static const char *const words[][2] = {
        {"lay", "straight lay (along the guide line)"},
        {"check mark", "check marks (light marks made before stamping"},
        {"notch", "notches (border line open between two impressions"},
        {"bare strip", "bare strip (leather that no impression covers)"},
    };
    piece p;
    piece_cedar_lid(&p);
    p.bands[1].width = 23; /* leaves bare strips */
    piece_finish(&p);
    char *text = piece_written(&p, show_plan_text);
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        const char *first = strstr(text, words[i][0]), *explained = strstr(text, words[i][1]);
        if (strcmp(words[i][0], "lay") == 0)
            first = strstr(text, " lay ");
        ck_assert_msg(first && explained && explained <= first && first < explained + strlen(words[i][1]),
                      "\"%s\" stands before it is explained:\n%s", words[i][0], text);
    }
    free(text);
    piece_end(&p);
}
END_TEST

START_TEST(every_page_is_a_page) {
    for (size_t i = 0; i < piece_maker_count; i++) {
        piece p;
        piece_makers[i](&p);
        char *text = piece_written(&p, show_plan_text);
        assert_sheet(text);
        ck_assert_ptr_nonnull(strstr(text, "CAUTIONS"));
        ck_assert_ptr_null(strstr(text, "nan"));
        bool told = strstr(text, "DO NOT STRIKE THIS AS IT IS") != NULL;
        ck_assert_msg(told == !bw_plan_works(p.plan), "piece %zu:\n%s", i, text);
        if (told)
            ck_assert(strstr(text, "DO NOT STRIKE") < strstr(text, "DIVIDERS"));
        free(text);
        piece_end(&p);
    }
}
END_TEST

/* Runs of a rectangle are named by the corners that they start from, places say along what, and the holes that two runs
 * share are told, so that the sum is that of the strikes. */
START_TEST(runs_are_named_by_their_corners) {
    static const char *const corners[] = {"lower left corner (at ", "lower right corner (at ", "upper left corner (at ",
                                          "upper right corner (at "};
    piece p;
    piece_maple_tray(&p);
    piece_tool(&p, "iron", BW_IRON, 4, NAN, NAN, NAN);
    piece_band(&p, "seam", BW_FILL_STITCH, "iron", 3, 1);
    piece_finish(&p);
    size_t band = p.plan->band_count - 1, used = 0;
    char *text = piece_written(&p, show_plan_text), holes[80], flat[20000];
    for (const char *c = text; *c && used + 1 < sizeof flat; c++) { /* lines are broken anywhere */
        char one = *c == '\n' ? ' ' : *c;
        if (used == 0 || one != ' ' || flat[used - 1] != ' ')
            flat[used++] = one;
    }
    flat[used] = '\0';
    for (size_t i = 0; i < 4; i++)
        ck_assert_msg(strstr(flat, corners[i]) != NULL, "no %s in\n%s", corners[i], text);
    ck_assert_ptr_null(strstr(flat, "mm along;"));
    ck_assert_ptr_nonnull(strstr(flat, "start mark at the bottom"));
    long long shared = show_impressions(p.plan, band) - p.plan->bands[band].strikes;
    ck_assert_int_eq(shared, 4); /* of a rectangle */
    snprintf(holes, sizeof holes, "%lld holes in all: 4 at corners", p.plan->bands[band].strikes);
    ck_assert_msg(strstr(flat, holes) != NULL, "no %s in\n%s", holes, text);
    free(text);
    piece_end(&p);
}
END_TEST

/* The run that the figures are told of is the one whose step changes most, also where the gap is lost in a few. */
START_TEST(the_run_told_of_changes_most) {
    piece p;
    piece_maple_tray(&p);
    for (int last = 0; last <= 9; last += 3) {
        for (size_t i = 0; i < p.project.layout.band_count; i++) {
            p.bands[i].lose = last > 0 ? BW_LOSE_LAST : BW_LOSE_EVEN;
            p.bands[i].lose_last = last > 0 ? last : 1;
        }
        piece_finish(&p);
        for (size_t i = 0; i < p.plan->band_count; i++) {
            const bw_band_plan *b = &p.plan->bands[i];
            double told = -1, most = 0;
            for (size_t r = 0; r < b->run_count && b->fit.verdict != BW_NO_WHOLE_COUNT; r++) {
                const bw_setting *end = show_last_setting(&b->runs[r]);
                double change = fabs(end ? end->step - b->runs[r].usual_step : b->runs[r].step_change);
                told = r == bw_worst_run(b) ? change : told;
                most = fmax(most, change);
            }
            if (told >= 0)
                ck_assert_double_ge(told, most - 1e-6);
        }
    }
    piece_end(&p);
}
END_TEST

/* What would make it work is told where one change does, and does make it work. */
START_TEST(what_would_mend_it_is_told) {
    size_t told = 0;
    for (size_t i = 0; i < piece_maker_count; i++) {
        piece p;
        piece_makers[i](&p);
        char *text = piece_written(&p, show_plan_text);
        if (strstr(text, "it would work with"))
            told++;
        ck_assert_msg(!bw_plan_works(p.plan) || !strstr(text, "would work with"), "piece %zu works:\n%s", i, text);
        free(text);
        piece_end(&p);
    }
    ck_assert_uint_ge(told, 2);
    /* A polygon's corners of 12 mm are too tight for this stamp 5 mm in; rounded as told, all is well. */
    piece p;
    piece_hollow(&p);
    char *text = piece_written(&p, show_plan_text);
    const char *found = strstr(text, "rounded corners of ");
    ck_assert_msg(found != NULL, "%s", text);
    double radius = strtod(found + strlen("rounded corners of "), NULL);
    bw_corner corners[8];
    size_t count = p.project.layout.outline.corner_count;
    for (int grid = 0; grid < 2; grid++) { /* and with the next smaller that dividers can be set to it is not */
        for (size_t i = 0; i < count; i++) {
            corners[i] = p.project.layout.outline.corners[i];
            if (i != 4 && corners[i].radius > 0 && corners[i].radius < radius - grid * BW_GRID_MM) /* 4 is hollow */
                corners[i].radius = radius - grid * BW_GRID_MM;
        }
        bw_layout layout = p.project.layout;
        layout.outline.corners = corners;
        bw_plan *plan;
        ck_assert_int_eq(bw_plan_create(&layout, NULL, &plan), BW_OK);
        ck_assert_msg((plan->bands[1].fit.verdict >= BW_TIGHT) == (grid == 0), "%g mm: %s", radius - grid * BW_GRID_MM,
                      bw_verdict_word(plan->bands[1].fit.verdict));
        bw_plan_destroy(plan);
    }
    free(text);
    piece_end(&p);
}
END_TEST

START_TEST(hostile_names_are_shown_as_escapes) {
    piece p;
    static const char name[] = "lid\x1b]0;own\a \xe2\x80\xae"
                               "dil\nsecond \0 line";
    piece_cedar_lid(&p);
    p.project.piece = (shop_string){name, sizeof name - 1};
    p.bands[0].name = "r\x9bim";
    char *text = piece_written(&p, show_plan_text);
    assert_sheet(text);
    ck_assert_int_eq(strncmp(text, "lid\\x1B]0;own\\x07 \\u202Edil\\x0Asecond \\x00 line\n", 45), 0);
    free(text);
    piece_end(&p);
}
END_TEST

/* Settings off the grid: what the dividers are set to, and what remains. */
START_TEST(settings_off_the_grid) {
    piece p;
    piece_cedar_lid(&p);
    p.bands[0].space = 4.1;
    piece_finish(&p);
    char *text = piece_written(&p, show_plan_text);
    ck_assert_ptr_nonnull(strstr(text, "  4 mm       rim, outer line: cut, bevel the inside (4.1 mm, so 0.1 mm too"));
    free(text);
    piece_end(&p);
    piece_maple_tray(&p);
    text = piece_written(&p, show_plan_text);
    ck_assert_ptr_nonnull(strstr(text, "  31/64 in   slant, guide line: scribe lightly (0.492 in, so 0.008 in"));
    ck_assert_ptr_nonnull(strstr(text, "*estimated*"));
    ck_assert_ptr_nonnull(strstr(text, "2 runs of "));
    free(text);
    piece_end(&p);
}
END_TEST

/* An anchored round begins at its first anchor: its seam is told there, and its check marks count from there, one step
 * after the other, over the start mark. */
START_TEST(an_anchored_round_counts_from_its_first_anchor) {
    piece p;
    piece_start(&p, "cuff",
                (bw_outline){.shape = BW_STRAP,
                             .length = 200,
                             .width = 60,
                             .start = {.kind = BW_END_ROUND},
                             .end = {.kind = BW_END_ROUND}});
    piece_tool(&p, "b5", BW_BASKET, 5, 2.5, 1.6, 0.7);
    piece_band(&p, "weave", BW_FILL_BASKET, "b5", 3, 8)->lose = BW_LOSE_ANCHORED;
    piece_finish(&p);
    char *text = piece_written(&p, show_plan_text), *flat = run_together(text);
    ck_assert_ptr_nonnull(strstr(flat, "seam of weave at its first anchor, "));
    ck_assert_ptr_null(strstr(flat, "seam at the start mark"));
    const bw_run_plan *run = &p.plan->bands[0].runs[0];
    int after[3];
    double along[3];
    const char *at = strstr(flat, "check marks");
    ck_assert_ptr_nonnull(at);
    at = strstr(at, " after ");
    ck_assert_int_eq(sscanf(at, " after %d, %d, %d impressions: %lf, %lf, %lf mm along the guide from the first anchor",
                            &after[0], &after[1], &after[2], &along[0], &along[1], &along[2]),
                     6);
    for (int i = 0; i < 3; i++)
        ck_assert_double_eq_tol(along[i], after[i] * (run->to - run->from) / run->count, 0.5);
    free(flat);
    free(text);
    piece_end(&p);
}
END_TEST

Suite *show_page_suite(void) {
    Suite *suite = suite_create("show: the page for the bench");
    TCase *page = tcase_create("page");
    tcase_set_timeout(page, 120); /* suggestions on an oval take their time in slow builds */
    tcase_add_test(page, the_lid_on_one_sheet);
    tcase_add_test(page, own_words_are_explained);
    tcase_add_test(page, every_page_is_a_page);
    tcase_add_test(page, runs_are_named_by_their_corners);
    tcase_add_test(page, the_run_told_of_changes_most);
    tcase_add_test(page, what_would_mend_it_is_told);
    tcase_add_test(page, hostile_names_are_shown_as_escapes);
    tcase_add_test(page, settings_off_the_grid);
    tcase_add_test(page, a_page_of_any_width);
    tcase_add_test(page, an_anchored_round_counts_from_its_first_anchor);
    suite_add_tcase(suite, page);
    return suite;
}
