/* suggest.c - the moves of the maths as lists of edits, and the stamps ranked for a band. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "desk/inner.h"
#include "desk/tools.h"

static void forget_suggestions(desk *d) {
    for (size_t i = 0; i < d->suggestion_count; i++) {
        for (size_t k = 0; k < d->suggestions[i].edit_count; k++) {
            shop_edit_free(&d->suggestions[i].edits[k]);
        }
        free(d->suggestions[i].edits);
        free(d->suggestions[i].words);
    }
    free(d->suggestions);
    d->suggestions = NULL;
    d->suggestion_count = 0;
    d->suggested_knobs = 0;
}

void desk_forget(desk *d) {
    forget_suggestions(d);
    desk_even_drop(d);
    desk_second_forget(d);
    for (size_t i = 0; i < d->rank_bands; i++) {
        bw_ranks_release(d->ranks[i], &desk_memory);
    }
    free(d->ranks);
    free(d->rank_counts);
    d->ranks = NULL;
    d->rank_counts = NULL;
    d->rank_bands = 0;
}

/* ---- a change as edits ---- */

static char *length_text(const desk *d, double mm, bool with_unit) {
    char text[64];
    if (d->project->units == SHOP_INCH && shop_write_fraction(mm, text, sizeof text)) {
        return desk_say("%s", text);
    }
    shop_write_length(mm, d->project->units, text, sizeof text);
    return desk_say("%s%s", text, !with_unit ? "" : d->project->units == SHOP_INCH ? " in" : " mm");
}

/* A share that reads back as exactly this one: in per cent where that can be said. */
static char *share_text(double share) {
    char text[48], reason[160];
    double back;
    for (int digits = 1; digits <= 17; digits++) {
        snprintf(text, sizeof text, "%.*g %%", digits, share * 100);
        if (strchr(text, 'e') == NULL && shop_parse_share(text, strlen(text), &back, reason) && back == share) {
            return desk_say("%s", text);
        }
    }
    return desk_say("%.17f", share);
}

static char *degrees_text(double radians) {
    for (int digits = 1; digits <= 17; digits++) {
        char *text = desk_say("%.*g", digits, radians * 180 / BW_PI);
        if (text == NULL || (strchr(text, 'e') == NULL && fabs(strtod(text, NULL) * BW_PI / 180 - radians) == 0)) {
            return text;
        }
        free(text);
    }
    return desk_say("%.17g", radians * 180 / BW_PI);
}

static void diameter_edits(const desk *d, double value, desk_edits *list) {
    const bw_outline *outline = &d->project->layout.outline;
    if (isnan(outline->diameter) && !isnan(outline->around)) {
        desk_edits_add(list, desk_say("outline.around"), length_text(d, value, false), false);
        return;
    }
    if (isnan(outline->diameter)) {
        desk_edits_add(list, desk_say("outline.chord"), NULL, true);
        desk_edits_add(list, desk_say("outline.depth"), NULL, true);
    }
    desk_edits_add(list, desk_say("outline.diameter"), length_text(d, value, false), false);
}

static char *lose_text(const desk *d, const bw_change *change) {
    switch ((bw_lose)change->number) {
    case BW_LOSE_LAST:
        return desk_say("last %d", d->project->bands[change->band].lose_last);
    case BW_LOSE_STRAIGHTS:
        return desk_say("straights");
    case BW_LOSE_ANCHORED:
        return desk_say("anchored");
    default:
        return desk_say("even");
    }
}

/* The key of a knob that is one length of the outline or of a band. */
static const char *knob_key(bw_knob knob) {
    switch (knob) {
    case BW_KNOB_LENGTH:
        return "outline.length";
    case BW_KNOB_WIDTH:
        return "outline.width";
    case BW_KNOB_RADIUS:
        return "outline.radius";
    case BW_KNOB_SPACE:
        return "space";
    case BW_KNOB_BAND_WIDTH:
        return "width";
    default:
        return NULL;
    }
}

/* ---- corners ---- */

/* "[120, 0, 6]" with another radius: what stands before it stays as the maker wrote it. */
static char *polygon_corner_text(const desk *d, size_t index, const char *old, double radius) {
    char *last = length_text(d, radius, false), *made = NULL;
    const char *first = old == NULL ? NULL : strchr(old, ','), *second = first == NULL ? NULL : strchr(first + 1, ',');
    if (last == NULL) {
        return NULL;
    }
    if (old != NULL && old[0] == '[' && second != NULL && strpbrk(old, "#\n") == NULL) {
        made = desk_say("%.*s, %s]", (int)(second - old), old, last);
    } else {
        const bw_corner *corner = &d->project->layout.outline.corners[index];
        char *x = length_text(d, corner->x, false), *y = length_text(d, corner->y, false);
        made = x == NULL || y == NULL ? NULL : desk_say("[%s, %s, %s]", x, y, last);
        free(x);
        free(y);
    }
    free(last);
    return made;
}

static void polygon_edits(const desk *d, const bw_change *change, desk_edits *list) {
    bw_layout layout = d->project->layout;
    const bw_outline *outline = &d->project->layout.outline;
    bw_corner *corners = shop_alloc(outline->corner_count * sizeof *corners);
    if (corners == NULL) {
        list->failed = true;
        return;
    }
    bw_change_apply(change, &layout, d->project->bands, corners);
    for (size_t i = 0; i < outline->corner_count; i++) {
        if (corners[i].radius > outline->corners[i].radius) {
            char *path = desk_say("outline.corners[%zu]", i + 1);
            char *old = path == NULL ? NULL : shop_text_get(d->project->text, path);
            desk_edits_add(list, path, polygon_corner_text(d, i, old, corners[i].radius), false);
            free(old);
        }
    }
    free(corners);
}

static void corner_edits(const desk *d, const bw_change *change, desk_edits *list) {
    bw_layout layout = d->project->layout;
    const double *old = d->project->layout.outline.corner, *made = layout.outline.corner;
    if (layout.outline.shape == BW_POLYGON) {
        polygon_edits(d, change, list);
        return;
    }
    bw_change_apply(change, &layout, d->project->bands, NULL);
    bool alike = old[1] == old[0] && old[2] == old[0] && old[3] == old[0];
    if (alike) {
        desk_edits_add(list, desk_say("outline.corner"), length_text(d, change->value, false), false);
    }
    for (int i = 0; i < 4 && !alike; i++) {
        if (made[i] > old[i]) {
            desk_edits_add(list, desk_say("outline.corner[%d]", i + 1), length_text(d, made[i], false), false);
        }
    }
}

desk_edits desk_change_edits(const desk *d, const bw_change *change) {
    desk_edits list = {0};
    switch (change->knob) {
    case BW_KNOB_DIAMETER:
        diameter_edits(d, change->value, &list);
        break;
    case BW_KNOB_CORNER:
        corner_edits(d, change, &list);
        break;
    case BW_KNOB_SWEEP:
        desk_edits_add(&list, desk_say("outline.sweep"), degrees_text(change->value), false);
        break;
    case BW_KNOB_GUIDE:
        desk_edits_add(&list, desk_band_path(d, change->band, "guide"), length_text(d, change->value, true), false);
        break;
    case BW_KNOB_OVERLAP:
        desk_edits_add(&list, desk_band_path(d, change->band, "overlap"), share_text(change->value), false);
        break;
    case BW_KNOB_COUNT:
        desk_edits_add(&list, desk_band_path(d, change->band, "count"),
                       change->number == 0 ? desk_say("auto") : desk_say("%d", change->number), false);
        break;
    case BW_KNOB_LOSE:
        desk_edits_add(&list, desk_band_path(d, change->band, "lose"), lose_text(d, change), false);
        break;
    case BW_KNOB_TOOL:
        list.failed = !desk_tool_edits(d, change->band, change->number, &list, NULL);
        break;
    default: {
        const char *key = knob_key(change->knob);
        char *path = key == NULL                    ? NULL
                     : change->knob < BW_KNOB_SPACE ? desk_say("%s", key)
                                                    : desk_band_path(d, change->band, key);
        desk_edits_add(&list, path, length_text(d, change->value, false), false);
    }
    }
    return list;
}

/* ---- suggestions ---- */

/* Corners of a polygon, and those of a rectangle that differ: which get which radius. */
static char *corners_words(const desk *d, const bw_change *change, const desk_edits *list) {
    char old[64], new_text[64];
    shop_show_length(bw_knob_value(&d->project->layout, BW_KNOB_CORNER, 0), d->project->units, old, sizeof old);
    shop_show_length(change->value, d->project->units, new_text, sizeof new_text);
    if (list->count == 1) {
        const char *item = strchr(list->edits[0].path, '[');
        return desk_say("radius of corner %d %s -> %s", item == NULL ? 1 : atoi(item + 1), old, new_text);
    }
    return desk_say("radius of %zu corners, the least %s -> %s", list->count, old, new_text);
}

/* What a change does: "weave guide 10.5 mm -> 10.75 mm". The guide's old place is said as a length too. */
char *desk_change_words(const desk *d, const bw_change *change, const desk_edits *list) {
    const shop_edit *last = &list->edits[list->count - 1];
    char *old = NULL;
    if (change->knob == BW_KNOB_CORNER && strchr(last->path, '[') != NULL) {
        return corners_words(d, change, list);
    }
    if (change->knob == BW_KNOB_GUIDE) {
        char shown[64];
        shop_show_length(bw_knob_value(&d->project->layout, BW_KNOB_GUIDE, change->band), d->project->units, shown,
                         sizeof shown);
        old = desk_say("%s", shown);
    } else if (change->knob == BW_KNOB_OVERLAP &&
               isnan(bw_knob_value(&d->project->layout, BW_KNOB_OVERLAP, change->band))) {
        old = desk_say("%.0f %%", 100 * d->plan->bands[change->band].overlap);
    } else if (change->knob == BW_KNOB_COUNT && d->project->bands[change->band].count == 0 &&
               d->plan->bands[change->band].run_count > 0) {
        old = desk_say("auto (%d)", d->plan->bands[change->band].runs[0].count);
    } else {
        old = shop_text_get(d->project->text, last->path);
    }
    char *words = desk_title(d, last->path, old, last->new_text);
    free(old);
    return words;
}

/* What is well after a move that was not before: of a warning that goes, which; rows that become whole. */
static const char *good_of_warning(bw_warning_kind kind) {
    static const char *const gone[] = {
        [BW_WARN_VERDICT] = "it works",
        [BW_WARN_BARE_STRIP] = "no bare strip",
        [BW_WARN_STRETCH] = "steps less changed",
        [BW_WARN_JUMP] = "no jump",
        [BW_WARN_WANTED_COUNT] = "nearest count",
        [BW_WARN_NARROW] = "first round whole",
        [BW_WARN_MISS] = "rails meet",
        [BW_WARN_CORNER] = "no corner in the guide",
        [BW_WARN_SPLIT] = "lines in one piece",
        [BW_WARN_FALLBACK] = "gap lost as asked",
        [BW_WARN_FACE_OUT] = "faces inside the band",
    };
    return (size_t)kind < sizeof gone / sizeof gone[0] ? gone[kind] : NULL;
}

/* "it works, no bare strip, ": each with what follows it. */
static void goods_of_move(const bw_move *move, char *out, size_t room) {
    size_t used = 0;
    out[0] = '\0';
    for (int kind = 0; kind < BW_WARN_TOOL_DIFFERS; kind++) {
        const char *good = good_of_warning((bw_warning_kind)kind);
        if ((move->gone & 1u << kind) != 0 && good != NULL && used < room) {
            bool just = kind == BW_WARN_VERDICT && move->verdict == BW_TIGHT;
            used += (size_t)snprintf(out + used, room - used, "%s, ", just ? "it just works" : good);
        }
    }
    if (move->whole_rows && used < room) {
        snprintf(out + used, room - used, "every row whole, ");
    }
}

/* What is not well after a move, where its goods do not say so. */
static const char *still_of_move(const desk *d, const bw_move *move) {
    bw_verdict before = d->plan->bands[move->band].fit.verdict;
    if (move->verdict < BW_TIGHT) {
        return "still no, ";
    }
    return before == BW_GOOD && move->verdict == BW_TIGHT ? "then just, " : "";
}

/* The gap that the screen will show then, of the same run. Smaller than a hand can set is nothing. */
static void gap_of_move(const desk *d, const bw_move *move, char *out, size_t room) {
    bool inches = d->project->units == SHOP_INCH;
    double finest = inches ? BW_MM_PER_INCH / 1000 : 0.01, gap = move->worst_gap;
    const char *which = move->run_count > 1 ? "worst gap" : "gap";
    if (fabs(gap) < finest) {
        snprintf(out, room, "no gap then");
    } else if (inches) {
        snprintf(out, room, "%s then %+.3f in", which, gap / BW_MM_PER_INCH);
    } else {
        snprintf(out, room, "%s then %+.2f mm", which, gap);
    }
}

static char *move_words(const desk *d, const bw_move *move, const desk_edits *list) {
    char *what = desk_change_words(d, &move->change, list), goods[200], gap[64];
    if (what == NULL) {
        return NULL;
    }
    goods_of_move(move, goods, sizeof goods);
    gap_of_move(d, move, gap, sizeof gap);
    bool plain = d->project->bands[move->band].fill == BW_FILL_PLAIN; /* nothing there that could leave a gap */
    char *words =
        plain ? desk_say("%s: it works", what) : desk_say("%s: %s%s%s", what, still_of_move(d, move), goods, gap);
    free(what);
    return words;
}

static bool suggestion_make(const desk *d, const bw_move *move, desk_suggestion *made) {
    desk_edits list = desk_change_edits(d, &move->change);
    made->move = *move;
    made->edits = list.edits;
    made->edit_count = list.count;
    made->words = list.failed || list.count == 0 ? NULL : move_words(d, move, &list);
    return made->words != NULL;
}

static int by_move(const void *left, const void *right) {
    const desk_suggestion *a = left, *b = right;
    return bw_move_compare(&a->move, &b->move);
}

/* Adds moves to what was found so far. */
static bool suggest(desk *d, const bw_move *moves, size_t found) {
    if (found == 0) {
        return true;
    }
    desk_suggestion *more = shop_resize(d->suggestions, (d->suggestion_count + found) * sizeof *more);
    if (more == NULL) {
        return false;
    }
    d->suggestions = more;
    for (size_t i = 0; i < found; i++) {
        bool made = suggestion_make(d, &moves[i], &more[d->suggestion_count]);
        d->suggestion_count++; /* also what was made in part is freed with the others */
        if (!made) {
            return false;
        }
    }
    qsort(d->suggestions, d->suggestion_count, sizeof *d->suggestions, by_move);
    return true;
}

bool desk_suggested_all(const desk *d, size_t band) {
    return d->suggested_band == band && d->suggested_knobs == BW_KNOB_COUNT_OF_KNOBS;
}

/* What is searched is always the layout without a trial. */
static bool look_at_knob(desk *d, size_t band, bw_knob knob) {
    shop_project *shown = d->project;
    bw_plan *plan = d->plan;
    if (d->kept_project != NULL) {
        d->project = d->kept_project;
        d->plan = d->kept_plan;
    }
    bw_move *moves = NULL;
    size_t found = 0;
    bool fine = band >= d->project->layout.band_count ||
                (bw_moves_of_knob(&d->project->layout, d->plan, band, knob, &desk_memory, &moves, &found) == BW_OK &&
                 suggest(d, moves, found));
    bw_moves_release(moves, &desk_memory);
    d->project = shown;
    d->plan = plan;
    return fine;
}

bool desk_suggest_more(desk *d, size_t band) {
    if (d->suggested_band != band) {
        forget_suggestions(d);
        d->suggested_band = band;
    }
    if (desk_suggested_all(d, band)) {
        return false;
    }
    if (!look_at_knob(d, band, (bw_knob)d->suggested_knobs)) {
        forget_suggestions(d); /* without memory: another time */
        return false;
    }
    d->suggested_knobs++;
    return !desk_suggested_all(d, band);
}

const desk_suggestion *desk_suggested(desk *d, size_t band, size_t *count) {
    *count = d->suggested_band == band ? d->suggestion_count : 0;
    return *count > 0 ? d->suggestions : NULL;
}

const desk_suggestion *desk_suggestions(desk *d, size_t band, size_t *count) {
    while (desk_suggest_more(d, band)) {
    }
    return desk_suggested(d, band, count);
}

unsigned desk_warnings_left(desk *d, size_t band) {
    const bw_plan *plan = d->kept_plan != NULL ? d->kept_plan : d->plan;
    unsigned left = 0;
    size_t count;
    const desk_suggestion *list = desk_suggested(d, band, &count);
    for (size_t i = 0; i < plan->warning_count; i++) {
        left |= plan->warnings[i].band == band ? 1u << plan->warnings[i].kind : 0;
    }
    for (int kind = 0; kind < BW_WARN_TOOL_DIFFERS; kind++) {
        for (size_t i = 0; i < count && bw_warning_curable((bw_warning_kind)kind); i++) {
            left &= ~(list[i].move.gone & 1u << kind);
        }
    }
    const shop_project *project = desk_kept(d);
    int tool = band < project->layout.band_count ? project->bands[band].tool : -1;
    if (tool >= 0 && project->tool_about[tool].differs) {
        left |= 1u << BW_WARN_TOOL_DIFFERS;
    }
    return left;
}

bool desk_take(desk *d, const desk_suggestion *suggestion, shop_problems *problems) {
    return desk_edit_many(d, suggestion->edits, suggestion->edit_count, suggestion->words, problems);
}

/* ---- ranks ---- */

const bw_rank *desk_ranks(desk *d, size_t band, size_t *count) {
    *count = 0;
    size_t bands = d->project->layout.band_count;
    if (band >= bands) {
        return NULL;
    }
    if (d->ranks == NULL) {
        bw_rank **ranks = shop_alloc(bands * sizeof *ranks);
        size_t *counts = shop_alloc(bands * sizeof *counts);
        if (ranks == NULL || counts == NULL) {
            free(ranks);
            free(counts);
            return NULL;
        }
        for (size_t i = 0; i < bands; i++) {
            ranks[i] = NULL;
            counts[i] = 0;
        }
        d->ranks = ranks;
        d->rank_counts = counts;
        d->rank_bands = bands;
    }
    if (d->ranks[band] == NULL &&
        bw_rank_tools(&d->project->layout, band, &desk_memory, &d->ranks[band], &d->rank_counts[band]) != BW_OK) {
        return NULL;
    }
    *count = d->rank_counts[band];
    return d->ranks[band];
}
