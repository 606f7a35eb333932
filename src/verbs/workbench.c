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

static void draw(bench *b, terminal *t, bool whole) {
    show_grid grid;
    int width, height;
    term_size(t, &width, &height);
    if (show_grid_init(&grid, width, height, term_unicode(t))) {
        bench_draw(b, &grid);
        term_draw(t, &grid, whole);
        show_grid_free(&grid);
    }
}

/* Keys until the maker leaves or the terminal is gone; then true. */
static bool work(bench *b, terminal *t) {
    draw(b, t, false);
    for (;;) {
        int key = term_read(t, bench_busy(b) ? 0 : bench_sync_wait(b));
        if (key == TERM_GONE) {
            return true;
        }
        unsigned effects = key == TERM_RESIZED ? BENCH_REDRAW : key == TERM_IDLE ? bench_idle(b) : bench_key(b, key);
        if ((effects & BENCH_QUIT) != 0) {
            return false;
        }
        if (effects != BENCH_NOTHING) {
            draw(b, t, (effects & BENCH_REPAINT) != 0);
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
    term_close(t);
    if (journal != NULL) {
        verb_complain("ended from outside; what was not saved is kept in %s and offered when you open it again",
                      journal);
    } else if (gone && bench_unsaved(b)) {
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
    int result = b == NULL                                       ? (int)status
                 : !set_aspect(b, args) || !set_drawing(b, args) ? VERB_USAGE
                 : args->given[VERB_KEYS] != NULL                ? replay(b, args, size)
                                                                 : at_terminal(b);
    bench_destroy(b);
    free(state);
    free(examples);
    return result;
}
