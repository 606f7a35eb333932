/* check_measured.c - limits that strips give: they are told as steps, legs stay what face and step make them, and a
 * step by strips that contradicts another is told wherever it is left out. The sums beside each are by hand: nine steps
 * to ten impressions, legs = face less step. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "verbs/spawn.h"

Suite *verbs_measured_suite(void);

static char flat[1 << 16];

/* What was told, with every break of a line as one blank. */
static const char *told(const spawned *run) {
    size_t n = 0;
    for (const char *at = run->out; *at != '\0' && n + 1 < sizeof flat; at++)
        if ((*at != ' ' && *at != '\n') || (n > 0 && flat[n - 1] != ' '))
            flat[n++] = *at == '\n' ? ' ' : *at;
    flat[n] = '\0';
    return flat;
}

static void tells(const spawned *run, const char *words) {
    ck_assert_msg(strstr(told(run), words) != NULL, "%s\nnot in:\n%s%s", words, flat, run->err);
}

/* A lid with strips of ten impressions; 0: none of that kind. */
static void begin_with(double usual, double closest, double widest) {
    const struct {
        const char *how;
        double length;
    } strips[] = {{"usual", usual}, {"closest", closest}, {"widest", widest}};
    spawn("$BW new lid.yaml outline.diameter=140 tools.m.kind=basket tools.m.length=9.5 tools.m.bar=3.1 "
          "tools.m.width=6.4 tools.m.rail=1.6 bands.weave.space=4.5 bands.weave.width=21 bands.weave.fill=basket "
          "bands.weave.tool=m");
    for (int i = 0; i < 3; i++)
        if (strips[i].length > 0)
            ck_assert_int_eq(
                spawn("$BW strip lid.yaml m impressions=10 length=%g struck=%s --add", strips[i].length, strips[i].how)
                    ->status,
                0);
}

/* 75/9 = 8.33 and 66/9 = 7.33 mm; the outer step of 8.54 is 0.21 over it, and 9.5 - 8.54 = 0.96 mm of leg lie on leg.
 */
START_TEST(a_measured_limit_is_told_as_steps) {
    begin_with(70, 66, 75);
    const spawned *run = spawn("$BW plan lid.yaml");
    tells(run, "no: steps of up to 8.54 mm on the outer row are 0.21 mm over the widest measured for this stamp (8.33 "
               "mm), and no other step mends it; the widest step (8.33 mm, measured) and the closest (7.33 mm, "
               "measured) lie too near together");
    tells(run, "widest on the outer row (step 8.5 mm, legs overlap 1 mm)");
    tells(run, "tightest on the inner row (step 7.2 mm, legs overlap 2.3 mm)");
    ck_assert_ptr_null(strstr(flat, "legs miss"));
    ck_assert_ptr_null(strstr(flat, "ride on the bars"));
    ck_assert_ptr_null(strstr(flat, "legs of"));
}
END_TEST

/* 60/9 = 6.67 mm as the closest: what works is told as steps on that side, as legs on the other. 42 steps of 345.58/42
 * = 8.23 mm on 55 mm; 4.8 mm out 8.23 x 59.8/55 = 8.95 and 9.5 - 8.95 = 0.55, 4.8 mm in 8.23 x 50.2/55 = 7.51. */
START_TEST(what_works_keeps_over_the_closest) {
    begin_with(0, 60, 0);
    tells(spawn("$BW fit lid.yaml"), "yes: it works: legs overlap by 0.55 mm on the outer row, and steps of 7.51 mm on "
                                     "the inner row keep 0.84 mm over the closest measured (6.67 mm)");
}
END_TEST

/* 85/9 = 9.44 mm as the widest. */
START_TEST(what_works_keeps_inside_the_widest) {
    begin_with(0, 0, 85);
    tells(spawn("$BW fit lid.yaml"), "inside the widest measured for this stamp (9.44 mm), and legs keep");
}
END_TEST

/* 63/9 = 7 mm, 76.5/9 = 8.5 mm; (345.58 - 190)/19 = 8.19 mm on the guide: legs 9.5 - 7.6 = 1.9 mm at what is left. */
START_TEST(a_rescue_tells_measured_limits) {
    begin_with(70, 63, 76.5);
    const spawned *run = spawn("$BW rest lid.yaml weave --struck 20 --left 190");
    tells(run, "at 8.19 mm on the mean steps of up to 8.9 mm on the outer row are 0.4 mm over the widest measured for "
               "this stamp (8.5 mm)");
    tells(run, "steps of down to 6.94 mm on the inner row are 0.06 mm under the closest measured for this stamp (7 mm)."
               " On the guide legs overlap by 1.9 mm.");
}
END_TEST

/* 67.6/9 = 7.51 mm as usual, 60/9 = 6.67 mm as the widest: the strip verb, the plan and the workbench tell it alike. */
START_TEST(what_is_left_out_is_told_everywhere) {
    const char *words = "usual step by strips, 7.51 mm, does not lie between the other steps: it is not less than the "
                        "widest, 6.67 mm (from strips), and is not used: measure stamp and strip again";
    begin_with(67.6, 0, 60);
    tells(spawn("$BW strip lid.yaml m"), words);
    tells(spawn("$BW plan lid.yaml"), words);
    ck_assert_ptr_null(strstr(strstr(flat, "by strips, 7.51") + 1, "by strips, 7.51")); /* and once */
    tells(spawn("$BW card lid.yaml"), "usual step by strips, 7.51 mm, does not lie between");
    spawn("echo '' > none");
    tells(spawn("$BW --keys none --screen - --size 120x40 lid.yaml"),
          "the usual step by strips, 7.51 mm, does not lie");
    tells(spawn("$BW plan lid.yaml --format yaml"), "kind: steps-face, text: \"the usual step by strips, 7.51 mm,");
}
END_TEST

Suite *verbs_measured_suite(void) {
    Suite *suite = suite_create("verbs/measured");
    TCase *tests = tcase_create("measured");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, spawn_begin, spawn_end);
    tcase_add_test(tests, a_measured_limit_is_told_as_steps);
    tcase_add_test(tests, what_works_keeps_over_the_closest);
    tcase_add_test(tests, what_works_keeps_inside_the_widest);
    tcase_add_test(tests, a_rescue_tells_measured_limits);
    tcase_add_test(tests, what_is_left_out_is_told_everywhere);
    suite_add_tcase(suite, tests);
    return suite;
}
