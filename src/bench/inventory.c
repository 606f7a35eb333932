/* inventory.c - the inventory's list: opening it, moving, order, filters, saving, and its questions. */
#include <stdlib.h>
#include <string.h>

#include "bench/inventory.h"

/* ---- asking ---- */

static void ask(bench *b, bench_question question) {
    b->shelf.asked_from = b->screen == BENCH_ASK ? b->shelf.asked_from : (int)b->screen;
    b->question = question;
    b->typing = TYPING_NOTHING;
    b->screen = BENCH_ASK;
}

/* ---- opening ---- */

bool shelf_piece_follows(bench *b, char why[400]) {
    shop_problems problems;
    shop_problems_init(&problems, "");
    bool fine = b->desk == NULL || desk_use_inventory(b->desk, b->stock, &problems);
    for (size_t i = problems.count; i > 0; i--) {
        if (!problems.list[i - 1].note) {
            snprintf(why, 400, "%.390s", problems.list[i - 1].text); /* the first, after the loop */
        }
    }
    shop_problems_free(&problems);
    return fine;
}

void shelf_follow(bench *b) {
    if (b->stock_bad[0] != '\0' && b->stock == NULL) {
        bench_refuse(b, "The piece is open without the shop's tools, whose inventory cannot be read: %s", b->stock_bad);
        return;
    }
    char why[400] = "";
    if (b->stock != NULL && !shelf_piece_follows(b, why)) {
        bench_refuse(b, "The piece cannot use the inventory as it stands here: %s", why);
    }
}

const char *shelf_readable(bench *b) {
    shop_problems problems;
    shop_status status;
    shop_problems_init(&problems, b->inventory != NULL ? b->inventory : "inventory");
    b->stock_bad[0] = '\0';
    desk *tried = desk_open_inventory(b->inventory, &problems, &status);
    char *lines = tried == NULL && status == SHOP_BAD_FILE ? problem_lines(&problems) : NULL;
    if (lines != NULL) {
        const char *blank = strstr(lines, "\n\n"), *first = blank != NULL ? blank + 2 : lines;
        snprintf(b->stock_bad, sizeof b->stock_bad, "%.*s", (int)strcspn(first, "\n"), first);
    }
    free(lines);
    desk_close(tried);
    shop_problems_free(&problems);
    return b->stock_bad[0] != '\0' ? "" : b->inventory;
}

bool shelf_open(bench *b) {
    if (b->stock != NULL) {
        return true;
    }
    shop_problems problems;
    shop_problems_init(&problems, b->inventory != NULL ? b->inventory : "inventory");
    shop_status status;
    b->stock = desk_open_inventory(b->inventory, &problems, &status);
    if (b->stock == NULL) {
        bench_read(b, "the inventory cannot be opened", problem_lines(&problems));
    }
    shop_problems_free(&problems);
    return b->stock != NULL;
}

bool shelf_is_file(const bench *b, const char *file) {
    char *usual = b->inventory == NULL ? shop_inventory_place() : NULL;
    const char *own = b->inventory != NULL ? b->inventory : usual;
    char *full = own == NULL ? NULL : realpath(own, NULL);
    bool same = (full != NULL && strcmp(full, file) == 0) || (own != NULL && strcmp(own, file) == 0);
    free(full);
    free(usual);
    return same;
}

/* Changes of a program that did not end as it should are offered before anything is changed. */
static void look_for_left(bench *b) {
    desk_left_close(b->left);
    b->left = desk_left_for(b->state, desk_file(b->stock));
    if (b->left != NULL) {
        ask(b, ASK_INVENTORY_LEFT);
    } else if (!desk_journal_begin(b->stock, b->state)) {
        bench_refuse(b, "out of memory: changes are not kept until they are saved");
    } else {
        left_tell_newer(b, b->stock);
    }
}

void do_inventory(bench *b, int key) {
    (void)key;
    if (b->desk != NULL) {
        desk_try_leave(b->desk);
    }
    bool first = b->stock == NULL;
    if (!shelf_open(b)) {
        return;
    }
    b->shelf.head = false;
    b->shelf.side_count = b->shelf.side_done = b->shelf.before = 0;
    /* The stamp in hand, or that of the band in hand, is where the list begins. */
    size_t bands = b->desk == NULL ? 0 : desk_project(b->desk)->layout.band_count;
    int tool = b->desk == NULL     ? -1
               : b->card > bands   ? (int)(b->card - 1 - bands)
               : shelf_has_band(b) ? desk_project(b->desk)->bands[b->band].tool
                                   : -1;
    if (tool >= 0) {
        snprintf(b->shelf.id, sizeof b->shelf.id, "%s", desk_project(b->desk)->tools[tool].id);
    }
    bench_go(b, BENCH_INVENTORY);
    if (first) {
        shelf_follow(b);
        look_for_left(b);
    }
    if (b->message[0] == '\0' && desk_changed_outside(b->stock)) {
        bench_say(
            b, "Another program has changed the inventory since it was read; {inventory.load-again} reads it again.");
    }
    shelf_settle(b);
}

void shelf_leave(bench *b) {
    if (b->screen == BENCH_INVENTORY) {
        bench_go(b, b->desk != NULL ? BENCH_WORK : BENCH_START);
        if (desk_unsaved(b->stock)) {
            bench_say(b, "the inventory is not saved yet: {workbench.inventory} goes back to it, {inventory.save} "
                         "saves it there");
        }
        return;
    }
    if (b->screen == BENCH_TOOL_ITEMS) {
        bench_go(b, BENCH_TOOL);
        return;
    }
    b->shelf.head = false;
    bench_go(b, BENCH_INVENTORY);
    shelf_settle(b);
}

/* ---- moving, order, filters ---- */

void do_shelf_list(bench *b, int key) {
    size_t count, all;
    shelf_row *rows = shelf_read(b, &count, &all);
    b->list.count = count;
    list_key(&b->list, key, (size_t)(b->height > 16 ? b->height - 13 : 3));
    if (b->list.at < count) {
        snprintf(b->shelf.id, sizeof b->shelf.id, "%s", rows[b->list.at].tool->id);
    }
    free(rows);
}

void do_shelf_order(bench *b, int key) {
    (void)key;
    b->shelf.order = (b->shelf.order + 1) % SHELF_ORDERS;
    if (b->shelf.order == SHELF_BY_KIND && !shelf_has_band(b)) {
        b->shelf.order++; /* the same as by fit, then */
    }
    bench_say(b, "in order: %s", shelf_order_words(b));
    shelf_settle(b);
}

/* The next kind of which there is a tool, then all again. */
void do_shelf_kind(bench *b, int key) {
    (void)key;
    int before = b->shelf.kind;
    size_t count = 0, all;
    do {
        b->shelf.kind = (b->shelf.kind + 1) % (BW_MAUL + 2);
        free(shelf_read(b, &count, &all));
    } while (count == 0 && b->shelf.kind != 0 && b->shelf.kind != before);
    shelf_settle(b);
    if (b->shelf.kind == 0) {
        bench_say(b, "tools of every kind");
    } else {
        bench_say(b, "only %s", show_kind_word((bw_kind)(b->shelf.kind - 1)));
    }
}

void do_shelf_retired(bench *b, int key) {
    (void)key;
    b->shelf.retired = !b->shelf.retired;
    bench_say(b, b->shelf.retired ? "retired tools are shown" : "retired tools are not shown");
    shelf_settle(b);
}

void do_shelf_find(bench *b, int key) {
    (void)key;
    bench_type(b, TYPING_FIND, b->shelf.find);
    bench_say(
        b, "Type part of an id, a kind or a name; the list follows. {typing.take} keeps it, {typing.leave} leaves it.");
}

void do_shelf_open_tool(bench *b, int key) {
    (void)key;
    shelf_row row;
    if (!shelf_in_hand(b, &row)) {
        bench_refuse(b, "There is no tool in the list: {inventory.add} adds one, {inventory.find} and {inventory.kind} "
                        "change what is shown.");
        return;
    }
    b->shelf.piece = row.shop < 0;
    shelf_open_tool(b, NULL);
}

void do_shelf_head(bench *b, int key) {
    (void)key;
    b->shelf.piece = false;
    b->shelf.head = true;
    shelf_open_tool(b, "units");
}

/* ---- back from a question ---- */

static void back(bench *b) {
    bench_screen screen = (bench_screen)b->shelf.asked_from;
    b->question = ASK_NOTHING;
    if (screen == BENCH_START) {
        recent_read(b);
    }
    bench_go(b, screen);
    if (screen == BENCH_INVENTORY) {
        shelf_settle(b);
    }
}

/* ---- saving ---- */

/* What could not be written, why, and that nothing is lost. */
static void refuse_save(bench *b, shop_problems *problems) {
    char why[sizeof b->message];
    bench_refuse_problem(b, problems);
    snprintf(why, sizeof why, "%s", b->message);
    bench_refuse(b, "The inventory is not saved: %.400s; nothing is lost (%.200s)", why, desk_file(b->stock));
}

static bool save(bench *b) {
    shop_problems problems;
    shop_problems_init(&problems, desk_file(b->stock));
    if (desk_save(b->stock, &problems) != SHOP_OK) {
        refuse_save(b, &problems);
        return false;
    }
    shop_problems_free(&problems);
    const char *beside = desk_kept_beside(b->stock);
    bench_say(b, "the inventory is saved as %s%s%s", desk_file(b->stock),
              beside != NULL ? "; what was there is kept as " : "", beside != NULL ? beside : "");
    return true;
}

void do_shelf_save(bench *b, int key) {
    (void)key;
    bool changed = desk_changed_outside(b->stock);
    if (changed && desk_unsaved(b->stock)) {
        b->shelf.asked_from = (int)b->screen;
        theirs_ask_stock(b);
    } else if (changed) {
        bench_say(b, "%s was changed by another program; {inventory.load-again} reads it again", desk_file(b->stock));
    } else if (!desk_unsaved(b->stock)) {
        bench_say(b, "nothing in the inventory has changed since it was read or saved");
    } else {
        save(b);
    }
}

static void reload(bench *b) {
    shop_problems problems;
    shop_problems_init(&problems, desk_file(b->stock));
    if (!desk_reload(b->stock, &problems)) {
        bench_refuse_problem(b, &problems);
        return;
    }
    shop_problems_free(&problems);
    char why[400] = "";
    if (!shelf_piece_follows(b, why)) {
        desk_undo(b->stock, NULL);
        bench_refuse(b, "The open piece cannot use what the file holds now: %s", why);
        return;
    }
    b->shelf.side_count = b->shelf.side_done = b->shelf.before = 0; /* u then goes back in the inventory */
    bench_say(b, "the inventory is read again from the file ({inventory.undo} brings back what was here)");
    shelf_settle(b);
}

void do_shelf_reload(bench *b, int key) {
    (void)key;
    reload(b);
}

/* ---- another program's version ---- */

void shelf_keep_mine(bench *b) {
    shop_problems problems;
    char *kept = NULL;
    bool quits = b->after == AFTER_QUIT;
    b->after = AFTER_NOTHING;
    shop_problems_init(&problems, desk_file(b->stock));
    back(b);
    if (desk_save_over(b->stock, &kept, &problems) == SHOP_OK) {
        shop_problems_free(&problems);
        bench_say(b, "the inventory is saved as %.200s%s%.300s", desk_file(b->stock),
                  kept != NULL ? "; the other version is kept as " : "", kept != NULL ? kept : "");
        b->effects |= quits ? BENCH_QUIT : 0;
    } else {
        refuse_save(b, &problems);
    }
    free(kept);
}

void shelf_take_theirs(bench *b) {
    back(b);
    reload(b);
}

void shelf_theirs_back(bench *b) {
    b->after = AFTER_NOTHING;
    back(b);
}

/* ---- questions ---- */

/* As many of the changes as there is room for. */
static void left_question(const bench *b, char *out, size_t room) {
    size_t count = desk_left_count(b->left);
    int used = snprintf(out, room,
                        "%zu change%s of the inventory %s not saved when the program ended%s. {question.yes} takes %s "
                        "({inventory.undo} takes %s back), {question.no} drops %s for good, {question.back} leaves %s "
                        "for later.",
                        count, count == 1 ? "" : "s", count == 1 ? "was" : "were",
                        desk_left_differs(b->left, b->stock) && !desk_left_is_new(b->left)
                            ? "; the file was changed since, and what still fits is taken"
                            : "",
                        count == 1 ? "it" : "them", count == 1 ? "it" : "them", count == 1 ? "it" : "them",
                        count == 1 ? "it" : "them");
    for (size_t i = 0; i < count && used + 80 < (int)room; i++) {
        used += snprintf(out + used, room - (size_t)used, "\n- %.70s", desk_left_title(b->left, i));
    }
}

typedef enum left_answer { LEFT_TAKE, LEFT_DROP, LEFT_LATER } left_answer;

static void answer_left(bench *b, left_answer answer) {
    shop_problems problems;
    char *kept = NULL, why[400] = "";
    desk_left *left = b->left;
    shop_problems_init(&problems, "");
    b->left = NULL;
    b->dropping = false;
    back(b);
    if (!desk_journal_begin(b->stock, b->state)) {
        bench_refuse(b, "out of memory: changes are not kept until they are saved");
    }
    if (answer == LEFT_LATER) {
        desk_left_close(left);
        bench_say(b, "The changes stay where they are; you are asked again next time.");
    } else if (answer == LEFT_DROP) {
        desk_left_drop(left);
        bench_say(b, "dropped");
    } else if (!desk_left_take(b->stock, left, &problems, &kept)) {
        bench_refuse_problem(b, &problems);
        return;
    } else if (!shelf_piece_follows(b, why)) {
        bench_refuse(b, "Taken, but the open piece cannot use it: %s", why);
    } else {
        bench_say(b,
                  kept != NULL ? "what fits is taken; the rest stays as %.400s"
                               : "taken; {inventory.undo} takes it back, {inventory.save} saves",
                  kept);
    }
    free(kept);
    shop_problems_free(&problems);
    shelf_settle(b);
}

void shelf_question(const bench *b, char *out, size_t room) {
    char users[200];
    out[0] = '\0';
    switch (b->question) {
    case ASK_TOOL_OUT: {
        bool shop = shelf_has(b, false), own = shelf_has(b, true);
        shelf_users(b, b->shelf.id, users);
        int used = snprintf(out, room, "Take %.160s out of %s? ", b->shelf.id, shop ? "the inventory" : "the piece");
        if (users[0] != '\0') {
            used += snprintf(out + used, room - (size_t)used, "The open piece uses it (%s) and %s. ", users,
                             own ? "keeps its own copy" : "gets a copy of its own first");
        } else if (own && shop) {
            used += snprintf(out + used, room - (size_t)used, "The open piece keeps its own copy. ");
        }
        if (b->shelf.others[0] != '\0') {
            used += snprintf(out + used, room - (size_t)used, "Others use it, too, and have no copy: %s. ",
                             b->shelf.others);
        }
        snprintf(out + used, room - (size_t)used,
                 "{question.yes} takes it out, {inventory.undo} brings it back; {question.no} and "
                 "{question.back} leave it.");
        break;
    }
    case ASK_INVENTORY_UNSAVED:
        snprintf(out, room,
                 "The inventory is not saved. Save it as %.300s first? {question.yes} saves it, {question.no} leaves "
                 "without saving it, "
                 "{question.back} goes back.",
                 desk_file(b->stock));
        break;
    case ASK_INVENTORY_LEFT:
        left_question(b, out, room);
        break;
    default:
        break;
    }
}

bool shelf_ask_unsaved(bench *b) {
    if (b->stock == NULL || !desk_unsaved(b->stock)) {
        return false;
    }
    b->after = AFTER_QUIT;
    b->screen = b->screen == BENCH_ASK ? (b->desk != NULL ? BENCH_WORK : BENCH_START) : b->screen;
    ask(b, ASK_INVENTORY_UNSAVED);
    return true;
}

bool shelf_answer_back(bench *b) {
    if (b->question != ASK_TOOL_OUT && b->question != ASK_INVENTORY_UNSAVED && b->question != ASK_INVENTORY_LEFT) {
        return false;
    }
    b->after = AFTER_NOTHING;
    if (b->question == ASK_INVENTORY_LEFT) {
        answer_left(b, LEFT_LATER);
        return true;
    }
    back(b);
    return true;
}

static void answer_unsaved(bench *b, bool yes) {
    back(b);
    if (yes && desk_changed_outside(b->stock)) {
        theirs_ask_stock(b); /* which goes on to leaving */
        return;
    }
    if (!yes || save(b)) {
        b->effects |= BENCH_QUIT;
    }
    b->after = AFTER_NOTHING;
}

bool shelf_answer(bench *b, bool yes) {
    switch (b->question) {
    case ASK_TOOL_OUT:
        back(b);
        if (yes) {
            shelf_take_out(b);
        }
        return true;
    case ASK_INVENTORY_UNSAVED:
        answer_unsaved(b, yes);
        return true;
    case ASK_INVENTORY_LEFT:
        if (!yes && !b->dropping) {
            b->dropping = true;
            bench_say(b, "{question.no} again drops them for good; {question.yes} takes them, {question.back} leaves "
                         "them for later.");
            return true;
        }
        answer_left(b, yes ? LEFT_TAKE : LEFT_DROP);
        return true;
    default:
        return false;
    }
}

/* A copy of the piece's that its bands need cannot go. */
void do_shelf_out(bench *b, int key) {
    (void)key;
    shelf_row row;
    char users[200];
    if (!shelf_in_hand(b, &row)) {
        bench_refuse(b, "There is no tool in the list to be taken out.");
        return;
    }
    shelf_users(b, row.tool->id, users);
    if (row.shop < 0 && users[0] != '\0') {
        bench_refuse(b, "%s cannot go: the piece uses it (%s) and no other file has it.", row.tool->id, users);
        return;
    }
    b->shelf.others[0] = '\0';
    if (row.shop >= 0) {
        recent_users(b, row.tool->id, b->shelf.others);
    }
    ask(b, ASK_TOOL_OUT);
}
