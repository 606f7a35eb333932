/* `plan --format yaml`: every figure of the plan at full precision, keys in the order that files promise. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "shop/characters.h"
#include "show/inner.h"

typedef struct writer {
    FILE *to;
    const shop_project *project;
    const bw_plan *plan;
} writer;

static double degrees(double radians) {
    return radians * (180.0 / BW_PI);
}

/* Words that YAML 1.1 or 1.2 reads as something else than text. */
static bool means_something(const char *bytes, size_t length) {
    static const char *const words[] = {"y",     "n",    "yes",  "no",  "on",  "off", "true",
                                        "false", "null", "none", "nan", "inf", NULL};
    for (size_t i = 0; words[i]; i++)
        if (strlen(words[i]) == length && strncasecmp(words[i], bytes, length) == 0)
            return true;
    return false;
}

/* Plain only where no reader could take it for anything else: letters first, and nothing that YAML uses. */
static bool plain(const char *bytes, size_t length) {
    static const char letters[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
    static const char others[] = "0123456789 -_./()+'";
    if (length == 0 || !memchr(letters, bytes[0], sizeof letters - 1) || bytes[length - 1] == ' ')
        return false;
    for (size_t i = 0; i < length; i++)
        if (!memchr(letters, bytes[i], sizeof letters - 1) && !memchr(others, bytes[i], sizeof others - 1))
            return false;
    return !means_something(bytes, length);
}

/* What a terminal could act on, or what hides or turns text, is written as an escape. */
static void quoted(FILE *to, const char *bytes, size_t length) {
    fputc('"', to);
    for (size_t i = 0, used; i < length; i += used) {
        uint32_t code = shop_character(bytes + i, length - i, &used);
        if (used == 0) {
            used = 1;
            fprintf(to, "\\x%02X", (unsigned)(unsigned char)bytes[i]);
        } else if (code == '"' || code == '\\') {
            fprintf(to, "\\%c", (int)code);
        } else if (code == '\n' || code == '\t') {
            fputs(code == '\n' ? "\\n" : "\\t", to);
        } else if (shop_character_hides(code)) {
            fprintf(to, code > 0xFFFF ? "\\U%08X" : code > 0xFF ? "\\u%04X" : "\\x%02X", (unsigned)code);
        } else {
            fwrite(bytes + i, 1, used, to);
        }
    }
    fputc('"', to);
}

void show_yaml_text(FILE *to, const char *bytes, size_t length) {
    if (plain(bytes, length))
        fwrite(bytes, 1, length, to);
    else
        quoted(to, bytes, length);
}

static void text(const writer *w, const char *key, const char *value) {
    fprintf(w->to, "%s: ", key);
    show_yaml_text(w->to, value, strlen(value));
}

static void number(const writer *w, const char *key, double value) {
    fprintf(w->to, "%s: %s", key, show_number(value).text);
}

static void next_number(const writer *w, const char *key, double value) {
    fprintf(w->to, ", %s: %s", key, show_number(value).text);
}

static const char *which_word(bw_which which) {
    static const char *const words[] = {"outer", "guide", "inner"};
    return words[which];
}

static const char *do_word(bw_do what) {
    static const char *const words[] = {"cut", "scribe", "stitch"};
    return words[what];
}

static const char *bevel_word(bw_bevel bevel) {
    static const char *const words[] = {"none", "inside", "outside"};
    return words[bevel];
}

static void lines(const writer *w) {
    fputs(w->plan->line_count ? "lines:\n" : "lines: []\n", w->to);
    for (size_t i = 0; i < w->plan->line_count; i++) {
        const bw_line_plan *line = &w->plan->lines[i];
        fputs("  - {", w->to);
        text(w, "band", show_band_name(w->project, line->band));
        fprintf(w->to, ", line: %s", which_word(line->which));
        next_number(w, "from-edge", line->from_edge);
        next_number(w, "length", line->length);
        fprintf(w->to, ", loops: %d, do: %s, bevel: %s", line->loops, do_word(line->what), bevel_word(line->bevel));
        next_number(w, "set-to", line->set_to);
        fputs("}\n", w->to);
    }
}

static void setting(const writer *w, const bw_setting *one) {
    if (one->where == BW_WHERE_STEPS)
        fprintf(w->to, "{steps: %d, ", one->steps);
    else
        fprintf(w->to, "{where: %s, ", one->where == BW_WHERE_BENDS ? "bends" : "straights");
    number(w, "step", one->step);
    fputc('}', w->to);
}

static void run(const writer *w, const bw_run_plan *one, bool several) {
    fputs("      - {", w->to);
    if (several) {
        number(w, "from", one->from);
        next_number(w, "to", one->to);
        fputs(", ", w->to);
    }
    fprintf(w->to, "count: %d", one->count);
    next_number(w, "step", one->step);
    next_number(w, "usual-step", one->usual_step);
    next_number(w, "closure-gap", one->closure_gap);
    next_number(w, "step-change", one->step_change);
    fputs(", settings: [", w->to);
    for (size_t i = 0; i < one->setting_count; i++) {
        if (i)
            fputs(", ", w->to);
        setting(w, &one->settings[i]);
    }
    fputs("], feasible: [", w->to);
    if (one->feasible_most > 0)
        fprintf(w->to, "%d, %d", one->feasible_least, one->feasible_most);
    fputc(']', w->to);
    if (one->has_even_at) {
        fputs(", even-at: {", w->to);
        number(w, "guide-shift", one->guide_shift);
        fputc('}', w->to);
    }
    fputs("}\n", w->to);
}

static void row(const writer *w, const bw_row_plan *one, bool angled) {
    fprintf(w->to, "      - {row: %d", one->row);
    next_number(w, "from-edge", one->from_edge);
    next_number(w, "cover", one->cover);
    fprintf(w->to, ", leaned: %s, impressions: %d", one->leaned ? "true" : "false", one->impressions);
    if (angled)
        next_number(w, "shift", one->shift);
    fputs("}\n", w->to);
}

static void weave_line(const writer *w, const bw_weave_line *one, bool basket, bool angled) {
    fprintf(w->to, "      - {line: %d", one->line);
    next_number(w, "from-edge", one->from_edge);
    next_number(w, "step-least", one->step_least);
    next_number(w, "step-most", one->step_most);
    if (basket) {
        next_number(w, "overlap-least", one->overlap_least);
        next_number(w, "overlap-most", one->overlap_most);
    }
    if (angled)
        next_number(w, "miss", one->miss);
    fputs("}\n", w->to);
}

static void fit(const writer *w, const bw_band_plan *band) {
    fputs("    fit: {", w->to);
    text(w, "verdict", bw_verdict_word(band->fit.verdict));
    next_number(w, "reach", band->fit.reach);
    next_number(w, "crowd", band->fit.crowd);
    next_number(w, "bend", band->fit.bend);
    if (band->fit.verdict == BW_LEGS_SHORT)
        next_number(w, "needed-leg", band->fit.needed_leg);
    const bw_face *face = &band->face;
    if (band->fill == BW_FILL_BASKET && (face->estimated_width || face->estimated_bar || face->estimated_rail)) {
        const char *between = "";
        fputs(", estimated: [", w->to);
        const bool marked[] = {face->estimated_width, face->estimated_bar, face->estimated_rail};
        static const char *const words[] = {"width", "bar", "rail"};
        for (size_t i = 0; i < 3; i++) {
            if (!marked[i])
                continue;
            fprintf(w->to, "%s%s", between, words[i]);
            between = ", ";
        }
        fputc(']', w->to);
    }
    fputs("}\n", w->to);
}

/* A list that is empty stands on its key's line. */
static void list_head(const writer *w, const char *key, size_t count) {
    fprintf(w->to, "    %s:%s\n", key, count ? "" : " []");
}

static void pair(const writer *w, const char *key, double outer, double inner) {
    fprintf(w->to, "    %s: {", key);
    number(w, "outer", outer);
    next_number(w, "inner", inner);
    fputs("}\n", w->to);
}

static void band(const writer *w, size_t index) {
    const bw_band_plan *one = &w->plan->bands[index];
    bool basket = one->fill == BW_FILL_BASKET;
    bool angled = basket && w->project->bands[index].lay == BW_LAY_ANGLED;
    fputs("  - ", w->to);
    text(w, "band", show_band_name(w->project, index));
    fprintf(w->to, "\n    fill: %s\n", show_fill_word(one->fill));
    if (one->fill == BW_FILL_PLAIN) {
        if (one->fit.verdict == BW_NO_ROOM)
            fputs("    fit: {verdict: no room}\n", w->to);
        return;
    }
    const bw_tool *tool = show_band_tool(w->project, index);
    fputs("    ", w->to);
    text(w, "tool", tool && tool->id ? tool->id : "");
    fputc('\n', w->to);
    if (basket) {
        fprintf(w->to, "    lay: %s\n    ", angled ? "angled" : "straight");
        number(w, "turn", degrees(one->turn));
        fputc('\n', w->to);
    }
    fputs("    guide: {", w->to);
    number(w, "from-edge", one->guide_from_edge);
    next_number(w, "length", one->guide_length);
    next_number(w, "least-radius", one->guide_least_radius);
    fputs("}\n", w->to);
    list_head(w, "runs", one->run_count);
    for (size_t i = 0; i < one->run_count; i++)
        run(w, &one->runs[i], one->run_count > 1);
    list_head(w, "rows", one->row_count);
    for (size_t i = 0; i < one->row_count; i++)
        row(w, &one->rows[i], angled);
    list_head(w, "lines", one->line_count);
    for (size_t i = 0; i < one->line_count; i++)
        weave_line(w, &one->lines[i], basket, angled);
    pair(w, "bare", one->bare_outer, one->bare_inner);
    if (basket && !angled)
        pair(w, "notch", one->notch_outer, one->notch_inner);
    fit(w, one);
    fprintf(w->to, "    strikes: %lld\n", one->strikes);
}

static bool warnings(const writer *w) {
    size_t count;
    bw_warning *list = show_warnings(w->project, w->plan, &count);
    if (!list)
        return false;
    fputs(count ? "warnings:\n" : "warnings: []\n", w->to);
    for (size_t i = 0; i < count; i++) {
        show_words words;
        const char *sentence = show_warning_sentence(&words, w->project, w->plan, &list[i]);
        fputs("  - {", w->to);
        text(w, "band", show_band_name(w->project, list[i].band));
        fprintf(w->to, ", kind: %s, text: ", show_warning_word(w->plan, &list[i]));
        quoted(w->to, sentence, strlen(sentence));
        fputs("}\n", w->to);
    }
    free(list);
    return true;
}

bool show_plan_yaml(FILE *to, const shop_project *project, const bw_plan *plan) {
    const writer w = {to, project, plan};
    fputs("bandwright-plan: 1\npiece: ", to);
    show_yaml_text(to, project->piece.bytes, project->piece.length);
    fputs("\noutline: {", to);
    number(&w, "length", plan->length);
    next_number(&w, "turning", degrees(plan->turning));
    next_number(&w, "least-radius", plan->least_radius);
    fputs("}\n", to);
    lines(&w);
    fputs(plan->band_count ? "bands:\n" : "bands: []\n", to);
    for (size_t i = 0; i < plan->band_count; i++)
        band(&w, i);
    return warnings(&w) && fflush(to) == 0 && !ferror(to);
}
