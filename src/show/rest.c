/* What is said in the middle of a round: each count that could close it, and what to do where none can. */
#include <math.h>
#include <string.h>

#include "bandwright/hand.h"
#include "show/inner.h"
#include "show/legs.h"
#include "show/round.h"

typedef struct told {
    show_words *out;
    const shop_project *project;
    const bw_plan *plan;
    const bw_band_plan *band;
    const bw_rest *rest;
    const bw_rest_count *one;
} told;

static told tell(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest, size_t i) {
    show_start(out);
    return (told){out, project, plan, &plan->bands[rest->band], rest, i < rest->count ? &rest->counts[i] : NULL};
}

#define SAY(...) show_say(t->out, __VA_ARGS__)
#define LEN(mm) show_length(t->project, mm).text
#define DIFF(mm) show_change(t->project, mm).text

static bool closed(const told *t) {
    return t->band->runs[t->rest->run].closed;
}

static const char *unit(const told *t, int count) {
    if (t->band->fill == BW_FILL_STITCH)
        return count == 1 ? "hole" : "holes";
    return count == 1 ? "impression" : "impressions";
}

/* Nothing is to be struck: what is left is the step from the last to the first. */
static bool is_closing_step(const told *t) {
    return closed(t) && t->one->count == t->rest->struck;
}

/* "1.5 % longer", "as planned". */
static void say_change(const told *t) {
    const bw_rest_count *one = t->one;
    if (fabs(one->change) < SHOW_NOTHING)
        SAY("%s", one->as_planned ? t->rest->told_at > 0 ? "as told" : "as planned" : "hardly changed");
    else
        SAY("%s %s", show_percent(fabs(one->share)).text, one->change > 0 ? "longer" : "shorter");
}

const char *show_rest_line(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest,
                           size_t index, bool brief) {
    told all = tell(out, project, plan, rest, index), *t = &all;
    const bw_rest_count *one = t->one;
    SAY("%s%d: ", one->works ? "" : "x ", one->count);
    if (one->steps == 0) {
        SAY("full, nothing is left");
        return out->text;
    }
    if (brief) {
        SAY("%d x %s", one->steps, LEN(one->step));
        return out->text;
    }
    if (is_closing_step(t))
        SAY("the closing step of %s, ", LEN(one->step));
    else
        SAY("%d step%s of %s, ", one->steps, one->steps == 1 ? "" : "s", LEN(one->step));
    say_change(t);
    return out->text;
}

/* ---- one count ---- */

static void say_settings(const told *t) {
    const bw_rest_count *one = t->one;
    const char *then = "strike ";
    for (size_t i = 0; i < one->setting_count; i++) {
        const bw_setting *s = &one->settings[i];
        if (s->where == BW_WHERE_STEPS)
            show_say_steps(t->out, t->project, s->steps, s->step, then);
        else
            SAY("%s%s steps where the guide %s", then, LEN(s->step),
                s->where == BW_WHERE_BENDS ? "bends" : "is straight");
        then = ", then ";
    }
    if (one->setting_count > 0)
        SAY(". ");
}

static void say_overlap(const told *t) {
    const bw_rest_count *one = t->one;
    if (isnan(one->overlap))
        return;
    double mm = show_legs(t->band, one->step);
    if (mm >= 0)
        SAY("On the guide legs overlap by %s. ", DIFF(mm));
    else
        SAY("On the guide legs miss each other by %s. ", DIFF(-mm));
}

static void say_reach(const told *t) {
    const bw_rest_count *one = t->one;
    bool basket = t->band->fill == BW_FILL_BASKET;
    if (!one->works) {
        SAY("No: ");
        show_say_misfit(t->out, t->project, t->band, one);
        SAY(". ");
    } else if (!basket)
        SAY("The tool gives as much. ");
    else {
        SAY("On what is left outer and inner rows reach: ");
        show_say_kept(t->out, t->project, t->band,
                      &(show_kept){.reach = one->reach_mm,
                                   .crowd = one->crowd_mm,
                                   .reach_line = one->reach_line,
                                   .crowd_line = one->crowd_line});
        SAY(". ");
    }
    if (one->works && one->bend < -BW_EPS)
        SAY("On the bend it is as the plan says. ");
}

static void say_spread(const told *t) {
    const bw_rest_count *one = t->one;
    bool changes = fabs(one->change) >= SHOW_NOTHING, jumps = fabs(one->jump) > BW_VISIBLE_JUMP + BW_EPS;
    const char *way = one->jump > 0 ? "longer" : "shorter";
    if (changes) {
        SAY("That is %s a step %s than %s: ", DIFF(one->change), one->change > 0 ? "longer" : "shorter",
            t->rest->told_at > 0 ? "told" : "planned");
        if (one->spread == 0)
            SAY("it shows even when spread over all that is left. ");
        else if (jumps) /* the eye goes by the neighbours, which are the hand's */
            SAY("little against the plan, but the next step is %s %s than those struck, and where they meet it shows. ",
                DIFF(one->jump), way);
        else if (one->spread == one->steps)
            SAY("not seen if spread over all of them. ");
        else
            SAY("not seen if spread over %d or more. ", one->spread);
    }
    if (jumps && (!changes || one->spread == 0))
        SAY("The next step is %s %s than those struck: the jump shows. ", DIFF(one->jump), way);
}

const char *show_rest_words(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest,
                            size_t index) {
    told all = tell(out, project, plan, rest, index), *t = &all;
    const bw_rest_count *one = t->one;
    int more = one->count - rest->struck;
    SAY("%d %s in all, ", one->count, unit(t, one->count));
    if (is_closing_step(t))
        SAY("all struck: the closing step, from the last to the first, is %s. ", LEN(one->step));
    else
        SAY("%d more%s: ", more, closed(t) ? ", and the last meets the first" : "");
    if (one->steps == 0) {
        SAY("the run is full.");
        return out->text;
    }
    if (!is_closing_step(t))
        say_settings(t);
    say_reach(t);
    say_overlap(t);
    say_spread(t);
    out->text[strlen(out->text) - 1] = '\0'; /* the blank */
    return out->text;
}

const char *show_rest_drift(show_words *out, const shop_project *project, const bw_rest *rest) {
    show_start(out);
    double drift = rest->left - rest->told;
    char words[40] = "planned";
    show_say(out, "%s left after %d", show_length(project, rest->left).text, rest->struck);
    if (isnan(drift)) {
        show_say(out, "; the plan is full by then");
        return out->text;
    }
    if (rest->told_at > 0)
        snprintf(words, sizeof words, "told after %d", rest->told_at);
    bool seen = fabs(drift) >= BW_RULE_MM / 2;
    if (fabs(drift) >= SHOW_NOTHING)
        show_say(out, ", %s %s than %s", show_change(project, drift).text, drift > 0 ? "more" : "less", words);
    else
        show_say(out, ", as %s", words);
    if (rest->doubtful)
        return out->text; /* the steps are told with the doubt */
    if (!seen && fabs(drift) >= SHOW_NOTHING)
        show_say(out, ", and less than a rule tells");
    if (seen && !isnan(rest->since_step))
        show_say(out, ": the steps %s %s, %s on the mean", rest->told_at > 0 ? "since then were" : "struck were",
                 drift > 0 ? "short" : "long", show_apart(project, rest->since_step, rest->told_step).text);
    if (seen && !isnan(rest->since_step) && rest->told_at > 0)
        show_say(out, " in place of %s", show_apart(project, rest->told_step, rest->since_step).text);
    return out->text;
}

/* ---- where none works ---- */

static void say_rows_out(const told *t) {
    const bw_rest_count *one = t->one;
    int outer = one->leave_outer, inner = one->leave_inner;
    SAY("%d steps of %s would close it without ", one->steps, LEN(one->step));
    if (outer > 0)
        SAY("the outermost %s", outer == 1 ? "row" : "rows");
    if (outer > 1)
        SAY(" (%d)", outer);
    if (inner > 0)
        SAY("%sthe innermost %s", outer > 0 ? " and " : "", inner == 1 ? "row" : "rows");
    if (inner > 1)
        SAY(" (%d)", inner);
    SAY(": leave %s out and strike a border stamp on the bare strip. ", outer + inner == 1 ? "it" : "them");
}

/* A count that keys no rows but closes: two of one row meet at the seam. */
static void say_odd_count(const told *t) {
    int m = t->band->fill == BW_FILL_BASKET && closed(t) ? 2 : 1;
    for (int by = -1; by <= 1 && m == 2; by += 2) {
        bw_rest *odd = NULL;
        int count = t->one->count + by;
        bw_measure one = {.band = t->rest->band,
                          .run = t->rest->run,
                          .struck = t->rest->struck,
                          .left = t->rest->left,
                          .count = count};
        if (bw_rest_create(t->plan, &one, NULL, &odd) != BW_OK)
            continue;
        if (odd->works > 0)
            SAY("%d would fit in step, %d of %s, but then two impressions of the same row meet at the seam: only where "
                "it hides. ",
                count, odd->counts[0].steps, LEN(odd->counts[0].step));
        bw_rest_destroy(odd);
    }
}

/* What the hand can do then, in the words of what it strikes. */
static void say_way_out(const told *t) {
    bool holes = t->band->fill == BW_FILL_STITCH;
    if (t->rest->open > SHOW_NOTHING && holes)
        SAY("At the widest step, %s, %d steps leave %s open at the end: set one hole more by eye, where it hides.",
            LEN(t->band->most), t->one->steps, LEN(t->rest->open));
    else if (t->rest->open > SHOW_NOTHING)
        SAY("At the widest step, %s, %d steps leave %s open at the end: close that with one leaned impression.",
            LEN(t->band->most), t->one->steps, LEN(t->rest->open));
    else if (is_closing_step(t))
        SAY("The run is full, nothing is left to strike: have the closing step where it hides.");
    else if (holes)
        SAY("Otherwise go on at the closest step, %s, and let the last stitch be as short as it comes, where it hides.",
            LEN(t->band->least));
    else
        SAY("Otherwise strike on at the closest step, %s, and lean the last impression where it meets the one before "
            "it%s.",
            LEN(t->band->least), closed(t) ? ", and put it where the seam hides" : "");
}

const char *show_rest_none(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest) {
    told all = tell(out, project, plan, rest, 0), *t = &all;
    if (rest->works > 0)
        return out->text;
    SAY("Nothing fits what is left. ");
    if (!rest->doubtful)
        SAY("Measure it once more before you strike. ");
    if (t->one == NULL) {
        SAY(t->band->fill == BW_FILL_STITCH
                ? "Then stop here: close the gap with one stitch by eye, where it hides."
                : "Then stop here: cover the gap with a border stamp, or hide it at the seam.");
        return out->text;
    }
    if (t->one->leave_outer >= 0 && t->band->fill == BW_FILL_BASKET)
        say_rows_out(t);
    say_odd_count(t);
    say_way_out(t);
    return out->text;
}

/* ---- the page ---- */

static void put_wrapped(FILE *to, const char *indent, const char *text) {
    enum { WIDTH = SHOW_PAGE_WIDTH };
    size_t used = strlen(indent);
    fputs(indent, to);
    while (*text) {
        size_t word = strcspn(text, " ");
        if (used + word > WIDTH && used > strlen(indent)) {
            fprintf(to, "\n%s", indent);
            used = strlen(indent);
        }
        fwrite(text, 1, word, to);
        used += word;
        text += word;
        if (*text == ' ') {
            text++;
            if (*text && used + 1 + strcspn(text, " ") <= WIDTH) {
                fputc(' ', to);
                used++;
            } else if (*text) {
                fprintf(to, "\n%s", indent);
                used = strlen(indent);
            }
        }
    }
    fputc('\n', to);
}

bool show_rest_text(FILE *to, const shop_project *project, const bw_plan *plan, const bw_rest *rest) {
    show_words words, run;
    show_start(&run);
    show_say_run(&run, project, plan, rest->band, rest->run);
    show_rest_drift(&words, project, rest);
    char head[1200];
    snprintf(head, sizeof head, "%s: %s%s.", show_band_name(project, rest->band), run.text, words.text);
    show_rest_doubt(&words, project, plan, rest);
    if (words.text[0] != '\0') {
        show_say(&words, " If both are right it goes on like this:");
        put_wrapped(to, "", words.text);
    }
    put_wrapped(to, "", head);
    show_rest_struck(&words, project, plan, rest, false);
    if (words.text[0] != '\0')
        put_wrapped(to, "", words.text);
    show_rest_none(&words, project, plan, rest);
    if (words.text[0] != '\0')
        put_wrapped(to, "  ", words.text);
    for (size_t i = 0; i < rest->count; i++) {
        if (!rest->counts[i].works && i >= rest->works + 2)
            break; /* two that nearly would */
        fprintf(to, "\n%s\n", show_rest_line(&words, project, plan, rest, i, false));
        put_wrapped(to, "  ", show_rest_words(&words, project, plan, rest, i));
        show_rest_marks(&words, project, plan, rest, i);
        if (words.text[0] != '\0')
            put_wrapped(to, "  ", words.text);
    }
    return !ferror(to);
}
