/* What is said while a round is struck: which part is in hand, and the step that counts now. */
#include "show/round.h"

#include <math.h>
#include <stdlib.h>

#include "show/inner.h"

#define SAME_STEP 1e-6 /* mm: as near as steps of one setting come out of places along the guide */

int show_next_mark(const shop_project *project, const bw_plan *plan, const desk_round *round, int struck,
                   double *along) {
    const desk_part *part = &round->parts[round->at];
    *along = NAN;
    if (part->row != 0 || part->changed)
        return 0;
    if (part->from > 0) {
        bw_check_mark list[SHOW_REST_MARKS];
        bw_rest *way = desk_round_way(round, plan);
        int marks = way != NULL ? show_rest_marks_of(plan, way, 0, list) : 0, at = 0;
        for (int i = marks - 1; i >= 0; i--)
            if (list[i].after > struck) {
                at = list[i].after;
                *along = list[i].along;
            }
        bw_rest_destroy(way);
        return at;
    }
    const bw_run_plan *run = &plan->bands[round->band].runs[part->index];
    int steps = bw_run_steps(run), marks = show_check_marks(project, plan, round->band, part->index);
    for (int i = 1; i <= marks; i++) {
        int at = bw_mark_at(steps, marks + 1, i);
        if (at > struck)
            return at;
    }
    return 0;
}

const char *show_round_marks(show_words *out, const shop_project *project, const bw_plan *plan,
                             const desk_round *round) {
    const desk_part *part = &round->parts[round->at];
    show_start(out);
    bw_rest *way = part->from > 0 ? desk_round_way(round, plan) : NULL;
    if (way != NULL && part->struck < part->of)
        show_rest_marks(out, project, plan, way, 0);
    bw_rest_destroy(way);
    return out->text;
}

const char *show_round_struck(show_words *out, const shop_project *project, const bw_plan *plan,
                              const desk_round *round) {
    show_start(out);
    for (size_t i = 0; i < round->runs && out->text[0] == '\0'; i++) {
        const desk_part *part = &round->parts[i];
        bw_measure m = {.band = round->band, .run = i, .struck = part->from, .left = part->left};
        if (part->before > 0) { /* what was told then is not known any more: how long it was, is */
            m.told_at = part->before;
            m.told_left = part->left_before;
            m.told_count = part->count;
        }
        bw_rest *rest = NULL;
        if (part->from > 0 && bw_rest_create(plan, &m, NULL, &rest) == BW_OK) {
            show_rest_struck(out, project, plan, rest, true);
            bw_rest_destroy(rest);
        }
    }
    return out->text;
}

const char *show_part_words(show_words *out, const shop_project *project, const bw_plan *plan, const desk_round *round,
                            size_t part) {
    const desk_part *one = &round->parts[part];
    const bw_band_plan *band = &plan->bands[round->band];
    show_start(out);
    if (one->row != 0) {
        const bw_row_plan *row = &band->rows[one->index];
        show_say(out, "row %d, %s%s", one->row, one->row < 0 ? "outward of the guide" : "inward of the guide",
                 row->leaned ? ", leaned" : "");
    } else if (round->runs > 1) {
        show_say(out, "run %zu of %zu", one->index + 1, round->runs);
        show_words start;
        show_start(&start);
        if (show_say_run_start(&start, project, plan, round->band, one->index))
            show_say(out, ", from %s", start.text);
    } else
        show_say(out, "along the guide");
    return out->text;
}

/* ---- the step that counts now ---- */

/* Steps i .. of the same length; *count how many in all of that stretch, *at which of it i is. */
static int same_steps(const double *places, int steps, int i, int *all, int *at) {
    double step = places[i + 1] - places[i];
    int from = i, to = i;
    while (from > 0 && fabs(places[from] - places[from - 1] - step) < SAME_STEP)
        from--;
    while (to < steps && fabs(places[to + 1] - places[to] - step) < SAME_STEP)
        to++;
    *all = to - from;
    *at = i - from;
    return to - i;
}

static void say_now(show_now *out, const shop_project *project, int all, int at, bool last) {
    show_hand_steps hand = show_by_hand(project, all, out->even);
    long done = (long)at * hand.longer / all, then = ((long)at + 1) * hand.longer / all;
    out->set = then > done ? hand.high : hand.low;
    if (hand.longer == 0)
        out->set = hand.low;
    int longer = hand.longer - (int)done, shorter = out->more - longer;
    const char *front = last ? "the last " : "";
    if (longer > 0 && shorter > 0)
        show_say(&out->words, "%s%d more: %d at %s and %d at %s, mixed evenly", front, out->more, longer,
                 show_length(project, hand.high).text, shorter, show_length(project, hand.low).text);
    else
        show_say(&out->words, "%s%d at %s", front, out->more,
                 show_length(project, longer > 0 ? hand.high : hand.low).text);
}

static void fill_now(show_now *out, const shop_project *project, const bw_rest_count *one, const double *places,
                     int i) {
    int all, at, steps = one->steps;
    out->known = true;
    out->even = out->set = places[i + 1] - places[i];
    out->bends = one->setting_count > 0 && one->settings[0].where != BW_WHERE_STEPS &&
                 fabs(one->settings[0].step - one->settings[1].step) >= SHOW_NOTHING;
    out->more = same_steps(places, steps, i, &all, &at);
    if (out->bends) { /* each step has its own length where it lies partly on a bend */
        show_say(&out->words, "%s where the guide bends, %s on the straights",
                 show_length(project, one->settings[0].step).text, show_length(project, one->settings[1].step).text);
        return;
    }
    say_now(out, project, all, at, i > at && i + out->more == steps);
    if (i + out->more < steps) {
        int next = i + out->more;
        out->then = places[next + 1] - places[next];
        out->then_more = same_steps(places, steps, next, &all, &at);
        bool last = next + out->then_more == steps;
        show_say(&out->words, last ? "; then the last %d: " : "; then %d: ", out->then_more);
        show_say_steps(&out->words, project, out->then_more, out->then, "");
    }
}

bool show_round_now(show_now *out, const shop_project *project, const bw_plan *plan, const desk_round *round) {
    const desk_part *part = &round->parts[round->at];
    *out = (show_now){0};
    bw_rest *way = desk_round_way(round, plan);
    if (way == NULL)
        return false;
    const bw_rest_count *one = &way->counts[0];
    double *places = calloc((size_t)one->steps + 1, sizeof *places);
    int i = (part->struck > 1 ? part->struck : 1) - way->struck;
    if (places != NULL && i < one->steps && i >= 0) {
        bw_rest_places(plan, way, 0, places);
        fill_now(out, project, one, places, i);
    }
    free(places);
    bw_rest_destroy(way);
    return out->known;
}

const char *show_round_changed(show_words *out, const shop_project *project, const bw_plan *plan,
                               const desk_round *round) {
    const desk_part *part = &round->parts[round->at];
    const bw_band_plan *band = &plan->bands[round->band];
    show_start(out);
    if (part->row != 0 || !part->changed)
        return out->text;
    const bw_run_plan *run = &band->runs[part->index];
    show_say(out, "The layout has changed since these %d were struck", part->struck);
    if (!isnan(part->went)) /* as it was measured, if it was */
        show_say(out, " at %s", show_length(project, part->went).text);
    show_say(out, ": now %d at %s", run->count, show_length(project, run->step).text);
    if (!isnan(part->guide) && fabs(part->guide - (run->to - run->from)) > SHOW_NOTHING)
        show_say(out, ", on a guide %s %s", show_difference(project, run->to - run->from - part->guide).text,
                 run->to - run->from > part->guide ? "longer" : "shorter");
    double left = desk_round_left(round, plan);
    bw_rest *rest = NULL;
    bw_measure m = desk_round_measure(round, round->band, part->index, part->struck > 0 ? part->struck : 1, left);
    if (!isnan(left) && bw_rest_create(plan, &m, NULL, &rest) == BW_OK) {
        show_say(out, ". By that %s are left", show_length(project, left).text);
        if (rest->works > 0)
            show_say(out, ": %d step%s of %s", rest->counts[0].steps, rest->counts[0].steps == 1 ? "" : "s",
                     show_length(project, rest->counts[0].step).text);
        bw_rest_destroy(rest);
    }
    show_say(out, ". Measure what is left before the next strike.");
    return out->text;
}
