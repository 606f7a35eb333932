/* spawn.c - runs the program in a folder of its own and keeps what it wrote. */
#include "verbs/spawn.h"

#include <check.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

static char folder[64];
static spawned last;

void spawn_begin(void) {
    const char *program = getenv("BW_PROGRAM");
    char *full = realpath(program != NULL ? program : "build/bandwright", NULL);
    ck_assert_msg(full != NULL, "the program is not built");
    setenv("BW", full, 1);
    free(full);
    char *tree = realpath(".", NULL);
    setenv("TREE", tree, 1);
    free(tree);
    strcpy(folder, "/tmp/bandwright-test-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(folder));
}

void spawn_end(void) {
    char command[100];
    snprintf(command, sizeof command, "rm -rf %s", folder);
    ck_assert_int_eq(system(command), 0);
    free(last.out);
    free(last.err);
    last = (spawned){.out = NULL};
}

static char *read_whole(const char *path, size_t *length) {
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        return NULL;
    }
    size_t room = 1 << 16, got;
    char *text = malloc(room + 1);
    *length = 0;
    while (text != NULL && (got = fread(text + *length, 1, room - *length, file)) > 0) {
        *length += got;
        if (*length == room) {
            room *= 2;
            text = realloc(text, room + 1);
        }
    }
    fclose(file);
    ck_assert_ptr_nonnull(text);
    text[*length] = '\0';
    return text;
}

static const char *inside(const char *name) {
    static char path[300];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

const spawned *spawn(const char *line, ...) {
    char text[4000], command[4400];
    va_list values;
    va_start(values, line);
    ck_assert_int_lt(vsnprintf(text, sizeof text, line, values), (int)sizeof text);
    va_end(values);
    snprintf(command, sizeof command, "cd %s && mkdir -p .home && export HOME=$PWD/.home && { %s\n} >.out 2>.err",
             folder, text);
    free(last.out);
    free(last.err);
    int result = system(command);
    last.status = WIFEXITED(result) ? WEXITSTATUS(result) : 128 + WTERMSIG(result);
    size_t length;
    last.out = read_whole(inside(".out"), &last.out_length);
    last.err = read_whole(inside(".err"), &length);
    ck_assert(last.out != NULL && last.err != NULL);
    return &last;
}

void spawn_write(const char *name, const char *text, size_t length) {
    FILE *file = fopen(inside(name), "wb");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(text, 1, length, file), length);
    fclose(file);
}

char *spawn_read(const char *name, size_t *length) {
    return read_whole(inside(name), length);
}

void spawn_copy(const char *from, const char *name) {
    size_t length;
    char *text = read_whole(from, &length);
    ck_assert_msg(text != NULL, "%s is not there", from);
    spawn_write(name, text, length);
    free(text);
}
