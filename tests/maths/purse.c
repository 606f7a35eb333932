/* purse.c - an allocator that counts what is out and refuses one request. */
#include "maths/purse.h"

#include <check.h>
#include <stdlib.h>

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

bw_allocator purse_allocator(purse *p) {
    return (bw_allocator){resize, p};
}

long purse_run_out(const void *about, purse_attempt *once, long stride, const char *what) {
    long failed = 0;
    for (long fail_at = 0;; fail_at += stride) {
        purse p = {.fail_at = fail_at};
        bw_allocator allocator = purse_allocator(&p);
        bw_status status = once(about, &allocator);
        ck_assert_msg(p.out == 0, "%s: request %ld refused, %ld blocks not given back", what, fail_at, p.out);
        if (p.asked <= fail_at) {
            ck_assert_msg(status == BW_OK, "%s", what);
            break;
        }
        ck_assert_msg(status == BW_NO_MEMORY, "%s: request %ld refused and not told", what, fail_at);
        failed++;
    }
    ck_assert_msg(failed > 0, "%s asks for no memory", what);
    return failed;
}
