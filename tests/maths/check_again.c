/* check_again.c - a plan made after another one is, to the letter, the plan made afresh, whatever has changed
 * meanwhile. */
#include <check.h>
#include <glob.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "shop/shop.h"
#include "show/show.h"

Suite *maths_again_suite(void);

static char *written(const shop_project *project, const bw_plan *plan) {
    char *text = NULL;
    size_t length;
    FILE *to = open_memstream(&text, &length);
    ck_assert_ptr_nonnull(to);
    ck_assert(show_plan_yaml(to, project, plan));
    ck_assert_int_eq(fclose(to), 0);
    return text;
}

/* False where the layout cannot be planned: then neither way. */
static bool same_again(shop_project *project, const bw_plan *before, const char *what) {
    bw_plan *fresh, *again;
    bw_status status = bw_plan_create(&project->layout, NULL, &fresh);
    ck_assert_int_eq(bw_plan_again(&project->layout, before, NULL, &again), status);
    if (status != BW_OK) {
        return false;
    }
    size_t pieces = bw_curve_pieces(fresh->edge);
    ck_assert_uint_eq(bw_curve_pieces(again->edge), pieces);
    for (size_t i = 0; i < pieces; i++) {
        bw_piece one = bw_curve_piece(fresh->edge, i), other = bw_curve_piece(again->edge, i);
        ck_assert_msg(one.start == other.start && one.length == other.length && one.curvature == other.curvature,
                      "%s: piece %zu of the edge is another", what, i);
    }
    char *one = written(project, fresh), *other = written(project, again);
    ck_assert_msg(strcmp(one, other) == 0, "%s: another plan", what);
    free(one);
    free(other);
    bw_plan_destroy(fresh);
    bw_plan_destroy(again);
    return true;
}

/* Every size of the outline by itself a little larger. */
static size_t change_sizes(shop_project *project, const bw_plan *before, const char *what) {
    bw_outline *o = &project->layout.outline;
    double *sizes[] = {&o->diameter,  &o->around,      &o->chord,     &o->depth,
                       &o->length,    &o->width,       &o->corner[0], &o->corner[1],
                       &o->corner[2], &o->corner[3],   &o->scale,     &o->radius,
                       &o->sweep,     &o->start.point, &o->end.point, &project->layout.growth};
    size_t planned = 0;
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        double old = *sizes[i];
        *sizes[i] = old * 1.01;
        planned += !isnan(old) && old != 0 && same_again(project, before, what);
        *sizes[i] = old;
    }
    return planned;
}

static void change_corners(shop_project *project, const bw_plan *before, const char *what) {
    bw_outline *o = &project->layout.outline;
    const bw_corner *old = o->corners;
    bw_corner *corners = malloc((o->corner_count + 1) * sizeof *corners);
    ck_assert_ptr_nonnull(corners);
    for (size_t i = 0; i < o->corner_count; i++) {
        memcpy(corners, old, o->corner_count * sizeof *corners);
        o->corners = corners;
        corners[i].x += 0.5;
        (void)same_again(project, before, what);
    }
    o->corners = old;
    free(corners);
}

START_TEST(a_plan_made_after_another) {
    glob_t files;
    size_t planned = 0, paths = 0;
    ck_assert_int_eq(glob("projects/*.yaml", 0, NULL, &files), 0);
    for (size_t i = 0; i < files.gl_pathc; i++) {
        const char *what = files.gl_pathv[i];
        shop_problems problems;
        shop_problems_init(&problems, what);
        char *bytes = NULL;
        size_t length = 0;
        ck_assert_int_eq(shop_read(what, &bytes, &length, &problems), SHOP_OK);
        shop_project *project = shop_project_read(bytes, length, what, NULL, &problems);
        ck_assert_ptr_nonnull(project);
        free(bytes);
        bw_plan *before;
        ck_assert_int_eq(bw_plan_create(&project->layout, NULL, &before), BW_OK);
        ck_assert(same_again(project, before, what));
        planned += change_sizes(project, before, what);
        change_corners(project, before, what);
        if (project->layout.outline.shape == BW_PATH) {
            project->layout.outline.svg = "M 0 0 H 200 V 120 H 0 Z";
            ck_assert(same_again(project, before, what));
            paths++;
        }
        bw_plan_destroy(before);
        shop_project_free(project);
        shop_problems_free(&problems);
    }
    globfree(&files);
    ck_assert_uint_gt(planned, 10);
    ck_assert_uint_gt(paths, 0);
}
END_TEST

Suite *maths_again_suite(void) {
    Suite *suite = suite_create("maths/again");
    TCase *tests = tcase_create("again");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, a_plan_made_after_another);
    suite_add_tcase(suite, tests);
    return suite;
}
