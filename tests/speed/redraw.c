/* redraw.c - whole redraws of the workbench, from the key to the last cell, against one 60 Hz frame: processor time of
 * bench_key and bench_draw at two sizes of the window, for large pieces and for such as fail. Usage: speed_redraw
 * FOLDER, in which the pieces are written. Prints means and the worst; decides nothing. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "bench/bench.h"

#define FRAME_MS (1000.0 / 60)
#define WAVE 2.0 /* mm */
enum { PATH_MOST = 500, SLOW_MS = 2000 };

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

/* ---- the pieces ---- */

static FILE *begin_file(const char *folder, const char *name, char path[PATH_MOST]) {
    snprintf(path, PATH_MOST, "%s/%s", folder, name);
    FILE *to = fopen(path, "w");
    if (to == NULL) {
        perror(path);
        exit(1);
    }
    return to;
}

static void write_tools(FILE *to) {
    fputs("tools:\n", to);
    for (int i = 0; i < 1000; i++)
        fprintf(to, "  - {id: t%d, kind: basket, length: %.2f}\n", i, 5 + i * 0.01);
}

/* Fifty bands and a thousand tools. */
static void write_large(FILE *to) {
    fputs("bandwright-project: 1\noutline: {shape: circle, diameter: 1500}\nbands:\n", to);
    for (int i = 0; i < 50; i++)
        fprintf(to, "  - {name: band %d, space: 2, width: 11, fill: basket, tool: t%d, lay: %s}\n", i, i * 20,
                i % 2 == 0 ? "straight" : "angled");
    write_tools(to);
}

/* Stamps too long for their bends: twenty-five bands fail. */
static void write_large_failing(FILE *to) {
    fputs("bandwright-project: 1\noutline: {shape: ellipse, length: 1500, width: 700}\nbands:\n", to);
    for (int i = 0; i < 25; i++)
        fprintf(to, "  - {name: band %d, space: 2, width: 11, fill: basket, tool: long, lay: %s}\n", i,
                i % 2 == 0 ? "straight" : "angled");
    fputs("tools:\n  - {id: long, kind: basket, length: 38}\n", to);
}

static const char failing_band[] = "bands:\n  - {name: weave, space: 4, width: 16, fill: basket, tool: long}\n"
                                   "tools:\n  - {id: long, kind: basket, length: 14}\n";

static void write_oval(FILE *to) {
    fprintf(to, "bandwright-project: 1\noutline: {shape: ellipse, length: 240, width: 120}\n%s", failing_band);
}

/* A round of waves, four curves each. */
static void write_waves(FILE *to, int waves, double radius) {
    fputs("bandwright-project: 1\noutline:\n  shape: path\n  svg: >-\n", to);
    int count = waves * 4;
    for (int i = 0; i <= count; i++) {
        double turn = 2 * acos(-1) / count, x[3], y[3];
        for (int k = 0; k < 3; k++) {
            double at = (i - 1 + (k + 1) / 3.0) * turn, r = radius + WAVE * sin(at * waves);
            x[k] = r * cos(at);
            y[k] = r * sin(at);
        }
        if (i == 0)
            fprintf(to, "    M %.4f %.4f\n", x[2], y[2]);
        else
            fprintf(to, "    C %.4f %.4f %.4f %.4f %.4f %.4f\n", x[0], y[0], x[1], y[1], i == count ? radius : x[2],
                    i == count ? 0 : y[2]);
    }
    fprintf(to, "    Z\n%s", failing_band);
}

static void write_inventory(FILE *to) {
    fputs("bandwright-inventory: 1\n", to);
    write_tools(to);
}

/* ---- hands ---- */

/* Keys as characters of a text: those that have none are told by control characters. */
static int key_of(char c) {
    static const int named[] = {BENCH_KEY_NONE, BENCH_KEY_UP, BENCH_KEY_DOWN, BENCH_KEY_LEFT, BENCH_KEY_RIGHT};
    return c == '\n'     ? BENCH_KEY_ENTER
           : c == '\033' ? BENCH_KEY_ESC
           : c == '\t'   ? BENCH_KEY_TAB
           : c < 5       ? named[(int)c]
                         : c;
}
#define UP "\001"
#define DOWN "\002"
#define LEFT "\003"
#define RIGHT "\004"

typedef struct doing {
    const char *what, *before, *keys, *after; /* pressed once, again and again, once */
    int rounds;
} doing;

static const doing doings[] = {
    {"paint all", "", "\f", "", 20},
    {"step a value", DOWN DOWN, RIGHT LEFT, "", 40},
    {"take a value in hand", "", DOWN UP, "", 40},
    {"next band", "", "\t", "", 40},
    {"undo, redo", DOWN DOWN RIGHT, "uU", "u", 40},
    {"laid straight, along", "V", "}{", "V", 40},
    {"along the round", "r", RIGHT, "\033", 40},
    {"drawing, closer", "z", "zZ", "\033", 40},
    {"all figures", "e", DOWN UP, "\033", 40},
    {"open the stamps, leave", "", "t\033", "", 20},
    {"choose a stamp", "t", DOWN, "\033", 20},
    {"inventory, next tool", "i", DOWN, "\033", 40},
    {"warnings, open, leave", "", "w\033", "", 20},
    {"list of commands", "/", "ro", "\033", 20},
};

typedef struct spent {
    double sum, worst;
    int count;
} spent;

static void one(bench *b, show_grid *grid, int key, spent *s) {
    double begin = now();
    (void)bench_key(b, key);
    bench_draw(b, grid);
    double took = now() - begin;
    s->sum += took;
    s->worst = fmax(s->worst, took);
    s->count++;
}

static void press(bench *b, show_grid *grid, const char *keys) {
    spent s = {0};
    for (; *keys; keys++)
        one(b, grid, *keys == '\f' ? BENCH_KEY_REPAINT : key_of(*keys), &s);
}

static void tell(const char *what, const spent *s) {
    double mean = s->sum / (s->count > 0 ? s->count : 1);
    printf("    %-24s %8.2f ms, %.2f of a frame; the worst %8.2f ms%s\n", what, mean, mean / FRAME_MS, s->worst,
           s->worst > FRAME_MS ? "  MORE THAN A FRAME" : "");
}

/* A search that goes on while no key comes. */
static void searching(bench *b, show_grid *grid, char key, const char *what) {
    char words[60];
    spent opening = {0}, idle = {0};
    one(b, grid, key, &opening);
    while (bench_busy(b) && idle.sum < SLOW_MS) {
        double begin = now();
        if (bench_idle(b) & BENCH_REDRAW)
            bench_draw(b, grid);
        double took = now() - begin;
        idle.sum += took;
        idle.worst = fmax(idle.worst, took);
        idle.count++;
    }
    press(b, grid, "\033");
    snprintf(words, sizeof words, "%s, open", what);
    tell(words, &opening);
    snprintf(words, sizeof words, "%s, a step", what);
    tell(words, &idle);
}

static void measure(const char *file, const bench_places *places, int width, int height) {
    show_grid grid;
    shop_problems problems;
    shop_status status;
    shop_problems_init(&problems, file);
    bench *b = bench_create(file, places, &problems, &status);
    if (b == NULL || !show_grid_init(&grid, width, height, true)) {
        shop_problems_print(&problems, stderr);
        exit(1);
    }
    spent first = {0};
    one(b, &grid, BENCH_KEY_REPAINT, &first);
    printf("  %s (an edge of %zu pieces) at %dx%d\n", strrchr(file, '/') + 1,
           bw_curve_pieces(desk_plan(bench_desk(b))->edge), width, height);
    tell("first screen", &first);
    for (size_t i = 0; i < sizeof doings / sizeof doings[0]; i++) {
        const doing *d = &doings[i];
        spent s = {0};
        press(b, &grid, d->before);
        for (int k = 0; k < d->rounds && s.sum < SLOW_MS; k++) {
            char key = d->keys[(size_t)k % strlen(d->keys)];
            one(b, &grid, key == '\f' ? BENCH_KEY_REPAINT : key_of(key), &s);
        }
        press(b, &grid, d->after);
        tell(d->what, &s);
    }
    searching(b, &grid, 'c', "suggestions");
    searching(b, &grid, 'C', "sizes that close");
    show_grid_free(&grid);
    bench_destroy(b);
    shop_problems_free(&problems);
}

int main(int argc, char **argv) {
    enum { FILES = 4 };
    static const struct {
        const char *name;
        bool many_tools;
    } pieces[FILES] = {
        {"fifty-bands.yaml", true}, {"oval-fails.yaml", false}, {"bands-fail.yaml", false}, {"waves-fail.yaml", false}};
    if (argc < 2)
        return 2;
    char inventory[PATH_MOST], files[FILES][PATH_MOST];
    FILE *to = begin_file(argv[1], "thousand-tools.yaml", inventory);
    write_inventory(to);
    fclose(to);
    for (int i = 0; i < FILES; i++) {
        to = begin_file(argv[1], pieces[i].name, files[i]);
        if (i == 0)
            write_large(to);
        else if (i == 1)
            write_oval(to);
        else if (i == 2)
            write_large_failing(to);
        else
            write_waves(to, 30, 150);
        fclose(to);
    }
    for (int i = 0; i < FILES; i++) {
        const bench_places places = {pieces[i].many_tools ? inventory : "share/inventory.yaml", argv[1], argv[1]};
        measure(files[i], &places, 80, 24);
        measure(files[i], &places, 120, 40);
    }
    return 0;
}
