/* round.c - the strikes of the round in hand as edits. */
#include "desk/round.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "desk/inner.h"
#include "desk/strips.h"
#include "desk/tools.h"

static char *today(char out[16]) {
    time_t now = time(NULL);
    struct tm day;
    out[0] = '\0';
    if (localtime_r(&now, &day) != NULL) {
        strftime(out, 16, "%Y-%m-%d", &day);
    }
    return out;
}

static int add_length(char *out, size_t room, const desk *d, const char *key, double mm) {
    char text[64];
    shop_unit unit = d->project->units;
    if (isnan(mm)) {
        return 0;
    }
    double parts = unit == SHOP_INCH ? 1e6 : 1e4; /* a 64th of an inch has six digits */
    shop_write_length(desk_cut_digits(mm, unit, parts), unit, text, sizeof text);
    return snprintf(out, room, ", %s: %s", key, text);
}

/* The item as YAML in flow style. */
static char *part_text(const desk *d, const desk_part *part) {
    char text[560], date[16];
    size_t used = 0, room = sizeof text;
    used += part->row != 0 ? (size_t)snprintf(text, room, "{row: %d", part->row)
                           : (size_t)snprintf(text, room, "{run: %zu", part->index + 1);
    used += (size_t)snprintf(text + used, room - used, ", impressions: %d, of: %d", part->struck, part->of);
    if (part->row == 0) {
        if (part->planned > 0) {
            used += (size_t)snprintf(text + used, room - used, ", planned: %d", part->planned);
        }
        used += (size_t)add_length(text + used, room - used, d, "guide", part->guide);
        used += (size_t)add_length(text + used, room - used, d, "aimed", part->aimed);
        if (part->from > 0) {
            used += (size_t)snprintf(text + used, room - used, ", from: %d", part->from);
            used += (size_t)add_length(text + used, room - used, d, "left", part->left);
        }
        if (part->from > 0 && part->before > 0) {
            used += (size_t)snprintf(text + used, room - used, ", before: %d", part->before);
            used += (size_t)add_length(text + used, room - used, d, "left-before", part->left_before);
        }
    }
    if (today(date)[0] != '\0') {
        used += (size_t)snprintf(text + used, room - used, ", date: %s", date);
    }
    used += (size_t)snprintf(text + used, room - used, ", done: %s%s", part->struck >= part->of ? "yes" : "no",
                             part->logged ? ", logged: yes" : "");
    used += (size_t)add_length(text + used, room - used, d, "took", part->row == 0 ? part->took : NAN);
    snprintf(text + used, room - used, "}");
    return desk_say("%s", text);
}

/* Item `item` says this from now on; one behind the last is added. Takes text. */
static void item_edit(const desk *d, const desk_round *round, size_t item, char *text, desk_edits *list) {
    bool first = round->items == 0;
    char *path = first ? desk_say("bands[%zu].struck", round->band + 1)
                       : desk_say("bands[%zu].struck[%zu]", round->band + 1, item + 1);
    if (text != NULL && first) {
        char *whole = desk_say("[%s]", text);
        free(text);
        text = whole;
    }
    desk_edits_add(list, path, text, false);
    if (item < round->items && !list->failed) { /* in place of it, not before it */
        list->edits[list->count - 1].old_text = desk_round_item(d, round->band, item, "");
    }
}

static bool put_edits(desk *d, desk_edits *list, const char *title, shop_problems *problems) {
    if (list->failed) {
        desk_no_memory(problems);
    }
    bool fine = !list->failed && desk_edit_many(d, list->edits, list->count, title, problems);
    desk_edits_release(list);
    return fine;
}

static bool put_item(desk *d, const desk_round *round, size_t item, char *text, const char *title,
                     shop_problems *problems) {
    desk_edits list = {0};
    item_edit(d, round, item, text, &list);
    return put_edits(d, &list, title, problems);
}

/* `count` items from `item` on taken out, the last first. */
static bool cut_items(desk *d, const desk_round *round, size_t item, size_t count, const char *title,
                      shop_problems *problems) {
    desk_edits list = {0};
    if (count == round->items) {
        desk_edits_add(&list, desk_say("bands[%zu].struck", round->band + 1), NULL, true);
        count = 0;
    }
    for (; count > 0; count--) {
        desk_edits_add(&list, desk_say("bands[%zu].struck[%zu]", round->band + 1, item + count), NULL, true);
    }
    return put_edits(d, &list, title, problems);
}

/* What the layout says now, for a run that is begun. */
static void begin_part(const desk *d, const desk_round *round, desk_part *part) {
    if (part->row == 0) {
        const bw_run_plan *run = &d->plan->bands[round->band].runs[part->index];
        part->planned = run->count;
        part->guide = run->to - run->from;
        part->aimed = run->step;
    }
    part->begun = true;
}

static char *part_title(const desk *d, const desk_round *round, const desk_part *part) {
    const char *name = d->project->bands[round->band].name;
    char where[40] = "";
    if (part->row != 0) {
        snprintf(where, sizeof where, " in row %d", part->row);
    } else if (round->runs > 1) {
        snprintf(where, sizeof where, " in run %zu", part->index + 1);
    }
    return desk_say("%s: struck %d of %d%s", name, part->struck, part->of, where);
}

/* Takes round. */
static bool put_part(desk *d, desk_round *round, size_t at, bool more, shop_problems *problems) {
    desk_part *part = &round->parts[at];
    char *title = part_title(d, round, part);
    size_t item = more ? round->items : part->item; /* items of rows that are gone may stand behind it */
    bool fine = put_item(d, round, item, part_text(d, part), title, problems);
    free(title);
    desk_round_free(round);
    return fine;
}

static desk_round *read_or_refuse(const desk *d, size_t band, shop_problems *problems) {
    desk_round *round = desk_round_read(d, band);
    if (round == NULL) {
        desk_refuse(problems, "nothing is struck on this band");
    }
    return round;
}

bool desk_round_strike(desk *d, size_t band, shop_problems *problems) {
    desk_round *round = read_or_refuse(d, band, problems);
    if (round == NULL) {
        return false;
    }
    size_t at = round->at;
    while (at < round->count && round->parts[at].struck >= round->parts[at].of) {
        at++;
    }
    if (at >= round->count) {
        desk_refuse(problems, "the round is full: every impression is struck");
        desk_round_free(round);
        return false;
    }
    desk_part *part = &round->parts[at];
    bool more = !part->begun;
    if (more) {
        begin_part(d, round, part);
    }
    part->struck++;
    return put_part(d, round, at, more, problems);
}

bool desk_round_unstrike(desk *d, size_t band, shop_problems *problems) {
    desk_round *round = read_or_refuse(d, band, problems);
    if (round == NULL) {
        return false;
    }
    desk_part *part = &round->parts[round->at];
    if (part->struck == 0) {
        desk_refuse(problems, "nothing is struck yet");
        desk_round_free(round);
        return false;
    }
    part->struck--;
    if (part->struck == 0) {
        char *title = part_title(d, round, part);
        bool fine = title != NULL && cut_items(d, round, part->item, 1, title, problems);
        free(title);
        desk_round_free(round);
        return fine;
    }
    if (part->from > part->struck) { /* that measure was taken after this strike */
        begin_part(d, round, part);
        part->from = part->before = 0;
        part->count = part->planned;
        part->of = bw_run_strikes(d->plan, band, part->index, part->count);
    }
    return put_part(d, round, round->at, false, problems);
}

bool desk_round_anew(desk *d, size_t band, shop_problems *problems) {
    desk_round *round = read_or_refuse(d, band, problems);
    if (round == NULL) {
        return false;
    }
    char title[120];
    const char *name = d->project->bands[band].name;
    bool fine = false;
    if (!round->begun) {
        desk_refuse(problems, "nothing is struck yet");
    } else if (round->full) { /* it stays; the next one has begun with nothing */
        desk_part part = {.count = round->parts[0].count, .left = NAN, .took = NAN};
        const bw_run_plan *run = &d->plan->bands[band].runs[0];
        part.of = bw_run_strikes(d->plan, band, 0, run->count);
        begin_part(d, round, &part);
        snprintf(title, sizeof title, "%.80s: a new round", name);
        fine = put_item(d, round, round->items, part_text(d, &part), title, problems);
    } else {
        snprintf(title, sizeof title, "%.80s: the round with %ld struck taken out", name, round->struck);
        fine = cut_items(d, round, round->first_item, round->items - round->first_item, title, problems);
    }
    desk_round_free(round);
    return fine;
}

/* mm, on the mean: by the layout until what was left was measured, then by what came of that. */
static double aimed_so_far(const desk *d, size_t band, const desk_part *part) {
    if (part->from == 0 || part->struck < 2) {
        return part->aimed;
    }
    int steps = part->count - part->from + (d->plan->bands[band].runs[part->index].closed ? 1 : 0);
    double since = steps > 0 ? part->left / steps : 0;
    return ((part->from - 1) * part->aimed + (part->struck - part->from) * since) / (part->struck - 1);
}

bool desk_round_advise(desk *d, size_t band, const bw_rest *rest, size_t index, shop_problems *problems) {
    desk_round *round = read_or_refuse(d, band, problems);
    if (round == NULL) {
        return false;
    }
    desk_part *part = &round->parts[round->at];
    const bw_rest_count *one = &rest->counts[index];
    double aimed = aimed_so_far(d, band, part);
    if (part->row != 0 || part->index != rest->run || part->struck != rest->struck) {
        desk_refuse(problems, "what is left was measured of another run");
        desk_round_free(round);
        return false;
    }
    part->before = part->from < rest->struck ? part->from : part->before;
    part->left_before = part->from < rest->struck ? part->left : part->left_before;
    begin_part(d, round, part);
    part->count = one->count;
    part->of = bw_run_strikes(d->plan, band, part->index, one->count);
    part->aimed = isnan(aimed) ? part->aimed : aimed;
    part->logged = false;
    part->from = rest->struck;
    part->left = rest->left;
    char left[64], step[64];
    shop_show_length(rest->left, d->project->units, left, sizeof left);
    shop_show_length(one->step, d->project->units, step, sizeof step);
    char *title = desk_say("%s: %s left after %d, on with %d step%s of %s", d->project->bands[band].name, left,
                           rest->struck, one->steps, one->steps == 1 ? "" : "s", step);
    bool fine = title != NULL && put_item(d, round, part->item, part_text(d, part), title, problems);
    free(title);
    desk_round_free(round);
    return fine;
}

/* ---- logging ---- */

static bool can_log(const desk_part *part) {
    return part->row == 0 && part->measured >= BW_STRIP_LEAST && !part->logged;
}

bool desk_round_can_log(const desk_round *round) {
    bool can = false;
    for (size_t i = 0; i < round->runs; i++) {
        can = can || can_log(&round->parts[i]);
    }
    return can;
}

bool desk_round_log(desk *d, size_t band, shop_problems *problems) {
    desk_round *round = read_or_refuse(d, band, problems);
    bool fine = round != NULL && desk_round_can_log(round);
    desk_logs logs = {0};
    if (round != NULL && !fine) {
        desk_refuse(problems, "nothing was measured that is not logged yet: what was left tells what the strikes took");
    }
    for (size_t i = 0; fine && i < round->runs; i++) {
        desk_part *part = &round->parts[i];
        if (can_log(part)) {
            fine = desk_log_round(d, band, part->item, &logs, &part->took, problems);
            part->logged = true;
            item_edit(d, round, part->item, part_text(d, part), &logs.list);
        }
    }
    if (fine) {
        fine = put_edits(d, &logs.list, "a round logged with its tool", problems);
    }
    desk_edits_release(&logs.list);
    desk_round_free(round);
    return fine;
}
