/* template.c - `template FILE -o OUT`: the piece at full size, to be printed. */
#include <string.h>

#include "paper/paper.h"
#include "verbs/verbs.h"

static int write_template(desk *d, const verb_args *args) {
    paper_asked asked = {.impressions = args->given[VERB_IMPRESSIONS] != NULL,
                         .mirror = args->given[VERB_MIRROR] != NULL};
    char reason[160];
    show_words said;
    if (!paper_size_of(args->given[VERB_PAPER], desk_project(d)->units, &asked.paper, reason)) {
        return verb_complain("--paper %s: %s", args->given[VERB_PAPER], reason);
    }
    shop_problems problems;
    shop_problems_init(&problems, args->given[VERB_OUT]);
    shop_status status = paper_template(desk_project(d), desk_plan(d), &asked, args->given[VERB_OUT], &said, &problems);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    if (status != SHOP_OK) {
        return (int)status;
    }
    puts(said.text);
    return bw_plan_works(desk_plan(d)) ? VERB_FITS : VERB_DOES_NOT_FIT;
}

int verb_template(const verb_args *args) {
    char reason[160];
    paper_kind kind;
    if (args->given[VERB_OUT] == NULL) {
        return verb_complain("template needs -o FILE: a name that ends in .pdf, .svg or .png");
    }
    if (!paper_kind_of(args->given[VERB_OUT], &kind, reason)) {
        return verb_complain("-o %s: %s", args->given[VERB_OUT], reason);
    }
    int status;
    desk *d = verb_open(args->operands[0], args, &status);
    if (d == NULL) {
        return status;
    }
    status = write_template(d, args);
    desk_close(d);
    return status;
}
