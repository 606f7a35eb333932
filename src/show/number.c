/* Numbers: at full precision for files, rounded to what a hand can set for people. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "show/inner.h"

#define STEP_GRID_MM 0.1 /* steps are set to a tenth of a millimetre, or 1/64 in: common practice */

/* YAML 1.1 and 1.2 both take a number with a point and a signed exponent for a float, and nothing less. */
static void add_point(char *text, size_t room) {
    if (strchr(text, '.'))
        return;
    char rest[16] = "";
    char *exponent = strchr(text, 'e');
    if (exponent) {
        snprintf(rest, sizeof rest, "%s", exponent);
        *exponent = '\0';
    }
    size_t length = strlen(text);
    snprintf(text + length, room - length, ".0%s", rest);
}

show_figure_text show_number(double value) {
    show_figure_text out;
    if (isnan(value)) {
        strcpy(out.text, ".nan");
    } else if (isinf(value)) {
        strcpy(out.text, value > 0 ? ".inf" : "-.inf");
    } else if (value == 0) {
        strcpy(out.text, "0.0"); /* never -0.0 */
    } else {
        for (int digits = 15; digits <= 17; digits++) {
            snprintf(out.text, sizeof out.text, "%.*g", digits, value);
            if (strtod(out.text, NULL) == value)
                break; /* our own digits, in the C numeric locale */
        }
        add_point(out.text, sizeof out.text);
    }
    return out;
}

static void cut_zeros(char *text) {
    size_t length = strlen(text);
    if (!strchr(text, '.'))
        return;
    while (text[length - 1] == '0')
        text[--length] = '\0';
    if (text[length - 1] == '.')
        text[length - 1] = '\0';
}

show_figure_text show_length(const shop_project *project, double mm) {
    show_figure_text out;
    if (isfinite(mm))
        shop_show_length(mm, project->units, out.text, sizeof out.text);
    else
        strcpy(out.text, "without end");
    return out;
}

show_figure_text show_difference(const shop_project *project, double mm) {
    bool inch = project->units == SHOP_INCH;
    double value = fabs(inch ? mm / BW_MM_PER_INCH : mm);
    show_figure_text out;
    snprintf(out.text, sizeof out.text, inch ? "%.3f" : "%.2f", value);
    cut_zeros(out.text);
    strcat(out.text, inch ? " in" : " mm");
    return out;
}

show_figure_text show_change(const shop_project *project, double mm) {
    show_figure_text out = show_difference(project, mm);
    if (strncmp(out.text, "0 ", 2) == 0)
        strcpy(out.text, project->units == SHOP_INCH ? "under 0.001 in" : "under 0.01 mm");
    return out;
}

show_figure_text show_apart(const shop_project *project, double mm, double from) {
    show_figure_text other = show_length(project, from), out = show_length(project, mm);
    bool inch = project->units == SHOP_INCH, same = strcmp(out.text, other.text) == 0;
    for (int digits = inch ? 3 : 2; digits < 6 && same && fabs(mm - from) >= SHOW_NOTHING; digits++) {
        double parts = pow(10, digits), unit = inch ? BW_MM_PER_INCH : 1;
        snprintf(out.text, sizeof out.text, "%.*f", digits, mm / unit);
        cut_zeros(out.text);
        strcat(out.text, inch ? " in" : " mm");
        same = round(mm / unit * parts) == round(from / unit * parts);
    }
    return out;
}

show_figure_text show_over(const shop_project *project, double mm, double most) {
    show_figure_text limit = show_difference(project, most), out = show_difference(project, mm);
    bool inch = project->units == SHOP_INCH;
    double value = inch ? mm / BW_MM_PER_INCH : mm;
    for (int digits = inch ? 4 : 3; digits < 7 && mm > most && strcmp(out.text, limit.text) == 0; digits++) {
        snprintf(out.text, sizeof out.text, "%.*f", digits, value);
        cut_zeros(out.text);
        strcat(out.text, inch ? " in" : " mm");
    }
    return out;
}

show_figure_text show_signed(const shop_project *project, double mm) {
    show_figure_text text = show_difference(project, mm), out;
    const char *sign = text.text[0] == '0' && text.text[1] == ' ' ? "" : mm > 0 ? "+" : "-";
    snprintf(out.text, sizeof out.text, "%s%.40s", sign, text.text);
    return out;
}

show_figure_text show_percent(double share) {
    show_figure_text out;
    snprintf(out.text, sizeof out.text, fabs(share) < 0.0995 ? "%.1f" : "%.0f", share * 100.0);
    cut_zeros(out.text);
    strcat(out.text, " %");
    return out;
}

double show_nothing(const shop_project *project) {
    return project->units == SHOP_INCH ? 0.0005 * BW_MM_PER_INCH : SHOW_NOTHING;
}

show_figure_text show_counted(long long count, const char *word) {
    show_figure_text out;
    snprintf(out.text, sizeof out.text, "%lld %s%s", count, word, count == 1 ? "" : "s");
    return out;
}

double show_step_grid(const shop_project *project) {
    return project->units == SHOP_INCH ? BW_GRID_INCH : STEP_GRID_MM;
}
