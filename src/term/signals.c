/* signals.c - no signal leaves the terminal in disorder, and none is missed. */
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <termios.h>
#include <unistd.h>

#include "term/inner.h"

#define CRASH_STACK (64 * 1024)
#define CRASH_TEXT 512

/* Whatever else would end the program ends it in good order, too. */
static const int told[] = {SIGWINCH, SIGTSTP, SIGCONT, SIGHUP,  SIGTERM,   SIGINT,
                           SIGQUIT,  SIGUSR1, SIGUSR2, SIGALRM, SIGVTALRM, SIGPROF};
static const int crashes[] = {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT};
enum { TOLD = sizeof told / sizeof told[0], CRASHES = sizeof crashes / sizeof crashes[0] };

/* A handler gets no context: this is the one place with state of the whole process. */
static int wake[2] = {-1, -1};
static struct sigaction before[TOLD], before_crash[CRASHES];
static char crash_text[CRASH_TEXT];
static unsigned crash_length;
static struct termios modes;
static bool modes_known;
static char *crash_stack;

static void tell(int number) {
    int kept = errno;
    char byte = number == SIGWINCH  ? SIGNAL_RESIZE
                : number == SIGTSTP ? SIGNAL_STOP
                : number == SIGCONT ? SIGNAL_CONTINUE
                : number == SIGINT  ? SIGNAL_BREAK
                                    : SIGNAL_END;
    if (write(wake[1], &byte, 1) < 0) {
        /* a full pipe wakes the reader too */
    }
    errno = kept;
}

static void crash(int number) {
    if (write(STDOUT_FILENO, crash_text, crash_length) < 0) {
        /* nothing more can be done for the screen */
    }
    if (modes_known) {
        tcsetattr(STDIN_FILENO, TCSANOW, &modes);
    }
    raise(number); /* SA_RESETHAND: now as if nobody had caught it */
}

void signals_crash_text(const char *bytes, unsigned length) {
    crash_length = length < CRASH_TEXT ? length : CRASH_TEXT;
    memcpy(crash_text, bytes, crash_length);
}

static void watch_crashes(void) {
    struct sigaction action = {.sa_handler = crash, .sa_flags = SA_ONSTACK | (int)SA_RESETHAND | SA_NODEFER};
    crash_stack = malloc(CRASH_STACK);
    stack_t stack = {.ss_sp = crash_stack, .ss_size = CRASH_STACK};
    sigemptyset(&action.sa_mask);
    if (crash_stack == NULL || sigaltstack(&stack, NULL) != 0) {
        action.sa_flags &= ~SA_ONSTACK;
    }
    for (int i = 0; i < CRASHES; i++) {
        sigaction(crashes[i], &action, &before_crash[i]);
    }
}

static void watch(int number, void (*handler)(int)) {
    struct sigaction action = {.sa_handler = handler};
    sigemptyset(&action.sa_mask);
    sigaction(number, &action, NULL);
}

/* By the usual action of SIGTSTP, which the system passes over where nobody waits who could let the program go on. */
void signals_stop(void) {
    watch(SIGTSTP, SIG_DFL);
    watch(SIGCONT, SIG_DFL); /* who stops here knows by itself that it goes on */
    raise(SIGTSTP);
    watch(SIGCONT, tell);
    watch(SIGTSTP, tell);
}

int signals_open(void) {
    if (pipe(wake) != 0) {
        return -1;
    }
    for (int i = 0; i < 2; i++) {
        fcntl(wake[i], F_SETFL, O_NONBLOCK);
        fcntl(wake[i], F_SETFD, FD_CLOEXEC);
    }
    modes_known = tcgetattr(STDIN_FILENO, &modes) == 0;
    struct sigaction action = {.sa_handler = tell};
    sigemptyset(&action.sa_mask);
    for (int i = 0; i < TOLD; i++) {
        sigaction(told[i], &action, &before[i]);
    }
    watch_crashes();
    return wake[0];
}

void signals_close(void) {
    for (int i = 0; i < TOLD; i++) {
        sigaction(told[i], &before[i], NULL);
    }
    for (int i = 0; i < CRASHES; i++) {
        sigaction(crashes[i], &before_crash[i], NULL);
    }
    stack_t none = {.ss_flags = SS_DISABLE};
    sigaltstack(&none, NULL);
    free(crash_stack);
    crash_stack = NULL;
    close(wake[0]);
    close(wake[1]);
    wake[0] = wake[1] = -1;
}
