/* `plan --format text`: what a person takes to the bench. */
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "show/page.h"
#include "show/work_words.h"

#define CLEAN_ROOM 4096

/* Cells of a line: text beside a lead as wide, beside any, and how much further in than their first lines others are.
 */
enum { TEXT_LEAST = 24, WORD_LEAST = 12, HANG_LEAST = 2 };

/* Bytes of clean text that fit in so many cells, broken at a blank where there is one. */
static size_t fitting(const char *text, int cells) {
    const char *at = text, *blank = NULL;
    int used = 0;
    while (*at) {
        const char *before = at;
        uint32_t code = show_decode(&at);
        used += code == SHOW_BROKEN ? 0 : show_code_width(code);
        if (code == ' ')
            blank = before;
        if (used > cells)
            return (size_t)((blank && blank > text ? blank : before > text ? before : at) - text);
    }
    return (size_t)(at - text);
}

void page_put(page *p, const char *lead, const char *text) {
    char clean[CLEAN_ROOM];
    shop_clean(text, strnlen(text, CLEAN_ROOM), clean, sizeof clean);
    int first = show_text_width(lead), in = first, blanks = (int)strspn(lead, " ");
    const char *from = clean;
    if (p->width - in < TEXT_LEAST && in > blanks + HANG_LEAST)
        in = blanks + HANG_LEAST;
    if (p->width - first < WORD_LEAST) { /* the lead has a line of its own */
        fprintf(p->to, "%s\n", lead);
        first = -1;
    }
    do {
        bool leads = from == clean && first >= 0;
        size_t length = fitting(from, p->width - (leads ? first : in));
        if (leads)
            fputs(lead, p->to);
        else
            fprintf(p->to, "%*s", in, "");
        fwrite(from, 1, length, p->to);
        fputc('\n', p->to);
        from += length;
        while (*from == ' ')
            from++;
    } while (*from);
}

void page_putf(page *p, const char *lead, const char *format, ...) {
    char text[1024];
    va_list rest;
    va_start(rest, format);
    vsnprintf(text, sizeof text, format, rest);
    va_end(rest);
    page_put(p, lead, text);
}

static bool any_cut(const bw_plan *plan) {
    for (size_t i = 0; i < plan->band_count; i++)
        if (show_guide_cut(plan, i))
            return true;
    return false;
}

void page_say_piece(show_words *out, const shop_project *project, const bw_plan *plan) {
    show_start(out);
    show_say_outline(out, project, plan);
    const bw_layout *l = &project->layout;
    double grid = show_step_grid(project);
    if (isfinite(l->weight))
        show_say(out, "; leather %s (%.3g oz)", show_length(project, floor(l->weight / grid + 0.5) * grid).text,
                 l->weight / BW_MM_PER_OUNCE);
    static const char *const sides[] = {NULL, "at the bottom", "at the right", "at the top", "at the left", NULL};
    bool closed = bw_curve_closed(plan->edge);
    bool first = l->outline.shape == BW_POLYGON || l->outline.shape == BW_PATH; /* they begin at their first point */
    const char *side = l->start.kind != BW_PLACE_OWN ? sides[l->start.kind]
                       : first                       ? "at its first point"
                                                     : sides[BW_PLACE_BOTTOM];
    if (l->start.kind == BW_PLACE_ALONG && closed)
        show_say(out, "; start %s along the edge", show_length(project, l->start.along).text);
    else if (closed && side)
        show_say(out, any_cut(plan) ? "; start mark %s, runs cut at corners start where they say" : "; start %s", side);
    if (l->growth > 0)
        show_say(out, "; grows by %s under the hammer, sizes are those %s", show_percent(l->growth).text,
                 l->finished ? "of the finished piece, the settings here those to lay out" : "laid out");
}

static void head(page *p) {
    char clean[CLEAN_ROOM];
    shop_clean(p->project->piece.bytes, p->project->piece.length, clean, sizeof clean);
    page_put(p, "", clean);
    show_words words;
    page_say_piece(&words, p->project, p->plan);
    page_put(p, "", words.text);
    page_put(p, "", show_leather_sentence(&words, p->project, p->plan));
    if (p->plan->band_count > 0)
        page_put(p, "", show_seam_sentence(&words, p->project, p->plan));
}

void show_line_words(const shop_project *project, const bw_line_plan *line, show_words *set_to, show_words *what) {
    static const char *const which[] = {"outer line", "guide line", "inner line"};
    show_start(set_to);
    show_say(set_to, "%s", line->loops > 0 ? show_length(project, line->set_to).text : "-");
    show_start(what);
    show_say(what, "%s, %s: ", show_band_name(project, line->band), which[line->which]);
    if (line->loops == 0) {
        show_say(what, "no room, the piece ends before %s", show_length(project, line->from_edge).text);
        return;
    }
    show_say(what, "%s",
             line->what == BW_DO_STITCH ? "mark for stitches"
             : line->what == BW_DO_CUT  ? "cut"
                                        : "scribe lightly");
    if (line->bevel != BW_BEVEL_NONE)
        show_say(what, ", bevel the %s", line->bevel == BW_BEVEL_INSIDE ? "inside" : "outside");
    double off = line->set_to - line->from_edge;
    if (fabs(off) > BW_EPS_FIT)
        show_say(what, " (%s, so %s too far %s)", show_difference(project, line->from_edge).text,
                 show_difference(project, off).text, off > 0 ? "in" : "out");
    if (line->loops > 1)
        show_say(what, " (in %d loops)", line->loops);
}

static void line_row(page *p, const bw_line_plan *line) {
    char lead[64];
    show_words set_to, what;
    show_line_words(p->project, line, &set_to, &what);
    snprintf(lead, sizeof lead, "  %-10.40s ", set_to.text);
    page_put(p, lead, what.text);
}

static void dividers(page *p) {
    page_put(p, "", "");
    page_put(p, "", "DIVIDERS, in this order, riding on the finished edge");
    if (p->plan->line_count == 0)
        page_put(p, "  ", "nothing to set: no band has a line");
    for (size_t i = 0; i < p->plan->line_count; i++)
        line_row(p, &p->plan->lines[i]);
}

bw_warning *page_warnings(const shop_project *project, const bw_plan *plan, size_t *count) {
    bw_warning *list = show_warnings(project, plan, count);
    for (size_t i = 0, stops = 0; list && i < *count; i++) {
        bw_warning one = list[i];
        if (one.kind != BW_WARN_VERDICT)
            continue;
        for (size_t k = i; k > stops; k--)
            list[k] = list[k - 1];
        list[stops++] = one;
    }
    return list;
}

static void warnings(page *p) {
    size_t count;
    bw_warning *list = page_warnings(p->project, p->plan, &count);
    if (!list)
        return;
    if (count > 0) {
        page_put(p, "", "");
        page_put(p, "", bw_plan_works(p->plan) ? "WARNINGS" : "WARNINGS: DO NOT STRIKE THIS AS IT IS");
    }
    for (size_t i = 0; i < count; i++) {
        show_words words;
        show_warning_sentence(&words, p->project, p->plan, &list[i]);
        page_putf(p, list[i].kind == BW_WARN_VERDICT ? "! " : "- ", "%s: %s%s",
                  show_band_name(p->project, list[i].band), words.text,
                  list[i].kind == BW_WARN_TOOL_DIFFERS ? "; in the workbench's inventory \"to the piece\" or \"to the "
                                                         "inventory\" makes both alike"
                                                       : "");
        if (list[i].kind == BW_WARN_VERDICT)
            page_mends(p, list[i].band);
    }
    free(list);
}

static void order(page *p) {
    work_step list[WORK_STEPS];
    size_t count = work_steps(p->project, p->plan, p->check_marks, list);
    page_put(p, "", "");
    page_put(p, "", "ORDER OF WORK");
    for (size_t i = 0; i < count; i++) {
        char lead[32];
        snprintf(lead, sizeof lead, "%2zu. ", i + 1);
        page_putf(p, lead, "%s%s", list[i].anew ? "" : list[i].brief.text, list[i].more.text);
    }
}

static void cautions(page *p) {
    page_put(p, "", "");
    page_put(p, "", CAUTIONS_HEAD);
    for (size_t i = 0; work_cautions[i]; i++)
        page_put(p, "- ", work_cautions[i]);
}

static bool whole_page(page p) {
    head(&p);
    warnings(&p); /* what cannot work is said before anything is set or struck */
    dividers(&p);
    page_bands(&p);
    order(&p);
    cautions(&p);
    return fflush(p.to) == 0 && !ferror(p.to);
}

bool show_plan_text(FILE *to, const shop_project *project, const bw_plan *plan) {
    return show_plan_page(to, project, plan, SHOW_PAGE_WIDTH);
}

bool show_plan_page(FILE *to, const shop_project *project, const bw_plan *plan, int width) {
    return whole_page((page){.to = to, .project = project, .plan = plan, .width = width});
}
