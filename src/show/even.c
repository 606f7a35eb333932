/* Sizes that close: what the whole-piece search has found, for people and for other programs. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/page.h"

/* ---- sentences ---- */

static const char *plural(size_t count) {
    return count == 1 ? "" : "s";
}

const char *show_even_size(show_words *out, const shop_project *project, const bw_even_answer *answer) {
    show_start(out);
    if (answer->change_count == 0)
        show_say(out, "well as it is: nothing need be changed");
    else
        show_say(out, "%zu change%s, %s in all", answer->change_count, plural(answer->change_count),
                 show_difference(project, answer->total).text);
    return out->text;
}

const char *show_even_band(show_words *out, const shop_project *project, const bw_even_answer *answer, size_t band) {
    const bw_even_band *b = &answer->bands[band];
    bw_fill fill = project->bands[band].fill;
    show_start(out);
    show_say(out, "%s: ", show_band_name(project, band));
    if (fill == BW_FILL_PLAIN) {
        show_say(out, "plain, there is room for it");
        return out->text;
    }
    show_say(out, "%d %s, ", b->count, show_impressions_word(fill));
    if (fabs(b->change) < 0.0005)
        show_say(out, "steps as usual");
    else
        show_say(out, "each step %s %s", show_percent(fabs(b->change)).text, b->change > 0 ? "longer" : "shorter");
    show_say(out, "; %s", bw_verdict_word(b->verdict));
    for (int kind = BW_WARN_VERDICT + 1, told = 0; kind < BW_WARN_TOOL_DIFFERS; kind++)
        if ((b->fresh >> kind & 1u) != 0)
            show_say(out, "%s%s", told++ == 0 ? "; then warned of " : ", ", bw_warning_word((bw_warning_kind)kind));
    return out->text;
}

const char *show_even_result(show_words *out, const shop_project *project, const bw_even_answer *answer) {
    double most = 0;
    for (size_t i = 0; i < project->layout.band_count; i++)
        most = fmax(most, fabs(answer->bands[i].change));
    show_start(out);
    if (answer->change_count == 0)
        show_say(out, "well as it is, ");
    else
        show_say(out, "%s in all, then ", show_difference(project, answer->total).text);
    show_say(out, "steps within %s", show_percent(most).text);
    for (size_t i = 0, told = 0; i < project->layout.band_count; i++)
        for (int kind = BW_WARN_VERDICT + 1; kind < BW_WARN_TOOL_DIFFERS; kind++)
            if ((answer->bands[i].fresh >> kind & 1u) != 0)
                show_say(out, "%s%s %s", told++ == 0 ? "; then warned of: " : ", ", show_band_name(project, i),
                         bw_warning_word((bw_warning_kind)kind));
    return out->text;
}

/* With fewer changes than `looked` everything was looked at. */
static void say_bound(show_words *out, size_t looked) {
    if (looked > 1)
        show_say(out, "With up to %zu change%s everything was looked at. ", looked - 1, plural(looked - 1));
}

const char *show_even_end(show_words *out, const bw_even_found *found, bool stopped) {
    show_start(out);
    if (found->count > 0 && found->answers[0].change_count == 0)
        show_say(out, "Every band closes and fits as it is.");
    else if (found->knobs == 0)
        show_say(out, "Nothing may move: every value is fixed, or none was named that can.");
    else if (found->best && found->count > 0)
        show_say(out, "The first is the best there is: everything with as few changes or fewer was looked at, within "
                      "these bounds.");
    else if (found->best)
        show_say(out, "There is no way within these bounds: everything with up to %zu change%s was looked at.",
                 found->looked - 1, plural(found->looked - 1));
    else {
        show_say(out, stopped ? "Stopped by hand. " : found->done ? "Stopped at the bound on trials. " : "");
        say_bound(out, found->looked);
        show_say(out, "With %zu %s", found->looking,
                 found->count > 0 ? "a better one may be there."
                                  : "nothing is found so far, but not all was looked at.");
    }
    if (found->count == 0 && found->done)
        show_say(out, " Wider bounds, a higher limit, a tight fit or another stamp may do.");
    return out->text;
}

/* ---- the page ---- */

static void put_wish(page *p, const bw_even_wish *wish, size_t knobs) {
    show_figure_text within = show_length(p->project, wish->within),
                     grid = show_length(p->project, p->project->layout.grid);
    page_putf(p, "",
              "sizes that close: no step changes by more than %.6g %% of the usual one, every fit is %s; %zu value%s "
              "may move, "
              "each by up to %s, on a grid of %s",
              100 * wish->limit, wish->fit == BW_GOOD ? "good" : "good or tight", knobs, plural(knobs), within.text,
              grid.text);
}

/* A word of a command line that the shell leaves alone. */
static void put_shell_word(FILE *to, const char *text) {
    static const char safe[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._-/=,:+@%";
    if (text[0] != '\0' && text[strspn(text, safe)] == '\0') {
        fputs(text, to);
        return;
    }
    fputc('\'', to);
    for (; *text != '\0'; text++)
        if (*text == '\'')
            fputs("'\\''", to);
        else
            fputc(*text, to);
    fputc('\'', to);
}

/* "  bandwright set lid.yaml bands.weave.width=18.25", in one line, to be copied. */
static bool put_command(page *p, desk *d, const char *file, size_t answer) {
    desk_edits list;
    bool fine = desk_even_edits(d, answer, &list);
    if (fine && list.count > 0) {
        fputs("   bandwright set ", p->to);
        fputs(file[0] == '-' ? "./" : "", p->to); /* else it would be an option */
        put_shell_word(p->to, file);
    }
    for (size_t i = 0; i < list.count && fine; i++) {
        char word[600], clean[1200];
        snprintf(word, sizeof word, "%s=%s", list.edits[i].path, list.edits[i].new_text ? list.edits[i].new_text : "");
        shop_clean(word, strlen(word), clean, sizeof clean);
        fputc(' ', p->to);
        put_shell_word(p->to, clean);
    }
    if (fine && list.count > 0)
        fputc('\n', p->to);
    desk_edits_release(&list);
    return fine;
}

static bool put_answer(page *p, desk *d, const char *file, const bw_even_found *found, size_t index) {
    const bw_even_answer *answer = &found->answers[index];
    show_words words;
    char lead[32];
    snprintf(lead, sizeof lead, "%zu. ", index + 1);
    fputc('\n', p->to);
    page_put(p, lead, show_even_size(&words, p->project, answer));
    for (size_t i = 0; i < answer->change_count; i++) {
        char *change = desk_even_change_words(d, answer, i);
        if (change == NULL)
            return false;
        page_put(p, "   ", change);
        free(change);
    }
    for (size_t i = 0; i < p->project->layout.band_count; i++)
        page_put(p, "   - ", show_even_band(&words, p->project, answer, i));
    return put_command(p, d, file, index);
}

bool show_even_text(FILE *to, desk *d, const char *file, const bw_even_wish *wish, bool stopped) {
    page p = {.to = to, .project = desk_project(d), .width = SHOW_PAGE_WIDTH};
    bw_even_found found = desk_even_found(d);
    show_words words;
    put_wish(&p, wish, found.knobs);
    for (size_t i = 0; i < found.count; i++)
        if (!put_answer(&p, d, file, &found, i))
            return false;
    fputc('\n', to);
    page_put(&p, "", show_even_end(&words, &found, stopped));
    return fflush(to) == 0 && !ferror(to);
}

/* ---- yaml ---- */

static void put_number(FILE *to, const char *lead, double value) {
    fprintf(to, "%s%s", lead, show_number(value).text);
}

static bool yaml_sets(FILE *to, desk *d, size_t answer) {
    desk_edits list;
    bool fine = desk_even_edits(d, answer, &list);
    fprintf(to, "    set: [");
    for (size_t i = 0; i < list.count && fine; i++) {
        char word[600];
        snprintf(word, sizeof word, "%s=%s", list.edits[i].path, list.edits[i].new_text ? list.edits[i].new_text : "");
        fputs(i > 0 ? ", " : "", to);
        show_yaml_text(to, word, strlen(word));
    }
    fprintf(to, "]\n");
    desk_edits_release(&list);
    return fine;
}

static const char *knob_word(bw_knob knob) {
    static const char *const words[] = {
        [BW_KNOB_DIAMETER] = "diameter", [BW_KNOB_LENGTH] = "length", [BW_KNOB_WIDTH] = "width",
        [BW_KNOB_RADIUS] = "radius",     [BW_KNOB_CORNER] = "corner", [BW_KNOB_SPACE] = "space",
        [BW_KNOB_BAND_WIDTH] = "width",  [BW_KNOB_GUIDE] = "guide"};
    return words[knob];
}

static bool yaml_answer(FILE *to, desk *d, const bw_even_answer *answer, size_t index) {
    const shop_project *project = desk_project(d);
    put_number(to, "  - total: ", answer->total);
    fprintf(to, "\n    changes:%s\n", answer->change_count == 0 ? " []" : "");
    for (size_t i = 0; i < answer->change_count; i++) {
        const bw_change *change = &answer->changes[i];
        fprintf(to, "      - {value: %s", knob_word(change->knob));
        if (change->knob >= BW_KNOB_SPACE) {
            const char *name = show_band_name(project, change->band);
            fputs(", band: ", to);
            show_yaml_text(to, name, strlen(name));
        }
        put_number(to, ", from: ", answer->before[i]);
        put_number(to, ", to: ", change->value);
        fputs("}\n", to);
    }
    bool fine = yaml_sets(to, d, index);
    fprintf(to, "    bands:%s\n", project->layout.band_count == 0 ? " []" : "");
    for (size_t i = 0; i < project->layout.band_count; i++) {
        const bw_even_band *band = &answer->bands[i];
        const char *name = show_band_name(project, i);
        fputs("      - {name: ", to);
        show_yaml_text(to, name, strlen(name));
        fprintf(to, ", verdict: %s, count: %d", bw_verdict_word(band->verdict), band->count);
        put_number(to, ", step: ", band->step);
        put_number(to, ", change: ", band->change);
        put_number(to, ", closure-gap: ", band->gap);
        put_number(to, ", margin: ", band->margin);
        fputs(", warnings: [", to);
        for (int kind = BW_WARN_VERDICT + 1, told = 0; kind < BW_WARN_TOOL_DIFFERS; kind++)
            if ((band->fresh >> kind & 1u) != 0)
                fprintf(to, "%s%s", told++ == 0 ? "" : ", ", bw_warning_word((bw_warning_kind)kind));
        fputs("]}\n", to);
    }
    return fine;
}

bool show_even_yaml(FILE *to, desk *d, const char *file, const bw_even_wish *wish, bool stopped) {
    bw_even_found found = desk_even_found(d);
    (void)file;
    fprintf(to, "bandwright-even: 1\nunits: mm\n");
    put_number(to, "within: ", wish->within);
    put_number(to, "\nlimit: ", wish->limit);
    fprintf(to, "\nfit: %s\n", bw_verdict_word(wish->fit));
    put_number(to, "grid: ", desk_project(d)->layout.grid);
    fprintf(to, "\nmovable: %zu\nbest: %s\nstopped: %s\nlooked: %zu\ntrials: %zu\nanswers:%s\n", found.knobs,
            found.best ? "true" : "false", stopped || !found.done ? "true" : "false", found.looked, found.trials,
            found.count == 0 ? " []" : "");
    for (size_t i = 0; i < found.count; i++)
        if (!yaml_answer(to, d, &found.answers[i], i))
            return false;
    return fflush(to) == 0 && !ferror(to);
}
