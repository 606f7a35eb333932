/* The card as text: tables in columns, a box to tick as [ ]. */
#include <stdlib.h>
#include <string.h>

#include "show/card.h"
#include "show/page.h"

#define BOX "[ ] "
#define NO_BOX "    "
#define BETWEEN 2     /* cells between columns */
#define LAST_LEAST 24 /* cells that the last column keeps; it breaks into lines */

static void widths_of(const show_card *card, size_t from, size_t end, int widths[SHOW_CARD_CELLS]) {
    memset(widths, 0, SHOW_CARD_CELLS * sizeof *widths);
    for (size_t i = from; i < end; i++)
        for (size_t k = 0; k < card->lines[i].cells && card->lines[i].kind != SHOW_CARD_NOTE; k++) {
            int width = show_text_width(card->lines[i].cell[k]);
            widths[k] = width > widths[k] ? width : widths[k];
        }
}

/* A row whose last cell breaks where the page ends; where no room is left for it, every cell has a line. */
static void put_row(page *p, const show_card_line *line, const int widths[SHOW_CARD_CELLS]) {
    char lead[512];
    int used = snprintf(lead, sizeof lead, "%s", line->box ? BOX : NO_BOX), all = (int)strlen(NO_BOX);
    for (size_t k = 0; k + 1 < line->cells; k++)
        all += widths[k] + BETWEEN;
    int last = widths[line->cells - 1];
    if (all + (last < LAST_LEAST ? last : LAST_LEAST) > p->width || all >= (int)sizeof lead / 4) {
        for (size_t k = 0; k < line->cells; k++)
            page_put(p, k > 0 ? NO_BOX "  " : lead, line->cell[k]);
        return;
    }
    for (size_t k = 0; k + 1 < line->cells; k++)
        used += snprintf(lead + used, sizeof lead - (size_t)used, "%s%*s", line->cell[k],
                         widths[k] - show_text_width(line->cell[k]) + BETWEEN, "");
    page_put(p, lead, line->cell[line->cells - 1]);
}

static void put_table(page *p, const show_card *card, size_t from, size_t end) {
    int widths[SHOW_CARD_CELLS];
    widths_of(card, from, end, widths);
    for (size_t i = from; i < end; i++) {
        if (card->lines[i].kind == SHOW_CARD_NOTE)
            page_put(p, NO_BOX, card->lines[i].cell[0]);
        else
            put_row(p, &card->lines[i], widths);
    }
}

static void put_line(page *p, const show_card_line *line) {
    char lead[600];
    switch (line->kind) {
    case SHOW_CARD_HEAD:
    case SHOW_CARD_BAND:
        page_put(p, "", "");
        if (line->cells > 1)
            page_putf(p, "", "%s%s %s", line->cell[0], line->kind == SHOW_CARD_BAND ? ":" : ",", line->cell[1]);
        else
            page_put(p, "", line->cell[0]);
        break;
    case SHOW_CARD_STEP:
        snprintf(lead, sizeof lead, BOX "%3s ", line->cell[0]);
        page_put(p, lead, line->cell[1]);
        break;
    default:
        page_put(p, "", line->cell[0]);
    }
}

bool show_card_text(FILE *to, const shop_project *project, const bw_plan *plan) {
    show_card *card = show_card_create(project, plan);
    page p = {.to = to, .project = project, .plan = plan, .width = SHOW_PAGE_WIDTH};
    if (!card)
        return false;
    for (size_t i = 0; i < card->count;) {
        show_card_kind kind = card->lines[i].kind;
        if (kind == SHOW_CARD_COLUMNS || kind == SHOW_CARD_RUN) {
            size_t end = show_card_table_end(card, i);
            put_table(&p, card, i, end);
            i = end;
        } else {
            put_line(&p, &card->lines[i++]);
        }
    }
    show_card_free(card);
    return fflush(to) == 0 && !ferror(to);
}
