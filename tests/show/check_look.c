/* check_look.c - looking closer: the scale told is the scale drawn, what is in the window is drawn and nothing else,
 * and marks stand where the plan fails. What is expected is measured from the curves and placings of the library. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/bench_pieces.h"
#include "show/inner.h"

Suite *show_look_suite(void);

static const int sizes[][2] = {{20, 5}, {60, 18}, {80, 24}, {120, 40}, {200, 60}};
enum { SIZES = 5 };

static uint32_t code_at(const show_grid *grid, int x, int y) {
    return grid->cells[y * grid->width + x].code;
}

static show_grid drawn(const show_view *view, int width, int height, bool unicode) {
    show_grid grid;
    ck_assert(show_grid_init(&grid, width, height, unicode));
    show_preview(&grid, (show_rect){0, 0, width, height}, view);
    return grid;
}

/* Lines of the drawing, without the legend: those of the sight's height. */
static int drawn_lines(const show_view *view, const show_sight *sight) {
    return (int)lround(sight->height / (sight->drawn * view->cell_aspect));
}

/* ---- scale ---- */

/* An edge alone: as wide and as high as told, at every size and aspect. */
START_TEST(scale_told_is_scale_drawn) {
    piece p;
    piece_bare(&p);
    bw_box box = bw_curve_box(p.plan->edge);
    for (int aspect = 1; aspect <= 3; aspect++) {
        show_sight sight = {0};
        show_view view = piece_view(&p, 0);
        view.cell_aspect = aspect;
        view.sight = &sight;
        show_grid grid = drawn(&view, sizes[_i][0], sizes[_i][1], false);
        int left = grid.width, right = -1, top = grid.height, bottom = -1;
        for (int y = 0; y < drawn_lines(&view, &sight); y++)
            for (int x = 0; x < grid.width; x++)
                if (code_at(&grid, x, y) != ' ') {
                    left = x < left ? x : left;
                    right = x > right ? x : right;
                    top = y < top ? y : top;
                    bottom = y > bottom ? y : bottom;
                }
        ck_assert_double_gt(sight.drawn, 0);
        ck_assert_double_le(fabs((right - left + 1) * sight.drawn - (box.right - box.left)), 2 * sight.drawn);
        ck_assert_double_le(fabs((bottom - top + 1) * sight.drawn * aspect - (box.top - box.bottom)),
                            2 * sight.drawn * aspect);
        show_grid_free(&grid);
    }
    piece_end(&p);
}
END_TEST

/* Closer and closer the scales are round ones, and back again they are the same; then all of it. */
START_TEST(scales_are_round) {
    static const double wanted_mm[] = {1, 0.5, 0.2, 0.1, 0.05};
    static const double wanted_inch[] = {1.0 / 16, 1.0 / 32, 1.0 / 64, 1.0 / 128, 1.0 / 256};
    shop_project project = {.units = _i ? SHOP_INCH : SHOP_MM};
    double unit = _i ? BW_MM_PER_INCH : 1;
    show_sight sight = {.whole = _i ? 2.0 : 1.7};
    const double *wanted = _i ? wanted_inch : wanted_mm;
    for (int i = 0; i < 5; i++) {
        ck_assert(show_sight_scale(&project, &sight, true));
        ck_assert_double_eq_tol(sight.scale / unit, wanted[i], 1e-9);
    }
    if (!_i)
        ck_assert(!show_sight_scale(&project, &sight, true));
    for (int i = 3; i >= 0; i--) {
        ck_assert(show_sight_scale(&project, &sight, false));
        ck_assert_double_eq_tol(sight.scale / unit, wanted[i], 1e-9);
    }
    ck_assert(show_sight_scale(&project, &sight, false));
    ck_assert_double_eq(sight.scale, 0);
    ck_assert(!show_sight_scale(&project, &sight, false));
    show_words words;
    sight.drawn = 2;
    ck_assert_str_eq(show_scale_words(&words, &project, &sight, 2.5),
                     _i ? "1 cell = 0.0787 in across, 0.197 in up" : "1 cell = 2 mm across, 5 mm up");
}
END_TEST

/* ---- what is in the window ---- */

/* Every point of the edge that lies in the window has its mark, and nothing is marked that is no part of the edge. */
START_TEST(a_part_is_all_there_and_nothing_else) {
    piece p;
    piece_bare(&p);
    double length = bw_curve_length(p.plan->edge);
    for (double scale = 2; scale >= 0.05; scale /= 2.5) {
        for (int i = 0; i < 8; i++) {
            show_sight sight = {.scale = scale, .middle = bw_curve_at(p.plan->edge, length * i / 8).at};
            show_view view = piece_view(&p, 0);
            view.sight = &sight;
            show_grid grid = drawn(&view, 60, 18, false);
            int lines = drawn_lines(&view, &sight), seen = 0;
            int *wanted = calloc((size_t)(grid.width * lines), sizeof *wanted);
            for (double along = 0; along < length && sight.scale > 0; along += scale / 8) {
                bw_point at = bw_curve_at(p.plan->edge, along).at;
                double column = (at.x - sight.middle.x) / scale + grid.width / 2.0,
                       line = (sight.middle.y - at.y) / (scale * view.cell_aspect) + lines / 2.0;
                int x = (int)floor(column), y = (int)floor(line);
                bool rim = fabs(column - round(column)) < 0.01 || fabs(line - round(line)) < 0.01;
                if (x < 0 || y < 0 || x >= grid.width || y >= lines)
                    continue;
                /* What only cuts off a corner of a cell may be drawn in the next one. */
                wanted[y * grid.width + x] += rim ? 1 : 100;
                bool through = wanted[y * grid.width + x] > 499;
                ck_assert_msg(!through || code_at(&grid, x, y) != ' ', "scale %g, %d, %d", scale, x, y);
                seen++;
            }
            ck_assert_msg(seen > 0 || sight.scale <= 0, "scale %g: nothing in view", scale);
            for (int y = 0; y < lines && sight.scale > 0; y++)
                for (int x = 0; x < grid.width; x++) {
                    bool near = false;
                    for (int k = 0; k < 9 && !near; k++) {
                        int nx = x + k % 3 - 1, ny = y + k / 3 - 1;
                        near = nx >= 0 && ny >= 0 && nx < grid.width && ny < lines && wanted[ny * grid.width + nx] > 0;
                    }
                    ck_assert_msg(near || code_at(&grid, x, y) == ' ', "scale %g: %d, %d", scale, x, y);
                }
            free(wanted);
            show_grid_free(&grid);
        }
    }
    piece_end(&p);
}
END_TEST

/* Every piece, band, size, drawing, close and far: it stays in its window, and plain is plain. */
START_TEST(any_sight_stays_in_its_window) {
    piece p;
    piece_makers[_i](&p);
    for (size_t band = 0; band <= p.plan->band_count; band++)
        for (int fine = 0; fine <= SHOW_FINE_BRAILLE; fine++)
            for (int k = 0; k < 3; k++) {
                show_sight sight = {.scale = k == 1 ? 1 : k == 2 ? 0.1 : 0, .middle = {1e4 * (k - 1), -1e4}, .row = 99};
                show_view view = piece_view(&p, band);
                view.sight = &sight;
                view.fine = (show_fine)fine;
                sight.closer = k;
                bool unicode = fine != SHOW_FINE_NONE && k != 1;
                show_grid grid;
                int page = 0;
                ck_assert(show_grid_init(&grid, 64, 22, unicode));
                for (int i = 0; i < 64 * 22; i++)
                    grid.cells[i].code = '~';
                show_rect where = {3, 2, 58, 17};
                show_preview(&grid, where, &view);
                show_straight(&grid, where, &view, &page);
                show_seam(&grid, where, &view);
                for (int i = 0; i < 64 * 22; i++) {
                    int x = i % 64, y = i / 64;
                    bool inside = x >= 3 && x < 61 && y >= 2 && y < 19;
                    ck_assert_msg(inside || grid.cells[i].code == '~', "a cell at %d, %d", x, y);
                    ck_assert_msg(unicode || grid.cells[i].code <= '~', "a fine character at %d, %d", x, y);
                }
                show_grid_free(&grid);
            }
    piece_end(&p);
}
END_TEST

/* ---- finer drawing ---- */

/* The dots of a circle lie on it: each within a dot of the line, and every part of the line has its dots. */
START_TEST(dots_lie_on_the_line) {
    piece p;
    piece_bare(&p);
    show_sight sight = {0};
    show_view view = piece_view(&p, 0);
    view.sight = &sight;
    view.fine = _i ? SHOW_FINE_BRAILLE : SHOW_FINE_BLOCKS;
    show_grid grid = drawn(&view, 60, 30, true), plain;
    int lines = drawn_lines(&view, &sight), dots = 0;
    double radius = bw_curve_box(p.plan->edge).right;
    static const uint8_t braille[8][2] = {{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {0, 3}, {1, 3}};
    for (int y = 0; y < lines; y++)
        for (int x = 0; x < grid.width; x++) {
            uint32_t code = code_at(&grid, x, y);
            if (code < 0x2800 || code > 0x28FF)
                continue;
            for (int bit = 0; bit < 8; bit++) {
                if (!(code >> bit & 1))
                    continue;
                double u = (x + (braille[bit][0] + 0.5) / 2 - grid.width / 2.0) * sight.drawn;
                double v = (lines / 2.0 - y - (braille[bit][1] + 0.5) / 4) * sight.drawn * view.cell_aspect;
                ck_assert_double_le(fabs(hypot(u, v) - radius), sight.drawn * 0.75);
                dots++;
            }
        }
    if (_i) /* about one dot a dot's width of the way, and not a cell's */
        ck_assert_int_gt(dots, (int)(2 * BW_PI * radius / (sight.drawn / 2) * 0.6));
    else
        ck_assert_int_eq(dots, 0);
    /* Without Unicode the same view is the plain one. */
    show_grid_free(&grid);
    grid = drawn(&view, 60, 30, false);
    view.fine = SHOW_FINE_NONE;
    plain = drawn(&view, 60, 30, false);
    ck_assert_int_eq(memcmp(grid.cells, plain.cells, 60 * 30 * sizeof *grid.cells), 0);
    show_grid_free(&grid);
    show_grid_free(&plain);
    piece_end(&p);
}
END_TEST

/* The band in hand is told by whole lines, without colour: taking another in hand changes characters. */
START_TEST(the_band_in_hand_stands_out) {
    for (int fine = 0; fine <= SHOW_FINE_BRAILLE; fine++) {
        piece p;
        piece_maple_tray(&p);
        ck_assert_uint_ge(p.plan->band_count, 2);
        show_view one = piece_view(&p, 0), two = piece_view(&p, 1);
        show_sight sight = {0};
        one.sight = two.sight = &sight;
        one.fine = two.fine = (show_fine)fine;
        show_grid first = drawn(&one, 80, 24, true), second = drawn(&two, 80, 24, true);
        int lines = drawn_lines(&one, &sight), differ = 0;
        for (int i = 0; i < 80 * lines; i++)
            differ += first.cells[i].code != second.cells[i].code;
        ck_assert_int_gt(differ, 40);
        show_grid_free(&first);
        show_grid_free(&second);
        piece_end(&p);
    }
}
END_TEST

/* ---- marks ---- */

static size_t spots_of(const shop_project *project, const bw_plan *plan, size_t band, show_spot *list) {
    size_t count = show_spots(project, plan, band, list, SHOW_SPOTS_MOST);
    ck_assert_uint_le(count, SHOW_SPOTS_MOST);
    return count;
}

/* A '!' for every stretch that the profile finds, and none where every margin holds. */
START_TEST(failing_places_are_those_of_the_profile) {
    piece p;
    piece_makers[_i](&p);
    static show_spot list[SHOW_SPOTS_MOST];
    for (size_t band = 0; band < p.plan->band_count; band++) {
        const bw_band_plan *made = &p.plan->bands[band];
        size_t count = spots_of(&p.project, p.plan, band, list), failing = 0;
        if (made->fill == BW_FILL_PLAIN || made->guide_gone) {
            ck_assert_uint_eq(count, 0);
            continue;
        }
        ck_assert_int_eq(list[0].mark, 'S');
        const bw_profile *profile = bw_plan_profile(p.plan, band);
        ck_assert_ptr_nonnull(profile);
        for (size_t i = 0; i < count; i++) {
            ck_assert_msg(list[i].words.text[0] != '\0', "%c has no words", list[i].mark);
            failing += list[i].mark == '!';
            if (list[i].mark != '!')
                continue;
            bw_felt felt = bw_profile_at(profile, list[i].along);
            ck_assert_msg(felt.reach < 1e-6 || felt.crowd < 1e-6 || felt.fit < 1e-6, "%s", list[i].words.text);
        }
        size_t wanted = 0;
        for (int margin = BW_MARGIN_REACH; margin <= BW_MARGIN_BEND; margin++)
            wanted += bw_profile_stretches(profile, (bw_margin)margin, NULL, 0);
        ck_assert_uint_eq(failing, wanted < 32 ? wanted : failing);
    }
    piece_end(&p);
}
END_TEST

/* The step at T is the least of all lines, the one at W the greatest, as the profile feels them at their place. */
START_TEST(tightest_and_widest_are_what_they_say) {
    piece p;
    piece_beech_oval(&p);
    static show_spot list[SHOW_SPOTS_MOST];
    int found = 0;
    for (size_t band = 0; band < p.plan->band_count; band++) {
        size_t count = spots_of(&p.project, p.plan, band, list);
        for (size_t i = 0; i < count; i++) {
            bool wide = list[i].mark == 'W';
            if (!wide && list[i].mark != 'T')
                continue;
            const bw_band_plan *made = &p.plan->bands[band];
            const bw_weave_line *line = show_extreme_line(made, wide);
            double step = wide ? line->step_most : line->step_least;
            const bw_profile *profile = bw_plan_profile(p.plan, band);
            ck_assert_ptr_nonnull(profile);
            bw_felt felt = bw_profile_at(profile, list[i].along - step / 2);
            double there = felt.step - (line->from_edge - made->guide_from_edge) * felt.turning;
            ck_assert_double_eq_tol(there, step, 1e-3);
            /* Its mark lies as deep as its line. */
            bw_curve *parallel;
            ck_assert_int_eq(bw_curve_offset(p.plan->edge, line->from_edge, NULL, &parallel), BW_OK);
            bw_point near = bw_curve_at(parallel, bw_curve_nearest(parallel, list[i].at)).at;
            ck_assert_double_le(hypot(near.x - list[i].at.x, near.y - list[i].at.y), 0.05);
            bw_curve_destroy(parallel);
            found++;
        }
    }
    ck_assert_int_ge(found, 2);
    piece_end(&p);
}
END_TEST

/* Corners: as many as runs begin at, on the corners of the edge; the first run starts at one, and S says so. */
START_TEST(corners_and_the_first_run) {
    piece p;
    piece_maple_tray(&p);
    static show_spot list[SHOW_SPOTS_MOST];
    bw_box box = bw_curve_box(p.plan->edge);
    bool any = false;
    for (size_t band = 0; band < p.plan->band_count; band++) {
        const bw_band_plan *made = &p.plan->bands[band];
        size_t count = spots_of(&p.project, p.plan, band, list), corners = 0;
        if (made->fill == BW_FILL_PLAIN || made->runs[0].closed)
            continue;
        any = true;
        for (size_t i = 0; i < count; i++)
            corners += list[i].mark == 'C';
        ck_assert_uint_eq(corners, made->run_count);
        double x = fmin(list[0].at.x - box.left, box.right - list[0].at.x);
        double y = fmin(list[0].at.y - box.bottom, box.top - list[0].at.y);
        ck_assert_double_le(x, 1e-3);
        ck_assert_double_le(y, 1e-3);
        ck_assert_ptr_nonnull(strstr(list[0].words.text, "the first run starts"));
        ck_assert_ptr_nonnull(strstr(list[0].words.text, "corner"));
    }
    ck_assert(any);
    piece_end(&p);
}
END_TEST

/* All letters drawn are told of, in a window with room for the words. */
START_TEST(every_mark_is_in_the_legend) {
    piece p;
    piece_makers[_i](&p);
    static show_spot list[SHOW_SPOTS_MOST];
    for (size_t band = 0; band < p.plan->band_count; band++) {
        show_sight sight = {0};
        show_view view = piece_view(&p, band);
        view.sight = &sight;
        size_t count = spots_of(&p.project, p.plan, band, list);
        char *text = show_legend_text(&view);
        ck_assert_ptr_nonnull(text);
        for (size_t i = 0; i < count; i++) {
            bool digit = list[i].mark >= '1' && list[i].mark <= '9';
            char wanted[8];
            snprintf(wanted, sizeof wanted, "\n%c ", digit ? '1' : list[i].mark);
            ck_assert_msg(strstr(text, wanted) != NULL, "no %c in\n%s", list[i].mark, text);
            ck_assert_msg(strstr(text, list[i].words.text) != NULL, "no %s in\n%s", list[i].words.text, text);
        }
        free(text);
    }
    piece_end(&p);
}
END_TEST

/* ---- laid straight and seam ---- */

/* The columns between two numbers of a row are their distance at the scale told. */
START_TEST(straight_keeps_its_scale) {
    piece p;
    piece_cedar_lid(&p);
    for (int closer = 0; closer <= SHOW_CLOSER_MOST; closer++) {
        show_sight sight = {.closer = closer};
        show_view view = piece_view(&p, 1);
        view.sight = &sight;
        double step = p.plan->bands[1].runs[0].step, usual = p.plan->bands[1].usual;
        int page = 0;
        show_grid grid;
        ck_assert(show_grid_init(&grid, 200, 30, false));
        show_straight(&grid, (show_rect){0, 0, 200, 30}, &view, &page);
        ck_assert_double_eq_tol(sight.drawn, fmin(usual / (4 << closer), p.plan->bands[1].guide_length / 192), 1e-6);
        char *text = show_grid_text(&grid), *row = strstr(text, "row -1");
        ck_assert_ptr_nonnull(row);
        char line[256];
        snprintf(line, sizeof line, "%.*s", (int)strcspn(row, "\n"), row);
        char *first = strpbrk(line + 8, "13");
        char *three = first ? strpbrk(first + 1, "35") : NULL;
        ck_assert_msg(first && three, "%s", line);
        ck_assert_double_le(fabs((double)(three - first) * sight.drawn - 2 * step), 2 * sight.drawn);
        free(text);
        show_grid_free(&grid);
    }
    piece_end(&p);
}
END_TEST

START_TEST(seam_keeps_its_scale) {
    piece p;
    piece_cedar_lid(&p);
    double before = 0;
    for (int closer = 0; closer <= SHOW_CLOSER_MOST; closer++) {
        show_sight sight = {.closer = closer};
        show_view view = piece_view(&p, 1);
        view.sight = &sight;
        show_grid grid;
        ck_assert(show_grid_init(&grid, 120, 40, false));
        show_seam(&grid, (show_rect){0, 0, 120, 40}, &view);
        ck_assert_double_gt(sight.drawn, 0);
        if (closer > 0) /* about half as much, as lines fall on cells */
            ck_assert_double_le(fabs(before / sight.drawn - 2), 0.7);
        before = sight.drawn;
        show_grid_free(&grid);
    }
    piece_end(&p);
}
END_TEST

Suite *show_look_suite(void) {
    Suite *suite = suite_create("show/look");
    TCase *tests = tcase_create("look");
    tcase_set_timeout(tests, 120); /* many drawings, slow builds */
    tcase_add_loop_test(tests, scale_told_is_scale_drawn, 0, SIZES);
    tcase_add_loop_test(tests, scales_are_round, 0, 2);
    tcase_add_test(tests, a_part_is_all_there_and_nothing_else);
    tcase_add_loop_test(tests, any_sight_stays_in_its_window, 0, (int)piece_maker_count);
    tcase_add_loop_test(tests, dots_lie_on_the_line, 0, 2);
    tcase_add_test(tests, the_band_in_hand_stands_out);
    tcase_add_loop_test(tests, failing_places_are_those_of_the_profile, 0, (int)piece_maker_count);
    tcase_add_test(tests, tightest_and_widest_are_what_they_say);
    tcase_add_test(tests, corners_and_the_first_run);
    tcase_add_loop_test(tests, every_mark_is_in_the_legend, 0, (int)piece_maker_count);
    tcase_add_test(tests, straight_keeps_its_scale);
    tcase_add_test(tests, seam_keeps_its_scale);
    suite_add_tcase(suite, tests);
    return suite;
}
