/* Warnings: which there are, each in one sentence with its number, and the list on the screen. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "show/hand.h"
#include "show/inner.h"
#include "show/legs.h"

bw_warning *show_warnings(const shop_project *project, const bw_plan *plan, size_t *count) {
    bw_warning *list = malloc((plan->warning_count + plan->band_count + 1) * sizeof *list);
    *count = 0;
    for (size_t band = 0; list && band < plan->band_count; band++) {
        int tool = band < project->layout.band_count ? project->bands[band].tool : -1;
        bool struck = plan->bands[band].fill != BW_FILL_PLAIN && tool >= 0;
        for (size_t i = 0; i < plan->warning_count; i++)
            if (plan->warnings[i].band == band)
                list[(*count)++] = plan->warnings[i];
        if (struck && project->tool_about && project->tool_about[tool].differs)
            list[(*count)++] = (bw_warning){band, BW_WARN_TOOL_DIFFERS};
    }
    return list;
}

const char *show_warning_word(const bw_plan *plan, const bw_warning *warning) {
    static const char *const verdicts[] = {
        [BW_NO_ROOM] = "no-room",
        [BW_BAND_TOO_NARROW] = "band-too-narrow",
        [BW_EDGE_TOO_SHARP] = "edge-too-sharp",
        [BW_LEGS_LONG] = "legs-long",
        [BW_FEET_COLLIDE] = "feet-collide",
        [BW_LEGS_SHORT] = "legs-short",
        [BW_BAND_TOO_WIDE] = "band-too-wide",
        [BW_NO_WHOLE_COUNT] = "no-whole-count",
        [BW_OPENS_OUTSIDE] = "opens-outside",
        [BW_CROWDS_INSIDE] = "crowds-inside",
        [BW_TIGHT] = "tight",
        [BW_GOOD] = "good",
    };
    if (warning->kind != BW_WARN_VERDICT)
        return bw_warning_word(warning->kind);
    return verdicts[plan->bands[warning->band].fit.verdict];
}

typedef struct telling {
    show_words *out;
    const shop_project *project;
    const bw_plan *plan;
    const bw_band_plan *made;
    size_t band;
} telling;

#define LEN(mm) (show_length(t->project, mm).text)
#define DIFF(mm) (show_difference(t->project, mm).text)
enum { CORNERS_TOLD = 6 };

/* Where a run lies: "from 562 to 600 mm along the edge, at the pointed right end". */
static void run_place(const telling *t, const bw_run_plan *run) {
    double from = show_run_end(t->plan, t->band, run, false), to = show_run_end(t->plan, t->band, run, true);
    double length = t->plan->length, middle = (from + to) / 2;
    if (to < from) /* over the start mark */
        middle = fmod(middle + length / 2, length);
    show_say_stretch(t->out, t->project, t->plan,
                     &(bw_stretch){.edge_from = from, .edge_to = to, .edge_worst = middle});
}

static void bare_strip(const telling *t) {
    double outer = t->made->bare_outer, inner = t->made->bare_inner;
    bool both = outer > BW_BARE_NOTED && inner > BW_BARE_NOTED;
    show_say(t->out, "a bare strip (leather that no impression covers) of ");
    if (both)
        show_say(t->out, "%s stays at the outer border line and of %s at the inner", LEN(outer), LEN(inner));
    else
        show_say(t->out, "%s stays at the %s border line", LEN(fmax(outer, inner)), outer > inner ? "outer" : "inner");
}

/* Where the steps of the last setting lie: "the last 5 of 269, from 1378 to 1401 mm along the edge". */
static void last_place(const telling *t, const bw_run_plan *run, const bw_setting *last) {
    const bw_profile *profile = bw_plan_profile(t->plan, t->band);
    double end = run->to - (run->closed ? 0 : t->made->along_line / 2), from = end - last->steps * last->step;
    show_say(t->out, "the last %d of %d", last->steps, show_run_steps(run));
    if (!profile)
        return;
    show_say(t->out, ", ");
    show_say_stretch(t->out, t->project, t->plan,
                     &(bw_stretch){.edge_from = bw_profile_edge(profile, from),
                                   .edge_to = bw_profile_edge(profile, end),
                                   .edge_worst = bw_profile_edge(profile, (from + end) / 2)});
}

/* The setting that is farthest from the usual step, and its run; NULL where all steps are usual. */
static const bw_setting *most_changed(const telling *t, const bw_run_plan **run) {
    const bw_setting *worst = NULL;
    double most = 0;
    for (size_t r = 0; r < t->made->run_count; r++) {
        const bw_run_plan *one = &t->made->runs[r];
        for (size_t i = 0; i < one->setting_count; i++) {
            double change = fabs(one->settings[i].step - one->usual_step) / one->usual_step;
            if (change <= most)
                continue;
            most = change;
            worst = &one->settings[i];
            *run = one;
        }
    }
    return worst;
}

static void stretch(const telling *t) {
    const bw_run_plan *run = NULL;
    const bw_setting *worst = most_changed(t, &run);
    if (!worst)
        return;
    show_say(t->out, "steps of %s are %s %s than the usual %s: over 3 %% begins to show", LEN(worst->step),
             show_percent(fabs(worst->step - run->usual_step) / run->usual_step).text,
             worst->step > run->usual_step ? "longer" : "shorter", LEN(run->usual_step));
    bool last = worst == show_last_setting(run) && run->setting_count > 1;
    if (!last && t->made->run_count == 1)
        return;
    show_say(t->out, " (");
    if (last)
        last_place(t, run, worst);
    else
        run_place(t, run);
    show_say(t->out, ")");
}

/* Where a setting of counted steps ends: "at impression 265 of 558, 1378 mm along the edge". */
static void jump_place(const telling *t, const bw_run_plan *run, size_t setting) {
    const bw_profile *profile = bw_plan_profile(t->plan, t->band);
    bw_extreme at = {.impression = 1, .run = (int)(run - t->made->runs)};
    bw_placing here;
    for (size_t i = 0; i <= setting; i++)
        at.impression += run->settings[i].steps;
    if (at.impression > run->count)
        at.impression = 1;
    if (!profile || run->settings[setting].where != BW_WHERE_STEPS ||
        !show_impression_place(t->project, t->plan, t->band, show_extreme_number(t->made, &at), &here))
        return;
    at.edge_along = bw_profile_edge(profile, here.along);
    show_say(t->out, " ");
    show_say_extreme(t->out, t->project, t->plan, t->band, &at);
}

static void jump(const telling *t) {
    double most = 0;
    const bw_run_plan *run = NULL;
    size_t before = 0;
    for (size_t r = 0; r < t->made->run_count; r++) {
        const bw_run_plan *one = &t->made->runs[r];
        size_t pairs = one->setting_count < 2 ? 0 : one->closed ? one->setting_count : one->setting_count - 1;
        for (size_t i = 0; i < pairs; i++) {
            double change = fabs(one->settings[(i + 1) % one->setting_count].step - one->settings[i].step);
            if (change <= most)
                continue;
            most = change;
            run = one;
            before = i;
        }
    }
    if (!run)
        return;
    show_say(t->out, "the step jumps by %s, from %s to %s", DIFF(most), LEN(run->settings[before].step),
             LEN(run->settings[(before + 1) % run->setting_count].step));
    jump_place(t, run, before);
    show_say(t->out, ": over %s between neighbours shows", LEN(BW_VISIBLE_JUMP));
}

static void wanted_count(const telling *t) {
    for (size_t r = 0; r < t->made->run_count; r++) {
        const bw_run_plan *run = &t->made->runs[r];
        if (run->wanted == 0)
            continue;
        show_say(t->out, "%d %s would come nearer to the usual step, but then ", run->wanted,
                 show_impressions_word(t->made->fill));
        show_say_passed(t->out, t->project, t->made, run->wanted_miss > 0, run->wanted_miss, run->wanted_line);
        return;
    }
}

static void narrow(const telling *t) {
    double whole = 2 * (t->made->rows_apart + t->made->face.rail / 2);
    show_say(
        t->out,
        "the band of %s is narrow: the guide's own row has to be leaned (tipped, so that only part of the face prints)",
        LEN(t->made->inner - t->made->outer));
    if (t->project->bands[t->band].lay == BW_LAY_STRAIGHT)
        show_say(t->out, "; from about %s it is whole", show_length_up(t->project, whole).text);
}

static void miss(const telling *t) {
    const bw_weave_line *worst = NULL;
    for (size_t i = 0; i < t->made->line_count; i++)
        if (!worst || t->made->lines[i].miss > worst->miss)
            worst = &t->made->lines[i];
    if (!worst)
        return;
    show_say(t->out, "rails miss each other sideways by %s %s: over half a rail (%s) shows", DIFF(worst->miss),
             show_line_place(worst->line), DIFF(t->made->face.rail / 2));
}

/* Where the guide turns a corner, as places of the edge; of a polygon also which corners those are. */
static void corner(const telling *t) {
    const bw_band_plan *made = t->made;
    bool open = t->plan->edge && !bw_curve_closed(t->plan->edge);
    size_t told = 0, more = 0;
    show_words names = {""};
    show_say(t->out, "the guide turns a corner ");
    for (size_t i = 0; i < made->run_count; i++) {
        if ((open && i == 0) || made->runs[i].closed)
            continue;
        if (told == CORNERS_TOLD) {
            more++;
            continue;
        }
        double along = show_corner_edge(t->plan, t->band, made->runs[i].from);
        size_t number = show_edge_corner(t->project, t->plan, along);
        show_say(t->out, "%s%s", told ? ", " : "at ", show_edge_length(t->project, along).text);
        if (number > 0)
            show_say(&names, "%s%zu", names.text[0] ? ", " : "", number);
        told++;
    }
    if (told == 0)
        show_say(t->out, "at its start");
    if (more > 0)
        show_say(t->out, " and %zu more", more);
    if (told > 0)
        show_say(t->out, " along the edge");
    if (names.text[0])
        show_say(t->out, " (corner%s %s)", strchr(names.text, ',') ? "s" : "", names.text);
    if (made->run_count == 1)
        show_say(t->out, ": the round begins and ends there, and the corner itself is left to the hand");
    else
        show_say(t->out, ": each of the %zu runs is counted by itself, and the corner itself is left to the hand",
                 made->run_count);
}

static void split(const telling *t) {
    static const char *const words[] = {"outer line", "guide", "inner line"};
    for (size_t i = 0; i < t->plan->line_count; i++) {
        const bw_line_plan *line = &t->plan->lines[i];
        if (line->band != t->band || line->loops < 2)
            continue;
        show_say(t->out, "the %s, %s from the edge, falls apart into %d loops, and each closes by itself",
                 words[line->which], LEN(line->from_edge), line->loops);
        return;
    }
}

static void fallback(const telling *t) {
    show_say(t->out, "the difference cannot be lost by \"%s\"", show_lose_word(t->project->bands[t->band].lose));
    for (size_t r = 0; r < t->made->run_count; r++) {
        const bw_run_plan *run = &t->made->runs[r];
        if (!run->fell_back)
            continue;
        if (t->made->run_count > 1) {
            show_say(t->out, " ");
            run_place(t, run);
        }
        show_say(t->out, ": it is spread evenly");
        if (run->least_last > 0)
            show_say(t->out,
                     run->least_last == 1 ? " (lost in its last step alone it would not show)"
                                          : " (lost in the last %d it would not show)",
                     run->least_last);
        size_t more = 0;
        for (size_t i = r + 1; i < t->made->run_count; i++)
            more += t->made->runs[i].fell_back;
        if (more > 0)
            show_say(t->out, "; likewise on %zu more run%s", more, more == 1 ? "" : "s");
        return;
    }
}

static void face_out(const telling *t) {
    show_say(t->out, "the face, %s wide, sticks out of its band of %s", LEN(t->made->face.width),
             LEN(t->made->inner - t->made->outer));
}

static void steps_face(const telling *t) {
    const bw_face *face = &t->made->face;
    const bw_tool *tool = show_band_tool(t->project, t->band);
    if (tool && tool->off_strips != 0) {
        show_say_left_out(t->out, t->project, tool);
        return;
    }
    show_say(t->out, "a measured step lies outside what the face allows, %s to %s: measure both again",
             LEN(face->length - face->leg), LEN(face->length));
}

static void estimated(const telling *t) {
    const bw_face *face = &t->made->face;
    const bool marked[] = {face->estimated_width, face->estimated_bar, face->estimated_rail};
    const double sizes[] = {face->width, face->bar, face->rail};
    static const char *const words[] = {"width", "bar", "rail"};
    const bw_tool *tool = show_band_tool(t->project, t->band);
    const char *between = "";
    show_say(t->out, "*estimated* from the trade's proportions, not measured: ");
    for (size_t i = 0; i < 3; i++) {
        if (!marked[i])
            continue;
        show_say(t->out, "%s%s %s", between, words[i], LEN(sizes[i]));
        between = ", ";
    }
    if (tool && tool->id)
        show_say(t->out, " of %s", tool->id);
}

static void tool_differs(const telling *t) {
    const bw_tool *tool = show_band_tool(t->project, t->band);
    bool strips = tool && t->project->tool_about[t->project->bands[t->band].tool].only_strips;
    show_say(t->out, "%s has other %s in the inventory than in this piece: the piece's own are used",
             tool && tool->id ? tool->id : "the tool", strips ? "strips or rounds" : "sizes");
}

#undef LEN
#undef DIFF

const char *show_warning_sentence(show_words *out, const shop_project *project, const bw_plan *plan,
                                  const bw_warning *warning) {
    static void (*const tell[])(const telling *) = {
        [BW_WARN_BARE_STRIP] = bare_strip,
        [BW_WARN_STRETCH] = stretch,
        [BW_WARN_JUMP] = jump,
        [BW_WARN_WANTED_COUNT] = wanted_count,
        [BW_WARN_NARROW] = narrow,
        [BW_WARN_MISS] = miss,
        [BW_WARN_CORNER] = corner,
        [BW_WARN_SPLIT] = split,
        [BW_WARN_FALLBACK] = fallback,
        [BW_WARN_FACE_OUT] = face_out,
        [BW_WARN_STEPS_FACE] = steps_face,
        [BW_WARN_ESTIMATED] = estimated,
        [BW_WARN_TOOL_DIFFERS] = tool_differs,
    };
    show_start(out);
    if (warning->band >= plan->band_count || warning->band >= project->layout.band_count)
        return out->text;
    if (warning->kind == BW_WARN_VERDICT)
        return show_verdict_sentence(out, project, plan, warning->band);
    const telling t = {out, project, plan, &plan->bands[warning->band], warning->band};
    tell[warning->kind](&t);
    return out->text;
}

/* ---- the list ---- */

/* The selected band's first, then what stops the work, then in the order of the kinds. */
static int weight(const bw_plan *plan, size_t selected, const bw_warning *w) {
    int kind = w->kind == BW_WARN_VERDICT ? (int)plan->bands[w->band].fit.verdict : 100 + (int)w->kind;
    return kind + (w->band == selected ? 0 : 1000);
}

static void sort(const bw_plan *plan, size_t selected, bw_warning *list, size_t count) {
    for (size_t i = 1; i < count; i++) {
        bw_warning one = list[i];
        size_t to = i;
        for (; to > 0 && weight(plan, selected, &list[to - 1]) > weight(plan, selected, &one); to--)
            list[to] = list[to - 1];
        list[to] = one;
    }
}

/* One warning from line `at` of the rectangle on; returns the lines it takes. */
static int put_warning(show_grid *grid, show_rect where, int at, const show_view *view, const bw_warning *one) {
    show_words sentence, text;
    show_warning_sentence(&sentence, view->project, view->plan, one);
    show_start(&text);
    show_say(&text, "%c %s: %s", one->kind == BW_WARN_VERDICT ? '!' : '-', show_band_name(view->project, one->band),
             sentence.text);
    return show_wrap(grid, show_from_line(where, at), one->kind == BW_WARN_VERDICT ? SHOW_BOLD | SHOW_BAD : SHOW_WARN,
                     text.text);
}

int show_warning_list(show_grid *grid, show_rect where, const show_view *view, int first) {
    size_t count;
    where = show_inside(grid, where);
    bw_warning *list = view->plan ? show_warnings(view->project, view->plan, &count) : NULL;
    if (!list)
        return 0;
    sort(view->plan, view->band, list, count);
    if (count == 0)
        show_put(grid, where.x, where.y, where.width, SHOW_GOOD, where.height > 0 ? "no warnings" : "");
    int line = 0;
    size_t at = first > 0 ? (size_t)first : 0;
    for (; at < count && line < where.height; at++)
        line += put_warning(grid, where, line, view, &list[at]);
    free(list);
    return (int)count;
}
