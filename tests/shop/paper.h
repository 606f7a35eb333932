/* paper.h - what the shop's tests share: reading a text in memory, and the problems as one text. */
#ifndef TESTS_SHOP_PAPER_H
#define TESTS_SHOP_PAPER_H

#include "shop/shop.h"

/* Problems as shop_problems_print writes them; the caller frees it. */
char *paper_problems(const shop_problems *problems);
/* Reads a project (named lid.yaml) and gives what it said; *project, if wanted, is the caller's, else it is freed. */
char *paper_read(const char *yaml, size_t length, shop_project **project);
/* The project, which must be without errors. */
shop_project *paper_project(const char *yaml);
/* The new bytes of one edit (with a NUL behind), or NULL and *why, both the caller's. value NULL takes it out. */
char *paper_edit(const char *yaml, size_t size, const char *path, const char *old, const char *value, size_t *length,
                 char **why);

#endif
