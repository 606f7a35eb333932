/* lists.c - lists to choose from, with everything showing the answer: stamps, suggestions, what a band holds. */
#include <stdlib.h>
#include <string.h>

#include "bench/inventory.h"

const char *refuse_no_rounds(const bench *b) {
    const bw_band_plan *plan = bench_band_plan(b);
    if (plan == NULL) {
        return "There is no band yet: a adds one.";
    }
    if (plan->fill == BW_FILL_PLAIN) {
        return "A plain band holds no impressions: give it another fill, or Tab to another band.";
    }
    return NULL;
}

/* The list's ranks are those of the layout without the trial. */
static void try_chosen(bench *b) {
    size_t count;
    shop_problems problems;
    shop_problems_init(&problems, "");
    bool fine = true;
    if (b->screen == BENCH_TOOLS) {
        const bw_rank *ranks = desk_ranks(b->desk, b->band, &count);
        fine = b->list.at >= count || desk_try_tool(b->desk, b->band, ranks[b->list.at].tool, &problems);
        if (b->list.at >= count) {
            desk_try_leave(b->desk);
        }
    } else if (b->screen == BENCH_MOVES) {
        const desk_suggestion *list = desk_suggestions(b->desk, b->band, &count);
        fine = b->list.at >= count || desk_try_take(b->desk, &list[b->list.at], &problems);
    }
    if (fine) {
        shop_problems_free(&problems);
    } else {
        bench_refuse_problem(b, &problems);
    }
}

void do_list(bench *b, int key) {
    list_key(&b->list, key, (size_t)(b->height > 12 ? b->height - 10 : 3));
    try_chosen(b);
}

/* ---- stamps ---- */

void do_tools(bench *b, int key) {
    (void)key;
    const char *why = refuse_no_rounds(b);
    if (why != NULL) {
        bench_refuse(b, "%s",
                     bench_band_plan(b) == NULL ? why : "A plain band needs no stamp: give it another fill first.");
        return;
    }
    size_t count, own = 0;
    const bw_rank *ranks = desk_ranks(b->desk, b->band, &count);
    int now = desk_project(b->desk)->bands[b->band].tool;
    for (size_t i = 0; i < count; i++) {
        own = ranks[i].tool == now ? i : own;
    }
    b->gap_before = bench_gap(b);
    bench_go(b, BENCH_TOOLS);
    b->list.count = count + 1; /* the last: a stamp that is not in the list */
    b->list.at = own;
}

/* ---- suggestions ---- */

void do_moves(bench *b, int key) {
    (void)key;
    size_t count;
    (void)desk_suggestions(b->desk, b->band, &count);
    if (count == 0) {
        const bw_band_plan *plan = bench_band_plan(b);
        bool works = plan->fit.verdict == BW_GOOD || plan->fit.verdict == BW_TIGHT;
        bench_say(b, works ? "It closes as it is: no single small change would make it better."
                           : "No single small change makes it work: try another stamp (t) or another band width.");
        return;
    }
    b->gap_before = bench_gap(b);
    b->worked = bench_band_plan(b)->fit.verdict >= BW_TIGHT;
    bench_go(b, BENCH_MOVES);
    b->list.count = count;
    try_chosen(b);
}

/* ---- what a new band holds ---- */

void do_band_add(bench *b, int key) {
    (void)key;
    bench_go(b, BENCH_FILLS);
    b->list.count = 4;
    b->list.at = 1;
}

/* ---- taking ---- */

static void keep_trial(bench *b) {
    shop_problems problems;
    shop_problems_init(&problems, "");
    bool fine = desk_try_keep(b->desk, &problems);
    bench_go(b, BENCH_WORK);
    if (fine) {
        shop_problems_free(&problems);
        bench_tell_change(b, b->gap_before);
    } else {
        bench_refuse_problem(b, &problems);
    }
}

static void take_start(bench *b) {
    if (b->list.at >= b->start_count) {
        return;
    }
    const bench_place *place = &b->start[b->list.at];
    if (place->path == NULL) {
        form_start(b, NULL);
    } else if (place->words != NULL) {
        left_open_journal(b, place->path);
    } else {
        bench_open_file(b, place->path);
    }
}

void do_list_take(bench *b, int key) {
    (void)key;
    size_t at = b->list.at;
    switch (b->screen) {
    case BENCH_START:
        take_start(b);
        return;
    case BENCH_FILLS:
        bench_go(b, BENCH_WORK);
        bench_add_band(b, (int)at);
        return;
    case BENCH_KINDS:
        shelf_kind_taken(b, (bw_kind)at);
        return;
    case BENCH_TOOLS:
        if (at + 1 == b->list.count) {
            desk_try_leave(b->desk);
            bench_go(b, BENCH_WORK);
            tools_ask_new(b);
            return;
        }
        if (!desk_trying(b->desk)) {
            bench_go(b, BENCH_WORK);
            bench_say(b, "the stamp stays as it was");
            return;
        }
        keep_trial(b);
        return;
    default:
        keep_trial(b);
    }
}

void do_leave(bench *b, int key) {
    (void)key;
    if (b->desk != NULL) {
        desk_try_leave(b->desk);
    }
    switch (b->screen) {
    case BENCH_READ:
        bench_back(b);
        if (b->screen == BENCH_TOOLS || b->screen == BENCH_MOVES) {
            try_chosen(b);
        }
        return;
    case BENCH_FORM:
        form_free(&b->form);
        recent_read(b);
        bench_go(b, b->desk != NULL ? BENCH_WORK : BENCH_START);
        return;
    case BENCH_INVENTORY:
    case BENCH_TOOL:
    case BENCH_KINDS:
        shelf_leave(b);
        return;
    case BENCH_ASK:
        if (shelf_answer_back(b)) {
            return;
        }
        b->after = AFTER_NOTHING;
        bench_go(b, BENCH_WORK);
        return;
    default:
        if (b->screen == BENCH_TOOLS || b->screen == BENCH_MOVES) {
            bench_say(b, "left: everything is as it was");
        }
        bench_go(b, BENCH_WORK);
    }
}
