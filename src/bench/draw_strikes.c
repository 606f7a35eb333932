/* draw_strikes.c - at the bench, for one finger: the count, the step that counts now and the next check mark large; and
 * the counts with which a round that has drifted still closes. */
#include <math.h>
#include <string.h>

#include "bench/strikes.h"

/* What comes before striking, in its order: as many settings as there is room for, and how many more. */
static void put_dividers(const bench *b, show_grid *grid, show_rect where) {
    const bw_plan *plan = desk_plan(b->desk);
    size_t room = where.height > 1 ? (size_t)where.height - 1 : 0, all = plan->line_count;
    if (all == 0 || room == 0) {
        return;
    }
    size_t shown = all <= room ? all : room - 1;
    show_put(grid, where.x, where.y, where.width, SHOW_BOLD, "dividers, in this order, riding on the finished edge");
    for (size_t i = 0; i < shown; i++) {
        show_words set_to, what;
        show_line_words(desk_project(b->desk), &plan->lines[i], &set_to, &what);
        show_putf(grid, where.x, where.y + 1 + (int)i, where.width, SHOW_PLAIN, "%-10s %s", set_to.text, what.text);
    }
    if (shown < all) {
        show_putf(grid, where.x, where.y + where.height - 1, where.width, SHOW_DIM, "%zu more on the page of settings",
                  all - shown);
    }
}

/* ---- the count, and the step now ---- */

static void step_words(const bench *b, double mm, char out[64]) {
    shop_show_length(mm, desk_project(b->desk)->units, out, 64);
}

/* "19 struck of 40, 21 to go", or as much of it as there is room for. */
static void put_count(show_grid *grid, int x, int y, int width, const desk_part *part) {
    char text[120];
    int to_go = part->of - part->struck;
    snprintf(text, sizeof text, "%d struck of %d, %d to go", part->struck, part->of, to_go);
    if ((int)strlen(text) > width) {
        snprintf(text, sizeof text, "%d of %d, %d to go", part->struck, part->of, to_go);
    }
    if ((int)strlen(text) > width) {
        snprintf(text, sizeof text, "%d/%d", part->struck, part->of);
    }
    show_put(grid, x, y, width, SHOW_BOLD, text);
}

/* Count and step side by side, three lines high; returns the lines used. */
static int put_large(const bench *b, show_grid *grid, show_rect where, const desk_part *part, const show_now *now) {
    char count[32], step[64];
    snprintf(count, sizeof count, "%d", part->struck);
    int used = show_large(grid, where.x, where.y, where.width, SHOW_BOLD, count), at = where.x + 28;
    if (now->known) {
        step_words(b, now->set, step);
        char *unit = strrchr(step, ' ');
        if (unit != NULL) {
            *unit++ = '\0';
        }
        at = at < where.x + used + 3 ? where.x + used + 3 : at;
        if (strchr(step, ' ') == NULL) { /* digits, point and slash: what can be drawn large */
            show_large(grid, at, where.y, where.x + where.width - at, SHOW_BOLD, step);
            show_putf(grid, at, where.y + 3, where.x + where.width - at, SHOW_BOLD, "%s: the step now", unit);
        } else {
            show_putf(grid, at, where.y + 3, where.x + where.width - at, SHOW_BOLD, "%s %s: the step now", step, unit);
        }
    }
    put_count(grid, where.x, where.y + 3, now->known ? at - where.x - 2 : where.width, part);
    return 4;
}

/* ---- what comes next ---- */

static void say_ahead(const bench *b, const desk_round *round, show_words *out) {
    const desk_part *part = &round->parts[round->at];
    show_words next;
    int to_go = part->of - part->struck;
    double along;
    int mark = show_next_mark(desk_project(b->desk), desk_plan(b->desk), round, part->struck, &along);
    out->text[0] = '\0';
    if (to_go == 0) {
        snprintf(out->text, sizeof out->text, "%s", round->full ? "the round is full" : "full: stop here");
    } else if (mark > 0) {
        char far[64] = "";
        step_words(b, isnan(along) ? 0 : along, far);
        snprintf(out->text, sizeof out->text, "%scheck mark after %d: %d more", isnan(along) ? "" : "new ", mark,
                 mark - part->struck);
        if (!isnan(along)) {
            size_t used = strlen(out->text);
            snprintf(out->text + used, sizeof out->text - used, ", %s along from %d", far, part->from);
        }
    } else if (round->at + 1 < round->count) {
        snprintf(out->text, sizeof out->text, "%d more, then stop%s", to_go,
                 round->at + 1 < round->runs ? ": a corner" : "");
    } else {
        snprintf(out->text, sizeof out->text, "%d more, then the round is full", to_go);
    }
    if (round->at + 1 < round->count && !round->full && (to_go == 0 || mark == 0)) {
        show_part_words(&next, desk_project(b->desk), desk_plan(b->desk), round, round->at + 1);
        size_t used = strlen(out->text);
        snprintf(out->text + used, sizeof out->text - used, "; next %.300s (%d)", next.text,
                 round->parts[round->at + 1].of);
    }
}

static int put_line(show_grid *grid, show_rect where, int used, unsigned look, const char *text) {
    return used < where.height && text[0] != '\0' ? show_wrap(grid, rect_below(where, used), look, text) : 0;
}

/* Returns the lines used. */
static int put_next(const bench *b, show_grid *grid, show_rect where, const desk_round *round, const show_now *now,
                    bool told) {
    const desk_part *part = &round->parts[round->at];
    char text[700], step[64];
    show_words words;
    int used = 0;
    show_round_changed(&words, desk_project(b->desk), desk_plan(b->desk), round);
    used += put_line(grid, where, used, SHOW_BOLD | SHOW_WARN, words.text);
    if (now->known && !told) {
        step_words(b, now->set, step);
        snprintf(text, sizeof text, "step now %s", step);
        used += put_line(grid, where, used, SHOW_BOLD, text);
    }
    say_ahead(b, round, &words);
    used += put_line(grid, where, used, part->struck >= part->of ? SHOW_BOLD : SHOW_PLAIN, words.text);
    if (now->known) {
        snprintf(text, sizeof text, "steps: %s", now->words.text);
        used += put_line(grid, where, used, SHOW_PLAIN, text);
    }
    show_round_struck(&words, desk_project(b->desk), desk_plan(b->desk), round);
    used += put_line(grid, where, used, SHOW_WARN, words.text);
    if (part->from > 0) {
        step_words(b, part->left, step);
        show_round_marks(&words, desk_project(b->desk), desk_plan(b->desk), round);
        snprintf(text, sizeof text, "measured after %d: %s were left. %.400s", part->from, step, words.text);
        used += put_line(grid, where, used, SHOW_PLAIN, text);
    }
    if (round->count > 1) {
        snprintf(text, sizeof text, "in all %ld of %ld impressions of this band", round->struck, round->of);
        used += put_line(grid, where, used, SHOW_DIM, text);
    }
    return used;
}

/* What is typed, large above its line. */
static void put_typed(bench *b, show_grid *grid, int bottom) {
    int large = bottom >= 8 ? 4 : 0, y = bottom - 2 - large;
    y = y < 0 ? 0 : y;
    lines_clear(grid, y, bottom - y);
    desk_round *round = strikes_round(b);
    bool closed = round != NULL && round->parts[round->at].row == 0 &&
                  bench_band_plan(b)->runs[round->parts[round->at].index].closed;
    desk_round_free(round);
    const char *how = closed ? "along the guide, from a point of the last impression to the same of the first"
                             : "along the guide from the leading tip of the last impression to the run's end";
    if ((int)strlen(how) > grid->width - 2) {
        how =
            closed ? "left, from the last to the same point of the first" : "left, from the last one's tip to the end";
    }
    if ((int)strlen(how) > grid->width - 2) {
        how = closed ? "left, to the first" : "left, to the end";
    }
    show_put(grid, 2, y, grid->width - 2, SHOW_PLAIN, how);
    if (large > 0) {
        show_large(grid, 2, y + 1, grid->width - 4, SHOW_BOLD, b->entry.text);
    }
    int used = show_put(grid, 2, bottom - 1, grid->width - 2, SHOW_BOLD, "left: ");
    entry_draw(&b->entry, grid, 2 + used, bottom - 1, grid->width - 2 - used);
}

void draw_strikes(bench *b, show_grid *grid) {
    int width = grid->width - 4, bottom = grid->height - foot_lines(grid), y = 0;
    desk_round *round = strikes_round(b);
    if (round == NULL) {
        show_put(grid, 2, 0, -1, SHOW_PLAIN, "nothing is struck on this band");
        draw_foot(b, grid);
        return;
    }
    const desk_part *part = &round->parts[round->at];
    show_words words;
    show_now now;
    show_round_now(&now, desk_project(b->desk), desk_plan(b->desk), round);
    show_part_words(&words, desk_project(b->desk), desk_plan(b->desk), round, round->at);
    bool large = bottom >= 9 && width >= 40;
    int x = grid->width < 40 ? 0 : 2;
    width += 2 * (2 - x);
    if (bottom >= 6) {
        show_putf(grid, x, y, -1, SHOW_BOLD, "%s: %s", desk_project(b->desk)->bands[b->band].name, words.text);
        y += bottom >= 12 ? 2 : 1;
    }
    if (large) {
        y += put_large(b, grid, (show_rect){x, y, width, bottom - y}, part, &now);
    } else {
        put_count(grid, x, y++, width, part);
    }
    grid->cursor_x = x;
    grid->cursor_y = y - 1;
    y += bottom >= 14;
    y += put_next(b, grid, (show_rect){x, y, width, bottom - y}, round, &now, large) + 1;
    put_dividers(b, grid, (show_rect){x, y, width, bottom - y});
    if (b->typing == TYPING_LEFT) {
        put_typed(b, grid, bottom);
    }
    desk_round_free(round);
    draw_foot(b, grid);
}

/* ---- what is left ---- */

#define NEARLY 2  /* counts that do not work and still have a line of their own; the others are scrolled to */
#define NARROW 36 /* cells, in which a line of the list has no room for all its words */

static void put_counts(bench *b, show_grid *grid, show_rect where) {
    const bw_rest *rest = b->rest;
    list_show(&b->list, (size_t)(where.height > 0 ? where.height : 1));
    for (int i = 0; i < where.height && b->list.first + (size_t)i < rest->count; i++) {
        size_t at = b->list.first + (size_t)i;
        show_words line;
        show_rest_line(&line, desk_project(b->desk), desk_plan(b->desk), rest, at, where.width < NARROW);
        bool chosen = at == b->list.at;
        show_putf(grid, where.x, where.y + i, where.width, chosen ? SHOW_REVERSE | SHOW_BOLD : SHOW_PLAIN, "%s %s",
                  chosen ? ">" : " ", line.text);
        spot_add(b, where.x, where.y + i, where.width, SPOT_ROW, at);
        if (chosen) {
            grid->cursor_x = where.x + 2;
            grid->cursor_y = where.y + i;
        }
    }
}

/* Returns the lines used, none of "". */
static int put_warning(show_grid *grid, show_rect where, const char *text) {
    return text[0] != '\0' ? show_wrap(grid, where, SHOW_BOLD | SHOW_WARN, text) : 0;
}

void draw_rest(bench *b, show_grid *grid) {
    int bottom = grid->height - foot_lines(grid), y = 0, x = grid->width < 40 ? 0 : 2, width = grid->width - 2 * x;
    show_words words;
    const shop_project *project = desk_project(b->desk);
    if (b->rest == NULL) {
        draw_foot(b, grid);
        return;
    }
    if (bottom >= 6) {
        int most = bottom > 12 ? 5 : 2;
        const bw_plan *plan = desk_plan(b->desk);
        char title[700];
        y += put_warning(grid, (show_rect){x, y, width, most}, show_rest_doubt(&words, project, plan, b->rest));
        snprintf(title, sizeof title, "%s: %s", project->bands[b->band].name,
                 show_rest_drift(&words, project, b->rest));
        y += show_wrap(grid, (show_rect){x, y, width, most > 2 ? 3 : 2}, SHOW_BOLD, title);
        show_rest_struck(&words, project, plan, b->rest, bottom < 20);
        y += put_warning(grid, (show_rect){x, y, width, most}, words.text);
        y += put_warning(grid, (show_rect){x, y, width, most}, show_rest_none(&words, project, plan, b->rest));
        y += bottom >= 14;
    }
    int room = bottom - y, list = (int)b->rest->count, worth = (int)b->rest->works + NEARLY;
    list = list < worth ? list : worth;
    if (room >= 8) {
        list = list < room / 2 ? list : room / 2;
    } else {
        list = room > 4 ? 2 : 1;
    }
    put_counts(b, grid, (show_rect){x, y, width, list});
    y += list + (room >= 8);
    if (b->list.at < b->rest->count && y < bottom) {
        show_rest_words(&words, project, desk_plan(b->desk), b->rest, b->list.at);
        y += show_wrap(grid, (show_rect){x, y, width, bottom - y}, SHOW_PLAIN, words.text);
        show_rest_marks(&words, project, desk_plan(b->desk), b->rest, b->list.at);
        if (words.text[0] != '\0' && y < bottom) {
            show_wrap(grid, (show_rect){x, y, width, bottom - y}, SHOW_PLAIN, words.text);
        }
    }
    if (b->typing == TYPING_LEFT) {
        put_typed(b, grid, bottom);
    }
    draw_foot(b, grid);
}
