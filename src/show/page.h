/* show/page.h - the page for the bench: paragraphs broken at its width, every line cleaned. */
#ifndef SHOW_PAGE_H
#define SHOW_PAGE_H

#include "show/inner.h"

typedef struct page {
    FILE *to;
    const shop_project *project;
    const bw_plan *plan;
    int width;        /* cells of a line */
    int step;         /* of the order of work: the number given last */
    bool check_marks; /* some were given */
} page;

/* A paragraph: its first line begins with lead, the others as far in, or less where the page is too narrow for that. Anything unsafe shows as an escape. */
void page_put(page *p, const char *lead, const char *text);
__attribute__((format(printf, 3, 4))) void page_putf(page *p, const char *lead, const char *format, ...);
/* A numbered step of the order of work. */
__attribute__((format(printf, 2, 3))) void page_step(page *p, const char *format, ...);

/* A length rounded to what steps can be set to. */
show_figure_text page_length(const page *p, double mm);

/* Which changes would make a band work; nothing if no single one does. */
void page_mends(page *p, size_t band);
void page_work(page *p);  /* the order of work */
void page_bands(page *p); /* what each band needs at the bench */

#endif
