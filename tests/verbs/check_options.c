/* check_options.c - how arguments are read (POSIX.1-2017, XBD 12.2), help, version, completion. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "verbs/spawn.h"
#include "verbs/verbs.h"

Suite *verbs_options_suite(void);

static const char lid[] = "bandwright-project: 1\n"
                          "outline: {shape: circle, diameter: 120}\n"
                          "bands:\n"
                          "  - {name: rim, width: 6, fill: border, tool: s, outer: {line: cut}}\n"
                          "tools:\n"
                          "  - {id: s, kind: border, length: 5, width: 5}\n";

static void begin(void) {
    spawn_begin();
    spawn_write("lid.yaml", lid, strlen(lid));
    spawn_write("plan", lid, strlen(lid));
    spawn_write("-lid.yaml", lid, strlen(lid));
    spawn_write("shop.yaml", "bandwright-inventory: 1\ntools: []\n", 34);
}

static const struct {
    const char *line;
    int status;
    const char *out; /* how standard output begins */
} lines[] = {
    {"$BW plan lid.yaml", 0, "lid\n"},
    {"$BW plan --format yaml lid.yaml", 0, "bandwright-plan: 1\n"},
    {"$BW plan --format=yaml lid.yaml", 0, "bandwright-plan: 1\n"},
    {"$BW plan -f yaml lid.yaml", 0, "bandwright-plan: 1\n"},
    {"$BW plan -fyaml lid.yaml", 0, "bandwright-plan: 1\n"},
    {"$BW plan lid.yaml -f csv", 0, "band,row,run,number,x,y,turn,along,cover\r\n"},
    {"$BW plan -f csv -f yaml lid.yaml", 0, "bandwright-plan: 1\n"},
    {"$BW -i shop.yaml plan lid.yaml", 0, "lid\n"},
    {"$BW plan lid.yaml --inventory shop.yaml", 0, "lid\n"},
    {"$BW plan -i shop.yaml -fyaml -- lid.yaml", 0, "bandwright-plan: 1\n"},
    {"$BW plan -- -lid.yaml", 0, "-lid\n"},
    {"$BW plan ./-lid.yaml", 0, "-lid\n"},
    {"$BW plan plan", 0, "plan\n"},
    {"$BW plan ./plan", 0, "plan\n"},
    {"POSIXLY_CORRECT=1 $BW plan -f yaml lid.yaml", 0, "bandwright-plan: 1\n"},
    {"POSIXLY_CORRECT=1 $BW plan lid.yaml -f yaml", 66, "lid\n"}, /* -f and yaml are files then */
    {"POSIXLY_CORRECT=1 $BW fit lid.yaml -i shop.yaml", 2, ""},
    {"$BW plan -hf yaml lid.yaml", 0, "Usage: bandwright plan "},
    {"$BW plan", 2, ""},
    {"$BW log --help", 2, ""},
    {"$BW log lid.yaml", 2, ""},
    {"{ $BW log lid.yaml 2>&1 || true; } | grep -o 'no verb log; the verbs: plan'", 0,
     "no verb log; the verbs: plan\n"},
    {"$BW lid.yaml --help", 0, "bandwright lays out bands"},
    {"$BW plan lid.yaml lid.yaml", 0, "lid\n"},
    {"$BW plan lid.yaml --sweep outline.diameter=100", 0, "outline.diameter,file,"},
    {"$BW plan --format lid.yaml", 2, ""},
    {"$BW plan lid.yaml --format", 2, ""},
    {"$BW plan lid.yaml -f", 2, ""},
    {"$BW plan --format xml lid.yaml", 2, ""},
    {"$BW plan --form yaml lid.yaml", 2, ""},
    {"$BW plan --help=yes lid.yaml", 2, ""},
    {"$BW plan -x lid.yaml", 2, ""},
    {"$BW plan --nonsense lid.yaml", 2, ""},
    {"$BW plan --size 80x24 lid.yaml", 2, ""},
    {"$BW fit --format yaml lid.yaml", 2, ""},
    {"$BW fit", 2, ""},
    {"$BW fit lid.yaml rim more", 2, ""},
    {"$BW get", 2, ""},
    {"$BW set lid.yaml", 2, ""},
    {"$BW new", 2, ""},
    {"$BW --nonsense", 2, ""},
    {"$BW one.yaml two.yaml", 2, ""},
    {"$BW --version", 0, "bandwright " BW_VERSION "\n"},
    {"$BW -V", 0, "bandwright " BW_VERSION "\n"},
    {"$BW --help", 0, "bandwright "},
    {"$BW -h plan", 0, "Usage: bandwright plan "},
    {"$BW plan --help", 0, "Usage: bandwright plan "},
    {"$BW fit --help", 0, "Usage: bandwright fit "},
    {"$BW get --help", 0, "Usage: bandwright get "},
    {"$BW set --help", 0, "Usage: bandwright set "},
    {"$BW new --help", 0, "Usage: bandwright new "},
};

START_TEST(argument_line) {
    const spawned *run = spawn("%s", lines[_i].line);
    ck_assert_msg(run->status == lines[_i].status, "%s: status %d\n%s%s", lines[_i].line, run->status, run->out,
                  run->err);
    ck_assert_msg(strncmp(run->out, lines[_i].out, strlen(lines[_i].out)) == 0, "%s:\n%s", lines[_i].line, run->out);
    if (run->status == 2) {
        ck_assert_msg(run->out_length == 0 && run->err[0] != '\0', "%s: a usage error belongs to standard error",
                      lines[_i].line);
    }
}
END_TEST

/* Help names every operand and option of the table, and the program's help every verb. */
START_TEST(help_tells_all) {
    size_t count;
    const verb *table = verb_table(&count);
    ck_assert_uint_ge(count, 6);
    for (size_t i = 1; i < count; i++) {
        const spawned *run = spawn("$BW %s --help", table[i].name);
        ck_assert_ptr_nonnull(strstr(run->out, table[i].operands));
        for (unsigned id = 0; id < VERB_OPTION_COUNT; id++) {
            if (id != VERB_HELP && verb_has(&table[i], (verb_option_id)id)) {
                ck_assert_msg(strstr(run->out, verb_options()[id].name) != NULL, "%s --%s", table[i].name,
                              verb_options()[id].name);
            }
        }
        run = spawn("$BW --help");
        ck_assert_msg(strstr(run->out, table[i].help) != NULL, "%s", table[i].name);
        ck_assert(verb_find(table[i].name) == &table[i]);
    }
    ck_assert_ptr_null(verb_find("nonsense"));
}
END_TEST

START_TEST(completions_are_what_the_table_says) {
    const spawned *run = spawn("$BW --completions | cmp - $TREE/share/completions/bandwright");
    ck_assert_msg(run->status == 0, "write it anew: bandwright --completions > share/completions/bandwright\n%s",
                  run->out);
    ck_assert_int_eq(spawn("bash -n $TREE/share/completions/bandwright")->status, 0);
}
END_TEST

/* What bash would offer behind these words. */
static const char *offered(const char *words) {
    return spawn("PATH=$(dirname $BW):$PATH bash -c '. $TREE/share/completions/bandwright; compopt() { :; }; "
                 "COMP_WORDS=(bandwright %s); COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _bandwright; "
                 "printf \"<%%s>\\n\" \"${COMPREPLY[@]}\"'",
                 words)
        ->out;
}

START_TEST(completions_complete) {
    ck_assert_str_eq(offered("fi"), "<fit>\n");
    ck_assert_str_eq(offered("plan --fo"), "<--format>\n");
    ck_assert_str_eq(offered("plan --format y"), "<yaml>\n");
    ck_assert_str_eq(offered("plan lid"), "<lid.yaml>\n");
    ck_assert_str_eq(offered("set lid.yaml outline.d"), "<outline.diameter>\n");
    ck_assert_str_eq(offered("get lid.yaml bands.rim.wi"), "<bands.rim.width>\n");
}
END_TEST

Suite *verbs_options_suite(void) {
    Suite *suite = suite_create("verbs/options");
    TCase *tests = tcase_create("options");
    tcase_add_checked_fixture(tests, begin, spawn_end);
    tcase_set_timeout(tests, 60);
    tcase_add_loop_test(tests, argument_line, 0, (int)(sizeof lines / sizeof lines[0]));
    tcase_add_test(tests, help_tells_all);
    tcase_add_test(tests, completions_are_what_the_table_says);
    tcase_add_test(tests, completions_complete);
    suite_add_tcase(suite, tests);
    return suite;
}
