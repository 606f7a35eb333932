/* What is said in the middle of a round: each count that could close it, and what to do where none can. */
#include <math.h>
#include <string.h>

#include "show/inner.h"
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
#define DIFF(mm) show_difference(t->project, mm).text

static bool closed(const told *t) {
    return t->band->runs[t->rest->run].closed;
}

static const char *unit(const told *t, int count) {
    if (t->band->fill == BW_FILL_STITCH)
        return count == 1 ? "hole" : "holes";
    return count == 1 ? "impression" : "impressions";
}

/* "1.5 % longer", "as planned". */
static void say_change(const told *t) {
    const bw_rest_count *one = t->one;
    if (fabs(one->change) < SHOW_NOTHING)
        SAY("%s", one->as_planned || one->count == t->band->runs[t->rest->run].count ? "as planned" : "hardly changed");
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
    double mm = one->overlap * t->band->face.leg;
    if (mm >= 0)
        SAY("On the guide legs overlap by %s. ", DIFF(mm));
    else
        SAY("On the guide legs miss each other by %s. ", DIFF(-mm));
}

static void say_reach(const told *t) {
    const bw_rest_count *one = t->one;
    bool basket = t->band->fill == BW_FILL_BASKET;
    if (one->reach < -BW_EPS)
        SAY("%s by %s %s. ", basket ? "No: legs miss each other" : "No: steps are too long for the tool",
            DIFF(-one->reach_mm), basket ? show_line_place(one->reach_line) : "on the guide");
    if (one->crowd < -BW_EPS)
        SAY("%s by %s %s. ", basket ? "No: legs ride on bars" : "No: steps are too short for the tool",
            DIFF(-one->crowd_mm), basket ? show_line_place(one->crowd_line) : "on the guide");
    if (!one->works)
        return;
    if (!basket)
        SAY("The tool gives as much. ");
    else
        SAY("Outer and inner rows still reach: %s of overlap %s, %s clear of the bars %s. ", DIFF(one->reach_mm),
            show_line_place(one->reach_line), DIFF(one->crowd_mm), show_line_place(one->crowd_line));
    if (one->bend < -BW_EPS)
        SAY("On the bend it is as the plan says. ");
}

static void say_spread(const told *t) {
    const bw_rest_count *one = t->one;
    if (fabs(one->change) >= SHOW_NOTHING) {
        SAY("That is %s a step %s than planned: ", DIFF(one->change), one->change > 0 ? "longer" : "shorter");
        if (one->spread == 0)
            SAY("it shows even when spread over all that is left. ");
        else if (one->spread == one->steps)
            SAY("not seen if spread over all of them. ");
        else
            SAY("not seen if spread over %d or more. ", one->spread);
    }
    if (fabs(one->jump) > BW_VISIBLE_JUMP + BW_EPS)
        SAY("The next step is %s %s than those struck: the jump shows. ", DIFF(one->jump),
            one->jump > 0 ? "longer" : "shorter");
}

const char *show_rest_words(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest,
                            size_t index) {
    told all = tell(out, project, plan, rest, index), *t = &all;
    const bw_rest_count *one = t->one;
    int more = one->count - rest->struck;
    SAY("%d %s in all, %d more", one->count, unit(t, one->count), more);
    SAY("%s: ", closed(t) ? ", and the last meets the first" : "");
    if (one->steps == 0) {
        SAY("the run is full.");
        return out->text;
    }
    say_settings(t);
    say_reach(t);
    say_overlap(t);
    say_spread(t);
    out->text[strlen(out->text) - 1] = '\0'; /* the blank */
    return out->text;
}

const char *show_rest_drift(show_words *out, const shop_project *project, const bw_rest *rest) {
    show_start(out);
    double drift = rest->left - rest->planned;
    show_say(out, "%s left after %d", show_length(project, rest->left).text, rest->struck);
    if (isnan(drift))
        show_say(out, "; the plan is full by then");
    else if (fabs(drift) < SHOW_NOTHING)
        show_say(out, ", as planned");
    else
        show_say(out, ", %s %s than planned: the steps struck were %s", show_difference(project, drift).text,
                 drift > 0 ? "more" : "less", drift > 0 ? "short" : "long");
    if (!isnan(rest->struck_step) && fabs(drift) >= SHOW_NOTHING)
        show_say(out, ", %s on the mean", show_length(project, rest->struck_step).text);
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
        if (bw_rest_create(t->plan, t->rest->band, t->rest->run, t->rest->struck, t->rest->left, count, NULL, &odd) !=
            BW_OK)
            continue;
        if (odd->works > 0)
            SAY("%d would fit in step, %d of %s, but then two impressions of the same row meet at the seam: only where "
                "it hides. ",
                count, odd->counts[0].steps, LEN(odd->counts[0].step));
        bw_rest_destroy(odd);
    }
}

const char *show_rest_none(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest) {
    told all = tell(out, project, plan, rest, 0), *t = &all;
    if (rest->works > 0)
        return out->text;
    SAY("Nothing fits what is left. Measure it once more before you strike. ");
    if (t->one == NULL) {
        SAY("Then stop here: cover the gap with a border stamp, or hide it at the seam.");
        return out->text;
    }
    if (t->one->leave_outer >= 0)
        say_rows_out(t);
    say_odd_count(t);
    if (rest->open > SHOW_NOTHING)
        SAY("At the widest step, %s, %d steps leave %s open at the end: close that with one leaned impression.",
            LEN(t->band->most), t->one->steps, LEN(rest->open));
    else
        SAY("Otherwise strike on at the closest step, %s, lean the last impression where it meets the one before it, "
            "and put it where the seam hides.",
            LEN(t->band->least));
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
    put_wrapped(to, "", head);
    show_rest_none(&words, project, plan, rest);
    if (words.text[0] != '\0')
        put_wrapped(to, "  ", words.text);
    for (size_t i = 0; i < rest->count; i++) {
        if (!rest->counts[i].works && i >= rest->works + 2)
            break; /* two that nearly would */
        fprintf(to, "\n%s\n", show_rest_line(&words, project, plan, rest, i, false));
        put_wrapped(to, "  ", show_rest_words(&words, project, plan, rest, i));
    }
    return !ferror(to);
}
