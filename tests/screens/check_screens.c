/* check_screens.c - key scripts and the screens they must give, byte for byte.
 *
 * NAME.keys begins with `# 80x24 UTF-8 cedar-lid.yaml`: the window, the characters of the locale (UTF-8 or C) and an
 * example that is opened, `-` for none, `- cedar-lid.yaml` for one that only the program before had open. NAME.screen
 * holds the screens; a NAME.yaml beside them is the file that the script must have left. NAME.before holds keys of a
 * program that was ended from outside before; NAME.other is what somebody else writes into the file once it is open.
 * BW_WRITE=1 writes the screens anew. Everything runs in a folder of its own. README.md says which script shows which
 * moment of a maker's day; a moment without one fails. */
#include <glob.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bench/bench.h"
#include "runner.h"

#define SCRIPTS "tests/screens/*.keys"

static glob_t scripts;
static char root[PATH_MAX], folder[] = "/tmp/bandwright-screens-XXXXXX";

static void begin(void) {
    ck_assert_ptr_nonnull(getcwd(root, sizeof root));
    ck_assert_ptr_nonnull(mkdtemp(folder));
}

static void end(void) {
    char command[128];
    ck_assert_int_eq(chdir(root), 0);
    snprintf(command, sizeof command, "rm -rf '%s'", folder);
    ck_assert_int_eq(system(command), 0);
    strcpy(folder + sizeof folder - 7, "XXXXXX");
}

/* NULL if there is no such file. */
static char *slurp(const char *path, size_t *length) {
    shop_problems problems;
    shop_problems_init(&problems, path);
    char *bytes = NULL;
    if (shop_read(path, &bytes, length, &problems) != SHOP_OK) {
        bytes = NULL;
    }
    shop_problems_free(&problems);
    return bytes;
}

static void spill(const char *path, const char *bytes, size_t length) {
    FILE *to = fopen(path, "wb");
    ck_assert_msg(to != NULL, "%s", path);
    ck_assert_uint_eq(fwrite(bytes, 1, length, to), length);
    ck_assert_int_eq(fclose(to), 0);
}

typedef struct header {
    bench_size size;
    bool unicode;
    char file[64];   /* "-": none */
    char before[64]; /* what the program before had open; "-": nothing */
} header;

static header read_header(const char *name, const char *script) {
    header made = {{0, 0}, false, "", ""};
    char size[16] = "", locale[16] = "";
    int words = sscanf(script, "# %15s %15s %63s%*[ ]%63[^\n ]", size, locale, made.file, made.before);
    ck_assert_msg(words >= 3, "%s: no header", name);
    if (words == 3) {
        strcpy(made.before, made.file);
    }
    ck_assert_msg(bench_size_read(size, &made.size), "%s: %s is no size", name, size);
    made.unicode = strcmp(locale, "UTF-8") == 0;
    ck_assert_msg(made.unicode || strcmp(locale, "C") == 0, "%s: locale %s", name, locale);
    return made;
}

/* The example is copied, so that scripts may save; the inventory to begin with, too. */
static void fetch(const char *from_folder, const char *name, const char *file) {
    char from[PATH_MAX + 80];
    size_t length;
    snprintf(from, sizeof from, "%s/%s/%s", root, from_folder, name);
    char *bytes = slurp(from, &length);
    ck_assert_msg(bytes != NULL, "%s: no such example", from);
    spill(file, bytes, length);
    free(bytes);
}

/* A file beside the script that it may have; NULL if it has not. */
static char *beside(const char *name, const char *ending, size_t *length) {
    char path[PATH_MAX * 2];
    snprintf(path, sizeof path, "%s/%.*s%s", root, (int)(strlen(name) - strlen(".keys")), name, ending);
    return slurp(path, length);
}

static void press_before(const char *name, const header *head, const bench_places *places) {
    size_t length;
    char *keys = beside(name, ".before", &length);
    if (keys == NULL) {
        return;
    }
    shop_problems problems;
    shop_status status;
    shop_problems_init(&problems, name);
    bool none = strcmp(head->before, "-") == 0;
    bench *b = bench_create(none ? NULL : head->before, places, &problems, &status);
    FILE *nowhere = fopen("/dev/null", "w");
    ck_assert(b != NULL && nowhere != NULL);
    ck_assert(bench_replay(b, keys, length, head->size, head->unicode, nowhere, &problems));
    bool unsaved = bench_desk(b) == NULL || desk_unsaved(bench_desk(b)) || strcmp(head->before, head->file) == 0;
    ck_assert(!unsaved || bench_leave(b) != NULL);
    bench_destroy(b);
    fclose(nowhere);
    shop_problems_free(&problems);
    free(keys);
}

static void write_other(const char *name, const header *head) {
    size_t length;
    char *bytes = beside(name, ".other", &length);
    if (bytes != NULL) {
        spill(head->file, bytes, length);
    }
    free(bytes);
}

/* Where a screen names the folder, its name is each time another: as long, and always the same. */
static void plain_folder(char *screens) {
    const char *bare = strrchr(folder, '/');
    for (char *at = screens; (at = strstr(at, bare)) != NULL;) {
        memcpy(at + strlen(bare) - 6, "XXXXXX", 6);
    }
}

static char *replay(const char *name, const char *script, size_t length, size_t *got_length) {
    header head = read_header(name, script);
    char examples[PATH_MAX + 40];
    snprintf(examples, sizeof examples, "%s/projects", root);
    bench_places places = {"inventory.yaml", "state", examples};
    shop_problems problems;
    shop_problems_init(&problems, name);
    shop_status status;
    bool none = strcmp(head.file, "-") == 0;
    fetch("share", "inventory.yaml", "inventory.yaml");
    if (strcmp(head.before, "-") != 0) {
        fetch("projects", head.before, head.before);
    }
    press_before(name, &head, &places);
    bench *b = bench_create(none ? NULL : head.file, &places, &problems, &status);
    write_other(name, &head);
    char *screens = NULL;
    FILE *to = open_memstream(&screens, got_length);
    ck_assert_ptr_nonnull(to);
    bool fine = b != NULL && bench_replay(b, script, length, head.size, head.unicode, to, &problems);
    ck_assert_int_eq(fclose(to), 0);
    bench_destroy(b);
    shop_problems_print(&problems, stderr);
    ck_assert_msg(fine && problems.errors == 0, "%s: the script does not run", name);
    shop_problems_free(&problems);
    return screens;
}

static void first_difference(const char *name, const char *want, const char *got) {
    int line = 1;
    size_t at = 0, start = 0;
    for (; want[at] != '\0' && want[at] == got[at]; at++) {
        if (want[at] == '\n') {
            line++;
            start = at + 1;
        }
    }
    ck_abort_msg("%s, line %d:\n  wanted |%.*s|\n  got    |%.*s|", name, line, (int)strcspn(want + start, "\n"),
                 want + start, (int)strcspn(got + start, "\n"), got + start);
}

/* No control characters; nothing but ASCII where the locale has no more. */
static void is_clean(const char *name, const char *screens, bool unicode) {
    for (const char *at = screens; *at != '\0'; at++) {
        ck_assert_msg(unicode || (unsigned char)*at < 0x80, "%s: not plain ASCII", name);
        ck_assert_msg(*at == '\n' || (unsigned char)*at >= 0x20, "%s: a control character", name);
    }
}

static void left_file(const char *name, const char *stem, const header *head) {
    char golden[PATH_MAX * 2 + 16], left[PATH_MAX];
    size_t want_length, got_length;
    snprintf(golden, sizeof golden, "%s/%s.yaml", root, stem);
    char *want = slurp(golden, &want_length);
    if (want == NULL) {
        return;
    }
    snprintf(left, sizeof left, "%.200s.yaml", strrchr(stem, '/') + 1);
    char *got = slurp(left, &got_length);
    if (got == NULL) {
        snprintf(left, sizeof left, "%s", head->before);
        got = slurp(left, &got_length);
    }
    ck_assert_msg(got != NULL, "%s left no %s", name, left);
    ck_assert_msg(got_length == want_length && memcmp(got, want, got_length) == 0, "%s is:\n%s", left, got);
    free(want);
    free(got);
}

START_TEST(screens_are_as_kept) {
    const char *name = scripts.gl_pathv[_i];
    char stem[PATH_MAX], golden[PATH_MAX * 2 + 16];
    size_t length, got_length = 0, want_length = 0;
    snprintf(stem, sizeof stem, "%.*s", (int)(strlen(name) - strlen(".keys")), name);
    snprintf(golden, sizeof golden, "%s/%s.screen", root, stem);
    char *script = slurp(name, &length);
    ck_assert_ptr_nonnull(script);
    ck_assert_int_eq(chdir(folder), 0);
    char *got = replay(name, script, length, &got_length);
    header head = read_header(name, script);
    plain_folder(got);
    is_clean(name, got, head.unicode);
    if (getenv("BW_WRITE") != NULL) {
        spill(golden, got, got_length);
    }
    char *want = slurp(golden, &want_length);
    ck_assert_msg(want != NULL, "%s is missing; BW_WRITE=1 writes it", golden);
    if (want_length != got_length || memcmp(want, got, got_length) != 0) {
        first_difference(golden, want, got);
    }
    left_file(name, stem, &head);
    free(want);
    free(got);
    free(script);
}
END_TEST

START_TEST(scripts_are_there) {
    ck_assert_uint_gt(scripts.gl_pathc, 20);
}
END_TEST

/* ---- README.md: which script shows what ---- */

/* A row's scripts are `NAME.keys`; the head and the rule under it have none. Returns how many there are. */
static int scripts_named(const char *row, const char *end) {
    int named = 0;
    for (const char *at = row; (at = memchr(at, '`', (size_t)(end - at))) != NULL; at++) {
        const char *close = memchr(at + 1, '`', (size_t)(end - at - 1));
        if (close == NULL) {
            break;
        }
        char path[PATH_MAX + 200];
        size_t length;
        if (close - at > 6 && strncmp(close - 5, ".keys", 5) == 0) {
            snprintf(path, sizeof path, "%s/tests/screens/%.*s", root, (int)(close - at - 1), at + 1);
            char *keys = slurp(path, &length);
            ck_assert_msg(keys != NULL, "README.md names %.*s, which is not there", (int)(close - at - 1), at + 1);
            ck_assert_msg(strstr(keys, "screen") != NULL, "%s shows nothing", path);
            free(keys);
            named++;
        }
        at = close;
    }
    return named;
}

START_TEST(every_moment_has_a_script) {
    size_t length;
    char path[PATH_MAX + 40];
    int rows = 0;
    snprintf(path, sizeof path, "%s/tests/screens/README.md", root);
    char *text = slurp(path, &length);
    ck_assert_msg(text != NULL, "%s", path);
    for (char *line = text, *end; (end = strchr(line, '\n')) != NULL; line = end + 1) {
        bool row = line[0] == '|' && strncmp(line, "| what", 6) != 0 && line[1] != '-';
        int named = row ? scripts_named(line, end) : 0;
        ck_assert_msg(!row || named > 0, "no script in: %.*s", (int)(end - line), line);
        rows += row;
    }
    ck_assert_int_ge(rows, 17); /* ten moments, seven rules */
    free(text);
}
END_TEST

Suite *screens_screens_suite(void);

Suite *screens_screens_suite(void) {
    Suite *suite = suite_create("screens from key scripts");
    TCase *tests = tcase_create("goldens");
    tcase_set_timeout(tests, 60); /* long scripts, slow builds */
    if (scripts.gl_pathc == 0 && glob(SCRIPTS, 0, NULL, &scripts) != 0) {
        scripts.gl_pathc = 0;
    }
    tcase_add_checked_fixture(tests, begin, end);
    tcase_add_test(tests, scripts_are_there);
    tcase_add_test(tests, every_moment_has_a_script);
    tcase_add_loop_test(tests, screens_are_as_kept, 0, (int)scripts.gl_pathc);
    suite_add_tcase(suite, tests);
    return suite;
}
