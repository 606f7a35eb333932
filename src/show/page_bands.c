/* What each band needs at the bench, as paragraphs of the page. */
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "show/chance_words.h"
#include "show/check_marks.h"
#include "show/legs.h"
#include "show/page.h"

#define IN "  "

static void put_words(page *p, const show_words *words) {
    if (words->text[0])
        page_put(p, IN, words->text);
}

static void title(page *p, const at_bench *a) {
    show_words words;
    show_start(&words);
    show_say(&words, "%s: ", show_band_name(a->project, a->index));
    if (a->made->fill == BW_FILL_PLAIN) {
        show_say(&words, "plain leather%s", a->made->fit.verdict == BW_NO_ROOM ? ", but there is no room for it" : "");
    } else {
        show_say(&words, "%s", a->tool && a->tool->id ? a->tool->id : "no tool");
        band_say_lay(a, &words);
        bool works = a->made->fit.verdict >= BW_TIGHT;
        show_say(&words, "; fit %s%s%s", works ? "" : "\"", bw_verdict_word(a->made->fit.verdict),
                 works ? "" : "\", see the warnings");
        band_say_strikes(a, &words);
    }
    page_put(p, "", words.text);
}

/* To what a hand can set. */
static double on_grid(const at_bench *a, double mm) {
    double grid = show_step_grid(a->project);
    return floor(mm / grid + 0.5) * grid;
}

/* Tightest and widest step of the legs, with the place where it varies along the line. */
static void extremes(page *p, const at_bench *a) {
    const bw_weave_line *tight = show_extreme_line(a->made, false), *wide = show_extreme_line(a->made, true);
    if (a->made->fill != BW_FILL_BASKET || !a->made->turns || !tight || !wide)
        return;
    show_words words;
    show_start(&words);
    for (int side = 0; side < 2; side++) {
        const bw_weave_line *line = side == 0 ? tight : wide;
        const bw_extreme *at = side == 0 ? &tight->tightest : &wide->widest;
        double step = at->step, e = a->made->face.leg;
        double overlap = show_legs(a->made, step);
        show_say(&words, "%s %s (step %s, legs ", side == 0 ? "tightest" : "; widest", show_line_place(line->line),
                 band_set(a, step).text);
        if (overlap < -BW_EPS)
            show_say(&words, "miss by %s", show_difference(a->project, overlap).text);
        else if (overlap > e + BW_EPS)
            show_say(&words, "ride on the bars by %s", show_difference(a->project, overlap - e).text);
        else
            show_say(&words, "overlap %s", band_set(a, overlap).text);
        show_say(&words, ")");
        if (line->step_most - line->step_least >= 0.01) {
            show_say(&words, ", ");
            show_say_extreme(&words, a->project, a->plan, a->index, at);
        }
    }
    page_put(p, IN, words.text);
}

/* ---- check marks ---- */

/* As long as it may become with all marks that there may be. */
typedef struct listing {
    char text[4000];
    size_t used;
} listing;

static __attribute__((format(printf, 2, 3))) void list_say(listing *l, const char *format, ...) {
    va_list rest;
    va_start(rest, format);
    int wanted = vsnprintf(l->text + l->used, sizeof l->text - l->used, format, rest);
    va_end(rest);
    l->used += wanted > 0 ? (size_t)wanted : 0;
    l->used = l->used < sizeof l->text ? l->used : sizeof l->text - 1;
}

/* "10, 20, 30": with its unit only behind the last. */
static void list_length(const at_bench *a, listing *l, double mm, bool first, bool last) {
    show_figure_text text = show_length(a->project, on_grid(a, mm));
    char *unit = strrchr(text.text, ' ');
    if (!last && unit)
        *unit = '\0';
    list_say(l, "%s%s", first ? "" : ", ", text.text);
}

static void list_marks(page *p, const at_bench *a, size_t r, const bw_check_mark *list, int marks) {
    listing l = {.used = 0};
    bool same = true, anchored = a->made->runs[r].lose == BW_LOSE_ANCHORED;
    list_say(&l, "check marks%s after ",
             p->check_marks ? "" : " (light marks made before stamping, " CHECK_MARK_MEANS ")");
    for (int i = 0; i < marks; i++)
        list_say(&l, "%s%d", i > 0 ? ", " : "", list[i].after);
    list_say(&l, " %s: ", band_unit(a, 2));
    for (int i = 0; i < marks; i++)
        list_length(a, &l, list[i].along, i == 0, i + 1 == marks);
    list_say(&l, " along the guide%s; straight across ", anchored ? " from the first anchor" : "");
    for (int i = 0; i <= marks; i++)
        same = same && fabs(list[i].across - list[0].across) < show_step_grid(a->project) / 2;
    for (int i = 0; i <= (same ? 0 : marks); i++)
        list_length(a, &l, list[i].across, i == 0, same || i == marks);
    list_say(&l, "%s", same ? " each" : "");
    page_put(p, IN, l.text);
    p->check_marks = true;
}

/* Of a run that is told, and of those told with it that bend elsewhere. */
static void check_marks(page *p, const at_bench *a, size_t r) {
    int marks;
    bw_check_mark *list = show_check_mark_list(a->project, a->plan, a->index, r, &marks), *other;
    if (list == NULL)
        return;
    list_marks(p, a, r, list, marks);
    show_words begun;
    if (check_marks_begun(a, r, &begun)[0])
        page_put(p, IN "! ", begun.text);
    for (size_t i = r; (other = check_marks_next(a, r, list, marks, &i)) != NULL; free(other)) {
        show_words which;
        show_start(&which);
        show_say_run(&which, a->project, a->plan, a->index, i);
        page_put(p, IN, which.text);
        list_marks(p, a, i, other, marks);
    }
    free(list);
}

static void counts(page *p, const at_bench *a) {
    show_words words, lose;
    for (size_t r = 0; r < a->made->run_count; r++) {
        if (!band_say_runs(a, r, &words))
            continue;
        band_say_count(a, r, &words);
        put_words(p, &words);
        band_say_lose(a, r, &lose);
        if (lose.text[0])
            page_putf(p, IN, "strike %s", lose.text);
        check_marks(p, a, r);
    }
}

static void one_band(page *p, const at_bench *a) {
    show_words words;
    band_say_sizes(a, &words);
    put_words(p, &words);
    band_say_steps(a, &words);
    put_words(p, &words);
    counts(p, a);
    band_say_shared(a, &words);
    put_words(p, &words);
    band_say_rows(a, &words);
    put_words(p, &words);
    extremes(p, a);
    band_say_notches(a, &words);
    put_words(p, &words);
    band_say_chance(a, &words);
    put_words(p, &words);
    for (size_t r = 0; r < a->made->run_count; r++) {
        band_say_iron(a, r, &words);
        put_words(p, &words);
    }
}

void page_bands(page *p) {
    bool told_lay = false;
    for (size_t i = 0; i < p->plan->band_count; i++) {
        at_bench a = band_at(p->project, p->plan, i);
        a.told_lay = told_lay;
        if (a.made->fill != BW_FILL_PLAIN || i == 0)
            page_put(p, "", "");
        title(p, &a);
        if (a.made->fill == BW_FILL_PLAIN)
            continue;
        one_band(p, &a);
        told_lay = told_lay || (a.made->fill == BW_FILL_BASKET && a.asked->lay == BW_LAY_STRAIGHT);
    }
}
