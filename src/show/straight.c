/* The band laid straight from the start of its guide, a window's width at a time, half a window on with each part: what
 * bends and how tightly, where corners cut the runs, every impression of every row, and on the weave lines how far legs
 * lie on each other there. All rows are drawn as long as the guide; that those outside are longer is what the weave
 * lines tell. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/inner.h"
#include "show/legs.h"

#define MARGIN 8       /* cells before the band: "line -1 " */
#define CELLS_A_STEP 4 /* so that a bar and its legs can be told apart */
#define TICK_CELLS 11  /* between figures of the ruler */
enum { LEAST_WIDTH = 30, LEAST_HEIGHT = 5, COLUMNS_MOST = 1000, ITEMS_MOST = 64, STRETCHES = 64 };

/* A line of the drawing: a row of impressions or a weave line. */
typedef struct strip_item {
    bool weave;
    size_t index;
    double from_edge;
} strip_item;

/* What lies under one column. */
typedef struct strip_column {
    double along;
    double kappa; /* 1/mm of the guide, the strongest under the column */
    bool cut;     /* a run begins here at a corner */
    bool start;   /* the guide's start, or that of a loop */
    bool in;      /* on the guide at all */
    bw_felt felt;
} strip_column;

typedef struct strip {
    show_grid *grid;
    show_rect where; /* of the columns, without the margin */
    const show_view *view;
    const bw_band_plan *band;
    const bw_profile *profile; /* the plan's */
    bw_curve *guide;
    bw_placing *placings;
    size_t placing_count;
    double length, per_column, from; /* mm */
    strip_item items[ITEMS_MOST];
    size_t item_count;
    strip_column columns[COLUMNS_MOST];
} strip;

static bool straight_lay(const strip *s) {
    return s->band->fill == BW_FILL_BASKET && s->view->project->bands[s->view->band].lay == BW_LAY_STRAIGHT;
}

static int column_of(const strip *s, double along) {
    return (int)floor((along - s->from) / s->per_column + BW_EPS_FIT);
}

/* ---- what there is ---- */

static void add_item(strip *s, bool weave, size_t index, double from_edge) {
    size_t at = s->item_count;
    if (at == ITEMS_MOST)
        return;
    for (; at > 0 && s->items[at - 1].from_edge > from_edge + BW_EPS; at--)
        s->items[at] = s->items[at - 1];
    s->items[at] = (strip_item){weave, index, from_edge};
    s->item_count++;
}

/* What is kept where there is no room for all: the guide's weave line, the outermost and the innermost, which fail
 * first; the rows on the guide; then what lies nearest to it. */
static double rank_of(const strip *s, bool weave, size_t index) {
    const bw_band_plan *b = s->band;
    if (weave && b->lines[index].line == 0)
        return 0;
    if (weave && (index == 0 || index + 1 == b->line_count))
        return 1;
    if (!weave && abs(b->rows[index].row) <= 1)
        return 2;
    return 3 + fabs((weave ? b->lines[index].from_edge : b->rows[index].from_edge) - b->guide_from_edge);
}

static size_t weave_lines(const bw_band_plan *b) {
    return b->fill == BW_FILL_BASKET ? b->line_count : 0;
}

static void choose_items(strip *s, int lines) {
    const bw_band_plan *b = s->band;
    size_t all = weave_lines(b) + b->row_count, room = lines < 0 ? 0 : lines > ITEMS_MOST ? ITEMS_MOST : (size_t)lines;
    for (size_t i = 0; i < all; i++) {
        bool weave = i < weave_lines(b);
        size_t index = weave ? i : i - weave_lines(b), before = 0;
        for (size_t k = 0; k < all; k++) {
            bool other = k < weave_lines(b);
            double theirs = rank_of(s, other, other ? k : k - weave_lines(b)), own = rank_of(s, weave, index);
            before += theirs < own || (theirs == own && k < i);
        }
        if (before < room)
            add_item(s, weave, index, weave ? b->lines[index].from_edge : b->rows[index].from_edge);
    }
}

static void look_at_pieces(strip *s, int columns) {
    for (size_t i = 0; i < bw_curve_pieces(s->guide); i++) {
        bw_piece piece = bw_curve_piece(s->guide, i);
        double first = (piece.start - s->from) / s->per_column;
        double last = (piece.start + piece.length - s->from) / s->per_column;
        for (int c = (int)fmax(floor(first + BW_EPS_FIT), 0); c < columns && c < last - BW_EPS_FIT; c++)
            if (fabs(piece.curvature) > fabs(s->columns[c].kappa))
                s->columns[c].kappa = piece.curvature;
    }
}

static void look_at_runs(strip *s, int columns) {
    for (size_t r = 0; r < s->band->run_count; r++) {
        const bw_run_plan *run = &s->band->runs[r];
        int c = column_of(s, run->from);
        if (c < 0 || c >= columns)
            continue;
        bool first = r == 0 || s->band->runs[r - 1].loop != run->loop;
        s->columns[c].start = first;
        s->columns[c].cut = !run->closed && (!first || bw_curve_closed(s->view->plan->edge));
    }
}

static void look(strip *s) {
    int columns = s->where.width;
    for (int c = 0; c < columns; c++) {
        strip_column *column = &s->columns[c];
        *column = (strip_column){.along = s->from + (c + 0.5) * s->per_column};
        column->in = column->along <= s->length;
        if (column->in)
            column->felt = bw_profile_at(s->profile, column->along);
    }
    look_at_pieces(s, columns);
    look_at_runs(s, columns);
}

/* ---- drawing ---- */

static void put(const strip *s, int column, int line, char mark, unsigned look) {
    if (column >= 0 && column < s->where.width && line >= 0)
        show_cell_put(s->grid, s->where.x + column, s->where.y + line, (unsigned char)mark, look);
}

static void label(const strip *s, int line, const char *word, int number) {
    show_putf(s->grid, s->where.x - MARGIN, s->where.y + line, MARGIN, SHOW_DIM, "%s %d", word, number);
}

/* '-' straight, '(' a bend around the leather, ')' one away from it, '!' where the stamp does not take the bend. */
static char bend_mark(const strip_column *c) {
    if (c->felt.step > 0 && c->felt.fit < -BW_EPS)
        return '!';
    return c->kappa > BW_EPS ? '(' : c->kappa < -BW_EPS ? ')' : '-';
}

static int sign_of(double kappa) {
    return kappa > BW_EPS ? 1 : kappa < -BW_EPS ? -1 : 0;
}

/* The least radius of a bend in its middle, where it is wide enough for that. */
static void label_bend(const strip *s, int line, int from, int to) {
    double most = 0;
    for (int c = from; c < to; c++)
        most = fmax(most, fabs(s->columns[c].kappa));
    show_figure_text radius = show_edge_length(s->view->project, 1 / most);
    if (1 / most < 10)
        radius = show_length(s->view->project, 1 / most);
    char *unit = strrchr(radius.text, ' ');
    if (unit)
        *unit = '\0';
    char text[64];
    int width = snprintf(text, sizeof text, " r %s ", radius.text);
    if (width + 2 <= to - from)
        show_put(s->grid, s->where.x + from + (to - from - width) / 2, s->where.y + line, width, SHOW_BOLD, text);
}

static void draw_bends(const strip *s, int line) {
    show_put(s->grid, s->where.x - MARGIN, s->where.y + line, MARGIN, SHOW_DIM, "bends");
    int columns = s->where.width;
    for (int c = 0; c < columns && s->columns[c].in; c++) {
        char mark = bend_mark(&s->columns[c]);
        put(s, c, line, mark, mark == '!' ? SHOW_BOLD | SHOW_BAD : SHOW_PLAIN);
    }
    for (int c = 0, end; c < columns; c = end) {
        int sign = sign_of(s->columns[c].kappa);
        for (end = c + 1; end < columns && sign_of(s->columns[end].kappa) == sign && !s->columns[end].cut;)
            end++;
        if (sign != 0)
            label_bend(s, line, c, end);
    }
}

static void draw_ruler(const strip *s, int line) {
    show_putf(s->grid, s->where.x - MARGIN, s->where.y + line, MARGIN, SHOW_DIM, "edge %s",
              s->view->project->units == SHOP_INCH ? "in" : "mm");
    for (int c = 0; c + 4 < s->where.width; c += TICK_CELLS) {
        if (!s->columns[c].in)
            return;
        show_figure_text text =
            show_edge_length(s->view->project, bw_profile_edge(s->profile, s->from + c * s->per_column));
        char *unit = strrchr(text.text, ' ');
        if (unit)
            *unit = '\0';
        int room = s->where.width - c < TICK_CELLS ? s->where.width - c : TICK_CELLS;
        show_putf(s->grid, s->where.x + c, s->where.y + line, room, SHOW_DIM, "'%s", text.text);
    }
}

static void draw_face(const strip *s, const bw_placing *at, int line) {
    const bw_face *f = &s->band->face;
    bool basket = s->band->fill == BW_FILL_BASKET;
    int middle = column_of(s, at->along);
    if (s->band->fill == BW_FILL_STITCH) {
        put(s, middle, line, 'o', SHOW_PLAIN);
        return;
    }
    double half = (basket ? s->band->along_line : f->length) / 2, bar = basket ? f->bar / 2 : half;
    for (int c = (int)ceil((at->along - half - s->from) / s->per_column - 0.5 - BW_EPS_FIT);
         (c + 0.5 + BW_EPS_FIT) * s->per_column + s->from < at->along + half; c++) {
        bool on_bar = fabs((c + 0.5) * s->per_column + s->from - at->along) <= bar + BW_EPS_FIT || c == middle;
        put(s, c, line, !on_bar ? '=' : basket || at->number % 2 ? '#' : '%', SHOW_PLAIN);
    }
}

/* The number of an impression on the guide, or the one in hand. */
static void draw_number(const strip *s, const bw_placing *at, int line) {
    int before = 0, within = at->number;
    for (int r = 0; r + 1 < at->run; r++)
        before += s->band->runs[r].count;
    if (straight_lay(s))
        within = at->row == -1 ? 2 * at->number - 1 : at->row == 1 ? 2 * at->number : 0;
    else if (at->row != 0)
        within = 0;
    if (within == 0 || s->band->fill == BW_FILL_STITCH)
        return;
    char text[16];
    const bw_run_plan *run = &s->band->runs[at->run - 1];
    double apart = run->step * (straight_lay(s) ? 2 : 1) / s->per_column;
    int width = snprintf(text, sizeof text, "%d", before + within), c = column_of(s, at->along) - (width - 1) / 2;
    bool in_hand = s->view->impression == before + within;
    bool crowded = width + 1 > floor(apart) && within % 2 == 0; /* numbers must not run into each other */
    if (width <= CELLS_A_STEP && (!crowded || in_hand) && c >= 0 && c + width <= s->where.width)
        show_put(s->grid, s->where.x + c, s->where.y + line, width, in_hand ? SHOW_BOLD | SHOW_REVERSE : SHOW_BOLD,
                 text);
}

static void draw_row(const strip *s, const bw_row_plan *row, int line) {
    label(s, line, "row", row->row);
    for (int pass = 0; pass < 2; pass++)
        for (size_t i = 0; i < s->placing_count; i++) {
            const bw_placing *at = &s->placings[i];
            double away = s->band->along_line + s->per_column;
            if (at->row != row->row || at->along < s->from - away ||
                at->along > s->from + s->per_column * s->where.width + away)
                continue;
            if (pass == 0)
                draw_face(s, at, line);
            else
                draw_number(s, at, line);
        }
}

/* How far legs lie on each other, in tenths of a leg, unless a limit is passed. */
static char overlap_mark(const strip *s, const bw_felt *felt, double delta) {
    const bw_band_plan *b = s->band;
    double step = felt->step - delta * felt->turning, share = (b->most - step) / (b->most - b->least);
    if (felt->step <= 0)
        return ' ';
    return share < -BW_EPS ? '!'
           : share > 1 + BW_EPS
               ? 'X'
               : (char)('0' + (int)fmin(fmax(floor(show_legs_share(b, step) * 10 + BW_EPS_FIT), 0), 9));
}

static int extreme_column(const strip *s, const bw_weave_line *weave, bool widest) {
    const bw_extreme *at = widest ? &weave->widest : &weave->tightest;
    return column_of(s, at->along + at->step / 2);
}

/* Where steps differ by their setting only, both may begin at one place: then they stand side by side. */
static void mark_extremes(const strip *s, const bw_weave_line *weave, int line) {
    const show_view *v = s->view;
    int tight = extreme_column(s, weave, false), wide = extreme_column(s, weave, true);
    bool has_tight = show_tightest(v->plan, v->band) > 0 && show_extreme_line(s->band, false) == weave;
    bool has_wide = show_widest(v->plan, v->band) > 0 && show_extreme_line(s->band, true) == weave;
    if (has_tight)
        put(s, tight, line, 'T', SHOW_BOLD | SHOW_REVERSE);
    if (has_wide)
        put(s, wide + (has_tight && wide == tight), line, 'W', SHOW_BOLD | SHOW_REVERSE);
}

static void draw_weave(const strip *s, const bw_weave_line *weave, int line) {
    label(s, line, "line", weave->line);
    for (int c = 0; c < s->where.width && s->columns[c].in; c++) {
        char mark = overlap_mark(s, &s->columns[c].felt, weave->from_edge - s->band->guide_from_edge);
        bool bad = mark == '!' || mark == 'X';
        put(s, c, line, mark, bad ? SHOW_BOLD | SHOW_BAD : SHOW_DIM);
    }
    mark_extremes(s, weave, line);
}

/* Corners and starts, through all lines of the drawing but for a hole that stands in the corner. */
static void draw_cuts(const strip *s, int first, int last) {
    bool holes = s->band->fill == BW_FILL_STITCH;
    for (int c = 0; c < s->where.width; c++)
        for (int line = first; line <= last && s->columns[c].in; line++)
            if (s->columns[c].cut && (!holes || line == first))
                put(s, c, line, '|', SHOW_BOLD);
            else if (s->columns[c].start && line == first)
                put(s, c, line, 'S', SHOW_BOLD);
}

static void draw_words(const strip *s, show_rect where, int page, int pages) {
    const shop_project *project = s->view->project;
    show_words words;
    show_start(&words);
    double to = fmin(s->from + s->per_column * s->where.width, s->length);
    show_figure_text begin = show_edge_length(project, s->from);
    char *unit = strrchr(begin.text, ' ');
    if (unit)
        *unit = '\0';
    show_say(&words, "laid straight, %d of %d: guide %s to %s", page + 1, pages, begin.text,
             show_edge_length(project, to).text);
    if (show_text_width(words.text) > where.width) {
        show_start(&words);
        show_say(&words, "straight %d/%d: %s to %s", page + 1, pages, begin.text, show_edge_length(project, to).text);
    }
    show_put(s->grid, where.x, where.y, where.width, SHOW_PLAIN, words.text);
}

static void draw_key(const strip *s, show_rect where, int lines) {
    static const char *const marks_of[] = {"( bend ) hollow | corner ! tight",
                                           "( bend  ) hollow  | corner  ! too tight",
                                           "( bend around the leather  ) hollow bend  | corner  ! too tight  S start"};
    static const char *const figures_of[] = {"0-9 tenths  ! miss  X ride", "0-9 tenths of overlap  ! miss  X ride",
                                             "0-9 tenths of overlap  ! legs miss  X legs ride  T tightest  W widest"};
    static const char *const measured_of[] = {
        "0-9 tenths  ! over  X under", "0-9 tenths of overlap  ! over  X under",
        "0-9 tenths of overlap  ! over widest  X under closest  T tightest  W widest"};
    int room = where.width >= 72 ? 2 : where.width >= 41 ? 1 : 0;
    bool measured = show_limit_measured(s->band, true) || show_limit_measured(s->band, false);
    const char *marks = marks_of[room];
    const char *figures = s->band->fill != BW_FILL_BASKET ? "" : measured ? measured_of[room] : figures_of[room];
    if (lines > 0)
        show_put(s->grid, where.x, where.y, where.width, SHOW_DIM, marks);
    if (lines > 1)
        show_put(s->grid, where.x, where.y + 1, where.width, SHOW_DIM, figures);
}

/* Steps off the usual and jumps of this band, and where the others fail beside it; if there are lines left for it. */
static int draw_marks(const strip *s, int line, int lines) {
    show_edge_marks *marks = lines > 1 ? show_edge_marks_create(s->view, "uJ", "!") : NULL;
    int used = show_edge_marks_lines(marks);
    if (used > 0 && used <= lines) {
        double edge[COLUMNS_MOST + 1];
        for (int c = 0; c <= s->where.width; c++) {
            double along = s->from + c * s->per_column;
            edge[c] = along <= s->length ? bw_profile_edge(s->profile, along) : NAN;
        }
        show_rect where = show_from_line(s->where, line);
        show_edge_marks_draw(marks, s->grid, where, edge, MARGIN);
        show_edge_marks_say(marks, s->grid, show_from_line(where, used - 1), "");
    }
    free(marks);
    return used <= lines ? used : 0;
}

/* ---- the view ---- */

static bool make(strip *s) {
    const show_view *v = s->view;
    s->profile = bw_plan_profile(v->plan, v->band);
    if (!s->profile || bw_guide_create(v->plan, v->band, NULL, &s->guide) != BW_OK)
        return false;
    s->length = bw_curve_length(s->guide);
    return bw_placings_create(v->plan, v->band, NULL, &s->placings, &s->placing_count) == BW_OK;
}

static void unmake(strip *s) {
    bw_placings_release(s->placings, NULL);
    bw_curve_destroy(s->guide);
}

/* The place of the guide where most fails; 0 where nothing does. */
static double worst_place(const strip *s) {
    double least = -BW_EPS, place = 0;
    for (int margin = BW_MARGIN_REACH; margin <= BW_MARGIN_BEND; margin++) {
        bw_stretch list[STRETCHES];
        size_t count = bw_profile_stretches(s->profile, (bw_margin)margin, list, STRETCHES);
        for (size_t i = 0; i < count && i < STRETCHES; i++)
            if (list[i].margin < least) {
                least = list[i].margin;
                place = list[i].worst;
            }
    }
    return place;
}

/* Parts overlap by half, so that no place is cut in two by the rim of all of them. */
static int step_columns(const strip *s) {
    return s->where.width - s->where.width / 2;
}

/* The part in whose middle a place lies, as near as can be. */
static int part_around(const strip *s, double along) {
    double half = s->per_column * s->where.width / 2;
    return (int)floor((along - half) / (s->per_column * step_columns(s)) + 0.5);
}

/* The part in view: the one asked for, the one where most fails, or the one that holds the impression in hand. */
static int choose_part(strip *s, int *page) {
    show_sight *sight = s->view->sight;
    double cells = CELLS_A_STEP << (sight ? sight->closer : 0);
    s->per_column = fmax(fmin(s->band->usual / cells, s->length / s->where.width), s->length / 1e6);
    if (!(s->per_column > 0))
        s->per_column = 1;
    double part = s->per_column * s->where.width, step = s->per_column * step_columns(s);
    int pages = s->length <= part + BW_EPS_FIT ? 1 : (int)ceil((s->length - part) / step - BW_EPS_FIT) + 1;
    bw_placing placing;
    if (s->view->impression > 0 &&
        show_impression_place(s->view->project, s->view->plan, s->view->band, s->view->impression, &placing))
        *page = part_around(s, placing.along);
    else if (sight && sight->seeks)
        *page = part_around(s, sight->seek);
    else if (*page < 0)
        *page = part_around(s, worst_place(s));
    *page = *page < 0 ? 0 : *page >= pages ? pages - 1 : *page;
    s->from = *page * step;
    if (sight) {
        sight->seeks = false;
        sight->drawn = s->per_column;
    }
    return pages;
}

static int draw(strip *s, show_rect where, int *page) {
    int pages = choose_part(s, page), used = 1;
    int spare = where.height - 3; /* beside the words, the ruler and the bends */
    int wanted = (int)(s->band->row_count + weave_lines(s->band));
    bool map = pages > 1 && spare > (wanted < 4 ? wanted : 4) && (spare > wanted || spare >= 10);
    int key = spare - map - wanted;
    key = key > 2 ? 2 : key < 0 ? 0 : key;
    choose_items(s, spare - map - key);
    look(s);
    draw_words(s, where, *page, pages);
    if (map) {
        show_put(s->grid, s->where.x - MARGIN, s->where.y + used, MARGIN, SHOW_DIM, "all");
        show_rect line = {s->where.x, s->where.y + used++, s->where.width, 1};
        show_straight_map(s->grid, line, s->band, s->profile, s->guide, s->from, s->from + s->per_column * line.width);
    }
    draw_ruler(s, used++);
    int first = used;
    draw_bends(s, used++);
    for (size_t i = 0; i < s->item_count; i++, used++)
        if (s->items[i].weave)
            draw_weave(s, &s->band->lines[s->items[i].index], used);
        else
            draw_row(s, &s->band->rows[s->items[i].index], used);
    draw_cuts(s, first, used - 1);
    used += draw_marks(s, used, where.height - used - key);
    draw_key(s, show_from_line(where, used), key);
    return pages;
}

int show_straight(show_grid *grid, show_rect where, const show_view *view, int *page) {
    where = show_inside(grid, where);
    const bw_band_plan *band = show_view_band(view);
    if (where.width < LEAST_WIDTH || where.height < LEAST_HEIGHT || band == NULL || band->fill == BW_FILL_PLAIN ||
        band->guide_gone || band->strikes == 0) {
        show_wrap(grid, where, SHOW_DIM,
                  band == NULL                  ? "no band yet: nothing to lay straight"
                  : band->fill == BW_FILL_PLAIN ? "plain leather: nothing to lay straight"
                  : band->guide_gone            ? "no room: the guide line does not exist at this depth"
                  : band->strikes == 0          ? "no room for one impression"
                                                : "this window is too small to lay the band straight");
        return 1;
    }
    strip *s = calloc(1, sizeof *s);
    if (s == NULL)
        return 1;
    *s = (strip){.grid = grid, .where = where, .view = view, .band = band};
    s->where.x += MARGIN;
    s->where.width = (int)fmin(where.width - MARGIN, COLUMNS_MOST);
    int pages = 1;
    if (make(s))
        pages = draw(s, where, page);
    else
        show_wrap(grid, where, SHOW_DIM, "not enough memory to lay the band straight");
    unmake(s);
    free(s);
    return pages;
}
