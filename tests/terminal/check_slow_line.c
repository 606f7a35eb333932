/* check_slow_line.c - the workbench on a line that takes its bytes ten times as slowly as it is given them, or not at
 * all: keys are obeyed in their order, what would be drawn over is not sent, and the last screen is right.
 *
 * The line is a pseudo-terminal whose output is stopped (as Ctrl-S does) while what came is on its way. Its time is
 * counted in ticks, one a key, not in what a clock says: a busy machine only makes the test longer. */
#include <check.h>
#include <fcntl.h>
#include <limits.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <termios.h>
#include <unistd.h>
#include <utmp.h>
#include <vterm.h>

#include "bench/hands.h"

Suite *terminal_slow_line_suite(void);

#define LID "cedar-lid.yaml"

/* 9,600 baud are 960 bytes a second; here it is ten times as much, to have done in time. */
enum { TICK_US = 1500, TICK_BYTES = 9600 * TICK_US / 1000000, WAIT_MS = 20000, HEIGHT_MOST = 100 };

static char program[PATH_MAX], home[PATH_MAX];

typedef struct slow_line {
    pid_t pid;
    int master, slave; /* ours of both ends */
    bench_size size;
    VTerm *emulator;
    size_t bytes;
    size_t tick_bytes, under_way; /* what it carries in a tick; what it has to before it takes more */
} slow_line;

static void begin(void) {
    const char *built = getenv("BW_PROGRAM");
    char here[PATH_MAX];
    ck_assert_ptr_nonnull(realpath(built != NULL ? built : "build/bandwright", program));
    hands_begin();
    ck_assert_ptr_nonnull(getcwd(here, sizeof here));
    snprintf(home, sizeof home, "%.4000s/home", here);
    ck_assert_int_eq(system("mkdir -p home/bandwright && touch home/bandwright/greeted"), 0);
}

static void line_to(slow_line *l, bench_size size) {
    struct winsize window = {.ws_row = (unsigned short)size.height, .ws_col = (unsigned short)size.width};
    *l = (slow_line){.size = size, .tick_bytes = TICK_BYTES};
    ck_assert_int_eq(openpty(&l->master, &l->slave, NULL, NULL, &window), 0);
    l->pid = fork();
    ck_assert_int_ge(l->pid, 0);
    if (l->pid == 0) {
        close(l->master);
        login_tty(l->slave);
        setenv("TERM", "xterm", 1);
        setenv("LC_ALL", "C.UTF-8", 1);
        setenv("HOME", home, 1);
        setenv("XDG_STATE_HOME", home, 1);
        execl(program, program, "--inventory", HANDS_INVENTORY, LID, (char *)NULL);
        _exit(127);
    }
    fcntl(l->master, F_SETFL, O_NONBLOCK);
    l->emulator = vterm_new(size.height, size.width);
    vterm_set_utf8(l->emulator, 1);
    vterm_screen_reset(vterm_obtain_screen(l->emulator), 1);
}

static int line_end(slow_line *l) {
    int status = 0;
    ck_assert_int_eq(kill(l->pid, SIGTERM), 0);
    ck_assert_int_eq(waitpid(l->pid, &status, 0), l->pid);
    vterm_free(l->emulator);
    close(l->master);
    close(l->slave);
    return status;
}

static void take(slow_line *l, int wait) {
    char bytes[4096];
    ssize_t got = 0;
    struct pollfd waits = {.fd = l->master, .events = POLLIN};
    if (poll(&waits, 1, wait) > 0) {
        tcflow(l->slave, TCOOFF);
        while ((got = read(l->master, bytes, sizeof bytes)) > 0) {
            vterm_input_write(l->emulator, bytes, (size_t)got);
            l->bytes += (size_t)got;
            l->under_way += (size_t)got;
        }
    }
}

/* The line goes on for a tick; it takes more once everything before has arrived. */
static void tick(slow_line *l) {
    usleep(TICK_US);
    l->under_way -= l->under_way < l->tick_bytes ? l->under_way : l->tick_bytes;
    if (l->under_way == 0) {
        tcflow(l->slave, TCOON);
        take(l, 0);
    }
}

static void type(const slow_line *l, const char *keys) {
    ck_assert_int_eq(write(l->master, keys, strlen(keys)), (ssize_t)strlen(keys));
}

/* ---- what is seen ---- */

static char *seen(const slow_line *l) {
    VTermScreen *screen = vterm_obtain_screen(l->emulator);
    size_t room = (size_t)(l->size.width + 1) * (size_t)l->size.height * 4 + 1, length = 0;
    char *text = malloc(room);
    ck_assert_ptr_nonnull(text);
    for (int y = 0; y < l->size.height; y++) {
        VTermRect row = {.start_row = y, .end_row = y + 1, .start_col = 0, .end_col = l->size.width};
        length += vterm_screen_get_text(screen, text + length, room - length, row);
        while (length > 0 && text[length - 1] == ' ') {
            length--;
        }
        text[length++] = '\n';
    }
    text[length] = '\0';
    return text;
}

/* The same without a terminal: the keys of a script. */
static char *wanted(const char *script, bench_size size) {
    bench *b = hands_open(LID);
    hands_press(b, script);
    char *screen = hands_screen(b, size.width, size.height), *to = screen;
    for (const char *from = screen; *from != '\0'; from++) { /* blanks at the end of a line tell nothing */
        if (*from == '\n') {
            while (to > screen && to[-1] == ' ') {
                to--;
            }
        }
        *to++ = *from;
    }
    *to = '\0';
    bench_destroy(b);
    ck_assert_int_eq(system("rm -rf state"), 0);
    return screen;
}

/* The line goes on until the screen is what the script gives. */
static void comes_to(slow_line *l, const char *script) {
    char *text = wanted(script, l->size), *now = seen(l);
    for (int ticks = 0; strcmp(text, now) != 0 && ticks < WAIT_MS * 1000 / TICK_US; ticks++) {
        tick(l);
        free(now);
        now = seen(l);
    }
    ck_assert_str_eq(now, text);
    free(text);
    free(now);
}

static const bench_size usual = {80, 24};

/* ---- the tests ---- */

#define RIGHT "\033OC"
#define LEFT "\033OD"
enum { ALONE = 4, KEYS = 80 };

static const char *to_and_fro(int i) {
    return i % 4 < 2 ? RIGHT : LEFT;
}

/* The first so many of them as a script. */
static void script_of(int count, char *script) {
    for (int i = 0; i < count; i++) {
        script += sprintf(script, "%s ", i % 4 < 2 ? "Right" : "Left");
    }
}

/* Bytes of a key that is drawn by itself. */
static double alone(slow_line *l) {
    size_t before;
    char script[KEYS * 8];
    comes_to(l, "");
    before = l->bytes;
    for (int i = 1; i <= ALONE; i++) {
        script_of(i, script);
        type(l, to_and_fro(i - 1));
        comes_to(l, script);
    }
    return (double)(l->bytes - before) / ALONE;
}

START_TEST(typed_ahead_is_obeyed_in_order) {
    slow_line l;
    char script[KEYS * 8 + 80];
    line_to(&l, usual);
    double each = alone(&l);
    size_t before = l.bytes;
    for (int i = ALONE; i < KEYS; i++) {
        type(&l, to_and_fro(i));
    }
    type(&l, "u\033OB\r1 2/3\x7F\x7F\x7F\r\tmf+");
    script_of(KEYS, script);
    strcat(script, "u Down Enter \"1 2/3\" Backspace*3 Enter Tab m f +");
    comes_to(&l, script);
    ck_assert_msg((double)(l.bytes - before) < each * KEYS / 5, "%zu bytes for %d keys, alone %.0f each",
                  l.bytes - before, KEYS, each);
    tcflow(l.slave, TCOON); /* else it waits a second for it */
    line_end(&l);
}
END_TEST

/* Typed evenly and faster than the line is: a key a tick. No more is sent than the line takes, and a screen. */
START_TEST(typed_faster_than_the_line) {
    slow_line l;
    char script[KEYS * 8 + 80];
    line_to(&l, usual);
    double each = alone(&l);
    size_t before = l.bytes;
    for (int i = ALONE; i < KEYS; i++) {
        type(&l, to_and_fro(i));
        tick(&l);
    }
    size_t while_typing = l.bytes - before;
    script_of(KEYS, script);
    comes_to(&l, script);
    ck_assert_msg(while_typing <= (KEYS - ALONE) * TICK_BYTES + 4 * (size_t)each, "%zu bytes while %d keys came",
                  while_typing, KEYS - ALONE);
    ck_assert_msg(l.bytes - before <= while_typing + 4 * (size_t)each, "%zu bytes came behind the last key",
                  l.bytes - before - while_typing);
    tcflow(l.slave, TCOON); /* else it waits a second for it */
    line_end(&l);
}
END_TEST

/* Esc is the key as soon as it is here, whatever comes later. */
START_TEST(esc_waits_for_nothing) {
    slow_line l;
    line_to(&l, usual);
    type(&l, "\r33");
    comes_to(&l, "Enter 3 3");
    type(&l, "\033");
    comes_to(&l, "Enter 3 3 Esc");
    type(&l, "OC");
    comes_to(&l, "Enter 3 3 Esc O C");
    type(&l, "\033");
    for (int i = 0; i < 50; i++) {
        tick(&l);
    }
    type(&l, RIGHT);
    comes_to(&l, "Enter 3 3 Esc O C Esc Right");
    tcflow(l.slave, TCOON); /* else it waits a second for it */
    line_end(&l);
}
END_TEST

static bool file_has(const char *file, const char *words) {
    char command[PATH_MAX + 100];
    snprintf(command, sizeof command, "grep -qs '%s' %s", words, file);
    return system(command) == 0;
}

static void file_comes_to_have(const char *file, const char *words) {
    for (int ms = 0; !file_has(file, words) && ms < WAIT_MS; ms += 5) {
        usleep(5000);
    }
    ck_assert_msg(file_has(file, words), "%s does not come to hold '%s'", file, words);
}

/* Nothing is taken at all, at once (stopped) or once what lies between is full (a large window that nobody reads). */
START_TEST(a_stuck_line_holds_nothing_up) {
    bench_size large = {300, HEIGHT_MOST};
    slow_line l;
    line_to(&l, _i == 0 ? usual : large);
    if (_i == 0) {
        comes_to(&l, "");
        tcflow(l.slave, TCOOFF);
    }
    type(&l, RIGHT);
    file_comes_to_have("home/bandwright/*.journal", "21.25 mm");
    type(&l, "BB\x0C");
    type(&l, RIGHT);
    file_comes_to_have("home/bandwright/*.journal", "21.5 mm");
    type(&l, "s");
    file_comes_to_have(LID, "width: 21.5");
    ck_assert_int_eq(system("cp examples/" LID " ."), 0);
    l.tick_bytes *= 100; /* what was stuck is seen to, and now in a hurry */
    comes_to(&l, "Right B*2 Right s");
    tcflow(l.slave, TCOON); /* else it waits a second for it */
    line_end(&l);
}
END_TEST

/* Told to end: it does not wait for a line that takes nothing, and what was changed is kept. */
START_TEST(a_stuck_line_keeps_nobody_from_ending) {
    slow_line l;
    line_to(&l, usual);
    comes_to(&l, "");
    tcflow(l.slave, TCOOFF);
    type(&l, RIGHT);
    file_comes_to_have("home/bandwright/*.journal", "21.25 mm");
    int status = line_end(&l);
    ck_assert(WIFEXITED(status));
    ck_assert_int_eq(WEXITSTATUS(status), 129);
    ck_assert(file_has("home/bandwright/*.journal", "21.25 mm"));
}
END_TEST

Suite *terminal_slow_line_suite(void) {
    Suite *suite = suite_create("a slow line");
    TCase *tests = tcase_create("slow");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, begin, hands_end);
    tcase_add_test(tests, typed_ahead_is_obeyed_in_order);
    tcase_add_test(tests, typed_faster_than_the_line);
    tcase_add_test(tests, esc_waits_for_nothing);
    tcase_add_loop_test(tests, a_stuck_line_holds_nothing_up, 0, 2);
    tcase_add_test(tests, a_stuck_line_keeps_nobody_from_ending);
    suite_add_tcase(suite, tests);
    return suite;
}
