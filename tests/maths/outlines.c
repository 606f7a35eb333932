/* outlines.c - random outlines by kind. Every draw from the source stands in a statement of its own, so that the order
 * does not depend on the compiler. */
#include "maths/outlines.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void outlines_begin(outlines_piece *piece, bw_shape shape, const char *kind) {
    bw_layout layout;
    bw_layout_init(&layout);
    piece->outline = layout.outline;
    piece->outline.shape = shape;
    piece->outline.corners = piece->corners;
    piece->outline.corner_count = 0;
    piece->outline.svg = piece->svg;
    piece->outline.scale = 1;
    piece->kind = kind;
    piece->svg[0] = '\0';
    piece->svg_length = 0;
    piece->event_count = 0;
    piece->splits[0] = piece->splits[1] = 0;
    piece->near_event = false;
    piece->most = piece->distance = 0;
}

static bw_point lie(const outlines_piece *piece, double x, double y) {
    double c = cos(piece->turn), s = sin(piece->turn), up = piece->mirrored ? -y : y;
    return (bw_point){piece->move.x + x * c - up * s, piece->move.y + x * s + up * c};
}

void outlines_corner(outlines_piece *piece, double x, double y, double radius) {
    bw_point at = lie(piece, x, y);
    if (piece->outline.corner_count < OUTLINES_CORNERS)
        piece->corners[piece->outline.corner_count++] = (bw_corner){at.x, at.y, radius};
}

__attribute__((format(printf, 2, 3))) static void write_svg(outlines_piece *piece, const char *format, ...) {
    va_list values;
    va_start(values, format);
    int written = vsnprintf(piece->svg + piece->svg_length, sizeof piece->svg - piece->svg_length, format, values);
    va_end(values);
    if (written > 0 && piece->svg_length + (size_t)written < sizeof piece->svg)
        piece->svg_length += (size_t)written;
}

/* SVG's y points down. */
static void write_point(outlines_piece *piece, const char *verb, double x, double y) {
    bw_point at = lie(piece, x, y);
    write_svg(piece, "%s%.17g %.17g ", verb, at.x, -at.y);
}

/* An arc to a point; `left`: it turns left as drawn here, y up. */
static void write_arc(outlines_piece *piece, double radius, bool large, bool left, double x, double y) {
    bool sweep = left == piece->mirrored;
    write_svg(piece, "A%.17g %.17g 0 %d %d ", radius, radius, large, sweep);
    write_point(piece, "", x, y);
}

static void event(outlines_piece *piece, double distance) {
    if (piece->event_count < OUTLINES_EVENTS && distance > 0)
        piece->events[piece->event_count++] = distance;
}

/* ---- stars and other polygons about a middle ---- */

static void make_star(outlines_piece *piece, random_source *r, bool even, bool round) {
    int points = random_number(r, 4, 14);
    double out = random_between(r, 30, 90), in = out * random_between(r, 0.35, 0.8), least = in;
    double side = 2 * in * sin(BW_PI / (2 * points)), corner[2] = {0, 0};
    outlines_begin(piece, BW_POLYGON, even ? round ? "rounded star" : "star" : "many corners");
    for (int i = 0; i < 2 && round; i++)
        corner[i] = random_between(r, 0.05, 0.8) * side;
    for (int i = 0; i < 2 * points; i++) {
        double angle = BW_PI * i / points, radius = i % 2 == 0 ? out : in;
        if (!even) {
            angle += random_between(r, -0.4, 0.4) * BW_PI / points;
            radius = random_between(r, 0.4, 1) * out;
        }
        least = fmin(least, radius);
        outlines_corner(piece, radius * cos(angle), radius * sin(angle), corner[i % 2]);
    }
    piece->most = least * 0.9;
}

/* ---- rows of blocks joined by bars: combs and dumbbells ---- */

/* Sharp or rounded at random; `room`: the shortest side that meets here. */
static double some_radius(random_source *r, double room) {
    double radius = random_between(r, 0.05, 0.45) * room;
    return random_chance(r, 0.5) ? radius : 0;
}

static void make_comb(outlines_piece *piece, random_source *r) {
    int teeth = random_number(r, 2, 6);
    double back = random_between(r, 4, 9), x = 0, top[OUTLINES_CORNERS][3], most = 0, second = 0;
    double gap = random_between(r, 6, 18), height = random_between(r, 25, 60);
    int count = 0;
    outlines_begin(piece, BW_POLYGON, "comb");
    event(piece, back / 2);
    double convex = some_radius(r, back), concave = some_radius(r, back);
    for (int i = 0; i < teeth; i++) {
        double width = random_between(r, 12, 35), tall = height * random_between(r, 0.7, 1), half = width / 2;
        const double tooth[4][3] = {
            {x, back, i == 0 ? -1 : concave}, {x, tall, convex}, {x + width, tall, convex}, {x + width, back, concave}};
        for (int k = i == 0 ? 1 : 0; k < (i == teeth - 1 ? 3 : 4); k++)
            memcpy(top[count++], tooth[k], sizeof top[0]);
        event(piece, half);
        second = half > most ? most : fmax(second, half);
        most = fmax(most, half);
        x += width + gap;
    }
    outlines_corner(piece, 0, 0, convex);
    outlines_corner(piece, x - gap, 0, convex);
    for (int i = count - 1; i >= 0; i--)
        outlines_corner(piece, top[i][0], top[i][1], top[i][2]);
    piece->splits[0] = back / 2;
    piece->splits[1] = second;
    piece->most = most;
}

/* Blocks in a row, each with its own height about the axis, joined by narrow bars. */
static void make_dumbbell(outlines_piece *piece, random_source *r) {
    int blocks = random_number(r, 2, 4);
    double x = 0, low[OUTLINES_CORNERS][3], high[OUTLINES_CORNERS][3], most = 0, second = 0, narrow = INFINITY;
    int count = 0;
    outlines_begin(piece, BW_POLYGON, "dumbbell");
    for (int i = 0; i < blocks; i++) {
        double width = random_between(r, 25, 60), down = random_between(r, 13, 35), up = random_between(r, 13, 35);
        double bar = random_between(r, 5, 14), reach = random_between(r, 8, 30);
        double aside = random_between(r, -0.2, 0.2) * bar;
        double convex = some_radius(r, 13), concave = some_radius(r, fmin(reach, 12)),
               half = fmin(width, down + up) / 2;
        const double ends[4] = {x, x + width, x + width, x + width + reach};
        for (int k = 0; k < (i == blocks - 1 ? 2 : 4); k++) {
            low[count][0] = high[count][0] = ends[k];
            low[count][1] = k < 2 ? -down : aside - bar / 2;
            high[count][1] = k < 2 ? up : aside + bar / 2;
            low[count][2] = high[count][2] = k < 2 ? convex : concave;
            count++;
        }
        if (i < blocks - 1) {
            event(piece, bar / 2);
            narrow = fmin(narrow, bar / 2);
        }
        second = half > most ? most : fmax(second, half);
        most = fmax(most, half);
        x += width + reach;
    }
    /* the bar's far end is a corner with the next block */
    for (int i = 0; i < count; i++)
        outlines_corner(piece, low[i][0], low[i][1], low[i][2]);
    for (int i = count - 1; i >= 0; i--)
        outlines_corner(piece, high[i][0], high[i][1], high[i][2]);
    piece->splits[0] = narrow;
    piece->splits[1] = second;
    piece->most = most;
}

/* ---- arcs that meet smoothly ---- */

/* Two round ends and two hollow sides: all arcs, tangent where they meet. */
static void make_hourglass(outlines_piece *piece, random_source *r) {
    double left = random_between(r, 18, 45), right = random_between(r, 18, 45), hollow = random_between(r, 8, 60);
    double half = random_between(r, 0.15, 0.8) * fmin(left, right), up = hollow + half;
    double x1 = sqrt((left + hollow) * (left + hollow) - up * up);
    double x2 = sqrt((right + hollow) * (right + hollow) - up * up);
    double lx = x1 * left / (left + hollow), ly = up * left / (left + hollow);
    double rx = x1 + x2 - x2 * right / (right + hollow), ry = up * right / (right + hollow);
    outlines_begin(piece, BW_PATH, "hourglass");
    write_point(piece, "M", lx, -ly);
    write_arc(piece, hollow, false, false, rx, -ry);
    write_arc(piece, right, true, true, rx, ry);
    write_arc(piece, hollow, false, false, lx, ly);
    write_arc(piece, left, true, true, lx, -ly);
    write_svg(piece, "Z");
    event(piece, half);
    event(piece, left);
    event(piece, right);
    piece->splits[0] = half;
    piece->splits[1] = fmin(left, right);
    piece->most = fmax(left, right);
}

/* A ring that is open on one side, thin opposite the gap or at it. */
static void make_crescent(outlines_piece *piece, random_source *r) {
    double out = random_between(r, 50, 90), in = out * random_between(r, 0.45, 0.75);
    double aside = random_between(r, -0.6, 0.6) * (out - in), gap = random_between(r, 0.15, 0.9);
    double ox = out * cos(gap), oy = out * sin(gap), ix = aside + in * cos(gap), iy = in * sin(gap);
    outlines_begin(piece, BW_PATH, "crescent");
    write_point(piece, "M", ox, oy);
    write_arc(piece, out, true, true, ox, -oy);
    write_point(piece, "L", ix, -iy);
    write_arc(piece, in, true, false, ix, iy);
    write_svg(piece, "Z");
    event(piece, (out - in + aside) / 2); /* opposite the gap */
    piece->splits[0] = aside < 0 ? (out - in + aside) / 2 : 0;
    piece->splits[1] = aside < 0 ? (out - in) / 2 * 0.95 : 0;
    piece->most = (out - in + fabs(aside)) / 2 * 0.9;
}

/* ---- smooth curves through points ---- */

typedef struct knot {
    double x, y, dx, dy; /* and the derivative */
} knot;

/* Cubic Beziers with the points' own directions; `span`: of the parameter, from one to the next. */
static void write_smooth(outlines_piece *piece, const knot *knots, int count, double span) {
    write_point(piece, "M", knots[0].x, knots[0].y);
    for (int i = 0; i < count; i++) {
        const knot *a = &knots[i], *b = &knots[(i + 1) % count];
        write_point(piece, "C", a->x + a->dx * span / 3, a->y + a->dy * span / 3);
        write_point(piece, "", b->x - b->dx * span / 3, b->y - b->dy * span / 3);
        write_point(piece, "", b->x, b->y);
    }
    write_svg(piece, "Z");
}

/* r = a (1 + e cos(k t + p) + f cos(m t)): two lobes have a waist. */
static void make_lobes(outlines_piece *piece, random_source *r, int lobes) {
    double a = random_between(r, 35, 80), e = random_between(r, 0.2, lobes == 2 ? 0.7 : 0.5), p, f = 0;
    int m = random_number(r, 3, 7), count = 8 * lobes;
    knot knots[64] = {{0}};
    p = random_between(r, 0, BW_PI);
    if (lobes > 2)
        f = random_between(r, 0, 0.08);
    outlines_begin(piece, BW_PATH, lobes == 2 ? "peanut" : "wavy blob");
    for (int i = 0; i < count; i++) {
        double t = 2 * BW_PI * i / count, radius = a * (1 + e * cos(lobes * t + p) + f * cos(m * t));
        double slope = -a * (e * lobes * sin(lobes * t + p) + f * m * sin(m * t));
        knots[i] = (knot){radius * cos(t), radius * sin(t), slope * cos(t) - radius * sin(t),
                          slope * sin(t) + radius * cos(t)};
    }
    write_smooth(piece, knots, count, 2 * BW_PI / count);
    piece->most = a * (1 - e) * 0.95;
    if (lobes == 2 && e > 0.35) {
        event(piece, a * (1 - e));
        piece->splits[0] = a * (1 - e);
        piece->splits[1] = a * (1 - e) + a * (e - 0.3) * 0.3;
        piece->most = piece->splits[1];
    }
}

/* ---- bands along a middle line, wide and narrow in turn ---- */

static void band_point(double s, bool spiral, double pitch, double *x, double *y, double *heading) {
    if (spiral) { /* s: radians of an Archimedean spiral that begins a turn and a half out */
        double t = s + 3 * BW_PI, radius = pitch * t / (2 * BW_PI);
        *x = radius * cos(t);
        *y = radius * sin(t);
        *heading = t + atan2(t, 1);
    } else { /* a wave */
        *x = s * pitch;
        *y = pitch * sin(s);
        *heading = atan2(cos(s), 1);
    }
}

/* Sharp shallow corners, or the same points rounded as far as the sides allow. */
static void make_band(outlines_piece *piece, random_source *r, bool spiral) {
    double pitch = random_between(r, 16, 30), wide = pitch * random_between(r, 0.28, 0.4);
    double swing = random_between(r, 0.2, 0.6), beads = random_number(r, 2, 5),
           length = spiral ? 4.5 * BW_PI : 4 * BW_PI;
    double round = random_between(r, 0, 1) < 0.5 ? 0 : 0.15 * pitch;
    int count = spiral ? 72 : 60;
    double side[2][80][2];
    outlines_begin(piece, BW_POLYGON, spiral ? "spiral" : "wavy band");
    for (int i = 0; i < count; i++) {
        double s = length * i / (count - 1), half = wide * (1 + swing * cos(2 * BW_PI * beads * i / (count - 1))) / 1.6;
        double x, y, heading;
        band_point(s, spiral, pitch, &x, &y, &heading);
        for (int k = 0; k < 2; k++) {
            double to = k == 0 ? -half : half;
            side[k][i][0] = x - to * sin(heading);
            side[k][i][1] = y + to * cos(heading);
        }
    }
    for (int i = 0; i < count; i++)
        outlines_corner(piece, side[0][i][0], side[0][i][1], i == 0 || i == count - 1 ? 0 : round);
    for (int i = count - 1; i >= 0; i--)
        outlines_corner(piece, side[1][i][0], side[1][i][1], i == 0 || i == count - 1 ? 0 : round);
    piece->splits[0] = wide * (1 - swing) / 1.6;
    piece->splits[1] = wide * (1 + swing) / 1.6 * 0.9;
    piece->most = wide * (1 + swing) / 1.6;
    event(piece, piece->splits[0]);
}

/* ---- the shapes that a maker measures ---- */

static void make_oval(outlines_piece *piece, random_source *r) {
    double a = random_between(r, 20, 90), b = a * random_between(r, 0.35, 1);
    outlines_begin(piece, BW_ELLIPSE, "ellipse");
    piece->outline.length = 2 * a;
    piece->outline.width = 2 * b;
    event(piece, b * b / a);
    piece->most = b;
}

static void make_rectangle(outlines_piece *piece, random_source *r) {
    double length = random_between(r, 30, 160), width = random_between(r, 30, 160), half = fmin(length, width) / 2;
    outlines_begin(piece, BW_RECTANGLE, "rectangle");
    piece->outline.length = length;
    piece->outline.width = width;
    for (int i = 0; i < 4; i++) {
        piece->outline.corner[i] = some_radius(r, 2 * half);
        event(piece, piece->outline.corner[i]);
    }
    piece->most = half;
}

static void make_strap(outlines_piece *piece, random_source *r) {
    double length = random_between(r, 120, 400), width = random_between(r, 20, 60);
    bw_end ends[2];
    outlines_begin(piece, BW_STRAP, "strap");
    for (int i = 0; i < 2; i++) {
        ends[i].kind = (bw_end_kind)random_number(r, 0, 2);
        ends[i].point = random_between(r, 0.3, 1.2) * width;
    }
    piece->outline.length = length;
    piece->outline.width = width;
    piece->outline.start = ends[0];
    piece->outline.end = ends[1];
    event(piece, width / 2);
    piece->most = width / 2;
}

/* ---- one of them, and a distance ---- */

/* Roundings no greater than the sides hold; the convex ones are events. */
static void fit_corners(outlines_piece *piece) {
    size_t count = piece->outline.corner_count;
    double area = 0;
    for (size_t i = 0; i < count; i++) {
        const bw_corner *a = &piece->corners[i], *b = &piece->corners[(i + 1) % count];
        area += a->x * b->y - a->y * b->x;
    }
    for (size_t i = 0; i < count; i++) {
        const bw_corner *a = &piece->corners[(i + count - 1) % count], *c = &piece->corners[(i + 1) % count];
        bw_corner *b = &piece->corners[i];
        double ux = b->x - a->x, uy = b->y - a->y, vx = c->x - b->x, vy = c->y - b->y;
        double turn = atan2(ux * vy - uy * vx, ux * vx + uy * vy) * (area < 0 ? -1 : 1);
        b->radius = fmin(b->radius, 0.45 * fmin(hypot(ux, uy), hypot(vx, vy)) / tan(fabs(turn) / 2));
        if (turn > 0.5 && piece->event_count < OUTLINES_EVENTS / 2)
            event(piece, b->radius);
    }
}

static void choose_distance(outlines_piece *piece, random_source *r) {
    double share = random_between(r, 0, 1), place = random_between(r, 0, 1);
    bool splits = piece->splits[1] > piece->splits[0];
    if (share < 0.45 && splits) {
        piece->distance = piece->splits[0] + place * (piece->splits[1] - piece->splits[0]);
    } else if (share < (splits ? 0.72 : 0.4) && piece->event_count > 0) {
        int which = random_number(r, 0, piece->event_count - 1);
        piece->distance = piece->events[which] * (0.99 + 0.02 * place);
    } else {
        piece->distance = piece->most * (0.02 + place);
    }
    for (int i = 0; i < piece->event_count; i++)
        if (fabs(piece->distance - piece->events[i]) <= 0.01 * piece->events[i])
            piece->near_event = true;
}

void outlines_make(outlines_piece *piece, unsigned long long seed) {
    outlines_make_lying(piece, seed, NULL);
}

void outlines_make_lying(outlines_piece *piece, unsigned long long seed, const outlines_lie *lie_so) {
    random_source r = {.state = seed * 104729ull + 17};
    int kind = random_number(&r, 0, 15);
    piece->turn = random_between(&r, -BW_PI, BW_PI);
    piece->move.x = random_between(&r, -200, 200);
    piece->move.y = random_between(&r, -200, 200);
    piece->mirrored = random_chance(&r, 0.5);
    if (lie_so != NULL) {
        piece->turn = lie_so->turn;
        piece->move = lie_so->move;
        piece->mirrored = lie_so->mirrored;
    }
    switch (kind) {
    case 0:
    case 1:
        make_star(piece, &r, kind == 1, false);
        break;
    case 2:
        make_star(piece, &r, true, true);
        break;
    case 3:
    case 4:
        make_comb(piece, &r);
        break;
    case 5:
    case 6:
        make_dumbbell(piece, &r);
        break;
    case 7:
    case 8:
        make_hourglass(piece, &r);
        break;
    case 9:
        make_crescent(piece, &r);
        break;
    case 10:
        make_lobes(piece, &r, 2);
        break;
    case 11:
        make_lobes(piece, &r, random_number(&r, 3, 5));
        break;
    case 12:
        make_band(piece, &r, true);
        break;
    case 13:
        make_band(piece, &r, false);
        break;
    case 14:
        make_oval(piece, &r);
        break;
    default:
        if (random_chance(&r, 0.5))
            make_rectangle(piece, &r);
        else
            make_strap(piece, &r);
    }
    fit_corners(piece);
    choose_distance(piece, &r);
}

bool outlines_concave(const bw_curve *edge) {
    size_t count = bw_curve_pieces(edge);
    for (size_t i = 0; i < count; i++) {
        bw_piece p = bw_curve_piece(edge, i), next = bw_curve_piece(edge, (i + 1) % count);
        if (p.curvature < 0 || remainder(next.heading - p.heading - p.sweep, 2 * BW_PI) < -1e-6)
            return true;
    }
    return false;
}
