/* bandwright/base.h - status codes, the allocator hook and the named tolerances of libbandwright.
 *
 * The library is pure: no files, no screen, no clock, no locale, no global state. All lengths are millimetres, all
 * angles radians, x points right and y up. Every function may be called from several threads at once as long as
 * no two of them write to the same object.
 */
#ifndef BANDWRIGHT_BASE_H
#define BANDWRIGHT_BASE_H

#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

#define BW_VERSION "1.0.0"

typedef enum bw_status {
    BW_OK = 0,
    BW_NO_MEMORY, /* the allocator returned NULL; nothing was created */
    BW_BAD_VALUE  /* a value is outside limits.h, not finite, or refers to nothing */
} bw_status;

/* One function does it all: size 0 releases block (and returns NULL), block NULL allocates, else it resizes.
 * NULL in place of a bw_allocator pointer means the C library's. The hook must outlive what was made with it. */
typedef struct bw_allocator {
    void *(*resize)(void *context, void *block, size_t size);
    void *context;
} bw_allocator;

#define BW_PI 3.14159265358979323846
#define BW_MM_PER_INCH 25.4                     /* international yard, 1959: exact */
#define BW_MM_PER_OUNCE (BW_MM_PER_INCH / 64.0) /* leather weight: 1 oz = 1/64 in, ASTM D1814-70 section 1.2 */
#define BW_GRID_MM 0.25                         /* what wing dividers can be set to, metric rule */
#define BW_GRID_INCH (BW_MM_PER_INCH / 64.0)    /* the same on an inch rule */

/* Tolerances, each named once. */
#define BW_EPS 1e-9                          /* a comparison with a limit (mm or margin): within it counts as on it */
#define BW_EPS_FIT 1e-6                      /* mm: does a row fit, whole or leaned */
#define BW_CORNER_CUT (15.0 * BW_PI / 180.0) /* a guide that turns by more than this at a point is cut there */
#define BW_GOOD_MARGIN 0.15                  /* all margins at least this: the fit is good */
#define BW_VISIBLE_CHANGE 0.03 /* share of the usual step by which one may change unseen; common practice */
#define BW_VISIBLE_JUMP 0.4    /* mm between neighbouring steps that the eye catches; common practice */
#define BW_FEET_MOST 0.1       /* share of a border stamp's face by which feet may lie on each other */
#define BW_HEADS_MOST 0.25     /* share of it by which heads may gape */
#define BW_USUAL_OVERLAP 0.5   /* share of a leg on its neighbour's: room to open and to close; common practice */
#define BW_BARE_NOTED 0.5      /* mm of bare strip worth a warning */
#define BW_STEP_SLIP 2.0       /* times what the face allows: a step beyond is a slip of the maker's; our own choice */

#ifdef __cplusplus
}
#endif
#endif
