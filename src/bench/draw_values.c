/* draw_values.c - the values of what is in hand, what may stand there, and what is being typed. */
#include <string.h>

#include "bench/inner.h"

show_rect rect_below(show_rect where, int lines) {
    lines = lines > where.height ? where.height : lines;
    return (show_rect){where.x, where.y + lines, where.width, where.height - lines};
}

static void put_row(const bench *b, show_grid *grid, show_rect where, int y, const bench_row *row, bool in_hand) {
    char step[32], value[ROW_TEXT + 4];
    int label = where.width >= 36 ? 15 : where.width >= 26 ? 13 : 10, steps = where.width >= 32 ? 8 : 0;
    int room = where.width - 2 - label - steps;
    row_step_words(b, row, step);
    snprintf(value, sizeof value, row->given || row->words[0] == '\0' ? "%s" : "(%s)", row->words);
    show_put(grid, where.x, y, 1, SHOW_BOLD, in_hand ? ">" : " ");
    bool cut = 1 + (int)strlen(row->field->label) > label; /* a blank before the value stays */
    show_putf(grid, where.x + 1, y, label - cut, in_hand ? SHOW_BOLD : SHOW_PLAIN, "%s%s", row->fixed ? "*" : " ",
              row->field->label);
    if ((int)strlen(value) > room) { /* the value comes before its step */
        room += steps;
        steps = 0;
    }
    if (in_hand && b->typing == TYPING_VALUE && !row_is_tall(row->field)) {
        entry_draw(&b->entry, grid, where.x + 1 + label, y, room + steps);
        return;
    }
    show_put(grid, where.x + 1 + label, y, room,
             in_hand      ? SHOW_REVERSE | SHOW_BOLD
             : row->given ? SHOW_PLAIN
                          : SHOW_DIM,
             value);
    if (steps > 0 && step[0] != '\0') {
        show_putf(grid, where.x + 2 + label + room, y, steps - 1, SHOW_DIM, "%s", step);
    }
    if (in_hand) {
        grid->cursor_x = where.x + 1 + label;
        grid->cursor_y = y;
    }
}

/* The leather and the seam under the values of the piece, as far as they can be told whole. */
static void put_piece(const bench *b, show_grid *grid, show_rect where) {
    const shop_project *project = desk_project(b->desk);
    const bw_plan *plan = desk_plan(b->desk);
    for (int i = 0; i < 2; i++) {
        show_words words;
        const char *text =
            i == 0 ? show_leather_sentence(&words, project, plan) : show_seam_sentence(&words, project, plan);
        int lines = show_wrap(grid, (show_rect){where.x, where.y, where.width, 0}, SHOW_PLAIN, text);
        if (lines > where.height) {
            return;
        }
        show_wrap(grid, where, SHOW_DIM, text);
        where = rect_below(where, lines);
    }
}

/* What may stand in the value in hand, under the values. Returns the lines it takes. */
int draw_range(const bench *b, show_grid *grid, show_rect where, const shop_field *field) {
    char range[ROW_TEXT], text[ROW_TEXT + 12];
    if (where.height < 8) {
        return 0;
    }
    row_range_words(b, field, range);
    snprintf(text, sizeof text, "allowed: %s", range);
    int lines = show_wrap(grid, (show_rect){where.x, where.y, where.width - 1, 0}, SHOW_DIM, text);
    int most = where.height / 3;
    lines = lines > most ? most : lines;
    show_wrap(grid, (show_rect){where.x, where.y + where.height - lines, where.width - 1, lines}, SHOW_DIM, text);
    return lines;
}

void draw_values(bench *b, show_grid *grid, show_rect where) {
    bench_card card;
    card_read(b, &card);
    if (b->field < card.count) {
        where.height -= draw_range(b, grid, where, card.rows[b->field].field);
    }
    bench_list list = {b->field, b->field_first, card.count};
    list_show(&list, (size_t)where.height);
    b->field_first = list.first;
    for (int i = 0; i < where.height && list.first + (size_t)i < card.count; i++) {
        size_t at = list.first + (size_t)i;
        put_row(b, grid, where, where.y + i, &card.rows[at], at == b->field);
        spot_add(b, where.x, where.y + i, where.width, SPOT_VALUE, at);
    }
    if (b->card == 0) {
        put_piece(b, grid, rect_below(where, (int)card.count + 1));
    }
    bool marks = where.height > 1 && where.width >= 26; /* else they would stand on the values */
    if (list.first + (size_t)where.height < card.count && marks) {
        show_put(grid, where.x + where.width - 2, where.y + where.height - 1, -1, SHOW_DIM, "v");
    }
    if (list.first > 0 && marks) {
        show_put(grid, where.x + where.width - 2, where.y, -1, SHOW_DIM, "^");
    }
}

/* ---- a typed line that belongs to no field ---- */

/* A long text is typed in a box over the foot, as wide as the window. */
static void put_box(bench *b, show_grid *grid, const char *label) {
    int bottom = grid->height - foot_lines(grid), width = grid->width, most = bottom > 8 ? bottom / 2 : 2;
    int lines = entry_box_lines(&b->entry, width - 1);
    lines = lines > most ? most : lines < 2 ? 2 : lines;
    int y = bottom - lines - 1;
    y = y < 0 ? 0 : y;
    lines_clear(grid, y, bottom - y);
    show_putf(grid, 0, y, -1, SHOW_BOLD, "%s:", label);
    entry_box_draw(&b->entry, grid, (show_rect){0, y + 1, width, bottom - y - 1});
}

void draw_prompt(bench *b, show_grid *grid) {
    static const char *const labels[] = {[TYPING_SAVE_AS] = "save as",
                                         [TYPING_OPEN] = "open",
                                         [TYPING_TEMPLATE] = "template",
                                         [TYPING_PAPER] = "paper",
                                         [TYPING_CARD] = "card",
                                         [TYPING_PICTURE] = "picture",
                                         [TYPING_TOLERANCE] = "closes within"};
    if (b->typing == TYPING_NOTHING) {
        return;
    }
    if (b->typing == TYPING_VALUE || b->typing == TYPING_ITEM) {
        bench_card card;
        card_read(b, &card);
        if (b->field < card.count && row_is_tall(card.rows[b->field].field)) {
            put_box(b, grid, card.rows[b->field].field->label);
        }
        return;
    }
    int y = grid->height - foot_lines(grid) - 1;
    lines_clear(grid, y, 1);
    const char *label = b->typing == TYPING_NEW_TOOL ? b->new_kind == BW_IRON ? "pitch" : "length" : labels[b->typing];
    int used = show_putf(grid, 0, y, -1, SHOW_BOLD, "%s: ", label != NULL ? label : "");
    entry_draw(&b->entry, grid, used, y, grid->width - used);
}
