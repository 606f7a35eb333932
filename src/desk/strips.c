/* strips.c - a test strip as typed, as figures and as an edit; a finished round logged. */
#include "desk/strips.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/limits.h"
#include "desk/tools.h"
#include "shop/characters.h"
#include "shop/edit.h"
#include "shop/values.h"

const char *const desk_strip_words[DESK_STRIP_KEYS + 1] = {"impressions", "length",  "tips", "struck", "aimed",
                                                           "places",      "leather", "date", NULL};

static bool given(const desk_strip *typed, desk_strip_key key) {
    return typed->text[key] != NULL && typed->text[key][0] != '\0';
}

typedef struct reading {
    const desk_strip *typed;
    shop_unit unit;
    char *why;
    desk_strip_key *wrong;
} reading;

static bool refuse(const reading *r, desk_strip_key key, const char *why) {
    *r->wrong = key;
    snprintf(r->why, 200, "%s: %s", desk_strip_words[key], why);
    return false;
}

static bool read_length(const reading *r, desk_strip_key key, double least, double most, double *mm) {
    const char *text = r->typed->text[key];
    char reason[SHOP_REASON], low[64], high[64];
    if (!shop_parse_length(text, strlen(text), r->unit, false, mm, reason)) {
        return refuse(r, key, reason);
    }
    if (*mm < least || *mm > most) {
        shop_show_length(least, r->unit, low, sizeof low);
        shop_show_length(most, r->unit, high, sizeof high);
        snprintf(reason, sizeof reason, "it lies between %s and %s", low, high);
        return refuse(r, key, reason);
    }
    return true;
}

static bool blank(char c) {
    return c == ' ' || c == '\t';
}

/* What stands between the brackets, or all of it where there are none; false if one of them is missing. */
static bool inside(const char *text, const char **from, size_t *length) {
    while (blank(*text)) {
        text++;
    }
    size_t all = strlen(text);
    while (all > 0 && blank(text[all - 1])) {
        all--;
    }
    bool opens = text[0] == '[', closes = all > 0 && text[all - 1] == ']';
    *from = text + opens;
    *length = all - opens - (closes && all > 1);
    return opens == closes;
}

/* The next item of a list, without the blanks around it; *from and *left go on behind it. */
static bool next_item(const char **from, size_t *left, const char **item, size_t *length) {
    const char *comma = memchr(*from, ',', *left), *end = comma != NULL ? comma : *from + *left;
    if (*left == 0) {
        return false;
    }
    for (*item = *from; *item < end && blank(**item); ++*item) {
    }
    *length = (size_t)(end - *item);
    while (*length > 0 && blank((*item)[*length - 1])) {
        --*length;
    }
    *left -= (size_t)(end - *from) + (comma != NULL);
    *from = end + (comma != NULL);
    return true;
}

static bool read_places(const reading *r, bw_strip *strip, double **places) {
    const char *from, *item, *text = r->typed->text[DESK_STRIP_PLACES];
    size_t left, length, count = 0;
    char reason[SHOP_REASON];
    *places = shop_alloc((strlen(text) / 2 + 1) * sizeof **places);
    if (*places == NULL) {
        return refuse(r, DESK_STRIP_PLACES, "out of memory");
    }
    if (!inside(text, &from, &left)) {
        return refuse(r, DESK_STRIP_PLACES, "a bracket is missing; allowed: [7.5, 15.1, 22.4], or without any");
    }
    while (next_item(&from, &left, &item, &length)) {
        double *place = &(*places)[count];
        if (!shop_parse_length(item, length, r->unit, false, place, reason)) {
            char why[SHOP_REASON];
            snprintf(why, sizeof why, "%.110s; commas part them: 7.5, 15.1", reason);
            return refuse(r, DESK_STRIP_PLACES, why);
        }
        if (*place <= (count > 0 ? (*places)[count - 1] : 0)) {
            return refuse(r, DESK_STRIP_PLACES,
                          "each is measured from the first impression, so it lies beyond the one "
                          "before");
        }
        count++;
    }
    strip->places = *places;
    strip->place_count = count;
    return count > 0 || refuse(r, DESK_STRIP_PLACES, "a list of lengths, such as [7.5, 15.1, 22.4]");
}

static bool read_count(const reading *r, bw_strip *strip) {
    const char *text = given(r->typed, DESK_STRIP_IMPRESSIONS) ? r->typed->text[DESK_STRIP_IMPRESSIONS] : "";
    char reason[SHOP_REASON];
    if (!shop_parse_whole(text, strlen(text), &strip->impressions, reason)) {
        return refuse(r, DESK_STRIP_IMPRESSIONS, *text != '\0' ? reason : "how many there are must be said");
    }
    if (strip->impressions < BW_STRIP_LEAST || strip->impressions > BW_COUNT_MOST) {
        return refuse(r, DESK_STRIP_IMPRESSIONS, "two at least, or there is no step between them");
    }
    return true;
}

static bool read_span(const reading *r, const bw_tool *tool, bw_strip *strip) {
    bool tips = given(r->typed, DESK_STRIP_TIPS);
    double face = bw_tool_face(tool).length;
    if (!tips && !given(r->typed, DESK_STRIP_LENGTH)) {
        return refuse(r, DESK_STRIP_LENGTH,
                      "it must be measured, from one point of the first impression to the same "
                      "point of the last");
    }
    if (!tips) {
        return read_length(r, DESK_STRIP_LENGTH, BW_STEP_LEAST, BW_LINE_MOST, &strip->length);
    }
    if (!read_length(r, DESK_STRIP_TIPS, BW_STEP_LEAST, BW_LINE_MOST, &strip->length)) {
        return false;
    }
    strip->length -= face;
    return strip->length >= BW_STEP_LEAST || refuse(r, DESK_STRIP_TIPS, "over all it is longer than one face");
}

/* Said in two ways, of which one would be taken and the other lost. */
static bool says_one_thing(const reading *r) {
    static const desk_strip_key other[] = {DESK_STRIP_IMPRESSIONS, DESK_STRIP_LENGTH, DESK_STRIP_TIPS};
    for (int i = 0; i < 3; i++) {
        if (given(r->typed, DESK_STRIP_PLACES) && given(r->typed, other[i])) {
            return refuse(r, other[i],
                          "places tell it already; allowed: places alone, or impressions with length or "
                          "tips");
        }
    }
    return !given(r->typed, DESK_STRIP_LENGTH) || !given(r->typed, DESK_STRIP_TIPS) ||
           refuse(r, DESK_STRIP_TIPS,
                  "length is given, too; allowed: one of them, length from a point of the first to "
                  "the same point of the last, tips over all");
}

static bool says_text(const reading *r) {
    for (int key = 0; key < DESK_STRIP_KEYS; key++) {
        const char *text = r->typed->text[key];
        if (text != NULL && !shop_is_utf8(text, strlen(text))) {
            return refuse(r, (desk_strip_key)key, "its bytes are no text in UTF-8");
        }
    }
    return true;
}

/* What no face can do is a slip of the finger, and one such strip would throw all others away. */
static bool step_can_be(const reading *r, const bw_tool *tool, double step, desk_strip_key key) {
    char why[SHOP_REASON], text[64], low[64], high[64];
    double least, most;
    if (bw_step_can_be(tool, step, &least, &most)) {
        return true;
    }
    shop_show_length(step, r->unit, text, sizeof text);
    shop_show_length(least, r->unit, low, sizeof low);
    shop_show_length(most, r->unit, high, sizeof high);
    snprintf(why, sizeof why, "that is %.20s a step; allowed with this face: %.20s to %.20s. Count and measure again",
             text, low, high);
    return refuse(r, key, why);
}

static bool read_words(const reading *r, const bw_tool *tool, bw_strip *strip) {
    const char *const *text = r->typed->text;
    const shop_field *struck = shop_field_find("tools[].strips[].struck");
    char reason[SHOP_REASON];
    int how = 0;
    if (given(r->typed, DESK_STRIP_STRUCK) &&
        !shop_parse_word(text[DESK_STRIP_STRUCK], strlen(text[DESK_STRIP_STRUCK]), struck->words, &how, reason)) {
        return refuse(r, DESK_STRIP_STRUCK, reason);
    }
    strip->struck = (bw_how)how;
    return !given(r->typed, DESK_STRIP_AIMED) ||
           (read_length(r, DESK_STRIP_AIMED, BW_STEP_LEAST, BW_STEP_MOST, &strip->aimed) &&
            step_can_be(r, tool, strip->aimed, DESK_STRIP_AIMED));
}

bool desk_strip_read(const desk_strip *typed, const bw_tool *tool, shop_unit unit, bw_strip *strip, double **places,
                     char why[200], desk_strip_key *wrong) {
    const reading r = {typed, unit, why, wrong};
    bool by_place = given(typed, DESK_STRIP_PLACES);
    desk_strip_key key = by_place                        ? DESK_STRIP_PLACES
                         : given(typed, DESK_STRIP_TIPS) ? DESK_STRIP_TIPS
                                                         : DESK_STRIP_LENGTH;
    *strip = (bw_strip){.aimed = NAN};
    *places = NULL;
    why[0] = '\0';
    bool fine = says_text(&r) && says_one_thing(&r) && read_words(&r, tool, strip) &&
                (by_place ? read_places(&r, strip, places) : read_count(&r, strip) && read_span(&r, tool, strip)) &&
                step_can_be(&r, tool, bw_strip_step(strip), key);
    if (!fine) {
        free(*places);
        *places = NULL;
    }
    return fine;
}

/* ---- as an edit ---- */

double desk_cut_digits(double mm, shop_unit unit, double parts) {
    double one = unit == SHOP_INCH ? BW_MM_PER_INCH : 1;
    return round(mm / one * parts) / parts * one;
}

static void add_scalar(shop_buffer *to, const char *text, size_t length, bool is_text) {
    char *written = shop_write_scalar(text, length, SHOP_STYLE_PLAIN, true, is_text);
    shop_buffer_text(to, written != NULL ? written : "");
    to->failed = to->failed || written == NULL;
    free(written);
}

static void add_key(shop_buffer *to, const char *key) {
    shop_buffer_text(to, to->length > 1 ? ", " : "");
    shop_buffer_text(to, key);
    shop_buffer_text(to, ": ");
}

static void add_places(shop_buffer *to, const char *text) {
    const char *from, *item;
    size_t left, length;
    inside(text, &from, &left);
    for (bool any = false; next_item(&from, &left, &item, &length); any = true) {
        shop_buffer_text(to, any ? ", " : "[");
        add_scalar(to, item, length, false);
    }
    shop_buffer_text(to, "]");
}

/* What was measured from tip to tip stands in the file as the length that it comes to. */
static char *flow_of(const bw_tool *tool, shop_unit unit, const desk_strip *typed) {
    shop_buffer to = {0};
    shop_buffer_text(&to, "{");
    for (int key = 0; key < DESK_STRIP_KEYS; key++) {
        char length[80];
        const char *text = typed->text[key];
        if (!given(typed, (desk_strip_key)key)) {
            continue;
        }
        if (key == DESK_STRIP_TIPS) {
            double mm;
            char reason[SHOP_REASON];
            shop_parse_length(text, strlen(text), unit, false, &mm, reason);
            shop_write_length(desk_cut_digits(mm - bw_tool_face(tool).length, unit, 1e6), unit, length, sizeof length);
            text = length;
        }
        add_key(&to, key == DESK_STRIP_TIPS ? "length" : desk_strip_words[key]);
        if (key == DESK_STRIP_PLACES) {
            add_places(&to, text);
        } else {
            add_scalar(&to, text, strlen(text), key == DESK_STRIP_LEATHER || key == DESK_STRIP_DATE);
        }
    }
    shop_buffer_text(&to, "}");
    return shop_buffer_take(&to, NULL);
}

static size_t items_of(const bw_tool *tool, bool rounds) {
    size_t count = 0;
    for (size_t i = 0; i < tool->strip_count; i++) {
        count += tool->strips[i].round == rounds;
    }
    return count;
}

static bool make_edit(const bw_tool *tool, shop_unit unit, const desk_strip *typed, shop_edit *edit, char title[160]) {
    const char *const *text = typed->text;
    bool places = given(typed, DESK_STRIP_PLACES);
    *edit = (shop_edit){.path = desk_say("tools.%s.strips[%zu]", tool->id, items_of(tool, false) + 1),
                        .new_text = flow_of(tool, unit, typed)};
    bool tips = given(typed, DESK_STRIP_TIPS);
    if (places) {
        snprintf(title, 160, "%.50s: a strip of which every place is measured", tool->id);
    } else {
        snprintf(title, 160, "%.50s: a strip of %.20s impressions, %.30s%s", tool->id, text[DESK_STRIP_IMPRESSIONS],
                 text[tips ? DESK_STRIP_TIPS : DESK_STRIP_LENGTH], tips ? " over all" : "");
    }
    if (edit->path != NULL && edit->new_text != NULL) {
        return true;
    }
    shop_edit_free(edit);
    return false;
}

bool desk_strip_edit(const desk *d, const char *id, const desk_strip *typed, shop_edit *edit, char title[160]) {
    int tool = desk_tool_find(d, id);
    return tool >= 0 && make_edit(&d->project->tools[tool], d->project->units, typed, edit, title);
}

bool desk_strip_edits(const desk *d, int tool, const desk_strip *typed, shop_edit edits[2], size_t *count,
                      char title[160]) {
    const bw_tool *one = &d->project->tools[tool];
    bool own = (size_t)tool < d->project->own_tools;
    *count = own ? 1 : 2;
    if (!own) {
        edits[0] =
            (shop_edit){.path = desk_say("tools[%zu]", d->project->own_tools + 1),
                        .new_text = d->inventory == NULL ? NULL
                                                         : desk_tool_flow(d->inventory->text, d->inventory->units, one,
                                                                          d->project->units)};
    }
    if (!make_edit(one, d->project->units, typed, &edits[*count - 1], title) || edits[0].path == NULL ||
        edits[0].new_text == NULL) {
        return false;
    }
    return true;
}

bool desk_strip_out(const desk *d, int tool, size_t strip, shop_edit *edit, char **was, char title[160]) {
    const bw_tool *one = &d->project->tools[tool];
    bool round = one->strips[strip].round;
    const char *list = round ? "rounds" : "strips";
    size_t before = 0;
    for (size_t i = 0; i < strip; i++) {
        before += one->strips[i].round == round;
    }
    char *item = desk_say("tools.%s.%s[%zu]", one->id, list, before + 1);
    *was = item == NULL ? NULL : shop_text_get(d->project->text, item);
    if (items_of(one, round) == 1) {
        free(item);
        item = desk_say("tools.%s.%s", one->id, list);
    }
    *edit = (shop_edit){.path = item};
    snprintf(title, 160, "%.50s: %s %zu taken out", one->id, round ? "round" : "strip", before + 1);
    return item != NULL && *was != NULL;
}

/* ---- a finished round ---- */

#define SAME_LENGTH 0.003 /* mm: lengths of one round as they are written, in either unit */

/* mm that the impressions took along the guide; NAN if it is not known. */
static double round_took(const desk *d, size_t band, const shop_struck *round) {
    const bw_band_plan *plan = &d->plan->bands[band];
    if (round->row != 0 || (size_t)round->run > plan->run_count || isnan(round->left)) {
        return NAN;
    }
    const bw_run_plan *run = &plan->runs[round->run - 1];
    double face = run->closed || plan->fill == BW_FILL_STITCH ? 0 : plan->along_line; /* an open run begins at a tip */
    double guide = isnan(round->guide) ? run->to - run->from : round->guide; /* that on which it was measured */
    return guide - round->left - face;
}

/* How many were struck when what was left was measured. */
static int measured(const shop_struck *round) {
    return round->from > 0 ? round->from : round->impressions;
}

static char *round_flow(const desk *d, const shop_struck *round, double took) {
    char length[80], aimed[100] = "", text[80];
    shop_unit unit = d->project->units;
    double parts = unit == SHOP_INCH ? 1e4 : 1e3;
    shop_write_length(desk_cut_digits(took, unit, parts), unit, length, sizeof length);
    if (!isnan(round->aimed)) {
        shop_write_length(desk_cut_digits(round->aimed, unit, parts), unit, text, sizeof text);
        snprintf(aimed, sizeof aimed, ", aimed: %s", text);
    }
    char *piece = shop_write_scalar(d->project->piece.bytes, d->project->piece.length, SHOP_STYLE_PLAIN, true, true);
    char *date = round->date.length > 0
                     ? shop_write_scalar(round->date.bytes, round->date.length, SHOP_STYLE_PLAIN, true, true)
                     : NULL;
    char *flow = piece == NULL ? NULL
                               : desk_say("{impressions: %d, length: %s%s, piece: %s%s%s}", measured(round), length,
                                          aimed, piece, date != NULL ? ", date: " : "", date != NULL ? date : "");
    free(piece);
    free(date);
    return flow;
}

static char *round_path(const bw_tool *tool, size_t at) {
    return desk_say("tools.%s.rounds[%zu]", tool->id, at + 1);
}

static bool replaced(const desk_logs *logs, const bw_tool *tool, size_t at) {
    char *path = round_path(tool, at);
    bool found = false;
    for (size_t i = 0; i < logs->list.count && path != NULL && !found; i++) {
        found = strcmp(logs->list.edits[i].path, path) == 0;
    }
    free(path);
    return found;
}

/* Whether a round of a tool can be what was logged of this one. Days do not tell: a round may take more than one. */
static bool can_be(const shop_project *p, const bw_strip *strip, const shop_string *piece, const shop_struck *round) {
    return strip->round && fabs(strip->length - round->took) < SAME_LENGTH && piece->length == p->piece.length &&
           (piece->length == 0 || memcmp(piece->bytes, p->piece.bytes, piece->length) == 0);
}

/* Which of a tool's rounds (from 0) tells what was logged of this one before; how many there are if none does. What
 * reads alike to the rule has rounds that read alike: each takes the last that none of these logs has taken, and one
 * that ended at the measure before this rather than at another. */
static size_t logged_before(const shop_project *p, int tool, const shop_struck *round, const desk_logs *logs) {
    const bw_tool *one = &p->tools[tool];
    size_t at = 0, found = items_of(one, true);
    bool exact = false;
    for (size_t i = 0; i < one->strip_count && !isnan(round->took); i++) {
        const bw_strip *strip = &one->strips[i];
        bool ends_there = strip->impressions == round->before;
        if (can_be(p, strip, &p->tool_about[tool].strip_about[i].piece, round) && (ends_there || !exact) &&
            !replaced(logs, one, at)) {
            found = at;
            exact = ends_there;
        }
        at += strip->round;
    }
    return found;
}

bool desk_log_round(const desk *d, size_t band, size_t round, desk_logs *logs, double *took, shop_problems *problems) {
    const shop_project *p = d->project;
    if (band >= p->layout.band_count || round >= p->band_about[band].struck_count || p->bands[band].tool < 0 ||
        d->plan == NULL) {
        desk_refuse(problems, "there is no such round");
        return false;
    }
    const shop_struck *one = &p->band_about[band].struck[round];
    *took = round_took(d, band, one);
    if (measured(one) < BW_STRIP_LEAST || !(*took > 0)) {
        desk_refuse(problems, "to log a round, two impressions must be struck on the guide and what was left then "
                              "must be measured");
        return false;
    }
    int tool = p->bands[band].tool;
    desk_edits *list = &logs->list;
    if ((size_t)tool >= p->own_tools && list->count == 0 && !desk_tool_edits(d, band, tool, list, problems)) {
        return false;
    }
    size_t at = logged_before(p, tool, one, logs);
    bool more = at == items_of(&p->tools[tool], true);
    char *path = round_path(&p->tools[tool], at + (more ? logs->more : 0));
    char *old = more || path == NULL ? NULL : shop_project_get(p, path);
    desk_edits_add(list, path, round_flow(d, one, *took), false);
    if (list->failed) {
        free(old);
        return false;
    }
    list->edits[list->count - 1].old_text = old; /* in its place */
    logs->more += more;
    return true;
}
