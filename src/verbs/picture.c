/* picture.c - `picture FILE -o OUT.png`: the finished piece as it will look. */
#include <stdlib.h>
#include <string.h>

#include "paper/paper.h"
#include "shop/values.h"
#include "verbs/verbs.h"

/* 0 or a usage error's status. */
static int asked_width(const char *text, int *width) {
    char why[SHOP_REASON];
    *width = 0;
    if (text == NULL) {
        return 0;
    }
    if (!shop_parse_whole(text, strlen(text), width, why) || *width < PAPER_PICTURE_LEAST ||
        *width > PAPER_PICTURE_SIDE) {
        return verb_complain("--width %s: allowed are %d to %d pixels", text, PAPER_PICTURE_LEAST, PAPER_PICTURE_SIDE);
    }
    return 0;
}

int verb_picture(const verb_args *args) {
    const char *out = args->given[VERB_OUT];
    paper_kind kind;
    char why[SHOP_REASON];
    int width, status = asked_width(args->given[VERB_WIDTH], &width);
    if (status != 0) {
        return status;
    }
    if (out == NULL || !paper_kind_of(out, &kind, why) || kind != PAPER_PNG) {
        return verb_complain("a picture is written to a file that ends in .png: give -o OUT.png");
    }
    desk *d = verb_open(args->operands[0], args, &status);
    if (d == NULL) {
        return status;
    }
    shop_problems problems;
    show_words said;
    shop_problems_init(&problems, out);
    status = (int)paper_picture(desk_project(d), desk_plan(d), width, out, &said, &problems);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    if (status == 0) {
        puts(said.text);
        status = bw_plan_works(desk_plan(d)) ? VERB_FITS : VERB_DOES_NOT_FIT;
    }
    desk_close(d);
    return status;
}
