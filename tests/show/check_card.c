/* check_card.c - every number on the card is the plan's: the text is read back and compared, to the card's rounding. */
#include <check.h>
#include <glob.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bandwright/blank.h"
#include "maths/random.h"
#include "show/card_marks.h"
#include "show/show.h"

Suite *show_card_suite(void);

static void near(const carded *c, double told, double planned, double within, const char *what) {
    ck_assert_msg(fabs(told - planned) <= within, "%s: %s is %.6f on the card, %.6f in the plan", c->name, what, told,
                  planned);
}

static double grid_of(const carded *c) {
    return c->unit == SHOP_INCH ? 25.4 / 64 : 0.1;
}

/* ---- the lines ---- */

static void compare_lines(const carded *c) {
    static const char *const which[] = {"outer line", "guide line", "inner line"};
    static const char *const words[] = {"cut", "scribe lightly", "mark for stitches"};
    card_part part;
    HOLDS(card_part_of(c->text, "DIVIDERS", &part), "%s: no settings", c->name);
    if (c->plan->line_count == 0)
        return;
    ck_assert_int_eq(part.count, (int)c->plan->line_count + 1);
    for (size_t i = 0; i < c->plan->line_count; i++) {
        const bw_line_plan *line = &c->plan->lines[i];
        const card_row *row = &part.rows[i + 1];
        char where[100];
        ck_assert_int_ge(row->cells, 3);
        snprintf(where, sizeof where, "%s, %s", c->project->bands[line->band].name, which[line->which]);
        ck_assert_str_eq(row->cell[1], where);
        HOLDS(row->box == (line->loops > 0), "%s: a box for a line that is gone", c->name);
        if (line->loops == 0)
            continue;
        double asked = card_length(row->cell[0], c->unit), set;
        char reason[160];
        near(c, asked, line->from_edge, card_fine(c->unit), "a line's distance from the edge");
        HOLDS(shop_parse_length(row->cell[0], strcspn(row->cell[0], "("), c->unit, false, &set, reason), "%s",
              row->cell[0]);
        near(c, set, line->set_to, card_coarse(c->unit), "a divider setting");
        HOLDS(strncmp(row->cell[2], words[line->what], strlen(words[line->what])) == 0, "%s: %s", c->name,
              row->cell[2]);
        HOLDS((strstr(row->cell[2], "bevel the inside") != NULL) == (line->bevel == BW_BEVEL_INSIDE), "%s: %s", c->name,
              row->cell[2]);
        HOLDS((strstr(row->cell[2], "bevel the outside") != NULL) == (line->bevel == BW_BEVEL_OUTSIDE), "%s: %s",
              c->name, row->cell[2]);
    }
}

/* ---- runs ---- */

/* What "strike ..." comes to: all steps together as long as the plan's settings, and as many. */
static void compare_strike(const carded *c, const bw_run_plan *run, const char *note) {
    const char *at = strstr(note, "strike ");
    if (!at)
        return;
    if (run->settings[0].where != BW_WHERE_STEPS) {
        for (size_t i = 0; i < run->setting_count; i++) {
            near(c, card_next_length(&at, c->unit), run->settings[i].step, card_coarse(c->unit), "a setting");
            if (strstr(at, "all along") != NULL)
                break;
        }
        return;
    }
    double planned = 0, told = 0;
    int steps = 0, all = 0;
    for (size_t i = 0; i < run->setting_count; i++) {
        planned += run->settings[i].steps * run->settings[i].step;
        all += run->settings[i].steps;
    }
    for (at += strlen("strike "); *at;) { /* "27 steps at 7.9 mm and 13 at 8 mm, then ..." */
        char *behind;
        long many = strtol(at, &behind, 10);
        if (behind == at || (strncmp(behind, " step", 5) != 0 && strncmp(behind, " at ", 4) != 0)) {
            at++;
            continue;
        }
        at = strstr(behind, " at ");
        HOLDS(at, "%s: %s", c->name, note);
        told += (double)many * card_next_length(&at, c->unit);
        steps += (int)many;
    }
    ck_assert_int_eq(steps, all);
    near(c, told, planned, grid_of(c) / 2 * (double)run->setting_count + 0.011, "all steps together");
}

/* Signed: "1.3 mm left over", "0.5 mm lacking", "closes as it is". */
static double gap_of(const carded *c, const char *cell) {
    const char *at = cell;
    if (strcmp(cell, "closes as it is") == 0)
        return 0;
    double gap = card_next_length(&at, c->unit);
    if (isnan(gap)) { /* a decimal of inches: "0.021 in" */
        gap = strtod(cell, NULL) * (c->unit == SHOP_INCH ? 25.4 : 1);
    }
    return strstr(cell, "lacking") ? -gap : gap;
}

static bool tells(const carded *c, const card_row *row, const bw_run_plan *run) {
    if (atoi(row->cell[0]) != run->count)
        return false;
    if (run->count == 0)
        return strcmp(row->cell[1], "no room for one") == 0;
    const char *step = strstr(row->cell[1], "step ");
    return step && fabs(card_length(step + 5, c->unit) - run->step) <= card_fine(c->unit) &&
           fabs(gap_of(c, row->cell[2]) - run->closure_gap) <= card_fine(c->unit);
}

static bool has_length(const carded *c, const char *text, double mm) {
    for (double told; !isnan(told = card_next_length(&text, c->unit));)
        if (fabs(told - mm) <= card_coarse(c->unit))
            return true;
    return false;
}

static void compare_run(const carded *c, const card_part *part, size_t band, const bw_run_plan *run) {
    const bw_band_plan *made = &c->plan->bands[band];
    for (int i = 0; i < part->count; i++) {
        const card_row *row = &part->rows[i];
        if (!card_is_run(row) || !tells(c, row, run))
            continue;
        bool here = made->run_count < 2 ||
                    (has_length(c, row->note, run->to - run->from) && has_length(c, row->note, run->from));
        if (!here)
            continue;
        if (run->count > 0 && run->setting_count > 0) {
            const char *usual = strstr(row->note, "usual step ");
            HOLDS(usual, "%s: %s", c->name, row->note);
            near(c, card_next_length(&usual, c->unit), run->usual_step, card_fine(c->unit), "the usual step");
            compare_strike(c, run, row->note);
        }
        return;
    }
    ck_abort_msg("%s, band %zu: no row tells the run of %d from %.3f:\n%s", c->name, band, run->count, run->from,
                 part->flat);
}

static void compare_runs(const carded *c, const card_part *part, size_t band) {
    const bw_band_plan *made = &c->plan->bands[band];
    for (size_t r = 0; r < made->run_count; r++)
        compare_run(c, part, band, &made->runs[r]);
    for (int i = 0; i < part->count; i++) {
        bool planned = !card_is_run(&part->rows[i]);
        for (size_t r = 0; r < made->run_count; r++)
            planned = planned || tells(c, &part->rows[i], &made->runs[r]);
        HOLDS(planned, "%s: a run that is none: %s", c->name, part->rows[i].cell[0]);
    }
}

/* ---- rows and notches ---- */

static void compare_rows(const carded *c, const card_part *part, size_t band) {
    const bw_band_plan *made = &c->plan->bands[band];
    const char *at = strstr(part->flat, " rows from the edge inward: ");
    if (made->fill != BW_FILL_BASKET || made->row_count == 0 || made->strikes == 0) {
        HOLDS(!at, "%s: rows of a band that has none", c->name);
        return;
    }
    HOLDS(at, "%s: no rows", c->name);
    at += strlen(" rows from the edge inward: ");
    const char *each = strstr(at, " in each");
    for (size_t i = 0; i < made->row_count; i++) {
        char *end;
        ck_assert_int_eq(strtol(at, &end, 10), made->rows[i].row);
        if (strncmp(end, " (", 2) == 0 && strspn(end + 2, "0123456789") > 0) {
            ck_assert_int_eq(strtol(end + 2, &end, 10), made->rows[i].impressions);
            end++;
        } else {
            while (each && each > at && strchr("0123456789", each[-1]))
                each--;
            HOLDS(each, "%s: how many in each?", c->name);
            ck_assert_int_eq(atoi(each), made->rows[i].impressions);
        }
        HOLDS((strncmp(end, " leaned", 7) == 0) == made->rows[i].leaned, "%s: row %d, leaned or not: %s", c->name,
              made->rows[i].row, end);
        bool share = strncmp(end, " leaned (", 9) == 0 && strspn(end + 9, "0123456789") > 0;
        HOLDS(!made->rows[i].leaned || share || made->rows[i].cover >= 0.995, "%s: how much prints? %s", c->name, end);
        if (share)
            near(c, atof(end + 9) / 100, made->rows[i].cover, 0.00501, "how much of a row prints");
        at = end + strcspn(end, ",;") + 2;
    }
}

static void compare_notches(const carded *c, const card_part *part, size_t band) {
    const bw_band_plan *made = &c->plan->bands[band];
    const char *from = strstr(part->flat, "notches (");
    for (int side = 0; side < 2; side++) {
        double notch = side == 0 ? made->notch_outer : made->notch_inner;
        bool told = made->has_notch && made->strikes > 0 && notch >= 0.05;
        const char *word = side == 0 ? "outer " : "inner ";
        const char *at = from ? strstr(strchr(from, ':'), word) : NULL;
        while (at && at[6] != '-' && (at[6] < '0' || at[6] > '9'))
            at = strstr(at + 1, word);
        if (!told)
            continue;
        HOLDS(at, "%s: a notch of %.3f is not told: %s", c->name, notch, part->flat);
        near(c, card_next_length(&at, c->unit), notch, grid_of(c) / 2 + 1e-6, "a notch");
    }
}

/* ---- strikes, lengths, the blank ---- */

static void compare_totals(const carded *c) {
    card_part part;
    long long strikes = 0, blows = 0;
    int rows = 0;
    double rate = c->project->rates.strikes_per_minute, hour = c->project->rates.per_hour;
    HOLDS(card_part_of(c->text, "STRIKES AND TIME", &part), "%s: no strikes", c->name);
    for (size_t i = 0; i < c->plan->band_count; i++) {
        const bw_band_plan *made = &c->plan->bands[i];
        if (made->fill == BW_FILL_STITCH || made->strikes == 0)
            continue;
        const card_row *row = &part.rows[++rows];
        long long own = made->strikes * c->project->tools[c->project->bands[i].tool].blows;
        ck_assert_str_eq(row->cell[0], c->project->bands[i].name);
        ck_assert_int_eq(atoll(row->cell[1]), made->strikes);
        ck_assert_int_eq(atoll(row->cell[2]), own);
        if (rate > 0)
            ck_assert_int_eq(atoll(row->cell[3]), (long long)ceil((double)made->strikes / rate));
        strikes += made->strikes;
        blows += own;
    }
    if (rows > 1) {
        ck_assert_str_eq(part.rows[rows + 1].cell[0], "all");
        ck_assert_int_eq(atoll(part.rows[rows + 1].cell[1]), strikes);
        ck_assert_int_eq(atoll(part.rows[rows + 1].cell[2]), blows);
    }
    const char *cost = strstr(part.flat, " an hour: ");
    HOLDS((cost != NULL) == (rows > 0 && rate > 0 && hour > 0), "%s: %s", c->name, part.flat);
    if (cost)
        near(c, atof(cost + 10), (double)strikes / rate / 60 * hour, 0.00501, "the cost");
}

/* "to cut 1049 mm": of every kind of line what is made of it, all together. */
static void compare_lengths(const carded *c) {
    static const char *const words[] = {"to cut ", "to scribe ", "to mark for stitches ", "to bevel "};
    card_part part;
    ck_assert(card_part_of(c->text, "STRIKES AND TIME", &part));
    for (int kind = 0; kind < 4; kind++) {
        double sum = 0;
        for (size_t i = 0; i < c->plan->line_count; i++) {
            const bw_line_plan *line = &c->plan->lines[i];
            bool is = kind == 3 ? line->bevel != BW_BEVEL_NONE : (int)line->what == kind;
            sum += is ? line->length : 0;
        }
        const char *at = strstr(part.flat, words[kind]);
        HOLDS((at != NULL) == (sum > 0), "%s: %s%.3f: %s", c->name, words[kind], sum, part.flat);
        if (at)
            near(c, card_next_length(&at, c->unit), sum, c->unit == SHOP_INCH ? 25.4 / 32 + 1e-6 : 0.501, words[kind]);
    }
}

static void compare_blank(const carded *c) {
    const char *at = strstr(c->text, "Cut a blank of ");
    if (!at)
        at = strstr(c->text, "Cut the piece from a blank of ");
    HOLDS((at != NULL) == bw_curve_closed(c->plan->edge), "%s: the blank", c->name);
    if (!at)
        return;
    bw_blank size = bw_blank_of(&c->project->layout, c->plan);
    near(c, card_next_length(&at, c->unit), size.length, card_coarse(c->unit), "the blank's length");
    near(c, card_next_length(&at, c->unit), size.width, card_coarse(c->unit), "the blank's width");
}

/* ---- all of it ---- */

/* Returns how many tables of check marks there were. */
static int compare(const carded *c) {
    int marks = 0;
    compare_lines(c);
    for (size_t i = 0; i < c->plan->band_count; i++) {
        const bw_band_plan *made = &c->plan->bands[i];
        card_part part;
        char head[100], fit[60];
        if (made->fill == BW_FILL_PLAIN)
            continue;
        snprintf(head, sizeof head, "%s: %s", c->project->bands[i].name,
                 c->project->tools[c->project->bands[i].tool].id);
        HOLDS(card_part_of(c->text, head, &part), "%s: no part for %s", c->name, head);
        snprintf(fit, sizeof fit, "fit: %s", bw_verdict_word(made->fit.verdict));
        HOLDS(strstr(part.flat, fit), "%s: %s: %s", c->name, fit, part.head);
        compare_runs(c, &part, i);
        compare_rows(c, &part, i);
        compare_notches(c, &part, i);
        marks += card_compare_marks(c, &part, i);
    }
    compare_totals(c);
    compare_lengths(c);
    compare_blank(c);
    HOLDS(!strstr(c->text, "DO NOT STRIKE") == bw_plan_works(c->plan), "%s: may it be struck?", c->name);
    HOLDS(strstr(c->text, "a trade or workplace rule applies, it stands above this page"), "%s", c->name);
    return marks;
}

static char *card_of(const carded *c) {
    char *text = NULL;
    size_t size;
    FILE *to = open_memstream(&text, &size);
    ck_assert_ptr_nonnull(to);
    ck_assert(show_card_text(to, c->project, c->plan));
    fclose(to);
    return text;
}

/* As its file says, and as a shop that works in the other unit would have it. Returns how many tables of them were
 * compared. */
static int compare_file(const char *name, const char *bytes, size_t length) {
    shop_problems problems;
    int marks = 0;
    shop_problems_init(&problems, name);
    carded c = {.name = name, .project = shop_project_read(bytes, length, name, NULL, &problems)};
    shop_problems_free(&problems);
    if (!c.project) /* random ones need not be sound */
        return 0;
    for (int other = 0; other < 2; other++) {
        c.project->units = other == 0 ? c.project->units : c.project->units == SHOP_INCH ? SHOP_MM : SHOP_INCH;
        c.project->layout.grid = other == 0 ? c.project->layout.grid : c.project->units == SHOP_INCH ? 25.4 / 64 : 0.25;
        c.unit = c.project->units;
        ck_assert_int_eq(bw_plan_create(&c.project->layout, NULL, &c.plan), BW_OK);
        c.text = card_of(&c);
        marks += compare(&c);
        free(c.text);
        bw_plan_destroy(c.plan);
    }
    shop_project_free(c.project);
    return marks;
}

START_TEST(the_card_of_every_example) {
    glob_t files;
    int marks = 0;
    ck_assert_int_eq(glob("projects/*.yaml", 0, NULL, &files), 0);
    for (size_t i = 0; i < files.gl_pathc; i++) {
        shop_problems problems;
        char *bytes;
        size_t length;
        shop_problems_init(&problems, files.gl_pathv[i]);
        ck_assert_int_eq(shop_read(files.gl_pathv[i], &bytes, &length, &problems), SHOP_OK);
        shop_problems_free(&problems);
        marks += compare_file(files.gl_pathv[i], bytes, length);
        free(bytes);
    }
    ck_assert_int_ge(marks, 60);
    globfree(&files);
}
END_TEST

START_TEST(cards_of_random_layouts) {
    int marks = 0;
    for (unsigned seed = 1; seed <= 200; seed++) {
        char name[32], *bytes = random_project(seed);
        snprintf(name, sizeof name, "random %u", seed);
        marks += compare_file(name, bytes, strlen(bytes));
        free(bytes);
    }
    ck_assert_int_ge(marks, 300);
}
END_TEST

/* Rates and a currency of the maker's own. */
START_TEST(time_and_cost) {
    static const char text[] = "bandwright-project: 1\nunits: mm\nrates: {per-hour: 24.5, strikes-per-minute: 7.5, "
                               "currency: Taler}\noutline: {shape: circle, diameter: 120}\nbands:\n"
                               "  - {name: a, space: 4, width: 5, fill: border, tool: s}\n"
                               "  - {name: b, width: 20, fill: basket, tool: k}\ntools:\n"
                               "  - {id: k, kind: basket, length: 9, width: 4.6, blows: 4}\n"
                               "  - {id: s, kind: border, length: 5, width: 5}\n";
    ck_assert_int_eq(compare_file("rates", text, sizeof text - 1), 4);
}
END_TEST

/* Four marks on a guide of diameter 1000: the chord of a quarter, by the double angle from that of an eighth in the
 * table of chords (Machinery's Handbook, spacing off the circumference: .38268 for 8 parts of a circle of diameter 1).
 */
START_TEST(chords_as_published) {
    static const char text[] = "bandwright-project: 1\nunits: mm\noutline: {shape: circle, diameter: 1002}\nbands:\n"
                               "  - {name: a, width: 2, fill: border, tool: s, count: 20}\ntools:\n"
                               "  - {id: s, kind: border, length: 50, width: 2}\n";
    shop_problems problems;
    shop_problems_init(&problems, "chords");
    carded c = {.name = "chords", .unit = SHOP_MM};
    c.project = shop_project_read(text, sizeof text - 1, "chords", NULL, &problems);
    shop_problems_free(&problems);
    ck_assert_ptr_nonnull(c.project);
    double eighth = .38268, quarter = 2 * eighth * sqrt(1 - eighth * eighth);
    ck_assert_int_eq(bw_plan_create(&c.project->layout, NULL, &c.plan), BW_OK);
    c.text = card_of(&c);
    card_part part;
    ck_assert(card_part_of(c.text, "a: s", &part));
    int marks = 0;
    for (int i = 0; i < part.count; i++)
        if (card_is_mark(&part.rows[i])) {
            ck_assert_double_le(fabs(card_length(part.rows[i].cell[2], SHOP_MM) - 1000 * quarter), 0.02);
            marks++;
        }
    ck_assert_int_eq(marks, 4);
    free(c.text);
    bw_plan_destroy(c.plan);
    shop_project_free(c.project);
}
END_TEST

/* Dividers of the shop are named like its other tools; a retired pair is not, and the piece's own go before all. */
START_TEST(dividers_of_the_shop) {
    static const char shop[] =
        "bandwright-inventory: 1\nunits: mm\ntools:\n  - {id: wing-150, kind: dividers, most: 150}\n"
        "  - {id: old-pair, kind: dividers, retired: yes}\n  - {id: m, kind: maul}\n"
        "  - {id: bow-60, kind: dividers, most: 60}\n";
    static const char *const pieces[] = {"", "dividers: bow-60\n"};
    for (int own = 0; own < 2; own++) {
        char text[500];
        shop_problems problems;
        int length = snprintf(text, sizeof text,
                              "bandwright-project: 1\noutline: {shape: circle, diameter: 120}\n%sbands:\n"
                              "  - {name: rim, space: 4, width: 5, outer: {line: scribe}}\n",
                              pieces[own]);
        shop_problems_init(&problems, "lid");
        shop_inventory *inventory = shop_inventory_read(shop, sizeof shop - 1, &problems);
        shop_project *project = shop_project_read(text, (size_t)length, "lid", inventory, &problems);
        carded c = {.name = "lid", .project = project};
        ck_assert_ptr_nonnull(project);
        ck_assert_int_eq(bw_plan_create(&project->layout, NULL, &c.plan), BW_OK);
        c.text = card_of(&c);
        ck_assert_ptr_nonnull(strstr(c.text, "bow-60"));
        ck_assert_int_eq(strstr(c.text, "wing-150") != NULL, !own);
        ck_assert_msg(strstr(c.text, "old-pair") == NULL && strstr(c.text, "[ ] - ") == NULL, "%s", c.text);
        free(c.text);
        bw_plan_destroy(c.plan);
        shop_project_free(project);
        shop_inventory_free(inventory);
        shop_problems_free(&problems);
    }
}
END_TEST

Suite *show_card_suite(void) {
    Suite *suite = suite_create("show: the card");
    TCase *tests = tcase_create("card");
    tcase_set_timeout(tests, 120);
    tcase_add_test(tests, the_card_of_every_example);
    tcase_add_test(tests, cards_of_random_layouts);
    tcase_add_test(tests, time_and_cost);
    tcase_add_test(tests, chords_as_published);
    tcase_add_test(tests, dividers_of_the_shop);
    suite_add_tcase(suite, tests);
    return suite;
}
