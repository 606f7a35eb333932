/* show/page.h - the page for the bench: paragraphs broken at its width, every line cleaned. */
#ifndef SHOW_PAGE_H
#define SHOW_PAGE_H

#include "show/inner.h"

typedef struct page {
    FILE *to;
    const shop_project *project;
    const bw_plan *plan;
    int width;        /* cells of a line */
    bool check_marks; /* some were given */
} page;

/* A paragraph: its first line begins with lead, the others as far in, or less where the page is too narrow for that.
 * Anything unsafe shows as an escape. */
void page_put(page *p, const char *lead, const char *text);
__attribute__((format(printf, 3, 4))) void page_putf(page *p, const char *lead, const char *format, ...);
/* "circle of 140 mm, edge 439.82 mm; leather 3.2 mm (8 oz); start at the bottom" */
void page_say_piece(show_words *out, const shop_project *project, const bw_plan *plan);
/* show_warnings, what stops the work before the others. */
bw_warning *page_warnings(const shop_project *project, const bw_plan *plan, size_t *count);

/* Which changes would make a band work; nothing if no single one does. */
void page_mends(page *p, size_t band);
void page_bands(page *p); /* what each band needs at the bench */

#endif
