/* round.c - along the round, impression by impression. */
#include <math.h>

#include "bench/inner.h"

static int impressions(const bench *b) {
    return show_impressions(desk_plan(b->desk), b->band);
}

bool round_lacks(bench *b) {
    if (impressions(b) == 0) {
        bench_refuse(b, "There is no round here: no impression has room.");
        return true;
    }
    return false;
}

void do_round(bench *b, int key) {
    (void)key;
    if (!round_lacks(b)) {
        b->impression = b->impression < 1 ? 1 : b->impression;
        bench_go(b, BENCH_ROUND);
    }
}

void do_round_step(bench *b, int key) {
    int count = impressions(b), by = key == BENCH_KEY_LEFT || key == BENCH_KEY_UP      ? -1
                                     : key == BENCH_KEY_RIGHT || key == BENCH_KEY_DOWN ? 1
                                     : key == '<' || key == ','                        ? -10
                                                                                       : 10;
    if (key == BENCH_KEY_HOME || key == BENCH_KEY_END) {
        b->impression = key == BENCH_KEY_HOME ? 1 : count;
        return;
    }
    /* A round has no end: after the last comes the first. */
    b->impression = ((b->impression - 1 + by) % count + count) % count + 1;
}

static void go_to(bench *b, int at, const char *place) {
    if (at == 0) {
        bench_refuse(b, "There is no %s place: the steps are the same all along.", place);
        return;
    }
    b->impression = at;
    bench_say(b, "the %s place of this band", place);
}

void do_tightest(bench *b, int key) {
    (void)key;
    int at = show_tightest(desk_plan(b->desk), b->band);
    go_to(b, at, "tightest");
}

void do_widest(bench *b, int key) {
    (void)key;
    int at = show_widest(desk_plan(b->desk), b->band);
    go_to(b, at, "widest");
}

void do_seam(bench *b, int key) {
    (void)key;
    b->impression = 1;
    bench_say(b, "the seam: impression 1, where the last one meets it");
}
