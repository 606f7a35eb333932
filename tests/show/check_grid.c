/* check_grid.c - cells: nothing outside the grid, nothing in it that a terminal could act on, widths that do not depend
 * on the locale. Widths are compared with the C library's own in a UTF-8 locale, which knows nothing of ours. */
#include <check.h>
#include <locale.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

#include "show/inner.h"

Suite *show_grid_suite(void);

/* Characters that a terminal acts on or that reorder or hide text: C0, DEL, C1, surrogates, the bidirectional and
 * invisible ones of Unicode's general category Cf, line and paragraph separators, the byte order mark. */
static bool dangerous(uint32_t code) {
    return code < 0x20 || (code >= 0x7F && code < 0xA0) || code == 0x61C || (code >= 0x200B && code <= 0x200F) ||
           (code >= 0x2028 && code <= 0x202E) || (code >= 0x2060 && code <= 0x206F) || code == 0xFEFF ||
           (code >= 0xD800 && code <= 0xDFFF) || (code >= 0xFFF9 && code <= 0xFFFB) ||
           (code >= 0xE0000 && code <= 0xE007F) || code > 0x10FFFF;
}

static bool dirty(const show_grid *grid, int i) {
    const show_cell *cell = &grid->cells[i];
    if (cell->code == 0)
        return i % grid->width == 0 || cell[-1].code < 0x80; /* half of nothing */
    return dangerous(cell->code) || (cell->mark != 0 && dangerous(cell->mark));
}

static void assert_clean(const show_grid *grid) {
    for (int i = 0; i < grid->width * grid->height; i++)
        if (dirty(grid, i))
            ck_abort_msg("cell %d holds U+%04X marked U+%04X", i, (unsigned)grid->cells[i].code,
                         (unsigned)grid->cells[i].mark);
}

/* The grid's text, compared and let go. */
static void assert_text(const show_grid *grid, const char *wanted) {
    char *text = show_grid_text(grid);
    ck_assert_str_eq(text, wanted);
    free(text);
}

START_TEST(sizes_are_clamped) {
    static const struct {
        int width, height, wide, high;
    } rows[] = {{1, 1, 1, 1}, {500, 200, 500, 200}, {0, -7, 1, 1}, {100000, 100000, 1000, 1000}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        show_grid grid;
        ck_assert(show_grid_init(&grid, rows[i].width, rows[i].height, true));
        ck_assert_int_eq(grid.width, rows[i].wide);
        ck_assert_int_eq(grid.height, rows[i].high);
        show_put(&grid, rows[i].wide - 1, rows[i].high - 1, -1, SHOW_BOLD, "xyz");
        ck_assert_uint_eq(grid.cells[rows[i].wide * rows[i].high - 1].code, 'x');
        ck_assert_int_eq(grid.cursor_x, -1);
        show_grid_free(&grid);
    }
}
END_TEST

START_TEST(text_is_cut_where_it_ends) {
    show_grid grid;
    ck_assert(show_grid_init(&grid, 10, 3, true));
    ck_assert_int_eq(show_put(&grid, 7, 0, -1, 0, "edges"), 3);
    ck_assert_int_eq(show_put(&grid, 0, 1, 4, 0, "leather"), 4);
    ck_assert_int_eq(show_put(&grid, -3, 2, -1, 0, "leather"), 7);
    show_put(&grid, 0, 3, -1, 0, "below");
    show_put(&grid, 0, -1, -1, 0, "above");
    show_put(&grid, 10, 0, -1, 0, "beside");
    assert_text(&grid, "       edg\nleat\nther\n");
    show_clear(&grid);
    assert_text(&grid, "\n\n\n");
    show_grid_free(&grid);
}
END_TEST

START_TEST(unsafe_bytes_never_get_in) {
    static const char *const hostile[] = {"\x1b]0;title\a",
                                          "a\x9b"
                                          "2Jb",
                                          "\xc2\x9b"
                                          "31m",
                                          "abc\xe2\x80\xae"
                                          "cba",
                                          "zero\xe2\x80\x8bwidth",
                                          "\xff\xfe\xc0\xaf",
                                          "tail \xe2\x80",
                                          "\xed\xa0\x80",
                                          "bell\a back\b tab\t cr\r nl\n",
                                          "\xef\xbb\xbfmark",
                                          "\xe2\x81\xa6iso\xe2\x81\xa9",
                                          "\xf4\x90\x80\x80 over"};
    show_grid grid;
    ck_assert(show_grid_init(&grid, 40, 12, true));
    for (size_t i = 0; i < sizeof hostile / sizeof *hostile; i++) {
        ck_assert_int_gt(show_put(&grid, 0, (int)i, -1, 0, hostile[i]), 0);
        show_wrap(&grid, (show_rect){20, (int)i, 20, 1}, 0, hostile[i]);
    }
    assert_clean(&grid);
    char *text = show_grid_text(&grid);
    ck_assert_ptr_nonnull(strstr(text, "\\x1B]0;title\\x07"));
    ck_assert_ptr_nonnull(strstr(text, "\\u202E"));
    free(text);
    show_grid_free(&grid);
}
END_TEST

START_TEST(no_code_point_is_trusted) {
    show_grid grid;
    ck_assert(show_grid_init(&grid, 4, 1, true));
    for (uint32_t code = 0; code < 0x30000; code += code < 0x3000 ? 1 : 5) {
        char raw[5];
        show_cell_put(&grid, 1, 0, code, 0);
        assert_clean(&grid);
        if (code > 0 && (code < 0xD800 || code > 0xDFFF)) {
            show_encode(code, raw);
            show_put(&grid, 0, 0, -1, 0, raw);
            assert_clean(&grid);
        }
    }
    static const uint32_t high[] = {0xE0001, 0xE0041, 0x10FFFF, 0x110000, 0xFFFFFFFF};
    for (size_t i = 0; i < sizeof high / sizeof *high; i++) {
        show_cell_put(&grid, 1, 0, high[i], 0);
        assert_clean(&grid);
    }
    show_grid_free(&grid);
}
END_TEST

/* Scripts that a maker's notes may hold, against the C library. */
START_TEST(widths_are_those_of_the_c_library) {
    static const uint32_t ranges[][2] = {{0x20, 0x7E},     {0xA1, 0xAC},       {0xAE, 0x377},      {0x391, 0x3A1},
                                         {0x400, 0x481},   {0x483, 0x52F},     {0x5D0, 0x5EA},     {0x0E01, 0x0E3A},
                                         {0x3041, 0x3096}, {0x30A0, 0x30FF},   {0x4E00, 0x4FFF},   {0xAC00, 0xACFF},
                                         {0xFF01, 0xFF60}, {0x1F600, 0x1F64F}, {0x20000, 0x200FF}, {0x2500, 0x257F}};
    ck_assert_msg(setlocale(LC_CTYPE, "C.UTF-8") != NULL, "the C library has no C.UTF-8");
    for (size_t r = 0; r < sizeof ranges / sizeof *ranges; r++)
        for (uint32_t code = ranges[r][0]; code <= ranges[r][1]; code++)
            ck_assert_msg(show_code_width(code) == wcwidth((wchar_t)code), "U+%04X takes %d, the C library says %d",
                          (unsigned)code, show_code_width(code), wcwidth((wchar_t)code));
    setlocale(LC_CTYPE, "C");
    ck_assert_int_eq(show_code_width(0x4E00), 2);
    ck_assert_int_eq(show_text_width("b\xc3\xa4nd \xe7\x9a\xae e\xcc\x81"), 9);
}
END_TEST

START_TEST(wide_and_combining_characters) {
    show_grid grid;
    ck_assert(show_grid_init(&grid, 6, 1, true));
    ck_assert_int_eq(show_put(&grid, 0, 0, -1, 0, "\xe7\x9a\xae\xe9\x9d\xa9"), 4);
    ck_assert_uint_eq(grid.cells[0].code, 0x76AE);
    ck_assert_uint_eq(grid.cells[1].code, 0);
    show_put(&grid, 1, 0, -1, 0, "x"); /* over the right half: the left one goes too */
    ck_assert_uint_eq(grid.cells[0].code, ' ');
    show_put(&grid, 2, 0, -1, 0, "y");
    ck_assert_uint_eq(grid.cells[3].code, ' ');
    assert_text(&grid, " xy\n");
    show_clear(&grid);
    ck_assert_int_eq(show_put(&grid, 5, 0, -1, 0, "\xe7\x9a\xae"), 0); /* only half of it would fit */
    ck_assert_int_eq(show_put(&grid, 0, 0, -1, 0, "e\xcc\x81t"), 2);
    ck_assert_uint_eq(grid.cells[0].mark, 0x301);
    assert_text(&grid, "e\xcc\x81t\n");
    assert_clean(&grid);
    show_grid_free(&grid);
    ck_assert(show_grid_init(&grid, 6, 1, false));
    show_put(&grid, 0, 0, -1, 0, "\xe7\x9a\xae e\xcc\x81");
    assert_text(&grid, "? e\n");
    show_grid_free(&grid);
}
END_TEST

START_TEST(words_are_wrapped) {
    show_grid grid;
    ck_assert(show_grid_init(&grid, 20, 6, true));
    int lines = show_wrap(&grid, (show_rect){2, 1, 8, 3}, 0, "strike the guide's round unbelievably early\nthen rest");
    assert_text(&grid, "\n  strike\n  the\n  guide's\n\n\n");
    ck_assert_int_eq(lines, 9);
    ck_assert_int_eq(show_wrap(&grid, (show_rect){0, 0, 0, 3}, 0, "nowhere"), 0);
    ck_assert_int_eq(show_wrap(&grid, (show_rect){0, 0, 1, 3}, 0, "abc"), 3);
    ck_assert_int_eq(show_wrap(&grid, (show_rect){0, 0, 1, 3}, 0, "\xe7\x9a\xae\xe7\x9a\xae"), 2);
    show_grid_free(&grid);
}
END_TEST

Suite *show_grid_suite(void) {
    Suite *suite = suite_create("show: cells");
    TCase *cells = tcase_create("cells");
    tcase_add_test(cells, sizes_are_clamped);
    tcase_add_test(cells, text_is_cut_where_it_ends);
    tcase_add_test(cells, unsafe_bytes_never_get_in);
    tcase_add_test(cells, no_code_point_is_trusted);
    tcase_add_test(cells, widths_are_those_of_the_c_library);
    tcase_add_test(cells, wide_and_combining_characters);
    tcase_add_test(cells, words_are_wrapped);
    suite_add_tcase(suite, cells);
    return suite;
}
