/* fuzz_offset.c - any outline that passes the check, at any distance: the parallel is finite, its pieces meet, and no
 * point of it lies nearer to the edge or farther from it than the distance. */
#include <math.h>
#include <stdio.h>

#include "bandwright/bandwright.h"
#include "fuzz/memory.h"
#include "fuzz/source.h"
#include "maths/plumb.h"

enum { CORNERS = 64, PIECES = 2000, SAMPLES = 40 };

#define NEAR 1e-6 /* mm */

/* Coordinates on a coarse grid, so that much falls together; now and then a hair beside it. */
static double coordinate(source *s) {
    double value = (double)(signed char)byte(s);
    switch (byte(s) % 8) {
    case 0:
        return value + ((double)byte(s) - 128) * 1e-9;
    case 1:
        return value + ((double)byte(s) - 128) / 100;
    case 2:
        return value / 8;
    default:
        return value;
    }
}

static void fill_polygon(source *s, bw_outline *o, bw_corner *corners) {
    size_t count = 3 + byte(s) % (CORNERS - 3);
    for (size_t i = 0; i < count; i++) {
        double x = coordinate(s), y = coordinate(s);
        corners[i] = (bw_corner){x, y, chance(s, 96) ? number(s, 0, 30) : 0};
    }
    o->corners = corners;
    o->corner_count = count;
}

/* Path data from bytes: only relative or absolute lines, arcs and cubics, open or closed. */
static void fill_path(source *s, bw_outline *o, char *svg, size_t room) {
    static const char verbs[] = "LlLlHvCcQqSsTtAaAa";
    bool closes = chance(s, 200);
    double x = coordinate(s), y = coordinate(s);
    size_t used = (size_t)snprintf(svg, room, "M%g %g", x, y);
    for (int i = 0; i < 24 && s->size > 0 && used + 300 < room; i++) {
        static const char counts[256] = {['L'] = 2, ['H'] = 1, ['V'] = 1, ['C'] = 6, ['Q'] = 4, ['S'] = 4, ['T'] = 2};
        char verb = verbs[byte(s) % (sizeof verbs - 1)];
        char *to = svg + used;
        to += sprintf(to, "%c", verb);
        if (verb == 'A' || verb == 'a') {
            double rx = fabs(coordinate(s)), ry = chance(s, 128) ? rx : fabs(coordinate(s));
            unsigned flags = byte(s);
            to += sprintf(to, "%.17g %.17g 0 %u %u ", rx, ry, flags & 1, flags >> 1 & 1);
        }
        int numbers = verb == 'A' || verb == 'a' ? 2 : counts[verb & ~0x20];
        for (int k = 0; k < numbers; k++)
            to += sprintf(to, "%.17g ", coordinate(s));
        used = (size_t)(to - svg);
    }
    if (closes)
        snprintf(svg + used, room - used, "Z");
    o->svg = svg;
}

static void fill_outline(source *s, bw_outline *o, bw_corner *corners, char *svg, size_t room) {
    static const bw_shape shapes[] = {BW_POLYGON, BW_POLYGON,   BW_POLYGON, BW_PATH,
                                      BW_PATH,    BW_RECTANGLE, BW_STRAP,   BW_ARC};
    o->shape = shapes[byte(s) % 8];
    o->scale = 1;
    if (o->shape == BW_POLYGON) {
        fill_polygon(s, o, corners);
    } else if (o->shape == BW_PATH) {
        fill_path(s, o, svg, room);
    } else {
        o->length = number(s, 1, 300);
        o->width = number(s, 1, 300);
        for (int i = 0; i < 4; i++)
            o->corner[i] = number(s, 0, fmin(o->length, o->width) / 2);
        o->start = (bw_end){(bw_end_kind)(byte(s) % 3), number(s, 1, 100)};
        o->end = (bw_end){(bw_end_kind)(byte(s) % 3), number(s, 1, 100)};
        o->radius = number(s, 1, 300);
        o->sweep = number(s, -BW_SWEEP_MOST, BW_SWEEP_MOST);
    }
}

static void check_point(const bw_curve *edge, bw_point at, double d) {
    need(isfinite(at.x) && isfinite(at.y));
    need(fabs(plumb_curve(edge, at, NULL) - d) <= NEAR);
}

static void check_loop(const bw_curve *edge, const bw_curve *line, int loop, double d) {
    size_t first, count, step = 1 + bw_curve_pieces(line) / SAMPLES;
    bw_curve_loop(line, loop, &first, &count);
    need(count > 0);
    for (size_t i = 0; i < count; i++) {
        bw_piece p = bw_curve_piece(line, first + i), next = bw_curve_piece(line, first + (i + 1) % count);
        need(isfinite(p.length) && p.length >= 0 && isfinite(p.heading) && isfinite(p.sweep));
        if (i + 1 < count || bw_curve_loop_closed(line, loop))
            need(hypot(p.to.x - next.from.x, p.to.y - next.from.y) <= NEAR);
        for (int k = 0; k < 4 && i % step == 0; k++)
            check_point(edge, plumb_at(&p, (k + 0.5) / 4), d);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    source s = {data, size};
    bw_layout layout;
    bw_corner corners[CORNERS];
    char svg[8192];
    bw_outline_fault fault;
    bw_curve *edge = NULL, *line = NULL;
    bw_layout_init(&layout);
    double d = number(&s, 0, 60);
    fill_outline(&s, &layout.outline, corners, svg, sizeof svg);
    if (bw_outline_check(&layout.outline, NULL, &fault) != BW_OK)
        return 0;
    need(bw_curve_create(&layout.outline, NULL, &edge) == BW_OK);
    need(isfinite(bw_curve_length(edge)) && bw_curve_length(edge) > 0);
    need(bw_curve_offset(edge, d, NULL, &line) == BW_OK);
    need(isfinite(bw_curve_length(line)) && bw_curve_length(line) >= 0);
    if (bw_curve_pieces(edge) <= PIECES)
        for (int loop = 0; loop < bw_curve_loops(line); loop++)
            check_loop(edge, line, loop, d);
    bw_curve_destroy(line);
    bw_curve_destroy(edge);
    return 0;
}
