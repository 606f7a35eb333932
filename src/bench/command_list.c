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

/* The commands that match, the one that is meant first. */
typedef struct found {
    uint16_t list[COMMANDS_MOST];
    size_t count;
} found;

/* What makers call a thing where its command says it otherwise; found as its name is. */
static const struct {
    const char *id, *words;
} other_words[] = {
    {"workbench.add-band", "new row stitch stitches stitching sew holes line weave border"},
    {"workbench.take-out", "remove delete band"},
    {"workbench.type", "inch inches mm units width length size diameter change"},
    {"workbench.stamp", "tool"},
    {"workbench.close", "gap suggestion mend cure"},
    {"workbench.both", "compare variant ideas second side"},
    {"workbench.hold-flip", "keep another layout"},
    {"workbench.page", "print paper dividers settings"},
    {"workbench.template", "print paper pattern cut trace"},
    {"workbench.card", "print paper"},
    {"workbench.picture", "print image png look"},
    {"workbench.bench", "count strikes marks"},
    {"workbench.round", "corner corners tightest widest places"},
    {"workbench.closer", "zoom corner corners"},
    {"workbench.open", "file other piece"},
    {"workbench.load-again", "reload file"},
    {"workbench.keep", "fix fixed lock"},
    {"workbench.test-strip", "hand measure usual step"},
    {"workbench.inventory", "tools stamps irons"},
};

/* How well a command matches what is typed: who types its name means it. */
enum { IS_CALLED_SO, BEGINS_SO, IN_NAME, IN_HELP, IN_PLACES, NOT_FOUND };

/* Does a word of the text begin so? Not within one: "hole" is not meant by "whole". */
static bool has_word(const char *text, const char *word) {
    const char *at = strstr(text, word);
    while (at != NULL && at > text && isalnum((unsigned char)at[-1]) && isalnum((unsigned char)word[0])) {
        at = strstr(at + 1, word);
    }
    return at != NULL;
}

static bool has_words(const char *text, const char *typed) {
    char words[ENTRY_MOST + 1], *rest = words;
    snprintf(words, sizeof words, "%s", typed);
    for (char *word; (word = strsep(&rest, " ")) != NULL;) {
        if (!has_word(text, word)) {
            return false;
        }
    }
    return true;
}

static const char *other_words_of(const char *id) {
    for (size_t i = 0; i < sizeof other_words / sizeof other_words[0]; i++) {
        if (strcmp(other_words[i].id, id) == 0) {
            return other_words[i].words;
        }
    }
    return "";
}

static int match(const bench *b, size_t index, const char *typed) {
    size_t count;
    const bench_command *command = &bench_commands(&count)[index];
    char name[60], all[WORDS_ROOM], keys[100], where[200], id[COMMAND_ID_ROOM];
    if (typed[0] == '\0') {
        return IN_NAME;
    }
    snprintf(name, sizeof name, "%s", command->name);
    command_id(index, id);
    in_small(name);
    if (strcmp(name, typed) == 0 || strcmp(id, typed) == 0) {
        return IS_CALLED_SO;
    }
    if (has_words(name, typed)) {
        return strncmp(name, typed, strlen(typed)) == 0 ? BEGINS_SO : IN_NAME;
    }
    snprintf(all, sizeof all, "%s %s", name, other_words_of(id));
    if (has_words(all, typed)) {
        return IN_NAME;
    }
    command_keys_words(b, index, keys);
    snprintf(all, sizeof all, "%s %s %s", command->name, keys, command->help);
    in_small(all);
    if (has_words(all, typed)) {
        return IN_HELP;
    }
    command_where_words(command, where);
    snprintf(all, sizeof all, "%s %s %s %s", command->name, keys, command->help, where);
    in_small(all);
    return has_words(all, typed) ? IN_PLACES : NOT_FOUND;
}

/* The best match first, and of equal ones what works here. */
static void search(const bench *b, found *out) {
    size_t count;
    const bench_command *table = bench_commands(&count);
    uint8_t order[COMMANDS_MOST];
    char typed[ENTRY_MOST + 1];
    snprintf(typed, sizeof typed, "%s", b->entry.text);
    in_small(typed);
    for (size_t i = 0; i < count; i++) {
        order[i] = (uint8_t)(match(b, i, typed) * 2 + !here(b, &table[i]));
    }
    out->count = 0;
    for (int rank = 0; rank < 2 * NOT_FOUND; rank++) {
        for (size_t i = 0; i < count; i++) {
            if (order[i] == rank) {
                out->list[out->count++] = (uint16_t)i;
            }
        }
    }
}

void commands_filter(bench *b) {
    found all;
    search(b, &all);
    b->list = (bench_list){.count = all.count};
    if (all.count == 0) {
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
    found all;
    search(b, &all);
    if (b->list.at >= all.count) {
        bench_refuse(b, "No command is called so; take a letter back.");
        return;
    }
    size_t count;
    const bench_command *command = &bench_commands(&count)[all.list[b->list.at]];
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
    grid->cursor_x = x; /* where the line is typed, if nothing is left to choose from */
    found all;
    search(b, &all); /* a text still being pasted has not been looked for yet */
    b->list.count = all.count;
    list_show(&b->list, (size_t)lines);
    for (size_t at = b->list.first; at < all.count && at < b->list.first + (size_t)lines; at++) {
        int y = top + (int)(at - b->list.first);
        put_one(b, grid, y, all.list[at], at == b->list.at);
        spot_add(b, 0, y, grid->width, SPOT_ROW, at);
    }
    if (b->list.at < all.count) {
        put_whole(b, grid, (show_rect){2, bottom - whole + (whole > 1), grid->width - 2, whole - (whole > 1)},
                  all.list[b->list.at]);
        if (grid->width >= 60) {
            show_putf(grid, grid->width - 20, 0, -1, SHOW_DIM, "%zu of %zu", b->list.at + 1, all.count);
        }
    }
    draw_foot(b, grid);
}
