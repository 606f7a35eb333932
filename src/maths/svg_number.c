/* Numbers of SVG path data, read without the C library's locale. */
#include "maths/svg_number.h"

#include <math.h>
#include <stdint.h>

bool maths_svg_wrong(maths_svg *svg, size_t at, const char *why) {
    svg->at = at;
    svg->why = why;
    return false;
}

static bool is_space(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f';
}

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

void maths_svg_spaces(maths_svg *svg) {
    while (is_space(svg->text[svg->at]))
        svg->at++;
}

bool maths_svg_at_number(const maths_svg *svg) {
    char c = svg->text[svg->at];
    return is_digit(c) || c == '.' || c == '-' || c == '+';
}

static void separator(maths_svg *svg, bool later) {
    maths_svg_spaces(svg);
    if (!later || svg->text[svg->at] != ',')
        return;
    svg->at++;
    maths_svg_spaces(svg);
}

/* Digits gathered as a whole number; those beyond its room only shift the power of ten. */
typedef struct gathered {
    uint64_t digits;
    int power;
    bool any;
} gathered;

static void gather(maths_svg *svg, gathered *g, int power_each) {
    const uint64_t full = (UINT64_MAX - 9) / 10;
    for (; is_digit(svg->text[svg->at]); svg->at++) {
        g->any = true;
        if (g->digits > full) {
            g->power += 1 + power_each;
            continue;
        }
        g->digits = g->digits * 10 + (uint64_t)(svg->text[svg->at] - '0');
        g->power += power_each;
    }
}

/* An e that no digits follow is not part of the number. */
static int exponent(maths_svg *svg) {
    enum { POWER_MOST = 100000 };
    const char *c = svg->text + svg->at;
    if (*c != 'e' && *c != 'E')
        return 0;
    bool minus = c[1] == '-';
    size_t sign = minus || c[1] == '+';
    if (!is_digit(c[1 + sign]))
        return 0;
    int power = 0;
    for (svg->at += 1 + sign; is_digit(svg->text[svg->at]); svg->at++)
        power = power < POWER_MOST ? power * 10 + (svg->text[svg->at] - '0') : power;
    return minus ? -power : power;
}

/* Powers of ten up to 27 are exact in 64 bits of mantissa, so that common numbers are rounded once or twice. */
static long double power_of_ten(int power) {
    long double whole = 1, square = 10;
    for (; power > 0; power /= 2, square *= square)
        if (power % 2 == 1)
            whole *= square;
    return whole;
}

static double times_power(const gathered *g, int power) {
    long double value = (long double)g->digits;
    if (g->digits == 0)
        return 0;
    long double scale = power_of_ten(power < 0 ? -power : power);
    return (double)(power < 0 ? value / scale : value * scale);
}

bool maths_svg_number(maths_svg *svg, bool later, double *number) {
    separator(svg, later);
    size_t begin = svg->at;
    char sign = svg->text[svg->at];
    if (sign == '-' || sign == '+')
        svg->at++;
    gathered g = {0};
    gather(svg, &g, 0);
    if (svg->text[svg->at] == '.') {
        svg->at++;
        gather(svg, &g, -1);
    }
    if (!g.any)
        return maths_svg_wrong(svg, svg->at, "a number is expected here");
    *number = times_power(&g, g.power + exponent(svg));
    if (sign == '-')
        *number = -*number;
    if (!isfinite(*number))
        return maths_svg_wrong(svg, begin, "this number is too large");
    return true;
}

bool maths_svg_flag(maths_svg *svg, bool *flag) {
    separator(svg, true);
    char c = svg->text[svg->at];
    if (c != '0' && c != '1')
        return maths_svg_wrong(svg, svg->at, "a flag is expected here: 0 or 1");
    svg->at++;
    *flag = c == '1';
    return true;
}
