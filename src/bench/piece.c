/* piece.c - what concerns the whole piece: the seam's place, and how the drawings are shown. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"

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
