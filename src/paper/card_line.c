/* card_line.c - one line of the card on paper: a heading, a sentence, a row of a table with its box to tick. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "paper/card.h"
#include "paper/draw.h"

/* Shares of the size of a letter. */
#define AIR 0.22      /* below every line */
#define BEFORE 0.55   /* above a heading */
#define BOX 0.85      /* side of the box to tick */
#define INDENT 1.5    /* of what stands beside the box */
#define BETWEEN 0.8   /* columns of a table */
#define ASCENT 0.95   /* from the upper border of a line to its baseline */
#define FRAME 0.25    /* mm */
#define ROUNDING 0.01 /* mm */
#define STEP_DOWN 0.5 /* mm by which the widest column gives way at once */

static const struct {
    double size; /* share of the usual one */
    bool bold;
} looks[] = {
    [SHOW_CARD_TITLE] = {1.5, true},  [SHOW_CARD_SAY] = {0.92, false}, [SHOW_CARD_LOUD] = {0.95, true},
    [SHOW_CARD_HEAD] = {1.0, true},   [SHOW_CARD_BAND] = {1.12, true}, [SHOW_CARD_COLUMNS] = {0.82, true},
    [SHOW_CARD_RUN] = {1.0, false},   [SHOW_CARD_ROW] = {1.0, false},  [SHOW_CARD_NOTE] = {0.92, false},
    [SHOW_CARD_STEP] = {0.95, false},
};

static void look(const card_place *place, show_card_kind kind) {
    paper_font(place->cr, place->size * looks[kind].size, looks[kind].bold);
}

/* The first column of a table is what the hand looks for. */
static void look_cell(const card_place *place, show_card_kind kind, size_t k) {
    paper_font(place->cr, place->size * looks[kind].size, looks[kind].bold || k == 0);
}

/* Text from an upper border, in the font in hand; returns its height. */
static double put_text(const card_place *place, double x, double y, double width, const char *text) {
    double leading = paper_leading(place->cr), base = y + leading / 1.25 * ASCENT;
    return paper_paragraph(place->cr, x, base, width, text, place->draw) - base;
}

static void rule(const card_place *place, double y) {
    if (!place->draw)
        return;
    paper_line_style(place->cr, PAPER_FINE);
    paper_segment(place->cr, place->x, y, place->x + place->width, y);
}

static void box(const card_place *place, double y) {
    if (!place->draw)
        return;
    double side = place->size * BOX;
    paper_line_style(place->cr, PAPER_FINE);
    cairo_set_line_width(place->cr, FRAME);
    cairo_rectangle(place->cr, place->x + FRAME / 2, y + (place->size * 1.1 - side) / 2, side, side);
    cairo_stroke(place->cr);
}

/* A band's name large, and what goes with it below, smaller. */
static double put_band(const card_place *place, const show_card_line *line) {
    double y = place->y + place->size * BEFORE;
    rule(place, y - place->size * 0.2);
    look(place, SHOW_CARD_BAND);
    y += put_text(place, place->x, y, place->width, line->cell[0]);
    look(place, SHOW_CARD_NOTE);
    for (size_t k = 1; k < line->cells; k++)
        y += put_text(place, place->x, y, place->width, line->cell[k]);
    return y - place->y + place->size * AIR;
}

static double put_head(const card_place *place, const show_card_line *line) {
    double y = place->y + place->size * BEFORE;
    rule(place, y - place->size * 0.2);
    look(place, SHOW_CARD_HEAD);
    y += put_text(place, place->x, y, place->width, line->cell[0]);
    look(place, SHOW_CARD_NOTE);
    if (line->cells > 1)
        y += put_text(place, place->x, y, place->width, line->cell[1]);
    return y - place->y + place->size * AIR;
}

static double put_step(const card_place *place, const show_card_line *line) {
    double in = place->size * INDENT, number;
    look(place, SHOW_CARD_STEP);
    number = paper_text_width(place->cr, "10. ");
    box(place, place->y);
    look(place, SHOW_CARD_STEP);
    put_text(place, place->x + in, place->y, place->width - in, line->cell[0]);
    return put_text(place, place->x + in + number, place->y, place->width - in - number, line->cell[1]) +
           place->size * AIR;
}

double card_put_line(const card_place *place, const show_card_line *line) {
    double in = line->kind == SHOW_CARD_NOTE ? place->size * INDENT : 0;
    if (line->kind == SHOW_CARD_BAND)
        return put_band(place, line);
    if (line->kind == SHOW_CARD_HEAD)
        return put_head(place, line);
    if (line->kind == SHOW_CARD_STEP)
        return put_step(place, line);
    look(place, line->kind);
    return put_text(place, place->x + in, place->y, place->width - in, line->cell[0]) + place->size * AIR;
}

/* ---- tables ---- */

static double longest_word(cairo_t *cr, const char *text) {
    double most = 0;
    while (*text) {
        char word[200];
        size_t length = strcspn(text, " ");
        snprintf(word, sizeof word, "%.*s", (int)length, text);
        most = fmax(most, paper_text_width(cr, word));
        text += length + strspn(text + length, " ");
    }
    return most;
}

static void measure(const card_place *place, const show_card_line *table, size_t count) {
    card_columns *c = place->columns;
    if (c->table == table && fabs(c->size - place->size) < ROUNDING)
        return;
    *c = (card_columns){.table = table, .size = place->size};
    for (size_t i = 0; i < count; i++) {
        if (table[i].kind == SHOW_CARD_NOTE)
            continue;
        for (size_t k = 0; k < table[i].cells; k++) {
            look_cell(place, table[i].kind, k);
            c->natural[k] = fmax(c->natural[k], paper_text_width(place->cr, table[i].cell[k]) + ROUNDING);
            c->least[k] = fmax(c->least[k], longest_word(place->cr, table[i].cell[k]) + ROUNDING);
        }
        c->count = (int)table[i].cells > c->count ? (int)table[i].cells : c->count;
    }
}

/* The widest column gives way until all fit; none breaks a word unless all of them are down to their words. */
static void squeeze(card_columns *c, double all, double room) {
    while (all > room) {
        int widest = -1;
        for (int k = 0; k < c->count; k++)
            if (c->width[k] > c->least[k] && (widest < 0 || c->width[k] > c->width[widest]))
                widest = k;
        if (widest < 0)
            break;
        double less = fmin(fmin(STEP_DOWN, all - room), c->width[widest] - c->least[widest]);
        c->width[widest] -= less;
        all -= less;
    }
    for (int k = 0; all > room && k < c->count; k++)
        c->width[k] *= room / all;
}

double card_put_row(card_place *place, const show_card_line *line, const show_card_line *table, size_t count) {
    measure(place, table, count);
    card_columns c = *place->columns;
    double in = place->size * INDENT, gap = place->size * BETWEEN, all = 0, height = 0, x = place->x + in;
    double room = place->width - in - gap * (c.count > 0 ? c.count - 1 : 0);
    for (int k = 0; k < c.count; k++)
        all += c.width[k] = c.natural[k];
    place->squeezed = all > room;
    if (all > room)
        squeeze(&c, all, room);
    if (line->box)
        box(place, place->y);
    for (size_t k = 0; k < line->cells; k++) {
        double width = k + 1 == line->cells ? place->x + place->width - x : c.width[k];
        look_cell(place, line->kind, k);
        height = fmax(height, put_text(place, x, place->y, width, line->cell[k]));
        x += c.width[k] + gap;
    }
    return height + place->size * AIR;
}
