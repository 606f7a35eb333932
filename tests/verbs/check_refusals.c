/* check_refusals.c - bad files and failing writes: a clear message, the right status, never a crash. */
#include <check.h>
#include <regex.h>
#include <stdlib.h>
#include <string.h>

#include "verbs/spawn.h"

Suite *verbs_refusals_suite(void);

#define HEAD "bandwright-project: 1\n"
#define ROUND HEAD "outline: {shape: circle, diameter: 100}\n"

/* A file's text, and where the message must point (line 0: anywhere). */
static const struct {
    const char *text;
    int line;
} bad[] = {
    {"", 0},
    {"\n\n", 0},
    {"just words\n", 1},
    {"[1, 2]\n", 1},
    {"bandwright-project: 2\noutline: {shape: circle, diameter: 100}\n", 1},
    {"bandwright-project: one\noutline: {shape: circle, diameter: 100}\n", 1},
    {"outline: {shape: circle, diameter: 100}\n", 0},
    {HEAD, 0},
    {HEAD "outline: {shape: egg}\n", 2},
    {HEAD "outline: {shape: circle}\n", 2},
    {HEAD "outline: {shape: circle, diameter: -100}\n", 2},
    {HEAD "outline: {shape: circle, diameter: 0}\n", 2},
    {HEAD "outline: {shape: circle, diameter: nan}\n", 2},
    {HEAD "outline: {shape: circle, diameter: .nan}\n", 2},
    {HEAD "outline: {shape: circle, diameter: inf}\n", 2},
    {HEAD "outline: {shape: circle, diameter: 1e2}\n", 2},
    {HEAD "outline: {shape: circle, diameter: 0x64}\n", 2},
    {HEAD "outline: {shape: circle, diameter: '100,5'}\n", 2},
    {HEAD "outline: {shape: circle, diameter: 99999999999999999999999999}\n", 2},
    {HEAD "outline: {shape: circle, diameter: 100 furlongs}\n", 2},
    {HEAD "outline: {shape: circle, diameter: [100]}\n", 2},
    {HEAD "outline: {shape: circle, diameter: 100, around: 300}\n", 2},
    {HEAD "outline: 100\n", 1},
    {HEAD "outline: {shape: circle, diameter: 100\n", 0},
    {HEAD "outline: {shape: circle, diameter: 100}\noutline: {shape: line, length: 5}\n", 3},
    {HEAD "outline: {shape: rectangle, length: 100, width: 50, corner: 30}\n", 2},
    {HEAD "outline: {shape: arc, radius: 100, sweep: 0}\n", 2},
    {ROUND "units: miles\n", 3},
    {ROUND "bands: []\nbands: []\n", 4},
    {ROUND "bands: seven\n", 3},
    {ROUND "bands:\n  - {width: 5}\n", 4},
    {ROUND "bands:\n  - {name: a, width: 5}\n  - {name: a, width: 5}\n", 5},
    {ROUND "bands:\n  - {name: 'a.b', width: 5}\n", 4},
    {ROUND "bands:\n  - {name: a, width: 5, fill: basket}\n", 4},
    {ROUND "bands:\n  - {name: a, width: 5, fill: basket, tool: none}\n", 4},
    {ROUND
     "bands:\n  - {name: a, width: 5, fill: basket, tool: t}\ntools:\n  - {id: t, kind: border, length: 5, width: "
     "5}\n",
     4},
    {ROUND "tools:\n  - {id: t, kind: basket, length: 9, bar: 9}\n", 4},
    {ROUND "tools:\n  - {id: t, kind: basket, length: 9}\n  - {id: t, kind: basket, length: 9}\n", 5},
    {ROUND "tools:\n  - {id: t, kind: spoon}\n", 4},
    {ROUND "---\n" ROUND, 0},
    {ROUND "piece: \"\x01\"\n", 0},
    {ROUND "piece: \"\xff\xfe\"\n", 0},
};

START_TEST(bad_file) {
    spawn_write("bad.yaml", bad[_i].text, strlen(bad[_i].text));
    static const char *const verbs[] = {"plan", "fit", "get", "set"};
    for (size_t i = 0; i < sizeof verbs / sizeof verbs[0]; i++) {
        const spawned *run = spawn("$BW %s bad.yaml %s", verbs[i], i == 3 ? "outline.diameter=50" : "");
        ck_assert_msg(run->status == 65, "%s, status %d:\n%s%s", verbs[i], run->status, bad[_i].text, run->err);
        ck_assert_uint_eq(run->out_length, 0);
        regex_t form;
        regmatch_t found[2];
        ck_assert_int_eq(regcomp(&form, "^bad\\.yaml:([0-9]+:[0-9]+:)? error: .+\n", REG_EXTENDED), 0);
        ck_assert_msg(regexec(&form, run->err, 2, found, 0) == 0, "%s:\n%s", bad[_i].text, run->err);
        int line = found[1].rm_so >= 0 ? atoi(run->err + found[1].rm_so) : 0;
        ck_assert_msg(bad[_i].line == 0 || line == bad[_i].line, "%s:\nline %d: %s", bad[_i].text, line, run->err);
        regfree(&form);
    }
    size_t length;
    char *now = spawn_read("bad.yaml", &length);
    ck_assert_str_eq(now, bad[_i].text);
    free(now);
}
END_TEST

/* All errors of a file in one go. */
START_TEST(every_error_at_once) {
    const char *text = HEAD "units: miles\noutline: {shape: circle, diameter: -1}\nbands:\n  - {name: a, width: x}\n"
                            "  - {name: a, space: -5}\n";
    spawn_write("bad.yaml", text, strlen(text));
    const spawned *run = spawn("$BW plan bad.yaml");
    int errors = 0;
    for (const char *at = run->err; (at = strstr(at, ": error: ")) != NULL; at++) {
        errors++;
    }
    ck_assert_msg(errors >= 5, "%s", run->err);
}
END_TEST

START_TEST(no_such_file) {
    ck_assert_int_eq(spawn("$BW plan nothing.yaml")->status, 66);
    ck_assert_int_eq(spawn("$BW plan .")->status, 66);
    ck_assert_int_eq(spawn("touch file; $BW plan file/lid.yaml")->status, 66);
    ck_assert_int_eq(spawn("ln -s loop loop; $BW plan loop")->status, 66);
    ck_assert_int_eq(spawn("$BW set nothing.yaml outline.diameter=5")->status, 66);
    const spawned *run = spawn("test -e nothing.yaml");
    ck_assert_int_ne(run->status, 0);
    spawn_write("lid.yaml", ROUND, strlen(ROUND));
    ck_assert_int_eq(spawn("$BW plan -i nothing.yaml lid.yaml")->status, 66);
    spawn_write("shop.yaml", "bandwright-inventory: nine\n", 27);
    ck_assert_int_eq(spawn("$BW plan -i shop.yaml lid.yaml")->status, 65);
    /* the usual inventory need not be there, but what is there must be sound */
    ck_assert_int_eq(spawn("$BW plan lid.yaml")->status, 0);
    run = spawn("mkdir -p data/bandwright; cp shop.yaml data/bandwright/inventory.yaml; "
                "XDG_DATA_HOME=$PWD/data $BW plan lid.yaml");
    ck_assert_int_eq(run->status, 65);
}
END_TEST

/* Ten megabytes of noise, deep nesting, aliases that multiply: an answer, soon. */
START_TEST(hostile_files) {
    static const char *const makers[] = {
        "head -c 10000000 /dev/urandom",
        "head -c 10000000 /dev/zero",
        "yes '[' | head -n 40000 | tr -d '\\n'",
        "yes '{a: ' | head -n 40000 | tr -d '\\n'",
        "yes '- ' | head -n 40000 | tr -d '\\n'",
        ("echo 'a: &a [x,x,x,x,x,x,x,x]'; p=a; for n in b c d e f g h i j k l m; do "
         "echo \"$n: &$n [*$p,*$p,*$p,*$p,*$p,*$p,*$p,*$p]\"; p=$n; done"),
        "echo 'bandwright-project: 1'; echo 'outline: &o {shape: circle, diameter: 100, self: *o}'",
        "yes 'a: 1' | head -n 300000",
        "printf 'a: '; head -c 9000000 /dev/zero | tr '\\0' 1",
    };
    for (size_t i = 0; i < sizeof makers / sizeof makers[0]; i++) {
        const spawned *run = spawn("{ %s; } > hostile.yaml; timeout 10 $BW plan hostile.yaml", makers[i]);
        ck_assert_msg(run->status == 65, "%s: %d\n%.500s", makers[i], run->status, run->err);
        ck_assert_msg(strstr(run->err, "error: ") != NULL && strlen(run->err) < 100000, "%s: %.500s", makers[i],
                      run->err);
    }
}
END_TEST

/* What a file holds never reaches the terminal as a control. */
START_TEST(nothing_unsafe_is_written) {
    const char *text = HEAD "piece: \"\\e]0;x\\a\\x9b31m\\u202Epiece\\0\"\noutline: {shape: circle, diameter: "
                            "\"\\e[2J\"}\n";
    spawn_write("bad.yaml", text, strlen(text));
    const spawned *run = spawn("$BW plan bad.yaml");
    ck_assert_int_eq(run->status, 65);
    for (const char *at = run->err; *at != '\0'; at++) {
        ck_assert_msg((unsigned char)*at >= 32 || *at == '\n', "%s", run->err);
    }
    text = "bandwright-project: 1\npiece: \"\\e]0;x\\a\\u202Epiece\\0\"\noutline: {shape: circle, diameter: 100}\n"
           "bands: [{name: b, width: 5}]\n";
    spawn_write("odd.yaml", text, strlen(text));
    static const char *const lines[] = {"$BW plan odd.yaml", "$BW plan -fyaml odd.yaml", "$BW plan -fcsv odd.yaml",
                                        "$BW get odd.yaml", "$BW get odd.yaml \"$(printf '\\033[2J')\""};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        run = spawn("%s", lines[i]);
        for (size_t k = 0; k < run->out_length; k++) {
            unsigned char byte = (unsigned char)run->out[k];
            ck_assert_msg(byte >= 32 || byte == '\n' || byte == '\r', "%s: %s", lines[i], run->out);
        }
        ck_assert_msg(strchr(run->err, '\033') == NULL, "%s: %s", lines[i], run->err);
        ck_assert_ptr_null(strstr(run->out, "\xe2\x80\xae")); /* U+202E */
    }
}
END_TEST

START_TEST(failing_writes) {
    spawn_copy("tests/show/golden/cedar-lid.yaml", "lid.yaml");
    static const char *const lines[] = {"$BW plan lid.yaml", "$BW plan -f yaml lid.yaml", "$BW plan -f csv lid.yaml",
                                        "$BW fit lid.yaml",  "$BW get lid.yaml",          "$BW --help",
                                        "$BW --version",     "$BW --completions",         "$BW get lid.yaml piece",
                                        "$BW plan --help"};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        const spawned *run = spawn("%s > /dev/full", lines[i]);
        ck_assert_msg(run->status == 74 && run->err[0] != '\0', "%s > /dev/full: %d %s", lines[i], run->status,
                      run->err);
        run = spawn("%s >&-", lines[i]);
        ck_assert_msg(run->status == 74, "%s >&-: %d %s", lines[i], run->status, run->err);
        run = spawn("{ sleep 0.2; %s; echo $? > status; } | true; cat status", lines[i]);
        ck_assert_msg(strcmp(run->out, "74\n") == 0, "%s | true: %s %s", lines[i], run->out, run->err);
    }
    /* without a standard output, set must not write its words into the file it opens */
    ck_assert_int_ne(spawn("$BW set lid.yaml outline.diameter=141 >&- 2>&-")->status, 65);
    ck_assert_str_eq(spawn("$BW get lid.yaml outline.diameter")->out, "outline.diameter=141\n");
}
END_TEST

/* Commas are decimal points in many locales; files and output keep the point. */
START_TEST(other_locales) {
    spawn_copy("tests/show/golden/cedar-lid.yaml", "lid.yaml");
    const spawned *run =
        spawn("LC_ALL=de_DE.UTF-8 $BW plan -fyaml lid.yaml > de; LC_ALL=C $BW plan -fyaml lid.yaml > c; "
              "cmp de c && locale -a | grep -q de_DE.utf8");
    ck_assert_msg(run->status == 0, "%s%s", run->out, run->err);
    ck_assert_int_eq(spawn("LC_ALL=nonsense $BW plan lid.yaml")->status, 0);
}
END_TEST

Suite *verbs_refusals_suite(void) {
    Suite *suite = suite_create("verbs/refusals");
    TCase *tests = tcase_create("refusals");
    tcase_add_checked_fixture(tests, spawn_begin, spawn_end);
    tcase_set_timeout(tests, 120);
    tcase_add_loop_test(tests, bad_file, 0, (int)(sizeof bad / sizeof bad[0]));
    tcase_add_test(tests, every_error_at_once);
    tcase_add_test(tests, no_such_file);
    tcase_add_test(tests, hostile_files);
    tcase_add_test(tests, nothing_unsafe_is_written);
    tcase_add_test(tests, failing_writes);
    tcase_add_test(tests, other_locales);
    suite_add_tcase(suite, tests);
    return suite;
}
