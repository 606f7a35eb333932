/* template.c - the template as a whole: words and trial strips first, then the piece, on as few sheets as it goes. */
#include <math.h>

#include "paper/template.h"

#define MARK 2.2 /* mm, radius of a joining mark */

/* A ring with two dark quarters: its middle is found by eye and by ruler. */
void paper_join_mark(cairo_t *cr, double x, double y) {
    cairo_save(cr);
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_arc(cr, x, y, MARK, 0, 2 * BW_PI);
    cairo_fill(cr);
    paper_line_style(cr, PAPER_FINE);
    cairo_arc(cr, x, y, MARK, 0, 2 * BW_PI);
    cairo_stroke(cr);
    for (int i = 0; i < 2; i++) {
        cairo_move_to(cr, x, y);
        cairo_arc(cr, x, y, MARK * 0.7, -BW_PI / 2 + i * BW_PI, i * BW_PI);
        cairo_close_path(cr);
        cairo_fill(cr);
    }
    paper_segment(cr, x - MARK * 1.5, y, x + MARK * 1.5, y);
    paper_segment(cr, x, y - MARK * 1.5, x, y + MARK * 1.5);
    cairo_restore(cr);
}

typedef struct tile_page {
    paper_frame *frame;
    const paper_tiling *tiling;
    const paper_tile *tile;
    paper_rect window;
} tile_page;

static int page_of(const tile_page *p, const paper_tile *tile) {
    return p->frame->pages - p->tiling->count + tile->number;
}

/* Where along the overlap the first or second mark stands, as a share of the window: near a fifth from its end, where
 * it covers fewest lines. Both pages ask the tile above or to the left, so that they find the same. */
static double mark_share(const tile_page *p, const paper_tile *tile, bool upright, int which) {
    cairo_matrix_t matrix = paper_tiling_matrix(p->tiling, tile, p->window);
    paper_depths *depths = paper_depths_create(p->frame, &matrix, (paper_rect){0, 0, 0, 0}); /* a few places only */
    p->frame->no_memory = p->frame->no_memory || !depths;
    double best = 0.2;
    int least = 1000;
    for (int i = 0; depths && i < 13; i++) { /* 0.2, then away from it to both sides */
        double share = 0.2 + (i % 2 ? -1 : 1) * 0.025 * ((i + 1) / 2);
        double at = which == 0 ? share : 1 - share;
        const paper_rect *w = &p->window;
        double x = upright ? w->x + w->width - PAPER_OVERLAP / 2 : w->x + w->width * at;
        double y = upright ? w->y + w->height * at : w->y + w->height - PAPER_OVERLAP / 2;
        int lines = paper_crossed(depths, (paper_rect){x - 4, y - 4, 8, 10});
        if (lines < least) {
            least = lines;
            best = at;
        }
    }
    paper_depths_free(depths);
    return best;
}

static void name_mark(const tile_page *p, int one, int two, int which, double x, double y, bool upright) {
    cairo_t *cr = p->frame->cr;
    char name[32];
    snprintf(name, sizeof name, "%d+%d %c", one < two ? one : two, one < two ? two : one, 'a' + which);
    paper_font(cr, 2.0, true);
    cairo_set_source_rgb(cr, 0, 0, 0);
    double text_x = upright ? x : x + MARK * 1.5 + 6, text_y = upright ? y + MARK * 1.5 + 2.4 : y - 1;
    paper_label(cr, text_x, text_y, PAPER_MIDDLE, name);
    paper_take(p->frame, (paper_rect){x - 3.5, y - 3.5, 7, 7});
    paper_take(p->frame, (paper_rect){text_x - 5, text_y - 2.2, 10, 3});
}

/* The two marks shared with a neighbour, and the line between them to cut or fold along. */
static void join(const tile_page *p, int down, int right) {
    const paper_tile *other = paper_tiling_tile(p->tiling, p->tile->row + down, p->tile->column + right);
    if (!other)
        return;
    cairo_t *cr = p->frame->cr;
    const paper_rect *w = &p->window;
    bool upright = right != 0;
    double x = right > 0 ? w->x + w->width - PAPER_OVERLAP / 2 : w->x + PAPER_OVERLAP / 2;
    double y = down > 0 ? w->y + w->height - PAPER_OVERLAP / 2 : w->y + PAPER_OVERLAP / 2;
    paper_line_style(cr, PAPER_ROW);
    cairo_set_source_rgb(cr, 0.2, 0.2, 0.2);
    if (upright)
        paper_segment(cr, x, w->y, x, w->y + w->height);
    else
        paper_segment(cr, w->x, y, w->x + w->width, y);
    for (int i = 0; i < 2; i++) {
        double share = mark_share(p, right < 0 || down < 0 ? other : p->tile, upright, i);
        double at_x = upright ? x : w->x + w->width * share, at_y = upright ? w->y + w->height * share : y;
        paper_join_mark(cr, at_x, at_y);
        name_mark(p, page_of(p, p->tile), page_of(p, other), i, at_x, at_y, upright);
    }
}

static void draw_tile(paper_frame *frame, const paper_tiling *tiling, const paper_tile *tile) {
    paper_rect w = paper_frame_page(frame, tiling->landscape, "template");
    const tile_page p = {frame, tiling, tile, w};
    cairo_matrix_t matrix = paper_tiling_matrix(tiling, tile, w);
    paper_piece(frame, &matrix, w);
    if (tiling->count > 1) {
        paper_line_style(frame->cr, PAPER_FINE);
        cairo_rectangle(frame->cr, w.x, w.y, w.width, w.height);
        cairo_stroke(frame->cr);
    }
    join(&p, 0, 1);
    join(&p, 0, -1);
    join(&p, 1, 0);
    join(&p, -1, 0);
    paper_marks(frame, &matrix, w);
}

static void draw_words(paper_frame *frame, const paper_tiling *tiling) {
    paper_flow flow = {.frame = frame, .what = "words and trial strips"};
    paper_flow_page(&flow);
    paper_cover(&flow, tiling);
    paper_samples(&flow);
}

/* How many pages the words take is known once they have been laid out. */
static int pages_of_words(const paper_frame *asked, const paper_tiling *tiling) {
    paper_frame frame = *asked;
    frame.book = paper_book_create(PAPER_SVG, PAPER_DPI, "");
    if (!frame.book)
        return -1;
    draw_words(&frame, tiling);
    paper_book_free(frame.book);
    return frame.no_memory ? -1 : frame.page;
}

/* False where memory ran out: what is not whole is not written. */
static bool draw_all(paper_frame *frame, const paper_tiling *tiling) {
    int words = paper_ready(frame) ? pages_of_words(frame, tiling) : -1;
    if (words < 0)
        return false;
    frame->pages = words + tiling->count;
    draw_words(frame, tiling);
    for (int i = 0; i < tiling->rows * tiling->columns; i++) {
        const paper_tile *tile = paper_tiling_tile(tiling, i / tiling->columns, i % tiling->columns);
        if (tile)
            draw_tile(frame, tiling, tile);
    }
    return !frame->no_memory;
}

static shop_status refuse(shop_problems *problems, shop_status status, const char *why) {
    shop_problem_add(problems, false, 0, 0, "%s", why);
    return status;
}

shop_status paper_template(const shop_project *project, const bw_plan *plan, const paper_asked *asked, const char *file,
                           show_words *said, shop_problems *problems) {
    paper_kind kind;
    paper_tiling tiling;
    char reason[160], title[300];
    if (!paper_kind_of(file, &kind, reason))
        return refuse(problems, SHOP_CANNOT_MAKE, reason);
    paper_frame frame = {.project = project, .plan = plan, .asked = *asked};
    if (!paper_tiling_find(&frame, &tiling, reason))
        return refuse(problems, frame.no_memory ? SHOP_NO_MEMORY : SHOP_CANNOT_MAKE, reason);
    if (kind == PAPER_PNG && asked->png_most > 0 && tiling.count > asked->png_most) {
        snprintf(reason, sizeof reason, "this would be %d sheets as .png: take .pdf, or let the command line draw them",
                 tiling.count);
        paper_tiling_free(&tiling);
        return refuse(problems, SHOP_CANNOT_MAKE, reason);
    }
    shop_clean(project->piece.bytes, project->piece.length, title, sizeof title);
    frame.book = paper_book_create(kind, PAPER_DPI, title);
    shop_status status = frame.book && draw_all(&frame, &tiling) ? paper_book_write(frame.book, file, said, problems)
                                                                 : refuse(problems, SHOP_NO_MEMORY, "out of memory");
    paper_ready_free(&frame);
    paper_book_free(frame.book);
    paper_tiling_free(&tiling);
    return status;
}
