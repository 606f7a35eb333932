/* card_line.c - one line of the card on paper: a heading, a sentence, a row of a table with its box to tick. */
#include <math.h>
#include <string.h>

#include "paper/card.h"
#include "paper/draw.h"

/* Shares of the size of a letter. */
#define AIR 0.22    /* below every line */
#define BEFORE 0.55 /* above a heading */
#define BOX 0.85    /* side of the box to tick */
#define INDENT 1.5  /* of what stands beside the box */
#define BETWEEN 0.8 /* columns of a table */
#define ASCENT 0.95 /* from the upper border of a line to its baseline */
#define FRAME 0.25  /* mm */

static const struct {
    double size; /* share of the usual one */
    bool bold;
} looks[] = {
    [SHOW_CARD_TITLE] = {1.5, true}, [SHOW_CARD_SAY] = {0.92, false},  [SHOW_CARD_LOUD] = {0.95, true},
    [SHOW_CARD_HEAD] = {1.0, true},  [SHOW_CARD_BAND] = {1.12, true},  [SHOW_CARD_COLUMNS] = {0.82, true},
    [SHOW_CARD_ROW] = {1.0, false},  [SHOW_CARD_NOTE] = {0.92, false}, [SHOW_CARD_STEP] = {0.95, false},
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

static void natural(const card_place *place, const show_card_line *table, size_t count,
                    double widths[SHOW_CARD_CELLS]) {
    for (size_t k = 0; k < SHOW_CARD_CELLS; k++)
        widths[k] = 0;
    for (size_t i = 0; i < count; i++) {
        if (table[i].kind == SHOW_CARD_NOTE)
            continue;
        for (size_t k = 0; k < table[i].cells; k++) {
            look_cell(place, table[i].kind, k);
            widths[k] = fmax(widths[k], paper_text_width(place->cr, table[i].cell[k]) + 0.01);
        }
    }
}

/* Columns that are wider than their share of what there is give way until all of them fit. */
static void squeeze(double widths[SHOW_CARD_CELLS], double room) {
    double share = room;
    for (int round = 0; round < SHOW_CARD_CELLS; round++) {
        double narrow = 0;
        int wide = 0;
        for (size_t k = 0; k < SHOW_CARD_CELLS; k++) {
            narrow += widths[k] <= share ? widths[k] : 0;
            wide += widths[k] > share ? 1 : 0;
        }
        double all = narrow + wide * share;
        if (wide > 0 && all <= room)
            break;
        int columns = 0;
        for (size_t k = 0; k < SHOW_CARD_CELLS; k++)
            columns += widths[k] > 0 ? 1 : 0;
        share = round == 0 ? room / columns : wide > 0 ? (room - narrow) / wide : share;
    }
    for (size_t k = 0; k < SHOW_CARD_CELLS; k++)
        widths[k] = fmin(widths[k], share);
}

double card_put_row(const card_place *place, const show_card_line *line, const show_card_line *table, size_t count) {
    double widths[SHOW_CARD_CELLS], in = place->size * INDENT, all = 0, height = 0, x = place->x + in;
    double gap = place->size * BETWEEN;
    size_t columns = 0;
    natural(place, table, count, widths);
    for (size_t k = 0; k < SHOW_CARD_CELLS; k++) {
        all += widths[k];
        columns += widths[k] > 0 ? 1 : 0;
    }
    double room = place->width - in - gap * (double)(columns > 0 ? columns - 1 : 0);
    if (all > room)
        squeeze(widths, room);
    if (line->box)
        box(place, place->y);
    for (size_t k = 0; k < line->cells; k++) {
        look_cell(place, line->kind, k);
        height = fmax(height, put_text(place, x, place->y,
                                       k + 1 == line->cells ? place->x + place->width - x : widths[k], line->cell[k]));
        x += widths[k] + gap;
    }
    return height + place->size * AIR;
}
