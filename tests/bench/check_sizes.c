/* check_sizes.c - every screen in windows of every size, with and without UTF-8, of pieces with names that nobody
 * expects: nothing falls, nothing unsafe gets into a cell, and the cursor rests on what is selected, where a screen
 * reader looks for it. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/hands.h"
#include "bench/inner.h"
#include "bench/ways.h"

Suite *bench_sizes_suite(void);

static const bench_size sizes[] = {{20, 5}, {60, 18}, {80, 24}, {120, 40}, {200, 60}, {500, 200}, {1, 1}, {19, 4}};
enum { SIZES = sizeof sizes / sizeof sizes[0] };

static const show_cell *cell(const show_grid *grid, int x, int y) {
    return &grid->cells[(size_t)y * (size_t)grid->width + (size_t)x];
}

/* No byte that a terminal could act on; the right half of a wide character only behind its left one; ASCII alone where
 * the locale has no more. */
static const char *fault_of(const show_grid *grid, int x, int y) {
    const show_cell *one = cell(grid, x, y);
    if ((one->code > 0 && one->code < ' ') || (one->code >= 0x7F && one->code < 0xA0)) {
        return "a control character";
    }
    if (one->code >= 0x202A && one->code <= 0x202E) {
        return "text that runs the other way";
    }
    if (one->code == 0 && (x == 0 || cell(grid, x - 1, y)->code < 0x1100)) {
        return "half a character";
    }
    if (!grid->unicode && (one->code >= 0x7F || one->mark != 0)) {
        return "more than ASCII";
    }
    return one->mark != 0 && one->mark < 0x300 ? "a mark that is none" : NULL;
}

static void is_safe(const show_grid *grid, const char *what) {
    for (int y = 0; y < grid->height; y++) {
        for (int x = 0; x < grid->width; x++) {
            const char *fault = fault_of(grid, x, y);
            if (fault != NULL) { /* not asserted for every cell: each assertion is written to a file */
                ck_abort_msg("%s: %s at %d,%d", what, fault, x, y);
            }
        }
    }
}

/* Where one of several is selected, a `>` or brackets mark it. */
static bool marks_its_choice(bench_screen screen) {
    static const bench_screen plain[] = {BENCH_ROUND, BENCH_STRIKES, BENCH_LOOK,  BENCH_READ,
                                         BENCH_ASK,   BENCH_LEFT,    BENCH_THEIRS};
    for (size_t i = 0; i < sizeof plain / sizeof plain[0]; i++) {
        if (plain[i] == screen) {
            return false;
        }
    }
    return true;
}

static void cursor_rests(const show_grid *grid, bench_screen screen, const char *what) {
    ck_assert_msg(grid->cursor_x >= 0 && grid->cursor_y >= 0 && grid->cursor_x < grid->width &&
                      grid->cursor_y < grid->height,
                  "%s: the cursor is at %d,%d", what, grid->cursor_x, grid->cursor_y);
    if (!marks_its_choice(screen)) {
        return;
    }
    int left = grid->cursor_x > 0 ? grid->cursor_x - 1 : 0;
    bool marked = cell(grid, left, grid->cursor_y)->code == '['; /* of two side by side */
    for (int x = 0; x < grid->cursor_x; x++) {
        marked = marked || cell(grid, x, grid->cursor_y)->code == '>';
    }
    ck_assert_msg(marked, "%s: the cursor is on line %d, where nothing is selected", what, grid->cursor_y);
}

static void look_at(bench *b, bench_size size, bool unicode, const char *keys) {
    char what[120];
    show_grid grid;
    bench_screen screen = bench_where(b);
    snprintf(what, sizeof what, "screen %d at %dx%d after '%s'%s", screen, size.width, size.height, keys,
             unicode ? "" : " without UTF-8");
    ck_assert(show_grid_init(&grid, size.width, size.height, unicode));
    bench_draw(b, &grid);
    is_safe(&grid, what);
    if (size.width >= 20 && size.height >= 5) {
        cursor_rests(&grid, screen, what);
    }
    for (size_t i = 0; i < b->spot_count; i++) {
        const bench_spot *spot = &b->spots[i];
        ck_assert_msg(spot->x >= 0 && spot->x < size.width && spot->y >= 0 && spot->y < size.height,
                      "%s: what can be clicked is outside", what);
    }
    show_grid_free(&grid);
}

static void at_every_size(const way *one) {
    static const char *const then[] = {"", "Down", "End", "Up"};
    for (size_t i = 0; i < SIZES; i++) {
        bench *b = ways_come(one, NULL);
        for (size_t k = 0; k < sizeof then / sizeof then[0]; k++) {
            hands_press(b, then[k]);
            look_at(b, sizes[i], true, then[k]);
            look_at(b, sizes[i], false, then[k]);
            look_at(b, sizes[i], true, "again");
        }
        bench_destroy(b);
    }
}

START_TEST(every_screen_at_every_size) {
    size_t count;
    at_every_size(&ways_all(&count)[_i]);
}
END_TEST

/* Escape bytes, letters on letters, wide letters, text that would run the other way. */
START_TEST(names_that_nobody_expects) {
    size_t count;
    const way *one = &ways_all(&count)[_i];
    static const char odd[] = "bandwright-project: 1\n"
                              "piece: \"A\\e[2Jb\\u0301\\u9769\\u202ec\\n\\x07 and on and on and on and on\"\n"
                              "outline: {shape: circle, diameter: 120}\n"
                              "bands:\n"
                              "  - {name: \"o\\u0327\", width: 4}\n"
                              "  - {name: \"\\u9769\\u9769e\\u0301\", width: 21, fill: basket, tool: \"\\u9769\"}\n"
                              "  - {note: \"\\e]0;x\\a\", name: \"b\\u0327\", space: 3, fill: stitch, tool: i}\n"
                              "tools:\n"
                              "  - {id: \"\\u9769\", kind: basket, length: 9, width: 4, name: \"\\e[31m\"}\n"
                              "  - {id: i, kind: iron, pitch: 3.3}\n";
    for (size_t i = 0; i < SIZES; i++) {
        bench *b = ways_come(one, odd);
        look_at(b, sizes[i], true, "odd names");
        look_at(b, sizes[i], false, "odd names");
        bench_destroy(b);
    }
}
END_TEST

/* A new screen belongs here. */
START_TEST(every_screen_has_a_way) {
    size_t count;
    const way *all = ways_all(&count);
    for (int screen = 0; screen < BENCH_SCREENS; screen++) {
        size_t found = 0;
        for (size_t i = 0; i < count; i++) {
            found += (int)all[i].screen == screen;
        }
        ck_assert_msg(found > 0, "there is no way to screen %d", screen);
    }
}
END_TEST

/* Blanks and line ends as nothing: how a text was broken does not matter. */
static char *without_blanks(const char *text) {
    char *out = strdup(text), *to = out;
    ck_assert_ptr_nonnull(out);
    for (; *text != '\0'; text++) {
        if (*text != ' ' && *text != '\n') {
            *to++ = *text;
        }
    }
    *to = '\0';
    return out;
}

/* A long message is there whole where it has room, and says where it is cut; the line of what is in hand or typed stays
 * in sight, and where there is room so do the keys. */
START_TEST(long_messages_are_seen) {
    static const char *const keys[] = {"", "Enter \"abc\"", "S"};
    static const char message[] =
        "a message of a length that no narrow window holds in a line of its own, with a reason "
        "and with a way out, as refused values have them";
    bench *b = hands_open("cedar-lid.yaml");
    hands_press(b, keys[_i]);
    char *wanted = without_blanks(message);
    for (int width = 20; width <= 100; width += 4) {
        for (int height = 5; height <= 30; height++) {
            show_grid grid;
            ck_assert(show_grid_init(&grid, width, height, true));
            b->message[0] = '\0';
            bench_draw(b, &grid);
            show_grid before = grid;
            ck_assert(show_grid_init(&grid, width, height, true));
            snprintf(b->message, sizeof b->message, "%s", message);
            bench_draw(b, &grid);
            char *text = show_grid_text(&grid), *seen = without_blanks(text);
            ck_assert_msg(strstr(seen, wanted) != NULL || (strstr(text, " ...") != NULL && height < 14), "%dx%d:\n%s",
                          width, height, text);
            ck_assert_msg(height < 14 || strstr(text, _i == 0 ? "help" : "Enter") != NULL, "%dx%d:\n%s", width, height,
                          text);
            ck_assert_int_eq(before.cursor_y, grid.cursor_y);
            ck_assert_mem_eq(cell(&before, 0, before.cursor_y), cell(&grid, 0, grid.cursor_y),
                             (size_t)width * sizeof *grid.cells);
            free(seen);
            free(text);
            show_grid_free(&before);
            show_grid_free(&grid);
        }
    }
    free(wanted);
    bench_destroy(b);
}
END_TEST

Suite *bench_sizes_suite(void) {
    Suite *suite = suite_create("every screen at every size");
    TCase *tests = tcase_create("sizes");
    size_t count;
    (void)ways_all(&count);
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_loop_test(tests, every_screen_at_every_size, 0, (int)count);
    tcase_add_loop_test(tests, names_that_nobody_expects, 0, (int)count);
    tcase_add_test(tests, every_screen_has_a_way);
    tcase_add_loop_test(tests, long_messages_are_seen, 0, 3);
    suite_add_tcase(suite, tests);
    return suite;
}
