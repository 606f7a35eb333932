/* maths/band.h - one band worked out: guide, lay, rows, lines, and every run spread and judged. */
#ifndef MATHS_BAND_H
#define MATHS_BAND_H

#include "maths/spread.h"

/* The edge of a layout, laid out, with what all bands share. */
typedef struct maths_edge {
    bw_curve *curve;
    double start;    /* mm along it: the start mark */
    double scale;    /* from the sizes of the file to laid-out ones */
    double *anchors; /* mm along it: the shape's own */
    size_t anchor_count;
    bw_outline of; /* what the curve was made of, laid out; in the arena */
} maths_edge;

/* before: an edge whose curve is copied if the outline is the same; NULL for none. */
bw_status maths_edge_make(maths_edge *edge, const bw_layout *layout, const maths_edge *before, maths_arena *arena);

typedef struct maths_worked_run {
    maths_task task;
    maths_spread spread;
    bool short_run;
    double convex, concave; /* greatest mean curvatures over a face length */
    maths_felt *felt;       /* one a line */
    maths_margins margins;
    bw_verdict verdict;
} maths_worked_run;

typedef struct maths_worked {
    const bw_band *band;
    const maths_edge *edge;
    maths_strip strip;
    bw_curve *outer, *inner; /* freed with maths_band_free, as is the guide's curve */
    maths_guide guide;
    bool outer_gone, inner_gone, guide_gone;
    maths_lay lay;
    maths_rows rows;
    maths_line *lines;
    size_t line_count;
    double *anchors; /* mm along the guide, in the order of the anchors; only with BW_LOSE_ANCHORED */
    size_t anchor_count;
    maths_worked_run *runs; /* guide.run_count */
} maths_worked;

/* Where band i lies. */
maths_strip maths_strip_of(const bw_layout *layout, size_t band, double scale);
/* Works out a band, not a plain one further than its lines. False without memory; free it either way. */
bool maths_band_make(maths_worked *work, const bw_layout *layout, const maths_edge *edge, size_t band,
                     maths_arena *arena);
void maths_band_free(maths_worked *work);

/* Impressions of a run in a row. shared: the run's last hole is listed by the run that starts there. */
int maths_impressions(const maths_lay *lay, const bw_row_plan *row, int count, bool closed, bool shared);
/* Does the next run list the last hole of run i? */
bool maths_shares_end(const maths_worked *work, size_t run);

/* Where the impressions stand along every run; NULL without memory. */
double **maths_all_places(const maths_worked *work, maths_arena *arena);

/* The verdict on a band that is not plain, with its margins: all that a trial asks for. */
void maths_band_fit(bw_fit *fit, const maths_worked *work);

/* Everything a plan shows of a band, from what was worked out. */
bool maths_band_report(bw_band_plan *out, const maths_worked *work, maths_arena *arena);

#endif
