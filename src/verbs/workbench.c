/* workbench.c - without a verb: the workbench on a terminal, or key scripts without one. */
#include <errno.h>
#include <langinfo.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bench/bench.h"
#include "term/term.h"
#include "verbs/verbs.h"

enum { ENDED_BY_SIGNAL = 129 }; /* as a shell tells of a program that was hung up */

/* The examples lie in the shared folder of an installed program, or beside the folder it was built in. */
static char *examples_folder(void) {
    static const char *const from[] = {"/../share/bandwright/projects", "/../projects", "/../../projects"};
    char program[PATH_MAX];
    ssize_t length = readlink("/proc/self/exe", program, sizeof program - 1);
    char *slash = length > 0 ? memrchr(program, '/', (size_t)length) : NULL;
    if (slash == NULL) {
        return NULL;
    }
    *slash = '\0';
    for (size_t i = 0; i < sizeof from / sizeof from[0]; i++) {
        char folder[PATH_MAX + 64];
        snprintf(folder, sizeof folder, "%s%s", program, from[i]);
        char *found = realpath(folder, NULL);
        if (found != NULL) {
            return found;
        }
    }
    return NULL;
}

/* What was drawn and not sent. */
typedef struct owed {
    bool any, whole;
} owed;

static bool may_send(const terminal *t, const owed *o) {
    return !term_busy(t) && (o->whole || !term_waiting(t));
}

/* Lists keep what is seen, so everything is drawn for every key; what would be drawn over at once is not sent. */
static void draw(bench *b, terminal *t, bool whole, owed *o) {
    show_grid grid;
    int width, height;
    term_size(t, &width, &height);
    if (show_grid_init(&grid, width, height, term_unicode(t))) {
        bench_draw(b, &grid);
        o->whole = o->whole || whole;
        o->any = !may_send(t, o);
        if (!o->any) {
            term_draw(t, &grid, o->whole);
            o->whole = false;
        }
        show_grid_free(&grid);
    }
}

static unsigned act_on(bench *b, terminal *t, int key) {
    int x, y;
    if (key == BENCH_KEY_NONE || key == TERM_RESIZED) {
        return key == TERM_RESIZED ? BENCH_REDRAW : BENCH_NOTHING;
    }
    if (key == TERM_IDLE) {
        return bench_idle(b);
    }
    if (key == TERM_POINTER) {
        bench_pointer_act act = term_pointer(t, &x, &y);
        return bench_pointer(b, act, x, y);
    }
    return bench_key(b, key);
}

/* Keys until the maker leaves or the terminal is gone; then true. */
static bool work(bench *b, terminal *t) {
    bool pointer = bench_wants_pointer(b);
    owed o = {false, false};
    term_use_pointer(t, pointer);
    bench_greet(b);
    draw(b, t, false, &o);
    for (;;) {
        int key = term_read(t, bench_busy(b) ? 0 : bench_sync_wait(b));
        if (key == TERM_GONE) {
            return true;
        }
        unsigned effects = act_on(b, t, key);
        if ((effects & BENCH_QUIT) != 0) {
            return false;
        }
        if (pointer != bench_wants_pointer(b)) {
            pointer = !pointer;
            term_use_pointer(t, pointer);
        }
        if (effects != BENCH_NOTHING || (o.any && may_send(t, &o))) {
            draw(b, t, (effects & BENCH_REPAINT) != 0, &o);
        }
        bench_sync(b); /* the answer stands on the screen before the disk is waited for */
    }
}

static int at_terminal(bench *b) {
    char why[200];
    terminal *t = term_open(why);
    if (t == NULL) {
        return verb_complain("%s", why);
    }
    bool gone = work(b, t);
    const char *journal = gone ? bench_leave(b) : NULL;
    bool heard = term_close(t);
    if (heard && journal != NULL) {
        verb_complain("ended from outside; what was not saved is kept in %s and offered when you open it again",
                      journal);
    } else if (heard && gone && bench_unsaved(b)) {
        verb_complain("ended from outside, and what was not saved could be kept nowhere");
    }
    return gone ? ENDED_BY_SIGNAL : 0;
}

/* ---- key scripts ---- */

static int replay_into(bench *b, const char *file, const char *keys, size_t length, bench_size size, FILE *screens) {
    shop_problems problems;
    shop_problems_init(&problems, file);
    bool unicode = strcmp(nl_langinfo(CODESET), "UTF-8") == 0;
    bool fine = bench_replay(b, keys, length, size, unicode, screens, &problems);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    return fine ? 0 : SHOP_BAD_FILE;
}

static int replay(bench *b, const verb_args *args, bench_size size) {
    const char *file = args->given[VERB_KEYS], *name = args->given[VERB_SCREEN];
    shop_problems problems;
    char *keys = NULL;
    size_t length = 0;
    shop_problems_init(&problems, file);
    shop_status status = shop_read(file, &keys, &length, &problems);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    if (status != SHOP_OK) {
        return (int)status;
    }
    FILE *screens = name == NULL || strcmp(name, "-") == 0 ? stdout : fopen(name, "w");
    int result = SHOP_CANNOT_MAKE;
    if (screens == NULL) {
        verb_complain("%s cannot be written: %s", name, strerror(errno));
    } else {
        result = replay_into(b, file, keys, length, size, screens);
        if (screens != stdout && fclose(screens) != 0) {
            verb_complain("%s cannot be written: %s", name, strerror(errno));
            result = SHOP_CANNOT_WRITE;
        }
    }
    free(keys);
    return result;
}

/* --aspect, else the environment; what cannot be read is told, not passed over. */
static bool set_aspect(bench *b, const verb_args *args) {
    const char *given = args->given[VERB_ASPECT], *text = given != NULL ? given : getenv("BANDWRIGHT_ASPECT");
    double ratio;
    char reason[160];
    if (text == NULL || text[0] == '\0') {
        return true;
    }
    bool fine = shop_parse_length(text, strlen(text), SHOP_MM, false, &ratio, reason) &&
                strspn(text, "0123456789.") == strlen(text) && bench_set_aspect(b, ratio);
    if (!fine) {
        verb_complain("%s: the height of a cell by its width is a number from 1 to 3, such as 2.1; found %s",
                      given != NULL ? "--aspect" : "BANDWRIGHT_ASPECT", text);
    }
    return fine;
}

static bool set_tolerance(bench *b, const verb_args *args) {
    const char *text = args->given[VERB_TOLERANCE];
    char reason[160];
    if (text == NULL || bench_set_tolerance(b, text, reason)) {
        return true;
    }
    verb_complain("--tolerance %s: %s", text, reason);
    return false;
}

/* --drawing, else the environment: how fine the drawings are where the locale has the characters. */
static bool set_drawing(bench *b, const verb_args *args) {
    const char *given = args->given[VERB_DRAWING], *text = given != NULL ? given : getenv("BANDWRIGHT_DRAWING");
    if (text == NULL || (text[0] == '\0' && given == NULL) || bench_set_fine(b, text)) {
        return true;
    }
    verb_complain("%s: drawings are plain, blocks or braille; found %s",
                  given != NULL ? "--drawing" : "BANDWRIGHT_DRAWING", text);
    return false;
}

/* --mouse on or off. */
static bool set_mouse(bench *b, const verb_args *args) {
    const char *given = args->given[VERB_MOUSE];
    bool on = given == NULL || strcmp(given, "on") == 0;
    if (!on && strcmp(given, "off") != 0) {
        verb_complain("--mouse is on or off; found %s", given);
        return false;
    }
    bench_set_pointer(b, on);
    return true;
}

/* --keys-file, else the maker's own at a terminal; a script means the same everywhere. SHOP_OK, or the exit status
 * after all messages. Who names a file wants that one; faults of the usual one are told and keep nobody away. */
static int set_keys(bench *b, const verb_args *args) {
    const char *given = args->given[VERB_KEYS_FILE];
    char *usual = shop_user_place("XDG_CONFIG_HOME", "/.config", "/bandwright/keys"), *text = NULL;
    const char *file = given != NULL ? given : args->given[VERB_KEYS] == NULL ? usual : NULL;
    size_t length = 0;
    shop_problems problems;
    shop_problems_init(&problems, file != NULL ? file : "");
    shop_status status = SHOP_OK;
    if (file != NULL && (given != NULL || access(file, F_OK) == 0)) {
        status = shop_read(file, &text, &length, &problems);
        if (given == NULL) {
            bench_keys_own(b, status == SHOP_OK ? text : NULL, length, &problems);
            status = SHOP_OK;
        } else if (status == SHOP_OK && !bench_keys_change(b, text, length, &problems)) {
            status = SHOP_BAD_FILE;
        }
    }
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    free(text);
    free(usual);
    return (int)status;
}

int verb_workbench(const verb_args *args) {
    bench_size size = {80, 24};
    const char *file = args->operands[0];
    if (args->given[VERB_SIZE] != NULL && !bench_size_read(args->given[VERB_SIZE], &size)) {
        return verb_complain("a size is written like 80x24, from 1x1 to 1000x1000; found %s", args->given[VERB_SIZE]);
    }
    if ((args->given[VERB_SCREEN] != NULL || args->given[VERB_SIZE] != NULL) && args->given[VERB_KEYS] == NULL) {
        return verb_complain("--screen and --size go with --keys");
    }
    char *state = shop_user_place("XDG_STATE_HOME", "/.local/state", "/bandwright"), *examples = examples_folder();
    bench_places places = {args->given[VERB_INVENTORY], state, examples};
    shop_problems problems;
    shop_status status;
    shop_problems_init(&problems, file != NULL ? file : "bandwright");
    bench *b = bench_create(file, &places, &problems, &status);
    if (b == NULL) {
        shop_problems_print(&problems, stderr);
    }
    shop_problems_free(&problems);
    bool fine =
        b != NULL && set_aspect(b, args) && set_tolerance(b, args) && set_drawing(b, args) && set_mouse(b, args);
    int result = b == NULL ? (int)status : !fine ? VERB_USAGE : set_keys(b, args);
    if (result == 0) {
        result = args->given[VERB_KEYS] != NULL ? replay(b, args, size) : at_terminal(b);
    }
    bench_destroy(b);
    free(state);
    free(examples);
    return result;
}
