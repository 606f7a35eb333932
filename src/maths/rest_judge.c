/* Whether the rows keyed to some steps of a run work, and without which of them they would. */
#include <math.h>

#include "maths/rest.h"

/* Rows to be left out on each side until every line left holds; -1 if the guide's own does not. Lines are in order from
 * the edge inward, and line 0 is the guide's. */
static void rows_to_leave(const maths_worked_run *run, const maths_feelings *f, bw_rest_count *out) {
    const maths_task *task = &run->task;
    int outer = 0, inner = 0, before = 0;
    for (size_t i = 0; i < task->line_count; i++) {
        const maths_line *line = &task->lines[i];
        maths_margins m = maths_judge(task->run, task->lay, line, 1, &f->felt[i], f->feet, f->heads, task->flat,
                                      run->convex, run->concave);
        bool holds = m.reach >= -BW_EPS && m.crowd >= -BW_EPS;
        before += line->number < 0;
        if (!holds && line->number == 0) {
            out->leave_outer = out->leave_inner = -1;
            return;
        }
        if (!holds && line->number < 0)
            outer = before;
        if (!holds && line->number > 0 && inner == 0)
            inner = (int)(task->line_count - i);
    }
    out->leave_outer = outer;
    out->leave_inner = inner;
}

bool maths_feelings_init(maths_feelings *feelings, const maths_task *task, maths_arena *arena) {
    *feelings = (maths_feelings){maths_take(arena, task->line_count, sizeof(maths_felt)), -INFINITY, -INFINITY};
    return feelings->felt != NULL;
}

void maths_rest_judge(const maths_worked_run *run, const maths_feelings *f, bw_rest_count *out) {
    const maths_task *task = &run->task;
    maths_margins m = maths_judge(task->run, task->lay, task->lines, task->line_count, f->felt, f->feet, f->heads,
                                  task->flat, run->convex, run->concave);
    out->reach = m.reach;
    out->crowd = m.crowd;
    out->bend = m.bend;
    out->works = m.reach >= -BW_EPS && m.crowd >= -BW_EPS;
    if (task->line_count > 0) {
        const maths_felt *reach = &f->felt[m.reach_line], *crowd = &f->felt[m.crowd_line];
        out->reach_line = task->lines[m.reach_line].number;
        out->crowd_line = task->lines[m.crowd_line].number;
        out->reach_mm = reach->any ? task->lay->most - reach->step_most : 0;
        out->crowd_mm = crowd->any ? crowd->step_least - task->lay->least : 0;
    }
    if (!out->works)
        rows_to_leave(run, f, out);
}
