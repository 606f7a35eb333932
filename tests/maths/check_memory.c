/* check_memory.c - memory that runs out: allocation 0, 1, 2 ... fails until all succeed, and nothing leaks. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>

#include "maths/measure.h"
#include "maths/purse.h"
#include "maths/random.h"

Suite *maths_memory_suite(void);

static bw_status plan_once(const void *about, const bw_allocator *allocator) {
    const measured *m = about;
    bw_plan *plan = NULL;
    bw_status status = bw_plan_create(&m->project->layout, allocator, &plan);
    ck_assert((status == BW_OK) == (plan != NULL));
    bw_plan_destroy(plan);
    return status;
}

static bw_status placings_once(const void *about, const bw_allocator *allocator) {
    const measured *m = about;
    bw_placing *placings = NULL;
    size_t count = 0;
    bw_status status = bw_placings_create(m->plan, 0, allocator, &placings, &count);
    if (status == BW_OK) {
        bw_placings_release(placings, allocator);
    }
    return status;
}

/* What a plan keeps when it is first asked for. */
static bw_status kept_once(const void *about, const bw_allocator *allocator) {
    const measured *m = about;
    bw_plan *plan = NULL;
    bw_status status = bw_plan_create(&m->project->layout, allocator, &plan);
    if (status == BW_OK && (plan->bands[0].fill != BW_FILL_PLAIN && bw_plan_profile(plan, 0) == NULL)) {
        status = BW_NO_MEMORY;
    }
    if (status == BW_OK && bw_plan_would(&m->project->layout, plan, 0) == NULL) {
        status = BW_NO_MEMORY;
    }
    bw_plan_destroy(plan);
    return status;
}

static bw_status guide_once(const void *about, const bw_allocator *allocator) {
    const measured *m = about;
    bw_curve *guide = NULL;
    bw_status status = bw_guide_create(m->plan, 0, allocator, &guide);
    bw_curve_destroy(guide);
    return status;
}

static bw_status rank_once(const void *about, const bw_allocator *allocator) {
    const measured *m = about;
    bw_rank *ranks = NULL;
    size_t count = 0;
    bw_status status = bw_rank_tools(&m->project->layout, 0, allocator, &ranks, &count);
    if (status == BW_OK) {
        bw_ranks_release(ranks, allocator);
    }
    return status;
}

static bw_status moves_once(const void *about, const bw_allocator *allocator) {
    const measured *m = about;
    bw_move *moves = NULL;
    size_t count = 0;
    bw_status status = bw_moves_create(&m->project->layout, m->plan, 0, allocator, &moves, &count);
    if (status == BW_OK) {
        bw_moves_release(moves, allocator);
    }
    return status;
}

START_TEST(memory_runs_out) {
    for (unsigned seed = 0; seed < 6; seed++) {
        char *text = random_project(seed), what[60];
        measured m;
        snprintf(what, sizeof what, "random layout %u", seed);
        ck_assert(measured_open(&m, text, what));
        free(text);
        purse_run_out(&m, plan_once, 1, "plan");
        purse_run_out(&m, placings_once, 1, "placings");
        purse_run_out(&m, kept_once, 1, "what is kept");
        purse_run_out(&m, guide_once, 1, "guide");
        purse_run_out(&m, rank_once, 1, "rank");
        purse_run_out(&m, moves_once, 97, "moves");
        measured_close(&m);
    }
}
END_TEST

Suite *maths_memory_suite(void) {
    Suite *suite = suite_create("maths/memory");
    TCase *tests = tcase_create("memory");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, memory_runs_out);
    suite_add_tcase(suite, tests);
    return suite;
}
