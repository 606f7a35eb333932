/* The card beside the work: its head, the lines, the tools, the order of work. */
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "show/card_inner.h"
#include "show/page.h"
#include "show/work_words.h"

#define CELL_ROOM 2048

static show_card_line *fresh(show_card *card) {
    if (card->count == card->room) {
        size_t room = card->room ? 2 * card->room : 64;
        show_card_line *lines = card->failed ? NULL : realloc(card->lines, room * sizeof *lines);
        if (!lines) {
            card->failed = true;
            return NULL;
        }
        card->lines = lines;
        card->room = room;
    }
    show_card_line *line = &card->lines[card->count++];
    *line = (show_card_line){.cells = 0};
    return line;
}

void card_add(card_maker *m, show_card_kind kind, int box, ...) {
    show_card_line *line = fresh(m->card);
    if (!line)
        return;
    line->kind = kind;
    line->box = box != 0;
    va_list cells;
    va_start(cells, box);
    for (const char *text = va_arg(cells, const char *); text && line->cells < SHOW_CARD_CELLS;
         text = va_arg(cells, const char *)) {
        char clean[CELL_ROOM];
        shop_clean(text, strnlen(text, CELL_ROOM), clean, sizeof clean);
        char *copy = strdup(clean);
        m->card->failed = m->card->failed || !copy;
        if (copy)
            line->cell[line->cells++] = copy;
    }
    va_end(cells);
}

void card_say(card_maker *m, show_card_kind kind, const char *text) {
    if (*text)
        card_add(m, kind, false, text, NULL);
}

void show_card_free(show_card *card) {
    for (size_t i = 0; card && i < card->count; i++)
        for (size_t k = 0; k < card->lines[i].cells; k++)
            free(card->lines[i].cell[k]);
    if (card)
        free(card->lines);
    free(card);
}

size_t show_card_table_end(const show_card *card, size_t from) {
    size_t end = from + 1;
    while (end < card->count && (card->lines[end].kind == SHOW_CARD_ROW || card->lines[end].kind == SHOW_CARD_NOTE))
        end++;
    return end;
}

show_figure_text card_set(const shop_project *project, double mm, double grid) {
    show_figure_text out = show_length(project, bw_on_grid(mm, grid));
    double shown;
    char reason[160];
    if (!shop_parse_length(out.text, strlen(out.text), project->units, false, &shown, reason))
        return out;
    show_figure_text off = show_signed(project, shown - mm);
    off.text[strcspn(off.text, " ")] = '\0';
    size_t used = strlen(out.text);
    if (strcmp(off.text, "0") != 0)
        snprintf(out.text + used, sizeof out.text - used, " (%.20s)", off.text);
    return out;
}

/* ---- the head ---- */

static void head(card_maker *m) {
    show_words words, title;
    char clean[400];
    shop_clean(m->project->piece.bytes, m->project->piece.length, clean, sizeof clean);
    show_start(&title);
    show_say(&title, "BENCH CARD: %s", clean);
    card_say(m, SHOW_CARD_TITLE, title.text);
    page_say_piece(&words, m->project, m->plan);
    card_say(m, SHOW_CARD_SAY, words.text);
    card_say(m, SHOW_CARD_SAY, show_leather_sentence(&words, m->project, m->plan));
    card_say(m, SHOW_CARD_SAY,
             "(+0.04) behind a length: set or laid off like this it is 0.04 over the plan; (-0.04): under it.");
}

static void warnings(card_maker *m) {
    size_t count;
    bw_warning *list = page_warnings(m->project, m->plan, &count);
    m->card->failed = m->card->failed || !list;
    if (list && !bw_plan_works(m->plan))
        card_say(m, SHOW_CARD_LOUD, "DO NOT STRIKE THIS AS IT IS");
    for (size_t i = 0; list && i < count; i++) {
        show_words words, text;
        show_start(&text);
        show_say(&text, "%s %s: %s", list[i].kind == BW_WARN_VERDICT ? "!" : "-",
                 show_band_name(m->project, list[i].band),
                 show_warning_sentence(&words, m->project, m->plan, &list[i]));
        card_say(m, list[i].kind == BW_WARN_VERDICT ? SHOW_CARD_LOUD : SHOW_CARD_SAY, text.text);
    }
    free(list);
}

/* ---- lines ---- */

static void line_row(card_maker *m, const bw_line_plan *line) {
    static const char *const which[] = {"outer line", "guide line", "inner line"};
    show_words what, where;
    show_start(&where);
    show_say(&where, "%s, %s", show_band_name(m->project, line->band), which[line->which]);
    show_start(&what);
    if (line->loops == 0) {
        show_say(&what, "no room, the piece ends before %s", show_length(m->project, line->from_edge).text);
        card_add(m, SHOW_CARD_ROW, false, "-", where.text, what.text, NULL);
        return;
    }
    show_say(&what, "%s",
             line->what == BW_DO_STITCH ? "mark for stitches"
             : line->what == BW_DO_CUT  ? "cut"
                                        : "scribe lightly");
    if (line->bevel != BW_BEVEL_NONE)
        show_say(&what, ", bevel the %s", line->bevel == BW_BEVEL_INSIDE ? "inside" : "outside");
    if (line->loops > 1)
        show_say(&what, " (in %d loops)", line->loops);
    card_add(m, SHOW_CARD_ROW, true, card_set(m->project, line->from_edge, m->project->layout.grid).text, where.text,
             what.text, NULL);
}

static void lines(card_maker *m) {
    card_add(m, SHOW_CARD_HEAD, false, "DIVIDERS", "riding on the finished edge, in this order", NULL);
    if (m->plan->line_count == 0)
        card_say(m, SHOW_CARD_SAY, "nothing to set: no band has a line");
    else
        card_add(m, SHOW_CARD_COLUMNS, false, "set to", "line", "do", NULL);
    for (size_t i = 0; i < m->plan->line_count; i++)
        line_row(m, &m->plan->lines[i]);
}

/* ---- tools ---- */

static void tool_row(card_maker *m, const bw_tool *tool, const char *what, const char *for_what) {
    show_words size, words;
    show_start(&words);
    show_say(&words, "%s", what);
    if (tool && show_tool_size(&size, tool, m->project->units)[0])
        show_say(&words, tool->kind == BW_IRON ? ", pitch %s" : " %s", size.text);
    if (tool && tool->kind == BW_IRON)
        show_say(&words, ", %d %s", tool->teeth, tool->teeth == 1 ? "tooth" : "teeth");
    card_add(m, SHOW_CARD_ROW, true, tool && tool->id ? tool->id : "-", words.text, for_what, NULL);
}

/* Every tool of this kind that the shop has, or the word alone where it has none written down. */
static void shop_tools(card_maker *m, bw_kind kind, const char *what, const char *for_what) {
    bool any = false;
    for (size_t i = 0; i < m->project->layout.tool_count; i++) {
        const bw_tool *tool = &m->project->tools[i];
        if (tool->kind != kind || tool->retired)
            continue;
        tool_row(m, tool, what, for_what);
        any = true;
    }
    if (!any)
        tool_row(m, NULL, what, for_what);
}

/* The bands that are struck with the same tool, told with the first of them. */
static bool bands_of(const card_maker *m, size_t band, show_words *out) {
    int tool = m->project->bands[band].tool;
    show_start(out);
    for (size_t i = 0; i < m->plan->band_count; i++) {
        if (m->project->bands[i].tool != tool || m->plan->bands[i].fill == BW_FILL_PLAIN)
            continue;
        if (i < band)
            return false;
        show_say(out, "%s%s", i == band ? "" : ", ", show_band_name(m->project, i));
    }
    return true;
}

static void tools(card_maker *m) {
    static const char *const kinds[] = {"", "basket stamp", "border stamp", "iron"};
    const shop_project *project = m->project;
    show_words names;
    bool stamps = false;
    card_add(m, SHOW_CARD_HEAD, false, "TOOLS", NULL);
    card_add(m, SHOW_CARD_COLUMNS, false, "id", "tool", "for", NULL);
    for (size_t i = 0; i < m->plan->band_count; i++) {
        bw_fill fill = m->plan->bands[i].fill;
        const bw_tool *tool = show_band_tool(project, i);
        stamps = stamps || fill == BW_FILL_BASKET || fill == BW_FILL_BORDER;
        if (fill != BW_FILL_PLAIN && tool && bands_of(m, i, &names))
            tool_row(m, tool, kinds[fill], names.text);
    }
    if (m->plan->line_count > 0 && project->dividers >= 0)
        tool_row(m, &project->tools[project->dividers], "dividers", "all lines");
    else if (m->plan->line_count > 0)
        shop_tools(m, BW_DIVIDERS, "dividers", "all lines");
    if (work_has_line(m->plan, BW_DO_CUT, false))
        shop_tools(m, BW_KNIFE, "swivel knife", "lines to cut");
    if (work_has_line(m->plan, BW_DO_CUT, true))
        shop_tools(m, BW_BEVELER, "beveler", "cut lines");
    if (stamps)
        shop_tools(m, BW_MAUL, "maul", "stamps");
}

/* ---- the rest ---- */

static void order(card_maker *m) {
    work_step list[WORK_STEPS];
    size_t count = work_steps(m->project, m->plan, m->marks, list);
    card_add(m, SHOW_CARD_HEAD, false, "ORDER OF WORK", NULL);
    for (size_t i = 0; i < count; i++) {
        char number[32];
        snprintf(number, sizeof number, "%zu.", i + 1);
        card_add(m, SHOW_CARD_STEP, true, number, list[i].brief.text, NULL);
    }
}

static void cautions(card_maker *m) {
    card_add(m, SHOW_CARD_HEAD, false, CAUTIONS_HEAD, NULL);
    for (size_t i = 0; work_cautions[i]; i++)
        card_say(m, SHOW_CARD_SAY, work_cautions[i]);
}

show_card *show_card_create(const shop_project *project, const bw_plan *plan) {
    show_card *card = calloc(1, sizeof *card);
    if (!card)
        return NULL;
    card_maker m = {.card = card, .project = project, .plan = plan};
    head(&m);
    warnings(&m); /* what cannot work is said before anything is set or struck */
    lines(&m);
    tools(&m);
    card_bands(&m);
    order(&m);
    card_totals(&m);
    cautions(&m);
    if (card->failed) {
        show_card_free(card);
        return NULL;
    }
    return card;
}
