/* measure.c - what the impressions say, against what the plan says. */
#include "maths/measure.h"

#include <check.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "show/show.h"

#define CLOSE 1e-7 /* mm; places reach 1e5 mm, so this is 1e-12 of the largest */

/* The band that is being measured. */
typedef struct bench {
    measured *m;
    const char *what;
    size_t band;
    const char *name;
    bool angled;
    double lean;                /* radians from the heading to the turn of the face */
    double guide, length, face; /* mm: from the edge, its length, the face along it */
    const tree_placing *first;  /* its impressions */
    size_t count;
    double shift; /* csv `along` less the ruler's place, of all impressions the same */
    bool shift_known;
} bench;

#define SAME(value, wanted, tolerance, ...) same(b, value, wanted, tolerance, __VA_ARGS__)

__attribute__((format(printf, 5, 6))) static void same(const bench *b, double value, double wanted, double tolerance,
                                                       const char *format, ...) {
    if (fabs(value - wanted) <= tolerance) {
        return;
    }
    char text[200];
    va_list values;
    va_start(values, format);
    vsnprintf(text, sizeof text, format, values);
    va_end(values);
    ck_abort_msg("%s, band %s, %s: measured %.12g, planned %.12g", b->what, b->name, text, value, wanted);
}

bool measured_open(measured *m, const char *yaml_text, const char *name) {
    shop_problems problems;
    shop_problems_init(&problems, name);
    *m = (measured){.project = shop_project_read(yaml_text, strlen(yaml_text), name, NULL, &problems)};
    if (m->project == NULL) {
        shop_problems_print(&problems, stderr);
        shop_problems_free(&problems);
        return false;
    }
    shop_problems_free(&problems);
    const bw_layout *layout = &m->project->layout;
    m->shrink = layout->finished ? 1 / (1 + layout->growth) : 1;
    const bw_outline *outline = &layout->outline;
    m->edge = (ruler){.shape = outline->shape, .sweep = outline->sweep};
    m->edge.radius = m->shrink * (outline->shape == BW_CIRCLE ? bw_outline_diameter(outline) / 2 : outline->radius);
    m->edge.length = m->shrink * outline->length;
    m->edge.width = m->shrink * outline->width;
    for (int i = 0; i < 4; i++) {
        m->edge.corner[i] = m->shrink * outline->corner[i];
    }
    ck_assert_int_eq(bw_plan_create(layout, NULL, &m->plan), BW_OK);

    char *text = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&text, &length);
    ck_assert(show_plan_yaml(to, m->project, m->plan));
    fclose(to);
    tree_read(&m->yaml, text, length);
    free(text);
    to = open_memstream(&text, &length);
    ck_assert(show_plan_csv(to, m->project, m->plan));
    fclose(to);
    m->placings = tree_placings(text, &m->placing_count);
    free(text);
    return true;
}

void measured_close(measured *m) {
    free(m->placings);
    tree_free(&m->yaml);
    bw_plan_destroy(m->plan);
    shop_project_free(m->project);
}

static ruler_reading reading(const bench *b, const tree_placing *p) {
    return ruler_read(&b->m->edge, b->guide, p->x, p->y, p->turn * BW_PI / 180 - b->lean);
}

static bool on_guide(const bench *b, const tree_placing *p) {
    const char *fill = tree_word(&b->m->yaml, "bands[%zu].fill", b->band);
    return strcmp(fill, "basket") != 0 || b->angled ? p->row == 0 : abs(p->row) == 1;
}

/* Every impression lies on the normal of its place, at its row's distance, turned as the plan says, covers as planned;
 * `along` and the place on the leather tell the same. */
static void measure_rows(bench *b) {
    tree *yaml = &b->m->yaml;
    size_t rows = tree_count(yaml, "bands[%zu].rows", b->band), seen = 0;
    for (size_t i = 0; i < rows; i++) {
        int row = (int)tree_number(yaml, "bands[%zu].rows[%zu].row", b->band, i);
        double from_edge = tree_number(yaml, "bands[%zu].rows[%zu].from-edge", b->band, i);
        double cover = tree_number(yaml, "bands[%zu].rows[%zu].cover", b->band, i);
        size_t in_row = 0;
        for (; seen < b->count && b->first[seen].row == row; seen++, in_row++) {
            const tree_placing *p = &b->first[seen];
            ruler_reading r = reading(b, p);
            SAME(r.aside, 0, CLOSE, "row %d number %d, beside the normal", row, p->number);
            SAME(r.offset, from_edge, CLOSE, "row %d number %d, from the edge", row, p->number);
            SAME(p->cover, cover, 0, "row %d number %d, cover", row, p->number);
            ck_assert(p->turn > -180 && p->turn <= 180 && p->along >= 0 && p->along <= b->length + CLOSE);
            if (!b->shift_known) {
                b->shift = p->along - r.place;
                b->shift_known = true;
            }
            SAME(remainder(p->along - r.place - b->shift, b->length), 0, CLOSE, "row %d number %d, along", row,
                 p->number);
        }
        SAME((double)in_row, tree_number(yaml, "bands[%zu].rows[%zu].impressions", b->band, i), 0, "row %d", row);
    }
    SAME((double)seen, (double)b->count, 0, "impressions outside every row");
    SAME((double)b->count, tree_number(yaml, "bands[%zu].strikes", b->band), 0, "strikes");
}

static int by_along(const void *one, const void *other) {
    double a = (*(const tree_placing *const *)one)->along, b = (*(const tree_placing *const *)other)->along;
    return (a > b) - (a < b);
}

/* An anchored round begins at its first anchor: the list turned so that impression 0 (number 1 in row -1 or 0) leads.
 */
static void from_first(const tree_placing **round, size_t n) {
    for (size_t turns = 0; turns < n && (round[0]->number != 1 || round[0]->row > 0); turns++) {
        const tree_placing *first = round[0];
        memmove(round, round + 1, (n - 1) * sizeof *round);
        round[n - 1] = first;
    }
}

/* What a step lies on, told from its ends alone. */
enum { MIXED, STRAIGHT, BEND };

static int piece_under(const bench *b, const tree_placing *from, const tree_placing *to) {
    ruler_reading r = reading(b, from), s = reading(b, to);
    double turned = fabs(remainder(to->turn - from->turn, 360));
    if (!r.bend && !s.bend) {
        return turned < 1e-9 ? STRAIGHT : MIXED;
    }
    /* the ends of one arc of a rectangle lie in one quarter */
    double lean = b->lean * 180 / BW_PI;
    bool one_arc = b->m->edge.shape != BW_RECTANGLE ||
                   (turned < 90 && floor((from->turn - lean) / 90) == floor((to->turn - lean) / 90));
    return r.bend && s.bend && one_arc ? BEND : MIXED;
}

/* The step that the settings give for step i of a run; NAN where the step lies partly on a bend. */
static double planned_step(const bench *b, size_t run, size_t i, int piece, double least_most[2]) {
    tree *yaml = &b->m->yaml;
    size_t settings = tree_count(yaml, "bands[%zu].runs[%zu].settings", b->band, run);
    least_most[0] = INFINITY;
    least_most[1] = 0;
    double found = NAN;
    for (size_t k = 0, passed = 0; k < settings; k++) {
        double step = tree_number(yaml, "bands[%zu].runs[%zu].settings[%zu].step", b->band, run, k);
        least_most[0] = fmin(least_most[0], step);
        least_most[1] = fmax(least_most[1], step);
        if (tree_has(yaml, "bands[%zu].runs[%zu].settings[%zu].where", b->band, run, k)) {
            const char *where = tree_word(yaml, "bands[%zu].runs[%zu].settings[%zu].where", b->band, run, k);
            found = piece == (strcmp(where, "bends") == 0 ? BEND : STRAIGHT) ? step : found;
        } else {
            size_t steps = (size_t)tree_number(yaml, "bands[%zu].runs[%zu].settings[%zu].steps", b->band, run, k);
            found = i >= passed && i < passed + steps ? step : found;
            passed += steps;
        }
    }
    return found;
}

/* Impressions of the guide's round of a run, in order. malloc'ed. */
static const tree_placing **round_of(const bench *b, size_t run, bool closed, size_t *n) {
    const tree_placing **round = calloc(b->count + 1, sizeof *round);
    ck_assert_ptr_nonnull(round);
    *n = 0;
    for (size_t i = 0; i < b->count; i++) {
        if (b->first[i].run == (int)run + 1 && on_guide(b, &b->first[i])) {
            round[(*n)++] = &b->first[i];
        }
    }
    qsort(round, *n, sizeof *round, by_along);
    if (closed) {
        from_first(round, *n);
    }
    return round;
}

/* Every step of a round; returns their sum. */
static double measure_steps(const bench *b, size_t run, bool closed, const tree_placing **round, size_t n) {
    double sum = 0;
    for (size_t i = 0; i < n && (closed || i + 1 < n); i++) {
        const tree_placing *here = round[i], *next = round[(i + 1) % n];
        double step = next->along - here->along, limits[2];
        step += step <= 0 ? b->length : 0; /* past the start */
        ruler_reading r = reading(b, here), s = reading(b, next);
        SAME(remainder(s.place - r.place - step, b->length), 0, CLOSE, "run %zu step %zu on the leather", run + 1,
             i + 1);
        double wanted = planned_step(b, run, i, piece_under(b, here, next), limits);
        wanted = isnan(wanted) ? fmin(fmax(step, limits[0]), limits[1]) : wanted;
        SAME(step, wanted, CLOSE, "run %zu step %zu", run + 1, i + 1);
        sum += step;
    }
    return sum;
}

/* In a straight lay the guide's round is two rows; where the band is too narrow for one of them it cannot be told from
 * the impressions. */
static bool round_is_whole(const bench *b) {
    bool outside = false, inside = false;
    size_t rows = tree_count(&b->m->yaml, "bands[%zu].rows", b->band);
    bool straight = strcmp(tree_word(&b->m->yaml, "bands[%zu].fill", b->band), "basket") == 0 && !b->angled;
    for (size_t i = 0; i < rows; i++) {
        double row = tree_number(&b->m->yaml, "bands[%zu].rows[%zu].row", b->band, i);
        outside = outside || row == -1;
        inside = inside || row == 1;
    }
    return !straight || (outside && inside);
}

/* The guide's round of one run: count, flush ends or closing, every step, and their sum. */
static void measure_run(const bench *b, size_t run, size_t runs) {
    tree *yaml = &b->m->yaml;
    if (!round_is_whole(b)) {
        return;
    }
    bool cut = ruler_cuts(&b->m->edge, b->guide) > 0, closed = !ruler_open(&b->m->edge) && !cut;
    /* a hole that two stitch runs share is listed once, in the run that starts there */
    bool shared = cut && strcmp(tree_word(yaml, "bands[%zu].fill", b->band), "stitch") == 0;
    double from = runs > 1 ? tree_number(yaml, "bands[%zu].runs[%zu].from", b->band, run) : 0;
    double to = runs > 1 ? tree_number(yaml, "bands[%zu].runs[%zu].to", b->band, run) : b->length;
    size_t n;
    const tree_placing **round = round_of(b, run, closed, &n);
    double planned = tree_number(yaml, "bands[%zu].runs[%zu].count", b->band, run);
    SAME((double)n, shared && planned > 0 ? planned - 1 : planned, 0, "impressions on the guide's round of run %zu",
         run + 1);
    double sum = measure_steps(b, run, closed, round, n);
    if (n > 0 && closed) {
        SAME(sum, b->length, CLOSE, "sum of the steps");
    } else if (n > 0) {
        SAME(round[0]->along - from, b->face / 2, CLOSE, "start of run %zu", run + 1);
        double last = shared ? tree_number(yaml, "bands[%zu].runs[%zu].step", b->band, run) : 0;
        if (!shared || tree_count(yaml, "bands[%zu].runs[%zu].settings", b->band, run) == 1) {
            SAME(sum + last, to - from - b->face, CLOSE, "sum of the steps of run %zu", run + 1);
        }
    }
    free(round);
}

static void measure_band(bench *b) {
    tree *yaml = &b->m->yaml;
    const bw_band *band = &b->m->project->layout.bands[b->band];
    const bw_tool *tool = &b->m->project->layout.tools[band->tool];
    bool basket = band->fill == BW_FILL_BASKET;
    double turn = basket ? tree_number(yaml, "bands[%zu].turn", b->band) * BW_PI / 180 : 0;
    double length = band->fill == BW_FILL_STITCH ? 0 : tool->length;
    double width = isnan(tool->width) ? length / 2 : tool->width;
    b->angled = basket && band->lay == BW_LAY_ANGLED;
    b->lean = b->angled ? (band->slant == BW_SLANT_OUTWARD ? -turn : turn) : 0;
    b->face = b->angled ? length * cos(turn) + width * sin(turn) : length;
    b->guide = tree_number(yaml, "bands[%zu].guide.from-edge", b->band);
    b->length = tree_number(yaml, "bands[%zu].guide.length", b->band);
    size_t runs = tree_count(yaml, "bands[%zu].runs", b->band);
    if (runs == 0) {
        SAME((double)b->count, 0, 0, "no guide");
        SAME(b->length, 0, 0, "no guide");
        return;
    }
    int cuts = ruler_cuts(&b->m->edge, b->guide);
    SAME((double)runs, cuts > 1 ? cuts : 1, 0, "runs");
    SAME(ruler_length(&b->m->edge, b->guide), b->length, 1e-9 * b->length, "guide");
    measure_rows(b);
    for (size_t run = 0; run < runs; run++) {
        measure_run(b, run, runs);
    }
}

size_t measured_check(measured *m, const char *what) {
    size_t first = 0;
    for (size_t i = 0; i < m->project->layout.band_count; i++) {
        bench b = {.m = m, .what = what, .band = i, .name = m->project->layout.bands[i].name};
        b.first = m->placings + first;
        while (first + b.count < m->placing_count && strcmp(b.first[b.count].band, b.name) == 0) {
            b.count++;
        }
        first += b.count;
        if (m->project->layout.bands[i].fill != BW_FILL_PLAIN) {
            measure_band(&b);
        }
    }
    ck_assert_uint_eq(first, m->placing_count);
    return first;
}
