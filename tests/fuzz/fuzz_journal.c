/* fuzz_journal.c - any lines as a journal whose sums are right: understood or not, never a fall; what is understood is
 * the same when it is written and read again. */
#include <stdlib.h>
#include <string.h>

#include "desk/journal_keep.h"
#include "fuzz/memory.h"

static void need(bool holds) {
    if (!holds)
        __builtin_trap();
}

/* The lines with their sums; the first bit of the size leaves the last line torn. */
static char *with_sums(const char *lines, size_t size, size_t *length) {
    shop_buffer out = {0};
    shop_buffer_text(&out, JOURNAL_FIRST_LINE);
    for (size_t at = 0; at < size;) {
        const char *end = memchr(lines + at, '\n', size - at);
        size_t one = end == NULL ? size - at : (size_t)(end - lines) - at;
        char sum[24];
        snprintf(sum, sizeof sum, " ~%016llx", (unsigned long long)journal_sum(lines + at, one));
        shop_buffer_add(&out, lines + at, one);
        shop_buffer_text(&out, sum);
        shop_buffer_text(&out, end != NULL || size % 2 == 0 ? "\n" : "");
        at += one + 1;
    }
    return shop_buffer_take(&out, length);
}

static char *written(const desk_left *left, size_t *length) {
    shop_buffer out = {0};
    journal_head_write(&out, &left->head);
    for (size_t i = 0; i < left->count; i++) {
        journal_record_write(&out, &left->records[i]);
    }
    return shop_buffer_take(&out, length);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    size_t length, again_length;
    char *bytes = with_sums((const char *)data, size, &length);
    desk_left left = {.descriptor = -1};
    if (journal_understand(&left, bytes, length)) {
        need(left.good <= length && left.done <= left.step_count && left.step_count <= left.count);
        char *again = written(&left, &again_length);
        desk_left second = {.descriptor = -1};
        need(journal_understand(&second, again, again_length) && !second.damaged && second.good == again_length);
        need(second.count == left.count && second.done == left.done && second.step_count == left.step_count);
        need(second.length == left.length && memcmp(second.text, left.text, left.length) == 0);
        need((second.held == NULL) == (left.held == NULL));
        need(left.held == NULL ||
             (second.held_length == left.held_length && memcmp(second.held, left.held, left.held_length) == 0));
        journal_forget(&second);
        free(again);
    }
    journal_forget(&left);
    free(bytes);
    return 0;
}
