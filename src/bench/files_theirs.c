/* files_theirs.c - the file was changed by somebody else since it was read: keep mine, take theirs, or look. */
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"

/* Whose file it is: the inventory's, else the piece's. */
static desk *subject(const bench *b) {
    return b->theirs_stock ? b->stock : b->desk;
}

void theirs_ask(bench *b) {
    b->theirs_stock = false;
    bench_go(b, BENCH_THEIRS);
}

void theirs_ask_stock(bench *b) {
    b->theirs_stock = true;
    b->screen = BENCH_THEIRS;
    b->typing = TYPING_NOTHING;
}

void do_theirs_keep(bench *b, int key) {
    (void)key;
    if (b->theirs_stock) {
        shelf_keep_mine(b);
        return;
    }
    shop_problems problems;
    char *kept = NULL, also[500] = "";
    shop_problems_init(&problems, desk_file(b->desk));
    bench_go(b, BENCH_WORK);
    if (desk_save_over(b->desk, &kept, &problems) == SHOP_OK) {
        if (kept != NULL) {
            snprintf(also, sizeof also, "; the other version is kept as %.400s", kept);
        }
        shop_problems_free(&problems);
        files_saved(b, also);
    } else {
        b->after = AFTER_NOTHING;
        files_refuse_save(b, desk_file(b->desk), &problems);
    }
    free(kept);
}

void do_theirs_take(bench *b, int key) {
    b->after = AFTER_NOTHING; /* what was taken is looked at before anybody leaves */
    if (b->theirs_stock) {
        shelf_take_theirs(b);
        return;
    }
    bench_go(b, BENCH_WORK);
    do_reload(b, key);
}

void do_theirs_elsewhere(bench *b, int key) {
    if (b->theirs_stock) {
        bench_refuse(b, "The inventory has one name: keep yours (theirs stays beside it) or take theirs.");
        return;
    }
    bench_go(b, BENCH_WORK);
    do_save_as(b, key);
}

/* "tray.yaml, line 13, column 11: ..." of the first that is no note. */
static void unreadable(const shop_problems *problems, char *out, size_t room) {
    const shop_problem *first = NULL;
    for (size_t i = problems->count; i > 0; i--) {
        first = problems->list[i - 1].note ? first : &problems->list[i - 1];
    }
    if (first == NULL) {
        snprintf(out, room, "out of memory");
    } else if (first->line > 0) {
        snprintf(out, room, "Theirs cannot be read: line %zu, column %zu: %.300s.", first->line, first->column,
                 first->text);
    } else {
        snprintf(out, room, "Theirs cannot be read: %.300s.", first->text);
    }
}

static char *put_list(const desk_clash *list, size_t count) {
    char *text = NULL;
    size_t size = 0;
    FILE *to = open_memstream(&text, &size);
    if (to == NULL) {
        return NULL;
    }
    fprintf(to, count == 0 ? "Both say the same; only comments or spelling differ.\n"
                           : "What your layout and the file say differently:\n\n");
    for (size_t i = 0; i < count; i++) {
        fprintf(to, "%s\n  yours   %s\n  theirs  %s\n", list[i].what, list[i].mine, list[i].theirs);
    }
    if (fclose(to) != 0) {
        free(text);
        return NULL;
    }
    return text;
}

void do_theirs_look(bench *b, int key) {
    (void)key;
    desk_clash *list = NULL;
    size_t count = 0;
    shop_problems problems;
    shop_problems_init(&problems, desk_file(subject(b)));
    if (!desk_theirs(subject(b), &list, &count, &problems)) {
        char words[400];
        unreadable(&problems, words, sizeof words);
        bench_refuse(b, "%s", words);
        shop_problems_free(&problems);
        return;
    }
    shop_problems_free(&problems);
    bench_read(b, "yours and theirs", put_list(list, count));
    desk_clashes_free(list, count);
}

static void put_differences(bench *b, show_grid *grid, show_rect where) {
    char words[400], key[COMMAND_ID_ROOM];
    desk_clash *list = NULL;
    size_t count = 0;
    shop_problems problems;
    shop_problems_init(&problems, "");
    if (where.height < 1) {
        shop_problems_free(&problems);
        return;
    }
    if (!desk_theirs(subject(b), &list, &count, &problems)) {
        unreadable(&problems, words, sizeof words);
        show_wrap(grid, where, SHOW_WARN, words);
    } else if (count == 0) {
        show_wrap(grid, where, SHOW_PLAIN, "Both say the same; only the wording of remarks or spelling differ.");
    }
    size_t shown = count > (size_t)where.height ? (size_t)where.height - 1 : count;
    for (size_t i = 0; i < shown; i++) {
        spot_add(b, 2, where.y + (int)i, where.width, SPOT_MEANT, 'v');
        show_putf(grid, 2, where.y + (int)i, where.width, SHOW_PLAIN, "%s: yours %s, theirs %s", list[i].what,
                  list[i].mine, list[i].theirs);
    }
    if (shown < count) {
        show_putf(grid, 2, where.y + (int)shown, where.width, SHOW_DIM, "and %zu more: %s shows all", count - shown,
                  key_words(b, "{theirs.look}", key, sizeof key));
    }
    desk_clashes_free(list, count);
    shop_problems_free(&problems);
}

void draw_theirs(bench *b, show_grid *grid) {
    show_rect where = {2, 2, grid->width > 6 ? grid->width - 4 : grid->width, grid->height - foot_lines(grid) - 2};
    char words[800], key[COMMAND_ID_ROOM];
    snprintf(words, sizeof words,
             "Another program has changed %.300s since it was read here. Keep yours (theirs stays beside it), take "
             "theirs (%s brings yours back), or look what differs?",
             desk_file(subject(b)), key_words(b, "{workbench.undo}", key, sizeof key));
    show_put(grid, 2, 0, -1, SHOW_BOLD, "Two versions");
    int used = show_wrap(grid, where, SHOW_PLAIN, words);
    grid->cursor_x = 2;
    grid->cursor_y = 2;
    put_differences(b, grid, (show_rect){where.x, where.y + used + 1, where.width, where.height - used - 1});
    draw_foot(b, grid);
}
