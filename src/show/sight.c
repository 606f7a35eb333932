/* How closely something is looked at: round scales one after the other, and the scale in words. */
#include <math.h>
#include <stdio.h>

#include "show/inner.h"

#define CLOSEST 0.05 /* mm of a cell: twenty cells a millimetre, far finer than a hand strikes */

/* 1, 2, 5, 10 ...; in inches 1, 1/2, 1/4 ... and their doubles. */
static double rung(const shop_project *project, int number) {
    static const double parts[] = {1, 2, 5};
    if (project->units == SHOP_INCH)
        return ldexp(BW_MM_PER_INCH, number);
    int decade = (int)floor(number / 3.0);
    return parts[number - decade * 3] * pow(10, decade);
}

bool show_sight_scale(const shop_project *project, show_sight *sight, bool closer) {
    double now = sight->scale > 0 ? sight->scale : sight->whole;
    if (!(now > 0) || (!closer && sight->scale <= 0))
        return false;
    int number = -40;
    while (rung(project, number) < now * (closer ? 1 - BW_EPS_FIT : 1 + BW_EPS_FIT))
        number++;
    double next = rung(project, closer ? number - 1 : number);
    if (next < CLOSEST)
        return false;
    sight->scale = next >= sight->whole ? 0 : next;
    return true;
}

const char *show_scale_words(show_words *out, const shop_project *project, const show_sight *sight, double aspect) {
    bool inch = project->units == SHOP_INCH;
    double unit = inch ? BW_MM_PER_INCH : 1;
    show_start(out);
    const char *name = inch ? "in" : "mm";
    if (sight->drawn > 0 && aspect > 0)
        show_say(out, "1 cell = %.3g %s across, %.3g %s up", sight->drawn / unit, name, sight->drawn * aspect / unit,
                 name);
    else if (sight->drawn > 0)
        show_say(out, "1 cell = %.3g %s along", sight->drawn / unit, name);
    return out->text;
}

const char *show_scale_brief(show_words *out, const shop_project *project, const show_sight *sight) {
    bool inch = project->units == SHOP_INCH;
    show_start(out);
    if (sight->rows_only)
        show_say(out, sight->rows_merge ? "merged, " : "rows, ");
    if (sight->drawn > 0)
        show_say(out, "%.3g %s/cell", sight->drawn / (inch ? BW_MM_PER_INCH : 1), inch ? "in" : "mm");
    return out->text;
}
