/* round.c - along the round, impression by impression, and the count of strikes at the bench. */
#include <math.h>

#include "bench/inner.h"

static int impressions(const bench *b) {
    return show_impressions(desk_plan(b->desk), b->band);
}

static int to_strike(const bench *b) {
    return show_struck(desk_plan(b->desk), b->band);
}

static bool nothing_to_count(bench *b) {
    if (impressions(b) == 0) {
        bench_refuse(b, "There is no round here: no impression has room.");
        return true;
    }
    return false;
}

void do_round(bench *b, int key) {
    (void)key;
    if (!nothing_to_count(b)) {
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

/* ---- strikes ---- */

void do_strikes(bench *b, int key) {
    (void)key;
    if (nothing_to_count(b)) {
        return;
    }
    if (b->struck_band != b->band) {
        b->struck = 0;
        b->struck_band = b->band;
    }
    bench_go(b, BENCH_STRIKES);
}

void do_strike(bench *b, int key) {
    (void)key;
    if (b->struck >= to_strike(b)) {
        bench_say(b, "The round is full: every impression is struck.");
        return;
    }
    b->struck++;
}

void do_unstrike(bench *b, int key) {
    (void)key;
    if (b->struck == 0) {
        bench_say(b, "Nothing is struck yet.");
        return;
    }
    b->struck--;
}

void do_strikes_anew(bench *b, int key) {
    (void)key;
    b->struck = 0;
}
