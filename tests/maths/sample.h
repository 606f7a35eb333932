/* sample.h - small layouts in plain values for tests: an outline, a few bands, a tool each. */
#ifndef TESTS_MATHS_SAMPLE_H
#define TESTS_MATHS_SAMPLE_H

#include "bandwright/bandwright.h"

enum { SAMPLE_BANDS = 6 };

typedef struct sample {
    bw_layout layout;
    bw_band bands[SAMPLE_BANDS];
    bw_tool tools[SAMPLE_BANDS];
} sample;

/* The sample must not be moved afterwards: its layout points into it. */
void sample_circle(sample *s, double diameter);
void sample_rectangle(sample *s, double length, double width, double corner);
void sample_line(sample *s, double length);

/* Each adds a band with a tool of its own and returns the band, to be changed further. */
bw_band *sample_basket(sample *s, double space, double width, double length, double face_width, double bar,
                       double rail);
bw_band *sample_border(sample *s, double space, double width, double length, double face_width);
bw_band *sample_stitch(sample *s, double space, double pitch);

/* The plan, or a failed test. */
bw_plan *sample_plan(const sample *s);
/* All lengths of outline, bands and tools times this. */
void sample_scale(sample *s, double factor);

#endif
