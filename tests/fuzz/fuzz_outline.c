/* fuzz_outline.c - any bytes as path data, or as corners: the reader never fails other than by saying what is wrong and
 * where, and what it takes becomes an edge that is whole. Text first holds one byte: what shape. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/bandwright.h"
#include "fuzz/memory.h"
#include "fuzz/source.h"

enum { CORNERS = 512 };

static double any_double(source *s) {
    double value = 0;
    unsigned char bytes[sizeof value];
    if (chance(s, 230)) {
        signed char whole = (signed char)byte(s);
        return whole + byte(s) / 256.0;
    }
    for (size_t i = 0; i < sizeof bytes; i++)
        bytes[i] = (unsigned char)byte(s);
    memcpy(&value, bytes, sizeof value);
    return value;
}

static void check_edge(const bw_outline *outline) {
    bw_curve *edge = NULL;
    need(bw_curve_create(outline, NULL, &edge) == BW_OK);
    size_t count = bw_curve_pieces(edge);
    need(count > 0 && bw_curve_loops(edge) == 1);
    double sum = 0;
    for (size_t i = 0; i < count; i++) {
        bw_piece p = bw_curve_piece(edge, i), next = bw_curve_piece(edge, (i + 1) % count);
        need(isfinite(p.from.x + p.from.y + p.to.x + p.to.y + p.heading + p.sweep + p.length) && p.length > 0);
        if (i + 1 < count || bw_curve_closed(edge))
            need(hypot(p.to.x - next.from.x, p.to.y - next.from.y) <= 1e-9 * (1 + hypot(p.to.x, p.to.y)));
        sum += p.length;
    }
    need(fabs(sum - bw_curve_length(edge)) <= 1e-9 * sum);
    need(!bw_curve_closed(edge) || bw_curve_area(edge) > 0); /* the leather is on the left */
    need(!bw_curve_closed(edge) || fabs(bw_curve_turning(edge) - 2 * BW_PI) < 1e-3);
    bw_curve_destroy(edge);
}

static void check_fault(const bw_outline *outline, const bw_outline_fault *fault) {
    need(fault->what != BW_TROUBLE_NONE);
    if (fault->what == BW_TROUBLE_SVG)
        need(fault->why != NULL && fault->item <= strlen(outline->svg));
    if (fault->what == BW_TROUBLE_CORNER)
        need(fault->item < outline->corner_count);
    if (fault->what == BW_TROUBLE_CROSSING)
        need(isfinite(fault->at.x) && isfinite(fault->at.y) && fault->along[0] <= fault->along[1] &&
             fault->along[0] >= 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    source s = {data, size};
    bw_layout layout;
    bw_corner corners[CORNERS];
    bw_outline_fault fault = {.what = BW_TROUBLE_NONE};
    bw_layout_init(&layout);
    bw_outline *o = &layout.outline;
    o->shape = byte(&s) % 2 == 0 ? BW_PATH : BW_POLYGON;
    o->scale = 1;
    char *svg = malloc(size + 1);
    need(svg != NULL);
    memcpy(svg, s.data, s.size);
    svg[s.size] = '\0';
    o->svg = svg;
    o->corners = corners;
    for (; o->shape == BW_POLYGON && s.size > 0 && o->corner_count < CORNERS; o->corner_count++) {
        double x = any_double(&s), y = any_double(&s);
        corners[o->corner_count] = (bw_corner){x, y, chance(&s, 180) ? 0 : any_double(&s)};
    }
    bw_status status = bw_outline_check(o, NULL, &fault);
    need(status == BW_OK || status == BW_BAD_VALUE);
    if (status == BW_OK)
        check_edge(o);
    else
        check_fault(o, &fault);
    free(svg);
    return 0;
}
