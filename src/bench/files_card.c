/* files_card.c - the card beside the work into a file: its name is asked for, then it is written. */
#include <stdlib.h>
#include <sys/stat.h>

#include "bench/inner.h"
#include "paper/paper.h"

/* Beside the file, under its name; of an example where the program was started. */
void do_write_card(bench *b, int key) {
    (void)key;
    char name[FILES_SUGGESTED];
    files_suggest(b, "-card.pdf", name);
    free(b->file);
    b->file = NULL;
    bench_type(b, TYPING_CARD, name);
    bench_say(b,
              "What lies beside the work: settings, counts, check marks, boxes to tick. Under which name? It ends in "
              ".pdf or .txt. {typing.take} writes it, {typing.leave} leaves it.");
}

void files_card_take(bench *b, const char *typed) {
    char file[FILES_NAME_ROOM], reason[160];
    const shop_project *project = desk_project(b->desk);
    struct stat there;
    show_words said;
    files_named(typed, file);
    if (!paper_card_can(file, NULL, project->units, reason)) {
        bench_refuse(b, "This cannot be: %s; {typing.leave} leaves it.", reason);
        return;
    }
    if (!files_may_write(b, file, stat(file, &there) == 0)) {
        return;
    }
    shop_problems problems;
    shop_problems_init(&problems, file);
    if (paper_card(file, NULL, project, desk_plan(b->desk), &said, &problems) == SHOP_OK) {
        shop_problems_free(&problems);
        b->typing = TYPING_NOTHING;
        bench_say(b, "%s%s", said.text,
                  bw_plan_works(desk_plan(b->desk)) ? "" : "; it says that this must not be struck as it is");
        return;
    }
    files_not_written(b, &problems);
}
