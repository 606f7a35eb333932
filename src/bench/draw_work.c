/* draw_work.c - the workbench: the answer first, then the figures, then what is in hand beside the drawings. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bench/inner.h"

/* ---- the head ---- */

/* That changes are kept nowhere until they are saved must not be said only once. */
const char *saved_word(const desk *d) {
    return desk_trying(d)                    ? "tried, not taken"
           : !desk_unsaved(d)                ? "saved"
           : desk_journal_trouble(d) != NULL ? "not saved, not kept"
                                             : "not saved";
}

static void put_title(const bench *b, show_grid *grid) {
    const shop_project *project = desk_project(b->desk);
    char piece[200];
    shop_clean(project->piece.bytes, project->piece.length, piece, sizeof piece);
    const char *state = saved_word(b->desk);
    const char *file = desk_file(b->desk);
    int right = grid->width - (int)strlen(state);
    int x = show_put(grid, 0, 0, right - 2, SHOW_BOLD, piece);
    const char *name = file == NULL ? "no file yet" : strrchr(file, '/') != NULL ? strrchr(file, '/') + 1 : file;
    if (x + 4 < right) {
        x += 2 + show_putf(grid, x + 2, 0, right - x - 4, SHOW_DIM, "%s", name);
    }
    show_words held;
    if (x + 8 < right && desk_holding(b->desk)) {
        show_put(grid, x + 2, 0, right - x - 4, SHOW_PLAIN, show_held_sentence(&held, b->desk));
    }
    show_put(grid, right, 0, -1, desk_journal_trouble(b->desk) != NULL ? SHOW_WARN | SHOW_BOLD : SHOW_PLAIN, state);
}

/* The worst warning beside what the verdict says already. NULL if there is none; how many there are in all. */
static const bw_warning *worst_warning(const bench *b, const bw_warning *list, size_t count) {
    const bw_warning *best = NULL;
    for (int pass = 0; pass < 4 && best == NULL; pass++) {
        bool here = pass < 1 || pass == 2, verdict = pass == 1; /* ours, others' verdicts, then the rest */
        for (size_t i = 0; i < count && best == NULL; i++) {
            bool own = list[i].band == b->band, of_verdict = list[i].kind == BW_WARN_VERDICT;
            if (own && of_verdict) {
                continue;
            }
            if ((here && own) || (verdict && !own && of_verdict) || (pass == 3)) {
                best = &list[i];
            }
        }
    }
    return best;
}

/* A sentence in so many lines; where it goes on, its end says so. */
static int put_sentence(const bench *b, show_grid *grid, int y, int lines, unsigned look, const char *text) {
    int used = show_wrap(grid, (show_rect){0, y, grid->width, lines}, look, text);
    if (used <= lines) {
        return used;
    }
    if (lines > 0 && grid->width > 20) {
        char words[COMMAND_ID_ROOM + 5];
        key_words(b, " ... {workbench.warnings}", words, sizeof words);
        show_put(grid, grid->width - words_width(words), y + lines - 1, -1, look, words);
    }
    return lines;
}

static int put_warning(const bench *b, show_grid *grid, int y, int lines) {
    const shop_project *project = desk_project(b->desk);
    const bw_plan *plan = desk_plan(b->desk);
    size_t count = 0;
    show_words words;
    bw_warning *list = show_warnings(project, plan, &count);
    const bw_warning *one = list == NULL ? NULL : worst_warning(b, list, count);
    char text[700], told[sizeof text];
    if (one == NULL) {
        const bw_band_plan *band = bench_band_plan(b);
        bool works = band == NULL || band->fit.verdict == BW_GOOD || band->fit.verdict == BW_TIGHT;
        snprintf(text, sizeof text, "%s",
                 works ? "no warnings"
                       : "{workbench.close} shows what would make it work, {workbench.stamp} other stamps");
    } else {
        show_warning_sentence(&words, project, plan, one);
        /* How many there are comes first, where a long sentence cannot push it out. */
        char more[64] = "";
        if (count > 1) {
            snprintf(more, sizeof more, "1 of %zu ({workbench.warnings}): ", count);
        }
        snprintf(text, sizeof text, "%s %s%s%s%s%s", one->kind == BW_WARN_VERDICT ? "!" : "-", more,
                 one->band == b->band ? "" : project->bands[one->band].name, one->band == b->band ? "" : ": ",
                 words.text, bench_warning_way(one));
    }
    free(list);
    key_words(b, text, told, sizeof told);
    return put_sentence(b, grid, y, lines, one != NULL ? SHOW_WARN : SHOW_PLAIN, told);
}

static int put_verdict(const bench *b, show_grid *grid, int y, int lines) {
    const bw_band_plan *plan = bench_band_plan(b);
    show_words words;
    if (plan == NULL) {
        char none[100];
        show_put(grid, 0, y, -1, SHOW_BOLD,
                 key_words(b, "no band yet: {workbench.add-band} adds one", none, sizeof none));
        return 1;
    }
    bool works = plan->fit.verdict == BW_GOOD || plan->fit.verdict == BW_TIGHT;
    show_verdict_sentence(&words, desk_project(b->desk), desk_plan(b->desk), b->band);
    char text[700];
    snprintf(text, sizeof text, "%s: %s", desk_project(b->desk)->bands[b->band].name, words.text);
    return put_sentence(b, grid, y, lines, SHOW_BOLD | (works ? SHOW_GOOD : SHOW_BAD), text);
}

/* The piece, its bands from the edge inward, its stamps; the one in hand in brackets. */
static void card_name(const bench *b, size_t card, char out[100]) {
    const shop_project *project = desk_project(b->desk);
    size_t bands = project->layout.band_count;
    const char *name = card == 0       ? "piece"
                       : card <= bands ? project->bands[card - 1].name
                                       : project->tools[card - 1 - bands].id;
    bool bad = card >= 1 && card <= bands && desk_plan(b->desk)->bands[card - 1].fit.verdict < BW_TIGHT;
    snprintf(out, 100, "%s%.60s%s", card == b->card ? "[" : " ", name, bad ? "!" : "");
    strcat(out, card == b->card ? "]" : " ");
}

static void put_strip(bench *b, show_grid *grid, int y) {
    size_t cards = bench_cards(b), bands = desk_project(b->desk)->layout.band_count, first = b->card + 1;
    char name[100];
    /* From as far left as lets the one in hand be seen. */
    for (int used = 4; first > 0; first--) {
        card_name(b, first - 1, name);
        used += (int)strlen(name) + (first - 1 == 1 || first - 1 == bands + 1 ? 8 : 0);
        if (used > grid->width) {
            break;
        }
    }
    int x = first > 0 ? show_put(grid, 0, y, -1, SHOW_DIM, "<") : 0;
    for (size_t i = first > b->card ? b->card : first; i < cards && x < grid->width; i++) {
        if (i == 1 && bands > 0) {
            x += show_put(grid, x, y, -1, SHOW_DIM, " bands ");
        } else if (i == bands + 1) {
            x += show_put(grid, x, y, -1, SHOW_DIM, " stamps ");
        }
        card_name(b, i, name);
        if (i > b->card && x + (int)strlen(name) + (i + 1 < cards) > grid->width) {
            show_put(grid, grid->width - 1, y, -1, SHOW_DIM, ">");
            break;
        }
        int used = show_put(grid, x, y, -1, i == b->card ? SHOW_BOLD | SHOW_REVERSE : SHOW_PLAIN, name);
        spot_add(b, x, y, used, SPOT_CARD, i);
        x += used;
    }
}

/* ---- lists in the place of the fields ---- */

/* A chosen row is marked by more than its look, and has the cursor. */
static void put_choice(show_grid *grid, show_rect where, int y, bool chosen, const char *text) {
    show_put(grid, where.x, y, 1, SHOW_BOLD, chosen ? ">" : " ");
    show_put(grid, where.x + 2, y, where.width - 2, chosen ? SHOW_REVERSE | SHOW_BOLD : SHOW_PLAIN, text);
    if (chosen) {
        grid->cursor_x = where.x + 2;
        grid->cursor_y = y;
    }
}

/* Which sizes of a stamp would do, where the list leaves room for it. */
static void put_stamp_that_would(const bench *b, show_grid *grid, show_rect where) {
    enum { LINES_LEAST = 3 };
    show_words words;
    show_grid none = {0};
    if (where.height < LINES_LEAST) {
        return;
    }
    show_stamp_sentence(&words, desk_kept(b->desk), desk_kept_plan(b->desk), b->band);
    if (show_wrap(&none, (show_rect){0, 0, where.width, 0}, 0, words.text) <= where.height) { /* whole or not at all */
        show_wrap(grid, where, SHOW_DIM, words.text);
    }
}

static void put_tools(bench *b, show_grid *grid, show_rect where) {
    size_t count;
    const bw_rank *ranks = desk_ranks(b->desk, b->band, &count);
    const shop_project *kept = desk_kept(b->desk);
    int now = kept->bands[b->band].tool;
    show_put(grid, where.x, where.y, where.width, SHOW_UNDERLINE, "stamps, best first");
    show_rect list = {where.x, where.y + 1, where.width, where.height - 1};
    list_show(&b->list, (size_t)(list.height > 0 ? list.height : 1));
    int i = 0;
    for (; i < list.height && b->list.first + (size_t)i < b->list.count; i++) {
        size_t at = b->list.first + (size_t)i;
        char text[200];
        if (at < count) {
            snprintf(text, sizeof text, "%-14.40s %s%s", kept->tools[ranks[at].tool].id,
                     bw_verdict_word(ranks[at].verdict), ranks[at].tool == now ? " (now)" : "");
        } else {
            snprintf(text, sizeof text, "another, by its length");
        }
        put_choice(grid, list, list.y + i, at == b->list.at, text);
        spot_add(b, list.x, list.y + i, list.width, SPOT_ROW, at);
    }
    put_stamp_that_would(b, grid, rect_below(list, i + 1));
}

/* A band that does not work is told first whether any change here would make it work. */
static const char *moves_title(const bench *b, const desk_suggestion *moves, size_t count) {
    bool works = count > 0 && moves[0].move.verdict >= BW_TIGHT,
         all = works && moves[count - 1].move.verdict >= BW_TIGHT;
    if (bench_busy(b)) {
        return count == 0 ? "looking for changes ..." : "changes so far, still looking ...";
    }
    return all     ? "changes, smallest first"
           : works ? "what makes it work comes first"
                   : "none makes it work; t other stamps";
}

/* What no change makes go is told below the list, as far as there is room. */
static void put_left(bench *b, show_grid *grid, show_rect where) {
    show_words words;
    if (!bench_busy(b) && where.height > 1) {
        show_left_sentence(&words, desk_warnings_left(b->desk, b->band));
        show_wrap(grid, rect_below(where, 1), SHOW_DIM, words.text);
    }
}

static const char *move_row(const bench *b, size_t row) {
    size_t count;
    const desk_suggestion *moves = desk_suggested(b->desk, b->band, &count);
    return row < count ? moves[row].words : "";
}

static void put_moves(bench *b, show_grid *grid, show_rect where) {
    size_t count;
    const desk_suggestion *moves = desk_suggested(b->desk, b->band, &count);
    show_put(grid, where.x, where.y, where.width, SHOW_UNDERLINE, moves_title(b, moves, count));
    grid->cursor_x = where.x;
    grid->cursor_y = where.y;
    show_rect list = rect_below(where, 1);
    put_left(b, grid, rect_below(list, draw_worded(b, grid, list, count, move_row)));
}

static void put_fills(bench *b, show_grid *grid, show_rect where) {
    static const char *const fills[] = {"nothing: plain leather", "a basket stamp", "a border stamp", "stitches"};
    show_put(grid, where.x, where.y, where.width, SHOW_UNDERLINE, "what does the new band hold?");
    int heads = where.height > 1; /* in one line only the chosen one has room */
    list_show(&b->list, (size_t)(where.height - heads));
    for (size_t i = b->list.first; i < 4 && (int)(i - b->list.first) < where.height - heads; i++) {
        int y = where.y + heads + (int)(i - b->list.first);
        put_choice(grid, where, y, i == b->list.at, fills[i]);
        spot_add(b, where.x, y, where.width, SPOT_ROW, i);
    }
}

/* ---- along the round ---- */

static void put_round(bench *b, show_grid *grid, show_rect where) {
    const shop_project *project = desk_project(b->desk);
    const bw_plan *plan = desk_plan(b->desk);
    const bw_band_plan *band = &plan->bands[b->band];
    int count = show_impressions(plan, b->band);
    bw_placing here, next;
    char text[900], along[64], across[64] = "", step[64] = "";
    show_words beside;
    if (!show_impression_place(project, plan, b->band, b->impression, &here)) {
        return;
    }
    shop_show_length(here.along, project->units, along, sizeof along);
    const bw_run_plan *run = &band->runs[here.run - 1];
    if (show_impression_place(project, plan, b->band, b->impression % count + 1, &next) && next.run == here.run) {
        double way = next.along - here.along;
        shop_show_length(way < 0 ? way + run->to - run->from : way, project->units, step, sizeof step);
    }
    /* On a circle the dividers can be set straight across from the start. */
    if (project->layout.outline.shape == BW_CIRCLE && band->guide_length > 0) {
        double radius = band->guide_length / (2 * BW_PI);
        shop_show_length(2 * radius * sin(here.along / (2 * radius)), project->units, across, sizeof across);
    }
    int used = snprintf(text, sizeof text,
                        "impression %d of %d\nrow %d, number %d in it\n\nfrom the start along the guide: %s\n%s",
                        b->impression, count, here.row, here.number, along,
                        show_beside_sentence(&beside, project, plan, b->band, &here));
    if (across[0] != '\0') {
        used += snprintf(text + used, sizeof text - (size_t)used, "\nfrom the start straight across: %s", across);
    }
    if (step[0] != '\0') {
        used += snprintf(text + used, sizeof text - (size_t)used, "\nstep to the next: %s", step);
    }
    bool tightest = b->impression == show_tightest(plan, b->band), widest = b->impression == show_widest(plan, b->band);
    if (tightest != widest) {
        snprintf(text + used, sizeof text - (size_t)used, "\n\nthis is the %s place", tightest ? "tightest" : "widest");
    }
    show_wrap(grid, where, SHOW_PLAIN, text);
    grid->cursor_x = where.x;
    grid->cursor_y = where.y;
}

static void put_hand(bench *b, show_grid *grid, show_rect where) {
    switch (b->screen) {
    case BENCH_TOOLS:
        put_tools(b, grid, where);
        return;
    case BENCH_MOVES:
        put_moves(b, grid, where);
        return;
    case BENCH_EVEN:
        draw_even(b, grid, where);
        return;
    case BENCH_FILLS:
        put_fills(b, grid, where);
        return;
    case BENCH_ITEMS:
        items_draw(b, grid, where);
        return;
    case BENCH_ROUND:
        put_round(b, grid, where);
        return;
    default:
        draw_values(b, grid, where);
    }
}

/* ---- the whole ---- */

/* How many lines the sentence under the figures takes. */
static int closure_lines(const show_view *view, int width) {
    const bw_band_plan *band = view->band < view->plan->band_count ? &view->plan->bands[view->band] : NULL;
    show_words words;
    show_grid none = {0};
    if (band == NULL || band->run_count == 0) {
        return 1;
    }
    show_closure_sentence(&words, view->project, view->plan, view->band, bw_worst_run(band));
    return show_wrap(&none, (show_rect){0, 0, width, 0}, 0, words.text);
}

/* Right of the fields: figures, seam, then piece and spacing as far as there is room. */
static void put_views(bench *b, show_grid *grid, show_rect where) {
    show_view view = {.project = desk_project(b->desk),
                      .plan = desk_plan(b->desk),
                      .band = b->band,
                      .cell_aspect = b->aspect,
                      .impression = b->screen == BENCH_ROUND ? b->impression : 0,
                      .fine = b->fine_drawing};
    bool straight = b->view == BENCH_SHOWN_STRAIGHT; /* which needs every line it can get */
    int figures = straight && where.height < 24 ? (where.height >= 8 ? 3 : 1)
                  : where.height >= 15          ? 5
                  : where.height >= 8           ? 3
                                                : 1;
    if (figures == 5 && where.height >= 16 && closure_lines(&view, where.width) > 1) {
        figures = 6;
    }
    show_closure(grid, (show_rect){where.x, where.y, where.width, figures}, &view);
    where.y += figures;
    where.height -= figures;
    /* The piece alone or the spacing alone take the seam's place in a low window. */
    bool alone = b->view != BENCH_SHOWN_BOTH && (b->screen != BENCH_ROUND || b->view == BENCH_SHOWN_STRAIGHT);
    int seam = where.height >= 24   ? where.height * 2 / 5
               : alone              ? 0
               : where.height >= 10 ? where.height / 2
                                    : where.height;
    show_seam(grid, (show_rect){where.x, where.y, where.width, seam}, &view);
    where.y += seam;
    where.height -= seam;
    b->has_views = seam == 0 || where.height + seam >= 6;
    if (where.height < 3) {
        return;
    }
    if (b->view == BENCH_SHOWN_STRAIGHT) {
        b->straight_pages = show_straight(grid, where, &view, &b->straight_page);
        return;
    }
    int piece = b->view == BENCH_SHOWN_PIECE ? where.width : b->view == BENCH_SHOWN_TABLE ? 0 : where.width * 9 / 20;
    if (piece > 0) {
        show_preview(grid, (show_rect){where.x, where.y, piece, where.height}, &view);
    }
    if (piece + 1 < where.width) {
        int x = where.x + (piece > 0 ? piece + 1 : 0);
        show_table(grid, (show_rect){x, where.y, where.x + where.width - x, where.height}, &view, 0);
    }
}

void draw_work(bench *b, show_grid *grid) {
    int foot = foot_lines(grid), width = grid->width, bottom = grid->height - foot;
    int y = 0, sentence = grid->height >= 20 ? 2 : 1;
    if (grid->height >= 10) {
        put_title(b, grid);
        y++;
    }
    y += put_verdict(b, grid, y, sentence);
    if (grid->height >= 10) {
        y += put_warning(b, grid, y, sentence);
    }
    if (grid->height >= 8) {
        put_strip(b, grid, y++);
    }
    b->has_views = false;
    show_rect left = {0, y, width, bottom - y}, right = {width, y, 0, bottom - y};
    if (width >= 56) {
        left.width = width >= 110 ? 44 : width >= 76 ? 33 : 27;
        right.x = left.width + 1;
        right.width = width - right.x;
        put_views(b, grid, right);
    } else {
        /* Too narrow for drawings: the figures above the values. */
        show_view view = {
            .project = desk_project(b->desk), .plan = desk_plan(b->desk), .band = b->band, .cell_aspect = b->aspect};
        int figures = bottom - y >= 8 ? 3 : 1;
        show_closure(grid, (show_rect){0, y, width, figures}, &view);
        left.y += figures;
        left.height -= figures;
        if (bottom - left.y >= 4) {
            show_put(grid, 0, bottom - 1, -1, SHOW_DIM, "the window is too small for the drawings");
            left.height--;
        }
    }
    put_hand(b, grid, left);
    draw_prompt(b, grid);
    draw_foot(b, grid);
}
