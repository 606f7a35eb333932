/* The spacing table: the weave lines with step and overlap, then the rows with cover and lean. */
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "show/inner.h"
#include "show/legs.h"

typedef struct table {
    show_grid *grid;
    show_rect where;
    int first, next; /* rows scrolled away; the row that comes next */
    int header;      /* the last header put */
} table;

__attribute__((format(printf, 3, 4))) static void put(table *t, unsigned look, const char *format, ...) {
    int line = t->next++ - t->first;
    if (look & SHOW_UNDERLINE && line < t->where.height)
        t->header = line;
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
#define COLUMNS 7
enum { ROW_BLOCK = 10, LINE_BLOCK = 11 }; /* how much a first column is kept: more than any other */

/* One column: its cells are as wide as the widest of them. */
typedef struct column {
    const char *name;
    int width, keep; /* the least kept is dropped first */
} column;

/* Writes the cells of a row (index from 0), "" where there is nothing. */
typedef void cells_of(const show_view *view, size_t index, bool units, show_figure_text out[COLUMNS]);

static int width_of(const column *list, int gap) {
    int width = -gap;
    for (int i = 0; i < COLUMNS; i++)
        width += list[i].width > 0 ? list[i].width + gap : 0;
    return width;
}

/* Widths of the columns that stay; a whole column goes before a figure is cut. Returns whether all stay. */
static bool choose_columns(column *list, int room, int *gap) {
    for (*gap = 2; *gap > 1 && width_of(list, *gap) > room;)
        --*gap;
    bool all = true;
    while (width_of(list, *gap) > room) {
        int least = -1;
        for (int i = 0; i < COLUMNS; i++)
            if (list[i].width > 0 && (least < 0 || list[i].keep < list[least].keep))
                least = i;
        list[least].width = 0;
        all = false;
    }
    return all;
}

static void join(show_words *out, const column *list, int gap, const show_figure_text cells[COLUMNS]) {
    int blanks = 0;
    show_start(out);
    for (int i = 0; i < COLUMNS; i++) {
        if (list[i].width == 0)
            continue;
        show_say(out, "%*s%s", blanks, "", cells ? cells[i].text : list[i].name);
        blanks = list[i].width - show_text_width(cells ? cells[i].text : list[i].name) + gap;
    }
}

static void measure(column *list, const show_view *view, size_t count, cells_of *cells, bool units) {
    for (int i = 0; i < COLUMNS; i++)
        list[i].width = list[i].name ? show_text_width(list[i].name) : 0;
    for (size_t row = 0; row < count; row++) {
        show_figure_text text[COLUMNS] = {{""}};
        cells(view, row, units, text);
        for (int i = 0; i < COLUMNS; i++)
            if (list[i].name && show_text_width(text[i].text) > list[i].width)
                list[i].width = show_text_width(text[i].text);
    }
}

/* Why a line does not work, NULL if it does. */
static const char *wrong(const bw_band_plan *band, const bw_weave_line *line) {
    if (band->fill != BW_FILL_BASKET)
        return NULL;
    return line->overlap_least < -BW_EPS     ? show_passed(band, true)
           : line->overlap_most > 1 + BW_EPS ? show_passed(band, false)
                                             : NULL;
}

static void put_block(table *t, const show_view *view, column *list, size_t count, cells_of *cells) {
    const bw_band_plan *band = show_view_band(view);
    bool lines = list[0].keep == LINE_BLOCK, units = true;
    int gap;
    measure(list, view, count, cells, true);
    if (!choose_columns(list, t->where.width, &gap)) {
        units = false;
        measure(list, view, count, cells, false);
        choose_columns(list, t->where.width, &gap);
    }
    show_words words;
    join(&words, list, gap, NULL);
    put(t, SHOW_UNDERLINE, "%s", words.text);
    for (size_t row = 0; row < count; row++) {
        show_figure_text text[COLUMNS] = {{""}};
        const char *why = lines ? wrong(band, &band->lines[row]) : NULL;
        cells(view, row, units, text);
        join(&words, list, gap, text);
        put(t, why ? SHOW_BOLD | SHOW_BAD : SHOW_PLAIN, "%s", words.text);
        if (why && t->where.width >= NARROW)
            put(t, SHOW_BAD, "     ! %s", why);
    }
}

static void without_unit(show_figure_text *text) {
    char *unit = strrchr(text->text, ' ');
    if (unit && unit[1] != '\0' && unit[1] != '%')
        *unit = '\0';
}

static void line_cells(const show_view *view, size_t index, bool units, show_figure_text out[COLUMNS]) {
    const shop_project *p = view->project;
    const bw_band_plan *band = show_view_band(view);
    const bw_weave_line *line = &band->lines[index];
    snprintf(out[0].text, sizeof out[0].text, "%3d", line->line);
    out[1] = show_length(p, line->from_edge);
    out[2] = range(p, line->step_least, line->step_most);
    if (band->fill == BW_FILL_BASKET) {
        double least = show_legs(band, line->step_most), most = show_legs(band, line->step_least);
        out[3] = shares(least / band->face.leg, most / band->face.leg);
        out[4] = least < -BW_EPS ? show_signed(p, least) : range(p, least, most);
        out[5] = show_difference(p, line->miss);
        snprintf(out[6].text, sizeof out[6].text, "%s", wrong(band, line) ? "!" : "");
    }
    for (int i = 1; i < 6 && !units; i++)
        without_unit(&out[i]);
}

static void row_cells(const show_view *view, size_t index, bool units, show_figure_text out[COLUMNS]) {
    const bw_row_plan *row = &show_view_band(view)->rows[index];
    snprintf(out[0].text, sizeof out[0].text, "%3d", row->row);
    out[1] = show_length(view->project, row->from_edge);
    out[2] = shares(row->cover, row->cover);
    snprintf(out[3].text, sizeof out[3].text, "%s", row->leaned ? "leaned" : "whole");
    snprintf(out[4].text, sizeof out[4].text, "%d", row->impressions);
    snprintf(out[5].text, sizeof out[5].text, "%s", row->leaned ? "lean" : "");
    if (!units)
        without_unit(&out[1]);
}

static void put_lines(table *t, const show_view *view, const bw_band_plan *band) {
    bool wide = t->where.width >= NARROW, basket = band->fill == BW_FILL_BASKET;
    bool angled = basket && view->project->bands[view->band].lay == BW_LAY_ANGLED;
    column list[COLUMNS] = {{"line", 0, LINE_BLOCK},
                            {wide ? "from edge" : NULL, 0, 0},
                            {"step", 0, 3},
                            {wide && basket ? "legs overlap" : NULL, 0, 1},
                            {!basket ? NULL
                             : wide  ? ""
                                     : "overlap",
                             0, 4},
                            {wide && angled ? "rails miss" : NULL, 0, 2},
                            {wide ? NULL : "", 0, 5}};
    put_block(t, view, list, band->line_count, line_cells);
}

static void put_rows(table *t, const show_view *view, const bw_band_plan *band) {
    bool wide = t->where.width >= NARROW;
    column list[COLUMNS] = {{"row", 0, ROW_BLOCK},
                            {"from edge", 0, 0},
                            {"prints", 0, 4},
                            {wide ? "struck" : NULL, 0, 3},
                            {wide ? show_impressions_word(band->fill) : NULL, 0, 2},
                            {wide ? NULL : "", 0, 1},
                            {NULL, 0, 9}};
    put_block(t, view, list, band->row_count, row_cells);
}

/* The figure whole, or none. */
static void put_strip(table *t, const char *name, show_figure_text figure) {
    if ((int)strlen(name) + show_text_width(figure.text) <= t->where.width)
        put(t, SHOW_PLAIN, "%s%s", name, figure.text);
}

static void put_strips(table *t, const show_view *view, const bw_band_plan *band) {
    const shop_project *p = view->project;
    if (band->fill == BW_FILL_STITCH)
        return;
    if (t->where.width < NARROW) {
        put_strip(t, "bare outside  ", show_length(p, band->bare_outer));
        put_strip(t, "bare inside   ", show_length(p, band->bare_inner));
        return;
    }
    put(t, SHOW_PLAIN, "bare strip: outer %s, inner %s", show_length(p, band->bare_outer).text,
        show_length(p, band->bare_inner).text);
    if (band->has_notch)
        put(t, SHOW_PLAIN, "notches: outer %s, inner %s", show_length(p, band->notch_outer).text,
            show_length(p, band->notch_inner).text);
}

/* Where the steps are least and greatest, if they differ along their line. */
static void put_extremes(table *t, const show_view *view, const bw_band_plan *band) {
    for (int side = 0; side < 2; side++) {
        bool widest = side == 1;
        int number = widest ? show_widest(view->plan, view->band) : show_tightest(view->plan, view->band);
        const bw_weave_line *line = show_extreme_line(band, widest);
        if (number == 0 || !line)
            continue;
        const bw_extreme *at = widest ? &line->widest : &line->tightest;
        show_words words;
        show_start(&words);
        show_say(&words, "%s ", widest ? "widest" : "tightest");
        if (t->where.width < NARROW)
            show_say(&words, "at %d, edge %s", number, show_edge_length(view->project, at->edge_along).text);
        else
            show_say_extreme(&words, view->project, view->plan, view->band, at);
        if (show_text_width(words.text) <= t->where.width) /* the figures whole, or none */
            put(t, SHOW_PLAIN, "%s", words.text);
    }
}

/* What does not fit is told on the last line, or in the place of a header that has nothing under it. */
static void put_more(const table *t) {
    int last = t->where.height - 1, left = t->next - t->first - t->where.height;
    if (left <= 0 || last < 2)
        return;
    int line = t->header == last - 1 ? last - 1 : last;
    for (int y = line; y <= last; y++)
        show_putf(t->grid, t->where.x, t->where.y + y, t->where.width, SHOW_PLAIN, "%*s", t->where.width, "");
    show_put(t->grid, t->where.x, t->where.y + line, t->where.width, SHOW_DIM, "more: v");
}

int show_table(show_grid *grid, show_rect where, const show_view *view, int first) {
    table t = {grid, show_inside(grid, where), first < 0 ? 0 : first, 0, -1};
    const bw_band_plan *band = show_view_band(view);
    if (!band) {
        put(&t, SHOW_DIM, "no band yet");
        return t.next;
    }
    if (band->fill == BW_FILL_PLAIN) {
        put(&t, SHOW_DIM, t.where.width < 28 ? "plain leather" : "plain leather: no steps here");
        return t.next;
    }
    put_lines(&t, view, band);
    put_extremes(&t, view, band);
    put_rows(&t, view, band);
    put_strips(&t, view, band);
    put_more(&t);
    return t.next;
}
