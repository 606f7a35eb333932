/* raster.h - a page as another program prints it, measured with a ruler: dark runs along lines of dots, in mm. */
#ifndef TESTS_PAPER_RASTER_H
#define TESTS_PAPER_RASTER_H

#include <stdbool.h>
#include <stddef.h>

typedef struct raster {
    int width, height;
    double per_mm;
    double left, top; /* mm of the page, of the first dot */
    unsigned char *dots;
} raster;

/* A page of a PDF (from 1) by pdftoppm; from, down, wide, high: the part of it, mm (wide 0: all). */
raster raster_page(const char *pdf, int page, double dpi, double from, double down, double wide, double high);
void raster_free(raster *page);
bool raster_dark(const raster *page, double x, double y); /* mm of the page; white outside */

/* The dark run that a walk from one place towards another meets first from `least` mm on; false if there is none before
 * `most`. middle, wide: mm along the walk. */
bool raster_run(const raster *page, double x, double y, double turn, double least, double most, double *middle,
                double *wide);

typedef struct fitted {
    double x, y, radius; /* mm */
    double worst;        /* mm by which a point misses */
    int points;
} fitted;
/* The circle through points (x, y, x, y ...) with least squares (I. Kasa, IEEE Trans. Instrum. Meas. 25, 1976, p. 8).
 */
fitted raster_circle(const double *points, int count);
/* Keeps the points that miss a circle by less; returns how many there are. */
int raster_near(double *points, int count, const fitted *circle, double most);

/* Joining marks: rings with two dark quarters; their middles, mm, at most `room` of them. */
int raster_marks(const raster *page, double marks[][2], int room);

#endif
