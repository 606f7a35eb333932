/* runner.h - the suites of a test program; the table is written by tests.mk from the file names. */
#ifndef TESTS_RUNNER_H
#define TESTS_RUNNER_H

#include <check.h>

typedef struct runner_suite {
    const char *file;
    Suite *(*create)(void);
} runner_suite;

extern const runner_suite runner_suites[];

#endif
