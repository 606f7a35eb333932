/* SVG path data: commands. */
#include "maths/svg.h"

#include <math.h>
#include <string.h>

#include "maths/svg_number.h"

#define RADIUS_MOST 1000.0 /* times the greatest coordinate: an arc of a larger radius is straight */

void maths_svg_open(maths_svg *svg, const char *text, double most) {
    *svg = (maths_svg){.text = text, .most = most};
}

static bool lower(char c) {
    return c >= 'a';
}

static char upper(char c) {
    return lower(c) ? (char)(c - 'a' + 'A') : c;
}

/* One coordinate, made absolute. */
static bool coordinate(maths_svg *svg, bool later, double base, double *value) {
    if (!maths_svg_number(svg, later, value))
        return false;
    if (lower(svg->command))
        *value += base;
    if (fabs(*value) > svg->most)
        return maths_svg_wrong(svg, svg->at - 1, "this number leads too far away");
    return true;
}

static bool point(maths_svg *svg, bool later, bw_point *p) {
    return coordinate(svg, later, svg->now.x, &p->x) && coordinate(svg, true, svg->now.y, &p->y);
}

/* The control point of the Bezier before, seen from the other side: in a row of many it may wander off. */
static bool reflected(maths_svg *svg, const char *of, bw_point *p) {
    bool none = svg->before == '\0' || strchr(of, svg->before) == NULL;
    *p = none ? svg->now : (bw_point){2 * svg->now.x - svg->control.x, 2 * svg->now.y - svg->control.y};
    if (fmax(fabs(p->x), fabs(p->y)) > svg->most)
        return maths_svg_wrong(svg, svg->at, "the control point that follows from the one before leads too far away");
    return true;
}

static bool cubic(maths_svg *svg, maths_svg_piece *piece, bool later, bool smooth) {
    piece->kind = MATHS_SVG_CUBIC;
    if (smooth ? !reflected(svg, "CS", &piece->control[0]) : !point(svg, later, &piece->control[0]))
        return false;
    if (!point(svg, later || !smooth, &piece->control[1]) || !point(svg, true, &piece->to))
        return false;
    svg->control = piece->control[1];
    return true;
}

static bw_point two_thirds(bw_point from, bw_point to) {
    return (bw_point){from.x + (to.x - from.x) * 2 / 3, from.y + (to.y - from.y) * 2 / 3};
}

static bool quadratic(maths_svg *svg, maths_svg_piece *piece, bool later, bool smooth) {
    piece->kind = MATHS_SVG_CUBIC;
    bw_point control;
    if (smooth ? !reflected(svg, "QT", &control) : !point(svg, later, &control))
        return false;
    if (!point(svg, later || !smooth, &piece->to))
        return false;
    svg->control = control;
    piece->control[0] = two_thirds(svg->now, control);
    piece->control[1] = two_thirds(piece->to, control);
    return true;
}

static bool arc(maths_svg *svg, maths_svg_piece *piece, bool later) {
    piece->kind = MATHS_SVG_ARC;
    double *radii[2] = {&piece->rx, &piece->ry};
    for (int i = 0; i < 2; i++) {
        if (!maths_svg_number(svg, later || i > 0, radii[i]))
            return false;
        *radii[i] = fabs(*radii[i]); /* SVG 1.1, F.6.6 */
        if (*radii[i] > svg->most * RADIUS_MOST)
            return maths_svg_wrong(svg, svg->at - 1, "this radius is too large");
    }
    return maths_svg_number(svg, true, &piece->turn) && maths_svg_flag(svg, &piece->large) &&
           maths_svg_flag(svg, &piece->increasing) && point(svg, true, &piece->to);
}

/* The arguments of one piece; `later`: they go on after those of another one. */
static bool arguments(maths_svg *svg, maths_svg_piece *piece, bool later) {
    *piece = (maths_svg_piece){.kind = MATHS_SVG_LINE, .from = svg->now, .to = svg->now};
    switch (upper(svg->command)) {
    case 'H':
        return coordinate(svg, later, svg->now.x, &piece->to.x);
    case 'V':
        return coordinate(svg, later, svg->now.y, &piece->to.y);
    case 'C':
    case 'S':
        return cubic(svg, piece, later, upper(svg->command) == 'S');
    case 'Q':
    case 'T':
        return quadratic(svg, piece, later, upper(svg->command) == 'T');
    case 'A':
        return arc(svg, piece, later);
    default: /* L, also what goes on after M */
        return point(svg, later, &piece->to);
    }
}

static bool move_to_first(maths_svg *svg) {
    maths_svg_spaces(svg);
    char c = svg->text[svg->at];
    if (c == '\0')
        return maths_svg_wrong(svg, svg->at, "there is no path data");
    if (upper(c) != 'M')
        return maths_svg_wrong(svg, svg->at, "path data begins with M");
    svg->at++;
    svg->command = c;
    if (!point(svg, false, &svg->first))
        return false;
    svg->now = svg->first;
    return true;
}

/* The command that comes next, or the same one going on. False at the end. */
static bool next_command(maths_svg *svg, bool *later) {
    maths_svg_spaces(svg);
    char c = svg->text[svg->at];
    *later = false;
    if (c == '\0')
        return false;
    if (svg->closed)
        return maths_svg_wrong(svg, svg->at, "nothing may follow Z: an edge is a single subpath");
    if (maths_svg_at_number(svg) || c == ',') {
        *later = true;
        return true;
    }
    if (upper(c) == 'M')
        return maths_svg_wrong(svg, svg->at, "a second M starts another subpath: an edge is a single one");
    if (strchr("LlHhVvCcSsQqTtAaZz", c) == NULL)
        return maths_svg_wrong(svg, svg->at, "a command is expected here: L H V C S Q T A or Z");
    svg->command = c;
    svg->at++;
    return true;
}

bool maths_svg_next(maths_svg *svg, maths_svg_piece *piece) {
    bool later;
    if (svg->why != NULL || (svg->command == '\0' && !move_to_first(svg)) || !next_command(svg, &later))
        return false;
    if (upper(svg->command) == 'Z') {
        svg->closed = true;
        *piece = (maths_svg_piece){.kind = MATHS_SVG_CLOSE, .from = svg->now, .to = svg->first};
        return true;
    }
    if (!arguments(svg, piece, later))
        return false;
    svg->before = upper(svg->command);
    svg->now = piece->to;
    return true;
}
