/* ready.c - what every page draws of the bands, made once before the first page: later nothing can be left out. */
#include <math.h>
#include <stdlib.h>

#include "paper/template.h"
#include "shop/alloc.h"

static const bw_allocator memory = {.resize = shop_maths_resize};

/* The middle lines of rows beside the guide. False without memory. */
static bool rows_ready(const bw_plan *plan, const bw_band_plan *band, paper_band_lines *lines) {
    if (band->fill != BW_FILL_BASKET || band->row_count == 0)
        return true;
    lines->rows = shop_alloc(band->row_count * sizeof(bw_curve *));
    for (size_t i = 0; lines->rows && i < band->row_count; i++) {
        double from_edge = band->rows[i].from_edge;
        if (from_edge < 0 || fabs(from_edge - band->guide_from_edge) < PAPER_SAME)
            continue;
        bw_status status = bw_curve_offset(plan->edge, from_edge, &memory, &lines->rows[lines->row_count]);
        if (status == BW_OK)
            lines->row_count++;
        else if (status == BW_NO_MEMORY)
            return false;
    }
    return lines->rows != NULL;
}

static bool band_ready(const bw_plan *plan, size_t index, paper_band_lines *lines) {
    const bw_band_plan *band = &plan->bands[index];
    *lines = (paper_band_lines){0};
    if (band->fill == BW_FILL_PLAIN)
        return true;
    if (band->strikes > 0) {
        if (bw_placings_create(plan, index, &memory, &lines->places, &lines->place_count) == BW_NO_MEMORY ||
            bw_guide_create(plan, index, &memory, &lines->guide) == BW_NO_MEMORY)
            return false;
    }
    return rows_ready(plan, band, lines);
}

bool paper_ready(paper_frame *frame) {
    size_t count = frame->plan->band_count;
    frame->bands = shop_alloc(count * sizeof *frame->bands);
    for (size_t i = 0; frame->bands && i < count; i++)
        frame->bands[i] = (paper_band_lines){0};
    for (size_t i = 0; frame->bands && i < count; i++)
        if (!band_ready(frame->plan, i, &frame->bands[i]))
            return false;
    return frame->bands != NULL;
}

void paper_ready_free(paper_frame *frame) {
    for (size_t i = 0; frame->bands && i < frame->plan->band_count; i++) {
        paper_band_lines *lines = &frame->bands[i];
        bw_placings_release(lines->places, &memory);
        bw_curve_destroy(lines->guide);
        for (size_t k = 0; k < lines->row_count; k++)
            bw_curve_destroy(lines->rows[k]);
        free(lines->rows);
    }
    free(frame->bands);
    frame->bands = NULL;
}

const bw_placing *paper_place(const paper_frame *frame, size_t band, size_t run, int impression) {
    const paper_band_lines *lines = &frame->bands[band];
    int row, number;
    show_impression_row(&frame->plan->bands[band], frame->project->bands[band].lay == BW_LAY_STRAIGHT, impression, &row,
                        &number);
    size_t from = 0, to = lines->place_count; /* they stand by row, run and number */
    int way = to > 0 && lines->places[0].row > lines->places[to - 1].row ? -1 : 1;
    while (from < to) {
        size_t middle = from + (to - from) / 2;
        const bw_placing *place = &lines->places[middle];
        int after = place->row != row            ? way * (place->row - row)
                    : place->run != (int)run + 1 ? place->run - (int)run - 1
                                                 : place->number - number;
        if (after == 0)
            return place;
        if (after < 0)
            from = middle + 1;
        else
            to = middle;
    }
    return NULL;
}
