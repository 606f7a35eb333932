/* Walking along a run with a step: both ends of the step pass from piece to piece, and between two such events
 * everything is linear. On a closed run the pieces are counted on, trip after trip. */
#include <math.h>

#include "maths/run.h"

typedef struct foot {
    size_t piece; /* counted on over trips */
    double x;     /* counted on likewise */
} foot;

static double piece_begin(const maths_run *run, size_t piece) {
    return run->at[piece % run->count] + run->length * (double)(piece / run->count);
}

static double piece_end(const maths_run *run, size_t piece) {
    return run->at[piece % run->count + 1] + run->length * (double)(piece / run->count);
}

static bool straight_piece(const maths_run *run, size_t piece) {
    return run->curvature[piece % run->count] == 0;
}

static double pace_on(const maths_run *run, const maths_pace *pace, size_t piece) {
    return pace->straight > 0 && straight_piece(run, piece) ? pace->straight : pace->step;
}

static double direction_at(const maths_run *run, const foot *f) {
    size_t i = f->piece % run->count;
    return run->turn[i] + run->total * (double)(f->piece / run->count) +
           run->curvature[i] * (f->x - piece_begin(run, f->piece));
}

/* The piece that holds x; at a joint the later one, or with `before` the earlier one. */
static size_t piece_holding(const maths_run *run, double x, bool before) {
    double trips = run->closed ? floor(x / run->length) : 0;
    double rest = x - trips * run->length;
    size_t low = 0, high = run->count;
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        double begin = run->at[middle] + (before ? BW_EPS : -BW_EPS);
        if (before ? rest > begin : rest >= begin)
            low = middle;
        else
            high = middle;
    }
    size_t piece = low + run->count * (size_t)trips;
    if (before && piece > 0 && x <= piece_begin(run, piece) + BW_EPS)
        piece--;
    else if (!before && run->closed && x >= piece_end(run, piece) - BW_EPS)
        piece++;
    return piece;
}

/* Moves a foot by one step of the pace, piece by piece. */
static foot step_from(const maths_run *run, const maths_pace *pace, const foot *begin) {
    foot end = *begin;
    if (pace->straight <= 0) {
        end.x = begin->x + pace->step;
        end.piece = piece_holding(run, end.x, true);
        if (end.piece < begin->piece)
            end.piece = begin->piece;
        return end;
    }
    double left = 1; /* share of the step still to go */
    for (;;) {
        double here = pace_on(run, pace, end.piece);
        double room = piece_end(run, end.piece) - end.x;
        bool last = !run->closed && end.piece + 1 == run->count;
        if (room >= left * here - BW_EPS || last) {
            end.x += left * here;
            return end;
        }
        left -= fmax(room, 0) / here;
        end.x = piece_end(run, end.piece);
        end.piece++;
    }
}

double maths_step_end(const maths_run *run, const maths_pace *pace, double x) {
    foot begin = {piece_holding(run, x, false), x};
    return step_from(run, pace, &begin).x;
}

static void look(const maths_run *run, const maths_pace *pace, const foot *begin, const foot *end, maths_span *span,
                 int side) {
    span->step[side] = pace->straight > 0 ? end->x - begin->x : pace->step;
    span->turn[side] = direction_at(run, end) - direction_at(run, begin);
}

void maths_walk(const maths_run *run, const maths_pace *pace, maths_visit *visit, void *context) {
    double from = pace->round ? 0 : pace->from;
    if (pace->step <= 0) { /* a run exactly as long as its face: all impressions on one spot */
        maths_span spot = {.from = from, .until = from};
        visit(context, &spot);
        return;
    }
    foot begin = {piece_holding(run, from, false), from};
    foot end = step_from(run, pace, &begin);
    if (!pace->round && end.x > pace->until + BW_EPS)
        return;
    for (;;) {
        /* How much further, as a share of a step, until one of the feet reaches the end of its piece or of the walk. */
        double here = pace_on(run, pace, begin.piece), there = pace_on(run, pace, end.piece);
        double begin_room = fmax(piece_end(run, begin.piece) - begin.x, 0);
        double end_room = fmax(piece_end(run, end.piece) - end.x, 0);
        double left = pace->round ? from + run->length - begin.x : pace->until - end.x;
        double left_pace = pace->round ? here : there;
        double share = fmin(fmin(begin_room / here, end_room / there), fmax(left, 0) / left_pace);
        maths_span span = {.from = begin.x};
        look(run, pace, &begin, &end, &span, 0);
        bool tie = fabs(begin_room / here - end_room / there) * fmin(here, there) <= BW_EPS;
        bool done = left <= share * left_pace + BW_EPS;
        bool begin_next = begin_room <= share * here + BW_EPS;
        begin.x += share * here;
        end.x += share * there;
        if (begin_next)
            begin.x = piece_end(run, begin.piece);
        if (pace->straight <= 0)
            end.x = begin.x + pace->step;
        look(run, pace, &begin, &end, &span, 1);
        span.until = begin.x;
        visit(context, &span);
        if (done)
            return;
        /* At a tie the beginning moves on first: a corner at an end of the step does not count. */
        if (begin_next || tie) {
            begin.x = piece_end(run, begin.piece);
            begin.piece++;
        } else {
            end.piece++;
            if (pace->straight > 0)
                end.x = piece_begin(run, end.piece);
        }
    }
}

static void widen(void *context, const maths_span *span) {
    maths_range *range = context;
    for (int side = 0; side < 2; side++) {
        range->least = range->any ? fmin(range->least, span->turn[side]) : span->turn[side];
        range->most = range->any ? fmax(range->most, span->turn[side]) : span->turn[side];
        range->any = true;
    }
}

maths_range maths_turn_range(const maths_run *run, double u, double from, double until) {
    maths_range range = {0};
    maths_pace pace = {.step = u, .round = run->closed, .from = from, .until = until};
    maths_walk(run, &pace, widen, &range);
    return range;
}
