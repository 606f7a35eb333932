/* step.c - one step of a value in the workbench on a pseudo-terminal: processor time and bytes sent, against a full
 * repaint. Usage: speed_step PROGRAM FILE. Prints ratios; decides nothing. */
#include <poll.h>
#include <pty.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { ROUNDS = 40, QUIET_MS = 60 };

typedef struct cost {
    double bytes, seconds;
} cost;

static double processor_time(pid_t child) {
    char name[64], text[1024];
    unsigned long user = 0, kernel = 0;
    snprintf(name, sizeof name, "/proc/%d/stat", (int)child);
    FILE *file = fopen(name, "r");
    if (file == NULL)
        return 0;
    const char *end = fgets(text, sizeof text, file) != NULL ? strrchr(text, ')') : NULL;
    fclose(file);
    if (end == NULL || sscanf(end, ") %*c %*d %*d %*d %*d %*d %*u %*u %*u %*u %*u %lu %lu", &user, &kernel) != 2)
        return 0;
    return (double)(user + kernel) / (double)sysconf(_SC_CLK_TCK);
}

/* Everything that comes until it has been quiet for a moment. */
static size_t drain(int terminal) {
    char bytes[65536];
    size_t sum = 0;
    struct pollfd wait = {.fd = terminal, .events = POLLIN};
    while (poll(&wait, 1, QUIET_MS) > 0) {
        ssize_t got = read(terminal, bytes, sizeof bytes);
        if (got <= 0)
            break;
        sum += (size_t)got;
    }
    return sum;
}

/* Mean of a key pressed again and again, two keys in turn. */
static cost press(int terminal, pid_t child, const char *first, const char *second) {
    double before = processor_time(child);
    size_t bytes = 0;
    for (int i = 0; i < ROUNDS; i++) {
        const char *key = i % 2 == 0 ? first : second;
        if (write(terminal, key, strlen(key)) < 0)
            break;
        bytes += drain(terminal);
    }
    return (cost){(double)bytes / ROUNDS, (processor_time(child) - before) / ROUNDS};
}

int main(int argc, char **argv) {
    struct winsize size = {.ws_row = 24, .ws_col = 80};
    int terminal;
    if (argc < 3)
        return 2;
    pid_t child = forkpty(&terminal, NULL, NULL, &size);
    if (child < 0)
        return 1;
    if (child == 0) {
        setenv("TERM", "xterm-256color", 1);
        execl(argv[1], argv[1], argv[2], (char *)NULL);
        _exit(127);
    }
    drain(terminal);
    cost step = press(terminal, child, "\033OC", "\033OD"), paint = press(terminal, child, "\014", "\014");
    printf("%-28s step %6.0f bytes, %.2f ms of processor; repaint %6.0f bytes, %.2f ms; bytes %.2f of a repaint\n",
           argv[2], step.bytes, step.seconds * 1e3, paint.bytes, paint.seconds * 1e3, step.bytes / paint.bytes);
    close(terminal);
    waitpid(child, NULL, 0);
    return 0;
}
