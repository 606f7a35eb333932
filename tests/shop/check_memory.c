/* check_memory.c - every allocation of the shop fails once: nothing crashes, nothing leaks (the sanitizer build tells),
 * and no half-read project comes back. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "paper.h"
#include "shop/alloc.h"

Suite *shop_memory_suite(void);

static const char yaml[] =
    "# lid\nbandwright-project: 1\npiece: &p \"Cedar\\tlid\"\nleather: {weight: 8 oz, trim: 3}\n"
    "outline: {shape: circle, diameter: 140}\nfixed: [outline, bands.rim.width]\nbands:\n"
    "  - {name: rim, space: 4, width: 5, fill: border, tool: shell-5, anchors: [top, 3], count: [40, auto]}\n"
    "  - name: weave\n    width: 21\n    note: |\n      text\n    unknown: *p\n"
    "tools:\n  - {id: shell-5, kind: border, length: 5.2, width: 5.0}\n  - {id: b, kind: basket, length: 9}\n";

static const char shelf[] =
    "bandwright-inventory: 1\ntools: [{id: x, kind: maul, name: n, note: m}, {id: b, kind: basket, "
    "length: 8}]\n";

/* Runs with allocation n failing; true once n lies beyond the last one, when all must have gone well. */
typedef bool (*job)(void); /* false: it failed, and cleanly */

static size_t fail_each(job run) {
    size_t failures = 0;
    for (long n = 0; n < 20000; n++) {
        shop_alloc_fail_at(n);
        bool good = run();
        shop_alloc_fail_at(-1);
        failures += !good;
        if (good && n > 0 && run()) { /* did it go well because nothing failed? ask for the next two as well */
            shop_alloc_fail_at(n + 1);
            bool more = run();
            shop_alloc_fail_at(n + 2);
            more = run() && more;
            shop_alloc_fail_at(-1);
            if (more)
                return failures;
        }
    }
    ck_abort_msg("never went well");
}

static bool read_project(void) {
    shop_problems problems;
    shop_problems_init(&problems, "lid.yaml");
    shop_inventory *inventory = shop_inventory_read(shelf, strlen(shelf), &problems);
    shop_project *project = shop_project_read(yaml, strlen(yaml), "lid.yaml", inventory, &problems);
    bool good = project && inventory && problems.errors == 0;
    ck_assert_msg(good || problems.errors > 0, "what failed must count as an error");
    if (good) {
        ck_assert_uint_eq(project->layout.band_count, 2);
        ck_assert_uint_eq(project->layout.tool_count, 3);
        ck_assert_int_eq(project->layout.bands[0].counts[0], 40);
        ck_assert_uint_eq(project->fixed_count, 2);
        ck_assert(project->tool_about[1].differs);
    }
    shop_project_free(project);
    shop_inventory_free(inventory);
    shop_problems_free(&problems);
    return good;
}

static const char *edit_path, *edit_value;

static bool edit(void) {
    shop_problems problems;
    shop_problems_init(&problems, "lid.yaml");
    shop_text *text = shop_text_read(yaml, strlen(yaml), &problems);
    bool good = false;
    if (text) {
        char *bytes;
        size_t length;
        shop_edit e = {strdup(edit_path), NULL, edit_value ? strdup(edit_value) : NULL};
        good = shop_text_edit(text, &e, &bytes, &length, &problems);
        ck_assert(good == (bytes != NULL));
        ck_assert_msg(good || problems.errors > 0, "%s", edit_path);
        shop_edit_free(&e);
        free(bytes);
    }
    shop_text_free(text);
    shop_problems_free(&problems);
    return good;
}

static bool texts(void) {
    size_t length;
    char *fresh = shop_new_text("a: b", SHOP_MM, &length), *place = shop_inventory_place();
    bool good = fresh && place;
    free(fresh);
    free(place);
    return good;
}

static bool print(void) {
    shop_problems problems;
    shop_problems_init(&problems, "lid.yaml");
    char longer[700];
    memset(longer, '\a', sizeof longer - 1);
    longer[sizeof longer - 1] = '\0';
    for (int i = 0; i < 20; i++)
        shop_problem_add(&problems, false, 1, 1, "%s", longer);
    ck_assert_uint_eq(problems.errors, 20); /* counted even if nobody can say what it was */
    bool good = problems.count == 20 && problems.file;
    char *said = paper_problems(&problems);
    ck_assert_uint_gt(strlen(said), 20);
    free(said);
    shop_problems_free(&problems);
    return good;
}

START_TEST(reading_without_memory) {
    ck_assert_uint_gt(fail_each(read_project), 10);
}
END_TEST

START_TEST(editing_without_memory) {
    static const char *const edits[][2] = {{"bands.weave.width", "18"}, {"bands.rim", NULL},
                                           {"bands[3]", "{name: x}"},   {"bands.weave.outer.line", "cut"},
                                           {"fixed", "[bands]"},        {"leather.trim", NULL},
                                           {"start-mark", "top"},       {"bands[1]", "{name: y, note: \"a\"}"}};
    for (size_t i = 0; i < sizeof edits / sizeof edits[0]; i++) {
        edit_path = edits[i][0];
        edit_value = edits[i][1];
        ck_assert_uint_gt(fail_each(edit), 5);
    }
}
END_TEST

START_TEST(the_rest_without_memory) {
    ck_assert_uint_gt(fail_each(texts), 3);
    ck_assert_uint_gt(fail_each(print), 3);
}
END_TEST

/* The old file must be there whatever fails. */
START_TEST(saving_without_memory) {
    char file[] = "/tmp/shop-memory-XXXXXX";
    int descriptor = mkstemp(file);
    ck_assert_int_ge(descriptor, 0);
    FILE *to = fdopen(descriptor, "w");
    ck_assert_ptr_nonnull(to);
    fclose(to);
    bool saved = false;
    for (long n = 0; n < 100 && !saved; n++) {
        shop_problems problems;
        shop_problems_init(&problems, file);
        char *bytes;
        size_t length;
        shop_alloc_fail_at(n);
        shop_status status = shop_save(file, "new\n", 4, false, &problems);
        shop_alloc_fail_at(-1);
        saved = status == SHOP_OK;
        ck_assert_int_eq(saved, problems.errors == 0);
        shop_problems_free(&problems);
        shop_problems_init(&problems, file);
        ck_assert_int_eq(shop_read(file, &bytes, &length, &problems), SHOP_OK);
        ck_assert_uint_eq(length, saved ? 4 : 0);
        free(bytes);
        shop_problems_free(&problems);
    }
    ck_assert(saved);
    remove(file);
}
END_TEST

START_TEST(reading_a_file_without_memory) {
    for (long n = 0; n < 50; n++) {
        shop_problems problems;
        shop_problems_init(&problems, "share/inventory.yaml");
        char *bytes;
        size_t length;
        shop_alloc_fail_at(n);
        shop_status status = shop_read("share/inventory.yaml", &bytes, &length, &problems);
        shop_alloc_fail_at(-1);
        ck_assert(status == SHOP_OK || status == SHOP_NO_MEMORY);
        ck_assert_int_eq(status == SHOP_OK, bytes != NULL);
        ck_assert(n > 0 || status == SHOP_NO_MEMORY);
        free(bytes);
        shop_problems_free(&problems);
    }
}
END_TEST

Suite *shop_memory_suite(void) {
    Suite *suite = suite_create("memory");
    TCase *all = tcase_create("failing");
    tcase_set_timeout(all, 60);
    tcase_add_test(all, reading_without_memory);
    tcase_add_test(all, editing_without_memory);
    tcase_add_test(all, the_rest_without_memory);
    tcase_add_test(all, saving_without_memory);
    tcase_add_test(all, reading_a_file_without_memory);
    suite_add_tcase(suite, all);
    return suite;
}
