/* renew.c - the written parts of a page, made anew between their marks. */
#include <stdlib.h>
#include <string.h>

#include "docs/pages.h"

#define BEGINS ".\\\" written from "
#define ENDS ".\\\" end\n"

char *pages_read(const char *file, size_t *length) {
    FILE *from = fopen(file, "rb");
    if (from == NULL) {
        return NULL;
    }
    char *text = NULL, block[4096];
    size_t total = 0, got;
    FILE *to = open_memstream(&text, &total);
    while (to != NULL && (got = fread(block, 1, sizeof block, from)) > 0) {
        fwrite(block, 1, got, to);
    }
    fclose(from);
    if (to == NULL || fclose(to) != 0) {
        free(text);
        return NULL;
    }
    if (length != NULL) {
        *length = total;
    }
    return text;
}

char *pages_renew(const char *page, size_t length, int *parts) {
    char *text = NULL;
    size_t total = 0;
    FILE *to = open_memstream(&text, &total);
    bool fine = to != NULL;
    const char *at = page, *mark;
    *parts = 0;
    while (fine && (mark = strstr(at, BEGINS)) != NULL) {
        const char *name = mark + strlen(BEGINS), *line_end = strchr(name, '\n'), *end = strstr(name, ENDS);
        char part[80];
        fine = line_end != NULL && end != NULL && (size_t)(line_end - name) < sizeof part;
        if (fine) {
            snprintf(part, sizeof part, "%.*s", (int)(line_end - name), name);
            fwrite(at, 1, (size_t)(line_end + 1 - at), to);
            fine = pages_part(to, part);
            at = end;
            *parts += 1;
        }
    }
    if (fine) {
        fwrite(at, 1, length - (size_t)(at - page), to);
    }
    if (to == NULL || fclose(to) != 0 || !fine) {
        free(text);
        return NULL;
    }
    return text;
}
