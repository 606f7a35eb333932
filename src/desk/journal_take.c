/* journal_take.c - what a journal holds, done again: to the byte where its file is as it was, else value by value. */
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "desk/journal_keep.h"
#include "desk/tools.h"

#define ENDING_KEPT ".kept"

/* ---- to the byte ---- */

static bool copy_step(desk_step *to, const desk_step *from) {
    *to = *from;
    to->title = shop_copy(from->title, strlen(from->title));
    to->before = shop_copy(from->before, from->before_length);
    to->after = shop_copy(from->after, from->after_length);
    to->second = from->second == NULL ? NULL : shop_copy(from->second, from->second_length);
    return to->title != NULL && to->before != NULL && to->after != NULL && (to->second != NULL || from->second == NULL);
}

/* All steps, those that were taken back too, behind what could be undone before; NULL without memory. */
static desk_step *join_steps(const desk *d, const desk_left *left) {
    size_t all = d->done + left->step_count, made = 0;
    desk_step *steps = shop_alloc((all + 1) * sizeof *steps);
    bool fine = steps != NULL;
    for (; fine && made < left->step_count; made++) {
        fine = copy_step(&steps[d->done + made], &left->records[left->order[made]].step);
    }
    if (!fine) {
        for (size_t i = 0; steps != NULL && i < made; i++) {
            desk_step_free(&steps[d->done + i]);
        }
        free(steps);
        return NULL;
    }
    if (d->done > 0) {
        memcpy(steps, d->steps, d->done * sizeof *steps);
    }
    return steps;
}

/* The journal goes on where it was left; what was changed before that is in none, so that such a layout begins another.
 */
static void adopt(desk *d, desk_left *left) {
    desk_journal *j = d->journal;
    if (j == NULL || (d->saved != NULL && desk_unsaved(d)) || ftruncate(left->descriptor, (off_t)left->good) != 0) {
        return;
    }
    desk_journal_drop(d);
    j->name = left->name;
    j->descriptor = left->descriptor;
    j->good = left->good;
    left->name = NULL;
    left->descriptor = -1;
}

/* The layout that was held is held again, whether it can be read as things are or not. */
static void take_held(desk *d, desk_left *left) {
    if (left->held != NULL && !desk_holding(d)) {
        d->second.bytes = left->held;
        d->second.length = left->held_length;
        left->held = NULL;
    }
}

static bool take_exactly(desk *d, desk_left *left, shop_problems *problems) {
    shop_project *project = NULL;
    bw_plan *plan = NULL;
    if (!desk_compute(d, left->text, left->length, &project, &plan, problems, false)) {
        return false;
    }
    desk_step *steps = join_steps(d, left);
    if (steps == NULL) {
        desk_no_memory(problems);
        bw_plan_destroy(plan);
        shop_project_free(project);
        return false;
    }
    for (size_t i = d->done; i < d->step_count; i++) {
        desk_step_free(&d->steps[i]);
    }
    free(d->steps);
    d->steps = steps;
    d->step_room = d->done + left->step_count + 1;
    d->step_count = d->done + left->step_count;
    d->done += left->done;
    take_held(d, left);
    adopt(d, left);
    desk_put_in_place(d, project, plan);
    if (left->name != NULL) {
        desk_journal_renew(d);
    }
    return true;
}

/* ---- value by value ---- */

static bool same_or_none(const char *a, const char *b) {
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

/* Where somebody else has given a value another text, the maker's old one must not come over it unasked. Each value is
 * looked at as the changes before it leave it; what cannot be changed at all is told by changing it. */
static bool still_applies(const desk *d, const journal_record *record, shop_problems *problems) {
    char *bytes = NULL;
    size_t length = 0;
    bool fine = record->edit_count > 0;
    shop_edit *now = fine ? desk_edits_copy(record->edits, record->edit_count) : NULL;
    if (now != NULL && desk_apply(d, now, record->edit_count, &bytes, &length, NULL)) {
        for (size_t i = 0; fine && i < record->edit_count; i++) {
            const shop_edit *was = &record->edits[i];
            bool added = was->old_text == NULL && was->path[strlen(was->path) - 1] == ']';
            fine = added || same_or_none(now[i].old_text, was->old_text);
            if (!fine) {
                shop_problem_add(problems, false, 0, 0, "%s is %s now", was->path,
                                 now[i].old_text != NULL ? now[i].old_text : "not given");
            }
        }
    }
    free(bytes);
    desk_edits_free(now, now == NULL ? 0 : record->edit_count);
    return fine;
}

static void tell_unfit(const journal_record *record, const shop_problems *why, shop_problems *problems) {
    const char *reason = "it was a change of comments or spelling";
    for (size_t i = why->count; i > 0; i--) {
        reason = !why->list[i - 1].note ? why->list[i - 1].text : reason; /* the first, after the loop */
    }
    shop_problem_add(problems, true, 0, 0, "%s: %s", record->step.title, reason);
}

/* How many did not fit. */
static size_t take_values(desk *d, const desk_left *left, shop_problems *problems) {
    size_t unfit = 0;
    for (size_t i = 0; i < left->done; i++) {
        const journal_record *record = &left->records[left->order[i]];
        shop_problems own;
        shop_problems_init(&own, "");
        if (!still_applies(d, record, &own) ||
            !desk_edit_many(d, record->edits, record->edit_count, record->step.title, &own)) {
            tell_unfit(record, &own, problems);
            unfit++;
        }
        shop_problems_free(&own);
    }
    return unfit;
}

/* Another name, under which it is offered to nobody any more. */
static char *put_aside(const desk_left *left) {
    for (int i = 1; i < 1000; i++) {
        char *name = desk_say("%s%s%d", left->name, ENDING_KEPT, i);
        if (name != NULL && access(name, F_OK) == 0) {
            free(name);
            continue;
        }
        if (name != NULL && rename(left->name, name) == 0) {
            return name;
        }
        free(name);
        break;
    }
    return shop_copy(left->name, strlen(left->name));
}

/* What was not on the disk, and now there is another one, or what is not there any more: the whole text as one step. */
static bool take_whole(desk *d, const desk_left *left, shop_problems *problems) {
    const char *last = desk_last(d);
    bool fine =
        desk_change(d, left->text, left->length,
                    desk_say("the %s as the journal has it", d->is_inventory ? "inventory" : "piece"), problems);
    if (fine && d->saved != NULL && left->head.is_new && desk_last(d) != last) { /* a file came to be since */
        d->steps[d->done - 1].theirs = -1;
        d->over_theirs = true;
    }
    return fine;
}

bool desk_left_take(desk *d, desk_left *left, shop_problems *problems, char **kept) {
    desk_try_leave(d);
    *kept = NULL;
    size_t unfit = 0;
    bool fine = true;
    if (!desk_left_differs(left, d) && !left->damaged) {
        fine = take_exactly(d, left, problems);
    } else if ((left->head.is_new && !d->is_inventory) || d->saved == NULL || !desk_left_differs(left, d)) {
        fine = take_whole(d, left, problems);
    } else {
        unfit = take_values(d, left, problems);
    }
    if (!fine) {
        desk_left_close(left);
        return false;
    }
    if (left->held != NULL && !desk_holding(d)) {
        take_held(d, left);
        desk_journal_note_second(d, NULL);
    } else if (left->held != NULL) {
        shop_problem_add(problems, true, 0, 0, "the layout that was held: another one is held already");
        unfit++;
    }
    if (left->name != NULL && (unfit > 0 || left->damaged)) {
        desk_journal_sync(d);
        *kept = put_aside(left);
    } else if (left->name != NULL && desk_journal_trouble(d) == NULL) {
        desk_journal_sync(d); /* the new journal is on the disk before the old one goes */
        unlink(left->name);
    }
    desk_left_close(left);
    return true;
}
