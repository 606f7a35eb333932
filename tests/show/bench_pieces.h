/* Pieces of one invented workshop, made by hand in plain values: what the views are tested on. */
#ifndef TESTS_SHOW_BENCH_PIECES_H
#define TESTS_SHOW_BENCH_PIECES_H

#include "show/show.h"

#define PIECE_BANDS 8
#define PIECE_TOOLS 8

/* A project with room for its bands and tools; piece_finish plans it. */
typedef struct piece {
    shop_project project;
    bw_band bands[PIECE_BANDS];
    shop_band band_about[PIECE_BANDS];
    bw_tool tools[PIECE_TOOLS];
    shop_tool tool_about[PIECE_TOOLS];
    bw_plan *plan;
} piece;

void piece_start(piece *p, const char *name, bw_outline outline);
bw_tool *piece_tool(piece *p, const char *id, bw_kind kind, double length, double width, double bar, double rail);
bw_band *piece_band(piece *p, const char *name, bw_fill fill, const char *tool, double space, double width);
void piece_finish(piece *p); /* plans it anew, which must succeed */
void piece_end(piece *p);

bw_outline circle_of(double diameter);

void piece_cedar_lid(piece *p);  /* the round lid of the worked example */
void piece_rowan_end(piece *p);  /* a small round with a stamp whose legs are too long */
void piece_wide_lid(piece *p);   /* legs too short for the width of the band */
void piece_maple_tray(piece *p); /* rectangle with sharp corners: four runs, angled lay */
void piece_ash_edge(piece *p);   /* a straight edge: open, with two ends */
void piece_no_room(piece *p);    /* bands deeper than the piece */
void piece_bare(piece *p);       /* no band at all */
void piece_beech_oval(piece *p); /* an ellipse: steps that vary all along, angled lay */
void piece_belt_end(piece *p);   /* a short strap, square and pointed: corners and straights */
void piece_hollow(piece *p); /* a polygon with sharp, rounded and hollow corners; tight ones do not take the weave */

void piece_bell(piece *p); /* two lobes and a waist: lines that lie far enough in fall apart */

typedef void (*piece_maker)(piece *p);
extern const piece_maker piece_makers[];
extern const size_t piece_maker_count;

show_view piece_view(const piece *p, size_t band);

/* What a writer writes, as text; malloc'ed. */
typedef bool (*piece_writer)(FILE *to, const shop_project *project, const bw_plan *plan);
char *piece_written(const piece *p, piece_writer write);

/* A whole file; malloc'ed, terminated. */
char *piece_read(const char *file);

#endif
