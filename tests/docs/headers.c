/* headers.c - man page parts from the public headers. */
#include <check.h>
#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "docs/pages.h"

/* One blank for every stretch of blanks and line ends. */
static char *joined(const char *from, const char *end) {
    char *text = malloc((size_t)(end - from) + 1), *to = text;
    ck_assert_ptr_nonnull(text);
    for (const char *at = from; at < end; at++) {
        bool blank = isspace((unsigned char)*at) != 0;
        if (!blank || (to > text && to[-1] != ' ')) {
            *to++ = blank ? ' ' : *at;
        }
    }
    while (to > text && to[-1] == ' ') {
        to--;
    }
    *to = '\0';
    return text;
}

/* A comment without its marks and line breaks. */
static void comment(FILE *to, const char *from, const char *end) {
    char *inside = malloc((size_t)(end - from) + 1), *put = inside;
    ck_assert_ptr_nonnull(inside);
    bool line_start = false;
    for (const char *at = from; at < end; at++) {
        bool mark = (at[0] == '/' && at[1] == '*') || (at + 1 < end && at[0] == '*' && at[1] == '/');
        if (mark) {
            at++;
        } else if (*at != '*' || !line_start) {
            *put++ = *at;
        }
        line_start = *at == '\n' || (line_start && *at == ' ');
    }
    char *text = joined(inside, put);
    if (text[0] != '\0') {
        pages_literal(to, text);
        fputc('\n', to);
    }
    free(text);
    free(inside);
}

/* A function's declaration begins in the first column and holds a name of the library before its bracket. */
static const char *declaration_end(const char *line) {
    if (!isalpha((unsigned char)*line) || strncmp(line, "typedef", 7) == 0 || strncmp(line, "extern", 6) == 0) {
        return NULL;
    }
    const char *bracket = strchr(line, '('), *end = strchr(line, ';'), *name = strstr(line, "bw_");
    return bracket != NULL && end != NULL && name != NULL && bracket < end ? end + 1 : NULL;
}

static void declaration(FILE *to, const char *from, const char *end) {
    char *text = joined(from, end);
    fprintf(to, ".TP\n.B \"%s\"\n", text);
    free(text);
}

static const char *next_line(const char *at) {
    const char *end = strchr(at, '\n');
    return end != NULL ? end + 1 : at + strlen(at);
}

bool pages_functions(FILE *to, const char *header) {
    char file[200];
    snprintf(file, sizeof file, "include/bandwright/%s", header);
    char *text = pages_read(file, NULL);
    if (text == NULL) {
        return false;
    }
    const char *first_end = strstr(text, "*/"), *dash = strstr(text, " - ");
    bool found = false;
    if (first_end != NULL && dash != NULL && dash < first_end) {
        comment(to, dash + 3, first_end + 2);
    }
    const char *above = NULL, *above_end = NULL; /* the comment that ends on the line before */
    for (const char *line = text; *line != '\0';) {
        const char *end = declaration_end(line);
        if (end != NULL) {
            declaration(to, line, end);
            const char *rest = next_line(end);
            if (above != NULL) {
                comment(to, above, above_end);
            }
            if (strstr(end, "/*") != NULL && strstr(end, "/*") < rest) {
                comment(to, strstr(end, "/*"), rest);
            }
            found = true;
            above = NULL;
            line = rest;
        } else if (strncmp(line, "/*", 2) == 0 && strstr(line, "*/") != NULL) {
            above = line;
            above_end = strstr(line, "*/") + 2;
            line = next_line(above_end);
        } else {
            above = NULL;
            line = next_line(line);
        }
    }
    free(text);
    return found;
}
