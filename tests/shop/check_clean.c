/* check_clean.c - text from a file never reaches a terminal as it is. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "paper.h"
#include "shop/characters.h"

Suite *shop_clean_suite(void);

typedef struct row {
    const char *bytes;
    size_t length;
    const char *shown;
} row;

#define ROW(bytes, shown)                                                                                              \
    { bytes, sizeof(bytes) - 1, shown }

static const row rows[] = {
    ROW("", ""),
    ROW("plain text, 3/4\"", "plain text, 3/4\""),
    ROW("gr\xC3\xBC\xC3\x9F \xE6\x97\xA5 \xF0\x9F\x91\x9C", "gr\xC3\xBC\xC3\x9F \xE6\x97\xA5 \xF0\x9F\x91\x9C"),
    ROW("\x1B[31mred", "\\x1B[31mred"),
    ROW("a\0b", "a\\x00b"),
    ROW("a\nb\tc\rd", "a\\x0Ab\\x09c\\x0Dd"),
    ROW("\x7F", "\\x7F"),
    ROW("\xC2\x9B"
        "0m",
        "\\u009B0m"),
    ROW("\xC2\x85", "\\u0085"),
    ROW("\xE2\x80\xAA\xE2\x80\xAB\xE2\x80\xAC\xE2\x80\xAD\xE2\x80\xAE", "\\u202A\\u202B\\u202C\\u202D\\u202E"),
    ROW("\xE2\x81\xA6\xE2\x81\xA7\xE2\x81\xA8\xE2\x81\xA9", "\\u2066\\u2067\\u2068\\u2069"),
    ROW("\xE2\x80\x8E\xE2\x80\x8F\xD8\x9C", "\\u200E\\u200F\\u061C"),
    ROW("\xE2\x80\x8B\xE2\x80\x8C\xE2\x80\x8D\xE2\x81\xA0\xEF\xBB\xBF", "\\u200B\\u200C\\u200D\\u2060\\uFEFF"),
    ROW("\xE2\x80\xA8\xE2\x80\xA9", "\\u2028\\u2029"),
    ROW("\xF3\xA0\x80\x81", "\\U000E0001"),
    ROW("\x80", "\\x80"),
    ROW("\xFF\xFE", "\\xFF\\xFE"),
    ROW("\xC3", "\\xC3"),                            /* cut off */
    ROW("\xC0\xAF", "\\xC0\\xAF"),                   /* overlong */
    ROW("\xE0\x80\x80", "\\xE0\\x80\\x80"),          /* overlong */
    ROW("\xED\xA0\x80", "\\xED\\xA0\\x80"),          /* a surrogate */
    ROW("\xF4\x90\x80\x80", "\\xF4\\x90\\x80\\x80"), /* beyond the last character */
    ROW("\xF0\x80\x80\x9B", "\\xF0\\x80\\x80\\x9B"), /* ESC's cousin, overlong */
};

START_TEST(what_could_do_harm_is_shown_as_an_escape) {
    const row *r = &rows[_i];
    char out[128];
    size_t needed = shop_clean(r->bytes, r->length, out, sizeof out);
    ck_assert_str_eq(out, r->shown);
    ck_assert_uint_eq(needed, strlen(r->shown));
}
END_TEST

/* Whatever room there is: always ended, never half a character or half an escape, never beyond. */
START_TEST(it_fits_into_any_room) {
    static const char bytes[] = "a\xC3\xBC\x1B\xE2\x80\xAE\xF0\x9F\x91\x9Cz";
    static const char whole[] = "a\xC3\xBC\\x1B\\u202E\xF0\x9F\x91\x9Cz";
    for (size_t room = 0; room < sizeof whole + 3; room++) {
        char *out = malloc(room + 1);
        ck_assert_ptr_nonnull(out);
        memset(out, 'X', room + 1);
        ck_assert_uint_eq(shop_clean(bytes, sizeof bytes - 1, out, room), sizeof whole - 1);
        ck_assert_int_eq(out[room], 'X');
        if (room)
            ck_assert_uint_lt(strlen(out), room);
        if (room)
            ck_assert_int_eq(strncmp(out, whole, strlen(out)), 0);
        if (room)
            ck_assert(shop_is_utf8(out, strlen(out)));
        if (room > sizeof whole - 1)
            ck_assert_str_eq(out, whole);
        free(out);
    }
}
END_TEST

/* Random bytes in, nothing out but UTF-8 without anything that hides. */
START_TEST(noise_comes_out_clean) {
    srand(11);
    for (int i = 0; i < 3000; i++) {
        char bytes[40], out[200];
        size_t length = (size_t)(rand() % 40);
        for (size_t k = 0; k < length; k++)
            bytes[k] = (char)(rand() % 3 ? 0x80 | rand() : rand());
        ck_assert_uint_lt(shop_clean(bytes, length, out, sizeof out), sizeof out);
        for (size_t at = 0, used; out[at]; at += used) {
            uint32_t code = shop_character(out + at, strlen(out + at), &used);
            ck_assert_uint_gt(used, 0);
            ck_assert(!shop_character_hides(code));
        }
    }
}
END_TEST

START_TEST(problems_are_printed_clean) {
    shop_problems problems;
    shop_problems_init(&problems, "ev\x1Bil.yaml");
    shop_problem_add(&problems, false, 3, 7, "found '%s'", "\xE2\x80\xAE\x1B]0;x\a");
    char *said = paper_problems(&problems);
    ck_assert_str_eq(said, "ev\\x1Bil.yaml:3:7: error: found '\\u202E\\x1B]0;x\\x07'\n");
    free(said);
    shop_problems_free(&problems);
}
END_TEST

Suite *shop_clean_suite(void) {
    Suite *suite = suite_create("clean");
    TCase *all = tcase_create("text");
    tcase_add_loop_test(all, what_could_do_harm_is_shown_as_an_escape, 0, sizeof rows / sizeof rows[0]);
    tcase_add_test(all, it_fits_into_any_room);
    tcase_add_test(all, noise_comes_out_clean);
    tcase_add_test(all, problems_are_printed_clean);
    suite_add_tcase(suite, all);
    return suite;
}
