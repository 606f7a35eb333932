/* check_new_tools.c - a piece made with a stamp of the inventory carries it away, so that its plan needs no inventory
 * and does not move with it. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "verbs/spawn.h"

Suite *verbs_new_tools_suite(void);

static const char shop[] = "bandwright-inventory: 1\nunits: mm\ntools:\n"
                           "  - {id: basket-m, kind: basket, length: 9.5, width: 6.4, bar: 3.1, rail: 1.6}\n"
                           "  - {id: shell-5, kind: border, length: 5.2, width: 5}\n"
                           "  - {id: iron-4, kind: iron, pitch: 4, teeth: 6}\n";

static void begin(void) {
    spawn_begin();
    spawn_write("shop.yaml", shop, sizeof shop - 1);
}

START_TEST(tools_go_with_the_piece) {
    static const char *const units[] = {"mm", "in"};
    char *with;
    begin();
    const spawned *run = spawn("$BW new -i shop.yaml lid.yaml units=%s outline.diameter='140 mm' "
                               "bands.weave.space='5 mm' bands.weave.width='21 mm' bands.weave.fill=basket "
                               "bands.weave.tool=basket-m bands.rim.width='6 mm' bands.rim.fill=border "
                               "bands.rim.tool=shell-5 bands.more.width='8 mm' bands.more.fill=border "
                               "bands.more.tool=shell-5",
                               units[_i]);
    ck_assert_msg(run->status == 0 && run->err[0] == '\0', "%s", run->err);
    run = spawn("$BW plan -i shop.yaml -fyaml lid.yaml | grep 'count:\\|step:'");
    with = strdup(run->out);
    spawn("sed -i 's/9.5/8.5/;s/5.2/4.2/' shop.yaml"); /* that the two differ is a warning */
    run = spawn("$BW plan -i shop.yaml -fyaml lid.yaml | grep 'count:\\|step:'");
    ck_assert(strlen(with) > 100 && strcmp(run->out, with) == 0);
    run = spawn("$BW plan -i '' -fyaml lid.yaml | grep 'count:\\|step:'");
    ck_assert_msg(run->err[0] == '\0' && strcmp(run->out, with) == 0, "%s", run->err);
    ck_assert_str_eq(spawn("$BW get -i '' lid.yaml | grep -o '^tools.[a-z0-9-]*.id'")->out,
                     "tools.basket-m.id\ntools.shell-5.id\n"); /* each once, and none that no band has */
    free(with);
    spawn_end();
}
END_TEST

START_TEST(a_tool_of_its_own_stays) {
    begin();
    const spawned *run = spawn("$BW new -i shop.yaml lid.yaml outline.diameter=140 tools.basket-m.kind=basket "
                               "tools.basket-m.length=8 bands.w.width=20 bands.w.fill=basket bands.w.tool=basket-m && "
                               "$BW get lid.yaml tools.basket-m.length");
    ck_assert_msg(strcmp(run->out, "tools.basket-m.length=8\n") == 0, "%s%s", run->out, run->err);
    spawn_end();
}
END_TEST

/* What is wrong with an id that nobody has: where it was looked for. */
START_TEST(an_unknown_id_names_the_inventory) {
    begin();
    const spawned *run = spawn("$BW new -i '' lid.yaml bands.w.width=20 bands.w.fill=basket bands.w.tool=basket-m");
    ck_assert_int_eq(run->status, 65);
    ck_assert_msg(strstr(run->err, "no inventory was read (--inventory FILE)") != NULL, "%s", run->err);
    run = spawn("$BW new -i shop.yaml lid.yaml bands.w.width=20 bands.w.fill=basket bands.w.tool=basket-q");
    ck_assert_int_eq(run->status, 65);
    ck_assert_msg(strstr(run->err, "neither the piece nor the inventory has a tool of this id") != NULL &&
                      strstr(run->err, "such as basket-m") != NULL,
                  "%s", run->err);
    ck_assert_int_ne(spawn("ls lid.yaml")->status, 0);
    spawn_end();
}
END_TEST

Suite *verbs_new_tools_suite(void) {
    Suite *suite = suite_create("verbs/new tools");
    TCase *tests = tcase_create("new");
    tcase_set_timeout(tests, 0);
    tcase_add_loop_test(tests, tools_go_with_the_piece, 0, 2);
    tcase_add_test(tests, a_tool_of_its_own_stays);
    tcase_add_test(tests, an_unknown_id_names_the_inventory);
    suite_add_tcase(suite, tests);
    return suite;
}
