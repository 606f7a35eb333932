/* step.c - one step of a value in the workbench on a pseudo-terminal: processor time and bytes sent, against a full
 * repaint and against what the cells need that libvterm says have changed. Usage: speed_step PROGRAM FILE. Prints
 * ratios; decides nothing. */
#include <poll.h>
#include <pty.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>
#include <vterm.h>

enum { ROUNDS = 40, QUIET_MS = 60, WIDTH = 80, HEIGHT = 24 };

typedef struct cost {
    double bytes, seconds, needed;
} cost;

static VTerm *emulator;
static VTermScreen *screen;
static VTermScreenCell before[HEIGHT][WIDTH];

static VTermScreenCell cell_at(int x, int y) {
    VTermScreenCell cell;
    vterm_screen_get_cell(screen, (VTermPos){.row = y, .col = x}, &cell);
    return cell;
}

static int same_look(const VTermScreenCell *a, const VTermScreenCell *b) {
    return a->attrs.bold == b->attrs.bold && a->attrs.reverse == b->attrs.reverse &&
           a->attrs.underline == b->attrs.underline && vterm_color_is_equal(&a->fg, &b->fg);
}

static int same(const VTermScreenCell *a, const VTermScreenCell *b) {
    return a->chars[0] == b->chars[0] && a->chars[1] == b->chars[1] && same_look(a, b);
}

static size_t bytes_of(const VTermScreenCell *cell) {
    uint32_t code = cell->chars[0];
    return code == 0 || code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
}

/* The least that ECMA-48 takes: for each run of changed cells CUP to it (or the cells between, if that is less), for
 * each change of look an SGR that sets it from nothing, for each cell its UTF-8. At the end CUP back to the cursor. */
static size_t needed(void) {
    size_t sum = 0;
    VTermScreenCell look = {.chars = {0}};
    int at_x = -1, at_y = -1;
    vterm_state_get_default_colors(vterm_obtain_state(emulator), &look.fg, &look.bg);
    for (int y = 0; y < HEIGHT; y++) {
        for (int x = 0; x < WIDTH; x++) {
            VTermScreenCell now = cell_at(x, y);
            if (same(&now, &before[y][x]))
                continue;
            size_t move = 4u + (y >= 9) + 1u + (x >= 9), over = 0;
            for (int i = at_x; at_y == y && i < x; i++) {
                VTermScreenCell between = cell_at(i, y);
                over += bytes_of(&between);
            }
            if (at_y != y || at_x != x)
                sum += at_y == y && over < move ? over : move;
            if (!same_look(&now, &look)) {
                sum += 3u + 2u * (unsigned)(now.attrs.bold + now.attrs.reverse + (now.attrs.underline != 0)) +
                       3u * !vterm_color_is_equal(&now.fg, &look.fg);
                look = now;
            }
            sum += bytes_of(&now);
            at_x = x + now.width;
            at_y = y;
        }
    }
    return sum == 0 ? 0 : sum + 8;
}

static void remember(void) {
    for (int y = 0; y < HEIGHT; y++)
        for (int x = 0; x < WIDTH; x++)
            before[y][x] = cell_at(x, y);
}

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
        vterm_input_write(emulator, bytes, (size_t)got);
        sum += (size_t)got;
    }
    return sum;
}

/* Mean of a key pressed again and again, two keys in turn. */
static cost press(int terminal, pid_t child, const char *first, const char *second) {
    double spent = processor_time(child);
    size_t bytes = 0, least = 0;
    for (int i = 0; i < ROUNDS; i++) {
        const char *key = i % 2 == 0 ? first : second;
        if (write(terminal, key, strlen(key)) < 0)
            break;
        remember();
        bytes += drain(terminal);
        least += needed();
    }
    return (cost){(double)bytes / ROUNDS, (processor_time(child) - spent) / ROUNDS, (double)least / ROUNDS};
}

int main(int argc, char **argv) {
    struct winsize size = {.ws_row = HEIGHT, .ws_col = WIDTH};
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
    emulator = vterm_new(HEIGHT, WIDTH);
    vterm_set_utf8(emulator, 1);
    screen = vterm_obtain_screen(emulator);
    vterm_screen_reset(screen, 1);
    drain(terminal);
    cost step = press(terminal, child, "\033OC", "\033OD"), paint = press(terminal, child, "\014", "\014");
    printf("%-28s step %6.0f bytes, %.2f ms of processor; changed cells need %.0f bytes, %.2f times; repaint %6.0f "
           "bytes, %.2f ms; bytes %.2f of a repaint\n",
           argv[2], step.bytes, step.seconds * 1e3, step.needed, step.bytes / step.needed, paint.bytes,
           paint.seconds * 1e3, step.bytes / paint.bytes);
    vterm_free(emulator);
    close(terminal);
    waitpid(child, NULL, 0);
    return 0;
}
