/* What a tool's own strips give it. */
#include <math.h>

#include "bandwright/hand.h"

static bool has_steps(const bw_tool *tool) {
    return (tool->kind == BW_BASKET || tool->kind == BW_BORDER || tool->kind == BW_IRON) &&
           !isnan(bw_tool_face(tool).length);
}

double bw_face_step(const bw_tool *tool) {
    bw_face face = bw_tool_face(tool);
    double overlap = isnan(tool->overlap) ? BW_USUAL_OVERLAP : tool->overlap;
    if (!has_steps(tool))
        return NAN;
    return tool->kind == BW_BASKET ? face.length - overlap * face.leg : face.length;
}

double bw_step_in_use(const bw_tool *tool, bw_how how) {
    bw_steps steps = bw_tool_steps(tool);
    if (!has_steps(tool))
        return NAN;
    return how == BW_STRUCK_CLOSEST  ? steps.closest
           : how == BW_STRUCK_WIDEST ? steps.widest
           : isnan(steps.usual)      ? bw_face_step(tool)
                                     : steps.usual;
}

bool bw_step_can_be(const bw_tool *tool, double step, double *least, double *most) {
    bw_tool face = *tool;
    face.closest = face.usual = face.widest = (double)NAN;
    bw_steps steps = bw_tool_steps(&face);
    *least = steps.closest / BW_STEP_SLIP;
    *most = steps.widest * BW_STEP_SLIP;
    return step >= *least - BW_EPS && step <= *most + BW_EPS;
}

bw_hand bw_tool_hand(const bw_tool *tool, double rule) {
    return bw_hand_of(tool->strips, tool->strip_count, rule);
}

/* closest < usual < widest, with what follows from the face. */
static bool in_order(const bw_tool *tool) {
    bw_steps steps = bw_tool_steps(tool);
    return steps.closest < steps.widest && !(steps.closest >= steps.usual) && !(steps.usual >= steps.widest);
}

static double *step_of(bw_tool *tool, bw_how how) {
    return how == BW_STRUCK_CLOSEST ? &tool->closest : how == BW_STRUCK_WIDEST ? &tool->widest : &tool->usual;
}

void bw_tool_take_strips(bw_tool *tool) {
    static const bw_how order[] = {BW_STRUCK_WIDEST, BW_STRUCK_CLOSEST, BW_STRUCK_USUAL};
    for (int i = 0; i < BW_STRUCK_COUNT; i++) /* what an earlier look at them filled in */
        if (tool->from_strips & 1u << order[i])
            *step_of(tool, order[i]) = NAN;
    tool->from_strips = tool->off_strips = 0;
    if (tool->strip_count == 0 || !has_steps(tool))
        return;
    bw_hand hand = bw_tool_hand(tool, BW_RULE_MM);
    const double measured[] = {[BW_STRUCK_USUAL] = hand.usual.value,
                               [BW_STRUCK_CLOSEST] = hand.closest.value,
                               [BW_STRUCK_WIDEST] = hand.widest.value};
    bw_tool all = *tool;
    for (int i = 0; i < BW_STRUCK_COUNT; i++)
        if (isnan(*step_of(&all, order[i])))
            *step_of(&all, order[i]) = measured[order[i]];
    bool whole = in_order(&all);
    for (int i = 0; i < BW_STRUCK_COUNT; i++) { /* the limits first: the usual step lies between them */
        double *step = step_of(tool, order[i]);
        if (!isnan(*step) || isnan(measured[order[i]]))
            continue;
        *step = measured[order[i]];
        bool fits = whole || in_order(tool);
        *(fits ? &tool->from_strips : &tool->off_strips) |= 1u << order[i];
        if (!fits)
            *step = NAN;
    }
}
