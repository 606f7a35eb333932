/* check_marks.c - what is wrong is marked where it is, for every band: in the piece, in the band laid straight, at the
 * seam and in the legend. Places are compared with the profile's and with the distances of the placings. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/bench_pieces.h"
#include "show/inner.h"

Suite *show_marks_suite(void);

static show_spot list[SHOW_MARKS_MOST], own_list[SHOW_SPOTS_MOST];

static size_t marks_of(const piece *p, size_t in_hand) {
    size_t count = show_marks(&p->project, p->plan, in_hand, list, SHOW_MARKS_MOST);
    ck_assert_uint_le(count, SHOW_MARKS_MOST);
    return count;
}

/* A tray whose rim and inner edge take corners too tightly for their stamps; the weave between them works. */
static void tight_corners(piece *p) {
    bw_outline tray;
    bw_layout layout;
    bw_layout_init(&layout);
    tray = layout.outline;
    tray.shape = BW_RECTANGLE;
    tray.length = 200;
    tray.width = 140;
    for (int i = 0; i < 4; i++)
        tray.corner[i] = 26;
    piece_start(p, "Tray with tight corners", tray);
    piece_tool(p, "basket-xs", BW_BASKET, 6, 3.2, 2, 0.9);
    piece_tool(p, "broad", BW_BORDER, 12, 9, 0, 0);
    piece_band(p, "rim", BW_FILL_BORDER, "broad", 3, 9);
    piece_band(p, "weave", BW_FILL_BASKET, "basket-xs", 0, 5);
    piece_band(p, "inner", BW_FILL_BORDER, "broad", 0, 9);
    piece_finish(p);
}

static bool is_fault(char mark) {
    return strchr("SsTW", mark) == NULL;
}

/* ---- which there are ---- */

/* First all that is worth a look in the band in hand, then of the others what is wrong, whichever band is in hand. */
START_TEST(all_bands_are_marked) {
    piece p;
    piece_makers[_i](&p);
    for (size_t hand = 0; hand < p.plan->band_count; hand++) {
        size_t count = marks_of(&p, hand), own = 0;
        while (own < count && list[own].band == hand)
            own++;
        for (size_t i = own; i < count; i++)
            ck_assert_msg(list[i].band != hand && is_fault(list[i].mark), "%c %s", list[i].mark, list[i].words.text);
        for (size_t band = 0; band < p.plan->band_count; band++) {
            size_t wanted = show_spots(&p.project, p.plan, band, own_list, SHOW_SPOTS_MOST), found = 0, faults = 0;
            for (size_t i = 0; i < wanted; i++)
                faults += band == hand || is_fault(own_list[i].mark);
            for (size_t i = 0; i < count; i++)
                found += list[i].band == band && strchr("uJ", list[i].mark) == NULL;
            ck_assert_uint_eq(found, faults);
        }
    }
    piece_end(&p);
}
END_TEST

/* ---- the piece ---- */

/* Wherever another band fails there is a '!' in a cell beside the place, and the legend names the band. */
START_TEST(others_fail_where_they_do) {
    piece p;
    tight_corners(&p);
    for (size_t hand = 0; hand < p.plan->band_count; hand++) {
        show_sight sight = {.scale = 1};
        show_view view = piece_view(&p, hand);
        view.sight = &sight;
        size_t count = marks_of(&p, hand), others = 0;
        for (size_t i = 0; i < count; i++) {
            if (list[i].mark != '!')
                continue;
            others += list[i].band != hand;
            show_grid grid;
            ck_assert(show_grid_init(&grid, 80, 24, false));
            sight.middle = list[i].at;
            show_preview(&grid, (show_rect){0, 0, 80, 24}, &view);
            int lines = (int)lround(sight.height / (sight.drawn * view.cell_aspect)), found = 0;
            int x = (int)((list[i].at.x - sight.middle.x + sight.width / 2) / sight.drawn);
            int y = (int)((sight.middle.y + sight.height / 2 - list[i].at.y) / (sight.drawn * view.cell_aspect));
            for (int line = 0; line < lines; line++)
                for (int column = 0; column < 80; column++)
                    found += abs(line - y) <= 2 && abs(column - x) <= 4 && grid.cells[line * 80 + column].code == '!';
            ck_assert_msg(found > 0, "%s, looked for at %d,%d", list[i].words.text, x, y);
            show_grid_free(&grid);
        }
        ck_assert_uint_ge(others, 4); /* the corners of one or two bands */
        char *text = show_legend_text(&view);
        ck_assert(hand == 0 || strstr(text, "rim, ! fails in") != NULL);
        ck_assert(hand == 2 || strstr(text, "inner, ! fails in") != NULL);
        ck_assert(hand != 1 || strstr(text, "\n! rim: the bend is too tight") != NULL);
        free(text);
    }
    piece_end(&p);
}
END_TEST

/* Those of the band in hand stand closer and bolder. */
START_TEST(the_band_in_hand_is_marked_most) {
    piece p;
    tight_corners(&p);
    size_t cells[2] = {0}, bold[2] = {0};
    for (size_t hand = 0; hand < 2; hand++) { /* the rim, then the weave: only then the rim is another's */
        show_sight sight = {.scale = 0.5, .middle = {8, 8}};
        show_view view = piece_view(&p, hand);
        view.sight = &sight;
        show_grid grid;
        ck_assert(show_grid_init(&grid, 120, 40, false));
        show_preview(&grid, (show_rect){0, 0, 120, 30}, &view);
        int lines = (int)lround(sight.height / (sight.drawn * view.cell_aspect));
        for (int i = 0; i < 120 * lines; i++)
            if (grid.cells[i].code == '!') {
                cells[hand]++;
                bold[hand] += (grid.cells[i].look & SHOW_BOLD) != 0;
            }
        show_grid_free(&grid);
    }
    ck_assert_uint_gt(cells[1], 0);
    ck_assert_uint_gt(bold[0], bold[1]);
    ck_assert_uint_gt(cells[0], cells[1]);
    piece_end(&p);
}
END_TEST

/* ---- laid straight, and the seam ---- */

static bool has_line(const show_grid *grid, int from, int lines, char mark) {
    for (int i = grid->width * from; i < grid->width * (from + lines); i++)
        if (grid->cells[i].code == (unsigned char)mark)
            return true;
    return false;
}

static bool has_words(const show_grid *grid, const char *words) {
    for (int y = 0; y < grid->height; y++) {
        char line[256] = "";
        for (int x = 0; x < grid->width && x < 255; x++)
            line[x] = (char)grid->cells[y * grid->width + x].code;
        if (strstr(line, words) != NULL)
            return true;
    }
    return false;
}

/* In the weave, which works: the line of the others has a '!' in the parts where the rim fails and nowhere else. */
START_TEST(others_beside_the_band_laid_straight) {
    piece p;
    tight_corners(&p);
    show_sight sight = {0};
    show_view view = piece_view(&p, 1);
    view.sight = &sight;
    int marked = 0, clean = 0, pages = 1;
    for (int page = 0; page < pages; page++) {
        show_grid grid;
        int at = page;
        ck_assert(show_grid_init(&grid, 80, 24, false));
        pages = show_straight(&grid, (show_rect){0, 0, 80, 24}, &view, &at);
        ck_assert(has_words(&grid, "others"));
        bool named = has_words(&grid, "rim: ! fails");
        int line = 0;
        while (grid.cells[line * 80].code != 'o')
            line++;
        ck_assert_int_eq(has_line(&grid, line, 1, '!'), named);
        marked += named;
        clean += !named;
        show_grid_free(&grid);
    }
    ck_assert_int_gt(marked, 0);
    ck_assert_int_gt(clean, 0);
    piece_end(&p);
}
END_TEST

/* Impression by impression: where the rim lies beside the one in the middle and fails, the seam view says it. */
START_TEST(others_beside_the_seam) {
    piece p;
    tight_corners(&p);
    show_sight sight = {0};
    show_view view = piece_view(&p, 1);
    view.sight = &sight;
    int marked = 0, clean = 0;
    for (int i = 1; i <= show_impressions(p.plan, 1); i += 3) {
        show_grid grid;
        view.impression = i;
        ck_assert(show_grid_init(&grid, 80, 24, false));
        show_seam(&grid, (show_rect){0, 0, 80, 24}, &view);
        bool named = has_words(&grid, "rim: ! fails");
        ck_assert_int_eq(has_line(&grid, 24 - 4, 1, '!'), named || has_words(&grid, "inner: ! fails"));
        marked += named;
        clean += !named;
        show_grid_free(&grid);
    }
    ck_assert_int_gt(marked, 0);
    ck_assert_int_gt(clean, 0);
    piece_end(&p);
}
END_TEST

/* ---- steps that are not as usual ---- */

/* The steps of a row as they are struck, in order along the guide. */
static size_t steps_of(const piece *p, double *from, double *step, size_t room) {
    bw_placing *placings;
    size_t count;
    ck_assert_int_eq(bw_placings_create(p->plan, 0, NULL, &placings, &count), BW_OK);
    ck_assert_uint_le(count, room);
    double length = p->plan->bands[0].guide_length;
    for (size_t i = 0; i < count; i++) {
        double next = placings[(i + 1) % count].along;
        from[i] = placings[i].along;
        step[i] = next - from[i] + (next < from[i] ? length : 0);
    }
    bw_placings_release(placings, NULL);
    return count;
}

static double away(double a, double b, double length) {
    double way = fmod(fabs(a - b), length);
    return fmin(way, length - way);
}

/* Anchored on a rectangle: each stretch has its own count; or lost in the last few of a round: so that steps differ by
 * more than is unseen. */
static bool jumps_and_strays(piece *p, bw_lose lose, double size) {
    bw_layout layout;
    bw_layout_init(&layout);
    bw_outline o = layout.outline;
    o.shape = BW_RECTANGLE;
    o.length = size;
    o.width = size * 0.6;
    for (int i = 0; i < 4; i++)
        o.corner[i] = 20;
    piece_start(p, "Cover", lose == BW_LOSE_ANCHORED ? o : circle_of(size));
    piece_tool(p, "leaf", BW_BORDER, 9, 5, 0, 0)->give = 0.2;
    bw_band *rim = piece_band(p, "rim", BW_FILL_BORDER, "leaf", 3, 6);
    rim->lose = lose;
    rim->lose_last = 3;
    piece_finish(p);
    unsigned kinds = 0;
    for (size_t i = 0; i < p->plan->warning_count; i++)
        kinds |= 1u << p->plan->warnings[i].kind;
    return (kinds & 1u << BW_WARN_STRETCH) != 0 && (kinds & 1u << BW_WARN_JUMP) != 0;
}

START_TEST(steps_off_the_usual_and_jumps) {
    piece p;
    double size = 80, from[200], step[200];
    while (!jumps_and_strays(&p, _i ? BW_LOSE_LAST : BW_LOSE_ANCHORED, size)) {
        piece_end(&p);
        ck_assert_double_lt(size += 1, 200);
    }
    double length = p.plan->bands[0].guide_length, usual = p.plan->bands[0].usual;
    size_t steps = steps_of(&p, from, step, 200), count = marks_of(&p, 0), jumps = 0, found = 0, off = 0;
    for (size_t i = 0; i < count; i++)
        found += list[i].mark == 'J';
    for (size_t i = 0; i < steps; i++) {
        bool strays = fabs(step[i] - usual) > BW_VISIBLE_CHANGE * usual + 1e-6, marked = false, told = false;
        double middle = fmod(from[i] + step[i] / 2, length);
        bool jump = fabs(step[(i + 1) % steps] - step[i]) > BW_VISIBLE_JUMP + 1e-6;
        for (size_t k = 0; k < count; k++) {
            marked = marked || (list[k].mark == 'u' && middle >= list[k].from - 1e-3 && middle <= list[k].to + 1e-3);
            told =
                told || (list[k].mark == 'J' && away(list[k].along, from[(i + 1) % steps], length) < usual / 2 + 0.1);
        }
        jumps += jump;
        off += strays;
        ck_assert_msg(!strays || marked, "the step of %g mm from %g mm on is not marked", step[i], from[i]);
        ck_assert_msg(!jump || told, "the jump at %g mm is not marked", from[(i + 1) % steps]);
    }
    ck_assert_uint_gt(off, 0);
    ck_assert_uint_gt(jumps, 0);
    ck_assert_uint_eq(found, jumps);
    piece_end(&p);
    /* On an even round there are none. */
    piece_cedar_lid(&p);
    count = marks_of(&p, 1);
    for (size_t i = 0; i < count; i++)
        ck_assert_msg(strchr("uJ", list[i].mark) == NULL, "%s", list[i].words.text);
    piece_end(&p);
}
END_TEST

/* ---- a row of stitches cut at corners ---- */

/* Both ends are drawn with a hole in the corner each: the last of the run is the first of the next. */
START_TEST(holes_in_corners_are_at_the_seam) {
    piece p;
    bw_layout layout;
    bw_layout_init(&layout);
    bw_outline o = layout.outline;
    o.shape = BW_RECTANGLE;
    o.length = 120;
    o.width = 80;
    piece_start(&p, "Flap", o);
    piece_tool(&p, "iron-4", BW_IRON, 4, 0, 0, 0);
    piece_band(&p, "stitching", BW_FILL_STITCH, "iron-4", 4, 0);
    piece_finish(&p);
    show_view view = piece_view(&p, 0);
    for (int i = 0; i <= show_impressions(p.plan, 0); i++) {
        show_grid grid;
        int holes[2] = {0};
        view.impression = i;
        ck_assert(show_grid_init(&grid, 81, 12, false));
        show_seam(&grid, (show_rect){0, 0, 81, 10}, &view);
        for (int y = 0; y < 8; y++)
            for (int x = 0; x < 81; x++)
                if (grid.cells[y * 81 + x].code == 'o')
                    holes[x > 40]++;
        ck_assert_msg(holes[0] + holes[1] >= 2, "impression %d: %d holes", i, holes[0] + holes[1]);
        ck_assert(i > 0 || (holes[0] >= 3 && holes[1] >= 3));
        show_grid_free(&grid);
    }
    piece_end(&p);
}
END_TEST

Suite *show_marks_suite(void) {
    Suite *suite = suite_create("show: marks of all bands");
    TCase *tests = tcase_create("marks");
    tcase_set_timeout(tests, 60);
    tcase_add_loop_test(tests, all_bands_are_marked, 0, (int)piece_maker_count);
    tcase_add_test(tests, others_fail_where_they_do);
    tcase_add_test(tests, the_band_in_hand_is_marked_most);
    tcase_add_test(tests, others_beside_the_band_laid_straight);
    tcase_add_test(tests, others_beside_the_seam);
    tcase_add_loop_test(tests, steps_off_the_usual_and_jumps, 0, 2);
    tcase_add_test(tests, holes_in_corners_are_at_the_seam);
    suite_add_tcase(suite, tests);
    return suite;
}
