/* Every impression of a band, where the stamp is set down and how it is turned. */
#include <math.h>

#include "maths/kept.h"

typedef struct output {
    bw_placing *list;
    size_t count;
} output;

/* Place x of a run, moved on by a share of the step that follows. */
static double moved_place(const maths_worked_run *run, const double *places, int i, double shift) {
    if (shift == 0)
        return places[i];
    double next = i + 1 < run->spread.count ? places[i + 1] : places[0] + run->task.run->length;
    return places[i] + shift * (next - places[i]);
}

/* The end of a closed loop is its beginning. */
static double within_loop(const bw_curve *curve, int loop, double along) {
    const bw_piece *first = &curve->pieces[curve->firsts[loop]], *last = &curve->pieces[curve->firsts[loop + 1] - 1];
    bool at_end = along >= last->start + last->length - BW_EPS;
    return curve->loop_closed[loop] && at_end ? first->start : along;
}

static void place_one(output *out, const maths_worked *work, size_t r, const bw_row_plan *row, double x, int number) {
    const maths_run *run = &work->guide.runs[r];
    if (run->closed) {
        x = fmod(x, run->length);
        if (run->length - x <= BW_EPS)
            x = 0;
    }
    double along = within_loop(work->guide.curve, run->loop, run->from + x);
    bw_spot spot = maths_loop_at(work->guide.curve, run->loop, along);
    double turn = maths_angle(spot.heading + work->lay.slant * work->lay.turn);
    if (turn <= -BW_PI + BW_EPS) /* half a turn is written one way only */
        turn = BW_PI;
    out->list[out->count++] =
        (bw_placing){.row = row->row,
                     .run = (int)r + 1,
                     .number = number,
                     .at = maths_ahead(spot.at, spot.heading + BW_PI / 2, row->from_edge - work->strip.guide),
                     .turn = turn,
                     .along = along,
                     .cover = row->cover};
}

static void place_run(output *out, const maths_worked *work, size_t r, const bw_row_plan *row, const double *places) {
    const maths_worked_run *run = &work->runs[r];
    int count = maths_impressions(&work->lay, row, run->spread.count, run->task.run->closed, maths_shares_end(work, r));
    bool straight = work->lay.fill == BW_FILL_BASKET && !work->lay.angled;
    bool even_row = row->row < 0 ? row->row % 2 != 0 : row->row % 2 == 0;
    for (int k = 0; k < count; k++) {
        int i = straight ? 2 * k + (even_row ? 0 : 1) : k;
        place_one(out, work, r, row, moved_place(run, places, i, row->shift), k + 1);
    }
}

static size_t count_all(const maths_worked *work) {
    size_t count = 0;
    for (size_t i = 0; i < work->rows.count; i++)
        for (size_t r = 0; r < work->guide.run_count; r++)
            count += (size_t)maths_impressions(&work->lay, &work->rows.rows[i], work->runs[r].spread.count,
                                               work->guide.runs[r].closed, maths_shares_end(work, r));
    return count;
}

static bool place_all(output *out, const maths_worked *work, maths_arena *arena) {
    double **places = maths_all_places(work, arena);
    out->list = maths_alloc(&arena->allocator, count_all(work), sizeof *out->list);
    if (places == NULL || out->list == NULL)
        return false;
    for (size_t i = 0; i < work->rows.count; i++)
        for (size_t r = 0; r < work->guide.run_count; r++)
            place_run(out, work, r, &work->rows.rows[i], places[r]);
    return true;
}

bw_status bw_placings_create(const bw_plan *plan, size_t band, const bw_allocator *allocator, bw_placing **placings,
                             size_t *count) {
    maths_arena arena;
    output out = {0};
    *placings = NULL;
    *count = 0;
    if (plan->bands[band].fill == BW_FILL_PLAIN)
        return BW_OK;
    maths_arena_init(&arena, allocator);
    bool made = place_all(&out, &maths_plan_kept(plan, band)->work, &arena);
    if (made) {
        *placings = out.list;
        *count = out.count;
    } else
        maths_release(&arena.allocator, out.list);
    maths_arena_free(&arena);
    return made ? BW_OK : BW_NO_MEMORY;
}

void bw_placings_release(bw_placing *placings, const bw_allocator *allocator) {
    bw_allocator a = maths_allocator(allocator);
    maths_release(&a, placings);
}
