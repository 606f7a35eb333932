/* round.c - the round in hand as it stands in the project, and its strikes as edits. */
#include "desk/round.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "desk/inner.h"
#include "desk/strips.h"

#define SAME_GUIDE 0.005 /* mm: a run whose length differs by less is the same one */

/* ---- reading ---- */

static char *item_text(const desk *d, size_t band, size_t item, const char *key) {
    char path[96];
    snprintf(path, sizeof path, "bands[%zu].struck[%zu]%s%s", band + 1, item + 1, key[0] != '\0' ? "." : "", key);
    return shop_text_get(d->project->text, path);
}

static bool item_number(const desk *d, size_t band, size_t item, const char *key, int *number) {
    char *text = item_text(d, band, item, key), *end = NULL;
    long value = text != NULL ? strtol(text, &end, 10) : 0;
    bool fine = text != NULL && end != text && *end == '\0' && labs(value) <= BW_COUNT_MOST;
    if (fine) {
        *number = (int)value;
    }
    free(text);
    return fine;
}

static double item_length(const desk *d, size_t band, size_t item, const char *key) {
    char *text = item_text(d, band, item, key), why[160];
    double mm = NAN;
    if (text != NULL && !shop_parse_length(text, strlen(text), d->project->units, false, &mm, why)) {
        mm = NAN;
    }
    free(text);
    return mm;
}

static size_t count_items(const desk *d, size_t band, size_t *first) {
    size_t count = 0;
    *first = 0;
    for (char *text; (text = item_text(d, band, count, "")) != NULL; count++) {
        int run = 0, row = 0;
        bool begins = item_number(d, band, count, "run", &run) && run == 1;
        begins = begins && (!item_number(d, band, count, "row", &row) || row == 0);
        *first = begins ? count : *first;
        free(text);
    }
    return count;
}

static desk_part *part_of(desk_round *round, int run, int row) {
    for (size_t i = 0; i < round->count; i++) {
        desk_part *part = &round->parts[i];
        if (part->row == row && (row != 0 || (int)part->index + 1 == run)) {
            return part;
        }
    }
    return NULL;
}

static void read_run(const desk *d, const desk_round *round, size_t item, desk_part *part) {
    size_t band = round->band;
    const bw_run_plan *run = &d->plan->bands[band].runs[part->index];
    double length = run->to - run->from;
    char *logged = item_text(d, band, item, "logged");
    part->logged = logged != NULL && strcmp(logged, "yes") == 0;
    free(logged);
    part->aimed = item_length(d, band, item, "aimed");
    part->guide = item_length(d, band, item, "guide");
    part->left = item_length(d, band, item, "left");
    item_number(d, band, item, "planned", &part->planned);
    item_number(d, band, item, "from", &part->from);
    part->changed = (part->planned > 0 && part->planned != run->count) ||
                    (!isnan(part->guide) && fabs(part->guide - length) > SAME_GUIDE);
    int strikes = 0;
    bool advised = part->from >= 1 && part->from <= part->struck && part->left > 0 && !part->changed &&
                   item_number(d, band, item, "of", &strikes) && strikes >= part->struck;
    if (advised) { /* the count of strikes back to that of impressions */
        part->count = strikes + part->count - bw_run_strikes(d->plan, band, part->index, part->count);
        part->of = strikes;
    } else {
        part->from = 0;
        part->left = NAN;
    }
}

static void read_items(const desk *d, desk_round *round) {
    for (size_t item = round->first_item; item < round->items; item++) {
        int run = 1, row = 0, struck = 0;
        item_number(d, round->band, item, "run", &run);
        item_number(d, round->band, item, "row", &row);
        item_number(d, round->band, item, "impressions", &struck);
        desk_part *part = part_of(round, run, row);
        if (part == NULL || struck < 0) {
            continue; /* the layout has no such run or row any more */
        }
        part->begun = true;
        part->item = item;
        part->struck = struck;
        if (row == 0) {
            read_run(d, round, item, part);
        }
        part->struck = part->struck < part->of ? part->struck : part->of;
        round->at = (size_t)(part - round->parts);
    }
}

static bool is_guides(const bw_band_plan *band, bool straight, int row) {
    return band->fill != BW_FILL_BASKET || (straight ? abs(row) == 1 : row == 0);
}

/* Whole rows before leaned ones, nearer to the guide first; of two as near the outer one. */
static bool row_before(const bw_row_plan *a, const bw_row_plan *b) {
    if (a->leaned != b->leaned) {
        return !a->leaned;
    }
    return abs(a->row) != abs(b->row) ? abs(a->row) < abs(b->row) : a->row < b->row;
}

static void add_row(desk_round *round, const bw_band_plan *made, size_t index) {
    size_t i = round->count++;
    for (; i > round->runs && row_before(&made->rows[index], &made->rows[round->parts[i - 1].index]); i--) {
        round->parts[i] = round->parts[i - 1];
    }
    round->parts[i] = (desk_part){.row = made->rows[index].row, .index = index, .left = NAN, .aimed = NAN};
}

/* What rows take follows from the runs as they are now wanted. */
static void count_rows(const desk *d, desk_round *round) {
    for (size_t i = round->runs; i < round->count; i++) {
        desk_part *part = &round->parts[i];
        part->of = 0;
        for (size_t r = 0; r < round->runs; r++) {
            part->of += bw_row_strikes(d->plan, round->band, part->index, r, round->parts[r].count);
        }
        part->count = part->of;
        part->struck = part->struck < part->of ? part->struck : part->of;
    }
}

static void sum_up(desk_round *round) {
    bool behind = false;
    for (size_t i = 0; i < round->count; i++) {
        const desk_part *part = &round->parts[i];
        round->struck += part->struck;
        round->of += part->of;
        behind = behind || (i >= round->at && part->struck < part->of);
        round->begun = round->begun || part->struck > 0;
    }
    round->full = round->begun && !behind;
}

desk_round *desk_round_read(const desk *d, size_t band) {
    if (d->plan == NULL || band >= d->plan->band_count || d->plan->bands[band].strikes == 0) {
        return NULL;
    }
    const bw_band_plan *made = &d->plan->bands[band];
    desk_round *round = calloc(1, sizeof *round);
    desk_part *parts = calloc(made->run_count + made->row_count, sizeof *parts);
    if (round == NULL || parts == NULL) {
        free(round);
        free(parts);
        return NULL;
    }
    *round = (desk_round){.band = band, .parts = parts, .count = made->run_count, .runs = made->run_count};
    for (size_t i = 0; i < made->run_count; i++) {
        int count = made->runs[i].count;
        parts[i] = (desk_part){.index = i, .count = count, .left = NAN, .aimed = NAN, .guide = NAN};
        parts[i].of = count > 0 ? bw_run_strikes(d->plan, band, i, count) : 0;
    }
    bool straight = d->project->bands[band].lay == BW_LAY_STRAIGHT;
    for (size_t i = 0; i < made->row_count; i++) {
        if (!is_guides(made, straight, made->rows[i].row)) {
            add_row(round, made, i);
        }
    }
    for (size_t i = round->runs; i < round->count; i++) { /* so that what was struck is not cut short */
        round->parts[i].of = BW_COUNT_MOST;
    }
    round->items = count_items(d, band, &round->first_item);
    read_items(d, round);
    count_rows(d, round);
    sum_up(round);
    return round;
}

void desk_round_free(desk_round *round) {
    if (round != NULL) {
        free(round->parts);
        free(round);
    }
}

/* ---- changing ---- */

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
    if (isnan(mm)) {
        return 0;
    }
    shop_write_length(mm, d->project->units, text, sizeof text);
    return snprintf(out, room, ", %s: %s", key, text);
}

/* The item as YAML in flow style. */
static char *part_text(const desk *d, const desk_part *part) {
    char text[480], date[16];
    size_t used = 0, room = sizeof text;
    used += part->row != 0 ? (size_t)snprintf(text, room, "{row: %d", part->row)
                           : (size_t)snprintf(text, room, "{run: %zu", part->index + 1);
    used += (size_t)snprintf(text + used, room - used, ", impressions: %d, of: %d", part->struck, part->of);
    if (part->row == 0) {
        used += (size_t)snprintf(text + used, room - used, ", planned: %d", part->planned);
        used += (size_t)add_length(text + used, room - used, d, "guide", part->guide);
        used += (size_t)add_length(text + used, room - used, d, "aimed", part->aimed);
        if (part->from > 0) {
            used += (size_t)snprintf(text + used, room - used, ", from: %d", part->from);
            used += (size_t)add_length(text + used, room - used, d, "left", part->left);
        }
    }
    if (today(date)[0] != '\0') {
        used += (size_t)snprintf(text + used, room - used, ", date: %s", date);
    }
    snprintf(text + used, room - used, ", done: %s%s}", part->struck >= part->of ? "yes" : "no",
             part->logged ? ", logged: yes" : "");
    return desk_say("%s", text);
}

/* Item `item` says this from now on; one behind the last is added. */
static bool put_item(desk *d, const desk_round *round, size_t item, char *text, const char *title,
                     shop_problems *problems) {
    shop_edit edit = {0};
    char whole[500];
    bool first = round->items == 0;
    edit.path = first ? desk_say("bands[%zu].struck", round->band + 1)
                      : desk_say("bands[%zu].struck[%zu]", round->band + 1, item + 1);
    if (text != NULL && first) {
        snprintf(whole, sizeof whole, "[%s]", text);
        free(text);
        text = desk_say("%s", whole);
    }
    edit.new_text = text;
    edit.old_text = item < round->items ? item_text(d, round->band, item, "") : NULL;
    bool fine = edit.path != NULL && text != NULL;
    if (!fine) {
        desk_no_memory(problems);
    }
    fine = fine && desk_edit_many(d, &edit, 1, title, problems);
    shop_edit_free(&edit);
    return fine;
}

/* The items from `item` on taken out, the last first. */
static bool cut_items(desk *d, const desk_round *round, size_t item, const char *title, shop_problems *problems) {
    size_t count = item == 0 ? 1 : round->items - item;
    shop_edit *edits = calloc(count, sizeof *edits);
    bool fine = edits != NULL;
    for (size_t i = 0; i < count && fine; i++) {
        edits[i].path = item == 0 ? desk_say("bands[%zu].struck", round->band + 1)
                                  : desk_say("bands[%zu].struck[%zu]", round->band + 1, round->items - i);
        fine = edits[i].path != NULL;
    }
    if (!fine) {
        desk_no_memory(problems);
    }
    fine = fine && desk_edit_many(d, edits, count, title, problems);
    for (size_t i = 0; edits != NULL && i < count; i++) {
        shop_edit_free(&edits[i]);
    }
    free(edits);
    return fine;
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
    size_t item = more ? round->items : round->items - 1;
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
        bool fine = title != NULL && cut_items(d, round, round->items - 1, title, problems);
        free(title);
        desk_round_free(round);
        return fine;
    }
    if (part->from > part->struck) { /* that measure was taken after this strike */
        begin_part(d, round, part);
        part->from = 0;
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
        desk_part part = {.index = 0, .count = round->parts[0].count, .left = NAN};
        const bw_run_plan *run = &d->plan->bands[band].runs[0];
        part.of = bw_run_strikes(d->plan, band, 0, run->count);
        begin_part(d, round, &part);
        snprintf(title, sizeof title, "%.80s: a new round", name);
        fine = put_item(d, round, round->items, part_text(d, &part), title, problems);
    } else {
        snprintf(title, sizeof title, "%.80s: the round with %ld struck taken out", name, round->struck);
        fine = cut_items(d, round, round->first_item, title, problems);
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
    bool fine = title != NULL && put_item(d, round, round->items - 1, part_text(d, part), title, problems);
    free(title);
    desk_round_free(round);
    return fine;
}

/* ---- logging ---- */

static bool can_log(const desk_part *part) {
    return part->row == 0 && part->from >= BW_STRIP_LEAST && !part->logged;
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
    if (round != NULL && !fine) {
        desk_refuse(problems, "nothing was measured that is not logged yet: what was left tells what the strikes took");
    }
    for (size_t i = 0; fine && i < round->runs; i++) {
        desk_part *part = &round->parts[i];
        if (can_log(part)) {
            fine = desk_log_round(d, band, part->item, problems);
            part->logged = true;
            fine = fine && put_item(d, round, part->item, part_text(d, part), "a round is logged", problems);
        }
    }
    desk_round_free(round);
    return fine;
}
