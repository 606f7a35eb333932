/* erode.h - what lies farther in than a distance, made with GEOS from the edge's own lines and arcs.
 *
 * A GEOS buffer drops shallow hollows of what it is given (up to a hundredth of the distance deep), which a finely
 * sampled bend is made of. So only polygons are buffered as they are; of bends each is made a sector of its own, as
 * wide as the distance, and the sectors are cut off the piece. */
#ifndef TESTS_OUTSIDE_ERODE_H
#define TESTS_OUTSIDE_ERODE_H

#include <geos_c.h>

#include "bandwright/bandwright.h"

typedef struct eroded {
    double length, area;
    int loops;
} eroded;

/* Of a closed edge of one loop. `fine`: radians of a bend to one chord. */
eroded erode_by_sectors(GEOSContextHandle_t geos, const bw_curve *edge, double d, double fine);
/* The negative buffer of a polygon with sharp corners; `quarter`: chords of a quarter turn round the hollow ones. */
eroded erode_by_buffer(GEOSContextHandle_t geos, const bw_point *corners, size_t count, double d, int quarter);
/* Would a buffer drop corners of this polygon? */
bool erode_drops(const bw_point *corners, size_t count, double d);

#endif
