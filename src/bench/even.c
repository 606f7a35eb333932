/* even.c - sizes that close, for the whole piece: looked for while no key waits, tried as the list is gone through. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"

/* By how much a step may change, in per cent: Left and Right go through them. */
static const double limits[] = {10, 5, 3, 2, 1, 0.5, 0.2, 0.1};
enum { USUAL = 2, LIMITS = sizeof limits / sizeof limits[0] };

double even_limit(const bench *b) {
    return limits[USUAL + b->even_nearer] / 100;
}

void even_forget_rows(bench *b) {
    for (size_t i = 0; i < b->even_row_count; i++) {
        free(b->even_rows[i]);
    }
    b->even_row_count = 0;
}

const char *even_row(const bench *b, size_t row) {
    return row < b->even_row_count ? b->even_rows[row] : "";
}

/* "weave width 18 mm -> 18.25 mm: 0.25 mm in all, steps within 0.4 %; then warned of bare-strip" */
static char *row_words(bench *b, const bw_even_answer *answer, size_t index) {
    show_words result;
    char *changes = desk_even_words(b->desk, index), *words = NULL;
    size_t room = 0;
    FILE *to = changes == NULL ? NULL : open_memstream(&words, &room);
    if (to != NULL) {
        show_even_result(&result, desk_kept(b->desk), answer);
        fprintf(to, "%s%s%s", changes, changes[0] != '\0' ? ": " : "", result.text);
        fclose(to);
    }
    free(changes);
    return words;
}

static void read_rows(bench *b) {
    bw_even_found found = desk_even_found(b->desk);
    even_forget_rows(b);
    for (size_t i = 0; i < found.count; i++) {
        char *words = row_words(b, &found.answers[i], i);
        if (words == NULL) {
            break;
        }
        b->even_rows[b->even_row_count++] = words;
    }
    b->list.count = b->even_row_count;
}

void even_try(bench *b) {
    shop_problems problems;
    shop_problems_init(&problems, "");
    if (b->list.at >= b->list.count) {
        desk_try_leave(b->desk);
    } else if (!desk_even_try(b->desk, b->list.at, &problems)) {
        bench_refuse_problem(b, &problems);
        return;
    }
    shop_problems_free(&problems);
}

/* The list is another: what was chosen by hand stays chosen; as long as nothing was, the best is tried. */
static void follow(bench *b, const char *chosen) {
    size_t at = 0;
    read_rows(b);
    while (b->list_moved && chosen != NULL && at < b->list.count && strcmp(even_row(b, at), chosen) != 0) {
        at++;
    }
    b->list.at = at < b->list.count ? at : 0;
    if (chosen == NULL || b->list.count == 0 || strcmp(even_row(b, b->list.at), chosen) != 0) {
        even_try(b);
    }
}

/* A part that a hand does not feel, by how long a plan takes: as an edge has pieces and bands have rows. */
static size_t part_of(const bench *b) {
    enum { PIECES_PLANNED = 24000, BESIDE = 60 };
    const bw_plan *plan = desk_plan(b->desk);
    size_t rows = 1;
    for (size_t i = 0; i < plan->band_count; i++) {
        rows = plan->bands[i].row_count > rows ? plan->bands[i].row_count : rows;
    }
    size_t trials = PIECES_PLANNED / (bw_curve_pieces(plan->edge) * rows + BESIDE);
    return trials > 1 ? trials : 1;
}

bool even_busy(const bench *b) {
    return desk_even_begun(b->desk) && !desk_even_found(b->desk).done;
}

unsigned even_idle(bench *b) {
    char *chosen = b->list.at < b->even_row_count ? strdup(even_row(b, b->list.at)) : NULL;
    (void)desk_even_more(b->desk, part_of(b));
    follow(b, chosen);
    free(chosen);
    return BENCH_REDRAW;
}

static void begin(bench *b) {
    enum { PIECES_SIMPLE = 64 };
    shop_problems problems;
    bw_even_wish wish;
    shop_problems_init(&problems, "");
    desk_even_wish(b->desk, &wish);
    wish.limit = even_limit(b);
    wish.fit = b->even_tight ? BW_TIGHT : BW_GOOD;
    b->list_moved = false;
    if (desk_even_begun(b->desk) || desk_even_begin(b->desk, &wish, &problems)) {
        shop_problems_free(&problems);
    } else {
        bench_refuse_problem(b, &problems);
    }
    follow(b, NULL);
    bool simple = bw_curve_pieces(desk_plan(b->desk)->edge) <= PIECES_SIMPLE;
    for (int part = 0; part < 4 && simple && even_busy(b); part++) { /* it is through before anybody sees it */
        (void)even_idle(b);
    }
}

void do_even(bench *b, int key) {
    (void)key;
    b->gap_before = bench_gap(b);
    bench_go(b, BENCH_EVEN);
    begin(b);
}

const char *refuse_no_bands(const bench *b) {
    return desk_project(b->desk)->layout.band_count > 0 ? NULL : "There is no band yet: {workbench.add-band} adds one.";
}

static void begin_anew(bench *b) {
    desk_even_drop(b->desk);
    b->list.at = b->list.first = 0;
    begin(b);
}

void do_even_limit(bench *b, int key) {
    int to = b->even_nearer + (key == BENCH_KEY_LEFT || key == '-' ? -1 : 1);
    if (to < -USUAL || to >= LIMITS - USUAL) {
        bench_refuse(b, to < 0 ? "More than %g %% would be seen by anybody." : "A hand cannot keep less than %g %%.",
                     100 * even_limit(b));
        return;
    }
    b->even_nearer = to;
    begin_anew(b);
}

void do_even_fit(bench *b, int key) {
    (void)key;
    b->even_tight = !b->even_tight;
    begin_anew(b);
}

void even_take(bench *b) {
    if (even_busy(b)) {
        bench_say(b, "Nothing is found yet; it is being looked for.");
    } else if (b->list.count > 0) {
        bench_say(b, "Nothing need be changed.");
    } else {
        bench_say(b, "There is nothing to take: {lists.leave} goes back.");
    }
}
