/* check_views.c - preview, seam, table, closure and warnings: at any size nothing leaves its rectangle, and what is
 * drawn is measured against the plan. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/bench_pieces.h"
#include "show/inner.h"

Suite *show_views_suite(void);

static void table_view(show_grid *grid, show_rect where, const show_view *view) {
    show_table(grid, where, view, 0);
}

static void scrolled_table(show_grid *grid, show_rect where, const show_view *view) {
    show_table(grid, where, view, 3);
}

static void warning_view(show_grid *grid, show_rect where, const show_view *view) {
    show_warning_list(grid, where, view, 0);
}

typedef void (*drawer)(show_grid *grid, show_rect where, const show_view *view);
static const drawer drawers[] = {show_preview, show_seam, show_closure, table_view, scrolled_table, warning_view};

#define SENTINEL '~' /* no view draws it: the eighth band's mark, which no piece has */

/* Draws into a rectangle of a grid full of sentinels; whatever lies outside must still be one. */
static void assert_stays_inside(drawer draw, const show_view *view, show_rect where) {
    show_grid grid;
    ck_assert(show_grid_init(&grid, 90, 40, true));
    for (int i = 0; i < grid.width * grid.height; i++)
        grid.cells[i].code = SENTINEL;
    draw(&grid, where, view);
    for (int i = 0; i < grid.width * grid.height; i++) {
        int x = i % grid.width, y = i / grid.width;
        bool inside = x >= where.x && x < where.x + where.width && y >= where.y && y < where.y + where.height;
        if (!inside && grid.cells[i].code != SENTINEL)
            ck_abort_msg("a cell at %d, %d outside %dx%d at %d, %d", x, y, where.width, where.height, where.x, where.y);
    }
    show_grid_free(&grid);
}

START_TEST(nothing_leaves_its_rectangle) {
    static const show_rect rects[] = {{5, 5, 1, 1},   {5, 5, 2, 2},   {5, 5, 3, 1},     {5, 5, 1, 30},
                                      {5, 5, 70, 1},  {5, 5, 0, 0},   {5, 5, 10, 0},    {5, 5, 13, 5},
                                      {0, 0, 90, 40}, {7, 3, 40, 12}, {60, 30, 80, 80}, {-20, -5, 50, 20},
                                      {95, 5, 5, 5},  {5, 5, -3, -3}, {30, 10, 22, 9}};
    piece p;
    piece_makers[_i](&p);
    size_t bands = p.plan->band_count;
    for (size_t band = 0; band <= bands; band++) {
        int all = show_impressions(p.plan, band);
        const int impressions[] = {0, 1, all / 2, all, 99999};
        /* An oval is many arcs, and every drawing of it takes its time: two of them do. */
        size_t step = bw_curve_pieces(p.plan->edge) > 100 ? 2 : 1;
        for (size_t i = 0; i < sizeof impressions / sizeof *impressions; i += step) {
            show_view view = piece_view(&p, band);
            view.impression = impressions[i];
            view.cell_aspect = i == 2 ? 0 : 2;
            for (size_t r = 0; r < sizeof rects / sizeof *rects; r++)
                for (size_t d = 0; d < (i < 3 ? sizeof drawers / sizeof *drawers : 2); d++)
                    assert_stays_inside(drawers[d], &view, rects[r]);
        }
    }
    piece_end(&p);
}
END_TEST

/* One view on a grid of its own, as text; malloc'ed. */
static char *drawn(drawer draw, const show_view *view, int width, int height) {
    show_grid grid;
    ck_assert(show_grid_init(&grid, width, height, false));
    draw(&grid, (show_rect){0, 0, width, height}, view);
    char *text = show_grid_text(&grid);
    show_grid_free(&grid);
    return text;
}

static void assert_drawn(drawer draw, const show_view *view, int width, int height, const char *part) {
    char *text = drawn(draw, view, width, height);
    ck_assert_msg(strstr(text, part) != NULL, "no \"%s\" in\n%s", part, text);
    free(text);
}

/* ---- preview ---- */

/* The line of text in which a character stands first, -1 if it stands nowhere. */
static int line_of(const char *text, char wanted) {
    const char *at = strchr(text, wanted);
    int line = 0;
    for (const char *c = text; at && c < at; c++)
        line += *c == '\n';
    return at ? line : -1;
}

static int column_of(const char *text, char wanted) {
    const char *at = strchr(text, wanted), *start = at;
    while (start > text && start[-1] != '\n')
        start--;
    return (int)(at - start);
}

/* A round piece is as wide as high, whatever a cell's aspect is. */
START_TEST(a_round_piece_is_round) {
    piece p;
    piece_bare(&p);
    for (int aspect = 1; aspect <= 3; aspect++) {
        show_grid grid;
        show_view view = piece_view(&p, 0);
        view.cell_aspect = aspect;
        ck_assert(show_grid_init(&grid, 120, 31, true));
        show_preview(&grid, (show_rect){0, 0, 120, 31}, &view);
        int left = 999, right = -1, top = 999, bottom = -1;
        for (int i = 0; i < 120 * 28; i++) {
            if (grid.cells[i].code == ' ')
                continue;
            left = i % 120 < left ? i % 120 : left;
            right = i % 120 > right ? i % 120 : right;
            top = i / 120 < top ? i / 120 : top;
            bottom = i / 120;
        }
        int wide = right - left + 1, high = (bottom - top + 1) * aspect;
        ck_assert_msg(abs(wide - high) <= aspect + 1, "%d wide, %d high at aspect %d", wide, high, aspect);
        show_grid_free(&grid);
    }
    piece_end(&p);
}
END_TEST

START_TEST(the_preview_marks_places) {
    piece p;
    piece_cedar_lid(&p);
    show_view view = piece_view(&p, 1);
    char *text = drawn(show_preview, &view, 60, 24);
    ck_assert_int_eq(line_of(text, 'S'), 20); /* the bottom of the drawing: the start mark */
    ck_assert_ptr_null(strchr(text, 'W'));    /* all steps of a line are alike: no place is tighter than another */
    ck_assert_ptr_null(strchr(text, 'T'));
    ck_assert_ptr_nonnull(strstr(text, "o rim  # weave (in hand)  : stitching"));
    ck_assert_ptr_nonnull(strstr(text, "S start  steps 7.18 mm to 8.69 mm"));
    ck_assert_ptr_nonnull(strstr(text, "too small to draw truly here: rows merge into each other"));
    free(text);
    text = drawn(show_preview, &view, 96, 44);
    ck_assert_ptr_nonnull(strstr(text, "impressions too small to draw here: rows shown"));
    ck_assert_ptr_null(strchr(text, '@'));
    free(text);
    static const int small[][2] = {{45, 12}, {24, 8}, {16, 9}, {10, 4}};
    for (size_t i = 0; i < sizeof small / sizeof *small; i++)
        assert_drawn(show_preview, &view, small[i][0], small[i][1], "rows");
    view.band = 0;
    assert_drawn(show_preview, &view, 60, 24, "# rim (in hand)  x weave");
    /* Impression 21 of 40 stands half a round from the start: at the top, in the middle. */
    view.band = 1;
    view.impression = 21;
    text = drawn(show_preview, &view, 60, 24);
    ck_assert_int_le(line_of(text, '@'), 5);
    ck_assert_int_le(abs(column_of(text, '@') - 30), 1);
    free(text);
    view.impression = 11; /* a quarter, counter-clockwise: on the right */
    text = drawn(show_preview, &view, 60, 24);
    ck_assert_int_gt(column_of(text, '@'), 40);
    free(text);
    piece_end(&p);
}
END_TEST

/* Where every impression is drawn, it says nothing of rows; and every middle of a bar of the weave is inked. */
START_TEST(a_large_preview_draws_impressions) {
    piece p;
    piece_cedar_lid(&p);
    show_view view = piece_view(&p, 1);
    char *text = drawn(show_preview, &view, 500, 200);
    ck_assert_ptr_null(strstr(text, "rows shown"));
    ck_assert_ptr_null(strstr(text, "rows merge"));
    free(text);
    show_grid grid;
    ck_assert(show_grid_init(&grid, 500, 200, true));
    show_preview(&grid, (show_rect){0, 0, 500, 200}, &view);
    /* 140 mm over 197 lines: the three below are words. */
    double line = 140.0 / 197, column = line / 2;
    bw_placing *list;
    size_t count;
    ck_assert_int_eq(bw_placings_create(p.plan, 1, NULL, &list, &count), BW_OK);
    ck_assert_uint_eq(count, 80);
    for (size_t i = 0; i < count; i++) {
        int x = (int)floor(250 + list[i].at.x / column), y = (int)floor(197.0 / 2 - list[i].at.y / line);
        uint32_t code = grid.cells[y * 500 + x].code;
        ck_assert_msg(code == '#', "impression %zu at %d, %d is not drawn", i, x, y);
    }
    bw_placings_release(list, NULL);
    show_grid_free(&grid);
    piece_end(&p);
}
END_TEST

/* ---- seam ---- */

/* Cells of the X runs in one line of a grid, their middle value; 0 if there are none. */
static double legs_on_legs(const show_grid *grid, int y) {
    int runs[200], count = 0, length = 0;
    for (int x = 0; x < grid->width; x++) {
        if (grid->cells[y * grid->width + x].code == 'X') {
            length++;
        } else if (length > 0) {
            if (x > length && count < 200) /* not cut at the left rim */
                runs[count++] = length;
            length = 0;
        }
    }
    double sum = 0;
    for (int i = 0; i < count; i++)
        sum += runs[i];
    return count ? sum / count : 0;
}

/* What is drawn is measured: on each weave line legs lie on each other as far as the plan says, to about a cell. */
START_TEST(the_seam_is_to_scale) {
    piece p;
    show_grid grid;
    piece_cedar_lid(&p);
    show_view view = piece_view(&p, 1);
    const bw_band_plan *band = &p.plan->bands[1];
    ck_assert(show_grid_init(&grid, 400, 100, true));
    show_seam(&grid, (show_rect){0, 0, 400, 100}, &view);
    int middles[10] = {0}, found = 0;
    for (int y = 0; y < 98; y++) {
        int from = y;
        while (y < 98 && legs_on_legs(&grid, y) > 0)
            y++;
        if (y > from && found < 10)
            middles[found++] = (from + y - 1) / 2;
    }
    ck_assert_int_eq(found, 3);
    double line = 2 * band->rows_apart / (middles[2] - middles[0]), column = line / 2;
    for (int i = 0; i < 3; i++) {
        /* The inside lies above: the last weave line comes first. */
        double wanted = band->lines[2 - i].overlap_least * band->face.leg,
               mm = legs_on_legs(&grid, middles[i]) * column;
        ck_assert_msg(fabs(mm - wanted) < 1.5 * column, "line %d: %.2f mm drawn, %.2f mm planned",
                      band->lines[2 - i].line, mm, wanted);
    }
    show_grid_free(&grid);
    piece_end(&p);
}
END_TEST

START_TEST(the_seam_names_who_meets) {
    piece p;
    piece_cedar_lid(&p);
    show_view view = piece_view(&p, 1);
    char *text = drawn(show_seam, &view, 60, 20);
    ck_assert_ptr_nonnull(strstr(text, "seam: 40 meets 1  legs overlap 0.81, 1.57, 2.32 mm"));
    ck_assert_ptr_nonnull(strstr(text, "#40#"));
    ck_assert_ptr_nonnull(strstr(text, "#1#"));
    ck_assert_ptr_nonnull(strchr(text, 'X'));
    *strstr(text, "seam: 40") = '\0'; /* the key below names the sign */
    ck_assert_ptr_null(strchr(text, '!'));
    free(text);
    view.impression = 12;
    assert_drawn(show_seam, &view, 60, 20, "impression 12 of 40");
    assert_drawn(show_seam, &view, 60, 20, "#12#");
    piece_end(&p);
    piece_ash_edge(&p);
    view = piece_view(&p, 1);
    assert_drawn(show_seam, &view, 80, 20, "start : end");
    assert_drawn(show_seam, &view, 80, 20, "47");
    piece_end(&p);
}
END_TEST

/* Legs that miss leave a gap between them, legs that ride on bars show as such: only then. */
START_TEST(misfits_are_seen) {
    piece p;
    piece_wide_lid(&p);
    show_view view = piece_view(&p, 0);
    char *text = drawn(show_seam, &view, 90, 36);
    ck_assert_ptr_nonnull(strstr(text, "= ="));
    ck_assert_ptr_nonnull(strchr(text, '!'));
    ck_assert_ptr_nonnull(strstr(text, "legs overlap -1.33, -"));
    free(text);
    piece_end(&p);
}
END_TEST

/* ---- words instead of drawings ---- */

START_TEST(what_cannot_be_drawn_is_said) {
    piece p;
    piece_no_room(&p);
    show_view view = piece_view(&p, 0);
    assert_drawn(show_seam, &view, 60, 8, "no room");
    assert_drawn(show_closure, &view, 60, 8, "no room");
    assert_drawn(warning_view, &view, 100, 8, "! weave: no: the band has no room");
    view.band = 1;
    assert_drawn(show_seam, &view, 60, 8, "plain leather");
    assert_drawn(table_view, &view, 60, 8, "plain leather");
    piece_end(&p);
    piece_bare(&p);
    view = piece_view(&p, 0);
    assert_drawn(show_seam, &view, 60, 8, "no band yet");
    assert_drawn(show_closure, &view, 60, 8, "no band yet");
    assert_drawn(table_view, &view, 60, 8, "no band yet");
    assert_drawn(warning_view, &view, 60, 8, "no warnings");
    assert_drawn(show_preview, &view, 60, 20, "S start");
    piece_end(&p);
}
END_TEST

/* ---- figures ---- */

START_TEST(the_count_is_large) {
    piece p;
    piece_cedar_lid(&p);
    show_view view = piece_view(&p, 1);
    char *text = drawn(show_closure, &view, 60, 6);
    ck_assert_str_eq(text, "     _                   _         _     _   _\n"
                           "|_| | |       _|_   |    _|   _|_ | |   | |  _|\n"
                           "  | |_|        |    | .  _|    |  |_| . |_|  _|\n"
                           "impressions   gap, mm         each step, mm\n"
                           "1.3 mm left over, 40 steps each 0.03 mm longer than the\n"
                           "usual 7.9 mm\n");
    free(text);
    text = drawn(show_closure, &view, 30, 6);
    ck_assert_str_eq(text, "     _             _\n"
                           "|_| | | _|_   |    _|\n"
                           "  | |_|  |    | .  _|\n"
                           "count   gap, mm\n"
                           "+0.03 mm each step\n"
                           "40 steps each 0.03 mm longer\n");
    free(text);
    text = drawn(show_closure, &view, 24, 3);
    ck_assert_str_eq(text, "40 impressions\n+1.3 mm gap\n+0.03 mm each step\n");
    free(text);
    assert_drawn(show_closure, &view, 60, 1, "40 impressions, gap +1.3 mm, each +0.03 mm");
    piece_end(&p);
}
END_TEST

/* A line that falls apart is drawn in all its loops: as much of it in one lobe as in the other, and nothing in the
 * waist. */
START_TEST(every_loop_is_drawn) {
    piece p;
    piece_bell(&p);
    ck_assert_int_eq(p.plan->bands[1].guide_loops, 2);
    show_view view = piece_view(&p, 1);
    char *text = drawn(show_preview, &view, 96, 26), *rest = NULL;
    int lobes[3] = {0};
    for (char *line = strtok_r(text, "\n", &rest); line && strstr(line, "grains") == NULL;
         line = strtok_r(NULL, "\n", &rest))
        for (int x = 0; line[x]; x++)
            lobes[x < 40 ? 0 : x < 56 ? 1 : 2] += line[x] == '#';
    ck_assert_int_gt(lobes[0], 30);
    ck_assert_int_eq(lobes[1], 0);
    ck_assert_int_le(abs(lobes[2] - lobes[0]), 4); /* which cell a border of cells belongs to */
    free(text);
    piece_end(&p);
}
END_TEST

/* Where steps vary along the edge, the letters and their legend are there, and only then. */
START_TEST(letters_go_with_their_legend) {
    for (size_t i = 0; i < piece_maker_count; i++) {
        piece p;
        piece_makers[i](&p);
        show_view view = piece_view(&p, 0);
        char *text = drawn(show_preview, &view, 60, 24);
        ck_assert_int_eq(strstr(text, "T tightest") != NULL, show_tightest(p.plan, 0) > 0);
        ck_assert_int_eq(strstr(text, "W widest") != NULL, show_widest(p.plan, 0) > 0);
        free(text);
        piece_end(&p);
    }
}
END_TEST

/* A narrow table drops columns whole: every figure in it stands in the wide one too. */
START_TEST(no_figure_is_cut) {
    for (size_t i = 0; i < piece_maker_count; i++) {
        piece p;
        piece_makers[i](&p);
        show_view view = piece_view(&p, 0);
        char *whole = drawn(table_view, &view, 49, 60);
        for (int width = 4; width < 49; width++) {
            char *text = drawn(table_view, &view, width, 60), *rest = NULL;
            for (char *word = strtok_r(text, " \n", &rest); word; word = strtok_r(NULL, " \n", &rest)) {
                char with_blank[2][80];
                if (!strpbrk(word, "0123456789"))
                    continue;
                snprintf(with_blank[0], sizeof with_blank[0], " %s ", word);
                snprintf(with_blank[1], sizeof with_blank[1], " %s\n", word);
                ck_assert_msg(strstr(whole, with_blank[0]) || strstr(whole, with_blank[1]), "piece %zu, width %d: %s",
                              i, width, word);
            }
            free(text);
        }
        free(whole);
        piece_end(&p);
    }
}
END_TEST

/* Legs that miss keep their mark at any width, and rows that do not fit are told, with no header left alone. */
START_TEST(the_table_tells_what_is_wrong_and_what_is_more) {
    piece p;
    piece_wide_lid(&p);
    show_view view = piece_view(&p, 0);
    for (int width = 8; width < 60; width++)
        assert_drawn(table_view, &view, width, 60, "!");
    piece_end(&p);
    piece_cedar_lid(&p);
    view = piece_view(&p, 1);
    char *text = drawn(table_view, &view, 30, 6);
    ck_assert_ptr_null(strstr(text, "prints"));
    ck_assert_ptr_nonnull(strstr(text, "\nmore: v\n"));
    free(text);
    text = drawn(table_view, &view, 30, 20);
    ck_assert_ptr_null(strstr(text, "more"));
    free(text);
    /* The overlaps beside the seam: whole figures, or none. */
    assert_drawn(show_seam, &view, 49, 20, "legs overlap 0.81, 1.57 ... mm");
    piece_end(&p);
}
END_TEST

START_TEST(the_table_scrolls) {
    piece p;
    piece_cedar_lid(&p);
    show_view view = piece_view(&p, 1);
    show_grid grid;
    ck_assert(show_grid_init(&grid, 60, 4, true));
    int rows = show_table(&grid, (show_rect){0, 0, 60, 4}, &view, 0);
    ck_assert_int_eq(rows, 1 + 3 + 1 + 4 + 2);
    char *text = show_grid_text(&grid);
    ck_assert_ptr_nonnull(strstr(text, " -1   14.7 mm    8.69 mm  25 %          0.81 mm"));
    free(text);
    show_clear(&grid);
    ck_assert_int_eq(show_table(&grid, (show_rect){0, 0, 60, 4}, &view, rows - 1), rows);
    text = show_grid_text(&grid);
    ck_assert_str_eq(text, "notches: outer 9.38 mm, inner 3.35 mm\n\n\n\n");
    free(text);
    show_grid_free(&grid);
    piece_end(&p);
}
END_TEST

START_TEST(worst_warnings_come_first) {
    piece p;
    piece_rowan_end(&p);
    bw_band *second = piece_band(&p, "inner", BW_FILL_BASKET, "basket-l", 1, 6);
    second->outer.line = BW_MARK_CUT;
    piece_finish(&p);
    for (size_t band = 0; band < 2; band++) {
        show_view view = piece_view(&p, band);
        show_grid grid;
        ck_assert(show_grid_init(&grid, 70, 20, true));
        int count = show_warning_list(&grid, (show_rect){0, 0, 70, 20}, &view, 0);
        size_t all;
        free(show_warnings(&p.project, p.plan, &all));
        ck_assert_int_eq(count, (int)all);
        ck_assert_int_ge(count, 3);
        char *text = show_grid_text(&grid);
        ck_assert_msg(strncmp(text, band == 0 ? "! weave: no: " : "! inner: no: ", 13) == 0, "%s", text);
        free(text);
        show_clear(&grid);
        show_warning_list(&grid, (show_rect){0, 0, 70, 20}, &view, count);
        text = show_grid_text(&grid);
        ck_assert_uint_eq(strspn(text, "\n"), 20); /* all scrolled away */
        free(text);
        show_grid_free(&grid);
    }
    piece_end(&p);
}
END_TEST

Suite *show_views_suite(void) {
    Suite *suite = suite_create("show: views");
    TCase *views = tcase_create("views");
    tcase_set_timeout(views, 120);
    tcase_add_loop_test(views, nothing_leaves_its_rectangle, 0, (int)piece_maker_count);
    tcase_add_test(views, a_round_piece_is_round);
    tcase_add_test(views, every_loop_is_drawn);
    tcase_add_test(views, the_preview_marks_places);
    tcase_add_test(views, a_large_preview_draws_impressions);
    tcase_add_test(views, the_seam_is_to_scale);
    tcase_add_test(views, the_seam_names_who_meets);
    tcase_add_test(views, misfits_are_seen);
    tcase_add_test(views, what_cannot_be_drawn_is_said);
    tcase_add_test(views, the_count_is_large);
    tcase_add_test(views, letters_go_with_their_legend);
    tcase_add_test(views, no_figure_is_cut);
    tcase_add_test(views, the_table_tells_what_is_wrong_and_what_is_more);
    tcase_add_test(views, the_table_scrolls);
    tcase_add_test(views, worst_warnings_come_first);
    suite_add_tcase(suite, views);
    return suite;
}
