/* The piece in words: its shape, the leather it takes, where on its edge something lies, where its seam hides. */
#include <math.h>
#include <string.h>

#include "bandwright/blank.h"
#include "bandwright/marks.h"
#include "show/inner.h"

#define LEN(mm) (show_length(project, mm).text)

/* ---- the shape ---- */

/* The unit only behind the last: "240 by 160 mm". */
static void say_by(show_words *out, const shop_project *project, double one, double other) {
    show_figure_text first = show_length(project, one);
    char *unit = strrchr(first.text, ' ');
    if (unit)
        *unit = '\0';
    show_say(out, "%s by %s", first.text, LEN(other));
}

static void say_corners(show_words *out, const shop_project *project) {
    const double *c = project->layout.outline.corner;
    if (c[0] == c[1] && c[1] == c[2] && c[2] == c[3]) {
        if (c[0] > 0)
            show_say(out, ", corners of %s", LEN(c[0]));
        return;
    }
    show_say(out, ", corners of ");
    for (int i = 0; i < 4; i++)
        show_say(out, "%s%s", i ? ", " : "", LEN(c[i]));
    show_say(out, " from the bottom left on, counter-clockwise");
}

static void say_end(show_words *out, const shop_project *project, const char *side, const bw_end *end) {
    static const char *const words[] = {"square", "round", "pointed"};
    show_say(out, ", %s end %s", side, words[end->kind]);
    if (end->kind == BW_END_POINT)
        show_say(out, " over %s", LEN(end->point));
}

static void say_polygon(show_words *out, const bw_outline *o) {
    size_t round = 0;
    for (size_t i = 0; i < o->corner_count; i++)
        round += o->corners[i].radius > 0;
    show_say(out, "polygon of %zu corners", o->corner_count);
    if (round > 0 && round < o->corner_count)
        show_say(out, ", %zu of them rounded", round);
    else if (round > 0)
        show_say(out, ", all rounded");
}

void show_say_outline(show_words *out, const shop_project *project, const bw_plan *plan) {
    const bw_outline *o = &project->layout.outline;
    switch (o->shape) {
    case BW_CIRCLE:
        show_say(out, "circle of %s", LEN(bw_outline_diameter(o)));
        break;
    case BW_RECTANGLE:
        show_say(out, "rectangle of ");
        say_by(out, project, o->length, o->width);
        say_corners(out, project);
        break;
    case BW_ELLIPSE:
        show_say(out, "oval (ellipse) of ");
        say_by(out, project, o->length, o->width);
        break;
    case BW_STRAP:
        show_say(out, "strap of ");
        say_by(out, project, o->length, o->width);
        say_end(out, project, "left", &o->start);
        say_end(out, project, "right", &o->end);
        break;
    case BW_POLYGON:
        say_polygon(out, o);
        break;
    case BW_PATH:
        show_say(out, bw_curve_closed(plan->edge) ? "drawn outline" : "drawn edge");
        break;
    case BW_LINE:
        show_say(out, "straight edge of %s", LEN(o->length));
        break;
    case BW_ARC:
        show_say(out, "arc of radius %s", LEN(o->radius));
        break;
    }
    if (o->shape != BW_LINE)
        show_say(out, ", edge %s%s", LEN(plan->length),
                 project->layout.finished && project->layout.growth > 0 ? " as laid out" : "");
}

/* ---- the leather ---- */

static void say_area(show_words *out, const shop_project *project, double area) {
    if (project->units == SHOP_INCH)
        show_say(out, "%.1f sq in", area / (BW_MM_PER_INCH * BW_MM_PER_INCH));
    else
        show_say(out, "%.1f sq cm", area / 100);
}

const char *show_leather_sentence(show_words *out, const shop_project *project, const bw_plan *plan) {
    const bw_layout *l = &project->layout;
    bw_blank blank = bw_blank_of(l, plan);
    show_start(out);
    if (!bw_curve_closed(plan->edge)) {
        show_say(out, "edge across ");
        say_by(out, project, blank.box.right - blank.box.left, blank.box.top - blank.box.bottom);
        return out->text;
    }
    show_say(out, "blank ");
    say_by(out, project, blank.length, blank.width);
    if (l->trim > 0)
        show_say(out, " (%s to trim all round)", LEN(l->trim));
    show_say(out, "; piece ");
    say_by(out, project, blank.box.right - blank.box.left, blank.box.top - blank.box.bottom);
    show_say(out, ", ");
    say_area(out, project, blank.area);
    if (l->growth > 0) {
        show_say(out, "; finished ");
        say_by(out, project, blank.grown_length, blank.grown_width);
    }
    return out->text;
}

/* ---- places of the edge ---- */

#define CORNER_SHARE 0.1 /* of the piece's lesser side: so near to a corner counts as at it */

typedef struct seen {
    const shop_project *project;
    bw_box box;
    bw_point at;
    double near, scale; /* mm; from the file's sizes to laid-out ones */
} seen;

/* "upper right"; NULL in the middle. */
static const char *compass(const seen *s) {
    static const char *const words[3][3] = {
        {"lower left", "bottom", "lower right"}, {"left", NULL, "right"}, {"upper left", "top", "upper right"}};
    double u = (s->at.x - s->box.left) / fmax(s->box.right - s->box.left, BW_EPS);
    double v = (s->at.y - s->box.bottom) / fmax(s->box.top - s->box.bottom, BW_EPS);
    int column = u < 1.0 / 3 ? 0 : u > 2.0 / 3 ? 2 : 1, line = v < 1.0 / 3 ? 0 : v > 2.0 / 3 ? 2 : 1;
    return words[line][column];
}

static bool rectangle_place(const seen *s, show_words *out) {
    const double *c = s->project->layout.outline.corner;
    double x = fmin(s->at.x - s->box.left, s->box.right - s->at.x);
    double y = fmin(s->at.y - s->box.bottom, s->box.top - s->at.y);
    bool right = s->at.x - s->box.left > s->box.right - s->at.x, top = s->at.y - s->box.bottom > s->box.top - s->at.y;
    double zone = fmax(c[top ? (right ? 2 : 3) : right ? 1 : 0] * s->scale, s->near);
    if (x <= zone && y <= zone)
        show_say(out, "at the %s %s corner", top ? "upper" : "lower", right ? "right" : "left");
    else
        show_say(out, "on the %s side", x < y ? (right ? "right" : "left") : top ? "top" : "bottom");
    return true;
}

static bool strap_place(const seen *s, show_words *out) {
    static const char *const ends[] = {"square", "round", "pointed"};
    const bw_outline *o = &s->project->layout.outline;
    double half = (s->box.top - s->box.bottom) / 2;
    double reach[2] = {o->start.kind == BW_END_POINT ? o->start.point * s->scale : half,
                       o->end.kind == BW_END_POINT ? o->end.point * s->scale : half};
    if (s->at.x <= s->box.left + reach[0] + s->near)
        show_say(out, "at the %s left end", ends[o->start.kind]);
    else if (s->at.x >= s->box.right - reach[1] - s->near)
        show_say(out, "at the %s right end", ends[o->end.kind]);
    else
        show_say(out, "on the %s edge", s->at.y < s->box.bottom + half ? "lower" : "upper");
    return true;
}

/* Of a polygon's corners the one at the place, from 1; 0 if it is at none. */
static size_t corner_at(const seen *s) {
    const bw_outline *o = &s->project->layout.outline;
    size_t best = 0;
    double least = INFINITY;
    for (size_t i = 0; i < o->corner_count; i++) {
        double away = hypot(o->corners[i].x * s->scale - s->at.x, o->corners[i].y * s->scale - s->at.y);
        if (away < least - BW_EPS) {
            least = away;
            best = i;
        }
    }
    if (o->corner_count == 0 || least > fmax(o->corners[best].radius * s->scale, s->near))
        return 0;
    return best + 1;
}

static bool polygon_place(const seen *s, show_words *out) {
    size_t number = corner_at(s);
    if (number == 0)
        return false;
    show_say(out, "at corner %zu", number);
    const char *side = compass(s);
    if (side)
        show_say(out, ", %s", side);
    return true;
}

static seen seen_at(const shop_project *project, const bw_plan *plan, double from_start) {
    bool closed = bw_curve_closed(plan->edge);
    double along = closed ? plan->start_along + from_start : from_start;
    seen s = {.project = project,
              .box = bw_curve_box(plan->edge),
              .at = bw_curve_at(plan->edge, along).at,
              .scale = project->layout.finished ? 1 / (1 + project->layout.growth) : 1};
    s.near = CORNER_SHARE * fmin(s.box.right - s.box.left, s.box.top - s.box.bottom);
    return s;
}

size_t show_edge_corner(const shop_project *project, const bw_plan *plan, double from_start) {
    seen s = seen_at(project, plan, from_start);
    return project->layout.outline.shape == BW_POLYGON ? corner_at(&s) : 0;
}

const char *show_edge_place(show_words *out, const shop_project *project, const bw_plan *plan, double from_start) {
    bw_shape shape = project->layout.outline.shape;
    seen s = seen_at(project, plan, from_start);
    show_start(out);
    if (shape == BW_LINE || shape == BW_ARC)
        return out->text;
    if (shape == BW_RECTANGLE ? rectangle_place(&s, out)
        : shape == BW_STRAP   ? strap_place(&s, out)
                              : shape == BW_POLYGON && polygon_place(&s, out))
        return out->text;
    const char *side = compass(&s);
    show_say(out, side ? "at the %s" : "in the middle", side);
    return out->text;
}

double show_beside(const bw_plan *plan, bw_spot spot, double deep) {
    bw_point p = {spot.at.x + deep * sin(spot.heading), spot.at.y - deep * cos(spot.heading)};
    return bw_edge_from_start(plan, bw_curve_nearest(plan->edge, p));
}

double show_corner_edge(const bw_plan *plan, size_t band, double along) {
    bw_curve *guide;
    if (bw_guide_create(plan, band, NULL, &guide) != BW_OK)
        return 0;
    bw_spot after = bw_curve_at(guide, along), before = bw_curve_at(guide, along - BW_EPS_FIT);
    bw_curve_destroy(guide);
    double turn = remainder(after.heading - before.heading, 2 * BW_PI);
    /* Mitred: the corner of the edge lies on the bisector. */
    bw_spot bisector = {after.at, before.heading + turn / 2};
    return show_beside(plan, bisector, plan->bands[band].guide_from_edge / cos(turn / 2));
}

double show_run_end(const bw_plan *plan, size_t band, const bw_run_plan *run, bool last) {
    bw_curve *guide;
    if (bw_guide_create(plan, band, NULL, &guide) != BW_OK)
        return 0;
    bw_spot spot = bw_curve_at(guide, last ? run->to - BW_EPS_FIT : run->from + BW_EPS_FIT);
    bw_curve_destroy(guide);
    return show_beside(plan, spot, plan->bands[band].guide_from_edge);
}

bool show_say_run_start(show_words *out, const shop_project *project, const bw_plan *plan, size_t band, size_t run) {
    const bw_run_plan *one = &plan->bands[band].runs[run];
    bool corner = bw_curve_closed(plan->edge) && !one->closed;
    show_words place;
    show_edge_place(&place, project, plan,
                    corner ? show_corner_edge(plan, band, one->from) : show_run_end(plan, band, one, false));
    const char *name = strchr(place.text, ' '); /* behind "at" or "on" */
    if (!name)
        return false;
    show_say(out, "%s", name + 1);
    return true;
}

/* Places along the edge are told to the millimetre, or the sixteenth of an inch. */
show_figure_text show_edge_length(const shop_project *project, double mm) {
    double grid = project->units == SHOP_INCH ? BW_MM_PER_INCH / 16 : 1;
    return show_length(project, floor(mm / grid + 0.5) * grid);
}

/* A stretch that holds a corner is at that corner, wherever on it the worst step begins. */
static void stretch_place(show_words *place, const shop_project *project, const bw_plan *plan,
                          const bw_stretch *stretch) {
    double way = stretch->edge_to - stretch->edge_from;
    show_edge_place(place, project, plan, stretch->edge_worst);
    if (way < 0)
        way += plan->length;
    if (strncmp(place->text, "on ", 3) != 0 || way > plan->length / 4)
        return;
    for (int i = 0; i <= 8; i++) {
        show_words other;
        double along = stretch->edge_from + way * i / 8;
        show_edge_place(&other, project, plan, along > plan->length ? along - plan->length : along);
        if (strncmp(other.text, "at ", 3) == 0) {
            *place = other;
            return;
        }
    }
}

void show_say_stretch(show_words *out, const shop_project *project, const bw_plan *plan, const bw_stretch *stretch) {
    double from = stretch->edge_from, to = stretch->edge_to;
    show_words place;
    show_figure_text begin = show_edge_length(project, from), end = show_edge_length(project, to);
    if (strcmp(begin.text, end.text) == 0) {
        show_say(out, "%s along the edge", begin.text);
    } else {
        char *unit = strrchr(begin.text, ' ');
        if (unit)
            *unit = '\0';
        show_say(out, "from %s to %s along the edge", begin.text, end.text);
    }
    stretch_place(&place, project, plan, stretch);
    if (place.text[0])
        show_say(out, ", %s", place.text);
}

void show_say_extreme(show_words *out, const shop_project *project, const bw_plan *plan, size_t band,
                      const bw_extreme *at) {
    const bw_band_plan *made = &plan->bands[band];
    int number = show_extreme_number(made, at);
    show_words place;
    if (number > 0)
        show_say(out, "at %s %d of %d, ", made->fill == BW_FILL_STITCH ? "hole" : "impression", number,
                 show_impressions(plan, band));
    show_say(out, "%s along the edge", show_edge_length(project, at->edge_along).text);
    show_edge_place(&place, project, plan, at->edge_along);
    if (place.text[0])
        show_say(out, ", %s", place.text);
}

const char *show_beside_sentence(show_words *out, const shop_project *project, const bw_plan *plan, size_t band,
                                 const bw_placing *placing) {
    bw_curve *guide;
    show_start(out);
    if (bw_guide_create(plan, band, NULL, &guide) != BW_OK)
        return out->text;
    bw_spot spot = bw_curve_at(guide, placing->along);
    bw_curve_destroy(guide);
    double from_start = show_beside(plan, spot, plan->bands[band].guide_from_edge);
    show_words place;
    show_edge_place(&place, project, plan, from_start);
    show_say(out, "along the edge: %s%s%s", show_edge_length(project, from_start).text, place.text[0] ? ", " : "",
             place.text);
    return out->text;
}

/* ---- the seam ---- */

static void say_where(show_words *out, const shop_project *project, const bw_plan *plan, const bw_seam *seam) {
    show_words place;
    show_edge_place(&place, project, plan, bw_edge_from_start(plan, seam->along));
    switch (seam->how) {
    case BW_HIDE_BUCKLE:
        show_say(out, "under the buckle, %s", place.text);
        break;
    case BW_HIDE_CORNER:
        show_say(out, "in a corner, %s", place.text);
        break;
    case BW_HIDE_BOTTOM:
        show_say(out, "at the bottom");
        break;
    default:
        show_say(out, "where the edge turns least, %s", place.text);
    }
}

void show_start_mark_text(const shop_project *project, const bw_seam *seam, char out[48]) {
    static const char *const words[] = {"", "bottom", "right", "top", "left", ""};
    if (seam->place.kind == BW_PLACE_ALONG)
        shop_write_length(seam->place.along, project->units, out, 48);
    else
        snprintf(out, 48, "%s", words[seam->place.kind]);
}

/* Does anything go round, or is it all cut at corners? Without bands it may yet. */
static bool any_round(const bw_plan *plan) {
    bool any = false;
    for (size_t i = 0; i < plan->band_count; i++) {
        for (size_t r = 0; r < plan->bands[i].run_count; r++)
            if (plan->bands[i].runs[r].closed)
                return true;
        any = any || plan->bands[i].run_count > 0;
    }
    return !any;
}

/* Where an anchored round begins and ends, whatever the start mark says; false if the band has no such round. */
static bool say_anchored(show_words *out, const shop_project *project, const bw_plan *plan, size_t band,
                         const char *first) {
    const bw_band_plan *made = &plan->bands[band];
    bw_placing placing;
    bw_curve *guide;
    if (made->run_count != 1 || !made->runs[0].closed || made->runs[0].lose != BW_LOSE_ANCHORED ||
        made->runs[0].fell_back || !show_impression_place(project, plan, band, 1, &placing) ||
        bw_guide_create(plan, band, NULL, &guide) != BW_OK)
        return false;
    double along = show_beside(plan, bw_curve_at(guide, placing.along), made->guide_from_edge);
    bw_curve_destroy(guide);
    show_words place;
    show_edge_place(&place, project, plan, along);
    show_say(out, "%s %s at its first anchor, %s along the edge%s%s", first, show_band_name(project, band),
             show_edge_length(project, along).text, place.text[0] ? ", " : "", place.text);
    return true;
}

/* Rounds that begin at the start mark. */
static bool any_at_start(const bw_plan *plan) {
    for (size_t i = 0; i < plan->band_count; i++)
        for (size_t r = 0; r < plan->bands[i].run_count; r++)
            if (plan->bands[i].runs[r].closed &&
                (plan->bands[i].runs[r].lose != BW_LOSE_ANCHORED || plan->bands[i].runs[r].fell_back))
                return true;
    return false;
}

const char *show_seam_sentence(show_words *out, const shop_project *project, const bw_plan *plan) {
    bw_seam seam = bw_seam_best(&project->layout, plan);
    show_start(out);
    if (seam.how == BW_HIDE_NONE || !any_round(plan)) {
        show_say(out, "no seam: every row ends flush %s",
                 seam.how == BW_HIDE_NONE ? "with the ends of the edge" : "at the corners");
        return out->text;
    }
    bool at_start = any_at_start(plan);
    const char *first = at_start ? "; of" : "seam of";
    show_words now, anchored;
    show_start(&anchored);
    for (size_t i = 0; i < plan->band_count; i++)
        if (say_anchored(&anchored, project, plan, i, first))
            first = "; of";
    if (anchored.text[0] && !at_start) {
        *out = anchored;
        return out->text;
    }
    show_edge_place(&now, project, plan, 0);
    show_say(out, "seam at the start mark%s%s%s", now.text[0] ? ", " : "", now.text, anchored.text);
    if (seam.there) {
        show_say(out, ": it hides well there");
        return out->text;
    }
    char text[48];
    show_start_mark_text(project, &seam, text);
    show_say(out, "; it hides best ");
    say_where(out, project, plan, &seam);
    if (seam.place.kind == BW_PLACE_ALONG)
        show_say(out, " (start-mark: %s)", LEN(seam.place.along));
    else
        show_say(out, " (start-mark: %s)", text);
    return out->text;
}
