/* runner.c - runs the suites, or those whose file name holds one of the words given, and counts.
 *
 * The last line is `N passed, N failed`. A word that matches no suite is a failure, so that a renamed file cannot make
 * its tests vanish.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

#include "runner.h"

/* Every check that holds is noted by the library with a write to a file, which in loops takes most of a test's time.
 * Here (--wrap in tests.mk) at most one is noted in each tick of the coarse clock, some ms: near enough for "after this
 * point" of a test that crashes. A check that fails is always told exactly. Nothing is noted while a test limits the
 * size of files: a note cut in half makes the whole run unreadable. */
void __real__mark_point(const char *file, int line);
void __wrap__mark_point(const char *file, int line);

void __wrap__mark_point(const char *file, int line) {
    static struct timespec last;
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC_COARSE, &now);
    if (now.tv_nsec != last.tv_nsec || now.tv_sec != last.tv_sec) {
        struct rlimit size;
        last = now;
        if (getrlimit(RLIMIT_FSIZE, &size) != 0 || size.rlim_cur != RLIM_INFINITY) {
            return;
        }
        __real__mark_point(file, line);
    }
}

static SRunner *gather(const char *word, int *found) {
    SRunner *all = srunner_create(NULL);
    for (const runner_suite *suite = runner_suites; suite->file != NULL; suite++) {
        if (word == NULL || strstr(suite->file, word) != NULL) {
            srunner_add_suite(all, suite->create());
            *found += 1;
        }
    }
    return all;
}

int main(int argc, char **argv) {
    int passed = 0, failed = 0;
    for (int i = 1; i < argc || i == 1; i++) {
        int found = 0;
        SRunner *all = gather(argc > 1 ? argv[i] : NULL, &found);
        if (found == 0) {
            printf("no suite: %s\n", argc > 1 ? argv[i] : "none at all");
            failed++;
        } else {
            srunner_run_all(all, CK_ENV);
            failed += srunner_ntests_failed(all);
            passed += srunner_ntests_run(all) - srunner_ntests_failed(all);
        }
        srunner_free(all);
    }
    printf("%d passed, %d failed\n", passed, failed);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
