/* paper/paper.h - what is printed or seen as a picture: pages in mm, written as PDF, SVG or PNG.
 *
 * Nothing of the library that draws is seen here; files of this room draw with paper/draw.h.
 */
#ifndef PAPER_PAPER_H
#define PAPER_PAPER_H

#include <stdbool.h>

#include "shop/shop.h"
#include "show/show.h"

/* ---- the sheet ---- */

/* An upright sheet. */
typedef struct paper_size {
    double width, height; /* mm */
    char name[40];        /* "A4", "Letter", "300 x 450 mm" */
} paper_size;

#define PAPER_LEAST 148.0 /* mm, of either side, A5's: the check scales and the margins need it */
#define PAPER_MOST 1500.0
#define PAPER_MARGIN 10.0 /* mm all round that stay white: most printers reach that far */

/* "a4" and "a5" (210 x 297, 148 x 210 mm, ISO 216), "letter" (8 1/2 x 11 in, ANSI/ASME Y14.1) or WxH ("300x450", "12x18
 * in"); a bare number is in `bare`. NULL or "": A4 of a shop that works in mm, Letter of one in inches. False with a
 * reason that says what is allowed. */
bool paper_size_of(const char *text, shop_unit bare, paper_size *size, char reason[160]);

typedef enum paper_kind { PAPER_PDF, PAPER_SVG, PAPER_PNG } paper_kind;

/* Has a file, by its last name, something and then this ending, in small or large letters? */
bool paper_ends_in(const char *file, const char *ending);
/* By the ending of a file's name: .pdf, .svg, .png. False with a reason. */
bool paper_kind_of(const char *file, paper_kind *kind, char reason[160]);

/* ---- a book: pages on their way to a file ---- */

typedef struct paper_book paper_book;

#define PAPER_DPI 300 /* of a PNG: dots of an inch */

/* Without memory NULL. dpi counts for PNG only. */
paper_book *paper_book_create(paper_kind kind, double dpi, const char *title);
void paper_book_free(paper_book *book); /* NULL is fine */
int paper_book_pages(const paper_book *book);

/* Writes all pages, each file by the safe write: a PDF, or the only page, to `file`; several SVG or PNG pages to
 * OUT-1.svg, OUT-2.svg and so on. `said` (may be NULL) tells which files were written. */
shop_status paper_book_write(paper_book *book, const char *file, show_words *said, shop_problems *problems);

/* ---- the card beside the work ---- */

/* Writes it by the safe write: text to a file that ends in .txt, pages to one that ends in .pdf, as large as one sheet
 * holds it. paper: as for paper_size_of, for a PDF only. said (may be NULL): what was written. */
shop_status paper_card(const char *file, const char *paper, const shop_project *project, const bw_plan *plan,
                       show_words *said, shop_problems *problems);
/* May a card go to this file and onto this sheet? False with a reason that says what is allowed. */
bool paper_card_can(const char *file, const char *paper, shop_unit bare, char reason[160]);

/* ---- the template ---- */

typedef struct paper_asked {
    paper_size paper;
    bool impressions; /* faint faces */
    bool mirror;      /* to be traced from the flesh side */
    int png_most;     /* PNG pages, each of which takes a while; 0: as many as it takes */
} paper_asked;

/* The template of a piece at full size: a page of words, trial strips, then the piece, tiled where it must be. */
shop_status paper_template(const shop_project *project, const bw_plan *plan, const paper_asked *asked, const char *file,
                           show_words *said, shop_problems *problems);

/* ---- the picture ---- */

#define PAPER_PICTURE_LEAST 16        /* pixels across that may be asked for */
#define PAPER_PICTURE_SIDE 20000      /* pixels in either direction at most */
#define PAPER_PICTURE_PIXELS 60000000 /* and of all of it */

/* The finished piece as it will look, every impression in relief, as a PNG that is as large as the piece where it is
 * printed. width: pixels, 0 = as many as suit the piece. */
shop_status paper_picture(const shop_project *project, const bw_plan *plan, int width, const char *file,
                          show_words *said, shop_problems *problems);

#endif
