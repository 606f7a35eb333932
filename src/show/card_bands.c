/* What each band needs, on the card: count and step, how the difference is lost, check marks, rows; and what all of it
 * comes to. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/card_inner.h"
#include "show/chance_words.h"
#include "show/check_marks.h"

/* ---- a band ---- */

static void title(card_maker *m, const at_bench *a) {
    show_words words;
    show_start(&words);
    show_say(&words, "%s", a->tool && a->tool->id ? a->tool->id : "no tool");
    band_say_lay(a, &words);
    show_say(&words, "; fit: %s", bw_verdict_word(a->made->fit.verdict));
    card_add(m, SHOW_CARD_BAND, false, show_band_name(a->project, a->index), words.text, NULL);
}

/* "1.3 mm left over" */
static void say_gap(const at_bench *a, const bw_run_plan *run, show_words *out) {
    show_start(out);
    if (fabs(run->closure_gap) < show_nothing(a->project))
        show_say(out, "closes as it is");
    else
        show_say(out, "%s %s", show_difference(a->project, run->closure_gap).text,
                 run->closure_gap > 0 ? "left over" : "lacking");
}

/* "usual step 7.9 mm, each 0.03 mm longer: strike 27 steps at 7.9 mm and 13 at 8 mm, mixed evenly (about 1 in 3)" */
static void say_strike(const at_bench *a, size_t r, show_words *out) {
    const bw_run_plan *run = &a->made->runs[r];
    const bw_setting *last = show_last_setting(run);
    show_words lose;
    show_start(out);
    show_say(out, "usual step %s", card_set(a->project, run->usual_step, show_step_grid(a->project)).text);
    band_say_lose(a, r, &lose);
    if (last)
        show_say(out, ", lost in the last %d", last->steps);
    else if (fabs(run->closure_gap) >= show_nothing(a->project))
        show_say(out, ", each %s", band_change(a, run).text);
    if (lose.text[0])
        show_say(out, ": strike %s", lose.text);
}

/* What band_say_runs begins with where there are several runs, as a sentence by itself. */
static void say_which(const at_bench *a, show_words *which) {
    size_t length = strlen(which->text);
    if (a->made->run_count > 1 && length > 2)
        which->text[length - 2] = '\0';
}

static void run_row(card_maker *m, const at_bench *a, size_t r) {
    const bw_run_plan *run = &a->made->runs[r];
    double grid = show_step_grid(a->project);
    show_words which, count, step, words;
    if (!band_say_runs(a, r, &which))
        return;
    say_which(a, &which);
    show_start(&count);
    show_say(&count, "%d %s", run->count, band_unit(a, run->count));
    if (run->count == 0) {
        card_add(m, SHOW_CARD_RUN, false, count.text, "no room for one", NULL);
        card_say(m, SHOW_CARD_NOTE, which.text);
        return;
    }
    show_start(&step);
    show_say(&step, "%s %s", run->setting_count > 1 ? "mean step" : "step", card_set(a->project, run->step, grid).text);
    say_gap(a, run, &words);
    card_add(m, SHOW_CARD_RUN, true, count.text, step.text, words.text, NULL);
    card_say(m, SHOW_CARD_NOTE, which.text);
    say_strike(a, r, &words);
    card_say(m, SHOW_CARD_NOTE, words.text);
    band_say_iron(a, r, &words);
    const char *own = a->made->run_count > 1 ? strstr(words.text, ": ") : NULL;
    card_say(m, SHOW_CARD_NOTE, own ? own + 2 : words.text);
}

static void marks_table(card_maker *m, const at_bench *a, size_t r, const bw_check_mark *list, int marks) {
    bool closed = a->made->runs[r].closed;
    double grid = show_step_grid(a->project);
    card_add(m, SHOW_CARD_COLUMNS, false, "mark after", "ALONG (tape)", "ACROSS (dividers)", NULL);
    for (int i = 0; i <= marks; i++) {
        show_words after;
        const char *last = i < marks ? "" : closed ? " = start" : " = last";
        show_start(&after);
        show_say(&after, "%d%s", list[i].after, last);
        card_add(m, SHOW_CARD_ROW, true, after.text, card_set(a->project, list[i].along, grid).text,
                 card_set(a->project, list[i].across, grid).text, NULL);
    }
}

/* Of a run that is told, and of those like it that bend elsewhere. */
static void check_marks(card_maker *m, const at_bench *a, size_t r) {
    int marks;
    bw_check_mark *list = show_check_mark_list(a->project, a->plan, a->index, r, &marks), *other;
    m->card->failed = m->card->failed || (list == NULL && marks > 0);
    if (list == NULL)
        return;
    if (!m->marks)
        card_say(m, SHOW_CARD_LOUD,
                 "Check marks, made lightly before stamping, " CHECK_MARK_MEANS ". ALONG lies on the curve, from the "
                 "middle of the first, laid off with a tape: NO divider setting. ACROSS is straight, from the mark "
                 "before: what the dividers are set to.");
    m->marks = true;
    show_words begun;
    card_say(m, SHOW_CARD_LOUD, check_marks_begun(a, r, &begun));
    marks_table(m, a, r, list, marks);
    for (size_t i = r; (other = check_marks_next(a, r, list, marks, &i)) != NULL; free(other)) {
        show_words which;
        show_start(&which);
        show_say_run(&which, a->project, a->plan, a->index, i);
        card_say(m, SHOW_CARD_SAY, which.text);
        marks_table(m, a, i, other, marks);
    }
    free(list);
}

static void one_run(card_maker *m, const at_bench *a, size_t r) {
    size_t before = m->card->count;
    run_row(m, a, r);
    if (m->card->count > before && a->made->runs[r].count > 0)
        check_marks(m, a, r);
}

static void one_band(card_maker *m, const at_bench *a) {
    show_words words;
    title(m, a);
    band_say_sizes(a, &words);
    card_say(m, SHOW_CARD_LOUD, words.text);
    band_say_steps(a, &words);
    card_say(m, SHOW_CARD_SAY, words.text);
    for (size_t r = 0; r < a->made->run_count; r++)
        one_run(m, a, r);
    band_say_shared(a, &words);
    card_say(m, SHOW_CARD_SAY, words.text);
    band_say_rows(a, &words);
    card_say(m, SHOW_CARD_SAY, words.text);
    band_say_notches(a, &words);
    card_say(m, SHOW_CARD_SAY, words.text);
    bw_drift drift;
    bw_hand hand;
    chance_told told = chance_of(a, chance_run(a->made), &drift, &hand);
    if (told != CHANCE_TOLD && told != CHANCE_HIDDEN)
        return; /* what would tell it stands on the page */
    band_say_chance(a, &words);
    card_say(m, SHOW_CARD_SAY, words.text);
}

void card_bands(card_maker *m) {
    bool told_lay = false;
    for (size_t i = 0; i < m->plan->band_count; i++) {
        at_bench a = band_at(m->project, m->plan, i);
        a.told_lay = told_lay;
        if (a.made->fill == BW_FILL_PLAIN) {
            if (a.made->fit.verdict == BW_NO_ROOM)
                card_add(m, SHOW_CARD_BAND, false, show_band_name(m->project, i), "plain leather: no room for it",
                         NULL);
            continue;
        }
        one_band(m, &a);
        told_lay = told_lay || (a.made->fill == BW_FILL_BASKET && a.asked->lay == BW_LAY_STRAIGHT);
    }
}

/* ---- what it comes to ---- */

static void lengths(card_maker *m) {
    static const char *const words[] = {"cut", "scribe", "mark for stitches"};
    double sums[3] = {0}, bevel = 0;
    for (size_t i = 0; i < m->plan->line_count; i++) {
        const bw_line_plan *line = &m->plan->lines[i];
        sums[line->what] += line->length;
        bevel += line->bevel != BW_BEVEL_NONE ? line->length : 0;
    }
    show_words out;
    show_start(&out);
    for (int i = 0; i < 3; i++)
        if (sums[i] > 0)
            show_say(&out, "%sto %s %s", out.text[0] ? "; " : "lines: ", words[i],
                     show_edge_length(m->project, sums[i]).text);
    if (bevel > 0)
        show_say(&out, "; to bevel %s", show_edge_length(m->project, bevel).text);
    card_say(m, SHOW_CARD_SAY, out.text);
}

static void strike_row(card_maker *m, const char *name, long long strikes, long long blows, double rate) {
    show_words cells[3];
    for (int i = 0; i < 3; i++)
        show_start(&cells[i]);
    show_say(&cells[0], "%lld", strikes);
    show_say(&cells[1], "%lld", blows);
    show_say(&cells[2], "%.0f min", ceil((double)strikes / rate));
    card_add(m, SHOW_CARD_ROW, false, name, cells[0].text, cells[1].text, rate > 0 ? cells[2].text : NULL, NULL);
}

static void rates(card_maker *m, long long strikes) {
    const shop_rates *own = &m->project->rates;
    show_words out;
    char currency[64];
    show_start(&out);
    if (!(own->strikes_per_minute > 0)) {
        card_say(m, SHOW_CARD_SAY, "time: not known; your own rate goes into the file as rates.strikes-per-minute");
        return;
    }
    show_say(&out, "striking alone, at your %g strikes a minute", own->strikes_per_minute);
    shop_clean(own->currency.bytes, own->currency.length, currency, sizeof currency);
    if (own->per_hour > 0)
        show_say(&out, "; at your %.2f%s%s an hour: %.2f%s%s", own->per_hour, currency[0] ? " " : "", currency,
                 (double)strikes / own->strikes_per_minute / 60 * own->per_hour, currency[0] ? " " : "", currency);
    card_say(m, SHOW_CARD_SAY, out.text);
}

void card_totals(card_maker *m) {
    long long strikes = 0, blows = 0;
    double rate = m->project->rates.strikes_per_minute;
    size_t rows = 0;
    card_add(m, SHOW_CARD_HEAD, false, "STRIKES AND TIME", NULL);
    for (size_t i = 0; i < m->plan->band_count; i++) {
        at_bench a = band_at(m->project, m->plan, i);
        if (a.made->fill == BW_FILL_STITCH || a.made->strikes == 0)
            continue;
        long long own = a.made->strikes * (a.tool ? a.tool->blows : 1);
        if (rows++ == 0)
            card_add(m, SHOW_CARD_COLUMNS, false, "band", "strikes", "blows", rate > 0 ? "about" : NULL, NULL);
        strike_row(m, show_band_name(m->project, i), a.made->strikes, own, rate);
        strikes += a.made->strikes;
        blows += own;
    }
    if (rows > 1)
        strike_row(m, "all", strikes, blows, rate);
    if (rows > 0)
        rates(m, strikes);
    lengths(m);
}
