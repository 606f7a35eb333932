/* lists.c - lists to choose from, with everything showing the answer: stamps, suggestions, what a band holds. */
#include <stdlib.h>
#include <string.h>

#include "bench/inventory.h"

const char *refuse_no_rounds(const bench *b) {
    const bw_band_plan *plan = bench_band_plan(b);
    if (plan == NULL) {
        return "There is no band yet: {workbench.add-band} adds one.";
    }
    if (plan->fill == BW_FILL_PLAIN) {
        return "A plain band holds no impressions: give it another fill, or {workbench.band} to another band.";
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
        const desk_suggestion *list = desk_suggested(b->desk, b->band, &count);
        fine = b->list.at >= count || desk_try_take(b->desk, &list[b->list.at], &problems);
    } else if (b->screen == BENCH_EVEN) {
        even_try(b);
    }
    if (fine) {
        shop_problems_free(&problems);
    } else {
        bench_refuse_problem(b, &problems);
    }
}

void do_list(bench *b, int key) {
    b->list_moved = true;
    list_key(&b->list, key, list_page(b));
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

const char *refuse_no_moves(const bench *b) {
    const bw_band_plan *plan = bench_band_plan(b);
    bool plain = plan != NULL && plan->fill == BW_FILL_PLAIN;
    return plain && plan->fit.verdict < BW_TIGHT ? NULL : refuse_no_rounds(b);
}

/* Nothing was found: why, and what else can be done. */
static void say_no_moves(bench *b) {
    show_words words;
    const bw_band_plan *plan = bench_band_plan(b);
    bool works = plan->fit.verdict == BW_GOOD || plan->fit.verdict == BW_TIGHT;
    const char *left = show_left_sentence(&words, desk_warnings_left(b->desk, b->band));
    if (left[0] != '\0') {
        bench_say(b, "%s%s", left, works ? "" : "Other stamps: {workbench.stamp}");
    } else {
        bench_say(b, "It closes as it is: no single small change would make it better.");
    }
}

/* The list has grown: what was chosen stays chosen; as long as nothing was, the best is tried. */
static void follow_choice(bench *b, bool any, bw_move chosen) {
    size_t count;
    const desk_suggestion *list = desk_suggested(b->desk, b->band, &count);
    b->list.count = count;
    bool same = any && count > 0 && bw_move_compare(&list[0].move, &chosen) == 0;
    if (!b->list_moved) {
        b->list.at = 0;
    }
    for (size_t i = 0; i < count && b->list_moved && any; i++) {
        if (bw_move_compare(&list[i].move, &chosen) == 0) {
            b->list.at = i;
            same = true;
        }
    }
    if (count > 0 && !same) {
        try_chosen(b);
    }
}

bool bench_busy(const bench *b) {
    if (b->desk == NULL) {
        return false;
    }
    return b->screen == BENCH_EVEN ? even_busy(b) : b->screen == BENCH_MOVES && !desk_suggested_all(b->desk, b->band);
}

unsigned bench_idle(bench *b) {
    size_t count;
    bw_move chosen = {.closes = false};
    if (!bench_busy(b)) {
        return BENCH_NOTHING;
    }
    if (b->screen == BENCH_EVEN) {
        return even_idle(b);
    }
    const desk_suggestion *list = desk_suggested(b->desk, b->band, &count);
    bool any = b->list.at < count, failed = false;
    if (any) {
        chosen = list[b->list.at].move;
    }
    if (!desk_suggest_more(b->desk, b->band)) {
        failed = !desk_suggested_all(b->desk, b->band);
    }
    follow_choice(b, any, chosen);
    if (failed || (!bench_busy(b) && b->list.count == 0)) {
        bench_go(b, BENCH_WORK);
        if (failed) {
            bench_refuse(b, "out of memory");
        } else {
            say_no_moves(b);
        }
    }
    return BENCH_REDRAW;
}

/* Looked for knob by knob: a key that comes meanwhile is not kept waiting, and the screen shows what is found so far.
 * An edge of few pieces is through before anybody sees it. */
void do_moves(bench *b, int key) {
    (void)key;
    enum { PIECES_AT_ONCE = 64 };
    b->gap_before = bench_gap(b);
    b->worked = bench_band_plan(b)->fit.verdict >= BW_TIGHT;
    bench_go(b, BENCH_MOVES);
    b->list_moved = false;
    while (bw_curve_pieces(desk_plan(b->desk)->edge) <= PIECES_AT_ONCE && desk_suggest_more(b->desk, b->band)) {
    }
    follow_choice(b, false, (bw_move){.closes = false});
    if (b->screen == BENCH_MOVES && !bench_busy(b) && b->list.count == 0) { /* known from before */
        bench_go(b, BENCH_WORK);
        say_no_moves(b);
    }
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
    case BENCH_REST:
        rest_take(b);
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
        if (desk_trying(b->desk)) {
            keep_trial(b);
        } else if (b->screen == BENCH_EVEN) {
            even_take(b);
        } else {
            bench_say(b, "Nothing is found yet; it is being looked for.");
        }
    }
}

/* A list whose choice everything shows. */
static bool tries(bench_screen screen) {
    return screen == BENCH_TOOLS || screen == BENCH_MOVES || screen == BENCH_EVEN;
}

void do_leave(bench *b, int key) {
    (void)key;
    if (b->desk != NULL) {
        desk_try_leave(b->desk);
    }
    switch (b->screen) {
    case BENCH_READ:
        bench_back(b);
        if (tries(b->screen)) {
            try_chosen(b);
        }
        return;
    case BENCH_FORM:
        form_forget(b);
        recent_read(b);
        bench_go(b, b->desk != NULL ? BENCH_WORK : BENCH_START);
        return;
    case BENCH_STRIP:
        strip_leave(b);
        return;
    case BENCH_INVENTORY:
    case BENCH_TOOL:
    case BENCH_TOOL_ITEMS:
    case BENCH_KINDS:
        shelf_leave(b);
        return;
    case BENCH_THEIRS:
        if (b->theirs_stock) {
            shelf_theirs_back(b);
        } else {
            b->after = AFTER_NOTHING;
            bench_go(b, BENCH_WORK);
        }
        return;
    case BENCH_ASK:
        if (!shelf_answer_back(b)) {
            b->after = AFTER_NOTHING;
            bench_go(b, BENCH_WORK);
        }
        return;
    case BENCH_REST:
        rest_leave(b);
        return;
    default:
        if (tries(b->screen)) {
            bench_say(b, "left: everything is as it was");
        }
        bench_go(b, BENCH_WORK);
    }
}
