/* What each band needs, on the card: count and step, how the difference is lost, check marks, rows; and what all of it
 * comes to. */
#include <math.h>
#include <string.h>

#include "bandwright/marks.h"

#include "show/card_inner.h"
#include "show/chance_words.h"

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
    if (fabs(run->closure_gap) < SHOW_NOTHING)
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
    else if (fabs(run->step_change) >= SHOW_NOTHING)
        show_say(out, ", each %s %s", show_change(a->project, run->step_change).text,
                 run->closure_gap > 0 ? "longer" : "shorter");
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

/* Parts of a run, by check marks at its quarters; steps that each must have where the run is open: marks nearer to each
 * other help nobody. */
enum { PARTS = BAND_MARKS, STEPS_LEAST = 3 };

static bool marks_of(const at_bench *a, size_t r, bw_check_mark list[PARTS]) {
    const bw_run_plan *run = &a->made->runs[r];
    return bw_run_steps(run) >= (run->closed ? PARTS : PARTS * STEPS_LEAST) &&
           bw_check_marks(a->plan, a->index, r, PARTS - 1, NULL, list) == BW_OK;
}

/* Runs that are told together may still bend elsewhere, and then their settings across differ. */
static bool marks_differ(const at_bench *a, size_t r, const bw_check_mark list[PARTS]) {
    bw_check_mark other[PARTS];
    for (size_t i = r + 1; i < a->made->run_count; i++) {
        if (!band_runs_alike(&a->made->runs[r], &a->made->runs[i]) || !marks_of(a, i, other))
            continue;
        for (size_t k = 0; k < PARTS; k++)
            if (fabs(other[k].across - list[k].across) > SHOW_NOTHING)
                return true;
    }
    return false;
}

static void marks_table(card_maker *m, const at_bench *a, size_t r, const bw_check_mark list[PARTS]) {
    bool closed = a->made->runs[r].closed;
    double grid = show_step_grid(a->project);
    card_add(m, SHOW_CARD_COLUMNS, false, "mark after", "ALONG (tape)", "ACROSS (dividers)", NULL);
    for (size_t i = 0; i < PARTS; i++) {
        show_words after;
        const char *last = i + 1 < PARTS ? "" : closed ? " = start" : " = last";
        show_start(&after);
        show_say(&after, "%d%s", list[i].after, last);
        card_add(m, SHOW_CARD_ROW, true, after.text, card_set(a->project, list[i].along, grid).text,
                 card_set(a->project, list[i].across, grid).text, NULL);
    }
}

/* Of a run that is told, and of those like it whose settings across are others. */
static void check_marks(card_maker *m, const at_bench *a, size_t r) {
    bw_check_mark list[PARTS];
    if (!marks_of(a, r, list))
        return;
    if (!m->marks)
        card_say(
            m, SHOW_CARD_LOUD,
            "Check marks, made lightly before stamping, where the next one must begin. ALONG lies on the curve, from "
            "the first, laid off with a tape: NO divider setting. ACROSS is straight, from the mark before: what the "
            "dividers are set to.");
    m->marks = true;
    marks_table(m, a, r, list);
    if (!marks_differ(a, r, list))
        return;
    for (size_t i = r + 1; i < a->made->run_count; i++) {
        show_words which;
        if (!band_runs_alike(&a->made->runs[r], &a->made->runs[i]) || !marks_of(a, i, list))
            continue;
        show_start(&which);
        show_say_run(&which, a->project, a->plan, a->index, i);
        card_say(m, SHOW_CARD_SAY, which.text);
        marks_table(m, a, i, list);
    }
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
    if (chance_of(a, chance_run(a->made), &drift, &hand) != CHANCE_TOLD)
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
