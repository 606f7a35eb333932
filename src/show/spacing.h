/* show/spacing.h - the cells of the whole spacing table: which there are, what stands in them, what they mean. */
#ifndef SHOW_SPACING_H
#define SHOW_SPACING_H

#include "show/inner.h"

typedef enum spacing_block { SPACING_LINES, SPACING_ROWS, SPACING_RUNS, SPACING_FIGURES, SPACING_BLOCKS } spacing_block;

typedef enum spacing_kind {
    LINE_NUMBER,
    LINE_FROM_EDGE,
    LINE_SHORTEST,
    LINE_LONGEST,
    LINE_LEAST_SHARE,
    LINE_MOST_SHARE,
    LINE_LEAST_LEG,
    LINE_MOST_LEG,
    LINE_TURN,
    LINE_MISS,
    LINE_TIGHTEST,
    LINE_WIDEST,
    ROW_NUMBER,
    ROW_FROM_EDGE,
    ROW_PRINTS,
    ROW_STRUCK,
    ROW_IMPRESSIONS,
    ROW_SHIFT,
    RUN_NUMBER,
    RUN_FROM,
    RUN_TO,
    RUN_LENGTH,
    RUN_COUNT,
    RUN_USUAL,
    RUN_GAP,
    RUN_STEP,
    RUN_CHANGE,
    RUN_FITS,
    FIGURE_NAME,
    FIGURE_VALUE,
    SPACING_KINDS
} spacing_kind;

typedef struct spacing_cell {
    spacing_block block;
    spacing_kind kind;
    size_t index; /* of the line, row, run or figure */
} spacing_cell;

/* False if there is no such cell. */
bool spacing_find(const show_view *view, size_t row, size_t column, spacing_cell *cell);
size_t spacing_block_rows(const show_view *view, spacing_block block);
/* The columns of a block, at most SPACING_KINDS; returns how many. */
size_t spacing_block_columns(const show_view *view, spacing_block block, spacing_kind kinds[SPACING_KINDS]);
const char *spacing_header(spacing_kind kind);
show_figure_text spacing_text(const show_view *view, const spacing_cell *cell);
/* What it means; spacing_words.c. */
void spacing_words(const show_view *view, const spacing_cell *cell, show_words *out);

#endif
