/* The spacing table: the weave lines with step and overlap, then the rows with cover and lean. */
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "show/inner.h"

typedef struct table {
    show_grid *grid;
    show_rect where;
    int first, next; /* rows scrolled away; the row that comes next */
} table;

__attribute__((format(printf, 3, 4))) static void put(table *t, unsigned look, const char *format, ...) {
    int line = t->next++ - t->first;
    if (line < 0 || line >= t->where.height)
        return;
    char text[256];
    va_list rest;
    va_start(rest, format);
    vsnprintf(text, sizeof text, format, rest);
    va_end(rest);
    show_put(t->grid, t->where.x, t->where.y + line, t->where.width, look, text);
}

/* "8.69 mm", or "7.4-8.04 mm" where it varies. */
static show_figure_text range(const shop_project *project, double least, double most) {
    show_figure_text low = show_length(project, least), high = show_length(project, most), out;
    if (strcmp(low.text, high.text) == 0)
        return low;
    char *unit = strrchr(low.text, ' ');
    if (unit)
        *unit = '\0';
    snprintf(out.text, sizeof out.text, "%.20s-%.20s", low.text, high.text);
    return out;
}

static show_figure_text shares(double least, double most) {
    show_figure_text out;
    double low = round(least * 100), high = round(most * 100);
    if (low == high)
        snprintf(out.text, sizeof out.text, "%.0f %%", low);
    else
        snprintf(out.text, sizeof out.text, "%.0f-%.0f %%", low, high);
    return out;
}

#define NARROW 50 /* cells under which only what a maker sets by is shown */

/* Line, step and how far legs overlap; ! marks what does not work. */
static void put_line_narrow(table *t, const show_view *view, const bw_band_plan *band, const bw_weave_line *line) {
    const shop_project *p = view->project;
    bool basket = band->fill == BW_FILL_BASKET, apart = basket && line->overlap_least < -BW_EPS,
         riding = basket && line->overlap_most > 1 + BW_EPS;
    show_figure_text overlap = {""};
    if (apart)
        overlap = show_signed(p, line->overlap_least * band->face.leg);
    else if (basket)
        overlap = range(p, line->overlap_least * band->face.leg, line->overlap_most * band->face.leg);
    put(t, apart || riding ? SHOW_BOLD | SHOW_BAD : SHOW_PLAIN, "%3d  %-9s %s%s", line->line,
        range(p, line->step_least, line->step_most).text, overlap.text, apart || riding ? " !" : "");
}

static void put_narrow(table *t, const show_view *view, const bw_band_plan *band) {
    put(t, SHOW_UNDERLINE, "line step      %s", band->fill == BW_FILL_BASKET ? "overlap" : "");
    for (size_t i = 0; i < band->line_count; i++)
        put_line_narrow(t, view, band, &band->lines[i]);
    put(t, SHOW_UNDERLINE, "row from edge  prints");
    for (size_t i = 0; i < band->row_count; i++)
        put(t, SHOW_PLAIN, "%3d %-11s%-6s%s", band->rows[i].row,
            show_length(view->project, band->rows[i].from_edge).text,
            shares(band->rows[i].cover, band->rows[i].cover).text, band->rows[i].leaned ? "lean" : "");
    if (band->fill != BW_FILL_STITCH) {
        put(t, SHOW_PLAIN, "bare outside  %s", show_length(view->project, band->bare_outer).text);
        put(t, SHOW_PLAIN, "bare inside   %s", show_length(view->project, band->bare_inner).text);
    }
}

static void put_lines(table *t, const show_view *view, const bw_band_plan *band) {
    const shop_project *p = view->project;
    bool basket = band->fill == BW_FILL_BASKET, angled = basket && p->bands[view->band].lay == BW_LAY_ANGLED;
    put(t, SHOW_UNDERLINE, "%-5s%-11s%-15s%s%s", "line", "from edge", "step", basket ? "legs overlap" : "",
        angled ? "      rails miss" : "");
    for (size_t i = 0; i < band->line_count; i++) {
        const bw_weave_line *line = &band->lines[i];
        show_figure_text miss = {""};
        if (angled)
            miss = show_difference(p, line->miss);
        bool bad = basket && (line->overlap_least < -BW_EPS || (line->overlap_most > 1 + BW_EPS));
        put(t, bad ? SHOW_BOLD | SHOW_BAD : SHOW_PLAIN, "%3d  %-11s%-15s%-9s %-8s%s%s", line->line,
            show_length(p, line->from_edge).text, range(p, line->step_least, line->step_most).text,
            basket ? shares(line->overlap_least, line->overlap_most).text : "",
            basket ? range(p, line->overlap_least * band->face.leg, line->overlap_most * band->face.leg).text : "",
            angled ? "  " : "", miss.text);
        if (bad)
            put(t, SHOW_BAD, "     ! %s", line->overlap_least < 0 ? "legs miss each other" : "legs ride on the bars");
    }
}

static void put_rows(table *t, const show_view *view, const bw_band_plan *band) {
    put(t, SHOW_UNDERLINE, "%-5s%-11s%-8s%-8s%s", "row", "from edge", "prints", "struck",
        show_impressions_word(band->fill));
    for (size_t i = 0; i < band->row_count; i++) {
        const bw_row_plan *row = &band->rows[i];
        put(t, SHOW_PLAIN, "%3d  %-11s%-8s%-8s%d", row->row, show_length(view->project, row->from_edge).text,
            shares(row->cover, row->cover).text, row->leaned ? "leaned" : "whole", row->impressions);
    }
}

static void put_strips(table *t, const show_view *view, const bw_band_plan *band) {
    const shop_project *p = view->project;
    if (band->fill == BW_FILL_STITCH)
        return;
    put(t, SHOW_PLAIN, "bare strip: outer %s, inner %s", show_length(p, band->bare_outer).text,
        show_length(p, band->bare_inner).text);
    if (band->has_notch)
        put(t, SHOW_PLAIN, "notches: outer %s, inner %s", show_length(p, band->notch_outer).text,
            show_length(p, band->notch_inner).text);
}

int show_table(show_grid *grid, show_rect where, const show_view *view, int first) {
    table t = {grid, show_inside(grid, where), first < 0 ? 0 : first, 0};
    const bw_band_plan *band = show_view_band(view);
    if (!band) {
        put(&t, SHOW_DIM, "no band yet");
        return t.next;
    }
    if (band->fill == BW_FILL_PLAIN) {
        put(&t, SHOW_DIM, "plain leather: no steps here");
        return t.next;
    }
    if (t.where.width < NARROW) {
        put_narrow(&t, view, band);
        return t.next;
    }
    put_lines(&t, view, band);
    put_rows(&t, view, band);
    put_strips(&t, view, band);
    return t.next;
}
