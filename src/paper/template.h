/* paper/template.h - what the parts of the template share: the frame of a page, the tiles, the piece drawn on them. */
#ifndef PAPER_TEMPLATE_H
#define PAPER_TEMPLATE_H

#include "paper/draw.h"

#define PAPER_TILES_MOST 200
#define PAPER_LABELS_MOST 1024

typedef struct paper_rect {
    double x, y, width, height; /* mm on the page, y downwards */
} paper_rect;

/* ---- the frame: head, check scales and the line of caution, the same on every page ---- */

/* What is drawn of a band on every page. */
typedef struct paper_band_lines {
    bw_placing *places; /* NULL: nothing is struck */
    size_t place_count;
    bw_curve *guide; /* NULL: none */
    bw_curve **rows; /* middles of the rows beside the guide */
    size_t row_count;
} paper_band_lines;

typedef struct paper_frame {
    paper_book *book;
    const shop_project *project;
    const bw_plan *plan;
    paper_asked asked;
    cairo_t *cr;                         /* of the page in hand */
    bool landscape;                      /* of the page in hand */
    int page, pages;                     /* pages 0: not known yet */
    paper_rect taken[PAPER_LABELS_MOST]; /* where labels and marks stand on the page in hand */
    int taken_count;
    paper_band_lines *bands; /* as many as the plan has */
    bool no_memory;          /* something was left out */
} paper_frame;

#define PAPER_SAME 0.02 /* mm: lines nearer than this are drawn as one */

/* Makes what is drawn of the bands; false without memory. Freed by paper_ready_free in either case. */
bool paper_ready(paper_frame *frame);
void paper_ready_free(paper_frame *frame);
/* An impression of a run, from 1 as they are struck; NULL: another run has it. */
const bw_placing *paper_place(const paper_frame *frame, size_t band, size_t run, int impression);

/* Begins a page and draws its frame; returns the window that is left. */
paper_rect paper_frame_page(paper_frame *frame, bool landscape, const char *what);
/* The window of a page without drawing it. */
paper_rect paper_frame_window(const paper_size *paper, bool landscape);
/* Styles that this piece needs, bits 1u << paper_style. */
unsigned paper_frame_styles(const paper_frame *frame);

/* ---- tiles ---- */

#define PAPER_OVERLAP 12.0 /* mm by which neighbouring tiles show the same */

typedef struct paper_tile {
    int row, column;
    int number; /* from 1; 0: nothing of the piece lies on it */
} paper_tile;

typedef struct paper_tiling {
    bool landscape, turned;   /* the sheet, the piece by a quarter */
    int rows, columns, count; /* count: tiles that are printed */
    double width, height;     /* mm of a window */
    bw_box box;               /* mm of all that is drawn, turned and mirrored, y upwards */
    double left, top;         /* mm, where the first tile begins, in the same */
    cairo_matrix_t place;     /* from the piece's mm to these */
    paper_tile *tiles;        /* rows x columns, row by row from the top; malloc'ed */
} paper_tiling;

/* The fewest tiles. False without memory, or with a reason where there would be too many. */
bool paper_tiling_find(paper_frame *frame, paper_tiling *tiling, char reason[160]);
void paper_tiling_free(paper_tiling *tiling);
const paper_tile *paper_tiling_tile(const paper_tiling *tiling, int row, int column); /* NULL outside, or of none */
/* From the piece's mm to those of the page, for a window that begins there. */
cairo_matrix_t paper_tiling_matrix(const paper_tiling *tiling, const paper_tile *tile, paper_rect window);

/* ---- the piece ---- */

/* Every line of the piece, clipped to the window. */
void paper_piece(const paper_frame *frame, const cairo_matrix_t *matrix, paper_rect window);
void paper_face(cairo_t *cr, const bw_band_plan *band, bw_point at, double turn);
/* A part of a band's guide, mm along it; `to` may pass the end of a closed run, whose places go on from there. */
typedef struct paper_part {
    size_t run;
    double from, to;
} paper_part;
/* mm along the guide as the part counts it. */
double paper_part_place(const bw_run_plan *run, const paper_part *part, double along);
bool paper_part_has(const bw_band_plan *band, const paper_part *part, const bw_placing *place);
/* One band, with the edge, and the faces of a part of it. Clipping is the caller's. */
void paper_band(const paper_frame *frame, const cairo_matrix_t *matrix, size_t band, const paper_part *part);
/* The style of a border line or guide; false: a guide that there is not. */
bool paper_line_of(const bw_plan *plan, size_t band, bw_which which, paper_style *style);

/* Start mark and check marks with their numbers. */
void paper_marks(paper_frame *frame, const cairo_matrix_t *matrix, paper_rect window);
/* How far from the edge places of a page lie. NULL without memory; the matrix is that of paper_tiling_matrix. */
typedef struct paper_depths paper_depths;
paper_depths *paper_depths_create(const paper_frame *frame, const cairo_matrix_t *matrix, paper_rect window);
void paper_depths_free(paper_depths *depths); /* NULL is fine */
/* How many lines of the piece a place on the page covers, by their distances from the edge. */
int paper_crossed(paper_depths *depths, paper_rect place);
void paper_join_mark(cairo_t *cr, double x, double y);
/* A place that later labels leave free. */
void paper_take(paper_frame *frame, paper_rect place);

/* ---- a page that fills from above ---- */

typedef struct paper_flow {
    paper_frame *frame;
    const char *what;
    paper_rect window;
    double y; /* mm on the page: where the next thing begins */
} paper_flow;

void paper_flow_page(paper_flow *flow);
/* So many mm in one piece: on a new page if this one has no such room. */
void paper_flow_need(paper_flow *flow, double height);
void paper_flow_head(paper_flow *flow, const char *text);
void paper_flow_text(paper_flow *flow, double in, const char *text);

void paper_cover(paper_flow *flow, const paper_tiling *tiling); /* cautions, settings, legend, map */
void paper_samples(paper_flow *flow);                           /* trial strips and straightened samples */

#endif
