/* The marks of the preview: where they go, and what each of them says. */
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "show/sheet.h"

enum { BARE_APART = 8, UNUSUAL_APART = 3, OTHERS_APART = 3 }; /* cells from one mark of a stretch to the next */

/* ---- drawing ---- */

/* Marks of the band in hand stand close and bold, those of others apart and plain. */
typedef struct ink {
    char mark;
    unsigned look;
    int apart; /* cells from one to the next */
} ink;

static ink ink_of(const show_spot *spot, size_t in_hand) {
    bool own = spot->band == in_hand;
    unsigned colour = spot->mark == '!' ? SHOW_BAD : strchr("TWCuJb", spot->mark) ? SHOW_WARN : 0;
    int apart = spot->mark == 'b' ? BARE_APART : spot->mark == 'u' ? UNUSUAL_APART : 1;
    bool bold = own && spot->mark != 'b';
    return (ink){spot->mark, colour | (bold ? SHOW_BOLD : 0u), own ? apart : apart * OTHERS_APART};
}

/* A stretch of the guide; over the guide's start where `to` comes before `from`. */
static void mark_stretch(const sheet *s, const bw_curve *guide, const show_spot *spot, ink how) {
    double length = bw_curve_length(guide), way = spot->to - spot->from, fine = fmin(s->per_column, s->per_line) / 2;
    if (way < 0)
        way += length;
    int samples = (int)fmin(100000, ceil(way / fine)), last_x = -1, last_y = -1, cells = 0;
    for (int i = 0; i <= samples; i++) {
        double along = spot->from + (samples > 0 ? way * i / samples : 0);
        bw_point at = bw_curve_at(guide, along > length ? along - length : along).at;
        int x, y;
        if (!sheet_cell(s, at, &x, &y) || (x == last_x && y == last_y))
            continue;
        last_x = x;
        last_y = y;
        if (cells++ % how.apart == 0)
            sheet_mark(s, at, how.mark, how.look);
    }
}

static void mark_bare(const sheet *s, const show_spot *spot, ink how) {
    bw_curve *strip;
    if (bw_curve_offset(s->view->plan->edge, spot->from, NULL, &strip) != BW_OK)
        return;
    double length = bw_curve_length(strip), apart = how.apart * s->per_column;
    int marks = (int)fmin(20000, fmax(1, floor(length / apart)));
    for (int i = 0; i < marks; i++)
        sheet_mark(s, bw_curve_at(strip, length * i / marks).at, how.mark, how.look);
    bw_curve_destroy(strip);
}

/* Beside a small drawing there is no room for the words of all marks: then those are not drawn. */
static bool is_drawn(const show_view *view, char mark) {
    return view->sight || strchr("S!TW", mark) != NULL;
}

/* What is unusual everywhere has no place. */
static bool is_everywhere(const show_spot *spot, const bw_curve *guide) {
    return spot->mark == 'u' && fabs(spot->to - spot->from) > bw_curve_length(guide) * SHOW_ALL_ALONG;
}

static void draw_spot(const sheet *s, const show_spot *spot) {
    ink how = ink_of(spot, s->view->band);
    bw_curve *guide;
    if (spot->mark == 'b') {
        mark_bare(s, spot, how);
    } else if (strchr("!u", spot->mark) == NULL) {
        sheet_mark(s, spot->at, how.mark, how.look);
    } else if (bw_guide_create(s->view->plan, spot->band, NULL, &guide) == BW_OK) {
        if (!is_everywhere(spot, guide))
            mark_stretch(s, guide, spot, how);
        bw_curve_destroy(guide);
    }
}

void show_spots_draw(const sheet *s, const show_spot *spots, size_t count) {
    static const char order[] = "bu!CJ987654321sTWS"; /* what comes last lies on top */
    for (int own = 0; own < 2; own++)
        for (const char *mark = order; *mark; mark++)
            for (size_t i = 0; i < count; i++)
                if (spots[i].mark == *mark && (spots[i].band == s->view->band) == own && is_drawn(s->view, *mark))
                    draw_spot(s, &spots[i]);
    if (count == 0 || spots[0].mark != 'S')
        sheet_mark(s, bw_curve_at(s->view->plan->edge, s->view->plan->start_along).at, 'S', SHOW_BOLD);
    bw_placing placing;
    if (s->view->impression > 0 &&
        show_impression_place(s->view->project, s->view->plan, s->view->band, s->view->impression, &placing))
        sheet_mark(s, placing.at, '@', SHOW_BOLD | SHOW_REVERSE);
}

/* ---- the legend beside a small drawing: three lines at most ---- */

typedef struct marked {
    const show_view *view;
    const show_spot *spots;
    size_t count;
} marked;

static size_t how_many(const marked *m, size_t band, char mark) {
    size_t found = 0;
    for (size_t i = 0; i < m->count; i++)
        found += m->spots[i].band == band && m->spots[i].mark == mark;
    return found;
}

static bool has(const marked *m, char mark) {
    return how_many(m, m->view->band, mark) > 0;
}

/* The letters of the drawing with their steps: a letter only where there is such a place. */
static void say_steps(show_words *out, const show_view *view, bool roomy) {
    const bw_band_plan *band = show_view_band(view);
    const bw_weave_line *tight = band ? show_extreme_line(band, false) : NULL,
                        *wide = band ? show_extreme_line(band, true) : NULL;
    show_start(out);
    if (!tight || !wide)
        return;
    show_figure_text least = show_length(view->project, tight->tightest.step),
                     most = show_length(view->project, wide->widest.step);
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

/* "in 3 places", "all along". */
static void say_how_far(show_words *out, const marked *m, size_t band) {
    size_t fails = how_many(m, band, '!');
    double length = m->view->plan->bands[band].guide_length;
    for (size_t i = 0; i < m->count; i++) {
        const show_spot *spot = &m->spots[i];
        double way = spot->to - spot->from;
        if (spot->band == band && spot->mark == '!' && way + (way < 0 ? length : 0) > length * SHOW_ALL_ALONG) {
            show_say(out, "all along");
            return;
        }
    }
    show_say(out, "in %zu place%s", fails, fails == 1 ? "" : "s");
}

/* "! fails  " of the band in hand, "! rim fails  " of another, "! 3 others fail  ". */
static void say_fails(show_words *out, const marked *m) {
    size_t others = 0, last = 0;
    for (size_t band = 0; band < m->view->plan->band_count; band++)
        if (band != m->view->band && how_many(m, band, '!') > 0) {
            others++;
            last = band;
        }
    show_start(out);
    if (has(m, '!'))
        show_say(out, others > 0 ? "! fails, others too  " : "! fails  ");
    else if (others == 1)
        show_say(out, "! %s fails  ", show_band_name(m->view->project, last));
    else if (others > 1)
        show_say(out, "! %zu others fail  ", others);
}

/* Which mark is which band, then the letters, then what is not drawn. */
static void small_legend(show_grid *grid, show_rect where, const marked *m, const char *note) {
    const show_view *view = m->view;
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
    show_words steps;
    say_fails(&steps, m);
    x += show_put(grid, x, where.y + 1, right - x, SHOW_BOLD | SHOW_BAD, steps.text);
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

/* ", ! fails in 2 places, b bare strip 1.2 mm": what is wrong with a band that is not in hand. */
static void say_faults(show_words *out, const marked *m, size_t band) {
    const bw_band_plan *made = &m->view->plan->bands[band];
    if (how_many(m, band, '!') > 0) {
        show_say(out, ", ! fails ");
        say_how_far(out, m, band);
    }
    if (how_many(m, band, 'u') > 0)
        show_say(out, ", u steps off the usual");
    if (how_many(m, band, 'J') > 0)
        show_say(out, ", J steps jump");
    if (how_many(m, band, 'b') > 0)
        show_say(out, ", b bare strip %s",
                 show_length(m->view->project, fmax(made->bare_outer, made->bare_inner)).text);
    if (how_many(m, band, 'C') > 0)
        show_say(out, ", C corners");
    if (how_many(m, band, '1') > 0)
        show_say(out, ", 1 2 .. loops");
}

static void tell_band(legend *l, const marked *m, size_t band) {
    const show_view *view = m->view;
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
    if (one && band != view->band)
        say_faults(one, m, band);
}

static void tell_starts(legend *l, const marked *m) {
    const bw_band_plan *band = show_view_band(m->view);
    tell(l, "%s",
         has(m, 's')                           ? "S the first run starts"
         : band && band->fill != BW_FILL_PLAIN ? "S the round starts"
                                               : "S start mark");
    if (has(m, 's'))
        tell(l, "s start mark");
}

static void tell_marks(legend *l, const marked *m) {
    const shop_project *p = m->view->project;
    const bw_band_plan *band = show_view_band(m->view);
    if (has(m, '!')) {
        show_words far;
        show_start(&far);
        say_how_far(&far, m, m->view->band);
        tell(l, "! fails %s", far.text);
    }
    if (has(m, 'T'))
        tell(l, "T tightest %s", show_length(p, show_extreme_line(band, false)->tightest.step).text);
    if (has(m, 'W'))
        tell(l, "W widest %s", show_length(p, show_extreme_line(band, true)->widest.step).text);
    if (has(m, 'u'))
        tell(l, "u steps off the usual by over %s", show_percent(BW_VISIBLE_CHANGE).text);
    if (has(m, 'J'))
        tell(l, "J the step jumps");
    if (has(m, 'C'))
        tell(l, "C corner");
    if (has(m, '1'))
        tell(l, "1 2 .. starts of the loops");
    if (has(m, 'b'))
        tell(l, "b bare strip %s", show_length(p, fmax(band->bare_outer, band->bare_inner)).text);
}

static void gather(legend *l, const marked *m) {
    const show_view *view = m->view;
    if (show_view_band(view))
        tell_band(l, m, view->band);
    tell_starts(l, m);
    tell_marks(l, m);
    if (view->impression > 0)
        tell(l, "@ impression %d", view->impression);
    for (size_t i = 0; i < view->plan->band_count; i++)
        if (i != view->band)
            tell_band(l, m, i);
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
    gather(&l, &(marked){view, spots, count});
    int needed = pack(NULL, where, &l, 0) + 1, most = where.height / 3; /* and one for the note */
    free(l.items);
    return where.height < 6 ? 0 : needed < most ? needed : most;
}

void show_legend(show_grid *grid, show_rect where, const show_view *view, const show_spot *spots, size_t count,
                 const char *note) {
    const marked m = {view, spots, count};
    if (!view->sight) {
        small_legend(grid, where, &m, note);
        return;
    }
    legend l = {0};
    gather(&l, &m);
    pack(grid, where, &l, where.height - (note && where.height > 1));
    if (note && where.height > 1)
        show_put(grid, where.x, where.y + where.height - 1, where.width, SHOW_DIM, note);
    free(l.items);
}

static void write_places(FILE *to, const marked *m) {
    for (size_t i = 0; i < m->count; i++) {
        const show_spot *spot = &m->spots[i];
        bool own = spot->band == m->view->band;
        fprintf(to, "%s%c %s%s%s\n", i ? "" : "\nThe marks one by one, in the order in which they are gone to:\n",
                spot->mark, own ? "" : show_band_name(m->view->project, spot->band), own ? "" : ": ", spot->words.text);
    }
}

char *show_legend_text(const show_view *view) {
    show_spot *spots = calloc(SHOW_MARKS_MOST, sizeof *spots);
    char *text = NULL;
    size_t size = 0;
    FILE *to = spots ? open_memstream(&text, &size) : NULL;
    if (!to) {
        free(spots);
        return NULL;
    }
    legend l = {0};
    const marked m = {view, spots, show_marks(view->project, view->plan, view->band, spots, SHOW_MARKS_MOST)};
    gather(&l, &m);
    for (size_t i = 0; i < l.count; i++)
        fprintf(to, "%s\n", l.items[i].text);
    write_places(to, &m);
    free(l.items);
    free(spots);
    if (fclose(to) != 0) {
        free(text);
        return NULL;
    }
    return text;
}
