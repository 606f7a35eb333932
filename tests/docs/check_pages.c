/* check_pages.c - the man pages say what the program's tables and headers say, and are clean.
 *
 * With BW_WRITE=1 in the environment the parts that come from tables are written into the pages first.
 */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/plan.h"
#include "bench/bench.h"
#include "docs/pages.h"
#include "verbs/verbs.h"

Suite *docs_pages_suite(void);

static const struct {
    const char *file;
    int parts;
} pages[] = {{"man/bandwright.1", 4}, {"man/bandwright-files.5", 6}, {"man/libbandwright.3", 15}};
enum { PAGES = sizeof pages / sizeof pages[0] };

static void write_page(const char *file, const char *text) {
    FILE *to = fopen(file, "wb");
    ck_assert_ptr_nonnull(to);
    ck_assert_int_ge(fputs(text, to), 0);
    ck_assert_int_eq(fclose(to), 0);
}

START_TEST(parts_are_those_of_the_tables) {
    size_t length;
    char *page = pages_read(pages[_i].file, &length);
    ck_assert_ptr_nonnull(page);
    int parts;
    char *renewed = pages_renew(page, length, &parts);
    ck_assert_msg(renewed != NULL, "%s: a part is unknown, or not ended", pages[_i].file);
    ck_assert_int_eq(parts, pages[_i].parts);
    if (getenv("BW_WRITE") != NULL) {
        write_page(pages[_i].file, renewed);
    } else {
        ck_assert_msg(strcmp(page, renewed) == 0, "%s is behind the tables: BW_WRITE=1 build/runner docs/ writes it",
                      pages[_i].file);
    }
    free(renewed);
    free(page);
}
END_TEST

/* Files that are written from the tables as a whole. */
static const struct {
    const char *file;
    void (*write)(FILE *to);
} whole[] = {{"share/completions/bandwright", verb_completions}, {"share/keys", bench_keys_shipped}};

START_TEST(files_are_those_of_the_tables) {
    const char *file = whole[_i].file;
    char *script = NULL;
    size_t room;
    FILE *to = open_memstream(&script, &room);
    ck_assert_ptr_nonnull(to);
    whole[_i].write(to);
    fclose(to);
    if (getenv("BW_WRITE") != NULL) {
        write_page(file, script);
    }
    char *kept = pages_read(file, NULL);
    ck_assert_ptr_nonnull(kept);
    ck_assert_msg(strcmp(kept, script) == 0, "%s is behind the tables: BW_WRITE=1 build/runner docs/ writes it", file);
    free(kept);
    free(script);
}
END_TEST

/* groff finds no fault, and a fault put in is found. */
START_TEST(pages_are_clean) {
    char command[300], said[400] = "";
    snprintf(command, sizeof command, "groff -man -Tutf8 -ww -z %s 2>&1", pages[_i].file);
    FILE *lint = popen(command, "r");
    ck_assert_ptr_nonnull(lint);
    size_t got = fread(said, 1, sizeof said - 1, lint);
    said[got] = '\0';
    ck_assert_int_eq(pclose(lint), 0);
    ck_assert_str_eq(said, "");
}
END_TEST

START_TEST(a_fault_would_be_found) {
    FILE *lint = popen("printf '.TH x 1\\n.nonsense\\n' | groff -man -Tutf8 -ww -z 2>&1", "r");
    ck_assert_ptr_nonnull(lint);
    char said[400];
    ck_assert_uint_gt(fread(said, 1, sizeof said, lint), 0);
    pclose(lint);
}
END_TEST

START_TEST(every_verdict_and_warning_is_told) {
    static const char *const files[] = {"man/bandwright-files.5", "README.md"};
    for (size_t f = 0; f < sizeof files / sizeof files[0]; f++) {
        char *text = pages_read(files[f], NULL);
        ck_assert_ptr_nonnull(text);
        for (int verdict = BW_NO_ROOM; verdict <= BW_GOOD; verdict++) {
            const char *word = bw_verdict_word((bw_verdict)verdict);
            ck_assert_msg(strstr(text, word) != NULL, "%s says nothing of '%s'", files[f], word);
        }
        free(text);
    }
    char *page = pages_read(files[0], NULL);
    for (int kind = BW_WARN_BARE_STRIP; kind <= BW_WARN_TOOL_DIFFERS; kind++) {
        char line[80]; /* hyphens are written \- there */
        char *shown = NULL;
        size_t room;
        FILE *to = open_memstream(&shown, &room);
        pages_literal(to, bw_warning_word((bw_warning_kind)kind));
        fclose(to);
        snprintf(line, sizeof line, ".B %s\n", shown);
        ck_assert_msg(strstr(page, line) != NULL, "the page of files says nothing of %s", shown);
        free(shown);
    }
    free(page);
}
END_TEST

/* What the page says of the kinds that have a field: "(basket, border, iron)". */
static void kinds_told(const char *page, const char *path, char told[80]) {
    char line[120];
    snprintf(line, sizeof line, "\n.B %s\n", path);
    const char *at = strstr(page, line);
    ck_assert_msg(at != NULL && at[strlen(line)] == '(', "no kinds of %s", path);
    snprintf(told, 80, "%.*s", (int)strcspn(at + strlen(line), ")"), at + strlen(line));
}

/* Strips and rounds are those of their tool: whatever has the list has its values. */
START_TEST(values_of_lists_belong_to_their_tools) {
    static const char *const lists[] = {"tools[].strips", "tools[].rounds"};
    char *page = pages_read("man/bandwright-files.5", NULL), parent[80], told[80];
    ck_assert_ptr_nonnull(page);
    size_t count, seen = 0;
    const shop_field *fields = shop_fields(&count);
    for (size_t l = 0; l < 2; l++) {
        kinds_told(page, lists[l], parent);
        ck_assert_str_eq(parent, "(basket, border, iron");
        for (size_t i = 0; i < count; i++) {
            size_t length = strlen(lists[l]);
            if (strncmp(fields[i].path, lists[l], length) == 0 && fields[i].path[length] == '[') {
                kinds_told(page, fields[i].path, told);
                ck_assert_msg(strcmp(told, parent) == 0, "%s: %s)", fields[i].path, told);
                seen++;
            }
        }
    }
    ck_assert_uint_gt(seen, 10);
    free(page);
}
END_TEST

Suite *docs_pages_suite(void) {
    Suite *suite = suite_create("docs: man pages");
    TCase *tests = tcase_create("pages");
    tcase_add_loop_test(tests, parts_are_those_of_the_tables, 0, PAGES);
    tcase_add_loop_test(tests, pages_are_clean, 0, PAGES);
    tcase_add_loop_test(tests, files_are_those_of_the_tables, 0, 2);
    tcase_add_test(tests, a_fault_would_be_found);
    tcase_add_test(tests, every_verdict_and_warning_is_told);
    tcase_add_test(tests, values_of_lists_belong_to_their_tools);
    suite_add_tcase(suite, tests);
    return suite;
}
