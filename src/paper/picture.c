/* picture.c - a picture of the finished piece: how large it is, what is pressed in which order, the file. */
#include "paper/picture.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper/draw.h"
#include "paper/png.h"
#include "shop/alloc.h"

#define USUAL_PIXELS 3e6   /* of all of the picture, if nobody asks for a width */
#define USUAL_SCALE 24.0   /* pixels of a mm beyond which nothing more is seen */
#define USUAL_LONGEST 6000 /* pixels */
#define BESIDE 0.04        /* share of the longer side that stays plain all round */
#define BESIDE_LEAST 3.0   /* mm */
#define MORE 3.0           /* mm of whole leather behind the last band of an open edge */
#define THICKNESS 3.0      /* mm of leather whose weight is not given; common practice for carving */

/* mm from an open edge to which leather is drawn: all bands, and some more. */
static double deep_of(const bw_plan *plan) {
    double deep = 0;
    for (size_t i = 0; i < plan->band_count; i++)
        deep = fmax(deep, plan->bands[i].inner);
    return deep + MORE + PICTURE_FADE;
}

static void take_in(bw_box *box, bw_box other) {
    *box = (bw_box){fmin(box->left, other.left), fmin(box->bottom, other.bottom), fmax(box->right, other.right),
                    fmax(box->top, other.top)};
}

/* All that is drawn, with some of the plain ground all round. */
static bw_box box_of(const bw_plan *plan) {
    bw_box box = bw_curve_box(plan->edge);
    double beside = fmax(BESIDE_LEAST, BESIDE * fmax(box.right - box.left, box.top - box.bottom));
    bool open = !bw_curve_closed(plan->edge);
    for (size_t i = 0; open && i < plan->band_count; i++) {
        const bw_curve *inner = bw_plan_line(plan, i, BW_INNER);
        if (inner && bw_curve_loops(inner) > 0)
            take_in(&box, bw_curve_box(inner));
    }
    beside += open ? MORE + PICTURE_FADE : 0;
    return (bw_box){box.left - beside, box.bottom - beside, box.right + beside, box.top + beside};
}

static shop_status too_large(shop_problems *problems) {
    shop_problem_add(problems, false, 0, 0,
                     "the picture would be over %d pixels in one direction, or over %d million in all: give a smaller "
                     "--width",
                     PAPER_PICTURE_SIDE, PAPER_PICTURE_PIXELS / 1000000);
    return SHOP_CANNOT_MAKE;
}

static shop_status no_memory(shop_problems *problems) {
    shop_problem_add(problems, false, 0, 0, "out of memory for so large a picture");
    return SHOP_NO_MEMORY;
}

shop_status picture_create(const bw_plan *plan, const bw_layout *layout, int width, picture *p,
                           shop_problems *problems) {
    bw_box box = box_of(plan);
    double across = box.right - box.left, up = box.top - box.bottom;
    double scale = fmin(USUAL_SCALE, fmin(sqrt(USUAL_PIXELS / (across * up)), USUAL_LONGEST / fmax(across, up)));
    /* Dots of a metre are whole in a PNG: printed, the picture is as large as the piece. */
    double dots = width > 0 ? floor(width / across * 1000) : paper_png_dots(scale * BW_MM_PER_INCH);
    *p = (picture){.per_mm = fmax(dots, 1) / 1000, .left = box.left, .top = box.top};
    double columns = width > 0 ? width : ceil(across * p->per_mm), rows = round(up * p->per_mm);
    if (columns > PAPER_PICTURE_SIDE || rows > PAPER_PICTURE_SIDE || columns * rows > PAPER_PICTURE_PIXELS)
        return too_large(problems);
    p->width = (int)columns;
    p->height = (int)fmax(rows, 1);
    /* Fewer dots than the width has room for leave as much on both sides. */
    p->left -= trunc((columns - across * p->per_mm) / 2) / p->per_mm;
    double weight = isnan(layout->weight) ? THICKNESS : layout->weight;
    p->ends = bw_curve_closed(plan->edge) ? 0 : deep_of(plan);
    p->depth = fmin(0.9, fmax(0.35, 0.24 * weight));
    size_t count = (size_t)p->width * (size_t)p->height;
    p->pressed = shop_alloc(count * sizeof *p->pressed);
    p->inside = shop_alloc(count * sizeof *p->inside);
    p->thread = shop_alloc(count);
    if (!p->pressed || !p->inside || !p->thread) {
        picture_free(p);
        return no_memory(problems);
    }
    memset(p->thread, 0, count);
    for (size_t i = 0; i < count; i++) {
        p->pressed[i] = 0;
        p->inside[i] = -PICTURE_FAR;
    }
    return SHOP_OK;
}

void picture_free(picture *p) {
    free(p->pressed);
    free(p->inside);
    free(p->thread);
    *p = (picture){0};
}

bool picture_pixels(const picture *p, bw_box box, picture_box *pixels) {
    double left = (box.left - p->left) * p->per_mm - 0.5, right = (box.right - p->left) * p->per_mm - 0.5;
    double top = (p->top - box.top) * p->per_mm - 0.5, bottom = (p->top - box.bottom) * p->per_mm - 0.5;
    *pixels = (picture_box){.left = (int)fmax(0, ceil(left)),
                            .right = (int)fmin(p->width - 1, floor(right)),
                            .top = (int)fmax(0, ceil(top)),
                            .bottom = (int)fmin(p->height - 1, floor(bottom))};
    return pixels->left <= pixels->right && pixels->top <= pixels->bottom;
}

static bool press_all(picture *p, const bw_layout *layout, const bw_plan *plan, bw_fill fill) {
    for (size_t i = 0; i < plan->band_count; i++)
        if (plan->bands[i].fill == fill &&
            !(fill == BW_FILL_STITCH ? picture_stitches(p, plan, i) : picture_band(p, layout, plan, i)))
            return false;
    return true;
}

bool picture_press(picture *p, const bw_layout *layout, const bw_plan *plan) {
    return picture_edge(p, plan) && picture_lines(p, layout, plan) && press_all(p, layout, plan, BW_FILL_BASKET) &&
           picture_bevels(p, layout, plan) && press_all(p, layout, plan, BW_FILL_BORDER) &&
           press_all(p, layout, plan, BW_FILL_STITCH);
}

/* Onto a page that has as many dots as the picture. */
static shop_status write_out(const picture *p, const char *title, const char *file, show_words *said,
                             shop_problems *problems) {
    cairo_surface_t *image = cairo_image_surface_create(CAIRO_FORMAT_RGB24, p->width, p->height);
    paper_book *book = paper_book_create(PAPER_PNG, p->per_mm * BW_MM_PER_INCH, title);
    unsigned char *bytes = cairo_image_surface_get_data(image);
    bool fine = bytes && book;
    if (fine) {
        cairo_surface_flush(image);
        fine = picture_light(p, (unsigned *)(void *)bytes,
                             (size_t)cairo_image_surface_get_stride(image) / sizeof(unsigned));
        cairo_surface_mark_dirty(image);
    }
    shop_status status = SHOP_OK;
    if (fine) {
        cairo_t *cr = paper_page(book, p->width / p->per_mm, p->height / p->per_mm);
        cairo_identity_matrix(cr);
        cairo_set_source_surface(cr, image, 0, 0);
        cairo_paint(cr);
        cairo_surface_destroy(image);
        status = paper_book_write(book, file, NULL, problems);
    } else {
        cairo_surface_destroy(image);
        status = no_memory(problems);
    }
    paper_book_free(book);
    if (status == SHOP_OK && said) {
        char clean[200];
        shop_clean(file, strlen(file), clean, sizeof clean);
        snprintf(said->text, sizeof said->text, "written: %s, %d by %d pixels", clean, p->width, p->height);
    }
    return status;
}

shop_status paper_picture(const shop_project *project, const bw_plan *plan, int width, const char *file,
                          show_words *said, shop_problems *problems) {
    picture p;
    shop_status status = picture_create(plan, &project->layout, width, &p, problems);
    if (status != SHOP_OK)
        return status;
    char *title = shop_copy(project->piece.bytes, project->piece.length);
    if (title && picture_press(&p, &project->layout, plan))
        status = write_out(&p, title, file, said, problems);
    else
        status = no_memory(problems);
    free(title);
    picture_free(&p);
    return status;
}
