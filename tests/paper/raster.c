/* raster.c - see raster.h. */
#include "paper/raster.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/base.h"

#define DARK 140

raster raster_page(const char *pdf, int page, double dpi, double from, double down, double wide, double high) {
    raster r = {.per_mm = dpi / BW_MM_PER_INCH};
    char command[600], crop[160] = "";
    if (wide > 0) {
        int x = (int)floor(from * r.per_mm), y = (int)floor(down * r.per_mm);
        snprintf(crop, sizeof crop, "-x %d -y %d -W %d -H %d", x, y, (int)(wide * r.per_mm), (int)(high * r.per_mm));
        r.left = x / r.per_mm;
        r.top = y / r.per_mm;
    }
    snprintf(command, sizeof command, "pdftoppm -gray -r %.0f -f %d -l %d %s '%s'", dpi, page, page, crop, pdf);
    FILE *from_it = popen(command, "r");
    ck_assert_ptr_nonnull(from_it);
    ck_assert_int_eq(fscanf(from_it, "P5 %d %d 255", &r.width, &r.height), 2);
    fgetc(from_it);
    size_t size = (size_t)r.width * (size_t)r.height;
    r.dots = malloc(size);
    ck_assert_ptr_nonnull(r.dots);
    ck_assert_uint_eq(fread(r.dots, 1, size, from_it), size);
    ck_assert_int_eq(pclose(from_it), 0);
    return r;
}

void raster_free(raster *page) {
    free(page->dots);
    page->dots = NULL;
}

bool raster_dark(const raster *page, double x, double y) {
    int column = (int)floor((x - page->left) * page->per_mm), row = (int)floor((y - page->top) * page->per_mm);
    if (column < 0 || column >= page->width || row < 0 || row >= page->height)
        return false;
    return page->dots[(size_t)row * (size_t)page->width + (size_t)column] < DARK;
}

bool raster_run(const raster *page, double x, double y, double turn, double least, double most, double *middle,
                double *wide) {
    double step = 0.4 / page->per_mm, c = cos(turn), s = sin(turn), at = least;
    while (at < most && !raster_dark(page, x + at * c, y + at * s))
        at += step;
    if (at >= most)
        return false;
    double from = at;
    while (raster_dark(page, x + at * c, y + at * s))
        at += step;
    *wide = at - from;
    *middle = (from + at) / 2;
    return true;
}

int raster_near(double *points, int count, const fitted *circle, double most) {
    int kept = 0;
    for (int i = 0; i < count; i++)
        if (fabs(hypot(points[2 * i] - circle->x, points[2 * i + 1] - circle->y) - circle->radius) < most) {
            points[2 * kept] = points[2 * i];
            points[2 * kept++ + 1] = points[2 * i + 1];
        }
    return kept;
}

fitted raster_circle(const double *points, int count) {
    double sx = 0, sy = 0, sxx = 0, syy = 0, sxy = 0, sxz = 0, syz = 0, sz = 0;
    fitted f = {.points = count};
    for (int i = 0; i < count; i++) {
        double x = points[2 * i], y = points[2 * i + 1], z = x * x + y * y;
        sx += x, sy += y, sz += z;
        sxx += x * x, syy += y * y, sxy += x * y;
        sxz += x * z, syz += y * z;
    }
    double n = count, a = sxx - sx * sx / n, b = sxy - sx * sy / n, c = syy - sy * sy / n;
    double p = sxz - sx * sz / n, q = syz - sy * sz / n, whole = a * c - b * b;
    ck_assert(count > 3 && fabs(whole) > 1e-6);
    f.x = (p * c - q * b) / whole / 2;
    f.y = (q * a - p * b) / whole / 2;
    f.radius = sqrt(sz / n - 2 * (f.x * sx + f.y * sy) / n + f.x * f.x + f.y * f.y);
    for (int i = 0; i < count; i++)
        f.worst = fmax(f.worst, fabs(hypot(points[2 * i] - f.x, points[2 * i + 1] - f.y) - f.radius));
    return f;
}

/* Two quarters dark, two light, a ring around them and nothing just outside it. */
static bool looks_like_mark(const raster *page, double x, double y) {
    for (int i = 0; i < 4; i++) {
        double sx = i == 0 || i == 3 ? 1 : -1, sy = i < 2 ? -1 : 1;
        bool dark = i == 0 || i == 2; /* upper right and lower left */
        for (double in = 0.35; in < 0.9; in += 0.25)
            if (raster_dark(page, x + sx * in, y + sy * in) != dark)
                return false;
        bool ring = false;
        for (double in = 2.0; in < 2.4; in += 0.05)
            ring = ring || raster_dark(page, x + sx * in * M_SQRT1_2, y + sy * in * M_SQRT1_2);
        if (!ring || raster_dark(page, x + sx * 1.85 * M_SQRT1_2, y + sy * 1.85 * M_SQRT1_2) ||
            raster_dark(page, x + sx * 2.7 * M_SQRT1_2, y + sy * 2.7 * M_SQRT1_2))
            return false;
    }
    return true;
}

int raster_marks(const raster *page, double marks[][2], int room) {
    int count = 0;
    double sums[40][3] = {{0}}, step = 1 / page->per_mm;
    for (double y = page->top + 3; y < page->top + page->height * step - 3; y += step)
        for (double x = page->left + 3; x < page->left + page->width * step - 3; x += step) {
            if (!looks_like_mark(page, x, y))
                continue;
            int k = 0;
            while (k < count && hypot(sums[k][0] / sums[k][2] - x, sums[k][1] / sums[k][2] - y) > 3)
                k++;
            ck_assert_int_lt(k, 40);
            count = k == count ? count + 1 : count;
            sums[k][0] += x, sums[k][1] += y, sums[k][2] += 1;
        }
    ck_assert_int_le(count, room);
    for (int k = 0; k < count; k++) {
        marks[k][0] = sums[k][0] / sums[k][2];
        marks[k][1] = sums[k][1] / sums[k][2];
    }
    return count;
}
