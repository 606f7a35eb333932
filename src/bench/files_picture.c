/* files_picture.c - the picture of the finished piece into a file: its name is asked for, then it is written. */
#include <stdlib.h>
#include <sys/stat.h>

#include "bench/inner.h"
#include "paper/paper.h"

/* Beside the file, under its name; of an example where the program was started. */
void do_picture(bench *b, int key) {
    (void)key;
    char name[FILES_SUGGESTED];
    files_suggest(b, ".png", name);
    free(b->file);
    b->file = NULL;
    bench_type(b, TYPING_PICTURE, name);
    bench_say(b,
              "The piece as it will look. Under which name? It ends in .png. {typing.take} writes it, {typing.leave} "
              "leaves it.");
}

void files_picture_take(bench *b, const char *typed) {
    char file[FILES_NAME_ROOM], reason[160];
    paper_kind kind;
    struct stat there;
    show_words said;
    files_named(typed, file);
    if (!paper_kind_of(file, &kind, reason) || kind != PAPER_PNG) {
        bench_refuse(b, "This cannot be: the name of a picture ends in .png; {typing.leave} leaves it.");
        return;
    }
    if (!files_may_write(b, file, stat(file, &there) == 0)) {
        return;
    }
    shop_problems problems;
    shop_problems_init(&problems, file);
    if (paper_picture(desk_project(b->desk), desk_plan(b->desk), 0, file, &said, &problems) == SHOP_OK) {
        shop_problems_free(&problems);
        b->typing = TYPING_NOTHING;
        bench_say(b, "%s", said.text);
        return;
    }
    files_not_written(b, &problems);
}
