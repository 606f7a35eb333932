/* The order of work, from the blank to the finish: only the steps that this piece needs. */
#include <math.h>
#include <stdlib.h>

#include "bandwright/blank.h"
#include "show/page.h"

static bool any_fill(const page *p, bw_fill fill) {
    for (size_t i = 0; i < p->plan->band_count; i++)
        if (p->plan->bands[i].fill == fill && p->plan->bands[i].strikes > 0)
            return true;
    return false;
}

static bool any_line(const page *p, bw_do what, bool beveled) {
    for (size_t i = 0; i < p->plan->line_count; i++)
        if (p->plan->lines[i].what == what && (!beveled || p->plan->lines[i].bevel != BW_BEVEL_NONE))
            return true;
    return false;
}

static void blank(page *p) {
    const bw_layout *l = &p->project->layout;
    if (!bw_curve_closed(p->plan->edge)) {
        page_step(p, l->outline.shape == BW_LINE ? "Make the edge straight and clean: the dividers ride on it."
                                                 : "Make the edge true and clean: the dividers ride on it.");
        return;
    }
    bw_blank size = bw_blank_of(l, p->plan);
    show_figure_text across = show_length(p->project, size.length), down = show_length(p->project, size.width);
    if (l->trim > 0)
        page_step(p,
                  "Cut a blank of %s by %s (%s to trim all round), then the piece itself: the dividers ride on "
                  "its finished edge.",
                  across.text, down.text, show_length(p->project, l->trim).text);
    else
        page_step(p, "Cut the piece from a blank of %s by %s; the dividers ride on its finished edge.", across.text,
                  down.text);
}

/* Band names with this fill, up to a few: "rim, weave". */
static void names_of(const page *p, bw_fill fill, show_words *out) {
    int told = 0;
    show_start(out);
    for (size_t i = 0; i < p->plan->band_count; i++)
        if (p->plan->bands[i].fill == fill && p->plan->bands[i].strikes > 0)
            show_say(out, "%s%s", told++ ? ", " : "", show_band_name(p->project, i));
}

static bool any_leaned(const page *p) {
    for (size_t i = 0; i < p->plan->band_count; i++)
        for (size_t r = 0; r < p->plan->bands[i].row_count; r++)
            if (p->plan->bands[i].rows[r].leaned)
                return true;
    return false;
}

static void stamping(page *p) {
    show_words names;
    if (any_fill(p, BW_FILL_BASKET)) {
        names_of(p, BW_FILL_BASKET, &names);
        page_step(p,
                  "Basket stamp (%s): strike the guide's round first, from its start; compare at %s, and put right "
                  "early, a quarter of the round ahead, never in the last three. Then the outer and inner rows, keyed "
                  "to it%s.",
                  names.text, p->check_marks ? "each check mark" : "a quarter, half and three quarters",
                  any_leaned(p) ? ", and last the leaned ones, tipped so that no tip prints on the border line" : "");
    }
    if (any_line(p, BW_DO_CUT, true))
        page_step(p, "Bevel the cut lines on the side given above.");
    if (any_fill(p, BW_FILL_BORDER)) {
        names_of(p, BW_FILL_BORDER, &names);
        page_step(p, "Border stamp (%s): from the start%s.", names.text,
                  p->check_marks ? " mark, comparing at the check marks" : "; compare halfway");
    }
}

static void finishing(page *p) {
    show_words names;
    if (any_fill(p, BW_FILL_STITCH)) {
        names_of(p, BW_FILL_STITCH, &names);
        page_step(p, "Stitches (%s): prick all holes lightly first, then punch and sew.", names.text);
    }
    page_step(p, "Dry it slowly and flat; dye, clean, finish; write down the step that came out.");
}

void page_work(page *p) {
    page_put(p, "", "");
    page_put(p, "", "ORDER OF WORK");
    blank(p);
    bool stamps = any_fill(p, BW_FILL_BASKET) || any_fill(p, BW_FILL_BORDER);
    if (stamps) {
        page_step(p, "Test strip on cased scrap of the same leather: strike each stamp along a line, measure across "
                     "ten, divide by ten; if that is not the usual step above, plan again.");
        page_step(p, "Case the leather: wet it, let it come back until it takes a clean print.");
    }
    if (p->plan->line_count > 0)
        page_step(p, "Set the dividers and make the lines above; guides only lightly, never cut.%s",
                  p->check_marks ? " Then the start mark and the check marks." : "");
    if (any_line(p, BW_DO_CUT, false)) {
        const bw_layout *l = &p->project->layout;
        if (isfinite(l->weight))
            page_step(p, "Swivel knife: cut the border lines %s to %s deep (a third to half).",
                      page_length(p, l->weight / 3).text, page_length(p, l->weight / 2).text);
        else
            page_step(p, "Swivel knife: cut the border lines, a third to half the thickness deep.");
    }
    stamping(p);
    finishing(p);
}
