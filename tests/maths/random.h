/* random.h - random but repeatable project files: seed in, YAML out. */
#ifndef TESTS_MATHS_RANDOM_H
#define TESTS_MATHS_RANDOM_H

#include <stdbool.h>

typedef struct random_source {
    unsigned long long state;
} random_source;

double random_between(random_source *r, double least, double most);
int random_number(random_source *r, int least, int most);
bool random_chance(random_source *r, double share);

/* A project of circle, line, arc or rectangle with one to three bands of any fill, lay and lose mode, sound or not.
 * malloc'ed. */
char *random_project(unsigned seed);

#endif
