/* check_bad.c - files that are no projects, by mistake or on purpose: an error with a place and a reason, quickly, and
 * never a crash. */
#include <check.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "paper.h"

Suite *shop_bad_suite(void);

#define HEAD "bandwright-project: 1\n"
#define CIRCLE "outline: {shape: circle, diameter: 140}\n"

typedef struct row {
    const char *bytes;
    size_t length;
    const char *said[2]; /* all that stand there must be said */
} row;

#define ROW(bytes, ...)                                                                                                \
    {                                                                                                                  \
        bytes, sizeof(bytes) - 1, {                                                                                    \
            __VA_ARGS__                                                                                                \
        }                                                                                                              \
    }

static const row rows[] = {
    ROW("", "lid.yaml:1:1: error: the file is empty"),
    ROW("\xEF\xBB\xBF", "1:1: error: the file is empty"),
    ROW("# nothing but a comment\n", "the file is empty"),
    ROW("---\n...\n", "the file is empty"),
    ROW("just words\n", "no list of keys and values"),
    ROW("- a\n- list\n", "no list of keys and values"),
    ROW(HEAD CIRCLE "---\na: 1\n", "lid.yaml:3:1: error: a second document"),
    ROW(HEAD "outline: {shape: circle\n", "3:1: error: this is no YAML"),
    ROW(HEAD CIRCLE "bands:\n\t- name: a\n", "4:1: error: this is no YAML"),
    ROW(HEAD CIRCLE "piece: \x1B[31m\n", "3:8: error: this is no readable text"),
    ROW(HEAD CIRCLE "piece: a\0b\n", "3:9: error: this is no readable text"),
    ROW(HEAD "piece: \xFF\n", "2:8: error: this is no readable text"),
    ROW(HEAD "piece: \xC0\xAF\n", "this is no readable text"),
    ROW("\xFE\xFF\0a\0:\0 \0b", "UTF-16"),
    ROW("\xFF\xFE"
        "a\0:\0 \0b\0",
        "UTF-16"),
    ROW("\0a\0:\0 \0b", "UTF-16"),
    ROW("a\0:\0 \0b\0", "UTF-16"),
    ROW("\0\1bin", "lid.yaml:1:1: error: this is no readable text"),
    ROW("a\0bin", "lid.yaml:1:2: error: this is no readable text"),
    ROW(HEAD CIRCLE "units: mm\nunits: in\n", "lid.yaml:4:1: error: the key 'units' stands here a second time",
        "line 3"),
    ROW(HEAD "outline: {shape: circle, diameter: 1, diameter: 2}\n", "2:39: error: the key 'diameter'"),
    ROW(HEAD CIRCLE "x: {a: 1, 'a': 2}\n", "3:11: error: the key 'a'"),
    ROW(HEAD CIRCLE "piece: !secret x\n", "3:16: error: unknown tag"),
    ROW(HEAD CIRCLE "piece: !!python/object x\n", "unknown tag"),
    ROW(HEAD CIRCLE "a: *nowhere\n", "3:4: error: an alias to an anchor that is not there"),
    ROW(HEAD CIRCLE "a: &a [*a]\n", "an alias to the value that it stands in"),
    ROW(HEAD CIRCLE "a: &a {b: {c: *a}}\n", "an alias to the value that it stands in"),
    ROW(HEAD "outline: {shape: circle, diameter: .nan}\n", "outline.diameter: found '.nan'"),
    ROW(HEAD "outline: {shape: circle, diameter: .inf}\n", "found '.inf'"),
    ROW(HEAD "outline: {shape: circle, diameter: 1e400}\n", "found '1e400'", "exponent"),
    ROW(HEAD "outline: {shape: circle, diameter: 0x8C}\n", "found '0x8C'", "hexadecimal"),
    ROW(HEAD "outline: {shape: circle, diameter: 99999999999999999999999999999999999999}\n", "allowed: 5 to 5000 mm"),
    ROW(HEAD "outline: {shape: circle, diameter: 140 feet}\n", "found '140 feet'; a length is written like"),
    ROW(HEAD "outline: {shape: circle, diameter: \"140\\0\"}\n", "a length is written like"),
    ROW(HEAD CIRCLE "bands: [{name: \"a\\e[2Jb\"}]\n", "found 'a\\x1B[2Jb'", "no control"),
    ROW(HEAD CIRCLE "bands: [{name: \"\\u202Eb\"}]\n", "found '\\u202Eb'"),
    ROW(HEAD CIRCLE "bands: [{name: a}, {name: a}]\n", "bands[2].name: found 'a'; every name stands once"),
    ROW(HEAD CIRCLE "tools: [{id: a, kind: maul}, {id: a, kind: maul}]\n",
        "tools[2].id: found 'a'; every id stands once"),
    ROW(HEAD CIRCLE "bands: [{name: a, fill: basket, tool: gone}]\n",
        "bands.a.tool: found 'gone'; the piece has no tool of this id"),
    ROW(HEAD CIRCLE "bands: &b [{name: a}, *b]\n", "an alias to the value"),
};

START_TEST(bad_files_are_refused_with_a_place_and_a_reason) {
    const row *r = &rows[_i];
    shop_project *project;
    char *said = paper_read(r->bytes, r->length, &project);
    ck_assert_ptr_null(project);
    for (int i = 0; i < 2 && r->said[i]; i++)
        ck_assert_msg(strstr(said, r->said[i]) != NULL, "wanted '%s' in: %s", r->said[i], said);
    for (const char *c = said; *c; c++)
        ck_assert_msg((unsigned char)*c >= ' ' || *c == '\n', "unclean: %s", said);
    free(said);
    shop_problems problems; /* no inventory either */
    shop_problems_init(&problems, NULL);
    ck_assert_ptr_null(shop_inventory_read(r->bytes, r->length, &problems));
    ck_assert_uint_gt(problems.errors, 0);
    shop_problems_free(&problems);
}
END_TEST

/* ---- large ones ---- */

typedef struct heap {
    char *bytes;
    size_t length;
} heap;

static heap repeated(const char *front, const char *unit, size_t count, const char *back) {
    size_t f = strlen(front), u = strlen(unit), b = strlen(back);
    heap h = {malloc(f + u * count + b + 1), f + u * count + b};
    ck_assert_ptr_nonnull(h.bytes);
    memcpy(h.bytes, front, f);
    for (size_t i = 0; i < count; i++)
        memcpy(h.bytes + f + i * u, unit, u);
    memcpy(h.bytes + f + u * count, back, b + 1);
    return h;
}

static double seconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Well under what a person notices, even when watched by a sanitizer. */
static void must_refuse(heap h, const char *wanted) {
    double start = seconds();
    shop_project *project;
    char *said = paper_read(h.bytes, h.length, &project);
    double took = seconds() - start;
    ck_assert_ptr_null(project);
    ck_assert_msg(strstr(said, wanted) != NULL, "wanted '%s' in: %s", wanted, said);
    ck_assert_uint_lt(strlen(said), 100000);
    ck_assert_msg(took < 3, "took %.1f s", took);
    free(said);
    free(h.bytes);
}

START_TEST(ten_megabytes_of_noise) {
    heap h = {malloc(10000000), 10000000};
    ck_assert_ptr_nonnull(h.bytes);
    srand(3);
    for (size_t i = 0; i < h.length; i++)
        h.bytes[i] = (char)(rand() >> 7);
    must_refuse(h, "error");
    must_refuse(repeated(HEAD, "abcdefg: h\n", 900000, ""), "more than 200,000 values");
    must_refuse(repeated(HEAD "a: [", "b,", 5000000, "]"), "more than 200,000 values");
    must_refuse(repeated(HEAD "a: '", "bc ", 3300000, "'\n"), "outline.shape: must be given");
    must_refuse(repeated("# ", "comment ", 1200000, "\n"), "the file is empty");
    must_refuse(repeated("", "x", 10000000, ""), "no list of keys and values");
    must_refuse(repeated("", "\n", 10000000, "a"), "no list of keys and values");
    must_refuse(repeated("", "x", (16u << 20) + 1, ""), "over 16 MiB");
}
END_TEST

START_TEST(deep_nesting) {
    must_refuse(repeated(HEAD "a: ", "[", 40000, ""), "2:67: error: more than 64 lists and mappings inside each other");
    must_refuse(repeated(HEAD "a: ", "{a: ", 40000, ""), "more than 64");
    must_refuse(repeated(HEAD "a:\n  ", "- ", 40000, "x"), "more than 64");
    heap good = repeated(HEAD CIRCLE "a: ", "[", 60, ""); /* as deep as allowed is no error */
    heap all = repeated(good.bytes, "]", 60, "\n");
    shop_project *project = paper_project(all.bytes);
    shop_project_free(project);
    free(good.bytes);
    free(all.bytes);
}
END_TEST

/* Each level repeats the one before nine times: a few hundred bytes stand for nine to the twelfth values. */
START_TEST(alias_bombs) {
    char yaml[4000];
    size_t used = (size_t)snprintf(yaml, sizeof yaml, HEAD CIRCLE "a0: &a0 [x, x, x, x, x, x, x, x, x]\n");
    for (int i = 1; i < 12; i++) {
        used += (size_t)snprintf(yaml + used, sizeof yaml - used, "a%d: &a%d [", i, i);
        for (int k = 0; k < 9; k++)
            used += (size_t)snprintf(yaml + used, sizeof yaml - used, "%s*a%d", k ? ", " : "", i - 1);
        used += (size_t)snprintf(yaml + used, sizeof yaml - used, "]\n");
    }
    heap h = {strdup(yaml), used};
    must_refuse(h, "aliases that would make more than 200,000 values");
    used = (size_t)snprintf(yaml, sizeof yaml, HEAD CIRCLE "a0: &a0 [x]\n"); /* narrow, but deep */
    for (int i = 1; i < 80; i++)
        used += (size_t)snprintf(yaml + used, sizeof yaml - used, "a%d: &a%d [*a%d]\n", i, i, i - 1);
    h = (heap){strdup(yaml), used};
    must_refuse(h, "more than 64 lists and mappings inside each other, aliases written out");
    must_refuse(repeated(HEAD, "- &a x\n", 2000, ""), "error");
    must_refuse(repeated(HEAD "b:\n", "- &a x\n", 2000, ""), "more than 1,000 anchors");
}
END_TEST

START_TEST(ten_thousand_errors_are_told_shortly) {
    must_refuse(repeated(HEAD CIRCLE "tools:\n", "- {id: a.b}\n", 9000, ""), "more that are not listed");
    must_refuse(repeated(HEAD CIRCLE "tools:\n", "- {id: a, kind: maul}\n", 10000, ""), "every id stands once");
    must_refuse(repeated(HEAD CIRCLE "tools:\n", "- {id: a, kind: maul}\n", 10001, ""), "a list of up to 10000 tools");
}
END_TEST

/* ---- files that cannot be read ---- */

START_TEST(what_cannot_be_read_says_why) {
    char folder[] = "/tmp/shop-bad-XXXXXX", path[128];
    ck_assert_ptr_nonnull(mkdtemp(folder));
    snprintf(path, sizeof path, "%s/none.yaml", folder);
    const char *files[] = {path, folder, "", "/dev/null/x"};
    const int numbers[] = {ENOENT, EISDIR, ENOENT, ENOTDIR};
    for (int i = 0; i < 4; i++) {
        shop_problems problems;
        shop_problems_init(&problems, files[i]);
        char *bytes = (char *)"x";
        size_t length = 1;
        ck_assert_int_eq(shop_read(files[i], &bytes, &length, &problems), SHOP_NO_FILE);
        ck_assert_int_eq(errno, numbers[i]);
        ck_assert_ptr_null(bytes);
        ck_assert_uint_eq(length, 0);
        ck_assert_ptr_nonnull(strstr(problems.list[0].text, strerror(numbers[i])));
        shop_problems_free(&problems);
    }
    rmdir(folder);
}
END_TEST

/* Root may read everything, so the right is given up first (in a process of its own, as every test here). */
START_TEST(an_unreadable_file_says_why) {
    char file[] = "/tmp/shop-bad-XXXXXX";
    int descriptor = mkstemp(file);
    ck_assert_int_ge(descriptor, 0);
    close(descriptor);
    ck_assert_int_eq(chmod(file, 0), 0);
    if (geteuid() == 0)
        ck_assert_int_eq(seteuid(65534), 0);
    shop_problems problems;
    shop_problems_init(&problems, file);
    char *bytes;
    size_t length;
    ck_assert_int_eq(shop_read(file, &bytes, &length, &problems), SHOP_NO_FILE);
    ck_assert_int_eq(errno, EACCES);
    shop_problems_free(&problems);
    if (getuid() == 0)
        ck_assert_int_eq(seteuid(0), 0);
    unlink(file);
}
END_TEST

START_TEST(an_endless_file_is_left_off) {
    shop_problems problems;
    shop_problems_init(&problems, "/dev/zero");
    char *bytes;
    size_t length;
    ck_assert_int_eq(shop_read("/dev/zero", &bytes, &length, &problems), SHOP_BAD_FILE);
    ck_assert_ptr_null(bytes);
    shop_problems_free(&problems);
}
END_TEST

Suite *shop_bad_suite(void) {
    Suite *suite = suite_create("bad");
    TCase *all = tcase_create("files");
    tcase_set_timeout(all, 60);
    tcase_add_loop_test(all, bad_files_are_refused_with_a_place_and_a_reason, 0, sizeof rows / sizeof rows[0]);
    tcase_add_test(all, ten_megabytes_of_noise);
    tcase_add_test(all, deep_nesting);
    tcase_add_test(all, alias_bombs);
    tcase_add_test(all, ten_thousand_errors_are_told_shortly);
    tcase_add_test(all, what_cannot_be_read_says_why);
    tcase_add_test(all, an_unreadable_file_says_why);
    tcase_add_test(all, an_endless_file_is_left_off);
    suite_add_tcase(suite, all);
    return suite;
}
