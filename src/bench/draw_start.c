/* draw_start.c - the start screen, the form of a new piece, the count of strikes. */
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "bench/inner.h"

/* ---- the start screen ---- */

static const char *base_name(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash != NULL ? slash + 1 : path;
}

static void put_place(bench *b, show_grid *grid, int y, size_t index) {
    const bench_place *place = &b->start[index];
    bool chosen = index == b->list.at;
    unsigned look = chosen ? SHOW_REVERSE | SHOW_BOLD : SHOW_PLAIN;
    struct stat there;
    show_put(grid, 2, y, 1, SHOW_BOLD, chosen ? ">" : " ");
    spot_add(b, 0, y, grid->width, SPOT_ROW, index);
    if (place->path == NULL) {
        show_put(grid, 4, y, -1, look, "a new piece");
    } else if (place->words != NULL) {
        show_put(grid, 4, y, -1, look, place->words);
    } else {
        bool recent = strcmp(place->kind, "recent") == 0;
        int used = show_put(grid, 4, y, grid->width - 8, look, base_name(place->path));
        int folder = (int)(base_name(place->path) - place->path) - 1;
        if (recent && folder > 0) {
            bool gone = stat(place->path, &there) != 0;
            show_putf(grid, 6 + used, y, -1, SHOW_DIM, "%sin %.*s", gone ? "(gone) " : "", folder, place->path);
        }
    }
    if (chosen) {
        grid->cursor_x = 4;
        grid->cursor_y = y;
    }
}

/* The line of a row in the whole list, headings included. */
static int start_line(const bench *b, size_t index) {
    int line = (int)index;
    for (size_t i = 1; i <= index; i++) {
        line += strcmp(b->start[i].kind, b->start[i - 1].kind) != 0 ? 2 : 0;
    }
    return line;
}

void draw_start(bench *b, show_grid *grid) {
    int foot = foot_lines(grid), bottom = grid->height - foot;
    show_put(grid, 2, 0, -1, SHOW_BOLD, "bandwright");
    show_put(grid, 14, 0, -1, SHOW_DIM, "tooled bands that come out even");
    int top = grid->height >= 10 ? 2 : 1, shown = bottom - top;
    int at = start_line(b, b->list.at), first = (int)b->list.first;
    if (at < first + 2) {
        first = at < 2 ? 0 : at - 2;
    }
    if (at >= first + shown) {
        first = at - shown + 1;
    }
    b->list.first = (size_t)first;
    for (size_t i = 0; i < b->start_count; i++) {
        int line = start_line(b, i) - first;
        bool heads = i > 0 && strcmp(b->start[i].kind, b->start[i - 1].kind) != 0;
        if (heads && line - 1 >= 0 && line - 1 < shown) {
            show_put(grid, 2, top + line - 1, -1, SHOW_UNDERLINE,
                     strcmp(b->start[i].kind, "left") == 0     ? "not saved last time"
                     : strcmp(b->start[i].kind, "recent") == 0 ? "files of last time"
                                                               : "examples of the workshop");
        }
        if (line >= 0 && line < shown) {
            put_place(b, grid, top + line, i);
        }
    }
    if (b->typing == TYPING_OPEN) {
        int y = bottom - 1;
        lines_clear(grid, y, 1);
        int used = show_put(grid, 0, y, -1, SHOW_BOLD, "open: ");
        entry_draw(&b->entry, grid, used, y, grid->width - used);
    }
    draw_foot(b, grid);
}

/* ---- the form ---- */

static void put_answer(const bench *b, show_grid *grid, show_rect where) {
    const bench_form *form = &b->form;
    if (!desk_trying(form->desk)) {
        char text[500] = "The answer shows here as soon as size and stamp are known.";
        if (form->why[0] != '\0') {
            snprintf(text, sizeof text, "%s %s",
                     form->lacking ? "The answer shows here once all is known:" : "No answer yet:", form->why);
        }
        show_wrap(grid, where, SHOW_DIM, text);
        return;
    }
    const shop_project *project = desk_project(form->desk);
    const bw_plan *plan = desk_plan(form->desk);
    show_words words;
    show_verdict_sentence(&words, project, plan, 0);
    bool works = bw_plan_works(plan);
    int used = show_wrap(grid, where, SHOW_BOLD | (works ? SHOW_GOOD : SHOW_BAD), words.text);
    show_view view = {.project = project, .plan = plan, .cell_aspect = b->aspect};
    int blank = where.height - used >= 5;
    show_closure(grid, (show_rect){where.x, where.y + used + blank, where.width, where.height - used - blank}, &view);
}

void draw_form(bench *b, show_grid *grid) {
    bench_form *form = &b->form;
    char words[200 + ROW_TEXT];
    char range[ROW_TEXT];
    int bottom = grid->height - foot_lines(grid), y = grid->height >= 20 ? 2 : 1;
    int values = grid->width >= 44 ? 24 : grid->width / 2; /* the column where they begin */
    show_putf(grid, 2, 0, -1, SHOW_BOLD, "a new piece%s%s", form->file != NULL ? ": " : "",
              form->file != NULL ? form->file : "");
    /* What does not fit scrolls away from above. */
    int lines = 0, at_line = 0;
    for (int row = 0; row < FORM_ROWS; row++) {
        at_line = row == (int)form->at ? lines : at_line;
        lines += form_has(form, (form_row)row);
    }
    int help = grid->height >= 14 ? 3 : 2, answer = bottom - y - help - lines, least = grid->height >= 14 ? 2 : 0;
    answer = answer < least ? least : answer;
    int shown = bottom - y - help - answer;
    shown = shown < 1 ? 1 : shown;
    int first = at_line >= shown ? at_line - shown + 1 : 0, line = 0;
    for (int row = 0; row < FORM_ROWS; row++) {
        char label[40], value[ROW_TEXT];
        if (!form_has(form, (form_row)row)) {
            continue;
        }
        int here = y + line++ - first;
        if (here < y || here >= y + shown) {
            continue;
        }
        bool in_hand = row == (int)form->at;
        form_row_words(form, (form_row)row, label, value);
        spot_add(b, 0, here, grid->width, SPOT_VALUE, (size_t)row);
        show_put(grid, 2, here, 1, SHOW_BOLD, in_hand ? ">" : " ");
        show_put(grid, 4, here, row == FORM_MAKE ? -1 : values - 5,
                 row == FORM_MAKE || in_hand ? SHOW_BOLD : SHOW_PLAIN, label);
        if (in_hand && b->typing == TYPING_FORM) {
            entry_draw(&b->entry, grid, values, here, grid->width - values - (grid->width >= 44 ? 2 : 0));
        } else {
            show_put(grid, values, here, -1, in_hand ? SHOW_REVERSE | SHOW_BOLD : SHOW_PLAIN,
                     value[0] != '\0'              ? value
                     : in_hand && row != FORM_MAKE ? "(empty)"
                                                   : "");
        }
        if (in_hand && b->typing == TYPING_NOTHING) {
            grid->cursor_x = row == FORM_MAKE ? 4 : values;
            grid->cursor_y = here;
        }
    }
    if (first > 0) {
        show_put(grid, grid->width - 1, y, 1, SHOW_DIM, "^");
    }
    if (first + shown < lines) {
        show_put(grid, grid->width - 1, y + shown - 1, 1, SHOW_DIM, "v");
    }
    int under = y + (lines < shown ? lines : shown);
    key_words(b, form_row_help(form, form->at), words, sizeof words);
    form_range_words(form, form->at, range);
    snprintf(words + strlen(words), sizeof words - strlen(words), "%s", range);
    show_wrap(grid, (show_rect){4, under + 1, grid->width - 6, help - 1}, SHOW_DIM, words);
    if (answer > 0) {
        put_answer(b, grid, (show_rect){2, bottom - answer, grid->width - 4, answer});
    }
    draw_foot(b, grid);
}
