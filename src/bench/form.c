/* form.c - the form of a new piece: what a ruler gives, leather, a first band and its stamp. While it is filled in, the
 * piece is tried out, so that the answer shows before anything is made. */
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"
#include "shop/alloc.h"
#include "shop/fields.h"

const char *const form_fill_words[] = {"plain", "basket", "border", "stitch", NULL};
static const char *const unit_words[] = {"mm", "in", NULL};

/* The row's label, the path of the field it becomes (for its help), and what it starts with. */
static const struct {
    const char *label, *path;
    const char *mm, *inch;
} rows[FORM_ROWS] = {
    [FORM_PIECE] = {"name of the piece", "piece", "", ""},
    [FORM_UNITS] = {"units", "units", "", ""},
    [FORM_SHAPE] = {"shape", "outline.shape", "", ""},
    [FORM_START] = {NULL, NULL, "square", "square"},
    [FORM_END] = {NULL, NULL, "square", "square"},
    [FORM_WEIGHT] = {"leather", "leather.weight", "", ""},
    [FORM_FILL] = {"first band", "bands[1].fill", "", ""},
    [FORM_SPACE] = {"from the edge", "bands[1].space", "5", "3/16"},
    [FORM_WIDTH] = {"width of band", "bands[1].width", "16", "5/8"},
    [FORM_STAMP] = {"stamp", "bands[1].tool", "", ""},
    [FORM_LENGTH] = {"length of stamp", "tools[1].length", "", ""},
    [FORM_ACROSS] = {"width of stamp", "tools[1].width", "", ""},
    [FORM_MAKE] = {"make the piece", NULL, "", ""},
};

static bool is_outline(form_row row) {
    return row >= FORM_GIVEN && row <= FORM_OUTLINE_LAST;
}

static const shop_field *field_of(const bench_form *form, form_row row) {
    if (is_outline(row)) {
        return form_outline_field(form, row);
    }
    return rows[row].path != NULL ? shop_field_find(rows[row].path) : NULL;
}

bool form_has(const bench_form *form, form_row row) {
    bool filled = form->fill != BW_FILL_PLAIN, by_length = filled && form->stamp == 0;
    if (is_outline(row)) {
        return form_outline_has(form, row);
    }
    switch (row) {
    case FORM_WIDTH:
        return form->fill != BW_FILL_STITCH;
    case FORM_STAMP:
        return filled;
    case FORM_LENGTH:
        return by_length;
    case FORM_ACROSS:
        return by_length && form->fill != BW_FILL_STITCH;
    default:
        return row >= 0 && row < FORM_ROWS;
    }
}

/* ---- tools that are known ---- */

const bw_tool *form_tool(const bench_form *form, int n, int *index) {
    const shop_project *project = desk_project(form->desk);
    bw_kind kind;
    if (!bw_fill_kind((bw_fill)form->fill, &kind)) {
        return NULL;
    }
    for (size_t i = 0; i < project->layout.tool_count; i++) {
        const bw_tool *tool = &project->tools[i];
        if (tool->kind == kind && !tool->retired && --n == 0) {
            *index = (int)i;
            return tool;
        }
    }
    return NULL;
}

static int fitting_tools(const bench_form *form) {
    int count = 0, index;
    while (form_tool(form, count + 1, &index) != NULL) {
        count++;
    }
    return count;
}

/* ---- rows as shown ---- */

void form_row_words(const bench_form *form, form_row row, char label[40], char value[ROW_TEXT]) {
    int index;
    const char *text = form->text[row];
    snprintf(label, 40, "%s", is_outline(row) ? form_outline_label(form, row) : rows[row].label);
    if (form->fill == BW_FILL_STITCH && (row == FORM_STAMP || row == FORM_LENGTH)) {
        snprintf(label, 40, "%s", row == FORM_STAMP ? "stitching iron" : "pitch of iron");
    }
    value[0] = '\0';
    switch (row) {
    case FORM_UNITS:
        text = unit_words[form->unit];
        break;
    case FORM_SHAPE:
        text = shape_words(form_shape_words()[form->shape]);
        break;
    case FORM_FILL:
        text = form_fill_words[form->fill];
        break;
    case FORM_STAMP:
        text = form->stamp == 0 ? (form->fill == BW_FILL_STITCH ? "by its pitch" : "by its length")
                                : form_tool(form, form->stamp, &index)->id;
        break;
    case FORM_MAKE:
        return;
    case FORM_GIVEN:
        text = form_given_words(form);
        break;
    default: {
        const shop_field *field = field_of(form, row);
        char *words = text[0] == '\0' ? NULL : desk_value_words(field, form->unit == 0 ? SHOP_MM : SHOP_INCH, text);
        snprintf(value, ROW_TEXT, "%s", words != NULL ? words : text);
        free(words);
        return;
    }
    }
    snprintf(value, ROW_TEXT, "%s", text);
}

const char *form_row_help(const bench_form *form, form_row row) {
    switch (row) {
    case FORM_PIECE:
        return "What it is called: just type it. A number goes straight to its size.";
    case FORM_UNITS:
        return "Millimetres or inches: {form.other-choice} and {form.other-choice:2} choose, or a number goes straight "
               "to its size.";
    case FORM_GIVEN:
        return "What a ruler gives: straight across the middle, once around, or a chord and its depth.";
    case FORM_SHAPE:
        return "The shape of the edge: {form.other-choice} and {form.other-choice:2} choose it, or a number goes "
               "straight to its size.";
    case FORM_WEIGHT:
        return "How thick the leather is: 8 oz, or 3.2 mm; may stay empty.";
    case FORM_STAMP:
        return "A stamp by its length alone is enough; {form.other-choice} and {form.other-choice:2} go through those "
               "of the inventory.";
    case FORM_LENGTH:
        return form->fill == BW_FILL_STITCH ? "From one tooth to the next, middle to middle."
                                            : "The face of the stamp along the line, tip to tip.";
    case FORM_ACROSS:
        return form->fill == BW_FILL_BASKET ? "The face across the line; empty: half the length, marked as estimated."
                                            : "The face across the line; empty: as wide as it is long.";
    case FORM_MAKE:
        return "{form.type-or-make-it} makes the piece and opens it on the workbench.";
    default:
        break;
    }
    const shop_field *field = field_of(form, row);
    return field != NULL ? field->help : "";
}

/* The sizes of a stamp have other ranges for each kind. */
static const shop_field *measured_field(const bench_form *form, form_row row) {
    bw_kind kind;
    bool of_tool = row == FORM_LENGTH || row == FORM_ACROSS;
    if (!of_tool || !bw_fill_kind((bw_fill)form->fill, &kind)) {
        return field_of(form, row);
    }
    const char *pattern = row == FORM_ACROSS ? "tools[].width" : kind == BW_IRON ? "tools[].pitch" : "tools[].length";
    return shop_field_of(pattern, 1u << kind);
}

void form_range_words(const bench_form *form, form_row row, char out[ROW_TEXT]) {
    const shop_field *field = measured_field(form, row);
    shop_unit unit = form->unit == 0 ? SHOP_MM : SHOP_INCH;
    char least[64], most[64];
    out[0] = '\0';
    if (field != NULL && (field->type == SHOP_TYPE_LENGTH || field->type == SHOP_TYPE_WEIGHT)) {
        shop_show_length(field->least, unit, least, sizeof least);
        shop_show_length(field->most, unit, most, sizeof most);
        snprintf(out, ROW_TEXT, " Allowed: %s to %s.", least, most);
    }
}

/* ---- beginning and end ---- */

static desk *fresh_desk(bench *b, const bench_form *form, shop_problems *problems) {
    size_t length;
    shop_status status;
    char *bytes = shop_new_text(form->text[FORM_PIECE], form->unit == 0 ? SHOP_MM : SHOP_INCH, &length);
    desk *made = bytes == NULL ? NULL : desk_new(form->file, bytes, length, shelf_readable(b), problems, &status);
    free(bytes);
    return made;
}

bool form_renew(bench *b) {
    shop_problems problems;
    shop_problems_init(&problems, "");
    desk *made = fresh_desk(b, &b->form, &problems);
    if (made == NULL) {
        bench_refuse_problem(b, &problems);
        return false;
    }
    if (b->stock != NULL) {
        (void)desk_use_inventory(made, b->stock, NULL); /* as it stands there, saved or not */
    }
    shop_problems_free(&problems);
    desk_close(b->form.desk);
    b->form.desk = made;
    return true;
}

void form_free(bench_form *form) {
    desk_close(form->desk);
    free(form->file);
    for (int i = 0; i < FORM_ROWS; i++) {
        free(form->text[i]);
    }
    memset(form, 0, sizeof *form);
}

bool form_set(bench_form *form, form_row row, const char *text) {
    char *copy = shop_copy(text, strlen(text));
    if (copy != NULL) {
        free(form->text[row]);
        form->text[row] = copy;
    }
    return copy != NULL;
}

/* As each row is at first, but the name. */
static bool start_values(bench_form *form) {
    bool fine = true;
    for (int i = 0; i < FORM_ROWS; i++) {
        const char *text = form->unit == 0 ? rows[i].mm : rows[i].inch;
        bool named = i == FORM_PIECE && form->text[i] != NULL;
        fine = (named || form_set(form, (form_row)i, text != NULL ? text : "")) && fine;
    }
    return fine;
}

void form_start(bench *b, const char *file) {
    form_free(&b->form);
    bench_form *form = &b->form;
    form->file = file == NULL ? NULL : shop_copy(file, strlen(file));
    form->fill = BW_FILL_BASKET;
    if (!start_values(form)) {
        form_free(form);
        bench_refuse(b, "out of memory");
        return;
    }
    if (!form_renew(b)) {
        return;
    }
    bench_go(b, BENCH_FORM);
    form->at = file == NULL ? FORM_PIECE : FORM_SHAPE;
    if (form_take_kept(b)) {
        bench_say(b, "What was typed here when the program ended stands here again; {form.leave} forgets it.");
    }
}

static void make_piece(bench *b) {
    bench_form *form = &b->form;
    form_edits edits;
    shop_problems problems;
    shop_problems_init(&problems, "");
    if (!form_try_with(form, &edits, &problems)) {
        if (problems.errors > 0) {
            bench_refuse_problem(b, &problems);
        } else {
            shop_problems_free(&problems);
            bench_refuse(b, "%s", edits.why);
            form->at = edits.wrong;
        }
        return;
    }
    /* Tools of the inventory are copied, so that the file can travel. */
    if (form->stamp > 0 && form->fill != BW_FILL_PLAIN) {
        int tool = desk_project(form->desk)->bands[0].tool;
        if (!desk_try_keep(form->desk, &problems) || !desk_choose_tool(form->desk, 0, tool, &problems)) {
            bench_refuse_problem(b, &problems);
            return;
        }
    }
    size_t length;
    shop_status status;
    const char *bytes = desk_bytes(form->desk, &length);
    desk *made = desk_new(form->file, bytes, length, shelf_readable(b), &problems, &status);
    if (made == NULL) {
        bench_refuse_problem(b, &problems);
        return;
    }
    shop_problems_free(&problems);
    desk_close(b->desk);
    b->desk = made;
    form_forget(b);
    bench_opened(b);
    bench_say(b, "made; {workbench.save} saves it, {workbench.step} and {workbench.step:2} change the value in hand, "
                 "{workbench.help} shows the keys");
}

/* ---- keys ---- */

void do_form_move(bench *b, int key) {
    bench_form *form = &b->form;
    if (key == BENCH_KEY_HOME || key == BENCH_KEY_END) {
        form->at = key == BENCH_KEY_HOME ? FORM_PIECE : FORM_MAKE;
        return;
    }
    int by = key == BENCH_KEY_DOWN || key == BENCH_KEY_TAB ? 1 : -1;
    int at = (int)form->at + by;
    while (at >= 0 && at < FORM_ROWS && !form_has(form, (form_row)at)) {
        at += by;
    }
    if (at < 0 || at >= FORM_ROWS) {
        bench_say(b,
                  at < 0 ? "This is the first row." : "This is the last row: {form.type-or-make-it} makes the piece.");
        return;
    }
    form->at = (form_row)at;
}

static int word_count(const char *const *words) {
    int count = 0;
    while (words[count] != NULL) {
        count++;
    }
    return count;
}

static void cycle(int *at, int count, int key) {
    *at = (*at + (key == BENCH_KEY_LEFT || key == '-' ? count - 1 : 1)) % count;
}

void do_form_other(bench *b, int key) {
    bench_form *form = &b->form;
    switch (form->at) {
    case FORM_UNITS: {
        cycle(&form->unit, 2, key);
        (void)start_values(form);
        form->stamp = 0;
        (void)form_renew(b);
        break;
    }
    case FORM_SHAPE:
        cycle(&form->shape, word_count(form_shape_words()), key);
        break;
    case FORM_FILL:
        cycle(&form->fill, FORM_FILLS, key);
        form->stamp = 0;
        break;
    case FORM_STAMP:
        cycle(&form->stamp, 1 + fitting_tools(form), key);
        break;
    default:
        if (is_outline(form->at) && form_outline_other(form, form->at, key == BENCH_KEY_LEFT || key == '-' ? -1 : 1)) {
            break;
        }
        bench_refuse(b, form->at == FORM_MAKE ? "{form.type-or-make-it} makes the piece."
                                              : "This row has no choices: {form.type-or-make-it} types it.");
        return;
    }
    form_try(form);
}

void do_form_type(bench *b, int key) {
    bench_form *form = &b->form;
    key = key == ' ' ? BENCH_KEY_ENTER : key;
    if (form->at == FORM_MAKE) {
        if (key == BENCH_KEY_ENTER) {
            make_piece(b);
        } else {
            bench_refuse(b, "{form.type-or-make-it} makes the piece.");
        }
        return;
    }
    bool number = key >= '0' && key <= '9';
    if (form->at >= FORM_PIECE && form->at <= FORM_GIVEN && number) {
        form->at = form_first_size(form); /* a number is a size */
    }
    if (form->at == FORM_STAMP && key != BENCH_KEY_ENTER) {
        form->stamp = 0; /* or the length of a stamp */
        form->at = FORM_LENGTH;
    }
    if (form->at == FORM_FILL && number) {
        bench_refuse(
            b, "This row is a choice, not a number: {form.other-choice} and {form.other-choice:2} go through it.");
        return;
    }
    if (form->at == FORM_UNITS || form->at == FORM_SHAPE || form->at == FORM_GIVEN || form->at == FORM_FILL ||
        form->at == FORM_STAMP) {
        do_form_other(b, BENCH_KEY_RIGHT);
        return;
    }
    char end[ROW_TEXT];
    const char *shown = form_typed_text(form, form->at, end);
    bench_type(b, TYPING_FORM, key == BENCH_KEY_ENTER ? shown : "");
    if (key != BENCH_KEY_ENTER) {
        entry_key(&b->entry, key);
    }
}

/* Names begin with a letter, and ends and drawn paths with a word: only where no key means something else. */
bool form_takes_letter(const bench *b, int key) {
    if (bench_where(b) != BENCH_FORM || key >= BENCH_KEY_ENTER || key <= ' ' || key == 0x7F) {
        return false;
    }
    bool letter = key >= 0x80 || (key >= 'a' && key <= 'z') || (key >= 'A' && key <= 'Z');
    int meant;
    switch (b->form.at) {
    case FORM_PIECE:
        return letter;
    case FORM_START:
    case FORM_END:
    case FORM_CORNERS:
    case FORM_SVG:
        return command_of(b, key, 1u << BENCH_FORM, &meant) == SIZE_MAX;
    default:
        return false;
    }
}

void do_form_clear(bench *b, int key) {
    (void)key;
    (void)form_set(&b->form, b->form.at, "");
    if (b->form.at == FORM_PIECE) {
        (void)form_renew(b);
    }
    form_try(&b->form);
}

/* Is this text a value for the row? Ranges come with the table of fields. */
static bool fits(const bench *b, form_row row, const char *text, char why[200]) {
    const bench_form *form = &b->form;
    if (text[0] == '\0' || row == FORM_PIECE) {
        return true;
    }
    bw_kind kind;
    if ((row == FORM_LENGTH || row == FORM_ACROSS) && bw_fill_kind((bw_fill)form->fill, &kind)) {
        char id[64], flow[ROW_TEXT];
        const char *length = row == FORM_LENGTH ? text : form->text[FORM_LENGTH];
        const char *across = row == FORM_ACROSS ? text : form->text[FORM_ACROSS];
        return length[0] == '\0' || tool_new_flow(desk_project(form->desk), kind, length, across, id, flow, why);
    }
    const shop_field *field = field_of(form, row);
    if (field == NULL) { /* the row in hand is another one meanwhile, or has gone */
        snprintf(why, 200, "Nothing is typed on this row.");
        return false;
    }
    if (field->type == SHOP_TYPE_END) {
        return form_end_fits(form, row, text, why);
    }
    bool length = field->type == SHOP_TYPE_LENGTH || field->type == SHOP_TYPE_WEIGHT;
    return !length || field_fits(field, form->unit == 0 ? SHOP_MM : SHOP_INCH, text, why);
}

void form_take(bench *b) {
    bench_form *form = &b->form;
    char why[200] = "";
    bool is_long = form->at == FORM_SVG || form->at == FORM_CORNERS;
    if (!is_long && b->entry.length >= ROW_TEXT) {
        bench_refuse(b, "This is too long: at most %d bytes.", ROW_TEXT - 1);
        return;
    }
    if (!fits(b, form->at, b->entry.text, why)) {
        bench_refuse(b, "%s", why);
        return;
    }
    char end[ROW_TEXT], before[ROW_TEXT];
    bool is_end = form->at == FORM_START || form->at == FORM_END;
    snprintf(before, sizeof before, "%.*s", ROW_TEXT - 1, form->text[form->at]); /* of a name: whole */
    if (is_end) {
        end_text(b->entry.text, end);
    }
    if (!form_set(form, form->at, is_end ? end : b->entry.text)) {
        bench_refuse(b, "out of memory");
        return;
    }
    if (form->at == FORM_PIECE && !form_renew(b)) {
        (void)form_set(form, form->at, before);
        return;
    }
    shop_problems problems;
    shop_problems_init(&problems, "");
    if (is_outline(form->at) && !form_outline_holds(form, &problems)) { /* stays as typed, to be put right */
        desk_try_leave(form->desk);
        bench_refuse_problem(b, &problems);
        return;
    }
    shop_problems_free(&problems);
    form_try(form);
    b->typing = TYPING_NOTHING;
    do_form_move(b, BENCH_KEY_DOWN);
}
