/* check_card.c - `card`: where it goes, and what it says when it cannot. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "verbs/spawn.h"

Suite *verbs_card_suite(void);

static void begin(void) {
    spawn_begin();
    spawn_copy("projects/cedar-lid.yaml", "lid.yaml");
    spawn_copy("projects/blackthorn-rosette.yaml", "rosette.yaml");
}

START_TEST(to_the_terminal_and_to_files) {
    const spawned *card = spawn("$BW card lid.yaml");
    ck_assert_int_eq(card->status, 0);
    ck_assert_str_eq(card->err, "");
    char *text = strdup(card->out);
    ck_assert_ptr_nonnull(strstr(text, "BENCH CARD: Cedar box lid\n"));
    size_t length;
    card = spawn("$BW card lid.yaml -o card.txt");
    ck_assert_int_eq(card->status, 0);
    ck_assert_str_eq(card->out, "written: card.txt\n");
    char *written = spawn_read("card.txt", &length);
    ck_assert_ptr_nonnull(written);
    ck_assert_uint_eq(length, strlen(text));
    ck_assert_mem_eq(written, text, length);
    free(written);
    free(text);
    card = spawn("$BW card -p letter lid.yaml --out=card.pdf");
    ck_assert_int_eq(card->status, 0);
    ck_assert_str_eq(card->out, "written: card.pdf, 1 page\n");
    written = spawn_read("card.pdf", &length);
    ck_assert_ptr_nonnull(written);
    ck_assert_mem_eq(written, "%PDF-", 5);
    free(written);
    card = spawn("$BW card rosette.yaml"); /* its stamp does not work: the card says so, and the exit status */
    ck_assert_int_eq(card->status, 1);
    ck_assert_ptr_nonnull(strstr(card->out, "DO NOT STRIKE THIS AS IT IS\n"));
}
END_TEST

static const struct {
    const char *line;
    int status;
    const char *says;
} refusals[] = {
    {"$BW card", 2, "too little is given"},
    {"$BW card lid.yaml -o card.png", 2, "ends in .pdf or .txt"},
    {"$BW card lid.yaml -o card", 2, "ends in .pdf or .txt"},
    {"$BW card lid.yaml -o card.pdf -p a44", 2, "a4, a5, letter"},
    {"$BW card lid.yaml -o card.txt -p a4", 2, "for a .pdf"},
    {"$BW card lid.yaml -p a4", 2, "-o OUT.pdf"},
    {"$BW card no.yaml", 66, "no.yaml"},
    {"$BW card lid.yaml -o no/card.pdf", 73, "no/card.pdf"},
    {"$BW card lid.yaml -o no/card.txt", 73, "no/card.txt"},
    {"$BW card lid.yaml > /dev/full", 74, "the card cannot be written"},
};

START_TEST(what_cannot_be) {
    const spawned *card = spawn("%s", refusals[_i].line);
    ck_assert_msg(card->status == refusals[_i].status, "%s: %d: %s", refusals[_i].line, card->status, card->err);
    ck_assert_msg(strstr(card->err, refusals[_i].says) != NULL, "%s: %s", refusals[_i].line, card->err);
    ck_assert_str_eq(card->out, "");
}
END_TEST

Suite *verbs_card_suite(void) {
    Suite *suite = suite_create("verbs: card");
    TCase *tests = tcase_create("card");
    tcase_add_checked_fixture(tests, begin, spawn_end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, to_the_terminal_and_to_files);
    tcase_add_loop_test(tests, what_cannot_be, 0, sizeof refusals / sizeof refusals[0]);
    suite_add_tcase(suite, tests);
    return suite;
}
