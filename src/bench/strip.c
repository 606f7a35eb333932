/* strip.c - the form of a test strip: what was struck on scrap and what the rule says; what comes of it shows at once.
 */
#include <stdlib.h>
#include <string.h>

#include "bench/inventory.h"

const desk *strip_desk(const bench *b) {
    return b->strip.stock ? b->stock : b->desk;
}

int strip_tool(const bench *b) {
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
    bench_strip *s = &b->strip;
    int tool = b->screen == BENCH_STRIP ? strip_tool(b) : -1;
    if (b->screen == BENCH_STRIP && tool < 0) {
        strip_leave(b);
    } else if (tool >= 0) {
        size_t count = desk_project(strip_desk(b))->tools[tool].strip_count;
        s->out = s->out < count ? s->out : count > 0 ? count - 1 : 0;
    }
}

/* ---- what is typed ---- */

static desk_strip typed_of(const bench_strip *s) {
    static const desk_strip_key spans[] = {[STRIP_BY_POINTS] = DESK_STRIP_LENGTH,
                                           [STRIP_BY_TIPS] = DESK_STRIP_TIPS,
                                           [STRIP_BY_PLACES] = DESK_STRIP_PLACES};
    const shop_field *struck = shop_field_find("tools[].strips[].struck");
    bool places = s->span == STRIP_BY_PLACES && s->text[STRIP_LENGTH][0] != '\0'; /* they tell how many there are */
    desk_strip typed = {{NULL}};
    typed.text[DESK_STRIP_IMPRESSIONS] = places ? "" : s->text[STRIP_IMPRESSIONS];
    typed.text[spans[s->span]] = s->text[STRIP_LENGTH];
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
    case DESK_STRIP_PLACES:
        return STRIP_LENGTH;
    case DESK_STRIP_AIMED:
        return STRIP_AIMED;
    default:
        return STRIP_IMPRESSIONS;
    }
}

bool strip_whole(const bench *b, bw_strip *strip, double **places, char why[200], desk_strip_key *wrong) {
    const shop_project *project = desk_project(strip_desk(b));
    desk_strip typed = typed_of(&b->strip);
    return desk_strip_read(&typed, &project->tools[strip_tool(b)], project->units, strip, places, why, wrong);
}

static bool is_whole(const bench *b, char why[200], desk_strip_key *wrong) {
    bw_strip strip;
    double *places;
    bool fine = strip_whole(b, &strip, &places, why, wrong);
    free(places);
    return fine;
}

/* What is refused stays as typed, to be put right; what only lacks the rest is taken. */
void strip_take(bench *b) {
    bench_strip *s = &b->strip;
    char before[STRIP_TEXT], why[200];
    desk_strip_key wrong;
    if (b->entry.length >= STRIP_TEXT) {
        bench_refuse(b, "This is too long.");
        return;
    }
    memcpy(before, s->text[s->at], STRIP_TEXT);
    memcpy(s->text[s->at], b->entry.text, b->entry.length + 1);
    if (s->text[s->at][0] != '\0' && !is_whole(b, why, &wrong) && row_of(wrong) == s->at) {
        memcpy(s->text[s->at], before, STRIP_TEXT);
        bench_refuse(b, "%s", why);
        return;
    }
    b->typing = TYPING_NOTHING;
    s->first = 0;
    s->at = s->at + 1 < STRIP_ROWS && s->at == STRIP_LENGTH ? STRIP_ADD : s->at;
}

/* One undo step of the piece or the inventory. */
static bool write_edits(bench *b, shop_edit *edits, size_t count, bool made, const char *title) {
    bool fine = false;
    if (!made) {
        bench_refuse(b, "out of memory");
    } else if (b->strip.from == BENCH_WORK) {
        fine = bench_edits(b, edits, count, title);
    } else {
        fine = shelf_edit(b, !b->strip.stock, edits, count, title);
    }
    for (size_t i = 0; i < count; i++) {
        shop_edit_free(&edits[i]);
    }
    b->strip.first = 0;
    return fine;
}

static bool write_strip(bench *b) {
    desk_strip typed = typed_of(&b->strip);
    shop_edit edits[2] = {{NULL, NULL, NULL}, {NULL, NULL, NULL}};
    size_t count = 1;
    char title[160];
    bool made = b->strip.stock ? desk_strip_edit(b->stock, b->strip.id, &typed, &edits[0], title)
                               : desk_strip_edits(b->desk, strip_tool(b), &typed, edits, &count, title);
    return write_edits(b, edits, count, made, title);
}

/* The copy that only the inventory has is not the piece's to change. */
static void take_out(bench *b) {
    const desk *d = strip_desk(b);
    int tool = strip_tool(b);
    const bw_tool *one = &desk_project(d)->tools[tool];
    if (one->strip_count == 0) {
        bench_refuse(b, "There is no strip to take out.");
    } else if ((size_t)tool >= desk_project(d)->own_tools) {
        bench_refuse(b,
                     "These strips are the inventory's: {workbench.inventory} shows it, {workbench.test-strip} there "
                     "takes one out.");
    } else {
        shop_edit edit;
        char *was, title[160];
        bool made = desk_strip_out(d, tool, b->strip.out, &edit, &was, title);
        write_edits(b, &edit, 1, made, title);
        free(was);
    }
}

static void add_strip(bench *b) {
    char why[200];
    desk_strip_key wrong;
    if (!is_whole(b, why, &wrong)) {
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
        bench_say(b, at < 0 ? "This is the first row." : "This is the last row.");
        return;
    }
    s->at = (strip_row)at;
}

static void other_strip(bench *b, bool back) {
    size_t count = desk_project(strip_desk(b))->tools[strip_tool(b)].strip_count;
    if (count > 0) {
        b->strip.out = (b->strip.out + (back ? count - 1 : 1)) % count;
    }
}

void do_strip_other(bench *b, int key) {
    bench_strip *s = &b->strip;
    bool back = key == BENCH_KEY_LEFT || key == '-';
    s->first = 0;
    if (s->at == STRIP_SPAN) {
        s->span = (s->span + (back ? STRIP_SPANS - 1 : 1)) % STRIP_SPANS;
    } else if (s->at == STRIP_STRUCK) {
        s->struck = (s->struck + (back ? BW_STRUCK_COUNT - 1 : 1)) % BW_STRUCK_COUNT;
    } else if (s->at == STRIP_OUT) {
        other_strip(b, back);
    } else {
        bench_refuse(b, s->at == STRIP_ADD ? "{strip.type-or-add-it} adds the strip."
                                           : "This row has no choices: {strip.type-or-add-it} types it.");
    }
}

void do_strip_scroll(bench *b, int key) {
    b->strip.first += key == BENCH_KEY_PAGE_DOWN ? b->strip.page : -b->strip.page; /* put right where it is drawn */
}

/* What was added or taken out here is taken back where it was done. */
void do_strip_undo(bench *b, int key) {
    b->strip.first = 0;
    b->strip.from == BENCH_WORK ? do_undo(b, key) : do_shelf_undo(b, key);
}

void do_strip_redo(bench *b, int key) {
    b->strip.first = 0;
    b->strip.from == BENCH_WORK ? do_redo(b, key) : do_shelf_redo(b, key);
}

void do_strip_type(bench *b, int key) {
    bench_strip *s = &b->strip;
    bool enter = key == BENCH_KEY_ENTER || key == ' ';
    if ((s->at == STRIP_ADD || s->at == STRIP_OUT) && enter) {
        s->at == STRIP_ADD ? add_strip(b) : take_out(b);
        return;
    }
    if ((s->at == STRIP_SPAN || s->at == STRIP_STRUCK) && enter) {
        do_strip_other(b, BENCH_KEY_RIGHT);
        return;
    }
    if (s->at == STRIP_SPAN || s->at == STRIP_STRUCK || s->at == STRIP_ADD || s->at == STRIP_OUT) {
        s->at = STRIP_LENGTH; /* a number is what the rule says */
    }
    bench_type(b, TYPING_STRIP, enter ? s->text[s->at] : "");
    if (!enter) {
        entry_key(&b->entry, key);
    }
}

void do_strip_clear(bench *b, int key) {
    (void)key;
    if (b->strip.at == STRIP_OUT) {
        take_out(b);
    }
    b->strip.text[b->strip.at][0] = '\0';
    b->strip.first = 0;
}
