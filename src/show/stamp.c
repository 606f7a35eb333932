/* Which stamp would do for a band: one size of it changed, all else kept. */
#include <math.h>

#include "bandwright/stamp.h"
#include "show/inner.h"

/* "7.2 mm to 9.4 mm": what lies just inside, as fine as stamps are measured. */
static void say_lengths(show_words *out, const shop_project *project, const bw_span *span) {
    bool narrow = span->most - span->least < 2 * show_step_grid(project);
    show_figure_text least = narrow ? show_length(project, span->least) : show_length_up(project, span->least);
    show_figure_text most = narrow ? show_length(project, span->most) : show_length_down(project, span->most);
    if (span->below && span->above)
        show_say(out, "any");
    else if (span->below)
        show_say(out, "up to %s", most.text);
    else if (span->above)
        show_say(out, "%s or more", least.text);
    else
        show_say(out, "%s to %s", least.text, most.text);
}

static void say_shares(show_words *out, const bw_span *span) {
    bool narrow = span->most - span->least < 0.02;
    double least = narrow ? span->least : ceil(100 * span->least) / 100;
    double most = narrow ? span->most : floor(100 * span->most) / 100;
    if (span->below && span->above)
        show_say(out, "any share of it");
    else if (span->below)
        show_say(out, "up to %s of it", show_percent(most).text);
    else if (span->above)
        show_say(out, "%s of it or more", show_percent(least).text);
    else
        show_say(out, "%s to %s of it", show_percent(least).text, show_percent(most).text);
}

const char *show_stamp_sentence(show_words *out, const shop_project *project, const bw_plan *plan, size_t band) {
    const bw_stamp *stamp = bw_plan_stamp(&project->layout, plan, band);
    show_start(out);
    if (stamp == NULL)
        return out->text;
    bool basket = plan->bands[band].fill == BW_FILL_BASKET, stitch = plan->bands[band].fill == BW_FILL_STITCH;
    show_say(out, "what would do, one size changed and all else kept: %s ", stitch ? "pitch" : "length");
    if (stamp->length.any)
        say_lengths(out, project, &stamp->length);
    else
        show_say(out, "none");
    if (basket) {
        show_say(out, "; each leg ");
        if (stamp->leg.any)
            say_shares(out, &stamp->leg);
        else
            show_say(out, "none");
        show_say(out, "; rail ");
        if (stamp->rail.any)
            say_lengths(out, project, &stamp->rail);
        else
            show_say(out, "none");
    }
    return out->text;
}
