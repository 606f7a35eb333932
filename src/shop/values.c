/* Values as text. Every character is checked before a number is converted, and the conversion knows no locale. */
#include "shop/values.h"

#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/limits.h"
#include "shop/characters.h"

typedef struct reader {
    const char *at, *end;
} reader;

static bool digit(const reader *r) {
    return r->at < r->end && *r->at >= '0' && *r->at <= '9';
}

static void blanks(reader *r) {
    while (r->at < r->end && (*r->at == ' ' || *r->at == '\t'))
        r->at++;
}

static reader trimmed(const char *text, size_t length) {
    reader r = {text, text + length};
    blanks(&r);
    while (r.end > r.at && (r.end[-1] == ' ' || r.end[-1] == '\t'))
        r.end--;
    return r;
}

static bool take(reader *r, const char *word) {
    size_t length = strlen(word);
    if ((size_t)(r->end - r->at) < length || memcmp(r->at, word, length) != 0)
        return false;
    r->at += length;
    return true;
}

static bool is(const reader *r, const char *word) {
    reader copy = *r;
    return take(&copy, word) && copy.at == copy.end;
}

static bool because(char reason[SHOP_REASON], const char *text) {
    snprintf(reason, SHOP_REASON, "%s", text);
    return false;
}

/* Digits with one point, as they stand; from..at was checked by the caller. */
double shop_convert(const char *from, const char *to) {
    char digits[SHOP_NUMBER_MOST + 1];
    size_t length = (size_t)(to - from);
    memcpy(digits, from, length);
    digits[length] = '\0';
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0); /* the C library's own, nothing is allocated */
    double value = strtod_l(digits, NULL, plain);
    freelocale(plain);
    return value;
}

/* "18", "18.5", ".5", "18."; the sign is the caller's. */
static bool plain_number(reader *r, double *value, bool *whole) {
    const char *from = r->at;
    size_t digits = 0;
    *whole = true;
    while (digit(r))
        r->at++, digits++;
    if (r->at < r->end && *r->at == '.') {
        *whole = false;
        r->at++;
        while (digit(r))
            r->at++, digits++;
    }
    if (digits == 0 || r->at - from > SHOP_NUMBER_MOST)
        return false;
    *value = shop_convert(from, r->at);
    return true;
}

/* "/4" behind the 3. */
static bool fraction(reader *r, double *value) {
    reader copy = *r;
    double below;
    bool whole;
    blanks(&copy);
    if (!take(&copy, "/"))
        return false;
    blanks(&copy);
    if (!digit(&copy) || !plain_number(&copy, &below, &whole) || !whole || below == 0)
        return false;
    *value /= below;
    *r = copy;
    return true;
}

/* A number or a fraction or both, with its sign: "-18.5", "3/4", "1 1/8", "1-1/8". */
static bool measure(reader *r, double *value) {
    double sign = take(r, "-") ? -1 : 1;
    if (sign > 0)
        take(r, "+");
    bool whole;
    if (!plain_number(r, value, &whole))
        return false;
    if (whole && !fraction(r, value)) {
        reader copy = *r;
        double more;
        bool gap = copy.at < copy.end && (*copy.at == ' ' || *copy.at == '-');
        if (gap)
            copy.at++;
        blanks(&copy);
        if (gap && digit(&copy) && plain_number(&copy, &more, &whole) && whole && fraction(&copy, &more)) {
            *value += more;
            *r = copy;
        }
    }
    *value *= sign;
    return true;
}

/* Why a number was not understood: the usual slips get their own words. */
static bool no_number(const reader *r, const char *allowed, char reason[SHOP_REASON]) {
    const char *first = r->at;
    size_t length = (size_t)(r->end - first);
    if (length == 0)
        return because(reason, allowed);
    if (memchr(first, ',', length))
        return because(reason, "a comma; use a point, such as 18.5");
    if (length > SHOP_NUMBER_MOST)
        return because(reason, "too long for a number");
    bool digits = *first >= '0' && *first <= '9';
    if (digits && length > 1 && (first[1] == 'x' || first[1] == 'X'))
        return because(reason, "hexadecimal; write plain digits, such as 18.5");
    for (size_t i = 1; digits && i + 1 < length; i++) {
        bool exponent = (first[i] == 'e' || first[i] == 'E') &&
                        (first[i - 1] == '.' || (first[i - 1] >= '0' && first[i - 1] <= '9'));
        char next = first[i + 1];
        if (exponent && (next == '-' || next == '+' || (next >= '0' && next <= '9')))
            return because(reason, "an exponent; write the digits out, such as 0.5");
    }
    return because(reason, allowed);
}

bool shop_parse_length(const char *text, size_t length, shop_unit bare, bool weight, double *mm,
                       char reason[SHOP_REASON]) {
    const char *allowed = weight ? "a weight or thickness is written like 8 oz, 3.2 mm, 1/8 in"
                                 : "a length is written like 18.5, 18.5 mm, 1.2 cm, 0.75 in, 1 1/8 in or 3/4\"";
    reader r = trimmed(text, length), whole = r;
    double value;
    if (!measure(&r, &value))
        return no_number(&whole, allowed, reason);
    blanks(&r);
    double unit = 0;
    if (r.at == r.end)
        unit = bare == SHOP_INCH ? BW_MM_PER_INCH : 1;
    else if (is(&r, "mm"))
        unit = 1;
    else if (is(&r, "cm"))
        unit = 10;
    else if (is(&r, "in") || is(&r, "\""))
        unit = BW_MM_PER_INCH;
    else if (weight && is(&r, "oz"))
        unit = BW_MM_PER_OUNCE;
    if (unit == 0)
        return no_number(&whole, allowed, reason);
    *mm = value * unit;
    return true;
}

bool shop_parse_tolerance(const char *text, shop_unit bare, double *mm, char reason[SHOP_REASON]) {
    double value;
    if (!shop_parse_length(text, strlen(text), bare, false, &value, reason))
        return false;
    if (!(value >= BW_TOLERANCE_LEAST && value <= BW_TOLERANCE_MOST)) {
        snprintf(reason, SHOP_REASON, "it can be from %g to %g mm", BW_TOLERANCE_LEAST, BW_TOLERANCE_MOST);
        return false;
    }
    *mm = value;
    return true;
}

/* A number with what may stand behind it; the end of the text must follow. */
static bool number_and(reader *r, bool *has_tail, const char *tail, double *value) {
    bool whole;
    double sign = take(r, "-") ? -1 : 1;
    if (sign > 0)
        take(r, "+");
    if (!plain_number(r, value, &whole))
        return false;
    blanks(r);
    *has_tail = tail && take(r, tail);
    *value *= sign;
    return r->at == r->end;
}

bool shop_parse_share(const char *text, size_t length, double *share, char reason[SHOP_REASON]) {
    reader r = trimmed(text, length), whole = r;
    bool percent;
    if (!number_and(&r, &percent, "%", share))
        return no_number(&whole, "a share is written like 50 % or 0.5", reason);
    if (percent)
        *share /= 100;
    return true;
}

bool shop_parse_decimal(const char *text, size_t length, double *number, char reason[SHOP_REASON]) {
    reader r = trimmed(text, length), whole = r;
    bool none;
    return number_and(&r, &none, NULL, number) || no_number(&whole, "a number is written like 12 or 12.5", reason);
}

bool shop_parse_angle(const char *text, size_t length, double *radians, char reason[SHOP_REASON]) {
    double degrees;
    if (!shop_parse_decimal(text, length, &degrees, reason)) {
        if (strchr(reason, ',') == NULL && strstr(reason, "written"))
            because(reason, "an angle is a number of degrees, such as 90 or -45.5");
        return false;
    }
    *radians = degrees * BW_PI / 180;
    return true;
}

bool shop_parse_whole(const char *text, size_t length, int *number, char reason[SHOP_REASON]) {
    reader r = trimmed(text, length), start = r;
    double value;
    bool whole, minus = take(&r, "-");
    if (!digit(&r) || !plain_number(&r, &value, &whole) || !whole || r.at != r.end)
        return no_number(&start, "a whole number is written like 12", reason);
    if (value > 1e9)
        return because(reason, "too large for a number here");
    *number = minus ? -(int)value : (int)value;
    return true;
}

bool shop_parse_yes_no(const char *text, size_t length, bool *yes, char reason[SHOP_REASON]) {
    static const char *const words[] = {"no", "yes", "false", "true", NULL};
    int index;
    if (!shop_parse_word(text, length, words, &index, reason))
        return because(reason, "allowed: yes, no");
    *yes = index % 2 != 0;
    return true;
}

bool shop_parse_word(const char *text, size_t length, const char *const *words, int *index, char reason[SHOP_REASON]) {
    reader r = {text, text + length};
    for (*index = 0; words[*index]; ++*index)
        if (is(&r, words[*index]))
            return true;
    size_t used = (size_t)snprintf(reason, SHOP_REASON, "allowed:");
    for (size_t i = 0; words[i] && used < SHOP_REASON; i++)
        used += (size_t)snprintf(reason + used, SHOP_REASON - used, "%s %s", i ? "," : "", words[i]);
    return false;
}

bool shop_parse_place(const char *text, size_t length, shop_unit bare, bw_place *place, char reason[SHOP_REASON]) {
    static const char *const words[] = {"bottom", "right", "top", "left", NULL};
    int index;
    *place = (bw_place){BW_PLACE_OWN, 0};
    if (shop_parse_word(text, length, words, &index, reason)) {
        place->kind = (bw_place_kind)(BW_PLACE_BOTTOM + index);
        return true;
    }
    if (!shop_parse_length(text, length, bare, false, &place->along, reason)) {
        if (strstr(reason, "written"))
            because(reason, "a place is bottom, right, top, left or a length along the edge, such as 35 mm");
        return false;
    }
    place->kind = BW_PLACE_ALONG;
    return true;
}

bool shop_parse_guide(const char *text, size_t length, bool *is_length, double *value, char reason[SHOP_REASON]) {
    reader r = trimmed(text, length);
    bool percent;
    double number;
    *is_length = false;
    if (number_and(&r, &percent, "%", &number)) {
        *value = percent ? number / 100 : number;
        return true;
    }
    *is_length = true;
    if (shop_parse_length(text, length, SHOP_MM, false, value, reason)) {
        char last = length ? text[length - 1] : '0';
        if (last < '0' || last > '9')
            return true;
        return because(reason, "a fraction needs its unit, such as 3/4 in"); /* would pass for a bare number */
    }
    if (strstr(reason, "written"))
        because(reason, "the guide is a share of the width, such as 50 % or 0.5, or a length with its unit");
    return false;
}

bool shop_parse_count(const char *text, size_t length, int *count, char reason[SHOP_REASON]) {
    reader r = trimmed(text, length);
    *count = 0;
    if (is(&r, "auto"))
        return true;
    if (!shop_parse_whole(text, length, count, reason))
        return strstr(reason, "written") ? because(reason, "a count is auto or a whole number") : false;
    if (*count < 1 || *count > BW_COUNT_MOST)
        return because(reason, "allowed: auto, or 1 to 100000");
    return true;
}

bool shop_parse_lose(const char *text, size_t length, bw_lose *lose, int *last, char reason[SHOP_REASON]) {
    static const char allowed[] =
        "allowed: even, straights, anchored, or last K with K from 1 to 100000, such as last 8";
    reader r = trimmed(text, length);
    *last = 0;
    if (is(&r, "even"))
        *lose = BW_LOSE_EVEN;
    else if (is(&r, "straights"))
        *lose = BW_LOSE_STRAIGHTS;
    else if (is(&r, "anchored"))
        *lose = BW_LOSE_ANCHORED;
    else {
        *lose = BW_LOSE_LAST;
        if (!take(&r, "last") || r.at == r.end || (*r.at != ' ' && *r.at != '\t'))
            return because(reason, allowed);
        if (!shop_parse_whole(r.at, (size_t)(r.end - r.at), last, reason) || *last < 1 || *last > BW_COUNT_MOST)
            return because(reason, allowed);
    }
    return true;
}

bool shop_check_name(const char *text, size_t length, char reason[SHOP_REASON]) {
    if (!shop_is_utf8(text, length))
        return because(reason, "a name must be UTF-8");
    size_t count = shop_characters(text, length);
    if (count < 1 || count > BW_NAME_MOST)
        return because(reason, "a name has 1 to 40 characters");
    for (size_t at = 0, used; at < length; at += used) {
        uint32_t code = shop_character(text + at, length - at, &used);
        if (code < 0x80 && code && strchr(".\"[]/:", (int)code))
            return because(reason, "a name holds none of . \" [ ] / :");
        if (shop_character_hides(code))
            return because(reason, "a name holds no control or invisible characters");
    }
    return true;
}

/* ---- and back ---- */

static void cut_zeros(char *text) {
    char *point = strchr(text, '.');
    if (!point)
        return;
    char *end = text + strlen(text);
    while (end > point && end[-1] == '0')
        *--end = '\0';
    if (end > point && end[-1] == '.')
        *--end = '\0';
    if (strcmp(text, "-0") == 0)
        strcpy(text, "0");
}

void shop_write_number(double number, char *out, size_t room) {
    char text[400];
    double back = NAN;
    for (int places = 0; places <= 20; places++) {
        int length = snprintf(text, sizeof text, "%.*f", places, number);
        back = length <= SHOP_NUMBER_MOST ? shop_convert(text, text + length) : number;
        if (back == number)
            break;
    }
    cut_zeros(text);
    snprintf(out, room, "%s", text);
}

void shop_write_length(double mm, shop_unit unit, char *out, size_t room) {
    if (unit == SHOP_MM) {
        shop_write_number(mm, out, room);
        return;
    }
    char text[400];
    double inches = mm / BW_MM_PER_INCH;
    for (int places = 0; places <= 17; places++) { /* the inches that give these very millimetres */
        int length = snprintf(text, sizeof text, "%.*f", places, inches);
        if (length <= SHOP_NUMBER_MOST && shop_convert(text, text + length) * BW_MM_PER_INCH == mm)
            break;
    }
    cut_zeros(text);
    snprintf(out, room, "%s", text);
}

void shop_show_length(double mm, shop_unit unit, char *out, size_t room) {
    if (!isfinite(mm)) {
        snprintf(out, room, "none");
        return;
    }
    double parts = round(fabs(mm) / BW_GRID_INCH);
    if (unit == SHOP_MM || parts > 1e9) {
        char text[400];
        double hundredths = copysign(floor(fabs(mm) * 100 + 0.5 + 1e-6), mm); /* 3.175, 8 oz, is 3.18 */
        snprintf(text, sizeof text, "%.2f", hundredths / 100);
        cut_zeros(text);
        snprintf(out, room, "%s mm", text);
        return;
    }
    const char *sign = mm < 0 && parts > 0 ? "-" : "";
    long whole = (long)parts / 64, above = (long)parts % 64, below = 64;
    while (above > 0 && above % 2 == 0)
        above /= 2, below /= 2;
    if (above == 0)
        snprintf(out, room, "%s%ld in", sign, whole);
    else if (whole == 0)
        snprintf(out, room, "%s%ld/%ld in", sign, above, below);
    else
        snprintf(out, room, "%s%ld %ld/%ld in", sign, whole, above, below);
}

bool shop_write_fraction(double mm, char *out, size_t room) {
    char reason[160];
    double back;
    shop_show_length(mm, SHOP_INCH, out, room);
    return shop_parse_length(out, strlen(out), SHOP_INCH, false, &back, reason) && back == mm;
}
