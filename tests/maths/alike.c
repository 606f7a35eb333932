/* alike.c - two whole plans held against each other. */
#include "maths/alike.h"

#include <check.h>
#include <math.h>

static const char *subject;
static size_t band_number;

static void number(const char *figure, double one, double other, double within) {
    bool same = one == other || (isnan(one) && isnan(other)) || fabs(one - other) <= within;
    ck_assert_msg(same, "%s, band %zu: %s %.12g and %.12g", subject, band_number, figure, one, other);
}

static void count(const char *figure, long long one, long long other) {
    ck_assert_msg(one == other, "%s, band %zu: %s %lld and %lld", subject, band_number, figure, one, other);
}

/* As shares of themselves; INFINITY where nothing curves, NAN where there is nothing. */
static void radius(const char *figure, double one, double other, double share) {
    number(figure, one, other, share * fabs(one));
}

/* Margins so near to where a verdict changes may fall on either side of it. */
static bool on_limit(double reach, double crowd, double bend, double within) {
    double margins[] = {reach, crowd, bend};
    bool on = false;
    for (int i = 0; i < 3; i++)
        on = on || fabs(margins[i]) <= within || fabs(margins[i] - BW_GOOD_MARGIN) <= within;
    return on;
}

static void alike_runs(const bw_band_plan *a, const bw_band_plan *b, alike_within w) {
    count("runs", (long long)a->run_count, (long long)b->run_count);
    for (size_t i = 0; i < a->run_count; i++) {
        const bw_run_plan *p = &a->runs[i], *q = &b->runs[i];
        count("closed", p->closed, q->closed);
        count("impressions", p->count, q->count);
        count("least feasible", p->feasible_least, q->feasible_least);
        count("most feasible", p->feasible_most, q->feasible_most);
        count("fell back", p->fell_back, q->fell_back);
        count("wanted", p->wanted, q->wanted);
        if (!on_limit(p->reach, p->crowd, p->bend, w.share))
            count("verdict of a run", (long long)p->verdict, (long long)q->verdict);
        number("run from", p->from, q->from, w.length);
        number("run to", p->to, q->to, w.length);
        number("step", p->step, q->step, w.length / 100);
        number("usual step", p->usual_step, q->usual_step, 1e-9);
        number("closure gap", p->closure_gap, q->closure_gap, w.length);
        count("even-at", p->has_even_at, q->has_even_at);
        number("guide shift", p->has_even_at ? p->guide_shift : 0, q->has_even_at ? q->guide_shift : 0, w.length);
        count("settings", (long long)p->setting_count, (long long)q->setting_count);
        for (size_t k = 0; k < p->setting_count; k++) {
            count("steps of a setting", p->settings[k].steps, q->settings[k].steps);
            number("setting", p->settings[k].step, q->settings[k].step, w.length / 10);
        }
    }
}

static void alike_rows(const bw_band_plan *a, const bw_band_plan *b, alike_within w) {
    count("rows", (long long)a->row_count, (long long)b->row_count);
    for (size_t i = 0; i < a->row_count; i++) {
        count("row", a->rows[i].row, b->rows[i].row);
        count("leaned", a->rows[i].leaned, b->rows[i].leaned);
        count("impressions of a row", a->rows[i].impressions, b->rows[i].impressions);
        number("cover", a->rows[i].cover, b->rows[i].cover, w.share);
    }
    count("weave lines", (long long)a->line_count, (long long)b->line_count);
    for (size_t i = 0; i < a->line_count; i++) {
        const bw_weave_line *p = &a->lines[i], *q = &b->lines[i];
        count("weave line", p->line, q->line);
        double turned = w.corner * fabs(p->from_edge - a->guide_from_edge);
        number("least step", p->step_least, q->step_least, fmin(w.length, w.share) + turned);
        number("greatest step", p->step_most, q->step_most, fmin(w.length, w.share) + turned);
        number("least overlap", p->overlap_least, q->overlap_least, w.share);
        number("greatest overlap", p->overlap_most, q->overlap_most, w.share);
    }
}

static void alike_bands(const bw_band_plan *a, const bw_band_plan *b, alike_within w) {
    if (!on_limit(a->fit.reach, a->fit.crowd, a->fit.bend, w.share))
        count("verdict", (long long)a->fit.verdict, (long long)b->fit.verdict);
    number("reach", a->fit.reach, b->fit.reach, w.share);
    number("crowd", a->fit.crowd, b->fit.crowd, w.share);
    number("bend", a->fit.bend, b->fit.bend, w.share);
    number("guide length", a->guide_length, b->guide_length, w.length);
    count("guide loops", a->guide_loops, b->guide_loops);
    number("bare outside", a->bare_outer, b->bare_outer, w.share);
    number("bare inside", a->bare_inner, b->bare_inner, w.share);
    count("strikes", a->strikes, b->strikes);
    if (w.radius)
        radius("least radius of the guide", a->guide_least_radius, b->guide_least_radius, w.share);
    alike_runs(a, b, w);
    alike_rows(a, b, w);
}

void alike_plans(const char *what, const bw_plan *one, const bw_plan *other, alike_within w) {
    subject = what;
    band_number = 0;
    number("length", one->length, other->length, w.length);
    number("turning", one->turning, other->turning, w.share / 10);
    if (w.radius)
        radius("least radius", one->least_radius, other->least_radius, w.share);
    count("lines", (long long)one->line_count, (long long)other->line_count);
    for (size_t i = 0; i < one->line_count; i++) {
        number("length of a line", one->lines[i].length, other->lines[i].length, w.length);
        count("loops of a line", one->lines[i].loops, other->lines[i].loops);
    }
    count("bands", (long long)one->band_count, (long long)other->band_count);
    for (size_t i = 0; i < one->band_count; i++) {
        band_number = i;
        alike_bands(&one->bands[i], &other->bands[i], w);
    }
    bool certain = true;
    for (size_t i = 0; i < one->band_count; i++) {
        const bw_fit *fit = &one->bands[i].fit;
        certain = certain && !on_limit(fit->reach, fit->crowd, fit->bend, w.share);
    }
    if (certain)
        count("warnings", (long long)one->warning_count, (long long)other->warning_count);
    for (size_t i = 0; i < one->warning_count && certain; i++)
        count("warning", (long long)one->warnings[i].kind, (long long)other->warnings[i].kind);
}

void alike_mirrored(const char *what, const bw_placing *one, const bw_placing *other, size_t placings, bw_point at,
                    double heading, double within, bool turned) {
    for (size_t i = 0; i < placings; i++) {
        double x = one[i].at.x - at.x, y = one[i].at.y - at.y, c = cos(2 * heading), s = sin(2 * heading),
               best = INFINITY;
        bw_point image = {at.x + x * c + y * s, at.y + x * s - y * c};
        size_t nearest = 0;
        for (size_t k = 0; k < placings; k++) {
            double away = hypot(other[k].at.x - image.x, other[k].at.y - image.y);
            if (away < best) {
                best = away;
                nearest = k;
            }
        }
        ck_assert_msg(best <= within, "%s: impression %zu at %.9g %.9g has no image, %g mm off", what, i, one[i].at.x,
                      one[i].at.y, best);
        double turn = remainder(2 * heading - one[i].turn - other[nearest].turn, BW_PI);
        ck_assert_msg(!turned || fabs(turn) <= 1e-3, "%s: impression %zu is turned by %g", what, i, turn);
    }
}
