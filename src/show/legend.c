/* The marks of the preview: where they go, and what each of them says. */
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "show/sheet.h"

#define BARE_APART 8 /* cells from one mark of a bare strip to the next */

/* ---- drawing ---- */

/* A stretch of the guide, every cell of it; over the guide's start where `to` comes before `from`. */
static void mark_stretch(const sheet *s, const bw_curve *guide, const show_spot *spot) {
    double length = bw_curve_length(guide), way = spot->to - spot->from, fine = fmin(s->per_column, s->per_line) / 2;
    if (way < 0)
        way += length;
    int samples = (int)fmin(100000, ceil(way / fine));
    for (int i = 0; i <= samples; i++) {
        double along = spot->from + (samples > 0 ? way * i / samples : 0);
        sheet_mark(s, bw_curve_at(guide, along > length ? along - length : along).at, '!', SHOW_BOLD | SHOW_BAD);
    }
}

static void mark_bare(const sheet *s, const show_spot *spot) {
    bw_curve *strip;
    if (bw_curve_offset(s->view->plan->edge, spot->from, NULL, &strip) != BW_OK)
        return;
    double length = bw_curve_length(strip), apart = BARE_APART * s->per_column;
    int marks = (int)fmin(20000, floor(length / apart));
    for (int i = 0; i < marks; i++)
        sheet_mark(s, bw_curve_at(strip, length * i / marks).at, 'b', SHOW_WARN);
    bw_curve_destroy(strip);
}

/* Beside a small drawing there is no room for the words of all marks: then those are not drawn. */
static bool is_drawn(const show_view *view, char mark) {
    return view->sight || strchr("S!TW", mark) != NULL;
}

void show_spots_draw(const sheet *s, const show_spot *spots, size_t count) {
    static const char order[] = "b!C987654321sTWS"; /* what comes last lies on top */
    bw_curve *guide = NULL;
    for (const char *mark = order; *mark; mark++)
        for (size_t i = 0; i < count; i++) {
            const show_spot *spot = &spots[i];
            if (spot->mark != *mark || !is_drawn(s->view, *mark))
                continue;
            if (*mark == 'b')
                mark_bare(s, spot);
            else if (*mark != '!')
                sheet_mark(s, spot->at, *mark, SHOW_BOLD | (strchr("TWC", *mark) ? SHOW_WARN : 0u));
            else if (guide || bw_guide_create(s->view->plan, s->view->band, NULL, &guide) == BW_OK)
                mark_stretch(s, guide, spot);
        }
    bw_curve_destroy(guide);
    if (count == 0 || spots[0].mark != 'S')
        sheet_mark(s, bw_curve_at(s->view->plan->edge, s->view->plan->start_along).at, 'S', SHOW_BOLD);
    bw_placing placing;
    if (s->view->impression > 0 &&
        show_impression_place(s->view->project, s->view->plan, s->view->band, s->view->impression, &placing))
        sheet_mark(s, placing.at, '@', SHOW_BOLD | SHOW_REVERSE);
}

/* ---- the legend beside a small drawing: three lines at most ---- */

static bool has(const show_spot *spots, size_t count, char mark) {
    for (size_t i = 0; i < count; i++)
        if (spots[i].mark == mark)
            return true;
    return false;
}

/* The letters of the drawing with their steps: a letter only where there is such a place. */
static void say_steps(show_words *out, const show_view *view, bool roomy) {
    const bw_band_plan *band = show_view_band(view);
    const bw_weave_line *tight = band ? show_extreme_line(band, false) : NULL,
                        *wide = band ? show_extreme_line(band, true) : NULL;
    show_start(out);
    if (!tight || !wide)
        return;
    show_figure_text least = show_length(view->project, tight->step_least),
                     most = show_length(view->project, wide->step_most);
    bool has_tight = show_tightest(view->plan, view->band) > 0, has_wide = show_widest(view->plan, view->band) > 0;
    if (has_tight)
        show_say(out, "%s %s  ", roomy ? "T tightest" : "T", least.text);
    if (has_wide)
        show_say(out, "%s %s  ", roomy ? "W widest" : "W", most.text);
    if (!has_tight && !has_wide && !show_steps_vary(band))
        show_say(out, "all steps %s  ", least.text);
    else if (!has_tight && !has_wide)
        show_say(out, "steps %s to %s  ", least.text, most.text);
}

static void band_words(show_words *out, const show_view *view, size_t band) {
    show_start(out);
    show_say(out, "%c %s%s", view->plan->bands[band].fill == BW_FILL_PLAIN ? '.' : show_band_mark(band, view->band),
             show_band_name(view->project, band), band == view->band ? " (in hand)" : "");
}

/* Which mark is which band, then the letters, then what is not drawn. */
static void small_legend(show_grid *grid, show_rect where, const show_view *view, const show_spot *spots, size_t count,
                         const char *note) {
    int x = where.x, right = where.x + where.width;
    for (size_t i = 0; i < view->plan->band_count && x < right; i++) {
        show_words one;
        band_words(&one, view, i);
        /* A name is said whole or not at all, but for the first. */
        if (x > where.x && x + (int)strlen(one.text) > right)
            break;
        x += show_put(grid, x, where.y, right - x, i == view->band ? SHOW_BOLD : SHOW_PLAIN, one.text) + 2;
    }
    if (where.height < 2)
        return;
    x = where.x + show_put(grid, where.x, where.y + 1, where.width, SHOW_PLAIN, "S start  ");
    if (has(spots, count, '!'))
        x += show_put(grid, x, where.y + 1, right - x, SHOW_BOLD | SHOW_BAD, "! fails  ");
    show_words steps;
    say_steps(&steps, view, where.width >= 46);
    x += show_put(grid, x, where.y + 1, right - x, SHOW_PLAIN, steps.text);
    if (view->impression > 0)
        show_putf(grid, x, where.y + 1, right - x, SHOW_PLAIN, "@ impression %d", view->impression);
    if (where.height > 2 && note)
        show_put(grid, where.x, where.y + 2, where.width, SHOW_DIM, note);
}

/* ---- the legend of a view of its own: as many lines as it needs, up to a third ---- */

typedef struct legend {
    show_words *items;
    size_t count, room;
} legend;

static show_words *item(legend *l) {
    if (l->count == l->room) {
        size_t room = l->room ? l->room * 2 : 16;
        show_words *more = realloc(l->items, room * sizeof *more);
        if (!more)
            return NULL;
        l->items = more;
        l->room = room;
    }
    show_start(&l->items[l->count]);
    return &l->items[l->count++];
}

__attribute__((format(printf, 2, 3))) static void tell(legend *l, const char *format, ...) {
    show_words *one = item(l);
    va_list rest;
    va_start(rest, format);
    if (one)
        vsnprintf(one->text, sizeof one->text, format, rest);
    va_end(rest);
}

static void tell_band(legend *l, const show_view *view, size_t band) {
    show_words *one = item(l);
    if (one && view->fine == SHOW_FINE_NONE)
        band_words(one, view, band);
    else if (one)
        show_say(one, "%s: %s", show_band_name(view->project, band),
                 band == view->band                              ? "whole lines (in hand)"
                 : view->plan->bands[band].fill == BW_FILL_PLAIN ? "plain"
                 : band % 3 == 0                                 ? "fine dots"
                 : band % 3 == 1                                 ? "dots apart"
                                                                 : "dots far apart");
}

/* The first words of a spot's sentence, up to its place: "legs miss each other". */
static void tell_failing(legend *l, const show_spot *spots, size_t count) {
    size_t fails = 0;
    for (size_t i = 0; i < count; i++)
        fails += spots[i].mark == '!';
    if (fails > 0)
        tell(l, "! fails here (%zu place%s)", fails, fails == 1 ? "" : "s");
}

static void gather(legend *l, const show_view *view, const show_spot *spots, size_t count) {
    const shop_project *p = view->project;
    const bw_band_plan *band = show_view_band(view);
    if (band)
        tell_band(l, view, view->band);
    tell(l, "%s",
         has(spots, count, 's')                ? "S the first run starts"
         : band && band->fill != BW_FILL_PLAIN ? "S the round starts"
                                               : "S start mark");
    if (has(spots, count, 's'))
        tell(l, "s start mark");
    tell_failing(l, spots, count);
    if (has(spots, count, 'T'))
        tell(l, "T tightest %s", show_length(p, show_extreme_line(band, false)->step_least).text);
    if (has(spots, count, 'W'))
        tell(l, "W widest %s", show_length(p, show_extreme_line(band, true)->step_most).text);
    if (has(spots, count, 'C'))
        tell(l, "C corner");
    if (has(spots, count, '1'))
        tell(l, "1 2 .. starts of the loops");
    if (has(spots, count, 'b'))
        tell(l, "b bare strip %s", show_length(p, fmax(band->bare_outer, band->bare_inner)).text);
    if (view->impression > 0)
        tell(l, "@ impression %d", view->impression);
    for (size_t i = 0; i < view->plan->band_count; i++)
        if (i != view->band)
            tell_band(l, view, i);
}

/* Items side by side, a new line where one does not fit; returns the lines. Nothing is drawn without a grid. What has
 * no room on the last line is told of by its end. */
static int pack(show_grid *grid, show_rect where, const legend *l, int lines) {
    static const char more[] = "... ?";
    int x = 0, line = 0;
    for (size_t i = 0; i < l->count; i++) {
        int width = show_text_width(l->items[i].text);
        if (x > 0 && x + 2 + width > where.width) {
            line++;
            x = 0;
        }
        x += x > 0 ? 2 : 0;
        int room = where.width - (line + 1 == lines && i + 1 < l->count ? (int)sizeof more + 1 : 0);
        if (grid && line + 1 == lines && x + width > room) {
            show_put(grid, where.x + x, where.y + line, where.width - x, SHOW_DIM, more);
            return lines;
        }
        if (grid)
            show_put(grid, where.x + x, where.y + line, where.width - x, i == 0 ? SHOW_BOLD : SHOW_PLAIN,
                     l->items[i].text);
        x += width;
    }
    return line + 1;
}

int show_legend_lines(const show_view *view, show_rect where, const show_spot *spots, size_t count) {
    if (!view->sight)
        return where.height >= 9 && where.width >= 16 ? 3 : where.height >= 4 ? 1 : 0;
    legend l = {0};
    gather(&l, view, spots, count);
    int needed = pack(NULL, where, &l, 0) + 1, most = where.height / 3; /* and one for the note */
    free(l.items);
    return where.height < 6 ? 0 : needed < most ? needed : most;
}

void show_legend(show_grid *grid, show_rect where, const show_view *view, const show_spot *spots, size_t count,
                 const char *note) {
    if (!view->sight) {
        small_legend(grid, where, view, spots, count, note);
        return;
    }
    legend l = {0};
    gather(&l, view, spots, count);
    pack(grid, where, &l, where.height - (note && where.height > 1));
    if (note && where.height > 1)
        show_put(grid, where.x, where.y + where.height - 1, where.width, SHOW_DIM, note);
    free(l.items);
}

char *show_legend_text(const show_view *view) {
    show_spot *spots = calloc(SHOW_SPOTS_MOST, sizeof *spots);
    char *text = NULL;
    size_t size = 0;
    FILE *to = spots ? open_memstream(&text, &size) : NULL;
    if (!to) {
        free(spots);
        return NULL;
    }
    legend l = {0};
    size_t count = show_spots(view->project, view->plan, view->band, spots, SHOW_SPOTS_MOST);
    gather(&l, view, spots, count);
    for (size_t i = 0; i < l.count; i++)
        fprintf(to, "%s\n", l.items[i].text);
    for (size_t i = 0; i < count; i++)
        fprintf(to, "%s%c %s\n", i ? "" : "\nThe marks one by one, in their order:\n", spots[i].mark,
                spots[i].words.text);
    free(l.items);
    free(spots);
    if (fclose(to) != 0) {
        free(text);
        return NULL;
    }
    return text;
}
