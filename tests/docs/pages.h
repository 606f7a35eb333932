/* pages.h - the parts of the man pages that are written from the program's own tables. */
#ifndef TESTS_DOCS_PAGES_H
#define TESTS_DOCS_PAGES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* Text in which nothing is taken for a roff request. With literal, hyphens are those that can be copied. */
void pages_text(FILE *to, const char *text);
void pages_literal(FILE *to, const char *text);

/* A part by the name that stands behind it in a page: "verbs", "fields bands[]". False if there is none such. */
bool pages_part(FILE *to, const char *name);

/* Functions of one public header: its first comment, then every function with the comment that goes with it. */
bool pages_functions(FILE *to, const char *header);

/* The whole of a file, malloc'ed and terminated; NULL if it cannot be read. */
char *pages_read(const char *file, size_t *length);

/* The page with every part between `.\" written from NAME` and `.\" end` written anew; malloc'ed. *parts is how many
 * there are; NULL if one is unknown or not ended. */
char *pages_renew(const char *page, size_t length, int *parts);

#endif
