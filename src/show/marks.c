/* The marked places of all bands: those of the band in hand with what is worth a look there, those of the others where
 * something is wrong. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/inner.h"

enum { VARIED_MOST = 12 }; /* of one kind in a band: more say no more */

typedef struct marking {
    const shop_project *project;
    const bw_plan *plan;
    const bw_band_plan *band;
    size_t index;
    const bw_curve *guide;
    const bw_profile *profile;
    show_spot *list;
    size_t count, room;
} marking;

static bool is_warned(const bw_plan *plan, size_t band, unsigned kinds) {
    for (size_t i = 0; i < plan->warning_count; i++)
        if (plan->warnings[i].band == band && (kinds & 1u << plan->warnings[i].kind) != 0)
            return true;
    return false;
}

/* ---- steps that are not as usual ---- */

static show_spot *add(marking *m, char mark, double along) {
    if (m->count == m->room)
        return NULL;
    show_spot *spot = &m->list[m->count++];
    *spot = (show_spot){.mark = mark, .band = m->index, .along = along, .from = along, .to = along};
    spot->at = bw_curve_at(m->guide, along).at;
    spot->edge_from = spot->edge_to = bw_profile_edge(m->profile, along);
    show_start(&spot->words);
    return spot;
}

/* A step laid behind the one that begins at `along`; over the end of a round at its start. */
static bw_felt next_felt(const marking *m, double along, const bw_felt *here, double *place) {
    const bw_run_plan *run = &m->band->runs[here->run];
    *place = along + here->step;
    if (*place > run->to - BW_EPS) {
        if (!run->closed)
            return *here;
        *place -= run->to - run->from;
    }
    return bw_profile_at(m->profile, *place);
}

static void add_jump(marking *m, double place, double from, double to) {
    show_spot *spot = add(m, 'J', place);
    if (!spot)
        return;
    show_words where;
    show_edge_place(&where, m->project, m->plan, spot->edge_from);
    show_say(&spot->words, "the step jumps from %s to %s, %s along the edge", show_length(m->project, from).text,
             show_length(m->project, to).text, show_edge_length(m->project, spot->edge_from).text);
    if (where.text[0])
        show_say(&spot->words, ", %s", where.text);
}

static void say_unusual(marking *m, show_spot *spot, double worst, double usual, double at) {
    double length = bw_curve_length(m->guide);
    bw_stretch stretch = {.edge_from = spot->edge_from, .edge_to = spot->edge_to, .edge_worst = at};
    show_say(&spot->words, "steps of %s, %s %s than the usual %s, ", show_length(m->project, worst).text,
             show_percent(fabs(worst - usual) / usual).text, worst > usual ? "longer" : "shorter",
             show_length(m->project, usual).text);
    if (spot->to - spot->from > length * SHOW_ALL_ALONG)
        show_say(&spot->words, "all along");
    else
        show_say_stretch(&spot->words, m->project, m->plan, &stretch);
}

static int samples_of(const marking *m) {
    return (int)fmin(20000, ceil(bw_curve_length(m->guide) / (m->band->usual / 2)));
}

static void end_unusual(marking *m, double from, double to, double worst, double worst_at) {
    show_spot *spot = add(m, 'u', worst_at);
    if (!spot)
        return;
    double at = spot->edge_from;
    spot->from = from;
    spot->to = to;
    spot->edge_from = bw_profile_edge(m->profile, spot->from);
    spot->edge_to = bw_profile_edge(m->profile, spot->to);
    say_unusual(m, spot, worst, m->band->usual, at);
}

/* Stretches of steps that are off the usual by more than passes unseen. */
static void add_unusual(marking *m) {
    double length = bw_curve_length(m->guide), usual = m->band->usual, from = -1, worst = 0, worst_at = 0, end = 0;
    int samples = samples_of(m), found = 0;
    for (int i = 0; i <= samples && found < VARIED_MOST; i++) {
        double along = length * i / samples;
        bw_felt here = i < samples ? bw_profile_at(m->profile, along) : (bw_felt){0};
        double off = here.step > 0 ? fabs(here.step - usual) : 0;
        if (off > BW_VISIBLE_CHANGE * usual + BW_EPS) {
            if (from < 0)
                from = along;
            if (worst <= 0 || off > fabs(worst - usual)) {
                worst = here.step;
                worst_at = along;
            }
            /* Behind its end the next run begins at another place of the edge. */
            end = fmin(along + here.step, m->band->runs[here.run].to - BW_EPS_FIT);
        } else if (from >= 0) {
            end_unusual(m, from, end, worst, worst_at);
            found++;
            from = -1;
            worst = 0;
        }
    }
}

/* Where one step is not as the next. */
static void add_jumps(marking *m) {
    double length = bw_curve_length(m->guide);
    int samples = samples_of(m), found = 0;
    bool jumping = false;
    for (int i = 0; i < samples && found < VARIED_MOST; i++) {
        double along = length * i / samples, next_at;
        bw_felt here = bw_profile_at(m->profile, along);
        if (here.step <= 0)
            continue;
        bw_felt next = next_felt(m, along, &here, &next_at);
        bool jump = next.step > 0 && fabs(next.step - here.step) > BW_VISIBLE_JUMP + BW_EPS;
        if (jump && !jumping) {
            add_jump(m, next_at, here.step, next.step);
            found++;
        }
        jumping = jump;
    }
}

static size_t varied_marks(const shop_project *project, const bw_plan *plan, size_t band, show_spot *list,
                           size_t room) {
    const unsigned kinds = 1u << BW_WARN_STRETCH | 1u << BW_WARN_JUMP;
    marking m = {.project = project, .plan = plan, .index = band, .list = list, .room = room};
    bw_curve *guide = NULL;
    m.band = &plan->bands[band];
    if (is_warned(plan, band, kinds) && m.band->usual > 0 && !m.band->guide_gone &&
        bw_guide_create(plan, band, NULL, &guide) == BW_OK && bw_curve_loops(guide) > 0 &&
        (m.profile = bw_plan_profile(plan, band)) != NULL) {
        m.guide = guide;
        if (is_warned(plan, band, 1u << BW_WARN_STRETCH))
            add_unusual(&m);
        if (is_warned(plan, band, 1u << BW_WARN_JUMP))
            add_jumps(&m);
    }
    bw_curve_destroy(guide);
    return m.count;
}

/* ---- all bands ---- */

/* Of a band that is not in hand only what is wrong is marked, not what is worth a look. */
static size_t only_faults(show_spot *list, size_t count) {
    size_t kept = 0;
    for (size_t i = 0; i < count; i++)
        if (strchr("SsTW", list[i].mark) == NULL)
            list[kept++] = list[i];
    return kept;
}

size_t show_marks(const shop_project *project, const bw_plan *plan, size_t in_hand, show_spot *list, size_t room) {
    const unsigned placed = 1u << BW_WARN_VERDICT | 1u << BW_WARN_BARE_STRIP | 1u << BW_WARN_STRETCH |
                            1u << BW_WARN_JUMP | 1u << BW_WARN_CORNER | 1u << BW_WARN_SPLIT;
    size_t count = 0;
    for (size_t i = 0; i <= plan->band_count; i++) {
        size_t band = i == 0 ? in_hand : i - 1;
        if (band >= plan->band_count || (i > 0 && (band == in_hand || !is_warned(plan, band, placed))))
            continue;
        size_t left = room - count, found = show_spots(project, plan, band, list + count, left);
        if (i > 0)
            found = only_faults(list + count, found);
        count += found;
        if (plan->bands[band].fill != BW_FILL_PLAIN)
            count += varied_marks(project, plan, band, list + count, room - count);
    }
    return count;
}
