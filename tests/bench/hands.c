/* hands.c - a workbench in a folder of its own, and hands that press keys on it. */
#include "bench/hands.h"

#include <check.h>
#include <ftw.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bench/inner.h"
#include "bench/other_keys.h"

static char root[PATH_MAX], folder[64];
static bool other_keys;

static void run(const char *format, const char *first, const char *second) {
    char command[PATH_MAX * 2 + 64];
    snprintf(command, sizeof command, format, first, second);
    ck_assert_msg(system(command) == 0, "%s", command);
}

void hands_begin(void) {
    other_keys = false;
    ck_assert_ptr_nonnull(getcwd(root, sizeof root));
    snprintf(folder, sizeof folder, "/tmp/bandwright-hands-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    run("mkdir '%2$s'/examples && cp '%1$s'/projects/*.yaml '%2$s'/examples/", root, folder);
    run("cp '%s'/projects/*.yaml '%s'/", root, folder); /* copies of the examples: keys may save them */
    run("mkdir '%2$s'/shop && cp '%1$s'/share/inventory.yaml '%2$s'/shop/", root, folder); /* keys may save it, too */
    ck_assert_int_eq(chdir(folder), 0);
}

static int take_away(const char *path, const struct stat *status, int kind, struct FTW *walk) {
    (void)status;
    (void)kind;
    (void)walk;
    return remove(path);
}

/* Without a shell: tests come here hundreds of times. */
void hands_fresh(const char *file) {
    char name[PATH_MAX + 80], bytes[16384];
    (void)nftw("state", take_away, 8, FTW_DEPTH | FTW_PHYS);
    snprintf(name, sizeof name, "%s/share/inventory.yaml", root);
    for (int i = 0; i < (file != NULL ? 2 : 1); i++) {
        if (i == 1) {
            snprintf(name, sizeof name, "%s/projects/%s", root, file);
        }
        FILE *to = fopen(i == 0 ? HANDS_INVENTORY : file, "wb"), *source = fopen(name, "rb");
        ck_assert(to != NULL && source != NULL);
        size_t length = fread(bytes, 1, sizeof bytes, source);
        ck_assert_uint_lt(length, sizeof bytes);
        ck_assert_uint_eq(fwrite(bytes, 1, length, to), length);
        fclose(source);
        fclose(to);
    }
}

void hands_end(void) {
    ck_assert_int_eq(chdir(root), 0);
    run("rm -rf '%s'%s", folder, "");
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
