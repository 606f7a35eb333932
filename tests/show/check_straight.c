/* check_straight.c - the band laid straight: nothing leaves its rectangle, and what the parts show together is what the
 * plan says. */
#include <check.h>
#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/bench_pieces.h"
#include "show/inner.h"

Suite *show_straight_suite(void);

enum { MARGIN = 8, WIDTH = 60, HEIGHT = 24, LINE = 256 };

typedef struct seen {
    int parts;
    int cuts, starts, tight, wide;        /* marks, over all parts */
    int failing, bends, hollow, straight; /* columns of the bends */
    int misses, rides;                    /* columns of weave lines */
    char numbers[1000];                   /* which impressions were seen by their number */
    int holes;
} seen;

static bool band_line(const char *line, const char *label) {
    return strncmp(line, label, strlen(label)) == 0;
}

static void take_numbers(seen *s, const char *at) {
    while (*at) {
        if (!isdigit((unsigned char)*at)) {
            at++;
            continue;
        }
        char *end;
        long number = strtol(at, &end, 10);
        ck_assert_int_lt(number, 1000);
        s->numbers[number] = 1;
        at = end;
    }
}

/* Parts overlap by half: only the columns that the next part does not show are counted. */
static void take_line(seen *s, char *line, int columns) {
    if (strlen(line) > MARGIN + (size_t)columns)
        line[MARGIN + columns] = '\0';
    const char *rest = strlen(line) > MARGIN ? line + MARGIN : "";
    if (band_line(line, "bends ")) {
        for (const char *at = rest; *at; at++) {
            s->cuts += *at == '|';
            s->starts += *at == 'S';
            s->failing += *at == '!';
            s->bends += *at == '(';
            s->hollow += *at == ')';
            s->straight += *at == '-';
        }
    } else if (band_line(line, "line ")) {
        for (const char *at = rest; *at; at++) {
            s->tight += *at == 'T';
            s->wide += *at == 'W';
            s->misses += *at == '!';
            s->rides += *at == 'X';
        }
    } else if (band_line(line, "row ")) {
        take_numbers(s, rest);
        for (const char *at = rest; *at; at++)
            s->holes += *at == 'o';
    }
}

static void look_at_parts(seen *s, const piece *p, size_t band, int width) {
    memset(s, 0, sizeof *s);
    s->parts = 1;
    for (int part = 0; part < s->parts; part++) {
        show_grid grid;
        show_view view = piece_view(p, band);
        int asked = part;
        ck_assert(show_grid_init(&grid, width, HEIGHT, false));
        s->parts = show_straight(&grid, (show_rect){0, 0, width, HEIGHT}, &view, &asked);
        ck_assert_int_eq(asked, part);
        char *text = show_grid_text(&grid), *rest = NULL;
        for (char *line = strtok_r(text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
            take_line(s, line, part + 1 < s->parts ? (width - MARGIN + 1) / 2 : width);
        free(text);
        show_grid_free(&grid);
    }
}

/* Runs that begin at a corner; the ends of an open edge are none. */
static int cuts_of(const piece *p, size_t band) {
    const bw_band_plan *made = &p->plan->bands[band];
    int cuts = 0;
    for (size_t r = 0; r < made->run_count; r++)
        cuts += !made->runs[r].closed && (r > 0 || bw_curve_closed(p->plan->edge));
    return cuts;
}

static void is_true(const piece *p, size_t band, int width) {
    const bw_band_plan *made = &p->plan->bands[band];
    seen s;
    look_at_parts(&s, p, band, width);
    ck_assert_int_eq(s.cuts, cuts_of(p, band));
    ck_assert_int_eq(s.starts, made->runs[0].closed || !bw_curve_closed(p->plan->edge));
    ck_assert_int_eq(s.hollow > 0 || s.bends > 0 || s.failing > 0, made->turns);
    ck_assert_int_eq(s.failing > 0, made->fit.bend < 0);
    ck_assert_int_eq(s.tight, made->fill == BW_FILL_BASKET && show_tightest(p->plan, band) > 0);
    ck_assert_int_eq(s.wide, made->fill == BW_FILL_BASKET && show_widest(p->plan, band) > 0);
    if (made->fill == BW_FILL_STITCH) {
        ck_assert_int_eq(s.holes, (int)made->strikes);
        return;
    }
    if (made->fill == BW_FILL_BASKET) {
        ck_assert_int_eq(s.misses > 0, made->fit.reach < -1e-9);
        double ride = 0;
        for (size_t i = 0; i < made->line_count; i++)
            ride = fmax(ride, made->lines[i].overlap_most - 1);
        ck_assert_int_eq(s.rides > 0, ride > 1e-9);
    }
    /* Of numbers that would run into each other every second is told. A number that the rim of the window would cut is
     * left out: at most one on each side of a part, and of a corner.
     */
    int told = 0, all = show_impressions(p->plan, band);
    for (int i = 1; i < 1000; i++) {
        told += s.numbers[i];
        ck_assert_msg(i <= all || !s.numbers[i], "impression %d of %d", i, all);
    }
    ck_assert_msg(told >= all / 2 - 2 * s.parts - 2 * s.cuts && told > 0, "%d of %d numbers in %d parts", told, all,
                  s.parts);
}

START_TEST(the_parts_together_are_the_plan) {
    piece p;
    piece_makers[_i](&p);
    for (size_t band = 0; band < p.plan->band_count; band++)
        if (p.plan->bands[band].strikes > 0 && !p.plan->bands[band].guide_gone)
            for (int width = 40; width <= 120; width += 40)
                is_true(&p, band, width);
    piece_end(&p);
}
END_TEST

/* The radius of every bend of a rectangle's guide stands in it: 30 - 9 mm. */
START_TEST(bends_are_told_by_their_radius) {
    piece p;
    bw_outline tray = circle_of(1);
    tray.shape = BW_RECTANGLE;
    tray.length = 150;
    tray.width = 100;
    for (int i = 0; i < 4; i++)
        tray.corner[i] = 30;
    piece_start(&p, "Tray", tray);
    piece_tool(&p, "basket-s", BW_BASKET, 6, 3.2, 2, 0.9);
    piece_band(&p, "weave", BW_FILL_BASKET, "basket-s", 4, 10);
    piece_finish(&p);
    show_view view = piece_view(&p, 0);
    show_grid grid;
    int part = 0, told = 0;
    ck_assert(show_grid_init(&grid, 400, HEIGHT, false));
    ck_assert_int_eq(show_straight(&grid, (show_rect){0, 0, 400, HEIGHT}, &view, &part), 1);
    char *text = show_grid_text(&grid);
    for (const char *at = text; (at = strstr(at, "( r 21 (")) != NULL; at++)
        told++;
    ck_assert_int_eq(told, 4);
    free(text);
    show_grid_free(&grid);
    piece_end(&p);
}
END_TEST

static void stays_inside(const show_view *view, show_rect where, int part) {
    show_grid grid;
    ck_assert(show_grid_init(&grid, 90, 40, true));
    for (int i = 0; i < grid.width * grid.height; i++)
        grid.cells[i].code = '~';
    int parts = show_straight(&grid, where, view, &part);
    ck_assert_int_ge(parts, 1);
    for (int i = 0; i < grid.width * grid.height; i++) {
        int x = i % grid.width, y = i / grid.width;
        bool inside = x >= where.x && x < where.x + where.width && y >= where.y && y < where.y + where.height;
        ck_assert_msg(inside || grid.cells[i].code == '~', "a cell at %d, %d outside %dx%d", x, y, where.width,
                      where.height);
    }
    show_grid_free(&grid);
}

START_TEST(nothing_leaves_its_rectangle) {
    static const show_rect rects[] = {{5, 5, 1, 1},      {5, 5, 30, 5},  {5, 5, 31, 6}, {5, 5, 70, 1},
                                      {5, 5, 0, 0},      {0, 0, 90, 40}, {7, 3, 40, 7}, {60, 30, 80, 80},
                                      {-20, -5, 60, 20}, {30, 10, 36, 9}};
    piece p;
    piece_makers[_i](&p);
    for (size_t band = 0; band <= p.plan->band_count; band++)
        for (size_t r = 0; r < sizeof rects / sizeof *rects; r++)
            for (int part = -1; part < 200; part += 67) {
                show_view view = piece_view(&p, band);
                view.impression = part == 66 ? show_impressions(p.plan, band) : 0;
                stays_inside(&view, rects[r], part);
            }
    piece_end(&p);
}
END_TEST

/* An impression in hand brings its part into view. */
START_TEST(the_impression_in_hand_is_seen) {
    piece p;
    piece_beech_oval(&p);
    show_view view = piece_view(&p, 1);
    int all = show_impressions(p.plan, 1);
    for (int i = 1; i <= all; i += 7) {
        show_grid grid;
        int part = 0;
        view.impression = i;
        ck_assert(show_grid_init(&grid, WIDTH, HEIGHT, false));
        int parts = show_straight(&grid, (show_rect){0, 0, WIDTH, HEIGHT}, &view, &part);
        bw_placing at;
        ck_assert(show_impression_place(&p.project, p.plan, 1, i, &at));
        /* Between a quarter and three quarters of the window, but for the ends of the guide. */
        double column = p.plan->bands[1].usual / 4, from = part * column * (WIDTH - MARGIN) / 2;
        double share = (at.along - from) / (column * (WIDTH - MARGIN));
        ck_assert(part == 0 || share >= 0.25 - 1e-9);
        ck_assert(part + 1 == parts || share <= 0.75 + 1e-9);
        ck_assert_int_lt(part, parts);
        show_grid_free(&grid);
    }
    piece_end(&p);
}
END_TEST

Suite *show_straight_suite(void) {
    Suite *suite = suite_create("show: the band laid straight");
    TCase *tests = tcase_create("straight");
    tcase_set_timeout(tests, 120);
    tcase_add_loop_test(tests, the_parts_together_are_the_plan, 0, (int)piece_maker_count);
    tcase_add_loop_test(tests, nothing_leaves_its_rectangle, 0, (int)piece_maker_count);
    tcase_add_test(tests, bends_are_told_by_their_radius);
    tcase_add_test(tests, the_impression_in_hand_is_seen);
    suite_add_tcase(suite, tests);
    return suite;
}
