#include "show/card_marks.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

bool card_is_run(const card_row *row) {
    return strstr(row->cell[0], " impression") != NULL || strstr(row->cell[0], " hole") != NULL;
}

static int by_size(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y;
}

enum { PARTS = 4 };

/* Where the check marks of a run must be, from every impression of the plan. */
typedef struct marks_due {
    int after[PARTS];
    double along[PARTS], across[PARTS];
} marks_due;

/* Where the impressions of a run of the guide stand, mm from its first one. Returns how many; malloc'ed. */
static size_t stands(const carded *c, size_t band, size_t r, double **list, double *start) {
    const bw_band_plan *made = &c->plan->bands[band];
    const bw_run_plan *run = &made->runs[r];
    bw_placing *placings;
    size_t count, found = 0;
    ck_assert_int_eq(bw_placings_create(c->plan, band, NULL, &placings, &count), BW_OK);
    double *along = malloc((count + 2) * sizeof *along);
    bool straight = made->fill == BW_FILL_BASKET && c->project->bands[band].lay == BW_LAY_STRAIGHT;
    *start = NAN;
    for (size_t i = 0; i < count; i++) {
        bool guide = straight ? abs(placings[i].row) == 1 : placings[i].row == 0;
        if (!guide || placings[i].run != (int)r + 1)
            continue;
        along[found++] = placings[i].along;
        if (placings[i].number == 1 && placings[i].row == (straight ? -1 : 0))
            *start = placings[i].along;
    }
    bw_placings_release(placings, NULL);
    if (made->fill == BW_FILL_STITCH && found + 1 == (size_t)run->count)
        along[found++] = run->to; /* a hole at a corner is listed in the run that begins there */
    for (size_t i = 0; i < found; i++)
        along[i] += along[i] < *start ? run->to - run->from - *start : -*start;
    qsort(along, found, sizeof *along, by_size);
    *list = along;
    return found;
}

/* Straight across between two places of a guide: on a circle by the formula of the table of chords (Machinery's
 * Handbook, spacing off the circumference), else between the points of the guide. */
static double across(const carded *c, size_t band, const bw_run_plan *run, const bw_curve *guide, double from,
                     double to) {
    const bw_layout *l = &c->project->layout;
    double around = run->to - run->from;
    if (l->outline.shape == BW_CIRCLE && isfinite(l->outline.diameter)) {
        double diameter = l->outline.diameter / (l->finished ? 1 + l->growth : 1);
        double radius = diameter / 2 - c->plan->bands[band].guide_from_edge;
        return 2 * radius * sin((to - from) / radius / 2);
    }
    from = run->closed ? fmod(from - run->from, around) + run->from : from;
    to = run->closed ? fmod(to - run->from, around) + run->from : to;
    bw_point a = bw_curve_at(guide, from).at, b = bw_curve_at(guide, to).at;
    return hypot(a.x - b.x, a.y - b.y);
}

/* False where a run is too short for them. */
static bool marks_of(const carded *c, size_t band, size_t r, const bw_curve *guide, marks_due *due) {
    const bw_run_plan *run = &c->plan->bands[band].runs[r];
    int steps = run->closed ? run->count : run->count - 1;
    double *list, start, before = 0;
    if (steps < (run->closed ? PARTS : 3 * PARTS)) /* on an open run no marks that lie nearer than three steps */
        return false;
    size_t count = stands(c, band, r, &list, &start);
    ck_assert_uint_eq(count, (size_t)run->count);
    for (int k = 0; k < PARTS; k++) {
        due->after[k] = (int)lround((k + 1) * (double)steps / PARTS);
        due->along[k] = due->after[k] < run->count ? list[due->after[k]] : run->to - run->from;
        due->across[k] = across(c, band, run, guide, start + before, start + due->along[k]);
        before = due->along[k];
    }
    free(list);
    return true;
}

static bool told(const carded *c, const card_row *rows, const marks_due *due, bool closed) {
    for (int k = 0; k < PARTS; k++) {
        bool last = strstr(rows[k].cell[0], closed ? " = start" : " = last") != NULL;
        if (atoi(rows[k].cell[0]) != due->after[k] || last != (k + 1 == PARTS) ||
            fabs(card_length(rows[k].cell[1], c->unit) - due->along[k]) > card_fine(c->unit) ||
            fabs(card_length(rows[k].cell[2], c->unit) - due->across[k]) > card_fine(c->unit))
            return false;
    }
    return true;
}

bool card_is_mark(const card_row *row) {
    return row->box && !card_is_run(row);
}

int card_compare_marks(const carded *c, const card_part *part, size_t band) {
    const bw_band_plan *made = &c->plan->bands[band];
    int tables[CARD_ROWS], count = 0;
    bool due[CARD_ROWS] = {false};
    for (int i = 0; i < part->count; i++)
        if (card_is_mark(&part->rows[i])) {
            tables[count++] = i;
            ck_assert_int_le(i + PARTS, part->count);
            i += PARTS - 1;
        }
    bw_curve *guide;
    ck_assert_int_eq(bw_guide_create(c->plan, band, NULL, &guide), BW_OK);
    for (size_t r = 0; r < made->run_count; r++) {
        marks_due marks;
        bool found = false;
        if (!marks_of(c, band, r, guide, &marks))
            continue;
        for (int t = 0; t < count; t++)
            if (told(c, &part->rows[tables[t]], &marks, made->runs[r].closed))
                found = due[t] = true;
        HOLDS(found, "%s, band %zu, run %zu: after %d, %.4f along, %.4f across is not told: %s", c->name, band, r + 1,
              marks.after[0], marks.along[0], marks.across[0], part->flat);
    }
    bw_curve_destroy(guide);
    for (int t = 0; t < count; t++)
        HOLDS(due[t], "%s: marks of no run: %s", c->name, part->flat);
    HOLDS(count == 0 || (strstr(part->flat, "mark after ALONG") && strstr(part->flat, "ACROSS (dividers)")), "%s: %s",
          c->name, part->flat);
    return count;
}
