/* tree.h - reads the program's own YAML and CSV output for tests, with nothing of the program. */
#ifndef TESTS_MATHS_TREE_H
#define TESTS_MATHS_TREE_H

#include <stdbool.h>
#include <stddef.h>
#include <yaml.h>

typedef struct tree {
    yaml_document_t document;
} tree;

/* One impression of the CSV. */
typedef struct tree_placing {
    char band[64];
    int row, run, number;
    double x, y, turn, along, cover; /* turn in degrees */
} tree_placing;

void tree_read(tree *t, const char *text, size_t length);
void tree_free(tree *t);

/* Paths are printf formats: "bands[%zu].runs[0].step", from 0. */
__attribute__((format(printf, 2, 3))) bool tree_has(tree *t, const char *path, ...);
__attribute__((format(printf, 2, 3))) size_t tree_count(tree *t, const char *path, ...); /* items of a list */
__attribute__((format(printf, 2, 3))) double tree_number(tree *t, const char *path, ...);
__attribute__((format(printf, 2, 3))) const char *tree_word(tree *t, const char *path, ...);

/* malloc'ed; the header must be the one of the file format. */
tree_placing *tree_placings(const char *csv, size_t *count);

#endif
