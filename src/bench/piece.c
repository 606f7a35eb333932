/* piece.c - what concerns the whole piece: another shape, the seam's place, and how the drawings are shown. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"

/* ---- another shape ---- */

/* Edits do not write to their texts. */
static char *text_of(const char *text) {
    return (char *)(uintptr_t)text;
}

typedef struct shape_edits {
    shop_edit list[32];
    size_t count;
    char across[64], half[64], shape[16], text[400];
    double mm; /* as far as the old shape reaches */
} shape_edits;

static void set(shape_edits *edits, const char *path, char *text) {
    edits->list[edits->count++] = (shop_edit){.path = text_of(path), .new_text = text};
}

/* A square as a polygon or as path data, which counts y downward. */
static char *square_text(shape_edits *edits, bool path) {
    snprintf(edits->text, sizeof edits->text,
             path ? "M 0 0 H %.10g V %.10g H 0 Z" : "[[0, 0], [%.10g, 0], [%.10g, %.10g], [0, %.10g]]", edits->mm,
             edits->mm, edits->mm, edits->mm);
    return edits->text;
}

/* The sizes that the new shape needs, from those of the old one. */
static void shape_sizes(shape_edits *edits, shop_unit unit) {
    const char *word = edits->shape;
    if (strcmp(word, "circle") == 0) {
        set(edits, "outline.diameter", edits->across);
    } else if (strcmp(word, "arc") == 0) {
        set(edits, "outline.radius", edits->half);
        set(edits, "outline.sweep", text_of("180"));
    } else if (strcmp(word, "polygon") == 0) {
        edits->mm = unit == SHOP_INCH ? edits->mm / BW_MM_PER_INCH : edits->mm;
        set(edits, "outline.corners", square_text(edits, false));
    } else if (strcmp(word, "path") == 0) {
        set(edits, "outline.svg", square_text(edits, true));
    } else {
        set(edits, "outline.length", edits->across);
        if (strcmp(word, "line") != 0) {
            set(edits, "outline.width", strcmp(word, "rectangle") == 0 ? edits->across : edits->half);
        }
    }
}

void bench_set_shape(bench *b, const char *word) {
    static const char *const old[] = {"outline.diameter", "outline.around",  "outline.chord",  "outline.depth",
                                      "outline.length",   "outline.width",   "outline.corner", "outline.start",
                                      "outline.end",      "outline.corners", "outline.svg",    "outline.scale",
                                      "outline.radius",   "outline.sweep"};
    const shop_project *project = desk_project(b->desk);
    bw_box box = bw_curve_box(desk_plan(b->desk)->edge);
    shape_edits edits = {.mm = round(fmax(fmax(box.right - box.left, box.top - box.bottom), 10) * 4) / 4};
    char title[80];
    shop_write_length(edits.mm, project->units, edits.across, sizeof edits.across);
    shop_write_length(edits.mm / 2, project->units, edits.half, sizeof edits.half);
    snprintf(edits.shape, sizeof edits.shape, "%.15s", word);
    snprintf(title, sizeof title, "shape -> %.15s", word);
    set(&edits, "outline.shape", edits.shape);
    for (size_t i = 0; i < sizeof old / sizeof old[0]; i++) {
        char *given = shop_text_get(project->text, old[i]);
        if (given != NULL) {
            set(&edits, old[i], NULL);
        }
        free(given);
    }
    shape_sizes(&edits, project->units);
    shop_problems problems;
    shop_problems_init(&problems, "");
    double gap = bench_gap(b);
    if (desk_edit_many(b->desk, edits.list, edits.count, title, &problems)) {
        shop_problems_free(&problems);
        bench_tell_change(b, gap);
    } else {
        bench_refuse_problem(b, &problems);
    }
}

/* ---- the seam ---- */

void do_hide_seam(bench *b, int key) {
    (void)key;
    const shop_project *project = desk_project(b->desk);
    bw_seam seam = bw_seam_best(&project->layout, desk_plan(b->desk));
    show_words words;
    char text[48];
    show_seam_sentence(&words, project, desk_plan(b->desk));
    if (seam.how == BW_HIDE_NONE || seam.there) {
        bench_say(b, "%s", words.text);
        return;
    }
    show_start_mark_text(project, &seam, text);
    bench_change(b, "start-mark", text);
}

/* ---- how drawings are shown ---- */

#define ASPECT_STEP 0.05
#define ASPECT_LEAST 1.0
#define ASPECT_MOST 3.0

bool bench_set_aspect(bench *b, double aspect) {
    if (!(aspect >= ASPECT_LEAST - BW_EPS && aspect <= ASPECT_MOST + BW_EPS)) {
        return false;
    }
    b->aspect = aspect;
    return true;
}

void do_cells(bench *b, int key) {
    double next = round((b->aspect + (key == ')' ? ASPECT_STEP : -ASPECT_STEP)) / ASPECT_STEP) * ASPECT_STEP;
    if (!bench_set_aspect(b, next)) {
        bench_refuse(b, "Cells are taken to be %.3g to %.3g times as high as wide.", ASPECT_LEAST, ASPECT_MOST);
        return;
    }
    bench_say(b,
              "a cell counts as %.3g times as high as wide: right when a circle looks round; to keep it, start with "
              "--aspect %.3g, or set BANDWRIGHT_ASPECT=%.3g",
              b->aspect, b->aspect, b->aspect);
}

void do_view(bench *b, int key) {
    static const char *const shown[BENCH_SHOWN] = {
        [BENCH_SHOWN_BOTH] = "the piece and the spacing",
        [BENCH_SHOWN_PIECE] = "the piece alone",
        [BENCH_SHOWN_TABLE] = "the spacing alone",
        [BENCH_SHOWN_STRAIGHT] = "the band laid straight; { and } go along it",
    };
    if (!b->has_views) {
        bench_refuse(b, "This window is too small for the piece and the spacing: they need 56 columns and 18 lines.");
        return;
    }
    b->view = key == 'V' ? (b->view == BENCH_SHOWN_STRAIGHT ? BENCH_SHOWN_BOTH : BENCH_SHOWN_STRAIGHT)
                         : (b->view + 1) % BENCH_SHOWN;
    if (b->view == BENCH_SHOWN_STRAIGHT) {
        b->straight_page = -1; /* where it fails, or the start */
    }
    bench_say(b, "shown: %s", shown[b->view]);
}

/* A window's width along the band laid straight. */
void do_along(bench *b, int key) {
    if (b->view != BENCH_SHOWN_STRAIGHT) {
        do_view(b, 'V');
        return;
    }
    if (key == '{' && b->straight_page <= 0) {
        bench_say(b, "This is the start of the guide.");
        return;
    }
    if (key == '}' && b->straight_page + 1 >= b->straight_pages) {
        bench_say(b, "This is the end of the guide.");
        return;
    }
    b->straight_page += key == '}' ? 1 : -1;
}
