/* size.c - which sheet, and which kind of file: both by name. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "paper/paper.h"

static const paper_size named[] = {
    {210.0, 297.0, "A4"},                                    /* ISO 216:2007 */
    {8.5 * BW_MM_PER_INCH, 11.0 * BW_MM_PER_INCH, "Letter"}, /* ANSI/ASME Y14.1, size A */
    {148.0, 210.0, "A5"},                                    /* ISO 216:2007 */
};

static bool because(char reason[160], const char *text) {
    snprintf(reason, 160, "%s", text);
    return false;
}

/* Of a side without a unit: the one that the other side names. */
static shop_unit unit_of(const char *text, size_t length, shop_unit bare) {
    while (length > 0 && text[length - 1] == ' ')
        length--;
    if (length > 0 && text[length - 1] == '"')
        return SHOP_INCH;
    if (length < 2)
        return bare;
    return strncmp(text + length - 2, "in", 2) == 0   ? SHOP_INCH
           : strncmp(text + length - 2, "mm", 2) == 0 ? SHOP_MM
                                                      : bare;
}

static void name_sheet(paper_size *size, shop_unit unit) {
    double one = unit == SHOP_INCH ? BW_MM_PER_INCH : 1.0;
    snprintf(size->name, sizeof size->name, "%.6g x %.6g %s", size->width / one, size->height / one,
             unit == SHOP_INCH ? "in" : "mm");
}

static bool two_sides(const char *text, const char *between, shop_unit bare, paper_size *size, char reason[160]) {
    const char *second = between + 1;
    size_t first_length = (size_t)(between - text), second_length = strlen(second);
    double sides[2];
    shop_unit one = unit_of(second, second_length, bare), two = unit_of(text, first_length, bare);
    if (!shop_parse_length(text, first_length, one, false, &sides[0], reason) ||
        !shop_parse_length(second, second_length, two, false, &sides[1], reason))
        return false;
    for (int i = 0; i < 2; i++)
        if (!(sides[i] >= PAPER_LEAST - BW_EPS && sides[i] <= PAPER_MOST + BW_EPS)) {
            snprintf(reason, 160, "a sheet's sides are %.0f to %.0f mm (%.2f to %.0f in)", PAPER_LEAST, PAPER_MOST,
                     PAPER_LEAST / BW_MM_PER_INCH, PAPER_MOST / BW_MM_PER_INCH);
            return false;
        }
    size->width = fmin(sides[0], sides[1]);
    size->height = fmax(sides[0], sides[1]);
    name_sheet(size, one == SHOP_INCH || two == SHOP_INCH ? SHOP_INCH : SHOP_MM);
    return true;
}

bool paper_size_of(const char *text, shop_unit bare, paper_size *size, char reason[160]) {
    if (!text || !*text) {
        *size = named[bare == SHOP_INCH ? 1 : 0];
        return true;
    }
    for (size_t i = 0; i < sizeof named / sizeof named[0]; i++)
        if (strcasecmp(text, named[i].name) == 0) {
            *size = named[i];
            return true;
        }
    const char *between = strpbrk(text, "xX");
    if (!between)
        return because(reason, "paper is a4, a5, letter, or width x height such as 300x450 or 12x18in");
    return two_sides(text, between, bare, size, reason);
}

bool paper_ends_in(const char *file, const char *ending) {
    const char *name = strrchr(file, '/');
    name = name ? name + 1 : file;
    const char *dot = strrchr(name, '.');
    return dot && dot > name && strcasecmp(dot, ending) == 0;
}

bool paper_kind_of(const char *file, paper_kind *kind, char reason[160]) {
    static const char *const endings[] = {".pdf", ".svg", ".png"};
    for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++)
        if (paper_ends_in(file, endings[i])) {
            *kind = (paper_kind)i;
            return true;
        }
    return because(reason, "the file's name ends in .pdf, .svg or .png, and so says what is written");
}
