#include "show/card_reader.h"

#include <check.h>
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *next_line(const char *line) {
    line += strcspn(line, "\n");
    return *line == '\n' ? line + 1 : line;
}

/* With every stretch of blanks as one. */
static void append(char *to, size_t room, const char *from, size_t length) {
    size_t used = strlen(to);
    ck_assert_uint_lt(used + length + 2, room);
    for (size_t i = 0; i < length; i++) {
        bool first = i == 0 || from[i - 1] == ' ';
        if (from[i] == ' ')
            continue;
        if (first && used > 0)
            to[used++] = ' ';
        to[used++] = from[i];
    }
    to[used] = '\0';
}

/* Cells stand two blanks or more apart. */
static void add_cells(card_row *row, const char *line, size_t length) {
    size_t at = 0;
    while (at < length) {
        size_t end = at;
        while (end < length && !(line[end] == ' ' && end + 1 < length && line[end + 1] == ' '))
            end++;
        ck_assert_msg(row->cells < CARD_CELLS, "%.*s", (int)length, line);
        snprintf(row->cell[row->cells++], sizeof row->cell[0], "%.*s", (int)(end - at), line + at);
        while (end < length && line[end] == ' ')
            end++;
        at = end;
    }
}

/* A row begins with its box or with blanks in its place and has cells; what is one cell without a box is a note, and
 * what stands six blanks in is a cell of its own. */
static void take_line(card_part *part, const char *line, size_t length) {
    bool box = strncmp(line, "[ ] ", 4) == 0, blanks = strncmp(line, "    ", 4) == 0;
    append(part->flat, sizeof part->flat, line, length);
    card_row *last = part->count > 0 ? &part->rows[part->count - 1] : NULL;
    if (blanks && length > 6 && line[4] == ' ' && line[5] == ' ' && line[6] != ' ' && last) {
        add_cells(last, line + 6, length - 6);
        return;
    }
    if (strspn(line, " ") > 6 && last) { /* the last cell goes on */
        append(last->cell[last->cells - 1], sizeof last->cell[0], line, length);
        return;
    }
    card_row one = {.box = box};
    if (box || blanks)
        add_cells(&one, line + 4, length - 4);
    if (one.cells > 1 || box) {
        ck_assert_int_lt(part->count, CARD_ROWS);
        part->rows[part->count++] = one;
    } else if (blanks && last) {
        append(last->note, sizeof last->note, line, length);
    }
}

bool card_part_of(const char *text, const char *head, card_part *part) {
    memset(part, 0, sizeof *part);
    bool blank = false;
    for (const char *line = text; *line; line = next_line(line)) {
        if (blank && strncmp(line, head, strlen(head)) == 0) {
            snprintf(part->head, sizeof part->head, "%.*s", (int)strcspn(line, "\n"), line);
            for (; *line && *line != '\n'; line = next_line(line))
                take_line(part, line, strcspn(line, "\n"));
            return true;
        }
        blank = *line == '\n';
    }
    return false;
}

double card_length(const char *cell, shop_unit unit) {
    char length[200], reason[160];
    double shown, off = 0;
    const char *bracket = strstr(cell, " (");
    if (bracket && (bracket[2] == '+' || bracket[2] == '-')) {
        off = strtod(bracket + 2, NULL) * (unit == SHOP_INCH ? 25.4 : 1);
        ck_assert_msg(off != 0, "a rest of nothing: %s", cell);
    }
    snprintf(length, sizeof length, "%.*s", (int)(bracket ? (size_t)(bracket - cell) : strlen(cell)), cell);
    return shop_parse_length(length, strlen(length), unit, false, &shown, reason) ? shown - off : NAN;
}

double card_next_length(const char **at, shop_unit unit) {
    const char *word = unit == SHOP_INCH ? " in" : " mm";
    for (; **at; (*at)++) {
        if (!isdigit((unsigned char)**at))
            continue;
        size_t length = strspn(*at, "0123456789./ ");
        while (length > 0 && (*at)[length - 1] == ' ')
            length--;
        if (strncmp(*at + length, word, 3) == 0) {
            const char *end = *at + length + 3;
            char cell[200];
            snprintf(cell, sizeof cell, "%.*s%.*s", (int)(end - *at), *at, (int)strcspn(end, ")") + 1, end);
            if (strncmp(end, " (+", 3) != 0 && strncmp(end, " (-", 3) != 0)
                cell[end - *at] = '\0';
            *at = end;
            return card_length(cell, unit);
        }
        *at += strspn(*at, "0123456789.") - 1;
    }
    return NAN;
}

double card_fine(shop_unit unit) {
    return unit == SHOP_INCH ? 0.0005 * 25.4 + 1e-6 : 0.005 + 1e-6;
}

double card_coarse(shop_unit unit) {
    return unit == SHOP_INCH ? 25.4 / 128 + 1e-6 : 0.005 + 1e-6;
}
