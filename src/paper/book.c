/* book.c - pages kept in memory until all of them are drawn, then written in one go each file. */
#include <cairo/cairo-pdf.h>
#include <cairo/cairo-svg.h>
#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "paper/draw.h"
#include "paper/png.h"
#include "shop/alloc.h"

#define POINTS (72.0 / BW_MM_PER_INCH) /* of PDF, for a mm */
#define CURVE_TOLERANCE 0.002          /* mm by which a drawn arc may miss the true one */

struct paper_book {
    paper_kind kind;
    double per_mm; /* dots for a mm, PNG */
    char *title;
    cairo_surface_t *surface;
    cairo_t *cr;
    shop_buffer *files; /* what was written: one a page, of a PDF one alone */
    size_t file_count, file_room;
    int pages;
    cairo_status_t trouble; /* the first */
    bool no_memory;
};

paper_book *paper_book_create(paper_kind kind, double dpi, const char *title) {
    paper_book *book = shop_alloc(sizeof *book);
    if (!book)
        return NULL;
    *book = (paper_book){.kind = kind, .per_mm = paper_png_dots(dpi) / 1000.0};
    char clean[400];
    shop_clean(title, strlen(title), clean, sizeof clean);
    book->title = shop_copy(clean, strlen(clean));
    if (book->title)
        return book;
    free(book);
    return NULL;
}

static void note_trouble(paper_book *book, cairo_status_t status) {
    if (book->trouble == CAIRO_STATUS_SUCCESS)
        book->trouble = status;
}

static cairo_status_t take_bytes(void *to, const unsigned char *bytes, unsigned length) {
    shop_buffer *buffer = to;
    shop_buffer_add(buffer, (const char *)bytes, length);
    return buffer->failed ? CAIRO_STATUS_NO_MEMORY : CAIRO_STATUS_SUCCESS;
}

/* The bytes of the next file. They lie apart from the list, which may move while a surface writes to them. */
static shop_buffer *next_file(paper_book *book) {
    if (book->file_count == book->file_room) {
        size_t room = book->file_room ? 2 * book->file_room : 8;
        shop_buffer *more = shop_resize(book->files, room * sizeof *more);
        if (!more) {
            book->no_memory = true;
            return NULL;
        }
        book->files = more;
        book->file_room = room;
    }
    book->files[book->file_count] = (shop_buffer){0};
    return &book->files[book->file_count++];
}

static void end_file(paper_book *book) {
    if (!book->cr)
        return;
    note_trouble(book, cairo_status(book->cr));
    cairo_destroy(book->cr);
    book->cr = NULL;
    if (book->kind == PAPER_PNG) {
        shop_buffer *file = next_file(book);
        if (file)
            note_trouble(book, cairo_surface_write_to_png_stream(book->surface, take_bytes, file));
        if (file && !paper_png_sized(file, book->per_mm * 1000.0))
            book->no_memory = true;
    }
    cairo_surface_finish(book->surface);
    note_trouble(book, cairo_surface_status(book->surface));
    cairo_surface_destroy(book->surface);
    book->surface = NULL;
}

void paper_book_free(paper_book *book) {
    if (!book)
        return;
    end_file(book);
    for (size_t i = 0; i < book->file_count; i++)
        free(book->files[i].bytes);
    free(book->files);
    free(book->title);
    free(book);
}

int paper_book_pages(const paper_book *book) {
    return book->pages;
}

/* A surface keeps its own bytes and hands them over when it ends: `files` may move meanwhile. */
static cairo_status_t take_last(void *to, const unsigned char *bytes, unsigned length) {
    paper_book *book = to;
    return take_bytes(&book->files[book->file_count - 1], bytes, length);
}

static cairo_surface_t *new_surface(paper_book *book, double width, double height) {
    if (book->kind == PAPER_PNG)
        return cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)lround(width * book->per_mm),
                                          (int)lround(height * book->per_mm));
    if (!next_file(book))
        return cairo_image_surface_create(CAIRO_FORMAT_A8, 1, 1);
    cairo_surface_t *surface;
    if (book->kind == PAPER_PDF) {
        surface = cairo_pdf_surface_create_for_stream(take_last, book, width * POINTS, height * POINTS);
        cairo_pdf_surface_restrict_to_version(surface, CAIRO_PDF_VERSION_1_5);
        cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, book->title);
        cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "bandwright " BW_VERSION);
    } else {
        surface = cairo_svg_surface_create_for_stream(take_last, book, width, height);
        cairo_svg_surface_set_document_unit(surface, CAIRO_SVG_UNIT_MM);
    }
    return surface;
}

static double scale_of(const paper_book *book) {
    return book->kind == PAPER_PDF ? POINTS : book->kind == PAPER_SVG ? 1.0 : book->per_mm;
}

cairo_t *paper_page(paper_book *book, double width, double height) {
    if (book->kind == PAPER_PDF && book->cr) {
        note_trouble(book, cairo_status(book->cr));
        cairo_show_page(book->cr);
        cairo_destroy(book->cr);
        cairo_pdf_surface_set_size(book->surface, width * POINTS, height * POINTS);
    } else {
        end_file(book);
        book->surface = new_surface(book, width, height);
    }
    book->pages++;
    book->cr = cairo_create(book->surface);
    double scale = scale_of(book);
    cairo_scale(book->cr, scale, scale);
    cairo_set_tolerance(book->cr, book->kind == PAPER_PNG ? 0.05 : CURVE_TOLERANCE * scale);
    cairo_set_source_rgb(book->cr, 1, 1, 1);
    if (book->kind != PAPER_PDF)
        cairo_paint(book->cr);
    cairo_set_source_rgb(book->cr, 0, 0, 0);
    paper_font(book->cr, PAPER_USUAL, false);
    return book->cr;
}

/* OUT.svg and 2: OUT-2.svg. malloc'ed. */
static char *numbered(const char *file, size_t number) {
    const char *ending = strrchr(file, '.');
    char digits[24];
    snprintf(digits, sizeof digits, "-%zu", number);
    shop_buffer name = {0};
    shop_buffer_add(&name, file, (size_t)(ending - file));
    shop_buffer_text(&name, digits);
    shop_buffer_text(&name, ending);
    return shop_buffer_take(&name, NULL);
}

/* How many further numbered files are there: of an earlier book that had more pages. */
static size_t left_over(const char *file, size_t count) {
    size_t more = 0;
    for (;; more++) {
        struct stat there;
        char *name = numbered(file, count + more + 1);
        bool is_there = name && lstat(name, &there) == 0;
        free(name);
        if (!is_there)
            return more;
    }
}

/* OUT-1.svg or OUT-1.svg to OUT-4.svg; returns where its text goes on. */
static size_t name_files(const char *file, size_t from, size_t to, char *text, size_t room) {
    char clean[200];
    const char *ending = strrchr(file, '.');
    shop_clean(file, strlen(file), clean, sizeof clean);
    int stem = (int)(strlen(clean) - strlen(ending));
    int used = from == to ? snprintf(text, room, "%.*s-%zu%s", stem, clean, from, ending)
                          : snprintf(text, room, "%.*s-%zu%s to %.*s-%zu%s", stem, clean, from, ending, stem, clean, to,
                                     ending);
    return (size_t)used < room ? (size_t)used : room - 1;
}

static void say_files(const paper_book *book, const char *file, show_words *said) {
    char names[480];
    if (book->file_count > 1) {
        size_t more = left_over(file, book->file_count);
        name_files(file, 1, book->file_count, names, sizeof names);
        snprintf(said->text, sizeof said->text, "written: %s, one file a page", names);
        if (more > 0) {
            size_t used = strlen(said->text);
            name_files(file, book->file_count + 1, book->file_count + more, names, sizeof names);
            snprintf(said->text + used, sizeof said->text - used, "; %s %s of an earlier drawing: do not use %s", names,
                     more == 1 ? "is" : "are", more == 1 ? "it" : "them");
        }
    } else {
        shop_clean(file, strlen(file), names, 200);
        snprintf(said->text, sizeof said->text, "written: %s, %d page%s", names, book->pages,
                 book->pages == 1 ? "" : "s");
    }
}

/* What the drawing library keeps to itself counts, too: a file that is not whole is not written. */
static bool without_memory(const paper_book *book) {
    bool without = book->no_memory || book->trouble == CAIRO_STATUS_NO_MEMORY;
    for (size_t i = 0; i < book->file_count; i++)
        without = without || book->files[i].failed;
    return without;
}

/* One of several: what went wrong names the file itself, and says which are new. */
static shop_status save_numbered(const paper_book *book, const char *file, size_t i, shop_problems *problems) {
    char *name = numbered(file, i + 1);
    if (!name) {
        shop_problem_add(problems, false, 0, 0, "out of memory");
        return SHOP_NO_MEMORY;
    }
    shop_problems own;
    shop_problems_init(&own, name);
    shop_status status = shop_save(name, book->files[i].bytes, book->files[i].length, false, &own);
    for (size_t k = 0; k < own.count; k++)
        shop_problem_of(problems, &own.list[k], name);
    if (status != SHOP_OK && i > 0) {
        char names[480];
        name_files(file, 1, i, names, sizeof names);
        shop_problem_add(problems, false, 0, 0, "%s %s written, the other pages are not: do not use them together",
                         names, i == 1 ? "is" : "are");
    }
    shop_problems_free(&own);
    free(name);
    return status;
}

shop_status paper_book_write(paper_book *book, const char *file, show_words *said, shop_problems *problems) {
    end_file(book);
    if (without_memory(book)) {
        shop_problem_add(problems, false, 0, 0, "out of memory for so large a page");
        return SHOP_NO_MEMORY;
    }
    if (book->trouble != CAIRO_STATUS_SUCCESS) {
        shop_problem_add(problems, false, 0, 0, "cannot be drawn: %s", cairo_status_to_string(book->trouble));
        return SHOP_CANNOT_WRITE;
    }
    shop_status status = SHOP_OK;
    if (book->file_count == 1)
        status = shop_save(file, book->files[0].bytes, book->files[0].length, false, problems);
    for (size_t i = 0; book->file_count > 1 && i < book->file_count && status == SHOP_OK; i++)
        status = save_numbered(book, file, i, problems);
    if (status == SHOP_OK && said)
        say_files(book, file, said);
    return status;
}
