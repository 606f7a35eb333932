/* Two layouts side by side: the values that differ, then the figures that come of them. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "shop/alloc.h"
#include "show/inner.h"

static const char *const heads[2] = {"in hand", "held"};

enum { SECOND_LABEL = 260, SECOND_VALUE = 64, SIDE_BY_SIDE = 56, NARROW = 72 };

typedef struct second_row {
    char label[SECOND_LABEL];
    char value[2][SECOND_VALUE]; /* in hand, held */
    bool title;                  /* a heading: no values */
} second_row;

typedef struct second_rows {
    second_row *list;
    size_t count, room;
} second_rows;

typedef struct second_side {
    const shop_project *project;
    const bw_plan *plan;
} second_side;

static second_row *add_row(second_rows *rows) {
    enum { GROW = 32 };
    if (rows->count == rows->room) {
        second_row *more = shop_resize(rows->list, (rows->room + GROW) * sizeof *more);
        if (!more)
            return NULL;
        rows->list = more;
        rows->room += GROW;
    }
    second_row *row = &rows->list[rows->count++];
    *row = (second_row){.title = false};
    return row;
}

static void add_title(second_rows *rows, const char *words) {
    second_row *row = add_row(rows);
    if (!row)
        return;
    row->title = true;
    snprintf(row->label, sizeof row->label, "%s", words);
}

/* Figures that are the same are not told. */
static void add_figure(second_rows *rows, const char *band, const char *name, const char *here, const char *held) {
    if (strcmp(here, held) == 0)
        return;
    second_row *row = add_row(rows);
    if (!row)
        return;
    snprintf(row->label, sizeof row->label, "%.60s %s", band, name);
    snprintf(row->value[0], SECOND_VALUE, "%s", here);
    snprintf(row->value[1], SECOND_VALUE, "%s", held);
}

/* Index of a band by its name; the count if there is none. */
static size_t find_band(const second_side *side, const char *name) {
    size_t i = 0, bands = side->project->layout.band_count;
    while (i < bands && strcmp(side->project->bands[i].name, name) != 0)
        i++;
    return i;
}

/* "none" where the layout has no such band. */
static const char *verdict_of(const second_side *side, size_t band) {
    return band < side->plan->band_count ? bw_verdict_word(side->plan->bands[band].fit.verdict) : "none";
}

static const char *figure_of(const second_side *side, size_t band, show_figure_kind kind, show_figure *out) {
    bool has = band < side->plan->band_count && show_figure_of(side->project, side->plan, band, kind, out);
    return has ? out->value : "none";
}

static void add_band(second_rows *rows, const second_side side[2], const char *name) {
    static const show_figure_kind kinds[] = {SHOW_FIGURE_COUNT,     SHOW_FIGURE_GAP,   SHOW_FIGURE_STEP_CHANGE,
                                             SHOW_FIGURE_REACH,     SHOW_FIGURE_CROWD, SHOW_FIGURE_BEND,
                                             SHOW_FIGURE_BARE_STRIP};
    size_t band[2] = {find_band(&side[0], name), find_band(&side[1], name)};
    add_figure(rows, name, "verdict", verdict_of(&side[0], band[0]), verdict_of(&side[1], band[1]));
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        show_figure one[2] = {{.name = NULL}, {.name = NULL}};
        const char *here = figure_of(&side[0], band[0], kinds[i], &one[0]);
        const char *held = figure_of(&side[1], band[1], kinds[i], &one[1]);
        const char *called = one[0].name ? one[0].name : one[1].name ? one[1].name : "";
        if (kinds[i] == SHOW_FIGURE_COUNT) /* the value of this name is what was asked for */
            called = band[0] < side[0].plan->band_count ? show_impressions_word(side[0].plan->bands[band[0]].fill)
                                                        : show_impressions_word(side[1].plan->bands[band[1]].fill);
        add_figure(rows, name, called, here, held);
    }
}

/* Yes or no first, of each band that does not work well in both. */
static void add_answer(second_rows *rows, const second_side side[2], const char *name) {
    show_words said[2];
    bool good = true;
    for (int i = 0; i < 2; i++) {
        size_t band = find_band(&side[i], name);
        bool there = band < side[i].plan->band_count;
        good = good && there && side[i].plan->bands[band].fit.verdict == BW_GOOD;
        if (there)
            show_verdict_sentence(&said[i], side[i].project, side[i].plan, band);
        else
            snprintf(said[i].text, sizeof said[i].text, "there is no such band");
    }
    for (int i = 0; i < 2 && !good && strcmp(said[0].text, said[1].text) != 0; i++) {
        char words[SECOND_LABEL];
        snprintf(words, sizeof words, "%.40s, %s: %.200s", name, heads[i], said[i].text);
        add_title(rows, words);
    }
}

typedef void tell_band(second_rows *rows, const second_side side[2], const char *name);

static void each_band(second_rows *rows, const second_side side[2], tell_band *tell) {
    const bw_layout *here = &side[0].project->layout, *held = &side[1].project->layout;
    for (size_t i = 0; i < here->band_count; i++)
        tell(rows, side, side[0].project->bands[i].name);
    for (size_t i = 0; i < held->band_count; i++)
        if (find_band(&side[0], side[1].project->bands[i].name) == here->band_count)
            tell(rows, side, side[1].project->bands[i].name);
}

static void add_values(second_rows *rows, desk *d) {
    size_t count;
    const desk_difference *list = desk_differences(d, &count);
    for (size_t i = 0; i < count; i++) {
        second_row *row = add_row(rows);
        if (!row)
            return;
        snprintf(row->label, sizeof row->label, "%s", list[i].label);
        snprintf(row->value[0], SECOND_VALUE, "%s", list[i].here);
        snprintf(row->value[1], SECOND_VALUE, "%s", list[i].held);
    }
    if (count == 0)
        add_title(rows, "Both layouts are the same as yet.");
}

static void make_rows(second_rows *rows, desk *d, bool roomy) {
    second_side side[2] = {{desk_project(d), desk_plan(d)}, {desk_held_project(d), desk_held_plan(d)}};
    if (!side[1].project) {
        char words[SECOND_LABEL];
        const char *trouble = desk_held_trouble(d);
        snprintf(words, sizeof words, "The held layout cannot be used as things are: %.200s", trouble ? trouble : "");
        add_title(rows, trouble ? words : "No layout is held.");
        return;
    }
    if (roomy) {
        each_band(rows, side, add_answer);
        if (rows->count == 0)
            add_title(rows, "Each band says the same in both, or works well in both.");
    }
    add_values(rows, d);
    size_t before = rows->count;
    each_band(rows, side, add_band);
    if (rows->count == before)
        add_title(rows, "No figure of any band differs.");
}

/* ---- drawing ---- */

typedef struct second_page {
    show_grid *grid;
    show_rect where;
    int first, line; /* lines scrolled away; the next one */
} second_page;

/* The y of the next line, -1 if it cannot be seen. */
static int next_line(second_page *page) {
    int y = page->line++ - page->first;
    return y >= 0 && y < page->where.height ? page->where.y + y : -1;
}

static void put_beside(second_page *page, const second_row *row, const int at[2]) {
    int y = next_line(page);
    if (y < 0)
        return;
    show_put(page->grid, page->where.x, y, at[0] - page->where.x - 1, SHOW_PLAIN, row->label);
    show_put(page->grid, at[0], y, at[1] - at[0] - 1, SHOW_PLAIN, row->value[0]);
    show_put(page->grid, at[1], y, page->where.x + page->where.width - at[1], SHOW_PLAIN, row->value[1]);
}

/* What would be cut stands stacked, whole. */
static bool has_room(const second_row *row, const int at[2], show_rect where) {
    return show_text_width(row->label) < at[0] - where.x && show_text_width(row->value[0]) < at[1] - at[0] &&
           show_text_width(row->value[1]) <= where.x + where.width - at[1];
}

static void put_below(second_page *page, const second_row *row) {
    int y = next_line(page);
    if (y >= 0)
        show_put(page->grid, page->where.x, y, page->where.width, SHOW_BOLD, row->label);
    for (int i = 0; i < 2; i++) {
        y = next_line(page);
        if (y >= 0)
            show_putf(page->grid, page->where.x, y, page->where.width, SHOW_PLAIN, " %-7s %s", heads[i], row->value[i]);
    }
}

static void put_title(second_page *page, const second_row *row) {
    show_rect rest = {page->where.x, 0, page->where.width, 0};
    int lines = show_wrap(page->grid, rest, SHOW_PLAIN, row->label), y = next_line(page);
    if (y >= 0) {
        rest.y = y;
        rest.height = page->where.y + page->where.height - y;
        show_wrap(page->grid, rest, SHOW_PLAIN, row->label);
    }
    page->line += lines - 1;
}

/* The chosen one in brackets, so that no look is needed to tell it. */
static void put_heads(show_grid *grid, const int at[2], int y, int chosen) {
    for (int i = 0; i < 2; i++) {
        bool mine = i == chosen;
        show_putf(grid, at[i], y, -1, mine ? SHOW_BOLD | SHOW_REVERSE : SHOW_PLAIN, "%s%s%s", mine ? "[" : " ",
                  heads[i], mine ? "]" : " ");
    }
    grid->cursor_x = at[chosen] + 1;
    grid->cursor_y = y;
}

void show_second_heads(show_rect where, int at[2]) {
    bool beside = where.width >= SIDE_BY_SIDE;
    int column = where.width * (where.width < NARROW ? 30 : 35) / 100; /* in a narrow window labels need their part */
    at[0] = beside ? where.x + where.width - 2 * column : where.x;
    at[1] = beside ? where.x + where.width - column : where.x + 10;
}

int show_second(show_grid *grid, show_rect where, desk *d, int chosen, int first) {
    where = show_inside(grid, where);
    if (where.width < 1 || where.height < 1)
        return 0;
    bool beside = where.width >= SIDE_BY_SIDE;
    int at[2];
    show_second_heads(where, at);
    put_heads(grid, at, where.y, chosen);
    second_page page = {grid, show_from_line(where, 1), first, 0};
    second_rows rows = {NULL, 0, 0};
    make_rows(&rows, d, beside && where.height >= 12);
    for (size_t i = 0; i < rows.count; i++) {
        if (rows.list[i].title)
            put_title(&page, &rows.list[i]);
        else if (beside && has_room(&rows.list[i], at, where))
            put_beside(&page, &rows.list[i], at);
        else
            put_below(&page, &rows.list[i]);
    }
    free(rows.list);
    return page.line;
}

const char *show_held_sentence(show_words *out, desk *d) {
    size_t count;
    const desk_difference *list = desk_differences(d, &count);
    show_start(out);
    if (!desk_holding(d))
        return out->text;
    show_say(out, "held: ");
    const char *trouble = desk_held_trouble(d);
    if (trouble)
        show_say(out, "it cannot be used as things are: %.150s", trouble);
    else if (count == 0)
        show_say(out, "the same as in hand");
    else
        show_say(out, "%.60s %.60s", list[0].label, list[0].held);
    if (count > 1)
        show_say(out, ", %zu more", count - 1);
    return out->text;
}
