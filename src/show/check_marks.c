/* How many check marks a run is given, and where they lie: the same wherever they are told, drawn or counted. */
#include "show/check_marks.h"

#include <math.h>
#include <stdlib.h>

#include "show/chance_words.h"

/* Quarters, where nothing says how many it takes or fewer would do: common practice. On an open run marks nearer to
 * each other than so many steps help nobody. */
enum { QUARTERS = 3, STEPS_LEAST = 3 };

int show_check_marks(const shop_project *project, const bw_plan *plan, size_t band, size_t run) {
    at_bench a = band_at(project, plan, band);
    bw_drift drift;
    bw_hand hand;
    if (run >= a.made->run_count || a.made->fill == BW_FILL_PLAIN)
        return 0;
    int steps = bw_run_steps(&a.made->runs[run]), least = (QUARTERS + 1) * (a.made->runs[run].closed ? 1 : STEPS_LEAST);
    int quarters = steps >= least ? QUARTERS : 0, takes = 0;
    if (chance_of(&a, run, &drift, &hand) == CHANCE_TOLD)
        takes = bw_marks_needed(&drift, CHANCE_WANTED, false);
    return takes > quarters ? takes : quarters;
}

static bw_check_mark *list_of(const bw_plan *plan, size_t band, size_t run, int marks) {
    bw_check_mark *list = malloc(((size_t)marks + 1) * sizeof *list);
    if (list == NULL || bw_check_marks(plan, band, run, marks, NULL, list) == BW_OK)
        return list;
    free(list);
    return NULL;
}

bw_check_mark *show_check_mark_list(const shop_project *project, const bw_plan *plan, size_t band, size_t run,
                                    int *marks) {
    *marks = show_check_marks(project, plan, band, run);
    return *marks > 0 ? list_of(plan, band, run, *marks) : NULL;
}

static bool alike(const bw_check_mark *one, const bw_check_mark *other, int marks) {
    for (int i = 0; i <= marks; i++)
        if (fabs(one[i].along - other[i].along) > SHOW_NOTHING || fabs(one[i].across - other[i].across) > SHOW_NOTHING)
            return false;
    return true;
}

bw_check_mark *check_marks_next(const at_bench *a, size_t r, const bw_check_mark *list, int marks, size_t *at) {
    while (++*at < a->made->run_count) {
        if (!band_runs_alike(&a->made->runs[r], &a->made->runs[*at]))
            continue;
        bw_check_mark *other = list_of(a->plan, a->index, *at, marks);
        if (other == NULL || !alike(list, other, marks))
            return other;
        free(other);
    }
    return NULL;
}

const char *check_marks_begun(const at_bench *a, size_t r, show_words *out) {
    const shop_band *about = &a->project->band_about[a->index];
    show_start(out);
    for (size_t i = 0; i < about->struck_count && out->text[0] == '\0'; i++) {
        const shop_struck *one = &about->struck[i];
        size_t run = one->run > 0 ? (size_t)one->run - 1 : 0;
        if (one->row != 0 || one->done || one->from < 1 || run < r || run >= a->made->run_count ||
            !band_runs_alike(&a->made->runs[r], &a->made->runs[run]))
            continue;
        show_say(out,
                 "A round is begun, %d struck, and what was left of it was measured: these check marks are for a new "
                 "round; those of the one that is begun are told while you strike and by rest",
                 one->impressions);
    }
    return out->text;
}
