#include "maths/warn.h"

#include <math.h>

#include "bandwright/hand.h"

static bool stretched(const bw_band_plan *b) {
    for (size_t r = 0; r < b->run_count; r++)
        for (size_t i = 0; i < b->runs[r].setting_count; i++)
            if (fabs(b->runs[r].settings[i].step - b->usual) > BW_VISIBLE_CHANGE * b->usual + BW_EPS)
                return true;
    return false;
}

static bool jumps(const bw_band_plan *b) {
    for (size_t r = 0; r < b->run_count; r++) {
        const bw_run_plan *run = &b->runs[r];
        for (size_t i = 0; i < run->setting_count; i++) {
            bool last = i + 1 == run->setting_count;
            const bw_setting *next = &run->settings[last ? 0 : i + 1];
            if ((!last || run->closed) && fabs(run->settings[i].step - next->step) > BW_VISIBLE_JUMP + BW_EPS)
                return true;
        }
    }
    return false;
}

static bool wanted_another(const bw_band_plan *b) {
    for (size_t r = 0; r < b->run_count; r++)
        if (b->runs[r].wanted > 0)
            return true;
    return false;
}

static bool fell_back(const bw_band_plan *b) {
    for (size_t r = 0; r < b->run_count; r++)
        if (b->runs[r].fell_back)
            return true;
    return false;
}

static bool misses(const bw_band_plan *b) {
    for (size_t i = 0; i < b->line_count; i++)
        if (b->lines[i].miss > b->face.rail / 2 + BW_EPS)
            return true;
    return false;
}

/* A line that is listed, in several loops. */
static bool splits(const bw_band_plan *b, const bw_band *band, const maths_worked *work) {
    return (band->outer.line != BW_MARK_NONE && work->outer->loops > 1) || b->guide_loops > 1 ||
           (band->inner.line != BW_MARK_NONE && work->inner->loops > 1);
}

/* A measured step that the face's own geometry does not allow. */
static bool steps_off_face(const bw_tool *tool, const bw_face *face) {
    double steps[] = {tool->closest, tool->usual, tool->widest, NAN, NAN, NAN};
    if (tool->off_strips != 0) { /* those that were left out, too */
        bw_hand hand = bw_tool_hand(tool, BW_RULE_MM);
        steps[3] = hand.closest.value;
        steps[4] = hand.usual.value;
        steps[5] = hand.widest.value;
    }
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++)
        if (steps[i] < face->length - face->leg - BW_EPS || steps[i] > face->length + BW_EPS) /* false for NAN */
            return true;
    return false;
}

void maths_warn(bw_plan *plan, const bw_layout *layout, const maths_worked *work, size_t band) {
    const bw_band_plan *b = &plan->bands[band];
    const bw_tool *tool = b->fill == BW_FILL_PLAIN ? NULL : &layout->tools[work->band->tool];
    bool basket = b->fill == BW_FILL_BASKET, bare_matters = basket || b->fill == BW_FILL_BORDER;
    const bool holds[MATHS_WARNINGS_A_BAND] = {
        [BW_WARN_VERDICT] = b->fit.verdict < BW_TIGHT,
        [BW_WARN_BARE_STRIP] = bare_matters && fmax(b->bare_outer, b->bare_inner) > BW_BARE_NOTED + BW_EPS,
        [BW_WARN_STRETCH] = stretched(b),
        [BW_WARN_JUMP] = jumps(b),
        [BW_WARN_WANTED_COUNT] = wanted_another(b),
        [BW_WARN_NARROW] = basket && work->rows.guide_row_leaned,
        [BW_WARN_MISS] = misses(b),
        [BW_WARN_CORNER] = work->guide.cut,
        [BW_WARN_SPLIT] = splits(b, work->band, work),
        [BW_WARN_FALLBACK] = fell_back(b),
        [BW_WARN_FACE_OUT] = b->fill == BW_FILL_BORDER && work->rows.face_out,
        [BW_WARN_STEPS_FACE] = tool != NULL && (tool->off_strips != 0 || (basket && steps_off_face(tool, &b->face))),
        [BW_WARN_ESTIMATED] = basket && (b->face.estimated_width || b->face.estimated_bar || b->face.estimated_rail),
    };
    for (int kind = 0; kind < MATHS_WARNINGS_A_BAND; kind++)
        if (holds[kind])
            plan->warnings[plan->warning_count++] = (bw_warning){band, (bw_warning_kind)kind};
}
