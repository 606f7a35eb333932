/* check_includes.c - one direction of arrows between the rooms, read from what every file includes.
 *
 * maths <- shop <- desk <- show <- paper <- bench <- term <- main; verbs use what lies left of bench, the verb that
 * opens the workbench also bench and term. A room has curses, cairo or libyaml to itself.
 */
#include <check.h>
#include <glob.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

Suite *arrows_includes_suite(void);

static const char *const rooms[] = {"maths", "shop", "desk", "show", "paper", "bench", "term", "verbs", "main"};
enum { MATHS, SHOP, DESK, SHOW, PAPER, BENCH, TERM, VERBS, MAIN, ROOMS };

/* The room of a path like src/shop/text.c, include/bandwright/plan.h or src/main.c; -1 if it is in none. */
static int room_of(const char *path) {
    if (strncmp(path, "include/bandwright/", 19) == 0 || strncmp(path, "bandwright/", 11) == 0) {
        return MATHS;
    }
    if (strcmp(path, "src/main.c") == 0) {
        return MAIN;
    }
    const char *name = strncmp(path, "src/", 4) == 0 ? path + 4 : path;
    for (int room = 0; room < MAIN; room++) {
        size_t length = strlen(rooms[room]);
        if (strncmp(name, rooms[room], length) == 0 && name[length] == '/') {
            return room;
        }
    }
    return -1;
}

static bool may_use(const char *path, int from, int to) {
    if (from == VERBS) {
        bool opens_workbench = strcmp(path, "src/verbs/workbench.c") == 0;
        return to == VERBS || to < BENCH || (opens_workbench && (to == BENCH || to == TERM));
    }
    return from == MAIN || to <= from;
}

static bool has_to_itself(const char *header, int from) {
    static const struct {
        const char *part;
        int room;
    } owned[] = {{"curses", TERM}, {"term.h", TERM}, {"cairo", PAPER}, {"yaml.h", SHOP}, {"panel.h", TERM}};
    for (size_t i = 0; i < sizeof owned / sizeof owned[0]; i++) {
        if (strstr(header, owned[i].part) != NULL && from != owned[i].room) {
            return false;
        }
    }
    return true;
}

/* The maths are pure: of the C library only what computes and copies. */
static bool pure(const char *header) {
    static const char *const fine[] = {"math.h",  "string.h", "stdlib.h", "stdbool.h",  "stddef.h",   "stdint.h",
                                       "float.h", "limits.h", "assert.h", "stdalign.h", "stdatomic.h"};
    for (size_t i = 0; i < sizeof fine / sizeof fine[0]; i++) {
        if (strcmp(header, fine[i]) == 0) {
            return true;
        }
    }
    return false;
}

/* NULL if the file at `path` may include this line's header, else why not. */
static const char *judge(const char *path, const char *line) {
    char header[200];
    int from = room_of(path);
    if (from < 0) {
        return "the file is in no room";
    }
    if (sscanf(line, " # include <%199[^>]>", header) == 1) {
        if (!has_to_itself(header, from)) {
            return "another room has this library to itself";
        }
        return from != MATHS || pure(header) ? NULL : "the maths are pure";
    }
    if (sscanf(line, " # include \"%199[^\"]\"", header) == 1) {
        if (strchr(header, '/') == NULL) {
            return NULL; /* beside the file itself */
        }
        int to = room_of(header);
        if (to < 0) {
            return "what it includes is in no room";
        }
        return may_use(path, from, to) ? NULL : "the arrow points the other way";
    }
    return NULL;
}

static int files_read(glob_t *files) {
    static const char *const patterns[] = {"src/*.c",   "src/*.h",   "src/*/*.c",
                                           "src/*/*.h", "src/*/*/*", "include/*/*.h"};
    memset(files, 0, sizeof *files);
    for (size_t i = 0; i < sizeof patterns / sizeof patterns[0]; i++) {
        glob(patterns[i], i == 0 ? 0 : GLOB_APPEND, NULL, files);
    }
    return (int)files->gl_pathc;
}

START_TEST(every_arrow_points_left) {
    glob_t files;
    ck_assert_int_gt(files_read(&files), 40);
    for (size_t i = 0; i < files.gl_pathc; i++) {
        FILE *file = fopen(files.gl_pathv[i], "r");
        ck_assert_ptr_nonnull(file);
        char line[1000];
        for (int number = 1; fgets(line, sizeof line, file) != NULL; number++) {
            const char *wrong = judge(files.gl_pathv[i], line);
            ck_assert_msg(wrong == NULL, "%s:%d: %s: %s", files.gl_pathv[i], number, wrong, line);
        }
        fclose(file);
    }
    globfree(&files);
}
END_TEST

/* The judge itself: what it must refuse and let pass. */
START_TEST(turned_arrows_are_seen) {
    static const struct {
        const char *path, *line;
        bool fine;
    } cases[] = {
        {"src/maths/run.c", "#include \"shop/shop.h\"", false},
        {"src/maths/run.c", "#include <stdio.h>", false},
        {"src/maths/run.c", "# include  <math.h>", true},
        {"include/bandwright/plan.h", "#include \"desk/desk.h\"", false},
        {"src/shop/text.c", "#include <yaml.h>", true},
        {"src/desk/desk.c", "#include <yaml.h>", false},
        {"src/shop/text.c", "#include \"show/show.h\"", false},
        {"src/show/yaml.c", "#include \"desk/desk.h\"", true},
        {"src/bench/bench.c", "#include <ncursesw/curses.h>", false},
        {"src/term/term.c", "#include <curses.h>", true},
        {"src/show/preview.c", "#include <curses.h>", false},
        {"src/bench/bench.c", "#include \"term/term.h\"", false},
        {"src/verbs/plan.c", "#include \"bench/bench.h\"", false},
        {"src/verbs/workbench.c", "#include \"bench/bench.h\"", true},
        {"src/bench/bench.c", "#include \"verbs/verbs.h\"", false},
        {"src/shop/text.c", "#include \"../show/show.h\"", false},
        {"src/elsewhere/text.c", "#include \"shop/shop.h\"", false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        ck_assert_msg((judge(cases[i].path, cases[i].line) == NULL) == cases[i].fine, "%s: %s", cases[i].path,
                      cases[i].line);
    }
}
END_TEST

Suite *arrows_includes_suite(void) {
    Suite *suite = suite_create("arrows/includes");
    TCase *tests = tcase_create("includes");
    tcase_add_test(tests, every_arrow_points_left);
    tcase_add_test(tests, turned_arrows_are_seen);
    suite_add_tcase(suite, tests);
    return suite;
}
