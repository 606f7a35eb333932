/* second.c - a second layout, held beside the one in hand. */
#include <stdlib.h>
#include <string.h>

#include "desk/inner.h"

bool desk_holding(const desk *d) {
    return d->second.bytes != NULL;
}

void desk_second_anew(desk *d) {
    desk_second_forget(d);
    bw_plan_destroy(d->second.plan);
    shop_project_free(d->second.project);
    d->second.plan = NULL;
    d->second.project = NULL;
    d->second.trouble[0] = '\0';
}

void desk_second_free(desk *d) {
    desk_second_anew(d);
    free(d->second.bytes);
    d->second.bytes = NULL;
    d->second.length = 0;
}

/* A kept text of the length 0 is still a text. */
static char *copy_text(const desk *d, size_t *length) {
    const char *bytes = desk_bytes(d, length);
    return shop_copy(bytes, *length);
}

bool desk_hold(desk *d, shop_problems *problems) {
    desk_try_leave(d);
    if (desk_holding(d)) {
        shop_problem_add(problems, false, 0, 0, "another layout is held already");
        return false;
    }
    size_t length;
    char *copy = copy_text(d, &length);
    if (copy == NULL) {
        desk_no_memory(problems);
        return false;
    }
    d->second.bytes = copy;
    d->second.length = length;
    desk_journal_note_second(d, NULL);
    return true;
}

void desk_second_swap(desk *d, desk_step *step) {
    if (!step->moves_second) {
        return;
    }
    desk_second_anew(d);
    char *bytes = d->second.bytes;
    size_t length = d->second.length;
    d->second.bytes = step->second;
    d->second.length = step->second_length;
    step->second = bytes;
    step->second_length = length;
    desk_journal_note_second(d, step);
}

/* "weave width 18 mm -> 17.5 mm and 2 more", from the layout in hand to the held one. */
static char *title_of(desk *d, const char *what) {
    size_t count;
    const desk_difference *list = desk_differences(d, &count);
    if (count == 0) {
        return desk_say("%s", what);
    }
    char more[40] = "";
    if (count > 1) {
        snprintf(more, sizeof more, " and %zu more", count - 1);
    }
    return desk_say("%s: %.60s %.60s -> %.60s%s", what, list[0].label, list[0].here, list[0].held, more);
}

/* One step to `bytes`, after which `then` (taken; may be NULL) is held. */
static bool step_with_second(desk *d, const char *bytes, size_t length, char *then, size_t then_length, char *title,
                             bool flips, shop_problems *problems) {
    if (!desk_step_add(d, bytes, length, title, problems)) {
        free(then);
        return false;
    }
    desk_step *step = &d->steps[d->done - 1];
    step->moves_second = true;
    step->flips = flips;
    step->second = then;
    step->second_length = then_length;
    desk_second_swap(d, step);
    return true;
}

static bool nothing_held(const desk *d, shop_problems *problems) {
    if (!desk_holding(d)) {
        shop_problem_add(problems, false, 0, 0, "no other layout is held");
    }
    return !desk_holding(d);
}

/* The step done last is a flip: another one only takes it back, so that steps do not pile up. */
static bool has_just_flipped(const desk *d) {
    const desk_step *last = d->done > 0 ? &d->steps[d->done - 1] : NULL;
    return last != NULL && last->flips;
}

bool desk_flip(desk *d, shop_problems *problems) {
    desk_try_leave(d);
    if (nothing_held(d, problems)) {
        return false;
    }
    if (has_just_flipped(d)) {
        bool fine = desk_undo(d, NULL);
        if (!fine) {
            desk_no_memory(problems);
        }
        return fine;
    }
    size_t length;
    char *now = copy_text(d, &length), *title = title_of(d, "the other layout");
    if (now == NULL || title == NULL) {
        free(now);
        free(title);
        desk_no_memory(problems);
        return false;
    }
    return step_with_second(d, d->second.bytes, d->second.length, now, length, title, true, problems);
}

bool desk_keep_held(desk *d, shop_problems *problems) {
    desk_try_leave(d);
    return !nothing_held(d, problems) && step_with_second(d, d->second.bytes, d->second.length, NULL, 0,
                                                          title_of(d, "the held layout kept"), false, problems);
}

bool desk_drop_held(desk *d, shop_problems *problems) {
    desk_try_leave(d);
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    return !nothing_held(d, problems) &&
           step_with_second(d, bytes, length, NULL, 0, desk_say("the held layout dropped"), false, problems);
}

/* ---- what is made of it ---- */

const shop_project *desk_held_project(desk *d) {
    shop_problems why;
    if (d->second.project == NULL && desk_holding(d) && d->second.trouble[0] == '\0') {
        shop_problems_init(&why, "");
        if (!desk_compute(d, d->second.bytes, d->second.length, &d->second.project, &d->second.plan, &why, false)) {
            snprintf(d->second.trouble, sizeof d->second.trouble, "%.190s",
                     why.count > 0 ? why.list[0].text : "out of memory");
        }
        shop_problems_free(&why);
    }
    return d->second.project;
}

const char *desk_held_trouble(desk *d) {
    return desk_held_project(d) == NULL && desk_holding(d) ? d->second.trouble : NULL;
}

const bw_plan *desk_held_plan(desk *d) {
    return desk_held_project(d) != NULL ? d->second.plan : NULL;
}
