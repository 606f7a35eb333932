/* look.c - the drawings in a screen of their own: closer and farther, along and across, from one marked place to the
 * next. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"
#include "shop/alloc.h"

#define PAN 0.25 /* of the window: three quarters stay in view */

static const char *const names[] = {[LOOK_PIECE] = "piece", [LOOK_STRAIGHT] = "laid straight", [LOOK_SEAM] = "seam"};

const char *look_name(const bench *b) {
    return names[b->look.shown];
}

show_view look_view(bench *b) {
    return (show_view){.project = desk_project(b->desk),
                       .plan = desk_plan(b->desk),
                       .band = b->band,
                       .cell_aspect = b->aspect,
                       .impression = b->look.shown == LOOK_STRAIGHT ? 0 : b->look.impression,
                       .fine = b->unicode ? b->fine_drawing : SHOW_FINE_NONE,
                       .sight = &b->look.sight};
}

static void whole(bench *b) {
    b->look.sight = (show_sight){.whole = b->look.sight.whole};
    b->look.at = -1;
    b->look.aimed = false;
    b->look.impression = 0;
    b->look.page = 0;
}

void do_look(bench *b, int key) {
    (void)key;
    bench_go(b, BENCH_LOOK);
    whole(b);
}

/* ---- the places that are marked ---- */

/* malloc'ed; NULL where there are none, after saying so. */
static show_spot *spots(bench *b, size_t *count) {
    show_spot *list = shop_alloc(SHOW_MARKS_MOST * sizeof *list);
    *count = 0;
    if (list == NULL) {
        bench_refuse(b, "out of memory");
        return NULL;
    }
    *count = show_marks(desk_project(b->desk), desk_plan(b->desk), b->band, list, SHOW_MARKS_MOST);
    /* Only the piece shows all bands; those of the one in hand come first. */
    while (b->look.shown != LOOK_PIECE && *count > 0 && list[*count - 1].band != b->band) {
        --*count;
    }
    if (*count == 0) {
        free(list);
        return NULL;
    }
    return list;
}

/* The number of the impression nearest to a place that has none of its own. */
static int impression_at(const bench *b, const show_spot *spot) {
    const bw_band_plan *band = bench_band_plan(b);
    int before = 0;
    for (size_t i = 0; spot->impression == 0 && i < band->run_count; i++) {
        const bw_run_plan *run = &band->runs[i];
        if (spot->along <= run->to + BW_EPS && run->count > 0 && run->step > 0) {
            int within = (int)lround((spot->along - run->from) / run->step) + 1;
            return before + (within < 1 ? 1 : within > run->count ? run->count : within);
        }
        before += run->count;
    }
    return spot->impression;
}

void do_look_next(bench *b, int key) {
    size_t count;
    show_spot *list = spots(b, &count);
    if (list == NULL) {
        bench_refuse(b, "No place is marked here: this band has no guide.");
        return;
    }
    look_state *look = &b->look;
    int all = (int)count;
    look->at = key == 'J' ? (look->at <= 0 ? all : look->at) - 1 : (look->at + 1) % all;
    const show_spot *spot = &list[look->at];
    look->sight.middle = look->aim = spot->at;
    look->aimed = true;
    look->sight.seeks = true;
    look->sight.seek = spot->along;
    look->impression = look->shown == LOOK_SEAM ? impression_at(b, spot) : 0;
    bool several = desk_project(b->desk)->layout.band_count > 1;
    bench_say(b, "%c  %.200s%s%.600s", spot->mark, several ? desk_project(b->desk)->bands[spot->band].name : "",
              several ? ": " : "", spot->words.text);
    free(list);
}

/* ---- closer and farther ---- */

/* Looking closer at nothing in particular begins at the start of the band, or in the middle of the piece. */
static void aim(bench *b) {
    size_t count;
    show_spot *list = spots(b, &count);
    bw_box box = bw_curve_box(desk_plan(b->desk)->edge);
    b->look.aim = list != NULL ? list[0].at : (bw_point){(box.left + box.right) / 2, (box.bottom + box.top) / 2};
    b->look.aimed = true;
    free(list);
}

/* The drawing keeps its middle on the piece, so the place aimed at is given to it at each scale anew. */
static void scale_piece(bench *b, bool closer) {
    show_sight *sight = &b->look.sight;
    if (closer && sight->scale <= 0 && !b->look.aimed) {
        aim(b);
    }
    if (b->look.aimed) {
        sight->middle = b->look.aim;
    }
    if (!show_sight_scale(desk_project(b->desk), sight, closer)) {
        bench_say(b, closer ? "This is as close as it gets." : "All of the piece is in view.");
    }
}

/* The middle of the part in view stays there: a part is half a window on from the one before. */
static void scale_others(bench *b, bool closer) {
    int *steps = &b->look.sight.closer;
    if (closer ? *steps == SHOW_CLOSER_MOST : *steps == 0) {
        bench_say(b, closer ? "This is as close as it gets." : "This is as far as it can be told apart.");
        return;
    }
    *steps += closer ? 1 : -1;
    b->look.page = closer ? b->look.page * 2 + 1 : (b->look.page - 1) / 2;
}

void do_look_scale(bench *b, int key) {
    if (key == '0') {
        whole(b);
    } else if (b->look.shown == LOOK_PIECE) {
        scale_piece(b, key == 'z');
    } else {
        scale_others(b, key == 'z');
    }
}

/* ---- along and across ---- */

static void pan_piece(bench *b, int key) {
    show_sight *sight = &b->look.sight;
    if (sight->scale <= 0) {
        bench_say(b, "All of the piece is in view: {drawing.closer-farther} looks closer, {drawing.jump} jumps to the "
                     "marked places.");
        return;
    }
    b->look.aimed = false;
    sight->middle.x += (key == BENCH_KEY_RIGHT) * PAN * sight->width - (key == BENCH_KEY_LEFT) * PAN * sight->width;
    sight->middle.y += (key == BENCH_KEY_UP) * PAN * sight->height - (key == BENCH_KEY_DOWN) * PAN * sight->height;
}

static void pan_straight(bench *b, int key) {
    if (key == BENCH_KEY_UP || key == BENCH_KEY_DOWN) {
        bench_say(b, "The band lies along: {drawing.along} and {drawing.along:2} follow it.");
        return;
    }
    int page = b->look.page + (key == BENCH_KEY_RIGHT ? 1 : -1);
    if (page < 0 || page >= b->look.pages) {
        bench_say(b, page < 0 ? "This is the start of the band." : "This is the end of the band.");
        return;
    }
    b->look.page = page;
}

/* From the seam (0) to the impressions, one after the other, and over the last back to the seam. */
static void pan_seam(bench *b, int key) {
    int all = show_impressions(desk_plan(b->desk), b->band) + 1;
    if (key == BENCH_KEY_UP || key == BENCH_KEY_DOWN) {
        b->look.sight.row += key == BENCH_KEY_UP ? 1 : -1;
        return;
    }
    b->look.impression = (b->look.impression + (key == BENCH_KEY_RIGHT ? 1 : all - 1)) % all;
}

void do_look_pan(bench *b, int key) {
    if (b->look.shown == LOOK_PIECE) {
        pan_piece(b, key);
    } else if (b->look.shown == LOOK_STRAIGHT) {
        pan_straight(b, key);
    } else {
        pan_seam(b, key);
    }
}

/* ---- which drawing, which band, how fine ---- */

static void take_band(bench *b, size_t band) {
    b->band = band;
    b->card = band + 1;
    b->field = b->field_first = 0;
    b->look.at = -1;
    b->look.impression = b->look.page = 0;
    b->spacing = (show_spacing_place){0};
    bench_say(b, "in hand: %.200s", desk_project(b->desk)->bands[band].name);
}

/* Its number among the marks after another band was taken in hand; -1 if it is not among them. */
static int mark_number(bench *b, const show_spot *spot) {
    size_t count;
    show_spot *list = spots(b, &count);
    int found = -1;
    for (size_t i = 0; i < count && found < 0; i++) {
        bool same = list[i].band == spot->band && list[i].mark == spot->mark && list[i].along == spot->along;
        found = same ? (int)i : -1;
    }
    free(list);
    return found;
}

/* The place that was gone to stays in view; what shows one band only shows that place's. */
void do_look_other(bench *b, int key) {
    (void)key;
    size_t count = 0;
    show_spot *list = b->look.at >= 0 ? spots(b, &count) : NULL;
    const show_spot *spot = list != NULL && (size_t)b->look.at < count ? &list[b->look.at] : NULL;
    b->look.shown = (look_shown)((b->look.shown + 1) % LOOK_SHOWN);
    b->look.sight.closer = b->look.sight.row = b->look.impression = b->look.page = 0;
    if (spot != NULL) {
        if (spot->band != b->band) {
            take_band(b, spot->band);
            b->look.at = mark_number(b, spot);
        }
        b->look.sight.seeks = true;
        b->look.sight.seek = spot->along;
        b->look.impression = b->look.shown == LOOK_SEAM ? impression_at(b, spot) : 0;
    }
    free(list);
}

/* On to another band, with what is looked at staying in view. */
void do_look_band(bench *b, int key) {
    size_t bands = desk_project(b->desk)->layout.band_count;
    if (bands < 2) {
        bench_say(b, bands == 0 ? "There is no band yet." : "This is the only band.");
        return;
    }
    take_band(b, (b->band + (key == BENCH_KEY_TAB ? 1 : bands - 1)) % bands);
}

void do_fine(bench *b, int key) {
    (void)key;
    static const char *const words[] = {"plain characters", "blocks, 2 by 2 dots in a cell",
                                        "braille, 2 by 4 dots in a cell"};
    if (!b->unicode) {
        bench_refuse(b, "Finer drawing needs a UTF-8 locale: this one shows plain characters only.");
        return;
    }
    b->fine_drawing = (show_fine)((b->fine_drawing + 1) % (SHOW_FINE_BRAILLE + 1));
    bench_say(b, "drawn with %s", words[b->fine_drawing]);
}

void do_marks(bench *b, int key) {
    (void)key;
    show_view view = look_view(b);
    bench_read(b, "the marks of the drawing", show_legend_text(&view));
}

bool bench_set_fine(bench *b, const char *word) {
    static const char *const words[] = {"plain", "blocks", "braille"};
    for (int i = 0; i < 3; i++) {
        if (strcmp(word, words[i]) == 0) {
            b->fine_drawing = (show_fine)i;
            return true;
        }
    }
    return false;
}
