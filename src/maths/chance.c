/* Chances and their quantiles; the sources stand in bandwright/chance.h. */
#include "bandwright/chance.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>

#include "bandwright/base.h"

#define ROUNDS_MOST 20000 /* terms of a series or fraction; even a freedom of 1e6 needs fewer */
#define STEPS_MOST 200    /* of a search: halving alone needs 110 */
#define T_MOST 1e150      /* of a quantile that is looked for: its square is a number still */
#define TINY 1e-300       /* in place of 0 where a fraction would divide by it */

/* ln gamma(x), x > 0: Stirling's series far out, brought there by gamma(x + 1) = x gamma(x). */
static double log_gamma(double x) {
    double product = 1;
    for (; x < 15; x += 1)
        product *= x;
    double v = 1 / (x * x);
    double series = (1.0 / 12 - v * (1.0 / 360 - v * (1.0 / 1260 - v * (1.0 / 1680 - v * (1.0 / 1188))))) / x;
    return (x - 0.5) * log(x) - x + 0.5 * log(2 * BW_PI) + series - log(product);
}

/* One step of a continued fraction, term a/(b + ...), from front to back. */
typedef struct fraction {
    double value, c, d;
} fraction;

static bool fraction_step(fraction *f, double a, double b) {
    double d = b + a * f->d, c = b + a / f->c;
    f->d = 1 / (fabs(d) < TINY ? TINY : d);
    f->c = fabs(c) < TINY ? TINY : c;
    double change = f->c * f->d;
    f->value *= change;
    return fabs(change - 1) > DBL_EPSILON;
}

/* Regularised incomplete gamma function P(a, x), or what is left of it to 1, whichever `upper` asks for. */
static double gamma_share(double a, double x, bool upper) {
    if (x <= 0)
        return upper ? 1 : 0;
    double front = exp(a * log(x) - x - log_gamma(a));
    if (x < a + 1) {
        double term = 1 / a, sum = term;
        for (int i = 1; i < ROUNDS_MOST && term > sum * DBL_EPSILON / 4; i++)
            sum += term *= x / (a + i);
        return upper ? 1 - front * sum : front * sum;
    }
    fraction f = {.value = 1 / (x + 1 - a), .c = 1 / TINY, .d = 1 / (x + 1 - a)};
    for (int i = 1; i < ROUNDS_MOST; i++)
        if (!fraction_step(&f, -i * (i - a), x + 2 * i + 1 - a))
            break;
    return upper ? front * f.value : 1 - front * f.value;
}

/* Regularised incomplete beta function I_x(a, b); y is 1 - x, told apart so that neither loses digits. */
static double beta_share(double a, double b, double x, double y) {
    if (x <= 0 || y <= 0)
        return x <= 0 ? 0 : 1;
    if (x > (a + 1) / (a + b + 2))
        return 1 - beta_share(b, a, y, x);
    double front = exp(a * log(x) + b * log(y) + log_gamma(a + b) - log_gamma(a) - log_gamma(b)) / a;
    fraction f = {.value = TINY, .c = TINY, .d = 0};
    for (int m = 0; m < ROUNDS_MOST; m++) {
        double even = m == 0 ? 1 : m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
        double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
        bool more = fraction_step(&f, even, 1);
        if (!(fraction_step(&f, odd, 1) || more))
            break;
    }
    return front * f.value;
}

double bw_normal_below(double x) {
    return erfc(-x / sqrt(2)) / 2;
}

double bw_student_below(double x, double freedom) {
    if (!(freedom > 0) || isnan(x))
        return NAN;
    if (isinf(freedom))
        return bw_normal_below(x);
    double whole = freedom + x * x;
    double tail = isinf(whole) ? 0 : beta_share(freedom / 2, 0.5, freedom / whole, x * x / whole) / 2;
    return x < 0 ? tail : 1 - tail;
}

double bw_chi_square_below(double x, double freedom) {
    if (!(freedom > 0) || isinf(freedom) || isnan(x))
        return NAN;
    return x > 0 && isinf(x) ? 1 : gamma_share(freedom / 2, x / 2, false);
}

/* ---- quantiles ---- */

static double normal_density(double x) {
    return exp(-x * x / 2) / sqrt(2 * BW_PI);
}

static double student_density(double x, double f) {
    double front = exp(log_gamma((f + 1) / 2) - log_gamma(f / 2)) / sqrt(f * BW_PI);
    return front * exp(-(f + 1) / 2 * log1p(x * x / f));
}

static double chi_square_density(double x, double f) {
    return x > 0 ? exp((f / 2 - 1) * log(x / 2) - x / 2 - log_gamma(f / 2)) / 2 : 0;
}

/* The chance above x, without the digits that 1 - below would lose. */
static double chi_square_above(double x, double f) {
    return gamma_share(f / 2, x / 2, true);
}

/* Where the tail (falling from low to high if `falls`) comes to the wanted chance. Newton's step is taken where it
 * stays between the bounds, else they are halved. */
static double solve(double (*tail)(double, double), double (*density)(double, double), double freedom, double wanted,
                    bool falls, double low, double high, double guess) {
    double x = guess > low && guess < high ? guess : low + (high - low) / 2;
    for (int i = 0; i < STEPS_MOST; i++) {
        double off = tail(x, freedom) - wanted;
        if ((off > 0) == falls)
            low = x;
        else
            high = x;
        double step = off / density(x, freedom) * (falls ? 1 : -1);
        if (fabs(step) <= fabs(x) * 2 * DBL_EPSILON)
            break;
        x = x + step > low && x + step < high ? x + step : low + (high - low) / 2;
    }
    return x;
}

static double normal_above(double x, double freedom) {
    (void)freedom;
    return erfc(x / sqrt(2)) / 2;
}

static double normal_density_of(double x, double freedom) {
    (void)freedom;
    return normal_density(x);
}

static double student_above(double x, double freedom) {
    return bw_student_below(-x, freedom);
}

/* The x >= 0 above which a normal value lies with this chance (1/2 at most). */
static double normal_upper(double chance) {
    if (chance <= 0)
        return INFINITY;
    double t = sqrt(-2 * log(chance)); /* 26.2.23 */
    double guess =
        t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
    return chance == 0.5 ? 0 : solve(normal_above, normal_density_of, 0, chance, true, 0, 40, guess);
}

double bw_normal_quantile(double chance) {
    if (!(chance >= 0 && chance <= 1))
        return NAN;
    return chance < 0.5 ? -normal_upper(chance) : normal_upper(1 - chance);
}

double bw_student_quantile(double chance, double freedom) {
    if (!(chance >= 0 && chance <= 1) || !(freedom > 0))
        return NAN;
    if (isinf(freedom))
        return bw_normal_quantile(chance);
    double tail = chance < 0.5 ? chance : 1 - chance, sign = chance < 0.5 ? -1 : 1;
    if (tail == 0)
        return sign * INFINITY;
    if (tail == 0.5)
        return 0;
    double guess = normal_upper(tail), high = guess > 1 ? guess : 1;
    while (student_above(high, freedom) > tail && high < T_MOST)
        high *= 2;
    if (student_above(high, freedom) > tail)
        return sign * INFINITY;
    return sign * solve(student_above, student_density, freedom, tail, true, 0, high, guess);
}

double bw_chi_square_quantile(double chance, double freedom) {
    if (!(chance >= 0 && chance <= 1) || !(freedom > 0) || isinf(freedom))
        return NAN;
    if (chance == 0 || chance == 1)
        return chance == 0 ? 0 : INFINITY;
    double c = 2 / (9 * freedom), root = 1 - c + bw_normal_quantile(chance) * sqrt(c); /* 26.4.17 */
    double guess = root > 0 ? freedom * root * root * root : 0, high = 2 * freedom + 10;
    while (chi_square_above(high, freedom) > 1 - chance && high < 1e300)
        high *= 2;
    if (chance < 0.5)
        return solve(bw_chi_square_below, chi_square_density, freedom, chance, false, 0, high, guess);
    return solve(chi_square_above, chi_square_density, freedom, 1 - chance, true, 0, high, guess);
}
