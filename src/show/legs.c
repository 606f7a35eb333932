/* Legs and limits. The margins count from measured steps where a stamp has them; legs themselves know the face only. */
#include "show/legs.h"

#include <math.h>

#define LEN(mm) (show_length(project, mm).text)
#define DIFF(mm) (show_difference(project, mm).text)

bool show_limit_measured(const bw_band_plan *band, bool widest) {
    const bw_face *f = &band->face;
    if (band->fill != BW_FILL_BASKET || !band->measured)
        return false;
    double limit = (widest ? band->most : band->least) * cos(band->turn);
    return fabs(limit - (widest ? f->length : f->length - f->leg)) > BW_EPS_FIT;
}

const char *show_limit_source(const bw_band_plan *band, bool widest) {
    return show_limit_measured(band, widest) ? "measured" : "by the face";
}

double show_legs(const bw_band_plan *band, double step) {
    return band->face.length - step * cos(band->turn);
}

double show_legs_share(const bw_band_plan *band, double step) {
    return show_legs(band, step) / band->face.leg;
}

const char *show_passed(const bw_band_plan *band, bool widest) {
    bool measured = show_limit_measured(band, widest);
    if (widest)
        return measured ? "steps are longer than the widest measured" : "legs miss each other";
    return measured ? "steps are shorter than the closest measured" : "legs ride on the bars";
}

void show_say_passed(show_words *out, const shop_project *project, const bw_band_plan *band, bool widest, double by,
                     int line) {
    double limit = widest ? band->most : band->least, over = fabs(by);
    if (!show_limit_measured(band, widest))
        show_say(out, "%s by %s %s", show_passed(band, widest), show_change(project, over).text, show_line_place(line));
    else
        show_say(out, "steps of %s %s %s are %s %s measured for this stamp (%s)", widest ? "up to" : "down to",
                 DIFF(widest ? limit + over : limit - over), show_line_place(line), show_change(project, over).text,
                 widest ? "over the widest" : "under the closest", DIFF(limit));
}

static void say_reach(show_words *out, const shop_project *project, const bw_band_plan *band, const show_kept *kept) {
    const char *only = kept->few_reach ? "only " : "", *place = kept->no_place ? "" : show_line_place(kept->reach_line);
    const char *space = kept->no_place ? "" : " ";
    if (show_limit_measured(band, true))
        show_say(out, "steps of up to %s%s%s keep %s%s inside the widest measured for this stamp (%s)",
                 DIFF(band->most - kept->reach), space, place, only, DIFF(kept->reach), DIFF(band->most));
    else
        show_say(out, "legs overlap by %s%s%s%s", only, DIFF(kept->reach), space, place);
}

void show_say_kept(show_words *out, const shop_project *project, const bw_band_plan *band, const show_kept *kept) {
    const char *only = kept->few_crowd ? "only " : "", *place = show_line_place(kept->crowd_line);
    say_reach(out, project, band, kept);
    if (kept->no_crowd)
        return;
    if (show_limit_measured(band, false))
        show_say(out, ", and steps of %s %s keep %s%s over the closest measured (%s)", DIFF(band->least + kept->crowd),
                 place, only, DIFF(kept->crowd), DIFF(band->least));
    else
        show_say(out, ", and%s keep %s%s off the bars %s", show_limit_measured(band, true) ? " legs" : "", only,
                 DIFF(kept->crowd), place);
}

const char *show_margin_words(show_words *out, const shop_project *project, const bw_band_plan *band, bool widest) {
    const bw_fit *fit = &band->fit;
    const char *place = show_line_place(widest ? fit->reach_line : fit->crowd_line);
    const char *good = "0 is the limit, from 0.15 on is good.";
    bool measured = show_limit_measured(band, widest);
    show_figure_text kept = show_signed(project, widest ? fit->reach_mm : fit->crowd_mm);
    show_start(out);
    show_say(out, "How far the fit is from %s",
             measured ? widest ? "steps over the widest measured" : "steps under the closest measured"
             : widest ? "legs that miss each other"
                      : "legs that ride on bars");
    if (!widest && !band->turns)
        show_say(out, ": on flat work that never turns %s, so it is 1 until they %s.",
                 measured ? "steps may go down to it" : "they may lie up to the bar",
                 measured ? "pass it" : "ride on it");
    else if (measured)
        show_say(out, ", worst %s: there %s is left to it, %s; %s", place, kept.text,
                 DIFF(widest ? band->most : band->least), good);
    else
        show_say(out,
                 widest ? ", worst %s: there they overlap by %s of %s; %s"
                        : ", worst %s: there %s of %s is left to the bar; %s",
                 place, kept.text, LEN(band->face.leg), good);
    return out->text;
}
