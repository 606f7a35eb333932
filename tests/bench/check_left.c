/* check_left.c - what is asked after a program that did not end as it should, and about a file that somebody else
 * changed: every answer, and that nothing is lost by any of them. */
#include <check.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_left_suite(void);

#define LID "cedar-lid.yaml"

/* A program that pressed these keys and was ended. */
static void ended(const char *file, const char *keys) {
    bench *b = hands_open(file);
    hands_press(b, keys);
    ck_assert_ptr_nonnull(bench_leave(b));
    bench_destroy(b);
}

static void holds(const bench *b, const char *text) {
    char *bytes = hands_bytes(b);
    ck_assert_msg(strstr(bytes, text) != NULL, "no '%s' in\n%s", text, bytes);
    free(bytes);
}

static int journals(void) {
    size_t count;
    char **names = desk_left_names("state", LID, &count);
    for (size_t i = 0; i < count; i++) {
        free(names[i]);
    }
    free(names);
    return (int)count;
}

static void change_file(const char *command) {
    ck_assert_int_eq(system(command), 0);
}

START_TEST(taken) {
    ended(LID, "Right Right");
    bench *b = hands_open(LID);
    ck_assert_int_eq(bench_where(b), BENCH_LEFT);
    hands_see(b, "weave width 21.25 mm -> 21.5 mm");
    holds(b, "width: 21,"); /* nothing is taken unasked */
    hands_press(b, "Enter");
    holds(b, "width: 21.5,");
    hands_press(b, "u u");
    ck_assert(!desk_unsaved(bench_desk(b)));
    hands_press(b, "U s");
    ck_assert_int_eq(journals(), 0);
    bench_destroy(b);
    b = hands_open(LID);
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    holds(b, "width: 21.25,");
    bench_destroy(b);
}
END_TEST

START_TEST(dropped_only_when_said_twice) {
    static const char *const changes_of_mind[] = {"x v Esc x Esc", "x Esc"};
    ended(LID, "Right");
    for (size_t i = 0; i < 2; i++) {
        bench *b = hands_open(LID);
        hands_press(b, changes_of_mind[i]);
        ck_assert_int_eq(bench_where(b), BENCH_WORK);
        ck_assert_int_eq(journals(), 1);
        bench_destroy(b);
    }
    bench *b = hands_open(LID);
    hands_press(b, "x x");
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    ck_assert(!desk_unsaved(bench_desk(b)));
    ck_assert_int_eq(journals(), 0);
    bench_destroy(b);
}
END_TEST

/* Put off, and worked on all the same: both are there next time. */
START_TEST(later) {
    ended(LID, "Right");
    ended(LID, "Esc Right Right Right");
    ck_assert_int_eq(journals(), 2);
    bench *b = hands_open(LID);
    hands_press(b, "y");
    ck_assert_int_eq(bench_where(b), BENCH_LEFT); /* the other one */
    hands_press(b, "x x");
    ck_assert(desk_unsaved(bench_desk(b)));
    hands_press(b, "s");
    ck_assert_int_eq(journals(), 0);
    bench_destroy(b);
}
END_TEST

START_TEST(what_does_not_fit_is_listed) {
    ended(LID, "Right Tab Right");
    change_file("sed -i 's/width: 21,/width: 30,/' " LID);
    bench *b = hands_open(LID);
    hands_see(b, "The file was changed since");
    hands_press(b, "y");
    ck_assert_int_eq(bench_where(b), BENCH_READ);
    hands_see(b, "weave width 21 mm -> 21.25 mm");
    hands_see(b, "bands.weave.width is 30 now");
    hands_see(b, ".kept1");
    hands_press(b, "Esc");
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    holds(b, "width: 30,");
    bench_destroy(b);
    ck_assert_int_eq(journals(), 0);
    ck_assert_int_eq(system("grep -q '^edit \"weave width 21 mm' state/*.kept1"), 0);
}
END_TEST

START_TEST(a_piece_without_a_file_waits_on_the_start_screen) {
    static const char make[] = "n Enter \"Coaster\" Enter Down*2 \"100\" Enter Down*5 \"9\" Enter Down Enter Right";
    ended(NULL, make);
    bench *b = hands_open(NULL);
    hands_see(b, "Coaster: never saved, 1 change");
    hands_press(b, "Down Enter Esc"); /* later */
    ck_assert_ptr_null(bench_desk(b));
    hands_see(b, "Coaster: never saved, 1 change");
    hands_press(b, "Down Enter y");
    holds(b, "piece: Coaster");
    hands_press(b, "s");
    ck_assert_int_eq(b->typing, TYPING_SAVE_AS);
    hands_press(b, "Enter");
    ck_assert_int_eq(access("coaster.yaml", F_OK), 0);
    bench_destroy(b);
    ended(NULL, make);
    b = hands_open(NULL);
    hands_press(b, "Down Enter x x");
    ck_assert_ptr_null(bench_desk(b));
    ck_assert_int_eq(b->screen, BENCH_START);
    ck_assert_int_eq(journals(), 0);
    bench_destroy(b);
}
END_TEST

/* A new piece that had a name, but no file yet; and a file that was taken away. */
START_TEST(a_file_that_is_not_there) {
    ended("fresh.yaml", "Down*2 \"100\" Enter Down*5 \"9\" Enter Down Enter Right");
    ck_assert_int_ne(access("fresh.yaml", F_OK), 0);
    bench *b = hands_open("fresh.yaml");
    ck_assert_int_eq(bench_where(b), BENCH_LEFT);
    hands_press(b, "y s");
    ck_assert_int_eq(access("fresh.yaml", F_OK), 0);
    bench_destroy(b);
    ended(LID, "Right");
    change_file("rm " LID);
    b = hands_open(LID);
    hands_press(b, "y s");
    bench_destroy(b);
    b = hands_open(LID);
    holds(b, "width: 21.25,");
    bench_destroy(b);
}
END_TEST

/* Two instances of one file: the second is not offered what the first is at; and saving asks. */
START_TEST(two_at_a_time) {
    bench *one = hands_open(LID), *other;
    hands_press(one, "Right");
    other = hands_open(LID);
    ck_assert_int_eq(bench_where(other), BENCH_WORK);
    hands_press(other, "Right*3");
    hands_press(one, "s");
    hands_press(other, "s");
    ck_assert_int_eq(bench_where(other), BENCH_THEIRS);
    hands_see(other, "yours 21.75 mm, theirs 21.25 mm");
    hands_press(other, "Esc");
    ck_assert(desk_unsaved(bench_desk(other)));
    hands_press(other, "s L");
    holds(other, "width: 21.25,");
    ck_assert(!desk_unsaved(bench_desk(other)));
    hands_press(other, "u");
    holds(other, "width: 21.75,");
    bench_destroy(other);
    bench_destroy(one);
}
END_TEST

START_TEST(mine_is_kept_when_leaving) {
    bench *b = hands_open(LID);
    hands_press(b, "Right");
    change_file("sed -i 's/diameter: 140/diameter: 150/' " LID);
    hands_press(b, "q y");
    ck_assert_int_eq(bench_where(b), BENCH_THEIRS);
    ck_assert_int_ne(bench_key(b, 'k') & BENCH_QUIT, 0);
    bench_destroy(b);
    ck_assert_int_eq(system("grep -q 'diameter: 150' " LID ".theirs && grep -q 'width: 21.25' " LID), 0);
}
END_TEST

/* Where no journal can be, it is said, and not at every key. */
START_TEST(trouble_is_told_once) {
    change_file("touch state && mkdir -p shop && cp " LID " shop/lid.yaml");
    bench *b = hands_open("shop/lid.yaml");
    change_file("rm -r shop");
    hands_press(b, "Right");
    hands_see(b, "not kept on the disk");
    hands_press(b, "Right");
    ck_assert_ptr_null(strstr(b->message, "not kept"));
    ck_assert_ptr_null(bench_leave(b));
    bench_destroy(b);
}
END_TEST

/* ---- a layout held beside the one in hand ---- */

static void is_held(bench *b, double width) {
    const shop_project *held = desk_held_project(b->desk);
    ck_assert_ptr_nonnull(held);
    ck_assert_double_eq_tol(held->layout.bands[1].width, width, 1e-9);
}

static double width_in_hand(const bench *b) {
    return desk_project(b->desk)->layout.bands[1].width;
}

/* After every way in which a layout comes to be held, flips or goes: the same two are there again, and undo goes back
 * through all of it, with the held one as it was at each step. */
START_TEST(the_held_one_comes_back) {
    static const struct {
        const char *keys;
        double hand, held; /* held 0: none */
    } ways[] = {{"g", 21, 21},
                {"g Right", 21.25, 21},
                {"Right g Right*2", 21.75, 21.25},
                {"g Right g", 21, 21.25},
                {"g Right g Right", 21.25, 21.25},
                {"g Right g g", 21.25, 21},
                {"g Right g u", 21.25, 21},
                {"g Right g u U", 21, 21.25},
                {"g Right s", 21.25, 21},
                {"g Right s Right g", 21, 21.5},
                {"g Right G x", 21.25, 0},
                {"g Right G x u", 21.25, 21},
                {"g Right G Right Enter", 21, 0},
                {"g Right G Right Enter u", 21.25, 21},
                {"g Right G Right Enter u s Right", 21.5, 21}};
    hands_fresh(LID);
    bench *b = hands_open(LID);
    hands_press(b, ways[_i].keys);
    ck_assert_double_eq_tol(width_in_hand(b), ways[_i].hand, 1e-9);
    bool offered = bench_leave(b) != NULL;
    bench_destroy(b);
    b = hands_open(LID);
    ck_assert_int_eq(offered, bench_where(b) == BENCH_LEFT);
    ck_assert(offered || ways[_i].held == 0);
    if (offered) {
        if (ways[_i].held > 0) {
            hands_see(b, "held beside");
        }
        hands_press(b, "Enter");
    }
    ck_assert_double_eq_tol(width_in_hand(b), ways[_i].hand, 1e-9);
    if (ways[_i].held > 0) {
        is_held(b, ways[_i].held);
        hands_press(b, "g");
        ck_assert(ways[_i].hand == ways[_i].held || !b->bad);
        ck_assert_double_eq_tol(width_in_hand(b), ways[_i].held, 1e-9);
        is_held(b, ways[_i].hand);
    } else {
        ck_assert(!desk_holding(b->desk));
    }
    bench_destroy(b);
    ck_assert_int_eq(journals(), 0); /* left as it should be */
}
END_TEST

/* The steps of flipping and keeping are steps of undo after they were taken, too. */
START_TEST(undo_goes_through_flips) {
    hands_fresh(LID);
    ended(LID, "g Right g G Right Enter Right");
    bench *b = hands_open(LID);
    hands_press(b, "Enter");
    ck_assert(!desk_holding(b->desk));
    ck_assert_double_eq_tol(width_in_hand(b), 21.5, 1e-9);
    hands_press(b, "u u"); /* the step, the keeping */
    ck_assert_double_eq_tol(width_in_hand(b), 21, 1e-9);
    is_held(b, 21.25);
    hands_press(b, "g"); /* the last step was a flip: it is taken back */
    ck_assert_double_eq_tol(width_in_hand(b), 21.25, 1e-9);
    is_held(b, 21);
    hands_press(b, "u");
    ck_assert_double_eq_tol(width_in_hand(b), 21, 1e-9);
    is_held(b, 21);
    ck_assert_ptr_null(desk_last(b->desk));
    hands_press(b, "U U U U");
    ck_assert_double_eq_tol(width_in_hand(b), 21.5, 1e-9);
    ck_assert(!desk_holding(b->desk));
    bench_destroy(b);
}
END_TEST

/* The file was changed meanwhile: the held one is held all the same. */
START_TEST(held_though_the_file_was_changed) {
    hands_fresh(LID);
    ended(LID, "g Right Tab Right");
    change_file("sed -i 's/diameter: 140/diameter: 150/' " LID);
    bench *b = hands_open(LID);
    hands_press(b, "Enter");
    is_held(b, 21);
    ck_assert_double_eq_tol(desk_held_project(b->desk)->layout.outline.diameter, 140, 1e-9);
    ck_assert_double_eq_tol(desk_project(b->desk)->layout.outline.diameter, 150, 1e-9);
    (void)bench_leave(b);
    bench_destroy(b);
    b = hands_open(LID); /* and kept on */
    hands_press(b, "Enter");
    is_held(b, 21);
    bench_destroy(b);
}
END_TEST

/* A held layout whose stamp the inventory does not have any more says so, wherever it is told or asked for. */
START_TEST(a_held_one_without_its_stamp) {
    hands_write("bare.yaml", "bandwright-project: 1\noutline: {shape: circle, diameter: 120}\n"
                             "bands:\n  - {name: weave, width: 20, fill: basket, tool: basket-m}\n");
    ended("bare.yaml", "g t Down Enter");
    change_file("sed -i '/id: basket-m,/d' " HANDS_INVENTORY);
    change_file("sed -i 's/tool: basket-m/tool: basket-l/' bare.yaml");
    bench *b = hands_open("bare.yaml");
    hands_press(b, "Enter Esc");
    ck_assert(desk_holding(b->desk));
    ck_assert_ptr_nonnull(desk_held_trouble(b->desk));
    hands_see(b, "held: it cannot be used as things are");
    char *before = hands_bytes(b);
    hands_press(b, "g");
    ck_assert(b->bad);
    hands_see(b, "basket-m");
    hands_press(b, "G");
    hands_see(b, "basket-m");
    ck_assert_ptr_null(strstr(b->message, "same"));
    hands_press(b, "Right Enter"); /* it cannot be kept */
    ck_assert(b->bad);
    char *after = hands_bytes(b);
    ck_assert_str_eq(before, after);
    hands_press(b, "x");
    ck_assert(!desk_holding(b->desk));
    free(after);
    free(before);
    bench_destroy(b);
}
END_TEST

/* ---- other inventories, other versions, folders that are gone ---- */

START_TEST(of_another_inventory) {
    change_file("mkdir other && cp " HANDS_INVENTORY " other/tools.yaml");
    bench_places there = {"other/tools.yaml", "state", "."};
    shop_problems problems;
    shop_problems_init(&problems, "");
    shop_status status;
    bench *b = bench_create(LID, &there, &problems, &status);
    ck_assert_ptr_nonnull(b);
    hands_press(b, "i Enter Right");
    ck_assert_ptr_nonnull(bench_leave(b));
    bench_destroy(b);
    b = hands_open(NULL);
    hands_see(b, "tools.yaml: 1 change, an inventory");
    hands_press(b, "Down Enter"); /* not this one's */
    ck_assert(b->bad);
    hands_see(b, "other/tools.yaml offers them");
    ck_assert_int_eq(b->screen, BENCH_START);
    hands_press(b, "i");
    ck_assert_int_eq(b->screen, BENCH_INVENTORY); /* nothing is asked about this one */
    bench_destroy(b);
    b = bench_create(NULL, &there, &problems, &status);
    hands_press(b, "Down Enter");
    hands_see(b, "1 change of the inventory was not saved");
    hands_press(b, "y");
    ck_assert(desk_unsaved(b->stock));
    bench_destroy(b);
    b = bench_create(LID, &there, &problems, &status);
    hands_press(b, "i");
    ck_assert_int_eq(b->screen, BENCH_INVENTORY); /* it was left as it should be */
    bench_destroy(b);
    shop_problems_free(&problems);
}
END_TEST

/* The inventory's file is gone: the journal has all of it. */
START_TEST(an_inventory_that_is_gone) {
    bench *b = hands_open(LID);
    hands_press(b, "i Enter Right");
    size_t tools = desk_project(b->stock)->own_tools, length;
    ck_assert_ptr_nonnull(bench_leave(b));
    const char *there = desk_bytes(b->stock, &length);
    char *bytes = strndup(there, length);
    bench_destroy(b);
    change_file("rm -r shop");
    b = hands_open(NULL);
    hands_press(b, "i y");
    ck_assert_uint_eq(desk_project(b->stock)->own_tools, tools);
    const char *now = desk_bytes(b->stock, &length);
    ck_assert_uint_eq(length, strlen(bytes));
    ck_assert(memcmp(now, bytes, length) == 0);
    hands_press(b, "s");
    ck_assert_int_eq(access(HANDS_INVENTORY, F_OK), 0);
    free(bytes);
    bench_destroy(b);
}
END_TEST

START_TEST(a_folder_that_is_gone) {
    change_file("mkdir job && cp " LID " job/lid.yaml");
    ended("job/lid.yaml", "Right");
    change_file("rm -r job");
    bench *b = hands_open(NULL);
    hands_see(b, "lid.yaml: 1 change");
    hands_press(b, "Down Enter Enter");
    ck_assert_ptr_nonnull(b->desk);
    holds(b, "width: 21.25,");
    hands_press(b, "S Home End Backspace*200 \"saved.yaml\" Enter");
    ck_assert_int_eq(access("saved.yaml", F_OK), 0);
    bench_destroy(b);
    ck_assert_int_eq(journals(), 0);
}
END_TEST

/* What a newer version keeps is told, not read and not touched. */
START_TEST(a_newer_version) {
    static const char newer[] = "bandwright-journal: 2\nof what only that version knows\n";
    change_file("mkdir state");
    hands_write("state/" LID "-1.journal", newer);
    hands_write("state/inventory.yaml-1.journal", newer);
    hands_write("state/other.yaml-1.journal", "bandwright-journals: 2\n");
    bench *b = hands_open(LID);
    ck_assert_int_eq(bench_where(b), BENCH_WORK);
    hands_see(b, "newer version");
    hands_press(b, "Right i");
    hands_see(b, "inventory.yaml-1.journal was kept by a newer version");
    hands_press(b, "Esc u");
    bench_destroy(b);
    b = hands_open(NULL);
    hands_see(b, LID "-1.journal: kept by a newer version");
    char *screen = hands_screen(b, 80, 24);
    ck_assert_ptr_null(strstr(screen, "other.yaml"));
    free(screen);
    hands_press(b, "Down*2 Enter");
    ck_assert(b->bad);
    hands_see(b, "that version offers it");
    bench_destroy(b);
    ck_assert_int_eq(system("grep -q '^of what only that version knows' state/" LID "-1.journal"), 0);
}
END_TEST

/* ---- what somebody else has written is never lost ---- */

/* Taken, taken back, and saved: theirs stays beside. Worked on from theirs, nothing needs to. */
START_TEST(theirs_taken_back) {
    bench *b = hands_open(LID);
    hands_press(b, "Right");
    change_file("sed -i 's/diameter: 140/diameter: 150/' " LID);
    hands_press(b, "s L u s");
    hands_see(b, "what was there is kept as");
    ck_assert_int_eq(system("grep -q 'diameter: 150' " LID ".theirs && grep -q 'diameter: 140' " LID), 0);
    hands_press(b, "u U Right s"); /* now it is mine */
    ck_assert_int_ne(access(LID ".theirs-2", F_OK), 0);
    change_file("sed -i 's/diameter: 140/diameter: 160/' " LID);
    hands_press(b, "L Right s");
    ck_assert_int_ne(access(LID ".theirs-2", F_OK), 0);
    ck_assert_int_eq(system("grep -q 'diameter: 160' " LID), 0);
    bench_destroy(b);
}
END_TEST

START_TEST(a_tool_of_theirs_taken_back) {
    bench *one = hands_open(LID), *other = hands_open(LID);
    hands_press(one, "i a Enter \"11\" Enter");
    hands_press(other, "i a Enter \"8\" Enter s");
    hands_press(one, "s v"); /* two tools, and not one that was renamed */
    hands_see(one, "basket-11");
    ck_assert_ptr_null(strstr(one->text, "basket-8 length"));
    ck_assert_ptr_null(strstr(one->text, "yours basket-11, theirs basket-8"));
    hands_press(one, "Esc L u s");
    ck_assert_int_eq(system("grep -q basket-8 " HANDS_INVENTORY ".theirs && grep -q basket-11 " HANDS_INVENTORY), 0);
    bench_destroy(other);
    bench_destroy(one);
}
END_TEST

/* A piece that was never saved, and a file of its name that came to be since. */
START_TEST(a_file_that_came_to_be) {
    ended("fresh.yaml", "Down*2 \"100\" Enter Down*5 \"9\" Enter Down Enter Right");
    change_file("cp " LID " fresh.yaml && echo '# precious' >> fresh.yaml");
    bench *b = hands_open("fresh.yaml");
    hands_see(b, "came to be since");
    hands_press(b, "Enter s");
    ck_assert(!desk_unsaved(b->desk));
    ck_assert_int_eq(system("grep -q '# precious' fresh.yaml.theirs && ! grep -q '# precious' fresh.yaml"), 0);
    bench_destroy(b);
}
END_TEST

/* Tools that were not saved are added to an inventory that came to be since; nothing of it goes. */
START_TEST(an_inventory_that_came_to_be) {
    change_file("rm -r shop");
    bench *b = hands_open(NULL);
    hands_press(b, "i a Enter \"6\" Enter Esc a Enter \"8\" Enter");
    ck_assert_ptr_nonnull(bench_leave(b));
    bench_destroy(b);
    b = hands_open(NULL);
    hands_press(b, "i"); /* offered at once, though its folder is not there */
    hands_see(b, "2 changes of the inventory were not saved");
    hands_press(b, "Esc a Enter \"7\" Enter s");
    bench_destroy(b);
    b = hands_open(NULL);
    hands_press(b, "i n"); /* which must be said twice */
    hands_see(b, "drops them for good");
    hands_press(b, "y s");
    ck_assert_int_eq(system("grep -q basket-6 " HANDS_INVENTORY " && grep -q basket-7 " HANDS_INVENTORY
                            " && grep -q basket-8 " HANDS_INVENTORY),
                     0);
    bench_destroy(b);
}
END_TEST

/* One step of two values, of which somebody else has changed the second: his stays, and the step is listed. */
START_TEST(each_value_of_a_step) {
    hands_fresh(LID);
    ended(LID, "Right Tab Right g u u G Right Enter");
    change_file("sed -i 's/name: stitching,/name: stitching, width: 1,/' " LID);
    bench *b = hands_open(LID);
    char *before = hands_bytes(b);
    ck_assert_ptr_nonnull(strstr(before, "width: 1,"));
    hands_press(b, "Enter");
    hands_see(b, "the held layout kept");
    hands_see(b, "bands.stitching.width is 1 now");
    holds(b, "width: 1,");
    free(before);
    bench_destroy(b);
}
END_TEST

/* A bad value in the inventory is told; the piece opens all the same, and has the shop's tools again once it is good.
 */
START_TEST(an_inventory_that_cannot_be_read) {
    change_file("sed -i 's/length: 9.5,/length: 99,/' " HANDS_INVENTORY);
    bench *b = hands_open(LID);
    hands_see(b, "cannot be read");
    hands_see(b, "inventory.yaml:");
    hands_press(b, "Right s");
    ck_assert(!desk_unsaved(b->desk));
    hands_press(b, "i");
    hands_see(b, "99");
    ck_assert_ptr_null(b->stock);
    bench_destroy(b);
    change_file("sed -i 's/length: 99,/length: 9.5,/' " HANDS_INVENTORY);
    b = hands_open(LID);
    ck_assert_uint_gt(desk_project(b->desk)->layout.tool_count, desk_project(b->desk)->own_tools);
    bench_destroy(b);
}
END_TEST

Suite *bench_left_suite(void) {
    Suite *suite = suite_create("what was left, and what others changed");
    TCase *tests = tcase_create("left");
    tcase_set_timeout(tests, 30);
    tcase_add_checked_fixture(tests, hands_begin, hands_end);
    tcase_add_test(tests, taken);
    tcase_add_test(tests, dropped_only_when_said_twice);
    tcase_add_test(tests, later);
    tcase_add_test(tests, what_does_not_fit_is_listed);
    tcase_add_test(tests, a_piece_without_a_file_waits_on_the_start_screen);
    tcase_add_test(tests, a_file_that_is_not_there);
    tcase_add_test(tests, two_at_a_time);
    tcase_add_test(tests, mine_is_kept_when_leaving);
    tcase_add_test(tests, trouble_is_told_once);
    tcase_add_loop_test(tests, the_held_one_comes_back, 0, 15);
    tcase_add_test(tests, undo_goes_through_flips);
    tcase_add_test(tests, held_though_the_file_was_changed);
    tcase_add_test(tests, a_held_one_without_its_stamp);
    tcase_add_test(tests, of_another_inventory);
    tcase_add_test(tests, an_inventory_that_is_gone);
    tcase_add_test(tests, a_folder_that_is_gone);
    tcase_add_test(tests, a_newer_version);
    tcase_add_test(tests, theirs_taken_back);
    tcase_add_test(tests, a_tool_of_theirs_taken_back);
    tcase_add_test(tests, a_file_that_came_to_be);
    tcase_add_test(tests, an_inventory_that_came_to_be);
    tcase_add_test(tests, each_value_of_a_step);
    tcase_add_test(tests, an_inventory_that_cannot_be_read);
    suite_add_tcase(suite, tests);
    return suite;
}
