/* strikes.c - at the bench: strikes are counted into the project, and what has drifted is mended with what is left. */
#include <math.h>
#include <string.h>

#include "bench/strikes.h"

desk_round *strikes_round(const bench *b) {
    return b->desk == NULL ? NULL : desk_round_read(b->desk, b->band);
}

/* A run or a row is full: where it goes on. */
static void say_full(bench *b, const desk_round *round) {
    show_words part, next;
    const bw_plan *plan = desk_plan(b->desk);
    const shop_project *project = desk_project(b->desk);
    if (round->full) {
        bench_say(b, "All %ld impressions are struck: the round is full. {strikes.begin-anew} begins the next piece.%s",
                  round->of,
                  desk_round_can_log(round) ? " {strikes.log-it} logs with the tool what the strikes took." : "");
        return;
    }
    size_t at = round->at + 1;
    while (at + 1 < round->count && round->parts[at].struck >= round->parts[at].of) {
        at++;
    }
    if (at >= round->count) {
        return;
    }
    show_part_words(&part, project, plan, round, round->at);
    show_part_words(&next, project, plan, round, at);
    bool corner = at < round->runs;
    bench_say(b, "%s is full: stop%s. {strikes.struck-one} begins %s, %d impressions.",
              round->runs > 1 || round->at > 0 ? part.text : "The guide's round",
              corner ? ", and go on behind the corner" : "", next.text, round->parts[at].of);
}

static void say_struck(bench *b) {
    desk_round *round = strikes_round(b);
    if (round == NULL) {
        return;
    }
    const desk_part *part = &round->parts[round->at];
    double along;
    if (part->struck >= part->of) {
        say_full(b, round);
    } else if (part->struck > 0 && show_next_mark(desk_project(b->desk), desk_plan(b->desk), round, part->struck - 1,
                                                  &along) == part->struck) {
        bench_say(b, "A check mark: the middle of the next impression belongs on it. If it will not fall there, "
                     "measure what is left: "
                     "{strikes.what-is-left}");
    }
    desk_round_free(round);
}

static void done(bench *b, bool fine, shop_problems *problems) {
    if (fine) {
        shop_problems_free(problems);
        say_struck(b);
    } else {
        bench_refuse_problem(b, problems);
    }
}

void do_strikes(bench *b, int key) {
    (void)key;
    if (round_lacks(b)) {
        return;
    }
    bench_go(b, BENCH_STRIKES);
    desk_round *round = strikes_round(b);
    if (round != NULL && round->begun && !round->full) {
        bench_say(b, "A round is begun: %ld of %ld are struck.", round->struck, round->of);
    }
    desk_round_free(round);
}

void do_strike(bench *b, int key) {
    (void)key;
    shop_problems problems;
    desk_round *round = strikes_round(b);
    if (round != NULL && round->full) {
        say_full(b, round);
    } else {
        shop_problems_init(&problems, "");
        done(b, desk_round_strike(b->desk, b->band, &problems), &problems);
    }
    desk_round_free(round);
}

void do_unstrike(bench *b, int key) {
    (void)key;
    shop_problems problems;
    desk_round *round = strikes_round(b);
    if (round == NULL || !round->begun) {
        bench_say(b, "Nothing is struck yet.");
    } else {
        const desk_part *part = &round->parts[round->at];
        int measured = part->from == part->struck ? part->from : 0;
        shop_problems_init(&problems, "");
        done(b, desk_round_unstrike(b->desk, b->band, &problems), &problems);
        if (measured > 0 && !b->bad) {
            bench_say(b,
                      "What was measured after %d counts no more, nor do its steps and marks: {workbench.undo} "
                      "brings them back.",
                      measured);
        }
    }
    desk_round_free(round);
}

void do_strikes_anew(bench *b, int key) {
    (void)key;
    shop_problems problems;
    desk_round *round = strikes_round(b);
    if (round == NULL || !round->begun) {
        bench_say(b, "Nothing is struck yet: it begins with nothing.");
        desk_round_free(round);
        return;
    }
    long struck = round->struck;
    bool full = round->full;
    desk_round_free(round);
    shop_problems_init(&problems, "");
    if (!desk_round_anew(b->desk, b->band, &problems)) {
        bench_refuse_problem(b, &problems);
        return;
    }
    shop_problems_free(&problems);
    if (full) {
        bench_say(b, "A new round; the full one of %ld stays in the file. {workbench.undo} goes back to it.", struck);
    } else {
        bench_say(b, "Begun anew: the %ld struck are out of the count. {workbench.undo} brings them back.", struck);
    }
}

void do_strikes_log(bench *b, int key) {
    (void)key;
    shop_problems problems;
    shop_problems_init(&problems, "");
    if (desk_round_log(b->desk, b->band, &problems)) {
        shop_problems_free(&problems);
        bench_say(b,
                  "Logged with the tool: the impressions struck when what was left was measured, and what they took. "
                  "{workbench.undo} takes it back.");
    } else {
        bench_refuse_problem(b, &problems);
    }
}

/* ---- what is left ---- */

/* Where it is measured, and the run is one that can be mended; else says why not. */
static bool can_measure(bench *b, const desk_round *round) {
    const desk_part *part = round != NULL ? &round->parts[round->at] : NULL;
    if (part == NULL || part->struck == 0) {
        bench_refuse(b, "Strike the first impression, then what is left can be measured.");
    } else if (part->row != 0) {
        bench_refuse(b, "This row is keyed to the guide's round: nothing is measured here.");
    } else if (part->struck >= part->of &&
               bw_rest_planned(desk_plan(b->desk), b->band, part->index, part->struck) <= 0) {
        bench_refuse(b, "This run is full: nothing is left of it.");
    } else {
        return true;
    }
    return false;
}

/* What should be left by the steps told, to what a rule is read to; "" where that is not known. */
static void offer_left(const bench *b, const desk_round *round, char out[64]) {
    double left = desk_round_left(round, desk_plan(b->desk));
    out[0] = '\0';
    if (isnan(left)) {
        return;
    }
    if (desk_project(b->desk)->units == SHOP_INCH) {
        shop_show_length(left, SHOP_INCH, out, 64);
        char *unit = strstr(out, " in"); /* the line is read in the file's unit */
        if (unit != NULL) {
            *unit = '\0';
        }
    } else {
        shop_write_length(floor(left * 10 + 0.5) / 10, SHOP_MM, out, 64); /* divided, or 20.7 has a tail */
    }
}

void do_left_type(bench *b, int key) {
    char text[64] = "";
    desk_round *round = strikes_round(b);
    if (!can_measure(b, round)) {
        desk_round_free(round);
        return;
    }
    if (key == BENCH_KEY_ENTER) {
        offer_left(b, round, text);
    }
    b->left_offered = text[0] != '\0';
    desk_round_free(round);
    bench_type(b, TYPING_LEFT, text);
    if (key != BENCH_KEY_ENTER) {
        entry_key(&b->entry, key);
    }
}

/* The line still says what was offered. */
static bool untouched(const bench *b, const desk_round *round) {
    char offered[64];
    offer_left(b, round, offered);
    return b->left_offered && strcmp(b->entry.text, offered) == 0;
}

/* False with the reason said. */
static bool read_left(bench *b, const desk_part *part, double *left) {
    const char *text = b->entry.text;
    char why[160], most[64];
    if (!shop_parse_length(text, strlen(text), desk_project(b->desk)->units, false, left, why)) {
        bench_refuse(b, "'%.40s': %s.", text, why);
        return false;
    }
    double longest = bw_rest_longest(desk_plan(b->desk), b->band, part->index);
    bool closed = bench_band_plan(b)->runs[part->index].closed;
    if (*left < 0 || *left > longest + BW_EPS_FIT || (closed && *left <= BW_EPS)) {
        shop_show_length(longest, desk_project(b->desk)->units, most, sizeof most);
        bench_refuse(b, "'%.40s': what is left lies between 0 and %s, which is all that the run has.", text, most);
        return false;
    }
    return true;
}

void rest_forget(bench *b) {
    bw_rest_destroy(b->rest);
    b->rest = NULL;
}

void rest_take_left(bench *b) {
    double left;
    desk_round *round = strikes_round(b);
    if (round == NULL || !read_left(b, &round->parts[round->at], &left)) {
        desk_round_free(round);
        return;
    }
    const desk_part *part = &round->parts[round->at];
    rest_forget(b);
    b->rest_unmeasured = untouched(b, round);
    if (b->rest_unmeasured) { /* without the rounding, which would read as drift */
        left = desk_round_left(round, desk_plan(b->desk));
    }
    bw_measure measure = desk_round_measure(round, b->band, part->index, part->struck, left);
    bw_status status = bw_rest_create(desk_plan(b->desk), &measure, NULL, &b->rest);
    b->rest_sure = false;
    desk_round_free(round);
    b->typing = TYPING_NOTHING;
    if (status != BW_OK) {
        bench_refuse(b, status == BW_NO_MEMORY ? "out of memory"
                                               : "Of this nothing can be told: count and measure again.");
        return;
    }
    bench_go(b, BENCH_REST);
    b->list.count = b->rest->count;
}

/* What nobody has measured is no fact of the hand: the file says nothing of it, and the round goes on as told. */
static void take_unmeasured(bench *b, int count) {
    desk_round *round = strikes_round(b);
    bool as_told = round != NULL && !round->parts[round->at].changed && round->parts[round->at].count == count;
    desk_round_free(round);
    if (!as_told) {
        bench_refuse(b, "Not taken: nothing was measured yet. {lists.leave} goes back; type there what the rule says.");
        return;
    }
    bench_go(b, BENCH_STRIKES);
    bench_say(b, "As told: strike on. This was no measure, so none is kept: type what the rule says to have it kept.");
    rest_forget(b);
}

void rest_take(bench *b) {
    shop_problems problems;
    if (b->rest == NULL || b->list.at >= b->rest->count) {
        bench_refuse(b, "No count is left to be taken: {lists.leave} goes back.");
        return;
    }
    const bw_rest_count *one = &b->rest->counts[b->list.at];
    if (b->rest_unmeasured) {
        take_unmeasured(b, one->count);
        return;
    }
    if (b->rest->doubtful && !b->rest_sure) {
        b->rest_sure = true;
        bench_refuse(b, "Not taken: this can hardly be. {lists.leave} goes back to count and measure again; "
                        "{lists.take} once more takes it all the same.");
        return;
    }
    shop_problems_init(&problems, "");
    if (!desk_round_advise(b->desk, b->band, b->rest, b->list.at, &problems)) {
        bench_refuse_problem(b, &problems);
        return;
    }
    shop_problems_free(&problems);
    bool works = one->works, part = b->rest->part.works;
    bench_go(b, BENCH_STRIKES);
    bench_say(b, "%s%s. {workbench.undo} takes it back.",
              !works  ? "Taken, though its rows do not fit: "
              : !part ? "Taken, though rows do not fit the part struck: "
                      : "",
              desk_last(b->desk) != NULL ? desk_last(b->desk) : "");
    rest_forget(b);
}

void rest_leave(bench *b) {
    rest_forget(b);
    bench_go(b, BENCH_STRIKES);
}
