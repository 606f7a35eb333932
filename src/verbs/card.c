/* card.c - `card FILE`: what lies beside the work, as text or on paper. */
#include <errno.h>

#include "paper/paper.h"
#include "show/show.h"
#include "verbs/verbs.h"

static int to_output(const desk *d) {
    errno = 0;
    if (show_card_text(stdout, desk_project(d), desk_plan(d)))
        return SHOP_OK;
    verb_complain_of_output(errno, "the card");
    return SHOP_CANNOT_WRITE;
}

static int to_file(const desk *d, const char *file, const char *paper) {
    char reason[160];
    if (!paper_card_can(file, paper, desk_project(d)->units, reason))
        return verb_complain("card: %s", reason);
    shop_problems problems;
    shop_problems_init(&problems, file);
    show_words said;
    int status = (int)paper_card(file, paper, desk_project(d), desk_plan(d), &said, &problems);
    if (status == SHOP_OK)
        puts(said.text);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    return status;
}

int verb_card(const verb_args *args) {
    const char *file = args->given[VERB_OUT], *paper = args->given[VERB_PAPER];
    int status;
    if (file == NULL && paper != NULL)
        return verb_complain("--paper is for a card that goes to a file: give -o OUT.pdf, too");
    desk *d = verb_open(args->operands[0], args, &status);
    if (d == NULL)
        return status;
    status = file == NULL ? to_output(d) : to_file(d, file, paper);
    if (status == SHOP_OK)
        status = bw_plan_works(desk_plan(d)) ? VERB_FITS : VERB_DOES_NOT_FIT;
    desk_close(d);
    return status;
}
