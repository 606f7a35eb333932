/* line.c - bytes on their way to the terminal.
 *
 * curses writes until everything is taken, and would hold up keys, signals and the journal for as long. So it writes
 * into a file in memory, and from there no more is sent than is taken at once, through an open file of our own:
 * O_NONBLOCK on standard output would be seen by the shell, too. Where these cannot be had curses writes to the
 * terminal itself and waits for it.
 */
#include "term/line.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <termios.h>
#include <unistd.h>

#define GIVE_UP 1000 /* ms without a byte taken: nobody reads any more */

struct line {
    FILE *file;
    int own, store;      /* the terminal; what waits. -1: curses writes to the terminal itself */
    off_t sent, written; /* bytes of the store: those before `sent` are taken */
    bool busy;           /* until the terminal says that it can take more */
};

line *line_open(void) {
    line *l = calloc(1, sizeof *l);
    int copy = fcntl(STDOUT_FILENO, F_DUPFD_CLOEXEC, 0);
    FILE *file = copy < 0 ? NULL : fdopen(copy, "w");
    if (l == NULL || file == NULL) {
        if (file != NULL) {
            fclose(file);
        } else if (copy >= 0) {
            close(copy);
        }
        free(l);
        return NULL;
    }
    l->file = file;
    l->own = open("/proc/self/fd/1", O_WRONLY | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
    l->store = l->own < 0 ? -1 : memfd_create("line", MFD_CLOEXEC);
    return l;
}

void line_close(line *l) {
    if (l == NULL) {
        return;
    }
    fclose(l->file);
    if (l->own >= 0) {
        close(l->own);
    }
    if (l->store >= 0) {
        close(l->store);
    }
    free(l);
}

FILE *line_file(const line *l) {
    return l->file;
}

static void forget(line *l) {
    l->sent = l->written = 0;
    if (lseek(l->store, 0, SEEK_SET) != 0 || ftruncate(l->store, 0) != 0) {
        close(l->store); /* no such file fails; then we wait as curses does */
        l->store = -1;
    }
}

/* Sends what is taken at once. */
static void push(line *l) {
    char bytes[4096];
    while (l->sent < l->written) {
        ssize_t got = pread(l->store, bytes, sizeof bytes, l->sent), took = got;
        if (got > 0) {
            took = write(l->own, bytes, (size_t)got);
        }
        if (took < 0 && errno == EAGAIN) {
            return;
        }
        if (took == 0 || (took < 0 && errno != EINTR)) {
            break; /* hung up: reading tells */
        }
        l->sent += took > 0 ? took : 0;
    }
    if (l->written > 0) {
        forget(l);
    }
}

void line_catch(line *l) {
    if (l->store >= 0) {
        dup2(l->store, fileno(l->file));
    }
}

void line_release(line *l) {
    if (l->store < 0) {
        return;
    }
    dup2(STDOUT_FILENO, fileno(l->file));
    off_t end = lseek(l->store, 0, SEEK_CUR);
    if (end > l->written) {
        l->written = end;
        l->busy = true;
        push(l);
    }
}

void line_add(line *l, const char *text) {
    fputs(text, l->file);
    fflush(l->file);
}

bool line_busy(line *l) {
    struct pollfd wait = {.fd = l->own, .events = POLLOUT};
    if (l->busy) {
        push(l);
        l->busy = l->sent < l->written || poll(&wait, 1, 0) == 0;
    }
    return l->busy;
}

int line_waits_on(const line *l) {
    return l->busy ? l->own : -1;
}

bool line_finish(line *l) {
    bool taken = true;
    struct pollfd wait = {.fd = l->own, .events = POLLOUT};
    while (l->sent < l->written) {
        off_t before = l->sent;
        push(l);
        if (l->sent == before && l->written > 0 && poll(&wait, 1, GIVE_UP) <= 0) {
            tcflush(l->own, TCOFLUSH); /* else putting back its modes would wait for it */
            push(l);
            forget(l);
            taken = false;
        }
    }
    l->busy = false;
    return taken;
}
