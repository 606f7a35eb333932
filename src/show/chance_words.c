/* How surely a run of a band closes, in the words of page, card and figures; nothing here is tried, all is by formula.
 */
#include "show/chance_words.h"

#include <math.h>
#include <string.h>

chance_told chance_of(const at_bench *a, size_t r, bw_drift *drift, bw_hand *hand) {
    bool by_hand = a->made->fill == BW_FILL_BASKET || a->made->fill == BW_FILL_BORDER;
    if (!by_hand || !a->tool || r >= a->made->run_count || bw_run_steps(&a->made->runs[r]) < 1)
        return CHANCE_NONE;
    const bw_run_plan *run = &a->made->runs[r];
    *hand = bw_tool_hand(a->tool, BW_RULE_MM);
    if (bw_drift_of(hand, bw_run_steps(run), run->step, a->project->tolerance, drift))
        return drift->sigma > 0 || drift->between > 0 ? CHANCE_TOLD : CHANCE_HIDDEN;
    return a->tool->strip_count == 0 ? CHANCE_NO_STRIP : CHANCE_ONE_STRIP;
}

size_t chance_run(const bw_band_plan *band) {
    size_t most = 0;
    for (size_t r = 1; r < band->run_count; r++)
        if (bw_run_steps(&band->runs[r]) > bw_run_steps(&band->runs[most]))
            most = r;
    return most;
}

show_figure_text chance_strips(const bw_hand *hand) {
    show_figure_text out = show_counted(hand->sigma.strips, "strip");
    if (hand->from_places)
        strcat(out.text, " with places");
    return out;
}

show_figure_text chance_text(double share) {
    show_figure_text out;
    if (share > 0.995) /* strips never prove that all rounds close */
        snprintf(out.text, sizeof out.text, "over 99 %%");
    else if (share < 0.005 && share > 0)
        snprintf(out.text, sizeof out.text, "under 1 %%");
    else
        snprintf(out.text, sizeof out.text, "%.0f %%", share * 100);
    return out;
}

show_figure_text chance_range(const bw_hand *hand, const bw_drift *drift, int marks) {
    show_figure_text out = {""};
    bw_drift better = *drift, worse = *drift;
    if (!bw_drift_limit(hand, false, &better) || !bw_drift_limit(hand, true, &worse))
        return out;
    /* A hand with a bias may close the better the more it strays: the ends are those of all three. */
    double least = 1, most = 0;
    const bw_drift *const all[] = {&worse, drift, &better};
    for (int i = 0; i < 3; i++) {
        double closes = bw_closing_chance(all[i], BW_WAY_ANEW, marks).closes;
        least = fmin(least, closes);
        most = fmax(most, closes);
    }
    snprintf(out.text, sizeof out.text, "%.0f to %.0f %%", floor(least * 100), ceil(most * 100));
    return out;
}

void chance_say_missing(const at_bench *a, chance_told told, show_words *words) {
    if (told == CHANCE_NO_STRIP)
        show_say(words, "two test strips of %s, ten impressions each, would tell how surely it closes", a->tool->id);
    else if (told == CHANCE_ONE_STRIP)
        show_say(words, "one more test strip of %s would tell how surely it closes", a->tool->id);
    else if (told == CHANCE_HIDDEN)
        show_say(words,
                 "the strips of %s read alike: how surely it closes is not told by them, but by more of them or by "
                 "the places of all impressions of one",
                 a->tool->id);
}

/* An earlier band said it. */
static bool said_before(const at_bench *a) {
    for (size_t i = 0; i < a->index; i++) {
        at_bench other = band_at(a->project, a->plan, i);
        bw_drift drift;
        bw_hand hand;
        chance_told told = chance_of(&other, chance_run(other.made), &drift, &hand);
        if (told == CHANCE_NO_STRIP || told == CHANCE_ONE_STRIP)
            return true;
    }
    return false;
}

static void say_told(const at_bench *a, const bw_drift *drift, const bw_hand *hand, show_words *words) {
    int fewest = bw_marks_needed(drift, CHANCE_WANTED, false);
    show_say(words, "chance to close within %s%s: %s struck through",
             show_length(a->project, a->project->tolerance).text, a->made->run_count > 1 ? " (longest run)" : "",
             chance_text(bw_closing_chance(drift, BW_WAY_THROUGH, 0).closes).text);
    for (int marks = 1; marks <= 7 && marks < drift->steps; marks = 2 * marks + 1)
        show_say(words, "%s %s %s", marks == 1 ? ", set anew at" : ",", show_counted(marks, "mark").text,
                 chance_text(bw_closing_chance(drift, BW_WAY_ANEW, marks).closes).text);
    if (fewest < 0)
        show_say(words, "; no %d marks bring 95 %%", BW_MARKS_MOST < drift->steps ? BW_MARKS_MOST : drift->steps - 1);
    else if (fewest == 0)
        show_say(words, "; 95 %% takes none");
    else
        show_say(words, "; 95 %% takes %s", show_counted(fewest, "mark").text);
    show_figure_text range = chance_range(hand, drift, fewest > 0 ? fewest : 0);
    if (range.text[0])
        show_say(words, "; %s %s it open from %s%s", chance_strips(hand).text,
                 hand->sigma.strips == 1 ? "leaves" : "leave", range.text, fewest > 0 ? " there" : "");
}

void band_say_chance(const at_bench *a, show_words *words) {
    bw_drift drift;
    bw_hand hand;
    show_start(words);
    chance_told told = chance_of(a, chance_run(a->made), &drift, &hand);
    if (told == CHANCE_TOLD)
        say_told(a, &drift, &hand, words);
    else if (told == CHANCE_HIDDEN)
        chance_say_missing(a, told, words);
    else if (told != CHANCE_NONE && !said_before(a))
        show_say(words, "two test strips of a stamp would tell how surely its rounds close");
}
