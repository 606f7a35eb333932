/* card.c - the card beside the work on paper: as large as one sheet holds it, in one column or two. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper/card.h"
#include "paper/draw.h"

/* mm of a letter's body; smaller cannot be read at the bench, and then the card takes another sheet. */
#define LARGEST 4.4
#define SMALLEST 2.5
#define NEAT 3.0   /* down to this, smaller letters are better than tables whose cells break */
#define UNTIDY 3.3 /* from this on, where cells must break */
#define FINER 0.1
#define GUTTER 6.0     /* mm between two columns */
#define WHOLE_MOST 0.6 /* of a column: a longer table or section may be broken */

/* Where the next line goes. */
typedef struct setter {
    cairo_t *cr;
    paper_book *book; /* NULL: only measures */
    const paper_size *sheet;
    const show_card *card;
    double size;
    int columns;
    double top, y;
    int column, page; /* from 0 */
    card_columns table;
    bool squeezed; /* a table had to break its cells */
} setter;

static double column_width(const setter *s) {
    return (s->sheet->width - 2 * PAPER_MARGIN - (s->columns - 1) * GUTTER) / s->columns;
}

static double column_left(const setter *s) {
    return PAPER_MARGIN + s->column * (column_width(s) + GUTTER);
}

static double bottom(const setter *s) {
    return s->sheet->height - PAPER_MARGIN - PAPER_SMALL * 1.5; /* the number of the page */
}

static void foot(const setter *s, int pages) {
    if (pages < 2)
        return;
    paper_font(s->cr, PAPER_SMALL, false);
    paper_textf(s->cr, s->sheet->width - PAPER_MARGIN, s->sheet->height - PAPER_MARGIN, PAPER_RIGHT,
                "card, page %d of %d", s->page + 1, pages);
}

/* Of the table that line i belongs to; tables are short. */
static size_t table_start(const show_card *card, size_t i) {
    while (i > 0 && (card->lines[i].kind == SHOW_CARD_ROW || card->lines[i].kind == SHOW_CARD_NOTE))
        i--;
    return i;
}

/* What goes from line i to its place, or how high it is. Returns the height. */
static double set_line(setter *s, size_t i, double y, bool draw) {
    const show_card *card = s->card;
    card_place place = {.cr = s->cr,
                        .x = column_left(s),
                        .y = y,
                        .width = column_width(s),
                        .size = s->size,
                        .columns = &s->table,
                        .draw = draw};
    const show_card_line *line = &card->lines[i];
    if (line->kind != SHOW_CARD_ROW && line->kind != SHOW_CARD_RUN && line->kind != SHOW_CARD_COLUMNS)
        return card_put_line(&place, line);
    size_t from = table_start(card, i);
    double height = card_put_row(&place, line, &card->lines[from], show_card_table_end(card, from) - from);
    s->squeezed = s->squeezed || place.squeezed;
    return height;
}

static bool begins_section(const show_card_line *line) {
    return line->kind == SHOW_CARD_HEAD || line->kind == SHOW_CARD_BAND;
}

static double height_of(setter *s, size_t from, size_t end) {
    double height = 0;
    for (size_t i = from; i < end; i++)
        height += set_line(s, i, s->y, false);
    return height;
}

/* Does line i lead to the one behind it, so that nobody wants to see them apart? */
static bool leads(const show_card *card, size_t i) {
    show_card_kind kind = card->lines[i].kind, next = card->lines[i + 1].kind;
    bool run = kind == SHOW_CARD_RUN || kind == SHOW_CARD_NOTE;
    return begins_section(&card->lines[i]) || kind == SHOW_CARD_LOUD ||
           (run && (next == SHOW_CARD_NOTE || next == SHOW_CARD_LOUD || next == SHOW_CARD_COLUMNS));
}

/* How much room there must be for line i to begin here: a heading stays with what it heads, a run with its check marks,
 * and neither a section nor a table is broken if it takes no more than a part of a column. */
static double needs(setter *s, size_t i) {
    const show_card *card = s->card;
    double most = (bottom(s) - s->top) * WHOLE_MOST, height = set_line(s, i, s->y, false);
    if (i + 1 == card->count)
        return height;
    bool table = card->lines[i].kind == SHOW_CARD_COLUMNS;
    if (begins_section(&card->lines[i]) || table) {
        size_t end = i + 1;
        while (!table && end < card->count && !begins_section(&card->lines[end]))
            end++;
        double whole = height + height_of(s, i + 1, table ? show_card_table_end(card, i) : end);
        if (whole < most)
            return whole;
    }
    return leads(card, i) || table ? height + needs(s, i + 1) : height;
}

/* The name of the section that goes on at the top of a column with line i. Returns its height. */
static double name_again(setter *s, size_t i, bool draw) {
    size_t head = i;
    while (head > 0 && !begins_section(&s->card->lines[head]))
        head--;
    if (head == i)
        return 0;
    char name[600];
    snprintf(name, sizeof name, "%.580s" CARD_GOES_ON, s->card->lines[head].cell[0]);
    show_card_line line = {.kind = s->card->lines[head].kind, .cells = 1, .cell = {name}};
    card_place place = {
        .cr = s->cr, .x = column_left(s), .y = s->y, .width = column_width(s), .size = s->size, .draw = draw};
    return card_put_line(&place, &line);
}

static void next_column(setter *s) {
    s->column++;
    s->y = s->page == 0 ? s->top : PAPER_MARGIN;
    if (s->column < s->columns)
        return;
    s->column = 0;
    s->page++;
    s->y = PAPER_MARGIN;
}

static size_t first_section(const show_card *card) {
    size_t i = 0;
    while (i < card->count && card->lines[i].kind != SHOW_CARD_HEAD)
        i++;
    return i;
}

/* What stands above the first section goes across the whole sheet. Returns where it ends. */
static double set_top(const setter *s) {
    card_place place = {.cr = s->cr,
                        .x = PAPER_MARGIN,
                        .y = PAPER_MARGIN,
                        .width = s->sheet->width - 2 * PAPER_MARGIN,
                        .size = s->size,
                        .draw = s->book != NULL};
    for (size_t i = 0; i < first_section(s->card); i++)
        place.y += card_put_line(&place, &s->card->lines[i]);
    return place.y;
}

/* Sets all lines; pages: how many there will be, for their numbers. Returns how many it takes; where only one sheet is
 * asked about, neat or not, it ends as soon as that cannot be. */
static int set_all(setter *s, int pages, bool one_sheet, bool neat) {
    bool draw = s->book != NULL;
    double start;
    s->page = s->column = 0;
    s->squeezed = false;
    s->top = s->y = set_top(s);
    if (draw)
        foot(s, pages);
    for (size_t i = first_section(s->card); i < s->card->count; i++) {
        if (!draw && one_sheet && (s->page > 0 || (neat && s->squeezed)))
            return 2; /* no need to look further */
        double height = needs(s, i);
        start = s->page == 0 ? s->top : PAPER_MARGIN;
        int page = s->page;
        bool on = s->y + height > bottom(s) && s->y > start;
        if (on)
            next_column(s);
        if (draw && s->page != page) {
            s->cr = paper_page(s->book, s->sheet->width, s->sheet->height);
            foot(s, pages);
        }
        s->y += on ? name_again(s, i, draw) : 0;
        s->y += set_line(s, i, s->y, draw);
    }
    return s->page + 1;
}

/* The largest letters with which one sheet holds it, with tables whose cells do not break if it can be; with the
 * smallest it takes several. Returns the pages. */
static int choose(setter *s) {
    for (int neat = 1; neat >= 0; neat--) /* with tables whose cells do not break, then with any */
        for (s->size = neat ? LARGEST : UNTIDY; s->size > (neat ? NEAT : SMALLEST); s->size -= FINER)
            for (s->columns = 1; s->columns <= 2; s->columns++)
                if (set_all(s, 1, true, neat) == 1 && !(neat && s->squeezed))
                    return 1;
    s->size = SMALLEST;
    s->columns = 2;
    return set_all(s, 1, false, false);
}

bool card_draw(paper_book *book, const show_card *card, const paper_size *sheet) {
    cairo_t *cr = paper_page(book, sheet->width, sheet->height);
    setter s = {.cr = cr, .sheet = sheet, .card = card};
    if (card->count == 0)
        return false;
    int pages = choose(&s);
    s.book = book;
    set_all(&s, pages, false, false);
    return true;
}
