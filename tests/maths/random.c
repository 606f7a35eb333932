/* random.c - random but repeatable project files. */
#include "maths/random.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* splitmix64, public domain: every seed is a good one. */
static unsigned long long next(random_source *r) {
    unsigned long long z = (r->state += 0x9E3779B97F4A7C15ull);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ull;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBull;
    return z ^ (z >> 31);
}

double random_between(random_source *r, double least, double most) {
    return least + (most - least) * (double)(next(r) >> 11) * 0x1p-53;
}

int random_number(random_source *r, int least, int most) {
    return least + (int)(next(r) % (unsigned long long)(most - least + 1));
}

bool random_chance(random_source *r, double share) {
    return random_between(r, 0, 1) < share;
}

/* A length as a maker would write it: on a quarter of a millimetre, or to the hundredth. */
static double length(random_source *r, double least, double most) {
    double value = random_between(r, least, most);
    return random_chance(r, 0.5) ? round(value * 4) / 4 : round(value * 100) / 100;
}

static void write_outline(FILE *to, random_source *r) {
    double a = length(r, 70, 300), b = length(r, 70, 300), least = a < b ? a : b;
    switch (random_number(r, 0, 6)) {
    case 0:
        fprintf(to, "outline: {shape: line, length: %g}\n", a);
        break;
    case 1:
        fprintf(to, "outline: {shape: arc, radius: %g, sweep: %g}\n", length(r, 40, 300), length(r, 40, 350));
        break;
    case 2:
        fprintf(to, "outline: {shape: arc, radius: %g, sweep: -%g}\n", length(r, 20, 300), length(r, 40, 350));
        break;
    case 3:
        fprintf(to, "outline: {shape: rectangle, length: %g, width: %g, corner: [%g, %g, %g, %g]}\n", a, b,
                length(r, 0, least / 2), length(r, 0, least / 2), random_chance(r, 0.3) ? 0 : length(r, 0, least / 2),
                length(r, 0, least / 2));
        break;
    case 4:
        fprintf(to, "outline: {shape: rectangle, length: %g, width: %g, corner: %g}\n", a, b,
                random_chance(r, 0.3) ? 0 : length(r, 0, least / 2));
        break;
    default:
        fprintf(to, "outline: {shape: circle, diameter: %g}\n", length(r, 50, 260));
    }
    static const char *const marks[] = {"bottom", "right", "top", "left"};
    if (random_chance(r, 0.3)) {
        fprintf(to, "start-mark: %s\n", marks[random_number(r, 0, 3)]);
    } else if (random_chance(r, 0.2)) {
        fprintf(to, "start-mark: %g\n", length(r, 0, 50));
    }
    if (random_chance(r, 0.2)) {
        fprintf(to, "sizes: %s\nleather: {growth: %g %%}\n", random_chance(r, 0.5) ? "finished" : "laid-out",
                length(r, 0, 6));
    }
}

static void write_lose(FILE *to, random_source *r) {
    switch (random_number(r, 0, 5)) {
    case 0:
        fprintf(to, ", lose: last %d", random_number(r, 1, 15));
        break;
    case 1:
        fputs(", lose: straights", to);
        break;
    case 2:
        fputs(", lose: anchored", to);
        break;
    default:
        break;
    }
}

static void write_band(FILE *to, random_source *r, int number) {
    static const char *const fills[] = {"basket", "basket", "basket", "border", "stitch"};
    int fill = random_number(r, 0, 4);
    fprintf(to, "  - {name: b%d, fill: %s, tool: t%d, space: %g, width: %g", number, fills[fill], number,
            length(r, 0, 8),
            fill == 4   ? length(r, 0, 3)
            : fill == 3 ? length(r, 4, 9)
                        : length(r, 8, 30));
    if (fill < 3) {
        if (random_chance(r, 0.4)) {
            fprintf(to, ", lay: angled%s", random_chance(r, 0.5) ? ", slant: outward" : "");
        }
        if (random_chance(r, 0.3)) {
            fprintf(to, ", overlap: %.2f", random_between(r, 0, 1));
        }
    } else if (fill == 3 && random_chance(r, 0.4)) {
        fprintf(to, ", group: %d", random_number(r, 2, 3));
    }
    if (random_chance(r, 0.3)) {
        fprintf(to, ", guide: %d %%", random_number(r, 30, 70));
    }
    if (random_chance(r, 0.15)) {
        fprintf(to, ", count: %d", random_number(r, 10, 120));
    }
    write_lose(to, r);
    fputs(random_chance(r, 0.6) ? ", outer: {line: cut, bevel: inside}" : "", to);
    fputs(random_chance(r, 0.6) ? ", inner: {line: scribe}}\n" : "}\n", to);
}

static void write_tool(FILE *to, random_source *r, int number, const char *fill) {
    if (fill[1] == 'a') { /* basket */
        double l = length(r, 4, 13);
        fprintf(to, "  - {id: t%d, kind: basket, length: %g", number, l);
        if (random_chance(r, 0.8)) {
            double w = l * random_between(r, 0.4, 0.7);
            fprintf(to, ", width: %.2f, bar: %.2f, rail: %.2f", w, l * random_between(r, 0.2, 0.5),
                    w * random_between(r, 0.2, 0.35));
        }
        if (random_chance(r, 0.2)) {
            fprintf(to, ", steps: {usual: %.2f}", l * random_between(r, 0.8, 0.85));
        }
    } else if (fill[0] == 'b') {
        fprintf(to, "  - {id: t%d, kind: border, length: %g, width: %g", number, length(r, 3, 9), length(r, 2, 9));
    } else {
        fprintf(to, "  - {id: t%d, kind: iron, pitch: %g, teeth: %d", number, length(r, 2.5, 6),
                random_number(r, 1, 8));
    }
    fputs("}\n", to);
}

char *random_project(unsigned seed) {
    random_source r = {.state = seed * 7919ull + 1};
    char *text = NULL;
    size_t size = 0;
    FILE *to = open_memstream(&text, &size);
    ck_assert_ptr_nonnull(to);
    fprintf(to, "bandwright-project: 1\npiece: Sample %u\n", seed);
    write_outline(to, &r);
    fputs("bands:\n", to);
    int bands = random_number(&r, 1, 3);
    for (int i = 1; i <= bands; i++) {
        write_band(to, &r, i);
    }
    fputs("tools:\n", to);
    for (int i = 1; i <= bands; i++) {
        /* the tool's kind follows from what was written for its band */
        fflush(to);
        char mark[40];
        snprintf(mark, sizeof mark, "name: b%d, fill: ", i);
        const char *fill = strstr(text, mark) + strlen(mark);
        write_tool(to, &r, i, fill);
    }
    fclose(to);
    return text;
}
