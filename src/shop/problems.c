/* Everything that is wrong with a file, gathered and printed. */
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "shop/alloc.h"
#include "shop/problems.h"

#define PROBLEMS_MOST 500 /* what is beyond is only counted: nobody reads on */

void shop_problems_init(shop_problems *problems, const char *file) {
    memset(problems, 0, sizeof *problems);
    if (file)
        problems->file = shop_copy(file, strlen(file));
}

void shop_problems_free(shop_problems *problems) {
    for (size_t i = 0; i < problems->count; i++) {
        free(problems->list[i].text);
        free(problems->list[i].file);
    }
    free(problems->list);
    free(problems->file);
    memset(problems, 0, sizeof *problems);
}

static char *words(const char *format, va_list values) {
    va_list again;
    va_copy(again, values);
    int length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    char *text = length < 0 ? NULL : shop_alloc((size_t)length + 1);
    if (text)
        vsnprintf(text, (size_t)length + 1, format, values);
    return text;
}

/* Without memory the error still counts, so that nobody takes the file for good. */
void shop_problem_add(shop_problems *problems, bool note, size_t line, size_t column, const char *format, ...) {
    if (!note)
        problems->errors++;
    if (problems->count >= PROBLEMS_MOST)
        return;
    if (problems->count == problems->room) {
        size_t room = problems->room ? problems->room * 2 : 8;
        shop_problem *bigger = shop_resize(problems->list, room * sizeof *bigger);
        if (!bigger)
            return;
        problems->list = bigger;
        problems->room = room;
    }
    va_list values;
    va_start(values, format);
    char *text = words(format, values);
    va_end(values);
    if (!text)
        return;
    problems->list[problems->count++] = (shop_problem){.line = line, .column = column, .note = note, .text = text};
}

void shop_problem_of(shop_problems *problems, const shop_problem *one, const char *file) {
    size_t before = problems->count;
    shop_problem_add(problems, one->note, one->line, one->column, "%s", one->text);
    if (problems->count > before)
        problems->list[before].file = shop_copy(file, strlen(file));
}

static bool comes_before(const shop_problem *a, const shop_problem *b) {
    return a->line < b->line || (a->line == b->line && a->column < b->column);
}

void shop_problems_sort(shop_problems *problems, size_t from) {
    for (size_t i = from + 1; i < problems->count; i++) { /* insertion: few, and equal places keep their order */
        shop_problem held = problems->list[i];
        size_t place = i;
        for (; place > from && comes_before(&held, &problems->list[place - 1]); place--)
            problems->list[place] = problems->list[place - 1];
        problems->list[place] = held;
    }
}

static void print_clean(const char *text, FILE *to) {
    char small[512];
    size_t length = strlen(text), needed = shop_clean(text, length, small, sizeof small);
    char *large = needed < sizeof small ? NULL : shop_alloc(needed + 1);
    if (large)
        shop_clean(text, length, large, needed + 1);
    fputs(large ? large : small, to);
    free(large);
}

void shop_problems_print(const shop_problems *problems, FILE *to) {
    size_t errors = 0;
    const char *file = problems->file ? problems->file : "bandwright";
    for (size_t i = 0; i < problems->count; i++) {
        const shop_problem *problem = &problems->list[i];
        print_clean(problem->file ? problem->file : file, to);
        if (problem->line)
            fprintf(to, ":%zu:%zu", problem->line, problem->column);
        fputs(problem->note ? ": note: " : ": error: ", to);
        print_clean(problem->text, to);
        fputc('\n', to);
        errors += !problem->note;
    }
    if (errors < problems->errors) {
        print_clean(file, to);
        fprintf(to, ": error: %zu more that are not listed (%s)\n", problems->errors - errors,
                problems->count >= PROBLEMS_MOST ? "too many" : "no memory");
    }
}
