/* check_memory.c - memory that runs out: allocation 0, 1, 2 ... fails until all succeed, and nothing leaks. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>

#include "maths/measure.h"
#include "maths/random.h"

Suite *maths_memory_suite(void);

/* Counts what is out, and fails one request. */
typedef struct purse {
    long asked, fail_at;
    long out; /* blocks not given back */
} purse;

static void *resize(void *context, void *block, size_t size) {
    purse *p = context;
    if (size == 0) {
        p->out -= block != NULL;
        free(block);
        return NULL;
    }
    if (p->asked++ == p->fail_at) {
        return NULL;
    }
    void *grown = realloc(block, size);
    ck_assert_ptr_nonnull(grown);
    p->out += block == NULL;
    return grown;
}

typedef bw_status attempt(const measured *m, const bw_allocator *allocator);

static bw_status plan_once(const measured *m, const bw_allocator *allocator) {
    bw_plan *plan = NULL;
    bw_status status = bw_plan_create(&m->project->layout, allocator, &plan);
    ck_assert((status == BW_OK) == (plan != NULL));
    bw_plan_destroy(plan);
    return status;
}

static bw_status placings_once(const measured *m, const bw_allocator *allocator) {
    bw_placing *placings = NULL;
    size_t count = 0;
    bw_status status = bw_placings_create(&m->project->layout, m->plan, 0, allocator, &placings, &count);
    if (status == BW_OK) {
        bw_placings_release(placings, allocator);
    }
    return status;
}

static bw_status guide_once(const measured *m, const bw_allocator *allocator) {
    bw_curve *guide = NULL;
    bw_status status = bw_guide_create(m->plan, 0, allocator, &guide);
    bw_curve_destroy(guide);
    return status;
}

static bw_status rank_once(const measured *m, const bw_allocator *allocator) {
    bw_rank *ranks = NULL;
    size_t count = 0;
    bw_status status = bw_rank_tools(&m->project->layout, 0, allocator, &ranks, &count);
    if (status == BW_OK) {
        bw_ranks_release(ranks, allocator);
    }
    return status;
}

static bw_status moves_once(const measured *m, const bw_allocator *allocator) {
    bw_move *moves = NULL;
    size_t count = 0;
    bw_status status = bw_moves_create(&m->project->layout, m->plan, 0, allocator, &moves, &count);
    if (status == BW_OK) {
        bw_moves_release(moves, allocator);
    }
    return status;
}

/* `stride` leaves some out where a call asks for memory very often. */
static void run_out(const measured *m, attempt *once, long stride, const char *what) {
    long failed = 0;
    for (long fail_at = 0;; fail_at += stride) {
        purse p = {.fail_at = fail_at};
        bw_allocator allocator = {resize, &p};
        bw_status status = once(m, &allocator);
        ck_assert_msg(p.out == 0, "%s: request %ld refused, %ld blocks not given back", what, fail_at, p.out);
        if (p.asked <= fail_at) {
            ck_assert_msg(status == BW_OK, "%s", what);
            break;
        }
        ck_assert_msg(status == BW_NO_MEMORY, "%s: request %ld refused and not told", what, fail_at);
        failed++;
    }
    ck_assert_msg(failed > 0, "%s asks for no memory", what);
}

START_TEST(memory_runs_out) {
    for (unsigned seed = 0; seed < 6; seed++) {
        char *text = random_project(seed), what[60];
        measured m;
        snprintf(what, sizeof what, "random layout %u", seed);
        ck_assert(measured_open(&m, text, what));
        free(text);
        run_out(&m, plan_once, 1, "plan");
        run_out(&m, placings_once, 1, "placings");
        run_out(&m, guide_once, 1, "guide");
        run_out(&m, rank_once, 1, "rank");
        run_out(&m, moves_once, 97, "moves");
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
