/* shape.c - another shape for the piece: what the new one has in common with the old carries over. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"
#include "shop/alloc.h"

#define HALF_TURN_SHARE 0.9 /* of half a turn: SVG draws an arc of more with two */

static double grown(const shop_project *project) {
    return project->layout.finished ? 1 + project->layout.growth : 1;
}

double outline_across(const bench *b) {
    const shop_project *project = desk_project(b->desk);
    const bw_plan *plan = desk_plan(b->desk);
    bw_box box = bw_curve_box(plan->edge);
    return project->layout.outline.shape == BW_CIRCLE
               ? plan->length * grown(project) / BW_PI
               : fmax(box.right - box.left, box.top - box.bottom) * grown(project);
}

/* ---- sizes ---- */

typedef struct shaping {
    const bench *b;
    const shop_project *project;
    bw_shape old, new;
    shop_edit list[24];
    size_t count;
    char length[80], width[80], half[80];
    char *text; /* corners or path data */
} shaping;

static void set(shaping *s, const char *path, const char *text) {
    s->list[s->count++] = (shop_edit){.path = (char *)(uintptr_t)path, .new_text = (char *)(uintptr_t)text};
}

static void write_mm(const shaping *s, double mm, char out[80]) {
    shop_write_length(round(mm * 100) / 100, s->project->units, out, 80);
}

/* A size as it is spelled in the file, else as it is measured. */
static void size_text(const shaping *s, const char *path, double mm, char out[80]) {
    char *text = shop_text_get(s->project->text, path);
    if (text != NULL && strlen(text) < 80) {
        snprintf(out, 80, "%s", text);
    } else {
        write_mm(s, mm, out);
    }
    free(text);
}

static void measure(shaping *s) {
    const bw_outline *outline = &s->project->layout.outline;
    double more = grown(s->project);
    bw_box box = bw_curve_box(desk_plan(s->b->desk)->edge);
    double x = (box.right - box.left) * more, y = (box.top - box.bottom) * more;
    if (s->old == BW_CIRCLE) {
        x = y = outline_across(s->b);
    } else if (s->old == BW_ARC) {
        x = y = 2 * outline->radius;
    }
    size_text(s, s->old == BW_CIRCLE ? "outline.diameter" : "outline.length", fmax(x, BW_OUTLINE_LEAST), s->length);
    if (s->old == BW_LINE) {
        write_mm(s, fmax(x / 2, BW_OUTLINE_LEAST), s->width);
    } else {
        size_text(s, s->old == BW_CIRCLE ? "outline.diameter" : "outline.width", fmax(y, BW_OUTLINE_LEAST), s->width);
    }
    write_mm(s, fmax(x / 2, BW_OUTLINE_LEAST), s->half);
}

/* ---- corners ---- */

static void corner(const shaping *s, shop_buffer *to, double x, double y, double radius) {
    char text[200], number[3][64];
    double value[3] = {x, y, radius};
    for (int i = 0; i < 3; i++) {
        shop_write_length(round(value[i] * grown(s->project) * 1e4) / 1e4, s->project->units, number[i], 64);
    }
    snprintf(text, sizeof text, "%s[%s, %s%s%s]", to->length > 1 ? ", " : "", number[0], number[1],
             radius > 0 ? ", " : "", radius > 0 ? number[2] : "");
    shop_buffer_text(to, text);
}

/* A rectangle keeps its radii, an edge of lines its corners; of all else the box around it is left. */
static char *corners_text(const shaping *s) {
    const bw_outline *outline = &s->project->layout.outline;
    const bw_curve *edge = desk_plan(s->b->desk)->edge;
    size_t pieces = bw_curve_pieces(edge);
    bool lines = bw_curve_closed(edge) && pieces >= BW_CORNERS_LEAST && pieces <= BW_CORNERS_MOST;
    for (size_t i = 0; i < pieces && lines; i++) {
        lines = fabs(bw_curve_piece(edge, i).curvature) < BW_EPS;
    }
    shop_buffer text = {0};
    shop_buffer_text(&text, "[");
    bw_box box = bw_curve_box(edge);
    double y = box.top > box.bottom + BW_OUTLINE_LEAST ? box.top : box.bottom + (box.right - box.left) / 2;
    double at[4][2] = {{box.left, box.bottom}, {box.right, box.bottom}, {box.right, y}, {box.left, y}};
    for (size_t i = 0; i < (lines ? pieces : 4); i++) {
        bw_point from = lines ? bw_curve_piece(edge, i).from : (bw_point){at[i][0], at[i][1]};
        double radius = !lines && s->old == BW_RECTANGLE ? outline->corner[i] / grown(s->project) : 0;
        corner(s, &text, from.x, from.y, radius);
    }
    shop_buffer_text(&text, "]");
    return shop_buffer_take(&text, NULL);
}

/* ---- path data ---- */

typedef struct path_writer {
    shop_buffer text;
    double more; /* mm of the file in a mm of the edge */
} path_writer;

/* SVG counts y downward. */
static double tidy(double value) {
    double round_value = round(value * 1e6) / 1e6;
    return fabs(round_value) < 1e-6 ? 0 : round_value;
}

static void point(path_writer *w, const char *letter, bw_point at) {
    char text[120];
    snprintf(text, sizeof text, "%s%s%.10g %.10g", w->text.length > 0 ? " " : "", letter, tidy(at.x * w->more),
             tidy(-at.y * w->more));
    shop_buffer_text(&w->text, text);
}

static void arc_to(path_writer *w, double across, double up, bool left, bw_point at) {
    char letter[160];
    snprintf(letter, sizeof letter, "A %.10g %.10g 0 0 %d ", tidy(across * w->more), tidy(up * w->more), left ? 0 : 1);
    point(w, letter, at);
}

static void oval(path_writer *w, double across, double up, bw_point middle) {
    bw_point low = {middle.x, middle.y - up}, high = {middle.x, middle.y + up};
    point(w, "M ", low);
    arc_to(w, across, up, true, high);
    arc_to(w, across, up, true, low);
}

static void piece_to(path_writer *w, const bw_curve *edge, const bw_piece *piece) {
    if (fabs(piece->curvature) < BW_EPS) {
        point(w, "L ", piece->to);
        return;
    }
    double radius = 1 / fabs(piece->curvature);
    int parts = 1 + (int)(fabs(piece->sweep) / (BW_PI * HALF_TURN_SHARE));
    for (int i = 1; i <= parts; i++) {
        bw_point to = i == parts ? piece->to : bw_curve_at(edge, piece->start + piece->length * i / parts).at;
        arc_to(w, radius, radius, piece->curvature > 0, to);
    }
}

static char *path_text(const shaping *s) {
    const bw_outline *outline = &s->project->layout.outline;
    const bw_curve *edge = desk_plan(s->b->desk)->edge;
    path_writer w = {.more = grown(s->project)};
    if (s->old == BW_ELLIPSE) {
        bw_box box = bw_curve_box(edge);
        oval(&w, outline->length / 2 / w.more, outline->width / 2 / w.more,
             (bw_point){(box.left + box.right) / 2, (box.bottom + box.top) / 2});
    } else {
        point(&w, "M ", bw_curve_piece(edge, 0).from);
        for (size_t i = 0; i < bw_curve_pieces(edge); i++) {
            bw_piece piece = bw_curve_piece(edge, i);
            piece_to(&w, edge, &piece);
        }
    }
    if (bw_curve_closed(edge)) {
        shop_buffer_text(&w.text, " Z");
    }
    return shop_buffer_take(&w.text, NULL);
}

/* ---- the whole ---- */

static bool shape_reads(const char *path, bw_shape shape) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(fields[i].path, path) == 0 && (fields[i].kinds & 1u << shape) != 0) {
            return true;
        }
    }
    return false;
}

/* Each path of the outline once: what the new shape does not read goes. */
static void take_out(shaping *s) {
    size_t count;
    const shop_field *fields = shop_fields(&count);
    for (size_t i = 0; i < count; i++) {
        const char *path = fields[i].path;
        bool of_old = strncmp(path, "outline.", 8) == 0 && (fields[i].kinds & 1u << s->old) != 0;
        char *given = of_old && !shape_reads(path, s->new) ? shop_text_get(s->project->text, path) : NULL;
        if (given != NULL) {
            set(s, path, NULL);
        }
        free(given);
    }
}

static bool put_in(shaping *s) {
    switch (s->new) {
    case BW_CIRCLE:
        set(s, "outline.diameter", s->length);
        return true;
    case BW_ARC:
        set(s, "outline.radius", s->half);
        set(s, "outline.sweep", "180");
        return true;
    case BW_POLYGON:
    case BW_PATH:
        s->text = s->new == BW_PATH ? path_text(s) : corners_text(s);
        set(s, s->new == BW_PATH ? "outline.svg" : "outline.corners", s->text);
        return s->text != NULL;
    default:
        set(s, "outline.length", s->length);
        if (s->new != BW_LINE) {
            set(s, "outline.width", s->width);
        }
        return true;
    }
}

bool bench_set_shape(bench *b, const char *word) {
    const char *const *words = shop_field_find("outline.shape")->words;
    shaping s = {.b = b, .project = desk_project(b->desk)};
    s.old = s.new = s.project->layout.outline.shape;
    for (int i = 0; words[i] != NULL; i++) {
        s.new = strcmp(words[i], word) == 0 ? (bw_shape)i : s.new;
    }
    if (s.new == s.old) {
        return bench_change(b, "outline.shape", word);
    }
    char title[80];
    snprintf(title, sizeof title, "shape -> %.15s", word);
    measure(&s);
    set(&s, "outline.shape", words[s.new]);
    take_out(&s);
    bool fine = put_in(&s);
    if (!fine) {
        bench_refuse(b, "out of memory");
    }
    fine = fine && bench_edits(b, s.list, s.count, title);
    free(s.text);
    return fine;
}
