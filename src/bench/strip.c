/* strip.c - the form of a test strip: what was struck on scrap and what the rule says; what comes of it shows at once.
 */
#include <stdlib.h>
#include <string.h>

#include "bench/inventory.h"
#include "desk/strips.h"
#include "shop/alloc.h"
#include "show/hand.h"

static const struct {
    const char *label, *help;
} rows[STRIP_ROWS] = {
    [STRIP_IMPRESSIONS] = {"impressions",
                           "How many stand in the strip; ten are enough. Strike as usual, without a look at the "
                           "rule."},
    [STRIP_SPAN] = {"measured",
                    "{strip.other-choice} and {strip.other-choice:2} choose: from one point of the first to the "
                    "same point of the last, or over all; one face is then taken off."},
    [STRIP_LENGTH] = {"length", "What the rule says, such as 67.5 or 2 5/8 in."},
    [STRIP_STRUCK] = {"struck",
                      "{strip.other-choice} and {strip.other-choice:2} choose: as usual, or as close or as wide as "
                      "still looks right."},
    [STRIP_AIMED] = {"aimed at", "The step that was pricked off before, if one was; else leave it empty."},
    [STRIP_LEATHER] = {"leather", "What it was struck on, such as 8 oz shoulder, damp; for the maker only."},
    [STRIP_DATE] = {"date", "When, such as 2026-03-02; for the maker only."},
    [STRIP_ADD] = {"add the strip", "{strip.type-or-add-it} writes the strip into the tool; undo takes it back there."},
};

static const desk *strip_desk(const bench *b) {
    return b->strip.stock ? b->stock : b->desk;
}

/* The tool in the file that the form is of; -1 if it is gone. */
static int strip_tool(const bench *b) {
    const shop_project *project = strip_desk(b) == NULL ? NULL : desk_project(strip_desk(b));
    size_t count = project == NULL ? 0 : b->strip.stock ? project->own_tools : project->layout.tool_count;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(project->tools[i].id, b->strip.id) == 0) {
            return (int)i;
        }
    }
    return -1;
}

static bool has_steps(const bw_tool *tool) {
    return tool->kind == BW_BASKET || tool->kind == BW_BORDER || tool->kind == BW_IRON;
}

/* ---- coming and going ---- */

/* The tool in hand on the workbench: of a stamp's card, else of the band looked at. */
static const bw_tool *hand_of_work(bench *b) {
    const shop_project *project = desk_project(b->desk);
    size_t bands = project->layout.band_count, card = bench_card_band(b), band = card != SIZE_MAX ? card : b->band;
    if (b->card > bands) {
        return &project->tools[b->card - 1 - bands];
    }
    int tool = band < bands ? project->bands[band].tool : -1;
    return tool < 0 ? NULL : &project->tools[tool];
}

static const bw_tool *hand_of_shelf(bench *b, bool *stock) {
    shelf_row row;
    if (b->shelf.head || !shelf_in_hand(b, &row)) {
        return NULL;
    }
    *stock = row.shop >= 0 && !(b->screen == BENCH_TOOL && b->shelf.piece && row.own >= 0);
    return *stock ? &desk_project(b->stock)->tools[row.shop] : row.tool;
}

void do_strip(bench *b, int key) {
    (void)key;
    bool stock = false, work = b->screen == BENCH_WORK;
    const bw_tool *tool = work ? hand_of_work(b) : hand_of_shelf(b, &stock);
    if (tool == NULL || !has_steps(tool)) {
        bench_refuse(b, tool == NULL ? "There is no stamp in hand to strike a test strip with."
                                     : "Test strips are of basket stamps, border stamps and irons; this has no steps.");
        return;
    }
    bench_strip *s = &b->strip;
    memset(s, 0, sizeof *s);
    s->from = (int)b->screen;
    s->stock = stock;
    snprintf(s->id, sizeof s->id, "%s", tool->id);
    snprintf(s->text[STRIP_IMPRESSIONS], STRIP_TEXT, "10");
    s->at = STRIP_LENGTH;
    bench_go(b, BENCH_STRIP);
}

void strip_leave(bench *b) {
    bench_screen from = (bench_screen)b->strip.from;
    bool shelf = from == BENCH_INVENTORY || from == BENCH_TOOL;
    bench_go(b, shelf || b->desk != NULL ? from : BENCH_START);
    if (shelf) {
        shelf_settle(b);
    }
}

void strip_settle(bench *b) {
    if (b->screen == BENCH_STRIP && strip_tool(b) < 0) {
        strip_leave(b);
    }
}

/* ---- what is typed ---- */

static desk_strip typed_of(const bench_strip *s) {
    const shop_field *struck = shop_field_find("tools[].strips[].struck");
    desk_strip typed = {{NULL}};
    typed.text[DESK_STRIP_IMPRESSIONS] = s->text[STRIP_IMPRESSIONS];
    typed.text[s->tips ? DESK_STRIP_TIPS : DESK_STRIP_LENGTH] = s->text[STRIP_LENGTH];
    typed.text[DESK_STRIP_STRUCK] = s->struck == BW_STRUCK_USUAL ? "" : struck->words[s->struck];
    typed.text[DESK_STRIP_AIMED] = s->text[STRIP_AIMED];
    typed.text[DESK_STRIP_LEATHER] = s->text[STRIP_LEATHER];
    typed.text[DESK_STRIP_DATE] = s->text[STRIP_DATE];
    return typed;
}

static strip_row row_of(desk_strip_key key) {
    switch (key) {
    case DESK_STRIP_LENGTH:
    case DESK_STRIP_TIPS:
        return STRIP_LENGTH;
    case DESK_STRIP_AIMED:
        return STRIP_AIMED;
    default:
        return STRIP_IMPRESSIONS;
    }
}

/* Is the strip whole? Then as figures, else why not. */
static bool is_whole(const bench *b, bw_strip *strip, char why[200], desk_strip_key *wrong) {
    const shop_project *project = desk_project(strip_desk(b));
    desk_strip typed = typed_of(&b->strip);
    double *places;
    bool fine = desk_strip_read(&typed, &project->tools[strip_tool(b)], project->units, strip, &places, why, wrong);
    free(places); /* the form has none */
    return fine;
}

/* What is refused stays as typed, to be put right; what only lacks the rest is taken. */
void strip_take(bench *b) {
    bench_strip *s = &b->strip;
    char before[STRIP_TEXT], why[200];
    desk_strip_key wrong;
    bw_strip strip;
    if (b->entry.length >= STRIP_TEXT) {
        bench_refuse(b, "This is too long.");
        return;
    }
    memcpy(before, s->text[s->at], STRIP_TEXT);
    memcpy(s->text[s->at], b->entry.text, b->entry.length + 1);
    if (s->text[s->at][0] != '\0' && !is_whole(b, &strip, why, &wrong) && row_of(wrong) == s->at) {
        memcpy(s->text[s->at], before, STRIP_TEXT);
        bench_refuse(b, "%s", why);
        return;
    }
    b->typing = TYPING_NOTHING;
    s->at = s->at + 1 < STRIP_ROWS && s->at == STRIP_LENGTH ? STRIP_ADD : s->at;
}

/* One undo step of the piece or the inventory. */
static bool write_strip(bench *b) {
    desk_strip typed = typed_of(&b->strip);
    shop_edit edits[2] = {{NULL, NULL, NULL}, {NULL, NULL, NULL}};
    size_t count = 1;
    char title[160];
    bool made = b->strip.stock ? desk_strip_edit(b->stock, b->strip.id, &typed, &edits[0], title)
                               : desk_strip_edits(b->desk, strip_tool(b), &typed, edits, &count, title);
    bool fine = false;
    if (!made) {
        bench_refuse(b, "out of memory");
    } else if (b->strip.from == BENCH_WORK) {
        fine = bench_edits(b, edits, count, title);
    } else {
        fine = shelf_edit(b, !b->strip.stock, edits, count, title);
    }
    shop_edit_free(&edits[0]);
    shop_edit_free(&edits[1]);
    return fine;
}

static void add_strip(bench *b) {
    char why[200];
    desk_strip_key wrong;
    bw_strip strip;
    if (!is_whole(b, &strip, why, &wrong)) {
        bench_refuse(b, "%s", why);
        b->strip.at = row_of(wrong);
    } else if (write_strip(b)) {
        b->strip.text[STRIP_LENGTH][0] = '\0'; /* ready for the next one */
        b->strip.at = STRIP_LENGTH;
    }
}

/* ---- keys ---- */

void do_strip_move(bench *b, int key) {
    bench_strip *s = &b->strip;
    int by = key == BENCH_KEY_DOWN || key == BENCH_KEY_TAB ? 1 : -1, at = (int)s->at + by;
    if (key == BENCH_KEY_HOME || key == BENCH_KEY_END) {
        at = key == BENCH_KEY_HOME ? 0 : STRIP_ROWS - 1;
    }
    if (at < 0 || at >= STRIP_ROWS) {
        bench_say(b,
                  at < 0 ? "This is the first row." : "This is the last row: {strip.type-or-add-it} adds the strip.");
        return;
    }
    s->at = (strip_row)at;
}

void do_strip_other(bench *b, int key) {
    bench_strip *s = &b->strip;
    int by = key == BENCH_KEY_LEFT || key == '-' ? BW_STRUCK_COUNT - 1 : 1;
    if (s->at == STRIP_SPAN) {
        s->tips = !s->tips;
    } else if (s->at == STRIP_STRUCK) {
        s->struck = (s->struck + by) % BW_STRUCK_COUNT;
    } else {
        bench_refuse(b, s->at == STRIP_ADD ? "{strip.type-or-add-it} adds the strip."
                                           : "This row has no choices: {strip.type-or-add-it} types it.");
    }
}

void do_strip_type(bench *b, int key) {
    bench_strip *s = &b->strip;
    bool enter = key == BENCH_KEY_ENTER || key == ' ';
    if (s->at == STRIP_ADD && enter) {
        add_strip(b);
        return;
    }
    if ((s->at == STRIP_SPAN || s->at == STRIP_STRUCK) && enter) {
        do_strip_other(b, BENCH_KEY_RIGHT);
        return;
    }
    if (s->at == STRIP_SPAN || s->at == STRIP_STRUCK || s->at == STRIP_ADD) {
        s->at = STRIP_LENGTH; /* a number is what the rule says */
    }
    bench_type(b, TYPING_STRIP, enter ? s->text[s->at] : "");
    if (!enter) {
        entry_key(&b->entry, key);
    }
}

void do_strip_clear(bench *b, int key) {
    (void)key;
    b->strip.text[b->strip.at][0] = '\0';
}

/* ---- as shown ---- */

static void row_words(const bench *b, strip_row row, char out[STRIP_TEXT]) {
    static const char *const how[] = {"as usual", "as close as still looks right", "as wide as still looks right"};
    const bench_strip *s = &b->strip;
    const char *words = row == STRIP_SPAN ? s->tips ? "over all, from tip to tip" : "from one point to the same point"
                        : row == STRIP_STRUCK ? how[s->struck]
                                              : s->text[row];
    snprintf(out, STRIP_TEXT, "%s", words);
}

/* What all strips tell, this one among them if it is whole. */
static void put_answer(const bench *b, show_grid *grid, show_rect where) {
    const shop_project *project = desk_project(strip_desk(b));
    bw_tool tool = project->tools[strip_tool(b)];
    bw_strip *all = shop_alloc((tool.strip_count + 1) * sizeof *all), one;
    char why[200];
    desk_strip_key wrong;
    show_words lines[SHOW_HAND_LINES];
    if (all == NULL) {
        return;
    }
    if (tool.strip_count > 0) {
        memcpy(all, tool.strips, tool.strip_count * sizeof *all);
    }
    int used = 0;
    if (is_whole(b, &one, why, &wrong)) {
        all[tool.strip_count++] = one;
        used += show_wrap(grid, where, SHOW_BOLD, "With this strip:");
    } else {
        used += show_wrap(grid, where, SHOW_DIM, why);
    }
    tool.strips = all;
    bw_tool_take_strips(&tool);
    size_t count = show_hand_lines(project, &tool, BW_RULE_MM, lines);
    for (size_t i = 0; i < count && used < where.height; i++) {
        show_rect line = {where.x, where.y + used, where.width, where.height - used};
        used += show_wrap(grid, line, lines[i].text[0] == '!' ? SHOW_WARN : SHOW_PLAIN, lines[i].text);
    }
    free(all);
}

static void put_row(bench *b, show_grid *grid, strip_row row, int y, int values) {
    const bench_strip *s = &b->strip;
    char value[STRIP_TEXT];
    bool in_hand = row == s->at;
    row_words(b, row, value);
    spot_add(b, 0, y, grid->width, SPOT_VALUE, (size_t)row);
    show_put(grid, 2, y, 1, SHOW_BOLD, in_hand ? ">" : " ");
    show_put(grid, 4, y, row == STRIP_ADD ? -1 : values - 5, row == STRIP_ADD || in_hand ? SHOW_BOLD : SHOW_PLAIN,
             rows[row].label);
    if (in_hand && b->typing == TYPING_STRIP) {
        entry_draw(&b->entry, grid, values, y, grid->width - values);
        return;
    }
    bool empty = value[0] == '\0' && in_hand && row != STRIP_ADD;
    show_put(grid, values, y, -1, in_hand ? SHOW_REVERSE | SHOW_BOLD : SHOW_PLAIN, empty ? "(empty)" : value);
    if (in_hand && b->typing == TYPING_NOTHING) {
        grid->cursor_x = row == STRIP_ADD ? 4 : values;
        grid->cursor_y = y;
    }
}

void draw_strip(bench *b, show_grid *grid) {
    char words[400];
    int bottom = grid->height - foot_lines(grid), y = grid->height >= 20 ? 2 : 1;
    int values = grid->width >= 44 ? 20 : grid->width / 2, at = (int)b->strip.at;
    show_putf(grid, 2, 0, -1, SHOW_BOLD, "a test strip of %s, %s", b->strip.id,
              b->strip.stock ? "in the inventory" : "in the piece");
    int help = grid->height >= 14 ? 3 : 1, room = bottom - y - help, shown = room < STRIP_ROWS ? room : STRIP_ROWS;
    shown = shown < 1 ? 1 : shown;
    int first = at >= shown ? at - shown + 1 : 0;
    for (int row = first; row < STRIP_ROWS && row < first + shown; row++) {
        put_row(b, grid, (strip_row)row, y + row - first, values);
    }
    int under = y + shown;
    key_words(b, rows[at].help, words, sizeof words);
    int told = show_wrap(grid, (show_rect){4, under, grid->width - 6, help}, SHOW_DIM, words);
    under += told + (grid->height >= 20);
    if (under < bottom) {
        put_answer(b, grid, (show_rect){2, under, grid->width - 4, bottom - under});
    }
    draw_foot(b, grid);
}
