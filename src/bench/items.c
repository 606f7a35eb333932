/* items.c - the items of a list, one a line: corners of a piece, radii, places, counts of runs, kept values. */
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"
#include "shop/alloc.h"
#include "shop/edit.h"
#include "shop/fields.h"

/* ---- a list in flow style ---- */

/* Where the item ends that begins at `at`: at its comma or at the closing bracket. */
static const char *item_end(const char *at) {
    int depth = 0;
    char quote = '\0';
    const char *from = at;
    for (; *at != '\0'; at++) {
        bool opens = quote == '\0' && (*at == '"' || *at == '\'') && (at == from || strchr(" ,[{:", at[-1]) != NULL);
        if (quote != '\0') {
            at += quote == '"' && *at == '\\' && at[1] != '\0';
            quote = *at == quote ? '\0' : quote;
        } else if (opens) {
            quote = *at;
        } else if (depth == 0 && (*at == ',' || *at == ']')) {
            return at;
        } else {
            depth += (*at == '[' || *at == '{') - (*at == ']' || *at == '}');
        }
    }
    return at;
}

size_t flow_count(const char *text) {
    size_t count = 0;
    if (text[0] != '[') {
        return 0;
    }
    for (const char *at = text + 1; *at != '\0'; count++) {
        at += strspn(at, " ");
        if (*at == ']' || *at == '\0') {
            break;
        }
        at = item_end(at);
        at += *at == ',';
    }
    return count;
}

/* ---- the list in hand ---- */

typedef struct items {
    bench_row row; /* the whole list */
    char *whole;   /* as it stands in the file; NULL: it does not */
    size_t count;  /* items that stand there */
    size_t lines;  /* shown, without the last that adds one */
    bool adds;
    bool single; /* one value in place of the list holds for all */
} items;

static bool items_open(const bench *b, items *list) {
    bench_card card;
    card_read(b, &card);
    memset(list, 0, sizeof *list);
    if (b->field >= card.count) {
        return false;
    }
    list->row = card.rows[b->field];
    shop_type type = list->row.field->type;
    list->whole = shop_text_get(desk_project(b->desk)->text, list->row.path);
    list->count = list->whole == NULL ? 0 : flow_count(list->whole);
    list->adds = row_is_list(list->row.field);
    list->single = !list->adds && (list->whole == NULL || list->whole[0] != '[');
    if (list->adds) {
        list->lines = list->count;
    } else if (type == SHOP_TYPE_CORNER) {
        list->lines = 5;
    } else if (type == SHOP_TYPE_COUNT && bench_card_band(b) != SIZE_MAX) { /* else no list: the hand has moved */
        size_t runs = desk_plan(b->desk)->bands[bench_card_band(b)].run_count;
        list->lines = 1 + (runs > list->count ? runs : list->count);
    }
    return true;
}

/* Lines of a fixed list: the first is for all. */
static size_t item_number(const items *list, size_t line) {
    return list->adds ? line + 1 : line;
}

static void item_path(const items *list, size_t line, char path[ROW_TEXT + 24]) {
    if (item_number(list, line) == 0) {
        snprintf(path, ROW_TEXT + 24, "%s", list->row.path);
    } else {
        snprintf(path, ROW_TEXT + 24, "%s[%zu]", list->row.path, item_number(list, line));
    }
}

/* What stands there, malloc'ed; "" for what is to be added. */
static char *item_text(const bench *b, const items *list, size_t line) {
    char path[ROW_TEXT + 24];
    const char *usual = list->row.field->fallback != NULL ? list->row.field->fallback : "";
    item_path(list, line, path);
    char *text = item_number(list, line) == 0 && !list->single ? NULL
                 : list->single ? list->whole == NULL ? NULL : shop_copy(list->whole, strlen(list->whole))
                                : shop_text_get(desk_project(b->desk)->text, path);
    bool none = text == NULL && (list->adds || (item_number(list, line) == 0 && !list->single));
    const char *instead = none ? "" : usual;
    return text != NULL ? text : shop_copy(instead, strlen(instead));
}

bool bench_items_of(const bench *b, const bench_row *row) {
    size_t band = bench_card_band(b);
    return row_is_list(row->field) || row->field->type == SHOP_TYPE_CORNER ||
           (row->field->type == SHOP_TYPE_COUNT && band != SIZE_MAX &&
            (row->text[0] == '[' || desk_plan(b->desk)->bands[band].run_count > 1));
}

void items_show(bench *b) {
    bench_go(b, BENCH_ITEMS);
    items_settle(b);
}

/* After every key: what is in hand may have become another value, or fewer items. */
void items_settle(bench *b) {
    items list;
    if (b->screen != BENCH_ITEMS) {
        return;
    }
    if (!items_open(b, &list) || !bench_items_of(b, &list.row)) {
        bench_go(b, BENCH_WORK);
    } else {
        b->list.count = list.lines + list.adds;
        b->list.at = b->list.at < b->list.count ? b->list.at : b->list.count - 1;
    }
    free(list.whole);
}

/* ---- changing ---- */

/* One item set by its own path. An item that is a mapping would come in before the old one if that were not named. */
static bool set_item(bench *b, const items *list, size_t line, const char *text) {
    char path[ROW_TEXT + 24], title[200], *old = line < list->count ? item_text(b, list, line) : NULL;
    item_path(list, line, path);
    snprintf(title, sizeof title, "%s %zu -> %.60s", list->row.field->label, item_number(list, line),
             text != NULL ? text : "taken out");
    shop_edit edit = {.path = path, .old_text = old, .new_text = (char *)(uintptr_t)text};
    bool fine = bench_edits(b, &edit, 1, title);
    free(old);
    return fine;
}

/* All items of a fixed list anew, with one of them changed; `most` items. */
static bool set_all(bench *b, const items *list, size_t line, const char *text, size_t most) {
    shop_buffer whole = {0};
    bool usual = true;
    const char *fallback = list->row.field->fallback;
    for (size_t i = 1; i <= most; i++) {
        char *one = i == line ? shop_copy(text, strlen(text)) : item_text(b, list, i);
        shop_buffer_text(&whole, i == 1 ? "[" : ", ");
        shop_buffer_text(&whole, one != NULL ? one : "");
        whole.failed = whole.failed || one == NULL;
        usual = usual && one != NULL && fallback != NULL && strcmp(one, fallback) == 0;
        free(one);
    }
    shop_buffer_text(&whole, "]");
    char *made = shop_buffer_take(&whole, NULL);
    bool fine = made != NULL && bench_change(b, list->row.path, usual ? NULL : made);
    free(made);
    return fine;
}

/* A corner is typed without its brackets. */
static bool corner_text(bench *b, const char *text, char out[ROW_TEXT]) {
    if (strchr(text, ',') == NULL) {
        bench_refuse(b,
                     "%.60s is no corner: give x and y with a comma between, such as 60, 40, or with a radius: "
                     "60, 40, 5.",
                     text);
        return false;
    }
    bool whole = text[strspn(text, " ")] == '[';
    snprintf(out, ROW_TEXT, whole ? "%s" : "[%s]", text);
    return true;
}

/* A file may name what is not there; a hand that does has mistyped it. */
static bool path_is_there(bench *b, const char *path) {
    const shop_project *project = desk_project(b->desk);
    bool item = strncmp(path, "bands.", 6) == 0 || strncmp(path, "tools.", 6) == 0;
    char first[ROW_TEXT]; /* something below it that each has */
    snprintf(first, sizeof first, "%.6s%.*s.%s", path, item ? (int)strcspn(path + 6, ".[") : 0, item ? path + 6 : "",
             path[0] == 'b' ? "name" : "id");
    if (shop_field_for(project, path) != NULL ||
        (shop_path_holds(path) && (!item || shop_field_for(project, first) != NULL))) {
        return true;
    }
    bench_refuse(b, "%.60s is no value of this file; they are called like bands.%s.width or outline.diameter.", path,
                 project->layout.band_count > 0 ? project->bands[0].name : "NAME");
    return false;
}

/* False if it was refused, with the reason said. */
static bool item_set(bench *b, const items *list, size_t line, const char *text) {
    char corner[ROW_TEXT];
    shop_type type = list->row.field->type;
    if (type == SHOP_TYPE_CORNERS && strlen(text) + 3 > sizeof corner) {
        bench_refuse(b, "A corner is x, y or x, y, radius; this is too long.");
        return false;
    }
    if (type == SHOP_TYPE_CORNERS && !corner_text(b, text, corner)) {
        return false;
    }
    if (type == SHOP_TYPE_PATHS && !path_is_there(b, text)) {
        return false;
    }
    if (list->adds) {
        return set_item(b, list, line, type == SHOP_TYPE_CORNERS ? corner : text);
    }
    if (line == 0) {
        return bench_change(b, list->row.path, text);
    }
    if (type == SHOP_TYPE_CORNER && !list->single) {
        return set_item(b, list, line, text);
    }
    return set_all(b, list, line, text, type == SHOP_TYPE_CORNER ? 4 : list->lines - 1);
}

/* Between two items there is no path of its own: the list is written whole. */
static bool item_insert(bench *b, const items *list, size_t line, const char *text) {
    char corner[ROW_TEXT];
    shop_buffer whole = {0};
    const char *at = list->whole + 1;
    if (list->row.field->type == SHOP_TYPE_CORNERS) {
        if (strlen(text) + 3 > sizeof corner || !corner_text(b, text, corner)) {
            return false;
        }
        text = corner;
    }
    if (list->row.field->type == SHOP_TYPE_PATHS && !path_is_there(b, text)) {
        return false;
    }
    for (size_t i = 0; i < line; i++) {
        at = item_end(at);
        at += *at == ',';
    }
    bool name = list->row.field->type == SHOP_TYPE_PATHS;
    char *one = name ? shop_write_scalar(text, strlen(text), SHOP_STYLE_PLAIN, true, false) : NULL;
    whole.failed = name && one == NULL;
    shop_buffer_add(&whole, list->whole, (size_t)(at - list->whole));
    shop_buffer_text(&whole, line > 0 ? " " : "");
    shop_buffer_text(&whole, one != NULL ? one : text);
    shop_buffer_text(&whole, ", ");
    free(one);
    shop_buffer_text(&whole, at + strspn(at, " "));
    char *made = shop_buffer_take(&whole, NULL);
    bool fine = made != NULL && bench_change(b, list->row.path, made);
    free(made);
    return fine;
}

bool items_take(bench *b, const char *typed) {
    items list;
    char text[ENTRY_MOST + 1];
    bool fine = false;
    snprintf(text, sizeof text, "%s", typed);
    if (items_open(b, &list)) {
        size_t line = b->list.at;
        if (text[strspn(text, " ")] == '\0') {
            bench_refuse(
                b, "Nothing is typed; {typing.leave} leaves it, and {items.take-item-out} on the line takes it out.");
        } else {
            fine =
                b->item_new && line < list.count ? item_insert(b, &list, line, text) : item_set(b, &list, line, text);
        }
    }
    free(list.whole);
    return fine;
}

/* ---- keys ---- */

static void type_item(bench *b, bool anew) {
    items list;
    if (items_open(b, &list)) {
        char *text = anew ? NULL : item_text(b, &list, b->list.at);
        const char *shown = text != NULL ? text : "";
        size_t length = strlen(shown);
        bool corner = list.row.field->type == SHOP_TYPE_CORNERS && length > 2;
        char inner[ROW_TEXT];
        snprintf(inner, sizeof inner, "%.*s", (int)(corner ? length - 2 : 0), corner ? shown + 1 : "");
        bench_type(b, TYPING_ITEM, corner ? inner : shown);
        free(text);
    }
    free(list.whole);
}

void do_item_type(bench *b, int key) {
    if (shelf_items(b, do_item_type, key)) {
        return;
    }
    b->item_new = false;
    bool begins = key != BENCH_KEY_ENTER && key != ' ';
    type_item(b, begins);
    if (begins) {
        entry_key(&b->entry, key);
    }
}

/* A new one behind the one in hand. */
void do_item_add(bench *b, int key) {
    items list;
    if (shelf_items(b, do_item_add, key)) {
        return;
    }
    if (items_open(b, &list) && !list.adds) {
        bench_refuse(b, "There are as many as there must be: change the one in hand.");
    } else {
        b->list.at += b->list.at < list.count;
        b->item_new = true;
        type_item(b, true);
    }
    free(list.whole);
}

void do_item_out(bench *b, int key) {
    items list;
    if (shelf_items(b, do_item_out, key)) {
        return;
    }
    if (items_open(b, &list)) {
        size_t line = b->list.at;
        if (list.adds && line >= list.count) {
            bench_say(b, "There is nothing here to take out.");
        } else if (!list.adds && line == 0) {
            bench_change(b, list.row.path, NULL);
        } else if (!list.adds) {
            item_set(b, &list, line, list.row.field->fallback);
        } else if (list.count == 1) {
            bench_change(b, list.row.path, NULL);
        } else {
            set_item(b, &list, line, NULL);
        }
    }
    free(list.whole);
}

/* A run's count goes on from what it has; a length by its field's step. */
static bool item_step(bench *b, const items *list, size_t line, int steps, char out[ROW_TEXT], char why[200]) {
    char *text = item_text(b, list, line);
    shop_field field = *list->row.field;
    bench_row row = list->row;
    bool fine = false;
    snprintf(row.text, sizeof row.text, "%s", text != NULL ? text : "");
    row.field = &field;
    if (field.type == SHOP_TYPE_COUNT && line > 0) {
        size_t band = bench_card_band(b);
        const bw_band_plan *plan = &desk_plan(b->desk)->bands[band];
        int now = line <= plan->run_count ? plan->runs[line - 1].count : 0;
        int next = now + steps * count_multiple(b, band);
        fine = now > 0 && next > 0 && next <= BW_COUNT_MOST;
        snprintf(out, ROW_TEXT, "%d", next);
        snprintf(why, 200, "%s", now > 0 ? "1 is the fewest." : "There is no such run.");
    } else if (field.type == SHOP_TYPE_PLACES || field.type == SHOP_TYPE_CORNER) {
        field.type = field.type == SHOP_TYPE_PLACES ? SHOP_TYPE_PLACE : field.type;
        fine = row_step(b, &row, steps, out, why);
    } else {
        snprintf(why, 200, "This has no steps; {items.type-item} types it.");
    }
    free(text);
    return fine;
}

void do_item_step(bench *b, int key) {
    items list;
    if (shelf_items(b, do_item_step, key)) {
        return;
    }
    char text[ROW_TEXT], why[200] = "";
    int steps = key == BENCH_KEY_RIGHT || key == '+' || key == '=' ? 1
                : key == '>' || key == '.'                         ? 10
                : key == '<' || key == ','                         ? -10
                                                                   : -1;
    if (items_open(b, &list)) {
        if (item_step(b, &list, b->list.at, steps, text, why)) {
            item_set(b, &list, b->list.at, text);
        } else {
            bench_refuse(b, "%s", why);
        }
    }
    free(list.whole);
}

/* ---- as shown ---- */

static void line_label(const items *list, size_t line, char out[40]) {
    static const char *const radii[] = {"all four", "bottom left", "bottom right", "top right", "top left"};
    if (list->adds) {
        snprintf(out, 40, line < list->count ? "%zu" : "add one", line + 1);
    } else if (list->row.field->type == SHOP_TYPE_CORNER) {
        snprintf(out, 40, "%s", radii[line]);
    } else {
        snprintf(out, 40, line == 0 ? "every run" : "run %zu", line);
    }
}

/* "weave width" for bands.weave.width. */
static void path_words(const bench *b, const char *path, char out[ROW_TEXT]) {
    const shop_field *field = shop_field_for(desk_project(b->desk), path);
    const char *name = strncmp(path, "bands.", 6) == 0 || strncmp(path, "tools.", 6) == 0 ? path + 6 : "";
    if (field != NULL) {
        snprintf(out, ROW_TEXT, "%.*s%s%s", (int)strcspn(name, "."), name, name[0] != '\0' ? " " : "", field->label);
    } else {
        snprintf(out, ROW_TEXT, "all of %s", name[0] != '\0' ? name : path);
    }
}

static void line_words(const bench *b, const items *list, size_t line, char out[ROW_TEXT]) {
    char *text = item_text(b, list, line);
    const char *shown = text != NULL ? text : "";
    size_t length = strlen(shown);
    shop_field one = *list->row.field;
    one.type = one.type == SHOP_TYPE_PLACES ? SHOP_TYPE_LENGTH : one.type;
    if (one.type == SHOP_TYPE_CORNERS && length > 2) {
        const char *comma = strchr(shown, ','), *second = comma != NULL ? strchr(comma + 1, ',') : NULL;
        int place = second != NULL ? (int)(second - shown - 1) : (int)length - 2;
        snprintf(out, ROW_TEXT, "%.*s%s%.*s", place, shown + 1, second != NULL ? ", radius" : "",
                 second != NULL ? (int)(shown + length - 1 - second - 1) : 0, second != NULL ? second + 1 : "");
    } else if (one.type == SHOP_TYPE_PATHS && length > 0) {
        path_words(b, shown, out);
    } else {
        char *words = desk_value_words(&one, desk_project(b->desk)->units, shown);
        snprintf(out, ROW_TEXT, "%s", words != NULL ? words : shown);
        free(words);
    }
    free(text);
}

void items_draw(bench *b, show_grid *grid, show_rect where) {
    items list;
    if (!items_open(b, &list)) {
        return;
    }
    where.height -= draw_range(b, grid, where, list.row.field);
    show_put(grid, where.x, where.y, where.width, SHOW_UNDERLINE, list.row.field->label);
    show_rect lines = {where.x, where.y + 1, where.width, where.height - 1};
    list_show(&b->list, (size_t)(lines.height > 0 ? lines.height : 1));
    for (int i = 0; i < lines.height && b->list.first + (size_t)i < b->list.count; i++) {
        size_t line = b->list.first + (size_t)i;
        char label[40], words[ROW_TEXT] = "";
        bool chosen = line == b->list.at;
        int y = lines.y + i, x = lines.x + (list.adds ? 8 : 15);
        line_label(&list, line, label);
        spot_add(b, lines.x, y, lines.width, SPOT_ROW, line);
        show_put(grid, lines.x, y, 1, SHOW_BOLD, chosen ? ">" : " ");
        show_put(grid, lines.x + 2, y, -1, chosen ? SHOW_BOLD : SHOW_PLAIN, label);
        if (!(list.adds && line >= list.count)) {
            line_words(b, &list, line, words);
        } else {
            x += 2;
        }
        if (chosen && b->typing == TYPING_ITEM && !row_is_tall(list.row.field)) {
            entry_draw(&b->entry, grid, x, y, lines.x + lines.width - x);
            continue;
        }
        show_put(grid, x, y, lines.x + lines.width - x, chosen ? SHOW_REVERSE | SHOW_BOLD : SHOW_PLAIN, words);
        if (chosen && b->typing == TYPING_NOTHING) {
            grid->cursor_x = words[0] != '\0' ? x : lines.x + 2;
            grid->cursor_y = y;
        }
    }
    free(list.whole);
}
