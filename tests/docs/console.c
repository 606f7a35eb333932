/* console.c - the commands shown in a text, run again. */
#include <check.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

#include "docs/console.h"

typedef struct console {
    FILE *out;
    const char *folder, *setup;
    int *commands, *broken;
} console;

static size_t line_length(const char *line) {
    const char *end = strchr(line, '\n');
    return end != NULL ? (size_t)(end + 1 - line) : strlen(line);
}

static bool starts(const char *line, const char *with) {
    return strncmp(line, with, strlen(with)) == 0;
}

/* The length of a command with the lines that a backslash joins to it. */
static size_t command_length(const char *line) {
    size_t length = line_length(line);
    while (length >= 2 && line[length - 2] == '\\') {
        length += line_length(line + length);
    }
    return length;
}

static void run(const console *c, const char *command, size_t length) {
    char *shell = NULL;
    size_t room;
    FILE *to = open_memstream(&shell, &room);
    ck_assert_ptr_nonnull(to);
    fprintf(to, "cd '%s' && exec 2>&1 </dev/null\n%s\n%.*s", c->folder, c->setup, (int)length, command);
    fclose(to);
    FILE *pipe = popen(shell, "r");
    ck_assert_ptr_nonnull(pipe);
    char line[2000];
    while (fgets(line, sizeof line, pipe) != NULL) {
        fputs(line, c->out);
    }
    int status = pclose(pipe);
    *c->commands += 1;
    if (!WIFEXITED(status) || WEXITSTATUS(status) >= 126) {
        *c->broken += 1;
    }
    free(shell);
}

/* A fence of commands, up to the line that closes it; returns that line. */
static const char *console_fence(const console *c, const char *at) {
    while (*at != '\0' && !starts(at, "```")) {
        size_t length = starts(at, "$ ") ? command_length(at) : line_length(at);
        if (starts(at, "$ ")) {
            fwrite(at, 1, length, c->out);
            run(c, at + 2, length - 2);
        }
        at += length;
    }
    return at;
}

/* A fence that is a file; returns the line that closes it. */
static const char *file_fence(const console *c, const char *at, const char *name, size_t name_length) {
    char path[500];
    snprintf(path, sizeof path, "%s/%.*s", c->folder, (int)name_length, name);
    FILE *file = fopen(path, "w");
    ck_assert_ptr_nonnull(file);
    while (*at != '\0' && !starts(at, "```")) {
        size_t length = line_length(at);
        fwrite(at, 1, length, file);
        fwrite(at, 1, length, c->out);
        at += length;
    }
    fclose(file);
    return at;
}

char *console_renew(const char *text, const char *folder, const char *setup, int *commands, int *broken) {
    char *renewed = NULL;
    size_t room;
    console c = {open_memstream(&renewed, &room), folder, setup, commands, broken};
    ck_assert_ptr_nonnull(c.out);
    *commands = *broken = 0;
    for (const char *at = text; *at != '\0';) {
        size_t length = line_length(at);
        fwrite(at, 1, length, c.out);
        const char *line = at;
        at += length;
        if (starts(line, "```console")) {
            at = console_fence(&c, at);
        } else if (starts(line, "```keys ")) {
            at = file_fence(&c, at, line + 8, length - 9);
        } else {
            continue;
        }
        length = line_length(at); /* the line that closes the fence */
        fwrite(at, 1, length, c.out);
        at += length;
    }
    fclose(c.out);
    return renewed;
}
