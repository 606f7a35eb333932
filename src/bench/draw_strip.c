/* draw_strip.c - the form of a test strip as it is shown: its rows, and what comes of it. */
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"
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
                    "same point of the last; over all, one face is then taken off; or where each one stands."},
    [STRIP_LENGTH] = {"length", "What the rule says, such as 67.5 or 2 5/8 in."},
    [STRIP_STRUCK] = {"struck",
                      "{strip.other-choice} and {strip.other-choice:2} choose: as usual, or as close or as wide as "
                      "still looks right."},
    [STRIP_AIMED] = {"aimed at", "The step that was pricked off before, if one was; else leave it empty."},
    [STRIP_LEATHER] = {"leather", "What it was struck on, such as 8 oz shoulder, damp; for the maker only."},
    [STRIP_DATE] = {"date", "When, such as 2026-03-02; for the maker only."},
    [STRIP_ADD] = {"add the strip",
                   "{strip.type-or-add-it} writes the strip into the tool; {strip.undo} takes it back."},
    [STRIP_OUT] = {"take one out",
                   "{strip.other-choice} and {strip.other-choice:2} choose one of the tool's strips and "
                   "rounds, {strip.type-or-add-it} takes it out; {strip.undo} brings it back."},
};
static const char places_help[] = "Where each impression but the first stands, all measured from the first, such as "
                                  "7.5, 15.1, 22.4.";

/* ---- rows ---- */

static void out_words(const bench *b, char out[STRIP_TEXT]) {
    const shop_project *project = desk_project(strip_desk(b));
    size_t tool = (size_t)strip_tool(b), count = project->tools[tool].strip_count;
    show_words words;
    snprintf(out, STRIP_TEXT, "there is none yet");
    if (count > 0) {
        snprintf(out, STRIP_TEXT, "%zu of %zu: %.200s", b->strip.out + 1, count,
                 show_strip_words(&words, project, tool, b->strip.out));
    }
}

static void row_words(const bench *b, strip_row row, char out[STRIP_TEXT]) {
    static const char *const how[] = {"as usual", "as close as still looks right", "as wide as still looks right"};
    static const char *const spans[] = {"from one point to the same point", "over all, from tip to tip",
                                        "every place, from the first"};
    const bench_strip *s = &b->strip;
    bool told = row == STRIP_IMPRESSIONS && s->span == STRIP_BY_PLACES;
    if (row == STRIP_OUT) {
        out_words(b, out);
        return;
    }
    snprintf(out, STRIP_TEXT, "%s",
             told                  ? "as many as there are places"
             : row == STRIP_SPAN   ? spans[s->span]
             : row == STRIP_STRUCK ? how[s->struck]
                                   : s->text[row]);
}

static bool of_places(const bench *b, strip_row row) {
    return row == STRIP_LENGTH && b->strip.span == STRIP_BY_PLACES;
}

static void put_row(bench *b, show_grid *grid, strip_row row, int y, int values) {
    const bench_strip *s = &b->strip;
    char value[STRIP_TEXT];
    bool in_hand = row == s->at;
    row_words(b, row, value);
    spot_add(b, 0, y, grid->width, SPOT_VALUE, (size_t)row);
    show_put(grid, 2, y, 1, SHOW_BOLD, in_hand ? ">" : " ");
    show_put(grid, 4, y, row == STRIP_ADD ? -1 : values - 5, row == STRIP_ADD || in_hand ? SHOW_BOLD : SHOW_PLAIN,
             of_places(b, row) ? "places" : rows[row].label);
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

/* ---- what comes of it ---- */

typedef struct answer {
    char head[200];
    unsigned look;
    show_words lines[SHOW_HAND_LINES];
    size_t count;
} answer;

/* What all strips tell, this one among them if it is whole. */
static void find_answer(const bench *b, answer *out) {
    const shop_project *project = desk_project(strip_desk(b));
    bw_tool tool = project->tools[strip_tool(b)];
    bw_strip *all = shop_alloc((tool.strip_count + 1) * sizeof *all), one;
    double *places = NULL;
    desk_strip_key wrong;
    out->count = 0;
    out->look = SHOW_DIM;
    if (all == NULL) {
        snprintf(out->head, sizeof out->head, "out of memory");
        return;
    }
    if (tool.strip_count > 0) {
        memcpy(all, tool.strips, tool.strip_count * sizeof *all);
    }
    if (strip_whole(b, &one, &places, out->head, &wrong)) {
        all[tool.strip_count++] = one;
        snprintf(out->head, sizeof out->head, "With this strip:");
        out->look = SHOW_BOLD;
    } else if (b->strip.text[STRIP_LENGTH][0] == '\0') {
        out->head[0] = '\0'; /* nothing is measured yet: the help of the row says what to do */
    }
    tool.strips = all;
    bw_tool_take_strips(&tool);
    out->count = show_hand_lines(project, &tool, BW_RULE_MM, out->lines);
    free(places);
    free(all);
}

static int put_answer_on(const answer *a, show_grid *grid, show_rect where) {
    int used = show_wrap(grid, where, a->look, a->head);
    for (size_t i = 0; i < a->count; i++) {
        int left = where.height - used;
        show_rect line = {where.x, where.y + used, where.width, left > 0 ? left : 0};
        used += show_wrap(grid, line, a->lines[i].text[0] == '!' ? SHOW_WARN : SHOW_PLAIN, a->lines[i].text);
    }
    return used;
}

/* The lines of a sheet that is as long as it must be, from the first that is wanted on. */
static void put_part(show_grid *grid, show_rect where, const answer *a, int all, int first) {
    show_grid sheet;
    if (!show_grid_init(&sheet, where.width, all, grid->unicode)) {
        return;
    }
    put_answer_on(a, &sheet, (show_rect){0, 0, where.width, all});
    for (int y = 0; y < where.height && first + y < all; y++) {
        memcpy(&grid->cells[(size_t)(where.y + y) * (size_t)grid->width + (size_t)where.x],
               &sheet.cells[(size_t)(first + y) * (size_t)sheet.width], (size_t)where.width * sizeof *sheet.cells);
    }
    show_grid_free(&sheet);
}

/* Where it is longer than the window its last line says how to read on. */
static void put_answer(bench *b, show_grid *grid, show_rect where) {
    bench_strip *s = &b->strip;
    answer a;
    char more[40];
    find_answer(b, &a);
    int all = put_answer_on(&a, grid, (show_rect){where.x, where.y, where.width, 0}), room = where.height;
    bool fits = all <= room;
    s->page = fits || room < 2 ? 1 : room - 1;
    int last = fits ? 0 : all - s->page;
    s->first = s->first > last ? last : s->first < 0 ? 0 : s->first;
    where.height = fits ? room : s->page;
    put_part(grid, where, &a, all, s->first);
    if (!fits && room > 1) {
        show_putf(grid, where.x, where.y + s->page, where.width, SHOW_DIM, "lines %d-%d of %d, %s", s->first + 1,
                  s->first + s->page, all, key_words(b, "{strip.page} {strip.page:2}", more, sizeof more));
    }
}

static void put_title(const bench *b, show_grid *grid, bool all) {
    int used = show_putf(grid, 2, 0, -1, SHOW_BOLD, "a test strip of %s, %s", b->strip.id,
                         b->strip.stock ? "in the inventory" : "in the piece");
    if (!all) {
        show_putf(grid, used + 4, 0, -1, SHOW_DIM, "row %d of %d", (int)b->strip.at + 1, STRIP_ROWS);
    }
}

void draw_strip(bench *b, show_grid *grid) {
    char words[400];
    bool high = grid->height >= 28;
    int bottom = grid->height - foot_lines(grid), y = high ? 2 : 1;
    int values = grid->width >= 44 ? 20 : grid->width / 2, at = (int)b->strip.at;
    int help = grid->height >= 14 ? 3 : 1, room = bottom - y - help;
    room -= room >= 9 ? 3 : room >= 5 ? 2 : 0; /* what comes of it is never pushed out */
    int shown = room < STRIP_ROWS ? room : STRIP_ROWS;
    shown = shown < 1 ? 1 : shown;
    put_title(b, grid, shown == STRIP_ROWS);
    int first = at >= shown ? at - shown + 1 : 0;
    for (int row = first; row < STRIP_ROWS && row < first + shown; row++) {
        put_row(b, grid, (strip_row)row, y + row - first, values);
    }
    int under = y + shown;
    key_words(b, of_places(b, b->strip.at) ? places_help : rows[at].help, words, sizeof words);
    int told = show_wrap(grid, (show_rect){4, under, grid->width - 6, help}, SHOW_DIM, words);
    under += (told < help ? told : help) + high;
    if (under < bottom) {
        put_answer(b, grid, (show_rect){2, under, grid->width - 4, bottom - under});
    }
    draw_foot(b, grid);
}
