/* check_projects.c - every example loads without a word, and works, but for the one that is there to fail. */
#include <check.h>
#include <glob.h>
#include <stdlib.h>
#include <string.h>

#include "docs/pages.h"
#include "shop/shop.h"

Suite *docs_projects_suite(void);

#define FAILS "projects/blackthorn-rosette.yaml"

static shop_project *load(const char *file) {
    size_t length;
    char *bytes = pages_read(file, &length);
    ck_assert_ptr_nonnull(bytes);
    shop_problems problems;
    shop_problems_init(&problems, file);
    shop_project *project = shop_project_read(bytes, length, file, NULL, &problems);
    if (problems.count > 0) {
        shop_problems_print(&problems, stderr);
    }
    ck_assert_uint_eq(problems.count, 0);
    ck_assert_ptr_nonnull(project);
    shop_problems_free(&problems);
    free(bytes);
    return project;
}

START_TEST(examples_load_and_work) {
    glob_t files;
    ck_assert_int_eq(glob("projects/*.yaml", 0, NULL, &files), 0);
    ck_assert_uint_ge(files.gl_pathc, 16);
    unsigned shapes = 0;
    for (size_t i = 0; i < files.gl_pathc; i++) {
        shop_project *project = load(files.gl_pathv[i]);
        bw_plan *plan;
        ck_assert_int_eq(bw_plan_create(&project->layout, NULL, &plan), BW_OK);
        bool fails = strcmp(files.gl_pathv[i], FAILS) == 0;
        ck_assert_msg(bw_plan_works(plan) == !fails, "%s", files.gl_pathv[i]);
        shapes |= 1u << project->layout.outline.shape;
        bw_plan_destroy(plan);
        shop_project_free(project);
    }
    ck_assert_uint_eq(shapes, (2u << BW_ARC) - 1); /* every shape */
    globfree(&files);
}
END_TEST

/* What the file's own comment says of its stamp, and of the one that would do. */
START_TEST(the_stub_stamp_fails_as_its_file_says) {
    shop_project *project = load(FAILS);
    bw_plan *plan;
    ck_assert_int_eq(bw_plan_create(&project->layout, NULL, &plan), BW_OK);
    ck_assert_int_eq(plan->bands[0].fit.verdict, BW_LEGS_SHORT);
    ck_assert_double_gt(plan->bands[0].fit.needed_leg, 1.5);
    ck_assert_double_le(plan->bands[0].fit.needed_leg, 1.6);
    bw_rank *ranks;
    size_t count;
    ck_assert_int_eq(bw_rank_tools(&project->layout, 0, NULL, &ranks, &count), BW_OK);
    ck_assert_uint_eq(count, 2);
    ck_assert_str_eq(project->tools[ranks[0].tool].id, "basket-s");
    ck_assert_int_ge((int)ranks[0].verdict, BW_TIGHT);
    bw_ranks_release(ranks, NULL);
    bw_plan_destroy(plan);
    shop_project_free(project);
}
END_TEST

/* What the belt's own comment says of its point: with 33 mm its slopes take three whole steps of the usual length. */
START_TEST(the_point_of_the_belt_is_as_its_file_says) {
    shop_project *project = load("projects/hornbeam-belt.yaml");
    ck_assert_double_eq(project->layout.outline.end.point, 33);
    for (double point = 33; point >= 32; point--) {
        bw_layout layout = project->layout;
        bw_plan *plan;
        layout.outline.end.point = point;
        ck_assert_int_eq(bw_plan_create(&layout, NULL, &plan), BW_OK);
        const bw_run_plan *slope = &plan->bands[1].runs[0];
        double left = slope->to - slope->from - plan->bands[1].along_line - 3 * slope->usual_step;
        ck_assert_double_eq_tol(left, point == 33 ? 0.04 : -0.37, 0.01);
        ck_assert_int_eq(slope->count, point == 33 ? 4 : 3);
        bw_plan_destroy(plan);
    }
    shop_project_free(project);
}
END_TEST

/* The inventory says of no tool something else than the examples do. */
START_TEST(the_inventory_agrees_with_the_examples) {
    size_t length;
    char *bytes = pages_read("share/inventory.yaml", &length);
    ck_assert_ptr_nonnull(bytes);
    shop_problems problems;
    shop_problems_init(&problems, "share/inventory.yaml");
    shop_inventory *inventory = shop_inventory_read(bytes, length, &problems);
    ck_assert_ptr_nonnull(inventory);
    ck_assert_uint_eq(problems.count, 0);
    glob_t files;
    ck_assert_int_eq(glob("projects/*.yaml", 0, NULL, &files), 0);
    for (size_t i = 0; i < files.gl_pathc; i++) {
        size_t project_length;
        char *text = pages_read(files.gl_pathv[i], &project_length);
        shop_project *project = shop_project_read(text, project_length, files.gl_pathv[i], inventory, &problems);
        ck_assert_ptr_nonnull(project);
        for (size_t tool = 0; tool < project->own_tools; tool++) {
            ck_assert_msg(!project->tool_about[tool].differs, "%s: %s", files.gl_pathv[i], project->tools[tool].id);
        }
        shop_project_free(project);
        free(text);
    }
    globfree(&files);
    shop_inventory_free(inventory);
    shop_problems_free(&problems);
    free(bytes);
}
END_TEST

Suite *docs_projects_suite(void) {
    Suite *suite = suite_create("docs: examples");
    TCase *tests = tcase_create("projects");
    tcase_add_test(tests, examples_load_and_work);
    tcase_add_test(tests, the_stub_stamp_fails_as_its_file_says);
    tcase_add_test(tests, the_point_of_the_belt_is_as_its_file_says);
    tcase_add_test(tests, the_inventory_agrees_with_the_examples);
    suite_add_tcase(suite, tests);
    return suite;
}
