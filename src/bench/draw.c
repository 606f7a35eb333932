/* draw.c - the frame of every screen: what is asked, what is said, which keys work. */
#include <string.h>

#include "bench/inventory.h"

#define LEAST_WIDTH 20
#define LEAST_HEIGHT 5

/* ---- the bottom ---- */

/* What Enter does with the value in hand: not all are typed. */
static const char *enter_word(bench *b) {
    bool shelf = b->screen == BENCH_TOOL;
    size_t at = shelf ? b->shelf.field : b->field;
    bench_card card;
    if (shelf) {
        shelf_card(b, b->shelf.piece, &card);
    } else {
        card_read(b, &card);
    }
    if (at >= card.count) {
        return "type";
    }
    const shop_field *field = card.rows[at].field;
    bool chosen = !shelf && strcmp(field->path, "bands[].tool") == 0;
    bool items = shelf ? shelf_row_has_items(b, &card.rows[at]) : bench_items_of(b, &card.rows[at]);
    bool choice =
        field->type == SHOP_TYPE_WORD || field->type == SHOP_TYPE_YES_NO || (!shelf && field->type == SHOP_TYPE_TOOL);
    return chosen ? "choose" : choice ? "next" : items ? "list" : "type";
}

/* "Up/Down value": as many of its keys as the table says. Its length; 0 if it has no key. */
static int command_words(bench *b, size_t index, char out[120], int *keys_length) {
    size_t count;
    const bench_command *command = &bench_commands(&count)[index];
    bool typed = command->run == do_value || command->run == do_tool_type;
    bench_keys keys = command_keys(b, index);
    int used = 0;
    for (int i = 0; i < command->shown && i < keys.count; i++) {
        char name[16];
        used += snprintf(out + used, (size_t)(120 - used), "%s%s", i > 0 ? "/" : "", key_name(keys.pressed[i], name));
    }
    *keys_length = used;
    return used == 0 ? 0
                     : used + snprintf(out + used, (size_t)(120 - used), " %s", typed ? enter_word(b) : command->name);
}

typedef struct line_end {
    int x, y, last; /* the next free cell, the last line */
} line_end;

/* right: the last line's end, where another is kept for help and quit. */
static void put_command(bench *b, show_grid *grid, line_end *end, size_t index, int right) {
    char words[120];
    size_t count;
    int keys, length = command_words(b, index, words, &keys);
    if (end->x + length > grid->width && end->y < end->last) {
        end->y++;
        end->x = 0;
    }
    if (length == 0 || end->x + length > (end->y == end->last ? right : grid->width)) {
        return;
    }
    bench_keys known = command_keys(b, index);
    if (form_takes_letter(b, known.pressed[0])) {
        return;
    }
    for (int i = 0; i < bench_commands(&count)[index].shown && i < known.count; i++) {
        char name[16];
        end->x += i > 0 ? show_put(grid, end->x, end->y, -1, SHOW_BOLD, "/") : 0;
        int used = show_put(grid, end->x, end->y, -1, SHOW_BOLD, key_name(known.pressed[i], name));
        spot_add(b, end->x, end->y, used, SPOT_KEY, (size_t)known.pressed[i]);
        end->x += used;
    }
    int used = show_put(grid, end->x, end->y, -1, SHOW_PLAIN, words + keys);
    spot_add(b, end->x, end->y, used, SPOT_KEY, (size_t)known.pressed[0]);
    end->x += used + 2;
}

/* Keys that settle something are told where there is something to settle. gives: of shelf_gives. */
static bool is_idle(const bench *b, const bench_command *command, unsigned gives) {
    return (command->run == do_shelf_give &&
            (gives & (command->keys[0] == 'P' ? SHELF_TO_PIECE : SHELF_TO_INVENTORY)) == 0) ||
           (command->run == do_tool_side && !shelf_has(b, !b->shelf.piece));
}

/* Where something is typed or asked, what is to be done with it comes first. */
static bool is_back(const bench_command *command, unsigned where) {
    return command->keys[0] == BENCH_KEY_ESC &&
           (where & (1u << BENCH_TYPING | 1u << BENCH_ASK | 1u << BENCH_LEFT)) == 0;
}

/* The way back, help, the list of commands, explanation and quit come last and keep their place. */
static bool is_ending(const bench_command *command, unsigned where) {
    return is_back(command, where) || command->keys[0] == '?' || command->keys[0] == 'h' || command->keys[0] == 'q' ||
           command->keys[0] == '/';
}

/* What belongs to this screen comes first; then what the workbench has, too. */
static int pass_of(const bench_command *command, unsigned where) {
    unsigned work = 1u << BENCH_WORK;
    return is_ending(command, where) ? 2 : where != work && (command->where & work) != 0;
}

/* Is its place kept? Elsewhere than on the workbench what the screen has goes before the list of commands. */
static bool keeps_place(const bench_command *command, unsigned where) {
    return command->shown > 0 && is_ending(command, where) &&
           (where == 1u << BENCH_WORK || command->keys[0] == 'h' || is_back(command, where));
}

static void put_commands(bench *b, show_grid *grid, int first, int lines) {
    size_t count;
    const bench_command *table = bench_commands(&count);
    unsigned where = 1u << bench_where(b);
    char words[120];
    int kept = 0, keys;
    line_end end = {0, first, first + lines - 1};
    unsigned gives = (where & (1u << BENCH_INVENTORY | 1u << BENCH_TOOL)) != 0 ? shelf_gives(b) : 0;
    for (size_t i = 0; i < count; i++) {
        if ((table[i].where & where) != 0 && keeps_place(&table[i], where)) {
            kept += command_words(b, i, words, &keys) + 2;
        }
    }
    for (int pass = 0; pass < 3; pass++) {
        for (size_t i = 0; i < count; i++) {
            if ((table[i].where & where) != 0 && table[i].shown > 0 && pass_of(&table[i], where) == pass &&
                !is_idle(b, &table[i], gives)) {
                put_command(b, grid, &end, i, pass < 2 ? grid->width - kept : grid->width);
            }
        }
    }
}

void lines_clear(show_grid *grid, int y, int lines) {
    for (int i = 0; i < grid->width * lines; i++) {
        show_cell_put(grid, i % grid->width, y + i / grid->width, ' ', SHOW_PLAIN);
    }
}

int foot_lines(const show_grid *grid) {
    return grid->height >= 24 ? 3 : grid->height >= 8 ? 2 : 1;
}

/* While nothing is said: what the value in hand is. */
static void put_help(const bench *b, show_grid *grid, int y) {
    bench_card card;
    bool value = b->typing == TYPING_NOTHING || b->typing == TYPING_VALUE || b->typing == TYPING_ITEM;
    if (b->desk == NULL || !value || (b->screen != BENCH_WORK && b->screen != BENCH_ITEMS)) {
        return;
    }
    card_read(b, &card);
    if (b->field < card.count) {
        char text[240]; /* room for the key behind it */
        snprintf(text, 200, "%s", card.rows[b->field].field->help);
        if (show_wrap(grid, (show_rect){0, 0, grid->width, 0}, 0, text) > 1 && grid->width > 8) {
            text[grid->width - 6] = '\0'; /* the rest is a key away */
            char *blank = strrchr(text, ' ');
            char more[COMMAND_ID_ROOM];
            snprintf(blank != NULL ? blank : text, 24, " ... %.16s",
                     key_words(b, "{workbench.explain}", more, sizeof more));
        }
        show_put(grid, 0, y, -1, SHOW_DIM, text);
    }
}

/* Where a message of so many lines stands; *keys is how many lines of keys it leaves. It grows upward and takes no line
 * of the keys, nor the cursor's: where that is in the way, it stands above or below it, and at last it takes keys. */
static show_rect message_place(const show_grid *grid, int needed, int *keys) {
    int height = grid->height, lines = foot_lines(grid), cursor = grid->cursor_y, least = height > 5 ? 1 : 0;
    show_rect where = {0, height - needed - *keys, grid->width, needed};
    if (where.y > cursor && where.y >= least) {
        return where;
    }
    bool above = cursor >= height - cursor - 1 - *keys;
    if (needed <= lines && (above ? cursor : height - cursor - 1 - *keys) < needed) {
        *keys = lines - needed;
        where.y = height - lines;
        return where;
    }
    int room = above ? cursor : height - cursor - 1 - *keys;
    where.height = needed < room ? needed : room;
    where.y = above ? cursor - where.height : height - *keys - where.height;
    return where;
}

static void put_message(const bench *b, show_grid *grid, int *keys) {
    char text[sizeof b->message + 4];
    snprintf(text, sizeof text, "%s%s", b->bad ? "! " : "", b->message);
    int needed = show_wrap(grid, (show_rect){0, 0, grid->width, 0}, 0, text);
    show_rect where = message_place(grid, needed, keys);
    lines_clear(grid, where.y, where.height);
    show_wrap(grid, where, b->bad ? SHOW_BOLD | SHOW_WARN : SHOW_PLAIN, text);
    if (needed > where.height && where.height > 0) {
        show_put(grid, grid->width - 4, where.y + where.height - 1, -1, SHOW_PLAIN, " ...");
    }
}

/* The message, then the keys that work now. Drawn last: a long message covers what was drawn above. */
void draw_foot(bench *b, show_grid *grid) {
    int lines = foot_lines(grid), keys = lines > 1 ? lines - 1 : b->message[0] == '\0';
    if (b->message[0] != '\0') {
        keys = keys > 1 && bench_where(b) == BENCH_TYPING ? 1 : keys; /* they are few while something is typed */
        put_message(b, grid, &keys);
    } else if (lines > 1) {
        put_help(b, grid, grid->height - lines);
    }
    if (keys > 0) {
        put_commands(b, grid, grid->height - keys, keys);
    }
}

/* ---- small windows ---- */

static void draw_tiny(bench *b, show_grid *grid) {
    const bw_band_plan *plan = bench_band_plan(b);
    show_words words;
    if (plan == NULL) {
        show_wrap(grid, (show_rect){0, 0, grid->width, grid->height}, SHOW_PLAIN,
                  "the window is too small; 20x5 is the least");
        return;
    }
    show_putf(grid, 0, 0, -1, SHOW_BOLD, "%s%s%d", bw_verdict_word(plan->fit.verdict), grid->height > 1 ? ", " : " ",
              show_struck(desk_plan(b->desk), b->band));
    show_verdict_sentence(&words, desk_project(b->desk), desk_plan(b->desk), b->band);
    show_put(grid, 0, 1, -1, SHOW_PLAIN, "window too small");
    show_wrap(grid, (show_rect){0, 2, grid->width, grid->height - 2}, SHOW_PLAIN, words.text);
}

/* ---- questions and texts ---- */

void draw_ask(bench *b, show_grid *grid) {
    char question[700], words[sizeof question];
    shelf_question(b, question, sizeof question);
    const char *file = b->desk == NULL ? NULL : desk_file(b->desk);
    if (question[0] != '\0') {
        ; /* one of the inventory's */
    } else if (b->question == ASK_UNSAVED) {
        snprintf(
            question, sizeof question,
            "%s is not saved. Save it%s%.300s first? {question.yes} saves it, {question.no} leaves without saving, "
            "{question.back} goes back.%s",
            file != NULL ? "The layout" : "The new piece", file != NULL ? " as " : "", file != NULL ? file : "",
            desk_holding(b->desk) ? " The held layout is saved nowhere: to keep it, go back and flip." : "");
    } else if (b->question == ASK_HELD) {
        show_words held;
        snprintf(
            question, sizeof question,
            "The other layout is saved nowhere (%.300s). Leave without it? {question.yes} leaves, {question.no} goes "
            "back, as {question.back} does.",
            show_held_sentence(&held, b->desk));
    } else {
        snprintf(question, sizeof question,
                 "There is a file %.300s already. Write over it? {question.yes} writes over it, {question.no} asks for "
                 "another name, {question.back} goes back.",
                 b->file != NULL ? b->file : "of this name");
    }
    show_put(grid, 2, 1, -1, SHOW_BOLD, "A question");
    show_wrap(grid, (show_rect){2, 3, grid->width > 6 ? grid->width - 4 : grid->width, grid->height - 5}, SHOW_PLAIN,
              key_words(b, question, words, sizeof words));
    grid->cursor_x = 2;
    grid->cursor_y = 3;
    draw_foot(b, grid);
}

/* One line of a text, broken at words; what is indented stays so. Returns the lines used, drawing those from `skip` on.
 */
static int put_line(show_grid *grid, show_rect where, const char *line, size_t length) {
    char text[1200];
    size_t indent = 0;
    snprintf(text, sizeof text, "%.*s", (int)(length < sizeof text ? length : sizeof text - 1), line);
    while (text[indent] == ' ') {
        indent++;
    }
    /* A list of keys hangs behind its first column. */
    const char *gap = strstr(text + indent, "  ");
    size_t hang = indent;
    if (gap != NULL && indent == 2) {
        hang = (size_t)(gap - text);
        while (text[hang] == ' ') {
            hang++;
        }
    }
    if ((int)hang + 16 > where.width) {
        hang = indent + 16 > (size_t)where.width ? 0 : indent;
    }
    if (hang > indent) {
        show_putf(grid, where.x, where.y, where.width, SHOW_BOLD, "%.*s", (int)hang, text);
    }
    where.x += (int)hang;
    where.width -= (int)hang;
    int used = show_wrap(grid, where, SHOW_PLAIN, text + hang);
    return used > 0 ? used : 1;
}

void draw_read(bench *b, show_grid *grid) {
    page_fit(b, grid->width);
    show_putf(grid, 0, 0, -1, SHOW_BOLD, "%s", b->title);
    int top = 1, bottom = grid->height - foot_lines(grid), lines = 0;
    show_grid page;
    /* The text is drawn whole into a grid of its own, of which a part is copied: no line is cut in the middle. */
    size_t length = strlen(b->text);
    int room = 8;
    for (size_t i = 0; i < length; i++) {
        room += b->text[i] == '\n';
    }
    room += (int)(length / 8); /* a line keeps at least 16 cells, and a word is seldom longer than half of that */
    if (!show_grid_init(&page, grid->width, room, grid->unicode)) {
        return;
    }
    for (const char *at = b->text; *at != '\0' && lines < page.height;) {
        size_t size = strcspn(at, "\n");
        lines += put_line(&page, (show_rect){0, lines, page.width, page.height - lines}, at, size);
        at += size + (at[size] == '\n');
    }
    size_t shown = bottom > top ? (size_t)(bottom - top) : 0;
    b->list.count = (size_t)lines;
    if (b->list.first + shown > b->list.count) {
        b->list.first = b->list.count > shown ? b->list.count - shown : 0;
    }
    for (size_t y = 0; y < shown && b->list.first + y < (size_t)page.height; y++) {
        memcpy(grid->cells + (size_t)(top + (int)y) * (size_t)grid->width,
               page.cells + (b->list.first + y) * (size_t)page.width, (size_t)grid->width * sizeof *grid->cells);
    }
    show_grid_free(&page);
    if (b->list.count > shown) {
        char place[64];
        snprintf(place, sizeof place, " lines %zu-%zu of %zu", b->list.first + 1, b->list.first + shown, b->list.count);
        if ((int)(strlen(b->title) + strlen(place)) > grid->width) {
            snprintf(place, sizeof place, " %zu/%zu", b->list.first + shown, b->list.count);
        }
        show_put(grid, grid->width - (int)strlen(place), 0, -1, SHOW_DIM, place);
    }
    grid->cursor_x = 0;
    grid->cursor_y = top;
    draw_foot(b, grid);
}

/* All others show the workbench with a list, or a line, of their own. */
static void draw_screen(bench *b, show_grid *grid) {
    static void (*const own[BENCH_SCREENS])(bench * b, show_grid * grid) = {
        [BENCH_START] = draw_start,
        [BENCH_FORM] = draw_form,
        [BENCH_STRIP] = draw_strip,
        [BENCH_READ] = draw_read,
        [BENCH_LEFT] = draw_left,
        [BENCH_THEIRS] = draw_theirs,
        [BENCH_ASK] = draw_ask,
        [BENCH_INVENTORY] = draw_inventory,
        [BENCH_KINDS] = draw_inventory,
        [BENCH_TOOL] = draw_tool,
        [BENCH_TOOL_ITEMS] = draw_tool_items,
        [BENCH_STRIKES] = draw_strikes,
        [BENCH_REST] = draw_rest,
        [BENCH_SECOND] = draw_second,
        [BENCH_COMMANDS] = draw_commands,
        [BENCH_TABLE] = draw_table,
        [BENCH_LOOK] = draw_look,
    };
    (own[b->screen] != NULL ? own[b->screen] : draw_work)(b, grid);
}

void bench_draw(bench *b, show_grid *grid) {
    show_clear(grid);
    b->height = grid->height;
    b->unicode = grid->unicode;
    b->spot_count = 0;
    if (grid->width < LEAST_WIDTH || grid->height < LEAST_HEIGHT) {
        draw_tiny(b, grid);
    } else {
        draw_screen(b, grid);
    }
    if (grid->cursor_x >= grid->width || grid->cursor_y >= grid->height) { /* what it rests on found no room */
        grid->cursor_x = grid->cursor_y = -1;
    }
}
