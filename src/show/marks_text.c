/* `marks`: of each run of a band, how surely it closes with so many check marks, and where they lie. */
#include <math.h>
#include <stdlib.h>

#include "show/chance_words.h"
#include "show/check_marks.h"
#include "show/page.h"

enum {
    TRIES = 8, /* of more marks, corrected gradually, than setting anew takes */
    SEED = 1   /* the same each time, so that the same strips tell the same */
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

static void put_fewest(page *p, const bw_drift *drift, int fewest) {
    int unseen = bw_marks_needed(drift, CHANCE_WANTED, true), shared = fewest_gradual(drift, fewest);
    show_words words;
    if (fewest < 0) {
        page_putf(p, "  ", "fewest for 95 %%: none do, up to %d; a steadier hand or a wider tolerance would",
                  BW_MARKS_MOST < drift->steps ? BW_MARKS_MOST : drift->steps - 1);
        return;
    }
    show_start(&words);
    show_say(&words, "fewest for 95 %%: %d", fewest);
    if (fewest > 0 && unseen >= 0)
        show_say(&words, "; so that no jump shows at a mark either: %d", unseen);
    else if (fewest > 0)
        show_say(&words, "; none keep every jump at a mark from showing");
    if (shared > 0)
        show_say(&words, "; corrected gradually: %d", shared);
    else if (fewest > 0)
        show_say(&words, "; corrected gradually: none of %d to %d", fewest, last_tried(drift, fewest));
    page_put(p, "  ", words.text);
}

static void say_estimate(const at_bench *a, const bw_estimate *e, show_words *words) {
    show_say(words, "%s", show_signed(a->project, e->value).text);
    if (!isnan(e->least))
        show_say(words, " (%s to %s)", show_signed(a->project, e->least).text, show_signed(a->project, e->most).text);
}

static void put_hand(page *p, const at_bench *a, const bw_hand *hand) {
    const bw_estimate *s = &hand->sigma;
    show_words words;
    show_start(&words);
    show_say(&words, "your hand, by %s: a step strays by %s", chance_strips(hand).text,
             show_stray_text(a->project, hand).text);
    if (!isnan(s->least))
        show_say(&words, " (%s to %s)", show_difference(a->project, s->least).text,
                 show_difference(a->project, s->most).text);
    if (!isnan(hand->between.value))
        show_say(&words, ", a whole round by %s a step", show_difference(a->project, hand->between.value).text);
    if (!isnan(hand->bias.value)) {
        show_say(&words, ", and is off what is set by ");
        say_estimate(a, &hand->bias, &words);
    } else if (!isnan(hand->usual.most))
        show_say(&words, ", and its usual step may be %s off (no strip has an aim)",
                 show_difference(a->project, hand->usual.most - hand->usual.value).text);
    show_say(&words, "; limits hold with 95 %%");
    page_put(p, "  ", words.text);
}

/* What two strips or more tell of a run; or, of a band once, what is missing. */
static void put_chances(page *p, const at_bench *a, size_t r) {
    bw_drift drift;
    bw_hand hand;
    show_words words;
    chance_told told = chance_of(a, r, &drift, &hand);
    show_start(&words);
    if (told == CHANCE_HIDDEN)
        put_hand(p, a, &hand);
    if (told != CHANCE_TOLD) {
        chance_say_missing(a, told, &words);
        if (words.text[0] && r == 0)
            page_put(p, "  ", words.text);
        return;
    }
    put_hand(p, a, &hand);
    fprintf(p->to, "\n  chance to close within %s\n", show_length(a->project, a->project->tolerance).text);
    fprintf(p->to, "  marks  set anew   it may be    no jump shows  corrected gradually\n");
    int fewest = bw_marks_needed(&drift, CHANCE_WANTED, false);
    bool listed = false;
    for (int marks = 0; marks <= 7 && marks < drift.steps; marks = 2 * marks + 1) {
        if (!listed && fewest > 0 && fewest < marks)
            put_line(p->to, &hand, &drift, fewest);
        listed = listed || fewest <= marks;
        put_line(p->to, &hand, &drift, marks);
    }
    if (!listed)
        put_line(p->to, &hand, &drift, fewest);
    put_fewest(p, &drift, fewest);
}

static void put_table(page *p, const at_bench *a, bool closed, const bw_check_mark *list, int marks) {
    putc('\n', p->to);
    if (!p->check_marks && marks > 0)
        page_put(p, "  ", "check marks, " CHECK_MARK_MEANS "; along from the middle of the first");
    p->check_marks = p->check_marks || marks > 0;
    fprintf(p->to, "  mark   after    along the guide  straight from the mark before\n");
    for (int i = 0; i <= marks; i++) {
        char name[16] = "end";
        if (i < marks)
            snprintf(name, sizeof name, "%d", i + 1);
        fprintf(p->to, "  %-5s  %-7d  %-15s  %s%s\n", name, list[i].after, band_set(a, list[i].along).text,
                band_set(a, list[i].across).text, i < marks || !closed ? "" : "  (the start again)");
    }
}

/* Of a run, and of each that is told with it but bends elsewhere. */
static bool put_places(page *p, const at_bench *a, size_t r, int marks) {
    const bw_run_plan *runs = a->made->runs;
    bw_check_mark *list = malloc(((size_t)marks + 1) * sizeof *list), *other;
    bool made = list && bw_check_marks(a->plan, a->index, r, marks, NULL, list) == BW_OK;
    show_words begun;
    if (check_marks_begun(a, r, &begun)[0] && marks > 0)
        page_put(p, "  ! ", begun.text);
    if (made)
        put_table(p, a, runs[r].closed, list, marks);
    for (size_t i = r; made && (other = check_marks_next(a, r, list, marks, &i)) != NULL; free(other)) {
        show_words which;
        show_start(&which);
        show_say_run(&which, a->project, a->plan, a->index, i);
        fputc('\n', p->to);
        page_put(p, "  ", which.text);
        put_table(p, a, runs[i].closed, other, marks);
    }
    free(list);
    return made;
}

static bool put_run(page *p, const at_bench *a, size_t r, int marks) {
    int steps = bw_run_steps(&a->made->runs[r]);
    if (steps < 1)
        return true;
    put_chances(p, a, r);
    int many = marks >= 0 ? marks : show_check_marks(a->project, a->plan, a->index, r);
    if (marks < 0 && many == 0)
        page_putf(p, "  ", "no check marks: %s are looked over at a glance; --marks 1 tells of one all the same",
                  show_counted(steps, "step").text);
    else if (many < steps)
        return put_places(p, a, r, many);
    if (many < steps)
        return true;
    page_putf(p, "  ", "no room for %s: there are %s, and so %d at most", show_counted(many, "mark").text,
              show_counted(steps, "step").text, steps - 1);
    return put_places(p, a, r, steps - 1);
}

bool show_marks_text(FILE *to, const shop_project *project, const bw_plan *plan, size_t band, int marks) {
    at_bench a = band_at(project, plan, band);
    page p = {.to = to, .project = project, .plan = plan, .width = SHOW_PAGE_WIDTH};
    bool fine = true;
    for (size_t r = 0; r < a.made->run_count && fine; r++) {
        show_words runs;
        if (!band_say_runs(&a, r, &runs))
            continue;
        band_say_count(&a, r, &runs);
        if (r > 0)
            fputc('\n', to);
        page_putf(&p, "", "%s: %s", show_band_name(project, band), runs.text);
        fine = put_run(&p, &a, r, marks);
    }
    return fine && fflush(to) == 0 && !ferror(to);
}
