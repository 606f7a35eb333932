/* check_card.c - the card on paper, as another program reads it: one sheet, the words of the text card, nothing cut
 * off, the font in the file. */
#include <check.h>
#include <glob.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "paper/paper.h"
#include "shop/shop.h"
#include "show/card.h"

Suite *paper_card_suite(void);

#define POINTS_OF_MM (72 / 25.4)
enum { WORDS = 4000, WORD = 120, SHEETS = 4 };

typedef struct word_list {
    char word[WORDS][WORD];
    int count;
} word_list;

static int by_name(const void *a, const void *b) {
    return strcmp(a, b);
}

/* Blanks part words; a box to tick is drawn on paper and is no word. */
static void take_words(word_list *list, const char *text) {
    while (*text) {
        size_t length = strcspn(text, " \n\f");
        bool box = strncmp(text, "[ ]", 3) == 0;
        if (box)
            length = 3;
        else if (length > 0) {
            ck_assert_int_lt(list->count, WORDS);
            ck_assert_uint_lt(length, WORD);
            snprintf(list->word[list->count++], WORD, "%.*s", (int)length, text);
        }
        text += length + strspn(text + length, " \n\f");
    }
}

static char *output_of(const char *command) {
    FILE *from = popen(command, "r");
    char *text = NULL;
    size_t room = 0;
    ck_assert_ptr_nonnull(from);
    ck_assert_msg(getdelim(&text, &room, EOF, from) >= 0, "%s", command);
    ck_assert_int_eq(pclose(from), 0);
    return text;
}

/* The heading of a band stands apart from its tool on paper, and a section's head from what goes with it. */
static char *text_card(const shop_project *project, const bw_plan *plan) {
    char *text = NULL;
    size_t size;
    FILE *to = open_memstream(&text, &size);
    ck_assert_ptr_nonnull(to);
    ck_assert(show_card_text(to, project, plan));
    fclose(to);
    return text;
}

static bool same_word(const char *a, const char *b) {
    size_t length = strcspn(a, ":,");
    return strcmp(a, b) == 0 ||
           (a[length] != '\0' && a[length + 1] == '\0' && strncmp(a, b, length) == 0 && b[length] == '\0');
}

/* Every word of the text is on paper, and no other. */
static void assert_same_words(const char *name, const char *text, const char *paper) {
    static word_list a, b;
    a.count = b.count = 0;
    take_words(&a, text);
    take_words(&b, paper);
    qsort(a.word, (size_t)a.count, WORD, by_name);
    qsort(b.word, (size_t)b.count, WORD, by_name);
    ck_assert_msg(a.count == b.count, "%s: %d words in the text, %d on paper", name, a.count, b.count);
    static bool used[WORDS];
    memset(used, 0, sizeof used);
    for (int i = 0; i < a.count; i++) {
        bool found = false;
        for (int exact = 1; exact >= 0 && !found; exact--)
            for (int k = 0; k < b.count && !found; k++) {
                found = !used[k] && (exact ? strcmp(a.word[i], b.word[k]) == 0 : same_word(a.word[i], b.word[k]));
                used[k] = used[k] || found;
            }
        ck_assert_msg(found, "%s: not on paper: %s", name, a.word[i]);
    }
}

/* Returns how many words there are. */
static int assert_within(const char *name, const char *boxes, double width, double height) {
    int count = 0;
    double least = PAPER_MARGIN * POINTS_OF_MM - 0.5, low = 0;
    for (const char *at = strstr(boxes, "<word "); at; at = strstr(at + 1, "<word ")) {
        double x0, y0, x1, y1;
        ck_assert_int_eq(sscanf(at, "<word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\"", &x0, &y0, &x1, &y1),
                         4);
        ck_assert_msg(x0 >= least && y0 >= least / 2 && x1 <= width - least && y1 <= height - least, "%s: %.60s", name,
                      at);
        low = fmax(low, y1);
        count++;
    }
    ck_assert_msg(low > height / 3, "%s: hardly anything on it", name);
    return count;
}

/* Names of sections that go on in another column stand there once more: taken out, as the text has no columns. */
static void take_out_names(char *words) {
    const char on[] = " (goes on)";
    for (char *at; (at = strstr(words, on)) != NULL;) {
        char *from = at, *to = at + sizeof on - 1;
        while (from > words && from[-1] != '\n' && from[-1] != '\f')
            from--;
        memset(from, ' ', (size_t)(to - from));
    }
}

/* A column begins with the name of a section, told again where it goes on, and not with check marks cut off from their
 * run. words: their boxes in the order in which they are drawn. */
static void assert_columns_begin(const char *name, const char *boxes, const show_card *card) {
    int columns = 0;
    double before = 0, first = 0;
    char line[600] = "", next[WORD] = "";
    for (const char *at = strstr(boxes, "<word "); at; at = strstr(at + 1, "<word ")) {
        double x, y;
        char word[WORD];
        ck_assert_int_eq(sscanf(at, "<word xMin=\"%lf\" yMin=\"%lf\" %*[^>]>%119[^<]", &x, &y, word), 3);
        if (y < before - 100) {
            columns++;
            first = y;
            snprintf(line, sizeof line, "%s", word);
            next[0] = '\0';
        } else if (columns > 0 && fabs(y - first) < 1) {
            snprintf(line + strlen(line), sizeof line - strlen(line), " %s", word);
        } else if (columns > 0 && next[0] == '\0') {
            snprintf(next, sizeof next, "%s", word);
        }
        before = y;
    }
    take_out_names(line);
    bool heads = columns == 0 || line[0] == ' ';
    for (size_t i = 0; i < card->count; i++) {
        bool head = card->lines[i].kind == SHOW_CARD_HEAD || card->lines[i].kind == SHOW_CARD_BAND;
        heads = heads || (head && strncmp(card->lines[i].cell[0], line, strlen(line)) == 0);
    }
    ck_assert_msg(heads, "%s: a column begins with %s", name, line);
    ck_assert_msg(strcmp(next, "mark") != 0, "%s: check marks without their run", name);
}

static void check_sheet(const char *name, const shop_project *project, const bw_plan *plan, const char *paper) {
    char file[64], command[200], reason[160];
    paper_size sheet;
    show_words said;
    shop_problems problems;
    snprintf(file, sizeof file, "/tmp/bandwright-card-%d.pdf", (int)getpid());
    ck_assert(paper_size_of(paper, project->units, &sheet, reason));
    shop_problems_init(&problems, file);
    ck_assert_int_eq(paper_card(file, paper, project, plan, &said, &problems), SHOP_OK);
    shop_problems_free(&problems);
    ck_assert_msg(strstr(said.text, ", 1 page"), "%s on %s: %s", name, paper, said.text);

    snprintf(command, sizeof command, "pdftotext -raw %s -", file);
    char *words = output_of(command), *text = text_card(project, plan);
    take_out_names(words);
    assert_same_words(name, text, words);
    free(words);
    free(text);

    snprintf(command, sizeof command, "pdftotext -raw -bbox %s -", file);
    char *boxes = output_of(command);
    show_card *card = show_card_create(project, plan);
    assert_columns_begin(name, boxes, card);
    show_card_free(card);
    double width, height;
    const char *page = strstr(boxes, "<page ");
    ck_assert(page && !strstr(page + 1, "<page "));
    ck_assert_int_eq(sscanf(page, "<page width=\"%lf\" height=\"%lf\"", &width, &height), 2);
    ck_assert_double_le(fabs(width - sheet.width * POINTS_OF_MM), 0.01);
    ck_assert_double_le(fabs(height - sheet.height * POINTS_OF_MM), 0.01);
    ck_assert_int_ge(assert_within(name, boxes, width, height), 100);
    free(boxes);
    unlink(file);
}

static glob_t files;

START_TEST(one_sheet_with_every_word) {
    const char *name = files.gl_pathv[_i];
    shop_problems problems;
    char *bytes;
    size_t length;
    bw_plan *plan;
    shop_problems_init(&problems, name);
    ck_assert_int_eq(shop_read(name, &bytes, &length, &problems), SHOP_OK);
    shop_project *project = shop_project_read(bytes, length, name, NULL, &problems);
    ck_assert_ptr_nonnull(project);
    shop_problems_free(&problems);
    ck_assert_int_eq(bw_plan_create(&project->layout, NULL, &plan), BW_OK);
    check_sheet(name, project, plan, "a4");
    check_sheet(name, project, plan, "letter");
    bw_plan_destroy(plan);
    shop_project_free(project);
    free(bytes);
}
END_TEST

/* Thirty bands: more than a sheet holds. Its pages are numbered, and every word is on one of them. */
START_TEST(more_than_a_sheet) {
    char *text = NULL, file[64], command[200];
    size_t length;
    FILE *to = open_memstream(&text, &length);
    fprintf(to,
            "bandwright-project: 1\npiece: Many bands\nunits: mm\noutline: {shape: circle, diameter: 900}\nbands:\n");
    for (int i = 0; i < 30; i++)
        fprintf(to,
                "  - {name: band%d, space: 2, width: 5, fill: border, tool: s, outer: {line: cut, bevel: inside}}\n",
                i);
    fprintf(to, "tools:\n  - {id: s, kind: border, length: 5, width: 5}\n");
    fclose(to);
    shop_problems problems;
    shop_problems_init(&problems, "many");
    shop_project *project = shop_project_read(text, length, "many", NULL, &problems);
    ck_assert_ptr_nonnull(project);
    bw_plan *plan;
    ck_assert_int_eq(bw_plan_create(&project->layout, NULL, &plan), BW_OK);
    snprintf(file, sizeof file, "/tmp/bandwright-card-%d.pdf", (int)getpid());
    show_words said;
    ck_assert_int_eq(paper_card(file, "a4", project, plan, &said, &problems), SHOP_OK);
    snprintf(command, sizeof command, "pdftotext -raw %s -", file);
    char *words = output_of(command), *card = text_card(project, plan);
    int pages = 0;
    char foot[40];
    ck_assert_int_eq(sscanf(strstr(said.text, ".pdf, "), ".pdf, %d pages", &pages), 1);
    ck_assert_int_ge(pages, 2);
    for (int i = 1; i <= pages; i++) { /* taken out again, the words are those of the text */
        snprintf(foot, sizeof foot, "card, page %d of %d", i, pages);
        char *at = strstr(words, foot);
        ck_assert_msg(at, "%s", foot);
        memset(at, ' ', strlen(foot));
    }
    take_out_names(words);
    assert_same_words("many", card, words);
    unlink(file);
    free(words);
    free(card);
    free(text);
    shop_problems_free(&problems);
    bw_plan_destroy(plan);
    shop_project_free(project);
}
END_TEST

/* A band of fourteen runs, each with check marks of its own, goes on in another column, under its name once more. */
START_TEST(a_section_goes_on) {
    char *text = NULL;
    size_t length;
    FILE *to = open_memstream(&text, &length);
    fprintf(to, "bandwright-project: 1\noutline:\n  shape: polygon\n  corners:\n");
    for (int i = 0; i < 14; i++) {
        double turn = 2 * BW_PI * (i + 0.02 * (i % 5)) / 14;
        fprintf(to, "    - [%.3f, %.3f]\n", 400 * cos(turn), 300 * sin(turn));
    }
    fprintf(to, "bands:\n  - {name: line, space: 4, fill: stitch, tool: i}\ntools:\n"
                "  - {id: i, kind: iron, pitch: 4, teeth: 6}\n");
    fclose(to);
    shop_problems problems;
    shop_problems_init(&problems, "corners");
    shop_project *project = shop_project_read(text, length, "corners", NULL, &problems);
    ck_assert_ptr_nonnull(project);
    bw_plan *plan;
    ck_assert_int_eq(bw_plan_create(&project->layout, NULL, &plan), BW_OK);
    char file[64], command[200];
    show_words said;
    snprintf(file, sizeof file, "/tmp/bandwright-card-%d.pdf", (int)getpid());
    ck_assert_int_eq(paper_card(file, "a4", project, plan, &said, &problems), SHOP_OK);
    snprintf(command, sizeof command, "pdftotext -raw %s - | grep -c '^line (goes on)$'", file);
    char *count = output_of(command);
    ck_assert_int_ge(atoi(count), 1);
    unlink(file);
    free(count);
    free(text);
    shop_problems_free(&problems);
    bw_plan_destroy(plan);
    shop_project_free(project);
}
END_TEST

/* What a name and a sheet may be. */
START_TEST(names_and_sheets) {
    char reason[160];
    ck_assert_uint_ge(files.gl_pathc, 16);
    ck_assert(paper_card_can("lid.pdf", NULL, SHOP_MM, reason));
    ck_assert(paper_card_can("lid.txt", NULL, SHOP_MM, reason));
    ck_assert(!paper_card_can("lid.png", NULL, SHOP_MM, reason));
    ck_assert_ptr_nonnull(strstr(reason, ".pdf or .txt"));
    ck_assert(!paper_card_can("lid.txt", "a4", SHOP_MM, reason));
    ck_assert(!paper_card_can("lid", NULL, SHOP_MM, reason));
    ck_assert(!paper_card_can("lid.pdf", "a44", SHOP_MM, reason));
}
END_TEST

Suite *paper_card_suite(void) {
    Suite *suite = suite_create("paper: the card");
    TCase *tests = tcase_create("card");
    if (glob("projects/*.yaml", 0, NULL, &files) != 0)
        files.gl_pathc = 0;
    tcase_set_timeout(tests, 60);
    tcase_add_loop_test(tests, one_sheet_with_every_word, 0, (int)files.gl_pathc);
    tcase_add_test(tests, more_than_a_sheet);
    tcase_add_test(tests, a_section_goes_on);
    tcase_add_test(tests, names_and_sheets);
    suite_add_tcase(suite, tests);
    return suite;
}
