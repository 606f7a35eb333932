/* check_spacing.c - the whole spacing table: every cell is explained, the explanations' sums are right, and the cursor
 * is seen wherever it goes. The sums are done again here, from the plan's and the profile's values. */
#include <check.h>
#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/bench_pieces.h"
#include "show/inner.h"
#include "show/spacing.h"

Suite *show_spacing_suite(void);

static const int sizes[][2] = {{20, 3}, {60, 12}, {80, 17}, {200, 50}};

/* ---- every cell ---- */

START_TEST(every_cell_is_explained) {
    piece p;
    piece_makers[_i](&p);
    for (int inch = 0; inch < 2; inch++)
        for (size_t band = 0; band <= p.plan->band_count; band++) {
            p.project.units = inch ? SHOP_INCH : SHOP_MM;
            show_view view = piece_view(&p, band);
            show_figure figure;
            size_t rows = show_spacing_rows(&view);
            bool counted = band < p.plan->band_count && p.plan->bands[band].fill != BW_FILL_PLAIN;
            ck_assert_int_eq(rows > 0, counted);
            for (size_t row = 0; row < rows; row++) {
                size_t columns = show_spacing_columns(&view, row);
                ck_assert_uint_gt(columns, 1);
                for (size_t column = 0; column < columns; column++) {
                    ck_assert(show_spacing_cell(&view, row, column, &figure));
                    size_t length = strlen(figure.words);
                    ck_assert_msg(figure.name && figure.name[0] && figure.value[0], "%zu, %zu is empty", row, column);
                    ck_assert_msg(length > strlen(figure.value) + 8, "%s: %s", figure.name, figure.words);
                    ck_assert_msg(length + 1 < sizeof figure.words, "cut: %s", figure.words);
                    ck_assert_msg(figure.words[length - 1] == '.', "no end: %s", figure.words);
                    ck_assert_msg(strstr(figure.words, figure.value) != NULL || column == 0, "%s is not in: %s",
                                  figure.value, figure.words);
                    ck_assert_msg(strstr(figure.words, "nan") == NULL && strstr(figure.words, "inf ") == NULL, "%s",
                                  figure.words);
                }
                ck_assert(!show_spacing_cell(&view, row, columns, &figure));
            }
            ck_assert(!show_spacing_cell(&view, rows, 0, &figure));
            ck_assert_uint_eq(show_spacing_columns(&view, rows), 0);
        }
    piece_end(&p);
}
END_TEST

/* As many rows as the plan has lines, rows, runs and figures. */
START_TEST(nothing_of_the_plan_is_left_out) {
    piece p;
    piece_makers[_i](&p);
    for (size_t band = 0; band < p.plan->band_count; band++) {
        const bw_band_plan *b = &p.plan->bands[band];
        show_view view = piece_view(&p, band);
        show_figure list[SHOW_FIGURE_COUNT_OF_KINDS];
        size_t figures = show_figures(&p.project, p.plan, band, list, SHOW_FIGURE_COUNT_OF_KINDS);
        if (b->fill != BW_FILL_PLAIN)
            ck_assert_uint_eq(show_spacing_rows(&view), b->line_count + b->row_count + b->run_count + figures);
    }
    piece_end(&p);
}
END_TEST

/* ---- the sums that the sentences tell ---- */

static void check_lines(const piece *p, size_t band) {
    const bw_band_plan *b = &p->plan->bands[band];
    const bw_profile *profile = bw_plan_profile(p->plan, band);
    ck_assert_ptr_nonnull(profile);
    for (size_t i = 0; i < b->line_count; i++) {
        const bw_weave_line *line = &b->lines[i];
        double delta = line->from_edge - b->guide_from_edge;
        bw_felt tight = show_extreme_felt(profile, b, line, false), wide = show_extreme_felt(profile, b, line, true);
        ck_assert_double_eq_tol(tight.step - delta * tight.turning, line->step_least, 2e-3);
        ck_assert_double_eq_tol(wide.step - delta * wide.turning, line->step_most, 2e-3);
        if (b->fill != BW_FILL_BASKET)
            continue;
        ck_assert_double_eq_tol((b->most - line->step_most) / (b->most - b->least), line->overlap_least, 1e-6);
        ck_assert_double_eq_tol((b->most - line->step_least) / (b->most - b->least), line->overlap_most, 1e-6);
    }
}

static void check_runs(const bw_band_plan *b) {
    for (size_t i = 0; i < b->run_count; i++) {
        const bw_run_plan *run = &b->runs[i];
        int steps = show_run_steps(run);
        if (steps == 0)
            continue;
        ck_assert_double_eq_tol(run->step * steps - steps * run->usual_step, run->closure_gap, 1e-6);
        ck_assert_double_eq_tol(run->closure_gap / steps, run->step_change, 1e-6);
        if (run->closed)
            ck_assert_double_eq_tol((run->to - run->from) / steps, run->step, 1e-6);
        else
            ck_assert_double_le(run->step * steps, run->to - run->from + 1e-6);
    }
}

START_TEST(what_is_told_adds_up) {
    piece p;
    piece_makers[_i](&p);
    for (size_t band = 0; band < p.plan->band_count; band++) {
        const bw_band_plan *b = &p.plan->bands[band];
        if (b->fill == BW_FILL_PLAIN || b->guide_gone || b->strikes == 0)
            continue;
        check_lines(&p, band);
        check_runs(b);
    }
    piece_end(&p);
}
END_TEST

/* On a round lid the numbers can be had from the circle alone. */
START_TEST(numbers_of_a_circle_are_put_in) {
    piece p;
    piece_cedar_lid(&p);
    const bw_band_plan *b = &p.plan->bands[1];
    show_view view = piece_view(&p, 1);
    double radius = bw_outline_diameter(&p.project.layout.outline) / 2, guide = radius - b->guide_from_edge;
    int count = b->runs[0].count, found = 0;
    char even[400], shortest[400];
    double inner = radius - b->lines[b->line_count - 1].from_edge;
    snprintf(even, sizeof even, "step %s = %s around / %d impressions.",
             show_length(&p.project, 2 * BW_PI * guide / count).text, show_length(&p.project, 2 * BW_PI * guide).text,
             count);
    snprintf(shortest, sizeof shortest,
             "%s = the shortest step on this line: %s (%s around / %d impressions) on the guide - %s",
             show_length(&p.project, 2 * BW_PI * inner / count).text,
             show_length(&p.project, 2 * BW_PI * guide / count).text, show_length(&p.project, 2 * BW_PI * guide).text,
             count, show_difference(&p.project, 2 * BW_PI * (guide - inner) / count).text);
    for (size_t row = 0; row < show_spacing_rows(&view); row++)
        for (size_t column = 0; column < show_spacing_columns(&view, row); column++) {
            show_figure figure;
            ck_assert(show_spacing_cell(&view, row, column, &figure));
            found += strcmp(figure.words, even) == 0;
            if (row + 1 == b->line_count && strcmp(figure.name, "shortest step") == 0) {
                ck_assert_msg(strncmp(figure.words, shortest, strlen(shortest)) == 0, "%s\n%s", figure.words, shortest);
                found++;
            }
        }
    ck_assert_int_eq(found, 2);
    piece_end(&p);
}
END_TEST

/* ---- the cursor ---- */

/* Wherever it goes, the cell under it is seen with its whole value if the window is as wide as that, and marked by a
 * character; the table stays in its window. */
START_TEST(the_cursor_is_seen) {
    piece p;
    piece_makers[_i](&p);
    for (size_t s = 0; s < sizeof sizes / sizeof *sizes; s++)
        for (size_t band = 0; band < p.plan->band_count; band++) {
            show_view view = piece_view(&p, band);
            show_spacing_place at = {0};
            size_t rows = show_spacing_rows(&view);
            for (size_t k = 0; k < 2 * rows; k++) { /* down and up again */
                at.row = k < rows ? k : 2 * rows - 1 - k;
                size_t columns = show_spacing_columns(&view, at.row);
                /* In the window that scrolls most every cell, in the others both ends of every row. */
                for (at.column = 0; at.column < columns; at.column += s == 0 && k < rows ? 1 : columns - 1) {
                    size_t row = at.row, column = at.column;
                    show_grid grid;
                    show_figure figure;
                    ck_assert(show_grid_init(&grid, sizes[s][0] + 4, sizes[s][1] + 4, false));
                    for (int i = 0; i < grid.width * grid.height; i++)
                        grid.cells[i].code = '~';
                    show_spacing(&grid, (show_rect){2, 2, sizes[s][0], sizes[s][1]}, &view, &at);
                    ck_assert(at.row == row && at.column == column);
                    ck_assert(show_spacing_cell(&view, row, column, &figure));
                    int x = grid.cursor_x, y = grid.cursor_y;
                    ck_assert_msg(x > 2 && y >= 2 && x < 2 + sizes[s][0] && y < 2 + sizes[s][1],
                                  "cursor at %d, %d for %zu, %zu", x, y, row, column);
                    ck_assert_uint_eq(grid.cells[y * grid.width + x - 1].code, '>');
                    const char *wanted =
                        column == 0 && strcmp(figure.name, figure.value) == 0 ? figure.name : figure.value;
                    for (int i = 0; wanted[i] != '\0' && x + i < 2 + sizes[s][0]; i++)
                        ck_assert_msg(grid.cells[y * grid.width + x + i].code == (unsigned char)wanted[i], "%s",
                                      wanted);
                    for (int i = 0; i < grid.width * grid.height; i++) {
                        int cx = i % grid.width, cy = i / grid.width;
                        bool inside = cx >= 2 && cy >= 2 && cx < grid.width - 2 && cy < grid.height - 2;
                        ck_assert(inside || grid.cells[i].code == '~');
                    }
                    show_grid_free(&grid);
                }
            }
        }
    piece_end(&p);
}
END_TEST

Suite *show_spacing_suite(void) {
    Suite *suite = suite_create("show/spacing");
    TCase *tests = tcase_create("spacing");
    int makers = (int)piece_maker_count;
    tcase_set_timeout(tests, 120); /* every cell at every size, slow builds */
    tcase_add_loop_test(tests, every_cell_is_explained, 0, makers);
    tcase_add_loop_test(tests, nothing_of_the_plan_is_left_out, 0, makers);
    tcase_add_loop_test(tests, what_is_told_adds_up, 0, makers);
    tcase_add_test(tests, numbers_of_a_circle_are_put_in);
    tcase_add_loop_test(tests, the_cursor_is_seen, 0, makers);
    suite_add_tcase(suite, tests);
    return suite;
}
