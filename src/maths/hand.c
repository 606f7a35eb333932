/* What strips tell of the hand; model and sources stand in bandwright/hand.h. */
#include "bandwright/hand.h"

#include <math.h>

#include "bandwright/chance.h"

#define HIGH 0.975 /* the two-sided 95 % */
#define LOW 0.025

/* Sums over strips, squares around the mean kept by the difference to it. */
typedef struct spread {
    int count;
    double mean, squares; /* plain mean; sum of squared differences */
    double reading;       /* mean variance that the reading adds */
} spread;

static bool rise(const double *places, size_t count) {
    double before = 0;
    for (size_t i = 0; i < count; before = places[i++])
        if (!(places[i] > before) || isinf(places[i]))
            return false;
    return count > 0;
}

int bw_strip_steps(const bw_strip *strip) {
    if (strip->places != NULL)
        return rise(strip->places, strip->place_count) ? (int)strip->place_count : 0;
    return strip->impressions >= 2 ? strip->impressions - 1 : 0;
}

double bw_strip_step(const bw_strip *strip) {
    int steps = bw_strip_steps(strip);
    double length = strip->places != NULL && steps > 0 ? strip->places[steps - 1] : strip->length;
    return steps > 0 && length > 0 && isfinite(length) ? length / steps : (double)NAN;
}

static double square(double x) {
    return x * x;
}

/* Variance that reading both ends adds to a strip's step. */
static double reading_of(const bw_strip *strip, double rule) {
    return square(rule / bw_strip_steps(strip)) / 6;
}

static void spread_add(spread *s, double y, double reading) {
    double off = y - s->mean;
    s->count++;
    s->mean += off / s->count;
    s->squares += off * (y - s->mean);
    s->reading += (reading - s->reading) / s->count;
}

static bw_estimate nothing(void) {
    return (bw_estimate){NAN, NAN, NAN, NAN, 0};
}

/* A mean with its limits by Student's t. */
static bw_estimate mean_of(const spread *s) {
    bw_estimate e = nothing();
    e.strips = s->count;
    if (s->count > 0)
        e.value = s->mean;
    if (s->count < 2)
        return e;
    double variance = s->squares / (s->count - 1);
    if (sqrt(variance) <= BW_EPS) /* they read alike */
        variance = s->reading;
    e.freedom = s->count - 1;
    double half = bw_student_quantile(HIGH, e.freedom) * sqrt(variance / s->count);
    e.least = e.value - half;
    e.most = e.value + half;
    return e;
}

static bool of_sort(const bw_strip *strip, bw_how sort) {
    return strip->struck == sort && !isnan(bw_strip_step(strip));
}

static bool own_step(const bw_strip *strip) {
    return !strip->round || isnan(strip->aimed);
}

static bw_estimate step_of(const bw_strip *strips, size_t count, double rule, bw_how sort) {
    spread s = {0};
    for (size_t i = 0; i < count; i++)
        if (of_sort(&strips[i], sort) && own_step(&strips[i]))
            spread_add(&s, bw_strip_step(&strips[i]), reading_of(&strips[i], rule));
    return mean_of(&s);
}

static bw_estimate bias_of(const bw_strip *strips, size_t count, double rule) {
    spread s = {0};
    for (size_t i = 0; i < count; i++)
        if (of_sort(&strips[i], BW_STRUCK_USUAL) && !isnan(strips[i].aimed))
            spread_add(&s, bw_strip_step(&strips[i]) - strips[i].aimed, reading_of(&strips[i], rule));
    return mean_of(&s);
}

/* ---- spread ---- */

/* A mean square around its own mean: value - known is what is asked for. */
typedef struct square_sum {
    double value, freedom;
    double known; /* part of it that the reading adds */
    int strips;
} square_sum;

/* The deviation left after the known part, with limits by chi-square. */
static bw_estimate deviation_of(const square_sum *s) {
    bw_estimate e = nothing();
    e.strips = s->strips;
    if (!(s->freedom > 0))
        return e;
    double value = sqrt(s->value) > BW_EPS ? s->value : s->known; /* all alike: the reading hides the rest */
    double least = value * s->freedom / bw_chi_square_quantile(HIGH, s->freedom) - s->known;
    double most = value * s->freedom / bw_chi_square_quantile(LOW, s->freedom) - s->known;
    if (s->value <= s->known) /* what the reading hides may be there, however little shows */
        most = fmax(most, s->known);
    e.freedom = s->freedom;
    e.value = sqrt(fmax(s->value - s->known, 0));
    e.least = sqrt(fmax(least, 0));
    e.most = sqrt(fmax(most, 0));
    return e;
}

/* Steps within the strips that have places. The reading of a place lengthens one step and shortens the next: the steps
 * have the covariance sigma^2 + (r^2/12) T with T = 2 on the diagonal and -1 beside it. Taken around their mean, its
 * trace is (m - 1) sigma^2 + (r^2/12) (2m - 2/m), that of its square as below, less what a rectangular error
 * scatters less than a normal one (its excess is -6/5). */
static square_sum within(const bw_strip *strips, size_t count, double rule) {
    square_sum sum = {0};
    double squares = 0, degrees = 0, reading = 0, mixed = 0, fourth = 0, a = rule * rule / 12;
    for (size_t i = 0; i < count; i++) {
        double step = bw_strip_step(&strips[i]);
        int m = bw_strip_steps(&strips[i]);
        if (strips[i].places == NULL || m < 2 || isnan(step))
            continue;
        for (int j = 0; j < m; j++)
            squares += square(strips[i].places[j] - (j > 0 ? strips[i].places[j - 1] : 0) - step);
        degrees += m - 1;
        reading += 2.0 * m - 2.0 / m;
        fourth += 6.0 * m - 2 - 4.0 / m + 4.0 / ((double)m * m);
        fourth -= 0.6 * (2 * square(1 - 1.0 / m) + 4.0 * (m - 1));
        sum.strips++;
    }
    if (!(degrees > 0))
        return sum;
    mixed = 2 * reading;
    sum.value = squares / degrees;
    sum.known = a * reading / degrees;
    double variance = fmax(sum.value - sum.known, 0), trace = variance * degrees + a * reading;
    double of_square = variance * variance * degrees + variance * a * mixed + a * a * fourth;
    sum.freedom = of_square > 0 ? trace * trace / of_square : degrees;
    return sum;
}

/* What a strip differs from: its aim if it is a round that has one, else nothing. */
static double centre(const bw_strip *strip) {
    return strip->round && !isnan(strip->aimed) ? strip->aimed : 0;
}

/* What explains the scatter of strips. */
typedef struct explained {
    double rule;
    double sigma; /* of the steps, 0 where it is asked for */
    bool weighed; /* each squared difference weighs its steps */
} explained;

static double explained_of(const explained *e, const bw_strip *strip) {
    return reading_of(strip, e->rule) + e->sigma * e->sigma / bw_strip_steps(strip);
}

/* Adds the scatter of one sort. */
static void scatter_of(square_sum *sum, const bw_strip *strips, size_t count, const explained *e, bw_how sort,
                       bool aimed) {
    double weight = 0, mean = 0, known = 0, known_all = 0;
    int n = 0;
    for (size_t i = 0; i < count; i++)
        if (of_sort(&strips[i], sort) && own_step(&strips[i]) != aimed) {
            double w = e->weighed ? bw_strip_steps(&strips[i]) : 1, y = bw_strip_step(&strips[i]) - centre(&strips[i]);
            weight += w;
            mean += (y - mean) * w / weight;
            known += w * explained_of(e, &strips[i]);
            n++;
        }
    if (n < 2)
        return;
    for (size_t i = 0; i < count; i++)
        if (of_sort(&strips[i], sort) && own_step(&strips[i]) != aimed) {
            double w = e->weighed ? bw_strip_steps(&strips[i]) : 1, y = bw_strip_step(&strips[i]) - centre(&strips[i]);
            sum->value += w * square(y - mean);
            known_all += w * w * explained_of(e, &strips[i]) / weight;
        }
    sum->known += known - known_all;
    sum->freedom += n - 1;
    sum->strips += n;
}

/* The scatter of all sorts, each around its own mean, as mean squares. */
static square_sum scatter(const bw_strip *strips, size_t count, explained e) {
    square_sum sum = {0};
    for (int sort = 0; sort < BW_STRUCK_COUNT; sort++)
        for (int aimed = 0; aimed < 2; aimed++)
            scatter_of(&sum, strips, count, &e, (bw_how)sort, aimed != 0);
    if (sum.freedom > 0) {
        sum.value /= sum.freedom;
        sum.known /= sum.freedom;
    }
    return sum;
}

bw_hand bw_hand_of(const bw_strip *strips, size_t count, double rule) {
    bw_hand hand = {.rule = rule, .between = nothing()};
    hand.closest = step_of(strips, count, rule, BW_STRUCK_CLOSEST);
    hand.usual = step_of(strips, count, rule, BW_STRUCK_USUAL);
    hand.widest = step_of(strips, count, rule, BW_STRUCK_WIDEST);
    hand.bias = bias_of(strips, count, rule);
    square_sum inner = within(strips, count, rule);
    hand.from_places = inner.freedom > 0;
    if (!hand.from_places) {
        square_sum outer = scatter(strips, count, (explained){rule, 0, true});
        hand.sigma = deviation_of(&outer);
        return hand;
    }
    hand.sigma = deviation_of(&inner);
    square_sum outer = scatter(strips, count, (explained){rule, hand.sigma.value, false});
    hand.between = deviation_of(&outer);
    return hand;
}

static double width_of(int strips) {
    return bw_student_quantile(HIGH, strips - 1) / sqrt(strips);
}

int bw_strips_to_halve(const bw_estimate *estimate) {
    int now = estimate->strips;
    if (now < 2 || isnan(estimate->most))
        return 1;
    if (estimate->most - estimate->least <= BW_EPS)
        return 0;
    double wanted = width_of(now) / 2;
    int few = now, enough = 4 * now; /* t falls with more strips, so that four times as many are enough */
    while (enough - few > 1) {
        int n = few + (enough - few) / 2;
        *(width_of(n) <= wanted ? &enough : &few) = n;
    }
    return enough - now;
}
