/* desk/journal_format.h - the lines of a journal; no other room includes it. */
#ifndef DESK_JOURNAL_FORMAT_H
#define DESK_JOURNAL_FORMAT_H

#include <stdint.h>

#include "desk/inner.h"

#define JOURNAL_FIRST_LINE "bandwright-journal: 1\n"
#define JOURNAL_ENDING ".journal"

/* FNV-1a of 64 bits, by Fowler, Noll and Vo (constants from memory); a guard against torn lines, no secret. */
uint64_t journal_sum(const char *bytes, size_t length);

/* Who a journal is of. */
typedef struct journal_head {
    char *file; /* NULL: never saved */
    bool is_new;
    long program; /* its number, for people who look */
    char *base;
    size_t base_length;
} journal_head;

/* One change: the exchange of bytes, and the same as edits of values. */
typedef struct journal_record {
    desk_record kind;
    desk_step step;
    shop_edit *edits;
    size_t edit_count;
} journal_record;

void journal_head_write(shop_buffer *to, const journal_head *head);
void journal_record_write(shop_buffer *to, const journal_record *record);
/* One line (without its end) read; false if it is none: torn, or without memory. The caller frees in both cases. */
bool journal_head_read(journal_head *head, const char *line, size_t length);
bool journal_record_read(journal_record *record, const char *line, size_t length);
void journal_head_free(journal_head *head);
void journal_record_free(journal_record *record);

#endif
