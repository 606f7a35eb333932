/* Sentences: the small parts that all of them are made of, and how a round closes. */
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "show/inner.h"

void show_start(show_words *out) {
    out->text[0] = '\0';
}

void show_say(show_words *out, const char *format, ...) {
    size_t used = strlen(out->text), room = sizeof out->text - used;
    va_list rest;
    va_start(rest, format);
    int need = vsnprintf(out->text + used, room, format, rest);
    va_end(rest);
    if (need < 0 || (size_t)need < room)
        return;
    /* Cut: take away a character that lost its last bytes. */
    char *end = out->text + sizeof out->text - 1, *from = end;
    while (from > out->text && end - from < 4 && ((unsigned char)from[-1] & 0xC0) == 0x80)
        from--;
    if (from > out->text && (unsigned char)from[-1] >= 0xC0)
        from--;
    const char *next = from;
    if (*from && (show_decode(&next) == SHOW_BROKEN || next > end))
        *from = '\0';
}

const char *show_band_name(const shop_project *project, size_t band) {
    const char *name = band < project->layout.band_count ? project->bands[band].name : NULL;
    return name ? name : "";
}

const bw_tool *show_band_tool(const shop_project *project, size_t band) {
    int tool = band < project->layout.band_count ? project->bands[band].tool : -1;
    return tool < 0 || (size_t)tool >= project->layout.tool_count ? NULL : &project->tools[tool];
}

const char *show_fill_word(bw_fill fill) {
    static const char *const words[] = {"plain", "basket", "border", "stitch"};
    return words[fill];
}

const char *show_lose_word(bw_lose lose) {
    static const char *const words[] = {"even", "last", "straights", "anchored"};
    return words[lose];
}

const char *show_impressions_word(bw_fill fill) {
    return fill == BW_FILL_STITCH ? "stitches" : "impressions";
}

const char *show_line_place(int line) {
    return line < 0 ? "on the outer row" : line > 0 ? "on the inner row" : "on the guide's row";
}

const bw_weave_line *show_line_find(const bw_band_plan *band, int line) {
    for (size_t i = 0; i < band->line_count; i++)
        if (band->lines[i].line == line)
            return &band->lines[i];
    return NULL;
}

static double round_up(double mm, double grid) {
    return ceil(mm / grid - 1e-6) * grid;
}

show_figure_text show_length_up(const shop_project *project, double mm) {
    return show_length(project, round_up(mm, show_step_grid(project)));
}

show_figure_text show_length_down(const shop_project *project, double mm) {
    return show_length(project, -round_up(-mm, show_step_grid(project)));
}

void show_say_run(show_words *out, const shop_project *project, const bw_plan *plan, size_t band, size_t run) {
    const bw_band_plan *made = &plan->bands[band];
    if (made->run_count < 2 || run >= made->run_count)
        return;
    show_say(out, "run %zu, from ", run + 1);
    if (!show_say_run_start(out, project, plan, band, run))
        show_say(out, "%s along the guide", show_length(project, made->runs[run].from).text);
    show_say(out, ": ");
}

int show_run_steps(const bw_run_plan *run) {
    return bw_run_steps(run);
}

static const bw_run_plan *find_run(const bw_plan *plan, size_t band, size_t run) {
    if (band >= plan->band_count || run >= plan->bands[band].run_count)
        return NULL;
    return &plan->bands[band].runs[run];
}

const bw_setting *show_last_setting(const bw_run_plan *run) {
    bool last = run->lose == BW_LOSE_LAST && !run->fell_back && run->setting_count > 0;
    return last ? &run->settings[run->setting_count - 1] : NULL;
}

/* By how much which steps change: all of them, or the last ones. */
static void say_spread(show_words *out, const shop_project *project, const bw_run_plan *one, int steps) {
    const bw_setting *last = show_last_setting(one);
    double change = last ? last->step - one->usual_step : one->step_change;
    const char *way = one->closure_gap > 0 ? "left over" : "lacking";
    show_say(out, "%s %s, ", show_difference(project, one->closure_gap).text, way);
    if (fabs(change) < show_nothing(project))
        show_say(out, "too little to show in %s of the usual %s", show_counted(last ? last->steps : steps, "step").text,
                 show_length(project, one->usual_step).text);
    else
        show_say(out, "%s%d step%s %s %s than the usual %s", last ? "the last " : "", last ? last->steps : steps,
                 (last ? last->steps : steps) == 1 ? "" : "s each", show_difference(project, change).text,
                 change > 0 ? "longer" : "shorter", show_length(project, one->usual_step).text);
}

const char *show_closure_sentence(show_words *out, const shop_project *project, const bw_plan *plan, size_t band,
                                  size_t run) {
    const bw_run_plan *one = find_run(plan, band, run);
    show_start(out);
    if (!one) {
        show_say(out, "nothing goes round here");
        return out->text;
    }
    show_say_run(out, project, plan, band, run);
    int steps = show_run_steps(one);
    if (steps == 0) {
        show_say(out, "no room: %s of line, the face takes %s", show_length(project, one->to - one->from).text,
                 show_length(project, plan->bands[band].along_line).text);
    } else if (fabs(one->closure_gap) < show_nothing(project)) {
        show_say(out, "closes as it is: %s of %s", show_counted(steps, "step").text,
                 show_length(project, one->usual_step).text);
    } else {
        say_spread(out, project, one, steps);
    }
    return out->text;
}

show_hand_steps show_by_hand(const shop_project *project, int steps, double step) {
    double grid = show_step_grid(project);
    show_hand_steps hand = {.low = floor(step / grid + 1e-6) * grid};
    hand.longer = (int)lround((step - hand.low) * steps / grid);
    if (hand.longer >= steps) {
        hand.low += grid;
        hand.longer = 0;
    }
    hand.high = hand.low + grid;
    return hand;
}

/* " (2 in 5)": how often the fewer come, as a pattern that a hand can keep. The shortest one that gives just so many,
 * else the nearest, if it takes no more than half of what the run may miss its end by; nothing where none does. */
static void say_pattern(show_words *out, const shop_project *project, int steps, int fewer) {
    enum { LONGEST = 5 };
    double grid = show_step_grid(project), best = INFINITY;
    int part = 0, of = 0;
    for (int p = 1; p <= LONGEST && best > 0.5; p++) {
        int q = (int)lround((double)steps * p / fewer);
        double off = fabs((double)steps * p / q - fewer);
        if (off < best) {
            best = off;
            part = p;
            of = q;
        }
    }
    if (best > 0.5 && best * grid > project->tolerance / 2)
        return;
    if (part == 1 && of == 2)
        show_say(out, " (turn about)");
    else
        show_say(out, " (%s%d in %d)", best > BW_EPS ? "about " : "", part, of);
}

/* Two divider settings, mixed evenly. */
void show_say_steps(show_words *out, const shop_project *project, int steps, double step, const char *then) {
    show_hand_steps hand = show_by_hand(project, steps, step);
    int longer = hand.longer, shorter = steps - longer;
    if (longer == 0 || steps == 1) {
        show_say(out, "%s%s at %s", then, show_counted(steps, "step").text,
                 show_length(project, longer ? step : hand.low).text);
        return;
    }
    bool few_long = longer < shorter;
    show_say(out, "%s%s at %s and %d at %s, mixed evenly", then, show_counted(few_long ? shorter : longer, "step").text,
             show_length(project, few_long ? hand.low : hand.high).text, few_long ? longer : shorter,
             show_length(project, few_long ? hand.high : hand.low).text);
    say_pattern(out, project, steps, few_long ? longer : shorter);
}

/* Settings that follow each other with the same step are said together. */
static void say_settings(show_words *out, const shop_project *project, const bw_run_plan *run) {
    const char *then = "";
    for (size_t i = 0; i < run->setting_count;) {
        int steps = 0;
        size_t first = i;
        for (; i < run->setting_count && fabs(run->settings[i].step - run->settings[first].step) < BW_EPS; i++)
            steps += run->settings[i].steps;
        show_say_steps(out, project, steps, run->settings[first].step, then);
        then = ", then ";
    }
}

const char *show_lose_sentence(show_words *out, const shop_project *project, const bw_plan *plan, size_t band,
                               size_t run) {
    const bw_run_plan *one = find_run(plan, band, run);
    show_start(out);
    if (!one || one->setting_count == 0) {
        show_say(out, "nothing is struck here");
        return out->text;
    }
    show_say_run(out, project, plan, band, run);
    const bw_setting *first = &one->settings[0];
    if (first->where != BW_WHERE_STEPS) {
        bool same = true;
        for (size_t i = 1; i < one->setting_count; i++)
            same = same && fabs(one->settings[i].step - first->step) < show_nothing(project);
        if (same) {
            show_say(out, "%s steps all along", show_length(project, first->step).text);
            return out->text;
        }
        for (size_t i = 0; i < one->setting_count; i++)
            show_say(out, "%s%s steps where the guide %s", i ? ", " : "",
                     show_length(project, one->settings[i].step).text,
                     one->settings[i].where == BW_WHERE_BENDS ? "bends" : "runs straight");
        return out->text;
    }
    if (one->lose == BW_LOSE_ANCHORED)
        show_say(out, "from the first anchor: ");
    if (plan->bands[band].fill == BW_FILL_STITCH && one->setting_count == 1)
        show_say(out, "%s of %s, the difference spread over all of them", show_counted(first->steps, "step").text,
                 show_length(project, first->step).text);
    else
        say_settings(out, project, one);
    return out->text;
}

void show_say_bare(show_words *out, const shop_project *project, const bw_band_plan *band, int width) {
    show_figure_text bare = show_length(project, fmax(band->bare_outer, band->bare_inner));
    if (band->fill != BW_FILL_BASKET && band->fill != BW_FILL_BORDER)
        return;
    for (int i = 0; i < 2; i++) {
        show_words more;
        snprintf(more.text, sizeof more.text, i == 0 ? "  bare strip %s" : "  bare %s", bare.text);
        if (show_text_width(out->text) + show_text_width(more.text) > width)
            continue;
        show_say(out, "%s", more.text);
        return;
    }
}
