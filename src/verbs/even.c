/* even.c - `even FILE`: the fewest and smallest changes after which every band closes and fits. */
#include <errno.h>
#include <math.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bandwright/limits.h"
#include "show/show.h"
#include "verbs/verbs.h"

typedef bool (*even_writer)(FILE *to, desk *d, const char *file, const bw_even_wish *wish, bool stopped);

enum { KNOBS_MOST = (BW_BANDS_MOST + 2) * BW_KNOB_COUNT_OF_KNOBS };

/* ---- options ---- */

static bool read_number(const char *option, const char *text, long least, long most, size_t *out) {
    char *end;
    errno = 0;
    long value = strtol(text, &end, 10);
    if (*text == '\0' || *end != '\0' || errno != 0 || value < least || value > most) {
        verb_complain("--%s is a whole number from %ld to %ld, not %s", option, least, most, text);
        return false;
    }
    *out = (size_t)value;
    return true;
}

static bool read_within(const shop_project *project, const char *text, double *out) {
    char reason[160], most_words[64];
    double most = BW_EVEN_STEPS_MOST * project->layout.grid;
    shop_show_length(most, project->units, most_words, sizeof most_words);
    if (!shop_parse_length(text, strlen(text), project->units, false, out, reason)) {
        verb_complain("--within is a length such as 3 or 1/8 in, not %s: %s", text, reason);
    } else if (!(*out > 0 && *out <= most)) {
        verb_complain("--within is more than nothing and at most %s (%d steps of the dividers' grid), not %s",
                      most_words, BW_EVEN_STEPS_MOST, text);
    } else {
        return true;
    }
    return false;
}

static bool read_limit(const char *text, double *out) {
    char reason[160];
    if (!shop_parse_share(text, strlen(text), out, reason) || !(*out > 0 && *out <= 0.5)) {
        verb_complain("--limit is a share of the usual step over 0 and up to 50 %%, such as 2 %% or 0.02, not %s",
                      text);
        return false;
    }
    return true;
}

static bool read_fits(const char *text, bw_verdict *out) {
    bool good = strcmp(text, "good") == 0, tight = strcmp(text, "tight") == 0;
    if (!good && !tight) {
        verb_complain("--fits is good or tight, not %s", text);
        return false;
    }
    *out = good ? BW_GOOD : BW_TIGHT;
    return true;
}

/* Values that a path of --only names and the search can move. */
static bool add_path(const shop_project *project, const char *path, bw_even_knob *knobs, size_t *count) {
    unsigned outline, bands[BW_BANDS_MOST];
    size_t before = *count;
    shop_path_knobs(project, path, &outline, bands);
    for (int knob = 0; knob <= BW_KNOB_GUIDE; knob++) {
        bool of_band = knob >= BW_KNOB_SPACE;
        for (size_t i = 0; i < (of_band ? project->layout.band_count : 1) && knob != BW_KNOB_SWEEP; i++) {
            bool named = ((of_band ? bands[i] : outline) >> knob & 1u) != 0;
            if (named && *count < KNOBS_MOST && !isnan(bw_knob_value(&project->layout, (bw_knob)knob, i))) {
                knobs[(*count)++] = (bw_even_knob){(bw_knob)knob, i, NAN, NAN};
            }
        }
    }
    if (*count == before) {
        verb_complain("--only %s: nothing there can be moved; it can be sizes of the outline (outline.diameter, "
                      "outline.length, outline.width, outline.radius, outline.corner), bands.NAME.space, "
                      "bands.NAME.width, bands.NAME.guide, or outline or bands.NAME for all of these",
                      path);
    }
    return *count > before;
}

static bool read_only(const shop_project *project, const char *text, bw_even_knob *knobs, size_t *count) {
    char *copy = strdup(text), *rest = copy, *path;
    bool fine = copy != NULL;
    while (fine && (path = strsep(&rest, ",")) != NULL) {
        fine = add_path(project, path, knobs, count);
    }
    free(copy);
    return fine;
}

/* knobs: room for what --only names. */
static bool read_wish(const verb_args *args, const desk *d, bw_even_wish *wish, bw_even_knob *knobs) {
    const char *const *given = args->given;
    const shop_project *project = desk_project(d);
    desk_even_wish(d, wish);
    bool fine = (given[VERB_WITHIN] == NULL || read_within(project, given[VERB_WITHIN], &wish->within)) &&
                (given[VERB_LIMIT] == NULL || read_limit(given[VERB_LIMIT], &wish->limit)) &&
                (given[VERB_HOW_WELL] == NULL || read_fits(given[VERB_HOW_WELL], &wish->fit)) &&
                (given[VERB_ANSWERS] == NULL ||
                 read_number("answers", given[VERB_ANSWERS], 1, BW_EVEN_ANSWERS_MOST, &wish->answers)) &&
                (given[VERB_CHANGES] == NULL || read_number("changes", given[VERB_CHANGES], 1, 1000, &wish->changes)) &&
                (given[VERB_TRIALS] == NULL || read_number("trials", given[VERB_TRIALS], 1, 1000000000, &wish->trials));
    if (fine && given[VERB_ONLY] != NULL) {
        fine = read_only(project, given[VERB_ONLY], knobs, &wish->knob_count);
        wish->knobs = knobs;
    }
    return fine;
}

/* ---- the search ---- */

static volatile sig_atomic_t interrupted;

static void on_interrupt(int signal) {
    (void)signal;
    interrupted = 1;
}

/* On a terminal, how far it is, now and then, in a line that is wiped again. */
static void tell_progress(const bw_even_found *found, bool wipe) {
    if (isatty(STDERR_FILENO) && wipe) {
        fputs("\r\033[K", stderr);
    } else if (isatty(STDERR_FILENO)) {
        fprintf(stderr, "\r%zu change%s: %.0f %%, %zu found (Ctrl-C stops and shows what there is)", found->looking,
                found->looking == 1 ? "" : "s", 100 * found->share, found->count);
    }
}

/* Until it is done or interrupted; *stopped says which. False without memory. */
static bool search(desk *d, bool *stopped) {
    enum { TRIALS_A_PART = 2000 };
    struct sigaction old, stop = {.sa_handler = on_interrupt};
    sigemptyset(&stop.sa_mask);
    interrupted = 0;
    bool ignored = sigaction(SIGINT, NULL, &old) == 0 && old.sa_handler == SIG_IGN;
    if (!ignored) {
        sigaction(SIGINT, &stop, NULL);
    }
    bool more = true, told = false;
    while (more && interrupted == 0) {
        more = desk_even_more(d, TRIALS_A_PART);
        bw_even_found found = desk_even_found(d);
        if (more) {
            tell_progress(&found, false);
            told = true;
        }
    }
    if (told) {
        tell_progress(NULL, true);
    }
    if (!ignored) {
        sigaction(SIGINT, &old, NULL);
    }
    *stopped = more;
    return more || desk_even_found(d).done;
}

static even_writer writer_of(const char *format) {
    if (format == NULL || strcmp(format, "text") == 0) {
        return show_even_text;
    }
    return strcmp(format, "yaml") == 0 ? show_even_yaml : NULL;
}

static int find_and_write(desk *d, const char *file, const bw_even_wish *wish, even_writer write) {
    shop_problems problems;
    shop_problems_init(&problems, file);
    bool stopped = false, begun = desk_even_begin(d, wish, &problems);
    shop_problems_print(&problems, stderr);
    shop_problems_free(&problems);
    if (!begun) {
        return VERB_USAGE;
    }
    if (!search(d, &stopped)) {
        return verb_complain("out of memory");
    }
    errno = 0;
    if (!write(stdout, d, file, wish, stopped)) {
        verb_complain_of_output(errno, "what was found");
        return SHOP_CANNOT_WRITE;
    }
    return desk_even_found(d).count > 0 ? VERB_FITS : VERB_DOES_NOT_FIT;
}

int verb_even(const verb_args *args) {
    static bw_even_knob knobs[KNOBS_MOST];
    even_writer write = writer_of(args->given[VERB_FORMAT]);
    bw_even_wish wish;
    int status;
    if (write == NULL) {
        return verb_complain("there is no format %s here; it can be text or yaml", args->given[VERB_FORMAT]);
    }
    desk *d = verb_open(args->operands[0], args, &status);
    if (d == NULL) {
        return status;
    }
    status = VERB_USAGE;
    if (read_wish(args, d, &wish, knobs)) {
        status = find_and_write(d, args->operands[0], &wish, write);
    }
    desk_close(d);
    return status;
}
