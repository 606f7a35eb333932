/* `marks`: of each run of a band, how surely it closes with so many check marks, and where they lie. */
#include <math.h>
#include <stdlib.h>

#include "show/chance_words.h"

enum {
    USUAL_MARKS = 3, /* told where no chance says how many it takes, */
    LISTED = 12,     /* or more than these, which few would make */
    TRIES = 8,       /* of more marks, corrected gradually, than setting anew takes */
    SEED = 1         /* the same each time, so that the same strips tell the same */
};

static bw_closing gradual(const bw_drift *drift, int marks) {
    return bw_closing_trials(drift, BW_WAY_GRADUAL, marks, bw_trials_for(drift->steps), SEED);
}

static int last_tried(const bw_drift *drift, int from) {
    int most = drift->steps - 1 < BW_MARKS_MOST ? drift->steps - 1 : BW_MARKS_MOST;
    return from + TRIES - 1 < most ? from + TRIES - 1 : most;
}

/* The fewest marks for 95 % when corrected gradually, looked for from what setting anew takes; -1 if none of those do.
 */
static int fewest_gradual(const bw_drift *drift, int from) {
    for (int marks = from; from > 0 && marks <= last_tried(drift, from); marks++)
        if (gradual(drift, marks).closes >= CHANCE_WANTED)
            return marks;
    return from > 0 ? -1 : from;
}

static void put_line(FILE *to, const bw_hand *hand, const bw_drift *drift, int marks) {
    bw_closing anew = bw_closing_chance(drift, BW_WAY_ANEW, marks);
    show_figure_text range = chance_range(hand, drift, marks);
    fprintf(to, "  %5d  %-9s  %-11s", marks, chance_text(anew.closes).text, range.text[0] ? range.text : "-");
    if (marks > 0) {
        bw_closing trials = gradual(drift, marks);
        fprintf(to, "  %-13s  %s, give or take %.1f %%", chance_text(anew.unseen).text, chance_text(trials.closes).text,
                ceil(trials.error * 1000) / 10);
    } else {
        fprintf(to, "  struck through, without a look");
    }
    putc('\n', to);
}

static void put_fewest(FILE *to, const bw_drift *drift, int fewest) {
    int unseen = bw_marks_needed(drift, CHANCE_WANTED, true), shared = fewest_gradual(drift, fewest);
    if (fewest < 0) {
        fprintf(to, "  fewest for 95 %%: none do, up to %d; a steadier hand or a wider tolerance would\n",
                BW_MARKS_MOST < drift->steps ? BW_MARKS_MOST : drift->steps - 1);
        return;
    }
    fprintf(to, "  fewest for 95 %%: %d", fewest);
    if (fewest > 0 && unseen >= 0)
        fprintf(to, "; so that no jump shows at a mark either: %d", unseen);
    else if (fewest > 0)
        fprintf(to, "; none keep every jump at a mark from showing");
    if (shared > 0)
        fprintf(to, ";\n  corrected gradually: %d", shared);
    else if (fewest > 0)
        fprintf(to, ";\n  corrected gradually: none of %d to %d", fewest, last_tried(drift, fewest));
    putc('\n', to);
}

static void put_estimate(FILE *to, const at_bench *a, const bw_estimate *e) {
    fprintf(to, "%s", show_signed(a->project, e->value).text);
    if (!isnan(e->least))
        fprintf(to, " (%s to %s)", show_signed(a->project, e->least).text, show_signed(a->project, e->most).text);
}

static void put_hand(FILE *to, const at_bench *a, const bw_hand *hand) {
    const bw_estimate *s = &hand->sigma;
    fprintf(to, "  your hand, by %d strip%s: a step strays by %s", s->strips, s->strips == 1 ? "" : "s",
            show_stray_text(a->project, hand).text);
    if (!isnan(s->least))
        fprintf(to, " (%s to %s)", show_difference(a->project, s->least).text,
                show_difference(a->project, s->most).text);
    if (!isnan(hand->between.value))
        fprintf(to, ", a whole round by %s a step", show_difference(a->project, hand->between.value).text);
    if (!isnan(hand->bias.value)) {
        fprintf(to, ",\n  and is off what is set by ");
        put_estimate(to, a, &hand->bias);
    } else if (!isnan(hand->usual.most))
        fprintf(to, ",\n  and its usual step may be %s off (no strip has an aim)",
                show_difference(a->project, hand->usual.most - hand->usual.value).text);
    fprintf(to, "; limits hold with 95 %%\n");
}

/* Returns the fewest marks for 95 %, -1 where that is not known. */
static int put_chances(FILE *to, const at_bench *a, size_t r) {
    bw_drift drift;
    bw_hand hand;
    show_words words;
    chance_told told = chance_of(a, r, &drift, &hand);
    show_start(&words);
    if (told != CHANCE_TOLD) {
        chance_say_missing(a, told, &words);
        if (words.text[0] && r == 0) /* of a band once */
            fprintf(to, "  %s\n", words.text);
        return -1;
    }
    put_hand(to, a, &hand);
    fprintf(to, "\n  chance to close within %s\n", show_length(a->project, a->tolerance).text);
    fprintf(to, "  marks  set anew   it may be    no jump shows  corrected gradually\n");
    int fewest = bw_marks_needed(&drift, CHANCE_WANTED, false);
    bool listed = false;
    for (int marks = 0; marks <= 7 && marks < drift.steps; marks = 2 * marks + 1) {
        if (!listed && fewest > 0 && fewest < marks)
            put_line(to, &hand, &drift, fewest);
        listed = listed || fewest <= marks;
        put_line(to, &hand, &drift, marks);
    }
    if (!listed)
        put_line(to, &hand, &drift, fewest);
    put_fewest(to, &drift, fewest);
    return fewest;
}

static void put_table(FILE *to, const at_bench *a, bool closed, const bw_check_mark *list, int marks) {
    fprintf(to, "\n  mark   after    along the guide  straight from the mark before\n");
    for (int i = 0; i <= marks; i++) {
        char name[16] = "end";
        if (i < marks)
            snprintf(name, sizeof name, "%d", i + 1);
        fprintf(to, "  %-5s  %-7d  %-15s  %s%s\n", name, list[i].after, band_set(a, list[i].along).text,
                band_set(a, list[i].across).text, i < marks || !closed ? "" : "  (the start again)");
    }
}

static bool same_places(const bw_check_mark *one, const bw_check_mark *other, int marks) {
    for (int i = 0; i <= marks; i++)
        if (fabs(one[i].along - other[i].along) > SHOW_NOTHING || fabs(one[i].across - other[i].across) > SHOW_NOTHING)
            return false;
    return true;
}

/* Of a run, and of each that is told with it but bends elsewhere. */
static bool put_places(FILE *to, const at_bench *a, size_t r, int marks) {
    const bw_run_plan *runs = a->made->runs;
    bw_check_mark *list = malloc(2 * ((size_t)marks + 1) * sizeof *list), *other = list ? list + marks + 1 : NULL;
    bool made = list && bw_check_marks(a->plan, a->index, r, marks, NULL, list) == BW_OK;
    if (made)
        put_table(to, a, runs[r].closed, list, marks);
    for (size_t i = r + 1; i < a->made->run_count && made; i++) {
        show_words which;
        if (!band_runs_alike(&runs[r], &runs[i]))
            continue;
        made = bw_check_marks(a->plan, a->index, i, marks, NULL, other) == BW_OK;
        if (!made || same_places(list, other, marks))
            continue;
        show_start(&which);
        show_say_run(&which, a->project, a->plan, a->index, i);
        fprintf(to, "\n  %s", which.text);
        put_table(to, a, runs[i].closed, other, marks);
    }
    free(list);
    return made;
}

static bool put_run(FILE *to, const at_bench *a, size_t r, int marks) {
    int steps = bw_run_steps(&a->made->runs[r]);
    if (steps < 1)
        return true;
    int fewest = put_chances(to, a, r);
    int many = marks >= 0 ? marks : fewest > 0 && fewest <= LISTED ? fewest : USUAL_MARKS;
    return put_places(to, a, r, many < steps ? many : steps - 1);
}

bool show_marks_text(FILE *to, const shop_project *project, const bw_plan *plan, size_t band, double tolerance,
                     int marks) {
    at_bench a = band_at(project, plan, band);
    bool fine = true;
    a.tolerance = tolerance;
    for (size_t r = 0; r < a.made->run_count && fine; r++) {
        show_words runs;
        if (!band_say_runs(&a, r, &runs))
            continue;
        band_say_count(&a, r, &runs);
        fprintf(to, "%s%s: %s\n", r > 0 ? "\n" : "", show_band_name(project, band), runs.text);
        fine = put_run(to, &a, r, marks);
    }
    return fine && fflush(to) == 0 && !ferror(to);
}
