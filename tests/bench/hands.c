/* hands.c - a workbench in a folder of its own, and hands that press keys on it. */
#include "bench/hands.h"

#include <check.h>
#include <ftw.h>
#include <glob.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "bench/inner.h"
#include "bench/other_keys.h"

static char root[PATH_MAX], folder[64];
static bool other_keys;

/* Tests come here thousands of times: no shell, and in memory where there is such a folder. */
static void copy(const char *from, const char *to) {
    char bytes[16384];
    FILE *source = fopen(from, "rb"), *target = fopen(to, "wb");
    ck_assert_msg(source != NULL && target != NULL, "%s to %s", from, to);
    size_t length = fread(bytes, 1, sizeof bytes, source);
    ck_assert_uint_lt(length, sizeof bytes);
    ck_assert_uint_eq(fwrite(bytes, 1, length, target), length);
    ck_assert_int_eq(fclose(source), 0);
    ck_assert_int_eq(fclose(target), 0);
}

static void copy_inventory(void) {
    char name[PATH_MAX + 80];
    snprintf(name, sizeof name, "%s/share/inventory.yaml", root);
    copy(name, HANDS_INVENTORY);
}

/* Copies of the examples and of the inventory: keys may save them. */
void hands_begin(void) {
    other_keys = false;
    ck_assert_ptr_nonnull(getcwd(root, sizeof root));
    snprintf(folder, sizeof folder, "%s/bandwright-hands-XXXXXX", access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    glob_t examples;
    ck_assert_int_eq(glob("projects/*.yaml", 0, NULL, &examples), 0);
    ck_assert_int_eq(chdir(folder), 0);
    ck_assert_int_eq(mkdir("examples", 0777) | mkdir("shop", 0777), 0);
    for (size_t i = 0; i < examples.gl_pathc; i++) {
        char from[PATH_MAX + 80], to[80];
        const char *name = strrchr(examples.gl_pathv[i], '/') + 1;
        snprintf(from, sizeof from, "%s/projects/%s", root, name);
        snprintf(to, sizeof to, "examples/%s", name);
        copy(from, to);
        copy(from, name);
    }
    globfree(&examples);
    copy_inventory();
}

static int take_away(const char *path, const struct stat *status, int kind, struct FTW *walk) {
    (void)status;
    (void)kind;
    (void)walk;
    return remove(path);
}

static void take_away_all(const char *path) {
    (void)nftw(path, take_away, 8, FTW_DEPTH | FTW_PHYS);
}

void hands_fresh(const char *file) {
    char name[PATH_MAX + 80];
    take_away_all("state");
    copy_inventory();
    if (file != NULL) {
        snprintf(name, sizeof name, "%s/projects/%s", root, file);
        copy(name, file);
    }
}

void hands_end(void) {
    ck_assert_int_eq(chdir(root), 0);
    take_away_all(folder);
    ck_assert_int_ne(access(folder, F_OK), 0);
}

bench *hands_open(const char *file) {
    bench_places places = {HANDS_INVENTORY, "state", "examples"};
    shop_problems problems;
    shop_problems_init(&problems, file != NULL ? file : "");
    shop_status status;
    bench *b = bench_create(file, &places, &problems, &status);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    ck_assert_ptr_nonnull(b);
    if (other_keys) {
        other_keys_take(b);
    }
    return b;
}

void hands_other_keys(void) {
    other_keys = true;
}

void hands_press(bench *b, const char *shipped) {
    char *script = other_keys ? other_keys_script(shipped) : strdup(shipped);
    ck_assert_ptr_nonnull(script);
    FILE *nowhere = fopen("/dev/null", "w");
    shop_problems problems;
    shop_problems_init(&problems, "keys");
    ck_assert_ptr_nonnull(nowhere);
    bool fine = bench_replay(b, script, strlen(script), (bench_size){80, 24}, true, nowhere, &problems);
    fclose(nowhere);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    ck_assert_msg(fine, "the keys %s", script);
    free(script);
}

char *hands_screen(bench *b, int width, int height) {
    show_grid grid;
    ck_assert(show_grid_init(&grid, width, height, true));
    bench_draw(b, &grid);
    char *text = show_grid_text(&grid);
    show_grid_free(&grid);
    ck_assert_ptr_nonnull(text);
    return text;
}

void hands_see(bench *b, const char *words) {
    char *screen = hands_screen(b, 80, 24);
    ck_assert_msg(strstr(screen, words) != NULL, "no '%s' in\n%s", words, screen);
    free(screen);
}

void hands_write(const char *name, const char *text) {
    FILE *to = fopen(name, "wb");
    ck_assert_ptr_nonnull(to);
    ck_assert_int_ge(fputs(text, to), 0);
    ck_assert_int_eq(fclose(to), 0);
}

static char *bytes_of(const desk *d) {
    size_t length;
    const char *bytes = desk_bytes(d, &length);
    char *copy = strndup(bytes, length);
    ck_assert_ptr_nonnull(copy);
    return copy;
}

char *hands_bytes(const bench *b) {
    return bytes_of(bench_desk(b));
}

char *hands_stock_bytes(const bench *b) {
    return bytes_of(b->stock);
}
