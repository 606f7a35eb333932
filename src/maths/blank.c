/* The leather that a piece takes: bounding box with trimming, and what it grows to. */
#include "bandwright/blank.h"

bw_blank bw_blank_of(const bw_layout *layout, const bw_plan *plan) {
    bw_box box = bw_curve_box(plan->edge);
    double length = box.right - box.left, width = box.top - box.bottom;
    return (bw_blank){.box = box,
                      .length = length + 2 * layout->trim,
                      .width = width + 2 * layout->trim,
                      .area = bw_curve_closed(plan->edge) ? bw_curve_area(plan->edge) : 0,
                      .grown_length = length * (1 + layout->growth),
                      .grown_width = width * (1 + layout->growth)};
}
