/* Walking along a run with a step: both ends of the step pass from piece to piece, and between two such events
 * everything is linear. On a closed run the pieces are counted on, trip after trip. */
#include <math.h>

#include "maths/run.h"

typedef struct foot {
    size_t piece;
    double x;          /* counted on over trips, as what follows */
    double begin, end; /* of the piece */
    double trip;       /* where this trip began */
    double turned;     /* on the trips before */
} foot;

static inline double lesser(double a, double b) { /* fmin asks after NAN, which no place is */
    return a < b ? a : b;
}

static inline double no_less(double a, double least) {
    return a > least ? a : least;
}

static void set_piece(const maths_run *run, foot *f, size_t piece) {
    f->piece = piece;
    f->begin = f->trip + run->at[piece];
    f->end = f->trip + run->at[piece + 1];
}

static void next_piece(const maths_run *run, foot *f) {
    if (f->piece + 1 < run->count) {
        set_piece(run, f, f->piece + 1);
        return;
    }
    f->trip += run->length;
    f->turned += run->total;
    set_piece(run, f, 0);
}

static inline double pace_on(const maths_run *run, const maths_pace *pace, const foot *f) {
    return pace->straight > 0 && run->curvature[f->piece] == 0 ? pace->straight : pace->step;
}

static inline double direction_at(const maths_run *run, const foot *f) {
    return run->turn[f->piece] + f->turned + run->curvature[f->piece] * (f->x - f->begin);
}

/* Puts a foot on the piece that holds x; at a joint on the later one, or with `before` on the earlier one. */
static foot foot_at(const maths_run *run, double x, bool before) {
    double trips = run->closed ? floor(x / run->length) : 0;
    foot f = {.x = x, .trip = trips * run->length, .turned = trips * run->total};
    double rest = x - f.trip;
    size_t low = 0, high = run->count;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        double begin = run->at[middle] + (before ? BW_EPS : -BW_EPS);
        if (before ? rest > begin : rest >= begin)
            low = middle;
        else
            high = middle;
    }
    set_piece(run, &f, low);
    if (before && x <= f.begin + BW_EPS && (low > 0 || trips > 0)) {
        if (low == 0) {
            f.trip -= run->length;
            f.turned -= run->total;
        }
        set_piece(run, &f, low > 0 ? low - 1 : run->count - 1);
    } else if (!before && run->closed && x >= f.end - BW_EPS)
        next_piece(run, &f);
    return f;
}

/* Moves a foot by one step of the pace, piece by piece. */
static foot step_from(const maths_run *run, const maths_pace *pace, const foot *begin) {
    foot end = *begin;
    if (pace->straight <= 0) {
        end = foot_at(run, begin->x + pace->step, true);
        if (end.begin < begin->begin) {
            double x = end.x;
            end = *begin;
            end.x = x;
        }
        return end;
    }
    double left = 1; /* share of the step still to go */
    for (;;) {
        double here = pace_on(run, pace, &end);
        double room = end.end - end.x;
        bool last = !run->closed && end.piece + 1 == run->count;
        if (room >= left * here - BW_EPS || last) {
            end.x += left * here;
            return end;
        }
        left -= no_less(room, 0) / here;
        end.x = end.end;
        next_piece(run, &end);
    }
}

double maths_step_end(const maths_run *run, const maths_pace *pace, double x) {
    foot begin = foot_at(run, x, false);
    return step_from(run, pace, &begin).x;
}

static inline void look(const maths_run *run, const maths_pace *pace, const foot *begin, const foot *end,
                        maths_span *span, int side) {
    span->step[side] = pace->straight > 0 ? end->x - begin->x : pace->step;
    span->turn[side] = direction_at(run, end) - direction_at(run, begin);
}

/* Of a foot's way, how much belongs to each unit of the step's: where steps are the same everywhere the unit is a mm.
 */
static inline double unit_on(const maths_run *run, const maths_pace *pace, const foot *f, bool even) {
    return even ? 1 : pace_on(run, pace, f);
}

/* How much further until one of the feet reaches the end of its piece. */
static inline double units_left(const maths_run *run, const maths_pace *pace, const foot *begin, const foot *end,
                                bool even) {
    return lesser(no_less(begin->end - begin->x, 0) / unit_on(run, pace, begin, even),
                  no_less(end->end - end->x, 0) / unit_on(run, pace, end, even));
}

static inline void move_on(const maths_run *run, const maths_pace *pace, double units, foot *begin, foot *end,
                           bool even) {
    double here = unit_on(run, pace, begin, even), room = no_less(begin->end - begin->x, 0);
    begin->x += units * here;
    end->x += units * unit_on(run, pace, end, even);
    if (room <= units * here + BW_EPS)
        begin->x = begin->end;
    if (even)
        end->x = begin->x + pace->step;
}

maths_span maths_span_from(const maths_run *run, const maths_pace *pace, double x) {
    bool even = pace->straight <= 0;
    foot begin = foot_at(run, x, false);
    foot end = step_from(run, pace, &begin);
    maths_span span = {.from = x};
    look(run, pace, &begin, &end, &span, 0);
    move_on(run, pace, units_left(run, pace, &begin, &end, even), &begin, &end, even);
    look(run, pace, &begin, &end, &span, 1);
    span.until = begin.x;
    return span;
}

/* even: steps are the same everywhere. Trials walk thousands of times, so this is compiled for each of its uses. */
__attribute__((always_inline)) static inline void walk(const maths_run *run, const maths_pace *pace, maths_visit *visit,
                                                       void *context, bool even) {
    double from = pace->round ? 0 : pace->from;
    foot begin = foot_at(run, from, false);
    foot end = step_from(run, pace, &begin);
    if (!pace->round && end.x > pace->until + BW_EPS)
        return;
    for (;;) {
        /* The walk may end before a foot reaches the end of its piece. */
        double here = unit_on(run, pace, &begin, even), there = unit_on(run, pace, &end, even);
        double begin_room = no_less(begin.end - begin.x, 0), end_room = no_less(end.end - end.x, 0);
        double left = pace->round ? from + run->length - begin.x : pace->until - end.x;
        double left_unit = pace->round ? here : there;
        double units = lesser(units_left(run, pace, &begin, &end, even), no_less(left, 0) / left_unit);
        maths_span span = {.from = begin.x};
        look(run, pace, &begin, &end, &span, 0);
        bool tie = fabs(begin_room / here - end_room / there) * lesser(here, there) <= BW_EPS;
        bool done = left <= units * left_unit + BW_EPS;
        bool begin_next = begin_room <= units * here + BW_EPS;
        move_on(run, pace, units, &begin, &end, even);
        look(run, pace, &begin, &end, &span, 1);
        span.until = begin.x;
        visit(context, &span);
        if (done)
            return;
        /* At a tie the beginning moves on first: a corner at an end of the step does not count. */
        if (begin_next || tie) {
            begin.x = begin.end;
            next_piece(run, &begin);
        } else {
            next_piece(run, &end);
            if (!even)
                end.x = end.begin;
        }
    }
}

void maths_walk(const maths_run *run, const maths_pace *pace, maths_visit *visit, void *context) {
    double from = pace->round ? 0 : pace->from;
    if (pace->step <= 0) { /* a run exactly as long as its face: all impressions on one spot */
        maths_span spot = {.from = from, .until = from};
        visit(context, &spot);
    } else if (pace->straight > 0)
        walk(run, pace, visit, context, false);
    else
        walk(run, pace, visit, context, true);
}

static inline void widen(void *context, const maths_span *span) {
    maths_range *range = context;
    double low = lesser(span->turn[0], span->turn[1]), high = no_less(span->turn[0], span->turn[1]);
    range->least = lesser(range->least, low);
    range->most = no_less(range->most, high);
}

maths_range maths_turn_range(const maths_run *run, double u, double from, double until) {
    maths_range range = {.least = INFINITY, .most = -INFINITY};
    maths_pace pace = {.step = u, .round = run->closed, .from = from, .until = until};
    if (u > 0)
        walk(run, &pace, widen, &range, true);
    else
        maths_walk(run, &pace, widen, &range);
    range.any = range.least <= range.most;
    return range.any ? range : (maths_range){0};
}
