/* command_list.c - all commands in one list: what they are called, their keys, where they work; found by typing. */
#include <ctype.h>
#include <string.h>

#include "bench/inner.h"

#define WORDS_ROOM 500

static bool here(const bench *b, const bench_command *command) {
    return (command->where & 1u << b->commands_from) != 0;
}

static void in_small(char *text) {
    for (; *text != '\0'; text++) {
        *text = (char)tolower((unsigned char)*text);
    }
}

/* Every word that is typed stands somewhere in the command's name, keys, help or places. */
static bool matches(const bench *b, size_t index) {
    size_t count;
    const bench_command *command = &bench_commands(&count)[index];
    char all[WORDS_ROOM], keys[100], where[200], typed[ENTRY_MOST + 1], *rest = typed;
    command_keys_words(b, index, keys);
    command_where_words(command, where);
    snprintf(all, sizeof all, "%s %s %s %s", command->name, keys, command->help, where);
    snprintf(typed, sizeof typed, "%s", b->entry.text);
    in_small(all);
    in_small(typed);
    for (char *word; (word = strsep(&rest, " ")) != NULL;) {
        if (strstr(all, word) == NULL) {
            return false;
        }
    }
    return true;
}

/* The n-th of those that match; first what works here. SIZE_MAX if there are fewer; *found is how many there are. */
static size_t matching(const bench *b, size_t n, size_t *found) {
    size_t count, index = SIZE_MAX;
    const bench_command *table = bench_commands(&count);
    *found = 0;
    for (int pass = 0; pass < 2; pass++) {
        for (size_t i = 0; i < count; i++) {
            if (here(b, &table[i]) == (pass == 0) && matches(b, i)) {
                index = *found == n ? i : index;
                *found += 1;
            }
        }
    }
    return index;
}

void commands_filter(bench *b) {
    b->list = (bench_list){0};
    (void)matching(b, 0, &b->list.count);
    if (b->list.count == 0) {
        bench_refuse(b, "No command is called so; take a letter back.");
    }
}

void do_commands(bench *b, int key) {
    (void)key;
    b->commands_from = b->screen;
    b->commands_list = b->list;
    b->screen = BENCH_COMMANDS;
    bench_type(b, TYPING_COMMAND, "");
    commands_filter(b);
}

void do_commands_leave(bench *b, int key) {
    (void)key;
    b->typing = TYPING_NOTHING;
    b->screen = b->commands_from;
    b->list = b->commands_list;
}

void do_commands_take(bench *b, int key) {
    size_t count, index = matching(b, b->list.at, &count);
    if (index == SIZE_MAX) {
        bench_refuse(b, "No command is called so; take a letter back.");
        return;
    }
    const bench_command *command = &bench_commands(&count)[index];
    char where[200];
    command_where_words(command, where);
    if (!here(b, command)) {
        bench_refuse(b, "%s works %s, not where you came from.", command->name, where);
        return;
    }
    const char *why = command->refuse != NULL ? command->refuse(b) : NULL;
    if (why != NULL) {
        bench_refuse(b, "%s", why);
        return;
    }
    do_commands_leave(b, key);
    if (command->keys[0] == BENCH_KEY_DIGIT) {
        bench_say(b, "%s", command->help);
    } else {
        command->run(b, command->keys[0]);
    }
}

/* ---- how it looks ---- */

static void put_one(const bench *b, show_grid *grid, int y, size_t index, bool chosen) {
    size_t count;
    const bench_command *command = &bench_commands(&count)[index];
    bool works = here(b, command);
    unsigned look = chosen ? SHOW_REVERSE | SHOW_BOLD : works ? SHOW_PLAIN : SHOW_DIM;
    char keys[100], where[200];
    command_keys_words(b, index, keys);
    command_where_words(command, where);
    int name = grid->width >= 60 ? 18 : 11, x = 2 + name + 1, room = grid->width >= 60 ? 17 : grid->width - x;
    show_put(grid, 0, y, 1, SHOW_BOLD, chosen ? ">" : " ");
    show_put(grid, 2, y, name, look, command->name);
    show_put(grid, x, y, room, works ? SHOW_BOLD : SHOW_DIM, keys);
    if (grid->width >= 60) {
        x += room + 1;
        show_putf(grid, x, y, -1, works ? SHOW_PLAIN : SHOW_DIM, "%s%s%s%s", works ? "" : "(", works ? "" : where,
                  works ? "" : ") ", command->help);
    }
    if (chosen) {
        grid->cursor_x = 2;
        grid->cursor_y = y;
    }
}

/* The chosen one in full. */
static void put_whole(const bench *b, show_grid *grid, show_rect where, size_t index) {
    size_t count;
    const bench_command *command = &bench_commands(&count)[index];
    char text[WORDS_ROOM], places[200], first[16], take[COMMAND_ID_ROOM];
    command_where_words(command, places);
    if (here(b, command)) {
        bench_keys keys = command_keys(b, index);
        snprintf(text, sizeof text, "%s%s%s%s%s%s", command->help, keys.count > 1 ? " " : "",
                 keys.count > 1 ? key_words(b, "{commands.do-it}", take, sizeof take) : "",
                 keys.count > 1 ? " does as " : "", keys.count > 1 ? key_name(keys.pressed[0], first) : "",
                 keys.count > 1 ? " does." : "");
    } else {
        snprintf(text, sizeof text, "%s Works %s.", command->help, places);
    }
    show_wrap(grid, where, SHOW_PLAIN, text);
}

void draw_commands(bench *b, show_grid *grid) {
    int bottom = grid->height - foot_lines(grid), whole = grid->height >= 12 ? 3 : 1, top = grid->height >= 12 ? 2 : 1;
    int lines = bottom - whole - top;
    lines = lines < 1 ? 1 : lines;
    int x = show_put(grid, 0, 0, -1, SHOW_BOLD, "commands: ");
    entry_draw(&b->entry, grid, x, 0, grid->width - x < 30 ? grid->width - x : 30);
    grid->cursor_x = x;                   /* where the line is typed, if nothing is left to choose from */
    (void)matching(b, 0, &b->list.count); /* a text still being pasted has not been looked for yet */
    list_show(&b->list, (size_t)lines);
    for (int i = 0; i < lines && b->list.first + (size_t)i < b->list.count; i++) {
        size_t at = b->list.first + (size_t)i, found;
        put_one(b, grid, top + i, matching(b, at, &found), at == b->list.at);
        spot_add(b, 0, top + i, grid->width, SPOT_ROW, at);
    }
    if (b->list.count > 0) {
        size_t found, index = matching(b, b->list.at, &found);
        put_whole(b, grid, (show_rect){2, bottom - whole + (whole > 1), grid->width - 2, whole - (whole > 1)}, index);
        if (grid->width >= 60) {
            show_putf(grid, grid->width - 20, 0, -1, SHOW_DIM, "%zu of %zu", b->list.at + 1, found);
        }
    }
    draw_foot(b, grid);
}
