/* rest.c - the verb that closes a round which is struck in part: what is left, and each count that would do. */
#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "show/round.h"
#include "verbs/verbs.h"

/* A whole number from 1; false after a message. */
static bool whole(const char *text, const char *option, int most, int *number) {
    char *end = NULL;
    long value = *text >= '0' && *text <= '9' ? strtol(text, &end, 10) : 0;
    if (value < 1 || value > most || *end != '\0') {
        verb_complain("--%s: found '%s'; allowed: a whole number from 1 to %d", option, text, most);
        return false;
    }
    *number = (int)value;
    return true;
}

typedef struct asked {
    size_t band;
    int run, struck;
    double left;
} asked;

/* What was not given is as the round in hand has it. */
static bool read_struck(const verb_args *args, const desk *d, asked *what) {
    const bw_band_plan *band = &desk_plan(d)->bands[what->band];
    desk_round *round = desk_round_read(d, what->band);
    const desk_part *part = round != NULL && round->begun ? &round->parts[round->at] : NULL;
    what->run = part != NULL && part->row == 0 ? (int)part->index + 1 : 1;
    bool fine = args->given[VERB_RUN] == NULL ||
                whole(args->given[VERB_RUN], "run", band->run_count > 0 ? (int)band->run_count : 1, &what->run);
    part = fine && part != NULL && part->row == 0 && (int)part->index + 1 == what->run ? part : NULL;
    what->struck = part != NULL ? part->struck : 0;
    if (fine && args->given[VERB_STRUCK] != NULL) {
        fine = whole(args->given[VERB_STRUCK], "struck", BW_COUNT_MOST, &what->struck);
    } else if (fine && what->struck == 0) {
        verb_complain("--struck is missing: how many impressions of the %s are struck (the file has no round in hand)",
                      band->run_count > 1 ? "run" : "round");
        fine = false;
    }
    desk_round_free(round);
    return fine;
}

static bool read_left(const verb_args *args, const desk *d, asked *what) {
    const shop_project *project = desk_project(d);
    const char *text = args->given[VERB_LEFT];
    char why[160], most[64];
    if (text == NULL) {
        verb_complain("--left is missing: the length that is left to go (%s)",
                      desk_plan(d)->bands[what->band].runs[what->run - 1].closed
                          ? "along the guide, from a point of the last impression on to the same point of the first"
                          : "along the guide, from the leading tip of the last impression to the run's end");
        return false;
    }
    if (bw_rest_longest(desk_plan(d), what->band, (size_t)what->run - 1) <= 0) {
        verb_complain("--run: found '%d'; no impression has room on this run", what->run);
        return false;
    }
    if (!shop_parse_length(text, strlen(text), project->units, false, &what->left, why)) {
        verb_complain("--left: found '%s'; %s", text, why);
        return false;
    }
    double longest = bw_rest_longest(desk_plan(d), what->band, (size_t)what->run - 1);
    shop_show_length(longest, project->units, most, sizeof most);
    bool closed = desk_plan(d)->bands[what->band].runs[what->run - 1].closed;
    if (what->left < 0 || what->left > longest + BW_EPS_FIT || (closed && what->left <= BW_EPS)) {
        verb_complain("--left: found '%s'; allowed: %s 0 to %s, which is all that the run has", text,
                      closed ? "over" : "from", most);
        return false;
    }
    return true;
}

static int answer(const desk *d, const asked *what) {
    bw_rest *rest = NULL;
    const bw_plan *plan = desk_plan(d);
    desk_round *round = desk_round_read(d, what->band);
    bw_measure measure = desk_round_measure(round, what->band, (size_t)what->run - 1, what->struck, what->left);
    desk_round_free(round);
    bw_status made = bw_rest_create(plan, &measure, NULL, &rest);
    if (made != BW_OK) {
        return verb_complain(made == BW_NO_MEMORY ? "out of memory"
                                                  : "of so many struck and so much left nothing can be told");
    }
    bool written = show_rest_text(stdout, desk_project(d), plan, rest) && fflush(stdout) == 0;
    int status = rest->works > 0 && rest->part.works && !rest->doubtful ? VERB_FITS : VERB_DOES_NOT_FIT;
    bw_rest_destroy(rest);
    if (!written) {
        verb_complain_of_output(errno, "the advice");
        return SHOP_CANNOT_WRITE;
    }
    return status;
}

int verb_rest(const verb_args *args) {
    int status;
    desk *d = verb_open(args->operands[0], args, &status);
    if (d == NULL) {
        return status;
    }
    asked what = {.band = verb_band(desk_project(d), args->operands[0], args->operands[1])};
    if (what.band == SIZE_MAX) {
        status = VERB_USAGE;
    } else if (desk_plan(d)->bands[what.band].strikes == 0) {
        status = verb_complain("nothing is struck on band %s", args->operands[1]);
    } else if (!read_struck(args, d, &what) || !read_left(args, d, &what)) {
        status = VERB_USAGE;
    } else {
        status = answer(d, &what);
    }
    desk_close(d);
    return status;
}
