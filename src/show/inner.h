/* show/inner.h - what the views and writers share among themselves; no other room includes it. */
#ifndef SHOW_INNER_H
#define SHOW_INNER_H

#include "bandwright/profile.h"
#include "bandwright/would.h"
#include "show/show.h"

/* ---- characters ---- */

#define SHOW_BROKEN 0xFFFFFFFFu
/* The next character of text, which must not be at its end; SHOW_BROKEN after one byte that is no UTF-8. */
uint32_t show_decode(const char **text);
int show_encode(uint32_t code, char out[5]); /* bytes written, without the NUL */
int show_text_width(const char *text);       /* cells of clean text */

/* ---- figures ---- */

/* Returned by value, so that a figure can stand inside one printf. */
typedef struct show_figure_text {
    char text[48];
} show_figure_text;

/* Full precision for files: shortest of 15, 16, 17 digits that reads back, always with a point; ".inf". */
show_figure_text show_number(double value);
#define SHOW_NOTHING 0.005 /* mm: a difference that shows as 0 */
/* A length in the maker's unit, as precise as a hand can set it: "18.5 mm". */
show_figure_text show_length(const shop_project *project, double mm);
/* A small difference, without its sign, finer than a hand can set: "0.03 mm", "0.001 in". */
show_figure_text show_difference(const shop_project *project, double mm);
/* The same, "under 0.01 mm" where it would be 0. */
show_figure_text show_change(const shop_project *project, double mm);
/* A length with as many digits as tell it apart from another one. */
show_figure_text show_apart(const shop_project *project, double mm, double from);
/* A small difference of what is over `most`, with as many digits as tell them apart. */
show_figure_text show_over(const shop_project *project, double mm, double most);
/* The same with its sign: "+0.03 mm", "-1.4 mm", "0 mm". */
show_figure_text show_signed(const shop_project *project, double mm);
/* A share: "2.5 %", "50 %". */
show_figure_text show_percent(double share);
/* What the dividers can be set to for a step: 0.1 mm or 1/64 in. */
double show_step_grid(const shop_project *project);

/* A text value as YAML: plain where nothing else could be read, else quoted with escapes. */
void show_yaml_text(FILE *to, const char *bytes, size_t length);

/* A field of RFC 4180, quoted where it must be. */
void show_csv_field(FILE *to, const char *text);

/* What shows as 0 in the maker's unit, half of the last digit of show_difference: 0.005 mm, 0.0005 in. */
double show_nothing(const shop_project *project);

/* ---- sentences ---- */

/* "1 strip", "3 strips": for words that take an s. */
show_figure_text show_counted(long long count, const char *word);

void show_start(show_words *out);
/* Appends; what does not fit is cut at a whole character. */
__attribute__((format(printf, 2, 3))) void show_say(show_words *out, const char *format, ...);

const char *show_band_name(const shop_project *project, size_t band);
/* The tool of a band, NULL if it has none. */
const bw_tool *show_band_tool(const shop_project *project, size_t band);
const char *show_fill_word(bw_fill fill);
const char *show_lose_word(bw_lose lose);
const char *show_impressions_word(bw_fill fill); /* "impressions", "stitches" */
/* The same rounded up or down to what steps can be set to, for "this much would do". */
show_figure_text show_length_up(const shop_project *project, double mm);
show_figure_text show_length_down(const shop_project *project, double mm);
/* "  bare strip 0.2 mm", the wider of the two, or "  bare 0.2 mm", if it fits into so many cells. Appends. */
void show_say_bare(show_words *out, const shop_project *project, const bw_band_plan *band, int width);
/* "run 2, from the lower right corner: " where a band has several runs. */
void show_say_run(show_words *out, const shop_project *project, const bw_plan *plan, size_t band, size_t run);
/* "the lower right corner": where a run begins, from where its places count; false, and nothing said, where the edge
 * has no words for it. */
bool show_say_run_start(show_words *out, const shop_project *project, const bw_plan *plan, size_t band, size_t run);
int show_run_steps(const bw_run_plan *run);
/* Steps of one length as a hand can set them: `longer` of them at the next setting of the dividers, mixed evenly (of n
 * steps with r longer ones, step i is one where floor((i + 1) r / n) passes floor(i r / n)). */
typedef struct show_hand_steps {
    double low, high; /* mm */
    int longer;
} show_hand_steps;
show_hand_steps show_by_hand(const shop_project *project, int steps, double step);
/* "34 steps at 7.5 mm and 8 at 7.6 mm, mixed evenly (about 1 in 5)", behind `then`. */
void show_say_steps(show_words *out, const shop_project *project, int steps, double step, const char *then);
/* "on the outer row" for a weave line; "at the guide" for line 0. */
const char *show_line_place(int line);
/* The weave line of this number, NULL if it is not counted. */
const bw_weave_line *show_line_find(const bw_band_plan *band, int line);

/* ---- the piece and its edge ---- */

/* "oval of 240 by 172 mm, edge 651.58 mm" */
void show_say_outline(show_words *out, const shop_project *project, const bw_plan *plan);
show_figure_text show_edge_length(const shop_project *project, double mm);
/* "from 118 to 131 mm along the edge, at the upper right corner" */
void show_say_stretch(show_words *out, const shop_project *project, const bw_plan *plan, const bw_stretch *stretch);
/* "at impression 33 of 116, 221 mm along the edge, at the right" */
void show_say_extreme(show_words *out, const shop_project *project, const bw_plan *plan, size_t band,
                      const bw_extreme *at);
/* Where a corner that cuts the guide lies: mm along the edge from the start mark. */
double show_corner_edge(const bw_plan *plan, size_t band, double along);
/* Where the edge beside a run begins or ends: likewise. */
double show_run_end(const bw_plan *plan, size_t band, const bw_run_plan *run, bool last);

/* ---- views ---- */

show_rect show_inside(const show_grid *grid, show_rect where); /* cut to the grid; may be empty */
/* What remains under the first lines of a rectangle. */
show_rect show_from_line(show_rect where, int lines);
/* Run (from 0, -1 = none) and number within it of an impression that is counted through all runs. */
int show_impression_run(const bw_band_plan *band, int impression, int *within);
/* The line with the least or the greatest step; NULL if none is counted. */
const bw_weave_line *show_extreme_line(const bw_band_plan *band, bool widest);
/* The impression nearest to an extreme, counted through all runs; 0 = none. */
int show_extreme_number(const bw_band_plan *band, const bw_extreme *at);
/* The step of the guide that is a line's shortest or longest one: its extreme may lie where two settings meet, and then
 * the step on the side that fits is meant. */
bw_felt show_extreme_felt(const bw_profile *profile, const bw_band_plan *band, const bw_weave_line *line, bool widest);
/* Do the steps of its lines differ by what can be seen in a figure? */
bool show_steps_vary(const bw_band_plan *band);
/* The character that stands for a band in the preview. */
char show_band_mark(size_t band, size_t selected);
#define SHOW_ALL_ALONG 0.9 /* share of the guide from which on a fault has no place */
/* mm along the edge from the start mark of the place beside a spot of the guide that lies so far in. */
double show_beside(const bw_plan *plan, bw_spot spot, double deep);
/* Is the band's guide cut, so that its first run need not begin at the start mark? */
bool show_guide_cut(const bw_plan *plan, size_t band);
/* The lines that the legend takes at the foot of a drawing, and the legend; note: what else is to be said, or NULL. */
int show_legend_lines(const show_view *view, show_rect where, const show_spot *spots, size_t count);
void show_legend(show_grid *grid, show_rect where, const show_view *view, const show_spot *spots, size_t count,
                 const char *note);
/* Those of show_spots that tell of a fault. */
size_t show_faults(const shop_project *project, const bw_plan *plan, size_t band, show_spot *list, size_t room);
/* Marks that have a place along the edge, in lines of cells beside what is laid straight. */
typedef struct show_edge_marks {
    const show_view *view;
    const char *own, *others; /* which marks of the band in hand, and of the other bands */
    show_spot list[SHOW_MARKS_MOST];
    size_t count;
    bool seen[SHOW_MARKS_MOST]; /* drawn */
} show_edge_marks;
show_edge_marks *show_edge_marks_create(const show_view *view, const char *own,
                                        const char *others); /* to be freed; NULL without memory */
int show_edge_marks_lines(const show_edge_marks *marks);     /* with one for the words; 0: nothing to be drawn */
/* A column spans from its own place of the edge (mm from the start mark) to the next one's, so there is one place more
 * than columns; NAN: none. margin: cells for names before the lines. Returns how many were drawn. */
int show_edge_marks_draw(show_edge_marks *marks, show_grid *grid, show_rect where, const double *edge, int margin);
/* "! fails  T tightest  rim: ! fails": those drawn. */
void show_edge_marks_say(const show_edge_marks *marks, show_grid *grid, show_rect where, const char *before);
/* A band's whole guide in the one line of a rectangle, with the part of it that is seen larger, mm along the guide. */
void show_straight_map(show_grid *grid, show_rect where, const bw_band_plan *band, const bw_profile *profile,
                       const bw_curve *guide, double from, double to);
/* The band of a view, NULL if it has none. */
const bw_band_plan *show_view_band(const show_view *view);

/* The setting of the last steps of a run that loses its gap in them; NULL of others. */
const bw_setting *show_last_setting(const bw_run_plan *run);

#endif
