/* files_template.c - the template on paper: its name is asked for, then the sheet, then it is written. */
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>

#include "bench/inner.h"
#include "paper/paper.h"
#include "shop/alloc.h"

#define PNG_MOST 20 /* sheets: each takes about half a second, in which no key is heard */

/* Beside the file, under its name; of an example where the program was started. */
void do_template(bench *b, int key) {
    (void)key;
    char name[FILES_SUGGESTED];
    files_suggest(b, ".pdf", name);
    free(b->file);
    b->file = NULL;
    bench_type(b, TYPING_TEMPLATE, name);
    bench_say(b,
              "Drawn at full size, to be printed. Under which name? It ends in .pdf, .svg or .png. {typing.take} goes "
              "on, {typing.leave} leaves it.");
}

/* The file itself, or the first of several that are made of it. */
static bool is_there(const char *file) {
    char first[FILES_NAME_ROOM + 2];
    struct stat there;
    const char *ending = strrchr(file, '.');
    snprintf(first, sizeof first, "%.*s-1%s", (int)(ending - file), file, ending);
    return stat(file, &there) == 0 || stat(first, &there) == 0;
}

bool files_may_write(bench *b, const char *file, bool there) {
    bool told = b->file != NULL && strcmp(b->file, file) == 0;
    free(b->file);
    b->file = shop_copy(file, strlen(file));
    if (b->file == NULL) {
        bench_refuse(b, "out of memory");
    } else if (!told && there) {
        bench_refuse(b, "%.200s is there already; {typing.take} once more writes over it, or type another name.", file);
    }
    return b->file != NULL && (told || !there);
}

void files_not_written(bench *b, shop_problems *problems) {
    char why[sizeof b->message];
    bench_refuse_problem(b, problems);
    snprintf(why, sizeof why, "%s", b->message);
    bench_refuse(b, "%.200s is not written: %.400s", b->file, why);
}

static void take_name(bench *b, const char *typed) {
    char file[FILES_NAME_ROOM], reason[160];
    paper_kind kind;
    files_named(typed, file);
    if (!paper_kind_of(file, &kind, reason)) {
        bench_refuse(b, "This cannot be: %s; {typing.leave} leaves it.", reason);
        return;
    }
    if (files_may_write(b, file, is_there(file))) {
        bench_type(b, TYPING_PAPER, desk_project(b->desk)->units == SHOP_INCH ? "letter" : "a4");
        bench_say(b,
                  "Which paper? a4, a5, letter, or width x height such as 300x450 or 12x18in. Behind it, if you like: "
                  "impressions (all of them, faint), mirrored (to trace on the flesh side).");
    }
}

/* Where the last word of a text begins; blanks and commas at its end are cut off. */
static char *last_word(char *text) {
    size_t length = strlen(text);
    while (length > 0 && strchr(" ,", text[length - 1]) != NULL) {
        text[--length] = '\0';
    }
    while (length > 0 && strchr(" ,", text[length - 1]) == NULL) {
        length--;
    }
    return text + length;
}

/* Words behind the sheet's name are taken off its end; the foremost that says nothing is named. */
static bool read_paper(bench *b, const char *typed, paper_asked *asked) {
    char text[200], why[160] = "", reason[160], unknown[60] = "";
    snprintf(text, sizeof text, "%s", typed + strspn(typed, " "));
    *asked = (paper_asked){.png_most = PNG_MOST};
    for (;;) {
        char *last = last_word(text);
        if (strcasecmp(last, "impressions") == 0) {
            asked->impressions = true;
        } else if (strcasecmp(last, "mirrored") == 0 || strcasecmp(last, "mirror") == 0) {
            asked->mirror = true;
        } else if (paper_size_of(text, desk_project(b->desk)->units, &asked->paper, reason)) {
            break;
        } else {
            snprintf(unknown, sizeof unknown, "%s", last);
            if (*why == '\0') {
                snprintf(why, sizeof why, "%s", reason);
            }
            if (last == text) { /* the sheet itself is wrong */
                bench_refuse(b, "This cannot be: %s; {typing.leave} leaves it.", why);
                return false;
            }
        }
        *last = '\0';
    }
    if (*unknown != '\0') {
        bench_refuse(b,
                     "%.60s is not known: behind the paper may stand impressions, mirrored; {typing.leave} leaves it.",
                     unknown);
    }
    return *unknown == '\0';
}

static void take_paper(bench *b, const char *typed) {
    paper_asked asked;
    show_words said;
    if (!read_paper(b, typed, &asked)) {
        return;
    }
    shop_problems problems;
    shop_problems_init(&problems, b->file);
    if (paper_template(desk_project(b->desk), desk_plan(b->desk), &asked, b->file, &said, &problems) == SHOP_OK) {
        shop_problems_free(&problems);
        b->typing = TYPING_NOTHING;
        bench_say(b, "%s; print at 100 %%, and measure the check scales before you cut", said.text);
        return;
    }
    files_not_written(b, &problems);
}

void files_template_take(bench *b, const char *typed) {
    if (b->typing == TYPING_TEMPLATE) {
        take_name(b, typed);
    } else {
        take_paper(b, typed);
    }
}
