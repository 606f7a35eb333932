/* check_strip.c - `strip`: figures given, written, refused. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "verbs/spawn.h"

Suite *verbs_strip_suite(void);

static const char lid[] = "bandwright-project: 1\n"
                          "outline: {shape: circle, diameter: 140} # a lid\n"
                          "bands:\n"
                          "  - {name: weave, width: 21, fill: basket, tool: m}\n"
                          "tools:\n"
                          "  - {id: m, kind: basket, length: 9.5, width: 6.4, bar: 3.1, rail: 1.6}\n"
                          "  - {id: k, kind: knife}\n";
static const char stock[] = "bandwright-inventory: 1\n"
                            "units: in\n"
                            "tools:\n"
                            "  - {id: i, kind: iron, pitch: 5/32}\n"
                            "  - {id: s, kind: border, length: 1/4, width: 1/4}\n";

static void begin(void) {
    spawn_begin();
    spawn_write("lid.yaml", lid, strlen(lid));
    spawn_write("stock.yaml", stock, strlen(stock));
}

static void says(const spawned *got, int status, const char *text) {
    ck_assert_msg(got->status == status, "status %d: %s%s", got->status, got->out, got->err);
    ck_assert_msg(strstr(status == 0 ? got->out : got->err, text) != NULL, "%s is not in: %s%s", text, got->out,
                  got->err);
}

static void file_is(const char *name, const char *text) {
    size_t length;
    char *bytes = spawn_read(name, &length);
    ck_assert_msg(bytes != NULL && length == strlen(text) && memcmp(bytes, text, length) == 0, "%s", bytes);
    free(bytes);
}

/* 67.6/9 = 7.511 and 67.9/9 = 7.544; with t(1) = 12.7 the mean is sure to 0.21 mm. */
START_TEST(two_strips) {
    says(spawn("$BW -i stock.yaml strip lid.yaml m impressions=10 length=67.6"), 0,
         "Usual step 7.51 mm, from 1 strip;");
    file_is("lid.yaml", lid);
    spawn("$BW -i stock.yaml strip lid.yaml m impressions=10 length=67.6 --add");
    says(spawn("$BW -i stock.yaml strip lid.yaml m impressions=10 tips=77.4 leather='8 oz, dry' --add"), 0,
         "with 95 % between 7.32 mm and 7.74 mm");
    size_t length;
    char *bytes = spawn_read("lid.yaml", &length);
    ck_assert_msg(strstr(bytes, "rail: 1.6, strips: [{impressions: 10, length: 67.6}, {impressions: 10, length: 67.9, "
                                "leather: '8 oz, dry'}]}\n") != NULL,
                  "%s", bytes);
    ck_assert_ptr_nonnull(strstr(bytes, "# a lid"));
    free(bytes);
    says(spawn("$BW -i stock.yaml plan lid.yaml"), 0, "usual step 7.53 mm, from 2 strips");
    says(spawn("$BW -i stock.yaml plan lid.yaml -f yaml"), 0, "usual-step: 7.527777777777778");
    spawn("$BW -i stock.yaml set lid.yaml tools.m.steps.usual=7.6");
    says(spawn("$BW -i stock.yaml plan lid.yaml -f yaml"), 0, "usual-step: 7.6");
    says(spawn("$BW -i stock.yaml strip lid.yaml m"), 0, "usual 7.6 mm (as given)");
}
END_TEST

/* Irons and border stamps of the inventory, in its own unit. */
START_TEST(of_the_inventory) {
    says(spawn("$BW -i stock.yaml strip i impressions=11 length='1 5/8' --add"), 0, "Usual step 0.162 in");
    says(spawn("$BW -i stock.yaml strip s places=0.25,0.51,0.75 struck=widest --rule 1/64"), 0,
         "Lengths are taken to be read to 0.016 in.");
    size_t length;
    char *bytes = spawn_read("stock.yaml", &length);
    ck_assert_ptr_nonnull(strstr(bytes, "pitch: 5/32, strips: [{impressions: 11, length: 1 5/8}]"));
    free(bytes);
    /* one that only the inventory has comes into the piece with its strip */
    spawn("$BW -i stock.yaml strip lid.yaml s impressions=11 length=64 --add");
    says(spawn("$BW -i stock.yaml get lid.yaml tools.s.strips"), 0, "tools.s.strips=[{impressions: 11, length: 64}]");
}
END_TEST

/* A step outside the face is told, by the verb and by the plan, and not used. */
START_TEST(off_the_face) {
    says(spawn("$BW -i stock.yaml strip lid.yaml m impressions=10 length=90 --add"), 0,
         "! The usual step by strips, 10 mm, does not go with the face");
    says(spawn("$BW -i stock.yaml plan lid.yaml -f yaml | grep -c steps-face"), 0, "1");
}
END_TEST

/* Only an aim tells of a bias, and every verb tells the same: 67.6/9 - 7.4 = 0.111 and 68.2/9 - 7.6 = -0.022, mean
 * +0.044. The face's own guess of 7.9 mm, and a strip without an aim, count for nothing in it. */
START_TEST(one_hand_one_bias) {
    says(spawn("$BW -i stock.yaml strip lid.yaml m impressions=10 length=67.7 --add"), 0, "aim (bias) is not known");
    spawn("$BW -i stock.yaml strip lid.yaml m impressions=10 length=67.6 aimed=7.4 --add");
    says(
        spawn(
            "$BW -i stock.yaml strip lid.yaml m impressions=10 length=68.2 aimed=7.6 --add | tr '\\n' ' ' | tr -s ' '"),
        0, "wide of its aim by 0.04 mm each time (bias), from 2 strips; with 95 % between -0.8 mm and +0.89 mm");
    says(spawn("$BW -i stock.yaml marks lid.yaml weave | tr -s '\\n ' ' '"), 0,
         "off what is set by +0.04 mm (-0.8 mm to +0.89 mm)");
}
END_TEST

/* Places that lie as evenly as half millimetres can: what they stray is hidden by the rule, its upper limit is not. */
START_TEST(hidden_by_the_rule) {
    const char *places = "7.4,15.1,22.5,30.1,37.4,45.2,52.6,60.3,67.8";
    const spawned *got = spawn("$BW -i stock.yaml strip lid.yaml m places=%s --add | tr '\\n' ' ' | tr -s ' '", places);
    says(got, 0,
         "A step strays by less than a rule read to 0.5 mm tells (sigma, from the places within strips); with "
         "95 % by no more than 0.22 mm.");
    ck_assert_ptr_null(strstr(got->out, " 0 mm"));
    says(spawn("$BW -i stock.yaml marks lid.yaml weave | tr -s '\\n ' ' '"), 0,
         "strays by less than a rule read to 0.5 mm tells");
    says(spawn("$BW -i stock.yaml strip lid.yaml m --rule 0.1"), 0, "A step strays by 0.17 mm (sigma");
}
END_TEST

/* Places that lie more evenly than a rule of 0.5 mm could tell leave open what it hides: 0.25/12 (2 x 9 - 2/9)/8, root
 * 0.215 mm. */
START_TEST(no_hand_strays_by_nothing) {
    const char *even = "places=5.2,10.5,15.6,20.9,26.1,31.4,36.5,41.8,47.1";
    spawn("$BW -i stock.yaml set lid.yaml tools.m.length=6.4");
    says(spawn("$BW -i stock.yaml strip lid.yaml m %s | tr '\\n' ' ' | tr -s ' '", even), 0,
         "with 95 % by no more than 0.22 mm");
    says(spawn("$BW -i stock.yaml strip lid.yaml m %s --rule 0.1 | tr '\\n' ' ' | tr -s ' '", even), 0,
         "A step strays by 0.08 mm (sigma");
}
END_TEST

/* A widest step under the usual one: which of them is wrong nobody can know, so the plan says it, too. */
START_TEST(steps_out_of_order) {
    spawn("$BW -i stock.yaml strip lid.yaml m impressions=10 length=67.6 --add");
    spawn("$BW -i stock.yaml strip lid.yaml m impressions=10 length=60 struck=widest --add");
    says(spawn("$BW -i stock.yaml plan lid.yaml > page; tr '\\n' ' ' < page | tr -s ' '"), 0,
         "the usual step by strips, 7.51 mm, does not lie between the other steps");
}
END_TEST

/* What a plan would take where nothing is measured: 9.5 less half a leg of 3.2. */
START_TEST(the_usual_step_is_always_told) {
    says(spawn("$BW -i stock.yaml strip lid.yaml m | tr '\\n' ' ' | tr -s ' '"), 0, "usual 7.9 mm (by overlap)");
    spawn("$BW -i stock.yaml set lid.yaml tools.m.overlap=0.25");
    says(spawn("$BW -i stock.yaml strip lid.yaml m | tr '\\n' ' ' | tr -s ' '"), 0, "usual 8.7 mm (by overlap)");
}
END_TEST

START_TEST(strips_are_listed) {
    spawn("$BW -i stock.yaml strip lid.yaml m impressions=10 length=67.6 leather='8 oz, dry' date=2026-03-02 --add");
    says(spawn("$BW -i stock.yaml strip lid.yaml m places=7,14.1 struck=closest aimed=7.05"), 0,
         "  1. 10 impressions, 67.6 mm: 7.51 mm a step, 8 oz, dry, 2026-03-02\n"
         "  2. 3 impressions, 14.1 mm: 7.05 mm a step, as close as still looks right,\n"
         "     aimed at 7.05 mm, every place measured\n");
}
END_TEST

/* By the numbers of the list: a strip, then a round; with the last one the list goes, and all else stays. */
START_TEST(taken_out) {
    spawn("$BW -i stock.yaml strip lid.yaml m impressions=10 length=76 leather=slip --add");
    spawn("$BW -i stock.yaml set lid.yaml 'tools.m.rounds=[{impressions: 40, length: 300}]'");
    says(spawn("$BW -i stock.yaml strip lid.yaml m --drop 3"), 2, "--drop 3: allowed: 1 to 2, the number in the list");
    says(spawn("$BW -i stock.yaml strip lid.yaml m --drop 1"), 0,
         "taken out: {impressions: 10, length: 76, leather: slip}\nm: what its strips tell\n  1. a round: 40");
    says(spawn("$BW -i stock.yaml strip lid.yaml m --drop 1"), 0, "No strip yet");
    file_is("lid.yaml", lid);
    says(spawn("$BW -i stock.yaml strip lid.yaml m --drop 1"), 2, "--drop 1: m has no strip");
    says(spawn("$BW -i stock.yaml strip lid.yaml m --drop 1 impressions=10 length=67"), 2, "one at a time");
    spawn("$BW -i stock.yaml strip i impressions=11 length='1 5/8' --add");
    says(spawn("$BW -i stock.yaml strip lid.yaml i --drop 1"), 2, "give no file: bandwright strip i --drop 1");
    says(spawn("$BW -i stock.yaml strip i --drop 1"), 0, "taken out: {impressions: 11, length: 1 5/8}");
    file_is("stock.yaml", stock);
}
END_TEST

/* As long as a round of a large piece, with the units that were typed. */
START_TEST(many_places) {
    says(spawn("$BW -i stock.yaml strip lid.yaml m places=$(seq 7.5 7.5 6000 | tr '\\n' ',')6007.5mm --add"), 0,
         "1. 802 impressions, 6007.5 mm: 7.5 mm a step, every place measured");
    says(spawn("$BW -i stock.yaml get lid.yaml tools.m.strips[1].places | tail -c 27"), 0, "5992.5, 6000.0, 6007.5mm]");
}
END_TEST

START_TEST(the_tool_is_missing) {
    says(spawn("$BW -i stock.yaml strip lid.yaml"), 2, "the tool is missing behind the file");
}
END_TEST

static const char *const wrong[][2] = {
    {"m --add", "--add needs a strip"},
    {"x impressions=10 length=60", "has no tool x"},
    {"k impressions=10 length=60", "k has no steps"},
    {"m impressions=1 length=60", "impressions: two at least"},
    {"m impressions=10", "length: it must be measured"},
    {"m length=60", "impressions: how many"},
    {"m impressions=10 length=6,7", "a comma; use a point"},
    {"m impressions=10 length=60 struck=wide", "allowed: usual, closest, widest"},
    {"m impressions=10 tips=9", "tips: over all it is longer than one face"},
    {"m places=7,6", "places: each is measured from the first"},
    {"m places=", "impressions: how many"},
    {"m steps=10", "steps is nothing that a strip has"},
    {"m --rule wide", "--rule wide: a length"},
    {"m --rule 40", "allowed: 0 to 25.4 mm"},
    {"m n o", "too much is given"},
    {"m impressions=10 length=676 --add", "length: that is 75.11 mm a step; allowed with this face: 3.15 mm to 19 mm"},
    {"m impressions=100 tips=77 --add", "tips: that is 0.68 mm a step"},
    {"m places=67.6,135 --add", "places: that is 67.5 mm a step"},
    {"m impressions=10 length=67 aimed=52 --add", "aimed: that is 52 mm a step"},
    {"m impressions=10 length=67.6 tips=77 --add", "tips: length is given, too; allowed: one of them"},
    {"m impressions=3 places=7,14 --add", "impressions: places tell it already; allowed: places alone"},
    {"m 'places=[7.4, 15.1], struck: closest' --add", "places: a bracket is missing"},
    {"m 'places=[7.4, 15.1' --add", "places: a bracket is missing"},
    {"m 'places=7.4,,15.1' --add", "places: "},
    {"m 'places=7.4 15.1' --add", "commas part them: 7.5, 15.1"},
    {"m impressions=10 length=67 \"leather=$(printf 'a\\377')\" --add", "leather: its bytes are no text in UTF-8"},
    {"m impressions=10 length=67 impressions=11", "impressions is said twice: 10 and 11"},
};

START_TEST(refused) {
    says(spawn("$BW -i stock.yaml strip lid.yaml %s", wrong[_i][0]), 2, wrong[_i][1]);
    file_is("lid.yaml", lid);
}
END_TEST

Suite *verbs_strip_suite(void) {
    Suite *suite = suite_create("verbs/strip");
    TCase *tests = tcase_create("strip");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, begin, spawn_end);
    tcase_add_test(tests, two_strips);
    tcase_add_test(tests, of_the_inventory);
    tcase_add_test(tests, off_the_face);
    tcase_add_test(tests, one_hand_one_bias);
    tcase_add_test(tests, hidden_by_the_rule);
    tcase_add_test(tests, no_hand_strays_by_nothing);
    tcase_add_test(tests, steps_out_of_order);
    tcase_add_test(tests, the_usual_step_is_always_told);
    tcase_add_test(tests, strips_are_listed);
    tcase_add_test(tests, many_places);
    tcase_add_test(tests, taken_out);
    tcase_add_test(tests, the_tool_is_missing);
    tcase_add_loop_test(tests, refused, 0, sizeof wrong / sizeof wrong[0]);
    suite_add_tcase(suite, tests);
    return suite;
}
