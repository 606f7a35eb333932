/* bench.c - the state behind the screens, and what the handlers share. */
#include <fcntl.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "bench/inner.h"
#include "shop/alloc.h"

static char *copy(const char *text) {
    return text == NULL ? NULL : shop_copy(text, strlen(text));
}

static bool is_there(const char *file) {
    struct stat status;
    return lstat(file, &status) == 0;
}

bench *bench_create(const char *file, const bench_places *places, shop_problems *problems, shop_status *status) {
    bench *b = shop_alloc(sizeof *b);
    *status = SHOP_NO_MEMORY;
    if (b == NULL) {
        shop_problem_add(problems, false, 0, 0, "out of memory");
        return NULL;
    }
    memset(b, 0, sizeof *b);
    b->new_fill = -1;
    b->height = 24;
    b->aspect = 2;
    b->pointer = true;
    b->has_views = true; /* until something is drawn */
    b->inventory = copy(places->inventory);
    b->state = copy(places->state);
    b->examples = copy(places->examples);
    *status = SHOP_OK;
    if (file == NULL) {
        recent_read(b);
        bench_go(b, BENCH_START);
    } else if (!is_there(file) && !left_look_for(b, file)) {
        form_start(b, file);
        *status = b->form.desk == NULL ? SHOP_BAD_FILE : SHOP_OK;
    } else {
        b->desk = left_open_layout(b, file, problems, status);
        if (b->desk != NULL) {
            recent_add(b, file);
            bench_opened(b);
        }
    }
    if (*status != SHOP_OK) {
        if (problems->errors == 0) {
            shop_problem_add(problems, false, 0, 0, "%s", b->message);
        }
        bench_destroy(b);
        return NULL;
    }
    return b;
}

void bench_destroy(bench *b) {
    if (b == NULL) {
        return;
    }
    desk_left_close(b->left);
    rest_forget(b);
    even_forget_rows(b);
    desk_close(b->desk);
    desk_close(b->stock);
    form_free(&b->form);
    start_free(b);
    free(b->inventory);
    free(b->state);
    free(b->examples);
    free(b->text);
    free(b->file);
    free(b->keys);
    free(b);
}

const desk *bench_desk(const bench *b) {
    return b->desk;
}

/* A layout that was just opened: the first band with something to count is in hand, its width first. */
void bench_opened(bench *b) {
    tolerance_follow(b);
    const shop_project *project = desk_project(b->desk);
    b->card = project->layout.band_count > 0 ? 1 : 0;
    for (size_t i = 0; i < project->layout.band_count; i++) {
        if (project->bands[i].fill == BW_FILL_BASKET) {
            b->card = i + 1;
            break;
        }
    }
    b->field = b->field_first = 0;
    b->impression = 0;
    bench_take_field(b, b->card == 0 ? "outline." : "bands[].width");
    bench_go(b, BENCH_WORK);
    bench_settle(b);
    shelf_follow(b);
    left_opened(b);
}

void bench_take_field(bench *b, const char *pattern) {
    bench_card card;
    card_read(b, &card);
    for (size_t i = 0; i < card.count; i++) {
        if (strncmp(card.rows[i].field->path, pattern, strlen(pattern)) == 0) {
            b->field = i;
            if (card.rows[i].field->type == SHOP_TYPE_LENGTH) {
                return;
            }
        }
    }
}

/* ---- messages ---- */

static void say(bench *b, bool bad, const char *format, va_list list) {
    char text[sizeof b->message];
    vsnprintf(text, sizeof text, format, list);
    key_words(b, text, b->message, sizeof b->message);
    b->bad = bad;
}

void bench_say(bench *b, const char *format, ...) {
    va_list list;
    va_start(list, format);
    say(b, false, format, list);
    va_end(list);
}

void bench_refuse(bench *b, const char *format, ...) {
    va_list list;
    va_start(list, format);
    say(b, true, format, list);
    va_end(list);
}

void bench_refuse_problem(bench *b, shop_problems *problems) {
    const char *text = "out of memory";
    for (size_t i = problems->count; i > 0; i--) {
        if (!problems->list[i - 1].note) {
            text = problems->list[i - 1].text; /* the first, after the loop */
        }
    }
    bench_refuse(b, "%s", text);
    shop_problems_free(problems);
}

void bench_go(bench *b, bench_screen screen) {
    b->screen = screen;
    b->list = (bench_list){0};
    b->typing = TYPING_NOTHING;
    if (screen == BENCH_START) {
        b->list.count = b->start_count;
        /* What was open last is one key away. */
        b->list.at = b->start_count > 1 && strcmp(b->start[1].kind, "recent") == 0;
    }
}

bench_screen bench_where(const bench *b) {
    return b->typing != TYPING_NOTHING && b->typing != TYPING_COMMAND ? BENCH_TYPING : b->screen;
}

void bench_type(bench *b, bench_typing what, const char *text) {
    b->typing = what;
    b->entry.across = 0;
    entry_start(&b->entry, text);
}

void bench_settle(bench *b) {
    strip_settle(b); /* the inventory's tools are worked on without a piece, too */
    if (b->desk == NULL) {
        return;
    }
    if (b->screen == BENCH_SECOND && !desk_holding(b->desk)) { /* undo and redo may lead there */
        b->screen = BENCH_WORK;
    }
    bool at_bench = b->screen == BENCH_STRIKES || b->screen == BENCH_REST;
    if (at_bench && show_impressions(desk_plan(b->desk), b->band) == 0) { /* undo and redo may lead there, too */
        bench_go(b, BENCH_WORK);
    }
    size_t cards = bench_cards(b), bands = desk_project(b->desk)->layout.band_count;
    if (b->card >= cards) {
        b->card = cards - 1;
    }
    if (bench_card_band(b) != SIZE_MAX) {
        b->band = bench_card_band(b);
    }
    if (b->band >= bands) {
        b->band = bands > 0 ? bands - 1 : 0;
    }
    bench_card card;
    card_read(b, &card);
    if (b->field >= card.count) {
        b->field = card.count > 0 ? card.count - 1 : 0;
    }
    items_settle(b);
    shelf_items_settle(b);
    int impressions = show_impressions(desk_plan(b->desk), b->band);
    if (b->impression > impressions) {
        b->impression = impressions;
    }
}

/* ---- changes ---- */

double bench_gap(const bench *b) {
    const bw_band_plan *plan = bench_band_plan(b);
    return plan == NULL || plan->run_count == 0 ? NAN : plan->runs[bw_worst_run(plan)].closure_gap;
}

/* Of several runs the figures tell of one: the same everywhere. */
static const char *gap_name(const bench *b) {
    const bw_band_plan *plan = bench_band_plan(b);
    return plan != NULL && plan->run_count > 1 ? "worst gap" : "gap";
}

void bench_gap_words(const bench *b, double gap, char out[40]) {
    if (desk_project(b->desk)->units == SHOP_INCH) {
        snprintf(out, 40, "%+.3f in", gap / BW_MM_PER_INCH);
    } else {
        snprintf(out, 40, "%+.2f mm", gap);
    }
}

void bench_tell_change(bench *b, double gap_before) {
    char before[40], now[40];
    double gap = bench_gap(b);
    const char *last = desk_last(b->desk);
    if (!isnan(gap_before) && !isnan(gap) && fabs(gap - gap_before) > BW_EPS) {
        bench_gap_words(b, gap_before, before);
        bench_gap_words(b, gap, now);
        bench_say(b, "%s; %s was %s, is %s ({workbench.undo} takes it back)", last != NULL ? last : "", gap_name(b),
                  before, now);
    } else {
        bench_say(b, "%s ({workbench.undo} takes it back)", last != NULL ? last : "");
    }
}

bool bench_change(bench *b, const char *path, const char *text) {
    if (b->shelf.of != NULL) {
        return shelf_hand_change(b, path, text);
    }
    shop_problems problems;
    shop_problems_init(&problems, "");
    double gap = bench_gap(b);
    size_t length;
    const char *before = desk_bytes(b->desk, &length);
    if (!desk_edit(b->desk, path, text, &problems)) {
        bench_refuse_problem(b, &problems);
        return false;
    }
    shop_problems_free(&problems);
    if (desk_bytes(b->desk, &length) == before) {
        bench_say(b, "It is so already: nothing has changed.");
        return true;
    }
    bench_tell_change(b, gap);
    return true;
}

static bool edits_of_piece(bench *b, const shop_edit *edits, size_t count, const char *title, bool carrying) {
    shop_problems problems;
    shop_problems_init(&problems, "");
    double gap = bench_gap(b);
    bool fine = carrying ? desk_edit_carrying(b->desk, edits, count, title, &problems)
                         : desk_edit_many(b->desk, edits, count, title, &problems);
    if (fine) {
        shop_problems_free(&problems);
        bench_tell_change(b, gap);
    } else {
        bench_refuse_problem(b, &problems);
    }
    return fine;
}

bool bench_edits(bench *b, const shop_edit *edits, size_t count, const char *title) {
    return b->shelf.of != NULL ? shelf_hand_edits(b, edits, count, title)
                               : edits_of_piece(b, edits, count, title, false);
}

bool bench_band_edits(bench *b, const shop_edit *edits, size_t count, const char *title) {
    return edits_of_piece(b, edits, count, title, true);
}

void bench_read(bench *b, const char *title, char *text) {
    if (text == NULL) {
        bench_refuse(b, "out of memory");
        return;
    }
    free(b->text);
    b->text = text;
    b->page_width = 0;
    snprintf(b->title, sizeof b->title, "%s", title);
    if (b->screen != BENCH_READ) {
        b->back = b->screen;
        b->back_list = b->list;
    }
    b->screen = BENCH_READ;
    b->list = (bench_list){0};
}

void bench_back(bench *b) {
    b->screen = b->back;
    b->list = b->back_list;
}

void do_repaint(bench *b, int key) {
    (void)key;
    b->effects |= BENCH_REPAINT;
}

/* ---- the first time ---- */

void bench_greet(bench *b) {
    size_t room = b->state == NULL || b->message[0] != '\0' ? 0 : strlen(b->state) + 16;
    char *mark = room == 0 ? NULL : shop_alloc(room);
    if (mark == NULL || !shop_folder_make(b->state)) {
        free(mark);
        return;
    }
    snprintf(mark, room, "%s/greeted", b->state);
    int file = open(mark, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    free(mark);
    if (file < 0) {
        return;
    }
    close(file);
    bench_say(b, "New here? {workbench.help} shows the keys that work, {workbench.more} finds every command by a word. "
                 "This is said once.");
}

/* ---- the way out at once ---- */

const char *bench_leave(bench *b) {
    const char *piece = b->desk == NULL ? NULL : desk_journal_leave(b->desk);
    const char *stock = b->stock == NULL ? NULL : desk_journal_leave(b->stock);
    const char *form = form_leave(b);
    return piece != NULL ? piece : form != NULL ? form : stock;
}

bool bench_unsaved(const bench *b) {
    return (b->desk != NULL && desk_unsaved(b->desk)) || (b->form.desk != NULL && b->form.changed) ||
           (b->stock != NULL && desk_unsaved(b->stock));
}

int bench_sync_wait(const bench *b) {
    int piece = b->desk == NULL ? -1 : desk_journal_wait(b->desk);
    int stock = b->stock == NULL ? -1 : desk_journal_wait(b->stock);
    return piece < 0 ? stock : stock < 0 ? piece : piece < stock ? piece : stock;
}

void bench_sync(bench *b) {
    if (b->desk != NULL && desk_journal_wait(b->desk) == 0) {
        desk_journal_sync(b->desk);
    }
    if (b->form.desk != NULL && b->form.changed) {
        (void)form_keep(b);
    }
    if (b->stock != NULL && desk_journal_wait(b->stock) == 0) {
        desk_journal_sync(b->stock);
    }
}
