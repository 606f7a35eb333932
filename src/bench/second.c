/* second.c - the second layout: holding, flipping, both side by side, keeping one. */
#include "bench/inner.h"

const char *refuse_none_held(const bench *b) {
    return desk_holding(b->desk)
               ? NULL
               : "No other layout is held: {workbench.hold-flip} holds this one as it is, then change it and compare.";
}

bool bench_holds_another(const bench *b) {
    size_t count;
    (void)desk_differences(b->desk, &count);
    return count > 0 || desk_held_trouble(b->desk) != NULL;
}

/* Runs one of the desk's ways with the second layout. False with the reason as message. */
static bool done(bench *b, bool (*way)(desk *d, shop_problems *problems)) {
    shop_problems problems;
    shop_problems_init(&problems, "");
    if (!way(b->desk, &problems)) {
        bench_refuse_problem(b, &problems);
        return false;
    }
    shop_problems_free(&problems);
    return true;
}

void do_hold(bench *b, int key) {
    (void)key;
    size_t count;
    show_words words;
    if (!desk_holding(b->desk)) {
        if (done(b, desk_hold)) {
            bench_say(b, "This layout is held as it is. Change the one in hand; {workbench.hold-flip} flips between "
                         "both, {workbench.both} shows both.");
        }
        return;
    }
    (void)desk_differences(b->desk, &count);
    if (count == 0 && desk_held_trouble(b->desk) == NULL) {
        bench_say(b, "The layout in hand and the held one are the same as yet: change a value, then "
                     "{workbench.hold-flip} flips.");
        return;
    }
    if (done(b, desk_flip)) {
        bench_say(b, "flipped; %s", show_held_sentence(&words, b->desk));
    }
}

void do_second(bench *b, int key) {
    (void)key;
    bench_go(b, BENCH_SECOND);
    b->second_chosen = 0;
}

void do_second_choose(bench *b, int key) {
    b->second_chosen = key == BENCH_KEY_RIGHT;
}

void do_second_keep(bench *b, int key) {
    (void)key;
    bool held = b->second_chosen == 1;
    if (done(b, held ? desk_keep_held : desk_drop_held)) {
        bench_go(b, BENCH_WORK);
        bench_say(b, "%s ({workbench.undo} takes it back).",
                  held ? "The held layout is kept and in hand" : "The layout in hand is kept, the held one dropped");
    }
}

void do_second_drop(bench *b, int key) {
    (void)key;
    if (done(b, desk_drop_held)) {
        bench_go(b, BENCH_WORK);
        bench_say(b, "The held layout is dropped ({workbench.undo} brings it back).");
    }
}

/* Drawing keeps it within what there is. */
void do_second_scroll(bench *b, int key) {
    size_t *first = &b->list.first, page = (size_t)(b->height > 9 ? b->height - 7 : 1);
    size_t by = key == BENCH_KEY_PAGE_UP || key == BENCH_KEY_PAGE_DOWN ? page : 1;
    if (key == BENCH_KEY_HOME) {
        *first = 0;
    } else if (key == BENCH_KEY_END) {
        *first = b->list.count;
    } else if (key == BENCH_KEY_UP || key == BENCH_KEY_PAGE_UP) {
        *first -= *first < by ? *first : by;
    } else {
        *first += by;
    }
}

void draw_second(bench *b, show_grid *grid) {
    int bottom = grid->height - foot_lines(grid), top = grid->height >= 10 ? 2 : 0;
    if (top > 0) {
        show_put(grid, 0, 0, -1, SHOW_BOLD, "two layouts: what differs");
    }
    show_rect where = {0, top, grid->width, bottom - top};
    int heads[2];
    show_second_heads(where, heads);
    bool beside =
        heads[1] - heads[0] > 10; /* else one stands below the other, and only their names can be told apart */
    for (int y = where.y; y < (beside ? bottom : where.y + 1); y++) {
        spot_add(b, heads[0], y, heads[1] - heads[0], SPOT_SIDE, 0);
        spot_add(b, heads[1], y, grid->width - heads[1], SPOT_SIDE, 1);
    }
    int lines = show_second(grid, where, b->desk, b->second_chosen, (int)b->list.first);
    int shown = where.height - 1;
    if (shown > 0 && (int)b->list.first + shown > lines) { /* the window has grown */
        b->list.first = lines > shown ? (size_t)(lines - shown) : 0;
        for (int y = top; y < bottom; y++) {
            for (int x = 0; x < grid->width; x++) {
                show_cell_put(grid, x, y, ' ', SHOW_PLAIN);
            }
        }
        (void)show_second(grid, where, b->desk, b->second_chosen, (int)b->list.first);
    }
    b->list.count = (size_t)lines;
    if (lines > shown && grid->width >= 50 && top > 0) {
        show_putf(grid, grid->width - 24, 0, -1, SHOW_DIM, "lines %zu-%zu of %d", b->list.first + 1,
                  b->list.first + (size_t)shown, lines);
    }
    draw_foot(b, grid);
}
