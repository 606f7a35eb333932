/* work.c - the workbench: stepping, typing, counts, bands, undo. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"

static bool row_in_hand(bench *b, bench_card *card, bench_row **row) {
    card_read(b, card);
    *row = b->field < card->count ? &card->rows[b->field] : NULL;
    return *row != NULL;
}

/* ---- moving ---- */

void do_up_down(bench *b, int key) {
    bench_card card;
    card_read(b, &card);
    bench_list list = {.at = b->field, .count = card.count};
    if (!list_key(&list, key, list_page(b)) || list.at == b->field) {
        bench_say(b, list_back(key) ? "This is the first value." : "This is the last value.");
    }
    b->field = list.at;
}

/* With a stamp in hand a band that it strikes is looked at. */
static void look_at_tool_band(bench *b) {
    const bw_layout *layout = &desk_project(b->desk)->layout;
    if (b->card <= layout->band_count || b->band >= layout->band_count) {
        return;
    }
    int tool = (int)(b->card - 1 - layout->band_count);
    for (size_t i = 0; i < layout->band_count && layout->bands[b->band].tool != tool; i++) {
        b->band = layout->bands[i].tool == tool ? i : b->band;
    }
}

/* The same kind of value stays in hand from band to band. */
void do_card(bench *b, int key) {
    bench_card card;
    bench_row *row;
    char pattern[ROW_TEXT] = "";
    if (row_in_hand(b, &card, &row)) {
        snprintf(pattern, sizeof pattern, "%s", row->field->path);
    }
    size_t cards = bench_cards(b);
    b->card = (b->card + (key == BENCH_KEY_TAB ? 1 : cards - 1)) % cards;
    b->field = b->field_first = 0;
    look_at_tool_band(b);
    if (pattern[0] != '\0') {
        bench_take_field(b, pattern);
    }
}

/* ---- stepping ---- */

static void step(bench *b, int steps) {
    bench_card card;
    bench_row *row;
    char text[ROW_TEXT], why[200] = "";
    if (!row_in_hand(b, &card, &row)) {
        return;
    }
    if (!row_step(b, row, steps, text, why)) {
        bench_refuse(b, "%s", why);
        return;
    }
    bench_set_value(b, row, text);
}

static bool is_more(int key) {
    return key == BENCH_KEY_RIGHT || key == '+' || key == '=' || key == '>' || key == '.' || key == 'm' || key == ']';
}

void do_step(bench *b, int key) {
    step(b, is_more(key) ? 1 : -1);
}

void do_ten(bench *b, int key) {
    step(b, is_more(key) ? 10 : -10);
}

/* ---- typing ---- */

void do_digit(bench *b, int key) {
    bench_card card;
    bench_row *row;
    if (!row_in_hand(b, &card, &row)) {
        return;
    }
    if (row_is_list(row->field)) {
        items_show(b); /* a number belongs to one of its items */
        return;
    }
    bench_type(b, TYPING_VALUE, "");
    entry_key(&b->entry, key);
}

/* The whole of what stands there, however long; a point of a strap by its length alone. */
void bench_type_row(bench *b, bench_typing what, const desk *of, const bench_row *row) {
    char *text = row->given ? shop_project_get(desk_project(of), row->path) : NULL;
    const char *shown = text != NULL ? text : "";
    size_t length = strlen(shown);
    char point[ROW_TEXT];
    if (row->field->type == SHOP_TYPE_END && shown[0] == '{' && length < sizeof point) {
        snprintf(point, sizeof point, "%.*s", (int)(length - 2), shown + 1);
        shown = point;
    }
    bool share = row->field->type == SHOP_TYPE_SHARE || row->field->type == SHOP_TYPE_GUIDE;
    if (share && row->given) {
        shown = row->words; /* 0.5 is shown as 50 % */
    }
    if (length > ENTRY_MOST) {
        bench_refuse(b,
                     "%s is longer than the %d bytes that can be typed here: change it in the file, and "
                     "{workbench.load-again} reads that "
                     "again.",
                     row->field->label, ENTRY_MOST);
    } else {
        bench_type(b, what, shown);
    }
    free(text);
}

/* Enter and Space do the same everywhere. */
void do_value(bench *b, int key) {
    bench_card card;
    bench_row *row;
    if (!row_in_hand(b, &card, &row)) {
        return;
    }
    shop_type type = row->field->type;
    if (strcmp(row->field->path, "bands[].tool") == 0) {
        do_tools(b, key);
    } else if (type == SHOP_TYPE_WORD || type == SHOP_TYPE_YES_NO || type == SHOP_TYPE_TOOL) {
        step(b, 1);
    } else if (bench_items_of(b, row)) {
        items_show(b);
    } else {
        bench_type_row(b, TYPING_VALUE, b->desk, row);
    }
}

void do_usual(bench *b, int key) {
    (void)key;
    bench_card card;
    bench_row *row;
    if (!row_in_hand(b, &card, &row)) {
        return;
    }
    if (!row->given) {
        bench_say(b, "%s is as usual already: it does not stand in the file.", row->field->label);
    } else {
        bench_set_value(b, row, NULL);
    }
}

static void take_value(bench *b) {
    bench_card card;
    bench_row *row;
    char text[ENTRY_MOST + 1];
    if (!row_in_hand(b, &card, &row)) {
        b->typing = TYPING_NOTHING;
        return;
    }
    snprintf(text, sizeof text, "%s", b->entry.text);
    if (text[0] == '\0' && !row->given) {
        b->typing = TYPING_NOTHING; /* nothing stood there, and nothing was typed */
        bench_say(b, "Nothing is typed: nothing has changed.");
        return;
    }
    row_typed(row, text);
    bool clear = text[0] == '\0' && row->field->type != SHOP_TYPE_TEXT;
    /* What is refused stays as typed, to be put right. */
    if (bench_set_value(b, row, clear ? NULL : text)) {
        b->typing = TYPING_NOTHING;
    }
}

void do_entry_take(bench *b, int key) {
    (void)key;
    switch (b->typing) {
    case TYPING_VALUE:
        take_value(b);
        break;
    case TYPING_FORM:
        form_take(b);
        break;
    case TYPING_STRIP:
        strip_take(b);
        break;
    case TYPING_ITEM:
        if (!shelf_items_take(b) && items_take(b, b->entry.text)) {
            b->typing = TYPING_NOTHING;
        }
        break;
    case TYPING_NEW_TOOL:
        if (tools_take_new(b, b->entry.text)) {
            b->typing = TYPING_NOTHING;
        }
        break;
    case TYPING_FIND:
    case TYPING_ADD:
    case TYPING_TOOL:
        shelf_take(b);
        break;
    case TYPING_TEMPLATE:
    case TYPING_PAPER:
        files_template_take(b, b->entry.text);
        break;
    case TYPING_LEFT:
        rest_take_left(b);
        break;
    case TYPING_CARD:
        files_card_take(b, b->entry.text);
        break;
    case TYPING_PICTURE:
        files_picture_take(b, b->entry.text);
        break;
    case TYPING_TOLERANCE:
        tolerance_type(b, b->entry.text);
        break;
    default:
        files_take_name(b, b->entry.text);
    }
}

void do_entry_leave(bench *b, int key) {
    (void)key;
    b->typing = TYPING_NOTHING;
    b->after = AFTER_NOTHING;
}

/* ---- counts and gaps ---- */

/* A value of the band looked at, whichever card is in hand. */
static bool band_row(bench *b, const char *pattern, bench_row *out) {
    bench_card card;
    b->card = b->band + 1;
    card_read(b, &card);
    for (size_t i = 0; i < card.count; i++) {
        if (strcmp(card.rows[i].field->path, pattern) == 0) {
            b->field = i;
            *out = card.rows[i];
            return true;
        }
    }
    return false;
}

void do_count(bench *b, int key) {
    bench_row row;
    if (band_row(b, "bands[].count", &row)) {
        step(b, is_more(key) ? 1 : -1);
    }
}

/* The four ways in turn; the last steps as many as are of use. */
void do_lose(bench *b, int key) {
    (void)key;
    bench_row row;
    if (!band_row(b, "bands[].lose", &row)) {
        return;
    }
    if (strncmp(row.text, "last", 4) == 0) {
        bench_change(b, row.path, "straights");
    } else {
        step(b, 1);
    }
}

/* ---- undo ---- */

static void travelled(bench *b, bool done, const char *title, const char *verb, const char *nothing, double gap) {
    if (!done) {
        bench_say(b, "%s", nothing);
        return;
    }
    char words[400];
    snprintf(words, sizeof words, "%.380s", title);
    double now = bench_gap(b);
    if (!isnan(gap) && !isnan(now) && fabs(gap - now) > BW_EPS) {
        char again[40];
        bench_gap_words(b, now, again);
        bench_say(b, "%s: %s; the gap is %s again", verb, words, again);
    } else {
        bench_say(b, "%s: %s", verb, words);
    }
}

void do_undo(bench *b, int key) {
    (void)key;
    const char *title = NULL;
    double gap = bench_gap(b);
    bool done = desk_undo(b->desk, &title);
    if (!done && desk_last(b->desk) != NULL) { /* it was readable then, with the tools of then */
        bench_refuse(b, "This cannot be taken back: " TOOL_GONE);
        return;
    }
    travelled(b, done, title, "taken back", "There is nothing to take back.", gap);
}

void do_redo(bench *b, int key) {
    (void)key;
    const char *title = NULL;
    double gap = bench_gap(b);
    bool done = desk_redo(b->desk, &title);
    if (!done && desk_next(b->desk) != NULL) {
        bench_refuse(b, "This cannot be made again: " TOOL_GONE);
        return;
    }
    travelled(b, done, title, "made again", "There is nothing to make again.", gap);
}

/* ---- whole bands ---- */

static bool band_in_hand(bench *b, const char *what) {
    if (bench_card_band(b) == SIZE_MAX) {
        bench_refuse(b, "Only a band can be %s: {workbench.band} takes one in hand.", what);
        return false;
    }
    return true;
}

static void band_done(bench *b, bool fine, shop_problems *problems) {
    if (fine) {
        shop_problems_free(problems);
        bench_tell_change(b, NAN);
    } else {
        bench_refuse_problem(b, problems);
    }
}

void do_band_copy(bench *b, int key) {
    (void)key;
    if (band_in_hand(b, "copied")) {
        shop_problems problems;
        shop_problems_init(&problems, "");
        bool fine = desk_band_copy(b->desk, bench_card_band(b), &problems);
        b->card += fine;
        band_done(b, fine, &problems);
    }
}

/* A stamp's copy goes out of the project; bands that need it and do not find it elsewhere keep it. */
static void tool_out(bench *b) {
    const shop_project *project = desk_project(b->desk);
    const char *id = project->tools[b->card - 1 - project->layout.band_count].id;
    char path[ROW_TEXT], title[120];
    snprintf(path, sizeof path, "tools.%s", id);
    snprintf(title, sizeof title, "%.60s taken out of the project", id);
    shop_edit edit = {.path = path};
    bench_edits(b, &edit, 1, title);
}

void do_band_out(bench *b, int key) {
    (void)key;
    if (b->card > desk_project(b->desk)->layout.band_count) {
        tool_out(b);
    } else if (band_in_hand(b, "taken out")) {
        shop_problems problems;
        shop_problems_init(&problems, "");
        bool fine = desk_band_remove(b->desk, bench_card_band(b), &problems);
        if (fine && b->card > desk_project(b->desk)->layout.band_count) {
            b->card--;
        }
        band_done(b, fine, &problems);
    }
}

void do_band_move(bench *b, int key) {
    if (band_in_hand(b, "moved")) {
        shop_problems problems;
        shop_problems_init(&problems, "");
        int by = is_more(key) ? 1 : -1;
        bool fine = desk_band_move(b->desk, bench_card_band(b), by, &problems);
        b->card = fine ? (by < 0 ? b->card - 1 : b->card + 1) : b->card;
        band_done(b, fine, &problems);
    }
}

/* ---- what suggestions leave alone ---- */

void do_keep(bench *b, int key) {
    (void)key;
    bench_card card;
    bench_row *row;
    const shop_project *project = desk_project(b->desk);
    if (!row_in_hand(b, &card, &row)) {
        return;
    }
    size_t at = 0, count = project->fixed_count;
    while (at < count && (strlen(row->path) != project->fixed[at].length ||
                          memcmp(row->path, project->fixed[at].bytes, project->fixed[at].length) != 0)) {
        at++;
    }
    bool there = at < count;
    char path[40], title[200];
    snprintf(path, sizeof path, "fixed[%zu]", at + 1);
    path[there && count == 1 ? 5 : strlen(path)] = '\0'; /* the key goes with the last */
    snprintf(title, sizeof title, "%.150s %s", row->path, there ? "is kept no more" : "is kept");
    shop_edit edit = {.path = path, .new_text = there ? NULL : row->path};
    if (row->fixed && !there) {
        bench_refuse(b, "%s is kept together with all below it; see the piece's list of fixed values.",
                     row->field->label);
    } else if (bench_edits(b, &edit, 1, title)) {
        bench_say(b, there ? "suggestions may change %s again" : "suggestions leave %s as it is", row->field->label);
    }
}
