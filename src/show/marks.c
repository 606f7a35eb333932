/* The marked places of all bands: those of the band in hand with what is worth a look there, those of the others where
 * something is wrong. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/inner.h"

enum { VARIED_MOST = 12, STEPS_MOST = 20000 }; /* marks of one kind in a band: more say no more; steps of a run */

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

static void add_unusual(marking *m, double from, double to, double worst, double worst_at) {
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

/* A walk along a run, step by step as they are laid. */
typedef struct pacing {
    marking *m;
    unsigned kinds;               /* of warnings that there are */
    double along, step;           /* the step before: where it begins; 0: none yet */
    double from, worst, worst_at; /* of the stretch that is open; worst 0: none is */
    int unusual, jumps;
} pacing;

/* Between two places where steps differ: where the later one begins to hold. */
static double change_between(const marking *m, double low, double high, double before, double after) {
    for (int i = 0; i < 12; i++) {
        double middle = (low + high) / 2, step = bw_profile_step(m->profile, middle).step;
        if (fabs(step - before) <= fabs(step - after))
            low = middle;
        else
            high = middle;
    }
    return high;
}

static void close_stretch(pacing *p, double to) {
    if (p->worst > 0 && (p->kinds & 1u << BW_WARN_STRETCH) != 0 && p->unusual++ < VARIED_MOST)
        add_unusual(p->m, p->from, to, p->worst, p->worst_at);
    p->worst = 0;
}

/* place: where this step's length begins to hold. */
static void take_step(pacing *p, double along, double step, double place) {
    double usual = p->m->band->usual, off = fabs(step - usual);
    if (p->step > 0 && fabs(step - p->step) > BW_VISIBLE_JUMP + BW_EPS && (p->kinds & 1u << BW_WARN_JUMP) != 0 &&
        p->jumps++ < VARIED_MOST)
        add_jump(p->m, place, p->step, step);
    if (off > BW_VISIBLE_CHANGE * usual + BW_EPS) {
        if (p->worst <= 0)
            p->from = place;
        if (p->worst <= 0 || off > fabs(p->worst - usual)) {
            p->worst = step;
            p->worst_at = along;
        }
    } else {
        close_stretch(p, place);
    }
    p->along = along;
    p->step = step;
}

/* Steps lost evenly or in the last few lie as their settings tell. */
static double pace_settings(pacing *p, const bw_run_plan *run) {
    double along = run->from;
    for (size_t i = 0; i < run->setting_count; i++) {
        take_step(p, along, run->settings[i].step, along);
        along += run->settings[i].steps * run->settings[i].step;
    }
    return run->settings[0].step;
}

/* Others as they are found where they are laid. */
static double pace_places(pacing *p, const bw_run_plan *run) {
    double first = 0, along = run->from;
    for (int i = 0; i < STEPS_MOST && along < run->to - BW_EPS_FIT; i++) {
        double step = bw_profile_step(p->m->profile, along).step, place = along;
        if (step <= 0)
            break;
        first = first > 0 ? first : step;
        if (p->step > 0 && fabs(step - p->step) > SHOW_NOTHING)
            place = change_between(p->m, p->along, along, p->step, step);
        take_step(p, along, step, place);
        along += step;
    }
    return first;
}

/* Stretches of steps that are off the usual by more than passes unseen, and places where one step is not as the next.
 */
static void pace_run(pacing *p, const bw_run_plan *run) {
    bool told = run->setting_count > 0 && (run->lose == BW_LOSE_EVEN || run->lose == BW_LOSE_LAST);
    for (size_t i = 0; told && i < run->setting_count; i++)
        told = run->settings[i].where == BW_WHERE_STEPS;
    p->step = p->worst = 0;
    double first = told ? pace_settings(p, run) : pace_places(p, run);
    close_stretch(p, run->to - BW_EPS_FIT); /* behind its end the next run begins at another place of the edge */
    if (run->closed && fabs(p->step - first) > BW_VISIBLE_JUMP + BW_EPS && (p->kinds & 1u << BW_WARN_JUMP) != 0)
        add_jump(p->m, run->from, p->step, first);
}

static size_t varied_marks(const shop_project *project, const bw_plan *plan, size_t band, show_spot *list,
                           size_t room) {
    marking m = {.project = project, .plan = plan, .index = band, .list = list, .room = room};
    pacing p = {.m = &m};
    bw_curve *guide = NULL;
    m.band = &plan->bands[band];
    for (size_t i = 0; i < plan->warning_count; i++)
        p.kinds |= plan->warnings[i].band == band ? 1u << plan->warnings[i].kind : 0;
    if ((p.kinds & (1u << BW_WARN_STRETCH | 1u << BW_WARN_JUMP)) != 0 && m.band->usual > 0 && !m.band->guide_gone &&
        bw_guide_create(plan, band, NULL, &guide) == BW_OK && bw_curve_loops(guide) > 0 &&
        (m.profile = bw_plan_profile(plan, band)) != NULL) {
        m.guide = guide;
        for (size_t r = 0; r < m.band->run_count; r++)
            if (m.band->runs[r].count > 0)
                pace_run(&p, &m.band->runs[r]);
    }
    bw_curve_destroy(guide);
    return m.count;
}

/* ---- all bands ---- */

static bool is_placed(const bw_plan *plan, size_t band, bool brief) {
    const unsigned fails = 1u << BW_WARN_VERDICT, placed = fails | 1u << BW_WARN_BARE_STRIP | 1u << BW_WARN_STRETCH |
                                                           1u << BW_WARN_JUMP | 1u << BW_WARN_CORNER |
                                                           1u << BW_WARN_SPLIT;
    return is_warned(plan, band, brief ? fails : placed);
}

/* ---- what is found is kept ---- */

typedef enum mark_part { SPOTS, FAULTS, VARIED, PARTS } mark_part;

typedef struct band_marks {
    show_spot *list;
    size_t count;
    bool made;
} band_marks;

/* Kept with the plan, so that marks are found once and not at every key. Not for several threads at once. */
typedef struct kept_marks {
    const shop_project *project; /* in whose words they are told */
    shop_unit units;
    size_t band_count;
    band_marks bands[][PARTS];
} kept_marks;

static void forget(void *made) {
    kept_marks *kept = made;
    for (size_t i = 0; i < kept->band_count; i++)
        for (int part = 0; part < PARTS; part++)
            free(kept->bands[i][part].list);
    free(kept);
}

static kept_marks *marks_new(const shop_project *project, const bw_plan *plan) {
    kept_marks *made = calloc(1, sizeof *made + plan->band_count * sizeof made->bands[0]);
    if (made) {
        made->project = project;
        made->units = project->units;
        made->band_count = plan->band_count;
    }
    return made;
}

/* What the plan keeps, if it is told in these words; else *own is made, to be forgotten by the caller. */
static kept_marks *marks_kept(const shop_project *project, const bw_plan *plan, kept_marks **own) {
    kept_marks *kept = bw_plan_keepsake(plan);
    *own = NULL;
    if (kept && kept->project == project && kept->units == project->units)
        return kept;
    kept_marks *made = marks_new(project, plan);
    if (kept || !made || bw_plan_keep(plan, made, forget) != made)
        *own = made;
    return made;
}

static size_t part_of(kept_marks *kept, mark_part part, const bw_plan *plan, size_t band, show_spot *list,
                      size_t room) {
    band_marks *m = &kept->bands[band][part];
    show_spot *found = m->made ? NULL : calloc(SHOW_MARKS_MOST, sizeof *found);
    if (found) {
        m->made = true;
        m->count = (part == SPOTS    ? show_spots
                    : part == FAULTS ? show_faults
                                     : varied_marks)(kept->project, plan, band, found, SHOW_MARKS_MOST);
        m->list = m->count > 0 ? realloc(found, m->count * sizeof *found) : NULL;
        m->list = m->count > 0 && !m->list ? found : m->list;
        if (m->count == 0)
            free(found);
    }
    size_t count = m->count < room ? m->count : room;
    if (count > 0)
        memcpy(list, m->list, count * sizeof *list);
    return count;
}

static size_t gather(const shop_project *project, const bw_plan *plan, size_t in_hand, bool brief, show_spot *list,
                     size_t room) {
    kept_marks *own, *kept = marks_kept(project, plan, &own);
    size_t count = 0;
    for (size_t i = 0; kept && i <= plan->band_count && count < room; i++) {
        size_t band = i == 0 ? in_hand : i - 1;
        if (band >= plan->band_count || (i > 0 && (band == in_hand || !is_placed(plan, band, brief))))
            continue;
        /* Of a band that is not in hand only what is wrong is marked, not what is worth a look. */
        count += part_of(kept, i > 0 ? FAULTS : SPOTS, plan, band, list + count, room - count);
        if ((!brief || i == 0) && plan->bands[band].fill != BW_FILL_PLAIN)
            count += part_of(kept, VARIED, plan, band, list + count, room - count);
    }
    if (own)
        forget(own);
    return count;
}

size_t show_marks(const shop_project *project, const bw_plan *plan, size_t in_hand, show_spot *list, size_t room) {
    return gather(project, plan, in_hand, false, list, room);
}

size_t show_marks_brief(const shop_project *project, const bw_plan *plan, size_t in_hand, show_spot *list,
                        size_t room) {
    return gather(project, plan, in_hand, true, list, room);
}
