/* What is said of the part of a round that is struck, of a measure that can hardly be, and of the check marks for what
 * is left. */
#include <math.h>
#include <string.h>

#include "show/inner.h"
#include "show/legs.h"
#include "show/round.h"

static void say_passed(show_words *out, const shop_project *project, const bw_band_plan *band, bool widest, double by,
                       int line) {
    if (band->fill == BW_FILL_BASKET)
        show_say_passed(out, project, band, widest, by, line);
    else
        show_say(out, "steps are too %s for the tool by %s on the guide", widest ? "long" : "short",
                 show_change(project, by).text);
}

void show_say_misfit(show_words *out, const shop_project *project, const bw_band_plan *band, const bw_rest_count *one) {
    bool opens = one->reach < -BW_EPS, crowds = one->crowd < -BW_EPS;
    if (opens)
        say_passed(out, project, band, true, -one->reach_mm, one->reach_line);
    if (opens && crowds)
        show_say(out, ", and ");
    if (crowds)
        say_passed(out, project, band, false, -one->crowd_mm, one->crowd_line);
}

static const char *row_words(int outer, int inner) {
    return outer > 0 && inner > 0 ? "the outermost and innermost rows"
           : outer > 0            ? outer > 1 ? "the outermost rows" : "the outermost row"
           : inner > 1            ? "the innermost rows"
                                  : "the innermost row";
}

const char *show_rest_struck(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest,
                             bool brief) {
    const bw_rest_count *worst = &rest->worst;
    const bw_band_plan *band = &plan->bands[rest->band];
    show_start(out);
    if (rest->part.works || rest->doubtful)
        return out->text;
    show_say(out, "For the part struck");
    if (band->run_count > 1)
        show_say(out, " of run %zu", rest->run + 1);
    show_say(out, ": no, ");
    if (worst->steps < rest->part.steps)
        show_say(out, "from %d to %d, ", rest->worst_from, rest->worst_to);
    show_say(out, "at %s on the mean ", show_length(project, worst->step).text);
    show_say_misfit(out, project, band, worst);
    show_say(out, ".");
    if (!brief && band->fill == BW_FILL_BASKET && worst->leave_outer >= 0)
        show_say(
            out,
            " Without %s it holds: leave %s out there, with a border stamp on the bare strip, or try such steps on "
            "scrap before you begin the next row.",
            row_words(worst->leave_outer, worst->leave_inner),
            worst->leave_outer + worst->leave_inner > 1 ? "them" : "it");
    return out->text;
}

const char *show_rest_doubt(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest) {
    show_start(out);
    if (!rest->doubtful)
        return out->text;
    if (rest->struck == 1) {
        show_say(out, "Measure again: after the first impression all of %s is left.",
                 show_length(project, rest->mean_found).text);
        return out->text;
    }
    bool since = rest->told_at > 0 && rest->mean_found == rest->since_step;
    show_say(out, "Count again and measure again: %d struck", since ? rest->struck - rest->told_at : rest->struck);
    if (since)
        show_say(out, " since the measure after %d", rest->told_at);
    show_say(out, " and %s left would be steps of %s on the mean", show_length(project, rest->left).text,
             show_length(project, rest->mean_found).text);
    show_say(out, "; with this tool they lie between %s and %s.", show_length(project, rest->mean_least).text,
             show_length(project, rest->mean_most).text);
    if (rest->by_plan != rest->struck && rest->by_plan <= plan->bands[rest->band].runs[rest->run].count)
        show_say(out, " The plan has as much left after %d.", rest->by_plan);
    return out->text;
}

/* ---- check marks ---- */

int show_rest_marks_of(const bw_plan *plan, const bw_rest *rest, size_t index, bw_check_mark list[SHOW_REST_MARKS]) {
    int steps = rest->counts[index].steps, marks = SHOW_REST_MARKS - 1;
    if (steps < 2 * SHOW_REST_MARKS)
        marks = steps >= SHOW_REST_MARKS ? 1 : 0;
    return bw_rest_marks(plan, rest, index, marks, NULL, list) == BW_OK ? marks : 0;
}

const char *show_rest_marks(show_words *out, const shop_project *project, const bw_plan *plan, const bw_rest *rest,
                            size_t index) {
    const bw_rest_count *one = &rest->counts[index];
    bw_check_mark list[SHOW_REST_MARKS];
    const char *what = plan->bands[rest->band].fill == BW_FILL_STITCH ? "hole" : "impression";
    show_start(out);
    if (!one->works || one->as_planned || one->steps < 2 || rest->doubtful)
        return out->text;
    int marks = show_rest_marks_of(plan, rest, index, list);
    show_say(out, "Check marks made before hold no more.");
    for (int i = 0; i < marks; i++) {
        if (i == 0)
            show_say(out, " New, from the middle of %s %d to where the middle of the next one lies: ", what,
                     rest->struck);
        show_say(out, "%safter %d, %s along", i == 0 ? "" : "; ", list[i].after,
                 show_length(project, list[i].along).text);
    }
    for (int i = 0; i < marks; i++)
        show_say(out, "%s%s", i == 0 ? "; straight, each from the one before: " : ", ",
                 show_length(project, list[i].across).text);
    if (marks > 0)
        show_say(out, ".");
    return out->text;
}
