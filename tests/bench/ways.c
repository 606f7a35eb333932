/* ways.c - how each screen is come to by keys alone. */
#include "bench/ways.h"

#include <check.h>
#include <string.h>

#include "bench/hands.h"

#define LID "cedar-lid.yaml"

static const way ways[] = {
    {BENCH_START, NULL, NULL, "", NULL},
    {BENCH_FORM, NULL, NULL, "n Down", NULL},
    {BENCH_WORK, LID, NULL, "", NULL},
    {BENCH_TOOLS, LID, NULL, "t", NULL},
    {BENCH_MOVES, LID, NULL, "c", NULL},
    {BENCH_EVEN, "linden-flap.yaml", NULL, "C", NULL},
    {BENCH_FILLS, LID, NULL, "a", NULL},
    {BENCH_ITEMS, LID, NULL, "Shift-Tab*2 Home Down*4 Enter", NULL},
    {BENCH_ROUND, LID, NULL, "r", NULL},
    {BENCH_STRIKES, LID, NULL, "b", NULL},
    {BENCH_REST, LID, NULL, "b Space*9 Enter Enter", NULL},
    {BENCH_SECOND, LID, NULL, "g Right G", NULL},
    {BENCH_LOOK, LID, NULL, "z", NULL},
    {BENCH_TABLE, LID, NULL, "e", NULL},
    {BENCH_INVENTORY, LID, NULL, "i", NULL},
    {BENCH_TOOL, LID, NULL, "i Enter", NULL},
    {BENCH_TOOL_ITEMS, LID, NULL, "i Enter End Enter", NULL},
    {BENCH_KINDS, LID, NULL, "i a", NULL},
    {BENCH_STRIP, LID, NULL, "Y", NULL},
    {BENCH_READ, LID, NULL, "p", NULL},
    {BENCH_ASK, LID, NULL, "Right q", NULL},
    {BENCH_LEFT, LID, "Right*3 m", "", NULL},
    {BENCH_THEIRS, LID, NULL, "Right", "bandwright-project: 1\noutline: {shape: circle, diameter: 90}\n"},
    {BENCH_COMMANDS, LID, NULL, "/", NULL},
    {BENCH_TYPING, LID, NULL, "Enter", NULL},
};

const way *ways_all(size_t *count) {
    *count = sizeof ways / sizeof ways[0];
    return ways;
}

bench *ways_come(const way *one, const char *text) {
    hands_fresh(one->file);
    if (one->file != NULL && text != NULL) {
        hands_write(one->file, text);
    }
    if (one->before != NULL) {
        bench *gone = hands_open(one->file);
        hands_press(gone, one->before);
        (void)bench_leave(gone);
        bench_destroy(gone);
    }
    bench *b = hands_open(one->file);
    hands_press(b, one->keys);
    if (one->other != NULL) {
        hands_write(one->file, one->other);
        hands_press(b, "s");
    }
    ck_assert_msg(bench_where(b) == one->screen, "keys %s lead to screen %d", one->keys, bench_where(b));
    return b;
}
