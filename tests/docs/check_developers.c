/* check_developers.c - DEVELOPERS.md and the README speak of files that are there, and of every room. */
#include <check.h>
#include <glob.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "docs/pages.h"

Suite *docs_developers_suite(void);

static bool of_the_tree(const char *word) {
    static const char *const tops[] = {"src/", "include/", "tests/", "man/", "projects/", "share/", ".ci/"};
    for (size_t i = 0; i < sizeof tops / sizeof tops[0]; i++) {
        if (strncmp(word, tops[i], strlen(tops[i])) == 0) {
            return true;
        }
    }
    return false;
}

/* Words in `...` that begin like a path, without those that hold a stand-in in capitals or a star. */
static int paths_are_there(const char *file) {
    char *text = pages_read(file, NULL);
    ck_assert_ptr_nonnull(text);
    int count = 0;
    for (char *at = strchr(text, '`'); at != NULL; at = strchr(at, '`')) {
        char *word = at + 1, *end = strpbrk(word, "` \n");
        if (end == NULL) {
            break;
        }
        bool whole = *end == '`';
        at = end + (whole ? 1 : 0);
        char path[200];
        snprintf(path, sizeof path, "%.*s", (int)(end - word), word);
        if (!whole || !of_the_tree(path) || strchr(path, '*') != NULL || strstr(path, "NAME") != NULL ||
            strstr(path, "ROOM") != NULL) {
            continue;
        }
        ck_assert_msg(access(path, F_OK) == 0, "%s speaks of %s, which is not there", file, path);
        count++;
    }
    free(text);
    return count;
}

START_TEST(files_named_are_there) {
    ck_assert_int_ge(paths_are_there("DEVELOPERS.md"), 30);
    paths_are_there("README.md");
}
END_TEST

START_TEST(every_room_is_on_the_map) {
    char *text = pages_read("DEVELOPERS.md", NULL);
    ck_assert_ptr_nonnull(text);
    glob_t rooms;
    ck_assert_int_eq(glob("src/*/", 0, NULL, &rooms), 0);
    ck_assert_uint_ge(rooms.gl_pathc, 6);
    for (size_t i = 0; i < rooms.gl_pathc; i++) {
        char word[100];
        snprintf(word, sizeof word, "`%s`", rooms.gl_pathv[i]);
        ck_assert_msg(strstr(text, word) != NULL, "%s is not on the map", word);
    }
    globfree(&rooms);
    free(text);
}
END_TEST

Suite *docs_developers_suite(void) {
    Suite *suite = suite_create("docs: for developers");
    TCase *tests = tcase_create("developers");
    tcase_add_test(tests, files_named_are_there);
    tcase_add_test(tests, every_room_is_on_the_map);
    suite_add_tcase(suite, tests);
    return suite;
}
