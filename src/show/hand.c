/* What strips tell of the hand. */
#include "show/hand.h"

#include <math.h>
#include <string.h>

#include "show/chance_words.h"
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

/* ", from 3 strips", ", from 2 strips and 1 round"; of_aims: those that tell of the bias, else those of the step */
static void say_from(show_words *out, const bw_tool *tool, bw_how how, bool of_aims) {
    int strips = 0, rounds = 0;
    for (size_t i = 0; i < tool->strip_count; i++) {
        const bw_strip *s = &tool->strips[i];
        bool aims = !isnan(s->aimed);
        bool counts = s->struck == how && !isnan(bw_strip_step(s)) && (of_aims ? aims : !s->round || !aims);
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

/* "0.17 mm", or what is written in its place where it shows as nothing. */
static show_figure_text or_else(const shop_project *project, double mm, const char *otherwise) {
    show_figure_text out = show_difference(project, mm), none = show_difference(project, 0);
    if (strcmp(out.text, none.text) == 0)
        snprintf(out.text, sizeof out.text, "%s", otherwise);
    return out;
}

show_figure_text show_stray_text(const shop_project *project, const bw_hand *hand) {
    show_figure_text hidden;
    snprintf(hidden.text, sizeof hidden.text, "less than a rule read to %.12s tells",
             show_difference(project, hand->rule).text);
    return or_else(project, hand->sigma.value, hidden.text);
}

const char *show_stray_words(show_words *out, const shop_project *project, const bw_hand *hand) {
    show_start(out);
    show_say(out, "strays by %s", show_stray_text(project, hand).text);
    if (!isnan(hand->bias.value))
        show_say(out, " and is %s off", show_signed(project, hand->bias.value).text);
    return out->text;
}

/* "; with 95 % between 0.1 mm and 0.4 mm", "; with 95 % by no more than 0.4 mm" */
static void say_spread_limits(const telling *t, show_words *out, const bw_estimate *e) {
    if (e->least > 0 && strcmp(fine(t, e->least).text, fine(t, 0).text) != 0)
        show_say(out, "; with 95 %% between %s and %s.", fine(t, e->least).text, fine(t, e->most).text);
    else
        show_say(out, "; with 95 %% by no more than %s.", fine(t, e->most).text);
}

static void tell_sigma(telling *t) {
    const bw_estimate *between = &t->hand.between;
    show_words *out = line(t);
    if (isnan(t->hand.sigma.value)) {
        show_say(out, "How far single steps stray (sigma) is not known yet: two strips struck alike tell it.");
        return;
    }
    show_say(out, "A step strays by %s (sigma, %s)", show_stray_text(t->project, &t->hand).text,
             t->hand.from_places ? "from the places within strips" : "from how strips differ, all laid to the steps");
    say_spread_limits(t, out, &t->hand.sigma);
    if (!t->hand.from_places)
        show_say(out, " Strips with every place measured would tell the steps from what lies between strips.");
    if (isnan(between->value))
        return;
    show_say(out, " Beside that, strips differ from each other by %s",
             or_else(t->project, between->value, "no more than that explains").text);
    say_spread_limits(t, out, between);
}

static void tell_bias(telling *t) {
    const bw_estimate *e = &t->hand.bias;
    show_words *out = line(t);
    if (e->strips == 0) {
        show_say(out,
                 "Whether the hand steps wide or close of its aim (bias) is not known: a strip or round with an aim "
                 "tells it.");
        return;
    }
    bool sure = !isnan(e->most) && (e->least > 0 || e->most < 0);
    show_say(out, "The hand steps %s of its aim", e->value > 0 ? "wide" : "close");
    show_say(out, " by %s each time (bias)", or_else(t->project, e->value, "next to nothing").text);
    say_from(out, t->tool, BW_STRUCK_USUAL, true);
    say_limits(t, out, e, true);
    if (!isnan(e->most) && !sure)
        show_say(out, " It may be none.");
}

const char *show_step_source(const bw_tool *tool, bw_how how) {
    const double given[] = {
        [BW_STRUCK_USUAL] = tool->usual, [BW_STRUCK_CLOSEST] = tool->closest, [BW_STRUCK_WIDEST] = tool->widest};
    bool overlap = how == BW_STRUCK_USUAL && tool->kind == BW_BASKET;
    return (tool->from_strips & 1u << how) != 0 ? "from strips"
           : !isnan(given[how])                 ? "as given"
           : overlap                            ? "by overlap"
                                                : "from the face";
}

void show_say_steps_in_use(show_words *out, const shop_project *project, const bw_tool *tool) {
    static const char *const names[] = {"closest", "usual", "widest"};
    static const bw_how hows[] = {BW_STRUCK_CLOSEST, BW_STRUCK_USUAL, BW_STRUCK_WIDEST};
    show_say(out, "Steps in use: ");
    for (int i = 0; i < 3; i++)
        show_say(out, "%s%s %s (%s)", i > 0 ? ", " : "", names[i],
                 show_difference(project, bw_step_in_use(tool, hows[i])).text, show_step_source(tool, hows[i]));
    show_say(out, ".");
}

static const bw_how steps_in_order[] = {BW_STRUCK_CLOSEST, BW_STRUCK_USUAL, BW_STRUCK_WIDEST};
static const char *const step_names[] = {
    [BW_STRUCK_USUAL] = "usual", [BW_STRUCK_CLOSEST] = "closest", [BW_STRUCK_WIDEST] = "widest"};

/* What of a step by strips does not go with the stamp's face; false and nothing said where it does, or has none. */
static bool say_off_face(show_words *out, const telling *t, double step) {
    bw_face face = bw_tool_face(t->tool);
    double least = face.length - face.leg, most = face.length;
    if (t->tool->kind != BW_BASKET || (step >= least - BW_EPS && step <= most + BW_EPS))
        return false;
    show_say(out, "does not go with the face, which allows %s to %s", fine(t, least).text, fine(t, most).text);
    return true;
}

/* Which of the other steps in use it contradicts. */
static void say_contradicts(show_words *out, const telling *t, bw_how how, double step) {
    bool after = false;
    show_say(out, "does not lie between the other steps");
    for (int i = 0; i < BW_STRUCK_COUNT; i++) {
        bw_how other = steps_in_order[i];
        double limit = bw_step_in_use(t->tool, other);
        bool guessed = other == BW_STRUCK_USUAL && isnan(t->tool->usual); /* it goes along with the others */
        if (other != how && !guessed && (after ? step >= limit : step <= limit))
            show_say(out, ": it is not %s than the %s, %s (%s)", after ? "less" : "more", step_names[other],
                     fine(t, limit).text, show_step_source(t->tool, other));
        after = after || other == how;
    }
}

/* "the usual step by strips, 7.51 mm, does not lie between ..., and is not used"; nothing where all is well. the: or
 * "The". */
static void say_trouble(show_words *out, const telling *t, bw_how how, const char *the) {
    const double steps[] = {[BW_STRUCK_USUAL] = t->hand.usual.value,
                            [BW_STRUCK_CLOSEST] = t->hand.closest.value,
                            [BW_STRUCK_WIDEST] = t->hand.widest.value};
    bool left_out = (t->tool->off_strips & 1u << how) != 0;
    show_words why;
    show_start(&why);
    if (isnan(steps[how]) || (!say_off_face(&why, t, steps[how]) && !left_out))
        return;
    if (why.text[0] == '\0')
        say_contradicts(&why, t, how, steps[how]);
    show_say(out, "%s %s step by strips, %s, %s%s: measure stamp and strip again", the, step_names[how],
             fine(t, steps[how]).text, why.text, left_out ? ", and is not used" : "");
}

void show_say_left_out(show_words *out, const shop_project *project, const bw_tool *tool) {
    const telling t = {.project = project, .tool = tool, .hand = bw_tool_hand(tool, BW_RULE_MM)};
    for (int how = 0; how < BW_STRUCK_COUNT; how++) {
        if ((tool->off_strips & 1u << how) == 0)
            continue;
        show_say(out, out->text[0] ? "; " : "");
        say_trouble(out, &t, (bw_how)how, "the");
    }
}

/* Where strips and face cannot both be right. */
static void tell_trouble(telling *t) {
    for (int i = 0; i < BW_STRUCK_COUNT; i++) {
        show_words said;
        show_start(&said);
        say_trouble(&said, t, steps_in_order[i], "The");
        if (said.text[0] != '\0')
            show_say(line(t), "! %s.", said.text);
    }
}

size_t show_hand_lines(const shop_project *project, const bw_tool *tool, double rule,
                       show_words lines[SHOW_HAND_LINES]) {
    telling t = {.project = project, .tool = tool, .hand = bw_tool_hand(tool, rule), .lines = lines};
    if (tool->strip_count == 0) {
        show_say(line(&t), "No strip yet: strike ten impressions on scrap as usual, without looking at a rule, and "
                           "measure from one point of the first to the same point of the last.");
        show_say_steps_in_use(line(&t), project, tool);
        return t.count;
    }
    tell_trouble(&t);
    tell_step(&t, "Usual step", &t.hand.usual, BW_STRUCK_USUAL);
    tell_step(&t, "Closest step", &t.hand.closest, BW_STRUCK_CLOSEST);
    tell_step(&t, "Widest step", &t.hand.widest, BW_STRUCK_WIDEST);
    show_say_steps_in_use(line(&t), project, tool);
    tell_sigma(&t);
    tell_bias(&t);
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

static void say_told(show_words *out, const char *between, const shop_string *text) {
    char clean[120];
    if (text->length == 0)
        return;
    shop_clean(text->bytes, text->length, clean, sizeof clean);
    show_say(out, "%s%s", between, clean);
}

const char *show_strip_words(show_words *out, const shop_project *project, size_t tool, size_t strip) {
    static const char *const how[] = {"", ", as close as still looks right", ", as wide as still looks right"};
    const bw_strip *s = &project->tools[tool].strips[strip];
    const shop_strip *about = &project->tool_about[tool].strip_about[strip];
    int steps = bw_strip_steps(s);
    show_start(out);
    show_say(out, "%s%d impressions, %s: %s a step%s", s->round ? "a round: " : "", steps + 1,
             show_length(project, bw_strip_step(s) * steps).text, show_difference(project, bw_strip_step(s)).text,
             how[s->struck]);
    if (!isnan(s->aimed))
        show_say(out, ", aimed at %s", show_difference(project, s->aimed).text);
    if (s->places)
        show_say(out, ", every place measured");
    say_told(out, ", ", &about->leather);
    say_told(out, ", on ", &about->piece);
    say_told(out, ", ", &about->date);
    return out->text;
}

bool show_hand_text(FILE *to, const shop_project *project, size_t tool, double rule) {
    page p = {.to = to, .project = project, .width = SHOW_PAGE_WIDTH};
    const bw_tool *one = &project->tools[tool];
    show_words lines[SHOW_HAND_LINES];
    size_t count = show_hand_lines(project, one, rule, lines);
    page_putf(&p, "", "%s: what its strips tell", one->id);
    for (size_t i = 0; i < one->strip_count; i++) {
        show_words words;
        char lead[32];
        snprintf(lead, sizeof lead, "%3zu. ", i + 1);
        page_put(&p, lead, show_strip_words(&words, project, tool, i));
    }
    for (size_t i = 0; i < count; i++)
        page_put(&p, "  ", lines[i].text);
    return fflush(to) == 0 && !ferror(to);
}
