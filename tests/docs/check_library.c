/* check_library.c - the library's page: its example works, and it tells every function and nothing else. */
#include <check.h>
#include <ctype.h>
#include <glob.h>
#include <stdlib.h>
#include <string.h>

#include "docs/pages.h"

Suite *docs_library_suite(void);

static char printed[200];

/* The example is the program of the page itself, its output kept in place of being printed. */
int example_main(void);
#define main example_main
#define printf(...) snprintf(printed, sizeof printed, __VA_ARGS__)
#include "docs/example.inc"
#undef printf
#undef main

START_TEST(the_example_plans_the_lid) {
    ck_assert_int_eq(example_main(), 0);
    /* guide 12 mm in: (120 - 24) pi = 301.593 mm, usual step 9 - 3 / 2 = 7.5 mm */
    ck_assert_str_eq(printed, "40 impressions, +1.59 mm, each step +0.040 mm: tight\n");
}
END_TEST

static bool library_name(const char *at, const char *text, size_t *length) {
    *length = strspn(at, "abcdefghijklmnopqrstuvwxyz_");
    return *length > 3 && (at == text || (at[-1] != '_' && !isalnum((unsigned char)at[-1]))) && at[*length] == '(';
}

/* Every `bw_name(` of one text stands in the other, too. Returns how many there are. */
static int all_told(const char *text, const char *other, const char *where) {
    int count = 0;
    for (const char *at = text; (at = strstr(at, "bw_")) != NULL; at++) {
        size_t length;
        if (!library_name(at, text, &length)) {
            continue;
        }
        char name[80];
        snprintf(name, sizeof name, "%.*s(", (int)length, at);
        ck_assert_msg(strstr(other, name) != NULL, "%s is not in %s", name, where);
        count++;
    }
    return count;
}

START_TEST(every_function_is_told) {
    glob_t headers;
    ck_assert_int_eq(glob("include/bandwright/*.h", 0, NULL, &headers), 0);
    char *all = NULL, *page = pages_read("man/libbandwright.3", NULL);
    size_t room;
    FILE *to = open_memstream(&all, &room);
    ck_assert_ptr_nonnull(page);
    ck_assert_ptr_nonnull(to);
    for (size_t i = 0; i < headers.gl_pathc; i++) {
        char *header = pages_read(headers.gl_pathv[i], NULL);
        fputs(header, to);
        free(header);
    }
    fclose(to);
    ck_assert_int_ge(all_told(all, page, "man/libbandwright.3"), 30);
    ck_assert_int_ge(all_told(page, all, "the headers"), 30);
    free(page);
    free(all);
    globfree(&headers);
}
END_TEST

Suite *docs_library_suite(void) {
    Suite *suite = suite_create("docs: library");
    TCase *tests = tcase_create("library");
    tcase_add_test(tests, the_example_plans_the_lid);
    tcase_add_test(tests, every_function_is_told);
    suite_add_tcase(suite, tests);
    return suite;
}
