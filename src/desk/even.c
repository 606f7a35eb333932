/* even.c - the whole-piece search on an open layout: kept until the layout changes, gone on with in parts, its answers
 * as lists of edits. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "desk/inner.h"
#include "desk/tools.h"

void desk_even_drop(desk *d) {
    bw_even_destroy(d->even);
    d->even = NULL;
}

void desk_even_wish(const desk *d, bw_even_wish *wish) {
    const shop_project *project = desk_kept(d);
    bw_even_wish_init(wish);
    if (project->units == SHOP_INCH) {
        wish->within = BW_MM_PER_INCH / 8;
    }
    wish->within = fmin(wish->within, BW_EVEN_STEPS_MOST * project->layout.grid);
}

bool desk_even_begin(desk *d, const bw_even_wish *wish, shop_problems *problems) {
    desk_even_drop(d);
    bw_status status = bw_even_create(&desk_kept(d)->layout, wish, &desk_memory, &d->even);
    if (status == BW_NO_MEMORY) {
        desk_no_memory(problems);
    } else if (status != BW_OK) {
        desk_refuse(problems, "these bounds cannot be searched");
    }
    return status == BW_OK;
}

bool desk_even_begun(const desk *d) {
    return d->even != NULL;
}

bool desk_even_more(desk *d, size_t trials) {
    return d->even != NULL && bw_even_step(d->even, trials) == BW_OK && !bw_even_result(d->even).done;
}

bw_even_found desk_even_found(const desk *d) {
    return d->even != NULL ? bw_even_result(d->even) : (bw_even_found){.done = true};
}

/* ---- an answer as edits ---- */

/* Of the layout without a trial. The texts belong to the list. */
static bool answer_edits(desk *d, const bw_even_answer *answer, desk_edits *list) {
    shop_project *shown = d->project;
    d->project = d->kept_project != NULL ? d->kept_project : d->project;
    for (size_t i = 0; i < answer->change_count && !list->failed; i++) {
        desk_edits more = desk_change_edits(d, &answer->changes[i]);
        for (size_t k = 0; k < more.count; k++) {
            desk_edits_add(list, more.edits[k].path, more.edits[k].new_text, more.edits[k].new_text == NULL);
            more.edits[k].path = more.edits[k].new_text = NULL; /* the list's now */
        }
        list->failed = list->failed || more.failed;
        desk_edits_release(&more);
    }
    d->project = shown;
    return !list->failed;
}

bool desk_even_edits(desk *d, size_t answer, desk_edits *list) {
    bw_even_found found = desk_even_found(d);
    *list = (desk_edits){.count = 0};
    return answer < found.count && answer_edits(d, &found.answers[answer], list);
}

char *desk_even_change_words(desk *d, const bw_even_answer *answer, size_t change) {
    shop_project *shown = d->project;
    d->project = d->kept_project != NULL ? d->kept_project : d->project;
    desk_edits list = desk_change_edits(d, &answer->changes[change]);
    char *words = list.failed || list.count == 0 ? NULL : desk_change_words(d, &answer->changes[change], &list);
    desk_edits_release(&list);
    d->project = shown;
    return words;
}

/* "weave width 18 mm -> 18.25 mm, diameter 120 mm -> 119.5 mm": the title of the step. */
char *desk_even_words(desk *d, size_t answer) {
    bw_even_found found = desk_even_found(d);
    char *all = desk_say("%s", "");
    for (size_t i = 0; answer < found.count && i < found.answers[answer].change_count && all != NULL; i++) {
        char *one = desk_even_change_words(d, &found.answers[answer], i);
        char *more = one == NULL ? NULL : desk_say("%s%s%s", all, i > 0 ? ", " : "", one);
        free(all);
        free(one);
        all = more;
    }
    return all;
}

bool desk_even_try(desk *d, size_t answer, shop_problems *problems) {
    desk_edits list;
    char *title = desk_even_words(d, answer);
    bool fine = desk_even_edits(d, answer, &list) && title != NULL;
    if (!fine) {
        desk_no_memory(problems);
    } else if (list.count == 0) { /* well as it is: nothing to try */
        desk_try_leave(d);
    } else {
        fine = desk_try(d, list.edits, list.count, title, problems);
    }
    desk_edits_release(&list);
    free(title);
    return fine;
}
