/* Marks in lines of cells beside what is laid straight: the band in hand's, and where the others fail. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/inner.h"

static const char by_edge[] = "TWuJ!"; /* marks that have a place along the edge; what comes last lies on top */

static void place_along_edge(const show_view *view, show_spot *spot) {
    if (strchr("TW", spot->mark) == NULL)
        return;
    const bw_weave_line *line = show_extreme_line(&view->plan->bands[spot->band], spot->mark == 'W');
    spot->edge_from = spot->edge_to = spot->mark == 'W' ? line->widest.edge_along : line->tightest.edge_along;
}

show_edge_marks *show_edge_marks_create(const show_view *view, const char *own, const char *others) {
    show_edge_marks *m = calloc(1, sizeof *m);
    if (!m)
        return NULL;
    m->view = view;
    m->own = own;
    m->others = others;
    size_t all = show_marks_brief(view->project, view->plan, view->band, m->list, SHOW_MARKS_MOST);
    for (size_t i = 0; i < all; i++)
        if (strchr(by_edge, m->list[i].mark) != NULL) {
            m->list[m->count] = m->list[i];
            place_along_edge(view, &m->list[m->count++]);
        }
    return m;
}

static bool is_any(const show_edge_marks *marks, bool own) {
    const char *which = own ? marks->own : marks->others;
    for (size_t i = 0; i < marks->count; i++)
        if ((marks->list[i].band == marks->view->band) == own && strchr(which, marks->list[i].mark) != NULL)
            return true;
    return false;
}

/* Does the way from one column's place to the next meet a stretch of the edge? Both may pass the start mark. */
static bool meets(const show_spot *spot, double from, double to, double length) {
    double way = to - from, reach = spot->edge_to - spot->edge_from, off = spot->edge_from - from;
    way += way < 0 ? length : 0;
    reach +=
        reach < 0 || (reach <= BW_EPS_FIT && spot->to > spot->from) ? length : 0; /* all along ends where it begins */
    off += off < 0 ? length : 0;
    if (way > length / 2) /* where the edge runs against the guide for a trifle */
        return false;
    return off < way || off + reach >= length;
}

static void draw_line(show_edge_marks *marks, show_grid *grid, show_rect where, const double *edge, bool own) {
    const char *which = own ? marks->own : marks->others;
    const unsigned bold = own ? SHOW_BOLD : SHOW_PLAIN;
    for (const char *mark = by_edge; *mark; mark++)
        for (size_t i = 0; i < marks->count; i++) {
            const show_spot *spot = &marks->list[i];
            if (spot->mark != *mark || (spot->band == marks->view->band) != own || !strchr(which, *mark))
                continue;
            for (int x = 0; x < where.width; x++) {
                if (!meets(spot, edge[x], edge[x + 1], marks->view->plan->length))
                    continue;
                marks->seen[i] = true;
                show_cell_put(grid, where.x + x, where.y, (unsigned char)*mark,
                              bold | (*mark == '!' ? SHOW_BAD : SHOW_WARN));
            }
        }
}

static const char *word_of(char mark) {
    return mark == '!'   ? "fails"
           : mark == 'u' ? "steps off the usual"
           : mark == 'J' ? "the step jumps"
           : mark == 'T' ? "tightest"
                         : "widest";
}

/* "! fails  u steps off the usual" of the band in hand, "rim ! fails, inner ! fails" of the others: what was drawn. */
static void say_seen(const show_edge_marks *marks, show_words *out, bool own) {
    for (size_t i = 0; i < marks->count; i++) {
        const show_spot *spot = &marks->list[i];
        bool before = false;
        for (size_t k = 0; k < i; k++)
            before =
                before || (marks->seen[k] && marks->list[k].band == spot->band && marks->list[k].mark == spot->mark);
        if (!marks->seen[i] || before || (spot->band == marks->view->band) != own)
            continue;
        show_say(out, "%s%s%s%c %s", out->text[0] ? "  " : "",
                 own ? "" : show_band_name(marks->view->project, spot->band), own ? "" : ": ", spot->mark,
                 word_of(spot->mark));
    }
}

int show_edge_marks_lines(const show_edge_marks *marks) {
    int lines = marks ? is_any(marks, true) + is_any(marks, false) : 0;
    return lines > 0 ? lines + 1 : 0;
}

int show_edge_marks_draw(show_edge_marks *marks, show_grid *grid, show_rect where, const double *edge, int margin) {
    int used = 0;
    for (int own = 1; own >= 0; own--) {
        if (!is_any(marks, own))
            continue;
        show_rect line = {where.x, where.y + used++, where.width, 1};
        show_put(grid, line.x - margin, line.y, margin, SHOW_DIM, own ? "marks" : "others");
        draw_line(marks, grid, line, edge, own);
    }
    return used;
}

void show_edge_marks_say(const show_edge_marks *marks, show_grid *grid, show_rect where, const char *before) {
    show_words words;
    show_start(&words);
    say_seen(marks, &words, true);
    say_seen(marks, &words, false);
    if (words.text[0])
        show_putf(grid, where.x, where.y, where.width, SHOW_PLAIN, "%s%s", before, words.text);
}
