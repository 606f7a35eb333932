/* erode.c - what lies farther in than a distance, made with GEOS. */
#include "outside/erode.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "maths/plumb.h"

/* A ring under construction. */
typedef struct ring {
    bw_point *at;
    unsigned count, room;
} ring;

static void put(ring *r, bw_point at) {
    if (r->count == r->room) {
        r->room = r->room == 0 ? 64 : 2 * r->room;
        r->at = realloc(r->at, r->room * sizeof *r->at);
        ck_assert_ptr_nonnull(r->at);
    }
    r->at[r->count++] = at;
}

static GEOSGeometry *polygon(GEOSContextHandle_t geos, ring *r) {
    GEOSCoordSequence *at = GEOSCoordSeq_create_r(geos, r->count + 1, 2);
    for (unsigned i = 0; i <= r->count; i++)
        GEOSCoordSeq_setXY_r(geos, at, i, r->at[i % r->count].x, r->at[i % r->count].y);
    r->count = 0;
    return GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, at), NULL, 0);
}

/* Sectors overlap by this much, mm, and reach so far outward beyond the chords of the sampled piece. */
#define LAP 1e-7

static int chords(double sweep, double fine) {
    return 1 + (int)(fabs(sweep) / fine);
}

static GEOSGeometry *strip(GEOSContextHandle_t geos, ring *r, const bw_piece *p, double d) {
    double ux = cos(p->heading), uy = sin(p->heading), out = -1e-3;
    double fx = p->from.x - LAP * ux, fy = p->from.y - LAP * uy, tx = p->to.x + LAP * ux, ty = p->to.y + LAP * uy;
    put(r, (bw_point){fx - out * uy, fy + out * ux});
    put(r, (bw_point){tx - out * uy, ty + out * ux});
    put(r, (bw_point){tx - d * uy, ty + d * ux});
    put(r, (bw_point){fx - d * uy, fy + d * ux});
    return polygon(geos, r);
}

/* An arc parallel to p's, or its centre; `way` 1: forward. Lapping over at its beginning, at its end. */
static void put_arc(ring *r, const bw_piece *p, double inward, double fine, int way, bool first, bool last) {
    double turns = p->curvature > 0 ? 1 : -1, radius = fabs(1 / p->curvature), lap = turns * LAP / radius;
    double begin = atan2(p->from.y - p->centre.y, p->from.x - p->centre.x) - first * lap;
    double sweep = p->sweep + (first + last) * lap, far = radius - turns * inward;
    int count = far > 0 ? chords(p->sweep, fine) : 0;
    for (int i = 0; i <= count; i++) {
        double turn = count == 0 ? 0 : begin + sweep * (way > 0 ? i : count - i) / count;
        put(r, (bw_point){p->centre.x + fmax(far, 0) * cos(turn), p->centre.y + fmax(far, 0) * sin(turn)});
    }
}

/* Every place within d inward of pieces from `first` on that follow smoothly; returns how many it took. */
static size_t sector(GEOSContextHandle_t geos, ring *r, const bw_curve *edge, size_t first, double d, double fine,
                     bool together, GEOSGeometry **cut) {
    bw_piece p = bw_curve_piece(edge, first), last = p;
    size_t taken = 1, count = bw_curve_pieces(edge);
    if (p.curvature == 0) {
        *cut = strip(geos, r, &p, d);
        return 1;
    }
    double swept = fabs(p.sweep);
    while (together && first + taken < count && last.curvature * d < 0.9) {
        bw_piece next = bw_curve_piece(edge, first + taken);
        swept += fabs(next.sweep);
        if (next.curvature == 0 || next.curvature * d > 0.9 || swept > 0.5 ||
            fabs(remainder(next.heading - last.heading - last.sweep, 2 * BW_PI)) > 1e-9)
            break;
        last = next;
        taken++;
    }
    for (size_t i = 0; i < taken; i++) {
        p = bw_curve_piece(edge, first + i);
        put_arc(r, &p, -1e-3 - fine * fine / fabs(p.curvature), fine, 1, i == 0, i == taken - 1);
    }
    for (size_t i = taken; i-- > 0;) {
        p = bw_curve_piece(edge, first + i);
        put_arc(r, &p, d, fine, -1, i == 0, i == taken - 1);
    }
    *cut = polygon(geos, r);
    return taken;
}

/* Round a hollow corner. */
static GEOSGeometry *fan(GEOSContextHandle_t geos, ring *r, bw_point corner, double heading, double turn, double d,
                         double fine) {
    double lap = 1e-6, begin = heading + BW_PI / 2 + lap, sweep = turn - 2 * lap;
    int count = chords(sweep, fine);
    put(r, (bw_point){corner.x - 1e-3 * cos(begin + sweep / 2), corner.y - 1e-3 * sin(begin + sweep / 2)});
    for (int i = count; i >= 0; i--)
        put(r,
            (bw_point){corner.x + d * cos(begin + sweep * i / count), corner.y + d * sin(begin + sweep * i / count)});
    return polygon(geos, r);
}

static eroded measure(GEOSContextHandle_t geos, GEOSGeometry *left) {
    eroded e = {0, 0, 0};
    ck_assert_ptr_nonnull(left);
    int parts = GEOSGetNumGeometries_r(geos, left);
    for (int i = 0; i < parts; i++) {
        const GEOSGeometry *part = GEOSGetGeometryN_r(geos, left, i);
        double length, area;
        if (GEOSisEmpty_r(geos, part) == 1 || GEOSGeomTypeId_r(geos, part) != GEOS_POLYGON)
            continue;
        ck_assert(GEOSLength_r(geos, part, &length) == 1 && GEOSArea_r(geos, part, &area) == 1);
        if (area < 1e-9) /* a chip that rounding left */
            continue;
        e.length += length;
        e.area += area;
        e.loops += 1 + GEOSGetNumInteriorRings_r(geos, part);
    }
    GEOSGeom_destroy_r(geos, left);
    return e;
}

/* The sectors of all pieces, and the fans of all hollow corners. */
static GEOSGeometry *all_sectors(GEOSContextHandle_t geos, const bw_curve *edge, double d, double fine, bool together) {
    size_t count = bw_curve_pieces(edge), cuts = 0;
    GEOSGeometry **cut = malloc((2 * count + 1) * sizeof *cut);
    ring r = {NULL, 0, 0};
    ck_assert_ptr_nonnull(cut);
    for (size_t i = 0; i < count; i++) {
        bw_piece p = bw_curve_piece(edge, i), next = bw_curve_piece(edge, (i + 1) % count);
        double turn = remainder(next.heading - p.heading - p.sweep, 2 * BW_PI);
        if (turn < -1e-9)
            cut[cuts++] = fan(geos, &r, p.to, p.heading + p.sweep, turn, d, fine);
    }
    for (size_t i = 0; i < count; cuts++)
        i += sector(geos, &r, edge, i, d, fine, together, &cut[cuts]);
    GEOSGeometry *all = GEOSGeom_createCollection_r(geos, GEOS_GEOMETRYCOLLECTION, cut, (unsigned)cuts);
    free(cut);
    free(r.at);
    return all;
}

static GEOSGeometry *sampled(GEOSContextHandle_t geos, const bw_curve *edge, double fine) {
    ring around = {NULL, 0, 0};
    for (size_t i = 0; i < bw_curve_pieces(edge); i++) {
        bw_piece p = bw_curve_piece(edge, i);
        int parts = p.curvature == 0 ? 1 : chords(p.sweep, fine);
        for (int k = 0; k < parts; k++)
            put(&around, plumb_at(&p, (double)k / parts));
    }
    GEOSGeometry *piece = polygon(geos, &around);
    free(around.at);
    return piece;
}

/* NULL where GEOS is not sure of itself, as it may be where sectors nearly coincide. */
static GEOSGeometry *cut_off(GEOSContextHandle_t geos, const bw_curve *edge, double d, double fine, bool together) {
    GEOSGeometry *all = all_sectors(geos, edge, d, fine, together), *one = GEOSUnaryUnion_r(geos, all), *left = NULL;
    if (one != NULL) {
        GEOSGeometry *piece = sampled(geos, edge, fine);
        left = GEOSDifference_r(geos, piece, one);
        GEOSGeom_destroy_r(geos, piece);
        GEOSGeom_destroy_r(geos, one);
    }
    GEOSGeom_destroy_r(geos, all);
    return left;
}

eroded erode_by_sectors(GEOSContextHandle_t geos, const bw_curve *edge, double d, double fine) {
    GEOSGeometry *left = cut_off(geos, edge, d, fine, true);
    for (double other = fine; left == NULL && other > fine / 4; other *= 0.9)
        left = cut_off(geos, edge, d, other, false);
    return measure(geos, left);
}

eroded erode_by_buffer(GEOSContextHandle_t geos, const bw_point *corners, size_t count, double d, int quarter) {
    ring r = {NULL, 0, 0};
    for (size_t i = 0; i < count; i++)
        put(&r, corners[i]);
    GEOSGeometry *piece = polygon(geos, &r);
    GEOSGeometry *left = GEOSBuffer_r(geos, piece, -d, quarter);
    GEOSGeom_destroy_r(geos, piece);
    free(r.at);
    return measure(geos, left);
}

/* The rule is that of GEOS 3.11: a hollow, as the buffer sees it, no deeper than a hundredth of the distance. Seen from
 * inside, the convex corners are hollow. */
bool erode_drops(const bw_point *corners, size_t count, double d) {
    for (size_t i = 0; i < count; i++) {
        bw_point a = corners[i], b = corners[(i + 1) % count], c = corners[(i + 2) % count];
        double across = (c.x - a.x) * (b.y - a.y) - (c.y - a.y) * (b.x - a.x);
        if (fabs(across) / hypot(c.x - a.x, c.y - a.y) < 0.011 * d)
            return true;
    }
    return false;
}
