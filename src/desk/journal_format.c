/* journal_format.c - one change a line: KIND TITLE AT BEFORE AFTER {PATH OLD NEW} ~SUM, or KIND HELD ~SUM. */
#include "desk/journal_format.h"

#include <stdlib.h>
#include <string.h>

#include "desk/tools.h"

enum { SUM_DIGITS = 16 };

static const char *const kinds[] = {"edit", "undo", "redo", "hold", "held", "flip"};

uint64_t journal_sum(const char *bytes, size_t length) {
    uint64_t sum = UINT64_C(0xcbf29ce484222325);
    for (size_t i = 0; i < length; i++) {
        sum = (sum ^ (unsigned char)bytes[i]) * UINT64_C(0x100000001b3);
    }
    return sum;
}

/* ---- writing ---- */

static void put_quoted(shop_buffer *to, const char *bytes, size_t length) {
    static const char digits[] = "0123456789ABCDEF";
    shop_buffer_text(to, " \"");
    for (size_t i = 0, from = 0; i <= length; i++) {
        unsigned char c = i < length ? (unsigned char)bytes[i] : 0;
        if (i < length && c >= ' ' && c != 0x7F && c != '"' && c != '\\') {
            continue;
        }
        shop_buffer_add(to, bytes + from, i - from);
        from = i + 1;
        if (i < length) {
            char escape[5] = {'\\', (char)c, '\0'};
            if (c == '\n' || c == '\t' || c == '\r') {
                escape[1] = c == '\n' ? 'n' : c == '\t' ? 't' : 'r';
            } else if (c != '"' && c != '\\') {
                escape[1] = 'x';
                escape[2] = digits[c >> 4];
                escape[3] = digits[c & 15];
            }
            shop_buffer_text(to, escape);
        }
    }
    shop_buffer_text(to, "\"");
}

static void put_text(shop_buffer *to, const char *text) {
    if (text == NULL) {
        shop_buffer_text(to, " -");
    } else {
        put_quoted(to, text, strlen(text));
    }
}

static void put_number(shop_buffer *to, size_t number) {
    char text[32];
    snprintf(text, sizeof text, " %zu", number);
    shop_buffer_text(to, text);
}

/* The line that begins at `start` is complete. */
static void end_line(shop_buffer *to, size_t start) {
    char text[SUM_DIGITS + 4];
    if (!to->failed) {
        unsigned long long sum = journal_sum(to->bytes + start, to->length - start);
        snprintf(text, sizeof text, " ~%016llx\n", sum);
        shop_buffer_text(to, text);
    }
}

void journal_head_write(shop_buffer *to, const journal_head *head) {
    char text[64];
    shop_buffer_text(to, JOURNAL_FIRST_LINE);
    size_t start = to->length;
    shop_buffer_text(to, head->is_new ? "new" : "of");
    put_text(to, head->file);
    put_number(to, head->base_length);
    snprintf(text, sizeof text, " %016llx %ld", (unsigned long long)journal_sum(head->base, head->base_length),
             head->program);
    shop_buffer_text(to, text);
    put_quoted(to, head->base, head->base_length);
    end_line(to, start);
}

void journal_record_write(shop_buffer *to, const journal_record *record) {
    size_t start = to->length;
    const desk_step *step = &record->step;
    shop_buffer_text(to, kinds[record->kind]);
    if (record->kind >= DESK_RECORD_HOLD) {
        if (step->after != NULL) {
            put_quoted(to, step->after, step->after_length);
        } else {
            put_text(to, NULL);
        }
        end_line(to, start);
        return;
    }
    put_text(to, step->title);
    put_number(to, step->at);
    put_quoted(to, step->before, step->before_length);
    put_quoted(to, step->after, step->after_length);
    for (size_t i = 0; i < record->edit_count; i++) {
        put_text(to, record->edits[i].path);
        put_text(to, record->edits[i].old_text);
        put_text(to, record->edits[i].new_text);
    }
    end_line(to, start);
}

/* ---- reading ---- */

typedef struct line_reader {
    const char *at, *end;
    bool wrong;
} line_reader;

/* Up to the sum, which must be that of what stands before it. */
static line_reader open_line(const char *line, size_t length) {
    line_reader reader = {line, line, true};
    char want[SUM_DIGITS + 3];
    size_t tail = SUM_DIGITS + 2;
    if (length > tail) {
        snprintf(want, sizeof want, " ~%016llx", (unsigned long long)journal_sum(line, length - tail));
        reader.wrong = memcmp(line + length - tail, want, tail) != 0;
        reader.end = line + length - tail;
    }
    return reader;
}

static bool at_end(const line_reader *reader) {
    return reader->at >= reader->end;
}

/* The blank before what comes. */
static void skip_blank(line_reader *reader) {
    if (at_end(reader) || *reader->at != ' ') {
        reader->wrong = true;
    } else {
        reader->at++;
    }
}

static bool is_word(line_reader *reader, const char *word) {
    size_t length = strlen(word), left = (size_t)(reader->end - reader->at);
    if (reader->wrong || left < length || memcmp(reader->at, word, length) != 0 ||
        (left > length && reader->at[length] != ' ')) {
        return false;
    }
    reader->at += length;
    return true;
}

static int hex(char c) {
    return c >= '0' && c <= '9'   ? c - '0'
           : c >= 'A' && c <= 'F' ? c - 'A' + 10
           : c >= 'a' && c <= 'f' ? c - 'a' + 10
                                  : -1;
}

static uint64_t get_number(line_reader *reader, unsigned base) {
    uint64_t number = 0;
    skip_blank(reader);
    const char *start = reader->at;
    for (; !at_end(reader) && reader->at - start < SUM_DIGITS; reader->at++) {
        int digit = hex(*reader->at);
        if (digit < 0 || digit >= (int)base) {
            break;
        }
        number = number * base + (unsigned)digit;
    }
    reader->wrong = reader->wrong || reader->at == start;
    return number;
}

static void get_escape(line_reader *reader, shop_buffer *to) {
    static const char names[] = "ntr\"\\", meant[] = "\n\t\r\"\\";
    char c = at_end(reader) ? '\0' : *reader->at++;
    const char *name = c == '\0' ? NULL : strchr(names, c);
    if (name != NULL) {
        shop_buffer_add(to, &meant[name - names], 1);
        return;
    }
    int high = c == 'x' && reader->end - reader->at >= 2 ? hex(reader->at[0]) : -1;
    int low = high >= 0 ? hex(reader->at[1]) : -1;
    if (low < 0) {
        reader->wrong = true;
        return;
    }
    char byte = (char)(high << 4 | low);
    shop_buffer_add(to, &byte, 1);
    reader->at += 2;
}

/* NULL for `-`, or when the line is wrong. */
static char *get_text(line_reader *reader, size_t *length) {
    shop_buffer to = {0};
    *length = 0;
    skip_blank(reader);
    if (reader->wrong || is_word(reader, "-")) {
        return NULL;
    }
    if (at_end(reader) || *reader->at++ != '"') {
        reader->wrong = true;
        return NULL;
    }
    shop_buffer_text(&to, "");
    while (!reader->wrong && !at_end(reader) && *reader->at != '"') {
        const char *start = reader->at;
        while (!at_end(reader) && *reader->at != '"' && *reader->at != '\\') {
            reader->at++;
        }
        shop_buffer_add(&to, start, (size_t)(reader->at - start));
        if (!at_end(reader) && *reader->at == '\\') {
            reader->at++;
            get_escape(reader, &to);
        }
    }
    reader->wrong = reader->wrong || at_end(reader) || *reader->at != '"';
    reader->at += !reader->wrong;
    char *text = shop_buffer_take(&to, length);
    reader->wrong = reader->wrong || text == NULL;
    return text;
}

bool journal_head_read(journal_head *head, const char *line, size_t length) {
    line_reader reader = open_line(line, length);
    size_t size;
    *head = (journal_head){0};
    head->is_new = is_word(&reader, "new");
    if (!head->is_new && !is_word(&reader, "of")) {
        return false;
    }
    head->file = get_text(&reader, &size);
    uint64_t base_length = get_number(&reader, 10), sum = get_number(&reader, 16);
    head->program = (long)get_number(&reader, 10);
    head->base = get_text(&reader, &head->base_length);
    return !reader.wrong && at_end(&reader) && head->base != NULL && head->base_length == base_length &&
           journal_sum(head->base, head->base_length) == sum && (head->file != NULL || head->is_new);
}

bool journal_record_read(journal_record *record, const char *line, size_t length) {
    line_reader reader = open_line(line, length);
    size_t size, kind = 0;
    *record = (journal_record){0};
    while (kind < sizeof kinds / sizeof kinds[0] && !is_word(&reader, kinds[kind])) {
        kind++;
    }
    if (kind == sizeof kinds / sizeof kinds[0]) {
        return false;
    }
    record->kind = (desk_record)kind;
    if (record->kind >= DESK_RECORD_HOLD) {
        record->step.after = get_text(&reader, &record->step.after_length);
        return !reader.wrong && at_end(&reader);
    }
    record->step.title = get_text(&reader, &size);
    record->step.at = (size_t)get_number(&reader, 10);
    record->step.before = get_text(&reader, &record->step.before_length);
    record->step.after = get_text(&reader, &record->step.after_length);
    desk_edits list = {0};
    while (!reader.wrong && !at_end(&reader)) {
        char *path = get_text(&reader, &size), *old_text = get_text(&reader, &size);
        char *new_text = get_text(&reader, &size);
        desk_edits_add(&list, path, new_text, true);
        if (list.failed) {
            free(old_text);
            reader.wrong = true;
        } else {
            list.edits[list.count - 1].old_text = old_text;
        }
    }
    record->edits = list.edits;
    record->edit_count = list.count;
    return !reader.wrong && record->step.title != NULL && record->step.before != NULL && record->step.after != NULL;
}

void journal_head_free(journal_head *head) {
    free(head->file);
    free(head->base);
    *head = (journal_head){0};
}

void journal_record_free(journal_record *record) {
    desk_step_free(&record->step);
    desk_edits_free(record->edits, record->edit_count);
    *record = (journal_record){0};
}
