/* runner.c - runs the suites, or those whose file name holds one of the words given, and counts.
 *
 * The last line is `N passed, N failed`. A word that matches no suite is a failure, so that a renamed file cannot make
 * its tests vanish.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "runner.h"

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
