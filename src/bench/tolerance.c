/* tolerance.c - by how much a round may miss its end and still close: it stands in no file, and holds for every piece
 * that is opened until the program ends. */
#include "bench/inner.h"

/* The piece in hand, from now on. */
static void take(bench *b, double mm) {
    b->tolerance = mm;
    tolerance_follow(b);
}

void tolerance_follow(bench *b) {
    if (b->tolerance > 0 && b->desk != NULL) {
        desk_set_tolerance(b->desk, b->tolerance);
    }
}

bool bench_set_tolerance(bench *b, const char *text, char reason[160]) {
    double mm;
    bool fine = shop_parse_tolerance(text, b->desk != NULL ? desk_project(b->desk)->units : SHOP_MM, &mm, reason);
    if (fine) {
        take(b, mm);
    }
    return fine;
}

void do_tolerance(bench *b, int key) {
    (void)key;
    char now[ROW_TEXT];
    const shop_project *project = desk_project(b->desk);
    shop_write_length(project->tolerance, project->units, now, sizeof now);
    bench_type(b, TYPING_TOLERANCE, now);
    bench_say(b,
              "By how much may a round miss its end and still close? Chances and check marks are told for it, here, on "
              "the page, the card and the template. {typing.take} takes it, {typing.leave} leaves it.");
}

void tolerance_type(bench *b, const char *typed) {
    char reason[160], shown[ROW_TEXT];
    if (!bench_set_tolerance(b, typed, reason)) {
        bench_refuse(b, "This cannot be: %s; {typing.leave} leaves it.", reason);
        return;
    }
    b->typing = TYPING_NOTHING;
    shop_show_length(b->tolerance, desk_project(b->desk)->units, shown, sizeof shown);
    bench_say(b, "A round closes from now on if it ends within %s; the file does not change.", shown);
}
