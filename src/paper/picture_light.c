/* picture_light.c - from depths to colours: soft light from the upper left on tanned leather. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "paper/picture.h"
#include "shop/alloc.h"

#define BLUR 0.85        /* mm over which leather between prints is pulled down with them */
#define PULLED 0.55      /* share of a depth that is spread so */
#define EDGE_ROUND 1.1   /* mm over which the edge is burnished round */
#define RELIEF 1.45      /* heights are drawn a little larger than they are */
#define GRAIN_HIGH 0.012 /* mm, of the leather's own grain */
#define GRAIN_WIDE 0.55  /* mm, of its cells */
#define SHADOW_FALL 1.6  /* mm to the lower right */
#define SHADOW_SOFT 2.0  /* mm */
#define SHADOW_DARK 0.42

typedef struct colour {
    float red, green, blue; /* 0 to 1 */
} colour;

static const colour leather = {0.800f, 0.575f, 0.365f}, struck = {0.430f, 0.235f, 0.115f},
                    burnished = {0.480f, 0.275f, 0.140f}, linen = {0.940f, 0.895f, 0.800f};

static colour mix(colour a, colour b, float share) {
    return (colour){a.red + share * (b.red - a.red), a.green + share * (b.green - a.green),
                    a.blue + share * (b.blue - a.blue)};
}

/* ---- blur: three times a running mean, which comes near to a bell; time is that of the pixels alone ---- */

static void mean_along(const float *from, float *to, int count, size_t step, int half) {
    double sum = 0;
    for (int i = -half; i <= half; i++) {
        int at = i < 0 ? 0 : i >= count ? count - 1 : i;
        sum += from[(size_t)at * step];
    }
    for (int i = 0; i < count; i++) {
        to[i] = (float)(sum / (2 * half + 1));
        int out = i - half < 0 ? 0 : i - half, in = i + half + 1 >= count ? count - 1 : i + half + 1;
        sum += (double)from[(size_t)in * step] - from[(size_t)out * step];
    }
}

/* In place; `line` holds the longer side. */
static void blur(const picture *p, float *field, int half, float *line) {
    if (half < 1)
        return;
    for (int round = 0; round < 3; round++) {
        for (int row = 0; row < p->height; row++) {
            float *first = field + (size_t)row * (size_t)p->width;
            mean_along(first, line, p->width, 1, half);
            for (int i = 0; i < p->width; i++)
                first[i] = line[i];
        }
        for (int column = 0; column < p->width; column++) {
            mean_along(field + column, line, p->height, (size_t)p->width, half);
            for (int i = 0; i < p->height; i++)
                field[(size_t)i * (size_t)p->width + (size_t)column] = line[i];
        }
    }
}

/* ---- grain: the same for the same place of every piece ---- */

static float scatter(int32_t x, int32_t y) {
    uint32_t h = (uint32_t)x * 0x9E3779B1u ^ (uint32_t)y * 0x85EBCA77u;
    h = (h ^ (h >> 15)) * 0x2C1B3C6Du;
    h = (h ^ (h >> 12)) * 0x297A2D39u;
    return (float)((h ^ (h >> 15)) >> 8) / (float)(1 << 24);
}

static float grain_at(double x, double y) {
    double fx = floor(x), fy = floor(y);
    int32_t ix = (int32_t)fx, iy = (int32_t)fy;
    float tx = (float)picture_smooth(0, 1, x - fx), ty = (float)picture_smooth(0, 1, y - fy);
    float top = scatter(ix, iy) * (1 - tx) + scatter(ix + 1, iy) * tx;
    float bottom = scatter(ix, iy + 1) * (1 - tx) + scatter(ix + 1, iy + 1) * tx;
    return top * (1 - ty) + bottom * ty - 0.5f;
}

/* ---- heights ---- */

/* mm over the flat leather. */
static float height_of(const picture *p, size_t pixel, float spread, double x, double y) {
    float deep = p->pressed[pixel], inside = p->inside[pixel];
    float high = p->thread[pixel] > 0 ? -deep : -(float)(1 - PULLED) * deep - (float)PULLED * spread;
    if (inside < (float)EDGE_ROUND && p->ends == 0) {
        double short_of = EDGE_ROUND - fmax(inside, 0);
        high -= (float)(EDGE_ROUND - sqrt(EDGE_ROUND * EDGE_ROUND - short_of * short_of)) * 0.6f;
    }
    double flat = 1 - 0.75 * fmin(1, fmax(0, deep / p->depth));
    double cell = x / GRAIN_WIDE, cell_up = y / GRAIN_WIDE;
    float grain = grain_at(cell, cell_up) + 0.6f * grain_at(2.3 * cell + 7, 2.3 * cell_up - 3);
    return p->thread[pixel] > 0 ? high : high + (float)(GRAIN_HIGH * flat) * grain;
}

typedef struct scene {
    const picture *p;
    const float *high, *spread, *shadow;
} scene;

static float at(const scene *s, int column, int row) {
    int x = column < 0 ? 0 : column >= s->p->width ? s->p->width - 1 : column;
    int y = row < 0 ? 0 : row >= s->p->height ? s->p->height - 1 : row;
    return s->high[(size_t)y * (size_t)s->p->width + (size_t)x];
}

/* How bright, 1 where the leather lies flat. */
static float brightness(const scene *s, int column, int row, float *shine) {
    const picture *p = s->p;
    float scale = (float)(RELIEF * p->per_mm / 2);
    float x = (at(s, column - 1, row) - at(s, column + 1, row)) * scale;
    float y = (at(s, column, row + 1) - at(s, column, row - 1)) * scale; /* up is against the lines */
    float length = sqrtf(x * x + y * y + 1);
    static const float light[3] = {-0.46f, 0.54f, 0.705f}; /* from the upper left, of length 1 */
    float fall = (x * light[0] + y * light[1] + light[2]) / length;
    fall = fall < 0 ? 0 : fall;
    /* Half between the light and the eye, which looks straight down. */
    float half = (x * light[0] + y * light[1] + light[2] + 1) / (length * sqrtf(2 + 2 * light[2]));
    *shine = powf(half < 0 ? 0 : half, 28);
    return 0.42f + 0.58f * fall / light[2];
}

static float share_of_leather(const picture *p, size_t pixel) {
    float inside = p->inside[pixel];
    float share = inside * (float)p->per_mm + 0.5f;
    share = share < 0 ? 0 : share > 1 ? 1 : share;
    if (p->ends > 0 && inside > 0)
        share *= 1 - (float)picture_smooth(p->ends - PICTURE_FADE, p->ends, inside);
    return share;
}

static unsigned byte_of(float value) {
    return value <= 0 ? 0u : value >= 1 ? 255u : (unsigned)(value * 255 + 0.5f);
}

static colour colour_at(const scene *s, int column, int row) {
    const picture *p = s->p;
    size_t pixel = (size_t)row * (size_t)p->width + (size_t)column;
    float deep = p->pressed[pixel], share = deep <= 0 ? 0 : fminf(1.3f, deep / (float)p->depth), shine;
    float bright = brightness(s, column, row, &shine);
    colour c = mix(leather, struck, 0.62f * share / 1.3f);
    if (p->ends == 0)
        c = mix(c, burnished, 0.8f * (1 - (float)picture_smooth(0.1, 1.6, p->inside[pixel])));
    /* What lies lower than all around it gets less of the sky. */
    float hollow = (deep - s->spread[pixel]) / (float)p->depth;
    bright *= 1 - 0.28f * fmaxf(-0.4f, fminf(1.2f, hollow));
    float thread = p->thread[pixel] / 255.0f;
    c = mix(c, linen, thread);
    shine *= (1 - thread) * (0.10f + 0.06f * share);
    return (colour){c.red * bright + shine, c.green * bright + shine, c.blue * bright + shine};
}

static void light_all(const scene *s, unsigned *colours, size_t stride) {
    const picture *p = s->p;
    const colour plain = {(float)(PICTURE_PLAIN >> 16 & 255u) / 255, (float)(PICTURE_PLAIN >> 8 & 255u) / 255,
                          (float)(PICTURE_PLAIN & 255u) / 255};
    int fall = (int)lround(SHADOW_FALL * p->per_mm);
    for (int row = 0; row < p->height; row++)
        for (int column = 0; column < p->width; column++) {
            size_t pixel = (size_t)row * (size_t)p->width + (size_t)column;
            float there = share_of_leather(p, pixel), dark = 0;
            if (s->shadow && row >= fall && column >= fall)
                dark = (float)SHADOW_DARK * s->shadow[pixel - (size_t)fall * ((size_t)p->width + 1)];
            colour c = {plain.red * (1 - dark), plain.green * (1 - dark), plain.blue * (1 - dark)};
            if (there > 0)
                c = mix(c, colour_at(s, column, row), there);
            colours[(size_t)row * stride + (size_t)column] =
                byte_of(c.red) << 16 | byte_of(c.green) << 8 | byte_of(c.blue);
        }
}

bool picture_light(const picture *p, unsigned *colours, size_t stride) {
    size_t count = (size_t)p->width * (size_t)p->height;
    float *spread = shop_alloc(count * sizeof *spread), *high = shop_alloc(count * sizeof *high);
    float *shadow = shop_alloc(count * sizeof *shadow);
    float *line = shop_alloc((size_t)(p->width > p->height ? p->width : p->height) * sizeof *line);
    bool fine = spread && high && shadow && line;
    if (fine) {
        for (size_t i = 0; i < count; i++) {
            spread[i] = p->pressed[i] > 0 ? p->pressed[i] : 0;
            shadow[i] = share_of_leather(p, i);
        }
        blur(p, spread, (int)lround(BLUR * p->per_mm / 1.7), line);
        blur(p, shadow, (int)lround(SHADOW_SOFT * p->per_mm / 1.7), line);
        for (int row = 0; row < p->height; row++)
            for (int column = 0; column < p->width; column++) {
                size_t i = (size_t)row * (size_t)p->width + (size_t)column;
                high[i] = height_of(p, i, spread[i], picture_x(p, column), picture_y(p, row));
            }
        scene s = {p, high, spread, p->ends == 0 ? shadow : NULL};
        light_all(&s, colours, stride);
    }
    free(line);
    free(shadow);
    free(high);
    free(spread);
    return fine;
}
