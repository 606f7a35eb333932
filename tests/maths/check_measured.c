/* check_measured.c - the impressions of every example and of 500 random layouts, measured on the leather. */
#include <check.h>
#include <glob.h>
#include <stdio.h>
#include <stdlib.h>

#include "maths/measure.h"
#include "maths/random.h"

Suite *maths_measured_suite(void);

/* The ruler lays out these edges by itself; those of the others are compared in tests/outside. */
static bool has_ruler(bw_shape shape) {
    return shape == BW_CIRCLE || shape == BW_RECTANGLE || shape == BW_LINE || shape == BW_ARC;
}

START_TEST(examples) {
    size_t checked = 0;
    glob_t files;
    ck_assert_int_eq(glob("projects/*.yaml", 0, NULL, &files), 0);
    for (size_t i = 0; i < files.gl_pathc; i++) {
        shop_problems problems;
        shop_problems_init(&problems, files.gl_pathv[i]);
        char *bytes = NULL;
        size_t length;
        ck_assert_int_eq(shop_read(files.gl_pathv[i], &bytes, &length, &problems), SHOP_OK);
        char *text = realloc(bytes, length + 1);
        ck_assert_ptr_nonnull(text);
        text[length] = '\0';
        measured m;
        ck_assert(measured_open(&m, text, files.gl_pathv[i]));
        if (has_ruler(m.project->layout.outline.shape)) {
            ck_assert_uint_gt(measured_check(&m, files.gl_pathv[i]), 0);
            checked++;
        }
        measured_close(&m);
        shop_problems_free(&problems);
        free(text);
    }
    ck_assert_uint_ge(checked, 9);
    globfree(&files);
}
END_TEST

/* Fifty at a time, so that a failure leaves the others to be seen. */
START_TEST(random_layouts) {
    size_t impressions = 0;
    for (unsigned seed = (unsigned)_i * 50; seed < (unsigned)_i * 50 + 50; seed++) {
        char what[40], *text = random_project(seed);
        snprintf(what, sizeof what, "random layout %u", seed);
        measured m;
        ck_assert_msg(measured_open(&m, text, what), "%s:\n%s", what, text);
        impressions += measured_check(&m, what);
        measured_close(&m);
        free(text);
    }
    ck_assert_uint_gt(impressions, 2000);
}
END_TEST

Suite *maths_measured_suite(void) {
    Suite *suite = suite_create("maths/measured");
    TCase *tests = tcase_create("measured");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, examples);
    tcase_add_loop_test(tests, random_layouts, 0, 10);
    suite_add_tcase(suite, tests);
    return suite;
}
