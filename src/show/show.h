/* show/show.h - what is seen, pure: views drawn into cells, and writers of yaml, csv and words. */
#ifndef SHOW_SHOW_H
#define SHOW_SHOW_H

#include <stdio.h>

#include "bandwright/marks.h"
#include "desk/desk.h"
#include "shop/shop.h"
#include "show/grid.h"

/* ---- writers: false if writing failed (errno) ---- */

bool show_plan_yaml(FILE *to, const shop_project *project, const bw_plan *plan);
bool show_plan_csv(FILE *to, const shop_project *project, const bw_plan *plan);
/* The same in parts, for several files one below the other: file NULL, or the first column. */
bool show_placings_head(FILE *to, bool with_file);
bool show_placings(FILE *to, const char *file, const shop_project *project, const bw_plan *plan);
bool show_plan_text(FILE *to, const shop_project *project, const bw_plan *plan); /* what goes to the bench */
#define SHOW_PAGE_WIDTH 80                                                       /* cells of its lines */
/* The same in lines of so many cells, at least 16. */
bool show_plan_page(FILE *to, const shop_project *project, const bw_plan *plan, int width);

/* Many layouts in a table, RFC 4180: a line a band (figures of its worst run), one at least. */
typedef struct show_sweep_line {
    const char *file;
    const char *const *values; /* of the paths in the head, as they are written in the file */
    size_t count;
} show_sweep_line;
bool show_sweep_head(FILE *to, const char *const *paths, size_t count);
bool show_sweep_plan(FILE *to, const show_sweep_line *line, const shop_project *project, const bw_plan *plan);
bool show_sweep_refused(FILE *to, const show_sweep_line *line, const char *why); /* nothing could be planned */

/* The card that lies beside the work: tables and boxes to tick (src/show/card.h has it as data). */
bool show_card_text(FILE *to, const shop_project *project, const bw_plan *plan);
/* How many check marks a run is given, on every page and at the bench: as many as 95 % take where strips tell of the
 * hand, but not fewer than 3 where it is long enough for quarters; else 0. */
int show_check_marks(const shop_project *project, const bw_plan *plan, size_t band, size_t run);
/* Where they lie, and behind the last of them where the run ends; malloc'ed. NULL without marks or memory. */
bw_check_mark *show_check_mark_list(const shop_project *project, const bw_plan *plan, size_t band, size_t run,
                                    int *marks);
/* The check marks of a band, run by run: how surely it closes with so many, and where they lie. marks: how many places
 * are told of, -1 = as many as it is given. */
bool show_marks_text(FILE *to, const shop_project *project, const bw_plan *plan, size_t band, int marks);

/* stamp: also which other would do. */
bool show_fit_text(FILE *to, const shop_project *project, const bw_plan *plan, size_t band, const bw_rank *ranks,
                   size_t count, bool stamp);

/* What the whole-piece search of a desk has found so far; stopped: a hand did that. text, or the yaml that
 * bandwright-files(5) tells. */
bool show_even_text(FILE *to, desk *d, const char *file, const bw_even_wish *wish, bool stopped);
bool show_even_yaml(FILE *to, desk *d, const char *file, const bw_even_wish *wish, bool stopped);

/* ---- words: each fills out (always terminated) and returns it ---- */

typedef struct show_words {
    char text[512];
} show_words;

/* Is the first answer the best there is, and how far was it looked? */
const char *show_even_end(show_words *out, const bw_even_found *found, bool stopped);
/* "1 change, 0.5 mm in all"; of no change that it is well as it is. */
const char *show_even_size(show_words *out, const shop_project *project, const bw_even_answer *answer);
/* "0.25 mm in all, then steps within 0.4 %; then warned of rim bare-strip" */
const char *show_even_result(show_words *out, const shop_project *project, const bw_even_answer *answer);
/* "weave: 40 impressions, each step 0.4 % longer; good" */
const char *show_even_band(show_words *out, const shop_project *project, const bw_even_answer *answer, size_t band);

/* "what would do, one size changed and all else kept: length 7.2 mm to 9.4 mm; ..." of a stamp; "" of a plain band. */
const char *show_stamp_sentence(show_words *out, const shop_project *project, const bw_plan *plan, size_t band);
/* "yes: it works, legs overlap by 0.8 mm on the outer row" / "no: legs miss each other by 0.4 mm on the outer row" */
const char *show_verdict_sentence(show_words *out, const shop_project *project, const bw_plan *plan, size_t band);
/* The verdict sentence of a band as if it were struck with tools[tool]; false without memory. */
bool show_rank_sentence(show_words *out, const shop_project *project, size_t band, int tool);
/* A warning in one sentence with a number and where it is. */
const char *show_warning_sentence(show_words *out, const shop_project *project, const bw_plan *plan,
                                  const bw_warning *warning);
/* "vanishing gap: each of 40 steps 0.03 mm longer than usual" */
const char *show_closure_sentence(show_words *out, const shop_project *project, const bw_plan *plan, size_t band,
                                  size_t run);
/* How to lose the difference, for the hand. */
const char *show_lose_sentence(show_words *out, const shop_project *project, const bw_plan *plan, size_t band,
                               size_t run);

/* "blank 246 by 178 mm (3 mm to trim all round); piece 240 by 172 mm, 324.2 sq cm" */
const char *show_leather_sentence(show_words *out, const shop_project *project, const bw_plan *plan);
/* Where the seam lies, and where it hides best. */
const char *show_seam_sentence(show_words *out, const shop_project *project, const bw_plan *plan);
/* The start mark that puts it there, as text for the file. */
void show_start_mark_text(const shop_project *project, const bw_seam *seam, char out[48]);

/* "at the upper right corner", "on the lower edge", "at corner 3, left"; "" where only the distance tells. from_start:
 * mm along the edge from the start mark. */
const char *show_edge_place(show_words *out, const shop_project *project, const bw_plan *plan, double from_start);
/* The corner of a polygon that is there, from 1 as the file lists them; 0 if there is none. */
size_t show_edge_corner(const shop_project *project, const bw_plan *plan, double from_start);

/* "4 mm", "rim, outer line: cut, bevel the inside": what the dividers are set to for a line, and what is done along it.
 */
void show_line_words(const shop_project *project, const bw_line_plan *line, show_words *set_to, show_words *what);

/* "along the edge: 221 mm, at the right": beside an impression. */
const char *show_beside_sentence(show_words *out, const shop_project *project, const bw_plan *plan, size_t band,
                                 const bw_placing *placing);

/* Warnings as listed: the plan's and `tool-differs`, which only the shop knows. malloc'ed. */
bw_warning *show_warnings(const shop_project *project, const bw_plan *plan, size_t *count);
/* The word of a warning in files: "legs-short", "bare-strip". */
const char *show_warning_word(const bw_plan *plan, const bw_warning *warning);

/* Of the warnings (bits 1u << bw_warning_kind) that no single change makes go, and what else mends them: "No single
 * change here ends the bare strip. Estimated sizes: measure the stamp and type them in." "" if there are none. */
const char *show_left_sentence(show_words *out, unsigned left);

/* ---- figures: what is this number, and from which values ---- */

typedef enum show_figure_kind {
    SHOW_FIGURE_COUNT,
    SHOW_FIGURE_GAP,
    SHOW_FIGURE_STEP_CHANGE,
    SHOW_FIGURE_STEP,
    SHOW_FIGURE_USUAL_STEP,
    SHOW_FIGURE_STEP_RANGE,
    SHOW_FIGURE_OVERLAP,
    SHOW_FIGURE_LEG,
    SHOW_FIGURE_TURN,
    SHOW_FIGURE_FEASIBLE,
    SHOW_FIGURE_GUIDE,
    SHOW_FIGURE_GUIDE_SHIFT,
    SHOW_FIGURE_ROWS,
    SHOW_FIGURE_ROWS_APART,
    SHOW_FIGURE_BARE_STRIP,
    SHOW_FIGURE_NOTCH,
    SHOW_FIGURE_REACH,
    SHOW_FIGURE_CROWD,
    SHOW_FIGURE_BEND,
    SHOW_FIGURE_MISS,
    SHOW_FIGURE_SEAM,
    SHOW_FIGURE_CHANCE,
    SHOW_FIGURE_MARKS,
    SHOW_FIGURE_SET_TO,
    SHOW_FIGURE_STRIKES,
    SHOW_FIGURE_COUNT_OF_KINDS
} show_figure_kind;

typedef struct show_figure {
    show_figure_kind kind;
    const char *name; /* "closure gap" */
    char value[64];   /* in the maker's unit */
    char words[480];  /* one plain sentence: what it is, from which values */
} show_figure;

/* False if the band has no such figure. */
bool show_figure_of(const shop_project *project, const bw_plan *plan, size_t band, show_figure_kind kind,
                    show_figure *out);
/* All that the band has, at most `room` of them; returns how many were written. */
size_t show_figures(const shop_project *project, const bw_plan *plan, size_t band, show_figure *list, size_t room);

/* ---- two layouts side by side ---- */

/* The layout in hand and the held one of a desk: what differs, first of the values, then of what comes of them. One
 * below the other where it is narrow. chosen: 0 the one in hand, 1 the held one. first: lines scrolled away. The cursor
 * goes to the chosen one's head. Returns the number of lines below the heads. */
int show_second(show_grid *grid, show_rect where, desk *d, int chosen, int first);
/* Where the columns of its two heads begin. */
void show_second_heads(show_rect where, int at[2]);
/* "held: weave width 18 mm, 2 more": what the held layout says otherwise. "" if none is held. */
const char *show_held_sentence(show_words *out, desk *d);

/* ---- views ---- */

/* Dots finer than characters, where the grid has Unicode: 2 by 2 of blocks, 2 by 4 of braille in a cell. */
typedef enum show_fine { SHOW_FINE_NONE, SHOW_FINE_BLOCKS, SHOW_FINE_BRAILLE } show_fine;

/* How closely a view is looked at, and at which part. All 0: as much as the window holds. */
typedef struct show_sight {
    double scale;    /* the piece: mm of a cell's width; 0 = all of the piece */
    bw_point middle; /* the piece: mm, what lies in the middle of the window; the drawing keeps it on the piece */
    int closer;      /* straightened and seam: each doubles the scale; 0 .. SHOW_CLOSER_MOST */
    int row;         /* seam: rows inward (+) or outward from the middle; the drawing keeps it within the band */
    bool seeks;      /* straightened: bring this place into view; the drawing takes it back */
    double seek;     /* mm along the guide */
    /* written by the drawing: */
    double drawn;         /* mm of a cell's width; 0 = nothing is drawn to scale */
    double whole;         /* the same with all of the piece in view */
    double width, height; /* mm of the piece in the window */
    bool rows_only;       /* impressions are too small to be drawn one by one */
    bool rows_merge;      /* and rows lie nearer to each other than cells */
} show_sight;
#define SHOW_CLOSER_MOST 4

typedef struct show_view {
    const shop_project *project;
    const bw_plan *plan;
    size_t band;        /* the selected one */
    double cell_aspect; /* height of a cell / its width, usually 2 */
    int impression;     /* the impression in hand, 1 .. show_impressions; 0 = none (the seam) */
    show_fine fine;
    show_sight *sight; /* NULL: all there is, and no scale told */
} show_view;

/* The next round scale, closer or farther: 1, 2 and 5 times a power of ten, or halves of an inch. False if there is
 * none; sight->whole must have been written by a drawing. */
bool show_sight_scale(const shop_project *project, show_sight *sight, bool closer);
/* "1 cell = 2 mm across, 4 mm up"; aspect 0: "1 cell = 2 mm along"; "" where nothing was drawn to scale. */
const char *show_scale_words(show_words *out, const shop_project *project, const show_sight *sight, double aspect);

/* For a window without a legend, how truly it is drawn and then the scale: "rows, 2 mm/cell" where impressions are too
 * small to be drawn one by one, "merged, 20 mm/cell" where rows are, too. */
const char *show_scale_brief(show_words *out, const shop_project *project, const show_sight *sight);

/* ---- places worth a look: where a band starts, fails, is tightest and widest, is cut, stays bare ---- */

typedef struct show_spot {
    char mark;                 /* S s ! T W C b u J, and 1 to 9 for loops */
    size_t band;               /* whose */
    bw_point at;               /* mm, on the piece */
    double along;              /* mm along the guide */
    double from, to;           /* of '!' and 'u': the stretch, mm along the guide; to < from passes the guide's start */
    double edge_from, edge_to; /* of '!', 'u', 'J': the same, mm along the edge from the start mark */
    int impression;            /* nearest, counted through all runs; 0 = none */
    show_words words;          /* "tightest, 7.43 mm: at impression 33 of 116, 221 mm along the edge, at the right" */
} show_spot;

/* Of one band, by mark in the order above and then along the guide; at most `room`. Returns how many were written. */
size_t show_spots(const shop_project *project, const bw_plan *plan, size_t band, show_spot *list, size_t room);
#define SHOW_SPOTS_MOST 64
/* Of the band in hand what show_spots tells of it, then of every other band what is wrong: where it fails, stays bare,
 * is cut or falls apart. Of all of them also where steps are off the usual (u) and where they jump (J). */
size_t show_marks(const shop_project *project, const bw_plan *plan, size_t in_hand, show_spot *list, size_t room);
/* The same, but of the other bands only those that fail and nothing of their steps: what a small drawing has room for.
 */
size_t show_marks_brief(const shop_project *project, const bw_plan *plan, size_t in_hand, show_spot *list, size_t room);
#define SHOW_MARKS_MOST 256
/* What each mark of the preview means, "! fails: legs miss each other", a line each, bands first. malloc'ed. */
char *show_legend_text(const show_view *view);

/* How many impressions the guide's round of a band has, all its runs together: what one steps along by hand. */
int show_impressions(const bw_plan *plan, size_t band);
/* How many of them are struck: a hole at a corner that ends one run and begins the next is one. */
int show_struck(const bw_plan *plan, size_t band);
/* Row and number in it of the guide's impression `within` a run. */
void show_impression_row(const bw_band_plan *band, bool straight, int within, int *row, int *number);
/* The placing of one of them (1 .. show_impressions, through the runs in order). False if there is none. */
bool show_impression_place(const shop_project *project, const bw_plan *plan, size_t band, int impression,
                           bw_placing *placing);
/* The impression nearest to the tightest and the widest place of a band; 0 if there is none,
 * or if its steps are the same all along. */
int show_tightest(const bw_plan *plan, size_t band);
int show_widest(const bw_plan *plan, size_t band);

/* The piece from above with its bands, the selected one standing out, its spots marked: the start, the tightest and
 * widest place, where it fails; with a sight also corners, bare strips and loops. Says so when impressions are too
 * small to draw. */
void show_preview(show_grid *grid, show_rect where, const show_view *view);
/* The seam large: last impressions meeting the first, legs and overlap to be seen. */
void show_seam(show_grid *grid, show_rect where, const show_view *view);
/* The band laid straight from its guide's start, one window's width of it: *page counts from 0 (-1: where it fails
 * most, else the start) and is put right where it is not within what there is; with an impression in hand, the part
 * that holds it. Returns how many parts there are. */
int show_straight(show_grid *grid, show_rect where, const show_view *view, int *page);
/* The spacing table: a row a weave line (step, overlap, mm to spare) and the rows with cover and lean; first = rows
 * scrolled away. Returns the number of rows the whole table has. */
int show_table(show_grid *grid, show_rect where, const show_view *view, int first);
/* The whole table, a figure a cell: weave lines, rows, runs, then all figures of the band. Rows and columns count from
 * 0, without headers. */
size_t show_spacing_rows(const show_view *view);
size_t show_spacing_columns(const show_view *view, size_t row);
/* What a cell says, and from which values with the numbers put in; false if there is no such cell. */
bool show_spacing_cell(const show_view *view, size_t row, size_t column, show_figure *out);

/* The cell with the cursor, and what is scrolled away. */
typedef struct show_spacing_place {
    size_t row, column;
    size_t first_row, first_column; /* put right by the drawing, so that the cell is seen */
    size_t page;                    /* written: rows seen at once */
    /* Told of every cell that is drawn, where it stands; NULL: nobody asks. */
    void (*drawn)(void *to, int x, int y, int width, size_t row, size_t column);
    void *to;
} show_spacing_place;

/* As much of it as there is room for; the first column and the headers stay. */
void show_spacing(show_grid *grid, show_rect where, const show_view *view, show_spacing_place *place);
/* Count, gap and step-change: the largest things on the screen. */
void show_closure(show_grid *grid, show_rect where, const show_view *view);
/* A figure three lines high ("+1.30": digits, signs, point, slash); returns the cells it takes across. */
int show_large(show_grid *grid, int x, int y, int width, unsigned look, const char *text);
/* Warnings of the whole piece, worst first, the selected band's before the others. Returns how many there are. */
int show_warning_list(show_grid *grid, show_rect where, const show_view *view, int first);

/* ---- tools in a list ---- */

typedef struct show_tool_row {
    const bw_tool *tool;
    shop_unit unit;      /* of the file from which it is shown */
    bool judged;         /* there is a band for which the list is ranked */
    const bw_rank *rank; /* NULL: of a kind that does not fit it, or retired */
    bool in_inventory, in_piece, in_use, differs, retired;
    bool only_named;  /* it differs in nothing but its name or note */
    bool only_strips; /* it differs in nothing but its test strips and rounds */
} show_tool_row;

/* The heads of the columns; band NULL: none to be ranked for. */
void show_tool_head(show_grid *grid, show_rect where, const char *band);
void show_tool_line(show_grid *grid, show_rect where, unsigned look, const show_tool_row *row);
const char *show_kind_word(bw_kind kind); /* as in files: "basket" */
/* "9.5 by 6.4 mm"; empty where the kind has no size. */
const char *show_tool_size(show_words *out, const bw_tool *tool, shop_unit unit);
/* Has a list of tools of this width a column for it? judged: with one for how they fit. */
bool show_tool_has_size(int width, bool judged);
/* "good, margin 0.31", "legs short"; only the word in fewer than 20 cells; empty without a rank. */
const char *show_tool_fit(show_words *out, const bw_rank *rank, int width);
/* "margins (0 = at the limit): reach 0.31, crowd 0.4, bend 0.75; steps change by 0.4 %, bare strip 0.2 mm" */
const char *show_tool_margins(show_words *out, const shop_project *project, size_t band, const bw_rank *rank);

#endif
