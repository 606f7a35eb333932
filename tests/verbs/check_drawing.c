/* check_drawing.c - how fine drawings are: from the option, else from the environment, and never in a locale that has not
 * the characters; nonsense is told. */
#include <check.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "verbs/spawn.h"

Suite *verbs_drawing_suite(void);

static void begin(void) {
    spawn_begin();
    spawn_copy("projects/cedar-lid.yaml", "lid.yaml");
    spawn_write("v.keys", "z\n", 2);
}

/* The screen with what stands before and behind the program's name; malloc'ed. */
static char *screen(const char *environment, const char *options) {
    const spawned *run = spawn("%s $BW --keys v.keys --screen - --size 80x24 %s lid.yaml", environment, options);
    ck_assert_msg(run->status == 0, "%s", run->err);
    return strdup(run->out);
}

static bool has_braille(const char *text) {
    return strstr(text, "\xE2\xA0") != NULL || strstr(text, "\xE2\xA1") != NULL || strstr(text, "\xE2\xA2") != NULL;
}

static bool is_ascii(const char *text) {
    while (*text != '\0' && (unsigned char)*text < 0x80)
        text++;
    return *text == '\0';
}

START_TEST(option_before_environment_before_plain) {
    char *usual = screen("LC_ALL=C.UTF-8", ""), *fine = screen("LC_ALL=C.UTF-8", "--drawing braille");
    char *kept = screen("LC_ALL=C.UTF-8 BANDWRIGHT_DRAWING=braille", "");
    char *both = screen("LC_ALL=C.UTF-8 BANDWRIGHT_DRAWING=braille", "--drawing=plain");
    char *blocks = screen("LC_ALL=C.UTF-8", "--drawing blocks");
    char *no = screen("LC_ALL=C BANDWRIGHT_DRAWING=braille", "");
    ck_assert(is_ascii(usual));
    ck_assert(has_braille(fine));
    ck_assert_str_eq(fine, kept);
    ck_assert_str_eq(both, usual);
    ck_assert(!has_braille(blocks) && !is_ascii(blocks));
    ck_assert_str_eq(no, usual);
    char *const all[] = {usual, fine, kept, both, blocks, no};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        free(all[i]);
}
END_TEST

static const char *const nonsense[] = {"Braille", "2x4", "fine", "plain ", "block"};

START_TEST(nonsense_is_told) {
    const spawned *run = spawn("$BW --keys v.keys --screen - --drawing '%s' lid.yaml", nonsense[_i]);
    ck_assert_int_eq(run->status, 2);
    ck_assert_ptr_nonnull(strstr(run->err, "--drawing: drawings are plain, blocks or braille"));
    run = spawn("BANDWRIGHT_DRAWING='%s' $BW --keys v.keys --screen - lid.yaml", nonsense[_i]);
    ck_assert_int_eq(run->status, 2);
    ck_assert_ptr_nonnull(strstr(run->err, "BANDWRIGHT_DRAWING: drawings are"));
}
END_TEST

Suite *verbs_drawing_suite(void) {
    Suite *suite = suite_create("verbs/drawing");
    TCase *tests = tcase_create("drawing");
    tcase_add_checked_fixture(tests, begin, spawn_end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, option_before_environment_before_plain);
    tcase_add_loop_test(tests, nonsense_is_told, 0, (int)(sizeof nonsense / sizeof nonsense[0]));
    suite_add_tcase(suite, tests);
    return suite;
}
