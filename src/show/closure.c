/* Count, gap and step-change: the largest things on the screen. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "show/inner.h"

/* Digits of three lines, drawn like strokes; plain ASCII. */
static const char *const strokes[][3] = {
    {" _ ", "| |", "|_|"}, {"   ", "  |", "  |"}, {" _ ", " _|", "|_ "}, {" _ ", " _|", " _|"}, {"   ", "|_|", "  |"},
    {" _ ", "|_ ", " _|"}, {" _ ", "|_ ", "|_|"}, {" _ ", "  |", "  |"}, {" _ ", "|_|", "|_|"}, {" _ ", "|_|", " _|"},
};
static const char *const plus[3] = {"   ", "_|_", " | "}, *const minus[3] = {"   ", "___", "   "};
static const char *const slash[3] = {"  /", " / ", "/  "}, *const point[3] = {" ", " ", "."},
                         *const gap[3] = {" ", " ", " "};

static const char *const *large(char c) {
    if (c >= '0' && c <= '9')
        return strokes[c - '0'];
    return c == '+' ? plus : c == '-' ? minus : c == '/' ? slash : c == '.' ? point : gap;
}

static int large_width(const char *text) {
    int width = 0;
    for (; *text; text++)
        width += (int)strlen(large(*text)[0]) + 1;
    return width;
}

int show_large(show_grid *grid, int x, int y, int width, unsigned look, const char *text) {
    int from = x, right = width < 0 ? grid->width : x + width;
    for (; *text && x < right; text++) {
        const char *const *shape = large(*text);
        for (int i = 0; i < 3; i++)
            show_put(grid, x, y + i, right - x, look, shape[i]);
        x += (int)strlen(shape[0]) + 1;
    }
    return (x < right ? x : right) - from;
}

/* A figure with its sign and its unit kept apart. */
typedef struct figure {
    const char *label, *brief;
    char value[64];
    const char *unit;
} figure;

static void signed_value(const shop_project *project, double mm, figure *out) {
    show_figure_text text = show_signed(project, mm);
    text.text[strcspn(text.text, " ")] = '\0';
    snprintf(out->value, sizeof out->value, "%s", text.text);
    out->unit = project->units == SHOP_INCH ? "in" : "mm";
}

/* The largest forms that fit are taken: long labels, short ones, then only count and gap large. */
static bool put_all_large(show_grid *grid, show_rect where, const figure *list, int count, bool brief) {
    int width[3], all = 0;
    for (int i = 0; i < count; i++) {
        const char *label = brief ? list[i].brief : list[i].label;
        int words = (int)strlen(label) + (*list[i].unit ? (int)strlen(list[i].unit) + 2 : 0),
            wide = large_width(list[i].value);
        width[i] = (words + 1 > wide ? words + 1 : wide) + (brief ? 0 : 2);
        all += width[i];
    }
    if (all - 1 > where.width)
        return false;
    for (int i = 0, x = where.x; i < count; x += width[i], i++) {
        int room = where.x + where.width - x;
        show_large(grid, x, where.y, room, SHOW_BOLD, list[i].value);
        show_putf(grid, x, where.y + 3, room, SHOW_PLAIN, "%s%s%s", brief ? list[i].brief : list[i].label,
                  *list[i].unit ? ", " : "", list[i].unit);
    }
    return true;
}

static void put_one(show_grid *grid, show_rect where, int line, const figure *one) {
    show_putf(grid, where.x, where.y + line, where.width, SHOW_BOLD, "%s %s%s%s", one->value, one->unit,
              *one->unit ? " " : "", one->label);
}

/* Returns the lines used. */
static int put_figures(show_grid *grid, show_rect where, const figure list[3]) {
    if (where.height >= 4 && (put_all_large(grid, where, list, 3, false) || put_all_large(grid, where, list, 3, true)))
        return 4;
    if (where.height >= 5 && put_all_large(grid, where, list, 2, true)) {
        put_one(grid, where, 4, &list[2]);
        return 5;
    }
    for (int i = 0; i < 3 && where.height >= 3; i++)
        put_one(grid, where, i, &list[i]);
    if (where.height < 3) {
        show_words words = {""};
        const char *label = list[0].label;
        show_say(&words, ", %s %s %s, each %s %s", list[1].brief, list[1].value, list[1].unit, list[2].value,
                 list[2].unit);
        bool long_one = (int)(strlen(list[0].value) + 1 + strlen(label) + strlen(words.text)) <= where.width;
        show_putf(grid, where.x, where.y, where.width, SHOW_BOLD, "%s%s%s%s", list[0].value, long_one ? " " : "",
                  long_one ? label : "", words.text);
    }
    return 3;
}

/* The sentence, shorter where it would lose its end: whether the steps are longer or shorter must still be told. */
static void put_sentence(show_grid *grid, show_rect where, const show_view *view, size_t run) {
    const shop_project *project = view->project;
    const bw_run_plan *one = &show_view_band(view)->runs[run];
    const bw_setting *last = show_last_setting(one);
    double change = last ? last->step - one->usual_step : one->step_change;
    show_words words;
    show_closure_sentence(&words, project, view->plan, view->band, run);
    int steps = last ? last->steps : show_run_steps(one);
    bool even = steps == 0 || fabs(one->closure_gap) < SHOW_NOTHING || fabs(change) < SHOW_NOTHING;
    show_rect unseen = {where.x, where.y, where.width, 0}; /* to count its lines */
    for (int brief = 0; brief < 3 && !even; brief++) {
        if (show_wrap(grid, unseen, SHOW_PLAIN, words.text) <= where.height)
            break;
        show_start(&words);
        if (brief < 2 && show_view_band(view)->run_count > 1)
            show_say(&words, "run %zu: ", run + 1);
        if (brief < 2)
            show_say(&words, "%s %s, ", show_difference(project, one->closure_gap).text,
                     one->closure_gap < 0 ? "lacking"
                     : brief == 1         ? "over"
                                          : "left over");
        show_say(&words, "%s%d step%s %s %s", last ? "the last " : "", steps, steps == 1 ? "" : "s each",
                 show_change(project, change).text, change > 0 ? "longer" : "shorter");
    }
    show_wrap(grid, where, SHOW_PLAIN, words.text);
}

void show_closure(show_grid *grid, show_rect where, const show_view *view) {
    where = show_inside(grid, where);
    if (where.width < 1 || where.height < 1)
        return;
    const bw_band_plan *band = show_view_band(view);
    if (!band || band->fill == BW_FILL_PLAIN || band->run_count == 0) {
        show_wrap(grid, where, SHOW_BOLD,
                  !band                         ? "no band yet"
                  : band->fill == BW_FILL_PLAIN ? "plain leather: nothing to count"
                                                : "no room: nothing to count");
        return;
    }
    size_t run = bw_worst_run(band);
    bool several = band->run_count > 1;
    figure list[3] = {{.label = show_impressions_word(band->fill), .brief = "count", .unit = ""},
                      {.label = several ? "worst gap" : "gap", .brief = several ? "worst gap" : "gap"},
                      {.label = "each step", .brief = "each"}};
    snprintf(list[0].value, sizeof list[0].value, "%d", show_struck(view->plan, view->band));
    signed_value(view->project, band->runs[run].closure_gap, &list[1]);
    const bw_setting *last = show_last_setting(&band->runs[run]);
    char label[32];
    if (last) {
        snprintf(label, sizeof label, "last %d", last->steps);
        list[2].label = list[2].brief = label;
    }
    signed_value(view->project, last ? last->step - band->runs[run].usual_step : band->runs[run].step_change, &list[2]);
    int lines = put_figures(grid, where, list);
    put_sentence(grid, show_from_line(where, lines), view, run);
}
