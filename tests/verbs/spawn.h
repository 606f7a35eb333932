/* spawn.h - runs the program in a folder of its own and keeps what it wrote. */
#ifndef TESTS_VERBS_SPAWN_H
#define TESTS_VERBS_SPAWN_H

#include <stddef.h>

typedef struct spawned {
    int status; /* exit status; 128 + signal if one ended it */
    char *out, *err;
    size_t out_length;
} spawned;

/* Fixture: a fresh folder, and the program's absolute name in $BW for the shell. The folder is removed afterwards. */
void spawn_begin(void);
void spawn_end(void);

/* A shell line run in that folder; `$BW` is the program. What an earlier call returned is freed. */
__attribute__((format(printf, 1, 2))) const spawned *spawn(const char *line, ...);

/* Files of that folder. */
void spawn_write(const char *name, const char *text, size_t length);
char *spawn_read(const char *name, size_t *length); /* malloc'ed; NULL if it is not there */
/* A file of the source tree, copied there. */
void spawn_copy(const char *from, const char *name);

#endif
