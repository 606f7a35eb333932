/* check_strips.c - test strips, rounds and what was struck: read into their values, and kept byte by byte. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper.h"

Suite *shop_strips_suite(void);

static const char text[] =
    "bandwright-project: 1\n"
    "outline: {shape: circle, diameter: 140}\n"
    "bands:\n"
    "  - name: weave\n"
    "    width: 21\n"
    "    fill: basket\n"
    "    tool: basket-m\n"
    "    struck:   # on the bench\n"
    "      - {run: 1, impressions: 40, of: 40, left: 8.1, aimed: 7.93, done: yes}\n"
    "      - {impressions: 12, of: 42, mood: good}\n"
    "tools:\n"
    "  - id: basket-m\n"
    "    kind: basket\n"
    "    length: 9.5\n"
    "    width: 6.4\n"
    "    bar: 3.1\n"
    "    strips:\n"
    "      - {impressions: 10, length: 67.6, leather: \"8 oz shoulder\", date: 2026-03-02}  # dry\n"
    "      - {impressions: 10, length: 67.9}\n"
    "      # the next with great care\n"
    "      - {places: [7.4, 15.1, 1/2 in], struck: closest}\n"
    "      - {impressions: 5, length: 1 1/2 in, struck: widest, hammer: \"16 oz\"}\n"
    "    rounds: [{impressions: 41, length: 316, aimed: 7.9, piece: lid}]\n";

static shop_project *read_text(const char *yaml, char **said) {
    shop_project *project;
    *said = paper_read(yaml, strlen(yaml), &project);
    return project;
}

/* The third strip's last place lies before the one in front of it: told with line and column of that very place. */
START_TEST(places_go_on) {
    char *said;
    ck_assert_ptr_null(read_text(text, &said));
    ck_assert_msg(strstr(said, "lid.yaml:21:30: error: tools.basket-m.strips[3].places[3]: found '1/2 in'; each place"),
                  "%s", said);
    free(said);
}
END_TEST

static char *mended(void) {
    char *yaml = strdup(text), *at = strstr(yaml, "1/2 in], struck: closest");
    ck_assert_ptr_nonnull(at);
    memcpy(at, "7/8 in", 6);
    return yaml;
}

START_TEST(all_of_it_is_read) {
    char *said, *yaml = mended();
    shop_project *p = read_text(yaml, &said);
    ck_assert_msg(p != NULL, "%s", said);
    const bw_tool *tool = &p->tools[0];
    const bw_strip *s = tool->strips;
    ck_assert_uint_eq(tool->strip_count, 5);
    ck_assert_int_eq(s[0].impressions, 10);
    ck_assert_double_eq_tol(s[0].length, 67.6, 1e-12);
    ck_assert(isnan(s[0].aimed) && !s[0].round && s[0].struck == BW_STRUCK_USUAL);
    ck_assert_int_eq(strncmp(p->tool_about[0].strip_about[0].leather.bytes, "8 oz shoulder", 13), 0);
    ck_assert_uint_eq(p->tool_about[0].strip_about[0].date.length, 10);
    ck_assert_uint_eq(s[2].place_count, 3);
    ck_assert_double_eq_tol(s[2].places[2], 22.225, 1e-12);
    ck_assert_int_eq(s[2].struck, BW_STRUCK_CLOSEST);
    ck_assert_double_eq_tol(s[3].length, 38.1, 1e-12);
    ck_assert_int_eq(s[3].struck, BW_STRUCK_WIDEST);
    ck_assert(s[4].round && s[4].impressions == 41);
    ck_assert_double_eq_tol(s[4].aimed, 7.9, 1e-12);
    ck_assert_uint_eq(p->band_about[0].struck_count, 2);
    const shop_struck *struck = p->band_about[0].struck;
    ck_assert(struck[0].done && struck[0].impressions == 40 && struck[0].of == 40);
    ck_assert_double_eq_tol(struck[0].left, 8.1, 1e-12);
    ck_assert(!struck[1].done && struck[1].run == 1 && struck[1].row == 0 && isnan(struck[1].left));
    ck_assert_msg(strstr(said, "bands.weave.struck[2].mood: unknown key, kept as it is") != NULL, "%s", said);
    /* the steps: 67.75/9, 22.225/3, 38.1/4; a round with an aim sets none */
    ck_assert_double_eq_tol(tool->usual, 67.75 / 9, 1e-9);
    ck_assert_double_eq_tol(tool->closest, 22.225 / 3, 1e-9);
    ck_assert_double_eq_tol(tool->widest, 38.1 / 4, 1e-9);
    ck_assert_uint_eq(tool->from_strips, 7);
    shop_project_free(p);
    free(said);
    free(yaml);
}
END_TEST

/* A change elsewhere, and one of a strip, leave every other byte; taken back, all are as before. */
START_TEST(bytes_stay) {
    static const char *const edits[][3] = {{"piece", NULL, "Lid"},
                                           {"tools.basket-m.strips[2].length", "67.9", "68.1"},
                                           {"tools.basket-m.strips[5]", NULL, "{impressions: 10, length: 67.4}"},
                                           {"bands.weave.struck[2].impressions", "12", "13"}};
    char *yaml = mended();
    for (size_t i = 0; i < sizeof edits / sizeof edits[0]; i++) {
        size_t length, back_length;
        char *why, *other = paper_edit(yaml, strlen(yaml), edits[i][0], edits[i][1], edits[i][2], &length, &why);
        ck_assert_msg(other != NULL, "%s: %s", edits[i][0], why);
        ck_assert_ptr_nonnull(strstr(other, edits[i][2]));
        ck_assert_ptr_nonnull(strstr(other, "# the next with great care"));
        ck_assert_ptr_nonnull(strstr(other, "hammer: \"16 oz\""));
        free(why);
        char *back = paper_edit(other, length, edits[i][0], edits[i][2], edits[i][1], &back_length, &why);
        ck_assert_msg(back != NULL && strcmp(back, yaml) == 0, "%s and back:\n%s", edits[i][0], back);
        free(why);
        free(back);
        free(other);
    }
    free(yaml);
}
END_TEST

static bw_tool stamp(const char *keys, char said_out[400]) {
    char yaml[600], *said;
    snprintf(yaml, sizeof yaml,
             "bandwright-project: 1\noutline: {shape: line, length: 200}\ntools: [{id: t, kind: basket, length: 9.5, "
             "bar: 3.1, %s}]\n",
             keys);
    shop_project *p = read_text(yaml, &said);
    ck_assert_msg(p != NULL, "%s", said);
    snprintf(said_out, 400, "%s", said);
    bw_tool tool = p->tools[0];
    shop_project_free(p);
    free(said);
    return tool;
}

/* What is given wins; what does not lie between the others is left out and noted. */
START_TEST(given_steps_win) {
    char said[400];
    bw_tool t = stamp("steps: {usual: 7.6}, strips: [{impressions: 10, length: 67.5}]", said);
    ck_assert_double_eq_tol(t.usual, 7.6, 1e-12);
    ck_assert_uint_eq(t.from_strips, 0);
    t = stamp("strips: [{impressions: 10, length: 90}]", said); /* a step of 10, over the face */
    ck_assert(isnan(t.usual));
    ck_assert_uint_eq(t.from_strips, 0);
    ck_assert_uint_eq(t.off_strips, 1u << BW_STRUCK_USUAL);
    t = stamp("strips: [{impressions: 10, length: 90}, {impressions: 10, length: 99, struck: widest}]", said);
    ck_assert_double_eq_tol(t.usual, 10, 1e-12); /* measured on both sides: the face warns, the hand is believed */
    ck_assert_uint_eq(t.off_strips, 0);
}
END_TEST

Suite *shop_strips_suite(void) {
    Suite *suite = suite_create("shop/strips");
    TCase *tests = tcase_create("strips");
    tcase_add_test(tests, places_go_on);
    tcase_add_test(tests, all_of_it_is_read);
    tcase_add_test(tests, bytes_stay);
    tcase_add_test(tests, given_steps_win);
    suite_add_tcase(suite, tests);
    return suite;
}
