/* check_readme.c - what the README shows is what its commands write today.
 *
 * With BW_WRITE=1 in the environment the output shown is written anew.
 */
#include <check.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "docs/console.h"
#include "docs/pages.h"

Suite *docs_readme_suite(void);

enum { FOLDER = 64, SETUP = 3 * PATH_MAX };

/* A folder in which a reader could stand: the examples beside it, the program on the PATH, an empty home. setup is the
 * shell's line for it; nothing of this process's own environment is changed. */
static void stand(char folder[FOLDER], char setup[SETUP]) {
    const char *program = getenv("BW_PROGRAM") != NULL ? getenv("BW_PROGRAM") : "build/bandwright";
    char *full = realpath(program, NULL), *root = realpath(".", NULL);
    ck_assert_msg(full != NULL && root != NULL, "%s is not built", program);
    *strrchr(full, '/') = '\0';
    snprintf(folder, FOLDER, "/tmp/bw-readme-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    snprintf(setup, SETUP, "mkdir '%s/home' && ln -s '%s/projects' '%s/share' '%s/'", folder, root, root, folder);
    ck_assert_int_eq(system(setup), 0);
    snprintf(setup, SETUP,
             "unset XDG_DATA_HOME XDG_STATE_HOME; export LC_ALL=C.UTF-8 HOME='%s/home' PATH='%s':\"$PATH\"", folder,
             full);
    free(full);
    free(root);
}

static void leave(const char *folder) {
    char command[FOLDER + 20];
    snprintf(command, sizeof command, "rm -rf '%s'", folder);
    ck_assert_int_eq(system(command), 0);
}

/* The first line in which two texts differ, for the message. */
static void first_difference(const char *is, const char *should, char line[200]) {
    size_t at = 0;
    while (is[at] != '\0' && is[at] == should[at]) {
        at++;
    }
    while (at > 0 && should[at - 1] != '\n') {
        at--;
    }
    snprintf(line, 200, "%.*s", (int)strcspn(should + at, "\n"), should + at);
}

START_TEST(commands_write_what_is_shown) {
    char folder[FOLDER], setup[SETUP], difference[200];
    char *readme = pages_read("README.md", NULL);
    ck_assert_ptr_nonnull(readme);
    stand(folder, setup);
    int commands, broken;
    char *renewed = console_renew(readme, folder, setup, &commands, &broken);
    leave(folder);
    ck_assert_int_ge(commands, 10);
    ck_assert_int_eq(broken, 0);
    if (getenv("BW_WRITE") != NULL) {
        FILE *to = fopen("README.md", "w");
        ck_assert_ptr_nonnull(to);
        fputs(renewed, to);
        ck_assert_int_eq(fclose(to), 0);
    } else {
        first_difference(readme, renewed, difference);
        ck_assert_msg(strcmp(readme, renewed) == 0,
                      "README.md shows something else than '%s'; BW_WRITE=1 build/runner docs/ writes it anew",
                      difference);
    }
    free(renewed);
    free(readme);
}
END_TEST

/* The test above cannot pass over a README that lies. */
START_TEST(a_lie_would_be_found) {
    static const char lie[] = "A\n```console\n$ echo one \\\n   $SAID\none three\n$ true\n```\nB\n";
    static const char truth[] = "A\n```console\n$ echo one \\\n   $SAID\none two\n$ true\n```\nB\n";
    int commands, broken;
    char *renewed = console_renew(lie, "/tmp", "export SAID=two", &commands, &broken);
    ck_assert_str_eq(renewed, truth);
    ck_assert_int_eq(commands, 2);
    ck_assert_int_eq(broken, 0);
    free(renewed);
    renewed = console_renew("```console\n$ no-such-command-here\n```\n", "/tmp", "", &commands, &broken);
    ck_assert_int_eq(broken, 1);
    free(renewed);
}
END_TEST

Suite *docs_readme_suite(void) {
    Suite *suite = suite_create("docs: README");
    TCase *tests = tcase_create("readme");
    tcase_set_timeout(tests, 120);
    tcase_add_test(tests, commands_write_what_is_shown);
    tcase_add_test(tests, a_lie_would_be_found);
    suite_add_tcase(suite, tests);
    return suite;
}
