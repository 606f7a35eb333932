/* round_read.c - the round in hand as it stands in the project. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "desk/inner.h"
#include "desk/round.h"

#define SAME_GUIDE 0.005 /* mm: a run whose length differs by less is the same one */

/* ---- reading ---- */

char *desk_round_item(const desk *d, size_t band, size_t item, const char *key) {
    char path[96];
    snprintf(path, sizeof path, "bands[%zu].struck[%zu]%s%s", band + 1, item + 1, key[0] != '\0' ? "." : "", key);
    return shop_text_get(d->project->text, path);
}

static bool item_number(const desk *d, size_t band, size_t item, const char *key, int *number) {
    char *text = desk_round_item(d, band, item, key), *end = NULL;
    long value = text != NULL ? strtol(text, &end, 10) : 0;
    bool fine = text != NULL && end != text && *end == '\0' && labs(value) <= BW_COUNT_MOST;
    if (fine) {
        *number = (int)value;
    }
    free(text);
    return fine;
}

static double item_length(const desk *d, size_t band, size_t item, const char *key) {
    char *text = desk_round_item(d, band, item, key), why[160];
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
    for (char *text; (text = desk_round_item(d, band, count, "")) != NULL; count++) {
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

/* Under another layout nothing of a measure made before goes on but the steps that were told: their mean, and the mean
 * of where the hand should stand by them. */
static void leave_behind(const desk_part *then, bool closed, double longest, desk_part *part) {
    part->went = part->aimed;
    int steps = then->count - then->from + (closed ? 1 : 0), since = part->struck - then->from;
    if (then->from > 0 && steps > 0 && part->struck > 1 && !isnan(part->guide)) {
        double told = then->left / steps;
        part->went = (longest - then->left + since * told) / (part->struck - 1);
        part->aimed = ((then->from - 1) * part->aimed + since * told) / (part->struck - 1);
    }
}

static void read_run(const desk *d, const desk_round *round, size_t item, desk_part *part) {
    size_t band = round->band;
    const bw_run_plan *run = &d->plan->bands[band].runs[part->index];
    double length = run->to - run->from;
    char *logged = desk_round_item(d, band, item, "logged");
    part->logged = logged != NULL && strcmp(logged, "yes") == 0;
    free(logged);
    part->aimed = item_length(d, band, item, "aimed");
    part->guide = item_length(d, band, item, "guide");
    part->took = item_length(d, band, item, "took");
    item_number(d, band, item, "planned", &part->planned);
    part->changed = (part->planned > 0 && part->planned != run->count) ||
                    (!isnan(part->guide) && fabs(part->guide - length) > SAME_GUIDE);
    int strikes = 0;
    desk_part then = {.left = item_length(d, band, item, "left")};
    item_number(d, band, item, "from", &then.from);
    if (then.from < 1 || then.from > part->struck || !(then.left > 0) || !item_number(d, band, item, "of", &strikes) ||
        strikes < part->struck) {
        then.from = 0;
    }
    part->measured = then.from;
    /* the count of strikes back to that of impressions */
    then.count = strikes + part->count - bw_run_strikes(d->plan, band, part->index, part->count);
    if (part->changed) {
        double face = length - bw_rest_longest(d->plan, band, part->index);
        leave_behind(&then, run->closed, part->guide - face, part);
    } else if (then.from > 0) {
        part->from = then.from;
        part->left = then.left;
        part->count = then.count;
        part->of = strikes;
        part->left_before = item_length(d, band, item, "left-before");
        bool fine = item_number(d, band, item, "before", &part->before) && part->before >= 1 &&
                    part->before < part->from && part->left_before > 0;
        part->before = fine ? part->before : 0;
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
    round->parts[i] =
        (desk_part){.row = made->rows[index].row, .index = index, .left = NAN, .aimed = NAN, .took = NAN, .went = NAN};
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
        parts[i] = (desk_part){.index = i, .count = count, .left = NAN, .aimed = NAN, .guide = NAN, .took = NAN};
        parts[i].went = NAN;
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
