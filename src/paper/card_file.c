/* card_file.c - the card beside the work into a file: text or pages, as its ending says. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "paper/card.h"

static bool is_text(const char *file) {
    return paper_ends_in(file, ".txt");
}

bool paper_card_can(const char *file, const char *paper, shop_unit bare, char reason[160]) {
    paper_kind kind;
    paper_size sheet;
    if (is_text(file)) {
        if (paper)
            snprintf(reason, 160, "a .txt has no paper; it is for a .pdf");
        return !paper;
    }
    if (!paper_kind_of(file, &kind, reason) || kind != PAPER_PDF) {
        snprintf(reason, 160, "the name of the card's file ends in .pdf or .txt");
        return false;
    }
    return paper_size_of(paper, bare, &sheet, reason);
}

static shop_status write_text(const char *file, const shop_project *project, const bw_plan *plan,
                              shop_problems *problems) {
    char *text = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&text, &length);
    bool fine = to && show_card_text(to, project, plan);
    fine = to && fclose(to) == 0 && fine;
    shop_status status = fine ? shop_save(file, text, length, false, problems) : SHOP_NO_MEMORY;
    free(text);
    if (!fine)
        shop_problem_add(problems, false, 0, 0, "out of memory");
    return status;
}

static shop_status write_pages(const char *file, const paper_size *sheet, const shop_project *project,
                               const bw_plan *plan, show_words *said, shop_problems *problems) {
    show_card *card = show_card_create(project, plan);
    paper_book *book = card ? paper_book_create(PAPER_PDF, PAPER_DPI, card->lines[0].cell[0]) : NULL;
    shop_status status = SHOP_NO_MEMORY;
    if (book && card_draw(book, card, sheet))
        status = paper_book_write(book, file, said, problems);
    else
        shop_problem_add(problems, false, 0, 0, "out of memory");
    paper_book_free(book);
    show_card_free(card);
    return status;
}

shop_status paper_card(const char *file, const char *paper, const shop_project *project, const bw_plan *plan,
                       show_words *said, shop_problems *problems) {
    char reason[160];
    paper_size sheet;
    if (!is_text(file)) {
        if (paper_size_of(paper, project->units, &sheet, reason))
            return write_pages(file, &sheet, project, plan, said, problems);
        shop_problem_add(problems, false, 0, 0, "%s", reason);
        return SHOP_CANNOT_WRITE;
    }
    shop_status status = write_text(file, project, plan, problems);
    if (status == SHOP_OK && said) {
        char clean[200];
        shop_clean(file, strlen(file), clean, sizeof clean);
        snprintf(said->text, sizeof said->text, "written: %s", clean);
    }
    return status;
}
