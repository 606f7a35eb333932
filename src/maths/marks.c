/* Dividing a round: chords, and the places that are marked before striking. */
#include "bandwright/marks.h"

#include <math.h>

#include "maths/rest.h"

double bw_chord(double diameter, int steps, int count) {
    return diameter * sin(BW_PI * steps / count);
}

int bw_mark_at(int count, int marks, int i) {
    return (int)floor((double)i * count / marks + 0.5);
}

int bw_run_steps(const bw_run_plan *run) {
    return run->closed || run->count == 0 ? run->count : run->count - 1;
}

bw_check_mark maths_mark_at(const maths_worked *work, const maths_run *run, double x) {
    if (run->closed) {
        x = fmod(x, run->length);
        x = run->length - x <= BW_EPS ? 0 : x;
    }
    bw_check_mark mark = {.on_guide = run->from + x};
    mark.at = maths_loop_at(work->guide.curve, run->loop, mark.on_guide).at;
    return mark;
}

static void put_marks(const maths_worked *work, size_t r, int marks, const double *places, bw_check_mark *list) {
    const maths_run *run = &work->guide.runs[r];
    int steps = run->closed ? work->runs[r].spread.count : work->runs[r].spread.count - 1;
    bw_check_mark before = maths_mark_at(work, run, places[0]);
    for (int i = 1; i <= marks + 1; i++) {
        int after = bw_mark_at(steps, marks + 1, i);
        double along = after == steps && run->closed ? run->length : places[after] - places[0];
        bw_check_mark mark = maths_mark_at(work, run, places[0] + along);
        mark.after = after;
        mark.along = along < 0 ? along + run->length : along;
        mark.across = hypot(mark.at.x - before.at.x, mark.at.y - before.at.y);
        list[i - 1] = before = mark;
    }
}

bw_status bw_check_marks(const bw_plan *plan, size_t band, size_t run, int marks, const bw_allocator *allocator,
                         bw_check_mark *list) {
    if (band >= plan->band_count || run >= plan->bands[band].run_count || marks < 0 ||
        bw_run_steps(&plan->bands[band].runs[run]) <= marks)
        return BW_BAD_VALUE;
    const maths_worked *work = &maths_plan_kept(plan, band)->work;
    const maths_worked_run *worked = &work->runs[run];
    bw_allocator a = maths_allocator(allocator);
    double *places = maths_alloc(&a, (size_t)worked->spread.count, sizeof *places);
    if (places == NULL)
        return BW_NO_MEMORY;
    maths_places(&worked->spread, &worked->task, places);
    put_marks(work, run, marks, places, list);
    maths_release(&a, places);
    return BW_OK;
}
