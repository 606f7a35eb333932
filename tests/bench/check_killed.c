/* check_killed.c - the program on a terminal of its own, at a job, killed at random moments: the file is always one
 * that was saved, and the journal gives back every change that was made. BW_KILLS=N for another number of times
 * than 40.
 *
 * A key that draws the whole screen anew goes behind each key of the job: once its clearing of the screen is seen, the
 * key before it is dealt with. So nothing here is a matter of time. */
#include <check.h>
#include <fcntl.h>
#include <limits.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "bench/hands.h"
#include "bench/inner.h"

Suite *bench_killed_suite(void);

#define LID "cedar-lid.yaml"

enum { KEYS = 60, KILLS = 40 };

/* The job: keys of one byte each, and what layout and file are after each of them. */
typedef struct job {
    char keys[KEYS];
    char *text[KEYS + 1], *saved[KEYS + 1];
} job;

typedef struct losses {
    int kills, saved_lost, changes_lost, damaged, offered;
} losses;

static char program[PATH_MAX], inventory[PATH_MAX + 40], home[PATH_MAX];
static unsigned state;

static unsigned next_random(unsigned below) {
    state = state * 1664525u + 1013904223u; /* any constants of a full period would do */
    return (state >> 8) % below;
}

static char *slurp(const char *file) {
    char *bytes = NULL;
    size_t length = 0;
    shop_problems quiet;
    shop_problems_init(&quiet, file);
    if (shop_read(file, &bytes, &length, &quiet) != SHOP_OK) {
        bytes = NULL;
    }
    shop_problems_free(&quiet);
    return bytes;
}

static void shell(const char *command) {
    ck_assert_msg(system(command) == 0, "%s", command);
}

/* ---- what must come of it ---- */

static bench *bench_at(const char *file, const char *folder) {
    bench_places places = {inventory, folder, NULL};
    shop_problems problems;
    shop_status status;
    shop_problems_init(&problems, file);
    bench *b = bench_create(file, &places, &problems, &status);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    return b;
}

static void plan_job(job *j) {
    static const char often[] = "+++++++++++---uuuuUUssss[]]dx\t\ta\rmf";
    shell("rm -rf model && mkdir model && cp " LID " model/");
    bench *b = bench_at("model/" LID, "model/state");
    ck_assert_ptr_nonnull(b);
    for (int i = 0; i <= KEYS; i++) {
        if (i > 0) {
            char key = often[next_random(sizeof often - 1)];
            j->keys[i - 1] = key;
            bench_key(b, key == '\r' ? BENCH_KEY_ENTER : key == '\t' ? BENCH_KEY_TAB : key);
        }
        desk_try_leave(b->desk);
        j->text[i] = hands_bytes(b);
        j->saved[i] = slurp("model/" LID);
        ck_assert_ptr_nonnull(j->saved[i]);
    }
    bench_destroy(b);
}

static void free_job(job *j) {
    for (int i = 0; i <= KEYS; i++) {
        free(j->text[i]);
        free(j->saved[i]);
    }
}

static bool is_one_of(const char *bytes, char *const *list, int from, int to) {
    bool found = false;
    for (int i = from; bytes != NULL && i <= to && !found; i++) {
        found = strcmp(bytes, list[i]) == 0;
    }
    return found;
}

/* ---- the program on its terminal ---- */

typedef struct victim {
    pid_t pid;
    int master;
    int sent;
    int clears, first_clears; /* seen so far; before the first key */
    size_t matched;           /* bytes of CLEAR at the end of what was seen */
    bool drawn;               /* the bottom line of the first screen */
    size_t quit_matched;
} victim;

#define CLEAR "\x1B[2J"  /* of a terminal of the kind xterm */
#define LAST_WORD "quit" /* of the first screen */
#define REPAINT '\x0C'

static void start(victim *v) {
    struct winsize size = {.ws_row = 24, .ws_col = 80};
    *v = (victim){0};
    v->pid = forkpty(&v->master, NULL, NULL, &size);
    ck_assert_int_ge(v->pid, 0);
    if (v->pid == 0) {
        setenv("TERM", "xterm", 1);
        setenv("HOME", home, 1);
        setenv("XDG_STATE_HOME", home, 1);
        unsetenv("BANDWRIGHT_ASPECT");
        execl(program, program, "--inventory", inventory, LID, (char *)NULL);
        _exit(127);
    }
}

/* One byte more of a word that begins like nothing within it. */
static bool follow(size_t *matched, const char *word, char byte) {
    *matched = byte == word[*matched] ? *matched + 1 : byte == word[0];
    bool whole = word[*matched] == '\0';
    *matched = whole ? 0 : *matched;
    return whole;
}

/* Takes what it draws; false if nothing came for so long (ms). */
static bool drain(victim *v, int wait) {
    char bytes[4096];
    struct pollfd waits = {.fd = v->master, .events = POLLIN};
    ssize_t got = poll(&waits, 1, wait) > 0 ? read(v->master, bytes, sizeof bytes) : 0;
    for (ssize_t i = 0; i < got; i++) {
        v->clears += follow(&v->matched, CLEAR, bytes[i]);
        v->drawn = follow(&v->quit_matched, LAST_WORD, bytes[i]) || v->drawn;
    }
    return got > 0;
}

/* Keys that it has dealt with for sure. */
static int done(const victim *v) {
    return v->clears - v->first_clears;
}

static double now_us(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec * 1e6 + (double)now.tv_nsec / 1e3;
}

static void press(victim *v, const job *j) {
    char keys[2] = {j->keys[v->sent++], REPAINT};
    ck_assert_int_eq(write(v->master, keys, sizeof keys), sizeof keys);
}

/* One by one, a key ahead of what is drawn; or all at once. Then a random moment more. */
static void work_and_kill(victim *v, const job *j) {
    bool at_once = next_random(2) == 0;
    int count = at_once ? KEYS : 1 + (int)next_random(KEYS);
    unsigned extra = next_random(at_once ? 300000 : 8000);
    while (!v->drawn) {
        ck_assert_msg(drain(v, 60000), "the program draws nothing");
    }
    v->first_clears = v->clears;
    while (v->sent < count) {
        press(v, j);
        while (!at_once && done(v) < v->sent - 1) {
            ck_assert_msg(drain(v, 60000), "the program does not go on");
        }
    }
    for (double end = now_us() + extra; now_us() < end;) {
        drain(v, 0);
    }
    ck_assert_int_eq(kill(v->pid, SIGKILL), 0);
    int status;
    ck_assert_int_eq(waitpid(v->pid, &status, 0), v->pid);
    ck_assert_msg(WIFSIGNALED(status), "the program ended by itself: status %d", status);
    while (drain(v, 0)) { /* what it drew while nobody looked was done, too */
    }
    close(v->master);
}

/* ---- afterwards ---- */

static void look_afterwards(const victim *v, const job *j, losses *lost) {
    char *file = slurp(LID), folder[PATH_MAX + 20];
    snprintf(folder, sizeof folder, "%s/bandwright", home);
    if (!is_one_of(file, j->saved, 0, KEYS)) {
        lost->damaged++;
    } else if (!is_one_of(file, j->saved, done(v), v->sent)) {
        lost->saved_lost++;
    }
    bench *b = bench_at(LID, folder);
    if (b == NULL) {
        lost->damaged++;
        free(file);
        return;
    }
    if (b->screen == BENCH_LEFT) {
        lost->offered++;
        bench_key(b, 'y');
    }
    char *text = hands_bytes(b), *untouched = slurp(LID);
    if (!is_one_of(text, j->text, done(v), v->sent)) {
        lost->changes_lost++;
    }
    ck_assert_str_eq(untouched, file); /* taking is no saving */
    if (b->screen == BENCH_WORK) {     /* else something is told that could not be taken */
        hands_press(b, "s");
        ck_assert(!desk_unsaved(b->desk));
    } else {
        lost->changes_lost++;
    }
    bench_destroy(b);
    free(text);
    free(untouched);
    free(file);
}

START_TEST(nothing_is_lost) {
    const char *given = getenv("BW_KILLS"), *built = getenv("BW_PROGRAM");
    int kills = given != NULL ? atoi(given) : KILLS;
    losses lost = {0};
    char root[PATH_MAX], here[PATH_MAX];
    ck_assert_ptr_nonnull(getcwd(root, sizeof root));
    ck_assert_ptr_nonnull(realpath(built != NULL ? built : "build/bandwright", program));
    snprintf(inventory, sizeof inventory, "%s/share/inventory.yaml", root);
    hands_begin();
    ck_assert_ptr_nonnull(getcwd(here, sizeof here));
    snprintf(home, sizeof home, "%.4000s/home", here);
    shell("cp " LID " as-it-was.yaml");
    job j;
    for (state = 1; lost.kills < kills; lost.kills++) {
        if (lost.kills % 20 == 0) {
            shell("cp as-it-was.yaml " LID);
            plan_job(&j);
        }
        victim v;
        shell("rm -rf home && mkdir home && cp as-it-was.yaml " LID);
        start(&v);
        work_and_kill(&v, &j);
        look_afterwards(&v, &j, &lost);
        if (lost.kills % 20 == 19 || lost.kills + 1 == kills) {
            free_job(&j);
        }
    }
    hands_end();
    printf(
        "killed %d times: %d saved changes lost, %d changes lost, %d files damaged; %d times a journal was offered\n",
        lost.kills, lost.saved_lost, lost.changes_lost, lost.damaged, lost.offered);
    ck_assert_int_eq(lost.saved_lost + lost.changes_lost + lost.damaged, 0);
    ck_assert_int_gt(lost.offered, kills / 4); /* most of the time there was something to lose */
}
END_TEST

Suite *bench_killed_suite(void) {
    Suite *suite = suite_create("killed at a job");
    TCase *tests = tcase_create("killed");
    tcase_set_timeout(tests, 300);
    tcase_add_test(tests, nothing_is_lost);
    suite_add_tcase(suite, tests);
    return suite;
}
