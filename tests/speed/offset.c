/* offset.c - trimmed parallels against a buffer by GEOS, in one run: 100, 1,000, 10,000 and 100,000 pieces.
 *
 * Equal tolerance: GEOS is given bends as chords within 0.001 mm and told to open hollow corners as finely; a parallel
 * here is exact. Prints ratios; decides nothing. */
#include <geos_c.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "bandwright/bandwright.h"

#define TOLERANCE 0.001 /* mm */
#define ENOUGH 0.3      /* seconds after which a measurement is repeated no more */

/* A ring of n lines or arcs of about 4 mm each, as path data. */
typedef struct drawing {
    const char *name;
    double d;
    void (*draw)(FILE *to, int pieces);
} drawing;

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

static void around(FILE *to, const char *verb, int i, int pieces, double shift) {
    double radius = 4.0 * pieces / (2 * BW_PI) + shift, turn = 2 * BW_PI * (i % pieces) / pieces;
    fprintf(to, "%s%.17g %.17g ", verb, radius * cos(turn), -radius * sin(turn));
}

static void draw_waves(FILE *to, int pieces) {
    around(to, "M", 0, pieces, 0);
    for (int i = 1; i <= pieces; i++) {
        fprintf(to, "A4 4 0 0 %d ", i % 2); /* in and out in turn, a sixth of a turn each */
        around(to, "", i, pieces, 0);
    }
    fputs("Z", to);
}

static void draw_convex(FILE *to, int pieces) {
    for (int i = 0; i < pieces; i++)
        around(to, i == 0 ? "M" : "L", i, pieces, 0);
    fputs("Z", to);
}

static void draw_star(FILE *to, int pieces) {
    for (int i = 0; i < pieces; i++)
        around(to, i == 0 ? "M" : "L", i, pieces, i % 2 == 0 ? 0 : -2.5);
    fputs("Z", to);
}

/* Teeth 2 mm wide and 15 mm long, 1.5 mm apart, on a back 5 mm wide: the longest comes near to what a place may be. */
static void draw_comb(FILE *to, int pieces) {
    int teeth = pieces / 4;
    fprintf(to, "M0 0L%.17g 0 ", 3.5 * teeth - 1.5);
    for (int i = teeth - 1; i >= 0; i--) {
        double left = 3.5 * i;
        fprintf(to, "L%.17g -20L%.17g -20 ", left + 2, left);
        if (i > 0)
            fprintf(to, "L%.17g -5L%.17g -5 ", left, left - 1.5);
    }
    fputs("Z", to);
}

static const drawing drawings[] = {
    {"waves of arcs, d 2", 2, draw_waves},   {"waves, bends used up, d 6", 6, draw_waves},
    {"convex polygon, d 3", 3, draw_convex}, {"star, concave, d 3", 3, draw_star},
    {"comb, d 0.75", 0.75, draw_comb},
};

static bw_curve *make(const drawing *which, int pieces) {
    bw_layout layout;
    bw_curve *edge = NULL;
    char *svg = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&svg, &length);
    which->draw(to, pieces);
    fclose(to);
    bw_layout_init(&layout);
    layout.outline.shape = BW_PATH;
    layout.outline.svg = svg;
    layout.outline.scale = 1;
    if (bw_curve_create(&layout.outline, NULL, &edge) != BW_OK) {
        fprintf(stderr, "%s of %d pieces is no outline\n", which->name, pieces);
        exit(1);
    }
    free(svg);
    return edge;
}

static GEOSGeometry *sampled(GEOSContextHandle_t geos, const bw_curve *edge) {
    size_t count = bw_curve_pieces(edge);
    unsigned points = 0;
    for (int pass = 0; pass < 2; pass++) {
        static GEOSCoordSequence *at;
        if (pass == 1)
            at = GEOSCoordSeq_create_r(geos, points + 1, 2);
        unsigned next = 0;
        for (size_t i = 0; i < count; i++) {
            bw_piece p = bw_curve_piece(edge, i);
            /* a chord of t radians is r (1 - cos(t/2)) off */
            double most = p.curvature == 0 ? INFINITY : 2 * acos(1 - TOLERANCE * fabs(p.curvature));
            int parts = 1 + (int)(fabs(p.sweep) / most);
            for (int k = 0; k < parts; k++, next++) {
                if (pass == 0)
                    continue;
                bw_spot spot = bw_curve_at(edge, p.start + p.length * k / parts);
                GEOSCoordSeq_setXY_r(geos, at, next, spot.at.x, spot.at.y);
                if (next == 0)
                    GEOSCoordSeq_setXY_r(geos, at, points, spot.at.x, spot.at.y);
            }
        }
        points = next;
        if (pass == 1)
            return GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, at), NULL, 0);
    }
    return NULL;
}

/* Seconds for one. */
static double time_ours(const bw_curve *edge, double d, double *length) {
    double begin = now(), spent = 0;
    int rounds = 0;
    while (spent < ENOUGH || rounds == 0) {
        bw_curve *line;
        if (bw_curve_offset(edge, d, NULL, &line) != BW_OK)
            exit(1);
        *length = bw_curve_length(line);
        bw_curve_destroy(line);
        rounds++;
        spent = now() - begin;
    }
    return spent / rounds;
}

static double time_geos(GEOSContextHandle_t geos, const GEOSGeometry *piece, double d, double *length) {
    int quarter = 1 + (int)(BW_PI / 2 / (2 * acos(1 - TOLERANCE / d)));
    double begin = now(), spent = 0;
    int rounds = 0;
    while (spent < ENOUGH || rounds == 0) {
        GEOSGeometry *line = GEOSBuffer_r(geos, piece, -d, quarter);
        if (line == NULL || GEOSLength_r(geos, line, length) != 1)
            exit(1);
        GEOSGeom_destroy_r(geos, line);
        rounds++;
        spent = now() - begin;
    }
    return spent / rounds;
}

int main(void) {
    GEOSContextHandle_t geos = GEOS_init_r();
    printf("Trimmed parallels against a buffer by GEOS %s, within %g mm:\n", GEOSversion(), TOLERANCE);
    for (size_t k = 0; k < sizeof drawings / sizeof drawings[0]; k++) {
        double before = 0;
        for (int pieces = 100; pieces <= 100000; pieces *= 10) {
            double length, other, d = drawings[k].d;
            bw_curve *edge = make(&drawings[k], pieces);
            GEOSGeometry *piece = sampled(geos, edge);
            double ours = time_ours(edge, d, &length), theirs = time_geos(geos, piece, d, &other);
            printf("  %-34s %6d pieces: %9.3f ms, GEOS %9.3f ms: %5.1f times faster", drawings[k].name, pieces,
                   ours * 1e3, theirs * 1e3, theirs / ours);
            if (before > 0)
                printf("; %.1f times the time of a tenth", ours / before);
            printf("; lengths differ by %.1e\n", fabs(length / other - 1));
            fflush(stdout);
            before = ours;
            GEOSGeom_destroy_r(geos, piece);
            bw_curve_destroy(edge);
        }
    }
    GEOS_finish_r(geos);
    return 0;
}
