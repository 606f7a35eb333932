/* The seam, large: the last impressions meeting the first, straightened along the guide, the edge below and the inside
 * above, as it lies before the hand. Each row keeps the distances that it has at its own depth, so that legs close up
 * inside and open outside as they will on the leather. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "show/inner.h"
#include "show/legs.h"

enum { ROOM_FOR_MARKS = 14 }; /* lines */

/* What lies in one cell. */
typedef struct patch {
    unsigned char legs, bars, print; /* how many faces; print: border stamps and holes */
    unsigned char high;              /* in hand */
    int last_leg, last_bar;          /* the face counted last, so that none counts twice */
} patch;

typedef struct closeup {
    show_grid *grid;
    show_rect where;
    const show_view *view;
    const bw_band_plan *band;
    const bw_band *asked;
    const bw_placing *placings;
    size_t count;
    double along, heading;       /* the centre: place on the guide, and its direction there */
    double from, to;             /* the run */
    bool closed;                 /* it goes on from its end */
    bool partly;                 /* not all of the band's width is drawn */
    bool rides;                  /* legs ride on bars somewhere */
    int run;                     /* from 1 */
    double per_column, per_line; /* mm of a cell */
    double left, top;            /* mm from the centre and from the guide, inward up */
    patch *patches;
    show_edge_marks *marks; /* NULL: no room for them */
} closeup;

static double turn_between(double from, double to) {
    return remainder(to - from, 2 * BW_PI);
}

static const bw_row_plan *row_of(const bw_band_plan *band, int row) {
    for (size_t i = 0; i < band->row_count; i++)
        if (band->rows[i].row == row)
            return &band->rows[i];
    return NULL;
}

/* Turn of a face from the guide, as seen straightened. */
static double face_turn(const closeup *c) {
    if (c->band->fill != BW_FILL_BASKET || c->asked->lay == BW_LAY_STRAIGHT)
        return 0;
    return c->asked->slant == BW_SLANT_INWARD ? c->band->turn : -c->band->turn;
}

/* A face in the close-up. At depth y from the guide its middle lies at way - y * fan: what turns, closes up inside. */
typedef struct stamp {
    int face; /* from 1 */
    double way, fan;
    double v, turn;
    double outer, inner; /* mm from the guide: what prints */
    bool high;
} stamp;

/* The hole in a corner belongs to the run that begins there, and ends this one as well. */
static bool is_shared_end(const closeup *c, const bw_placing *at) {
    double ends = c->to > c->band->guide_length - BW_EPS_FIT ? 0 : c->to;
    return c->band->fill == BW_FILL_STITCH && !c->closed && at->run != c->run && at->number == 1 &&
           fabs(at->along - ends) <= BW_EPS_FIT;
}

/* Where a face lies; false if it is of another run or too far away. */
static bool place_of(const closeup *c, const bw_placing *at, stamp *s) {
    const bw_row_plan *row = row_of(c->band, at->row);
    bool shared = is_shared_end(c, at);
    if (!row || (at->run != c->run && !shared))
        return false;
    double way = (shared ? c->to : at->along) - c->along, length = c->to - c->from;
    if (c->closed)
        way = remainder(way, length);
    if (fabs(way) > c->per_column * c->where.width + c->band->along_line * 2)
        return false;
    s->v = row->from_edge - c->band->guide_from_edge;
    s->way = way;
    s->turn = face_turn(c);
    s->fan = turn_between(c->heading, at->turn - s->turn);
    return true;
}

static patch *patch_at(const closeup *c, double u, double v) {
    double column = floor((u - c->left) / c->per_column), line = floor((c->top - v) / c->per_line);
    if (!(column >= 0 && line >= 0 && column < c->where.width && line < c->where.height))
        return NULL;
    return &c->patches[(size_t)line * (size_t)c->where.width + (size_t)column];
}

typedef enum part { PART_LEG, PART_BAR, PART_PRINT } part;

static void dab(const closeup *c, const stamp *s, double x, double y, part what) {
    double v = s->v + x * sin(s->turn) + y * cos(s->turn);
    double u = s->way + x * cos(s->turn) - y * sin(s->turn) - v * s->fan;
    if (v < s->outer - BW_EPS_FIT || v > s->inner + BW_EPS_FIT)
        return;
    patch *p = patch_at(c, u, v);
    if (!p)
        return;
    if (s->high)
        p->high = 1;
    if (what == PART_BAR && p->last_bar != s->face) {
        p->last_bar = s->face;
        if (p->bars < 9)
            p->bars++;
    } else if (what != PART_BAR && p->last_leg != s->face) {
        p->last_leg = s->face;
        if (what == PART_LEG && p->legs < 9)
            p->legs++;
        if (what == PART_PRINT && p->print < 9)
            p->print++;
    }
}

/* A filled rectangle of a face, x along it, y across; finer than the cells. */
static void dab_area(const closeup *c, const stamp *s, double x0, double x1, double y0, double y1, part what) {
    int columns = (int)fmin(400, ceil((x1 - x0) / c->per_column * 3)) + 1;
    int lines = y1 > y0 ? (int)fmin(400, ceil((y1 - y0) / c->per_line * 3)) + 1 : 0;
    for (int i = 0; i <= columns; i++)
        for (int j = 0; j <= lines; j++)
            dab(c, s, x0 + (x1 - x0) * i / columns, lines ? y0 + (y1 - y0) * j / lines : y0, what);
}

/* A rail is drawn along its middle line, one cell thick, unless it is thicker than that. */
static void dab_face(const closeup *c, const stamp *s) {
    const bw_face *f = &c->band->face;
    if (c->band->fill == BW_FILL_STITCH) {
        dab(c, s, 0, 0, PART_PRINT);
        return;
    }
    double half = f->length / 2, shrink = c->per_column / 4;
    if (half > 2 * shrink)
        half -= shrink; /* a tip that only touches a cell does not fill it */
    if (c->band->fill == BW_FILL_BORDER) {
        dab_area(c, s, -half, half, -f->width / 2, f->width / 2, PART_PRINT);
        return;
    }
    double middle = (f->width - f->rail) / 2, thick = fmax(0, (f->rail - c->per_line) / 2);
    dab_area(c, s, -half, half, -middle - thick, -middle + thick, PART_LEG);
    dab_area(c, s, -half, half, middle - thick, middle + thick, PART_LEG);
    dab_area(c, s, -f->bar / 2, f->bar / 2, -middle, middle, PART_BAR);
}

static char look_of(const closeup *c, const patch *p, unsigned *look) {
    *look = p->high ? SHOW_BOLD | SHOW_REVERSE : SHOW_PLAIN;
    if (c->band->fill == BW_FILL_STITCH)
        return p->print ? 'o' : ' ';
    if (p->print)
        return p->print > 1 ? 'X' : p->last_leg % 2 ? '#' : '%';
    /* A second leg within a bar: the figures decide whether it rides on it, not the coarse cells. */
    if (p->bars && (p->bars > 1 || p->legs > 1))
        return c->rides ? '!' : '#';
    if (p->bars)
        return '#';
    if (p->legs > 1)
        return 'X';
    return p->legs ? '=' : ' ';
}

/* ---- where to look ---- */

static const bw_placing *find_placing(const closeup *c, int within) {
    int row, number;
    show_impression_row(c->band, c->asked->lay == BW_LAY_STRAIGHT, within, &row, &number);
    for (size_t i = 0; i < c->count; i++)
        if (c->placings[i].run == c->run && c->placings[i].row == row && c->placings[i].number == number)
            return &c->placings[i];
    return NULL;
}

/* Centre on an impression of the run, or between its last and its first. */
static bool centre_on(closeup *c, int within) {
    const bw_run_plan *run = &c->band->runs[c->run - 1];
    const bw_placing *first = find_placing(c, within > 0 ? within : 1), *last = find_placing(c, run->count);
    if (!first && within == run->count && c->band->fill == BW_FILL_STITCH) { /* in the corner, of the next run */
        c->along = c->to;
        return true;
    }
    if (!first || (within == 0 && !last))
        return false;
    double local = face_turn(c);
    c->along = first->along;
    c->heading = first->turn - local;
    if (within > 0 || !c->closed || run->count < 2)
        return true;
    double back = c->to - last->along + (first->along - c->from);
    c->along -= back / 2;
    c->heading -= turn_between(last->turn - local, c->heading) / 2;
    return true;
}

/* The depth, from the guide, in the middle of a drawing that does not hold the whole band: rows inward or outward. */
static double chosen_depth(const closeup *c, show_sight *sight) {
    const bw_band_plan *b = c->band;
    double apart = b->rows_apart > 0 ? b->rows_apart : fmax(b->face.width, 1);
    if (!sight)
        return 0;
    sight->row = (int)fmax(sight->row, -ceil((b->guide_from_edge - b->outer) / apart));
    sight->row = (int)fmin(sight->row, ceil((b->inner - b->guide_from_edge) / apart));
    return sight->row * apart;
}

/* Millimetres of a cell: as much of the band as the lines allow, but rows kept apart and about two faces across. */
static void choose_scale(closeup *c) {
    const bw_band_plan *b = c->band;
    double aspect = c->view->cell_aspect > 0 ? c->view->cell_aspect : 2, lines = fmax(1, c->where.height);
    double high = b->inner - b->outer, least = b->fill == BW_FILL_STITCH ? b->usual * 4 : b->along_line * 2.6;
    double half = b->fill == BW_FILL_BASKET ? b->rows_apart / 2 : b->face.width / 3;
    c->per_line = high > 0 ? high / fmax(1, lines - 1) : least / fmax(1, c->where.width) * aspect;
    if (half > 0 && c->per_line > half)
        c->per_line = half;
    c->per_line = fmax(c->per_line, least / fmax(1, c->where.width) * aspect);
    show_sight *sight = c->view->sight;
    c->per_line /= 1 << (sight ? sight->closer : 0);
    /* Weave lines fall on the middle of a line of cells, so that both rows that share a rail draw it in the same one.
     */
    double between = b->fill == BW_FILL_BASKET ? floor(b->rows_apart / c->per_line + BW_EPS) : 0;
    if (between >= 1)
        c->per_line = b->rows_apart / between;
    c->per_column = c->per_line / aspect;
    c->left = -c->per_column * c->where.width / 2;
    /* The band's middle in the middle, or the guide's where the band is too wide for it. */
    double middle = (b->outer + b->inner) / 2 - b->guide_from_edge;
    c->partly = high > c->per_line * (lines + 1);
    if (c->partly)
        middle = chosen_depth(c, sight);
    if (sight)
        sight->drawn = c->per_column;
    c->top = (floor(middle / c->per_line + lines / 2) + 0.5) * c->per_line;
}

static void draw_border(const closeup *c, double from_edge, bool cut) {
    double v = from_edge - c->band->guide_from_edge;
    int line = (int)floor((c->top - v) / c->per_line + (v < 0 ? -BW_EPS_FIT : BW_EPS_FIT));
    /* The rim of the drawing belongs to it. */
    if (line == c->where.height && v < 0)
        line--;
    if (line < 0 || line >= c->where.height)
        return;
    for (int i = 0; i < c->where.width; i++) {
        double u = c->left + (i + 0.5) * c->per_column;
        if (!c->closed && (c->along + u < c->from || c->along + u > c->to))
            continue;
        show_cell_put(c->grid, c->where.x + i, c->where.y + line, cut ? '-' : '.', SHOW_DIM);
    }
}

static void draw_patches(const closeup *c) {
    for (int y = 0; y < c->where.height; y++) {
        for (int x = 0; x < c->where.width; x++) {
            unsigned look;
            char mark = look_of(c, &c->patches[(size_t)y * (size_t)c->where.width + (size_t)x], &look);
            if (mark != ' ')
                show_cell_put(c->grid, c->where.x + x, c->where.y + y, (unsigned char)mark, look);
        }
    }
}

/* The number of an impression in the middle of its bar. */
static void draw_number(const closeup *c, const bw_placing *at, int number) {
    stamp s;
    if (!place_of(c, at, &s))
        return;
    double u = s.way - s.v * s.fan, v = s.v;
    double width = c->band->fill == BW_FILL_BASKET ? c->band->face.bar : c->band->face.length;
    int digits = number > 9999 ? 5 : number > 999 ? 4 : number > 99 ? 3 : number > 9 ? 2 : 1;
    if (width / c->per_column < digits)
        return;
    int x = (int)lround((u - c->left) / c->per_column - digits / 2.0), y = (int)floor((c->top - v) / c->per_line);
    if (x < 0 || y < 0 || x + digits > c->where.width || y >= c->where.height)
        return;
    show_putf(c->grid, c->where.x + x, c->where.y + y, digits, SHOW_BOLD, "%d", number);
}

static void draw_numbers(const closeup *c, int before) {
    const bw_run_plan *run = &c->band->runs[c->run - 1];
    bool straight = c->band->fill == BW_FILL_BASKET && c->asked->lay == BW_LAY_STRAIGHT;
    if (c->band->fill == BW_FILL_STITCH)
        return;
    for (size_t i = 0; i < c->count; i++) {
        const bw_placing *at = &c->placings[i];
        int within = at->row == 0 ? at->number : at->row == -1 ? 2 * at->number - 1 : 2 * at->number;
        if (at->row < -1 || at->row > 1 || (!straight && at->row != 0) || within > run->count)
            continue;
        draw_number(c, at, before + within);
    }
}

/* Under the drawing, where this band and the others have marks. */
static void draw_marks(const closeup *c) {
    bw_curve *guide;
    double *edge = c->marks ? malloc(((size_t)c->where.width + 1) * sizeof *edge) : NULL;
    if (edge && bw_guide_create(c->view->plan, c->view->band, NULL, &guide) == BW_OK) {
        double length = c->to - c->from;
        for (int x = 0; x <= c->where.width; x++) {
            double along = c->along + c->left + x * c->per_column;
            if (c->closed)
                along = c->from + fmod(along - c->from + 2 * length, length);
            bool in = along >= c->from - BW_EPS && along <= c->to + BW_EPS;
            edge[x] = in ? show_beside(c->view->plan, bw_curve_at(guide, along), c->band->guide_from_edge) : NAN;
        }
        show_rect where = {c->where.x, c->where.y + c->where.height, c->where.width, 1};
        show_edge_marks_draw(c->marks, c->grid, where, edge, 0);
        bw_curve_destroy(guide);
    }
    free(edge);
}

static void draw(closeup *c, int in_hand) {
    size_t cells = (size_t)c->where.width * (size_t)c->where.height;
    c->patches = calloc(cells, sizeof *c->patches);
    if (!c->patches)
        return;
    int within = 0, run = in_hand > 0 ? show_impression_run(c->band, in_hand, &within) : -1;
    int row = 0, number = 0, before = 0;
    if (run >= 0)
        show_impression_row(c->band, c->asked->lay == BW_LAY_STRAIGHT, within, &row, &number);
    for (size_t i = 0; i < c->count; i++) {
        const bw_placing *at = &c->placings[i];
        stamp s = {.face = (int)i + 1};
        if (!place_of(c, at, &s))
            continue;
        s.outer = c->band->outer - c->band->guide_from_edge;
        s.inner = c->band->inner - c->band->guide_from_edge;
        if (at->cover >= 1 || c->band->fill != BW_FILL_BASKET) {
            s.outer -= c->band->face.width + c->band->face.length;
            s.inner += c->band->face.width + c->band->face.length;
        }
        s.high = run == at->run - 1 && row == at->row && number == at->number;
        dab_face(c, &s);
    }
    draw_border(c, c->band->outer, c->asked->outer.line != BW_MARK_NONE);
    draw_border(c, c->band->inner, c->asked->inner.line != BW_MARK_NONE);
    draw_patches(c);
    for (int i = 0; i < c->run - 1; i++)
        before += c->band->runs[i].count;
    draw_numbers(c, before);
    draw_marks(c);
    free(c->patches);
}

static void set_run(closeup *c, size_t run) {
    c->run = (int)run + 1;
    c->from = c->band->runs[run].from;
    c->to = c->band->runs[run].to;
    c->closed = c->band->runs[run].closed;
}

/* An open line has no seam: its two ends side by side. */
static void draw_ends(closeup *c, size_t first, size_t last) {
    show_rect whole = c->where;
    int half = (whole.width - 3) / 2;
    if (half < 4)
        half = whole.width;
    for (int side = 0; side < 2; side++) {
        if (side == 1 && half == whole.width)
            break;
        set_run(c, side == 0 ? first : last);
        c->where = (show_rect){side == 0 ? whole.x : whole.x + whole.width - half, whole.y, half, whole.height};
        choose_scale(c);
        if (!centre_on(c, side == 0 ? 1 : c->band->runs[last].count))
            continue;
        /* The end of the line a cell from the rim, the run towards the middle. */
        double turned = c->along - (side == 0 ? c->from : c->to);
        c->left = side == 0 ? -turned - c->per_column : -turned + c->per_column - c->per_column * half;
        draw(c, 0);
    }
    for (int y = 0; y < whole.height && half != whole.width; y++)
        show_cell_put(c->grid, whole.x + whole.width / 2, whole.y + y, ':', SHOW_DIM);
}

static const char *key_of(const bw_band_plan *band) {
    if (band->fill == BW_FILL_STITCH)
        return "o hole";
    if (band->fill == BW_FILL_BORDER)
        return "#, % stamps in turn  X one on the other";
    return "= leg  # bar  X leg on leg  ! leg on bar";
}

/* What the cells are too coarse to tell: how far legs lie on each other, line by line from the edge inward. As many
 * whole figures as there is room for; a cut one would be wrong. */
static void say_overlaps(const closeup *c, show_words *out, int width) {
    if (c->band->fill != BW_FILL_BASKET)
        return;
    show_words list, whole = {""};
    show_start(&list);
    show_say(&list, "  legs overlap");
    int room = width - show_text_width(out->text);
    for (size_t i = 0; i < c->band->line_count; i++) {
        double mm = show_legs(c->band, c->band->lines[i].step_most);
        show_figure_text text =
            mm < -SHOW_NOTHING ? show_signed(c->view->project, mm) : show_difference(c->view->project, mm);
        size_t digits = strcspn(text.text, " ");
        const char *unit = text.text + digits;
        show_say(&list, "%s %.*s", i ? "," : "", (int)digits, text.text);
        show_words so_far = list;
        show_say(&so_far, "%s%s", i + 1 < c->band->line_count ? " ..." : "", unit);
        if (show_text_width(so_far.text) <= room)
            whole = so_far;
    }
    show_say(out, "%s", whole.text);
}

static void draw_words(const closeup *c, show_rect where, bool ends) {
    const show_view *v = c->view;
    show_words words;
    show_start(&words);
    int all = show_impressions(v->plan, v->band);
    if (v->impression > 0 && all >= v->impression)
        show_say(&words, "impression %d of %d", v->impression, all);
    else if (ends)
        show_say(&words, "start : end");
    else
        show_say(&words, "seam: %d meets 1", c->band->runs[c->run - 1].count);
    if (c->partly)
        show_say(&words, v->sight && v->sight->row != 0 ? " (some rows)" : " (middle rows)");
    if (where.height > 1) {
        say_overlaps(c, &words, where.width);
        show_put(c->grid, where.x, where.y + 1, where.width, SHOW_DIM, key_of(c->band));
    }
    show_say_bare(&words, v->project, c->band, where.width);
    int used = show_put(c->grid, where.x, where.y, where.width, SHOW_PLAIN, words.text);
    if (where.height < 2 && used + 2 + (int)strlen(key_of(c->band)) <= where.width)
        show_putf(c->grid, where.x + used, where.y, where.width - used, SHOW_DIM, "  %s", key_of(c->band));
}

static void nothing(show_grid *grid, show_rect where, const char *why) {
    show_wrap(grid, where, SHOW_DIM, why);
}

static bool can_draw(const bw_band_plan *band, const char **why) {
    if (!band)
        *why = "no band yet: nothing meets here";
    else if (band->fill == BW_FILL_PLAIN)
        *why = "plain leather: nothing meets here";
    else if (band->guide_gone || band->run_count == 0)
        *why = "no room: the guide line does not exist at this depth";
    else if (band->strikes == 0)
        *why = "no room for one impression";
    else
        return true;
    return false;
}

void show_seam(show_grid *grid, show_rect where, const show_view *view) {
    where = show_inside(grid, where);
    if (where.width < 1 || where.height < 1)
        return;
    const bw_band_plan *band = show_view_band(view);
    const char *why;
    if (!can_draw(band, &why)) {
        nothing(grid, where, why);
        return;
    }
    bw_placing *list;
    closeup c = {.grid = grid, .where = where, .view = view, .band = band, .asked = &view->project->bands[view->band]};
    if (bw_placings_create(view->plan, view->band, NULL, &list, &c.count) != BW_OK) {
        nothing(grid, where, "not enough memory to draw the seam");
        return;
    }
    c.placings = list;
    int words = where.height >= 10 ? 2 : where.height >= 5 ? 1 : 0, within = 0;
    for (size_t i = 0; i < band->line_count; i++)
        c.rides = c.rides || show_legs_share(band, band->lines[i].step_least) > 1 + BW_EPS;
    c.where.height -= words;
    c.marks = c.where.height >= ROOM_FOR_MARKS ? show_edge_marks_create(view, "TWuJ!", "!") : NULL;
    int marked = show_edge_marks_lines(c.marks);
    c.where.height -= marked;
    int run = view->impression > 0 ? show_impression_run(band, view->impression, &within) : -1;
    size_t first = 0, last = band->run_count - 1;
    while (first < last && band->runs[first].count == 0)
        first++;
    while (last > first && band->runs[last].count == 0)
        last--;
    set_run(&c, run >= 0 ? (size_t)run : first);
    bool ends = run < 0 && !c.closed;
    if (ends) {
        draw_ends(&c, first, last);
    } else {
        choose_scale(&c);
        if (centre_on(&c, within))
            draw(&c, view->impression);
    }
    if (marked)
        show_edge_marks_say(c.marks, grid, show_from_line(where, where.height - words - 1), "marked above: ");
    if (words)
        draw_words(&c, show_from_line(where, where.height - words), ends);
    free(c.marks);
    bw_placings_release(list, NULL);
}
