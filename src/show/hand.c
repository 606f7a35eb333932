/* What strips tell of the hand. */
#include "show/hand.h"

#include <math.h>

#include "bandwright/hand.h"
#include "show/page.h"

typedef struct telling {
    const shop_project *project;
    const bw_tool *tool;
    bw_hand hand;
    show_words *lines;
    size_t count;
} telling;

static show_words *line(telling *t) {
    show_words *words = &t->lines[t->count < SHOW_HAND_LINES ? t->count++ : SHOW_HAND_LINES - 1];
    show_start(words);
    return words;
}

static show_figure_text fine(const telling *t, double mm) {
    return show_difference(t->project, mm);
}

static const char *plural(int count, const char *one, const char *many) {
    return count == 1 ? one : many;
}

/* ", from 3 strips", ", from 2 strips and 1 round" */
static void say_from(show_words *out, const bw_tool *tool, bw_how how, bool aims_count) {
    int strips = 0, rounds = 0;
    for (size_t i = 0; i < tool->strip_count; i++) {
        const bw_strip *s = &tool->strips[i];
        bool counts = s->struck == how && !isnan(bw_strip_step(s)) && (aims_count || !s->round || isnan(s->aimed));
        rounds += counts && s->round;
        strips += counts && !s->round;
    }
    show_say(out, ", from ");
    if (strips > 0 || rounds == 0)
        show_say(out, "%d %s", strips, plural(strips, "strip", "strips"));
    if (rounds > 0)
        show_say(out, "%s%d %s", strips > 0 ? " and " : "", rounds, plural(rounds, "round", "rounds"));
}

/* ": between 7.42 and 7.64 mm with 95 %; 3 strips more would halve that." */
static void say_limits(const telling *t, show_words *out, const bw_estimate *e, bool sign) {
    if (isnan(e->most)) {
        show_say(out, "; a second strip tells how sure that is.");
        return;
    }
    show_figure_text least = sign ? show_signed(t->project, e->least) : fine(t, fmax(e->least, 0));
    show_figure_text most = sign ? show_signed(t->project, e->most) : fine(t, e->most);
    show_say(out, "; with 95 %% between %s and %s", least.text, most.text);
    int more = bw_strips_to_halve(e);
    if (more > 0)
        show_say(out, "; %d %s more would halve that", more, plural(more, "strip", "strips"));
    show_say(out, ".");
}

static void tell_step(telling *t, const char *name, const bw_estimate *e, bw_how how) {
    if (e->strips == 0)
        return;
    show_words *out = line(t);
    show_say(out, "%s %s", name, fine(t, e->value).text);
    say_from(out, t->tool, how, false);
    say_limits(t, out, e, false);
}

static void tell_sigma(telling *t) {
    const bw_estimate *e = &t->hand.sigma;
    show_words *out = line(t);
    if (isnan(e->value)) {
        show_say(out, "How far single steps stray (sigma) is not known yet: two strips struck alike tell it.");
        return;
    }
    show_say(out, "A step strays by %s (sigma, %s); with 95 %% between %s and %s. ", fine(t, e->value).text,
             t->hand.from_places ? "from the places within strips" : "from how strips differ, all laid to the steps",
             fine(t, e->least).text, fine(t, e->most).text);
    if (!t->hand.from_places)
        show_say(out, "Strips with every place measured would tell the steps from what lies between strips.");
    const bw_estimate *between = &t->hand.between;
    if (isnan(between->value))
        return;
    show_say(out, "Beside that, strips differ from each other by %s a step; with 95 %% between %s and %s.",
             fine(t, between->value).text, fine(t, between->least).text, fine(t, between->most).text);
}

static void tell_bias(telling *t) {
    const bw_estimate *e = &t->hand.bias;
    if (e->strips == 0)
        return;
    show_words *out = line(t);
    bool wide = e->value > 0, sure = !isnan(e->most) && (e->least > 0 || e->most < 0);
    show_say(out, "The hand steps %s by %s each time (bias, against the aim, else the face)", wide ? "wide" : "close",
             fine(t, e->value).text);
    say_from(out, t->tool, BW_STRUCK_USUAL, true);
    say_limits(t, out, e, true);
    if (!isnan(e->most) && !sure)
        show_say(out, " It may be none.");
}

static void say_step(const telling *t, show_words *out, const char *name, double step, bw_how how) {
    bool strips = (t->tool->from_strips & 1u << how) != 0;
    const double given[] = {[BW_STRUCK_USUAL] = t->tool->usual,
                            [BW_STRUCK_CLOSEST] = t->tool->closest,
                            [BW_STRUCK_WIDEST] = t->tool->widest};
    show_say(out, "%s ", name);
    if (isnan(step)) {
        show_say(out, "by its overlap");
        return;
    }
    show_say(out, "%s (%s)", fine(t, step).text,
             strips              ? "from strips"
             : isnan(given[how]) ? "from the face"
                                 : "as given in steps");
}

static void tell_use(telling *t) {
    bw_steps steps = bw_tool_steps(t->tool);
    show_words *out = line(t);
    show_say(out, "Steps in use: ");
    say_step(t, out, "closest", steps.closest, BW_STRUCK_CLOSEST);
    show_say(out, ", ");
    say_step(t, out, "usual", steps.usual, BW_STRUCK_USUAL);
    show_say(out, ", ");
    say_step(t, out, "widest", steps.widest, BW_STRUCK_WIDEST);
    show_say(out, ".");
}

/* Where strips and face cannot both be right. */
static void tell_trouble(telling *t) {
    bw_face face = bw_tool_face(t->tool);
    const bw_estimate *steps[] = {&t->hand.closest, &t->hand.usual, &t->hand.widest};
    static const char *const names[] = {"closest", "usual", "widest"};
    static const bw_how hows[] = {BW_STRUCK_CLOSEST, BW_STRUCK_USUAL, BW_STRUCK_WIDEST};
    double least = face.length - face.leg, most = face.length;
    for (int i = 0; i < 3; i++) {
        double step = steps[i]->value;
        bool off = t->tool->kind == BW_BASKET && (step < least - BW_EPS || step > most + BW_EPS);
        bool left_out = (t->tool->off_strips & 1u << hows[i]) != 0;
        if (isnan(step) || (!off && !left_out))
            continue;
        show_words *out = line(t);
        show_say(out, "! The %s step by strips, %s, ", names[i], fine(t, step).text);
        if (off)
            show_say(out, "does not go with the face, which allows %s to %s", fine(t, least).text, fine(t, most).text);
        else
            show_say(out, "does not lie between the other steps");
        show_say(out, "%s: measure stamp and strip again.", left_out ? ", and is not used" : "");
    }
}

size_t show_hand_lines(const shop_project *project, const bw_tool *tool, double rule,
                       show_words lines[SHOW_HAND_LINES]) {
    telling t = {.project = project, .tool = tool, .hand = bw_tool_hand(tool, rule), .lines = lines};
    if (tool->strip_count == 0) {
        show_say(line(&t), "No strip yet: strike ten impressions on scrap as usual, without looking at a rule, and "
                           "measure from one point of the first to the same point of the last.");
        tell_use(&t);
        return t.count;
    }
    tell_trouble(&t);
    tell_step(&t, "Usual step", &t.hand.usual, BW_STRUCK_USUAL);
    tell_step(&t, "Closest step", &t.hand.closest, BW_STRUCK_CLOSEST);
    tell_step(&t, "Widest step", &t.hand.widest, BW_STRUCK_WIDEST);
    tell_sigma(&t);
    tell_bias(&t);
    tell_use(&t);
    show_say(line(&t), "Lengths are taken to be read to %s.", fine(&t, rule).text);
    return t.count;
}

void show_say_steps_source(show_words *out, const shop_project *project, const bw_tool *tool) {
    const telling t = {.project = project, .tool = tool};
    bw_steps steps = bw_tool_steps(tool);
    const double step[] = {
        [BW_STRUCK_USUAL] = steps.usual, [BW_STRUCK_CLOSEST] = steps.closest, [BW_STRUCK_WIDEST] = steps.widest};
    static const char *const names[] = {
        [BW_STRUCK_USUAL] = "usual step", [BW_STRUCK_CLOSEST] = "closest step", [BW_STRUCK_WIDEST] = "widest step"};
    bool any = false;
    show_start(out);
    for (int how = 0; how < BW_STRUCK_COUNT; how++) {
        if ((tool->from_strips & 1u << how) == 0)
            continue;
        show_say(out, "%s%s %s", any ? "; " : "", names[how], fine(&t, step[how]).text);
        say_from(out, tool, (bw_how)how, false);
        any = true;
    }
}

bool show_hand_text(FILE *to, const shop_project *project, const bw_tool *tool, double rule) {
    page p = {.to = to, .project = project, .width = SHOW_PAGE_WIDTH};
    show_words lines[SHOW_HAND_LINES];
    size_t count = show_hand_lines(project, tool, rule, lines);
    page_putf(&p, "", "%s: what its strips tell", tool->id);
    for (size_t i = 0; i < count; i++)
        page_put(&p, "  ", lines[i].text);
    return fflush(to) == 0 && !ferror(to);
}
